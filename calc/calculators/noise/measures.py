"""What can be done about the noise: in words, what to fill in, and what is then aboard."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from ...frame.report import TIGHT_MARGIN, Line, Setting, amount, least, line
from ...frame.units import trim
from ...system import sound
from ...system.locker import Sizes
from ...system.mounts import isolator
from ...system.shaker import GRAVITY
from ...system.stand import Footing, rating_on
from .asks import Asks

BARRIER = 5.0
"""Limp barrier that a measure adds [kg/m²]."""
MOST_BARRIER = 20.0
"""More barrier than this [kg/m²] nobody hangs on a lid: common practice, no source."""
USUAL_SHARE = 0.6
"""Share of a locker's inside that can be lined clear of the unit: common practice, no source."""
THICK = {"foam25": 0.025, "fibre50": 0.050}
"""Thickness [m] of the linings that are told."""
HOUSE_WALL = "ply12"
HOUSE_OPENINGS = sound.Openings(gaps=0.002, vents=0.012, bent=True)
"""Gaps and vents [m²] of a locker that is told of to house a unit: common practice, no source."""
THICKEST = {
    "plywood": 0.036, "grp_csm": 0.024, "grp_woven": 0.024, "steel": 0.010, "aluminium": 0.016,
    "softwood": 0.045, "hardwood": 0.045, "core": 0.050, "bearers": 0.150,
}  # fmt: skip
"""Thickest panel, core or bearer [m] that a builder would make: common practice, no source."""


@dataclass(frozen=True)
class Aboard:
    """A unit, the way of its sound, and the locker that could be built round it, if one could."""

    path: sound.SoundPath
    footing: Footing
    house: sound.Enclosure | None

    def on(self, footing: Footing) -> Aboard:
        """On other mounts, or another floor."""
        now = self.footing
        same = footing.floor == now.floor and footing.mounts.places == now.mounts.places
        borne = sound.borne(footing, self.path.borne.under if same else None)
        path = replace(self.path, borne=borne)
        return replace(self, footing=footing, path=path)


@dataclass(frozen=True)
class Measure:
    """What to do in words, what to fill in for it, and what is aboard then.

    `stays` says whether it leaves the unit where it stands.
    """

    words: Line
    settings: Mapping[str, Setting]
    after: Aboard
    stays: bool = True


def measures(at: Aboard) -> Iterator[Measure]:
    """All measures but those already taken, and none that nobody would build or could type."""
    if at.path.locker:
        yield from _of_locker(at, at.path.locker)
    elif at.house:
        yield _housed(at, at.house)
    yield from _farther(at)
    yield from _softer(at)
    yield from _stiffer(at)
    yield from _door(at)


def _with(at: Aboard, locker: sound.Enclosure) -> Aboard:
    return replace(at, path=replace(at.path, locker=locker))


def _of_locker(at: Aboard, locker: sound.Enclosure) -> Iterator[Measure]:
    added, openings = locker.walls.added + BARRIER, locker.openings
    if added <= MOST_BARRIER:
        yield Measure(
            line("Add {barrier} of limp barrier to front and lid", barrier=(BARRIER, "kg/m2")),
            {"added_mass": amount(added, "kg/m2", 6)},
            _with(at, replace(locker, walls=replace(locker.walls, added=added))),
        )
    if openings.gaps > 0:
        sealed = replace(openings, gaps=0.1 * openings.gaps)
        yield Measure(
            line("Seal the gaps round lid and doors"),
            {"gaps": amount(sealed.gaps, "cm2", 6)},
            _with(at, replace(locker, openings=sealed)),
        )
    if openings.vents > 0 and not openings.bent:
        yield Measure(
            line("Lead the vents through lined bends"),
            {"vent_kind": "bend"},
            _with(at, replace(locker, openings=replace(openings, bent=True))),
        )
    if locker.lining.kind != "fibre50":
        yield _lined(at, locker)


LINE_WITH = {
    "foam25": "Line {share} of its inside with {thick} of fire-retardant open-cell marine foam, "
    "thinly faced, clear of the motor and its air inlet; see “Keeping it cool” first",
    "fibre50": "Line {share} of its inside with {thick} of mineral fibre, thinly faced, clear of "
    "the motor and its air inlet; see “Keeping it cool” first",
}


def _lined(at: Aboard, locker: sound.Enclosure) -> Measure:
    """Foam, on more of it where little is lined; in place of foam, fibre."""
    foamed = locker.lining.kind == "foam25" and locker.lining.share >= USUAL_SHARE
    kind = "fibre50" if foamed else "foam25"
    share = max(locker.lining.share, USUAL_SHARE)
    return Measure(
        line(LINE_WITH[kind], share=(share, "%"), thick=(THICK[kind], "mm")),
        {"lining": kind, "lined_share": amount(share, "%", 6)},
        _with(at, replace(locker, lining=sound.Lining(kind, share))),
    )


def housing(room: Sizes) -> sound.Enclosure:
    """A lined locker of these sizes, to be built round a unit in the open."""
    lining = sound.Lining("foam25", USUAL_SHARE)
    return sound.Enclosure(room, sound.Walls(HOUSE_WALL), HOUSE_OPENINGS, lining)


BUILD = (
    "Build a locker of {ply} plywood round it, {l} long, {w} wide and {h} high, with vents of "
    "{vents} in all through lined bends; line {share} of its inside with {thick} of "
    "fire-retardant open-cell marine foam, thinly faced, clear of the motor and its air inlet; "
    "see “Keeping it cool” first"
)


