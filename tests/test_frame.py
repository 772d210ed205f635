"""Laws that every calculator keeps, whatever it is and whatever is typed into it."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Sequence
from datetime import date
from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import browser, stock
from calc.frame import guide, service, units
from calc.frame.inputs import Choice, Date, Field, Inputs, Quantity, Record, Rows, Whole, YesNo, ask
from calc.frame.render import html, mathml
from calc.frame.report import (
    FAILS,
    FITS,
    TIGHT,
    TIGHT_DECIBELS,
    TIGHT_MARGIN,
    UNKNOWN,
    Amount,
    Axis,
    Chart,
    Figure,
    Report,
    Series,
)
from site_build import laws

NAMES = stock.guide().names()
BOATS = sorted(stock.guide().shelf("boat"))


def texts_for(made: Field) -> st.SearchStrategy[Any]:
    """Plausible and implausible texts for a field."""
    anything = st.one_of(st.sampled_from(laws.HOSTILE), st.text(max_size=20))
    if isinstance(made, Quantity):
        symbols = st.sampled_from(units.KINDS[made.kind].units)
        numbers = st.one_of(
            st.floats(0, 1000), st.integers(0, 50), st.floats(1e-6, 1e9), st.floats(-100, 0)
        )
        plain = st.builds(lambda n, s: f"{n:.6g} {s}", numbers, symbols)
        return st.one_of(plain, plain, plain, anything)
    if isinstance(made, Whole):
        return st.one_of(st.integers(-2, 40).map(str), anything)
    if isinstance(made, Choice):
        return st.one_of(st.sampled_from(list(made.choices)), anything)
    if isinstance(made, YesNo):
        return st.one_of(st.sampled_from(["yes", "no"]), anything)
    if isinstance(made, Record):
        return st.one_of(st.sampled_from(list(made.choices(stock.guide().shelves))), anything)
    if isinstance(made, Date):
        return st.one_of(st.dates().map(str), anything)
    if isinstance(made, Rows):
        fields = made.row.fields.items()
        row = st.fixed_dictionaries({}, optional={n: texts_for(f) for n, f in fields})
        legal = st.fixed_dictionaries({}, optional={n: legal_texts_for(f) for n, f in fields})
        rows = [st.lists(one, max_size=4) for one in (legal, legal, row)]
        return st.one_of(*rows, anything)
    return anything


def legal_texts_for(made: Field) -> st.SearchStrategy[str]:
    """Texts that the field takes, near its limits and round its default; else a whole list of rows
    would be at fault for one cell, and no answer be tried with it."""
    if isinstance(made, Quantity):
        found = [st.just(made.default)] if made.default else []
        if span := laws.limits(made):
            low, high = span
            values = st.floats(0, 1).map(lambda share: low + share * (high - low))
            found.append(values.map(made.write).filter(lambda text: laws.takes(made, text)))
        return st.one_of(*found) if found else st.just("")
    if isinstance(made, Whole):
        return st.integers(made.at_least, min(made.at_most, made.at_least + 40)).map(str)
    if isinstance(made, Choice):
        return st.sampled_from(list(made.choices))
    if isinstance(made, YesNo):
        return st.sampled_from(["yes", "no"])
    if isinstance(made, Date):
        return st.dates(date(1970, 1, 1), date(2199, 12, 31)).map(str)
    return st.just(made.default or "thing")


LISTS = [
    (name, key)
    for name in NAMES
    for key, made in stock.guide().get(name).asks.fields.items()
    if isinstance(made, Rows)
]


@pytest.mark.parametrize(("name", "key"), LISTS)
@settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_the_generator_makes_legal_rows(name: str, key: str, data: st.DataObject) -> None:
    """Else the laws below would hold only for lists that are at fault."""
    made = stock.guide().get(name)
    row = {n: legal_texts_for(f) for n, f in made.asks.fields[key].row.fields.items()}
    cells = data.draw(st.fixed_dictionaries({}, optional=row))
    faults = [
        f
        for f in stock.guide().run(made, {key: [cells]}).bound.faults
        if f.field.startswith(f"{key}.0.")
    ]
    assert not [f for f in faults if f.field.split(".")[2] in cells], (cells, faults)


@cache
def forms(name: str) -> st.SearchStrategy[dict[str, Any]]:
    fields = stock.guide().get(name).asks.fields
    return st.fixed_dictionaries({}, optional={n: texts_for(f) for n, f in fields.items()})


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_any_input_gives_a_report_or_named_faults(name: str, data: st.DataObject) -> None:
    """Never a traceback, a NaN or an infinity; and the answer can be shown everywhere."""
    typed = data.draw(forms(name))
    made = stock.guide().get(name)
    example = {"boat": data.draw(st.sampled_from(BOATS))}
    outcome = stock.guide().run(made, typed, example=example)
    brief = stock.guide().run(made, typed, example=example, verdict_only=True)
    assert list(laws.answered(outcome, brief)) == []
    if outcome.report is None:
        assert outcome.bound.faults
    else:
        check_verdict(outcome.report)
    reply = json.loads(browser.handle(json.dumps({"calculator": name, "typed": typed})))
    assert reply["error"] is None
    assert "<script" not in json.dumps(reply)


class Bucket(Inputs):
    volume = ask("Bucket", "10 L", above="0 L", at_most="100 L")
    flow = ask("Fresh water", "45 L/h", at_least="0 L/h", at_most="1000 L/h")
    spilt = ask("Spilt", "1 L/h", at_least="0 L/h", at_most="1000 L/h")


def fill(q: Any, show: Report) -> None:
    if q.flow < q.spilt:
        raise ValueError("the root of a negative number, says a programmer")
    show.figure("time", "Time to fill", q.volume / (q.flow - q.spilt), "min")


@pytest.mark.parametrize(
    ("typed", "blamed"),
    [
        ({"volume": "20 L", "spilt": "50 L/h"}, "spilt"),
        ({"volume": "20 L", "flow": "0.5 L/h"}, "flow"),
        ({"flow": "1 L/h"}, "flow"),  # a division by zero
        ({"flow": "60 L/h", "spilt": "90 L/h"}, "spilt"),
        ({"spilt": "90 L/h", "flow": "0.5 L/h", "volume": "20 L"}, "volume"),  # neither alone
    ],
)
def test_what_the_physics_refuses_is_told_by_the_field_to_mend(
    typed: dict[str, str], blamed: str
) -> None:
    made = guide.Calculator("bucket", "Bucket", "When is it full?", Bucket, fill)
    for outcome in (stock.guide().run(made, typed), stock.guide().run(made, {}, sheet=typed)):
        assert outcome.report is None
        assert [f.field for f in outcome.bound.faults] == [blamed]
        assert "programmer" not in str(outcome.bound.faults[0])


def test_a_bug_in_an_example_is_no_readers_fault() -> None:
    made = guide.Calculator("bucket", "Bucket", "When is it full?", Bucket, fill)
    with pytest.raises(ValueError, match="programmer"):
        stock.guide().run(made, example={"flow": "0.5 L/h"})


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_units_change_no_result_and_no_verdict(name: str, data: st.DataObject) -> None:
    """Typing the same value in another unit of its kind gives the same report."""
    made = stock.guide().get(name)
    boat = {"boat": data.draw(st.sampled_from(BOATS))}

    def choose(symbols: Sequence[str]) -> str:
        return data.draw(st.sampled_from(symbols))

    assert stock.guide().run(made, example=boat, verdict_only=True).report is not None
    assert list(laws.unmoved_by_units(stock.guide(), made, boat, choose)) == []


def state_of(figure: Figure) -> str:
    """A figure's state worked out again from what is shown."""
    if figure.limit is None or not figure.decides:
        return FITS
    value, limit = figure.value.value, figure.limit.value
    spare = limit - value if figure.limit_is == "most" else value - limit
    if spare < 0:
        return FAILS
    if figure.by_ear:
        spare = 20 * abs(math.log10(value / limit))
    if figure.by_ear or units.kind_of(figure.value.unit) == "sound level":
        return TIGHT if spare < TIGHT_DECIBELS * (1 - 1e-9) else FITS
    scale = abs(limit - figure.zero) or abs(value)
    return TIGHT if spare < TIGHT_MARGIN * scale * (1 - 1e-9) else FITS


