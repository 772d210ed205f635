"""The locker as an owner asks about it: one truth, laws, an independent solution, plain refusals."""

from __future__ import annotations

import json
import math
import re
import time
import tomllib
from pathlib import Path
from typing import Any

import pytest
from answers import (
    all_slots,
    answered,
    figure,
    hottest,
    limit,
    refused,
    remedy_for,
    slots,
    state,
    step,
    typed,
    value,
)

from calc import browser, stock
from calc.frame.render import svg
from calc.frame.report import FAILS, FITS, TIGHT, UNKNOWN, Amount, Line, Remedy, Report
from site_build import citations

CALCULATOR = stock.guide().get("ventilation")
ZERO = 273.15
COOL_WALLS = [{"side": "floor", "behind": "bilge"}, {"side": "top", "thickness": "18 mm"}]
COOL_WALLS += [{"side": side} for side in ("front", "back", "left", "right")]


FALLING = [{"flow": "0 m3/h", "pressure": "20 Pa"}, {"flow": "60 m3/h", "pressure": "0 Pa"}]
ENGINE_SPACE = typed("air_way: engine; engine_length: 1.6 m; engine_width: 1 m; engine_height: 1 m")


def ask(boat: str = "ketch", form: str = "", **more: Any) -> Report:
    return answered("ventilation", {**typed(form), **more}, boat)


VENTS = ("air_way", "low_area", "high_area", "apart")
FAN = ("air_way", "fan_flow", "fan_draws_out", "duct_diameter", "low_area", "high_area")
RUN = ("run_hours", "runs")
DAY = ("ambient_temperature",)
LOCKER = ("locker_length", "locker_width", "locker_height")


# ---- one truth, and the balance ----


@pytest.mark.parametrize(("boat", "volts"), [("ketch", "215 V"), ("catamaran", "105 V")])
def test_a_motor_on_few_volts_loses_more(boat: str, volts: str) -> None:
    usual, low = ask(boat), ask(boat, ac_voltage=volts)
    assert step(low, "P_loss").result.value > step(usual, "P_loss").result.value


@pytest.mark.parametrize("way", ["sealed", "one", "two", "fan", "engine"])
@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_heat_that_goes_in_comes_out(boat: str, way: str) -> None:
    report = ask(boat, **ENGINE_SPACE | {"air_way": way}, engine_space="90 °C")
    cells = [row[-1] for row in report.tables[0].rows]
    out = [cell.value for cell in cells if isinstance(cell, Amount)]
    coming = [c.amounts["h"].value for c in cells if isinstance(c, Line)]
    assert math.fsum(out) - math.fsum(coming) == pytest.approx(value(report, "heat"), rel=1e-6)
    # The best way out first; what heats the locker comes last, says so, and is never negative.
    assert out == sorted(out, reverse=True) and min(out + coming) >= 0
    assert len(coming) == len(cells) - len(out) and (coming or way != "fan")


def test_a_run_without_end_comes_to_the_settled_state() -> None:
    report = ask(run_hours="24 h", protector="")
    settled = (
        28
        + ZERO
        + step(report, "P_air").result.value / (step(report, "V").result.value * 1.17139 * 1007)
    )
    assert hottest(report, "air") == pytest.approx(settled, abs=0.1)
    above = step(report, "dT_w").result.value
    assert hottest(report, "winding") - hottest(report, "air") == pytest.approx(above, abs=0.1)


# ---- laws ----


def test_sizes_and_volume_say_the_same() -> None:
    areas = dict(zip(("front", "back", "left", "right"), (0.378, 0.378, 0.189, 0.189), strict=True))
    areas |= {"floor": 0.405, "top": 0.405}
    walls = [wall | {"area": f"{areas[wall['side']]} m2"} for wall in COOL_WALLS]
    by_sizes = ask(faces=COOL_WALLS)
    by_volume = ask(faces=walls, given_by="volume", locker_volume="170.1 L")
    found, told = (
        [value(made, key) for key in ("air", "winding", "heat", "flow")]
        for made in (by_volume, by_sizes)
    )
    assert found == pytest.approx(told, rel=1e-6)


