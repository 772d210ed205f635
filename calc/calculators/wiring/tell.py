"""The wiring in words: what to fit, tables of sizes, how far a cable reaches."""

from __future__ import annotations

from dataclasses import replace

from ...frame.report import FITS, Amount, Line, Report, amount, least, line, most
from ...system import bank_side
from ...system.bank_side import Feed
from ...system.cables import FAMILIES, Cable, Side, fitting, neighbours, smallest
from ...system.laid import Layout
from .._wires import CABLES, CABLES_HEAD, DECIDED, FUSES, device, device_head
from .guarded import breaks_too_little, digits, shorted
from .judge import state
from .remedies import does

MOST_RUN = {"dc": 100.0, "ac": 200.0}  # m; the form takes no more


# ---- what to fit, in one sentence each side; never a fuse that the cable may not have ----


def headlines(layout: Layout, show: Report) -> None:
    """What to fit on each side, and that it is sized for a pump which the inverter can't run."""
    if layout.bank is not None and layout.feed is not None:
        _bank_headline(layout, layout.feed, layout.bank, show)
    _motor_headline(layout, show)
    unfit = layout.too_hot or layout.too_weak
    if unfit and layout.bank is not None and layout.feed is not None:
        _all_the_same(layout.feed, layout.wired.for_all, show)


def _all_the_same(feed: Feed, for_all: bool, show: Report) -> None:
    """What cable and fuse are sized for where the inverter can't serve the pump."""
    if for_all and feed.full > feed.pump:
        show.headline(
            "These are sized all the same for all that this inverter gives, {f} from the bank "
            "running, of which the pump asks {a}; and for {b} at the pump's start, as if the "
            "inverter gave that. Another inverter may ask for another battery cable and fuse.",
            f=(feed.full, "A"),
            a=(feed.pump, "A"),
            b=(feed.start, "A"),
        )
        return
    show.headline(
        "These are sized for the pump all the same, {a} from the bank running and {b} at its "
        "start, as if the inverter gave it. Another inverter may ask for another battery cable "
        "and fuse."
        if for_all
        else "These are sized for the pump all the same, {a} from the bank running and {b} at "
        "its start, as if the inverter gave it.",
        a=(feed.pump, "A"),
        b=(feed.start, "A"),
    )


def _motor_headline(layout: Layout, show: Report) -> None:
    motor, word = layout.motor, device(layout.wired, layout.motor)
    fed = layout.wired.inverter is not None
    if motor.rating is None:
        show.headline(
            "{ac} from the inverter to the motor is not enough: no {device} both protects it and "
            "lets the motor run and start."
            if fed
            else "{ac} from the panel to the motor is not enough: no {device} both protects it and "
            "lets the motor run and start.",
            ac=motor.cable.name,
            device=word,
        )
        return
    guard = motor.duty.guard
    if guard.too_large:
        words = (
            "{ac} from the inverter to the motor; its {device}, {breaker}, is too large for this "
            "motor."
            if fed
            else "{ac} from the panel to the motor; its {device}, {breaker}, is too large for this "
            "motor."
        )
    elif guard.too_small or motor.opens:
        words = (
            "{ac} from the inverter to the motor; its {device}, {breaker}, is too small."
            if fed
            else "{ac} from the panel to the motor; its {device}, {breaker}, is too small."
        )
    else:
        words = (
            "{ac} from the inverter to the motor, its {device} rated {breaker}."
            if fed
            else "{ac} from the panel to the motor, its {device} rated {breaker}."
        )
    show.headline(words, ac=motor.cable.name, device=word, breaker=(motor.rating, "A"))


def _bank_headline(layout: Layout, feed: Feed, bank: Side, show: Report) -> None:
    asked = bank.duty.guard.least
    if bank.rating is not None:
        breaks = layout.wired.fuse.breaking(bank.device, feed.full_emf)
        fuse: Amount = amount(bank.rating, "A")
        if breaks is not None and breaks_too_little(layout):
            show.headline(
                "{dc} from the bank to the inverter and a fuse of {fuse}; but {kind} breaks {b} at "
                "the bank's volts, and a short circuit drives {s}.",
                dc=bank.cable.name,
                fuse=fuse,
                kind=FUSES[bank.device],
                b=(breaks, "kA"),
                s=shorted(feed, breaks),
            )
        elif bank.duty.guard.too_small or bank.opens:
            show.headline(
                "{dc} from the bank to the inverter; its fuse, {fuse}, is too small.",
                dc=bank.cable.name,
                fuse=fuse,
            )
        else:
            show.headline(
                "{dc} from the bank to the inverter, fused at {fuse} ({kind}).",
                dc=bank.cable.name,
                fuse=fuse,
                kind=FUSES[bank.device],
            )
        return
    show.headline(
        "{dc} is too thin between bank and inverter: no fuse both protects it, at most {most}, "
        "and passes the {least} that it has to carry."
        if bank.limit < asked
        else "There is no fuse for {dc} between bank and inverter: none is made from the {least} "
        "that it has to pass to the {most} that the cable may have.",
        dc=bank.cable.name,
        most=most(bank.limit, "A"),
        least=least(asked, "A"),
    )


# ---- tables ----


