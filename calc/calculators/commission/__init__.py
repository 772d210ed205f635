"""What is done at the first start, in what order, and does it read what it should?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import Rule, rules
from ...frame.guide import Decides, Told, decides
from ...frame.inputs import is_one_of, is_set
from ...frame.report import Report
from ...system.running import NOTHING, PLAIN, THREE_WAY
from . import elsewhere, files, judge, tell
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "SLOW", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "The first start"
WANTED = ("worst", "product", "conductivity", "set", "taken")
SLOW = True
DECIDES = decides(
    "unit",
    ("day_temperature", "sea_temperature", "waters"),
    ("has_boost", "boost_pump", "boost_shut_off"),
    Decides(("pump_switches",), is_set("has_boost")),
    "flush_way",
    "brine_valve",
    "brine_dips",
    "product_way",
    Decides(("product_relief",), is_one_of("product_way", PLAIN)),
    ("has_relief", "relief_opens"),
    Decides(("relief_opens",), is_set("has_relief")),
    "low_pressure_switch",
    "remote_start",
)
CAUTIONS = rules(
    "mains",
    "pressure",
    "shut-end",
    Rule("product-line", lambda q: q["product_way"] != THREE_WAY),
    "flooding",
    Rule("siphon", lambda q: q["brine_dips"]),
    "dry-running",
    "rotation",
    "hot-motor",
    Rule("chlorine-membrane", lambda q: q["flush_way"] != NOTHING),
    "preservative",
)


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    """What stops it, the readings held against what is expected, then the checklist told."""
    q.check_day()
    found, stops = q.found, elsewhere.judge(show)
    judge.judge(q, found, show, stopped=bool(stops))

    def told() -> Told:
        if stops:
            elsewhere.headline(stops, show)
            elsewhere.remedies(stops, show)
        else:
            tell.headline(q, found, show)
            tell.first(q, found, show)

        def folded() -> None:
            tell.readings(q, found, show, signed=not stops)
            if not stops:
                tell.steps(q, found, show)
                tell.notes(q, found, show)
            tell.safely(q, show)
            tell.working(q, found, show)
            files.offered(q, found, show, stopped=bool(stops))

        return folded

    return told
