"""What would make the wiring fit: another cable, fuse, breaker, place or setting, each tried."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from ...frame.report import FAILS, FITS, Figure, Report, amount, least, most
from ...physics import conductors, protection
from ...physics.roots import fewest_that_do
from ...sheet.wiring import BRANCH_DEVICES
from ...system import bank_side, motor_side
from ...system.bank_side import Feed
from ...system.cables import FAMILIES, Cable, Duty, Side, fitting, smallest
from ...system.guards import STRONGEST, TENTH
from ...system.laid import Layout
from ...system.on_generator import GREATEST_DIP, MOST_STEPS, POWER_STEP
from .._wires import CABLES, CABLES_HEAD, FUSES, device, device_head, field
from .guarded import OVERLOAD_STEP, digits
from .judge import state

WORN = ("ampacity", "drop", "start-drop", "terminals", "start-volts")  # what a cable decides


@dataclass(frozen=True)
class Found:
    """A layout as it was judged: a remedy names the figure that it mends."""

    layout: Layout
    figures: Sequence[Figure]

    def worst(self, keys: Sequence[str]) -> tuple[float, str]:
        """What is left of the one nearest to its limit among figures, and which it is."""
        margins = [
            (f.margin, f.key) for f in self.figures if f.key in keys and f.margin is not None
        ]
        return min(margins, default=(math.inf, keys[0]))

    def of_cable(self, side: Side) -> tuple[float, str]:
        """The worst of what a cable decides; a fuse or breaker that it leaves no room for is not
        among the figures."""
        name = field(side)
        if side.rating is None:
            return -1.0, name
        keys = [f"{side.duty.key}-{what}" for what in WORN] + [f"{name}-cable"]
        if side.duty.guard.stated is None:
            keys += [name, f"{name}-start"]
        return self.worst(keys)

    def of_guard(self, side: Side, *of: str) -> str:
        """Which of the figures of a fuse or breaker is the worst."""
        return self.worst([field(side) + ending for ending in of])[1]


def told(layout: Layout, show: Report) -> None:
    """First what turns the verdict; each holds when it is typed back in, as it is shown."""
    found = Found(layout, tuple(show.figures))
    for side in layout.sides:
        if side.duty.hopeless:
            continue
        _other_cable(found, side, show)
        _other_guard(found, side, show)
        _surely_starts(found, side, show)
        _read_the_curve(found, side, show)
        if side is layout.bank and layout.feed is not None:
            _kinds(found, layout.feed, side, show)
            _nearer_fuse(layout, show)
            _one_cable(side, show)
    _larger_generator(layout, show)
    _other_device(found, show)
    _other_overload(layout, show)


def does(duty: Duty, cable: Cable) -> str:
    """How a cable would do on a run."""
    return state(duty.spare(cable.size, cable.parallel))


# ---- the cable ----


def _other_cable(found: Found, side: Side, show: Report) -> None:
    """The cable that would do better on its run, if one does; else what it would take instead."""
    duty, key = side.duty, side.duty.key
    sized = replace(duty, guard=duty.guard.to_size_by())
    now = does(sized, side.cable)
    if now == FITS:
        return
    spare, worst = found.of_cable(side)
    other_guard = spare >= TENTH  # the stated fuse or breaker is what this cable can't mend
    if other_guard and replace(duty.guard, stated=None).rating(side.alone) is not None:
        return
    own = side.cable.size.family
    families = sorted(FAMILIES, key=lambda family: family != own)
    better = next((c for c in (smallest(sized, family) for family in families) if c), None)
    if better is not None and other_guard:
        _cable_and_guard(found, side, better, show)
    elif better is not None:
        show.remedy(
            "{c}: {size} does, with a tenth to spare.",
            c=CABLES_HEAD[key],
            size=better.name,
            sets=_sets_cable(side, better),
            mends=worst,
        )
    else:
        if now == FAILS and (some := fitting(sized, own)) is not None:
            show.remedy(
                "{c}: {size} does, though with less than a tenth to spare.",
                c=CABLES_HEAD[key],
                size=some.name,
                sets=_sets_cable(side, some),
                mends=worst,
            )
        _instead_of_cable(side, sized, worst, show)


def _cable_and_guard(found: Found, side: Side, better: Cable, show: Report) -> None:
    """A cable that may have the fuse or breaker which must be there in place of the stated one."""
    free = replace(side.duty.guard, stated=None)
    rating = free.rating(side.duty.alone(better.size)) or 0.0
    show.remedy(
        "{c}: {size} with a {d} of {r} does, with a tenth to spare.",
        c=CABLES_HEAD[side.duty.key],
        size=better.name,
        d=device(found.layout.wired, side),
        r=(rating, "A"),
        sets=_sets_cable(side, better) | _sets_guard(side, rating),
        mends=field(side),
    )


def _instead_of_cable(side: Side, sized: Duty, worst: str, show: Report) -> None:
    """What it would take where no cable leaves a tenth."""
    duty, cable = side.duty, side.cable
    if duty.allowed_running(TENTH) <= 0:
        plate = duty.voltage + duty.off
        show.remedy(
            "No cable leaves the motor a tenth of the band that it bears: the supply alone is {o} "
            "below the volts on its plate. More than {v} from the supply would.",
            o=(duty.off, "V"),
            v=least(plate - (1 - TENTH) * duty.band, "V"),
        )
        return
    if not duty.spares_a_tenth:
        show.remedy(
            "No cable leaves the inverter a tenth above its cut-off: before any cable the bank is "
            "down to {v} at the start. One that keeps more than {w} would.",
            v=(duty.start_volts, "V"),
            w=least((1 + TENTH) * duty.cut_off, "V"),
        )
        return
    far = duty.longest(cable.size, cable.parallel, TENTH)
    if far < duty.run and does(replace(sized, run=far), cable) == FITS:
        run = most(far, "m")
        show.remedy(
            "A shorter run: over {m} the {c}, {size}, has a tenth to spare.",
            m=run,
            c=CABLES[duty.key],
            size=cable.name,
            sets=_sets_cable(side, cable) | {f"{duty.key}_run": amount(run.value, "m", 9)},
            mends=worst,
        )


def _sets_cable(side: Side, cable: Cable) -> dict[str, Any]:
    """What to fill in for another cable."""
    sets: dict[str, Any] = {f"{side.duty.key}_size": cable.size.name}
    if side.duty.key == "dc":
        sets["dc_pairs"] = str(cable.parallel)
    return sets


def _one_cable(side: Side, show: Report) -> None:
    """Rather than many cables on each pole: the inverter nearer to the bank, or more volts."""
    duty, size = side.duty, conductors.FAMILIES[side.cable.size.family][-1]
    if side.cable.parallel < 2 or duty.too_thin(side.cable.size, side.cable.parallel):
        return
    near = most(duty.longest(size, 1, TENTH), "m")
    alone = replace(duty, run=near.value, guard=duty.guard.right())
    if near.value > 0 and alone.does(size, 1):
        show.remedy(
            "The inverter nearer to the bank, though never in one space with lead-acid batteries, "
            "whose gas its sparks would light: over {m} a single {size} on each pole does. A bank "
            "of twice the volts halves the current, and a quarter of the copper loses the same "
            "share of them.",
            m=near,
            size=size.name,
        )
    else:
        show.remedy(
            "A bank of twice the volts halves the current, and a quarter of the copper loses the "
            "same share of them."
        )


# ---- fuse and breaker ----


def _sets_guard(side: Side, rating: float) -> dict[str, Any]:
    """What to fill in for another fuse or breaker [A]; a curve that was read is another's."""
    name = field(side)
    sets: dict[str, Any] = {name: amount(rating, "A")}
    if side.duty.guard.curve is not None:
        sets[f"{name}_carries"] = ""
    return sets


