"""Tables, as a desk and as a phone want them."""

from __future__ import annotations

from html import escape

from ...report import Amount, Line, Table, say
from ..spaces import said
from .parts import shape, words

MANY_COLUMNS = 4  # more do not stand side by side on a phone
LONG_TEXT = 30  # characters; a column of more asks for a phone's whole width

SHORT_HEAD = 12  # characters


def _cell(cell: Amount | Line | str, column: str, system: str, long: bool) -> str:
    head = escape(column, quote=True)
    if isinstance(cell, Amount):
        return f'<td role="cell" class="num" data-column="{head}">{said(cell.text(system))}</td>'
    kind = ' class="long"' if long else ""
    return f'<td role="cell"{kind} data-column="{head}">{words(cell, system)}</td>'


def _cell_text(cell: Amount | Line | str, system: str) -> str:
    return cell if isinstance(cell, str) else cell.text(system)


def _long_columns(made: Table, system: str) -> list[bool]:
    """Which columns hold long texts."""
    return [
        any(
            not isinstance(row[place], Amount) and len(_cell_text(row[place], system)) > LONG_TEXT
            for row in made.rows
        )
        for place in range(len(made.columns))
    ]


def _size(made: Table) -> str:
    """How a table is set on a phone: as it is; or, with many columns, still as a table to compare
    by, which scrolls under the names of its rows: a grid where its cells are bare numbers."""
    if made.steps:
        return "plain steps"
    if made.at_once:
        return "plain verdicts"
    if len(made.columns) <= MANY_COLUMNS:
        return "plain"
    cells = [cell for row in made.rows for cell in row[1:]]
    bare = all(
        not c.unit if isinstance(c, Amount) else not any(map(str.isalpha, say(c))) for c in cells
    )
    return "plain grid" if cells and bare else "plain wide"


def _head_class(name: str, number: bool) -> str:
    """A short head stays in one line: where it just fits, a browser leaves room for two."""
    return ("num" if number else "words") + (" short" if len(name) <= SHORT_HEAD else "")


def table(made: Table, system: str) -> str:
    """A table; what its classes mean on a phone is told by `_size` and `_cell`."""
    longs, title = _long_columns(made, system), say(made.title, system)
    columns = [say(c, system) for c in made.columns]
    numbers = [bool(made.rows) and isinstance(c, Amount) for c in (made.rows or [columns])[0]]
    heads = "".join(
        f'<th scope="col" role="columnheader" class="{_head_class(c, number)}">{said(c)}</th>'
        for c, number in zip(columns, numbers, strict=True)
    )
    body = ""
    for index, row in enumerate(made.rows):
        state = made.states[index] if made.states else ""
        first = row[0] if isinstance(row[0], (str, Line)) else row[0].text(system)
        sign = shape(state) if state else ""
        cells = "".join(
            _cell(c, h, system, long)
            for c, h, long in zip(row[1:], columns[1:], longs[1:], strict=True)
        )
        kind = f' class="state-{state}"' if state else ""
        body += (
            f'<tr{kind} role="row"><th scope="row" role="rowheader">{sign}{words(first, system)}</th>'
            f"{cells}</tr>"
        )
    note = f'<p class="note">{words(made.note, system)}</p>' if made.note else ""
    return (
        f'<div class="table-scroll" tabindex="0" role="group" aria-label="{escape(title, quote=True)}">'
        f'<table class="{_size(made)}" role="table" data-table="{escape(made.key)}">'
        f"<caption>{said(title)}</caption>"
        f'<thead role="rowgroup"><tr role="row">{heads}</tr></thead>'
        f'<tbody role="rowgroup">{body}</tbody></table></div>{note}'
    )
