"""The fragment of an address that holds a form's values; see `links`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from urllib.parse import quote_plus

from .inputs import DEFAULT, Bound, Log, Rows, as_text

VERSION, OF_OWN = "a1", "a2"


def own(name: str, bound: Bound) -> str:
    """The fragment that reproduces a form: all that is typed or from the boat sheet."""
    return _written(name, bound, lambda field: bound.origin(field).own)


def whole(name: str, bound: Bound) -> str:
    """The fragment of a form that is read from more than its own page has: of an example's boat
    all that is not as usual, whoever says it."""
    if bound.own_boat:
        return own(name, bound)
    usual = ("default", "record", "usual", DEFAULT.kind)

    def said(field: str) -> bool:
        return bound.origin(field).kind not in usual and bound.asked(field)

    return _written(name, bound, said)


def _written(name: str, bound: Bound, says: Callable[[str], bool]) -> str:
    parts = []
    for field, made in bound.asks.fields.items():
        if not says(field):
            continue
        if isinstance(made, Log):  # far too long for an address, and nobody else's business
            continue
        if isinstance(made, Rows):
            parts += _row_parts(field, bound.texts[field])
        else:
            parts.append((field, as_text(bound.texts[field])))
    told = "&".join(f"{key}={quote_plus(value, safe=':,/')}" for key, value in parts)
    return f"{OF_OWN if bound.own_boat else VERSION}:{name}?{told}"


def _row_parts(name: str, listed: Any) -> list[tuple[str, str]]:
    cells = [
        (f"{name}.{index}.{key}", as_text(value))
        for index, row in enumerate(listed)
        for key, value in row.items()
    ]
    return cells or [(name, "")]
