"""Will the unit keep cool in this locker, for how long, and what fan or vents would do it?"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from ..boat import BoatSheet as boat
from ..cautions import caution
from ..inputs import (
    Inputs,
    Refusal,
    Values,
    ask,
    choice,
    is_one_of,
    record,
    rows,
    text,
    whole,
    yes_no,
)
from ..load import Load, load_of
from ..physics import air, heat, insulation_class, locker, motors, thermal_network, ventilation
from ..physics.thermal_network import AIR, FRAME, WINDING
from ..report import Axis, Band, Chart, Drawing, Line, Mark, Report, Series, Shape, line

TITLE = "Keeping it cool"
_PRACTICE = "common practice, no source"
_LOAD, _MOTOR, _LOCKER, _FACES = "The pump's load", "The motor's limits", "The locker", "Its faces"
_AIR, _FAN, _ELSE, _TIME = "Air", "The fan", "Other heat", "Runs and rests"
_WEATHER = "Temperatures round it"

_WAYS = {
    "sealed": "none to speak of",
    "one": "one opening",
    "two": "a low and a high opening",
    "fan": "a fan, and openings",
    "engine": "it stands in the engine space, engine running",
}
_OPENINGS = is_one_of("air_way", "two", "fan", "engine")
_SIDES = {
    "floor": "floor", "top": "top", "front": "long side 1", "back": "long side 2",
    "left": "end 1", "right": "end 2",
}  # fmt: skip
_BEHIND = {
    "cabin": "cabin or locker",
    "engine": "engine space",
    "bilge": "bilge, as warm as the sea",
    "sea": "hull and sea",
    "shade": "open air, shaded",
    "sun": "open air, in the sun",
}
_PLACES = {
    "cabin": "cabin", "engine": "engine space", "bilge": "bilge", "sea": "sea",
    "shade": "open air", "sun": "in the sun",
}  # fmt: skip
_BY_SEA = ("bilge", "sea")
_LINING = heat.MATERIALS["mineral wool"]

# Long-wave loss of a face that sees the whole sky: ASHRAE Handbook Fundamentals, sol-air values.
_SKY_LOSS = 63.0 * 0.9
# Beyond 60 °C IEC 60034-1 leaves a motor's ambient to an agreement with its maker (from memory).
_HOTTEST_AGREED = 333.15
# Nobody makes water in a colder cabin: such an answer helps no one.
_COLD_DAY = 278.15
# Bores [m] that ducts are sold in. Common practice, no source.
_BORES = (0.05, 0.075, 0.1, 0.125, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5)


class Face(Inputs):
    side = choice("Face", _SIDES, "front")
    area = ask(
        "Area, if not the whole face", unit="m2", optional=True, above="0 m2", at_most="30 m2"
    )
    material = choice("Made of", {name: name for name in heat.MATERIALS}, "plywood")
    thickness = ask("Thickness", "12 mm", at_least="0.5 mm", at_most="200 mm")
    lining = ask("Foam or wool on it", "0 mm", at_least="0 mm", at_most="200 mm")
    behind = choice("Behind it", _BEHIND, "cabin")


class OtherHeat(Inputs):
    name = text("What", "inverter", optional=False)
    heat = ask("Heat", "50 W", at_least="0 W", at_most="5 kW")
    when = choice("When", {"running": "while water is made", "always": "all the time"}, "running")


class FanPoint(Inputs):
    flow = ask("Flow", "100 m3/h", at_least="0 m3/h", at_most="5000 m3/h")
    pressure = ask("Pressure", "50 Pa", at_least="0 Pa", at_most="5000 Pa")


class Asks(Inputs):
    unit = boat.unit
    climate = record(
        "Weather to plan for", "climate", "", optional=True, open=True,
        others="as filled in below",
        help="Fills in the temperatures below; what you type yourself stays.",
    )  # fmt: skip
    ambient_temperature = boat.ambient_temperature.but(
        preset="climate.ambient", open=True, group=_WEATHER, label="Air beside the locker",
        help="What the cabin or space beside it has on the day that you plan for.",
    )  # fmt: skip
    run_hours = boat.run_hours
    air_way = choice("How its air is renewed", _WAYS, "two", open=True)
    low_area = ask(
        "Low opening, free area", "60 cm2", open=True, at_least="0 cm2", at_most="10000 cm2",
        when=_OPENINGS, basis=_PRACTICE,
        help="Free area: a louvre passes about half of its outside size, and insect mesh takes a "
        "third of that.",
    )  # fmt: skip
    high_area = ask("High opening, free area", "60 cm2", open=True, at_least="0 cm2",
                    at_most="10000 cm2", when=_OPENINGS, basis=_PRACTICE)  # fmt: skip
    apart = ask(
        "Height between the two", "300 mm", open=True,
        at_least="0 mm", at_most="3 m", when=_OPENINGS, help="From middle to middle.",
    )  # fmt: skip
    single_area = ask("Opening, free area", "100 cm2", open=True, above="0 cm2",
                      at_most="10000 cm2", when=is_one_of("air_way", "one"))  # fmt: skip
    single_height = ask("Opening, its own height", "100 mm", open=True, above="0 mm", at_most="2 m",
                        when=is_one_of("air_way", "one"))  # fmt: skip

    pressure = ask("Working pressure", "55 bar", from_record="unit.pressure", above="0 bar",
                   at_most="80 bar", group=_LOAD)  # fmt: skip
    ac_voltage = boat.ac_voltage.but(group=_LOAD)
    ac_frequency = boat.ac_frequency.but(group=_LOAD)
    to_seawater = ask(
        "Pump's losses that the seawater carries away", "70 %", at_least="0 %", at_most="100 %",
        group=_LOAD, basis=_PRACTICE,
        help="The seawater flows through the pump's head; its crankcase warms the locker.",
    )  # fmt: skip

    insulation = choice("Insulation class", {k: f"class {k}" for k in "ABFH"}, "F",
                        from_record="unit.motor.insulation", group=_MOTOR)  # fmt: skip
    rise = ask(
        "Winding's rise at rated load", "80 K", from_record="unit.motor.rise", group=_MOTOR,
        at_least="10 K", at_most="150 K",
        help="By resistance, from the maker. A class F motor is often built for class B's 80 K.",
    )  # fmt: skip
    ambient_limit = ask("Highest ambient on the nameplate", "40 °C", group=_MOTOR, above="0 °C",
                        from_record="unit.motor.ambient_limit", at_most="60 °C")  # fmt: skip
    protector = ask(
        "Thermal protector opens, winding at", "135 °C", from_record="unit.motor.protector",
        group=_MOTOR, above="60 °C", at_most="220 °C", optional=True,
        help="Leave it empty if there is none.",
    )  # fmt: skip
    protector_drop = ask(
        "It closes again when cooler by", "35 K", group=_MOTOR, at_least="1 K", at_most="100 K",
        basis=_PRACTICE,
    )  # fmt: skip
    protector_resets = yes_no("It closes by itself", "yes", group=_MOTOR)

    given_by = choice("The locker is given by", {
        "sizes": "length, width and height inside", "volume": "its volume, and its faces' areas",
    }, "sizes", group=_LOCKER)  # fmt: skip
    locker_length = boat.locker_length.but(group=_LOCKER, when=is_one_of("given_by", "sizes"))
    locker_width = boat.locker_width.but(group=_LOCKER, when=is_one_of("given_by", "sizes"))
    locker_height = boat.locker_height.but(group=_LOCKER, when=is_one_of("given_by", "sizes"))
    locker_volume = ask("Volume inside, empty", "170 L", group=_LOCKER, above="0 L",
                        at_most="20 m3", when=is_one_of("given_by", "volume"))  # fmt: skip
    contents = ask(
        "Taken by what stands beside the unit", "20 L", group=_LOCKER, at_least="0 L",
        at_most="20 m3", help="Filters, membranes, hoses, and what gets stowed there.",
    )  # fmt: skip
    faces = rows("Its faces", Face, group=_FACES, one="face", most=24, example=(
        {"side": "floor", "behind": "bilge"},
        {"side": "top", "thickness": "18 mm"},
        {"side": "front"},
        {"side": "back", "thickness": "18 mm", "lining": "25 mm", "behind": "engine"},
        {"side": "left"},
        {"side": "right"},
    ), help="One row a face, or several where a face is made of different things.")  # fmt: skip

    supply_from = choice("The air that comes in is from", {
        "cabin": "beside the locker", "engine": "the engine space", "outside": "outside, by a duct",
    }, "cabin", group=_WEATHER)  # fmt: skip
    sea_temperature = boat.sea_temperature.but(preset="climate.sea", group=_WEATHER)
    outside_temperature = ask("Air outside, in the shade", "28 °C", preset="climate.outside",
                              group=_WEATHER, at_least="-20 °C", at_most="55 °C")  # fmt: skip
    engine_space = ask(
        "Engine space", "45 °C", group=_WEATHER, at_least="-20 °C", at_most="90 °C",
        basis=_PRACTICE, help="While a generator runs in it, or an hour after the engine stopped.",
    )  # fmt: skip
    irradiance = ask("Sun on a level deck", "800 W/m2", preset="climate.irradiance",
                     group=_WEATHER, at_least="0 W/m2", at_most="1400 W/m2")  # fmt: skip
    absorbed = ask(
        "Of the sun, a deck takes up", "40 %", group=_WEATHER, at_least="0 %", at_most="100 %",
        basis=_PRACTICE, help="White gelcoat about 30 %, grey non-skid 60 %, teak 70 %.",
    )  # fmt: skip
    humidity = ask("Relative humidity of the air beside it", "70 %", preset="climate.humidity",
                   group=_WEATHER, above="0 %", at_most="100 %")  # fmt: skip

    fan_flow = ask("Fan, flow in free air", "240 m3/h", group=_FAN, above="0 m3/h",
                   at_most="3000 m3/h", when=is_one_of("air_way", "fan"))  # fmt: skip
    fan_pressure = ask("Fan, pressure against a shut duct", "150 Pa", group=_FAN, at_least="1 Pa",
                       at_most="5 kPa", basis=_PRACTICE)  # fmt: skip
    fan_curve = rows(
        "Its measured curve, if you have one", FanPoint, example=(), group=_FAN, one="point",
        most=20, when=is_one_of("air_way", "fan"),
    )  # fmt: skip
    duct_diameter = ask("Duct, diameter", "100 mm", group=_FAN, at_least="20 mm", at_most="500 mm",
                        basis=_PRACTICE)  # fmt: skip
    duct_length = ask("Duct, length", "1.5 m", group=_FAN, at_least="0 m", at_most="20 m",
                      basis=_PRACTICE)  # fmt: skip
    duct_bends = whole("Duct, bends", "2", group=_FAN, at_least=0, at_most=20, basis=_PRACTICE)
    fan_power = ask("Fan draws", "55 W", group=_FAN, at_least="0 W", at_most="1 kW",
                    when=is_one_of("air_way", "fan"))  # fmt: skip
    fan_voltage = ask("Fan's voltage", "12 V", group=_FAN, at_least="5 V", at_most="250 V",
                      basis=_PRACTICE)  # fmt: skip
    fan_draws_out = yes_no(
        "It draws the air out", "yes", group=_FAN, when=is_one_of("air_way", "fan"),
        help="Then its own heat leaves with the air. One that blows in warms the locker.",
    )  # fmt: skip

    other_heat = rows("What else gives heat in there", OtherHeat, example=(), group=_ELSE,
                      one="thing", most=12)  # fmt: skip
    engine_power = ask(
        "Engine gives meanwhile", "5 kW", group=_ELSE, above="0 kW", at_most="500 kW",
        when=is_one_of("air_way", "engine"), help="Charging at anchor, a few kilowatts.",
    )  # fmt: skip

    runs = whole("Runs one after the other", "1", group=_TIME, at_least=1, at_most=6)
    rest_hours = ask("Rest after each", "1 h", group=_TIME, at_least="1 min", at_most="24 h")


@dataclass(frozen=True)
class Case:
    """Everything the answer is made of, and how it turns out.

    `settled` is the state that an endless run tends to, `course` the runs and rests with the
    protector at work.
    """

    load: Load
    room: locker.Locker
    limits: locker.Limits
    protector: thermal_network.Protector | None
    mode: thermal_network.Mode
    settled: thermal_network.State
    flows: thermal_network.Flows
    course: thermal_network.Course

    @property
    def flow(self) -> float:
        """Air through the locker once settled [m³/s]."""
        return self.mode.exchange.flow(self.settled[AIR])

    @property
    def warmest(self) -> float:
        """Warmest air while the unit runs [K]; at rest it may be warmer, and harms no one."""
        running = [one for one in self.course.segments if one.mode.loss > 0]
        return max((one.last[AIR] for one in running), default=self.settled[AIR])

    @property
    def tripped(self) -> bool:
        return any(event.kind == "trip" for event in self.course.events)


def answer(q: Values, show: Report) -> None:
    case = _case(q)
    _figures(q, case, show)
    _headline(q, case, show)
    _remedies(q, case, show)
    _steps(q, case, show)
    _heat_table(q, case, show)
    show.chart(_chart(q, case))
    show.drawing(_drawing(q, case))
    _notes(q, case, show)
    _cautions(q, case, show)


# ---- the case ----


def _case(q: Values) -> Case:
    load = load_of(q.unit, pressure=q.pressure, voltage=q.ac_voltage, frequency=q.ac_frequency)
    made = _locker(q, load)
    space, mode = locker.space(made), locker.running(made)
    settled = thermal_network.steady(space, mode)
    protector = None
    if q.protector is not None:
        reset = q.protector - q.protector_drop
        protector = thermal_network.Protector(q.protector, reset, q.protector_resets)
    return Case(
        load, made, _limits(q, load), protector,
        mode, settled, thermal_network.flows(space, settled, mode),
        locker.duty(made, q.run_hours, q.rest_hours, q.runs, protector, tolerance=0.1),
    )  # fmt: skip


def _limits(q: Values, load: Load) -> locker.Limits:
    """What air and winding may reach: the nameplate's ambient, warmer where the load is light; and
    the insulation class's rise by resistance above 40 °C, or the protector if it opens earlier."""
    spare = q.rise * (1 - load.at_work.losses / _rated_loss(load.motor))
    winding = insulation_class.REFERENCE_AMBIENT + insulation_class.allowed_rise(q.insulation)
    return locker.Limits(
        air=min(_HOTTEST_AGREED, q.ambient_limit + max(0.0, spare)),
        winding=winding if q.protector is None else min(winding, q.protector),
    )


