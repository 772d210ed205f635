"""What is asked: the places, the unit, and how she floats. All else each page asks for itself."""

from __future__ import annotations

from ... import sheet
from ...frame.inputs import ask, but
from ...sheet import BoatSheet as boat
from ...sheet.groups import AFLOAT, PRACTICE
from ...sheet.places import Spot, check
from ...system import trim


class Asks(sheet.Machine, sheet.AnyBoost, sheet.Places, sheet.Afloat, first=("unit", "places")):
    unit_mass = but(boat.unit_mass, group=AFLOAT)
    rest_mass = ask(
        "Vessels, filters, boost pump and panel, with their water",
        "30 kg",
        group=AFLOAT,
        at_least="0 kg",
        at_most="300 kg",
        basis=PRACTICE,
    )

    def checked(self) -> tuple[Spot, ...]:
        """The places. Refuses what cannot be."""
        check(self.places, self.place, self)
        return self.places

    def trim(self, spot: trim.Spot) -> trim.Trim:
        """What the whole set does to her there."""
        mass = self.unit_mass + self.rest_mass
        return trim.Trim(self.hull(), mass, spot, self.heel_wanted, self.trim_wanted)
