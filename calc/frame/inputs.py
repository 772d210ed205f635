"""How a calculator declares what it asks, and how what a reader typed becomes values.

    class Asks(Inputs):
        volume = ask("Free air in the locker", "180 L", above="0 L")
        fan = yes_no("A fan runs with the pump", "no")
        flow = ask("Fan's flow", "120 m3/h", above="0 m3/h", when=is_set("fan"))

The form, the command line, the JSON Schema, the validation and its sentences all come from that
one declaration. `bind` reads layers of texts (typed, boat sheet, page example, ...), never raises
for what a reader typed, and names every fault at once.
"""

from __future__ import annotations

import copy
import datetime
import difflib
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any, ClassVar, Literal, Self, TypeVar, cast, overload

from . import log, units
from .units import UnitError

Shelves = Mapping[str, Mapping[str, Any]]  # equipment records by kind and key
NO_SHELVES: Shelves = {}
LONGEST_TEXT = 200
MOST_ROWS = 60


class InputError(ValueError):
    """A text that a field cannot take; its message is a sentence for the reader."""


class Refusal(ValueError):
    """Raised by a calculator for values that are each allowed but make no sense together.

    `field` is the name of the field to mend; the message is a sentence for the reader.
    """

    def __init__(self, field: str, sentence: str) -> None:
        super().__init__(sentence)
        self.field = field


@dataclass(frozen=True)
class Fault:
    """One thing wrong with what was typed: where, and a sentence that says what is allowed."""

    field: str
    label: str
    sentence: str

    def __str__(self) -> str:
        return f"{self.label}: {self.sentence}"


@dataclass(frozen=True)
class Origin:
    """Where a value comes from, as data: of what kind, and whose by name.

    Of a record's value `holder` is the record; where it was taken in proportion to another field,
    `lead` is that field's label. Of a default `holder` is what it rests on, if anything.
    """

    kind: str
    holder: str = ""
    lead: str = ""

    @property
    def own(self) -> bool:
        """Whether the reader said it, here or in the boat's sheet, or her clock did."""
        return self.kind in ("typed", "sheet", "clock")

    def text(self) -> str:
        """What a field's note says of it."""
        told = _ORIGINS[self.kind]
        if self.kind == "default":
            return self.holder or told
        if self.lead:
            return f"from {self.holder}, in proportion to “{self.lead}”"
        return told.format(self.holder)


_ORIGINS = {
    "typed": "typed",
    "sheet": "boat sheet",
    "clock": "today, by this device",
    "example": "example",
    "boat": "{}",
    "record": "from {}",
    "file": "record",
    "shelf": "from the equipment records",
    "default": "default",
    "contradicted": "{} no longer, as you gave other values",
    "absent": "not there, as nobody said that it is",
    "usual": "usual, {}",
    "none": "",
}
TYPED, SHEET, CLOCK, EXAMPLE = map(Origin, ("typed", "sheet", "clock", "example"))
SHELF, DEFAULT, ABSENT, NOWHERE = map(Origin, ("shelf", "default", "absent", "none"))


@dataclass(frozen=True)
class Other:
    """A limit taken from another field of the same form."""

    name: str
    factor: float = 1.0


@dataclass(frozen=True)
class When:
    """A condition on another field: the field is asked only if that one has one of the values."""

    name: str
    values: tuple[Any, ...]

    def holds(self, values: Mapping[str, Any]) -> bool:
        return values.get(self.name) in self.values


def is_set(name: str) -> When:
    """Asked only if the yes/no field `name` says yes."""
    return When(name, (True,))


def is_one_of(name: str, *values: str) -> When:
    """Asked only if the choice field `name` has one of these values."""
    return When(name, values)


