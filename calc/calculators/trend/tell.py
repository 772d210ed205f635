"""The trend in words, what to do first, its changes and what was done then, what points where."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta

from ...frame import log
from ...frame.report import FAILS, FITS, Amount, Line, Report, Words, amount, counted, line
from ...sheet.year import told
from ...system.standardised import (
    ALL_PRODUCT,
    DROP,
    FLOW,
    NO_PRESSURE,
    NO_PRODUCT,
    NO_SEA,
    NO_WARMTH,
    NOT_DRIVEN,
    SALT,
    SERIES,
)
from ...system.trend import FIRST, Fared, Trend
from .asks import Asks
from .judge import between, leaks, moves, over

NAMES = {FLOW: "Fresh water", SALT: "Salt let through", DROP: "Drop along the membranes"}
UNITS = {FLOW: "L/h", SALT: "%", DROP: "bar"}
MONTH = 30.4375  # days


def headline(found: Trend, show: Report) -> None:
    """Whether it is steady, and when to clean."""
    flow = found.fared.get(FLOW)
    if flow is None:
        return
    share = (flow.ratio, "%")
    if leaks(found):
        show.headline(
            "Brought to the conditions of its papers it lets through {r} of the salt that it did "
            "on day one, and makes no less water: no cleaning mends that.",
            r=(found.fared[SALT].ratio, "%"),
        )
        return
    if any(over(one) for one in found.fared.values()):
        show.headline(
            "Brought to the conditions of its papers it makes {r} of what it did on day one: the "
            "membranes want cleaning now.",
            r=share,
        )
        return
    if found.due is None:
        show.headline(
            "Brought to the conditions of its papers it makes {r} of what it did on day one, and "
            "no trend stands out of the noise.",
            r=share,
        )
        return
    key, due = found.due
    assert due.day is not None
    if due.day <= found.fared[key].end:
        show.headline(
            "Brought to the conditions of its papers it makes {r} of what it did on day one. "
            "Cleaning is due.",
            r=share,
        )
        return
    show.headline(
        "Brought to the conditions of its papers it makes {r} of what it did on day one. Cleaning "
        "is due about {d}, {b}.",
        r=share,
        d=told(found.on(due.day)),
        b=between(found, found.fared[key]),
    )


def first_steps(found: Trend, change: float, show: Report) -> None:
    """What to do before anything is cleaned, in the order of the hands; where something is due."""
    if found.filters is not None and found.filters[1] > change:
        show.remedy(
            "Change the filter cartridges: both pumps off and locked, the seacock shut, before a "
            "bowl is opened."
        )
    if leaks(found):
        _find_the_leak(show)
        return
    if not any(over(one) for one in found.fared.values()):
        return
    show.remedy(
        "Before you clean: measure the fresh water with a bucket and a watch, look whether the "
        "gauge goes back to zero once the regulating valve is open and the pump stands, and read "
        "all of it once more. A meter that is off looks like a membrane that tires."
    )
    show.remedy(
        "Then clean the membranes by their maker's sheet: it names the cleaner, its strength, how "
        "warm, how long, and that it runs at low pressure. One cleaner at a time, rinsed out "
        "before the next; goggles and gloves on before the can is opened."
    )
    flow = found.fared.get(FLOW)
    if flow is not None and _back(flow) is not None and over(flow):
        show.remedy(
            "The last cleaning or change brought the fresh water back to {r} of day one. If the "
            "next one brings back less than you can live with, the membranes are to be changed.",
            r=(_back(flow) or 0.0, "%"),
        )


def _find_the_leak(show: Report) -> None:
    """Salt that gets through beside the membrane, or through one that is eaten."""
    show.remedy(
        "Measure the fresh water with another salinity meter, its probe clean, before you believe "
        "it; and taste before you fill the tank."
    )
    show.remedy(
        "Leave the cleaners shut: none mends an O-ring, a torn glue line or what chlorine ate. "
        "Big pump off, then the boost pump; breaker, timer and remote start off, locked and "
        "tagged; regulating valve fully open until no brine runs and its gauge reads zero; then "
        "the seacock shut. A gauge may stick: ease a fitting between pump and regulating valve "
        "by a fraction of a turn, face and hands out of its line, and open nothing before no "
        "more comes than a few drops that end. If the brine's outlet can dip under water, now "
        "shut its valve too, and on the tag: ends shut. Only then change the O-rings of the "
        "membrane's tube. If that brings nothing, the membrane is to be changed; before that "
        "find how chlorine got to it."
    )


def _back(flow: Fared) -> float | None:
    """What the last change upward brought the fresh water to, of day one; None without one."""
    rises = [place for place, jump in enumerate(flow.jumps) if jump[2] > 1]
    if not rises:
        return None
    place = rises[-1]
    after = flow.course.parts[place + 1]
    return math.exp(after.at(flow.jumps[place][1])) / flow.base


def table(found: Trend, show: Report) -> None:
    """The three side by side."""
    rows, states = [], []
    for key in SERIES:
        one = found.fared.get(key)
        if one is None:
            continue
        rows.append(
            (
                NAMES[key],
                (one.base, UNITS[key]),
                (one.level, UNITS[key]),
                amount(one.ratio - 1, "%", 2),
                amount(one.sure, "%", 2),
                "steady"
                if one.steady
                else line("{r} a month", r=amount(one.part.slope * MONTH, "%", 2)),
                between(found, one) if one.due.early is not None else "",
            )
        )
        states.append(FAILS if over(one) else FITS)
    if rows:
        show.table(
            "three",
            "At the conditions of its papers",
            ("What", "Day one", "Now", "Changed by", "Sure to", "It goes", "Limit reached"),
            rows,
            states,
            note="25 °C, 35 g/kg, and the pressure and feed that the papers state. Sure to: 19 "
            "times out of 20, by how the readings scatter.",
            lead=True,
            on_card=(0, 1, 2, 3, 5),
        )


def changes(found: Trend, entries: Sequence[log.Entry], show: Report) -> None:
    """Each change, with what the log says was done then."""
    rows: list[tuple[date, tuple[Words, Words, Amount, Words]]] = []
    for key in SERIES:
        one = found.fared.get(key)
        if one is None:
            continue
        for before, after, ratio in one.jumps:
            days = found.on(before), found.on(after)
            rows.append(
                (
                    days[1],
                    (NAMES[key], _when(*days), amount(ratio - 1, "%", 2), _done(entries, *days)),
                )
            )
    if rows:
        rows.sort(key=lambda row: row[0])
        show.table(
            "changes",
            "What changed, and what was done then",
            ("What", "When", "Changed by", "In the log then"),
            [row for _, row in rows],
            on_card=(0, 1, 2, 3),
        )


def _when(before: date, after: date) -> Words:
    if before == after:
        return told(after)
    return line("between {before} and {after}", before=told(before), after=told(after))


def _done(entries: Sequence[log.Entry], before: date, after: date) -> Words:
    """The jobs of the days from the last reading before to the first one after."""
    jobs = dict.fromkeys(
        (one.task, one.day)
        for one in entries
        if one.entry == log.DONE and before - timedelta(1) <= one.day <= after
    )
    found = [line("{task}, {day}", task=task, day=told(day)) for task, day in jobs]
    return listed(found) if found else "nothing"


LISTED = ("{a}", "{a}; {b}", "{a}; {b}; {c}", "{a}; {b}; {c}; and {n} more")


def listed(found: Sequence[Line]) -> Line:
    """A few of them, and how many more there are."""
    shown = dict(zip("abc", found, strict=False))
    return line(LISTED[min(len(found), 4) - 1], **shown, n=len(found) - 3)


# By what became of fresh water, salt let through and drop: down, up or the same.
POINTS = {
    ("down", "up", "up"): "Less water, more salt and more drop together point to scale where it "
    "came last, in the last element, or to dirt where it came fast, in the first.",
    ("down", "same", "up"): "Less water and more drop, and no more salt, point to slime that grows "
    "in the membranes.",
    ("down", "same", "same"): "Less water, and neither more salt nor more drop, point to a film of "
    "organic matter, or to membranes that were pressed together.",
    ("up", "up", "same"): "More water and more salt together point to membranes that chlorine has "
    "attacked, or to a leak past an O-ring.",
    ("same", "up", "same"): "More salt alone points to a leak past an O-ring or a glue line.",
}


def pattern(found: Trend, show: Report) -> None:
    """What the three together point to, if they do."""
    moved = moves(found)
    words = POINTS.get(moved) if moved else None
    if words:
        show.note(
            "{what} (A public note that quotes W. Byrne, Reverse Osmosis, 2nd ed. 2002, ch. 7.)",
            what=line(words),
        )


USELESS = {
    NO_PRESSURE: "No pressure was read on {n}, so nothing follows from it: {days}.",
    NO_WARMTH: "The sea's warmth was not read on {n}, so nothing follows from it: {days}.",
    NO_PRODUCT: "No fresh water was written down on {n}, so nothing follows from it: {days}.",
    NO_SEA: "The sea's salt was not read on {n}, so nothing follows from it: {days}.",
    ALL_PRODUCT: "More fresh water than a feed can give was written down on {n}; look at the flows "
    "and their units: {days}.",
    NOT_DRIVEN: "The pressure written down on {n} is below the osmotic one of that sea, and yet "
    "there was fresh water; look at gauge, salt and units: {days}.",
}


def notes(q: Asks, found: Trend, show: Report) -> None:
    """Against what it is held, what was set aside, and what was left out."""
    written = [key for key, one in found.fared.items() if one.written]
    if found.fared and not written:
        show.note(
            "Day one is the median of the first {n} readings that can be used, from {d} on: what "
            "was read on day one itself is not said, or is not counted.",
            n=FIRST,
            d=told(found.first),
        )
    for key in found.fared:
        days = found.apart(key)
        if days:
            show.note(
                "{what}: {n} apart from the rest and was set aside, {days}.",
                what=NAMES[key],
                n=counted(len(days), "{n} reading stands", "{n} readings stand"),
                days=_days(days),
            )
    for why, days in found.useless.items():
        show.note(USELESS[why], n=counted(len(days), "{n} day", "{n} days"), days=_days(days))
    if any(one.read.salinity is None for one in found.lines):
        show.note(
            "Where the sea's salt was not read, that of the sea about your boat is taken, {s}.",
            s=(q.sea().salinity, "g/kg"),
        )
    if any(one.read.brine is None for one in found.lines):
        show.note(
            "Where the brine was not read, the feed is what the pump moves, {f}.",
            f=(q.standard().feed, "L/min"),
        )


def _days(days: Sequence[date]) -> Line:
    return listed([told(day) for day in dict.fromkeys(days)])
