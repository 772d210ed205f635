"""The locker as an owner asks about it: one truth, laws, an independent solution, plain refusals."""

from __future__ import annotations

import html
import json
import math
import re
import time
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from test_remedies import check_remedies

from calc import browser, stock
from calc.frame import links
from calc.frame.render import svg
from calc.frame.report import FITS, TIGHT, TIGHT_MARGIN, Amount, Line, Remedy, Report

CALCULATOR = stock.guide().get("ventilation")
ZERO = 273.15
COOL_WALLS = [
    {"side": "floor", "behind": "bilge"},
    {"side": "top", "thickness": "18 mm"},
    {"side": "front"},
    {"side": "back"},
    {"side": "left"},
    {"side": "right"},
]


FALLING = [{"flow": "0 m3/h", "pressure": "20 Pa"}, {"flow": "60 m3/h", "pressure": "0 Pa"}]
ENGINE_SPACE = {
    "air_way": "engine",
    "engine_length": "1.6 m",
    "engine_width": "1 m",
    "engine_height": "1 m",
}


def ask(boat: str = "ketch", **typed: Any) -> Report:
    outcome = stock.guide().run(CALCULATOR, typed, example={"boat": boat})
    assert outcome.report is not None, [str(fault) for fault in outcome.bound.faults]
    return outcome.report


def figure(report: Report, key: str) -> float:
    return next(f.value.value for f in report.figures if f.key == key)


def exact(report: Report, key: str) -> float:
    """Hottest air, frame or winding before it is told in whole degrees; air at the run's end."""
    chart = report.charts[0]
    points = next(series.points for series in chart.series if series.label == key)
    if key == "air":
        return max(y for x, y in points if any(b.start <= x <= b.end for b in chart.bands))
    return max(y for _, y in points)


def limit(report: Report, key: str) -> float:
    found = next(f.limit for f in report.figures if f.key == key)
    assert found is not None
    return found.value


def step(report: Report, label: str) -> float:
    return next(s.result.value for s in report.steps if s.label == label)


def filled(report: Report, *fields: str) -> Remedy | None:
    """The remedy that fills in just these fields."""
    found = (r for r in report.remedies if isinstance(r, Remedy) and set(r.sets) == set(fields))
    return next(found, None)


VENTS = ("air_way", "low_area", "high_area", "apart")
FAN = ("air_way", "fan_flow", "fan_draws_out", "duct_diameter", "low_area", "high_area")
RUN = ("run_hours", "runs")
DAY = ("ambient_temperature",)
LOCKER = ("locker_length", "locker_width", "locker_height")


# ---- one truth, and the balance ----


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_motor_loses_here_what_it_loses_on_the_power_page(boat: str) -> None:
    power = ask_power(boat)
    drawn = next(made for made in power.steps if made.formula.startswith("P = P_s + L_r"))
    losses = drawn.result.value - drawn.where["P_s"].value
    assert step(ask(boat), "What the motor loses at this load") == pytest.approx(losses)
    low = ask(boat, ac_voltage="215 V" if boat == "ketch" else "105 V")
    assert step(low, "What the motor loses at this load") > losses


@pytest.mark.parametrize("way", ["sealed", "one", "two", "fan", "engine"])
@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_heat_that_goes_in_comes_out(boat: str, way: str) -> None:
    report = ask(boat, **ENGINE_SPACE | {"air_way": way}, engine_space="90 °C")
    cells = [row[-1] for row in report.tables[0].rows]
    out = [cell.value for cell in cells if isinstance(cell, Amount)]
    coming = [c.amounts["h"].value for c in cells if isinstance(c, Line)]  # type: ignore[union-attr]
    assert math.fsum(out) - math.fsum(coming) == pytest.approx(figure(report, "heat"), rel=1e-6)
    # The best way out first; what heats the locker comes last, says so, and is never negative.
    assert out == sorted(out, reverse=True) and min(out + coming) >= 0
    assert all(
        cell.text().endswith(" W in") for cell in cells[len(out) :] if isinstance(cell, Line)
    )
    assert coming or way != "fan"


def test_a_run_without_end_comes_to_the_settled_state() -> None:
    report = ask(run_hours="24 h", protector="")
    settled = (
        28
        + ZERO
        + step(report, "What the air carries away, once settled")
        / (step(report, "Air through the locker, once settled") * 1.17139 * 1007)
    )
    assert exact(report, "air") == pytest.approx(settled, abs=0.1)
    above = step(report, "Winding above the air, once settled")
    assert exact(report, "winding") - exact(report, "air") == pytest.approx(above, abs=0.1)


# ---- an independent solution ----


def test_the_report_agrees_with_scipy() -> None:
    """The ketch's locker written down anew, with none of the project's physics: within 0.2 K."""
    report = ask(protector="")
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
    assert exact(report, "winding") == pytest.approx(run.y[0, -1], abs=0.2)
    after = solve_ivp(
        rates, (0, 3600), run.y[:, -1], method="Radau", args=(False,), rtol=1e-8, max_step=10
    )
    assert exact(report, "frame") == pytest.approx(max(after.y[1]), abs=0.2)  # peaks after the run
    assert exact(report, "air") == pytest.approx(run.y[2, -1], abs=0.2)


# ---- laws ----


def test_sizes_and_volume_say_the_same() -> None:
    areas_of = {
        "floor": 0.405,
        "top": 0.405,
        "front": 0.378,
        "back": 0.378,
        "left": 0.189,
        "right": 0.189,
    }
    walls = [wall | {"area": f"{areas_of[wall['side']]} m2"} for wall in COOL_WALLS]
    by_sizes = ask(faces=COOL_WALLS)
    by_volume = ask(faces=walls, given_by="volume", locker_volume="170.1 L")
    for key in ("air", "winding", "heat", "flow"):
        assert figure(by_volume, key) == pytest.approx(figure(by_sizes, key), rel=1e-6)


