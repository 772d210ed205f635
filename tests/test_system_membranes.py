"""The laws of membranes, and the same elements solved by other libraries."""

from __future__ import annotations

import math
import time
from dataclasses import replace
from typing import Any

import gsw
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc import stock
from calc.physics import membranes as physics
from calc.physics import roots
from calc.system import membranes
from calc.system.membranes import Elements, Made, Rated, Train
from calc.system.sea import TEST, Sea
from calc.system.unfit import Unfit

LPH = 1 / 3.6e6
BAR = 1e5
ONE = Elements(
    1, 2.6, 0.995, 55.2 * BAR, 0.08, 59 * LPH, 0.7 * BAR, 1320 * LPH, 69 * BAR, 30 * LPH, 318.15
)
RATED = Rated(45 * LPH, 55 * BAR, 372 * LPH, ONE)
SEAS = st.builds(Sea, st.floats(271.2, 309.0), st.floats(0.0, 0.05))
FEEDS = st.floats(100, 1200).map(lambda flow: flow * LPH)
PRESSURES = st.floats(1, 80).map(lambda bar: bar * BAR)
LAW = settings(max_examples=40, deadline=None, derandomize=True)


def a_train(count: int = 1, **others: Any) -> Train:
    rated = replace(RATED, elements=replace(ONE, count=count), **others)
    return membranes.train(rated)


TRAINS = st.builds(
    a_train,
    st.integers(1, 4),
    product=st.floats(10, 60).map(lambda flow: flow * LPH),
    pressure=st.floats(50, 65).map(lambda bar: bar * BAR),
)


def balanced(found: Made) -> None:
    for state in found.states:
        for volume, salt in (
            (state.product + state.brine - state.feed, None),
            (None, state.product * state.product_salt + state.brine * state.brine_salt),
        ):
            if volume is not None:
                assert abs(volume) <= 1e-9 * state.feed
            if salt is not None:
                assert salt == pytest.approx(state.feed * state.feed_salt, rel=1e-9, abs=1e-15)
    whole = found.product * found.product_salinity + found.brine * found.brine_salinity
    assert found.product + found.brine == pytest.approx(found.feed, rel=1e-9)
    assert whole == pytest.approx(found.feed * found.sea.concentration, rel=1e-9, abs=1e-15)


@given(TRAINS, SEAS, FEEDS, PRESSURES)
@LAW
def test_water_and_salt_balance_and_nothing_is_negative(
    train: Train, sea: Sea, feed: float, pressure: float
) -> None:
    found = membranes.made(train, sea, feed, pressure)
    balanced(found)
    assert 0 <= found.product < feed
    assert 0 <= found.product_salinity <= sea.concentration * (1 + 1e-12)
    assert all(math.isfinite(value) for state in found.states for value in vars(state).values())
    if pressure <= sea.osmotic_pressure:
        assert found.product == 0


@given(TRAINS, SEAS, FEEDS, PRESSURES, st.floats(0, 10), st.floats(0, 0.01), st.floats(0, 10))
@LAW
def test_more_pressure_never_less_and_a_colder_or_saltier_sea_never_more(
    train: Train, sea: Sea, feed: float, bar: float, more: float, salt: float, colder: float
) -> None:
    found = membranes.made(train, sea, feed, bar)
    # Of the last drops more pressure takes the last element's share of water: no answer goes there.
    assume(found.recovery < 0.7)
    here = found.product
    slack = 1e-9 * feed
    assert membranes.made(train, sea, feed, bar + more * BAR).product >= here - slack
    saltier = replace(sea, salinity=sea.salinity + salt)
    assert membranes.made(train, saltier, feed, bar).product <= here + slack
    cold = replace(sea, temperature=max(270.0, sea.temperature - colder))
    # Just above what the brine holds back by osmosis a colder sea yields more: it holds back less.
    if bar > 1.4 * sea.osmotic_pressure / (1 - found.recovery):
        assert membranes.made(train, cold, feed, bar).product <= here + slack
    assert membranes.made(train, sea, feed, bar, 0.3 * BAR).product <= here + slack


@given(TRAINS, SEAS, FEEDS, PRESSURES)
@LAW
def test_energy_is_never_below_the_least_work(
    train: Train, sea: Sea, feed: float, pressure: float
) -> None:
    found = membranes.made(train, sea, feed, pressure)
    least = membranes.least_work(found)
    if found.product > 1e-3 * feed and least is not None:
        # what the pump puts into the feed, for each litre that passes; less if it is not so clean
        kept = 1 - found.product_salinity / max(sea.concentration, 1e-9)
        assert pressure / found.recovery >= least * kept * (1 - 1e-9)
        assert pressure >= least * kept  # the water alone


