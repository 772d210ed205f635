"""The log of the machine: hour-meter readings and jobs done, with dates; as CSV and as JSON.

    date,entry,hours,task,note
    2026-04-02,reading,812,,
    2026-04-02,done,812,Crankcase oil,"0.3 L, can from Horta"
    2026-05-01,meter replaced,0,,new display

`hours` is what the meter shows. After "meter replaced" the new meter counts on from what is given
there. No more hours run than the days have. A book of `calc.frame.book`, by its columns.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from datetime import date
from functools import lru_cache
from operator import itemgetter
from typing import Any, NamedTuple

from .book import Book, LogError
from .columns import Day, Hours, OneOf, Words
from .dates import told
from .language import Said, Several, Told, phrase, spoken

READING, DONE, REPLACED = "reading", "done", "meter replaced"
ENTRIES = {
    READING: "a reading of the hour meter",
    DONE: "a job that is done",
    REPLACED: "the hour meter was replaced",
}
_DAY_HOURS = 24.0


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


class _Machine(Book[Entry]):
    """What holds for the log of a machine beside its columns."""

    def line_of(self, values: Sequence[Any]) -> Entry:
        entry = super().line_of(values)
        if entry.entry == DONE:
            if not entry.task:
                raise Said("a job that is done needs its name in the column “task”")
        elif entry.hours is None:
            raise Said("“{entry}” needs the meter's hours", entry=entry.entry)
        return entry

    def all_lines(self, columns: Sequence[Sequence[Any]]) -> bool:
        _, entries, hours, tasks, _ = columns
        unread = {entry for entry, read in zip(entries, hours, strict=True) if read is None}
        done = {task for entry, task in zip(entries, tasks, strict=True) if entry == DONE}
        return unread <= {DONE} and "" not in done

    def check(self, lines: tuple[Entry, ...]) -> None:
        meter(lines)

    def in_order(self, of_day: list[Entry]) -> list[Entry]:
        """By the meter, so that two devices' readings of one day do not contradict each other;
        where the meter was replaced on that day, ours before theirs."""
        if any(entry.entry == REPLACED for entry in of_day):
            return of_day
        return sorted(of_day, key=_by_meter)

    def offer(self, lines: Sequence[Entry], line: Entry) -> str:
        # At the end of the log, what the meter cannot have reached may be that of a new one.
        newest = _newest(lines)
        return REPLACED if newest and line.day >= newest.day else ""

    def instead(self, lines: tuple[Entry, ...], line: Entry) -> tuple[tuple[Entry, ...], str]:
        newest = _newest(lines)
        if newest is None or line.hours is None:
            return lines, ""
        meter = new_meter(newest.day, line.day, line.hours)
        place = sum(old.day <= meter.day for old in lines)
        unknown = "What ran between {day} and then nobody knows: it counts as nothing."
        said = f" {spoken(unknown, day=told(newest.day))}" if meter.hours else ""
        return (*lines[:place], meter, *lines[place:]), said

    def told(self, line: Entry) -> str:
        hours = "" if line.hours is None else f", {line.hours:g} h"
        return f"{super().told(line)}{hours}"

    def what(self, line: Entry) -> str:
        return line.task if line.entry == DONE else line.entry

    def rest(self, line: Entry) -> str:
        hours = spoken("no reading") if line.hours is None else f"{line.hours:g} h"
        return f"{hours}, “{line.note}”" if line.note else hours

    def same(self, line: Entry) -> tuple[Any, ...] | None:
        return None if line.entry == READING else (line.day, line.entry, line.task.lower())


MACHINE = _Machine(
    "brinebook log",
    Entry._make,
    (
        Day("date", "Date", needed=True),
        OneOf("entry", "What", ENTRIES, needed=True),
        Hours("hours", "Hours it reads"),
        Words("task", "Job", listed=True),
        Words("note", "Note", longest=200),
    ),
)
"""The log of the machine."""


def _by_meter(entry: Entry) -> float:
    return math.inf if entry.hours is None else entry.hours


def _newest(entries: Sequence[Entry]) -> Entry | None:
    """The last line that reads the meter."""
    return next((old for old in reversed(entries) if old.hours is not None), None)


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
                "entry {n} by date ({day}): the meter reads {hours} h, but {before} h stood there "
                "on {last_day}. {way_out}",
                n=number,
                day=told(day),
                hours=f"{hours:g}",
                before=f"{last:g}",
                last_day=told(last_day),
                way_out=_way_out(last_day, day, hours),
            )
        else:
            total += hours - last
        lead = total - _DAY_HOURS * day.toordinal()
        if lead - least > _DAY_HOURS + 1e-6:
            raise LogError(
                Several(
                    (
                        _too_many(entries, number, since, total - totals[since]),
                        _way_out(last_day, day, hours),
                    ),
                    " ",
                )
            )
        if lead < least:
            least, since = lead, len(days)
        last_day, last = day, hours
        days.append(day)
        totals.append(total)
    return tuple(map(Meter._make, zip(days, totals, strict=True)))


def _too_many(entries: Sequence[Entry], number: int, since: int, more: float) -> Told:
    """That the entry of this number shows more hours than there were since that reading."""
    entry, before = entries[number - 1], [e for e in entries if e.hours is not None][since]
    days = (entry.day - before.day).days + 1
    slots = {
        "n": number,
        "day": told(entry.day),
        "hours": f"{entry.hours:g}",
        "before": f"{before.hours:g}",
        "last_day": told(before.day),
        "more": f"{more:g}",
        "all": f"{days * _DAY_HOURS:g}",
    }
    if days > 1:
        return phrase(
            "entry {n} by date ({day}): the meter reads {hours} h, and {before} h stood there on "
            "{last_day}. That makes {more} h of running, and those {days} days have only {all} h.",
            days=days,
            **slots,
        )
    return phrase(
        "entry {n} by date ({day}): the meter reads {hours} h, and {before} h stood there on "
        "{last_day}. That makes {more} h of running, and that day has only {all} h.",
        **slots,
    )


def _way_out(last_day: date, day: date, hours: float) -> Told:
    meter = new_meter(last_day, day, hours)
    return phrase(
        "If the meter was replaced, add a line “{line}” between them; if not, correct one of the "
        "two",
        line=f"{meter.day},{REPLACED},{meter.hours:g}",
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
