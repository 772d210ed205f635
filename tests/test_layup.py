"""Laying up: one rule for the plan of the year and for the page, and no way that frost would burst."""

from __future__ import annotations

import html
import json
from datetime import date, timedelta
from itertools import pairwise, product
from typing import Any

import icalendar
import pytest
from answers import noted, slots
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import browser, stock
from calc.frame import units
from calc.frame.report import Line, Report, say
from calc.sheet.rest import STEPS
from calc.sheet.year import told

SLOW = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
KEEPS = ("flush_every", "preserve_after", "preservative", "preservative_limit")
FROST = {"start": "2026-10-25", "end": "2027-03-28", "frost": "yes", "warmest": "12 °C"}
TEMPERATE = {"start": "2026-10-25", "end": "2027-03-28", "warmest": "20 °C"}
HEAT = {"start": "2026-06-01", "end": "2026-10-28", "warmest": "34 °C"}
SHORT = {"start": "2026-06-01", "end": "2026-06-12", "warmest": "20 °C", "visits": "5 days"}


def run(name: str, boat: str = "", **typed: Any) -> Report:
    example = {"boat": boat} if boat else {}
    outcome = stock.guide().run(stock.guide().get(name), typed, example=example)
    assert outcome.report is not None, [str(fault) for fault in outcome.bound.faults]
    return outcome.report


def table(report: Report, key: str) -> list[list[Any]]:
    """The rows of a table, sentences as text."""
    found = next((t.rows for t in report.tables if t.key == key), ())
    return [[say(c) if isinstance(c, Line) else c for c in row] for row in found]


def steps(report: Report) -> list[tuple[str, str]]:
    """Days and what is done on them, by the page on laying up."""
    return [(day, what.lower()) for day, what in table(report, "days")]


def planned(report: Report) -> list[tuple[str, str]]:
    """The same by the plan of the year."""
    return [
        (day, what.lower().removeprefix("membranes: ").removesuffix("."))
        for day, what, _ in table(report, "rest")
    ]


def day(text: str) -> date:
    return date.fromisoformat(text)


@pytest.mark.parametrize(
    "row", [FROST, TEMPERATE, HEAT, SHORT], ids=["frost", "temperate", "heat", "short"]
)
def test_the_plan_of_the_year_and_the_page_give_the_same_steps(row: dict[str, str]) -> None:
    found = steps(run("layup", lay_ups=[row]))
    assert found == planned(run("upkeep", lay_ups=[row]))
    assert found[0][0] == say(told(day(row["start"])))
    assert found[-1][0] == say(told(day(row["end"])))


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_they_agree_for_each_boat_and_for_dates_of_ones_own(boat: str) -> None:
    page = steps(run("layup", boat))
    assert page == planned(run("upkeep", boat))[: len(page)]
    own = {name: value for name, value in FROST.items() if name != "visits"}
    assert steps(run("layup", which="own", **own)) == steps(run("layup", lay_ups=[FROST]))


def typed_rows() -> st.SearchStrategy[dict[str, Any]]:
    return st.fixed_dictionaries(
        {
            "days": st.integers(1, 400),
            "visits": st.integers(1, 400),
            "frost": st.booleans(),
            "warmest": st.floats(-10, 50).map(lambda t: round(t, 3)),
            "flush_every": st.integers(1, 60),
            "preserve_after": st.integers(1, 365),
            "preservative": st.integers(7, 365),
            "preservative_limit": st.floats(10, 60),
        }
    )


def as_typed(made: dict[str, Any]) -> tuple[dict[str, str], dict[str, str]]:
    """A lay-up and what keeps how long."""
    row = {
        "start": "2026-10-25",
        "end": str(date(2026, 10, 25) + timedelta(days=made["days"])),
        "frost": "yes" if made["frost"] else "no",
        "warmest": f"{made['warmest']:.3f} °C",
        "visits": f"{made['visits']} days",
    }
    keeps = {name: f"{made[name]} days" for name in KEEPS[:3]}
    return row, keeps | {"preservative_limit": f"{made['preservative_limit']:.3f} °C"}


