"""The unit in its locker: the lumps in time against scipy, the balance of heat, and the laws."""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from answers import answered, hottest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from calc import stock
from calc.physics import heat, thermal_course, thermal_network, ventilation
from calc.physics.thermal_course import Course, Protector, Segment
from calc.physics.thermal_network import (
    AIR,
    FRAME,
    WINDING,
    Exchange,
    Face,
    Mode,
    Motor,
    Space,
    State,
)
from calc.system import cooling

ZERO = 273.15
PLYWOOD = (heat.Layer(0.012, heat.MATERIALS["plywood"]),)
HULL = (heat.Layer(0.010, heat.MATERIALS["glass fibre laminate"]),)


def example(**changes: object) -> cooling.Room:
    """A 180 L locker against the hull, two small vents, a 250 W motor loss."""
    walls = tuple(cooling.Wall(0.24, PLYWOOD, ZERO + 32) for _ in range(5))
    hull = cooling.Wall(
        0.3, HULL, ZERO + 29, outside=heat.WATER_SURFACE_RESISTANCE, follows_ambient=False
    )
    unit = cooling.Unit(
        rated_loss=250,
        rated_rise=75,
        loss=220,
        winding_loss=120,
        mass=14,
        volume=0.03,
        pump_heat=60,
    )
    usual = cooling.Room(
        volume=0.18,
        walls=(*walls, hull),
        unit=unit,
        supply=ZERO + 32,
        contents=0.02,
        vents=cooling.Vents(0.005, 0.005, 0.4),
    )
    return replace(usual, **changes)  # type: ignore[arg-type]


def settled(case: cooling.Room) -> State:
    return thermal_network.steady(cooling.space(case), cooling.running(case))


def run(case: cooling.Room, duration: float, guard: Protector | None = None) -> Course:
    """One run [s] from a long rest."""
    schedule = [(duration, cooling.running(case))]
    return thermal_course.transient(cooling.space(case), cooling.rest_state(case), schedule, guard)


def imbalance(space: Space, one: Segment) -> float:
    """What a step lost or made of heat, as a share of the heat that moved in it.

    Stored in the lumps against what crossed the borders, with the weights of the step's stages.
    """
    side, end = math.sqrt(2) / 4, 1 - math.sqrt(2) / 2
    net = moved = 0.0
    for state, weight in ((one.first, side), (one.middle, side), (one.last, end)):
        now = thermal_network.flows(space, state, one.mode)
        net += weight * now.stored
        moved += weight * (
            abs(now.motor) + abs(now.other) + abs(now.air) + sum(abs(q) for q in now.faces)
        )
    stored = math.fsum(
        capacity * (new - old)
        for capacity, new, old in zip(space.capacities, one.last, one.first, strict=True)
    )
    return abs(stored - net * one.length) / max(moved * one.length, abs(stored), 1e-9)


@st.composite
def spaces(draw: st.DrawFn) -> tuple[Space, Mode]:
    """A space with light air, walls of any kind, and any way of renewing the air."""
    motor = Motor(
        to_frame=draw(st.floats(2, 30)),
        to_air=draw(st.floats(1, 20)),
        winding_capacity=draw(st.floats(200, 3000)),
        frame_capacity=draw(st.floats(2000, 20000)),
    )
    face = st.builds(
        Face,
        to_air=st.floats(1, 20),
        to_behind=st.floats(1, 60),
        capacity=st.floats(500, 30000),
        behind=st.floats(273, 330),
    )
    space = Space(
        motor, tuple(draw(st.lists(face, min_size=1, max_size=6))), draw(st.floats(20, 2000))
    )
    exchange = Exchange(
        supply=draw(st.floats(273, 320)),
        forced=draw(st.sampled_from([0.0, 0.002, 0.03])),
        stack=draw(st.sampled_from([0.0, 0.01, 0.1])),
        two_way=draw(st.sampled_from([0.0, 0.01, 0.1])),
    )
    mode = Mode(
        exchange,
        loss=draw(st.floats(0, 500)),
        loss_slope=draw(st.floats(0, 0.05)),
        reference=380.0,
        air_heat=draw(st.floats(0, 300)),
    )
    return space, mode


