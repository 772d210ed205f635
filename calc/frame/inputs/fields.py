"""The fields of a form, each as it reads, writes and limits what a reader types."""

from __future__ import annotations

import datetime
import difflib
import operator
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from .. import dates, log, units
from ..book import Book, LogError
from ..language import Several, Told, phrase, spoken, spoken_count
from .said import LONGEST_TEXT, InputError

Shelves = Mapping[str, Mapping[str, Any]]  # equipment records by kind and key
NO_SHELVES: Shelves = {}
_MOST_KNOWN = 8  # values of a field that are kept by their texts


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
    no number. A boat that says a field that `dates` it has days of its own. `told` is what a page
    last made of it, by control: one that doesn't change is shown again. `known` holds the values of
    the texts that it last read, where these hang on nothing else (`plain`).
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
    told: dict[str, tuple[Any, Any]] = field(
        default_factory=dict, init=False, compare=False, repr=False
    )
    known: dict[tuple[str, str], Any] = field(
        default_factory=dict, init=False, compare=False, repr=False
    )

    def __set_name__(self, owner: type, name: str) -> None:
        if self.name and self.name != name:
            raise TypeError(f"{owner.__name__}.{name}: this field is called {self.name!r}")
        self.name = name

    def read(self, text: str) -> Any:
        """The value of a text. Raises InputError or UnitError with a sentence."""
        raise NotImplementedError

    def keep(self, text: str, system: str, value: Any) -> None:
        """Keeps the value of a text in the reader's units, of a field that is `plain`."""
        if self.plain:
            if len(self.known) >= _MOST_KNOWN:
                self.known.clear()
            self.known[text, system] = value

    @property
    def plain(self) -> bool:
        """Whether a text's value hangs on nothing but the text and the reader's units."""
        return True

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


HOLDS: dict[str, Callable[[Any, Any], bool]] = {
    "above": operator.gt,
    "at_least": operator.ge,
    "below": operator.lt,
    "at_most": operator.le,
}
# What a limit says, by itself, and of a value that breaks it.
ALLOWED = {
    "above": "more than {limit}",
    "at_least": "at least {limit}",
    "below": "less than {limit}",
    "at_most": "at most {limit}",
}
NOT_ALLOWED = {
    "above": "“{typed}” is not allowed; it must be more than {limit}",
    "at_least": "“{typed}” is not allowed; it must be at least {limit}",
    "below": "“{typed}” is not allowed; it must be less than {limit}",
    "at_most": "“{typed}” is not allowed; it must be at most {limit}",
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

    @property
    def plain(self) -> bool:
        return not self.at_volts and self.kind != "apparent power"

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
                "“{text}” is an energy; say the bank's voltage first, or write it in Ah", text=text
            )
        return units.parse(text, "Wh") / volts

    def write(self, value: float, system: str = "metric") -> str:
        shown = units.shown_unit(self.unit, system)
        number = units.typed_text(value, shown, self.kind)
        return f"{number} {shown}".strip()

    def shown(self, value: float, system: str = "metric") -> str:
        return units.text(value, self.unit, system)

    def limits(self) -> dict[str, str | Other]:
        found = {word: getattr(self, word) for word in HOLDS}
        return {word: limit for word, limit in found.items() if limit is not None}

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        limits = {word: limit for word, limit in self.limits().items() if isinstance(limit, str)}
        told = [ALLOWED[word].format(limit=limit) for word, limit in limits.items()]
        schema = self._described({"type": ["string", "number"]})
        schema["x-unit"] = self.unit
        if told:
            schema["x-allowed"] = " and ".join(told)
        if self.default:
            schema["examples"] = [self.default]
        return schema


MOST_NAMED = 30  # records that a fault names; a guide may have hundreds


def _few(keys: Collection[str]) -> str:
    named = [*keys][:MOST_NAMED]
    return ", ".join(named if len(named) == len(keys) else [*named, "…"])


def _hint(near: Sequence[str]) -> Told:
    return Several((phrase("did you mean “{word}”?", word=near[0]), " "), "") if near else ""


