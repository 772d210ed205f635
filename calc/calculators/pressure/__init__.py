"""What bears the pressure, what protects from it, and what does a shut way out do?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import rules
from ...frame.guide import Decides, Told, decides
from ...frame.inputs import is_set
from ...frame.quantities import Quantity
from ...frame.report import Report
from . import judge, picture, remedies, tell, working
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "QUANTITIES", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Pressure"
WANTED = ("relief", "weakest", "to_relief")
PICTURE = "scale"
RELIEF = is_set("has_relief")
DECIDES = decides(
    "unit",
    "hose_bears",
    "vessel_bears",
    ("has_relief", "relief_opens"),
    Decides(("relief_opens",), RELIEF),
    Decides(("relief_bore", "relief_flow"), RELIEF),
    Decides(("relief_outlet",), RELIEF),
)

QUANTITIES = (
    Quantity("Water", "Wall of a hose", "w", "mm", "How thick it is."),
    Quantity("Water", "Speed of a wave", "a", "m/s", "How fast a knock runs through a hose."),
    Quantity("Water", "Yielding", "beta", "mL/bar", "Water that goes in for each bar more."),
    Quantity("Water", "Recovery factor of a valve", "F", "", "How soon it chokes: F_L, up to 1."),
    Quantity("Water", "Flow coefficient", "K", "m3/h", "Kv: cold water through it at 1 bar."),
    Quantity("Water", "Opening", "A", "mm2", "Area that the water passes."),
)

CAUTIONS = rules("pressure", "shut-end", "product-line")


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    """What stands under the pressure, judged, then told."""
    side = q.side()
    judge.judge(q, side, show)

    def told() -> Told:
        remedies.remedies(q, side, show)
        tell.headline(side, show)
        show.drawing(picture.drawing(side))

        def folded() -> None:
            tell.tables(side, show)
            working.steps(side, show)
            tell.notes(q, side, show)

        return folded

    return told
