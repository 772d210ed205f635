"""Insulation classes of motor windings: limits, rises, ambient derating, life, thermal protectors.

Temperatures in K (absolute), rises in K, loads and shares as ratios.
"""

from __future__ import annotations

from dataclasses import dataclass

REFERENCE_AMBIENT = 313.15
"""40 °C: the ambient that rated rises are stated for (IEC 60034-1, NEMA MG 1)."""

HALVING_STEP = 10.0
"""Warming [K] that halves the life of insulation by the usual rule."""

LIFE_RULE_SPAN = 30.0
"""Distance from the class temperature [K] beyond which the rule says little: the true step is
near 8 K for some systems and 12 K for others, so errors double with each few steps."""


@dataclass(frozen=True)
class InsulationClass:
    """One thermal class.

    limit: class temperature [K]. rise: allowed winding rise by resistance above 40 °C [K].
    running_limit: highest winding temperature that a built-in protector may let a running motor
    reach [K].
    """

    letter: str
    limit: float
    rise: float
    running_limit: float


CLASSES = {
    "A": InsulationClass("A", 378.15, 60, 413.15),
    "B": InsulationClass("B", 403.15, 80, 438.15),
    "F": InsulationClass("F", 428.15, 105, 463.15),
    "H": InsulationClass("H", 453.15, 125, 488.15),
}
"""NEMA MG 1 / IEC 60034-1 and IEC 60085: 105, 130, 155 and 180 °C. Running limits of 140, 165, 190
and 215 °C: NEMA MG 1 12.57, from memory."""


def insulation_class(letter: str) -> InsulationClass:
    """The class of a letter A, B, F or H. Raises ValueError for another letter.

    Source: as `CLASSES`.
    """
    try:
        return CLASSES[letter.upper()]
    except KeyError:
        raise ValueError(f"no insulation class {letter!r}: choose A, B, F or H") from None


def allowed_rise(letter: str, ambient: float = REFERENCE_AMBIENT) -> float:
    """Winding rise [K] allowed above an ambient [K].

    Above 40 °C the rise shrinks kelvin for kelvin; below 40 °C the rated rise stands.
    Source: IEC 60034-1 (ambient above 40 °C) and NEMA MG 1 12.43. Not below zero.
    Raises ValueError for an unknown class.
    """
    return max(0.0, insulation_class(letter).rise - max(0.0, ambient - REFERENCE_AMBIENT))


def relative_life(temperature: float, reference: float, step: float = HALVING_STEP) -> float:
    """Life of insulation at a temperature [K], as a multiple of its life at the reference [K].

    It halves with each step [K] of warming. Source: V. M. Montsinger's rule as used by I. Kosow,
    Electric Machinery and Transformers, chapter 13; a comparison, never a promise of hours.
    """
    return float(2.0 ** ((reference - temperature) / step))
