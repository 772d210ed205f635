"""What is told of the line besides its figures: headline, tables, notes."""

from __future__ import annotations

from ...frame.report import Line, Report, line
from ...system import feed_search as search
from ...system.feed_line import HOSE_MODULUS, HOSE_WALL, FeedLine
from ...system.feed_search import Room

_STATIONS = {
    "sea": "at the intake",
    "strainer": "before the strainer",
    "boost_in": "before the boost pump",
    "boost_out": "behind the boost pump",
    "filters": "before the filters",
    "inlet": "at the pump's inlet",
}
_ROOM = {
    "drop": ("Drop over the filters", "bar", "up to {v}"),
    "blocked": ("Strainer's mesh blocked", "%", "up to {v}"),
    "heel": ("Heel", "°", "up to {v}"),
    "length": ("Feed hose, length", "m", "up to {v}"),
    "bore": ("Hoses, inside", "mm", "down to {v}"),
    "flow": ("Feed flow", "L/min", "up to {v}"),
}


def headline(feed: FeedLine, show: Report) -> None:
    """The pressure at the pump, at its best and at its worst."""
    best, worst = feed.inlet_pressure(dirty=False, moving=False), feed.fed.value
    if worst >= 0:
        show.headline(
            "The pump's inlet has {b} with new filters and the boat upright, and {w} at its worst.",
            b=(best, "bar"),
            w=(worst, "bar"),
        )
    else:
        show.headline(
            "The pump's inlet has {b} with new filters and the boat upright. At its worst it has "
            "{w}: less than the air outside, so the pump sucks.",
            b=(best, "bar"),
            w=(worst, "bar"),
        )


def tables(feed: FeedLine, show: Report) -> None:
    """Pressures along the line, and what gives way first."""
    rows = [
        feed.stations(dirty, moving)
        for dirty, moving in ((False, False), (True, False), (True, True))
    ]
    show.table(
        "along",
        "The pressure along the line",
        (
            "Where",
            "Filters new, upright",
            "Filters due, upright",
            "Filters due, heeled and pitching",
        ),
        [
            (_STATIONS[one[0].key], *((each.pressure, "bar") for each in one))
            for one in zip(*rows, strict=True)
        ],
    )
    found = sorted(search.room(feed), key=lambda room: room.share)
    show.table(
        "first",
        "What gives way first, if one thing alone goes further",
        ("What", "Now", "Holds"),
        [_room(one) for one in found],
        note="All else as it is, at the worst. The first row has least in hand.",
    )


def _room(room: Room) -> tuple[Line | str, tuple[float, str], Line | str]:
    label, unit, words = _ROOM[room.key]
    now = (room.now, unit)
    if room.limit is None:
        return label, now, "no value of it alone will do"
    most_told = {
        "drop": search.HIGHEST_DROP,
        "blocked": search.MOST_BLOCKED,
        "heel": search.STEEPEST,
        "length": search.LONGEST,
        "flow": search.MOST_FLOW * room.now,
    }
    if room.limit == most_told.get(room.key) or (
        not room.rising and room.limit <= search.NARROWEST
    ):
        return label, now, "as far as is reckoned"
    return label, now, line(words, v=(room.limit, unit))


def notes(feed: FeedLine, show: Report) -> None:
    """Where the numbers end."""
    show.note(
        "The high-pressure pump takes its flow, whatever stands before it. A boost pump doesn't "
        "push more through; it keeps the inlet above the pressure of the air."
    )
    if not feed.stiff:
        show.note(
            "The strokes ask for {a} of suction head in a stiff line. A soft hose gives at each "
            "stroke, so that bound is no limit here; by the wave that runs in it, it is about {s} "
            "(a wall of {w} with a modulus of {e}: common practice, no source). Keep a metre of "
            "soft hose before the pump, not one with a wire in it.",
            a=(feed.acceleration, "m"),
            s=(feed.soft, "m"),
            w=(HOSE_WALL, "mm"),
            e=(HOSE_MODULUS, "MPa"),
        )
        if feed.soft > feed.npsh:
            show.note(
                "That is more than the {h} that is there: such a pump wants a suction damper, "
                "chosen by its maker.",
                h=(feed.npsh, "m"),
            )
    if feed.inlet.spot.height <= 0 or (feed.boost and feed.boost.spot.height <= 0):
        show.note(
            "Something stands below the waterline. Water runs in by itself when a bowl is open and "
            "the seacock too: with the pumps locked off, shut the seacock first."
        )
    show.note(
        "Common practice, no source: a centrifugal pump's curve as a parabola; the inlet above "
        "{z} gauge; the drop at which filters are changed (a manual for large plants says {d}); "
        "half of a mesh blocked.",
        z=(0.0, "bar"),
        d=(1e5, "bar"),
    )
