"""A unit in a place of a boat: held down, in its room, level, and lifted in; all limits on it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from ..physics import lifting
from . import at_sea, fixing, layout
from .at_sea import Vector
from .fixing import Fixing, Holding
from .held import Held
from .layout import Access, Layout, Room
from .shaker import GRAVITY, Unit
from .stand import NEAR, SEA_LOAD, Footing, Stand, stand
from .unfit import Unfit

IN_ITS_ROOM = frozenset(
    (
        "head",
        "across",
        "height",
        "movement",
        "door",
        "door_long",
        "tilt_across",
        "tilt_along",
        "lift",
        "struck",
        "maker",
        "maker-unsaid",
    )
)
"""Keys of what tells whether it goes in and one can work on it; the others tell whether it is held
and shakes little."""


@dataclass(frozen=True)
class Sitting:
    """How level a unit sits.

    Heel and trim [rad] of the boat at rest, heel at which it runs under sail (None: it does not),
    and the tilts that its maker allows across and along the shaft; may_hang: "yes", "no",
    "unknown".
    """

    rest_heel: float
    rest_trim: float
    sail_heel: float | None
    heel_limit: float
    trim_limit: float
    may_hang: str

    def tilts(self, *, athwart: bool) -> tuple[float, float]:
        """Greatest tilt [rad] across and along the shaft."""
        heel = max(self.rest_heel, self.sail_heel or 0.0)
        return (self.rest_trim, heel) if athwart else (heel, self.rest_trim)


@dataclass(frozen=True)
class Hands:
    """Who lifts it: people, their reach from the ankles and the hands' height [m]."""

    people: int
    reach: float
    height: float

    @property
    def limit(self) -> float:
        """What one of them lifts at most [kg]."""
        return lifting.lifting_limit(self.reach, self.height)


@dataclass(frozen=True)
class Place:
    """A unit on its footing in one place of a boat. wanted: so much less the floor shall shake than
    under a unit bolted down hard [dB]."""

    footing: Footing
    sitting: Sitting
    fixing: Fixing
    room: Room
    access: Access
    hands: Hands
    wanted: float

    def on(self, **changes: Any) -> Place:
        """With other mounts, on another floor, or laid another way: fields of its footing."""
        return replace(self, footing=replace(self.footing, **changes))


@dataclass(frozen=True)
class Placed:
    """A place worked out."""

    place: Place
    stand: Stand

    @property
    def unit(self) -> Unit:
        """The unit that stands there."""
        return self.place.footing.unit

    @property
    def hangs(self) -> bool:
        """Whether it hangs on a bulkhead."""
        return self.place.footing.hangs

    @cached_property
    def holding(self) -> Holding:
        """What one of its fasteners holds."""
        return fixing.holding(self.place.fixing, self.place.footing.floor)

    @cached_property
    def used(self) -> tuple[float, ...]:
        """Share of the busiest fastener's strength that is used, by load case."""
        return at_sea.used(
            self.stand.cases, self.place.fixing.each, self.holding.tensile, self.holding.shear
        )

    @property
    def used_with_safety(self) -> float:
        """Share of the busiest fastener's strength that is used, times the safety factor."""
        return max(self.used) * self.place.fixing.safety

    @property
    def worst_pull(self) -> float:
        """The greatest pull on a fastener [N]."""
        return max(0.0, *[case.pull for case in self.stand.cases]) / self.place.fixing.each

    @cached_property
    def layout(self) -> Layout:
        """Where all stands in the locker."""
        return self.laid(hangs=self.hangs)

    def laid(self, *, hangs: bool) -> Layout:
        """Where all stands with the unit hung or standing."""
        place = self.place
        return layout.layout(
            self.unit, place.room, place.access, self.stand.iso.height, hangs=hangs
        )

    @property
    def room_wanted(self) -> Vector:
        """Length, depth and height [m] of locker that the unit wants with its accesses."""
        unit, access, plan = self.unit, self.place.access, self.layout.plan
        length = access.gap + unit.length + access.head
        if self.hangs:
            return length, plan.y1 + access.box, unit.width + 2 * access.hands
        height = self.stand.iso.height + unit.height + access.gap
        return length, plan.y1 + max(access.box, access.hands), height


# ---- held against limits ----


def level(value: float) -> float:
    """A level [dB] to a tenth: more is not known."""
    return round(value, 1) + 0.0


def limits(made: Placed) -> dict[str, Held]:
    """All that is held against a limit, by key, in the order in which it is told."""
    held = _shaking(made) | _loaded(made)
    return held | _in_seaway(made) | _in_room(made) | _tilted_and_lifted(made)


