"""What the browser asks of the package: text in, text out, nothing kept between calls."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Any

from . import calculators
from .calculators import Calculator, Outcome
from .inputs import Bound, Quantity, Rows
from .render import html

SYSTEMS = ("metric", "us")


def handle(request: str) -> str:
    """Answers one request of a page, both JSON.

    Request: calculator, example, typed, and if wanted sheet, units and prefix. Answer: `slots`
    (HTML by slot), `values` (texts of the controls that the reader has not touched), `attributes`
    (by field), `hidden` (fields that are not asked now), `error`. Never raises for what it is sent.
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
    update = _Update(system, slots)
    for name, asked in made.asks.fields.items():
        if isinstance(asked, Rows):
            slots[f"field.{name}"] = html.rows_note(asked, bound)
            for index, row in enumerate(bound.rows.get(name, [])):
                for cell in row.asks.fields:
                    update.add(row, cell, f"{name}.{index}.{cell}")
        else:
            update.add(bound, name, name)
    return {
        "slots": slots,
        "values": update.values,
        "attributes": update.attributes,
        "hidden": [name for name in made.asks.fields if not bound.asked(name)],
        "error": None,
    }


@dataclass
class _Update:
    """What changes at the controls of a form."""

    system: str
    slots: dict[str, str]
    values: dict[str, str] = field(default_factory=dict)
    attributes: dict[str, dict[str, str | None]] = field(default_factory=dict)

    def add(self, bound: Bound, name: str, control: str) -> None:
        made = bound.asks.fields[name]
        self.slots[f"field.{control}"] = html.field_note(made, bound, self.system)
        self.attributes[control] = {"aria-invalid": "true" if bound.faults_of(name) else None}
        if bound.origins.get(name) != "typed":
            shown, unit = html.control_text(made, bound, self.system)
            self.values[control] = shown
            if isinstance(made, Quantity):
                self.values[f"{control}.unit"] = unit


def exercise() -> None:
    """Runs every calculator's defaults in both unit systems, so that all it imports is loaded."""
    for name in calculators.names():
        for system in SYSTEMS:
            for boat in ("ketch", "catamaran"):
                request = {
                    "calculator": name,
                    "example": {"boat": boat},
                    "typed": {},
                    "units": system,
                }
                handle(json.dumps(request))


warm = exercise
