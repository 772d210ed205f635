"""Inverse answers for inverter and bank: the smallest of each, the largest load, the hours."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..frame import units
from ..frame.inputs import Refusal, Values
from ..frame.report import Amount, Line, Option, Report, Setting, amount, least, most
from ..physics import batteries, inverters
from .on_bank import DAY, HOUR, House, alone, house_of, managed_unknown, start_power, surge
from .on_generator import no_start
from .sources import bank_of, depth_of, discharge_limit, inverter_of
from .water import Water
from .ways import LOAD_STEP, POWER_STEP, able, again, greatest, in_hand

AMPERE_HOUR = batteries.AMPERE_HOUR
FINE_STEP, COARSE_STEP = 5 * AMPERE_HOUR, 10 * AMPERE_HOUR  # below and above 200 Ah
CURRENT_STEP, ANY_CURRENT = 10.0, 1e6  # A
EXACT = 9  # digits of what is filled in and no bound
MORE_STEPS = 4
LARGEST_BANK, LARGEST_INVERTER = 10_000 * AMPERE_HOUR, 50e3  # C, VA: what the form takes


@dataclass(frozen=True)
class Choice:
    """Continuous and surge rating [VA] of an inverter, and the form with it in place."""

    power: float
    surge: float
    form: Values


@dataclass(frozen=True)
class Size:
    """A bank [C], what decides it, and the greatest current that it gives [A], in whole steps."""

    size: float
    why: str
    current: float


def tell_reach(q: Values, show: Report, way: Option, water: Water, house: House) -> None:
    """How far inverter and bank reach, and the smallest of each that would do."""
    if water.start_torque(q.ac_voltage / water.load.motor.voltage) < 1:
        no_start(q, way, "inverter", water)
        return
    inverter = smallest_inverter(q, water)
    if managed_unknown(q, house.bank):  # whether it bears more, or even this, nobody knows
        _banks(q, show, way, water, house, inverter)
        return
    if inverter is not None and able(alone(inverter.form, water)):
        way.remedy(
            "The smallest inverter that would do: {c} continuous and {s} for {t}, rated at {r}.",
            **_told(q, inverter),
            sets=_inverter_set(q, inverter),
        )
    load = _greatest_load(q, water)
    if load is not None:
        way.remedy(
            "Other loads of up to {p} may run on the inverter at the same time.",
            p=most(load, "W"),
            sets={"inverter_load": most(load, "W", LOAD_STEP)},
        )
    carried = _greatest_time(q, water, house) if able(way) else 0.0
    if carried > 0:
        way.remedy(
            "One charge carries at most {t} of water-making, {v} of water.",
            t=most(carried, "h"),
            v=most(carried * water.product, "L"),
            sets=_hours_set(q, water, carried),
        )
    _banks(q, show, way, water, house, inverter)


def _told(q: Values, inverter: Choice) -> dict[str, Amount]:
    return {
        "c": least(inverter.power, "VA"),
        "s": least(inverter.surge, "VA"),
        "t": least(q.start_time, "s"),
        "r": amount(batteries.RATED_TEMPERATURE, "°C"),
    }


def _inverter_set(q: Values, inverter: Choice) -> dict[str, Setting]:
    """What to fill in to try an inverter; its surge is a bound where the start decides it."""
    surge = least(inverter.surge, "VA", POWER_STEP)
    if inverter.surge <= inverter.power:
        surge = amount(inverter.surge, "VA", EXACT)
    return {
        "inverter_power": least(inverter.power, "VA", POWER_STEP),
        "inverter_surge": surge,
        "inverter_surge_time": amount(inverter.form.inverter_surge_time, "s", EXACT),
    }


def _hours_set(q: Values, water: Water, carried: float) -> dict[str, Setting] | None:
    """The hours of a charge in tenths, to try; nothing where the next tenth would do too."""
    hours = most(carried, "h", HOUR / 10)
    more = hours.value + HOUR / 10
    if hours.value <= 0 or (more <= DAY and able(alone(again(q, run_hours=more), water))):
        return None
    return {"run_hours": hours}


def smallest_inverter(q: Values, water: Water) -> Choice | None:
    """The smallest inverter for pump and other loads, whatever the bank; None beyond the form."""
    heat = inverters.temperature_derating(q.ambient_temperature)
    if heat == 0:
        return None
    power = least(water.apparent(q.inverter_load) / heat, "VA", POWER_STEP).value
    for_start = max(power, least(surge(q, water) / heat, "VA", POWER_STEP).value)
    if power > LARGEST_INVERTER or for_start > 2 * LARGEST_INVERTER:
        return None
    idle = q.inverter_idle
    if follows_record(q):
        idle *= power / q.inverter_power
    form = again(
        q,
        inverter_power=power,
        inverter_surge=for_start,
        inverter_idle=idle,
        inverter_surge_time=max(q.inverter_surge_time, q.start_time),
    )
    try:
        house_of(form, water)
    except Refusal:  # no inverter of this size can have the stated idle draw
        return None
    return Choice(power, for_start, form)


def follows_record(q: Values) -> bool:
    """Whether the idle draw is the record's, in proportion to the rating."""
    if q.inverter is None:
        return False
    share = q.inverter.idle_power / q.inverter.rated_power
    return math.isclose(q.inverter_idle / q.inverter_power, share, rel_tol=1e-6, abs_tol=1e-12)


