"""Putting a unit in: the order held by a model of hands, the list against the pages it comes from."""

from __future__ import annotations

import csv
import io
import math
from html import escape
from typing import Any

import pytest
from answers import answered, value
from hands import Broken, exchanged, without
from hands_install import KITS, LICENSED, put_in
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import stock
from calc.calculators.installation import goods, words
from calc.calculators.installation.tell import CHOOSE
from calc.calculators.installation.tell import UNKNOWN as MEASURE
from calc.frame.render import card, html
from calc.frame.report import FAILS, UNKNOWN, Line, Report
from calc.physics import enclosures
from calc.system.installing import DRIP, DRY, JET, PARTS, SPLASH, kept_out, plan

GUIDE = stock.guide()
PLAN = {
    "wet": "drip",
    "enclosure": "5",
    "seacock_there": "yes",
    "brine_length": "3 m",
    "product_length": "6 m",
    "relief_length": "1.2 m",
}
SUBJECTS = {
    "mount": ("mount", {"mount"}),
    "feed": ("feed", {"feed"}),
    "pressure": ("pressure", {"pressure", "relief", "shut-off", "outlet"}),
}


def told(boat: str = "ketch", **typed: Any) -> Report:
    return answered("installation", {**PLAN, **typed}, boat)


# ---- the order of hands ----


def test_the_work_keeps_the_laws_on_every_boat() -> None:
    for kit in KITS:
        try:
            put_in(kit, plan(kit))
        except Broken as broken:
            raise AssertionError(f"{broken}: {kit}") from broken


# What a boat is no worse without, as long as it is done before it is used; each has its own reason.
KEYS = sorted({step.key for kit in KITS for step in plan(kit)})


@pytest.mark.parametrize("key", KEYS)
def test_without_any_one_step_a_law_breaks(key: str) -> None:
    tried = 0
    for kit in KITS:
        for fewer in without(plan(kit), key):
            tried += 1
            with pytest.raises(Broken):
                put_in(kit, fewer)
    assert tried


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("lock.sources", "drill.holes"),
        ("measure.depth", "drill.holes"),
        ("fill.core", "drill.holes"),
        ("change.plug", "fill.oil"),
        ("shut.seacock", "lay.feed_hose"),
        ("set.terminals", "wire.motor"),
        ("prove.wiring", "unlock.sources"),
        ("look.joints.rest", "unlock.sources"),
        ("open.regulating_valve", "on.high_pressure_pump.glimpse"),
        ("look.turning", "on.high_pressure_pump.test"),
        ("look.joints.running", "fit.membranes"),
        ("lock.sources.again", "fit.membranes"),
        ("lock.sources.again", "shut.brine_valve"),
    ],
)
def test_two_steps_changed_about_break_a_law(first: str, second: str) -> None:
    tried = 0
    for kit in KITS:
        if (changed := exchanged(plan(kit), first, second)) is not None:
            tried += 1
            with pytest.raises(Broken):
                put_in(kit, changed)
    assert tried


def test_only_the_licensed_touch_wires_and_nothing_is_live_before_them() -> None:
    for kit in KITS:
        for name, part in PARTS.items():
            assert all((step.verb in LICENSED) == (name == "wires") for step in part(kit))
    assert all(do.startswith("By somebody licensed:") for do, _ in words.WIRES.values())


def test_each_step_and_each_thing_has_words_and_no_words_are_left_over() -> None:
    for name, part in PARTS.items():
        assert {step.key for kit in KITS for step in part(kit)} == set(words.KNOWN[name]), name
    found = set()
    for typed in (
        {},
        {"seacock_there": "no", "drain_reached": "no", "attitude": "bulkhead", "feed_check": "yes"},
        {"fix_by": "screws", "flush_way": "tap", "brine_valve": "no", "air_way": "fan"},
        {"air_way": "one", "has_relief": "no"},
        {"floor_material": "cored_balsa", "mount_by": "hard"},
    ):
        made = GUIDE.run(
            GUIDE.get("installation"), {**PLAN, **typed}, example={"boat": "ketch"}
        ).report
        assert made is not None, typed
        found |= {
            row[0].template for table in made.tables for row in table.rows if table.key[:3] == "buy"
            and isinstance(row[0], Line)
        }  # fmt: skip
    assert found == set(goods.THINGS.values())


