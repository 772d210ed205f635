"""Charts and drawings as SVG. Colours come from the page's CSS variables, so every look fits."""

from __future__ import annotations

import math
import re
import textwrap
from bisect import bisect_left
from collections.abc import Callable, Sequence
from functools import lru_cache
from html import escape

from ...rounding import trimmed
from .. import units
from ..language import spoken
from ..report import Axis, Chart, Drawing, Mark, Series, Shape, say

WIDTH, HEIGHT = 440, 300  # no larger, or a phone makes the words too small
LEFT, RIGHT, TOP, BOTTOM = 58, 100, 18, 48
END_LABEL_CHARACTERS = 12  # that fit between a curve's end and the edge
# Of the height of a drawing's letters, how wide they are: narrow ones, wide ones, all others.
LETTERS = {**dict.fromkeys("iIjlftr.,:;'’|/()[] ", 0.3), **dict.fromkeys("mwMW%", 0.88)}
LETTER, SIZE, RIM = 0.62, 13.0, 4.0
_DASHES = ("", "7 4", "2 4", "10 3 2 3")


@lru_cache(maxsize=1024)
def _n(value: float) -> str:
    """A coordinate with two decimals: enough for the eye, and the same on every machine."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def _text(
    x: float, y: float, words: str, cls: str = "", anchor: str = "start", extra: str = ""
) -> str:
    kind = f' class="{cls}"' if cls else ""
    return (
        f'<text x="{_n(x)}" y="{_n(y)}" text-anchor="{anchor}"{kind}{extra}>{escape(words)}</text>'
    )


def _pressed(words: str, room: float) -> str:
    """What presses words together that would go beyond their room: another language's are longer."""
    room -= RIM
    if room <= 0 or SIZE * sum(LETTERS.get(c, LETTER) for c in words) <= room:
        return ""
    return f' textLength="{_n(room)}" lengthAdjust="spacingAndGlyphs"'


def nice_ticks(low: float, high: float, most: int = 6) -> list[float]:
    """Round numbers from at or below `low` to at or above `high`, in steps of 1, 2 or 5."""
    span = high - low
    if span <= 0:
        span = abs(high) or 1.0
        low, high = low - span / 2, high + span / 2
    raw = span / max(1, most - 1)
    power = 10.0 ** math.floor(math.log10(raw))
    step = next(s * power for s in (1, 2, 5, 10) if s * power >= raw * (1 - 1e-9))
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return [units.trim(i * step) for i in range(first, last + 1)]


def log_ticks(low: float, high: float) -> list[float]:
    """1, 2, 5 and their tens between the limits."""
    decades = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
    ticks = [m * 10.0**d for d in decades for m in (1, 2, 5)]
    return [units.trim(t) for t in ticks if low * 0.999 <= t <= high * 1.001]


class _Scale:
    """An axis in display units mapped to the drawing's coordinates."""

    def __init__(
        self, axis: Axis, values: Sequence[float], start: float, end: float, system: str
    ) -> None:
        self.symbol = units.shown_unit(axis.unit, system)
        self.unit = units.unit(self.symbol)
        self.axis, self.start, self.end = axis, start, end
        if axis.low is None or axis.high is None:
            values = [v for v in values if math.isfinite(v)]
        low = self.number(min(values, default=0.0) if axis.low is None else axis.low)
        high = self.number(max(values, default=1.0) if axis.high is None else axis.high)
        if axis.log:
            self.low, self.high = low, high
            self.ticks = [self.number(t) for t in axis.ticks] or log_ticks(low, high)
        else:
            ticks = nice_ticks(low, high)
            if axis.low is not None and axis.high is not None:
                ticks = [t for t in ticks if low - 1e-9 <= t <= high + 1e-9]
            self.ticks = ticks
            self.low = low if axis.low is not None else ticks[0]
            self.high = high if axis.high is not None else ticks[-1]
        self.first, last = (math.log10(e) if axis.log else e for e in (self.low, self.high))
        self.span = (last - self.first) or 1.0

    def number(self, si: float) -> float:
        return units.trim((si - self.unit.offset) / self.unit.factor)

    def place(self, number: float) -> float:
        return self._placed((number,))[0]

    def at(self, si: float) -> float:
        return self.place(self.number(si))

    def all_at(self, si: Sequence[float]) -> list[float]:
        """Where several values lie: a curve has many."""
        offset, factor = self.unit.offset, self.unit.factor
        return self._placed(trimmed([(value - offset) / factor for value in si]))

    def _placed(self, numbers: Sequence[float]) -> list[float]:
        first, span, start, long = self.first, self.span, self.start, self.end - self.start
        if self.axis.log:
            numbers = [math.log10(max(number, 1e-12)) for number in numbers]
        shares = [(number - first) / span for number in numbers]
        return [start + long * (0.0 if s < 0 else 1.0 if s > 1 else s) for s in shares]

    def title(self) -> str:
        unit, label = units.pretty(self.symbol), say(self.axis.label)
        words = f"{label} ({unit})" if unit else label
        return spoken("{axis}, log scale", axis=words) if self.axis.log else words


