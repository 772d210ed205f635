"""The flush: against numerical integration, by common practice, and by laws."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace
from typing import Any

import pytest
from answers import answered, both, refused, state, value
from hypothesis import given, settings
from hypothesis import strategies as st
from legal import legal_forms

from calc import stock
from calc.calculators import _order as words
from calc.frame.report import FAILS, FITS, TIGHT, Line, Remedy, Report
from calc.physics import flushing as physics
from calc.system.feed_line import Filters, Hose, Water
from calc.system.flushing import PUMP_VALVES, WEEK, Carbon, Flush, House, Rinse, Way, flushes
from calc.system.sea import Sea

L_MIN = 1e-3 / 60
BAR = 1e5
PPM = 1e-3  # kg/m3
PPM_H = PPM * 3600
FRESH = Water.of(Sea(293.15, 0.0))
BED = Carbon(1.1e-3, 9 * L_MIN, 0.2e5, 0.95, 14.0, PPM, 0.0, 6e5)


def way(**changes: Any) -> Way:
    made = Way(
        FRESH,
        Hose(4.0, 0.013, 6),
        0.0,
        None,
        Filters(2, 20 * L_MIN, 6000.0, 0.5e5, 6e5),
        House(1.4e5, 11 * L_MIN),
        None,
    )
    return replace(made, **changes)


RINSE = Rinse(8e-3, 0.5, 36.0, 0.3, 1.0, 25e-3)
FLUSH = Flush(RINSE, way(), True, 6.2 * L_MIN, 0.0, 3e5, 0.0, False, 0.1 * PPM, 7.0, 0.4)


def ask(boat: str = "ketch", **typed: Any) -> Report:
    return answered("flush", typed, boat)


def keys(report: Report) -> set[str]:
    return {f.key for f in report.figures}


def ways(report: Report) -> list[Remedy]:
    return [one for one in report.remedies if isinstance(one, Remedy) and one.sets]


# ---- salt ----


@given(st.floats(5, 45), st.floats(0, 0.5), st.floats(0.1, 6), st.integers(2, 4))
@settings(max_examples=25, deadline=None)
def test_a_mixed_vessel_is_its_differential_equation(
    sea: float, fresh: float, volumes: float, steps: int
) -> None:
    """V dc/dV = cf - c by Runge and Kutta's fourth order, apart from the closed form."""
    count = 100 * steps
    h, salt = volumes / count, sea
    for _ in range(count):
        k1 = fresh - salt
        k2 = fresh - (salt + h / 2 * k1)
        k3 = fresh - (salt + h / 2 * k2)
        k4 = fresh - (salt + h * k3)
        salt += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    assert physics.salt_left(sea, fresh, volumes * 8e-3, 8e-3) == pytest.approx(salt, rel=1e-6)


def test_many_small_vessels_in_a_row_are_a_plug() -> None:
    """Tanks in series, by hand: the more of them, the nearer to a plug."""

    def leaves(tanks: int, volumes: float) -> float:
        """Share of the salt in what leaves the last of them."""
        t = tanks * volumes
        return math.exp(-t) * sum(t**n / math.factorial(n) for n in range(tanks))

    assert leaves(1, 1.0) == pytest.approx(physics.salt_left(1, 0, 1, 1))
    before, after = leaves(100, 0.8), leaves(100, 1.25)
    assert before > 0.97 and after < 0.02
    plug = replace(RINSE, mixed=0.0, fresh=0.0)
    assert plug.left(0.8 * plug.unit) == plug.sea and plug.left(1.25 * plug.unit) == 0


@given(
    st.floats(0, 1),
    st.floats(1, 100),
    st.floats(1, 45),
    st.floats(0, 0.5),
    st.floats(0.6, 5),
    st.floats(1.01, 3),
)
@settings(max_examples=60, deadline=None)
def test_more_water_is_never_saltier_and_a_larger_unit_never_wants_less(
    mixed: float, litres: float, sea: float, fresh: float, aim: float, more: float
) -> None:
    made = Rinse(litres / 1000, mixed, sea, fresh, aim, 25e-3)
    amounts = [n / 1000 * litres / 4 for n in range(24)]
    salts = [made.left(amount) for amount in amounts]
    assert all(b <= a + 1e-12 for a, b in itertools.pairwise(salts))
    assert all(fresh - 1e-9 <= salt <= max(sea, fresh) for salt in salts)
    assert replace(made, unit=made.unit * more).needed >= made.needed
    assert replace(made, sea=sea * more).needed >= made.needed
    assert replace(made, aim=aim * more).needed <= made.needed
    if sea > aim:
        assert made.left(made.needed * (1 + 1e-9)) <= aim * (1 + 1e-6)
    if made.times >= 1:
        assert made.plug <= made.needed * (1 + 1e-12) <= made.mixing * (1 + 1e-9)


