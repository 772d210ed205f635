"""The plan of upkeep: what the boat's year and its log make of a list of tasks.

The due list, the timeline and the calendar file are all read off one `Plan`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from itertools import pairwise
from typing import Any

from ..frame import ical, log
from ..frame.inputs import Refusal, Values, nearest
from ..physics import maintenance
from ..physics.calendar_days import add_months
from ..physics.maintenance import Done, Due, Past, Rule, Stretch, Use
from ..sheet.year import MONTHS
from . import at_rest
from .at_rest import LaidUp

HOUR, DAY = 3600.0, 86400.0
HORIZON = 24  # months
# Dates beyond the horizon that a lay-up moves a task to still need a forecast.
_SPARE_DAYS = 40


class Forecast:
    """The boat's year from today on: its use as planned, and the less and the more it may be.

    Each is worked out when it is first asked for: a list of verdicts wants the first alone.
    """

    def __init__(self, q: Values, end: date) -> None:
        self._q, self.end = q, end

    def _use(self, factor: float) -> Use:
        today = self._q.today
        return use_from(self._q, today, (self.end - today).days + _SPARE_DAYS, factor)

    @cached_property
    def planned(self) -> Use:
        return self._use(1.0)

    @cached_property
    def slow(self) -> Use:
        return self._use(1 - self._q.spread)

    @cached_property
    def fast(self) -> Use:
        return self._use(1 + self._q.spread)


@dataclass(frozen=True)
class Job:
    """A task in the plan: its rule, when it was last done, and each day it falls due."""

    task: Any
    rule: Rule
    done: Done
    note: str
    forecast: Forecast

    @property
    def last(self) -> date:
        return self.done.day

    @property
    def run_since(self) -> float:
        """Running time since it was last done [s]."""
        return self.done.run_since

    @property
    def never_done(self) -> bool:
        return self.done.first

    @cached_property
    def next(self) -> Due | None:
        return self._first(self.forecast.planned)

    @cached_property
    def dues(self) -> Sequence[Due]:
        forecast = self.forecast
        return maintenance.schedule(self.rule, self.done, forecast.planned, forecast.end)

    @cached_property
    def early(self) -> date | None:
        """The next due day if it runs more than planned; None where that lies beyond the plan."""
        due = self._first(self.forecast.fast)
        return due.day if due else None

    @cached_property
    def late(self) -> date | None:
        """The next due day if it runs less; None where that lies beyond the plan."""
        due = self._first(self.forecast.slow)
        return due.day if due else None

    def _first(self, use: Use) -> Due | None:
        return maintenance.schedule_first(self.rule, self.done, use, self.forecast.end)

    @property
    def hours_left(self) -> float | None:
        """Running time left to its interval [s], negative when overrun."""
        limit = self.rule.limit(self.never_done)
        return None if limit is None else limit - self.run_since


@dataclass(frozen=True)
class Plan:
    """Everything that falls due from today to the end, and the use it was reckoned from."""

    today: date
    past: Past
    hours_read: date | None
    forecast: Forecast
    jobs: Sequence[Job]
    lay_ups: Sequence[LaidUp]
    unit: Any = None

    @property
    def end(self) -> date:
        return self.forecast.end

    @property
    def use(self) -> Use:
        """The use as planned."""
        return self.forecast.planned

    @property
    def hours_now(self) -> float:
        """Running time in total [s], by the log and the plan's guess for the days since."""
        return self.past.total

    @property
    def hours_guessed(self) -> float:
        """The plan's guess in it [s]."""
        return self.past.since.total

    def day_of(self, due: Due) -> date:
        """The day to do it: today for what is overdue."""
        return max(due.day, self.today)


def daily_use(q: Values) -> float:
    """Usual running time a day [s], from hours or from the litres wanted."""
    if q.use_by == "hours":
        return float(q.run_hours)
    daily = float(q.litres) / float(q.product_flow) * DAY
    if daily > DAY:
        raise Refusal("litres", "the unit cannot make so much in a day of 24 hours")
    return daily