def sizes(layout: Layout, show: Report) -> None:
    """What each run wants, in gauges and in square millimetres, and what decided it."""
    rows: list[tuple[str | Line, ...]] = []
    spare = True
    for side in layout.sides:
        duty = replace(side.duty, guard=side.duty.guard.right())
        found = [None if duty.hopeless else fitting(duty, family) for family in FAMILIES]
        ours = found[FAMILIES.index(layout.wired.family)]
        if ours is None or does(duty, ours) != FITS:
            spare = False
        else:
            found = [cable if cable and does(duty, cable) == FITS else None for cable in found]
        why = DECIDED[ours.decided_by] if ours else "the bank" if duty.hopeless else "none does"
        rows.append(
            (
                CABLES_HEAD[duty.key],
                *(cable.name if cable else "none" for cable in found),
                why,
                _guard_words(layout, replace(side, duty=duty), ours),
            )
        )
    show.table(
        "sizes",
        "The smallest that does, with a tenth to spare" if spare else "The smallest that does",
        ("Run", "AWG", "mm²", "What decided", "Fuse or breaker"),
        rows,
        lead=True,
    )


def _guard_words(layout: Layout, side: Side, cable: Cable | None) -> Line | str:
    """The fuse or breaker that goes with a cable."""
    duty, feed = side.duty, layout.feed
    rating = cable and duty.guard.rating(duty.alone(cable.size))
    if not rating:
        return "none"
    if side.duty.key == "ac" or feed is None:
        return line("{r} {d}", r=(rating, "A"), d=device(layout.wired, side))
    kind = bank_side.fuse_kind(layout.wired, duty.guard, rating, feed)
    breaks = layout.wired.fuse.breaking(kind, feed.full_emf)
    if breaks is not None and breaks < feed.short_circuit:
        return line(
            "{r}, of a kind that breaks {s}", r=(rating, "A"), s=least(feed.short_circuit, "kA")
        )
    return line("{r} {d}", r=(rating, "A"), d=FUSES[kind])


_CHOICES = {
    "dc": "Thinner and thicker: the battery cable",
    "ac": "Thinner and thicker: the cable to the motor",
}
_GUARDS = {"dc": "Fuse", "ac": "Breaker"}


def choices(side: Side, show: Report) -> None:
    """Thinner and thicker cables, each with the fuse or breaker that it would have."""
    duty, parallel = side.duty, side.cable.parallel
    rows, states = [], []
    for size in neighbours(duty, side.cable):
        carries, alone = duty.ampacity(size, parallel), duty.alone(size)
        rating = duty.guard.rating(alone)
        allowed = rating is not None and rating <= duty.guard.limit(alone) * (1 + 1e-9)
        states.append(state(duty.spare(size, parallel)))
        lost = [
            amount(volts / duty.voltage, "%", digits(volts, bound))
            for volts, bound in (
                (duty.lost(size, parallel) * duty.run, duty.drop),
                (duty.lost(size, parallel, True) * duty.run, duty.start_drop),
            )
        ]
        rows.append(
            (
                Cable(size, parallel, "").name,
                (carries, "A"),
                (rating, "A") if rating and allowed else "none",
                *lost,
                amount(duty.heat(size, parallel), "W/m", 2),
                most(duty.longest(size, parallel), "m"),
            )
        )
    show.table(
        f"{duty.key}-choices",
        _CHOICES[duty.key],
        (
            "Size",
            "May carry",
            _GUARDS[duty.key],
            "Lost running",
            "At the start",
            "Heat",
            "Longest run",
        ),
        rows,
        states,
        note="The longest run is by the volts lost alone.",
    )


# ---- how far it reaches ----


def reaches(layout: Layout, show: Report) -> None:
    """How far each cable reaches, the smallest that does, the fuse or breaker it may have: among
    what can be done only where all fits."""
    found = [words for side in layout.sides for words in _reach(layout, side)]
    if show.verdict == FITS:
        show.remedies += found
    else:
        show.notes += found


def _reach(layout: Layout, side: Side) -> list[Line]:
    duty, cable = side.duty, side.cable
    if duty.hopeless:
        return []
    guard, name, words = duty.guard, CABLES[duty.key], []
    thin = duty.too_thin(cable.size, cable.parallel)
    if side.carries >= duty.wanted and guard.spare(side.alone) >= 0 and not thin:
        far = duty.longest(cable.size, cable.parallel)
        words.append(
            line(
                "The {c}, {size}, reaches {most} one way; your run is {run}.",
                c=name,
                size=cable.name,
                most=most(min(far, MOST_RUN[duty.key]), "m"),
                run=(duty.run, "m"),
            )
        )
    bare = [found.name for family in FAMILIES if (found := smallest(duty, family, 0.0))]
    if bare:
        words.append(
            line(
                "The smallest {c} that does at all: {a} or {b}."
                if len(bare) > 1
                else "The smallest {c} that does at all: {a}.",
                c=name,
                a=bare[0],
                b=bare[-1],
            )
        )
    span = guard.span(side.alone)
    if span and guard.starts(span[0]) == "yes":
        words.append(
            line(
                "{d} for the {c}, {size}: from {low} to {high}."
                if span[0] < span[1]
                else "{d} for the {c}, {size}: {low} and no other.",
                d=device_head(layout.wired, side),
                c=name,
                size=cable.name,
                low=(span[0], "A"),
                high=(span[1], "A"),
            )
        )
    return words
