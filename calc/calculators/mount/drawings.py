"""The unit in its locker, to scale: what fits, what is in the way, what is blocked."""

from __future__ import annotations

from ...frame.report import Drawing, Line, Report, Shape, Words, line
from ...system.layout import Box, Layout
from ...system.place import Placed
from ...system.shaker import GRAVITY


def as_it_sits(made: Placed, show: Report) -> None:
    """The unit seen through the opening and from above."""
    show.drawing(_side_view(made, made.hangs, "sits"))
    show.drawing(_plan_view(made))


def otherwise(made: Placed, show: Report) -> None:
    """The unit turned the other way."""
    show.drawing(_side_view(made, not made.hangs, "otherwise"))


def _rect(box: Box, style: str = "outline") -> Shape:
    return Shape("rect", [(box.x0, box.y0), (box.x1, box.y1)], style=style)


def _label(x: float, y: float, words: Words, anchor: str = "middle") -> Shape:
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


def _side_view(made: Placed, hangs: bool, key: str) -> Drawing:
    """The locker as seen through its opening."""
    laid, room = made.laid(hangs=hangs), made.place.room
    length, height = room.length, room.height
    blocked = laid.free < made.place.access.head
    shapes = [_rect(Box(0, 0, length, height)), *_machine(laid.side)]
    shapes.append(_rect(laid.head, "blocked" if blocked else "hidden"))
    shapes.append(
        _label(
            (laid.head.x0 + laid.head.x1) / 2,
            (laid.side.y0 + laid.side.y1) / 2,
            "blocked" if blocked else "head out",
        )
    )
    for thing in room.things:
        box = thing.box
        middle = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
        shapes += [_rect(box, "hatch"), _label(*middle, thing.what)]
    if not hangs:
        shapes += _mounts(made, laid)
    unit = made.unit
    shapes += [
        _size((0, 0), (length, 0), length, -40),
        _size((0, height), (0, 0), height, -20),
        _size((laid.side.x0, 0), (laid.side.x1, 0), unit.length, -22),
        _size((laid.head.x0, 0), (laid.head.x0 + laid.free, 0), laid.free, -22),
    ]
    return Drawing(
        key,
        "Seen through the locker's opening, on a bulkhead"
        if hangs
        else "Seen through the locker's opening, on a platform",
        _described(laid, hangs, blocked),
        shapes,
    )


def _mounts(made: Placed, laid: Layout) -> list[Shape]:
    iso = made.stand.iso
    middle = laid.side.x0 + made.unit.length / 2
    along = sorted({x for x, _ in iso.places}) if iso.height else []
    return [_rect(Box(middle - x - 0.01, 0, middle - x + 0.01, iso.height), "fill") for x in along]


def _described(laid: Layout, hangs: bool, blocked: bool) -> Line:
    """What a side view shows, for those who can't see it."""
    seen = (
        "The locker from its opening with the unit on a bulkhead, motor to the left."
        if hangs
        else "The locker from its opening with the unit on a platform, motor to the left."
    )
    access = line("There is room to pull the pump head.")
    if blocked and laid.blocker:
        by = laid.blocker.what
        access = line("The space to pull the pump head is blocked by {what}.", what=by)
    elif blocked:
        access = line("The space to pull the pump head is blocked by the locker's end.")
    if not laid.struck:
        return line("{seen} {access}", seen=seen, access=access)
    names = ", ".join([thing.what for thing in laid.struck])
    struck = line("In its place: {names}.", names=names)
    return line("{seen} {access} {struck}", seen=seen, access=access, struck=struck)


def _plan_view(made: Placed) -> Drawing:
    """The locker from above, with the masses on the feet at rest."""
    room, access, box = made.place.room, made.place.access, made.layout.plan
    open_to = box.y1 + (access.box if made.hangs else max(access.box, access.hands))
    blocked = open_to > room.width
    middle = (box.x0 + box.x1) / 2
    shapes = [
        _rect(Box(0, 0, room.length, room.width)),
        _rect(box),
        _rect(Box(box.x0, box.y1, box.x1, open_to), "blocked" if blocked else "hidden"),
        _label(
            middle,
            (box.y1 + open_to) / 2,
            "no room for the electrical box" if blocked else "to open the electrical box",
        ),
        _size((0, 0), (room.length, 0), room.length, -30),
        _size((0, room.width), (0, 0), room.width, -20),
    ]
    if made.hangs:
        shapes.append(_label(middle, (box.y0 + box.y1) / 2, "unit"))
        shapes.append(_rect(Box(0, -0.02, room.length, 0), "hatch"))
        return Drawing(
            "above",
            "Seen from above",
            "The locker from above, the unit hung on the bulkhead at the bottom edge; its opening "
            "is at the upper edge.",
            shapes,
        )
    return Drawing(
        "above",
        "Seen from above, with the load on each foot",
        "The locker from above, the unit with its feet; its opening is at the upper edge.",
        [*shapes, *_feet(made, box)],
    )


def _feet(made: Placed, box: Box) -> list[Shape]:
    x, y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
    shapes = []
    for (px, py), load in zip(made.stand.iso.places, made.stand.rest_loads, strict=True):
        shapes.append(Shape("circle", [(x - px, y + py)], radius=0.012, style="fill"))
        told = line("{m}", m=(load / GRAVITY, "kg"))
        shapes.append(_label(x - px, y + py + (0.03 if py < 0 else -0.03), told))
    centre = x - made.unit.cg_along
    shapes += [
        Shape("line", [(centre - 0.015, y), (centre + 0.015, y)], style="fine"),
        Shape("line", [(centre, y - 0.015), (centre, y + 0.015)], style="fine"),
        _label(centre + 0.018, y, "centre of gravity", "start"),
    ]
    return shapes
