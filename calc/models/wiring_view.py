"""How a wired run is shown: tables, inverse answers, charts, the one-line drawing, notes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from ..equipment.choices import CHEMISTRIES, PROPOSE
from ..frame.inputs import Values
from ..frame.report import (
    FAILS,
    FITS,
    TIGHT_MARGIN,
    Amount,
    Axis,
    Chart,
    Line,
    Mark,
    Report,
    Series,
    amount,
    least,
    line,
    most,
)
from ..physics import conductors, protection, pumps
from ..physics.conductors import Conductor
from .cables import DECIDED, Cable, Duty, Side, fitting, neighbours, smallest
from .feed import Feed
from .guards import (
    BRANCH_DEVICES,
    FUSES,
    STRONGEST,
    Branch,
    breaker_guard,
    fuse_breaks,
    fuse_kind,
    motor_branch,
    overload_span,
    strongest,
    two_pole,
)
from .load import Load, rated_current
from .one_line import Part
from .supply import at_start, by_generator, source_reactance
from .water import Water
from .ways import again

FAMILY = {"us": "AWG", "iso": "mm²"}
FAMILIES = tuple(conductors.FAMILIES)
MOST_RUN = {"dc": 100.0, "ac": 200.0}  # m; the form takes no more
OVERLOAD_STEP = 0.1  # A; an overload relay's scale shows no less
LARGE = 2.5  # × full-load current, what NEC Table 430.52 gives a breaker
WORN = ("ampacity", "drop", "start-drop", "terminals", "start-volts")  # what a cable decides
ABYC_ENOUGH = 20e3  # A; ABYC E-11 asks for no more of a fuse, as quoted


def digits(value: float, limit: float) -> int:
    """Two say all that such a number is worth, but near its limit it has to be told apart."""
    return 3 if abs(value / limit - 1) < 0.1 else 2


def volts_at_start(q: Values, water: Water, duty: Duty, size: Conductor, run: float) -> float:
    """Share of its rated voltage that the motor at rest has behind a run of cable [m, one way].

    Fed by a generator, its dip and the cable's loss are of one circuit; any other supply holds its
    volts. A soft starter is taken to let all through, for what it holds back is
    `Water.start_torque`'s business: its current falls only once it has nothing left to hold.
    """
    reactance = source_reactance(q) if by_generator(q) else 0.0
    cable = 2 * run * complex(duty.ohms(size), duty.reactance(size))
    return math.sqrt(at_start(q, water, reactance, cable, held=False).torque_ratio)


def kept_at_start(q: Values, water: Water, duty: Duty, size: Conductor, run: float) -> float:
    """Torque [ratio] at the start behind a run of cable, over that at the volts on the plate."""
    given = water.start_torque(volts_at_start(q, water, duty, size, run))
    return given / water.start_torque(1.0)


# ---- tables and inverse answers ----


def sizes_table(q: Values, show: Report, sides: Sequence[Side], feed: Feed | None) -> None:
    """What each run wants, in gauges and in square millimetres, and what decided it."""
    rows: list[tuple[str | Line, ...]] = []
    spare = True
    for side in sides:
        duty = replace(side.duty, guard=side.duty.guard.right())
        found = [None if duty.hopeless else fitting(duty, family) for family in FAMILIES]
        ours = found[FAMILIES.index(FAMILY[q.wiring_rules])]
        if ours is None or does(duty, ours) != FITS:
            spare = False
        else:
            found = [cable if cable and does(duty, cable) == FITS else None for cable in found]
        why = DECIDED[ours.decided_by] if ours else "the bank" if duty.hopeless else "none does"
        rows.append(
            (
                duty.name.capitalize(),
                *(cable.name if cable else "none" for cable in found),
                why,
                guard_words(q, replace(side, duty=duty), ours, feed),
            )
        )
    show.table(
        "sizes",
        "The smallest that does" + (", with a tenth to spare" if spare else ""),
        ("Run", "AWG", "mm²", "What decided", "Fuse or breaker"),
        rows,
        lead=True,
    )


def guard_words(q: Values, side: Side, cable: Cable | None, feed: Feed | None) -> Line | str:
    """The fuse or breaker that goes with a cable."""
    duty = side.duty
    rating = cable and duty.guard.rating(duty.alone(cable.size))
    if not rating:
        return "none"
    kind = side.device
    if duty.key == "dc" and feed is not None:
        kind = fuse_kind(q, duty.guard, rating, feed.full_emf, feed.short_circuit)
        breaks = fuse_breaks(q, kind, feed.full_emf)
        if breaks is not None and breaks < feed.short_circuit:
            return line(
                "{r}, of a kind that breaks {s}", r=(rating, "A"), s=least(feed.short_circuit, "kA")
            )
        kind = FUSES[kind]
    return line("{r} {d}", r=(rating, "A"), d=kind)


def choices_table(show: Report, side: Side) -> None:
    """Thinner and thicker cables, each with the fuse or breaker that it would have."""
    duty, parallel = side.duty, side.cable.parallel
    rows, states = [], []
    for size in neighbours(duty, side.cable):
        carries = duty.ampacity(size, parallel)
        rating = duty.guard.rating(duty.alone(size))
        allowed = rating is not None and rating <= duty.guard.limit(duty.alone(size)) * (1 + 1e-9)
        states.append(duty.judged(size, parallel))
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
    name, word = (
        ("battery cable", "Fuse") if duty.key == "dc" else ("cable to the motor", "Breaker")
    )
    show.table(
        f"{duty.key}-choices",
        f"Thinner and thicker: the {name}",
        ("Size", "May carry", word, "Lost running", "At the start", "Heat", "Longest run"),
        rows,
        states,
        note="The longest run is by the volts lost alone.",
    )


def does(duty: Duty, cable: Cable) -> str:
    """How a cable would do on a run."""
    return duty.judged(cable.size, cable.parallel)


def remedies(
    q: Values, show: Report, sides: Sequence[Side], feed: Feed | None, water: Water
) -> None:
    """First what turns the verdict; how far a run reaches is a remedy only where all fits.

    Each holds when it is typed back in, as it is shown.
    """
    for side in sides:
        if not side.duty.hopeless:
            _other_cable(show, side)
            _other_guard(show, side)
            _surely_starts(show, side)
            _read_the_curve(show, side)
        if side.duty.key == "dc" and feed is not None and not side.duty.hopeless:
            kinds(q, show, side, feed)
            _nearer_fuse(q, show)
            _one_cable(show, side)
    _other_device(q, show, sides[-1], water)
    _other_overload(q, show, water)
    told = show.remedies if show.verdict == FITS else show.notes
    for side in sides:
        if not side.duty.hopeless:
            told += reaches(side)


def _other_cable(show: Report, side: Side) -> None:
    """The cable that would do better on its run, if one does; else what it would take instead."""
    duty = side.duty
    sized = replace(duty, guard=duty.guard.to_size_by())
    now = does(sized, side.cable)
    if now == FITS:
        return
    spare, _ = _worst_of_cable(show, side)
    other_guard = spare >= TIGHT_MARGIN  # the stated fuse or breaker is what this cable can't mend
    if other_guard and replace(duty.guard, stated=None).rating(side.alone) is not None:
        return
    own = side.cable.size.family
    families = sorted(FAMILIES, key=lambda family: family != own)
    better = next((c for c in (smallest(sized, family) for family in families) if c), None)
    if better is not None and other_guard:
        rating = sized.guard.rating(duty.alone(better.size)) or 0.0
        this = _this_cable(show, side, better)
        name = "fuse" if duty.key == "dc" else "breaker"
        show.remedy(
            "{c}: {size} with a {d} of {r} does, with a tenth to spare.",
            c=side.words,
            size=better.name,
            d=name,
            r=(rating, "A"),
            sets=this["sets"] | _this_guard(side, rating, name)["sets"],
            mends=name,
        )
        return
    if better is not None:
        show.remedy(
            "{c}: {size} does, with a tenth to spare.",
            c=side.words,
            size=better.name,
            **_this_cable(show, side, better),
        )
        return
    if now == FAILS and (some := fitting(sized, own)) is not None:
        show.remedy(
            "{c}: {size} does, though with less than a tenth to spare.",
            c=side.words,
            size=some.name,
            **_this_cable(show, side, some),
        )
    if duty.allowed_running(TIGHT_MARGIN) <= 0:
        plate = duty.voltage + duty.off
        show.remedy(
            "No cable leaves the motor a tenth of the band that it bears: the supply alone is {o} "
            "below the volts on its plate. More than {v} from the supply would.",
            o=(duty.off, "V"),
            v=least(plate - (1 - TIGHT_MARGIN) * duty.band, "V"),
        )
        return
    if not duty.spares_a_tenth:
        show.remedy(
            "No cable leaves the inverter a tenth above its cut-off: before any cable the bank is "
            "down to {v} at the start. One that keeps more than {w} would.",
            v=(duty.start_volts, "V"),
            w=least((1 + TIGHT_MARGIN) * duty.cut_off, "V"),
        )
        return
    far = duty.longest(side.cable.size, side.cable.parallel, TIGHT_MARGIN)
    if far < duty.run and does(replace(sized, run=far), side.cable) == FITS:
        show.remedy(
            "A shorter run: over {m} the {c}, {size}, has a tenth to spare.",
            m=most(far, "m"),
            c=duty.name,
            size=side.cable.name,
            **_this_cable(show, side, side.cable, run=amount(most(far, "m").value, "m", 9)),
        )


def _this_cable(show: Report, side: Side, cable: Cable, **more: Amount) -> dict[str, Any]:
    """What to fill in for another cable, and which figure of this side it mends."""
    key = side.duty.key
    sets: dict[str, Any] = {f"{key}_size": cable.size.name}
    if key == "dc":
        sets["dc_pairs"] = str(cable.parallel)
    sets |= {f"{key}_{name}": value for name, value in more.items()}
    return {"sets": sets, "mends": _worst_of_cable(show, side)[1]}


def _worst_of_cable(show: Report, side: Side) -> tuple[float, str]:
    """What is left of the figure that a cable decides and that is nearest to its limit, and which
    it is; a fuse or breaker that the cable leaves no room for is not among the figures."""
    name = "fuse" if side.duty.key == "dc" else "breaker"
    if side.rating is None:
        return -1.0, name
    keys = [f"{side.duty.key}-{what}" for what in WORN] + [f"{name}-cable"]
    if side.duty.guard.stated is None:
        keys += [name, f"{name}-start"]
    margins = [(f.margin, f.key) for f in show.figures if f.key in keys and f.margin is not None]
    return min(margins)


def _other_guard(show: Report, side: Side) -> None:
    """The fuse or breaker that would do better than the stated one."""
    guard = side.duty.guard
    if guard.stated is None or guard.spare(side.alone) >= TIGHT_MARGIN - 1e-9:
        return
    free = replace(guard, stated=None)
    rating = free.rating(side.alone)
    if rating and free.starts(rating) == "yes" and free.spare(side.alone) > guard.spare(side.alone):
        show.remedy(
            side.guard_word + " for the " + side.duty.name + ", {size}: {r} does.",
            size=side.cable.name,
            r=(rating, "A"),
            **_this_guard(side, rating, _worst_of_guard(show, side)),
        )


def _other_device(q: Values, show: Report, motor: Side, water: Water) -> None:
    """What else protects the motor's branch, where no rating of its device has a tenth to spare
    or nobody can tell whether it lets the start pass."""
    free = replace(motor.duty.guard, stated=None)
    rating = motor.rating
    sure = rating is not None and motor.duty.guard.starts(rating) == "yes"
    if q.wiring_rules != "us" or (sure and free.spare(motor.alone) >= TIGHT_MARGIN - 1e-9):
        return
    for device, word in BRANCH_DEVICES.items():
        form = again(q, branch_device=device, breaker=None)
        other = breaker_guard(form, motor_branch(form, water.load, water.rush))
        rating = other.rating(motor.alone)
        if (
            rating
            and other.spare(motor.alone) >= TIGHT_MARGIN - 1e-9
            and other.starts(rating) == "yes"
        ):
            sets: dict[str, Any] = {"branch_device": device, "breaker": amount(rating, "A")}
            if q.breaker_carries is not None:
                sets["breaker_carries"] = ""
            show.remedy(
                "In the motor's branch {d} of {r}.",
                d=word,
                r=(rating, "A"),
                sets=sets,
                mends=_worst_of_guard(show, motor) if sure else "breaker-start",
            )
            return


def _other_overload(q: Values, show: Report, water: Water) -> None:
    """Where the overload relay would be set right, with a tenth over the pump's draw if it can."""
    if q.overload is None:
        return
    span = overload_span(q, water.load)
    high = most(span.high, "A", OVERLOAD_STEP)
    if span.iec:
        if not span.runs <= q.overload <= span.high and span.runs <= high.value:
            show.remedy(
                "The overload relay set to the current on the motor's plate, {i}.",
                i=high,
                sets={"overload": amount(high.value, "A")},
                mends="overload" if q.overload > span.high else "overload-runs",
            )
        return
    for spare in (TIGHT_MARGIN, 0.0):
        low = least((1 + spare) * span.runs, "A", OVERLOAD_STEP)
        if low.value <= high.value:
            if not low.value <= q.overload <= high.value:
                show.remedy(
                    "The overload relay set from {a} to {b}.",
                    a=low,
                    b=high,
                    sets={"overload": amount(high.value, "A")},
                    mends="overload" if q.overload > high.value else "overload-runs",
                )
            return


