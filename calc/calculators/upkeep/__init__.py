"""What must I do to it, and when, from the hours it runs and the months that pass?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import rules
from ...frame.guide import decides
from ...frame.report import Report
from ...system import upkeep as system
from .. import _left_out
from . import calendar, due, hours, judge, money, pictures
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "SLOW", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "The year of the unit"

WANTED = ("days", "late", "work")
PICTURE = "years"
SLOW = True

DECIDES = decides("unit", "started")

CAUTIONS = rules(
    "mains", "preservative", "pressure", "shut-end", "flooding", "dirty-water", "waste-oil"
)


def answer(q: Asks, show: Report) -> Callable[[], None]:
    year, made = q.plan()
    making = q.making
    unlogged = judge.nothing_logged(q, made)
    judge.tasks(made, unlogged, show)
    judge.standing(q, made, show)

    def rest_of_it() -> None:
        due.within(q, made, unlogged, show)
        due.later(q, made, show)
        hours.told(q, made, show)
        money.told(making, made, system.costs(made, year, q.own_hour, q.yard_hour), show)
        due.at_rest(made, show)
        _left_out.told(q.no_tasks(), q.unsure_tasks(), show)
        pictures.timeline(made, show)
        calendar.offered(q, made, show)

    return rest_of_it