# ---- inverse answers do what they promise, as printed ----

ENDLESS = {"run_hours": "24 h"}


def just(remedy: Remedy) -> bool:
    """Whether it says that it only just does."""
    return "just" in remedy.amounts


def verdict(boat: str, typed: dict[str, Any]) -> str:
    """The verdict, "refused" where the form itself says no."""
    outcome = stock.guide().run(CALCULATOR, typed, example={"boat": boat})
    return outcome.report.verdict if outcome.report else "refused"


def sucks_hard(boat: str, typed: dict[str, Any]) -> bool:
    """Whether the engine's suction is tight by itself."""
    report = stock.guide().run(CALCULATOR, typed, example={"boat": boat}).report
    figures = report.figures if report else []
    return any(one.key == "suction" and one.state == TIGHT for one in figures)


def past(remedy: Remedy) -> dict[str, str]:
    """Clearly less than a remedy asks; nothing where half of it may do as well."""
    sets = remedy.sets
    amounts = {name: a for name, a in sets.items() if isinstance(a, Amount)}
    if "fan_flow" in sets:
        # Its openings alone move some air both ways: half of a tiny fan may do as well.
        flow = amounts["fan_flow"].value
        return {"fan_flow": f"{0.7 * flow} m3/s", "apart": "0 mm"} if flow > 12 / 3600 else {}
    if "run_hours" in sets:
        return {"run_hours": f"{1.15 * amounts['run_hours'].value + 90} s"}
    if "locker_length" in sets:
        return {name: f"{0.9 * a.value} m" for name, a in amounts.items()}
    if "apart" in sets:
        return {name: f"{0.8 * amounts[name].value} m2" for name in ("low_area", "high_area")}
    return {name: f"{a.value - ZERO + 8} °C" for name, a in amounts.items() if a.unit == "°C"}


def hold(boat: str, typed: dict[str, Any], system: str) -> set[str]:
    """Tries every remedy: it fits, for the run asked for and for a day and a night, or passes where
    it says just; clearly past it, it fits no more. The engine's own air, where it is tight, stays
    so. Which fields were filled in."""
    names: set[str] = set()
    for made in ask(boat, **typed).remedies:
        if not isinstance(made, Remedy) or not made.sets or made.mends:
            continue
        names |= set(made.sets)
        changed = typed | made.typed(system)
        for endless in ({}, ENDLESS) if "run_hours" not in made.sets else ({},):
            found = verdict(boat, changed | endless)
            least = just(made) or sucks_hard(boat, changed | endless)
            assert found == FITS or (least and found == TIGHT), (made.text(), typed)
        if less := past(made):
            beyond = changed | (ENDLESS if "run_hours" not in made.sets else {}) | less
            left = spare(boat, beyond) if just(made) else spare(boat, beyond, TIGHT_MARGIN) - 0.5
            assert left < 0.35, (made.text(), less, typed)
    return names


def spare(boat: str, typed: dict[str, Any], margin: float = 0.0) -> float:
    """Kelvins to the nearer limit, less a share of its scale as margin; a whole degree is told, and
    a fifth is held back in doubt."""
    report = stock.guide().run(CALCULATOR, typed, example={"boat": boat}).report
    if report is None:
        return -math.inf
    left = []
    for key in ("air", "winding"):
        held = next(f for f in report.figures if f.key == key)
        most = limit(report, key)
        left.append(most - margin * abs(most - held.zero) - exact(report, key))
    return min(left)


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_what_the_demo_boats_are_told_holds_when_tried(boat: str, system: str) -> None:
    assert {*FAN, *RUN} <= hold(boat, {}, system)
    roomy = {"locker_height": "1 m", "locker_length": "2 m", "apart": "700 mm", "faces": COOL_WALLS}
    # The catamaran's cabin is nearly as warm as its motor bears: her sea is cooler.
    wide = {"ambient_temperature": "24 °C", "sea_temperature": "20 °C"}
    assert {*DAY, *LOCKER} <= hold(boat, roomy | wide, system)


def test_what_would_make_the_pages_example_fit_fits() -> None:
    """Typed back, the openings of the page's first example were no more than tight."""
    vents = filled(examples()[0], *VENTS)
    assert vents is not None and not just(vents)
    assert ask(**vents.typed(), **ENDLESS).verdict == FITS


def test_cool_faces_are_not_called_tight_for_the_warm_air_that_comes_in() -> None:
    """Air as warm as the motor bears made 36 °C of 57 °C tight; a degree in hand is not."""
    typed = {
        "air_way": "one",
        "single_area": "5 cm2",
        "single_height": "20 mm",
        "faces": COOL_WALLS,
        "supply_from": "engine",
        "locker_length": "1.8 m",
        "locker_height": "1 m",
    }
    most = limit(ask(**typed), "air") - ZERO
    for engine in range(-2, 3):
        made = ask(**typed, engine_space=f"{most + engine} °C", ambient_temperature="20 °C")
        assert figure(made, "air") < limit(made, "air") - 5
        assert made.verdict == FITS