# ---- common practice, no source ----

TIGHT_BOX = "locker_length: 560 mm; locker_width: 270 mm; locker_height: 290 mm; contents: 0 L; apart: 150 mm; low_area: 20 cm2; high_area: 20 cm2"


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_a_box_barely_larger_than_the_motor_overheats_it(boat: str) -> None:
    """Common practice, no source; and the answer says that it breathes its own air."""
    report = ask(boat, TIGHT_BOX, run_hours="2 h")
    assert value(report, "winding") > limit(report, "winding")
    assert report.verdict == FAILS
    assert report.charts[-1].key == "protected"
    # It fills its room, and breathes its own air.
    assert any({"f", "s"} == set(note.amounts) for note in report.notes)


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_a_small_blower_switched_with_the_motor_cures_a_locker(boat: str) -> None:
    """Common practice, no source."""
    blown = ask(boat, "air_way: fan; duct_diameter: 100 mm; low_area: 160 cm2")
    assert ask(boat).verdict == FAILS and blown.verdict in (FITS, TIGHT)


def test_half_an_hour_does_most_of_the_warming_of_the_air() -> None:
    """Common practice, no source: steady after about half an hour. With a fan the air nearly is;
    in still air it is half way, and the motor takes an hour or two."""

    def share(key: str, **typed: Any) -> float:
        half, settled = (
            hottest(ask(run_hours=t, protector="", **typed), key) - 28 - ZERO
            for t in ("30 min", "24 h")
        )
        return half / settled

    assert share("air", air_way="fan") > 0.65
    assert 0.4 < share("air") < 0.6
    assert share("winding") < 0.8


def test_a_trip_repeats_sooner_and_the_motor_cools_slowly() -> None:
    report = ask("catamaran", run_hours="6 h")
    first = value(report, "trip")
    winding = report.charts[1].series[0].points
    tops = [
        t
        for (_, a), (t, b), (_, c) in zip(winding, winding[1:], winding[2:], strict=False)
        if a < b > c
    ]
    assert first <= tops[0] < first + 60  # told in whole minutes, the part begun left out
    assert tops[1] - tops[0] < first
    assert report.verdict == FAILS
    trips = sum(top < 6 * 3600 - 1 for top in tops)  # the last one is the end of the run
    summary = report.charts[1].summary
    assert isinstance(summary, Line) and summary.amounts["n"] == str(trips)


def test_a_trip_is_told_of_one_state_as_if_nothing_stopped_it() -> None:
    """Figures, headline, chart, drawing and the note on life: the run that nothing stops."""
    made, free = ask("catamaran"), ask("catamaran", protector="")
    keys = ("winding", "air", "frame")
    assert [figure(made, key).value for key in keys] == [figure(free, key).value for key in keys]
    exact = [hottest(made, key) for key in keys]
    assert [value(made, key) for key in keys] == pytest.approx(exact, abs=0.5)
    assert made.charts[0].series == free.charts[0].series
    winding, air = (f"{value(made, key) - ZERO:.0f} °C" for key in ("winding", "air"))
    assert winding in all_slots(made.charts[0].summary)
    assert {winding, air} <= set(all_slots(made.headlines[-1]))
    drawn = [slots(shape.text) for shape in made.drawings[0].shapes if isinstance(shape.text, Line)]
    assert {winding, air} <= {text for one in drawn for text in one.values()}
    life = next(note for note in made.notes if "x" in note.amounts)
    assert isinstance(life.amounts["x"], Amount) and slots(life)["w"] == winding
    ratio = 2 ** ((145 + ZERO - value(made, "winding")) / 10)  # class F: 40 + 105 °C
    assert life.amounts["x"].value == pytest.approx(ratio, rel=0.02)
    # The protector's own course has a chart of its own, and never passes its temperature by much.
    protected = made.charts[1]
    assert max(y for _, y in protected.series[0].points) == pytest.approx(135 + ZERO, abs=0.5)
    assert len(free.charts) == 1