@dataclass
class Field:
    """What all fields share. `default` is the text of the value a new form starts with.

    `from_record` is the path of a chosen record's value ("unit.motor.mass") that fills the field in
    unless the reader does, or an example with a record of its own; `preset` is such a path that
    outranks examples too, never the reader. `follows` names a field of the same record: where that
    one is not as recorded, the record's value is taken in proportion to it, or not at all if it is
    no number. A boat that says a field that `dates` it has days of its own.
    """

    label: str
    default: str = ""
    help: str = ""
    group: str = ""
    open: bool = False
    when: When | None = None
    from_record: str = ""
    preset: str = ""
    follows: str = ""
    optional: bool = False
    basis: str = ""
    dates: bool = False
    name: str = field(default="", init=False)

    def __set_name__(self, owner: type, name: str) -> None:
        if self.name and self.name != name:
            raise TypeError(f"{owner.__name__}.{name}: this field is called {self.name!r}")
        self.name = name

    def read(self, text: str) -> Any:
        """The value of a text. Raises InputError or UnitError with a sentence."""
        raise NotImplementedError

    def tidy(self, text: str) -> str:
        """A text as it came from a form, without what the reader did not mean."""
        return text

    def write(self, value: Any, system: str = "metric") -> str:
        """The text that one would type for a value."""
        return str(value)

    def shown(self, value: Any, system: str = "metric") -> str:
        """The value as a sentence or a table shows it."""
        return self.write(value, system)

    def limits(self) -> dict[str, Any]:
        """The limits by name: above, at_least, below, at_most."""
        return {}

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        """The JSON Schema of the field's value in a JSON or TOML file."""
        return {"type": "string"}

    def _described(self, schema: dict[str, Any]) -> dict[str, Any]:
        schema["title"] = self.label
        if self.help:
            schema["description"] = self.help
        if self.default:
            schema["default"] = self.default
        return schema


_WORDS: dict[str, tuple[str, Callable[[Any, Any], bool]]] = {
    "above": ("more than", lambda value, limit: value > limit),
    "at_least": ("at least", lambda value, limit: value >= limit),
    "below": ("less than", lambda value, limit: value < limit),
    "at_most": ("at most", lambda value, limit: value <= limit),
}


@dataclass
class Quantity(Field):
    """A number with a unit; the value is an SI float.

    What is `usual` of another field stands where the reader said that one and not this. A charge
    may be typed as an energy, at the voltage of the field `at_volts`.
    """

    unit: str = ""
    kind: str = ""
    usual: Other | None = None
    at_volts: str = ""
    above: str | Other | None = None
    at_least: str | Other | None = None
    below: str | Other | None = None
    at_most: str | Other | None = None

    def read(self, text: str) -> float:
        return units.parse(text, self.unit, self.kind)

    def tidy(self, text: str) -> str:
        own = units.own_unit(text, self.kind)
        if units.chosen_system.get() == "us":
            own = units.of_land(own, self.kind, "US")
        return units.one_number(own, self.kind)

    def by_volts(self, text: str, volts: float | None) -> float | None:
        """The charge of a text that is an energy, or None where it is none."""
        if not self.at_volts or units.kind_written(text) != "energy":
            return None
        if volts is None:
            raise InputError(
                f"“{text}” is an energy; say the bank's voltage first, or write it in Ah"
            )
        return units.parse(text, "Wh") / volts

    def write(self, value: float, system: str = "metric") -> str:
        shown = units.shown_unit(self.unit, system)
        number = units.typed_text(value, shown, self.kind)
        return f"{number} {shown}".strip()

    def shown(self, value: float, system: str = "metric") -> str:
        return units.text(value, self.unit, system)

    def limits(self) -> dict[str, str | Other]:
        found = {word: getattr(self, word) for word in _WORDS}
        return {word: limit for word, limit in found.items() if limit is not None}

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        limits = {word: limit for word, limit in self.limits().items() if isinstance(limit, str)}
        told = [f"{_WORDS[word][0]} {limit}" for word, limit in limits.items()]
        schema = self._described({"type": ["string", "number"]})
        schema["x-unit"] = self.unit
        if told:
            schema["x-allowed"] = " and ".join(told)
        if self.default:
            schema["examples"] = [self.default]
        return schema


@dataclass
class Whole(Field):
    """A whole number."""

    at_least: int = 0
    at_most: int = 1_000_000

    def read(self, text: str) -> int:
        number, rest = units.split_number(text)
        if rest or number != int(number):
            raise InputError(f"“{text}” is not a whole number, such as {self.at_least + 1}")
        return int(number)

    def limits(self) -> dict[str, int]:
        return {"at_least": self.at_least, "at_most": self.at_most}

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        return self._described(
            {"type": ["integer", "string"], "minimum": self.at_least, "maximum": self.at_most}
        )