def chart(made: Chart, system: str = "metric", prefix: str = "", tall: float = HEIGHT) -> str:
    """A chart as an SVG element with title and description for those who cannot see it, as `tall`
    as there is room for: of a flatter one, drawn as high, the words are larger."""
    xs = [p[0] for s in made.series for p in s.points] + [m.at for m in made.marks]
    ys = [p[1] for s in made.series for p in s.points] + [m.at for m in made.limits]
    x = _Scale(made.x, xs, LEFT, WIDTH - RIGHT, system)
    y = _Scale(made.y, ys, tall - BOTTOM, TOP, system)
    parts = [_grid(x, y, tall)]
    stands = list({p[0] for s in made.series for p in s.points})  # the curves have most in common
    across = dict(zip(stands, x.all_at(stands), strict=True))
    placed_series = [
        list(zip([across[p[0]] for p in s.points], y.all_at([p[1] for p in s.points]), strict=True))
        for s in made.series
    ]
    high = [px for placed in placed_series for px, py in placed if py < TOP + 20]
    parts += [
        _band(say(b.label, system), x.at(b.start), x.at(b.end), high, tall) for b in made.bands
    ]
    parts += [_mark(say(m.label, system), x.at(m.at), tall) for m in _spread_marks(made, x)]
    parts += [_limit(say(m.label, system), y.at(m.at)) for m in made.limits]
    ends: list[tuple[float, str]] = []
    for index, (series, placed) in enumerate(zip(made.series, placed_series, strict=True)):
        dash = _DASHES[index % len(_DASHES)] if not series.dashed else "5 4"
        parts.append(_curve(placed, dash, series.steps, y.start if series.area else None))
        if placed and series.at_peak:
            parts.append(_peak_label(placed, series, system))
        elif placed:
            ends.append((placed[-1][1], say(series.label, system)))
    parts += _end_labels(ends)
    title = say(made.title, system)
    return _svg(
        f"{prefix}{made.key}",
        WIDTH,
        tall,
        "chart",
        title,
        say(made.summary, system) or title,
        _words_last("".join(parts)),
    )


_WORDS = re.compile(r"<text.*?</text>")


def _words_last(body: str) -> str:
    """No line strikes a word through: what comes last lies on top."""
    return _WORDS.sub("", body) + "".join(_WORDS.findall(body))


def _svg(
    key: str,
    width: float,
    height: float,
    cls: str,
    title: str,
    description: str,
    body: str,
    extra: str = "",
) -> str:
    ident = escape(key, quote=True)
    return (
        f'<svg class="{cls}" viewBox="0 0 {_n(width)} {_n(height)}"{extra} role="img" '
        f'aria-labelledby="{ident}-t {ident}-d"><title id="{ident}-t">{escape(title)}</title>'
        f'<desc id="{ident}-d">{escape(description)}</desc>{body}</svg>'
    )


