"""The same unit in other seas."""

from __future__ import annotations

from ...frame.report import Report, most
from ...system.sea import Sea
from ...system.watermaking import Making
from .asks import Asks


def table(q: Asks, making: Making, show: Report) -> None:
    """The pressure to set in each, and what it makes of it."""
    rows = []
    for row in q.seas:
        right = making.in_sea(Sea(row.temperature, row.salinity)).set_right
        if right is not None:
            made = right.made
            rows.append(
                (
                    row.name,
                    most(right.pressure, "bar"),
                    (made.product, "L/h"),
                    (made.product_salinity, "mg/L"),
                )
            )
    if rows:
        show.table(
            "seas",
            "In other seas",
            ("Sea", "Set to", "Fresh water", "Its salt"),
            rows,
            note="Set for the fresh water that the papers state, and to no more pressure than "
            "they do.",
            on_card=(0, 1, 2, 3),
        )
