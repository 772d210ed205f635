"""Inverter and house bank, and what charges it: each as it is aboard."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from operator import mul

from ..physics import alternators, batteries, chemistries, energy_balance, inverters, solar
from .motor import Mains
from .supply import Air

STEP = energy_balance.STEP  # s, of a day's profiles

# Of a battery charger near its full output, for each 12 V block. Common practice, no source.
CHARGING_VOLTS, LITHIUM_CHARGING_VOLTS = 14.4, 14.2  # V
LITHIUM = "lifepo4"
ANY_CURRENT = 1e6  # A, of a management that is still to be chosen


@dataclass(frozen=True)
class Inverter:
    """An inverter: ratings [VA], how long its surge lasts [s], efficiency at its best [ratio], idle
    draw [W], cut-off where it is stated [V], other loads on it [W], the hottest air it works in
    [K], the mains and the bank [V] that its record is made for, and what its idle draw is of the
    power of an inverter of another size [ratio], None where it stays as it is."""

    power: float
    surge: float
    surge_time: float
    efficiency: float
    idle: float
    cut_off: float | None = None
    load: float = 0.0
    hottest: float = inverters.HOTTEST_AIR
    mains: Mains | None = None
    dc_voltage: float | None = None
    idle_share: float | None = None

    @property
    def losses(self) -> inverters.LossModel:
        """What it loses. Raises ValueError for an idle draw that none of this size can have.

        Source: `inverters.loss_model`.
        """
        return inverters.loss_model(self.power, self.idle, self.efficiency)

    def check_losses(self) -> None:
        """Raises ValueError for an idle draw that none of this size can have."""
        _ = self.losses

    def placed(self, air: Air, start: float) -> Placed:
        """The inverter in the heat it stands in, asked for a start of a duration [s].

        Source: `inverters.power_for`, `inverters.temperature_derating`.
        """
        share = inverters.temperature_derating(air.temperature)
        surge = inverters.power_for(start, self.power, [(self.surge_time, self.surge)])
        return Placed(self.power, self.power * share, surge * share, self.losses)


@dataclass(frozen=True)
class Placed:
    """An inverter in the heat it stands in: ratings [VA] as derated, and losses."""

    rated: float
    continuous: float
    surge: float
    losses: inverters.LossModel

    def dc_power(self, real: float, apparent: float) -> float:
        """Power from the bank [W] for a real power [W] and the apparent power [VA] it comes with.
        Source: `inverters.dc_power`."""
        return inverters.dc_power(real, apparent, self.rated, self.losses)


@dataclass(frozen=True)
class HouseBank:
    """The house bank as its owner tells it.

    Chemistry, capacity [C] when new, nominal volts, health and charge [ratio], temperature [K];
    then what is stated of it, or None: depth of discharge [ratio], Peukert's exponent, resistance
    [ohm], greatest current for hours [A], its management's limits for hours and for seconds [A],
    and how many those are [s].
    """

    chemistry: str
    capacity: float
    voltage: float
    health: float = 1.0
    temperature: float = chemistries.RATED_TEMPERATURE
    charge: float = 1.0
    stated_depth: float | None = None
    exponent: float | None = None
    resistance: float | None = None
    current: float | None = None
    managed: float | None = None
    managed_peak: float | None = None
    managed_peak_time: float = 5.0
    cut_off: float | None = None

    @property
    def kind(self) -> chemistries.Chemistry:
        """Its chemistry's properties."""
        return chemistries.CHEMISTRIES[self.chemistry]

    @property
    def depth(self) -> float:
        """Depth of discharge allowed [ratio]: as stated, else what is usual for the chemistry."""
        return self.kind.usable_depth.value if self.stated_depth is None else self.stated_depth

    @property
    def reserve(self) -> float:
        """State of charge to stay in it [ratio]."""
        return 1 - self.depth

    @property
    def bank(self) -> batteries.Bank:
        """The physics' bank as it is today. Source: `batteries.bank`."""
        return batteries.bank(
            self.kind,
            self.capacity,
            self.voltage,
            health=self.health,
            temperature=self.temperature,
            exponent=self.exponent,
            resistance=self.resistance,
            cut_off=self.cut_off,
        )

    @property
    def volts(self) -> float:
        """Open-circuit voltage as it is charged [V]."""
        return self.bank.open_circuit_voltage(self.charge)

    @property
    def chargeable(self) -> bool:
        """Whether it may be charged at its temperature. Source: `batteries.charge_rate_limit`."""
        return batteries.charge_rate_limit(self.kind, self.temperature) > 0

    @property
    def frost_charge(self) -> float:
        """Charge [ratio] that must stay in it so that it does not freeze.

        Source: `batteries.least_charge_in_frost`.
        """
        return batteries.least_charge_in_frost(self.kind, self.temperature)

    @property
    def for_hours(self) -> Bears:
        """Current [A] that it bears for hours.

        As stated for the bank; else the chemistry's rate, of what age and cold have left. A lithium
        bank whose management is stated bears what its cells are made for, of its capacity when new.
        Source: the chemistry's `discharge_rate` and `managed_rate`.
        """
        if self.current is not None:
            return Bears(self.current, "stated")
        if self.kind.managed_rate and self.managed is not None:
            rate = batteries.interpolate(self.kind.managed_rate, self.temperature)
            return Bears(rate * self.capacity / batteries.HOUR, "managed", rate)
        rate = self.kind.discharge_rate.value
        return Bears(rate * self.bank.capacity / batteries.HOUR, "rate", rate)

    def for_a_start(self, duration: float) -> Limit:
        """Current [A] that the battery management lets through for a start [s].

        Its limit for seconds where the start is over by then, else that for hours; None where
        neither says. Source: the battery's own sheet.
        """
        if self.managed_peak is None:
            return Limit(self.managed, "hours")
        if duration <= self.managed_peak_time:
            return Limit(self.managed_peak, "seconds")
        return Limit(self.managed, "too long")

    def management_unknown(self, start: float) -> bool:
        """Whether it needs a management of which a limit that counts here is not given."""
        if not self.kind.managed_rate:
            return False
        return self.managed is None or self.for_a_start(start).current is None

    def taken(self, offered: float, drawn: float) -> float:
        """Current [A] that a source gives of what it offers: what is drawn meanwhile and what the
        bank takes, charged as far as it is. Source: `batteries.acceptance`."""
        return min(offered, drawn + batteries.acceptance(self.bank, self.charge))


