"""A book of dated lines, declared by its columns: read, written and merged as CSV and as JSON.

Nothing that was read is lost on writing: columns of a foreign file go into the note, which every
book has at the end. Words that a spreadsheet would take for a formula are written with an
apostrophe before them, and read without. A foreign file may name a unit with a column, as in
"pressure [psi]".
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from functools import lru_cache
from itertools import islice
from operator import itemgetter
from typing import Any, Generic, TypeVar, cast

from .columns import Column, Day, Measure, OneOf, harmless, plain
from .dates import told
from .language import Phrase, Said, Several, Told, phrase
from .nested import NestedTooDeep
from .nested import read_json as read_json_text

MOST_LINES = 20_000
Line = TypeVar("Line", bound=tuple[Any, ...])
_DAY = itemgetter(0)
_IN_BRACKETS = re.compile(r"^(.*?)\s*[\[(](.+)[\])]$")


class LogError(Said):
    """A book that cannot be read; the message is a sentence that names lines and columns."""


class Book(Generic[Line]):
    """A kind of log: its mark in a file, its columns from the day to the note, what a line is.

    What else holds for it a class of its own says.
    """

    version = 1

    def __init__(
        self, mark: str, make: Callable[[Iterable[Any]], Line], columns: Sequence[Column]
    ) -> None:
        self.mark = mark
        self._make = make
        self.columns = tuple(columns)
        self.names = tuple(column.name for column in columns)
        self._needed = [column.name for column in columns if column.needed]
        self._ours = {name: index for index, name in enumerate(self.names)}

    # ---- what a book of its own may say ----

    def line_of(self, values: Sequence[Any]) -> Line:
        """The line of its values. Raises ValueError with a sentence for those that make none."""
        return self._make(values)

    def all_lines(self, columns: Sequence[Sequence[Any]]) -> bool:
        """Whether each line of whole columns is one, see `line_of`; False where it might not be."""
        return True

    def check(self, lines: tuple[Line, ...]) -> None:
        """Raises LogError where the lines contradict each other."""

    def in_order(self, of_day: list[Line]) -> list[Line]:
        """The lines of a day from two books in the order in which they came about."""
        return of_day

    def offer(self, lines: Sequence[Line], line: Line) -> str:
        """The name of another way to write down a line that contradicts the others, or ""."""
        return ""

    def instead(self, lines: tuple[Line, ...], line: Line) -> tuple[tuple[Line, ...], str]:
        """The lines before that one is added the other way, and what to say of them."""
        return lines, ""

    def told(self, line: Line) -> str:
        """A line in words."""
        return f"{told(line[0])}, {self.what(line)}"

    def what(self, line: Line) -> str:
        """What a line tells of, in a word."""
        raise NotImplementedError

    def rest(self, line: Line) -> str:
        """What a line tells beside its day and that word."""
        raise NotImplementedError

    def same(self, line: Line) -> tuple[Any, ...] | None:
        """What two lines have in common that tell the same differently; None for no matter."""
        raise NotImplementedError

    # ---- reading ----

    def read(self, text: str) -> tuple[Line, ...]:
        """The lines of a book in CSV, in the order of their days.

        Semicolons or tabs may part the columns. Raises LogError with every faulty line (the first
        few by name) and what is wrong with it.
        """
        return cast(tuple[Line, ...], _read(self, text))

    def _of(self, text: str) -> tuple[Line, ...]:
        rows = _rows(text)
        if not rows:
            return ()
        first, known, extra, their_units = self._header(rows)
        written = list(filter(None, rows[first:]))
        ours = known == self._ours and not extra and not their_units
        found = self._all_good(written) if ours else None
        if found is None:
            found = self._one_by_one(rows, first, known, extra, their_units)
        if len(found) > MOST_LINES:
            raise LogError(
                "has {n} lines; at most {most} are allowed", n=len(found), most=MOST_LINES
            )
        found.sort(key=_DAY)
        return tuple(found)

    def _all_good(self, rows: list[list[str]]) -> list[Line] | None:
        """The lines if nothing at all is wrong, by whole columns: it is read at each answer.

        None if anything is, or might be; then each line is looked at by itself.
        """
        if not rows or set(map(len, rows)) != {len(self.columns)}:
            return None
        found: list[Sequence[Any]] = []
        for column, texts in zip(self.columns, zip(*rows, strict=True), strict=True):
            values = column.read_all(texts)
            if values is None:
                return None
            found.append(values)
        if not self.all_lines(found):
            return None
        return list(map(self._make, zip(*found, strict=True)))

    def _one_by_one(
        self,
        rows: list[list[str]],
        first: int,
        known: Mapping[str, int],
        extra: Mapping[str, int],
        their_units: Mapping[str, str],
    ) -> list[Line]:
        place = [known.get(name, -1) for name in self.names]
        width = len(known) + len(extra)
        found: list[Line] = []
        faults: list[Told] = []
        for number, row in enumerate(rows[first:], first + 1):
            if not any(row):
                continue
            cells = [plain(row[i]) if 0 <= i < len(row) else "" for i in place]
            for name, unit in their_units.items():
                cells[self._ours[name]] = _with_unit(cells[self._ours[name]], unit)
            cells[-1] = _with_foreign(cells[-1], row, extra, width)
            try:
                found.append(self._line(cells))
            except ValueError as error:
                faults.append(phrase("line {n}: {fault}", n=number, fault=error))
        if faults:
            more = [phrase("and {n} more", n=len(faults) - 3)] if len(faults) > 3 else []
            raise LogError(Several([*faults[:3], *more]))
        return found

    def _line(self, cells: Sequence[str]) -> Line:
        return self.line_of(
            [column.read(cell) for column, cell in zip(self.columns, cells, strict=True)]
        )

    def _header(
        self, rows: list[list[str]]
    ) -> tuple[int, dict[str, int], dict[str, int], dict[str, str]]:
        """Where the lines start, the place of each known column, of each foreign one by name, and
        the units that stand with columns."""
        names, their_units = [], {}
        for cell in rows[0]:
            name, unit = self._named(cell)
            names.append(name)
            if unit:
                their_units[name] = unit
        if not any(name in self.names for name in names):
            if self._headless(rows[0]):
                return 0, dict(self._ours), {}, {}
            raise LogError(
                "the columns of this file are {columns}; a log has {ours}",
                columns=_quoted(rows[0]),
                ours=", ".join(self.names),
            )
        missing = [name for name in self._needed if name not in names]
        if missing:
            raise LogError(
                "the first line names no column {missing}; it names {columns}, and a log has "
                "{ours}",
                missing=_quoted(missing),
                columns=_quoted(rows[0]),
                ours=", ".join(self.names),
            )
        known = {name: names.index(name) for name in self.names if name in names}
        foreign = {
            rows[0][index].strip() or f"column {index + 1}": index
            for index in range(len(names))
            if index not in known.values()
        }
        return 1, known, foreign, their_units

    def _named(self, cell: str) -> tuple[str, str]:
        """The name of a column in the first line of a file, and the unit that stands with it."""
        name = cell.strip().lower()
        if name in self._ours:
            return name, ""
        found = _IN_BRACKETS.match(cell.strip())
        bare, unit = (found[1], found[2]) if found else (cell.strip(), "")
        written = bare.lower()
        for column in self.columns:
            if written in (column.name, column.name.replace("_", " "), column.label.lower()):
                return column.name, unit if isinstance(column, Measure) else ""
        return name, ""

    def _headless(self, cells: Sequence[str]) -> bool:
        """Whether the first line is a line and names no columns."""
        for column, cell in zip(self.columns, cells, strict=False):
            if isinstance(column, (Day, OneOf)):
                try:
                    column.read(cell)
                except ValueError:
                    continue
                return True
        return False

    def line_from(self, cells: Mapping[str, str]) -> Line:
        """One line out of its texts by column, the unit of one under "column.unit". Raises
        ValueError with a sentence."""
        texts = [cells.get(name, "").strip() for name in self.names]
        for index, name in enumerate(self.names):
            texts[index] = _with_unit(texts[index], cells.get(f"{name}.unit", "").strip())
        return self._line(texts)

    # ---- writing ----

    def write(self, lines: Iterable[Line]) -> str:
        """The book as CSV; `read` gives the same lines back."""
        out = io.StringIO()
        rows = csv.writer(out, lineterminator="\n")
        rows.writerow(self.names)
        kinds = self.columns
        rows.writerows(
            [column.in_file(value) for column, value in zip(kinds, line, strict=True)]
            for line in lines
        )
        return out.getvalue()

    def _cells(self, line: Line) -> dict[str, str]:
        return {
            column.name: column.write(value)
            for column, value in zip(self.columns, line, strict=True)
        }

    def write_json(self, lines: Iterable[Line]) -> str:
        """The book as versioned JSON, a line an entry."""
        told = [json.dumps(self._cells(line), ensure_ascii=False) for line in lines]
        body = ",\n  ".join(told)
        return f'{{"{self.mark}": {self.version}, "entries": [\n  {body}\n]}}\n'

    def read_json(self, text: str) -> tuple[Line, ...]:
        """The lines of a book in JSON. Raises LogError with a sentence."""
        try:
            content = read_json_text(text.removeprefix("\ufeff"))
        except NestedTooDeep as error:
            raise LogError(error.told) from None
        except ValueError:
            raise LogError("this file is neither CSV nor JSON as it stands") from None
        version = content.get(self.mark) if isinstance(content, dict) else None
        if not isinstance(version, int) or isinstance(version, bool):
            raise LogError("this file is no log of this guide")
        if version > self.version:
            raise LogError(
                "this log has version {version}; this guide reads versions up to {newest}. "
                "Open it with a newer edition",
                version=version,
                newest=self.version,
            )
        listed = content.get("entries")
        if not isinstance(listed, list) or not all(isinstance(one, dict) for one in listed):
            raise LogError("this file holds no entries of a log")
        names = list(dict.fromkeys([*self.names, *(str(name) for one in listed for name in one)]))
        out = io.StringIO()
        rows = csv.writer(out, lineterminator="\n")
        rows.writerow(names)
        rows.writerows([_escaped(one.get(name)) for name in names] for one in listed)
        return self.read(out.getvalue())

    def read_any(self, text: str) -> tuple[Line, ...]:
        """The lines of a file that may be CSV or JSON. Raises LogError with a sentence."""
        begins = text.lstrip("\ufeff \r\n\t")
        return self.read_json(text) if begins.startswith("{") else self.read(text)

    # ---- two books as one ----

    def merge(self, ours: Iterable[Line], theirs: Iterable[Line]) -> tuple[Line, ...]:
        """Both as one: every line of either once, by day; within a day see `in_order`."""
        days: dict[date, list[Line]] = {}
        for line in dict.fromkeys((*ours, *theirs)):
            days.setdefault(line[0], []).append(line)
        return tuple(line for day in sorted(days) for line in self.in_order(days[day]))


@lru_cache(maxsize=8)
def _read(book: Book[Any], text: str) -> tuple[Any, ...]:
    return book._of(text)


def _rows(text: str) -> list[list[str]]:
    # Files come with every kind of line end, CR alone included.
    body = text.removeprefix("\ufeff").replace("\0", "").replace("\r\n", "\n").replace("\r", "\n")
    body = body.lstrip("\n")
    head = body[: body.find("\n")] if "\n" in body else body
    mark = max(",;\t", key=head.count)
    try:
        return list(islice(csv.reader(io.StringIO(body), delimiter=mark), MOST_LINES * 2))
    except csv.Error as error:
        raise LogError("cannot be read as CSV: {why}", why=error) from None


def _quoted(names: Sequence[str]) -> Phrase | str:
    shown = ", ".join(f"“{name.strip()[:40]}”" for name in names[:8])
    return phrase("{names} and more", names=shown) if len(names) > 8 else shown


def _with_unit(cell: str, unit: str) -> str:
    """A number that stands for itself with its column's unit."""
    return f"{cell} {unit}" if unit and cell and not cell[-1].isalpha() else cell


def _with_foreign(note: str, row: list[str], extra: Mapping[str, int], width: int) -> str:
    """The note with what stands in columns that a log does not have."""
    surplus = {f"column {index + 1}": index for index in range(width, len(row))}
    told = [
        f"{name}: {row[index].strip()}"
        for name, index in ({**extra, **surplus}).items()
        if index < len(row) and row[index].strip()
    ]
    return "; ".join(filter(None, (note, *told)))


def _escaped(value: Any) -> str:
    return harmless("" if value is None else str(value))