@pytest.mark.parametrize(
    ("typed", "fields"),
    [
        # Larger ones find no room.
        ({"ambient_temperature": "42 °C", "faces": COOL_WALLS, "sea_temperature": "10 °C"}, VENTS),
        (ENGINE_SPACE | {"engine_power": "20 kW", "ambient_temperature": "40 °C"}, VENTS),
        ({"sea_temperature": "18 °C"}, DAY),
    ],
)
def test_where_it_can_only_be_tight_the_remedies_say_just(
    typed: dict[str, str], fields: tuple[str, ...]
) -> None:
    typed = {"sea_temperature": "20 °C"} | typed
    found = filled(ask(**typed), *fields)
    assert found is not None and just(found)
    assert hold("ketch", typed, "metric")


def test_a_locker_that_is_tight_is_told_how_long_a_run_would_fit() -> None:
    openings = {"low_area": "310 cm2", "high_area": "310 cm2"}
    tight = ask(**openings, run_hours="6 h")
    found = filled(tight, *RUN)
    assert tight.verdict == TIGHT and found is not None and not just(found)
    assert ask(**openings | found.typed()).verdict == FITS
    assert ask(**openings, **ENDLESS).verdict == TIGHT


def test_who_is_told_that_it_fits_is_not_told_to_run_it_shorter() -> None:
    for minutes in range(20, 60):
        made = ask(run_hours=f"{minutes} min")
        if made.verdict == FITS and (found := filled(made, *RUN)):
            longest = found.sets["run_hours"]
            assert isinstance(longest, Amount) and longest.value >= minutes * 60


@st.composite
def lockers(draw: st.DrawFn) -> dict[str, Any]:
    """Lockers of all kinds, as one would type them."""
    typed: dict[str, Any] = {
        "locker_length": f"{draw(st.integers(700, 1600))} mm",
        "locker_width": f"{draw(st.integers(400, 800))} mm",
        "locker_height": f"{draw(st.integers(400, 900))} mm",
        "low_area": f"{draw(st.integers(20, 300))} cm2",
        "high_area": f"{draw(st.integers(20, 300))} cm2",
        "apart": f"{draw(st.integers(100, 390))} mm",
        "ambient_temperature": f"{draw(st.integers(10, 38))} °C",
        "outside_temperature": f"{draw(st.integers(10, 38))} °C",
        "sea_temperature": f"{draw(st.integers(4, 32))} °C",
        "engine_space": f"{draw(st.integers(25, 60))} °C",
        "air_way": draw(st.sampled_from(["sealed", "one", "two", "fan", "engine"])),
        "stands": draw(st.sampled_from(["locker"] * 7 + ["open"])),
        "boost_here": draw(st.sampled_from(["yes", "no"])),
        "supply_from": draw(st.sampled_from(["cabin", "cabin", "engine", "outside"])),
        "engine_length": f"{draw(st.integers(10, 30)) / 10} m",
        "engine_width": f"{draw(st.integers(8, 20)) / 10} m",
        "engine_height": f"{draw(st.integers(8, 18)) / 10} m",
        "run_hours": f"{draw(st.integers(1, 8)) / 2} h",
        "engine_power": f"{draw(st.integers(1, 20))} kW",
        "pressure": f"{draw(st.integers(35, 60))} bar",
        "fan_draws_out": draw(st.sampled_from(["yes", "no"])),
    }
    if typed["air_way"] == typed["supply_from"]:  # an engine space has no air of its own
        typed["supply_from"] = "outside"
    if draw(st.booleans()):
        kinds = st.sampled_from(["cabin", "bilge", "sea", "shade", "sun"])
        typed["faces"] = [row | {"behind": draw(kinds)} for row in COOL_WALLS]
        if draw(st.booleans()):
            typed["faces"][2]["area"] = "0.2 m2"
    if draw(st.integers(0, 3)) == 0:
        rows = typed.get("faces", COOL_WALLS)
        typed |= {
            "given_by": "volume",
            "locker_volume": f"{draw(st.integers(200, 800))} L",
            "faces": [row | {"area": f"{draw(st.integers(20, 60)) / 100} m2"} for row in rows],
        }
    return typed


@settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=(Phase.explicit, Phase.generate),
)
@given(st.sampled_from(["ketch", "catamaran"]), lockers(), st.sampled_from(["metric", "us"]))
def test_what_any_locker_is_told_holds_when_tried(
    boat: str, typed: dict[str, Any], system: str
) -> None:
    hold(boat, typed, system)


def test_a_warmer_day_leaves_the_sea_and_the_engine_space_alone() -> None:
    cool = {"faces": COOL_WALLS, "low_area": "300 cm2", "high_area": "300 cm2"}
    day, warm_sea = (
        filled(ask(**cool, **more), *DAY) for more in ({}, {"sea_temperature": "30 °C"})
    )
    assert day is not None and warm_sea is not None
    assert day.typed() != warm_sea.typed()  # the sea counts, and is not shifted with the day
    engine = filled(ask(), *DAY)
    assert engine is not None and "engine space" in engine.text() and "engine" not in day.text()


@pytest.mark.parametrize(
    ("typed", "fields"),
    [
        ({}, {"air_way", "low_area", "high_area", "apart"}),
        ({"air_way": "sealed", "fan_draws_out": "no"}, {"fan_flow", "duct_diameter", "low_area"}),
        ({"air_way": "fan", "fan_flow": "20 m3/h"}, {"run_hours", "runs"}),
        ({"runs": "3", "rest_hours": "5 min"}, {"run_hours", "runs"}),
        ({"supply_from": "outside"}, {"ambient_temperature", "outside_temperature"}),
        ({"faces": COOL_WALLS}, {"locker_length", "locker_width", "locker_height"}),
        (ENGINE_SPACE | {"engine_power": "40 kW", "low_area": "30 cm2"}, {"low_area", "high_area"}),
        (ENGINE_SPACE, {"air_way", "low_area", "high_area", "apart"}),
    ],
)
def test_a_remedy_fills_in_the_form_and_then_it_holds(
    typed: dict[str, Any], fields: set[str]
) -> None:
    filled = [made for made in ask(**typed).remedies if isinstance(made, Remedy) and made.sets]
    assert any(fields <= set(made.sets) for made in filled)
    assert check_remedies(CALCULATOR, typed, {"boat": "ketch"}) == len(filled)


