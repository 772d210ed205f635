"""The columns of a book of dated lines: how a cell is read, written, and asked for.

`read` takes one cell, and raises ValueError with a sentence; `read_all` takes a whole column at
once, and gives None where anything is, or might be, wrong: then each cell is read by itself.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from . import units
from .dates import told
from .language import Said, phrase

_EARLIEST, _LATEST = date(1970, 1, 1), date(2199, 12, 31)
_MOST_HOURS = 1e6
_FORMULA = re.compile(r"'*[=+\-@\t\r]")  # what a spreadsheet works out, and what is escaped here

Cell = float | str | None
"""What was measured: in the column's own unit, as a text with a unit of its own, or not read."""


def harmless(words: str) -> str:
    """A spreadsheet must not take words for a formula; `plain` gives them back."""
    return "'" + words if _FORMULA.match(words) else words


def plain(cell: str) -> str:
    """A cell without the blanks about it, and without what `harmless` wrote before it."""
    words = cell.strip()
    return words[1:] if words[:1] == "'" and _FORMULA.match(words) else words


def _number(value: float) -> str:
    return repr(value).removesuffix(".0")


class Column:
    """A column by the name that stands over it in a file, and the label that asks for it."""

    def __init__(self, name: str, label: str, needed: bool = False) -> None:
        self.name = name
        self.label = label
        self.needed = needed

    def read(self, text: str) -> Any:
        """The value of a cell."""
        return text.strip()

    def read_all(self, texts: Sequence[str]) -> Sequence[Any] | None:
        """The values of a whole column."""
        return list(map(plain, texts))

    def write(self, value: Any) -> str:
        """The cell for a value, as `read` takes it."""
        return str(value)

    def in_file(self, value: Any) -> str:
        """The cell of a file that a spreadsheet may open."""
        return harmless(self.write(value))


class Words(Column):
    """Free words; `listed` where those of a list are offered, `longest` is what a box takes."""

    def __init__(self, name: str, label: str, listed: bool = False, longest: int = 0) -> None:
        super().__init__(name, label)
        self.listed = listed
        self.longest = longest


class Day(Column):
    """The day of a line."""

    def read(self, text: str) -> date:
        try:
            day = date.fromisoformat(text.strip())
        except ValueError:
            raise Said(
                "“{text}” is not a date; write it as year-month-day, 2026-05-31", text=text[:40]
            ) from None
        if not _EARLIEST <= day <= _LATEST:
            raise Said("{day} lies outside the years 1970 to 2199", day=told(day))
        return day

    def read_all(self, texts: Sequence[str]) -> Sequence[date] | None:
        try:
            days = list(map(date.fromisoformat, texts))
        except ValueError:
            return None
        return days if min(days) >= _EARLIEST and max(days) <= _LATEST else None

    def write(self, value: date) -> str:
        return value.isoformat()

    def in_file(self, value: date) -> str:
        return value.isoformat()


class OneOf(Column):
    """One of a few words, each with the label that offers it."""

    def __init__(
        self, name: str, label: str, choices: Mapping[str, str], needed: bool = False
    ) -> None:
        super().__init__(name, label, needed)
        self.choices = choices

    def read(self, text: str) -> str:
        found = text if text in self.choices else text.strip().lower()
        if found not in self.choices:
            raise Said(
                "“{text}” is no {column}; write {choices}",
                text=text[:40],
                column=phrase(self.name),
                choices=", ".join(self.choices),
            )
        return found

    def read_all(self, texts: Sequence[str]) -> Sequence[str] | None:
        return texts if set(texts) <= set(self.choices) else None


class Hours(Column):
    """What an hour meter shows; None where it was not read."""

    def read(self, text: str) -> float | None:
        try:
            hours = float(text)
        except ValueError:
            written = _written_hours(text.strip())
            if written is None:
                return None
            hours = written
        if not 0 <= hours <= _MOST_HOURS:
            raise Said("“{text}” is no number of hours from 0 to a million", text=text[:40])
        return hours

    def read_all(self, texts: Sequence[str]) -> Sequence[float | None] | None:
        found = _floats(texts)
        return found if found is not None and _within(found, 0.0, _MOST_HOURS) else None

    def write(self, value: float | None) -> str:
        return "" if value is None else _number(value)