def _greatest_load(q: Values, water: Water) -> float | None:
    """Greatest other load [W], in whole steps, with which every figure of the way still holds."""

    def spare(load: float) -> float:
        return in_hand(alone(again(q, inverter_load=load), water))

    inverter = inverter_of(q)
    bound = min(
        math.sqrt(max(0.0, inverter.continuous**2 - water.reactive**2)) - water.real,
        inverter.surge - surge(again(q, inverter_load=0.0), water),
    )
    if bound < LOAD_STEP:
        return None
    found = greatest(spare, 0.0, math.floor(bound / LOAD_STEP) * LOAD_STEP, LOAD_STEP)
    if found is None:
        return None
    steps = math.floor(round(found / LOAD_STEP, 6))
    # A start's figures bend where the bank collapses, so what is found is tried before it is told.
    # It may be a few steps short of the greatest, too.
    for load in (LOAD_STEP * (steps + more) for more in range(MORE_STEPS, -2, -1)):
        if 0 < load <= bound and able(alone(again(q, inverter_load=load), water)):
            return load
    return None


def _greatest_time(q: Values, water: Water, house: House) -> float:
    """Longest run on one charge [s]; the house's load depends on the hours that it covers."""
    time = house.alone.time
    for _ in range(6):
        time = units.rounded(min(time, DAY) / HOUR, 3, "down") * HOUR
        form = again(q, run_hours=time)
        if time > 0 and able(alone(form, water)):
            return time
        time = min(0.995 * time, house_of(form, water).alone.time)
    return 0.0


# ---- the smallest bank of each kind ----


def _banks(
    q: Values, show: Report, way: Option, water: Water, house: House, inverter: Choice | None
) -> None:
    """A table by kind, and as remedies the bank's own kind and LiFePO4.

    Where the inverter falls short too, the banks are those that would do with a sufficient one.
    """
    short = any(f.state == "fails" for f in way.figures if f.key in ("start_surge", "apparent"))
    base = q
    if short:
        if inverter is None:
            return
        base, house = inverter.form, house_of(inverter.form, water)
    rows: list[list[Amount | Line | str]] = []
    for key, kind in batteries.CHEMISTRIES.items():
        found = smallest_bank(base, key, water, house)
        if isinstance(found, str):
            rows.append([kind.name, "none", found, "–", "–"])
            continue
        banned = batteries.charge_rate_limit(kind, q.bank_temperature) == 0
        why = found.why + ("; never charge it at this temperature" if banned else "")
        rows.append(
            [
                kind.name,
                least(found.size, "Ah"),
                why,
                least(found.size * q.bank_voltage, "kWh"),
                least(found.current, "A"),
            ]
        )
        if key not in (q.bank_chemistry, "lifepo4"):
            continue
        told: dict[str, Amount | str] = {"k": kind.name, "b": least(found.size, "Ah")}
        managed = ""
        if key == "lifepo4" or (q.bank_bms is not None and q.bank_bms < found.current):
            managed = ", its management to allow {m}"
            told["m"] = least(found.current, "A")
        sets = _bank_set(base, key, found, water, managed=bool(managed))
        if banned:
            cold = q.bank_temperature < kind.charge_coldest.value
            managed += ", but never charge it at {at}: keep it " + ("warmer" if cold else "cooler")
            told["at"] = amount(q.bank_temperature, "°C")
        if short and inverter is not None:
            way.remedy(
                "An inverter of {c} continuous and {s} for {t}, rated at {r}, on a bank of "
                "at least {b} of {k}" + managed + ".",
                **_told(q, inverter),
                **told,
                sets=sets and {**_inverter_set(q, inverter), **sets},
            )
        else:
            way.remedy(
                "The smallest {k} bank that would do: {b}" + managed + ".", **told, sets=sets
            )
    with_it = ", on an inverter as named above" if short else ""
    show.table(
        "banks",
        "The smallest bank that would do, by kind",
        ["Kind", "At least", "What decides", "It holds", "Gives at the start"],
        rows,
        note=f"At {q.bank_voltage:g} V, of your bank's age, warmth and charge, for the bank alone"
        f"{with_it}; resistances and currents are common practice or from memory.",
    )


