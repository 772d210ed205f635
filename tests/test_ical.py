"""Calendar files against RFC 5545 and a second parser, `icalendar`."""

from __future__ import annotations

from datetime import date, timedelta

import icalendar
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.frame import ical

TEXTS = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=120)
EVENTS = st.lists(
    st.builds(ical.Event, st.dates(date(1970, 1, 1), date(2199, 12, 30)), TEXTS, TEXTS, TEXTS),
    max_size=5,
)


@settings(deadline=None)
@given(title=TEXTS, events=EVENTS)
def test_a_second_parser_reads_what_was_meant(title: str, events: list[ical.Event]) -> None:
    text = ical.calendar(title, events, date(2026, 5, 1))
    read = icalendar.Calendar.from_ical(text)
    assert not read.errors
    found = list(read.walk("VEVENT"))
    assert len(found) == len(events)
    for ours, theirs in zip(events, found, strict=True):
        assert theirs.decoded("DTSTART") == ours.day
        assert theirs.decoded("DTEND") == ours.day + timedelta(days=1)
        assert str(theirs["SUMMARY"]) == printable(ours.title)
        assert str(theirs.get("DESCRIPTION", "")) == printable(ours.description)
        assert not theirs.errors


def printable(text: str) -> str:
    return "".join(c for c in text if c.isprintable())


@settings(deadline=None)
@given(title=TEXTS, events=EVENTS)
def test_lines_are_as_rfc_5545_wants_them(title: str, events: list[ical.Event]) -> None:
    """CRLF at each end, 75 octets at most, no character split. RFC 5545 sec. 3.1."""
    text = ical.calendar(title, events, date(2026, 5, 1))
    assert text.endswith("END:VCALENDAR\r\n")
    lines = text.split("\r\n")[:-1]
    assert all(len(line.encode()) <= 75 for line in lines)
    assert all("\n" not in line and "\r" not in line for line in lines)


def test_the_same_task_on_the_same_day_is_the_same_event() -> None:
    event = ical.Event(date(2026, 5, 1), "Alder Oil", "Oil")
    one, two = (
        icalendar.Calendar.from_ical(ical.calendar("A", [event], stamp)).walk("VEVENT")[0]["UID"]
        for stamp in (date(2026, 1, 1), date(2026, 2, 1))
    )
    assert one == two


def test_rfc_5545_text_example() -> None:
    """Sec. 3.3.11: the escaped line end of "Project XYZ Final Review"."""
    assert (
        ical.escaped("Project XYZ Final Review\nConference Room - 3B\nCome Prepared.")
        == "Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared."
    )
    assert ical.escaped("a, b; c\\d") == "a\\, b\\; c\\\\d"


def test_rfc_5545_all_day_example() -> None:
    """Sec. 3.6.1: DTEND is the first day after: 28 June to 8 July 2007 ends on 9 July."""
    theirs = icalendar.Calendar.from_ical(
        "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//x//y//EN\r\nBEGIN:VEVENT\r\n"
        "UID:20070423T123432Z-541111@example.com\r\nDTSTAMP:20070423T123432Z\r\n"
        "DTSTART;VALUE=DATE:20070628\r\nDTEND;VALUE=DATE:20070709\r\n"
        "SUMMARY:Festival International de Jazz de Montreal\r\nTRANSP:TRANSPARENT\r\n"
        "END:VEVENT\r\nEND:VCALENDAR\r\n"
    ).walk("VEVENT")[0]
    assert (theirs.decoded("DTEND") - theirs.decoded("DTSTART")).days == 11
    ours = ical.calendar("A", [ical.Event(date(2007, 7, 8), "n", "t")], date(2007, 4, 23))
    for line in (
        "DTSTART;VALUE=DATE:20070708",
        "DTEND;VALUE=DATE:20070709",
        "DTSTAMP:20070423T000000Z",
        "TRANSP:TRANSPARENT",
    ):
        assert f"{line}\r\n" in ours


@pytest.mark.parametrize("length", [10, 74, 75, 76, 148, 149, 150, 300])
def test_folding_is_undone_by_unfolding(length: int) -> None:
    for letter in ("a", "é", "海", "😀"):
        line = letter * length
        assert ical.folded(line).replace("\r\n ", "") == line
