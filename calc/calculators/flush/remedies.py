"""What would make the flush right: each is tried, and none is told that breaks something else."""

from __future__ import annotations

import math
from dataclasses import replace

from ...frame.report import TIGHT, TIGHT_MARGIN, Amount, Report, least, most
from ...physics import pipes
from ...system import flushing as system
from ...system.flushing import CAN, PUMP_VALVES, Flush
from ...system.held import Held
from ...system.running import NOTHING, STILL
from .asks import Asks

# What the fields take.
_MOST_WATER, _HIGHEST_HOUSE, _MOST_HOUSE, _LOWEST = 2.0, 8e5, 200 / 60000, -5.0
_HIGHEST_BOOST = 1e6  # Pa
_BAR_STEP, _FLOW_STEP = 1e4, 1 / 60000  # Pa, m3/s: what pumps are told in
# A pump's flow against nothing over the one asked of it: three quarters of its pressure is left.
_AMPLE = 2.0
_A_LITTLE_MORE = 1.01  # of what is typed back, rounded up in other units
_A_TENTH = TIGHT_MARGIN + 1e-6  # a hair more, lost where what is told is typed back
_BORES = (0.013, 0.016, 0.019, 0.025, 0.032, 0.038)  # m


def remedies(q: Asks, flush: Flush, show: Report) -> None:
    """The inverse answers to all that fails."""
    if q.flush_way == NOTHING:
        show.remedy(
            "Have a way in for flush water fitted behind the seacock: a three-way valve, or a "
            "connection with a valve of its own.",
            sets={"flush_way": "tap"},
            mends="no-way",
        )
    rinse = flush.rinse
    if rinse.ends and not rinse.enough.holds and rinse.needed <= _MOST_WATER:
        told = least(rinse.needed, "L")
        show.remedy(
            "Take {v} of fresh water for a flush.",
            v=told,
            sets={"flush_water": told},
            mends="enough",
        )
    if flush.starves:
        _fed(q, flush, show)
    elif not flush.running and flush.flow == 0:
        _through(flush, show)
    _less(flush, show)
    if flush.chlorine > 0:
        _chlorine(q, flush, show)
    elif q.forgets_the_dose:
        show.remedy(
            "Test the tank's water and say how much chlorine it holds: then the carbon in the "
            "flush line is judged. Until that holds flush from a can, with water that has none."
        )
    _week(q, flush, show)


def _broken(flush: Flush) -> set[str]:
    held: dict[str, Held | None] = {
        "inlet": flush.fed if flush.running else None,
        "shut": flush.inlet_bears if flush.way.house else None,
        "housing": flush.housings_bear if flush.way.house else None,
        "carbon": flush.carbon_bears,
        "contact": flush.contact,
        "chlorine": flush.chlorine_borne if flush.chlorine > 0 else None,
    }
    return {key for key, one in held.items() if one is not None and not one.holds}


def _harmless(before: Flush, after: Flush) -> bool:
    """Whether nothing fails that held before."""
    return _broken(after) <= _broken(before)


def _still(flush: Flush) -> Flush:
    """The same with the unit's pumps off."""
    return replace(flush, running=False, way=replace(flush.way, boost=None))


def _with_shut_off(flush: Flush, pressure: float) -> Flush:
    """The same with a house pump that switches off at another pressure [Pa]."""
    house = flush.way.house
    assert house is not None
    return replace(flush, way=replace(flush.way, house=replace(house, shut_off=pressure)))


def _fed(q: Asks, flush: Flush, show: Report) -> None:
    """A pump that runs and is not fed: let it stand, or give it more."""
    still, short = _still(flush), flush.fed.limit - flush.fed.value
    if still.flow > 0 and _harmless(flush, still):
        show.remedy(
            "Flush with both pumps off: the house pump alone then pushes {q} through.",
            q=(still.flow, "L/min"),
            sets={"flush_by": STILL},
            mends="inlet",
        )
    house, before = flush.way.house, len(show.remedies)
    if house is not None and house.rise(flush.feed) > 0:
        rise = house.rise(flush.feed)
        told = least(house.shut_off * (rise + short) / rise, "bar", step=_BAR_STEP)
        more = _A_LITTLE_MORE * told.value
        stronger = _with_shut_off(flush, more)
        if more <= _HIGHEST_HOUSE and _harmless(flush, stronger):
            show.remedy(
                "A house pump that gives {p} before it switches off.",
                p=told,
                sets={"house_shut_off": told},
                mends="inlet",
            )
    elif house is not None:
        share = (house.rise(flush.feed) + short) / house.shut_off
        if share < 1:
            told = least(flush.feed / math.sqrt(1 - share), "L/min", step=_FLOW_STEP)
            if _A_LITTLE_MORE * told.value <= _MOST_HOUSE:
                show.remedy(
                    "A house pump that gives {q} or more against nothing.",
                    q=told,
                    sets={"house_free_flow": told},
                    mends="inlet",
                )
    if house is not None and len(show.remedies) == before:
        _stronger(flush, house, short, show)
    bore = system.least_bore(flush, _BORES)
    if bore is not None:
        show.remedy(
            "A flush hose of {d} inside, all the way.",
            d=(bore, "mm"),
            sets={"flush_bore": f"{round(bore * 1000)} mm"},
            mends="inlet",
        )
    if house is None:
        _raise(flush, short, show)
        if flush.way.boost is None:
            _fit_a_boost(q, flush, show)


