"""What is told of the pressure besides its figures: headline, tables, notes."""

from __future__ import annotations

from ...frame.report import Report, most
from ...system.pressure_side import HOSE_MODULUS, HOSE_WALL, PressureSide
from .asks import Asks

CHAIN = {
    "pump": "High-pressure pump",
    "hose": "High-pressure hose",
    "fittings": "Weakest of ends and fittings",
    "vessel": "Pressure tube",
    "membranes": "Membrane",
}


def headline(side: PressureSide, show: Report) -> None:
    """From the working pressure to the weakest part."""
    if side.relief is None:
        show.headline(
            "You work with {p}, and the weakest part bears {m}.",
            p=(side.pressure, "bar"),
            m=(side.weakest.bears, "bar"),
        )
        return
    show.headline(
        "You work with {p}, the relief valve opens at {r}, and the weakest part bears {m}.",
        p=(side.pressure, "bar"),
        r=(side.relief.opens, "bar"),
        m=(side.weakest.bears, "bar"),
    )


def tables(side: PressureSide, show: Report) -> None:
    """The chain of ratings, weakest first, and the pressures over the year's seas."""
    show.table(
        "chain",
        "What each part bears, the weakest first",
        ("Part", "Bears", "Of that at work"),
        [
            (CHAIN[r.key], (r.bears, "bar"), (side.pressure / r.bears, "%"))
            for r in sorted(side.ratings, key=lambda r: r.bears)
        ],
        on_card=(0, 1, 2),
    )
    rows = [
        (one.name, most(one.to_set, "bar"), most(one.highest, "bar"))
        for one in side.seasons
        if one.to_set is not None
    ]
    if rows:
        show.table(
            "window",
            "The working window over the seas",
            ("Sea", "Set to", "Highest allowed"),
            rows,
            note="Set for the fresh water of the papers, and to no more pressure than they state.",
        )


def notes(q: Asks, side: PressureSide, show: Report) -> None:
    """What the numbers leave out."""
    if not side.making.dry:
        show.note(
            "The regulating valve stands open no further than a round hole of {d} (Kv {k}, the "
            "flow at one bar). What it lets through no longer depends on what is behind it: beyond "
            "{c} the water boils in its narrowest place. So a grain of sand there moves the "
            "gauge, and a small turn does much.",
            d=(side.hole, "mm"),
            k=(side.opening_kv, "m3/h"),
            c=(side.chokes_at, "bar"),
        )
    if q.relief_outlet == "inlet" and side.relief is not None:
        show.note(
            "The relief valve leads back to the inlet: nobody sees that it is open, and the same "
            "water goes round, each time warmer by {k}.",
            k=(side.warms, "K"),
        )
    if len(side.ratings) < len(CHAIN):
        show.note(
            "What isn't said here isn't held against anything: the weakest part may be another one."
        )
    if side.scale is None:
        show.note("Nothing is said of the gauge, so it isn't held against anything.")
    show.note(
        "Reckoned with water that is free of air; air in it takes more strokes, and gives back "
        "more when something breaks. A hose's wall of {w} with a modulus of {e}, and tubes half "
        "full of membrane: common practice, no source.",
        w=(HOSE_WALL, "mm"),
        e=(HOSE_MODULUS, "MPa"),
    )