def _rated_loss(motor: motors.Motor) -> float:
    return motor.output / motor.efficiency - motor.output


def _locker(q: Values, load: Load) -> locker.Locker:
    volume = _volume(q)
    walls = _walls(q)
    vents = _vents(q)
    _check_openings(q, walls)
    always = sum(row.heat for row in q.other_heat if row.when == "always")
    running = sum(row.heat for row in q.other_heat)
    breathing = 0.0
    if q.air_way == "engine":
        breathing = ventilation.combustion_air(q.engine_power)
        engine = heat.engine_heat(q.engine_power)
        always, running = always + engine, running + engine
    unit = locker.Unit(
        rated_loss=_rated_loss(load.motor),
        rated_rise=q.rise,
        loss=load.at_work.losses,
        winding_loss=load.at_work.load_losses,
        pump_heat=_pump_heat(q, load),
        mass=q.unit.motor.mass,
        volume=_unit_volume(q),
    )
    if volume - q.contents <= unit.volume:
        raise Refusal("contents", "with the unit this leaves no room for air in the locker")
    return locker.Locker(
        volume=volume, walls=walls, unit=unit, supply=_supply(q), contents=q.contents, vents=vents,
        fan=_fan(q) if q.air_way == "fan" else None, other_heat=running, resting_heat=always,
        breathing=breathing,
    )  # fmt: skip