def _stronger(flush: Flush, house: system.House, short: float, show: Report) -> None:
    """A house pump of more flow and more pressure, where more of one alone won't do."""
    ample = least(max(_AMPLE * flush.feed, house.free_flow), "L/min", step=_FLOW_STEP).value
    free = Amount(ample, "L/min", digits=9)
    share = 1 - (flush.feed / ample) ** 2
    told = least((house.rise(flush.feed) + short) / share, "bar", step=_BAR_STEP)
    more = _A_LITTLE_MORE * told.value
    other = replace(flush, way=replace(flush.way, house=system.House(more, ample)))
    if more > _HIGHEST_HOUSE or ample > _MOST_HOUSE or not _harmless(flush, other):
        return
    show.remedy(
        "A house pump that gives {p} before it switches off, and {f} against nothing.",
        p=told,
        f=(ample, "L/min"),
        sets={"house_shut_off": told, "house_free_flow": free},
        mends="inlet",
    )


def _through(flush: Flush, show: Report) -> None:
    """A house pump that pushes half of its free flow through pumps that stand."""
    house, way = flush.way.house, flush.way
    if house is None:
        return
    flow = house.free_flow / _AMPLE
    wanted = PUMP_VALVES + way.lifted + way.lost(flow, dirty=True)
    ample = least(wanted / (1 - 1 / _AMPLE**2), "bar", step=_BAR_STEP).value
    told, more = Amount(ample, "bar"), _A_LITTLE_MORE * ample
    stronger = _with_shut_off(flush, more)
    if more <= _HIGHEST_HOUSE and stronger.flow > 0 and _harmless(flush, stronger):
        show.remedy(
            "A house pump that gives {p} before it switches off: half of its flow then comes "
            "through.",
            p=told,
            sets={"house_shut_off": told},
            mends="no-flow",
        )


def _raise(flush: Flush, short: float, show: Report) -> None:
    """The can higher."""
    rise = flush.way.rise - short / (flush.way.water.density * pipes.GRAVITY)
    if rise >= _LOWEST and abs(rise) > 1e-3:
        told = most(rise, "m")
        if rise < 0:
            show.remedy(
                "Stand the can so that its water is {h} above the big pump, or higher.",
                h=least(-rise, "m"),
                sets={"flush_rise": told},
                mends="inlet",
            )
        else:
            show.remedy(
                "Stand the can so that the big pump is {h} above its water at most.",
                h=told,
                sets={"flush_rise": told},
                mends="inlet",
            )


def _fit_a_boost(q: Asks, flush: Flush, show: Report) -> None:
    """A boost pump where there is none, with the flow that the form has."""
    fitted = system.House(q.boost_shut_off, q.boost_free_flow)
    rise = fitted.rise(flush.feed)
    if rise <= 0:
        return
    short = flush.fed.limit - flush.fed.value
    told = least(fitted.shut_off * short / rise, "bar", step=_BAR_STEP)
    if _A_LITTLE_MORE * told.value > min(flush.inlet_most, flush.way.filters.bears, _HIGHEST_BOOST):
        return
    show.remedy(
        "Fit a boost pump that gives {p} or more against a shut end, and {f} against nothing.",
        p=told,
        f=(fitted.free_flow, "L/min"),
        sets={
            "has_boost": True,
            "boost_shut_off": told,
            "boost_free_flow": Amount(fitted.free_flow, "L/min", digits=9),
        },
        mends="inlet",
    )


