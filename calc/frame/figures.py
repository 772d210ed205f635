"""Figures against their limits, and the verdicts that follow from them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Literal, Protocol, TypeGuard

from ..rounding import share
from . import units
from .language import spoken
from .words import Amount, Line, Remedy, Words, amount, say

FITS, TIGHT, FAILS, UNKNOWN = "fits", "tight", "fails", "unknown"
UNASKED = "unasked"  # of a boat of which what decides is not said yet: no verdict of any report
VERDICT_WORDS = {
    FITS: "fits",
    TIGHT: "tight",
    FAILS: "does not fit",
    UNKNOWN: "can't tell",
    UNASKED: "not asked yet",
}


def verdict_word(verdict: str) -> str:
    """A verdict in a word or two."""
    return spoken(VERDICT_WORDS[verdict])


def parted(verdict: str, lines: Iterable[Line]) -> tuple[list[Line], list[Line]]:
    """Of the remedies of a verdict those that mend it, and those that tell how far it reaches: all
    of what fits."""
    mending: list[Line] = []
    far: list[Line] = []
    for one in lines:
        reach = isinstance(one, Remedy) and one.reach
        (far if reach or verdict == FITS else mending).append(one)
    return mending, far


SEVERITY = {FITS: 0, TIGHT: 1, UNKNOWN: 2, FAILS: 3}

# Less than this share of a limit left over is called tight. Common practice, no source.
TIGHT_MARGIN = 0.10
# Of a level, a share means nothing: decibels left over count. Common practice, no source.
TIGHT_DECIBELS = 5.0
_TRIMMED_DIGITS = 9  # of `units.trim`: no more tell two values apart


@dataclass(frozen=True)
class Figure:
    """A result, the limit it is held against, and what is left over.

    `limit_is` says whether the limit is the most or the least that is allowed. `decides` is False
    for a figure that is only told. `says` is the reason given when this figure decides the verdict.
    `zero` is where the value's scale begins for the margin: a temperature's own zero tells nothing.
    `by_ear`: a distance that sound carries, whose margin is one of level: 6 dB for each doubling.
    """

    key: str
    label: Words
    value: Amount
    limit: Amount | None = None
    limit_is: Literal["most", "least"] = "most"
    decides: bool = True
    says: Line | None = None
    note: Words = ""
    zero: float = 0.0
    by_ear: bool = False

    @property
    def is_level(self) -> bool:
        """Whether its margin is in decibels."""
        return self.by_ear or units.kind_of(self.value.unit) == "sound level"

    @cached_property
    def margin(self) -> float | None:
        """What is left over as a share of the limit; negative when over it.

        Of a level: decibels left over, put so that `TIGHT_DECIBELS` rank with `TIGHT_MARGIN`.
        """
        if self.limit is None:
            return None
        value, limit = self.value.value, self.limit.value
        spare = limit - value if self.limit_is == "most" else value - limit
        if spare == 0:
            return 0.0
        if self.by_ear:
            louder = round(20 * math.log10(value / limit), 6)
            spare = -louder if self.limit_is == "most" else louder
        if self.is_level:
            return units.trim(spare * TIGHT_MARGIN / TIGHT_DECIBELS)
        scale = abs(limit - self.zero) or abs(value)
        return share(spare, scale)

    def left_over(self, system: str = "metric") -> str:
        """The margin for a reader: per cent of the limit, decibels of a level, or degrees."""
        margin = self.margin or 0.0
        if self.limit is not None and units.kind_of(self.value.unit) == "temperature":
            apart = abs(self.limit.value - self.value.value)
            told = units.text(math.copysign(apart, margin), "K", system, 2)
            return told.replace(units.pretty("Δ°F"), "°F")  # a margin is one anyway
        if self.is_level:
            decibels = round(margin * TIGHT_DECIBELS / TIGHT_MARGIN, 1)
            return units.join(units.number_text(decibels, 2), "dB")
        if abs(margin) < 9.995:
            return f"{units.number_text(margin * 100, 2)} %"
        return f"{units.number_text(margin + 1, 2)}×" if margin > 0 else spoken("far over")

    @property
    def used(self) -> float:
        """The value as a share of its limit; the other way round where the limit is the least."""
        if self.limit is None:
            return 0.0
        if self.is_level:
            return 1 - (self.margin or 0.0)
        value, limit = self.value.value - self.zero, self.limit.value - self.zero
        part, whole = (value, limit) if self.limit_is == "most" else (limit, value)
        return part / whole if whole > 0 else 2.0

    @cached_property
    def state(self) -> str:
        if self.margin is None or not self.decides:
            return FITS
        if self.margin < 0:
            return FAILS
        return TIGHT if self.margin < TIGHT_MARGIN else FITS

    def reason(self) -> Line:
        if self.says:
            return self.says
        assert self.limit is not None
        return Line(
            "{what}: {value}; at most {limit} allowed"
            if self.limit_is == "most"
            else "{what}: {value}; at least {limit} allowed",
            {"what": self.label, "value": self.value, "limit": self.limit},
        )

    def as_data(self) -> dict[str, Any]:
        return {
            "key": self.key,
            "label": say(self.label),
            **self.value.as_data(),
            "limit": self.limit.value if self.limit else None,
            "limit_is": self.limit_is if self.limit else None,
            "margin": self.margin,
            "state": self.state,
            "decides": self.decides,
            "note": say(self.note),
        }


@dataclass(frozen=True)
class Step:
    """One step of the working: a formula, the numbers put in, the result, and its source."""

    label: Words
    result: Amount
    formula: str
    where: Mapping[str, Amount]
    source: Words
    note: Words = ""

    def as_data(self) -> dict[str, Any]:
        return {
            "label": say(self.label),
            **self.result.as_data(),
            "formula": self.formula,
            "where": {name: a.as_data() for name, a in self.where.items()},
            "source": say(self.source),
            "note": say(self.note),
        }


class Held(Protocol):
    """A value held against the most that is allowed of it, or the least: as the system finds it."""

    @property
    def value(self) -> float: ...
    @property
    def limit(self) -> float: ...
    @property
    def least(self) -> bool: ...
    @property
    def zero(self) -> float: ...


def against(held: Held) -> dict[str, float]:
    """The limit of a held value, as settings of a figure."""
    return {"at_least" if held.least else "at_most": held.limit, "zero": held.zero}


def figure(
    key: str,
    label: Words,
    value: float,
    unit: str,
    *,
    at_most: float | None = None,
    at_least: float | None = None,
    limit_unit: str | None = None,
    decides: bool = True,
    says: Line | None = None,
    note: Words = "",
    zero: float = 0.0,
    by_ear: bool = False,
    digits: int = 3,
    safe_limit: bool = False,
    rounding: str = "nearest",
) -> Figure:
    """A figure against its limit, if it has one; see `Report.figure`."""
    limit = at_most if at_most is not None else at_least
    least_asked = at_most is None and at_least is not None
    safe_side = "nearest" if not safe_limit else "up" if least_asked else "down"
    made = Figure(
        key,
        label,
        amount(value, unit, digits, rounding),
        None if limit is None else amount(limit, limit_unit or unit, digits, safe_side),
        "least" if least_asked else "most",
        decides,
        says,
        note,
        zero,
        by_ear,
    )
    return _legible(made) if made.state == FAILS or safe_limit else made


def _legible(figure: Figure) -> Figure:
    """A figure with so many digits that value and limit, as they are shown, tell its verdict.

    A limit that is broken must not read like the value, nor one that holds as if it were broken.
    """
    value, limit = figure.value, figure.limit
    if limit is None or figure.margin is None or limit.unit != value.unit:
        return figure
    said = figure.says.amounts if figure.says else {}
    over = [a for a in (value, *said.values()) if _same(a, value)]
    bound = [a for a in (limit, *said.values()) if _same(a, limit)]
    few = min(a.digits for a in (*over, *bound))
    for digits in range(few, _TRIMMED_DIGITS + 1):
        if all(
            _broken(figure, _finer(a, digits), _finer(b, digits), system) == (figure.margin < 0)
            for a in over
            for b in bound
            for system in ("metric", "us")
        ):
            break
    if digits == few:
        return figure
    says = figure.says and Line(
        figure.says.template,
        {
            name: _finer(a, digits) if isinstance(a, Amount) and (a in over or a in bound) else a
            for name, a in said.items()
        },
    )
    return replace(figure, value=_finer(value, digits), limit=_finer(limit, digits), says=says)


def _broken(figure: Figure, value: Amount, limit: Amount, system: str) -> bool:
    """Whether the limit is broken by what a reader sees of it and of the value."""
    seen, bound = value.shown(system), limit.shown(system)
    return seen > bound if figure.limit_is == "most" else seen < bound


def _same(one: Amount | str | Line, other: Amount) -> TypeGuard[Amount]:
    return isinstance(one, Amount) and (one.value, one.unit) == (other.value, other.unit)


def _finer(told: Amount, digits: int) -> Amount:
    return told if told.digits >= digits else replace(told, digits=digits)
