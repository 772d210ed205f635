"""The pump straight on the generator, alone and while its charger fills the bank."""

from __future__ import annotations

import math

from ..frame.inputs import Values
from ..frame.report import FAILS, Option, Report, least, most, told
from ..physics import generators, starting
from .load import Rush
from .sources import (
    Charger,
    bank_of,
    charger_at,
    charging_ban,
    house_load,
    mains_match,
    site_share,
    taken,
)
from .supply import at_start, held_by_electronics, source_reactance, stated_cable
from .water import Water, water_of
from .ways import LOAD_STEP, POWER_STEP, Row, Trial, able, again

# A motor still runs up, and lamps and relays hold, at a dip of this much. Common practice.
GREATEST_DIP = 0.30


# Of a set's rated amperes, that its windings bear for seconds: IEC 60034-1, 9.3 (from memory).
USUAL_OVERLOAD = 1.5
MOST_LOAD = 50e3  # W, that the form takes


def no_start(q: Values, way: Option, source: str, water: Water, reactance: float = 0.0) -> None:
    """What helps where the motor lacks the torque to turn the pump, whatever the source."""
    if not water.torque_known:
        way.remedy(
            "Find out the kind of motor: the weakest kind does not start the pump on any {source}.",
            source=source,
        )
    elif q.start_loaded and _turns(again(q, start_loaded=False), reactance):
        way.remedy(
            "No {source} starts it against pressure: open the regulating valve before you switch "
            "on.",
            source=source,
            sets={"start_loaded": False},
            mends="start_torque",
        )
    elif q.start == "soft" and _turns(again(q, start="direct"), reactance):
        way.remedy(
            "The soft starter holds too much back: straight on the line the motor turns the pump, "
            "at a higher starting current.",
            sets={"start": "direct"},
            mends="start_torque",
        )
    else:
        way.remedy(
            "No {source} starts it: choose a motor that gives more torque at its start.",
            source=source,
        )


def _turns(q: Values, reactance: float) -> bool:
    """Whether the motor of a form turns the pump from rest, behind a source and its cable."""
    water = water_of(q)
    if water is None:
        return False
    begun = at_start(q, water, reactance, stated_cable(q))
    return water.start_torque(begun.voltage / water.load.motor.voltage) >= 1


def on_the_generator(q: Values, show: Report, water: Water) -> list[Row]:
    """The ways that the generator itself carries the pump."""
    way = show.option("generator", "Generator")
    if not mains_match(q, q.generator, "voltage"):
        foreign_mains(way, q, "Generator", q.generator.voltage, q.generator.frequency)
        return [Row(way)]
    dip = _dip_on(q, water, q.generator_power)
    rows = [_generator(q, way, water, dip)]
    if not show.brief:
        _remedies(q, way, water)
        _steps(q, show, water, dip)
    if q.charger_current > 0:
        both = show.option("with_charger", "Generator, its charger on at the same time")
        rows.append(_with_charger(q, both, water, dip))
    return rows


def foreign_mains(way: Option, q: Values, name: str, volts: float, hertz: float) -> None:
    """Fails a way whose source has other mains [V, Hz] than the boat."""
    way.fail(
        "“" + name + "” gives {v} at {f}, and “Mains on board” are {w} at {g}",
        v=(volts, "V"),
        f=(hertz, "Hz"),
        w=(q.ac_voltage, "V"),
        g=(q.ac_frequency, "Hz"),
    )


def torque_figure(way: Option, water: Water, volts: float) -> None:
    """The motor's torque at its start, at a share of its rated voltage, over what the pump asks."""
    torque = water.start_torque(volts)
    sure = torque >= 1 or water.torque_known
    way.figure(
        "start_torque",
        "Starting torque, of what the pump needs",
        torque,
        "%",
        at_least=1.0,
        decides=sure,
        says=told(
            way,
            "at the start the motor gives {t} of the torque that the pump needs",
            t=(torque, "%"),
        ),
        note="" if water.torque_known else "as of the weakest kind of motor",
    )
    if not sure:
        ask_the_kind(way)


def ask_the_kind(part: Option | Report) -> None:
    """Nobody can tell whether a motor of an unknown kind turns the pump: the weakest does not."""
    part.unknown(
        "whether it turns the pump at the start depends on the kind of motor: look at "
        "its plate or ask its maker"
    )


