"""Cables and what guards them, as `calc.system` reckons: charts, codes, laws."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.physics import conductors, protection, starting
from calc.system.cables import Duty, smallest, thickest
from calc.system.guards import Guard

FOOT = 0.3048


def duty(fuse: float = 1.0, **changes: object) -> Duty:
    """A plain run of 12 V cable, 3 % allowed, with a fuse so small that it could not decide."""
    usual: dict[str, object] = {
        "key": "dc", "run": 1.0, "current": 10.0, "start": 0.0, "wanted": 10.0,
        "guard": Guard(fuse / 2, (fuse,), "us", 12.0), "voltage": 12.0, "drop": 0.36, "start_drop": 10.0,
        "insulation": 378.15, "engine_space": False, "bundled": 2, "least_area": 0.0,
        "most_parallel": 1,
    }  # fmt: skip
    return Duty(**{**usual, **changes})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("feet", "picks"), [(15, "16 12 10 10 8 8 6 6 4 4 4 2 2"), (20, "14 10 10 8 6 6 6 4 4 2 2 2 2")]
)
def test_no_cable_is_thinner_than_the_printed_3_percent_chart(feet: float, picks: str) -> None:
    """Boat-wiring chart, 12 V, 3 %, 5 to 100 A (marine chandler 2021 p. 53 and 2022 p. 52).

    The chart reckons with nearly cold copper, we with copper at 75 °C: ours is the chart's size or
    up to two sizes thicker, never thinner.
    """
    names = [size.name for size in conductors.FAMILIES["AWG"]]
    amperes = (5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0)
    runs = [duty(run=feet * FOOT / 2, current=amps, wanted=amps) for amps in amperes]
    found = [cable.size.name for run in runs if (cable := smallest(run, "AWG", 0.0))]
    printed = [f"AWG {pick}" for pick in picks.split()]
    thicker = [
        names.index(ours) - names.index(theirs) for ours, theirs in zip(found, printed, strict=True)
    ]
    assert set(thicker) <= {0, 1, 2}


def test_a_bundle_in_the_engine_space_carries_what_a_cable_maker_says() -> None:
    """AWG 10, 105 °C, engine space, three AC conductors: 35.7 A (cable maker, UL 1426 page)."""
    run = duty(engine_space=True, bundled=3, voltage=120.0)
    assert run.ampacity(conductors.conductor("AWG 10"), 1) == pytest.approx(35.7, abs=0.05)


@pytest.mark.parametrize(
    ("gauge", "amps", "factor", "start", "volts", "tolerance"),
    [("AWG 12", 16.0, 0.85, False, 2.766, 0.02), ("AWG 10", 96.0, 0.4, True, 5.05, 0.04)],
)
def test_an_ac_run_loses_what_the_code_book_reckons(
    gauge: str, amps: float, factor: float, start: bool, volts: float, tolerance: float
) -> None:
    """50 ft of PVC conduit: 2 I l (R cos phi + X sin phi), NEC chapter 9 table 9 worked by hand.

    Table 9 rounds its resistances, table 8, which we use, does not: hence the tolerance.
    """
    at_start = {"start": amps, "start_power_factor": factor}
    run = duty(current=amps, power_factor=factor, voltage=120.0, frequency=60.0, **at_start)
    lost = run.lost(conductors.conductor(gauge), 1, start) * 50 * FOOT
    assert lost == pytest.approx(volts, rel=tolerance)


@settings(max_examples=60, deadline=None)
@given(
    amps=st.floats(1, 300),
    ac=st.booleans(),
    parallel=st.integers(1, 3),
    family=st.sampled_from(["AWG", "mm²"]),
)
def test_more_copper_never_loses_more(amps: float, ac: bool, parallel: int, family: str) -> None:
    made = duty(current=amps, start=2 * amps, power_factor=0.8 if ac else None)
    sizes = conductors.FAMILIES[family]
    lost = [made.lost(size, parallel) for size in sizes]
    heat = [made.heat(size, parallel) for size in sizes]
    far = [made.longest(size, parallel) for size in sizes]
    assert lost == sorted(lost, reverse=True) and heat == sorted(heat, reverse=True)
    assert far == sorted(far)
    assert made.lost(sizes[0], parallel + 1) < lost[0]


@settings(max_examples=60, deadline=None)
@given(
    run=st.floats(0.1, 30),
    more=st.floats(1.0, 3.0),
    amps=st.floats(1, 300),
    family=st.sampled_from(["AWG", "mm²"]),
)
def test_a_longer_run_never_wants_less_copper(
    run: float, more: float, amps: float, family: str
) -> None:
    def copper(length: float) -> float:
        made = duty(run=length, current=amps, wanted=amps, most_parallel=3)
        found = smallest(made, family) or thickest(made, family)
        return found.size.area * found.parallel

    assert copper(run * more) >= copper(run) * (1 - 1e-12)


@settings(max_examples=60, deadline=None)
@given(
    run=st.floats(0.1, 20),
    amps=st.floats(1, 250),
    family=st.sampled_from(["AWG", "mm²"]),
    fuse=st.floats(1, 250),
    spare=st.sampled_from([0.0, 0.1]),
)
def test_the_smallest_does_and_the_next_thinner_does_not(
    run: float, amps: float, family: str, fuse: float, spare: float
) -> None:
    made = duty(fuse, run=run, current=amps, wanted=amps)

    def does(size: conductors.Conductor) -> bool:
        carries = made.ampacity(size, 1)
        return (
            carries >= amps * (1 + spare) * (1 - 1e-9)
            and carries * 1.5 * (1 - spare) >= fuse * (1 - 1e-9)
            and made.lost(size, 1) * run <= made.drop * (1 - spare) * (1 + 1e-9)
        )

    found = smallest(made, family, spare)
    first = next((size for size in conductors.FAMILIES[family] if does(size)), None)
    assert (found and found.size) == first


def test_where_no_rating_lies_between_there_is_no_fuse() -> None:
    """16 A may be carried and 15.5 A must pass; breakers of IEC 60898-1 are 13, 16 and 20 A."""
    assert Guard(15.5, protection.IEC_RATINGS, "iso", 230.0).rating(16.0) == 16
    assert Guard(16.5, protection.IEC_RATINGS, "iso", 230.0).rating(19.0) is None


def test_where_nobody_can_tell_of_the_start_the_largest_is_proposed() -> None:
    """It lets the start pass soonest: 45 A for 10 s, which no breaker up to 16 A is sure to bear."""
    guard = Guard(5.0, (6.0, 13.0, 16.0), "iso", 230.0, devices=("C",), start=45.0, start_time=10.0)
    assert [guard.starts(rating) for rating in guard.made[1:]] == ["maybe", "maybe"]
    assert guard.rating(40.0) == 16.0


@pytest.mark.parametrize(
    ("current", "opens"), [(0, "no"), (40, "no"), (41, "maybe"), (79, "maybe"), (80, "yes")]
)
def test_a_type_c_breaker_opens_at_once_from_five_to_ten_times(current: float, opens: str) -> None:
    """IEC 60898-1, as a breaker's manual prints its table."""
    assert protection.opens_at_once(current, 8.0) == opens


@settings(max_examples=60, deadline=None)
@given(soft=st.floats(0.2, 1.0), reactance=st.floats(0, 20))
def test_the_torque_behind_a_cable_is_that_of_a_held_current(soft: float, reactance: float) -> None:
    """The same law as on a generator, where what lies before the starter has no resistance."""
    full = 30.0
    through = starting.start(230, 230, full, 0.6, cable_reactance=reactance)
    held = starting.held_start(230, 230, soft * full, full, 0.6, reactance)
    assert min(soft, math.sqrt(through.torque_ratio)) ** 2 == pytest.approx(held.torque_ratio)