@given(TRAINS, st.floats(50, 65))
@LAW
def test_the_papers_come_back(train: Train, bar: float) -> None:
    """A from a unit's stated point gives that back; so does what was measured elsewhere."""
    sea, feed = Sea(291.15, 0.037), 400 * LPH
    found = membranes.made(train, sea, feed, bar * BAR)
    weaker = replace(
        train, membrane=replace(train.membrane, permeability=train.membrane.permeability * 0.8)
    )
    less = membranes.made(weaker, sea, feed, bar * BAR)
    again = membranes.measured(train, sea, feed, bar * BAR, less.product)
    assert again.membrane.permeability == pytest.approx(weaker.membrane.permeability, rel=1e-9)
    if found.product > 0:
        pressure = membranes.pressure_for(train, sea, feed, found.product)
        assert pressure == pytest.approx(bar * BAR, rel=1e-6)


@pytest.mark.parametrize("key", sorted(stock.guide().shelf("unit")))
@pytest.mark.parametrize("tested", [None, 59 * LPH])
def test_a_units_stated_water_comes_back(key: str, tested: float | None) -> None:
    unit = stock.guide().shelf("unit")[key]
    elements = replace(ONE, count=unit.membranes.count, test_product=tested)
    rated = Rated(unit.product_flow, unit.pressure, unit.pump.flow, elements)
    found = membranes.made(membranes.train(rated), TEST, unit.pump.flow, unit.pressure)
    assert found.product == pytest.approx(unit.product_flow, rel=1e-9)
    assert 0.05 < found.product_salinity < 0.5  # kg/m3, drinkable


def test_an_elements_own_test_comes_back() -> None:
    """A and B out of the test give its product and its rejection, in the test's own salt."""
    water = ONE.tested
    assert water is not None and ONE.test_product is not None
    salt = physics.salt_permeability(ONE.test_product / ONE.area, ONE.rejection, ONE.test_wall)
    found = physics.element(
        physics.Membrane(ONE.area, water, salt),
        ONE.test_product / ONE.test_recovery,
        membranes.TEST_SALT,
        ONE.test_pressure,
        1.0,
        physics.sodium_chloride_osmotic,
    )
    assert found.product == pytest.approx(ONE.test_product, rel=1e-6)
    assert found.product_salt == pytest.approx(membranes.TEST_SALT * 0.005, rel=1e-6)


@given(st.floats(0.01, 0.4), st.floats(0.5, 45), st.floats(0.5, 1.3))
@LAW
def test_an_elements_pressure_is_its_product_turned_round(
    share: float, salt: float, correction: float
) -> None:
    membrane, feed = a_train().membrane, 400 * LPH
    line = lambda c: 0.75e5 * c  # noqa: E731
    pressure = physics.pressure_of(membrane, feed, salt, share * feed, correction, line)
    if pressure > line(salt):
        found = physics.element(membrane, feed, salt, pressure, correction, line)
        assert found.recovery == pytest.approx(share, rel=1e-8)


def osmotic(concentration: float, heat: float) -> float:
    """By the chemical potentials of TEOS-10 [Pa]."""
    t = heat - 273.15
    if concentration <= 0:
        return 0.0
    salt = brentq(lambda s: s / 1000 * gsw.rho_t_exact(s, t, 0.0) - concentration, 0.0, 200.0)
    fresh = gsw.chem_potential_water_t_exact(0.0, t, 0.0)

    def off(dbar: float) -> float:
        return float(gsw.chem_potential_water_t_exact(salt, t, dbar) - fresh)

    return float(brentq(off, 0.0, 3000.0)) * 1e4


@pytest.mark.parametrize("heat", [278.15, 288.15, 298.15, 305.15])
@pytest.mark.parametrize(("salinity", "bar"), [(0.007, 30), (0.025, 45), (0.036, 55), (0.042, 62)])
def test_another_solver_with_another_library_agrees(
    heat: float, salinity: float, bar: float
) -> None:
    """scipy's root on gsw's chemical potentials."""
    train, feed, sea = a_train(), 372 * LPH, Sea(heat, salinity)
    one = train.membrane
    correction = math.exp((2640 if heat >= 298.15 else 3020) * (1 / 298.15 - 1 / heat))
    water, salt = one.permeability * correction, one.salt_permeability * correction
    over = bar * BAR - 0.7 * BAR * (372 / 1320) ** 1.5 / 2

    def lacks(y: float) -> float:
        flux = y * feed / one.area
        wall = sea.concentration * math.log(1 / (1 - y)) / y * math.exp(0.7 * y)
        let_through = salt * wall / (flux + salt)
        return water * (over - osmotic(wall, heat) + osmotic(let_through, heat)) - flux

    y = brentq(lacks, 1e-6, 0.6, xtol=1e-9)
    found = membranes.made(train, sea, feed, bar * BAR)
    assert found.recovery == pytest.approx(y, rel=0.006)  # 0.3 % of the osmotic pressure