@dataclass
class Choice(Field):
    """One of a few named values; the value is the name."""

    choices: dict[str, str] = field(default_factory=dict)

    def read(self, text: str) -> str:
        wanted = text.strip()
        if wanted in self.choices:
            return wanted
        for name, label in self.choices.items():
            if wanted.lower() in (name.lower(), label.lower()):
                return name
        near = difflib.get_close_matches(wanted.lower(), self.choices, 1)
        hint = f"did you mean “{near[0]}”? " if near else ""
        raise InputError(f"“{text}” is not one of the choices; {hint}allowed: {self._list()}")

    def _list(self) -> str:
        return ", ".join(self.choices)

    def shown(self, value: str, system: str = "metric") -> str:
        return units.in_system(self.choices.get(value, value), system)

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        return self._described({"type": "string", "enum": list(self.choices)})


@dataclass
class YesNo(Field):
    """Yes or no; the value is a bool."""

    def read(self, text: str) -> bool:
        word = text.strip().lower()
        if word in ("yes", "true", "1", "on", "y"):
            return True
        if word in ("no", "false", "0", "off", "n"):
            return False
        raise InputError(f"“{text}” is neither yes nor no")

    def write(self, value: bool, system: str = "metric") -> str:
        return "yes" if value else "no"

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        return self._described({"type": ["boolean", "string"]})


NOT_KNOWN = "don't know"


@dataclass
class Presence(YesNo):
    """Whether a thing is aboard: yes, no or don't know; the value is a bool.

    On a boat of one's own it counts once it is known: `by` names groups of fields, of each of which
    one must be said. Until then it is not there, and no example's stands in for it.
    """

    by: Sequence[Sequence[str]] = ()

    def read(self, text: str) -> bool:
        return text.strip().lower() != NOT_KNOWN and super().read(text)


@dataclass
class Text(Field):
    """Free text of one line; the value is a string."""

    longest: int = LONGEST_TEXT

    def read(self, text: str) -> str:
        line = " ".join(text.split())
        if len(line) > self.longest:
            raise InputError(f"is {len(line)} characters long; at most {self.longest} are allowed")
        return line

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        return self._described({"type": "string", "maxLength": self.longest})


@dataclass
class Date(Field):
    """A calendar date of 1970 to 2199; the value is a `datetime.date`.

    `today` marks a field that the page's script may fill with the reader's own day.
    """

    today: bool = False

    def read(self, text: str) -> datetime.date:
        try:
            day = datetime.date.fromisoformat(text.strip())
        except ValueError:
            raise InputError(
                f"“{text}” is not a date; write it as year-month-day, 2026-05-31"
            ) from None
        if not 1970 <= day.year < 2200:
            raise InputError(f"“{text}” lies outside the years 1970 to 2199")
        return day

    def write(self, value: datetime.date, system: str = "metric") -> str:
        return value.isoformat()

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        return self._described({"type": "string", "format": "date"})


@dataclass
class Log(Field):
    """A machine's log as CSV text, see `calc.frame.log`; the value is a tuple of its entries.

    `jobs` names the list whose rows' names are what may be done.
    """

    jobs: str = ""

    def read(self, text: str) -> tuple[log.Entry, ...]:
        try:
            entries = log.read(text)
            log.meter(entries)
        except log.LogError as error:
            raise InputError(str(error)) from None
        return entries

    def write(self, value: tuple[log.Entry, ...], system: str = "metric") -> str:
        return log.write(value)

    def shown(self, value: tuple[log.Entry, ...] | None, system: str = "metric") -> str:
        if not value:
            return "empty"
        lines = "1 line" if len(value) == 1 else f"{len(value)} lines"
        return f"{lines}, the last of {value[-1].day}"

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        return self._described({"type": "string", "contentMediaType": "text/csv"})


NONE_LISTED = "none"  # what a boat sheet says of a record that the guide hasn't; a form says ""


