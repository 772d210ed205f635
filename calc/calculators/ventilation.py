"""Will the unit keep cool in this locker, for how long, and what fan or vents would do it?"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from ..equipment.kinds import Climate
from ..frame.cautions import Facts, Rule, rules
from ..frame.guide import decides
from ..frame.inputs import (
    Inputs,
    Values,
    ask,
    but,
    choice,
    is_one_of,
    is_set,
    record,
    rows,
    text,
    whole,
    yes_no,
)
from ..frame.report import TIGHT_MARGIN, Axis, Band, Chart, Line, Mark, Pair, Report, Series, line
from ..models.load import settled
from ..models.locker_air import drawing
from ..models.locker_case import (
    HOTTEST_AGREED,
    LINING,
    MOST_EVENTS,
    PLACES,
    SIDES,
    Case,
    bearable_air,
    boost_heat,
    case_of,
    engine_space_known,
    faces_of,
    place_of,
    rated_loss,
    suction,
    way_of,
    whole_degree,
)
from ..models.locker_remedies import remedies
from ..models.motor_fit import motor_fit
from ..physics import air, heat, insulation_class, locker, thermal_network, ventilation
from ..physics.thermal_network import AIR, FRAME, WINDING
from ..sheet import BoatSheet as boat

TITLE = "Keeping it cool"


# What the figures find that a caution hangs on.
HOT_FRAME = "the motor's frame burns skin"
LINING_ADVISED = "a lining is advised"


def _engine_air(q: Facts) -> bool:
    return q["stands"] == "locker" and "engine" in (q["air_way"], q["supply_from"])


def _lined(q: Facts) -> bool:
    lined = q["stands"] == "locker" and any(face.lining > 0 for face in q["faces"])
    return LINING_ADVISED in q or lined


DECIDES = decides(
    "unit",
    "stands",
    ("ambient_temperature", "climate"),
    "air_way",
    "low_area",
    "high_area",
    "single_area",
    "fan_flow",
    "locker_length",
    "locker_width",
    "locker_height",
    "locker_volume",
    "engine_length",
    "engine_width",
    "engine_height",
)

CAUTIONS = rules(
    "mains",
    Rule("engine-air", _engine_air),
    Rule("carbon-monoxide", _engine_air),
    "vapour",
    "protector",
    Rule("lining", _lined),
    Rule("hot-motor", lambda q: HOT_FRAME in q),
)

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
_IN_LOCKER = is_one_of("stands", "locker")
_OPENINGS = is_one_of("air_way", "two", "fan", "engine")
_IN_A_BOX = is_one_of("air_way", "sealed", "one", "two", "fan")
_BEHIND = {
    "cabin": "cabin or locker",
    "engine": "engine space",
    "bilge": "bilge, as warm as the sea",
    "sea": "hull and sea",
    "shade": "open air, shaded",
    "sun": "open air, in the sun",
}


# 50 °C: above it no inverter gives its full power. Common practice, no source.
_HARD_ON_ELECTRONICS = 323.15
_LESS_POWER_FROM = 313.15
_ONE_DEGREE_IN_HAND = 1.0  # K
_BREAKERS_MADE_FOR = 313.15  # IEC 60898-1, 7.2
_BURNS_SKIN = 333.15  # K, 60 °C; common practice, no source


class Face(Inputs):
    side = choice("Face", SIDES, "front")
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
        "Weather to plan for",
        Climate,
        "",
        optional=True,
        open=True,
        others="as filled in below",
        help="Fills in the temperatures below; what you type yourself stays.",
    )
    ambient_temperature = but(
        boat.ambient_temperature,
        preset="climate.ambient",
        open=True,
        group=_WEATHER,
        label="Air beside the locker",
        help="What the cabin or space beside it has on the day that you plan for.",
    )
    run_hours = boat.run_hours
    stands = but(boat.stands, group="", open=True)
    air_way = choice("How its air is renewed", _WAYS, "two", open=True, when=_IN_LOCKER)
    engine_length = ask(
        "Engine space, length inside",
        unit="m",
        open=True,
        at_least="300 mm",
        at_most="10 m",
        optional=True,
        when=is_one_of("air_way", "engine"),
        help="The whole space that it stands in with the engine, not a locker.",
    )
    engine_width = ask(
        "Engine space, width",
        unit="m",
        open=True,
        at_least="300 mm",
        at_most="10 m",
        optional=True,
        when=is_one_of("air_way", "engine"),
    )
    engine_height = ask(
        "Engine space, height",
        unit="m",
        open=True,
        at_least="300 mm",
        at_most="5 m",
        optional=True,
        when=is_one_of("air_way", "engine"),
    )
    low_area = ask(
        "Low opening, free area",
        "60 cm2",
        open=True,
        at_least="0 cm2",
        at_most="10000 cm2",
        when=_OPENINGS,
        basis=_PRACTICE,
        help="Free area: a louvre passes about half of its outside size, and insect mesh takes a "
        "third of that.",
    )
    high_area = ask(
        "High opening, free area",
        "60 cm2",
        open=True,
        at_least="0 cm2",
        at_most="10000 cm2",
        when=_OPENINGS,
        basis=_PRACTICE,
    )
    apart = ask(
        "Height between the two",
        "300 mm",
        open=True,
        at_least="0 mm",
        at_most="3 m",
        when=_OPENINGS,
        help="From middle to middle.",
    )
    single_area = ask(
        "Opening, free area",
        "100 cm2",
        open=True,
        above="0 cm2",
        at_most="10000 cm2",
        when=is_one_of("air_way", "one"),
    )
    single_height = ask(
        "Opening, its own height",
        "100 mm",
        open=True,
        above="0 mm",
        at_most="2 m",
        when=is_one_of("air_way", "one"),
    )

    flow = but(boat.flow, group=_LOAD)
    pressure = but(boat.pressure, group=_LOAD)
    motor_kind = but(
        boat.motor_kind,
        group=_LOAD,
        help="On its plate or in its papers. It settles the power factor, and so the current that "
        "the motor may draw. A three-phase motor is not reckoned here.",
    )
    ac_voltage = but(boat.ac_voltage, group=_LOAD)
    ac_frequency = but(boat.ac_frequency, group=_LOAD)
    to_seawater = ask(
        "Pump's losses that the seawater carries away",
        "70 %",
        at_least="0 %",
        at_most="100 %",
        group=_LOAD,
        basis=_PRACTICE,
        help="The seawater flows through the pump's head; its crankcase warms the locker.",
    )

    insulation = choice(
        "Insulation class",
        {k: f"class {k}" for k in "ABFH"},
        "F",
        from_record="unit.motor.insulation",
        group=_MOTOR,
    )
    rise = ask(
        "Winding's rise at rated load",
        "80 K",
        from_record="unit.motor.rise",
        group=_MOTOR,
        at_least="10 K",
        at_most="150 K",
        help="By resistance, from the maker. A class F motor is often built for class B's 80 K.",
    )
    ambient_limit = ask(
        "Highest ambient on the nameplate",
        "40 °C",
        group=_MOTOR,
        above="0 °C",
        from_record="unit.motor.ambient_limit",
        at_most="60 °C",
    )
    protector = ask(
        "Thermal protector opens, winding at",
        "135 °C",
        from_record="unit.motor.protector",
        group=_MOTOR,
        above="60 °C",
        at_most="220 °C",
        optional=True,
        help="Leave it empty if there is none.",
    )
    protector_drop = ask(
        "It closes again when cooler by",
        "35 K",
        group=_MOTOR,
        at_least="1 K",
        at_most="100 K",
        basis=_PRACTICE,
    )
    protector_resets = yes_no("It closes by itself", "yes", group=_MOTOR)

    given_by = choice(
        "The locker is given by",
        {"sizes": "length, width and height inside", "volume": "its volume, and its faces' areas"},
        "sizes",
        group=_LOCKER,
        when=_IN_A_BOX,
    )
    locker_length = but(boat.locker_length, group=_LOCKER, when=is_one_of("given_by", "sizes"))
    locker_width = but(boat.locker_width, group=_LOCKER, when=is_one_of("given_by", "sizes"))
    locker_height = but(boat.locker_height, group=_LOCKER, when=is_one_of("given_by", "sizes"))
    locker_volume = ask(
        "Volume inside, empty",
        "170 L",
        group=_LOCKER,
        above="0 L",
        at_most="20 m3",
        when=is_one_of("given_by", "volume"),
    )
    contents = ask(
        "Taken by what stands beside the unit",
        "20 L",
        group=_LOCKER,
        at_least="0 L",
        at_most="20 m3",
        when=_IN_A_BOX,
        help="Filters, membranes, hoses, and what gets stowed there.",
    )
    engine_contents = ask(
        "Taken by the engine and what else stands there",
        unit="L",
        group=_LOCKER,
        at_least="0 L",
        at_most="500 m3",
        optional=True,
        when=is_one_of("air_way", "engine"),
        help="Engine, gearbox, tanks, batteries. Left empty: half of the space.",
    )
    faces = rows(
        "Its faces",
        Face,
        group=_FACES,
        one="face",
        most=24,
        usual=True,
        example=(
            {"side": "floor", "behind": "bilge"},
            {"side": "top", "thickness": "18 mm"},
            {"side": "front"},
            {"side": "back", "thickness": "18 mm", "lining": "25 mm", "behind": "engine"},
            {"side": "left"},
            {"side": "right"},
        ),
        when=_IN_LOCKER,
        help="One row a face, or several where a face is made of different things.",
    )

    supply_from = choice(
        "The air that comes in is from",
        {
            "cabin": "beside the locker",
            "engine": "the engine space",
            "outside": "outside, by a duct",
        },
        "cabin",
        group=_WEATHER,
        when=_IN_LOCKER,
    )
    sea_temperature = but(
        boat.sea_temperature, preset="climate.sea", group=_WEATHER, when=_IN_LOCKER
    )
    outside_temperature = ask(
        "Air outside, in the shade",
        "28 °C",
        preset="climate.outside",
        group=_WEATHER,
        at_least="-20 °C",
        at_most="55 °C",
        when=_IN_LOCKER,
    )
    engine_space = ask(
        "Engine space",
        "45 °C",
        group=_WEATHER,
        at_least="-20 °C",
        at_most="90 °C",
        basis=_PRACTICE,
        when=_IN_A_BOX,
        help="While a generator runs in it, or an hour after the engine stopped.",
    )
    irradiance = ask(
        "Sun on a level deck",
        "800 W/m2",
        preset="climate.irradiance",
        group=_WEATHER,
        at_least="0 W/m2",
        at_most="1400 W/m2",
        when=_IN_LOCKER,
    )
    absorbed = ask(
        "Of the sun, a deck takes up",
        "40 %",
        group=_WEATHER,
        at_least="0 %",
        at_most="100 %",
        basis=_PRACTICE,
        when=_IN_LOCKER,
        help="White gelcoat about 30 %, grey non-skid 60 %, teak 70 %.",
    )
    humidity = ask(
        "Relative humidity of the air beside it",
        "70 %",
        preset="climate.humidity",
        group=_WEATHER,
        above="0 %",
        at_most="100 %",
        when=_IN_LOCKER,
    )

    fan_flow = ask(
        "Fan, flow in free air",
        "240 m3/h",
        group=_FAN,
        above="0 m3/h",
        at_most="3000 m3/h",
        when=is_one_of("air_way", "fan"),
    )
    fan_pressure = ask(
        "Fan, pressure against a shut duct",
        "150 Pa",
        group=_FAN,
        at_least="1 Pa",
        at_most="5 kPa",
        basis=_PRACTICE,
        when=_IN_A_BOX,
    )
    fan_curve = rows(
        "Its measured curve, if you have one",
        FanPoint,
        example=(),
        group=_FAN,
        one="point",
        most=20,
        when=is_one_of("air_way", "fan"),
    )
    duct_diameter = ask(
        "Duct, diameter",
        "100 mm",
        group=_FAN,
        at_least="20 mm",
        at_most="500 mm",
        basis=_PRACTICE,
        when=_IN_A_BOX,
    )
    duct_length = ask(
        "Duct, length",
        "1.5 m",
        group=_FAN,
        at_least="0 m",
        at_most="20 m",
        basis=_PRACTICE,
        when=_IN_A_BOX,
    )
    duct_bends = whole(
        "Duct, bends", "2", group=_FAN, at_least=0, at_most=20, basis=_PRACTICE, when=_IN_A_BOX
    )
    fan_power = ask(
        "Fan draws",
        "55 W",
        group=_FAN,
        at_least="0 W",
        at_most="1 kW",
        when=is_one_of("air_way", "fan"),
    )
    fan_voltage = ask(
        "Fan's voltage",
        "12 V",
        group=_FAN,
        at_least="5 V",
        at_most="250 V",
        basis=_PRACTICE,
        when=_IN_A_BOX,
    )
    fan_draws_out = yes_no(
        "It draws the air out",
        "yes",
        group=_FAN,
        when=is_one_of("air_way", "fan"),
        help="Then its own heat leaves with the air. One that blows in warms the locker.",
    )

    boost_here = yes_no("The boost pump stands in there too", "yes", group=_ELSE, when=_IN_LOCKER)
    boost_power = but(boat.boost_power, group=_ELSE, when=is_set("boost_here"))
    boost_to_air = ask(
        "Of the boost pump's power, the air gets",
        "50 %",
        group=_ELSE,
        at_least="0 %",
        at_most="100 %",
        basis=_PRACTICE,
        when=is_set("boost_here"),
        help="What its motor loses. What moves the water, and what its pump loses, leaves with the "
        "water.",
    )
    other_heat = rows(
        "What else gives heat in there",
        OtherHeat,
        example=(),
        group=_ELSE,
        one="thing",
        most=12,
        when=_IN_LOCKER,
    )
    engine_power = ask(
        "Engine gives meanwhile",
        "5 kW",
        group=_ELSE,
        above="0 kW",
        at_most="500 kW",
        when=is_one_of("air_way", "engine"),
        help="Charging at anchor, a few kilowatts.",
    )

    runs = whole("Runs one after the other", "1", group=_TIME, at_least=1, at_most=6)
    rest_hours = ask("Rest after each", "1 h", group=_TIME, at_least="1 min", at_most="24 h")


def answer(q: Values, show: Report) -> None:
    q = settled(q)
    fit = motor_fit(q)
    fit.tell(show, "how hot it gets")
    if not fit.reckonable:
        return
    if way_of(q) == "engine" and not engine_space_known(q):
        show.unknown(
            "the engine space is not known: its length, its width and its height are all needed"
        )
        show.headline(
            "Fill in the length, width and height of the engine space. How warm it gets "
            "depends on them."
        )
        return
    case = case_of(q, show.brief)
    _figures(q, case, show)
    if show.brief:
        return
    _headline(q, case, show)
    if fit.sound:  # nothing is promised of a motor that can't run so
        remedies(q, case, show)
    _steps(q, case, show)
    if way_of(q) != "open":
        _heat_table(q, case, show)
    _charts(q, case, show)
    if way_of(q) != "open":
        show.drawing(drawing(q, case))
    _notes(q, case, show)
    if case.frame > _BURNS_SKIN:
        show.fact(HOT_FRAME)


# ---- what it shows ----


@dataclass(frozen=True)
class Trip:
    """The protector's first opening: in which run, after how long of it [s], and how long until it
    closes again [s], None if it does not."""

    run: int
    after: float
    closes: float | None


def _first_trip(q: Values, case: Case) -> Trip | None:
    if case.stopped is None:
        return None
    events = case.stopped.events
    index, after = divmod(events[0].time, q.run_hours + q.rest_hours)
    resets = [event.time - events[0].time for event in events if event.kind == "reset"]
    return Trip(int(index) + 1, _minutes(after), _minutes(resets[0]) if resets else None)


def _minutes(time: float) -> float:
    """A time [s] to the whole minute below; to a tenth of one where it is short."""
    minutes = time / 60
    return 60 * (math.floor(minutes) if minutes >= 10 else math.floor(minutes * 10) / 10)


def _figures(q: Values, case: Case, show: Report) -> None:
    limits, trip = case.limits, _first_trip(q, case)
    air_told = line(
        "the air round the motor reaches {a}, and at this load the motor bears {l} at most",
        a=(case.air, "°C"),
        l=(limits.air, "°C"),
    )
    winding_told = line(
        "the motor's winding reaches {w}, and "
        + ("its class" if limits.winding != q.protector else "the protector")
        + " lets it reach {l} at most",
        w=(case.winding, "°C"),
        l=(limits.winding, "°C"),
    )
    if trip:
        air_told = winding_told = line(
            "the thermal protector stops the motor after {t} of "
            + ("a run of {r}" if trip.run == 1 else f"run {trip.run}, planned for " + "{r}"),
            t=(trip.after, "min"),
            r=(q.run_hours, "h"),
        )
        show.figure(
            "trip",
            "Runs before its protector opens",
            trip.after,
            "min",
            at_least=q.run_hours,
            says=air_told,
            note="" if trip.run == 1 else f"in run {trip.run}",
        )
    show.figure(
        "winding",
        ("Winding" if trip else "Winding at its hottest") + case.unhindered,
        case.winding,
        "°C",
        at_most=limits.winding,
        zero=insulation_class.REFERENCE_AMBIENT,
        says=winding_told,
    )
    show.figure(
        "air",
        ("Air round the motor" if trip else "Air round the motor while it runs") + case.unhindered,
        case.air,
        "°C",
        at_most=limits.air,
        zero=_scale_begins(q, case),
        says=air_told,
    )
    if way_of(q) == "engine":
        sucked = suction(case.room)
        show.figure(
            "suction",
            "Suction that the engine makes",
            sucked,
            "Pa",
            at_most=ventilation.ENGINE_SUCTION,
            says=line(
                "the engine sucks {s} through these openings, and {l} is the most",
                s=(sucked, "Pa"),
                l=(ventilation.ENGINE_SUCTION, "Pa"),
            ),
        )
    show.figure(
        "frame",
        ("Motor's frame" if trip else "Motor's frame at its hottest") + case.unhindered,
        case.frame,
        "°C",
    )
    total = case.flows.motor + case.flows.other
    show.figure("heat", f"Heat given to the {place_of(q)}, once settled", total, "W")
    if way_of(q) != "open":
        show.figure("flow", f"Air through the {place_of(q)}, once settled", case.flow, "m3/h")


def _scale_begins(q: Values, case: Case) -> float:
    """Where the scale of the air's margin begins [K]: at the air that comes in. Where that is no
    cooler than the motor bears, the faces cool it, and a degree below the limit is enough; as it is
    in the open, where the air's temperature is what the reader says."""
    supply, most = case.room.supply, case.limits.air
    if supply < most and way_of(q) != "open":
        return supply
    return most - _ONE_DEGREE_IN_HAND / TIGHT_MARGIN


