"""Forms, and lists whose rows are forms: what a calculator asks, as a class."""

from __future__ import annotations

import copy
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, ClassVar, Self

from .. import units
from .fields import HOLDS, NO_SHELVES, Field, Other, Presence, Quantity, Record, Shelves, When

MOST_ROWS = 60
LISTED = 30  # records of a shelf; of a list of `every` one no more are written out


@dataclass
class Rows(Field):
    """A list of like things (loads, tasks, places); the value is a tuple of its filled-in rows.

    Unless typed it holds `example`, or, of equipment records of the kind `shelf`, those whose
    `units` name the one chosen in the field `belongs`, or nothing. A `folded` list shows each row
    in a line, to be opened. The `example` stands on a boat of one's own only where it is `usual`.
    A list of `every` record, whose rows are no more than one, is not written out where the shelf is
    long: it has no rows then, and all records are its value.
    """

    row: type[Inputs] = None  # type: ignore[assignment]
    folded: bool = False
    usual: bool = False
    example: Sequence[Mapping[str, Any]] = ()
    shelf: str = ""
    every: bool = False
    belongs: str = ""
    most: int = MOST_ROWS
    one: str = "row"
    whole: tuple[Any, tuple[Inputs, ...]] | None = field(
        default=None, init=False, compare=False, repr=False
    )  # a long shelf, and its records as rows

    def all_of(self, shelves: Shelves) -> tuple[Inputs, ...]:
        """All records of a long shelf, of which a list of `every` one means all; else nothing."""
        shelf = shelves.get(self.shelf, {}) if self.every else {}
        if len(shelf) <= LISTED:
            return ()
        if self.whole is None or self.whole[0] is not shelf:
            (name,) = self.row.fields
            self.whole = shelf, tuple(self.row.of({name: one}) for one in shelf.values())
        return self.whole[1]

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        items = self.row.schema(shelves)
        return self._described({"type": "array", "maxItems": self.most, "items": items})


@dataclass(frozen=True)
class Limit:
    """One limit of a field's value: its name, the comparison, and what it is held against.

    `value` is the limit itself, or None where it is taken from another field.
    """

    word: str
    holds: Callable[[Any, Any], bool]
    told: Any
    value: float | None


def _limits(made: Field) -> tuple[Limit, ...]:
    return tuple(
        Limit(word, HOLDS[word], limit, None if isinstance(limit, Other) else _limit(made, limit))
        for word, limit in made.limits().items()
    )


def _limit(made: Field, limit: Any) -> float:
    value: float = made.read(limit) if isinstance(made, Quantity) else limit
    return units.trim(value)


def _opened(made: Field, shown: bool) -> Field:
    """A field that is shown at once, or a click away."""
    if made.open == shown:
        return made
    twin = copy.copy(made)
    twin.open = shown
    return twin


def _under(made: Field, heading: str) -> Field:
    """A field under another heading."""
    twin = copy.copy(made)
    twin.group = heading
    return twin


class Inputs:
    """Base of what a calculator asks: its class attributes are the fields, in order.

    An instance holds the values of a form: each an SI float, int, str, bool, date, record or rows.
    A class may be put together of several: their fields follow each other, those that it names as
    `first` before all others; where it names some that it `opens`, all others are a click away, and
    what it names nowhere stands under one heading, if it has one to be `gathered` by. A
    `part` is no form by itself: what its fields refer to may stand in another part of the form.
    """

    unsaid: frozenset[str] = frozenset()  # on a boat of one's own: what is asked and not hers
    following: frozenset[str] = frozenset()  # what nobody said and goes with another value
    fields: ClassVar[dict[str, Field]] = {}
    limits: ClassVar[dict[str, tuple[Limit, ...]]] = {}  # of the fields that have some
    rateable: ClassVar[tuple[Record, ...]] = ()  # the records that a reader may rate otherwise
    presences: ClassVar[tuple[Presence, ...]] = ()  # the fields that ask whether a thing is there
    followers: ClassVar[tuple[Quantity, ...]] = ()  # of which something is usual for another value
    by_text: ClassVar[bool] = True  # whether its values hang on its texts alone, and on no record

    def __init_subclass__(
        cls,
        part: bool = False,
        first: Sequence[str] = (),
        opens: Sequence[str] = (),
        gathered: str = "",
        **settings: Any,
    ) -> None:
        super().__init_subclass__(**settings)
        own = {name: made for name, made in vars(cls).items() if isinstance(made, Field)}
        inherited: dict[str, Field] = {}
        for base in cls.__bases__:
            inherited |= getattr(base, "fields", {})
        found = {**inherited, **own}
        if opens:
            found = {name: _opened(made, name in opens) for name, made in found.items()}
        if gathered:
            strange = found.keys() - own.keys() - {*first, *opens}
            found |= {name: _under(found[name], gathered) for name in found if name in strange}
        cls.fields = {name: found[name] for name in first} | found
        for made in () if part else found.values():
            for other in (made.when, *made.limits().values()):
                if isinstance(other, (When, Other)) and other.name not in cls.fields:
                    raise TypeError(f"{cls.__name__}.{made.name} refers to no field {other.name!r}")
        limited = {name: _limits(made) for name, made in cls.fields.items()}
        cls.limits = {name: limits for name, limits in limited.items() if limits}
        every = cls.fields.values()
        cls.rateable = tuple(made for made in every if isinstance(made, Record) and made.rated_by)
        cls.presences = tuple(made for made in every if isinstance(made, Presence))
        cls.by_text = not any(isinstance(made, (Record, Rows)) for made in every)
        cls.followers = tuple(made for made in every if isinstance(made, Quantity) and made.usual)

    @classmethod
    def of(cls, values: Mapping[str, Any]) -> Self:
        """A form with these values."""
        made = cls()
        made.__dict__.update(values)
        return made

    @classmethod
    def schema(cls, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        """The JSON Schema of an object with these inputs."""
        return {
            "type": "object",
            "additionalProperties": False,
            "properties": {name: made.schema(shelves) for name, made in cls.fields.items()},
        }


class Kind(Inputs):
    """Base of what equipment records of a kind hold, beside `key` and the `texts` of the record.

    Its shelf bears the class's name in small letters.
    """

    shelf: ClassVar[str] = ""
    key: str
    kind: str
    name: str
    texts: Mapping[str, Any]

    def __init_subclass__(cls, **settings: Any) -> None:
        super().__init_subclass__(**settings)
        cls.shelf = cls.__name__.lower()
