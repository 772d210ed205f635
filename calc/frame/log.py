"""The log of the machine: hour-meter readings and jobs done, with dates; as CSV and as JSON.

    date,entry,hours,task,note
    2026-04-02,reading,812,,
    2026-04-02,done,812,Crankcase oil,"0.3 L, can from Horta"
    2026-05-01,meter replaced,0,,new display

`hours` is what the meter shows. After "meter replaced" the new meter counts on from what is given
there. No more hours run than the days have. Nothing that was read is lost on writing: columns of a
foreign file go into the note. A task or note that a spreadsheet would take for a formula is written
with an apostrophe before it, and read without.
"""

from __future__ import annotations

import csv
import io
import json
import math
import re
from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from functools import lru_cache
from itertools import islice
from operator import itemgetter
from typing import Any, NamedTuple

from .dates import told
from .nested import NestedTooDeep
from .nested import read_json as read_json_text

MARK, VERSION = "brinebook log", 1
COLUMNS = ("date", "entry", "hours", "task", "note")
READING, DONE, REPLACED = "reading", "done", "meter replaced"
ENTRIES = (READING, DONE, REPLACED)
MOST_LINES = 20_000
_NEEDED = COLUMNS[:2]
_EARLIEST, _LATEST = date(1970, 1, 1), date(2199, 12, 31)
_MOST_HOURS = 1e6
_DAY_HOURS = 24.0


class LogError(ValueError):
    """A log that cannot be read; the message is a sentence that names lines and columns."""


class Entry(NamedTuple):
    """One line: the day, what it says, the meter's hours (None if not read), the task, a note."""

    day: date
    entry: str
    hours: float | None
    task: str
    note: str


class Meter(NamedTuple):
    """Running hours since the first line, meters replaced included, at one dated reading."""

    day: date
    hours: float


# ---- reading and writing ----


@lru_cache(maxsize=8)
def read(text: str) -> tuple[Entry, ...]:
    """The entries of a log in CSV, in the order of their days.

    Semicolons or tabs may part the columns. Raises LogError with every faulty line (the first few
    by name) and what is wrong with it.
    """
    rows = _rows(text)
    if not rows:
        return ()
    first, columns, extra = _header(rows)
    written = list(filter(None, rows[first:]))
    found = _all_good(written) if columns == _OURS and not extra else None
    if found is None:
        found = _one_by_one(rows, first, columns, extra)
    if len(found) > MOST_LINES:
        raise LogError(f"has {len(found)} lines; at most {MOST_LINES} are allowed")
    found.sort(key=_DAY)
    return tuple(found)


_OURS = {name: index for index, name in enumerate(COLUMNS)}
_DAY = itemgetter(0)


def _all_good(rows: list[list[str]]) -> list[Entry] | None:
    """The entries if nothing at all is wrong, by whole columns: a long log is read at each answer.

    None if anything is, or might be; then each line is looked at by itself.
    """
    if not rows or set(map(len, rows)) != {len(COLUMNS)}:
        return None
    days, entries, hours, tasks, notes = zip(*rows, strict=True)
    if not set(entries) <= set(ENTRIES):
        return None
    try:
        dates = list(map(date.fromisoformat, days))
        read = [float(text) if text else None for text in hours]
    except ValueError:
        return None
    numbers = [number for number in read if number is not None]
    unread = {entry for entry, text in zip(entries, hours, strict=True) if not text}
    done = {task.strip() for entry, task in zip(entries, tasks, strict=True) if entry == DONE}
    if (
        not unread <= {DONE}
        or "" in done
        or not all(map(math.isfinite, numbers))
        or min(numbers, default=0) < 0
        or max(numbers, default=0) > _MOST_HOURS
        or min(dates) < _EARLIEST
        or max(dates) > _LATEST
    ):
        return None
    plain = zip(dates, entries, read, map(_words, tasks), map(_words, notes), strict=True)
    return list(map(Entry._make, plain))