def _headline(q: Values, case: Case, show: Report) -> None:
    trip = _first_trip(q, case)
    runs = "a run of {r}" if q.runs == 1 else f"{q.runs} runs of " + "{r}"
    reached = {
        "r": (q.run_hours, "h"),
        "a": (case.air, "°C"),
        "w": (case.winding, "°C"),
        "sa": (whole_degree(case.settled[AIR]), "°C"),
        "sw": (whole_degree(case.settled[WINDING]), "°C"),
    }
    if trip is None:
        opens = q.protector is not None and case.settled[WINDING] >= q.protector
        onward = (
            "they would come to {sa} and {sw}, but the protector opens before that."
            if opens
            else "they settle at {sa} and {sw}."
        )
        show.headline(
            "In " + runs + " the air round the motor reaches {a} and its winding {w}; left "
            "running, " + onward,
            **reached,
        )
        return
    if trip.closes is not None:
        then = "lets it start again by itself {c} later"
        reached["c"] = (trip.closes, "min")
    elif q.protector_resets:
        then = "has not closed again by the end"
    else:
        then = "stays open until somebody closes it"
    show.headline(
        "The thermal protector stops the motor after {t}"
        + ("" if trip.run == 1 else f" of run {trip.run}")
        + f" and {then}. If nothing stopped it, {runs} would bring the "
        "air round the motor to {a} and its winding to {w}; left running, they would settle at "
        "{sa} and {sw}.",
        t=(trip.after, "min"),
        **reached,
    )


