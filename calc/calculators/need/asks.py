"""What is asked about need, tank and runs, and how it reads into what is aboard."""

from __future__ import annotations

from functools import lru_cache

from ... import sheet
from ...equipment import kinds
from ...frame.inputs import Inputs, ask, but, record, rows
from ...sheet import BoatSheet as boat
from ...sheet.elements import stated
from ...sheet.groups import FLUSH, PRACTICE
from ...system import membranes, motor, running
from ...system import need as system
from ...system.rest import kept
from ...system.sea import Sea
from ...system.unfit import Unfit
from ...system.watermaking import Making, feed_on, spent

STAY, OTHERS = "The stay to look at", "Other units"


class AUnit(Inputs):
    """A row of the list of units."""

    name = record("Unit", kinds.Unit, "skerry-45")


class Asks(
    sheet.Household,
    sheet.Tank,
    sheet.WaterHours,
    sheet.Runs,
    sheet.Drive,
    sheet.Boost,
    sheet.Water,
    first=(
        "unit",
        "crew",
        "run_hours",
        "water_days",
        "tank_volume",
        "passage_days",
        "waters",
        "sea_temperature",
    ),
):
    waters = but(boat.waters, open=True)
    sea_temperature = but(boat.sea_temperature, open=True)
    water_days = but(boat.water_days, open=True)
    boost_pump = but(boat.boost_pump, open=False)
    flush_way = but(boat.flush_way, group=FLUSH, open=False)
    flush_water = but(boat.flush_water, group=FLUSH)
    flush_every = but(boat.flush_every, group=FLUSH)
    ambient_temperature = but(boat.ambient_temperature, group=FLUSH)
    waste_time = but(boat.waste_time, group=FLUSH)
    stay_days = ask("Days to look at", "14 days", group=STAY, at_least="1 days", at_most="30 days")
    tank_filled = ask(
        "The tank is full to, at first", "100 %", group=STAY, at_least="0 %", at_most="100 %"
    )
    use_varies = ask(
        "A day's use varies by",
        "25 %",
        group=STAY,
        at_least="0 %",
        at_most="50 %",
        basis=PRACTICE,
        help="Two days of three are within that of the mean.",
    )
    make_varies = ask(
        "A run's water varies by",
        "15 %",
        group=STAY,
        at_least="0 %",
        at_most="50 %",
        basis=PRACTICE,
        help="A cold current, dirty filters, a run cut short.",
    )
    other_units = rows(
        "Units to compare",
        AUnit,
        shelf="unit",
        every=True,
        one="unit",
        group=OTHERS,
        folded=True,
        help="By their papers, with new membranes, in your sea.",
    )

    def runs(self) -> system.Runs:
        """How the unit is run and flushed."""
        flushed = self.flush_way != running.NOTHING
        return system.Runs(
            self.run_hours,
            self.water_days,
            self.waste_time,
            self.flush_water if flushed else 0.0,
            kept(self.flush_every, self.ambient_temperature),
        )

    def need(self) -> system.Need:
        """What is needed, and what makes it. Refuses a pressure that brings hardly any water."""
        return system.Need(
            self.household(),
            self.tank(),
            self.runs(),
            self.making_some().made.product,
            system.Stay(self.stay_days, self.tank_filled, self.use_varies, self.make_varies),
        )

    def machine(self) -> motor.Machine:
        """The machine with its boost pump."""
        return self.boosted(super().machine())

    def energy(self) -> float | None:
        """Energy of a litre [J/m3], boost pump included; None where nobody can tell what the motor
        draws."""
        machine = self.machine()
        water = motor.water(machine)
        if water is None or water.overfluxed:
            return None
        return spent(machine, water, self.making.made).whole

    def offers(self, need: system.Need) -> list[system.Offer]:
        """The units of the list that suit mains and sea, at the pressure to set there."""
        found = []
        about = self.sea(), self.ac_frequency, self.back_pressure
        for unit in dict.fromkeys(row.name for row in self.other_units):
            if not motor.hertz_suit(unit.motor.frequency, self.ac_frequency):
                continue
            making = _made_by(unit, *about)
            if making is not None and not making.dry and making.ails is None:
                offered = system.Offer(unit.key, unit.name, making, need.by(making.made.product))
                found.append(offered)
        return found


@lru_cache(maxsize=1024)  # of hundreds of units none changes with people, hours or tank
def _made_by(unit: kinds.Unit, sea: Sea, hertz: float, back_pressure: float) -> Making | None:
    """A unit in this sea, on such mains; None where it gives none, or its papers can't hold."""
    pump, train = unit.pump, unit.membranes
    rated = membranes.Rated(unit.product_flow, unit.pressure, pump.flow, stated(train))
    try:
        made = membranes.train(rated)
    except Unfit:
        return None
    return Making(
        made,
        unit.product_flow,
        unit.pressure,
        sea,
        feed_on(pump.flow, unit.motor.frequency, hertz),
        unit.pressure,
        back_pressure,
        min(pump.highest_pressure, train.highest_pressure),
        unit.relief.opens if unit.relief else None,
    ).set_right
