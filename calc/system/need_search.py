"""The least that would do: hours, days a week, tank, cans, showers."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from ..physics.roots import least_that_fits
from .household import DAY, WEEK
from .need import FINEST, MOST_DRY, SURVIVAL, Need

_NEAR = 0.02  # of the chance's logarithm: nearer is sought step by step


def fewer_days(need: Need) -> int | None:
    """The most days a week, fewer than now, on which the same hours give enough; None if none."""
    for days in range(need.runs.days - 1, 0, -1):
        other = need.on(days)
        if other.enough.holds and other.in_a_day.holds and other.between.holds:
            return days
    return None


def more_days(need: Need) -> int | None:
    """The fewest days a week, more than now, from one of which to the next the tank lasts and no
    run is longer than a day; None if none."""
    for days in range(need.runs.days + 1, 8):
        other = need.on(days)
        if other.between.holds and other.in_a_day.holds:
            return days
    return None


def most_showers(need: Need) -> float | None:
    """Showers a week for each with which the hours there are give enough; None if none do."""
    home = need.household
    spare = (need.made - need.flushed - need.drawn) * (1 - home.losses)
    if home.shower_water <= 0:
        return None
    found = home.showers + spare * WEEK / (home.crew * home.shower_water)
    return found if found > 0 else None


def with_tank(need: Need, volume: float, share: float | None) -> Need:
    """With another tank [m3], its reserve the same, or a share of it where that is its rule."""
    reserve = need.tank.reserve if share is None else share * volume
    return replace(need, tank=replace(need.tank, volume=volume, reserve=reserve))


def smallest_tank(
    need: Need, share: float | None, step: float, most: float, stay: bool = True
) -> float | None:
    """The smallest tank in steps [m3] that lasts from run to run, and over the stay too unless that
    is left out; None up to so much. Its reserve stays, or is a share of it."""

    def over(volume: float) -> float:
        other = with_tank(need, volume, share)
        return _over(other) if stay else other.between.value - other.between.limit

    return _least(over, need.tank.volume, step, most)


def least_tank(need: Need, share: float | None, step: float, passage: float) -> float:
    """The smallest tank in steps [m3], this one at most, that does all that this one does: from run
    to run, over the stay, and in its reserve over a passage [s] if that lasts as it is."""
    lasts = need.survives(passage).holds

    def over(volume: float) -> float:
        other = with_tank(need, volume, share)
        if lasts and not other.survives(passage).holds:
            return 2.0
        return _over(other)

    begin = step if share is not None else need.tank.reserve + step
    if begin >= need.tank.volume or over(begin) <= 0:
        return min(begin, need.tank.volume)
    return _least(over, begin, step, need.tank.volume) or need.tank.volume


def least_hours(need: Need, step: float) -> float | None:
    """The least time a day [s], in steps, with which the tank lasts over the stay; None if none
    does."""
    return _least(lambda daily: _over(need.running(daily)), need.runs.daily, step, _longest(need))


def _longest(need: Need) -> float:
    """The longest a day over the week [s] that fits into the days on which it runs."""
    return need.runs.days * DAY * DAY / WEEK


def _over(need: Need) -> float:
    """How far a need is from its limits: above 0 where one is broken."""
    if not need.between.holds:
        return 1.0 + need.between.value / need.between.limit
    return math.log(max(need.chance, FINEST / 10) / MOST_DRY)


def _least(over: Callable[[float], float], now: float, step: float, most: float) -> float | None:
    """The least multiple of a step above now for which nothing is over; None up to the most."""
    high = max(2 * now, now + 4 * step)
    while over(min(high, most)) > 0:
        if high >= most:
            return None
        high *= 2
    near = least_that_fits(over, now, min(high, most), _NEAR, step / (4 * now))
    count = math.ceil(near / step - 1e-9)
    while (count - 1) * step > now and over((count - 1) * step) <= 0:
        count -= 1
    while over(count * step) > 0:
        count += 1
    return count * step if count * step <= most else None


def least_cans(need: Need, passage: float) -> float:
    """Water in cans [m3] with which all stay alive over a passage [s]."""
    return SURVIVAL * need.household.crew * passage - need.tank.reserve
