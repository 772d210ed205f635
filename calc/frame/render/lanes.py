"""Pictures with a line for each thing: days on a timeline, amounts as bars."""

from __future__ import annotations

import datetime
from html import escape

from .. import dates, units
from ..language import spoken
from ..report import Bars, Lane, Timeline, say

WIDTH = 450
_ROW = 20
_LETTER = 7.7  # the width of a bold letter as phones set it, on average


def _n(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0")


def _text(x: float, y: float, words: str, cls: str, anchor: str = "start") -> str:
    return (
        f'<text class="{cls}" x="{_n(x)}" y="{_n(y)}" text-anchor="{anchor}">{escape(words)}</text>'
    )


def _svg(key: str, height: float, title: str, summary: str, body: str) -> str:
    ident = escape(key, quote=True)
    return (
        f'<svg class="chart drawing" viewBox="0 0 {WIDTH} {_n(height)}" role="img" '
        f'aria-labelledby="{ident}-t {ident}-d"><title id="{ident}-t">{escape(title)}</title>'
        f'<desc id="{ident}-d">{escape(summary or title)}</desc>{body}</svg>'
    )


def _label_width(labels: list[str]) -> float:
    return min(200.0, max((len(label) for label in labels), default=0) * _LETTER + 14)


def _short(label: str, width: float) -> str:
    most = int((width - 14) / _LETTER)
    return label if len(label) <= most else label[: most - 1].rstrip() + "…"


class _Days:
    """The days of a timeline mapped to the drawing's width."""

    def __init__(self, made: Timeline, left: float) -> None:
        self.start, self.left, self.right = made.start, left, WIDTH - 10.0
        self.span = max(1, (made.end - made.start).days)

    def at(self, day: datetime.date) -> float:
        share = (day - self.start).days / self.span
        return self.left + (self.right - self.left) * min(1.0, max(0.0, share))


def timeline(made: Timeline, system: str = "metric", prefix: str = "") -> str:
    """Days on lanes as an SVG element, months and years along the top."""
    left = _label_width([say(lane.label, system) for lane in made.lanes])
    days, top = _Days(made, left), 46.0
    bottom = top + _ROW * len(made.lanes)
    parts = [
        _stay(days, say(s.label, system), s.start, s.end, top - 16, bottom) for s in made.stays
    ]
    parts += _months(made, days, top - 8, bottom)
    for index, lane in enumerate(made.lanes):
        parts.append(_lane(lane, say(lane.label, system), days, top + _ROW * (index + 0.5)))
    return _svg(
        f"{prefix}{made.key}",
        bottom + 8,
        say(made.title, system),
        say(made.summary, system),
        "".join(parts),
    )


def _stay(
    days: _Days, label: str, start: datetime.date, end: datetime.date, top: float, bottom: float
) -> str:
    x, wide = days.at(start), days.at(end) - days.at(start)
    if wide <= 0:
        return ""
    words = _text(x + wide / 2, top + 11, label, "band-label", "middle")
    return (
        f'<rect class="band" x="{_n(x)}" y="{_n(top)}" width="{_n(wide)}" height="{_n(bottom - top)}"/>'
        + (words if wide > len(label) * _LETTER else "")
    )


def _months(made: Timeline, days: _Days, top: float, bottom: float) -> list[str]:
    """A line at the start of each quarter, the year where it changes."""
    out, day = [], made.start.replace(day=1)
    shown_year = None
    while day <= made.end:
        if day >= made.start and day.month % 3 == 1:
            x = days.at(day)
            out.append(f'<path class="grid" d="M{_n(x)} {_n(top)}V{_n(bottom)}"/>')
            if x < days.right - 20:
                out.append(_text(x, 14, spoken(dates.MONTHS[day.month - 1]), "tick", "middle"))
                if shown_year != day.year:
                    shown_year = day.year
                    out.append(_text(x, 27, str(day.year), "tick", "middle"))
        day = (day + datetime.timedelta(days=32)).replace(day=1)
    out.append(f'<path class="axis" d="M{_n(days.left)} {_n(top)}V{_n(bottom)}H{_n(days.right)}"/>')
    return out


def _lane(lane: Lane, label: str, days: _Days, y: float) -> str:
    head = _text(0, y + 4, _short(label, days.left), "curve-label")
    doubt = "".join(
        f'<path class="fine" d="M{_n(days.at(a))} {_n(y)}H{_n(days.at(b))}"/>'
        for a, b in lane.windows
        if b > a
    )
    return head + doubt + "".join(_mark(days.at(day), y, kind) for day, kind in lane.days)


def _mark(x: float, y: float, kind: str) -> str:
    if kind == "late":
        return f'<path class="curve" d="M{_n(x - 5)} {_n(y - 5)}l10 10m0 -10l-10 10"/>'
    if kind == "calm":
        return f'<path d="M{_n(x - 3.5)} {_n(y)}a3.5 3.5 0 1 0 7 0a3.5 3.5 0 1 0 -7 0Z"/>'
    return f'<path class="arrowhead" d="M{_n(x - 4.5)} {_n(y)}a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0 -9 0Z"/>'


def bars(made: Bars, system: str = "metric", prefix: str = "") -> str:
    """Amounts as horizontal bars with their values beside them."""
    left = _label_width([say(label, system) for label, _ in made.bars])
    most = max((abs(value) for _, value in made.bars), default=0.0) or 1.0
    right, parts = WIDTH - 100.0, []
    for index, (label, value) in enumerate(made.bars):
        y, wide = 6.0 + _ROW * index, (right - left) * abs(value) / most
        parts.append(_text(0, y + 14, _short(say(label, system), left), "curve-label"))
        parts.append(
            f'<rect class="fill" x="{_n(left)}" y="{_n(y + 3)}" width="{_n(wide)}" height="{_ROW - 7}"/>'
        )
        told = units.text(value, made.unit, system)
        parts.append(_text(left + wide + 6, y + 14, told, "tick"))
    height = 12.0 + _ROW * len(made.bars)
    return _svg(
        f"{prefix}{made.key}",
        height,
        say(made.title, system),
        say(made.summary, system),
        "".join(parts),
    )
