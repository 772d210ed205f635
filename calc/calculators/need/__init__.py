"""How much water do we need, how many hours is that, and how large a tank?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import rules
from ...frame.guide import Told, decides
from ...frame.quantities import Quantity
from ...frame.report import Report
from .. import _sea
from . import judge, picture, remedies, tell, working
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "QUANTITIES", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "How much water"
WANTED = ("hours", "tank", "survival", "needed")
PICTURE = "level"
DECIDES = decides(
    "unit", "crew", "run_hours", "tank_volume", "passage_days", ("sea_temperature", "waters")
)

QUANTITIES = (
    Quantity("Water", "Share lost", "x", "%", "What drips and runs away, of all that is drawn."),
    Quantity("Water", "Variation", "v", "%", "How far a day is from the mean, most days."),
)

CAUTIONS = rules("reserve", "dirty-water")


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    """Litres, hours and the tank judged, then told."""
    need = q.need()
    judge.judge(q, need, show)
    _sea.judge(q.making, show)

    def told() -> Told:
        offers, of_a_litre = q.offers(need), q.energy()
        remedies.remedies(q, need, offers, show)
        tell.headline(need, show)
        tell.tank(q, need, show)
        tell.energy(of_a_litre, need, show)
        show.chart(picture.chart(need))

        def folded() -> None:
            tell.tables(need, offers, show)
            working.steps(q, need, of_a_litre, show)
            tell.notes(q, need, show)

        return folded

    return told
