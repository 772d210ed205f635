"""Do the membranes tire, and when do I clean or change them?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import rules
from ...frame.guide import Told, decides
from ...frame.report import Report
from . import files, judge, pictures, tell, working
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Readings over the years"
WANTED = ("flow", "days", "salt", "water")
PICTURE = "flow"

DECIDES = decides("unit", "readings", ("sea_salinity", "waters", "sea_conductivity"))

CAUTIONS = rules("cleaner", "pressure", "shut-end", "product-line", "chlorine-membrane", "chlorine")


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    found, standard = q.found, q.standard()
    judge.figures(found, standard, q, show)

    def rest_of_it() -> Told:
        if found is None:
            return None
        tell.headline(found, show)
        tell.first_steps(found, q.filter_change, show)
        tell.table(found, show)
        tell.changes(found, q.log or (), show)
        tell.pattern(found, show)
        tell.notes(q, found, show)
        pictures.charts(found, show)

        def folded() -> None:
            working.steps(standard, found, show)
            files.offered(found, show)

        return folded

    return rest_of_it
