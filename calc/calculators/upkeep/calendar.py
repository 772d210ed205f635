"""The plan as a calendar file."""

from __future__ import annotations

from ...frame import ical
from ...frame.report import Line, Report, line, say
from ...system.tasks import CALENDAR, HOURS, LAYING_UP, WAKING, Due
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
        _file(q, made),
    )


def _file(q: Asks, made: Plan) -> str:
    boat = (q.name or "").partition(",")[0].strip()
    events = [
        ical.Event(
            made.day_of(due),
            f"{boat} {job.task.name}",
            say(line("Watermaker: {task}", task=job.task.name)),
            "\n".join(map(say, _description(q, made, job, due, first=number == 0))),
        )
        for job in made.jobs
        for number, due in enumerate(job.dues)
    ]
    for due, one in made.at_rest():
        title = line("Watermaker: membranes: {step}", step=step(one, due.why))
        events.append(ical.Event(due.day, f"{boat} lay-up {due.why}", say(title)))
    events.sort(key=lambda event: (event.day, event.title))
    title = line("Watermaker of {boat}", boat=boat) if boat else line("Watermaker")
    return ical.calendar(say(title), events, made.today)


def _description(q: Asks, made: Plan, job: Job, due: Due, first: bool) -> list[Line]:
    row, takes = q.tasks[job.task.place], job.task.duration
    window = between(job, made) if first else ""
    found = [line(_DUE[due.why])]
    if window:
        found.append(line("If your hours vary: {window}.", window=window))
    if row.condition:
        found.append(line("Or sooner, when {condition}.", condition=row.condition))
    if row.parts:
        found.append(line("Parts: {parts}.", parts=parts(q, job)))
    if row.tools:
        found.append(line("Tools: {tools}.", tools=row.tools))
    found.append(line("Takes {time}.", time=(takes, time_unit(takes))))
    found.append(
        line(
            "Before you open anything: stop, isolate and lock out, take the pressure off, prove "
            "both."
        )
    )
    return found
