"""What Power asks, and the boat that it makes of it."""

from __future__ import annotations

from dataclasses import replace
from math import isclose

from ... import sheet
from ...frame.inputs import but, whole
from ...sheet import BoatSheet as boat
from ...system.aboard import Aboard, Habits
from ...system.bank import HouseBank
from ...system.motor import Machine
from ...system.supply import Generator

THE_LOAD = "The pump and its motor"


class Asks(
    sheet.StartedDrive,
    sheet.Boost,
    sheet.MotorCable,
    sheet.Inverter,
    sheet.InverterLoad,
    sheet.Bank,
    sheet.BankUse,
    sheet.Generator,
    sheet.GeneratorPeak,
    sheet.OtherLoad,
    sheet.Fuel,
    sheet.Charger,
    sheet.Alternator,
    sheet.Sun,
    sheet.House,
    sheet.WaterHours,
    sheet.ChargingHours,
    sheet.Place,
    sheet.Water,
    first=("unit", "inverter", "bank", "bank_chemistry", "bank_capacity", "run_hours"),
):
    flow = but(boat.flow, group=THE_LOAD)
    pressure = but(boat.pressure, group=THE_LOAD)
    product_flow = but(boat.product_flow, group=THE_LOAD)
    has_boost = but(boat.has_boost, group=THE_LOAD)
    boost_pump = but(boat.boost_pump, group=THE_LOAD, open=False)
    boost_power = but(boat.boost_power, group=THE_LOAD)
    boost_supply = but(boat.boost_supply, group=THE_LOAD)
    days = whole("Days to follow the bank", "7", group="Habits", at_least=1, at_most=7)

    def machine(self) -> Machine:
        """The machine, its start and its boost pump."""
        return self.boosted(super().machine())

    def whole_bank(self) -> HouseBank:
        """The bank as it is in use; unused it is nobody's business how full it is."""
        if not self.has_inverter:
            return replace(self.house_bank(), charge=self.bank_charge)
        return self.in_use(self.house_bank(self.inverter_cut_off))

    def whole_set(self) -> Generator | None:
        """The generator with its power for a start and its fuel."""
        made = self.set(self.burns())
        if made is None:
            return None
        peak, own = self.generator_peak, self.generator
        follows = peak is None
        if peak is not None and own is not None and own.peak_power is not None:
            share = own.peak_power / own.rated_power
            follows = isclose(peak / self.generator_power, share, rel_tol=1e-6)
        return replace(made, peak=peak, peak_time=self.generator_peak_time, peak_follows=follows)

    def aboard(self) -> Aboard:
        """The machine with all that can run it. Refuses what can't be aboard together."""
        return Aboard(
            replace(self.machine(), product=self.making.made.product),
            self.motor_cable(self.ac_frequency),
            self.air(),
            Habits(
                self.run_hours,
                self.water_start,
                self.engine_hours,
                self.engine_start,
                self.charger_hours,
                self.charger_start,
                self.days,
                run_said="run_hours" not in self.unsaid,
            ),
            self.loads(),
            self.whole_bank(),
            self.inverter_aboard(self.inverter_load),
            self.whole_set(),
            self.other_load,
            self.charger(),
            self.alternator_aboard() if self.has_inverter else None,
            self.sun(),
            self.fuel_price,
        )
