"""What is told of a place beside its figures: the headline, tables, the chart, remarks."""

from __future__ import annotations

import math

from ...frame.report import (
    FAILS,
    FITS,
    TIGHT,
    Amount,
    Axis,
    Band,
    Chart,
    Mark,
    Report,
    Series,
    Words,
    line,
)
from ...physics import fasteners, rubber, vibration
from ...sheet.standing import SOURCES
from ...system.place import Placed, level
from ...system.shaker import GRAVITY, Source
from ...system.stand import RIGID
from .floor_remedies import USELESS
from .judge import way

MARKS = {
    "direct": "pump shaft",
    "crank": "pump shaft",
    "shaft": "motor shaft",
    "plungers": "plungers",
    "plungers2": "plungers × 2",
    "hum": "hum",
}

Cell = tuple[float, str] | Amount | Words


def decibels(value: float) -> tuple[float, str]:
    """A level for a cell or a slot."""
    return level(value), "dB"


def headline(made: Placed, show: Report) -> None:
    """What the mounts gain at what people hear."""
    stand = made.stand
    f = stand.heard.frequency
    if stand.hard:
        show.headline("Bolted down hard, all of its shaking goes into the floor.")
        return
    real = level(stand.gained)
    show.headline(
        "At {f}, what people hear of it, these mounts are nearly useless on this floor: they "
        "gain {real} over bolting down hard; on a rigid floor it would be {rigid}."
        if real < USELESS
        else "At {f}, what people hear of it, this floor shakes {real} less than with the unit "
        "bolted down hard; on a rigid floor it would be {rigid}.",
        f=(f, "Hz"),
        real=(real, "dB"),
        rigid=decibels(stand.gain(f, RIGID)),
    )


# ---- tables ----


def tables(made: Placed, show: Report) -> None:
    """What shakes it; hard or soft; its motions; the sea."""
    _source_table(made, show)
    _ways_table(made, show)
    if not made.stand.hard:
        _mode_table(made, show)
    _sea_table(made, show)


def _source_table(made: Placed, show: Report) -> None:
    stand = made.stand
    found: list[tuple[Cell, ...]] = []
    states = []
    for source in stand.unit.sources:
        f = source.frequency
        passed = stand.passed(f, stand.bounce)
        gain = stand.gain(f)
        told = "all of it" if stand.hard else "amplified" if passed > 1 else "isolated"
        share = 1.0 if stand.hard else passed
        worst = decibels(stand.least_gain(f))
        name = SOURCES[source.key]
        found.append((name, (f, "Hz"), (share, "%"), told, decibels(gain), worst))
        states.append(FAILS if share >= 1 else TIGHT if gain < 3 else FITS)
    show.table(
        "sources",
        "What shakes it, and what the mounts do",
        ("Source", "At", "Passed to a rigid floor", "That is", "Gain on this floor", "at worst"),
        found,
        states,
        note="Gain: how much less the floor shakes than under a unit bolted down hard. The floor's "
        "notes may lie a quarter higher or lower than worked out: told are the mean over all that, "
        "and the worst of it, where a note meets the source.",
    )


def _ways_table(made: Placed, show: Report) -> None:
    """What a hard pad loses: the same unit on this floor with mounts from hard to soft."""
    stand, f = made.stand, made.stand.heard.frequency
    mass = made.unit.mass
    pad = rubber.block_mount(rubber.modulus_gent(70), 0.06, 0.06, 0.01)
    ways: list[tuple[Words, float]] = [
        (
            line("pads {a} × {a} × {h}, 70 Shore", a=(0.06, "mm"), h=(0.01, "mm")),
            pad.compression * rubber.dynamic_ratio(70) * len(stand.iso.places),
        )
    ]
    for give in (0.0005, 0.001, 0.002, 0.004):
        name = line("mounts that give {g}", g=(give, "mm"))
        ways.append((name, 1.3 * mass * GRAVITY / give))
    if not stand.hard:
        ways.append(("yours", stand.iso.shaken))
    hard = "bolted down hard, yours" if stand.hard else "bolted down hard"
    found: list[tuple[Cell, ...]] = [(hard, "–", (0.0, "dB"), (0.0, "dB"))]
    for between, k in ways:
        bounce = vibration.natural_frequency(k, mass)
        rigid, real = stand.gain(f, RIGID, k), stand.gain(f, None, k)
        found.append((between, (bounce, "Hz"), decibels(rigid), decibels(real)))
    show.table(
        "ways",
        "Hard or soft, on this floor, at what people hear",
        ("Between unit and floor", "Bounces at", "Gain on a rigid floor", "Gain on this floor"),
        found,
        note="Bolted down hard it has no bounce of its own: unit and floor then bounce together.",
    )


def _mode_table(made: Placed, show: Report) -> None:
    found: list[tuple[Cell, ...]] = []
    for mode in made.stand.modes:
        source = _nearest(made, mode.frequency)
        found.append(
            (
                way(made, mode.motion),
                (mode.frequency, "Hz"),
                SOURCES[source.key],
                (source.frequency / mode.frequency, "×"),
            )
        )
    show.table(
        "modes",
        "Its six ways to move on the mounts",
        ("Mostly", "At", "Nearest source", "that many times faster"),
        found,
        note="No motion may lie within 15 % of a source; best all lie well below the slowest. A "
        "tall unit on narrow feet rocks.",
    )


