"""Will my generator, inverter, batteries, engine or sun run the watermaker, and for how long?"""

from __future__ import annotations

import math
from typing import Any

from ..frame import units
from ..frame.cautions import Facts, Rule, rules
from ..frame.guide import Decides, decides
from ..frame.inputs import Inputs, Refusal, Values, but, is_set, whole
from ..frame.report import FAILS, FITS, TIGHT, UNKNOWN, Line, Option, Report, amount, say
from ..models.bank_size import tell_reach
from ..models.load import settled
from ..models.on_bank import alone, alternator, charger, house_of, misfit, sun, tell_alone
from ..models.on_generator import on_the_generator
from ..models.sources import array_profile
from ..models.water import Water, tell_water
from ..models.ways import Row, able
from ..models.week import tell_once, week
from ..physics import inverters, pumps, seawater, starting
from ..physics.air import ZERO_CELSIUS
from ..sheet import BoatSheet as boat

TITLE = "Power"


def _frosty_lead(q: Facts) -> bool:
    lead = q["bank_chemistry"] != "lifepo4"
    return bool(q["has_inverter"] and lead and q["bank_temperature"] < ZERO_CELSIUS)


CAUTIONS = rules(
    "mains",
    "battery",
    Rule("lithium-cold", lambda q: q["has_inverter"] and q["bank_chemistry"] == "lifepo4"),
    Rule("lead-frost", _frosty_lead),
    Rule("carbon-monoxide", lambda q: q["has_generator"] or q["has_alternator"]),
    Rule("petrol", lambda q: q["has_generator"] and q["fuel"] == "petrol"),
    "rotation",
    "pressure",
)

ON_BANK = is_set("has_inverter")
WANTED = ("hours", "daily", "energy", "fuel_day")
PICTURE = "charge"
DECIDES = decides(
    "unit",
    ("inverter_power", "generator_power"),
    Decides(("bank_chemistry",), ON_BANK),
    Decides(("bank_voltage",), ON_BANK),
    Decides(("bank_capacity",), ON_BANK),
)


THE_LOAD = "The pump and its motor"

# Fresh water over feed of small units that pass it once. Common practice, no source.
USUAL_RECOVERY = (0.08, 0.15)
# The sea that a unit's fresh water is stated for, and how far from it and from the stated pressure
# the litres still hold roughly. Common practice, no source.
TEST_SEA, SEA_BAND, PRESSURE_BAND = 298.15, 12.0, 0.10  # K, K, ratio
TEST_SALT, SALT_BAND = 0.035, 0.005  # kg/kg


