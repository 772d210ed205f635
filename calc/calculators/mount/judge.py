"""A place's results held against their limits: the figures, and what bars it whatever they say."""

from __future__ import annotations

from ...frame.report import TIGHT_DECIBELS, TIGHT_MARGIN, Line, Option, line
from ...sheet.standing import SOURCES, drum_name
from ...system.held import Held
from ...system.place import Placed, barred, level, limits
from ...system.stand import RIGID, SEA_LOAD

LEVELS = ("isolation", "drum")
"""Figures of which decibels left over count, not a share."""

WAYS = {
    False: {
        "surge": "along the shaft",
        "sway": "across the shaft",
        "heave": "up and down",
        "roll": "rocking across the shaft",
        "pitch": "rocking along the shaft",
        "yaw": "turning flat",
        "bounce": "bounce up and down on this floor",
    },
    True: {
        "surge": "along the shaft",
        "sway": "up and down",
        "heave": "in and out",
        "roll": "rocking top to bottom",
        "pitch": "rocking end to end",
        "yaw": "turning flat on the bulkhead",
        "bounce": "bounce in and out on this floor",
    },
}
"""How each motion looks to somebody before it: standing, and hung on a bulkhead."""


def way(made: Placed, motion: str) -> str:
    """A motion in plain words, as it goes where the unit stands or hangs."""
    return WAYS[made.hangs][motion]


def tight(made: Placed) -> frozenset[str]:
    """Keys of what holds only just."""
    return frozenset(
        [
            key
            for key, held in limits(made).items()
            if held.holds
            and (
                held.value - held.limit < TIGHT_DECIBELS
                if key in LEVELS
                else held.margin < TIGHT_MARGIN
            )
        ]
    )


def judge(made: Placed, name: str = "") -> Option:
    """A place's own verdict: all figures that decide, those that are only told between them, and
    what bars it."""
    part, held = Option("place", name), limits(made)
    _shaking(made, held, part)
    if not made.stand.hard:
        _mounts_shaking(made, held, part)
    _rocking(made, held, part)
    _standing(made, held, part)
    _sea(made, held, part)
    _room(made, held, part)
    _level(made, held, part)
    _barred(made, part)
    return part


def _shaking(made: Placed, held: dict[str, Held], part: Option) -> None:
    stand = made.stand
    real = held["isolation"]
    part.held(
        "isolation",
        "The floor shakes less by",
        real,
        "dB",
        note="at the hum; against bolting down hard" if made.unit.mains else "at the plungers",
        says=line(
            "the mounts gain {e} on this floor, and {w} are wanted",
            e=(real.value, "dB"),
            w=(real.limit, "dB"),
        ),
    )
    if not stand.hard:
        rigid = level(stand.gain(stand.heard.frequency, RIGID))
        part.figure("rigid", "On a rigid floor it would be", rigid, "dB", decides=False)
    slowest = stand.slowest
    part.held(
        "lowest",
        "Share of the slowest vibration that reaches the floor",
        held["lowest"],
        "%",
        note=line(
            "{source}; above 100 % the floor makes it worse"
            if stand.hard
            else "{source}; above 100 % the mounts make it worse: they lessen only what is faster "
            "than 1.41 times the bounce",
            source=SOURCES[slowest.key],
        ),
        says=line(
            "{t} of the slowest, {f}, reaches the floor: the unit bounces at {n}",
            f=(slowest.frequency, "Hz"),
            t=(held["lowest"].value, "%"),
            n=(stand.on_floor, "Hz"),
        ),
    )


def _mounts_shaking(made: Placed, held: dict[str, Held], part: Option) -> None:
    """What the floor's notes leave of the mounts: by their damping. How near a note lies is known
    too roughly to fail a place: it makes it tight."""
    _, source = made.stand.worst_gain
    gain = held["drum"].value
    part.held(
        "drum",
        "Where the floor helps them least, the mounts gain",
        held["drum"],
        "dB",
        note=SOURCES[source.key],
        says=line(
            "the floor sounds like a drum with {what}, {fs}: bolted down hard it shakes less"
            if gain < 0
            else "the floor gives so much with {what}, {fs}, that the mounts gain only {g}",
            g=(gain, "dB"),
            fs=(source.frequency, "Hz"),
            what=SOURCES[source.key],
        ),
    )
    _, drum, met = made.stand.nearest_drum
    part.held(
        "note",
        "Gap between the floor's nearest note and the nearest vibration",
        held["note"],
        "%",
        note=line(
            "{drum} against {source}; tight within 15 %, since a note may lie a quarter off",
            drum=drum_name(drum),
            source=SOURCES[met.key],
        ),
        says=line(
            "a note of the floor, {fd}, lies near {what}, {fs}: it may sound like a drum",
            fd=(drum.frequency, "Hz"),
            fs=(met.frequency, "Hz"),
            what=SOURCES[met.key],
        ),
    )


