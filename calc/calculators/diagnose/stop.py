"""What can't wait, whatever the cause: what is seen, heard or read that must not go on."""

from __future__ import annotations

from ...frame.report import Report, most
from ...system.diagnosis import Diagnosis
from ...system.watermaking import MOST_OF_RATED
from .asks import Asks

# With these it must not run on, whatever its gauges read.
STOPS = frozenset(("knock", "milky", "relief_runs", "bubbles", "hum", "trips_at_once", "trips_hot"))
# With these it does not run, or not for long: no reading at work can be had of it.
WONT_RUN = frozenset(("hum", "trips_at_once"))


def seen(q: Asks) -> frozenset[str]:
    """What was seen and heard that must not go on."""
    return frozenset(key for key, yes in q.seen().items() if yes) & STOPS


def too_high(q: Asks) -> float | None:
    """The highest pressure that is allowed in the sea as it was read [Pa], the one that other pages
    tell; None where its gauge shows no more."""
    if q.read_pressure is None:
        return None
    highest = q.highest(q.pair[0].readings)
    return highest if q.read_pressure > highest * (1 + 1e-9) else None


def over(q: Asks) -> float | None:
    """The most fresh water that it should be driven to [m3/s]; None where no more was read."""
    allowed = MOST_OF_RATED * q.making.stated
    return allowed if q.read_product is not None and q.read_product > allowed else None


def feed_high(q: Asks) -> bool:
    """Whether the feed presses more on filters or pump than they bear."""
    before, behind = q.read_before, q.read_behind
    return (before is not None and before > q.filter_bears) or (
        behind is not None and behind > q.inlet_most
    )


def must(q: Asks) -> bool:
    """Whether something must not go on."""
    high = too_high(q) is not None or over(q) is not None or feed_high(q)
    return bool(
        seen(q) or high or q.no_brine(q.pair[0].readings) or q.no_product(q.pair[0].readings)
    )


def judge(q: Asks, show: Report) -> None:
    """What must not go on, as what fails."""
    highest = too_high(q)
    if highest is not None:
        show.fail(
            "high",
            "{p} was read, and {m} is the most here, by the weakest part, the membranes and the "
            "relief valve"
            if q.has_relief
            else "{p} was read, and {m} is the most here, by the weakest part and the membranes",
            p=(q.read_pressure or 0.0, "bar"),
            m=most(highest, "bar"),
        )
    if q.no_brine(q.pair[0].readings):
        show.fail("no-brine", "no brine leaves it: the pump's water has no way out")
    if q.no_product(q.pair[0].readings):
        show.fail("no-product", "no fresh water comes, at a pressure that should give some")
    if feed_high(q):
        show.fail("feed-high", "the feed presses more than its filters or the big pump bear")
    flow = over(q)
    if flow is not None:
        show.fail(
            "over",
            "it gives {q}, and its membranes should give no more than {most}",
            q=(q.read_product or 0.0, "L/h"),
            most=most(flow, "L/h"),
        )
    if seen(q):
        show.fail("seen", "what you saw or heard must not go on, whatever its gauges read")


def ways(q: Asks, found: Diagnosis | None, show: Report) -> None:
    """What to do about it, at once."""
    saw = seen(q)
    low = q.read_behind is not None and q.read_behind < q.inlet_least
    lead = found.causes[0].key if found is not None and found.sure else ""
    shut, dry = q.no_brine(q.pair[0].readings), q.no_product(q.pair[0].readings)
    relief = "relief_runs" in saw or lead == "relief"
    off_first = shut or relief or feed_high(q)  # then no valve is turned while the pumps run
    if shut:
        show.remedy(
            "Switch both pumps off now, the big one first. Then the brine's way overboard: open it "
            "slowly if anything in it is shut, for it keeps the pressure inside; regulating valve: "
            "open. Wait until the gauge reads zero: until then no hand goes to any fitting."
        )
    if relief:
        show.remedy(
            "Switch both pumps off now, the big one first; then the regulating valve: open. Leave "
            "it off: a way out may be shut or blocked, and a relief valve that runs though the "
            "pressure was right is changed before the next start."
        )
    if feed_high(q):
        show.remedy(
            "Switch both pumps off, the big one first: a filter bowl bursts. Open nothing before "
            "both gauges of the feed read zero; then look what is shut behind them, and hold the "
            "gauges against another."
        )
    if (too_high(q) is not None or over(q)) and not off_first:
        show.remedy(
            "Open the regulating valve now, a little at a time: pressure and fresh water fall. If "
            "they do not fall, switch both pumps off, the big one first."
        )
    if dry:
        show.remedy(
            "Before the next start see that the fresh water's way is open at one end at least: a "
            "shut one bursts, or tears the membrane."
            if off_first
            else "Open the regulating valve now: the pressure falls; then both pumps off. Before "
            "the next start see that the fresh water's way is open at one end at least: a shut one "
            "bursts, or tears the membrane."
        )
    if saw & {"knock", "bubbles"} or low or lead in ("air", "strainer"):
        show.remedy(
            "Stop it now, both pumps: one that draws air, or too little water, burns its packing. "
            "Look for the cause while it stands."
        )
    if saw & {"hum", "trips_at_once", "trips_hot"}:
        show.remedy(
            "Switch it off and its breaker too, and hang a tag on it: a motor that hums or trips "
            "burns, and one that tripped hot starts again by itself."
        )
    if "milky" in saw:
        show.remedy("Stop it now: water in the oil eats its bearings within days.")