def _generator(q: Values, way: Option, water: Water, dip: starting.Start) -> Row:
    """Alone: it bears all its fuel."""
    _judge(q, way, water, dip, Charger(q.other_load, 0.0))
    need = water.real + q.other_load
    way.figure(
        "share",
        "Load, of what it can give",
        need / (q.generator_power * site_share(q)),
        "%",
        note=f"under {generators.LIGHT_LOAD * 100:.0f} % for hours a diesel soots and glazes"
        if q.fuel == "diesel"
        else "",
    )
    own = generators.fuel_flow(water.real, q.fuel_idle, q.fuel_slope)
    way.figure(
        "fuel",
        "Fuel, other loads included",
        generators.fuel_flow(need, q.fuel_idle, q.fuel_slope),
        "L/h",
    )
    return Row(way, "while there is fuel", water.energy, _fuel_of_water(q, way, water, own))


def _with_charger(q: Values, way: Option, water: Water, dip: starting.Start) -> Row:
    """Beside its charger the pump bears its share of the fuel by power.

    The set is judged for all that the charger can give, which a low bank takes; the fuel is what
    the bank takes as full as it is.
    """
    bank = bank_of(q)
    volts = bank.open_circuit_voltage(q.bank_charge)
    ban = charging_ban(q, bank)
    if ban is not None:
        way.failures.append(ban)
        return Row(way, "none: the bank must not be charged")
    full = charger_at(q, q.charger_current)
    _judge(q, way, water, dip, Charger(q.other_load + full.real, full.reactive))
    drawn = (house_load(q) + water.boost_dc) / volts
    amps = taken(q, bank, q.charger_current, drawn)
    way.figure(
        "charger",
        "The charger gives, the bank as full as it is",
        amps,
        "A",
        note="and all it can while the bank is low",
    )
    charger = charger_at(q, amps).real
    own = generators.fuel_flow(water.real + charger, q.fuel_idle, q.fuel_slope)
    own *= water.real / (water.real + charger)
    whole = water.real + charger + q.other_load
    way.figure(
        "fuel",
        "Fuel, other loads included",
        generators.fuel_flow(whole, q.fuel_idle, q.fuel_slope),
        "L/h",
    )
    money = _fuel_of_water(q, way, water, own)
    way.figure(
        "charged",
        "Meanwhile into the bank, at most",
        max(0.0, amps - drawn) * volts * q.run_hours,
        "kWh",
    )
    return Row(way, "while there is fuel", water.energy, money)


def _judge(q: Values, way: Option, water: Water, dip: starting.Start, beside: Charger) -> None:
    """The start and the load of a set with other loads [W, var] on it."""
    others = beside.real
    share = site_share(q)
    site = q.generator_power * share
    need = water.real + others
    start_power = dip.real_power + others + water.boost_ac
    peak = _for_a_start(q, q.generator_power, q.generator_peak)
    note = (
        "its short time is over before the start is"
        if q.start_time > q.generator_peak_time and (q.generator_peak or 0.0) > q.generator_power
        else ""
    )
    if not held_by_electronics(q):
        way.figure(
            "start_dip",
            "Voltage dip at the start",
            dip.source_dip,
            "%",
            at_most=GREATEST_DIP,
            says=told(
                way,
                "the start pulls its voltage down by {d}; {m} is allowed",
                d=(dip.source_dip, "%"),
                m=(GREATEST_DIP, "%"),
            ),
        )
    way.figure(
        "start_power",
        "Power at the start, other loads on",
        start_power,
        "W",
        at_most=peak * share,
        note=note,
        says=told(
            way,
            "the start takes {p} for {t}; it gives {m}",
            p=(start_power, "W"),
            t=(q.start_time, "s"),
            m=(peak * share, "W"),
        ),
    )
    asked = _start_apparent(dip, water, others, beside.reactive)
    bears = peak / q.generator_power_factor
    # windings bear half as much again for seconds, but only where somebody says so
    doubtful = (
        q.generator_peak is None
        and not held_by_electronics(q)
        and bears < asked <= USUAL_OVERLOAD * bears
    )
    if doubtful:
        way.unknown(
            "no power for a start is given for the set: ask whether it bears {p} for {t}",
            p=(asked, "VA"),
            t=(q.start_time, "s"),
        )
    way.figure(
        "start_apparent",
        "Volt-amperes at the start, other loads on",
        asked,
        "VA",
        at_most=bears,
        note=note,
        decides=not doubtful,
        says=told(
            way,
            "the start asks {p} for {t}; its electronics give way above {m}"
            if held_by_electronics(q)
            else "the start asks {p} for {t}; its short-time rating is {m}"
            if q.generator_peak is not None
            else "the start asks {p} for {t}; it gives {m} all day, and no more is stated",
            p=(asked, "VA"),
            t=(q.start_time, "s"),
            m=(bears, "VA"),
        ),
    )
    torque_figure(way, water, dip.voltage / water.load.motor.voltage)
    way.figure(
        "load",
        "Load with the other loads",
        need,
        "W",
        at_most=site,
        says=told(way, "it has {p} to carry and gives {m} here", p=(need, "W"), m=(site, "W")),
    )
    apparent = math.hypot(need, water.reactive + beside.reactive)
    rating = q.generator_power / q.generator_power_factor
    way.figure(
        "apparent",
        "Apparent power",
        apparent,
        "VA",
        at_most=rating,
        says=told(
            way, "it has {p} to carry and is built for {m}", p=(apparent, "VA"), m=(rating, "VA")
        ),
    )


