"""A boat of one's own: nothing is there that its owner did not say, and no verdict before it."""

from __future__ import annotations

import itertools
import json
import re
from typing import Any

import pytest
from hypothesis import example as with_example
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import InputRefused, answer, browser, stock
from calc.calculators.power import lacks
from calc.frame import sheets
from calc.frame.guide import Calculator, Outcome, decides
from calc.frame.inputs import (
    Choice,
    Inputs,
    Log,
    Presence,
    Quantity,
    Record,
    Rows,
    aboard,
    ask,
    is_set,
)
from calc.frame.report import FITS, TIGHT, UNASKED, Line, Report
from site_build.pages import DOCS, places

GUIDE = stock.guide()
NAMES = GUIDE.names()
TODAY = "2026-11-28"
PLACES = places(DOCS)
PHONE_HOLDS = 43  # letters of a choice at 390 px, measured; more end in "…"
EXAMPLES: list[dict[str, Any]] = [{}, {"boat": "ketch"}, {"boat": "catamaran"}]
MOTOR = GUIDE.shelf("unit")["skerry-45"].motor.key
# What an owner knows of her boat: which machine, battery, inverter, and that there is no generator.
FIVE = {
    "unit": "skerry-45",
    "bank_chemistry": "lifepo4",
    "bank_voltage": "12 V",
    "bank_capacity": "300 Ah",
    "inverter_power": "2000 VA",
    "has_generator": "no",
}


def run(name: str, sheet: dict[str, Any], example: Any = None, **more: Any) -> Outcome:
    return GUIDE.run(
        GUIDE.get(name), sheet=sheet, example=example, today=TODAY, own_boat=True, **more
    )