def _unit_volume(q: Values) -> float:
    return float(q.unit.length * q.unit.width * q.unit.height)


def _volume(q: Values) -> float:
    if q.given_by == "volume":
        return float(q.locker_volume)
    inside = sorted((q.locker_length, q.locker_width, q.locker_height))
    own = sorted((q.unit.length, q.unit.width, q.unit.height))
    names = {q.locker_length: "locker_length", q.locker_width: "locker_width"}
    for room, need in zip(inside, own, strict=True):
        if room < need:
            sentence = "the unit does not fit into a locker of these sizes, whichever way it lies"
            raise Refusal(names.get(room, "locker_height"), sentence)
    return float(math.prod(inside))


def _pump_heat(q: Values, load: Load) -> float:
    """What the pump gives to the air: its losses less what the seawater carries away."""
    return float(load.shaft_power * (1 - q.unit.pump.efficiency) * (1 - q.to_seawater))


def _supply(q: Values) -> float:
    return float(
        {
            "cabin": q.ambient_temperature,
            "engine": q.engine_space,
            "outside": q.outside_temperature,
        }[q.supply_from]
    )


def _whole_faces(q: Values) -> dict[str, float]:
    """Area of each whole face, where the sizes are given."""
    if q.given_by == "volume":
        return {}
    level = q.locker_length * q.locker_width
    side, end = q.locker_length * q.locker_height, q.locker_width * q.locker_height
    areas = (level, level, side, side, end, end)
    return dict(zip(_SIDES, areas, strict=True))


def _walls(q: Values) -> tuple[locker.Wall, ...]:
    whole_faces = _whole_faces(q)
    sums: dict[str, float] = {}
    walls = []
    for row in q.faces:
        area = row.area if row.area is not None else whole_faces.get(row.side)
        if area is None:
            sentence = f"the {_SIDES[row.side]} needs an area where the locker's volume is given"
            raise Refusal("faces", sentence)
        sums[row.side] = sums.get(row.side, 0.0) + area
        walls.append(_wall(q, row, area))
    for side, total in sums.items():
        if total > whole_faces.get(side, math.inf) * 1.001:
            raise Refusal(
                "faces", f"the rows for the {_SIDES[side]} add up to more than the whole face"
            )
    if not walls and q.air_way == "sealed":
        raise Refusal("faces", "a sealed locker without a face has no way to lose its heat")
    return tuple(walls)


_INSIDE = {
    "floor": heat.SURFACE_RESISTANCE["inside, heat flows down"],
    "top": heat.SURFACE_RESISTANCE["inside, heat flows up"],
}
_SIDEWAYS = heat.SURFACE_RESISTANCE["inside, heat flows sideways"]
_WIND = heat.SURFACE_RESISTANCE["outside, in the wind"]


def _wall(q: Values, row: Values, area: float) -> locker.Wall:
    shell = heat.Layer(row.thickness, heat.MATERIALS[row.material])
    lining = (heat.Layer(row.lining, _LINING),) if row.lining else ()
    inside = _INSIDE.get(row.side, _SIDEWAYS)
    outside = {"sea": heat.WATER_SURFACE_RESISTANCE, "shade": _WIND, "sun": _WIND}
    return locker.Wall(
        area=area,
        layers=(*lining, shell),
        behind=_behind(q, row),
        inside=inside,
        outside=outside.get(row.behind, inside),
        follows_ambient=row.behind not in _BY_SEA,
    )


def _behind(q: Values, row: Values) -> float:
    if row.behind == "sun":
        sky = _SKY_LOSS if row.side == "top" else 0.0
        return heat.sol_air(
            q.outside_temperature, q.irradiance, q.absorbed, coefficient=1 / _WIND, sky_loss=sky
        )
    return float(
        {
            "cabin": q.ambient_temperature,
            "engine": q.engine_space,
            "bilge": q.sea_temperature,
            "sea": q.sea_temperature,
            "shade": q.outside_temperature,
        }[row.behind]
    )


def _vents(q: Values) -> locker.Vents:
    if q.air_way == "one":
        return locker.Vents(high=q.single_area, own_height=q.single_height)
    if q.air_way == "sealed":
        return locker.Vents()
    return locker.Vents(q.low_area, q.high_area, q.apart)


def _largest_face(q: Values, walls: tuple[locker.Wall, ...]) -> float:
    """Area of the largest face [m²]; a square metre if nothing is known of any."""
    sides = _whole_faces(q)
    if not sides:
        for row, wall in zip(q.faces, walls, strict=True):
            sides[row.side] = sides.get(row.side, 0.0) + wall.area
    return max(sides.values(), default=1.0)


