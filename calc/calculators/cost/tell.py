"""What is told of the money besides its figures: headline, tables, notes."""

from __future__ import annotations

from ...frame.report import Report
from ...sheet.purse import BOTTLES, CANS, QUAY
from ...system.purse import Purse
from . import picture
from .asks import Asks

SHARES = {
    "capital": "The unit itself, with interest",
    "tasks": "Upkeep",
    "membranes": "Membranes",
    "parts": "Parts that fail",
    "energy": "Energy",
}
WAYS = {QUAY: "By a hose, at a quay", CANS: "In cans", BOTTLES: "In bottles"}


def headline(purse: Purse, show: Report) -> None:
    """Own against bought, and what it makes in a year."""
    pairs = {"c": (purse.own.litre, "¤/L"), "b": (purse.bought.litre, "¤/L")}
    if purse.saving >= 0:
        show.headline(
            "A litre of your own costs {c}, a bought one {b}: you save {s} a year.",
            s=(purse.saving, "¤"),
            **pairs,
        )
    else:
        show.headline(
            "A litre of your own costs {c}, a bought one {b}: it costs you {s} a year to make it "
            "yourself.",
            s=(-purse.saving, "¤"),
            **pairs,
        )


def tables(q: Asks, purse: Purse, show: Report) -> None:
    """What a litre is made of, the ways to buy one, and the tornado in numbers."""
    own = purse.own
    show.table(
        "shares",
        "What a litre of your own is made of",
        ("Share", "A year", "A litre"),
        [
            (SHARES[key], (money, "¤"), (money / own.litres, "¤/L"))
            for key, money in own.shares.items()
        ],
        on_card=(0, 1, 2),
    )
    show.table(
        "ways",
        "The ways to have it",
        ("Way", "Water", "Trip", "Together", "A year"),
        [
            ("Your own", "", "", (own.litre, "¤/L"), (own.yearly, "¤")),
            *(
                (
                    WAYS[key],
                    (way.price, "¤/L"),
                    (way.trip / way.brings, "¤/L"),
                    (way.litre, "¤/L"),
                    (way.litre * own.litres, "¤"),
                )
                for key, way in q.all_ways().items()
            ),
        ],
        on_card=(0, 3, 4),
    )
    show.table(
        "swings",
        "What a year saves if one number is off",
        ("Number", "At the worst", "At the best"),
        [(picture.NAMES[s.key], (s.worst, "¤"), (s.best, "¤")) for s in purse.swings()],
        note="Each a quarter less and a quarter more, the others as they are; interest by two "
        "points, days no more than a year has.",
    )


def notes(q: Asks, purse: Purse, show: Report) -> None:
    """What the numbers leave out."""
    if purse.own.flushed:
        show.note(
            "Of all that it makes, {f} goes through the unit again as flush water: see the page "
            "“The flush”.",
            f=(purse.own.flushed / purse.own.made, "%"),
        )
    show.note(
        "Upkeep is reckoned for the hours that this water takes, not for those of your plan: the "
        "page “The year of the unit” may have others."
    )
    if q.making.ails:
        show.note(
            "It is reckoned from water that it should not make so: see on the page “Water from "
            "this sea” which pressure to set, and what its membranes bear."
        )
