"""Failures in time: random and wearing-out parts, spares, age replacement.

Times may be in any one unit (the rest of the project gives seconds of running), costs in any money.
A Weibull life has a shape (1: failures at random; above 1: wear-out) and a scale, the age by which
63.2 % have failed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import mul

from ._require import not_negative, positive

_NEGLIGIBLE = 1e-12
_MOST_FAILURES = 60.0


# ---- failures at random ----


def poisson_at_most(count: int, mean: float) -> float:
    """Chance [0..1] of at most `count` failures where `mean` are expected.

    Raises ValueError unless mean >= 0. Source: NIST/SEMATECH e-Handbook of Statistical Methods,
    sec. 1.3.6.6.19 (Poisson distribution).
    """
    not_negative(mean, "the expected number of failures")
    return min(1.0, sum(poisson(count, mean))) if count >= 0 else 0.0


def poisson(count: int, mean: float) -> list[float]:
    """Chances [0..1] of 0, 1 ... `count` failures where `mean` are expected.

    Source: as `poisson_at_most`.
    """
    return [
        math.exp(k * math.log(mean) - mean - math.lgamma(k + 1)) if mean > 0 else float(k == 0)
        for k in range(count + 1)
    ]


def at_random(mean: float) -> list[float]:
    """Chances [0..1] of 0, 1, 2 ... failures where `mean` are expected, as far as they count.

    Raises ValueError for too many failures to count. Source: as poisson_at_most.
    """
    not_negative(mean, "the expected number of failures")
    _countable(mean)
    return poisson(int(mean + 10 * math.sqrt(mean) + 12), mean)


def _countable(mean: float) -> None:
    if mean > _MOST_FAILURES:
        raise ValueError(
            f"about {mean:.0f} failures of one part are expected: too many to carry spares for"
        )


def spares(chances: Sequence[float], confidence: float) -> int:
    """Fewest spares that cover all failures with a chance of at least `confidence` (0..1), for
    given chances of 0, 1, 2 ... failures. Raises ValueError for a confidence outside 0..1.

    Source: R. E. Barlow and F. Proschan, Mathematical Theory of Reliability (Wiley 1965), ch. 6
    (provisioning of spares).
    """
    if not 0 <= confidence < 1:
        raise ValueError("the confidence must lie between 0 and 100 %, and below 100 %")
    total = 0.0
    for count, chance in enumerate(chances):
        total += chance
        if total >= confidence - _NEGLIGIBLE:
            return count
    return len(chances)


def at_most(count: int, chances: Sequence[float]) -> float:
    """Chance [0..1] of at most `count` failures for given chances of 0, 1, 2 ... failures.

    Source: definition of a cumulated chance.
    """
    return min(1.0, sum(chances[: count + 1])) if count >= 0 else 0.0


# ---- wear-out ----


def weibull_reliability(time: float, shape: float, scale: float) -> float:
    """Chance [0..1] that a new part outlives `time`. Raises ValueError unless shape, scale > 0.

    Source: W. Weibull, J. Appl. Mech. 18 (1951) 293-297; IEC 61649.
    """
    positive(shape, "the Weibull shape")
    positive(scale, "the characteristic life")
    return math.exp(-_hazard_sum(not_negative(time, "the time"), shape, scale))


def _hazard_sum(time: float, shape: float, scale: float) -> float:
    """Cumulative hazard (t/scale)^shape, held where the reliability is zero to every digit."""
    if time <= 0:
        return 0.0
    exponent = shape * math.log(time / scale)
    return math.exp(exponent) if exponent < 7.0 else 1e3


def weibull_hazard(time: float, shape: float, scale: float) -> float:
    """Failure rate at an age [1/unit of the scale]. Source: as weibull_reliability."""
    positive(time, "the time")
    return shape / scale * math.pow(time / scale, shape - 1)


def weibull_mean(shape: float, scale: float) -> float:
    """Mean life of a new part [unit of the scale]. Source: as weibull_reliability."""
    positive(shape, "the Weibull shape")
    return positive(scale, "the characteristic life") * math.gamma(1 + 1 / shape)


def conditional_reliability(time: float, age: float, shape: float, scale: float) -> float:
    """Chance [0..1] that a part of this age lasts `time` more. Source: as weibull_reliability."""
    aged = _hazard_sum(not_negative(age, "the age"), shape, scale)
    both = _hazard_sum(age + not_negative(time, "the time"), shape, scale)
    return math.exp(aged - both)


_CELLS = 72


@lru_cache(maxsize=512)
def wear_out_failures(time: float, age: float, shape: float, scale: float) -> tuple[float, ...]:
    """Chances [0..1] of 0, 1, 2 ... failures in `time` of a place whose part has this age now.

    Each failed part is replaced by a new one at once: an ordinary renewal process after a first
    life that is conditional on the age. The convolutions are Stieltjes sums taken at the middle of
    each cell, good to about 0.001. Source: M. Xie, Commun. Statist. Simul. 18 (1989) 281-293.
    Raises ValueError where more failures are expected than can be called spares.
    """
    positive(shape, "the Weibull shape")
    positive(scale, "the characteristic life")
    not_negative(age, "the age")
    if not_negative(time, "the time") == 0:
        return (1.0,)
    _countable(time / weibull_mean(shape, scale))
    step = time / _CELLS
    # Both grids of the k-th failure's distribution: at the nodes, and half a cell earlier.
    life = _failed([i * step for i in range(_CELLS + 1)], 0.0, shape, scale)
    nodes = _failed([i * step for i in range(_CELLS + 1)], age, shape, scale) if age else life
    middles = _failed([(i + 0.5) * step for i in range(_CELLS)], age, shape, scale)
    shares = [life[i + 1] - life[i] for i in range(_CELLS)]
    chances = [1 - nodes[-1]]
    while nodes[-1] > 1e-6 and len(chances) < 400:
        backwards = middles[::-1]
        new_nodes = [0.0] + [
            sum(map(mul, backwards[_CELLS - i :], shares)) for i in range(1, _CELLS + 1)
        ]
        chances.append(max(0.0, nodes[-1] - new_nodes[-1]))
        nodes = new_nodes
        middles = [(nodes[i] + nodes[i + 1]) / 2 for i in range(_CELLS)]
    return (*chances, nodes[-1])  # that many or more


def _failed(times: Sequence[float], age: float, shape: float, scale: float) -> list[float]:
    """Chance that a part of this age fails within each of the times; see conditional_reliability,
    here written out because a list of spares asks for it some thousand times."""
    exp, log = math.exp, math.log
    aged = _hazard_sum(age, shape, scale)
    found = []
    for time in times:
        both = age + time
        exponent = shape * log(both / scale) if both > 0 else -math.inf
        found.append(1 - exp(aged - (exp(exponent) if exponent < 7.0 else 1e3)))
    return found


def added(*several: Sequence[float]) -> list[float]:
    """Chances [0..1] of 0, 1, 2 ... failures of independent places together: the convolution.

    Source: definition of a sum of independent counts.
    """
    total = [1.0]
    for chances in several:
        out = [0.0] * (len(total) + len(chances) - 1)
        for i, one in enumerate(total):
            for j, other in enumerate(chances):
                out[i + j] += one * other
        while len(out) > 1 and out[-1] < _NEGLIGIBLE:
            out.pop()
        total = out
    return total


# ---- replacing before it fails ----


@dataclass(frozen=True)
class AgeReplacement:
    """The age at which changing a part costs least, the cost per time there, and if never changed.

    `age` is None where changing early never pays.
    """

    age: float | None
    cost: float
    cost_unplanned: float


def gamma_p(a: float, x: float) -> float:
    """Regularised lower incomplete gamma function P(a, x) [0..1], a > 0, x >= 0.

    Source: NIST Digital Library of Mathematical Functions, 8.7.1 (series) and 8.9.2 (fraction).
    """
    if x <= 0:
        return 0.0
    front = math.exp(a * math.log(x) - x - math.lgamma(a))
    if x < a + 1:
        term = total = 1 / a
        n = a
        while abs(term) > abs(total) * 1e-16:
            n += 1
            term *= x / n
            total += term
        return min(1.0, front * total)
    b = x + 1 - a
    c, d = 1e300, 1 / b
    h = d
    for i in range(1, 500):
        an = -i * (i - a)
        b += 2
        d = 1 / (an * d + b)
        c = b + an / c
        h *= d * c
        if abs(d * c - 1) < 1e-15:
            break
    return 1 - front * h


def mean_service(age: float, shape: float, scale: float) -> float:
    """Mean time [unit of the scale] a new part serves that is changed at `age` at the latest.

    Source: definition, the integral of R to `age`, which is by substitution
    (scale / shape) gamma(1 / shape) P(1 / shape, (age / scale)^shape).
    """
    x = _hazard_sum(age, shape, scale)
    return weibull_mean(shape, scale) * gamma_p(1 / shape, x)


def age_replacement_cost(
    age: float, shape: float, scale: float, planned: float, unplanned: float
) -> float:
    """Cost per time when a part is changed at `age`, or at its failure if that comes first.

    `planned` and `unplanned` are the whole costs of a change in time and of one after a failure.
    Source: R. E. Barlow and L. C. Hunter, Oper. Res. 8 (1960) 90-100:
    [Cp R + Cu (1 - R)] / integral of R.
    """
    positive(age, "the age")
    surviving = weibull_reliability(age, shape, scale)
    spent = planned * surviving + unplanned * (1 - surviving)
    return spent / mean_service(age, shape, scale)


def age_replacement(shape: float, scale: float, planned: float, unplanned: float) -> AgeReplacement:
    """The age at which replacement costs least; see age_replacement_cost.

    At the optimum h(t) integral of R - F(t) = Cp / (Cu - Cp), whose left side rises with t for a
    shape above 1 (Source: as `age_replacement_cost`), so that it is found by halving.
    Raises ValueError unless planned > 0 and unplanned > 0.
    """
    positive(planned, "the cost of a planned change")
    positive(unplanned, "the cost of a failure")
    never = unplanned / weibull_mean(shape, scale)
    if shape <= 1 or unplanned <= planned:
        return AgeReplacement(None, never, never)
    wanted = planned / (unplanned - planned)
    low, high = scale * 1e-6, scale * math.pow(600.0, 1 / shape)

    def left(age: float) -> float:
        failed = 1 - weibull_reliability(age, shape, scale)
        return weibull_hazard(age, shape, scale) * mean_service(age, shape, scale) - failed

    if left(high) < wanted:  # so late that next to none would live to be changed
        return AgeReplacement(None, never, never)
    for _ in range(50):  # to 13 digits
        middle = math.sqrt(low * high)
        if left(middle) < wanted:
            low = middle
        else:
            high = middle
    age = math.sqrt(low * high)
    return AgeReplacement(age, age_replacement_cost(age, shape, scale, planned, unplanned), never)