class Asks(Inputs):
    unit = boat.unit
    inverter = boat.inverter
    bank = boat.bank
    bank_chemistry = boat.bank_chemistry
    bank_capacity = boat.bank_capacity
    run_hours = boat.run_hours

    flow = but(boat.flow, group=THE_LOAD)
    pressure = but(boat.pressure, group=THE_LOAD)
    product_flow = but(boat.product_flow, group=THE_LOAD)
    boost_power = but(boat.boost_power, group=THE_LOAD)
    boost_supply = but(boat.boost_supply, group=THE_LOAD)
    ac_voltage = boat.ac_voltage
    ac_frequency = boat.ac_frequency
    ac_run = boat.ac_run
    ac_size = boat.ac_size

    motor_kind = boat.motor_kind
    start = boat.start
    soft_allowed = boat.soft_allowed
    start_factor = boat.start_factor
    code_letter = boat.code_letter
    locked_rotor_current = boat.locked_rotor_current
    start_time = boat.start_time
    start_power_factor = boat.start_power_factor
    start_torque = boat.start_torque
    start_loaded = boat.start_loaded

    has_inverter = boat.has_inverter
    inverter_power = boat.inverter_power
    inverter_surge = boat.inverter_surge
    inverter_surge_time = boat.inverter_surge_time
    inverter_efficiency = boat.inverter_efficiency
    inverter_idle = boat.inverter_idle
    inverter_cut_off = boat.inverter_cut_off
    inverter_load = boat.inverter_load
    bank_voltage = boat.bank_voltage
    bank_health = boat.bank_health
    bank_temperature = boat.bank_temperature
    bank_charge = boat.bank_charge
    bank_depth = boat.bank_depth
    bank_exponent = boat.bank_exponent
    bank_resistance = boat.bank_resistance
    bank_current = boat.bank_current
    bank_bms = boat.bank_bms
    bank_bms_peak = boat.bank_bms_peak
    bank_bms_time = boat.bank_bms_time

    has_generator = boat.has_generator
    generator = boat.generator
    generator_power = boat.generator_power
    generator_source = boat.generator_source
    generator_peak = boat.generator_peak
    generator_peak_time = boat.generator_peak_time
    generator_power_factor = boat.generator_power_factor
    generator_reactance = boat.generator_reactance
    other_load = boat.other_load
    fuel = boat.fuel
    fuel_idle = boat.fuel_idle
    fuel_slope = boat.fuel_slope
    fuel_price = boat.fuel_price
    charger_current = boat.charger_current
    charger_voltage = boat.charger_voltage
    charger_efficiency = boat.charger_efficiency
    charger_power_factor = boat.charger_power_factor

    has_alternator = boat.has_alternator
    alternator = boat.alternator
    engine_speed = boat.engine_speed
    alternator_current = boat.alternator_current
    engine_fuel = boat.engine_fuel

    has_array = boat.has_array
    array = boat.array
    array_power = boat.array_power
    array_losses = boat.array_losses
    latitude = boat.latitude
    day = boat.day
    sunshine = boat.sunshine
    turbidity = boat.turbidity

    house_day = boat.house_day
    house_evening = boat.house_evening
    house_night = boat.house_night
    water_start = boat.water_start
    engine_hours = boat.engine_hours
    engine_start = boat.engine_start
    charger_hours = boat.charger_hours
    charger_start = boat.charger_start
    days = whole("Days to follow the bank", "7", group="Habits", at_least=1, at_most=7)

    ambient_temperature = boat.ambient_temperature
    altitude = boat.altitude
    sea_temperature = boat.sea_temperature
    sea_salinity = boat.sea_salinity


def answer(q: Values, show: Report) -> None:
    q = settled(q)
    if q.product_flow >= q.flow:
        raise Refusal(
            "product_flow",
            f"must be less than the feed of the pump, {units.text(q.flow, 'L/h')}: fresh water is "
            "the part of the feed that passes the membrane",
        )
    _refuse_below_the_sea(q)
    water = tell_water(q, show)
    if water is None:
        return
    _judge_the_sea(q, show)
    rows = []
    if q.has_generator:
        rows += on_the_generator(q, show, water)
    if q.has_inverter and _is_settled(q, show):
        alone(q, water)  # for what it may refuse
    elif q.has_inverter:
        rows += _on_the_bank(q, show, water)
    _judge_the_air(q, show)
    if water.overfluxed:
        rows = [_untold(row) for row in rows]
    rows = _bear_the_motor(show, rows)
    if not rows:
        show.unknown("nothing to run it from is given: is there a generator or an inverter?")
    if show.brief:
        return
    if rows:
        _side_by_side(show, rows)
    _headline(q, show, water)
    _notes(q, show)


def _refuse_below_the_sea(q: Values) -> None:
    """Below the sea's own osmotic pressure no fresh water passes the membrane at all."""
    least_pressure = seawater.osmotic_pressure(q.sea_salinity, q.sea_temperature)
    if q.pressure <= least_pressure:
        raise Refusal(
            "pressure",
            "must be more than the sea's osmotic pressure, "
            f"{units.text(least_pressure, 'bar')} here: below it no fresh water passes the "
            "membrane",
        )


def _judge_the_sea(q: Values, show: Report) -> None:
    """Away from the pressure and the sea that the fresh water is stated for nobody can tell it."""
    if not math.isclose(q.product_flow, q.unit.product_flow, rel_tol=1e-6):
        return  # the reader says what it gives
    if abs(q.pressure / q.unit.pressure - 1) > PRESSURE_BAND:
        show.unknown(
            "the fresh water is stated for {r}, and {p} is asked: type in what it gives at that "
            "pressure",
            r=(q.unit.pressure, "bar"),
            p=(q.pressure, "bar"),
        )
    if abs(q.sea_temperature - TEST_SEA) > SEA_BAND:
        show.unknown(
            "the fresh water is stated for a sea of {r}, and yours has {t}: type in what it gives "
            "there",
            r=(TEST_SEA, "°C"),
            t=(q.sea_temperature, "°C"),
        )
    if abs(q.sea_salinity - TEST_SALT) > SALT_BAND:
        show.unknown(
            "the fresh water is stated for a sea of {r} of salt, and yours has {s}: type in what "
            "it gives there",
            r=(TEST_SALT, "g/kg"),
            s=(q.sea_salinity, "g/kg"),
        )


