"""What whoever sells a thing says of it: its price, its maker's number, a page about it.

All three are shown as they were written, and nothing is reckoned with them. A price names its
money; where none is said, none is shown.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, cast

from .inputs import Bound, InputError, Kind, Record, Text, text
from .language import spoken

OFFERED = "What it costs and where to get it"
# Whose values an edition's are, and how to reach them.
WHOSE = "Values of equipment by {house}; estimates, see the maker."

# A number, with spaces, commas or points between its digits, and a sign or letters on one side.
_NUMBER = r"\d[\d .,\u00a0\u202f’']*"
_MONEY = r"[A-Z]{3}|[A-Za-z]{0,3}[^\w\s.,;:%<>\"'¤+-]|[A-Za-zÀ-ž]{1,3}\.?"
_PRICE = re.compile(rf"(?:(?P<before>{_MONEY})\s*{_NUMBER}|{_NUMBER}\s*(?P<after>{_MONEY}))")
_HOST = r"[a-z0-9]([a-z0-9.-]*[a-z0-9])?(:\d{1,5})?"
_LINK = re.compile(rf"https://{_HOST}(/[^\s<>\"'\\]*)?", re.IGNORECASE)


@dataclass
class Price(Text):
    """An amount of money with its currency, as it is told to a customer; the value is the text."""

    longest: int = 40

    def read(self, text: str) -> str:
        line = super().read(text)
        if not _PRICE.fullmatch(line):
            raise InputError(
                "“{text}” is no price; write a number with its currency: “1490 €”, “AUD 2400”",
                text=line,
            )
        return line


@dataclass
class Link(Text):
    """The address of a page, which is opened only by a reader's own hand."""

    def read(self, text: str) -> str:
        line = super().read(text)
        if not _LINK.fullmatch(line):
            raise InputError(
                "“{text}” is no address of a page; write it whole: “https://example.org/unit”",
                text=line,
            )
        return line


def currency(price: str) -> str:
    """The money that a price is in, as it was written."""
    found = _PRICE.fullmatch(price)
    return (found["before"] or found["after"]) if found else ""


def _optional(made: Any) -> str | None:
    return cast("str | None", made)


class Sold(Kind):
    """A kind of thing that somebody sells."""

    price = _optional(Price("Price", optional=True))
    part_number = text("Maker's number", longest=60)
    link = _optional(Link("Page about it", optional=True))

    @property
    def offered(self) -> bool:
        """Whether anything is said of where it comes from."""
        return any((self.price, self.part_number, self.link))


def in_a_line(one: Sold) -> str:
    """A thing in a line: its name, its price and its number, as they were written."""
    number = one.part_number and spoken("maker's number {number}", number=one.part_number)
    return ", ".join(filter(None, (one.name, one.price, number)))


def with_its_link(one: Sold) -> str:
    """The same for paper and terminals, where an address is words."""
    return ", ".join(filter(None, (in_a_line(one), one.link)))


def offers(bound: Bound) -> list[Sold]:
    """The things of which a form names the records and somebody says what they cost or where they
    are told of; each once. What a reader rates otherwise is another thing, and on a boat of her own
    only what she said is there."""
    found = {
        (value.kind, value.key): value
        for name, made in bound.asks.fields.items()
        if isinstance(made, Record) and name not in bound.outgrown and bound.asked(name)
        if bound.own(name) or not bound.own_boat
        for value in (bound.values.get(name),)
        if isinstance(value, Sold) and value.offered
    }
    return list(found.values())
