"""The guide that this package brings along: its boat sheet, its equipment, its calculators."""

from __future__ import annotations

from functools import cache

from . import calculators, equipment
from .sheet import BoatSheet
from .equipment.kinds import KINDS
from .frame.guide import Guide


@cache
def guide() -> Guide:
    """The stock guide. Raises EquipmentError with all faults of its records at once."""
    kinds = {**KINDS, "boat": BoatSheet}
    return Guide(BoatSheet, kinds, equipment.load(equipment.FOLDER, kinds), calculators.found())