def _grid(x: _Scale, y: _Scale, tall: float) -> str:
    out = []
    for tick in y.ticks:
        at = y.place(tick)
        out.append(f'<path class="grid" d="M{LEFT} {_n(at)}H{WIDTH - RIGHT}"/>')
        out.append(_text(LEFT - 8, at + 4, units.number_text(tick), "tick", "end"))
    for tick in x.ticks:
        at = x.place(tick)
        out.append(f'<path class="tickline" d="M{_n(at)} {_n(tall - BOTTOM)}v5"/>')
        out.append(_text(at, tall - BOTTOM + 20, units.number_text(tick), "tick", "middle"))
    out.append(f'<path class="axis" d="M{LEFT} {TOP}V{_n(tall - BOTTOM)}H{WIDTH - RIGHT}"/>')
    across, middle = (LEFT + WIDTH - RIGHT) / 2, (TOP + tall - BOTTOM) / 2
    pressed = _pressed(x.title(), 2 * across)
    out.append(_text(across, tall - 8, x.title(), "axis-title", "middle", pressed))
    turned = f' transform="rotate(-90 15 {_n(middle)})"{_pressed(y.title(), 2 * middle)}'
    out.append(_text(15, middle, y.title(), "axis-title", "middle", turned))
    return "".join(out)


def _curve(points: list[tuple[float, float]], dash: str, steps: bool, base: float | None) -> str:
    if not points:
        return ""
    start, *others = [(_n(px), _n(py)) for px, py in points]
    d = f"M{start[0]} {start[1]}" + "".join(
        [f"H{px}V{py}" if steps else f"L{px} {py}" for px, py in others]
    )
    line = f'<path class="curve" d="{d}"' + (f' stroke-dasharray="{dash}"' if dash else "") + "/>"
    if base is None:
        return line
    closed = f"{d}V{_n(base)}H{start[0]}Z"
    return f'<path class="area" d="{closed}"/>{line}'


def _limit(label: str, at: float) -> str:
    return f'<path class="limit" d="M{LEFT} {_n(at)}H{WIDTH - RIGHT}"/>' + _text(
        LEFT + 6, at - 5, label, "limit-label", "start", _pressed(label, WIDTH - LEFT - 8)
    )


def _spread_marks(made: Chart, x: _Scale) -> list[Mark]:
    return sorted((m for m in made.marks if x.low <= x.number(m.at) <= x.high), key=lambda m: m.at)


def _mark(label: str, at: float, tall: float) -> str:
    return f'<path class="mark" d="M{_n(at)} {TOP}V{_n(tall - BOTTOM)}"/>' + _text(
        at + 4,
        TOP + 4,
        label,
        "mark-label",
        "start",
        f' transform="rotate(90 {_n(at + 4)} {TOP + 4})"{_pressed(label, tall - TOP - 6)}',
    )


def _band(label: str, start: float, end: float, high: list[float], tall: float) -> str:
    """A shaded stretch, its name at the top, or at the bottom where a curve is `high` up."""
    middle, reach = (start + end) / 2, 4.0 * len(label)
    covered = any(abs(px - middle) <= reach for px in high)
    height = tall - BOTTOM - 6 if covered else TOP + 12
    words = _text(middle, height, label, "band-label", "middle") if label else ""
    return f'<rect class="band" x="{_n(start)}" y="{TOP}" width="{_n(end - start)}" height="{_n(tall - BOTTOM - TOP)}"/>{words}'


def _end_labels(ends: list[tuple[float, str]]) -> list[str]:
    """Each curve's name beside its end, pushed apart where they would touch."""
    line_height, free, out = 15.0, -1e9, []
    for at, label in sorted(ends):
        lines = textwrap.wrap(label, END_LABEL_CHARACTERS) or [""]
        top = max(at - line_height * (len(lines) - 1) / 2, free)
        free = top + line_height * len(lines)
        out += [
            _text(WIDTH - RIGHT + 6, top + 4 + line_height * i, words, "curve-label")
            for i, words in enumerate(lines)
        ]
    return out