def _less(flush: Flush, show: Report) -> None:
    """Too much pressure against a shut end: less of it, or one pump fewer."""
    house, bears = flush.way.house, flush.carbon_bears
    if house is None:
        return
    failing = [
        (key, held.limit - (flush.way.shut - house.shut_off))
        for key, held in (("shut", flush.inlet_bears), ("housing", flush.housings_bear))
        if not held.holds
    ]
    if bears is not None and not bears.holds:
        failing.append(("carbon-housing", bears.limit))
    for key, limit in failing:
        if limit < 1e3:
            continue
        told = most(limit, "bar")
        lower = _with_shut_off(flush, told.value)
        if lower.flow > 0 and _harmless(flush, lower):
            show.remedy(
                "A pressure reducer behind the house pump, set to {p} at most.",
                p=told,
                sets={"house_shut_off": told},
                mends=key,
            )
    still = _still(flush)
    boosted = failing and failing[0][0] == "shut" and flush.way.boost is not None
    if boosted and still.flow > 0 and still.inlet_bears.holds and _harmless(flush, still):
        show.remedy(
            "Flush with both pumps off: the house pump alone then pushes {q} through.",
            q=(still.flow, "L/min"),
            sets={"flush_by": STILL},
            mends="shut",
        )


def _chlorine(q: Asks, flush: Flush, show: Report) -> None:
    contact, left = flush.contact, flush.carbon_left
    if flush.unguarded and flush.fastest > 0:
        _fit(q, flush, show)
    if flush.unguarded and q.flush_from == CAN:
        show.remedy(
            "Take the chlorine out of the can's water with metabisulphite, and flush once a test "
            "strip shows none.",
            sets={"neutralised": "yes"},
            mends="no-carbon",
        )
    elif flush.unguarded:
        show.remedy("Until carbon stands there flush from a can, with water that has no chlorine.")
    tight = show.verdict == TIGHT and show.decided_by == "contact"
    if tight or (contact is not None and not contact.holds):
        told = least(_rated(flush, _A_TENTH if tight else 0.0), "L/min")
        show.remedy(
            "A carbon filter that is rated for {q} or more would leave a tenth in hand."
            if tight
            else "A carbon filter that is rated for {q} or more.",
            q=told,
            sets={"carbon_flow": told},
            mends="chlorine" if _holds_back(flush, told.value, show) else "contact",
        )
    if left is None or left.holds or flush.bed is None:
        return
    if flush.bed.lasts(flush.chlorine) >= left.limit:
        show.remedy("Change the carbon now.", sets={"carbon_used": "0 L"}, mends="carbon-left")


def _holds_back(flush: Flush, rated: float, show: Report) -> bool:
    """Whether carbon that is rated for a flow [m3/s] mends what decides, the chlorine behind it."""
    if show.decided_by != "chlorine" or flush.bed is None:
        return False
    carbon = replace(flush.bed, rated_flow=rated)
    return replace(flush, way=replace(flush.way, carbon=carbon)).chlorine_borne.holds


def _rated(flush: Flush, spare: float) -> float:
    """The flow [m3/s] that carbon has to be rated for, with a share of it to `spare`: one that is
    rated for more loses less, and lets more through."""
    flow, bed = (1 + spare) * flush.fastest, flush.bed
    for _ in range(20):
        way = replace(flush.way, carbon=replace(bed, rated_flow=flow) if bed else None)
        flow = (1 + spare) * replace(flush, way=way).fastest
    return flow


def _fit(q: Asks, flush: Flush, show: Report) -> None:
    """Carbon where there is none, as large as the flow asks for."""
    rated = least(flush.fastest, "L/min", step=_FLOW_STEP)
    volume = least(rated.value * q.carbon_volume / q.carbon_flow, "L")
    fitted = system.Carbon(
        volume.value,
        rated.value,
        q.carbon_loss,
        q.carbon_takes,
        q.carbon_capacity,
        q.carbon_stated,
        0.0,
        q.carbon_bears,
    )
    after = replace(flush, way=replace(flush.way, carbon=fitted))
    left = after.carbon_left
    if left is None or not left.holds or not _harmless(flush, after):
        return
    sets: dict[str, str | Amount] = {
        "has_carbon": "yes",
        "carbon_volume": Amount(volume.value, "L", digits=9),
        "carbon_flow": Amount(rated.value, "L/min", digits=9),
        "carbon_used": "0 L",
    }
    show.remedy(
        "Have a carbon filter fitted in the flush line, one that is rated for {q} or more and "
        "holds {v} of carbon.",
        q=rated,
        v=volume,
        sets=sets,
        mends="no-carbon",
    )


def _week(q: Asks, flush: Flush, show: Report) -> None:
    """Longer runs; fewer of them where they set the number of flushes."""
    week = flush.week
    if week.holds or week.limit <= 0:
        return
    hours = q.run_hours * week.value / week.limit
    if hours <= 86400 / _A_LITTLE_MORE:
        told = least(hours, "h")
        show.remedy(
            "Make water for {t} a day at least, over the days of a week.",
            t=told,
            sets={"run_hours": told},
            mends="week",
        )