@dataclass
class Whole(Field):
    """A whole number."""

    at_least: int = 0
    at_most: int = 1_000_000

    def read(self, text: str) -> int:
        number, rest = units.split_number(text)
        if rest or number != int(number):
            raise InputError(
                "“{text}” is not a whole number, such as {example}",
                text=text,
                example=self.at_least + 1,
            )
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
        raise InputError(
            "“{text}” is not one of the choices; {hint}allowed: {choices}",
            text=text,
            hint=_hint(near),
            choices=self._list(),
        )

    def _list(self) -> str:
        return ", ".join(self.choices)

    def shown(self, value: str, system: str = "metric") -> str:
        return units.in_system(spoken(self.choices.get(value, value)), system)

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
        raise InputError("“{text}” is neither yes nor no", text=text)

    def write(self, value: bool, system: str = "metric") -> str:
        return "yes" if value else "no"

    def shown(self, value: bool, system: str = "metric") -> str:
        return spoken(self.write(value, system))

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
            raise InputError(
                "is {n} characters long; at most {most} are allowed", n=len(line), most=self.longest
            )
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
                "“{text}” is not a date; write it as year-month-day, 2026-05-31", text=text
            ) from None
        if not 1970 <= day.year < 2200:
            raise InputError("“{text}” lies outside the years 1970 to 2199", text=text)
        return day

    def write(self, value: datetime.date, system: str = "metric") -> str:
        return value.isoformat()

    def shown(self, value: datetime.date | None, system: str = "metric") -> str:
        return dates.told(value) if value else ""

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        return self._described({"type": "string", "format": "date"})


@dataclass
class Log(Field):
    """A log as CSV text, of the kind that its `book` is; the value is a tuple of its lines.

    `jobs` names the list whose rows' names are what may be done.
    """

    jobs: str = ""
    book: Book[Any] = log.MACHINE

    @property
    def plain(self) -> bool:
        return False  # far too long to be kept

    def read(self, text: str) -> tuple[Any, ...]:
        try:
            lines = self.book.read(text)
            self.book.check(lines)
        except LogError as error:
            raise InputError(error.told) from None
        return lines

    def write(self, value: tuple[Any, ...], system: str = "metric") -> str:
        return self.book.write(value)

    def shown(self, value: tuple[Any, ...] | None, system: str = "metric") -> str:
        if not value:
            return spoken("empty")
        return spoken_count(
            len(value),
            "{n} line, the last of {day}",
            "{n} lines, the last of {day}",
            day=dates.told(value[-1][0]),
        )

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        return self._described({"type": "string", "contentMediaType": "text/csv"})


OWN_VALUES = "own values, else those of {values}"  # of a record that the reader rates otherwise
NONE_LISTED = "none"  # what a boat sheet says of a record that the guide hasn't; a form says ""


@dataclass
class Record(Field):
    """An equipment record, chosen by its name; the value is the record, or None for no record.

    `tells` names fields of the record whose values stand behind its name in the list of choices. A
    record gives way to what the reader says of the fields it is `known_by`. Where she rates it
    otherwise (`rated_by`), its other values stay, but it is no longer named as hers.
    """

    kind: str = ""
    tells: Sequence[str] = ()
    others: str = "not in the list: I fill in the values"
    known_by: Sequence[str] = ()
    rated_by: Sequence[str] = ()

    def choices(self, shelves: Shelves) -> dict[str, str]:
        """Key and name of every record of this kind, the empty choice last if there is one."""
        found = {key: self._told(record) for key, record in shelves.get(self.kind, {}).items()}
        if self.optional:
            found[""] = self.others
        return found

    def _told(self, record: Any) -> str:
        told = ", ".join(str(record.texts[name]) for name in self.tells if name in record.texts)
        return f"{record.name} ({told})" if told else str(record.name)

    @property
    def plain(self) -> bool:
        return False

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
        raise InputError(
            "no {kind} is called “{text}”; {hint}known: {names}",
            kind=phrase(self.kind),
            text=text,
            hint=_hint(near),
            names=_few(shelf),
        )

    def write(self, value: Any, system: str = "metric") -> str:
        return "" if value is None else str(value.key)

    def shown(self, value: Any, system: str = "metric") -> str:
        return spoken(self.others) if value is None else str(value.name)

    def schema(self, shelves: Shelves = NO_SHELVES) -> dict[str, Any]:
        return self._described({"type": "string", "enum": list(self.choices(shelves))})