def _other_guard(found: Found, side: Side, show: Report) -> None:
    """The fuse or breaker that would do better than the stated one."""
    guard = side.duty.guard
    if guard.stated is None or guard.spare(side.alone) >= TENTH - 1e-9:
        return
    free = replace(guard, stated=None)
    rating = free.rating(side.alone)
    if rating and free.starts(rating) == "yes" and free.spare(side.alone) > guard.spare(side.alone):
        show.remedy(
            "{d} for the {c}, {size}: {r} does.",
            d=device_head(found.layout.wired, side),
            c=CABLES[side.duty.key],
            size=side.cable.name,
            r=(rating, "A"),
            sets=_sets_guard(side, rating),
            mends=found.of_guard(side, "", "-start", "-motor", "-cable"),
        )


def _surely_starts(found: Found, side: Side, show: Report) -> None:
    """The fuse or breaker that surely carries the start, where the stated one may not."""
    guard = side.duty.guard
    if guard.stated is None or side.judged.starts(guard.stated) != "maybe":
        return
    free = replace(guard, stated=None)
    rating = free.rating(side.alone)
    if rating and free.starts(rating) == "yes":
        show.remedy(
            "{d} for the {c}, {size}: {r} surely carries the start.",
            d=device_head(found.layout.wired, side),
            c=CABLES[side.duty.key],
            size=side.cable.name,
            r=(rating, "A"),
            sets=_sets_guard(side, rating),
            mends=f"{field(side)}-start",
        )


def _read_the_curve(found: Found, side: Side, show: Report) -> None:
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
        d=device_head(found.layout.wired, side),
        c=CABLES[side.duty.key],
        r=(rating, "A"),
        i=(guard.start, "A"),
        t=time,
        sets=sets,
        mends="breaker-start",
    )


def _other_device(found: Found, show: Report) -> None:
    """What else protects the motor's branch, where no rating of its device has a tenth to spare
    or nobody can tell whether it lets the start pass."""
    layout = found.layout
    side, wired = layout.motor, layout.wired
    free = replace(side.duty.guard, stated=None)
    sure = side.rating is not None and side.duty.guard.starts(side.rating) == "yes"
    if wired.rules != "us" or (sure and free.spare(side.alone) >= TENTH - 1e-9):
        return
    for kind, word in BRANCH_DEVICES.items():
        rating = motor_side.other_device(wired, side, layout.water, kind)
        if rating is None:
            continue
        sets: dict[str, Any] = {"branch_device": kind, "breaker": amount(rating, "A")}
        if wired.branch.carries is not None:
            sets["breaker_carries"] = ""
        worst = found.of_guard(side, "", "-start", "-motor", "-cable")
        show.remedy(
            "In the motor's branch {d} of {r}.",
            d=word,
            r=(rating, "A"),
            sets=sets,
            mends=worst if sure else "breaker-start",
        )
        return