def worst(figures: list[Figure], unknown: bool, failed: bool) -> str:
    order = [FITS, TIGHT, UNKNOWN, FAILS]
    states = [state_of(f) for f in figures] + [UNKNOWN] * unknown + [FAILS] * failed
    return max(states, key=order.index, default=FITS)


NOTHING_HELD = "nothing to hold it against"


def check_verdict(report: Report) -> None:
    order = [FITS, TIGHT, UNKNOWN, FAILS]
    expected = worst(report.figures, bool(report.unknowns), bool(report.failures))
    if report.options:
        best = min(
            (worst(o.figures, bool(o.unknowns), bool(o.failures)) for o in report.options),
            key=order.index,
        )
        expected = max(expected, best, key=order.index)
    assert report.verdict == expected
    check_decider(report)


def check_decider(report: Report) -> None:
    """The key of what decides is that of the sentence given as the reason."""
    for part in (report, *report.options):
        told = {f.key: {f.reason().text()} for f in part.figures if f.limit is not None}
        for reason in (*part.failures, *part.unknowns, *getattr(part, "reservations", ())):
            assert re.fullmatch("[a-z]+(-[a-z]+)*", reason.key)
            told.setdefault(reason.key, set()).add(reason.text())
        best = report.best_option() if part is report else None
        key, why = part.decided_by, part.reason().text()
        of_best = best is not None and key == best.decided_by
        assert why in told.get(key, {NOTHING_HELD}) or (
            of_best and why.endswith(best.reason().text())
        )


