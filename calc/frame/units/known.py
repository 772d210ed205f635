"""Which units a reader may use for what, and what each is in SI."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

import pint

from ..language import Said, phrase
from .table import TABLE

_registry: pint.UnitRegistry[float] = pint.UnitRegistry(cache_folder=None)
for _line in ("shaft_revolution = [revolution]", "sound_level = [sound_level]", "money = [money]"):
    _registry.define(_line)


class UnitError(Said):
    """A value that cannot be read; its text is a sentence for the reader."""


@dataclass(frozen=True)
class Kind:
    """What a number measures: the unit it is shown in, and the units a reader may choose."""

    name: str
    asked: str
    units: tuple[str, ...]
    example: str


@dataclass(frozen=True)
class Unit:
    """One unit as pages show it: SI value = number x factor + offset."""

    symbol: str
    kind: str
    factor: float
    offset: float = 0.0


KINDS: dict[str, Kind] = {}
UNITS: dict[tuple[str, str], Unit] = {}
KIND_OF: dict[str, str] = {}
MEASURED: dict[str, str] = {}  # a unit of each kind as Pint writes it


def _in_base_units(number: float, expression: str) -> float:
    """`number` of "unit" or of "scale | unit" in SI base units."""
    scale, _, plain = expression.rpartition("|")
    quantity = _registry.Quantity(number, plain.strip()).to_base_units()
    return float(quantity.magnitude) * float(Fraction(scale.strip() or 1))


def define(name: str, asked: str, example: str, symbols: Mapping[str, str]) -> None:
    """A kind of quantity: what a reader is asked for ("a flow"), an example, and its units.

    Each symbol stands for a unit of Pint, or for "scale | unit"; the first is what values are shown
    in. To define the same again changes nothing. Raises ValueError for another kind of that name.
    """
    made = Kind(name, asked, tuple(symbols), example)
    if KINDS.setdefault(name, made) != made:
        raise ValueError(f"a kind of quantity “{name}” exists already")
    MEASURED[name] = next(iter(symbols.values())).rpartition("|")[2].strip()
    for symbol, expression in symbols.items():
        zero, one = (_in_base_units(number, expression) for number in (0.0, 1.0))
        UNITS[name, symbol] = Unit(symbol, name, one - zero, zero)
        KIND_OF.setdefault(symbol, name)


for _name, (_asked, _example, _symbols) in TABLE.items():
    define(_name, _asked, _example, _symbols)


def kind_of(symbol: str) -> str:
    """The kind that a page's unit symbol measures ("bar" -> "pressure").

    Raises KeyError, naming the nearest symbol, for a symbol that no kind has.
    """
    try:
        return KIND_OF[symbol]
    except KeyError:
        near = difflib.get_close_matches(symbol, KIND_OF, 1)
        raise KeyError(
            f"no unit is called {symbol!r}" + (f"; did you mean {near[0]!r}?" if near else "")
        ) from None


def unit(symbol: str, kind: str | None = None) -> Unit:
    """The unit behind a symbol; `kind` settles symbols with two meanings ("K")."""
    return UNITS[kind or kind_of(symbol), symbol]


def by_pint(text: str, kind: Kind) -> Unit | None:
    """A unit that no page shows but Pint knows; None for what it doesn't know either.

    Raises UnitError with a sentence where it measures something else.
    """
    try:
        parsed = _registry.Quantity(1.0, text)
    except Exception:  # Pint raises whatever its tokenizer met
        return None
    measured = _registry.Quantity(1.0, MEASURED[kind.name])
    if kind.name in ("temperature", "ratio", "number") or (
        parsed.dimensionality != measured.dimensionality
    ):
        raise UnitError(
            "“{text}” does not measure {asked}; write it like {example}",
            text=text,
            asked=phrase(kind.asked),
            example=phrase(kind.example),
        )
    return Unit(text, kind.name, float(parsed.to_base_units().magnitude))
