"""What is asked about the cost of water, and how it reads into a purse."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ... import sheet
from ...frame.inputs import Refusal, but
from ...frame.inputs import date as ask_date
from ...sheet import BoatSheet as boat
from ...sheet.groups import FLUSH, MONEY
from ...sheet.purse import FROM_BANK
from ...system import need, running, spares
from ...system import purse as system
from ...system import year as years
from ...system.motor import Machine, Water
from ...system.rest import kept
from ...system.upkeep import Task


class Asks(
    sheet.Drive,
    sheet.Boost,
    sheet.Water,
    sheet.Household,
    sheet.Generator,
    sheet.Fuel,
    sheet.LayUps,
    sheet.Parts,
    sheet.Purse,
    sheet.Bought,
    first=(
        "unit",
        "outlay",
        "use_years",
        "days_aboard",
        "crew",
        "bought_by",
        "quay_price",
        "quay_fill",
        "can_price",
        "can_fill",
        "bottle_price",
    ),
):
    today = ask_date("Today", "2026-05-01", today=True, group=MONEY)
    flush_way = but(boat.flush_way, group=FLUSH, open=False)
    flush_water = but(boat.flush_water, group=FLUSH)
    water_days = but(boat.water_days, group=FLUSH)
    flush_every = but(boat.flush_every, group=FLUSH)
    ambient_temperature = but(boat.ambient_temperature, group=FLUSH)
    waste_time = but(boat.waste_time, group=FLUSH)
    boost_pump = but(boat.boost_pump, open=False)
    has_relief = boat.has_relief  # beside the pressure at which it opens
    fuel_price = but(boat.fuel_price, group=MONEY)

    def machine(self) -> Machine:
        """The machine with its boost pump, and the fresh water that it makes in this sea."""
        return replace(self.boosted(super().machine()), product=self.making.made.product)

    def days(self) -> float:
        """Time of a year on which its water is used [s]. Refuses a year that is all laid up."""
        self.check_lay_ups()
        days = self.afloat(self.today) if self.days_aboard is None else self.days_aboard
        if days <= 0:
            raise Refusal(
                "days_aboard",
                "by your lay-ups nobody is aboard in the twelve months to come: say on how many "
                "days of a usual year you use its water",
            )
        return days

    def drawn(self) -> float:
        """What all aboard draw from the tank [m3/s]. Refuses none."""
        drawn = self.household().drawn
        if drawn <= 0:
            raise Refusal(
                "drink_and_cook", "must be more than 0 L/day where nothing else takes water"
            )
        return drawn

    def runs(self) -> need.Runs:
        """How it is flushed, and its water wasted; for how long it runs follows from the litres."""
        return need.Runs(
            0.0,
            self.water_days,
            self.waste_time,
            0.0 if self.flush_way == running.NOTHING else self.flush_water,
            kept(self.flush_every, self.ambient_temperature),
        )

    def power_price(self, water: Water) -> float:
        """What an hour of running costs in energy [money/s]."""
        if self.energy_from == FROM_BANK:
            return (water.real + water.boost_dc) * self.energy_price
        return self.burns().flow(water.real) * self.fuel_price + self.generator_hour

    def parts_price(self, planned: Sequence[Task]) -> float:
        """What parts that fail cost in the long run, for each running time [money/s]."""
        return sum(
            part.price * spares.failures(part, task.rule.hours if task else None)
            for part, task in self.changed_by(planned, self.unit)
        )

    def own(self, water: Water) -> system.Own:
        """The unit with all that it costs. Refuses what contradicts itself."""
        rests = years.lay_ups_to_come(self.stays(), self.today)
        tasks: list[system.Recurring] = []
        membranes: list[system.Recurring] = []
        planned = self.planned(self.unit)
        for task in planned:
            made = system.recurring(task, rests, self.own_hour, self.yard_hour)
            # what is priced for each membrane is done to the membranes
            (membranes if self.tasks[task.place].per == "membrane" else tasks).append(made)
        runs = self.runs()
        return system.Own(
            self.capital(),
            self.drawn(),
            self.days(),
            runs.flushed / runs.apart,
            runs.waste / runs.apart,
            self.making.made.product,
            tasks,
            membranes,
            self.parts_price(planned),
            self.power_price(water),
        )

    def all_ways(self) -> dict[str, system.Way]:
        """Each way to buy water."""
        return self.ways(self.own_hour, self.fuel_price)

    def purse(self, water: Water) -> system.Purse:
        """Water of one's own against water bought in the way that was chosen."""
        return system.Purse(self.own(water), self.all_ways()[self.bought_by])
