"""A guide as one object: what it asks of a boat, what equipment it knows, what it can work out.

Whoever needs one is handed it, so that two guides can stand side by side.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache, partial
from typing import Any, TypeAlias

from .asking import Asking
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
    Kind,
    Layer,
    Log,
    Origin,
    Presence,
    Refusal,
    Shelves,
    When,
    bind,
    nearest,
    shortened,
)
from .language import ENGLISH, Catalogue, Said
from .quantities import Quantity
from .report import Report

# What is found out is told last, by what an answer returns: a list of verdicts leaves that out.
# What stands folded may be told later still, by what that returns; a value that a short function
# happens to return is no such thing.
Told: TypeAlias = "Callable[[], Told] | None"
Answer = Callable[[Any, Report], Told]


class Unknown(Said, KeyError):
    """A calculator or a boat that there is not; its message is a sentence for the reader."""


@dataclass(frozen=True)
class Decides:
    """A value without which there is no verdict on a boat of one's own: any of these fields, where
    `when` holds. One that is not asked is not needed, unless nobody said why."""

    fields: tuple[str, ...]
    when: When | None = None


def decides(*rows: str | tuple[str, ...] | Decides) -> tuple[Decides, ...]:
    """A table of what decides: a field, several of which one will do, or a row of its own."""
    return tuple(
        row if isinstance(row, Decides) else Decides((row,) if isinstance(row, str) else row)
        for row in rows
    )


@dataclass(frozen=True)
class Question:
    """A question that the start asks about a boat, in an owner's words, and the fields of the boat
    sheet that take the answer."""

    title: str
    fields: tuple[str, ...]
    note: str = ""


@dataclass(frozen=True)
class Calculator:
    """A calculator by name: its title, the question in an owner's words, and its two halves.

    Of a boat of one's own it is asked only once all that `decides` is said. `wanted` are the keys
    of the figures that one comes for, the first ones that an answer has; `picture` is that of the
    chart or drawing that says it at a glance. With it came `kinds` of record and `quantities` of
    the glossary. Of many verdicts those that are `slow` are found last.
    """

    name: str
    title: str
    question: str
    asks: type[Inputs]
    answer: Answer
    cautions: tuple[Rule, ...] = ()
    decides: tuple[Decides, ...] = ()
    wanted: tuple[str, ...] = ()
    picture: str = ""
    kinds: tuple[type[Kind], ...] = ()
    quantities: tuple[Quantity, ...] = ()
    slow: bool = False


@dataclass(frozen=True)
class Outcome:
    """A form as it was read, and its report unless something in it is wrong.

    `lacks` is what to ask before there is a verdict on a boat of one's own: of each group one
    field will do. `cautions` stand on no condition, so they are shown without an answer too.
    Where there is more to tell, `later` tells it, and gives what there is then.
    """

    bound: Bound
    report: Report | None
    lacks: tuple[tuple[str, ...], ...] = ()
    cautions: tuple[Caution, ...] = ()
    later: Callable[[], Outcome] | None = field(default=None, compare=False, repr=False)

    def whole(self) -> Outcome:
        """The same with all that there is to tell."""
        return self if self.later is None else self.later().whole()


@dataclass(frozen=True, eq=False)
class Guide:
    """What a guide is made of.

    `sheet` is what is asked of a boat once; `shelves` hold the records of each of the `kinds` by
    key, the demo boats among them on the shelf "boat". `cautions` are all that are known; the rules
    of `always` go for every answer. The `questions` are those that one begins with; those that
    stand `apart` have a page of their own. `why` tells of each group of the sheet why it is asked;
    `filled` is a boat with what follows from what she says.
    It speaks one `language`, and its prices are in one `money`, "" where none is told. Its
    `version` is that of what computes it. `sources` are the files of those calculators that didn't
    come along with this package, by path.
    """

    sheet: type[Inputs]
    kinds: Mapping[str, type[Inputs]]
    shelves: Shelves
    calculators: Mapping[str, Calculator]
    cautions: Mapping[str, Caution]
    always: tuple[Rule, ...] = rules()
    questions: tuple[Question, ...] = ()
    apart: tuple[Question, ...] = ()
    why: Mapping[str, str] = field(default_factory=dict)
    filled: Callable[[Mapping[str, Any]], Mapping[str, Any]] = lambda sheet: sheet
    language: Catalogue = ENGLISH
    money: str = ""
    version: str = ""
    sources: Mapping[str, str] = field(default_factory=dict)

    def names(self) -> tuple[str, ...]:
        """The names of all calculators, in alphabetical order."""
        return tuple(sorted(self.calculators))

    def get(self, name: str) -> Calculator:
        """The calculator of this name. Raises KeyError with the nearest name for an unknown one."""
        if name not in self.calculators:
            near = nearest(name, self.names())
            raise Unknown(
                "no calculator is called “{name}”.{near}", name=shortened(name), near=near
            )
        return self.calculators[name]

    def shelf(self, kind: str) -> Mapping[str, Any]:
        """All records of a kind by key, in order. Raises KeyError with the nearest kind's name."""
        if kind not in self.shelves:
            raise KeyError(f"no equipment kind is called {kind!r}.{nearest(kind, self.shelves)}")
        return self.shelves[kind]

    def is_shared(self, one: type[Inputs], other: type[Inputs], name: str) -> bool:
        """Whether two forms ask the same of this name."""
        return name in shared(one, other)

    def bind(self, asks: type[Inputs], *layers: Layer, own_boat: bool = False) -> Bound:
        """A form as it is read with this guide's equipment; see `inputs.bind`."""
        bound = bind(asks, *layers, shelves=self.shelves, own_boat=own_boat)
        bound.shared = shared(self.sheet, asks)
        return bound

    def layers(
        self,
        calculator: Calculator,
        typed: Mapping[str, Any],
        sheet: Mapping[str, Any],
        example: Mapping[str, Any],
        today: str = "",
        own_boat: bool = False,
    ) -> list[Layer]:
        """The layers a form is read from, strongest first: of a boat of one's own, hers alone.

        `today`, the day on the reader's clock, counts where the boat has days of its own: a field
        that `dates` it is in its sheet or was typed. The example has a day of its own.

        An example may name one of the demo boats (`boat`), whose sheet then lies under its other
        values. What the boat's sheet holds beyond this form is left out.
        """
        given = {name: value for name, value in example.items() if name != "boat"}
        sheet = self.filled(sheet)
        own_days = (
            own_boat
            or any(sheet.get(name) or typed.get(name) for name in _dating(self.sheet))  # type: ignore[arg-type]
            or any(isinstance(calculator.asks.fields.get(name), Log) for name in typed)
        )
        found = [
            Layer(TYPED, typed, own=True),
            Layer(SHEET, self._known(calculator, sheet), own=True),
            Layer(CLOCK, _days(calculator, today) if own_days else {}, own=True),
        ]
        if own_boat:
            return found
        found.append(Layer(EXAMPLE, given))
        if boat := example.get("boat"):
            record = self.shelf("boat").get(boat)
            if record is None:
                near = nearest(boat, self.shelf("boat"))
                raise Unknown("no boat is called “{name}”.{near}", name=shortened(boat), near=near)
            found.append(Layer(Origin("boat", record.name), self._known(calculator, record.texts)))
        return found

    def _known(self, calculator: Calculator, texts: Mapping[str, Any]) -> dict[str, Any]:
        """What a boat says of what this calculator asks."""
        known = _known(self.sheet, calculator.asks)  # type: ignore[arg-type]  # classes hash
        return {name: text for name, text in texts.items() if name in known}

    def run(
        self,
        calculator: Calculator,
        typed: Mapping[str, Any] | None = None,
        sheet: Mapping[str, Any] | None = None,
        example: Mapping[str, Any] | None = None,
        today: str = "",
        verdict_only: bool = False,
        own_boat: bool = False,
        in_steps: bool = False,
    ) -> Outcome:
        """Reads the form and answers it. What was typed never raises: see `Outcome.bound.faults`.

        `verdict_only`: what an answer tells besides is left to `Outcome.later`; `in_steps`: so is
        what stands folded. `own_boat`: what is typed and in the sheet is all there is; the example
        stays out of it.
        """
        said = typed or {}, sheet or {}, example or {}, today, own_boat
        layers = self.layers(calculator, *said)
        bound = self.bind(calculator.asks, *layers, own_boat=own_boat)
        ask = Asking(self, calculator.asks, *said)
        telling = _Telling(self, calculator, bound, layers, ask, not in_steps and not verdict_only)
        if not bound.good:
            return Outcome(bound, None, cautions=telling.ever)
        bound.deciding = frozenset(name for row in calculator.decides for name in row.fields)
        if own_boat and (lacks := _lacking(calculator, bound)):
            bound.lacking = frozenset(name for row in lacks for name in row)
            return Outcome(bound, None, lacks, telling.ever)
        report, values = _begun(calculator, ask), bound.as_values()

        def begin() -> Told:
            tell = calculator.answer(values, report)
            return tell() if callable(tell) and not verdict_only else tell

        return telling.told(begin, report, vars(values))


