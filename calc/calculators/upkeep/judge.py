"""What is overdue, and how long it stands: the figures that decide."""

from __future__ import annotations

import math

from ...frame import log
from ...frame.report import Line, Report, counted, line, most
from ...physics.calendar_days import DAY
from ...system.rest import kept
from ...system.tasks import CALENDAR, HOURS, LAYING_UP, WAKING
from ...system.upkeep import Job, Plan
from ...system.year import longest_standing
from .asks import Asks

SOON, SEASON = 30, 90  # days


def nothing_logged(q: Asks, made: Plan) -> bool:
    """Whether tasks seem overdue only because no job stands in the log."""
    return bool(made.overdue) and not any(entry.entry == log.DONE for entry in q.log or ())


def tasks(made: Plan, unlogged: bool, show: Report) -> None:
    """Tasks by their days, and the one figure that the verdict rests on."""
    late = len(made.overdue)
    first = next((job for job in made.by_day if job.next), None)
    if first:
        days = float((first.day - made.today).days)
        name = line("{task}", task=first.task.name)
        show.figure("days", "Days to the next task", days * DAY, "days", note=name)
    show.figure("late", "Tasks overdue", late, "")
    show.figure(
        "soon", "Tasks due within 30 days", len(made.within(SOON)), "", note="overdue ones included"
    )
    show.figure("season", "Tasks due within 90 days", len(made.within(SEASON)), "")
    if first:
        show.figure(
            "next",
            "Interval used up",
            first.gone_by(made.today),
            "%",
            at_most=None if unlogged else 1.0,
            says=_says(first, made),
            note=line("{task}", task=first.task.name),
        )
    if unlogged:
        show.unknown(
            "no-log",
            "no job stands in the log, so nobody can tell what is overdue: by the day it went into "
            "service alone, {late} would be",
            late=counted(late, "{n} task", "{n} tasks"),
        )
        show.remedy(
            "Write into the log, for each task, the day on which it was last done. If the "
            "unit is new, put in the day it went into service."
        )


# What decides, by the rule that makes it due: overdue, due today, due later.
_OVERDUE = {
    HOURS: (
        "{task} is overdue by {n} day, by running hours",
        "{task} is overdue by {n} days, by running hours",
    ),
    CALENDAR: (
        "{task} is overdue by {n} day, by the calendar",
        "{task} is overdue by {n} days, by the calendar",
    ),
    LAYING_UP: (
        "{task} is overdue by {n} day, before the lay-up",
        "{task} is overdue by {n} days, before the lay-up",
    ),
    WAKING: ("{task} is overdue by {n} day, on waking", "{task} is overdue by {n} days, on waking"),
}
_TODAY = {
    HOURS: "{task} is due today, by running hours",
    CALENDAR: "{task} is due today, by the calendar",
    LAYING_UP: "{task} is due today, before the lay-up",
    WAKING: "{task} is due today, on waking",
}
_NEXT = {
    HOURS: (
        "{task} is the next, due in {n} day, by running hours",
        "{task} is the next, due in {n} days, by running hours",
    ),
    CALENDAR: (
        "{task} is the next, due in {n} day, by the calendar",
        "{task} is the next, due in {n} days, by the calendar",
    ),
    LAYING_UP: (
        "{task} is the next, due in {n} day, before the lay-up",
        "{task} is the next, due in {n} days, before the lay-up",
    ),
    WAKING: (
        "{task} is the next, due in {n} day, on waking",
        "{task} is the next, due in {n} days, on waking",
    ),
}


def _says(job: Job, made: Plan) -> Line:
    assert job.next
    name, why, days = job.task.name, job.next.why, (job.day - made.today).days
    if days < 0:
        return counted(-days, *_OVERDUE[why], task=name)
    if days == 0:
        return line(_TODAY[why], task=name)
    return counted(days, *_NEXT[why], task=name)


def standing(q: Asks, made: Plan, show: Report) -> None:
    """How long it stands between two runs, against what flushing alone keeps."""
    idle = longest_standing(made.use)
    stands = max(q.stands, idle)
    show.figure(
        "stands",
        "Longest it stands between two runs",
        stands,
        "days",
        at_most=q.preserve_after,
        says=line(
            "it stands {stands} between two runs, and flushing alone keeps it {keeps}",
            stands=(stands, "days"),
            keeps=(q.preserve_after, "days"),
        ),
        note="days without use in the plan" if idle > q.stands else "",
    )
    if stands > q.preserve_after:
        keeps = most(q.preserve_after, "days")
        # Days without use in the plan are no field: a lay-up or a passage has to change them.
        planned = idle > q.preserve_after
        show.remedy(
            "Run it every {keeps} at the latest, or put the time that it stands into the "
            "list of lay-ups, where it is preserved.",
            sets=None if planned else {"stands": keeps},
            mends="" if planned else "stands",
            keeps=keeps,
        )
    lasts = round(kept(q.flush_every, q.ambient_temperature) / DAY)
    flushes = 1 + max(0, math.ceil(stands / (lasts * DAY) - 1e-6) - 1)
    show.figure("flushes", "Fresh-water flushes between two such runs", flushes, "")
    show.note(
        "Flush with fresh water after each run. At {warm} a flush keeps {lasts}: if the next run "
        "is later than that, flush again every {lasts}, with water that holds no chlorine.",
        warm=(q.ambient_temperature, "°C"),
        lasts=counted(lasts, "{n} day", "{n} days"),
    )
