"""The first start: its order held by a model of hands, its readings against the pages' own state."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from html import escape
from typing import Any

import pytest
from answers import answered, refused, value
from hands import Broken, exchanged, without
from hands_commission import GEARS, commissioned, made_safe
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import stock
from calc.calculators.commission import look_at, words
from calc.calculators.commission.asks import READ
from calc.calculators.commission.judge import NEEDED, UNITS
from calc.frame import units
from calc.frame.render import card
from calc.frame.report import FAILS, FITS, TIGHT, UNKNOWN, Amount, Report
from calc.sheet.readings_log import BOOK
from calc.system.commissioning import PARTS, plan, safe
from calc.system.first_day import DOUBTFUL, FAR, IN, MAYBE, OUT, Reading, frame_rise
from calc.system.readings import expected
from site_build import laws

GUIDE = stock.guide()
WHERE = {"day_temperature": "18 °C", "day_salinity": "35 g/kg", "day_pressure": "55 bar"}
FIELDS = {
    "before": "day_before",
    "behind": "day_behind",
    "product": "day_product",
    "brine": "day_brine",
    "conductivity": "day_conductivity",
    "volts": "day_volts",
    "amperes": "day_amperes",
    "drop": "day_drop",
    "rest_volts": "day_rest_volts",
    "start_volts": "day_start_volts",
    "start_amperes": "day_start_amperes",
}


def told(**typed: Any) -> Report:
    return answered("commission", {**WHERE, **typed}, "ketch")


def form(**typed: Any) -> Any:
    made = GUIDE.get("commission")
    outcome = GUIDE.run(made, {**WHERE, **typed}, example={"boat": "ketch"})
    assert outcome.report is not None
    return made.asks.of(outcome.bound.values)


def typed_of(one: Reading, value: float) -> dict[str, str]:
    unit = UNITS[one.key]
    return {FIELDS[one.key]: f"{units.from_si(value, unit):.9g} {unit}"}


def between(one: Reading, times: float) -> float:
    """What would be read so many standard deviations off, by where its doubtful begins."""
    assert one.low is not None and one.high is not None
    if one.key in ("before", "behind", "drop", "rest_volts"):
        return one.expected + times / DOUBTFUL * (one.high - one.expected)
    return float(one.expected * (one.high / one.expected) ** (times / DOUBTFUL))


# ---- the order of hands ----


def test_the_first_start_keeps_the_laws_on_every_boat() -> None:
    for gear in GEARS:
        try:
            commissioned(gear, plan(gear))
        except Broken as broken:
            raise AssertionError(f"{broken}: {gear}") from broken


def test_before_hands_go_to_it_all_is_safe_and_each_step_counts() -> None:
    for gear in GEARS[::7]:
        steps = safe(gear)
        made_safe(gear, steps)
        for step in steps:
            for fewer in without(steps, step.key):
                with pytest.raises(Broken):
                    made_safe(gear, fewer)
        for first, second in (
            ("open.regulating_valve", "wait.gauge"),
            ("off.breaker", "lock.sources"),
            ("lock.sources", "prove.pressure"),
            ("wait.gauge", "prove.pressure"),
            ("wait.gauge", "shut.brine_valve"),
        ):
            changed = exchanged(steps, first, second)
            if changed is None:
                assert second == "shut.brine_valve" and not gear.brine_is_shut
                continue
            with pytest.raises(Broken):
                made_safe(gear, changed)


KEYS = sorted({step.key for gear in GEARS for step in plan(gear)})


@pytest.mark.parametrize("key", KEYS)
def test_without_any_one_step_a_law_breaks(key: str) -> None:
    """On a boat of each kind that has it, and at each place that it has there."""
    some = [gear for gear in GEARS if any(step.key == key for step in plan(gear))]
    assert some
    for gear in some[:: max(1, len(some) // 40)]:
        for fewer in without(plan(gear), key):
            with pytest.raises(Broken):
                commissioned(gear, fewer)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("look.joints.rest", "unlock.sources"),
        ("read.rest", "on.breaker"),
        ("look.turning", "close.regulating_valve.quarter"),
        ("look.joints.open", "close.regulating_valve.quarter"),
        ("look.joints.quarter", "close.regulating_valve.half"),
        ("look.joints.half", "close.regulating_valve.full"),
        ("wait.quarter", "read.flows"),
        ("read.sea", "read.flows"),
        ("wait.hour", "read.motor"),
        ("stop.unit", "lock.sources"),
        ("lock.sources", "look.oil.after"),
    ],
)
def test_two_steps_changed_about_break_a_law(first: str, second: str) -> None:
    tried = 0
    for gear in GEARS[::7]:
        if (changed := exchanged(plan(gear), first, second)) is not None:
            tried += 1
            with pytest.raises(Broken):
                commissioned(gear, changed)
    assert tried


def test_each_step_has_words_and_the_tables_are_the_steps_numbered() -> None:
    for name, part in PARTS.items():
        for gear in GEARS:
            assert {step.key for step in part(gear)} <= words.KNOWN[name].keys()
            assert {step.key for step in safe(gear)} <= words.SAFE.keys()
    made, q = told(), form()
    parts = {f"do-{key}" for key in PARTS}
    steps = [row for table in made.tables if table.key in parts for row in table.rows]
    assert [row[0] for row in steps] == [str(n) for n in range(1, len(steps) + 1)]
    assert len(steps) == len(plan(q.gear_aboard()))


def test_electrical_readings_are_for_those_licensed_or_of_meters_that_stay_fitted() -> None:
    for key in ("read.start", "read.work"):
        do, _ = next(known[key] for known in words.KNOWN.values() if key in known)
        assert "licensed" in do and "stay" in do
    assert "licensed" in words.BEFORE["read.rest"][0]


# ---- what should be read ----


def test_what_should_be_read_is_the_solved_state_that_the_pages_use() -> None:
    q = form()
    found, state = q.found, expected(q.watermaker())
    for name in ("before", "behind", "product", "brine", "conductivity", "volts", "amperes"):
        assert found[name].expected == pytest.approx(getattr(state, name), rel=1e-6), name
    there = {"sea_temperature": "18 °C", "sea_salinity": "35 g/kg", "pressure": "55 bar"}
    water = answered("water", there, "ketch")
    made = next(f for f in water.figures if f.key == "product").value.value
    assert found["product"].expected == pytest.approx(made, rel=2e-3)
    fed = answered("feed", {"sea_temperature": "18 °C", "sea_salinity": "35 g/kg"}, "ketch")
    assert found["behind"].expected == pytest.approx(value(fed, "fresh"), rel=1e-6)
    assert found["before"].expected == pytest.approx(value(fed, "before_new"), rel=1e-6)


def test_it_is_expected_of_the_sea_that_was_read_and_else_of_the_boats() -> None:
    cold, warm = form(day_temperature="8 °C").found, form(day_temperature="28 °C").found
    assert cold["product"].expected < warm["product"].expected
    assert cold["conductivity"].expected < warm["conductivity"].expected
    of_sheet = form(day_temperature="", sea_temperature="28 °C").found
    assert of_sheet["product"].expected == pytest.approx(warm["product"].expected, rel=1e-9)
    wider = of_sheet["product"]
    assert wider.low < warm["product"].low and wider.high > warm["product"].high


def test_the_frames_rise_follows_the_motors_losses() -> None:
    q = form()
    assert q.water is not None
    calm = form(pressure="30 bar")
    assert calm.water is not None
    full = frame_rise(q.machine(), q.water, 80.0)
    assert frame_rise(calm.machine(), calm.water, 80.0) < full
    assert frame_rise(q.machine(), q.water, 40.0) == pytest.approx(full / 2)


# ---- in, doubtful, out ----


@pytest.mark.parametrize("key", ["before", "behind", "product", "brine", "conductivity", "amperes"])
@pytest.mark.parametrize(
    ("times", "state", "verdict"),
    [
        (0.0, IN, FITS),
        (1.9, IN, FITS),
        (-1.9, IN, FITS),
        (2.1, MAYBE, TIGHT),
        (-2.9, MAYBE, TIGHT),
        (3.1, FAR, FAILS),
        (-3.1, FAR, FAILS),
    ],
)
def test_a_reading_is_in_doubtful_or_out_by_its_uncertainty(
    key: str, times: float, state: str, verdict: str
) -> None:
    q = form()
    off = typed_of(q.found[key], between(q.found[key], times))
    found = form(**off).found[key]
    assert found.off == pytest.approx(times, abs=0.02)
    assert found.state == state
    made = told(**off)
    figure = next(f for f in made.figures if f.key == f"off_{key}")
    assert figure.state == verdict
    assert bool(made.remedies) == (state != IN)


def all_right(**more: str) -> dict[str, str]:
    q = form()
    typed: dict[str, str] = {}
    for key in NEEDED:
        typed |= typed_of(q.found[key], q.found[key].expected)
    return typed | more


def test_the_verdict_waits_for_what_it_cannot_do_without() -> None:
    assert told().verdict == UNKNOWN
    assert told(**all_right()).verdict == FITS
    for key in NEEDED:
        missing = {k: v for k, v in all_right().items() if k != FIELDS[key]}
        made = told(**missing)
        assert made.verdict == UNKNOWN and made.decided_by == "to-read"
    assert told(**all_right(day_temperature="")).verdict == UNKNOWN


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ({"day_turns": "wrong"}, "turns"),
        ({"day_oil": "low"}, "oil"),
        ({"day_oil": "milky"}, "oil"),
        ({"day_weeps": "string"}, "weeps"),
        ({"day_relief": "drips"}, "relief-drips"),
    ],
)
def test_what_no_gauge_shows_fails_it_all_the_same(typed: dict[str, str], key: str) -> None:
    made = told(**all_right(**typed))
    assert made.verdict == FAILS and made.decided_by == key
    fine = dict.fromkeys(("day_turns", "day_oil", "day_weeps", "day_relief"), "right")
    assert told(**all_right(**fine)).verdict == FITS


def test_what_is_one_sided_is_never_too_good() -> None:
    for typed in ({"day_start_volts": "229 V"}, {"day_start_amperes": "1 A"}):
        assert told(**all_right(**typed)).verdict == FITS
    cool = {"day_frame": "30 °C", "day_air": "28 °C"}
    assert told(**all_right(**cool)).verdict == FITS
    hot = {"day_frame": "140 °C", "day_air": "28 °C"}
    assert told(**all_right(**hot)).verdict == FAILS
    assert told(**all_right(day_start_volts="150 V")).verdict == FAILS
    assert told(**all_right(day_start_amperes="60 A")).verdict == FAILS


def test_too_much_pressure_is_out_whatever_else_is_read() -> None:
    made = told(day_pressure="68 bar")
    assert made.verdict == FAILS and made.decided_by == "too-high"


@settings(max_examples=30, deadline=None)
@given(times=st.floats(-6, 6), more=st.floats(0, 2))
def test_farther_off_is_never_better(times: float, more: float) -> None:
    q = form()
    one = q.found["product"]
    near, far = (
        replace(one, read=1.0, off=off) for off in (times, times + (more if times > 0 else -more))
    )
    order = (IN, MAYBE, FAR)
    assert order.index(far.state) >= order.index(near.state)
    assert far.held.margin <= near.held.margin + 1e-9
    assert near.held.holds == (abs(times) <= OUT)


def test_each_reading_that_may_be_off_has_something_to_look_at_first() -> None:
    for key in UNITS:
        assert key in look_at.LOW or key in look_at.HIGH
    both = set(UNITS) - {"start_volts", "start_amperes", "frame"}
    assert both - look_at.LOW.keys() == set() and both - look_at.HIGH.keys() == set()


def test_readings_that_cannot_be_are_asked_back_by_field() -> None:
    assert "day_product" in refused("commission", {**WHERE, "day_product": "900 L/h"}, "ketch")
    assert "day_volts" in refused("commission", {**WHERE, "day_volts": "12 V"}, "ketch")
    both = {**WHERE, "day_before": "0.5 bar", "day_behind": "1.5 bar"}
    assert "day_behind" in refused("commission", both, "ketch")


# ---- kept as day one ----


def test_what_is_read_is_the_day_one_of_the_other_pages() -> None:
    """One sheet: what was typed here is what Trend and the search for a fault take."""
    sheet = {"unit": "skerry-45", **WHERE, **all_right()}
    for name in ("trend", "diagnose"):
        if name not in GUIDE.names():
            continue
        asks = GUIDE.get(name).asks
        bound = GUIDE.run(GUIDE.get(name), sheet=sheet, own_boat=True).bound
        values = asks.of(bound.values)
        day = values.day_one()  # type: ignore[attr-defined]
        assert day is not None and day.read == form(**all_right()).taken().read


def files(**typed: str) -> dict[str, str]:
    return {d.key: d.text for d in told(**typed).downloads}


def test_files_hold_what_was_read_and_expected() -> None:
    kept = files(**all_right(), day_date="2026-05-01")
    rows = {row["reading"]: row for row in csv.DictReader(io.StringIO(kept["first-day-csv"]))}
    data = json.loads(kept["first-day-json"])
    assert data["day"] == "2026-05-01"
    assert len(data["readings"]) == len(rows) == len(form().found.readings)
    water = rows["Fresh water"]
    assert water["state"] == IN
    assert float(water["read"]) == pytest.approx(float(water["expected"]), rel=1e-4)


def test_the_line_of_day_one_goes_into_the_log_of_readings() -> None:
    line = files(**all_right(), day_date="2026-05-01")["log-line"]
    made = GUIDE.run(
        GUIDE.get("trend"), {"readings": line, "today": "2026-06-01"}, example={"boat": "ketch"}
    )
    assert not made.bound.faults
    kept = GUIDE.get("trend").asks.of(made.bound.values).kept(made.bound.values["today"])  # type: ignore[attr-defined]
    assert len(kept) == 1
    read = form(**all_right()).taken()
    assert kept[0].read.product == pytest.approx(read.product, rel=1e-4)
    assert kept[0].read.pressure == pytest.approx(read.pressure, rel=1e-4)
    assert "log-line" not in files(**all_right())


def test_each_reading_by_itself_makes_files_and_a_line_where_the_log_has_a_place_for_it() -> None:
    asks = GUIDE.get("commission").asks.fields
    looked_at = 0
    for name in READ:
        for text in laws.edges(asks[name], GUIDE):
            typed = {"day_date": "2026-05-01", name: text}
            report = GUIDE.run(GUIDE.get("commission"), typed).report
            made = {} if report is None else {one.key: one.text for one in report.downloads}
            if made:
                looked_at += 1
                kept = name.removeprefix("day_") in BOOK.names and not report.failures
                assert ("log-line" in made) == kept, typed
    assert looked_at > len(READ)


@pytest.mark.parametrize(
    ("day", "allowed", "line"),
    [
        ("2026-04-30", True, True),
        ("2026-05-01", True, True),
        ("2026-05-02", True, False),
        ("2027-04-30", True, False),
        ("2028-05-01", True, False),
        ("2028-05-02", False, False),
        ("2099-01-01", False, False),
    ],
)
def test_a_first_start_is_planned_for_two_years_at_most_and_its_line_comes_with_its_day(
    day: str, allowed: bool, line: bool
) -> None:
    typed = {**WHERE, **all_right(), "day_date": day, "today": "2026-05-01"}
    made = GUIDE.run(GUIDE.get("commission"), typed, example={"boat": "ketch"})
    assert [fault.field for fault in made.bound.faults] == ([] if allowed else ["day_date"])
    assert (made.report is not None) == allowed
    if made.report is not None:
        assert ("log-line" in {one.key for one in made.report.downloads}) == line
    for fault in made.bound.faults:
        assert all(one in str(fault) for one in (day, "2026-05-01", "2028-05-01"))


def test_the_day_goes_by_the_readers_clock_once_it_is_typed() -> None:
    typed = {**WHERE, "day_date": "2029-12-01"}
    for today, faults in (("2028-01-01", []), ("2027-11-01", ["day_date"]), ("", ["day_date"])):
        bound = GUIDE.run(GUIDE.get("commission"), typed, today=today).bound
        assert [fault.field for fault in bound.faults] == faults


def test_the_card_has_every_reading_and_a_place_to_sign() -> None:
    outcome = GUIDE.run(GUIDE.get("commission"), WHERE, example={"boat": "ketch"})
    paper = card.answer_card(GUIDE.get("commission"), outcome, card.Imprint())
    assert outcome.report is not None
    table = next(t for t in outcome.report.tables if t.key == "readings")
    assert "more, on the page" not in paper
    for row in table.rows:
        assert escape(str(row[0])) in paper
        assert not isinstance(row[1], Amount) or row[1].text() in paper


@pytest.mark.parametrize("unit", sorted(GUIDE.shelf("unit")))
def test_the_amperes_of_the_start_are_those_of_the_power_page(unit: str) -> None:
    """Straight on its own volts; of a motor of a few amperes they are not thousands."""
    volts, hertz = (
        ("115 V", "60 Hz") if "60" in unit.removeprefix("skerry-") else ("230 V", "50 Hz")
    )
    mains = {"unit": unit, "ac_voltage": volts, "ac_frequency": hertz, "start": "direct"}
    asks = form(**mains)
    assert asks.found is not None and asks.water is not None
    surge = asks.found["start_amperes"].expected
    assert surge == pytest.approx(asks.water.rush.current)
    assert 3 < surge / asks.water.load.at_work.current < 15


@pytest.mark.parametrize(
    ("typed", "key"),
    [({"day_brine": "0 L/min"}, "no-brine"), ({"day_product": "0 L/h"}, "no-product")],
)
def test_a_way_that_is_shut_is_told_with_what_to_do_at_once(typed: Any, key: str) -> None:
    assert key in {one.key for one in told(**typed).failures}


def test_volts_of_a_battery_and_a_frame_colder_than_its_air_are_asked_back() -> None:
    assert "day_rest_volts" in refused("commission", {**WHERE, "day_rest_volts": "12 V"}, "ketch")
    cold = {**WHERE, "day_frame": "20 °C", "day_air": "40 °C"}
    assert "day_frame" in refused("commission", cold, "ketch")
