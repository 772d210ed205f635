"""The course of a noisy series: where it changes, how it goes on, and how sure that is.

Each part between two changes is a straight line. Single readings that stand apart are set aside.
What the warmth of the sea could explain as well is no change.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

LEAST = 5  # points of a part: fewer tell no line from noise
MOST = 100  # points that are looked at: of more readings, medians of neighbours
_WINDOW = 7  # points about each that it is held against
# How many times its noise a point stands apart to be set aside: Hampel's rule has three; four lets
# noise stay. Common practice, no source.
APART = 4.0
# How much more than the criterion of Schwarz asks a change must explain: noise that isn't quite
# normal, and seven readings to each side. Found on simulated series. Common practice, no source.
STRICT = 1.5
_SPREAD = 2.0  # times the usual width of a group that nothing jumps in
_OF_MEDIAN = 1.2533  # standard deviation of a median of normal noise over that of the mean
_MAD = 1.4826  # standard deviation of normal noise over the median of its sizes


@dataclass(frozen=True)
class Part:
    """A straight stretch: its first and last point by place, and its line.

    The line is `level` at `middle`, and rises by `slope`; `noise` is the standard deviation of a
    point about it, of `count` points with the sum of squares `spread` about the middle; `unsure`
    is the variance of its slope that the sea's warmth adds.
    """

    first: int
    last: int
    count: int
    middle: float
    level: float
    slope: float
    noise: float
    spread: float
    unsure: float = 0.0

    def at(self, x: float) -> float:
        """Its height at a place."""
        return self.level + self.slope * (x - self.middle)

    @property
    def slope_band(self) -> float:
        """How far its slope may be out to either side, 19 times out of 20."""
        if self.spread <= 0:
            return math.inf
        variance = self.noise**2 / self.spread + self.unsure
        return student(max(self.count - 2, 1)) * math.sqrt(variance)

    def band(self, x: float) -> float:
        """How far to either side of it the true line lies, 19 times out of 20. Source: least
        squares with normal noise, by Student's t (any textbook)."""
        away = (x - self.middle) ** 2
        variance = self.noise**2 / self.count
        if self.spread > 0:
            variance += away * (self.noise**2 / self.spread + self.unsure)
        return student(max(self.count - 2, 1)) * math.sqrt(variance)


@dataclass(frozen=True)
class Course:
    """A series as it was read: places x in their order, heights y, those set aside by their place
    in what was given, the noise of a point and of a single reading, its parts, and where it changes
    from one to the next: the last place before and the first one after."""

    x: tuple[float, ...]
    y: tuple[float, ...]
    apart: tuple[int, ...]
    noise: float
    scatter: float
    parts: tuple[Part, ...]
    changes: tuple[tuple[float, float], ...]

    @property
    def now(self) -> Part:
        """The part that goes on."""
        return self.parts[-1]


