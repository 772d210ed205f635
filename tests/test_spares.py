"""Spares: counted from the plan of the year, so that no date is told twice differently."""

from __future__ import annotations

import json
import re
from datetime import date
from typing import Any

import pytest
from answers import noted
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import stock
from calc.frame.report import Line, Report

SLOW = settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
BOATS = ("ketch", "catamaran")


def run(name: str, boat: str = "ketch", **typed: Any) -> Report:
    outcome = stock.guide().run(stock.guide().get(name), typed, example={"boat": boat})
    assert outcome.report is not None, [str(fault) for fault in outcome.bound.faults]
    return outcome.report


def rows(report: Report) -> dict[str, list[Any]]:
    return {r[0]: list(r) for t in report.tables if t.key in ("box", "left") for r in t.rows}


def planned(boat: str, leave: str, back: str, today: str, **typed: Any) -> dict[str, list[date]]:
    """Days on which each task falls due between two days, by the plan's own timeline."""
    report = run("upkeep", boat, today=today, **typed)
    return {
        lane.label: [
            d for d, _ in lane.days if date.fromisoformat(leave) <= d < date.fromisoformat(back)
        ]
        for lane in report.timelines[0].lanes
    }


@SLOW
@given(
    boat=st.sampled_from(BOATS),
    days=st.integers(1, 200),
    away=st.integers(1, 250),
    spread=st.integers(0, 90),
    hours=st.floats(0.2, 4),
)
def test_spares_and_plan_name_the_same_days(
    boat: str, days: int, away: int, spread: int, hours: float
) -> None:
    today = date(2026, 5, 1)
    leave = date.fromordinal(today.toordinal() + days)
    back = date.fromordinal(leave.toordinal() + away)
    use = {"today": str(today), "run_hours": f"{hours:.3f} h"}
    report = run("spares", boat, leave=str(leave), back=str(back), spread=f"{spread} %", **use)
    dues = planned(boat, str(leave), str(back), **use)
    for part in stock.guide().shelf("part").values():
        row = rows(report).get(part.name)
        if row is None or not part.task or not part.per_change:
            continue
        expected = dues.get(part.task, [])
        said = re.search(r"(\d+) due (?:on|at (\d+) changes from) (.*?)(?:;|$)", row[2].text())
        if not expected:
            assert said is None
        else:
            assert said is not None, (part.name, row[2].text(), expected)
            first = expected[0]
            assert int(said[1]) == len(expected) * int(part.per_change)
            assert said[3].startswith(f"{first.day} {first:%b} {first.year}")
        assert int(row[1]) >= len(expected) * int(part.per_change)


@SLOW
@given(
    boat=st.sampled_from(BOATS),
    low=st.integers(0, 90),
    high=st.integers(0, 90),
    leave=st.dates(date(2026, 5, 1), date(2027, 4, 1)),
    away=st.integers(1, 400),
)
def test_without_more_use_nothing_more_falls_due(
    boat: str, low: int, high: int, leave: date, away: int
) -> None:
    back = date.fromordinal(leave.toordinal() + away)
    given_days = {"leave": str(leave), "back": str(back), "covers": "each"}
    texts = [
        row[2].text() for row in rows(run("spares", boat, spread="0 %", **given_days)).values()
    ]
    assert not any("if it runs" in text for text in texts)
    low, high = sorted((low, high))
    hours = [
        next(
            f.value.value
            for f in run("spares", boat, spread=f"{s} %", **given_days).figures
            if f.key == "hours"
        )
        for s in (low, high)
    ]
    assert hours[0] <= hours[1]


def test_hours_of_ones_own_take_the_place_of_the_plans() -> None:
    report = run("spares", away_hours="1 h", spread="0 %", leave="2026-06-01", back="2026-07-01")
    hours = next(f.value.value for f in report.figures if f.key == "hours")
    assert hours == pytest.approx(30 * 3600)


@pytest.mark.parametrize("boat", BOATS)
def test_no_chance_is_told_better_than_it_can_be_known(boat: str) -> None:
    report = run("spares", boat, confidence="99 %")
    for row in rows(report).values():
        told = row[3] if isinstance(row[3], str) else row[3].text()
        assert told in ("under 1 %", "not reckoned") or float(told.split()[0]) >= 1
        assert not re.search(r"(?<![\d.])0(\.\d+)? %", row[2].text())
    for line in report.headlines:
        assert not re.search(r"(?<![\d.])0(\.\d+)? %", line.text())


