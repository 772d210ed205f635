"""Where can motor and pump be bolted down so that they stay, can be serviced, and shake nothing?"""

from __future__ import annotations

import math
from typing import Any

from ..equipment.choices import CORED_FLOORS, SOLID_FLOORS
from ..frame.cautions import rules
from ..frame.guide import decides
from ..frame.inputs import (
    Inputs,
    Refusal,
    Values,
    ask,
    choice,
    is_one_of,
    rows,
    text,
    whole,
    yes_no,
)
from ..frame.report import (
    FAILS,
    FITS,
    TIGHT,
    UNKNOWN,
    VERDICT_WORDS,
    Axis,
    Band,
    Chart,
    Mark,
    Report,
    Series,
    Words,
    line,
    told,
)
from ..frame.units import trim
from ..models import locker_view, mount_remedies, mounting
from ..models import vibration_path as path
from ..models.mounting import Case
from ..physics import fasteners, lifting, rubber, vibration
from ..sheet import BoatSheet as boat

TITLE = "Where to bolt it down"


WANTED = ("isolation", "load", "lift")
PICTURE = "sits"
DECIDES = decides(
    "unit",
    "mount_by",
    "mount_stiffness",
    "mount_deflection",
    "mount_rating",
    "floor_material",
    "floor_thickness",
    "skin_thickness",
    "core_thickness",
    "floor_length",
    "floor_width",
    "locker_length",
    "locker_width",
    "locker_height",
)


CAUTIONS = rules("mains", "lifting", "hull", "pressure")


SITS, FIXING, REACH, LIFT = "How it sits", "Fixing", "Room and access", "Lifting"
OTHERS = "Other places"
PRACTICE = "common practice, no source"

MARKS = {
    "crank": "pump shaft",
    "shaft": "motor shaft",
    "plungers": "plungers",
    "plungers2": "plungers × 2",
    "hum": "hum",
}

ATTITUDES = {"platform": "a platform", "bulkhead": "a bulkhead"}
WAYS = {"bolts": "through-bolts and backing plates", "screws": "wood screws", "lags": "lag screws"}
THREADS = {key: key for key in mount_remedies.BOLTS}
CLASSES = {key: made.name for key, made in fasteners.BOLT_CLASSES.items()}
TIMBER = {key: made.name for key, made in fasteners.WOODS.items()}


class Obstacle(Inputs):
    what = text("What", "hose", optional=False)
    start = ask("From the motor's end of the locker", "0 mm", at_least="0 mm", at_most="10 m")
    length = ask("Length", "100 mm", above="0 mm", at_most="10 m")
    above = ask("Above the locker's floor", "0 mm", at_least="0 mm", at_most="10 m")
    height = ask("Height", "100 mm", above="0 mm", at_most="10 m")


class Place(Inputs):
    what = text("Place", "bilge", optional=False)
    attitude = choice("It stands on or hangs from", ATTITUDES)
    lies = choice("Its shaft lies", mount_remedies.SHAFT)
    floor_material = choice("Panel", SOLID_FLOORS | CORED_FLOORS, "plywood")
    thickness = ask("Its thickness in all", "18 mm", at_least="0.5 mm", at_most="500 mm")
    floor_length = ask("Free length along the shaft", "600 mm", at_least="20 mm", at_most="5 m")
    floor_width = ask("Free width", "400 mm", at_least="20 mm", at_most="5 m")
    locker_length = ask("Room's length", "900 mm", at_least="100 mm", at_most="10 m")
    locker_width = ask("Room's width", "450 mm", at_least="100 mm", at_most="10 m")
    locker_height = ask("Room's height", "420 mm", at_least="100 mm", at_most="10 m")


