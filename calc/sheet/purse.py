"""What a unit and its water cost, and what water costs that is bought."""

from __future__ import annotations

from ..frame.inputs import Inputs, Other, ask, choice, is_one_of, is_set
from ..system import purse as system
from .groups import BOUGHT, MONEY, PRACTICE

FROM_BANK, FROM_GENERATOR = "bank", "generator"
QUAY, CANS, BOTTLES = "quay", "cans", "bottles"
_INVENTED = "invented"


class Wages(Inputs, part=True):
    """What an hour of work costs."""

    own_hour = ask(
        "An hour of your own time", "0 ¤/h", group=MONEY, at_least="0 ¤/h", at_most="1000 ¤/h"
    )
    yard_hour = ask(
        "An hour of a mechanic or electrician",
        "65 ¤/h",
        group=MONEY,
        at_least="0 ¤/h",
        at_most="1000 ¤/h",
        basis=_INVENTED,
    )


class Purse(Wages, part=True):
    """What a unit costs, and its running."""

    outlay = ask(
        "The unit, bought and fitted",
        "4800 ¤",
        group=MONEY,
        open=True,
        above="0 ¤",
        at_most="1000000 ¤",
        basis=_INVENTED,
        help="With hoses, cables, hull fittings and the hours of whoever fits it.",
    )
    days_aboard = ask(
        "Days a year on which you use its water",
        unit="days",
        group=MONEY,
        open=True,
        at_least="1 days",
        at_most="365 days",
        optional=True,
        help="Left empty: all days of the coming year outside your lay-ups.",
    )
    use_years = ask(
        "Years that you use it",
        "10 years",
        group=MONEY,
        open=True,
        at_least="1 years",
        at_most="40 years",
        basis=PRACTICE,
    )
    interest = ask(
        "Interest a year, over inflation",
        "3 %",
        group=MONEY,
        at_least="0 %",
        at_most="30 %",
        basis=PRACTICE,
        help="What the money would bring elsewhere, or what it costs to borrow, less the rise of "
        "prices: then all is told in today's money.",
    )
    resale = ask(
        "It sells for, at the end",
        "500 ¤",
        group=MONEY,
        at_least="0 ¤",
        at_most=Other("outlay"),
        basis=_INVENTED,
        help="In today's money; 0 if it goes with the boat for nothing.",
    )
    energy_from = choice(
        "Its energy comes from",
        {FROM_BANK: "the bank", FROM_GENERATOR: "the generator, run for it alone"},
        FROM_BANK,
        group=MONEY,
        when=is_set("has_generator"),
    )
    energy_price = ask(
        "A kilowatt-hour for it costs",
        "0.35 ¤/kWh",
        group=MONEY,
        at_least="0 ¤/kWh",
        at_most="100 ¤/kWh",
        basis=PRACTICE,
        help="From the bank: its price over all the kilowatt-hours of its life, and what fills it. "
        "With the losses of the inverter.",
        when=is_one_of("energy_from", FROM_BANK),
    )
    generator_hour = ask(
        "An hour of the generator, beside its fuel",
        "0.50 ¤/h",
        group=MONEY,
        at_least="0 ¤/h",
        at_most="1000 ¤/h",
        basis=_INVENTED,
        help="Oil, filters, and its price over the hours of its life.",
        when=is_one_of("energy_from", FROM_GENERATOR),
    )

    def capital(self) -> system.Capital:
        """What the unit costs, over the years of its use."""
        return system.Capital(self.outlay, self.resale, self.use_years / system.YEAR, self.interest)


class Bought(Inputs, part=True):
    """Water that is bought instead."""

    bought_by = choice(
        "Else you would have it",
        {
            QUAY: "by a hose, at a quay",
            CANS: "in cans, by dinghy or on foot",
            BOTTLES: "in bottles, from a shop",
        },
        QUAY,
        group=BOUGHT,
        open=True,
    )
    quay_price = ask(
        "Water at the quay",
        "0.01 ¤/L",
        group=BOUGHT,
        open=True,
        at_least="0 ¤/L",
        at_most="1000 ¤/L",
        basis=_INVENTED,
        help="By the cubic metre too: 10 ¤/m3.",
    )
    quay_fill = ask(
        "Water taken there each time",
        "250 L",
        group=BOUGHT,
        open=True,
        above="0 L",
        at_most="20000 L",
        basis=_INVENTED,
    )
    quay_time = ask(
        "The way there and back takes",
        "2 h",
        group=BOUGHT,
        at_least="0 h",
        at_most="240 h",
        basis=_INVENTED,
        help="The detour and the waiting. It costs what an hour of your own is worth to you.",
    )
    quay_fuel = ask(
        "Fuel for that", "3 L", group=BOUGHT, at_least="0 L", at_most="5000 L", basis=_INVENTED
    )
    quay_fee = ask(
        "Berth or fee, each time",
        "10 ¤",
        group=BOUGHT,
        at_least="0 ¤",
        at_most="10000 ¤",
        basis=_INVENTED,
    )
    can_price = ask(
        "Water in cans",
        "0.01 ¤/L",
        group=BOUGHT,
        at_least="0 ¤/L",
        at_most="1000 ¤/L",
        basis=_INVENTED,
    )
    can_fill = ask(
        "Water in the cans of one trip",
        "80 L",
        group=BOUGHT,
        above="0 L",
        at_most="5000 L",
        basis=_INVENTED,
    )
    can_time = ask(
        "A trip with the cans takes",
        "1 h",
        group=BOUGHT,
        at_least="0 h",
        at_most="48 h",
        basis=_INVENTED,
    )
    can_fuel = ask(
        "Fuel for a trip with the cans",
        "0.5 L",
        group=BOUGHT,
        at_least="0 L",
        at_most="100 L",
        basis=_INVENTED,
    )
    bottle_price = ask(
        "Water in bottles",
        "0.40 ¤/L",
        group=BOUGHT,
        at_least="0 ¤/L",
        at_most="1000 ¤/L",
        basis=_INVENTED,
    )

    def ways(self, hour: float, fuel: float) -> dict[str, system.Way]:
        """Each way to buy it, where an hour of one's own and fuel cost so much [money/s, /m3]."""
        quay = self.quay_time * hour + self.quay_fuel * fuel + self.quay_fee
        cans = self.can_time * hour + self.can_fuel * fuel
        return {
            QUAY: system.Way(self.quay_price, quay, self.quay_fill),
            CANS: system.Way(self.can_price, cans, self.can_fill),
            BOTTLES: system.Way(self.bottle_price),
        }