def test_a_fan_that_stands_still_at_rest_is_not_offered_to_try_where_other_heat_goes_on() -> None:
    """It was: the air was too warm before the run, though the fan would have settled it."""
    heat = [{"name": "charger", "heat": "880 W", "when": "always"}]
    made = ask(other_heat=heat)
    assert check_remedies(CALCULATOR, {"other_heat": heat}, {"boat": "ketch"})
    assert filled(ask(), *FAN) and not filled(made, *FAN)


def test_an_engine_space_is_never_told_that_it_needs_no_openings() -> None:
    cold = {"ambient_temperature": "0 °C", "sea_temperature": "2 °C", "engine_power": "80 kW"}
    made = ask(**ENGINE_SPACE | {"engine_length": "6 m"}, **cold, low_area="0 cm2")
    assert all(isinstance(r, Remedy) and r.sets for r in made.remedies)


def test_a_hot_wall_gets_no_smallest_locker() -> None:
    assert filled(ask(), *LOCKER) is None
    assert filled(ask(faces=COOL_WALLS), *LOCKER) is not None


def test_air_that_is_too_warm_cures_nothing() -> None:
    report = ask(ambient_temperature="65 °C", sea_temperature="30 °C")
    assert report.remedies and not any(isinstance(r, Remedy) and r.sets for r in report.remedies)


def test_an_engine_that_lacks_air_is_told_of_nothing_else() -> None:
    starved = ask(**ENGINE_SPACE, engine_power="40 kW", low_area="30 cm2", high_area="30 cm2")
    (only,) = starved.remedies
    assert isinstance(only, Remedy) and only.mends == "suction"


# ---- common practice, no source ----

TIGHT_BOX: dict[str, Any] = {
    "locker_length": "560 mm",
    "locker_width": "270 mm",
    "locker_height": "290 mm",
    "contents": "0 L",
    "apart": "150 mm",
    "low_area": "20 cm2",
    "high_area": "20 cm2",
}


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_a_box_barely_larger_than_the_motor_overheats_it(boat: str) -> None:
    """Common practice, no source; and the answer says that it breathes its own air."""
    report = ask(boat, run_hours="2 h", **TIGHT_BOX)
    assert figure(report, "winding") > limit(report, "winding")
    assert report.verdict == "fails"
    assert report.charts[-1].key == "protected"
    # It fills its room, and breathes its own air.
    assert any({"f", "s"} == set(note.amounts) for note in report.notes)


def test_a_small_blower_switched_with_the_motor_cures_a_locker() -> None:
    """Common practice, no source."""
    for boat in ("ketch", "catamaran"):
        assert ask(boat).verdict == "fails"
        blown = ask(boat, air_way="fan", duct_diameter="100 mm", low_area="160 cm2")
        assert blown.verdict in (FITS, "tight"), blown.reason().text()


def test_half_an_hour_does_most_of_the_warming_of_the_air() -> None:
    """Common practice, no source: steady after about half an hour. With a fan the air nearly is;
    in still air it is half way, and the motor takes an hour or two."""

    def share(key: str, **typed: Any) -> float:
        half, settled = (
            exact(ask(run_hours=t, protector="", **typed), key) - 28 - ZERO
            for t in ("30 min", "24 h")
        )
        return half / settled

    assert share("air", air_way="fan") > 0.65
    assert 0.4 < share("air") < 0.6
    assert share("winding") < 0.8


def test_a_trip_repeats_sooner_and_the_motor_cools_slowly() -> None:
    report = ask("catamaran", run_hours="6 h")
    first = figure(report, "trip")
    winding = report.charts[1].series[0].points
    tops = [
        t
        for (_, a), (t, b), (_, c) in zip(winding, winding[1:], winding[2:], strict=False)
        if a < b > c
    ]
    assert first <= tops[0] < first + 60  # told in whole minutes, the part begun left out
    assert tops[1] - tops[0] < first
    assert report.verdict == "fails"
    trips = sum(top < 6 * 3600 - 1 for top in tops)  # the last one is the end of the run
    summary = report.charts[1].summary
    assert isinstance(summary, Line) and summary.amounts["n"] == str(trips)


def test_a_trip_is_told_of_one_state_as_if_nothing_stopped_it() -> None:
    """Figures, headline, chart, drawing and the note on life: the run that nothing stops."""
    report = ask("catamaran")
    free = ask("catamaran", protector="")
    winding, air = (f"{figure(report, key) - ZERO:.0f} °C" for key in ("winding", "air"))
    for key in ("winding", "air", "frame"):
        found = next(f for f in report.figures if f.key == key)
        assert found.value == next(f for f in free.figures if f.key == key).value
        assert found.value.value == pytest.approx(exact(report, key), abs=0.5)
    assert report.charts[0].series == free.charts[0].series
    summary = report.charts[0].summary
    assert isinstance(summary, Line) and winding in summary.text()
    assert {winding, air} <= set(re.findall(r"\d+ °C", report.headlines[-1].text()))
    drawn = [shape.text for shape in report.drawings[0].shapes if isinstance(shape.text, Line)]
    assert {f"winding {winding}", f"out {air}"} <= {one.text() for one in drawn}
    life = next(note for note in report.notes if "life halves" in note.template)
    assert isinstance(life.amounts["x"], Amount) and winding in life.text()
    ratio = 2 ** ((145 + ZERO - figure(report, "winding")) / 10)  # class F: 40 + 105 °C
    assert life.amounts["x"].value == pytest.approx(ratio, rel=0.02)
    # The protector's own course has a chart of its own, and never passes its temperature by much.
    protected = report.charts[1]
    assert max(y for _, y in protected.series[0].points) == pytest.approx(135 + ZERO, abs=0.5)
    assert len(free.charts) == 1


