"""Beams that a unit stands on: shapes of bending, natural frequencies, mobility.

SI units: lengths in m, stiffnesses in N m², frequencies in Hz, mobilities in m/(N s).
"""

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

from calc.physics._require import positive
from calc.physics.sections import Edges

# Beam functions: shapes of a strip between two edges, ∫φ²dx = length


class BeamShape(NamedTuple):
    """g4 = (β/π)⁴; h = -∫φφ''/π² and j = ∫φ'²/π² for unit length; φ on 0..1."""

    g4: float
    h: float
    j: float
    at: Callable[[float], float]


_ROOTS_CC = (4.730040745, 7.853204624, 10.99560784, 14.13716549)
_ROOTS_CF = (1.875104069, 4.694091133, 7.854757438, 10.99554073)
_ROOTS_CS = (3.926602312, 7.068582746, 10.21017612, 13.35176878)


def _root(roots: Sequence[float], n: int, shift: float) -> float:
    return roots[n - 1] if n <= len(roots) else (n + shift) * math.pi


@lru_cache(maxsize=256)
def beam_shape(edges: Edges, n: int) -> BeamShape:
    """The n-th shape (from 1) of a strip; free ends count their rigid motions first.

    Source: R. D. Blevins, Formulas for Natural Frequency and Mode Shape, tables 8-1 and app. C.
    """
    if edges in ("SC", "FC", "FS"):
        mirror = beam_shape(edges[::-1], n)
        return mirror._replace(at=lambda s: mirror.at(1 - s))
    if edges == "SS":
        return BeamShape(n**4, n * n, n * n, lambda s: math.sqrt(2) * math.sin(n * math.pi * s))
    if edges == "FF" and n == 1:
        return BeamShape(0.0, 0.0, 0.0, lambda s: 1.0)
    if edges == "FF" and n == 2:
        return BeamShape(0.0, 0.0, 12 / math.pi**2, lambda s: math.sqrt(12) * (s - 0.5))
    if edges == "SF" and n == 1:
        return BeamShape(0.0, 0.0, 3 / math.pi**2, lambda s: math.sqrt(3) * s)
    if edges == "CF":
        b = _root(_ROOTS_CF, n, -0.5)
        lack = (math.sin(b) - math.cos(b) - math.exp(-b)) / (math.sinh(b) + math.sin(b))
        slope, curve, sign, mirrored = 2.0, -2.0, -1.0, False
    else:
        if edges in ("CC", "FF"):
            b = _root(_ROOTS_CC, n - 2 if edges == "FF" else n, 0.5)
            slope, curve = (6.0, -2.0) if edges == "FF" else (-2.0, -2.0)
        else:
            b = _root(_ROOTS_CS, n - 1 if edges == "SF" else n, 0.25)
            slope, curve = (3.0, -1.0) if edges == "SF" else (-1.0, -1.0)
        lack = (math.cos(b) - math.sin(b) - math.exp(-b)) / (math.sinh(b) - math.sin(b))
        sign = 1.0 if edges in ("FF", "SF") else -1.0
        mirrored = edges == "SF"
    ratio = 1 - lack  # σ of the handbooks; 1 - σ is kept apart, it would cancel for high modes
    sb = ratio * b

    def at(s: float) -> float:
        x = b * (1 - s if mirrored else s)
        growing = (lack * math.exp(x) + (2 - lack) * math.exp(-x)) / 2
        return growing + sign * (math.cos(x) - ratio * math.sin(x))

    h, j = sb * (sb + curve), sb * (sb + slope)
    return BeamShape((b / math.pi) ** 4, h / math.pi**2, j / math.pi**2, at)


class Resonator(NamedTuple):
    """Modes as a force at a place meets them: ω² [rad²/s²] and φ²/modal mass [1/kg]."""

    squared: float
    weight: float


# Beams


def rectangle_second_moment(width: float, depth: float) -> float:
    """Second moment of area [m⁴] of a rectangle [m]: b d³/12.

    Source: definition of the second moment of area.
    """
    positive(min(width, depth), "beam section")
    return float(width * depth**3 / 12)


def beam_frequency(
    youngs_modulus: float,
    second_moment: float,
    mass_per_length: float,
    length: float,
    ends: Edges = "SS",
    mode: int = 1,
) -> float:
    """Natural frequency [Hz] of a beam: (βL)²/(2πL²) √(EI/m).

    Source: R. D. Blevins, Formulas for Natural Frequency and Mode Shape, table 8-1.
    """
    positive(mass_per_length, "mass per length")
    positive(length, "beam length")
    g2 = math.sqrt(beam_shape(ends, mode).g4)
    return (
        math.pi / 2 * g2 / length**2 * math.sqrt(youngs_modulus * second_moment / mass_per_length)
    )


def beam_response(
    youngs_modulus: float,
    second_moment: float,
    mass_per_length: float,
    length: float,
    places: Sequence[float],
    ends: Edges = "SS",
    modes: int = 7,
) -> tuple[Resonator, ...]:
    """What a beam's modes do at places [m] along it, for `driven`.

    The mean of φ² over the places, as `panel_response`. Raises ValueError for places off the beam.
    Source: R. D. Blevins, Formulas for Natural Frequency and Mode Shape, table 8-1.
    """
    if not all(0 <= x <= length for x in places):
        raise ValueError("a mount stands off the beam")
    mass = mass_per_length * length * len(places)
    found = []
    for n in range(1, modes + 1):
        f = beam_frequency(youngs_modulus, second_moment, mass_per_length, length, ends, n)
        at = beam_shape(ends, n).at
        weight = sum(at(x / length) ** 2 for x in places) / mass
        found.append(Resonator((2 * math.pi * f) ** 2, weight))
    return tuple(found)


def infinite_beam_mobility(
    bending_stiffness: float, mass_per_length: float, frequency: float
) -> float:
    """Real part of the point mobility [m/(N s)] of an endless beam: 1/(4 m' c), c = (EI/m')¼ √ω.

    EI [N m²], m' [kg/m]; the whole mobility is (1 - j) times this. Source: L. Cremer, M. Heckl,
    E. E. Ungar, Structure-Borne Sound, ch. IV (from memory).
    """
    positive(bending_stiffness, "beam bending stiffness")
    positive(mass_per_length, "mass per length")
    positive(frequency, "frequency")
    speed = (bending_stiffness / mass_per_length) ** 0.25 * math.sqrt(2 * math.pi * frequency)
    return float(1 / (4 * mass_per_length * speed))
