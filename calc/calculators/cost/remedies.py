"""From where on it pays: more days of use, more years, or a lower price, each tried."""

from __future__ import annotations

import math

from ...frame.report import FAILS, Report, least, most
from ...physics.calendar_days import DAY
from ...system.purse import YEAR, Purse

_MOST_DAYS, _MOST_YEARS = 365 * DAY, 40 * YEAR


def remedies(purse: Purse, show: Report) -> None:
    """The inverse answers where a litre of one's own is the dearer one."""
    if show.figures[0].state != FAILS:
        return
    own, capital = purse.own, purse.own.capital
    days = own.least_days(purse.bought.litre)
    if days is not None:
        litres = (days * own.drawn, "L")
        if math.ceil(days / DAY) * DAY <= _MOST_DAYS:
            told = least(days, "days", DAY)
            show.remedy(
                "It pays from {v} a year: with as much a day as you use, from {d} a year.",
                v=litres,
                d=told,
                sets={"days_aboard": told},
                mends="litre",
            )
        else:
            show.remedy(
                "It pays from {v} a year. That is more than you use all the year round.", v=litres
            )
    years = capital.recovered(purse.gain)
    if years is not None and years * YEAR <= _MOST_YEARS:
        told = least(years * YEAR, "years")
        show.remedy(
            "It pays if you use it for {y}.", y=told, sets={"use_years": told}, mends="litre"
        )
    price = capital.most_price(purse.gain)
    if price > max(capital.resale, 1.0):
        told = most(price, "¤")
        show.remedy(
            "It pays if it costs {p} at most, fitted.", p=told, sets={"outlay": told}, mends="litre"
        )
    if purse.gain <= 0:
        show.remedy(
            "Even a unit for nothing would not pay: its upkeep and its energy alone cost {c}, "
            "and a bought litre {b}.",
            c=(own.running / own.litres, "¤/L"),
            b=(purse.bought.litre, "¤/L"),
        )
