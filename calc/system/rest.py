"""A machine at rest: which way of keeping it suits a lay-up, and what is done on which day.

The plan of the year and the page on laying up both take their ways and days from here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from ..physics.calendar_days import DAY
from ..physics.maintenance import KEEPS_FULL_TO, days_kept, powder_for
from .held import Held
from .tasks import GRACE, Due

FLUSHED, PRESERVED, EMPTIED = "flush", "preserve", "glycol"
FLUSH, PRESERVE, RENEW, WAKE = "flush", "preserve", "renew", "wake"
FREEZING = 273.15  # K, fresh water and preservative
_NEAR = 0.10  # of a limit: less than that left over is near


def kept(life: float, temperature: float) -> float:
    """How long a flush or a preservative of that life [s] keeps at a temperature [K], in whole
    days, by which hands count [s]. Source: `maintenance.days_kept`."""
    return days_kept(life, temperature) * DAY


@dataclass(frozen=True)
class Rest:
    """A lay-up: its days, whether its owner says that it may freeze there [bool], how warm it gets
    there [K], how long nobody can see to it [s], and whether its owner takes bagged membranes along
    and renews their preservative [bool].
    """

    start: date
    end: date
    said_to_freeze: bool
    warmest: float
    visits: float
    bag_along: bool = False

    @property
    def frost(self) -> bool:
        """Whether it may freeze: a place that never gets above freezing does, whatever is said."""
        return self.said_to_freeze or self.warmest <= FREEZING

    @property
    def days(self) -> int:
        """How many days it stands."""
        return (self.end - self.start).days

    @property
    def time(self) -> float:
        """How long it stands [s]."""
        return self.days * DAY

    @property
    def alone(self) -> float:
        """The longest that nobody sees to it [s]."""
        return min(self.visits, self.time)


@dataclass(frozen=True)
class Keeping:
    """What keeps how long: a flush and a preservative up to 25 °C [s], the longest rest on flushing
    alone [s], and how warm a preservative may get [K].
    """

    flush: float
    longest_flushed: float
    preservative: float
    preservative_limit: float

    def life(self, way: str) -> float:
        """How long what is in the unit, or in the membranes' bag, keeps up to 25 °C [s]."""
        return self.flush if way == FLUSHED else self.preservative

    def lasts(self, way: str, rest: Rest) -> float:
        """How long it keeps in the heat of the place, in whole days [s]."""
        # The bag with the membranes lies where it does not get hot.
        warmest = KEEPS_FULL_TO if way == EMPTIED else rest.warmest
        return kept(self.life(way), warmest)


@dataclass(frozen=True)
class Way:
    """A way to keep it, and what speaks for and against it: whether what it leaves in the unit may
    freeze, whether fresh water alone does as well, how long it stands, the longest that nobody sees
    to it, how warm and how cold it gets. `lasts` is how long it keeps there [s].
    """

    key: str
    lasts: float
    freezes: bool = False
    needless: bool = False
    stands: Held | None = None
    gap: Held | None = None
    warm: Held | None = None
    cold: Held | None = None

    @property
    def held(self) -> list[Held]:
        """Each value that there is with its limit."""
        return [one for one in (self.stands, self.gap, self.warm, self.cold) if one is not None]

    @property
    def holds(self) -> bool:
        """Whether nothing speaks against it."""
        return not self.freezes and all(one.holds for one in self.held)

    @property
    def rank(self) -> int:
        """0 for a way that holds, 1 for one that is near a limit or needless, 2 for one that does
        not hold."""
        if not self.holds:
            return 2
        return int(self.needless or any(one.margin < _NEAR for one in self.held))


@dataclass(frozen=True)
class LaidUp:
    """A lay-up with its ways, the one to take, and its days."""

    rest: Rest
    ways: Sequence[Way]
    way: Way
    days: Sequence[Due]

    @property
    def kept(self) -> bool:
        """Whether anything keeps it as things are."""
        return self.way.holds


def lay_up(rest: Rest, keeps: Keeping, cold: Held | None = None) -> LaidUp:
    """The way to keep it and its days.

    Where it may freeze nothing with water in it may stay; else a rest that flushing keeps, its last
    day included, is flushed and a longer one preserved, unless only another way holds. `cold` is
    the coldest there against what the glycol bears.
    """
    ways = [_way(key, rest, keeps, cold) for key in _order(rest, keeps)]
    if ways[0].key == FLUSHED and ways[0].holds:
        # Chemicals that nothing needs are no better, however near its limit the flush is.
        ways = [ways[0], *(replace(way, needless=True) for way in ways[1:])]
    best = min(ways, key=lambda way: way.rank)
    return LaidUp(rest, ways, best, _days(best.key, rest, keeps))