def _worst_of_guard(
    show: Report, side: Side, of: Sequence[str] = ("", "-start", "-motor", "-cable")
) -> str:
    """Which of the figures of a fuse or breaker is the worst."""
    name = "fuse" if side.duty.key == "dc" else "breaker"
    keys = [name + ending for ending in of]
    margins = [(f.margin, f.key) for f in show.figures if f.key in keys and f.margin is not None]
    return min(margins)[1] if margins else name


def _this_guard(side: Side, rating: float, mends: str) -> dict[str, Any]:
    """What to fill in for another fuse or breaker [A]; a curve that was read is another's."""
    name = "fuse" if side.duty.key == "dc" else "breaker"
    sets: dict[str, Any] = {name: amount(rating, "A")}
    if side.duty.guard.curve is not None:
        sets[f"{name}_carries"] = ""
    return {"sets": sets, "mends": mends}


def _surely_starts(show: Report, side: Side) -> None:
    """The fuse or breaker that surely carries the start, where the stated one may not."""
    guard = side.duty.guard
    if guard.stated is None or guard.starts(guard.stated) != "maybe":
        return
    free = replace(guard, stated=None)
    rating = free.rating(side.alone)
    if rating and free.starts(rating) == "yes":
        show.remedy(
            side.guard_word + " for the " + side.duty.name + ", {size}: {r} surely carries "
            "the start.",
            size=side.cable.name,
            r=(rating, "A"),
            **_this_guard(side, rating, "fuse-start" if side.duty.key == "dc" else "breaker-start"),
        )


