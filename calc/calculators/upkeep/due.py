"""The lists of what is due, and of the days of a lay-up."""

from __future__ import annotations

from datetime import date, timedelta

from ...equipment.upkeep import WHO
from ...frame import log
from ...frame.inputs import nearest_word
from ...frame.report import (
    FAILS,
    FITS,
    TIGHT,
    UNKNOWN,
    Amount,
    Line,
    Pair,
    Report,
    Words,
    counted,
    line,
)
from ...sheet.rest import STEPS
from ...sheet.tasks import HOUR, membranes_of
from ...sheet.year import told
from ...system.rest import FLUSH, PRESERVE, RENEW, WAKE, LaidUp
from ...system.tasks import CALENDAR, HOURS, LAYING_UP, WAKING
from ...system.upkeep import Job, Plan
from .asks import Asks
from .judge import SEASON, SOON

Cell = Pair | Amount | Words
HEADS = ("Task", "Due", "If your hours vary", "Why", "Hours left", "Takes", "Parts", "Who")
WHY = {
    HOURS: "by running hours",
    CALENDAR: "by the calendar",
    LAYING_UP: "before the lay-up",
    WAKING: "on waking",
}
_REST = {
    FLUSH: "Lay-up: flush",
    PRESERVE: "Lay-up: put it to rest",
    RENEW: "Lay-up: renew the preservative",
    WAKE: "Lay-up: wake it",
}


def within(q: Asks, made: Plan, unlogged: bool, show: Report) -> None:
    """What falls due within the season, lay-ups included, as a sentence and as a table."""
    season = made.within(SEASON)
    at_rest = made.at_rest(made.today + timedelta(SEASON))
    work = sum(job.task.duration for job in season)
    show.figure("work", "Work in them", work, time_unit(work))
    show.figure("rest", "Days of a lay-up within 90 days", len(at_rest), "")
    show.headline(
        _HEADLINES[unlogged, bool(at_rest)],
        late=counted(len(made.overdue), "{n} task", "{n} tasks"),
        soon=len(made.within(SOON)),
        season=len(season),
        work=(work, time_unit(work)),
        rest=counted(len(at_rest), "{n} day", "{n} days"),
    )
    due: list[tuple[date, list[Cell], str]] = [
        (job.day, _row(q, job, made), UNKNOWN if unlogged else _nearness(job.day, made))
        for job in season
    ]
    due += [
        (
            one.day,
            [_REST[one.why], told(one.day), "", "the lay-up", "", "", "", "you"],
            _nearness(one.day, made),
        )
        for one, _ in at_rest
    ]
    due.sort(key=lambda one: one[0])
    show.table(
        "due",
        "Due within 90 days",
        HEADS,
        [row for _, row, _ in due],
        [state for *_, state in due],
        note="Each is due by its hours or by its months, whichever comes first."
        if due
        else "Nothing.",
        lead=True,
        on_card=(0, 1, 3, 4),
    )


_HEADLINES = {
    (False, False): "{late} overdue, {soon} due within 30 days, {season} within 90: {work} of "
    "work.",
    (False, True): "{late} overdue, {soon} due within 30 days, {season} within 90: {work} of work, "
    "and {rest} of laying it up.",
    (True, False): "As if nothing had been done since it went into service: {late} overdue, {soon} "
    "due within 30 days, {season} within 90: {work} of work.",
    (True, True): "As if nothing had been done since it went into service: {late} overdue, {soon} "
    "due within 30 days, {season} within 90: {work} of work, and {rest} of laying it up.",
}
"""By whether no job stands in the log, and whether a lay-up has days in the season."""


def _nearness(day: date, made: Plan) -> str:
    if day < made.today:
        return FAILS
    return TIGHT if day <= made.today + timedelta(SOON) else FITS


def later(q: Asks, made: Plan, show: Report) -> None:
    """What comes after the season, jobs that the list does not know, and what is done sooner."""
    season = {job.task.place for job in made.within(SEASON)}
    rest = [job for job in made.by_day if job.task.place not in season]
    show.table(
        "later", "After that", HEADS, [_row(q, job, made) for job in rest], on_card=(0, 1, 3, 4)
    )
    _strangers(q, show)
    watched = [(job, q.tasks[job.task.place].condition) for job in made.jobs]
    if any(when for _, when in watched):
        show.table(
            "watch",
            "Sooner, when",
            ("Task", "When", "Last done"),
            [(job.task.name, when, _last(job)) for job, when in watched if when],
        )


