"""One-line drawings: the parts of a circuit in their order, each with what it must be rated for.

To scale of meaning, not of size; drawn upright, so that its words stay legible on a phone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .report import Drawing, Line, Shape

SPINE, EARTH, WORDS, WIDE = 64.0, 18.0, 98.0, 360.0
PITCH = 58.0  # from part to part
HALF = 16.0  # of a part's sign
FOOT = 24.0  # of the earth line


@dataclass(frozen=True)
class Part:
    """A part: its sign, what it is, and what it must be; `earthed` where its metal is bonded.

    Signs: battery, fuse, switch, breaker, cable, converter, overload, motor, supply.
    """

    sign: str
    what: Line | str
    rating: Line | str
    earthed: bool = False


def one_line(key: str, title: str, parts: Sequence[Part]) -> Drawing:
    """The drawing of parts from the source at the top to the load at the foot."""
    tall = PITCH * len(parts) + 40
    shapes: list[Shape] = []
    heights = [tall - 34 - PITCH * i for i in range(len(parts))]
    for part, at in zip(parts, heights, strict=True):
        shapes += _sign(part.sign, at)
        shapes.append(Shape("text", [(WORDS, at + 8)], part.what, anchor="start"))
        shapes.append(Shape("text", [(WORDS, at - 9)], part.rating, style="dim", anchor="start"))
        if part is not parts[-1]:
            shapes.append(Shape("line", [(SPINE, at - HALF), (SPINE, at + HALF - PITCH)]))
        if part.earthed:
            shapes.append(Shape("line", [(EARTH, at), (SPINE - HALF - 2, at)], style="hidden"))
    earthed = [at for part, at in zip(parts, heights, strict=True) if part.earthed]
    if earthed:
        shapes += _earth(max(earthed))
    told = "; ".join(f"{_told(part.what)}, {_told(part.rating)}" for part in parts)
    return Drawing(
        key, title, f"From the top: {told}. The dashed line is earth.", shapes, to_scale=False,
        frame=(WIDE, tall),
    )  # fmt: skip


def _told(words: Line | str) -> str:
    return words if isinstance(words, str) else words.text()


def _sign(kind: str, at: float) -> list[Shape]:
    """A part's sign on the line, within 16 of `at`."""
    x = SPINE
    box = Shape("rect", [(x - 16, at - 16), (x + 16, at + 16)])
    stubs = [Shape("line", [(x, at + 16), (x, at + 9)]), Shape("line", [(x, at - 9), (x, at - 16)])]
    match kind:
        case "battery":
            return [Shape("line", [(x - 16, at + 6), (x + 16, at + 6)]),
                    Shape("line", [(x - 8, at - 2), (x + 8, at - 2)], style="accent"),
                    Shape("line", [(x, at - 2), (x, at - 16)])]  # fmt: skip
        case "fuse":
            return [Shape("rect", [(x - 6, at - 11), (x + 6, at + 11)]),
                    Shape("line", [(x, at + 16), (x, at - 16)])]  # fmt: skip
        case "switch":
            return [*stubs, Shape("line", [(x, at - 9), (x + 11, at + 8)])]
        case "breaker":
            return [*stubs, Shape("line", [(x, at - 9), (x + 11, at + 8)]),
                    Shape("line", [(x - 4, at + 5), (x + 4, at + 13)]),
                    Shape("line", [(x - 4, at + 13), (x + 4, at + 5)])]  # fmt: skip
        case "cable":
            return [Shape("line", [(x, at + 16), (x, at - 16)]),
                    Shape("line", [(x - 6, at - 4), (x + 6, at + 2)], style="fine"),
                    Shape("line", [(x - 6, at + 1), (x + 6, at + 7)], style="fine")]  # fmt: skip
        case "overload":
            return [*stubs, Shape("polyline", [(x, at + 9), (x + 10, at + 9), (x + 10, at - 9),
                                               (x, at - 9)])]  # fmt: skip
        case "motor":
            return [Shape("circle", [(x, at)], radius=16), Shape("text", [(x, at)], "M")]
        case "supply":
            return [box, Shape("text", [(x, at)], "AC")]
    return [box, Shape("line", [(x - 16, at - 16), (x + 16, at + 16)], style="fine"),
            Shape("text", [(x - 7, at + 8)], "="),
            Shape("text", [(x + 7, at - 8)], "~")]  # fmt: skip


def _earth(top: float) -> list[Shape]:
    """The earth line from the highest part that is bonded down to the earth sign."""
    bars = [
        Shape("line", [(EARTH - half, FOOT - drop), (EARTH + half, FOOT - drop)])
        for half, drop in ((12, 0), (8, 5), (3, 10))
    ]
    return [Shape("line", [(EARTH, top), (EARTH, FOOT)], style="hidden"), *bars]
