"""The readings at standard conditions as files."""

from __future__ import annotations

import csv
import io
import json

from ...frame import units
from ...frame.report import Report
from ...system.trend import Trend

_COLUMNS = (
    ("flow", "product_at_papers", "L/h"),
    ("salt", "salt_passage", "%"),
    ("drop", "drop_at_papers", "bar"),
)


def offered(found: Trend, show: Report) -> None:
    """Two files: CSV and JSON."""
    show.download(
        "standardised-csv",
        "readings-standardised.csv",
        "The readings at the conditions of the papers, as CSV",
        "text/csv",
        lambda: _csv(found),
    )
    show.download(
        "standardised-json",
        "readings-standardised.json",
        "The same as JSON",
        "application/json",
        lambda: json.dumps(_rows(found), ensure_ascii=False, indent=1) + "\n",
    )


def _rows(found: Trend) -> list[dict[str, str | float | None]]:
    rows: list[dict[str, str | float | None]] = []
    for line, one in zip(found.lines, found.found, strict=True):
        row: dict[str, str | float | None] = {"date": line.day.isoformat()}
        for key, name, unit in _COLUMNS:
            value = getattr(one, key)
            told = f"{name} [{unit}]"
            row[told] = None if value is None else units.trim(units.from_si(value, unit))
        rows.append(row)
    return rows


def _csv(found: Trend) -> str:
    out, rows = io.StringIO(), _rows(found)
    made = csv.DictWriter(out, list(rows[0]), lineterminator="\n")
    made.writeheader()
    made.writerows(rows)
    return out.getvalue()
