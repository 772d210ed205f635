"""A scale of salt: on its left how water tastes, on its right the meter and what it is held to."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ...frame.report import Drawing, Line, Shape, line
from ...physics.drinking_water import TASTES
from ...system.tank_water import TankWater

_WIDE, _TALL = 400.0, 250.0
_LEFT, _RIGHT = 150.0, 182.0  # the scale's edges
_LOW, _HIGH = 12.0, 236.0  # its ends
_ROW = 16.0  # of a line of words
_LEAST_TOP = 1.4  # kg/m3
_NAMES = ("excellent", "good", "fair", "poor", "unacceptable")
_FILLS = ("fine", "fine", "fine", "hatch", "blocked")
Up = Callable[[float], float]


def drawing(water: TankWater) -> Drawing:
    """The scale, as far as the meter reads or WHO's bands go."""
    marks = [
        (water.reading.salt, line("your meter {s}", s=(water.reading.salt, "mg/L"))),
        (water.aim, line("you want at most {s}", s=(water.aim, "mg/L"))),
    ]
    if water.expected is not None:
        marks.append((water.expected, line("it should make {s}", s=(water.expected, "mg/L"))))
    top = max(_LEAST_TOP, *(1.08 * at for at, _ in marks))

    def up(salt: float) -> float:
        return _LOW + (_HIGH - _LOW) * salt / top

    return Drawing(
        "taste",
        "Salt and taste: left WHO's bands, right your water",
        "A scale of salt: on the left how water tastes by WHO's bands, on the right what your "
        "meter shows, what the unit should make in this sea, and the most that you want.",
        [*_bands(top, up), *_labels(marks, up)],
        frame=(_WIDE, _TALL),
    )


def _bands(top: float, up: Up) -> list[Shape]:
    found = []
    edges = [0.0, *TASTES, top]
    for name, fill, low, high in zip(_NAMES, _FILLS, edges, edges[1:], strict=False):
        found.append(Shape("rect", [(_LEFT, up(low)), (_RIGHT, up(high))], style=fill))
        middle = (up(low) + up(high)) / 2
        found.append(Shape("text", [(_LEFT - 8, middle - 4)], name, anchor="end"))
    for edge in TASTES:
        found.append(
            Shape("text", [(34, up(edge) - 4)], line("{s}", s=(edge, "mg/L")), style="dim")
        )
        found.append(Shape("line", [(_LEFT - 6, up(edge)), (_LEFT, up(edge))], style="fine"))
    return found


def _labels(marks: Sequence[tuple[float, Line]], up: Up) -> list[Shape]:
    """Words on the right, each with a line to its place; those that meet give way."""
    found: list[Shape] = []
    ordered = sorted(marks, key=lambda mark: mark[0])
    heights, last = [], -1e9
    for at, _ in ordered:
        last = max(up(at), last + _ROW)
        heights.append(last)
    over = _TALL - 8
    for n in range(len(heights) - 1, -1, -1):
        heights[n] = min(heights[n], over)
        over = heights[n] - _ROW
    for (at, words), y in zip(ordered, heights, strict=True):
        found.append(Shape("line", [(_RIGHT, up(at)), (_RIGHT + 22, y)], style="accent"))
        found.append(Shape("text", [(_RIGHT + 26, y - 4)], words, anchor="start"))
    return found
