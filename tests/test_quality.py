"""Good water: by EPA's table, WHO's bands and balances of mass, and by laws."""

from __future__ import annotations

from typing import Any

import pytest
from answers import answered, state, value
from hypothesis import given, settings
from hypothesis import strategies as st
from legal import legal_forms

from calc import stock
from calc.frame.report import FAILS, FITS, TIGHT, UNKNOWN, Amount, Report
from calc.physics import conductivity, disinfection, drinking_water
from calc.system import tank_water as system
from calc.system.tank_water import TankWater

MG_MIN_L = 0.06  # kg s/m³
DOSED = {"tank_dosed": "yes"}


def run(boat: str = "ketch", **typed: Any) -> Any:
    return stock.guide().run(stock.guide().get("quality"), typed, example={"boat": boat})


def ask(boat: str = "ketch", **typed: Any) -> Report:
    return answered("quality", typed, boat)


def water(boat: str = "ketch", **typed: Any) -> TankWater:
    outcome = run(boat, **typed)
    assert outcome.bound.faults == []
    made: TankWater = stock.guide().get("quality").asks.of(outcome.bound.values).water()  # type: ignore[attr-defined]
    return made


# ---- the meter ----


@pytest.mark.parametrize(
    ("meter", "ppm"), [("half", 300.0), ("two_thirds", 384.0), ("seven_tenths", 420.0)]
)
def test_meters_of_any_factor_show_the_same_water(meter: str, ppm: float) -> None:
    """600 µS/cm are 291 mg/L of sea salt, whatever a meter calls them."""
    shown = water(product_meter=meter, product_ppm=f"{ppm} mg/L")
    assert shown.reading.salt == pytest.approx(0.2906, rel=1e-3)
    assert shown.reading.conductivity == pytest.approx(0.06)


def test_a_meter_of_table_salt_is_near_one_of_a_half() -> None:
    """Its factor is 0.49 at 342 ppm (700 µS/cm), by the solution that such meters are set in."""
    shown = water(product_meter="nacl", product_ppm="342 mg/L").reading
    assert 0.0342 / shown.conductivity == pytest.approx(0.4886, rel=0.01)


def test_a_reading_as_it_is_in_cold_water_counts_for_more() -> None:
    cold = water(product_conductivity="480 µS/cm", product_meter_at="10 °C").reading
    warm = water(product_conductivity="480 µS/cm").reading
    assert cold.salt > 1.3 * warm.salt


@given(st.floats(0.01, 2.0))
@settings(max_examples=40, deadline=None)
def test_a_meter_gives_back_the_salt_that_it_was_held_in(salt: float) -> None:
    shown = conductivity.meter_reading(salt)
    assert conductivity.salt_by_meter(shown, 298.15) == pytest.approx(salt, rel=1e-6)


# ---- salt, taste, leak ----


@pytest.mark.parametrize(
    ("reading", "verdict", "key"),
    [(480, FITS, "salt"), (700, FITS, "leak"), (900, TIGHT, "leak"), (1500, FAILS, "leak")],
)
def test_a_reading_far_above_what_the_unit_makes_is_a_leak(
    reading: float, verdict: str, key: str
) -> None:
    """The ketch's unit makes 228 mg/L in its sea of 18 °C."""
    made = ask(product_conductivity=f"{reading} µS/cm")
    assert state(made, key) == verdict
    assert made.verdict == verdict


def test_what_is_expected_is_what_water_tells() -> None:
    other = stock.guide().run(stock.guide().get("water"), {}, example={"boat": "ketch"}).report
    assert other is not None
    assert value(ask(), "expected") == value(other, "salt")


def test_a_sea_that_gives_no_water_is_held_against_nothing() -> None:
    made = ask(pressure="20 bar")
    keys = {f.key for f in made.figures}
    assert {"leak", "expected", "waste", "leaking"}.isdisjoint(keys)


def test_the_share_of_sea_water_mixes_back_to_the_reading() -> None:
    found = water(product_conductivity="1500 µS/cm")
    assert found.expected is not None
    sea = found.making.sea.concentration
    mixed = drinking_water.blend(1 - found.leaking, found.expected, found.leaking, sea)
    assert mixed == pytest.approx(found.reading.salt)


@pytest.mark.parametrize(
    ("edge", "band"), [(0.3, 1), (0.6, 2), (0.9, 3), (1.2, 4), (0.2999, 0), (1.1999, 3)]
)
def test_a_band_of_taste_begins_at_its_edge(edge: float, band: int) -> None:
    assert drinking_water.taste(edge) == band


