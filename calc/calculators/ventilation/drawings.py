"""The way of the air through a locker, drawn from the reader's numbers."""

from __future__ import annotations

import math
from dataclasses import replace

from ...frame.report import Drawing, Line, Shape, line
from ...system.heated import Heated, whole_degree
from ...system.locker import Sizes
from .tell import PLACES

_TOLD = {
    "sealed": "A section of the space with the unit on its floor: no way out for the air, which "
    "goes round inside.",
    "one": "A section of the space with the unit on its floor: air that comes in low and leaves "
    "high through one opening.",
    "two": "A section of the space with the unit on its floor: air that comes in low, rises past "
    "the unit and leaves high.",
    "fan": "A section of the space with the unit on its floor: air that a fan moves through the "
    "locker and its duct.",
    "engine": "A section of the space with the unit on its floor: air that comes in, with the "
    "engine drawing its share.",
}


def drawing(body: Sizes, case: Heated) -> Drawing:
    """A section of the place with a unit of that body, seen from the long side."""
    sizes = case.place.sizes
    high = case.place.height
    long = sizes.length if sizes else high
    path = {
        "sealed": _no_path,
        "one": _one_path,
        "two": _two_path,
        "fan": _fan_path,
        "engine": _engine_path,
    }[case.place.way]
    shapes = [*_box(case, long, high), *_unit_shapes(body, case, long, high)]
    framed, frame = _framed([*shapes, *path(case, long, high)])
    return Drawing(
        "path",
        "The way of the air, seen from the long side, if nothing stopped it"
        if case.stopped
        else "The way of the air, seen from the long side",
        _TOLD[case.place.way],
        framed,
        to_scale=sizes is not None,
        frame=frame,
    )


_WIDE, _TALL, _EDGE = 400.0, 300.0, 24.0  # small enough for words to be read on a phone
_LETTER = 7.6  # width of a letter of the labels


def _framed(shapes: list[Shape]) -> tuple[list[Shape], tuple[float, float]]:
    """The shapes moved and scaled into a frame that holds them and their words."""
    xs = [x for shape in shapes for x, _ in shape.points]
    ys = [y for shape in shapes for _, y in shape.points]
    low, high, top = min(xs), max(xs), min(ys)
    wide, tall = high - low, max(ys) - top
    labels = [_reach(shape) for shape in shapes if shape.kind == "text"]
    left = right = 0.0
    for _ in range(3):  # the words keep their size, so what they overhang depends on the scale
        scale = min((_WIDE - 2 * _EDGE - left - right) / wide, _TALL / tall)
        left = max([0.0, *(before - (x - low) * scale for x, before, _ in labels)])
        right = max([0.0, *(after - (high - x) * scale for x, _, after in labels)])
    start = (_WIDE - wide * scale + left - right) / 2

    def place(point: tuple[float, float]) -> tuple[float, float]:
        return start + (point[0] - low) * scale, _EDGE + (point[1] - top) * scale

    moved = [
        replace(shape, points=[place(point) for point in shape.points], radius=shape.radius * scale)
        for shape in shapes
    ]
    return moved, (_WIDE, tall * scale + 2 * _EDGE)


def _reach(shape: Shape) -> tuple[float, float, float]:
    """Where a label stands, and how far its words reach to the left and to the right of that."""
    words = shape.text.text() if isinstance(shape.text, Line) else shape.text
    before = {"start": 0.0, "middle": 0.5, "end": 1.0}[shape.anchor] * len(words) * _LETTER
    return shape.points[0][0], before, len(words) * _LETTER - before


def _label(x: float, y: float, words: Line | str, anchor: str = "middle") -> Shape:
    return Shape("text", [(x, y)], words, anchor=anchor)


def _behind_line(case: Heated, side: str) -> Line | str:
    """What lies behind a face, for its label."""
    found = [face for face in case.place.faces if face.side == side]
    if not found:
        return ""
    behind = case.place.weather.behind(found[0])
    if found[0].behind == "sun":
        behind = whole_degree(behind)
    return line("{w}, {t}", w=PLACES[found[0].behind], t=(behind, "°C"))


def _box(case: Heated, long: float, high: float) -> list[Shape]:
    """The locker, what lies round it, and its sizes."""
    gap = max(0.12 * high, 0.09 * long)
    shapes = [
        _label(long / 2, high + gap, _behind_line(case, "top")),
        _label(long / 2, -gap, _behind_line(case, "floor")),
    ]
    if case.place.sizes:
        below = -2.9 * gap
        aside = (
            -0.8 if case.place.way in ("sealed", "one") else -0.56
        ) * long  # a label is in between
        shapes += [
            Shape("dimension", [(0, below), (long, below)], line("{l}", l=(long, "mm")), offset=0),
            Shape("dimension", [(aside, 0), (aside, high)], line("{h}", h=(high, "mm")), offset=0),
        ]
    return shapes


def _wall_line(x: float, high: float, gaps: list[tuple[float, float]]) -> list[Shape]:
    """An end of the locker with openings from and to the heights of `gaps`."""
    shapes, at = [], 0.0
    for low, top in sorted(gaps):
        if low > at:
            shapes.append(Shape("line", [(x, at), (x, low)]))
        at = max(at, top)
    if at < high:
        shapes.append(Shape("line", [(x, at), (x, high)]))
    return shapes


def _frame_lines(
    long: float, high: float, left: list[tuple[float, float]], right: list[tuple[float, float]]
) -> list[Shape]:
    level = [Shape("line", [(0, y), (long, y)]) for y in (0.0, high)]
    return [*level, *_wall_line(0, high, left), *_wall_line(long, high, right)]


