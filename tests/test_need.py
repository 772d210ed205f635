"""How much water: litres, hours, the tank over a stay, by hand, by other libraries and by laws."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from answers import answered, state, value
from hypothesis import given, settings
from hypothesis import strategies as st
from large import a_unit
from legal import legal_forms
from scipy import stats

from calc import stock
from calc.calculators.need.tell import MANY
from calc.frame.inputs import MOST_ROWS
from calc.frame.report import FAILS, FITS, UNKNOWN, Report
from calc.physics import storage
from calc.system import need_search as search
from calc.system.household import DAY, Household, Tank
from calc.system.need import MOST_DRY, Need, Offer, Runs, Stay

L = 1e-3
L_DAY = 1e-3 / DAY
L_H = 1e-3 / 3600
BOATS = ["ketch", "catamaran"]


def ask(boat: str = "ketch", **typed: Any) -> Report:
    return answered("need", typed, boat)


def asked(boat: str = "ketch", **typed: Any) -> Any:
    outcome = stock.guide().run(stock.guide().get("need"), typed, example={"boat": boat})
    assert outcome.bound.faults == []
    return stock.guide().get("need").asks.of(outcome.bound.values)


def a_need(
    crew: int = 4,
    each: float = 25.0,
    product: float = 30.0,
    hours: float = 3.5,
    days: int = 7,
    flush: float = 0.0,
    waste: float = 0.0,
    tank: float = 300.0,
    reserve: float = 60.0,
    varies: tuple[float, float] = (0.25, 0.15),
    stay: float = 14.0,
) -> Need:
    home = Household(crew, each * L_DAY, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
    runs = Runs(hours * 3600, days, waste * 60, flush * L, 7 * DAY)
    over = Stay(stay * DAY, 1.0, *varies)
    return Need(home, Tank(tank * L, reserve * L, 0.0), runs, product * L_H, over)


# ---- litres and hours ----


@pytest.mark.parametrize(
    ("crew", "each", "product", "daily", "hours"),
    [(4, 25, 30, 100, 100 / 30), (2, 15, 20, 30, 1.5)],
)
def test_hours_are_litres_over_the_water_made(
    crew: int, each: float, product: float, daily: float, hours: float
) -> None:
    """Reference E8: 4 x 25 L at 30 L/h are 3.333 h; 2 x 15 L over three days at 20 L/h 4.5 h."""
    made = a_need(crew, each, product)
    assert made.needed == pytest.approx(daily * L_DAY)
    assert made.time == pytest.approx(hours * 3600)


def test_what_is_lost_is_a_share_of_what_is_drawn() -> None:
    """By hand: 2 x (4 + 4 + 7 x 10 / 7) + 3 + 2 + 1 = 42 L a day, a fifth lost: 52.5 L."""
    home = Household(2, 4 * L_DAY, 4 * L_DAY, 7, 10 * L, 3 * L_DAY, 2 * L_DAY, 1 * L_DAY, 0.2)
    assert home.drawn == pytest.approx(52.5 * L_DAY)
    assert home.uses["losses"] == pytest.approx(10.5 * L_DAY)
    assert home.uses["showers"] == pytest.approx(20 * L_DAY)


def test_the_flush_is_deducted_after_each_run() -> None:
    """25 L after each of four runs a week are 14.3 L a day; minutes to waste take time besides."""
    daily = a_need(crew=2, each=15, product=45, days=7, flush=25, waste=6)
    fewer = daily.on(4)
    assert daily.flushed == pytest.approx(25 * L_DAY)
    assert fewer.flushed == pytest.approx(100 / 7 * L_DAY)
    assert daily.time == pytest.approx((55 / 45 + 0.1) * 3600)
    assert fewer.time == pytest.approx(((30 + 100 / 7) / 45 + 0.4 / 7) * 3600)


@pytest.mark.parametrize(
    ("days", "keeps", "flushes"), [(7, 7, 1), (1, 7, 1), (1, 3, 3), (2, 3, 2), (2, 1, 4), (7, 1, 1)]
)
def test_a_flush_is_repeated_as_often_as_it_keeps(days: int, keeps: int, flushes: int) -> None:
    assert replace(a_need().runs, days=days, keeps=keeps * DAY).flushes == flushes


def test_in_the_heat_a_flush_keeps_half_as_long() -> None:
    assert asked(ambient_temperature="25 °C").runs().keeps == pytest.approx(7 * DAY)
    assert asked(ambient_temperature="35 °C").runs().keeps == 3 * DAY, "in whole days, as hands go"


def test_a_boat_that_takes_no_flush_water_deducts_none() -> None:
    assert asked(flush_way="none").need().flushed == 0.0
    assert asked().need().flushed > 0


@pytest.mark.parametrize("boat", BOATS)
@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ({"sea_salinity": "44 g/kg", "pressure": "40 bar"}, "salty"),
        ({"sea_temperature": "33 °C", "sea_salinity": "8 g/kg"}, "driven"),
    ],
)
def test_water_that_it_should_not_make_so_is_no_answer(
    boat: str, typed: dict[str, str], key: str
) -> None:
    """As on the page of Power: which pressure to set is another page's matter."""
    made = ask(boat, **typed)
    assert [one.key for one in made.unknowns] == [key]
    assert made.verdict in (UNKNOWN, FAILS)


