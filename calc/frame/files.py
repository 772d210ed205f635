"""Text files that somebody else wrote: read whole, or complained about by file and line."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from typing import Any

from .nested import read_toml

BYTE_ORDER_MARK = b"\xef\xbb\xbf"


@dataclass(frozen=True)
class FileFault:
    """One thing wrong with a file: what kind of fault (`key`), where, and a plain sentence.

    A line of 0 is the file as a whole. `record` is the record or the table that it stands in.
    """

    key: str
    file: str
    line: int
    sentence: str
    record: str = ""
    field: str = ""

    def __str__(self) -> str:
        where = f"{self.file}, line {self.line}" if self.line else self.file
        what = ", ".join(filter(None, (self.record, self.field)))
        return f"{where}: {what}: {self.sentence}" if what else f"{where}: {self.sentence}"


def decoded(content: bytes, name: str) -> str | FileFault:
    """The text of a file, or what is wrong with its encoding."""
    if content.startswith(BYTE_ORDER_MARK):
        sentence = (
            "begins with a byte order mark, three bytes that can't be seen; save it as "
            "“UTF-8”, not as “UTF-8 with BOM”"
        )
        return FileFault("mark", name, 0, sentence)
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return FileFault("encoding", name, 0, "is text in UTF-16; save it as UTF-8")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        sentence = f"byte {content[error.start]:#04x} is no text in UTF-8; save the file as UTF-8"
        return FileFault("encoding", name, line, sentence)


def tables(text: str, name: str) -> dict[str, Any] | FileFault:
    """What a TOML file holds, or where it is none."""
    try:
        return read_toml(text)
    except tomllib.TOMLDecodeError as error:
        said = str(error)
        found = re.search(r" \(at line (\d+), column \d+\)$", said)
        at_end = text.count("\n") + 1 if said.endswith("(at end of document)") else 0
        line = int(found[1]) if found else at_end
        if re.search("twice|overwrite", said) and (sentence := _said_twice(text, line)):
            return FileFault("twice", name, line, sentence)
        plain = re.sub(r" \(at [^()]*\)$", "", said)
        return FileFault("toml", name, line, f"is no TOML here: {plain}")
    except ValueError as error:
        return FileFault("toml", name, 0, str(error))


_TABLE = re.compile(r"\s*\[\s*([^\[\]]+?)\s*\]")
_FIELD = re.compile(r"""\s*([\w."' -]+?)\s*=""")


def _said_twice(text: str, line: int) -> str:
    """Which table, or field of a table, of a line of TOML stands further up already; "" if none."""
    table = ""
    places: dict[tuple[str, str], int] = {}
    for number, written in enumerate(text.splitlines()[:line], 1):
        field = ""
        if header := _TABLE.match(written):
            table = _bare(header[1])
        elif said := _FIELD.match(written):
            field = _bare(said[1])
        else:
            continue
        first = places.setdefault((table, field), number)
        if number == line and first != number:
            if field:
                return f"“{field}” is said twice here, in line {first} and in line {line}: keep one"
            return (
                f"[{table}] stands here twice, in line {first} and in line {line}: give one of "
                "them another name, or make one of the two"
            )
    return ""


def _bare(name: str) -> str:
    """A name of TOML without quotes, and without blanks around its points."""
    return re.sub(r"\s*\.\s*", ".", re.sub("[\"']", "", name))


def line_of(source: str, kind: str, key: str, field: str) -> int:
    """The line of a field, of its record's header, or of the first mention of the kind; from 1.

    Without kind and key: of a field above all headers.
    """
    name = rf'{re.escape(kind)}\s*\.\s*"?{re.escape(key)}"?' if key else rf"{re.escape(kind)}\b.*"
    header = re.compile(rf"^\s*\[\s*{name}\s*[\].]")
    found = 1
    inside = not key and not kind
    for number, line in enumerate(source.splitlines(), 1):
        if kind and header.match(line):
            found, inside = number, True
        elif inside and re.match(r"^\s*\[(?!\[)", line):
            inside = False
        elif inside and field and re.match(rf'^\s*"?{re.escape(field)}"?\s*=', line):
            return number
    return found