def _unit_shapes(body: Sizes, case: Heated, long: float, high: float) -> list[Shape]:
    wide, tall = min(body.length, 0.9 * long), min(body.height, 0.9 * high)
    left = (long - wide) / 2
    return [
        Shape("rect", [(left, 0), (left + wide, tall)], style="blocked"),
        _label(long / 2, tall / 2, line("winding {w}", w=(case.winding, "°C"))),
    ]


def _openings_at(case: Heated, high: float) -> tuple[tuple[float, float], ...]:
    """Heights from and to of the low and the high opening, drawn as squares."""
    vents = case.room.vents
    sizes = [min(math.sqrt(area), 0.4 * high) for area in (vents.low, vents.high)]
    middle, apart = high / 2, min(vents.apart, high - sum(sizes) / 2)
    low, top = middle - apart / 2, middle + apart / 2
    return (low - sizes[0] / 2, low + sizes[0] / 2), (top - sizes[1] / 2, top + sizes[1] / 2)


def _lift(long: float, high: float) -> float:
    """From an arrow or a duct to its words."""
    return max(0.08 * high, 0.06 * long)


def _in_line(case: Heated) -> Line:
    return line("in {t}", t=(case.room.supply, "°C"))


def _out_line(case: Heated) -> Line:
    return line("out {t}", t=(case.air, "°C"))


def _arrow(*points: tuple[float, float]) -> Shape:
    return Shape("arrow", points, style="accent")


def _two_path(case: Heated, long: float, high: float) -> list[Shape]:
    low, top = _openings_at(case, high)
    enters, leaves = sum(low) / 2, sum(top) / 2
    return [
        *_frame_lines(
            long, high, [low] if case.room.vents.low else [], [top] if case.room.vents.high else []
        ),
        _arrow((-0.3 * long, enters), (0.04 * long, enters)),
        _arrow((0.06 * long, enters), (0.16 * long, leaves), (0.94 * long, leaves)),
        _arrow((0.96 * long, leaves), (1.3 * long, leaves)),
        _label(-0.03 * long, enters + _lift(long, high), _in_line(case), "end"),
        _label(1.04 * long, leaves + _lift(long, high), _out_line(case), "start"),
    ]


def _fan_path(case: Heated, long: float, high: float) -> list[Shape]:
    low, top = _openings_at(case, high)
    bore = min(case.place.fan.duct.diameter, 0.3 * high)
    at = high - 0.6 * bore
    gaps = [gap for gap, area in ((low, case.room.vents.low), (top, case.room.vents.high)) if area]
    enters = sum(gaps[0]) / 2
    shapes = [
        *_frame_lines(long, high, gaps, [(at - bore / 2, at + bore / 2)]),
        Shape("line", [(long, at + bore / 2), (1.3 * long, at + bore / 2)], style="fine"),
        Shape("line", [(long, at - bore / 2), (1.3 * long, at - bore / 2)], style="fine"),
        Shape("circle", [(1.08 * long, at)], radius=bore * 0.42, style="outline"),
        _label(1.12 * long, at + bore / 2 + _lift(long, high), "fan"),
    ]
    outward = [
        _arrow((-0.3 * long, enters), (0.04 * long, enters)),
        _arrow((0.06 * long, enters), (0.16 * long, at), (0.94 * long, at)),
        _arrow((1.16 * long, at), (1.36 * long, at)),
        _label(-0.03 * long, enters + _lift(long, high), _in_line(case), "end"),
        _label(1.04 * long, at - bore / 2 - _lift(long, high), _out_line(case), "start"),
    ]
    inward = [
        _arrow((1.36 * long, at), (1.16 * long, at)),
        _arrow((0.94 * long, at), (0.16 * long, at), (0.06 * long, enters)),
        _arrow((0.04 * long, enters), (-0.3 * long, enters)),
        _label(1.04 * long, at - bore / 2 - _lift(long, high), _in_line(case), "start"),
        _label(-0.03 * long, enters + _lift(long, high), _out_line(case), "end"),
    ]
    return shapes + (outward if case.place.fan.draws_out else inward)


def _one_path(case: Heated, long: float, high: float) -> list[Shape]:
    size = min(case.room.vents.own_height, 0.8 * high)
    middle = high / 2
    enters, leaves = middle - size / 4, middle + size / 4
    return [
        *_frame_lines(long, high, [], [(middle - size / 2, middle + size / 2)]),
        _arrow((1.3 * long, enters), (0.96 * long, enters)),
        _arrow((0.96 * long, leaves), (1.3 * long, leaves)),
        _label(1.04 * long, enters - _lift(long, high), _in_line(case), "start"),
        _label(1.04 * long, leaves + _lift(long, high), _out_line(case), "start"),
        _label(-0.03 * long, middle, _behind_line(case, "left"), "end"),
    ]


def _no_path(case: Heated, long: float, high: float) -> list[Shape]:
    over = 0.9 * high
    return [
        *_frame_lines(long, high, [], []),
        _arrow(
            (0.08 * long, 0.2 * high),
            (0.08 * long, over),
            (0.92 * long, over),
            (0.92 * long, 0.2 * high),
        ),
        _label(-0.03 * long, high / 2, _behind_line(case, "left"), "end"),
        _label(1.03 * long, high / 2, _behind_line(case, "right"), "start"),
    ]


def _engine_path(case: Heated, long: float, high: float) -> list[Shape]:
    at, leaves = 0.93 * long, sum(_openings_at(case, high)[1]) / 2
    return [
        *_two_path(case, long, high),
        _arrow((at, leaves), (at, 0.3 * high)),
        Shape("circle", [(at, 0.2 * high)], radius=0.06 * high, style="outline"),
        _label(1.03 * long, 0.2 * high, "engine", "start"),
    ]
