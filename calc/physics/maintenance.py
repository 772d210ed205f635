"""When tasks fall due that go by running hours, by the calendar and by lay-ups.

Running time is in seconds. A day of the forecast is the whole day; a task is due on the day on
which its hours are reached.
"""

from __future__ import annotations

import bisect
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import accumulate

from .calendar_days import days_in_month, later

HOURS, CALENDAR, LAYING_UP, WAKING = "hours", "calendar", "laying up", "waking"
BEFORE, DURING, AFTER = "before", "during", "after"
_FOREVER = 10**6
_SAME = 1e-3  # s: the last digits of a sum must not carry a due date over midnight
# What was done this short a time before a lay-up, or before waking, counts for it.
# Common practice, no source.
GRACE = timedelta(days=14)


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
class Rule:
    """What makes a task due: running time [s], calendar interval [s], lay-ups.

    `laid_up` says where a calendar date that falls into a lay-up goes: to the day before it, to the
    day after it, or nowhere (it must be done during it).
    """

    hours: float | None = None
    calendar: float | None = None
    first_hours: float | None = None
    before_lay_up: bool = False
    after_lay_up: bool = False
    laid_up: str = AFTER

    def limit(self, first: bool) -> float | None:
        """Running time [s] to the next time; `first` says that it was never done."""
        return self.first_hours if first and self.first_hours is not None else self.hours


@dataclass(frozen=True)
class Done:
    """When a task was last done, and the running time [s] since then up to the forecast's start.

    `first` says that it was never done, so that a first interval applies. `ran_out` is the day on
    which its running time was used up, if that lies before the forecast.
    """

    day: date
    run_since: float
    first: bool = False
    ran_out: date | None = None


@dataclass(frozen=True)
class Due:
    """A day on which a task falls due, and which of its rules makes it so."""

    day: date
    why: str


def stands(rule: Rule, day: date, total: float, first: bool, past: Past) -> Done:
    """How a task stands that was done on a day, at a running time in total [s]."""
    run_since = max(0.0, past.total - total)
    limit = rule.limit(first)
    if limit is None or limit - run_since > _SAME:
        return Done(day, run_since, first)
    return Done(day, run_since, first, max(day, past.reached(total + limit)))


def schedule(rule: Rule, done: Done, use: Use, end: date) -> list[Due]:
    """Every day up to `end` on which a task falls due, if it is done each time when due.

    A task that is overdue is due on the day that it fell due, before the forecast's start, and is
    then taken as done on the first day. Whichever of the rules comes first counts. A job for a
    lay-up that was done up to `GRACE` before it is not asked for again.
    """
    found: list[Due] = []
    last, owed, first = done.day, -done.run_since, done.first
    while True:
        due = _next(rule, last, owed, first, use, done.ran_out)
        if due is None or due.day > end:
            return found
        found.append(due)
        last = max(due.day, use.start)
        owed, first = use.until(last), False
        if due.why == HOURS and due.day >= use.start:  # done at the end of that day's run
            owed = use.until(last + timedelta(days=1))


def _next(
    rule: Rule, last: date, owed: float, first: bool, use: Use, ran_out: date | None
) -> Due | None:
    """The next due day after `last`, where the running time stood at `owed` [s] of the forecast."""
    day, why = date.max, ""
    limit = rule.limit(first)
    if limit is not None:
        if owed + limit <= _SAME:
            day, why = ran_out or use.start, HOURS
        elif (index := use.reached(owed + limit)) < use.days:
            day, why = use.start + timedelta(days=index), HOURS
    if rule.calendar is not None:
        moved = _moved(later(last, rule.calendar), last, rule, use)
        if moved < day:
            day, why = moved, CALENDAR
    if rule.before_lay_up or rule.after_lay_up:
        for lay_up in use.lay_ups:
            if rule.before_lay_up and last + GRACE < lay_up.start < day:
                day, why = lay_up.start, LAYING_UP
            if rule.after_lay_up and last + GRACE < lay_up.end < day:
                day, why = lay_up.end, WAKING
    return Due(day, why) if why else None


def _moved(day: date, last: date, rule: Rule, use: Use) -> date:
    """A calendar date, moved out of a lay-up as the rule says; never to before it was last done."""
    if rule.laid_up == AFTER:
        for lay_up in use.lay_ups:
            if lay_up.start < day < lay_up.end:
                day = lay_up.end
    elif rule.laid_up == BEFORE:
        for lay_up in reversed(use.lay_ups):
            if last < lay_up.start < day < lay_up.end:
                day = lay_up.start
    return day


def schedule_first(rule: Rule, done: Done, use: Use, end: date) -> Due | None:
    """The next due day alone; see schedule."""
    due = _next(rule, done.day, -done.run_since, done.first, use, done.ran_out)
    return due if due and due.day <= end else None


# ---- lay-up ----

FLUSH, PRESERVE, RENEW, WAKE = "flush", "preserve", "renew", "wake"
KEEPS_FULL_TO = 298.15  # K
_HALVED_BY = 10.0  # K
_WATER = 1000.0  # kg/m3, of fresh water


def rest_days(
    start: date, end: date, first: str, again: str, every: int, come: int = 0
) -> list[Due]:
    """What a machine at rest wants: `first` on its first day, `again` as often as it must, and to
    be woken on its last. No two of these lie further apart than `every` days (at least 1).

    They are spread evenly, or lie `come` days apart where somebody comes no more often and that
    does; never so that something is renewed within `GRACE` of being woken, if even days are not.
    """
    days, every = (end - start).days, max(1, every)
    spells = max(1, -(-days // every))
    step = days / spells
    if spells > 1 and come <= every:
        step = max(step, min(come, (days - GRACE.days) / (spells - 1)))
    between = [start + timedelta(days=int(i * step + 1e-9)) for i in range(1, spells)]
    return [Due(start, first), *(Due(day, again) for day in between), Due(end, WAKE)]


def life_when_warm(life: float, temperature: float) -> float:
    """How long a flush or a preservative keeps [s] at a temperature [K]: its full life up to 25 °C,
    half of it for each 10 K more.

    Van 't Hoff's rule of thumb, that decay doubles its speed with 10 K: from memory. That it holds
    for what lies in a membrane, and from 25 °C on, is common practice, no source.
    """
    return float(life * 0.5 ** (max(0.0, temperature - KEEPS_FULL_TO) / _HALVED_BY))


def days_kept(life: float, temperature: float) -> int:
    """Whole days, at least one, that a flush or a preservative keeps; see `life_when_warm`."""
    return max(1, int(life_when_warm(life, temperature) / 86400 + 1e-6))


def powder_for(strength: float, bucket: float, plain: float = 0.0) -> float:
    """Powder [kg] to stir into a bucket of water [m3], so that its water has the strength [share of
    the water's mass] once it has mixed with plain water [m3]: a mass balance.
    """
    return strength * (bucket + plain) * _WATER


# ---- cost ----


def changes_a_year(
    hours_a_year: float, hours: float | None, calendar: float | None, lay_ups: float = 0.0
) -> float:
    """Long-run times a year [1] that a task comes up: the more frequent of its rules.

    `hours_a_year` and `hours` are running times [s], `calendar` is an interval [s], `lay_ups` the
    lay-up jobs a year. A rule that resets the others makes the true number a little larger.
    """
    year = 365.25 * 86400
    by_hours = hours_a_year / hours if hours else 0.0
    by_calendar = year / calendar if calendar else 0.0
    return max(by_hours, by_calendar, lay_ups)