def test_a_trip_in_a_later_run_is_told_of_its_run() -> None:
    report = ask(runs="4", run_hours="1.5 h", rest_hours="10 min", ambient_temperature="31 °C")
    trip = next(f for f in report.figures if f.key == "trip")
    assert isinstance(trip.note, Line) and trip.note.amounts["n"] == "2"
    assert trip.value.value < 1.5 * 3600
    assert report.reason().amounts["n"] == "2"


def test_what_decides_is_the_reason() -> None:
    warm = ask()
    told_of = {name: a.value for name, a in warm.reason().amounts.items() if isinstance(a, Amount)}
    assert told_of == {"a": figure(warm, "air"), "l": limit(warm, "air")}
    hot = ask(insulation="A", air_way="fan", ambient_temperature="40 °C")
    assert hot.reason().amounts["l"] == next(f.limit for f in hot.figures if f.key == "winding")
    assert limit(hot, "winding") == 100 + ZERO  # 40 + 60


def test_a_motor_without_a_protector_is_told_that_nothing_stops_it() -> None:
    with_one, without = (ask(air_way="fan", **more) for more in ({}, {"protector": ""}))
    assert len(without.notes) == len(with_one.notes) + 1


@pytest.mark.parametrize(("opens", "notes"), [(139, 0), (141, 1)])
def test_a_protector_that_opens_too_late_for_its_class_is_told(opens: int, notes: int) -> None:
    """NEMA MG 1 12.57, from memory: 140 °C for class A."""
    made = ask(air_way="fan", insulation="A", protector=f"{opens} °C")
    assert sum("12.57" in note.template for note in made.notes) == notes


def test_what_is_filled_in_is_what_is_told() -> None:
    """38 m³/h read 38.1, and 52.9999999 where it was to be tried."""
    for cabin in range(20, 40):
        fan = filled(ask(ambient_temperature=f"{cabin} °C"), *FAN)
        if fan is not None:
            flow = fan.amounts["f"]
            assert isinstance(flow, Amount)
            assert fan.typed()["fan_flow"] == f"{flow.shown() * 3600:.0f} m3/h"


def test_a_protector_that_must_be_pressed_stays_open() -> None:
    resets, stays = (ask("catamaran", run_hours="6 h", protector_resets=r) for r in ("yes", "no"))
    assert len(stays.charts[1].series[0].points) < len(resets.charts[1].series[0].points)
    assert stays.headlines[0].text() != resets.headlines[0].text()


def test_hot_air_is_said_to_be_too_warm_for_electronics() -> None:
    def warned(**typed: Any) -> bool:
        return any("IEC 60898-1" in note.template for note in ask(**typed).notes)

    assert warned(other_heat=[{"name": "the shore charger", "heat": "20 W"}])
    assert warned(ambient_temperature="52 °C", air_way="fan", run_hours="10 min")
    assert not warned(air_way="fan")


def test_openings_that_cool_are_said_to_let_the_noise_out() -> None:
    """The ketch's two make Quiet running tight; with a lined bend it fits again."""
    vents = filled(ask(), *VENTS)
    assert vents is not None and "Quiet running" in vents.template
    each = vents.sets["low_area"]
    assert isinstance(each, Amount)
    noise = stock.guide().get("noise")
    loud = {}
    for kind in ("plain", "bend"):
        typed = {"vents": f"{2 * each.value} m2", "vent_kind": kind}
        made = stock.guide().run(noise, typed, example={"boat": "ketch"}).report
        assert made is not None
        loud[kind] = next(f.value.value for f in made.figures if f.key == "air")
        assert made.verdict == (TIGHT if kind == "plain" else FITS)
    assert loud["bend"] < loud["plain"] - 2


@pytest.mark.parametrize("typed", [{}, {"ambient_temperature": "40 °C"}, {"air_way": "fan"}])
def test_what_is_told_follows_the_units(typed: dict[str, str]) -> None:
    made = ask(**typed)
    words = [*made.notes, *made.remedies, *made.headlines, made.reason()]
    for line in words:
        assert not re.search(r"\d\s?(°C|K|mm|cm²|m³/h)\b", line.text("us")), line.text("us")


def test_who_hears_the_chart_hears_it_in_the_units_chosen() -> None:
    chart = ask().charts[0]
    for system, own, other in (("metric", "°C", "°F"), ("us", "°F", "°C")):
        heard = re.search(r"<desc[^>]*>(.*?)</desc>", svg.chart(chart, system))
        assert heard and own in heard[1] and other not in heard[1]


# ---- motor limits ----


def test_a_light_load_bears_warmer_air_and_a_heavy_one_none() -> None:
    assert limit(ask(pressure="30 bar"), "air") > limit(ask(), "air") > 40 + ZERO
    assert limit(ask(pressure="70 bar"), "air") == pytest.approx(40 + ZERO)
    assert limit(ask(pressure="5 bar"), "air") == pytest.approx(60 + ZERO)


