"""A scale as on a gauge, stood upright: on its left what each part bears, on its right
what the boat works with and where the relief valve opens."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from ...frame.report import Drawing, Line, Shape, line
from ...system.pressure_side import PressureSide

_WIDE, _TALL = 400.0, 330.0
_LEFT, _RIGHT = 184.0, 216.0  # the scale's edges
_LOW, _HIGH = 14.0, 300.0  # its ends
_ROW = 16.0  # of a line of words
_NAMES = {
    "pump": "pump {p}",
    "hose": "hose {p}",
    "fittings": "fittings {p}",
    "vessel": "tube {p}",
    "membranes": "membrane {p}",
}
Label = tuple[float, Line]
Up = Callable[[float], float]


def drawing(side: PressureSide) -> Drawing:
    """The scale, to as much as the gauge shows, or further where something lies beyond."""
    opens = side.relief.opens if side.relief else 0.0
    shown = [side.pressure, side.weakest.bears, opens, side.reached or 0.0]
    top = max([side.scale or 0.0, *(1.05 * p for p in shown)])

    def up(pressure: float) -> float:
        return _LOW + (_HIGH - _LOW) * min(pressure, top) / top

    shapes = [Shape("rect", [(_LEFT, _LOW), (_RIGHT, _HIGH)])]
    shapes += _ticks(top, up)
    shapes += _window(side, up)
    left: list[Label] = [(r.bears, line(_NAMES[r.key], p=(r.bears, "bar"))) for r in side.ratings]
    right: list[Label] = [(side.pressure, line("you work with {p}", p=(side.pressure, "bar")))]
    if side.relief is not None:
        right.append((opens, line("relief valve opens {p}", p=(opens, "bar"))))
    if side.reached is not None:
        right.append((side.reached, line("lets all through {p}", p=(side.reached, "bar"))))
    if side.scale is not None:
        right.append((side.scale, line("gauge ends {p}", p=(side.scale, "bar"))))
    if side.bursts is not None:
        left.append((side.bursts.value, line("hose bursts {p}", p=(side.bursts.value, "bar"))))
    shapes += _labels(left, up, top, _LEFT, -1) + _labels(right, up, top, _RIGHT, 1)
    return Drawing(
        "scale",
        "Pressure, as on a gauge: left what each part bears, right what you work with",
        "A scale of pressure: on the left what each part bears, on the right the working pressure, "
        "where the relief valve opens, and the end of the gauge's scale; hatched, the pressures to "
        "set over the seas of the voyage.",
        shapes,
        frame=(_WIDE, _TALL),
    )


def _ticks(top: float, up: Up) -> list[Shape]:
    step = next(s for s in (5e5, 10e5, 20e5, 50e5, 100e5, 200e5) if top / s <= 12 or s == 200e5)
    found = []
    at = step
    while at < top * 0.999:
        found.append(Shape("line", [(_LEFT, up(at)), (_LEFT + 8, up(at))], style="fine"))
        found.append(Shape("line", [(_RIGHT - 8, up(at)), (_RIGHT, up(at))], style="fine"))
        at += step
    return found


def _window(side: PressureSide, up: Up) -> list[Shape]:
    """The pressures to set over the seas, hatched."""
    found = side.set_in_seas
    if len(found) < 2:
        return []
    low, high = up(min(found)), up(max(found))
    return [Shape("rect", [(_LEFT, low), (_RIGHT, max(high, low + 2))], style="hatch")]


def _labels(labels: Sequence[Label], up: Up, top: float, edge: float, way: int) -> list[Shape]:
    """Words beside the scale, each with a line to its place; those that meet give way."""
    found: list[Shape] = []
    last = -1e9
    ordered = sorted(labels, key=lambda label: label[0])
    # From the top down where they would run over it, else from below.
    heights = []
    for pressure, _ in ordered:
        last = max(up(pressure), last + _ROW)
        heights.append(last)
    over = _TALL - 10
    for n in range(len(heights) - 1, -1, -1):
        heights[n] = min(heights[n], over)
        over = heights[n] - _ROW
    for (pressure, words), y in zip(ordered, heights, strict=True):
        x = edge + way * 22
        style = "hidden" if pressure > top else "fine"
        found.append(Shape("line", [(edge, up(pressure)), (x, y)], style=style))
        found.append(
            Shape("text", [(x + way * 3, y - 4)], words, anchor="start" if way > 0 else "end")
        )
    return found
