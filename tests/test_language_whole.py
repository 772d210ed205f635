"""All that a guide shows, in the language made by machine: no word of it stays English."""

from __future__ import annotations

import copy
import json
import random
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from english import english, words_of
from pseudo import pseudo

from calc import stock
from calc.frame import service, units
from calc.frame.guide import Guide
from calc.frame.inputs import Choice, Date, Field, Log, Quantity, Record, Rows, Text, Whole, YesNo
from calc.frame.render import html, inputs_text, text
from calc.frame.report import Report
from site_build.language_sites import Spoken

NAMES = stock.guide().names()


@cache
def guide() -> Guide:
    return replace(stock.guide(), language=pseudo())


WRONG = [
    "",
    "abc",
    "-7",
    "1e30",
    "7 furlongs",
    "3 gal",
    "1,2,3",
    "5 kg",
    "12 V",
    "3 l/h",
    "x" * 300,
]


def forms(name: str, count: int) -> Iterator[dict[str, Any]]:
    """The example boats as they are, then forms at random, of which every third holds what can't
    be."""
    chance = random.Random(name)
    boats = list(stock.guide().shelf("boat"))
    for index in range(count):
        fields = stock.guide().get(name).asks.fields
        typed = {
            key: _typed(made, chance, wrong=index % 3 == 2)
            for key, made in fields.items()
            if index >= len(boats) and chance.random() < (0.3, 0.1, 0.05)[index % 3]
        }
        yield {
            "calculator": name,
            "typed": typed,
            "example": {"boat": boats[index % len(boats)]},
            "units": units.SYSTEMS[index % 3],
            "today": "2026-03-04",
            "day": "2026-03-04",
            "decimal": ",",
            **({"own": True, "sheet": {}} if index % 4 == 3 else {}),
        }


def _typed(made: Field, chance: random.Random, wrong: bool) -> Any:
    if isinstance(made, Rows):
        return [
            {key: _typed(one, chance, wrong) for key, one in made.row.fields.items()}
            for _ in range(chance.choice([0, 1, 2]))
        ]
    if wrong:
        return chance.choice(WRONG)
    if isinstance(made, Quantity):
        limits = [limit for limit in made.limits().values() if isinstance(limit, str)]
        return chance.choice([made.default, *limits])
    if isinstance(made, Choice):
        return chance.choice(list(made.choices))
    if isinstance(made, Record):
        return chance.choice(list(made.choices(stock.guide().shelves)))
    if isinstance(made, YesNo):
        return chance.choice(["yes", "no"])
    if isinstance(made, Whole):
        return str(chance.choice([made.at_least, made.at_least + 1, made.at_most]))
    if isinstance(made, Date):
        return chance.choice(["2026-05-01", "2025-12-01"])
    return "" if isinstance(made, Log) else "7" if isinstance(made, Text) else ""


@pytest.mark.parametrize("name", NAMES)
def test_no_answer_form_or_card_keeps_a_word_of_english(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(text.textwrap, "wrap", lambda told, _: [told])  # no name in two pieces
    made = guide().get(name)
    left: dict[str, str] = {}
    for request in forms(name, 8):
        typed = json.dumps(request)
        shown = []
        for do in ("answer", "card", "figures"):
            reply = json.loads(service.handle(json.dumps({**request, "do": do}), guide()))
            shown += [reply["error"] or "", reply.get("csv", ""), reply.get("text", "")]
            pages = [*reply.get("slots", {}).values(), reply.get("html", "")]
            shown += [word for page in pages for word in words_of(page)]
        with Spoken(pseudo()).speaking():
            run = (made, request["typed"], request.get("sheet"), request["example"])
            outcome = guide().run(*run, request["today"], own_boat="own" in request)
            shown += words_of(html.form(made, outcome.bound, request["units"], "p-"))
            if outcome.report:
                shown.append(text.brief(outcome.report))
                shown.append(text.report(_words_of_working(outcome.report), request["units"], True))
                shown += [one for file in outcome.report.downloads for one in _events(file.text)]
        for told in shown:
            for word in english(told, stock.guide(), typed):
                left.setdefault(word, told[:200])
    assert left == {}


def _words_of_working(made: Report) -> Report:
    """A report without what stays as it is written: its formulas, their symbols, works cited."""
    told = copy.copy(made)
    told.steps = [
        replace(
            one,
            formula="",
            source="",
            where={str(at): amount for at, amount in enumerate(one.where.values())},
        )
        for one in made.steps
    ]
    return told


@pytest.mark.parametrize("name", NAMES)
def test_no_help_at_a_terminal_keeps_a_word_of_english(name: str) -> None:
    with Spoken(pseudo()).speaking():
        told = inputs_text.told(guide().get(name), guide())
    typed = re.compile(r"(?m)^ *[\w.…]+=.*$|\b[a-z]+(?:_[a-z]+)+\b")  # fields and their values
    assert english(typed.sub("", told), stock.guide()) == []


def _events(text: str) -> list[str]:
    """What a calendar's file tells a reader; files for other programs tell nobody."""
    whole = re.sub(r"\\([,;])", r"\1", text.replace("\r\n ", "").replace("\\n", " "))
    return re.findall(r"^(?:SUMMARY|DESCRIPTION|NAME):(.*)$", whole, re.MULTILINE)
