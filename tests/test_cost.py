"""What a litre costs: against roots found by another library, against other pages, and by laws."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from answers import answered, refused, table, value
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc import stock
from calc.frame.report import FAILS, FITS, TIGHT, UNKNOWN, Report
from calc.physics import finance
from calc.system.purse import Capital, Own, Purse, Recurring, Way
from calc.system.spares import Part, failures

HOUR, DAY, LITRE = 3600.0, 86400.0, 1e-3


def ask(boat: str = "ketch", **typed: Any) -> Report:
    return answered("cost", typed, boat)


def share(report: Report, name: str) -> float:
    """Money of a year in the table of shares."""
    shares = table(report, "shares").rows
    return next(row[1].value for row in shares if row[0] == name)  # type: ignore[union-attr]


interests = st.floats(0.0, 0.3)
money = st.floats(100.0, 20_000.0)
tasks = st.lists(
    st.builds(
        Recurring,
        st.floats(0.0, 500.0),
        st.floats(0.0, 12.0),
        st.one_of(st.just(0.0), st.floats(20.0, 5000.0).map(lambda hours: 1 / (hours * HOUR))),
    ),
    max_size=8,
)
capitals = st.builds(
    lambda price, left, years, interest: Capital(price, left * price, years, interest),
    money,
    st.floats(0.0, 1.0),
    st.floats(1.0, 40.0),
    interests,
)
owns = st.builds(
    Own,
    capitals,
    st.floats(5.0, 500.0).map(lambda litres: litres * LITRE / DAY),
    st.floats(1.0, 365.0).map(lambda days: days * DAY),
    st.floats(0.0, 50.0).map(lambda litres: litres * LITRE / DAY),
    st.floats(0.0, 0.05),
    st.floats(10.0, 200.0).map(lambda litres: litres * LITRE / HOUR),
    tasks,
    tasks,
    st.floats(0.0, 1.0).map(lambda price: price / HOUR),
    st.floats(0.0, 3.0).map(lambda price: price / HOUR),
)
prices = st.floats(1.0, 1000.0)  # money/m3


# ---- against the outside ----


@given(
    money,
    st.floats(0.0, 0.99),
    st.floats(1.0, 5000.0),
    st.one_of(st.just(0.0), st.floats(0.001, 0.3)),
)
@settings(max_examples=100, deadline=None)
def test_the_years_are_where_an_independent_search_finds_nothing_left(
    price: float, left: float, gain: float, interest: float
) -> None:
    """scipy's root of a sum written year by year, with none of our factors in it."""
    resale = left * price

    def worth(years: float) -> float:
        if interest == 0:
            return gain * years + resale - price
        grown = (1 + interest) ** years
        return gain * (1 - 1 / grown) / interest + resale / grown - price

    found = finance.years_to_recover(price, resale, gain, interest)
    if worth(2500.0) < 0:
        assert found > 1000.0
    else:
        assert found == pytest.approx(brentq(worth, 0.0, 2500.0), rel=1e-6, abs=1e-6)


@given(capitals)
def test_the_yearly_sum_pays_the_unit_year_by_year(capital: Capital) -> None:
    """A loan book: each year's interest on what is owed, less the sum; the resale is what is left."""
    years = int(capital.years)
    made = replace(capital, years=float(years))
    owed = made.price
    for _ in range(years):
        owed = owed * (1 + made.interest) - made.yearly
    assert owed == pytest.approx(made.resale, rel=1e-6, abs=1e-6 * made.price * 1.3**years)


@given(money, money, st.floats(1.0, 40.0))
def test_no_interest_is_the_limit_of_a_small_one(price: float, gain: float, years: float) -> None:
    for small in (1e-9, 1e-12, 1e-15):
        assert finance.annuity(small, years) == pytest.approx(years, rel=1e-6)
        assert finance.yearly_cost(price, 50.0, small, years) == pytest.approx(
            finance.yearly_cost(price, 50.0, 0.0, years), rel=1e-6
        )
        assert finance.years_to_recover(price, 50.0, gain, small) == pytest.approx(
            finance.years_to_recover(price, 50.0, gain, 0.0), rel=1e-5
        )


