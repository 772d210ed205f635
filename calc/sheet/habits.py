"""House loads, the place, and the hours of a day."""

from __future__ import annotations

from ..frame.inputs import Inputs, ask, is_set
from ..system import bank as system
from ..system.supply import Air
from .groups import HABIT, HOUSE, PLACE, PRACTICE


class House(Inputs, part=True):
    """What the house takes."""

    house_day = ask(
        "House load by day, 08 to 18 h",
        "90 W",
        group=HOUSE,
        at_least="0 W",
        at_most="20 kW",
        basis=PRACTICE,
    )
    house_evening = ask(
        "House load in the evening, 18 to 23 h",
        "120 W",
        group=HOUSE,
        at_least="0 W",
        at_most="20 kW",
        basis=PRACTICE,
    )
    house_night = ask(
        "House load at night, 23 to 08 h",
        "50 W",
        group=HOUSE,
        at_least="0 W",
        at_most="20 kW",
        basis=PRACTICE,
    )

    def loads(self) -> system.Loads:
        """What the house takes."""
        return system.Loads(self.house_night, self.house_day, self.house_evening)


class Place(Inputs, part=True):
    """Where the boat lies."""

    altitude = ask("Height above the sea", "0 m", group=PLACE, at_least="-100 m", at_most="4000 m")
    ambient_temperature = ask(
        "Air round the machinery", "32 °C", group=PLACE, at_least="-20 °C", at_most="70 °C"
    )

    def air(self) -> Air:
        """The air round the machinery."""
        return Air(self.ambient_temperature, self.altitude)


class WaterHours(Inputs, part=True):
    """When water is made."""

    run_hours = ask(
        "Water-making a day", "2 h", group=HABIT, open=True, above="0 h", at_most="24 h"
    )
    water_start = ask(
        "Water-making begins at",
        "10 h",
        group=HABIT,
        at_least="0 h",
        at_most="24 h",
        help="Hours after midnight by the sun.",
    )


class ChargingHours(Inputs, part=True):
    """When the bank is charged."""

    engine_hours = ask(
        "The engine runs a day",
        "0 h",
        group=HABIT,
        at_least="0 h",
        at_most="24 h",
        when=is_set("has_alternator"),
    )
    engine_start = ask(
        "The engine starts at",
        "8 h",
        group=HABIT,
        at_least="0 h",
        at_most="24 h",
        when=is_set("has_alternator"),
    )
    charger_hours = ask(
        "The charger runs a day",
        "0 h",
        group=HABIT,
        at_least="0 h",
        at_most="24 h",
        when=is_set("has_generator"),
    )
    charger_start = ask(
        "The charger starts at",
        "18 h",
        group=HABIT,
        at_least="0 h",
        at_most="24 h",
        when=is_set("has_generator"),
    )