@dataclass(frozen=True)
class Bears:
    """A current for hours [A], what it is known by ("stated", "managed", "rate"), and the rate
    [A/Ah] if by one."""

    current: float
    known_by: str
    rate: float = 0.0


@dataclass(frozen=True)
class Limit:
    """A current for a start [A], None where nobody says, and what it is known by: "hours",
    "seconds" or "too long" for the seconds."""

    current: float | None
    known_by: str


@dataclass(frozen=True)
class Charger:
    """A battery charger on the mains: greatest current [A], volts [V] where they are stated,
    efficiency and power factor [ratio]."""

    current: float
    stated_volts: float | None
    efficiency: float
    power_factor: float

    def volts(self, bank: HouseBank) -> float:
        """Its charging voltage [V] on a bank: as stated, else what is usual."""
        usual = LITHIUM_CHARGING_VOLTS if bank.chemistry == LITHIUM else CHARGING_VOLTS
        return self.stated_volts or bank.voltage / chemistries.BLOCK_VOLTAGE * usual

    def drawn(self, bank: HouseBank, amps: float) -> Drawn:
        """What it takes from the mains at an output [A].

        A plain rectifier's amperes are distorted more than shifted; added to a motor's as if they
        were shifted, they load the source at least as much as in truth.
        Source: definitions of efficiency and power factor.
        """
        real = amps * self.volts(bank) / self.efficiency
        return Drawn(real, real * math.sqrt(1 / self.power_factor**2 - 1))


