"""The plan of upkeep: what a boat's year and its log make of a list of tasks.

The due list, the timeline, the calendar file and the box of spares are all read off one `Plan`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

from ..physics.calendar_days import add_months
from ..physics.maintenance import changes_a_year
from . import year as years
from .rest import LaidUp
from .tasks import Done, Due, Rule, schedule, schedule_first, stands
from .year import Forecast, Past, Use, Year

HORIZON = 24  # months


@dataclass(frozen=True)
class Task:
    """A task: its name, its rule, how long it takes [s], what its parts cost [money] in the whole
    unit, and who may do it, by key. `place` is where it stands in its list.
    """

    place: int
    name: str
    rule: Rule
    duration: float
    price: float
    who: str

    @property
    def by_interval(self) -> bool:
        """Whether it has an interval, in hours or by the calendar."""
        return self.rule.hours is not None or self.rule.calendar is not None


@dataclass(frozen=True)
class LastDone:
    """When a task was last done, and the running time in total [s] then by the readings."""

    day: date
    total: float


@dataclass(frozen=True)
class History:
    """What the log holds: readings by day, running time in total [s], and when each task was last
    done, by its name in small letters.
    """

    readings: Sequence[tuple[date, float]] = ()
    done: Mapping[str, LastDone] | None = None


@dataclass(frozen=True)
class Job:
    """A task in the plan: when it was last done, and each day it falls due."""

    task: Task
    done: Done
    forecast: Forecast

    @property
    def last(self) -> date:
        """The day it was last done."""
        return self.done.day

    @property
    def run_since(self) -> float:
        """Running time since it was last done [s]."""
        return self.done.run_since

    @property
    def never_done(self) -> bool:
        """Whether it was never done yet."""
        return self.done.first

    @cached_property
    def next(self) -> Due | None:
        """When it is due next, as planned; None where that lies beyond the plan."""
        return self._first(self.forecast.planned)

    @property
    def day(self) -> date:
        """The next due day; the last of all days where there is none."""
        return self.next.day if self.next else date.max

    @cached_property
    def dues(self) -> Sequence[Due]:
        """All its due days in the plan."""
        return schedule(self.task.rule, self.done, self.forecast.planned, self.forecast.end)

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
        return schedule_first(self.task.rule, self.done, use, self.forecast.end)

    @property
    def hours_left(self) -> float | None:
        """Running time left to its interval [s], negative when overrun."""
        limit = self.task.rule.limit(self.never_done)
        return None if limit is None else limit - self.run_since

    def gone_by(self, today: date) -> float:
        """The share of the days gone by from when it was last done to when it falls due."""
        return (today - self.last).days / max(1, (self.day - self.last).days)


@dataclass(frozen=True)
class Plan:
    """Everything that falls due from today to the end, and the use it was reckoned from."""

    today: date
    past: Past
    forecast: Forecast
    jobs: Sequence[Job]
    lay_ups: Sequence[LaidUp]

    @property
    def end(self) -> date:
        """The last day of the plan."""
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

    @cached_property
    def by_day(self) -> Sequence[Job]:
        """All jobs, the one that falls due next first."""
        return sorted(self.jobs, key=lambda job: (job.day, job.task.name))

    @property
    def overdue(self) -> Sequence[Job]:
        """The jobs that were due before today."""
        return [job for job in self.by_day if job.day < self.today]

    def within(self, days: int) -> Sequence[Job]:
        """The jobs that fall due within so many days, overdue ones included."""
        last = self.today + timedelta(days)
        return [job for job in self.by_day if job.day <= last]

    def at_rest(self, last: date = date.max) -> Sequence[tuple[Due, LaidUp]]:
        """Each day from today on that a lay-up asks for, up to a last one."""
        return [
            (due, one) for one in self.lay_ups for due in one.days if self.today <= due.day <= last
        ]

    def by_name(self, name: str) -> Job | None:
        """The job of a task's name, whatever its case."""
        return next((job for job in self.jobs if job.task.name.lower() == name.lower()), None)


def plan(
    today: date,
    year: Year,
    history: History,
    tasks: Sequence[Task],
    spread: float,
    lay_ups: Sequence[LaidUp] = (),
    until: date | None = None,
) -> Plan:
    """The plan from today up to its horizon or a later day."""
    past = year.past(history.readings, today)
    end = max(add_months(today, HORIZON), until or today)
    forecast = years.forecast(year, today, end, spread)
    done = history.done or {}
    jobs = [Job(task, _stands(task, done, year, past), forecast) for task in tasks]
    return Plan(today, past, forecast, jobs, lay_ups)


def _stands(task: Task, done: Mapping[str, LastDone], year: Year, past: Past) -> Done:
    found = done.get(task.name.lower())
    if found is None:
        return stands(task.rule, year.started, 0.0, True, past)
    # A job that was done after the last reading has no hours of its own but the plan's.
    return stands(task.rule, found.day, found.total + past.since.until(found.day), False, past)


# ---- what it costs ----


@dataclass(frozen=True)
class Cost:
    """What a job costs: how many times a year, parts and work [money a year], an hour's wage."""

    job: Job
    times: float
    wage: float  # money/s

    @property
    def parts(self) -> float:
        """Price of its parts [money a year]."""
        return self.times * self.job.task.price

    @property
    def labour(self) -> float:
        """What its hours cost [money a year]."""
        return self.times * self.job.task.duration * self.wage

    @property
    def total(self) -> float:
        """Parts and labour [money a year]."""
        return self.parts + self.labour


def wage(task: Task, own: float, yard: float) -> float:
    """What an hour costs [money/s] of whoever does a task, of one's own or of the yard's."""
    return own if task.who == "owner" else yard


def times_a_year(rule: Rule, hours: float, rests: int) -> float:
    """How often a rule brings its task up in a year of so many hours [s] and lay-ups."""
    at_rests = float(rests) if rule.before_lay_up or rule.after_lay_up else 0.0
    return changes_a_year(hours, rule.hours, rule.calendar, at_rests)


def costs(made: Plan, year: Year, own: float, yard: float) -> list[Cost]:
    """What each job costs a year in the long run, the most expensive first; an hour of one's own
    and of the yard cost so much [money/s].
    """
    hours = years.in_a_year(made.use)
    rests = years.lay_ups_to_come(year.lay_ups, made.today)
    found = [
        Cost(job, times_a_year(job.task.rule, hours, rests), wage(job.task, own, yard))
        for job in made.jobs
    ]
    return sorted(found, key=lambda cost: (-cost.total, cost.job.task.name))
