"""The mounts between unit and floor: as one buys them, and as they work under a weight."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from ..physics import rigid_body, rubber
from .shaker import GRAVITY, Unit
from .unfit import Unfit

HARD = 1e9
"""Stiffness [N/m] of a foot bolted down: far above any floor's."""

Places = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Mounts:
    """Equal mounts over a rectangle.

    by: what is known of them: "rubber" (a bobbin: diameter, height [m], Shore A), "pad" (length,
    width, thickness [m], Shore A), "stiffness" [N/m], "deflection" [m] under the unit's weight, or
    "hard": none. along, across [m] apart; rating: load [kg] that one carries for good;
    dynamic_ratio: shaken over static; side_ratio: sheared over pressed; rubber: its kind.
    """

    by: str
    count: int
    along: float
    across: float
    stiffness: float
    deflection: float
    bobbin: tuple[float, float]
    pad: tuple[float, float, float]
    shore: float
    rubber: str
    rating: float
    dynamic_ratio: float
    side_ratio: float

    @property
    def hard(self) -> bool:
        """Whether the unit is bolted down without any."""
        return self.by == "hard"

    @property
    def places(self) -> Places:
        """Places (x, y) [m] of 3 to 6 mounts over a rectangle: corners first.

        Three: two at the motor, one at the pump; five: one in the middle; six: two amidships.
        """
        x, y = self.along / 2, self.across / 2
        if self.count == 3:
            return ((x, y), (x, -y), (-x, 0.0))
        corners = ((x, y), (x, -y), (-x, y), (-x, -y))
        more = {4: (), 5: ((0.0, 0.0),), 6: ((0.0, y), (0.0, -y))}[self.count]
        return corners + more


@dataclass(frozen=True)
class Isolator:
    """A set of equal mounts at work.

    places [(x, y), …] from the middle of the feet [m]; each: static stiffness of one, pressed, and
    side: sheared [N/m]; ratio: shaken over static; loss: loss factor; height: of the rubber [m];
    rating, side_rating: load that one carries for good, pressed and sheared [N]; buckles: the load
    at which one gives way sideways [N], infinite where nobody tells its size; low, high: the band
    of its stiffness over `each`.
    """

    places: Places
    each: float
    side: float
    ratio: float
    loss: float
    height: float
    rating: float
    side_rating: float
    buckles: float = math.inf
    low: float = 1.0
    high: float = 1.0

    @property
    def shaken(self) -> float:
        """Stiffness [N/m] of all mounts together, pressed, when shaken."""
        return self.each * self.ratio * len(self.places)

    @property
    def static(self) -> float:
        """Stiffness [N/m] of all mounts together, pressed, at rest."""
        return self.each * len(self.places)


def isolator(mounts: Mounts, mass: float, *, hangs: bool = False) -> Isolator:
    """The mounts under a mass [kg] that stands on them or `hangs` from them."""
    places = mounts.places
    loss = rubber.RUBBERS[mounts.rubber].loss_factor
    pressed = 0.0 if hangs else mass * GRAVITY / len(places)
    if mounts.by == "hard":
        return Isolator(places, HARD, HARD, 1.0, 0.02, 0.0, math.inf, math.inf)
    if mounts.by == "rubber":
        return _by_size(places, loss, mounts.shore, pressed, bobbin_of(mounts))
    if mounts.by == "pad":
        made = _of_middle(rubber.block_mount, mounts.shore, mounts.pad)
        return _by_size(places, loss, mounts.shore, pressed, made)
    each = (
        mounts.stiffness
        if mounts.by == "stiffness"
        else mass * GRAVITY / mounts.deflection / len(places)
    )
    rating = mounts.rating * GRAVITY
    return Isolator(
        places,
        each,
        each * mounts.side_ratio,
        mounts.dynamic_ratio,
        loss,
        0.025,
        rating,
        rating * mounts.side_ratio,
    )


def bobbin_of(mounts: Mounts) -> rubber.RubberMount:
    """One bobbin, at the middle of the two published moduli."""
    return _of_middle(rubber.disc_mount, mounts.shore, mounts.bobbin)


def _of_middle(
    made: Callable[..., rubber.RubberMount], shore: float, sizes: tuple[float, ...]
) -> rubber.RubberMount:
    band = rubber.modulus_band(shore)
    return made(math.sqrt(band.low * band.high), *sizes)


def _by_size(
    places: Places, loss: float, shore: float, pressed: float, one: rubber.RubberMount
) -> Isolator:
    """Mounts by size and hardness, each pressed by a load [N] at rest: sideways that makes them
    softer."""
    band = rubber.modulus_band(shore)
    middle = math.sqrt(band.low * band.high)
    return Isolator(
        places,
        one.compression,
        rubber.side_stiffness(one.rigidity, one.bending, one.height, pressed),
        rubber.dynamic_ratio(shore),
        loss,
        one.height,
        rubber.COMPRESSION_LIMIT * one.height * one.compression,
        rubber.SHEAR_LIMIT * one.height * one.shear,
        rubber.buckling_load(one.rigidity, one.bending, one.height),
        band.low / middle,
        band.high / middle,
    )


def springs(unit: Unit, iso: Isolator) -> tuple[rigid_body.Mount, ...]:
    """The mounts about the centre of gravity, as stiff as they are when shaken."""
    z = -(unit.cg_height + iso.height / 2)
    k, side = iso.each * iso.ratio, iso.side * iso.ratio
    return tuple([rigid_body.Mount(x - unit.cg_along, y, z, side, side, k) for x, y in iso.places])


def modes(unit: Unit, iso: Isolator) -> tuple[rigid_body.Mode, ...]:
    """The six motions of a unit on its mounts, lowest first."""
    return rigid_body.rigid_body_modes(unit.body, springs(unit, iso))


def check_standing(unit: Unit, iso: Isolator) -> None:
    """Refuses a unit whose centre of gravity lies outside its mounts."""
    if rigid_body.stability_margin((unit.cg_along, 0.0), iso.places) <= 0:
        raise Unfit("tips")
