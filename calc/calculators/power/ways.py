"""A way of running the watermaker: judged at once, told later."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from ...frame.report import FAILS, FITS, TIGHT, UNKNOWN, Figure, Line, Option, Report, line

ABLE = (FITS, TIGHT)  # verdicts of what can do it
EXACT = 9  # digits of what is filled in and no bound
MINUTE, LONG, LITRE = 60.0, 360e3, 1e-3  # s, s, m3


def narrow(way: Option) -> bool:
    """Whether a figure makes it tight: then a larger size lifts it."""
    return way.verdict == TIGHT and isinstance(way.decider, Figure)


@dataclass(frozen=True)
class Row:
    """A line of the table of sources; energy [J/m3] and money [1/m3] for fresh water."""

    way: Option
    hours: Line | str = "none"
    energy: float | None = None
    money: float | None = None
    free: bool = False


def nothing(show: Report) -> None:
    """No working, nothing that would do."""


@dataclass(frozen=True)
class Way:
    """An option that is judged, what tells the rest of it and gives its row, its working, and what
    would do or how far it `reaches`: searches, told at once of the way that decides alone."""

    option: Option
    tell: Callable[[Report], Row]
    work: Callable[[Report], None] = field(default=nothing)
    reaches: Callable[[Report], None] = field(default=nothing)


def as_it_stands(option: Option, hours: Line | str = "none", free: bool = False) -> Way:
    """A way of which there is no more to tell."""
    return Way(option, lambda _: Row(option, hours, free=free))


def untold(option: Option) -> Way:
    """A way of which nothing can be told, because nobody knows what the motor draws."""
    option.unknown("saturated", "nobody can tell what the motor draws with its iron saturated")
    return as_it_stands(option, "can't tell")


def opened(show: Report, key: str, name: str, own: str) -> Option:
    """A way, with what pump and motor lack by their `own` verdict."""
    option = show.option(key, name)
    _bear_the_motor(option, own)
    return option


def _bear_the_motor(option: Option, own: str) -> None:
    """What pump and motor lack themselves no source can mend: it counts in every way."""
    if own == FAILS:
        option.fail("machine", "pump and motor fail by themselves, whatever feeds them")
    elif own == UNKNOWN:
        option.unknown(
            "machine", "nobody can tell yet whether pump and motor bear it, whatever feeds them"
        )
    elif own == TIGHT:
        option.reservation(
            "machine", "pump and motor have little in hand themselves, whatever feeds them"
        )


def time_told(time: float, a_day: bool = False) -> Line | str:
    """A time [s] for the table, on a charge or a day: no finer than a minute is known, and beyond
    days of running the figure means nothing."""
    if time <= 0:
        return "none"
    if time < MINUTE:
        return "under 1 min a day" if a_day else "under 1 min on a charge"
    if time > LONG:
        return "more than 100 h a day" if a_day else "more than 100 h on a charge"
    shown = (round(time / MINUTE) * MINUTE, "min") if time < LONG / 1000 else (time, "h")
    return line("{t} a day", t=shown) if a_day else line("{t} on a charge", t=shown)