def test_the_class_or_the_protector_limits_the_winding() -> None:
    assert limit(ask(), "winding") == pytest.approx(135 + ZERO)
    assert limit(ask(protector=""), "winding") == pytest.approx(145 + ZERO)  # NEMA MG 1: 40 + 105
    assert limit(ask(insulation="B"), "winding") == pytest.approx(120 + ZERO)  # 40 + 80


# ---- what fills in fields ----


def test_a_climate_fills_in_what_nobody_typed() -> None:
    outcome = stock.guide().run(CALCULATOR, {"climate": "tropics"}, example={"boat": "ketch"})
    assert outcome.bound.values["ambient_temperature"] == pytest.approx(35 + ZERO)
    assert outcome.bound.origin("sea_temperature").text() == "from Tropics"
    typed = {"climate": "winter", "ambient_temperature": "22 °C"}
    outcome = stock.guide().run(CALCULATOR, typed, example={"boat": "ketch"})
    assert outcome.bound.values["ambient_temperature"] == pytest.approx(22 + ZERO)
    heats = [exact(ask(climate=name), "winding") for name in ("winter", "temperate", "tropics")]
    assert heats == sorted(heats)


def test_the_air_comes_from_next_door_and_not_from_outside() -> None:
    cool = ask(supply_from="outside", outside_temperature="20 °C")
    warm = ask(supply_from="engine")
    assert figure(cool, "air") < figure(ask(), "air") < figure(warm, "air")


def test_an_engine_needs_its_own_air() -> None:
    small = ask(**ENGINE_SPACE, engine_power="40 kW", low_area="30 cm2", high_area="30 cm2")
    assert figure(small, "suction") > limit(small, "suction")
    found = filled(small, "low_area", "high_area")
    assert found is not None and found.mends == "suction"
    enough = ask(**ENGINE_SPACE | {"engine_power": "40 kW"} | found.typed())
    assert figure(enough, "suction") == pytest.approx(0.9 * limit(enough, "suction"), rel=0.02)
    assert next(f for f in enough.figures if f.key == "suction").state == FITS
    assert any(c.key == "engine-air" for c in enough.cautions)


def test_an_engine_that_has_its_air_is_not_offered_smaller_openings() -> None:
    """Tried, they took from the motor what the engine had to spare."""
    roomy = ENGINE_SPACE | {"low_area": "900 cm2", "high_area": "900 cm2"}
    assert filled(ask(**roomy), "low_area", "high_area") is None


@pytest.mark.parametrize("left_out", ["engine_length", "engine_width", "engine_height"])
def test_an_engine_space_of_unknown_size_cannot_be_told(left_out: str) -> None:
    """It was answered as if the engine stood in the locker of 170 L."""
    typed = ENGINE_SPACE | {left_out: "", "engine_power": "30 kW"}
    made = ask(**typed)
    assert made.verdict == "unknown" and left_out.removeprefix("engine_") in made.reason().text()
    assert not made.figures and not made.remedies
    assert any(c.key == "engine-air" for c in made.cautions)


def test_of_an_engine_space_half_is_filled_unless_it_is_said() -> None:
    """It was taken for empty but for 20 L: less than its engine alone."""
    sides = {"engine_length": "0.6 m", "engine_width": "0.4 m", "engine_height": "0.4 m"}
    typed = ENGINE_SPACE | sides
    half = ask(**typed, engine_contents="48 L")
    assert figure(ask(**typed), "winding") == figure(half, "winding")
    assert exact(ask(**typed, engine_contents="0 L"), "winding") < exact(half, "winding") - 1
    assert figure(ask(**typed, contents="90 L"), "winding") == figure(half, "winding")
    assert verdict("ketch", typed | {"engine_contents": "80 L"}) == "refused"


def test_an_engine_space_is_judged_by_its_own_size_and_not_the_lockers() -> None:
    typed = ENGINE_SPACE | {"engine_power": "30 kW"}
    made = ask(**typed)
    assert figure(made, "air") == figure(ask(**typed, locker_length="3 m"), "air")
    assert figure(ask(**typed | {"engine_length": "4 m"}), "air") < figure(made, "air") - 2
    # What lies behind a face of the engine space is never the engine space.
    walls = ask(**typed, faces=[*COOL_WALLS, {"side": "back", "behind": "engine"}])
    assert figure(walls, "air") == figure(ask(**typed, faces=COOL_WALLS), "air")


# ---- the boost pump, and a unit in the open ----


def test_the_boost_pump_warms_the_locker_that_it_stands_in() -> None:
    """Half of the ketch's 90 W go into the air: 5 K of the locker's air."""
    without = ask(boost_here="no")
    assert step(ask(), "What the boost pump gives to the air") == pytest.approx(45)
    assert figure(ask(), "air") > figure(without, "air") + 4
    assert exact(ask(boost_power="0 W"), "air") == pytest.approx(exact(without, "air"))
    like = ask(boost_here="no", other_heat=[{"name": "a lamp", "heat": "45 W"}])
    assert exact(like, "winding") == pytest.approx(exact(ask(), "winding"))


def test_a_unit_in_the_open_has_the_cabins_air_and_no_advice_on_lockers() -> None:
    made = ask(stands="open")
    work = step(made, "What the motor loses at this load")
    assert exact(made, "air") == pytest.approx(28 + ZERO, abs=0.01)
    # At its rated loss its rise is the plate's, above the air it stands in.
    plate = stock.guide().shelf("boat")["ketch"].unit.motor
    rated = plate.rated_power / plate.efficiency - plate.rated_power
    rise = step(made, "Winding above the air, once settled")
    assert rise == pytest.approx(plate.rise * work / rated, rel=0.05)  # copper cooler than rated
    assert made.verdict == FITS and not made.tables and not made.drawings
    filled_in = {name for r in made.remedies if isinstance(r, Remedy) for name in r.sets}
    assert filled_in <= {*RUN, *DAY}
    for box in ("locker_length", "contents", "faces", "air_way", "fan_voltage", "boost_power"):
        assert not stock.guide().run(CALCULATOR, {"stands": "open"}).bound.asked(box)