class Asks(path.PathInputs):
    mount_by = boat.mount_by
    rubber_diameter = boat.rubber_diameter
    rubber_height = boat.rubber_height
    mount_stiffness = boat.mount_stiffness
    mount_deflection = boat.mount_deflection
    pad_thickness = boat.pad_thickness
    shore = boat.shore
    floor_material = boat.floor_material
    floor_thickness = boat.floor_thickness
    skin_thickness = boat.skin_thickness
    core_thickness = boat.core_thickness
    floor_length = boat.floor_length
    floor_width = boat.floor_width
    attitude = choice("It stands on or hangs from", ATTITUDES, group=SITS, open=True)
    wanted = ask(
        "The floor shall shake less by",
        "12 dB",
        group=SITS,
        at_least="0 dB",
        at_most="60 dB",
        basis=PRACTICE,
        help="12 dB is a quarter of the shaking, 20 dB a tenth.",
    )
    lies = choice("Its shaft lies", mount_remedies.SHAFT, group=SITS)
    rest_heel = ask("Boat's list at rest", "1°", group=SITS, at_least="0°", at_most="45°")
    rest_trim = ask("Boat's trim at rest", "1°", group=SITS, at_least="0°", at_most="45°")
    runs_under_sail = yes_no("It runs under sail", "yes", group=SITS)
    sail_heel = ask(
        "Heel at which you still make water", "15°", group=SITS, at_least="0°", at_most="60°"
    )
    heel_limit = ask(
        "Tilt allowed across the shaft",
        "30°",
        from_record="unit.heel_limit",
        group=SITS,
        at_least="0°",
        at_most="90°",
    )
    trim_limit = ask(
        "Tilt allowed along the shaft",
        "15°",
        from_record="unit.trim_limit",
        group=SITS,
        at_least="0°",
        at_most="90°",
    )
    on_bulkhead = choice(
        "Its maker lets it hang on a bulkhead",
        {"yes": "yes", "no": "no", "unknown": "not said"},
        "unknown",
        from_record="unit.on_bulkhead",
        group=SITS,
    )

    fix_by = choice("Fastened by", WAYS, group=FIXING)
    bolt = choice("Bolt", THREADS, "M6", group=FIXING, when=is_one_of("fix_by", "bolts"))
    bolt_class = choice(
        "Bolt's class", CLASSES, "A4-70", group=FIXING, when=is_one_of("fix_by", "bolts")
    )
    washer = ask(
        "Backing plate or washer, across",
        "25 mm",
        group=FIXING,
        at_least="8 mm",
        at_most="300 mm",
        when=is_one_of("fix_by", "bolts"),
    )
    screw = ask(
        "Screw's diameter",
        "5 mm",
        group=FIXING,
        at_least="3 mm",
        at_most="16 mm",
        when=is_one_of("fix_by", "screws", "lags"),
    )
    wood = choice("Wood that it goes into", TIMBER, "okoume", group=FIXING)
    fasteners_each = whole("Fasteners at each foot", "1", group=FIXING, at_least=1, at_most=4)
    core_filled = yes_no(
        "Core made solid under the bolts",
        "yes",
        group=FIXING,
        when=is_one_of("floor_material", *CORED_FLOORS),
    )
    safety = ask(
        "Safety factor", "4 ×", group=FIXING, at_least="1 ×", at_most="20 ×", basis=PRACTICE
    )
    sea = ask(
        "Sea loads, times",
        "1 ×",
        group=FIXING,
        at_least="0.2 ×",
        at_most="3 ×",
        basis=PRACTICE,
        help="1 is a cruising boat offshore, knocked down once. Less for sheltered water only.",
    )

    head_access = ask(
        "Space to pull the pump head",
        "220 mm",
        from_record="unit.head_access",
        group=REACH,
        at_least="0 mm",
        at_most="2 m",
    )
    box_access = ask(
        "Space before the electrical box",
        "120 mm",
        from_record="unit.box_access",
        group=REACH,
        at_least="0 mm",
        at_most="2 m",
    )
    gap = ask(
        "Air round it",
        "30 mm",
        group=REACH,
        at_least="0 mm",
        at_most="500 mm",
        basis=PRACTICE,
        help="So that it touches nothing when it moves.",
    )
    hands = ask(
        "Room for a hand on each side",
        "60 mm",
        group=REACH,
        at_least="0 mm",
        at_most="300 mm",
        basis=PRACTICE,
    )
    hose_bend = ask(
        "Bend radius of the stiffest hose",
        "130 mm",
        group=REACH,
        at_least="10 mm",
        at_most="1 m",
        basis="SAE J1754-1, 3/8 in hose",
    )
    obstacles = rows(
        "What stands in the way",
        Obstacle,
        one="thing",
        most=12,
        example=[
            {
                "what": "bilge hose",
                "start": "0 mm",
                "length": "900 mm",
                "above": "350 mm",
                "height": "45 mm",
            }
        ],
    )

    people = whole("People who lift it in", "2", group=LIFT, at_least=1, at_most=4)
    reach = ask(
        "Reach from ankles to hands",
        "400 mm",
        group=LIFT,
        at_least="100 mm",
        at_most="630 mm",
        help="Over a settee or before a bulkhead it is 500 mm and more; nobody lifts beyond 630.",
    )
    hand_height = ask(
        "Hands above your feet", "300 mm", group=LIFT, at_least="0 mm", at_most="1.75 m"
    )

    places = rows(
        "Other places for it",
        Place,
        one="place",
        most=4,
        group=OTHERS,
        help="The same unit on the same mounts there, set beside the place in the form.",
    )


def answer(q: Values, show: Report) -> None:
    case = mounting.case(q)
    _judge(case, show)
    if show.brief:
        return
    _headline(case, show)
    _places(case, show)
    mount_remedies.remedies(case, _failing(show), _tight(show), _trial, show)
    _tables(case, show)
    if not case.hard:
        _chart(case, show)
    _drawings(case, show)
    _working(case, show)
    _remarks(case, show)


def _judge(case: Case, show: Report) -> None:
    """All figures that decide; those that are only told are left out of a brief report."""
    _shaking(case, show)
    _standing(case, show)
    _sea(case, show)
    _room(case, show)
    _attitude(case, show)
    _lift(case, show)


