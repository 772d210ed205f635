"""The pressure side: by standards, against an independent library, and by laws."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from answers import answered, both, figure, limit, refused, state, value
from fluids.control_valve import size_control_valve_l
from hypothesis import given, settings
from hypothesis import strategies as st
from legal import legal_forms

from calc import stock
from calc.frame.report import FAILS, FITS, TIGHT, UNKNOWN, Remedy, Report
from calc.physics import suction, valves
from calc.rounding import share
from calc.system.pressure_side import Pressed, PressureSide, Relief

L_MIN = 1e-3 / 60
BAR = 1e5
GOOD = {"relief_bore": "2.5 mm", "relief_outlet": "open"}


def ask(boat: str = "ketch", **typed: Any) -> Report:
    return answered("pressure", typed, boat)


def side(boat: str = "ketch", **typed: Any) -> PressureSide:
    outcome = stock.guide().run(stock.guide().get("pressure"), typed, example={"boat": boat})
    assert outcome.bound.faults == []
    made: PressureSide = stock.guide().get("pressure").asks.of(outcome.bound.values).side()  # type: ignore[attr-defined]
    return made


# ---- the chain ----


@pytest.mark.parametrize("opens", [62, 63, 64, 65, 66])
def test_a_set_of_55_bar_has_its_relief_between_62_and_66(opens: int) -> None:
    """Common practice, no source: with membranes that bear 69 bar it fits."""
    made = ask(relief_opens=f"{opens} bar", **GOOD)
    assert made.verdict == FITS
    assert value(made, "weakest") == pytest.approx(69 * BAR)


@pytest.mark.parametrize(
    ("opens", "verdict", "key"),
    [(72, FAILS, "below"), (69.5, FAILS, "below"), (68.5, TIGHT, "below"), (54, FAILS, "relief"),
     (57, TIGHT, "relief"), (60.5, FITS, "relief")],
)  # fmt: skip
def test_a_relief_valve_stands_between_the_work_and_the_weakest(
    opens: float, verdict: str, key: str
) -> None:
    made = ask(relief_opens=f"{opens} bar", **GOOD)
    assert (made.verdict, state(made, key)) == (verdict, verdict)


@pytest.mark.parametrize(
    ("field", "part"),
    [("hose_bears", "hose"), ("fittings_bear", "fittings"), ("vessel_bears", "vessel")],
)
def test_the_weakest_part_bounds_all_of_it(field: str, part: str) -> None:
    made = side(**{field: "60 bar"})
    assert (made.weakest.key, made.weakest.bears) == (part, pytest.approx(60 * BAR))
    report = ask(**{field: "60 bar"})
    assert state(report, "below") == FAILS
    assert state(report, "pressure") == TIGHT


def test_without_a_relief_valve_it_does_not_fit() -> None:
    made = ask(has_relief="no")
    assert made.verdict == FAILS
    assert [one.key for one in made.failures] == ["no-relief"]


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [
        ({"relief_outlet": "brine"}, FAILS),
        ({"relief_outlet": "unknown"}, UNKNOWN),
        ({"relief_outlet": "overboard"}, FITS),
        ({"relief_shut_off": "yes"}, FAILS),
        ({"relief_bore": "", "relief_flow": ""}, UNKNOWN),
        ({"relief_opens": ""}, UNKNOWN),
        ({"gauge_scale": "60 bar"}, FAILS),
        ({"gauge_scale": ""}, FITS),
        ({"hose_bursts": "200 bar"}, FAILS),
        ({"hose_bears": "", "hose_bursts": ""}, FITS),
    ],
)
def test_what_else_protects(typed: dict[str, str], verdict: str) -> None:
    assert ask(**typed).verdict == verdict


def test_a_hose_that_bursts_below_its_working_pressure_is_refused() -> None:
    faults = refused("pressure", {"hose_bears": "200 bar", "hose_bursts": "150 bar"}, "ketch")
    assert list(faults) == ["hose_bursts"]
    assert "High-pressure hose, working pressure" in faults["hose_bursts"]


def test_a_hose_bursts_at_four_times_the_setting_or_above() -> None:
    """SAE J517: four times; 60.5 and 66 bar make 242 and 264."""
    for opens, burst in ((60.5, 242.0), (66.0, 264.0)):
        held = side(relief_opens=f"{opens} bar", hose_bursts="").bursts
        assert held is not None
        assert held.limit == pytest.approx(burst * BAR)
        assert held.value == pytest.approx(400 * BAR)


# ---- the relief valve ----


@given(st.floats(2, 40), st.floats(20, 110), st.floats(0.5, 0.95))
@settings(max_examples=50, deadline=None)
def test_an_opening_is_the_printed_formula_of_the_standard(
    flow: float, bar: float, coefficient: float
) -> None:
    """API 520-1, 11.78 Q / C sqrt(G / dp) in mm², L/min and kPa, as printed."""
    area = valves.relief_area(flow * L_MIN, 1.025 * 999.0, bar * BAR, coefficient)
    printed = 11.78 * flow / coefficient * math.sqrt(1.025 / (bar * 100))
    assert area * 1e6 == pytest.approx(printed, rel=2e-3)


@given(st.floats(1, 20), st.floats(10, 100), st.floats(0.6, 0.98), st.floats(1000, 1070))
@settings(max_examples=40, deadline=None)
def test_a_regulating_valve_has_the_kv_of_an_independent_library(
    flow: float, bar: float, recovery: float, density: float
) -> None:
    """fluids 1.3.1, IEC 60534: choked and not."""
    inlet, outlet, vapour = bar * BAR + 101325, 1.2 * BAR + 101325, 3100.0
    ours = valves.flow_coefficient(flow * L_MIN, density, inlet, outlet, vapour, recovery)
    theirs = size_control_valve_l(
        rho=density, Psat=vapour, Pc=22.064e6, mu=1e-3, P1=inlet, P2=outlet, Q=flow * L_MIN,
        FL=recovery,
    )  # fmt: skip
    assert ours * 3600 == pytest.approx(theirs, rel=2e-4)


def test_the_whole_flow_of_the_pump_goes_through_it() -> None:
    """Twice as wide an opening lets four times as much through; too small a one lets it rise."""
    narrow, wide = side(relief_bore="1 mm"), side(relief_bore="2 mm")
    assert narrow.capacity is not None and wide.capacity is not None
    assert wide.capacity.limit == pytest.approx(4 * narrow.capacity.limit)
    assert (narrow.capacity.holds, wide.capacity.holds) == (False, True)
    assert wide.reached == pytest.approx(1.1 * 62 * BAR)
    assert narrow.reached is not None and narrow.relief is not None
    narrow_flow = valves.relief_flow(
        narrow.relief.opening or 0.0, narrow.density, narrow.reached, valves.PLAIN_RELIEF
    )
    assert narrow_flow == pytest.approx(narrow.flow)


def test_papers_go_before_the_opening() -> None:
    assert Relief(62e5, 1e-6, 5e-4).lets(1025.0) == 5e-4
    assert Relief(62e5).lets(1025.0) is None


# ---- what a shut way out does ----


def test_a_shut_way_out_takes_a_stroke_or_two() -> None:
    """By hand: 1.58 L in the tube and 47 mL in the hose yield 0.695 mL for 55 to 69 bar... the
    pump moves 6.2 L/min in 71.5 strokes a second, 1.45 mL each."""
    made = side()
    tube = 0.5 * math.pi / 4 * 0.063**2 * 1.016
    hose = math.pi / 4 * 0.0063**2 * 1.5
    gives = tube / 2.34e9 + hose * (1 / 2.34e9 + 0.0063 / (0.0035 * 5e8))
    stroke = 6.2 * L_MIN / (3 * 1430 / 60)
    assert made.stroke == pytest.approx(stroke)
    assert made.strokes_to(69e5, 55e5) == pytest.approx(gives * 14e5 / stroke)
    assert made.strokes_to(50e5, 55e5) == 0.0
    assert made.seconds_to(69e5) < 0.5


@given(st.floats(0.1, 50), st.floats(2, 20), st.floats(0.1, 20), st.floats(1, 100))
@settings(max_examples=40)
def test_what_yields_is_what_a_wave_feels(
    litres: float, bore: float, length: float, bar: float
) -> None:
    """Korteweg's wave runs as fast as the same yielding has it: a² = 1 / (rho yield)."""
    pressed = Pressed(0.0, bore / 1000, length)
    assert pressed.hose > 0
    speed = suction.wave_speed(bore / 1000, 0.0035, 5e8, 1025.0)
    assert pressed.gives / pressed.hose == pytest.approx(1 / (1025.0 * speed**2))
    more = replace(pressed, tubes=litres / 1000)
    assert more.gives - pressed.gives == pytest.approx(litres / 1000 / 2.34e9)


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
@pytest.mark.parametrize(
    ("field", "small", "large", "keys"),
    [
        ("pressed_water", "1 L", "10 L", ("to_weakest", "to_relief")),
        ("hose_length", "0.5 m", "20 m", ("to_weakest", "to_relief")),
        ("hose_bore", "10 mm", "5 mm", ("surge",)),
        ("vessel_bore", "50 mm", "100 mm", ("cap",)),
        ("pressure", "50 bar", "60 bar", ("jet", "kick", "cap")),
    ],
)
def test_more_of_it_tells_more(
    boat: str, field: str, small: str, large: str, keys: tuple[str, ...]
) -> None:
    less, more = ask(boat, **{field: small}), ask(boat, **{field: large})
    for key in keys:
        assert value(less, key) < value(more, key)


