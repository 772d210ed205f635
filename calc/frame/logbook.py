"""The log as a page keeps it: a line added, another log merged, a file to save.

Nothing that stood in the log is lost: what cannot be done leaves it as it is, and says why.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from . import log
from .dates import told
from .log import DONE, READING, REPLACED, Entry, LogError

_MOST_NAMED = 5


@dataclass(frozen=True)
class Changed:
    """A log after a change, and what to say of it.

    `offer` names another way to do what could not be done: "meter replaced", or nothing.
    """

    text: str
    said: str
    done: bool = True
    offer: str = ""


def add(
    text: str, cells: Mapping[str, str], today: date | None = None, replaced: bool = False
) -> Changed:
    """The log with one more line, by its texts by column; `replaced`: on a new meter."""
    try:
        entries = _ours(text)
        entry = log.entry_of(cells)
    except ValueError as error:
        return Changed(text, _sentence(str(error)), done=False)
    if today and entry.day > today:
        return Changed(
            text, f"{told(entry.day)} lies in the future: today is {told(today)}.", done=False
        )
    if entry in entries:
        return Changed(text, "This line stands in the log already.", done=False)
    newest = _newest(entries)
    made, said = entries, f"Added: {_told(entry)}."
    if replaced and newest and entry.hours is not None:
        meter = log.new_meter(newest.day, entry.day, entry.hours)
        made = _inserted(made, meter)
        if meter.hours:
            said += (
                f" What ran between {told(newest.day)} and then nobody knows: it counts as nothing."
            )
    made = _inserted(made, entry)
    try:
        log.meter(made)
    except LogError as error:
        # At the end of the log, what the meter cannot have reached may be that of a new one.
        offer = REPLACED if newest and not replaced and entry.day >= newest.day else ""
        return Changed(text, _sentence(str(error)), False, offer)
    return Changed(log.write(made), said)


def _inserted(entries: Sequence[Entry], entry: Entry) -> tuple[Entry, ...]:
    """The log with a line at the end of its day."""
    place = sum(old.day <= entry.day for old in entries)
    return (*entries[:place], entry, *entries[place:])


def _newest(entries: Sequence[Entry]) -> Entry | None:
    """The last line that reads the meter."""
    return next((old for old in reversed(entries) if old.hours is not None), None)


def merge(ours_text: str, theirs_text: str) -> Changed:
    """Our log with the lines of a file, CSV or JSON; what the two say differently is named."""
    try:
        ours = _ours(ours_text)
    except LogError as error:
        return Changed(ours_text, _sentence(str(error)), done=False)
    try:
        theirs = log.read_any(theirs_text)
    except LogError as error:
        return Changed(ours_text, f"The file is no log as it stands: {error}.", done=False)
    both = log.merge(ours, theirs)
    known = set(ours)
    new = len(both) - len(known)
    already = len(known & set(theirs))
    said = [f"{_lines(new)} added, {_lines(already)} {'was' if already == 1 else 'were'} there."]
    said += _conflicts(ours, theirs)
    try:
        log.meter(both)
    except LogError as error:
        said.append(f"The two don't agree: {error}.")
    return Changed(log.write(both), " ".join(said))


def _conflicts(ours: Sequence[Entry], theirs: Sequence[Entry]) -> list[str]:
    """Sentences on jobs that the two logs tell differently; both lines are kept."""
    known, other = set(ours), set(theirs)
    mine: dict[tuple[date, str, str], Entry] = {}
    for entry in ours:
        if entry not in other and entry.entry != READING:
            mine[entry.day, entry.entry, entry.task.lower()] = entry
    found = []
    for entry in theirs:
        same = mine.get((entry.day, entry.entry, entry.task.lower()))
        if same is not None and entry not in known:
            found.append(
                f"{_what(entry)} of {told(entry.day)}: {_rest(same)} here, {_rest(entry)} there"
            )
    if not found:
        return []
    more = f"; and {len(found) - _MOST_NAMED} more" if len(found) > _MOST_NAMED else ""
    return [f"Told differently, both are kept: {'; '.join(found[:_MOST_NAMED])}{more}."]


def file(text: str, kind: str) -> tuple[str, str]:
    """The log as a file and its media type: "json", or CSV. A log with faults is saved as it is."""
    try:
        entries = log.read(text)
    except LogError:
        return text, "text/csv"
    if kind == "json":
        return log.write_json(entries), "application/json"
    return log.write(entries), "text/csv"


def _ours(text: str) -> tuple[Entry, ...]:
    try:
        entries = log.read(text)
        log.meter(entries)
    except LogError as error:
        raise LogError(f"The log as it stands has a fault; mend it first. {error}") from None
    return entries


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")


def _lines(count: int) -> str:
    return "1 line" if count == 1 else f"{count} lines"


def _hours(entry: Entry) -> str:
    return "no reading" if entry.hours is None else f"{entry.hours:g} h"


def _rest(entry: Entry) -> str:
    return f"{_hours(entry)}, “{entry.note}”" if entry.note else _hours(entry)


def _what(entry: Entry) -> str:
    return entry.task if entry.entry == DONE else entry.entry


def _told(entry: Entry) -> str:
    hours = "" if entry.hours is None else f", {entry.hours:g} h"
    return f"{told(entry.day)}, {_what(entry)}{hours}"