def test_a_trip_in_a_later_run_is_told_of_its_run() -> None:
    made = ask(form="runs: 4; run_hours: 1.5 h; rest_hours: 10 min; ambient_temperature: 31 °C")
    assert slots(figure(made, "trip").note)["n"] == slots(made.reason())["n"] == "2"
    assert value(made, "trip") < 1.5 * 3600


def test_what_decides_is_the_reason() -> None:
    warm, hot = ask(), ask(form="insulation: A; air_way: fan; ambient_temperature: 40 °C")
    assert (warm.decided_by, hot.decided_by) == ("air", "winding")
    air, winding = figure(warm, "air"), figure(hot, "winding")
    assert warm.reason().amounts == {"a": air.value, "l": air.limit}
    assert hot.reason().amounts["l"] == winding.limit
    assert limit(hot, "winding") == 100 + ZERO  # 40 + 60


def test_a_motor_without_a_protector_is_told_that_nothing_stops_it() -> None:
    with_one, without = (ask(air_way="fan", **more) for more in ({}, {"protector": ""}))
    assert len(without.notes) == len(with_one.notes) + 1


@pytest.mark.parametrize(("opens", "notes"), [(139, 0), (141, 1)])
def test_a_protector_that_opens_too_late_for_its_class_is_told(opens: int, notes: int) -> None:
    """NEMA MG 1 12.57, from memory: 140 °C for class A."""
    made = ask(air_way="fan", insulation="A", protector=f"{opens} °C")
    assert sum("12.57" in note.template for note in made.notes) == notes


def test_a_protector_that_must_be_pressed_stays_open() -> None:
    resets, stays = (ask("catamaran", run_hours="6 h", protector_resets=r) for r in ("yes", "no"))
    assert len(stays.charts[1].series[0].points) < len(resets.charts[1].series[0].points)
    assert stays.headlines[0].text() != resets.headlines[0].text()


@pytest.mark.parametrize(
    ("form", "warned"),
    [
        ("", True),
        ("ambient_temperature: 52 °C; air_way: fan; run_hours: 10 min", True),
        ("air_way: fan", False),
    ],
)
def test_hot_air_is_said_to_be_too_warm_for_electronics(form: str, warned: bool) -> None:
    """Breakers are made for 40 °C: IEC 60898-1."""
    assert any("IEC 60898-1" in note.template for note in ask(form=form).notes) == warned


@pytest.mark.parametrize("typed", [{}, {"ambient_temperature": "40 °C"}, {"air_way": "fan"}])
def test_what_is_told_follows_the_units(typed: dict[str, str]) -> None:
    made = ask(**typed)
    words = [*made.notes, *made.remedies, *made.headlines, made.reason()]
    told = "\n".join(line.text("us") for line in words)
    assert len(words) > 3 and re.findall(r"\d\s?(?:°C|K|mm|cm²|m³/h)\b", told) == []


@pytest.mark.parametrize(("system", "own", "other"), [("metric", "°C", "°F"), ("us", "°F", "°C")])
def test_who_hears_the_chart_hears_it_in_the_units_chosen(
    system: str, own: str, other: str
) -> None:
    heard = re.search(r"<desc[^>]*>(.*?)</desc>", svg.chart(ask().charts[0], system))
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
    heats = [hottest(ask(climate=name), "winding") for name in ("winter", "temperate", "tropics")]
    assert heats == sorted(heats)


def test_the_air_comes_from_next_door_and_not_from_outside() -> None:
    cool = ask(supply_from="outside", outside_temperature="20 °C")
    warm = ask(supply_from="engine")
    assert value(cool, "air") < value(ask(), "air") < value(warm, "air")


@pytest.mark.parametrize("left_out", ["engine_length", "engine_width", "engine_height"])
def test_an_engine_space_of_unknown_size_cannot_be_told(left_out: str) -> None:
    """It was answered as if the engine stood in the locker of 170 L."""
    made = ask(**ENGINE_SPACE | {left_out: "", "engine_power": "30 kW"})
    assert (made.verdict, made.decided_by) == (UNKNOWN, "engine-space")
    assert not made.figures and not made.remedies
    assert any(c.key == "engine-air" for c in made.cautions)


