"""Inverse answers for inverter and bank: the smallest of each, the largest load, the hours."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from ..physics import batteries, inverters
from ..physics.roots import fewest_that_do
from ..rounding import rounded, trim
from .aboard import DAY, HOUR, Aboard
from .bank import Inverter, other_bank
from .held import Held, all_hold, all_leave
from .motor import Water
from .on_bank import Alone, House, alone, house, inverter_of, late_start, start, start_power, surge
from .on_generator import LOAD_STEP, POWER_STEP

AMPERE_HOUR = batteries.AMPERE_HOUR
FINE_STEP, COARSE_STEP = 5 * AMPERE_HOUR, 10 * AMPERE_HOUR  # below and above 200 Ah
CURRENT_STEP = 10.0  # A
LARGEST_BANK, LARGEST_INVERTER = 10_000 * AMPERE_HOUR, 50e3  # C, VA: what a form takes
FROST, CUT_OFF = "frost", "cut-off"  # why there is no bank
HOURS, BEARS, START_VOLTS = "hours", "current", "start volts"  # what decides about a bank
_MORE_STEPS = 4
_TRIES, _CLOSE = 12, 0.005  # of the search for a greatest value: so little in hand is none


@dataclass(frozen=True)
class Choice:
    """The smallest inverter that would do, and the boat with it in place."""

    inverter: Inverter
    aboard: Aboard


@dataclass(frozen=True)
class Size:
    """A bank [C], what decides it, the greatest current that it gives [A] in whole steps, and
    whether the next smaller one would not do."""

    size: float
    why: str
    current: float
    least: bool


def up(value: float, step: float) -> float:
    """The next whole step at or above a value."""
    return math.ceil(trim(value / step)) * step


def down(value: float, step: float) -> float:
    """The next whole step at or below a value."""
    return math.floor(trim(value / step)) * step


@dataclass(frozen=True)
class Asked:
    """What a way asks besides its start, and whether it is sure of what charges meanwhile."""

    held: tuple[Held | None, ...]
    sure: bool


def does(
    found: Choice, water: Water, asked: Callable[[Aboard, House], Asked], spare: float
) -> bool:
    """Whether a way does on another inverter; with a share to `spare` it leaves that of each limit,
    may start late too, and is sure of what charges meanwhile."""
    made = house(found.aboard, water)
    then = asked(found.aboard, made)
    every = (*start(found.aboard, water, made).held, *then.held)
    if not spare:
        return all_hold(every)
    late = late_start(found.aboard, water, made, made.reserve)
    return all_leave(every, spare) and then.sure and not late.may_fail


def smallest_inverter(aboard: Aboard, water: Water) -> Choice | None:
    """The smallest inverter for pump and other loads, whatever the bank; None beyond what is made.

    Its idle draw goes with its size where nobody said it: as the record's, or as is usual.
    """
    now = inverter_of(aboard)
    heat = inverters.temperature_derating(aboard.air.temperature)
    if heat == 0:
        return None
    power = up(water.apparent(now.load) / heat, POWER_STEP)
    for_start = max(power, up(surge(aboard, water) / heat, POWER_STEP))
    if power > LARGEST_INVERTER or for_start > 2 * LARGEST_INVERTER:
        return None
    return _sized(aboard, water, power, for_start)


def roomier_inverter(aboard: Aboard, water: Water, made: House, spare: float) -> Choice | None:
    """The smallest inverter, no smaller than hers, that leaves a share of its ratings to `spare`,
    whatever the bank; None where hers does or none is made."""
    now, running, at_start = inverter_of(aboard), *_asked(aboard, water, made)
    heat = inverters.temperature_derating(aboard.air.temperature)
    if heat == 0 or all_leave((running, at_start), spare):
        return None
    share = heat * (1 - spare)
    power = max(now.power, up(running.value / share, POWER_STEP))
    for_start = max(now.surge, power, up(at_start.value / share, POWER_STEP))
    if power > LARGEST_INVERTER or for_start > 2 * LARGEST_INVERTER:
        return None
    return _sized(aboard, water, power, for_start)


def _asked(aboard: Aboard, water: Water, made: House) -> tuple[Held, Held]:
    """What is asked of the inverter at work and at a start, against what it gives."""
    return (
        Held(water.apparent(inverter_of(aboard).load), made.inverter.continuous),
        Held(surge(aboard, water), made.inverter.surge),
    )


def _sized(aboard: Aboard, water: Water, power: float, for_start: float) -> Choice | None:
    """An inverter of other ratings in place of hers; None where it can't have the stated idle
    draw."""
    now = inverter_of(aboard)
    made = replace(
        now,
        power=power,
        surge=for_start,
        surge_time=max(now.surge_time, aboard.start_time),
        idle=now.idle if now.idle_share is None else now.idle_share * power,
    )
    other = aboard.on_inverter(made)
    try:
        house(other, water)
    except ValueError:
        return None
    return Choice(made, other)


def greatest_inverter_load(aboard: Aboard, water: Water) -> float | None:
    """Greatest other load [W], in whole steps, with which all still holds."""
    now = inverter_of(aboard)
    placed = now.placed(aboard.air, aboard.start_time)

    def with_load(load: float) -> Alone:
        return alone(aboard.on_inverter(replace(now, load=load)), water)

    bound = min(
        math.sqrt(max(0.0, placed.continuous**2 - water.reactive**2)) - water.real,
        placed.surge - surge(aboard.on_inverter(replace(now, load=0.0)), water),
    )
    if bound < LOAD_STEP:
        return None
    highest = math.floor(bound / LOAD_STEP) * LOAD_STEP
    found = greatest(lambda load: with_load(load).in_hand, 0.0, highest, LOAD_STEP)
    if found is None:
        return None
    steps = math.floor(trim(found / LOAD_STEP))
    # A start's figures bend where the bank collapses, so what is found is tried before it is told.
    # It may be a few steps short of the greatest, too.
    for load in (LOAD_STEP * (steps + more) for more in range(_MORE_STEPS, -2, -1)):
        if 0 < load <= bound and with_load(load).able:
            return load
    return None


def greatest_time(aboard: Aboard, water: Water, made: House) -> float:
    """Longest run on one charge [s], three digits in hours; 0 where there is none.

    The house's load depends on the hours that it covers.
    """
    time = made.alone.time
    for _ in range(6):
        time = rounded(min(time, DAY) / HOUR, 3, "down") * HOUR
        longer = aboard.for_hours(time)
        if time > 0 and alone(longer, water).able:
            return time
        time = min(0.995 * time, house(longer, water).alone.time)
    return 0.0


def for_hours_able(aboard: Aboard, water: Water, time: float) -> bool:
    """Whether inverter and bank carry water-making for a time a day [s]."""
    return time <= DAY and alone(aboard.for_hours(time), water).able


def greatest(spare: Callable[[float], float], low: float, high: float, step: float) -> float | None:
    """Greatest value with something to spare, to a `step` short of it; None if `low` has nothing.

    `spare` falls as the value rises, smoothly but for corners: false position with the Illinois
    rule against creeping.
    """
    at_low = spare(low)
    if at_low < 0:
        return None
    at_high = spare(high)
    if at_high >= 0:
        return high
    kept = 0  # the end that the last try left in place
    for _ in range(_TRIES):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        found = spare(middle)
        if found >= 0:
            low, at_low = middle, found
            at_high, kept = at_high / (2 if kept == 1 else 1), 1
        else:
            high, at_high = middle, found
            at_low, kept = at_low / (2 if kept == -1 else 1), -1
        if high - low < step or 0 <= found < _CLOSE:
            break
    return low


# ---- the smallest bank of each kind ----


def bank_step(size: float) -> float:
    """The step in which banks about a size [C] are told [C]."""
    return FINE_STEP if size <= 200 * AMPERE_HOUR else COARSE_STEP


def smallest_bank(aboard: Aboard, chemistry: str, water: Water, made: House) -> Size | str:
    """The smallest bank of a chemistry that starts and runs it; else why there is none: what
    decides, or `FROST` or `CUT_OFF`."""
    found = _exact_bank(aboard, chemistry, made.drawn, start_power(aboard, water, made))
    if found is None:
        return _why_none(aboard, chemistry)
    exact, why = found
    step = bank_step(exact)
    size = up(exact, step)
    for _ in range(4):
        if size > LARGEST_BANK:
            break
        tried = _with(aboard, chemistry, size, water)
        if tried.able and tried.start and tried.running and tried.running.current:
            drawn = max(tried.start.amps, tried.running.current.value)
            smaller = _with(aboard, chemistry, size - bank_step(size), water).able
            return Size(size, why, up(drawn, CURRENT_STEP), not smaller)
        size += step
    return why


def leaves(aboard: Aboard, water: Water, spare: float) -> bool:
    """Whether inverter and bank leave a share of each limit to `spare`, a late start included."""
    tried = alone(aboard, water)
    if tried.house is None or not (tried.able and all_leave(tried.held, spare)):
        return False
    return not late_start(aboard, water, tried.house, tried.house.reserve).may_fail


def roomier_bank(aboard: Aboard, water: Water, spare: float) -> tuple[float, float] | None:
    """The smallest bank of the boat's own kind [C], in whole steps, that leaves a share of each
    limit to `spare`, and what its management is then to allow [A]; None where no bank does."""
    chemistry, step = aboard.bank.chemistry, bank_step(aboard.bank.capacity)

    def does(steps: int) -> bool:
        other = aboard.on_bank(other_bank(aboard.bank, chemistry, steps * step))
        return leaves(other, water, spare)

    steps = fewest_that_do(does, round(LARGEST_BANK / step))
    if steps is None:
        return None
    size = steps * step
    found = _with(aboard, chemistry, size, water)
    running = found.running.current if found.running else None
    drawn = max(found.start.amps if found.start else 0.0, running.value if running else 0.0)
    return size, up(drawn / (1 - spare), CURRENT_STEP)


def _with(aboard: Aboard, chemistry: str, size: float, water: Water) -> Alone:
    return alone(aboard.on_bank(other_bank(aboard.bank, chemistry, size)), water)


def _why_none(aboard: Aboard, chemistry: str) -> str:
    """Why no bank of a chemistry would do, however large."""
    bank = other_bank(aboard.bank, chemistry, aboard.bank.capacity)
    return FROST if bank.frost_charge > bank.reserve else CUT_OFF


def _exact_bank(
    aboard: Aboard, chemistry: str, power: float, start: float
) -> tuple[float, str] | None:
    """Smallest bank [C] for a power to run on and one to start with [W], and what decides.

    Each want asks for a share more or less of the trial size; the greatest rules. The time grows
    about as the size to Peukert's exponent, the sag falls as one over the size.
    """
    now, hours = aboard.bank, aboard.habits.run
    other = other_bank(now, chemistry, now.capacity)
    reserve = other.reserve
    if reserve >= now.charge or other.frost_charge > reserve:
        return None
    size = power * hours / (now.voltage * (now.charge - reserve))
    why = ""
    for _ in range(25):
        sized = replace(other, capacity=size)
        bank = sized.bank
        emf = bank.open_circuit_voltage(now.charge)
        if emf <= bank.cut_off * 1.001:
            return None
        first = batteries.constant_power(emf, bank.resistance, start)
        run = batteries.run(bank, power, now.charge, reserve)
        if first is None or run.time == 0:
            size *= 2
            continue
        wants = {
            HOURS: (hours / run.time) ** (1 / bank.exponent),
            BEARS: run.end_current / sized.for_hours.current,
            START_VOLTS: (emf - first.voltage) / (emf - bank.cut_off),
        }
        why = max(wants, key=wants.__getitem__)
        if 0.998 <= wants[why] <= 1:
            break
        size *= wants[why] * 1.0005
    return (size, why) if why else None


def inverter_short(aboard: Aboard, water: Water, made: House) -> bool:
    """Whether the inverter itself can't start the pump or run it, whatever the bank."""
    return not all_hold(_asked(aboard, water, made))
