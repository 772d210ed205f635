"""The English that is left in what is shown in the language made by machine."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from html.parser import HTMLParser
from typing import Any

from pseudo import KEPT, pseudo

from calc.frame import units
from calc.frame.guide import Guide
from calc.frame.inputs import Choice, Rows, Text
from calc.frame.language import speaking
from calc.physics import conductors, speech

# Attributes that a reader hears or sees.
TOLD = ("aria-label", "title", "alt", "placeholder", "data-told")
_EMPTY = {"input", "br", "img", "path", "rect", "circle", "hr", "meta", "link", "line"}
_APART = {"math", "style", "script", "textarea"}  # symbols, not words; a log as it was written


class _Words(HTMLParser):
    """The words of a page, without those that are marked as another language's."""

    def __init__(self, apart: tuple[str, ...]) -> None:
        super().__init__(convert_charrefs=True)
        self._apart = _APART.union(apart)
        self.words: list[str] = []
        self._open: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        apart = (
            tag in self._apart
            or named.get("lang") == "en"
            or (bool(self._open) and self._open[-1][1])
        )
        if not apart:
            self.words += [value for name, value in attrs if name in TOLD and value]
        if tag not in _EMPTY:
            self._open.append((tag, apart))

    def handle_endtag(self, tag: str) -> None:
        while self._open and self._open.pop()[0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        if not (self._open and self._open[-1][1]):
            self.words.append(data)


def words_of(page: str, apart: tuple[str, ...] = ()) -> list[str]:
    """What a page tells by its text and its attributes; not what stands in elements `apart`."""
    reader = _Words(apart)
    reader.feed(page)
    reader.close()
    return reader.words


def texts(part: Any) -> Iterator[str]:
    """All texts in what a record says, however deep."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, Mapping):
        for one in part.values():
            yield from texts(one)
    elif isinstance(part, Sequence):
        for one in part:
            yield from texts(one)


@cache
def names(guide: Guide) -> re.Pattern[str]:
    """What is a name or a sign and stays as it is: records, keys that one types, units' symbols."""

    shelves = guide.shelves.values()
    records = [one for shelf in shelves for record in shelf.values() for one in texts(record.texts)]
    records += [key for shelf in shelves for key in shelf]
    records += [cell for one in records if "\n" in one for cell in re.split(r"[,\n]", one)]
    records += [one.texts["name"].partition(",")[0] for one in guide.shelf("boat").values()]
    records += guide.shelves
    records += [one.source for one in speech.CRITERIA.values()]
    sizes = [size.name for size in (*conductors.GAUGES, *conductors.METRIC)]
    fields = [made for name in guide.names() for made in guide.get(name).asks.fields.values()]
    fields += [
        cell for made in fields if isinstance(made, Rows) for cell in made.row.fields.values()
    ]
    records += [key for made in fields if isinstance(made, Choice) for key in made.choices]
    records += [made.default for made in fields if isinstance(made, Text)]
    records += [
        one
        for made in fields
        if isinstance(made, Rows)
        for row in made.example
        for one in texts(row)
    ]
    with speaking(pseudo()):
        mark = units.decimal_mark.set(",")
        records += [units.in_system(one, "us") for one in records]
        units.decimal_mark.reset(mark)
    symbols = [units.pretty(symbol) for _, symbol in units.UNITS if symbol]
    known = sorted({one for one in (*records, *sizes) if len(one) > 2}, key=len, reverse=True)
    signs = sorted({one for one in symbols if len(one) > 1}, key=len, reverse=True)
    return re.compile(
        r"(?<![^\W\d_])(?:" + "|".join(map(re.escape, [*known, *signs])) + r")(?![^\W\d_])"
    )


FILES = re.compile(r"[\w-]+\.(?:ics|csv|svg|html|json)")


def english(told: str, guide: Guide, typed: str = "") -> list[str]:
    """The English that a text still has: letters without an accent, three and more."""
    plain = re.sub(r"[^·;]*…", " ", " ".join(told.split()))  # a name that was cut
    for known in (FILES, names(guide), KEPT):
        plain = known.sub(" ", plain)
    return [one for one in re.findall(r"[A-Za-z]{3,}", plain) if one not in typed]