def _steps(q: Values, case: Case, show: Report) -> None:
    load, unit, state = case.load, case.room.unit, case.settled
    work = load.at_work
    show.step(
        "Shaft power of the pump",
        work.shaft_power,
        "W",
        "P_shaft = Q * dp / eta",
        {
            "Q": (load.flow, "L/min"),
            "dp": (load.pressure, "bar"),
            "eta": (q.unit.pump.efficiency, "%"),
        },
        "Hydraulic power, any pump handbook",
        "the flow at the speed on this voltage and frequency",
    )
    show.step(
        "What the motor loses at this load",
        work.losses,
        "W",
        "P_loss = P_in - P_shaft",
        {"P_in": (work.input_power, "W"), "P_shaft": (work.shaft_power, "W")},
        "The motor as on the power page: Fitzgerald, Kingsley and Umans, Electric Machinery, ch. 6",
    )
    reference = case.mode.reference
    show.step(
        "The same with its copper at the settled temperature",
        case.flows.motor,
        "W",
        "P_hot = P_loss + P_cu * (T_w - T_ref) / (T_ref - T_0)",
        {
            "P_loss": (work.losses, "W"),
            "P_cu": (unit.winding_loss, "W"),
            "T_w": (state[WINDING], "°C"),
            "T_ref": (reference, "°C"),
            "T_0": (locker.COPPER_ZERO, "°C"),
        },
        "IEC 60034-1, resistance of copper against temperature",
    )
    show.step(
        "What the pump gives to the air",
        unit.pump_heat,
        "W",
        "P_pump = P_shaft * (1 - eta) * (1 - s)",
        {
            "P_shaft": (work.shaft_power, "W"),
            "eta": (q.unit.pump.efficiency, "%"),
            "s": (q.to_seawater, "%"),
        },
        "Share s that the seawater carries away: common practice, no source",
    )
    if way_of(q) != "open":
        _heat_steps(q, case, show)
    _winding_steps(q, case, show)


