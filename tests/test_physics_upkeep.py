"""Failures, calendars and due dates against scipy, dateutil, chance itself and their own laws."""

from __future__ import annotations

import math
import random
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, optimize, special, stats

from calc.physics import calendar_days, maintenance, reliability
from calc.system import rest as at_rest
from calc.system import tasks
from calc.system.tasks import Done, Rule
from calc.system.year import Past, Stretch, Use

DAYS = st.dates(date(1990, 1, 1), date(2100, 12, 31))
SHAPES = st.floats(0.6, 6)


# ---- failures and spares ----


@settings(deadline=None)
@given(mean=st.floats(0, 40), count=st.integers(0, 60))
def test_poisson_is_scipys(mean: float, count: int) -> None:
    assert reliability.poisson_at_most(count, mean) == pytest.approx(
        stats.poisson.cdf(count, mean), abs=1e-12
    )


@settings(deadline=None)
@given(mean=st.floats(0, 40), count=st.integers(-1, 60))
def test_counted_chances_add_up_to_scipys(mean: float, count: int) -> None:
    chances = reliability.at_random(mean)
    assert reliability.at_most(count, chances) == pytest.approx(
        stats.poisson.cdf(count, mean), abs=1e-9
    )


@settings(deadline=None)
@given(mean=st.floats(0.001, 40), confidence=st.floats(0, 0.999))
def test_spares_are_scipys_quantile(mean: float, confidence: float) -> None:
    ours = reliability.spares(reliability.at_random(mean), confidence)
    assert stats.poisson.cdf(ours, mean) >= confidence - 1e-9
    assert ours == 0 or stats.poisson.cdf(ours - 1, mean) < confidence + 1e-9


@settings(deadline=None)
@given(mean=st.floats(0, 40), low=st.floats(0, 0.99), high=st.floats(0, 0.99))
def test_more_confidence_never_means_fewer_spares(mean: float, low: float, high: float) -> None:
    low, high = sorted((low, high))
    chances = reliability.at_random(mean)
    assert reliability.spares(chances, low) <= reliability.spares(chances, high)


@settings(deadline=None)
@given(shape=SHAPES, scale=st.floats(1, 1e5), share=st.floats(0.01, 5), age=st.floats(0, 3))
def test_weibull_is_scipys(shape: float, scale: float, share: float, age: float) -> None:
    life = stats.weibull_min(shape, scale=scale)
    time, aged = share * scale, age * scale
    assert reliability.weibull_reliability(time, shape, scale) == pytest.approx(
        life.sf(time), rel=1e-9, abs=1e-12
    )
    assert reliability.weibull_mean(shape, scale) == pytest.approx(life.mean(), rel=1e-9)
    assert reliability.weibull_hazard(time, shape, scale) == pytest.approx(
        shape / scale * share ** (shape - 1), rel=1e-9
    )
    expected = math.exp(life.logsf(aged + time) - life.logsf(aged))
    assert reliability.conditional_reliability(time, aged, shape, scale) == pytest.approx(
        expected, rel=1e-6, abs=1e-9
    )


@settings(deadline=None)
@given(a=st.floats(0.05, 30), x=st.floats(0, 100))
def test_incomplete_gamma_is_scipys(a: float, x: float) -> None:
    assert reliability.gamma_p(a, x) == pytest.approx(special.gammainc(a, x), abs=1e-12)


