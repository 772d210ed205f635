"""The guide that this package brings along: its boat sheet, its equipment, its calculators."""

from __future__ import annotations

from functools import cache

from . import calculators, cautions, equipment
from .equipment.kinds import KINDS
from .frame.guide import Guide
from .sheet import BoatSheet, start
from .sheet.groups import WHY


@cache
def guide() -> Guide:
    """The stock guide. Raises EquipmentError with all faults of its records at once."""
    found = calculators.found()
    brought = {kind.shelf: kind for made in found.values() for kind in made.kinds}
    kinds = {**KINDS, **brought, "boat": BoatSheet}
    shelves = equipment.load(equipment.FOLDER, kinds)
    return Guide(
        BoatSheet,
        kinds,
        shelves,
        found,
        cautions.ALL,
        cautions.CAUTIONS,
        start.QUESTIONS,
        start.APART,
        WHY,
    )