def test_of_an_engine_space_half_is_filled_unless_it_is_said() -> None:
    """It was taken for empty but for 20 L: less than its engine alone."""
    small = ENGINE_SPACE | typed("engine_length: 0.6 m; engine_width: 0.4 m; engine_height: 0.4 m")
    half = ask(**small, engine_contents="48 L")
    assert value(ask(**small), "winding") == value(half, "winding")
    assert hottest(ask(**small, engine_contents="0 L"), "winding") < hottest(half, "winding") - 1
    assert value(ask(**small, contents="90 L"), "winding") == value(half, "winding")
    full = refused("ventilation", small | {"engine_contents": "80 L"}, "ketch")
    assert list(full) == ["engine_contents"]


def test_an_engine_space_is_judged_by_its_own_size_and_not_the_lockers() -> None:
    typed = ENGINE_SPACE | {"engine_power": "30 kW"}
    made = ask(**typed)
    assert value(made, "air") == value(ask(**typed, locker_length="3 m"), "air")
    assert value(ask(**typed | {"engine_length": "4 m"}), "air") < value(made, "air") - 2
    # What lies behind a face of the engine space is never the engine space.
    walls = ask(**typed, faces=[*COOL_WALLS, {"side": "back", "behind": "engine"}])
    assert value(walls, "air") == value(ask(**typed, faces=COOL_WALLS), "air")


# ---- the boost pump, and a unit in the open ----


def test_the_boost_pump_warms_the_locker_that_it_stands_in() -> None:
    """Half of the ketch's 90 W go into the air: 5 K of the locker's air."""
    without = ask(boost_here="no")
    assert step(ask(), "P_boost").result.value == pytest.approx(45)
    assert value(ask(), "air") > value(without, "air") + 4
    assert hottest(ask(boost_power="0 W"), "air") == pytest.approx(hottest(without, "air"))
    like = ask(boost_here="no", other_heat=[{"name": "a lamp", "heat": "45 W"}])
    assert hottest(like, "winding") == pytest.approx(hottest(ask(), "winding"))


def test_a_unit_in_the_open_has_the_cabins_air_and_no_advice_on_lockers() -> None:
    made = ask(stands="open")
    work = step(made, "P_loss").result.value
    assert hottest(made, "air") == pytest.approx(28 + ZERO, abs=0.01)
    # At its rated loss its rise is the plate's, above the air it stands in.
    plate = stock.guide().shelf("boat")["ketch"].unit.motor
    rated = plate.rated_power / plate.efficiency - plate.rated_power
    rise = step(made, "dT_w").result.value
    assert rise == pytest.approx(plate.rise * work / rated, rel=0.05)  # copper cooler than rated
    assert made.verdict == FITS and not made.tables and not made.drawings
    filled_in = {name for r in made.remedies if isinstance(r, Remedy) for name in r.sets}
    assert filled_in <= {*RUN, *DAY}
    bound = stock.guide().run(CALCULATOR, {"stands": "open"}).bound
    boxes = ("locker_length", "contents", "faces", "air_way", "fan_voltage", "boost_power")
    assert [box for box in boxes if bound.asked(box)] == [] and bound.asked("stands")


@pytest.mark.parametrize(("cabin", "verdict"), [(47, FITS), (48, FITS), (49, TIGHT), (50, FAILS)])
def test_a_unit_in_the_open_is_judged_to_the_degree_that_was_typed(
    cabin: int, verdict: str
) -> None:
    made = ask(stands="open", ambient_temperature=f"{cabin} °C")
    assert (made.verdict, limit(made, "air")) == (verdict, 49 + ZERO)


def test_a_measured_curve_takes_the_place_of_two_numbers() -> None:
    usual, measured = (ask(air_way="fan", **more) for more in ({}, {"fan_curve": FALLING}))
    assert value(measured, "flow") < value(usual, "flow")