def _failing(show: Report) -> frozenset[str]:
    """Keys of what fails in a report."""
    found = {f.key for f in show.figures if f.state == FAILS}
    return frozenset(found | {"in the way"} if show.failures else found)


def _tight(show: Report) -> frozenset[str]:
    """Keys of what holds only just."""
    return frozenset(f.key for f in show.figures if f.state == TIGHT)


class _Trial(Report):
    """A report that keeps no more than the keys of what fails, see `_failing`."""

    trial = True

    def __init__(self) -> None:
        super().__init__(TITLE, "", brief=True)
        self.failing: set[str] = set()

    def figure(
        self,
        key: str,
        label: Words,
        value: float,
        unit: str,
        *,
        at_most: float | None = None,
        at_least: float | None = None,
        decides: bool = True,
        **_: Any,
    ) -> float:
        over = at_most is not None and value > at_most and trim(value) > trim(at_most)
        under = at_least is not None and value < at_least and trim(value) < trim(at_least)
        if decides and (over or under):
            self.failing.add(key)
        return value

    def fail(self, template: str, **_: Any) -> None:
        self.failing.add("in the way")


def _trial(like: Case, q: Values) -> frozenset[str]:
    """Keys of what fails with other values for the unit of a case."""
    show = _Trial()
    try:
        _judge(mounting.case(q, like), show)
    except Refusal as refusal:
        return frozenset((f"refused: {refusal.field}",))
    return frozenset(show.failing)


def _headline(case: Case, show: Report) -> None:
    f = case.heard.frequency
    real, rigid = _level(case.gain(f)), _level(case.gain(f, mounting.RIGID))
    if case.hard:
        show.headline("Bolted down hard, all of its shaking goes into the floor.")
    elif real[0] < 3:
        show.headline(
            "At {f}, what people hear of it, these mounts are nearly useless on this floor: they "
            "gain {real} over bolting down hard; on a rigid floor it would be {rigid}.",
            f=(f, "Hz"),
            real=real,
            rigid=rigid,
        )
    else:
        show.headline(
            "At {f}, what people hear of it, this floor shakes {real} less than with the unit "
            "bolted down hard; on a rigid floor it would be {rigid}.",
            f=(f, "Hz"),
            real=real,
            rigid=rigid,
        )


def _shaking(case: Case, show: Report) -> None:
    q, f = case.q, case.heard.frequency
    real = _level(case.gain(f))[0]
    show.figure(
        "isolation",
        "The floor shakes less by",
        real,
        "dB",
        at_least=q.wanted,
        note="at the hum; against bolting down hard" if q.single_phase else "at the plungers",
        says=told(
            show,
            "the mounts gain {e} on this floor, and {w} are wanted",
            e=(real, "dB"),
            w=(q.wanted, "dB"),
        ),
    )
    if not (case.hard or show.brief):
        rigid = _level(case.gain(f, mounting.RIGID))[0]
        show.figure("rigid", "On a rigid floor it would be", rigid, "dB", decides=False)
    lowest = case.sources[0]
    passed = case.passed(lowest.frequency, case.on_floor)
    show.figure(
        "lowest",
        "Share of the slowest vibration that reaches the floor",
        passed,
        "%",
        at_most=1.0,
        note=f"{lowest.name}; above 100 % the {'floor makes' if case.hard else 'mounts make'} it "
        "worse",
        says=told(
            show,
            "at {f} ({what}) {t} reaches the floor: the unit bounces at {n}, and mounts and floor "
            "lessen only what is faster than 1.41 times that",
            f=(lowest.frequency, "Hz"),
            what=lowest.name,
            t=(passed, "%"),
            n=(case.on_floor, "Hz"),
        ),
    )
    if not case.hard:
        _drum(case, show)
    if not show.brief:
        show.figure(
            "bounce",
            "Bounces at",
            case.on_floor,
            "Hz",
            decides=False,
            note=f"on this floor, {mounting.way(case, 'heave')}",
        )
    _rocking(case, show)


def _drum(case: Case, show: Report) -> None:
    """What the floor's notes leave of the mounts: by their damping. How near a note lies is known
    too roughly to fail a place: it makes it tight."""
    gain, source = mounting.worst_gain(case)
    gain = _level(gain)[0]
    near, drum, met = mounting.nearest_drum(case)
    show.figure(
        "drum",
        "Where the floor helps them least, the mounts gain",
        gain,
        "dB",
        at_least=0.0,
        note=source.name,
        says=told(
            show,
            "the floor sounds with {what} at {fs} like a drum: on the mounts it shakes as much as "
            "under a unit bolted down hard, and more ({g} gained)"
            if gain < 0
            else "the floor gives so much with {what} at {fs} that the mounts gain no more "
            "than {g}",
            g=(gain, "dB"),
            fs=(source.frequency, "Hz"),
            what=source.name,
        ),
    )
    show.figure(
        "note",
        "Gap between the floor's nearest note and the nearest vibration",
        near,
        "%",
        at_least=0.0,
        zero=-10 * mounting.NEAR,
        note=f"{drum[0]} against {met.name}; tight within 15 %, since a note may lie a quarter off",
        says=told(
            show,
            "a note of the floor, {d} at {fd}, lies near {fs}, the {what}: it may "
            "sound with it like a drum",
            d=drum[0],
            fd=(drum[1], "Hz"),
            fs=(met.frequency, "Hz"),
            what=met.name,
        ),
    )


