"""It makes less, knocks or trips: what is wrong, and what do I read next?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import Rule, rules
from ...frame.guide import Decides, Told, decides
from ...frame.inputs import is_set
from ...frame.quantities import Quantity
from ...frame.report import Report
from ...system.two_faults import Pair
from . import judge, tell, working
from .asks import Asks

__all__ = [
    "CAUTIONS",
    "DECIDES",
    "PICTURE",
    "QUANTITIES",
    "SLOW",
    "TITLE",
    "WANTED",
    "Asks",
    "answer",
]

TITLE = "Find the fault"
WANTED = ("healthy", "leads", "readings")
PICTURE = "chances"
SLOW = True
DECIDES = decides(
    "unit",
    Decides(("day_product", "day_brine", "day_pressure", "day_behind"), is_set("has_day_one")),
)
QUANTITIES = (
    Quantity("Faults", "How far off", "z", "", "A reading less what is expected, over its doubt."),
    Quantity("Faults", "Doubt of a reading", "u", "%", "One standard deviation, as a share."),
    Quantity("Faults", "Doubt of a pressure", "u", "bar", "One standard deviation of a gauge."),
    Quantity("Faults", "Weight of evidence", "w", "", "Logarithm of how much likelier it is."),
)
CAUTIONS = rules(
    "pressure",
    "dry-running",
    "shut-end",
    "flooding",
    "mains",
    "protector",
    Rule("cleaner", lambda q: tell.CLEANED in q),
)


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    """The causes ranked, then told: first words at once, the rest as it comes."""
    found = q.found()
    judge.judge(q, found, show)

    def rest_of_it() -> Told:
        made = tell.to_read(q, found) if found is not None and tell.reads_on(found) else None
        tell.ways(q, found, made or [], show)
        likely: list[Pair] = []
        if found is not None:
            tell.cleaned(found, show)
            tell.chances(found, show)
            if q.two_faults and found.enough:
                likely = tell.two_at_a_time(found, show)

        def folded() -> None:
            tell.hands_off(show)
            if found is not None:
                tell.asked_next(tell.to_read(q, found) if made is None else made, show)
                tell.causes(q, found, show)
                tell.pairs_of(likely, show)
                tell.on_paper(found, show)
                working.steps(found, show)
            tell.notes(q, found, show)

        return folded

    return rest_of_it
