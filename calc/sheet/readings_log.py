"""Her log of readings: what the gauges and meters of the watermaker showed, run by run."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from statistics import median
from typing import Any, NamedTuple

from ..frame import units
from ..frame.book import Book
from ..frame.columns import Cell, Day, Hours, Measure, Words
from ..frame.dates import told
from ..frame.inputs import Inputs, Refusal, book_of
from ..frame.language import Said
from ..system import standardised, trend
from ..system.readings import NAMES, Readings
from ..system.sea import by_conductivity, scale
from ..system.unfit import Unfit
from .groups import READINGS

_AT = 298.15  # K, of every conductivity in it


class Line(NamedTuple):
    """What was read on a day; each cell in its column's unit, or as a text with its own. The names
    are those of `system.readings.Readings`."""

    day: date
    hours: float | None
    temperature: Cell
    salinity: Cell
    sea_conductivity: Cell
    before: Cell
    behind: Cell
    pressure: Cell
    drop: Cell
    product: Cell
    brine: Cell
    conductivity: Cell
    note: str


class _Readings(Book[Line]):
    """What holds for a log of readings beside its columns."""

    def line_of(self, values: Sequence[Any]) -> Line:
        line = super().line_of(values)
        if all(value is None for value in line[1:-1]):
            raise Said("a line needs a reading: a pressure, a flow, a conductivity or others")
        return line

    def all_lines(self, columns: Sequence[Sequence[Any]]) -> bool:
        read = zip(*columns[1:-1], strict=True)
        return not any(line.count(None) == len(line) for line in read)

    def in_order(self, of_day: list[Line]) -> list[Line]:
        return sorted(of_day, key=lambda line: float("inf") if line.hours is None else line.hours)

    def told(self, line: Line) -> str:
        return f"{told(line.day)}, {self.rest(line)}"

    def what(self, line: Line) -> str:
        return "Readings"

    def rest(self, line: Line) -> str:
        read = [
            f"{column.label} {column.write(value)}"
            + (
                f" {column.unit}"
                if isinstance(column, Measure) and isinstance(value, float)
                else ""
            )
            for column, value in zip(self.columns[1:-1], line[1:-1], strict=True)
            if value is not None
        ]
        return ", ".join(read)

    def same(self, line: Line) -> tuple[Any, ...] | None:
        return None if line.hours is None else (line.day, line.hours)


BOOK = _Readings(
    "brinebook readings",
    Line._make,
    (
        Day("date", "Date", needed=True),
        Hours("hours", "Hour meter"),
        Measure("temperature", "Sea", "°C", "-2 °C", "36 °C"),
        Measure("salinity", "Sea's salt", "g/kg", "0 g/kg", "50 g/kg"),
        Measure("sea_conductivity", "Sea's conductivity", "mS/cm", "0 mS/cm", "100 mS/cm"),
        Measure("before", "Before the filters", "bar", "-1 bar", "20 bar"),
        Measure("behind", "Behind the filters", "bar", "-1 bar", "20 bar"),
        Measure("pressure", "High pressure", "bar", "0 bar", "120 bar"),
        Measure("drop", "Drop along membranes", "bar", "0 bar", "20 bar"),
        Measure("product", "Fresh water", "L/h", "0 L/h", "1500 L/h"),
        Measure("brine", "Brine overboard", "L/min", "0 L/min", "150 L/min"),
        Measure("conductivity", "Fresh water conductivity", "µS/cm", "0 µS/cm", "60 mS/cm"),
        Words("note", "Note", longest=200),
    ),
)
"""The log of readings. Conductivities are as they would be at 25 °C."""


class ReadingsLog(Inputs, part=True):
    """What was read of it."""

    readings = book_of(
        BOOK,
        "Readings",
        group=READINGS,
        dates=True,
        help="A line for each time that you read the gauges: date, hours, sea, pressures, flows, "
        "conductivity, note. What you didn't read stays empty. It stays on this device.",
    )

    def kept(self, today: date) -> tuple[trend.Line, ...]:
        """Its lines in SI. Refuses a day after today, and a conductivity that no sea has."""
        lines = self.readings or ()
        if not lines:
            return ()
        if lines[-1].day > today:
            raise Refusal(
                "readings",
                "the line of {day} lies after today, {today}; is one of the two wrong?",
                day=str(lines[-1].day),
                today=str(today),
            )
        found = _in_si(lines)
        read = zip(*(found[name] for name in standardised.Read._fields), strict=True)
        made = map(standardised.Read._make, read)
        filters = [
            None if before is None or behind is None else before - behind
            for before, behind in zip(found["before"], found["behind"], strict=True)
        ]
        days, hours = zip(*((line.day, line.hours) for line in lines), strict=True)
        return tuple(map(trend.Line, days, hours, made, filters))

    def first_read(self) -> Readings | None:
        """The medians of the first few lines that tell of the membranes: day one where none was
        written down. None with fewer of them: one or two may be of a day when all was not well."""
        tells = [
            line
            for line in self.readings or ()
            if None not in (line.pressure, line.product, line.temperature)
        ][: trend.FIRST]
        if len(tells) < trend.FIRST:
            return None
        known = {
            name: [one for one in column if one is not None]
            for name, column in _in_si(tells).items()
            if name in NAMES
        }
        return Readings(**{name: median(read) for name, read in known.items() if read})


def _in_si(lines: Sequence[Line]) -> dict[str, list[float | None]]:
    """What was measured, by column in SI; the sea's salt by its conductivity where that was read.
    Refuses a conductivity that no sea has."""
    cells = dict(zip(BOOK.names, zip(*lines, strict=True), strict=True))
    found = {
        column.name: column.column_si(cells[column.name])
        for column in BOOK.columns
        if isinstance(column, Measure)
    }
    salt = found["salinity"]
    for place, measured in enumerate(found["sea_conductivity"]):
        if measured is not None and salt[place] is None:
            salt[place] = _salt(lines[place].day, measured)
    return found


def _salt(day: date, measured: float) -> float:
    """The sea's salt by its conductivity at 25 °C. Refuses one that no sea has."""
    try:
        return by_conductivity(_AT, measured, _AT).salinity
    except Unfit:
        low, high = scale(_AT)
        raise Refusal(
            "readings",
            "the sea's conductivity of {day} must lie between {low} and {high}, as it would be at "
            "25 °C: the scale of practical salinity goes from 2 to 42 (PSS-78)",
            day=str(day),
            low=units.text(low, "mS/cm", rounding="up"),
            high=units.text(high, "mS/cm", rounding="down"),
        ) from None
