"""The flush: where its water comes from, what pushes it, and what takes the chlorine out of it."""

from __future__ import annotations

from ..equipment import flush
from ..frame.inputs import Inputs, aboard, ask, choice, is_one_of, is_set, record, whole, yes_no
from ..system import flushing as system
from ..system.running import RUNNING, STILL
from .groups import FLUSH, PRACTICE

_HOUSE = is_one_of("flush_from", system.HOUSE)
_CAN = is_one_of("flush_from", system.CAN)
_CHLORINE = is_set("flush_chlorine")
_CARBON = is_set("has_carbon")


class UnitWater(Inputs, part=True):
    """What the unit holds, and what there is to flush it with."""

    unit_water = ask(
        "Water that the unit holds",
        "8 L",
        group=FLUSH,
        open=True,
        above="0 L",
        at_most="500 L",
        help="Filters, pump, pressure tubes, hoses.",
        basis=PRACTICE,
    )


class FlushFrom(Inputs, part=True):
    """Where its water comes from, and which pumps run."""

    flush_from = choice(
        "Flush water comes from",
        {
            system.CAN: "a can that the unit's own pumps draw from",
            system.HOUSE: "the house pump, out of the tank",
        },
        system.CAN,
        group=FLUSH,
        open=True,
    )
    flush_by = choice(
        "While it is flushed",
        {
            RUNNING: "the unit's pumps run, without pressure",
            STILL: "the house pump alone: both pumps are off",
        },
        RUNNING,
        group=FLUSH,
        open=True,
        when=_HOUSE,
    )

    def flushed_by_house(self) -> str:
        """How the house pump flushes; "" where it doesn't."""
        return self.flush_by if self.flush_from == system.HOUSE else ""


class Flush(UnitWater, FlushFrom, part=True):
    """How it is flushed."""

    bowl_share = ask(
        "Of that, in filter bowls",
        "50 %",
        group=FLUSH,
        at_least="0 %",
        at_most="100 %",
        basis=PRACTICE,
        help="There it mixes; in hoses and tubes fresh water pushes the salt before it.",
    )
    flush_aim = ask(
        "Salt that may stay in it",
        "1 g/L",
        group=FLUSH,
        at_least="0.2 g/L",
        at_most="20 g/L",
        help="Water of more than 1.2 g/L tastes so salty that nobody wants it.",
        basis="WHO's classes of taste: 0.9 to 1.2 g/L is poor",
    )
    house_shut_off = ask(
        "House pump: pressure at which it switches off",
        "1.4 bar",
        group=FLUSH,
        open=True,
        above="0 bar",
        at_most="8 bar",
        when=_HOUSE,
        help="On its plate or its pressure switch. Behind a pressure reducer: what that is set to.",
    )
    house_free_flow = ask(
        "House pump: flow against nothing",
        "11 L/min",
        group=FLUSH,
        open=True,
        above="0 L/min",
        at_most="200 L/min",
        when=_HOUSE,
        help="Or hold a bucket under an open tap near it, and look at a watch.",
    )
    flush_bore = ask("Flush hose, inside", "13 mm", group=FLUSH, at_least="4 mm", at_most="60 mm")
    flush_length = ask(
        "Flush hose, length",
        "4 m",
        group=FLUSH,
        at_least="0.1 m",
        at_most="50 m",
        help="From the house pump, the tank or the can to the unit's filters.",
    )
    flush_bends = whole("Elbows and sharp bends in it", "6", group=FLUSH, at_least=0, at_most=30)
    flush_rise = ask(
        "Big pump above the flush water",
        "0 m",
        group=FLUSH,
        at_least="-5 m",
        at_most="5 m",
        help="Above the house pump, or above the water in the can. Below it: with a minus.",
    )
    flush_chlorine = yes_no(
        "The flush water may hold chlorine",
        "no",
        group=FLUSH,
        open=True,
        help="Yes, if the tank was dosed with it, or holds shore water.",
    )
    water_chlorine = ask(
        "Chlorine in that water",
        "0.5 mg/L",
        group=FLUSH,
        above="0 mg/L",
        at_most="10 mg/L",
        when=_CHLORINE,
        help="Free chlorine, by a test strip. Shore water mostly has 0.2 to 2 mg/L. After a shock "
        "dose the tank is rinsed first.",
        basis=PRACTICE,
    )
    neutralised = yes_no(
        "Its chlorine is taken out with metabisulphite",
        "no",
        group=FLUSH,
        when=_CAN,
        help="In the can, and a test strip then shows none. Never in the drinking tank.",
    )
    has_carbon = aboard(
        "A carbon filter stands in the flush line",
        "no",
        ("carbon", "carbon_volume"),
        group=FLUSH,
        open=True,
    )
    carbon = record("Carbon filter", flush.Carbon, "", optional=True, group=FLUSH, when=_CARBON)
    carbon_volume = ask(
        "Carbon in it",
        "1.1 L",
        from_record="carbon.volume",
        group=FLUSH,
        above="0 L",
        at_most="100 L",
        when=_CARBON,
    )
    carbon_flow = ask(
        "Its rated flow",
        "9 L/min",
        from_record="carbon.flow",
        group=FLUSH,
        above="0 L/min",
        at_most="200 L/min",
        when=_CARBON,
    )
    carbon_loss = ask(
        "Its loss at that flow, clean",
        "0.2 bar",
        from_record="carbon.loss",
        group=FLUSH,
        at_least="0 bar",
        at_most="3 bar",
        when=_CARBON,
    )
    carbon_takes = ask(
        "Chlorine that it takes at that flow",
        "95 %",
        from_record="carbon.takes",
        group=FLUSH,
        above="0 %",
        below="100 %",
        when=_CARBON,
    )
    carbon_capacity = ask(
        "Water that it is rated for",
        "14000 L",
        from_record="carbon.capacity",
        group=FLUSH,
        above="0 L",
        at_most="1000000 L",
        when=_CARBON,
    )
    carbon_stated = ask(
        "That holds for a chlorine of",
        "1 mg/L",
        from_record="carbon.stated",
        group=FLUSH,
        at_least="0.1 mg/L",
        at_most="10 mg/L",
        when=_CARBON,
    )
    carbon_used = ask(
        "Water through it since it was changed",
        "0 L",
        group=FLUSH,
        at_least="0 L",
        at_most="1000000 L",
        when=_CARBON,
        help="All of it, if the galley's water goes through it too.",
    )
    carbon_bears = ask(
        "Its housing's highest pressure",
        "6 bar",
        from_record="carbon.highest_pressure",
        group=FLUSH,
        above="0 bar",
        at_most="40 bar",
        when=_CARBON,
        basis=PRACTICE,
    )

    def house(self) -> system.House | None:
        """The house pump, where it brings the water."""
        if self.flush_from != system.HOUSE:
            return None
        return system.House(self.house_shut_off, self.house_free_flow)

    def bed(self) -> system.Carbon | None:
        """The carbon filter, if there is one."""
        if not self.has_carbon:
            return None
        return system.Carbon(
            self.carbon_volume,
            self.carbon_flow,
            self.carbon_loss,
            self.carbon_takes,
            self.carbon_capacity,
            self.carbon_stated,
            self.carbon_used,
            self.carbon_bears,
        )
