"""How much water is needed, how long that takes to make, and how long the tank lasts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..physics import storage
from . import flushing
from .held import Held
from .household import DAY, WEEK, Household, Tank
from .watermaking import Making

# For each person: what keeps a person alive, drink and food, and the least for all basic needs of a
# household, cooking and washing with it. Source: Sphere Handbook, water supply standard 2.1.
SURVIVAL, BASIC_LEAST, BASIC_MOST = 3e-3 / DAY, 7.5e-3 / DAY, 15e-3 / DAY  # m3/s
# How likely it may be that the tank is down to its reserve in a stay. Common practice, no source.
MOST_DRY = 0.05
FINEST = 1e-4  # of a chance: below it none is told
LONGEST = 30  # runs that a stay is followed for


@dataclass(frozen=True)
class Runs:
    """How the unit is run: time a day [s] over the week, days a week on which it runs, product that
    goes to waste at each start [s], water for a flush [m3], and how long a flush keeps it [s]."""

    daily: float
    days: int
    waste: float
    flush: float
    keeps: float

    @property
    def apart(self) -> float:
        """From one run to the next [s]."""
        return WEEK / self.days

    @property
    def each(self) -> float:
        """How long each run is [s]."""
        return self.daily * WEEK / DAY / self.days

    @property
    def flushes(self) -> int:
        """Flushes from one run to the next. Source: `flushing.flushes`."""
        return flushing.flushes(self.days, self.keeps) // self.days

    @property
    def flushed(self) -> float:
        """Water for that [m3]."""
        return self.flushes * self.flush


@dataclass(frozen=True)
class Stay:
    """The days that are looked at: how long [s], the share of the tank that is full at first, and
    how much a day's use and a run's water vary [share of it, standard deviation]."""

    time: float
    filled: float
    use_varies: float
    make_varies: float


@dataclass(frozen=True)
class Balance:
    """What becomes of the water of a stay, by its means [m3]: made = used + flushed + to waste at
    the starts + over the brim + the change of the tank; `short` is used by nobody, for lack of
    it."""

    made: float
    used: float
    flushed: float
    to_waste: float
    over: float
    change: float
    short: float


@dataclass(frozen=True)
class Need:
    """The people, their tank, the runs of the unit, what it makes [m3/s], and the stay."""

    household: Household
    tank: Tank
    runs: Runs
    product: float
    stay: Stay

    # ---- litres and hours ----

    @property
    def drawn(self) -> float:
        """What the people draw [m3/s]."""
        return self.household.drawn

    @property
    def flushed(self) -> float:
        """What the flushes take, over the week [m3/s]."""
        return self.runs.flushed / self.runs.apart

    @property
    def needed(self) -> float:
        """All that has to come into the tank [m3/s]."""
        return self.drawn + self.flushed

    @property
    def made(self) -> float:
        """What comes into the tank, over the week [m3/s]."""
        return self.filled / self.runs.apart

    @property
    def filled(self) -> float:
        """What a run brings into the tank [m3]."""
        return self.product * max(0.0, self.runs.each - self.runs.waste)

    @property
    def time(self) -> float:
        """Hours a day that it takes, over the week [s]."""
        return DAY * (self.needed / self.product + self.runs.waste / self.runs.apart)

    @property
    def enough(self) -> Held:
        """The hours that it takes, against those in which water is made."""
        return Held(self.time, self.runs.daily)

    @property
    def in_a_day(self) -> Held:
        """A run, against a day."""
        return Held(self.runs.each, DAY)

    # ---- the tank ----

    @property
    def between(self) -> Held:
        """What is drawn and flushed from one run to the next, against what the tank has over its
        reserve."""
        return Held(self.cycle, self.tank.usable)

    @property
    def cycle(self) -> float:
        """What leaves the tank from one run to the next [m3]."""
        return self.drawn * self.runs.apart + self.runs.flushed

    def lasts(self, each: float) -> float:
        """How long the reserve and the cans last [s] at so much for each person [m3/s]."""
        return self.tank.kept / (self.household.crew * each)

    def survives(self, passage: float) -> Held:
        """How long they keep all aboard alive, against a passage [s]."""
        return Held(self.lasts(SURVIVAL), passage, least=True)

    # ---- a stay ----

    @property
    def count(self) -> int:
        """Runs of the stay."""
        return min(LONGEST, max(1, math.ceil(self.stay.time / self.runs.apart - 1e-9)))

    @property
    def start(self) -> float:
        """What is over the reserve at first [m3]."""
        return max(0.0, self.stay.filled * self.tank.volume - self.tank.reserve)

    @property
    def use_deviation(self) -> float:
        """By how much the use from run to run varies [m3], each day by itself."""
        daily = self.stay.use_varies * self.drawn * DAY
        return daily * math.sqrt(self.runs.apart / DAY)

    @property
    def make_deviation(self) -> float:
        """By how much the water of a run varies [m3]."""
        return self.stay.make_varies * self.filled

    @cached_property
    def course(self) -> storage.Course:
        """The tank over the stay, above its reserve. Source: `storage.course`."""
        return storage.course(
            self.tank.usable,
            self.start,
            self.cycle,
            self.use_deviation,
            self.filled,
            self.make_deviation,
            self.count,
        )

    @property
    def chance(self) -> float:
        """How likely the tank is down to its reserve once in the stay."""
        found = self.course.dry[-1]
        return found if found >= FINEST else 0.0

    @property
    def dry(self) -> Held:
        """That chance, against the one that is borne."""
        return Held(self.chance, MOST_DRY)

    @cached_property
    def balance(self) -> Balance:
        """What becomes of the water of the stay, everything at its mean."""
        level, runs = self.start, self.runs
        used = flushed = over = short = 0.0
        people = self.drawn * runs.apart
        for _ in range(self.count):
            rinsed = min(runs.flushed, level)
            drunk = min(people, level - rinsed)
            kept = min(self.filled, self.tank.usable - (level - rinsed - drunk))
            used, flushed, over = used + drunk, flushed + rinsed, over + self.filled - kept
            short += people - drunk
            level += kept - rinsed - drunk
        waste = self.product * min(runs.waste, runs.each) * self.count
        made = self.product * runs.each * self.count
        change, least = level - self.start, 1e-12 * made
        if abs(change) < least:  # so many sums leave a crumb, another one on each machine
            change = 0.0
        return Balance(made, used, flushed, waste, over if over > least else 0.0, change, short)

    # ---- otherwise ----

    def on(self, days: int) -> Need:
        """The same hours on other days a week."""
        return replace(self, runs=replace(self.runs, days=days))

    def running(self, daily: float) -> Need:
        """The same with another time a day [s]."""
        return replace(self, runs=replace(self.runs, daily=daily))

    def by(self, product: float) -> Need:
        """The same with a unit that makes so much [m3/s]."""
        return replace(self, product=product)


@dataclass(frozen=True)
class Offer:
    """A unit that might do: its key and name, its making at the pressure to set in this sea, and
    what would be needed of it."""

    key: str
    name: str
    making: Making
    need: Need


def nearest(offers: Sequence[Offer], most: int) -> list[Offer]:
    """As they are; of more than so many those next to what would do, by what they make: half make
    enough in the hours there are, half don't, unless there are fewer of one sort."""
    if len(offers) <= most:
        return list(offers)
    by_size = sorted(offers, key=lambda one: one.making.made.product)
    able = [one for one in by_size if one.need.enough.holds]
    small = [one for one in by_size if not one.need.enough.holds]
    few = min(len(small), max(most // 2, most - len(able)))
    return small[len(small) - few :] + able[: most - few]


def smallest(offers: Sequence[Offer]) -> Offer | None:
    """The smallest of the units that make enough in the hours there are."""
    able = [one for one in offers if one.need.enough.holds]
    return min(able, key=lambda one: one.making.made.product, default=None)