@dataclass(frozen=True, eq=False)
class _Telling:
    """How an answer is told. Nothing of it holds what it gives: an answer that nobody holds any
    more is gone then and there, and leaves no circle for a collector to find."""

    guide: Guide
    calculator: Calculator
    bound: Bound
    layers: Sequence[Layer]
    ask: Asking
    whole: bool  # what stands folded too

    @property
    def table(self) -> tuple[Rule, ...]:
        return (*self.calculator.cautions, *self.guide.always)

    @cached_property
    def ever(self) -> tuple[Caution, ...]:
        """The cautions that stand on no condition."""
        return tuple(shown(self.guide.cautions, [r for r in self.table if r.free], {}, set()))

    def told(self, tell: Callable[[], Told], report: Report, values: Mapping[str, Any]) -> Outcome:
        """The answer as far as it is told now."""
        try:
            rest = tell()
            if callable(rest) and self.whole:
                rest = rest()
        except Refusal as refusal:
            made = self.calculator.asks.fields.get(refusal.field)
            label = made.label if made else refusal.field
            return self._faulty(Fault(refusal.field, label, refusal.told))
        except _UNRECKONED:
            fault = _blamed(self.guide, self.calculator, self.bound, self.layers, self.ask)
            if fault is None:
                raise  # the reader typed nothing: a bug of ours
            return self._faulty(fault)
        known = self.guide.cautions
        found = shown(known, self.table, values, report.facts)
        report.borrowed = [one for one in report.borrowed if one not in found]
        all_found = {*report.borrowed, *found}
        report.cautions = [one for one in known.values() if one in all_found]
        later = partial(self.told, rest, report, values) if callable(rest) else None
        return Outcome(self.bound, report, cautions=self.ever, later=later)

    def _faulty(self, fault: Fault) -> Outcome:
        self.bound.faults.append(fault)
        return Outcome(self.bound, None, cautions=self.ever)


