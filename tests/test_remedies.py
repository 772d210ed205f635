"""What would make it fit, tried: with what a remedy names it holds, and with one step less it does not."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any

import answers
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from legal import legal_forms

from calc import stock
from calc.frame.guide import Calculator
from calc.frame.inputs import Inputs, ask
from calc.frame.report import (
    FAILS,
    FITS,
    TIGHT,
    Amount,
    Figure,
    Option,
    Remedy,
    Report,
    amount,
    least,
    most,
)

NAMES = stock.guide().names()
BOATS = sorted(stock.guide().shelf("boat"))


def trials(report: Report) -> Iterator[tuple[str, Remedy]]:
    """The remedies that can be tried, each with the key of the option it belongs to, or ""."""
    parts: list[tuple[str, Report | Option]] = [("", report), *((o.key, o) for o in report.options)]
    for key, part in parts:
        yield from ((key, r) for r in part.remedies if isinstance(r, Remedy) and r.sets)


def part_of(report: Report | None, option: str) -> Report | Option | None:
    """The answer, or its option of a key if one is named."""
    if report is None or not option:
        return report
    return next((o for o in report.options if o.key == option), None)


def mended(before: Report, after: Report | None, option: str, mends: str) -> bool:
    """Whether what is mended is better than before, and holds.

    That is the figure that is named, in a better state; or, where it tells nothing before or after,
    fewer things that are amiss. A reservation that is named is no longer made. Where nothing is
    named it is the verdict.
    """
    was, now = part_of(before, option), part_of(after, option)
    if was is None or now is None:
        return False
    if not mends:
        return now.verdict in (FITS, TIGHT)
    if isinstance(was, Option) and mends in [one.key for one in was.reservations]:
        assert isinstance(now, Option)
        return now.verdict in (FITS, TIGHT) and mends not in [one.key for one in now.reservations]
    old, new = ([f for f in part.figures if f.key == mends] for part in (was, now))
    if any(f.state == FAILS for f in new):
        return False
    if new and (not old or worst(new) < worst(old)):
        return True
    return amiss(now) < amiss(was)


def amiss(part: Report | Option) -> int:
    """How many things fail, or can be told by nobody."""
    failing = [f for f in part.figures if f.state == FAILS]
    return len(failing) + len(part.failures) + len(part.unknowns)


def worst(figures: list[Figure]) -> int:
    """The worst state among figures, as its rank."""
    return max((FITS, TIGHT, FAILS).index(f.state) for f in figures)


def one_step_less(setting: Amount) -> Amount:
    """An amount a step (or its last digit) on the side where it should no longer do."""
    step = setting.step or 10 ** (math.floor(math.log10(abs(setting.value))) - setting.digits + 1)
    less = setting.value + (step if setting.rounding == "down" else -step)
    return amount(less, setting.unit, 9)


def tried(
    made: Calculator, typed: Mapping[str, Any], example: Mapping[str, Any], texts: Mapping[str, str]
) -> Report | None:
    outcome = stock.guide().run(made, {**typed, **texts}, example=example)
    return outcome.report


def check_remedies(made: Calculator, typed: Mapping[str, Any], example: Mapping[str, Any]) -> int:
    """Tries every remedy of an answer; how many there were."""
    report = tried(made, typed, example, {})
    count = 0
    if report is None:
        return count
    for option, remedy in trials(report):
        count += 1
        for system in ("metric", "us"):
            after = tried(made, typed, example, remedy.typed(system))
            assert after is not None, f"{remedy.text(system)}: refused"
            assert mended(report, after, option, remedy.mends), remedy.text(system)
        bounds = {
            n: a
            for n, a in remedy.sets.items()
            if isinstance(a, Amount) and a.rounding != "nearest"
        }
        for name, bound in bounds.items():
            less = remedy.typed() | {name: one_step_less(bound).typed()}
            short = tried(made, typed, example, less)
            assert not mended(report, short, option, remedy.mends), (
                f"{remedy.text()}: {less} would do"
            )
    return count


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=30, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_a_remedy_mends_and_one_step_less_does_not(name: str, data: st.DataObject) -> None:
    typed = data.draw(legal_forms(name))
    check_remedies(stock.guide().get(name), typed, {"boat": data.draw(st.sampled_from(BOATS))})


class Bucket(Inputs):
    volume = ask("Bucket", "10 L", above="0 L", at_most="1000 L")
    flow = ask("Fresh water", "45 L/h", above="0 L/h", at_most="1000 L/h")


def bucket(offset: float) -> Calculator:
    """A calculator whose remedy is right, or off by a share."""

    def answer(q: Bucket, show: Report) -> None:
        show.figure("time", "Time to fill", q.volume / q.flow, "min", at_most=1800.0)
        show.remedy(
            "A flow of {f}.",
            f=(1.0, "L/h"),
            mends="time",
            sets={"flow": least(q.volume / 1800.0 * offset, "L/h")},
        )
        show.remedy(
            "A bucket of {v}.", v=(1.0, "L"), sets={"volume": most(q.flow * 1800.0 * offset, "L")}
        )

    return Calculator("bucket", "Bucket", "How long?", Bucket, answer)


@settings(suppress_health_check=[HealthCheck.filter_too_much])
@given(st.floats(1.0, 900.0), st.floats(1.0, 900.0))
def test_the_law_lets_a_right_remedy_pass(volume: float, flow: float) -> None:
    assume(30.1 < volume / flow * 60 < 1e4 and 2 < flow / 2 < 900 and 2 < volume * 2 < 900)
    assert check_remedies(bucket(1.0), {"volume": f"{volume} L", "flow": f"{flow} L/h"}, {}) == 2


@pytest.mark.parametrize("offset", [0.97, 1.03])
def test_the_law_finds_a_wrong_remedy(offset: float) -> None:
    with pytest.raises(AssertionError):
        check_remedies(bucket(offset), {"volume": "40 L", "flow": "45 L/h"}, {})


@pytest.mark.parametrize(
    ("name", "typed", "fields"),
    [
        ("layup", {"end": "2026-08-25"}, {"end", "visits"}),
        ("layup", {"end": "2026-08-15"}, {"visits"}),
        ("layup", {"visits": "80 days"}, {"visits"}),
        ("layup", {"warmest": "40 °C", "visits": "90 days"}, {"warmest", "visits"}),
        ("layup", {"frost": "yes", "visits": "90 days"}, {"visits"}),
        ("layup", {"end": "2027-01-05", "warmest": "33 °C", "visits": "10 days"}, {"warmest"}),
        ("layup", {"end": "2027-01-05", "visits": "58 days"}, {"visits"}),
        ("layup", {"frost": "yes", "visits": "58 days"}, {"visits"}),
        ("layup", {"frost": "yes", "coldest": "-33.3 °C"}, {"glycol_limit"}),
        ("upkeep", {"stands": "20 days"}, {"stands"}),
    ],
)
def test_a_rest_that_fails_is_mended_by_its_own_fields(
    name: str, typed: dict[str, str], fields: set[str]
) -> None:
    made, example = stock.guide().get(name), {"boat": "ketch"}
    own = {"which": "own", "start": "2026-08-05", **typed} if name == "layup" else typed
    report = tried(made, own, example, {})
    assert report is not None
    assert fields in [set(remedy.sets) for _, remedy in trials(report)]
    assert check_remedies(made, own, example)


@pytest.mark.parametrize(
    ("name", "typed", "key", "fields"),
    [
        ("mount", {"unit_mass": "23 kg", "people": "2"}, "lift", {"people"}),
        ("flush", {"carbon_flow": "6.4 L/min"}, "contact", {"carbon_flow"}),
    ],
)
def test_what_holds_only_just_is_told_what_leaves_a_tenth(
    name: str, typed: dict[str, str], key: str, fields: set[str]
) -> None:
    made, example = stock.guide().get(name), {"boat": "ketch"}
    report = tried(made, typed, example, {})
    assert report is not None and (report.verdict, report.decided_by) == (TIGHT, key)
    found = next(r for _, r in trials(report) if set(r.sets) == fields)
    after = tried(made, typed, example, found.typed())
    assert after is not None and (after.verdict == FITS or after.decided_by != key)
    assert check_remedies(made, typed, example)


LOADED = {"start": "direct", "start_loaded": "yes", "start_torque": "1.4 ×"}
ON_THE_LINE = {"start": "direct", "has_inverter": "no", "has_generator": "no"}


@pytest.mark.parametrize(
    ("boat", "typed", "mends", "fields"),
    [
        ("ketch", {**LOADED, "ac_size": "1.5 mm²", "ac_run": "60 m"}, "start-torque", {"ac_size"}),
        ("catamaran", ON_THE_LINE, "breaker-start", {"breaker_carries", "breaker"}),
        ("catamaran", ON_THE_LINE, "breaker-start", {"branch_device", "breaker"}),
        ("catamaran", {"fuse_kind": "strip"}, "fuse-breaking", {"fuse_kind"}),
        ("catamaran", {"dc_run": "40 m"}, "dc-drop", {"dc_size", "dc_pairs", "dc_run"}),
    ],
)
def test_a_remedy_of_the_wiring_is_reached_by_the_law(
    boat: str, typed: dict[str, str], mends: str, fields: set[str]
) -> None:
    made, example = stock.guide().get("wiring"), {"boat": boat}
    report = tried(made, typed, example, {})
    assert report is not None
    assert (mends, fields) in [(r.mends, set(r.sets)) for _, r in trials(report)]
    assert check_remedies(made, typed, example)


# Too little charging: with all three to charge with, without panels, and of a bank that only empties.
ENGINE_OFF = {"has_array": "no", "engine_hours": "0 h", "charger_hours": "0 h"}


@pytest.mark.parametrize(
    ("typed", "mends", "fields"),
    [
        ({"run_hours": "3 h"}, "once-days-fail", {"array_power", "charger_hours", "engine_hours"}),
        (
            {"run_hours": "1.5 h", "has_array": "no"},
            "once-days-fail",
            {"charger_hours", "engine_hours"},
        ),
        ({"run_hours": "1 h", **ENGINE_OFF}, "once-no-charge", {"charger_hours", "engine_hours"}),
    ],
)
def test_energy_that_is_missing_is_put_back_by_what_is_aboard(
    typed: dict[str, str], mends: str, fields: set[str]
) -> None:
    """First of all that the bank alone could do, and day after day: it mends both."""
    made, example = stock.guide().get("power"), {"boat": "ketch"}
    report = tried(made, typed, example, {})
    assert report is not None
    for option, named in (("inverter", mends), ("week", "")):
        told = [(r.mends, *r.sets) for key, r in trials(report) if key == option]
        assert {field for _, field in told[: len(fields)]} == fields
        assert {key for key, _ in told[: len(fields)]} == {named}
    enough = tried(made, {**typed, "run_hours": "0.1 h", "engine_hours": "3 h"}, example, {})
    assert enough is not None
    assert not [r for key, r in trials(enough) if key != "sun" and set(r.sets) & fields]
    assert check_remedies(made, typed, example)


HARD_TO_WIRE = """
    dc_run: 2.7 m; ac_run: 31 m
    dc_size: 6 mm²; ac_size: AWG 14
    dc_size: AWG 2/0; ac_size: AWG 10; dc_insulation: 60; ac_insulation: 90
    dc_load: pump; dc_run: 4 m
    inverter_power: 4 kVA; dc_run: 6 m
    dc_size: AWG 1/0; dc_pairs: 2; dc_run: 7 m
    wiring_rules: us
    wiring_rules: iso; dc_engine_space: yes; ac_engine_space: yes
    start: direct; locked_rotor_current: 90 A
    bank_capacity: 2200 Ah
    fuse_kind: blade
    fuse_kind: terminal; dc_load: pump
    fuse: 100 A
    fuse_kind: strip; bank: ; inverter: ; bank_voltage: 48 V
    branch_device: dual-element fuse; wiring_rules: us
    dc_run: 30 m
    inverter_cut_off: 12.4 V
    bank_voltage: 60 V; wiring_rules: us; bank: ; inverter: ;
    bank_voltage: 60 V
"""


@pytest.mark.parametrize("boat", BOATS)
@pytest.mark.parametrize("more", ["", *HARD_TO_WIRE.strip().splitlines()])
def test_every_remedy_of_a_hard_case_of_the_wiring_mends(boat: str, more: str) -> None:
    made, form, example = stock.guide().get("wiring"), answers.typed(more), {"boat": boat}
    report = tried(made, form, example, {})
    assert report is not None and report.remedies
    check_remedies(made, form, example)


def test_a_floor_told_in_inches_is_as_stiff_as_it_was_tried() -> None:
    """Battens of 30 by 40 mm are 1.18 by 1.57 in: told in three digits they no longer did."""
    typed = {"floor_width": "850 mm", "wanted": "42.375 dB", "unit": "skerry-45"}
    typed |= {"floor_form": "panel", "mount_by": "rubber", "rubber_diameter": "63.75 mm"}
    assert check_remedies(stock.guide().get("mount"), typed, {"boat": "ketch"})
