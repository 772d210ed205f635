"""The same unit in other seas."""

from __future__ import annotations

from ...frame.report import FAILS, FITS, Report, line
from ...system.sea import Sea
from ...system.watermaking import Making
from .asks import Asks


def table(q: Asks, making: Making, show: Report) -> None:
    """What it makes in each at this pressure, and the pressure for the water of its papers."""
    rows, states = [], []
    for row in q.seas:
        there = making.in_sea(Sea(row.temperature, row.salinity))
        wanted = there.for_stated
        rows.append(
            (
                row.name,
                (there.made.product, "L/h"),
                (there.made.product_salinity, "mg/L") if there.made.product else "",
                (wanted, "bar")
                if wanted is not None and wanted <= there.bears
                else line("more than {m}", m=(there.bears, "bar")),
            )
        )
        states.append(FITS if all(h.holds for h in there.held.values()) else FAILS)
    if rows:
        show.table(
            "seas",
            line("In other seas, at {p}", p=(making.pressure, "bar")),
            ("Sea", "Fresh water", "Its salt", line("Pressure for {r}", r=(making.stated, "L/h"))),
            rows,
            states=states,
            note="Red: at this pressure too much water passes the membranes there, or too little "
            "brine. Where the pressure for the water of the papers is more than is allowed, take "
            "less water.",
            on_card=(0, 1, 3),
        )
