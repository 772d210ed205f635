"""What one calculator asks of others about the same boat, a few of her values changed.

An answer that stands in a table beside others is the other page's own: the same form, read from the
same values, the same judging. `Answered.link` leads to it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Protocol, cast

from . import units
from .cautions import Caution
from .fragments import whole
from .inputs import Bound, Fault, Inputs
from .report import FAILS, UNASKED, UNKNOWN, Figure, Line, Option, Reason, Remedy, Report, line

Texts = Mapping[str, Any]


class Outcome(Protocol):
    """A form as it was read, and its report; see `guide.Outcome`."""

    @property
    def bound(self) -> Bound: ...
    @property
    def report(self) -> Report | None: ...
    @property
    def lacks(self) -> tuple[tuple[str, ...], ...]: ...
    @property
    def cautions(self) -> tuple[Caution, ...]: ...
    @property
    def later(self) -> Callable[[], Outcome] | None: ...


@dataclass(frozen=True)
class Answered:
    """What another calculator answers, by name: its verdict. What to do, tables and pictures come
    with `told`."""

    name: str
    outcome: Outcome

    cautions: tuple[Caution, ...] = ()
    figures: tuple[Figure, ...] = ()
    failures: tuple[Reason, ...] = ()
    unknowns: tuple[Reason, ...] = ()

    @classmethod
    def of(cls, name: str, outcome: Outcome) -> Answered:
        """An answer with what its verdict rests on, before more is told of it."""
        report = outcome.report
        if report is None:
            return cls(name, outcome, tuple(outcome.cautions))
        parts: tuple[Sequence[Any], ...] = report.figures, report.failures, report.unknowns
        return cls(name, outcome, tuple(report.cautions), *map(tuple, parts))

    @cached_property
    def told(self) -> Outcome:
        """The same answer with what it tells besides, but for what stands folded."""
        outcome = self.outcome
        return outcome if outcome.later is None else outcome.later()

    @property
    def remedies(self) -> list[Remedy]:
        """What its page would do about it, first things first."""
        full = self.told.report
        if full is None:
            return []
        return [way for way in full.ways(len(full.remedies))[0] if isinstance(way, Remedy)]

    @cached_property
    def link(self) -> str:
        """The fragment that fills its page in with the same."""
        return whole(self.name, self.outcome.bound)

    @property
    def report(self) -> Report | None:
        """The answer, unless something is wrong or not said yet."""
        return self.outcome.report

    @property
    def questions(self) -> tuple[str, ...]:
        """Labels of what must be said first of a boat of one's own."""
        fields = self.outcome.bound.asks.fields
        return tuple([fields[row[0]].label for row in self.outcome.lacks])

    @property
    def faults(self) -> Sequence[Fault]:
        """What is wrong with a value."""
        return self.outcome.bound.faults

    @property
    def verdict(self) -> str:
        """As its page has it."""
        if self.outcome.lacks:
            return UNASKED
        return UNKNOWN if self.report is None else self.report.verdict

    def part(self, key: str, name: str, keys: Callable[[str], bool] | None = None) -> Option:
        """The answer as a way by itself: all that it holds, or what bears one of these keys.

        What is not said yet, or wrong, it can't tell, and says so.
        """
        made = Option(key, name)
        if self.outcome.lacks:
            ask_first(made, self.questions)
        elif self.report is None:
            field = self.faults[0].field.partition(".")[0]
            asked = self.outcome.bound.asks.fields.get(field)
            what = asked.label if asked is not None else field
            made.unknown("fault", "it can't be as it is said, see its page at: {what}", what=what)
        else:
            mine = keys or (lambda _: True)
            made.figures += [f for f in self.figures if mine(f.key)]
            made.failures += [r for r in self.failures if mine(r.key)]
            made.unknowns += [r for r in self.unknowns if mine(r.key)]
        return made


def ask_first(part: Option, questions: Sequence[str]) -> None:
    """Says what must be said before a part can be told of a boat of one's own."""
    more = len(questions) - 1
    part.unknown(
        UNASKED,
        "to be said first: {what}, and {n} more" if more else "to be said first: {what}",
        what=questions[0],
        n=more,
    )


def settle(whole_of: Option, part: Option, name: str) -> None:
    """Lays a part's verdict into the whole that it is one of, by its name."""
    found = part.decider
    if isinstance(found, Figure):
        named = line("{subject}: {what}", subject=name, what=found.label)
        says = line("{subject}: {reason}", subject=name, reason=found.reason())
        whole_of.figures.append(replace(found, key=part.key, label=named, says=says))
    elif isinstance(found, Reason):
        told = line("{subject}: {reason}", subject=name, reason=plain(found))
        reason = Reason(told.template, told.amounts, part.key)
        (whole_of.failures if part.verdict == FAILS else whole_of.unknowns).append(reason)


def plain(told: Line) -> Line:
    """A sentence alone, whatever it was to its own report."""
    return Line(told.template, told.amounts)


class Runs(Protocol):
    """A guide, as far as it is asked here."""

    def get(self, name: str) -> Any: ...
    def run(
        self,
        calculator: Any,
        typed: Texts | None = None,
        sheet: Texts | None = None,
        example: Texts | None = None,
        today: str = "",
        verdict_only: bool = False,
        own_boat: bool = False,
    ) -> Any: ...
    def is_shared(self, one: type[Inputs], other: type[Inputs], name: str) -> bool: ...


@dataclass(frozen=True)
class Asking:
    """Who asks: a calculator's form, and all that its values were read from."""

    guide: Runs
    here: type[Inputs]
    typed: Texts
    sheet: Texts
    example: Texts
    today: str
    own_boat: bool

    def __call__(self, name: str, says: Texts, unsaid: Collection[str] = ()) -> Answered:
        """The answer of a calculator to the same boat, but for what she `says`, of which it takes
        what it asks; what is `unsaid` counts as not said at all."""
        made = self.guide.get(name)
        typed = self._known(made.asks, self.typed, unsaid)
        typed |= {key: text for key, text in says.items() if key in made.asks.fields}
        sheet = {
            key: text
            for key, text in self.sheet.items()
            if key in made.asks.fields and key not in unsaid
        }
        example = self._known(made.asks, self.example, unsaid)
        if "boat" in self.example:
            example["boat"] = self.example["boat"]
        return self._kept(name, typed, sheet, example)

    def _known(self, asks: type[Inputs], texts: Texts, unsaid: Collection[str]) -> dict[str, Any]:
        return {
            key: text
            for key, text in texts.items()
            if key not in unsaid and self.guide.is_shared(self.here, asks, key)
        }

    def _kept(self, name: str, typed: Texts, sheet: Texts, example: Texts) -> Answered:
        """An answer; kept, since a change of one place leaves most answers as they were."""
        said = repr((name, typed, sheet, example, self.today))
        shown = units.decimal_mark.get() + units.chosen_system.get()
        key = (self.guide, said, shown, self.own_boat)
        if key not in _answers:
            while len(_answers) >= _MOST_KEPT:
                del _answers[next(iter(_answers))]
            made = self.guide.get(name)
            outcome = self.guide.run(made, typed, sheet, example, self.today, True, self.own_boat)
            _answers[key] = Answered.of(name, outcome)
        return _answers[key]


_answers: dict[tuple[Runs, str, str, bool], Answered] = {}
_MOST_KEPT = 256


def forget() -> None:
    """What was answered isn't remembered any more, nor the guide that was asked."""
    _answers.clear()


def asking(show: Report) -> Asking:
    """What an answer asks of others with."""
    return cast(Asking, show.ask)