@dataclass
class Record(Field):
    """An equipment record, chosen by its name; the value is the record, or None for no record.

    `tells` names fields of the record whose values stand behind its name in the list of choices. A
    record of an example gives way to what the reader says of the fields it is `known_by`.
    """

    kind: str = ""
    tells: Sequence[str] = ()
    others: str = "not in the list: I fill in the values"
    known_by: Sequence[str] = ()

    def choices(self, shelves: Shelves) -> dict[str, str]:
        """Key and name of every record of this kind, the empty choice last if there is one."""
        found = {key: self._told(record) for key, record in shelves.get(self.kind, {}).items()}
        if self.optional:
            found[""] = self.others
        return found

    def _told(self, record: Any) -> str:
        told = ", ".join(str(record.texts[name]) for name in self.tells if name in record.texts)
        return f"{record.name} ({told})" if told else str(record.name)

    def find(self, text: str, shelves: Shelves) -> Any:
        """The record of a key or name. Raises InputError with the nearest for an unknown one."""
        key = text.strip()
        shelf = shelves.get(self.kind, {})
        if key in shelf:
            return shelf[key]
        for record in shelf.values():
            if record.name.lower() == key.lower():
                return record
        near = difflib.get_close_matches(key, shelf, 1)
        hint = f"did you mean “{near[0]}”? " if near else ""
        raise InputError(f"no {self.kind} is called “{text}”; {hint}known: {', '.join(shelf)}")

    def write(self, value: Any, system: str = "metric") -> str:
        return "" if value is None else str(value.key)

    def shown(self, value: Any, system: str = "metric") -> str:
        return self.others if value is None else str(value.name)

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        return self._described({"type": "string", "enum": list(self.choices(shelves))})


@dataclass
class Rows(Field):
    """A list of like things (loads, tasks, places); the value is a tuple of its filled-in rows.

    Unless typed it holds `example`, or, of equipment records of the kind `shelf`, those whose
    `units` name the one chosen in the field `belongs`, or nothing. A `folded` list shows each row
    in a line, to be opened. The `example` stands on a boat of one's own only where it is `usual`.
    """

    row: type[Inputs] = None  # type: ignore[assignment]
    folded: bool = False
    usual: bool = False
    example: Sequence[Mapping[str, Any]] = ()
    shelf: str = ""
    belongs: str = ""
    most: int = MOST_ROWS
    one: str = "row"

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        items = self.row.schema(shelves)
        return self._described({"type": "array", "maxItems": self.most, "items": items})


def _quantity(label: str, unit: str, settings: dict[str, Any]) -> Quantity:
    kind = settings.pop("kind", "") or units.kind_of(unit)
    return Quantity(label, unit=unit, kind=kind, **settings)


# What declares a field is typed as the value it will hold in an answer: `q.flow` is a float, and a
# misspelt one an error of the type checker. The field itself is in `Asks.fields`.

Value = TypeVar("Value")
AKind = TypeVar("AKind", bound="Kind")
ARow = TypeVar("ARow", bound="Inputs")


def but(declared: Value, **changes: Any) -> Value:
    """A field with other settings: `but(boat.bank_capacity, default="200 Ah")`."""
    assert isinstance(declared, Field)
    twin = copy.copy(declared)
    for key, value in changes.items():
        if not hasattr(twin, key):
            raise TypeError(f"{type(declared).__name__} has no setting {key!r}")
        setattr(twin, key, value)
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


@dataclass(frozen=True)
class Limit:
    """One limit of a field's value: its words, the comparison, and what it is held against.

    `value` is the limit itself, or None where it is taken from another field.
    """

    phrase: str
    holds: Callable[[Any, Any], bool]
    told: Any
    value: float | None


def _limits(made: Field) -> tuple[Limit, ...]:
    return tuple(
        Limit(*_WORDS[word], limit, None if isinstance(limit, Other) else _limit(made, limit))
        for word, limit in made.limits().items()
    )


def _limit(made: Field, limit: Any) -> float:
    value: float = made.read(limit) if isinstance(made, Quantity) else limit
    return units.trim(value)


class Inputs:
    """Base of what a calculator asks: its class attributes are the fields, in order.

    An instance holds the values of a form: each an SI float, int, str, bool, date, record or rows.
    A class may be put together of several: their fields follow each other, those that it names as
    `first` before all others. A `part` is no form by itself: what its fields refer to may stand in
    another part of the form.
    """

    unsaid: frozenset[str] = frozenset()  # on a boat of one's own: what is asked and not hers
    fields: ClassVar[dict[str, Field]] = {}
    limits: ClassVar[dict[str, tuple[Limit, ...]]] = {}  # of the fields that have some

    def __init_subclass__(
        cls, part: bool = False, first: Sequence[str] = (), **settings: Any
    ) -> None:
        super().__init_subclass__(**settings)
        own = {name: made for name, made in vars(cls).items() if isinstance(made, Field)}
        inherited: dict[str, Field] = {}
        for base in cls.__bases__:
            inherited |= getattr(base, "fields", {})
        found = {**inherited, **own}
        cls.fields = {name: found[name] for name in first} | found
        for made in () if part else found.values():
            for other in (made.when, *made.limits().values()):
                if isinstance(other, (When, Other)) and other.name not in cls.fields:
                    raise TypeError(f"{cls.__name__}.{made.name} refers to no field {other.name!r}")
        limited = {name: _limits(made) for name, made in cls.fields.items()}
        cls.limits = {name: limits for name, limits in limited.items() if limits}

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


