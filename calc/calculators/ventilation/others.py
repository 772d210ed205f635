"""What is asked about what else gives heat in there."""

from __future__ import annotations

from ...frame.inputs import Inputs, ask, but, choice, is_set, rows, text, yes_no
from ...sheet import BoatSheet as boat
from ...sheet.groups import PRACTICE
from ...sheet.openings import IN_ENGINE_SPACE, IN_LOCKER

_ELSE = "Other heat"


class OtherHeat(Inputs):
    name = text("What", "inverter", optional=False)
    heat = ask("Heat", "50 W", at_least="0 W", at_most="5 kW")
    when = choice("When", {"running": "while water is made", "always": "all the time"}, "running")


class Others(Inputs, part=True):
    """What else gives heat in there."""

    has_boost = but(boat.has_boost, group=_ELSE, when=IN_LOCKER)
    boost_here = yes_no(
        "The boost pump stands in there too", "yes", group=_ELSE, when=is_set("has_boost")
    )
    boost_pump = but(boat.boost_pump, group=_ELSE, open=False, when=is_set("boost_here"))
    boost_power = but(boat.boost_power, group=_ELSE, when=is_set("boost_here"))
    boost_to_air = ask(
        "Of the boost pump's power, the air gets",
        "50 %",
        group=_ELSE,
        at_least="0 %",
        at_most="100 %",
        basis=PRACTICE,
        when=is_set("boost_here"),
        help="What its motor loses. What moves the water, and what its pump loses, leaves with the "
        "water.",
    )
    other_heat = rows(
        "What else gives heat in there",
        OtherHeat,
        example=(),
        group=_ELSE,
        one="thing",
        most=12,
        when=IN_LOCKER,
    )
    engine_power = ask(
        "Engine gives meanwhile",
        "5 kW",
        group=_ELSE,
        above="0 kW",
        at_most="500 kW",
        when=IN_ENGINE_SPACE,
        help="Charging at anchor, a few kilowatts.",
    )

    @property
    def boost_heat(self) -> float:
        """What the boost pump gives to the air [W]; the rest of its power leaves with the water."""
        there = self.has_boost and self.boost_here
        return self.boost_power * self.boost_to_air if there else 0.0

    def heats(self) -> tuple[float, float]:
        """What other things give [W]: while the unit runs, and while it rests."""
        always = sum(row.heat for row in self.other_heat if row.when == "always")
        return sum(row.heat for row in self.other_heat), always
