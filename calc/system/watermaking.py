"""Making water in one sea: what it gives, what bounds its pressure, and what its energy becomes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from ..physics import pumps
from . import membranes
from .held import Held, all_hold
from .membranes import Made, Train
from .motor import Machine, Water, hertz_suit, opens_above
from .sea import Sea

# How far over its stated flow a unit may be driven, in a warm or a thin sea, so that its first
# element doesn't foul. Common practice, no source.
MOST_OF_RATED = 1.2
MOST_SALT = 0.5  # kg/m3: US EPA, secondary standard, for the taste
# How far the relief valve opens above a pressure that is advised. Common practice, no source.
RELIEF_ROOM = 1.1
HARDLY_ANY = 0.01  # of the stated flow


@dataclass(frozen=True)
class Making:
    """A train at work: the fresh water [m3/s] and the pressure [Pa] that its papers state, sea,
    feed [m3/s], pressure [Pa], back pressure [Pa], the pressure that the weakest part under it
    bears [Pa], and the one at which its relief valve opens [Pa], if that is known."""

    train: Train
    stated: float
    stated_pressure: float
    sea: Sea
    feed: float
    pressure: float
    back_pressure: float
    bears: float
    relief: float | None = None

    @cached_property
    def made(self) -> Made:
        """What it makes."""
        return self.at(self.pressure)

    def at(self, pressure: float) -> Made:
        """What it would make at another pressure [Pa]."""
        return membranes.made(self.train, self.sea, self.feed, pressure, self.back_pressure)

    def in_sea(self, sea: Sea) -> Making:
        """The same in another sea."""
        return replace(self, sea=sea)

    def fed(self, feed: float) -> Making:
        """The same out of another feed [m3/s]."""
        return replace(self, feed=feed)

    @property
    def dry(self) -> bool:
        """Whether it makes no water, or hardly any."""
        return self.made.product < HARDLY_ANY * self.stated

    @property
    def least_pressure(self) -> float | None:
        """The pressure below which it gives hardly any [Pa]; None where none gives more."""
        return self._for(HARDLY_ANY * self.stated)

    @cached_property
    def driven(self) -> dict[str, Held]:
        """What its pressure drives, against its limits."""
        found = {
            "over": Held(self.made.product / self.stated, MOST_OF_RATED),
            "membrane_flux": membranes.flux(self.train, self.made),
        }
        brine = membranes.brine(self.train, self.made)
        return found if brine is None else found | {"brine": brine}

    @cached_property
    def borne(self) -> dict[str, Held]:
        """All that its membranes have to bear here, against its limits."""
        fed, warmth = membranes.feed(self.train, self.made), membranes.warmth(self.train, self.made)
        return self.driven | {"fed": fed, "warmth": warmth}

    @property
    def opens(self) -> Held | None:
        """Where the relief valve opens [Pa], against its pressure; None where nobody knows."""
        return opens_above(self.relief, self.pressure)

    @property
    def salt(self) -> Held:
        """Salt in the water it makes [kg/m3], against what one tastes."""
        return Held(self.made.product_salinity, MOST_SALT)

    @property
    def ails(self) -> str | None:
        """What is wrong with it here: "salty" water, membranes that are "driven" beyond what they
        bear, or a sea or a feed that they don't bear at any pressure, "unfit"; None for none."""
        if not self.salt.holds:
            return "salty"
        if not all_hold(self.driven.values()):
            return "driven"
        return None if all_hold(self.borne.values()) else "unfit"

    @cached_property
    def for_stated(self) -> float | None:
        """The pressure that gives the stated water here [Pa]; None where none does."""
        return self._for(self.stated)

    def _for(self, product: float) -> float | None:
        return membranes.pressure_for(self.train, self.sea, self.feed, product, self.back_pressure)

    @cached_property
    def bounds(self) -> dict[str, float]:
        """The pressure at which each limit is reached [Pa], where one is."""
        elements = self.train.elements
        found = {
            "pressure": self.bears,
            "relief": None if self.relief is None else self.relief / RELIEF_ROOM,
            "over": self._for(MOST_OF_RATED * self.stated),
        }
        share = elements.highest_flux * elements.area
        if share < self.feed:
            found["membrane_flux"] = membranes.first_pressure(
                self.train, self.sea, self.feed, share, self.back_pressure
            )
        if elements.least_brine is not None:
            spare = self.feed - elements.least_brine
            found["brine"] = self._for(spare) if spare > 0 else 0.0
        return {key: pressure for key, pressure in found.items() if pressure is not None}

    @cached_property
    def bounded_by(self) -> str:
        """Which limit comes first as the pressure rises."""
        return min(self.bounds, key=self.bounds.__getitem__)

    @property
    def highest(self) -> float:
        """The highest pressure that is allowed here [Pa]."""
        return self.bounds[self.bounded_by]

    @property
    def advised(self) -> float:
        """The highest pressure to advise [Pa]: allowed here, and no more than its papers state."""
        return min(self.highest, self.stated_pressure)

    @property
    def _bears_beneath_the_relief(self) -> float:
        """What the weakest part bears, and below where the relief valve opens [Pa]."""
        return self.bears if self.relief is None else min(self.bears, self.relief / RELIEF_ROOM)

    @cached_property
    def set_right(self) -> Making | None:
        """The same at the pressure to set: for the stated water, and never beyond what is advised;
        None where no pressure that is allowed gives water."""
        right = replace(self, pressure=min(self.stated_pressure, self._bears_beneath_the_relief))
        if right.made.product > self.stated:
            right = replace(self, pressure=min(self.for_stated or right.pressure, right.pressure))
        if not all_hold(right.driven.values()):
            right = replace(self, pressure=min(right.pressure, self.highest))
        return right if right.pressure > self.sea.osmotic_pressure else None

    @property
    def to_set(self) -> float | None:
        """The pressure to set [Pa], if there is one."""
        return None if self.set_right is None else self.set_right.pressure

    @cached_property
    def other_rule(self) -> float:
        """How much more or less the trade's other rule for warmth would have it give [ratio]."""
        other = replace(self, train=membranes.by_the_kelvin(self.train, self.sea)).made.product
        return abs(other / self.made.product - 1)


def feed_on(flow: float, wound_for: float, hertz: float) -> float:
    """What the pump moves [m3/s] on mains of a frequency [Hz]: what is stated on those that its
    motor is wound for [Hz], on others in proportion to them. What the motor slips at work is in
    what is stated."""
    return flow if hertz_suit(wound_for, hertz) else flow * hertz / wound_for


@dataclass(frozen=True)
class Spent:
    """Where the energy of a litre goes [J/m3]."""

    boost: float
    motor: float
    pump: float
    brine: float
    membrane: float
    least: float | None

    @property
    def whole(self) -> float:
        """All of it."""
        return self.boost + self.motor + self.pump + self.brine + self.membrane + (self.least or 0)


def spent(machine: Machine, water: Water, found: Made) -> Spent:
    """Where the energy goes: the pump's work on the brine is lost at the valve, that on the product
    in the membrane, but for the least work. Source: `pumps`, `membranes.least_work`."""
    work, product = water.load.at_work, found.product
    hydraulic = pumps.hydraulic_power(water.load.flow, found.pressure)
    through, least = hydraulic * found.recovery / product, membranes.least_work(found)
    return Spent(
        machine.boost_power / product,
        (work.input_power - work.shaft_power) / product,
        (work.shaft_power - hydraulic) / product,
        hydraulic / product - through,
        max(0.0, through - (least or 0.0)),
        None if least is None else min(least, through),
    )