@dataclass(frozen=True)
class Layer:
    """A source of texts, strongest first in `bind`: what to call it, and its texts by field.

    `own` says that the reader wrote them, so that no preset may take their place.
    """

    origin: Origin
    texts: Mapping[str, Any]
    own: bool = False


@dataclass
class Bound:
    """A form with its values: what each field holds, where it comes from, and what is wrong.

    `stand_ins` are answered with in place of values that are at fault but not asked; `shared` are
    the fields that belong to the boat and not to one page. On a boat of the reader's own
    (`own_boat`) nothing is there that she didn't say; of the fields `deciding` about the answer,
    or that these hang on, `lacking` are still to be said.
    """

    asks: type[Inputs]
    shelves: Shelves = field(default_factory=dict)
    shared: frozenset[str] = frozenset()
    own_boat: bool = False
    deciding: frozenset[str] = frozenset()
    lacking: frozenset[str] = frozenset()
    values: dict[str, Any] = field(default_factory=dict)
    stand_ins: dict[str, Any] = field(default_factory=dict)
    origins: dict[str, Origin] = field(default_factory=dict)
    taken: dict[str, str] = field(default_factory=dict)  # as what, where it isn't as it was typed
    texts: dict[str, Any] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    rows: dict[str, list[Bound]] = field(default_factory=dict)

    @property
    def good(self) -> bool:
        return not self.faults

    def origin(self, name: str) -> Origin:
        """Where the value of a field comes from."""
        return self.origins.get(name, NOWHERE)

    def own(self, name: str) -> bool:
        """Whether a value is the reader's: she said it, or the record that holds it."""
        origin = self.origin(name)
        if origin.kind == "record":
            made = self.asks.fields[name]
            return self.own((made.preset or made.from_record).partition(".")[0])
        return origin.own and self.values.get(name) is not None and not self.unknown(name)

    def unknown(self, name: str) -> bool:
        """Whether the reader said that she doesn't know."""
        return str(self.texts.get(name, "")).strip().lower() == NOT_KNOWN

    def asked(self, name: str) -> bool:
        """Whether the field is asked, given the others (its `when`)."""
        return is_asked(self.asks.fields[name], self.asks, self.values)

    def faults_of(self, name: str) -> list[Fault]:
        return [fault for fault in self.faults if fault.field == name] if self.faults else []

    def as_values(self) -> Inputs:
        """The form with its values."""
        return self.asks.of(self.values | self.stand_ins | {"unsaid": self.unsaid})

    @property
    def unsaid(self) -> frozenset[str]:
        """On a boat of one's own, the fields that are asked and whose values are not hers."""
        names = self.asks.fields if self.own_boat else ()
        return frozenset(name for name in names if self.asked(name) and self._is_assumed(name))

    def _is_assumed(self, name: str) -> bool:
        """Whether a value stands that is not hers, nor follows from what she said."""
        value = self.values.get(name)
        implied = isinstance(self.asks.fields[name], Presence) and value
        return value is not None and not implied and not self.own(name)


def is_asked(made: Field, asks: type[Inputs], values: Mapping[str, Any]) -> bool:
    """A field is asked if its condition holds and the field it depends on is asked too."""
    if made.when is None:
        return True
    return made.when.holds(values) and is_asked(asks.fields[made.when.name], asks, values)


def shortened(text: str, most: int = 60) -> str:
    """What a sentence repeats of what was typed."""
    return text if len(text) <= most else text[: most - 1] + "…"


def nearest(word: str, words: Iterator[str] | Sequence[str] | Mapping[str, Any]) -> str:
    """ " Did you mean ...?" for the nearest of words, or nothing."""
    found = difflib.get_close_matches(str(word)[:LONGEST_TEXT], list(words), 1, 0.55)
    return f" Did you mean “{found[0]}”?" if found else ""


