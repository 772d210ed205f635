"""A store that is drawn from and filled by amounts that vary: how low it gets, and how likely dry.

Amounts may be in any one unit (the rest of the project gives m3).
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, pairwise
from operator import mul

from ._require import not_negative, positive

# Abscissas and weights for Gaussian integration over -1..1, 8 points: Abramowitz and Stegun,
# Handbook of Mathematical Functions (1964), table 25.4.
_POINTS = (
    (0.1834346424956498, 0.3626837833783620),
    (0.5255324099163290, 0.3137066458778873),
    (0.7966664774136267, 0.2223810344533745),
    (0.9602898564975363, 0.1012285362903763),
)
_PANEL = 5.0  # standard deviations that a panel of 8 points is wide
_PANELS = 60.0  # most of them; a finer variation is reckoned as coarse as they allow
_FAR = 6.0  # standard deviations beyond which nothing comes
_FINEST = 0.01  # of what is drawn: less variation is none that anybody knows
_NOISE = 1e-6  # of a chance: finer it is not known
_TINY = 1e-300  # instead of no spread at all


@dataclass(frozen=True)
class Course:
    """A store over some drawings and fillings: the chance [0..1] that it ran dry by each drawing,
    and the level after each [unit of the store] that it stays above with 95, 50 and 5 %."""

    dry: tuple[float, ...]
    low: tuple[tuple[float, float, float], ...]


def normal(x: float) -> float:
    """Chance [0..1] that a normal variable is at most x standard deviations over its mean.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, sec. 1.3.6.6.1 (normal distribution).
    """
    return 0.5 * math.erfc(-x / math.sqrt(2))


def _density(x: float, deviation: float) -> float:
    return math.exp(-0.5 * (x / deviation) ** 2) / (deviation * math.sqrt(2 * math.pi))


@lru_cache(maxsize=64)
def course(
    room: float,
    start: float,
    draw: float,
    draw_deviation: float,
    fill: float,
    fill_deviation: float,
    count: int,
) -> Course:
    """A store of a room that begins at a start, is drawn from and then filled, so many times.

    All amounts in one unit. Draws and fills are normal and independent, each with its mean and
    standard deviation; what would be filled beyond the room is lost; once drawn below nothing it
    counts as dry from then on. The chances of the levels are followed by Gaussian integration over
    the store, the fill before each draw integrated in closed form. Raises ValueError unless room >
    0, the rest not negative, count >= 1. Source: the finite dam of P. A. P. Moran (1954), as in
    N. U. Prabhu, Some exact results for the finite dam, Ann. Math. Statist. 29 (1958) 1234-1243.
    """
    positive(room, "the room of the store")
    for value in (start, draw, draw_deviation, fill, fill_deviation):
        not_negative(value, "an amount of the store")
    if count < 1:
        raise ValueError("the store must be drawn from at least once")
    start = min(start, room)
    if draw == 0:
        levels = [min(room, start + k * fill) for k in range(count)]
        return Course((0.0,) * count, tuple((one, one, one) for one in levels))
    steps = _Steps(room, start, draw, draw_deviation, fill, fill_deviation, count)
    return steps.followed()


class _Steps:
    """The nodes over the store, and what passes from each to each by a fill and a draw."""

    def __init__(
        self,
        room: float,
        start: float,
        draw: float,
        draw_deviation: float,
        fill: float,
        fill_deviation: float,
        count: int,
    ) -> None:
        self.room, self.start, self.count = room, start, count
        self.draw, self.fill, self.fill_deviation = draw, fill, fill_deviation
        self.spread = max(draw_deviation, _FINEST * draw)
        bottom, top = self._reached()
        self.spread = max(self.spread, (top - bottom) / (_PANEL * _PANELS))
        self.bottom, top = self._reached()
        self.nodes, self.weights = self._placed(top)

    def _reached(self) -> tuple[float, float]:
        """The lowest and the highest that it may be drawn to."""
        drift, first = (self.count - 1) * (self.fill - self.draw), self.start - self.draw
        reach = _FAR * math.hypot(self.spread, self.fill_deviation) * math.sqrt(self.count)
        highest = min(self.room - self.draw, first + max(0.0, drift) + reach)
        return max(0.0, first + min(0.0, drift) - reach), highest + _FAR * self.spread

    def _placed(self, top: float) -> tuple[list[float], list[float]]:
        """Nodes and weights from the bottom to the top, with a seam where a fill just fits."""
        seam = self.room - self.fill
        edges = [self.bottom, *([seam] if self.bottom < seam < top else []), top]
        nodes, weights = [], []
        for low, high in pairwise(edges):
            if high <= low:
                continue
            panels = max(1, math.ceil((high - low) / (_PANEL * self.spread)))
            half = (high - low) / panels / 2
            for n in range(panels):
                middle = low + (2 * n + 1) * half
                for x, w in (*((-x, w) for x, w in reversed(_POINTS)), *_POINTS):
                    nodes.append(middle + half * x)
                    weights.append(half * w)
        return nodes, weights

    def followed(self) -> Course:
        """All drawings, one after the other."""
        nodes, weights, count = self.nodes, self.weights, self.count
        density = [_density(self.start - self.draw - y, self.spread) for y in nodes]
        brim = [self._to_the_brim(x) * w for x, w in zip(nodes, weights, strict=True)]
        from_brim = [_density(self.room - self.draw - y, self.spread) for y in nodes]
        rows = self._rows() if count > 1 else []
        dry, low = [], []
        worst = 0.0
        for n in range(count):
            if n:
                full = sum(map(mul, brim, density))
                density = [
                    sum(map(mul, row, density[at : at + len(row)])) + full * down
                    for (at, row), down in zip(rows, from_brim, strict=True)
                ]
            masses = list(map(mul, weights, density))
            left = sum(masses)
            worst = max(worst, 1 - left if 1 - left > _NOISE else 0.0)
            dry.append(min(1.0, worst))
            low.append(self._levels(masses, left))
        return Course(tuple(dry), tuple(low))

    def _to_the_brim(self, x: float) -> float:
        """Chance that a fill from x reaches the brim."""
        short = self.room - x - self.fill
        if self.fill_deviation == 0:
            return float(short <= 0)
        return normal(-short / self.fill_deviation)

    def _rows(self) -> list[tuple[int, list[float]]]:
        """Of each node the weights with which the others pass to it without reaching the brim, from
        the first that counts on."""
        both = math.hypot(self.spread, self.fill_deviation)
        drift, share = self.fill - self.draw, (self.fill_deviation / both) ** 2
        # Of the fills that lead from x to y, those count that stay below the brim. `apart` is how
        # far they spread, `gone` what is left of the room.
        apart = max(_TINY, self.spread * self.fill_deviation / both) * math.sqrt(2)
        gone, narrow = self.room - self.fill, -0.5 / both**2
        whole = 0.5 / (both * math.sqrt(2 * math.pi))
        nodes, far, exp, erfc = self.nodes, _FAR * both, math.exp, math.erfc
        weights = [whole * w for w in self.weights]
        rows = []
        for y in nodes:
            past = y - drift
            begin, end = bisect_left(nodes, past - far), bisect_left(nodes, past + far)
            row = [
                w * erfc((share * (past - x) - gone + x) / apart) * exp(narrow * (past - x) ** 2)
                for x, w in zip(nodes[begin:end], weights[begin:end], strict=True)
            ]
            rows.append((begin, row))
        return rows

    def _levels(self, masses: Sequence[float], left: float) -> tuple[float, float, float]:
        """The levels that it stays above with 95, 50 and 5 %; 0 where it is dry."""
        # Half of what a node stands for lies below it.
        up_to = [all_of - mass / 2 for all_of, mass in zip(accumulate(masses), masses, strict=True)]
        gone, found = max(0.0, 1 - left), []
        for share in (0.05, 0.5, 0.95):
            level, wanted = 0.0, share - gone
            at = bisect_left(up_to, wanted)
            if wanted > 0 and at < len(up_to):
                x, mass = (self.nodes[at - 1], up_to[at - 1]) if at else (self.bottom, 0.0)
                level = x + (self.nodes[at] - x) * (wanted - mass) / (up_to[at] - mass)
            found.append(min(self.room, max(0.0, level)))
        return found[0], found[1], found[2]