@lru_cache(maxsize=64)  # a search along a line asks for the same one
def student(freedom: int) -> float:
    """How many standard deviations hold 19 of 20, of so many degrees of freedom.

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5.
    """
    z, v = 1.959963985, freedom
    if v < 3:
        return (0.0, 12.7062, 4.30265)[v]
    return (
        z
        + (z**3 + z) / (4 * v)
        + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * v**2)
        + (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / (384 * v**3)
        + (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / (92160 * v**4)
    )


def median(values: Sequence[float]) -> float:
    """The middle one, or the mean of the two in the middle."""
    ordered, half = sorted(values), len(values) // 2
    return ordered[half] if len(values) % 2 else (ordered[half - 1] + ordered[half]) / 2


def course(
    x: Sequence[float],
    y: Sequence[float],
    warmth: Sequence[float],
    least_noise: float,
    by_warmth: float,
) -> Course:
    """The course of heights y at places x in their order, each with the sea's warmth.

    `least_noise` is the standard deviation of one reading by its meters; `by_warmth` how far the
    correction for warmth may be out, of a height for each kelvin. Empty for nothing. Source: a
    Hampel filter (Pearson, IEEE Trans. Control Syst. Technol. 10 (2002) 55-63); optimal
    partitioning (Jackson et al., IEEE Signal Process. Lett. 12 (2005) 105-108) under the criterion
    of Schwarz (Ann. Stat. 6 (1978) 461-464).
    """
    if not x:
        return Course((), (), (), least_noise, least_noise, (), ())
    size = max(1, math.ceil(len(x) / MOST))
    size += 1 - size % 2
    if size < LEAST:
        aside = _set_aside(y, least_noise)
        kept = [n for n in range(len(x)) if n not in aside]
        groups = [kept[begin : begin + size] for begin in range(0, len(kept), size)]
    else:
        kept = list(range(len(x)))
        groups = _unmixed([kept[begin : begin + size] for begin in range(0, len(kept), size)], y)
        aside = _apart_in(groups, y, least_noise)
    xs = [median([x[n] for n in group]) for group in groups]
    ys = [median([y[n] for n in group]) for group in groups]
    ts = [sum([warmth[n] for n in group]) / len(group) for group in groups]
    noise = max(_noise(ys), least_noise * (_OF_MEDIAN / math.sqrt(size) if size > 1 else 1.0))
    parts = _parted(xs, ys, noise)
    parts = _explained(xs, ys, ts, noise, by_warmth, parts)
    made = [_line(xs, ys, ts, noise, by_warmth, i, j) for i, j in parts]
    changes = []
    for before, after in pairwise(made):
        near = [n for n in kept if groups[before.last][0] <= n <= groups[after.first][-1]]
        changes.append(_between([(x[n], y[n]) for n in near], before, after))
    scatter = max(_noise(y), least_noise)
    return Course(
        tuple(xs), tuple(ys), tuple(sorted(aside)), noise, scatter, tuple(made), tuple(changes)
    )


def _unmixed(groups: list[list[int]], y: Sequence[float]) -> list[list[int]]:
    """Those groups of neighbours between which nothing jumps: a jump inside one spreads it, and its
    median is neither the one height nor the other."""
    widths = []
    for group in groups:
        ordered = sorted([y[n] for n in group])
        widths.append(ordered[3 * len(group) // 4] - ordered[len(group) // 4])
    usual = _SPREAD * median(widths)
    return [group for group, width in zip(groups, widths, strict=True) if width <= usual]


def _apart_in(groups: list[list[int]], y: Sequence[float], least_noise: float) -> set[int]:
    """Points that stand apart from their group, whose median they don't move."""
    far = APART * max(_noise(y), least_noise)
    found = set()
    for group in groups:
        middle = median([y[n] for n in group])
        found.update([n for n in group if abs(y[n] - middle) > far])
    return found


def _noise(y: Sequence[float]) -> float:
    """Standard deviation of the noise, by the differences of neighbours, which no change moves."""
    steps = [abs(b - a) for a, b in pairwise(y)]
    return _MAD * median(steps) / math.sqrt(2) if steps else 0.0


def _set_aside(y: Sequence[float], least_noise: float) -> set[int]:
    """Points that stand apart from their neighbours, by place."""
    if len(y) < LEAST:
        return set()
    noise = max(_noise(y), least_noise)
    half, last = _WINDOW // 2, len(y)
    found = set()
    for n, one in enumerate(y):
        begin = min(max(n - half, 0), max(last - _WINDOW, 0))
        near = sorted(y[begin : begin + _WINDOW])
        if abs(one - near[len(near) // 2]) > APART * noise:
            found.add(n)
    return found


def _parted(x: Sequence[float], y: Sequence[float], noise: float) -> list[tuple[int, int]]:
    """The parts, each from a place up to before another, that explain the heights best for what
    each more must explain."""
    size = len(x)
    if size < 2 * LEAST:
        return [(0, size)]
    n_x, n_y = sum(x) / size, sum(y) / size
    sx, sy, sxx, sxy, syy = [0.0], [0.0], [0.0], [0.0], [0.0]
    for a, b in zip(x, y, strict=True):
        u, v = a - n_x, b - n_y
        sx.append(sx[-1] + u)
        sy.append(sy[-1] + v)
        sxx.append(sxx[-1] + u * u)
        sxy.append(sxy[-1] + u * v)
        syy.append(syy[-1] + v * v)
    penalty = STRICT * 3 * math.log(size) * noise**2
    best, came = [-penalty] + [math.inf] * size, [0] * (size + 1)
    for j in range(LEAST, size + 1):
        ax, ay, axx, axy, ayy = sx[j], sy[j], sxx[j], sxy[j], syy[j]
        found, place = math.inf, 0
        for i in range(j - LEAST + 1):
            before = best[i]
            if before >= found:
                continue
            n = j - i
            dx, dy = ax - sx[i], ay - sy[i]
            wide = axx - sxx[i] - dx * dx / n
            cost = ayy - syy[i] - dy * dy / n
            if wide > 1e-9:
                rise = axy - sxy[i] - dx * dy / n
                cost -= rise * rise / wide
            if before + cost < found:
                found, place = before + cost, i
        best[j], came[j] = found + penalty, place
    parts: list[tuple[int, int]] = []
    end = size
    while end > 0:
        parts.append((came[end], end))
        end = came[end]
    return parts[::-1]


def _explained(
    x: Sequence[float],
    y: Sequence[float],
    warmth: Sequence[float],
    noise: float,
    by_warmth: float,
    parts: list[tuple[int, int]],
) -> list[tuple[int, int]]:
    """The parts without those changes that the sea's warmth explains nearly as well."""
    kept = [parts[0]]
    enough = STRICT * 3 * math.log(len(x)) * noise**2
    for i, j in parts[1:]:
        before = kept[-1]
        apart = sum([_rest(x, y, warmth, noise, by_warmth, *one) for one in (before, (i, j))])
        together = _rest(x, y, warmth, noise, by_warmth, before[0], j)
        if together - apart < enough:
            kept[-1] = (before[0], j)
        else:
            kept.append((i, j))
    return kept


def _between(near: Sequence[tuple[float, float]], before: Part, after: Part) -> tuple[float, float]:
    """The neighbours between which one line fits better up to there and the other from there on."""
    gains = [
        (y - after.at(x)) ** 2 - (y - before.at(x)) ** 2 for x, y in near
    ]  # of leaving each to the line before
    best = max(range(1, len(near)), key=lambda n: sum(gains[:n]))
    return near[best - 1][0], near[best][0]


def _rest(
    x: Sequence[float],
    y: Sequence[float],
    warmth: Sequence[float],
    noise: float,
    by_warmth: float,
    i: int,
    j: int,
) -> float:
    """What a line, and as much of the warmth as may be, leave unexplained of a part."""
    a, b, t = _about_line(x, y, warmth, i, j)
    share, free = _by_warmth(a, b, t, noise, by_warmth)
    return sum([(v - share * u) ** 2 for u, v in zip(t, b, strict=True)]) + free


def _about_line(
    x: Sequence[float], y: Sequence[float], warmth: Sequence[float], i: int, j: int
) -> tuple[list[float], list[float], list[float]]:
    """Places about their mean; heights and warmth about their own lines."""
    n = j - i
    mean = sum(x[i:j]) / n
    places = [one - mean for one in x[i:j]]
    wide = sum([one * one for one in places])

    def about(values: Sequence[float]) -> list[float]:
        middle = sum(values) / n
        rise = sum([u * v for u, v in zip(places, values, strict=True)])
        slope = rise / wide if wide > 1e-9 else 0.0
        return [v - middle - slope * u for u, v in zip(places, values, strict=True)]

    return places, about(y[i:j]), about(warmth[i:j])


def _by_warmth(
    places: Sequence[float],
    heights: Sequence[float],
    warmth: Sequence[float],
    noise: float,
    by_warmth: float,
) -> tuple[float, float]:
    """How much of a height goes with each kelvin beyond its correction, and what that costs: the
    more the farther it is from nothing."""
    if by_warmth <= 0:
        return 0.0, 0.0
    ridge = (noise / by_warmth) ** 2
    moved = sum([u * u for u in warmth])
    share = sum([u * v for u, v in zip(warmth, heights, strict=True)]) / (moved + ridge)
    return share, share * share * ridge


def _line(
    x: Sequence[float],
    y: Sequence[float],
    warmth: Sequence[float],
    noise: float,
    by_warmth: float,
    i: int,
    j: int,
) -> Part:
    """The line of a part, what the warmth explains taken off."""
    n = j - i
    middle = sum(x[i:j]) / n
    places, about, warm = _about_line(x, y, warmth, i, j)
    share, _ = _by_warmth(places, about, warm, noise, by_warmth)
    mean_warmth = sum(warmth[i:j]) / n
    heights = [v - share * (t - mean_warmth) for v, t in zip(y[i:j], warmth[i:j], strict=True)]
    level = sum(heights) / n
    wide = sum([u * u for u in places])
    slope = unsure = 0.0
    if wide > 1e-9:
        slope = sum([u * v for u, v in zip(places, heights, strict=True)]) / wide
        if by_warmth > 0:
            goes_along = sum([u * t for u, t in zip(places, warmth[i:j], strict=True)]) / wide
            ridge = (noise / by_warmth) ** 2
            unsure = goes_along**2 * noise**2 / (sum([u * u for u in warm]) + ridge)
    rest = sum([(v - level - slope * u) ** 2 for u, v in zip(places, heights, strict=True)])
    seen = math.sqrt(rest / (n - 2)) if n > 2 else noise
    return Part(i, j - 1, n, middle, level, slope, max(seen, noise), wide, unsure)
