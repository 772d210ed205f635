"""It will stand for weeks: do I flush it, preserve it, or save it from frost, and on which days?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import rules
from ...frame.guide import decides
from ...frame.report import Report
from ...system.rest import lay_up
from . import amounts, days, judge
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Laying it up"

WANTED = ("days", "water", "powder")

DECIDES = decides(("lay_ups", "start"), "end", "frost", "warmest")

CAUTIONS = rules("preservative", "pressure", "shut-end", "product-line", "flooding")


def answer(q: Asks, show: Report) -> Callable[[], None]:
    rest, keeps = q.rest(), q.keeping()
    laid = lay_up(rest, keeps, q.cold())
    days.frost(rest, show)
    judge.ways(q, laid, keeps, show)
    days.standing(laid, keeps, show)

    def rest_of_it() -> None:
        amounts.told(q, laid, q.amounts(laid), show)
        days.listed(laid, q.today, show)
        days.headline(laid, show)

    return rest_of_it
