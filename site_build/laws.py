"""Laws that every calculator keeps: the tests hold ours to them, `check` an edition's own.

Each tells what is broken as a key and a sentence. What a calculator's code raises is let through.
"""

from __future__ import annotations

import ast
import json
import math
import random
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from calc.frame import units
from calc.frame.guide import Calculator, Guide, Outcome
from calc.frame.inputs import Choice, Field, Other, Quantity, Record, Whole, YesNo, shortened
from calc.frame.quantities import Quantity as Named
from calc.frame.render import mathml, text
from calc.frame.report import Amount, Figure, Report, Step

FUNCTIONS = (
    "sqrt",
    "exp",
    "log",
    "log10",
    "sin",
    "cos",
    "tan",
    "asin",
    "acos",
    "atan",
    "pi",
    "hypot",
)
_KNOWN = {name: getattr(math, name) for name in FUNCTIONS} | {"min": min, "max": max, "abs": abs}
WORDS = {"interval", "left", "run"}  # of the working that say themselves what they are
# What nobody should type, and somebody does.
HOSTILE = (
    "",
    " ",
    "abc",
    "-5",
    "0",
    "1e400",
    "1e-400",
    "nan",
    "inf",
    "12 V",
    "999999999",
    "-0",
    "½",
    "0x10",
    "<script>alert(1)</script>",
    "{0.__class__}",
    "{",
    "}",
    "%s",
    "'; drop",
    "\u202e5",
    "5\x00",
    "1.2.3",
    "1,2,3",
    "yes",
    "٣",
    "𝟙 W",
    "5 " * 100,
    "../../etc",
    "=1+1",
    "\\",
)


@dataclass(frozen=True)
class Broken:
    """A law that isn't kept. `formula` is the step's that breaks it, if it is one."""

    key: str
    sentence: str
    formula: str = ""


# --- The working -----------------------------------------------------------------------------


def working(report: Report) -> Iterator[Broken]:
    """The working shown is the working done: each step's formula, evaluated with the numbers beside
    it, gives the result beside it."""
    if not report.steps:
        yield Broken("working", "shows no step of its working: show.step(…)")
    for step in report.steps:
        for key, sentence in _step(step):
            yield Broken(key, f"“{step.formula}”: {sentence}", step.formula)


def _step(step: Step) -> Iterator[tuple[str, str]]:
    if not str(step.source).strip():
        yield "source", "names no source"
    right = step.formula.partition("=")[2].strip()
    try:
        tree = ast.parse(right, mode="eval")
        mathml.formula(step.formula)
    except (SyntaxError, ValueError):
        yield "formula", "is no formula of the form “t = V / Q”"
        return
    used = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)} - set(_KNOWN)
    for name in sorted(used - set(step.where)):
        yield "formula", f"“{name}” has no value beside it"
    for name in sorted(set(step.where) - used):
        yield "formula", f"the value of “{name}” beside it is not in it"
    if used != set(step.where):
        return
    values = {name: amount.value for name, amount in step.where.items()}
    try:
        result = eval(right, {"__builtins__": {}}, _KNOWN | values)
        near = math.isclose(result, step.result.value, rel_tol=2e-6, abs_tol=1e-9)
    except (ArithmeticError, ValueError, TypeError) as error:
        yield "formula", f"can't be worked out with the values beside it: {error}"
        return
    if not near:
        told = f"{result:.6g}, and the step's own value is {step.result.value:.6g}"
        yield "formula", f"with the values beside it, in SI units, it gives {told}"


def strangers(report: Report, known: Sequence[Named]) -> Iterator[Broken]:
    """Symbols of a working that the glossary hasn't, or not in that kind of unit."""
    named = {(one.symbol, one.kind) for one in known}
    for step in report.steps:
        found, equals, _ = map(str.strip, step.formula.partition("="))
        if not equals:
            continue  # no formula: `working` tells that
        for symbol, amount in (*step.where.items(), (found, step.result)):
            head = symbol.partition("_")[0]
            if head not in WORDS and (head, _kind(amount)) not in named:
                unit = amount.unit or "no unit"
                sentence = f"the glossary has no “{head}” in {unit}: say it in QUANTITIES"
                yield Broken("symbol", f"“{step.formula}”: {sentence}", step.formula)


def _kind(amount: Amount) -> str:
    return units.kind_of(amount.unit) if amount.unit else ""


# --- Whatever is typed -----------------------------------------------------------------------


def answered(outcome: Outcome, brief: Outcome) -> Iterator[Broken]:
    """Any input gives a report or named faults: never a NaN or an infinity. `brief` is the same
    with the verdict only, which is that of the whole answer."""
    if short(brief) != short(outcome):
        sentence = "is judged otherwise where the verdict alone is wanted: what decides has to be "
        yield Broken("verdict", f"{sentence}shown before `answer` returns")
    report = outcome.report
    if report is None:
        if not all(fault.sentence and fault.field for fault in outcome.bound.faults):
            yield Broken("fault", "refuses a value without saying which and why")
        return
    try:
        json.dumps(report.as_data(), allow_nan=False)
    except ValueError:
        yield Broken("not a number", "gives a number that is none, or that has no end")
    text.report(report, working=True)


