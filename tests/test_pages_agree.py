"""Two pages agree about one boat: what its motor draws and loses, and whether it turns the pump."""

from __future__ import annotations

from typing import Any

import pytest
from answers import answered, failures, unknowns
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import stock
from calc.frame.report import FAILS, Report, Step
from calc.frame.units import parse
from calc.system import motor

UNITS = sorted(stock.guide().shelf("unit"))
KINDS = ("start_run", "capacitor_start", "permanent", "split", "unknown")
MOTORS_OWN = {"pressure", "shaft", "current", "flux", "voltage"}
CABLE = {"ac_size": "10 mm²", "ac_run": "8 m"}
ON_A_SET = {"has_inverter": "no", "has_generator": "yes"}
# Boats that are none of the demo's.
BOATS: list[dict[str, str]] = [
    {"motor_kind": "split", "start": "direct"},
    {"motor_kind": "unknown", "start": "direct"},
    {"motor_kind": "unknown", "start": "direct", "start_loaded": "yes"},
    {"motor_kind": "unknown", "start": "direct", "start_torque": "30 %"},
    {"motor_kind": "unknown", "start": "direct", "start_torque": "200 %"},
    {"motor_kind": "permanent", "start": "direct"},
    {"motor_kind": "permanent", "start": "direct", "start_loaded": "yes"},
    {"motor_kind": "permanent", "start": "soft", "start_factor": "3 ×"},
    {"motor_kind": "capacitor_start", "start": "direct", **ON_A_SET, "generator_power": "2 kW"},
    {"motor_kind": "unknown", "start": "direct", **ON_A_SET, "generator_power": "3 kW"},
    {"motor_kind": "split", "start": "direct", **ON_A_SET, "generator_power": "1500 W"},
    {"motor_kind": "unknown", "start": "soft", "soft_allowed": "yes", **ON_A_SET},
    {"motor_kind": "start_run", "start": "direct", "start_torque": "60 %", "has_inverter": "yes"},
]


def ask(name: str, boat: str = "", **form: Any) -> Report:
    return answered(name, form, boat)


def step(made: Report, start: str) -> Step:
    return next(s for s in made.steps if s.formula.startswith(start))


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("boat", BOATS, ids=str)
def test_wiring_takes_the_motor_as_power_does(boat: dict[str, str], unit: str) -> None:
    power = ask("power", unit=unit, **CABLE, **boat)
    wiring = ask("wiring", unit=unit, **CABLE, **boat)
    current = next(f.value.value for f in power.figures if f.key == "current")
    cable = next(s for s in wiring.steps if "cable to the motor, running" in str(s.label))
    assert cable.where["I"].value == pytest.approx(current)

    key = "generator" if boat.get("has_inverter") == "no" else "inverter"
    way = next(o for o in power.options if o.key == key)
    torque = next(f for f in way.figures if f.key == "start_torque")
    assert ("motor-kind" in unknowns(wiring)) == ("motor-kind" in unknowns(way))
    refused = {"start-torque", "start-behind-cable"} & set(failures(wiring))
    assert bool(refused) == (torque.state == FAILS)


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("boat", BOATS, ids=str)
def test_the_locker_takes_the_motor_as_power_does(boat: dict[str, str], unit: str) -> None:
    kind = {"motor_kind": boat["motor_kind"]}
    power = ask("power", unit=unit, **boat)
    locker = ask("ventilation", unit=unit, **kind)
    drawn = step(power, "P = P_s + L_r")
    lost = drawn.result.value - drawn.where["P_s"].value
    assert step(locker, "P_hot").where["P_loss"].value == pytest.approx(lost)


def test_a_motor_of_another_kind_is_overloaded_on_both_pages_or_on_neither() -> None:
    """At few volts and a full load the current decides, and the kind decides the current."""
    states = set()
    for unit in UNITS:
        volts = stock.guide().shelf("unit")[unit].motor.voltage
        for kind in KINDS:
            for bar in range(52, 80, 3):
                typed = {"unit": unit, "motor_kind": kind, "pressure": f"{bar} bar"}
                typed["ac_voltage"] = f"{0.91 * volts} V"
                pages = [ask(name, **typed) for name in ("power", "ventilation")]
                power, locker = (
                    {
                        f.key
                        for f in made.figures
                        if f.state == FAILS and f.key in ("shaft", "current")
                    }
                    for made in pages
                )
                assert power == locker, typed
                states.add((kind, "current" in power, "shaft" in power))
    assert {k for k, current, shaft in states if current and not shaft}