def _rocking(made: Placed, held: dict[str, Held], part: Option) -> None:
    """The motions on mounts and floor against the sources: a tall unit on narrow feet rocks."""
    stand = made.stand
    part.figure(
        "bounce",
        "Bounces at",
        stand.on_floor,
        "Hz",
        decides=False,
        note=line("on this floor, {way}", way=way(made, "heave")),
    )
    _, motion, frequency, met = stand.nearest_motion
    part.held(
        "rocking",
        "Gap between the unit's nearest motion and the nearest vibration",
        held["rocking"],
        "%",
        note=line("{motion} against {source}", motion=way(made, motion), source=SOURCES[met.key]),
        says=line(
            "the unit swings with {what}, {fs}: its {m} lies at {fm}",
            what=SOURCES[met.key],
            fs=(met.frequency, "Hz"),
            m=way(made, motion),
            fm=(frequency, "Hz"),
        ),
    )
    if stand.hard:
        return
    low, high = stand.modes[0], stand.modes[-1]
    for key, label, mode in (
        ("slowest_mode", "Slowest motion, {way}", low),
        ("fastest_mode", "Fastest motion, {way}", high),
    ):
        part.figure(
            key, line(label, way=way(made, mode.motion)), mode.frequency, "Hz", decides=False
        )


def _standing(made: Placed, held: dict[str, Held], part: Option) -> None:
    """Load on the mounts at rest against what they carry for good."""
    if made.stand.hard:
        return
    load = held["load"]
    part.held(
        "load",
        "Load on the busiest mount",
        load,
        "kg",
        note="sheared by the weight" if made.hangs else "",
        says=None
        if load.holds
        else line(
            "a mount is overloaded: {l} on it, {r} allowed",
            l=(load.value, "kg"),
            r=(load.limit, "kg"),
        ),
    )
    part.figure(
        "deflection", "Mounts give at rest", made.stand.rest_deflection, "mm", decides=False
    )


def _sea(made: Placed, held: dict[str, Held], part: Option) -> None:
    """Fastening and mounts in a seaway."""
    fixing = made.place.fixing
    part.held(
        "fastening",
        line("Busiest {bolt} {grade}, with safety", bolt=fixing.bolt, grade=fixing.bolt_class)
        if fixing.bolted
        else "Busiest screw, with safety",
        held["fastening"],
        "%",
        note=line("of its strength, {n} times the load counted", n=(fixing.safety, "")),
    )
    if not made.stand.hard:
        _mount_at_sea(made, held, part)
    if "buckling" in held:
        _buckling(made, held["buckling"], part)
    if "washer" in held:
        label = "Pressure under the backing plate, with safety"
        part.held("washer", label, held["washer"], "MPa")


_USES = {
    "pulled": (
        "pulled with {f}: {when}; for a moment; common practice, no source",
        "at sea ({when}) a mount is pulled with {t} what it carries; {m} are allowed",
    ),
    "pressed": (
        "pressed with {f}: {when}; for a moment; common practice, no source",
        "at sea ({when}) a mount is pressed with {t} what it carries; {m} are allowed",
    ),
    "sheared": (
        "sheared with {f}: {when}; for a moment; common practice, no source",
        "at sea ({when}) a mount is sheared with {t} what it carries; {m} are allowed",
    ),
}
"""What a load does to a mount: how the figure notes and says it."""


def _mount_at_sea(made: Placed, held: dict[str, Held], part: Option) -> None:
    use = made.stand.worst_use
    note, says = _USES[use.how]
    part.held(
        "sea_mount",
        "Worst load on a mount at sea, over what it carries",
        held["sea_mount"],
        "×",
        note=line(note, when=use.case.key, f=(use.force, "N")),
        says=line(says, when=use.case.key, t=(use.times, "×"), m=(SEA_LOAD, "×")),
    )


