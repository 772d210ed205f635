"""Properties of air near one atmosphere, from -20 °C to 100 °C.

SI units throughout: temperatures in K (absolute), pressures in Pa, densities in kg/m³.
The density agrees with Y. A. Çengel, Heat and Mass Transfer, table A-15 ("Properties of air at 1
atm pressure"), within 1 %.
"""

from __future__ import annotations

import math

from calc.physics._require import fraction, positive

ATMOSPHERE = 101_325.0
"""Standard atmosphere [Pa]."""

GAS_CONSTANT = 287.05
"""Specific gas constant of dry air [J/(kg K)]."""

HEAT_CAPACITY = 1007.0
"""Isobaric heat capacity of dry air [J/(kg K)]; Çengel table A-15 gives 1006 to 1009 for 0 to
100 °C."""

ZERO_CELSIUS = 273.15
"""0 °C in K."""

# Ratio of the molar masses of water and dry air: what moist air weighs less than dry air.
_VAPOUR_RATIO = 0.621945


def density(
    temperature: float, pressure: float = ATMOSPHERE, relative_humidity: float = 0.0
) -> float:
    """Density of (moist) air [kg/m³], an ideal mixture of dry air and water vapour.

    temperature [K], pressure [Pa], relative_humidity [0..1].
    Source: ASHRAE Handbook Fundamentals, chapter Psychrometrics (ideal gas relations).
    Raises ValueError for a temperature or pressure that is not positive or a humidity outside 0..1.
    """
    positive(temperature, "the absolute temperature")
    positive(pressure, "the air pressure")
    vapour = vapour_pressure(temperature, relative_humidity) if relative_humidity else 0.0
    return (pressure - (1 - _VAPOUR_RATIO) * vapour) / (GAS_CONSTANT * temperature)


def saturation_pressure(temperature: float) -> float:
    """Saturation pressure of water vapour over liquid water [Pa] at a temperature [K].

    Source: O. A. Alduchov and R. E. Eskridge, Improved Magnus form approximation of saturation
    vapor pressure, J. Appl. Meteorol. 35 (1996) 601-609; within 0.4 % from -40 to 50 °C.
    """
    celsius = temperature - ZERO_CELSIUS
    return 610.94 * math.exp(17.625 * celsius / (celsius + 243.04))


def vapour_pressure(temperature: float, relative_humidity: float) -> float:
    """Partial pressure of water vapour [Pa] in air at a temperature [K] and humidity [0..1].

    Raises ValueError for a humidity outside 0..1. Source: definition of relative humidity.
    """
    return fraction(relative_humidity, "the relative humidity") * saturation_pressure(temperature)


def dew_point(temperature: float, relative_humidity: float) -> float:
    """Dew point [K] of air at a temperature [K] and relative humidity (0 < humidity <= 1).

    A face colder than this sweats. Source: as saturation_pressure, solved for the temperature.
    Raises ValueError for a humidity outside that range.
    """
    positive(relative_humidity, "the relative humidity")
    log = math.log(vapour_pressure(temperature, relative_humidity) / 610.94)
    return ZERO_CELSIUS + 243.04 * log / (17.625 - log)
