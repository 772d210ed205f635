"""Chlorine in drinking water: how long it has to act, and how much bleach that takes."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right

from calc.physics._require import fraction, not_negative, positive

_MG_MIN_L = 0.06  # kg s/m³ in a mg min/L
_CHLORINE = 0.070906  # kg/mol, of Cl2
_HYPOCHLORITE = 0.074442  # kg/mol, of NaOCl

CHLORINES = (0.4, 0.6, 0.8, 1.0, 1.2, 1.4, 1.6, 1.8, 2.0, 2.2, 2.4, 2.6, 2.8, 3.0)
"""Free chlorine [mg/L] of the rows of the table of cysts."""

PHS = (6.0, 6.5, 7.0, 7.5, 8.0, 8.5, 9.0)
"""pH [number] of its columns; the first holds for less, too."""

# fmt: off
CYSTS: dict[float, tuple[tuple[int, ...], ...]] = {
    0.5: (
        (137, 163, 195, 237, 277, 329, 390),
        (141, 168, 200, 239, 286, 342, 407),
        (145, 172, 205, 246, 295, 354, 422),
        (148, 176, 210, 253, 304, 365, 437),
        (152, 180, 215, 259, 313, 376, 451),
        (155, 184, 221, 266, 321, 387, 464),
        (157, 189, 226, 273, 329, 397, 477),
        (162, 193, 231, 279, 338, 407, 489),
        (165, 197, 236, 286, 346, 417, 500),
        (169, 201, 242, 297, 353, 426, 511),
        (172, 205, 247, 298, 361, 435, 522),
        (175, 209, 252, 304, 368, 444, 533),
        (178, 213, 257, 310, 375, 452, 543),
        (181, 217, 261, 316, 382, 460, 552),
    ),
    5.0: (
        (97, 117, 139, 166, 198, 236, 279),
        (100, 120, 143, 171, 204, 244, 291),
        (103, 122, 146, 175, 210, 252, 301),
        (105, 125, 149, 179, 216, 260, 312),
        (107, 127, 152, 183, 221, 267, 320),
        (109, 130, 155, 187, 227, 274, 329),
        (111, 132, 158, 192, 232, 281, 337),
        (114, 135, 162, 196, 238, 287, 345),
        (116, 138, 165, 200, 243, 294, 353),
        (118, 140, 169, 204, 248, 300, 361),
        (120, 143, 172, 209, 253, 306, 368),
        (122, 146, 175, 213, 258, 312, 375),
        (124, 148, 178, 217, 263, 318, 382),
        (126, 151, 182, 221, 268, 324, 389),
    ),
    10.0: (
        (73, 88, 104, 125, 149, 177, 209),
        (75, 90, 107, 128, 153, 183, 218),
        (78, 92, 110, 131, 158, 189, 226),
        (79, 94, 112, 134, 162, 195, 234),
        (80, 95, 114, 137, 166, 200, 240),
        (82, 98, 116, 140, 170, 206, 247),
        (83, 99, 119, 144, 174, 211, 253),
        (86, 101, 122, 147, 179, 215, 259),
        (87, 104, 124, 150, 182, 221, 265),
        (89, 105, 127, 153, 186, 225, 271),
        (90, 107, 129, 157, 190, 230, 276),
        (92, 110, 131, 160, 194, 234, 281),
        (93, 111, 134, 163, 197, 239, 287),
        (95, 113, 137, 166, 201, 243, 292),
    ),
    15.0: (
        (49, 59, 70, 83, 99, 118, 140),
        (50, 60, 72, 86, 102, 122, 146),
        (52, 61, 73, 88, 105, 126, 151),
        (53, 63, 75, 90, 108, 130, 156),
        (54, 64, 76, 92, 111, 134, 160),
        (55, 65, 78, 94, 114, 137, 165),
        (56, 66, 79, 96, 116, 141, 169),
        (57, 68, 81, 98, 119, 144, 173),
        (58, 69, 83, 100, 122, 147, 177),
        (59, 70, 85, 102, 124, 150, 181),
        (60, 72, 86, 105, 127, 153, 184),
        (61, 73, 88, 107, 129, 156, 188),
        (62, 74, 89, 109, 132, 159, 191),
        (63, 76, 91, 111, 134, 162, 195),
    ),
    20.0: (
        (36, 44, 52, 62, 74, 89, 105),
        (38, 45, 54, 64, 77, 92, 109),
        (39, 46, 55, 66, 79, 95, 113),
        (39, 47, 56, 67, 81, 98, 117),
        (40, 48, 57, 69, 83, 100, 120),
        (41, 49, 58, 70, 85, 103, 123),
        (42, 50, 59, 72, 87, 105, 126),
        (43, 51, 61, 74, 89, 108, 129),
        (44, 52, 62, 75, 91, 110, 132),
        (44, 53, 63, 77, 93, 113, 135),
        (45, 54, 65, 78, 95, 115, 138),
        (46, 55, 66, 80, 97, 117, 141),
        (47, 56, 67, 81, 99, 119, 143),
        (47, 57, 68, 83, 101, 122, 146),
    ),
    25.0: (
        (24, 29, 35, 42, 50, 59, 70),
        (25, 30, 36, 43, 51, 61, 73),
        (26, 31, 37, 44, 53, 63, 75),
        (26, 31, 37, 45, 54, 65, 78),
        (27, 32, 38, 46, 55, 67, 80),
        (27, 33, 39, 47, 57, 69, 82),
        (28, 33, 40, 48, 58, 70, 84),
        (29, 34, 41, 49, 59, 72, 86),
        (29, 35, 42, 50, 60, 74, 88),
        (30, 35, 43, 51, 61, 75, 90),
        (30, 36, 44, 52, 62, 77, 92),
        (31, 37, 45, 53, 63, 78, 94),
        (31, 37, 46, 54, 64, 79, 95),
        (32, 38, 46, 55, 65, 81, 97),
    ),
}
# fmt: on
"""CT [mg min/L] by temperature [°C], chlorine and pH: EPA 815-R-20-003, table B-1."""

VIRUSES = {0.5: 12, 5.0: 8, 10.0: 6, 15.0: 4, 20.0: 3, 25.0: 2}
"""CT [mg min/L] by temperature [°C], pH 6 to 9: EPA 815-R-20-003, table B-2 (from memory: its
number)."""

COLDEST = 273.65
"""The coldest water [K] that the tables know."""

MOST_CHLORINE = 3e-3
"""The most free chlorine [kg/m³] that they know."""

HIGHEST_PH = 9.0
"""The highest pH [number] that they know."""


def _row(temperature: float) -> float:
    """The row of a table [°C] for a temperature [K]: the next one that is no warmer."""
    rows = tuple(CYSTS)
    warm = round(positive(temperature, "the temperature") - 273.15, 6)
    if warm < rows[0]:
        raise ValueError("the temperature must be 0.5 °C or more")
    return rows[bisect_right(rows, warm) - 1]


def _in_range(chlorine: float, ph: float) -> float:
    """The chlorine [mg/L]. Raises ValueError beyond the tables."""
    found = round(positive(chlorine, "the chlorine") * 1e3, 9)
    if found > CHLORINES[-1]:
        raise ValueError("the chlorine must be 3 mg/L or less")
    if not 0 <= ph <= HIGHEST_PH:
        raise ValueError("the pH must lie between 0 and 9")
    return found


def cysts_ct(chlorine: float, temperature: float, ph: float) -> float:
    """Free chlorine times time [kg s/m³] that kills 99.9 % of Giardia cysts, by the table.

    For the free chlorine that is left [kg/m³] at a temperature [K] and a pH [number]: of the next
    row that is no warmer, the next one with no less chlorine, and the next column that is no less
    in pH; nothing between them is made up. Raises ValueError below 0.5 °C, for no chlorine or more
    than 3 mg/L, and for a pH beyond 9. Source: US EPA, Disinfection Profiling and Benchmarking, EPA
    815-R-20-003 (2020), table B-1, 3-log; the same in 40 CFR 141.74.
    """
    found = _in_range(chlorine, ph)
    column = bisect_left(PHS, round(ph, 9))
    return CYSTS[_row(temperature)][bisect_left(CHLORINES, found)][column] * _MG_MIN_L


def cysts_ct_by_regression(chlorine: float, temperature: float, ph: float) -> float:
    """The same [kg s/m³] by EPA's regression: a rule of its own, never mixed with the table.

    For free chlorine [kg/m³], a temperature [K] and a pH [number]. Raises ValueError as
    `cysts_ct`. Source: the same manual, equations for 3-log, one below 12.5 °C and one above.
    """
    found, warm = _in_range(chlorine, ph), temperature - 273.15
    _row(temperature)
    if warm < 12.5:
        ct = 0.353 * 3 * (12.006 + math.exp(2.46 - 0.073 * warm + 0.125 * found + 0.389 * ph))
    else:
        ct = 0.361 * 3 * (-2.261 + math.exp(2.69 - 0.065 * warm + 0.111 * found + 0.361 * ph))
    return ct * _MG_MIN_L


def viruses_ct(temperature: float) -> float:
    """Free chlorine times time [kg s/m³] that kills 99.99 % of viruses, at a pH up to 9.

    For a temperature [K], of the next row that is no warmer. Raises ValueError below 0.5 °C.
    Source: EPA 815-R-20-003 (2020), the table of viruses, 4-log; the same in 40 CFR 141.74.
    """
    return VIRUSES[_row(temperature)] * _MG_MIN_L


def contact_time(ct: float, chlorine: float) -> float:
    """Time [s] that free chlorine [kg/m³] takes to reach a CT [kg s/m³].

    The chlorine is what is left at the end, not what was put in. Raises ValueError for none.
    Source: definition of CT, EPA 815-R-20-003.
    """
    return not_negative(ct, "the CT") / positive(chlorine, "the chlorine")


def bleach_for(volume: float, chlorine: float, strength: float) -> float:
    """Bleach [m³] of a strength [kg/m³ of available chlorine] that brings a volume of water [m³] to
    a dose of chlorine [kg/m³].

    Raises ValueError for a volume or a strength that is not above zero. Source: balance of mass,
    the bleach's own volume left out.
    """
    water = positive(volume, "the volume")
    return water * not_negative(chlorine, "the chlorine") / positive(strength, "the strength")


def chlorine_from(bleach: float, strength: float, volume: float) -> float:
    """The dose of chlorine [kg/m³] that bleach [m³] of a strength [kg/m³] makes in a volume [m³].

    Raises ValueError for no volume. Source: `bleach_for`, the other way round.
    """
    poured = not_negative(bleach, "the bleach") * not_negative(strength, "the strength")
    return poured / positive(volume, "the volume")


def available_chlorine(share: float, density: float) -> float:
    """Available chlorine [kg/m³] of bleach with a share [0..1] of its mass of sodium hypochlorite,
    of a density [kg/m³].

    Raises ValueError for a share outside 0 to 1. Source: molar masses, Cl2 70.906 and NaOCl
    74.442 g/mol.
    """
    hypochlorite = fraction(share, "the share") * positive(density, "the density")
    return hypochlorite * _CHLORINE / _HYPOCHLORITE


def bleach_fades(strength: float, temperature: float) -> float:
    """How fast bleach fades [m³/(mol s)] of a strength [kg/m³] kept at a temperature [K].

    The more salt, the faster; its salt is taken as that of bleach made of chlorine and lye, a mole
    to each of hypochlorite. Raises ValueError for a temperature that is not above zero. Source: B.
    D. Stanford and others, AWWA and Water Research Foundation, Hypochlorite: an Assessment of
    Factors That Influence the Formation of Perchlorate (2009), recalled from memory; held against a
    public table of pool keepers.
    """
    warm, ionic = positive(temperature, "the temperature"), 2e-3 * strength / _CHLORINE
    heat = math.exp(-1.018e5 / (8.314462618 * warm) - 56.5 / 8.314462618)
    return 1e-3 * 10 ** (0.149 * ionic) * 2.083e10 * warm * heat


def bleach_left(strength: float, age: float, temperature: float) -> float:
    """What is left of a bleach's strength [kg/m³] after an age [s] at a temperature [K].

    Second order, of clean bleach in the dark; light and dirt make it faster. Raises ValueError for
    a strength that is not above zero, and a negative age. Source: `bleach_fades`, integrated.
    """
    moles = positive(strength, "the strength") / _CHLORINE
    faded = bleach_fades(strength, temperature) * moles * not_negative(age, "the age")
    return strength / (1 + faded)
