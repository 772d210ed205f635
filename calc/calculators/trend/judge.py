"""The three against their limits, the days that are left, and what can't be told."""

from __future__ import annotations

import datetime

from ...frame.report import Line, Report, amount, counted, line
from ...sheet.year import told
from ...system.standardised import DROP, FLOW, SALT, SERIES, Standard
from ...system.trend import DAYS, NEEDED, Fared, Trend
from ...system.watermaking import MOST_SALT
from .asks import Asks

DAY = 86400.0  # s
LABELS = {
    FLOW: "Fresh water, less than on day one",
    SALT: "Salt let through, more than on day one",
    DROP: "Drop along the membranes, more than on day one",
}
SAYS = {
    FLOW: "at the conditions of its papers it makes {v} less fresh water than on day one; clean "
    "the membranes at {m}",
    SALT: "at the conditions of its papers it lets through {v} more salt than on day one; look "
    "into it at {m}",
    DROP: "at the conditions of its papers the drop along the membranes is {v} more than on day "
    "one; clean them at {m}",
}


# By what became of fresh water, salt let through and drop: what no cleaning mends.
LEAKS = frozenset((("up", "up", "same"), ("same", "up", "same")))


def moves(found: Trend) -> tuple[str, str, str] | None:
    """What became of fresh water, salt let through and drop: up, down or the same."""
    flow, salt, drop = (found.fared.get(key) for key in SERIES)
    if flow is None or salt is None:
        return None
    along = "same" if drop is None else _moved(drop).replace("down", "same")
    return _moved(flow), _moved(salt).replace("down", "same"), along


def _moved(one: Fared) -> str:
    """Whether it went up or down by half its limit, and beyond what is unsure."""
    apart = one.ratio - 1
    if abs(apart) <= max(abs(1 - one.limit) / 2, one.sure):
        return "same"
    return "up" if apart > 0 else "down"


def leaks(found: Trend) -> bool:
    """Whether too much salt gets through, alone or with more water: by an O-ring, a glue line, or
    what chlorine ate."""
    return moves(found) in LEAKS and over(found.fared[SALT])


def over(one: Fared) -> bool:
    return one.worse >= abs(1 - one.limit)


def figures(found: Trend | None, standard: Standard, q: Asks, show: Report) -> None:
    """All that is held against a limit."""
    if found is None:
        if q.since and q.readings:
            show.unknown(
                "none-since",
                "no reading is of {day} or later: write down what the gauges read, run by run",
                day=told(q.since),
            )
        else:
            show.unknown(
                "none", "there is no reading yet: write down what the gauges read, run by run"
            )
        return
    for key in SERIES:
        one = found.fared.get(key)
        if one is not None:
            _worse(one, show)
    if FLOW not in found.fared:
        _few(found, show)
    flow, salt = found.fared.get(FLOW), found.fared.get(SALT)
    if flow is not None:
        show.figure(
            "water",
            "Fresh water at the conditions of its papers",
            flow.level,
            "L/h",
            note=line("on day one it was {q}", q=(flow.base, "L/h")),
        )
    if salt is not None:
        _taste(salt, standard, show)
    _days(found, q.today, show)
    _filters(found, q.filter_change, show)


def _worse(one: Fared, show: Report) -> None:
    limit = abs(1 - one.limit)
    worse = max(0.0, one.worse)
    show.figure(
        one.key,
        LABELS[one.key],
        worse,
        "%",
        at_most=limit,
        says=line(SAYS[one.key], v=amount(worse, "%", 2), m=(limit, "%")),
        note=line("{s} to either side, by how the readings scatter", s=amount(one.sure, "%", 2)),
        digits=2,
    )


def _few(found: Trend, show: Report) -> None:
    """How many readings more are wanted, or over how long."""
    read = found.counts[FLOW]
    if read < NEEDED:
        more = counted(NEEDED - read, "{n} more is", "{n} more are")
        show.unknown(
            "few",
            "{read} can be used, and fewer than {needed} tell no trend from noise: {more} needed",
            read=counted(read, "{n} reading", "{n} readings"),
            needed=NEEDED,
            more=more,
        )
        return
    days = (found.last - found.first).days
    show.unknown(
        "short",
        "the readings lie within {days}, and within less than {needed} nobody can tell a trend: "
        "read on",
        days=counted(days, "{n} day", "{n} days"),
        needed=counted(DAYS, "{n} day", "{n} days"),
    )


def _taste(salt: Fared, standard: Standard, show: Report) -> None:
    """The salt of the water at its papers' conditions against what one tastes."""
    feed = standard.sea.concentration
    now = salt.level * feed
    due = salt.due_at(MOST_SALT / feed)
    show.figure(
        "taste",
        "Salt in the water at the conditions of its papers",
        now,
        "mg/L",
        at_most=MOST_SALT,
        says=line(
            "at the conditions of its papers the water has {v} of salt, and above {m} it tastes "
            "of it",
            v=(now, "mg/L"),
            m=(MOST_SALT, "mg/L"),
        ),
        note="the limit is one of taste: US EPA, secondary standard"
        if due.day is None
        else line(
            "as it goes on it tastes of salt in {d} from the first reading; the limit: US EPA, "
            "secondary standard",
            d=(due.day * DAY, "days"),
        ),
    )


def _filters(found: Trend, change: float, show: Report) -> None:
    """What the filters took of the feed when it was last read."""
    if found.filters is None:
        return
    day, drop = found.filters
    show.figure(
        "filters",
        "Drop of the filters, when it was last read",
        max(0.0, drop),
        "bar",
        at_most=change,
        says=line(
            "on {d} the filters took {v}; change them at {m}",
            d=told(day),
            v=(max(0.0, drop), "bar"),
            m=(change, "bar"),
        ),
        note=told(day),
    )


def _days(found: Trend, today: datetime.date, show: Report) -> None:
    """The days until cleaning is due, and how much of the time to it is gone."""
    if found.due is None or leaks(found):
        return
    key, due = found.due
    assert due.day is not None
    one = found.fared[key]
    gone = float((today - found.first).days)
    show.figure(
        "days",
        "Days until cleaning is due",
        max(0.0, due.day - gone) * DAY,
        "days",
        note=between(found, one),
    )
    begins = one.course.x[one.part.first]
    if due.day > begins:
        share = min(1.0, (gone - begins) / (due.day - begins))
        show.figure(
            "gone",
            "Time to the next cleaning that is gone",
            max(0.0, share),
            "%",
            at_most=1.0,
            says=line(GONE[key], d=told(found.on(due.day)), s=amount(max(0.0, share), "%", 2)),
            digits=2,
        )


GONE = {
    FLOW: "as the fresh water goes on, cleaning is due on {d}: {s} of the time to it is gone",
    SALT: "as the salt let through goes on, its limit is reached on {d}: {s} of the time to it is "
    "gone",
    DROP: "as the drop goes on, cleaning is due on {d}: {s} of the time to it is gone",
}


def between(found: Trend, one: Fared) -> Line:
    """The days between which it is due, as sure as the readings make it."""
    due = one.due
    if due.early is None:
        return line("later than anybody can tell")
    early = told(found.on(due.early))
    if due.late is None:
        return line("{early} or later", early=early)
    late = told(found.on(due.late))
    if due.late <= one.end:
        return line("its limit was reached by {day}", day=late)
    if late == early:
        return line("on {day}", day=late)
    return line("between {early} and {late}", early=early, late=late)