def short(outcome: Outcome) -> tuple[str, ...]:
    """What a list of verdicts shows of an answer."""
    made = outcome.report
    if made is None:
        return tuple(map(str, outcome.bound.faults))
    return made.verdict, made.reason().text(), made.reason().text("us")


def unmoved_by_units(
    guide: Guide,
    calculator: Calculator,
    example: Mapping[str, Any],
    choose: Callable[[Sequence[str]], str],
) -> Iterator[Broken]:
    """Typing the same values in other units of their kinds gives the same report. `choose` takes
    one of a kind's units."""
    first = guide.run(calculator, example=example)
    if first.report is None:
        return
    typed = {}
    for name, asked in calculator.asks.fields.items():
        value = first.bound.values.get(name)
        if isinstance(asked, Quantity) and value is not None:
            symbol = choose(units.KINDS[asked.kind].units)
            number = units.from_si(value, symbol, asked.kind)
            if abs(number) < 1e14:
                typed[name] = f"{number!r} {symbol}"
    again = guide.run(calculator, typed, example=example)
    if again.report is None:
        told = "; ".join(map(str, again.bound.faults))
        yield Broken("units", f"refuses in other units what it takes: {told}")
        return
    if again.report.verdict != first.report.verdict:
        yield Broken("units", "another verdict once the same values are typed in other units")
    old, new = ([f.value.value for f in all_figures(r)] for r in (first.report, again.report))
    if len(old) != len(new) or not all(map(_alike, new, old)):
        yield Broken("units", "other figures once the same values are typed in other units")


def _alike(one: float, other: float) -> bool:
    return math.isclose(one, other, rel_tol=1e-6, abs_tol=1e-9)


def all_figures(report: Report) -> list[Figure]:
    """The figures of a report and of all its options."""
    return [*report.figures, *(f for option in report.options for f in option.figures)]


# --- What to try -----------------------------------------------------------------------------


def limits(made: Quantity) -> tuple[float, float] | None:
    """The least and the most [SI] that a field takes, or would take if it had such a limit; None
    where another field is the limit."""
    said = made.limits()
    if not said or any(isinstance(one, Other) for one in said.values()):
        return None
    read = {word: made.read(str(one)) for word, one in said.items()}
    usual = made.read(made.default) if made.default else 1.0
    low = read.get("at_least", read.get("above", min(0.0, usual)))
    return low, read.get("at_most", read.get("below", max(10 * usual, low + 1)))


def takes(made: Quantity, typed: str) -> bool:
    """Whether a field takes a text: what is written may be rounded beyond a limit."""
    value = units.trim(made.read(typed))
    said = {word: units.trim(made.read(str(one))) for word, one in made.limits().items()}
    return (
        value > said.get("above", -math.inf)
        and value >= said.get("at_least", -math.inf)
        and value < said.get("below", math.inf)
        and value <= said.get("at_most", math.inf)
    )


SHARES = (0.0, 1e-6, 0.03, 0.3, 1.0)  # of the way from the least to the most
MOST_RECORDS = 6


def edges(made: Field, guide: Guide) -> list[str]:
    """Texts that a field takes: at its limits, near them and between; each of a few choices."""
    if isinstance(made, Quantity):
        span = limits(made)
        low, high = span or (0.0, 0.0)
        found = [made.write(low + share * (high - low)) for share in SHARES] if span else []
        return [one for one in found if takes(made, one)]
    if isinstance(made, Whole):
        return [str(made.at_least), str(min(made.at_most, made.at_least + 40))]
    if isinstance(made, Choice):
        return list(made.choices)
    if isinstance(made, YesNo):
        return ["yes", "no"]
    if isinstance(made, Record):
        return list(made.choices(guide.shelves))[:MOST_RECORDS]
    return []


def cases(calculator: Calculator, guide: Guide, most: int) -> Iterator[dict[str, str]]:
    """A bounded number of forms to try, the same each time: each field at its edges, then many at
    once, then what is hostile."""
    found = {name: edges(made, guide) for name, made in calculator.asks.fields.items()}
    single = [{name: one} for name, texts in found.items() for one in texts]
    draw = random.Random(calculator.name)
    draw.shuffle(single)
    yield from single[: most // 2]
    filled = {name: texts for name, texts in found.items() if texts}
    for count in range(most - most // 2):
        form = {name: draw.choice(texts) for name, texts in filled.items() if draw.random() < 0.6}
        if count % 3 == 2:
            form[draw.choice(list(found))] = draw.choice(HOSTILE)
        yield form


def told(form: Mapping[str, str]) -> str:
    """A form as one would type it at a terminal."""
    return shortened(", ".join(f"{name}={one!r}" for name, one in form.items()), 200) or "nothing"
