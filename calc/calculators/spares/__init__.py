"""Which spares do I carry far from a shop, and how many of each?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import rules
from ...frame.guide import Told, decides
from ...frame.report import Report
from ...system import spares as system
from .. import _hours, _left_out
from . import early, judge, tell, working
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "SLOW", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Spares to carry"

WANTED = ("pieces", "mass", "cost")
PICTURE = "confidence"
SLOW = True

DECIDES = decides("unit", "started")

CAUTIONS = rules("mains", "pressure")


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    made, trip = q.voyage()
    needs = q.needs(made, trip)
    worn = [need for need in needs if need.part.wears]
    chosen = q.looked_at(worn)
    box = system.box(needs, q.confidence, q.covers == "each")
    judge.box(q, box, trip, show)

    def rest_of_it() -> Told:
        tell.headline(box, trip, show)
        tell.listed(q, box, show)
        _hours.told(q, show)
        _left_out.told(q.no_parts(), q.unsure_parts(), show)
        tell.confidence(q, box, show)

        def folded() -> None:
            working.steps(needs, trip, show)
            if chosen is not None:
                early.told(q, worn, chosen, show)

        return folded

    return rest_of_it