def _check_openings(q: Values, walls: tuple[locker.Wall, ...]) -> None:
    """Refuses openings that the locker has no room for, and machines that get no air."""
    if q.air_way == "sealed":
        return
    names = ("single_area",) if q.air_way == "one" else ("low_area", "high_area")
    largest = _largest_face(q, walls)
    for name in names:
        if getattr(q, name) > largest:
            raise Refusal(name, "the opening is larger than the largest face of the locker")
    tall = q.locker_height if q.given_by == "sizes" else math.inf
    if q.air_way == "one":
        if q.single_height > tall:
            raise Refusal("single_height", "the opening is higher than the locker")
        return
    if q.apart > tall:
        raise Refusal("apart", "the openings are further apart than the locker is high")
    if q.low_area == 0 and q.high_area == 0:
        if q.air_way == "fan":
            raise Refusal(
                "low_area", "a fan blowing into a sealed box moves no air: give it an opening"
            )
        if q.air_way == "engine":
            raise Refusal("low_area", "an engine in a sealed space starves: give it an opening")


def _fan(q: Values) -> locker.Fan:
    curve = tuple((point.flow, point.pressure) for point in q.fan_curve)
    if len(curve) == 1:
        raise Refusal("fan_curve", "one point is no curve: give two or more, or none")
    for (flow, pressure), (more, less) in pairwise(curve):
        if more <= flow or less > pressure:
            raise Refusal("fan_curve", "give the points by rising flow and falling pressure")
    return locker.Fan(
        free_flow=q.fan_flow,
        shutoff_pressure=q.fan_pressure,
        resistance=_duct_resistance(q, q.duct_diameter),
        heat=0.0 if q.fan_draws_out else q.fan_power,
        curve=curve,
    )


def _duct_losses(q: Values) -> float:
    """Loss coefficients of the duct's ends and bends."""
    known = ventilation.LOSS_COEFFICIENT
    ends = known["plain duct end, drawing in"] + known["clamshell or cowl vent"]
    return float(ends + q.duct_bends * known["smooth 90 degree bend"])


def _duct_resistance(q: Values, diameter: float) -> float:
    return ventilation.duct_resistance(
        diameter, q.duct_length, _duct_losses(q), 0.025 * ventilation.HOSE_FRICTION_MULTIPLIER
    )


# ---- what it shows ----


def _first_trip(q: Values, case: Case) -> tuple[float, float] | None:
    """How long the unit ran before the protector first opened, and the rest until it closes again
    (0 if it stays open)."""
    events = case.course.events
    if not events:
        return None
    trip = events[0].time
    closes = next((event.time - trip for event in events if event.kind == "reset"), 0.0)
    return trip % (q.run_hours + q.rest_hours), closes


def _peak_winding(q: Values, case: Case) -> float:
    """Hottest winding; where the protector stops it, what one run from cold would come to."""
    if not case.tripped:
        return case.course.peak(WINDING)
    return locker.run(case.room, q.run_hours, tolerance=0.1).peak(WINDING)


def _figures(q: Values, case: Case, show: Report) -> None:
    limits = case.limits
    trip = _first_trip(q, case)
    if trip:
        show.figure(
            "trip", "Runs before its protector opens", trip[0], "min", at_least=q.run_hours,
            says=line("the thermal protector opens after {t} of a run of {r}",
                      t=(trip[0], "min"), r=(q.run_hours, "h")),
        )  # fmt: skip
    peak = _peak_winding(q, case)
    show.figure(
        "winding", "Winding at its hottest", peak, "°C", at_most=limits.winding,
        zero=insulation_class.REFERENCE_AMBIENT,
        says=line("the winding reaches {w}, and {l} is the most it should",
                  w=(peak, "°C"), l=(limits.winding, "°C")),
        note="as if the protector did not stop it" if trip else "",
    )  # fmt: skip
    show.figure(
        "air", "Air round the motor while it runs", case.warmest, "°C", at_most=limits.air,
        zero=case.room.supply,
        says=line("the air round the motor reaches {a}, and {l} is the most for this load",
                  a=(case.warmest, "°C"), l=(limits.air, "°C")),
    )  # fmt: skip
    if q.air_way == "engine":
        suction = _suction(case)
        show.figure(
            "suction", "Suction that the engine makes", suction, "Pa",
            at_most=ventilation.ENGINE_SUCTION,
            says=line("the engine sucks {s} through these openings, and {l} is the most",
                      s=(suction, "Pa"), l=(ventilation.ENGINE_SUCTION, "Pa")),
        )  # fmt: skip
    show.figure("heat", "Heat given to the locker", case.flows.motor + case.flows.other, "W")
    show.figure("flow", "Air through the locker", case.flow, "m3/h")
    show.figure("frame", "Motor's frame at its hottest", case.course.peak(FRAME), "°C")


def _suction(case: Case) -> float:
    openings = locker.openings_resistance(case.room)
    return ventilation.pressure_drop(case.room.breathing, openings)


def _headline(q: Values, case: Case, show: Report) -> None:
    trip = _first_trip(q, case)
    if trip and trip[1]:
        show.headline(
            "The protector stops the motor after {t}, and lets it start again {c} later.",
            t=(trip[0], "min"), c=(trip[1], "min"),
        )  # fmt: skip
    elif trip:
        rest = "has not closed by the end" if q.protector_resets else "stays open"
        show.headline(
            "The protector stops the motor after {t}, and {rest}.", t=(trip[0], "min"), rest=rest
        )
    else:
        show.headline(
            "In a run of {r} the air round the motor reaches {a} and its winding {w}.",
            r=(q.run_hours, "h"), a=(case.warmest, "°C"),
            w=(case.course.peak(WINDING), "°C"),
        )  # fmt: skip


def _remedies(q: Values, case: Case, show: Report) -> None:
    """The inverse answers, all for runs without end: they are quick to find and on the safe side.

    What air, how warm a day, how large a locker; and how long a run is good as it is.
    """
    made, limits = case.room, case.limits
    _air_remedies(q, case, show)
    _longest(case, show)
    shift = locker.largest_ambient_shift(made, limits, None)
    ambient = q.ambient_temperature + shift
    if ambient > _COLD_DAY:
        show.remedy(
            "As it is, it runs for as long as you like on a day {k} {way}, with {t} beside "
            "the locker.",
            k=(abs(shift), "K"), way="warmer" if shift >= 0 else "cooler", t=(ambient, "°C"),
        )  # fmt: skip
    if all(wall.behind <= made.supply for wall in made.walls):
        volume = locker.smallest_volume(made, limits, None)
        if math.isfinite(volume):
            show.remedy(
                "A locker of this shape with as much in it must be {v} inside at least.",
                v=(volume, "L"),
            )  # fmt: skip


