"""The guide that this package brings along: its boat sheet, its equipment, its calculators."""

from __future__ import annotations

from functools import cache

from . import calculators, cautions, equipment
from .equipment.kinds import KINDS
from .frame.guide import Guide
from .sheet import BoatSheet, start


@cache
def guide() -> Guide:
    """The stock guide. Raises EquipmentError with all faults of its records at once."""
    kinds = {**KINDS, "boat": BoatSheet}
    shelves = equipment.load(equipment.FOLDER, kinds)
    found = calculators.found()
    return Guide(BoatSheet, kinds, shelves, found, cautions.ALL, cautions.CAUTIONS, start.QUESTIONS)
