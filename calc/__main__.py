"""`python3 -m calc`: the calculators at a terminal."""

from __future__ import annotations

import argparse
import json
import re
import sys
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from . import equipment, stock
from .inputs import Inputs, Rows, nearest
from .render import text


def main(arguments: Sequence[str] | None = None) -> int:
    """Runs the command line; 0 with an answer whatever its verdict, 2 on bad input."""
    try:
        chosen = _parser().parse_intermixed_args(arguments)
        if chosen.calculator is None:
            return _list()
        made = stock.guide().get(chosen.calculator)
    except equipment.EquipmentError as error:
        return _bad(str(error).splitlines())
    except KeyError as error:
        return _bad([str(error.args[0])])
    if chosen.schema:
        described = made.asks.schema(stock.guide().shelves)
        schema = {"$schema": _JSON_SCHEMA, "title": made.title, **described}
        print(json.dumps(schema, indent=2, ensure_ascii=False))
        return 0
    try:
        typed = {**_from_file(chosen.source), **_from_words(made.asks, chosen.values)}
        example = {"boat": chosen.boat} if chosen.boat else {}
        outcome = stock.guide().run(made, typed, example=example)
    except (_BadInput, KeyError) as error:
        return _bad(list(error.args))
    if outcome.report is None:
        return _bad([str(fault) for fault in outcome.bound.faults])
    if chosen.json:
        print(json.dumps(outcome.report.as_data(), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        print(text.report(outcome.report, chosen.units, chosen.working), end="")
    return 0


_JSON_SCHEMA = "https://json-schema.org/draft/2020-12/schema"


class _BadInput(ValueError):
    pass


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python3 -m calc",
        description="Calculators for a watermaker on a boat. Without a name: lists them.",
        epilog='Example: python3 -m calc power bank_capacity="400 Ah" bank_chemistry=lifepo4',
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
    add("--from", dest="source", metavar="FILE", help="take inputs from a JSON or TOML file")
    add("--boat", help=f"start from one of the demo boats: {boats}")
    add("--units", choices=("metric", "us"), default="metric", help="units shown (metric)")
    add("--working", action="store_true", help="add the steps of the working")
    add("--json", action="store_true", help="print the whole report as JSON")
    add("--schema", action="store_true", help="print the inputs' JSON Schema")
    return parser


def _bad(sentences: Sequence[str]) -> int:
    for sentence in sentences:
        print(sentence, file=sys.stderr)
    return 2


def _list() -> int:
    width = max(map(len, stock.guide().names()))
    for name in stock.guide().names():
        print(f"{name:{width}}  {stock.guide().get(name).question}")
    print(
        '\nInputs: python3 -m calc NAME --schema. An answer: python3 -m calc NAME name="value" ...'
    )
    return 0


def _from_file(source: str | None) -> dict[str, Any]:
    if source is None:
        return {}
    path = Path(source)
    try:
        content = path.read_text("utf-8-sig")
        found = tomllib.loads(content) if path.suffix.lower() == ".toml" else json.loads(content)
    except OSError as error:
        raise _BadInput(f"{source}: {error.strerror}") from None
    except (ValueError, RecursionError) as error:
        raise _BadInput(f"{source}: {error}") from None
    if not isinstance(found, dict):
        raise _BadInput(f"{source}: must hold named values")
    return found


def _from_words(asks: type[Inputs], words: Sequence[str]) -> dict[str, Any]:
    typed: dict[str, Any] = {}
    for word in words:
        name, equals, value = word.partition("=")
        if not equals:
            raise _BadInput(f"“{word}” must be written name=value.{nearest(word, asks.fields)}")
        cell = re.fullmatch(r"(\w+)\.(\d{1,3})\.(\w+)", name)
        if cell and isinstance(asks.fields.get(cell[1]), Rows):
            listed = typed.setdefault(cell[1], [])
            while len(listed) <= int(cell[2]):
                listed.append({})
            listed[int(cell[2])][cell[3]] = value
        else:
            typed[name] = value
    return typed


if __name__ == "__main__":
    sys.exit(main())
