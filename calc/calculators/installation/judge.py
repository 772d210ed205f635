"""What bars the plan: water at the motor, a place that is not level or too small, and what the
pages on its parts have against it."""

from __future__ import annotations

from collections.abc import Iterable

from ...frame.report import Report, line
from ...system import place
from ...system.held import Held, all_hold
from ...system.installing import DRY, kept_out
from ...system.pressure_side import PressureSide
from .asks import UNKNOWN, Asks
from .found import Found

# What each page has to know of her before it judges.
MOUNT = (
    "mount_stiffness", "mount_deflection", "mount_rating", "floor_thickness", "skin_thickness",
    "core_thickness", "floor_length", "floor_width", "locker_length", "locker_width",
    "locker_height",
)  # fmt: skip
FEED = ("feed_bore", "feed_length", "pump_height", "boost_shut_off", "boost_free_flow")
PRESSURE = ("hose_bears", "vessel_bears")
WIRING = (
    "wiring_rules", "dc_run", "ac_run", "bank_voltage", "bank_chemistry", "bank_capacity",
)  # fmt: skip
ROOM = frozenset(("head", "across", "height"))


def judge(q: Asks, found: Found, show: Report) -> None:
    """All that bars it, and what nobody knows yet."""
    _counts(found, show)
    _wet(q, found, show)
    _level(found, show)
    _mount(q, found, show)
    _feed(q, found, show)
    _pressure(q, found, show)
    _wiring(q, found, show)
    _unmeasured(found, show)


def _counts(found: Found, show: Report) -> None:
    show.figure("things", "Kinds of things to buy", float(len(found.items)), "")
    show.figure("to_do", "Steps", float(sum(map(len, found.parts.values()))), "")
    clamps = found.sum("", "clamps")
    if clamps is not None:
        show.figure("clamps", "Hose clamps", clamps, "")
    hose = found.sum(
        "m", "feed_hose", "boost_hose", "flush_hose", "high_pressure_hose", "brine_hose",
        "product_hose", "relief_hose",
    )  # fmt: skip
    if hose is not None:
        show.figure("hose", "Hose, all lines together", hose, "m")
    cable = found.sum("m", "bank_cable", "motor_cable")
    if cable is not None:
        show.figure("cable", "Cable, battery's and motor's", cable, "m")


def _tilt(found: Found) -> float:
    """How far she tilts the motor, at most [rad]."""
    sitting = found.made.place.sitting
    return max(sitting.tilts(athwart=found.made.place.footing.athwart))


def _wet(q: Asks, found: Found, show: Report) -> None:
    """The motor's enclosure against the water that reaches it."""
    if q.wet == DRY:
        return
    least = kept_out(q.wet, _tilt(found))
    show.figure(
        "numeral",
        "IP code's second numeral wanted there",
        float(least),
        "",
        note=line("IEC 60529, from memory; she tilts it by {t} at most", t=(_tilt(found), "°")),
    )
    if q.enclosure == UNKNOWN:
        show.unknown(
            "enclosure",
            "what the motor's enclosure bears: its IP code stands on its plate, and {n} is the "
            "least second numeral where water reaches it like that",
            n=least,
        )
    elif int(q.enclosure) < least:
        show.fail(
            "wet",
            "water reaches the motor there, and its enclosure is IP x{has}: it must be IP x{n} at "
            "least, or the motor stand where none reaches it",
            has=q.enclosure,
            n=least,
        )


def _level(found: Found, show: Report) -> None:
    """The crankcase has a vent: tilted too far, its oil runs out and its bearings dry."""
    held = place.limits(found.made)
    for key, label, says in (
        (
            "tilt_across",
            "Tilt across the shaft, at most",
            "she tilts it by {v} across its shaft, and {m} are allowed: the crankcase is vented",
        ),
        (
            "tilt_along",
            "Tilt along the shaft, at most",
            "she tilts it by {v} along its shaft, and {m} are allowed: the crankcase is vented",
        ),
    ):
        one = held[key]
        show.held(key, label, one, "°", says=line(says, v=(one.value, "°"), m=(one.limit, "°")))


def _mount(q: Asks, found: Found, show: Report) -> None:
    if q.unsaid.intersection(MOUNT):
        show.unknown(
            "mount-unsaid",
            "whether this place holds it and has room for hands: the page “Where to bolt it down” "
            "asks for its sizes, floor and mounts",
        )
        return
    held = place.limits(found.made)
    for key, label in (
        ("head", "Free at the pump's end, to pull its head"),
        ("across", "Depth it wants, with the electrical box open"),
        ("height", "Height it wants"),
    ):
        show.held(key, label, held[key], "mm")
    others = place.failing(found.made) - ROOM - {"tilt_across", "tilt_along"}
    if others:
        show.fail(
            "mount",
            "the page “Where to bolt it down” has something against this place, its floor, its "
            "mounts or its bolts: settle that there first",
        )
    elif found.made.hangs and found.made.place.sitting.may_hang == "unknown":
        show.unknown(
            "maker-unsaid",
            "whether its maker lets it hang on a bulkhead: oil and vents decide; ask",
        )


