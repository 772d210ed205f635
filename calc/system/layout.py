"""A unit in its locker: what stands where, what is in the way, what is blocked."""

from __future__ import annotations

from dataclasses import dataclass

from .shaker import Unit


@dataclass(frozen=True)
class Box:
    """A rectangle [m] in a view of the locker."""

    x0: float
    y0: float
    x1: float
    y1: float

    def meets(self, other: Box) -> bool:
        """Whether the two lie over each other."""
        return (
            min(self.x1, other.x1) - max(self.x0, other.x0) > 1e-9
            and min(self.y1, other.y1) - max(self.y0, other.y0) > 1e-9
        )


@dataclass(frozen=True)
class Thing:
    """What stands in the way, seen from the locker's opening."""

    what: str
    box: Box


@dataclass(frozen=True)
class Door:
    """The opening that a locker is reached by [m], clear; a side that nobody told is infinite."""

    width: float
    height: float

    @property
    def narrow(self) -> float:
        """Its smaller side."""
        return min(self.width, self.height)

    @property
    def wide(self) -> float:
        """Its larger side."""
        return max(self.width, self.height)


@dataclass(frozen=True)
class Room:
    """A locker inside [m], what stands in it, and the opening that it is reached by, if told."""

    length: float
    width: float
    height: float
    things: tuple[Thing, ...] = ()
    door: Door | None = None


@dataclass(frozen=True)
class Access:
    """Free space wanted [m]: to pull the pump head, before the electrical box, round the unit, and
    for a hand on each side."""

    head: float
    box: float
    gap: float
    hands: float


@dataclass(frozen=True)
class Layout:
    """Where things are, seen from the locker's opening (side) and from above (plan).

    free: space [m] at the pump's end; blocker: the thing that ends it, None for the locker's end;
    struck: the things that stand where the unit would.
    """

    side: Box
    plan: Box
    head: Box
    free: float
    blocker: Thing | None
    struck: tuple[Thing, ...]


def layout(unit: Unit, room: Room, access: Access, lifted: float, *, hangs: bool) -> Layout:
    """Where everything stands, the unit at the motor's end of the locker on mounts of a height [m],
    or hung from them on the bulkhead."""
    x0, x1 = access.gap, access.gap + unit.length
    if hangs:
        low = max(0.0, (room.height - unit.width) / 2)
        side = Box(x0, low, x1, low + unit.width)
        plan = Box(x0, lifted, x1, lifted + unit.height)
    else:
        side = Box(x0, lifted, x1, lifted + unit.height)
        plan = Box(x0, access.gap, x1, access.gap + unit.width)
    lane = Box(x1, side.y0, x1 + 1e3, side.y1)
    ends: list[tuple[float, Thing | None]] = [(room.length, None)]
    ends += [(max(t.box.x0, x1), t) for t in room.things if t.box.meets(lane)]
    end, blocker = min(ends, key=lambda e: e[0])
    head = Box(x1, side.y0, x1 + access.head, side.y1)
    struck = tuple([t for t in room.things if t.box.meets(side)])
    return Layout(side, plan, head, max(0.0, end - x1), blocker, struck)
