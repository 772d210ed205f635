"""Two faults at a time: how well each pair of causes explains the readings.

What two faults change is taken as the sum of what each changes on the readings' scales, so that a
flow that both take from is multiplied twice; the best pair is solved anew, with both in it.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from . import gaussian
from .diagnosis import ALL_WELL, Course, Diagnosis, courses, root
from .faults import WELL_RATE, Fault, combined, possible
from .gaussian import Row

MOST_LEADING, MOST_BESIDE = 5, 14  # causes that are tried as one of two, and as the other
_LEAST = 0.01  # of all: a pair that is less likely is not told


@dataclass(frozen=True)
class Pair:
    """Two causes at a time: their keys, their share of all that may be wrong, and both at their
    best sizes."""

    keys: tuple[str, str]
    share: float
    fault: Fault


def pairs(found: Diagnosis) -> list[Pair]:
    """Pairs of causes by how well they explain the readings, likeliest first; those that change
    nothing together are left out. How common a pair is: as if each came by itself."""
    base = found.ground
    here = base.now
    read, well = here.vector(), base.well
    known = {
        cause.key: cause
        for cause in possible(here.watermaker, frozenset(here.readings.read), not here.turned)
    }
    order = [one.key for one in found.causes if one.key not in ALL_WELL and one.key in known]
    ways = {key: courses(known[key].chains(here.watermaker), base) for key in order[:MOST_BESIDE]}
    every = sum(cause.rate for cause in known.values()) + WELL_RATE
    singles = [math.log(one.rate) + one.fit for one in found.causes]
    weighed: list[tuple[float, tuple[str, str], Fault]] = []
    for first, other in itertools.combinations(ways, 2):
        if first not in order[:MOST_LEADING]:
            continue
        fits: list[tuple[float, Fault]] = []
        for one, other_way in itertools.product(ways[first], ways[other]):
            for fault, moved in zip(one.chain, one.points, strict=True):
                shift = [a - b for a, b in zip(moved, well, strict=True)]
                fits += _along(found, other_way, fault, shift, read)
        if fits:
            total = gaussian.log_sum([fit for fit, _ in fits]) - math.log(len(fits))
            rate = known[first].rate * known[other].rate / every
            best = max(fits, key=lambda one: one[0])[1]
            weighed.append((total + math.log(rate), (first, other), best))
    if not weighed:
        return []
    whole = gaussian.log_sum([*singles, *(weight for weight, _, _ in weighed)])
    made = [Pair(keys, math.exp(weight - whole), fault) for weight, keys, fault in weighed]
    return sorted(
        (one for one in made if one.share >= _LEAST), key=lambda one: (-one.share, one.keys)
    )


def _along(
    found: Diagnosis, way: Course, beside: Fault, shift: Row, read: Row
) -> list[tuple[float, Fault]]:
    """How well a chain explains the readings beside a fault that shifts them."""
    made, places = [], found.ground.places
    steps = zip(way.points, way.points[1:], way.chain, way.chain[1:], strict=False)
    for start, end, small, large in steps:
        middle = [(a + b) / 2 + c for a, b, c in zip(start, end, shift, strict=True)]
        lower = root(found.ground, middle)
        white = gaussian.forward(lower, [read[i] - start[i] - shift[i] for i in places])
        step = gaussian.forward(lower, [end[i] - start[i] for i in places])
        fit, best = gaussian.along(white, step)
        fault = combined(beside, small if best < 0.5 else large)
        made.append((fit - gaussian.log_volume(lower), fault))
    return made
