"""What would hold a unit down, give it room, sit it level and lift it in."""

from __future__ import annotations

import math
from dataclasses import replace

from ...equipment.choices import SHAFT
from ...frame.report import TIGHT_MARGIN, Amount, Report, amount, least, most
from ...rounding import trim
from ...system import mount_search as search
from ...system.fixing import BOLTS
from ...system.layout import Room
from ...system.place import Placed, failing_at, placed
from .asked import Asked, Settings


def stands(case: Asked, show: Report) -> None:
    """What comes of standing a unit that may not hang."""
    if failing_at(case.made.place.on(hangs=False), case.made.stand):
        show.remedy(
            "Stand it on a platform, as its maker wants it: with all else as it is here, other "
            "limits are passed there too."
        )
        return
    show.remedy(
        "Stand it on a platform, as its maker wants it: with all else as it is here, every limit "
        "holds there.",
        sets={"attitude": "platform"},
    )


# ---- level ----


def level(case: Asked, show: Report) -> None:
    """What its tilt limits leave, and its shaft laid the other way."""
    _heel(case, show)
    _trim(case, show)
    _turned(case, show)


def _heel(case: Asked, show: Report) -> None:
    """The heel and list that its tilt limit leaves."""
    place = case.made.place
    athwart, sitting = place.footing.athwart, place.sitting
    key = "tilt_along" if athwart else "tilt_across"
    if key not in case.failing:
        return
    limit = most(sitting.trim_limit if athwart else sitting.heel_limit, "°")
    sails = sitting.sail_heel is not None and sitting.sail_heel > limit.value
    lists = sitting.rest_heel > limit.value
    if sails and lists:
        template = (
            "Make water at {heel} of heel at most, and wedge its base until no more than {heel} of "
            "the list at rest is left."
        )
    elif sails:
        template = "Make water at {heel} of heel at most."
    else:
        template = "Wedge its base until no more than {heel} of the list at rest is left."
    sets: Settings = {}
    if sails:
        sets["sail_heel"] = limit
    if lists:
        sets["rest_heel"] = limit
    show.remedy(template, sets=sets, mends=key, heel=limit)


def _trim(case: Asked, show: Report) -> None:
    """The trim that its tilt limit leaves."""
    place = case.made.place
    athwart, sitting = place.footing.athwart, place.sitting
    key = "tilt_across" if athwart else "tilt_along"
    if key not in case.failing:
        return
    limit = most(sitting.heel_limit if athwart else sitting.trim_limit, "°")
    show.remedy(
        "Wedge its base until no more than {trim} of the trim is left.",
        sets={"rest_trim": limit},
        mends=key,
        trim=limit,
    )


def _turned(case: Asked, show: Report) -> None:
    """Its shaft laid the other way."""
    tilts = case.failing & {"tilt_across", "tilt_along"}
    if not tilts:
        return
    athwart = not case.made.place.footing.athwart
    if not failing_at(case.made.place.on(athwart=athwart), case.made.stand) <= case.failing - tilts:
        return
    lies = "athwart" if athwart else "fore"
    show.remedy(
        "Turn the unit, where there is room, so that its shaft lies {lies}.",
        sets={"lies": lies},
        mends=case.worst(tilts),
        lies=SHAFT[lies],
    )


# ---- fastening, room and hands ----


def stronger(case: Asked, show: Report) -> None:
    """The smallest bolts that hold, in place of screws or of smaller ones, with their plates."""
    fixing = case.made.place.fixing
    for bolt in BOLTS:
        with_bolts = search.bolted(case.made, bolt)
        across = search.backing(with_bolts, bolt)
        if across is None or with_bolts.used_with_safety > search.SPARE:
            continue
        plate = least(across, "mm", 0.005)
        wider = plate.value > fixing.washer
        washer = amount(plate.value if wider else fixing.washer, "mm", 6)
        show.remedy(
            _BOLTS[fixing.bolted, wider],
            sets={
                "fix_by": "bolts",
                "bolt": bolt,
                "bolt_class": fixing.bolt_class,
                "washer": washer,
            },
            mends="fastening",
            bolt=bolt,
            washer=plate,
        )
        return
    show.remedy("No bolt up to M12 holds here: use more of them, or spread the feet.")