def bind(
    asks: type[Inputs], *layers: Layer, shelves: Shelves = NO_SHELVES, own_boat: bool = False
) -> Bound:
    """Reads every field from the first layer that has it, then the record, then its default.

    Never raises for what is in the layers: every fault is in the result. A field that is not
    asked (see `when`) keeps its text, but a fault in it does not count.
    """
    bound = Bound(asks, shelves, own_boat=own_boat)
    for layer in layers:
        for name in layer.texts:
            if name not in asks.fields:
                near, whose = nearest(name, asks.fields), layer.origin.text()
                sentence = f"nothing of this name is asked ({whose}).{near}"
                said = shortened(str(name))
                bound.faults.append(Fault(said, said, sentence))
    for made in asks.fields.values():
        _bind_field(bound, made, layers)
    if own_boat:
        _count_what_is_known(bound)
    for name, limits in asks.limits.items():
        _check_limits(bound, asks.fields[name], limits)
    bound.faults = [fault for fault in bound.faults if _counts(bound, fault)]
    return bound


def _counts(bound: Bound, fault: Fault) -> bool:
    """A fault in a field that is not asked does not count: its default stands in.

    A calculator that tries what the reader has not chosen then has a sound value to try it with.
    """
    name = fault.field.partition(".")[0]
    made = bound.asks.fields.get(name)
    if made is None or bound.asked(name):
        return True
    if made.default:
        bound.stand_ins[name] = _value(bound, made, made.default)
    return False


def _bind_field(bound: Bound, made: Field, layers: Sequence[Layer]) -> None:
    name = made.name
    if name in bound.origins:
        return
    if isinstance(made, Rows):
        _bind_rows(bound, made, layers)
        return
    if isinstance(made, Quantity) and made.at_volts in bound.asks.fields:
        _bind_field(bound, bound.asks.fields[made.at_volts], layers)
    preset, owner = _record_value(made.preset, bound.values)
    for index, layer in enumerate(layers):
        if name in layer.texts and (
            layer.own or (preset is None and not _outranked(bound, made, layers[:index]))
        ):
            bound.origins[name] = layer.origin
            _read(bound, made, as_text(layer.texts[name]))
            if isinstance(made, Record) and _is_another(bound, made, layers[:index]):
                bound.origins[name] = Origin("contradicted", bound.values[name].name)
                bound.values[name], bound.texts[name] = None, ""
            return
    value = preset
    if value is None:
        value, owner = _record_value(made.from_record, bound.values)
        if value is not None and made.follows in bound.asks.fields:
            value, owner = _followed(bound, bound.asks.fields[made.follows], value, owner)
    if value is not None:
        bound.values[name] = value
        bound.texts[name] = made.write(value)
        bound.origins[name] = owner
        return
    if isinstance(made, Quantity) and made.usual and _usual(bound, made, made.usual):
        return
    default = made.default
    if bound.own_boat and isinstance(made, Record) and made.optional:
        default = ""  # the example's own
    has_some = default or made.basis
    bound.origins[name] = Origin("default", made.basis) if has_some else NOWHERE
    _read(bound, made, default)


def _usual(bound: Bound, made: Quantity, other: Other) -> bool:
    """Takes what is usual of a value that the reader said; whether there is one."""
    value = bound.values.get(other.name)
    if value is None or not bound.own(other.name):
        return False
    bound.values[made.name] = units.trim(value * other.factor)
    bound.texts[made.name] = made.write(bound.values[made.name])
    lead = bound.asks.fields[other.name].label
    bound.origins[made.name] = Origin("usual", f"{units.number_text(other.factor)} × “{lead}”")
    return True


def _count_what_is_known(bound: Bound) -> None:
    """What is aboard by what the reader said: nothing else counts as there.

    What she said is there is asked for in the form, but isn't answered with until it is known.
    """
    for name, made in bound.asks.fields.items():
        if not isinstance(made, Presence):
            continue
        groups = [[one for one in group if one in bound.asks.fields] for group in made.by]
        known = all(any(map(bound.own, group)) for group in groups if group)
        if not bound.own(name):
            begun = any(
                bound.own(one) or (bound.origin(one).own and bound.faults_of(one))
                for group in groups
                for one in group
            )
            bound.values[name], text = begun, made.write(begun)
            if not bound.origin(name).own:
                bound.texts[name] = text
                bound.origins[name] = (
                    Origin("default", "from what you said of it") if begun else ABSENT
                )
        bound.stand_ins[name] = bool(bound.values[name]) and known


