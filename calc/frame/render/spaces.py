"""Spaces that no line may break at: in a long number, and before the unit that belongs to it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache, reduce
from html import escape

from .. import units
from ..language import ENGLISH, chosen, literal

NO_BREAK = "\u00a0"
NARROW = "\u202f"  # the same, narrow, as numbers are parted in print

_PRINTED = {units.pretty(symbol).removesuffix(" difference") for _, symbol in units.UNITS if symbol}
_MONEYS = [
    "€",
    "$",
    "£",
    "AUD",
    "CAD",
    "CHF",
    "DKK",
    "EUR",
    "GBP",
    "NOK",
    "NZD",
    "PLN",
    "SEK",
    "USD",
    "ZAR",
]
_SYMBOLS = sorted(
    {one.replace("¤", money) for one in _PRINTED for money in ("¤", *_MONEYS)},
    key=len,
    reverse=True,
)
_UNIT = re.compile(rf"(?<=\d) (?:{'|'.join(map(re.escape, _SYMBOLS))})(?![\w/])")
_THOUSANDS = re.compile(r"(?<![\d.,])\d{1,3}(?: \d{3})+(?!\d)")
_SIGN = re.compile(r"(?<=[≤≥±]) (?=\S)")


def kept_together(text: str) -> str:
    """A text in which no line breaks inside a number or between a number and its unit."""
    text = _THOUSANDS.sub(lambda found: found[0].replace(" ", NARROW), text)
    text = _UNIT.sub(lambda found: found[0].replace(" ", NO_BREAK), text)
    return _SIGN.sub(NO_BREAK, text)


@lru_cache(maxsize=4096)  # most of an answer stays as it was when one value changes
def said(text: str) -> str:
    """A text for a page: escaped, its numbers kept together. Not for what a form's control holds."""
    return kept_together(escape(text))


def worded(template: str, /, **parts: str) -> str:
    """A sentence of ours for a page, in the language spoken; what stands in its slots is HTML."""
    told = escape(literal(template), quote=False)
    return told.format(**parts) if parts else told


def named(template: str, /, **slots: str) -> str:
    """A sentence of ours for an attribute, in the language spoken; its slots hold plain text."""
    told = literal(template)
    return escape(told.format(**slots) if slots else told, quote=True)


def in_english() -> str:
    """The mark of what stays as it is written where another language is spoken: works that are
    cited."""
    return "" if chosen.get() is ENGLISH else ' lang="en"'


def one_of(parts: Sequence[str]) -> str:
    """Parts of HTML of which one will do: "this or that"."""
    return reduce(lambda one, other: worded("{one} or {other}", one=one, other=other), parts)


_BETWEEN_TAGS = re.compile(r">[^<]*\d[^<]*<")
_AS_WRITTEN = re.compile(r"(<(pre|code|script|style|svg|textarea|select)\b.*?</\2>)", re.DOTALL)


def in_page(html: str) -> str:
    """A page's HTML with the numbers of its prose kept together; code stays as it is written."""
    parts = _AS_WRITTEN.split(html)
    for index in range(0, len(parts), 3):
        parts[index] = _BETWEEN_TAGS.sub(lambda found: kept_together(found[0]), parts[index])
    return "".join(part for index, part in enumerate(parts) if index % 3 != 2)