@dataclass(frozen=True)
class Drawn:
    """What is taken from the mains: real [W] and non-active power [var]."""

    real: float
    reactive: float = 0.0

    def __add__(self, other: Drawn) -> Drawn:
        return Drawn(self.real + other.real, self.reactive + other.reactive)


@dataclass(frozen=True)
class Alternator:
    """The engine's alternator: hot output at charging speed [A], the engine's fuel then [m3/s], and
    the volts that its record charges at."""

    current: float
    fuel: float
    voltage: float | None = None

    def suits(self, bank: HouseBank) -> bool:
        """Whether it charges at a voltage that the bank can take."""
        return self.voltage is None or 1.0 < self.voltage / bank.voltage < 1.35


def off_curve(
    engine_speed: float, pulley_ratio: float, curve: Sequence[tuple[float, float]]
) -> float:
    """Hot output [A] at an engine's speed [rev/s], off a curve of (rev/s, A).

    Source: `alternators.output`.
    """
    speeds, amps = [speed for speed, _ in curve], [current for _, current in curve]
    return alternators.output(engine_speed, pulley_ratio, speeds, amps)


@dataclass(frozen=True)
class Sun:
    """Panels lying flat, and their sky: rated power [W], losses [ratio], loss by heat [1/K],
    latitude [rad], day of the year, sunshine [ratio], Linke turbidity."""

    power: float
    losses: float
    coefficient: float
    latitude: float
    day: int
    sunshine: float
    turbidity: float

    @property
    def inside(self) -> float:
        """The latitude [rad], which rounding has not pushed past a pole."""
        return min(math.pi / 2, max(-math.pi / 2, self.latitude))

    @property
    def sky(self) -> float:
        """What the sky gives a flat panel that day [J/m2].

        Source: `solar.clear_sky_day`, `solar.sky_share`.
        """
        clear = solar.clear_sky_day(self.inside, self.day, self.turbidity, STEP)
        return clear * solar.sky_share(self.sunshine)

    def profile(self, air: Air) -> tuple[float, ...]:
        """Their power over the day [W].

        Source: `solar.irradiance_profile`, `solar.array_profile`.
        """
        light = solar.irradiance_profile(self.inside, self.day, self.sunshine, STEP, self.turbidity)
        return _array_profile(
            self.power, light, air.temperature, self.losses, coefficient=self.coefficient
        )


# The sun stays as it is while the reader changes the rest.
_array_profile = lru_cache(maxsize=8)(solar.array_profile)


@dataclass(frozen=True)
class Loads:
    """What the house takes [W]: at night to 08 h, by day to 18 h, in the evening to 23 h."""

    night: float
    day: float
    evening: float

    @property
    def profile(self) -> tuple[float, ...]:
        """Over a day [W]."""
        return _profile(self.night, self.day, self.evening)

    def between(self, start: float, hours: float) -> float:
        """Mean [W] over a stretch of the day that begins at `start` [s] and lasts `hours` [s]."""
        return mean(self.profile, energy_balance.window(1.0, start, hours))


@lru_cache(maxsize=64)
def _profile(night: float, day: float, evening: float) -> tuple[float, ...]:
    return energy_balance.daily_profile([night] * 8 + [day] * 10 + [evening] * 5 + [night])


def mean(profile: Sequence[float], weights: Sequence[float]) -> float:
    """Mean of a day's profile over the steps that the weights pick."""
    return float(sum(map(mul, profile, weights)) / (sum(weights) or 1.0))


def other_bank(bank: HouseBank, chemistry: str, capacity: float) -> HouseBank:
    """Another bank [C] in place: what was stated of the old one's inside is off.

    Its management, where it needs one, lets all through: how much that is, is told with the size.
    """
    managed = ANY_CURRENT if chemistries.CHEMISTRIES[chemistry].managed_rate else None
    made = replace(
        bank,
        chemistry=chemistry,
        capacity=capacity,
        resistance=None,
        current=None,
        managed=managed,
        managed_peak=None,
    )
    if chemistry == bank.chemistry:
        return made
    return replace(made, exponent=None, stated_depth=None)
