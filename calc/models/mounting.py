"""A unit on its mounts over its floor, worked out once: what shakes it, what the sea does to it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

from ..equipment.choices import CORED_FLOORS, SOLID_FLOORS
from ..frame.inputs import Refusal, Values
from ..physics import fasteners, vibration
from ..sheet.groups import FLOOR
from . import locker_view
from . import vibration_path as path

NEAR = 0.15
"""A motion of the unit nearer than this to a source answers it: common practice, no source."""
SEA_LOAD = 3.0
"""What a mount stands for a moment, as a multiple of what it carries for good: common practice."""
BEARING = {"grp": 50e6, "metal": 150e6, "cored": 50e6}
"""Pressure [Pa] under a washer on laminate and metal, common practice; wood has its own table."""
WOODEN = ("plywood", "softwood", "hardwood")
AUDIBLE = ("plungers", "plungers2", "hum")
RIGID = (0j,)
"""The mobility of a floor that does not move."""

Vector = tuple[float, float, float]


class AtSea(NamedTuple):
    """A load case: forces on the unit and loads on all its feet, to either side [N].

    pull, push, shear: the greatest on a foot; pull is below zero where none is pulled, push is the
    greatest up or down.
    """

    name: str
    forces: tuple[Vector, ...]
    feet: tuple[fasteners.BoltLoad, ...]
    pull: float
    push: float
    shear: float


class Holding(NamedTuple):
    """What holds a foot: breaking pull and shear of one fastener [N], and what it is."""

    tensile: float
    shear: float
    what: str


def gain(
    mass: float, stiffness: float, loss: float, floors: Sequence[complex], frequency: float
) -> float:
    """What mounts of a shaken stiffness [N/m] gain under a mass [kg] over bolting down hard [dB],
    on a floor that is one of several [m/(N s)]."""
    machine = vibration.mass_mobility(mass, frequency)
    mounts = vibration.spring_mobility(stiffness, loss, frequency)
    return vibration.ratio_level(vibration.mean_effectiveness(machine, mounts, floors))


@dataclass(frozen=True)
class Case:
    """The unit on its mounts over its floor."""

    q: Values
    iso: path.Isolator
    floor: path.Floor
    sources: tuple[path.Source, ...]
    modes: tuple[vibration.Mode, ...]
    bounce: float  # Hz, on a rigid floor
    on_floor: float  # Hz, with the floor as a second spring

    @property
    def heard(self) -> path.Source:
        return path.loudest(self.sources)

    @property
    def hangs(self) -> bool:
        return bool(self.q.attitude == "bulkhead")

    @property
    def hard(self) -> bool:
        """Whether it is bolted down without any mounts."""
        return bool(self.q.mount_by == "hard")

    @property
    def carries(self) -> float:
        """Load [N] that one mount carries for good, the way that the weight acts on it."""
        return self.iso.side_rating if self.hangs else self.iso.rating

    def gain(
        self, f: float, floors: Sequence[complex] | None = None, stiffness: float | None = None
    ) -> float:
        """What the mounts gain over bolting down hard [dB], at f [Hz].

        On this floor, wherever its notes may lie, or on any of `floors` [m/(N s)].
        """
        if self.hard and stiffness is None:
            return 0.0
        return gain(
            self.q.unit_mass,
            self.iso.shaken if stiffness is None else stiffness,
            self.iso.loss,
            self.floor.mobilities(f) if floors is None else floors,
            f,
        )

    def least_gain(self, f: float) -> float:
        """As `gain`, with the floor's notes where they do most harm."""
        return min([self.gain(f, (floor,)) for floor in self.floor.mobilities(f)])

    @property
    def audible(self) -> tuple[path.Source, ...]:
        """The sources that people hear: all but what turns, which is felt."""
        return tuple([s for s in self.sources if s.key in AUDIBLE])

    def passed(self, f: float, natural: float) -> float:
        """Share of a force at f [Hz] that is passed on where it bounces at `natural` [Hz]."""
        return vibration.hysteretic_transmissibility(f, natural, self.iso.loss)

    @cached_property
    def layout(self) -> locker_view.Layout:
        """Where all stands in the locker."""
        return locker_view.layout(self.q, self.iso, self.hangs)

    @cached_property
    def sea(self) -> tuple[AtSea, ...]:
        """All load cases."""
        q = self.q
        return _sea_loads(
            q.unit_mass * path.GRAVITY,
            q.sea,
            q.lies == "athwart",
            self.hangs,
            _centre(self),
            self.iso.places,
        )

    def used(self, tensile: float, shear: float) -> tuple[float, ...]:
        """Share of the busiest fastener's strength [N] that is used, by load case."""
        return _used(self.sea, self.q.fasteners_each, tensile, shear)

    @cached_property
    def moves(self) -> tuple[float, ...]:
        """How far the unit moves [m], by load case; not at all when bolted down hard."""
        if self.hard:
            return (0.0,) * len(self.sea)
        q, weight = self.q, self.q.unit_mass * path.GRAVITY
        down = (0.0, -weight, 0.0) if self.hangs else (0.0, 0.0, -weight)
        corner = (q.unit_length / 2, q.unit_width / 2, max(q.unit_height - q.cg_height, 0.0))
        return _moves(self.modes, self.iso.ratio, self.sea, down, corner)

    @property
    def moved(self) -> float:
        """How far the unit moves in the worst sea [m]."""
        return max(self.moves)


