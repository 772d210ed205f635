"""Does a flush reach the membrane, with which water, and how much of it?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import Facts, Rule, rules
from ...frame.guide import Decides, Told, decides
from ...frame.inputs import is_one_of, is_set
from ...frame.quantities import Quantity
from ...frame.report import Report
from ...system.flushing import CAN, HOUSE
from ...system.running import RUNNING
from . import judge, picture, remedies, tell, working
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "QUANTITIES", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "The flush"
WANTED = ("needed", "time", "week")
PICTURE = "salt"
_HOUSE = is_one_of("flush_from", HOUSE)
_PUMPS_RUN = (is_one_of("flush_from", CAN), is_one_of("flush_by", RUNNING))
_BOOST = (
    ("has_boost", "boost_pump", "boost_shut_off"),
    ("boost_pump", "boost_shut_off"),
    ("boost_pump", "boost_free_flow"),
)
DECIDES = decides(
    "unit",
    "flush_way",
    "unit_water",
    "flush_water",
    "flush_from",
    Decides(("flush_by",), _HOUSE),
    Decides(("house_shut_off",), _HOUSE),
    Decides(("house_free_flow",), _HOUSE),
    *(Decides(row, when) for row in _BOOST for when in _PUMPS_RUN),
    "flush_chlorine",
    Decides(("water_chlorine",), is_set("flush_chlorine")),
    Decides(("has_carbon", "carbon", "carbon_volume"), is_set("flush_chlorine")),
)

QUANTITIES = (
    Quantity("Water", "Contact time", "tau", "s", "How long water is in a filter's carbon."),
    Quantity("Water", "Chlorine", "C", "mg/L", "Free chlorine in a water."),
    Quantity("Water", "Chlorine taken", "r", "%", "Share of it that carbon takes."),
    Quantity("Water", "Dose of chlorine", "D", "ppm h", "Chlorine times how long it is there."),
    Quantity("Water", "Share that mixes", "m", "%", "Of a vessel, what mixes as water runs in."),
    Quantity(
        "Water", "Times its own volume", "N", "", "Water through a vessel over what it holds."
    ),
    Quantity(
        "Water", "Chlorine's powder", "m", "mg", "Metabisulphite for the chlorine of a water."
    ),
)


def _metabisulphite(q: Facts) -> bool:
    """Whether metabisulphite takes the chlorine out, or could."""
    return bool(q["flush_chlorine"] and q["flush_from"] == CAN)


CAUTIONS = rules(
    "shut-end",
    "product-line",
    "dry-running",
    "chlorine-membrane",
    Rule("backflow", lambda q: q["flush_from"] == HOUSE),
    Rule("preservative", _metabisulphite),
)


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    """The flush judged, then told."""
    flush = q.flush()
    judge.judge(q, flush, show)

    def told() -> Told:
        remedies.remedies(q, flush, show)
        tell.headline(flush, show)
        show.chart(picture.chart(flush.rinse))

        def folded() -> None:
            tell.tables(flush, show)
            working.steps(flush, show)
            tell.notes(q, flush, show)

        return folded

    return told
