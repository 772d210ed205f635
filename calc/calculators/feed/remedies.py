"""What would feed the pump: each is tried, and none is told that would break something else."""

from __future__ import annotations

import math
from dataclasses import replace

from ...frame.report import Amount, Report, least, most
from ...system import feed_search as search
from ...system.feed_line import FeedLine
from ...system.held import Held
from .asks import Asks

# What the fields take.
_SHORTEST, _LOWEST, _DEEPEST, _LEAST_DROP = 0.1, -5.0, 5.0, 1e3  # m, m, m, Pa
_HIGHEST_BOOST, _HIGHEST_FLOW = 1e6, 8e-3  # Pa, m3/s
_BAR_STEP, _FLOW_STEP = 1e4, 1 / 60000  # Pa, m3/s: what boost pumps are told in
_A_LITTLE_MORE = 1.01  # of what is typed back, rounded up in other units
# A cartridge that is changed at less than this many times its clean drop would not last.
WORTH_IT = 1.5  # common practice, no source


def remedies(q: Asks, feed: FeedLine, show: Report) -> None:
    """The inverse answers to all that fails."""
    if not feed.fed.holds:
        _fed(q, feed, show)
    if not feed.filters_clean.holds:
        _clean(feed, show)
    if not feed.intake_deep.holds:
        _intake(feed, show)
    if feed.boost:
        _boost(feed, show)
    if feed.stiff and not feed.left.holds and feed.npsh > feed.left.limit:
        show.remedy(
            "Put soft hose before the pump, a metre or more of it: it gives at each stroke.",
            sets={"feed_stiff": "hose"},
            mends="left",
        )


def _harmless(before: FeedLine, after: FeedLine) -> bool:
    """Whether nothing fails that held before."""

    def broken(line: FeedLine) -> set[str]:
        held: dict[str, Held | None] = {
            "fed": line.fed,
            "shut": line.inlet_bears if line.boost else None,
            "housing": line.housings_bear if line.boost else None,
            "npsh": line.boost_npsh,
            "primes": line.boost_primes,
            "clean": line.filters_clean,
        }
        return {key for key, one in held.items() if one is not None and not one.holds}

    return broken(after) <= broken(before)


def _fed(q: Asks, feed: FeedLine, show: Report) -> None:
    short = feed.fed.limit - feed.fed.value
    filters = feed.filters
    drop, clean = filters.change - short, filters.clean(feed.flow, feed.water)
    if filters.change > clean and drop >= max(WORTH_IT * clean, _LEAST_DROP):
        told = most(drop, "bar")
        show.remedy(
            "Change the filters at a drop of {d} at most.",
            sets={"filter_change": told},
            mends="inlet",
            d=told,
        )
    if feed.boost is None:
        _fit_a_boost(q, feed, show)
    elif feed.rise > 0:
        _stronger(feed, short, show)
    else:
        _freer(feed, short, show)
    bore = search.bore_that_does(feed, lambda line: line.fed)
    if bore is not None:
        size = f"{round(bore * 1000)} mm"
        sets = {"feed_bore": size} | ({"boost_bore": size} if feed.boost else {})
        show.remedy("Hose of {d} inside, all the way.", sets=sets, mends="inlet", d=(bore, "mm"))
    _lower(feed, short, show)
    length = search.length_that_does(feed)
    if length >= 1.1 * _SHORTEST:
        told = most(length, "m")
        show.remedy(
            "A feed hose of {l} at most.", sets={"feed_length": told}, mends="inlet", l=told
        )


def _lower(feed: FeedLine, short: float, show: Report) -> None:
    height = feed.inlet.spot.height - short / feed.head
    if height < _LOWEST or abs(height) < 1e-3:
        return
    if not _harmless(feed, search.with_pump_at(feed, height)):
        return
    told = most(height, "m")
    if height > 0:
        show.remedy(
            "Stand the high-pressure pump {h} above the waterline at most.",
            sets={"pump_height": told},
            mends="inlet",
            h=told,
        )
    else:
        show.remedy(
            "Stand the high-pressure pump {h} below the waterline or lower.",
            sets={"pump_height": told},
            mends="inlet",
            h=least(-height, "m"),
        )


def _stronger(feed: FeedLine, short: float, show: Report) -> None:
    boost = feed.boost
    assert boost is not None
    shut_off = boost.shut_off * (feed.rise + short) / feed.rise
    told = least(shut_off, "bar", step=_BAR_STEP)
    stronger = search.with_shut_off(feed, _A_LITTLE_MORE * told.value)
    if _A_LITTLE_MORE * told.value <= _HIGHEST_BOOST and _harmless(feed, stronger):
        show.remedy(
            "A boost pump that gives {p} or more against a shut end.",
            sets={"boost_shut_off": told},
            mends="inlet",
            p=told,
        )


