"""`python3 -m calc`: the calculators at a terminal."""

from __future__ import annotations

import argparse
import codecs
import contextlib
import contextvars
import datetime
import io
import json
import os
import re
import sys
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, NoReturn

from . import equipment, stock
from .frame import boatfile, units
from .frame.boatfile import LARGEST
from .frame.guide import Unknown
from .frame.inputs import Inputs, Rows, nearest, shortened
from .frame.language import Said, one_of
from .frame.nested import read_json, read_toml
from .frame.render import inputs_text, text
from .frame.report import say

COMMAND = "python3 -m calc"


def main(arguments: Sequence[str] | None = None, command: str = COMMAND, house: str = "") -> int:
    """Runs the command line; 0 with an answer whatever its verdict, 2 on bad input.

    `command` is how it was called; `house` whose values of equipment these are, "" for the stock's.
    1 if it cannot be written down, 141 if nobody reads it any more: 128 and the number of SIGPIPE.
    """
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="plain signs")
    try:
        try:
            code = contextvars.copy_context().run(_answer, arguments, command, house)
        except SystemExit as done:  # argparse has told its help, or what is wrong
            code = int(done.code or 0)
        sys.stdout.flush()
    except BrokenPipeError:
        _drop_output()
        return 141
    except OSError as error:
        _drop_output()
        print(f"The answer can't be written: {error.strerror}.", file=sys.stderr)
        return 1
    return code


def _drop_output() -> None:
    """What cannot be written must not be tried again when Python ends."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


_PLAIN_SIGNS = {
    "−": "-",
    "–": "-",
    "×": "x",
    "·": ".",
    "°": "deg",
    "Ω": "ohm",
    "µ": "u",
    "μ": "u",
    "√": "sqrt",
    "±": "+/-",
    "≤": "<=",
    "≥": ">=",
    "“": '"',
    "”": '"',
    "’": "'",
    "⁄": "/",
    "ø": "o",
    "π": "pi",
    "⁻": "-",
    "→": "->",
    "≈": "~",
    "Δ": "d",
    "§": "par. ",
}


def _plain_signs(error: UnicodeError) -> tuple[str, int]:
    """What a terminal without a sign shows instead: a minus must not turn into nothing."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    unknown = error.object[error.start : error.end]
    return "".join(map(_plain_sign, unknown)), error.end


def _plain_sign(sign: str) -> str:
    """The nearest in ASCII; what consists of a letter and its accent loses the accent."""
    if sign in _PLAIN_SIGNS:
        return _PLAIN_SIGNS[sign]
    parts = unicodedata.normalize("NFKD", sign)
    plain = "".join(_PLAIN_SIGNS.get(part, part) for part in parts)
    return plain.encode("ascii", "ignore").decode() or "?"


codecs.register_error("plain signs", _plain_signs)


def _answer(arguments: Sequence[str] | None, command: str, house: str) -> int:
    try:
        parser = _parser(command)
        chosen = parser.parse_intermixed_args(arguments)
        if chosen.calculator is None:
            parser.print_help() if chosen.help else _list(command)
            return 0
        made = stock.guide().get(chosen.calculator)
    except equipment.EquipmentError as error:
        return _bad(str(error).splitlines())
    except Unknown as error:
        return _bad([str(error)])
    if chosen.help:
        print(inputs_text.told(made, stock.guide()), end="")
        return 0
    if chosen.schema:
        described = made.asks.schema(stock.guide().shelves)
        schema = {"$schema": _JSON_SCHEMA, "title": made.title, **described}
        print(json.dumps(schema, indent=2, ensure_ascii=not _shows_all()))
        return 0
    try:
        typed = {**_from_file(chosen.source), **_from_words(made.asks, chosen.values)}
        boat = find_boat(chosen.boat)
        units.chosen_system.set(chosen.units)
        said = (typed, boat.sheet, boat.example, str(datetime.date.today()))
        outcome = stock.guide().run(made, *said, own_boat=boat.own)
    except (BadInput, Unknown) as error:
        return _bad([str(error)])
    if outcome.lacks:
        return _bad(_questions(made.asks, outcome.lacks))
    if outcome.report is None:
        return _bad([str(fault) for fault in outcome.bound.faults])
    if chosen.json:
        data = outcome.report.as_data()
        print(json.dumps(data, indent=2, ensure_ascii=not _shows_all(), allow_nan=False))
    else:
        made_of = (outcome.report, chosen.units)
        if chosen.full or chosen.working:
            told = text.report(*made_of, chosen.working, outcome.bound, house)
        else:
            told = text.brief(*made_of, house)
        print(told, end="")
    return 0


def _questions(asks: type[Inputs], lacks: Sequence[Sequence[str]]) -> list[str]:
    """What a boat of one's own has not said yet and what decides, as one would type it."""
    rows = (one_of([f"{say(asks.fields[n].label)} ({n}=…)" for n in row]) for row in lacks)
    return [say("Not asked yet: this decides, and your boat's file doesn't say it."), *rows]