# ---- the list ----


def rows(made: Report, key: str) -> dict[str, Any]:
    by = {text: name for name, text in goods.THINGS.items()}
    table = next(t for t in made.tables if t.key == key)
    return {by[r[0].template]: (r[0], r[1]) for r in table.rows if isinstance(r[0], Line)}


def test_cables_and_fuse_are_those_of_the_page_wiring() -> None:
    for boat, runs in (("ketch", {}), ("catamaran", {"dc_run": "2 m", "ac_run": "9 m"})):
        there, here = answered("wiring", runs, boat), rows(told(boat, **runs), "buy-wires")
        assert here["bank_fuse"][0].amounts["rating"].value == value(there, "fuse")
        assert here["breaker"][0].amounts["rating"].value == value(there, "breaker")
        run = GUIDE.run(GUIDE.get("wiring"), runs, example={"boat": boat}).bound.values
        assert here["bank_cable"][1].value == pytest.approx(2 * run["dc_run"])
        assert here["motor_cable"][1].value == pytest.approx(run["ac_run"])
    here = rows(told(dc_size="50 mm²", dc_pairs="2"), "buy-wires")
    assert here["bank_cable"][1].value == pytest.approx(2 * 2 * 1.5)
    assert here["bank_lugs"][1].value == 12


def test_bolts_mounts_and_plates_are_counted_by_the_feet() -> None:
    here = rows(told(mount_count="6", fasteners_each="2", bolt="M8"), "buy-place")
    assert [here[key][1].value for key in ("mounts", "bolts", "nuts", "plates")] == [6, 12, 12, 12]
    assert here["bolts"][0].amounts["thread"] == "M8"


def clamps(**typed: str) -> float:
    return value(told(**typed), "clamps")


def test_clamps_are_two_on_each_end_that_the_sea_can_reach() -> None:
    """Counted by hand: seacock, three-way valve, strainer, boost pump, two filters, pump: 12 ends."""
    high = {"pump_height": "2 m", "boost_height": "2 m", "brine_dips": "no"}
    others = 2 + 2 + 1 + 2  # brine, fresh water, relief valve, flush
    assert clamps(**high) == 2 * 1 + 11 + others
    low = {"pump_height": "-1 m", "boost_height": "-1 m", "brine_dips": "no"}
    assert clamps(**low) == 2 * 12 + others
    assert clamps(**low, cartridges="3") == clamps(**low) + 4
    assert clamps(**{**low, "brine_dips": "yes"}) == clamps(**low) + 2
    assert clamps(**high, has_boost="no") == clamps(**high) - 2


@settings(max_examples=25, deadline=None)
@given(height=st.floats(-2, 2), more=st.floats(0, 1), heel=st.integers(0, 40))
def test_lower_or_heeled_further_it_never_wants_fewer_clamps(
    height: float, more: float, heel: int
) -> None:
    there = {"pump_height": f"{height:.3f} m", "boost_height": f"{height:.3f} m"}
    lower = {"pump_height": f"{height - more:.3f} m", "boost_height": f"{height - more:.3f} m"}
    upright = clamps(**there, water_heel="0°")
    assert clamps(**there, water_heel=f"{heel}°") >= upright
    assert clamps(**lower, water_heel="0°") >= upright


def test_the_file_holds_every_thing_of_the_list() -> None:
    made = told()
    download = next(d for d in made.downloads if d.key == "list")
    lines = list(csv.DictReader(io.StringIO(download.text)))
    assert len(lines) == value(made, "things")
    listed = [
        row[0].text() for t in made.tables if t.key.startswith("buy") for row in t.rows
        if isinstance(row[0], Line)
    ]  # fmt: skip
    assert [line["thing"] for line in lines] == listed
    hose = sum(
        float(one["amount"]) for one in lines if one["unit"] == "m" and "ose" in one["thing"]
    )
    assert hose == pytest.approx(value(made, "hose"))
    assert all(float(one["amount"]) > 0 for one in lines)