@settings(max_examples=25, deadline=None)
@given(spaces(), st.floats(275, 330))
def test_the_transient_agrees_with_scipy(case: tuple[Space, Mode], start: float) -> None:
    space, mode = case
    course = thermal_course.transient(space, space.uniform(start), [(7200, mode)])
    times = np.linspace(30, 7200, 240)
    exact = solve_ivp(
        lambda _, state: thermal_network.rates(space, tuple(state), mode),
        (0, 7200),
        space.uniform(start),
        method="Radau",
        rtol=1e-8,
        atol=1e-8,
        t_eval=times,
    )
    ours = np.array([course.at(time) for time in times]).T
    assert np.max(np.abs(ours - exact.y)) < 0.2


@settings(max_examples=50, deadline=None)
@given(spaces(), st.floats(275, 330))
def test_every_step_balances_its_heat(case: tuple[Space, Mode], start: float) -> None:
    space, mode = case
    schedule = [(3600.0, mode), (1800.0, replace(mode, loss=0.0, loss_slope=0.0))]
    course = thermal_course.transient(space, space.uniform(start), schedule)
    assert max(imbalance(space, one) for one in course.segments) < 1e-6
    assert course.end == pytest.approx(5400)


@settings(max_examples=50, deadline=None)
@given(spaces())
def test_the_steady_state_is_where_the_transient_ends(case: tuple[Space, Mode]) -> None:
    space, mode = case
    state = thermal_network.steady(space, mode)
    now = thermal_network.flows(space, state, mode)
    throughput = now.motor + now.other + abs(now.air) + sum(abs(q) for q in now.faces)
    assert now.stored == pytest.approx(0, abs=1e-6 * max(throughput, 1))
    course = thermal_course.transient(space, space.uniform(300.0), [(1e7, mode)])
    assert course.final == pytest.approx(state, abs=0.1)


def test_one_lump_alone_follows_its_exponential() -> None:
    """Winding, air and wall so light that only the frame counts."""
    space = Space(Motor(1e4, 6.0, 0.01, 9600), (Face(1e4, 1e4, 0.01, ZERO + 30),), 0.01)
    mode = Mode(Exchange(ZERO + 30, forced=100.0), loss=180)
    course = thermal_course.transient(space, space.uniform(ZERO + 30), [(3600, mode)])
    assert course.final[FRAME] - ZERO == pytest.approx(56.838, abs=0.1)


def test_the_protector_trips_cools_and_resets() -> None:
    case = example()
    guard = Protector(trip=ZERO + 110, reset=ZERO + 80)
    course = run(case, 4 * 3600, guard)
    kinds = [event.kind for event in course.events]
    assert kinds[:4] == ["trip", "reset", "trip", "reset"]
    trip, reset = course.events[0].time, course.events[1].time
    assert course.at(trip)[WINDING] == pytest.approx(guard.trip, abs=0.05)
    assert course.at(reset)[WINDING] == pytest.approx(guard.reset, abs=0.05)
    assert course.peak(WINDING) <= guard.trip + 0.05
    unguarded = run(case, 4 * 3600)
    assert unguarded.first_reach(WINDING, guard.trip) == pytest.approx(trip, abs=2)
    space = cooling.space(case)
    assert max(imbalance(space, one) for one in course.segments) < 1e-6


def test_a_duty_is_protected_afterwards_as_if_it_had_been_from_the_start() -> None:
    case = example()
    guard = Protector(trip=ZERO + 110, reset=ZERO + 80)
    free = cooling.duty(case, 2 * 3600, 1800, 2, tolerance=0.02)
    later = cooling.protected(case, free, 2 * 3600, 1800, guard, tolerance=0.02)
    whole = cooling.duty(case, 2 * 3600, 1800, 2, guard, tolerance=0.02)
    assert [event.kind for event in later.events] == [event.kind for event in whole.events]
    for one, other in zip(later.events, whole.events, strict=True):
        assert one.time == pytest.approx(other.time, abs=5)
    assert later.end == pytest.approx(whole.end)
    for moment in range(0, 18_000, 900):
        assert later.at(moment)[FRAME] == pytest.approx(whole.at(moment)[FRAME], abs=0.2)
    assert cooling.protected(case, free, 7200, 1800, replace(guard, trip=ZERO + 900)) is free