def _is_another(bound: Bound, made: Record, stronger: Sequence[Layer]) -> bool:
    """Whether the reader says of her own what the record of a weaker layer is not."""
    found = bound.values.get(made.name)
    for field_name in made.known_by if found is not None else ():
        field = bound.asks.fields.get(field_name)
        said = next((one.texts[field_name] for one in stronger if field_name in one.texts), None)
        if field is None or said is None:
            continue
        recorded = getattr(found, field.from_record.partition(".")[2])
        try:
            value = field.read(field.tidy(as_text(said)))
        except (UnitError, InputError):
            continue
        if value != recorded and not (isinstance(value, float) and math.isclose(value, recorded)):
            return True
    return False


def _outranked(bound: Bound, made: Field, stronger: Sequence[Layer]) -> bool:
    """Whether a stronger layer chose a record that has this value: the example's is another's."""
    if _record_value(made.from_record, bound.values)[0] is None:
        return False
    chosen = bound.origin(made.from_record.partition(".")[0])
    return any(layer.origin == chosen for layer in stronger)


def _followed(bound: Bound, lead: Field, value: Any, origin: Origin) -> tuple[Any, Origin]:
    """A record's value where the field it follows is not as recorded, and what to say of it."""
    now, recorded = bound.values.get(lead.name), _record_value(lead.from_record, bound.values)[0]
    if now is None or now == recorded or not recorded:
        return value, origin
    if isinstance(now, str):
        return None, NOWHERE
    return value * now / recorded, Origin(origin.kind, origin.holder, lead.label)


def as_text(value: Any) -> str:
    """A value out of JSON or TOML as the text one would have typed."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None:
        return ""
    return str(value)


def _read(bound: Bound, made: Field, text: str) -> None:
    typed = made.tidy(text)
    bound.texts[made.name] = text
    bound.values[made.name] = None
    if not typed.strip():
        if not made.optional:
            example = f"; for example {made.default}" if made.default else ""
            bound.faults.append(Fault(made.name, made.label, f"needs a value{example}"))
        return
    if len(typed) > LONGEST_TEXT and not isinstance(made, Log):
        sentence = f"is {len(typed)} characters long; at most {LONGEST_TEXT} are allowed"
        bound.faults.append(Fault(made.name, made.label, sentence))
        return
    try:
        bound.values[made.name] = _value(bound, made, typed)
    except (UnitError, InputError) as error:
        bound.faults.append(Fault(made.name, made.label, str(error)))


def _value(bound: Bound, made: Field, text: str) -> Any:
    """The value of a text; a record is found among the guide's."""
    if isinstance(made, Record) and made.optional and text.strip() == NONE_LISTED:
        return None
    if isinstance(made, Record):
        return made.find(text, bound.shelves)
    if isinstance(made, Quantity):
        return _amount(bound, made, text)
    return made.read(text)


def _amount(bound: Bound, made: Quantity, text: str) -> float:
    """A number's value; what was typed as something near it is said to be taken so."""
    volts = bound.values.get(made.at_volts)
    charge = made.by_volts(text, volts)
    if charge is not None and volts is not None:
        amounts = made.shown(charge), units.text(volts, "V")
        bound.taken[made.name] = "taken as {} at {}, the bank's voltage".format(*amounts)
        return units.trim(charge)
    value = made.read(text)
    if made.kind == "apparent power" and units.in_watts(units.split_number(text)[1]):
        bound.taken[made.name] = f"taken as {made.shown(value)}; see the plate"
    return value


def _record_value(path: str, values: Mapping[str, Any]) -> tuple[Any, Origin]:
    """The value behind "unit.motor.power" and the record that holds it, if any."""
    if not path:
        return None, NOWHERE
    first, *rest = path.split(".")
    holder = values.get(first)
    found = holder
    for part in rest:
        if found is None:
            return None, NOWHERE
        if hasattr(found, "key"):
            holder = found
        found = getattr(found, part)
    return found, Origin("record", getattr(holder, "name", ""))