def _housed(at: Aboard, house: sound.Enclosure) -> Measure:
    room = house.room
    told = line(
        BUILD,
        ply=(sound.WALLS[HOUSE_WALL][1], "mm"),
        l=(room.length, "mm"),
        w=(room.width, "mm"),
        h=(room.height, "mm"),
        vents=(HOUSE_OPENINGS.vents, "cm2"),
        share=(USUAL_SHARE, "%"),
        thick=(THICK["foam25"], "mm"),
    )
    sets: dict[str, Setting] = {
        "stands": "locker",
        "wall": HOUSE_WALL,
        "added_mass": amount(0.0, "kg/m2", 6),
        "gaps": amount(HOUSE_OPENINGS.gaps, "cm2", 6),
        "vents": amount(HOUSE_OPENINGS.vents, "cm2", 6),
        "vent_kind": "bend",
        "lining": "foam25",
        "lined_share": amount(USUAL_SHARE, "%", 6),
    }
    return Measure(told, sets, _with(at, house))


def _ears(at: Aboard) -> dict[str, sound.Ear]:
    return {"seat": at.path.seat, "berth": at.path.berth}


def _farther(at: Aboard) -> Iterator[Measure]:
    """Twice the distance to whom the unit shares a cabin with, where the cabin is as large."""
    twice = {
        name: replace(ear, distance=2 * ear.distance)
        for name, ear in _ears(at).items()
        if ear.where == "same"
    }
    room = at.path.cabin.room
    if twice and all(
        ear.distance <= room.across and _typable(name, ear.distance) for name, ear in twice.items()
    ):
        yield Measure(
            line("Move it twice as far from you"),
            {name: amount(ear.distance, "m", 6) for name, ear in twice.items()},
            replace(at, path=at.path.heard_from(twice)),
            stays=False,
        )


def _typable(name: str, value: float) -> bool:
    """Whether a field takes a value."""
    limits = Asks.limits.get(name, ())
    return all(limit.value is None or limit.holds(value, limit.value) for limit in limits)


SOFTER = (2.0, 1.7, 1.4)
"""How many times farther the mounts that are tried give, the softest first."""
GIVES = (0.002, 0.003, 0.004)
"""How far [m] mounts that are tried in place of none, or of pads, give, the hardest first."""


def _softer(at: Aboard) -> Iterator[Measure]:
    """Softer mounts that hold the unit at rest and at sea, as Mount judges them, if any do."""
    mounts, unit = at.footing.mounts, at.footing.unit
    unmounted = mounts.by in ("hard", "pad")
    now = 0.0 if unmounted else unit.weight / isolator(mounts, unit.mass).static
    gives = GIVES if unmounted else [max(now * times, GIVES[0]) for times in SOFTER]
    for give in (round(g, 4) for g in gives):
        load = rating_on(at.footing, give) if give > SOFTER[-1] * now else None
        if load is None:
            continue
        rating = least(load / GRAVITY / (1 - TIGHT_MARGIN), "kg", 0.5)
        softer = replace(mounts, by="deflection", deflection=give, rating=rating.value)
        yield Measure(
            line(
                "Put it on rubber mounts that give {give} under its weight and may carry {rating} "
                "each"
                if unmounted
                else "Put it on softer mounts, which give {give} under its weight and may carry "
                "{rating} each",
                give=(give, "mm"),
                rating=rating,
            ),
            {
                "mount_by": "deflection",
                "mount_deflection": amount(give, "mm", 6),
                "mount_rating": amount(rating.value, "kg", 9),  # has something in hand
            },
            at.on(replace(at.footing, mounts=softer)),
        )
        return


def _stiffer(at: Aboard) -> Iterator[Measure]:
    """A floor twice as thick, where a builder would make one."""
    floor = at.footing.floor
    if floor.form == "bearers":
        told, name, deep = "Make the bearers twice as deep", "bearer_depth", floor.bearer_depth
        made, room, thick = "bearers", floor.length, replace(floor, bearer_depth=trim(2 * deep))
    elif floor.cored:
        told, name, deep = "Make the floor's core twice as thick", "core_thickness", floor.core
        made, room = "core", min(floor.length, floor.width) - 2 * floor.skin
        thick = replace(floor, core=trim(2 * deep))
    else:
        told, name, deep = "Make the floor twice as thick", "floor_thickness", floor.thickness
        made, room = floor.material, min(floor.length, floor.width) - floor.doubler
        thick = replace(floor, thickness=trim(2 * deep))
    if trim(2 * deep) <= min(THICKEST[made], room):
        yield Measure(
            line(told),
            {name: amount(trim(2 * deep), "mm", 6)},
            at.on(replace(at.footing, floor=thick)),
        )


_WHERE = {"seat": "sits", "berth": "sleeps"}
"""Fields that tell where the ears are."""


def _door(at: Aboard) -> Iterator[Measure]:
    """A shut door where it stands open, or a bulkhead with one."""
    ears = _ears(at)
    ajar = [name for name, ear in ears.items() if ear.where == "open"]
    if ajar:
        yield _apart(line("Shut the door"), at, ajar)
    if any(ear.where == "same" for ear in ears.values()):
        apart = [name for name, ear in ears.items() if ear.where != "shut"]
        yield _apart(
            line("Move it behind a bulkhead from you, the door shut"), at, apart, stays=False
        )


def _apart(words: Line, at: Aboard, names: list[str], stays: bool = True) -> Measure:
    shut = {name: replace(_ears(at)[name], where="shut") for name in names}
    return Measure(
        words,
        {_WHERE[name]: "shut" for name in names},
        replace(at, path=at.path.heard_from(shut)),
        stays,
    )