def _buckling(made: Placed, held: Held, part: Option) -> None:
    """Rubber pressed too hard bows out sideways, whatever its strength."""
    worst, buckles = made.stand.hardest_press, made.stand.iso.buckles
    part.held(
        "buckling",
        "Hardest press on a mount at sea, of the load that buckles it",
        held,
        "%",
        note=line(
            "{when}; one buckles at {b}; the limit leaves room for a softer rubber than its "
            "hardness tells",
            when=worst.key,
            b=(buckles, "N"),
        ),
        says=line(
            "at sea ({when}) a mount is pressed with {p}; it may buckle from {low} on",
            when=worst.key,
            p=(worst.press, "N"),
            low=(buckles * made.stand.iso.low, "N"),
        ),
    )


def _room(made: Placed, held: dict[str, Held], part: Option) -> None:
    _head(made, held["head"], part)
    part.held("across", "Depth it wants, with the electrical box open", held["across"], "mm")
    part.held("height", "Height it wants", held["height"], "mm")
    _door(made, held, part)
    if "movement" not in held:
        return
    moved = held["movement"]
    part.held(
        "movement",
        "Moves in the worst sea by",
        moved,
        "mm",
        note="a corner, rubber taken as even springs",
        says=line(
            "in the worst sea a corner moves {m}, and only {g} are free round it",
            m=(moved.value, "mm"),
            g=(moved.limit, "mm"),
        ),
    )


def _door(made: Placed, held: dict[str, Held], part: Option) -> None:
    """Through the opening, end first: turned inside, if there is room to turn it."""
    for key, label, says in (
        (
            "door",
            "Through the opening, its smallest size",
            "the opening is {l} at its narrowest, and the unit is {v} at its smallest",
        ),
        (
            "door_long",
            "Through the opening, its middle size",
            "the opening is {l} the long way, and the unit is {v} the other way",
        ),
    ):
        if key in held:
            one = held[key]
            part.held(
                key,
                label,
                one,
                "mm",
                note="end first, without its mounts; turn it inside",
                says=line(says, l=(one.limit, "mm"), v=(one.value, "mm")),
            )


def _head(made: Placed, held: Held, part: Option) -> None:
    thing = made.layout.blocker
    part.held(
        "head",
        "Free at the pump's end",
        held,
        "mm",
        note=line("to pull the head; {what} ends it", what=thing.what)
        if thing
        else "to pull the head; the locker's end ends it",
        says=line(
            "{what} blocks the pump head: {f} free, {w} wanted",
            what=thing.what if thing else "the locker's end",
            f=(held.value, "mm"),
            w=(held.limit, "mm"),
        ),
    )


def _level(made: Placed, held: dict[str, Held], part: Option) -> None:
    sails = made.place.sitting.sail_heel is not None
    labels: tuple[tuple[str, str], ...] = (
        ("tilt_across", "Tilt across the shaft, under sail"),
        ("tilt_along", "Tilt along the shaft, under sail"),
    )
    if not sails:
        labels = (
            ("tilt_across", "Tilt across the shaft, at rest"),
            ("tilt_along", "Tilt along the shaft, at rest"),
        )
    for key, label in labels:
        part.held(key, label, held[key], "°")
    people = made.place.hands.people
    lift: Line | str = line("Each of {n} lifts", n=people) if people > 1 else "One person lifts"
    part.held("lift", lift, held["lift"], "kg", note="at that reach; a moving boat allows less")


def _barred(made: Placed, part: Option) -> None:
    """What no figure tells."""
    found = barred(made)
    if "core" in found:
        part.fail(
            "core",
            "bolts through a hollow core crush it: cut the core out round each hole and fill it "
            "solid, then drill",
        )
    for thing in made.layout.struck:
        part.fail("struck", "{what} stands where the unit would", what=thing.what)
    if "maker" in found:
        part.fail("maker", "its maker does not let it hang on a bulkhead")
    if made.hangs and made.place.sitting.may_hang == "unknown":
        part.unknown(
            "maker-unsaid",
            "whether its maker lets it hang on a bulkhead: oil and vents decide; ask",
        )
