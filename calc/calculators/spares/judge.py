"""The box against the confidence that is wanted."""

from __future__ import annotations

from ...frame.report import Report, counted
from ...system.spares import Box, Trip
from .asks import Asks


def box(q: Asks, made: Box, trip: Trip, show: Report) -> None:
    """The chance that something runs out, and what the box weighs and costs."""
    allowed = 1 - q.confidence
    says = "Chance that something runs out"
    if q.covers == "box":
        show.figure("risk", says, made.risk, "%", at_most=allowed, digits=2)
    else:
        worst = "Chance that the likeliest part runs out"
        show.figure("worst", worst, made.worst, "%", at_most=allowed, digits=2)
        show.figure("risk", says, made.risk, "%", digits=2)
    show.figure("bare", "The same if you carry only what falls due", made.bare, "%", digits=2)
    show.figure("hours", "Running hours it is counted for", trip.use.total, "h")
    show.figure("pieces", "Pieces in the box", made.pieces, "")
    show.figure("mass", "Mass of the box", made.mass, "kg")
    without = counted(
        made.unpriced,
        "without {n} part whose price is not said",
        "without {n} parts whose price is not said",
    )
    note = without if made.unpriced else ""
    show.figure("cost", "Cost of the box", made.cost, "¤", note=note)
