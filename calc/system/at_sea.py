"""What a seaway does to a unit over its feet: loads on each foot, and how far the unit moves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from ..physics import fasteners, rigid_body
from .mounts import Places

Vector = tuple[float, float, float]


@dataclass(frozen=True)
class AtSea:
    """A load case: forces on the unit and loads on all its feet, to either side [N].

    key: its name among `fasteners.SEA_LOADS`. pull, push, shear: the greatest on a foot; pull is
    below zero where none is pulled, push is the greatest up or down.
    """

    key: str
    forces: tuple[Vector, ...]
    feet: tuple[fasteners.BoltLoad, ...]
    pull: float
    push: float
    shear: float

    @cached_property
    def press(self) -> float:
        """The greatest load that presses a foot down [N]."""
        return -min([foot.tension for foot in self.feet])

    def used(self, each: int, tensile: float, shear: float) -> float:
        """Share of the strength [N] of the busiest of `each` fasteners a foot that is used."""
        asked = each, tensile, shear
        if asked not in self._used:
            self._used[asked] = max(
                [
                    fasteners.combined_use(
                        fasteners.BoltLoad(pull / each, across / each), tensile, shear
                    )
                    for pull, across in self.feet
                ]
            )
        return self._used[asked]

    @cached_property
    def _used(self) -> dict[tuple[int, float, float], float]:
        """What is known of it: floors are tried by the dozen under the same feet."""
        return {}


@dataclass(frozen=True)
class Standing:
    """A weight [N] with its centre [m] over its feet; `hangs`: they are on a bulkhead; `athwart`:
    its shaft lies across the boat; sea: sea loads, times those of a cruising boat offshore."""

    weight: float
    centre: Vector
    places: Places
    hangs: bool
    athwart: bool
    sea: float


def at_rest(standing: Standing) -> tuple[float, ...]:
    """Load on each foot [N], the way that the weight acts on it."""
    if not standing.hangs:
        centre = standing.centre[:2]
        return tuple(rigid_body.mount_loads(standing.weight, centre, standing.places))
    force = (0.0, -standing.weight, 0.0)
    feet = fasteners.bolt_group_loads(force, standing.centre, standing.places)
    return tuple([b.shear for b in feet])


def at_sea(standing: Standing) -> tuple[AtSea, ...]:
    """All load cases."""
    found = []
    for load in fasteners.SEA_LOADS:
        forces = _forces(load, standing)
        feet = [
            b
            for f in forces
            for b in fasteners.bolt_group_loads(f, standing.centre, standing.places)
        ]
        pulls = [b.tension for b in feet]
        shear = max([b.shear for b in feet])
        found.append(AtSea(load.name, forces, tuple(feet), max(pulls), max(map(abs, pulls)), shear))
    return tuple(found)


def _forces(load: fasteners.SeaLoad, standing: Standing) -> tuple[Vector, ...]:
    """Forces [N] on the unit in its own axes for a load case, to either side."""
    weight = standing.weight
    times = weight * standing.sea
    along, across = load.along * times, load.across * times
    # Heave is scaled about the weight, which no calm water takes away.
    down = weight + (load.down - 1) * times
    if standing.athwart:
        along, across = across, along
    y, z = (-down, across) if standing.hangs else (across, -down)
    return ((along, y, z), (-along, y, z)) if along else ((0.0, y, z),)


def used(cases: Sequence[AtSea], each: int, tensile: float, shear: float) -> tuple[float, ...]:
    """Share of the strength [N] of the busiest of `each` fasteners a foot that is used, by load
    case."""
    return tuple([case.used(each, tensile, shear) for case in cases])


def moves(
    modes: Sequence[rigid_body.Mode],
    ratio: float,
    cases: Sequence[AtSea],
    rest: Vector,
    corner: Vector,
) -> tuple[float, ...]:
    """Movement [m] of the farthest upper corner away from rest, by load case.

    ratio: shaken stiffness of the mounts over that at rest, at which they move; rubber is taken as
    linear. rest: the weight [N] that they bear already; corner: from the centre of gravity [m].
    """
    soft = _compliance(modes, ratio)
    return tuple([max([_movement(soft, f, rest, corner) for f in c.forces]) for c in cases])


def _compliance(modes: Sequence[rigid_body.Mode], ratio: float) -> list[list[float]]:
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
    """Movement [m] of the farthest upper corner under a force [N], see `moves`."""
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