def _read_the_curve(show: Report, side: Side) -> None:
    """What the maker's curve has to say of a breaker whose standard settles nothing."""
    guard, rating = side.duty.guard, side.rating
    if side.duty.key != "ac" or rating is None or guard.starts(rating) != "maybe":
        return
    time = least(guard.start_time, "s")
    sets: dict[str, Any] = {"breaker_carries": time}
    if guard.stated is None:
        sets["breaker"] = amount(rating, "A")
    show.remedy(
        "{d} for the {c}, of {r}, that by its maker's curve carries {i} for {t} or more.",
        d=side.guard_word,
        c=side.duty.name,
        r=(rating, "A"),
        i=(guard.start, "A"),
        t=time,
        sets=sets,
        mends="breaker-start",
    )


def _one_cable(show: Report, side: Side) -> None:
    """Rather than many cables on each pole: the inverter nearer to the bank, or more volts."""
    duty, size = side.duty, conductors.FAMILIES[side.cable.size.family][-1]
    if side.cable.parallel < 2 or duty.too_thin(side.cable.size, side.cable.parallel):
        return
    near = most(duty.longest(size, 1, TIGHT_MARGIN), "m")
    far = ""
    if (
        near.value > 0
        and does(replace(duty, run=near.value, guard=duty.guard.right()), Cable(size, 1, ""))
        != FAILS
    ):
        far = (
            "The inverter nearer to the bank, though never in one space with lead-acid batteries, "
            "whose gas its sparks would light: over {m} a single {size} on each pole does. "
        )
    told = far + (
        "A bank of twice the volts halves the current, and a quarter of the copper loses the same "
        "share of them."
    )
    show.remedies.append(line(told, m=near, size=size.name) if far else line(told))


