"""Where can motor and pump be bolted down so that they stay, can be serviced, and shake nothing?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import rules
from ...frame.guide import Told, decides
from ...frame.report import Report
from ...sheet.standing import worded
from ...system.place import placed
from . import drawings, tell
from .asks import Asks
from .judge import judge
from .remedies import remedies
from .working import working

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Where to bolt it down"

WANTED = ("isolation", "load", "lift")
PICTURE = "sits"
DECIDES = decides(
    "unit",
    "mount_by",
    "mount_stiffness",
    "mount_deflection",
    "mount_rating",
    "floor_material",
    "floor_thickness",
    "skin_thickness",
    "core_thickness",
    "floor_length",
    "floor_width",
    "locker_length",
    "locker_width",
    "locker_height",
)

CAUTIONS = rules("mains", "lifting", "hull", "pressure")


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    """Fills the report on one place, and on the others beside it."""
    with worded():
        made = placed(q.its_place(q.unit, q.ac_frequency))
        show.take(judge(made))

    def rest() -> Told:
        tell.headline(made, show)
        remedies(made, show)
        drawings.as_it_sits(made, show)

        def folded() -> None:
            tell.tables(made, show)
            drawings.otherwise(made, show)
            if not made.stand.hard:
                tell.chart(made, show)
            working(made, show)
            tell.remarks(made, q.hose_bend, show)

        return folded

    return rest
