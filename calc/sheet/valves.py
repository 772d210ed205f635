"""The switches and valves that a start and a stop go through."""

from __future__ import annotations

from ..frame.inputs import Inputs, ask, choice, is_one_of, is_set, yes_no
from ..system import running as system
from .groups import VALVES


class Valves(Inputs, part=True):
    """Which switches and valves there are, and what they can shut."""

    pump_switches = choice(
        "Boost pump and high-pressure pump have",
        {system.TWO: "a switch each", system.ONE: "one switch for both"},
        system.TWO,
        group=VALVES,
        open=True,
        when=is_set("has_boost"),
    )
    flush_way = choice(
        "Behind the seacock stands",
        {
            system.THREE_WAY: "a three-way valve: sea or flush water",
            system.TAP: "a connection with a valve of its own",
            system.NOTHING: "neither: flush water can't get in",
        },
        system.THREE_WAY,
        group=VALVES,
        open=True,
    )
    brine_valve = yes_no(
        "The brine's way overboard can be shut by a valve",
        "no",
        group=VALVES,
        open=True,
        help="A seacock on its skin fitting counts. The regulating valve does not.",
    )
    brine_dips = yes_no(
        "The brine's outlet can dip under water",
        "no",
        group=VALVES,
        open=True,
        help="Heeled, rolling or in a wave. No, if a vented loop stands in its line, its top well "
        "above the water as she heels.",
    )
    product_way = choice(
        "Fresh water goes to the tank through",
        {
            system.THREE_WAY: "a three-way valve: one way is always open",
            system.STRAIGHT: "a hose without a valve",
            system.PLAIN: "a line with a valve that can be shut",
        },
        system.THREE_WAY,
        group=VALVES,
        open=True,
    )
    product_relief = yes_no(
        "A relief valve stands before that valve",
        "no",
        group=VALVES,
        open=True,
        when=is_one_of("product_way", system.PLAIN),
        help="In the product line, set below what line and membrane bear. The relief valve at the "
        "pump is another one.",
    )
    low_pressure_switch = yes_no(
        "A low-pressure switch stops the pump before it runs dry", "yes", group=VALVES, open=True
    )
    remote_start = yes_no(
        "A timer, an automatic or a remote switch can start it", "no", group=VALVES, open=True
    )
    bowl_vents = yes_no("The filter bowls have vents", "no", group=VALVES, open=True)
    salinity_meter = yes_no("There is a salinity meter", "no", group=VALVES, open=True)
    flush_water = ask(
        "Fresh water for a flush", "25 L", group=VALVES, above="0 L", at_most="2000 L"
    )

    def gear(self, boost: bool, relief: bool, house: str = "") -> system.Gear:
        """All of them, with a boost pump and a relief valve at the big one, or without, and as the
        house pump flushes."""
        return system.Gear(
            boost,
            self.pump_switches,
            self.flush_way,
            self.brine_valve,
            self.brine_dips,
            self.product_way,
            self.product_relief,
            self.low_pressure_switch,
            self.remote_start,
            self.bowl_vents,
            self.salinity_meter,
            relief,
            house,
        )
