"""Water, powder and glycol: how much to have at hand."""

from __future__ import annotations

import math

from ...frame.report import Report, least
from ...physics import maintenance
from ...system.rest import EMPTIED, Amounts, LaidUp
from .asks import PRACTICE, Asks


def told(q: Asks, laid: LaidUp, takes: Amounts, show: Report) -> None:
    """Water, powder and glycol for a lay-up, each with its working."""
    show.figure("days", "Days with work on it", len(laid.days), "")
    show.figure("water", "Fresh, unchlorinated water in all", _up(takes.water, 1e-3), "L")
    show.step(
        "Water for flushes and buckets",
        takes.water,
        "L",
        "V = n * V_flush + k * V_b",
        {
            "n": (float(takes.flushes), ""),
            "V_flush": (q.flush_water, "L"),
            "k": (float(takes.fills), ""),
            "V_b": (q.bucket, "L"),
        },
        PRACTICE,
    )
    if laid.way.key == EMPTIED:
        _glycol(q, show)
    if takes.fills:
        _powder(q, takes, show)


# The powder's words: into a unit full of flush water, or for the membranes' bag.
_FILLING = (
    "Sodium metabisulphite, for one filling",
    "the unit is full of flush water, which thins the bucket until all of it has one strength",
)
_BAG = (
    "Sodium metabisulphite, for one bucket, to bag the membranes in",
    "bagged membranes lie in the bucket's mixture as it is",
)


def _powder(q: Asks, takes: Amounts, show: Report) -> None:
    """Powder for a bucket that mixes with the flush water in the unit; a bag holds none of that."""
    label, note = _FILLING if takes.plain else _BAG
    weighed = _up(takes.dose, 0.01)
    show.figure("dose", label, weighed, "g")
    show.figure("powder", "Sodium metabisulphite in all", takes.fills * weighed, "g")
    show.step(
        label,
        takes.dose,
        "g",
        "m_1 = s * (V_b + V_unit) * 1000",
        {"s": (q.strength, "%"), "V_b": (q.bucket, "L"), "V_unit": (takes.plain, "L")},
        "Mass balance, water of 1000 kg/m³",
        note,
    )
    show.step(
        "Sodium metabisulphite in all",
        takes.powder,
        "g",
        "m = k * m_1",
        {"k": (float(takes.fills), ""), "m_1": (takes.dose, "g")},
        "Once for each filling",
    )
    if takes.plain:
        _mixing(q, takes.dose, show)


def _mixing(q: Asks, dose: float, show: Report) -> None:
    at_first = dose / maintenance.powder_for(1.0, q.bucket)
    show.step(
        "Strength in the bucket, before it goes round",
        at_first,
        "%",
        "s_b = s * (V_b + V_unit) / V_b",
        {"s": (q.strength, "%"), "V_b": (q.bucket, "L"), "V_unit": (q.unit_water, "L")},
        "Mass balance",
    )
    if q.bucket < q.unit_water:
        show.note(
            "The bucket holds less than the unit, so its mixture begins at {first}, more than "
            "twice the strength that is wanted. So that no membrane gets so strong a mixture, "
            "take {unit} of water or more (common practice, no source).",
            first=(at_first, "%"),
            unit=least(q.unit_water, "L"),
        )


def _glycol(q: Asks, show: Report) -> None:
    glycol = q.unit_water * (1 + q.glycol_surplus)
    show.figure(
        "glycol",
        "Propylene glycol, food grade, ready mixed",
        _up(glycol, 1e-3),
        "L",
        note="undiluted unless its can says otherwise",
    )
    show.step(
        "Glycol, ready mixed",
        glycol,
        "L",
        "V = V_unit * (1 + s)",
        {"V_unit": (q.unit_water, "L"), "s": (q.glycol_surplus, "%")},
        PRACTICE,
    )
    if q.coldest < q.glycol_limit:
        return
    show.note(
        "The mixture in the can protects down to {limit}. Water left in the unit thins it: measure "
        "what comes out with a refractometer for propylene glycol, and pump on until it shows a "
        "freezing point below {cold} too.",
        limit=(q.glycol_limit, "°C"),
        cold=(q.coldest, "°C"),
    )


def _up(value: float, step: float) -> float:
    """What to have at hand, rounded up to whole litres, or tens of grams."""
    return math.ceil(value / step - 1e-6) * step
