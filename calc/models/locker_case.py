"""A reader's locker and how it turns out: the case behind the ventilation calculator's answer."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from ..frame.inputs import Refusal, Values
from ..physics import air, heat, insulation_class, locker, motors, thermal_network, ventilation
from ..physics.thermal_network import AIR, FRAME, WINDING
from .load import Load, load_of

SIDES = {
    "floor": "floor",
    "top": "top",
    "front": "long side 1",
    "back": "long side 2",
    "left": "end 1",
    "right": "end 2",
}
PLACES = {
    "cabin": "cabin",
    "engine": "engine space",
    "bilge": "bilge",
    "sea": "sea",
    "shade": "open air",
    "sun": "in the sun",
}
LOCKER = ("locker_length", "locker_width", "locker_height")
ENGINE_SPACE = ("engine_length", "engine_width", "engine_height")
LINING = heat.MATERIALS["mineral wool"]

# Beyond 60 °C IEC 60034-1 leaves a motor's ambient to an agreement with its maker (from memory).
HOTTEST_AGREED = 333.15
# Long-wave loss of a face that sees the whole sky: ASHRAE Handbook Fundamentals, sol-air values.
_SKY_LOSS = 63.0 * 0.9
# Openings and closings of a protector that are followed: it then only goes on so.
MOST_EVENTS = 40
# Share of an engine space that the engine and all that stands beside it take up.
_ENGINE_FILLS = 0.5
_BY_THE_DAY = ("cabin", "shade", "sun")


@dataclass(frozen=True)
class Case:
    """Everything the answer is made of, and how it turns out.

    `course` is the runs and rests as if nothing stopped the motor: all that is told of a run is of
    this one state. `stopped` is the same with the protector at work, None where it never opens.
    `settled` is what an endless run tends to, with nothing to stop it.
    """

    load: Load
    room: locker.Locker
    limits: locker.Limits
    mode: thermal_network.Mode
    settled: thermal_network.State
    flows: thermal_network.Flows
    course: thermal_network.Course
    stopped: thermal_network.Course | None

    @property
    def unhindered(self) -> str:
        """What to add to a name where the protector would open: the state is told without it."""
        return ", if nothing stopped it" if self.stopped else ""

    @property
    def flow(self) -> float:
        """Air through the locker once settled [m³/s]."""
        return self.mode.exchange.flow(self.settled[AIR])

    @property
    def air(self) -> float:
        """Warmest air while the unit runs [K]; at rest it may be warmer, and harms no one."""
        return whole_degree(max(one.last[AIR] for one in self.course.segments if one.mode.loss > 0))

    @property
    def frame(self) -> float:
        """Hottest frame, in a run or after it [K]."""
        return whole_degree(self.course.peak(FRAME))

    @property
    def winding(self) -> float:
        """Hottest winding [K]."""
        return whole_degree(self.course.peak(WINDING))


def whole_degree(temperature: float) -> float:
    """A temperature [K] to the nearest whole degree Celsius: more is not known."""
    return round(temperature - air.ZERO_CELSIUS) + air.ZERO_CELSIUS


def case_of(q: Values, brief: bool = False) -> Case:
    """The case of a form; of the protector at work no more than its first opening if `brief`."""
    load = load_of(q.unit, q.flow, q.pressure, q.ac_voltage, q.ac_frequency)
    made = _locker(q, load)
    space, mode = locker.space(made), locker.running(made)
    settled = thermal_network.steady(space, mode)
    course = locker.duty(made, q.run_hours, q.rest_hours, q.runs, tolerance=0.1)
    return Case(
        load,
        made,
        _limits(q, load),
        mode,
        settled,
        thermal_network.flows(space, settled, mode),
        course,
        _stopped(q, made, course, brief),
    )


def _stopped(
    q: Values, made: locker.Locker, course: thermal_network.Course, brief: bool
) -> thermal_network.Course | None:
    if q.protector is None or course.peak(WINDING) < q.protector:
        return None
    protector = thermal_network.Protector(
        q.protector, q.protector - q.protector_drop, q.protector_resets
    )
    return locker.protected(
        made,
        course,
        q.run_hours,
        q.rest_hours,
        protector,
        tolerance=0.3,
        most_events=1 if brief else MOST_EVENTS,
    )


def bearable_air(q: Values, load: Load) -> float:
    """Warmest air [K] for the load: the nameplate's ambient, more of it where the load is light."""
    spare = q.rise * (1 - load.at_work.losses / rated_loss(load.motor))
    return float(min(HOTTEST_AGREED, q.ambient_limit + max(0.0, spare)))


