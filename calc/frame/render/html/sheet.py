"""The boat sheet and the start: their forms, and their places on a page."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from ...guide import Question
from ...inputs import TYPED, Bound, Field, Inputs
from .. import tools
from ..spaces import said
from .form import field_html, group_line
from .parts import engine_status, stale


def sheet_questions(questions: Sequence[Question], bound: Bound, system: str, prefix: str) -> str:
    """The questions that one begins with, each with the few fields that take its answer."""
    fields = bound.asks.fields
    return "".join(
        f'<fieldset class="question"><legend>{said(one.title)}</legend>'
        + (f'<p class="help">{said(one.note)}</p>' if one.note else "")
        + '<div class="fields">'
        + "".join(field_html(fields[f], bound, system, prefix, blank=True) for f in one.fields)
        + "</div></fieldset>"
        for one in questions
    )


def sheet_form(questions: Sequence[Question], bound: Bound, system: str, prefix: str) -> str:
    """The form of the boat sheet: what decides first, then the rest folded by subject; empty where
    the reader has said nothing."""
    first = {name for one in questions for name in one.fields}
    parts = [sheet_questions(questions, bound, system, prefix)]
    for group, members in sheet_groups(bound.asks).items():
        rest = [made for made in members if made.name not in first]
        name = escape(group, quote=True)
        if rest:
            parts.append(
                f'<details class="group" data-key="sheet-{name}"><summary>'
                f'<span class="group-name">{name}</span> <span class="group-now" '
                f'data-slot="group.{name}">{sheet_group_line(rest, bound, system)}</span></summary>'
                '<div class="fields">'
                + "".join(field_html(f, bound, system, prefix, blank=True) for f in rest)
                + "</div></details>"
            )
    return "".join(parts)


def sheet_groups(asks: type[Inputs]) -> dict[str, list[Field]]:
    """The groups of the boat sheet and their fields."""
    found: dict[str, list[Field]] = {}
    for made in asks.fields.values():
        found.setdefault(made.group or "The boat", []).append(made)
    return found


def sheet_group_line(members: Sequence[Field], bound: Bound, system: str) -> str:
    """What the reader has said in a folded group, in one line."""
    said = [made for made in members if bound.origin(made.name) == TYPED]
    if not said:
        return "nothing said yet"
    return f"{len(said)} of {len(members)} said: {group_line(said, bound, system)}"


def sheet_page(form: str, dashboard: str, pages_json: str, sheet_address: str) -> str:
    """The boat sheet in its place on a page: its form, what it already answers, and its files."""
    return (
        f"{_sheet_section(pages_json, sheet_address, 'sheet', 'Boat sheet')}"
        f'<form class="sheet-form" data-search-exclude novalidate>{form}'
        f'<p class="form-actions">{engine_status("sheet-")}</p></form>'
        f"{_sheet_answers(dashboard, 'What your boat can answer so far')}"
        f"{tools.boat_sheet()}</section>"
    )


def start_page(form: str, dashboard: str, pages_json: str, sheet_address: str) -> str:
    """The start: the few questions, and in one screen what their answers settle."""
    more = f'<p><a href="{escape(sheet_address, quote=True)}">All about your boat</a></p>'
    return (
        f"{_sheet_section(pages_json, sheet_address, 'sheet start', 'Your boat, in five questions')}"
        f'<form class="sheet-form" data-search-exclude novalidate>{form}'
        f'<p class="form-actions">{engine_status("sheet-")}</p></form>'
        f"{_sheet_answers(dashboard, 'Your boat so far', more)}</section>"
    )


def _sheet_section(pages_json: str, sheet_address: str, kind: str, label: str) -> str:
    return (
        f'<section class="{kind}" data-sheet data-prefix="sheet-" '
        f'data-sheet-page="{escape(sheet_address, quote=True)}" '
        f'data-pages="{escape(pages_json, quote=True)}" aria-label="{escape(label, quote=True)}">'
    )


def _sheet_answers(dashboard: str, title: str, more: str = "") -> str:
    return (
        f'<article class="sheet-answers" data-search-exclude><h2>{said(title)}</h2>'
        f"{stale('sheet-')}"
        f'<div data-slot="dashboard">{dashboard}</div>{more}</article>'
    )