def _air_remedies(q: Values, case: Case, show: Report) -> None:
    made, limits = case.room, case.limits
    if q.air_way == "engine":
        area = ventilation.opening_for(
            made.breathing, ventilation.ENGINE_SUCTION, density=air.density(made.supply)
        )
        show.remedy("The engine alone needs openings of {a} in all.", a=(area, "cm2"))
        return
    if made.supply >= limits.air:
        show.remedy(
            "No fan and no vent cools it with air of {s}: bring in cooler air.",
            s=(made.supply, "°C"),
        )
        return
    if q.air_way != "fan" and locker.excess(made, limits, None) > 0:
        _vents_remedy(q, case, show)
    # Without the draught of openings: wherever the fan's air comes in, this much is enough.
    flow = locker.least_flow(replace(made, vents=locker.Vents()), limits, None)
    if not math.isfinite(flow):
        show.remedy("No fan keeps it within its limits: the motor is loaded too heavily.")
    elif flow > 0:
        _fan_remedy(q, case, show, flow)


def _vents_remedy(q: Values, case: Case, show: Report) -> None:
    made = case.room
    apart = made.vents.apart or _usual_height(q)
    pair = replace(made, vents=locker.Vents(apart=apart))
    largest = _largest_face(q, made.walls) / 2
    area = locker.least_vents(pair, case.limits, None, largest)
    if math.isfinite(area):
        show.remedy(
            "Two openings of {a} each, a low and a high one {h} apart, cool it without a fan.",
            a=(area, "cm2"), h=(apart, "mm"),
        )  # fmt: skip
    else:
        show.remedy(
            "No two openings of up to {a} each, {h} apart, do it: it takes a fan.",
            a=(largest, "cm2"), h=(apart, "mm"),
        )  # fmt: skip


def _usual_height(q: Values) -> float:
    """Height apart for openings that are not there yet: two thirds of the locker's height."""
    height = q.locker_height if q.given_by == "sizes" else _volume(q) ** (1 / 3)
    return float(height) * 2 / 3


def _fan_remedy(q: Values, case: Case, show: Report, flow: float) -> None:
    """The fan for an air flow: the duct that passes it quietly, and the fan in free air."""
    own = q.duct_diameter if q.air_way == "fan" else 0.0
    need = max(ventilation.duct_diameter(flow), own)
    bore = next((size for size in _BORES if size >= need), need)
    opening = max(2 * math.pi * bore**2 / 4, case.room.vents.low + case.room.vents.high)
    resistance = _duct_resistance(q, bore) + ventilation.opening_resistance(
        opening, density=air.density(case.room.supply)
    )
    free = ventilation.free_flow_for(flow, q.fan_pressure, resistance)
    if math.isfinite(free):
        current = ventilation.BLOWER_POWER * free / q.fan_voltage
        show.remedy(
            "A fan that draws at least {q} of air through it cools it: {f} in free air, a duct of "
            "{d}, and openings of {o} in all for the air that comes in. It takes about {i} at {u}.",
            q=(flow, "m3/h"), f=(free, "m3/h"), d=(bore, "mm"), o=(opening, "cm2"),
            i=(current, "A"), u=(q.fan_voltage, "V"),
        )  # fmt: skip
    else:
        show.remedy(
            "It needs {q} of air, and a fan of {p} does not press that through a duct of {d}: "
            "shorten the duct, or take a stronger fan.",
            q=(flow, "m3/h"), p=(q.fan_pressure, "Pa"), d=(bore, "mm"),
        )  # fmt: skip


def _longest(case: Case, show: Report) -> None:
    longest = locker.longest_run(case.room, case.limits)
    if math.isinf(longest):
        show.remedy("As it is it may run as long as you like.")
    elif longest < 60:
        show.remedy("As it is it should not run at all: it is too warm before it starts.")
    else:
        show.remedy("As it is, the longest run from cold is {t}.", t=(longest, "min"))


def _steps(q: Values, case: Case, show: Report) -> None:
    load, unit, state = case.load, case.room.unit, case.settled
    work = load.at_work
    show.step(
        "Shaft power of the pump", work.shaft_power, "W", "P_shaft = Q * dp / eta",
        {"Q": (load.flow, "L/min"), "dp": (load.pressure, "bar"),
         "eta": (q.unit.pump.efficiency, "%")},
        "Hydraulic power, any pump handbook", "the flow at the speed on this voltage and frequency",
    )  # fmt: skip
    show.step(
        "What the motor loses at this load", work.losses, "W", "P_loss = P_in - P_shaft",
        {"P_in": (work.input_power, "W"), "P_shaft": (work.shaft_power, "W")},
        "The motor as on the power page: Fitzgerald, Kingsley and Umans, Electric Machinery, ch. 6",
    )  # fmt: skip
    reference = case.mode.reference
    show.step(
        "The same with its copper at the settled temperature", case.flows.motor, "W",
        "P_hot = P_loss + P_cu * (T_w - T_ref) / (T_ref - T_0)",
        {"P_loss": (work.losses, "W"), "P_cu": (unit.winding_loss, "W"),
         "T_w": (state[WINDING], "°C"), "T_ref": (reference, "°C"),
         "T_0": (locker.COPPER_ZERO, "°C")},
        "IEC 60034-1, resistance of copper against temperature",
    )  # fmt: skip
    show.step(
        "What the pump gives to the air", unit.pump_heat, "W",
        "P_pump = P_shaft * (1 - eta) * (1 - s)",
        {"P_shaft": (work.shaft_power, "W"), "eta": (q.unit.pump.efficiency, "%"),
         "s": (q.to_seawater, "%")},
        "Share s that the seawater carries away: common practice, no source",
    )  # fmt: skip
    total = case.flows.motor + case.flows.other
    show.step(
        "All heat given to the locker", total, "W", "P = P_hot + P_pump + P_else",
        {"P_hot": (case.flows.motor, "W"), "P_pump": (unit.pump_heat, "W"),
         "P_else": (case.flows.other - unit.pump_heat, "W")},
        "Sum of the heats",
    )  # fmt: skip
    _wall_step(q, case, show)
    _flow_steps(q, case, show)
    exchange = case.mode.exchange
    show.step(
        "What the air carries away", case.flows.air, "W", "P_air = rho * c * V * dT",
        {"rho": (exchange.density, "kg/m3"), "c": (air.HEAT_CAPACITY, ""), "V": (case.flow, "m3/h"),
         "dT": (state[AIR] - exchange.supply, "K")},
        "ASHRAE Handbook Fundamentals, sensible heat; c in J/(kg K)",
    )  # fmt: skip
    show.step(
        "What is left for the walls", total - case.flows.air, "W", "P_walls = P - P_air",
        {"P": (total, "W"), "P_air": (case.flows.air, "W")}, "Balance of heat",
    )  # fmt: skip
    lumps = locker.motor_lumps(unit, case.room.fill)
    show.step(
        "Winding above the air", state[WINDING] - state[AIR], "K",
        "dT_w = P_hot * (1 / G_wf + 1 / G_fa)",
        {"P_hot": (case.flows.motor, "W"), "G_wf": (lumps.to_frame, "W/K"),
         "G_fa": (lumps.to_air, "W/K")},
        "Two lumps, winding and frame; the share of the rise between them is common practice, no "
        "source",
    )  # fmt: skip
    rated = _rated_loss(load.motor)
    show.step(
        "Warmest air for this load", case.limits.air, "°C",
        "T_air = min(T_most, T_plate + max(0, dT_r * (1 - P_loss / P_r)))",
        {"T_most": (_HOTTEST_AGREED, "°C"), "T_plate": (q.ambient_limit, "°C"),
         "dT_r": (q.rise, "K"), "P_loss": (work.losses, "W"), "P_r": (rated, "W")},
        "IEC 60034-1: the rated rise above the nameplate's ambient (60 °C at most, from memory), "
        "the rise going with the losses",
    )  # fmt: skip
    allowed = insulation_class.allowed_rise(q.insulation)
    show.step(
        "Hottest winding, by resistance", insulation_class.REFERENCE_AMBIENT + allowed, "°C",
        "T_class = T_40 + dT_c",
        {"T_40": (insulation_class.REFERENCE_AMBIENT, "°C"), "dT_c": (allowed, "K")},
        "NEMA MG 1 12.43 and IEC 60034-1: allowed rise of the class above 40 °C",
        "the protector counts where it opens earlier",
    )  # fmt: skip


