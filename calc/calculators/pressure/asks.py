"""What is asked about the pressure side."""

from __future__ import annotations

from ... import sheet
from ...frame import units
from ...frame.inputs import but
from ...sheet import BoatSheet as boat
from ...sheet.groups import PRESSURE_SIDE

units.define("yielding", "a volume for each bar", "5 mL/bar", {"mL/bar": "milliliter/bar"})


class Asks(
    sheet.UnderPressure,
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
