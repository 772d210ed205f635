"""What must hold of the chain of ratings and of the relief valve."""

from __future__ import annotations

from ...frame.report import Report, line
from ...system.pressure_side import PressureSide
from .._motor import PARTS, works
from .asks import Asks


def judge(q: Asks, side: PressureSide, show: Report) -> None:
    """All that must hold, and the numbers that one asks for."""
    _weakest(side, show)
    _relief(q, side, show)
    gauge, bursts = side.gauge, side.bursts
    if gauge is not None:
        show.held(
            "gauge",
            "Working pressure, on the gauge's scale",
            gauge,
            "bar",
            says=line(
                "the gauge's scale ends at {s}, and it is made to work up to {m}",
                s=(side.scale or 0.0, "bar"),
                m=(gauge.limit, "bar"),
            ),
            note="three quarters of the scale: EN 837-2, from memory",
        )
    if bursts is not None:
        show.held(
            "bursts",
            "The hose bursts at",
            bursts,
            "bar",
            says=line(
                "the hose bursts at {b}; four times the pressure at which the relief valve opens "
                "are {m}",
                b=(bursts.value, "bar"),
                m=(bursts.limit, "bar"),
            )
            if side.relief
            else line(
                "the hose bursts at {b}; four times the working pressure are {m}",
                b=(bursts.value, "bar"),
                m=(bursts.limit, "bar"),
            ),
            note="four times: SAE J517",
        )
    _shut(side, show)
    _hurts(side, show)


def _weakest(side: PressureSide, show: Report) -> None:
    part = PARTS[side.weakest.key]
    works(show, side.works, side.weakest.key)
    show.figure(
        "weakest", "The weakest part bears", side.weakest.bears, "bar", note=line("the {w}", w=part)
    )


def _relief(q: Asks, side: PressureSide, show: Report) -> None:
    """The relief valve above the work, below the weakest, large enough, and free."""
    if side.relief is None:
        if q.has_relief:
            show.unknown(
                "relief-setting",
                "at which pressure the relief valve opens: it is on its plate or in its papers",
            )
        else:
            show.fail(
                "no-relief",
                "nothing opens by itself: against a way out that is shut the pressure is past "
                "{m}, which the weakest part bears, after {t}",
                m=(side.weakest.bears, "bar"),
                t=(side.seconds_to(side.weakest.bears, side.pressure), "ms"),
            )
        return
    above, below, capacity = side.above, side.below, side.capacity
    assert above is not None and below is not None
    show.held(
        "relief",
        "Relief valve opens at",
        above,
        "bar",
        says=line(
            "the relief valve opens at {v}, and you work with up to {m}",
            v=(above.value, "bar"),
            m=(above.limit, "bar"),
        ),
        note="held against the highest working pressure, here and in the other seas",
    )
    show.held(
        "below",
        "The same, against the weakest part",
        below,
        "bar",
        says=line(
            "the relief valve opens at {v}, and the {w} bears {m} at most",
            v=(below.value, "bar"),
            w=PARTS[side.weakest.key],
            m=(below.limit, "bar"),
        ),
        note="tight: less than a tenth of the way from the working pressure left over",
    )
    if capacity is None:
        show.unknown(
            "relief-flow",
            "whether the relief valve lets the pump's whole flow through: its opening or its flow "
            "stands in its papers",
        )
    else:
        show.held(
            "capacity",
            "The pump's whole flow, against what the relief valve lets through",
            capacity,
            "L/min",
            says=line(
                "the pump moves {q}, and the relief valve lets {m} through, a tenth over its "
                "setting",
                q=(capacity.value, "L/min"),
                m=(capacity.limit, "L/min"),
            ),
            note="API 520-1, liquids",
        )
        show.figure(
            "reached",
            "Pressure while all of it goes that way",
            side.reached or 0.0,
            "bar",
            note="for the moment until you switch off; codes allow a tenth over what a part bears",
        )
    if q.relief_shut_off:
        show.fail(
            "shut-off",
            "something can be shut between the pump and the relief valve, and then there is none",
        )
    if q.relief_outlet == "brine":
        show.fail(
            "outlet",
            "the relief valve's outlet leads into the brine's line: what shuts that line shuts the "
            "relief valve too",
        )
    elif q.relief_outlet == "unknown":
        show.unknown("outlet", "where the relief valve's outlet leads: follow its hose to the end")


def _shut(side: PressureSide, show: Report) -> None:
    """What happens when a way out is shut."""
    if side.relief is not None:
        show.figure(
            "to_relief",
            "From a way out being shut until the relief valve opens",
            side.seconds_to(side.relief.opens, side.pressure),
            "ms",
            note=line(
                "{n} strokes of a plunger from the working pressure, the tubes taken as stiff",
                n=(side.strokes_to(side.relief.opens, side.pressure), ""),
            ),
        )
    show.figure(
        "to_weakest",
        "Until the weakest part has all that it bears, if nothing opens",
        side.seconds_to(side.weakest.bears, side.pressure),
        "ms",
        note=line(
            "{n} strokes; from no pressure at all {s}",
            n=(side.strokes_to(side.weakest.bears, side.pressure), ""),
            s=(side.seconds_to(side.weakest.bears), "ms"),
        ),
    )
    show.figure(
        "surge",
        "A valve shut at a blow adds, for a moment",
        side.surge,
        "bar",
        note="at most: Joukowsky's law, the water in the hose stopped at once",
    )


def _hurts(side: PressureSide, show: Report) -> None:
    """The numbers behind the cautions."""
    show.figure("jet", "A jet through a crack is as fast as", side.jet, "m/s", note="nothing lost")
    show.figure(
        "kick",
        "A hose that comes off kicks with",
        side.kick,
        "N",
        note="at most, for the moment until its pressure is gone",
    )
    show.figure("cap", "On the end cap of a tube press", side.on_the_end, "N")
