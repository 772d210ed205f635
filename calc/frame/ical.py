"""Calendars as iCalendar text (RFC 5545): all-day events alone, which is all that upkeep needs.

A full library would bring time zones and recurrence, and with them more than the rest of the
engine weighs; `icalendar` reads back in the tests what is written here.
"""

from __future__ import annotations

import datetime
import uuid
from collections.abc import Iterable
from dataclasses import dataclass

MEDIA_TYPE = "text/calendar"
_PRODUCT = "-//Brinebook//Upkeep//EN"
_LONGEST_LINE = 75  # octets, RFC 5545 sec. 3.1
_SPACE = uuid.UUID("6f3d3b1e-0f0b-5d0e-9a53-8f6a0b1c2d3e")  # of this guide's events


@dataclass(frozen=True)
class Event:
    """A day with something on it. The same `name` and day give the same UID, so that a calendar
    program replaces an event that is read in again.
    """

    day: datetime.date
    name: str
    title: str
    description: str = ""


def calendar(title: str, events: Iterable[Event], stamp: datetime.date) -> str:
    """A calendar file. `stamp` is the day that it was made, as DTSTAMP."""
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:{_PRODUCT}",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        f"NAME:{escaped(title)}",  # RFC 7986; older programs know the other
        f"X-WR-CALNAME:{escaped(title)}",
    ]
    for event in events:
        lines += _event(event, stamp)
    lines.append("END:VCALENDAR")
    return "".join(f"{folded(line)}\r\n" for line in lines)


def _event(event: Event, stamp: datetime.date) -> list[str]:
    after = event.day + datetime.timedelta(days=1)  # DTEND is the first day that is free again
    lines = [
        "BEGIN:VEVENT",
        f"UID:{uuid.uuid5(_SPACE, f'{event.name} {event.day}')}",
        f"DTSTAMP:{_day(stamp)}T000000Z",
        f"DTSTART;VALUE=DATE:{_day(event.day)}",
        f"DTEND;VALUE=DATE:{_day(after)}",
        f"SUMMARY:{escaped(event.title)}",
        "TRANSP:TRANSPARENT",
    ]
    if event.description:
        lines.append(f"DESCRIPTION:{escaped(event.description)}")
    return [*lines, "END:VEVENT"]


def _day(day: datetime.date) -> str:
    return f"{day.year:04d}{day.month:02d}{day.day:02d}"


def escaped(text: str) -> str:
    """A TEXT value: backslash, semicolon, comma and line ends escaped. RFC 5545 sec. 3.3.11."""
    plain = text.replace("\r\n", "\n")
    if not plain.replace("\n", "").isprintable():
        plain = "".join(c for c in plain if c in "\n\t" or c.isprintable())
    for mark, written in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        plain = plain.replace(mark, written)
    return plain


def folded(line: str) -> str:
    """A content line of at most 75 octets a piece, no character split. RFC 5545 sec. 3.1."""
    if len(line.encode()) <= _LONGEST_LINE:
        return line
    if line.isascii():
        first, rest = line[:_LONGEST_LINE], line[_LONGEST_LINE:]
        step = _LONGEST_LINE - 1  # after the blank that begins a further line
        return "\r\n ".join([first, *(rest[i : i + step] for i in range(0, len(rest), step))])
    pieces, piece, room = [], "", _LONGEST_LINE
    for character in line:
        weight = len(character.encode())
        if weight > room:
            pieces.append(piece)
            piece, room = "", _LONGEST_LINE - 1  # the blank that begins the next line
        piece += character
        room -= weight
    return "\r\n ".join([*pieces, piece])
