"""Sea water: the pressure below which no fresh water leaves it."""

from __future__ import annotations

from calc.physics._require import positive

GAS_CONSTANT = 8.314462618  # J/(mol K)
_MEAN_MOLAR_MASS = 0.0314038218  # kg/mol of sea salt, TEOS-10


def osmotic_pressure(salinity: float, temperature: float) -> float:
    """Osmotic pressure [Pa] of sea water of a salinity [kg/kg] and temperature [K].

    phi m R T rho, the salt as moles in a kilogram of water, rho the water's density, phi the
    osmotic coefficient; for 10 to 120 g/kg. Raises ValueError outside.
    Source: Sharqawy, Lienhard and Zubair, Desalination and Water Treatment 16 (2010), eqs. 8 and 49
    (2.6 % stated).
    """
    if not 0.010 <= salinity <= 0.120:
        raise ValueError("the salinity must lie between 10 and 120 g/kg")
    t = positive(temperature, "the temperature") - 273.15
    phi = (
        0.89453 + 4.1561e-4 * t - 4.6262e-6 * t**2 + 2.2211e-11 * t**4
        + salinity * (-0.11445 - 1.4783e-3 * t - 1.3526e-8 * t**3)
        + salinity**2 * (7.0132 + 0.05696 * t - 2.8624e-4 * t**2)
    )  # fmt: skip
    density = 999.9 + 0.02034 * t - 6.162e-3 * t**2 + 2.261e-5 * t**3 - 4.657e-8 * t**4
    moles = salinity / ((1 - salinity) * _MEAN_MOLAR_MASS)
    return phi * moles * GAS_CONSTANT * temperature * density
