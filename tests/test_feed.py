"""The feed line: against an independent library, by common practice, and by laws."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from answers import answered, state, value
from fluids.core import K_from_f, dP_from_K
from fluids.friction import Churchill_1977
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import stock
from calc.frame.report import FAILS, FITS, Report
from calc.physics import suction
from calc.system import feed_search as search
from calc.system.feed_line import (
    ATMOSPHERE,
    SMOOTH,
    Boost,
    FeedLine,
    Filters,
    Hose,
    Inlet,
    Moves,
    Spot,
    Strainer,
    Water,
)
from calc.system.sea import Sea

L_MIN = 1e-3 / 60
UPRIGHT = Moves(0.0, 0.0)
WATER = Water.of(Sea(298.15, 0.03516504))
NO_LOSS = Strainer(L_MIN, 0.0, 0.0)


def spot(height: float, aside: float = 0.0) -> Spot:
    return Spot(height, aside, 0.0)


def boost_of(shut_off: float = 1.1e5, free: float = 30.0, height: float = -0.3) -> Boost:
    return Boost(spot(height, 0.4), shut_off, free * L_MIN, 1.0, 0.0, Hose(2.0, 0.019, 6))


def line(**changes: Any) -> FeedLine:
    """An invented line that is fed."""
    made = FeedLine(
        WATER,
        6.2 * L_MIN,
        spot(-0.4, 0.5),
        Hose(2.5, 0.019, 4, 1, seacock=True),
        Strainer(20 * L_MIN, 1500.0, 0.5),
        Filters(2, 20 * L_MIN, 6000.0, 0.5e5, 6e5),
        boost_of(),
        Inlet(spot(0.2, 0.6), 0.0, 3e5, None, 3, 1430 / 60),
        Moves(math.radians(15), math.radians(5)),
    )
    return replace(made, **changes)


def ask(boat: str = "ketch", **form: Any) -> Report:
    return answered("feed", form, boat)


# ---- against the outside ----


@given(st.floats(2, 40), st.floats(0.008, 0.05), st.floats(0.1, 20))
@settings(max_examples=60, deadline=None)
def test_a_hose_loses_what_an_independent_library_says(
    flow: float, bore: float, length: float
) -> None:
    """fluids 1.3.1: Churchill's factor above the smooth flow, 64 / Re within it."""
    hose = Hose(length, bore, 0)
    re = hose.reynolds(flow * L_MIN, WATER)
    factor = 64 / re if re <= 2000 else Churchill_1977(re, SMOOTH / bore)
    loss = K_from_f(fd=factor, L=length, D=bore) + 1.5
    theirs = dP_from_K(K=loss, rho=WATER.density, V=hose.speed(flow * L_MIN))
    assert hose.lost(flow * L_MIN, WATER) == pytest.approx(theirs, rel=1e-6)


def by_motion(plungers: int, rod: float = 0.2, count: int = 7200) -> float:
    """C out of the motion of crank and rod: the steepest change of flow over its mean."""

    def flow(angle: float) -> float:
        total = 0.0
        for one in range(plungers):
            at = angle + 2 * math.pi * one / plungers
            sine, cosine = math.sin(at), math.cos(at)
            total += max(sine + rod * sine * cosine / math.sqrt(1 - (rod * sine) ** 2), 0.0)
        return total

    step = 2 * math.pi / count
    found = [flow(step * i) for i in range(count)]
    steepest = max(abs(b - a) for a, b in zip(found, [*found[1:], found[0]], strict=True)) / step
    return steepest / (sum(found) / count) * 2 * math.pi / 60


@pytest.mark.parametrize("plungers", range(1, 10))
def test_the_constants_of_the_strokes_follow_from_crank_and_rod(plungers: int) -> None:
    """A single plunger has 0.4: the 0.2 of some tables is a double-acting one's."""
    assert suction.stroke_constant(plungers) == pytest.approx(by_motion(plungers), rel=0.02)


class Fixed(Hose):
    """A hose that loses 2500 Pa, as worked examples have it."""

    def lost(self, flow: float, water: Water) -> float:
        return 2500.0


WORKED = line(
    water=replace(WATER, density=1023.34),
    flow=9 * L_MIN,
    hose=Fixed(1.0, 0.019, 0),
    moves=UPRIGHT,
    boost=None,
)


def test_flooded_is_not_fed() -> None:
    """0.4 m under the water, less 2500 Pa of hose and 4000 Pa of strainer: worked by hand."""
    made = replace(
        WORKED,
        strainer=Strainer(9 * L_MIN, 4000.0, 0.0),
        filters=replace(WORKED.filters, rated_loss=0.0),
        inlet=replace(WORKED.inlet, spot=spot(-0.4)),
    )
    assert made.inlet_pressure(dirty=False, moving=False) == pytest.approx(-2486, abs=1.0)