def _heat_steps(q: Values, case: Case, show: Report) -> None:
    """What is given to the space round the motor, and the ways out."""
    state, unit = case.settled, case.room.unit
    boost = boost_heat(q)
    if boost > 0:
        show.step(
            "What the boost pump gives to the air",
            boost,
            "W",
            "P_boost = P_b * s_b",
            {"P_b": (q.boost_power, "W"), "s_b": (q.boost_to_air, "%")},
            "Share s_b of its power: common practice, no source",
        )
    total = case.flows.motor + case.flows.other
    show.step(
        f"All heat given to the {place_of(q)}, once settled",
        total,
        "W",
        "P = P_hot + P_pump + P_boost + P_else",
        {
            "P_hot": (case.flows.motor, "W"),
            "P_pump": (unit.pump_heat, "W"),
            "P_boost": (boost, "W"),
            "P_else": (case.flows.other - unit.pump_heat - boost, "W"),
        },
        "Sum of the heats",
    )
    _wall_step(q, case, show)
    _flow_steps(q, case, show)
    exchange = case.mode.exchange
    show.step(
        "What the air carries away, once settled",
        case.flows.air,
        "W",
        "P_air = rho * c * V * dT",
        {
            "rho": (exchange.density, "kg/m3"),
            "c": (air.HEAT_CAPACITY, ""),
            "V": (case.flow, "m3/h"),
            "dT": (state[AIR] - exchange.supply, "K"),
        },
        "ASHRAE Handbook Fundamentals, sensible heat; c in J/(kg K)",
    )
    show.step(
        "What is left for the walls, once settled",
        total - case.flows.air,
        "W",
        "P_walls = P - P_air",
        {"P": (total, "W"), "P_air": (case.flows.air, "W")},
        "Balance of heat",
    )


