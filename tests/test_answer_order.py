"""The answer first: verdict, what to do, the numbers one came for, one picture; the rest folded."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from html import escape
from html.parser import HTMLParser
from typing import Any

import pytest

from calc import stock
from calc.frame.guide import Calculator, Outcome
from calc.frame.inputs import Choice, Presence
from calc.frame.render import card, html
from calc.frame.report import FITS, Figure, Report, say
from site_build.pages import DOCS, places

GUIDE = stock.guide()
NAMES = GUIDE.names()
BOATS = sorted(GUIDE.shelf("boat"))
PLACES = places(DOCS)


def made(name: str, boat: str) -> Outcome:
    return GUIDE.run(GUIDE.get(name), example={**PLACES[name].example, "boat": boat})


VOID = {"input", "br", "meta", "link", "img"}


class Parts(HTMLParser):
    """Classes of a text's elements with those they stand in, in order."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.inside: list[str] = []
        self.found: list[tuple[str, tuple[str, ...]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        name = f"{tag}.{dict(attrs).get('class') or ''}"
        self.found.append((name, tuple(self.inside)))
        if tag not in VOID:
            self.inside.append(name)

    def handle_endtag(self, tag: str) -> None:
        self.inside.pop()

    def where(self, name: str) -> list[tuple[str, ...]]:
        return [inside for one, inside in self.found if one.startswith(name)]


@pytest.mark.parametrize("boat", BOATS)
@pytest.mark.parametrize("name", NAMES)
def test_an_answer_stands_in_the_order_of_the_house(name: str, boat: str) -> None:
    outcome = made(name, boat)
    assert outcome.report is not None
    shown = html.answer(outcome)
    order = [
        "verdict verdict-",
        'class="headline"',
        'class="wanted"',
        'class="plain verdicts"',  # a table that is the answer itself
        'class="picture"',
        "cautions",
        "answer-rest",
    ]
    places = [shown.index(one) for one in order if one in shown]
    assert places == sorted(places)
    first = shown.partition('class="answer-rest"')[0]
    assert first.count('class="picture"') <= 1
    assert first.count("<li") - first.partition('class="cautions"')[2].count("<li") <= html.FEW_WAYS
    parts = Parts(shown)
    assert all(
        not any("details" in one for one in inside) for inside in parts.where("aside.cautions")
    )
    assert len(parts.where("table.plain verdicts")) <= 1
    for kind in ("table.plain wide", "table.plain grid", "table.figures", "section.option"):
        assert all(any("details" in one for one in inside) for inside in parts.where(kind)), kind
    folded = [*parts.where("table."), *parts.where("div.notes")]
    opened = [inside for inside in folded if not any("details" in one for one in inside)]
    assert len(opened) == len(parts.where("table.plain verdicts"))
    folds = re.findall(r'<details class="fold"[^>]*><summary>(.*?)</summary>', shown)
    assert folds
    assert all(re.search(r'class="fold-line">[^<]', one) for one in folds), "told in a line"
    keys = re.findall(r'data-key="([^"]*)"', shown)
    assert len(keys) == len(set(keys)), "else a fold opened by the reader is mixed up with another"


@pytest.mark.parametrize("name", NAMES)
def test_the_numbers_one_came_for_and_the_picture_are_named_in_the_calculator(name: str) -> None:
    calculator = GUIDE.get(name)
    assert len(calculator.wanted) >= 2
    known: set[str] = set()
    drawn: set[str] = set()
    for boat, typed in itertools.product(BOATS, _ways_to_ask(calculator)):
        example = {**PLACES[name].example, "boat": boat}
        report = GUIDE.run(calculator, typed, example=example).report
        if report is None:
            continue
        parts = [report, *report.options]
        known |= {figure.key for part in parts for figure in part.figures}
        pictures = (report.drawings, report.charts, report.timelines, report.bars)
        drawn |= {one.key for some in pictures for one in some}
        assert len(report.wanted_figures()) >= 2, "an answer has some of them"
        if known >= {*calculator.wanted} and calculator.picture in {*drawn, ""}:
            return
    raise AssertionError((set(calculator.wanted) - known, calculator.picture))


def _ways_to_ask(calculator: Calculator) -> Iterator[dict[str, str]]:
    """As the example is, and with each other choice of what is asked first."""
    yield {}
    for name, field in calculator.asks.fields.items():
        if isinstance(field, Presence):
            yield {name: "no"}
        elif isinstance(field, Choice) and field.open:
            yield from ({name: key} for key in field.choices)


def test_what_need_not_be_done_is_folded() -> None:
    show = Report("Test", "")
    show.figure("a", "A", 1.0, "h", at_most=2.0)
    for _ in range(5):
        show.remedy("Take less.")
    assert show.verdict == FITS
    assert "remedies" not in html.report(show).partition("answer-rest")[0]
    show.figure("b", "B", 3.0, "h", at_most=2.0)
    first, _, rest = html.report(show).partition("answer-rest")
    assert first.count("Take less") == html.FEW_WAYS and rest.count("<li>Take less") == 2


def test_the_best_way_s_remedies_are_told_once() -> None:
    show = Report("Test", "")
    way = show.option("one", "One")
    way.figure("a", "A", 3.0, "h", at_most=2.0)
    way.remedy("Take {x}.", x=(1.0, "h"), sets={"a": "1 h"})
    assert html.report(show).count("data-try=") == 1


def test_what_mends_what_decides_is_told_first() -> None:
    """And where all figures hold and a reservation decides, nothing else stands open."""
    show = Report("Test", "")
    way = show.option("one", "One")
    way.figure("a", "A", 3.0, "h", at_most=2.0)
    way.figure("b", "B", 3.0, "h", at_most=1.0)
    way.remedy("Less of a.", sets={"a": "1 h"}, mends="a")
    way.remedy("Anything else.")
    way.remedy("Less of b.", sets={"b": "1 h"}, mends="b")
    assert show.decided_by == "b"
    first, more = show.ways(2)
    assert [one.text() for one in first] == ["Less of b.", "Less of a."]
    assert [one.text() for one in more] == ["Anything else."]

    show = Report("Test", "")
    way = show.option("one", "One")
    way.figure("a", "A", 1.0, "h", at_most=2.0)
    way.reservation("once", "only once")
    way.remedy("How far it reaches.")
    assert [one.text() for one in show.ways(3)[0]] == ["How far it reaches."]
    way.remedy("Often.", sets={"a": "1 h"}, mends="once")
    first, more = show.ways(3)
    assert [one.text() for one in first] == ["Often."] and len(more) == 1
    page = html.report(show)
    assert page.index("Often") < page.index("answer-rest") < page.index("How far it reaches")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("boat", BOATS)
def test_a_card_has_the_row_that_decides(name: str, boat: str) -> None:
    """However many figures come before it, and no more rows for it."""
    outcome = made(name, boat)
    report = outcome.report
    assert report is not None
    part = report.decider or report
    decides = [f for f in part.figures if f.key == report.decided_by and f.limit and f.decides]
    told = card.answer_card(GUIDE.get(name), outcome, card.Imprint())
    table = re.findall(r'<table class="figures">(.*?)</table>', told, re.DOTALL)
    rows = re.findall(r"<tr>(.*?)</tr>", "".join(table), re.DOTALL)
    assert len(rows) <= card.MOST_FIGURES
    for one in decides:
        assert one.limit is not None
        cells = f"<td>{escape(one.value.text())}</td>", f" {escape(one.limit.text())}</td>"
        label = escape(say(one.label))
        assert any(label in row and all(cell in row for cell in cells) for row in rows)


def test_the_row_that_decides_is_told_of_more_than_a_card_has_room_for() -> None:
    """Else the law above would never be tried."""
    held = [f for f in _held(made("power", "ketch").report) if f.limit and f.decides]
    assert len(held) > card.MOST_FIGURES


def _held(report: Report | None) -> list[Figure]:
    assert report is not None
    best = report.best_option()
    return [*report.figures, *(best.figures if best else [])]
