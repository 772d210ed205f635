"""Tables of many columns in a page's text: each cell learns its column's name.

Phones set such a table as blocks, each cell under that name, as they do with an answer's tables
(docs/assets/css/page.css). The roles are written out, because the setting would lose them.
"""

from __future__ import annotations

import re
from html import escape, unescape

from calc.frame.render.html import MANY_COLUMNS

PLAIN = "data-plain"  # what other tables of a page's text bear
_TABLE = re.compile(r"<table>.*?</table>", re.DOTALL)
_HEAD = re.compile(r"<th(?: [^>]*)?>(.*?)</th>", re.DOTALL)
_ROW = re.compile(r"<tr>.*?</tr>", re.DOTALL)
_CELL = re.compile(r"<td( [^>]*)?>")
_TAG = re.compile(r"<[^>]+>")


def label_cells(content: str) -> str:
    """HTML out of Markdown with its tables of more than `MANY_COLUMNS` columns labelled, the others
    marked `PLAIN`."""
    return _TABLE.sub(lambda found: _labelled(found[0]), content)


def _labelled(table: str) -> str:
    heads = [escape(unescape(_TAG.sub("", h)).strip(), quote=True) for h in _HEAD.findall(table)]
    if len(heads) <= MANY_COLUMNS:
        return table.replace("<table>", f"<table {PLAIN}>", 1)
    table = _ROW.sub(lambda row: _row(row[0], heads), table)
    table = table.replace("<table>", '<table class="prose many" role="table">', 1)
    for group in ("thead", "tbody"):
        table = table.replace(f"<{group}>", f'<{group} role="rowgroup">')
    return re.sub(r"<th(?=[ >])", '<th role="columnheader"', table)


def _row(row: str, heads: list[str]) -> str:
    names = iter(heads)

    def cell(found: re.Match[str]) -> str:
        return f'<td role="cell" data-column="{next(names, "")}"{found[1] or ""}>'

    return _CELL.sub(cell, row).replace("<tr>", '<tr role="row">', 1)
