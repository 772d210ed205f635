"""How often the diagnosis is right, as tests/how_often.py counted it: a table for the guide."""

from __future__ import annotations

import json
from functools import cache
from html import escape
from typing import Any

from calc.calculators.diagnose.words import NAMES
from calc.frame import units
from calc.system.faults import SIZES

from . import published

DATA = published.FOLDER / "how-often.json"
_ROWS = {
    "own": "Nine readings and a day one; made by the model's own equations",
    "other": "The same; made by other equations, constants and gauges",
    "five": "Five readings and a day one; other equations",
    "no_day_one": "Nine readings, no day one; other equations, large faults",
}
_HEADS = ("First", "In the first three", "First, once asked", "In the first three, once asked")
_KEYS = ("first", "three", "asked_first", "asked_three")
_GAUGE = "a gauge or meter wrong"
# What a size is a share of, or in which unit it is told.
_OF = {
    "filters": ("% of the drop at which they are changed", 100.0),
    "strainer": ("bar lost in it", 1e-5),
    "boost": ("% of its pressure gone", -100.0),
    "stroke": ("% of one plunger's flow lost", 100.0),
    "packing": ("% of the flow lost", 100.0),
    "relief": ("% of the flow lost", 100.0),
    "valve": ("% more opening", -100.0),
    "air": ("% of air", 100.0),
    "hertz": ("% off", -100.0),
    "volts": ("% too low", -100.0),
    "cable": ("% of the volts lost", 100.0),
    "capacitor": ("% of it gone", 100.0),
    "stiff": ("% more torque", -100.0),
    "fouling": ("% less water through the membrane", -100.0),
    "biofouling": ("% less water through the membrane", -100.0),
    "scaling": ("% less water through the membrane", -100.0),
    "oxidised": ("% more salt through the membrane", -100.0),
    "oring": ("% of the brine in the product, by the feed", 100.0),
    "bypass": ("% of the feed past the membrane", 100.0),
    "saltier": ("% more salt", 100.0),
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
    if cause not in _OF:
        return _percent(at)
    chain = SIZES[_SIZED.get(cause, cause)]
    place = at * (len(chain) - 1)
    low = min(int(place), len(chain) - 2)
    value = chain[low] + (place - low) * (chain[low + 1] - chain[low])
    told, times = _OF[cause]
    number = abs(value - 1) * -times if times < 0 else value * times
    return f"{units.number_text(number, 2)} {told}"


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
        f'<div class="table-scroll" tabindex="0" role="group" aria-label="{title}">'
        f'<table class="plain"><thead><tr>{head}</tr></thead> <tbody>{body}</tbody></table></div>'
    )


def _together(made: dict[str, Any]) -> str:
    rows = []
    for one in made["rows"]:
        rows.append(
            [
                f"{_ROWS[one['key']]}: {one['all']['count']} cases",
                *(_percent(one["all"][key]) for key in _KEYS),
            ]
        )
        if one["clear"]["count"] < one["all"]["count"]:
            rows.append(
                [
                    f"of these, middle and large faults: {one['clear']['count']}",
                    *(_percent(one["clear"][key]) for key in _KEYS),
                ]
            )
        alarms = one["alarms"]
        rows.append(
            [
                f"told as faulty where nothing is wrong, of {alarms['count']} cases",
                _percent(alarms["told"]),
                "",
                _percent(alarms["asked"]),
                "",
            ]
        )
    return _table("What was counted", ["What was counted", *_HEADS], rows)


def _each(made: dict[str, Any]) -> str:
    rows = []
    for one in made["causes"]:
        least = one["told_from"]
        name = _GAUGE if one["key"] == "gauge" else NAMES[one["key"]]
        told = "–" if least is None else escape(size(one["key"], least))
        rows.append([name, *(_percent(one[key]) for key in _KEYS), told])
    heads = ["Cause", *_HEADS, "Told first from this size on"]
    return (
        '<details class="checks" data-key="how-often" data-search-exclude><summary>Each cause '
        f'<span class="count">{made["cases"]} cases of each</span></summary>'
        f"{_table('Each cause', heads, rows)}</details>"
    )
