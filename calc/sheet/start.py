"""Where one begins: the questions whose answers settle most, with the fields that take them. And
what stands on a page of its own, because it grows."""

from __future__ import annotations

from ..frame.guide import Question
from .groups import LOG, PARTS, READINGS, TASKS, WHY

QUESTIONS = (
    Question(
        "Which machine?",
        ("unit",),
        "Five questions to a first answer. Leave open what you don't know.",
    ),
    Question("Which battery?", ("bank_chemistry", "bank_voltage", "bank_capacity")),
    Question("Which inverter?", ("has_inverter", "inverter_power")),
    Question(
        "What else could run it, or charge the bank?",
        (
            "has_generator",
            "generator_power",
            "has_alternator",
            "alternator_current",
            "has_array",
            "array_power",
            "latitude",
        ),
    ),
    Question("Where would it stand?", ("stands", "locker_length", "locker_width", "locker_height")),
)

APART = (
    Question(LOG, ("log",), WHY[LOG]),
    Question(READINGS, ("readings",), WHY[READINGS]),
    Question(TASKS, ("tasks",), WHY[TASKS]),
    Question(PARTS, ("parts",), WHY[PARTS]),
)