def _bind_rows(bound: Bound, made: Rows, layers: Sequence[Layer]) -> None:
    kept = made.usual or not bound.own_boat
    name, source, origin = made.name, made.example if kept else (), DEFAULT
    if made.shelf:
        source, origin = _rows_of_records(made, bound), SHELF
    for layer in layers:
        if name in layer.texts:
            source, origin = layer.texts[name], layer.origin
            break
    bound.origins[name] = origin
    if (
        not isinstance(source, Sequence)
        or isinstance(source, str)
        or not all(isinstance(row, Mapping) for row in source)
    ):
        bound.faults.append(
            Fault(name, made.label, "must be a list of rows, each with named values")
        )
        source = ()
    if len(source) > made.most:
        sentence = f"has {len(source)} rows; at most {made.most} are allowed"
        bound.faults.append(Fault(name, made.label, sentence))
        source = source[: made.most]
    bound.rows[name] = [_bound_row(made.row, origin, row, bound.shelves) for row in source]
    bound.texts[name] = [row.texts for row in bound.rows[name]]
    bound.values[name] = tuple(row.as_values() for row in bound.rows[name])
    for index, row in enumerate(bound.rows[name]):
        for fault in row.faults:
            where = f"{made.label}, {made.one} {index + 1}, {fault.label}"
            bound.faults.append(Fault(f"{name}.{index}.{fault.field}", where, fault.sentence))


def _bound_row(
    asks: type[Inputs], origin: Origin, row: Mapping[str, Any], shelves: Shelves
) -> Bound:
    kept = not any(isinstance(made, (Record, Rows)) for made in asks.fields.values())
    if kept and all(isinstance(text, str) for text in row.values()):
        texts, shown = tuple(row.items()), (units.decimal_mark.get(), units.chosen_system.get())
        return _bound_texts(asks, origin, texts, shown)  # type: ignore[arg-type]  # classes hash
    return bind(asks, Layer(origin, row), shelves=shelves)


@lru_cache(maxsize=512)  # a list has many rows, and one keystroke changes one of them
def _bound_texts(
    asks: type[Inputs], origin: Origin, texts: tuple[tuple[str, str], ...], _shown: tuple[str, str]
) -> Bound:
    """A row as it is read; its faults are written with the decimal mark and units of the moment."""
    return bind(asks, Layer(origin, dict(texts)))


def _rows_of_records(made: Rows, bound: Bound) -> list[dict[str, Any]]:
    """The records of a shelf that belong to the chosen unit, as rows."""
    unit = bound.values.get(made.belongs)
    return [
        {name: text for name, text in record.texts.items() if name in made.row.fields}
        for record in bound.shelves.get(made.shelf, {}).values()
        if not record.units or unit is None or unit.key in record.units.replace(",", " ").split()
    ]


def _check_limits(bound: Bound, made: Field, limits: Sequence[Limit]) -> None:
    value = bound.values.get(made.name)
    if value is None or bound.faults_of(made.name):
        return
    value = units.trim(value)
    for limit in limits:
        held_against = limit.value if limit.value is not None else _of_other(bound, limit.told)
        if held_against is not None and not limit.holds(value, held_against):
            typed = made.tidy(str(bound.texts[made.name]))
            told = _limit_told(bound, made, limit.told)
            sentence = f"“{typed}” is not allowed; it must be {limit.phrase} {told}"
            bound.faults.append(Fault(made.name, made.label, sentence))
            return


def _of_other(bound: Bound, other: Other) -> float | None:
    value = bound.values.get(other.name)
    return None if value is None else units.trim(value * other.factor)


def _limit_told(bound: Bound, made: Field, limit: Any) -> str:
    system = units.chosen_system.get()
    if isinstance(limit, Other):
        other = bound.asks.fields[limit.name]
        share = "" if limit.factor == 1 else f"{units.number_text(limit.factor)} × "
        return f"{share}“{other.label}” ({other.shown(bound.values[limit.name], system)})"
    if not isinstance(made, Quantity):
        return str(limit)
    return limit_text(made, limit, made.above == limit or made.at_least == limit, system)


def limit_text(made: Quantity, limit: str, low: bool, system: str) -> str:
    """A limit as it is declared, or in US units, rounded so that what is told is allowed."""
    symbol = units.split_number(limit)[1]
    if system != "us" or units.shown_unit(symbol, "us") == symbol:
        return units.join(*_parted(limit))
    value = units.parse(limit, symbol, made.kind)
    return units.text(value, symbol, "us", 3, "up" if low else "down")


def _parted(quantity: str) -> tuple[str, str]:
    number, _, unit = quantity.partition(" ")
    return number, unit
