"""Each reading against what is expected of it, and what was looked at."""

from __future__ import annotations

from ...frame.report import Amount, Line, Report, amount, line, most
from ...system.first_day import FirstDay, Reading
from .asks import ELSEWHERE, FEED, Asks
from .words import SAFELY

UNITS = {
    "rest_volts": "V",
    "start_volts": "V",
    "start_amperes": "A",
    "before": "bar",
    "behind": "bar",
    "product": "L/h",
    "brine": "L/min",
    "conductivity": "µS/cm",
    "drop": "bar",
    "volts": "V",
    "amperes": "A",
    "frame": "K",
}
LABELS = {
    "rest_volts": "Volts at rest",
    "start_volts": "Volts at the start",
    "start_amperes": "Amperes at the start",
    "before": "Before the filters",
    "behind": "Behind the filters",
    "product": "Fresh water",
    "brine": "Brine overboard",
    "conductivity": "Conductivity of the fresh water",
    "drop": "Drop along the membranes",
    "volts": "Volts at work",
    "amperes": "Amperes at work",
    "frame": "Motor's frame over its air",
}
NEEDED = ("before", "behind", "product", "conductivity")
"""Without these nothing is commissioned; volts and amperes may wait for somebody licensed."""


def shown(one: Reading, value: float) -> Amount:
    """A value in the unit of its reading."""
    return amount(value, UNITS[one.key])


def span(one: Reading) -> Line:
    """What is in, in words."""
    if one.low is None and one.high is not None:
        return line("up to {high}", high=shown(one, one.high))
    if one.high is None and one.low is not None:
        return line("at least {low}", low=shown(one, one.low))
    low, high = one.low or 0.0, one.high or 0.0
    return line("{low} to {high}", low=shown(one, low), high=shown(one, high))


def judge(q: Asks, found: FirstDay | None, show: Report, stopped: bool) -> None:
    """All that was read and looked at; no more is asked for where the start is `stopped`."""
    if found is None:
        show.unknown(
            "runs",
            "what it should read: by these values a healthy one could not run so. Settle that "
            "first, on the pages “Power” and “Water from this sea”",
        )
        return
    taken = found.taken
    show.figure("taken", "Readings taken", float(len(taken)), "")
    if taken:
        _worst(found, show)
    for one in taken:
        assert one.read is not None
        show.held(
            f"off_{one.key}",
            line("{what}, off what is expected", what=LABELS[one.key]),
            one.held,
            "",
            note="times its uncertainty, meter and model together",
            says=line(
                "{what}: {read} was read, and {span} is expected",
                what=LABELS[one.key],
                read=shown(one, one.read),
                span=span(one),
            ),
        )
    for key in ("product", "conductivity"):
        one = found[key]
        show.figure(
            key, line("{what}, expected", what=LABELS[key]), one.expected, UNITS[key], decides=False
        )
    _shut(q, show)
    _pressure(q, show)
    _looked(q, show)
    if not stopped:
        _open(q, found, show)


def _worst(found: FirstDay, show: Report) -> None:
    worst = max(found.taken, key=lambda one: abs(one.off))
    show.figure(
        "worst",
        "Farthest off, times its uncertainty",
        abs(worst.off),
        "",
        decides=False,
        digits=2,
        note=LABELS[worst.key],
    )


def _shut(q: Asks, show: Report) -> None:
    """Water that does not come where it should: a way out is shut."""
    read = q.taken()
    if q.no_brine(read):
        show.fail(
            "no-brine",
            "no brine leaves it: both pumps off at once, the big one first, regulating valve open; "
            "then look what is shut or blocked in its way overboard, and open nothing before "
            "“{list}”",
            list=SAFELY,
        )
    if q.no_product(read):
        show.fail(
            "no-product",
            "no fresh water comes: regulating valve open, both pumps off; then look that its way "
            "is open, to the tank or to waste: a shut one bursts, or tears the membrane",
        )


def _pressure(q: Asks, show: Report) -> None:
    there, to_set = q.there, q.there.to_set
    sea = {"warm": (there.sea.temperature, "°C"), "salt": (there.sea.salinity, "g/kg")}
    if to_set is not None:
        show.figure(
            "set",
            "High pressure to set here",
            to_set,
            "bar",
            decides=False,
            note=line("in a sea of {warm}, {salt}", **sea),
            rounding="down",
        )
    if q.day_pressure is not None and q.day_pressure > there.highest * (1 + 1e-9):
        show.fail(
            "too-high",
            "{p} was read, and {m} is the most in this sea, {warm} and {salt}, by the weakest "
            "part, the membranes and the relief valve: open the regulating valve further"
            if q.has_relief
            else "{p} was read, and {m} is the most in this sea, {warm} and {salt}, by the weakest "
            "part and the membranes: open the regulating valve further",
            p=(q.day_pressure, "bar"),
            m=most(there.highest, "bar"),
            **sea,
        )


def _looked(q: Asks, show: Report) -> None:
    """What no gauge shows."""
    if q.day_turns == "wrong":
        show.fail(
            "turns",
            "it turns the other way: off, locked, and whoever is licensed changes it at the "
            "motor's terminals",
        )
    if q.day_oil == "low":
        show.fail(
            "oil",
            "its oil is below the mark: off, “{list}”, and filled up before it turns again",
            list=SAFELY,
        )
    if q.day_oil == "milky":
        show.fail(
            "oil",
            "its oil is milky, there is water in it: off, and not on again before you know where "
            "that comes from",
        )
    if q.day_weeps == "string":
        show.fail(
            "weeps",
            "water runs from its weep holes: a packing was hurt, or sits wrongly; “{list}”, then "
            "mended",
            list=SAFELY,
        )
    if q.has_relief and q.day_relief == "drips":
        show.fail(
            "relief-drips",
            "water comes from the relief valve: pressure off, both pumps off, all the rest of "
            "“{list}”, and a spare of the same setting in its place before it runs again",
            list=SAFELY,
        )


def _open(q: Asks, found: FirstDay, show: Report) -> None:
    """What nobody has read yet."""
    lacks = [q.fields[name].label for name in FEED if name in q.unsaid]
    if lacks:
        more = len(lacks) - 1
        show.unknown(
            "feed-unsaid",
            "what the feed's gauges should read hangs on what is not said yet: “{what}”, and {n} "
            "more. It is asked here, under “{part}”, and on the page “Is the pump fed?”"
            if more
            else "what the feed's gauges should read hangs on what is not said yet: “{what}”. It "
            "is asked here, under “{part}”, and on the page “Is the pump fed?”",
            what=lacks[0],
            n=more,
            part=ELSEWHERE,
        )
    missing = sum(one.read is None for one in found.readings if one.key in NEEDED)
    missing += (q.day_pressure is None) + (q.day_temperature is None)
    if missing:
        show.unknown(
            "to-read",
            "readings that it can't do without, {n} of them, are still to be taken: feed, high "
            "pressure, fresh water, its conductivity, the sea's warmth",
            n=missing,
        )
