"""A unit in its locker, to scale: what fits, what is in the way, what is blocked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..frame.inputs import Values
from ..frame.report import Drawing, Line, Shape, line
from .vibration_path import Isolator


@dataclass(frozen=True)
class Box:
    """A rectangle [m] in a view of the locker."""

    x0: float
    y0: float
    x1: float
    y1: float

    def meets(self, other: Box) -> bool:
        return (
            min(self.x1, other.x1) - max(self.x0, other.x0) > 1e-9
            and min(self.y1, other.y1) - max(self.y0, other.y0) > 1e-9
        )


@dataclass(frozen=True)
class Layout:
    """Where things are, seen from the locker's opening (side) and from above (plan)."""

    side: Box
    plan: Box
    head: Box
    free: float  # m at the pump's end
    blocker: str
    struck: tuple[str, ...]
    obstacles: tuple[tuple[str, Box], ...]


def layout(q: Values, iso: Isolator, hangs: bool) -> Layout:
    """Where everything stands, the unit at the motor's end of the locker."""
    x0, x1 = q.gap, q.gap + q.unit_length
    if hangs:
        low = max(0.0, (q.locker_height - q.unit_width) / 2)
        side = Box(x0, low, x1, low + q.unit_width)
        plan = Box(x0, iso.height, x1, iso.height + q.unit_height)
    else:
        side = Box(x0, iso.height, x1, iso.height + q.unit_height)
        plan = Box(x0, q.gap, x1, q.gap + q.unit_width)
    things = tuple(
        (o.what, Box(o.start, o.above, o.start + o.length, o.above + o.height)) for o in q.obstacles
    )
    lane = Box(x1, side.y0, x1 + 1e3, side.y1)
    ends = [
        (q.locker_length, "the locker's end"),
        *((max(b.x0, x1), what) for what, b in things if b.meets(lane)),
    ]
    end, blocker = min(ends, key=lambda e: e[0])
    struck = tuple(what for what, b in things if b.meets(side))
    head = Box(x1, side.y0, x1 + q.head_access, side.y1)
    return Layout(side, plan, head, max(0.0, end - x1), blocker, struck, things)


# ---- drawings ----


def _rect(box: Box, style: str = "outline") -> Shape:
    return Shape("rect", [(box.x0, box.y0), (box.x1, box.y1)], style=style)


def _label(x: float, y: float, words: Line | str, anchor: str = "middle") -> Shape:
    return Shape("text", [(x, y)], words, anchor=anchor)


def _size(a: tuple[float, float], b: tuple[float, float], length: float, off: float) -> Shape:
    return Shape("dimension", [a, b], line("{l}", l=(length, "mm")), offset=off)


def _machine(box: Box) -> list[Shape]:
    """Motor and pump in a view: motor to the left, pump head to the right."""
    split = box.x0 + 0.62 * (box.x1 - box.x0)
    return [
        _rect(Box(box.x0, box.y0, split, box.y1)),
        _rect(Box(split, box.y0, box.x1, box.y1)),
        _label((box.x0 + split) / 2, (box.y0 + box.y1) / 2, "motor"),
        _label((split + box.x1) / 2, (box.y0 + box.y1) / 2, "pump"),
    ]


def side_view(q: Values, iso: Isolator, hangs: bool, key: str) -> Drawing:
    """The locker as seen through its opening."""
    made = layout(q, iso, hangs)
    length, height = q.locker_length, q.locker_height
    blocked = made.free < q.head_access
    shapes = [_rect(Box(0, 0, length, height)), *_machine(made.side)]
    shapes.append(_rect(made.head, "blocked" if blocked else "hidden"))
    shapes.append(
        _label(
            (made.head.x0 + made.head.x1) / 2,
            (made.side.y0 + made.side.y1) / 2,
            "blocked" if blocked else "head out",
        )
    )
    for what, box in made.obstacles:
        shapes += [_rect(box, "hatch"), _label((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2, what)]
    middle = made.side.x0 + q.unit_length / 2
    if not hangs and iso.height:
        for x in sorted({x for x, _ in iso.places}):
            at = middle - x
            shapes.append(_rect(Box(at - 0.01, 0, at + 0.01, iso.height), "fill"))
    shapes += [
        _size((0, 0), (length, 0), length, -40),
        _size((0, height), (0, 0), height, -20),
        _size((made.side.x0, 0), (made.side.x1, 0), q.unit_length, -22),
        _size((made.head.x0, 0), (made.head.x0 + made.free, 0), made.free, -22),
    ]
    where = "on a bulkhead" if hangs else "on a platform"
    return Drawing(
        key,
        f"Seen through the locker's opening, {where}",
        f"The locker from its opening with the unit {where}, motor to the left. "
        + (
            "The space to pull the pump head is blocked by " + made.blocker + "."
            if blocked
            else "There is room to pull the pump head."
        )
        + (f" In its place: {', '.join(made.struck)}." if made.struck else ""),
        shapes,
    )


def plan_view(q: Values, iso: Isolator, hangs: bool, loads: Sequence[float]) -> Drawing:
    """The locker from above; `loads` are the masses [kg] on the feet at rest."""
    made = layout(q, iso, hangs)
    box = made.plan
    open_to = box.y1 + (q.box_access if hangs else max(q.box_access, q.hands))
    blocked = open_to > q.locker_width
    shapes = [
        _rect(Box(0, 0, q.locker_length, q.locker_width)),
        _rect(box),
        _rect(Box(box.x0, box.y1, box.x1, open_to), "blocked" if blocked else "hidden"),
        _label(
            (box.x0 + box.x1) / 2,
            (box.y1 + open_to) / 2,
            "no room for the electrical box" if blocked else "to open the electrical box",
        ),
        _size((0, 0), (q.locker_length, 0), q.locker_length, -30),
        _size((0, q.locker_width), (0, 0), q.locker_width, -20),
    ]
    if hangs:
        shapes.append(_label((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2, "unit"))
        shapes.append(_rect(Box(0, -0.02, q.locker_length, 0), "hatch"))
    else:
        shapes += _feet(q, iso, loads, box)
    how = "hung on the bulkhead at the bottom edge" if hangs else "with its feet"
    return Drawing(
        "above",
        "Seen from above" + ("" if hangs else ", with the load on each foot"),
        f"The locker from above, the unit {how}; its opening is at the upper edge.",
        shapes,
    )


def _feet(q: Values, iso: Isolator, loads: Sequence[float], box: Box) -> list[Shape]:
    x, y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
    shapes = []
    for (px, py), load in zip(iso.places, loads, strict=True):
        shapes.append(Shape("circle", [(x - px, y + py)], radius=0.012, style="fill"))
        told = line("{m}", m=(load, "kg"))
        shapes.append(_label(x - px, y + py + (0.03 if py < 0 else -0.03), told))
    centre = x - q.cg_along
    shapes += [
        Shape("line", [(centre - 0.015, y), (centre + 0.015, y)], style="fine"),
        Shape("line", [(centre, y - 0.015), (centre, y + 0.015)], style="fine"),
        _label(centre, y + 0.03, "centre of gravity"),
    ]
    return shapes