def _nearer_fuse(q: Values, show: Report) -> None:
    """Where a fuse that is far from its battery would sit right."""
    near = (1 - TIGHT_MARGIN) * protection.fuse_distance(q.fuse_sheathed)
    if q.fuse_distance > near:
        near = most(near, "mm").value
        show.remedy(
            "The fuse no farther than {d} from the battery's terminal, along the cable.",
            d=most(near, "mm"),
            mends="fuse-distance",
            sets={"fuse_distance": amount(near, "mm")},
        )


def reaches(side: Side) -> list[Line]:
    """How far this cable reaches, the smallest that does, and the fuse or breaker it may have."""
    duty, cable = side.duty, side.cable
    guard, told = duty.guard, []
    thin = duty.too_thin(cable.size, cable.parallel)
    if side.carries >= duty.wanted and guard.spare(side.alone) >= 0 and not thin:
        far = duty.longest(cable.size, cable.parallel)
        told.append(
            line(
                "The " + duty.name + ", {size}, reaches {most} one way; your run is {run}.",
                size=cable.name,
                most=most(min(far, MOST_RUN[duty.key]), "m"),
                run=(duty.run, "m"),
            )
        )
    bare = [smallest(duty, family, 0.0) for family in FAMILIES]
    names = [c.name for c in bare if c]
    if names:
        told.append(
            line(
                "The smallest " + duty.name + " that does at all: {names}.",
                names=" or ".join(names),
            )
        )
    span = guard.span(side.alone)
    if span and guard.starts(span[0]) == "yes":
        told.append(
            line(
                side.guard_word
                + " for the "
                + duty.name
                + ", {size}: "
                + ("from {low} to {high}." if span[0] < span[1] else "{low} and no other."),
                low=(span[0], "A"),
                high=(span[1], "A"),
                size=cable.name,
            )
        )
    return told


