"""A guide as one object: what it asks of a boat, what equipment it knows, what it can work out.

Whoever needs one is handed it, so that two guides can stand side by side.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from .cautions import Caution, Rule, rules, shown
from .inputs import (
    CLOCK,
    EXAMPLE,
    SHEET,
    TYPED,
    Bound,
    Date,
    Fault,
    Field,
    Inputs,
    Layer,
    Log,
    Origin,
    Refusal,
    Shelves,
    bind,
    nearest,
    shortened,
)
from .report import Report

Answer = Callable[[Any, Report], None]


class Unknown(KeyError):
    """A calculator or a boat that there is not; its message is a sentence for the reader."""

    def __str__(self) -> str:
        return str(self.args[0])


@dataclass(frozen=True)
class Calculator:
    """A calculator by name: its title, the question in an owner's words, and its two halves."""

    name: str
    title: str
    question: str
    asks: type[Inputs]
    answer: Answer
    cautions: tuple[Rule, ...] = ()


@dataclass(frozen=True)
class Outcome:
    """A form as it was read, and its report unless something in it is wrong."""

    bound: Bound
    report: Report | None


@dataclass(frozen=True, eq=False)
class Guide:
    """What a guide is made of.

    `sheet` is what is asked of a boat once; `shelves` hold the records of each of the `kinds` by
    key, the demo boats among them on the shelf "boat". `cautions` are all that are known; the rules
    of `always` go for every answer.
    """

    sheet: type[Inputs]
    kinds: Mapping[str, type[Inputs]]
    shelves: Shelves
    calculators: Mapping[str, Calculator]
    cautions: Mapping[str, Caution]
    always: tuple[Rule, ...] = rules()

    def names(self) -> tuple[str, ...]:
        """The names of all calculators, in alphabetical order."""
        return tuple(sorted(self.calculators))

    def get(self, name: str) -> Calculator:
        """The calculator of this name. Raises KeyError with the nearest name for an unknown one."""
        if name not in self.calculators:
            near = nearest(name, self.names())
            raise Unknown(f"no calculator is called “{shortened(name)}”.{near}")
        return self.calculators[name]

    def shelf(self, kind: str) -> Mapping[str, Any]:
        """All records of a kind by key, in order. Raises KeyError with the nearest kind's name."""
        if kind not in self.shelves:
            raise KeyError(f"no equipment kind is called {kind!r}.{nearest(kind, self.shelves)}")
        return self.shelves[kind]

    def bind(self, asks: type[Inputs], *layers: Layer) -> Bound:
        """A form as it is read with this guide's equipment; see `inputs.bind`."""
        bound = bind(asks, *layers, shelves=self.shelves)
        bound.shared = frozenset(self.sheet.fields)
        return bound

    def layers(
        self,
        calculator: Calculator,
        typed: Mapping[str, Any],
        sheet: Mapping[str, Any],
        example: Mapping[str, Any],
        today: str = "",
    ) -> list[Layer]:
        """The layers a form is read from, strongest first.

        `today`, the day on the reader's clock, counts where the boat has days of its own (a field
        of its sheet that `dates` it), or a log was typed; the example has a day of its own.

        An example may name one of the demo boats (`boat`), whose sheet then lies under its other
        values. What the boat's sheet holds beyond this form is left out.
        """
        given = {name: value for name, value in example.items() if name != "boat"}
        dating = [name for name, made in self.sheet.fields.items() if made.dates]
        own_days = any(sheet.get(name) for name in dating) or any(
            isinstance(calculator.asks.fields.get(name), Log) for name in typed
        )
        found = [
            Layer(TYPED, typed, own=True),
            Layer(SHEET, _known(calculator, sheet), own=True),
            Layer(CLOCK, _days(calculator, today) if own_days else {}, own=True),
            Layer(EXAMPLE, given),
        ]
        if boat := example.get("boat"):
            record = self.shelf("boat").get(boat)
            if record is None:
                near = nearest(boat, self.shelf("boat"))
                raise Unknown(f"no boat is called “{shortened(boat)}”.{near}")
            found.append(Layer(Origin("boat", record.name), _known(calculator, record.texts)))
        return found

    def run(
        self,
        calculator: Calculator,
        typed: Mapping[str, Any] | None = None,
        sheet: Mapping[str, Any] | None = None,
        example: Mapping[str, Any] | None = None,
        today: str = "",
        brief: bool = False,
    ) -> Outcome:
        """Reads the form and answers it. What was typed never raises: see `Outcome.bound.faults`.

        `brief`: only the verdict and its reason are wanted, see `Report`.
        """
        layers = self.layers(calculator, typed or {}, sheet or {}, example or {}, today)
        bound = self.bind(calculator.asks, *layers)
        if not bound.good:
            return Outcome(bound, None)
        report = Report(calculator.title, calculator.question, brief=brief)
        values = bound.as_values()
        try:
            calculator.answer(values, report)
        except Refusal as refusal:
            made = calculator.asks.fields.get(refusal.field)
            bound.faults.append(
                Fault(refusal.field, made.label if made else refusal.field, str(refusal))
            )
            return Outcome(bound, None)
        except _UNRECKONED:
            fault = _blamed(self, calculator, bound, layers)
            if fault is None:
                raise  # the reader typed nothing: a bug of ours
            bound.faults.append(fault)
            return Outcome(bound, None)
        table = (*calculator.cautions, *self.always)
        report.cautions = shown(self.cautions, table, vars(values), report.facts)
        return Outcome(bound, report)


# What the physics raises at values that no limit rules out; its words are for programmers.
_UNRECKONED = (ValueError, ArithmeticError)


def _blamed(guide: Guide, calculator: Calculator, bound: Bound, read: list[Layer]) -> Fault | None:
    """The reader's value that no answer can be worked out with, and one can without; the first of
    them all where no single one is to blame; None where the reader typed none.
    """
    fields = calculator.asks.fields
    own = [name for name in fields if any(name in one.texts for one in read if one.own)]
    own.sort(key=lambda name: not bound.asked(name))
    for name in own:
        left = [replace(one, texts=_without(one.texts, name)) if one.own else one for one in read]
        other = guide.bind(calculator.asks, *left)
        if other.good and _has_answer(calculator, other):
            return _cannot(fields[name], "; without it there is one")
    return _cannot(fields[own[0]], ": change it, or one of them") if own else None


def _without(texts: Mapping[str, Any], name: str) -> dict[str, Any]:
    return {key: text for key, text in texts.items() if key != name}


def _has_answer(calculator: Calculator, bound: Bound) -> bool:
    try:
        calculator.answer(bound.as_values(), Report("", ""))
    except _UNRECKONED:  # a Refusal is one too
        return False
    return True


def _cannot(made: Field, how: str) -> Fault:
    sentence = f"there is no answer for this value together with the others{how}"
    return Fault(made.name, made.label, sentence)


def _days(calculator: Calculator, today: str) -> dict[str, str]:
    """The day for each field that asks for today's."""
    fields = calculator.asks.fields.values()
    return {f.name: today for f in fields if today and isinstance(f, Date) and f.today}


def _known(calculator: Calculator, texts: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in texts.items() if name in calculator.asks.fields}
