"""What is asked to put a unit in, and the plan that is made of it."""

from __future__ import annotations

from ... import sheet
from ...frame.inputs import ask, but, choice, is_one_of, yes_no
from ...sheet import BoatSheet as boat
from ...sheet.groups import PRACTICE
from ...system import feed_line, locker, to_buy
from ...system.installing import DRIP, DRY, JET, SPLASH, Kit

WATER_IN = "Water at the motor"
HOSES, TRIAL = "Hoses that no other page asks for", "The trial with fresh water"
ELSEWHERE = "What other pages ask too"
UNKNOWN = "unknown"
_WET = is_one_of("wet", DRIP, SPLASH, JET)


class Asks(
    sheet.Wiring,
    sheet.FeedLine,
    sheet.UnderPressure,
    sheet.Bolted,
    sheet.Valves,
    sheet.FlushFrom,
    sheet.Air,
    sheet.Blower,
    first=(
        "unit",
        "wet",
        "enclosure",
        "attitude",
        "seacock_there",
        "drain_reached",
        "brine_length",
        "product_length",
        "relief_length",
    ),
    opens=("unit", "wet", "enclosure", "attitude", "seacock_there", "drain_reached"),
    gathered=ELSEWHERE,
):
    """Everything that the pages on its parts ask, and what none of them does."""

    wet = choice(
        "Water that can reach the motor there",
        {
            DRY: "none",
            DRIP: "drips from a hatch, a pipe or the deck",
            SPLASH: "spray or splashes",
            JET: "a jet: a hose, or seas",
        },
        DRY,
        help="With hatches open, in a seaway, and when a bowl or hose above it is opened.",
    )
    enclosure = choice(
        "Second numeral of the motor's IP code",
        {UNKNOWN: "not known", **{str(n): str(n) for n in range(9)}},
        UNKNOWN,
        when=_WET,
        help="On its plate: of IP 54 it is the 4.",
    )
    seacock_there = yes_no(
        "A seacock for its sea water is there already",
        "no",
        help="Its own, or a branch before the pump of another line, as your yard allows.",
    )
    drain_reached = yes_no(
        "A pan goes under the oil drain, the unit in its place",
        "yes",
        help="If not, the oil is drawn up through the filler.",
    )
    brine_length = ask(
        "Hose for the brine, overboard",
        unit="m",
        group=HOSES,
        at_least="0.1 m",
        at_most="50 m",
        optional=True,
    )
    product_length = ask(
        "Hose for the fresh water, to the tank",
        unit="m",
        group=HOSES,
        at_least="0.1 m",
        at_most="100 m",
        optional=True,
    )
    relief_length = ask(
        "Hose from the relief valve's outlet down to the bilge",
        unit="m",
        group=HOSES,
        at_least="0.1 m",
        at_most="20 m",
        optional=True,
    )
    flush_bore = but(boat.flush_bore, group=ELSEWHERE)
    flush_length = but(boat.flush_length, group=ELSEWHERE)
    test_time = ask(
        "Time it runs without pressure",
        "5 min",
        group=TRIAL,
        at_least="1 min",
        at_most="60 min",
        basis=PRACTICE,
    )

    def kit(self) -> Kit:
        """What goes in, and where."""
        locked = self.stands == "locker"
        return Kit(
            self.gear(self.has_boost, self.has_relief, self.flushed_by_house()),
            self.attitude == "bulkhead",
            self.its_mounts().hard,
            self.fix_by == "bolts",
            self.its_floor().cored,
            self.seacock_there,
            self.drain_reached,
            self.has_inverter,
            locked and self.air_way in ("one", "two", "fan", "engine"),
            locked and self.air_way == "fan",
        )

    def line(self) -> feed_line.FeedLine:
        """The feed line of this boat in this sea."""
        return self.feed_line(self.sea(), self.moves, self.plungers, self.unit.pump)

    def hoses(self) -> to_buy.Hoses:
        """Lengths that no other page asks for."""
        return to_buy.Hoses(
            self.brine_length,
            self.product_length,
            self.relief_length,
            (self.flush_length, self.flush_bore),
        )

    def aired_by(self) -> tuple[tuple[float, float], locker.Fan]:
        """Areas of the openings [m2], and the fan."""
        vents = self.vents()
        return (vents.low, vents.high), self.fan()