def test_the_two_models_are_told_apart() -> None:
    """8 L: a plug wants 8; mixed it wants ln(35.66 / 0.77) of them."""
    made = ask()
    assert value(made, "plug") == pytest.approx(8e-3)
    assert value(made, "plug") < value(made, "needed") < value(made, "mixing")
    assert value(ask(bowl_share="0 %"), "needed") == pytest.approx(value(made, "plug"))
    assert value(ask(bowl_share="100 %"), "needed") == pytest.approx(value(made, "mixing"))
    assert value(made, "time") == pytest.approx(value(made, "needed") / (6.2 * L_MIN))


@pytest.mark.parametrize(
    ("water", "verdict"), [("7 L", FAILS), ("19 L", FAILS), ("20 L", TIGHT), ("25 L", FITS)]
)
def test_the_water_for_a_flush_is_held_against_what_it_wants(water: str, verdict: str) -> None:
    assert state(ask(flush_water=water), "enough") == verdict


def test_water_that_is_saltier_than_the_aim_never_gets_there() -> None:
    """An old membrane in a hot sea at little pressure makes salty water."""
    made = ask(pressure="32 bar", sea_temperature="30 °C", flush_aim="0.2 g/L")
    assert made.verdict == FAILS
    assert [one.key for one in made.failures] == ["salty"]
    assert "needed" not in keys(made)


# ---- what pushes it ----


def test_a_weak_house_pump_starves_a_pump_that_runs() -> None:
    """The big pump takes its flow; pushed through with both off, it is what the house pump gives."""
    weak = ask(house_free_flow="5 L/min", has_boost="no")
    assert weak.verdict == FAILS and state(weak, "inlet") == FAILS
    assert any(one.sets == {"flush_by": "still"} for one in ways(weak))
    still = ask(house_free_flow="5 L/min", has_boost="no", flush_by="still", carbon_flow="9 L/min")
    assert "inlet" not in keys(still) and state(still, "flow") == FITS
    assert 0 < value(still, "flow") < 5 * L_MIN
    assert still.verdict != FAILS


@given(
    st.floats(0.3, 5),
    st.floats(2, 40),
    st.floats(0.006, 0.03),
    st.floats(0.2, 20),
    st.floats(-2, 3),
    st.floats(1.01, 2),
)
@settings(max_examples=60, deadline=None)
def test_what_flows_through_balances_what_pushes(
    bar: float, free: float, bore: float, length: float, rise: float, more: float
) -> None:
    made = way(
        house=House(bar * BAR, free * L_MIN), hose=Hose(length, bore, 6), rise=rise, carbon=BED
    )
    flow = made.through()
    assert 0 <= flow <= free * L_MIN
    if flow > 0:
        assert made.inlet(flow) == pytest.approx(PUMP_VALVES, abs=20)
    assert made.through(dirty=False) >= flow
    harder = [
        replace(made, rise=rise + more),
        replace(made, hose=Hose(length * more, bore, 6)),
        replace(made, filters=replace(made.filters, change=0.5e5 * more)),
        replace(made, house=House(bar * BAR / more, free * L_MIN)),
        replace(made, house=House(bar * BAR, free * L_MIN / more)),
    ]
    assert all(one.through() <= flow + 1e-9 for one in harder)


