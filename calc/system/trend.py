"""How membranes fare over the years: against day one, since the last change, and until when."""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise
from typing import NamedTuple

from ..physics import membranes
from . import standardised as at_standard
from .course import Course, Part, course, median
from .membranes import PER_KELVIN
from .readings import METERS
from .standardised import DROP, FLOW, SALT, SERIES, Read, Standard, Standardised

# Readings and days without which nobody can tell a trend from noise. Common practice, no source.
NEEDED, DAYS = 8, 14
# Of how many first readings the median stands for day one, where none was written down. Common
# practice, no source.
FIRST = 5
_SURE = 1.959963985  # standard deviations that hold 19 of 20
_OF_MEDIAN = 1.2533  # standard deviation of a median of normal noise over that of the mean
_FAR = 3650.0  # days ahead; beyond, it is "later"


def _least_noise() -> dict[str, float]:
    """What the meters leave unsure of each, as a share: of the flow by its own, by gauge and by
    thermometer; of the salt by its meter, the flow and the thermometer; of the drop by its gauge
    at half a bar, and by both flows."""
    gauge, warm = 2 * METERS["pressure"].noise, 0.03 * METERS["temperature"].noise
    water = METERS["product"].noise
    flow = math.hypot(water, gauge, warm)
    salt = math.hypot(METERS["conductivity"].noise, water, warm)
    drop = math.hypot(METERS["drop"].noise / 0.5e5, 1.5 * METERS["brine"].noise)
    return {FLOW: flow, SALT: salt, DROP: drop}


LEAST_NOISE = _least_noise()
# How far the correction for warmth may be out, for each kelvin: as far as the trade's two rules lie
# apart at 15 °C.
BY_WARMTH = abs(math.log(PER_KELVIN**-10 / membranes.temperature_correction(288.15))) / 10


@dataclass(frozen=True)
class Due:
    """The days, of all since the first reading, on which a limit is reached: as it goes on, and
    between which; None for later than anybody can tell."""

    day: float | None
    early: float | None
    late: float | None


@dataclass(frozen=True)
class Fared:
    """How one of the three fared: its course as logarithms over the days since the first reading,
    what it was on day one, how far that may be out to either side as a share, whether it was
    written down, and its limit as a share of it."""

    key: str
    course: Course
    base: float
    base_sure: float
    written: bool
    limit: float

    @property
    def falls(self) -> bool:
        """Whether it is the worse the lower."""
        return self.limit < 1

    @property
    def part(self) -> Part:
        """The part that goes on."""
        return self.course.now

    @property
    def end(self) -> float:
        """The day of the last reading."""
        return self.course.x[-1]

    @property
    def level(self) -> float:
        """What it is now: its line at the last reading, in SI."""
        return math.exp(self.part.at(self.end))

    @property
    def ratio(self) -> float:
        """That over day one."""
        return self.level / self.base

    @property
    def worse(self) -> float:
        """By which share it is worse than on day one; below nothing where it is better."""
        return 1 - self.ratio if self.falls else self.ratio - 1

    @property
    def sure(self) -> float:
        """How far that may be out to either side, 19 times out of 20, as a share."""
        return math.expm1(math.hypot(self.part.band(self.end), self.base_sure))

    @cached_property
    def rate(self) -> float:
        """How it goes on, as a share a day."""
        return self.part.slope

    @cached_property
    def steady(self) -> bool:
        """Whether nobody can tell its slope from noise."""
        return abs(self.part.slope) <= self.part.slope_band

    @cached_property
    def due(self) -> Due:
        """When it reaches its limit."""
        return self.due_at()

    def due_at(self, limit: float | None = None) -> Due:
        """When it reaches another limit [SI], or its own."""
        wall = math.log(self.base * self.limit if limit is None else limit)
        known = self.base_sure if limit is None else 0.0
        sign = -1.0 if self.falls else 1.0
        part = self.part

        def over(day: float, sure: float) -> float:
            return sign * (part.at(day) - wall) + sure * math.hypot(part.band(day), known)

        day = None
        if not self.steady and sign * part.slope > 0:
            day = _first(lambda one: over(one, 0.0), self.end)
        late = None if day is None else _first(lambda one: over(one, -1.0), self.end)
        return Due(day, _first(lambda one: over(one, 1.0), self.end), late)

    @property
    def jumps(self) -> tuple[tuple[float, float, float], ...]:
        """Its changes: the days before and after, and by which ratio it changed."""
        found = []
        pairs = pairwise(self.course.parts)
        for (before, after), (one, other) in zip(self.course.changes, pairs, strict=True):
            middle = (before + after) / 2
            found.append((before, after, math.exp(other.at(middle) - one.at(middle))))
        return tuple(found)


