"""The sun on a flat panel: clear and average days, panel heat and yield."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from calc.physics._require import fraction, not_negative, positive

SOLAR_CONSTANT = 0.0820e6 / 60  # W/m²; FAO-56 gives 0.0820 MJ m-2 min-1
DAY = 86400.0  # s
# Of a clear sky: 2 is cold dry air, 3 clean, 4 the humid tropics, 6 and more haze and dust.
# Common practice, no source.
LINKE_TURBIDITY = 4.0
STANDARD_IRRADIANCE = 1000.0  # W/m²
STANDARD_CELL_TEMPERATURE = 298.15  # K


def _latitude(latitude: float) -> float:
    if not abs(latitude) <= math.pi / 2:
        raise ValueError("the latitude must lie between 90° south and 90° north")
    return latitude


def _day(day: int) -> int:
    if not 1 <= day <= 366:
        raise ValueError("the day of the year must lie between 1 and 366")
    return day


def inverse_relative_distance(day: int) -> float:
    """Inverse relative distance Earth-Sun [ratio] on a day of the year, 1 + 0.033 cos(2 pi J/365).

    Source: FAO Irrigation and Drainage Paper 56 (1998), eq. 23.
    """
    return 1 + 0.033 * math.cos(2 * math.pi * _day(day) / 365)


def noon_declination(day: int) -> float:
    """Solar declination [rad] at noon of a day of the year 2026, the middle of a leap cycle.

    Good to 0.01 degrees in that year and to 0.25 in others. Source: low-precision formulas for the
    sun, The Astronomical Almanac, p. C5 (from memory; the tests hold them against pvlib).
    """
    days = 9496 + _day(day)  # since noon of 1 January 2000
    longitude = math.radians(280.460 + 0.9856474 * days)
    anomaly = math.radians(357.528 + 0.9856003 * days)
    longitude += math.radians(1.915 * math.sin(anomaly) + 0.020 * math.sin(2 * anomaly))
    return math.asin(math.sin(math.radians(23.436)) * math.sin(longitude))


def air_mass(sine: float) -> float:
    """Path through the air over that straight up [ratio], from the sine of the sun's elevation.

    1 / (sin e + 0.50572 (e + 6.07995)^-1.6364), e in degrees, for a sun above the horizon.
    Source: F. Kasten and A. T. Young, Applied Optics 28 (1989) 4735.
    """
    degrees = math.degrees(math.asin(min(1.0, sine)))
    return float(1 / (sine + 0.50572 * (degrees + 6.07995) ** -1.6364))


def clear_sky(sine: float, beyond: float, turbidity: float) -> float:
    """Clear-sky irradiance on a horizontal plane at the sea [W/m²].

    0.868 I sin e exp(-0.0387 m (1 + (TL - 1))): from the sine of the sun's elevation, the
    radiation I above the air [W/m²] and the Linke turbidity TL; nothing below the horizon.
    Source: P. Ineichen and R. Perez, Solar Energy 73 (2002) 151, at height 0 (the form that pvlib
    has; the tests hold it against that).
    """
    if sine <= 0:
        return 0.0
    return 0.868 * beyond * sine * math.exp(-0.0387 * air_mass(sine) * turbidity)


def sky_share(sunshine: float) -> float:
    """Radiation of an average day against a clear one [ratio], (0.25 + 0.50 n/N) / 0.75.

    Source: FAO Irrigation and Drainage Paper 56 (1998), eqs. 35 and 37.
    """
    return (0.25 + 0.50 * fraction(sunshine, "the share of sunshine")) / 0.75


@lru_cache(maxsize=8)
def irradiance_profile(
    latitude: float,
    day: int,
    sunshine: float = 1.0,
    step: float = 300.0,
    turbidity: float = LINKE_TURBIDITY,
) -> tuple[float, ...]:
    """Irradiance on a horizontal plane [W/m²] at the middle of each step [s] of a solar day.

    A clear sky by the sun's height, scaled by `sky_share`; solar noon at the middle. Raises
    ValueError for a step that does not divide the day and a turbidity below 1. Source:
    `clear_sky`, `sky_share`, `noon_declination`, `inverse_relative_distance`.
    """
    if not turbidity >= 1:
        raise ValueError("the turbidity of the sky can't be below 1, which is air without haze")
    count = steps_per_day(step)
    d = noon_declination(day)
    beyond = SOLAR_CONSTANT * inverse_relative_distance(day)
    share = sky_share(sunshine)
    high = math.sin(_latitude(latitude)) * math.sin(d)
    wide = math.cos(latitude) * math.cos(d)
    turn = 2 * math.pi / count
    profile = []
    for i in range(count):
        sine = high - wide * math.cos((i + 0.5) * turn)
        profile.append(share * clear_sky(sine, beyond, turbidity))
    return tuple(profile)


def steps_per_day(step: float) -> int:
    """Number of steps [s] in a day. Raises ValueError where it is not a whole number.

    Source: definition of a day of 86 400 s.
    """
    count = round(DAY / positive(step, "the time step"))
    if count < 1 or abs(count * step - DAY) > 1e-6:
        raise ValueError("the time step must divide the day")
    return count


def panel_temperature(ambient: float, irradiance: float, nominal: float = 320.15) -> float:
    """Cell temperature [K] of a panel in an irradiance [W/m²], Ta + (NOCT - 20 degC) G / 800.

    Ambient and nominal operating cell temperature in K; 47 degC unless the panel says otherwise.
    A panel laid on the deck without air behind runs hotter. Source: definition of the NOCT,
    IEC 61215.
    """
    positive(ambient, "the air temperature")
    return ambient + (nominal - 293.15) * not_negative(irradiance, "the irradiance") / 800


def panel_power(
    rated_power: float, irradiance: float, cell_temperature: float, coefficient: float = -0.0035
) -> float:
    """DC power [W], P0 (G/1000)(1 + g (Tc - 25 degC)), coefficient g in 1/K, Tc in K.

    Source: NREL/TP-6A20-62641, PVWatts Version 5 (2014).
    """
    heat = 1 + coefficient * (cell_temperature - STANDARD_CELL_TEMPERATURE)
    return (
        not_negative(rated_power, "the array's rating")
        * not_negative(irradiance, "the irradiance")
        / STANDARD_IRRADIANCE
        * max(0.0, heat)
    )


def array_profile(
    rated_power: float,
    irradiance: Sequence[float],
    ambient: float,
    loss: float,
    nominal: float = 320.15,
    coefficient: float = -0.0035,
) -> tuple[float, ...]:
    """Power of a flat array [W] at the DC bus in each irradiance [W/m²] of a day.

    Air temperature in K, `loss` the total after the panel [ratio]. Source: `panel_temperature`,
    `panel_power`.
    """
    left = 1 - fraction(loss, "the loss")
    return tuple(
        left * panel_power(rated_power, g, panel_temperature(ambient, g, nominal), coefficient)
        for g in irradiance
    )


def clear_sky_day(
    latitude: float, day: int, turbidity: float = LINKE_TURBIDITY, step: float = 300.0
) -> float:
    """Radiation on a horizontal plane over a clear day at sea level [J/m²], latitude in rad.

    Source: `irradiance_profile`, summed over the day in steps [s].
    """
    return day_energy(irradiance_profile(latitude, day, 1.0, step, turbidity), step)


def day_energy(profile: Sequence[float], step: float = 300.0) -> float:
    """Sum over a day: W to J, or W/m² to J/m², for a profile in steps [s]. Source: definition."""
    return math.fsum(profile) * positive(step, "the time step")