# ---- one boat ----


@settings(max_examples=40, deadline=None)
@given(typed=legal_forms("pressure"), boat=st.sampled_from(["ketch", "catamaran"]))
def test_the_same_limits_as_on_the_page_of_water(typed: dict[str, Any], boat: str) -> None:
    """What the weakest part bears and where the relief valve opens are one number everywhere."""
    found = both("pressure", "water", typed, boat)
    if found is None:
        return
    here, there = found
    assert there.making.bears == here.side().weakest.bears
    assert there.making.relief == (here.side().relief.opens if here.side().relief else None)
    assert there.making.highest == here.side().making.highest


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("hose_bore", "0 mm"),
        ("relief_opens", "500 bar"),
        ("relief_bore", "0 mm"),
        ("sea_salinity", "350 g/kg"),
        ("sea_temperature", "80 °C"),
        ("vessel_bears", "-5 bar"),
        ("gauge_scale", "0 bar"),
        ("pressed_water", "none"),
    ],
)
def test_nonsense_is_named(field: str, text: str) -> None:
    guide = stock.guide()
    made = guide.run(guide.get("pressure"), {field: text}, example={"boat": "ketch"})
    assert made.report is None
    assert [fault.field for fault in made.bound.faults] == [field]


# ---- what would mend it ----


