"""What is asked about the pressure side, and how it reads into what is aboard."""

from __future__ import annotations

from ... import sheet
from ...frame import units
from ...frame.inputs import but
from ...sheet import BoatSheet as boat
from ...sheet.groups import PRESSURE_SIDE
from ...system import pressure_side as system
from ...system.sea import Sea

units.define("yielding", "a volume for each bar", "5 mL/bar", {"mL/bar": "milliliter/bar"})


class Asks(
    sheet.Water,
    sheet.Guarded,
    sheet.Voyage,
    first=(
        "unit",
        "pressure",
        "hose_bears",
        "vessel_bears",
        "has_relief",
        "relief_opens",
        "relief_outlet",
    ),
):
    pressure = but(boat.pressure, open=True)
    hose_bears = but(boat.hose_bears, open=True)
    vessel_bears = but(boat.vessel_bears, open=True)
    has_relief = but(boat.has_relief, open=True)
    relief_opens = but(boat.relief_opens, open=True)
    relief_outlet = but(boat.relief_outlet, open=True)
    plungers = but(boat.plungers, group=PRESSURE_SIDE)

    def side(self) -> system.PressureSide:
        """What stands under the pressure on this boat. Refuses a hose that contradicts itself."""
        self.check_hose(self.hose_bears)
        making, stressed = self.making, self.pump(self.unit, self.flow, self.pressure)
        faster = making.feed / self.flow
        return system.PressureSide(
            stressed.ratings,
            making,
            self.relief_valve(stressed.relief),
            self.pressed(self.unit.membranes),
            self.plungers * self.unit.pump.rated_speed * faster,
            self.vessel_bore,
            self.gauge_scale,
            self.hose_bursts,
            tuple(
                system.season(row.name, making, Sea(row.temperature, row.salinity))
                for row in self.seas
            ),
        )
