"""Sea water: its density, viscosity, vapour pressure and osmotic pressure."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

GAS_CONSTANT = 8.314462618  # J/(mol K)
_MEAN_MOLAR_MASS = 0.0314038218  # kg/mol of sea salt, TEOS-10
MOST_SALT = 0.120  # kg/kg, as far as the relations go
_ENOUGH_SALT = 0.2  # kg/kg: the osmotic pressure of this is beyond what any membrane bears
_ROOT = math.sqrt(24.8826675584615)  # x of the relation over the root of the salinity
_COLDEST, _HOTTEST = 268.15, 373.15  # K


@dataclass(frozen=True)
class Isotherm:
    """Sea water of one temperature [K]: the terms of its density in powers of the salinity, and of
    its osmotic pressure over the salinity in powers of the root of it."""

    temperature: float
    density_terms: tuple[float, float, float]
    osmotic_terms: tuple[float, float, float, float, float, float]

    def density(self, salinity: float) -> float:
        """Density [kg/m³] of a salinity [kg/kg]."""
        a, b, c = self.density_terms
        return a + salinity * (b + salinity * c)

    def salinity(self, concentration: float) -> float:
        """Salinity [kg/kg] of a concentration [kg/m³]."""
        a, b, c = self.density_terms
        s = concentration / (a + b * concentration / a)
        s -= (s * (a + s * (b + s * c)) - concentration) / (a + s * (2 * b + 3 * c * s))
        return s - (s * (a + s * (b + s * c)) - concentration) / (a + s * (2 * b + 3 * c * s))

    def osmotic_pressure(self, salinity: float) -> float:
        """Osmotic pressure [Pa] of a salinity [kg/kg]; never falls as that grows."""
        s = min(salinity, _ENOUGH_SALT)
        r = math.sqrt(s)
        a, b, c, d, e, f = self.osmotic_terms
        return s * (a + r * (b + r * (c + r * (d + r * (e + r * f)))))

    def osmotic_of(self, concentration: float) -> float:
        """Osmotic pressure [Pa] of a concentration [kg/m³]."""
        return self.osmotic_pressure(self.salinity(concentration))


@lru_cache(maxsize=64)
def isotherm(temperature: float) -> Isotherm:
    """Sea water of a temperature [K] from −5 to 100 °C. Raises ValueError outside.

    The salt as moles in a kilogram of water, with the osmotic coefficient phi, makes an osmotic
    pressure [Pa] of phi m R T rho, rho the density of the water without the salt.
    Source: phi by TEOS-10, gsw_osmotic_coefficient_t_exact at the surface; the density by
    Sharqawy, Lienhard and Zubair, Desalination and Water Treatment 16 (2010), eq. 8.
    """
    if not _COLDEST <= temperature <= _HOTTEST:
        raise ValueError("the sea's temperature must lie between −5 and 100 °C")
    t = temperature - 273.15
    y = t / 40
    terms = (
        72.31916621570606 + 10.59039593127674 * y,
        -30.25914694794813 + y * (-6.138647522851840
            + y * (-0.5358042980767074 + y * (-0.1246962174707332 + y * 0.01089364009088042))),
        50.40733670521486 + y * (13.53207379758663 + y * (-1.705887283375562
            + y * (1.228376913546017 + y * (-0.4264828939262248 + y * 0.06213127679460041)))),
        -40.74543321119333 - 7.316560781114737 * y,
        18.64215613820487 + 1.829232499785750 * y,
        -3.022566485046178,
    )  # fmt: skip
    density = (
        999.9 + 0.02034 * t - 6.162e-3 * t**2 + 2.261e-5 * t**3 - 4.657e-8 * t**4,
        802.0 - 2.001 * t + 0.01677 * t**2 - 3.060e-5 * t**3,
        -1.613e-5 * t**2,
    )
    scale = 3.777007343340624 / _MEAN_MOLAR_MASS * GAS_CONSTANT * density[0]
    a, b, c, d, e, f = (scale * term * _ROOT**n for n, term in enumerate(terms))
    return Isotherm(temperature, density, (a, b, c, d, e, f))


def _salt(salinity: float) -> float:
    """A salinity [kg/kg] that the relations hold for. Raises ValueError outside."""
    if not 0 <= salinity <= MOST_SALT:
        raise ValueError("the salinity must lie between 0 and 120 g/kg")
    return salinity


def osmotic_pressure(salinity: float, temperature: float) -> float:
    """Osmotic pressure [Pa] of sea water of a salinity [kg/kg] and temperature [K].

    For 0 to 120 g/kg; raises ValueError outside. Source: `isotherm`: TEOS-10 (IOC, SCOR and
    IAPSO 2010), 0.3 % below its exact value at the most.
    """
    return isotherm(temperature).osmotic_pressure(_salt(salinity))


def density(salinity: float, temperature: float) -> float:
    """Density [kg/m³] of sea water of a salinity [kg/kg] and temperature [K].

    For 0 to 120 g/kg; raises ValueError outside. Source: Sharqawy, Lienhard and Zubair,
    Desalination and Water Treatment 16 (2010), eq. 8 (0.1 % stated).
    """
    return isotherm(temperature).density(_salt(salinity))


def viscosity(salinity: float, temperature: float) -> float:
    """Dynamic viscosity [Pa s] of sea water of a salinity [kg/kg] and temperature [K].

    For 0 to 120 g/kg; raises ValueError outside. Source: Sharqawy, Lienhard and Zubair (2010),
    eqs. 22 and 23 (1.5 % stated).
    """
    s, t = _salt(salinity), isotherm(temperature).temperature - 273.15
    water = 4.2844e-5 + 1 / (0.157 * (t + 64.993) ** 2 - 91.296)
    a = 1.541 + 1.998e-2 * t - 9.52e-5 * t**2
    b = 7.974 - 7.561e-2 * t + 4.724e-4 * t**2
    return water * (1 + a * s + b * s**2)


def vapour_pressure(salinity: float, temperature: float) -> float:
    """Vapour pressure [Pa], absolute, of sea water of a salinity [kg/kg] and temperature [K].

    For 0 to 120 g/kg; raises ValueError outside. Source: the water's by IAPWS-IF97 (2007), eq. 30;
    the salt by Raoult's law, Sharqawy, Lienhard and Zubair (2010), eq. 32.
    """
    s, k = _salt(salinity), isotherm(temperature).temperature
    theta = k - 0.23855557567849 / (k - 0.65017534844798e3)
    a = theta**2 + 0.11670521452767e4 * theta - 0.72421316703206e6
    b = -0.17073846940092e2 * theta**2 + 0.12020824702470e5 * theta - 0.32325550322333e7
    c = 0.14915108613530e2 * theta**2 - 0.48232657361591e4 * theta + 0.40511340542057e6
    water = 1e6 * (2 * c / (-b + math.sqrt(b**2 - 4 * a * c))) ** 4
    return water / (1 + 0.57357 * s / (1 - s))
