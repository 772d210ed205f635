"""Numbers that prose cites, and the roles in which pages speak of a guide's examples.

No page names a machine or a boat of the stock: an edition has others. `unit.example` is the unit in
the role of the example, `boat.example` and `boat.second-example` are the boats; the second is the
first where there is only one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any

from calc import cautions, stock
from calc.frame import units
from calc.frame.guide import Calculator, Outcome
from calc.frame.inputs import Quantity, Record, nearest
from calc.frame.report import Amount, Figure, say, verdict_word

from . import making

EXAMPLE, SECOND = "example", "second-example"


def role(kind: str, said: str) -> str:
    """The key of the record in a role, as this edition has it; what is no role is a key itself."""
    edition = making.edition()
    if kind == "unit" and said == EXAMPLE:
        return edition.unit
    if kind == "boat" and said in (EXAMPLE, SECOND) and edition.boats:
        return edition.boats[0 if said == EXAMPLE else -1 if len(edition.boats) < 2 else 1]
    return said


def with_roles(example: Mapping[str, Any], asks: Mapping[str, Any]) -> dict[str, Any]:
    """A page's example with the records' keys in place of roles; `asks` are the form's fields."""

    def kind_of(name: str) -> str:
        field = asks.get(name)
        return "boat" if name == "boat" else field.kind if isinstance(field, Record) else ""

    return {
        name: role(kind_of(name), value) if isinstance(value, str) else value
        for name, value in example.items()
    }


@dataclass
class Placed:
    """A calculator on a page."""

    calculator: Calculator
    outcome: Outcome
    html: str


def citation(words: str, placed: list[Placed]) -> str:
    """A cited value as HTML. Raises KeyError with a sentence for what does not exist."""
    path, _, wanted = words.partition(" in ")
    head, *rest = path.strip().split(".")
    if head == "caution":
        key = ".".join(rest)
        found = cautions.ALL.get(key)
        if found is None:
            raise KeyError(f"no caution is called “{key}”.{nearest(key, cautions.ALL)}")
        return f"<strong>{escape(say(found.title))}.</strong> {escape(say(found.text))}"
    if head in stock.guide().names():
        return _shown(_from_calculator(head, rest, placed), wanted.strip())
    return _shown(_from_record(head, rest), wanted.strip())


def _shown(value: Amount | str, wanted: str) -> str:
    if isinstance(value, str):
        return f'<span class="cited">{escape(value)}</span>'
    if wanted:
        try:
            units.unit(wanted, units.kind_of(value.unit) if value.unit else None)
        except KeyError:
            raise KeyError(f"{value.unit} cannot be shown in “{wanted}”") from None
        value = Amount(value.value, wanted, value.digits)
    ways = _ways(value, bool(wanted))
    told = "".join(f' data-{way}="{escape(text, quote=True)}"' for way, text in ways.items())
    return f'<span class="cited"{told}>{escape(value.text("metric"))}</span>'


def _ways(value: Amount, unit_is_given: bool) -> dict[str, str]:
    """A cited value in other units and number styles, by the name of its attribute.

    What is left out reads like the same with the mark of the page's language, or as built.
    """
    found = {}
    other = "," if units.decimal_mark.get() == "." else "."
    for system in units.SYSTEMS:
        shown = "metric" if unit_is_given else system
        as_here = value.text(shown)
        token = units.decimal_mark.set(other)
        try:
            otherwise = value.text(shown)
        finally:
            units.decimal_mark.reset(token)
        if as_here != value.text("metric"):
            found[system] = as_here
        if otherwise != as_here:
            found[f"{system}-mark"] = otherwise
    return found


def _from_calculator(name: str, rest: list[str], placed: list[Placed]) -> Amount | str:
    one = next((p for p in placed if p.calculator.name == name), None)
    if one is None or one.outcome.report is None:
        raise KeyError(f"this page has no calculator “{name}” to cite")
    report, bound = one.outcome.report, one.outcome.bound
    what = rest[0] if rest else ""
    if what == "verdict":
        return verdict_word(report.verdict)
    if what == "figure":
        return _figure(rest[1:], report.figures)
    if what == "limit":
        limits = {f.key: f.limit for f in report.figures if f.limit}
        return limits[_known(rest[1:], limits, "limit")]
    if what == "option":
        options = {o.key: o for o in report.options}
        option = options[_known(rest[1:2], options, "option")]
        return _figure(rest[2:], option.figures)
    if what == "input":
        field_name = _known(rest[1:], bound.asks.fields, "input")
        made, value = bound.asks.fields[field_name], bound.values[field_name]
        if value is None:
            raise KeyError(f"the example says nothing of “{field_name}”")
        return Amount(value, made.unit) if isinstance(made, Quantity) else made.shown(value)
    words = ("figure", "limit", "option", "input", "verdict")
    raise KeyError(f"“{what}” is no part of an answer.{nearest(what, words)}")


def _figure(rest: list[str], figures: Sequence[Figure]) -> Amount:
    values = {f.key: f.value for f in figures}
    return values[_known(rest, values, "figure")]


def _known(rest: list[str], known: Mapping[str, Any], what: str) -> str:
    key = ".".join(rest)
    if key not in known:
        raise KeyError(f"no {what} is called “{key}”.{nearest(key, known)}")
    return key


def _from_record(kind: str, rest: list[str]) -> Amount | str:
    kinds = stock.guide().kinds

    if kind not in kinds:
        near = nearest(kind, [*kinds, *stock.guide().names()])
        raise KeyError(f"“{kind}” is neither a calculator nor a kind.{near}")
    shelf = stock.guide().shelf(kind)
    key = role(kind, rest[0]) if rest else ""
    if key not in shelf:
        raise KeyError(f"no {kind} is called “{key}”.{nearest(key, shelf)}")
    record: Any = shelf[key]
    for name in rest[1:]:
        fields = kinds[record.kind].fields
        if name not in fields:
            raise KeyError(f"a {record.kind} has no “{name}”.{nearest(name, fields)}")
        made, value = fields[name], getattr(record, name)
        if value is None:
            raise KeyError(f"{record.name} says nothing of “{name}”")
        if isinstance(made, Quantity):
            return Amount(value, made.unit)
        if hasattr(value, "key"):
            record = value
            continue
        return made.shown(value)
    return str(record.name)