def kinds(q: Values, show: Report, side: Side, feed: Feed) -> None:
    """The kinds of fuse that would do, where the one that is there does not."""
    short = feed.short_circuit
    breaks = fuse_breaks(q, side.device, feed.full_emf)
    if side.rating is not None and short > STRONGEST and (breaks or 0.0) < short:
        parts, kind = math.ceil(short / STRONGEST - 1e-9), strongest(feed.full_emf)
        show.remedy(
            "No class of fuse listed here is sure to break {s}; a {k} breaks most, {b}. In {n} "
            "parts, each battery or string with such a fuse of its own, each part gives {p}. That, "
            "or a fuse that has more printed on it, is work for a licensed electrician.",
            s=amount(short, "kA", digits(STRONGEST, short)),
            b=(STRONGEST, "kA"),
            n=str(parts),
            k=FUSES[kind],
            p=least(short / parts, "kA"),
        )
        return
    if q.fuse_kind == PROPOSE:
        return
    guard = side.duty.guard
    for spare, words in ((0.0, ""), (TIGHT_MARGIN, " with a tenth to spare")):
        suit = [
            FUSES[kind]
            for kind in protection.CLASSES
            if protection.DEVICES[kind].interrupts(feed.full_emf) >= short * (1 + spare)
            and made_in(side, kind)
            and (
                guard.stated is None
                or replace(guard, devices=(kind,), curve=None).starts(guard.stated) == "yes"
            )
        ]
        own = _kind_does(side, feed, breaks, spare)
        if suit and not own and FUSES[q.fuse_kind] not in suit:
            sets: dict[str, Any] = {
                "fuse_kind": next(kind for kind, name in FUSES.items() if name == suit[0])
            }
            for of_another in ("fuse_breaks", "fuse_carries"):
                if getattr(q, of_another) is not None:
                    sets[of_another] = ""
            show.remedy(
                "Kind of fuse that does" + words + ": {kinds}.",
                kinds=" or ".join(suit),
                sets=sets,
                mends=_worst_of_guard(show, side, ("-volts", "-made", "-breaking", "-start")),
            )
            return


def _kind_does(side: Side, feed: Feed, breaks: float | None, spare: float) -> bool:
    """Whether the kind that is there breaks the short circuit and lets the start pass."""
    rating, sizes = side.rating, protection.DEVICES[side.device].ratings
    return (
        rating is not None
        and breaks is not None
        and breaks >= feed.short_circuit * (1 + spare)
        and sizes[0] <= rating <= sizes[-1]
        and side.duty.guard.starts(rating) == "yes"
    )


def made_in(side: Side, kind: str) -> bool:
    """Whether fuses of a class hold one for this cable, the stated one if there is one."""
    ratings = protection.DEVICES[kind].ratings
    guard = replace(side.duty.guard, made=ratings, devices=(kind,), curve=None)
    if guard.stated is not None:
        return guard.stated in ratings
    return guard.span(side.alone) is not None


# ---- charts ----


def reach(run: float, end: float) -> list[float]:
    """Lengths [m] for a chart: past this run, and past the end of the thinnest cable's reach."""
    far = max(1.5 * run, min(1.4 * end, 40 * run))
    return [i * far / 8 for i in range(9)]


def curves(side: Side) -> list[Conductor]:
    """The cable's size, the next thinner, and the next thicker or the first that does."""
    near = neighbours(side.duty, side.cable, 1, 1)
    return near if len(near) <= 3 else [*near[:2], near[-1]]