def _peak_label(placed: list[tuple[float, float]], series: Series, system: str) -> str:
    """A curve's name over its highest point, or over the middle of its highest stair."""
    top = min(range(len(placed)), key=lambda i: placed[i][1])
    left, at = placed[top]
    right = placed[min(top + 1, len(placed) - 1)][0] if series.steps else left
    return _text(
        (left + right) / 2, max(at - 7, 12), say(series.label, system), "curve-label", "middle"
    )


def chart_table(made: Chart, system: str, most: int = 13) -> tuple[list[str], list[list[str]]]:
    """Column heads and rows of numbers for the table under a chart, thinned to `most` rows."""
    x_symbol, y_symbol = (units.shown_unit(a.unit, system) for a in (made.x, made.y))
    heads = [f"{say(made.x.label, system)} ({units.pretty(x_symbol)})"]
    names = [say(s.label, system) for s in made.series]
    heads += [f"{name} ({units.pretty(y_symbol)})" if y_symbol else name for name in names]
    longest = max(made.series, key=lambda s: len(s.points), default=None)
    if longest is None or not longest.points:
        return heads, []
    count = len(longest.points)
    picked = sorted({round(i * (count - 1) / max(1, most - 1)) for i in range(min(most, count))})
    rows = []
    for index in picked:
        at = longest.points[index][0]
        row = [units.number_text(units.from_si(at, x_symbol))]
        for series in made.series:
            value = _value_at(series, at)
            row.append("" if value is None else units.number_text(units.from_si(value, y_symbol)))
        rows.append(row)
    return heads, rows


def _value_at(series: Series, at: float) -> float | None:
    """The nearest point's value; of a staircase, that of the step one stands on."""
    points = series.points
    if not points or not points[0][0] - 1e-9 <= at <= points[-1][0] + 1e-9:
        return None
    if series.steps:
        return [y for x, y in points if x <= at + 1e-9][-1]
    after = min(bisect_left(points, (at,)), len(points) - 1)
    before = max(0, after - 1)
    nearer = before if at - points[before][0] <= points[after][0] - at else after
    return points[nearer][1]


# ---- drawings ----


def drawing(
    made: Drawing,
    system: str = "metric",
    prefix: str = "",
    width: float = 410.0,
    size: tuple[float, str] = (1.2, ""),
) -> str:
    """A line drawing as an SVG element, scaled to `width`; heights follow.

    A drawing with a frame of its own is drawn as it is and not stretched far beyond it: its element
    names a width, of `size` a unit of the drawing (a number and its measure, "" for pixels).
    """
    ident = f"{prefix}{made.key}"
    title, description = say(made.title, system), say(made.description, system)
    if made.frame is not None:
        wide, tall = made.frame
        body = _hatch_pattern(ident) + "".join(
            _shape(s, lambda p: (p[0], tall - p[1]), 1.0, system, ident, wide) for s in made.shapes
        )
        across = f' width="{wide * size[0]:.1f}{size[1]}"'
        return _svg(ident, wide, tall, "drawing", title, description, body, across)
    points = [p for s in made.shapes for p in _extent(s)]
    if not points:
        return ""
    low_x, high_x = min(p[0] for p in points), max(p[0] for p in points)
    low_y, high_y = min(p[1] for p in points), max(p[1] for p in points)
    margin = 46.0
    scale = min((width - 2 * margin) / ((high_x - low_x) or 1.0), 420.0 / ((high_y - low_y) or 1.0))
    high = (high_y - low_y) * scale + 2 * margin
    left = (width - (high_x - low_x) * scale) / 2

    def place(p: tuple[float, float]) -> tuple[float, float]:
        return left + (p[0] - low_x) * scale, high - margin - (p[1] - low_y) * scale

    body = _hatch_pattern(ident) + "".join(
        _shape(s, place, scale, system, ident, width) for s in made.shapes
    )
    return _svg(ident, width, high, "drawing", title, description, body)