@pytest.mark.parametrize(
    ("time", "age", "shape", "scale"),
    [
        (2000, 300, 2.5, 1000),
        (500, 900, 3, 1000),
        (1000, 0, 1.4, 600),
        (300, 0, 5, 1000),
        (2500, 0, 0.8, 1000),
    ],
)
def test_wear_out_failures_are_those_of_a_simulation(
    time: float, age: float, shape: float, scale: float
) -> None:
    """150,000 places followed by dice: the chances of 0, 1, 2 ... failures."""
    dice = random.Random(7)
    rounds = 150_000
    seen = [0] * 60
    for _ in range(rounds):
        first = scale * ((age / scale) ** shape - math.log(1 - dice.random())) ** (1 / shape) - age
        count, now = 0, first
        while now <= time:
            count, now = count + 1, now + dice.weibullvariate(scale, shape)
        seen[count] += 1
    ours = reliability.wear_out_failures(time, age, shape, scale)
    assert sum(ours) == pytest.approx(1, abs=1e-9)
    for count, chance in enumerate(ours):
        deviation = math.sqrt(max(chance * (1 - chance), 1e-6) / rounds)
        assert seen[count] / rounds == pytest.approx(chance, abs=5 * deviation + 0.0015)


@settings(deadline=None)
@given(mean=st.floats(0.01, 8), age=st.floats(0, 5))
def test_a_part_that_fails_at_random_has_no_age(mean: float, age: float) -> None:
    ours = reliability.wear_out_failures(mean, age, 1.0, 1.0)
    for count, chance in enumerate(ours[:12]):
        assert chance == pytest.approx(stats.poisson.pmf(count, mean), abs=0.002)


@settings(deadline=None)
@given(one=st.floats(0, 6), other=st.floats(0, 6))
def test_places_add_up(one: float, other: float) -> None:
    both = reliability.added(reliability.poisson(40, one), reliability.poisson(40, other))
    for count, chance in enumerate(both[:20]):
        assert chance == pytest.approx(stats.poisson.pmf(count, one + other), abs=1e-9)


@settings(max_examples=15, deadline=None)
@given(shape=st.floats(1.2, 6), scale=st.floats(10, 1e4), ratio=st.floats(1.5, 50))
def test_the_best_age_is_scipys(shape: float, scale: float, ratio: float) -> None:
    life = stats.weibull_min(shape, scale=scale)

    def cost(age: float) -> float:
        area = integrate.quad(life.sf, 0, age)[0]
        return float((life.sf(age) + ratio * life.cdf(age)) / area)

    found = optimize.minimize_scalar(cost, bounds=(scale * 1e-3, scale * 4), method="bounded")
    ours = reliability.age_replacement(shape, scale, 1.0, ratio)
    assert ours.cost <= found.fun * (1 + 1e-6)
    assert ours.age is None or ours.cost == pytest.approx(cost(ours.age), rel=1e-6)


@pytest.mark.parametrize("shape", [0.5, 1.0])
def test_changing_early_never_pays_for_what_does_not_wear(shape: float) -> None:
    assert reliability.age_replacement(shape, 100.0, 1.0, 9.0).age is None


def test_age_replacement_against_the_package_reliability() -> None:
    """By its own grid search, so within 0.05 % in age; the package is heavy and may be absent."""
    pytest.importorskip("reliability")
    from reliability.Repairable_systems import optimal_replacement_time

    theirs = optimal_replacement_time(
        cost_PM=60,
        cost_CM=310,
        weibull_alpha=2200,
        weibull_beta=2.5,
        print_results=False,
        show_time_plot=False,
        show_ratio_plot=False,
    )
    ours = reliability.age_replacement(2.5, 2200.0, 60.0, 310.0)
    assert ours.age == pytest.approx(theirs.ORT, rel=5e-4)
    assert ours.cost == pytest.approx(theirs.min_cost, rel=1e-6)


@pytest.mark.parametrize(
    ("call", "arguments"),
    [
        ("poisson_at_most", (1, -1.0)),
        ("weibull_mean", (0.0, 1.0)),
        ("spares", ([1.0], 1.0)),
        ("at_random", (1e4,)),
        ("wear_out_failures", (1e6, 0.0, 2.0, 1.0)),
        ("age_replacement", (2.0, 1.0, 0.0, 1.0)),
    ],
)
def test_nonsense_is_refused(call: str, arguments: tuple[Any, ...]) -> None:
    with pytest.raises(ValueError, match=r"\w"):
        getattr(reliability, call)(*arguments)


