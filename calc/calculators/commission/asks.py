"""What is asked about a unit that starts for the first time, and what was read then."""

from __future__ import annotations

from datetime import timedelta
from functools import cached_property

from ... import sheet
from ...frame import units
from ...frame.inputs import Refusal, but, is_set
from ...frame.inputs import date as ask_date
from ...sheet import BoatSheet as boat
from ...sheet.groups import DAY_ONE
from ...sheet.readings import DayOne
from ...system import motor
from ...system.first_day import FirstDay, Others, first_day
from ...system.readings import Readings
from ...system.running import Gear
from ...system.watermaking import Making

READ = (
    "day_temperature", "day_salinity", "day_pressure", "day_before", "day_behind", "day_product",
    "day_brine", "day_conductivity", "day_volts", "day_amperes",
)  # fmt: skip
ELSEWHERE = "What other pages ask too"
LOOKED = (
    "day_date", "day_turns", "day_oil", "day_weeps", "day_relief", "day_rest_volts",
    "day_start_volts", "day_start_amperes", "day_frame", "day_air", "day_sound",
)  # fmt: skip
# What the feed's gauges are expected to read hangs on these.
FEED = (
    "feed_bore", "feed_length", "pump_height", "cartridge_loss", "boost_shut_off",
    "boost_free_flow",
)  # fmt: skip

# A first start is planned for the next season, or for the one after a refit.
PLANNED_AHEAD = timedelta(days=731)


class Asks(
    sheet.StartedDrive,
    sheet.WindingRise,
    sheet.Gauged,
    sheet.DayOne,
    sheet.FirstDay,
    sheet.Valves,
    sheet.FlushFrom,
    first=("unit", *READ, "has_day_one", "day_drop", *LOOKED),
    opens=("unit", *READ[:-2]),
    gathered=ELSEWHERE,
):
    has_day_one = but(DayOne.has_day_one, default="yes")
    day_before = but(DayOne.day_before, label="Before the filters", when=None)
    day_behind = but(DayOne.day_behind, label="Behind the filters", when=None)
    day_pressure = but(DayOne.day_pressure, label="High pressure", when=None)
    day_drop = but(DayOne.day_drop, label="Drop along the membranes", when=None, group=DAY_ONE)
    day_product = but(DayOne.day_product, label="Fresh water", when=None)
    day_brine = but(DayOne.day_brine, label="Brine overboard", when=None)
    day_conductivity = but(
        DayOne.day_conductivity, label="Conductivity of the fresh water", when=None
    )
    day_temperature = but(DayOne.day_temperature, label="Warmth of the sea", when=None)
    day_salinity = but(DayOne.day_salinity, label="Salt of the sea", when=None)
    day_volts = but(DayOne.day_volts, label="Volts at the panel, at work", when=None)
    day_amperes = but(DayOne.day_amperes, label="Amperes of the motor, at work", when=None)
    today = ask_date("Today", "2026-05-01", today=True, group=ELSEWHERE)
    day_relief = but(sheet.FirstDay.day_relief, when=is_set("has_relief"))
    # Which switches there are hangs on whether there is one, not on what is known of it.
    has_boost = but(boat.has_boost, group=ELSEWHERE)
    flow = boat.flow

    def gear_aboard(self) -> Gear:
        """Its switches and valves."""
        return self.gear(self.has_boost, self.has_relief, self.flushed_by_house())

    def check_day(self) -> None:
        """Refuses a day that nobody plans for yet."""
        latest = self.today + PLANNED_AHEAD
        if self.day_date is not None and self.day_date > latest:
            raise Refusal(
                "day_date",
                "{day} lies more than two years after today, {today}: no day after {latest} is "
                "taken",
                day=self.day_date,
                today=self.today,
                latest=latest,
            )

    def taken(self) -> Readings:
        """What was read. Refuses what no set of this kind shows."""
        found = self.read_then()
        self.check_readings(found, "day_")
        return found

    def others(self) -> Others:
        """What no gauge shows at work. Refuses what can't be."""
        self.check_volts(self.day_rest_volts, "day_rest_volts")
        frame, air = self.day_frame, self.day_air
        if frame is not None and air is not None and frame < air:
            raise Refusal(
                "day_frame",
                "must be no less than the air beside it, {air}: after an hour's work it is warmer",
                air=units.text(air, "°C"),
            )
        return Others(
            self.day_rest_volts,
            self.day_start_volts,
            self.day_start_amperes,
            self.day_frame,
            self.day_air,
        )

    @cached_property
    def water(self) -> motor.Water | None:
        """What the motor draws; None where nobody can tell."""
        water = motor.water(self.machine())
        return None if water is None or water.overfluxed else water

    @cached_property
    def there(self) -> Making:
        """The membranes in the sea that was read, else in that of the boat's sheet."""
        return self.making_then(self.taken())

    @cached_property
    def found(self) -> FirstDay | None:
        """What should be read, and what was."""
        known = not self.unsaid.intersection(FEED)
        return first_day(
            self.watermaker(), self.taken(), self.others(), self.water, self.rise, known
        )
