"""What would make it fit: each is tried, and none raises a limit beyond what a part bears."""

from __future__ import annotations

import math
from dataclasses import replace

from ...frame.report import TIGHT_MARGIN, Report, amount, least, most
from ...system.held import Held
from ...system.pressure_side import ON_THE_SCALE, TIMES_BURST, PressureSide
from ...system.watermaking import RELIEF_ROOM
from .._motor import PARTS
from .asks import Asks

_FIELDS = {"hose": "hose_bears", "fittings": "fittings_bear", "vessel": "vessel_bears"}
_HIGHEST = {"hose": 700e5, "fittings": 700e5, "vessel": 120e5}  # Pa, as the fields take them
_A_LITTLE_MORE = 1.001  # of what is told in three digits, and may lose as much
_LOWEST_RELIEF = 10e5  # Pa, the same


def remedies(q: Asks, side: PressureSide, show: Report) -> None:
    """The inverse answers to all that fails."""
    if _opens_above_all(side):
        _stronger(side, show)
        _gentler(side, show)
    elif not side.works.holds:
        _weaker(side, show)
    elif side.relief is None and not q.has_relief:
        _fit_one(side, show)
    elif side.relief is not None:
        _set_anew(side, show)
    _capacity(q, side, show)
    if side.relief is not None and q.relief_shut_off:
        show.remedy(
            "Have the relief valve put right behind the pump, with nothing between that can be "
            "shut.",
            sets={"relief_shut_off": "no"},
            mends="shut-off",
        )
    if side.relief is not None and q.relief_outlet == "brine":
        show.remedy(
            "Lead its outlet out by a hose of its own, as wide as the outlet, down and away from "
            "people and mains, its end open.",
            sets={"relief_outlet": "open"},
            mends="outlet",
        )
    if side.works.holds and (side.above is None or side.above.holds):  # else it comes down first
        _gauge(side.gauge, show)
    _hose(side, show)


def _opens_above_all(side: PressureSide) -> bool:
    """Whether the relief valve opens above what the weakest part bears, or hardly below, and no
    other setting is between that and the work."""
    above, below = side.above, side.below
    if above is None or below is None or side.settable:
        return False
    return not below.holds or (below.margin < TIGHT_MARGIN and below.margin < above.margin)


def _stronger(side: PressureSide, show: Report) -> None:
    """Parts that bear more than the pressure at which the relief valve opens."""
    above = side.above
    assert above is not None
    if not above.holds:  # then stronger parts alone would not do
        return
    exact = (above.value - TIGHT_MARGIN * above.limit) / (1 - TIGHT_MARGIN)
    need = amount(_A_LITTLE_MORE * exact, "bar")
    weak = [r.key for r in side.ratings if r.bears < need.value]
    if any(key not in _FIELDS or need.value > _HIGHEST[key] for key in weak):
        return
    sets = {_FIELDS[key]: need for key in weak}
    if len(weak) == 1:
        show.remedy(
            "Have the {w} replaced by one that bears {m} or more: the relief valve must open below "
            "that. Until then don't run it.",
            w=PARTS[weak[0]],
            m=need,
            sets=sets,
            mends="below",
        )
    else:
        show.remedy(
            "Have each part that bears less than {m} replaced by one that bears it: the relief "
            "valve must open below that. Until then don't run it.",
            m=need,
            sets=sets,
            mends="below",
        )


def _gentler(side: PressureSide, show: Report) -> None:
    """The relief valve a tenth below the weakest part, and the work a tenth below that."""
    opens = amount(side.weakest.bears / RELIEF_ROOM, "bar")
    works = amount(opens.value / RELIEF_ROOM, "bar")
    if opens.shown() < _LOWEST_RELIEF or replace(side.making, pressure=works.value).dry:
        return
    if side.pressure <= works.value:
        show.remedy(
            "Have the relief valve set to {p} by its maker or a licensed workshop. Don't turn its "
            "screw, and don't run the unit until then.",
            p=opens,
            sets={"relief_opens": opens},
            mends="below",
        )
        return
    show.remedy(
        "Have the relief valve set to {r} by its maker or a licensed workshop, and from then on "
        "work with {p}. Don't turn its screw, and don't run the unit until then.",
        r=opens,
        p=works,
        sets={"relief_opens": opens, "pressure": works},
        mends="below",
    )


