"""One file a calculator: its docstring asks the question, `Asks` declares, `answer` answers."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from .. import cautions, equipment
from ..inputs import (
    CLOCK,
    EXAMPLE,
    SHEET,
    TYPED,
    Answer,
    Bound,
    Date,
    Fault,
    Field,
    Inputs,
    Layer,
    Origin,
    Refusal,
    bind,
    nearest,
)
from ..report import Report

_DATED = ("log", "started", "lay_ups")


@dataclass(frozen=True)
class Calculator:
    """A calculator by name: its title, the question in an owner's words, and its two halves."""

    name: str
    title: str
    question: str
    asks: type[Inputs]
    answer: Answer


@dataclass(frozen=True)
class Outcome:
    """A form as it was read, and its report unless something in it is wrong."""

    bound: Bound
    report: Report | None


@cache
def names() -> tuple[str, ...]:
    """The names of all calculators, in alphabetical order."""
    return tuple(sorted(m.name for m in pkgutil.iter_modules(__path__) if m.name[0] != "_"))


@cache
def get(name: str) -> Calculator:
    """The calculator of this name. Raises KeyError with the nearest name for an unknown one."""
    if name not in names():
        raise KeyError(f"no calculator is called “{name}”.{nearest(name, names())}")
    module = importlib.import_module(f"{__name__}.{name}")
    question = (module.__doc__ or "").strip().splitlines()[0]
    return Calculator(name, module.TITLE, question, module.Asks, module.answer)


def layers(calculator: Calculator, typed: Mapping[str, Any], sheet: Mapping[str, Any],
           example: Mapping[str, Any], today: str = "") -> list[Layer]:  # fmt: skip
    """The layers a form is read from, strongest first.

    `today`, the day on the reader's clock, counts where the boat has days of its own (`_DATED`), or
    a log was typed; the example has a day of its own.

    An example may name one of the demo boats (`boat`), whose sheet then lies under its other
    values. What the boat's sheet holds beyond this form is left out.
    """
    given = {name: value for name, value in example.items() if name != "boat"}
    own_days = "log" in typed or any(sheet.get(name) for name in _DATED)
    found = [
        Layer(TYPED, typed, own=True),
        Layer(SHEET, _known(calculator, sheet), own=True),
        Layer(CLOCK, _days(calculator, today) if own_days else {}, own=True),
        Layer(EXAMPLE, given),
    ]
    boat = example.get("boat")
    if boat:
        record = equipment.shelf("boat").get(boat)
        if record is None:
            known = equipment.shelf("boat")
            raise KeyError(f"no boat is called “{boat}”.{nearest(boat, known)}")
        found.append(Layer(Origin("boat", record.name), _known(calculator, record.texts)))
    return found


def _days(calculator: Calculator, today: str) -> dict[str, str]:
    """The day for each field that asks for today's."""
    fields = calculator.asks.fields.values()
    return {f.name: today for f in fields if today and isinstance(f, Date) and f.today}


def _known(calculator: Calculator, texts: Mapping[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in texts.items() if name in calculator.asks.fields}


def run(calculator: Calculator, typed: Mapping[str, Any] | None = None,
        sheet: Mapping[str, Any] | None = None, example: Mapping[str, Any] | None = None,
        today: str = "", brief: bool = False) -> Outcome:  # fmt: skip
    """Reads the form and answers it. What was typed never raises: see `Outcome.bound.faults`.

    `brief`: only the verdict and its reason are wanted, see `Report`.
    """
    read = layers(calculator, typed or {}, sheet or {}, example or {}, today)
    bound = bind(calculator.asks, *read)
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
        fault = _blamed(calculator, bound, read)
        if fault is None:
            raise  # the reader typed nothing: a bug of ours
        bound.faults.append(fault)
        return Outcome(bound, None)
    report.cautions = cautions.shown(calculator.name, vars(values), report.facts)
    return Outcome(bound, report)


# What the physics raises at values that no limit rules out; its words are for programmers.
_UNRECKONED = (ValueError, ArithmeticError)


def _blamed(calculator: Calculator, bound: Bound, read: list[Layer]) -> Fault | None:
    """The reader's value that no answer can be worked out with, and one can without; the first of
    them all where no single one is to blame; None where the reader typed none.
    """
    fields = calculator.asks.fields
    own = [name for name in fields if any(name in one.texts for one in read if one.own)]
    own.sort(key=lambda name: not bound.asked(name))
    for name in own:
        left = [replace(one, texts=_without(one.texts, name)) if one.own else one for one in read]
        other = bind(calculator.asks, *left)
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
