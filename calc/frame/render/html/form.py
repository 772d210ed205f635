"""The form of a calculator and the fields of any form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from html import escape

from ...guide import Calculator
from ...inputs import Bound, Choice, Field, Inputs, Quantity, Record, Rows, bind
from ...language import spoken
from .. import tools
from ..folded import folded_row
from ..spaces import said, worded
from .controls import blank_control, filled_control, word_slots
from .notes import field_note, rows_note, sheet_note
from .parts import id_of, words


def form(calculator: Calculator, bound: Bound, system: str = "metric", prefix: str = "") -> str:
    """The form of a calculator, filled in: the fields that decide, then the others by group."""
    asks = calculator.asks
    first = [f for f in asks.fields.values() if f.open]
    rest = [f for f in asks.fields.values() if not f.open]
    groups = list(dict.fromkeys(f.group or "More" for f in rest))
    parts = [
        '<div class="fields">',
        *(field_html(f, bound, system, prefix) for f in first),
        "</div>",
    ]
    for group in groups:
        members = [f for f in rest if (f.group or "More") == group]
        parts.append(
            f'<details class="group" data-key="group-{escape(group, quote=True)}"><summary>'
            f'<span class="group-name">{said(spoken(group))}</span> '
            f'<span class="group-now" data-slot="group.{escape(group, quote=True)}">'
            f'{group_line(members, bound, system)}</span></summary><div class="fields">'
            + "".join(field_html(f, bound, system, prefix) for f in members)
            + "</div></details>"
        )
    return "".join(parts)


def groups(asks: type[Inputs]) -> Mapping[str, Sequence[Field]]:
    """The folded groups of a form and their fields."""
    return _groups(asks)  # type: ignore[arg-type]  # classes hash


@lru_cache(maxsize=64)
def _groups(asks: type[Inputs]) -> Mapping[str, Sequence[Field]]:
    found: dict[str, list[Field]] = {}
    for made in asks.fields.values():
        if not made.open:
            found.setdefault(made.group or "More", []).append(made)
    return found


def group_line(members: Sequence[Field], bound: Bound, system: str) -> str:
    """What a folded group is set to, in one line."""
    told = []
    for made in members:
        if not bound.asked(made.name):
            continue
        if isinstance(made, Rows):
            told.append(f"{len(bound.values.get(made.name, ()))} × {spoken(made.one)}")
            continue
        value = bound.values.get(made.name)
        if value is None and not isinstance(made, Record):
            continue
        between = " " if isinstance(made, Quantity) else ": "
        told.append(f"{spoken(made.label)}{between}{bound.shown(made.name, system)}")
    if len(told) <= FEW_TOLD:
        return said(" · ".join(told))
    few, rest = " · ".join(told[:FEW_TOLD]), " · ".join(told[FEW_TOLD:])
    return (
        f'{said(few)}<span class="group-more" aria-hidden="true"> …</span>'
        f'<span class="group-rest"> · {said(rest)}</span>'
    )


FEW_TOLD = 4  # values of a folded group; paper has them all


def field_html(
    made: Field, bound: Bound, system: str, prefix: str, name: str = "", blank: bool = False
) -> str:
    """A field with label, control and note; `blank` leaves empty what the reader has not filled in."""
    name = name or made.name
    if isinstance(made, Rows):
        return _rows_field(made, bound, system, prefix, blank)
    ident = id_of(prefix, name)
    hidden = "" if bound.asked(made.name) else " hidden"
    slot = word_slots(made, name)
    label = f'<label for="{ident}"{slot("label")}>{words(made.label, system)}</label>'
    told = f"{slot('help')}>{words(made.help, system)}"
    help_text = f'<p class="help" id="{ident}-help"{told}</p>' if made.help else ""
    described = f"{ident}-note" + (f" {ident}-help" if made.help else "")
    invalid = ' aria-invalid="true"' if bound.faults_of(made.name) else ""
    attributes = (
        f'id="{ident}" name="{escape(name, quote=True)}" aria-describedby="{described}"{invalid}'
    )
    if blank:
        attributes += " data-blank"
        control = blank_control(made, bound, system, attributes, name)
        note = sheet_note(made, bound, system)
    else:
        control = filled_control(made, bound, system, attributes, name)
        note = field_note(made, bound, system)
    return (
        f'<div class="field field-{type(made).__name__.lower()}{_long(made)}" data-field="{escape(name, quote=True)}"{_shared(name, bound)}{hidden}>'
        f"{label}{control}{help_text}"
        f'<p class="field-note" id="{ident}-note" data-slot="field.{escape(name, quote=True)}">'
        f"{note}</p></div>"
    )


LONG_CHOICE = 22  # characters; more want the whole width of the form


def _long(made: Field) -> str:
    longest = max(map(len, map(spoken, made.choices.values()))) if isinstance(made, Choice) else 0
    return " field-long" if longest > LONG_CHOICE else ""


def _shared(name: str, bound: Bound) -> str:
    """The mark of a field whose value belongs to the boat and not to one page."""
    return " data-shared" if name in bound.shared else ""


def _rows_field(made: Rows, bound: Bound, system: str, prefix: str, blank: bool) -> str:
    """A list; in a `blank` form it can be taken back as a whole."""
    hidden = "" if bound.asked(made.name) else " hidden"
    body = "".join(
        row_html(made, row, system, prefix, str(i))
        for i, row in enumerate(bound.rows.get(made.name, []))
    )
    fresh = row_html(made, blank_row(made), system, prefix, "#")
    note = words(made.help, system)
    name = escape(made.name, quote=True)
    unsay = tools.unsay(made.label) if blank else ""
    return (
        f'<fieldset class="field rows" id="{id_of(prefix, made.name)}" data-field="{name}" '
        f'data-rows="{name}"{_shared(made.name, bound)}{hidden}><legend>{said(spoken(made.label))}</legend>'
        f'<p class="help">{note}</p><div data-row-list>{body}</div>'
        f"<template data-row-template>{fresh}</template>"
        f'<button type="button" class="quiet" data-add-row>{worded("Add a {one}", one=said(spoken(made.one)))}</button>{unsay}'
        f'<p class="field-note" data-slot="field.{name}">{rows_note(made, bound)}</p></fieldset>'
    )


def blank_row(made: Rows) -> Bound:
    """The row that "add" starts with: its fields' defaults."""
    return bind(made.row)


def row_html(made: Rows, row: Bound, system: str, prefix: str, index: str) -> str:
    """One row of a list with its remove button."""
    fields = "".join(
        field_html(f, row, system, prefix, f"{made.name}.{index}.{f.name}")
        for f in made.row.fields.values()
    )
    if made.folded:
        return folded_row(made, row, system, index, fields)
    return (
        f'<div class="row" data-row><div class="fields">{fields}</div>'
        f'<button type="button" class="quiet" data-remove-row>{worded("Remove this {one}", one=said(spoken(made.one)))}</button></div>'
    )
