"""The line to scale of height, with the pressures along it, the waterline and the boat's heel."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from ...frame.report import Drawing, Shape, line
from ...system.feed_line import FeedLine, Spot, Station

_WIDE, _SCENE, _EDGE = 400.0, 150.0, 20.0
_NAMES, _ROW = 44.0, 15.0  # room for the names below, and the height of a line of words
Up = Callable[[float], float]
_MOST_SCALE = 260.0  # of the drawing's units a metre
_TOP = 5 * _ROW + 8
_PUMP = 18.0  # half its width
_FINE = 100.0  # Pa: finer than that nobody reads a gauge

_BOOSTED = {"sea": 42.0, "boost_in": 122.0, "boost_out": 202.0, "filters": 282.0, "inlet": 360.0}
_PLAIN = {"sea": 46.0, "strainer": 150.0, "filters": 254.0, "inlet": 352.0}
_AT = {True: _BOOSTED, False: _PLAIN}
_NAME = {
    "sea": "intake",
    "strainer": "strainer",
    "boost_in": "strainer",
    "boost_out": "boost pump",
    "filters": "filters",
    "inlet": "pump",
}


def drawing(feed: FeedLine) -> Drawing:
    """The line from the sea to the pump: heights to scale, what lies between them not."""
    new, due = feed.stations(dirty=False), feed.stations(dirty=True, moving=True)
    across = _AT[feed.boost is not None]
    spots = {one.key: one.spot for one in new if one.key in across}
    heights = [0.0, *(one.height for one in spots.values())]
    heights += [-one.rise(feed.moves) for one in spots.values()]
    low, high = min(heights), max(heights)
    scale = min(_SCENE / max(high - low, 0.05), _MOST_SCALE)
    base = _NAMES + _EDGE

    def up(height: float) -> float:
        return base + (height - low) * scale

    top = up(high) + _EDGE + 8
    shapes = [
        Shape("line", [(4, up(0)), (_WIDE - 4, up(0))], style="fine"),
        Shape(
            "polyline",
            [(across[key], up(-spot.rise(feed.moves))) for key, spot in spots.items()],
            style="hidden",
        ),
        *_waterline(feed, up),
        *_hose(spots, across, up),
        *_things(spots, across, up),
        *_names(spots, across),
        *_pressures(new, due, across, top),
    ]
    return Drawing(
        "line",
        "Heights to scale, lengths not; dashed: how far the water falls as she heels",
        "The way of the water from the intake to the high-pressure pump, each thing at its height "
        "over or under the waterline, with the pressure at each: filters new and upright, and "
        "filters due for change and heeled.",
        shapes,
        frame=(_WIDE, top + _TOP),
    )


def _read(pressure: float) -> float:
    return round(pressure / _FINE) * _FINE


def _waterline(feed: FeedLine, up: Up) -> list[Shape]:
    """Its name, where nothing is in the way."""
    if up(0.0) - up(feed.intake.height) < _ROW + 8:
        return []
    return [Shape("text", [(4, up(0.0) + 8)], "water", style="dim", anchor="start")]


def _hose(spots: dict[str, Spot], across: dict[str, float], up: Up) -> list[Shape]:
    """The hose: level, and up or down half way between two things."""
    points = [(across[key], up(spot.height)) for key, spot in spots.items()]
    path = [(2.0, points[0][1]), points[0]]
    for (x0, y0), (x1, y1) in pairwise(points):
        middle = (x0 + x1) / 2
        path += [(middle, y0), (middle, y1), (x1, y1)]
    path[-1] = (path[-1][0] - _PUMP, path[-1][1])
    return [Shape("polyline", path, style="accent")]


def _things(spots: dict[str, Spot], across: dict[str, float], up: Up) -> list[Shape]:
    found: list[Shape] = []
    for key, spot in spots.items():
        x, y = across[key], up(spot.height)
        if key == "sea":  # the skin of the hull with its seacock
            found += [
                Shape("line", [(x - 22, y - 14), (x - 22, y + 14)]),
                Shape("polygon", [(x - 9, y - 5), (x + 9, y + 5), (x + 9, y - 5), (x - 9, y + 5)]),
            ]
        elif key in ("strainer", "boost_in"):
            found.append(Shape("rect", [(x - 9, y - 12), (x + 9, y + 5)], style="hatch"))
        elif key == "boost_out":
            found += [
                Shape("circle", [(x, y)], radius=12, style="fill"),
                Shape("polygon", [(x - 6, y - 9), (x - 6, y + 9), (x + 11, y)]),
            ]
        elif key == "filters":
            found += [
                Shape("rect", [(x + dx - 8, y - 22), (x + dx + 8, y + 5)], style="hatch")
                for dx in (-10, 10)
            ]
        else:
            found.append(Shape("rect", [(x - _PUMP, y - 11), (x + _PUMP, y + 11)], style="blocked"))
    return found


def _names(spots: dict[str, Spot], across: dict[str, float]) -> list[Shape]:
    found = []
    for key, spot in spots.items():
        x = across[key]
        found += [
            Shape("text", [(x, _NAMES - _ROW)], _NAME[key]),
            Shape("text", [(x, _NAMES - 2 * _ROW - 2)], line("{h}", h=(spot.height, "m")), "dim"),
        ]
    return found


def _pressures(
    new: list[Station], due: list[Station], across: dict[str, float], top: float
) -> list[Shape]:
    """Two rows of pressures over the things they stand at."""
    found = [
        Shape("text", [(4, top + 4 * _ROW + 4)], "filters new, upright:", anchor="start"),
        Shape("text", [(4, top + 2 * _ROW)], "filters due, heeled:", anchor="start"),
    ]
    for row, stations in ((3 * _ROW + 4, new), (_ROW, due)):
        found += [
            Shape(
                "text", [(across[one.key], top + row)], line("{p}", p=(_read(one.pressure), "bar"))
            )
            for one in stations
            if one.key in across
        ]
    return found