@given(owns, prices)
@settings(max_examples=200, deadline=None)
def test_the_break_even_is_where_an_independent_search_finds_it(own: Own, bought: float) -> None:
    def dearer(days: float) -> float:
        return replace(own, days=days).litre - bought

    days = own.least_days(bought)
    if days is None:
        assert dearer(1e6 * DAY) > 0
    elif days == 0:  # it costs nothing to have it
        assert dearer(1.0) <= 0
    elif days < 1e6 * DAY:
        assert dearer(days) == pytest.approx(0.0, abs=1e-9 * bought)
        if dearer(1.0) > 0 > dearer(1e7 * DAY):
            assert days == pytest.approx(brentq(dearer, 1.0, 1e7 * DAY), rel=1e-6)


@pytest.mark.parametrize("shape", [0.8, 1.0, 2.5])
@pytest.mark.parametrize("interval", [0.3, 1.0, 4.0])
def test_failures_in_the_long_run_are_those_of_a_simulation(shape: float, interval: float) -> None:
    """numpy: parts that live by Weibull, a new one at each failure and at each change."""
    life, lives = 1000 * HOUR, 40
    made = np.random.default_rng(7).weibull(shape, (40_000, lives)) * life
    counted = (np.cumsum(made, axis=1) <= interval * life).sum(axis=1).mean()
    part = Part("A", 1, 2, 0.5 / (1000 * HOUR), life, shape, None, 0.1, 10.0)
    theirs = 2 * (0.5 / (1000 * HOUR) + counted / (interval * life))
    assert failures(part, interval * life) == pytest.approx(theirs, rel=0.02)
    assert failures(replace(part, life=None), 1.0) == pytest.approx(1e-3 / HOUR)
    forever = np.random.default_rng(8).weibull(shape, 400_000).mean() * life
    assert failures(replace(part, rate=0.0), None) == pytest.approx(2 / forever, rel=0.01)


# ---- laws ----


@given(owns, st.floats(1.0, 5.0))
def test_more_litres_never_cost_more_each(own: Own, more: float) -> None:
    for bigger in (replace(own, days=own.days * more), replace(own, drawn=own.drawn * more)):
        assert bigger.litre <= own.litre * (1 + 1e-9)


@given(owns, prices, st.floats(1.0, 5.0))
def test_dearer_energy_never_gives_a_better_break_even(
    own: Own, bought: float, dearer: float
) -> None:
    before = own.least_days(bought)
    after = replace(own, energy=own.energy * dearer).least_days(bought)
    assert after is None or (before is not None and after >= before * (1 - 1e-9))


@given(owns, prices)
def test_the_shares_make_the_whole_and_the_swings_hold_the_answer(own: Own, bought: float) -> None:
    purse = Purse(own, Way(bought, 20.0, 0.2))
    assert sum(own.shares.values()) == pytest.approx(own.litre * own.litres, rel=1e-9)
    for swing in purse.swings():
        slack = 1e-9 * (abs(purse.saving) + own.yearly)
        assert swing.worst - slack <= purse.saving <= swing.best + slack
    wide = [swing.wide for swing in purse.swings()]
    assert wide == sorted(wide, reverse=True)


@given(owns, prices)
def test_what_pays_by_the_litre_pays_over_the_years(own: Own, bought: float) -> None:
    """Three ways to say it: a litre is cheaper, a year saves, all years are worth something."""
    purse = Purse(own, Way(bought))
    slack = 1e-7 * (own.yearly + bought * own.litres + own.capital.price)
    assert purse.saving == pytest.approx((bought - own.litre) * own.litres, abs=slack)
    years = finance.annuity(own.capital.interest, own.capital.years)
    assert purse.worth == pytest.approx(purse.saving * years, abs=slack * (1 + years))
    recovered = own.capital.recovered(purse.gain)
    if purse.saving > slack:
        assert recovered is not None and recovered <= own.capital.years * (1 + 1e-6)
    if purse.saving < -slack:
        assert recovered is None or recovered >= own.capital.years * (1 - 1e-6)
    most = own.capital.most_price(purse.gain)
    if most > 0:
        assert replace(own.capital, price=most).worth(purse.gain) == pytest.approx(0.0, abs=slack)


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
@pytest.mark.parametrize("fields", [{"quay_fuel": "0 L", "energy_from": "generator"}])
def test_dearer_fuel_never_gives_a_better_break_even(boat: str, fields: dict[str, str]) -> None:
    """Where the trip for bought water burns none: else dearer fuel makes that dearer too."""
    found = [
        value(ask(boat, fuel_price=f"{price} ¤/L", quay_fee="90 ¤", **fields), "from")
        for price in (0, 0.5, 1, 2, 4)
    ]
    assert found == sorted(found) and found[0] < found[-1]