def _rocking(case: Case, show: Report) -> None:
    """The motions on mounts and floor against the sources: a tall unit on narrow feet rocks."""
    apart, motion, frequency, rocked = mounting.nearest_motion(case)
    show.figure(
        "rocking",
        "Gap between the unit's nearest motion and the nearest vibration",
        apart,
        "%",
        at_least=mounting.NEAR,
        note=f"{motion} against {rocked.name}",
        says=told(
            show,
            "the unit swings with the {what} at {fs}: its own {m} lies at {fm}",
            what=rocked.name,
            fs=(rocked.frequency, "Hz"),
            m=motion,
            fm=(frequency, "Hz"),
        ),
    )
    if show.brief or case.hard:
        return
    low, high = case.modes[0], case.modes[-1]
    for key, label, mode in (("slowest_mode", "Slowest", low), ("fastest_mode", "Fastest", high)):
        show.figure(
            key,
            f"{label} motion, {mounting.way(case, mode.motion)}",
            mode.frequency,
            "Hz",
            decides=False,
        )


def _standing(case: Case, show: Report) -> None:
    """Load on the mounts at rest against what they carry for good."""
    if case.hard:
        return
    loads = mounting.rest_loads(case)
    carries = case.carries
    show.figure(
        "load",
        "Load on the busiest mount",
        max(loads) / path.GRAVITY,
        "kg",
        at_most=carries / path.GRAVITY,
        note="sheared by the weight" if case.hangs else "",
        says=told(
            show,
            "a mount is overloaded: {l} on it, {r} allowed",
            l=(max(loads) / path.GRAVITY, "kg"),
            r=(carries / path.GRAVITY, "kg"),
        )
        if max(loads) > carries
        else None,
    )
    if not show.brief:
        show.figure(
            "deflection", "Mounts give at rest", mounting.rest_deflection(case), "mm", decides=False
        )


def _sea(case: Case, show: Report) -> None:
    """Fastening and mounts in a seaway."""
    q = case.q
    holding = mounting.holding(q)
    show.figure(
        "fastening",
        f"Busiest {holding.what}, with safety",
        mounting.used_with_safety(case, holding),
        "%",
        at_most=1.0,
        note=f"of its strength, {q.safety:g} times the load counted",
    )
    if not case.hard:
        use = mounting.worst_mount_use(case)
        show.figure(
            "sea_mount",
            "Worst load on a mount at sea, over what it carries",
            use.times,
            "×",
            at_most=mounting.SEA_LOAD,
            note=f"{use.how}: {use.when}; for a moment; common practice, no source",
            says=told(
                show,
                "at sea ({when}) a mount is {how} with {f}, {t} what it carries like "
                "that for good, and for a moment {m} are allowed",
                when=use.when,
                how=use.how,
                f=(use.force, "N"),
                t=(use.times, "×"),
                m=(mounting.SEA_LOAD, "×"),
            ),
        )
        if math.isfinite(case.iso.buckles):
            _buckling(case, show)
    if q.fix_by == "bolts":
        _washer(case, show)


def _buckling(case: Case, show: Report) -> None:
    """Rubber pressed too hard bows out sideways, whatever its strength."""
    when, press = mounting.hardest_press(case)
    buckles = case.iso.buckles
    show.figure(
        "buckling",
        "Hardest press on a mount at sea, of the load that buckles it",
        press / buckles,
        "%",
        at_most=case.iso.low,
        note=line(
            "{when}; one buckles at {b}; the limit leaves room for a softer rubber than its "
            "hardness tells",
            when=when,
            b=(buckles, "N"),
        ),
        says=told(
            show,
            "at sea ({when}) a mount is pressed with {p}, and rubber of this size "
            "buckles sideways at {b}, or at {low} if it is as soft as its hardness allows",
            when=when,
            p=(press, "N"),
            b=(buckles, "N"),
            low=(buckles * case.iso.low, "N"),
        ),
    )


def _sea_table(case: Case, show: Report) -> None:
    holding, q = mounting.holding(case.q), case.q
    found = []
    each, uses = q.fasteners_each, case.used(holding.tensile, holding.shear)
    for at_sea, used, moved in zip(case.sea, uses, case.moves, strict=True):
        pull, shear = at_sea.pull / each, at_sea.shear / each
        moves = "not at all" if case.hard else (round(moved, 4), "mm")
        found.append(
            (at_sea.name, (max(pull, 0.0), "N"), (shear, "N"), (used * q.safety, "%"), moves)
        )
    show.table(
        "sea",
        "In a seaway, on the busiest fastener",
        ("When", "Pull", "Shear", "Used, with safety", "Unit moves"),
        found,
        note="Load cases: common practice, no source. Rubber stiffens as it is squeezed, so real "
        "movements are smaller.",
    )