def test_limits_are_judged_on_the_first_and_the_last_element() -> None:
    train = a_train(4, product=80 * LPH)
    found = membranes.made(train, TEST, 600 * LPH, 60 * BAR)
    fluxes = [state.flux for state in found.states]
    assert fluxes == sorted(fluxes, reverse=True) and found.flux == fluxes[0] == found.first.flux
    assert membranes.flux(train, found).value == fluxes[0]
    least = replace(train, elements=replace(train.elements, least_brine=300 * LPH))
    held = membranes.brine(least, found)
    assert held is not None and held.value == found.last.brine == found.brine
    assert membranes.feed(train, found).value == found.first.feed == 600 * LPH
    assert membranes.brine(train, found) is None


def test_each_limit_can_break() -> None:
    train = a_train()
    thin = membranes.made(train, Sea(303.15, 0.005), 372 * LPH, 60 * BAR)
    assert not membranes.flux(train, thin).holds
    full = membranes.made(train, TEST, 1400 * LPH, 55 * BAR)
    assert not membranes.feed(train, full).holds
    warm = membranes.made(train, Sea(319.15, 0.035), 372 * LPH, 55 * BAR)
    assert not membranes.warmth(train, warm).holds


@pytest.mark.parametrize(
    "rated",
    [
        replace(RATED, product=371 * LPH),  # nearly all of the feed
        replace(RATED, pressure=20 * BAR),  # below the sea's own
        replace(RATED, elements=replace(ONE, test_pressure=20 * BAR)),
    ],
)
def test_papers_that_no_membrane_keeps_are_refused(rated: Rated) -> None:
    with pytest.raises(Unfit):
        membranes.train(rated)


def test_age_takes_water_and_adds_salt() -> None:
    train = a_train()
    new = membranes.made(train, TEST, 372 * LPH, 55 * BAR)
    old = membranes.made(membranes.aged(train, 3.0), TEST, 372 * LPH, 55 * BAR)
    assert old.product < new.product and old.product_salinity > new.product_salinity
    assert membranes.aged(train, 0.0) == train


def test_the_two_rules_for_warmth_agree_at_25_degrees_and_differ_in_the_cold() -> None:
    train = a_train()
    assert membranes.by_the_kelvin(train, TEST).membrane.permeability == pytest.approx(
        train.membrane.permeability
    )
    cold = membranes.by_the_kelvin(train, Sea(281.15, 0.035)).membrane
    assert cold.permeability / train.membrane.permeability == pytest.approx(
        0.605016 / 0.542012, rel=1e-5
    )


def test_a_pressure_that_nothing_reaches_is_none() -> None:
    train, feed = a_train(), 372 * LPH
    assert membranes.pressure_for(train, TEST, feed, feed) is None
    assert membranes.pressure_for(train, TEST, feed, 0.9 * feed) is None
    assert membranes.pressure_for(train, TEST, feed, 0.0) == pytest.approx(TEST.osmotic_pressure)


def test_it_is_quick() -> None:
    """Searches call it often: less than 0.3 ms of the processor."""
    train = a_train()
    began = time.process_time()
    for n in range(200):
        membranes.made(train, TEST, (372 + n) * LPH, 55 * BAR)
    assert (time.process_time() - began) / 200 < 1e-3


@given(st.floats(-50, 50), st.floats(0.1, 5))
@LAW
def test_a_crossing_is_found(at: float, steep: float) -> None:
    found = roots.crossing(lambda x: math.atan(steep * (x - at)) + (x - at) ** 3, -60.0, 70.0)
    assert found == pytest.approx(at, abs=1e-7)


def test_without_a_crossing_the_nearer_end_is_told() -> None:
    assert roots.crossing(lambda x: x + 1, 0.0, 5.0) == 0.0
    assert roots.crossing(lambda x: x - 9, 0.0, 5.0) == 5.0
