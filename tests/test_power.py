"""The power calculator: what the trade knows, the laws it keeps, and what it refuses plainly."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import calculators, equipment, units
from calc.calculators import power
from calc.inputs import Values
from calc.load import load_of
from calc.physics import batteries, energy_balance
from calc.report import FAILS, FITS, TIGHT, UNKNOWN, Option, Report
from calc.sources import array_profile, bank_of

ABLE = (FITS, TIGHT)
RANK = {FITS: 0, TIGHT: 1, UNKNOWN: 2, FAILS: 3}
POWER = calculators.get("power")


def report(boat: str = "", **typed: str) -> Report:
    outcome = calculators.run(POWER, typed, example={"boat": boat} if boat else {})
    assert outcome.report is not None, [str(f) for f in outcome.bound.faults]
    return outcome.report


def values(boat: str = "", **typed: str) -> Values:
    return calculators.run(POWER, typed, example={"boat": boat} if boat else {}).bound.as_values()


def faults(**typed: str) -> dict[str, str]:
    outcome = calculators.run(POWER, typed)
    assert outcome.report is None
    return {fault.field: fault.sentence for fault in outcome.bound.faults}


def option(made: Report, key: str) -> Option:
    return next(o for o in made.options if o.key == key)


def figure(holder: Report | Option, key: str) -> float:
    return next(f.value.value for f in holder.figures if f.key == key)


def state(holder: Report | Option, key: str) -> str:
    return next(f.state for f in holder.figures if f.key == key)


def words(holder: Report | Option) -> str:
    return " ".join(r.text() for r in holder.remedies)


# ---- what the trade knows (common practice, no source) ----

BIG_SET = {"unit": "skerry-70-60", "ac_voltage": "115 V"}


def test_a_1_hp_set_runs_near_9_to_10_amperes_and_1_1_kilowatts() -> None:
    """Nominal 1 hp, 115 V, on such a pump. Common practice, no source."""
    made = report("catamaran")
    assert 9 <= figure(made, "current") <= 10
    assert figure(made, "input") == pytest.approx(1100, rel=0.06)


def test_it_pulls_about_90_amperes_from_12_volts() -> None:
    """Through an inverter, house and boost pump left out. Common practice, no source."""
    made = report("catamaran", house_day="0 W", boost_power="0 W")
    assert figure(option(made, "inverter"), "bank_current") == pytest.approx(90, rel=0.06)


def test_a_1_5_hp_set_runs_near_13_amperes() -> None:
    """Nominal 1.5 hp, dual voltage, connected for 115 V. Common practice, no source."""
    made = report("catamaran", **BIG_SET)
    assert figure(made, "current") == pytest.approx(13, rel=0.04)


@pytest.mark.parametrize("way", ["generator", "inverter"])
def test_a_2_kilowatt_class_source_starts_the_soft_1_hp_set_and_not_the_direct_1_5_hp_one(
    way: str,
) -> None:
    """Common practice, no source. (The direct start is what stops it, not the running load.)"""
    assert option(report("catamaran"), way).verdict in ABLE
    big = option(report("catamaran", **BIG_SET), way)
    assert big.verdict == FAILS
    assert any(f.state == FAILS for f in big.figures if f.key.startswith("start"))
    assert state(big, "apparent") in ABLE


def test_90_amperes_is_too_much_for_an_ordinary_lead_acid_bank() -> None:
    """Some 220 Ah of lead-acid at 12 V, against 400 Ah of lithium. Common practice, no source."""
    for chemistry in ("flooded", "agm", "gel"):
        made = report("catamaran", bank="", bank_chemistry=chemistry, bank_capacity="220 Ah",
                      bank_voltage="12 V", inverter_cut_off="10.5 V")  # fmt: skip
        assert state(option(made, "inverter"), "bank_current") == FAILS, chemistry
    assert state(option(report("catamaran"), "inverter"), "bank_current") == FITS


def test_some_solar_and_a_lead_acid_bank_alone_dont_carry_it() -> None:
    """400 W of panels, 220 Ah of lead-acid, a tropical day. Common practice, no source."""
    made = report(
        "catamaran", bank="", bank_chemistry="flooded", bank_capacity="220 Ah", bank_voltage="12 V",
        array_power="400 W", engine_hours="0 h", charger_hours="0 h",
    )  # fmt: skip
    sun = option(made, "sun")
    assert sun.verdict == FAILS
    assert state(sun, "sun_litres") == FAILS
    assert option(made, "week").verdict == FAILS


@pytest.mark.parametrize("key", sorted(equipment.shelf("unit")))
def test_no_demo_motor_is_asked_for_more_than_its_plate(key: str) -> None:
    """As a surveyor would look: a tenth to spare on power and amperes, the plate true to itself."""
    unit = equipment.shelf("unit")[key]
    load, plate = load_of(unit), unit.motor
    assert load.shaft_power <= 0.9 * plate.rated_power * plate.service_factor
    assert load.at_work.current <= 0.9 * plate.rated_current * plate.service_factor
    implied = plate.rated_power / (plate.voltage * plate.efficiency * plate.power_factor)
    assert plate.rated_current == pytest.approx(implied, rel=0.02)


@pytest.mark.parametrize("boat", ["", "ketch", "catamaran"])
def test_a_demo_boat_can_make_water(boat: str) -> None:
    made = report(boat)
    assert made.verdict == FITS
    assert option(made, "inverter").verdict == FITS


# ---- laws ----


@cache
def verdict_of(way: str, boat: str, **typed: str) -> str:
    return option(report(boat, **typed), way).verdict


@settings(max_examples=25, deadline=None)
@given(
    capacity=st.floats(20, 900),
    factor=st.floats(1, 4),
    chemistry=st.sampled_from(sorted(batteries.CHEMISTRIES)),
)
def test_a_larger_bank_never_gives_shorter_hours(
    capacity: float, factor: float, chemistry: str
) -> None:
    """The 24 V bank; where even the start fails there are no hours to compare."""

    def hours(size: float) -> float:
        way = option(report("ketch", bank="", bank_chemistry=chemistry, bank_voltage="24 V",
                            bank_capacity=f"{size} Ah"), "inverter")  # fmt: skip
        found = [f.value.value for f in way.figures if f.key == "hours"]
        return found[0] if found else 0.0

    assert hours(capacity * factor) >= hours(capacity) * (1 - 1e-9)


@settings(max_examples=25, deadline=None)
@given(rating=st.floats(400, 6000), factor=st.floats(1, 3))
def test_a_larger_generator_is_never_judged_worse(rating: float, factor: float) -> None:
    def verdict(size: float) -> str:
        return verdict_of("generator", "ketch", generator="", generator_power=f"{size} W",
                          generator_peak=f"{1.2 * size} W")  # fmt: skip

    assert RANK[verdict(rating * factor)] <= RANK[verdict(rating)]


@settings(max_examples=25, deadline=None)
@given(surge=st.floats(3000, 12000), factor=st.floats(1, 3))
def test_a_larger_surge_is_never_judged_worse(surge: float, factor: float) -> None:
    def verdict(size: float) -> str:
        return verdict_of("inverter", "ketch", inverter_surge=f"{size} VA")

    assert RANK[verdict(surge * factor)] <= RANK[verdict(surge)]


@settings(max_examples=25, deadline=None)
@given(panels=st.floats(50, 6000), factor=st.floats(1, 3))
def test_more_panels_never_carry_less_water(panels: float, factor: float) -> None:
    def litres(size: float) -> float:
        return figure(option(report("ketch", array_power=f"{size} W"), "sun"), "sun_litres")

    assert litres(panels * factor) >= litres(panels) * (1 - 1e-9)


@settings(max_examples=20, deadline=None)
@given(
    boat=st.sampled_from(["ketch", "catamaran"]),
    hours=st.floats(0.2, 8),
    panels=st.floats(50, 4000),
    latitude=st.floats(-60, 60),
    engine=st.floats(0, 4),
    capacity=st.floats(100, 1500),
)
def test_a_weeks_energy_balances_to_a_thousandth(
    boat: str, hours: float, panels: float, latitude: float, engine: float, capacity: float
) -> None:
    """In = out + losses + change of charge, with the flows that the calculator itself makes."""
    q = values(boat, run_hours=f"{hours} h", array_power=f"{panels} W", latitude=f"{latitude}°",
               engine_hours=f"{engine} h", bank_capacity=f"{capacity} Ah")  # fmt: skip
    house = _house(q)
    flows = power._flows(q, house, array_profile(q))
    outcome = energy_balance.simulate(house.bank, flows, 7, q.bank_charge, house.reserve)
    scale = outcome.energy_in + outcome.energy_out
    assert abs(outcome.residual) <= 1e-3 * scale


def _house(q: Values) -> power.House:
    water = power._water(q, Report("", ""))
    assert water is not None
    return power._house(q, water)


@settings(max_examples=30, deadline=None)
@given(
    boat=st.sampled_from(["ketch", "catamaran"]),
    chemistry=st.sampled_from(sorted(batteries.CHEMISTRIES)),
    hours=st.floats(0.3, 6),
)
def test_the_smallest_bank_named_fits_and_a_twentieth_less_does_not(
    boat: str, chemistry: str, hours: float
) -> None:
    q = values(boat, run_hours=f"{hours} h", bank_chemistry=chemistry, bank_bms="5000 A")
    house = _house(q)
    water = power._water(q, Report("", ""))
    assert water is not None
    start = power._start_power(q, water, house)
    found = power._smallest_bank(q, chemistry, house.drawn, start)
    assert found is not None
    for share, able in ((1.001, True), (0.95, False)):
        size = units.typed_text(found[0] * share, "Ah", digits=9) + " Ah"
        way = option(report(boat, run_hours=f"{hours} h", bank_chemistry=chemistry,
                            bank_capacity=size, bank_bms="5000 A"), "inverter")  # fmt: skip
        keys = ("start_voltage", "bank_current", "hours")
        fits = not way.failures and all(state(way, key) in ABLE for key in keys)
        assert fits == able, (found, share)


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_smallest_generator_named_does_and_less_does_not(boat: str) -> None:
    q = values(boat)
    water = power._water(q, Report("", ""))
    assert water is not None
    way = option(report(boat), "generator")
    named = next(r for r in way.remedies if "smallest" in r.template)
    amounts = {key: a.value for key, a in named.amounts.items() if not isinstance(a, str)}
    for share, able in ((1.001, True), (0.95, False)):
        again = report(boat, generator="", generator_power=f"{amounts['p'] * share} W",
                       generator_peak=f"{amounts['s'] * share} W", fuel=q.fuel,
                       generator_power_factor=f"{q.generator_power_factor * 100} %",
                       generator_reactance=f"{q.generator_reactance * 100} %")  # fmt: skip
        assert (option(again, "generator").verdict in ABLE) == able


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_largest_other_load_named_is_carried_and_more_is_not(boat: str) -> None:
    way = option(report(boat), "generator")
    named = next(r for r in way.remedies if "Other loads" in r.template).amounts["p"]
    assert not isinstance(named, str)
    for share, able in ((0.999, True), (1.05, False)):
        again = report(boat, other_load=f"{named.value * share} W")
        assert (option(again, "generator").verdict in ABLE) == able


def test_the_panels_named_carry_the_litres_wanted() -> None:
    way = option(report("ketch"), "sun")
    named = way.remedies[0].amounts["p"]
    assert not isinstance(named, str)
    again = report("ketch", array_power=f"{named.value * 1.0001} W")
    assert state(option(again, "sun"), "sun_litres") in ABLE


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_table_of_sources_is_the_options(boat: str) -> None:
    """One glance and the report never disagree: same ways, same verdicts, same reasons."""
    made = report(boat)
    table = next(t for t in made.tables if t.key == "sources")
    assert table.lead
    assert [row[0] for row in table.rows] == [o.name for o in made.options]
    assert list(table.states) == [o.verdict for o in made.options]
    for row, way in zip(table.rows, made.options, strict=True):
        bad = "no" in (row[1], row[2])
        assert bad == (way.verdict == FAILS)


def test_no_source_is_praised_for_a_motor_that_does_not_fit() -> None:
    made = report("catamaran", ac_frequency="50 Hz", inverter="", generator="")
    table = next(t for t in made.tables if t.key == "sources")
    assert any(o.verdict in ABLE for o in made.options)
    assert set(table.states) == {FAILS}
    assert all(row[2] not in ("yes", "just") for row in table.rows)


# ---- the wrong mains ----


def test_a_60_hertz_motor_on_50_hertz_slows_and_overfluxes() -> None:
    """Flow by 5/6, V/Hz up by a fifth: 9b and 9i of the reference. Only its maker can allow it."""
    made = report("catamaran", ac_frequency="50 Hz", inverter="", generator="")
    assert figure(made, "flux") == pytest.approx(0.2)
    assert figure(made, "feed") == pytest.approx(6.9 / 60000 * 5 / 6, rel=0.02)
    assert made.verdict == FAILS
    assert "95.8 V" in words(made)


def test_at_its_own_volts_per_hertz_nobody_can_tell_but_the_maker() -> None:
    made = report("catamaran", ac_frequency="50 Hz", ac_voltage="96 V", pressure="40 bar",
                  inverter="", generator="")  # fmt: skip
    assert made.verdict == UNKNOWN
    assert "maker" in made.reason().text()


def test_a_50_hertz_motor_on_60_hertz_is_overloaded() -> None:
    made = report("ketch", ac_frequency="60 Hz", inverter="", generator="")
    assert made.verdict == FAILS
    assert figure(made, "shaft") > 1.15 * figure(report("ketch"), "shaft")


def test_low_voltage_costs_torque_by_its_square() -> None:
    """0.90 V gives 0.81 of the torque (9e of the reference), straight on the line."""
    full = option(report("ketch", start="direct", inverter=""), "inverter")
    low = option(report("ketch", start="direct", ac_voltage="207 V", inverter=""), "inverter")
    ratio = figure(low, "start_torque") / figure(full, "start_torque")
    assert ratio == pytest.approx(0.81, rel=0.02)


def test_a_source_of_other_mains_says_so() -> None:
    way = option(report("catamaran", generator="hob-4"), "generator")
    assert way.verdict == FAILS
    assert "230 V" in way.reason().text()


def test_a_soft_start_cannot_lift_a_loaded_pump() -> None:
    """Torque falls with the square of the current let through; pressure asks four times as much."""
    way = option(report("ketch", start_loaded="yes"), "inverter")
    assert state(way, "start_torque") == FAILS


def test_a_half_loaded_motor_draws_more_than_half_its_amperes() -> None:
    full, half = report("ketch"), report("ketch", pressure="27.5 bar")
    assert figure(half, "current") > 0.5 * figure(full, "current")


# ---- batteries ----


def test_a_bank_that_cannot_deliver_is_told() -> None:
    made = report("catamaran", bank="", bank_capacity="20 Ah", bank_chemistry="flooded",
                  bank_voltage="12 V", bank_resistance="60 mΩ", inverter_cut_off="5 V")  # fmt: skip
    way = option(made, "inverter")
    assert way.verdict == FAILS
    assert "collapses" in way.reason().text()


def test_an_inverter_of_another_bank_is_told() -> None:
    way = option(report("ketch", bank_voltage="12 V"), "inverter")
    assert way.verdict == FAILS
    assert "24 V" in way.reason().text()


def test_an_alternator_of_another_voltage_is_told() -> None:
    made = report("catamaran", alternator="belt-24-70")
    assert option(made, "alternator").verdict == FAILS


def test_age_and_cold_shorten_the_run() -> None:
    def hours(**typed: str) -> float:
        return figure(option(report("ketch", **typed), "inverter"), "hours")

    assert hours(bank_health="70 %") < hours()
    assert hours(bank_temperature="5 °C") < hours()


def test_the_stated_exponent_is_used_for_the_bank_that_is_there() -> None:
    assert bank_of(values(bank_exponent="1.3")).exponent == 1.3
    assert bank_of(values(bank_exponent="1.3"), "lifepo4").exponent == 1.05


# ---- bad input, named plainly ----


@pytest.mark.parametrize(
    ("typed", "field", "part"),
    [
        ({"bank_voltage": "0 V"}, "bank_voltage", "more than 0 V"),
        ({"ac_voltage": "0 V"}, "ac_voltage", "at least 90 V"),
        ({"bank_capacity": "0 Ah"}, "bank_capacity", "more than 0 Ah"),
        ({"bank_exponent": "0.9"}, "bank_exponent", "at least 1"),
        ({"code_letter": "I", "start": "direct"}, "code_letter", "there is no motor code letter"),
        ({"latitude": ""}, "latitude", "needs a value"),
        ({"latitude": "95°"}, "latitude", "at most 90"),
        ({"alternator": ""}, "alternator_current", "needs a value"),
        ({"inverter_surge": "500 VA"}, "inverter_surge", "below the continuous rating"),
        ({"bank_charge": "40 %"}, "bank_charge", "charged further"),
        ({"inverter_idle": "500 W"}, "inverter_idle", "too large"),
        ({"day": "2026-02-30"}, "day", "not a date"),
        ({"days": "8"}, "days", "at most 7"),
    ],
)
def test_bad_input_is_named_at_its_field(typed: dict[str, Any], field: str, part: str) -> None:
    found = faults(**typed)
    assert field in found, found
    assert part in found[field]


def test_without_any_source_nothing_is_promised() -> None:
    made = report(has_inverter="no", has_generator="no")
    assert made.verdict == UNKNOWN