def test_a_motor_that_stands_still_cools_slower() -> None:
    """Its own fan stands still too: common practice, no source."""
    case = example()
    guard = Protector(ZERO + 110, ZERO + 80)
    space, start = cooling.space(case), cooling.rest_state(case)
    fanned = replace(cooling.running(case), standstill=1.0)
    slow = run(case, 4 * 3600, guard).events
    fast = thermal_course.transient(space, start, [(4 * 3600, fanned)], guard).events
    assert slow[0].time == pytest.approx(fast[0].time, abs=1)
    assert slow[1].time - slow[0].time > 1.5 * (fast[1].time - fast[0].time)
    with pytest.raises(ValueError, match="cooling"):
        replace(fanned, standstill=0.0)


def test_a_protector_that_must_be_pressed_stays_open() -> None:
    guard = Protector(ZERO + 110, ZERO + 80, automatic=False)
    assert [e.kind for e in run(example(), 4 * 3600, guard).events] == ["trip"]


def test_a_tripped_motor_gives_no_heat_but_the_fan_goes_on() -> None:
    case = example(fan=cooling.Fan(0.004, 100, 2000, heat=5))
    guard = Protector(ZERO + 100, ZERO + 80)
    course = run(case, 4 * 3600, guard)
    trip = course.events[0].time
    after = next(one for one in course.segments if one.begin >= trip)
    assert after.mode.motor_heat(after.first[WINDING]) == 0
    assert after.mode.exchange.forced == cooling.fan_flow(case) > 0


def test_rest_brings_the_temperatures_down_again() -> None:
    case = example()
    course = cooling.duty(case, 3600, 7200, 3)
    assert course.end == pytest.approx(3 * 10800)
    assert course.at(3600)[WINDING] > course.at(10700)[WINDING] + 30
    assert course.peak(AIR) < settled(case)[AIR]


sizes = st.floats(0.0, 0.05)


@settings(max_examples=60, deadline=None)
@given(sizes, sizes, st.floats(0.0, 0.8), st.floats(0.0, 0.05), st.floats(0.001, 0.03))
def test_more_vent_or_fan_is_never_hotter(
    low: float, high: float, apart: float, fan: float, more: float
) -> None:
    case = example(vents=cooling.Vents(low, high, apart), fan=cooling.Fan(fan, 100, 3000))
    now = settled(case)
    for better in (
        replace(case, vents=cooling.Vents(low + more, high, apart)),
        replace(case, vents=cooling.Vents(low, high + more, apart)),
        replace(case, vents=cooling.Vents(low, high, apart + more)),
        replace(case, fan=replace(case.fan, free_flow=fan + more)),
        replace(case, fan=replace(case.fan, resistance=1000.0)),
        replace(case, breathing=more),
    ):
        cooler = settled(better)
        assert all(new <= old + 1e-6 for new, old in zip(cooler, now, strict=True))


@settings(max_examples=60, deadline=None)
@given(st.floats(0.055, 2.0), st.floats(1.01, 5.0))
def test_a_bigger_locker_is_never_hotter(volume: float, times: float) -> None:
    """With no wall hotter than the air inside: more of a hot wall lets in more heat."""
    small = cooling.resized(example(), volume)
    big = cooling.resized(example(), volume * times)
    limits = cooling.Limits(air=ZERO, winding=ZERO)
    assert cooling.excess(big, limits) <= cooling.excess(small, limits) + 0.1


@settings(max_examples=40, deadline=None)
@given(st.floats(0, 500), st.floats(0.0, 30.0), st.floats(0.5, 20))
def test_more_heat_or_a_warmer_day_is_never_cooler(loss: float, shift: float, more: float) -> None:
    case = example()
    unit = replace(case.unit, loss=loss, winding_loss=loss / 2)
    now = settled(replace(case, unit=unit))
    hotter_unit = replace(unit, loss=loss + more)
    assert settled(replace(case, unit=hotter_unit))[WINDING] > now[WINDING]
    warm = settled(cooling.warmed(replace(case, unit=unit), shift))
    assert warm[AIR] >= now[AIR] - 1e-9


def test_common_practice_of_a_motor_in_a_box() -> None:
    """Common practice, no source: a box barely larger than the motor overheats it; a small blower
    switched with it cures that; after half an hour most of the warming of the air is there."""
    sealed = example(vents=cooling.Vents())
    box = cooling.resized(sealed, 0.055)
    limit = ZERO + 155
    assert settled(box)[WINDING] > limit
    blown = replace(box, vents=cooling.Vents(0.005, 0.005, 0.2), fan=cooling.Fan(0.05, 100, 2000))
    assert settled(blown)[WINDING] < limit
    roomy = example()
    course = run(roomy, 1800)
    start, end = cooling.rest_state(roomy)[AIR], settled(roomy)[AIR]
    assert course.final[AIR] - start > 0.5 * (end - start)