# ---- the reserve ----


def test_the_reserve_lasts_by_sphere() -> None:
    """100 L in the tank and 40 in cans for two: 23.3 days at 3 L, 9.33 at 7.5, 4.67 at 15."""
    made = ask(tank_volume="400 L", tank_reserve="", water_cans="40 L", crew="2")
    assert value(made, "survival") == pytest.approx(140 / 6 * DAY)
    assert value(made, "basic") == pytest.approx(140 / 15 * DAY)


@pytest.mark.parametrize(
    ("typed", "verdict", "key"),
    [
        ({}, FITS, "hours"),
        ({"run_hours": "1 h"}, FAILS, "hours"),
        ({"crew": "5"}, FAILS, "hours"),
        ({"water_days": "2", "run_hours": "8 h"}, FAILS, "run"),
        ({"tank_volume": "70 L"}, FAILS, "between"),
        ({"passage_days": "40 days"}, FAILS, "survival"),
        ({"tank_volume": "130 L", "water_cans": "200 L"}, FAILS, "dry"),
        ({"flush_water": "60 L", "water_days": "7"}, FAILS, "hours"),
    ],
)
def test_what_decides(typed: dict[str, str], verdict: str, key: str) -> None:
    made = ask(**typed)
    assert (made.verdict, state(made, key)) == (verdict, verdict)
    assert made.decided_by == key or verdict == FITS


# ---- the tank over a stay ----


def simulated(made: Need, paths: int = 200_000) -> tuple[list[float], np.ndarray[Any, Any]]:
    """The same by Monte Carlo, seeded: the chance to be dry by each run, and the last levels."""
    random = np.random.default_rng(20261129)
    level = np.full(paths, made.start)
    dead = np.zeros(paths, bool)
    chances = []
    for run in range(made.count):
        if run:
            fill = random.normal(made.filled, made.make_deviation, paths)
            level = np.minimum(made.tank.usable, level + fill)
        level = level - random.normal(made.cycle, made.use_deviation, paths)
        dead |= level < 0
        chances.append(float(dead.mean()))
    return chances, np.where(dead, 0.0, level)


@pytest.mark.parametrize(
    "made",
    [
        a_need(tank=250),
        a_need(hours=3.3, tank=500, stay=21),
        a_need(days=3, hours=4, tank=600, stay=30, flush=20),
        a_need(tank=200, varies=(0.4, 0.0)),
        a_need(tank=180, varies=(0.1, 0.5), stay=28),
        a_need(hours=2.5, tank=700),
        a_need(hours=1.0, tank=2000, varies=(0.05, 0.05), stay=20),
    ],
)
def test_the_course_of_a_tank_is_that_of_a_simulation(made: Need) -> None:
    chances, levels = simulated(made)
    assert made.course.dry == pytest.approx(chances, abs=4e-3)
    assert list(made.course.low[-1]) == pytest.approx(
        list(np.quantile(levels, [0.05, 0.5, 0.95])), abs=0.015 * made.tank.usable
    )