def start_volts_chart(show: Report, side: Side) -> None:
    """How long the battery cable may be before the inverter gives up at the start."""
    duty, parallel = side.duty, side.cable.parallel
    sizes = curves(side)
    spare = max(0.0, duty.start_volts - duty.cut_off)
    points = reach(duty.run, spare / duty.lost(sizes[0], parallel, True))
    series = [
        Series(size.name, [(run, duty.left_at_start(size, parallel, run)) for run in points])
        for size in sizes
    ]
    show.chart(
        Chart(
            "dc-start",
            "Volts at the inverter as the pump starts, by the length of the battery cable",
            Axis("Battery to inverter, one way", "m", low=0),
            Axis("Volts at the inverter", "V"),
            series,
            limits=[Mark("the inverter switches off", duty.cut_off)],
            marks=[Mark("your run", duty.run)],
            summary="Each curve falls in a straight line from the loaded bank's volts; a thinner "
            "or longer cable meets the line where the inverter switches off.",
        )
    )


def torque_chart(q: Values, show: Report, water: Water, side: Side) -> None:
    """Why too long is a stall: the torque left at the start by the length of the motor's cable."""
    duty, sizes = side.duty, curves(side)
    points = reach(duty.run, 0.1 * q.ac_voltage / duty.lost(sizes[0], 1, True))
    series = [
        Series(size.name, [(run, kept_at_start(q, water, duty, size, run)) for run in points])
        for size in sizes
    ]
    torque = water.load.at_work.torque
    loaded = pumps.starting_torque(torque, True) / pumps.starting_torque(torque, q.start_loaded)
    asked = loaded / water.start_torque(1.0)
    soft = water.softness is not None
    law = (
        "A soft starter holds its current and with it the torque, until so much is lost that it "
        "lets all through; from there each curve falls, sooner for a thinner cable."
        if soft
        else "Torque goes with the square of the volts: each curve falls faster than the volts do, "
        "and sooner for a thinner cable."
    )
    show.chart(
        Chart(
            "torque",
            "Torque left to the motor at the start, by the length of its cable",
            Axis("Inverter or panel to motor, one way", "m", low=0),
            Axis("Torque at the start", "%", low=0, high=1.2),
            series,
            limits=[
                *([] if soft else [Mark("90 % of its volts", 0.81)]),
                *([Mark("the pump against pressure", asked)] if asked <= 1.2 else []),
            ],
            marks=[Mark("your run", duty.run)],
            summary=law
            + (
                " Below the line for it the motor cannot turn a pump that stands under pressure."
                if asked <= 1.2
                else " A pump that stands under pressure asks for more than any of it."
            ),
        )
    )


def heat_chart(show: Report, side: Side) -> None:
    """Why too thin is a fire: the heat of each size against what its insulation can shed."""
    duty, parallel = side.duty, side.cable.parallel
    name = "battery cable" if duty.key == "dc" else "cable to the motor"
    family = [s for s in conductors.FAMILIES[side.cable.size.family] if s.area >= duty.least_area]
    bearable = [
        (s.area, replace(duty, current=duty.ampacity(s, parallel)).heat(s, parallel))
        for s in family
    ]
    show.chart(
        Chart(
            "heat",
            f"Heat from each metre of the {name}, by its copper",
            Axis(
                "Copper of one conductor", "mm2", low=family[0].area, high=family[-1].area, log=True
            ),
            Axis("Heat from each metre", "W/m", log=True),
            [
                Series("given off", [(s.area, duty.heat(s, parallel)) for s in family]),
                Series("bearable", bearable),
            ],
            marks=[Mark(side.cable.size.name, side.cable.size.area)],
            summary="The heat given off falls with more copper; what the insulation bears rises. "
            "Left of where the curves cross the cable gets hotter than its insulation bears.",
        )
    )


# ---- the one-line drawing ----


def guard_label(side: Side, word: str, kind: str = "") -> Line:
    """The fuse or breaker as the drawing names it; never a rating that the cable may not have."""
    if side.rating is None:
        return line(f"No {word}: {{m}} at most", m=most(side.limit, "A"))
    return line(word.capitalize() + " {r}" + kind, r=(side.rating, "A"))


