"""What is asked about the readings of some years, and how they read into a trend."""

from __future__ import annotations

from functools import cached_property

from ... import sheet
from ...frame.inputs import Refusal, ask, but
from ...frame.inputs import date as ask_date
from ...sheet import BoatSheet as boat
from ...sheet.groups import PRACTICE, READINGS
from ...system import trend as system
from ...system.sea import TEST
from ...system.standardised import Read, Standard
from ...system.trend import Trend
from ...system.watermaking import feed_on


class Asks(
    sheet.TheSea,
    sheet.Membranes,
    sheet.Hertz,
    sheet.ReadingsLog,
    sheet.Log,
    sheet.DayOne,
    first=("today", "unit", "readings", "waters", "sea_salinity", "clean_at", "since", "log"),
):
    today = ask_date("Today", "2026-05-01", open=True, today=True)
    readings = but(sheet.ReadingsLog.readings, open=True)
    flow = boat.flow
    cartridge = boat.cartridge
    filter_change = but(boat.filter_change, open=False)
    clean_at = ask(
        "Clean when one is worse by",
        "10 %",
        group=READINGS,
        at_least="5 %",
        at_most="30 %",
        basis=PRACTICE,
        help="Less fresh water, more salt let through, more drop than on day one. Makers ask for "
        "it at 10 to 15 %.",
    )
    since = ask_date(
        "Compare with the readings from",
        optional=True,
        group=READINGS,
        help="The day on which new membranes went in, if that was later than day one. Older "
        "readings then stay out.",
    )
    sea_temperature = but(sheet.TheSea.sea_temperature, open=False)

    def standard(self) -> Standard:
        """What the readings are brought to: the conditions of its papers."""
        unit, sea = self.unit, self.sea()
        return Standard(
            self.train_by_papers(),
            TEST,
            unit.pump.flow,
            unit.pressure,
            feed_on(self.flow, unit.motor.frequency, self.ac_frequency),
            sea.salinity,
            self.back_pressure,
        )

    def first_day(self) -> Read | None:
        """What was read on day one; None where nothing was, or where that day is not counted."""
        day = None if self.since else self.day_one()
        if day is None:
            return None
        return Read(
            day.product,
            day.pressure,
            day.temperature,
            day.salinity,
            day.brine,
            day.drop,
            day.conductivity,
        )

    @cached_property
    def found(self) -> Trend | None:
        """What the readings tell; None where there are none."""
        lines = self.kept(self.today)
        if self.since and self.since > self.today:
            raise Refusal(
                "since",
                "{day} lies after today, {today}; is one of the two wrong?",
                day=self.since,
                today=self.today,
            )
        if self.since:
            lines = tuple(line for line in lines if line.day >= self.since)
        if not lines:
            return None
        return system.trend(self.standard(), lines, self.first_day(), self.clean_at)
