"""What do I buy to put the unit in, and what is done in what order?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import Facts, Rule, rules
from ...frame.guide import Decides, Told, decides
from ...frame.inputs import is_one_of, is_set
from ...frame.report import Report
from ...system.running import THREE_WAY
from . import found, judge, tell
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Putting it in"
WANTED = ("things", "to_do", "clamps", "hose", "cable")
DECIDES = decides(
    "unit",
    "wet",
    Decides(("enclosure",), is_one_of("wet", "drip", "splash", "jet")),
    "attitude",
    "seacock_there",
    "drain_reached",
    ("has_boost", "boost_pump", "boost_shut_off"),
    ("has_relief", "relief_opens"),
    Decides(("relief_outlet",), is_set("has_relief")),
    ("inverter_power", "generator_power"),
    "flush_way",
    "brine_valve",
    "brine_dips",
    "product_way",
    "mount_by",
    "floor_material",
)


def _below(q: Facts) -> bool:
    """Whether the sea can run back into it, or into what stands below the waterline."""
    boost = q["has_boost"] and q["boost_height"] <= 0
    return bool(q["brine_dips"] or q["pump_height"] <= 0 or boost)


CAUTIONS = rules(
    "mains",
    Rule("battery", lambda q: q["has_inverter"]),
    "lifting",
    "hull",
    "flooding",
    Rule("siphon", _below),
    "pressure",
    "shut-end",
    Rule("product-line", lambda q: q["product_way"] != THREE_WAY),
    "dry-running",
    "rotation",
    "chlorine-membrane",
)


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    """What bars the plan, then the list and the steps."""
    made = found.found(q)
    judge.judge(q, made, show)

    def told() -> Told:
        judge.remedies(q, made, show)
        tell.headline(made, show)

        def folded() -> None:
            tell.lists(q, made, show)
            tell.steps(q, made, show)
            tell.working(q, made, show)
            tell.notes(q, made, show)

        return folded

    return told
