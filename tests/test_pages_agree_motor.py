"""What the page Power says of motor, inverter and start, Wiring and Keeping it cool say too."""

from __future__ import annotations

import random
from typing import Any

import pytest
from answers import (
    answered,
    failures,
    figure,
    has,
    line_parts,
    option,
    remedy_for,
    slots,
    state,
    typed,
    unknowns,
)
from test_pages_agree import MOTORS_OWN, ask

from calc import stock
from calc.equipment.choices import MAINS_CABLES, MOTOR_KINDS
from calc.frame.report import FAILS, UNKNOWN, Report

# ---- what feeds the motor, as the pages Power and Wiring judge it ----

WEAK = (
    "unit: skerry-45-60; inverter: lamp-12-2; bank: ; bank_chemistry: lifepo4; bank_voltage: 12 V; "
    "bank_capacity: 300 Ah; ac_voltage: 115 V; ac_frequency: 60 Hz; start: direct; "
    "ambient_temperature: 32.2 °C; wiring_rules: iso"
)


THERE = {  # figures of the page Power that fail, and what this page says then
    "start_torque": "start-torque",
    "start_surge": "inverter",
    "apparent": "inverter",
    "inverter_air": "inverter",
}


@pytest.mark.parametrize(
    ("boat", "hertz", "own"), [("catamaran", "50 Hz", "60 Hz"), ("ketch", "60 Hz", "50 Hz")]
)
def test_mains_of_the_wrong_hertz_fail_as_on_the_page_power(
    boat: str, hertz: str, own: str
) -> None:
    """Neither motor nor inverter is made for them: NEMA MG 1 12.44 allows 5 % off, no sixth. The
    first remedy is to type them right."""
    made, elsewhere = (ask(name, boat, ac_frequency=hertz) for name in ("wiring", "power"))
    assert made.verdict == elsewhere.own()[0] == FAILS
    assert (failures(made), unknowns(made)[0]) == (["foreign-mains"], "foreign-hertz")
    assert (slots(made.failures[0])["f"], slots(made.failures[0])["g"]) == (own, hertz)
    assert figure(made, "flux") == figure(elsewhere, "flux") and state(made, "flux") == FAILS
    volts = "230 V" if boat == "ketch" else "115 V"
    assert slots(made.remedies[0]) == {"v": volts, "f": own}


def test_an_overloaded_motor_fails_as_on_the_page_power() -> None:
    form = "unit: skerry-70-60; ac_frequency: 60 Hz; ac_voltage: 200 V; has_inverter: no"
    made = ask("wiring", "catamaran", **typed(form))
    over = {f.key for f in ask("power", "catamaran", **typed(form)).figures if f.state == FAILS}
    assert over and over <= {f.key for f in made.figures if f.state == FAILS}
    assert made.verdict == FAILS


def test_a_motor_that_cannot_start_loaded_is_pointed_to_power() -> None:
    """The share of the torque is the one that the page Power tells."""
    ways = [
        way for way in ask("power", "ketch", start_loaded="yes").options if has(way, "start_torque")
    ]
    share = figure(ways[0], "start_torque").value.text()
    made = ask("wiring", "ketch", start_loaded="yes")
    assert (made.decided_by, slots(made.reason())) == ("start-torque", {"t": share})
    assert "start-torque" not in failures(ask("wiring", "ketch"))


