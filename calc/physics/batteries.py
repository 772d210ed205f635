"""Batteries: what a bank holds, how it sags, how long it lasts, how fast it takes charge.

Peukert's law is referred to the rated hour rate everywhere: at I = C/H the bank lasts H, and its
loss applies only above that current. Capacities are charges in coulombs; a C-rate is the current
over the charge per hour, as the trade writes it.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from calc.physics._require import efficiency as _efficiency
from calc.physics._require import fraction, not_negative, positive
from calc.physics.chemistries import BLOCK_VOLTAGE, RATED_TEMPERATURE, Chemistry, Curve

HOUR = 3600.0  # s
AMPERE_HOUR = 3600.0  # C
_SAME = 1e-6  # K: −20 °C is −20 °C, however it was come by
_STEPS = 40  # of the integration over a run
# (specific gravity, K) at which battery acid freezes: 27, 18, 5, -17, -35, -75 degF as vehicle
# manuals print them for winter storage.
_ACID_FREEZES: Curve = (
    (1.050, 270.37),
    (1.100, 265.37),
    (1.150, 258.15),
    (1.200, 245.93),
    (1.225, 235.93),
    (1.265, 213.71),
)


def interpolate(curve: Sequence[tuple[float, float]], x: float) -> float:
    """Value [unit of y] of a curve of (x, y) points in rising x; level beyond its ends.

    Source: linear interpolation between neighbours.
    """
    right = bisect_left(curve, (x,))  # the first point not left of x
    if right == 0:
        return curve[0][1]
    if right == len(curve):
        return curve[-1][1]
    (x0, y0), (x1, y1) = curve[right - 1], curve[right]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


@dataclass(frozen=True)
class Bank:
    """A bank as it is today: charge it holds when full [C], volts, resistance [ohm], Peukert.

    `rated_time` [s] is the hour rate at which the capacity was stated, `cut_off` [V] the voltage
    at which the load is dropped.
    """

    capacity: float
    nominal_voltage: float
    resistance: float
    chemistry: Chemistry
    exponent: float
    rated_time: float = 20 * HOUR
    temperature: float = RATED_TEMPERATURE
    cut_off: float = 0.0

    def __post_init__(self) -> None:
        positive(self.capacity, "the bank's capacity")
        positive(self.nominal_voltage, "the bank's voltage")
        not_negative(self.resistance, "the bank's resistance")
        positive(self.rated_time, "the rated time")
        _exponent(self.exponent)
        positive(self.temperature, "the bank's temperature")
        not_negative(self.cut_off, "the low-voltage cut-off")

    @property
    def blocks(self) -> float:
        """Number of 12 V blocks in series."""
        return self.nominal_voltage / BLOCK_VOLTAGE

    def open_circuit_voltage(self, charge: float) -> float:
        """Open-circuit voltage [V] at a state of charge [ratio]."""
        return self.blocks * interpolate(self.chemistry.open_circuit, charge)


def bank(
    chemistry: Chemistry,
    capacity: float,
    nominal_voltage: float,
    rated_time: float = 20 * HOUR,
    health: float = 1.0,
    temperature: float = RATED_TEMPERATURE,
    exponent: float | None = None,
    resistance: float | None = None,
    cut_off: float | None = None,
) -> Bank:
    """A bank out of its rated capacity [C] and volts, its age and its temperature [K].

    `health` is the share of the rated capacity that is left [ratio]; the resistance rises as it
    falls, R / health (common practice, no source), and in the cold. Stated exponent, resistance
    [ohm, at 25 degC] and cut-off [V] go before the chemistry's. Raises ValueError for 0 Ah, 0 V,
    k < 1. Source: `capacity_share`, `internal_resistance`, `cold_factor`.
    """
    _efficiency(health, "the share of capacity left by age")
    positive(capacity, "the bank's capacity")
    full = capacity * health * capacity_share(chemistry, temperature)
    if resistance is None:
        resistance = (
            internal_resistance(chemistry.resistance.value, capacity, nominal_voltage) / health
        )
    resistance *= cold_factor(chemistry, temperature)
    if cut_off is None:
        cut_off = chemistry.cut_off.value * nominal_voltage / BLOCK_VOLTAGE
    return Bank(
        full,
        nominal_voltage,
        resistance,
        chemistry,
        chemistry.peukert.value if exponent is None else exponent,
        rated_time,
        temperature,
        cut_off,
    )


def internal_resistance(block_resistance: float, capacity: float, nominal_voltage: float) -> float:
    """Resistance [ohm] of a bank from that of a 12 V 100 Ah block [ohm], R V/12 x 100 Ah/C.

    Capacity in C. Source: cells in series add, in parallel divide.
    """
    blocks = positive(nominal_voltage, "the bank's voltage") / BLOCK_VOLTAGE
    return block_resistance * blocks * 100 * AMPERE_HOUR / positive(capacity, "the capacity")


def capacity_share(chemistry: Chemistry, temperature: float) -> float:
    """Share of the rated capacity at a battery temperature [K].

    Lead-acid by IEEE 485 from 0 to 40 degC, falling to half at -20 degC (common practice), level
    beyond; LiFePO4 from memory. Source: the chemistry's own `capacity_source`.
    """
    return interpolate(chemistry.capacity_curve, positive(temperature, "the temperature"))


def cold_factor(chemistry: Chemistry, temperature: float) -> float:
    """Resistance at a battery temperature [K] over that at 25 degC [ratio]; not below 1.

    Source: general notes on the resistance of cells, with the curves in `chemistries`.
    """
    return interpolate(chemistry.cold_resistance, positive(temperature, "the temperature"))


def acid_freezing_point(gravity: float) -> float:
    """Freezing point [K] of battery acid of a specific gravity [ratio], from 1.050 to 1.265.

    Source: table printed in vehicle manuals for winter storage, straight between its points.
    """
    return interpolate(_ACID_FREEZES, positive(gravity, "the specific gravity"))


def freezing_point(chemistry: Chemistry, charge: float) -> float | None:
    """Temperature [K] at which a battery freezes at a state of charge [ratio]; None if it can't.

    Source: `acid_freezing_point` with the chemistry's `acid`.
    """
    if not chemistry.acid:
        return None
    return acid_freezing_point(interpolate(chemistry.acid, fraction(charge, "the charge")))


def least_charge_in_frost(chemistry: Chemistry, temperature: float) -> float:
    """State of charge [ratio] below which a battery freezes at a temperature [K]; 0 if never.

    Full for a temperature at which even a full one freezes. Source: `freezing_point` inverted.
    """
    if not chemistry.acid:
        return 0.0
    colder_first = [(kelvin, gravity) for gravity, kelvin in reversed(_ACID_FREEZES)]
    gravity = interpolate(colder_first, positive(temperature, "the temperature"))
    return interpolate([(g, charge) for charge, g in chemistry.acid], gravity)


def _exponent(exponent: float) -> float:
    if not 1 <= exponent <= 2:
        raise ValueError("Peukert's exponent must lie between 1 and 2; below 1 it means nothing")
    return exponent


def depletion_factor(capacity: float, rated_time: float, current: float, exponent: float) -> float:
    """How much faster the charge falls than I t says [ratio], (I H / C)^(k-1), not below 1.

    The bank is not credited with more than its rated capacity at small currents.
    Source: W. Peukert, Elektrotechnische Zeitschrift 20 (1897), referred to the rated
    time; the floor is a convention of this guide.
    """
    relative = current * rated_time / capacity
    return float(relative ** (exponent - 1)) if relative > 1 else 1.0


def greatest_power(emf: float, resistance: float) -> float:
    """Most power [W] that a source can give at its terminals, E^2 / 4R.

    Raises ValueError for no resistance. Source: maximum power transfer.
    """
    return emf**2 / (4 * positive(resistance, "the resistance"))


@dataclass(frozen=True)
class LoadPoint:
    """Current [A] and terminal voltage [V] of a battery under load."""

    current: float
    voltage: float


def constant_power(emf: float, resistance: float, power: float) -> LoadPoint | None:
    """Current and voltage at which a battery gives a power [W]; None where it can't give it at all.

    I = (E - sqrt(E^2 - 4 R P)) / 2R, written so that R = 0 works. Raises ValueError on zero volts.
    Source: P = (E - I R) I solved for the smaller current.
    """
    positive(emf, "the battery's voltage")
    not_negative(resistance, "the battery's resistance")
    root = emf**2 - 4 * resistance * not_negative(power, "the power")
    if root < 0:
        return None
    current = 2 * power / (emf + math.sqrt(root))
    return LoadPoint(current, emf - current * resistance)


@dataclass(frozen=True)
class Run:
    """A run on the bank alone from one state of charge towards another.

    Time [s], currents [A] and voltages [V] at its start and end, greatest and mean current, charge
    [C] and energy [J] delivered, state of charge at the end, and what ended it: "depth",
    "low voltage" or "cannot deliver".
    """

    time: float
    start_current: float
    start_voltage: float
    end_current: float
    end_voltage: float
    mean_current: float
    charge: float
    energy: float
    end_charge: float
    ended_by: str


@lru_cache(maxsize=64)
def run(bank: Bank, power: float, start: float = 1.0, end: float = 0.5) -> Run:
    """How long a bank gives a constant power [W] at its terminals between two states of charge.

    The current rises as the open-circuit voltage falls; Peukert's law is applied at each step. Ends
    early where the voltage falls to the cut-off or the bank can't deliver the power at all. A run
    that can't begin has no time. Raises ValueError unless start > end and the power is above zero.
    Source: `constant_power` and `depletion_factor`, integrated over the state of charge by the
    midpoint rule in 40 steps.
    """
    positive(power, "the power")
    fraction(start, "the state of charge at the start")
    if not 0 <= end < start:
        raise ValueError("a run must end at a lower state of charge than it begins")
    first = constant_power(bank.open_circuit_voltage(start), bank.resistance, power)
    if first is None:
        return Run(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, start, "cannot deliver")
    if first.voltage <= bank.cut_off:
        return Run(
            0.0,
            first.current,
            first.voltage,
            first.current,
            first.voltage,
            first.current,
            0.0,
            0.0,
            start,
            "low voltage",
        )
    floor, reason = _lowest_charge(bank, power, start, end)
    step = (start - floor) / _STEPS
    time = charge = 0.0
    # The two laws written out, because reports do this many times over.
    moved, sqrt = step * bank.capacity, math.sqrt
    rated, exponent, drop = bank.capacity / bank.rated_time, bank.exponent - 1, bank.resistance
    for emf in _volts(bank.chemistry.open_circuit, bank.blocks, start, step):
        root = emf * emf - 4 * drop * power
        if root < 0:  # only by rounding at the very end
            break
        current = 2 * power / (emf + sqrt(root))
        delivered = moved / (current / rated) ** exponent if current > rated else moved
        time += delivered / current
        charge += delivered
    last = constant_power(bank.open_circuit_voltage(floor), bank.resistance, power) or first
    return Run(
        time,
        first.current,
        first.voltage,
        last.current,
        last.voltage,
        charge / time if time else first.current,
        charge,
        power * time,
        floor,
        reason,
    )


@lru_cache(maxsize=32)
def _volts(curve: Curve, blocks: float, start: float, step: float) -> tuple[float, ...]:
    """Open-circuit voltages [V] at the middles of a run's steps of charge."""
    return tuple([blocks * interpolate(curve, start - (i + 0.5) * step) for i in range(_STEPS)])