@settings(max_examples=25, deadline=None)
@given(st.floats(60, 250), st.floats(5, 30), st.floats(30, 80), st.floats(0, 20), st.integers(1, 4))
def test_with_no_brim_it_is_a_random_walk_of_normal_steps(
    start: float, draws: float, fill: float, fills: float, count: int
) -> None:
    """The chance that no partial sum is below nothing: SciPy's multivariate normal integral."""
    draw = 60.0
    found = storage.course(1e5, start, draw, draws, fill, fills, count).dry[-1]
    mean = [start - (k + 1) * draw + k * fill for k in range(count)]
    spread = [
        [(min(i, j) + 1) * draws**2 + min(i, j) * fills**2 for j in range(count)]
        for i in range(count)
    ]
    above = stats.multivariate_normal.cdf(
        [0.0] * count, mean=[-m for m in mean], cov=spread, abseps=1e-6, releps=1e-6, rng=1
    )
    assert found == pytest.approx(1 - above, abs=1e-4)


def test_a_store_that_cannot_be_is_refused() -> None:
    for wrong in ((0.0, 1.0, 1.0, 0.1, 1.0, 0.1, 3), (1.0, 1.0, -1.0, 0.1, 1.0, 0.1, 3)):
        with pytest.raises(ValueError):
            storage.course(*wrong)
    with pytest.raises(ValueError):
        storage.course(1.0, 1.0, 1.0, 0.1, 1.0, 0.1, 0)
    assert storage.course(1.0, 0.5, 0.0, 0.1, 0.2, 0.1, 4).dry == (0.0,) * 4


# ---- laws ----


@settings(max_examples=60, deadline=None)
@given(typed=legal_forms("need"), boat=st.sampled_from(BOATS))
def test_litres_made_are_used_flushed_wasted_or_in_the_tank(
    typed: dict[str, Any], boat: str
) -> None:
    guide = stock.guide()
    outcome = guide.run(guide.get("need"), typed, example={"boat": boat})
    if outcome.report is None:
        return
    made: Any = guide.get("need").asks.of(outcome.bound.values)
    found = made.need().balance
    gone = found.used + found.flushed + found.to_waste + found.over + found.change
    assert found.made == pytest.approx(gone, rel=1e-9, abs=1e-12)
    assert min(found.used, found.flushed, found.to_waste, found.over, found.short) >= -1e-12


@settings(max_examples=40, deadline=None)
@given(typed=legal_forms("need"), boat=st.sampled_from(BOATS), crew=st.integers(1, 23))
def test_more_people_never_need_fewer_hours(typed: dict[str, Any], boat: str, crew: int) -> None:
    guide = stock.guide()
    few, many = (
        guide.run(guide.get("need"), {**typed, "crew": str(n)}, example={"boat": boat}).report
        for n in (crew, crew + 1)
    )
    if few is None or many is None:
        return
    assert value(many, "hours") >= value(few, "hours")
    assert value(many, "survival") <= value(few, "survival")


@settings(max_examples=60, deadline=None)
@given(
    tank=st.floats(120, 900),
    more=st.floats(1.0, 2.0),
    hours=st.floats(2.6, 6.0),
    days=st.integers(2, 7),
    use=st.floats(0.0, 0.5),
    make=st.floats(0.0, 0.5),
)
def test_a_larger_tank_and_longer_hours_are_never_likelier_dry(
    tank: float, more: float, hours: float, days: int, use: float, make: float
) -> None:
    made = a_need(tank=tank, hours=hours, days=days, varies=(use, make), stay=20)
    assert search.with_tank(made, more * tank, None).chance <= made.chance + 2e-3
    assert search.with_tank(made, more * tank, 0.2).chance <= made.chance + 2e-3
    if make < 0.3:  # where a run's spread grows with it, a longer one may be the worse bet
        assert made.running(more * made.runs.daily).chance <= made.chance + 2e-3