def ask_page(**request: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(browser.handle(json.dumps(request)))
    assert reply["error"] is None, reply
    return reply


def told(outcome: Outcome) -> Any:
    if outcome.report is None:
        return outcome.lacks, [str(fault) for fault in outcome.bound.faults]
    return outcome.report.as_data()


def texts_of(boat: str) -> dict[str, Any]:
    return dict(GUIDE.shelf("boat")[boat].texts)


some_of_a_boat = st.sampled_from(["ketch", "catamaran"]).flatmap(
    lambda boat: st.sets(st.sampled_from(sorted(texts_of(boat)))).map(
        lambda names: {name: texts_of(boat)[name] for name in sorted(names)}
    )
)


@pytest.mark.parametrize("name", NAMES)
def test_a_boat_of_which_nothing_is_said_has_no_verdict(name: str) -> None:
    for example in (*EXAMPLES, PLACES[name].example):
        outcome = run(name, {}, example)
        assert outcome.report is None
        assert outcome.lacks


@settings(max_examples=25, deadline=None)
@given(sheet=some_of_a_boat, name=st.sampled_from(NAMES))
def test_no_answer_hangs_on_an_example(sheet: dict[str, Any], name: str) -> None:
    """Law: whatever the page's example and its boat are, hers is answered alike, out of hers."""
    found = [told(run(name, sheet, example)) for example in (*EXAMPLES, PLACES[name].example)]
    assert all(one == found[0] for one in found)
    origins = run(name, sheet, {"boat": "ketch"}).bound.origins.values()
    assert {"example", "boat"}.isdisjoint(origin.kind for origin in origins)


@settings(max_examples=25, deadline=None)
@given(sheet=some_of_a_boat, name=st.sampled_from(NAMES))
def test_what_is_not_spoken_of_is_not_there(sheet: dict[str, Any], name: str) -> None:
    """Law: to say of a thing that it isn't there changes nothing where nothing was said of it."""
    asked = GUIDE.get(name).asks.fields
    for field, made in GUIDE.sheet.fields.items():
        if field not in asked or not isinstance(made, Presence):
            continue
        spoken_by = [one for group in asked[field].by for one in group if one in asked]
        if field in sheet or any(one in sheet for one in spoken_by):
            continue
        before, after = run(name, sheet), run(name, {**sheet, field: "no"})
        if before.report and after.report:
            assert before.report.verdict == after.report.verdict
            assert [o.key for o in before.report.options] == [o.key for o in after.report.options]
        unsure = run(name, {**sheet, field: "don't know"})
        if before.report and unsure.report:
            assert unsure.report.verdict == before.report.verdict


@pytest.mark.parametrize("name", NAMES)
def test_no_verdict_hangs_on_the_default_of_what_decides(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Law: with everything said that decides, other defaults of those fields change nothing."""
    made = GUIDE.get(name)
    sheet = {**texts_of("ketch"), "mount_by": "rubber", "stands": "locker"}
    typed = {
        field: made.asks.fields[field].default
        for row in made.decides
        for field in row.fields
        if made.asks.fields[field].default and field not in sheet
    }
    before = GUIDE.run(made, typed, sheet, today=TODAY, own_boat=True)
    assert before.report is not None, told(before)
    for row in made.decides:
        for field in row.fields:
            one = made.asks.fields[field]
            if isinstance(one, Quantity) and one.default:
                number, _, unit = one.default.partition(" ")
                monkeypatch.setattr(one, "default", f"{float(number) * 0.9} {unit}")
    after = GUIDE.run(made, typed, sheet, today=TODAY, own_boat=True)
    assert after.report is not None
    assert after.report.as_data() == before.report.as_data()


def test_five_facts_give_the_answer_of_that_boat() -> None:
    """The first boat: 12 V, 300 Ah LiFePO4, an inverter, no generator. No other source appears."""
    found = run("power", FIVE, {"boat": "ketch"}).report
    assert found is not None
    assert {option.key for option in found.options} == {"inverter", "week"}
    best = found.best_option()
    assert best is not None and best.key == "inverter"
    hours = next(figure for figure in best.figures if figure.key == "hours")
    assert hours.value.value == pytest.approx(1.95 * 3600, rel=0.01)
    assert hours.limit is None, "how long a day she wants it, she has not said"
    assert best.verdict != FITS, "so it is no better than tight"
    said = run("power", {**FIVE, "run_hours": "2 h"}).report
    assert said is not None and said.verdict == "fails"


def test_a_thing_counts_once_what_it_gives_is_said() -> None:
    begun = run(
        "power", {**FIVE, "has_alternator": "yes", "has_array": "yes", "array_power": "400 W"}
    )
    assert begun.report is not None
    assert {"alternator", "sun"}.isdisjoint(option.key for option in begun.report.options)
    assert begun.bound.asked("alternator_current"), "the form asks for what it gives"
    given = {**FIVE, "alternator_current": "60 A", "array_power": "400 W", "latitude": "30°"}
    known = run("power", given)
    assert known.report is not None
    assert {"alternator", "sun"} <= {option.key for option in known.report.options}


def test_where_neither_is_spoken_of_the_question_is_whether_there_is_one() -> None:
    assert ("has_inverter", "has_generator") in run("power", {"unit": "skerry-45"}).lacks
    only = run("power", {"unit": "skerry-45", "generator": "hob-4"})
    assert only.report is not None
    assert [option.key for option in only.report.options] == ["generator"]
    neither = {"unit": "skerry-45", "has_inverter": "no", "has_generator": "don't know"}
    assert run("power", neither).lacks == (), "asked once, and no more"


def test_an_inverter_without_a_record_is_reckoned_from_its_rating() -> None:
    bound = run("power", {**FIVE, "inverter_power": "1000 VA"}).bound
    assert bound.values["inverter_surge"] == pytest.approx(2000)
    assert bound.values["inverter_idle"] == pytest.approx(10)


@pytest.mark.parametrize("name", NAMES)
def test_lists_dates_and_logs_of_an_example_stay_out(name: str) -> None:
    bound = run(name, FIVE, {**PLACES[name].example, "boat": "ketch"}).bound
    for field, made in bound.asks.fields.items():
        if isinstance(made, Rows) and not made.shelf and not made.usual:
            assert bound.values[field] == (), field
        if isinstance(made, Log):
            assert not bound.values[field]
    if "today" in bound.asks.fields:
        assert bound.values["today"].isoformat() == TODAY


def test_fields_of_one_name_that_ask_other_things_are_not_shared() -> None:
    """The motor's start is no date of a lay-up, nor is the place where it stands a time."""
    sheet = {"start": "soft", "stands": "open"}
    for name in ("layup", "upkeep"):
        assert not run(name, sheet).bound.faults
        assert GUIDE.get(name).asks.fields.keys() & {"start", "stands"}


class Cistern(Inputs):
    volume = ask("Cistern", "100 L", above="0 L")
    has_pump = aboard("There is a pump", "yes", "flow")
    flow = ask("Pump", "10 L/h", above="0 L/h", when=is_set("has_pump"))


def _empty(q: Any, show: Report) -> None:
    show.figure("volume", "Cistern", q.volume if q.has_pump else 0.0, "L", at_most=1.0)


def test_a_new_calculator_needs_no_more_than_to_say_what_decides() -> None:
    made = Calculator("cistern", "Cistern", "?", Cistern, _empty, decides=decides("volume", "flow"))
    assert GUIDE.run(made, own_boat=True).lacks == (("volume",), ("has_pump",))
    without = GUIDE.run(made, {"volume": "5 L", "has_pump": "no"}, own_boat=True)
    assert without.report is not None
    assert GUIDE.run(made, {"volume": "5 L", "has_pump": "yes"}, own_boat=True).lacks == (
        ("flow",),
    )
    assert GUIDE.run(made).report is not None, "the example needs nothing said"


# ---- as the page shows it ----


@pytest.mark.parametrize("name", NAMES)
def test_what_she_chose_is_whole_on_a_phone(name: str) -> None:
    for made in GUIDE.get(name).asks.fields.values():
        if isinstance(made, Choice):
            assert max(map(len, made.choices.values())) <= PHONE_HOLDS, made.name


@pytest.mark.parametrize("name", NAMES)
def test_a_question_stands_once_among_those_that_decide(name: str) -> None:
    for sheet in ({}, {"unit": "skerry-45"}, FIVE):
        for row in run(name, sheet).lacks:
            assert len(set(row)) == len(row), (name, row)


def test_a_page_asks_first_and_shows_nothing_of_the_example() -> None:
    reply = ask_page(calculator="power", example={"boat": "ketch"}, sheet={"name": "Kite"})
    shown = reply["slots"]["answer"]
    assert f"verdict-{UNASKED}" in shown
    for name in ("unit", "has_inverter", "has_generator"):
        assert f'data-question="{name}"' in shown
        assert reply["values"][name] == ""
        assert reply["attributes"][name]["data-say"] == ""
    assert "Alder" not in json.dumps(reply["slots"]), "the example's boat"
    assert 'class="figures"' not in shown


def test_an_example_says_that_it_is_one() -> None:
    mark = 'class="verdict-for"'
    shown = ask_page(calculator="power", example={"boat": "ketch"})["slots"]["answer"]
    assert mark in shown
    typed = ask_page(calculator="power", example={"boat": "ketch"}, typed={"run_hours": "3 h"})
    assert mark in typed["slots"]["answer"]
    own = ask_page(calculator="power", example={"boat": "ketch"}, sheet=FIVE)["slots"]["answer"]
    assert mark not in own
    assert 'class="assumed"' in own and 'class="assumed"' not in shown


def test_an_empty_sheet_has_no_verdicts() -> None:
    pages = {name: {"url": f"{name}.html"} for name in NAMES}
    for sheet in ({}, {"name": "Kite"}):
        assert {line.verdict for line in sheets.lines(sheet, pages, GUIDE)} == {UNASKED}
    nothing = ask_page(do="verdicts", sheet={}, pages=pages)["slots"]["dashboard"]
    assert "data-dashboard" not in nothing and "state-" not in nothing
    shown = ask_page(do="verdicts", sheet={"name": "Kite"}, pages=pages)["slots"]["dashboard"]
    assert shown.count(f'class="state-{UNASKED}"') == len(NAMES)


@settings(max_examples=15, deadline=None)
@given(st.lists(some_of_a_boat, min_size=2, max_size=2), st.sampled_from(["metric", "us"]))
@with_example([{"unit": "skerry-45"}, {"unit": "skerry-45", "motor": MOTOR}], "metric")
def test_a_sheet_is_shown_as_if_none_had_been_shown_before(
    both: list[dict[str, Any]], units: str
) -> None:
    """What is kept of a field is shown again for the same alone."""
    for sheet in both:
        shown = ask_page(do="sheet", sheet=sheet, units=units)
    for made in GUIDE.sheet.fields.values():
        made.told.clear()
    assert ask_page(do="sheet", sheet=sheet, units=units) == shown


def test_verdicts_come_step_by_step_and_are_the_whole_list_at_last() -> None:
    pages = {name: {"url": f"{name}.html"} for name in NAMES}
    asked = {"do": "verdicts", "sheet": FIVE, "pages": pages}
    sheets._kept.clear()
    steps = [ask_page(**asked, within=0)]
    while steps[-1]["more"]:
        steps.append(ask_page(**asked, within=0))
    listed = [re.findall(r'data-dashboard="(\w+)"', one["slots"]["dashboard"]) for one in steps]
    assert [len(names) for names in listed] == list(range(1, len(NAMES) + 1)), "one more each time"
    assert all(set(one) < set(other) for one, other in itertools.pairwise(listed))
    slow = {name for name in NAMES if GUIDE.get(name).slow}
    assert slow and slow.isdisjoint(listed[-1 - len(slow)]), "what takes long comes last"
    assert steps[-1] == ask_page(**asked)
    sums = [re.search("dashboard-sum[^>]*>([^<]*)<", one["slots"]["dashboard"]) for one in steps]
    told = [found[1] for found in sums if found]
    assert set(told[:-1]) == {"&nbsp;"} and told[-1] != "&nbsp;", "counted once, and read out once"


def test_what_is_to_be_said_leads_to_its_field() -> None:
    pages = {name: {"url": f"{name}.html"} for name in NAMES}
    asked = {"do": "verdicts", "sheet": {"unit": "skerry-45"}, "pages": pages}
    alone = ask_page(**asked, fields=["unit", "stands"], sheetPage="boat.html")["slots"][
        "dashboard"
    ]
    assert 'href="#sheet-stands"' in alone, "a field of this page"
    assert 'href="boat.html#sheet-mount_by"' in alone, "one of the sheet's own page"
    assert "ventilation.html" in alone
    foreign = ask_page(**asked, sheetPage="//elsewhere.example")["slots"]["dashboard"]
    assert "elsewhere" not in foreign


def test_five_questions_reach_a_first_answer() -> None:
    """What the start asks settles Power, and it says what to do first."""
    asked = {name for one in GUIDE.questions for name in one.fields}
    assert len(GUIDE.questions) == 5
    assert set(FIVE) <= asked <= GUIDE.sheet.fields.keys()
    shown = sheets.start({}, "metric", "sheet-", GUIDE)
    controls = re.findall(r'<(?:input|select)[^>]* name="(\w+)"', shown)
    assert set(controls) == asked and controls.index("unit") == 0
    whole = sheets.form({}, "metric", "sheet-", GUIDE)
    every = re.findall(r'<(?:input|select|textarea)[^>]* name="(\w+)"', whole)
    assert len(every) == len(set(every)), "no field twice"
    assert every[: len(asked)] == [name for one in GUIDE.questions for name in one.fields]
    pages = {name: {"url": f"{name}.html"} for name in NAMES}
    sheet = {**FIVE, "run_hours": "2 h"}
    told = ask_page(do="verdicts", sheet=sheet, pages=pages)["slots"]["dashboard"]
    power = told.partition('data-dashboard="power"')[2].partition("</li>")[0]
    assert "do-first" in power


def test_each_group_of_the_sheet_tells_why_it_is_asked_in_a_line() -> None:
    """While it is folded and nothing is said, and under its heading whatever is said."""
    groups = {made.group for made in GUIDE.sheet.fields.values()}
    assert GUIDE.why.keys() == groups
    assert len(set(GUIDE.why.values())) == len(groups), "each its own"
    assert max(map(len, GUIDE.why.values())) <= 80, "in a line or two of a phone"
    for sheet, times in (({}, 2), ({"has_array": "yes", "turbidity": "3"}, 1)):
        form = sheets.form(sheet, "metric", "sheet-", GUIDE)
        assert form.count(GUIDE.why["Sun"]) == times


def test_log_tasks_and_parts_have_a_page_of_their_own() -> None:
    """There, and not among the rest; all else of a boat stands on the sheet."""
    control = r'<(?:input|select|textarea|fieldset)[^>]* (?:name|data-rows)="(\w+)"'
    apart = re.findall(control, sheets.apart({}, "metric", "sheet-", GUIDE))
    sheet = re.findall(control, sheets.form({}, "metric", "sheet-", GUIDE))
    named = [name for one in GUIDE.apart for name in one.fields]
    assert apart == named == ["log", "readings", "tasks", "parts"]
    assert set(apart) | set(sheet) == GUIDE.sheet.fields.keys() and not set(apart) & set(sheet)
    assert "upkeep" in sheets.obeying(PLACES, GUIDE) and "power" not in sheets.obeying(
        PLACES, GUIDE
    )


def test_a_link_of_ones_own_boat_brings_its_answer_and_no_example() -> None:
    asked = {"calculator": "power", "example": {"boat": "ketch"}}
    mine = ask_page(**asked, sheet=FIVE)
    opened = ask_page(do="open", fragment=mine["link"])
    assert opened["own"] is True
    again = ask_page(**asked, typed=opened["typed"], own=True)
    assert again["slots"]["answer"] == mine["slots"]["answer"]
    of_example = ask_page(**asked, typed={"run_hours": "3 h"})["link"]
    assert ask_page(do="open", fragment=of_example)["own"] is False


def test_the_sheet_offers_what_is_in_no_list_and_what_is_not_known() -> None:
    form = sheets.form({}, "metric", "sheet-", GUIDE)
    assert 'value="none"' in form and "<option>don&#x27;t know" in form
    outcome = run("power", {**FIVE, "inverter": "none", "bank": "none"})
    assert outcome.report is not None and not outcome.bound.faults
    shown = ask_page(do="sheet", sheet={"inverter": "none", "has_array": "don't know"})
    assert shown["values"]["inverter"] == "none"
    assert shown["values"]["has_array"] == "don't know"
    assert "array_power" in shown["hidden"], "what is not there is not asked about"


def test_in_python_a_sheet_is_a_boat_of_ones_own() -> None:
    assert answer("power", sheet=FIVE).best_option().key == "inverter"  # type: ignore[union-attr]
    with pytest.raises(InputRefused):
        answer("power", sheet={"name": "Kite"})


def test_a_value_that_cannot_be_read_is_told_though_nothing_else_speaks_of_the_thing() -> None:
    outcome = run("power", {**FIVE, "inverter_power": "lots"})
    assert [fault.field for fault in outcome.bound.faults] == ["inverter_power"]


def test_a_record_gives_way_to_what_it_is_not() -> None:
    """The form never says "AGM, 24 V" above a bank of LiFePO4: the record is the example's."""
    power = GUIDE.get("power")
    kept = GUIDE.run(power, {"bank_capacity": "300 Ah"}, example={"boat": "ketch"}).bound
    assert kept.values["bank"] is not None
    for typed in ({"bank_chemistry": "lifepo4"}, {"bank_voltage": "12 V"}):
        for other in ({}, {"sheet": {"bank": "agm-24-440"}, "own_boat": True}):
            bound = GUIDE.run(power, typed, example={"boat": "ketch"}, **other).bound
            assert bound.values["bank"] is None and bound.texts["bank"] == ""
        both = GUIDE.run(power, sheet={"bank": "agm-24-440", **typed}, own_boat=True).bound
        assert both.values["bank"] is None, "said in one breath as well"
        note = ask_page(do="sheet", sheet={"bank": "agm-24-440", **typed})["slots"]["field.bank"]
        assert "no longer" in note
    same = GUIDE.run(power, {"bank_chemistry": "agm"}, example={"boat": "ketch"}).bound
    assert same.values["bank"] is not None


RATED = [
    (made.name, by)
    for made in GUIDE.sheet.fields.values()
    if isinstance(made, Record)
    for by in made.rated_by
]


@pytest.mark.parametrize(("name", "by"), RATED)
def test_a_record_that_she_rates_otherwise_is_not_named_as_hers(name: str, by: str) -> None:
    """Whether the record is the example's or her own: her rating stays, the rest is the record's."""
    power = GUIDE.get("power")
    aboard = {f"has_{thing}": "yes" for thing in ("inverter", "generator", "alternator", "array")}
    record = next(iter(GUIDE.shelf(power.asks.fields[name].kind)))  # type: ignore[attr-defined]
    rating = power.asks.fields[by]
    for sheet, own in (({}, False), ({name: record}, False), ({name: record, **aboard}, True)):
        example = {"boat": "ketch", **aboard, name: record}
        asked = {"calculator": "power", "example": example, "sheet": sheet, "own": own}
        before = GUIDE.run(power, sheet=sheet, example=example, own_boat=own).bound
        assert before.values[name].key == record and name not in before.outgrown
        assert ask_page(**asked)["values"][name] == record
        typed = {by: f"17 {rating.unit}"}  # type: ignore[attr-defined]
        after = GUIDE.run(power, typed, sheet, example, own_boat=own).bound
        assert name in after.outgrown and after.origin(by).own
        others = [
            one for one in power.asks.fields.values() if one.from_record.startswith(f"{name}.")
        ]
        for one in others:
            if one.name != by and one.follows != by:
                assert after.values[one.name] == before.values[one.name], one.name
        reply = ask_page(**asked, typed=typed)
        assert reply["values"][name] == "", "the list of choices shows no record"
        assert reply["slots"][f"field.{name}"].startswith("own values")
        if before.values[by] is not None and rating.from_record:
            again = {by: rating.write(before.values[by])}
            assert name not in GUIDE.run(power, again, sheet, example, own_boat=own).bound.outgrown


# ---- what isn't aboard ----


def if_you_had(report: Report | None) -> list[str]:
    assert report is not None
    return [str(row[0]) for made in report.tables if made.key == "if-you-had" for row in made.rows]


@settings(max_examples=30)
@given(sheet=some_of_a_boat, hours=st.sampled_from(["0.5 h", "2 h", "8 h"]))
def test_what_is_not_aboard_counts_in_nothing(sheet: dict[str, Any], hours: str) -> None:
    """Verdict, headline, remedies and figures are the same where it is not told."""
    asked = {**FIVE, **sheet, "run_hours": hours}
    told = run("power", asked)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(lacks, "tell", lambda *_: None)
        untold = run("power", asked)
    assert (told.report is None) == (untold.report is None)
    if told.report is None or untold.report is None:
        return
    with_it, without = told.report.as_data(), untold.report.as_data()
    with_it["tables"] = [one for one in with_it["tables"] if one["key"] != "if-you-had"]
    assert with_it == without
    names = if_you_had(told.report)
    aboard = told.bound.as_values()
    assert not (aboard.has_generator and "Generator" in names)  # type: ignore[attr-defined]
    assert not (aboard.has_inverter and "Inverter on a bank" in names)  # type: ignore[attr-defined]
    assert not (aboard.has_array and "Solar panels" in names)  # type: ignore[attr-defined]


def test_what_is_not_aboard_is_told_by_the_size_that_would_do() -> None:
    sheet = {**FIVE, "run_hours": "1 h"}
    found = run("power", sheet).report
    assert if_you_had(found) == [
        "Generator",
        "Solar panels",
        "Engine's alternator",
        "Charger on a generator",
    ]
    assert found is not None
    cell = next(made for made in found.tables if made.key == "if-you-had").rows[0][1]
    assert isinstance(cell, Line)
    power = cell.amounts["p"].value
    for watts, able in ((power, True), (power - 100, False)):
        other = {**sheet, "has_generator": "yes", "generator_power": f"{watts} W"}
        made = run("power", other).report
        assert made is not None
        way = next(one for one in made.options if one.key == "generator")
        assert (way.verdict in (FITS, TIGHT)) is able
    without = {**FIVE, "has_inverter": "no", "has_generator": "yes", "generator_power": "4 kW"}
    without.pop("inverter_power")
    assert if_you_had(run("power", without).report) == ["Inverter on a bank"]
    nothing = run("power", {**without, "has_generator": "no"}).report
    assert if_you_had(nothing) == ["Generator", "Inverter on a bank"]
    burnt = {**without, "has_generator": "no", "pressure": "65 bar", "flow": "9 L/min"}
    assert if_you_had(run("power", burnt).report) == [], "no source mends the motor"


def test_what_comes_with_a_record_is_not_told_as_what_was_said_of_it() -> None:
    """A part that the unit's record brings along; one that was spoken of itself."""
    unit = GUIDE.shelf("unit")["skerry-45"]
    for name in ("power", "water"):
        brought = run(name, {"unit": unit.key}).bound
        assert brought.values["has_boost"] is True and not brought.own("has_boost")
        origin = brought.origin("has_boost")
        assert (origin.kind, origin.holder) == ("record", unit.name)
        spoken_of = run(name, {"unit": unit.key, "boost_power": "80 W"}).bound
        assert spoken_of.values["has_boost"] is True
        assert spoken_of.origin("has_boost").kind == "default"
