"""What is asked about the feed line, and how it reads into what is aboard."""

from __future__ import annotations

from ... import sheet
from ...frame.inputs import but
from ...sheet import BoatSheet as boat
from ...sheet.groups import WATERS_WAY
from ...system import feed_line as system


class Asks(
    sheet.Machine,
    sheet.FeedLine,
    sheet.TheSea,
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

    def line(self) -> system.FeedLine:
        """The feed line of this boat in this sea."""
        return self.feed_line(self.sea(), self.flow, self.plungers, self.unit.pump)