@dataclass(frozen=True)
class Boat:
    """Whose answer it is: a demo boat's, as an example, or that of a sheet of the reader's own."""

    name: str = ""
    example: Mapping[str, Any] = field(default_factory=dict)
    sheet: Mapping[str, Any] = field(default_factory=dict)
    own: bool = False


def find_boat(said: str | None) -> Boat:
    """A boat by the name of a demo boat or by its sheet's file. Raises BadInput with a sentence."""
    demo = stock.guide().shelf("boat")
    if said is None:
        return Boat()
    if said in demo:
        return Boat(str(demo[said].texts.get("name", said)), {"boat": said})
    try:
        content = Path(said).read_text("utf-8-sig")
    except (OSError, ValueError):
        raise BadInput(
            "“{name}” is no file that can be read, nor one of the example boats: {boats}.{near}",
            name=shortened(said),
            boats=", ".join(demo),
            near=nearest(said, demo),
        ) from None
    try:
        sheet = boatfile.read(content, stock.guide().sheet)
    except boatfile.BoatFileError as error:
        raise BadInput("{file}: {why}", file=shortened(said, 200), why=error) from None
    return Boat(str(sheet.get("name", "")), {}, sheet, True)


def _shows_all() -> bool:
    return (sys.stdout.encoding or "").lower().startswith("utf")


_JSON_SCHEMA = "https://json-schema.org/draft/2020-12/schema"


class BadInput(Said):
    """What was asked for can't be read; the message is a sentence."""


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        self.exit(2, f"{shortened(message, 200)}\n")

    def print_help(self, file: Any = None) -> None:
        """As argparse has it, but help that cannot be written is not passed over."""
        print(self.format_help(), end="", file=file)


def _parser(command: str) -> argparse.ArgumentParser:
    parser = _Parser(
        prog=command,
        add_help=False,
        description="Calculators for a watermaker on a boat. Without a name: lists them.",
        epilog=f'Example: {command} power bank_capacity="400 Ah" bank_chemistry=lifepo4',
    )
    add = parser.add_argument
    boats = ", ".join(stock.guide().shelf("boat"))
    add("calculator", nargs="?", help="the calculator's name")
    add(
        "values",
        nargs="*",
        metavar="name=value",
        help='inputs, such as bank_capacity="400 Ah"; a list\'s as loads.0.power="40 W"',
    )
    add("-h", "--help", action="store_true", help="this; after a calculator's name, its inputs")
    add("--from", dest="source", metavar="FILE", help="take inputs from a JSON or TOML file")
    add("--boat", metavar="BOAT", help=f"your boat's file, or a demo boat: {boats}")
    add("--units", choices=("metric", "us"), default="metric", help="units shown (metric)")
    add("--full", action="store_true", help="all of the answer, not only what fits a screen")
    add("--working", action="store_true", help="all of it, with the steps of the working")
    add("--json", action="store_true", help="print the whole report as JSON")
    add("--schema", action="store_true", help="print the inputs' JSON Schema")
    return parser


def _bad(sentences: Sequence[str]) -> int:
    for sentence in sentences:
        print(sentence, file=sys.stderr)
    return 2


def _list(command: str) -> None:
    width = max(map(len, stock.guide().names()))
    for name in stock.guide().names():
        print(f"{name:{width}}  {stock.guide().get(name).question}")
    print(f'\nInputs: {command} NAME --help. An answer: {command} NAME name="value" ...')


def _from_file(source: str | None) -> dict[str, Any]:
    if source is None:
        return {}
    path, said = Path(source), shortened(source, 200)
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST + 1).decode("utf-8-sig")
        if len(content) > LARGEST:
            raise BadInput("{file}: is too large to hold a form's values", file=said)
        found = read_toml(content) if path.suffix.lower() == ".toml" else read_json(content)
    except OSError as error:
        raise BadInput("{file}: {why}", file=said, why=error.strerror) from None
    except UnicodeDecodeError:
        raise BadInput("{file}: is no text in UTF-8", file=said) from None
    except BadInput:
        raise
    except ValueError as error:
        raise BadInput("{file}: {why}", file=said, why=error) from None
    if not isinstance(found, dict):
        raise BadInput("{file}: must hold named values", file=said)
    return found


def _from_words(asks: type[Inputs], words: Sequence[str]) -> dict[str, Any]:
    typed: dict[str, Any] = {}
    for word in words:
        name, equals, value = word.partition("=")
        if not equals:
            near = nearest(word, asks.fields)
            said = shortened(word)
            raise BadInput("“{word}” must be written name=value.{near}", word=said, near=near)
        cell = re.fullmatch(r"(\w+)\.(\d{1,3})\.(\w+)", name)
        if cell and isinstance(asks.fields.get(cell[1]), Rows):
            listed = typed.setdefault(cell[1], [])
            if not isinstance(listed, list):
                raise BadInput(
                    "{list}: is a list; write its values as {name}=value, not {list}=value",
                    list=cell[1],
                    name=name,
                )
            while len(listed) <= int(cell[2]):
                listed.append({})
            listed[int(cell[2])][cell[3]] = value
        elif isinstance(typed.get(name), list):
            raise BadInput("{list}: is a list; write its values as {list}.0.name=value", list=name)
        else:
            typed[name] = value
    return typed
