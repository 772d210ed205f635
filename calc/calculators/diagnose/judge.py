"""How likely it is that nothing is wrong, and what leads if something is."""

from __future__ import annotations

from typing import Any

from ...frame.report import Line, Report, line
from ...system.diagnosis import ALL_WELL, HALF, LEAST_READINGS, Diagnosis, Weighed
from ...system.faults import SEA
from . import stop
from .asks import Asks
from .words import NAMES


def judge(q: Asks, found: Diagnosis | None, show: Report) -> None:
    """Figures and headline, what must not go on first."""
    stop.judge(q, show)
    if found is None:
        show.unknown(
            "stalls",
            "nobody can tell what a healthy one would show: on these mains its motor may stall, or "
            "at this pressure no water comes",
        )
        show.headline("Nobody can tell what a healthy one would show.")
        return
    count = len(found.ground.now.readings.read)
    show.figure("readings", "Readings", float(count), "", note="of twelve that may be taken")
    if not found.enough:
        show.unknown(
            "few",
            "{n} readings tell too little: it takes {m}. What to read next stands below",
            n=count,
            m=LEAST_READINGS,
        )
        if stop.must(q):
            show.headline("Stop it: what to do stands below. Too little is read to name a cause.")
        else:
            show.headline("Too little is read to name a cause.")
        return
    leading = found.leading
    lead = found.lead
    show.figure(
        "healthy",
        "Chance that nothing is wrong",
        found.healthy,
        "%",
        **_limit(found, leading, lead),
    )
    if leading[0].key not in ALL_WELL and not found.misfits:
        show.figure("leads", "Chance of what leads", lead, "%", note=_named(leading))
    _headline(q, found, leading, lead, show)


def _limit(found: Diagnosis, leading: tuple[Weighed, ...], lead: float) -> dict[str, Any]:
    """What holds the chance that nothing is wrong: nothing, where no cause is likelier than not."""
    if found.healthy < HALF and lead < HALF:
        return {}
    return {
        "at_least": HALF,
        "says": _says(found, leading),
        "note": "all is well likelier than not: the limit",
    }


def _says(found: Diagnosis, leading: tuple[Weighed, ...]) -> Line:
    if found.misfits and found.healthy < HALF:
        return line(
            "no healthy one shows what you read, nor does any single cause explain all of it"
        )
    if found.healthy >= HALF:
        return line("that nothing is wrong has a chance of {p}", p=(found.healthy, "%"))
    return line("what you read and saw points at: {cause}", cause=NAMES[leading[0].key])


def _named(leading: tuple[Weighed, ...]) -> Line | str:
    if len(leading) == 1:
        return NAMES[leading[0].key]
    return line(
        "{a}, {b}: the readings can't part them", a=NAMES[leading[0].key], b=NAMES[leading[1].key]
    )


def _headline(
    q: Asks, found: Diagnosis, leading: tuple[Weighed, ...], lead: float, show: Report
) -> None:
    if found.misfits and found.healthy < HALF:
        show.headline(
            "No single cause explains all that you read. The nearest: {cause}. Look each reading "
            "over.",
            cause=NAMES[leading[0].key],
        )
    elif stop.must(q) and found.healthy >= HALF:
        show.headline(
            "Stop it: what must not go on stands below. For the rest, what you read is what a "
            "healthy one shows."
        )
    elif found.healthy >= HALF:
        if leading[0].key == SEA:
            show.headline(
                "Nothing is wrong: the sea is another than it was, and that explains what you "
                "read. Chance {p}.",
                p=(found.healthy, "%"),
            )
        else:
            show.headline(
                "What you read is what a healthy one shows. Chance that nothing is wrong: {p}.",
                p=(found.healthy, "%"),
            )
    elif lead < HALF:
        show.unknown(
            "unsure",
            "no cause is likelier than not, nor that nothing is wrong. What to read next stands "
            "below",
        )
        show.headline(
            "These readings do not tell. That nothing is wrong has a chance of {p}; read one more.",
            p=(found.healthy, "%"),
        )
    elif len(leading) == 1:
        show.headline(
            "Most likely: {cause}. Chance {p}.", cause=NAMES[leading[0].key], p=(lead, "%")
        )
    elif len(leading) == 2:
        show.headline(
            "Most likely: {a}, or {b}. Together {p}; these readings can't part them.",
            a=NAMES[leading[0].key],
            b=NAMES[leading[1].key],
            p=(lead, "%"),
        )
    else:
        show.headline(
            "Most likely: {a}, {b} or {c}. Together {p}; these readings can't part them.",
            a=NAMES[leading[0].key],
            b=NAMES[leading[1].key],
            c=NAMES[leading[2].key],
            p=(lead, "%"),
        )
