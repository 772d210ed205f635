"""Fuse, breaker and overload relay against their limits, as figures."""

from __future__ import annotations

from typing import Any

from ...frame.report import Amount, Line, Report, amount, least, line, most
from ...physics import protection
from ...system import motor_side
from ...system.bank_side import Feed
from ...system.cables import Side
from ...system.guards import Guard
from ...system.laid import Layout
from .._wires import CABLES, FUSES, device, device_head, field

OVERLOAD_STEP = 0.1  # A; an overload relay's scale shows no less


def digits(value: float, limit: float) -> int:
    """Two say all that such a number is worth, but near its limit it has to be told apart."""
    return 3 if abs(value / limit - 1) < 0.1 else 2


def shorted(feed: Feed, breaks: float) -> Amount:
    """The bank's short-circuit current, as a fuse that breaks so much [A] is held against it."""
    return amount(feed.short_circuit, "kA", digits(breaks, feed.short_circuit))


def _no_guard(layout: Layout, side: Side, show: Report) -> None:
    """Says why nothing both protects a cable and passes what it has to."""
    guard = side.duty.guard
    allowed = guard.most(side.alone)
    show.fail(
        f"no-{field(side)}",
        "the {c}, {s}, may have a {d} of {m} at most, and {w} must pass it"
        if allowed < guard.least
        else "no {d} is made from the {w} that must pass it to the {m} that the {c}, {s}, may have",
        c=CABLES[side.duty.key],
        s=side.cable.name,
        d=device(layout.wired, side),
        m=most(allowed, "A"),
        w=least(guard.least, "A"),
    )


def _too_little(side: Side, word: str, rating: float) -> Line:
    """Why a stated fuse or breaker will not do, and from which size on one does."""
    guard = side.duty.guard
    span = guard.span(side.alone)
    if span is None:
        return line(
            "the {d} is {f}, smaller than the {w} that must pass it",
            d=word,
            f=(rating, "A"),
            w=least(guard.least, "A"),
        )
    return line(
        "the {d} is {f}, smaller than the {w} that must pass it; {r} or more does",
        d=word,
        f=(rating, "A"),
        w=least(guard.least, "A"),
        r=(span[0], "A"),
    )


def fuse(side: Side, show: Report) -> None:
    """The fuse against what must pass it."""
    rating, asked = side.rating, side.duty.guard.least
    if rating is None:
        return
    show.figure(
        "fuse",
        "Fuse",
        rating,
        "A",
        at_least=asked,
        safe_limit=True,
        says=_too_little(side, "fuse", rating)
        if side.duty.guard.too_small
        else line("the fuse is {f}, and {w} must pass it", f=(rating, "A"), w=least(asked, "A")),
    )


def fuse_at_its_place(layout: Layout, feed: Feed, side: Side, show: Report) -> None:
    """The fuse against its cable, the short circuit, the volts, the start and its place."""
    fuse, rating = layout.wired.fuse, side.rating
    if rating is None:
        _no_guard(layout, side, show)
    else:
        show.figure(
            "fuse-cable",
            "Fuse, as the cable's protection",
            rating,
            "A",
            at_most=side.limit,
            safe_limit=True,
            note="of a single one of them" if side.cable.parallel > 1 else "",
            says=line(
                "the fuse is {f}, and the cable may have {m} at most",
                f=(rating, "A"),
                m=most(side.limit, "A"),
            ),
        )
        _kind(layout, feed, side, rating, show)
        _start(layout, side, side.judged, rating, show)
    distance = protection.fuse_distance(fuse.sheathed)
    show.figure(
        "fuse-distance",
        "Fuse from the battery",
        fuse.distance,
        "mm",
        at_most=distance,
        safe_limit=True,
        says=line(
            "the fuse sits {d} from the battery; {m} is the most",
            d=(fuse.distance, "mm"),
            m=most(distance, "mm"),
        ),
    )