# ---- her own boat ----

SAID = {
    "unit": "skerry-45", "wet": "dry", "attitude": "platform", "seacock_there": "yes",
    "drain_reached": "yes", "boost_pump": "sett-1", "relief_outlet": "open",
    "inverter_power": "2000 VA", "flush_way": "three_way", "brine_valve": "no", "brine_dips": "no",
    "product_way": "three_way", "mount_by": "rubber", "floor_material": "plywood",
}  # fmt: skip


def own(**typed: str) -> Report:
    outcome = GUIDE.run(GUIDE.get("installation"), {**SAID, **typed}, own_boat=True)
    assert outcome.report is not None, (outcome.lacks, outcome.bound.faults)
    return outcome.report


def test_what_she_did_not_say_is_to_be_measured_and_stops_the_verdict() -> None:
    made = own()
    assert made.verdict == UNKNOWN
    here = rows(made, "buy-water") | rows(made, "buy-wires")
    for key in ("feed_hose", "brine_hose", "relief_hose", "bank_cable", "motor_cable", "clamps"):
        assert here[key][1] == MEASURE, key
    assert here["feed_hose"][0].amounts["bore"] == MEASURE
    assert here["bank_fuse"][0].amounts["rating"] == MEASURE
    assert here["bank_cable"][0].amounts["size"] == CHOOSE
    bolts = rows(made, "buy-place")["bolts"]
    assert bolts[1] == MEASURE and bolts[0].amounts["thread"] == CHOOSE
    told = [row[1] for t in made.tables if t.steps for row in t.rows if isinstance(row[1], Line)]
    drilled = next(one for one in told if one.template == words.PLACE["drill.holes"][0])
    assert drilled.amounts["n"] == drilled.amounts["hole"] == MEASURE
    found = {one.key for one in made.unknowns}
    assert {"mount-unsaid", "feed-unsaid", "wiring-unsaid", "to-measure"} <= found
    assert not {"hose", "cable", "clamps", "head"} & {f.key for f in made.figures}
    said = own(feed_length="2 m", feed_bore="25 mm", brine_length="3 m")
    here = rows(said, "buy-water")
    assert here["feed_hose"][1].value == 2 and here["brine_hose"][1].value == 3
    assert here["feed_hose"][0].amounts["bore"].value == pytest.approx(0.025)


# ---- what bars it ----


@pytest.mark.parametrize(
    ("wet", "tilt", "least"),
    [(DRY, 60, 0), (DRIP, 0, 1), (DRIP, 15, 2), (DRIP, 20, 3), (SPLASH, 0, 4), (JET, 0, 5)],
)
def test_the_enclosure_wanted_is_that_of_the_standard(wet: str, tilt: float, least: int) -> None:
    assert kept_out(wet, math.radians(tilt)) == least


