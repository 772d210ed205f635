"""What is told besides the figures: headline, tables, notes."""

from __future__ import annotations

from collections.abc import Sequence

from ...frame.report import FAILS, FITS, Line, Report, line
from ...sheet.household import RESERVE
from ...system import need_search as search
from ...system.need import BASIC_LEAST, BASIC_MOST, SURVIVAL, Need, Offer, nearest
from ...system.running import NOTHING
from .asks import Asks

MANY = 16  # units of a table; of more those next to what would do
TANK_STEP = 0.01  # m3, in which tanks are told

USES = {
    "drink": "To drink and cook",
    "dishes": "Dishes and hands",
    "showers": "Showers",
    "laundry": "Laundry",
    "rinsing": "Rinsing",
    "pets": "Pets and plants",
    "losses": "Lost on the way",
}


def headline(need: Need, show: Report) -> None:
    """Litres and hours."""
    if need.flushed > 0:
        show.headline(
            "You need {n}, {f} of it to flush the unit, and that is {h} of it a day.",
            n=(need.needed, "L/day"),
            f=(need.flushed, "L/day"),
            h=(need.time, "h"),
        )
    else:
        show.headline(
            "You need {n}, and that is {h} of the unit a day.",
            n=(need.needed, "L/day"),
            h=(need.time, "h"),
        )


def tank(q: Asks, need: Need, show: Report) -> None:
    """The smallest tank that would do, where this one does."""
    if not (need.enough.holds and need.between.holds and need.dry.holds):
        return
    share = RESERVE if q.tank_reserve is None else None
    found = search.least_tank(need, share, TANK_STEP, q.passage_days)
    show.figure(
        "tank",
        "The smallest tank that would do",
        found,
        "L",
        note=line(
            "in steps of {s}; {r} of it never touched",
            s=(TANK_STEP, "L"),
            r=(search.with_tank(need, found, share).tank.reserve, "L"),
        ),
    )


def energy(of_a_litre: float | None, need: Need, show: Report) -> None:
    """What the hours take a day, where that is known."""
    if of_a_litre is None:
        return
    show.figure(
        "energy",
        "Energy for those hours a day",
        of_a_litre * need.product * need.time,
        "Wh",
        note=line(
            "{e}, boost pump included, at the motor, before any inverter", e=(of_a_litre, "Wh/L")
        ),
    )


def tables(need: Need, offers: Sequence[Offer], show: Report) -> None:
    """What the water is for, how long the reserve lasts, other units, and the stay's balance."""
    uses = [(USES[key], (flow, "L/day")) for key, flow in need.household.uses.items() if flow > 0]
    if need.flushed > 0:
        uses.append(("Flush of the unit", (need.flushed, "L/day")))
    show.table("uses", "What it is for", ("For", "A day"), uses, on_card=(0, 1))
    show.table(
        "lasts",
        "If the unit fails with the tank down to its reserve",
        ("For each person", "A day", "Reserve and cans last"),
        [
            (name, (each, "L/day"), (need.lasts(each), "days"))
            for name, each in (
                ("To stay alive: drink and food", SURVIVAL),
                ("The least with cooking and washing", BASIC_LEAST),
                ("The upper end of that", BASIC_MOST),
                ("As you draw it now", need.drawn / need.household.crew),
            )
            if each > 0
        ],
        note="The first three by the Sphere Handbook, water supply 2.1. In heat and at work one "
        "drinks more.",
        on_card=(0, 2),
    )
    if offers:
        _others(offers, show)
    _balance(need, show)


def _others(offers: Sequence[Offer], show: Report) -> None:
    """The units that suit; of many those next to what would do."""
    told = nearest(offers, MANY)
    how: str | Line = (
        "At the pressure to set here, with new membranes, and with your runs and flushes."
    )
    if len(told) < len(offers):
        how = line(
            "Of {n} units that suit mains and sea, those next to what would do. At the pressure to "
            "set here, with new membranes, and with your runs and flushes.",
            n=len(offers),
        )
    show.table(
        "others",
        "Other units in this sea",
        ("Unit", "Fresh water", "Hours a day"),
        [(one.name, (one.making.made.product, "L/h"), (one.need.time, "h")) for one in told],
        states=[FITS if one.need.enough.holds else FAILS for one in told],
        note=how,
    )


def _balance(need: Need, show: Report) -> None:
    found = need.balance
    rows = [
        ("Made", found.made),
        ("Used", found.used),
        ("Flushed", found.flushed),
        ("To waste at the starts", found.to_waste),
        ("More than the tank takes", found.over),
        ("More in the tank at the end", found.change),
    ]
    if found.short > 0:
        rows.append(("Missing", found.short))
    show.table(
        "balance",
        "Where the stay's water goes, every day as usual",
        ("Water", "In all"),
        [(name, (volume, "L")) for name, volume in rows],
        note="Made is used, flushed, to waste, too much, or in the tank.",
    )


def notes(q: Asks, need: Need, show: Report) -> None:
    """What the numbers leave out."""
    show.note(
        "Whether bank, sun, engine or generator give the energy tells Power, for the {r} a day "
        "that you make water.",
        r=(need.runs.daily, "h"),
    )
    if need.time <= need.runs.each and need.runs.days == 7 and need.flushed > 0.1 * need.needed:
        show.note(
            "Fewer and longer runs save flush water: each day without a run saves {f}.",
            f=(need.runs.flush, "L"),
        )
    if q.flush_way == NOTHING:
        show.note(
            "Flush water can't get in on this boat, so none is deducted. Sea water left standing "
            "in the unit harms it: see “Laying it up”."
        )
    if need.runs.flushes > 1:
        show.note(
            "A flush keeps {k} at {t}, so that from one run to the next it takes {n} flushes.",
            k=(need.runs.keeps, "days"),
            t=(q.ambient_temperature, "°C"),
            n=need.runs.flushes,
        )
    show.note(
        "The chance takes each day by itself, with a normal spread of {u} for its use and {m} for "
        "a run's water: common practice, no source. Guests, or a week in which it does not run, "
        "are not in it.",
        u=(q.use_varies, "%"),
        m=(q.make_varies, "%"),
    )