def after_each_remedy(**typed: str) -> list[Report]:
    """What the answer becomes with each remedy that can be tried."""
    return [ask(**{**typed, **r.typed()}) for r in ask(**typed).remedies if r.sets]


@pytest.mark.parametrize(
    "typed",
    [
        {"hose_bears": "60 bar", "fittings_bear": "100 bar", "relief_opens": "62 bar"},
        {"hose_bears": "60 bar", "fittings_bear": "60 bar", "relief_opens": "62 bar"},
        {"hose_bears": "50 bar", "fittings_bear": "100 bar", "relief_opens": "62 bar"},
        {"vessel_bears": "60 bar", "relief_opens": "62 bar"},
        {"vessel_bears": "41 bar", "relief_opens": "62 bar", "pressure": "35 bar"},
        {"hose_bears": "60 bar", "pressure": "60 bar", "relief_opens": "72 bar"},
        {"pressure": "80 bar", "relief_opens": "62 bar"},
        {"pressure": "80 bar", "relief_opens": "62 bar", "gauge_scale": "90 bar"},
    ],
    ids=lambda typed: ",".join(f"{k}={v}" for k, v in typed.items()),
)
def test_a_weak_part_has_a_remedy_and_each_leaves_the_relief_valve_between(
    typed: dict[str, str],
) -> None:
    """Not a hose of 55 bar with a relief valve of 62, nor a gauge for a pressure that is too much:
    whatever is tried, nothing of the chain fails then."""
    assert ask(**GOOD, **typed).verdict == FAILS
    found = after_each_remedy(**GOOD, **typed)
    assert found
    for after in found:
        assert {f.key for f in after.figures if f.state == FAILS} == set()


@pytest.mark.parametrize("system", ["metric", "us"])
def test_no_setting_is_told_for_a_room_that_is_finer_than_a_setting(system: str) -> None:
    """62.7 bar at work and 69 at the weakest leave 0.03 bar: 1000 psi would not lie in that."""
    typed = {"pressure": "62.7 bar", "vessel_bears": "69 bar", "relief_opens": "64 bar"}
    made = answered("pressure", typed, "ketch")
    tried = [r for r in made.remedies if isinstance(r, Remedy) and r.sets]
    assert tried
    for one in tried:
        after = answered("pressure", typed | one.typed(system), "ketch")
        now, was = figure(after, one.mends), figure(made, one.mends)
        assert now.state == "fits" or (now.state == "tight" and was.state == "fails")


@pytest.mark.parametrize("opens", ["54.99 bar", "48.05 bar", "47.17 bar"])
def test_a_tenth_below_the_relief_valve_is_a_tenth(opens: str) -> None:
    """Where the setting bounds the seas' pressure, the last digits of that made it tight."""
    made = answered("pressure", {"pressure": "30 bar", "relief_opens": opens}, "ketch")
    assert value(made, "relief") == pytest.approx(1.1 * limit(made, "relief"), rel=1e-8)
    assert figure(made, "relief").margin == 0.1 and state(made, "relief") == FITS


@given(st.floats(1, 1e9), st.floats(0.05, 0.95))
def test_a_share_is_exact_but_for_lost_digits(whole: float, part: float) -> None:
    assert share(part * whole, whole) == pytest.approx(part, abs=1.1e-8)
    assert share(0.1 * whole * (1 - 5e-8), whole) == 0.1
    assert share(-1e-8 * whole, whole) < 0 < share(1e-8 * whole, whole)