def _is_settled(q: Values, show: Report) -> bool:
    """Whether a list of verdicts may leave the bank out: the first way fits, so none comes before
    it. What the alternator may refuse has to be told all the same.
    """
    gives = not q.has_alternator or q.alternator is not None or q.alternator_current is not None
    return show.brief and gives and bool(show.options) and show.options[0].verdict == FITS


def _on_the_bank(q: Values, show: Report, water: Water) -> list[Row]:
    """The bank alone, with each of what charges it, and day after day."""
    way = show.option("inverter", "Inverter on the bank alone")
    if misfit(q, way):
        return [Row(way)]
    house = house_of(q, water)
    rows = [tell_alone(q, show, way, water, house)]
    if not show.brief:
        tell_reach(q, show, way, water, house)
    if q.has_alternator:
        rows.append(alternator(q, show, way, water, house))
    if q.has_generator and q.charger_current > 0:
        rows.append(charger(q, show, way, water, house))
    light = array_profile(q) if q.has_array else ()
    if light:
        rows.append(sun(q, show, way, water, house, light))
    days = week(q, show, way, water, house, light)
    tell_once(q, way, days.way, house, light)
    if "run_hours" in getattr(q, "unsaid", ()):
        for row in (*rows[1:], days):
            row.way.reservation(
                "{t} a day are taken, as you have not said how long you want it to run",
                t=(q.run_hours, "h"),
            )
    return [*rows, days]


def _judge_the_air(q: Values, show: Report) -> None:
    """In warmer air than its plate allows a motor's heat decides, and that is another page's."""
    limit = q.unit.motor.ambient_limit
    if q.ambient_temperature > limit:
        show.unknown(
            "the motor is made for air of {m} at most and stands in {t}: see on the page "
            "“Keeping it cool” whether it stays cool enough",
            m=(limit, "°C"),
            t=(q.ambient_temperature, "°C"),
        )


def _bear_the_motor(show: Report, rows: list[Row]) -> list[Row]:
    """What pump and motor lack themselves no source can mend: it counts in every way."""
    own, reason = show.own()
    if own == FITS:
        return rows
    told = Line("whatever feeds it, " + reason.template, reason.amounts)
    for row in rows:
        way = row.way
        held = {TIGHT: way.reservations, UNKNOWN: way.unknowns, FAILS: way.failures}[own]
        held.insert(0, told)
        if own != TIGHT:
            way.remedies.clear()
    if own != TIGHT:
        show.tables = [table for table in show.tables if table.key != "banks"]
    return [Row(row.way) for row in rows] if own == FAILS else rows


def _untold(row: Row) -> Row:
    """A way of which nothing can be told, because nobody knows what the motor draws."""
    row.way.figures.clear()
    row.way.unknown("nobody can tell what the motor draws with its iron full")
    return Row(row.way, "can't tell")


def _side_by_side(show: Report, rows: list[Row]) -> None:
    """Every source as a line: the options of the report, at one glance."""
    own = show.own()[0]
    # On wrong mains nobody can tell of the start either; other faults leave the start alone.
    mains = any(f.key in ("flux", "voltage") and f.state == FAILS for f in show.figures)
    cells: list[list[Any]] = []
    for row in rows:
        way = row.way
        starts = "can't tell" if mains else _word(way, True)
        barred = own == FAILS or (own == UNKNOWN and way.verdict == UNKNOWN)
        runs = _word(way, False)
        if barred:
            runs = "no" if own == FAILS else "can't tell"
        money: Any = "no fuel" if row.free else "–"
        if row.money is not None:
            money = (row.money, "¤/L")
        cells.append(
            [
                way.name,
                starts,
                runs,
                row.hours,
                "–" if row.energy is None else (row.energy, "Wh/L"),
                money,
                "pump and motor: see the verdict" if barred else _decider(way),
            ]
        )
    show.table(
        "sources",
        "Which of yours can do it",
        ["Source", "Starts it", "Runs it", "Hours", "Energy", "Fuel's cost", "What decides"],
        cells,
        [row.way.verdict for row in rows],
        lead=True,
        note="¤ stands for your own money, whatever you gave the price of fuel in."
        if any(row.money is not None for row in rows)
        else "",
    )


