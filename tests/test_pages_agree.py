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


A_DRIVE = {
    "pressure": st.floats(25, 69).map(lambda bar: f"{bar:.1f} bar"),
    "flow": st.floats(5, 9).map(lambda flow: f"{flow:.2f} L/min"),
    "ac_frequency": st.sampled_from(["45 Hz", "50 Hz", "53 Hz", "60 Hz"]),
    "motor_kind": st.sampled_from(KINDS),
    "sea_temperature": st.floats(-2, 36).map(lambda warm: f"{warm:.1f} °C"),
}


@given(st.sampled_from(UNITS), st.floats(0.85, 1.13), st.fixed_dictionaries({}, optional=A_DRIVE))
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
    assert {"input", "current", "energy"}.isdisjoint(told) == at_work.overfluxed
    if not at_work.overfluxed:
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


# What Putting it in asks besides before it answers: on its own boat a page that lacks a deciding
# answer asks for it, and neither refuses nor judges.
PUT_IN = {
    "wet": "dry",
    "attitude": "platform",
    "seacock_there": "yes",
    "drain_reached": "yes",
    "has_relief": "no",
    "flush_way": "none",
    "brine_valve": "no",
    "brine_dips": "no",
    "product_way": "three_way",
    "mount_by": "rubber",
    "floor_material": "plywood",
}


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
    sheet |= {"dc_run": "2 m", "ac_run": "4 m", **PUT_IN}
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
    assert not other.lacks, other.lacks
    if power.report is None or other.report is None:
        return
    way = next(one for one in power.report.options if one.key == "inverter")
    foreign = FOREIGN & set(failures(way))
    failing = {figure.key for figure in way.figures if figure.state == FAILS}
    reason = next((key for figure, key in TOO_SMALL if figure in failing), None)
    if name == "installation":  # it leaves the reason to the pages on its parts, and says whose
        if foreign or reason:
            assert {"wiring", "motor"} & set(failures(other.report)), sheet
        return
    assert foreign == FOREIGN & set(failures(other.report)), sheet
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
