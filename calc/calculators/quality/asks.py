"""What is asked about the water and its tank, and how it reads into what is aboard."""

from __future__ import annotations

from ... import sheet
from ...frame import units
from ...frame.inputs import but, is_set
from ...sheet import BoatSheet as boat
from ...sheet.groups import TANK_WATER
from ...system import tank_water as system
from ...system.flushing import HOUSE

_DOSED = is_set("tank_dosed")

units.define(
    "chlorine times time",
    "a chlorine times time",
    "30 mg min/L",
    {"mg min/L": "milligram*minute/liter"},
)


class Asks(
    sheet.Water,
    sheet.TankWater,
    first=(
        "unit",
        "product_meter",
        "product_conductivity",
        "product_ppm",
        "tank_volume",
        "tank_dosed",
        "bleach_strength",
        "bleach_age",
        "chlorine_dose",
        "chlorine_left",
        "tank_temperature",
    ),
):
    tank_volume = boat.tank_volume
    flush_from = but(boat.flush_from, group=TANK_WATER, when=_DOSED)
    has_carbon = but(boat.has_carbon, group=TANK_WATER, when=_DOSED)
    carbon = but(boat.carbon, group=TANK_WATER)
    carbon_volume = but(boat.carbon_volume, group=TANK_WATER)

    def water(self) -> system.TankWater:
        """The water that runs into the tank."""
        return system.TankWater(
            self.making,
            self.reading(),
            self.salt_aim,
            self.product_bore,
            self.product_length,
            self.boron_passage,
            self.tank_volume,
            self.hardness_aim,
            self.dose(self.tank_volume),
            self.flush_from == HOUSE and not self.has_carbon,
        )
