"""The log as a page keeps it: lines added, logs merged, files saved; nothing lost on the way."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from test_log import LOGS

from calc import browser
from calc.frame import boatfile, log, logbook
from calc.sheet import BoatSheet

TODAY = date(2026, 5, 31)
LOG = "date,entry,hours,task,note\n2026-04-02,done,812,Crankcase oil,\n2026-04-20,reading,830,,\n"


def add(text: str, *cells: str, **settings: Any) -> logbook.Changed:
    return logbook.add(
        log.MACHINE, text, dict(zip(log.MACHINE.names, cells, strict=False)), TODAY, **settings
    )


def test_a_line_goes_to_its_day() -> None:
    made = add(LOG, "2026-04-10", "done", "", "Valves", "two seats lapped")
    assert made.done
    assert made.text.splitlines()[2] == "2026-04-10,done,,Valves,two seats lapped"
    assert made.said == "Added: 10 Apr 2026, Valves."
    assert (
        add("", "2026-05-31", "reading", "3,5 h").text.splitlines()[1] == "2026-05-31,reading,3.5,,"
    )


@pytest.mark.parametrize(
    ("cells", "words", "offer"),
    [
        (("2026-06-01", "reading", "900"), "lies in the future", ""),
        (
            ("2026-05-01", "reading", "12"),
            "the meter reads 12 h, but 830 h stood there",
            "meter replaced",
        ),
        (("2026-04-10", "reading", "900"), "830 h, but 900 h stood there", ""),
        (("2026-04-21", "reading", "1830"), "those 2 days have only 48 h", "meter replaced"),
        (("2026-05-01", "reading", ""), "needs the meter's hours", ""),
        (("2026-05-01", "done", "831", ""), "needs its name", ""),
        (("2026-02-30", "reading", "831"), "is not a date", ""),
        (("", "reading", "831"), "is not a date", ""),
        (("2026-05-01", "reading", "many"), "no number of hours", ""),
        (("2026-04-20", "reading", "830"), "stands in the log already", ""),
    ],
)
def test_what_cannot_be_added_changes_nothing(
    cells: tuple[str, ...], words: str, offer: str
) -> None:
    made = add(LOG, *cells)
    assert not made.done
    assert made.text == LOG
    assert words in made.said
    assert made.offer == offer


def test_a_new_meter_is_offered_and_taken() -> None:
    made = add(LOG, "2026-05-01", "reading", "12", instead=True)
    assert made.done
    entries = log.MACHINE.read(made.text)
    assert [e.entry for e in entries[-2:]] == ["meter replaced", "reading"]
    assert log.meter(entries)[-1].hours == 842


@pytest.mark.parametrize(
    ("cells", "meter", "total"),
    [
        (
            ("2026-05-20", "reading", "300"),
            log.Entry(date(2026, 4, 20), "meter replaced", 0, "", ""),
            1130,
        ),
        (
            ("2026-04-22", "reading", "4000"),
            log.Entry(date(2026, 4, 22), "meter replaced", 4000, "", ""),
            830,
        ),
    ],
)
def test_a_new_meter_counts_no_more_than_the_days_have(
    cells: tuple[str, ...], meter: log.Entry, total: float
) -> None:
    """It began at nothing if it can have; else what ran in between is said to be unknown."""
    assert add(LOG, *cells).offer == "meter replaced"
    made = add(LOG, *cells, instead=True)
    assert made.done
    entries = log.MACHINE.read(made.text)
    assert entries[-2] == meter
    assert log.meter(entries)[-1].hours == total
    assert ("nobody knows" in made.said) == bool(meter.hours)


def test_a_faulty_log_is_left_alone() -> None:
    faulty = LOG + "2026-04-25,reading,xx,,\n"
    for made in (
        add(faulty, "2026-05-01", "reading", "840"),
        logbook.merge(log.MACHINE, faulty, LOG),
    ):
        assert made.text == faulty
        assert "mend it first" in made.said
        assert "line 4" in made.said
    assert logbook.file(log.MACHINE, faulty, "json") == (faulty, "text/csv")


@settings(deadline=None)
@given(ours=LOGS, theirs=LOGS)
def test_merging_keeps_every_line_once(
    ours: tuple[log.Entry, ...], theirs: tuple[log.Entry, ...]
) -> None:
    made = logbook.merge(log.MACHINE, log.MACHINE.write(ours), log.MACHINE.write_json(theirs))
    if made.done:
        found = log.MACHINE.read(made.text)
        assert set(found) == set(ours) | set(theirs)
        assert len(found) == len(set(found))
        assert made.said.startswith(f"{len(found) - len(set(ours))} line")
    else:
        assert made.text == log.MACHINE.write(ours)


def test_two_devices_readings_of_one_day_stand_by_the_meter() -> None:
    evening, morning = "2026-05-01,reading,840,,\n", "2026-05-01,reading,835,,\n"
    made = logbook.merge(log.MACHINE, LOG + evening, LOG + morning)
    assert [e.hours for e in log.MACHINE.read(made.text)] == [812, 830, 835, 840]
    assert made.said == "1 line added, 2 lines were there."


def test_what_two_logs_tell_differently_is_named() -> None:
    other = LOG.replace("812", "813") + "2026-05-02,reading,820,,\n"
    made = logbook.merge(log.MACHINE, LOG, other)
    assert made.done
    assert "Crankcase oil of 2 Apr 2026: 812 h here, 813 h there" in made.said
    assert "820 h" in made.said
    assert set(log.MACHINE.read(made.text)) == set(log.MACHINE.read(LOG)) | set(
        log.MACHINE.read(other)
    )


def test_a_file_from_elsewhere_is_named_and_nothing_changes() -> None:
    made = logbook.merge(log.MACHINE, LOG, "Datum;Stand\n2026-05-01;840\n")
    assert made.text == LOG
    assert "“Stand”" in made.said


# ---- by the service, and in the boat's file ----


def ask(**request: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(browser.handle(json.dumps(request)))
    return reply


def test_the_page_is_answered() -> None:
    cells = {"date": "2026-05-01", "entry": "reading", "hours": "840"}
    added = ask(do="log add", log=LOG, cells=cells, today="2026-05-31")
    assert added["error"] is None
    assert log.MACHINE.read(added["log"])[-1].hours == 840
    merged = ask(do="log merge", log=LOG, text=added["log"])
    assert merged["log"] == added["log"]
    saved = ask(do="log file", log=added["log"], kind="json", boat="Möwe")
    assert log.MACHINE.read_json(saved["text"]) == log.MACHINE.read(added["log"])
    assert saved["name"].endswith("-log.json")


def test_a_long_log_outlives_the_boats_file() -> None:
    lines = [f"2016-01-01,reading,{i}.5,,note {i}" for i in range(5000)]
    text = "\n".join(lines) + "\n"
    assert (
        boatfile.read(boatfile.write({"name": "Alder", "log": text}, BoatSheet), BoatSheet)["log"]
        == text
    )


def test_due_dates_go_by_the_readers_clock_where_the_boat_is_his() -> None:
    def today(**request: Any) -> str:
        reply = ask(calculator="upkeep", example={"boat": "ketch"}, today="2026-11-25", **request)
        return str(reply["values"]["today"])

    assert today() == "2026-05-01"
    assert today(typed={"run_hours": "3 h"}) == "2026-05-01"
    assert today(sheet={"run_hours": "3 h"}) == "2026-11-25"
    assert today(sheet={"started": "2026-03-01"}) == "2026-11-25"
    assert today(typed={"log": "2026-11-20,reading,5,,"}) == "2026-11-25"
    assert today(typed={"started": "2026-03-01"}) == "2026-11-25"
    own = ask(
        calculator="upkeep",
        today="2026-11-25",
        sheet={"started": "2026-03-01"},
        typed={"today": "2026-06-01"},
    )
    assert "today" not in own["values"]
    link = ask(calculator="upkeep", today="2026-11-25", sheet={"started": "2026-03-01"})["link"]
    assert "today=2026-11-25" in link