def _wall_step(q: Values, case: Case, show: Report) -> None:
    if not case.room.walls:
        return
    row, wall = q.faces[0], case.room.walls[0]
    lining = row.lining / _LINING.conductivity
    show.step(
        f"U value of the first face ({_SIDES[row.side]})", wall.transmittance, "W/m2K",
        "U = 1 / (R_i + R_l + d / k + R_o)",
        {"R_i": (wall.inside, ""), "R_l": (lining, ""), "d": (row.thickness, "mm"),
         "k": (heat.MATERIALS[row.material].conductivity, "W/mK"), "R_o": (wall.outside, "")},
        "ISO 6946, surface resistances of its table 7; conductivities after ISO 10456",
        "resistances R in m²K/W",
    )  # fmt: skip


def _flow_steps(q: Values, case: Case, show: Report) -> None:
    made, exchange, inside = case.room, case.mode.exchange, case.settled[AIR]
    difference = abs(inside - made.supply)
    warm = max(inside, made.supply)
    natural = 0.0
    two_way = exchange.two_way * ventilation.two_way_discharge(difference)
    strongest = max(two_way, exchange.stack)
    if strongest and difference:
        natural = strongest * math.sqrt(difference / warm)
        common = {"g": (ventilation.STANDARD_GRAVITY, ""), "dT": (difference, "K"),
                  "T": (warm, "K")}  # fmt: skip
        if exchange.stack >= two_way:
            area = ventilation.effective_area(made.vents.low, made.vents.high)
            show.step(
                "Both openings as one", area, "cm2", "A = A_1 * A_2 / sqrt(A_1**2 + A_2**2)",
                {"A_1": (made.vents.low, "cm2"), "A_2": (made.vents.high, "cm2")},
                "ASHRAE Handbook Fundamentals, natural ventilation",
            )  # fmt: skip
            show.step(
                "Draught that the warm air makes", natural, "m3/h",
                "V_n = C_d * A * sqrt(2 * g * H * dT / T)",
                {"C_d": (made.vents.discharge, ""), "A": (area, "cm2"),
                 "H": (made.vents.apart, "mm"), **common},
                "ASHRAE Handbook Fundamentals (1997) p. 25.13 eq. 37; T in kelvin",
            )  # fmt: skip
        else:
            larger = max(made.vents.low, made.vents.high)
            show.step(
                "Air that one opening exchanges", natural, "m3/h",
                "V_n = K * A * sqrt(g * h * dT / T) / 3",
                {"K": (ventilation.two_way_discharge(difference), ""), "A": (larger, "cm2"),
                 "h": (made.vents.own_height or math.sqrt(larger), "mm"), **common},
                "Kiel and Wilson (1986), flow both ways through one opening; T in kelvin",
            )  # fmt: skip
    if made.fan and not made.fan.curve:
        resistance = made.fan.resistance + locker.openings_resistance(made)
        show.step(
            "Air that the fan moves through duct and openings", exchange.forced, "m3/h",
            "V_f = V_0 / sqrt(1 + S * V_0**2 / p_0)",
            {"V_0": (made.fan.free_flow, "m3/h"), "S": (resistance, ""),
             "p_0": (made.fan.shutoff_pressure, "Pa")},
            "Parabolic fan curve against the resistance of duct and openings; losses of the duct "
            "are common practice, no source", "S in Pa/(m³/s)²",
        )  # fmt: skip
    show.step(
        "Air through the locker", case.flow, "m3/h", "V = sqrt(V_f**2 + V_n**2)",
        {"V_f": (exchange.forced, "m3/h"), "V_n": (natural, "m3/h")},
        "ASHRAE Handbook Fundamentals, fan and draught in quadrature (from memory)",
    )  # fmt: skip


def _heat_table(q: Values, case: Case, show: Report) -> None:
    table: list[tuple[Line | str | tuple[float, str], ...]] = [
        (
            line("air, coming in at {t}", t=(case.room.supply, "°C")),
            "", "", (case.flows.air, "W"),
        )
    ]  # fmt: skip
    for row, wall, flow in zip(q.faces, case.room.walls, case.flows.faces, strict=True):
        name = line(
            "{side}: {what}; {behind}, {t}", side=_SIDES[row.side], what=row.material,
            behind=_PLACES[row.behind], t=(wall.behind, "°C"),
        )  # fmt: skip
        table.append((name, (wall.area, "m2"), (wall.transmittance, "W/m2K"), (flow, "W")))
    show.table(
        "where", "Where the heat goes, once settled", ("Way out", "Area", "U value", "Heat"), table,
        note="A negative heat comes in. Settled means an endless run, with no protector at work.",
    )  # fmt: skip


def _chart(q: Values, case: Case) -> Chart:
    course, cycle = case.course, q.run_hours + q.rest_hours
    end = cycle * q.runs
    # The ends of the solver's steps lie close where something happens fast.
    times = {end * i / 24 for i in range(25)} | {one.begin for one in course.segments}
    times |= {min(event.time, end) for event in course.events}
    picked = sorted(times)
    states = [course.at(time) for time in picked]
    curves = [
        Series(name, [(t, state[node]) for t, state in zip(picked, states, strict=True)])
        for name, node in (("winding", WINDING), ("frame", FRAME), ("air", AIR))
    ]
    bands = [
        Band("run" if q.runs < 4 else "", cycle * i, cycle * i + q.run_hours) for i in range(q.runs)
    ]
    limits = [Mark("most for the air", case.limits.air)]
    if q.protector is None or case.limits.winding < q.protector:
        limits.append(Mark("most for the winding", case.limits.winding))
    if q.protector is not None:
        limits.append(Mark("protector opens", q.protector))
    highest = max([course.peak(WINDING), *(mark.at for mark in limits)])
    lowest = min(min(state) for state in states)
    unit = "h" if end > 3 * 3600 else "min"
    found = (case.warmest, course.peak(FRAME), course.peak(WINDING))
    peaks = [temperature - air.ZERO_CELSIUS for temperature in found]
    return Chart(
        "course", "Runs and rests, from cold", Axis("Time", unit, low=0.0, high=end),
        Axis("Temperature", "°C", low=min(air.ZERO_CELSIUS, lowest), high=highest + 25),
        curves, limits=limits, bands=bands,
        summary="Temperatures of air, frame and winding through runs and rests; they peak at "
        f"{peaks[0]:.0f}, {peaks[1]:.0f} and {peaks[2]:.0f} °C.",
    )  # fmt: skip


