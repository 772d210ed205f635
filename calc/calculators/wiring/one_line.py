"""One-line drawings: the parts of a circuit in their order, each with what it must be rated for.

To scale of meaning, not of size. Drawn upright, so that its words stay legible on a phone; on a
card in columns of no more than six parts, to save height.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ...frame.report import Drawing, Line, Shape, line

HALF = 16.0  # of a part's sign
MOST_IN_COLUMN = 6  # on a card
JOIN = 16.0  # room under the columns for the line from one to the next


@dataclass(frozen=True)
class Part:
    """A part: its sign, what it is, and what it must be; `earthed` where its metal is bonded.

    Signs: battery, fuse, switch, breaker, cable, converter, overload, motor, supply.
    """

    sign: str
    what: Line | str
    rating: Line | str
    earthed: bool = False


@dataclass(frozen=True)
class Layout:
    """Where things stand in a column, from its left edge, and how far its parts are apart."""

    earth: float
    spine: float
    words: float
    wide: float
    pitch: float
    foot: float = 24.0  # of the earth line
    over: float = 24.0  # room over the first part


UPRIGHT = Layout(18.0, 64.0, 98.0, 360.0, 58.0)
CARD = Layout(10.0, 40.0, 64.0, 214.0, 42.0)


def one_line(key: str, title: str, parts: Sequence[Part]) -> Drawing:
    """The drawing of parts from the source at the top to the load at the foot."""
    middle = len(parts) if len(parts) <= MOST_IN_COLUMN else (len(parts) + 1) // 2
    columns = [parts[:middle], parts[middle:]] if parts[middle:] else [parts]
    description = line(
        "From source to load: {parts}. The dashed line is earth.", parts=_told(parts)
    )
    return Drawing(
        key,
        title,
        description,
        *_drawn([parts], UPRIGHT),
        for_card=lambda: Drawing(key, title, description, *_drawn(columns, CARD)),
    )


def _drawn(
    columns: Sequence[Sequence[Part]], lay: Layout
) -> tuple[list[Shape], bool, tuple[float, float]]:
    """Shapes, that they are not to scale, and the frame round them."""
    most = max(map(len, columns))
    foot = lay.foot + (JOIN if len(columns) > 1 else 0.0)
    tall = lay.pitch * (most - 1) + 2 * HALF + foot + lay.over
    first = tall - lay.over - HALF
    shapes: list[Shape] = []
    for number, parts in enumerate(columns):
        left = number * lay.wide
        shapes += _column(parts, [first - lay.pitch * i for i in range(len(parts))], left, lay)
        if number:  # from the foot of the column before to the head of this one
            last = first - lay.pitch * (len(columns[number - 1]) - 1) - HALF
            before, here = left - lay.wide + lay.spine, left + lay.spine
            low, high = lay.foot + JOIN / 2, first + HALF + 8
            shapes.append(
                Shape(
                    "polyline",
                    [
                        (before, last),
                        (before, low),
                        (left, low),
                        (left, high),
                        (here, high),
                        (here, first + HALF),
                    ],
                )
            )
    shapes += _earth(lay, lay.earth + lay.wide * (len(columns) - 1))
    return shapes, False, (lay.wide * len(columns), tall)


def _earth(lay: Layout, right: float) -> list[Shape]:
    """The earth sign, and the line along the foot that joins the columns' earths."""
    bars = [
        Shape("line", [(lay.earth - half, lay.foot - drop), (lay.earth + half, lay.foot - drop)])
        for half, drop in ((10, 0), (7, 5), (3, 10))
    ]
    if right == lay.earth:
        return bars
    return [Shape("line", [(lay.earth, lay.foot), (right, lay.foot)], style="hidden"), *bars]


def _column(
    parts: Sequence[Part], heights: Sequence[float], left: float, lay: Layout
) -> list[Shape]:
    """Parts one below the other, with their words."""
    x, shapes = left + lay.spine, []
    for part, at in zip(parts, heights, strict=True):
        shapes += _sign(part.sign, x, at)
        words = left + lay.words
        shapes.append(Shape("text", [(words, at + 8)], part.what, anchor="start"))
        shapes.append(Shape("text", [(words, at - 9)], part.rating, style="dim", anchor="start"))
        if part is not parts[-1]:
            shapes.append(Shape("line", [(x, at - HALF), (x, at + HALF - lay.pitch)]))
        if part.earthed:
            tap = [(left + lay.earth, at), (x - HALF - 2, at)]
            shapes.append(Shape("line", tap, style="hidden"))
    earthed = [at for part, at in zip(parts, heights, strict=True) if part.earthed]
    if earthed:
        down = [(left + lay.earth, max(earthed)), (left + lay.earth, lay.foot)]
        shapes.append(Shape("line", down, style="hidden"))
    return shapes


def _told(parts: Sequence[Part]) -> Line:
    """The parts in words, one after the other."""
    first, *others = parts
    slots = {"what": first.what, "rating": first.rating}
    if not others:
        return line("{what}, {rating}", **slots)
    return line("{what}, {rating}; {others}", **slots, others=_told(others))


def _sign(kind: str, x: float, at: float) -> list[Shape]:
    """A part's sign on the line at `x`, within 16 of `at`."""
    box = Shape("rect", [(x - 16, at - 16), (x + 16, at + 16)])
    stubs = [Shape("line", [(x, at + 16), (x, at + 9)]), Shape("line", [(x, at - 9), (x, at - 16)])]
    match kind:
        case "battery":
            return [
                Shape("line", [(x - 16, at + 6), (x + 16, at + 6)]),
                Shape("line", [(x - 8, at - 2), (x + 8, at - 2)], style="accent"),
                Shape("line", [(x, at - 2), (x, at - 16)]),
            ]
        case "fuse":
            return [
                Shape("rect", [(x - 6, at - 11), (x + 6, at + 11)]),
                Shape("line", [(x, at + 16), (x, at - 16)]),
            ]
        case "switch":
            return [*stubs, Shape("line", [(x, at - 9), (x + 11, at + 8)])]
        case "breaker":
            return [
                *stubs,
                Shape("line", [(x, at - 9), (x + 11, at + 8)]),
                Shape("line", [(x - 4, at + 5), (x + 4, at + 13)]),
                Shape("line", [(x - 4, at + 13), (x + 4, at + 5)]),
            ]
        case "cable":
            return [
                Shape("line", [(x, at + 16), (x, at - 16)]),
                Shape("line", [(x - 6, at - 4), (x + 6, at + 2)], style="fine"),
                Shape("line", [(x - 6, at + 1), (x + 6, at + 7)], style="fine"),
            ]
        case "overload":
            return [
                *stubs,
                Shape("polyline", [(x, at + 9), (x + 10, at + 9), (x + 10, at - 9), (x, at - 9)]),
            ]
        case "motor":
            return [Shape("circle", [(x, at)], radius=16), Shape("text", [(x, at)], "M")]
        case "supply":
            return [box, Shape("text", [(x, at)], "AC")]
    return [
        box,
        Shape("line", [(x - 16, at - 16), (x + 16, at + 16)], style="fine"),
        Shape("text", [(x - 7, at + 8)], "="),
        Shape("text", [(x + 7, at - 8)], "~"),
    ]