def _kind(layout: Layout, feed: Feed, side: Side, rating: float, show: Report) -> None:
    """Whether the kind of fuse is made for this voltage and rating and breaks the short circuit."""
    made, name, fuse = protection.DEVICES[side.device], FUSES[side.device], layout.wired.fuse
    breaks = fuse.breaking(side.device, feed.full_emf)
    smallest, largest = made.ratings[0], made.ratings[-1]
    if breaks is None:
        show.unknown(
            "fuse-breaks",
            "a short circuit drives {s}, and no standard says what a terminal fuse breaks: look "
            "what is printed on yours for direct current of {v} or more, and fill it in",
            s=(feed.short_circuit, "kA"),
            v=(feed.full_emf, "V"),
        )
        return
    if not breaks:
        show.figure(
            "fuse-volts",
            line("Fuse ({k}) is made for", k=name),
            made.highest_voltage,
            "V",
            at_least=feed.full_emf,
            note=made.source,
            says=line(
                "the fuse, {k}, is made for {v}, and the full bank holds {b}: it may not "
                "break at all",
                k=name,
                v=(made.highest_voltage, "V"),
                b=(feed.full_emf, "V"),
            ),
        )
    if made.breaks is not None and not smallest <= rating <= largest:
        bound = {"at_most": largest} if rating > largest else {"at_least": smallest}
        show.figure(
            "fuse-made",
            line("Fuse, of the sizes of a {k}", k=name),
            rating,
            "A",
            **bound,
            note=made.source,
            says=line(
                "the fuse, {k}, is made from {a} to {b}; {r} is not among them",
                k=name,
                a=(smallest, "A"),
                b=(largest, "A"),
                r=(rating, "A"),
            ),
        )
    if breaks:
        short = shorted(feed, breaks)
        show.figure(
            "fuse-breaking",
            "Fuse can break a short circuit of",
            breaks,
            "kA",
            at_least=feed.short_circuit,
            note=line("{k}, as printed on it", k=name)
            if fuse.printed
            else line("{k}, {source}", k=name, source=made.source),
            digits=short.digits,
            says=line(
                "a short circuit drives {s}, and the fuse, {k}, breaks {b}",
                s=short,
                k=name,
                b=(breaks, "kA"),
            ),
        )


def _start(layout: Layout, side: Side, guard: Guard, rating: float, show: Report) -> None:
    """Whether the fuse or breaker lets the start pass: surely, surely not, or nobody can tell."""
    passes, word, key = guard.starts(rating), device(layout.wired, side), field(side)
    told: dict[str, Any] = {
        "d": word,
        "r": (rating, "A"),
        "i": (guard.start, "A"),
        "t": (guard.start_time, "s"),
    }
    if passes == "maybe":
        show.unknown(
            f"{key}-start",
            "no standard settles whether the {d} of {r} lets the start pass, {i} for {t}: read on "
            "its maker's curve how long it carries that, and fill in its size and that time",
            **told,
        )
        return
    surely = passes == "yes"
    time = guard.carried(rating) if surely else guard.opens_within(rating)
    if surely and guard.start <= rating:
        return  # it never notices
    show.figure(
        f"{key}-start",
        line(
            "{d} carries the start for, surely"
            if surely
            else "{d} carries the start for, at the most",
            d=device_head(layout.wired, side),
        ),
        time,
        "s",
        at_least=guard.start_time,
        note=_start_source(guard, rating),
        says=line(
            "the {d} of {r} carries the start, {i}, for {c}; it lasts {t}", c=(time, "s"), **told
        ),
    )


def _start_source(guard: Guard, rating: float) -> str:
    """Where the time comes from that a fuse or breaker carries the start."""
    if guard.read_at(rating):
        return "as you read it on its curve"
    (kind,) = guard.devices
    if kind in protection.AT_ONCE:
        return "IEC 60898-1, warm from the run before"
    return protection.MELT_SOURCES[kind]