@pytest.mark.parametrize(("aim", "verdict"), [("500 mg/L", FITS), ("200 mg/L", FAILS)])
def test_the_salt_is_held_to_what_is_wanted(aim: str, verdict: str) -> None:
    assert state(ask(salt_aim=aim), "salt") == verdict


# ---- the first water ----


def test_the_hose_is_rinsed_three_times() -> None:
    found = water(product_bore="8 mm", product_length="5 m")
    assert found.hose == pytest.approx(0.2513e-3, rel=1e-3)
    assert found.waste == pytest.approx(3 * found.hose / found.making.made.product)
    assert water(product_length="10 m").waste == pytest.approx(2 * (found.waste or 0.0))


# ---- bleach ----


def test_bleach_for_a_tank() -> None:
    """5 % w/v that has not faded: 4 mL for 200 L to 1 mg/L."""
    fresh = water(
        **DOSED, tank_volume="200 L", bleach_strength="5 %", bleach_age="0 months",
        chlorine_dose="1 mg/L",
    ).dose  # fmt: skip
    assert fresh is not None
    assert fresh.poured == pytest.approx(4e-6)
    assert fresh.if_fresh == pytest.approx(1e-3)


def test_hypochlorite_by_weight_is_counted_as_chlorine_by_volume() -> None:
    """5.25 % by weight are some 54 g/L: less for each gram, but bleach is denser than water."""
    by_weight = system.bleach(system.BY_WEIGHT, 0.0525, 0.0, 300.0)
    assert by_weight.strength == pytest.approx(54.0, rel=0.01)


@given(st.floats(10, 200), st.floats(0, 3e7), st.floats(0, 3e7), st.floats(275, 320))
@settings(max_examples=80, deadline=None)
def test_bleach_only_fades(strength: float, age: float, more: float, warm: float) -> None:
    left = disinfection.bleach_left(strength, age, warm)
    assert 0 < disinfection.bleach_left(strength, age + more, warm) <= left <= strength
    assert disinfection.bleach_left(strength, age, warm + 5) <= left


@given(st.floats(1e-6, 1e-3), st.floats(1, 200), st.floats(0.01, 20), st.floats(1.0, 10.0))
@settings(max_examples=80, deadline=None)
def test_more_bleach_never_leaves_less(
    bleach: float, strength: float, tank: float, times: float
) -> None:
    made = disinfection.chlorine_from(bleach, strength, tank)
    assert disinfection.chlorine_from(times * bleach, strength, tank) >= made
    assert disinfection.bleach_for(tank, made, strength) == pytest.approx(bleach)


@given(st.floats(0.5, 19.5), st.floats(0, 0.5), st.sampled_from(["volume", "weight"]))
@settings(max_examples=40, deadline=None)
def test_stronger_bleach_never_takes_more_of_it(share: float, more: float, label: str) -> None:
    """While it is fresh: with age a strong one may fade below a weak one."""
    took = [
        value(
            ask(**DOSED, bleach_is=label, bleach_age="0 months", bleach_strength=f"{s} %"), "bleach"
        )
        for s in (share, share + more)
    ]
    assert took[1] <= took[0]


@pytest.mark.parametrize(
    ("typed", "key", "verdict"),
    [
        ({"chlorine_dose": "4.5 mg/L"}, "dose", FAILS),
        ({"chlorine_dose": "3 mg/L"}, "dose", FITS),
        ({"chlorine_left": "0.3 mg/L"}, "left", FAILS),
        ({"chlorine_left": "0.52 mg/L"}, "left", TIGHT),
        ({"chlorine_left": "0.8 mg/L"}, "left", FITS),
    ],
)
def test_chlorine_is_neither_too_much_nor_too_little(
    typed: dict[str, str], key: str, verdict: str
) -> None:
    made = ask(**DOSED, **typed)
    assert (state(made, key), made.verdict) == (verdict, verdict)


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({}, 0.6e-3),
        ({"chlorine_left": "0.3 mg/L"}, 0.5e-3),
        ({"chlorine_dose": "4.5 mg/L"}, None),
        ({"has_carbon": "no"}, None),
        ({"tank_dosed": "no"}, None),
        ({"product_conductivity": "2600 µS/cm"}, None),
    ],
)
def test_nobody_is_told_to_pour_what_is_too_much_or_ruins_a_membrane(
    typed: dict[str, str], told: float | None
) -> None:
    """The headline names bleach only where it may be poured and the water is fit to be drunk after
    it, and WHO's half a milligram at least."""
    slots = [line.amounts for line in ask(**typed).headlines if "b" in line.amounts]
    tests = [slot.value for one in slots if isinstance(slot := one["c"], Amount)]
    assert tests == ([] if told is None else [pytest.approx(told)])