def _for_a_start(q: Values, rating: float, peak: float | None) -> float:
    """Power [W] that a set of a rating gives for as long as a start lasts."""
    return generators.short_time_power(rating, peak, q.generator_peak_time, q.start_time)


def _start_apparent(
    dip: starting.Start, water: Water, others: float, reactive: float = 0.0
) -> float:
    """What a start with other loads [W, var] asks, its amperes taken at the full voltage [VA].

    The amperes load windings and electronics whatever the voltage has sagged to.
    """
    factor = water.rush.power_factor
    real = dip.apparent_power * factor + others + water.boost_ac
    return math.hypot(real, dip.apparent_power * math.sqrt(1 - factor**2) + reactive)


def _fuel_of_water(q: Values, way: Option, water: Water, flow: float) -> float:
    """Figures of the water's own fuel flow [m3/s]; its cost for fresh water [1/m3]."""
    way.figure("fuel_day", "Fuel for a day's water, other loads left out", flow * q.run_hours, "L")
    money = float(generators.fuel_per_volume(flow, water.product) * q.fuel_price)
    way.figure("money", "Fuel's cost of fresh water, other loads left out", money, "¤/L")
    return money


def _dip_on(q: Values, water: Water, rating: float) -> starting.Start:
    """The start on a generator of this rating [W], behind the stated cable to the motor."""
    return at_start(q, water, source_reactance(q, rating), stated_cable(q))


def carries(q: Values, water: Water) -> bool:
    """Whether the generator of this form starts and carries the pump and the other loads."""
    trial = Trial("", "")
    _judge(q, trial, water, _dip_on(q, water, q.generator_power), Charger(q.other_load, 0.0))
    return able(trial)


def _remedies(q: Values, way: Option, water: Water) -> None:
    """The largest other load, and the smallest generator of its kind."""
    spare = _spare(q, water)
    if spare >= LOAD_STEP and carries(again(q, other_load=spare), water):
        way.remedy(
            "Other loads of up to {p} may run while it makes water.",
            p=most(spare, "W"),
            sets={"other_load": most(spare, "W", LOAD_STEP)} if spare <= MOST_LOAD else None,
        )
    light = q.generator_power * site_share(q) * generators.LIGHT_LOAD
    if q.fuel == "diesel" and way.verdict != FAILS and water.real + q.other_load < light:
        way.remedy(
            "It runs too light for a diesel: put the battery charger on it, or heat water, "
            "while it makes water."
        )
    found = smallest_generator(q, water)
    if found is None:
        no_start(q, way, "generator", water, source_reactance(q))
    else:
        way.remedy(
            "The smallest generator that would do: {p} continuous at a power factor of "
            "{f}, built for {a}; {s} for the start, which lasts {t}.",
            p=least(found[0], "W"),
            f=(q.generator_power_factor, "%"),
            a=least(found[0] / q.generator_power_factor, "VA"),
            s=least(found[1], "W"),
            t=(q.start_time, "s"),
            sets={"generator_power": least(found[0], "W", POWER_STEP)}
            if _peak_follows(q)
            else None,
        )


