"""What must hold: a litre of one's own against one that is bought. It is a verdict on money."""

from __future__ import annotations

from ...frame.report import Report, line
from ...system.household import DAY
from ...system.purse import YEAR, Purse
from .asks import Asks

LITRE = 1e-3  # m3


def judge(purse: Purse, show: Report) -> None:
    """All that must hold, and the numbers that one asks for."""
    own, bought = purse.own, purse.bought.litre
    show.figure(
        "litre",
        "A litre of your own",
        own.litre,
        "¤/L",
        at_most=bought,
        says=line(
            "a litre of your own costs {c}, a bought one {b}",
            c=(own.litre, "¤/L"),
            b=(bought, "¤/L"),
        ),
        note="fits: cheaper than bought; tight: by less than a tenth. Money alone is judged",
    )
    show.figure("bought", "A litre that is bought", bought, "¤/L", note="with the trip for it")
    show.figure("saving", "Saved a year", purse.saving, "¤", note="less than 0: lost")
    least = purse.least_litres
    if least is not None:
        show.figure("from", "It pays from, a year", least, "L")
    pays = own.capital.recovered(purse.gain)
    if pays is not None:
        show.figure(
            "pays", "It has paid for itself after", pays * YEAR, "years", note="with its interest"
        )
    show.figure(
        "worth",
        "Saved over its years, in today's money",
        purse.worth,
        "¤",
        note="present value, the unit's price taken off",
    )
    show.figure("litres", "Water that you use a year", own.litres, "L")
    show.figure("hours", "Running hours for that, with flushes and waste", own.hours, "h")
    a_day = own.hours / own.days * DAY
    show.figure(
        "daily",
        "Running hours on a day of use",
        a_day,
        "h",
        at_most=DAY,
        decides=a_day > DAY,
        says=line("for the water that you use it would have to run {h} a day", h=(a_day, "h")),
    )


def dry(q: Asks, show: Report) -> None:
    """A pressure that brings hardly any water."""
    show.unknown(
        "dry",
        "at {p} it makes hardly any fresh water in this sea: see on the page “Water from this sea” "
        "which pressure to set",
        p=(q.making.pressure, "bar"),
    )
    show.headline("Nobody can tell what a litre costs that isn't made.")


def motor_unknown(show: Report) -> None:
    """A motor of which nobody can tell what it draws."""
    show.unknown(
        "motor",
        "nobody can tell what the motor draws on these mains: settle that on the page Power",
    )
    show.headline("Nobody can tell what a litre costs before what the motor draws.")
