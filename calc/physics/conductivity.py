"""Salt by its conductivity: the practical salinity, and what a meter reads in fresh water."""

from __future__ import annotations

import math
from functools import lru_cache

from calc.physics import seawater
from calc.physics._require import not_negative, positive
from calc.physics.roots import crossing

SALT_OF_PRACTICAL = 35.16504e-3 / 35  # kg/kg for each unit of practical salinity, TEOS-10
_OCEAN = 4.2914  # S/m, of practical salinity 35 at 15 °C
_A = (0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081)
_B = (0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144)
_C = (0.6766097, 2.00564e-2, 1.104259e-4, -6.9698e-7, 1.0031e-9)
SCALE = 2.0, 42.0  # of practical salinity, as far as the scale goes: PSS-78
_MOST = 60.0  # of practical salinity, stretched: no sea has more


@lru_cache(maxsize=64)  # a search asks at one temperature many times
def _at(temperature: float) -> tuple[float, float, tuple[float, ...]]:
    """What depends on the temperature [K] alone: the sea of 35's conductivity over that at 15 °C,
    how far off 15 °C it is, and the terms of the salinity."""
    t = 1.00024 * (positive(temperature, "the temperature") - 273.15)  # of 1968
    warm = (t - 15) / (1 + 0.0162 * (t - 15))
    of_ocean = sum(c * t**n for n, c in enumerate(_C))
    return of_ocean, warm, tuple(a + warm * b for a, b in zip(_A, _B, strict=True))


def practical_salinity(conductivity: float, temperature: float) -> float:
    """Practical salinity [number] of a conductivity [S/m] at a temperature [K], at the surface.

    Raises ValueError for a negative conductivity. Source: PSS-78 (UNESCO Technical Papers in Marine
    Science 44, 1983); below 2 with the terms of Hill, Dauphinee and Woods, IEEE J. Ocean. Eng. 11
    (1986) 109-112.
    """
    return _practical(not_negative(conductivity, "the conductivity"), _at(temperature))


def _practical(conductivity: float, at: tuple[float, float, tuple[float, ...]]) -> float:
    of_ocean, warm, (a, b, c, d, e, f) = at
    r = conductivity / _OCEAN / of_ocean
    root = math.sqrt(r)
    found = a + root * (b + root * (c + root * (d + root * (e + root * f))))
    if found < SCALE[0]:
        x, y = 400 * r, 10 * root
        found -= 0.008 / (1 + 1.5 * x + x * x) + 0.0005 * warm / (1 + y + y * y + y**3)
    return max(0.0, found)


def conductivity_of(practical: float, temperature: float) -> float:
    """Conductivity [S/m] of a practical salinity [number] at a temperature [K], at the surface.

    Raises ValueError outside 0 to 60, and for a temperature outside -2 to 40 °C. Source:
    `practical_salinity`, the other way round; stretched above 42.
    """
    if not 0 <= practical <= _MOST:
        raise ValueError("the practical salinity must lie between 0 and 60")
    if not 271.15 <= temperature <= 313.15:
        raise ValueError("the temperature must lie between -2 and 40 °C")
    at = _at(temperature)
    return crossing(lambda c: _practical(c, at) - practical, 0.0, 14.0, 1e-8)


@lru_cache(maxsize=64)  # most faults leave the product's salt as it is
def meter_reading(concentration: float) -> float:
    """Conductivity [S/m] at 25 °C of water with a concentration [kg/m³] of sea salt.

    Raises ValueError outside 0 to 60 kg/m³. Source: `practical_salinity`, the other way round;
    stretched above 42 of practical salinity, which no fresh water has.
    """
    if not 0 <= concentration <= 60:
        raise ValueError("the salt must lie between 0 and 60 g/L")
    if concentration == 0:
        return 0.0
    warm = seawater.isotherm(298.15)
    return conductivity_of(warm.salinity(concentration) / SALT_OF_PRACTICAL, 298.15)


def salt_by_meter(conductivity: float, temperature: float) -> float:
    """Concentration [kg/m³] of sea salt in water of a conductivity [S/m] at a temperature [K], as
    it is at 25 °C.

    Raises ValueError for a negative conductivity. Source: `practical_salinity`, and TEOS-10's
    salt for it; density by Sharqawy, Lienhard and Zubair (2010), eq. 8.
    """
    salinity = practical_salinity(conductivity, temperature) * SALT_OF_PRACTICAL
    return salinity * seawater.density(salinity, 298.15)
