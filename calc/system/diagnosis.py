"""What is wrong with a watermaker, by its readings: how well each cause explains them.

Each cause is one parameter of the solved state (`faults`). What is unsure besides is integrated
over: the noise of the meters, what each of them always shows too much or too little, and the
constants of the model, all normally distributed about their best values (`UNSURE`); readings of
day one on the same gauges narrow all that stands. A cause's size is integrated over its chain, so
that none gains by having more to choose from. Source: D. J. C. MacKay, Information Theory,
Inference, and Learning Algorithms (2003), ch. 28 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from . import gaussian
from .faults import (
    NOTHING,
    OTHER_SALT,
    OTHER_WARMTH,
    SEA,
    WELL,
    WELL_RATE,
    Cause,
    Chain,
    Fault,
    possible,
)
from .gaussian import Matrix, Row
from .ground import Ground, ground
from .occasion import Occasion

# How well the readings of a fault are known: of what it changes in each, one standard deviation.
# Common practice, no source.
LIKENESS = 0.12
# The least number of readings that a cause is named by.
LEAST_READINGS = 4
# Causes whose readings differ by less than this, in standard deviations, share a rank.
ALIKE = 1.0
HALF = 0.5  # likelier than not
# Readings are strange to a cause whose squared scores exceed their number by so many of their
# standard deviations.
STRANGE = 3.0
ALL_WELL = frozenset((NOTHING, SEA))


@dataclass(frozen=True)
class Course:
    """A chain of sizes with what would be read of each."""

    chain: Chain
    points: tuple[Row, ...]


@dataclass(frozen=True)
class Weighed:
    """A cause held against the readings: the logarithm of how well it explains them, its share of
    all that may be wrong, its most likely size, what would be read then, its rank, whether
    any reading shows it, and the pieces of its chains with their shares of it, for what is yet to
    be read."""

    key: str
    rate: float
    fit: float
    share: float
    fault: Fault
    means: Row
    severity: float
    rank: int = 0
    shows: bool = True
    pieces: tuple[tuple[float, Row], ...] = ()


@dataclass(frozen=True)
class Diagnosis:
    """What the readings say: the causes, likeliest first, each with its rank, and what they are
    held against."""

    ground: Ground
    causes: tuple[Weighed, ...]

    def unlike(self, means: Row, place: int) -> float:
        """How unsure a reading is, by its place, for what a fault changes in it."""
        return LIKENESS * (means[place] - self.ground.well[place])

    @property
    def healthy(self) -> float:
        """The share of all is well."""
        return sum(one.share for one in self.causes if one.key in ALL_WELL)

    @property
    def misfits(self) -> bool:
        """Whether not even the likeliest cause explains what was read, at its best size."""
        places = self.ground.places
        best, read = self.causes[0].means, self.ground.now.vector()
        white = gaussian.forward(root(self.ground, best), [read[i] - best[i] for i in places])
        count = len(places)
        return gaussian.dot(white, white) > count + STRANGE * math.sqrt(2 * count)

    @property
    def enough(self) -> bool:
        """Whether there are readings enough to name a cause by."""
        return len(self.ground.now.readings.read) >= LEAST_READINGS

    def of(self, key: str) -> Weighed | None:
        """A cause by its key."""
        return next((one for one in self.causes if one.key == key), None)

    @property
    def faults(self) -> tuple[Weighed, ...]:
        """The causes of the first rank, where something is wrong."""
        return tuple(one for one in self.leading if one.key not in ALL_WELL)

    @property
    def lead(self) -> float:
        """The share of these together."""
        return sum(one.share for one in self.faults)

    @property
    def sure(self) -> bool:
        """Whether a fault is told: there are readings enough, and these causes together are
        likelier than not."""
        return self.enough and self.lead >= HALF

    @property
    def leading(self) -> tuple[Weighed, ...]:
        """The causes of the first rank."""
        return tuple(one for one in self.causes if one.rank == 1)


def diagnose(
    now: Occasion, day_one: Occasion | None = None, seen: Mapping[str, float] | None = None
) -> Diagnosis | None:
    """The causes ranked by what was read, and by what was `seen`: by cause, the logarithm of how
    likely that is with it. None where a healthy one can't run so."""
    base = ground(now, day_one)
    if base is None:
        return None
    return _ranked(base, weigh(base, now, day_one), seen or {})


def _all_well(now: Occasion, day_one: Occasion | None) -> str:
    """Which name it has that nothing is wrong: another sea than on day one explains the rest."""
    if day_one is None:
        return NOTHING
    before, here = day_one.sea, now.sea
    warmth = abs(here.temperature - before.temperature) > OTHER_WARMTH
    salt = abs(math.log(max(here.salinity, 1e-6) / max(before.salinity, 1e-6))) > OTHER_SALT
    return SEA if warmth or salt else NOTHING


