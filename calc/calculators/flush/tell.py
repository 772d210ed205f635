"""What is told of the flush besides its figures: headline, table, notes."""

from __future__ import annotations

from ...frame.report import Report, amount
from ...system.flushing import CAN, HOUSE, PUMP_VALVES, SURPLUS, Flush
from .asks import Asks

_SOLUTION = 1.0  # kg/m3: a gram in a litre


def headline(flush: Flush, show: Report) -> None:
    """The water, the time, and the week."""
    rinse = flush.rinse
    if not rinse.ends or flush.lasts is None:
        show.headline(
            "Flushes take {w} of the {m} made in a week.",
            w=(flush.week.value, "L"),
            m=(flush.week.limit, "L"),
        )
        return
    show.headline(
        "{n} of fresh water, in {t}, bring the salt in the unit from {s} below {a}. Flushes take "
        "{w} of the {m} made in a week.",
        n=(rinse.needed, "L"),
        t=amount(flush.lasts, "min", 2),
        s=(rinse.sea, "g/L"),
        a=(rinse.aim, "g/L"),
        w=(flush.week.value, "L"),
        m=(flush.week.limit, "L"),
    )


def tables(flush: Flush, show: Report) -> None:
    """The salt as the water runs through."""
    rinse = flush.rinse
    show.table(
        "litres",
        "Salt still coming out",
        ("Fresh water run through", "Your unit", "If all of it mixed", "If nothing mixed"),
        [
            (
                (water, "L"),
                (rinse.left(water), "g/L"),
                (rinse.left(water, 1.0), "g/L"),
                (rinse.left(water, 0.0), "g/L"),
            )
            for water in (n * rinse.unit for n in (0.5, 1.0, 1.5, 2.0, 3.0, 4.0))
        ],
        note="The first row is half of what the unit holds. Taste, or a meter, tells the rest.",
    )


def notes(q: Asks, flush: Flush, show: Report) -> None:
    """What hands need to know, and where the numbers end."""
    if q.flush_from == HOUSE:
        if flush.running:
            show.note(
                "The big pump takes {q}, whatever the house pump gives. What is short it makes up "
                "with vapour and air. If the feed pressure falls away or the pump knocks, switch "
                "both pumps off.",
                q=(flush.feed, "L/min"),
            )
        else:
            show.note(
                "With both pumps off the house pump opens the big pump's "
                "valves by itself ({p}: common practice, no source). Both ways out and the "
                "regulating valve are open first; else its pressure stands in the unit. Ask the "
                "big pump's maker whether it may be pushed through.",
                p=(PUMP_VALVES, "bar"),
            )
        show.note(
            "EN 1717 (from memory) sorts what may come back into drinking water by its danger. Sea "
            "water that has stood belongs to the worst sort, and only an air gap stops that one: "
            "flush water that runs freely into an open can, and from there into the unit. A "
            "non-return valve is not enough by that standard, though better than none. Local codes "
            "come first."
        )
    if flush.ruined_after is not None:
        show.note(
            "At {c} the membranes have had what makes them suffer after {t}, if none of it were "
            "used up in the unit.",
            c=(flush.at_membrane, "mg/L"),
            t=(flush.ruined_after, "days"),
        )
    if flush.neutralised:
        _dose(flush, show)
    if flush.bed is not None:
        show.note(
            "Carbon that is used up lets chlorine pass, and you can't see it: hold a test strip "
            "into what comes out of it. Carbon holds back no salt and no germs; germs grow in it."
        )
    if q.flush_from == CAN:
        show.note("Stop before the can is empty: the pump must not draw air.")
    show.note(
        "The flush water's own salt is taken as the unit's product has it, {f}. Common practice, "
        "no source: half of the unit's water in filter bowls; house and boost pump as parabolas "
        "through both ends of their curves; {n} flushes a week, one after each run and another "
        "before the next where one keeps no longer in the heat of the place.",
        f=(flush.rinse.fresh, "g/L"),
        n=(flush.a_week, ""),
    )


def _dose(flush: Flush, show: Report) -> None:
    twice = SURPLUS * flush.sulphite
    show.note(
        "So little powder can't be weighed aboard. Stir {g} into {l} of water, and take {v} of "
        "that for {w} of flush water: twice what the chlorine uses up (common practice, no "
        "source). Wait some minutes; a test strip must show none before you flush. Pour the rest "
        "away: it doesn't keep.",
        g=(1e-3, "g"),
        l=(1e-3, "L"),
        v=(twice / _SOLUTION, "mL"),
        w=(flush.rinse.water, "L"),
    )