def test_a_can_is_drawn_from_by_the_boost_pump_or_not_at_all() -> None:
    assert state(ask(flush_from="can", has_carbon="no", flush_chlorine="no"), "inlet") == FITS
    dry = ask(flush_from="can", has_carbon="no", flush_chlorine="no", has_boost="no")
    assert state(dry, "inlet") == FAILS
    assert {"shut", "still"}.isdisjoint(keys(dry)), "no house pump pushes"
    assert any("boost_shut_off" in one.sets for one in ways(dry))
    near = ask(
        flush_from="can",
        has_carbon="no",
        flush_chlorine="no",
        has_boost="no",
        filter_change="0.2 bar",
    )
    assert any("flush_rise" in one.sets for one in ways(near)), "the can stands higher"


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ({"house_shut_off": "2.2 bar"}, "shut"),
        ({"house_shut_off": "6 bar", "inlet_most": "9 bar"}, "housing"),
        ({"house_shut_off": "6.5 bar", "inlet_most": "9 bar", "filter_bears": "9 bar"},
         "carbon-housing"),
    ],
)  # fmt: skip
def test_nothing_bears_more_than_it_does_against_a_shut_end(
    typed: dict[str, str], key: str
) -> None:
    made = ask(**typed)
    assert made.verdict == FAILS and state(made, key) == FAILS
    assert any("house_shut_off" in one.sets for one in ways(made))


def test_the_boost_pump_adds_where_it_runs() -> None:
    """1.4 and 1.1 bar; standing, it adds nothing."""
    assert value(ask(), "shut") == pytest.approx(2.5 * BAR)
    assert value(ask(flush_by="still"), "shut") == pytest.approx(1.4 * BAR)


@pytest.mark.parametrize(
    ("typed", "key", "sets"),
    [
        ({"house_shut_off": "0.5 bar", "house_free_flow": "5 L/min", "has_boost": "no"},
         "inlet", {"house_shut_off", "house_free_flow"}),
        ({"house_shut_off": "0.2 bar", "house_free_flow": "8 L/min", "flush_by": "still"},
         "no-flow", {"house_shut_off"}),
    ],
)  # fmt: skip
def test_a_house_pump_weak_in_all_has_a_remedy(
    typed: dict[str, str], key: str, sets: set[str]
) -> None:
    """More flow alone, or more pressure alone, may not be enough; typed in, what is told mends."""
    made = ask(**typed)
    assert made.verdict == FAILS
    told = [one for one in ways(made) if one.mends == key]
    assert [set(one.sets) for one in told] == [sets]
    after = {name: getattr(text, "text", str)() for name, text in told[0].sets.items()}
    mended = ask(**typed | after)
    assert "no-flow" not in [one.key for one in mended.failures]
    assert mended.verdict != FAILS


def test_without_a_way_in_there_is_no_flush() -> None:
    made = ask(flush_way="none")
    assert made.verdict == FAILS and [one.key for one in made.failures] == ["no-way"]


@pytest.mark.parametrize(
    ("typed", "steps"),
    [
        ({"flush_from": "can"}, (False, False, True)),
        ({"flush_from": "house", "flush_by": "running"}, (True, False, True)),
        ({"flush_from": "house", "flush_by": "still"}, (True, True, False)),
    ],
)
def test_the_order_of_a_stop_is_that_of_this_flush(
    typed: dict[str, str], steps: tuple[bool, bool, bool]
) -> None:
    """The flush line's valve; waiting while both pumps stand; the big pump on for a flush."""
    guide = stock.guide()
    made = guide.run(guide.get("running"), typed, example={"boat": "ketch"})
    assert made.report is not None
    table = next(t for t in made.report.tables if t.key == "stop")
    told = {row[1].template for row in table.rows if isinstance(row[1], Line)}
    keys = ("shut.flush_valve", "wait.flush", "on.high_pressure_pump.flush")
    assert tuple(words.STOP[key][0] in told for key in keys) == steps


# ---- chlorine ----


def test_dosed_water_without_carbon_never() -> None:
    made = ask(has_carbon="no")
    assert made.verdict == FAILS
    assert "no-carbon" in [one.key for one in made.failures]
    assert value(made, "chlorine") == pytest.approx(0.5 * PPM)
    assert any("has_carbon" in one.sets for one in ways(made))
    assert not any("neutralised" in one.sets for one in ways(made)), "not in the drinking tank"
    assert ask(has_carbon="no", flush_chlorine="no", tank_dosed="no").verdict == FITS


