"""Where a rising or falling function crosses zero: the solver behind the inverse answers."""

from __future__ import annotations

import math
from collections.abc import Callable


def least_that_fits(
    excess: Callable[[float], float],
    low: float,
    high: float,
    tolerance: float = 0.02,
    narrow: float = 1e-3,
) -> float:
    """Smallest x [unit of low] in low..high with excess(x) <= 0; the excess falls as x grows.

    Returns an x that fits: low if it already does, infinity if even high does not, or low lies
    above high and there is nothing between them. The excess there lies within tolerance below 0,
    or the bracket is narrower than that share of x. False position with the Illinois rule.
    Source: M. Dowell and P. Jarratt, BIT 11 (1971) 168-174.
    """
    if low > high:
        return math.inf
    bad, above = low, excess(low)
    if above <= 0:
        return low
    good, below = high, excess(high)
    if below > 0:
        return math.inf
    if below >= -tolerance:
        return high
    # Aim half a tolerance inside, so that either side of the aim can end the search.
    aim = -tolerance / 2
    left, right = above - aim, below - aim
    for count in range(60):
        if abs(good - bad) <= narrow * abs(good):
            break
        # A straight line, but half way each third time: steep ends make false position crawl.
        middle = (bad + good) / 2 if count % 3 == 2 else bad + (good - bad) * left / (left - right)
        value = excess(middle)
        if -tolerance <= value <= 0:
            return middle
        if value > 0:
            bad, left = middle, value - aim
            right /= 2
        else:
            good, right = middle, value - aim
            left /= 2
    return good


def most_that_fits(
    excess: Callable[[float], float],
    low: float,
    high: float,
    tolerance: float = 0.02,
    narrow: float = 1e-3,
) -> float:
    """Largest x [unit of low] in low..high with excess(x) <= 0, for an excess that grows with x.

    Returns high if it fits and minus infinity if not even low does, or if low lies above high;
    else as least_that_fits. Source: as `least_that_fits`.
    """
    return -least_that_fits(lambda x: excess(-x), -high, -low, tolerance, narrow)


def crossing(
    difference: Callable[[float], float], low: float, high: float, narrow: float = 1e-12
) -> float:
    """The x [unit of low] in low..high where a difference changes its sign.

    Low or high, the nearer to zero, where it doesn't. Sought until it moves by less than `narrow`
    of high - low. Source: false position with the rule of N. Anderson and A. Björck, BIT 13 (1973)
    253-264.
    """
    a, b, of_a, of_b = low, high, difference(low), difference(high)
    if of_a * of_b >= 0:
        return a if abs(of_a) <= abs(of_b) else b
    width = narrow * abs(high - low)
    for count in range(100):
        x = (a + b) / 2 if count % 8 == 7 else b - of_b * (b - a) / (of_b - of_a)
        of_x = difference(x)
        if of_x * of_b < 0:
            a, of_a = b, of_b
        else:
            left = 1 - of_x / of_b
            of_a *= left if left > 0 else 0.5
        step, b, of_b = abs(x - b), x, of_x
        if of_b == 0 or abs(b - a) <= width or step <= width:
            break
    return b


def fewest_that_do(does: Callable[[int], bool], most: int) -> int | None:
    """Fewest whole steps [1], of 1 to `most`, with does(steps), which holds from some number on.

    None where even `most` do not. Source: bisection, as a definition.
    """
    low, high = 0, most
    if not does(high):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if does(middle) else (middle, high)
    return high
