"""A machine at rest: which way of keeping it suits a lay-up, and what is done on which day.

The plan of the year and the page on laying up both take their ways, days and words from here.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from ..frame.inputs import Values
from ..frame.report import FAILS, Option, Report, Setting, line, most
from ..physics import maintenance
from ..physics.maintenance import PRESERVE, RENEW, WAKE, Due

DAY = 86400.0
FLUSHED, PRESERVED, EMPTIED = "flush", "preserve", "glycol"
FREEZING = 273.15  # K, fresh water and preservative
_GAP = "gap"
_EXACT = 9  # digits
_NAMES = {
    FLUSHED: "Fresh water alone, again and again",
    PRESERVED: "Preserve the membranes",
    EMPTIED: "Membranes out, propylene glycol in the rest",
}
_STEPS = {
    (FLUSHED, maintenance.FLUSH): "look that both ways out are open, then flush with fresh water",
    (FLUSHED, WAKE): "open both ways out and look that they are open, wake it, rinse to waste",
    (PRESERVED, PRESERVE): "flush, then preserve; lock it out before the brine is shut, and leave "
    "the product line open",
    (PRESERVED, RENEW): "open both ways out and look that they are open; flush, renew the "
    "preservative, lock it out before the brine is shut, and leave the product line open",
    (PRESERVED, WAKE): "open both ways out and look that they are open, wake it, rinse to waste",
    (EMPTIED, PRESERVE): "flush, lock it out, prove that there is no pressure, take the membranes "
    "out and keep them bagged wet in preservative where it cannot freeze; close the tubes, lead "
    "both ways out into a can, and fill pump and hoses with food-grade propylene glycol "
    "until a refractometer shows, for what comes out, a freezing point below your coldest night",
    (EMPTIED, RENEW): "in their bag, where it cannot freeze: renew the preservative",
    (EMPTIED, WAKE): "locked out, open both ways out into a can, drain the glycol and take it "
    "ashore, put the membranes back, lead the brine overboard and the product to waste, look that "
    "both are open, wake it, rinse to waste",
}


@dataclass(frozen=True)
class Rest:
    """A lay-up: its days, whether its owner says that it may freeze there [bool], how warm it gets
    there [K], how long nobody can see to it [s], and whether its owner takes bagged membranes along
    and renews their preservative [bool].
    """

    start: date
    end: date
    said_to_freeze: bool
    warmest: float
    visits: float
    bag_along: bool = False
    own: bool = False  # whether it stands in fields of the form, which a remedy can fill in

    @property
    def frost(self) -> bool:
        """Whether it may freeze: a place that never gets above freezing does, whatever is said."""
        return self.said_to_freeze or self.warmest <= FREEZING

    @property
    def time(self) -> float:
        """How long it stands [s]."""
        return (self.end - self.start).days * DAY

    @property
    def alone(self) -> float:
        """The longest that nobody sees to it [s]."""
        return min(self.visits, self.time)


@dataclass(frozen=True)
class Keeping:
    """What keeps how long: a flush and a preservative up to 25 °C [s], the longest rest on flushing
    alone [s], and how warm a preservative may get [K].
    """

    flush: float
    longest_flushed: float
    preservative: float
    preservative_limit: float

    def days(self, way: str, rest: Rest) -> int:
        """Whole days between two visits, the heat of the place reckoned in."""
        life = self.flush if way == FLUSHED else self.preservative
        # The bag with the membranes lies where it does not get hot.
        warmest = maintenance.KEEPS_FULL_TO if way == EMPTIED else rest.warmest
        return maintenance.days_kept(life, warmest)


@dataclass(frozen=True)
class LaidUp:
    """A lay-up with its way and its days; `kept` is False where no way holds as things are."""

    rest: Rest
    way: str
    days: Sequence[Due]
    kept: bool

    def step(self, due: Due) -> str:
        """What is done on a day, in words that go on after "Membranes: "."""
        return _STEPS[self.way, due.why]


def keeping(q: Values) -> Keeping:
    """What keeps how long, out of a form with the boat sheet's fields for it."""
    return Keeping(q.flush_every, q.preserve_after, q.preservative, q.preservative_limit)


def rest_of(row: Any) -> Rest:
    """A lay-up of the boat sheet."""
    return Rest(row.start, row.end, row.frost, row.warmest, row.visits, row.bag_along)


def lay_up(
    rest: Rest,
    keeps: Keeping,
    show: Report | None = None,
    more: Callable[[Option], None] | None = None,
) -> LaidUp:
    """The way to keep it and its days; each way and what speaks against it goes into the report.

    Where it may freeze nothing with water in it may stay; else a short rest is flushed and a longer
    one preserved, unless only another way holds. `more` may add figures to an option.
    """
    show = show or Report("", "")
    for way in _order(rest, keeps):
        option = show.option(way, _NAMES[way])
        _CHECKS[way](option, rest, keeps)
        if more:
            more(option)
    best = show.best_option()
    assert best is not None
    return LaidUp(rest, best.key, _days(best.key, rest, keeps), best.verdict != FAILS)


def _order(rest: Rest, keeps: Keeping) -> tuple[str, ...]:
    """The ways, the one first that this rest asks for: of equals it is taken."""
    if rest.frost:
        return EMPTIED, PRESERVED, FLUSHED
    short = rest.time <= keeps.longest_flushed
    return (FLUSHED, PRESERVED) if short else (PRESERVED, FLUSHED)