# ---- the page ----


def examples() -> list[Report]:
    """The answers of the page's own example, and of the one that its link fills in."""
    page = (Path(__file__).parents[1] / "docs" / "ventilation.md").read_text("utf-8")
    fences = re.findall(r"```(?:calculator|example-link) ventilation\n(.*?)```", page, re.DOTALL)
    found = [tomllib.loads(text) for text in fences]
    made = [
        {name: said for name, said in one.items() if name not in ("words", "in")} for one in found
    ]
    asks = CALCULATOR.asks.fields
    outcomes = [
        stock.guide().run(CALCULATOR, {}, example=citations.with_roles(one, asks)) for one in made
    ]
    assert len(outcomes) == 2
    return [outcome.report for outcome in outcomes if outcome.report]


def test_the_page_says_what_its_examples_answer() -> None:
    ketch, catamaran = examples()
    # "that is not enough"; "a small fan does what takes two large holes"; the air is what is hot
    assert (ketch.verdict, ketch.decided_by) == (FAILS, "air")
    assert len(ketch.charts) == 1
    vents, fan = remedy_for(ketch, *VENTS), remedy_for(ketch, *FAN)
    assert vents is not None and fan is not None
    area, flow = vents.sets["low_area"], fan.sets["fan_flow"]
    assert isinstance(area, Amount) and isinstance(flow, Amount)
    assert area.value > 3 * 0.006 and flow.value * 3600 < 60
    # "loses a good part of its heat through them"; "does next to nothing"
    cells = {row[0].text(): row[-1] for row in ketch.tables[0].rows if isinstance(row[0], Line)}
    heats = {name: cell.value for name, cell in cells.items() if isinstance(cell, Amount)}
    cabin = sum(heat for name, heat in heats.items() if "; cabin" in name)
    assert cabin > 0.3 * value(ketch, "heat")
    assert next(heat for name, heat in heats.items() if "engine" in name) < 10
    # "its protector opens before the run is over"
    assert state(catamaran, "trip") == FAILS


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


@pytest.mark.parametrize(("key", "over"), [("air", True), ("winding", False)])
def test_what_is_left_of_a_temperature_is_told_in_degrees(key: str, over: bool) -> None:
    """A share of it would hang on where its scale begins: 74 °C for 50 °C is 24 K over."""
    made = ask(form="locker_length: 700 mm; air_way: sealed; protector: ; boost_here: no")
    left = round(limit(made, key) - value(made, key))
    assert figure(made, key).left_over() == f"{left} K".replace("-", "−")
    shown = figure(made, key).left_over("us").replace("−", "-").removesuffix(" °F")
    assert float(shown) == pytest.approx(1.8 * left, rel=0.05)
    assert (left < 0) == over


@pytest.mark.parametrize("way", ["two", "fan"])
@pytest.mark.parametrize(
    "more",
    [{"faces": []}, {"other_heat": [{"name": "lamp", "heat": "33.3 W"}]}, {"fan_draws_out": "no"}],
)
def test_the_working_shows_no_watts_that_are_but_the_last_bit_of_a_sum(
    way: str, more: dict[str, Any]
) -> None:
    """With no faces −1.6 × 10⁻⁹ W were left for the walls, other ones on another machine."""
    told = [a for s in ask(air_way=way, **more).steps for a in (s.result, *s.where.values())]
    watts = [abs(a.value) for a in told if a.unit == "W"]
    assert watts and [w for w in watts if 0 < w < 1e-6] == []


def test_a_protector_that_the_winding_only_just_reaches_has_an_answer() -> None:
    """Coarse steps passed by its temperature, and there was no first opening to tell."""
    hairline = {
        "protector": "150.31 °C",
        "locker_volume": "361.25 L",
        "runs": "4",
        "air_way": "one",
        "rest_hours": "0.60156 h",
        "unit": "skerry-45",
        "unit_length": "363.75 mm",
    }
    assert ask(**hairline).verdict == FAILS