@pytest.mark.parametrize(
    "more",
    [
        "",
        "start: direct",
        "start_loaded: yes",
        "inverter_power: 1150 VA",
        "inverter_power: 900 VA",
        "inverter_surge: 8 kVA",
        "ambient_temperature: 49 °C",
        "ambient_temperature: 70 °C",
        "start: direct; start_loaded: yes",
        "start_time: 9 s; start: soft",
        "ac_voltage: 105 %",
        "ac_voltage: 95 %",
    ],
)
@pytest.mark.parametrize(
    ("boat", "own", "volts"),
    [("ketch", "", 230), ("catamaran", "", 115), ("ketch", WEAK, 115)],
    ids=["ketch", "catamaran", "weak"],
)
def test_inverter_and_start_are_judged_as_on_the_page_power(
    boat: str, own: str, volts: float, more: str
) -> None:
    form = typed(f"{own}; {more}")
    if "%" in more:
        form["ac_voltage"] = f"{volts * float(more.split()[1]) / 100} V"
    alone = typed("inverter_load: 0 W; boost_supply: dc; boost_power: 0 W")
    form_there = {k: v for k, v in form.items() if k != "wiring_rules"}
    way = option(ask("power", boat, **form_there | alone), "inverter")
    failing = {THERE[f.key] for f in way.figures if f.key in THERE and f.state == FAILS}
    made = ask("wiring", boat, **form)
    here = {key.partition("-")[0] if key.startswith("inverter") else key for key in failures(made)}
    assert here == failing
    assert made.verdict == way.verdict or not failing
    # the drawing puts words in place of the mains that the inverter gives, and of the motor's plate
    shown = [line_parts(made)[place].amounts["rating"] for place in (4, -1)]
    faults = ["inverter" in failing, "start-torque" in failing]
    assert [isinstance(words, str) for words in shown] == faults
    assert (set(made.headlines[-1].amounts) >= {"a", "b"}) == ("inverter" in failing)
    brief = answered("wiring", form, boat, verdict_only=True)
    assert (brief.verdict, brief.reason()) == (made.verdict, made.reason())


def some_boat(pick: random.Random) -> dict[str, Any]:
    """A boat that nobody has described, with all that both pages ask."""
    unit = pick.choice(sorted(stock.guide().shelf("unit")))
    motor = stock.guide().shelf("unit")[unit].motor
    power = pick.choice([1000, 1500, 2000, 3000, 5000])
    return {
        "unit": unit,
        "ac_voltage": f"{motor.voltage * pick.choice([1, 1, 0.95, 1.05, 0.91]):.4g} V",
        "ac_frequency": f"{motor.frequency * pick.choice([1, 1, 1, 0.98]):.4g} Hz",
        "has_inverter": pick.choice(["yes", "yes", "no"]),
        "inverter": "",
        "inverter_power": f"{power} VA",
        "inverter_surge": f"{power * pick.choice([1, 1.5, 2, 3])} VA",
        "inverter_idle": "20 W",
        "has_generator": pick.choice(["yes", "no"]),
        "generator": "",
        "generator_power": f"{pick.choice([1.5, 2.5, 4, 6])} kW",
        "generator_source": pick.choice(["alternator", "inverter"]),
        "generator_reactance": f"{pick.choice([10, 25, 40])} %",
        "start": pick.choice(["direct", "soft"]),
        "start_factor": f"{pick.choice([2, 2.5, 4])} ×",
        "start_loaded": pick.choice(["no", "yes"]),
        "start_time": f"{pick.choice([0.3, 0.6, 2, 6])} s",
        "start_torque": pick.choice(["", f"{pick.uniform(0.4, 3):.3g} ×"]),
        "motor_kind": pick.choice(sorted(MOTOR_KINDS)),
        "soft_allowed": "yes",
        "pressure": f"{pick.uniform(40, 79):.3g} bar",
        "ambient_temperature": f"{pick.uniform(15, 55):.3g} °C",
        "bank": "",
        "bank_voltage": pick.choice(["12 V", "24 V", "48 V"]),
        "ac_size": pick.choice(sorted(set(MAINS_CABLES) - {"propose"})),
        "ac_run": f"{pick.uniform(1, 60):.3g} m",
    }


ALONE = {"inverter_load": "0 W", "boost_supply": "dc", "boost_power": "0 W", "other_load": "0 W"}
STARTS = {
    "inverter": {"start-torque": "start_torque"},
    "generator": {"generator-torque": "start_torque", "generator-dip": "start_dip"},
}


