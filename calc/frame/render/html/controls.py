"""The controls of a form, and what they show."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import escape

from ... import units
from ...inputs import (
    NONE_LISTED,
    NOT_KNOWN,
    TYPED,
    Bound,
    Choice,
    Date,
    Field,
    Log,
    Presence,
    Quantity,
    Record,
    Text,
    Whole,
    YesNo,
)
from ...language import spoken
from ..choices import option
from ..log_tools import log_tools
from ..spaces import named, said, worded
from .parts import words


def blank_control(made: Field, bound: Bound, system: str, attributes: str, name: str) -> str:
    """A control that is empty unless the reader filled it in; the example stands as a hint."""
    if bound.origin(made.name) == TYPED:
        return filled_control(made, bound, system, attributes, name)
    if isinstance(made, (Choice, Record, YesNo)):
        told = _choices_of(made, bound)
        unsaid = {"": "— not said —"}
        others = {NONE_LISTED: told.pop("")} if "" in told else {}
        options = _options(unsaid | told | others, "", system, word_slots(made, name))
        return _select(made, len(told), attributes, options)
    if isinstance(made, Log):
        return _log_control(made, bound, attributes, "")
    number, unit = control_text(made, bound, system)
    hint = f'{attributes} placeholder="{escape(number, quote=True)}"'
    if isinstance(made, Quantity):
        return (
            '<span class="control"><input inputmode="decimal" '
            f"{hint}>{_unit_select(made, unit, name)}</span>"
        )
    if isinstance(made, Date):
        return f'<input type="date" {hint}>'
    keyboard = 'inputmode="numeric" ' if isinstance(made, Whole) else ""
    return f"<input {keyboard}{hint}>"


def filled_control(made: Field, bound: Bound, system: str, attributes: str, name: str) -> str:
    """A field's control with what stands in it."""
    if isinstance(made, Quantity):
        number, unit = control_text(made, bound, system)
        return (
            f'<span class="control"><input inputmode="decimal" '
            f'{attributes} value="{escape(number, quote=True)}">{_unit_select(made, unit, name)}</span>'
        )
    now = control_text(made, bound, system)[0]
    value = escape(now, quote=True)
    if isinstance(made, Whole):
        return f'<input inputmode="numeric" {attributes} value="{value}">'
    if isinstance(made, (Choice, Record, YesNo)):
        choices = _choices_of(made, bound)
        # What a boat of one's own has not said shows as nothing.
        nothing = "" if "" in choices else '<option value="" hidden></option>'
        options = nothing + _options(choices, now, system, word_slots(made, name))
        return _select(made, len(choices), attributes, options)
    if isinstance(made, Date):
        today = " data-today" if made.today else ""
        return f'<input type="date" {attributes}{today} value="{value}">'
    if isinstance(made, Log):
        return _log_control(made, bound, attributes, now)
    assert isinstance(made, Text)
    return f'<input maxlength="{made.longest * 2}" {attributes} value="{value}">'


LONG_LIST = 30  # choices; more records than that are searched by typing


def _select(made: Field, count: int, attributes: str, options: str) -> str:
    """A list of choices; over a long one of records stands a box whose words narrow it.

    The box has no name, as it holds nothing of the form, and does nothing until a script has it.
    """
    plain = f"<select {attributes}>{options}</select>"
    if not isinstance(made, Record) or count <= LONG_LIST:
        return plain
    return (
        '<span class="chooser"><input type="search" data-narrow disabled '
        f'spellcheck="false" maxlength="80" placeholder="{named("Search {n} by name", n=str(count))}" '
        f'aria-label="{named("Search in {label}", label=spoken(made.label))}">{plain}'
        '<span class="chooser-told" role="status"></span></span>'
    )


def _choices_of(made: Choice | Record | YesNo, bound: Bound) -> dict[str, str]:
    if isinstance(made, YesNo):
        unsure = [NOT_KNOWN] if isinstance(made, Presence) else []
        return {word: word for word in ("yes", "no", *unsure)}
    return made.choices(bound.shelves) if isinstance(made, Record) else made.choices