# ---- the calendar ----


@settings(deadline=None)
@given(day=DAYS, months=st.integers(-600, 600))
def test_months_are_dateutils(day: date, months: int) -> None:
    assert calendar_days.add_months(day, months) == day + relativedelta(months=months)


@settings(deadline=None)
@given(day=DAYS)
def test_days_are_the_standard_librarys(day: date) -> None:
    last = (day.replace(day=28) + timedelta(days=4)).replace(day=1) - timedelta(days=1)
    assert calendar_days.days_in_month(day.year, day.month) == last.day


@settings(deadline=None)
@given(months=st.integers(1, 240))
def test_whole_months_stay_months_in_any_unit(months: int) -> None:
    for symbol_share in (1.0, 1 / 12, 30.4375, 730.5):
        number = months * symbol_share
        assert calendar_days.span(number / symbol_share * calendar_days.MONTH) == (months, 0)


def test_days_stay_days() -> None:
    assert calendar_days.span(180 * 86400.0) == (0, 180)
    assert calendar_days.later(date(2026, 1, 31), 30 * 86400.0) == date(2026, 3, 2)
    assert calendar_days.later(date(2026, 1, 31), calendar_days.MONTH) == date(2026, 2, 28)


# ---- due dates ----

HOUR = 3600.0
TODAY = date(2026, 5, 1)
MONTHLY = st.lists(st.floats(0, 8), min_size=12, max_size=12)


@st.composite
def lay_ups(draw: st.DrawFn) -> list[Stretch]:
    found, day = [], TODAY + timedelta(days=draw(st.integers(-40, 200)))
    for _ in range(draw(st.integers(0, 3))):
        end = day + timedelta(days=draw(st.integers(2, 250)))
        found.append(Stretch(day, end))
        day = end + timedelta(days=draw(st.integers(20, 200)))
    return found


@st.composite
def rules(draw: st.DrawFn) -> Rule:
    return Rule(
        draw(st.none() | st.floats(20, 2000).map(lambda h: h * HOUR)),
        draw(st.none() | st.integers(1, 36).map(lambda m: m * calendar_days.MONTH)),
        draw(st.none() | st.floats(10, 100).map(lambda h: h * HOUR)),
        draw(st.booleans()),
        draw(st.booleans()),
        draw(st.sampled_from(["before", "during", "after"])),
    )


@settings(max_examples=150, deadline=None)
@given(
    rule=rules(), months=MONTHLY, rests=lay_ups(), ago=st.integers(0, 300), run=st.floats(0, 400)
)
def test_no_task_is_skipped(
    rule: Rule, months: list[float], rests: list[Stretch], ago: int, run: float
) -> None:
    """Between two times that a task is done neither its hours nor its months are overrun.

    A calendar date may wait for the end of a lay-up it falls into, if the task says so; and each
    lay-up that a task is for has it.
    """
    use = Use(TODAY, 900, [h * HOUR for h in months], (), rests)
    done = Done(TODAY - timedelta(days=ago), run * HOUR)
    end = TODAY + timedelta(days=730)
    found = tasks.schedule(rule, done, use, end)
    days = [due.day for due in found]
    assert days == sorted(days)
    moments = [(done.day, -done.run_since)]
    for due in found:
        day = max(due.day, TODAY)
        after = use.until(day + timedelta(days=1)) if due.why == "hours" else use.until(day)
        moments.append((day, after))
    busiest = max(months) * HOUR
    moments.append((end, use.until(end)))
    for (last, owed), (now, reached) in pairwise(moments):
        if now == TODAY:  # overdue: it was never planned
            continue
        if rule.hours is not None:
            assert reached - owed <= rule.hours + busiest + 1e-3
        if rule.calendar is not None:
            latest = calendar_days.later(last, rule.calendar)
            if rule.laid_up == "after":
                for rest in rests:
                    if rest.start < latest < rest.end:
                        latest = rest.end
            assert now <= latest
    done_on = [done.day, *(max(day, TODAY) for day in days)]
    for rest in rests:
        if rule.before_lay_up and TODAY <= rest.start <= end and rest.start > done.day:
            assert any(rest.start - tasks.GRACE <= d <= rest.start for d in done_on)
        if rule.after_lay_up and TODAY <= rest.end <= end:
            assert any(rest.end - tasks.GRACE <= d <= rest.end for d in done_on)