def breaker(layout: Layout, show: Report) -> None:
    """The branch's breaker or fuse against what must pass it."""
    side, asked = layout.motor, layout.branch.conductor
    rating, word = side.rating, device(layout.wired, side)
    if rating is None:
        return
    show.figure(
        "breaker",
        line("{d} of the motor's branch", d=device_head(layout.wired, side)),
        rating,
        "A",
        at_least=asked,
        safe_limit=True,
        says=_too_little(side, word, rating)
        if side.duty.guard.too_small
        else line(
            "the {d} is {r}; running for hours asks for {w}",
            d=word,
            r=(rating, "A"),
            w=least(asked, "A"),
        ),
    )


def breaker_at_its_place(layout: Layout, show: Report) -> None:
    """The branch's breaker or fuse against the start, its motor and its cable."""
    side, branch = layout.motor, layout.branch
    rating, guard = side.rating, side.duty.guard
    if rating is None:
        _no_guard(layout, side, show)
        return
    word, head = device(layout.wired, side), device_head(layout.wired, side)
    _start(layout, side, guard, rating, show)
    us = guard.rules == "us"
    show.figure(
        "breaker-motor",
        line("{d}, as the motor's protection", d=head),
        rating,
        "A",
        at_most=branch.ceiling,
        safe_limit=True,
        note="NEC Table 430.52" if us else "4 times its current, borrowed from NEC 430.52",
        says=line(
            "the {d} is {r}; NEC 430.52 allows {m}",
            d=word,
            r=(rating, "A"),
            m=most(branch.ceiling, "A"),
        )
        if us
        else line(
            "the {d} is {r}, {n} the motor's {i}, and protects the cable alone; {m} is the most "
            "here",
            d=word,
            r=(rating, "A"),
            n=(rating / branch.basis, "×"),
            i=(branch.basis, "A"),
            m=most(branch.ceiling, "A"),
        ),
    )
    show.figure(
        "breaker-cable",
        line("{d}, as the cable's protection", d=head),
        rating,
        "A",
        at_most=side.limit,
        safe_limit=True,
        says=line(
            "the {d} is {r}; the cable may have {m} at most",
            d=word,
            r=(rating, "A"),
            m=most(side.limit, "A"),
        ),
    )


BY_IEC = "the plate's current, IEC 60947-4-1"
BY_NEC = "NEC (NFPA 70) 430.32(A)(1) on the plate's current"


def overload(layout: Layout, show: Report) -> None:
    """The overload relay: an IEC one is set to the plate's current, a US one may stand higher."""
    span, setting = (
        motor_side.overload_span(layout.wired, layout.water),
        layout.wired.branch.overload,
    )
    by = BY_IEC if span.iec else BY_NEC
    if setting is None:
        show.figure(
            "overload",
            "Set an overload relay to" if span.iec else "Set an overload relay to no more than",
            most(span.high, "A", OVERLOAD_STEP).value,
            "A",
            note=by,
        )
        return
    # a setting is right or wrong: it has no margin to keep from its mark
    show.figure(
        "overload",
        "Overload relay set to",
        setting,
        "A",
        at_most=span.high,
        safe_limit=True,
        decides=setting > span.high * (1 + 1e-9),
        note=by,
        says=line(
            "the overload relay is set to {o}; {m} is the most, by {rule}",
            o=(setting, "A"),
            m=most(span.high, "A"),
            rule=by,
        ),
    )
    show.figure(
        "overload-runs",
        "Overload relay, for the pump to run on it",
        setting,
        "A",
        at_least=span.runs,
        safe_limit=True,
        decides=not span.iec or setting < span.runs,
        says=line(
            "the overload relay is set to {o}, and the motor draws {i}: it opens while the "
            "pump works",
            o=(setting, "A"),
            i=least(span.runs, "A"),
        ),
    )


def breaks_too_little(layout: Layout) -> bool:
    """Whether the fuse at the bank is sure not to break the bank's short circuit."""
    if layout.feed is None or layout.bank is None:
        return False
    breaks = layout.wired.fuse.breaking(layout.bank.device, layout.feed.full_emf)
    return breaks is not None and breaks < layout.feed.short_circuit
