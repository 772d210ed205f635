"""What is asked about the flush, and how it reads into what is aboard."""

from __future__ import annotations

from ... import sheet
from ...frame import units
from ...frame.inputs import but
from ...sheet import BoatSheet as boat
from ...sheet.elements import Litres
from ...sheet.feed_line import check_inlet
from ...sheet.groups import FLUSH
from ...system import flushing as system
from ...system.feed_line import Filters, Hose
from ...system.feed_line import Water as Flowing
from ...system.rest import kept
from ...system.running import NOTHING, RUNNING
from ...system.sea import Sea

units.define("chlorine dose", "a dose of chlorine", "100 ppm h", {"ppm h": "milligram*hour/liter"})


class Asks(
    Litres,
    sheet.Flush,
    first=(
        "unit",
        "flush_way",
        "unit_water",
        "flush_water",
        "flush_from",
        "flush_by",
        "house_shut_off",
        "house_free_flow",
        "flush_chlorine",
        "has_carbon",
        "carbon",
    ),
):
    flush_way = but(boat.flush_way, group=FLUSH)
    flush_water = but(boat.flush_water, group=FLUSH, open=True)
    tank_dosed = but(boat.tank_dosed, group=FLUSH, open=False)
    run_hours = but(boat.run_hours, group=FLUSH, open=False)
    water_days = but(boat.water_days, group=FLUSH)
    flush_every = but(boat.flush_every, group=FLUSH)
    ambient_temperature = but(boat.ambient_temperature, group=FLUSH)
    inlet_least = boat.inlet_least
    inlet_most = boat.inlet_most
    cartridge = boat.cartridge
    cartridge_flow = boat.cartridge_flow
    cartridge_loss = boat.cartridge_loss
    cartridges = boat.cartridges
    filter_change = but(boat.filter_change, open=False)
    filter_bears = boat.filter_bears
    # Its unit's record draws its power and tells nothing of its curve: that counts here.
    has_boost = but(
        boat.has_boost,
        by=(("boost_pump", "boost_shut_off"), ("boost_pump", "boost_free_flow")),
        open=False,
    )
    boost_pump = but(boat.boost_pump, open=False)
    boost_shut_off = but(boat.boost_shut_off, open=False)
    boost_free_flow = boat.boost_free_flow

    @property
    def running(self) -> bool:
        """Whether the unit's pumps run while it is flushed."""
        return self.flush_from == system.CAN or self.flush_by == RUNNING

    @property
    def forgets_the_dose(self) -> bool:
        """Whether the house pump brings dosed water that is said to hold no chlorine."""
        return self.tank_dosed and self.flush_from == system.HOUSE and not self.flush_chlorine

    def way(self) -> system.Way:
        """The way of the flush water, as warm as the sea."""
        boosts = self.has_boost and self.running
        return system.Way(
            Flowing.of(Sea(self.sea_temperature, 0.0)),
            Hose(self.flush_length, self.flush_bore, self.flush_bends),
            self.flush_rise,
            self.bed(),
            Filters(
                self.cartridges,
                self.cartridge_flow,
                self.cartridge_loss,
                self.filter_change,
                self.filter_bears,
            ),
            self.house(),
            system.House(self.boost_shut_off, self.boost_free_flow) if boosts else None,
        )

    def flush(self) -> system.Flush:
        """The flush of this boat in this sea. Refuses a pressure that brings hardly any water, and
        an inlet that no pressure suits."""
        check_inlet(self.inlet_least, self.inlet_most)
        made = self.making_some().made
        rinse = system.Rinse(
            self.unit_water,
            self.bowl_share,
            self.sea().concentration,
            made.product_salinity,
            self.flush_aim,
            self.flush_water,
        )
        keeps = kept(self.flush_every, self.ambient_temperature)
        return system.Flush(
            rinse,
            self.way(),
            self.running,
            self.making.feed,
            self.inlet_least,
            self.inlet_most,
            self.water_chlorine if self.flush_chlorine else 0.0,
            self.neutralised and self.flush_from == system.CAN,
            self.unit.membranes.chlorine,
            0 if self.flush_way == NOTHING else system.flushes(self.water_days, keeps),
            7 * self.run_hours * made.product,
        )
