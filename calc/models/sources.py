"""The boat's sources of power, out of what the boat sheet says: bank, inverter, alternator, sun."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import mul
from typing import Any

from ..frame import units
from ..frame.inputs import Refusal, Values
from ..frame.report import Line, line
from ..physics import alternators, batteries, energy_balance, generators, inverters, solar

STEP = energy_balance.STEP  # s, of a day's profiles

# Of a battery charger near its full output, for each 12 V block. Common practice, no source.
CHARGING_VOLTS, LITHIUM_CHARGING_VOLTS = 14.4, 14.2  # V


@dataclass(frozen=True)
class Inverter:
    """An inverter in the heat it stands in: ratings [VA] as derated, losses, hottest air [K]."""

    rated: float
    continuous: float
    surge: float
    losses: inverters.LossModel
    hottest: float = inverters.HOTTEST_AIR

    def dc_power(self, ac_power: float) -> float:
        """Power from the bank [W] for an AC power [W]."""
        return inverters.dc_power(ac_power, self.rated, self.losses)


def plate_of(q: Values) -> Any:
    """The motor's record, with what the form says of its start instead of the record's."""
    said = (
        "start",
        "start_factor",
        "start_time",
        "start_power_factor",
        "locked_rotor_current",
        "code_letter",
    )
    return Values({**vars(q.unit.motor), **{name: getattr(q, name) for name in said}})


def depth_of(q: Values, chemistry: str | None = None) -> float:
    """Depth of discharge allowed [ratio]: as stated, else what is usual for the chemistry."""
    if q.bank_depth is not None and chemistry in (None, q.bank_chemistry):
        return float(q.bank_depth)
    return batteries.CHEMISTRIES[chemistry or q.bank_chemistry].usable_depth.value


def bank_of(
    q: Values, chemistry: str | None = None, capacity: float | None = None
) -> batteries.Bank:
    """The house bank as it is today, or another of its voltage, age and temperature.

    Stated exponent and resistance belong to the bank that is there, not to another. Capacity in C.
    Source: `batteries.bank`.
    """
    own = chemistry in (None, q.bank_chemistry)
    return batteries.bank(
        batteries.CHEMISTRIES[chemistry or q.bank_chemistry],
        q.bank_capacity if capacity is None else capacity,
        q.bank_voltage,
        health=q.bank_health,
        temperature=q.bank_temperature,
        exponent=q.bank_exponent if own else None,
        resistance=q.bank_resistance if own and capacity is None else None,
        cut_off=q.inverter_cut_off if q.has_inverter else None,
    )


@dataclass(frozen=True)
class Charger:
    """What a charger takes from the mains while it gives a current: real [W], non-active [var]."""

    real: float
    reactive: float


def charger_at(q: Values, amps: float) -> Charger:
    """The charger of the form at an output [A], at its charging voltage.

    A plain rectifier's amperes are distorted more than shifted; added to a motor's as if they were
    shifted, they load the source at least as much as in truth.
    Source: definitions of efficiency and power factor.
    """
    volts = q.charger_voltage or q.bank_voltage / batteries.BLOCK_VOLTAGE * (
        LITHIUM_CHARGING_VOLTS if q.bank_chemistry == "lifepo4" else CHARGING_VOLTS
    )
    real = amps * volts / q.charger_efficiency
    return Charger(real, real * math.sqrt(1 / q.charger_power_factor**2 - 1))


def charging_ban(q: Values, bank: batteries.Bank) -> Line | None:
    """Why this bank must not be charged at its temperature, or None where it may be.

    Source: `batteries.charge_rate_limit`.
    """
    if batteries.charge_rate_limit(bank.chemistry, bank.temperature) > 0:
        return None
    cold, hot = bank.chemistry.charge_coldest.value, bank.chemistry.charge_hottest.value
    template, limit = "never charge {k} below {m}: the bank is at {t}", cold
    if bank.temperature > hot:
        template, limit = "{k} must not be charged above {m}: the bank is at {t}", hot
    return line(template, k=bank.chemistry.name, m=(limit, "°C"), t=(q.bank_temperature, "°C"))


def taken(q: Values, bank: batteries.Bank, offered: float, drawn: float) -> float:
    """Current [A] that a source gives of what it offers: what is drawn meanwhile and what the bank
    takes, charged as far as it is. Source: `batteries.acceptance`.
    """
    return min(offered, drawn + batteries.acceptance(bank, q.bank_charge))


def discharge_limit(q: Values, bank: batteries.Bank) -> tuple[float, str]:
    """Current [A] that the bank bears for hours, and in words where that comes from.

    As stated for the bank; else the chemistry's rate, of what age and cold have left. A lithium
    bank whose management is stated bears what its cells are made for, of its capacity when new.
    Source: the chemistry's `discharge_rate` and `managed_rate`.
    """
    kind = bank.chemistry
    if q.bank_current is not None:
        return float(q.bank_current), "the limit: as stated"
    if kind.managed_rate and q.bank_bms is not None:
        rate = batteries.interpolate(kind.managed_rate, bank.temperature)
        return rate * q.bank_capacity / batteries.HOUR, (
            f"the limit: {rate:g} A for each Ah of {kind.name} that a management looks after"
        )
    rate = kind.discharge_rate.value
    return rate * bank.capacity / batteries.HOUR, (
        f"the limit: {rate:g} A for each Ah of {kind.name} that age and cold have left"
    )


def start_limit(q: Values) -> tuple[float | None, str]:
    """Current [A] that the battery management lets through for a start, and how it is known.

    Its limit for seconds where the start is over by then, else that for hours; None where neither
    says. Source: the battery's own sheet.
    """
    hours, seconds = q.bank_bms, q.bank_bms_peak
    if hours is not None and seconds is not None and seconds < hours:
        raise Refusal(
            "bank_bms_peak",
            "can't be below the management's limit for hours, " + units.text(hours, "A"),
        )
    if seconds is None:
        return hours, "held to the management's limit for hours: none for seconds is given"
    if q.start_time <= q.bank_bms_time:
        return float(seconds), "its limit for seconds"
    return hours, "its limit for hours: the start outlasts that for seconds"


def inverter_of(q: Values) -> Inverter:
    """The inverter at its place. Refuses ratings that no inverter can have.

    Source: `inverters.loss_model`, `inverters.power_for`, `inverters.temperature_derating`.
    """
    if q.inverter_surge < q.inverter_power:
        raise Refusal("inverter_surge", "a surge rating can't be below the continuous rating")
    try:
        losses = inverters.loss_model(q.inverter_power, q.inverter_idle, q.inverter_efficiency)
    except ValueError as error:
        raise Refusal("inverter_idle", str(error)) from None
    share = inverters.temperature_derating(q.ambient_temperature)
    surge = inverters.power_for(
        q.start_time, q.inverter_power, [(q.inverter_surge_time, q.inverter_surge)]
    )
    hottest = inverters.HOTTEST_AIR if q.inverter is None else q.inverter.ambient_limit
    return Inverter(q.inverter_power, q.inverter_power * share, surge * share, losses, hottest)


def alternator_current(q: Values) -> float:
    """Hot output [A] at the engine's charging speed: as stated, else off the record's curve.

    Source: `alternators.output`.
    """
    if q.alternator_current is not None:
        return float(q.alternator_current)
    if q.alternator is None:
        raise Refusal(
            "alternator_current", "needs a value, such as 40 A, or choose an alternator above"
        )
    curve = q.alternator.output
    return alternators.output(
        q.engine_speed,
        q.alternator.pulley_ratio,
        [point.speed for point in curve],
        [point.current for point in curve],
    )


def alternator_matches(q: Values) -> bool:
    """Whether the alternator charges at a voltage that the bank can take."""
    if q.alternator is None:
        return True
    share = float(q.alternator.voltage) / float(q.bank_voltage)
    return 1.0 < share < 1.35


def mains_match(q: Values, source: Any, voltage: str) -> bool:
    """Whether a record's own mains [V, Hz] are those stated for the boat, within 10 % and 5 %."""
    if source is None:
        return True
    volts = float(getattr(source, voltage)) / float(q.ac_voltage)
    hertz = float(source.frequency) / float(q.ac_frequency)
    return 0.9 <= volts <= 1.1 and 0.95 <= hertz <= 1.05