def _limits(q: Values, load: Load) -> locker.Limits:
    """What air and winding may reach: the bearable air, to the whole degree below; and the
    insulation class's rise by resistance above 40 °C, or the protector if it opens earlier."""
    degrees = math.floor(bearable_air(q, load) - air.ZERO_CELSIUS + 1e-9)
    winding = insulation_class.REFERENCE_AMBIENT + insulation_class.allowed_rise(q.insulation)
    return locker.Limits(
        air=degrees + air.ZERO_CELSIUS,
        winding=winding if q.protector is None else min(winding, q.protector),
    )


def rated_loss(motor: motors.Motor) -> float:
    return motor.output / motor.efficiency - motor.output


def _unit(q: Values, load: Load) -> locker.Unit:
    return locker.Unit(
        rated_loss=rated_loss(load.motor),
        rated_rise=q.rise,
        loss=load.at_work.losses,
        winding_loss=load.at_work.load_losses,
        pump_heat=_pump_heat(q, load),
        mass=q.unit.motor.mass,
        volume=math.prod(unit_sizes(q)),
    )


def _locker(q: Values, load: Load) -> locker.Locker:
    unit = _unit(q, load)
    if way_of(q) == "open":
        return locker.in_the_open(unit, q.ambient_temperature)
    if way_of(q) == "engine" and q.supply_from == "engine":
        raise Refusal(
            "supply_from",
            "the unit stands in the engine space: say where that space's own air comes from",
        )
    volume = volume_of(q)
    walls = _walls(q)
    vents = _vents(q)
    _check_openings(q, walls)
    always = sum(row.heat for row in q.other_heat if row.when == "always")
    running = sum(row.heat for row in q.other_heat) + boost_heat(q)
    breathing = 0.0
    if way_of(q) == "engine":
        breathing = ventilation.combustion_air(q.engine_power)
        engine = heat.engine_heat(q.engine_power)
        always, running = always + engine, running + engine
    contents = contents_of(q, volume)
    if volume - contents <= unit.volume:
        field = "contents" if way_of(q) != "engine" else "engine_contents"
        raise Refusal(field, f"with the unit this leaves no room for air in the {place_of(q)}")
    return locker.Locker(
        volume=volume,
        walls=walls,
        unit=unit,
        supply=_supply(q),
        contents=contents,
        vents=vents,
        fan=_fan(q) if way_of(q) == "fan" else None,
        other_heat=running,
        resting_heat=always,
        breathing=breathing,
        supply_follows=q.supply_from != "engine",
    )


def unit_sizes(q: Values) -> list[float]:
    """The unit's three sizes, smallest first [m]."""
    return sorted((q.unit.length, q.unit.width, q.unit.height))


def way_of(q: Values) -> str:
    """How its air is renewed; "open" where it stands open in the cabin."""
    return "open" if q.stands == "open" else str(q.air_way)


def inner_sizes(q: Values) -> dict[str, float]:
    """Length, width and height [m] of the space that it stands in, by the fields that ask for them;
    nothing where only the volume is known."""
    if way_of(q) != "engine" and q.given_by == "volume":
        return {}
    return {name: getattr(q, name) for name in (ENGINE_SPACE if way_of(q) == "engine" else LOCKER)}


def place_of(q: Values) -> str:
    """What it stands in."""
    return {"open": "cabin", "engine": "engine space"}.get(way_of(q), "locker")


def holding(inside: Mapping[str, float], unit: Sequence[float], what: str = "locker") -> float:
    """Volume [m³] of a space of these sizes [m]; refuses one that the unit does not go into."""
    by_size = sorted(inside.items(), key=lambda one: one[1])
    for (name, room), need in zip(by_size, sorted(unit), strict=True):
        if room < need:
            sentence = f"the unit does not fit into this {what}, whichever way it lies"
            raise Refusal(name, sentence)
    return float(math.prod(inside.values()))


def engine_space_known(q: Values) -> bool:
    """Whether all three sizes of the engine space are."""
    return all(getattr(q, name) is not None for name in ENGINE_SPACE)


def contents_of(q: Values, volume: float) -> float:
    """What stands beside the unit [m³] in a space of a volume [m³]: of an engine space half, unless
    the reader says. Common practice, no source."""
    if way_of(q) != "engine":
        return float(q.contents)
    return float(_ENGINE_FILLS * volume if q.engine_contents is None else q.engine_contents)


def volume_of(q: Values) -> float:
    inside = inner_sizes(q)
    return holding(inside, unit_sizes(q), place_of(q)) if inside else float(q.locker_volume)


def _pump_heat(q: Values, load: Load) -> float:
    """What the pump gives to the air: its losses less what the seawater carries away."""
    return float(load.shaft_power * (1 - q.unit.pump.efficiency) * (1 - q.to_seawater))


