"""Spares far from a shop: what falls due on the way, what may fail, and how many cover it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from ..physics import reliability
from .tasks import HOURS, Done, Due, schedule
from .upkeep import Job, Plan
from .year import Use

_ONE_DAY = timedelta(days=1)
_MOST_FAILURES = 60.0  # of one part: nobody carries so many
_MOST_PIECES = 4000
_SURE = 0.9999  # nothing is added to a box that is surer


class TooMany(ValueError):
    """More failures of a part are expected than anybody carries spares for."""

    def __init__(self, name: str, mean: float) -> None:
        super().__init__(name)
        self.name, self.mean = name, mean


@dataclass(frozen=True)
class Part:
    """A part: how many are fitted and changed each time in the whole unit, its failures at random
    [1/s] and by wear (characteristic life [s], Weibull shape), its age by its owner [s], mass [kg]
    and price [money] of one.
    """

    name: str
    per_change: int
    fitted: int
    rate: float
    life: float | None
    shape: float
    age: float | None
    mass: float
    price: float

    @property
    def may_fail(self) -> bool:
        """Whether anything is known of its failures."""
        return bool(self.rate or self.life)

    @property
    def wears(self) -> bool:
        """Whether it has a life and a price, so that changing it early can be reckoned."""
        return self.life is not None and self.price > 0


@dataclass(frozen=True)
class Need:
    """A part on the way: how many fall due, and the chances of 0, 1, 2 ... failures beside that.

    `dues` are those of the plan; `changes` as many as there are if it runs more than planned.
    `age` is its running time at the start, `first` that on the way until it is changed [s].
    """

    part: Part
    job: Job | None
    dues: Sequence[Due]
    changes: int
    age: float
    first: float
    chances: Sequence[float]

    @property
    def due(self) -> int:
        """Pieces that fall due, if it runs more than planned."""
        return self.changes * self.part.per_change

    @property
    def planned(self) -> int:
        """Pieces that fall due by the plan."""
        return len(self.dues) * self.part.per_change

    @property
    def expected(self) -> float:
        """Failures expected."""
        return sum(count * chance for count, chance in enumerate(self.chances))

    @property
    def interval(self) -> float | None:
        """Running time after which its task changes it [s]."""
        return self.job.task.rule.hours if self.job else None

    def covered(self, spare: int) -> float:
        """Chance that `spare` pieces cover all failures."""
        return reliability.at_most(spare, self.chances)

    def short(self, spare: int) -> float:
        """Chance that `spare` pieces do not cover all failures."""
        return 1 - self.covered(spare)


def failures(part: Part, interval: float | None) -> float:
    """Failures in the long run, for each running time [1/s]: at random, and by wear of parts that
    are changed every so many running hours [s], or only when they fail.
    """
    found = part.fitted * part.rate
    if part.life is None:
        return found
    mean = reliability.weibull_mean(part.shape, part.life)
    if interval is None or interval / mean > _MOST_FAILURES:
        return found + part.fitted / mean
    chances = reliability.wear_out_failures(interval, 0.0, part.shape, part.life)
    failing = sum(count * chance for count, chance in enumerate(chances))
    return found + part.fitted * failing / interval


@dataclass(frozen=True)
class Trip:
    """The days far from a shop, and the use on them."""

    leave: date
    back: date
    use: Use


def need(part: Part, job: Job | None, made: Plan, trip: Trip) -> Need:
    """What a part asks for on the way. `job` is the task that changes it, if any.

    Raises TooMany.
    """
    done = _at_departure(job, made, trip.leave)
    dues: Sequence[Due] = []
    sooner: Sequence[Due] = []
    if job is not None:
        dues = [due for due in job.dues if trip.leave <= made.day_of(due) < trip.back]
        sooner = schedule(job.task.rule, done, trip.use, trip.back - _ONE_DAY)
    changed = sooner if len(sooner) >= len(dues) else dues
    age = done.run_since
    if part.age is not None and (job is None or done.day == job.last):
        age = part.age + made.use.until(trip.leave)
    marks = [trip.use.until(max(due.day, trip.use.start)) for due in changed]
    whole = trip.use.total
    chances = _chances(part, age, marks, whole)
    return Need(part, job, dues, len(changed), age, [*marks, whole][0], chances)


def _at_departure(job: Job | None, made: Plan, leave: date) -> Done:
    """How the task stands on leaving, if all is done when the plan says."""
    until = made.use.until(leave)
    if job is None:
        return Done(made.today, made.hours_now + until)
    before = [due for due in job.dues if made.day_of(due) < leave]
    if not before:
        return Done(job.last, job.run_since + until, first=job.never_done)
    last = before[-1]
    day = made.day_of(last)
    # What goes by hours is done at the end of its day's run.
    after_run = last.why == HOURS and last.day >= made.today
    return Done(day, until - made.use.until(day + _ONE_DAY if after_run else day))


def _chances(part: Part, age: float, changed: Sequence[float], whole: float) -> list[float]:
    """Chances of 0, 1, 2 ... failures of all that are fitted, between the planned changes.

    `changed` are the running times away at the changes, `whole` the whole of it [s].
    """
    found: list[Sequence[float]] = []
    if part.rate:
        mean = part.rate * whole * part.fitted
        _countable(part, mean)
        found.append(reliability.at_random(mean))
    if part.life is not None:
        ages = [age, *([0.0] * len(changed))]
        for start, end, begins in zip([0.0, *changed], [*changed, whole], ages, strict=True):
            time = max(0.0, end - start)
            _countable(part, time / reliability.weibull_mean(part.shape, part.life))
            chances = reliability.wear_out_failures(time, begins, part.shape, part.life)
            found += [chances] * part.fitted
    return reliability.added(*found)


def _countable(part: Part, mean: float) -> None:
    if mean > _MOST_FAILURES:
        raise TooMany(part.name, mean)


# ---- the box ----


@dataclass(frozen=True)
class Filled:
    """A box with so many pieces: its price [money], its mass [kg] and the chance that nothing is
    missing."""

    pieces: int
    cost: float
    mass: float
    chance: float


@dataclass(frozen=True)
class Box:
    """Parts on the way, how many of each are carried for failures, and the order in which pieces go
    in, by the places of their parts."""

    needs: Sequence[Need]
    counts: Sequence[int]
    order: Sequence[int]

    @property
    def lines(self) -> Sequence[tuple[Need, int]]:
        """Each part with its number of spares for failures."""
        return list(zip(self.needs, self.counts, strict=True))

    @property
    def pieces(self) -> int:
        """All that lies in the box, what is planned for included."""
        return sum(need.due + count for need, count in self.lines)

    @property
    def mass(self) -> float:
        """Mass of it all [kg]."""
        return sum(need.part.mass * (need.due + count) for need, count in self.lines)

    @property
    def cost(self) -> float:
        """Price of it all [money]."""
        return sum(need.part.price * (need.due + count) for need, count in self.lines)

    @property
    def unpriced(self) -> int:
        """How many parts that lie in it have no price."""
        return sum(need.due + count > 0 and not need.part.price for need, count in self.lines)

    @property
    def risk(self) -> float:
        """Chance that something runs out."""
        return 1 - _sure(self.needs, self.counts)

    @property
    def bare(self) -> float:
        """The same with only what falls due."""
        return 1 - _sure(self.needs, [0] * len(self.needs))

    @property
    def worst(self) -> float:
        """Chance that the likeliest part runs out."""
        return max(need.short(count) for need, count in self.lines)

    def filling(self) -> Iterator[Filled]:
        """The whole box as the best next piece goes in, one after the other."""
        packed = _Packed(self.needs)
        pieces = sum(need.due for need in self.needs)
        cost = sum(need.due * need.part.price for need in self.needs)
        mass = sum(need.due * need.part.mass for need in self.needs)
        yield Filled(pieces, cost, mass, packed.sure)
        for index in self.order:
            packed.add(index)
            pieces += 1
            cost += self.needs[index].part.price
            mass += self.needs[index].part.mass
            yield Filled(pieces, cost, mass, packed.sure)


def box(needs: Sequence[Need], confidence: float, each: bool) -> Box:
    """The box of parts on the way: a part at a time so sure, or the whole of it, filled always with
    the piece that helps most.
    """
    order = _filling(needs)
    if each:
        counts = [reliability.spares(need.chances, confidence) for need in needs]
        return Box(needs, counts, order)
    packed = _Packed(needs)
    for index in order:
        if packed.sure >= confidence:
            break
        packed.add(index)
    return Box(needs, packed.counts, order)


class _Packed:
    """So many pieces of each part, and how far they cover it: nothing to begin with."""

    def __init__(self, needs: Sequence[Need]) -> None:
        self.counts = [0] * len(needs)
        self._needs = needs
        self._covered = [need.covered(0) for need in needs]

    def add(self, index: int) -> None:
        """A piece more of a part."""
        self.counts[index] += 1
        self._covered[index] = self._needs[index].covered(self.counts[index])

    @property
    def sure(self) -> float:
        """Chance that nothing is missing."""
        return math.prod(self._covered)


def _filling(needs: Sequence[Need]) -> list[int]:
    """The order in which pieces go into the box: the most confidence for the money first.

    Marginal allocation, Barlow and Proschan 1965, ch. 6. The order does not depend on the
    confidence wanted, so more confidence never takes a piece out.
    """
    order: list[int] = []
    counts = [0] * len(needs)
    covered = [need.covered(0) for need in needs]
    gains = [_gain(need, 0) for need in needs]
    for _ in range(_MOST_PIECES):
        gain = max(gains)
        if gain <= 0 or math.prod(covered) > _SURE:
            break
        best = gains.index(gain)
        counts[best] += 1
        order.append(best)
        covered[best] = needs[best].covered(counts[best])
        gains[best] = _gain(needs[best], counts[best])
    return order


def _gain(need: Need, count: int) -> float:
    """What one piece more than `count` adds to the log of the chance, for its price; 0 for none."""
    now, then = need.covered(count), need.covered(count + 1)
    if now >= 1 - 1e-9:
        return 0.0
    return math.log(max(then, 1e-300) / max(now, 1e-300)) / (need.part.price + 1)


def _sure(needs: Sequence[Need], counts: Sequence[int]) -> float:
    """Chance that nothing is missing."""
    return math.prod(need.covered(count) for need, count in zip(needs, counts, strict=True))


# ---- changing it before it fails ----


@dataclass(frozen=True)
class Early:
    """When it pays to change a part that wears: what a planned change and one after a failure cost
    [money], and the best age."""

    part: Part
    life: float
    planned: float
    unplanned: float
    best: reliability.AgeReplacement

    def cost_at(self, age: float) -> float:
        """Cost a running time [money/s] if it is changed at an age [s]."""
        return reliability.age_replacement_cost(
            age, self.part.shape, self.life, self.planned, self.unplanned
        )

    def surviving(self, age: float) -> float:
        """The share that reaches an age [s]."""
        return reliability.weibull_reliability(age, self.part.shape, self.life)

    def service(self, age: float) -> float:
        """Mean time in service [s] up to an age."""
        return reliability.mean_service(age, self.part.shape, self.life)


def early(part: Part, stop_cost: float) -> Early:
    """When to change a part that wears, if a stop costs so much [money] beside it."""
    assert part.life is not None
    unplanned = part.price + stop_cost
    best = reliability.age_replacement(part.shape, part.life, part.price, unplanned)
    return Early(part, part.life, part.price, unplanned, best)