def _lowest(made: Placed) -> Held:
    return Held(made.stand.passed(made.stand.slowest.frequency, made.stand.on_floor), 1.0)


def _shaking(made: Placed) -> dict[str, Held]:
    held = {
        "isolation": Held(level(made.stand.gained), made.place.wanted, least=True),
        "lowest": _lowest(made),
    }
    if not made.stand.hard:
        held["drum"] = Held(level(made.stand.worst_gain[0]), 0.0, least=True)
        held["note"] = Held(made.stand.nearest_drum[0], 0.0, least=True, zero=-10 * NEAR)
    held["rocking"] = Held(made.stand.nearest_motion[0], NEAR, least=True)
    return held


def _loaded(made: Placed) -> dict[str, Held]:
    if made.stand.hard:
        return {}
    return {"load": Held(max(made.stand.rest_loads) / GRAVITY, made.stand.carries / GRAVITY)}


def _in_seaway(made: Placed) -> dict[str, Held]:
    held = {"fastening": Held(made.used_with_safety, 1.0)}
    if not made.stand.hard:
        held["sea_mount"] = Held(made.stand.worst_use.times, SEA_LOAD)
        if math.isfinite(made.stand.iso.buckles):
            held["buckling"] = made.stand.press
    bolted = made.place.fixing
    if bolted.bolted:
        pressure = fixing.washer_pressure(bolted, made.worst_pull)
        held["washer"] = Held(pressure, fixing.bearing(bolted, made.place.footing.floor))
    return held


def _in_room(made: Placed) -> dict[str, Held]:
    place = made.place
    _, out, up = made.room_wanted
    held = {
        "head": Held(made.layout.free, place.access.head, least=True),
        "across": Held(out, place.room.width),
        "height": Held(up, place.room.height),
    }
    if not (made.stand.hard or made.stand.buckles):
        held["movement"] = Held(made.stand.moved, place.access.gap)
    return held | _through_door(made)


def _through_door(made: Placed) -> dict[str, Held]:
    """End first through the opening: its two smaller sizes against the opening's sides."""
    door, unit = made.place.room.door, made.unit
    if door is None:
        return {}
    small, middle, _ = sorted((unit.length, unit.width, unit.height))
    found = {"door": Held(small, door.narrow)}
    if math.isfinite(door.wide):
        found["door_long"] = Held(middle, door.wide)
    return found


def _tilted_and_lifted(made: Placed) -> dict[str, Held]:
    sitting, hands = made.place.sitting, made.place.hands
    across, along = sitting.tilts(athwart=made.place.footing.athwart)
    return {
        "tilt_across": Held(across, sitting.heel_limit),
        "tilt_along": Held(along, sitting.trim_limit),
        "lift": Held(made.unit.mass / hands.people, hands.limit),
    }


def barred(made: Placed) -> tuple[str, ...]:
    """What bars a place whatever its figures: "core" (bolts would crush it), "in the way", "maker"
    (it may not hang there)."""
    place = made.place
    found = []
    if place.fixing.bolted and place.footing.floor.cored and not place.fixing.core_filled:
        found.append("core")
    if made.layout.struck:
        found.append("in the way")
    if made.hangs and place.sitting.may_hang == "no":
        found.append("maker")
    return tuple(found)


def failing(made: Placed) -> frozenset[str]:
    """Keys of all that fails or bars a place."""
    over = [key for key, held in limits(made).items() if not held.holds]
    return frozenset((*over, *barred(made)))


def placed(place: Place, like: Stand | None = None) -> Placed:
    """A place worked out. What it shares with another stand, `like`, is not worked out again."""
    return Placed(place, stand(place.footing, like))


def does(place: Place, like: Stand, rest: frozenset[str]) -> bool:
    """Whether nothing fails at a place but this, worked out by one like it."""
    try:
        made = placed(place, like)
        if "lowest" not in rest and not _lowest(made).holds:
            return False  # the quickest to see, and most often what is wrong
        # What takes longest comes last, and only where all else holds.
        return (
            rest.issuperset(barred(made))
            and _within(rest, _tilted_and_lifted(made))
            and _within(rest, _in_room(made))
            and _within(rest, _in_seaway(made))
            and _within(rest, _loaded(made))
            and _within(rest, _shaking(made))
        )
    except Unfit:
        return "refused" in rest


def _within(rest: frozenset[str], held: dict[str, Held]) -> bool:
    """Whether nothing of this fails but the rest."""
    return all(one.holds or key in rest for key, one in held.items())


def failing_at(place: Place, like: Stand) -> frozenset[str]:
    """Keys of all that fails at a place, worked out by one like it; "refused" if it cannot be."""
    try:
        return failing(placed(place, like))
    except Unfit:
        return frozenset(("refused",))
