"""Its hours: so far, in the year to come, and to the next job that goes by them."""

from __future__ import annotations

from ...frame import log
from ...frame.report import Report, line
from ...physics.calendar_days import add_months
from ...sheet.tasks import HOUR
from ...sheet.year import told as day_told
from ...system.tasks import HOURS
from ...system.upkeep import Plan
from ...system.year import in_a_year
from .. import _hours
from .asks import Asks


def told(q: Asks, made: Plan, show: Report) -> None:
    """Running hours now and in a year, against the log's own pace."""
    _hours.told(q, show)
    read = log.meter(q.log or ())
    show.figure(
        "hours",
        "Running hours now",
        made.hours_now,
        "h",
        digits=4,
        note=line("read on {day}", day=day_told(made.past.read_on))
        if read
        else "no reading in the log",
    )
    if made.hours_guessed > 0:
        show.note(
            "{h} of the running hours are the plan's guess for the days since the last reading.",
            h=(made.hours_guessed, "h"),
        )
    year = in_a_year(made.use)
    show.figure("hours_year", "Running hours in the next twelve months", year, "h")
    pace = _pace(read, made)
    if pace is not None:
        show.note(
            "Your log says {seen} over the last twelve months; the plan says {planned} for the "
            "next.",
            seen=(pace, "h"),
            planned=(year, "h"),
        )
    first = next((job for job in made.jobs if job.next and job.next.why == HOURS), None)
    if first is not None and first.hours_left is not None and first.hours_left > 0:
        limit = first.hours_left + first.run_since
        show.step(
            line("Hours left: {task}", task=first.task.name),
            first.hours_left,
            "h",
            "left = interval - run",
            {"interval": (limit, "h"), "run": (first.run_since, "h")},
            "Hours since it was last done, by the log and the plan",
        )


def _pace(read: tuple[log.Meter, ...], made: Plan) -> float | None:
    """Running time of the last twelve months by the log [s], if it reaches back so far."""
    ago = add_months(made.today, -12)
    if len(read) < 2 or read[0].day > ago:
        return None
    return made.hours_now - log.hours_on(read, ago) * HOUR
