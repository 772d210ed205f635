"""Will the high-pressure pump be fed, with the filters dirty, when she heels?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import Facts, Rule, rules
from ...frame.guide import Told, decides
from ...frame.report import Report
from . import judge, picture, remedies, tell, working
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Is the pump fed?"
WANTED = ("inlet", "change", "behind", "fresh")
PICTURE = "line"
DECIDES = decides(
    "unit",
    "feed_bore",
    "feed_length",
    "pump_height",
    ("has_boost", "boost_pump", "boost_shut_off"),
    ("boost_pump", "boost_shut_off"),
    ("boost_pump", "boost_free_flow"),
)


def _below(q: Facts) -> bool:
    """Whether a pump stands where the sea can run into it."""
    return q["pump_height"] <= 0 or bool(q["has_boost"] and q["boost_height"] <= 0)


CAUTIONS = rules("flooding", Rule("siphon", _below), "dry-running", "shut-end")


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    """The line judged, then told."""
    line = q.line()
    judge.judge(q, line, show)

    def told() -> Told:
        remedies.remedies(q, line, show)
        tell.headline(line, show)
        show.drawing(picture.drawing(line))

        def folded() -> None:
            tell.tables(line, show)
            working.steps(line, show)
            tell.notes(line, show)

        return folded

    return told
