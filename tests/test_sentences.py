"""Each sentence told is one literal of the source, so that it can be read, and put into another
language, whole: slots take amounts, terms and counts, never pieces of sentences."""

from __future__ import annotations

import ast
import dataclasses
import re
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from english import texts
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from legal import legal_forms

from calc import stock
from calc.frame.report import Amount, Line, Option, Report
from calc.physics import conductors

CALC = Path(__file__).parents[1] / "calc"
NAMES = stock.guide().names()
# Parts of a report that no reader reads, or that are files of their own.
SILENT = {"key", "unit", "formula", "style", "kind", "anchor", "media_type", "sets", "mends"}
APART = {"title", "question", "downloads", "cautions", "wanted", "picture", "facts"}
APART |= {"ask"}  # whom it asks: another answer, with a law of its own
# A term is short and begins no sentence: a name, a size, a number, "pump".
TERM = re.compile(r"(?:[^.;:!?]|(?<=\d)\.(?=\d)){0,60}")
SIZES = frozenset(size.name for size in (*conductors.GAUGES, *conductors.METRIC))  # of cable


@cache
def literals() -> frozenset[str]:
    """Every string constant of the package."""
    found = set()
    for path in CALC.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found.add(node.value)
    return frozenset(found)


@cache
def names() -> frozenset[str]:
    """What records are called, and what they tell."""

    guide = stock.guide()
    shelves = [guide.shelf(kind) for kind in guide.kinds]
    records = [record for shelf in shelves for record in shelf.values()]
    return frozenset(text for record in records for text in texts(record.texts))


def told(part: Any) -> Iterator[tuple[str, str]]:
    """Every template, plain text and text in a slot that a part tells, by which of these it is."""
    if isinstance(part, Line):
        yield "template", part.template
        for slot in part.amounts.values():
            if isinstance(slot, str):
                yield "slot", slot
            elif isinstance(slot, Line):
                yield from told(slot)
    elif isinstance(part, str):
        yield "text", part
    elif dataclasses.is_dataclass(part) and not isinstance(part, (Amount, type)):
        for made in dataclasses.fields(part):
            if made.name not in SILENT and not (
                made.name == "name" and not isinstance(part, Option)
            ):
                yield from told(getattr(part, made.name))
    elif isinstance(part, Mapping):
        for one in part.values():
            yield from told(one)
    elif isinstance(part, (list, tuple)):
        for one in part:
            yield from told(one)


def listed(text: str) -> list[str]:
    """What a list of quoted names names; of any other text that itself."""
    return re.findall("“([^”]*)”", text) if re.fullmatch("“[^”]*”(?:, “[^”]*”)*", text) else [text]


def pieces(report: Report, typed: frozenset[str] = frozenset()) -> list[tuple[str, str]]:
    """What is told and stands nowhere in the source as a whole."""
    known = literals() | names() | typed | SIZES
    wrong = []
    for name, part in vars(report).items():
        for kind, text in () if name in APART else told(part):
            if kind == "slot" and all(TERM.fullmatch(one) for one in listed(text)):
                continue
            size = re.sub(r"^\d × ", "", text)
            if text and size not in known and not re.fullmatch(r"[\d\W]*", text):
                wrong.append((kind, text))
    return wrong


@pytest.mark.parametrize("name", NAMES)
@given(st.data())
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
def test_each_sentence_is_a_literal_of_the_source(name: str, data: st.DataObject) -> None:
    typed = data.draw(legal_forms(name))
    boat = data.draw(st.sampled_from(["ketch", "catamaran"]))
    made = stock.guide().run(stock.guide().get(name), typed, example={"boat": boat})
    if made.report is not None:
        assert pieces(made.report, frozenset(texts(typed))) == []


def test_the_law_finds_a_sentence_put_together() -> None:
    made = Report("", "")
    made.headline("the working pressure is {p}; the {w} bears {m} at most", w="pump")
    assert pieces(made) == []
    made.note("never " + "mind".replace("d", "t") + ", this is no sentence of ours")
    made.fail("key", "“{name}” gives {v} at {f}", name="because it is old; ask him.")
    made.note("“{name}” gives {v} at {f}", name="“oil”, “ask him; he knows”")
    assert sorted(kind for kind, _ in pieces(made)) == ["slot"] * 2 + ["template"] * 3