EXAMPLES = [(name, boat) for name in NAMES for boat in BOATS]


@pytest.mark.parametrize(("name", "boat"), EXAMPLES)
def test_the_working_shown_is_the_working_done(name: str, boat: str) -> None:
    """Each step's formula, evaluated with the numbers beside it, gives the result beside it."""
    report = stock.guide().run(stock.guide().get(name), example={"boat": boat}).report
    assert report is not None
    assert list(laws.working(report)) == []
    for step in report.steps:
        assert mathml.formula(step.formula).startswith("<math>")


@pytest.mark.parametrize(("name", "boat"), EXAMPLES)
def test_an_example_is_whole(name: str, boat: str) -> None:
    report = stock.guide().run(stock.guide().get(name), example={"boat": boat}).report
    assert report is not None
    assert report.headlines
    assert report.cautions
    assert laws.all_figures(report)
    for chart in report.charts:
        assert chart.x.label
        assert chart.y.label
        assert chart.summary, f"{chart.key} tells nothing to those who cannot see it"
        assert not chart.still, chart.key
    for drawing in report.drawings:
        assert drawing.description
    for system in service.SYSTEMS:
        shown = html.report(report, system)
        assert "None" not in shown
        assert "{" not in re.sub(r' data-try="[^"]*"', "", shown)  # what a button fills in, as data


@pytest.mark.parametrize("name", NAMES)
def test_a_request_is_answered_the_same_each_time(name: str) -> None:
    request = json.dumps({"calculator": name, "example": {"boat": "ketch"}, "units": "us"})
    assert browser.handle(request) == browser.handle(request)