_FLOOR = tuple(name for name, made in path.PathInputs.fields.items() if made.group == FLOOR)
_UNIT = ("unit_mass", "unit_length", "unit_width", "unit_height", "cg_height", "cg_along")


def case(q: Values, like: Case | None = None) -> Case:
    """The case of a form's values.

    `like` is a case of the same unit with other mounts, floor or room: what it shares with this one
    is not worked out again.
    """
    iso = path.isolator(q, hangs=q.attitude == "bulkhead")
    same_unit = like is not None and all(getattr(q, n) == getattr(like.q, n) for n in _UNIT)
    modes = _scaled_modes(iso, like) if like and same_unit else None
    if modes is None:
        path.check_standing(q, iso)
        modes = path.modes(path.body(q), path.springs(q, iso, iso.ratio))
    if like is not None and all(getattr(q, n) == getattr(like.q, n) for n in _FLOOR):
        floor = like.floor
    else:
        floor = path.floor(q, iso.places)
    return Case(
        q,
        iso,
        floor,
        like.sources if like else path.sources(q),
        modes,
        vibration.natural_frequency(iso.shaken, q.unit_mass),
        on_floor(q, iso, floor),
    )


def _scaled_modes(iso: path.Isolator, like: Case) -> tuple[vibration.Mode, ...] | None:
    """The modes on mounts that are those of `like`, only stiffer or softer; None on others."""
    other = like.iso
    if iso == other:
        return like.modes
    if iso.height != other.height or not math.isclose(iso.side * other.each, iso.each * other.side):
        return None
    root = math.sqrt(iso.each * iso.ratio / (other.each * other.ratio))
    return tuple([mode._replace(frequency=mode.frequency * root) for mode in like.modes])


def on_floor(q: Values, iso: path.Isolator, floor: path.Floor) -> float:
    """Where the unit bounces on mounts and floor [Hz]."""
    together = vibration.series_stiffness(iso.shaken, floor.stiffness)
    on_it = q.unit_mass + (floor.plate if q.mount_by == "hard" else 0.0)
    return vibration.natural_frequency(together, on_it)


# ---- what answers the sources ----

WAYS = {
    False: {
        "surge": "along the shaft",
        "sway": "across the shaft",
        "heave": "up and down",
        "roll": "rocking across the shaft",
        "pitch": "rocking along the shaft",
        "yaw": "turning flat",
    },
    True: {
        "surge": "along the shaft",
        "sway": "up and down",
        "heave": "in and out",
        "roll": "rocking top to bottom",
        "pitch": "rocking end to end",
        "yaw": "turning flat on the bulkhead",
    },
}
"""How each motion looks to somebody before it: standing, and hung on a bulkhead."""


