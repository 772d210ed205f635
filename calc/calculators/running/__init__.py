"""In what order do I open, switch on, switch off and shut, on my boat, and why in that order?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import Rule, rules
from ...frame.guide import Decides, decides
from ...frame.inputs import is_one_of, is_set
from ...frame.report import Report
from ...system.running import NOTHING, PLAIN, THREE_WAY
from . import judge, tell
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Starting and stopping"
WANTED = ("to_tank", "flush_lasts", "ways_shut", "to_start", "to_stop")
DECIDES = decides(
    ("unit", "flow"),
    "has_boost",
    Decides(("pump_switches",), is_set("has_boost")),
    "flush_way",
    "brine_valve",
    "brine_dips",
    "product_way",
    Decides(("product_relief",), is_one_of("product_way", PLAIN)),
    "has_relief",
    "low_pressure_switch",
    "remote_start",
)
CAUTIONS = rules(
    "pressure",
    "shut-end",
    Rule("product-line", lambda q: q["product_way"] != THREE_WAY),
    "flooding",
    Rule("siphon", lambda q: q["brine_dips"]),
    "dry-running",
    Rule("chlorine-membrane", lambda q: q["flush_way"] != NOTHING),
)


def answer(q: Asks, show: Report) -> Callable[[], None]:
    """The guards judged, then the steps told."""
    gear = q.gear(q.has_boost, q.has_relief, q.flushed_by_house())
    judge.judge(gear, show)
    judge.remedies(gear, show)

    def told() -> None:
        tell.times(q, gear, show)
        tell.steps(q, gear, show)
        tell.notes(gear, show)

    return told