def weigh(base: Ground, now: Occasion, day_one: Occasion | None) -> list[Weighed]:
    """Each cause held against the readings, unranked."""
    read = now.vector()
    found = [_held(Cause(_all_well(now, day_one), WELL_RATE, lambda _: ()), base, read)]
    names = frozenset(now.readings.read)
    for cause in possible(now.watermaker, names, not now.turned):
        found.append(_held(cause, base, read))
    return found


def _held(cause: Cause, base: Ground, read: Row) -> Weighed:
    """A cause held against what was read: the mean over its sizes."""
    chains, places, well = cause.chains(base.now.watermaker), base.places, base.well
    if not chains:
        lower = root(base, well)
        white = gaussian.forward(lower, [read[i] - well[i] for i in places])
        fit = -gaussian.dot(white, white) / 2 - gaussian.log_volume(lower)
        shows = cause.key in ALL_WELL
        return Weighed(cause.key, cause.rate, fit, 0.0, WELL, well, 0.0, 0, shows, ((1.0, well),))
    fits: list[tuple[float, Course, int, float]] = []
    for course in courses(chains, base):
        for at, (start, end) in enumerate(zip(course.points, course.points[1:], strict=False)):
            middle = [(a + b) / 2 for a, b in zip(start, end, strict=True)]
            lower = root(base, middle)
            white = gaussian.forward(lower, [read[i] - start[i] for i in places])
            step = gaussian.forward(lower, [end[i] - start[i] for i in places])
            fit, best = gaussian.along(white, step)
            fits.append((fit - gaussian.log_volume(lower), course, at, best))
    if not fits:
        return Weighed(cause.key, cause.rate, -math.inf, 0.0, WELL, well, 0.0)
    total = gaussian.log_sum([one[0] for one in fits])
    fit, course, at, best = max(fits, key=lambda one: one[0])
    pieces = []
    for one, way, place, where in fits:
        share = math.exp(one - total)
        if share > 0.02:
            pieces.append((share, _at_share(way, place, where)))
    return Weighed(
        cause.key,
        cause.rate,
        total - math.log(len(fits)),
        0.0,
        course.chain[at if best < 0.5 else at + 1],
        _at_share(course, at, best),
        (at + best) / (len(course.chain) - 1),
        0,
        True,
        tuple(pieces),
    )


def courses(chains: Sequence[Chain], base: Ground) -> list[Course]:
    """What would be read along each chain, as far as it runs."""
    found = []
    for chain in chains:
        made = [(fault, base.means(fault)) for fault in chain]
        kept = [(fault, means) for fault, means in made if means is not None]
        if kept:
            faults, points = zip(*kept, strict=True)
            found.append(Course(faults, points))
    return found


def _at_share(course: Course, at: int, share: float) -> Row:
    """What would be read between two sizes."""
    start, end = course.points[at], course.points[at + 1]
    return [a + share * (b - a) for a, b in zip(start, end, strict=True)]


def root(base: Ground, means: Row) -> Matrix:
    """The root of the covariance of what a cause has to explain: what is unsure of a healthy one,
    and of what a fault changes."""
    rows, well = [[*row] for row in base.among], base.well
    for at, place in enumerate(base.places):
        rows[at][at] += (LIKENESS * (means[place] - well[place])) ** 2
    return gaussian.cholesky(rows)


def _ranked(base: Ground, found: list[Weighed], seen: Mapping[str, float]) -> Diagnosis:
    """The causes in order, likeliest first; those that the readings can't part share a rank. One
    that no reading shows is thought of where something seen points at it."""
    found = [one for one in found if one.shows or seen.get(one.key, 0.0) > 0]
    weights = [math.log(one.rate) + one.fit + seen.get(one.key, 0.0) for one in found]
    total = gaussian.log_sum(weights)
    shared = [
        replace(one, share=math.exp(weight - total))
        for one, weight in zip(found, weights, strict=True)
    ]
    shared.sort(key=lambda one: (-one.share, one.key))
    ranked: list[Weighed] = []
    heads: list[Weighed] = []
    for one in shared:
        rank = next(
            (head.rank for head in heads[:6] if one.share > 1e-3 and _alike(base, head, one, seen)),
            0,
        )
        if not rank:
            rank = len(ranked) + 1
            one = replace(one, rank=rank)
            heads.append(one)
        ranked.append(replace(one, rank=rank))
    ranked.sort(key=lambda one: (one.rank, -one.share, one.key))
    return Diagnosis(base, tuple(ranked))


def _alike(base: Ground, one: Weighed, other: Weighed, seen: Mapping[str, float]) -> bool:
    """Whether two causes, each at its best, would be read alike, and nothing seen parts them."""
    if one.key in ALL_WELL or abs(seen.get(one.key, 0.0) - seen.get(other.key, 0.0)) > 0.5:
        return False
    lower = root(base, one.means)
    apart = gaussian.forward(lower, [one.means[i] - other.means[i] for i in base.places])
    return gaussian.dot(apart, apart) < ALIKE**2
