"""What would do: hours, days, a tank, cans, another unit; what fails first is mended first."""

from __future__ import annotations

from collections.abc import Sequence

from ...frame.report import Report, amount, least, most
from ...sheet.household import RESERVE
from ...system import need_search as search
from ...system.household import DAY
from ...system.need import Need, Offer, smallest
from .asks import Asks
from .tell import TANK_STEP

_HOURS_STEP = 360.0  # s, what hours are told in
_LARGEST, _MOST_CANS = 20.0, 5.0  # m3, as the fields take them


def remedies(q: Asks, need: Need, offers: Sequence[Offer], show: Report) -> None:
    """The inverse answers to all that fails."""
    if not need.in_a_day.holds:
        _more_days(need, "run", show)
    elif not need.enough.holds:
        _longer(need, show)
        _fewer_days(need, show)
        _fewer_showers(need, show)
        _another_unit(offers, show)
        if not need.between.holds:
            _larger_tank(q, need, "between", False, show)
    elif not need.between.holds:
        _more_days(need, "between", show)
        # Where nothing else fails, one that lasts over the stay too.
        alone = need.survives(q.passage_days).holds and q.making.ails is None
        _larger_tank(q, need, "" if alone else "between", alone, show)
    elif not need.dry.holds:
        _larger_tank(q, need, "dry", True, show)
        _surer_hours(need, show)
    _more_in_reserve(q, need, show)


def _longer(need: Need, show: Report) -> None:
    if need.running(need.time).in_a_day.holds:
        told = least(need.time, "h", step=_HOURS_STEP)
        if need.running(told.value).in_a_day.holds:
            show.remedy(
                "Make water for {h} a day, over the week.",
                sets={"run_hours": told},
                mends="hours",
                h=told,
            )


def _fewer_days(need: Need, show: Report) -> None:
    days = search.fewer_days(need)
    if days is not None:
        show.remedy(
            "The same hours in longer runs on {d} days a week, with fewer flushes.",
            sets={"water_days": days},
            mends="hours",
            d=days,
        )


def _more_days(need: Need, mends: str, show: Report) -> None:
    days = search.more_days(need)
    if days is not None:
        show.remedy(
            "The same hours in shorter runs on {d} days a week.",
            sets={"water_days": days},
            mends=mends,
            d=days,
        )


def _fewer_showers(need: Need, show: Report) -> None:
    found = search.most_showers(need)
    if found is not None and found >= 0.1:
        told = most(found, "")
        show.remedy(
            "{n} showers a week for each, at most.", sets={"showers": told}, mends="hours", n=told
        )


def _another_unit(offers: Sequence[Offer], show: Report) -> None:
    best = smallest(offers)
    if best is None:
        return
    making = best.making
    show.remedy(
        "The smallest unit of the list that would do: {u}, which makes {q} here at {p}.",
        u=best.name,
        q=(making.made.product, "L/h"),
        p=(making.pressure, "bar"),
        sets={
            "unit": best.key,
            "pressure": amount(making.pressure, "bar", 9),
            "product_flow": amount(making.stated, "L/h", 9),
            "flow": amount(making.feed, "L/min", 9),
            "element_age": "0 years",
            "has_measured": False,
        },
        mends="hours",
    )


def _larger_tank(q: Asks, need: Need, mends: str, stay: bool, show: Report) -> None:
    share = RESERVE if q.tank_reserve is None else None
    found = search.smallest_tank(need, share, TANK_STEP, _LARGEST, stay)
    if found is not None:
        told = least(found, "L", step=TANK_STEP)
        show.remedy(
            "The smallest tank that would do, in steps of {s}: {v}.",
            sets={"tank_volume": told},
            mends=mends,
            v=told,
            s=(TANK_STEP, "L"),
        )


def _surer_hours(need: Need, show: Report) -> None:
    found = search.least_hours(need, _HOURS_STEP)
    if found is not None:
        told = least(found, "h", step=_HOURS_STEP)
        show.remedy(
            "Make water for {h} a day, over the week: so much more than you use.",
            sets={"run_hours": told},
            mends="dry",
            h=told,
        )


def _more_in_reserve(q: Asks, need: Need, show: Report) -> None:
    if need.survives(q.passage_days).holds:
        return
    cans = search.least_cans(need, q.passage_days)
    if cans <= _MOST_CANS:
        told = least(cans, "L")
        show.remedy(
            "Take {v} of drinking water in cans or in a second tank.",
            sets={"water_cans": told},
            mends="survival",
            v=told,
        )
    longest = most(need.survives(q.passage_days).value, "days")
    if longest.value >= DAY:
        show.remedy(
            "Take drinking water from ashore every {d}, or more often.",
            sets={"passage_days": longest},
            mends="survival",
            d=longest,
        )