@given(st.sampled_from(UNITS), st.floats(30, 79), st.floats(4, 12), st.sampled_from(KINDS))
@settings(max_examples=25, deadline=None, derandomize=True)
def test_a_pressure_and_a_flow_are_the_boats(unit: str, bar: float, flow: float, kind: str) -> None:
    """Typed once on the sheet, they are obeyed by every page that judges the motor."""
    sheet = {"unit": unit, "pressure": f"{bar:.1f} bar", "flow": f"{flow:.2f} L/min"}
    sheet["motor_kind"] = kind
    found = []
    for name in ("power", "wiring", "ventilation"):
        made = stock.guide().run(stock.guide().get(name), {}, sheet=sheet).report
        assert made is not None
        # pages other than Power tell of the motor only what fails
        found.append({f.key for f in made.figures if f.state == FAILS} & MOTORS_OWN)
    assert found[0] == found[1] == found[2], sheet


@pytest.mark.parametrize("length", ["400 mm", "700 mm", "1 m"])
@pytest.mark.parametrize("locker", ["600 mm", "800 mm", "1200 mm"])
def test_a_unit_of_these_sizes_goes_into_the_locker_on_both_pages_or_on_neither(
    length: str, locker: str
) -> None:
    """Cooling took the record's sizes, whatever was typed."""
    typed = {"unit_length": length, "locker_length": locker}
    refused = [
        [
            (fault.field, fault.sentence)
            for fault in stock.guide().run(stock.guide().get(name), typed, example={}).bound.faults
        ]
        for name in ("ventilation", "noise")
    ]
    assert refused[0] == refused[1]
    assert bool(refused[0]) == (parse(length, "mm") > parse(locker, "mm"))


def test_a_sea_by_name_is_the_same_on_every_page() -> None:
    sheet = {"unit": "skerry-45", "waters": "red-sea-aug"}
    seas = stock.guide().shelf("waters")["red-sea-aug"]
    for name in stock.guide().names():
        made = stock.guide().get(name)
        bound = stock.guide().run(made, {}, sheet=sheet).bound
        for field, told in (("sea_temperature", "temperature"), ("sea_salinity", "salinity")):
            if field in made.asks.fields:
                assert bound.values[field] == getattr(seas, told), (name, field)


BORNE = {"salt", "over", "membrane_flux", "brine", "fed", "warmth"}


@given(
    st.sampled_from(UNITS),
    st.floats(25, 69),
    st.floats(4, 14),
    st.floats(-2, 36),
    st.floats(3, 45),
    st.sampled_from([45, 50, 55, 60]),
)
@settings(max_examples=40, deadline=None, derandomize=True)
def test_what_ails_the_water_is_told_by_power_just_where_water_fails_it(
    unit: str, bar: float, flow: float, warm: float, salt: float, hertz: float
) -> None:
    sheet = {"unit": unit, "pressure": f"{bar:.1f} bar", "flow": f"{flow:.2f} L/min"}
    sheet |= {"sea_temperature": f"{warm:.1f} °C", "sea_salinity": f"{salt:.1f} g/kg"}
    sheet |= {"ac_frequency": f"{hertz} Hz"}
    guide = stock.guide()
    water = guide.run(guide.get("water"), sheet, example={}).report
    power = guide.run(guide.get("power"), sheet, example={}).report
    if water is None or power is None:  # papers, or a pressure, that no membrane keeps
        return
    fails = {f.key for f in water.figures if f.state == FAILS} & BORNE
    told = any("Water from this sea" in line.template for line in power.unknowns)
    if any(f.key == "input" for f in power.figures):  # else the motor may stall
        assert told == bool(fails), (sheet, fails)


A_STATE = {
    "sea_temperature": st.floats(-2, 36).map(lambda warm: f"{warm:.1f} °C"),
    "sea_salinity": st.floats(0, 45).map(lambda salt: f"{salt:.1f} g/kg"),
    "pressure": st.floats(15, 69).map(lambda bar: f"{bar:.1f} bar"),
    "element_age": st.floats(0, 10).map(lambda years: f"{years:.1f} years"),
    "ac_frequency": st.sampled_from(["45 Hz", "50 Hz", "52 Hz", "60 Hz", "65 Hz"]),
    "back_pressure": st.sampled_from(["0 bar", "0.4 bar"]),
}
DEMOS = st.sampled_from(["ketch", "catamaran"])


