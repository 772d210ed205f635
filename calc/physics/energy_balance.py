"""A day and a week aboard: the bank's state of charge in small steps, and where the energy goes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, fields
from functools import lru_cache
from itertools import pairwise

from calc.physics._require import fraction, not_negative, positive
from calc.physics.batteries import HOUR, Bank, charge_rate_limit, interpolate
from calc.physics.chemistries import Curve

STEP = 300.0  # s
_GRID = 100  # points of the tables that stand in for the curves; the curves bend on them


@dataclass(frozen=True)
class Flows:
    """What flows to and from the DC bus, each as powers [W] in equal steps from midnight.

    Sources as they could give, loads as they ask. A profile shorter than the run repeats, so one
    day serves for a week.
    """

    solar: Sequence[float] = (0.0,)
    alternator: Sequence[float] = (0.0,)
    charger: Sequence[float] = (0.0,)
    house: Sequence[float] = (0.0,)
    water: Sequence[float] = (0.0,)


@dataclass(frozen=True)
class Balance:
    """The outcome of a run: state of charge at every step's edge, and energies [J] over the run.

    Sources count what was taken of them; `curtailed` is what they could have given besides.
    `unserved` is house load that an empty bank left dark, `water_missed` what the watermaker was
    refused. `stored` is the change of the bank's stored energy; `losses` the sum of the three.
    """

    charge: tuple[float, ...]
    solar: float
    alternator: float
    charger: float
    house: float
    water: float
    curtailed: float
    unserved: float
    water_missed: float
    water_time: float
    resistive_loss: float
    charging_loss: float
    peukert_loss: float
    stored: float

    @property
    def energy_in(self) -> float:
        """Energy taken from all sources [J]."""
        return self.solar + self.alternator + self.charger

    @property
    def energy_out(self) -> float:
        """Energy given to all loads [J]."""
        return self.house + self.water

    @property
    def losses(self) -> float:
        """Energy lost in the bank [J]."""
        return self.resistive_loss + self.charging_loss + self.peukert_loss

    @property
    def residual(self) -> float:
        """In less out, losses and change of charge [J]: the error of the stepping."""
        return self.energy_in - self.energy_out - self.losses - self.stored


def stored_energy(bank: Bank, charge: float) -> float:
    """Energy [J] above empty at a state of charge: integral of the open-circuit voltage.

    Source: the chemistry's open-circuit curve, integrated exactly between its points.
    """
    fraction(charge, "the state of charge")
    return _area(bank.chemistry.open_circuit, charge) * bank.blocks * bank.capacity


@lru_cache(maxsize=64)
def _area(curve: Curve, charge: float) -> float:
    """The integral of a curve from 0, exactly between its points."""
    edges = [0.0, *(x for x, _ in curve if 0 < x < charge), charge]
    area = 0.0
    for low, high in pairwise(edges):
        area += (high - low) * (interpolate(curve, low) + interpolate(curve, high)) / 2
    return area


def daily_profile(values: Sequence[float], step: float = STEP) -> tuple[float, ...]:
    """A day in steps [s] from values for equal parts of it, such as 24 hourly powers [W].

    Raises ValueError where the steps don't fit the parts. Source: definition.
    """
    count = round(86400 / positive(step, "the time step"))
    if not values or abs(count * step - 86400) > 1e-6 or count % len(values):
        raise ValueError("the time step must divide each part of the day")
    each = count // len(values)
    return tuple(value for value in values for _ in range(each))


@lru_cache(maxsize=32)
def window(power: float, start: float, duration: float, step: float = STEP) -> tuple[float, ...]:
    """A day in steps [s] with a power [W] from a start [s after midnight] for a duration [s].

    Goes on past midnight into the morning of the same day's profile; parts of a step count in
    part, so that the energy is exact. Source: definition. Raises ValueError where the step does not
    divide the day, or for a start or a duration beyond one day.
    """
    count = round(86400 / positive(step, "the time step"))
    if abs(count * step - 86400) > 1e-6:
        raise ValueError("the time step must divide the day")
    if not 0 <= not_negative(duration, "the duration") <= 86400 or not 0 <= start <= 86400:
        raise ValueError("a window must begin within the day and last a day at most")
    day = [0.0] * count
    for shift in (0.0, -86400.0):
        begin, end = start + shift, start + shift + duration
        for i in range(max(0, int(begin // step)), min(count, math.ceil(end / step))):
            overlap = min(end, (i + 1) * step) - max(begin, i * step)
            day[i] += power * max(0.0, overlap) / step
    return tuple(day)


@lru_cache(maxsize=32)
def _table(curve: Curve, scale: float) -> tuple[float, ...]:
    """The curve at every hundredth of charge, with one point more so that x = 1 needs no case."""
    values = [scale * interpolate(curve, i / _GRID) for i in range(_GRID + 1)]
    return (*values, values[-1])


def simulate(
    bank: Bank,
    flows: Flows,
    days: int = 7,
    start: float = 1.0,
    reserve: float = 0.0,
    step: float = STEP,
) -> Balance:
    """State of charge over 1 to 7 days of flows, with the bank's voltage, resistance and limits.

    Loads are served from the sources first. A surplus charges the bank at no more than it accepts;
    what is left over is curtailed, charger first, then alternator, then sun. A deficit is taken
    from the bank at constant power. Where that would go below the state of charge `reserve` or the
    cut-off voltage the watermaker is refused until its window ends or the sources carry it; where
    the bank can't carry the house alone, the house is dark for the step.

    Energy is conserved: in = out + losses + change of stored energy, to the error of the stepping
    (`Balance.residual`, far below 0.1 % at 300 s). Raises ValueError for a run outside 1 to 7 days
    or a profile without steps. Source: Kirchhoff's laws with `batteries`; implicit midpoint steps.
    """
    if not 1 <= days <= 7:
        raise ValueError("a simulation runs over 1 to 7 days")
    positive(step, "the time step")
    charge = fraction(start, "the state of charge at the start")
    fraction(reserve, "the reserve")
    profiles = (flows.solar, flows.alternator, flows.charger, flows.house, flows.water)
    if not all(profiles) or any(min(profile) < 0 for profile in profiles):
        raise ValueError("every flow needs at least one step, and none may be negative")
    count = round(days * 86400 / step)
    whole = [(list(p) * (count // len(p) + 1))[:count] for p in profiles]
    each = round(86400 / step) if count % days == 0 else count
    done: list[Balance] = []
    before: list[list[float]] = []
    nets: list[float] = []
    refused = was_refused = False
    for first in range(0, count, each):
        day = [profile[first : first + each] for profile in whole]
        if day != before:
            nets = [s + a + c - h - w for s, a, c, h, w in zip(*day, strict=True)]
        elif _comes_back(done[-1]) and was_refused == refused:
            done.append(done[-1])  # the same day from the same state ends the same
            continue
        was_refused = refused
        balance, refused = _stretch(bank, [*day, nets], charge, refused, reserve, step)
        done.append(balance)
        charge, before = balance.charge[-1], day
    return _joined(done)


def _comes_back(day: Balance) -> bool:
    """Whether a day ends where it began, to a millionth of the bank."""
    return abs(day.charge[-1] - day.charge[0]) < 1e-6


def _joined(parts: Sequence[Balance]) -> Balance:
    """Runs one after the other as one run."""
    charge = [*parts[0].charge[:1]]
    for part in parts:
        charge += part.charge[1:]
    sums = {name: math.fsum([getattr(part, name) for part in parts]) for name in _SUMS}
    return Balance(charge=tuple(charge), **sums)


_SUMS = tuple(held.name for held in fields(Balance) if held.name != "charge")


@lru_cache(maxsize=8)
def _cells(
    bank: Bank, step: float
) -> tuple[list[tuple[float, float, float]], list[tuple[float, float, float, float, float]]]:
    """What holds of a bank within each hundredth of its charge, for a discharge and for a charge.

    For both: half a step's change of the open-circuit voltage acts like a resistance, so that the
    current is the one at the middle of the step; the resistance here [ohm] has it on top.
    A discharge: open-circuit voltage [V] at the cell's low end, its rise within the cell, the
    resistance below the rated current. A charge: what the voltage rises by to half a full charge,
    the resistance, the greatest current [A] at the low end, its rise, and its share so reckoned.
    """
    volts = _table(bank.chemistry.open_circuit, bank.blocks)
    accepts = _table(bank.chemistry.acceptance, bank.capacity / HOUR)
    per_ampere = step / bank.capacity
    stored_per_ampere = bank.chemistry.charge_efficiency.value * per_ampere
    giving, taking = [], []
    for i in range(_GRID):
        rise, more = volts[i + 1] - volts[i], accepts[i + 1] - accepts[i]
        stiffness = rise * _GRID / 2
        giving.append((volts[i], rise, bank.resistance + stiffness * per_ampere))
        taking.append(
            (
                stiffness,
                bank.resistance + stiffness * stored_per_ampere,
                accepts[i],
                more,
                1 - more * _GRID / 2 * stored_per_ampere,
            )
        )
    return giving, taking


def _stretch(
    bank: Bank,
    flows: Sequence[Sequence[float]],
    charge: float,
    refused: bool,
    reserve: float,
    step: float,
) -> tuple[Balance, bool]:
    """A stretch of steps from a state of charge; and whether the watermaker is refused at its end.

    `flows` are those of `Flows`, and what they come to together; `refused` says so at its
    beginning. Source: see `simulate`.
    """
    # Written for speed, because this loop is the slowest thing in a report.
    sqrt, grid = math.sqrt, _GRID
    start = charge
    capacity, ohms, cut_off = bank.capacity, bank.resistance, bank.cut_off
    giving, taking = _cells(bank, step)
    rate_limit = charge_rate_limit(bank.chemistry, bank.temperature) * capacity / HOUR
    efficiency = bank.chemistry.charge_efficiency.value
    wasted = 1 - efficiency
    rated_current, exponent = capacity / bank.rated_time, bank.exponent - 1
    # Powers well below emf times the rated current less its drop are surely of a lesser current.
    small, drop = 0.999 * rated_current, ohms * rated_current
    per_ampere = step / capacity  # charge moved in a step by one ampere
    stored_per_ampere = efficiency * per_ampere

    used_solar = used_alternator = used_charger = used_house = used_water = 0.0
    curtailed = unserved = missed = water_time = 0.0
    resistive = charging = peukert = 0.0
    history = [charge]
    carries = False
    for sun, belt, shore, load, pump, net in zip(*flows, strict=True):
        place = charge * grid * 0.999999999  # the cell below a full bank, not one beyond it
        i = int(place)
        part = place - i
        volts, rise, below_rated = giving[i]
        emf = volts + part * rise
        if not pump:
            refused = False
        while net < 0:
            ahead, factor = below_rated, 1.0
            if -net > small * (emf - drop):
                root = emf * emf + 4 * ohms * net
                current = -2 * net / (emf + sqrt(root)) if root > 0 else rated_current
                if current > rated_current:
                    factor = (current / rated_current) ** exponent
                    ahead = ohms + rise * grid / 2 * per_ampere * factor
            root = emf * emf + 4 * ahead * net
            current = -2 * net / (emf + sqrt(root)) if root > 0 else 0.0
            moved = current * factor * per_ampere
            carries = root > 0 and emf - current * ahead >= cut_off and moved <= charge
            if not pump or (carries and charge > reserve and not refused):
                break
            refused = True
            missed += pump
            net += pump
            pump = 0.0

        spare = 0.0
        if net > 0:
            stiffness, ahead, accepts, more, taper = taking[i]
            current = 2 * net / (emf + sqrt(emf * emf + 4 * ahead * net))
            most = (accepts + part * more) / taper
            if most > rate_limit:
                most = rate_limit
            room = (1 - charge) / stored_per_ampere
            if most > room:
                most = room
            if current > most:
                current = most
                spare = net - (emf + current * ahead) * current
            moved = stored_per_ampere * current
            resistive += current * current * ohms
            charging += wasted * (emf + stiffness * moved) * current
            charge += moved
        elif net < 0:
            if carries:
                resistive += current * current * ohms
                if factor > 1:
                    peukert += (emf - (ahead - ohms) * current) * current * (factor - 1)
                charge -= moved
            else:
                given = sun + belt + shore
                unserved += load - min(load, given)
                spare = given - min(load, given)
                load = min(load, given)
        if spare:
            curtailed += spare
            cut = min(shore, spare)
            shore -= cut
            spare -= cut
            cut = min(belt, spare)
            belt -= cut
            sun -= spare - cut

        history.append(charge)
        used_solar += sun
        used_house += load
        if belt:
            used_alternator += belt
        if shore:
            used_charger += shore
        if pump:
            used_water += pump
            water_time += step
    balance = Balance(
        charge=tuple(history),
        solar=used_solar * step,
        alternator=used_alternator * step,
        charger=used_charger * step,
        house=used_house * step,
        water=used_water * step,
        curtailed=curtailed * step,
        unserved=unserved * step,
        water_missed=missed * step,
        water_time=water_time,
        resistive_loss=resistive * step,
        charging_loss=charging * step,
        peukert_loss=peukert * step,
        stored=stored_energy(bank, charge) - stored_energy(bank, start),
    )
    return balance, refused