def site_share(q: Values) -> float:
    """Share of the generator's rating left by height and heat. Source: `generators.site_power`."""
    return generators.site_power(1.0, q.altitude, q.ambient_temperature, q.fuel)


def house_profile(q: Values) -> tuple[float, ...]:
    """House load over a day [W]: night to 08 h, day to 18 h, evening to 23 h."""
    return _house_profile(q.house_night, q.house_day, q.house_evening)


@lru_cache(maxsize=64)
def _house_profile(night: float, day: float, evening: float) -> tuple[float, ...]:
    return energy_balance.daily_profile([night] * 8 + [day] * 10 + [evening] * 5 + [night])


def house_load(q: Values) -> float:
    """Mean house load [W] over the hours of water-making."""
    loads = (q.house_night, q.house_day, q.house_evening)
    return _load_between(loads, q.water_start, q.run_hours)


@lru_cache(maxsize=256)
def _load_between(loads: tuple[float, float, float], start: float, hours: float) -> float:
    return mean(_house_profile(*loads), energy_balance.window(1.0, start, hours))


def mean(profile: Sequence[float], weights: Sequence[float]) -> float:
    """Mean of a day's profile over the steps that the weights pick."""
    return float(sum(map(mul, profile, weights)) / (sum(weights) or 1.0))


def array_profile(q: Values) -> tuple[float, ...]:
    """Power of the panels over the stated day [W], lying flat.

    Source: `solar.irradiance_profile`, `solar.array_profile`.
    """
    day = q.day.timetuple().tm_yday
    light = solar.irradiance_profile(_inside(q.latitude), day, q.sunshine, STEP, q.turbidity)
    heat = q.array.temperature_coefficient if q.array is not None else -0.0035
    return solar.array_profile(
        q.array_power, light, q.ambient_temperature, q.array_losses, coefficient=heat
    )


def _inside(latitude: float) -> float:
    """A latitude [rad] that rounding has not pushed past a pole."""
    return min(math.pi / 2, max(-math.pi / 2, latitude))
