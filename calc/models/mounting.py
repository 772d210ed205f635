"""A unit on its mounts over its floor, worked out once: what shakes it, what the sea does to it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import NamedTuple

from ..boat import FLOOR
from ..equipment.choices import CORED_FLOORS, SOLID_FLOORS
from ..inputs import Refusal, Values
from ..physics import fasteners, rubber, vibration
from . import locker_view
from . import vibration_path as path

DRUM_GAP = 0.15
"""A motion or a panel mode nearer than this to a source answers it: common practice, no source."""
SEA_LOAD = 3.0
"""What a mount stands for a moment, as a multiple of what it carries for good: common practice."""
BEARING = {"grp": 50e6, "metal": 150e6, "cored": 50e6}
"""Pressure [Pa] under a washer on laminate and metal, common practice; wood has its own table."""
WOODEN = ("plywood", "softwood", "hardwood")
ON_FLOOR = "unit bouncing on it"

Vector = tuple[float, float, float]


class AtSea(NamedTuple):
    """A load case: loads on all feet to either side [N], and how far the unit moves [m]."""

    name: str
    feet: list[fasteners.BoltLoad]
    moved: float


class Holding(NamedTuple):
    """What holds a foot: breaking pull and shear of one fastener [N], and what it is."""

    tensile: float
    shear: float
    what: str


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

    def gain(self, f: float, floor: complex, stiffness: float | None = None) -> float:
        """What the mounts gain over bolting down hard [dB], at f [Hz] on a floor [m/(N s)]."""
        if self.hard and stiffness is None:
            return 0.0
        k = self.iso.shaken if stiffness is None else stiffness
        return vibration.ratio_level(
            path.effectiveness(self.q.unit_mass, k, self.iso.loss, floor, f)
        )

    def passed(self, f: float, natural: float) -> float:
        return vibration.transmissibility(f, natural, rubber.damping_ratio(self.iso.loss))

    @cached_property
    def sea(self) -> tuple[AtSea, ...]:
        """All load cases."""
        found = []
        for load in fasteners.SEA_LOADS:
            forces = _forces(self, load)
            feet = [foot for force in forces for foot in _feet(self, force)]
            found.append(AtSea(load.name, feet, max(_movement(self, f) for f in forces)))
        return tuple(found)

    @cached_property
    def fasteners(self) -> tuple[list[fasteners.BoltLoad], ...]:
        """Loads on single fasteners by load case."""
        each = self.q.fasteners_each
        if each == 1:
            return tuple(at_sea.feet for at_sea in self.sea)
        return tuple(
            [fasteners.BoltLoad(b.tension / each, b.shear / each) for b in at_sea.feet]
            for at_sea in self.sea
        )

    @property
    def moved(self) -> float:
        """How far the unit moves in the worst sea [m]; not at all when bolted down hard."""
        return 0.0 if self.hard else max(case.moved for case in self.sea)

    @cached_property
    def compliance(self) -> tuple[Vector, ...]:
        """How the unit moves and turns (surge … yaw) under 1 N along x, y and z: [m/N], [rad/N]."""
        softness = [
            (m.shape, self.iso.ratio / (2 * math.pi * m.frequency) ** 2) for m in self.modes
        ]
        rows = [[sum(s[i] * s[j] * c for s, c in softness) for j in range(3)] for i in range(6)]
        return tuple((x, y, z) for x, y, z in rows)


_FLOOR = tuple(name for name, made in path.PathInputs.fields.items() if made.group == FLOOR)


def case(q: Values, like: Case | None = None) -> Case:
    """The case of a form's values.

    `like` is a case of the same unit with other mounts, floor or room: what it shares with this one
    is not worked out again.
    """
    iso = path.isolator(q)
    modes = None if like is None else _scaled_modes(iso, like)
    if modes is None:
        path.check_standing(q, iso)
        modes = path.modes(path.body(q), path.springs(q, iso, iso.ratio))
    if like is not None and all(getattr(q, n) == getattr(like.q, n) for n in _FLOOR):
        floor = like.floor
    else:
        floor = path.floor(q, iso.places)
    return Case(
        q, iso, floor, like.sources if like else path.sources(q), modes,
        vibration.natural_frequency(iso.shaken, q.unit_mass), on_floor(q, iso, floor),
    )  # fmt: skip


def _scaled_modes(iso: path.Isolator, like: Case) -> tuple[vibration.Mode, ...] | None:
    """The modes on mounts that are those of `like`, only stiffer or softer; None on others."""
    other = like.iso
    if iso == other:
        return like.modes
    if iso.height != other.height or not math.isclose(iso.side * other.each, iso.each * other.side):
        return None
    root = math.sqrt(iso.each * iso.ratio / (other.each * other.ratio))
    return tuple(replace(mode, frequency=mode.frequency * root) for mode in like.modes)


def on_floor(q: Values, iso: path.Isolator, floor: path.Floor) -> float:
    """Where the unit bounces on mounts and floor [Hz]."""
    together = vibration.series_stiffness(iso.shaken, floor.stiffness)
    return vibration.natural_frequency(together, q.unit_mass)


# ---- what answers the sources ----


def nearest_drum(made: Case) -> tuple[float, path.Drum, path.Source]:
    """The panel mode that lies nearest to a source: distance as a share, mode, source."""
    drums = (*made.floor.drums, (ON_FLOOR, made.on_floor))
    return min(
        ((abs(d[1] / s.frequency - 1), d, s) for d in drums for s in made.sources),
        key=lambda found: found[0],
    )


def nearest_motion(made: Case) -> tuple[float, vibration.Mode, path.Source]:
    """The motion on the mounts that lies nearest to a source: distance, mode, source."""
    return min(
        ((abs(m.frequency / s.frequency - 1), m, s) for m in made.modes for s in made.sources),
        key=lambda found: found[0],
    )


# ---- at rest ----


def rest_deflection(made: Case) -> float:
    """How far the weight presses or shears the mounts [m]."""
    iso = made.iso
    one = iso.side if made.hangs else iso.each
    return vibration.static_deflection(made.q.unit_mass, one * len(iso.places))


def rest_loads(made: Case) -> list[float]:
    """Load on each foot [N], the way that the weight acts on it."""
    q, iso = made.q, made.iso
    weight = q.unit_mass * path.GRAVITY
    if not made.hangs:
        return vibration.mount_loads(weight, (q.cg_along, 0.0), iso.places)
    return [b.shear for b in _feet(made, (0.0, -weight, 0.0))]


# ---- at sea ----


def _forces(made: Case, load: fasteners.SeaLoad) -> list[Vector]:
    """Forces [N] on the unit in its own axes for a load case, to either side."""
    weight = made.q.unit_mass * path.GRAVITY
    times = weight * made.q.sea
    along, across = load.along * times, load.across * times
    # Heave is scaled about the weight, which no calm water takes away.
    down = weight + (load.down - 1) * times
    if made.q.lies == "athwart":
        along, across = across, along
    if not made.hangs:
        return [(sign * along, across, -down) for sign in (1.0, -1.0)]
    return [(sign * along, -down, across) for sign in (1.0, -1.0)]


def _feet(made: Case, force: Vector) -> tuple[fasteners.BoltLoad, ...]:
    """Loads on all feet [N] under a force [N] at the centre of gravity."""
    q = made.q
    return _group_loads(force, (q.cg_along, 0.0, q.cg_height + made.iso.height), made.iso.places)


@lru_cache(maxsize=128)
def _group_loads(
    force: Vector, centre: Vector, places: tuple[tuple[float, float], ...]
) -> tuple[fasteners.BoltLoad, ...]:
    return tuple(fasteners.bolt_group_loads(force, centre, places))


def _movement(made: Case, force: Vector) -> float:
    """Movement [m] of the farthest upper corner away from rest; rubber taken as linear."""
    q, weight = made.q, made.q.unit_mass * path.GRAVITY
    fx, fy, fz = force
    if made.hangs:
        fy += weight
    else:
        fz += weight
    u = [fx * cx + fy * cy + fz * cz for cx, cy, cz in made.compliance]
    x, y, z = q.unit_length / 2, q.unit_width / 2, max(q.unit_height - q.cg_height, 0.0)
    return max(
        math.hypot(
            u[0] + u[4] * z - u[5] * side,
            u[1] - u[3] * z + u[5] * end,
            u[2] + u[3] * side - u[4] * end,
        )
        for side in (y, -y) for end in (x, -x)
    )  # fmt: skip


def worst_mount_pull(made: Case) -> tuple[str, float]:
    """The load case with the greatest pull on a foot, and that pull [N]; 0 if none is pulled."""
    name, pull = max(
        ((at_sea.name, max(b.tension for b in at_sea.feet)) for at_sea in made.sea),
        key=lambda found: found[1],
    )
    return name, max(pull, 0.0)


def worst_pull(made: Case) -> float:
    """The greatest pull on a fastener [N]."""
    return max(0.0, *(b.tension for feet in made.fasteners for b in feet))


def used_with_safety(made: Case, holding: Holding) -> float:
    """Share of the busiest fastener's strength that is used, times the safety factor."""
    used = (fasteners.combined_use(b, holding.tensile, holding.shear)
            for feet in made.fasteners for b in feet)  # fmt: skip
    return max(used) * float(made.q.safety)


def rating_wanted(made: Case) -> float:
    """Load [N] that a mount must carry for good, pressed, to stand rest and sea."""
    share = made.iso.side / made.iso.each
    wanted = [max(rest_loads(made)) / (share if made.hangs else 1.0)]
    for at_sea in made.sea:
        for b in at_sea.feet:
            wanted += [abs(b.tension) / SEA_LOAD, b.shear / share / SEA_LOAD]
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
    plan = locker_view.layout(q, made.iso, made.hangs).plan
    length = q.gap + q.unit_length + q.head_access
    if made.hangs:
        return length, plan.y1 + q.box_access, q.unit_width + 2 * q.hands
    height = made.iso.height + q.unit_height + q.gap
    return length, plan.y1 + max(q.box_access, q.hands), height