@given(DEMOS, st.fixed_dictionaries({}, optional=A_STATE), st.booleans())
@settings(max_examples=40, deadline=None, derandomize=True)
def test_the_hours_of_upkeep_and_spares_are_those_of_waters_litres(
    boat: str, sheet: dict[str, str], measured: bool
) -> None:
    """In any sea, at any pressure, age and hertz: litres wanted over litres made."""
    if measured:
        sheet |= {"has_measured": "yes", "measured_flow": "38 L/h"}
    guide = stock.guide()
    water = guide.run(guide.get("water"), {}, sheet=sheet, example={"boat": boat}).report
    assert water is not None
    made = {figure.key: figure.value.value for figure in water.figures}
    for name in ("upkeep", "spares"):
        typed = {"use_by": "litres", "litres": "40 L/day", "today": "2026-05-01"}
        page = guide.run(guide.get(name), typed, sheet=sheet, example={"boat": boat})
        if "product" not in made:
            assert [fault.field for fault in page.bound.faults] == ["pressure"]
            continue
        if made["product"] * 86400 < 0.040:
            assert [fault.field for fault in page.bound.faults] == ["litres"]
            continue
        assert page.report is not None, (sheet, [str(fault) for fault in page.bound.faults])
        daily = step(page.report, "t_day")
        assert daily.where["Q"].value == made["product"]
        assert daily.result.value == pytest.approx(0.040 / made["product"])
        assert ("Water from this sea" in str([n.template for n in page.report.notes])) == any(
            figure.state == FAILS for figure in water.figures if figure.key in BORNE
        )


@given(DEMOS, st.fixed_dictionaries({}, optional=A_STATE))
@settings(max_examples=20, deadline=None, derandomize=True)
def test_a_litre_costs_by_the_litres_of_water(boat: str, sheet: dict[str, str]) -> None:
    """By hours too; where there is hardly any water nobody can tell."""
    guide = stock.guide()
    day = {"today": "2026-05-01"}
    upkeep = guide.run(guide.get("upkeep"), day, sheet=sheet, example={"boat": boat}).report
    water = guide.run(guide.get("water"), {}, sheet=sheet, example={"boat": boat}).report
    assert water is not None and upkeep is not None
    made = {figure.key: figure.value.value for figure in water.figures}
    spent = {figure.key: figure.value.value for figure in upkeep.figures}
    assert ("cost_litre" in spent) == ("product" in made)
    if "product" in made:
        assert spent["product"] == made["product"]
        year = spent["hours_year"] * made["product"]
        assert spent["cost_litre"] == pytest.approx(spent["cost"] / year)


# ---- the boost pump is one thing ----


def figures(made: Any) -> dict[str, float]:
    """All figures of a report and its options."""
    return {
        f"{part.key if part is not made else ''}.{figure.key}": figure.value.value
        for part in (made, *made.options)
        for figure in part.figures
    }


@pytest.mark.parametrize("supply", ["dc", "ac"])
@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_a_boat_without_a_boost_pump_pays_for_none(boat: str, supply: str) -> None:
    """Law: to say that there is none is to have one that draws nothing."""
    guide = stock.guide()
    for name in ("power", "water", "ventilation"):
        page, example = guide.get(name), {"boat": boat}
        with_one, none, idle = (
            figures(guide.run(page, typed | {"boost_supply": supply}, example=example).report)
            if "boost_supply" in page.asks.fields
            else figures(guide.run(page, typed, example=example).report)
            for typed in ({}, {"has_boost": "no"}, {"boost_power": "0 W"})
        )
        assert none == idle
        assert none != with_one, name


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_without_a_boost_pump_nothing_of_one_falls_due_or_is_carried(boat: str) -> None:
    guide = stock.guide()
    of_boost = {
        kind: {row.name for row in guide.shelf(kind).values() if row.part_of == "boost"}
        for kind in ("task", "part")
    }
    assert len(of_boost["task"]) == 1 and len(of_boost["part"]) == 2
    for name, keys, names in (
        ("upkeep", ("due", "later"), of_boost["task"]),
        ("spares", ("box", "left"), of_boost["part"]),
    ):
        for there in ("yes", "no"):
            typed = {"has_boost": there, "today": "2026-05-01"}
            made = guide.run(guide.get(name), typed, example={"boat": boat}).report
            assert made is not None
            told = {str(row[0]) for table in made.tables if table.key in keys for row in table.rows}
            assert names & told == (names if there == "yes" else set()), told
            left_out = [note for note in made.notes if set(note.amounts) == {"names"}]
            assert any(one in note.text() for note in left_out for one in names) == (there == "no")
    parts = [{"name": "Shaft seal", "task": "Boost pump wear parts"}, {"name": "Gauge"}]
    typed = {"has_boost": "no", "today": "2026-05-01", "look_at": ""}
    made = guide.run(guide.get("spares"), {**typed, "parts": parts}, example={"boat": boat})
    assert made.report is not None and "Shaft seal" not in str(made.report.tables)
    alone = guide.run(guide.get("spares"), {**typed, "parts": parts[:1]}, example={"boat": boat})
    assert [fault.field for fault in alone.bound.faults] == ["parts"]