@settings(max_examples=60, deadline=None)
@given(rule=rules(), months=MONTHLY, ago=st.integers(0, 300), factor=st.floats(1, 2))
def test_more_use_never_makes_a_task_later(
    rule: Rule, months: list[float], ago: int, factor: float
) -> None:
    done, end = Done(TODAY - timedelta(days=ago), 0.0), TODAY + timedelta(days=730)
    slow = Use(TODAY, 900, [h * HOUR for h in months])
    fast = Use(TODAY, 900, [h * HOUR for h in months], factor=factor)
    late, soon = (tasks.schedule_first(rule, done, use, end) for use in (slow, fast))
    assert late is None or (soon is not None and soon.day <= late.day)


def test_whichever_comes_first() -> None:
    use = Use(TODAY, 900, [2 * HOUR] * 12)
    months = Rule(hours=500 * HOUR, calendar=6 * calendar_days.MONTH)
    due = tasks.schedule_first(months, Done(TODAY, 0.0), use, date(2028, 1, 1))
    assert due == tasks.Due(date(2026, 11, 1), "calendar")
    hours = Rule(hours=100 * HOUR, calendar=6 * calendar_days.MONTH)
    due = tasks.schedule_first(hours, Done(TODAY, 0.0), use, date(2028, 1, 1))
    assert due == tasks.Due(TODAY + timedelta(days=49), "hours")  # on the fiftieth day


def test_oil_is_changed_early_the_first_time() -> None:
    """50 h, then 500 h: common practice, no source."""
    use = Use(TODAY, 900, [2 * HOUR] * 12)
    oil = Rule(hours=500 * HOUR, first_hours=50 * HOUR)
    found = tasks.schedule(oil, Done(TODAY, 0.0, first=True), use, date(2027, 12, 31))
    assert [due.day for due in found][:2] == [
        TODAY + timedelta(days=24),
        TODAY + timedelta(days=24 + 250),
    ]


def ago(days: int) -> date:
    return TODAY - timedelta(days=days)


@pytest.mark.parametrize(
    ("limit", "day"),
    [
        (40, ago(93)),
        (49.9, ago(91)),
        (50.1, ago(90)),
        (100, ago(81)),
        (101, ago(80)),
        (139, ago(61)),
        (141, ago(20)),
        (150, ago(16)),
        (180, ago(1)),
    ],
)
def test_what_is_overdue_is_dated_by_the_readings_and_then_by_the_plan(
    limit: float, day: date
) -> None:
    """By hand: 5 h a day for 20 days, 2 h for 20, none for 40, and then the plan's 2 h for 20."""
    readings = [
        (ago(100), 0.0),
        (ago(80), 100 * HOUR),
        (ago(60), 140 * HOUR),
        (ago(20), 140 * HOUR),
    ]
    past = Past(readings, Use(ago(20), 20, [2 * HOUR] * 12))
    assert past.total == 180 * HOUR
    rule = Rule(hours=limit * HOUR)
    done = tasks.stands(rule, ago(100), 0.0, False, past)
    due = tasks.schedule_first(rule, done, Use(TODAY, 900, [2 * HOUR] * 12), date(2027, 1, 1))
    assert due == tasks.Due(day, "hours")


