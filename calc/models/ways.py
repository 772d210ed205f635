"""Ways of running the watermaker: a line of the table for each, and how far each one reaches."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from ..frame.inputs import Values
from ..frame.report import FITS, TIGHT, Line, Option, Report, line

# Steps in which the trade sells, for what is to be bought. Common practice, no source.
POWER_STEP = 100.0  # W or VA, of generators and inverters
PANEL_STEP = 10.0  # W
LOAD_STEP = 10.0  # W, of other loads

MINUTE, LONG, LITRE = 60.0, 360e3, 1e-3  # s, s, m3

_TRIES, CLOSE = 12, 0.005  # of the search for a greatest value: so little in hand is none


@dataclass(frozen=True)
class Row:
    """A line of the table of sources; energy [J/m3] and money [1/m3] for fresh water."""

    way: Option
    hours: Line | str = "none"
    energy: float | None = None
    money: float | None = None
    free: bool = False


class Trial(Option):
    """A way with something else on board, judged and no more: its figures need no words."""

    trial = True


def time_told(time: float, template: str) -> Line | str:
    """A time [s] for the table, put in the place of {t}: no finer than a minute is known, and
    beyond days of running the figure means nothing."""
    if time <= 0:
        return "none"
    if time < MINUTE:
        return template.format(t="under 1 min")
    if time > LONG:
        return template.format(t="more than 100 h")
    if time < LONG / 1000:
        return line(template, t=(round(time / MINUTE) * MINUTE, "min"))
    return line(template, t=(time, "h"))


def at_least_told(value: float, finest: float) -> float:
    """A value, or 0 where it is below the finest that is known."""
    return value if value >= finest else 0.0


def again(q: Values, **changes: Any) -> Values:
    """The same boat with something else on it, as the reader would type it in."""
    return Values({**vars(q), **changes})


def able(way: Option | Report) -> bool:
    """Whether a way, or any of a report's, can do it."""
    return way.verdict in (FITS, TIGHT)


def in_hand(way: Option) -> float:
    """What is left of the limit that is nearest; -1 where the way fails without a figure.

    By the share used, of a least value too: that goes nearly straight with the load.
    """
    if way.failures:
        return -1.0
    return min((1 - f.used for f in way.figures if f.decides and f.limit), default=1.0)


def greatest(spare: Callable[[float], float], low: float, high: float, step: float) -> float | None:
    """Greatest value with something to spare, to a `step` short of it; None if `low` has nothing.

    `spare` falls as the value rises, smoothly but for corners: false position with the Illinois
    rule against creeping.
    """
    at_low = spare(low)
    if at_low < 0:
        return None
    at_high = spare(high)
    if at_high >= 0:
        return high
    kept = 0  # the end that the last try left in place
    for _ in range(_TRIES):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        found = spare(middle)
        if found >= 0:
            low, at_low = middle, found
            at_high, kept = at_high / (2 if kept == 1 else 1), 1
        else:
            high, at_high = middle, found
            at_low, kept = at_low / (2 if kept == -1 else 1), -1
        if high - low < step or 0 <= found < CLOSE:
            break
    return low
