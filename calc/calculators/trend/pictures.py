"""The three over the days, as shares of day one, with their lines, bands and limits."""

from __future__ import annotations

import math

from ...frame.report import Axis, Chart, Mark, Report, Series, line
from ...sheet.year import told
from ...system.standardised import SERIES
from ...system.trend import Fared, Trend
from .judge import DAY
from .tell import NAMES

_AHEAD = 0.25  # of the days read: so far on the line is drawn


def charts(found: Trend, show: Report) -> None:
    """A chart for each of the three."""
    for key in SERIES:
        one = found.fared.get(key)
        if one is not None:
            show.chart(_chart(found, one))


def _chart(found: Trend, one: Fared) -> Chart:
    x, heights = one.course.x, one.course.y
    ends = one.end + max(14.0, _AHEAD * (one.end - x[0]))
    begins = x[one.part.first]
    days = [begins + (ends - begins) * n / 8 for n in range(9)]
    part, base = one.part, math.log(one.base)

    def drawn(times: float) -> list[tuple[float, float]]:
        return [(d * DAY, math.exp(part.at(d) + times * part.band(d) - base)) for d in days]

    read = [(d * DAY, math.exp(y - base)) for d, y in zip(x, heights, strict=True)]
    every = [y for _, y in (*read, *drawn(1.0), *drawn(-1.0))]
    low, high = min(*every, one.limit), max(*every, one.limit, 1.0)
    room = 0.05 * (high - low)
    return Chart(
        one.key,
        line("{what}, of day one", what=NAMES[one.key]),
        Axis(line("Days since {d}", d=told(found.first)), "days", 0.0),
        Axis("Of day one", "%", max(0.0, low - room), high + room),
        [
            Series("as read", read),
            Series("as it goes on", drawn(0.0), dashed=True),
            Series("at the most", drawn(1.0), dashed=True),
            Series("at the least", drawn(-1.0), dashed=True),
        ],
        limits=[Mark("clean", one.limit)],
        marks=[Mark(told(found.on(after)), after * DAY) for _, after, _ in one.jumps],
        summary=line(
            "{what} at the conditions of its papers, of day one, reading by reading, the line of "
            "the part that goes on, between what is 19 times out of 20 the least and the most.",
            what=NAMES[one.key],
        ),
    )