def _washer(case: Case, show: Report) -> None:
    q = case.q
    show.figure(
        "washer",
        "Pressure under the backing plate, with safety",
        mounting.washer_pressure(case, q.bolt),
        "MPa",
        at_most=mounting.bearing(q),
    )
    if q.floor_form == "panel" and q.floor_material in CORED_FLOORS and not q.core_filled:
        show.fail(
            "bolts through a hollow core crush it: cut the core out round each hole and fill it "
            "solid, then drill"
        )


# ---- room ----


def _room(case: Case, show: Report) -> None:
    q, made = case.q, case.layout
    show.figure(
        "head",
        "Free at the pump's end",
        made.free,
        "mm",
        at_least=q.head_access,
        note=f"to pull the head; {made.blocker} ends it",
        says=told(
            show,
            "{b} blocks the pump head: {f} free, {w} wanted",
            b=made.blocker,
            f=(made.free, "mm"),
            w=(q.head_access, "mm"),
        ),
    )
    _, out, up = mounting.room_wanted(case)
    show.figure(
        "across", "Depth it wants, with the electrical box open", out, "mm", at_most=q.locker_width
    )
    show.figure("height", "Height it wants", up, "mm", at_most=q.locker_height)
    if not case.hard:
        moved = case.moved
        show.figure(
            "movement",
            "Moves in the worst sea by",
            moved,
            "mm",
            at_most=q.gap,
            note="a corner, rubber taken as even springs",
            says=told(
                show,
                "in the worst sea a corner moves {m}, and only {g} are free round it",
                m=(moved, "mm"),
                g=(q.gap, "mm"),
            ),
        )
    for what in made.struck:
        show.fail("{what} stands where the unit would", what=what)


def _attitude(case: Case, show: Report) -> None:
    q = case.q
    heel = max(q.rest_heel, q.sail_heel if q.runs_under_sail else 0.0)
    across, along = (heel, q.rest_trim) if q.lies == "fore" else (q.rest_trim, heel)
    when = "under sail" if q.runs_under_sail else "at rest"
    show.figure("tilt_across", f"Tilt across the shaft, {when}", across, "°", at_most=q.heel_limit)
    show.figure("tilt_along", f"Tilt along the shaft, {when}", along, "°", at_most=q.trim_limit)
    if case.hangs and q.on_bulkhead == "no":
        show.fail("its maker does not let it hang on a bulkhead")
    if case.hangs and q.on_bulkhead == "unknown":
        show.unknown("whether its maker lets it hang on a bulkhead: oil and vents decide; ask")


def _lift(case: Case, show: Report) -> None:
    q = case.q
    limit = lifting.lifting_limit(q.reach, q.hand_height)
    show.figure(
        "lift",
        f"Each of {q.people} lifts" if q.people > 1 else "One person lifts",
        q.unit_mass / q.people,
        "kg",
        at_most=limit,
        note="at that reach; a moving boat allows less",
    )


# ---- places ----


def _places(case: Case, show: Report) -> None:
    """The same unit on the same mounts at other places, the best first; last those that cannot be
    reckoned, each with what is wrong."""
    if not case.q.places:
        return
    found, wrong = [("as in the form", case, show)], []
    for place in case.q.places:
        try:
            found.append((place.what, *_at(case, place)))
        except Refusal as refusal:
            wrong.append((place.what, str(refusal)))
    found.sort(key=lambda f: (ORDER.index(f[2].verdict), -_gain(f[1])))
    show.table(
        "places",
        "Where it is best",
        (
            "Place",
            "Verdict",
            "The floor shakes less by",
            "least, at any of its sounds",
            "Moves at sea by",
            "What decides",
        ),
        [
            *[
                (
                    name,
                    VERDICT_WORDS[made.verdict],
                    _level(_gain(there)),
                    _level(mounting.worst_gain(there)[0]),
                    (round(there.moved, 4), "mm"),
                    made.reason(),
                )
                for name, there, made in found
            ],
            *[(name, "wrong values", "–", "–", "–", why) for name, why in wrong],
        ],
        [*[made.verdict for _, _, made in found], *[UNKNOWN] * len(wrong)],
        lead=True,
    )


ORDER = (FITS, TIGHT, UNKNOWN, FAILS)


def _gain(case: Case) -> float:
    return case.gain(case.heard.frequency)


def _at(case: Case, place: Values) -> tuple[Case, Report]:
    """The case and its figures at another place. Refuses one that cannot be."""
    q = case.q
    there = {k: v for k, v in vars(place).items() if k not in ("what", "thickness")}
    there |= {
        "floor_form": "panel",
        "floor_thickness": place.thickness,
        "doubler": 0.0,
        "battens": 0,
        "floor_plate": 0.0,
        "obstacles": (),
    }
    if place.floor_material in CORED_FLOORS:
        core = place.thickness - 2 * q.skin_thickness
        if core < 0.001:
            raise Refusal("places", "its panel is no thicker than two skins")
        there["core_thickness"] = core
    show = Report(TITLE, "", brief=True)
    made = mounting.case(Values(vars(q) | there), case)
    _judge(made, show)
    return made, show