def _winding_steps(q: Values, case: Case, show: Report) -> None:
    """How hot the winding gets, and what it and the air may reach."""
    load, unit, state = case.load, case.room.unit, case.settled
    work = load.at_work
    lumps = locker.motor_lumps(unit, case.room.fill)
    show.step(
        "Winding above the air, once settled",
        state[WINDING] - state[AIR],
        "K",
        "dT_w = P_hot * (1 / G_wf + 1 / G_fa)",
        {
            "P_hot": (case.flows.motor, "W"),
            "G_wf": (lumps.to_frame, "W/K"),
            "G_fa": (lumps.to_air, "W/K"),
        },
        "Two lumps, winding and frame; the share of the rise between them is common practice, no "
        "source",
    )
    rated = rated_loss(load.motor)
    show.step(
        "Warmest air for this load",
        bearable_air(q, load),
        "°C",
        "T_air = min(T_most, T_plate + max(0, dT_r * (1 - P_loss / P_r)))",
        {
            "T_most": (HOTTEST_AGREED, "°C"),
            "T_plate": (q.ambient_limit, "°C"),
            "dT_r": (q.rise, "K"),
            "P_loss": (work.losses, "W"),
            "P_r": (rated, "W"),
        },
        "IEC 60034-1: the rated rise above the nameplate's ambient (60 °C at most, from memory), "
        "the rise going with the losses",
        "the limit is the whole degree below",
    )
    allowed = insulation_class.allowed_rise(q.insulation)
    show.step(
        "Hottest winding, by resistance",
        insulation_class.REFERENCE_AMBIENT + allowed,
        "°C",
        "T_class = T_40 + dT_c",
        {"T_40": (insulation_class.REFERENCE_AMBIENT, "°C"), "dT_c": (allowed, "K")},
        "NEMA MG 1 12.43 and IEC 60034-1: allowed rise of the class above 40 °C",
        "the protector counts where it opens earlier",
    )


