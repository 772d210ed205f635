"""Forms and answers as HTML: built into pages, sent to the browser, printed on cards.

Everything a reader typed passes through `escape`. Parts that a page exchanges without reloading
carry `data-slot`; the page's script puts new HTML there and knows nothing else.
"""

from .answer import (
    FEW_WAYS,
    REST,
    answer,
    answer_parts,
    cautions,
    faults,
    joined,
    questions,
    report,
)
from .controls import control_text, wordings
from .form import blank_row, form, group_line, groups, row_html
from .notes import field_note, rows_note, sheet_note
from .page import calculator, link_notice
from .parts import LINKED, YOURS, shape, stale, words
from .sheet import (
    apart_page,
    sheet_form,
    sheet_group_line,
    sheet_groups,
    sheet_page,
    sheet_questions,
    start_page,
)
from .tables import MANY_COLUMNS

__all__ = [
    "FEW_WAYS",
    "LINKED",
    "MANY_COLUMNS",
    "REST",
    "YOURS",
    "answer",
    "answer_parts",
    "apart_page",
    "blank_row",
    "calculator",
    "cautions",
    "control_text",
    "faults",
    "field_note",
    "form",
    "group_line",
    "groups",
    "joined",
    "link_notice",
    "questions",
    "report",
    "row_html",
    "rows_note",
    "shape",
    "sheet_form",
    "sheet_group_line",
    "sheet_groups",
    "sheet_note",
    "sheet_page",
    "sheet_questions",
    "stale",
    "start_page",
    "wordings",
    "words",
]