def plan(
    q: Values, tasks: Sequence[Any], lay_ups: Sequence[LaidUp] = (), until: date | None = None
) -> Plan:
    """The plan for a filled-in form, up to its horizon or a later day.

    Raises Refusal for dates that contradict each other.
    """
    _check_dates(q)
    read = log.meter(q.log or ())
    readings = [(reading.day, reading.hours * HOUR) for reading in read]
    if not read or q.started < read[0].day:
        readings.insert(0, (q.started, 0.0))
    # What ran between the last reading and today is nobody's knowledge: the plan's own guess.
    since = readings[-1][0]
    past = Past(readings, use_from(q, since, (q.today - since).days))
    forecast = Forecast(q, max(add_months(q.today, HORIZON), until or q.today))
    done = log.last_done(q.log or ())
    jobs = [_job(task, done, q, past, forecast) for task in tasks]
    return Plan(q.today, past, since if read else None, forecast, jobs, lay_ups, q.unit)


def _check_dates(q: Values) -> None:
    if q.started > q.today:
        raise Refusal("started", f"{q.started} lies after today, {q.today}")
    newest = log.latest(q.log or ())
    if newest and newest > q.today:
        raise Refusal(
            "log", f"the entry of {newest} lies after today, {q.today}; is one of the two wrong?"
        )
    _check_stretches("passages", "passage", q.passages)
    check_lay_ups(q.lay_ups)


def check_lay_ups(rows: Sequence[Any]) -> None:
    """Raises Refusal for lay-ups that end before they begin, last for ever or overlap."""
    _check_stretches("lay_ups", "lay-up", rows)
    ordered = sorted(rows, key=lambda row: (row.start, row.end))
    for one_row, other in pairwise(ordered):
        if other.start <= one_row.end:
            raise Refusal("lay_ups", f"two lay-ups overlap on {other.start}")


def _check_stretches(field: str, one: str, rows: Sequence[Any]) -> None:
    for number, row in enumerate(rows, 1):
        if row.end < row.start:
            raise Refusal(field, f"{one} {number} ends on {row.end}, before it begins")
        if (row.end - row.start).days > 3660:
            raise Refusal(field, f"{one} {number} is longer than ten years")


def _by_month(q: Values) -> list[float]:
    by_month = [daily_use(q)] * 12
    for row in q.months:
        by_month[int(row.month) - 1] = row.daily
    return by_month


def use_from(q: Values, start: date, days: int, factor: float = 1.0) -> Use:
    """The use that the boat's months, passages and lay-ups make, for so many days from a day on."""
    passages = [Stretch(row.start, row.end, row.daily) for row in q.passages]
    laid_up = [Stretch(row.start, row.end) for row in q.lay_ups]
    return Use(start, max(0, days), _by_month(q), passages, laid_up, factor)


def _rule(task: Any) -> Rule:
    return Rule(
        task.hours,
        task.months,
        task.first_hours,
        task.before_lay_up,
        task.after_lay_up,
        task.laid_up,
    )


def _job(
    task: Any, done: dict[str, log.LastDone], q: Values, past: Past, forecast: Forecast
) -> Job:
    found = done.get(task.name.lower())
    day = found.day if found else q.started
    # A job that was done after the last reading has no hours of its own but the plan's.
    total = found.hours * HOUR + past.since.until(day) if found else 0.0
    rule = _rule(task)
    state = maintenance.stands(rule, day, total, found is None, past)
    return Job(task, rule, state, found.note if found else "", forecast)


def lay_ups(q: Values) -> list[LaidUp]:
    """What each lay-up asks for that is not over yet."""
    keeps = at_rest.keeping(q)
    coming = sorted((row for row in q.lay_ups if row.end >= q.today), key=lambda row: row.start)
    return [at_rest.lay_up(at_rest.rest_of(row), keeps) for row in coming]