@pytest.mark.parametrize(
    ("typed", "fails"),
    [
        ({"has_carbon": "no"}, True),
        ({"has_carbon": "no", "flush_from": "can"}, False),
        ({"has_carbon": "no", "tank_dosed": "no"}, False),
        ({"has_carbon": "yes"}, False),
    ],
)
def test_dosed_water_never_flushes_the_membrane_without_carbon(
    typed: dict[str, str], fails: bool
) -> None:
    made = ask(**(DOSED | typed))
    assert [one.key for one in made.failures] == (["dosed-flush"] if fails else [])


@pytest.mark.parametrize(
    ("typed", "fails"),
    [
        ({"tank_dosed": "yes", "flush_chlorine": "no"}, True),
        ({"tank_dosed": "no", "flush_chlorine": "no"}, False),
        ({"tank_dosed": "yes", "flush_chlorine": "yes"}, False),
        ({"tank_dosed": "yes", "flush_chlorine": "no", "flush_from": "can"}, False),
    ],
)
def test_the_flush_knows_that_the_tank_is_dosed(typed: dict[str, str], fails: bool) -> None:
    flush = stock.guide().get("flush")
    made = stock.guide().run(flush, typed, example={"boat": "ketch"}).report
    assert made is not None
    assert ("dosed" in [one.key for one in made.failures]) == fails


# ---- its time ----

TABLE = [
    (0.4, 0.5, 6.0, 137), (3.0, 0.5, 9.0, 552), (2.2, 0.5, 7.5, 297), (0.8, 5, 6.5, 122),
    (2.0, 10, 8.0, 182), (1.0, 10, 7.5, 134), (1.2, 15, 7.5, 92), (2.6, 15, 9.0, 188),
    (1.0, 20, 7.0, 56), (2.4, 20, 8.5, 115), (0.4, 25, 8.0, 50), (1.4, 25, 6.5, 33),
]  # fmt: skip


@pytest.mark.parametrize(("chlorine", "warm", "ph", "ct"), TABLE)
def test_cells_of_the_epas_table(chlorine: float, warm: float, ph: float, ct: int) -> None:
    """EPA 815-R-20-003 (2020), table B-1, as a public code of others has it too."""
    found = disinfection.cysts_ct(chlorine * 1e-3, warm + 273.15, ph)
    assert found / MG_MIN_L == pytest.approx(ct)


@pytest.mark.parametrize(
    ("between", "cell"),
    [
        ((1.2, 19.9, 7.5), (1.2, 15, 7.5)),  # the colder row
        ((1.2, 15, 7.1), (1.2, 15, 7.5)),  # the higher pH
        ((1.1, 15, 7.5), (1.2, 15, 7.5)),  # the row of more chlorine
        ((0.1, 15, 5.0), (0.4, 15, 6.0)),
        ((0.1, 44, 6.0), (0.4, 25, 6.0)),
    ],
)
def test_between_two_cells_the_longer_one_counts(
    between: tuple[float, float, float], cell: tuple[float, float, float]
) -> None:
    made = [disinfection.cysts_ct(c * 1e-3, t + 273.15, ph) for c, t, ph in (between, cell)]
    assert made[0] == made[1]


CHLORINE, WARM, PH = st.floats(0.05, 3.0), st.floats(0.5, 40), st.floats(4, 9)


@given(CHLORINE, WARM, PH, st.floats(0, 1))
@settings(max_examples=200, deadline=None)
def test_colder_and_less_acid_water_never_takes_less_time(
    chlorine: float, warm: float, ph: float, share: float
) -> None:
    left, here = chlorine * 1e-3, warm + 273.15
    found = disinfection.cysts_ct(left, here, ph)
    colder = 273.65 + share * (here - 273.65)
    assert disinfection.cysts_ct(left, colder, ph) >= found
    assert disinfection.viruses_ct(colder) >= disinfection.viruses_ct(here)
    assert disinfection.cysts_ct(left, here, ph + share * (9 - ph)) >= found