def _strangers(q: Asks, show: Report) -> None:
    """Jobs in the log that no task of the list is called by: they change no date."""
    names = {row.name.lower(): row.name for row in q.tasks}
    strange = [entry.task for entry in q.log or () if entry.entry == log.DONE]
    found = list(dict.fromkeys(name for name in strange if name.lower() not in names))
    if found:
        near = nearest_word(found[0], list(names.values()))
        show.note(
            _STRANGERS[bool(found[3:]), bool(near)],
            told=", ".join(f"“{name}”" for name in found[:3]),
            hint=line("Did you mean “{word}”?", word=near) if near else "",
        )


_STRANGERS = {
    (False, False): "The log names jobs that are not in the list of tasks, so they change no date: "
    "{told}.",
    (True, False): "The log names jobs that are not in the list of tasks, so they change no date: "
    "{told} and more.",
    (False, True): "The log names jobs that are not in the list of tasks, so they change no date: "
    "{told}. {hint}",
    (True, True): "The log names jobs that are not in the list of tasks, so they change no date: "
    "{told} and more. {hint}",
}
"""By whether there are more than are named, and whether one of them is nearly a task."""


def _row(q: Asks, job: Job, made: Plan) -> list[Cell]:
    left = job.hours_left
    return [
        job.task.name,
        _due(job, made),
        between(job, made),
        WHY[job.next.why] if job.next else "",
        "" if left is None else (left, "h"),
        (job.task.duration, time_unit(job.task.duration)),
        parts(q, job),
        WHO[job.task.who],
    ]


def _due(job: Job, made: Plan) -> Words:
    if job.next is None:
        later = line("later than {day}", day=told(made.end))
        return later if job.task.by_interval else "on condition"
    day = told(job.next.day)
    return line("since {day}", day=day) if job.next.day < made.today else day


def between(job: Job, made: Plan) -> Words:
    """The days between which it falls due if the hours vary; empty where they don't matter."""
    due = job.next
    if due is None or job.early == job.late or due.day <= made.today:
        return ""
    if job.early is None:
        return line("? to {late}", late=told(job.late)) if job.late else ""
    if job.late is None:
        return line("{early} or later", early=told(job.early))
    return line("{early} to {late}", early=told(job.early), late=told(job.late))


def parts(q: Asks, job: Job) -> Words:
    """The parts of a job in words, and how many of each where there are several membranes."""
    row, count = q.tasks[job.task.place], membranes_of(q.unit)
    if row.parts and row.per == "membrane" and count > 1:
        return line("{count} × {parts}", count=count, parts=row.parts)
    return row.parts or ""


def time_unit(time: float) -> str:
    """Minutes up to two hours, then hours."""
    return "min" if time < 2 * HOUR else "h"


def _last(job: Job) -> Words:
    return "never" if job.never_done else told(job.last)


# ---- at rest ----


def at_rest(made: Plan, show: Report) -> None:
    """What the lay-ups ask for, and whether anything keeps the membranes through them."""
    found = made.at_rest()
    if found:
        show.table(
            "rest",
            "Laying it up and waking it",
            ("Day", "What", "Lay-up"),
            [
                (told(due.day), line("Membranes: {step}.", step=step(one, due.why)), _lay_up(one))
                for due, one in found
            ],
        )
    for one in made.lay_ups:
        if not one.kept:
            show.note(
                "As things are, nothing keeps the membranes through the lay-up of {day}: “Laying "
                "it up” says what is missing.",
                day=told(one.rest.start),
            )


def step(one: LaidUp, why: str) -> Line:
    """What is done on a day of a lay-up."""
    return line(STEPS[one.way.key, why])


def _lay_up(one: LaidUp) -> Line:
    rest = one.rest
    days = counted(rest.days, "{n} day", "{n} days")
    frost = "{start} to {end}, {days}, may freeze"
    return line(
        frost if rest.frost else "{start} to {end}, {days}",
        start=told(rest.start),
        end=told(rest.end),
        days=days,
    )
