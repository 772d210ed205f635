"""Money over the years: what a purchase costs each year, and what yearly sums are worth today."""

from __future__ import annotations

import math

from calc.physics._require import not_negative, positive

_NONE = 1e-15  # interest: with less the powers of 1 + i have no digits left


def discount(interest: float, periods: float) -> float:
    """What one unit of money at the end of so many periods [1] is worth today [1].

    (1 + i)^-n, i the interest a period [1]. Raises ValueError for negative values. Source: present
    worth of a single sum (P/F), any engineering economics textbook.
    """
    grown = math.log1p(not_negative(interest, "the interest"))
    return math.exp(-grown * not_negative(periods, "the time"))


def annuity(interest: float, periods: float) -> float:
    """What one unit of money at the end of each of so many periods [1] is worth today [1].

    (1 - (1 + i)^-n) / i, and n where there is no interest. Raises ValueError for negative values.
    Source: present worth of a uniform series (P/A), any engineering economics textbook.
    """
    time = not_negative(periods, "the time")
    if not_negative(interest, "the interest") < _NONE:
        return time
    return -math.expm1(-time * math.log1p(interest)) / interest


def present_value(gain: float, end: float, interest: float, periods: float) -> float:
    """What a gain each period and a sum at the end [both in money] are worth today [money].

    Raises ValueError for a negative interest or time [1]. Source: as `annuity`, `discount`.
    """
    return gain * annuity(interest, periods) + end * discount(interest, periods)


def yearly_cost(price: float, resale: float, interest: float, years: float) -> float:
    """What a purchase costs each year [money], as an equal sum over the years [1] of its use.

    (P - S (1 + i)^-n) / (P/A): price, resale [money], interest a year [1]. Raises ValueError for
    negative values or no years. Source: capital recovery with a salvage value, any engineering
    economics textbook.
    """
    left = not_negative(resale, "the resale") * discount(interest, years)
    return (not_negative(price, "the price") - left) / annuity(interest, positive(years, "years"))


def years_to_recover(price: float, resale: float, gain: float, interest: float) -> float:
    """Years [1] until a gain a year has paid a purchase with its interest [1]; infinity for never.

    The n at which P = G (P/A) + S (P/F): ln((G - S i) / (G - P i)) / ln(1 + i), and (P - S) / G
    without interest; price, resale and gain in money, the resale no more than the price. Raises
    ValueError for a negative price, resale or interest. Source: as `yearly_cost`, solved for n.
    """
    lost = max(0.0, not_negative(price, "the price") - not_negative(resale, "the resale"))
    spare = gain - price * not_negative(interest, "the interest")
    if lost == 0:
        return 0.0 if spare >= 0 else math.inf
    if spare <= 0:
        return math.inf
    if interest < _NONE:
        return lost / gain
    return math.log1p(lost * interest / spare) / math.log1p(interest)
