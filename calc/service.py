"""What the browser asks of the package: text in, text out, nothing kept between calls."""

from __future__ import annotations

import json
from typing import Any

from . import calculators
from .calculators import Calculator, Outcome
from .inputs import Bound, Quantity, Rows
from .render import html

SYSTEMS = ("metric", "us")


def handle(request: str) -> str:
    """Answers one request of a page, both JSON.

    Request: calculator, example, typed, and if wanted sheet, units and prefix. Answer: `slots` (HTML
    by slot), `values` (texts of the controls that the reader has not touched), `attributes` (by
    field), `hidden` (fields that are not asked now), `error`. Never raises for what a request holds.
    """
    try:
        asked = json.loads(request)
        reply = _answer(asked)
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        reply = {"error": f"This request cannot be answered: {error}"}
    return json.dumps(reply, ensure_ascii=False, allow_nan=False, sort_keys=True)


def _answer(asked: dict[str, Any]) -> dict[str, Any]:
    made = calculators.get(asked["calculator"])
    system = asked.get("units", "metric")
    if system not in SYSTEMS:
        system = "metric"
    outcome = calculators.run(made, asked.get("typed"), asked.get("sheet"), asked.get("example"))
    return page_update(made, outcome, system, asked.get("prefix", ""))


def page_update(made: Calculator, outcome: Outcome, system: str, prefix: str) -> dict[str, Any]:
    """Everything on the page that the values of a form change."""
    bound = outcome.bound
    slots = {"answer": html.answer(outcome, system, prefix)}
    for group, members in html.groups(made.asks).items():
        slots[f"group.{group}"] = html.group_line(members, bound, system)
    values: dict[str, str] = {}
    attributes: dict[str, dict[str, str | None]] = {}
    hidden = []
    for name, field in made.asks.fields.items():
        if not bound.asked(name):
            hidden.append(name)
        if isinstance(field, Rows):
            slots[f"field.{name}"] = html.rows_note(field, bound)
            for index, row in enumerate(bound.rows.get(name, [])):
                _add_fields(row, f"{name}.{index}.", system, slots, {}, attributes)
        else:
            _add_field(bound, name, "", system, slots, values, attributes)
    return {"slots": slots, "values": values, "attributes": attributes, "hidden": hidden, "error": None}


def _add_fields(bound: Bound, before: str, system: str, slots: dict[str, str], values: dict[str, str],
                attributes: dict[str, dict[str, str | None]]) -> None:  # fmt: skip
    for name in bound.asks.fields:
        _add_field(bound, name, before, system, slots, values, attributes)


def _add_field(bound: Bound, name: str, before: str, system: str, slots: dict[str, str],
               values: dict[str, str], attributes: dict[str, dict[str, str | None]]) -> None:  # fmt: skip
    field = bound.asks.fields[name]
    slots[f"field.{before}{name}"] = html.field_note(field, bound, system)
    attributes[before + name] = {"aria-invalid": "true" if bound.faults_of(name) else None}
    if bound.origins.get(name) != "typed":
        shown, unit = html.control_text(field, bound, system)
        values[before + name] = shown
        if isinstance(field, Quantity):
            values[f"{before}{name}.unit"] = unit


def exercise() -> None:
    """Runs every calculator's defaults in both unit systems, so that all it imports is loaded."""
    for name in calculators.names():
        for system in SYSTEMS:
            for boat in ("ketch", "catamaran"):
                request = {"calculator": name, "example": {"boat": boat}, "typed": {}, "units": system}
                handle(json.dumps(request))


warm = exercise
