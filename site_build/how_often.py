"""How often the diagnosis is right, as tests/how_often.py counted it: a table for the guide."""

from __future__ import annotations

import json
from functools import cache
from html import escape
from typing import Any

from calc.calculators.diagnose.words import NAMES
from calc.frame import units
from calc.frame.language import spoken, spoken_count
from calc.system.faults import SIZES

from . import published

DATA = published.FOLDER / "how-often.json"
ROWS_WORDS = {
    "own": "Nine readings and a day one; made by the model's own equations",
    "other": "The same; made by other equations, constants and gauges",
    "five": "Five readings and a day one; other equations",
    "no_day_one": "Nine readings, no day one; other equations, large faults",
}
HEADS_WORDS = ("First", "In the first three", "First, once asked", "In the first three, once asked")
_KEYS = ("first", "three", "asked_first", "asked_three")
# What a size is a share of, or in which unit it is told.
OF_WORDS = {
    "filters": ("{n} % of the drop at which they are changed", 100.0),
    "strainer": ("{n} bar lost in it", 1e-5),
    "boost": ("{n} % of its pressure gone", -100.0),
    "stroke": ("{n} % of one plunger's flow lost", 100.0),
    "packing": ("{n} % of the flow lost", 100.0),
    "relief": ("{n} % of the flow lost", 100.0),
    "valve": ("{n} % more opening", -100.0),
    "air": ("{n} % of air", 100.0),
    "hertz": ("{n} % off", -100.0),
    "volts": ("{n} % too low", -100.0),
    "cable": ("{n} % of the volts lost", 100.0),
    "capacitor": ("{n} % of it gone", 100.0),
    "stiff": ("{n} % more torque", -100.0),
    "fouling": ("{n} % less water through the membrane", -100.0),
    "biofouling": ("{n} % less water through the membrane", -100.0),
    "scaling": ("{n} % less water through the membrane", -100.0),
    "oxidised": ("{n} % more salt through the membrane", -100.0),
    "oring": ("{n} % of the brine in the product, by the feed", 100.0),
    "bypass": ("{n} % of the feed past the membrane", 100.0),
    "saltier": ("{n} % more salt", 100.0),
}
_SIZED = {
    "fouling": "water", "biofouling": "water", "scaling": "water", "oxidised": "oxidised_salt",
    "oring": "leak",
}  # fmt: skip


@cache
def data() -> dict[str, Any]:
    """The counts."""
    made: dict[str, Any] = json.loads(DATA.read_text("utf-8"))
    return made


def _percent(share: float) -> str:
    return units.join(f"{100 * share:.0f}", "%")


def size(cause: str, at: float) -> str:
    """A size from 0 to 1 in the measure of its cause."""
    if cause not in OF_WORDS:
        return _percent(at)
    chain = SIZES[_SIZED.get(cause, cause)]
    place = at * (len(chain) - 1)
    low = min(int(place), len(chain) - 2)
    value = chain[low] + (place - low) * (chain[low + 1] - chain[low])
    told, times = OF_WORDS[cause]
    number = abs(value - 1) * -times if times < 0 else value * times
    return spoken(told, n=units.number_text(number, 2))


def as_html() -> str:
    """The table of all causes together, and that of each."""
    made = data()
    return _together(made) + _each(made)


def _table(title: str, heads: list[str], rows: list[list[str]]) -> str:
    # Search reads the cells as one text: without a space between them it makes one word of two.
    head = " ".join(
        f'<th scope="col"{"" if n == 0 else " class=num"}>{escape(one)}</th>'
        for n, one in enumerate(heads)
    )
    body = " ".join(
        "<tr>"
        + " ".join(
            f'<th scope="row">{escape(cell)}</th>' if n == 0 else f'<td class="num">{cell}</td>'
            for n, cell in enumerate(row)
        )
        + "</tr>"
        for row in rows
    )
    return (
        f'<div class="table-scroll" tabindex="0" role="group" aria-label="{escape(title)}">'
        f'<table class="plain"><thead><tr>{head}</tr></thead> <tbody>{body}</tbody></table></div>'
    )


def _together(made: dict[str, Any]) -> str:
    rows = []
    for one in made["rows"]:
        every, clear, alarms = one["all"], one["clear"], one["alarms"]
        cases = spoken_count(every["count"], "{n} case", "{n} cases")
        told = spoken("{what}: {cases}", what=spoken(ROWS_WORDS[one["key"]]), cases=cases)
        rows.append([told, *_shares(every)])
        if clear["count"] < every["count"]:
            told = spoken("of these, middle and large faults: {n}", n=clear["count"])
            rows.append([told, *_shares(clear)])
        told = spoken_count(
            alarms["count"],
            "told as faulty where nothing is wrong, of {n} case",
            "told as faulty where nothing is wrong, of {n} cases",
        )
        rows.append([told, _percent(alarms["told"]), "", _percent(alarms["asked"]), ""])
    title = spoken("What was counted")
    return _table(title, [title, *map(spoken, HEADS_WORDS)], rows)


def _shares(counted: dict[str, Any]) -> list[str]:
    return [_percent(counted[key]) for key in _KEYS]


def _each(made: dict[str, Any]) -> str:
    rows = []
    for one in made["causes"]:
        least = one["told_from"]
        key = one["key"]
        name = spoken("a gauge or meter wrong") if key == "gauge" else spoken(NAMES[key])
        told = "–" if least is None else escape(size(key, least))
        rows.append([name, *_shares(one), told])
    title = spoken("Each cause")
    heads = [spoken("Cause"), *map(spoken, HEADS_WORDS), spoken("Told first from this size on")]
    count = spoken_count(made["cases"], "{n} case of each", "{n} cases of each")
    return (
        '<details class="checks" data-key="how-often" data-search-exclude>'
        f'<summary>{escape(title)} <span class="count">{escape(count)}</span></summary>'
        f"{_table(title, heads, rows)}</details>"
    )