class Measure(Column):
    """Something measured, in a unit; a cell may bear another unit of its kind: “800 psi”.

    The least and the most that a reader may mean are texts with a unit. What is written in another
    unit stays as it was written.
    """

    def __init__(self, name: str, label: str, unit: str, least: str, most: str) -> None:
        super().__init__(name, label)
        self.unit = unit
        self.kind = units.kind_of(unit)
        self.least, self.most = least, most
        own = units.unit(unit)
        self._own = own.factor, own.offset
        self._others = {
            symbol: (one.factor, one.offset)
            for symbol in units.KINDS[self.kind].units
            if symbol not in (unit, "")
            for one in (units.unit(symbol, self.kind),)
        }
        self._bounds = units.parse(least, unit), units.parse(most, unit)

    def read(self, text: str) -> Cell:
        written = text.strip()
        if not written:
            return None
        try:
            number, rest = float(written), ""
        except ValueError:
            number, rest = units.split_number(written)
        symbol = units.find_unit(rest, self.kind).symbol if rest else self.unit
        value: Cell = number if symbol == self.unit else f"{_number(number)} {symbol}"
        found = self.si(value)
        if found is None or not self._bounds[0] <= found <= self._bounds[1]:
            raise Said(
                "“{text}” under “{column}” must lie between {least} and {most}",
                text=written[:40],
                column=self.name,
                least=self.least,
                most=self.most,
            )
        return value

    def read_all(self, texts: Sequence[str]) -> Sequence[Cell] | None:
        plain_numbers = _floats(texts)
        if plain_numbers is not None:  # in the column's own unit, as are its bounds here
            factor, offset = self._own
            low, high = ((bound - offset) / factor for bound in self._bounds)
            return plain_numbers if _within(plain_numbers, low, high) else None
        found = self._with_units(texts)
        if found is None or not _within(self.column_si(found), *self._bounds):
            return None
        return found

    def _with_units(self, texts: Sequence[str]) -> list[Cell] | None:
        """The same where some cells bear units, written just as they are known here."""
        found: list[Cell] = []
        try:
            for text in texts:
                number, _, symbol = text.partition(" ")
                if symbol in self._others:
                    float(number)
                    found.append(text)
                else:
                    found.append(float(number) if not symbol or symbol == self.unit else None)
                    if symbol and symbol != self.unit:
                        return None
        except ValueError:
            return None
        return found

    def write(self, value: Cell) -> str:
        return "" if value is None else value if isinstance(value, str) else _number(value)

    def in_file(self, value: Cell) -> str:
        return harmless(value) if isinstance(value, str) else self.write(value)

    def si(self, value: Cell) -> float | None:
        """A cell in SI."""
        return self.column_si((value,))[0]

    def column_si(self, values: Sequence[Cell]) -> list[float | None]:
        """Cells in SI."""
        factor, offset = self._own
        return [
            None
            if value is None
            else self._other_si(value)
            if isinstance(value, str)
            else value * factor + offset
            for value in values
        ]

    def _other_si(self, text: str) -> float:
        number, _, symbol = text.partition(" ")
        factor, offset = self._others[symbol]
        return float(number) * factor + offset


def _floats(texts: Sequence[str]) -> list[float | None] | None:
    try:
        return [float(text) if text else None for text in texts]
    except ValueError:
        return None


def _within(numbers: Sequence[float | None], least: float, most: float) -> bool:
    """Whether all that were read are finite and lie between the two."""
    read = [number for number in numbers if number is not None]
    return math.isfinite(sum(read)) and (
        min(read, default=least) >= least and max(read, default=most) <= most
    )


def _written_hours(text: str) -> float | None:
    """Hours with a decimal comma or a unit: "812,5 h"; None for nothing."""
    if not text:
        return None
    written = text.removesuffix("h").rstrip()
    if written.count(",") == 1 and "." not in written:
        written = written.replace(",", ".")
    try:
        return float(written)
    except ValueError:
        raise Said("“{text}” is no number of hours", text=text[:40]) from None
