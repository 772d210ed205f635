"""An answer in two steps, each told as what differs from what the page holds, is the whole answer."""

from __future__ import annotations

import gc
import itertools
import json
import weakref
from typing import Any

import legal
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import browser, stock
from calc.frame import held
from calc.frame.render import html

KINDS = ("parts", "slots", "values", "settled", "attributes")
FORMS = settings(
    max_examples=5, deadline=None, database=None, suppress_health_check=list(HealthCheck)
)
_names = map(str, itertools.count())


def handle(**request: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(browser.handle(json.dumps(request)))
    assert reply["error"] is None
    return reply


class Page:
    """What a page does with the replies: it puts them over what it holds."""

    def __init__(self) -> None:
        self.name = ""
        self.holds: dict[str, dict[str, Any]] = {kind: {} for kind in KINDS}
        self.order: list[str] = []

    def ask(self, **request: Any) -> dict[str, Any]:
        name = next(_names)
        reply = handle(**{"as": name, "over": self.name, **request})
        if reply["over"] is None:
            self.holds = {kind: {} for kind in KINDS}
        for kind in KINDS:
            self.holds[kind].update(reply[kind])
            for key in reply["gone"].get(kind, []):
                del self.holds[kind][key]
        self.name, self.order = name, reply["order"]
        return reply

    def answer(self, **request: Any) -> list[str]:
        """Asks in both steps; what is seen first."""
        reply = self.ask(**request)
        first = [self.holds["parts"][name] for name in self.order]
        if reply["more"]:
            told = {key: request[key] for key in ("units", "decimal") if key in request}
            assert not self.ask(do="rest", of=self.name, **told)["more"]
        assert first == [
            self.holds["parts"][name] for name in self.order if not name.startswith(html.REST)
        ], "what is seen first does not change when the rest comes"
        return first

    @property
    def shown(self) -> dict[str, Any]:
        """All that the page shows, as it is told at once."""
        parts = {name: self.holds["parts"][name] for name in self.order}
        assert set(parts) == set(self.holds["parts"])
        slots = {**self.holds["slots"], "answer": html.joined(parts)}
        return {**self.holds, "slots": slots}


@pytest.mark.parametrize("name", stock.guide().names())
def test_both_steps_over_any_other_answer_are_the_whole(name: str) -> None:
    page = Page()
    boats = st.sampled_from(list(stock.guide().shelf("boat")))

    @FORMS
    @given(legal.legal_forms(name), boats, st.booleans(), st.sampled_from(["metric", "us"]))
    def law(typed: dict[str, Any], boat: str, own: bool, units: str) -> None:
        request = {"calculator": name, "typed": typed, "units": units, "decimal": ","}
        if own:
            request |= {"sheet": stock.guide().shelf("boat")[boat].texts, "own": True}
        else:
            request |= {"example": {"boat": boat}}
        page.answer(**request)
        whole = handle(**request)
        assert page.shown == {"parts": page.holds["parts"], **{k: whole[k] for k in KINDS[1:]}}

    law()


def test_only_what_differs_is_told() -> None:
    page = Page()
    request = {"calculator": "power", "example": {"boat": "ketch"}}
    page.answer(**request)
    again = page.ask(**request)
    assert not any(again[kind] for kind in KINDS) and not again["gone"]
    other = page.ask(**request, typed={"bank_capacity": "150 Ah"})
    assert {"verdict", "first.wanted"} & set(other["parts"]) and "first" not in other["parts"]
    assert "field.bank_capacity" in other["slots"] and len(other["slots"]) < 10
    assert not any(name.startswith(html.REST) for name in other["parts"])


def test_what_is_not_known_any_more_is_told_whole() -> None:
    """After a start of the engine, and where too much was asked since."""
    page = Page()
    request = {"calculator": "running", "example": {"boat": "ketch"}}
    page.answer(**request)
    held._held.clear()
    assert page.ask(**request)["over"] is None
    held._later.clear()
    assert handle(do="rest", of=page.name, **{"as": "n"}) == {"error": None, "lost": True}
    page.answer(**request)
    for _ in range(held._MOST):
        Page().ask(**request)
    assert page.ask(**request)["over"] is None


def test_faults_take_the_place_of_both_steps() -> None:
    page = Page()
    request = {"calculator": "power", "example": {"boat": "ketch"}}
    page.answer(**request)
    reply = page.ask(**request, typed={"bank_capacity": "x"})
    assert not reply["more"] and "verdict" in reply["parts"]
    assert {name for name in page.holds["parts"] if name.startswith(html.REST)} == set()
    page.answer(**request)
    assert page.shown["slots"]["answer"] == handle(**request)["slots"]["answer"]


@pytest.mark.parametrize("name", stock.guide().names())
def test_an_answer_that_nobody_holds_is_gone_without_a_collector(name: str) -> None:
    """Looking for what only holds itself takes long in the midst of an answer."""
    guide = stock.guide()
    gc.disable()
    try:
        for steps in ({}, {"in_steps": True}, {"verdict_only": True}):
            outcome = guide.run(guide.get(name), {}, example={"boat": "ketch"}, **steps)
            whole = outcome.whole()
            assert whole.report is not None
            held_by = [weakref.ref(one) for one in (outcome, whole, whole.report, whole.bound)]
            del outcome, whole
            assert [one() for one in held_by] == [None] * len(held_by)
    finally:
        gc.enable()