@pytest.mark.parametrize("name", ["power", "water", "ventilation"])
def test_a_boost_pumps_record_says_what_it_draws(name: str) -> None:
    """It goes before the unit's, which stands where the pump's record doesn't say; typed first."""
    guide, unit = stock.guide(), {"unit": "skerry-70"}
    records = guide.shelf("boostpump")
    assert records["sett-2"].power and records["linnet"].power is None
    for typed, watts, own in (
        ({}, 110, True),
        ({"boost_pump": "sett-2"}, 130, True),
        ({"boost_pump": "linnet"}, 110, True),
        ({"boost_pump": "sett-2", "boost_power": "75 W"}, 75, True),
    ):
        bound = guide.run(guide.get(name), sheet=unit | typed, own_boat=True).bound
        assert bound.values["boost_power"] == watts
        assert bound.own("boost_power") == own
    of_example = guide.run(guide.get(name), {}, example={"boat": "ketch"}).bound
    assert of_example.values["boost_power"] == 90 and not of_example.own("boost_power")
    # a pump of hers on a unit of the example's
    mixed = guide.run(guide.get(name), {"boost_pump": "sett-2"}, example={"boat": "ketch"}).bound
    assert mixed.values["boost_power"] == 130 and mixed.own("boost_power")


def _boost_in(made: Report | None) -> set[float]:
    """What the working takes for the boost pump [W]."""
    assert made is not None
    return {step.where["P_boost"].value for step in made.steps if "P_boost" in step.where}


@given(st.sampled_from(UNITS), st.booleans())
@settings(max_examples=8, deadline=None, derandomize=True)
def test_on_her_own_boat_nothing_is_counted_that_she_said_is_not_there(
    unit: str, pump: bool
) -> None:
    """Unsaid, or not known, it is as her unit's record says."""
    hers = {"unit": unit, "has_boost": "no", "has_generator": "yes", "generator_power": "4 kW"}
    hers |= {"sea_temperature": "20 °C", "sea_salinity": "36 g/kg", "started": "2024-05-01"}
    hers |= {"has_inverter": "no"} | ({"boost_pump": "sett-2"} if pump else {})
    guide = stock.guide()
    for name in ("power", "water"):
        made = guide.run(guide.get(name), sheet=hers, own_boat=True).report
        assert made is not None
        assert _boost_in(made) == {0.0}
        said = {field: text for field, text in hers.items() if field != "has_boost"}
        unsure, unsaid = (
            guide.run(guide.get(name), sheet=one, own_boat=True).report
            for one in ({**said, "has_boost": "don't know"}, said)
        )
        assert _boost_in(unsure) == _boost_in(unsaid) != {0.0}
    tasks = guide.run(guide.get("upkeep"), sheet=hers, today="2026-05-01", own_boat=True).report
    assert tasks is not None
    names = {row.name for row in guide.shelf("task").values() if row.part_of == "boost"}
    assert not any(str(row[0]) in names for table in tasks.tables for row in table.rows)


A_DRIVE = {
    "pressure": st.floats(25, 69).map(lambda bar: f"{bar:.1f} bar"),
    "flow": st.floats(5, 9).map(lambda flow: f"{flow:.2f} L/min"),
    "ac_frequency": st.sampled_from(["45 Hz", "50 Hz", "53 Hz", "60 Hz"]),
    "motor_kind": st.sampled_from(KINDS),
    "sea_temperature": st.floats(-2, 36).map(lambda warm: f"{warm:.1f} °C"),
}


