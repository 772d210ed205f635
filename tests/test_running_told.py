"""Starting and stopping as it is told: words for each step, verdicts, remedies, page and card."""

from __future__ import annotations

import itertools
from html import escape
from typing import Any

import pytest
from answers import answered, value
from hands import BOATS, ORDERS
from test_remedies import check_remedies

from calc import stock
from calc.calculators import _order as words
from calc.frame.render import card, html
from calc.frame.report import FAILS, FITS, TIGHT, Line, Report
from calc.system.running import RUNNING, THREE_WAY, TWO, Gear, start, stop


def told(**typed: Any) -> Report:
    return answered("running", typed, "ketch")


def test_each_step_has_words_and_no_words_are_left_over() -> None:
    known = {"start": words.START, "stop": words.STOP, "emergency": words.EMERGENCY}
    for name, order in ORDERS.items():
        assert {step.key for gear in BOATS for step in order(gear)} == set(known[name]), name
        assert all(do and why for do, why in known[name].values())


def test_the_tables_are_the_steps_numbered() -> None:
    made = told()
    gear = Gear(
        True, TWO, THREE_WAY, True, True, THREE_WAY, False, True, False, True, True, True, RUNNING
    )
    known = {"start": words.START, "stop": words.STOP, "emergency": words.EMERGENCY}
    assert [t.key for t in made.tables] == list(known)
    for table in made.tables:
        steps = ORDERS[table.key](gear)
        assert [row[0] for row in table.rows] == [str(n) for n in range(1, len(steps) + 1)]
        for row, step in zip(table.rows, steps, strict=True):
            do, why = known[table.key][step.key]
            assert isinstance(row[1], Line) and (row[1].template, row[2]) == (do, why)
    assert value(made, "to_start") == len(start(gear))
    assert value(made, "to_stop") == len(stop(gear))


def test_steps_stand_open_on_the_page_and_whole_on_the_card() -> None:
    guide = stock.guide()
    calculator = guide.get("running")
    for typed in ({}, {"remote_start": "yes", "product_way": "plain"}):
        outcome = guide.run(calculator, typed, example={"boat": "ketch"})
        assert outcome.report is not None
        page = html.answer(outcome)
        paper = card.answer_card(calculator, outcome, card.Imprint())
        for table in outcome.report.tables:
            assert f'data-key="fold-table-{table.key}" open>' in page
            for row in table.rows:
                assert isinstance(row[1], Line)
                assert f"<li><b>{escape(row[1].text())}</b> {escape(row[2])}</li>" in paper
        assert "more, on the page" not in paper


HAND = {"remote_start": "no", "low_pressure_switch": "yes"}
CLOCK = {"remote_start": "yes", "low_pressure_switch": "yes", "brine_valve": "no"}


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [
        (HAND, FITS),
        ({**HAND, "low_pressure_switch": "no"}, TIGHT),
        ({**HAND, "product_way": "plain", "product_relief": "no"}, FAILS),
        ({**HAND, "product_way": "plain", "product_relief": "yes"}, TIGHT),
        ({**HAND, "product_way": "straight"}, FITS),
        ({**HAND, "brine_valve": "yes"}, FITS),
        ({**HAND, "has_relief": "no"}, FAILS),
        (CLOCK, TIGHT),
        ({**CLOCK, "low_pressure_switch": "no"}, FAILS),
        ({**CLOCK, "brine_valve": "yes"}, FAILS),
    ],
)
def test_the_verdict_is_a_surveyors(typed: dict[str, str], verdict: str) -> None:
    made = told(**typed)
    assert made.verdict == verdict
    assert verdict == FITS or made.remedies


def test_every_remedy_mends_on_every_boat() -> None:
    """All boats that are judged apart, where the law of remedies draws some."""
    words = {
        "product_way": ("three_way", "straight", "plain"),
        **dict.fromkeys(
            (
                "has_relief",
                "product_relief",
                "brine_valve",
                "brine_dips",
                "low_pressure_switch",
                "remote_start",
            ),
            ("yes", "no"),
        ),
    }
    calculator, tried = stock.guide().get("running"), 0
    for chosen in itertools.product(*words.values()):
        typed = dict(zip(words, chosen, strict=True))
        tried += check_remedies(calculator, typed, {"boat": "ketch"})
    assert tried > 100


def test_minutes_until_water_and_of_the_flush() -> None:
    made = told(fill_time="3 min", idle_time="2 min", raise_time="1 min", waste_time="4 min")
    assert value(made, "to_tank") == pytest.approx(600)
    alone = told(has_boost="no", idle_time="2 min", raise_time="1 min", waste_time="4 min")
    assert value(alone, "to_tank") == pytest.approx(420)
    lasts = told(flush_water="31 L", flow="6.2 L/min")
    assert value(lasts, "flush_lasts") == pytest.approx(300)
    assert "flush_lasts" not in [f.key for f in told(flush_way="none").figures]


def test_flush_water_is_the_boats_on_both_pages() -> None:
    guide = stock.guide()
    sheet = {"flush_water": "40 L", "flow": "8 L/min"}
    there = guide.run(guide.get("layup"), sheet=sheet).bound.values["flush_water"]
    here = guide.run(guide.get("running"), sheet=sheet).report
    assert here is not None
    assert value(here, "flush_lasts") * 8e-3 / 60 == pytest.approx(there)