def _wall_step(q: Values, case: Case, show: Report) -> None:
    if not case.room.walls:
        return
    row, wall = faces_of(q)[0], case.room.walls[0]
    lining = row.lining / LINING.conductivity
    show.step(
        f"U value of the first face ({SIDES[row.side]})",
        wall.transmittance,
        "W/m2K",
        "U = 1 / (R_i + R_l + d / k + R_o)",
        {
            "R_i": (wall.inside, ""),
            "R_l": (lining, ""),
            "d": (row.thickness, "mm"),
            "k": (heat.MATERIALS[row.material].conductivity, "W/mK"),
            "R_o": (wall.outside, ""),
        },
        "ISO 6946, surface resistances of its table 7; conductivities after ISO 10456",
        "resistances R in m²K/W",
    )


def _flow_steps(q: Values, case: Case, show: Report) -> None:
    made, exchange, inside = case.room, case.mode.exchange, case.settled[AIR]
    difference = abs(inside - made.supply)
    warm = max(inside, made.supply)
    natural = 0.0
    two_way = exchange.two_way * ventilation.two_way_discharge(difference)
    strongest = max(two_way, exchange.stack)
    if strongest and difference:
        natural = strongest * math.sqrt(difference / warm)
        common = {
            "g": (ventilation.STANDARD_GRAVITY, ""),
            "dT": (difference, "K"),
            "T": (warm, "K"),
        }
        if exchange.stack >= two_way:
            area = ventilation.effective_area(made.vents.low, made.vents.high)
            show.step(
                "Both openings as one",
                area,
                "cm2",
                "A = A_1 * A_2 / sqrt(A_1**2 + A_2**2)",
                {"A_1": (made.vents.low, "cm2"), "A_2": (made.vents.high, "cm2")},
                "ASHRAE Handbook Fundamentals, natural ventilation",
            )
            show.step(
                "Draught that the warm air makes",
                natural,
                "m3/h",
                "V_n = C_d * A * sqrt(2 * g * H * dT / T)",
                {
                    "C_d": (made.vents.discharge, ""),
                    "A": (area, "cm2"),
                    "H": (made.vents.apart, "mm"),
                    **common,
                },
                "ASHRAE Handbook Fundamentals (1997) p. 25.13 eq. 37; T in kelvin",
            )
        else:
            larger = max(made.vents.low, made.vents.high)
            show.step(
                "Air that one opening exchanges",
                natural,
                "m3/h",
                "V_n = K * A * sqrt(g * h * dT / T) / 3",
                {
                    "K": (ventilation.two_way_discharge(difference), ""),
                    "A": (larger, "cm2"),
                    "h": (made.vents.own_height or math.sqrt(larger), "mm"),
                    **common,
                },
                "Kiel and Wilson (1986), flow both ways through one opening; T in kelvin",
            )
    if made.fan and not made.fan.curve:
        resistance = made.fan.resistance + locker.openings_resistance(made)
        show.step(
            "Air that the fan moves through duct and openings",
            exchange.forced,
            "m3/h",
            "V_f = V_0 / sqrt(1 + S * V_0**2 / p_0)",
            {
                "V_0": (made.fan.free_flow, "m3/h"),
                "S": (resistance, ""),
                "p_0": (made.fan.shutoff_pressure, "Pa"),
            },
            "Parabolic fan curve against the resistance of duct and openings; losses of the duct "
            "are common practice, no source",
            "S in Pa/(m³/s)²",
        )
    show.step(
        f"Air through the {place_of(q)}, once settled",
        case.flow,
        "m3/h",
        "V = sqrt(V_f**2 + V_n**2)",
        {"V_f": (exchange.forced, "m3/h"), "V_n": (natural, "m3/h")},
        "ASHRAE Handbook Fundamentals, fan and draught in quadrature (from memory)",
    )


