"""A boat's year: how long her machine runs on which day, by her months, passages and lay-ups.

Running time is in seconds. A day of the forecast is the whole day.
"""

from __future__ import annotations

import bisect
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import accumulate

from ..physics.calendar_days import DAY, add_months, days_in_month

_FOREVER = 10**6
_SAME = 1e-3  # s: the last digits of a sum must not carry a due date over midnight
# Dates beyond the horizon that a lay-up moves a task to still need a forecast.
_SPARE_DAYS = 40


@dataclass(frozen=True)
class Stretch:
    """Days from `start` up to and with `end` with their own running time a day [s]."""

    start: date
    end: date
    daily: float = 0.0


class Use:
    """Forecast running time by day from `start` on.

    `by_month` holds twelve running times a day [s]; later stretches outrank earlier ones, and in
    a lay-up nothing runs. `factor` scales all running time.
    """

    def __init__(
        self,
        start: date,
        days: int,
        by_month: Sequence[float],
        stretches: Iterable[Stretch] = (),
        lay_ups: Iterable[Stretch] = (),
        factor: float = 1.0,
    ) -> None:
        self.start, self.days = start, days
        daily: list[float] = []
        day = start
        while len(daily) < days:  # a month at a time
            left = days_in_month(day.year, day.month) - day.day + 1
            daily += [by_month[day.month - 1] * factor] * min(left, days - len(daily))
            day += timedelta(days=left)
        self.lay_ups = sorted(lay_ups, key=lambda s: (s.start, s.end))
        at_work = [(stretch, stretch.daily * factor) for stretch in stretches]
        for stretch, value in (*at_work, *((lay_up, 0.0) for lay_up in self.lay_ups)):
            first = max(0, (stretch.start - start).days)
            last = min(days - 1, (stretch.end - start).days)
            if first <= last:
                daily[first : last + 1] = [value] * (last + 1 - first)
        self._sums = list(accumulate(daily, initial=0.0))

    @property
    def total(self) -> float:
        """Running time [s] of the whole forecast."""
        return self._sums[-1]

    def until(self, day: date) -> float:
        """Running time [s] from the start of the forecast up to the morning of a day."""
        return self._sums[min(self.days, max(0, (day - self.start).days))]

    def longest_idle(self, end: date) -> int:
        """The longest run of days up to `end` on which nothing runs though it is not laid up."""
        longest = run = 0
        for index in range(min(self.days, (end - self.start).days)):
            day = self.start + timedelta(days=index)
            idle = self._sums[index + 1] <= self._sums[index]
            if idle and not any(rest.start <= day <= rest.end for rest in self.lay_ups):
                run += 1
                longest = max(longest, run)
            else:
                run = 0
        return longest

    def reached(self, time: float) -> int:
        """Index of the day on which this running time [s] is reached; far away if never."""
        if time <= _SAME:
            return 0
        index = bisect.bisect_left(self._sums, time - _SAME)
        return index - 1 if index <= self.days else _FOREVER


class Past:
    """Running time in total [s] up to a forecast: as read on dated days, then as it was planned.

    `readings` are at least one day, in order, each with the total on its morning; `since` is the
    use from the last of them on.
    """

    def __init__(self, readings: Sequence[tuple[date, float]], since: Use) -> None:
        self._days = [day for day, _ in readings]
        self._totals = [total for _, total in readings]
        self.since = since

    @property
    def read_on(self) -> date:
        """The day of the last reading."""
        return self._days[-1]

    @property
    def total(self) -> float:
        """Running time in total [s] at the end."""
        return self._totals[-1] + self.since.total

    def reached(self, total: float) -> date:
        """The day on which a total [s] was reached, in proportion between two readings; the first
        reading's day, or the last of all, where it lies outside.
        """
        index = bisect.bisect_left(self._totals, total - _SAME)
        if index == 0:
            return self._days[0]
        if index == len(self._totals):
            days = min(self.since.reached(total - self._totals[-1]), self.since.days)
            return self._days[-1] + timedelta(days=days)
        before, after = self._totals[index - 1 : index + 1]
        span = (self._days[index] - self._days[index - 1]).days
        days = math.ceil(span * (total - _SAME - before) / (after - before)) - 1
        return self._days[index - 1] + timedelta(days=max(0, days))


@dataclass(frozen=True)
class Year:
    """A boat's year: since when her machine is in service, running time a day [s] of each month,
    stretches of days with their own, lay-ups.
    """

    started: date
    by_month: Sequence[float]
    passages: Sequence[Stretch] = ()
    lay_ups: Sequence[Stretch] = ()

    def use(self, start: date, days: int, factor: float = 1.0) -> Use:
        """The use that it makes, for so many days from a day on, scaled by a factor."""
        return Use(start, max(0, days), self.by_month, self.passages, self.lay_ups, factor)

    def and_also(self, passage: Stretch) -> Year:
        """The same year with one stretch more, which outranks those before."""
        return replace(self, passages=(*self.passages, passage))

    def past(self, readings: Sequence[tuple[date, float]], today: date) -> Past:
        """Running time up to today: as read, and then by the year's own guess.

        What ran between the last reading and today is nobody's knowledge.
        """
        known = list(readings)
        if not known or self.started < known[0][0]:
            known.insert(0, (self.started, 0.0))
        since = known[-1][0]
        return Past(known, self.use(since, (today - since).days))


@dataclass(frozen=True)
class Forecast:
    """A year's use from today to an end: as planned, and the less and the more it may be."""

    planned: Use
    slow: Use
    fast: Use
    end: date


def forecast(year: Year, today: date, end: date, spread: float) -> Forecast:
    """The use from today on; `spread` is the share by which it may be less or more."""
    days = (end - today).days + _SPARE_DAYS
    planned, slow, fast = (year.use(today, days, f) for f in (1.0, 1 - spread, 1 + spread))
    return Forecast(planned, slow, fast, end)


def in_a_year(use: Use) -> float:
    """Running time [s] of the first twelve months of a use."""
    return use.until(add_months(use.start, 12))


def longest_standing(use: Use) -> float:
    """The longest that it stands [s] in the twelve months to come though it is not laid up."""
    return use.longest_idle(add_months(use.start, 12)) * DAY


def lay_ups_to_come(lay_ups: Sequence[Stretch], today: date) -> int:
    """How many lay-ups begin in the twelve months to come."""
    end = add_months(today, 12)
    return sum(today <= rest.start < end for rest in lay_ups)


def afloat(lay_ups: Sequence[Stretch], today: date) -> float:
    """Time [s] of the twelve months to come on which she is not laid up; no two overlap."""
    end, laid = add_months(today, 12), 0
    for rest in lay_ups:
        last = min(rest.end + timedelta(1), end)
        laid += max(0, (last - max(rest.start, today)).days)
    return ((end - today).days - laid) * DAY
