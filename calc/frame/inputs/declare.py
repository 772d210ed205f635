"""What declares the fields of a form.

Each is typed as the value it will hold in an answer: `q.flow` is a float, and a misspelt one an
error of the type checker. The field itself is in `Asks.fields`.
"""

from __future__ import annotations

import copy
import datetime
from collections.abc import Mapping, Sequence
from typing import Any, Literal, TypeVar, cast, overload

from .. import log, units
from ..book import Book
from .fields import Choice, Date, Field, Log, Presence, Quantity, Record, Text, Whole, YesNo
from .forms import Inputs, Kind, Rows


def _quantity(label: str, unit: str, settings: dict[str, Any]) -> Quantity:
    kind = settings.pop("kind", "") or units.kind_of(unit)
    return Quantity(label, unit=unit, kind=kind, **settings)


Value = TypeVar("Value")
AKind = TypeVar("AKind", bound="Kind")
ARow = TypeVar("ARow", bound="Inputs")
ALine = TypeVar("ALine", bound="tuple[Any, ...]")


def but(declared: Value, **changes: Any) -> Value:
    """A field with other settings: `but(boat.bank_capacity, default="200 Ah")`."""
    assert isinstance(declared, Field)
    twin = copy.copy(declared)
    for key, value in changes.items():
        if not hasattr(twin, key):
            raise TypeError(f"{type(declared).__name__} has no setting {key!r}")
        setattr(twin, key, value)
    twin.known = {}  # it may read the same text otherwise
    return twin


@overload
def ask(
    label: str, default: str = "", *, optional: Literal[True], **settings: Any
) -> float | None: ...
@overload
def ask(
    label: str, default: str = "", *, optional: Literal[False] = False, **settings: Any
) -> float: ...
def ask(label: str, default: str = "", **settings: Any) -> Any:
    """A number with a unit: `ask("Longest run", "2 h", above="0 min")`.

    The unit of the default (or `unit=`) is the one shown beside the field. Settings: above,
    at_least, below, at_most (texts or `Other`), help, group, open, when, from_record, optional,
    basis (where the default comes from).
    """
    unit = settings.pop("unit", None)
    if unit is None:
        unit = units.split_number(default)[1]
    made = _quantity(label, unit, settings)
    made.default = default
    return made


@overload
def whole(
    label: str, default: str = "", *, optional: Literal[True], **settings: Any
) -> int | None: ...
@overload
def whole(
    label: str, default: str = "", *, optional: Literal[False] = False, **settings: Any
) -> int: ...
def whole(label: str, default: str = "", **settings: Any) -> Any:
    """A whole number within at_least and at_most."""
    return Whole(label, default, **settings)


def choice(label: str, choices: dict[str, str], default: str = "", **settings: Any) -> str:
    """One of `choices` (name: label); the default is the first unless named."""
    made = Choice(label, default or next(iter(choices)), choices=choices, **settings)
    return cast(str, made)


def aboard(label: str, default: str, *by: str | Sequence[str], **settings: Any) -> bool:
    """Whether a thing is there; `by` are the fields without which it can't be counted, or groups
    of fields of which one will do."""
    groups = [(one,) if isinstance(one, str) else tuple(one) for one in by]
    return cast(bool, Presence(label, default, by=groups, **settings))


def yes_no(label: str, default: str = "no", **settings: Any) -> bool:
    """Yes or no."""
    return cast(bool, YesNo(label, default, **settings))


@overload
def text(label: str, default: str = "", *, optional: Literal[False], **settings: Any) -> str: ...
@overload
def text(
    label: str, default: str = "", *, optional: Literal[True] = True, **settings: Any
) -> str | None: ...
def text(label: str, default: str = "", **settings: Any) -> Any:
    """One line of free text; None where it is left empty."""
    return Text(label, default, **({"optional": True} | settings))


@overload
def date(
    label: str, default: str = "", *, optional: Literal[True], **settings: Any
) -> datetime.date | None: ...
@overload
def date(
    label: str, default: str = "", *, optional: Literal[False] = False, **settings: Any
) -> datetime.date: ...
def date(label: str, default: str = "", **settings: Any) -> Any:
    """A calendar date."""
    return Date(label, default, **settings)


def logbook(label: str, default: str = "", **settings: Any) -> tuple[log.Entry, ...] | None:
    """The machine's log, several lines of CSV; None where it is empty."""
    made: Any = Log(label, default, **({"optional": True} | settings))
    return cast("tuple[log.Entry, ...] | None", made)


def book_of(book: Book[ALine], label: str, **settings: Any) -> tuple[ALine, ...] | None:
    """A log of another kind, by its book; None where it is empty."""
    made: Any = Log(label, book=book, **({"optional": True} | settings))
    return cast("tuple[ALine, ...] | None", made)


@overload
def record(
    label: str, kind: type[AKind], default: str = "", *, optional: Literal[True], **settings: Any
) -> AKind | None: ...
@overload
def record(
    label: str,
    kind: type[AKind],
    default: str = "",
    *,
    optional: Literal[False] = False,
    **settings: Any,
) -> AKind: ...
def record(label: str, kind: type[Kind], default: str = "", **settings: Any) -> Any:
    """An equipment record of a kind (`kinds.Motor`), chosen by its key or name."""
    return Record(label, default, kind=kind.shelf, **settings)


def rows(
    label: str, row: type[ARow], example: Sequence[Mapping[str, Any]] = (), **settings: Any
) -> tuple[ARow, ...]:
    """A list whose rows are asked for by the fields of `row`, filled with `example` or `shelf`."""
    made: Any = Rows(label, row=row, example=example, **settings)
    return cast("tuple[ARow, ...]", made)