def test_a_full_box_takes_in_its_own_warm_air() -> None:
    assert cooling.recirculated_share(0.2) == 0
    assert 0 < cooling.recirculated_share(0.5) < cooling.recirculated_share(0.9) <= 0.8
    unit = example().unit
    free, tight = cooling.motor_lumps(unit, 0.1), cooling.motor_lumps(unit, 0.9)
    assert tight.to_air < free.to_air
    assert unit.rated_loss * (1 / free.to_frame + 1 / free.to_air) == pytest.approx(unit.rated_rise)


LIMITS = cooling.Limits(air=ZERO + 50, winding=ZERO + 120)


def test_inverse_answers_just_fit() -> None:
    case = example()
    vent = cooling.least_vents(case, LIMITS)
    volume = cooling.smallest_volume(case, LIMITS)
    flow = cooling.least_flow(case, LIMITS)
    answers = {
        "vent": lambda f: replace(case, vents=cooling.Vents(vent * f, vent * f, 0.4)),
        "volume": lambda f: cooling.resized(case, volume * f),
        "flow": lambda f: replace(case, breathing=flow * f),
    }
    for name, build in answers.items():
        assert -0.15 <= cooling.excess(build(1.0), LIMITS) <= 0.0, name
        assert cooling.excess(build(0.9), LIMITS) > 0, name


def test_the_longest_run_ends_at_a_limit() -> None:
    case = example()
    longest = cooling.longest_run(case, LIMITS)
    final = run(case, longest).final
    assert max(final[AIR] - LIMITS.air, final[WINDING] - LIMITS.winding) == pytest.approx(
        0, abs=0.15
    )
    assert math.isinf(cooling.longest_run(case, cooling.Limits(winding=ZERO + 300)))


def test_what_cannot_be_cured_says_so() -> None:
    too_hot = cooling.warmed(example(), 30.0)
    assert math.isinf(cooling.least_vents(too_hot, LIMITS))
    assert math.isinf(cooling.least_flow(too_hot, LIMITS))
    assert cooling.least_flow(example(), cooling.Limits(winding=ZERO + 300)) == 0


def test_a_measured_fan_curve_counts_instead_of_its_two_ends() -> None:
    parabola = tuple((0.05 * i / 50, 100 * (1 - (i / 50) ** 2)) for i in range(51))
    ends, measured = cooling.Fan(0.05, 100, 2000), cooling.Fan(0.0, resistance=2000, curve=parabola)
    flows = [cooling.fan_flow(example(fan=fan)) for fan in (ends, measured)]
    assert flows[1] == pytest.approx(flows[0], rel=1e-3)
    assert cooling.fan_flow(example(fan=measured, vents=cooling.Vents())) == 0


def test_an_opening_sized_for_a_suction_has_it() -> None:
    area = ventilation.opening_for(0.08, ventilation.ENGINE_SUCTION)
    drop = ventilation.pressure_drop(0.08, ventilation.opening_resistance(area))
    assert drop == pytest.approx(ventilation.ENGINE_SUCTION)
    assert math.pi / 4 * ventilation.duct_diameter(0.05, 6.0) ** 2 * 6.0 == pytest.approx(0.05)


def test_nothing_that_carries_heat_away_is_refused() -> None:
    space = Space(Motor(10, 5, 800, 6000), (), 200)
    with pytest.raises(ValueError, match="nothing carries the heat away"):
        thermal_network.steady(space, Mode(Exchange(300.0), loss=100))
    with pytest.raises(ValueError, match="grows faster"):
        thermal_network.steady(space, Mode(Exchange(300.0, forced=1), loss=100, loss_slope=20))
    with pytest.raises(ValueError, match="resets below"):
        Protector(350, 360)
    with pytest.raises(ValueError, match="at least one part"):
        thermal_course.transient(space, space.uniform(300), [])
    with pytest.raises(ValueError, match="does not fit"):
        thermal_course.transient(space, (300.0,), [(60, Mode(Exchange(300.0)))])


