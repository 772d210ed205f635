"""The timeline of two years."""

from __future__ import annotations

from ...frame.report import Lane, Report, Stay, Timeline, line
from ...system.tasks import HOURS, Due
from ...system.upkeep import Plan


def timeline(made: Plan, show: Report) -> None:
    """Each day on which something falls due, a lane a task."""
    lanes = [
        Lane(
            job.task.name,
            [(made.day_of(due), _kind(due, made)) for due in job.dues],
            [(max(job.early, made.today), job.late or made.end)] if job.early and job.next else (),
        )
        for job in made.by_day
        if job.dues
    ]
    at_rest = [(due.day, "calm") for due, _ in made.at_rest(made.end)]
    if at_rest:
        lanes.append(Lane("Membranes at rest", at_rest))
    laid_up = [
        Stay("laid up", one.rest.start, one.rest.end)
        for one in made.lay_ups
        if one.rest.start <= made.end
    ]
    show.timeline(
        Timeline(
            "years",
            "The next two years: full marks by running hours, open ones by the calendar, "
            "crosses are overdue; a line shows the days between which it may fall.",
            made.today,
            made.end,
            lanes,
            laid_up,
            line(
                "{n} days on which something is due, as in the tables and in the calendar file.",
                n=sum(len(lane.days) for lane in lanes),
            ),
        )
    )


def _kind(due: Due, made: Plan) -> str:
    if due.day < made.today:
        return "late"
    return "due" if due.why == HOURS else "calm"
