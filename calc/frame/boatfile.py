"""A boat sheet as a file: small, readable, versioned; what it does not know it keeps.

    {"brinebook boat": 1, "values": {"name": "Alder", "bank_capacity": "440 Ah", ...}}

is JSON; the same in TOML is read too. A bare table of values is version 0. A newer version is
refused with a sentence, because what its values mean cannot be known here.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from .inputs import MOST_ROWS, Inputs, Log, as_text
from .language import Said
from .nested import NestedTooDeep, read_json, read_toml

MARK = "brinebook boat"
VERSION = 1
LARGEST = 3_000_000  # characters: ten years of log and more
_MOST_VALUES = 2000

Sheet = dict[str, Any]


class BoatFileError(Said):
    """A file that is no boat sheet; the message is a sentence for the reader."""


def write(sheet: Mapping[str, Any], asks: type[Inputs]) -> str:
    """The file of a sheet: fields in the order of the sheet, then what the sheet does not know."""
    known = [name for name in asks.fields if name in sheet]
    ordered = {name: sheet[name] for name in [*known, *(n for n in sheet if n not in known)]}
    return json.dumps({MARK: VERSION, "values": ordered}, ensure_ascii=False, indent=2) + "\n"


def read(text: str, asks: type[Inputs]) -> Sheet:
    """The sheet in a file, JSON or TOML. Raises BoatFileError with a sentence."""
    if len(text) > LARGEST:
        raise BoatFileError("This file is too large to be a boat sheet.")
    # TOML knows no line ends of CR alone; in JSON and in texts they mean no more than LF.
    content = _parsed(text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n"))
    version = content.get(MARK, 0)
    if not isinstance(version, int) or isinstance(version, bool) or version < 0:
        raise BoatFileError("This file does not say properly which version of a boat sheet it is.")
    if version > VERSION:
        raise BoatFileError(
            "This boat sheet has version {version}; this guide reads versions up to {newest}. "
            "Open it with a newer edition of the guide.",
            version=version,
            newest=VERSION,
        )
    values = content.get("values") if version else content
    if not isinstance(values, dict):
        raise BoatFileError("This file holds no values of a boat sheet.")
    if len(values) > _MOST_VALUES:
        raise BoatFileError("This file holds more values than a boat sheet has.")
    return {str(name)[:80]: _plain(value, _longest(name, asks)) for name, value in values.items()}


def _longest(name: str, asks: type[Inputs]) -> int:
    """The most characters of a text: a log has many lines, anything else is short."""
    return LARGEST if isinstance(asks.fields.get(name), Log) else 2000


def _parsed(text: str) -> dict[str, Any]:
    found: Any = None
    try:
        found = read_json(text)
    except NestedTooDeep as error:
        raise BoatFileError("This file is no boat sheet: {why}.", why=error) from None
    except ValueError:
        try:
            found = read_toml(text)
        except ValueError:
            raise BoatFileError(
                "This file is neither JSON nor TOML, so it is no boat sheet."
            ) from None
    if not isinstance(found, dict) or not found:
        raise BoatFileError("This file holds no named values, so it is no boat sheet.")
    return found


def _plain(value: Any, longest: int) -> Any:
    """Texts, and lists of rows of texts; anything else as the text it would be."""
    if isinstance(value, list):
        rows = [row for row in value[:MOST_ROWS] if isinstance(row, dict)]
        return [{str(k)[:80]: as_text(v)[:2000] for k, v in row.items()} for row in rows]
    return as_text(value)[:longest]