def _decider(way: Option) -> Line | str:
    """What decides a way: why it fails in full, else the figure with the least in hand."""
    judged = [f for f in way.figures if f.decides and f.margin is not None]
    if not able(way) or way.reservations or not judged:
        return way.reason()
    nearest = min(judged, key=lambda f: f.margin or 0.0)
    spare = amount(nearest.margin or 0.0, "%", 2)
    return Line("{what}: {m} in hand", {"what": nearest.label, "m": spare})


def _word(way: Option, starts: bool) -> str:
    """Yes, just or no, out of the option's figures of the start or of the run."""
    states = [f.state for f in way.figures if f.key.startswith("start") == starts]
    if FAILS in states or (way.failures and (not starts or not states)):
        return "no"
    late = [f for f in way.figures if f.key == "late_start" and (f.margin or 0.0) < 0]
    return "just" if TIGHT in states or (starts and late) else "yes"


def _headline(q: Values, show: Report, water: Water) -> None:
    """Which source the verdict is about, what else can do it, and what the motor asks."""
    best = show.best_option()
    if best is not None and not able(show):
        show.headline(
            {
                FAILS: "First mend what pump and motor lack; another power source does not help.",
                UNKNOWN: "First ask the motor's maker; another power source does not help.",
            }.get(show.own()[0], "Nothing you have can do it as it stands.")
        )
    elif best is not None:
        others = sum(map(able, show.options)) - 1
        more = f" {others} more can do it too." if others > 1 else ""
        more = " One more can do it too." if others == 1 else more
        way = say(best.name)
        show.headline("The verdict is that of the best way you have: " + way + "." + more)
    work = water.load.at_work
    if water.overfluxed:
        show.headline("On these mains nobody can tell what the motor draws.")
        return
    show.headline(
        "The motor draws {p} and {i} at {v}; with the boost pump, fresh water takes {e}.",
        p=(work.input_power, "W"),
        i=(work.current, "A"),
        v=(q.ac_voltage, "V"),
        e=(water.energy, "Wh/L"),
    )


def _notes(q: Values, show: Report) -> None:
    for record, rating, rest in (
        (q.has_inverter and q.inverter, q.inverter_power, "surge and idle draw"),
        (q.has_generator and q.generator, q.generator_power, "power for a start and fuel"),
    ):
        if record and rating != record.rated_power:
            show.note(
                "{name} is taken at another rating than its own: {rest} follow in "
                "proportion unless you gave them.",
                name=record.name,
                rest=rest,
            )
    recovery, brine = q.product_flow / q.flow, q.flow - q.product_flow
    least_brine = q.unit.membranes.least_brine
    if recovery > USUAL_RECOVERY[1]:
        show.note(
            "Fresh water of {r} of the feed is more than usual: small units that pass the water "
            "once recover some {a} to {b} (common practice, no source). Too little brine is then "
            "left to sweep the membrane, and salt piles up at its face: look that {brine} is no "
            "less than the membrane maker's least brine flow.",
            r=(recovery, "%"),
            a=(USUAL_RECOVERY[0], "%"),
            b=(USUAL_RECOVERY[1], "%"),
            brine=(brine, "L/min"),
        )
    elif least_brine is not None and brine < least_brine:
        show.note(
            "The brine that leaves is {brine}, less than the {least} that the element asks for: "
            "salt piles up at the membrane's face.",
            brine=(brine, "L/min"),
            least=(least_brine, "L/min"),
        )
    show.note(
        "Common practice or from memory, not from a standard: power factor {c} of a motor at rest "
        "where its plate says nothing; {u} of the running torque to turn the pump from rest, {l} "
        "against pressure; generator's reactance; open-circuit voltages and resistances of "
        "batteries; LiFePO4 in the cold; {h} as the hottest air for an inverter; {d} of its "
        "rating left at {t}.",
        c=(starting.STARTING_POWER_FACTOR, "%"),
        u=(pumps.starting_torque(1.0, False), "%"),
        l=(pumps.starting_torque(1.0, True), "%"),
        t=(313.15, "°C"),
        h=(inverters.HOTTEST_AIR, "°C"),
        d=(inverters.temperature_derating(313.15), "%"),
    )
