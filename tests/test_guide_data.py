"""A guide's records apart from its code, as the engine is given them."""

from __future__ import annotations

import gc
import json
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import pytest

from calc import browser, stock
from site_build import engine

GUIDE = stock.guide()


@pytest.fixture(autouse=True)
def nothing_begun(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(browser, "_begun", None)
    yield


def all_answers(names: Sequence[str] = GUIDE.names()) -> list[str]:
    """Of calculators for every boat, and of those that no boat is named for."""
    boats: list[dict[str, str]] = [{}, *({"boat": key} for key in GUIDE.shelf("boat"))]
    return [
        browser.handle(json.dumps({"calculator": name, "example": boat}))
        for name in names
        for boat in boats
    ]


def test_a_guide_from_its_data_answers_as_before_whatever_was_rehearsed() -> None:
    expected = all_answers()
    browser.warm(engine.rehearsal())
    browser.begin(engine.rehearsal())
    other = all_answers()
    browser.begin(stock.data(GUIDE))
    assert all_answers() == expected
    assert sum(one != two for one, two in zip(other, expected, strict=True)) > len(expected) / 2
    assert stock.data(browser.guide()) == stock.data(GUIDE)


def texts(held: Iterable[object]) -> Iterator[str]:
    """All texts that objects hold, those in plain tuples and dicts of texts too."""
    for found in held:
        inside = gc.get_referents(found)
        yield from (one for one in inside if isinstance(one, str))
        yield from texts(
            one for one in inside if isinstance(one, (tuple, dict)) and not gc.is_tracked(one)
        )


def test_what_was_rehearsed_is_forgotten() -> None:
    """The memory in which it happens is sent to every reader."""
    browser.begin(engine.rehearsal())
    browser._begun = None
    browser.warm(engine.rehearsal())
    held = [one for one in texts(gc.get_objects()) if " to rehearse with" in one]
    assert not [one for one in held if one[:6] == "from A"]  # as notes of fields say it


def test_one_changed_record_changes_the_answers_that_rest_on_it() -> None:
    data = json.loads(stock.data(GUIDE))
    browser.begin(json.dumps(data))
    before = all_answers()
    data["records"]["unit"]["skerry-45"]["product_flow"] = "31 L/h"
    browser.begin(json.dumps(data))
    assert browser.guide().shelf("unit")["skerry-45"].texts["product_flow"] == "31 L/h"
    assert all_answers() != before
    browser.begin(stock.data(GUIDE))
    assert all_answers() == before


def test_prices_are_told_in_the_money_of_the_guide_and_nothing_else_changes() -> None:
    names = ("cost", "power", "water")  # the last tells no price
    browser.begin(stock.data(GUIDE))
    before = all_answers(names)
    browser.begin(stock.data(replace(GUIDE, money="€")))
    told = all_answers(names)
    assert [one.replace("€", "¤") for one in told] == before
    assert [one == two for one, two in zip(told, before, strict=True)].count(True) == len(told) / 3
    for one in told:  # what is filled in stays as forms and files have it
        shown = re.sub(r'data-try="[^"]*"', "", json.loads(one)["slots"]["answer"])
        assert "¤" not in shown
    assert browser.guide().money == "€"
    browser.begin(stock.data(GUIDE))
    assert all_answers(names) == before


def test_a_record_that_was_never_right_is_told_when_it_is_asked_for() -> None:
    data = json.loads(stock.data(GUIDE))
    data["records"]["motor"]["wick-075-50"]["mass"] = "heavy"
    shelf = stock.from_data(json.dumps(data)).shelf("motor")
    assert list(shelf) == list(GUIDE.shelf("motor")) and len(shelf) == len(GUIDE.shelf("motor"))
    with pytest.raises(ValueError, match=r"wick-075-50.*mass"):
        shelf["wick-075-50"]
    with pytest.raises(KeyError):
        shelf["no-such"]


@pytest.mark.parametrize("name", GUIDE.names())
def test_every_calculator_can_be_rehearsed(name: str) -> None:
    """What the engine's memory is taken after: an answer, by the records of site_build/rehearsal.toml."""
    guide = stock.from_data(engine.rehearsal())
    outcome = guide.run(guide.get(name))
    assert outcome.report is not None, [str(fault) for fault in outcome.bound.faults]
    for key in guide.shelf("boat"):
        assert guide.run(guide.get(name), example={"boat": key}).report is not None
    assert all(guide.shelf(kind) for kind in ("unit", "boat", "task", "part"))
