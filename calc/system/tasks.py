"""When tasks fall due that go by running hours, by the calendar and by lay-ups.

A task is due on the day on which its running time is reached.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from ..physics.calendar_days import later
from .year import Past, Use

HOURS, CALENDAR, LAYING_UP, WAKING = "hours", "calendar", "laying up", "waking"
BEFORE, DURING, AFTER = "before", "during", "after"
_SAME = 1e-3  # s: the last digits of a sum must not carry a due date over midnight
# What was done this short a time before a lay-up, or before waking, counts for it.
# Common practice, no source.
GRACE = timedelta(days=14)


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