@pytest.mark.parametrize("boat", BOATS)
def test_a_larger_tank_never_fares_worse_on_a_boat(boat: str) -> None:
    found = [value(ask(boat, tank_volume=f"{v} L"), "dry") for v in (100, 150, 200, 300, 600, 5000)]
    assert found == sorted(found, reverse=True)


@pytest.mark.parametrize("boat", BOATS)
def test_hours_are_of_the_water_that_the_page_of_water_tells(boat: str) -> None:
    for typed in ({}, {"sea_temperature": "10 °C"}, {"element_age": "5 years"}):
        guide = stock.guide()
        water = guide.run(guide.get("water"), typed, example={"boat": boat}).report
        assert water is not None
        made = asked(boat, **typed).need()
        assert made.product == pytest.approx(value(water, "product"), rel=1e-8)
        energy = value(ask(boat, **typed), "energy")
        whole = value(water, "energy") * made.product * made.time
        assert energy == pytest.approx(whole, rel=1e-8)


@pytest.mark.parametrize("boat", BOATS)
def test_a_unit_of_the_list_does_what_it_is_told_to_do(boat: str) -> None:
    """The row of the table, chosen, has the hours that the table gives for it."""
    need = asked(boat, run_hours="0.9 h", water_days="7")
    for offer in need.offers(need.need()):
        sets = {"unit": offer.key, "pressure": f"{offer.making.pressure} Pa", "run_hours": "0.9 h"}
        chosen = value(ask(boat, water_days="7", **sets), "hours")
        assert chosen == pytest.approx(offer.need.time, rel=1e-6)


@pytest.mark.parametrize("hours", ["1.2 h", "0.2 h", "8 h"])
def test_of_a_long_shelf_every_unit_counts_and_few_are_written_out(hours: str) -> None:
    """No unit is left out that would have been the answer, wherever on the shelf it stands: the same
    as where the reader lists them all, some at a time."""
    units = "".join(a_unit(n, 60 - n * 0.2) for n in range(MOST_ROWS + 60))
    guide = stock.with_layers({"own.toml": units.encode()})
    made, keys = guide.get("need"), list(guide.shelf("unit"))

    def offered(typed: dict[str, Any]) -> tuple[Report, dict[str, Offer]]:
        outcome = guide.run(made, {"run_hours": hours, **typed}, example={"boat": "ketch"})
        assert outcome.report is not None
        form: Any = made.asks.of(outcome.bound.values)
        assert len(outcome.bound.rows["other_units"]) == len(typed.get("other_units", ()))
        return outcome.report, {one.name: one for one in form.offers(form.need())}

    report, every = offered({})
    listed: dict[str, Offer] = {}
    for start in range(0, len(keys), MOST_ROWS):
        some = [{"name": key} for key in keys[start : start + MOST_ROWS]]
        listed |= offered({"other_units": some})[1]
    times = {name: one.need.time for name, one in every.items()}
    assert times == {name: one.need.time for name, one in listed.items()} and len(times) > MOST_ROWS
    able = sorted((one for one in listed.values() if one.need.enough.holds), key=_made)
    small = sorted((one for one in listed.values() if not one.need.enough.holds), key=_made)
    others = next(table for table in report.tables if table.key == "others")
    names = [row[0] for row in others.rows]
    assert len(names) == MANY and {one.name for one in [*small[-1:], *able[:1]]} <= set(names)
    told = [one.sets["unit"] for one in report.remedies if "unit" in getattr(one, "sets", {})]
    assert told == ([able[0].key] if state(report, "hours") == FAILS and able else [])


def _made(offer: Offer) -> float:
    return offer.making.made.product


def test_a_colder_sea_takes_longer() -> None:
    found = [value(ask(sea_temperature=f"{t} °C"), "hours") for t in (28, 22, 16, 10)]
    assert found == sorted(found)


# ---- what would do ----