def _order(rest: Rest, keeps: Keeping) -> tuple[str, ...]:
    """The ways, the one first that this rest asks for: of equals it is taken."""
    if rest.frost:
        return EMPTIED, PRESERVED, FLUSHED
    short = rest.time <= keeps.longest_flushed
    return (FLUSHED, PRESERVED) if short else (PRESERVED, FLUSHED)


def _way(key: str, rest: Rest, keeps: Keeping, cold: Held | None) -> Way:
    lasts = keeps.lasts(key, rest)
    gap = Held(rest.alone, lasts)
    if key == EMPTIED:
        # Glycol needs nobody, but the bag with the membranes does.
        return Way(key, lasts, gap=None if rest.bag_along else gap, cold=cold)
    if rest.frost:  # however often somebody comes
        return Way(key, lasts, freezes=True)
    if key == FLUSHED:
        return Way(key, lasts, stands=Held(rest.time, keeps.longest_flushed), gap=gap)
    warm = Held(rest.warmest, keeps.preservative_limit, zero=FREEZING)
    return Way(key, lasts, gap=gap, warm=warm)


def _days(way: str, rest: Rest, keeps: Keeping) -> list[Due]:
    first, again = (FLUSH, FLUSH) if way == FLUSHED else (PRESERVE, RENEW)
    come = 0 if way == EMPTIED and rest.bag_along else int(rest.alone / DAY + 1e-6)
    every = int(keeps.lasts(way, rest) / DAY + 0.5)
    return rest_days(rest.start, rest.end, first, again, every, come)


# ---- what would make a way hold ----


@dataclass(frozen=True)
class Shorter:
    """A rest on flushing alone that holds: its length [s], and its last day."""

    time: float
    end: date
    come: bool  # whether somebody has to come oftener too


def shorter(rest: Rest, keeps: Keeping) -> Shorter:
    """The longest rest from the same day that flushing alone keeps."""
    days = int(keeps.longest_flushed / DAY + 1e-6)
    lasts = keeps.lasts(FLUSHED, rest)
    come = min(rest.alone, days * DAY) > lasts
    return Shorter(days * DAY, rest.start + timedelta(days), come)


def lasts_shaded(rest: Rest, keeps: Keeping) -> float:
    """How long a preservative keeps [s] in a place shaded to what it bears."""
    shaded = replace(rest, warmest=min(rest.warmest, keeps.preservative_limit))
    return keeps.lasts(PRESERVED, shaded)


# ---- days and doses ----


def rest_days(
    start: date, end: date, first: str, again: str, every: int, come: int = 0
) -> list[Due]:
    """What a machine at rest wants: `first` on its first day, `again` as often as it must, and to
    be woken on its last. No two of these lie further apart than `every` days (at least 1).

    They are spread evenly, or lie `come` days apart where somebody comes no more often and that
    does; never so that something is renewed within `GRACE` of being woken, if even days are not.
    """
    days, every = (end - start).days, max(1, every)
    spells = max(1, -(-days // every))
    step = days / spells
    if spells > 1 and come <= every:
        step = max(step, min(come, (days - GRACE.days) / (spells - 1)))
    between = [start + timedelta(days=int(i * step + 1e-9)) for i in range(1, spells)]
    return [Due(start, first), *(Due(day, again) for day in between), Due(end, WAKE)]


@dataclass(frozen=True)
class Amounts:
    """What a rest takes: fillings of a bucket and flushes with fresh water, their number; water for
    both [m3], powder for a bucket [kg] and the plain water in the unit that it mixes with [m3].
    """

    fills: int
    flushes: int
    water: float
    plain: float
    dose: float

    @property
    def powder(self) -> float:
        """Powder in all [kg]."""
        return self.fills * self.dose


def amounts(laid: LaidUp, unit: float, flush: float, bucket: float, strength: float) -> Amounts:
    """What a lay-up takes: the unit holds so much water [m3], a flush and a bucket so much [m3],
    and the mixture is to have this strength [share of the water's mass].
    """
    emptied = laid.way.key == EMPTIED
    fills = sum(due.why in (PRESERVE, RENEW) for due in laid.days)
    # A bag of preservative at home needs no flush, and its bucket mixes with no water in the unit.
    flushes = sum(not (emptied and due.why == RENEW) for due in laid.days)
    plain = unit if laid.way.key == PRESERVED else 0.0
    dose = powder_for(strength, bucket, plain)
    return Amounts(fills, flushes, flushes * flush + fills * bucket, plain, dose)