def _weaker(side: PressureSide, show: Report) -> None:
    """More pressure than the weakest part bears: less of it, or another part."""
    key, told = side.weakest.key, most(side.weakest.bears, "bar")
    if side.relief is not None:
        lower = amount(side.relief.opens / RELIEF_ROOM, "bar")
        show.remedy(
            "Open the regulating valve further, until the gauge shows {m}: a tenth below the "
            "pressure at which the relief valve opens.",
            m=lower,
            sets={"pressure": lower},
            mends="pressure",
        )
        return
    show.remedy(
        "Open the regulating valve further, until the gauge shows {m} or less.",
        m=told,
        sets={"pressure": told},
        mends="pressure",
    )
    if key in _FIELDS:
        bears = least(side.pressure, "bar")
        others = [r.bears for r in side.ratings if r.key != key]
        if bears.value <= min([_HIGHEST[key], *others]):
            show.remedy(
                "Have the {w} replaced by one that bears {m} at least. Until then don't run it at "
                "{m}.",
                w=PARTS[key],
                m=bears,
                sets={_FIELDS[key]: bears},
                mends="pressure",
            )


def _fit_one(side: PressureSide, show: Report) -> None:
    lowest, highest = side.relief_room
    if not side.settable:
        return
    opens, flow = amount((lowest + highest) / 2, "bar"), least(side.flow, "L/min")
    show.remedy(
        "Have a relief valve fitted right behind the pump, one that opens at {p} and lets {f} "
        "through. Its maker or a licensed workshop sets and seals it.",
        p=opens,
        f=flow,
        sets={"has_relief": "yes", "relief_opens": opens, "relief_flow": flow},
        mends="capacity",
    )


def _set_anew(side: PressureSide, show: Report) -> None:
    """A setting between the work and the weakest part; else less pressure."""
    above, below, relief = side.above, side.below, side.relief
    assert above is not None and below is not None and relief is not None
    lacks = above if above.margin <= below.margin else below
    if lacks.margin >= TIGHT_MARGIN:
        return
    mends = "relief" if lacks is above else "below"
    lowest, highest = side.relief_room
    told = amount((lowest + highest) / 2, "bar")
    anew = replace(side, relief=replace(relief, opens=told.shown()))
    then = anew.above if lacks is above else anew.below
    assert then is not None
    if lacks is above and side.pressure >= side.highest_working:
        # What only is tight becomes right at a tenth below, and not before.
        lower = (most if above.holds else amount)(above.value / RELIEF_ROOM, "bar")
        show.remedy(
            "Open the regulating valve further, until the gauge shows {m}: a tenth below the "
            "pressure at which the relief valve opens.",
            m=lower,
            sets={"pressure": lower},
            mends=mends,
        )
    if side.settable and _better(lacks, then):
        show.remedy(
            "Have the relief valve set to {p} by its maker or a licensed workshop, and never turn "
            "its screw yourself."
            if lacks.holds or lacks is above
            else "Have the relief valve set to {p} by its maker or a licensed workshop. Don't turn "
            "its screw, and don't run the unit until then.",
            p=told,
            sets={"relief_opens": told},
            mends=mends,
        )


def _better(was: Held, now: Held) -> bool:
    """Whether what failed holds, or what was tight is right."""
    return now.margin >= (TIGHT_MARGIN if was.holds else 0.0)


def _capacity(q: Asks, side: PressureSide, show: Report) -> None:
    capacity, opening = side.capacity, side.least_opening
    if capacity is None or capacity.holds or opening is None:
        return
    if q.relief_flow is not None:
        told = least(side.flow, "L/min")
        show.remedy(
            "A relief valve that lets {f} through, a tenth over its setting.",
            f=told,
            sets={"relief_flow": told},
            mends="capacity",
        )
        return
    told = least(math.sqrt(4 * opening / math.pi), "mm")
    show.remedy(
        "A relief valve whose seat is {d} wide at least.",
        d=told,
        sets={"relief_bore": told},
        mends="capacity",
    )


def _gauge(gauge: Held | None, show: Report) -> None:
    if gauge is None or gauge.holds:
        return
    told = least(gauge.value / ON_THE_SCALE, "bar")
    show.remedy(
        "A gauge whose scale ends at {s} or beyond.",
        s=told,
        sets={"gauge_scale": told},
        mends="gauge",
    )


def _hose(side: PressureSide, show: Report) -> None:
    bursts = side.bursts
    if bursts is None or bursts.holds:
        return
    told = least(bursts.limit, "bar")
    if side.hose_bursts is not None:
        show.remedy(
            "A hose that bursts at {b} or above.",
            b=told,
            sets={"hose_bursts": told},
            mends="bursts",
        )
    else:
        bears = least(bursts.limit / TIMES_BURST, "bar")
        show.remedy(
            "A hose that bears {b} or more.", b=bears, sets={"hose_bears": bears}, mends="bursts"
        )
