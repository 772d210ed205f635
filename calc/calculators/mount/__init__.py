"""Where can motor and pump be bolted down so that they stay, can be serviced, and shake nothing?"""

from __future__ import annotations

from ...frame.cautions import rules
from ...frame.report import Report
from ...sheet.standing import worded
from ...system.place import placed
from . import tell
from .asks import Asks
from .drawings import drawings
from .judge import judge
from .places import places
from .remedies import remedies
from .working import working

TITLE = "Where to bolt it down"

CAUTIONS = rules("mains", "lifting", "hull", "pressure")

__all__ = ["CAUTIONS", "TITLE", "Asks", "answer"]


def answer(q: Asks, show: Report) -> None:
    """Fills the report on one place, and on the others beside it."""
    with worded():
        made = placed(q.its_place())
        judge(made, show)
    if show.brief:
        return
    tell.headline(made, show)
    places(made, q.places, show)
    remedies(made, show)
    tell.tables(made, show)
    if not made.stand.hard:
        tell.chart(made, show)
    drawings(made, show)
    working(made, show)
    tell.remarks(made, q.hose_bend, show)
