"""Answer links: the inputs that differ from a page's example, in the fragment of its address.

A fragment reads `a1:power?bank_capacity=200+Ah&run_hours=3+h`: version, calculator, texts as typed.
`a2` is that of a boat of one's own: what is not in it is not there, and no example fills it in.
A list's cells are written `loads.0.power`; an empty list is `loads=`. Browsers never send a
fragment to the host.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import parse_qsl

from . import fragments
from .fragments import OF_OWN, VERSION
from .guide import Calculator, Guide
from .inputs import MOST_ROWS, Bound, Rows
from .language import Said

LONGEST = 20_000
_CELL = re.compile(r"(\w{1,80})\.(\d{1,3})\.(\w{1,80})")


class LinkError(Said):
    """A fragment that cannot be opened; the message is a sentence for the reader."""


@dataclass(frozen=True)
class Opened:
    """What a link holds: the calculator, texts by field, whether of a boat of one's own, and names
    it holds that nobody asks."""

    calculator: str
    typed: Mapping[str, Any]
    own: bool = False
    unknown: tuple[str, ...] = field(default=())


def fragment(calculator: Calculator, bound: Bound) -> str:
    """The fragment that reproduces a form: all that is typed or from the boat sheet."""
    return fragments.own(calculator.name, bound)


def looks_like_one(text: str) -> bool:
    """Whether a fragment claims to be an answer link at all; headings of a page do not."""
    return re.match(r"#?a\d+:", text) is not None


def read(text: str, guide: Guide) -> Opened:
    """What a fragment holds. Raises LinkError with a sentence."""
    body = text.removeprefix("#")
    if len(body) > LONGEST:
        raise LinkError("This link is too long to be one of this guide's.")
    head, _, query = body.partition("?")
    version, _, name = head.partition(":")
    if version not in (VERSION, OF_OWN):
        raise LinkError(
            "This link was made by another edition of the guide and cannot be read here."
        )
    if name not in guide.names():
        raise LinkError("This link belongs to a calculator that this guide does not have.")
    return _opened(guide.get(name), query, version == OF_OWN)


def _opened(made: Calculator, query: str, own: bool) -> Opened:
    typed: dict[str, Any] = {}
    unknown: list[str] = []
    try:
        pairs = parse_qsl(query, keep_blank_values=True, max_num_fields=MOST_ROWS * 20)
    except ValueError:
        raise LinkError("This link holds more values than any page asks for.") from None
    for key, value in pairs:
        cell = _CELL.fullmatch(key)
        if cell and isinstance(made.asks.fields.get(cell[1]), Rows) and int(cell[2]) < MOST_ROWS:
            listed = typed.setdefault(cell[1], [])
            while len(listed) <= int(cell[2]):
                listed.append({})
            listed[int(cell[2])][cell[3]] = value
        elif isinstance(made.asks.fields.get(key), Rows):
            typed.setdefault(key, [])
        elif key in made.asks.fields:
            typed[key] = value
        else:
            unknown.append(key)
    return Opened(made.name, typed, own, tuple(dict.fromkeys(unknown)))
