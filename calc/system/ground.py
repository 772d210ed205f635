"""What a healthy watermaker is known to show: its unsure constants and its gauges' own errors,
fitted to day one where there is one, all normally distributed about their best values."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from . import gaussian
from .faults import WELL, Fault
from .gaussian import Matrix, Row
from .occasion import AT, WORLD, Occasion, Shown, World, shown
from .readings import METERS, NAMES, Meter

_ALL_WELL = (WELL.condition, WELL.warmer, WELL.saltier)


@dataclass(frozen=True)
class Ground:
    """What a healthy watermaker is known to show now: mean and covariance of all readings, the
    constants as day one has them, the opening of its regulating valve, if it stands."""

    now: Occasion
    world: World
    opening: float | None
    healthy: Row
    shift: Row
    covariance: Matrix

    @cached_property
    def well(self) -> Row:
        """What would be read if all were well."""
        return [a + b for a, b in zip(self.healthy, self.shift, strict=True)]

    @cached_property
    def places(self) -> list[int]:
        """Where the readings stand that a cause has to explain."""
        return [AT[name] for name in self.now.told]

    @cached_property
    def among(self) -> Matrix:
        """The covariance of these."""
        return [[self.covariance[i][j] for j in self.places] for i in self.places]

    def means(self, fault: Fault) -> Row | None:
        """What would be read with a fault; None where it can't run so."""
        if (fault.condition, fault.warmer, fault.saltier) == _ALL_WELL and all(
            name in self.now.told or name not in self.now.readings.read for name, _ in fault.errors
        ):  # a gauge that nothing is set by moves nothing but itself
            found = list(self.well)
            for name, error in fault.errors:
                found[AT[name]] += error
            return found
        made = shown(self.now, self.world, fault, self.opening)
        if made is None:
            return None
        return [a + b for a, b in zip(made.values, self.shift, strict=True)]


def _spread_of(meter: Meter, again: bool) -> float:
    """Variance of a reading by its meter alone, on day one or again."""
    found = meter.noise**2 + meter.standing**2
    return found + meter.drift**2 if again else found


def ground(now: Occasion, day_one: Occasion | None) -> Ground | None:
    """What a healthy one shows now, its constants fitted to day one where there is one; None where
    it can't run."""
    calm: World = {}
    stands = day_one is not None and not now.turned
    first = shown(day_one, calm) if day_one is not None else None
    opening = first.opening if stands and first is not None else None
    if not now.turned and opening is None:
        return None
    base = shown(now, calm, WELL, opening)
    if base is None or (day_one is not None and first is None):
        return None
    columns = list(_columns(now, day_one, base, first, opening))
    count = range(len(NAMES))
    changes = list(zip(*[c for _, c in columns], strict=True))
    lower = [[gaussian.dot(changes[i], changes[j]) for j in range(i + 1)] for i in count]
    covariance = [[lower[max(i, j)][min(i, j)] for j in count] for i in count]
    for name, place in AT.items():
        if name not in now.given:
            covariance[place][place] += _spread_of(METERS[name], again=day_one is not None)
    if day_one is None or first is None:
        return Ground(now, calm, opening, base.values, [0.0] * len(NAMES), covariance)
    places = [AT[name] for name in day_one.told]
    if not places:
        return Ground(now, calm, opening, base.values, [0.0] * len(NAMES), covariance)
    known = [[sum([b[i] * b[j] for b, _ in columns]) for j in places] for i in places]
    cross = [[sum([c[i] * b[j] for b, c in columns]) for j in places] for i in count]
    for at, place in enumerate(places):
        meter = METERS[NAMES[place]]
        known[at][at] += _spread_of(meter, again=False)
        cross[place][at] += meter.standing**2
    read = day_one.vector()
    off = [read[i] - first.values[i] for i in places]
    shift, covariance = gaussian.given(cross, known, covariance, off)
    # The constants as day one has them; what is left of the shift is the gauges' own.
    weights = gaussian.solved(known, off)
    world = {}
    for name in WORLD:
        stand, _ = _standing(name, now, day_one)
        moved = shown(day_one, {name: stand}) if stand else None
        if moved is not None:
            slope = [moved.values[i] - first.values[i] for i in places]
            world[name] = stand * gaussian.dot(slope, weights)
    again = shown(day_one, world)
    opening = again.opening if stands and again is not None else opening
    fitted = shown(now, world, WELL, opening)
    if fitted is None:
        return Ground(now, calm, opening, base.values, shift, covariance)
    rest = [
        moved + was - made
        for moved, was, made in zip(shift, base.values, fitted.values, strict=True)
    ]
    return Ground(now, world, opening, fitted.values, rest, covariance)


def _standing(name: str, now: Occasion, day_one: Occasion) -> tuple[float, float]:
    """What stands of what is unsure, the same on both days, and what differs now."""
    stand, differs = now.spread(name)
    if day_one.spread(name)[0] == 0:
        return 0.0, math.hypot(stand, differs)
    return stand, differs


def _columns(
    now: Occasion, day_one: Occasion | None, base: Shown, first: Shown | None, opening: float | None
) -> Iterable[tuple[Row, Row]]:
    """What each unsure constant changes by its standard deviation: in the readings of day one, and
    in those of now. One that stands changes both; what differs on day one changes those of now
    where it went into the opening of the valve."""
    none = [0.0] * len(NAMES)

    def change(made: Shown | None, was: Shown) -> Row:
        if made is None:
            return none
        return [a - b for a, b in zip(made.values, was.values, strict=True)]

    for name in WORLD:
        if name in ("temperature", "salinity") and name not in now.readings.read:
            stand, differs = 0.0, math.hypot(*now.spread(name))
        elif day_one is not None:
            stand, differs = _standing(name, now, day_one)
        else:
            stand, differs = now.spread(name)
        if day_one is None or first is None:
            size = math.hypot(stand, differs)
            yield none, change(shown(now, {name: size}, WELL, opening), base)
            continue
        if stand:
            then = shown(day_one, {name: stand})
            valve = then.opening if then is not None and opening is not None else opening
            yield change(then, first), change(shown(now, {name: stand}, WELL, valve), base)
        if differs:
            yield none, change(shown(now, {name: differs}, WELL, opening), base)
            apart = math.hypot(*day_one.spread(name)) if not stand else day_one.spread(name)[1]
            then = shown(day_one, {name: apart})
            through = none
            if opening is not None and then is not None:
                through = change(shown(now, {}, WELL, then.opening), base)
            yield change(then, first), through
