"""The tools of a log's field: a line to add, a file to merge or to save. They need JavaScript."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Any

from .. import units
from ..book import Book
from ..columns import Column, Day, Hours, Measure, OneOf, Words
from ..language import spoken
from .choices import option
from .spaces import named, worded

_TYPED = '<input inputmode="decimal" '


def log_tools(ident: str, book: Book[Any], listed: Sequence[str]) -> str:
    """The tools; `ident` is that of the field, `listed` are names to choose from."""
    cells = "".join(
        f'<label class="log-{one.name}"><span>{escape(spoken(one.label))}</span>{_cell(ident, one)}</label>'
        for one in book.columns
    )
    names = "".join(f'<option value="{escape(name, quote=True)}"></option>' for name in listed)
    if any(isinstance(one, Words) and one.listed for one in book.columns):
        cells += f'<datalist id="{ident}-tasks">{names}</datalist>'
    return (
        f'<div class="log-tools" data-log-tools hidden><fieldset><legend>{worded("Add a line")}</legend>{cells}'
        f'<button type="button" value="add">{worded("Add it to the log")}</button></fieldset>'
        f'<p><button type="button" class="quiet" value="open">{worded("Open or merge a file")}</button> '
        f'<button type="button" class="quiet" value="csv">{worded("Save as CSV")}</button> '
        f'<button type="button" class="quiet" value="json">{worded("Save as JSON")}</button></p>'
        '<input type="file" hidden data-log-file accept=".csv,.txt,.json,text/csv,application/json" '
        f'aria-label="{named("A log to merge")}">'
        '<p class="log-said" data-log-said role="status"></p></div>'
    )


def _cell(ident: str, column: Column) -> str:
    """The control of a column."""
    named = f'data-log-cell="{column.name}"'
    if isinstance(column, Day):
        return f'<input type="date" {named}>'
    if isinstance(column, OneOf):
        options = "".join(
            option(key, escape(spoken(label))) for key, label in column.choices.items()
        )
        return f"<select {named}>{options}</select>"
    if isinstance(column, Hours):
        return f"{_TYPED}{named}>"
    if isinstance(column, Measure):
        return f'<span class="control">{_TYPED}{named}>{_units(column)}</span>'
    more = f'list="{ident}-tasks" ' if isinstance(column, Words) and column.listed else ""
    if isinstance(column, Words) and column.longest:
        more += f'maxlength="{column.longest}" '
    return f"<input {more}{named}>"


def _units(column: Measure) -> str:
    symbols = units.KINDS[column.kind].units
    if len(symbols) == 1:
        return f'<span class="unit">{escape(units.pretty(column.unit))}</span>'
    options = "".join(
        option(one, escape(units.pretty(one)), selected=one == column.unit) for one in symbols
    )
    twin = units.shown_unit(column.unit, "us")
    other = (
        f'data-metric="{escape(column.unit, quote=True)}" data-us="{escape(twin, quote=True)}" '
        if twin != column.unit and twin in symbols
        else ""
    )
    return (
        f'<select {other}data-log-cell="{column.name}.unit" '
        f'aria-label="{named("unit of {label}", label=spoken(column.label))}">{options}</select>'
    )