def _begun(calculator: Calculator, ask: Asking) -> Report:
    """A report with nothing in it yet."""
    report = Report(calculator.title, calculator.question)
    report.wanted, report.picture, report.ask = calculator.wanted, calculator.picture, ask
    return report


def shared(sheet: type[Inputs], asks: type[Inputs]) -> frozenset[str]:
    """The names of which a form asks the same as the boat sheet, or another form, does."""
    return _shared(sheet, asks)  # type: ignore[arg-type]  # classes hash


@lru_cache(maxsize=512)  # which of each other's fields two forms have never changes
def _shared(sheet: type[Inputs], asks: type[Inputs]) -> frozenset[str]:
    return frozenset(
        name
        for name, other in asks.fields.items()
        if (one := sheet.fields.get(name)) is not None
        and type(one) is type(other)
        and getattr(one, "kind", "") == getattr(other, "kind", "")
    )


@lru_cache(maxsize=512)
def _known(sheet: type[Inputs], asks: type[Inputs]) -> frozenset[str]:
    """The fields of a form but for those that are another's on the boat sheet."""
    return frozenset(asks.fields.keys() - (sheet.fields.keys() - shared(sheet, asks)))


@lru_cache(maxsize=16)
def _dating(sheet: type[Inputs]) -> tuple[str, ...]:
    """The fields of a boat sheet that date it."""
    return tuple(name for name, made in sheet.fields.items() if made.dates)


def _lacking(calculator: Calculator, bound: Bound) -> tuple[tuple[str, ...], ...]:
    """The groups of questions of which one must still be answered before there is a verdict."""
    rows = [row for row in calculator.decides if not row.when or row.when.holds(bound.values)]
    lacking = [row.fields for row in rows if not any(map(bound.own, row.fields))]
    asked = (dict.fromkeys(_question(bound, name) for name in row) for row in lacking)
    return tuple(dict.fromkeys(filter(None, (tuple(filter(None, row)) for row in asked))))


def _question(bound: Bound, name: str) -> str:
    """What to ask to learn a field: it, or whether the thing is there; "" if that is ruled out."""
    if bound.asked(name):
        return name
    when = bound.asks.fields[name].when
    assert when is not None
    if not bound.asked(when.name):
        return _question(bound, when.name)
    open_still = not bound.own(when.name) and not bound.unknown(when.name)
    return when.name if open_still and isinstance(bound.asks.fields[when.name], Presence) else ""


# What the physics raises at values that no limit rules out; its words are for programmers.
_UNRECKONED = (ValueError, ArithmeticError)


def _blamed(
    guide: Guide, calculator: Calculator, bound: Bound, read: Sequence[Layer], ask: Asking
) -> Fault | None:
    """The reader's value that no answer can be worked out with, and one can without; the first of
    them all where no single one is to blame; None where the reader typed none.
    """
    fields = calculator.asks.fields
    own = [name for name in fields if any(name in one.texts for one in read if one.own)]
    own.sort(key=lambda name: not bound.asked(name))
    for name in own:
        left = [replace(one, texts=_without(one.texts, name)) if one.own else one for one in read]
        other = guide.bind(calculator.asks, *left, own_boat=bound.own_boat)
        if other.good and _has_answer(calculator, other, ask):
            return _cannot(fields[name], _ALONE)
    return _cannot(fields[own[0]], _TOGETHER) if own else None


_ALONE = "there is no answer for this value together with the others; without it there is one"
_TOGETHER = "there is no answer for this value together with the others: change it, or one of them"


def _without(texts: Mapping[str, Any], name: str) -> dict[str, Any]:
    return {key: text for key, text in texts.items() if key != name}


def _has_answer(calculator: Calculator, bound: Bound, ask: Asking) -> bool:
    try:
        tell = calculator.answer(bound.as_values(), _begun(calculator, ask))
        rest = tell() if tell is not None else None
        if rest is not None:
            rest()
    except _UNRECKONED:  # a Refusal is one too
        return False
    return True


def _cannot(made: Field, sentence: str) -> Fault:
    return Fault(made.name, made.label, sentence)


def _days(calculator: Calculator, today: str) -> dict[str, str]:
    """The day for each field that asks for today's."""
    fields = calculator.asks.fields.values()
    return {f.name: today for f in fields if today and isinstance(f, Date) and f.today}