def _peak_follows(q: Values) -> bool:
    """Whether the set's power for a start goes with its rating: none is given, or its record's."""
    if q.generator_peak is None:
        return True
    if q.generator is None or q.generator.peak_power is None:
        return False
    share = q.generator.peak_power / q.generator.rated_power
    return math.isclose(q.generator_peak / q.generator_power, share, rel_tol=1e-6)


def _spare(q: Values, water: Water) -> float:
    """Greatest other load [W] by the set's limits, in whole steps."""
    share = site_share(q)
    peak = _for_a_start(q, q.generator_power, q.generator_peak)
    apparent = q.generator_power / q.generator_power_factor
    dip = _dip_on(q, water, q.generator_power)
    factor = water.rush.power_factor
    reactive = dip.apparent_power * math.sqrt(1 - factor**2)
    spare = min(
        q.generator_power * share - water.real,
        peak * share - dip.real_power - water.boost_ac,
        math.sqrt(max(0.0, apparent**2 - water.reactive**2)) - water.real,
        math.sqrt(max(0.0, (peak / q.generator_power_factor) ** 2 - reactive**2))
        - dip.apparent_power * factor
        - water.boost_ac,
    )
    return float(math.floor(spare / LOAD_STEP) * LOAD_STEP)


def smallest_generator(q: Values, water: Water) -> tuple[float, float] | None:
    """Continuous power and that for the start [W] of the smallest set that would do, in whole
    steps; the start's power bears the ratio to the other that it has now."""
    peak = max(q.generator_peak or 0.0, q.generator_power) / q.generator_power

    def does(steps: int) -> bool:
        rating = steps * POWER_STEP
        return _worst(q, water, rating, rating * peak) <= 1

    low, high = 0, 1000
    if not does(high):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if does(middle) else (middle, high)
    return high * POWER_STEP, _up(high * POWER_STEP * peak)


def _up(power: float) -> float:
    return float(math.ceil(round(power / POWER_STEP, 6)) * POWER_STEP)


def _worst(q: Values, water: Water, rating: float, for_start: float) -> float:
    """The greatest of what a set [W] is asked over what it may give, as `_judge` has it."""
    dip, share = _dip_on(q, water, rating), site_share(q)
    for_start = _for_a_start(q, rating, for_start)
    torque = water.start_torque(dip.voltage / water.load.motor.voltage)
    worst = max(
        dip.source_dip / GREATEST_DIP,
        _start_apparent(dip, water, q.other_load) * q.generator_power_factor / for_start,
        (dip.real_power + q.other_load + water.boost_ac) / (for_start * share),
        1 / torque if torque > 0 else math.inf,
        (water.real + q.other_load) / (rating * share),
        water.apparent(q.other_load) * q.generator_power_factor / rating,
    )
    return float(worst)


