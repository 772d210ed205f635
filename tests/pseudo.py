"""A language made by machine: each letter bears an accent, each word is a third longer.

What is shown in it and still reads as English was put into no language: it was forgotten.
"""

from __future__ import annotations

import re
from functools import cache

from calc.frame import units
from calc.frame.language import Catalogue
from site_build import language

_PLAIN = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
_ACCENTED = "áƀçðéƒğĥíĵķĺɱñóþɋŕšţúṽŵẋýžÁƁÇĐÉƑĞĤÍĴĶĹṀÑÓÞɊŔŠŢÚṼŴẊÝŽ"
_LETTERS = str.maketrans(_PLAIN, _ACCENTED)

# What no translator would touch: slots, amounts, standards, signs, and what is typed.
KEPT = re.compile(
    r"{\w+}|--\w+|\b\w+=…?|python3 -m calc|LiFePO4|\bpH\b|\b(?:[A-Z]{2,}|[A-Z]\d)[\w/-]*"
)


def pseudo_words(text: str) -> str:
    """A sentence in the language made by machine."""
    kept = sorted(
        found.span() for pattern in (KEPT, units.written()) for found in pattern.finditer(text)
    )
    out, at = [], 0
    for start, end in kept:
        if start >= at:
            out += [_accented(text[at:start]), _joined(text[start:end])]
            at = end
    return "".join([*out, _accented(text[at:])])


def _joined(kept: str) -> str:
    """An amount whose numbers are put together by a word of this language."""
    words = "|".join(units.JOINED_BY)
    return re.sub(rf"(?<= )(?:{words})(?= )", lambda found: _accented(found[0]), kept)


def _accented(text: str) -> str:
    longer = re.sub(r"([A-Za-z]{2})([a-z])", r"\1\2\2", text)
    return longer.translate(_LETTERS)


@cache
def pseudo() -> Catalogue:
    """The whole catalogue."""
    words, counts = {}, {}
    for message in language.template():
        if isinstance(message.id, str):
            words[message.id] = pseudo_words(message.id)
        elif message.id:
            counts[message.id[0]] = tuple(map(pseudo_words, message.id))
    words.pop("", None)
    forms = [int(n != 1) for n in range(200)]
    return Catalogue("en-XA", "Þšéúðó", words, counts, forms, ",")