def _log_control(made: Log, bound: Bound, attributes: str, now: str) -> str:
    """A log: the tools for it, and its text, folded away."""
    ident = re.findall(r'id="([^"]*)"', attributes)[0]
    tasks = [str(row.values.get("name") or "") for row in bound.rows.get(made.jobs, [])]
    return (
        f"{log_tools(ident, made.book, [task for task in tasks if task])}"
        f'<details class="log-text" data-key="{ident}-text"><summary>{worded("The log, line by line")}</summary>'
        f'<textarea rows="8" spellcheck="false" {attributes}>\n{escape(now)}'
        "</textarea></details>"
    )


def wordings(made: Field) -> dict[str, str]:
    """Those words of a field, by where they stand, that read otherwise in other units."""
    found = {"label": made.label, "help": made.help}
    if isinstance(made, Choice):
        found |= {f"choice-{key}": label for key, label in made.choices.items()}
    return {place: text for place, text in found.items() if units.in_system(text, "us") != text}


def word_slots(made: Field, name: str) -> Callable[[str], str]:
    """The mark of a place whose words change with the units, or nothing."""
    changing = wordings(made)

    def slot(place: str) -> str:
        marked = escape(f"{place}.{name}", quote=True)
        return f' data-slot="{marked}"' if place in changing else ""

    return slot


def _options(choices: dict[str, str], now: str, system: str, slot: Callable[[str], str]) -> str:
    return "".join(
        option(key, words(label, system), selected=key == now, marks=slot(f"choice-{key}"))
        for key, label in choices.items()
    )


def _unit_select(made: Quantity, unit: str, name: str) -> str:
    symbols = units.KINDS[made.kind].units
    if len(symbols) == 1:
        return f'<span class="unit">{said(units.pretty(unit))}</span>'
    options = "".join(option(s, said(units.pretty(s) or "×"), selected=s == unit) for s in symbols)
    return (
        f'<select name="{escape(name, quote=True)}.unit" '
        f'aria-label="{named("unit of {label}", label=spoken(made.label))}">{options}</select>'
    )


def control_text(made: Field, bound: Bound, system: str) -> tuple[str, str]:
    """What the controls of a field show: (number or text, unit symbol)."""
    raw = str(bound.texts.get(made.name, ""))
    typed = made.tidy(raw)
    value = bound.values.get(made.name)
    if made.name in bound.lacking:
        return "", units.shown_unit(made.unit, system) if isinstance(made, Quantity) else ""
    if isinstance(made, Presence) and bound.unknown(made.name):
        return NOT_KNOWN, ""
    outgrown = made.name in bound.outgrown and bound.origin(made.name) != TYPED
    if outgrown or (isinstance(made, Record) and typed == NONE_LISTED):
        return "", ""
    if isinstance(made, Log):  # as it was written, foreign columns and all
        return typed, ""
    if not isinstance(made, Quantity):
        return (typed if value is None else made.write(value, system)), ""
    shown = units.shown_unit(made.unit, system)
    if value is None:  # it could not be read; the unit it ends with still belongs beside it
        unit = next((u for u in units.KINDS[made.kind].units if u and raw.endswith(f" {u}")), "")
        return (raw.removesuffix(f" {unit}"), unit) if unit else (typed, shown)
    own = _unit_written(made, typed)
    if bound.origin(made.name) == TYPED and made.name in bound.taken:
        return typed, made.unit
    if bound.origin(made.name) == TYPED and own in units.KINDS[made.kind].units:
        return units.typed_text(value, own, made.kind), own
    digits = AS_WRITTEN if own == shown else CONVERTED
    return units.typed_text(value, shown, made.kind, digits), shown


AS_WRITTEN, CONVERTED = 6, 4  # digits in a box


def _unit_written(made: Quantity, typed: str) -> str:
    """The unit a field's text is in; where it tells none, the field's own."""
    try:
        rest = units.split_number(typed)[1]
        return units.find_unit(rest, made.kind).symbol if rest else made.unit
    except units.UnitError:
        return made.unit
