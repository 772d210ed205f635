"""Rows of a long list: each folded to a line, and opened by a tap."""

from __future__ import annotations

from html import escape

from ..inputs import Bound, Date, Quantity, Rows, Text
from ..language import spoken
from .spaces import worded


def folded_row(made: Rows, row: Bound, system: str, index: str, fields: str) -> str:
    """A row with its remove button, folded to its line; a new one ("#") comes unfolded."""
    unfolded = " open" if index == "#" else ""
    return (
        f'<details class="row folded" data-row{unfolded}>'
        f'<summary data-slot="row.{escape(made.name, quote=True)}.{index}">'
        f'{row_line(made, row, system)}</summary><div class="fields">{fields}</div>'
        f'<button type="button" class="quiet" data-remove-row>{worded("Remove this {one}", one=escape(spoken(made.one)))}</button>'
        "</details>"
    )


def row_line(made: Rows, row: Bound, system: str) -> str:
    """A row in a line: its name or first day, what its first fields say, and whether something in
    it is wrong."""
    name, *rest = row.asks.fields.values()
    first = row.values.get(name.name)
    title = name.shown(first, system) if first else spoken("a new {one}", one=spoken(made.one))
    told = [
        field.shown(row.values[field.name], system)
        for field in rest[:3]
        if isinstance(field, (Quantity, Text, Date)) and row.values.get(field.name)
    ]
    fault = f' <span class="fault">{worded("needs mending")}</span>' if row.faults else ""
    return f"<b>{escape(title)}</b> <span>{escape(', '.join(told[:2]))}</span>{fault}"
