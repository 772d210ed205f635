"""The pressures along the line against their limits."""

from __future__ import annotations

from ...frame.report import Line, Report, line
from ...system import feed_search as search
from ...system.feed_line import FeedLine
from ...system.held import Held
from .asks import Asks

AT_THE_WORST = "filters due for change, the strainer partly blocked, heeled and pitching"


def judge(q: Asks, feed: FeedLine, show: Report) -> None:
    """All that must hold, and what one reads on the gauges."""
    show.held(
        "inlet",
        "At the pump's inlet, at its worst",
        feed.fed,
        "bar",
        says=_fed_says(feed),
        note=AT_THE_WORST,
    )
    show.held(
        "clean",
        "Filters' drop while they are clean",
        feed.filters_clean,
        "bar",
        says=line(
            "clean, the filters lose {c} already, and you change them at {d}",
            c=(feed.filters_clean.value, "bar"),
            d=(feed.filters_clean.limit, "bar"),
        ),
    )
    show.held(
        "intake",
        "Intake under water, heeled and pitching",
        feed.intake_deep,
        "m",
        says=_intake_says(feed.intake_deep),
    )
    if feed.boost:
        _boost(feed, show)
    _suction(feed, show)
    if feed.flow != q.flow:
        show.figure("feed", "Feed flow on these mains", feed.flow, "L/min")
    before, behind = feed.gauges(dirty=False)
    show.figure("fresh", "At the pump's inlet, filters new, upright", behind, "bar")
    show.figure("before_new", "Gauge before the filters, filters new, upright", before, "bar")
    drop = feed.due
    if drop is not None:
        before, behind = search.with_drop(feed, drop).gauges(dirty=True)
        show.figure("change", "Change the filters at a drop of", drop, "bar")
        show.figure("before", "Gauge before them reads then, upright", before, "bar")
        show.figure("behind", "Gauge behind them reads then, upright", behind, "bar")


def _intake_says(held: Held) -> Line:
    if held.value < 0:
        return line("heeled, the intake comes out of the water and draws air")
    return line("heeled, the intake is still {d} under water", d=(held.value, "m"))


def _fed_says(feed: FeedLine) -> Line:
    held = feed.fed
    if feed.npsh < 0:
        return line(
            "so much is lost on the way that the water boils before {q} gets to the pump",
            q=(feed.flow, "L/min"),
        )
    if feed.boost is None and held.value < 0:
        return line(
            "without a boost pump the pump has to suck: {p} at its inlet at the worst, and it "
            "wants {m}",
            p=(held.value, "bar"),
            m=(held.limit, "bar"),
        )
    if feed.boost is not None and feed.rise <= 0:
        return line(
            "the boost pump gives {f} at most, and the pump takes {q}: it holds the water back",
            f=(feed.boost.free_flow, "L/min"),
            q=(feed.flow, "L/min"),
        )
    return line(
        "at its worst the pump's inlet has {p}, and it wants {m}",
        p=(held.value, "bar"),
        m=(held.limit, "bar"),
    )


def _boost(feed: FeedLine, show: Report) -> None:
    for key, label, held, says in (
        (
            "shut",
            "At the inlet, the boost pump against a shut end",
            feed.inlet_bears,
            line(
                "against a shut end the boost pump gives {p}, and the pump's inlet bears {m}",
                p=(feed.shut, "bar"),
                m=(feed.inlet_bears.limit, "bar"),
            ),
        ),
        (
            "housing",
            "The same, on the filter housings",
            feed.housings_bear,
            line(
                "against a shut end the boost pump gives {p}, and the filter housings bear {m}",
                p=(feed.shut, "bar"),
                m=(feed.housings_bear.limit, "bar"),
            ),
        ),
    ):
        show.held(key, label, held, "bar", says=says)
    primes, npsh = feed.boost_primes, feed.boost_npsh
    assert primes is not None and npsh is not None
    show.held(
        "primes",
        "Boost pump above the water, heeled and pitching",
        primes,
        "m",
        says=_primes_says(primes),
    )
    show.held(
        "boost_npsh",
        "Suction head at the boost pump",
        npsh,
        "m",
        says=line(
            "the boost pump has {h} of suction head at its worst and needs {m}",
            h=(npsh.value, "m"),
            m=(npsh.limit, "m"),
        ),
        note="NPSH available: what is left over boiling",
    )


def _primes_says(held: Held) -> Line:
    if held.value <= 0:
        return line("heeled, the boost pump is still {d} below the water", d=(-held.value, "m"))
    if held.limit <= 0:
        return line(
            "heeled, the boost pump comes {h} above the water, and it lifts none by itself: once "
            "it has drawn air it does not start again",
            h=(held.value, "m"),
        )
    return line(
        "heeled, the boost pump comes {h} above the water, and it lifts {m} at most",
        h=(held.value, "m"),
        m=(held.limit, "m"),
    )


def _suction(feed: FeedLine, show: Report) -> None:
    """The suction head at the pump, and what its strokes take of it."""
    if feed.inlet.npsh is None:
        show.figure("npsh", "Suction head at the pump", feed.npsh, "m", note=AT_THE_WORST)
    else:
        show.held(
            "npsh",
            "Suction head at the pump",
            feed.suction_head,
            "m",
            says=line(
                "the pump has {h} of suction head and needs {m}",
                h=(feed.npsh, "m"),
                m=(feed.suction_head.limit, "m"),
            ),
            note=AT_THE_WORST,
        )
    show.figure(
        "strokes",
        "Its strokes ask of a stiff line",
        feed.acceleration,
        "m",
        note="acceleration head; an upper bound where the hose is soft",
    )
    show.figure(
        "soft",
        "And of a soft hose, about",
        feed.soft,
        "m",
        note="a pressure wave in a hose whose wall gives",
    )
    if feed.stiff:
        show.held(
            "left",
            "Suction head left at each stroke",
            feed.left,
            "m",
            says=line(
                "in a stiff line the strokes ask for {a} of suction head, and {h} is there",
                a=(feed.acceleration, "m"),
                h=(feed.npsh, "m"),
            ),
        )