def test_metabisulphite_takes_the_chlorine_of_a_can() -> None:
    """1.3406 mg for each mg (E10): 25 L of 0.5 mg/L hold 12.5 mg."""
    plain = {"flush_from": "can", "has_carbon": "no"}
    assert any(one.sets == {"neutralised": "yes"} for one in ways(ask(**plain)))
    made = ask(**plain, neutralised="yes")
    assert made.verdict == FITS
    assert value(made, "sulphite") == pytest.approx(12.5e-6 * 1.3406, rel=1e-4)
    assert value(made, "chlorine") == 0
    house = ask(has_carbon="no", neutralised="yes")
    assert house.verdict == FAILS, "in the tank it doesn't count"


@given(
    st.floats(0.01, 10),
    st.floats(0.5, 30),
    st.floats(0.01, 0.999),
    st.floats(0, 20),
    st.floats(0.1, 5),
    st.floats(1.01, 3),
)
@settings(max_examples=60, deadline=None)
def test_carbon_never_gives_more_chlorine_than_came_in(
    ppm: float, flow: float, takes: float, used: float, stated: float, more: float
) -> None:
    bed = replace(BED, takes=takes, used=used, stated=stated * PPM)
    made = replace(FLUSH, way=way(carbon=bed), chlorine=ppm * PPM, feed=flow * L_MIN)
    assert 0 <= made.at_membrane <= made.chlorine
    assert bed.behind(ppm * PPM, flow * L_MIN) < made.chlorine
    faster = replace(made, feed=made.feed * more)
    assert faster.at_membrane >= made.at_membrane
    assert replace(made, chlorine=made.chlorine * more).at_membrane >= made.at_membrane
    assert made.contact is not None and faster.contact is not None
    assert faster.contact.value < made.contact.value
    held = made.carbon_left
    assert held is not None
    if not held.holds:
        assert made.at_membrane == made.chlorine, "used up, it takes nothing"


@pytest.mark.parametrize(
    ("typed", "verdicts"),
    [
        ({"carbon": "ember-20"}, {"contact": FITS, "chlorine": FITS, "carbon-left": FITS}),
        ({"carbon": "ember-10"}, {"contact": FAILS}),
        ({"carbon_used": "29000 L"}, {"carbon-left": FAILS, "chlorine": FAILS}),
        ({"carbon_used": "27000 L"}, {"carbon-left": FITS}),
        ({"water_chlorine": "10 mg/L", "carbon_used": "0 L"}, {"chlorine": FAILS}),
    ],
)
def test_carbon_is_held_by_time_litres_and_what_passes(
    typed: dict[str, str], verdicts: dict[str, str]
) -> None:
    made = ask(**typed)
    assert {key: state(made, key) for key in verdicts} == verdicts


def test_a_year_of_what_membranes_bear_is_near_what_harms_them() -> None:
    """0.1 mg/L all year are 876.6 ppm h, of some 1000."""
    made = replace(FLUSH, chlorine=0.1 * PPM)
    assert made.yearly_dose == pytest.approx(876.6 * PPM_H)
    assert made.ruined_after == pytest.approx(10000 * 3600)
    assert FLUSH.yearly_dose == 0 and FLUSH.ruined_after is None


# ---- the week ----


def test_flushes_come_after_each_run_and_as_often_as_one_keeps() -> None:
    day = WEEK / 7
    assert flushes(7, 7 * day) == 7
    assert flushes(1, 3.5 * day) == 2
    hot = ask(water_days="1", ambient_temperature="35 °C")
    cool = ask(water_days="1", ambient_temperature="25 °C")
    assert value(hot, "flushes") == pytest.approx(3)
    assert value(cool, "flushes") == pytest.approx(1)


@pytest.mark.parametrize("heat", ["20 °C", "31 °C", "35 °C", "41 °C", "52 °C", "60 °C"])
def test_upkeep_flushes_as_often_between_two_runs(heat: str) -> None:
    """In whole days, as hands count them: three of three and a half; never oftener than daily."""
    week = {"ambient_temperature": heat, "flush_every": "7 days"}
    stood = answered("upkeep", week | {"stands": "7 days", "lay_ups": []}, "ketch")
    assert value(ask(**week, water_days="1"), "flushes") == value(stood, "flushes")


