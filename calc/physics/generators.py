"""Generating sets: what they can carry on this boat, what a start does to them, what they burn."""

from __future__ import annotations

from dataclasses import dataclass

from calc.physics._require import not_negative, positive

LIGHT_LOAD = 0.30  # below it a diesel glazes and soots when run long; common practice, no source
SUBTRANSIENT_REACTANCE = 0.15  # per unit of a small alternator; common practice, no source

_INCH_OF_MERCURY = 3386.39  # Pa
_RANKINE = 1.8  # degrees Rankine per kelvin


@dataclass(frozen=True)
class WillansLine:
    """Fuel flow against power: `no_load` [m³/s] and `slope` [m³/J]."""

    no_load: float
    slope: float

    def at(self, power: float) -> float:
        """Fuel flow [m³/s] at an electrical power [W]."""
        return self.no_load + self.slope * not_negative(power, "the power")


def atmospheric_pressure(altitude: float) -> float:
    """Air pressure [Pa] at an altitude [m], 101325 (1 - 2.25577e-5 h)^5.25588.

    Valid to 11 km. Raises ValueError beyond it, or below -500 m.
    Source: ISO 2533 standard atmosphere.
    """
    if not -500 <= altitude <= 11000:
        raise ValueError("the altitude must lie between -500 m and 11 000 m")
    return float(101325 * (1 - 2.25577e-5 * altitude) ** 5.25588)


# (exponent of pressure, exponent of temperature)
_MANUAL_EXPONENTS = {
    "diesel": (1.0, 0.75),
    "turbo diesel": (0.7, 2.0),
    "intercooled diesel": (0.7, 1.2),
    "petrol": (1.0, 0.5),
}
ENGINES = tuple(_MANUAL_EXPONENTS)


def correction_factor(pressure: float, temperature: float, engine: str = "diesel") -> float:
    """Factor CF by which the rating is divided at a dry air pressure [Pa] and temperature [K].

    CF = 1.175 (29.2/p)^m ((T+460)/537)^n - 0.175, p in inHg, T in degF; `engine` is one of
    ENGINES. Raises ValueError for another engine. Source: marine generating set manual TP-7045
    (3/18), appendix C, the form of ISO 3046-1 with a mechanical efficiency of 0.80.
    """
    if engine not in _MANUAL_EXPONENTS:
        raise ValueError(f"the engine must be one of: {', '.join(ENGINES)}")
    m, n = _MANUAL_EXPONENTS[engine]
    inches = positive(pressure, "the air pressure") / _INCH_OF_MERCURY
    rankine = positive(temperature, "the air temperature") * _RANKINE + 0.33
    return float(1.175 * (29.2 / inches) ** m * (rankine / 537) ** n - 0.175)


def site_power(
    rated_power: float, altitude: float, temperature: float, engine: str = "diesel"
) -> float:
    """Power [W] that a set rated at 25 degC can give at an altitude [m] and intake air [K].

    Never more than the rating. Source: `correction_factor` and `atmospheric_pressure`.
    """
    factor = correction_factor(atmospheric_pressure(altitude), temperature, engine)
    return positive(rated_power, "the rating") / max(1.0, factor)


def source_reactance(
    voltage: float, apparent_power: float, per_unit: float = SUBTRANSIENT_REACTANCE
) -> float:
    """Internal reactance [ohm] of a set, X = x V^2 / S, from its per-unit reactance.

    Raises ValueError on zero volts or rating. Source: definition of per-unit reactance
    (IEC 60034-4).
    """
    not_negative(per_unit, "the per-unit reactance")
    return (
        per_unit
        * positive(voltage, "the voltage") ** 2
        / positive(apparent_power, "the set's apparent power")
    )


def short_time_power(rating: float, peak: float | None, peak_time: float, duration: float) -> float:
    """Power [W] that a set gives for a duration [s]: its short-time power while that lasts [s].

    Never less than the rating; no more where no short-time power is stated or the duration is
    longer. Source: common practice, no source: no interpolation in the buyer's favour.
    """
    positive(rating, "the rating")
    return rating if peak is None or duration > peak_time else max(rating, peak)


def fuel_flow(power: float, no_load: float, slope: float) -> float:
    """Fuel flow [m³/s] at an electrical power [W] by the Willans line, F = a + b P.

    `no_load` a [m³/s], `slope` b [m³/J]. Source: P. W. Willans, Min. Proc. ICE 1888: fuel or
    steam against load is nearly a straight line.
    """
    return WillansLine(
        not_negative(no_load, "the no-load fuel"), not_negative(slope, "the fuel slope")
    ).at(power)


def fuel_per_volume(fuel_flow: float, product_flow: float) -> float:
    """Fuel for a volume of fresh water [m³/m³] from a fuel and a product flow [m³/s].

    Raises ValueError without a product flow. Source: definition.
    """
    return not_negative(fuel_flow, "the fuel flow") / positive(
        product_flow, "the flow of fresh water"
    )