_BOLTS = {
    (True, False): "Bolts that hold in every sea here: {bolt} at each foot.",
    (True, True): "Bolts that hold in every sea here: {bolt} at each foot on backing plates or "
    "washers {washer} across.",
    (False, False): "Not screws but bolts that hold in every sea here: {bolt} at each foot.",
    (False, True): "Not screws but bolts that hold in every sea here: {bolt} at each foot on "
    "backing plates or washers {washer} across.",
}
"""Stronger fastening, by whether there are bolts already and whether their plates must be wider."""


def wider(case: Asked, show: Report) -> None:
    """The smallest backing plate under the bolts as they are."""
    fixing = case.made.place.fixing
    across = search.backing(case.made, fixing.bolt)
    if across is None:
        show.remedy("No backing plate is wide enough here: use more bolts, or spread the feet.")
        return
    plate = least(across, "mm", 0.005)
    show.remedy(
        "Backing plates or washers {washer} across instead of {now}.",
        sets={"washer": amount(plate.value, "mm", 6)},
        mends="washer",
        washer=plate,
        now=(fixing.washer, "mm"),
    )


def gap(case: Asked, show: Report) -> bool:
    """The air round it that its movement wants, and the locker that this takes."""
    place = case.made.place
    gap = least(case.made.stand.moved, "mm", 0.001)
    wider = replace(place, access=replace(place.access, gap=gap.value))
    if case.holds(wider):
        show.remedy("Leave {gap} free round it.", sets={"gap": gap}, mends="movement", gap=gap)
        return True
    length, width, height = _locker(placed(wider, case.made.stand))
    room = replace(wider.room, length=length.value, width=width.value, height=height.value)
    if case.holds(replace(wider, room=room)):
        show.remedy(
            "Leave {gap} free round it, in a locker {length} long, {width} deep and {height} high "
            "inside.",
            sets={
                "gap": gap,
                "locker_length": amount(length.value, "mm", 6),
                "locker_width": amount(width.value, "mm", 6),
                "locker_height": amount(height.value, "mm", 6),
            },
            mends="movement",
            gap=gap,
            length=length,
            width=width,
            height=height,
        )
        return True
    return False


def _locker(made: Placed) -> tuple[Amount, Amount, Amount]:
    length, width, height = made.room_wanted
    return least(length, "mm", 0.001), least(width, "mm", 0.001), least(height, "mm", 0.001)


def roomier(case: Asked, show: Report) -> None:
    """The locker that takes it, larger in what fails alone, unless something stands in the way."""
    length, width, height = _locker(case.made)
    room = case.made.place.room
    for key, side, wanted, larger, template in (
        (
            "head",
            "length",
            length,
            replace(room, length=length.value),
            "A locker {side} long inside leaves room to pull the pump head.",
        ),
        (
            "across",
            "width",
            width,
            replace(room, width=width.value),
            "A locker {side} deep inside leaves room to open the electrical box.",
        ),
        (
            "height",
            "height",
            height,
            replace(room, height=height.value),
            "A locker {side} high inside takes it.",
        ),
    ):
        if key in case.failing and _takes(case, key, larger):
            show.remedy(template, sets={f"locker_{side}": wanted}, mends=key, side=wanted)


def _takes(case: Asked, key: str, room: Room) -> bool:
    """Whether a locker, all else as it is, mends what fails: what stands in it may still bar it."""
    there = replace(case.made.place, room=room)
    if replace(case.made, place=there).layout.struck:
        return False
    return key not in failing_at(there, case.made.stand)


def hands(case: Asked, show: Report) -> None:
    """How many lift it, or what else; where they only just can, one more."""
    limit, fails = case.made.place.hands.limit, "lift" in case.failing
    each = limit if fails else (1 - TIGHT_MARGIN) * limit
    people = math.ceil(trim(case.made.unit.mass / each)) if limit else 5
    if people > 4 and not fails:
        return
    if people > 4:
        show.remedy(
            "Lift it with a tackle, or in parts: at that reach one person lifts {m}.",
            m=most(limit, "kg"),
        )
        return
    show.remedy(
        "It takes {people} people who reach it like that, or a tackle."
        if fails
        else "With {people} people who reach it like that, or a tackle, nobody is at the limit.",
        sets={"people": people},
        mends="lift",
        people=people,
    )