def way(made: Case, motion: str) -> str:
    """A motion in plain words, as it goes where the unit stands or hangs."""
    return WAYS[made.hangs][motion]


def worst_gain(made: Case) -> tuple[float, path.Source]:
    """The least that the mounts gain [dB] over bolting down hard at a source that people hear, and
    that source."""
    return min([(made.gain(s.frequency), s) for s in made.audible], key=lambda f: f[0])


def nearest_drum(made: Case) -> tuple[float, path.Drum, path.Source]:
    """The floor's note that lies nearest to a source: distance as a share, note, source."""
    apart, index, source = _nearest([f for _, f in made.floor.drums], made.sources)
    return apart, made.floor.drums[index], source


def nearest_motion(made: Case) -> tuple[float, str, float, path.Source]:
    """The motion on mounts and floor that lies nearest to a source: distance as a share, what it
    is, frequency [Hz], source. A unit bolted down hard has its bounce on the floor alone."""
    motions = [] if made.hard else [(way(made, m.motion), m.frequency) for m in made.modes]
    motions.append((f"bounce {way(made, 'heave')} on this floor", made.on_floor))
    apart, index, source = _nearest([f for _, f in motions], made.sources)
    return apart, *motions[index], source


def _nearest(
    frequencies: Sequence[float], sources: Sequence[path.Source]
) -> tuple[float, int, path.Source]:
    """The frequency that lies nearest to a source: distance as a share, its index, source."""
    nearest = (math.inf, 0, sources[0])
    for index, frequency in enumerate(frequencies):
        for source in sources:
            apart = abs(frequency / source.frequency - 1)
            if apart < nearest[0]:
                nearest = (apart, index, source)
    return nearest


# ---- at rest ----


def rest_deflection(made: Case) -> float:
    """How far the weight presses or shears the mounts [m]."""
    iso = made.iso
    one = iso.side if made.hangs else iso.each
    return vibration.static_deflection(made.q.unit_mass, one * len(iso.places))


def rest_loads(made: Case) -> tuple[float, ...]:
    """Load on each foot [N], the way that the weight acts on it."""
    return _rest_loads(made.q.unit_mass * path.GRAVITY, made.hangs, _centre(made), made.iso.places)


@lru_cache(maxsize=8)
def _rest_loads(
    weight: float, hangs: bool, centre: Vector, places: path.Places
) -> tuple[float, ...]:
    if not hangs:
        return tuple(vibration.mount_loads(weight, centre[:2], places))
    feet = fasteners.bolt_group_loads((0.0, -weight, 0.0), centre, places)
    return tuple([b.shear for b in feet])


# ---- at sea ----


def _centre(made: Case) -> Vector:
    """The centre of gravity [m] from the middle of the feet's lower ends."""
    return (made.q.cg_along, 0.0, made.q.cg_height + made.iso.height)


@lru_cache(maxsize=8)
def _sea_loads(
    weight: float, sea: float, athwart: bool, hangs: bool, centre: Vector, places: path.Places
) -> tuple[AtSea, ...]:
    """All load cases of a unit of a weight [N] with its centre [m] over its feet."""
    found = []
    for load in fasteners.SEA_LOADS:
        forces = _forces(load, weight, sea, athwart, hangs)
        feet = [b for f in forces for b in fasteners.bolt_group_loads(f, centre, places)]
        pulls = [b.tension for b in feet]
        found.append(
            AtSea(
                load.name,
                forces,
                tuple(feet),
                max(pulls),
                max(map(abs, pulls)),
                max([b.shear for b in feet]),
            )
        )
    return tuple(found)