def _first(over: Callable[[float], float], start: float) -> float | None:
    """The first day from a start on which a function is not below nothing; None for none soon."""
    if over(start) >= 0:
        return start
    step, last = 1.0, start
    while last - start < _FAR:
        now = last + step
        if over(now) >= 0:
            low, high = last, now
            for _ in range(30):
                middle = (low + high) / 2
                low, high = (low, middle) if over(middle) >= 0 else (middle, high)
            return high
        last, step = now, step * 1.1
    return None


class Line(NamedTuple):
    """A reading with its day, and if they were read its hours [h] and its filters' drop [Pa]."""

    day: datetime.date
    hours: float | None
    read: Read
    filters: float | None = None


@dataclass(frozen=True)
class Trend:
    """What a log of readings tells: its lines in their order, each at standard conditions, and how
    the three fared of which enough was read; of the others how many readings there are."""

    lines: tuple[Line, ...]
    found: tuple[Standardised, ...]
    fared: Mapping[str, Fared]
    counts: Mapping[str, int]

    @property
    def first(self) -> datetime.date:
        """The day of the first reading."""
        return self.lines[0].day

    @property
    def last(self) -> datetime.date:
        """The day of the last reading."""
        return self.lines[-1].day

    @cached_property
    def filters(self) -> tuple[datetime.date, float] | None:
        """The last drop of the filters [Pa] that was read, with its day; None for none."""
        return next(
            ((one.day, one.filters) for one in reversed(self.lines) if one.filters is not None),
            None,
        )

    def on(self, day: float) -> datetime.date:
        """The date of a day since the first reading."""
        return self.first + datetime.timedelta(days=round(day))

    @cached_property
    def useless(self) -> dict[str, list[datetime.date]]:
        """Days of readings from which nothing follows, by why."""
        found: dict[str, list[datetime.date]] = {}
        for line, one in zip(self.lines, self.found, strict=True):
            if one.why:
                found.setdefault(one.why, []).append(line.day)
        return found

    def apart(self, key: str) -> list[datetime.date]:
        """Days of readings that were set aside."""
        places = [n for n, one in enumerate(self.found) if getattr(one, key)]
        return [self.lines[places[n]].day for n in self.fared[key].course.apart]

    @cached_property
    def due(self) -> tuple[str, Due] | None:
        """Which of the three reaches its limit first, and when; None where none is known to."""
        dues = [(one.due, key) for key, one in self.fared.items()]
        known = [(due.day, key, due) for due, key in dues if due.day is not None]
        return min((day, key, due) for day, key, due in known)[1:] if known else None


@lru_cache(maxsize=8)
def trend(
    standard: Standard, lines: tuple[Line, ...], day_one: Read | None, allowed: float
) -> Trend:
    """What the lines tell, held against day one, or the first of them; `allowed` is the share by
    which each of the three may be worse."""
    ordered = lines if _is_ordered(lines) else tuple(sorted(lines, key=_order))
    found = at_standard.all_of(standard, tuple([line.read for line in ordered]))
    then = Standardised() if day_one is None else at_standard.standardised(standard, day_one)
    fared, counts = {}, {}
    columns = dict(zip(Standardised._fields, zip(*found, strict=True), strict=True))
    for key in SERIES:
        column = columns[key]
        places = [n for n, one in enumerate(column) if one]
        counts[key] = len(places)
        if not places:
            continue
        first = ordered[0].day.toordinal()
        days = [float(ordered[n].day.toordinal() - first) for n in places]
        if len(places) < NEEDED or days[-1] - days[0] < DAYS:
            continue
        heights = [math.log(column[n]) for n in places]
        warmth = [ordered[n].read.temperature or 0.0 for n in places]
        by_warmth = 0.0 if key == DROP else BY_WARMTH
        made = course(days, heights, warmth, LEAST_NOISE[key], by_warmth)
        written = getattr(then, key)
        limit = 1 - allowed if key == FLOW else 1 + allowed
        base = written or _first_of(heights, made.apart)
        # One reading by its meters, or the median of a few by how they scatter.
        out = LEAST_NOISE[key] if written else made.scatter * _OF_MEDIAN / math.sqrt(FIRST)
        fared[key] = Fared(key, made, base, _SURE * out, bool(written), limit)
    return Trend(ordered, found, fared, counts)


def _first_of(heights: Sequence[float], apart: Sequence[int]) -> float:
    """The median of the first few that were not set aside."""
    aside = set(apart)
    kept = [one for n, one in enumerate(heights) if n not in aside]
    return math.exp(median(kept[:FIRST]))


def _is_ordered(lines: Sequence[Line]) -> bool:
    """Whether they stand in their order beyond doubt: a long log mostly does."""
    when = [(line.day, math.inf if line.hours is None else line.hours) for line in lines]
    return all(one < other for one, other in pairwise(when))


def _order(line: Line) -> tuple[datetime.date, float, tuple[float, ...]]:
    """By day, by the hour meter, and else by what was read, so that no order is told by another."""
    read = [-1.0 if one is None else one for one in (*line.read, line.filters)]
    return line.day, math.inf if line.hours is None else line.hours, tuple(read)