def test_the_boost_pump_sets_the_inlets_pressure() -> None:
    """A pump of 8 - 0.012 Q² m, the pump 0.3 m above the water, hose 2500 and filter 15 000 Pa."""
    head = 1023.34 * 9.80665
    boost = Boost(spot(0.0), 8 * head, math.sqrt(8 / 0.012) * L_MIN, 0.0, 0.0, Fixed(1, 0.019, 0))
    made = replace(
        WORKED,
        boost=boost,
        strainer=NO_LOSS,
        hose=Fixed(1.0, 0.019, 0),
        filters=Filters(1, 9 * L_MIN, 0.0, 15000.0 - 2500.0, 6e5),
        inlet=replace(WORKED.inlet, spot=spot(0.3)),
    )
    assert made.inlet_pressure(dirty=True, moving=False) == pytest.approx(50019, abs=2.0)


# ---- common practice ----


@pytest.mark.parametrize("flow", ["6 L/min", "7.5 L/min", "9 L/min"])
def test_half_inch_hose_with_a_boost_pump_feeds_six_to_nine_litres(flow: str) -> None:
    """Common practice, no source."""
    report = ask(flow=flow, feed_bore="0.5 in", boost_bore="0.5 in")
    assert report.verdict == FITS


def test_a_plunger_pump_that_has_to_suck_fails() -> None:
    """Common practice, no source."""
    report = ask(has_boost="no")
    assert report.verdict == FAILS and state(report, "inlet") == FAILS
    assert any(remedy.sets.get("has_boost") is True for remedy in remedies(report))


def remedies(report: Report) -> list[Any]:
    return [one for one in report.remedies if getattr(one, "sets", None)]


def test_a_boost_pump_that_dead_heads_above_the_inlets_limit_is_named() -> None:
    report = ask(boost_shut_off="4 bar")
    assert report.verdict == FAILS and state(report, "shut") == FAILS
    assert state(report, "housing") != FAILS
    assert state(ask(boost_shut_off="6.5 bar", inlet_most="8 bar"), "housing") == FAILS
    assert state(ask(boost_shut_off="2.5 bar"), "shut") == FITS


def test_a_boost_pump_too_small_for_the_flow_holds_it_back() -> None:
    report = ask(boost_free_flow="5 L/min")
    assert state(report, "inlet") == FAILS
    assert any("boost_free_flow" in remedy.sets for remedy in remedies(report))


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("feed_bore", "0 mm"),
        ("intake_depth", "-0.2 m"),
        ("boost_lift", "-1 m"),
        ("strainer_blocked", "100 %"),
        ("flow", "0 L/min"),
        ("sea_temperature", "80 °C"),
        ("boost_free_flow", "0 L/min"),
    ],
)
def test_a_senseless_value_is_named_by_its_field(field: str, text: str) -> None:
    made = stock.guide().run(stock.guide().get("feed"), {field: text}, example={"boat": "ketch"})
    assert made.report is None
    assert [fault.field for fault in made.bound.faults] == [field]


# ---- laws ----

lines = st.builds(
    lambda flow, bore, length, height, heel, dirt, boost, stiff: line(
        flow=flow * L_MIN,
        hose=Hose(length, bore, 4, 1, seacock=True),
        moves=Moves(heel, 0.05),
        strainer=Strainer(20 * L_MIN, 1500.0, dirt),
        boost=boost_of(boost) if boost else None,
        inlet=replace(line().inlet, spot=spot(height, 0.6)),
        stiff=stiff,
    ),
    st.floats(2, 15),
    st.floats(0.008, 0.03),
    st.floats(0.2, 10),
    st.floats(-1, 1.5),
    st.floats(0, 0.5),
    st.floats(0, 0.8),
    st.sampled_from([0.0, 0.6e5, 1.1e5, 2.5e5]),
    st.booleans(),
)


@given(lines, st.floats(1.01, 2))
@settings(max_examples=25, deadline=None)
def test_what_makes_it_harder_never_leaves_more_at_the_inlet(made: FeedLine, more: float) -> None:
    worst = made.fed.value
    harder = [
        search.with_flow(made, made.flow * more),
        search.with_bore(made, min(made.hose.bore, 0.019) / more),
        search.with_hose(made, made.hose.length * more),
        search.with_pump_at(made, made.inlet.spot.height + more),
        search.with_drop(made, made.filters.change * more),
        replace(made, moves=Moves(made.moves.heel * more, 0.05)),
        replace(
            made, strainer=replace(made.strainer, blocked=min(made.strainer.blocked * more, 0.98))
        ),
    ]
    assert all(one.fed.value <= worst + 1e-6 for one in harder)
    assert made.inlet_pressure(False, False) >= made.inlet_pressure(True, True)
    assert made.npsh == pytest.approx(
        (ATMOSPHERE + worst - made.water.vapour_pressure) / made.head, rel=1e-9
    ), "suction head and pressure are one"


@given(lines)
@settings(max_examples=60, deadline=None)
def test_the_pressures_along_the_line_end_at_the_pump(made: FeedLine) -> None:
    for dirty in (False, True):
        found = made.stations(dirty)
        before, behind = made.gauges(dirty)
        assert found[-1].pressure == behind and found[-2].pressure == before
        assert before - behind == pytest.approx(made.filters.lost(made.flow, made.water, dirty))
        if made.boost:
            lifted = next(s.pressure for s in found if s.key == "boost_out")
            by_hose = made.static(made.inlet.spot, False) - made.static(made.boost.spot, False)
            assert lifted + by_hose - made.delivery_lost == pytest.approx(before, abs=1e-6)