@given(st.sampled_from(UNITS), st.floats(0.85, 1.15), st.fixed_dictionaries({}, optional=A_DRIVE))
@settings(max_examples=40, deadline=None, derandomize=True)
def test_power_and_wiring_have_one_motor_at_work_in_any_state(
    unit: str, share: float, sheet: dict[str, str]
) -> None:
    """Its current, its input and its speed follow pressure, feed, volts, hertz and kind alike."""
    volts = stock.guide().shelf("unit")[unit].motor.voltage
    sheet = {"unit": unit, "ac_voltage": f"{share * volts:.1f} V", **sheet, **CABLE}
    guide = stock.guide()
    power, wiring = (
        guide.run(guide.get(name), sheet=sheet, example={}) for name in ("power", "wiring")
    )
    if power.report is None or wiring.report is None:
        assert {fault.field for fault in power.bound.faults} <= {"pressure", "product_flow"}
        return
    at_work = motor.water(power.bound.as_values().machine())  # type: ignore[attr-defined]
    wired = motor.water(wiring.bound.as_values().wired().machine)  # type: ignore[attr-defined]
    assert (at_work is None) == (wired is None)
    if at_work is None or wired is None:
        return
    assert at_work.load == wired.load and at_work.rush == wired.rush
    told = {figure.key: figure.value.value for figure in power.report.figures}
    assert told["input"] == pytest.approx(wired.load.at_work.input_power)
    cables = [s for s in wiring.report.steps if "cable to the motor, running" in str(s.label)]
    assert bool(cables) != at_work.overfluxed
    for one in cables:
        assert one.where["I"].value == told["current"]


def test_the_cables_current_follows_the_pressure_and_the_hertz() -> None:
    """A soft sea at less pressure asks less of the cable; the pump's torque is the pressure's."""

    def amps(**typed: str) -> float:
        made = ask("wiring", unit="skerry-45", **CABLE, **typed)
        cable = next(s for s in made.steps if "cable to the motor, running" in str(s.label))
        return cable.where["I"].value

    assert amps(pressure="30 bar") < 0.85 * amps(pressure="55 bar") < 0.85 * amps(pressure="62 bar")
    assert amps(ac_frequency="52 Hz") != amps()


@given(
    st.sampled_from(UNITS),
    st.floats(5, 34),
    st.floats(30, 42),
    st.floats(45, 62),
    st.sampled_from([45, 50, 60]),
    st.sampled_from([45, 50, 60]),
)
@settings(max_examples=30, deadline=None, derandomize=True)
def test_at_a_held_pressure_fresh_water_follows_the_hertz_far_less_than_the_feed(
    unit: str, warm: float, salt: float, bar: float, one: int, other: int
) -> None:
    """Law: by no more than three tenths of the feed's share, and the same way; Power tells both."""
    sheet = {"unit": unit, "pressure": f"{bar:.1f} bar"}
    sheet |= {"sea_temperature": f"{warm:.1f} °C", "sea_salinity": f"{salt:.1f} g/kg"}
    guide, fed, made = stock.guide(), [], []
    for hertz in (one, other):
        state = {**sheet, "ac_frequency": f"{hertz} Hz"}
        water = guide.run(guide.get("water"), state, example={}).report
        power = guide.run(guide.get("power"), state, example={}).report
        assert water is not None and power is not None
        told = {figure.key: figure.value.value for figure in water.figures}
        if "product" not in told:
            return
        fed.append(told["fed"])
        made.append(told["product"])
        said = {figure.key: figure.value.value for figure in power.figures}
        assert said.get("feed", told["fed"]) == told["fed"]
        assert said.get("product", told["product"]) == pytest.approx(told["product"])
    more, water_more = fed[1] / fed[0] - 1, made[1] / made[0] - 1
    assert 0 <= water_more / more <= 0.3 if more else water_more == 0


def test_a_sea_by_its_conductivity_is_the_same_on_every_page() -> None:
    """Typed once: Water, Power, Feed, Upkeep and Spares answer as for the salt that it is."""
    guide, boat = stock.guide(), {"boat": "ketch"}
    by_meter = {"has_conductivity": "yes", "sea_conductivity": "50 mS/cm"}
    by_salt, other = {"sea_salinity": "32.73318 PSU"}, {"sea_salinity": "20 PSU"}
    more = {"use_by": "litres", "today": "2026-05-01"}
    for name in guide.names():
        made = guide.get(name)
        if "sea_conductivity" not in made.asks.fields:
            assert "sea_salinity" not in made.asks.fields
            continue
        typed = {key: text for key, text in more.items() if key in made.asks.fields}
        told, like, unlike = (
            guide.run(made, typed, sheet=sheet, example=boat).report
            for sheet in (by_meter, by_salt, other)
        )
        numbers, same = figures(told), figures(like)
        numbers.pop(".sea_salt", None)
        assert numbers == pytest.approx(same, rel=2e-4), name
        assert figures(unlike) != same, name


