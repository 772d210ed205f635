"""What would make a unit's footing good: the range of mounts that hold, and floors to build."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from ..physics import fasteners
from . import fixing
from .floor import Floor
from .place import Place, Placed, placed
from .shaker import GRAVITY
from .stand import NEAR, Stand, gains_on, rating_wanted, stand

SOFTEST = 0.010
"""Mounts that give more than this [m] do not hold a unit at sea: common practice, no source."""
GIVE = 0.002
"""What the mounts give [m] from which the search begins: any would do, stiffness only scales."""
NARROWEST = 1.1
"""A range of mounts narrower than this, soft over hard, cannot be bought."""
SPARE = 0.9
"""Share of a strength that what is told uses at most: with more it would be tight."""
CLOSE = 1e-6
"""Kept from every limit, so that rounding to nine digits never crosses it."""

# Sizes that somebody would build in a boat [mm]: common practice, no source.
THICKNESSES = {
    "plywood": (9, 12, 15, 18, 21, 24, 27, 30), "grp_csm": (6, 8, 10, 12, 15, 18),
    "grp_woven": (6, 8, 10, 12, 15, 18), "steel": (4, 5, 6, 8), "aluminium": (4, 5, 6, 8, 10, 12),
    "softwood": (18, 22, 27, 32, 38, 45), "hardwood": (18, 22, 27, 32, 38, 45),
}  # fmt: skip
CORES = (15, 20, 25, 30, 40, 50)
DOUBLERS = (6, 9, 12, 15, 18, 24)
BEARERS = (50, 60, 70, 80, 100, 120, 150)
PLATES = (4, 6, 8, 10, 15, 20)
"""Plates [kg] under the mounts."""
BATTENS = ((2, 40), (2, 60), (3, 60), (3, 80), (4, 80))
"""How many battens 30 mm wide, and how deep [mm]."""
_WIDEST_PLATE = 0.3  # m, the greatest backing plate that can be typed


# ---- mounts ----


@dataclass(frozen=True)
class Range:
    """Mounts that hold every limit: how far the weight presses them down [m], and what one bears.

    hardest ≤ softest; rating [N] each.
    """

    hardest: float
    softest: float
    rating: float


def on_mounts(place: Place, give: float, rating: float | None = None) -> Place:
    """The same place on mounts that the weight presses down by `give` [m], and that carry [kg]."""
    mounts = replace(place.footing.mounts, by="deflection", deflection=give)
    return place.on(mounts=mounts if rating is None else replace(mounts, rating=rating))


def softened(made: Placed) -> Placed:
    """The same place on the mounts from which the search begins."""
    return placed(on_mounts(made.place, GIVE), made.stand)


def mount_range(soft: Placed) -> Range | None:
    """The widest range of mounts like these that holds every limit on the shaking and moving.

    Stiffness only scales: motions go with its root, movement with its inverse. What is left of the
    stiffness between the softest and the hardest, once no motion lies near a source, is the answer.
    """
    made, gap = soft.stand, soft.place.access.gap
    give = made.footing.mounts.deflection
    low = max(made.moved / gap if gap else math.inf, give / SOFTEST)
    # The slowest is passed to a rigid floor, so that no stiffer floor undoes it.
    rigid = (made.slowest.frequency / math.sqrt(2) / made.bounce) ** 2
    if low >= rigid:
        return None
    high = _hardest(made, soft.place.wanted, low, rigid)
    if low >= high:
        return None
    start, end = max(
        _open(low, high, _near_sources(made)), key=lambda s: s[1] / s[0], default=(1.0, 1.0)
    )
    hardest, softest = give / end, give / start
    if softest < NARROWEST * hardest:
        return None
    return Range(hardest * (1 + CLOSE), softest * (1 - CLOSE), rating_wanted(made))


def _hardest(soft: Stand, wanted: float, softest: float, most: float) -> float:
    """Greatest stiffness, over that of these mounts, by what they gain, and at most so much; not
    sought any further where it is known to be no more than that of the softest."""
    hardest = most
    for s in sorted(soft.unit.audible, key=lambda s: s != soft.heard):  # this one wants the most
        least = stiffness_for_gain(
            soft.unit.mass,
            soft.iso.loss,
            soft.ground.mobilities(s.frequency),
            s.frequency,
            wanted if s == soft.heard else 0.0,
            enough=hardest * soft.iso.shaken,
        )
        hardest = min(hardest, least / soft.iso.shaken)
        if hardest <= softest:
            break
    return hardest


def _near_sources(soft: Stand) -> Iterator[tuple[float, float]]:
    """Stiffnesses, over that of these mounts, with which a motion answers a source."""
    for source in soft.unit.sources:
        low, high = source.frequency * (1 - NEAR), source.frequency * (1 + NEAR)
        for mode in soft.modes:
            yield (low / mode.frequency) ** 2, (high / mode.frequency) ** 2
        # From a rigid floor to this one, and to all between.
        yield (low / soft.bounce) ** 2, _stiffness_over(soft, high)


def _stiffness_over(soft: Stand, frequency: float) -> float:
    """Stiffness, over that of these mounts, with which unit and floor bounce at a frequency [Hz].

    Infinite when the floor alone is softer.
    """
    together = (2 * math.pi * frequency) ** 2 * soft.unit.mass
    floor = soft.ground.stiffness
    if together >= floor:
        return math.inf
    return float(together * floor / (floor - together) / soft.iso.shaken)


def _open(
    low: float, high: float, closed: Iterator[tuple[float, float]]
) -> Iterator[tuple[float, float]]:
    """What is left of a stretch between closed ones."""
    at = low
    for start, end in sorted(closed):
        if start > at:
            yield at, min(start, high)
        at = max(at, end)
        if at >= high:
            return
    yield at, high


def stiffness_for_gain(
    mass: float,
    loss: float,
    floors: Sequence[complex],
    frequency: float,
    wanted: float,
    enough: float = math.inf,
) -> float:
    """Highest shaken stiffness [N/m] of all mounts that gains `wanted` [dB] on a floor that is one
    of several [m/(N s)]; never so high that the unit bounces on a rigid floor at this frequency.
    Not sought any closer once it is known to be more than `enough`."""
    gains = gains_on(mass, loss, floors, frequency)
    high = math.log(mass * (2 * math.pi * frequency) ** 2)
    low = high - 30.0
    for _ in range(24):
        middle = (low + high) / 2
        stiffness = math.exp(middle)
        if gains(stiffness) < wanted:
            high = middle
            continue
        if stiffness > enough * (1 + CLOSE):
            return stiffness
        low = middle
    return math.exp(low)


# ---- floors ----


@dataclass(frozen=True)
class Lever:
    """Something that quietens the floor: its kind, and floors to try, the least work first.

    Kinds: "bearers" deeper, "plate" under the mounts, "battens" glued under it, "bay": bearers
    under the panel that leave less of its width free, "core" thicker, "doubler" bonded, "panel"
    thicker.
    """

    kind: str
    floors: tuple[Floor, ...]


def levers(floor: Floor, feet_across: float) -> Iterator[Lever]:
    """What to do to a floor under feet so far apart [m], the least work first."""
    if floor.form == "bearers":
        deeper = [mm / 1000 for mm in BEARERS if mm / 1000 > floor.bearer_depth]
        yield Lever("bearers", tuple([replace(floor, bearer_depth=d) for d in deeper]))
        yield _plates(floor)
        return
    if not floor.battens and floor.material not in ("steel", "aluminium"):
        yield Lever(
            "battens",
            tuple(
                [
                    replace(floor, battens=n, batten_width=0.03, batten_depth=depth / 1000)
                    for n, depth in BATTENS
                ]
            ),
        )
    yield _plates(floor)
    if not floor.battens:
        least_width = max(feet_across + 0.012, 0.3 * floor.width)
        steps = [floor.width + (least_width - floor.width) * i / 5 for i in range(1, 6)]
        widths = [math.ceil(w / 0.005) * 0.005 for w in steps]
        yield Lever("bay", tuple([replace(floor, width=w) for w in widths if w < floor.width]))
    if floor.cored:
        yield Lever(
            "core",
            tuple([replace(floor, core=mm / 1000) for mm in CORES if mm / 1000 > floor.core]),
        )
        return
    yield Lever(
        "doubler",
        tuple([replace(floor, doubler=mm / 1000) for mm in DOUBLERS if mm / 1000 > floor.doubler]),
    )
    yield Lever(
        "panel",
        tuple(
            [
                replace(floor, thickness=mm / 1000)
                for mm in THICKNESSES[floor.material]
                if mm / 1000 > floor.thickness
            ]
        ),
    )


def _plates(floor: Floor) -> Lever:
    plates = [float(kg) for kg in PLATES if kg > floor.plate]
    return Lever("plate", tuple([replace(floor, plate=kg) for kg in plates]))


ROUNDED = 0.005
"""By so much a number of three digits may be off."""
_SIZES = (
    "length", "width", "thickness", "skin", "core", "doubler", "batten_width", "batten_depth",
    "bearer_width", "bearer_depth", "plate",
)  # fmt: skip


def as_built(now: Floor, then: Floor) -> Iterator[Floor]:
    """A changed floor as it is, and with what changed a little off either way: in inches it is
    typed to three digits, and nobody builds nearer."""
    changed = [n for n in _SIZES if getattr(now, n) != getattr(then, n)]
    for off in (1.0, 1 - ROUNDED, 1 + ROUNDED):
        yield replace(then, **{n: getattr(then, n) * off for n in changed})


# ---- fastening ----


def backing(made: Placed, bolt: str) -> float | None:
    """The least backing plate across [m] under a bolt that its floor bears, with something to
    spare; None where none is wide enough."""
    place = made.place
    hole = fixing.hole(bolt)
    allowed = SPARE * fixing.bearing(place.fixing, place.footing.floor)
    pull = place.fixing.safety * made.worst_pull
    across = max(fasteners.washer_for_pressure(pull, allowed, hole), 2 * hole)
    return across if across <= _WIDEST_PLATE else None


def bolted(made: Placed, bolt: str) -> Placed:
    """The same place with bolts of a thread."""
    with_bolts = replace(made.place.fixing, by="bolts", bolt=bolt)
    return replace(made, place=replace(made.place, fixing=with_bolts))


def soft_rating(found: Range) -> float:
    """What one of these mounts carries for good [kg], with something to spare."""
    return found.rating / GRAVITY / SPARE


def under_centre(made: Placed) -> Placed:
    """The same place with its mounts shifted under the centre of gravity."""
    unit = replace(made.unit, cg_along=0.0)
    return placed(made.place.on(unit=unit), made.stand)


def refloored(soft: Placed, floor: Floor) -> Placed:
    """The same place on another floor."""
    footing = replace(soft.place.footing, floor=floor)
    return Placed(replace(soft.place, footing=footing), stand(footing, soft.stand))
