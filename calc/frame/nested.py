"""JSON and TOML from outside, held to a depth: a deeper nest exhausts the stack that reads it."""

from __future__ import annotations

import json
import re
import tomllib
from typing import Any

from .language import Said

DEEPEST = 40
_JSON_PARTS = re.compile(r'"[^"\\]*(?:\\.[^"\\]*)*"?|[\[\]{}]', re.S)
_KEY_PART = re.compile(rf"""(?<![\w"'-])(?:[\w"'-]+[ \t]*\.[ \t]*){{{DEEPEST}}}""")


class NestedTooDeep(Said):
    """What is nested deeper than anything that this guide reads."""

    def __init__(self) -> None:
        super().__init__("it is nested more than {deepest} levels deep", deepest=DEEPEST)


def read_json(text: str) -> Any:
    """Raises ValueError, NestedTooDeep among them, for what is no JSON."""
    depth = 0
    if text.count("[") + text.count("{") > DEEPEST:
        for found in _JSON_PARTS.finditer(text):
            mark = found[0]
            depth += (mark in "[{") - (mark in "]}")
            if depth > DEEPEST:
                raise NestedTooDeep
    return json.loads(text)


def read_toml(text: str) -> dict[str, Any]:
    """Raises ValueError, NestedTooDeep among them, for what is no TOML.

    Brackets within a text count too: nobody writes forty of them that do not close.
    """
    depth = 0
    for found in re.finditer(r"[\[\]{}]", text):
        depth = max(0, depth + (1 if found[0] in "[{" else -1))
        if depth > DEEPEST:
            raise NestedTooDeep
    if _KEY_PART.search(text):
        raise NestedTooDeep
    return tomllib.loads(text)
