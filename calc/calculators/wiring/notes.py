"""What else is said of the wiring: which rules, poles, short circuits, earth."""

from __future__ import annotations

from ...frame.report import Report, amount, line, most
from ...physics import protection
from ...system.bank_side import Feed
from ...system.laid import Layout
from .._wires import breaks_by_fuse

LARGE = 2.5  # × full-load current, what NEC Table 430.52 gives a breaker
ABYC_ENOUGH = 20e3  # A; ABYC E-11 asks for no more of a fuse, as quoted


def tell(layout: Layout, show: Report) -> None:
    """All that is noted."""
    wired, feed, bank = layout.wired, layout.feed, layout.bank
    _rules(layout, show)
    show.note(
        "A two-pole breaker and isolator, or a fuse in each wire: here both wires of the branch "
        "may be live, for a plug goes in either way round or the supply has two live wires."
        if wired.two_pole
        else "A breaker in the live wire will do only where a polarised plug, or the inverter's "
        "own joint of neutral and earth, makes sure which wire that is. Where nothing does, take "
        "a two-pole one."
    )
    _overload(layout, show)
    if feed is None or bank is None:
        return
    _short_on_inverter(layout, feed, show)
    if bank.cable.parallel > 1:
        show.note(
            "One fuse for all these cables may be of {a} at most, which is what one of them may "
            "have: if another's lug lets go, that one carries it all. With a fuse of its own at "
            "the bank each is protected likewise and together they may carry more; that is not "
            "reckoned here.",
            a=most(bank.limit, "A"),
        )
    show.note(
        "The neutral: on the inverter alone it must be joined to earth at the inverter, and "
        "parted from it when shore or a generator with a joint of its own feeds the boat. "
        "Look up whether yours does so by itself."
    )
    if not wired.short_circuit:
        show.note(
            "The short-circuit current, {s}, is reckoned from a typical resistance of the "
            "chemistry. Lithium cells can give several times that before their electronics "
            "open; the battery maker's own figure goes first.",
            s=amount(feed.short_circuit, "kA", 2),
        )
    if wired.rules == "us" and feed.short_circuit > ABYC_ENOUGH:
        show.note(
            "ABYC E-11, as quoted, asks for no more than a fuse that breaks {e}, even where the "
            "bank can give more. Here the fuse is held against what the bank can give.",
            e=(ABYC_ENOUGH, "kA"),
        )


def _rules(layout: Layout, show: Report) -> None:
    """Which rules were used, and what of them was not seen."""
    duties = [side.duty for side in layout.sides]
    recalled = sorted({duty.celsius for duty in duties if not duty.column_seen})
    if recalled:
        show.note(
            "The ampacity for {a} °C and {b} °C insulation is from memory: of 33 CFR 183.425 Table "
            "5 only the 105 °C column was seen in a source, and ISO 10133's table not at all. "
            "Check it against the regulation before you buy."
            if len(recalled) > 1
            else "The ampacity for {a} °C insulation is from memory: of 33 CFR 183.425 Table 5 "
            "only the 105 °C column was seen in a source, and ISO 10133's table not at all. Check "
            "it against the regulation before you buy.",
            a=recalled[0],
            b=recalled[-1],
        )
    show.note(
        "33 CFR 183 Subpart I is law for boats with petrol engines other than outboards; on "
        "others its tables are good practice. ABYC E-11 is voluntary and quoted here only "
        "where its text was seen. NEC Article 430 is written for land; it rules the motor's "
        "branch where your boat is wired to it, and its limits are shown beside those of "
        "33 CFR 183.455, the stricter of which decides."
        if layout.wired.rules == "us"
        else "The tables of ISO 13297 (which has taken ISO 10133 in) could not be seen. In their "
        "stead: resistance by IEC 60228; for the drop the 3 % class of ISO 10133; as ampacity "
        "what 33 CFR 183.425 gives the next smaller gauge, which for 105 °C cable is no more "
        "than ISO 10133 gives, as far as we recall it, and for cable of 60 to 90 °C is cut "
        "down to what we recall; a fuse no larger than that ampacity; for its distance the 7 "
        "inches of 33 CFR 183.455; for the largest breaker of a motor 4 times its current, "
        "NEC 430.52; for how long a breaker carries the start IEC 60898-1; for the overload "
        "relay IEC 60947-4-1. Your surveyor has the standard: let it overrule these."
    )


def _overload(layout: Layout, show: Report) -> None:
    """What a breaker that is large for its motor leaves to be protected otherwise."""
    rating, basis = layout.motor.rating, layout.branch.basis
    if rating is None or layout.wired.rules == "us" or rating <= LARGE * basis:
        return
    show.note(
        "A breaker of {r} is {n} the motor's full-load current of {i}: it protects the cable only. "
        "The motor then needs an overload protection of its own, a thermal protector inside it or "
        "a motor-protection relay (IEC 60204-1 7.3 and IEC 60364-4-43, from memory).",
        r=(rating, "A"),
        n=amount(rating / basis, "×", 2),
        i=(basis, "A"),
    )


_SHORT = {
    "no": "On the inverter a short circuit in the motor's branch will not open the {w} at once. "
    "The inverter gives about {g} for a short while. {law} There the inverter's own shut-down "
    "protects, and against a fault to earth the residual-current device (RCD, GFCI), which "
    "needs the neutral joined to earth as your local rules ask. Look up how your inverter "
    "shuts down on a short circuit, and have the RCD tested on the inverter too.",
    "maybe": "On the inverter a short circuit in the motor's branch may not open the {w} at once. "
    "The inverter gives about {g} for a short while. {law} There the inverter's own shut-down "
    "protects, and against a fault to earth the residual-current device (RCD, GFCI), which "
    "needs the neutral joined to earth as your local rules ask. Look up how your inverter "
    "shuts down on a short circuit, and have the RCD tested on the inverter too.",
}


def _short_on_inverter(layout: Layout, feed: Feed, show: Report) -> None:
    """That a breaker waits for more than an inverter gives into a short circuit."""
    wired, rating = layout.wired, layout.motor.rating
    if rating is None:
        return
    given = max(feed.inverter.surge, feed.inverter.continuous) / wired.mains.voltage
    kind = wired.branch.device if wired.rules == "iso" else "C"
    holds, opened = protection.AT_ONCE[kind]
    opens = protection.opens_at_once(given, rating, kind)
    if opens == "yes":
        return
    word = "fuse" if breaks_by_fuse(wired) and wired.rules == "us" else "breaker"
    law = line(
        "A type {k} breaker holds {x} times its rating for a moment, here {h}, and is sure to open "
        "at once only from {y} times on, {o} (IEC 60898-1)."
        if wired.rules == "iso"
        else "A {w} opens at once only from some 5 to 10 times its rating on, here {h} to {o} "
        "(common practice, no source).",
        k=kind,
        w=word,
        x=round(holds),
        y=round(opened),
        h=(holds * rating, "A"),
        o=(opened * rating, "A"),
    )
    show.note(_SHORT[opens], w=word, g=amount(given, "A", 2), law=law)
