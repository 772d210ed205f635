"""A log as a page keeps it: a line added, another log merged, a file to save.

Nothing that stood in the log is lost: what cannot be done leaves it as it is, and says why. Which
log it is, its book says.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from .book import Book, LogError
from .dates import told
from .language import spoken, spoken_count

_MOST_NAMED = 5


@dataclass(frozen=True)
class Changed:
    """A log after a change, and what to say of it.

    `offer` names another way to do what could not be done, as its book has one, or nothing.
    """

    text: str
    said: str
    done: bool = True
    offer: str = ""


def add(
    book: Book[Any],
    text: str,
    cells: Mapping[str, str],
    today: date | None = None,
    instead: bool = False,
) -> Changed:
    """The log with one more line, by its texts by column; `instead`: the way that was offered."""
    try:
        lines = _ours(book, text)
        line = book.line_from(cells)
    except ValueError as error:
        return Changed(text, _sentence(str(error)), done=False)
    if today and line[0] > today:
        days = {"day": told(line[0]), "today": told(today)}
        said = spoken("{day} lies in the future: today is {today}.", **days)
        return Changed(text, said, done=False)
    if line in lines:
        return Changed(text, spoken("This line stands in the log already."), done=False)
    before, more = book.instead(lines, line) if instead else (lines, "")
    place = sum(old[0] <= line[0] for old in before)
    made = (*before[:place], line, *before[place:])
    try:
        book.check(made)
    except LogError as error:
        offer = "" if instead else book.offer(lines, line)
        return Changed(text, _sentence(str(error)), False, offer)
    added = spoken("Added: {line}.", line=book.told(line))
    return Changed(book.write(made), f"{added}{more}")


def merge(book: Book[Any], ours_text: str, theirs_text: str) -> Changed:
    """Our log with the lines of a file, CSV or JSON; what the two say differently is named."""
    try:
        ours = _ours(book, ours_text)
    except LogError as error:
        return Changed(ours_text, _sentence(str(error)), done=False)
    try:
        theirs = book.read_any(theirs_text)
    except LogError as error:
        return Changed(
            ours_text, spoken("The file is no log as it stands: {why}.", why=error), done=False
        )
    both = book.merge(ours, theirs)
    known = set(ours)
    new = len(both) - len(known)
    already = len(known & set(theirs))
    there = spoken_count(already, "{n} line was there", "{n} lines were there")
    said = [spoken("{added} added, {there}.", added=_lines(new), there=there)]
    said += _conflicts(book, ours, theirs)
    try:
        book.check(both)
    except LogError as error:
        said.append(spoken("The two don't agree: {why}.", why=error))
    return Changed(book.write(both), " ".join(said))


def _conflicts(book: Book[Any], ours: Sequence[Any], theirs: Sequence[Any]) -> list[str]:
    """Sentences on what the two logs tell differently; both lines are kept."""
    known, other = set(ours), set(theirs)
    mine = {book.same(line): line for line in ours if line not in other}
    mine.pop(None, None)
    found = []
    for line in theirs:
        same = None if line in known else mine.get(book.same(line))
        if same is not None:
            found.append(
                spoken(
                    "{what} of {day}: {ours} here, {theirs} there",
                    what=book.what(line),
                    day=told(line[0]),
                    ours=book.rest(same),
                    theirs=book.rest(line),
                )
            )
    if not found:
        return []
    named = found[:_MOST_NAMED]
    if len(found) > _MOST_NAMED:
        named.append(spoken("and {n} more", n=len(found) - _MOST_NAMED))
    return [spoken("Told differently, both are kept: {lines}.", lines="; ".join(named))]


def file(book: Book[Any], text: str, kind: str) -> tuple[str, str]:
    """The log as a file and its media type: "json", or CSV. A log with faults is saved as it is."""
    try:
        lines = book.read(text)
    except LogError:
        return text, "text/csv"
    if kind == "json":
        return book.write_json(lines), "application/json"
    return book.write(lines), "text/csv"


def _ours(book: Book[Any], text: str) -> tuple[Any, ...]:
    try:
        lines = book.read(text)
        book.check(lines)
    except LogError as error:
        raise LogError(
            "The log as it stands has a fault; mend it first. {why}", why=error
        ) from None
    return lines


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")


def _lines(count: int) -> str:
    return spoken_count(count, "{n} line", "{n} lines")