def test_an_inlet_that_no_pressure_suits_is_refused_by_name() -> None:
    for name in ("flush", "feed"):
        faults = refused(name, {"inlet_least": "2.5 bar", "inlet_most": "2 bar"}, "ketch")
        assert list(faults) == ["inlet_least"]
        assert "Highest pressure at the pump's inlet" in faults["inlet_least"]


def test_flushing_may_eat_all_of_it() -> None:
    made = ask(run_hours="0.3 h", water_days="7")
    assert state(made, "week") == FAILS
    assert any("run_hours" in one.sets for one in ways(made))


@settings(max_examples=30, deadline=None)
@given(typed=legal_forms("flush"), boat=st.sampled_from(["ketch", "catamaran"]))
def test_it_reckons_with_the_water_of_the_page_of_water(typed: dict[str, Any], boat: str) -> None:
    """What is made in this sea is one number on both pages."""
    found = both("flush", "water", typed, boat)
    if found is None:
        return
    here, there = found
    assert here.flush().made == pytest.approx(7 * here.run_hours * there.making.made.product)


# ---- nonsense ----


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("flush_water", "0 L"),
        ("unit_water", "0 L"),
        ("unit_water", "-3 L"),
        ("water_chlorine", "50 mg/L"),
        ("water_chlorine", "-1 mg/L"),
        ("house_shut_off", "0 bar"),
        ("carbon_volume", "0 L"),
        ("carbon_takes", "100 %"),
        ("carbon_used", "-5 L"),
        ("flush_aim", "0 g/L"),
        ("bowl_share", "120 %"),
        ("flush_bore", "0 mm"),
    ],
)
def test_a_senseless_value_is_named_by_its_field(field: str, text: str) -> None:
    made = stock.guide().run(stock.guide().get("flush"), {field: text}, example={"boat": "ketch"})
    assert made.report is None
    assert [fault.field for fault in made.bound.faults] == [field]


def test_what_holds_chlorine_is_asked_of_her_own_boat() -> None:
    guide = stock.guide()
    made = guide.run(guide.get("flush"), sheet={"unit": "skerry-45"}, own_boat=True)
    assert made.report is None and made.lacks


HERS = {
    "unit": "skerry-45",
    "flush_way": "three_way",
    "unit_water": "7 L",
    "flush_water": "20 L",
    "flush_from": "house",
    "flush_by": "running",
    "house_shut_off": "2.8 bar",
    "house_free_flow": "12 L/min",
    "flush_chlorine": "no",
}
BOOST = ("has_boost",), ("boost_pump", "boost_shut_off"), ("boost_pump", "boost_free_flow")


@pytest.mark.parametrize(
    ("said", "lacks"),
    [
        ({}, BOOST[:1]),
        ({"flush_from": "can"}, BOOST[:1]),
        ({"has_boost": "yes"}, BOOST[1:]),
        ({"has_boost": "yes", "boost_shut_off": "1 bar"}, BOOST[2:]),
        ({"has_boost": "no"}, ()),
        ({"flush_by": "still"}, ()),
    ],
)
def test_no_boost_pump_of_an_example_runs_in_her_flush(said: Any, lacks: Any) -> None:
    guide = stock.guide()
    made = guide.run(guide.get("flush"), sheet={**HERS, **said}, own_boat=True)
    assert made.lacks == lacks
    assert (made.report is None) == bool(lacks)


def test_carbon_too_small_for_the_chlorine_is_mended_before_all_else() -> None:
    """What decides is told first, though the flush is too small as well: one of both mends it."""
    typed = {"flush_water": "15 L", "flush_by": "still", "water_chlorine": "0.5 mg/L"}
    typed |= {"carbon": "ember-10", "house_free_flow": "16 L/min", "house_shut_off": "2.4 bar"}
    made = ask(**typed)
    assert (made.verdict, made.decided_by) == (FAILS, "chlorine")
    first = made.ways(9)[0][0]
    assert isinstance(first, Remedy) and first.mends == "chlorine"
    after = ask(**typed, **first.typed())
    assert state(after, "chlorine") != FAILS != state(after, "contact")
    assert state(after, "enough") == FAILS