def _lowest_charge(bank: Bank, power: float, start: float, end: float) -> tuple[float, str]:
    """State of charge at which a run ends, and why."""

    def holds(charge: float) -> bool:
        point = constant_power(bank.open_circuit_voltage(charge), bank.resistance, power)
        return point is not None and point.voltage > bank.cut_off

    if holds(end):
        return end, "depth"
    low, high = end, start
    for _ in range(40):
        middle = (low + high) / 2
        if holds(middle):
            high = middle
        else:
            low = middle
    point = constant_power(bank.open_circuit_voltage(low), bank.resistance, power)
    return high, "cannot deliver" if point is None else "low voltage"


def charge_rate_limit(chemistry: Chemistry, temperature: float) -> float:
    """Greatest charging C-rate at a battery temperature [K]; 0 where it must not be charged.

    Each step of the chemistry's table holds up to its temperature. Source: the chemistry's
    `charge_curve`; LiFePO4: a 48 V module manual, tables 4.3 and 4.4.
    """
    coldest, hottest = chemistry.charge_coldest.value, chemistry.charge_hottest.value
    if not coldest - _SAME <= temperature <= hottest + _SAME:
        return 0.0
    for limit, rate in chemistry.charge_curve:
        if temperature < limit:
            return rate
    return chemistry.charge_curve[-1][1]


def acceptance(bank: Bank, charge: float) -> float:
    """Greatest current [A] that a bank takes at a state of charge [ratio] and its temperature.

    Tapering near full by the chemistry's `acceptance` curve, never above `charge_rate_limit`.
    Source: the chemistry's `acceptance_source`.
    """
    rate = min(
        interpolate(bank.chemistry.acceptance, charge),
        charge_rate_limit(bank.chemistry, bank.temperature),
    )
    return rate * bank.capacity / HOUR


def charging_time(bank: Bank, start: float, end: float, current: float) -> float:
    """Time [s] to charge a bank between two states of charge [ratio] with a current [A] at most.

    The bank takes what `acceptance` allows: integral of C dq / (eta I), midpoint rule in 20 steps;
    the last bit of a full bank, which takes for ever, counts as its step's middle. Raises
    ValueError for no current and where the bank must not be charged.
    Source: counting of charge.
    """
    positive(current, "the charging current")
    step = (fraction(end, "the state of charge") - fraction(start, "the state of charge")) / 20
    time = 0.0
    for i in range(20):
        taken = min(current, acceptance(bank, start + (i + 0.5) * step))
        time += step * bank.capacity / positive(taken, "the current that the bank takes")
    return time / bank.chemistry.charge_efficiency.value