def _steps(q: Values, show: Report, water: Water, dip: starting.Start) -> None:
    m, n = (1.0, 0.75) if q.fuel == "diesel" else (1.0, 0.5)
    show.step(
        "Generator's power here, by height and heat",
        q.generator_power * site_share(q),
        "W",
        "P_site = P_g / max(1, 1.175 * (p_0 / p)**m * ((1.8 * T + 0.33) / 537)**n - 0.175)",
        {
            "P_g": (q.generator_power, "W"),
            "p_0": (29.2 * 3386.39, "hPa"),
            "p": (generators.atmospheric_pressure(q.altitude), "hPa"),
            "m": (m, ""),
            "n": (n, ""),
            "T": (q.ambient_temperature, "K"),
        },
        "Marine generating set manual TP-7045 (3/18), appendix C, the form of ISO 3046-1",
    )
    asked, factor = dip.apparent_power, water.rush.power_factor
    show.step(
        "Volt-amperes at the start",
        _start_apparent(dip, water, q.other_load),
        "VA",
        "S = sqrt((V * I * c + P_o)**2 + (V * I)**2 * (1 - c**2))",
        {
            "V": (q.ac_voltage, "V"),
            "I": (asked / q.ac_voltage, "A"),
            "c": (factor, "%"),
            "P_o": (q.other_load + water.boost_ac, "W"),
        },
        "Definition of apparent power",
        "The amperes load the set at its full voltage, whatever it has sagged to.",
    )
    if held_by_electronics(q):
        return
    reactance, apparent = (
        source_reactance(q, q.generator_power),
        q.generator_power / q.generator_power_factor,
    )
    show.step(
        "Generator's inner reactance",
        reactance,
        "Ω",
        "X = x * V**2 / S",
        {"x": (q.generator_reactance, "%"), "V": (q.ac_voltage, "V"), "S": (apparent, "VA")},
        "Definition of per-unit reactance, IEC 60034-4",
    )
    _step_of_the_dip(q, show, water, dip, reactance)
    show.step(
        "Generator's fuel, run for the water alone",
        generators.fuel_flow(water.real, q.fuel_idle, q.fuel_slope),
        "L/h",
        "F = F_0 + b * P",
        {"F_0": (q.fuel_idle, "L/h"), "b": (q.fuel_slope, "L/kWh"), "P": (water.real, "W")},
        "Willans line: fuel against load is nearly straight (P. W. Willans, Min. Proc. ICE 1888)",
    )


def _step_of_the_dip(
    q: Values, show: Report, water: Water, dip: starting.Start, reactance: float
) -> None:
    rush, softness = water.rush, water.softness or 1.0
    cable = stated_cable(q)
    behind = {"c": (rush.power_factor, "%"), "X": (reactance, "Ω")}
    if water.softness is not None and dip.voltage > softness * water.load.motor.voltage:
        if cable:
            _held_behind_a_cable(q, show, dip, rush, behind, cable)
            return
        show.step(
            "Voltage dip at the start, the current held",
            dip.source_dip,
            "%",
            "d = 1 - (sqrt(V**2 - (I * X * c)**2) - I * X * sqrt(1 - c**2)) / V",
            {"V": (q.ac_voltage, "V"), "I": (rush.current, "A")} | behind,
            "Ohm's law in complex form",
            "A soft starter lets more through where the voltage falls, until it lets all through.",
        )
        return
    still = water.load.motor.voltage * softness / rush.current
    show.step(
        "Voltage dip at the start",
        dip.source_dip,
        "%",
        "d = 1 - sqrt((Z * c + R)**2 + (Z * sqrt(1 - c**2) + Y)**2)"
        " / sqrt((Z * c + R)**2 + (Z * sqrt(1 - c**2) + Y + X)**2)",
        {"Z": (still, "Ω"), "R": (cable.real, "Ω"), "Y": (cable.imag, "Ω")} | behind,
        "Ohm's law in complex form",
        "Z is the motor at rest, its rated volts over its start amps; "
        "R and Y are the stated cable's, out and back.",
    )


def _held_behind_a_cable(
    q: Values,
    show: Report,
    dip: starting.Start,
    rush: Rush,
    behind: dict[str, tuple[float, str]],
    cable: complex,
) -> None:
    """The working of a soft start behind a stated cable: the motor's volts, then the set's."""
    there = {
        "I": (rush.current, "A"),
        "V": (q.ac_voltage, "V"),
        "R": (cable.real, "Ω"),
        "Y": (cable.imag, "Ω"),
    }
    show.step(
        "Volts at the soft starter as it holds the current",
        dip.voltage,
        "V",
        "U = sqrt(V**2 - (I * ((X + Y) * c - R * sqrt(1 - c**2)))**2)"
        " - I * (R * c + (X + Y) * sqrt(1 - c**2))",
        there | behind,
        "Ohm's law in complex form",
        "R and Y are the stated cable's, out and back.",
    )
    show.step(
        "Voltage dip at the start, the current held",
        dip.source_dip,
        "%",
        "d = 1 - sqrt((U + I * (R * c + Y * sqrt(1 - c**2)))**2"
        " + (I * (Y * c - R * sqrt(1 - c**2)))**2) / V",
        there | {"c": behind["c"], "U": (dip.voltage, "V")},
        "Ohm's law in complex form",
        "A soft starter lets more through where the voltage falls, until it lets all through.",
    )
