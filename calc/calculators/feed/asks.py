"""What is asked about the feed line, and how it reads into what is aboard."""

from __future__ import annotations

from ... import sheet
from ...frame.inputs import but
from ...sheet import BoatSheet as boat
from ...sheet.groups import WATERS_WAY
from ...system import feed_line as system
from ...system.watermaking import feed_on


class Asks(
    sheet.Machine,
    sheet.FeedLine,
    sheet.TheSea,
    sheet.Hertz,
    first=(
        "unit",
        "feed_bore",
        "feed_length",
        "pump_height",
        "has_boost",
        "boost_pump",
        "boost_shut_off",
        "cartridge",
        "filter_change",
        "water_heel",
    ),
):
    flow = but(boat.flow, group=WATERS_WAY)
    plungers = but(boat.plungers, group=WATERS_WAY)

    @property
    def moves(self) -> float:
        """What the pump moves on these mains [m3/s]."""
        return feed_on(self.flow, self.unit.motor.frequency, self.ac_frequency)

    def line(self) -> system.FeedLine:
        """The feed line of this boat in this sea."""
        return self.feed_line(self.sea(), self.moves, self.plungers, self.unit.pump)