@settings(deadline=None)
@given(
    steps=st.lists(st.tuples(st.integers(0, 60), st.floats(0, 300)), max_size=8),
    share=st.floats(0.001, 1),
    daily=st.floats(0, 20),
)
def test_a_total_was_reached_where_numpys_interpolation_has_it(
    steps: list[tuple[int, float]], share: float, daily: float
) -> None:
    readings = [(TODAY, 0.0)]
    for days, hours in steps:
        readings.append((readings[-1][0] + timedelta(days=days), readings[-1][1] + hours * HOUR))
    since = Use(readings[-1][0], 50, [daily * HOUR] * 12)
    past = Past(readings, since)
    total = share * past.total
    day = past.reached(total)
    known = [*readings, (since.start + timedelta(days=50), past.total)]
    days = [(known_day - TODAY).days for known_day, _ in known]
    morning, night = (
        max(t for d, t in zip(days, (t for _, t in known), strict=True) if d == at)
        if at in days
        else np.interp(at, days, [t for _, t in known])
        for at in ((day - TODAY).days, (day - TODAY).days + 1)
    )
    before = min((t for d, t in known if d == day), default=morning)
    assert before - 1 <= total <= night + 1


@settings(deadline=None)
@given(start=DAYS, days=st.integers(1, 400), every=st.integers(1, 200), come=st.integers(0, 400))
def test_no_membrane_is_forgotten_in_a_rest(start: date, days: int, every: int, come: int) -> None:
    end = start + timedelta(days=days)
    found = at_rest.rest_days(start, end, "preserve", "renew", every, come)
    assert found[0] == tasks.Due(start, "preserve")
    assert found[-1] == tasks.Due(end, "wake")
    assert all(due.why == "renew" for due in found[1:-1])
    gaps = [(b.day - a.day).days for a, b in pairwise(found)]
    assert max(gaps) <= every
    even = days // -(-days // every)
    assert min(gaps) >= min(even, tasks.GRACE.days)  # nothing is renewed just before waking
    if come <= even or come > every:
        assert max(gaps) - min(gaps) <= 1
    if even <= come <= every and days - come * (len(gaps) - 1) >= tasks.GRACE.days:
        assert all(gap >= come for gap in gaps[:-1])  # whoever comes so rarely need not come sooner
    assert len(gaps) == -(-days // every)  # no visit more than it takes


@settings(deadline=None)
@given(life=st.floats(1, 1e8), one=st.floats(230, 340), more=st.floats(0, 60))
def test_what_keeps_in_the_cool_never_keeps_longer_in_the_heat(
    life: float, one: float, more: float
) -> None:
    """Van 't Hoff's rule (from memory): ten kelvins more, twice as fast."""
    cool, warm = (maintenance.life_when_warm(life, t) for t in (one, one + more))
    assert warm <= cool <= life
    assert maintenance.life_when_warm(life, 298.15 + 10) == pytest.approx(life / 2)
    if one <= 298.15:
        assert cool == life


@settings(max_examples=60, deadline=None)
@given(daily=st.floats(0.2, 6), interval=st.floats(60, 2000), months=st.integers(2, 36))
def test_changes_a_year_are_those_of_a_long_schedule(
    daily: float, interval: float, months: int
) -> None:
    """Thirty years of steady use, by whole days: each gap may be up to a day longer."""
    years = 30
    use = Use(TODAY, 366 * years, [daily * HOUR] * 12)
    rule = Rule(interval * HOUR, months * calendar_days.MONTH)
    end = calendar_days.add_months(TODAY, 12 * years)
    counted = len(tasks.schedule(rule, Done(TODAY, 0.0), use, end)) / years
    rate = maintenance.changes_a_year(daily * 365.25 * HOUR, rule.hours, rule.calendar)
    longest = 365.25 / rate + 1.6  # a day of running, and half a day of a month's length
    assert 365.25 / longest - 1 / years <= counted <= rate * 1.01 + 1 / years