@pytest.mark.parametrize(("cabin", "verdict"), [(47, FITS), (48, FITS), (49, TIGHT), (50, "fails")])
def test_a_unit_in_the_open_is_judged_to_the_degree_that_was_typed(
    cabin: int, verdict: str
) -> None:
    made = ask(stands="open", ambient_temperature=f"{cabin} °C")
    assert limit(made, "air") == 49 + ZERO
    assert made.verdict == verdict


def test_a_measured_curve_takes_the_place_of_two_numbers() -> None:
    assert figure(ask(air_way="fan", fan_curve=FALLING), "flow") < figure(
        ask(air_way="fan"), "flow"
    )


# ---- the page ----


def examples() -> list[Report]:
    """The answers of the page's own example, and of the one that its link fills in."""
    page = (Path(__file__).parents[1] / "docs" / "ventilation.md").read_text("utf-8")
    fences = re.findall(r"```calculator ventilation\n(.*?)```", page, re.DOTALL)
    filled_in = re.findall(r'href="#(a1:ventilation[^"]*)"', page)
    opened = [links.read(html.unescape(text), stock.guide()) for text in filled_in]
    assert not any(one.unknown for one in opened)
    (example,) = (tomllib.loads(text) for text in fences)
    typed = [{}, *(dict(one.typed) for one in opened)]
    outcomes = [stock.guide().run(CALCULATOR, one, example=example) for one in typed]
    return [outcome.report for outcome in outcomes if outcome.report]


def test_the_page_says_what_its_examples_answer() -> None:
    ketch, catamaran = examples()
    # "that is not enough"; "a small fan does what takes two large holes"; the air is what is hot
    assert ketch.verdict == "fails" and set(ketch.reason().amounts) == {"a", "l"}
    assert len(ketch.charts) == 1
    vents, fan = filled(ketch, *VENTS), filled(ketch, *FAN)
    assert vents is not None and fan is not None
    area, flow = vents.sets["low_area"], fan.sets["fan_flow"]
    assert isinstance(area, Amount) and isinstance(flow, Amount)
    assert area.value > 3 * 0.006 and flow.value * 3600 < 60
    # "loses a good part of its heat through them"; "does next to nothing"
    cells = {row[0].text(): row[-1] for row in ketch.tables[0].rows if isinstance(row[0], Line)}
    heats = {name: cell.value for name, cell in cells.items() if isinstance(cell, Amount)}
    cabin = sum(heat for name, heat in heats.items() if "; cabin" in name)
    assert cabin > 0.3 * figure(ketch, "heat")
    assert next(heat for name, heat in heats.items() if "engine" in name) < 10
    # "its protector opens before the run is over"
    assert next(f for f in catamaran.figures if f.key == "trip").state == "fails"


# ---- plain refusals ----


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"low_area": "5000 cm2"}, "low_area"),
        ({"apart": "-10 mm"}, "apart"),
        ({"apart": "600 mm"}, "apart"),
        ({"air_way": "fan", "low_area": "0 cm2", "high_area": "0 cm2"}, "low_area"),
        (ENGINE_SPACE | {"low_area": "0 cm2", "high_area": "0 cm2"}, "low_area"),
        (ENGINE_SPACE | {"supply_from": "engine"}, "supply_from"),
        (ENGINE_SPACE | {"apart": "1.1 m"}, "apart"),
        ({"air_way": "one", "single_height": "900 mm"}, "single_height"),
        ({"locker_length": "400 mm"}, "locker_width"),
        ({"unit_length": "1 m"}, "locker_length"),
        ({"contents": "160 L"}, "contents"),
        ({"faces": [], "air_way": "sealed"}, "faces"),
        ({"faces": [{"side": "top", "area": "2 m2"}]}, "faces"),
        ({"faces": [{"side": "top"}], "given_by": "volume"}, "faces"),
        ({"air_way": "fan", "fan_curve": FALLING[::-1]}, "fan_curve"),
        ({"air_way": "fan", "fan_curve": FALLING[:1]}, "fan_curve"),
    ],
)
def test_what_cannot_be_is_named_plainly(typed: dict[str, Any], field: str) -> None:
    (fault,) = stock.guide().run(CALCULATOR, typed, example={"boat": "ketch"}).bound.faults
    assert fault.field == field and fault.sentence


def test_a_locker_larger_than_any_that_is_searched_is_answered() -> None:
    made = ask(
        locker_length="8003.65 mm",
        locker_height="10000 mm",
        contents="20000 L",
        engine_space="-20 °C",
    )
    assert made.remedies and filled(made, *LOCKER) is None


# ---- speed ----


@pytest.mark.parametrize(
    "typed",
    [
        {"protector_drop": "1 K", "run_hours": "24 h"},
        {"protector_drop": "1 K", "run_hours": "24 h", "runs": "6", "rest_hours": "24 h"},
        {"run_hours": "24 h", "runs": "6", "rest_hours": "24 h"},
    ],
)
def test_a_protector_that_opens_all_day_is_answered_quickly(typed: dict[str, str]) -> None:
    """250 ms on a quiet machine; processor time of the best of three, for busy ones."""
    best = math.inf
    for _ in range(3):
        begin = time.process_time()
        made = ask(**typed)
        best = min(best, time.process_time() - begin)
    assert best < 1.0  # four times a quiet machine: a busy one must not fail
    drawn = {chart.key: chart for chart in made.charts}["protected"]
    assert drawn.x.high is not None
    for series in drawn.series:
        assert max(x for x, _ in series.points) == pytest.approx(drawn.x.high)
    assert drawn.bands and all(b.start < b.end <= drawn.x.high for b in drawn.bands)