@pytest.mark.parametrize(
    ("typed", "fields"),
    [
        ({"run_hours": "1 h"}, {"run_hours", "showers", "unit", "water_days"}),
        ({"tank_volume": "70 L", "water_cans": "100 L"}, {"water_days", "tank_volume"}),
        ({"tank_volume": "130 L", "water_cans": "200 L"}, {"tank_volume", "run_hours"}),
        ({"passage_days": "40 days"}, {"water_cans", "passage_days"}),
        (
            {"sea_temperature": "-1 °C", "tank_volume": "20 L", "water_cans": "100 L"},
            {"tank_volume", "run_hours"},
        ),
    ],
)
def test_a_remedy_is_told_for_what_fails(typed: dict[str, str], fields: set[str]) -> None:
    told = {field for one in ask(**typed).remedies for field in getattr(one, "sets", {})}
    assert told and told & fields
    assert told <= fields | {"pressure", "product_flow", "flow", "element_age", "has_measured"}


@pytest.mark.parametrize("crew", ["2", "5", "12"])
@pytest.mark.parametrize("tank", ["20 L", "60 L", "200 L"])
@pytest.mark.parametrize("hours", ["0.5 h", "2 h"])
def test_what_decides_between_hours_and_tank_has_a_remedy(crew: str, tank: str, hours: str) -> None:
    """Too few hours and a tank too small at once: both are told, not only the hours."""
    made = ask(crew=crew, tank_volume=tank, run_hours=hours, water_cans="1000 L")
    failing = {key for key in ("hours", "between") if state(made, key) == FAILS}
    assert failing <= {getattr(one, "mends", "") or "between" for one in made.remedies}


def test_the_smallest_tank_in_steps_is_the_smallest() -> None:
    made = a_need(tank=130, reserve=32.5)
    found = search.smallest_tank(made, 0.25, 0.01, 20.0)
    assert found is not None
    assert search.with_tank(made, found, 0.25).chance <= MOST_DRY
    assert search.with_tank(made, found - 0.01, 0.25).chance > MOST_DRY


@pytest.mark.parametrize("boat", BOATS)
@pytest.mark.parametrize("typed", [{}, {"tank_reserve": "60 L"}, {"crew": "1"}])
def test_the_smallest_tank_does_and_one_step_less_does_not(
    boat: str, typed: dict[str, str]
) -> None:
    made = ask(boat, run_hours="6 h", **typed)
    tank = value(made, "tank")
    told = dict(run_hours="6 h", **typed)
    assert ask(boat, tank_volume=f"{tank * 1000:.0f} L", **told).verdict != FAILS
    assert ask(boat, tank_volume=f"{tank * 1000 - 10:.0f} L", **told).verdict == FAILS


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("crew", "0"),
        ("tank_reserve", "500 L"),
        ("tank_volume", "0 L"),
        ("water_days", "8"),
        ("passage_days", "-3 days"),
        ("water_losses", "100 %"),
        ("showers", "many"),
        ("pressure", "20 bar"),
    ],
)
def test_nonsense_is_named(field: str, text: str) -> None:
    guide = stock.guide()
    made = guide.run(guide.get("need"), {field: text}, example={"boat": "ketch"})
    assert made.report is None
    assert [fault.field for fault in made.bound.faults] == [field]


@pytest.mark.parametrize("boat", BOATS)
@pytest.mark.parametrize("days", ["1", "3", "7"])
@pytest.mark.parametrize("air", ["25 °C", "36 °C"])
@pytest.mark.parametrize("way", ["tap", "none"])
def test_the_page_of_the_flush_counts_the_same_flushes(
    boat: str, days: str, air: str, way: str
) -> None:
    guide = stock.guide()
    typed = {"water_days": days, "ambient_temperature": air, "flush_way": way}
    outcome = guide.run(guide.get("flush"), typed, example={"boat": boat})
    there: Any = guide.get("flush").asks.of(outcome.bound.values)
    here = asked(boat, **typed).need()
    assert way == "none" or there.flush().a_week == here.runs.flushes * here.runs.days
    assert there.flush().week.value == pytest.approx(here.flushed * 7 * DAY)