# ---- what it says ----


def test_the_verdict_is_one_on_money() -> None:
    """Cheaper fits, by less than a tenth is tight, dearer does not fit."""
    mine = value(ask(), "litre") / 1000
    for factor, verdict in ((1.2, FITS), (1.05, TIGHT), (0.98, FAILS)):
        report = ask(bought_by="bottles", bottle_price=f"{factor * mine} ¤/L")
        assert (report.verdict, report.decided_by) == (verdict, "litre")


def test_what_is_bought_costs_its_trip_too() -> None:
    """0.01 a litre, and 2 h at 6, 3 L at 2 and 18 for the berth over 200 L: worked by hand."""
    typed = {"own_hour": "6 ¤/h", "fuel_price": "2 ¤/L", "quay_fuel": "3 L", "quay_time": "2 h"}
    assert value(ask(**typed), "bought") == pytest.approx(1000 * (0.01 + 36 / 200))
    cans = ask(bought_by="cans", can_fuel="1 L", can_fill="50 L", can_price="5 ¤/m3", **typed)
    assert value(cans, "bought") == pytest.approx(1000 * (0.005 + 8 / 50))


def test_its_hours_are_those_of_its_own_sea() -> None:
    """Colder water takes longer for the same litres, and so more upkeep and energy."""
    warm, cold = ask(sea_temperature="25 °C"), ask(sea_temperature="8 °C")
    assert value(warm, "litres") == value(cold, "litres")
    assert value(cold, "hours") > 1.2 * value(warm, "hours")
    assert value(cold, "litre") > value(warm, "litre")


def test_flush_water_is_made_but_not_used() -> None:
    none = ask(flush_way="none", waste_time="0 min")
    some = ask(flush_water="20 L", water_days="7", waste_time="0 min")
    days = value(some, "hours") / value(some, "daily") * DAY
    product = value(none, "litres") / value(none, "hours")
    extra = (value(some, "hours") - value(none, "hours")) * product
    assert extra == pytest.approx(20 * LITRE * days / DAY, rel=1e-6)


def test_a_lay_up_leaves_its_days_out() -> None:
    """A year from 1 May 2026, laid up from 25 October to 28 March, the last day with it."""
    report = ask()
    days = value(report, "hours") / value(report, "daily") * DAY
    assert days == pytest.approx((365 - 155) * DAY, rel=1e-6)
    whole_year = {"lay_ups": [{"start": "2026-04-01", "end": "2027-12-31"}]}
    assert "days_aboard" in refused("cost", whole_year, "ketch")


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_upkeep_for_the_hours_of_the_plan_is_that_of_its_own_page(boat: str) -> None:
    guide = stock.guide()
    upkeep = guide.run(guide.get("upkeep"), example={"boat": boat}).report
    assert upkeep is not None
    # So much is used that it takes the hours of the plan.
    typed = {
        "flush_way": "none",
        "waste_time": "0 min",
        "days_aboard": "200 days",
        "crew": "1",
        "drink_and_cook": "1 L/day",
        "dishes": "0 L/day",
        "showers": "0",
        "rinsing": "0 L/day",
        "pets": "0 L/day",
        "water_losses": "0 %",
    }
    first = ask(boat, **typed)
    product = value(first, "litres") / value(first, "hours")
    wanted = value(upkeep, "hours_year") * product / LITRE
    report = ask(boat, **typed | {"laundry": f"{wanted / 200 - 1:.9g} L/day"})
    assert value(report, "hours") == pytest.approx(value(upkeep, "hours_year"), rel=1e-6)
    together = share(report, "Upkeep") + share(report, "Membranes")
    assert together == pytest.approx(value(upkeep, "cost"), rel=1e-6)


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_fuel_is_that_of_the_page_on_power(boat: str) -> None:
    guide = stock.guide()
    power = guide.run(guide.get("power"), example={"boat": boat}).report
    assert power is not None
    table = next(t for t in power.tables if t.key == "sources")
    by = next(option.key for option in power.options if option.key == "generator")
    row = table.rows[[option.key for option in power.options].index(by)]
    theirs = row[5].value  # type: ignore[union-attr]
    typed = {"energy_from": "generator", "generator_hour": "0 ¤/h"}
    report = ask(boat, flush_way="none", waste_time="0 min", **typed)
    assert share(report, "Energy") / value(report, "litres") == pytest.approx(theirs, rel=1e-6)