def battery_parts(q: Values, feed: Feed, side: Side, fault: Line | str) -> list[Part]:
    """From the bank to the inverter, with what stands against that."""
    chemistry = CHEMISTRIES[q.bank_chemistry].rpartition("(")[2].rstrip(")")
    short = amount(feed.short_circuit, "kA", 2)
    breaks = fuse_breaks(q, side.device, feed.full_emf)
    place = line("lies {d} away", d=(q.fuse_distance, "mm"))
    if breaks is not None and breaks < feed.short_circuit:
        place = line("breaks {b} of {s}", b=(breaks, "kA"), s=short)
    return [
        Part(
            "battery",
            line("Bank {v}, {c}", v=(q.bank_voltage, "V"), c=(q.bank_capacity, "Ah")),
            line("{k}, {s} if shorted", k=chemistry.removeprefix("lead-acid, "), s=short),
            True,
        ),
        Part("fuse", guard_label(side, "fuse", f", {FUSES[side.device]}"), place),
        Part("switch", "Battery switch", line("for {r} all day", r=least(side.duty.wanted, "A"))),
        Part(
            "cable", f"{side.cable.name} on each pole", line("{l} one way", l=(side.duty.run, "m"))
        ),
        inverter_part(q, fault),
    ]


def inverter_part(q: Values, fault: Line | str) -> Part:
    """The inverter, with the mains on board that it is to give, or why it can't serve here."""
    return Part(
        "converter",
        line("Inverter {p}", p=(q.inverter_power, "VA")),
        fault or line("{v} {f}", v=(q.ac_voltage, "V"), f=(q.ac_frequency, "Hz")),
        True,
    )


def motor_parts(q: Values, side: Side, load: Load, starts: bool) -> list[Part]:
    """From the breaker, or the panel where there is no inverter, to the motor."""
    motor = q.unit.motor
    plate = rated_current(motor, q.ac_voltage)
    span = overload_span(q, load)
    overload = line(
        "Overload {o}" + ("" if span.iec else " at most"), o=most(span.high, "A", OVERLOAD_STEP)
    )
    if q.overload:
        overload = line("Overload {o}", o=(q.overload, "A"))
    panel = Part(
        "supply",
        line("Panel {v} {f}", v=(q.ac_voltage, "V"), f=(q.ac_frequency, "Hz")),
        "neutral to earth once",
        True,
    )
    word = "fuse" if "fuse" in side.device else "breaker"
    told = side.device.replace(word, "").strip()
    told = (
        f"{told}, with RCD"
        if q.wiring_rules == "iso"
        else f"{told}, GFCI by code".removeprefix(", ")
    )
    return [
        *([] if q.has_inverter else [panel]),
        Part("breaker", guard_label(side, word), told),
        Part(
            "cable",
            f"{side.cable.name} and its earth wire",
            line("{l} one way", l=(side.duty.run, "m")),
        ),
        Part("switch", "Two-pole isolator", "at the motor, lockable"),
        Part("overload", overload, "or the motor's protector"),
        Part(
            "motor",
            line("Motor {p}", p=(motor.rated_power, "W")),
            line("{a} on its plate", a=(plate, "A")) if starts else "can't start this pump",
            True,
        ),
    ]


# ---- what else to say ----


def notes(
    q: Values, show: Report, sides: Sequence[Side], feed: Feed | None, branch: Branch
) -> None:
    rules_notes(q, show, feed)
    show.note(
        "A two-pole breaker and isolator, or a fuse in each wire: here both wires of the branch "
        "may be live, for a plug goes in either way round or the supply has two live wires."
        if two_pole(q)
        else "A breaker in the live wire will do only where a polarised plug, or the inverter's "
        "own joint of neutral and earth, makes sure which wire that is. Where nothing does, take "
        "a two-pole one."
    )
    overload_note(show, sides[-1], branch)
    if feed is None:
        return
    inverter_short_note(q, show, sides[-1], feed)
    if sides[0].cable.parallel > 1:
        parallel_note(show, sides[0])
    show.note(
        "The neutral: on the inverter alone it must be joined to earth at the inverter, and "
        "parted from it when shore or a generator with a joint of its own feeds the boat. "
        "Look up whether yours does so by itself."
    )
    if not q.short_circuit:
        show.note(
            "The short-circuit current, {s}, is reckoned from a typical resistance of the "
            "chemistry. Lithium cells can give several times that before their electronics "
            "open; the battery maker's own figure goes first.",
            s=amount(feed.short_circuit, "kA", 2),
        )
    if q.wiring_rules == "us" and feed.short_circuit > ABYC_ENOUGH:
        show.note(
            "ABYC E-11, as quoted, asks for no more than a fuse that breaks {e}, even where the "
            "bank can give more. Here the fuse is held against what the bank can give.",
            e=(ABYC_ENOUGH, "kA"),
        )