@pytest.mark.parametrize("boat", BOATS)
@pytest.mark.parametrize("covers", ["box", "each"])
@pytest.mark.parametrize("sure", [90, 95, 99])
def test_a_second_spare_is_given_its_own_reason(boat: str, covers: str, sure: int) -> None:
    """By itself, where one spare leaves more than was asked; else the whole box is named."""
    report = run("spares", boat, covers=covers, confidence=f"{sure} %", away_hours="4 h")
    alone, box = noted(report, "names", "risk") or {}, noted(report, "names", "sure") or {}
    single, whole = alone.get("names", ""), box.get("names", "")
    assert alone.get("risk", f"{100 - sure} %") == f"{100 - sure} %"
    assert covers == "box" or not whole
    seen = 0
    for name, row in rows(report).items():
        why = row[2].text()
        found = re.search(
            r"(\d+) for failures: with (\w+) the chance of running out is ([^,;]*)", why
        )
        if found is None or int(found[1]) < 2:
            assert name not in single + whole
            continue
        seen += 1
        assert (name in single) != (name in whole)
        left = 1.0 if found[3] == "under 1 %" else float(found[3].split()[0])
        assert ("the whole box should be" in why) == (left <= 100 - sure)
        if int(found[1]) == 2:
            assert (name in whole) == (left <= 100 - sure)
    assert seen or not single + whole


def test_a_unit_with_two_membranes_needs_two() -> None:
    """Both fall due at once, and either may fail: -ln of the chance of none is twice as large."""
    at_change = {"leave": "2026-05-02", "back": "2026-08-01", "started": "2020-06-01", "log": ""}
    one, two = (
        rows(run("spares", unit=unit, **at_change))["Membrane"]
        for unit in ("skerry-45", "skerry-70")
    )
    assert "1 due" in one[2].text() and "2 due" in two[2].text()
    seals = rows(run("spares", unit="skerry-70", **at_change))[
        "Brine seal and O-rings of a membrane"
    ]
    assert "2 due" in seals[2].text(), "a set for each"
    bare = {"parts": [{"name": "M", "rate": "0.5 /1000 h", "per": "membrane"}]}
    none = [
        1 - next(f.value.value for f in run("spares", unit=unit, **bare).figures if f.key == "bare")
        for unit in ("skerry-45", "skerry-70")
    ]
    assert none[1] == pytest.approx(none[0] ** 2)


def test_few_failures_are_told_in_plain_numbers() -> None:
    told = [
        row[2].text()
        for row in rows(
            run(
                "spares",
                parts=[
                    {"name": "A", "rate": "0.00001 /1000 h"},
                    {"name": "B", "rate": "0.3 /1000 h"},
                ],
                confidence="50 %",
            )
        ).values()
    ]
    assert len(told) == 2
    assert not any("10^" in text or "10⁻" in text for text in told)


def test_a_box_for_a_lay_up_says_why_it_is_empty() -> None:
    report = run("spares", leave="2026-11-01", back="2027-03-01")
    assert "it stands all that time and nothing falls due" in report.headlines[0].text()
    assert not any(t.key == "box" for t in report.tables)
    calm = run("spares", away_hours="0.5 h", leave="2026-06-01", back="2026-08-20")
    assert not {n.template for n in report.notes} >= {calm.notes[0].template}, "on second spares"


def test_days_that_are_not_said_follow_today() -> None:
    """A boat of one's own is counted for by the clock; an example's dates would be over."""
    empty = run("spares", today="2026-06-01")
    said = run("spares", today="2026-06-01", leave="2026-06-01", back="2026-12-01")
    assert rows(empty) == rows(said)
    under_way = run("spares", today="2026-06-01", leave="2026-05-10", back="2026-12-01")
    assert rows(under_way) == rows(said)


def test_a_part_without_a_price_is_not_told_as_free() -> None:
    """The row says that none is said, and the sum what it lacks."""
    guide = stock.guide()
    before = guide.run(guide.get("spares"), {}, example={"boat": "ketch"}).report
    assert before is not None
    (box,) = [table for table in before.tables if table.key == "box"]
    name = box.rows[0][0]
    data = json.loads(stock.data(guide))
    (key,) = [key for key, part in data["records"]["part"].items() if part["name"] == name]
    del data["records"]["part"][key]["price"]
    bare = stock.from_data(json.dumps(data))
    after = bare.run(bare.get("spares"), {}, example={"boat": "ketch"}).report
    assert after is not None
    row = next(r for t in after.tables if t.key == "box" for r in t.rows if r[0] == name)
    assert row[5] == "not said"
    (cost,) = [figure for figure in after.figures if figure.key == "cost"]
    assert isinstance(cost.note, Line) and cost.note.amounts["n"] == "1"
    assert not next(f for f in before.figures if f.key == "cost").note