def _heat_table(q: Values, case: Case, show: Report) -> None:
    """The ways out, the best first; what brings heat in comes last and says so."""
    ways: list[tuple[float, tuple[Line | str | Pair, ...]]] = []
    ways.append((case.flows.air, (line("air, from {t}", t=(case.room.supply, "°C")), "", "")))
    for row, wall, flow in zip(faces_of(q), case.room.walls, case.flows.faces, strict=True):
        behind = whole_degree(wall.behind) if row.behind == "sun" else wall.behind
        name = line(
            "{side}: {what}; {behind}, {t}",
            side=SIDES[row.side],
            what=row.material,
            behind=PLACES[row.behind],
            t=(behind, "°C"),
        )
        ways.append((flow, (name, (wall.area, "m2"), (wall.transmittance, "W/m2K"))))
    ways.sort(key=lambda way: -way[0])
    show.table(
        "where",
        "Where the heat goes, once settled",
        ("Way out", "Area", "U value", "Heat"),
        [
            (*told, (flow, "W") if flow >= 0 else line("{h} in", h=(-flow, "W")))
            for flow, told in ways
        ],
        note="Settled: in an endless run that nothing stops. Where it says in, heat comes in.",
    )


def _charts(q: Values, case: Case, show: Report) -> None:
    curves = {"winding": WINDING, "frame": FRAME, "air": AIR}
    show.chart(
        _chart(
            q,
            case,
            "course",
            "Runs and rests, from cold" + case.unhindered,
            case.course,
            curves,
            line(
                "Temperatures of air, frame and winding through runs and rests. They peak at {a}, "
                "{f} and {w}" + case.unhindered + ".",
                a=(case.air, "°C"),
                f=(case.frame, "°C"),
                w=(case.winding, "°C"),
            ),
        )
    )
    if case.stopped:
        trips = sum(event.kind == "trip" for event in case.stopped.events)
        times = "once" if trips == 1 else f"{trips} times"
        goes_on = len(case.stopped.events) >= MOST_EVENTS
        del curves["frame"]
        show.chart(
            _chart(
                q,
                case,
                "protected",
                "The same with its protector at work"
                + (f", until it has opened {times}" if goes_on else ""),
                case.stopped,
                curves,
                "Temperatures of air and winding through runs and rests. The protector opens "
                + times
                + (" in the time drawn, and goes on so." if goes_on else "."),
            )
        )


def _chart(
    q: Values,
    case: Case,
    key: str,
    title: str,
    course: thermal_network.Course,
    nodes: Mapping[str, int],
    summary: Line | str,
) -> Chart:
    """Temperatures over the runs and rests."""
    cycle = q.run_hours + q.rest_hours
    end = min(cycle * q.runs, course.end)
    # The solver's own steps lie close where something happens fast; long ones are divided.
    picked = [end]
    for one in course.segments:
        parts = math.ceil(one.length / (end / 24))
        picked += [one.begin + one.length * part / parts for part in range(parts)]
    picked.sort()
    drawn = list(nodes.values())
    states = [course.at(time, drawn) for time in picked]
    curves = [
        Series(name, list(zip(picked, temperatures, strict=True)))
        for name, temperatures in zip(nodes, zip(*states, strict=True), strict=True)
    ]
    bands = [
        Band("run" if q.runs < 4 else "", cycle * i, min(cycle * i + q.run_hours, end))
        for i in range(q.runs)
        if cycle * i < end
    ]
    limits = [Mark("most for the air", case.limits.air)]
    if q.protector is None or case.limits.winding < q.protector:
        limits.append(Mark("most for the winding", case.limits.winding))
    if q.protector is not None:
        limits.append(Mark("protector opens", q.protector))
    highest = max([course.peak(WINDING), *(mark.at for mark in limits)])
    lowest = min(min(state) for state in states)
    unit = "h" if end > 3 * 3600 else "min"
    return Chart(
        key,
        title,
        Axis("Time", unit, low=0.0, high=end),
        Axis("Temperature", "°C", low=lowest - 15, high=highest + 25),
        curves,
        limits=limits,
        bands=bands,
        summary=summary,
    )


# ---- words ----