def _freer(feed: FeedLine, short: float, show: Report) -> None:
    """A boost pump of more flow, where this one holds the water back."""
    boost = feed.boost
    assert boost is not None
    share = (feed.rise + short) / boost.shut_off
    if share < 1:
        flow = feed.flow / math.sqrt(1 - share)
        told = least(flow, "L/min", step=_FLOW_STEP)
        if _A_LITTLE_MORE * told.value <= _HIGHEST_FLOW:
            show.remedy(
                "A boost pump that gives {q} or more against nothing.",
                sets={"boost_free_flow": told},
                mends="inlet",
                q=told,
            )


def _fit_a_boost(q: Asks, feed: FeedLine, show: Report) -> None:
    """A boost pump where there is none, at the place and with the hose that the form has."""
    boosted = replace(feed, boost=q.boost())
    if boosted.rise <= 0:
        return
    assert boosted.boost is not None
    # Its flow is typed along: a pump chosen before may be another.
    free = Amount(boosted.boost.free_flow, "L/min", digits=9)
    short = boosted.fed.limit - boosted.fed.value
    shut_off = boosted.boost.shut_off * (boosted.rise + short) / boosted.rise
    if shut_off <= 0:
        return
    told = least(shut_off, "bar", step=_BAR_STEP)
    boosted = search.with_shut_off(boosted, _A_LITTLE_MORE * told.value)
    bears = min(boosted.inlet.most, boosted.filters.bears, _HIGHEST_BOOST)
    if boosted.shut > bears:
        return
    show.remedy(
        "Fit a boost pump that gives {p} or more against a shut end, and {f} against nothing.",
        sets={"has_boost": True, "boost_shut_off": told, "boost_free_flow": free},
        mends="inlet",
        p=told,
        f=(free.value, "L/min"),
    )


def _clean(feed: FeedLine, show: Report) -> None:
    held = feed.filters_clean
    told = most(feed.filters.rated_loss * held.limit / held.value, "mbar")
    show.remedy(
        "Larger cartridges, each of which loses {l} at most, clean, at {q}.",
        sets={"cartridge_loss": told},
        mends="clean",
        l=told,
        q=(feed.filters.rated_flow, "L/min"),
    )


def _intake(feed: FeedLine, show: Report) -> None:
    depth = feed.intake.rise(feed.moves)
    if depth <= _DEEPEST:
        told = least(depth, "m")
        show.remedy(
            "An intake {d} below the waterline or deeper, or nearer the centreline.",
            sets={"intake_depth": told},
            mends="intake",
            d=told,
        )
    _upright(search.heel_that_does(feed), "intake", show)


def _upright(heel: float | None, mends: str, show: Report) -> None:
    """Less heel, where that will do."""
    if heel is not None and heel > 0.01:
        heeled = most(heel, "°")
        show.remedy(
            "Make water while she heels {a} at most.",
            sets={"water_heel": heeled},
            mends=mends,
            a=heeled,
        )


def _boost(feed: FeedLine, show: Report) -> None:
    boost, depth = feed.boost, feed.shut - (feed.boost.shut_off if feed.boost else 0.0)
    primes, npsh = feed.boost_primes, feed.boost_npsh
    assert boost is not None and primes is not None and npsh is not None
    for key, held in (("shut", feed.inlet_bears), ("housing", feed.housings_bear)):
        if not held.holds and held.limit - depth > 1e3:
            told = most(held.limit - depth, "bar")
            show.remedy(
                "A boost pump that gives {p} at most against a shut end, or a pressure reducer "
                "behind it.",
                sets={"boost_shut_off": told},
                mends=key,
                p=told,
            )
    if not primes.holds:
        _sink(feed, primes.limit - boost.spot.rise(feed.moves), "primes", show)
        _upright(search.heel_that_primes(feed), "primes", show)
    if not npsh.holds:
        bore = search.bore_that_does(feed, lambda line: line.boost_npsh)
        if bore is not None:
            show.remedy(
                "A feed hose of {d} inside.",
                sets={"feed_bore": f"{round(bore * 1000)} mm"},
                mends="boost_npsh",
                d=(bore, "mm"),
            )
        _sink(feed, boost.spot.height - (npsh.limit - npsh.value), "boost_npsh", show)


def _sink(feed: FeedLine, height: float, mends: str, show: Report) -> None:
    if height < _LOWEST or abs(height) < 1e-3:
        return
    told = most(height, "m")
    if height > 0:
        show.remedy(
            "Stand the boost pump {h} above the waterline at most.",
            sets={"boost_height": told},
            mends=mends,
            h=told,
        )
    else:
        show.remedy(
            "Stand the boost pump {h} below the waterline or lower.",
            sets={"boost_height": told},
            mends=mends,
            h=least(-height, "m"),
        )
