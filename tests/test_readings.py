"""What the gauges of a healthy watermaker are expected to show: the pages' own figures."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from answers import answered, value
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import sheet, stock
from calc.frame.inputs import SHEET, Layer
from calc.system import motor
from calc.system.readings import HEALTHY, Condition, Watermaker, expected, kv_of, solved
from calc.system.sea import Sea

GUIDE = stock.guide()
BOATS = ("ketch", "catamaran")


class Asks(sheet.Gauged):
    pass


def watermaker(boat: str, **said: Any) -> Watermaker:
    texts = {**GUIDE.shelf("boat")[boat].texts, **said}
    known = {name: text for name, text in texts.items() if name in Asks.fields}
    bound = GUIDE.bind(Asks, Layer(SHEET, known, own=True))
    assert bound.good, bound.faults
    made: Asks = bound.as_values()
    return made.watermaker()


@cache
def usual(boat: str) -> Watermaker:
    return watermaker(boat)


@pytest.mark.parametrize("boat", BOATS)
@pytest.mark.parametrize("warm", ["8 °C", "29 °C"])
def test_it_is_expected_to_show_what_the_pages_tell(boat: str, warm: str) -> None:
    shows = expected(watermaker(boat, sea_temperature=warm))
    water = answered("water", {"sea_temperature": warm}, boat)
    feed = answered("feed", {"sea_temperature": warm}, boat)
    assert shows.product == pytest.approx(value(water, "product"), rel=1e-8)
    assert shows.conductivity == pytest.approx(value(water, "meter"), rel=1e-8)
    assert shows.before == pytest.approx(value(feed, "before_new"), rel=1e-8)
    assert shows.behind == pytest.approx(value(feed, "fresh"), rel=1e-8)
    work = motor.load(watermaker(boat).machine).at_work
    assert shows.amperes == pytest.approx(work.current, rel=1e-12)


@pytest.mark.parametrize("boat", BOATS)
def test_another_sea_is_the_same_as_a_boat_in_it(boat: str) -> None:
    there = Sea(283.15, 0.033)
    said = watermaker(boat, sea_temperature="10 °C", sea_salinity="33 g/kg")
    assert expected(usual(boat), there) == expected(said)


@pytest.mark.parametrize("boat", BOATS)
def test_a_valve_that_stands_gives_the_pressure_that_it_was_turned_to(boat: str) -> None:
    one = usual(boat)
    turned = solved(one)
    stands = solved(one, HEALTHY, kv_of(turned.made))
    assert stands.shows.pressure == pytest.approx(turned.shows.pressure, rel=1e-4)


@given(
    st.sampled_from(BOATS),
    st.sampled_from(["packing", "relief", "stroke", "air"]),
    st.floats(0.02, 0.4),
)
@settings(max_examples=40, deadline=None)
def test_water_that_is_lost_is_missed(boat: str, where: str, share: float) -> None:
    """Behind a valve that stands: less water, less pressure, saltier product."""
    one = usual(boat)
    healthy = solved(one)
    wrong = solved(one, Condition(**{where: share}), kv_of(healthy.made))
    assert wrong.shows.pressure is not None and healthy.shows.pressure is not None
    assert wrong.shows.pressure < healthy.shows.pressure
    assert wrong.made.product < healthy.made.product
    assert wrong.made.product_salinity > healthy.made.product_salinity


@given(st.sampled_from(BOATS), st.floats(0.05, 0.95), st.floats(0.0, 0.5), st.floats(0.2, 1.0))
@settings(max_examples=40, deadline=None)
def test_water_in_is_water_out(boat: str, blocked: float, relief: float, boost: float) -> None:
    condition = Condition(strainer=blocked, relief=relief, boost=boost)
    state = solved(usual(boat), condition)
    assert state.shows.product is not None and state.shows.brine is not None
    out = state.shows.product + state.shows.brine
    assert out == pytest.approx(state.takes * (1 - relief), rel=1e-9)


def test_a_starving_pump_takes_what_its_line_brings() -> None:
    state = solved(usual("ketch"), Condition(strainer=0.99))
    assert state.takes < 0.9 * solved(usual("ketch")).takes
    assert state.shows.behind == pytest.approx(-0.6e5, abs=100)