def _feed(q: Asks, found: Found, show: Report) -> None:
    if q.unsaid.intersection(FEED):
        show.unknown(
            "feed-unsaid",
            "whether the pump is fed: the page “Is the pump fed?” asks for its hose, heights and "
            "boost pump",
        )
        return
    line_ = found.line
    shut: Iterable[Held] = [line_.inlet_bears, line_.housings_bear] if line_.boost else []
    if not all_hold([*line_.held, line_.filters_clean, *shut]):
        show.fail(
            "feed",
            "the page “Is the pump fed?” has something against this feed line: settle that there "
            "first",
        )


def _bears(side: PressureSide) -> bool:
    return all_hold([side.works, side.above, side.below, side.capacity, side.gauge, side.bursts])


def _pressure(q: Asks, found: Found, show: Report) -> None:
    if not q.has_relief:
        show.fail(
            "relief",
            "without a relief valve at the pump the first end that is shut or blocked bursts "
            "something",
        )
    elif found.side.relief is None:
        show.unknown(
            "relief-setting",
            "at which pressure the relief valve opens: it is on its plate or in its papers",
        )
    elif q.relief_shut_off:
        show.fail(
            "shut-off",
            "something can be shut between the pump and the relief valve, and then there is none",
        )
    elif q.relief_outlet == "brine":
        show.fail(
            "outlet",
            "the relief valve's outlet leads into the brine's line: what shuts that line shuts the "
            "relief valve too",
        )
    elif q.relief_outlet == "unknown":
        show.unknown("outlet-unsaid", "where the relief valve's outlet is to lead")
    if q.unsaid.intersection(PRESSURE):
        show.unknown(
            "pressure-unsaid",
            "what hose and pressure tube bear: the page “Pressure and what protects from it” asks "
            "for it",
        )
    elif not _bears(found.side):
        show.fail(
            "pressure",
            "the page “Pressure and what protects from it” has something against these parts or "
            "this relief valve: settle that there first",
        )


def _wiring(q: Asks, found: Found, show: Report) -> None:
    if q.unsaid.intersection(WIRING):
        show.unknown(
            "wiring-unsaid",
            "which cables, fuse and breaker: the page “Wiring” asks for the runs and the bank",
        )
        return
    if not found.sound or found.layout is None:
        show.fail(
            "motor",
            "pump and motor are not right for these mains: settle that first, on the page “Power”",
        )
        return
    layout = found.layout
    # An inverter that is made for another bank or other mains is asked for nothing.
    foreign = found.wired.inverter is not None and layout.asked is None
    poor = [
        side
        for side in layout.sides
        if not side.found
        or side.rating is None
        or side.opens
        or not side.duty.does(side.cable.size, side.cable.parallel)
    ]
    if poor or foreign or layout.too_hot or layout.too_weak:
        show.fail(
            "wiring",
            "the page “Wiring” has something against these cables, this fuse or breaker, or what "
            "feeds them: settle that there first",
        )


def _unmeasured(found: Found, show: Report) -> None:
    count = sum(map(found.open, found.items))
    if count:
        show.unknown(
            "to-measure",
            "some things in the list, {n} of them, are still to be measured or said",
            n=count,
        )


def remedies(q: Asks, found: Found, show: Report) -> None:
    """What would lift a bar that is this page's own."""
    least = kept_out(q.wet, _tilt(found))
    if q.wet != DRY and q.enclosure != UNKNOWN and int(q.enclosure) < least:
        show.remedy(
            "Another place, or a roof over it that leaves its air free, so that no water reaches "
            "the motor.",
            sets={"wet": DRY},
            mends="wet",
        )
        show.remedy(
            "A motor of IP x{n} or more. A bag or box over it instead makes it too hot.",
            n=least,
            sets={"enclosure": str(least)},
            mends="wet",
        )
    if not q.has_relief:
        show.remedy(
            "A relief valve at the pump, set and sealed by its maker or a licensed workshop, with "
            "nothing between that can be shut."
        )
    elif found.side.relief is None:
        return
    elif q.relief_shut_off:
        show.remedy(
            "Whatever can be shut or clog between pump and relief valve comes out.",
            sets={"relief_shut_off": False},
            mends="shut-off",
        )
    elif q.relief_outlet == "brine":
        show.remedy(
            "A hose of its own from the relief valve's outlet down to the bilge, open at its end.",
            sets={"relief_outlet": "open"},
            mends="outlet",
        )