@given(WARM, WARM, st.floats(0.1, 1.0), st.floats(4.5, 8.5))
@settings(max_examples=40, deadline=None)
def test_colder_tanks_never_wait_less(one: float, two: float, left: float, ph: float) -> None:
    low, high = sorted((one, two))
    typed = {**DOSED, "chlorine_left": f"{left} mg/L", "tank_ph": str(ph)}
    cold, warm = (ask(**typed, tank_temperature=f"{t} °C") for t in (low, high))
    assert value(cold, "wait") >= value(warm, "wait")
    assert value(cold, "wait") >= max(value(cold, "cysts"), 1800.0)


@pytest.mark.parametrize("bad", [(3.1e-3, 290.0, 7.0), (1e-3, 273.0, 7.0), (1e-3, 290.0, 9.1)])
@pytest.mark.parametrize("rule", [disinfection.cysts_ct, disinfection.cysts_ct_by_regression])
def test_beyond_the_table_nothing_is_made_up(rule: Any, bad: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="must"):
        rule(*bad)


def test_more_chlorine_than_the_table_knows_waits_as_long_as_its_last_row() -> None:
    dose = water(**DOSED, chlorine_dose="4 mg/L", chlorine_left="3.9 mg/L").dose
    assert dose is not None
    assert dose.counted == pytest.approx(3e-3)


# ---- calcite and boron ----


def test_calcite_and_boron_of_the_ketch() -> None:
    made = ask(tank_volume="400 L", hardness_aim="100 mg/L", boron_passage="25 %")
    assert value(made, "calcite") == pytest.approx(0.040)
    assert value(made, "carbon_dioxide") == pytest.approx(43.97e-3, rel=1e-3)
    assert value(made, "boron") == pytest.approx(1.125e-3, rel=0.01)


@pytest.mark.parametrize("typed", [{}, DOSED])
def test_boron_is_told_and_never_decides(typed: dict[str, str]) -> None:
    made = ask(boron_passage="100 %", **typed)
    assert value(made, "boron") > drinking_water.BORON_GUIDELINE
    assert made.verdict == FITS


def test_no_dose_is_told_of_a_bleach_that_may_have_any_strength() -> None:
    """15 % after eight months in the heat: fresh, as much of it would be twice what one may drink."""
    old = {**DOSED, "bleach_strength": "15 %", "bleach_age": "8 months"}
    made = ask(**old)
    assert made.verdict == UNKNOWN and [one.key for one in made.unknowns] == ["faded"]
    assert all(f.key != "bleach" for f in made.figures)
    assert all("mL" not in line.text() for line in made.headlines)
    fresh = ask(**{**old, "bleach_age": "0 months"})
    assert fresh.verdict == FITS and value(fresh, "bleach") > 0


@pytest.mark.parametrize(
    ("dosed", "left", "more"), [("4 mg/L", "0.3 mg/L", 3.7), ("1 mg/L", "0.1 mg/L", 1.0)]
)
def test_a_second_dose_never_goes_beyond_what_one_may_drink(
    dosed: str, left: str, more: float
) -> None:
    made = ask(**DOSED, chlorine_dose=dosed, chlorine_left=left)
    told = [r.amounts["c"].shown() for r in made.remedies if r.amounts.keys() == {"c"}]
    assert [amount * 1e3 for amount in told] == [pytest.approx(more, rel=1e-3)]


# ---- what can't be ----


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("bleach_strength", "60 %", "20 %"),
        ("tank_ph", "15", "9"),
        ("tank_volume", "0 L", "more than 0 L"),
        ("chlorine_left", "2 mg/L", "Free chlorine to dose"),
        ("tank_temperature", "-3 °C", "0.5 °C"),
        ("bleach_age", "-1 months", "0 months"),
        ("product_conductivity", "53 mS/cm", "5000 µS/cm"),
    ],
)
def test_what_is_not_allowed_is_a_sentence(field: str, typed: str, words: str) -> None:
    outcome = run(**DOSED, **{field: typed})
    assert outcome.report is None
    (fault,) = outcome.bound.faults
    assert fault.field == field
    assert typed in str(fault) and words in str(fault)


@given(legal_forms("quality"))
@settings(max_examples=60, deadline=None)
def test_any_water_is_judged_by_its_own_figures(typed: dict[str, Any]) -> None:
    outcome = run(**typed)
    if outcome.report is None:
        return
    keys = {f.key for f in outcome.report.figures}
    dosed = typed.get("tank_dosed", "yes") == "yes"  # the ketch's is
    assert {"salt", "calcite", "boron"} <= keys
    assert ({"wait", "left", "dose"} <= keys) == dosed
    faded = "faded" in {one.key for one in outcome.report.unknowns}
    assert ("bleach" in keys) == (dosed and not faded)
