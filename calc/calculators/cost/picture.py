"""A tornado: what a year saves if one number is off, the number that matters most on top."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from ...frame.report import Drawing, Line, Shape, line
from ...system.purse import Purse, Swing

MOST, ON_CARD = 8, 5  # bars
_WIDE, _ROW = 400.0, 36.0
_LEFT, _RIGHT = 62.0, 338.0  # of the bars; the amounts stand beside them
_FOOT = 40.0
NAMES = {
    "price": "Price of the unit, fitted",
    "resale": "What it sells for",
    "years": "Years that you use it",
    "interest": "Interest, two points less or more",
    "drawn": "Water that you use a day",
    "days": "Days of use a year",
    "product": "Fresh water that it makes an hour",
    "energy": "Price of its energy",
    "wear": "Upkeep, membranes and parts",
    "bought": "Price of bought water",
    "trip": "Cost of a trip for water",
    "brings": "Water brought by a trip",
}


def tornado(purse: Purse) -> Drawing:
    """A bar for each number, from the worst that a year saves to the best."""
    rows = purse.swings()
    return replace(_drawn(purse, rows[:MOST]), for_card=lambda: _drawn(purse, rows[:ON_CARD]))


def _drawn(purse: Purse, rows: list[Swing]) -> Drawing:
    ends = [0.0, purse.saving, *(s.worst for s in rows), *(s.best for s in rows)]
    low, high = min(ends), max(ends)

    def at(money: float) -> float:
        return _LEFT + (_RIGHT - _LEFT) * (money - low) / ((high - low) or 1.0)

    tall = _FOOT + _ROW * len(rows) + 6
    shapes = []
    zero, here = at(0.0), at(purse.saving)
    for place, swing in enumerate(rows):
        low_end = tall - 6 - _ROW * (place + 1)
        shapes += _bar(swing, at, low_end)
        # beside the names, not through them
        shapes += [
            Shape("line", [(x, low_end), (x, low_end + 17)], style=style)
            for x, style in ((zero, "outline"), (here, "hidden"))
        ]
    shapes += _below(zero, here, purse.saving)
    return Drawing(
        "tornado",
        "What a year saves, each number a quarter less and a quarter more",
        "A bar for each number, the one that matters most on top, from what a year saves at the "
        "worst to what it saves at the best, the other numbers as they are. Left of the full line "
        "bought water is cheaper; the broken line is the answer as it stands.",
        shapes,
        frame=(_WIDE, tall),
    )


def _bar(swing: Swing, at: Callable[[float], float], low: float) -> list[Shape]:
    left, right = at(swing.worst), at(swing.best)
    return [
        Shape("text", [(4, low + 22)], NAMES[swing.key], anchor="start"),
        Shape("rect", [(left, low + 4), (max(right, left + 1), low + 15)], style="fill"),
        _money(swing.worst, _LEFT - 4, low + 5, "end"),
        _money(swing.best, _RIGHT + 4, low + 5, "start"),
    ]


def _money(value: float, x: float, y: float, anchor: str) -> Shape:
    return Shape("text", [(x, y)], line("{m}", m=(value, "¤")), style="dim", anchor=anchor)


def _below(zero: float, here: float, saving: float) -> list[Shape]:
    """What the two lines are, in a row each."""
    words: list[tuple[float, Line, float]] = [
        (zero, line("as dear as bought"), 24.0),
        (here, line("as it stands: {m}", m=(saving, "¤")), 8.0),
    ]
    ticks = [
        Shape("line", [(zero, 36.0), (zero, 42.0)]),
        Shape("line", [(here, 20.0), (here, 42.0)], style="hidden"),
    ]
    return ticks + [
        Shape("text", [(min(max(x, 60.0), _WIDE - 60.0), y)], told, style="dim")
        for x, told, y in words
    ]
