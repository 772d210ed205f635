"""Power from the bank: what it gives, takes and bears, a start later in the run, and the days after."""

from __future__ import annotations

from itertools import pairwise

import pytest
from answers import (
    failures,
    figure,
    has,
    option,
    refused,
    remedy_for,
    slots,
    state,
    table,
    typed,
    value,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from test_power import ABLE, RANK, report, values, way

from calc.calculators.power.ways import time_told
from calc.frame.report import FAILS, FITS, TIGHT, UNKNOWN, Amount, Option
from calc.physics import batteries, chemistries, energy_balance
from calc.system import days, motor, on_bank
from calc.system.bank import other_bank

SAGGING = typed(
    "bank_resistance: 37 mΩ; inverter_cut_off: 17.4 V; start_factor: 4; bank_depth: 80 %; run_hours: 1 h"
)


def test_a_start_that_fails_once_the_bank_is_down_is_no_better_than_tight() -> None:
    """It starts at 95 %; at the 20 % that are allowed it sags below the cut-off."""
    made = report("ketch", **SAGGING)
    way = option(made, "inverter")
    assert all(f.state == FITS for f in way.figures)
    assert (way.verdict, way.decided_by) == (TIGHT, "late-start")
    assert slots(way.reason())["s"] == "20 %"
    q = values("ketch", **SAGGING)
    bank, power = q.whole_bank().bank, value(way, "start_voltage") * value(way, "start_amps")
    later = batteries.constant_power(bank.open_circuit_voltage(0.2), bank.resistance, power)
    assert later is not None
    assert value(way, "late_start") == pytest.approx(later.voltage)
    assert later.voltage < q.inverter_cut_off
    row = next(t for t in made.tables if t.lead).rows[made.options.index(way)]
    assert list(row[1:3]) == ["just", "yes"]


def test_a_bank_that_never_gets_so_low_is_judged_where_it_gets() -> None:
    """The alternator carries the run; the days never let the bank fall to 20 %."""
    made = report("ketch", **SAGGING, alternator_current="60 A")
    assert option(made, "alternator").verdict == FITS
    assert "late_start" not in [f.key for f in option(made, "alternator").figures]
    assert value(option(made, "week"), "late_start") > 17.4
    assert option(report("ketch", **SAGGING | {"bank_depth": "30 %"}), "inverter").verdict == FITS


def test_a_start_later_that_collapses_is_told() -> None:
    worse = typed("bank_resistance: 45 mΩ; start_factor: 4.3; inverter_cut_off: 14.5 V")
    found = way("inverter", "ketch", **SAGGING | worse)
    assert (found.verdict, found.decided_by) == (TIGHT, "late-start")
    assert set(found.reason().amounts) == {"s"}, "no volts to tell: they collapse"


def test_the_start_says_how_far_the_bank_is_charged() -> None:
    made = report("ketch", bank_charge="88 %")
    found = option(made, "inverter")
    shares = [
        slots(figure(found, key).label)["c"]
        for key in ("start_voltage", "start_amps", "late_start")
    ]
    assert shares == ["88 %", "88 %", "50 %"]
    assert slots(option(made, "week").figures[0].label)["c"] == "88 %"


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_a_bank_that_nothing_puts_back_carries_it_once(boat: str) -> None:
    made = report(boat, has_generator="no", has_alternator="no", has_array="no")
    assert (made.verdict, made.decided_by) == (TIGHT, "once-no-charge")
    assert option(made, "week").verdict == FAILS
    assert all(f.state in ABLE for f in option(made, "inverter").figures)


def test_too_little_charging_is_no_better_than_once_either() -> None:
    made = report("ketch", has_generator="no", has_alternator="no")
    assert made.verdict == TIGHT
    assert option(made, "week").verdict == FAILS
    assert option(made, "inverter").decided_by == "once-days-fail"


LITHIUM = {"bank": "", "bank_chemistry": "lifepo4", "bank_voltage": "12 V"}


@pytest.mark.parametrize(("capacity", "verdict"), [("300 Ah", UNKNOWN), ("900 Ah", TIGHT)])
def test_a_lithium_bank_whose_management_nobody_knows_never_simply_fits(
    capacity: str, verdict: str
) -> None:
    """Beyond half its ampere-hours in amperes nobody can tell; below it is tight."""
    own = LITHIUM | typed(
        "has_generator: no; start_factor: 3; run_hours: 0.5 h", bank_capacity=capacity
    )
    made = report("catamaran", **own)
    found = option(made, "inverter")
    assert found.verdict == verdict
    asked = next(a for a in (*found.unknowns, *found.reservations) if a.key == "management")
    amps = asked.amounts["s"]
    assert isinstance(amps, Amount) and amps.value == value(found, "start_amps")
    others = [option(made, key).verdict for key in ("alternator", "sun", "week")]
    assert set(others) <= {verdict, FAILS}
    assert way("inverter", "catamaran", **own, bank_bms="400 A").verdict in ABLE
    lead = way("inverter", "ketch")
    assert "management" not in [a.key for a in (*lead.unknowns, *lead.reservations)]


def test_a_management_may_let_more_through_for_seconds_than_for_hours() -> None:
    def way(**form: str) -> Option:
        return option(report("catamaran", bank_bms="130 A", **form), "inverter")

    assert state(way(bank_bms_peak=""), "start_amps") == FAILS
    assert state(way(bank_bms_peak="260 A", bank_bms_time="2 s"), "start_amps") == FITS
    short = way(bank_bms_peak="260 A", bank_bms_time="2 s", start_time="3 s")
    assert state(short, "start_amps") == FAILS
    assert "bank_bms_peak" in refused(
        "power", LITHIUM | {"bank_bms": "130 A", "bank_bms_peak": "90 A"}
    )


def test_a_lithium_bank_under_a_stated_management_bears_its_ampere_hours_in_amperes() -> None:
    """1 C from 0 to 60 °C, 0.5 C below: a 48 V module's manual. What its own sheet says rules."""

    def limit(**form: str) -> float:
        way = option(report("catamaran", **LITHIUM, bank_capacity="300 Ah", **form), "inverter")
        found = next(f.limit for f in way.figures if f.key == "bank_current")
        assert found is not None
        return found.value

    assert limit() == pytest.approx(0.5 * 0.85 * 300)
    assert limit(bank_bms="250 A") == pytest.approx(300)
    assert limit(bank_bms="250 A", bank_temperature="-5 °C") == pytest.approx(150)
    assert limit(bank_bms="250 A", bank_current="180 A") == 180
    agm = option(report("ketch", bank_current="70 A"), "inverter")
    assert next(f.limit.value for f in agm.figures if f.key == "bank_current") == 70  # type: ignore[union-attr]


def test_a_bank_that_cannot_deliver_is_told() -> None:
    small = "bank: ; bank_capacity: 20 Ah; bank_chemistry: flooded; bank_voltage: 12 V; "
    found = way("inverter", "catamaran", small + "bank_resistance: 60 mΩ; inverter_cut_off: 8 V")
    assert (found.verdict, has(found, "hours")) == (FAILS, False)
    assert state(found, found.decided_by) == FAILS


def test_nothing_is_told_finer_than_it_is_known() -> None:
    """An emptied bank holds under 1 %, seconds of water are under a minute, months are not hours."""
    made = report(bank_chemistry="agm", bank_capacity="60 Ah", bank_voltage="12 V")
    way = option(made, "week")
    assert value(way, "lowest") == 0
    assert "under 1 %" in next(f.note for f in way.figures if f.key == "lowest")
    rows = {str(row[0]): row[3] for row in next(t for t in made.tables if t.lead).rows}
    assert [hours for name, hours in rows.items() if name.startswith("Sun")] == ["none"]
    assert time_told(0.0, a_day=True) == "none"
    assert time_told(30.0, a_day=True) == "under 1 min a day"
    assert time_told(1e7) == "more than 100 h on a charge"
    minutes, hours = time_told(200.0, a_day=True), time_told(5400.0, a_day=True)
    assert not isinstance(minutes, str)
    assert not isinstance(hours, str)
    assert (minutes.text(), hours.text()) == ("3 min a day", "1.5 h a day")


@pytest.mark.parametrize(
    ("form", "key", "told"),
    [
        ("bank_voltage: 12 V", "foreign-bank", {"v": "24 V", "w": "12 V"}),
        ("inverter_cut_off: 10.5 V", "foreign-cut-off", {"c": "10.5 V", "w": "24 V"}),
    ],
)
def test_a_misfit_names_both_fields(form: str, key: str, told: dict[str, str]) -> None:
    found = way("inverter", "ketch", form)
    assert (found.verdict, found.decided_by) == (FAILS, key)
    assert slots(found.reason()) == told


CHARGED = ("with_charger", "alternator", "charger", "sun", "week")


@pytest.mark.parametrize(("degrees", "key"), [("-2 °C", "charge-cold"), ("55 °C", "charge-hot")])
def test_a_lithium_bank_too_cold_or_too_hot_is_not_charged(degrees: str, key: str) -> None:
    """LiFePO4 from 0 to 50 °C: a module manual, tables 4.3 and 4.4; others say 45 °C."""
    made = report("catamaran", bank_temperature=degrees, engine_hours="2 h", charger_hours="2 h")
    assert [key for way in CHARGED for key in failures(option(made, way))] == [key] * len(CHARGED)
    assert {option(made, way).verdict for way in CHARGED} == {FAILS}
    assert "lithium-cold" in {c.key for c in made.cautions}
    charge = next(c for c in made.charts if c.key == "charge").series[0].points
    assert all(b <= a for (_, a), (_, b) in pairwise(charge)), "nothing goes in"


FLOODED = typed("bank: ; bank_chemistry: flooded; bank_capacity: 800 Ah; bank_voltage: 24 V")


def test_a_lead_acid_bank_is_not_emptied_until_it_freezes() -> None:
    """Acid of a third of a charge is slush at −20 °C; a full one freezes near −59 °C (the table)."""
    cold = FLOODED | typed("bank_temperature: -20 °C; bank_depth: 80 %; has_generator: no")
    made = report("ketch", **cold)
    found = option(made, "inverter")
    assert (made.verdict, found.decided_by, state(found, "frost")) == (FAILS, "frost", FAILS)
    assert "lead-frost" in {c.key for c in made.cautions}
    depth = next(slots(r)["d"] for r in found.remedies if "d" in r.amounts)
    assert way("inverter", "ketch", **cold | {"bank_depth": depth}).verdict in ABLE
    assert not option(made, "alternator").failures, "−20 °C itself is not below −20 °C"
    assert not has(way("inverter", "ketch", **FLOODED, bank_depth="80 %"), "frost")
    assert not has(way("inverter", "catamaran", bank_temperature="-20 °C"), "frost")


@settings(max_examples=50, deadline=None)
@given(charge=st.floats(0, 1))
def test_what_must_stay_in_a_bank_is_where_it_freezes(charge: float) -> None:
    freezes = batteries.freezing_point(chemistries.FLOODED, charge)
    assert freezes is not None
    held = batteries.least_charge_in_frost(chemistries.FLOODED, freezes)
    assert held == pytest.approx(charge, abs=1e-6)
    assert batteries.freezing_point(chemistries.LIFEPO4, charge) is None


def test_a_bank_that_must_not_be_charged_is_not_charged_and_not_recommended_plainly() -> None:
    """A bank that would do is named with the cold at which it is never charged."""
    cold, warm = (way("inverter", "catamaran", bank_temperature=t) for t in ("-5 °C", "20 °C"))
    assert not way("with_charger", "catamaran", bank_temperature="-5 °C").figures
    banks = [[slots(r) for r in way.remedies if "b" in r.amounts] for way in (cold, warm)]
    assert [{bank.get("at") for bank in one} for one in banks] == [{"−5 °C"}, {None}]
    listed = [
        table(report("catamaran", bank_temperature=t), "banks").rows[-1][2]
        for t in ("-5 °C", "20 °C")
    ]
    assert listed[0] != listed[1] and not isinstance(listed[0], Amount)


def test_an_inverter_in_air_hotter_than_it_bears_switches_off() -> None:
    made = report("ketch", ambient_temperature="55 °C")
    at = [o.key for o in made.options].index("inverter")
    alone = table(made, "sources").rows[at]
    assert alone[2] == "no" and alone[6] == figure(made.options[at], "inverter_air").reason()
    ways = ("inverter", "alternator", "charger", "sun", "week")
    assert [state(option(made, key), "inverter_air") for key in ways] == [FAILS] * 5
    mild = way("inverter", "ketch", ambient_temperature="38 °C")
    assert state(mild, "inverter_air") == FITS


def test_a_lead_acid_bank_may_be_charged_in_the_frost() -> None:
    made = report("ketch", bank_temperature="-2 °C", run_hours="0.5 h")
    assert all(option(made, key).verdict in ABLE for key in ("alternator", "charger"))


def test_a_full_lead_acid_bank_takes_little_of_the_chargers_current() -> None:
    """At 95 % an AGM takes a twentieth of its capacity: 5 A per 100 Ah (the chemistry's curve)."""
    q, made = values("ketch"), report("ketch")
    bank = q.whole_bank().bank
    drawn = (q.house_day + q.boost_power) / bank.open_circuit_voltage(q.bank_charge)
    taken = 0.05 * bank.capacity / 3600 + drawn
    assert value(option(made, "with_charger"), "charger") == pytest.approx(taken, rel=1e-6)
    low = option(report("ketch", bank_charge="60 %", run_hours="0.3 h"), "with_charger")
    assert value(low, "charger") == q.charger_current


@pytest.mark.parametrize("chemistry", sorted(chemistries.CHEMISTRIES))
def test_the_time_to_charge_is_the_integral_of_what_the_bank_takes(chemistry: str) -> None:
    """Against scipy's adaptive quadrature, up to 90 %, where the curve is still far from zero."""
    bank = batteries.bank(chemistries.CHEMISTRIES[chemistry], 400 * 3600, 24)
    current = 60.0

    def slowness(charge: float) -> float:
        return bank.capacity / min(current, batteries.acceptance(bank, charge))

    exact = quad(slowness, 0.3, 0.9, points=[0.63, 0.75, 0.77, 0.85])[0]
    exact /= bank.chemistry.charge_efficiency.value
    assert batteries.charging_time(bank, 0.3, 0.9, current) == pytest.approx(exact, rel=0.01)


def test_a_day_that_repeats_is_counted_as_if_it_were_stepped_again() -> None:
    """A bank that the sun fills each day: seven days are one day and six like the second."""
    bank = batteries.bank(chemistries.LIFEPO4, 200 * 3600, 12)
    flows = energy_balance.Flows(
        solar=energy_balance.window(800, 8 * 3600, 8 * 3600),
        house=(60.0,) * 288,
        water=energy_balance.window(900, 10 * 3600, 3600),
    )
    two, seven = (energy_balance.simulate(bank, flows, days, 0.7) for days in (2, 7))
    one = energy_balance.simulate(bank, flows, 1, 0.7)
    assert len(seven.charge) == 7 * 288 + 1
    assert seven.charge[-1] == pytest.approx(two.charge[-1], abs=1e-5)
    for name in ("solar", "house", "water", "curtailed", "charging_loss", "water_time"):
        first, both = getattr(one, name), getattr(two, name)
        assert getattr(seven, name) == pytest.approx(first + 6 * (both - first), rel=1e-4)


@pytest.mark.parametrize("key", ["alternator", "charger"])
@pytest.mark.parametrize(
    ("boat", "form"),
    [
        ("ketch", {}),
        ("ketch", {"bank_capacity": "60 Ah"}),
        ("ketch", {"run_hours": "5 h"}),
        ("catamaran", {}),
        ("catamaran", {"bank_capacity": "220 Ah", "run_hours": "5 h"}),
    ],
)
def test_more_output_is_never_judged_worse(key: str, boat: str, form: dict[str, str]) -> None:
    """From far short of the load to well past it; the generator is large enough throughout."""
    large = {"generator_power": "8 kW"}
    field = "alternator_current" if key == "alternator" else "charger_current"
    need = value(option(report(boat, **form, **large | {field: "300 A"}), key), "carried")
    shares = (0.3, 0.6, 0.8, 0.9, 0.95, 0.98, 0.999, 1.0, 1.001, 1.02, 1.05, 1.09, 1.11, 1.3)
    ranks = [
        RANK[option(report(boat, **form, **large | {field: f"{share * need} A"}), key).verdict]
        for share in shares
    ]
    assert all(b <= a for a, b in pairwise(ranks)), ranks
    assert ranks[-1] == RANK[FITS]


def test_an_alternator_that_the_bank_cannot_help_out_is_tight_where_it_only_just_carries_it() -> (
    None
):
    """The ketch's bank lends what may lack; a twentieth of it would not last the five hours."""

    def verdict(share: float, **form: str) -> str:
        need = value(option(report("ketch", **form), "alternator"), "carried")
        amps = f"{share * need} A"
        return option(report("ketch", **form, alternator_current=amps), "alternator").verdict

    assert verdict(1.02) == FITS
    little = {"bank_capacity": "25 Ah", "run_hours": "5 h", "inverter_cut_off": "17 V"}
    assert verdict(1.02, **little) == TIGHT
    assert verdict(1.2, **little) == FITS


def test_an_alternator_of_another_voltage_says_why_it_gives_no_hours() -> None:
    made = report("catamaran", alternator="belt-24-70")
    found = option(made, "alternator")
    assert (found.verdict, failures(found)) == (FAILS, ["foreign-bank"])
    assert slots(found.reason())["v"] == "28.2 V"
    at = [o.key for o in made.options].index("alternator")
    other = table(report("catamaran"), "sources").rows[at][3]
    assert table(made, "sources").rows[at][3] != other
    assert slots(option(made, "week").remedies[0]) == {"v": "28.2 V", "w": "12 V"}, "left out"


def test_age_and_cold_shorten_the_run() -> None:
    def hours(**form: str) -> float:
        return value(option(report("ketch", **form), "inverter"), "hours")

    assert hours(bank_health="70 %") < hours()
    assert hours(bank_temperature="5 °C") < hours()


def test_the_stated_exponent_is_used_for_the_bank_that_is_there() -> None:
    assert values(bank_exponent="1.3").whole_bank().bank.exponent == 1.3
    assert (
        other_bank(values(bank_exponent="1.3").whole_bank(), "lifepo4", 1e6).bank.exponent == 1.05
    )


def test_cold_takes_volts_as_well_as_ampere_hours() -> None:
    """Lithium four times at −20 °C, lead half as much again at −18 °C: general notes."""
    for boat, factor in (("catamaran", 4.0), ("ketch", 1.5)):
        warm, cold = (
            values(boat).whole_bank().bank,
            values(boat, bank_temperature="-20 °C").whole_bank().bank,
        )
        assert cold.resistance == pytest.approx(factor * warm.resistance)
        volts = [
            value(option(report(boat, bank_temperature=t), "inverter"), "start_voltage")
            for t in ("25 °C", "-20 °C")
        ]
        assert volts[1] < volts[0]
    stated = values("ketch", bank_resistance="6 mΩ", bank_temperature="-18 °C").whole_bank().bank
    assert stated.resistance == pytest.approx(0.009)


def test_a_day_that_a_little_more_sun_would_save_does_not_fail() -> None:
    """The sky is known to a tenth: just short is tight, far short fails, well above fits."""
    base = report("catamaran")
    panels = remedy_for(option(base, "sun"), "array_power")
    need = panels and panels.amounts["p"]
    assert isinstance(need, Amount)
    states = [
        option(report("catamaran", array_power=f"{share * need.value} W"), "sun").verdict
        for share in (0.85, 0.97, 1.05, 1.2)
    ]
    assert states == [FAILS, TIGHT, TIGHT, FITS]
    clean, hazy = (
        sum(made.sun.profile(made.air))
        for made in (values("ketch", turbidity=t).aboard() for t in ("3", "6"))
        if made.sun
    )
    assert hazy < 0.9 * clean


def test_a_bank_that_nothing_charges_is_told_so_and_not_in_shares_of_energy() -> None:
    made = report("ketch", has_generator="no", has_alternator="no", has_array="no")
    way = option(made, "week")
    assert way.decided_by == "no-charge"
    assert "dark" not in [f.key for f in way.figures]


@settings(max_examples=25, deadline=None)
@given(
    capacity=st.floats(20, 900),
    factor=st.floats(1, 4),
    chemistry=st.sampled_from(sorted(chemistries.CHEMISTRIES)),
)
def test_a_larger_bank_never_gives_shorter_hours(
    capacity: float, factor: float, chemistry: str
) -> None:
    """The 24 V bank; where even the start fails there are no hours to compare."""

    def hours(size: float) -> float:
        bank = {"bank": "", "bank_chemistry": chemistry, "bank_voltage": "24 V"}
        found = way("inverter", "ketch", **bank, bank_capacity=f"{size} Ah")
        return value(found, "hours") if has(found, "hours") else 0.0

    assert hours(capacity * factor) >= hours(capacity) * (1 - 1e-9)


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
    q = values(
        boat,
        run_hours=f"{hours} h",
        array_power=f"{panels} W",
        latitude=f"{latitude}°",
        engine_hours=f"{engine} h",
        bank_capacity=f"{capacity} Ah",
    )
    aboard = q.aboard()
    water = motor.water(aboard.machine)
    assert water is not None and aboard.sun is not None
    house = on_bank.house(aboard, water)
    flows = days.flows(aboard, house, aboard.sun.profile(aboard.air))
    outcome = energy_balance.simulate(house.bank, flows, 7, house.charge, house.reserve)
    scale = outcome.energy_in + outcome.energy_out
    assert abs(outcome.residual) <= 1e-3 * scale


@pytest.mark.parametrize("chemistry", ["flooded", "agm", "gel"])
def test_90_amperes_is_too_much_for_an_ordinary_lead_acid_bank(chemistry: str) -> None:
    """Some 220 Ah of lead-acid at 12 V, against 400 Ah of lithium. Common practice, no source."""
    bank = "bank: ; bank_capacity: 220 Ah; bank_voltage: 12 V; inverter_cut_off: 10.5 V"
    lead = way("inverter", "catamaran", bank, bank_chemistry=chemistry)
    assert state(lead, "bank_current") == FAILS
    assert state(way("inverter", "catamaran"), "bank_current") == FITS


def test_some_solar_and_a_lead_acid_bank_alone_dont_carry_it() -> None:
    """400 W of panels, 220 Ah of lead-acid, a tropical day. Common practice, no source."""
    bank = "bank: ; bank_chemistry: flooded; bank_capacity: 220 Ah; bank_voltage: 12 V"
    made = report("catamaran", bank + "; array_power: 400 W; engine_hours: 0 h; charger_hours: 0 h")
    assert state(option(made, "sun"), "sun_litres") == FAILS
    assert option(made, "sun").verdict == option(made, "week").verdict == FAILS


@settings(max_examples=25, deadline=None)
@given(panels=st.floats(50, 6000), factor=st.floats(1, 3))
def test_more_panels_never_carry_less_water(panels: float, factor: float) -> None:
    def litres(size: float) -> float:
        return value(option(report("ketch", array_power=f"{size} W"), "sun"), "sun_litres")

    assert litres(panels * factor) >= litres(panels) * (1 - 1e-9)