def _one_by_one(
    rows: list[list[str]], first: int, columns: dict[str, int], extra: dict[str, int]
) -> list[Entry]:
    place = [columns.get(name, -1) for name in COLUMNS]
    width = len(columns) + len(extra)
    found: list[Entry] = []
    faults: list[str] = []
    for number, row in enumerate(rows[first:], first + 1):
        if not any(row):
            continue
        cells = [_words(row[i]) if 0 <= i < len(row) else "" for i in place]
        cells[-1] = _with_foreign(cells[-1], row, extra, width)
        try:
            found.append(_entry(*cells))
        except ValueError as error:
            faults.append(f"line {number}: {error}")
    _complain(faults)
    return found


def _complain(faults: Sequence[str]) -> None:
    if faults:
        more = f"; and {len(faults) - 3} more" if len(faults) > 3 else ""
        raise LogError("; ".join(faults[:3]) + more)


def _rows(text: str) -> list[list[str]]:
    # Files come with every kind of line end, CR alone included.
    body = text.removeprefix("\ufeff").replace("\0", "").replace("\r\n", "\n").replace("\r", "\n")
    body = body.lstrip("\n")
    head = body[: body.find("\n")] if "\n" in body else body
    mark = max(",;\t", key=head.count)
    try:
        return list(islice(csv.reader(io.StringIO(body), delimiter=mark), MOST_LINES * 2))
    except csv.Error as error:
        raise LogError(f"cannot be read as CSV: {error}") from None


def _header(rows: list[list[str]]) -> tuple[int, dict[str, int], dict[str, int]]:
    """Where the lines start, the place of each known column, and of each foreign one by name."""
    names = [cell.strip().lower() for cell in rows[0]]
    if not any(name in COLUMNS for name in names):
        if _is_date(names[0]) or names[1:2] in [
            [entry] for entry in ENTRIES
        ]:  # no header: the columns in our order
            return 0, {name: index for index, name in enumerate(COLUMNS)}, {}
        raise LogError(
            f"the columns of this file are {_quoted(rows[0])}; a log has {', '.join(COLUMNS)}"
        )
    missing = [name for name in _NEEDED if name not in names]
    if missing:
        raise LogError(
            f"the first line names no column {_quoted(missing)}; "
            f"it names {_quoted(rows[0])}, and a log has {', '.join(COLUMNS)}"
        )
    known = {name: names.index(name) for name in COLUMNS if name in names}
    return (
        1,
        known,
        {
            rows[0][index].strip() or f"column {index + 1}": index
            for index in range(len(names))
            if index not in known.values()
        },
    )


def _quoted(names: Sequence[str]) -> str:
    shown = [f"“{name.strip()[:40]}”" for name in names[:8]]
    return ", ".join(shown) + (" and more" if len(names) > 8 else "")