def _forces(
    load: fasteners.SeaLoad, weight: float, sea: float, athwart: bool, hangs: bool
) -> tuple[Vector, ...]:
    """Forces [N] on the unit in its own axes for a load case, to either side."""
    times = weight * sea
    along, across = load.along * times, load.across * times
    # Heave is scaled about the weight, which no calm water takes away.
    down = weight + (load.down - 1) * times
    if athwart:
        along, across = across, along
    y, z = (-down, across) if hangs else (across, -down)
    return ((along, y, z), (-along, y, z)) if along else ((0.0, y, z),)


@lru_cache(maxsize=16)
def _used(sea: tuple[AtSea, ...], each: int, tensile: float, shear: float) -> tuple[float, ...]:
    return tuple(
        [
            max(
                [
                    fasteners.combined_use(
                        fasteners.BoltLoad(pull / each, across / each), tensile, shear
                    )
                    for pull, across in at_sea.feet
                ]
            )
            for at_sea in sea
        ]
    )


@lru_cache(maxsize=16)
def _moves(
    modes: tuple[vibration.Mode, ...],
    ratio: float,
    sea: tuple[AtSea, ...],
    rest: Vector,
    corner: Vector,
) -> tuple[float, ...]:
    """Movement [m] of the farthest upper corner away from rest, by load case.

    ratio: shaken stiffness of the mounts over that at rest, at which they move; rubber is taken as
    linear. rest: the weight [N] that they bear already; corner: from the centre of gravity [m].
    """
    soft = _compliance(modes, ratio)
    return tuple([max([_movement(soft, f, rest, corner) for f in a.forces]) for a in sea])


def _compliance(modes: tuple[vibration.Mode, ...], ratio: float) -> list[list[float]]:
    """How a unit moves and turns (surge … yaw) under 1 N along x, y and z: [m/N], [rad/N]."""
    rows = [[0.0] * 3 for _ in range(6)]
    for mode in modes:
        soft = ratio / (2 * math.pi * mode.frequency) ** 2
        pushed = [(j, x) for j, x in enumerate(mode.shape[:3]) if x]
        for row, given in zip(rows, mode.shape, strict=True):
            for j, x in pushed:
                row[j] += given * x * soft
    return rows


def _movement(soft: list[list[float]], force: Vector, rest: Vector, corner: Vector) -> float:
    """Movement [m] of the farthest upper corner under a force [N], see `_moves`."""
    fx, fy, fz = [f - r for f, r in zip(force, rest, strict=True)]
    surge, sway, heave, roll, pitch, yaw = [fx * cx + fy * cy + fz * cz for cx, cy, cz in soft]
    x, y, z = corner
    surge, sway = surge + pitch * z, sway - roll * z
    return max(
        [
            math.hypot(surge - yaw * side, sway + yaw * end, heave + roll * side - pitch * end)
            for side, end in ((y, x), (y, -x), (-y, x), (-y, -x))
        ]
    )


def worst_mount_pull(made: Case) -> tuple[str, float]:
    """The load case with the greatest pull on a foot, and that pull [N]; 0 if none is pulled."""
    worst = max(made.sea, key=lambda at_sea: at_sea.pull)
    return worst.name, max(worst.pull, 0.0)


class MountUse(NamedTuple):
    """A load on a mount at sea: as a multiple of what it carries that way for good, in newtons,
    what it does to the mount, and the load case."""

    times: float
    force: float
    how: str
    when: str


def worst_mount_use(made: Case) -> MountUse:
    """The load on a mount at sea that is most for what it carries."""
    return max(_mount_uses(made), key=lambda use: use.times)


def _mount_uses(made: Case) -> Iterator[MountUse]:
    iso = made.iso
    for at_sea in made.sea:
        how = "pulled" if at_sea.pull >= at_sea.push else "pressed"
        yield MountUse(at_sea.push / iso.rating, at_sea.push, how, at_sea.name)
        yield MountUse(at_sea.shear / iso.side_rating, at_sea.shear, "sheared", at_sea.name)


