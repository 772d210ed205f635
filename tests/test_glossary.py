"""The glossary of quantities and what the guide asks and works with are of one kind."""

from __future__ import annotations

import pytest

from calc import glossary, stock
from calc.frame import units
from calc.frame.inputs import Quantity
from site_build import laws, pages
from site_build.told import with_folds

ALL = glossary.of(stock.guide())


@pytest.mark.parametrize("name", stock.guide().names())
def test_each_symbol_of_the_working_is_in_the_glossary_with_its_kind_of_unit(name: str) -> None:
    example = dict(pages.places(pages.DOCS)[name].example)
    report = stock.guide().run(stock.guide().get(name), {}, example=example).report
    assert report is not None and report.steps
    assert list(laws.strangers(report, ALL)) == []


def labels() -> dict[str, set[str]]:
    """The kinds of unit that each label of an input asks for."""
    guide = stock.guide()
    forms = [*(guide.get(n).asks.fields for n in guide.names())]
    forms += [kind.fields for kind in guide.kinds.values()]
    found: dict[str, set[str]] = {}
    for field in (field for fields in forms for field in fields.values()):
        if isinstance(field, Quantity):
            unit = units.kind_of(field.unit) if field.unit else ""
            found.setdefault(str(field.label), set()).add(unit)
    return found


def test_what_is_asked_for_is_asked_in_the_glossarys_kind_of_unit() -> None:
    asked = labels()
    wrong = [
        (one.name, label, asked.get(label))
        for one in ALL
        for label in one.asked
        if one.kind not in asked.get(label, ())
    ]
    assert wrong == []


def test_no_quantity_stands_twice_nor_without_words() -> None:
    named = [(one.name, one.unit) for one in ALL]
    assert len(named) == len(set(named))
    for one in ALL:
        assert one.name and one.meaning.endswith(".") and one.group, one


def test_the_page_shows_every_quantity_with_its_unit() -> None:
    page = pages.Page("glossary.md")
    html = pages.fill(pages.prepare("```glossary\n```\n", page), page)
    assert html.count('<th scope="row">') == len(ALL)
    assert "<mi>Δp</mi>" in html and "m³/h" in html and "<td></td>" not in html
    folded = with_folds(html)
    assert folded.count('<details class="told">') == len({one.group for one in ALL})
    assert folded.count('<th scope="row">') == len(ALL), "each in its fold"
