"""Charts, drawings, timelines and bars: what a picture is made of, to be drawn as SVG."""

from __future__ import annotations

import datetime
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from . import units
from .words import Words, say

SEEN = 0.005  # of a chart's height: less than its line is thick


@dataclass(frozen=True)
class Axis:
    """An axis in SI; `ticks` are where its numbers stand, if not at round ones."""

    label: Words
    unit: str
    low: float | None = None
    high: float | None = None
    log: bool = False
    ticks: Sequence[float] = ()


@dataclass(frozen=True)
class Series:
    """A curve: points are (x, y) in SI. `steps` draws it as a staircase; `dashed` by its name.

    Its name stands at its end, or `at_peak` over its highest point.
    """

    label: Words
    points: Sequence[tuple[float, float]]
    dashed: bool = False
    steps: bool = False
    area: bool = False
    at_peak: bool = False


@dataclass(frozen=True)
class Mark:
    """A labelled line across a chart at an SI value."""

    label: Words
    at: float


@dataclass(frozen=True)
class Band:
    """A labelled stretch of the x axis, from and to in SI."""

    label: Words
    start: float
    end: float


@dataclass(frozen=True)
class Chart:
    """Lines over an axis, with limits, marks and bands; values in SI."""

    key: str
    title: Words
    x: Axis
    y: Axis
    series: Sequence[Series]
    limits: Sequence[Mark] = ()
    marks: Sequence[Mark] = ()
    bands: Sequence[Band] = ()
    summary: Words = ""

    @property
    def still(self) -> bool:
        """Whether no curve moves by as much as one would see."""
        drawn = [one.points for one in self.series if len(one.points) > 1]
        ends = [*(y for points in drawn for _, y in points), *(one.at for one in self.limits)]
        if not drawn:
            return False
        low = self._height(min(ends) if self.y.low is None else self.y.low)
        high = self._height(max(ends) if self.y.high is None else self.y.high)
        seen = SEEN * abs(high - low)
        heights = ([self._height(y) for _, y in points] for points in drawn)
        return all(max(one) - min(one) <= seen for one in heights)

    def _height(self, value: float) -> float:
        """How high a value stands, in whatever the axis is divided by."""
        return math.log10(max(value, 1e-300)) if self.y.log else value

    def as_data(self) -> dict[str, Any]:
        trim = units.trim
        return {
            "key": self.key,
            "title": say(self.title),
            "x": {"label": say(self.x.label), "unit": self.x.unit},
            "y": {"label": say(self.y.label), "unit": self.y.unit},
            "series": [
                {"label": say(s.label), "points": [[trim(x), trim(y)] for x, y in s.points]}
                for s in self.series
            ],
            "limits": [{"label": say(m.label), "at": trim(m.at)} for m in self.limits],
            "marks": [{"label": say(m.label), "at": trim(m.at)} for m in self.marks],
            "bands": [
                {"label": say(b.label), "from": trim(b.start), "to": trim(b.end)}
                for b in self.bands
            ],
        }


@dataclass(frozen=True)
class Shape:
    """A primitive of a drawing; which of the numbers count depends on `kind`.

    Kinds: line, polyline, polygon, rect, circle, text, dimension, arrow. Coordinates are in the
    drawing's own units, x to the right and y up. `style`: outline, fine, hatch, fill, blocked,
    hidden, accent.
    """

    kind: str
    points: Sequence[tuple[float, float]] = ()
    text: Words = ""
    style: str = "outline"
    radius: float = 0.0
    anchor: str = "middle"
    offset: float = 0.0


@dataclass(frozen=True)
class Drawing:
    """A line drawing from the reader's numbers.

    A drawing that is not to scale may have a `frame` (width, height): its coordinates are then the
    picture's own, y up from the lower edge, and its text keeps its size on a narrow screen.
    `for_card` gives what a card has in its stead, if anything, and is asked once there is a card.
    """

    key: str
    title: Words
    description: Words
    shapes: Sequence[Shape]
    to_scale: bool = True
    frame: tuple[float, float] | None = None
    for_card: Callable[[], Drawing | None] | None = field(default=None, compare=False)

    @property
    def card(self) -> Drawing | None:
        """How it is drawn on a card, if not alike."""
        return None if self.for_card is None else self.for_card()

    def as_data(self) -> dict[str, Any]:
        return {"key": self.key, "title": say(self.title), "description": say(self.description)}


@dataclass(frozen=True)
class Lane:
    """A line of a timeline: its name, days marked on it by kind, and stretches of doubt.

    Kinds: due (a full mark), calm (an open one), late (a crossed one).
    """

    label: Words
    days: Sequence[tuple[datetime.date, str]]
    windows: Sequence[tuple[datetime.date, datetime.date]] = ()


@dataclass(frozen=True)
class Stay:
    """A named stretch of days behind all lanes of a timeline."""

    label: Words
    start: datetime.date
    end: datetime.date


@dataclass(frozen=True)
class Timeline:
    """Days on lanes, from a first to a last day."""

    key: str
    title: Words
    start: datetime.date
    end: datetime.date
    lanes: Sequence[Lane]
    stays: Sequence[Stay] = ()
    summary: Words = ""

    def as_data(self) -> dict[str, Any]:
        return {
            "key": self.key,
            "title": say(self.title),
            "from": self.start.isoformat(),
            "to": self.end.isoformat(),
            "lanes": [
                {"label": say(lane.label), "days": [[d.isoformat(), kind] for d, kind in lane.days]}
                for lane in self.lanes
            ],
        }


@dataclass(frozen=True)
class Bars:
    """Labelled amounts side by side, the SI values in one unit."""

    key: str
    title: Words
    unit: str
    bars: Sequence[tuple[Words, float]]
    summary: Words = ""

    def as_data(self) -> dict[str, Any]:
        told = [{"label": say(label), "value": units.trim(value)} for label, value in self.bars]
        return {"key": self.key, "title": say(self.title), "unit": self.unit, "bars": told}
