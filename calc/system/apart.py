"""A set that comes apart: motor and pump, boost pump, filters, vessels and the panel of valves and
gauges, each in a place of its own; all ways searched, and those told that no other beats.

Lengths in m, masses in kg, pressures in Pa. How bad something is goes from 0 (holds with something
in hand) over 1 (only just) to 3 (does not hold), as a page has it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from .held import Held
from .locker import Sizes

ROUTE = 1.3
"""How much longer a hose is than the way along, across and up: common practice, no source."""
WITHIN = 0.6
"""Hose between two things in one place, or to the wall of theirs [m]: common practice, no
source."""
BODIES = {
    "boost": Sizes(0.25, 0.15, 0.18),
    "filters": Sizes(0.35, 0.18, 0.45),
    "panel": Sizes(0.35, 0.12, 0.30),
}
"""What a part takes up, filters with the room to drop their bowls: common practice, no source."""
MASSES = {"boost": 4.0, "filters": 9.0, "panel": 4.0}
"""What a part weighs, with its water [kg]: common practice, no source."""
END_ROOM = 0.15
"""Room at the ends of a pressure tube for hoses, together [m]: common practice, no source."""
LOST_SHARE = 0.02
"""Of the working pressure the high-pressure hoses may lose so much: common practice, no source."""
JUST = 0.1
"""Less left of a limit than this share holds only just, as on every page."""


def badness(held: Iterable[Held]) -> int:
    """How bad the worst of them is."""
    margin = min((one.margin for one in held), default=1.0)
    return 3 if margin < 0 else 1 if margin < JUST else 0


@dataclass(frozen=True)
class Site:
    """A place by its number: where its middle lies, its room, how far one reaches into it, the hose
    from the seacock, and how high its floor is, where a boost pump stands."""

    number: int
    ahead: float
    aside: float
    height: float
    inside: Sizes
    reach: float
    from_sea: float
    floor: float

    def run(self, other: Site) -> float:
        """Hose from a thing here to a thing in another place."""
        if self.number == other.number:
            return WITHIN
        way = abs(self.ahead - other.ahead) + abs(self.aside - other.aside)
        return ROUTE * (way + abs(self.height - other.height)) + WITHIN

    def takes(self, body: Sizes) -> bool:
        """Whether a part goes in."""
        return not self.inside.too_small_for(body)

    def takes_tubes(self, length: float) -> bool:
        """Whether pressure tubes of a length lie in it, corner to corner of its floor."""
        return self.inside.across >= length + END_ROOM


@dataclass(frozen=True)
class Standing:
    """Motor and pump in a place: how bad that is, and what is in hand of quiet and of cool."""

    badness: int
    quiet: float
    cool: float


@dataclass(frozen=True)
class Fed:
    """The feed with boost pump, filters and pump in their places: how bad it is, and what is lost
    on the way with clean filters."""

    badness: int
    lost: float


@dataclass(frozen=True)
class Problem:
    """What is to be placed where.

    stands(unit, boost) and fed(boost, filters, unit) are told by whoever knows the pages; boosted:
    there is a boost pump. lost(length): by high-pressure hoses; pressure: at work. Masses of motor
    with pump and of the vessels; tubes: their length. moments: the most [kg m] off the centreline,
    and off midships.
    """

    sites: tuple[Site, ...]
    stands: Callable[[Site, Site], Standing]
    fed: Callable[[Site, Site, Site], Fed]
    boosted: bool
    lost: Callable[[float], float]
    pressure: float
    unit_mass: float
    vessel_mass: float
    tubes: float
    moments: tuple[float, float]

    def mass(self, part: str) -> float:
        """Of a part."""
        return {"unit": self.unit_mass, "vessels": self.vessel_mass}.get(part, MASSES.get(part, 0))

    @cached_property
    def parts(self) -> tuple[str, ...]:
        """What there is to place."""
        return ("unit", *(("boost",) if self.boosted else ()), "filters", "vessels", "panel")

    @cached_property
    def weight(self) -> float:
        """Of all parts."""
        return sum(map(self.mass, self.parts))


@dataclass(frozen=True)
class Way:
    """A way to place the set: its sites, how bad it is, and what ways are weighed by: metres of
    hose, pressure lost, reach to filters and panel, height of its weight; quiet and cool, of which
    more is better."""

    unit: Site
    boost: Site
    filters: Site
    vessels: Site
    panel: Site
    badness: int
    metres: float
    lost: float
    reach: float
    height: float
    quiet: float
    cool: float

    @property
    def sites(self) -> tuple[Site, ...]:
        """The five, in the order of the parts."""
        return self.unit, self.boost, self.filters, self.vessels, self.panel

    @cached_property
    def weighed(self) -> tuple[float, ...]:
        """All that ways are weighed by, less of each is better; no finer than anybody cares for."""
        return (
            round(self.metres, 1),
            round(self.lost / 1e3),
            round(self.reach, 2),
            round(self.height, 2),
            -round(self.quiet, 2),
            -round(self.cool, 2),
        )


def beats(one: Sequence[float], other: Sequence[float]) -> bool:
    """Whether one is nowhere worse than another, and somewhere better."""
    return one != other and all(a <= b for a, b in zip(one, other, strict=True))


@dataclass(frozen=True)
class _Left:
    """Unit, boost pump and filters placed; how bad that is before the feed is asked about."""

    number: int
    unit: Site
    boost: Site
    filters: Site
    stands: Standing
    badness: int


@dataclass(frozen=True)
class _Right:
    """Vessels and panel placed, the unit being where it is."""

    vessels: Site
    panel: Site
    badness: int
    metres: float
    lost: float


def _lefts(problem: Problem) -> list[_Left]:
    sites, boosted = problem.sites, problem.boosted
    found: list[_Left] = []
    for unit in sites:
        for boost in sites if boosted else (unit,):
            stands = problem.stands(unit, boost)
            goes = not boosted or boost.takes(BODIES["boost"])
            for filters in sites:
                room = 0 if goes and filters.takes(BODIES["filters"]) else 3
                bad = max(stands.badness, room)
                found.append(_Left(len(found), unit, boost, filters, stands, bad))
    return found


def _rights(problem: Problem, unit: Site) -> Iterator[_Right]:
    most = LOST_SHARE * problem.pressure
    for vessels in problem.sites:
        for panel in problem.sites:
            metres = unit.run(vessels) + vessels.run(panel)
            lost = problem.lost(metres)
            goes = vessels.takes_tubes(problem.tubes) and panel.takes(BODIES["panel"])
            yield _Right(
                vessels, panel, max(badness((Held(lost, most),)), 0 if goes else 3), metres, lost
            )


def _turns(problem: Problem, part: str, site: Site) -> tuple[float, float, float]:
    """Moments of a part in a place: off the centreline, off midships, and over the waterline."""
    mass = problem.mass(part)
    return mass * site.aside, mass * site.ahead, mass * site.height


def ways(problem: Problem) -> list[Way]:
    """Every way to place the parts that is no worse than the least bad one."""
    across, along = problem.moments
    turns = {
        (part, site.number): _turns(problem, part, site)
        for part in problem.parts
        for site in problem.sites
    }
    turns |= {("boost", site.number): (0.0, 0.0, 0.0) for site in problem.sites} | turns
    rights = {unit.number: list(_rights(problem, unit)) for unit in problem.sites}
    least = 4
    found: list[tuple[int, Way]] = []
    for left in sorted(_lefts(problem), key=lambda one: one.badness):
        if left.badness > least:
            break  # so are all others, whatever their feed is like
        fed = problem.fed(left.boost, left.filters, left.unit)
        so_far = max(left.badness, fed.badness)
        if so_far > least:
            continue
        metres = _hose(problem.boosted, left)
        a, b = turns["unit", left.unit.number], turns["boost", left.boost.number]
        c = turns["filters", left.filters.number]
        for right in rights[left.unit.number]:
            d, e = turns["vessels", right.vessels.number], turns["panel", right.panel.number]
            off = max(
                abs(a[0] + b[0] + c[0] + d[0] + e[0]) / across,
                abs(a[1] + b[1] + c[1] + d[1] + e[1]) / along,
            )
            bad = max(so_far, right.badness, 3 if off > 1 else 1 if off > 1 - JUST else 0)
            if bad > least:
                continue
            if bad < least:
                least, found = bad, []
            up = (a[2] + b[2] + c[2] + d[2] + e[2]) / problem.weight
            found.append((left.number, _way(left, metres, fed, right, bad, up)))
    found.sort(key=lambda one: one[0])
    return [way for _, way in found]


def _hose(boosted: bool, left: _Left) -> float:
    """From the seacock to the pump."""
    last = left.filters.run(left.unit)
    if not boosted:
        return last + left.filters.from_sea
    return last + (left.boost.from_sea + left.boost.run(left.filters))


def _way(left: _Left, metres: float, fed: Fed, right: _Right, bad: int, height: float) -> Way:
    return Way(
        left.unit,
        left.boost,
        left.filters,
        right.vessels,
        right.panel,
        bad,
        metres + right.metres,
        fed.lost + right.lost,
        left.filters.reach + right.panel.reach,
        height,
        left.stands.quiet,
        left.stands.cool,
    )


def front(found: Iterable[Way]) -> list[Way]:
    """The ways that no other beats, of alike ones the first.

    Sorted, none is beaten by a later one; who has beaten one is asked first about the next.
    """
    kept: list[Way] = []
    seen: set[tuple[float, ...]] = set()
    for way in sorted(found, key=lambda one: one.weighed):
        mine = way.weighed
        if mine in seen:
            continue
        seen.add(mine)
        for place, other in enumerate(kept):
            theirs = other.weighed
            if (
                theirs[0] <= mine[0]
                and theirs[1] <= mine[1]
                and theirs[2] <= mine[2]
                and theirs[3] <= mine[3]
                and theirs[4] <= mine[4]
                and theirs[5] <= mine[5]
            ):
                if place:
                    kept.insert(0, kept.pop(place))
                break
        else:
            kept.append(way)
    return sorted(kept, key=lambda one: one.weighed)


def tried(problem: Problem) -> int:
    """How many ways there are."""
    return int(len(problem.sites) ** len(problem.parts))


def told(found: Sequence[Way]) -> list[tuple[str, Way]]:
    """Three of them to be told in full, each by what it is best at: "hose", "calm" (the least of
    quiet and cool in hand), "reach"; of one that is best at two the next does."""
    best: list[tuple[str, Way]] = []
    for key, rank in (
        ("hose", lambda way: way.weighed),
        ("calm", lambda way: (-min(way.quiet, way.cool), way.weighed)),
        ("reach", lambda way: (way.reach, way.weighed)),
    ):
        left = [way for way in found if way not in [taken for _, taken in best]]
        if left:
            best.append((key, min(left, key=rank)))
    return best
