"""What is told besides the guards: how long it takes, the steps in their order, what to know."""

from __future__ import annotations

from collections.abc import Sequence

from ...frame.report import Amount, Line, Report, amount, line
from ...sheet.groups import PRACTICE
from ...system.running import (
    NOTHING,
    PLAIN,
    STRAIGHT,
    THREE_WAY,
    Gear,
    Step,
    emergency,
    start,
    stop,
)
from .. import _order as words
from .asks import Asks

_HEADS = ("No", "Do", "Why")
Row = tuple[str, Line, str]


def times(q: Asks, gear: Gear, show: Report) -> None:
    """From the first pump's switch to water for the tank, and how long flush water lasts."""
    alone = q.fill_time if gear.boost_alone else 0.0
    until = show.step(
        "From first switch to tank",
        alone + q.idle_time + q.raise_time + q.waste_time,
        "min",
        "t = t_f + t_0 + t_p + t_w",
        {
            "t_f": (alone, "min"),
            "t_0": (q.idle_time, "min"),
            "t_p": (q.raise_time, "min"),
            "t_w": (q.waste_time, "min"),
        },
        PRACTICE,
        "t_f: boost pump alone; t_0: big pump without pressure; t_p: pressure brought up; t_w: "
        "product to waste.",
    )
    show.figure("to_tank", "From first switch to tank", until, "min")
    if gear.inlet != NOTHING and not gear.still:
        _flush(q, show)
    steps = len(start(gear)), len(stop(gear))
    show.figure("to_start", "Steps to start it", float(steps[0]), "")
    show.figure("to_stop", "Steps to stop it", float(steps[1]), "")
    show.headline(
        "{n} steps and {t} to water in the tank; {m} steps to stop it.",
        n=(float(steps[0]), ""),
        t=(until, "min"),
        m=(float(steps[1]), ""),
    )


def _flush(q: Asks, show: Report) -> None:
    """How long the water for a flush lasts."""
    lasts = show.step(
        "Flush water lasts",
        q.flush_lasts,
        "min",
        "t = V / Q",
        {"V": (q.flush_water, "L"), "Q": (q.moves, "L/min")},
        "definition of flow",
        "The pump takes its feed flow, with or without pressure. What the boost pump alone drives "
        "overboard comes off that.",
    )
    show.figure(
        "flush_lasts",
        "Flush water lasts",
        lasts,
        "min",
        digits=2,
        note="at the pump's feed flow, at most",
    )


def steps(q: Asks, gear: Gear, show: Report) -> None:
    """Three tables: start, stop, and when something goes wrong."""
    show.table(
        "start",
        "Start it",
        _HEADS,
        _in_words(words.START, start(gear)),
        lead=True,
        steps=True,
        note="Close the regulating valve and the pressure rises; open it and the pressure falls.",
    )
    show.table(
        "stop",
        "Stop it",
        _HEADS,
        _in_words(
            words.STOP,
            stop(gear),
            v=(q.flush_water, "L"),
            t=amount(q.flush_lasts, "min", 2, "down"),
        ),
        lead=True,
        steps=True,
        note="Regulating valve and product line stay open, the product led to waste.",
    )
    show.table(
        "emergency",
        "If something bursts, knocks or smells",
        _HEADS,
        _in_words(words.EMERGENCY, emergency(gear)),
        lead=True,
        steps=True,
    )


def _in_words(
    known: words.Words, order: Sequence[Step], **said: Amount | tuple[float, str]
) -> list[Row]:
    """Each step numbered, as it is told; what is `said` has a place in some."""
    told = [known[step.key] for step in order]
    return [(str(number), line(do, **said), why) for number, (do, why) in enumerate(told, 1)]


def notes(gear: Gear, show: Report) -> None:
    """What this boat lacks, or has too much of."""
    if gear.dips and not gear.brine_valve:
        show.note(
            "The sea can come back through the brine's outlet, whether the seacock is shut or "
            "not. Have a valve fitted there or a vented loop, and think of it before you open a "
            "bowl or a hose that lies lower."
        )
    if gear.brine_valve and not gear.dips:
        show.note(
            "The brine's outlet stays above the water. Its valve then only has to be open: leave "
            "it open, and shut it for nothing but work on that line, with the breaker locked off."
        )
    if not gear.boost_alone:
        show.note(
            "Nothing here fills the big pump before it turns. How it is filled and bled, its "
            "maker says; until you know, don't start it after it has been open or dry."
        )
    if gear.inlet == NOTHING:
        show.note(
            "Without a way in for flush water, sea water stays inside: it grows slime, smells, "
            "and corrodes. Run it again soon, and have a three-way valve fitted behind the "
            "seacock."
        )
    if gear.house and gear.inlet == THREE_WAY:
        show.note(
            "A flush line under a house pump's pressure wants a valve of its own before the "
            "three-way valve. With that pressure left on, the tank drains through the unit."
        )
    if gear.product in (STRAIGHT, PLAIN):
        show.note(
            "Nothing but your hand turns the first, salty product away from the tank. A three-way "
            "valve that leaves one way open in every position does it without lifting a hose."
        )
    if not gear.meter:
        show.note(
            "A tongue notices salt late. A salinity meter in the hand costs little, and tells "
            "from day to day whether the membrane gets worse."
        )
    show.note(
        "The order is common practice, no source. Your maker's manual comes first: where it asks "
        "for another order, keep to that."
    )
