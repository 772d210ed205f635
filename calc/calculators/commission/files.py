"""The readings as files: CSV, JSON, and the line of day one for the log of readings."""

from __future__ import annotations

import csv
import io
import json

from ...frame import units
from ...frame.report import Report
from ...sheet.readings_log import BOOK
from ...system.first_day import FirstDay
from .asks import Asks
from .judge import LABELS, UNITS

_COLUMNS = ("reading", "unit", "expected", "low", "high", "read", "state")


def offered(q: Asks, found: FirstDay | None, show: Report, stopped: bool) -> None:
    """Files of all that is expected and read; and the line, once there is a day and a reading."""
    if found is None:
        return
    show.download(
        "first-day-csv",
        "day-one.csv",
        "Readings and what is expected, as CSV",
        "text/csv",
        lambda: _csv(found),
    )
    show.download(
        "first-day-json",
        "day-one.json",
        "The same as JSON",
        "application/json",
        lambda: _json(q, found),
    )
    if not stopped and not show.failures and _has_line(q):
        show.download(
            "log-line",
            "readings-day-one.csv",
            "The first line of your log of readings",
            "text/csv",
            lambda: log_line(q),
        )


def _has_line(q: Asks) -> bool:
    """Whether there is a line: the log takes none of a day to come."""
    there = q.day_date is not None and q.day_date <= q.today
    return there and bool(q.taken().read.keys() & set(BOOK.names))


def _told(value: float | None, unit: str) -> float | None:
    return None if value is None else units.rounded(units.from_si(value, unit), 5)


def rows(found: FirstDay) -> list[dict[str, str | float | None]]:
    """Each reading in the unit that it is told in."""
    return [
        dict(
            zip(
                _COLUMNS,
                (
                    LABELS[one.key],
                    UNITS[one.key],
                    *(
                        _told(value, UNITS[one.key])
                        for value in (one.expected, one.low, one.high, one.read)
                    ),
                    one.state,
                ),
                strict=True,
            )
        )
        for one in found.readings
    ]


def _csv(found: FirstDay) -> str:
    out = io.StringIO()
    made = csv.DictWriter(out, _COLUMNS, lineterminator="\n")
    made.writeheader()
    made.writerows(rows(found))
    return out.getvalue()


def _json(q: Asks, found: FirstDay) -> str:
    looked = {"turns": q.day_turns, "oil": q.day_oil, "weeps": q.day_weeps, "relief": q.day_relief}
    told = {
        "day": None if q.day_date is None else q.day_date.isoformat(),
        "unit": q.unit.name,
        "readings": rows(found),
        "looked_at": looked,
        "sound_dB(A)": _told(q.day_sound, "dB(A)"),
    }
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"


def log_line(q: Asks) -> str:
    """The line of day one, as the log of readings takes it in."""
    read = q.taken().read
    assert q.day_date is not None
    cells = {"date": q.day_date.isoformat(), "note": "day one"}
    for column in BOOK.columns:
        unit = getattr(column, "unit", "")
        if unit and column.name in read:
            cells[column.name] = f"{_told(read[column.name], unit)}"
    return BOOK.write([BOOK.line_from(cells)])