def alike(seed: int) -> list[tuple[Any, Any]]:
    """What both pages say of one boat, each with what the other says: pressure, motor and mains;
    the start behind its cable, on the inverter and on a generator."""
    form = some_boat(random.Random(seed))
    ours, theirs = (
        stock.guide().run(stock.guide().get(name), form | more, example={"boat": "ketch"}).report
        for name, more in (("wiring", {}), ("power", ALONE))
    )
    if ours is None or theirs is None:
        return []
    here, there = ({f.key for f in made.figures if f.state == FAILS} for made in (ours, theirs))
    said: list[tuple[Any, Any]] = [(here & MOTORS_OWN, there & MOTORS_OWN)]
    for way in theirs.options:
        for own, key in STARTS.get(way.key, {}).items():
            if has(ours, own) and has(way, key):
                found, other = figure(ours, own), figure(way, key)
                state = other.state if found.decides else found.state
                said.append(((found.value, found.state), (other.value, state)))
    return said


def test_both_pages_say_the_same_of_a_boat() -> None:
    said = [alike(seed) for seed in range(40)]
    assert [pair for pairs in said for pair in pairs if pair[0] != pair[1]] == []
    assert sum(len(pairs) > 1 for pairs in said) >= 20, "boats of which there is something to say"


# ---- pump and motor by themselves, as Keeping it cool has them from Power ----

COOLING = (
    ("air_way", "low_area", "high_area", "apart"),
    ("air_way", "fan_flow", "fan_draws_out", "duct_diameter", "low_area", "high_area"),
    ("run_hours", "runs"),
    ("ambient_temperature",),
    ("locker_length", "locker_width", "locker_height"),
)
CALM = "air_way: fan; fan_flow: 400 m3/h; ambient_temperature: 15 °C; outside_temperature: 15 °C"


def promised(made: Report) -> bool:
    """Whether anything that would keep it cool is offered to try."""
    return any(remedy_for(made, *fields) for fields in COOLING)


@pytest.mark.parametrize(
    ("boat", "unit"), [("catamaran", "skerry-45-60"), ("ketch", "skerry-70-60")]
)
def test_nobody_tells_how_hot_an_overfluxed_motor_gets(boat: str, unit: str) -> None:
    """A motor of 60 Hz on as many volts at 50 Hz has a fifth too much flux: no promise, no figure
    of its heat, as on the page Power."""
    form = {"ac_frequency": "50 Hz", "unit": unit}
    made = ask("ventilation", boat, **form | typed(CALM if boat == "catamaran" else ""))
    assert made.verdict == ask("power", boat, **form).own()[0] == FAILS
    assert [f.key for f in made.figures] == ["flux"]
    assert not promised(made)


@pytest.mark.parametrize("form", ["ac_frequency: 60 Hz", "pressure: 80 bar", "ac_voltage: 200 V"])
def test_a_motor_that_fails_on_the_page_power_fails_here(form: str) -> None:
    over = {f.key for f in ask("power", "ketch", **typed(form)).figures if f.state == FAILS}
    cool = typed("air_way: fan; ambient_temperature: 10 °C")
    made = ask("ventilation", "ketch", **typed(form) | cool)
    assert over and over <= {f.key for f in made.figures if f.state == FAILS}
    assert made.verdict == FAILS and not promised(made)


def test_mains_with_the_right_volts_per_hertz_but_foreign_hertz_cannot_be_told() -> None:
    """100 V at 50 Hz for 115 V at 60 Hz: the flux is right, the fan's speed and capacitors not."""
    made = ask("ventilation", "catamaran", **typed(CALM, ac_frequency="50 Hz", ac_voltage="100 V"))
    assert (made.verdict, made.decided_by) == (UNKNOWN, "foreign-hertz")
    assert not promised(made)


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_a_sound_motor_gets_no_word_of_it(boat: str) -> None:
    made = ask("ventilation", boat)
    assert not MOTORS_OWN & {f.key for f in made.figures}
    assert promised(made) and len(made.headlines) == 1
