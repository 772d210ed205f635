"""Here, there, or under the berth: which place is best for it, under everything at once?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.asking import asking, settle
from ...frame.cautions import rules
from ...frame.guide import Told, decides
from ...frame.quantities import Quantity
from ...frame.report import Report
from . import apart, sketch, tell
from .asks import Asks
from .subjects import judged

__all__ = [
    "CAUTIONS",
    "DECIDES",
    "PICTURE",
    "QUANTITIES",
    "SLOW",
    "TITLE",
    "WANTED",
    "Asks",
    "answer",
]

TITLE = "Which place"
PICTURE = "sketch"
SLOW = True
WANTED = ("cool", "quiet", "mounts", "room")
DECIDES = decides("unit", "places")
QUANTITIES = (
    Quantity("How she floats", "Displacement", "M", "kg", "What she weighs as she floats."),
    Quantity(
        "How she floats",
        "Metacentric height",
        "h",
        "m",
        "How stiff she is against heel; for trim about her length.",
    ),
    Quantity("How she floats", "Trim", "t", "mm", "What bow and stern differ by."),
    Quantity("How she floats", "Waterline", "L", "m", "Its length.", ("Waterline, length",)),
)
CAUTIONS = rules("vapour", "lifting", "hull", "flooding", "lining", "hot-motor")


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    """Every place judged by every page; then which is best, and why."""
    ask = asking(show)
    found = judged(q, ask)
    options = []
    for place in found:
        option = show.option(f"place-{place.number}", place.name)
        options.append(option)
        for cell in place.cells:
            settle(option, cell.part, cell.subject.name)
            if cell.answered is not None:
                show.borrowed += cell.answered.cautions

    def told() -> Told:
        tell.headline(found, show)
        tell.table(found, options, show)
        tell.remedies(found, options)
        drawn = sketch.sketch(q, found, show)
        if not drawn:
            sketch.in_places(found, show)

        def folded() -> None:
            tell.to_win(found, show)
            if drawn:
                sketch.in_places(found, show)
            tell.working(q, found[0], show)
            apart.tell(q, found, ask, show)

        return folded

    return told
