"""The plan as a calendar file."""

from __future__ import annotations

from collections.abc import Iterator

from ...frame import ical
from ...frame.report import Report, Words, line, say
from ...system.tasks import CALENDAR, HOURS, LAYING_UP, WAKING
from ...system.upkeep import Job, Plan
from .asks import Asks
from .due import between, parts, step, time_unit

_DUE = {
    HOURS: "Due by running hours.",
    CALENDAR: "Due by the calendar.",
    LAYING_UP: "Due before the lay-up.",
    WAKING: "Due on waking.",
}


def offered(q: Asks, made: Plan, show: Report) -> None:
    """A link to all that falls due in the plan, as an iCalendar file."""
    show.download(
        "calendar",
        "watermaker.ics",
        "The next two years for your calendar",
        ical.MEDIA_TYPE,
        lambda: _file(q, made),
    )


def _file(q: Asks, made: Plan) -> str:
    boat = (q.name or "").partition(",")[0].strip()
    events = [event for job in made.jobs for event in _of_job(q, made, job, boat)]
    for due, one in made.at_rest():
        title = line("Watermaker: membranes: {step}", step=step(one, due.why))
        events.append(ical.Event(due.day, f"{boat} lay-up {due.why}", say(title)))
    events.sort(key=lambda event: (event.day, event.title))
    name = line("Watermaker of {boat}", boat=boat) if boat else line("Watermaker")
    return ical.calendar(say(name), events, made.today)


def _of_job(q: Asks, made: Plan, job: Job, boat: str) -> Iterator[ical.Event]:
    """Each day of a job; only the first one has a window."""
    name, title = f"{boat} {job.task.name}", say(line("Watermaker: {task}", task=job.task.name))
    window, always = between(job, made), _always(q, job)
    for number, due in enumerate(job.dues):
        told = [say(_DUE[due.why]), *always]
        if window and number == 0:
            told.insert(1, say(line("If your hours vary: {window}.", window=window)))
        yield ical.Event(made.day_of(due), name, title, "\n".join(told))


def _always(q: Asks, job: Job) -> list[str]:
    """What is told of a job whenever it is due."""
    row, takes = q.tasks[job.task.place], job.task.duration
    found: list[Words] = []
    if row.condition:
        found.append(line("Or sooner, when {condition}.", condition=row.condition))
    if row.parts:
        found.append(line("Parts: {parts}.", parts=parts(q, job)))
    if row.tools:
        found.append(line("Tools: {tools}.", tools=row.tools))
    found.append(line("Takes {time}.", time=(takes, time_unit(takes))))
    found.append(
        "Before you open anything: stop, isolate and lock out, take the pressure off, prove both."
    )
    return [say(one) for one in found]