@SLOW
@given(made=typed_rows())
def test_any_rest_has_the_same_steps_in_both(made: dict[str, Any]) -> None:
    row, keeps = as_typed(made)
    page = run("layup", lay_ups=[row], **keeps)
    plan = run("upkeep", lay_ups=[row], **keeps)
    assert steps(page) == planned(plan)
    warned = noted(plan, "day") is not None  # nothing keeps the membranes then
    best = page.best_option()
    assert best is not None
    assert warned == (best.verdict == "fails") or best.key == "glycol"


@SLOW
@given(made=typed_rows())
def test_a_rest_is_covered_or_refused(made: dict[str, Any]) -> None:
    """The days lie no further apart than the way keeps in that heat; frost leaves nothing wet."""
    row, keeps = as_typed(made)
    report = run("layup", lay_ups=[row], **keeps)
    best = report.best_option()
    assert best is not None
    events = icalendar.Calendar.from_ical(report.downloads[0].text).walk("VEVENT")
    found = [event.decoded("DTSTART") for event in events]
    assert found[0] == date(2026, 10, 25)
    assert found[-1] == found[0] + timedelta(days=made["days"])
    gap = max((b - a).days for a, b in pairwise(found))
    life = made["flush_every"] if best.key == "flush" else made["preservative"]
    heat = 0.0 if best.key == "glycol" else max(0.0, made["warmest"] - 25)
    assert gap <= max(1, life * 0.5 ** (heat / 10) + 0.01)
    if made["frost"] or made["warmest"] <= 0:
        assert best.key == "glycol"
    elif report.verdict != "fails":
        assert min(made["visits"], made["days"]) <= max(1, life * 0.5 ** (heat / 10) + 0.01)


def test_frost_leaves_no_preservative_in_place() -> None:
    for report in (run("layup", lay_ups=[FROST]), run("upkeep", lay_ups=[FROST])):
        texts = [row[1].lower() for key in ("days", "rest") for row in table(report, key)]
        assert len(texts) >= 4
        assert "take the membranes out" in texts[0]
        assert "food-grade propylene glycol" in texts[0]
        assert all("bag" in text for text in texts[1:-1])
        assert "drain the glycol" in texts[-1]


@pytest.mark.parametrize("warmest", ["-5 °C", "0 °C", "23 °F"])
def test_a_place_that_never_thaws_freezes_whatever_is_ticked(warmest: str) -> None:
    row = {**FROST, "frost": "no", "warmest": warmest}
    ticked = {**row, "frost": "yes"}
    page = run("layup", lay_ups=[row])
    assert (
        steps(page)
        == steps(run("layup", lay_ups=[ticked]))
        == planned(run("upkeep", lay_ups=[row]))
    )
    assert page.best_option().key == "glycol"  # type: ignore[union-attr]
    assert noted(page, "warmest") is not None
    assert "may freeze" in table(run("upkeep", lay_ups=[row]), "rest")[0][2]
    own = {k: v for k, v in row.items() if k != "visits"}
    assert steps(run("layup", which="own", **own)) == steps(page)
    assert noted(run("layup", lay_ups=[ticked]), "warmest") is None


def test_a_bag_that_nobody_renews_does_not_fit() -> None:
    """Frost asks for no visit to the boat, but the preservative in the bag ages all the same."""
    nobody = {**FROST, "visits": "1830 days"}
    left = run("layup", lay_ups=[nobody])
    gap = next(f for o in left.options if o.key == "glycol" for f in o.figures if f.key == "gap")
    assert left.verdict == "fails"
    assert gap.value.value == 154 * 86400 and gap.limit.value == 60 * 86400  # type: ignore[union-attr]
    assert run("layup", lay_ups=[{**nobody, "bag_along": "yes"}]).verdict == "fits"
    brief = {**nobody, "end": "2026-12-20"}  # 56 days: the bag keeps that long by itself
    assert run("layup", lay_ups=[brief]).verdict in ("fits", "tight")
    plan = run("upkeep", lay_ups=[nobody])
    assert noted(plan, "day") is not None