def test_nobody_is_told_a_price_of_water_that_is_not_made() -> None:
    for key, typed in (("dry", {"pressure": "20 bar"}), ("motor", {"ac_voltage": "100 V"})):
        report = ask(**typed)
        assert (report.verdict, report.decided_by) == (UNKNOWN, key)
        assert not report.figures and report.headlines


def test_more_than_a_days_hours_do_not_fit() -> None:
    report = ask(crew="24", showers="28", shower_water="100 L", quay_fee="900 ¤")
    assert (report.verdict, report.decided_by) == (FAILS, "daily")


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"resale": "5000 ¤"}, "resale"),
        ({"use_years": "0 years"}, "use_years"),
        ({"interest": "-1 %"}, "interest"),
        ({"outlay": "0 ¤"}, "outlay"),
        ({"outlay": "-4000 ¤"}, "outlay"),
        ({"quay_price": "-0.1 ¤/L"}, "quay_price"),
        ({"quay_fill": "0 L"}, "quay_fill"),
        ({"days_aboard": "400 days"}, "days_aboard"),
        (
            {"drink_and_cook": "0 L/day", "dishes": "0 L/day", "showers": "0"}
            | {"laundry": "0 L/day", "rinsing": "0 L/day"},
            "drink_and_cook",
        ),
    ],
)
def test_what_makes_no_sense_is_named_by_its_field(typed: dict[str, str], field: str) -> None:
    assert field in refused("cost", typed, "ketch")


def test_a_litre_of_own_never_beaten_has_nothing_to_mend() -> None:
    assert not ask("catamaran").remedies
    never = ask(bought_by="bottles", bottle_price="0 ¤/L")
    assert never.verdict == FAILS
    assert all(not remedy.as_data().get("sets") for remedy in never.remedies)


def test_where_it_never_pays_it_says_from_where_it_would() -> None:
    sets = [r.as_data()["sets"] for r in ask().remedies]
    assert [set(one) for one in sets] == [{"days_aboard"}, {"use_years"}, {"outlay"}]
    from_year = value(ask(), "from")
    assert from_year > value(ask(), "litres")


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
@pytest.mark.parametrize("typed", [{}, {"water_days": "1", "flush_every": "3 days"}])
def test_its_hours_a_day_are_those_of_the_page_on_need(boat: str, typed: dict[str, str]) -> None:
    theirs = value(answered("need", typed, boat), "hours")
    assert value(ask(boat, **typed), "daily") == pytest.approx(theirs, rel=1e-6)


HERS = {"unit": "skerry-45", "outlay": "6500 ¤", "crew": "2", "days_aboard": "150 days"}
QUAY = {"quay_price": "0.02 ¤/L", "quay_fill": "300 L"}
CANS = {"bought_by": "cans", "can_price": "0.02 ¤/L", "can_fill": "40 L"}


@pytest.mark.parametrize(
    ("said", "lacks"),
    [
        (QUAY, (("quay_fuel",), ("quay_fee",))),
        ({**QUAY, "quay_fuel": "0 L", "quay_fee": "0 ¤"}, ()),
        (CANS, (("can_fuel",),)),
        ({**CANS, "can_fuel": "0 L"}, ()),
        ({"bought_by": "bottles", "bottle_price": "0.3 ¤/L"}, ()),
    ],
)
def test_a_trip_of_our_invention_is_not_in_the_price_that_she_pays(said: Any, lacks: Any) -> None:
    guide = stock.guide()
    made = guide.run(guide.get("cost"), sheet={**HERS, **said}, own_boat=True)
    assert made.lacks == lacks