# ---- the drawing ----


def _drawing(q: Values, case: Case) -> Drawing:
    if q.given_by == "sizes":
        long, high = q.locker_length, q.locker_height
    else:
        long = high = _volume(q) ** (1 / 3)
    shapes = [*_box(q, long, high), *_unit_shapes(q, case, long, high)]
    shapes += {
        "sealed": _no_path, "one": _one_path, "two": _two_path, "fan": _fan_path,
        "engine": _engine_path,
    }[q.air_way](q, case, long, high)  # fmt: skip
    words = {
        "sealed": "no way out for the air, which goes round inside",
        "one": "air that comes in low and leaves high through one opening",
        "two": "air that comes in low, rises past the unit and leaves high",
        "fan": "air that a fan moves through the locker and its duct",
        "engine": "air that comes in, with the engine drawing its share",
    }[q.air_way]
    return Drawing(
        "path", "The way of the air, seen from the long side",
        f"A section of the locker with the unit on its floor: {words}.", shapes,
        to_scale=q.given_by == "sizes",
    )  # fmt: skip


def _label(x: float, y: float, words: Line | str, anchor: str = "middle") -> Shape:
    return Shape("text", [(x, y)], words, anchor=anchor)


def _behind_line(q: Values, side: str) -> Line | str:
    """What lies behind a face, for its label."""
    found = [row for row in q.faces if row.side == side]
    if not found:
        return ""
    return line("{w}, {t}", w=_PLACES[found[0].behind], t=(_behind(q, found[0]), "°C"))


def _box(q: Values, long: float, high: float) -> list[Shape]:
    """The locker, what lies round it, and its sizes."""
    gap = 0.12 * high
    shapes = [
        _label(long / 2, high + gap, _behind_line(q, "top")),
        _label(long / 2, -gap, _behind_line(q, "floor")),
    ]
    if q.given_by == "sizes":
        below = -3.8 * gap
        shapes += [
            Shape("dimension", [(0, below), (long, below)], line("{l}", l=(long, "mm")), offset=0),
            Shape("dimension", [(-0.42 * long, 0), (-0.42 * long, high)],
                  line("{h}", h=(high, "mm")), offset=0),
        ]  # fmt: skip
    return shapes


def _wall_line(x: float, high: float, gaps: list[tuple[float, float]]) -> list[Shape]:
    """An end of the locker with openings from and to the heights of `gaps`."""
    shapes, at = [], 0.0
    for low, top in sorted(gaps):
        if low > at:
            shapes.append(Shape("line", [(x, at), (x, low)]))
        at = max(at, top)
    if at < high:
        shapes.append(Shape("line", [(x, at), (x, high)]))
    return shapes


def _frame_lines(long: float, high: float, left: list[tuple[float, float]],
                 right: list[tuple[float, float]]) -> list[Shape]:  # fmt: skip
    level = [Shape("line", [(0, y), (long, y)]) for y in (0.0, high)]
    return [*level, *_wall_line(0, high, left), *_wall_line(long, high, right)]


def _unit_shapes(q: Values, case: Case, long: float, high: float) -> list[Shape]:
    wide, tall = min(q.unit.length, 0.9 * long), min(q.unit.height, 0.9 * high)
    left = (long - wide) / 2
    return [
        Shape("rect", [(left, 0), (left + wide, tall)], style="blocked"),
        _label(long / 2, tall / 2, line("winding {w}", w=(case.course.peak(WINDING), "°C"))),
    ]


def _openings_at(q: Values, case: Case, high: float) -> tuple[tuple[float, float], ...]:
    """Heights from and to of the low and the high opening, drawn as squares."""
    vents = case.room.vents
    sizes = [min(math.sqrt(area), 0.4 * high) for area in (vents.low, vents.high)]
    middle, apart = high / 2, min(vents.apart, high - sum(sizes) / 2)
    low, top = middle - apart / 2, middle + apart / 2
    return (low - sizes[0] / 2, low + sizes[0] / 2), (top - sizes[1] / 2, top + sizes[1] / 2)


def _in_line(case: Case) -> Line:
    return line("in {t}", t=(case.room.supply, "°C"))


def _out_line(case: Case) -> Line:
    return line("out {t}", t=(case.warmest, "°C"))


def _arrow(*points: tuple[float, float]) -> Shape:
    return Shape("arrow", points, style="accent")


def _two_path(q: Values, case: Case, long: float, high: float) -> list[Shape]:
    low, top = _openings_at(q, case, high)
    enters, leaves = sum(low) / 2, sum(top) / 2
    return [
        *_frame_lines(long, high, [low] if case.room.vents.low else [],
                      [top] if case.room.vents.high else []),
        _arrow((-0.3 * long, enters), (0.04 * long, enters)),
        _arrow((0.06 * long, enters), (0.16 * long, leaves), (0.94 * long, leaves)),
        _arrow((0.96 * long, leaves), (1.3 * long, leaves)),
        _label(-0.3 * long, enters + 0.07 * high, _in_line(case), "start"),
        _label(1.32 * long, leaves + 0.07 * high, _out_line(case), "end"),
    ]  # fmt: skip


def _fan_path(q: Values, case: Case, long: float, high: float) -> list[Shape]:
    low, top = _openings_at(q, case, high)
    bore = min(q.duct_diameter, 0.3 * high)
    at = high - 0.6 * bore
    gaps = [gap for gap, area in ((low, case.room.vents.low), (top, case.room.vents.high))
            if area]  # fmt: skip
    enters = sum(gaps[0]) / 2
    shapes = [
        *_frame_lines(long, high, gaps, [(at - bore / 2, at + bore / 2)]),
        Shape("line", [(long, at + bore / 2), (1.3 * long, at + bore / 2)], style="fine"),
        Shape("line", [(long, at - bore / 2), (1.3 * long, at - bore / 2)], style="fine"),
        Shape("circle", [(1.08 * long, at)], radius=bore * 0.42, style="outline"),
        _label(1.12 * long, at - bore / 2 - 0.08 * high, "fan"),
    ]
    outward = [
        _arrow((-0.3 * long, enters), (0.04 * long, enters)),
        _arrow((0.06 * long, enters), (0.16 * long, at), (0.94 * long, at)),
        _arrow((1.16 * long, at), (1.36 * long, at)),
        _label(-0.3 * long, enters + 0.07 * high, _in_line(case), "start"),
        _label(1.36 * long, at + bore / 2 + 0.08 * high, _out_line(case), "end"),
    ]
    inward = [
        _arrow((1.36 * long, at), (1.16 * long, at)),
        _arrow((0.94 * long, at), (0.16 * long, at), (0.06 * long, enters)),
        _arrow((0.04 * long, enters), (-0.3 * long, enters)),
        _label(1.36 * long, at + bore / 2 + 0.08 * high, _in_line(case), "end"),
        _label(-0.3 * long, enters + 0.07 * high, _out_line(case), "start"),
    ]
    return shapes + (outward if q.fan_draws_out else inward)