# ---- tables ----


def _level(value: float) -> tuple[float, str]:
    """A level [dB] for a table: to a tenth, more is not known."""
    return round(value, 1) + 0.0, "dB"


def _tables(case: Case, show: Report) -> None:
    _source_table(case, show)
    _ways_table(case, show)
    if not case.hard:
        _mode_table(case, show)
    _sea_table(case, show)


def _source_table(case: Case, show: Report) -> None:
    found, states = [], []
    for source in case.sources:
        f = source.frequency
        passed = case.passed(f, case.bounce)
        gain = case.gain(f)
        told = "all of it" if case.hard else "amplified" if passed > 1 else "isolated"
        share = 1.0 if case.hard else passed
        found.append(
            (source.name, (f, "Hz"), (share, "%"), told, _level(gain), _level(case.least_gain(f)))
        )
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


def _ways_table(case: Case, show: Report) -> None:
    """What a hard pad loses: the same unit on this floor with mounts from hard to soft."""
    q, f = case.q, case.heard.frequency
    pad = rubber.block_mount(rubber.modulus_gent(70), 0.06, 0.06, 0.01)
    ways = [
        (
            line("pads {a} × {a} × {h}, 70 Shore", a=(0.06, "mm"), h=(0.01, "mm")),
            pad.compression * rubber.dynamic_ratio(70) * len(case.iso.places),
        )
    ]
    for give in (0.0005, 0.001, 0.002, 0.004):
        ways.append(
            (line("mounts that give {g}", g=(give, "mm")), 1.3 * q.unit_mass * path.GRAVITY / give)
        )
    if not case.hard:
        ways.append((line("yours"), case.iso.shaken))
    hard = "bolted down hard, yours" if case.hard else "bolted down hard"
    show.table(
        "ways",
        "Hard or soft, on this floor, at what people hear",
        ("Between unit and floor", "Bounces at", "Gain on a rigid floor", "Gain on this floor"),
        [
            (hard, "–", (0.0, "dB"), (0.0, "dB")),
            *[
                (
                    name,
                    (vibration.natural_frequency(k, q.unit_mass), "Hz"),
                    _level(case.gain(f, mounting.RIGID, k)),
                    _level(case.gain(f, None, k)),
                )
                for name, k in ways
            ],
        ],
        note="Bolted down hard it has no bounce of its own: unit and floor then bounce together.",
    )


