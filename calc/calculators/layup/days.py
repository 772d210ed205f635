"""How long it stands and keeps, and what is done on which day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from ...frame import ical
from ...frame.report import Report, line, say
from ...physics import maintenance
from ...sheet.rest import STEPS
from ...sheet.year import told
from ...system.rest import EMPTIED, FLUSHED, PRESERVED, Keeping, LaidUp, Rest
from ...system.tasks import Due

_HEADLINES = {
    FLUSHED: "It stands {rest}, from {start} to {end}: fresh water alone, again and again; there "
    "is work on {n} days.",
    PRESERVED: "It stands {rest}, from {start} to {end}: preserve the membranes; there is work on "
    "{n} days.",
    EMPTIED: "It stands {rest}, from {start} to {end}: membranes out, propylene glycol in the "
    "rest; there is work on {n} days.",
}


def headline(laid: LaidUp, show: Report) -> None:
    """How long, in which way, on how many days."""
    rest = laid.rest
    show.headline(
        _HEADLINES[laid.way.key],
        rest=(rest.time, "days"),
        start=told(rest.start),
        end=told(rest.end),
        n=len(laid.days),
    )


def frost(rest: Rest, show: Report) -> None:
    """That a place is taken to freeze though it is not said."""
    if rest.frost and not rest.said_to_freeze:
        show.note(
            "Its warmest is {warmest}, no higher than freezing: it is taken to freeze there, "
            "though “It may freeze there” says no.",
            warmest=(rest.warmest, "°C"),
        )


def standing(laid: LaidUp, keeps: Keeping, show: Report) -> None:
    """How long it stands, and how long it keeps where the heat of the place takes days off."""
    rest, way = laid.rest, laid.way.key
    show.step(
        "Days it stands",
        rest.time,
        "days",
        "T = T_rest",
        {"T_rest": (rest.time, "days")},
        "The calendar, month ends and leap days included",
    )
    if way == EMPTIED or rest.warmest <= maintenance.KEEPS_FULL_TO:
        return
    life, excess = keeps.life(way), rest.warmest - maintenance.KEEPS_FULL_TO
    show.step(
        "It keeps, in that heat",
        maintenance.life_when_warm(life, rest.warmest),
        "days",
        "t = t_25 * 0.5**(dT / 10)",
        {"t_25": (life, "days"), "dT": (excess, "K")},
        "Van 't Hoff's rule of thumb, from memory: twice as fast with 10 K more. "
        "From 25 °C on: common practice, no source",
        note="cut to whole days",
    )


def listed(laid: LaidUp, today: date, show: Report) -> None:
    """The days, as a table and for a calendar."""
    steps = [(due, STEPS[laid.way.key, due.why]) for due in laid.days]
    show.table(
        "days",
        "The days",
        ("Day", "What"),
        [(told(due.day), step) for due, step in steps],
        lead=True,
        on_card=(0, 1),
    )
    show.download(
        "calendar",
        "watermaker-lay-up.ics",
        "These days for your calendar",
        ical.MEDIA_TYPE,
        lambda: _file(steps, today),
    )


def _file(steps: Sequence[tuple[Due, str]], today: date) -> str:
    events = [
        ical.Event(due.day, f"lay-up {due.why}", say(line("Watermaker: {step}", step=step)))
        for due, step in steps
    ]
    return ical.calendar(say("Watermaker at rest"), events, today)