def _larger_generator(layout: Layout, show: Report) -> None:
    """The least generator of its kind whose voltage the start leaves high enough, with a tenth to
    spare: no cable mends that."""
    wired, made = layout.wired, layout.wired.generator
    if made is None or made.electronic or not wired.by_generator:
        return
    if not wired.mains.suits(made.mains):
        return

    def dips(steps: int) -> float:
        larger = replace(made, power=steps * POWER_STEP)
        return motor_side.on_the_generator(wired, larger, layout.water, layout.motor).source_dip

    allowed = (1 - TENTH) * GREATEST_DIP
    fewest = fewest_that_do(lambda steps: dips(steps) <= allowed, MOST_STEPS)
    if fewest is None or fewest * POWER_STEP <= made.power:
        return
    power = least(fewest * POWER_STEP, "W", POWER_STEP)
    show.remedy(
        "A generator of {p} continuous or more, for the dip alone: what else it has to give tells "
        "the page “Power”.",
        p=power,
        sets={"generator_power": power},
        mends="generator-dip",
    )


def _other_overload(layout: Layout, show: Report) -> None:
    """Where the overload relay would be set right, with a tenth over the pump's draw if it can."""
    setting = layout.wired.branch.overload
    if setting is None:
        return
    span = motor_side.overload_span(layout.wired, layout.water)
    high = most(span.high, "A", OVERLOAD_STEP)
    sets = {"overload": amount(high.value, "A")}
    if span.iec:
        if not span.runs <= setting <= span.high and span.runs <= high.value:
            show.remedy(
                "The overload relay set to the current on the motor's plate, {i}.",
                i=high,
                sets=sets,
                mends="overload" if setting > span.high else "overload-runs",
            )
        return
    for spare in (TENTH, 0.0):
        low = least((1 + spare) * span.runs, "A", OVERLOAD_STEP)
        if low.value > high.value:
            continue
        if not low.value <= setting <= high.value:
            show.remedy(
                "The overload relay set from {a} to {b}.",
                a=low,
                b=high,
                sets=sets,
                mends="overload" if setting > high.value else "overload-runs",
            )
        return


def _nearer_fuse(layout: Layout, show: Report) -> None:
    """Where a fuse that is far from its battery would sit right."""
    fuse = layout.wired.fuse
    near = (1 - TENTH) * protection.fuse_distance(fuse.sheathed)
    if fuse.distance > near:
        near = most(near, "mm").value
        show.remedy(
            "The fuse no farther than {d} from the battery's terminal, along the cable.",
            d=most(near, "mm"),
            mends="fuse-distance",
            sets={"fuse_distance": amount(near, "mm")},
        )


def _kinds(found: Found, feed: Feed, side: Side, show: Report) -> None:
    """The kinds of fuse that would do, where the one that is there does not."""
    wired, short = found.layout.wired, feed.short_circuit
    breaks = wired.fuse.breaking(side.device, feed.full_emf)
    if side.rating is not None and short > STRONGEST and (breaks or 0.0) < short:
        _in_parts(feed, show)
        return
    if wired.fuse.kind is None:
        return
    for spare, template in (
        (0.0, "Kind of fuse that does: {k}."),
        (TENTH, "Kind of fuse that does with a tenth to spare: {k}."),
    ):
        suit = bank_side.kinds_that_do(side, feed, spare)
        own = bank_side.kind_does(wired, side, feed, spare) or wired.fuse.kind in suit
        if not suit or own:
            continue
        sets: dict[str, Any] = {"fuse_kind": suit[0]}
        if wired.fuse.breaks is not None:
            sets["fuse_breaks"] = ""
        if wired.fuse.carries is not None:
            sets["fuse_carries"] = ""
        show.remedy(
            template,
            k=" or ".join(FUSES[kind] for kind in suit),
            sets=sets,
            mends=found.of_guard(side, "-volts", "-made", "-breaking", "-start"),
        )
        return


def _in_parts(feed: Feed, show: Report) -> None:
    """A short circuit beyond every class: the bank in parts."""
    short, kind = feed.short_circuit, bank_side.strongest(feed.full_emf)
    parts = math.ceil(short / STRONGEST - 1e-9)
    show.remedy(
        "No class of fuse listed here is sure to break {s}; a {k} breaks most, {b}. In {n} "
        "parts, each battery or string with such a fuse of its own, each part gives {p}. That, "
        "or a fuse that has more printed on it, is work for a licensed electrician.",
        s=amount(short, "kA", digits(STRONGEST, short)),
        b=(STRONGEST, "kA"),
        n=parts,
        k=FUSES[kind],
        p=least(short / parts, "kA"),
    )