def with_bank(q: Values, chemistry: str, capacity: float) -> Values:
    """This form with another bank [C] in place: what was stated of the old one's inside is off.

    Its management, where it needs one, lets all through: how much that is, is told with the size.
    """
    managed = ANY_CURRENT if batteries.CHEMISTRIES[chemistry].managed_rate else None
    changes = {
        "bank_chemistry": chemistry,
        "bank_capacity": capacity,
        "bank_resistance": None,
        "bank_current": None,
        "bank_bms": managed,
        "bank_bms_peak": None,
    }
    if chemistry != q.bank_chemistry:
        changes |= {"bank_exponent": None, "bank_depth": None}
    return again(q, **changes)


def _bank_set(
    q: Values, chemistry: str, found: Size, water: Water, managed: bool
) -> dict[str, Setting] | None:
    """What to fill in to try a bank; nothing where one a step smaller would do too."""
    step = _step(found.size)
    if able(alone(with_bank(q, chemistry, found.size - step), water)):
        return None
    sets: dict[str, Setting] = {
        "bank": "",
        "bank_chemistry": chemistry,
        "bank_voltage": amount(q.bank_voltage, "V", EXACT),
        "bank_capacity": least(found.size, "Ah", step),
        "bank_resistance": "",
        "bank_current": "",
        "bank_bms": amount(found.current, "A", EXACT) if managed else "",
        "bank_bms_peak": "",
    }
    if chemistry != q.bank_chemistry:
        sets |= {"bank_exponent": "", "bank_depth": ""}
    return sets


def _step(size: float) -> float:
    """The step in which banks about a size [C] are told [C]."""
    return FINE_STEP if size <= 200 * AMPERE_HOUR else COARSE_STEP


def smallest_bank(q: Values, chemistry: str, water: Water, house: House) -> Size | str:
    """The smallest bank of a chemistry that starts and runs it; or in words why there is none."""
    found = _exact_bank(q, chemistry, house.drawn, start_power(q, water, house))
    if found is None:
        return _why_none(q, chemistry)
    exact, why = found
    step = _step(exact)
    size = least(exact, "Ah", step).value
    for _ in range(4):
        if size > LARGEST_BANK:
            break
        trial = alone(with_bank(q, chemistry, size), water)
        if able(trial):
            drawn = [
                f.value.value for f in trial.figures if f.key in ("start_amps", "bank_current")
            ]
            return Size(size, why, least(max(drawn), "A", CURRENT_STEP).value)
        size += step
    return why


def _why_none(q: Values, chemistry: str) -> str:
    """Why no bank of a chemistry would do, however large."""
    form = with_bank(q, chemistry, q.bank_capacity)
    bank, reserve = bank_of(form), 1 - depth_of(form)
    if batteries.least_charge_in_frost(bank.chemistry, bank.temperature) > reserve:
        return "emptied so far it would freeze"
    return "its voltage is below the cut-off"


def _exact_bank(q: Values, chemistry: str, power: float, start: float) -> tuple[float, str] | None:
    """Smallest bank [C] for a power to run on and one to start with [W], and what decides.

    Each want asks for a share more or less of the trial size; the greatest rules. The time grows
    about as the size to Peukert's exponent, the sag falls as one over the size.
    """
    form = with_bank(q, chemistry, q.bank_capacity)
    reserve = 1 - depth_of(form)
    if reserve >= q.bank_charge:
        return None
    bank = bank_of(form)
    if batteries.least_charge_in_frost(bank.chemistry, bank.temperature) > reserve:
        return None
    size = power * q.run_hours / (q.bank_voltage * (q.bank_charge - reserve))
    why = ""
    for _ in range(25):
        bank = bank_of(again(form, bank_capacity=size))
        emf = bank.open_circuit_voltage(q.bank_charge)
        if emf <= bank.cut_off * 1.001:
            return None
        first = batteries.constant_power(emf, bank.resistance, start)
        run = batteries.run(bank, power, q.bank_charge, reserve)
        if first is None or run.time == 0:
            size *= 2
            continue
        wants = {
            "hours": (q.run_hours / run.time) ** (1 / bank.exponent),
            "the current it bears": run.end_current / discharge_limit(form, bank)[0],
            "voltage at the start": (emf - first.voltage) / (emf - bank.cut_off),
        }
        why = max(wants, key=wants.__getitem__)
        if 0.998 <= wants[why] <= 1:
            break
        size *= wants[why] * 1.0005
    return (size, why) if why else None
