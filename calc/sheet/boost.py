"""The boost pump: whether there is one, which it is, and what it draws."""

from __future__ import annotations

from dataclasses import replace

from ..equipment import feed
from ..equipment.choices import FEEDS
from ..frame.inputs import Inputs, aboard, ask, choice, is_set, record
from ..system import motor as system
from .groups import BOOST, PRACTICE

BOOSTED = is_set("has_boost")


class AnyBoost(Inputs, part=True):
    """Whether there is one. A unit's record says so, unless she says that there is none."""

    has_boost = aboard(
        "There is a boost pump",
        "yes",
        ("unit", "boost_pump", "boost_power"),
        group=BOOST,
        help="A low-pressure pump before the filters that feeds the high-pressure pump.",
    )


class BoostPump(AnyBoost, part=True):
    """Which it is."""

    boost_pump = record(
        "Boost pump", feed.BoostPump, "", optional=True, group=BOOST, open=True, when=BOOSTED
    )


class Boost(BoostPump, part=True):
    """What it draws, and from where."""

    boost_power = ask(
        "Boost pump draws",
        "90 W",
        from_record="unit.boost_power",
        preset="boost_pump.power",
        group=BOOST,
        at_least="0 W",
        at_most="2 kW",
        when=BOOSTED,
    )
    boost_supply = choice(
        "The boost pump runs from", FEEDS, "dc", group=BOOST, basis=PRACTICE, when=BOOSTED
    )

    def boosted(self, machine: system.Machine) -> system.Machine:
        """The machine with its boost pump; as it is where there is none."""
        if not self.has_boost:
            return machine
        return replace(
            machine, boost_power=self.boost_power, boost_on_mains=self.boost_supply == "ac"
        )
