"""What holds a unit to the boat: seaway loads, bolts, wood screws, backing plates, hose bends.

Forces in N, lengths in m, stresses in Pa, masses in kg; accelerations as multiples of g.
"""

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of gravity, m/s² (BIPM, 3rd CGPM 1901)."""


def _positive(value: float, what: str) -> None:
    if not value > 0:
        raise ValueError(f"{what} must be greater than zero")


# Seaway


class SeaLoad(NamedTuple):
    """A load case: acceleration felt by the unit along, across and down the boat, as g.

    At rest down is 1; down -1 is the boat upside down. Weight is part of `down`.
    """

    name: str
    along: float
    across: float
    down: float


SEA_LOADS = (
    SeaLoad("at rest, upright", 0.0, 0.0, 1.0),
    SeaLoad("heeled 30°", 0.0, 0.5, 0.87),
    SeaLoad("rolling and heaving in a seaway", 0.5, 1.0, 2.0),
    SeaLoad("slamming", 1.0, 0.5, 3.0),
    SeaLoad("heaving down, weight nearly gone", 0.5, 1.0, 0.0),
    SeaLoad("knock-down to 90°", 0.0, 1.5, 0.5),
    SeaLoad("upside down", 0.0, 0.5, -1.0),
)
"""Load cases for a cruising boat offshore: common practice, no source."""


class BoltLoad(NamedTuple):
    """Pull along a bolt and shear across it [N]; a negative pull is carried by the base."""

    tension: float
    shear: float


def bolt_group_loads(
    force: Sequence[float], centre: Sequence[float], bolts: Sequence[Sequence[float]]
) -> list[BoltLoad]:
    """Pull and shear [N] on each bolt of a base under a force through the centre of gravity.

    Base axes: x and y in the base, z away from it. `force` (x, y, z) [N], z positive pulls off;
    `centre` (x, y, z) [m] of gravity; `bolts` [(x, y), …] [m], three or more, not in one line.
    Elastic: pull by the moments of inertia of the group, shear shared evenly with the twist added
    by distance. Source: Shigley's Mechanical Engineering Design, ch. 8, bolted joints with
    eccentric load. Raises ValueError for fewer than three bolts, or bolts in one line.
    """
    n = len(bolts)
    if n < 3:
        raise ValueError("a base needs at least three bolts")
    mx, my = sum(b[0] for b in bolts) / n, sum(b[1] for b in bolts) / n
    arms = [(b[0] - mx, b[1] - my) for b in bolts]
    sxx, syy = sum(x * x for x, _ in arms), sum(y * y for _, y in arms)
    sxy = sum(x * y for x, y in arms)
    determinant = sxx * syy - sxy * sxy
    if determinant <= 1e-9 * (sxx + syy) ** 2:
        raise ValueError("the bolts stand in one line and hold no overturning moment")
    fx, fy, fz = force
    cx, cy, height = centre[0] - mx, centre[1] - my, centre[2]
    along, across = fz * cx - fx * height, fz * cy - fy * height
    a = (along * syy - across * sxy) / determinant
    b = (across * sxx - along * sxy) / determinant
    twist = (cx * fy - cy * fx) / (sxx + syy)
    return [
        BoltLoad(fz / n + a * x + b * y, math.hypot(fx / n - twist * y, fy / n + twist * x))
        for x, y in arms
    ]


# Bolts


COARSE_PITCH = {
    "M3": (0.003, 0.0005),
    "M4": (0.004, 0.0007),
    "M5": (0.005, 0.0008),
    "M6": (0.006, 0.001),
    "M8": (0.008, 0.00125),
    "M10": (0.010, 0.0015),
    "M12": (0.012, 0.00175),
    "M16": (0.016, 0.002),
}
"""Diameter and coarse pitch [m] of metric threads (ISO 261)."""


class BoltClass(NamedTuple):
    """A property class: tensile strength and 0.2 % proof stress [Pa]."""

    name: str
    tensile: float
    proof: float


BOLT_CLASSES = {
    "A4-50": BoltClass("A2 or A4 stainless, class 50", 500e6, 210e6),
    "A4-70": BoltClass("A2 or A4 stainless, class 70", 700e6, 450e6),
    "A4-80": BoltClass("A2 or A4 stainless, class 80", 800e6, 600e6),
    "steel 8.8": BoltClass("plated steel, class 8.8", 800e6, 640e6),
}
"""Property classes: ISO 3506-1 (stainless), ISO 898-1 (steel, up to M16)."""


def stress_area(thread: str) -> float:
    """Stress area [m²] of a coarse metric thread: π/4 (d - 0.9382 p)².

    Source: ISO 898-1, nominal stress area. Raises ValueError for a thread that is not in
    `COARSE_PITCH`.
    """
    if thread not in COARSE_PITCH:
        raise ValueError(f"no thread {thread}; known are {', '.join(COARSE_PITCH)}")
    diameter, pitch = COARSE_PITCH[thread]
    return math.pi / 4 * (diameter - 0.9382 * pitch) ** 2


class BoltStrength(NamedTuple):
    """Breaking load, proof load and breaking shear through the thread [N]."""

    tensile: float
    proof: float
    shear: float


def bolt_strength(thread: str, property_class: str) -> BoltStrength:
    """Strength [N] of one bolt; shear taken as 0.6 of the tensile strength.

    Source: ISO 3506-1 and ISO 898-1 classes; 0.6 Rm as EN 1993-1-8, table 3.4. Raises ValueError
    for a class that is not in `BOLT_CLASSES`.
    """
    if property_class not in BOLT_CLASSES:
        raise ValueError(f"no bolt class {property_class}; known are {', '.join(BOLT_CLASSES)}")
    grade, area = BOLT_CLASSES[property_class], stress_area(thread)
    return BoltStrength(grade.tensile * area, grade.proof * area, 0.6 * grade.tensile * area)


def combined_use(load: BoltLoad, tensile: float, shear: float) -> float:
    """Share of a fastener's strength [N, N] used by pull and shear together.

    V/Vr + T/(1.4 Tr), never less than T/Tr. Source: EN 1993-1-8, table 3.4 (from memory).
    """
    _positive(min(tensile, shear), "fastener strength")
    pull = max(load.tension, 0.0) / tensile
    return max(pull, load.shear / shear + pull / 1.4)


# Wood


class Wood(NamedTuple):
    """A wood: specific gravity (ovendry mass, volume at 12 % moisture) and bearing [Pa].

    bearing: compression across the grain at the proportional limit.
    """

    name: str
    specific_gravity: float
    bearing: float


WOODS = {
    "okoume": Wood("okoume (gaboon) plywood", 0.40, 3.0e6),
    "birch": Wood("birch plywood", 0.62, 6.7e6),
    "spruce": Wood("spruce", 0.40, 4.0e6),
    "douglas_fir": Wood("Douglas fir", 0.48, 5.5e6),
    "mahogany": Wood("mahogany", 0.50, 7.0e6),
    "teak": Wood("teak", 0.58, 8.0e6),
    "oak": Wood("white oak", 0.68, 7.4e6),
}
"""Woods in the style of the USDA Wood Handbook, ch. 5: from memory, rounded down."""


def wood_screw_withdrawal(specific_gravity: float, diameter: float, thread_length: float) -> float:
    """Ultimate withdrawal [N] of a wood screw from side grain: 108.25 G² D L (N, mm).

    G on ovendry mass and volume at 12 % moisture; shank diameter and threaded embedment [m].
    Breaking load: use with a safety factor (4 to 6). Screws in plywood held less than this in
    tests (J. Korean Wood Sci. Technol. 49(1) 93). Source: USDA Forest Products Laboratory, Wood
    Handbook, GTR-190, ch. 8 (from memory).
    """
    _positive(min(specific_gravity, diameter, thread_length), "screw size and specific gravity")
    return 108.25e6 * specific_gravity**2 * diameter * thread_length


def lag_screw_withdrawal(specific_gravity: float, diameter: float, thread_length: float) -> float:
    """Ultimate withdrawal [N] of a lag screw from side grain: 125.4 G^1.5 D^0.75 L (N, mm).

    Sizes [m] and basis as `wood_screw_withdrawal`. Source: USDA Forest Products Laboratory, Wood
    Handbook, GTR-190, ch. 8 (from memory).
    """
    _positive(min(specific_gravity, diameter, thread_length), "screw size and specific gravity")
    return float(125.4 * specific_gravity**1.5 * (diameter * 1e3) ** 0.75 * (thread_length * 1e3))


# Washers and backing plates


def washer_pressure(force: float, outer: float, hole: float) -> float:
    """Pressure [Pa] of a round washer or plate (outer, hole diameters [m]) on what is under it.

    Source: definition of pressure. Raises ValueError for a hole as large as the washer.
    """
    if not outer > hole > 0:
        raise ValueError("the washer must be larger than its hole")
    return force / (math.pi / 4 * (outer * outer - hole * hole))


def washer_for_pressure(force: float, allowed: float, hole: float) -> float:
    """Diameter [m] of the round backing plate that keeps to an allowed pressure [Pa].

    A square plate of that side does better. The plate must be stiff: thickness a tenth of its
    width or more (common practice, no source).
    """
    _positive(allowed, "allowed pressure")
    return math.sqrt(4 * max(force, 0.0) / (math.pi * allowed) + hole * hole)


# Hoses across the mounts


def hose_length_for_offset(offset: float, bend_radius: float) -> float:
    """Shortest free hose [m] that follows a sideways movement [m] at its bend radius [m].

    Two equal arcs: offset = 2R(1 - cos θ), length = 2Rθ. Source: own geometry. Raises ValueError
    for an offset beyond two bend radii.
    """
    _positive(bend_radius, "bend radius")
    if not 0 <= offset <= 2 * bend_radius:
        raise ValueError("two bends of this radius cannot make that offset")
    return 2 * bend_radius * math.acos(1 - offset / (2 * bend_radius))


def hose_loop_length(bend_radius: float, straight: float, turn: Literal[90, 180] = 90) -> float:
    """Hose [m] for a loop of 90° or 180° at its bend radius [m] with straight ends [m] each.

    A loop, unlike a straight hose, hardly stiffens the mounts. Source: own geometry.
    """
    _positive(bend_radius, "bend radius")
    return math.radians(turn) * bend_radius + 2 * straight