def boost_heat(q: Values) -> float:
    """What the boost pump gives to the air [W]; the rest of its power leaves with the water."""
    return float(q.boost_power * q.boost_to_air) if q.boost_here else 0.0


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
    inside = inner_sizes(q)
    if not inside:
        return {}
    long, wide, high = inside.values()
    level, side, end = long * wide, long * high, wide * high
    areas = (level, level, side, side, end, end)
    return dict(zip(SIDES, areas, strict=True))


def faces_of(q: Values) -> tuple[Values, ...]:
    """The faces that pass heat: an engine space has none towards itself."""
    return tuple(row for row in q.faces if way_of(q) != "engine" or row.behind != "engine")


def _walls(q: Values) -> tuple[locker.Wall, ...]:
    whole_faces = _whole_faces(q)
    sums: dict[str, float] = {}
    walls = []
    for row in faces_of(q):
        area = row.area if row.area is not None else whole_faces.get(row.side)
        if area is None:
            sentence = f"the {SIDES[row.side]} needs an area where the locker's volume is given"
            raise Refusal("faces", sentence)
        sums[row.side] = sums.get(row.side, 0.0) + area
        walls.append(_wall(q, row, area))
    for side, total in sums.items():
        if total > whole_faces.get(side, math.inf) * 1.001:
            raise Refusal(
                "faces", f"the rows for the {SIDES[side]} add up to more than the whole face"
            )
    if not walls and way_of(q) == "sealed":
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
    lining = (heat.Layer(row.lining, LINING),) if row.lining else ()
    inside = _INSIDE.get(row.side, _SIDEWAYS)
    outside = {"sea": heat.WATER_SURFACE_RESISTANCE, "shade": _WIND, "sun": _WIND}
    return locker.Wall(
        area=area,
        layers=(*lining, shell),
        behind=temperature_behind(q, row),
        inside=inside,
        outside=outside.get(row.behind, inside),
        follows_ambient=row.behind in _BY_THE_DAY,
    )


def temperature_behind(q: Values, row: Values) -> float:
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
    if way_of(q) == "one":
        return locker.Vents(high=q.single_area, own_height=q.single_height)
    if way_of(q) == "sealed":
        return locker.Vents()
    return locker.Vents(q.low_area, q.high_area, q.apart)


def largest_face(q: Values, walls: tuple[locker.Wall, ...]) -> float:
    """Area of the largest face [m²]; a square metre if nothing is known of any."""
    sides = _whole_faces(q)
    if not sides:
        for row, wall in zip(faces_of(q), walls, strict=True):
            sides[row.side] = sides.get(row.side, 0.0) + wall.area
    return max(sides.values(), default=1.0)


def _check_openings(q: Values, walls: tuple[locker.Wall, ...]) -> None:
    """Refuses openings that the locker has no room for, and machines that get no air."""
    if way_of(q) == "sealed":
        return
    names = ("single_area",) if way_of(q) == "one" else ("low_area", "high_area")
    largest = largest_face(q, walls)
    for name in names:
        if getattr(q, name) > largest:
            raise Refusal(name, f"the opening is larger than the largest face of the {place_of(q)}")
    tall = list(inner_sizes(q).values())[-1] if inner_sizes(q) else math.inf
    if way_of(q) == "one":
        if q.single_height > tall:
            raise Refusal("single_height", "the opening is higher than the locker")
        return
    if q.apart > tall:
        raise Refusal("apart", f"the openings are further apart than the {place_of(q)} is high")
    if q.low_area == 0 and q.high_area == 0:
        if way_of(q) == "fan":
            raise Refusal(
                "low_area", "a fan blowing into a sealed box moves no air: give it an opening"
            )
        if way_of(q) == "engine":
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
        resistance=duct_resistance(q, q.duct_diameter),
        heat=0.0 if q.fan_draws_out else q.fan_power,
        curve=curve,
    )


def _duct_losses(q: Values) -> float:
    """Loss coefficients of the duct's ends and bends."""
    known = ventilation.LOSS_COEFFICIENT
    ends = known["plain duct end, drawing in"] + known["clamshell or cowl vent"]
    return float(ends + q.duct_bends * known["smooth 90 degree bend"])


def duct_resistance(q: Values, diameter: float) -> float:
    return ventilation.duct_resistance(
        diameter, q.duct_length, _duct_losses(q), 0.025 * ventilation.HOSE_FRICTION_MULTIPLIER
    )


def suction(made: locker.Locker) -> float:
    """Suction [Pa] that an engine's own air demand makes in the space."""
    return ventilation.pressure_drop(made.breathing, locker.openings_resistance(made))
