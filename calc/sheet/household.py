"""What the people aboard use, and the tank that it comes from."""

from __future__ import annotations

from ..frame.inputs import Inputs, Other, ask, whole
from ..system import household as system
from .groups import HABIT, HOUSEHOLD, PRACTICE

RESERVE = 0.25  # of the tank, where no reserve is said. Common practice, no source.


class Household(Inputs, part=True):
    """How many they are, and what each takes."""

    crew = whole("People aboard", "2", group=HOUSEHOLD, open=True, at_least=1, at_most=24)
    drink_and_cook = ask(
        "To drink and cook, each person",
        "4 L/day",
        group=HOUSEHOLD,
        at_least="0 L/day",
        at_most="50 L/day",
        basis=PRACTICE,
        help="Sphere's least for drink and food is 2.5 to 3 L a day; in the heat it is more.",
    )
    dishes = ask(
        "Dishes and hands, each person",
        "4 L/day",
        group=HOUSEHOLD,
        at_least="0 L/day",
        at_most="100 L/day",
        basis=PRACTICE,
    )
    showers = ask(
        "Showers a week, each person",
        "4",
        group=HOUSEHOLD,
        at_least="0",
        at_most="28",
        basis=PRACTICE,
    )
    shower_water = ask(
        "Fresh water for a shower",
        "8 L",
        group=HOUSEHOLD,
        at_least="0 L",
        at_most="200 L",
        basis=PRACTICE,
    )
    laundry = ask(
        "Laundry, all together",
        "3 L/day",
        group=HOUSEHOLD,
        at_least="0 L/day",
        at_most="500 L/day",
        basis=PRACTICE,
        help="A week's washes over seven days.",
    )
    rinsing = ask(
        "Rinsing decks, swimmers and gear",
        "3 L/day",
        group=HOUSEHOLD,
        at_least="0 L/day",
        at_most="500 L/day",
        basis=PRACTICE,
    )
    pets = ask(
        "Pets and plants", "0 L/day", group=HOUSEHOLD, at_least="0 L/day", at_most="100 L/day"
    )
    water_losses = ask(
        "Losses, of all that is drawn",
        "5 %",
        group=HOUSEHOLD,
        at_least="0 %",
        at_most="50 %",
        basis=PRACTICE,
        help="A tap that drips, a pump that weeps, the water until it runs warm.",
    )

    def household(self) -> system.Household:
        """What they use."""
        return system.Household(
            self.crew,
            self.drink_and_cook,
            self.dishes,
            self.showers,
            self.shower_water,
            self.laundry,
            self.rinsing,
            self.pets,
            self.water_losses,
        )


class Tank(Inputs, part=True):
    """The fresh-water tank, and what is never touched."""

    tank_volume = ask(
        "Fresh-water tank",
        "300 L",
        group=HOUSEHOLD,
        open=True,
        above="0 L",
        at_most="20000 L",
        help="All that the unit fills, together.",
    )
    tank_reserve = ask(
        "Reserve in the tank, never touched",
        unit="L",
        group=HOUSEHOLD,
        at_least="0 L",
        below=Other("tank_volume"),
        optional=True,
        help="Left empty: a quarter of the tank.",
        basis=PRACTICE,
    )
    water_cans = ask(
        "Drinking water in cans or another tank",
        "0 L",
        group=HOUSEHOLD,
        at_least="0 L",
        at_most="5000 L",
        help="Water from ashore that the unit's tank can't spoil.",
    )
    passage_days = ask(
        "Longest time at sea between two fillings",
        "7 days",
        group=HOUSEHOLD,
        open=True,
        above="0 days",
        at_most="120 days",
        help="From one place with drinking water to the next, and some days for bad luck.",
    )

    def tank(self) -> system.Tank:
        """The tank with its reserve."""
        reserve = self.tank_reserve
        return system.Tank(
            self.tank_volume,
            RESERVE * self.tank_volume if reserve is None else reserve,
            self.water_cans,
        )


class Runs(Inputs, part=True):
    """On how many days water is made, and what each start costs of it."""

    water_days = whole(
        "Days a week on which it runs",
        "7",
        group=HABIT,
        at_least=1,
        at_most=7,
        help="The hours a day are the week's hours over seven days, however many runs they are.",
    )
    waste_time = ask(
        "Product to waste, until it tests fresh",
        "5 min",
        group=HABIT,
        at_least="0 min",
        at_most="120 min",
        basis=PRACTICE,
        help="Longer after a lay-up: half an hour after preservative.",
    )
