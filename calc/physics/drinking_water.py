"""What is in fresh water from the sea: how it tastes, its boron and sodium, what hardens it."""

from __future__ import annotations

import math
from bisect import bisect_right
from itertools import pairwise

from calc.physics._require import fraction, not_negative, positive

TASTES = (0.3, 0.6, 0.9, 1.2)
"""Salt [kg/m³] at which WHO's taste goes from excellent to good, fair, poor and unacceptable."""

BORON_GUIDELINE = 2.4e-3
"""Boron [kg/m³] by WHO's guideline for drinking water: quoted, its own inputs don't give it."""

SODIUM = 0.3065958
"""Share of sodium in sea salt [number]: TEOS-10's reference composition."""

_CARBONATE, _CARBON_DIOXIDE, _CALCIUM = 100.087, 44.010, 40.078  # g/mol
_SALT = 0.058443  # kg/mol, of NaCl

# Equivalent conductivity [S m²/mol] of sodium chloride at 25 °C by its concentration [mol/L].
_EQUIVALENT = (
    (0.0, 0.012639),
    (0.0005, 0.012444),
    (0.001, 0.012368),
    (0.005, 0.012059),
    (0.01, 0.011845),
    (0.02, 0.011570),
    (0.05, 0.011101),
    (0.1, 0.010669),
)


def taste(salt: float) -> int:
    """The band of taste of water with so much salt [kg/m³]: 0 for excellent to 4 for unacceptable.

    Raises ValueError for a negative salt. Source: WHO, Total Dissolved Solids in Drinking-water,
    background document (2003): below 300 mg/L, 600, 900, 1200, and beyond.
    """
    return bisect_right(TASTES, round(not_negative(salt, "the salt"), 12))


def equivalent_conductivity(salt: float) -> float:
    """Equivalent conductivity [S m²/mol] at 25 °C of water with sodium chloride [kg/m³].

    Between the table's values by the square root of the concentration. Raises ValueError outside 0
    to 5.8 kg/m³. Source: CRC Handbook of Chemistry and Physics, equivalent conductivity of
    electrolytes (recalled from memory; Kohlrausch's law and Onsager's slope agree to 1 % below
    0.01 mol/L).
    """
    moles = not_negative(salt, "the salt") / _SALT * 1e-3
    if moles > _EQUIVALENT[-1][0]:
        raise ValueError("the salt must be 5.8 g/L or less")
    root = math.sqrt(moles)
    (low, first), (high, last) = next(pair for pair in pairwise(_EQUIVALENT) if moles <= pair[1][0])
    return first + (last - first) * (root - math.sqrt(low)) / (math.sqrt(high) - math.sqrt(low))


def salt_conductivity(salt: float) -> float:
    """Conductivity [S/m] at 25 °C of water with sodium chloride [kg/m³]: what a meter that shows
    NaCl had in it.

    Raises ValueError outside 0 to 5.8 kg/m³. Source: `equivalent_conductivity`.
    """
    return equivalent_conductivity(salt) * salt / _SALT


def boron_of_sea(practical: float) -> float:
    """Boron [kg/m³] in sea water of a practical salinity [number].

    4.5 mg/L at 35, and in proportion. Raises ValueError for a negative salinity. Source: reviews of
    desalination give 4 to 5 mg/L; boron goes with salinity (L. R. Uppström, Deep-Sea Res. 21
    (1974) 161, from memory).
    """
    return 4.5e-3 * not_negative(practical, "the salinity") / 35


def passed(sea: float, passage: float) -> float:
    """What a membrane lets through [kg/m³] of what is in the sea [kg/m³], by its passage [0..1].

    Raises ValueError for a passage outside 0 to 1. Source: definition of passage.
    """
    return not_negative(sea, "the sea's") * fraction(passage, "the passage")


def blend(volume: float, salt: float, added: float, its_salt: float) -> float:
    """Salt [kg/m³] of a volume [m³] with salt [kg/m³] after a volume was added with its salt.

    Raises ValueError where both volumes are zero. Source: balance of mass.
    """
    whole = positive(not_negative(volume, "the volume") + added, "the volume together")
    return (volume * not_negative(salt, "the salt") + added * its_salt) / whole


def calcite_for(volume: float, rise: float) -> float:
    """Calcite [kg] that raises the hardness of a volume [m³] by so much [kg/m³ as CaCO3].

    Raises ValueError for a volume that is not above zero. Source: balance of mass; all of it
    dissolves.
    """
    return positive(volume, "the volume") * not_negative(rise, "the rise")


def carbon_dioxide_for(rise: float) -> float:
    """Carbon dioxide [kg/m³] that calcite uses up for a rise of hardness [kg/m³ as CaCO3].

    Raises ValueError for a negative rise. Source: CaCO3 + CO2 + H2O = Ca(HCO3)2, a mole to a mole.
    """
    return not_negative(rise, "the rise") * _CARBON_DIOXIDE / _CARBONATE


def calcium_of(hardness: float) -> float:
    """Calcium [kg/m³] in a hardness [kg/m³ as CaCO3] that is all of calcium.

    Raises ValueError for a negative hardness. Source: molar masses, Ca 40.078 of CaCO3 100.087.
    """
    return not_negative(hardness, "the hardness") * _CALCIUM / _CARBONATE