CHANGES = {
    "drop": search.with_drop,
    "blocked": lambda made, v: replace(made, strainer=replace(made.strainer, blocked=v)),
    "heel": lambda made, v: replace(made, moves=replace(made.moves, heel=v)),
    "length": search.with_hose,
    "bore": search.with_bore,
    "flow": search.with_flow,
}
ENDS = {search.HIGHEST_DROP, search.LONGEST, search.STEEPEST, search.MOST_BLOCKED}


@given(lines)
@settings(max_examples=25, deadline=None)
def test_each_thing_may_go_as_far_as_is_told_and_no_further(made: FeedLine) -> None:
    for one in search.room(made):
        if one.limit is None:
            continue
        less, more = (one.limit * 0.995, one.limit * 1.005)
        inside, outside = (less, more) if one.rising else (more, less)
        clean = made.filters.clean(made.flow, made.water)
        if one.key != "drop" or inside >= clean:
            assert CHANGES[one.key](made, inside).margin >= -1e-6, one
        ended = one.limit in ENDS or one.limit >= made.flow * search.MOST_FLOW * 0.999
        ended |= one.key == "bore" and one.limit <= search.NARROWEST * 1.001
        ended |= one.key == "flow" and made.margin < 0 and one.limit >= made.flow * 0.999
        if not ended:
            assert CHANGES[one.key](made, outside).margin < 1e-6, one


def test_the_drop_at_which_to_change_leaves_the_inlet_what_it_wants() -> None:
    weak = ask(boost_shut_off="0.4 bar")
    assert state(weak, "inlet") == FAILS
    told = value(weak, "change")
    assert value(weak, "clean") < told < 0.5e5
    again = ask(boost_shut_off="0.4 bar", filter_change=f"{told * 0.999 / 1e5} bar")
    assert state(again, "inlet") != FAILS
    assert value(again, "before") - value(again, "behind") == pytest.approx(value(again, "change"))


def test_soft_hose_is_no_limit_and_stiff_pipe_is() -> None:
    """The strokes' acceleration head is an upper bound for soft hose."""
    long = {"feed_length": "12 m", "boost_length": "6 m"}
    assert ask(**long).verdict == FITS
    stiff = ask(**long, feed_stiff="pipe")
    assert stiff.verdict == FAILS and state(stiff, "left") == FAILS
    assert value(stiff, "strokes") > value(stiff, "npsh")


@given(lines)
@settings(max_examples=40, deadline=None)
def test_a_soft_hose_is_never_asked_for_more_than_a_stiff_one(made: FeedLine) -> None:
    assert 0 < made.soft <= made.acceleration


def test_a_soft_hose_takes_most_of_the_strokes_of_three_plungers() -> None:
    """Half an inch at 9 L/min, which common practice feeds: about 3 m, a stiff line 50."""
    report = ask(flow="9 L/min", feed_bore="0.5 in", boost_bore="0.5 in")
    assert value(report, "soft") < 0.1 * value(report, "strokes")
    assert value(report, "soft") < value(report, "npsh") < value(report, "strokes")


def test_one_plunger_asks_for_six_times_what_three_do() -> None:
    one, three = (value(ask(plungers=n), "strokes") for n in ("1", "3"))
    assert one / three == pytest.approx(0.4 / 0.066)


def test_the_intake_and_the_boost_pump_come_out_of_the_water_as_she_heels() -> None:
    assert state(ask(water_heel="40°", intake_aside="1.5 m"), "intake") == FAILS
    assert state(ask(boost_height="0.1 m"), "primes") == FAILS
    assert state(ask(boost_height="0.1 m", boost_lift="1.5 m"), "primes") == FITS


def test_the_line_is_drawn_to_scale_of_height() -> None:
    drawing = next(d for d in ask().drawings if d.key == "line")
    hose = next(s for s in drawing.shapes if s.style == "accent")
    water = next(s for s in drawing.shapes if s.style == "fine").points[0][1]
    heights = [hose.points[1][1] - water, hose.points[-1][1] - water]
    q = stock.guide().run(stock.guide().get("feed"), example={"boat": "ketch"}).bound.values
    assert heights[0] / heights[1] == pytest.approx(-q["intake_depth"] / q["pump_height"])


def test_a_boost_pump_that_heel_lifts_out_of_the_water_is_mended_by_less_heel_too() -> None:
    """Sailing flatter costs nothing, moving a pump does."""
    made = ask(water_heel="40°", intake_aside="0.2 m")
    assert [f.key for f in made.figures if f.state == FAILS] == ["primes"]
    flatter = [r for r in made.remedies if "water_heel" in r.sets]
    assert len(flatter) == 1
    after = ask(intake_aside="0.2 m", **flatter[0].typed())
    assert not [f.key for f in after.figures if f.state == FAILS]
