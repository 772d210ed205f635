"""What to do about water that is too salty, and chlorine that is too much or too little."""

from __future__ import annotations

from ...frame.report import Report, most
from ...system.flushing import CAN
from ...system.tank_water import TankWater


def remedies(water: TankWater, show: Report) -> None:
    """What mends it, or how to find out what is wrong."""
    if water.leak is not None and not water.leak.holds:
        show.remedy(
            "Don't drink it and don't let it into the tank. Rinse the meter in this water and read "
            "again after ten minutes to waste. If it stays: with the unit stopped, isolated, its "
            "seacock shut and proved without pressure (the page Step by step tells how), look at "
            "the O-rings at both ends of the product tube, then at the membrane."
        )
    elif not water.salt.holds and water.expected is not None and water.expected > water.aim:
        show.remedy(
            "This sea gives {e} at this pressure, by the papers too: see on the page Water from "
            "this sea which pressure is right. Old membranes let more through.",
            e=(water.expected, "mg/L"),
        )
    elif not water.salt.holds:
        show.remedy(
            "Run ten minutes to waste and read again. If it stays: check the meter in a solution "
            "of known strength, then the age of the membranes, then their O-rings."
        )
    if water.unguarded:
        show.remedy(
            "Flush from a can, with water that has no chlorine.",
            sets={"flush_from": CAN},
            mends="dosed-flush",
        )
        show.remedy(
            "Have a carbon filter put into the flush line, and see on the page The flush whether "
            "it is large enough. Until then leave the flush from this tank off."
        )
    dose = water.dose
    if dose is None:
        return
    if not dose.held_dose.holds and dose.left <= dose.held_dose.limit:
        told = most(dose.held_dose.limit, "mg/L")
        show.remedy("Dose {c} at most.", c=told, sets={"chlorine_dose": told}, mends="dose")
    elif not dose.held_dose.holds:
        show.remedy(
            "Thin it until a test shows {c} or less, or let it through carbon at the tap.",
            c=(dose.held_dose.limit, "mg/L"),
        )
    if not dose.held_left.holds:
        # Never beyond what drinking water may hold, should the test have told too little.
        show.remedy(
            "Dose {c} more, stir, test after half an hour, and begin to count the time anew. "
            "A tank that uses up chlorine again and again is dirty: empty and scrub it first.",
            c=most(min(dose.chlorine, dose.held_dose.limit - dose.left), "mg/L"),
        )
    if dose.bleach.faded:
        show.remedy("Buy fresh bleach: less than half of this one's strength is left.")