def membranes_of(unit: Any) -> int:
    """How many membranes a unit has; one where no unit is chosen."""
    return int(unit.membranes.count) if unit else 1


def times_fitted(part: Any, unit: Any) -> Any:
    """A part whose numbers are for each membrane, with the numbers of the whole unit."""
    count = membranes_of(unit)
    if part.per != "membrane" or count == 1:
        return part
    whole = {name: int(getattr(part, name)) * count for name in ("fitted", "per_change")}
    return Values({**vars(part), **whole})


def price(task: Any, unit: Any) -> float:
    """What the parts of a job cost [money], once for each membrane where the job is told so."""
    return float(task.price) * (membranes_of(unit) if task.per == "membrane" else 1)


def parts(task: Any, unit: Any) -> str:
    """The parts of a job in words, and how many of each where there are several membranes."""
    told = task.parts or ""
    count = membranes_of(unit)
    return f"{count} × {told}" if told and task.per == "membrane" and count > 1 else told


def find(name: str, jobs: Sequence[Job], field: str) -> Job:
    """The job of a task's name, whatever its case. Raises Refusal with the nearest name."""
    for job in jobs:
        if job.task.name.lower() == name.lower():
            return job
    names = [job.task.name for job in jobs]
    raise Refusal(field, f"no task is called “{name}”.{nearest(name, names)}")


# ---- the calendar ----

_WHY = {
    maintenance.HOURS: "by running hours",
    maintenance.CALENDAR: "by the calendar",
    maintenance.LAYING_UP: "before the lay-up",
    maintenance.WAKING: "on waking",
}


def why(due: Due) -> str:
    """Which rule makes it due, in words."""
    return _WHY[due.why]


def told(day: date) -> str:
    """A date as pages write it: 5 May 2026."""
    return f"{day.day} {MONTHS[str(day.month)][:3]} {day.year}"


def between(job: Job, made: Plan) -> str:
    """The days between which it falls due if the hours vary; empty where they don't matter."""
    due = job.next
    if due is None or job.early == job.late or due.day <= made.today:
        return ""
    early = told(job.early) if job.early else "?"
    return f"{early} to {told(job.late)}" if job.late else f"{early} or later"


def at_rest_days(made: Plan) -> list[tuple[date, str, LaidUp]]:
    """Each day from today on that a lay-up asks for, with what is done and its one."""
    return [
        (due.day, one.step(due), one)
        for one in made.lay_ups
        for due in one.days
        if due.day >= made.today
    ]


def calendar_file(made: Plan, boat: str) -> str:
    """All that falls due in the plan as an iCalendar file."""
    events = []
    for job in made.jobs:
        for number, due in enumerate(job.dues):
            events.append(
                ical.Event(
                    made.day_of(due),
                    f"{boat} {job.task.name}",
                    f"Watermaker: {job.task.name}",
                    _description(job, due, between(job, made) if number == 0 else "", made.unit),
                )
            )
    for day, text, _ in at_rest_days(made):
        events.append(ical.Event(day, f"{boat} {text}", f"Watermaker: membranes: {text}"))
    events.sort(key=lambda event: (event.day, event.title))
    title = f"Watermaker of {boat}" if boat else "Watermaker"
    return ical.calendar(title, events, made.today)


def _description(job: Job, due: Due, window: str, unit: Any) -> str:
    task = job.task
    minutes = round(task.duration / 60)
    takes = f"{minutes} min" if minutes < 120 else f"{minutes / 60:g} h"
    lines = [
        f"Due {why(due)}.",
        f"If your hours vary: {window}." if window else "",
        f"Or sooner, when {task.condition}." if task.condition else "",
        f"Parts: {parts(task, unit)}." if task.parts else "",
        f"Tools: {task.tools}." if task.tools else "",
        f"Takes {takes}.",
        "Before you open anything: stop, isolate and lock out, take the pressure off, prove both.",
    ]
    return "\n".join(filter(None, lines))
