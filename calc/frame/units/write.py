"""SI floats as text for a reader, in the units and with the decimal mark of a reader's choice."""

from __future__ import annotations

import math
import re
from contextvars import ContextVar
from functools import lru_cache

from ...rounding import rounded
from ..language import term
from .known import unit
from .table import US_TWIN


def from_si(value: float, symbol: str, kind: str | None = None) -> float:
    """An SI float as a number in the unit of this symbol."""
    found = unit(symbol, kind)
    return (value - found.offset) / found.factor


def shown_unit(symbol: str, system: str) -> str:
    """The symbol used on a page in the given display system, "metric" or "us"."""
    return US_TWIN.get(symbol, symbol) if system == "us" else symbol


THIN_SPACE = " "
SYSTEMS = ("metric", "us", "both")

# How a reader wants numbers written. It is followed by all that is shown, never by what is read:
# "1,234" typed into a field means the same to everyone.
decimal_mark: ContextVar[str] = ContextVar("decimal_mark", default=".")
# The units that the reader chose: faults are told in them, and a gallon is of their land.
chosen_system: ContextVar[str] = ContextVar("chosen_system", default="metric")
# The money that a guide's prices are in, which is shown in place of "¤"; "" where none is told.
money: ContextVar[str] = ContextVar("money", default="")
MONEY = "¤"


def number_text(value: float, digits: int = 3, rounding: str = "nearest") -> str:
    """A number for a reader: significant digits, no exponent between 1e-4 and 1e9."""
    return _number_text(value, digits, rounding, decimal_mark.get())


@lru_cache(maxsize=4096)
def _number_text(value: float, digits: int, rounding: str, mark: str) -> str:
    value = rounded(value, digits, rounding)
    if value == 0:
        return "0"
    if not 1e-4 <= abs(value) < 1e9:
        mantissa, exponent = f"{value:.{digits - 1}e}".split("e")
        return f"{mantissa.rstrip('0').rstrip('.')}×10^{int(exponent)}".replace("-", "−")
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:,.{decimals}f}".replace(",", THIN_SPACE)
    if "." in text and decimals > 0:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", "−").replace(".", mark)


_UNSPACED = ("°", "×")


def join(number: str, symbol: str) -> str:
    """A number and its unit symbol with the space that the unit wants, in print."""
    if not symbol:
        return number
    return number + ("" if symbol in _UNSPACED else " ") + pretty(symbol)


def pretty(symbol: str) -> str:
    """A unit symbol as printed: "m3/h" -> "m³/h"; one that is a word, in the language spoken."""
    told = term(printed(symbol))
    return told.replace(MONEY, money.get() or MONEY)


@lru_cache(maxsize=256)
def printed(symbol: str) -> str:
    """A unit symbol as the source prints it."""
    if symbol == "Δ°F":
        return "°F difference"
    return re.sub(r"(?<=[a-zA-Z])([23])(?![\d])", lambda m: "²³"[int(m[1]) - 2], symbol)


_HOUR = 3600.0


def text(
    value: float, symbol: str, system: str = "metric", digits: int = 3, rounding: str = "nearest"
) -> str:
    """An SI float with its unit, as shown to a reader: `text(5.5e6, "bar")` -> "55 bar".

    In the system "both" the US value follows in brackets where it differs.
    """
    if system == "both":
        metric, us = (text(value, symbol, one, digits, rounding) for one in ("metric", "us"))
        return metric if metric == us else f"{metric} ({us})"
    told = told_unit(value, symbol, system)
    return join(number_text(from_si(value, told), digits, rounding), told)


def told_unit(value: float, symbol: str, system: str) -> str:
    """The unit that an SI float is told in: that of a page, but less than an hour in minutes."""
    shown = shown_unit(symbol, system)
    return "min" if shown == "h" and 0 < abs(value) < _HOUR else shown


@lru_cache(maxsize=4096)
def typed_text(value: float, symbol: str, kind: str | None = None, digits: int = 6) -> str:
    """An SI float as one would type it into a field: no thin spaces, plain minus, a point."""
    number = float(f"{from_si(value, symbol, kind):.{digits - 1}e}")
    if not 1e-4 <= abs(number) < 1e12:
        return f"{number:g}"
    return f"{number:.12f}".rstrip("0").rstrip(".")
