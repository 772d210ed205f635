"""What Water asks, and the making of water that it makes of it."""

from __future__ import annotations

from ... import sheet
from ...frame.inputs import but
from ...sheet import BoatSheet as boat
from ...system.motor import Machine


class Asks(
    sheet.Drive,
    sheet.Boost,
    sheet.Water,
    sheet.Voyage,
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

    def machine(self) -> Machine:
        """The machine with its boost pump."""
        return self.boosted(super().machine())