def _is_date(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _with_foreign(note: str, row: list[str], extra: dict[str, int], width: int) -> str:
    """The note with what stands in columns that a log does not have."""
    surplus = {f"column {index + 1}": index for index in range(width, len(row))}
    told = [
        f"{name}: {row[index].strip()}"
        for name, index in (extra | surplus).items()
        if index < len(row) and row[index].strip()
    ]
    return "; ".join(filter(None, (note, *told)))


def _entry(day: str, entry: str, hours: str, task: str, note: str) -> Entry:
    kind = entry if entry in ENTRIES else entry.strip().lower()
    if kind not in ENTRIES:
        raise ValueError(f"“{entry[:40]}” is no entry; write {', '.join(ENTRIES)}")
    number = _hours(hours) if hours else None
    task = task.strip()
    if kind == DONE:
        if not task:
            raise ValueError("a job that is done needs its name in the column “task”")
    elif number is None:
        raise ValueError(f"“{kind}” needs the meter's hours")
    return Entry(_date(day), kind, number, task, note.strip())


def _date(text: str) -> date:
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        raise ValueError(
            f"“{text[:40]}” is not a date; write it as year-month-day, 2026-05-31"
        ) from None
    if not _EARLIEST <= day <= _LATEST:
        raise ValueError(f"{told(day)} lies outside the years 1970 to 2199")
    return day


def _hours(text: str) -> float | None:
    try:
        hours = float(text)
    except ValueError:
        written = _written_hours(text.strip())
        if written is None:
            return None
        hours = written
    if not 0 <= hours <= _MOST_HOURS:
        raise ValueError(f"“{text[:40]}” is no number of hours from 0 to a million")
    return hours


def _written_hours(text: str) -> float | None:
    """Hours with a decimal comma or a unit: "812,5 h"; None for nothing."""
    if not text:
        return None
    plain = text.removesuffix("h").rstrip()
    if plain.count(",") == 1 and "." not in plain:
        plain = plain.replace(",", ".")
    try:
        return float(plain)
    except ValueError:
        raise ValueError(f"“{text[:40]}” is no number of hours") from None


def write(entries: Iterable[Entry]) -> str:
    """The log as CSV; `read` gives the same entries back."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(COLUMNS)
    rows.writerows(map(_harmless, _cells(entry)) for entry in entries)
    return out.getvalue()


_FORMULA = re.compile(r"'*[=+\-@\t\r]")  # what a spreadsheet works out, and what is escaped here


def _harmless(words: str) -> str:
    """A spreadsheet must not take words for a formula; `_words` gives them back."""
    return "'" + words if _FORMULA.match(words) else words


def _words(cell: str) -> str:
    words = cell.strip()
    return words[1:] if words[:1] == "'" and _FORMULA.match(words) else words


def _cells(entry: Entry) -> tuple[str, ...]:
    hours = "" if entry.hours is None else repr(entry.hours).removesuffix(".0")
    return (entry.day.isoformat(), entry.entry, hours, entry.task, entry.note)


def write_json(entries: Iterable[Entry]) -> str:
    """The log as versioned JSON, a line an entry."""
    lines = [
        json.dumps(dict(zip(COLUMNS, _cells(e), strict=True)), ensure_ascii=False) for e in entries
    ]
    body = ",\n  ".join(lines)
    return f'{{"{MARK}": {VERSION}, "entries": [\n  {body}\n]}}\n'


def read_json(text: str) -> tuple[Entry, ...]:
    """The entries of a log in JSON. Raises LogError with a sentence."""
    try:
        content = read_json_text(text.removeprefix("\ufeff"))
    except NestedTooDeep as error:
        raise LogError(str(error)) from None
    except ValueError:
        raise LogError("this file is neither CSV nor JSON as it stands") from None
    version = content.get(MARK) if isinstance(content, dict) else None
    if not isinstance(version, int) or isinstance(version, bool):
        raise LogError("this file is no log of this guide")
    if version > VERSION:
        raise LogError(
            f"this log has version {version}; this guide reads versions up to {VERSION}. "
            "Open it with a newer edition"
        )
    listed = content.get("entries")
    if not isinstance(listed, list) or not all(isinstance(one, dict) for one in listed):
        raise LogError("this file holds no entries of a log")
    names = list(dict.fromkeys([*COLUMNS, *(str(name) for one in listed for name in one)]))
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(names)
    rows.writerows([_harmless(_plain(one.get(name))) for name in names] for one in listed)
    return read(out.getvalue())


def _plain(value: Any) -> str:
    return "" if value is None else str(value)


def read_any(text: str) -> tuple[Entry, ...]:
    """The entries of a file that may be CSV or JSON. Raises LogError with a sentence."""
    return read_json(text) if text.lstrip("\ufeff \r\n\t").startswith("{") else read(text)


def merge(ours: Iterable[Entry], theirs: Iterable[Entry]) -> tuple[Entry, ...]:
    """Both logs as one: every line of either once, by day.

    Within a day by the meter, so that two devices' readings of one day do not contradict each
    other; where the meter was replaced on that day, ours before theirs.
    """
    days: dict[date, list[Entry]] = {}
    for entry in dict.fromkeys((*ours, *theirs)):
        days.setdefault(entry.day, []).append(entry)
    for of_day in days.values():
        if not any(entry.entry == REPLACED for entry in of_day):
            of_day.sort(key=_by_meter)
    return tuple(entry for day in sorted(days) for entry in days[day])


def _by_meter(entry: Entry) -> float:
    return math.inf if entry.hours is None else entry.hours


def entry_of(cells: Mapping[str, str]) -> Entry:
    """One entry out of its texts by column. Raises ValueError with a sentence."""
    return _entry(*(cells.get(name, "").strip() for name in COLUMNS))


# ---- what the log tells ----


@lru_cache(maxsize=8)
def meter(entries: tuple[Entry, ...]) -> tuple[Meter, ...]:
    """Running hours since the first line at every line that reads the meter.

    Raises LogError that names the line where a reading is lower than the one before it, or shows
    more hours since one before it than the days from the one to the other have.
    """
    days: list[date] = []
    totals: list[float] = []
    total, last_day, last = 0.0, date.min, -1.0
    # The reading that allows the least: its hours, less those of all days up to it.
    least, since = math.inf, 0
    for number, (day, kind, hours, _, _) in enumerate(entries, 1):
        if hours is None:
            continue
        if last < 0:  # the first reading: hours before the log count too
            total = hours
        elif kind == REPLACED:
            pass
        elif hours < last:
            raise LogError(
                f"entry {number} by date ({told(day)}): the meter reads {hours:g} h, but "
                f"{last:g} h stood there on {told(last_day)}. {_way_out(last_day, day, hours)}"
            )
        else:
            total += hours - last
        lead = total - _DAY_HOURS * day.toordinal()
        if lead - least > _DAY_HOURS + 1e-6:
            raise LogError(
                _too_many(entries, number, since, total - totals[since])
                + _way_out(last_day, day, hours)
            )
        if lead < least:
            least, since = lead, len(days)
        last_day, last = day, hours
        days.append(day)
        totals.append(total)
    return tuple(map(Meter._make, zip(days, totals, strict=True)))


def _too_many(entries: Sequence[Entry], number: int, since: int, more: float) -> str:
    """That the entry of this number shows more hours than there were since that reading."""
    entry, before = entries[number - 1], [e for e in entries if e.hours is not None][since]
    days = (entry.day - before.day).days + 1
    allowed = f"those {days} days have" if days > 1 else "that day has"
    return (
        f"entry {number} by date ({told(entry.day)}): the meter reads {entry.hours:g} h, and "
        f"{before.hours:g} h stood there on {told(before.day)}. That makes {more:g} h of "
        f"running, and {allowed} only {days * _DAY_HOURS:g} h. "
    )


def _way_out(last_day: date, day: date, hours: float) -> str:
    meter = new_meter(last_day, day, hours)
    return (
        f"If the meter was replaced, add a line “{meter.day},{REPLACED},{meter.hours:g}” between "
        "them; if not, correct one of the two"
    )


def new_meter(last_day: date, day: date, hours: float) -> Entry:
    """The line for a new meter that reads `hours` on a day, the old one last read on `last_day`.

    It began at nothing as late as the hours allow; a meter that cannot have begun at nothing since
    `last_day` begins at what it reads, and nothing is counted for the days between.
    """
    if hours <= _DAY_HOURS:
        return Entry(day, REPLACED, 0.0, "", "")
    if hours <= _DAY_HOURS * ((day - last_day).days + 1):
        return Entry(last_day, REPLACED, 0.0, "", "")
    return Entry(day, REPLACED, hours, "", "")


def latest(entries: Sequence[Entry]) -> date | None:
    """The last day of the log."""
    return entries[-1].day if entries else None


class LastDone(NamedTuple):
    """When a task was last done, and the running hours then."""

    day: date
    hours: float
    note: str


@lru_cache(maxsize=8)
def last_done(entries: tuple[Entry, ...]) -> dict[str, LastDone]:
    """When each task was last done, by its name in lower case; hours as `meter` counts them.

    A job without a reading takes the hours between the readings around it, by the day.
    """
    found = meter(entries)
    readings = iter(found)
    jobs: dict[str, tuple[date, float | None, str]] = {}
    for entry in entries:
        hours = next(readings).hours if entry.hours is not None else None
        if entry.entry == DONE:
            jobs[entry.task.lower()] = (entry.day, hours, entry.note)
    return {
        task: LastDone(day, hours_on(found, day) if hours is None else hours, note)
        for task, (day, hours, note) in jobs.items()
    }


def hours_on(readings: Sequence[Meter], day: date) -> float:
    """Running hours on a day, in proportion between the readings around it; 0 without any."""
    place = bisect_right(readings, day, key=itemgetter(0))
    if not 0 < place < len(readings):
        edge = readings[max(place - 1, 0)] if readings else None
        return edge.hours if edge else 0.0
    before, after = readings[place - 1], readings[place]
    share = (day - before.day).days / (after.day - before.day).days
    return before.hours + share * (after.hours - before.hours)
