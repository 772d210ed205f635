"""What must hold of a flush: its water, what pushes it, its chlorine, and what it takes a week."""

from __future__ import annotations

from ...frame.report import Line, Report, line
from ...system.flushing import STANDS, Flush
from ...system.running import NOTHING
from .asks import Asks


def judge(q: Asks, flush: Flush, show: Report) -> None:
    """All that must hold, and the numbers that one asks for."""
    if q.flush_way == NOTHING:
        show.fail("no-way", "flush water can't get in: nothing for it stands behind the seacock")
    _salt(flush, show)
    _pushed(flush, show)
    _bears(flush, show)
    if q.forgets_the_dose:
        show.fail(
            "dosed",
            "the house pump brings its water from a tank that is dosed with bleach: it holds "
            "chlorine, though you say that it holds none",
        )
    _chlorine(flush, show)
    show.held(
        "week",
        "Flushes take in a week",
        flush.week,
        "L",
        says=line(
            "flushes take {w} in a week, and {m} are made in it",
            w=(flush.week.value, "L"),
            m=(flush.week.limit, "L"),
        ),
        note="one after each run, and as often as a flush keeps; the limit is what is made",
    )
    show.figure("flushes", "Flushes in a week", flush.a_week, "")


def _salt(flush: Flush, show: Report) -> None:
    rinse = flush.rinse
    if not rinse.ends:
        show.fail(
            "salty",
            "the water made has {c} of salt, and you want to come down to {a}: no flush with it "
            "gets there",
            c=(rinse.fresh, "g/L"),
            a=(rinse.aim, "g/L"),
        )
        return
    show.held(
        "enough",
        "Fresh water for a flush",
        rinse.enough,
        "L",
        says=line(
            "{v} of fresh water go into a flush, and to bring its salt below {a} it wants {n}",
            v=(rinse.water, "L"),
            a=(rinse.aim, "g/L"),
            n=(rinse.needed, "L"),
        ),
    )
    show.figure(
        "needed",
        "Fresh water that it wants",
        rinse.needed,
        "L",
        note="filter bowls mix, hoses and tubes are pushed out as a plug",
    )
    show.figure("plug", "If nothing mixed (plug)", rinse.plug, "L", note="no less can do")
    show.figure("mixing", "If all of it mixed", rinse.mixing, "L", note="more is never wanted")
    show.figure("left", "Salt still coming out after your flush", rinse.left(rinse.water), "g/L")
    if flush.lasts is not None:
        show.figure("time", "Time for it", flush.lasts, "min", digits=2)


def _pushed(flush: Flush, show: Report) -> None:
    """Whether the water comes: to a pump that runs, or through one that stands."""
    way = flush.way
    if flush.running:
        show.held(
            "inlet",
            "At the pump's inlet, filters due for change",
            flush.fed,
            "bar",
            says=_fed_says(flush),
            note="while the pumps run without pressure",
        )
    elif flush.flow == 0:
        show.fail(
            "no-flow",
            "the house pump pushes no water through: its {p} are used up by height, filters and "
            "the big pump's valves",
            p=(way.house.shut_off if way.house else 0.0, "bar"),
        )
    show.figure("flow", "Flow of the flush", flush.flow, "L/min", note="at its least")
    if way.house is not None and flush.running:
        show.figure(
            "still",
            "With both pumps off the house pump pushes through",
            way.through(),
            "L/min",
            note="filters due for change",
        )


def _fed_says(flush: Flush) -> Line:
    house, boost = flush.way.house, flush.way.boost
    if house is not None and house.free_flow <= flush.feed:
        return line(
            "the house pump gives {f} at most, and the running pump takes {q}: it starves",
            f=(house.free_flow, "L/min"),
            q=(flush.feed, "L/min"),
        )
    if house is None and boost is None and flush.fed.value < 0:
        return line(
            "with no boost pump the big pump has to suck its flush water: {p} at its inlet, and "
            "it wants {m}",
            p=(flush.fed.value, "bar"),
            m=(flush.fed.limit, "bar"),
        )
    return line(
        "flushed, the pump's inlet has {p}, and it wants {m}",
        p=(flush.fed.value, "bar"),
        m=(flush.fed.limit, "bar"),
    )


def _bears(flush: Flush, show: Report) -> None:
    """What pushes, against a shut end; without the house pump that is the feed line's business."""
    if flush.way.house is None:
        return
    shut = (flush.way.shut, "bar")
    show.held(
        "shut",
        "At the inlet, against a shut end",
        flush.inlet_bears,
        "bar",
        says=line(
            "against a shut end {p} come to the pump's inlet, and it bears {m}",
            p=shut,
            m=(flush.inlet_bears.limit, "bar"),
        ),
        note="the house pump, and the boost pump where it runs",
    )
    show.held(
        "housing",
        "The same, on the filter housings",
        flush.housings_bear,
        "bar",
        says=line(
            "against a shut end {p} come to the filter housings, and they bear {m}",
            p=shut,
            m=(flush.housings_bear.limit, "bar"),
        ),
    )
    if flush.carbon_bears is not None:
        show.held(
            "carbon-housing",
            "The house pump, on the carbon's housing",
            flush.carbon_bears,
            "bar",
            says=line(
                "the house pump gives {p}, and the carbon's housing bears {m}",
                p=(flush.carbon_bears.value, "bar"),
                m=(flush.carbon_bears.limit, "bar"),
            ),
        )


def _chlorine(flush: Flush, show: Report) -> None:
    if flush.chlorine == 0:
        return
    if flush.unguarded:
        show.fail(
            "no-carbon",
            "its {c} of chlorine reach the membranes, which bear {m}: never flush with dosed or "
            "shore water without carbon",
            c=(flush.chlorine, "mg/L"),
            m=(flush.bears_chlorine, "mg/L"),
        )
    if flush.neutralised:
        show.figure(
            "sulphite",
            "Metabisulphite that the chlorine uses up",
            flush.sulphite,
            "mg",
            note="at least; for one flush, in the can",
        )
    contact, left = flush.contact, flush.carbon_left
    if contact is not None and left is not None:
        show.held(
            "contact",
            "Contact time in the carbon",
            contact,
            "s",
            says=line(
                "{q} through it leave the water {t} in the carbon, and it is rated at {m}",
                q=(flush.fastest, "L/min"),
                t=(contact.value, "s"),
                m=(contact.limit, "s"),
            ),
            note="empty bed: its volume over the flow",
        )
        show.held(
            "carbon-left",
            "Water that the carbon is still good for",
            left,
            "L",
            says=line(
                "the carbon is good for {l} more of this water, and a flush takes {v}",
                l=(max(left.value, 0.0), "L"),
                v=(left.limit, "L"),
            ),
            note="by the calendar too: common practice is half a year, no source",
        )
    show.held(
        "chlorine",
        "Chlorine that reaches the membranes",
        flush.chlorine_borne,
        "mg/L",
        says=line(
            "{c} of chlorine reach the membranes, which bear {m}",
            c=(flush.at_membrane, "mg/L"),
            m=(flush.bears_chlorine, "mg/L"),
        ),
    )
    show.figure(
        "dose",
        "Over a year they have at most",
        flush.yearly_dose,
        "ppm h",
        note=line("after some {d} they have suffered (trade articles)", d=(STANDS, "ppm h")),
    )
