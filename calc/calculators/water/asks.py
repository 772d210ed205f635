"""What Water asks, and the making of water that it makes of it."""

from __future__ import annotations

from ... import sheet
from ...frame.inputs import Inputs, ask, but, rows, text
from ...sheet import BoatSheet as boat
from ...system.motor import Machine


class AnotherSea(Inputs):
    """A row of the table of seas."""

    name = text("Sea", "another sea", optional=False)
    temperature = ask("Warmth", "25 °C", at_least="-2 °C", at_most="40 °C")
    salinity = ask("Salt", "35 g/kg", at_least="0 g/kg", at_most="50 g/kg")


class Asks(
    sheet.Drive,
    sheet.Boost,
    sheet.Water,
    first=("unit", "waters", "sea_temperature", "sea_salinity", "pressure"),
):
    waters = but(boat.waters, open=True)
    sea_temperature = but(boat.sea_temperature, open=True)
    sea_salinity = but(boat.sea_salinity, open=True)
    pressure = but(boat.pressure, open=True)
    product_flow = but(
        boat.product_flow,
        help="As its papers state it, for 25 °C and 35 g/kg. What you measured goes under “The "
        "water's way”.",
    )
    boost_pump = but(boat.boost_pump, open=False)
    seas = rows(
        "Seas to compare",
        AnotherSea,
        shelf="waters",
        one="sea",
        group="Other seas",
        folded=True,
        help="Usual for a month, rounded. Put in those of your voyage.",
    )

    def machine(self) -> Machine:
        """The machine with its boost pump."""
        return self.boosted(super().machine())
