"""How a weight heels and trims a hull: moments, second moments of the waterplane, metacentres."""

from __future__ import annotations

import math

from . import _require

PARABOLIC_AREA = 2 / 3
"""Area of a waterplane between two parabolas over the rectangle round it: the integral."""


def waterplane_across(length: float, beam: float) -> float:
    """Second moment [m4] about its centreline of a waterplane between two parabolas, pointed at
    both ends: length [m], beam [m].

    I = 4/105 L B³, the integral of 2/3 y³ along it; a rectangle has 1/12. Source: Barrass and
    Derrett, Ship Stability for Masters and Mates, second moments of area. Raises ValueError
    unless both are above 0.
    """
    _require.positive(length, "length")
    _require.positive(beam, "beam")
    return 4 / 105 * length * beam**3


def waterplane_along(length: float, beam: float) -> float:
    """Second moment [m4] about its middle, athwart, of a waterplane between two parabolas, pointed
    at both ends: length [m], beam [m].

    I = 1/30 B L³, the integral of 2 x² y along it; a rectangle has 1/12. Source: Barrass and
    Derrett, Ship Stability for Masters and Mates, second moments of area. Raises ValueError
    unless both are above 0.
    """
    _require.positive(length, "length")
    _require.positive(beam, "beam")
    return beam * length**3 / 30


def metacentric_radius(second_moment: float, volume: float) -> float:
    """Height [m] of the metacentre over the centre of buoyancy: second moment of the waterplane
    [m4] over the volume displaced [m3].

    BM = I / V. Source: Barrass and Derrett, Ship Stability for Masters and Mates. Raises ValueError
    unless both are above 0.
    """
    _require.positive(second_moment, "second moment")
    _require.positive(volume, "volume")
    return second_moment / volume


def tilt(mass: float, arm: float, displacement: float, metacentric_height: float) -> float:
    """Angle [rad] by which a mass [kg] off the centre by an arm [m] tilts a hull of a displacement
    [kg] with a metacentric height [m]: heel off the centreline, trim off the middle.

    tan = m d / (D GM), the inclining experiment. Source: Barrass and Derrett, Ship Stability for
    Masters and Mates. Raises ValueError unless displacement and metacentric height are above
    0, and mass is not below 0.
    """
    _require.positive(displacement, "displacement")
    _require.positive(metacentric_height, "metacentric height")
    _require.not_negative(mass, "mass")
    return math.atan(mass * arm / (displacement * metacentric_height))


def moment(angle: float, displacement: float, metacentric_height: float) -> float:
    """Mass times arm [kg m] that tilts a hull of a displacement [kg] with a metacentric height [m]
    by an angle [rad]: the inverse of `tilt`.

    m d = D GM tan. Source: as `tilt`. Raises ValueError unless displacement and metacentric height
    are above 0.
    """
    _require.positive(displacement, "displacement")
    _require.positive(metacentric_height, "metacentric height")
    return displacement * metacentric_height * math.tan(angle)
