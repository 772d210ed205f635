"""All that a guide shows, in the language made by machine: no word of it stays English."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from typing import Any

import pytest
from pseudo import KEPT, pseudo

from calc import stock
from calc.frame import service, units
from calc.frame.guide import Guide
from calc.frame.inputs import Choice, Date, Field, Log, Quantity, Record, Rows, Text, Whole, YesNo
from calc.frame.language import speaking
from calc.frame.render import html, text
from calc.physics import conductors, speech

NAMES = stock.guide().names()
# Attributes that a reader hears or sees.
TOLD = ("aria-label", "title", "alt", "placeholder", "data-told")
_EMPTY = {"input", "br", "img", "path", "rect", "circle", "hr", "meta", "link", "line"}
_APART = {"math", "style", "script", "textarea"}  # symbols, not words; a log as it was written


@cache
def guide() -> Guide:
    return replace(stock.guide(), language=pseudo())


class _Words(HTMLParser):
    """The words of a page, without those that are marked as another language's."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.words: list[str] = []
        self._open: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        apart = (
            tag in _APART or named.get("lang") == "en" or (bool(self._open) and self._open[-1][1])
        )
        if not apart:
            self.words += [value for name, value in attrs if name in TOLD and value]
        if tag not in _EMPTY:
            self._open.append((tag, apart))

    def handle_endtag(self, tag: str) -> None:
        while self._open and self._open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if not (self._open and self._open[-1][1]):
            self.words.append(data)


def words_of(page: str) -> list[str]:
    reader = _Words()
    reader.feed(page)
    reader.close()
    return reader.words


@cache
def names() -> re.Pattern[str]:
    """What is a name or a sign and stays as it is: records, keys that one types, units' symbols."""

    def texts(part: Any) -> Iterator[str]:
        if isinstance(part, str):
            yield part
        elif isinstance(part, dict):
            for one in part.values():
                yield from texts(one)
        elif isinstance(part, (list, tuple)):
            for one in part:
                yield from texts(one)

    shelves = stock.guide().shelves.values()
    records = [one for shelf in shelves for record in shelf.values() for one in texts(record.texts)]
    records += [key for shelf in shelves for key in shelf]
    records += [cell for one in records if "\n" in one for cell in re.split(r"[,\n]", one)]
    records += [one.texts["name"].partition(",")[0] for one in stock.guide().shelf("boat").values()]
    records += stock.guide().shelves
    records += [one.source for one in speech.CRITERIA.values()]
    sizes = [size.name for size in (*conductors.GAUGES, *conductors.METRIC)]
    fields = [made for name in NAMES for made in stock.guide().get(name).asks.fields.values()]
    fields += [
        cell for made in fields if isinstance(made, Rows) for cell in made.row.fields.values()
    ]
    records += [key for made in fields if isinstance(made, Choice) for key in made.choices]
    records += [made.default for made in fields if isinstance(made, Text)]
    records += [
        one
        for made in fields
        if isinstance(made, Rows)
        for row in made.example
        for one in texts(row)
    ]
    with speaking(pseudo()):
        mark = units.decimal_mark.set(",")
        records += [units.in_system(one, "us") for one in records]
        units.decimal_mark.reset(mark)
    symbols = [units.pretty(symbol) for _, symbol in units.UNITS if symbol]
    known = sorted({one for one in (*records, *sizes) if len(one) > 2}, key=len, reverse=True)
    signs = sorted({one for one in symbols if len(one) > 1}, key=len, reverse=True)
    return re.compile(
        r"(?<![^\W\d_])(?:" + "|".join(map(re.escape, [*known, *signs])) + r")(?![^\W\d_])"
    )


FILES = re.compile(r"[\w-]+\.(?:ics|csv|svg|html|json)")


def english(told: str, typed: str = "") -> list[str]:
    """The English that a text still has: letters without an accent, three and more."""
    plain = re.sub(r"[^·;]*…", " ", " ".join(told.split()))  # a name that was cut
    for known in (FILES, names(), KEPT):
        plain = known.sub(" ", plain)
    return [one for one in re.findall(r"[A-Za-z]{3,}", plain) if one not in typed]


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
def test_no_answer_form_or_card_keeps_a_word_of_english(name: str) -> None:
    made = guide().get(name)
    left: dict[str, str] = {}
    for request in forms(name, 12):
        typed = json.dumps(request)
        shown = []
        for do in ("answer", "card", "figures"):
            reply = json.loads(service.handle(json.dumps({**request, "do": do}), guide()))
            shown += [reply["error"] or "", reply.get("csv", ""), reply.get("text", "")]
            pages = [*reply.get("slots", {}).values(), reply.get("html", "")]
            shown += [word for page in pages for word in words_of(page)]
        with speaking(pseudo()):
            run = (made, request["typed"], request.get("sheet"), request["example"])
            outcome = guide().run(*run, request["today"], own_boat="own" in request)
            shown += words_of(html.form(made, outcome.bound, request["units"], "p-"))
            if outcome.report:
                shown.append(text.brief(outcome.report))
                shown += [one for file in outcome.report.downloads for one in _events(file.text)]
        for told in shown:
            for word in english(told, typed):
                left.setdefault(word, told[:200])
    assert left == {}


def _events(text: str) -> list[str]:
    """What a calendar's file tells a reader; files for other programs tell nobody."""
    whole = re.sub(r"\\([,;])", r"\1", text.replace("\r\n ", "").replace("\\n", " "))
    return re.findall(r"^(?:SUMMARY|DESCRIPTION|NAME):(.*)$", whole, re.MULTILINE)