@pytest.mark.parametrize(
    "request_text",
    [
        "",
        "{}",
        "[]",
        "null",
        "5",
        '{"calculator": "nothing"}',
        '{"calculator": "power", "typed": 5}',
        '{"calculator": "power", "example": {"boat": "nobody"}}',
        '{"calculator": ["power"]}',
        '{"calculator": "power", "typed": {"unit": {"a": 1}}}',
        '{"calculator": "power", "typed": {"unit": null}, "units": "furlongs"}',
    ],
)
def test_a_foreign_request_is_answered_with_a_sentence(request_text: str) -> None:
    reply = json.loads(browser.handle(request_text))
    assert reply["error"] or reply["slots"]["answer"]


def test_schema_describes_every_input() -> None:
    for name in NAMES:
        made = stock.guide().get(name)
        schema = made.asks.schema(stock.guide().shelves)
        assert set(schema["properties"]) == set(made.asks.fields)
        for key, described in schema["properties"].items():
            assert described["title"], key


def test_a_rehearsal_works_out_answers_step_by_step_until_its_time_is_over() -> None:
    steps = browser.rehearsal(60.0)
    assert [next(steps) for _ in range(2 * len(stock.guide().names()))] == [None] * (
        2 * len(stock.guide().names())
    )
    assert list(browser.rehearsal(0.0)) == []
    # The page's own are worked out in both steps, however slow the device is.
    shown = [{"calculator": "power", "example": {"boat": "ketch"}}, {"calculator": "nobody"}]
    assert len(list(browser.rehearsal(0.0, json.dumps(shown)))) == 2 * 2 * service.ROUNDS


@pytest.mark.parametrize(("value", "limit"), [(0.58349, 0.58351), (0.9996, 1.0), (1.9996, 2.0)])
def test_value_and_limit_of_a_failing_time_never_read_alike(value: float, limit: float) -> None:
    """Less than an hour is told in minutes, where fewer digits tell two times apart."""
    made = Report("A", "B?")
    made.figure("time", "It lasts", value * 3600, "h", at_least=limit * 3600)
    (figure,) = made.figures
    assert figure.limit and figure.state == FAILS
    assert figure.value.text() != figure.limit.text()
    assert figure.value.shown() < figure.limit.shown()


LEVEL, SLOPE = [(0.0, 1.0), (9.0, 1.0)], [(0.0, 1.0), (9.0, 1.1)]


@pytest.mark.parametrize(
    ("axis", "curves", "notes"),
    [
        (Axis("Charge", "%", 0.0, 1.0), [LEVEL], 1),
        (Axis("Charge", "%", 0.0, 1.0), [LEVEL, LEVEL], 1),
        (Axis("Charge", "%", 0.0, 1.0), [LEVEL, [(0.0, 0.5), (9.0, 0.5)]], 2),
        (Axis("Charge", "%", 0.0, 1.0), [LEVEL, SLOPE], 0),
        (Axis("Charge", "%", 0.0, 40.0), [SLOPE], 1),
        (Axis("Charge", "%", 0.001, 40.0, log=True), [SLOPE], 0),
        (Axis("Charge", "%", 0.0, 1.0), [LEVEL[:1]], 0),
        (Axis("Charge", "%"), [SLOPE], 0),
        (Axis("Charge", "%"), [LEVEL], 1),
    ],
)
def test_a_chart_that_says_nothing_is_a_number(axis: Axis, curves: Any, notes: int) -> None:
    """One whose curves move by less than one sees; a number each, or one where they are alike."""
    show = Report("Bank", "How full?")
    series = [Series(f"curve {place}", points) for place, points in enumerate(curves)]
    show.chart(Chart("charge", "Charge", Axis("Time", "h"), axis, series))
    assert len(show.notes) == notes and len(show.charts) == (0 if notes else 1)
    told = [
        slot.value
        for note in show.notes
        for slot in note.amounts.values()
        if isinstance(slot, Amount)
    ]
    assert told == [points[0][1] for points in curves][:notes]
