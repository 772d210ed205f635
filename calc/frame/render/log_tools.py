"""The tools of a log's field: a line to add, a file to merge or to save. They need JavaScript."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from ..log import DONE, READING, REPLACED

_ENTRIES = {
    READING: "a reading of the hour meter",
    DONE: "a job that is done",
    REPLACED: "the hour meter was replaced",
}


def log_tools(ident: str, tasks: Sequence[str]) -> str:
    """The tools; `ident` is that of the field, `tasks` are the names to choose from."""
    names = "".join(f'<option value="{escape(task, quote=True)}"></option>' for task in tasks)
    entries = "".join(f'<option value="{key}">{label}</option>' for key, label in _ENTRIES.items())
    cells = "".join(
        f'<label class="log-{name}"><span>{label}</span>{control}</label>'
        for name, label, control in (
            ("date", "Date", '<input type="date" data-log-cell="date">'),
            ("entry", "What", f'<select data-log-cell="entry">{entries}</select>'),
            (
                "hours",
                "Hours it reads",
                '<input type="text" inputmode="decimal" autocomplete="off" data-log-cell="hours">',
            ),
            (
                "task",
                "Job",
                f'<input type="text" autocomplete="off" list="{ident}-tasks" data-log-cell="task">',
            ),
            (
                "note",
                "Note",
                '<input type="text" autocomplete="off" maxlength="200" data-log-cell="note">',
            ),
        )
    )
    return (
        f'<div class="log-tools" data-log-tools hidden><fieldset><legend>Add a line</legend>{cells}'
        f'<datalist id="{ident}-tasks">{names}</datalist>'
        '<button type="button" value="add">Add it to the log</button></fieldset>'
        '<p><button type="button" class="quiet" value="open">Open or merge a file</button> '
        '<button type="button" class="quiet" value="csv">Save as CSV</button> '
        '<button type="button" class="quiet" value="json">Save as JSON</button></p>'
        '<input type="file" hidden data-log-file accept=".csv,.txt,.json,text/csv,application/json" '
        'aria-label="A log to merge">'
        '<p class="log-said" data-log-said role="status"></p></div>'
    )
