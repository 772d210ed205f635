"""What is told: amounts in their units, sentences with slots for them, and what to fill in."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from . import language, units

Pair = tuple[float, str]


@dataclass(frozen=True)
class Amount:
    """An SI value, the unit it is shown in, and how it is rounded (see `units.rounded`).

    `step` [SI] is what the thing comes in, if it is to be had in whole steps only.
    """

    value: float
    unit: str
    digits: int = 3
    rounding: str = "nearest"
    step: float = 0.0

    def text(self, system: str = "metric") -> str:
        return units.text(self.value, self.unit, system, self.digits, self.rounding)

    def shown(self, system: str = "metric") -> float:
        """The SI value that its text has, rounded as it is there."""
        unit = units.unit(units.told_unit(self.value, self.unit, system))
        number = units.from_si(self.value, unit.symbol)
        return units.rounded(number, self.digits, self.rounding) * unit.factor + unit.offset

    def typed(self, system: str = "metric") -> str:
        """What one would type into a field to have what the text shows."""
        told = units.told_unit(self.value, self.unit, system)
        return f"{units.typed_text(self.shown(system), told, digits=9)} {told}".strip()

    def as_data(self) -> dict[str, Any]:
        return {"value": self.value, "unit": self.unit}


@dataclass(frozen=True)
class Line:
    """A sentence with slots: Line("{time} a day", {"time": Amount(7200, "h")}).

    The template is a literal of the source, whole, so that it can be translated. Slots hold
    amounts, terms (a name, a word that stands by itself) or whole sentences, never pieces of one.
    """

    template: str
    amounts: Mapping[str, Amount | str | Line] = field(default_factory=dict)

    def text(self, system: str = "metric") -> str:
        return units.in_system(self.spoken(), system).format_map(_Slots(self.amounts, system))

    def spoken(self) -> str:
        """Its template in the language that is spoken."""
        return language.literal(self.template)

    def as_data(self) -> dict[str, Any]:
        told = {n: a if isinstance(a, str) else a.as_data() for n, a in self.amounts.items()}
        return {"text": self.text(), "template": self.template, "amounts": told}


class _Slots(dict[str, str]):
    """What stands in the slots of a line, as text once a template asks for it: a table's lines may
    all be offered the same slots, of which each has few."""

    def __init__(self, amounts: Mapping[str, Amount | str | Line], system: str) -> None:
        super().__init__()
        self._amounts, self._system = amounts, system

    def __missing__(self, name: str) -> str:
        one = self._amounts[name]
        return language.term(one) if isinstance(one, str) else one.text(self._system)


Words = Line | str  # a sentence or label: with slots, or a literal


def say(words: Words, system: str = "metric") -> str:
    """Words as text, in the language that is spoken."""
    if isinstance(words, str):
        return units.in_system(language.literal(words), system)
    return words.text(system)


def as_written(words: Words) -> str:
    """Words as the source has them: of a work that is cited, a standard, a check."""
    with language.speaking(language.ENGLISH):
        return say(words)


def counted(count: int, one: str, many: str, **pairs: Slot) -> Line:
    """The sentence for a count, which stands in the slot {n}: `counted(2, "{n} day", "{n} days")`.

    Both are whole templates; a translation may have more forms, chosen by the count.
    """
    slots = line("", n=count, **pairs).amounts
    return Counted(one if count == 1 else many, slots, one, many, count)


@dataclass(frozen=True)
class Counted(Line):
    """A Line that was chosen by a count, with both of its forms."""

    one: str = ""
    many: str = ""
    count: int = 0

    def spoken(self) -> str:
        return language.of_count(self.count, self.one, self.many)

    def as_data(self) -> dict[str, Any]:
        return {**super().as_data(), "one": self.one, "many": self.many, "count": self.count}


@dataclass(frozen=True)
class Reason(Line):
    """A sentence that tells why something fails, can't be told, or is no better than tight; by its
    `key` programs and tests know it, whatever its words."""

    key: str = ""

    def as_data(self) -> dict[str, Any]:
        return {**super().as_data(), "key": self.key}


@dataclass(frozen=True)
class Linked(Line):
    """A sentence that leads to the answer that it comes from: the calculator, whose page bears its
    name, and the fragment that fills it in; with the verdict whose sign stands before it, if any.
    Without a calculator it is only signed.
    """

    calculator: str = ""
    fragment: str = ""
    state: str = ""


Setting = Amount | str | bool | int


@dataclass(frozen=True)
class Remedy(Line):
    """A sentence that tells what would make it fit, and what to fill in to try that.

    `sets` holds values by field. Tried, they turn the figure called `mends` from failing to holding
    (of the option it belongs to), or take the reservation called so away; where none is named, the
    verdict. One that tells the `reach` of what does already leaves the verdict as it is.
    """

    sets: Mapping[str, Setting] = field(default_factory=dict)
    mends: str = ""
    reach: bool = False

    def typed(self, system: str = "metric") -> dict[str, str]:
        """The texts by field that one would type to try it."""
        return {name: _typed(value, system) for name, value in self.sets.items()}

    def as_data(self) -> dict[str, Any]:
        return {**super().as_data(), "sets": self.typed(), "mends": self.mends}


def _typed(value: Setting, system: str) -> str:
    if isinstance(value, Amount):
        return value.typed(system)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def amount(value: float, unit: str, digits: int = 3, rounding: str = "nearest") -> Amount:
    """A trimmed Amount. Raises ArithmeticError if it is not finite: a bug, no reader's fault."""
    value = float(value)
    if value != value or value in (float("inf"), float("-inf")):
        raise ArithmeticError(f"a report cannot hold {value} {unit}")
    return Amount(units.trim(value), unit, digits, rounding)


def least(value: float, unit: str, step: float = 0.0) -> Amount:
    """The least that would do: rounded up where it is shown, and to whole steps [SI] to be had."""
    if step:
        value = math.ceil(units.trim(value / step)) * step
    return replace(amount(value, unit, rounding="up"), step=step)


def most(value: float, unit: str, step: float = 0.0) -> Amount:
    """The most that would still do: rounded down where it is shown, and to whole steps [SI]."""
    if step:
        value = math.floor(units.trim(value / step)) * step
    return replace(amount(value, unit, rounding="down"), step=step)


Slot = Pair | Amount | Line | str | int  # what a template's place takes


def line(template: str, **pairs: Slot) -> Line:
    """A Line out of a template and its amounts, each (SI value, unit symbol), Amount or text."""
    return Line(template, {name: _placed(pair) for name, pair in pairs.items()})


def linked(told: Line, calculator: str, fragment: str, state: str = "") -> Linked:
    """A sentence with the way to the answer that it comes from."""
    return Linked(told.template, told.amounts, calculator, fragment, state)


def reason(key: str, template: str, **pairs: Slot) -> Reason:
    """A Reason of a key out of a template and its amounts."""
    return Reason(template, line(template, **pairs).amounts, key)


def remedy(
    template: str,
    sets: Mapping[str, Setting] | None = None,
    mends: str = "",
    as_reach: bool = False,
    **pairs: Any,
) -> Remedy:
    """A Remedy out of a template, its amounts, and what to fill in to try it."""
    return Remedy(template, line(template, **pairs).amounts, dict(sets or {}), mends, as_reach)


def _placed(pair: Slot) -> Amount | str | Line:
    if isinstance(pair, (Amount, Line)):
        return pair
    return amount(*pair) if isinstance(pair, tuple) else str(pair)