def test_a_locker_that_cannot_be_is_refused() -> None:
    with pytest.raises(ValueError, match="do not fit"):
        example(volume=0.045)
    with pytest.raises(ValueError, match="negative"):
        cooling.Vents(low=-0.01)
    with pytest.raises(ValueError, match="layer"):
        cooling.Wall(0.3, (), 300)
    with pytest.raises(ValueError, match="part of the loss"):
        replace(example().unit, winding_loss=500)
    with pytest.raises(ValueError, match="positive"):
        replace(example().unit, mass=0)


# ---- a whole answer, written down anew ----


def test_a_whole_answer_agrees_with_scipy() -> None:
    """The ketch's locker written down anew, with none of the project's physics: within 0.2 K."""
    report = answered("ventilation", {"protector": ""}, "ketch")
    unit = stock.guide().shelf("boat")["ketch"].unit
    plate = unit.motor
    shaft = unit.pump.flow * unit.pressure / unit.pump.efficiency
    torque = shaft / plate.rated_speed / (plate.rated_power / plate.rated_speed)
    rated = plate.rated_power / plate.efficiency - plate.rated_power
    copper_loss, fixed = rated * 0.55 * torque**2, rated * 0.45
    speed = (25 - (25 - plate.rated_speed) * torque) / plate.rated_speed
    pump = shaft * speed * (1 - unit.pump.efficiency) * 0.3
    boost = unit.boost_power / 2

    long, wide, high, cabin, sea, engine = 0.9, 0.45, 0.42, 301.15, 291.15, 318.15
    ply = (0.13, 500 * 1600)
    walls = []  # (to the air, to behind, capacity, behind)
    for area, thick, lining, film, behind in (
        (long * wide, 0.012, 0.0, 0.17, sea),
        (long * wide, 0.018, 0.0, 0.10, cabin),
        (long * high, 0.012, 0.0, 0.13, cabin),
        (long * high, 0.018, 0.025, 0.13, engine),
        (wide * high, 0.012, 0.0, 0.13, cabin),
        (wide * high, 0.012, 0.0, 0.13, cabin),
    ):
        half = (thick / ply[0] + lining / 0.038) / 2
        capacity = area * (thick * ply[1] + lining * 40 * 1030)
        walls.append((area / (film + half), area / (film + half), capacity, behind))
    density = 101325 / (287.05 * cabin)
    box = unit.length * unit.width * unit.height
    air_capacity = (long * wide * high - 0.020 - box) * density * 1007
    winding_capacity = 0.15 * plate.mass * 385
    frame_capacity = 0.85 * plate.mass * 460
    to_frame, to_air = rated / (0.3 * plate.rise), rated / (0.7 * plate.rise)

    def rates(_: float, state: Any, running: bool = True) -> list[float]:
        winding, frame, inside, *middles = state
        reference = 313.15 + plate.rise
        loss = fixed + copper_loss * (winding - 38.15) / (reference - 38.15) if running else 0.0
        cooling = to_air * (1.0 if running else 0.35)
        warming = inside - cabin
        area = 0.006 / math.sqrt(2)
        flow = 0.65 * area * math.sqrt(2 * 9.80665 * 0.3 * abs(warming) / max(inside, cabin))
        # The two-way flow through one opening is weaker here, and left out.
        balance = cooling * (frame - inside) + (pump + boost if running else 0.0)
        balance -= density * 1007 * flow * warming
        changes = []
        for (in_, out, capacity, behind), middle in zip(walls, middles, strict=True):
            balance -= in_ * (inside - middle)
            changes.append((in_ * (inside - middle) - out * (middle - behind)) / capacity)
        return [
            (loss - to_frame * (winding - frame)) / winding_capacity,
            (to_frame * (winding - frame) - cooling * (frame - inside)) / frame_capacity,
            balance / air_capacity,
            *changes,
        ]

    rest = solve_ivp(rates, (0, 1e6), [300.0] * 9, method="Radau", args=(False,), rtol=1e-8)
    run = solve_ivp(rates, (0, 5400), rest.y[:, -1], method="Radau", rtol=1e-8, atol=1e-8)
    assert hottest(report, "winding") == pytest.approx(run.y[0, -1], abs=0.2)
    after = solve_ivp(
        rates, (0, 3600), run.y[:, -1], method="Radau", args=(False,), rtol=1e-8, max_step=10
    )
    assert hottest(report, "frame") == pytest.approx(
        max(after.y[1]), abs=0.2
    )  # peaks after the run
    assert hottest(report, "air") == pytest.approx(run.y[2, -1], abs=0.2)