def _days(way: str, rest: Rest, keeps: Keeping) -> list[Due]:
    first, again = (maintenance.FLUSH, maintenance.FLUSH) if way == FLUSHED else (PRESERVE, RENEW)
    come = 0 if way == EMPTIED and rest.bag_along else int(rest.alone / DAY + 1e-6)
    return maintenance.rest_days(rest.start, rest.end, first, again, keeps.days(way, rest), come)


# ---- what speaks for and against each way ----


def _flushed(way: Option, rest: Rest, keeps: Keeping) -> None:
    if _frozen(way, rest):
        return
    way.figure("rest", "Days it stands", rest.time, "days", at_most=keeps.longest_flushed)
    lasts = keeps.days(FLUSHED, rest) * DAY
    _seen_to(way, rest, lasts, "a flush")
    days = int(keeps.longest_flushed / DAY + 1e-6)
    end = (rest.start + timedelta(days)).isoformat()
    longest, visits = most(days * DAY, "days"), most(lasts, "days")
    if rest.time <= keeps.longest_flushed:
        _come(way, rest, lasts)
    elif min(rest.alone, days * DAY) <= lasts:
        way.remedy("Leave it for {longest} at most.", sets=_fields(rest, end=end), longest=longest)
    else:
        way.remedy(
            "Leave it for {longest} at most, and have somebody come every {keeps}: it takes both.",
            sets=_fields(rest, end=end, visits=visits),
            longest=longest,
            keeps=visits,
        )


def _preserved(way: Option, rest: Rest, keeps: Keeping) -> None:
    if _frozen(way, rest):
        return
    lasts = keeps.days(PRESERVED, rest) * DAY
    _seen_to(way, rest, lasts, "the preservative")
    way.figure(
        "warm",
        "Warmest where it stands",
        rest.warmest,
        "°C",
        at_most=keeps.preservative_limit,
        zero=FREEZING,
        says=line(
            "it gets as warm as {warm}, and the preservative bears {limit} at most",
            warm=(rest.warmest, "°C"),
            limit=(keeps.preservative_limit, "°C"),
        ),
    )
    shaded = replace(rest, warmest=min(rest.warmest, keeps.preservative_limit))
    lasts_shaded = keeps.days(PRESERVED, shaded) * DAY
    limit, visits = most(keeps.preservative_limit, "°C"), most(lasts_shaded, "days")
    if rest.warmest <= keeps.preservative_limit:
        _come(way, rest, lasts)
    elif rest.alone <= lasts_shaded:
        way.remedy(
            "Shade and air it, so that it stays below {limit}.",
            sets=_fields(rest, warmest=replace(limit, digits=_EXACT)),
            limit=limit,
        )
    else:
        way.remedy(
            "Shade and air it, so that it stays below {limit}, and have somebody come every "
            "{keeps}: it takes both.",
            # In fewer digits it would be cooler, and a visit could wait a day longer.
            sets=_fields(rest, warmest=replace(limit, digits=_EXACT), visits=visits),
            limit=limit,
            keeps=visits,
        )
    if way.remedies:
        way.remedy("Or take the membranes along, bagged wet in preservative, and renew it there.")


def _emptied(way: Option, rest: Rest, keeps: Keeping) -> None:
    """Glycol needs nobody, but the bag with the membranes does. How cold it may get is for whoever
    knows the mixture.
    """
    if rest.bag_along:
        return
    lasts = keeps.days(EMPTIED, rest) * DAY
    _seen_to(way, rest, lasts, "the preservative in the membranes' bag")
    if rest.alone > lasts:
        visits = most(lasts, "days")
        way.remedy(
            "Somebody must renew the preservative in the bag every {keeps}; or take the bag with "
            "you and renew it there.",
            sets=_fields(rest, visits=visits),
            mends=_GAP,
            keeps=visits,
        )


def _come(way: Option, rest: Rest, lasts: float) -> None:
    if rest.alone > lasts:
        visits = most(lasts, "days")
        way.remedy(
            "Somebody must come every {keeps}.",
            sets=_fields(rest, visits=visits),
            mends=_GAP,
            keeps=visits,
        )


def _fields(rest: Rest, **sets: Setting) -> dict[str, Setting] | None:
    """What to fill in to try it: nothing where the rest is a row of a list."""
    return sets if rest.own else None


def _frozen(way: Option, rest: Rest) -> bool:
    """Whether frost rules a way out that leaves water in it: however often somebody comes."""
    if rest.frost:
        way.fail("it may freeze there, and water that freezes splits housings and membranes")
    return rest.frost


def _seen_to(way: Option, rest: Rest, keeps: float, what: str) -> None:
    way.figure(
        _GAP,
        "Longest nobody sees to it",
        rest.alone,
        "days",
        at_most=keeps,
        says=line(
            "nobody sees to it for {gap}, and " + what + " keeps {keeps}",
            gap=(rest.alone, "days"),
            keeps=(keeps, "days"),
        ),
    )


_CHECKS = {FLUSHED: _flushed, PRESERVED: _preserved, EMPTIED: _emptied}
