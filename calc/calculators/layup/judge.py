"""Each way to keep it against its limits, and what would make it hold."""

from __future__ import annotations

from dataclasses import replace

from ...frame.report import TIGHT, TIGHT_MARGIN, Amount, Option, Report, Setting, line, most
from ...physics.calendar_days import DAY
from ...sheet.rest import WAYS
from ...system import rest as system
from ...system.rest import EMPTIED, FLUSHED, FREEZING, PRESERVED, Keeping, LaidUp, Rest, Way
from .asks import Asks

_EXACT = 9  # digits

_ALONE = {
    FLUSHED: "nobody sees to it for {gap}, and a flush keeps {keeps}",
    PRESERVED: "nobody sees to it for {gap}, and the preservative keeps {keeps}",
    EMPTIED: "nobody sees to it for {gap}, and the preservative in the membranes' bag keeps "
    "{keeps}",
}


def ways(q: Asks, laid: LaidUp, keeps: Keeping, show: Report) -> None:
    """Each way as an option, the one that this rest asks for first."""
    for way in laid.ways:
        option = show.option(way.key, WAYS[way.key])
        _figures(way, option)
        if not way.freezes:
            _REMEDIES[way.key](q, laid.rest, keeps, way, option)


def _figures(way: Way, option: Option) -> None:
    if way.freezes:
        option.fail(
            "freezes", "it may freeze there, and water that freezes splits housings and membranes"
        )
    if way.needless:
        option.reservation(
            "needless", "fresh water alone keeps it through this rest, and needs no chemicals"
        )
    if way.stands:
        option.figure("rest", "Days it stands", way.stands.value, "days", at_most=way.stands.limit)
    if way.gap:
        gap, keeps = way.gap.value, way.gap.limit
        option.figure(
            "gap",
            "Longest nobody sees to it",
            gap,
            "days",
            at_most=keeps,
            says=line(_ALONE[way.key], gap=(gap, "days"), keeps=(keeps, "days")),
        )
    if way.warm:
        warm, limit = way.warm.value, way.warm.limit
        option.figure(
            "warm",
            "Warmest where it stands",
            warm,
            "°C",
            at_most=limit,
            zero=FREEZING,
            says=line(
                "it gets as warm as {warm}, and the preservative bears {limit} at most",
                warm=(warm, "°C"),
                limit=(limit, "°C"),
            ),
        )
    if way.cold:
        cold, limit = way.cold.value, way.cold.limit
        option.figure(
            "cold",
            "Coldest where it stands",
            cold,
            "°C",
            at_least=limit,
            zero=FREEZING,
            says=line(
                "it gets as cold as {cold}, and the mixture protects down to {limit}",
                cold=(cold, "°C"),
                limit=(limit, "°C"),
            ),
        )


# ---- remedies ----


def _fields(q: Asks, **sets: Setting) -> dict[str, Setting] | None:
    """What to fill in to try it: nothing where the rest is a row of a list."""
    return sets if q.which == "own" else None


def _is_tight(option: Option, key: str) -> bool:
    """Whether a figure holds, and little in hand of it decides."""
    return option.verdict == TIGHT and option.decided_by == key


def _oftener(q: Asks, way: Way, option: Option) -> None:
    """How often somebody must come for a tenth in hand."""
    days = int((1 - TIGHT_MARGIN) * way.lasts / DAY + 1e-6)
    if _is_tight(option, "gap") and days >= 1:
        visits = most(days * DAY, "days")
        option.remedy(
            "With somebody there every {keeps} a tenth of the time that it keeps is in hand.",
            sets=_fields(q, visits=visits),
            mends="gap",
            keeps=visits,
        )


def _come(q: Asks, way: Way, option: Option) -> None:
    if way.gap and not way.gap.holds:
        visits = most(way.lasts, "days")
        option.remedy(
            "Somebody must come every {keeps}.",
            sets=_fields(q, visits=visits),
            mends="gap",
            keeps=visits,
        )
    _oftener(q, way, option)


def _flushed(q: Asks, rest: Rest, keeps: Keeping, way: Way, option: Option) -> None:
    if rest.time <= keeps.longest_flushed:
        _come(q, way, option)
        return
    found = system.shorter(rest, keeps)
    longest, visits, end = most(found.time, "days"), most(way.lasts, "days"), found.end.isoformat()
    if found.come:
        option.remedy(
            "Leave it for {longest} at most, and have somebody come every {keeps}: it takes both.",
            sets=_fields(q, end=end, visits=visits),
            longest=longest,
            keeps=visits,
        )
    else:
        option.remedy("Leave it for {longest} at most.", sets=_fields(q, end=end), longest=longest)


def _preserved(q: Asks, rest: Rest, keeps: Keeping, way: Way, option: Option) -> None:
    lasts = system.lasts_shaded(rest, keeps)
    limit, visits = most(keeps.preservative_limit, "°C"), most(lasts, "days")
    # In fewer digits it would be cooler, and a visit could wait a day longer.
    exact = replace(limit, digits=_EXACT)
    if rest.warmest <= keeps.preservative_limit:
        _come(q, way, option)
        _cooler(q, keeps, limit, option)
    elif rest.alone <= lasts:
        option.remedy(
            "Shade and air it, so that it stays below {limit}.",
            sets=_fields(q, warmest=exact),
            limit=limit,
        )
    else:
        option.remedy(
            "Shade and air it, so that it stays below {limit}, and have somebody come every "
            "{keeps}: it takes both.",
            sets=_fields(q, warmest=exact, visits=visits),
            limit=limit,
            keeps=visits,
        )
    if option.remedies:
        option.remedy(
            "Or take the membranes along, bagged wet in preservative, and renew it there."
        )


def _cooler(q: Asks, keeps: Keeping, limit: Amount, option: Option) -> None:
    """How cool it must stay for a tenth in hand."""
    if not _is_tight(option, "warm"):
        return
    room = keeps.preservative_limit - FREEZING
    cooler = most(FREEZING + (1 - TIGHT_MARGIN) * room, "°C")
    option.remedy(
        "Shade and air it, so that it stays below {cooler}: the preservative bears {limit} at "
        "most, and keeps longer where it is cooler.",
        sets=_fields(q, warmest=replace(cooler, digits=_EXACT)),
        mends="warm",
        cooler=cooler,
        limit=limit,
    )


def _emptied(q: Asks, rest: Rest, keeps: Keeping, way: Way, option: Option) -> None:
    if way.gap and not way.gap.holds:
        visits = most(way.lasts, "days")
        option.remedy(
            "Somebody must renew the preservative in the bag every {keeps}; or take the bag with "
            "you and renew it there.",
            sets=_fields(q, visits=visits),
            mends="gap",
            keeps=visits,
        )
    _oftener(q, way, option)
    if way.cold and not way.cold.holds:
        mixture = most(way.cold.value, "°C")
        option.remedy(
            "Take a mixture that protects down to {cold}.",
            sets={"glycol_limit": mixture},
            mends="cold",
            cold=mixture,
        )


_REMEDIES = {FLUSHED: _flushed, PRESERVED: _preserved, EMPTIED: _emptied}