def _mode_table(case: Case, show: Report) -> None:
    found = []
    for mode in case.modes:
        source = _nearest(case, mode.frequency)
        found.append(
            (
                mounting.way(case, mode.motion),
                (mode.frequency, "Hz"),
                source.name,
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


def _nearest(case: Case, frequency: float) -> path.Source:
    """The source nearest to a frequency [Hz], by ratio."""
    return min(case.sources, key=lambda s: abs(math.log(s.frequency / frequency)))


# ---- pictures ----


def _chart(case: Case, show: Report) -> None:
    low, high, count = 5.0, 400.0, 56
    points = [low * (high / low) ** (i / count) for i in range(count + 1)]

    def clip(level: float) -> float:
        return max(-15.0, min(50.0, level))

    show.chart(
        Chart(
            "gain",
            "What the mounts gain, by frequency",
            Axis("Frequency", "Hz", low, high, log=True),
            Axis("The floor shakes less by", "dB", -15.0, 50.0),
            [
                Series("this floor", [(f, clip(case.gain(f))) for f in points]),
                Series("at worst", [(f, clip(case.least_gain(f))) for f in points]),
                Series(
                    "rigid floor",
                    [
                        (f, clip(-vibration.ratio_level(case.passed(f, case.bounce))))
                        for f in points
                    ],
                ),
            ],
            limits=[Mark("wanted", case.q.wanted)],
            marks=[Mark(MARKS[s.key], s.frequency) for s in case.sources],
            bands=[
                Band("note", d[1] * 0.97, d[1] * 1.03)
                for d in case.floor.drums[:3]
                if low / 0.97 < d[1] < high / 1.03
            ],
            summary="Gain of the mounts in decibels over bolting down hard, against frequency: on "
            "this floor, in the mean and at worst over the places where its notes may lie, and on "
            "a rigid floor. Lines mark the sources, bands the floor's own notes.",
        )
    )


def _drawings(case: Case, show: Report) -> None:
    q, iso = case.q, case.iso
    loads = [load / path.GRAVITY for load in mounting.rest_loads(case)]
    show.drawing(locker_view.side_view(q, iso, case.hangs, "sits"))
    show.drawing(locker_view.plan_view(q, iso, case.hangs, loads))
    show.drawing(locker_view.side_view(q, iso, not case.hangs, "otherwise"))


# ---- working ----


def _working(case: Case, show: Report) -> None:
    _mount_steps(case, show)
    _floor_steps(case, show)
    _fastening_steps(case, show)


def _mount_steps(case: Case, show: Report) -> None:
    q, iso = case.q, case.iso
    if q.mount_by == "rubber":
        band = rubber.modulus_band(q.shore)
        show.step(
            "Stiffness of one bobbin, at rest",
            iso.each,
            "N/mm",
            "k = sqrt(E_1 * E_2) * (1 + 2 * (D / (4 * h))**2) * pi * D**2 / 4 / h",
            {
                "E_1": (band.low, "MPa"),
                "E_2": (band.high, "MPa"),
                "D": (q.rubber_diameter, "mm"),
                "h": (q.rubber_height, "mm"),
            },
            "Moduli of Gent and of Ruess for this hardness; shape factor by Gent and Lindley, "
            "Strojniški vestnik 60 (2014) 506-511",
            "The two published relations disagree; this is their middle.",
        )
        _buckling_step(case, show)
    if not case.hard:
        show.step(
            "Bounces on a rigid floor at",
            case.bounce,
            "Hz",
            "f_n = sqrt(n * c * k / m) / (2 * pi)",
            {
                "n": (float(len(iso.places)), ""),
                "c": (iso.ratio, "×"),
                "k": (iso.each, "N/mm"),
                "m": (q.unit_mass, "kg"),
            },
            "K. Ogata, System Dynamics, 4th ed., ch. 8; rubber's stiffening c: common practice",
        )
    lowest = case.sources[0].frequency
    show.step(
        "Share of the slowest vibration that reaches the floor",
        case.passed(lowest, case.on_floor),
        "%",
        "T = sqrt((1 + eta**2) / ((1 - (f / f_b)**2)**2 + eta**2))",
        {"eta": (iso.loss, "×"), "f": (lowest, "Hz"), "f_b": (case.on_floor, "Hz")},
        "T. E. Vigran, Building Acoustics, eq. (2.43), p. 51, with the floor's stiffness in series",
        "Damping is a loss factor, the same at every frequency, as in all that is told of mounts.",
    )


def _buckling_step(case: Case, show: Report) -> None:
    q, iso = case.q, case.iso
    band = rubber.modulus_band(q.shore)
    bobbin = rubber.disc_mount(math.sqrt(band.low * band.high), q.rubber_diameter, q.rubber_height)
    show.step(
        "One bobbin buckles at",
        iso.buckles,
        "N",
        "P = S / 2 * (sqrt(1 + 4 * P_E / S) - 1)",
        {
            "S": (bobbin.rigidity, "N"),
            "P_E": (math.pi**2 * bobbin.bending / q.rubber_height**2, "N"),
        },
        "J. M. Kelly, S. M. Takhirov, Journal of Mechanics of Materials and Structures 2 (2007) "
        "1591, after J. A. Haringx",
        "S = G A, P_E = π² E I / h², ends held level and free to sway. The nearer the load comes "
        "to it, the softer the bobbin is sideways; that is counted in the six motions.",
    )


def _floor_steps(case: Case, show: Report) -> None:
    q, iso, f = case.q, case.iso, case.heard.frequency
    _note_step(case, show)
    if case.hard:
        return
    w = 2 * math.pi * f
    mounts = vibration.spring_mobility(iso.shaken, iso.loss, f)
    machine = vibration.mass_mobility(q.unit_mass, f)
    show.step(
        "Mobility of the mounts",
        abs(mounts),
        "mm/(s N)",
        "Y_i = 2 * pi * f / (k * sqrt(1 + eta**2))",
        {"f": (f, "Hz"), "k": (iso.shaken, "N/mm"), "eta": (iso.loss, "×")},
        "T. E. Vigran, Building Acoustics, § 2.5",
    )
    show.step(
        "Mobility of the unit",
        1 / (w * q.unit_mass),
        "mm/(s N)",
        "Y_m = 1 / (2 * pi * f * m)",
        {"f": (f, "Hz"), "m": (q.unit_mass, "kg")},
        "T. E. Vigran, Building Acoustics, § 2.5",
    )
    floors = [y for y in case.floor.mobilities(f) if y]
    if not floors:
        return
    hard, soft = [
        math.exp(sum([math.log(abs(y / (machine + between + y))) for y in floors]) / len(floors))
        for between in (0j, mounts)
    ]
    show.step(
        "The floor shakes less by",
        case.gain(f),
        "dB",
        "G = 20 * log10(v_h / v_m)",
        {"v_h": (hard * abs(machine), "mm/(s N)"), "v_m": (soft * abs(machine), "mm/(s N)")},
        "T. E. Vigran, Building Acoustics, eq. (2.43), p. 51",
        "How fast the floor moves for each newton inside the unit, bolted down hard and on the "
        "mounts: |Y_f Y_m / (Y_m + Y_i + Y_f)|, with Y_i and Y_m as above and Y_f the sum of the "
        "floor's modes under the feet. Geometric mean over the places where its notes may lie.",
    )


def _note_step(case: Case, show: Report) -> None:
    """The floor's first note, where a formula gives it: an even panel, supported all round."""
    q, floor = case.q, case.floor
    panel = floor.panel
    if panel is None or q.battens or q.floor_plate or q.floor_edges != "supported":
        return
    shear = panel.section.shear
    if not math.isinf(shear):
        return
    show.step(
        "The floor's first note",
        floor.drums[0][1],
        "Hz",
        "f_1 = pi / 2 * sqrt(B / m) * (1 / a**2 + 1 / b**2)",
        {
            "B": (floor.bending, "N m"),
            "m": (floor.mass_per_area, "kg/m2"),
            "a": (floor.length, "mm"),
            "b": (floor.width, "mm"),
        },
        f"R. D. Blevins, Formulas for Natural Frequency and Mode Shape; panel: {floor.source}",
        "B is its bending stiffness per metre of width. The notes above it are found likewise, and "
        "all may lie a quarter off: wood and laminate scatter, and edges are neither quite free to "
        "turn nor quite held.",
    )


def _fastening_steps(case: Case, show: Report) -> None:
    q = case.q
    if q.fix_by == "bolts":
        diameter, pitch = fasteners.COARSE_PITCH[q.bolt]
        grade = fasteners.BOLT_CLASSES[q.bolt_class]
        show.step(
            "Breaking load of one bolt",
            fasteners.bolt_strength(q.bolt, q.bolt_class).tensile,
            "N",
            "F = R_m * pi / 4 * (d - 0.9382 * p)**2",
            {"R_m": (grade.tensile, "MPa"), "d": (diameter, "mm"), "p": (pitch, "mm")},
            "ISO 898-1, stress area; ISO 3506-1 or ISO 898-1, property class",
        )
    elif q.fix_by == "screws":
        depth, gravity = mounting.wood_depth(q), fasteners.WOODS[q.wood].specific_gravity
        show.step(
            "Breaking pull of one screw",
            fasteners.wood_screw_withdrawal(gravity, q.screw, depth),
            "N",
            "F = 108.25e6 * G**2 * D * L",
            {"G": (gravity, ""), "D": (q.screw, "mm"), "L": (depth, "mm")},
            "USDA Wood Handbook, ch. 8 (from memory)",
            "Plywood held less than this in tests; sideways it is taken to hold as much as "
            "outwards (common practice).",
        )
    show.step(
        "One person lifts at most",
        lifting.lifting_limit(q.reach, q.hand_height),
        "kg",
        "m = 23 * min(1, 0.25 / r) * max(0, 1 - 0.3 * abs(h - 0.75))",
        {"r": (q.reach, "mm"), "h": (q.hand_height, "mm")},
        "NIOSH 94-110, revised lifting equation, other multipliers 1",
    )


def _captive(case: Case, show: Report) -> None:
    """What must hold when the sea pulls the unit off its rubber."""
    when, pull = mounting.worst_mount_pull(case)
    if pull > 0:
        show.note("At sea a foot is pulled by up to {pull} ({when}).", pull=(pull, "N"), when=when)
    show.note(
        "Pads carry no pull: bolt through them, with rubber washers under the heads, so that the "
        "unit cannot leave them."
        if case.q.mount_by == "pad"
        else "Choose captive mounts, in which metal holds metal even if the rubber tears: a plain "
        "bobbin that tears lets the unit go."
    )


def _remarks(case: Case, show: Report) -> None:
    q, iso = case.q, case.iso
    if iso.high > 1:
        show.note(
            "Hardness tells a rubber's stiffness only roughly: by the two published relations it "
            "bounces at {a} to {b}. Measure how far the weight presses the mounts down, and use "
            "that.",
            a=(case.bounce * math.sqrt(iso.low), "Hz"),
            b=(case.bounce * math.sqrt(iso.high), "Hz"),
        )
    loop = (fasteners.hose_loop_length(q.hose_bend, 0.05), "mm")
    if case.hard:
        show.note(
            "Every hose and cable still wants a flexible last length, best a loop of {r}: pipes "
            "carry the shaking past the floor.",
            r=loop,
        )
    else:
        offset = min(case.moved, 2 * q.hose_bend)
        show.note(
            "Every hose and cable needs a flexible last length, or it bridges the mounts: at "
            "least {l} free for a straight run, better a loop of {r}. Nothing rigid may touch the "
            "unit.",
            l=(fasteners.hose_length_for_offset(offset, q.hose_bend), "mm"),
            r=loop,
        )
    show.note(
        "Lead drain and vent to where you can see them, the drain downhill at your usual heel, "
        "and keep the oil plugs in reach with the unit bolted down."
    )
    if not case.hard:
        _captive(case, show)
    if case.hangs:
        show.note(
            "On a bulkhead the mounts carry the weight in shear: put a ledge under the lower edge."
        )
    if q.fix_by != "bolts":
        show.note("Screws work loose where something shakes. Through-bolts with lock nuts stay.")