def _nearest(made: Placed, frequency: float) -> Source:
    """The source nearest to a frequency [Hz], by ratio."""
    return min(made.unit.sources, key=lambda s: abs(math.log(s.frequency / frequency)))


def _sea_table(made: Placed, show: Report) -> None:
    stand, fixing = made.stand, made.place.fixing
    found: list[tuple[Cell, ...]] = []
    for case, used, moved in zip(stand.cases, made.used, stand.moves, strict=True):
        pull, shear = case.pull / fixing.each, case.shear / fixing.each
        moves: Cell = "not at all" if stand.hard else travel(moved, stand.bows(case.press))
        used_up = used * fixing.safety
        found.append((case.key, (max(pull, 0.0), "N"), (shear, "N"), (used_up, "%"), moves))
    show.table(
        "sea",
        "In a seaway, on the busiest fastener",
        ("When", "Pull", "Shear", "Used, with safety", "Unit moves"),
        found,
        note="Load cases: common practice, no source. Rubber stiffens as it is squeezed, so real "
        "movements are smaller.",
    )


def travel(moved: float, buckles: bool) -> Cell:
    """How far it moves [m], unless its rubber buckles: nobody can tell how far it goes then."""
    return "the mounts buckle" if buckles else (round(moved, 4), "mm")


# ---- the chart ----


def chart(made: Placed, show: Report) -> None:
    """What the mounts gain, by frequency."""
    stand = made.stand
    low, high, count = 5.0, 400.0, 56
    points = [low * (high / low) ** (i / count) for i in range(count + 1)]

    def clip(value: float) -> float:
        return max(-15.0, min(50.0, value))

    show.chart(
        Chart(
            "gain",
            "What the mounts gain, by frequency",
            Axis("Frequency", "Hz", low, high, log=True),
            Axis("The floor shakes less by", "dB", -15.0, 50.0),
            [
                Series("this floor", [(f, clip(stand.gain(f))) for f in points]),
                Series("at worst", [(f, clip(stand.least_gain(f))) for f in points]),
                Series(
                    "rigid floor",
                    [
                        (f, clip(-vibration.ratio_level(stand.passed(f, stand.bounce))))
                        for f in points
                    ],
                ),
            ],
            limits=[Mark("wanted", made.place.wanted)],
            marks=[Mark(MARKS[s.key], s.frequency) for s in made.unit.sources],
            bands=[
                Band("note", d.frequency * 0.97, d.frequency * 1.03)
                for d in stand.ground.drums[:3]
                if low / 0.97 < d.frequency < high / 1.03
            ],
            summary="Gain of the mounts in decibels over bolting down hard, against frequency: on "
            "this floor, in the mean and at worst over the places where its notes may lie, and on "
            "a rigid floor. Lines mark the sources, bands the floor's own notes.",
        )
    )


# ---- remarks ----


def remarks(made: Placed, hose_bend: float, show: Report) -> None:
    """What is worth saying of mounts, hoses, drains and bolts; the hose's bend radius in metres."""
    stand = made.stand
    if stand.iso.high > 1:
        show.note(
            "Hardness tells a rubber's stiffness only roughly: by the two published relations it "
            "bounces at {a} to {b}. Measure how far the weight presses the mounts down, and use "
            "that.",
            a=(stand.bounce * math.sqrt(stand.iso.low), "Hz"),
            b=(stand.bounce * math.sqrt(stand.iso.high), "Hz"),
        )
    _hoses(made, hose_bend, show)
    show.note(
        "Lead drain and vent to where you can see them, the drain downhill at your usual heel, "
        "and keep the oil plugs in reach with the unit bolted down."
    )
    if not stand.hard:
        _captive(made, show)
    if made.hangs and not stand.hard:
        show.note(
            "On a bulkhead the mounts carry the weight in shear: put a ledge under the lower edge."
        )
    if made.hangs and stand.hard:
        show.note(
            "On a bulkhead the bolts carry the weight in shear: put a ledge under the lower edge."
        )
    if not made.place.fixing.bolted:
        show.note("Screws work loose where something shakes. Through-bolts with lock nuts stay.")


def _hoses(made: Placed, bend: float, show: Report) -> None:
    loop = (fasteners.hose_loop_length(bend, 0.05), "mm")
    if made.stand.hard:
        show.note(
            "Every hose and cable still wants a flexible last length, best a loop of {r}: pipes "
            "carry the shaking past the floor.",
            r=loop,
        )
        return
    offset = min(made.stand.moved, 2 * bend)
    show.note(
        "Every hose and cable needs a flexible last length, or it bridges the mounts: at "
        "least {l} free for a straight run, better a loop of {r}. Nothing rigid may touch the "
        "unit.",
        l=(fasteners.hose_length_for_offset(offset, bend), "mm"),
        r=loop,
    )


def _captive(made: Placed, show: Report) -> None:
    """What must hold when the sea pulls the unit off its rubber."""
    pull, case = made.stand.mount_pull
    if pull > 0:
        show.note(
            "At sea a foot is pulled by up to {pull} ({when}).", pull=(pull, "N"), when=case.key
        )
    show.note(
        "Pads carry no pull: bolt through them, with rubber washers under the heads, so that the "
        "unit cannot leave them."
        if made.place.footing.mounts.by == "pad"
        else "Choose captive mounts, in which metal holds metal even if the rubber tears: a plain "
        "bobbin that tears lets the unit go."
    )
