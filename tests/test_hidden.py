"""Stock pages that an edition hides: what led to them follows."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from calc import stock
from site_build import hidden, making
from site_build.edition import Edition
from site_build.pages import DOCS, Page, boat_sheet, fill, in_order, places, prepare

HIDDEN = ("bulkhead.md", "upkeep.md", "cost.md", "harm.md", "steps.md")


@pytest.fixture(autouse=True)
def made() -> Iterator[None]:
    edition = Edition(folder=Path("nowhere"), name="Tern Water", hidden=HIDDEN)
    with making.within(edition, stock.guide()):
        yield


def test_the_navigation_has_neither_hidden_pages_nor_empty_parts() -> None:
    nav = [
        {"Home": "index.md"},
        {"Upkeep": [{"The year": "upkeep.md"}, {"Steps": "steps.md"}]},
        {"Wrong": [{"Harm": "harm.md"}]},
        "cost.md",
    ]
    assert hidden.nav(nav) == [{"Home": "index.md"}, {"Upkeep": [{"Steps": "steps.md"}]}]


def test_what_other_pages_steps_lead_to_stays() -> None:
    assert not hidden.is_hidden("steps.md"), "the pressure is taken off there"
    assert hidden.is_hidden("upkeep.md")


@pytest.mark.parametrize(
    ("markdown", "told"),
    [
        ("See [the year](upkeep.md).", "See the year."),
        (
            "See [the year](upkeep.md#oil), [oil](steps.md#oil).",
            "See the year, [oil](steps.md#oil).",
        ),
        ("![a](upkeep.md)", "![a](upkeep.md)"),
        ("[out](https://example.org/upkeep.md)", "[out](https://example.org/upkeep.md)"),
    ],
)
def test_links_to_hidden_pages_become_words(markdown: str, told: str) -> None:
    assert hidden.without_links(markdown, "power.md") == told


def test_no_page_that_appears_links_to_one_that_does_not() -> None:
    for path in hidden.shown(DOCS):
        text = hidden.without_links(path.read_text("utf-8"), path.name)
        assert not re.findall(rf"\]\((?:{'|'.join(HIDDEN[:-1])})", text), path


def test_the_list_of_answers_and_the_pack_follow() -> None:
    assert "upkeep" not in places(DOCS) and "cost" not in places(DOCS)
    assert "power" in places(DOCS)
    assert "upkeep" not in in_order(DOCS)
    listed = boat_sheet(Page("boat.md"))
    assert "power.html" in listed
    assert not re.search(r"(?:upkeep|cost)\.html", listed)


def test_a_calculator_whose_page_is_hidden_may_stand_on_another() -> None:
    """The mount of the hidden bulkhead has a page of its own; a page of the edition's may ask."""
    page = Page("own.md")
    made = fill(prepare('```calculator upkeep\nboat = "example"\n```\n', page), page)
    assert 'data-calculator="upkeep"' in made