@SLOW
@given(made=typed_rows())
def test_nothing_is_renewed_just_before_it_is_woken(made: dict[str, Any]) -> None:
    """What is done up to 14 days before waking counts for it, as in the plan of the year."""
    row, keeps = as_typed(made)
    report = run("layup", lay_ups=[row], **keeps)
    events = icalendar.Calendar.from_ical(report.downloads[0].text).walk("VEVENT")
    found = [event.decoded("DTSTART") for event in events]
    gaps = [(b - a).days for a, b in pairwise(found)]
    assert gaps[-1] >= min(14, made["days"] // len(gaps))


def test_frost_has_no_remedy_but_to_leave_no_water() -> None:
    report = run("layup", lay_ups=[FROST])
    wet = [option for option in report.options if option.key != "glycol"]
    assert [option.verdict for option in wet] == ["fails", "fails"]
    assert not any(option.remedies or option.figures for option in wet)


def test_heat_takes_days_off() -> None:
    """60 days at 25 °C are 30 at 35 °C: van 't Hoff's rule, from memory."""
    hot = {**HEAT, "warmest": "35 °C"}
    found = [row[0] for row in table(run("layup", lay_ups=[hot]), "days")]
    assert found[:3] == ["1 Jun 2026", "1 Jul 2026", "31 Jul 2026"]  # whoever comes every 30 days
    away = {**hot, "visits": "5 days"}
    spread = [row[0] for row in table(run("layup", lay_ups=[away]), "days")]
    assert spread[:3] == ["1 Jun 2026", "30 Jun 2026", "30 Jul 2026"]  # 149 days in five spells
    step = next(s for s in run("layup", lay_ups=[hot]).steps if "heat" in s.label)
    assert step.result.value == pytest.approx(30 * 86400)
    assert "from memory" in step.source


@SLOW
@given(made=typed_rows())
def test_what_would_make_it_fit_does(made: dict[str, Any]) -> None:
    """Each remedy with numbers, typed back in as a whole, cures its way."""
    row, keeps = as_typed({**made, "frost": False, "warmest": abs(made["warmest"]) + 1})
    for option in run("layup", lay_ups=[row], **keeps).options:
        assert option.remedies or option.verdict != "fails"
        assert not option.remedies or option.verdict != "fits"
        for remedy in option.remedies:
            again = dict(row)
            typed_back = dict(remedy.amounts)
            if "cooler" in typed_back:  # beside it stands the limit that it is held against
                typed_back["limit"] = typed_back.pop("cooler")
            for name, told_amount in typed_back.items():
                text = told_amount if isinstance(told_amount, str) else told_amount.text()
                if name == "longest":
                    again["end"] = str(
                        day(row["start"]) + timedelta(days=int(float(text.split()[0])))
                    )
                else:
                    again[{"keeps": "visits", "limit": "warmest"}[name]] = text
            if remedy.amounts:
                report = run("layup", lay_ups=[again], **keeps)
                same = next(o for o in report.options if o.key == option.key)
                assert same.verdict != "fails", (remedy.text(), same.reason().text())
                if option.verdict == "tight":  # then what decided no longer does
                    assert same.verdict == "fits" or same.decided_by != option.decided_by


BOUNDARY = [
    # days it stands, a visit every, a flush keeps, longest on flushing, the way to take, its verdict
    (6, "30 days", "7 days", "14 days", "flush", "fits"),
    (7, "30 days", "7 days", "14 days", "flush", "tight"),
    (8, "30 days", "7 days", "14 days", "preserve", "fits"),
    (7, "30 days", "6.9 days", "14 days", "preserve", "fits"),
    (7, "30 days", "7.1 days", "14 days", "flush", "tight"),
    (14, "6.9 days", "7 days", "14 days", "flush", "tight"),
    (14, "7 days", "7 days", "14 days", "flush", "tight"),
    (14, "7.1 days", "7 days", "14 days", "preserve", "fits"),
    (7, "5 days", "7 days", "6.9 days", "preserve", "fits"),
    (7, "5 days", "7 days", "7 days", "flush", "tight"),
    (7, "5 days", "7 days", "7.1 days", "flush", "tight"),
    (15, "5 days", "7 days", "14 days", "preserve", "fits"),
]


@pytest.mark.parametrize(("days", "visits", "keeps", "longest", "way", "verdict"), BOUNDARY)
def test_up_to_its_last_day_a_rest_that_flushing_keeps_takes_no_preservative(
    days: int, visits: str, keeps: str, longest: str, way: str, verdict: str
) -> None:
    """Verdict, days, amounts, card and plan agree on either side of each limit."""
    end = str(date(2026, 6, 1) + timedelta(days=days))
    row = {"start": "2026-06-01", "end": end, "warmest": "20 °C", "visits": visits}
    typed = {"lay_ups": [row], "flush_every": keeps, "preserve_after": longest}
    page = run("layup", **typed)
    best = page.best_option()
    assert best is not None and (best.key, page.verdict) == (way, verdict)
    assert steps(page) == planned(run("upkeep", **typed))
    assert ("powder" in amounts_of(page)) == ("dose" in amounts_of(page)) == (way == "preserve")
    found = {option.key: option for option in page.options}
    needless = [one.key for one in found["preserve"].reservations] == ["needless"]
    assert needless == (found["flush"].verdict != "fails") == (way == "flush")
    asked = {"do": "card", "calculator": "layup", "typed": typed, "units": "metric"}
    written = html.unescape(json.loads(browser.handle(json.dumps(asked)))["html"])
    assert all(say(STEPS[way, due]) in written for due in (way, "wake"))
    assert (say(STEPS["preserve", "preserve"]) in written) == (way == "preserve")


def test_what_takes_both_is_said_in_one_sentence() -> None:
    row = {"start": "2026-08-05", "end": "2026-10-28", "warmest": "34 °C"}
    flushed = next(o for o in run("layup", lay_ups=[row]).options if o.key == "flush")
    assert [set(slots(remedy).values()) for remedy in flushed.remedies] == [{"14 days", "3 days"}]


def test_a_cold_mixture_that_is_too_thin_is_told() -> None:
    report = run("layup", lay_ups=[FROST], coldest="-30 °C")
    assert report.verdict == "fails"
    assert report.best_option().key == "glycol"  # type: ignore[union-attr]
    again = run("layup", lay_ups=[FROST], coldest="-30 °C", glycol_limit="-30 °C")
    assert again.verdict != "fails"
    assert noted(report, "limit", "cold") is None
    assert noted(again, "limit", "cold") == {"limit": "−30 °C", "cold": "−30 °C"}
    assert all(
        figure.limit is None or figure.limit.value - figure.zero
        for figure in [f for o in report.options for f in o.figures]
    )  # no margin over nothing


def amounts_of(report: Report) -> dict[str, float]:
    return {f.key: f.value.value for f in report.figures}


def preserved(**typed: str) -> Report:
    """A rest of two fillings."""
    return run(
        "layup",
        "catamaran",
        which="own",
        start="2026-08-05",
        end="2026-10-28",
        warmest="20 °C",
        **typed,
    )


WARMTH = ("-5 °C", "0 °C", "12 °C", "34 °C", "60 °C")


@pytest.mark.parametrize("which", ["own", "next"])
@pytest.mark.parametrize("frost", ["yes", "no"])
@pytest.mark.parametrize("coldest", ["-60 °C", "-25 °C", "-20 °C", "-10 °C"])
def test_no_verdict_is_better_than_its_best_way(which: str, frost: str, coldest: str) -> None:
    """All of which rest, frost, cold and visits; and a mixture that freezes never fits."""
    order = ["fits", "tight", "unknown", "fails"]
    for visits, warmest, along in product(
        ("1 days", "60 days", "1830 days"), WARMTH, ("yes", "no")
    ):
        row = {**FROST, "frost": frost, "visits": visits, "warmest": warmest, "bag_along": along}
        typed: dict[str, Any] = row if which == "own" else {"lay_ups": [row]}
        outcome = stock.guide().run(
            stock.guide().get("layup"), {**typed, "which": which, "coldest": coldest}
        )
        if outcome.report is None:  # colder than the coldest there
            assert float(coldest.split()[0]) > float(warmest.split()[0])
            continue
        ways = {option.key: option.verdict for option in outcome.report.options}
        assert outcome.report.verdict == min(ways.values(), key=order.index)
        freezes = frost == "yes" or float(warmest.split()[0]) <= 0
        assert ("glycol" in ways) == freezes
        if freezes and float(coldest.split()[0]) < -20:
            assert set(ways.values()) == {"fails"}


def test_amounts_to_have_at_hand_are_rounded_up() -> None:
    """One per cent is ten grams a litre (trade pages): 18.13 litres of bucket and unit take 182 g.

    They are weighed as 190 g, twice; three flushes and two buckets are 92.6 litres.
    """
    report = preserved(unit_water="8.13 L", bucket="10 L", flush_water="24.2 L")
    figures = amounts_of(report)
    step = next(s for s in report.steps if s.label == "Sodium metabisulphite, for one filling")
    assert step.result.value == pytest.approx(0.1813)
    assert figures["dose"] == pytest.approx(0.190)
    assert figures["powder"] == pytest.approx(0.380)
    assert figures["water"] == pytest.approx(0.093)


@pytest.mark.parametrize(("unit", "bucket"), [(8.0, 10.0), (8.0, 25.0), (15.0, 15.0), (4.0, 10.0)])
def test_the_dose_gives_the_strength_wanted_once_it_went_round(unit: float, bucket: float) -> None:
    """Against a simulation: the unit a pipe of twenty cells of flush water, the bucket stirred, and
    ten minutes of the small pump's 7 L/min, as the page has it."""
    figures = amounts_of(preserved(unit_water=f"{unit} L", bucket=f"{bucket} L", strength="1 %"))
    cells, cell = [0.0] * 20, unit / 20
    in_bucket = figures["dose"] / bucket  # kg in each litre
    for _ in range(round(10 * 7 / cell)):
        cells = [in_bucket, *cells]
        in_bucket += (cells.pop() - in_bucket) * cell / bucket
    assert min(*cells, in_bucket) >= 0.010 * 0.95
    assert max(*cells, in_bucket) <= 0.010 * 1.12  # the dose is rounded up to ten grams


def test_membranes_in_a_bag_take_the_bucket_as_it_is() -> None:
    """The unit holds glycol then: its water thins nothing."""
    figures = amounts_of(run("layup", lay_ups=[FROST], unit_water="8 L", bucket="10 L"))
    fills = 3
    assert figures["dose"] == pytest.approx(0.100)
    assert figures["powder"] == pytest.approx(fills * 0.100)
    assert figures["water"] == pytest.approx(0.025 * 2 + 0.010 * fills)


def test_a_bucket_smaller_than_the_unit_is_told_to_begin_too_strong() -> None:
    small, even = preserved(unit_water="30 L"), preserved(unit_water="10 L")
    assert noted(small, "first", "unit") == {"first": "4 %", "unit": "30 L"}
    assert noted(even, "first", "unit") is None
    assert {"preservative", "pressure"} <= {found.key for found in small.cautions}


def test_more_glycol_is_bought_than_the_unit_holds() -> None:
    """It is thinned on its way through: half as much again is common practice, no source."""
    for surplus, litres in (("0 %", 9), ("50 %", 13), ("100 %", 17)):
        report = run("layup", lay_ups=[FROST], unit_water="8.13 L", glycol_surplus=surplus)
        figures = {f.key: f.value.value for f in report.figures}
        assert figures["glycol"] == pytest.approx(litres / 1000)
        assert noted(report, "limit", "cold") is not None
    usual = {f.key: f.value.value for f in run("layup", "ketch").figures}
    assert usual["glycol"] == pytest.approx(0.012)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"which": "own", "start": "2026-05-02", "end": "2026-05-02"}, "after the day you leave"),
        ({"which": "own", "start": "2026-05-02", "end": "2036-05-02"}, "five years"),
        ({"lay_ups": [FROST], "today": "2027-03-29"}, "add the next one"),
        ({"lay_ups": [FROST, TEMPERATE]}, "overlap"),
        ({"lay_ups": [{**FROST, "warmest": "-15 °C"}]}, "above the warmest"),
    ],
)
def test_what_makes_no_sense_is_said(typed: dict[str, Any], words: str) -> None:
    outcome = stock.guide().run(stock.guide().get("layup"), typed)
    assert any(words in fault.sentence for fault in outcome.bound.faults)


def test_temperatures_of_the_boat_are_kelvins() -> None:
    assert units.from_si(298.15, "°C", units.kind_of("°C")) == pytest.approx(25)


def test_what_is_renewed_is_flushed_out_first() -> None:
    """The dose is reckoned for a unit full of plain water, and the water for all of it is told."""
    found = [what for _, what in steps(run("layup", "catamaran"))]
    assert len(found) > 3 and all("flush" in what for what in found[:-1])
