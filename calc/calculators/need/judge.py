"""What must hold: the hours, the tank from run to run, over a stay, and its reserve."""

from __future__ import annotations

from ...frame.report import Report, line
from ...system.household import DAY, WEEK
from ...system.need import BASIC_LEAST, BASIC_MOST, SURVIVAL, Need
from .asks import Asks

SPHERE = "Sphere Handbook, water supply 2.1"


def judge(q: Asks, need: Need, show: Report) -> None:
    """All that must hold, and the numbers that one asks for."""
    _hours(need, show)
    _tank(need, show)
    _reserve(q, need, show)


def _hours(need: Need, show: Report) -> None:
    enough, runs = need.enough, need.runs
    show.held(
        "hours",
        "The unit must run a day",
        enough,
        "h",
        says=line(
            "what you use and flush takes {h} of the unit a day, and you make water for {m}",
            h=(enough.value, "h"),
            m=(enough.limit, "h"),
        ),
        note=line("over the week; {w} a week", w=(enough.value * WEEK / DAY, "h")),
    )
    show.figure(
        "needed",
        "You need a day",
        need.needed,
        "L/day",
        note=line(
            "{f} of it for the flush; {p} each person draws",
            f=(need.flushed, "L/day"),
            p=(need.drawn / need.household.crew, "L/day"),
        ),
    )
    show.figure(
        "made",
        "The unit brings into the tank a day",
        need.made,
        "L/day",
        note=line("{q} in this sea", q=(need.product, "L/h")),
    )
    show.held(
        "run",
        "A run is as long as",
        need.in_a_day,
        "h",
        says=line(
            "all hours of the week on {d} of its days are runs of {r}, and a day has {m}",
            d=runs.days,
            r=(runs.each, "h"),
            m=(DAY, "h"),
        ),
    )


def _tank(need: Need, show: Report) -> None:
    between = need.between
    show.held(
        "between",
        "From one run to the next the tank gives",
        between,
        "L",
        says=line(
            "from one run to the next you draw and flush {v}, and the tank has {m} over its "
            "reserve",
            v=(between.value, "L"),
            m=(between.limit, "L"),
        ),
        note="the limit is what it has over its reserve",
    )
    show.held(
        "dry",
        line("Chance to be down to the reserve once in {d}", d=(need.stay.time, "days")),
        need.dry,
        "%",
        says=line(
            "the tank is down to its reserve with a chance of {c} in {d}; more than {m} is much",
            c=(need.dry.value, "%"),
            d=(need.stay.time, "days"),
            m=(need.dry.limit, "%"),
        ),
        note="the limit is common practice, no source",
        # Too few hours, or a tank too small for one run, is what it comes from.
        decides=need.enough.holds and between.holds,
    )


def _reserve(q: Asks, need: Need, show: Report) -> None:
    survives = need.survives(q.passage_days)
    show.held(
        "survival",
        "If the unit fails: reserve and cans keep all alive for",
        survives,
        "days",
        says=line(
            "if the unit fails, reserve and cans give each {w} for {d}, and you are up to {m} at "
            "sea",
            w=(SURVIVAL, "L/day"),
            d=(survives.value, "days"),
            m=(survives.limit, "days"),
        ),
        note=line("{w} for each, to drink and in food: {s}", w=(SURVIVAL, "L/day"), s=SPHERE),
    )
    show.figure(
        "basic",
        "With cooking and the least of washing for",
        need.lasts(BASIC_LEAST),
        "days",
        note=line(
            "{a} for each; with {b} it is {t}: {s}",
            a=(BASIC_LEAST, "L/day"),
            b=(BASIC_MOST, "L/day"),
            t=(need.lasts(BASIC_MOST), "days"),
            s=SPHERE,
        ),
    )
