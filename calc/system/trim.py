"""What a weight in a place does to the boat at rest: heel and trim, by moments.

Lengths in m, masses in kg, angles in rad. An estimate: the waterplane is taken as lying between two
parabolas, the trim as turning about its middle.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..physics import hydrostatics
from .held import Held

SEA = 1025.0
"""Density of the sea that she floats in [kg/m³]."""
STIFF_SHARE = 0.6
"""Metacentric height over metacentric radius where nobody measured it: common practice, no
source. A low one, so that the heel is rather told too great."""


@dataclass(frozen=True)
class Hull:
    """She afloat: displacement, waterline's length and beam of one hull; how far apart the middles
    of two hulls are (0: one hull); metacentric height, None where nobody measured it."""

    displacement: float
    length: float
    beam: float
    apart: float = 0.0
    height: float | None = None

    @property
    def volume(self) -> float:
        """What she displaces [m³]."""
        return self.displacement / SEA

    @property
    def across(self) -> float:
        """Second moment of the waterplane about her centreline [m⁴]."""
        own = hydrostatics.waterplane_across(self.length, self.beam)
        if not self.apart:
            return own
        area = hydrostatics.PARABOLIC_AREA * self.length * self.beam
        return 2 * (own + area * (self.apart / 2) ** 2)

    @property
    def along(self) -> float:
        """Second moment of the waterplane about her middle [m⁴]."""
        own = hydrostatics.waterplane_along(self.length, self.beam)
        return 2 * own if self.apart else own

    @property
    def radius(self) -> float:
        """Metacentric radius for heel."""
        return hydrostatics.metacentric_radius(self.across, self.volume)

    @property
    def stiffness(self) -> float:
        """Metacentric height for heel: as measured, else a share of the radius."""
        return STIFF_SHARE * self.radius if self.height is None else self.height

    @property
    def long_radius(self) -> float:
        """Metacentric radius for trim, taken as the height: what lies between is small by it."""
        return hydrostatics.metacentric_radius(self.along, self.volume)


@dataclass(frozen=True)
class Spot:
    """Where a weight lies: ahead of midships (abaft: minus), to starboard of the centreline (port:
    minus)."""

    ahead: float
    aside: float


@dataclass(frozen=True)
class Trim:
    """A weight in a place, and the most heel and trim wanted of it: trim is what bow and stern then
    differ by along the waterline."""

    hull: Hull
    mass: float
    spot: Spot
    most_heel: float
    most_trim: float

    @property
    def heels(self) -> float:
        """Heel, to starboard above 0."""
        return hydrostatics.tilt(
            self.mass, self.spot.aside, self.hull.displacement, self.hull.stiffness
        )

    @property
    def trims(self) -> float:
        """Trim over the waterline, by the bow above 0."""
        angle = hydrostatics.tilt(
            self.mass, self.spot.ahead, self.hull.displacement, self.hull.long_radius
        )
        return self.hull.length * math.tan(angle)

    @property
    def held(self) -> dict[str, Held]:
        """Both against what is wanted."""
        return {
            "heel": Held(abs(self.heels), self.most_heel),
            "trim": Held(abs(self.trims), self.most_trim),
        }
