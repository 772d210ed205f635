"""What would keep a unit's shaking out of the floor: other mounts, their place, another floor."""

from __future__ import annotations

from ...frame.report import Amount, Line, Report, amount, least, line, most
from ...system import mount_search as search
from ...system.floor import Floor
from ...system.place import Placed, does, failing, level
from ...system.stand import RIGID
from ...system.unfit import Unfit
from .asked import OTHERS, Asked, Settings
from .fixing_remedies import gap

OFF_CENTRED = frozenset(("rocking", "load", "sea_mount", "buckling", "movement"))
"""What mounts under the centre of gravity can mend, shifted there or spread about it."""
OFF_CENTRE = 0.01
"""A centre of gravity nearer than this [m] to the middle of the feet is not worth a shift."""
LOUDER = 0.1
"""A floor that sounds louder by more than this [dB] than it does now is no remedy."""


def mounts_and_floor(case: Asked, show: Report) -> None:
    """Mounts, their place, the floor under them, the air round the unit."""
    shaken = bool(case.failing - OTHERS)
    off_centre = bool(case.asked & OFF_CENTRED) and abs(case.made.unit.cg_along) >= OFF_CENTRE
    told = off_centre and _centred(case, show)
    told |= bool(case.asked - OTHERS - {"note"}) and _mounts(case, show)
    if off_centre and not told:
        told = _centred_on_others(case, show)
    if not shaken:
        return
    told |= _floors(case, show, with_mounts=not told)
    told |= "movement" in case.failing and gap(case, show)
    told |= case.failing - OTHERS == {"isolation"} and _less_wanted(case, show)
    if not told:
        show.remedy(
            "No one change to mounts, floor or room that a builder would make is enough here: look "
            "for another place, on a panel that is smaller or better held, or change two things."
        )


# ---- mounts ----


def _mounts(case: Asked, show: Report) -> bool:
    """The mounts that suit this floor as it is."""
    found = _found(case, search.softened(case.made))
    if found is None:
        return False
    sentence = _sentence(case.made, found)
    sets = _mount_settings(case.made, found)
    show.remedy(sentence.template, sets=sets, mends=case.mends, **sentence.amounts)
    return True


def _found(case: Asked, soft: Placed) -> search.Range | None:
    """Mounts for a place, if the hardest of them, as it is told, holds every limit; what lies
    between it and the softest then does."""
    found = search.mount_range(soft)
    if found is None:
        return None
    typed = _hardest(found)
    there = search.on_mounts(soft.place, typed, _rating(found).value)
    return found if does(there, soft.stand, case.rest) else None


def _hardest(found: search.Range) -> float:
    """The least that the weight presses the mounts down [m], as it is told."""
    return least(found.hardest, "mm").shown()


def _rating(found: search.Range) -> Amount:
    return least(search.soft_rating(found), "kg", 0.5)


def _sentence(made: Placed, found: search.Range) -> Line:
    """Mounts as they are told; the weight that hangs on them is not what they are bought by."""
    mounts, each = made.place.footing.mounts, made.unit.weight / len(made.stand.iso.places)
    return line(
        "On this floor: mounts no taller than wide, that the weight would press down by {hard} to "
        "{soft} if it stood on them ({stiff} down to {soft_each} each) and that carry {rating} "
        "each, shaken {dynamic} as stiff as at rest and sideways {side} as stiff."
        if made.hangs
        else "On this floor: mounts no taller than wide, that the weight presses down by {hard} to "
        "{soft} ({stiff} down to {soft_each} each) and that carry {rating} each, shaken {dynamic} "
        "as stiff as at rest and sideways {side} as stiff.",
        hard=least(found.hardest, "mm"),
        soft=most(found.softest, "mm"),
        stiff=most(each / found.hardest, "N/mm"),
        soft_each=least(each / found.softest, "N/mm"),
        rating=_rating(found),
        dynamic=(mounts.dynamic_ratio, "×"),
        side=(mounts.side_ratio, "%"),
    )


def _mount_settings(made: Placed, found: search.Range) -> Settings:
    """The hardest of them in the form. Six digits: in inches too it is no harder than told."""
    mounts = made.place.footing.mounts
    return {
        "mount_by": "deflection",
        "mount_deflection": amount(_hardest(found), "mm", 6),
        "mount_rating": amount(_rating(found).value, "kg", 6),
        "dynamic_ratio": amount(mounts.dynamic_ratio, "×", 6),
        "side_ratio": amount(mounts.side_ratio, "%", 6),
    }


USELESS = 3.0
"""Mounts that gain less than this [dB] are nearly useless: hardly heard. Common practice, no
source."""


def _less_wanted(case: Asked, show: Report) -> bool:
    """What the mounts gain, where only the wish is greater: no figure of the ear says so."""
    gained = level(case.made.stand.gained)
    if gained < USELESS:
        return False
    show.remedy(
        "Ask for {gained} only, which these mounts gain, if the page “Quiet running” finds it "
        "quiet enough where you sit and sleep.",
        sets={"wanted": most(gained, "dB")},
        mends="isolation",
        gained=(gained, "dB"),
    )
    return True


# ---- under the centre of gravity ----


def _centred(case: Asked, show: Report) -> bool:
    """The mounts as they are, shifted under the centre of gravity."""
    under = search.under_centre(case.made)
    if not failing(under) <= case.rest:
        return False
    shift = _shift(case)
    show.remedy(
        shift.template, sets={"cg_along": amount(0.0, "mm")}, mends=case.mends, **shift.amounts
    )
    return True


