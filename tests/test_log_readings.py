"""The log of readings is a book like the machine's log: nothing lost, units kept as written."""

from __future__ import annotations

import json
import time
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_log import PLAIN

from calc import browser
from calc.frame import boatfile, logbook
from calc.frame.book import LogError
from calc.frame.columns import Measure
from calc.frame.inputs import TYPED, Layer, bind
from calc.sheet import BoatSheet
from calc.sheet.readings_log import BOOK, Line

HEAD = ",".join(BOOK.names)


def cells_of(column: Any) -> st.SearchStrategy[Any]:
    """What may stand in a column: nothing, a number, a number in another unit."""
    if not isinstance(column, Measure):
        return st.none() | st.floats(0, 1e6)
    low, high = column._bounds
    factor, offset = column._own
    inside = st.floats(0.01, 0.99).map(lambda share: low + share * (high - low))
    own = inside.map(lambda si: (si - offset) / factor)
    other = [
        inside.map(lambda si, s=symbol, f=f, o=o: f"{(si - o) / f!r} {s}".replace(".0 ", " "))
        for symbol, (f, o) in column._others.items()
    ]
    return st.one_of(st.none(), own, *other)


LINES = st.builds(
    lambda day, cells, note: Line(day, *cells, note),
    st.dates(date(1970, 1, 1), date(2199, 12, 31)),
    st.tuples(*map(cells_of, BOOK.columns[1:-1])).filter(
        lambda cells: any(cell is not None for cell in cells)
    ),
    PLAIN,
)
BOOKS = st.lists(LINES, max_size=8).map(lambda one: tuple(sorted(one, key=lambda line: line.day)))


@settings(deadline=None, max_examples=60)
@given(lines=BOOKS)
def test_what_is_written_is_read_back(lines: tuple[Line, ...]) -> None:
    assert BOOK.read(BOOK.write(lines)) == lines
    assert BOOK.read_any(BOOK.write_json(lines)) == lines


@settings(deadline=None, max_examples=60)
@given(ours=BOOKS, theirs=BOOKS)
def test_merging_keeps_every_line_once(ours: tuple[Line, ...], theirs: tuple[Line, ...]) -> None:
    made = logbook.merge(BOOK, BOOK.write(ours), BOOK.write_json(theirs))
    found = BOOK.read(made.text)
    assert set(found) == set(ours) | set(theirs)
    assert len(found) == len(set(found))
    assert [line.day for line in found] == sorted(line.day for line in found)


def test_a_cell_may_bear_its_unit_and_stays_as_it_was_written() -> None:
    text = f'{HEAD}\n2026-05-01,12,64 °F,35,,,,800 psi,,12 US gal/h,"6,2",420,\n'
    (line,) = BOOK.read(text)
    assert (line.temperature, line.pressure, line.brine) == ("64 °F", "800 psi", 6.2)
    assert BOOK.read(BOOK.write([line])) == (line,)
    column = {one.name: one for one in BOOK.columns}["pressure"]
    assert isinstance(column, Measure)
    assert column.si(line.pressure) == pytest.approx(55.158e5, rel=1e-4)
    assert column.read("55 bar") == 55.0


def test_a_file_may_name_a_unit_with_its_column() -> None:
    told = "date,High pressure (psi),product [US gal/h],place\n2026-05-01,800,12 L/h,Horta\n"
    (line,) = BOOK.read(told)
    assert (line.pressure, line.product, line.note) == ("800 psi", 12.0, "place: Horta")


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("2026-05-01,,,,,,,,,,,,", ["line 2", "needs a reading"]),
        ("2026-05-01,,95,,,,,,,,,,", ["line 2", "“95”", "temperature", "36 °C"]),
        ("2026-05-01,,,,,,,12 kg,,,,,", ["line 2", "kg"]),
        ("2026-05-01,,,,,,,-3,,,,,", ["line 2", "“pressure”", "0 bar"]),
        ("2026-05-01,,,,,,,nan,,,,,", ["line 2"]),
        ("2026-13-01,,,,,,,55,,,,,", ["line 2", "is not a date"]),
    ],
)
def test_what_is_wrong_is_named_plainly(row: str, words: list[str]) -> None:
    with pytest.raises(LogError) as caught:
        BOOK.read(f"{HEAD}\n{row}\n")
    for word in words:
        assert word in str(caught.value)


def test_the_page_is_answered_for_the_field_that_asks() -> None:
    def ask(**request: Any) -> Any:
        return json.loads(browser.handle(json.dumps({"field": "readings", **request})))

    cells = {"date": "2026-05-01", "pressure": "800", "pressure.unit": "psi", "product": "44"}
    added = ask(do="log add", log="", cells=cells, today="2026-05-31")
    (line,) = BOOK.read(added["log"])
    assert (line.pressure, line.product) == ("800 psi", 44.0)
    assert "800 psi" in added["said"]
    again = ask(do="log add", log=added["log"], cells=cells, today="2026-05-31")
    assert again["log"] is None
    assert ask(do="log merge", log="", text=added["log"])["log"] == added["log"]
    saved = ask(do="log file", log=added["log"], kind="json", boat="Alder")
    assert BOOK.read_json(saved["text"]) == (line,)
    assert saved["name"].endswith("-readings.json")
    assert ask(do="log add", field="unit", log="", cells=cells)["error"]


def test_two_readings_of_one_hour_that_differ_are_named() -> None:
    ours = f"{HEAD}\n2026-05-01,12,18,,,,,55,,44,,,\n"
    made = logbook.merge(BOOK, ours, ours.replace(",55,", ",56,"))
    assert made.done and len(BOOK.read(made.text)) == 2
    assert "55 bar" in made.said and "56 bar" in made.said


def test_the_log_lives_in_the_boats_file_and_in_the_form() -> None:
    text = f"{HEAD}\n2026-05-01,12,18,,,,,800 psi,,44,,,\n"
    kept = boatfile.read(boatfile.write({"name": "Alder", "readings": text}, BoatSheet), BoatSheet)
    assert kept["readings"] == text
    assert bind(BoatSheet, Layer(TYPED, {"readings": text})).values["readings"] == BOOK.read(text)
    wrong = bind(BoatSheet, Layer(TYPED, {"readings": text.replace("800 psi", "8000 psi")}))
    (fault,) = [one for one in wrong.faults if one.field == "readings"]
    assert "line 2" in fault.sentence


def five_thousand(pressure: str = "55") -> str:
    start = date(2016, 5, 1)
    rows = [
        f"{start + timedelta(days=n // 2)},{n * 0.8:.1f},18.5,35,,0.4,0.3,{pressure},0.5,44.{n % 9},"
        "5.4,420,"
        for n in range(5000)
    ]
    return "\n".join([HEAD, *rows])


@pytest.mark.parametrize("pressure", ["55", "800 psi"])
def test_five_thousand_lines_are_read_in_a_blink(pressure: str) -> None:
    best = 1.0
    for index in range(4):
        text = five_thousand(pressure) + "\n" * (index + 1)
        start = time.process_time()
        assert len(BOOK.read(text)) == 5000
        best = min(best, time.process_time() - start)
    print(best)
    assert best < 0.3  # a busy machine must not fail
