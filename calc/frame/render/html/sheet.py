"""The boat sheet and the start: their forms, and their places on a page."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from html import escape

from ...guide import Guide, Question
from ...inputs import TYPED, Bound, Field
from ...language import spoken
from .. import tools
from ..spaces import named, said, worded
from .form import field_html, group_line
from .parts import engine_status, stale


def sheet_questions(questions: Sequence[Question], bound: Bound, system: str, prefix: str) -> str:
    """The questions that one begins with, each with the few fields that take its answer."""
    fields = bound.asks.fields
    return "".join(
        f'<fieldset class="question"><legend>{said(spoken(one.title))}</legend>'
        + (f'<p class="help">{said(spoken(one.note))}</p>' if one.note else "")
        + '<div class="fields">'
        + "".join(field_html(fields[f], bound, system, prefix, blank=True) for f in one.fields)
        + "</div></fieldset>"
        for one in questions
    )


def sheet_form(guide: Guide, bound: Bound, system: str, prefix: str) -> str:
    """The form of the boat sheet: what decides first, then the rest folded by subject, each with why
    it is asked; empty where the reader has said nothing."""
    parts = [sheet_questions(guide.questions, bound, system, prefix)]
    for group, members in sheet_groups(guide).items():
        name = escape(group, quote=True)
        parts.append(
            f'<details class="group" data-key="sheet-{name}"><summary>'
            f'<span class="group-name">{worded(group)}</span> <span class="group-now" '
            f'data-slot="group.{name}">{sheet_group_line(guide, group, bound, system)}</span>'
            f'</summary><p class="help">{said(spoken(guide.why.get(group, "")))}</p><div class="fields">'
            + "".join(field_html(f, bound, system, prefix, blank=True) for f in members)
            + "</div></details>"
        )
    return "".join(parts)


@lru_cache(maxsize=4)  # asked for each group of each answer
def sheet_groups(guide: Guide) -> dict[str, list[Field]]:
    """The folded groups of the boat sheet and their fields: all that is neither a question to begin
    with nor on a page of its own."""
    elsewhere = {name for one in (*guide.questions, *guide.apart) for name in one.fields}
    found: dict[str, list[Field]] = {}
    for name, made in guide.sheet.fields.items():
        if name not in elsewhere:
            found.setdefault(made.group or "The boat", []).append(made)
    return found


def sheet_group_line(guide: Guide, group: str, bound: Bound, system: str) -> str:
    """What the reader has said in a folded group, in one line; before that, why it is asked."""
    members = sheet_groups(guide)[group]
    told = [made for made in members if bound.origin(made.name) == TYPED]
    if not told:
        return said(spoken(guide.why.get(group, "") or "nothing said yet"))
    return worded(
        "{n} of {all} said: {values}",
        n=str(len(told)),
        all=str(len(members)),
        values=group_line(told, bound, system),
    )


def sheet_page(form: str, dashboard: str, pages_json: str, sheet_address: str) -> str:
    """The boat sheet in its place on a page: its form, what it already answers, and its files."""
    return (
        f"{_sheet_section(pages_json, sheet_address, 'sheet', 'Boat sheet')}"
        f'<form class="sheet-form" data-search-exclude novalidate autocomplete="off">{form}'
        f'<p class="form-actions">{engine_status("sheet-")}</p></form>'
        f"{_sheet_answers(dashboard, 'What your boat can answer so far')}"
        f"{tools.boat_sheet()}</section>"
    )


def start_page(form: str, dashboard: str, pages_json: str, sheet_address: str) -> str:
    """The start: the few questions, and in one screen what their answers settle."""
    more = (
        f'<p><a href="{escape(sheet_address, quote=True)}">{worded("All about your boat")}</a></p>'
    )
    return (
        f"{_sheet_section(pages_json, sheet_address, 'sheet start', 'Your boat, in five questions')}"
        f'<form class="sheet-form" data-search-exclude novalidate autocomplete="off">{form}'
        f'<p class="form-actions">{engine_status("sheet-")}</p></form>'
        f"{_sheet_answers(dashboard, 'Your boat so far', more)}</section>"
    )


def apart_page(form: str, dashboard: str, pages_json: str, sheet_address: str) -> str:
    """What has a page of its own, and what the answers that hang on it say."""
    more = (
        f'<p><a href="{escape(sheet_address, quote=True)}">{worded("All about your boat")}</a></p>'
    )
    return (
        f"{_sheet_section(pages_json, sheet_address, 'sheet apart', 'Log and tasks')}"
        f'<form class="sheet-form" data-search-exclude novalidate autocomplete="off">{form}'
        f'<p class="form-actions">{engine_status("sheet-")}</p></form>'
        f"{_sheet_answers(dashboard, 'What hangs on it', more)}{tools.said()}</section>"
    )


def _sheet_section(pages_json: str, sheet_address: str, kind: str, label: str) -> str:
    return (
        f'<section class="{kind}" data-sheet data-prefix="sheet-" '
        f'data-sheet-page="{escape(sheet_address, quote=True)}" '
        f'data-pages="{escape(pages_json, quote=True)}" aria-label="{named(label)}">'
    )


def _sheet_answers(dashboard: str, title: str, more: str = "") -> str:
    return (
        f'<article class="sheet-answers" data-search-exclude><h2>{said(spoken(title))}</h2>'
        f"{stale('sheet-')}"
        f'<div data-slot="dashboard">{dashboard}</div>{more}</article>'
    )