# ---- one inverter on all pages ----

ON_AN_INVERTER = [
    name
    for name in stock.guide().names()
    if "inverter_power" in stock.guide().get(name).asks.fields
]
FOREIGN = {"foreign-bank", "foreign-cut-off", "foreign-mains"}
# What Wiring calls by one key each Power holds as figures: the first of them is the reason.
TOO_SMALL = (
    ("inverter_air", "inverter-air"),
    ("apparent", "inverter-run"),
    ("start_surge", "inverter-start"),
)


def said(*texts: str) -> st.SearchStrategy[str]:
    return st.sampled_from(["", *texts])


INVERTERS = st.fixed_dictionaries(
    {
        "unit": st.sampled_from(UNITS),
        "inverter": said(*sorted(stock.guide().shelf("inverter"))),
        "inverter_power": st.sampled_from(["600 VA", "1000 VA", "1400 VA", "3000 VA"]),
        "inverter_surge": said("900 VA", "2000 VA", "4000 VA", "7000 VA"),
        "inverter_efficiency": said("60 %", "93 %", "99 %"),
        "inverter_idle": said("0 W", "80 W", "400 W"),
        "inverter_surge_time": said("0.1 s", "10 s"),
        "inverter_cut_off": said("10.5 V", "21 V", "42 V"),
        "bank_voltage": st.sampled_from(["12 V", "24 V", "48 V"]),
        "ac_voltage": said("115 V", "230 V"),
        "ac_frequency": said("50 Hz", "60 Hz"),
        "ambient_temperature": said("20 °C", "55 °C", "66 °C"),
        "start": said("soft", "direct"),
    }
)


def test_two_pages_at_least_ask_for_the_inverter() -> None:
    assert {"power", "wiring"} <= set(ON_AN_INVERTER)


@pytest.mark.parametrize("name", sorted(set(ON_AN_INVERTER) - {"power"}))
@given(drawn=INVERTERS)
@settings(max_examples=150, deadline=None)
def test_one_sheet_is_refused_for_one_reason_about_its_inverter(
    name: str, drawn: dict[str, str]
) -> None:
    """And where both pages answer, they find the same amiss with it: whose it is, whether it runs
    and starts the pump, whether it bears the heat."""
    sheet = {key: text for key, text in drawn.items() if text}
    sheet |= {"has_inverter": "yes", "has_boost": "no", "has_generator": "no", "run_hours": "1 h"}
    sheet |= {"bank_chemistry": "agm", "bank_capacity": "400 Ah", "wiring_rules": "us"}
    sheet |= {"dc_run": "2 m", "ac_run": "4 m"}
    guide = stock.guide()
    power, other = (guide.run(guide.get(n), sheet=sheet, own_boat=True) for n in ("power", name))
    refusals = [
        {
            (f.field, f.sentence)
            for f in made.bound.faults
            if f.field.startswith(("inverter", "bank"))
        }
        for made in (power, other)
    ]
    assert refusals[0] == refusals[1], sheet
    if power.report is None or other.report is None:
        return
    way = next(one for one in power.report.options if one.key == "inverter")
    assert FOREIGN & set(failures(way)) == FOREIGN & set(failures(other.report)), sheet
    failing = {figure.key for figure in way.figures if figure.state == FAILS}
    reason = next((key for figure, key in TOO_SMALL if figure in failing), None)
    found = {key for _, key in TOO_SMALL} & set(failures(other.report))
    assert found == ({reason} if reason else set()), sheet


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("kind", KINDS)
def test_power_and_wiring_take_the_same_from_the_bank(unit: str, kind: str) -> None:
    """The pump alone: an inverter loses by its current, reactive or not."""
    alone = {"inverter_load": "0 W", "has_boost": "no", "unit": unit, "motor_kind": kind}
    power = ask("power", **alone)
    del alone["inverter_load"], alone["has_boost"]
    running, _ = (s for s in ask("wiring", **alone).steps if s.formula.startswith("I = 2 * P"))
    assert running.where["P"].value == step(power, "P_dc").result.value
    assert step(power, "P_dc").where["S"].value > step(power, "P_dc").where["P"].value
