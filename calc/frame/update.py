"""What the values of a form change on its page beside the answer: controls, their notes, marks."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from . import language
from .guide import Calculator, Outcome
from .inputs import NONE_LISTED, SHEET, TYPED, Bound, Field, Quantity, Record, Rows
from .language import spoken
from .render import html
from .render.folded import row_line
from .units import decimal_mark, money


def page_update(
    made: Calculator,
    outcome: Outcome,
    system: str,
    prefix: str,
    typed_too: bool = False,
    linked: frozenset[str] = frozenset(),
) -> dict[str, Any]:
    """Everything on the page that the values of a form change."""
    update = form_update(made, outcome.bound, system, typed_too, linked)
    update["slots"]["answer"] = html.answer(outcome, system, prefix)
    return {**update, "hidden": hidden(outcome.bound)}


def form_update(
    made: Calculator, bound: Bound, system: str, typed_too: bool, linked: frozenset[str]
) -> dict[str, Any]:
    """What the values of a form change in it; see `Update.controls`."""
    update = Update(system, {}, typed_too, linked)
    for group, members in html.groups(made.asks).items():
        update.add_group(bound, group, members)
    for name, asked in made.asks.fields.items():
        if isinstance(asked, Rows):
            update.add_rows(bound, name)
        else:
            update.add(bound, name, name)
    return update.controls()


def hidden(bound: Bound) -> list[str]:
    """The fields that are not asked now."""
    return [name for name in bound.asks.fields if not bound.asked(name)]


@dataclass
class Update:
    """What changes at the controls of a form; `typed_too` also where the reader has typed.

    Of the typed fields those that are `linked` came with a link.
    """

    system: str
    slots: dict[str, str]
    typed_too: bool = False
    linked: frozenset[str] = frozenset()
    values: dict[str, str] = field(default_factory=dict)
    settled: dict[str, str] = field(default_factory=dict)
    attributes: dict[str, dict[str, str | None]] = field(default_factory=dict)

    def controls(self) -> dict[str, Any]:
        """`settled`: what controls that the reader has typed into say better once they are left."""
        return {
            "slots": self.slots,
            "values": self.values,
            "settled": self.settled,
            "attributes": self.attributes,
        }

    def add(self, bound: Bound, name: str, control: str) -> None:
        """A field's note, its fault, and the text of its control."""
        self._add(bound, name, control, Update._make)

    def add_of_sheet(self, bound: Bound, name: str) -> None:
        """A field of the boat sheet: empty, with the example as a hint, where nothing is said."""
        of_record = bound.origin(bound.holder(name))  # what fills it in may be hers, or not
        self._add(bound, name, name, Update._make_of_sheet, of_record)

    def add_group(self, bound: Bound, group: str, members: Sequence[Field]) -> None:
        """What a folded group is set to; of one that is set as before, what was made then."""
        slot, kept_by = f"group.{group}", members[0].told
        names = [made.name for made in members]
        key = (
            self._chosen,
            names,
            [bound.values.get(name) for name in names],
            [bound.asked(name) for name in names],
            bound.outgrown.intersection(names),
        )
        kept = kept_by.get(slot)
        if kept is None or kept[0] != key:
            kept = kept_by[slot] = (key, html.group_line(members, bound, self.system))
        self.slots[slot] = kept[1]

    def _add(
        self,
        bound: Bound,
        name: str,
        control: str,
        make: Callable[[Update, Bound, Field, str], None],
        *also: Any,
    ) -> None:
        """What `make` makes of a field; of one that is the same as before, what was made then."""
        made = bound.asks.fields[name]
        key = (made, make, *also, *self._shown(control), *_state(bound, name))
        kept = made.told.get(control)
        if kept is None or kept[0] != key:
            found = Update(self.system, {}, self.typed_too, self.linked)
            make(found, bound, made, control)
            kept = made.told[control] = (key, found)
        self._take(kept[1])

    def _shown(self, control: str) -> tuple[Any, ...]:
        """How it is shown: whose it is, and all that the reader chose for the page."""
        return control.partition(".")[0] in self.linked, *self._chosen

    @cached_property
    def _chosen(self) -> tuple[Any, ...]:
        """What the reader chose for the page, the same for all its fields."""
        shown = decimal_mark.get(), money.get(), language.chosen.get()
        return self.system, self.typed_too, *shown

    def _make(self, bound: Bound, made: Field, control: str) -> None:
        name, own = made.name, self._whose(control.partition(".")[0])
        self._word(made, control)
        self.slots[f"field.{control}"] = html.field_note(made, bound, self.system, own)
        of_reader = bound.origin(name) in (TYPED, SHEET)
        self.attributes[control] = {
            "aria-invalid": "true" if bound.faults_of(name) else None,
            "data-typed": "" if of_reader else None,
            "data-say": "" if name in bound.lacking else None,
        }
        if self.typed_too or bound.origin(name) != TYPED:
            self._put(made, control, *html.control_text(made, bound, self.system))
        self._settle(bound, name, control)

    def add_rows(self, bound: Bound, name: str) -> None:
        """A list with the fields of all its rows."""
        made = bound.asks.fields[name]
        assert isinstance(made, Rows)
        self.slots[f"field.{name}"] = html.rows_note(made, bound, self._whose(name))
        for index, row in enumerate(bound.rows.get(name, [])):
            self._take(self._row(made, row, f"{name}.{index}"))

    def _row(self, made: Rows, row: Bound, control: str) -> Update:
        """A row's controls; of one that is the same as before, what was made of it then."""
        key = (control, *self._shown(made.name))
        if row.told is not None and row.told[0] == key:
            kept: Update = row.told[1]
            return kept
        found = Update(self.system, {}, self.typed_too, self.linked)
        if made.folded:
            found.slots[f"row.{control}"] = row_line(made, row, self.system)
        for cell in row.asks.fields:
            found.add(row, cell, f"{control}.{cell}")
        row.told = (key, found)
        return found

    def _take(self, other: Update) -> None:
        self.slots |= other.slots
        self.values |= other.values
        self.settled |= other.settled
        self.attributes |= other.attributes

    def _make_of_sheet(self, bound: Bound, made: Field, name: str) -> None:
        shown, unit = html.control_text(made, bound, self.system)
        said = bound.origin(name) == TYPED
        self._word(made, name)
        if isinstance(made, Record) and said and not shown:
            shown = NONE_LISTED
        self.slots[f"field.{name}"] = html.sheet_note(made, bound, self.system)
        self.attributes[name] = {
            "aria-invalid": "true" if said and bound.faults_of(name) else None,
            "data-typed": "" if said else None,
            "placeholder": shown,
        }
        self._put(made, name, shown if said else "", unit)
        self._settle(bound, name, name)

    def _word(self, made: Field, control: str) -> None:
        for place, words in html.wordings(made).items():
            self.slots[f"{place}.{control}"] = html.words(words, self.system)

    def _whose(self, name: str) -> str:
        return spoken(html.LINKED if name in self.linked else html.YOURS)

    def _settle(self, bound: Bound, name: str, control: str) -> None:
        """A unit typed into a number's box goes to its place beside the box."""
        made, typed = bound.asks.fields[name], str(bound.texts.get(name, ""))
        if name in bound.taken:
            return  # what was typed stays in the box, beside what it was taken for
        if bound.values.get(name) is not None and made.tidy(typed) != typed:
            number, unit = html.control_text(made, bound, self.system)
            self.settled |= {control: number, f"{control}.unit": unit}

    def _put(self, made: Field, control: str, shown: str, unit: str) -> None:
        self.values[control] = shown
        if isinstance(made, Quantity):
            self.values[f"{control}.unit"] = unit


def _state(bound: Bound, name: str) -> tuple[Any, ...]:
    """All that is shown of a field hangs on: mostly its value alone, and where that is from."""
    value = bound.texts.get(name), bound.values.get(name), bound.origin(name)
    if bound.plain:
        return value
    faults = [fault.told for fault in bound.faults_of(name)]
    more = faults, name in bound.lacking, name in bound.outgrown, bound.taken.get(name)
    return (*value, *more) if any(more) else value