def _extent(shape: Shape) -> list[tuple[float, float]]:
    if shape.kind == "circle":
        (x, y), r = shape.points[0], shape.radius
        return [(x - r, y - r), (x + r, y + r)]
    return list(shape.points)


def _hatch_pattern(ident: str) -> str:
    return (
        f'<defs><pattern id="{escape(ident, quote=True)}-hatch" width="7" height="7" '
        'patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        '<path class="hatchline" d="M0 0V7"/></pattern></defs>'
    )


def _shape(
    shape: Shape,
    place: Callable[[tuple[float, float]], tuple[float, float]],
    scale: float,
    system: str,
    ident: str,
    wide: float,
) -> str:
    words = say(shape.text, system)
    placed = [place(p) for p in shape.points]
    if shape.kind == "text":
        (x, y) = placed[0]
        kind = "dim" if shape.style == "dim" else f"label {shape.style}"
        room = {"start": wide - x, "end": x, "middle": 2 * min(x, wide - x)}[shape.anchor]
        return _text(x, y + 4, words, kind, shape.anchor, _pressed(words, room))
    if shape.kind == "dimension":
        return _dimension(placed[0], placed[1], words, shape.offset)
    fill = (
        f' fill="url(#{escape(ident, quote=True)}-hatch)"'
        if shape.style in ("hatch", "blocked")
        else ""
    )
    if shape.kind == "circle":
        (x, y) = placed[0]
        return f'<circle class="{shape.style}" cx="{_n(x)}" cy="{_n(y)}" r="{_n(shape.radius * scale)}"{fill}/>'
    if shape.kind == "rect":
        (x0, y0), (x1, y1) = placed
        return (
            f'<rect class="{shape.style}" x="{_n(min(x0, x1))}" y="{_n(min(y0, y1))}" '
            f'width="{_n(abs(x1 - x0))}" height="{_n(abs(y1 - y0))}"{fill}/>'
        )
    path = "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in placed)
    if shape.kind == "polygon":
        path += "Z"
    head = _arrow_head(placed[-2], placed[-1]) if shape.kind == "arrow" else ""
    open_path = "" if shape.kind == "polygon" else ' fill="none"'
    return f'<path class="{shape.style}" d="{path}"{fill or open_path}/>{head}'


def _arrow_head(tail: tuple[float, float], tip: tuple[float, float], size: float = 8.0) -> str:
    angle = math.atan2(tip[1] - tail[1], tip[0] - tail[0])
    corners = [
        (tip[0] - size * math.cos(angle + turn), tip[1] - size * math.sin(angle + turn))
        for turn in (0.35, -0.35)
    ]
    path = f"M{_n(tip[0])} {_n(tip[1])}" + "".join(f"L{_n(x)} {_n(y)}" for x, y in corners) + "Z"
    return f'<path class="arrowhead" d="{path}"/>'


def _dimension(
    start: tuple[float, float], end: tuple[float, float], words: str, offset: float
) -> str:
    """A dimension line beside the measured stretch, `offset` pixels to its left, with its value."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy) or 1.0
    nx, ny = dy / length * offset, -dx / length * offset
    a, b = (start[0] + nx, start[1] + ny), (end[0] + nx, end[1] + ny)
    out = [
        f'<path class="fine" d="M{_n(p[0])} {_n(p[1])}L{_n(q[0] + nx * 0.12)} {_n(q[1] + ny * 0.12)}"/>'
        for p, q in ((start, a), (end, b))
    ]
    out.append(f'<path class="fine" d="M{_n(a[0])} {_n(a[1])}L{_n(b[0])} {_n(b[1])}"/>')
    out += [_arrow_head(b, a, 6.0), _arrow_head(a, b, 6.0)]
    middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    turned = abs(dy) > abs(dx)
    extra = f' transform="rotate(-90 {_n(middle[0])} {_n(middle[1])})"' if turned else ""
    out.append(_text(middle[0], middle[1] - 5, words, "dim", "middle", extra))
    return "".join(out)
