"""The readings at standard conditions as a file."""

from __future__ import annotations

from ...frame import units
from ...frame.report import Report
from ...system.trend import Trend

_UNITS = (("product", "L/h"), ("salt passage", "%"), ("drop", "bar"))


def offered(found: Trend, show: Report) -> None:
    """A line for each reading: its day, fresh water, salt let through and drop."""
    show.download(
        "standardised",
        "readings-at-standard-conditions.csv",
        "The readings at the conditions of its papers",
        "text/csv",
        lambda: _csv(found),
    )


def _csv(found: Trend) -> str:
    # Written at each answer, of a long log too: five digits, and none of a reader's units.
    factors = [units.unit(unit).factor for _, unit in _UNITS]
    lines = [",".join(["date", *(f"{name} [{unit}]" for name, unit in _UNITS)])]
    for line, one in zip(found.lines, found.found, strict=True):
        cells = [
            "" if value is None else f"{value / factor:.5g}"
            for value, factor in zip(one[:3], factors, strict=True)
        ]
        lines.append(f"{line.day.isoformat()},{','.join(cells)}")
    return "\n".join(lines) + "\n"