def hardest_press(made: Case) -> tuple[str, float]:
    """The load case that presses a mount most, and that load [N]."""
    found = [(a.name, -min([foot.tension for foot in a.feet])) for a in made.sea]
    return max(found, key=lambda case: case[1])


def worst_pull(made: Case) -> float:
    """The greatest pull on a fastener [N]."""
    return max(0.0, *[at_sea.pull for at_sea in made.sea]) / float(made.q.fasteners_each)


def used_with_safety(made: Case, holding: Holding) -> float:
    """Share of the busiest fastener's strength that is used, times the safety factor."""
    return max(made.used(holding.tensile, holding.shear)) * float(made.q.safety)


def rating_wanted(made: Case) -> float:
    """Load [N] that a mount must carry for good, pressed, to stand rest and sea."""
    share = made.iso.side / made.iso.each
    wanted = [max(rest_loads(made)) / (share if made.hangs else 1.0)]
    for at_sea in made.sea:
        wanted += [at_sea.push / SEA_LOAD, at_sea.shear / share / SEA_LOAD]
    return max(wanted)


# ---- what holds it ----


def holding(q: Values, bolt: str | None = None) -> Holding:
    """The fastener asked for, or another bolt. Refuses wood screws where there is no wood."""
    if q.fix_by == "bolts":
        bolt = bolt or q.bolt
        strong = fasteners.bolt_strength(bolt, q.bolt_class)
        return Holding(strong.tensile, strong.shear, f"{bolt} {q.bolt_class}")
    depth = wood_depth(q)
    gravity = fasteners.WOODS[q.wood].specific_gravity
    hold = (
        fasteners.wood_screw_withdrawal if q.fix_by == "screws" else fasteners.lag_screw_withdrawal
    )
    held = hold(gravity, q.screw, depth)
    return Holding(held, held, "screw")


def wood_depth(q: Values) -> float:
    """Wood [m] that a screw's thread sits in; refuses a floor that is not wood."""
    if q.floor_form == "bearers":
        if q.bearer_material in WOODEN:
            return float(q.bearer_depth)
        raise Refusal("fix_by", "wood screws hold in wood only, and these bearers are metal")
    if q.floor_material in WOODEN:
        return float(q.floor_thickness + q.doubler)
    if q.floor_material in SOLID_FLOORS and q.doubler > 0:
        return float(q.doubler)
    raise Refusal(
        "fix_by", "wood screws hold in wood only: bolt through, or bond a plywood doubler on first"
    )


def bearing(q: Values) -> float:
    """Pressure [Pa] that the far side of the floor stands under a washer."""
    material = q.bearer_material if q.floor_form == "bearers" else q.floor_material
    if material in WOODEN:
        return fasteners.WOODS[q.wood].bearing
    if material in ("steel", "aluminium"):
        return BEARING["metal"]
    return BEARING["cored" if material in CORED_FLOORS else "grp"]


def washer_pressure(made: Case, bolt: str) -> float:
    """Pressure [Pa] under the backing plate, with safety. Refuses one no wider than the hole."""
    q = made.q
    if q.washer <= hole(bolt):
        raise Refusal("washer", "the backing plate is no wider than the bolt's hole")
    return float(q.safety * fasteners.washer_pressure(worst_pull(made), q.washer, hole(bolt)))


def hole(bolt: str) -> float:
    """Diameter [m] of a bolt's hole."""
    return fasteners.COARSE_PITCH[bolt][0] * 1.1


# ---- room ----


def room_wanted(made: Case) -> Vector:
    """Length, depth and height [m] of locker that the unit wants with its accesses."""
    q = made.q
    plan = made.layout.plan
    length = q.gap + q.unit_length + q.head_access
    if made.hangs:
        return length, plan.y1 + q.box_access, q.unit_width + 2 * q.hands
    height = made.iso.height + q.unit_height + q.gap
    return length, plan.y1 + max(q.box_access, q.hands), height
