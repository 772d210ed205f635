"""What becomes of a boat's wiring: both sides, and what the pump asks of the inverter."""

from __future__ import annotations

from dataclasses import dataclass, replace

from .bank import Inverter
from .bank_side import Asked, Feed, asked_of, battery_side, feed_of
from .cables import Side
from .motor import Machine, Mains, Water
from .motor_side import Branch, motor_branch, motor_side
from .wired import Wired


@dataclass(frozen=True)
class Layout:
    """What becomes of the wiring: the sides, the bank's only where inverter and bank belong
    together, and what the pump asks of an inverter that is made for these mains."""

    wired: Wired
    water: Water
    branch: Branch
    motor: Side
    feed: Feed | None = None
    bank: Side | None = None
    asked: Asked | None = None

    @property
    def sides(self) -> list[Side]:
        """The sides that there are, from the source on."""
        return [side for side in (self.bank, self.motor) if side is not None]

    @property
    def too_hot(self) -> bool:
        """Whether the inverter stands where it switches off."""
        inverter = self.wired.inverter
        if inverter is None or self.asked is None:
            return False
        return self.wired.air.temperature > inverter.hottest

    @property
    def too_weak(self) -> bool:
        """Whether the inverter can't run or start the pump."""
        return self.asked is not None and not self.too_hot and not self.asked.enough


def laid(wired: Wired, water: Water, inverter: Inverter | None) -> Layout:
    """The wiring of a boat, with the inverter that belongs to its bank, None where it does not.

    Raises Unfit as `feed_of` and `fuse_guard` do.
    """
    branch = motor_branch(wired, water)
    side = motor_side(wired, water, branch)
    if inverter is None:
        return Layout(wired, water, branch, side)
    feed = feed_of(wired, inverter, water)
    asked = asked_of(wired, feed, water) if wired.mains.suits(inverter.mains) else None
    return Layout(wired, water, branch, side, feed, battery_side(wired, feed), asked)


def made_for(wired: Wired, mains: Mains) -> Machine | None:
    """The machine on other mains, if its motor is connected for those at all."""
    other = replace(wired.machine, mains=mains)
    return None if other.wrong_volts else other
