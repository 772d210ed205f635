"""What water costs: made by a unit of one's own, or bought."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..physics import finance
from .household import DAY
from .upkeep import Task, times_a_year, wage

YEAR = 365.25 * DAY  # s
# How far each number may be off, up and down. Common practice, no source.
OFF = 0.25
POINTS = 0.02  # of interest a year. Common practice, no source.


@dataclass(frozen=True)
class Recurring:
    """Something that costs money [money] so many times a year at least [1/year], and more often
    where it goes by running time [1/s]."""

    cost: float
    by_calendar: float
    by_hours: float

    def yearly(self, hours: float) -> float:
        """What it costs in a year of so many hours [s], in the long run [money]."""
        return self.cost * max(self.by_calendar, self.by_hours * hours)


def recurring(task: Task, rests: int, own: float, yard: float) -> Recurring:
    """A task with its parts and the hours of who does it, which cost so much [money/s]."""
    cost = task.price + task.duration * wage(task, own, yard)
    hours = task.rule.hours
    return Recurring(cost, times_a_year(task.rule, 0.0, rests), 1 / hours if hours else 0.0)


@dataclass(frozen=True)
class Capital:
    """What a unit costs with its fitting, what it sells for at the end [money], the years of its
    use [1] and the interest [1/year]."""

    price: float
    resale: float
    years: float
    interest: float

    @property
    def yearly(self) -> float:
        """As an equal sum each year [money]."""
        return finance.yearly_cost(self.price, self.resale, self.interest, self.years)

    def worth(self, gain: float) -> float:
        """What a gain a year [money] leaves over today, the purchase taken off [money]."""
        years = finance.present_value(gain, self.resale, self.interest, self.years)
        return years - self.price

    def recovered(self, gain: float) -> float | None:
        """Years until a gain a year [money] has paid for it; None for never."""
        years = finance.years_to_recover(self.price, self.resale, gain, self.interest)
        return years if math.isfinite(years) else None

    def most_price(self, gain: float) -> float:
        """The most that it may cost for a gain a year to pay it over its years [money]."""
        return finance.present_value(gain, self.resale, self.interest, self.years)


@dataclass(frozen=True)
class Own:
    """A unit of one's own: its capital, what is drawn from the tank [m3/s] on so many days a year
    [s], what goes through it again as flush water on these [m3/s], the share of them in which its
    water goes to waste [1], the fresh water it makes [m3/s], its tasks and those of its membranes,
    parts that fail and energy, both by running time [money/s]; `wear` scales upkeep, membranes and
    parts."""

    capital: Capital
    drawn: float
    days: float
    flush: float
    wasting: float
    product: float
    tasks: Sequence[Recurring]
    membranes: Sequence[Recurring]
    parts: float
    energy: float
    wear: float = 1.0

    @property
    def litres(self) -> float:
        """Water used in a year [m3]."""
        return self.drawn * self.days

    @property
    def flushed(self) -> float:
        """Water for the flushes of a year [m3]."""
        return self.flush * self.days

    @property
    def made(self) -> float:
        """Water made in a year, with that for the flushes [m3]."""
        return self.litres + self.flushed

    @property
    def wasted(self) -> float:
        """Running time a year in which its water goes to waste [s]."""
        return self.wasting * self.days

    @property
    def hours(self) -> float:
        """Running time a year [s]; see `need.Need.time`."""
        return self.made / self.product + self.wasted

    @cached_property
    def shares(self) -> dict[str, float]:
        """What each thing costs a year [money]."""
        hours = self.hours
        return {
            "capital": self.capital.yearly,
            "tasks": self.wear * sum(one.yearly(hours) for one in self.tasks),
            "membranes": self.wear * sum(one.yearly(hours) for one in self.membranes),
            "parts": self.wear * self.parts * hours,
            "energy": self.energy * hours,
        }

    @property
    def yearly(self) -> float:
        """All of it [money]."""
        return sum(self.shares.values())

    @property
    def running(self) -> float:
        """The same without the capital [money]."""
        return self.yearly - self.shares["capital"]

    @property
    def litre(self) -> float:
        """What a litre that is used costs [money/m3]."""
        return self.yearly / self.litres

    def least_days(self, bought: float) -> float | None:
        """Days a year [s] from which a litre costs no more than one that is bought [money/m3]; None
        where none are enough.

        Each task goes by the calendar up to some use, and by hours beyond it: so the cost of a year
        is a chain of straight lines, and a litre never gets dearer with more of them.
        """
        chain = [*self.tasks, *self.membranes]
        per_day = self.hours / self.days
        by_hours = self.shares["energy"] + self.shares["parts"]
        slope = by_hours / self.days - bought * self.drawn
        fixed = self.shares["capital"]
        turns = []
        for one in chain:
            cost, rate = self.wear * one.cost, one.by_hours * per_day
            fixed += cost * one.by_calendar
            if rate:
                turns.append((one.by_calendar / rate, cost * one.by_calendar, cost * rate))
        for until, yearly, daily in sorted(turns):
            if slope < 0 and -fixed / slope <= until:
                break
            fixed, slope = fixed - yearly, slope + daily
        return -fixed / slope if slope < 0 else None


@dataclass(frozen=True)
class Way:
    """A way to buy water: its price [money/m3], what a trip for it costs [money], and how much one
    brings [m3]."""

    price: float
    trip: float = 0.0
    brings: float = 1.0

    @property
    def litre(self) -> float:
        """What it costs aboard [money/m3]."""
        return self.price + self.trip / self.brings


@dataclass(frozen=True)
class Purse:
    """Water of one's own against water that is bought."""

    own: Own
    bought: Way

    @property
    def saving(self) -> float:
        """What a year saves [money]; less than nothing where bought water is cheaper."""
        return self.bought.litre * self.own.litres - self.own.yearly

    @property
    def gain(self) -> float:
        """What a year saves before the unit is paid [money]."""
        return self.saving + self.own.shares["capital"]

    @property
    def worth(self) -> float:
        """What all years save, in today's money [money]."""
        return self.own.capital.worth(self.gain)

    @property
    def least_litres(self) -> float | None:
        """Litres a year [m3] from which it pays; None where none are enough."""
        days = self.own.least_days(self.bought.litre)
        return None if days is None else days * self.own.drawn

    def swings(self) -> list[Swing]:
        """What a year saves if one number is off, the others as they are; the widest first."""
        here = self.saving  # of more days it may be the best of the three
        ends = ((key, (low, here, high)) for key, low, high in self._off())
        found = [Swing(key, min(three), max(three)) for key, three in ends]
        return sorted((s for s in found if s.wide > 0), key=lambda s: (-s.wide, s.key))

    def _off(self) -> list[tuple[str, float, float]]:
        own, capital, way = self.own, self.own.capital, self.bought
        low, high = 1 - OFF, 1 + OFF

        def with_(**changes: float) -> float:
            return replace(self, own=replace(own, **changes)).saving  # type: ignore[arg-type]

        def paid(**changes: float) -> float:
            made = replace(capital, **changes)
            return replace(self, own=replace(own, capital=made)).saving

        def bought(**changes: float) -> float:
            return replace(self, bought=replace(way, **changes)).saving

        def both(change: Callable[[float], float]) -> tuple[float, float]:
            return change(low), change(high)

        return [
            ("price", *both(lambda f: paid(price=f * capital.price))),
            ("resale", *both(lambda f: paid(resale=f * capital.resale))),
            ("years", *both(lambda f: paid(years=f * capital.years))),
            (
                "interest",
                paid(interest=max(0.0, capital.interest - POINTS)),
                paid(interest=capital.interest + POINTS),
            ),
            ("drawn", *both(lambda f: with_(drawn=f * own.drawn))),
            ("days", with_(days=low * own.days), with_(days=min(high * own.days, YEAR))),
            ("product", *both(lambda f: with_(product=f * own.product))),
            ("energy", *both(lambda f: with_(energy=f * own.energy))),
            ("wear", *both(lambda f: with_(wear=f * own.wear))),
            ("bought", *both(lambda f: bought(price=f * way.price))),
            ("trip", *both(lambda f: bought(trip=f * way.trip))),
            ("brings", *both(lambda f: bought(brings=f * way.brings))),
        ]


@dataclass(frozen=True)
class Swing:
    """What a year saves [money] with one number off, at the worst and at the best."""

    key: str
    worst: float
    best: float

    @property
    def wide(self) -> float:
        """How far apart they lie [money]."""
        return self.best - self.worst