def _centred_on_others(case: Asked, show: Report) -> bool:
    """Other mounts under the centre of gravity, where neither is enough alone."""
    found = _found(case, search.softened(search.under_centre(case.made)))
    if found is None:
        return False
    show.remedy(
        "{shift} {mounts}",
        sets={"cg_along": amount(0.0, "mm"), **_mount_settings(case.made, found)},
        mends=case.mends,
        shift=_shift(case),
        mounts=_sentence(case.made, found),
    )
    return True


def _shift(case: Asked) -> Line:
    """Where the mounts go, and how far the base must then reach."""
    off = case.made.unit.cg_along
    return line(
        "Shift all mounts {shift} towards the motor, under the centre of gravity: the base must "
        "reach {reach} from where their middle is now."
        if off > 0
        else "Shift all mounts {shift} towards the pump, under the centre of gravity: the base "
        "must reach {reach} from where their middle is now.",
        shift=(abs(off), "mm"),
        reach=(case.made.place.footing.mounts.along / 2 + abs(off), "mm"),
    )


# ---- floor ----


def _floors(case: Asked, show: Report, *, with_mounts: bool) -> bool:
    """The least of each change to the floor that is enough; `with_mounts`, other mounts on it."""
    made = case.made
    stand, place = made.stand, made.place
    soft = search.softened(made) if with_mounts else made
    alone = stand.gain(stand.heard.frequency, RIGID) >= place.wanted
    told = False
    for lever in search.levers(place.footing.floor, place.footing.mounts.across):
        done = alone and _alone(case, lever, show)
        if not done and with_mounts:
            done = _with_mounts(case, soft, lever, show)
        told |= done
    return told


def _alone(case: Asked, lever: search.Lever, show: Report) -> bool:
    """A floor that is enough under the mounts as they are, and no louder than the one now."""
    made = case.made
    now = made.place.footing.floor
    for floor in lever.floors:
        built = search.as_built(now, floor)
        if not all(case.holds(made.place.on(floor=there)) for there in built):
            continue
        if search.refloored(made, floor).stand.loudness > made.stand.loudness + LOUDER:
            continue
        told = _built(lever.kind, now, floor)
        sets = _floor_settings(lever.kind, floor)
        show.remedy(told.template, sets=sets, mends=case.mends, **told.amounts)
        return True
    return False


def _with_mounts(case: Asked, soft: Placed, lever: search.Lever, show: Report) -> bool:
    """A floor that is enough with other mounts on it."""
    now = case.made.place.footing.floor
    for floor in lever.floors:
        try:
            there = search.refloored(soft, floor)
        except Unfit:
            continue
        found = _found(case, there)
        if found is None:
            continue
        on = search.on_mounts(there.place, _hardest(found), _rating(found).value)
        built = search.as_built(now, floor)
        if all(does(on.on(floor=one), there.stand, case.rest) for one in built):
            show.remedy(
                "{floor} {mounts}",
                sets={**_floor_settings(lever.kind, floor), **_mount_settings(case.made, found)},
                mends=case.mends,
                floor=_built(lever.kind, now, floor),
                mounts=_sentence(case.made, found),
            )
            return True
    return False


def _built(kind: str, now: Floor, floor: Floor) -> Line:
    """A changed floor as it is told to a builder."""
    if kind == "plate":
        mass = (floor.plate, "kg")
        return line("A metal plate of {mass} bolted to the floor under the mounts.", mass=mass)
    if kind == "battens":
        return line(
            "Glue {battens} battens under it, lengthwise, {wide} wide and {deep} deep.",
            battens=floor.battens,
            wide=(floor.batten_width, "mm"),
            deep=(floor.batten_depth, "mm"),
        )
    if kind == "doubler":
        return line(
            "A plywood doubler of {thick} in all, bonded all over it."
            if now.doubler
            else "A plywood doubler of {thick}, bonded all over it.",
            thick=(floor.doubler, "mm"),
        )
    template, before, after = {
        "bearers": ("Bearers {then} deep instead of {now}.", now.bearer_depth, floor.bearer_depth),
        "bay": (
            "Stiff bearers under the panel that leave {then} of its width free instead of {now}.",
            now.width,
            floor.width,
        ),
        "core": ("A core {then} thick instead of {now}.", now.core, floor.core),
        "panel": ("A panel {then} thick instead of {now}.", now.thickness, floor.thickness),
    }[kind]
    return line(template, now=(before, "mm"), then=(after, "mm"))


def _floor_settings(kind: str, floor: Floor) -> Settings:
    """A changed floor in the form. Six digits: in inches too it is as stiff as it was tried."""
    if kind == "plate":
        return {"floor_plate": amount(floor.plate, "kg", 6)}
    if kind == "battens":
        return {
            "battens": floor.battens,
            "batten_width": amount(floor.batten_width, "mm", 6),
            "batten_depth": amount(floor.batten_depth, "mm", 6),
        }
    field, size = {
        "bearers": ("bearer_depth", floor.bearer_depth),
        "bay": ("floor_width", floor.width),
        "core": ("core_thickness", floor.core),
        "doubler": ("doubler", floor.doubler),
        "panel": ("floor_thickness", floor.thickness),
    }[kind]
    return {field: amount(size, "mm", 6)}