@given(a=st.floats(0, math.pi / 2), b=st.floats(0, math.pi / 2))
def test_tilted_further_it_never_wants_less(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert enclosures.falling_water(low) <= enclosures.falling_water(high)


def test_water_at_a_motor_that_does_not_bear_it_fails_and_one_that_nobody_knows_is_asked() -> None:
    for numeral in range(9):
        made = told(enclosure=str(numeral), wet="drip", sail_heel="20°")
        assert (made.verdict == FAILS) == (numeral < 3)
        assert ("wet" in [one.key for one in made.failures]) == (numeral < 3)
    assert [one.key for one in told(enclosure="unknown").unknowns] == ["enclosure"]
    assert not told(wet="dry", enclosure="0").failures


HARD = [
    {},
    {"sail_heel": "40°"},
    {"floor_thickness": "4 mm"},
    {"locker_height": "280 mm"},
    {"washer": "8 mm", "bolt": "M4"},
    {"boost_height": "1 m"},
    {"feed_bore": "8 mm"},
    {"cartridge_loss": "500 mbar"},
    {"boost_shut_off": "9 bar"},
    {"relief_opens": "50 bar"},
    {"hose_bears": "40 bar"},
    {"gauge_scale": "60 bar"},
    {"relief_outlet": "brine"},
    {"relief_shut_off": "yes"},
    {"relief_bore": "0.3 mm", "relief_flow": ""},
    {"has_relief": "no"},
]


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
@pytest.mark.parametrize("typed", HARD, ids=str)
def test_it_bars_what_the_pages_on_its_parts_bar_and_nothing_else(
    boat: str, typed: dict[str, str]
) -> None:
    made = told(boat, **typed)
    keys = {one.key for one in made.failures}
    keys |= {f.key for f in made.figures if f.state == FAILS}
    mine = {"mount": {"mount", "head", "across", "height", "tilt_across", "tilt_along"}}
    for name, (page, own_keys) in SUBJECTS.items():
        asks = GUIDE.get(page).asks.fields
        there = answered(page, {k: v for k, v in typed.items() if k in asks}, boat)
        assert (there.verdict == FAILS) == bool(keys & (own_keys | mine.get(name, set()))), name
    wired = answered(
        "wiring", {k: v for k, v in typed.items() if k in GUIDE.get("wiring").asks.fields}, boat
    )
    assert wired.verdict == FAILS or not keys & {"wiring", "motor"}


@pytest.mark.parametrize(
    "typed",
    [
        {"dc_run": "100 m"},
        {"ac_run": "200 m", "ac_size": "1.5 mm²"},
        {"dc_size": "4 mm²"},
        {"inverter_power": "500 VA", "inverter_surge": "600 VA"},
        {"ambient_temperature": "60 °C"},
    ],
    ids=str,
)
def test_wiring_that_fails_there_bars_the_plan(typed: dict[str, str]) -> None:
    assert answered("wiring", typed, "ketch").verdict == FAILS
    assert {"wiring", "motor"} & {one.key for one in told(**typed).failures}


# ---- as it is told ----


def test_steps_are_numbered_through_and_the_card_has_every_thing_to_buy() -> None:
    calculator = GUIDE.get("installation")
    outcome = GUIDE.run(calculator, PLAN, example={"boat": "ketch"})
    assert outcome.report is not None
    page = html.answer(outcome)
    paper = card.answer_card(calculator, outcome, card.Imprint())
    numbers: list[Any] = []
    for table in outcome.report.tables:
        if table.steps:
            assert f'data-key="fold-table-{table.key}" open>' in page
            numbers += [row[0] for row in table.rows]
            continue
        for thing, _ in table.rows:
            assert isinstance(thing, Line) and escape(thing.text()) in paper
    assert numbers == [str(n) for n in range(1, len(numbers) + 1)]
    assert len(numbers) == value(outcome.report, "to_do")
    assert "more, on the page" not in paper


def test_a_step_has_this_boats_numbers() -> None:
    def said(made: Report) -> str:
        return " ".join(
            row[1].text() for t in made.tables if t.steps for row in t.rows
            if isinstance(row[1], Line)
        )  # fmt: skip

    text = said(told(head_access="333 mm", hose_bend="171 mm", bolt="M10", test_time="4 min"))
    for number in ("333 mm", "171 mm", "M10", "11 mm", "24.8 L"):
        assert number in text, number


def test_a_boost_pump_has_its_cable_and_fuse_in_the_list() -> None:
    """Where a step wires it, there is something to wire it with."""
    for boost in (True, False):
        made = answered("installation", {"has_boost": boost}, "ketch")
        wires = next(one for one in made.tables if one.key == "buy-wires")
        things = [getattr(row[0], "template", row[0]) for row in wires.rows]
        assert (goods.THINGS["boost_cable"] in things) == boost