def test_a_protector_that_opens_a_few_times_is_followed_to_the_end() -> None:
    made = ask("catamaran", run_hours="3 h")
    course, stopped = made.charts
    assert stopped.x.high == pytest.approx(course.x.high)


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_an_answer_is_quick(boat: str) -> None:
    """30 ms in the browser, where Python is some three times slower; busy test machines allowed."""
    request = json.dumps({"calculator": "ventilation", "example": {"boat": boat}, "typed": {}})
    browser.handle(request)
    best = math.inf
    for _ in range(7):
        begin = time.process_time()
        browser.handle(request)
        best = min(best, time.process_time() - begin)
    assert best < 0.15  # a busy machine must not fail


def test_what_is_left_of_a_temperature_is_told_in_degrees() -> None:
    """A share of it would hang on where its scale begins: 74 °C for 50 °C is 24 K over."""
    made = ask("ketch", locker_length="700 mm", air_way="sealed", protector="", boost_here="no")
    left = {}
    for key in ("air", "winding"):
        found = next(f for f in made.figures if f.key == key)
        assert found.limit is not None
        left[key] = round(found.limit.value - found.value.value)
        assert found.left_over() == f"{left[key]} K".replace("-", "−")
        shown = found.left_over("us").replace("−", "-").removesuffix(" °F")
        assert float(shown) == pytest.approx(1.8 * left[key], rel=0.05)
    assert left["air"] < 0 < left["winding"]


# ---- the motor's own judgement, as the page Power has it ----


def ask_power(boat: str = "ketch", **typed: Any) -> Report:
    outcome = stock.guide().run(stock.guide().get("power"), typed, example={"boat": boat})
    assert outcome.report is not None
    return outcome.report


def promised(report: Report) -> bool:
    """Whether anything that would keep it cool is offered to try."""
    return any(filled(report, *fields) for fields in (VENTS, FAN, RUN, DAY, LOCKER))


@pytest.mark.parametrize(
    ("boat", "typed"),
    [
        (
            "catamaran",
            {
                "air_way": "fan",
                "fan_flow": "400 m3/h",
                "ambient_temperature": "20 °C",
                "outside_temperature": "20 °C",
            },
        ),
        ("ketch", {"unit": "skerry-70-60"}),
    ],
)
def test_nobody_tells_how_hot_an_overfluxed_motor_gets(boat: str, typed: dict[str, str]) -> None:
    """A motor of 60 Hz on as many volts at 50 Hz has a fifth too much flux: no promise, no figure
    of its heat, as on the page Power."""
    made = ask(boat, ac_frequency="50 Hz", **typed)
    assert (
        made.verdict
        == ask_power(
            boat, ac_frequency="50 Hz", **{k: v for k, v in typed.items() if k == "unit"}
        ).own()[0]
        == "fails"
    )
    assert [f.key for f in made.figures] == ["flux"]
    assert not promised(made)


@pytest.mark.parametrize(
    "typed", [{"ac_frequency": "60 Hz"}, {"pressure": "80 bar"}, {"ac_voltage": "200 V"}]
)
def test_a_motor_that_fails_on_the_page_power_fails_here(typed: dict[str, str]) -> None:
    over = {f.key for f in ask_power(**typed).figures if f.state == "fails"}
    made = ask(**typed, air_way="fan", ambient_temperature="10 °C")
    assert over and over <= {f.key for f in made.figures if f.state == "fails"}
    assert made.verdict == "fails" and not promised(made)


def test_mains_with_the_right_volts_per_hertz_but_foreign_hertz_cannot_be_told() -> None:
    """100 V at 50 Hz for 115 V at 60 Hz: the flux is right, the fan's speed and capacitors not."""
    typed = {"ac_frequency": "50 Hz", "ac_voltage": "100 V", "air_way": "fan"}
    made = ask("catamaran", **typed, ambient_temperature="15 °C", outside_temperature="15 °C")
    assert made.verdict == "unknown" and not promised(made)


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_a_sound_motor_gets_no_word_of_it(boat: str) -> None:
    made = ask(boat)
    assert not {"flux", "shaft", "current", "voltage"} & {f.key for f in made.figures}
    assert promised(made) and len(made.headlines) == 1


def test_a_locker_whose_faces_are_left_out_is_cooled_by_its_air_alone() -> None:
    """Sizes at which nothing would take the heat away are searched past, not refused."""
    made = stock.guide().run(CALCULATOR, {"faces": []}, example={"boat": "catamaran"}).report
    assert made is not None
    assert made.verdict == "fails"
    assert filled(made, *FAN)


@pytest.mark.parametrize("way", ["two", "fan"])
def test_the_working_shows_no_watts_that_are_but_the_last_bit_of_a_sum(way: str) -> None:
    """With no faces −1.6 × 10⁻⁹ W were left for the walls, other ones on another machine."""
    heat = [{"name": "lamp", "heat": "33.3 W"}]
    for more in ({"faces": []}, {"other_heat": heat}, {"fan_draws_out": "no"}):
        for made in ask(air_way=way, **more).steps:
            told = [made.result, *made.where.values()]
            assert not any(0 < abs(a.value) < 1e-6 for a in told if a.unit == "W"), made.label