def _notes(q: Values, case: Case, show: Report) -> None:
    made, work = case.room, case.load.at_work
    if case.load.shaft_power > case.load.motor.output * 1.0001:
        show.note(
            "The pump asks {p} of a motor rated for {r}: that alone makes it hotter than its "
            "maker meant.",
            p=(work.shaft_power, "W"),
            r=(case.load.motor.output, "W"),
        )
    share = locker.recirculated_share(made.fill)
    if share > 0:
        show.note(
            "The unit fills {f} of its room, so its fan draws in again about {s} of its own warm "
            "air: common practice, no source. More room does more than more air.",
            f=(made.fill, "%"),
            s=(share, "%"),
        )
    if way_of(q) == "open":
        show.note(
            "The cabin's air is taken to stay at {t}. The unit gives it {h}, and a shut cabin gets "
            "warmer: measure the air beside the motor at the end of a run, and type that.",
            t=(q.ambient_temperature, "°C"),
            h=(case.flows.motor + case.flows.other, "W"),
        )
    else:
        _settling_note(case, show)
    after = whole_degree(case.course.peak(AIR))
    if after > case.air + 2:
        show.note(
            "After the run, with the fan stopped, the motor's stored heat takes the air to {t}: "
            "let the fan run on.",
            t=(after, "°C"),
        )
    if way_of(q) == "engine" and q.engine_contents is None:
        show.note(
            "{c} of the engine space are taken to be filled by the engine and what else stands "
            "there, half of it: common practice, no source. Type what it is.",
            c=(case.room.contents, "L"),
        )
    if way_of(q) not in ("open", "engine") and q.supply_from == "engine":
        show.note(
            "Air from the engine space brings its fumes along, and openings to it are a way for "
            "exhaust and smoke into the cabin: take the air from elsewhere if you can."
        )
    _hot_wall_note(case, show)
    _electronics_note(q, case, show)
    _life_note(q, case, show)
    _dew_note(q, case, show)
    if way_of(q) == "fan":
        show.note(
            "The fan itself draws {i} at {u}.",
            i=(q.fan_power / q.fan_voltage, "A"),
            u=(q.fan_voltage, "V"),
        )
    show.note(
        "The temperatures depend on five values that nobody publishes: the share of the pump's "
        "losses that the seawater takes, the share of the boost pump's power that the air takes, "
        "the copper in the motor (15 % of its mass), the share of the rise inside it (30 %), and "
        "the losses of hoses and grilles. They are common practice, no source. Measure the frame "
        "with a thermometer after an hour: that tells you more."
    )


def _settling_note(case: Case, show: Report) -> None:
    show.note(
        "The working and the table of heats tell of the settled state, and what would keep it cool "
        "for as long as you like is for that state too."
    )
    end, start = case.settled[AIR], case.course.segments[0].first[AIR]
    if end - start < 1:
        return
    after = case.course.first_reach(AIR, start + 0.9 * (end - start))
    if math.isfinite(after):
        show.note(
            "The air is nine tenths of the way to its settled {t} after {a}.",
            t=(whole_degree(end), "°C"),
            a=(_minutes(after), "min"),
        )


def _hot_wall_note(case: Case, show: Report) -> None:
    hottest = max((wall.behind for wall in case.room.walls), default=0.0)
    if hottest > case.settled[AIR]:
        show.note(
            "One face has {t} behind it and heats the locker: a larger locker would not help; "
            "insulation on that face does.",
            t=(whole_degree(hottest), "°C"),
        )
        show.fact(LINING_ADVISED)


def _electronics_note(q: Values, case: Case, show: Report) -> None:
    """What else stands in the warm air. Breakers: IEC 60898-1, 7.2; the rest is common practice."""
    warmest = whole_degree(max(case.course.peak(AIR), case.room.supply))
    if warmest > _HARD_ON_ELECTRONICS:
        show.note(
            "Air of {t} is too warm for {things}: inverters, chargers and controls give less above "
            "some {a} to {b} and switch off when warmer (common practice, no source; the maker's "
            "derating curve counts), and breakers are made for air of {c} at most (IEC 60898-1, "
            "7.2). Put them elsewhere.",
            t=(warmest, "°C"),
            a=(_LESS_POWER_FROM, "°C"),
            b=(_HARD_ON_ELECTRONICS, "°C"),
            c=(_BREAKERS_MADE_FOR, "°C"),
            things=" and ".join(row.name for row in q.other_heat) or "electronics beside the motor",
        )


def _life_note(q: Values, case: Case, show: Report) -> None:
    limit = insulation_class.REFERENCE_AMBIENT + insulation_class.allowed_rise(q.insulation)
    if abs(case.winding - limit) <= insulation_class.LIFE_RULE_SPAN:
        show.note(
            (
                "If nothing stopped it, with its winding at {w} the"
                if case.stopped
                else "With its winding at {w} the"
            )
            + " insulation would last about {x} as long as at its class's {l}: by the rule that "
            "life halves with each {h}, good for a comparison within {s}, and no promise of hours.",
            x=(float(f"{insulation_class.relative_life(case.winding, limit):.2g}"), "×"),
            l=(limit, "°C"),
            w=(case.winding, "°C"),
            h=(insulation_class.HALVING_STEP, "K"),
            s=(insulation_class.LIFE_RULE_SPAN, "K"),
        )


def _dew_note(q: Values, case: Case, show: Report) -> None:
    """The face that sweats most while the unit rests."""
    if not case.room.walls:
        return
    state = locker.rest_state(case.room)
    coldest, side = math.inf, ""
    for row, wall, middle in zip(faces_of(q), case.room.walls, state[3:], strict=True):
        skin = state[AIR] - (state[AIR] - middle) * wall.face.to_air * wall.inside / wall.area
        if skin < coldest:
            coldest, side = skin, row.side
    dew = air.dew_point(case.room.supply, q.humidity)
    if whole_degree(coldest) < whole_degree(dew):
        show.note(
            "While it rests, the {side} stands at {t}, below the air's dew point of {d}: it "
            "sweats. Line it, or keep that moist air out.",
            side=SIDES[side],
            t=(whole_degree(coldest), "°C"),
            d=(whole_degree(dew), "°C"),
        )
        show.fact(LINING_ADVISED)