def _one_path(q: Values, case: Case, long: float, high: float) -> list[Shape]:
    size = min(q.single_height, 0.8 * high)
    middle = high / 2
    enters, leaves = middle - size / 4, middle + size / 4
    return [
        *_frame_lines(long, high, [], [(middle - size / 2, middle + size / 2)]),
        _arrow((1.3 * long, enters), (0.96 * long, enters)),
        _arrow((0.96 * long, leaves), (1.3 * long, leaves)),
        _label(1.32 * long, enters - 0.09 * high, _in_line(case), "end"),
        _label(1.32 * long, leaves + 0.09 * high, _out_line(case), "end"),
        _label(-0.03 * long, middle, _behind_line(q, "left"), "end"),
    ]


def _no_path(q: Values, case: Case, long: float, high: float) -> list[Shape]:
    over = 0.9 * high
    return [
        *_frame_lines(long, high, [], []),
        _arrow((0.08 * long, 0.2 * high), (0.08 * long, over), (0.92 * long, over),
               (0.92 * long, 0.2 * high)),
        _label(-0.03 * long, high / 2, _behind_line(q, "left"), "end"),
        _label(1.03 * long, high / 2, _behind_line(q, "right"), "start"),
    ]  # fmt: skip


def _engine_path(q: Values, case: Case, long: float, high: float) -> list[Shape]:
    at, leaves = 0.93 * long, sum(_openings_at(q, case, high)[1]) / 2
    return [
        *_two_path(q, case, long, high),
        _arrow((at, leaves), (at, 0.3 * high)),
        Shape("circle", [(at, 0.2 * high)], radius=0.06 * high, style="outline"),
        _label(1.03 * long, 0.2 * high, "engine", "start"),
    ]


# ---- words ----


def _notes(q: Values, case: Case, show: Report) -> None:
    made, work = case.room, case.load.at_work
    if case.load.shaft_power > case.load.motor.output * 1.0001:
        show.note(
            "The pump asks {p} of a motor rated for {r}: that alone makes it hotter than its "
            "maker meant.", p=(work.shaft_power, "W"), r=(case.load.motor.output, "W"),
        )  # fmt: skip
    share = locker.recirculated_share(made.fill)
    if share > 0:
        show.note(
            "The unit fills {f} of its room, so its fan draws in again about {s} of its own warm "
            "air: common practice, no source. More room does more than more air.",
            f=(made.fill, "%"), s=(share, "%"),
        )  # fmt: skip
    _settling_note(case, show)
    if case.course.peak(AIR) > case.warmest + 2:
        show.note(
            "After the run, with the fan stopped, the motor's stored heat takes the air to {t}: "
            "let the fan run on.", t=(case.course.peak(AIR), "°C"),
        )  # fmt: skip
    _hot_wall_note(case, show)
    _life_note(q, case, show)
    _dew_note(q, case, show)
    if q.air_way == "fan":
        show.note(
            "The fan itself draws {i} at {u}.",
            i=(q.fan_power / q.fan_voltage, "A"), u=(q.fan_voltage, "V"),
        )  # fmt: skip
    show.note(
        "Temperatures of the motor stand or fall with four values nobody publishes: the share of "
        "the pump's losses that the seawater takes, the copper in the motor (15 % of its mass), "
        "the share of the rise inside it (30 %), and the losses of hoses and grilles. They are "
        "common practice, no source: a thermometer on the frame after an hour settles more."
    )


def _settling_note(case: Case, show: Report) -> None:
    start, end = case.course.segments[0].first[AIR], case.settled[AIR]
    if case.tripped or end - start < 1:
        return
    after = case.course.first_reach(AIR, start + 0.9 * (end - start))
    if math.isfinite(after):
        show.note(
            "The air is nine tenths of the way to its settled {t} after {a}.",
            t=(end, "°C"), a=(after, "min"),
        )  # fmt: skip


def _hot_wall_note(case: Case, show: Report) -> None:
    hottest = max((wall.behind for wall in case.room.walls), default=0.0)
    if hottest > case.settled[AIR]:
        show.note(
            "One face has {t} behind it and heats the locker: a larger locker would not help; "
            "insulation on that face does.", t=(hottest, "°C"),
        )  # fmt: skip


def _life_note(q: Values, case: Case, show: Report) -> None:
    limit = insulation_class.REFERENCE_AMBIENT + insulation_class.allowed_rise(q.insulation)
    peak = case.course.peak(WINDING)
    if abs(peak - limit) <= insulation_class.LIFE_RULE_SPAN:
        show.note(
            "At this temperature the insulation lasts about {x} as long as at its class's {l}: "
            "the rule that 10 K halve a life, good for a comparison within 30 K, and no promise "
            "of hours.",
            x=(insulation_class.relative_life(peak, limit), "×"), l=(limit, "°C"),
        )  # fmt: skip


def _dew_note(q: Values, case: Case, show: Report) -> None:
    """The face that sweats most while the unit rests."""
    state = locker.rest_state(case.room)
    coldest, side = math.inf, ""
    for row, wall, middle in zip(q.faces, case.room.walls, state[3:], strict=True):
        skin = state[AIR] - (state[AIR] - middle) * wall.face.to_air * wall.inside / wall.area
        if skin < coldest:
            coldest, side = skin, row.side
    dew = air.dew_point(case.room.supply, q.humidity)
    if coldest < dew:
        show.note(
            "While it rests, the {side} stands at {t}, below the air's dew point of {d}: it "
            "sweats. Line it, or keep that moist air out.",
            side=_SIDES[side], t=(coldest, "°C"), d=(dew, "°C"),
        )  # fmt: skip


def _cautions(q: Values, case: Case, show: Report) -> None:
    show.caution(caution("protector"), caution("vapour"), caution("mains"))
    if q.air_way == "engine" or q.supply_from == "engine":
        show.caution(caution("engine-air"), caution("carbon-monoxide"))
    if case.course.peak(FRAME) > 333.15:
        show.caution(caution("hot-motor"))
    show.caution(caution("estimate"))