def rules_notes(q: Values, show: Report, feed: Feed | None) -> None:
    """Which rules were used, and what of them was not seen."""
    insulations = {q.ac_insulation} | ({q.dc_insulation} if feed is not None else set())
    recalled = [
        t
        for t in sorted(insulations, key=float)
        if conductors.table_standing(float(t) + 273.15) != "published"
    ]
    if recalled:
        show.note(
            "The ampacity for {t} insulation is from memory: of 33 CFR 183.425 Table 5 only the "
            "105 °C column was seen in a source, and ISO 10133's table not at all. Check it "
            "against the regulation before you buy.",
            t=" and ".join(f"{t} °C" for t in recalled),
        )
    if q.wiring_rules == "us":
        show.note(
            "33 CFR 183 Subpart I is law for boats with petrol engines other than outboards; on "
            "others its tables are good practice. ABYC E-11 is voluntary and quoted here only "
            "where its text was seen. NEC Article 430 is written for land; it rules the motor's "
            "branch where your boat is wired to it, and its limits are shown beside those of "
            "33 CFR 183.455, the stricter of which decides."
        )
    else:
        show.note(
            "The tables of ISO 13297 (which has taken ISO 10133 in) could not be seen. In their "
            "stead: resistance by IEC 60228; for the drop the 3 % class of ISO 10133; as ampacity "
            "what 33 CFR 183.425 gives the next smaller gauge, which for 105 °C cable is no more "
            "than ISO 10133 gives, as far as we recall it, and for cable of 60 to 90 °C is cut "
            "down to what we recall; a fuse no larger than that ampacity; for its distance the 7 "
            "inches of 33 CFR 183.455; for the largest breaker of a motor 4 times its current, "
            "NEC 430.52; for how long a breaker carries the start IEC 60898-1; for the overload "
            "relay IEC 60947-4-1. Your surveyor has the standard: let it overrule these."
        )


def overload_note(show: Report, motor: Side, branch: Branch) -> None:
    """What a breaker that is large for its motor leaves to be protected otherwise."""
    rating = motor.rating
    if rating is None or motor.duty.guard.rules == "us" or rating <= LARGE * branch.basis:
        return
    show.note(
        "A breaker of {r} is {n} the motor's full-load current of {i}: it protects the cable only. "
        "The motor then needs an overload protection of its own, a thermal protector inside it or "
        "a motor-protection relay (IEC 60204-1 7.3 and IEC 60364-4-43, from memory).",
        r=(rating, "A"),
        n=amount(rating / branch.basis, "×", 2),
        i=(branch.basis, "A"),
    )


def inverter_short_note(q: Values, show: Report, motor: Side, feed: Feed) -> None:
    """That a breaker waits for more than an inverter gives into a short circuit."""
    rating = motor.rating
    given = max(feed.inverter.surge, feed.inverter.continuous) / q.ac_voltage
    kind = q.breaker_type if q.wiring_rules == "iso" else "C"
    holds, opened = protection.AT_ONCE[kind]
    opens = "yes" if rating is None else protection.opens_at_once(given, rating, kind)
    if rating is None or opens == "yes":
        return
    word = "fuse" if "fuse" in motor.device else "breaker"
    law = (
        f"A type {kind} breaker holds {holds:g} times its rating for a moment, here {{h}}, and is "
        f"sure to open at once only from {opened:g} times on, {{o}} (IEC 60898-1)"
        if q.wiring_rules == "iso"
        else f"A {word} opens at once only from some 5 to 10 times its rating on, here {{h}} to "
        "{o} (common practice, no source)"
    )
    show.note(
        "On the inverter a short circuit in the motor's branch "
        + ("will" if opens == "no" else "may")
        + f" not open the {word} at once. The inverter "
        "gives about {g} for a short while. " + law + ". There the inverter's own shut-down "
        "protects, and against a fault to earth the residual-current device (RCD, GFCI), which "
        "needs the neutral joined to earth as your local rules ask. Look up how your inverter "
        "shuts down on a short circuit, and have the RCD tested on the inverter too.",
        g=amount(given, "A", 2),
        h=(holds * rating, "A"),
        o=(opened * rating, "A"),
    )


def parallel_note(show: Report, side: Side) -> None:
    """Why one fuse for several cables goes by one of them."""
    show.note(
        "One fuse for all these cables may be of {a} at most, which is what one of them may have: "
        "if another's lug lets go, that one carries it all. With a fuse of its own at the bank "
        "each is protected likewise and together they may carry more; that is not reckoned here.",
        a=most(side.limit, "A"),
    )
