"""What helps, tried: each measure is heard before it is told."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from ...frame.report import TIGHT_MARGIN, Amount, Line, Report, Setting, amount, least, line, most
from ...frame.units import trim
from ...physics import sound as acoustics
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
LOUDEST_FILM = 80.0
"""A film is not advised to be louder than this [dB(A)] at the ear: common practice, no source."""
MOST_TOGETHER = 4
"""So many measures are told of together at most."""
WORTH = 1.0
"""What takes off less than this [dB] is not told as a remedy."""


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


# ---- what can be done ----


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
                "mount_rating": rating,
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


# ---- what it does ----


@dataclass(frozen=True)
class Tried:
    """A measure, what is heard after it, and what it takes off [dB] at both ears."""

    measure: Measure
    found: sound.Sounds
    seat: float
    berth: float


def tried(at: Aboard, found: sound.Sounds, wish: sound.Wish) -> list[Tried]:
    """All measures, that which takes off most at the ear that decides first."""
    done = []
    for measure in measures(at):
        after = sound.sounds(measure.after.path)
        done.append(
            Tried(
                measure,
                after,
                found.seat.total_a - after.seat.total_a,
                found.berth.total_a - after.berth.total_a,
            )
        )

    def rank(one: Tried) -> tuple[float, float, str]:
        ears = (-round(one.seat, 1), -round(one.berth, 1))
        first, second = reversed(ears) if wish.asleep else ears
        return first, second, one.measure.words.template

    return sorted(done, key=rank)


@dataclass(frozen=True)
class Together:
    """Measures one after the other, what is heard after them, and all that they change."""

    measures: tuple[Measure, ...]
    found: sound.Sounds
    settings: Mapping[str, Setting] = field(default_factory=dict)


def together(at: Aboard, found: sound.Sounds, wish: sound.Wish, stays: bool = True) -> Together:
    """The best measures, one after the other, until what is wanted holds; if it `stays`, those that
    leave it where it stands."""
    made = Together((), found)
    while not sound.judged(made.found, wish).holds and len(made.measures) < MOST_TOGETHER:
        here = [
            one
            for one in tried(at, made.found, wish)
            if (one.measure.stays or not stays)
            and not set(one.measure.settings) <= set(made.settings)
        ]
        best = min(here, key=lambda one: one.found.ear(wish).total_a, default=None)
        if best is None or _off(made.found, best.found, wish) < WORTH:
            break
        at = best.measure.after
        made = Together(
            (*made.measures, best.measure), best.found, {**made.settings, **best.measure.settings}
        )
    return made


def _off(before: sound.Sounds, after: sound.Sounds, wish: sound.Wish) -> float:
    """What is taken off [dB] at the ear that decides."""
    return before.ear(wish).total_a - after.ear(wish).total_a


# ---- what is told of it ----


def told(
    at: Aboard, found: sound.Sounds, wish: sound.Wish, done: list[Tried], show: Report
) -> None:
    """The best measure where it stands, and the best of all; where neither is enough, several."""
    holds = sound.judged(found, wish).holds
    here = next((one for one in done if one.measure.stays), None)
    alone = [here] if here else []
    if done and (here is None or _off(here.found, done[0].found, wish) >= WORTH):
        alone.append(done[0])
    for one in alone:
        if round(_off(found, one.found, wish), 1) >= WORTH:
            _alone(one, found, wish, holds, show)
    enough = any(sound.judged(one.found, wish).holds for one in alone)
    if not holds and not (here and sound.judged(here.found, wish).holds):
        made = together(at, found, wish)
        _several(made, found, wish, show)
        if not enough and not sound.judged(made.found, wish).holds:
            _moved(together(at, found, wish, stays=False), found, wish, show)
    if not holds and wish.asleep:
        show.remedy(
            "Or make water while nobody sleeps: then the limit in the berth does not count."
        )
    if wish.doing == "film":
        _turned_up(found, show)


_QUIETER = {
    (False, None): "That makes it {d} quieter at the seat.",
    (False, True): "That makes it {d} quieter at the seat, which is enough.",
    (False, False): "That makes it {d} quieter at the seat, which alone is not enough.",
    (True, None): "That makes it {d} quieter in the berth.",
    (True, True): "That makes it {d} quieter in the berth, which is enough.",
    (True, False): "That makes it {d} quieter in the berth, which alone is not enough.",
}
_ALL_QUIETER = {
    (False, True): "Together they make it {d} quieter at the seat, which is enough.",
    (False, False): "Together they make it {d} quieter at the seat, which is still not enough.",
    (True, True): "Together they make it {d} quieter in the berth, which is enough.",
    (True, False): "Together they make it {d} quieter in the berth, which is still not enough.",
}
_SEVERAL = {
    2: "Two things, where it stands: {m1}. {m2}. {gain}",
    3: "Three things, where it stands: {m1}. {m2}. {m3}. {gain}",
    4: "Four things, where it stands: {m1}. {m2}. {m3}. {m4}. {gain}",
}


_MOVED = {
    2: "Two things: {m1}. {m2}. {gain}",
    3: "Three things: {m1}. {m2}. {m3}. {gain}",
    4: "Four things: {m1}. {m2}. {m3}. {m4}. {gain}",
}


def _alone(one: Tried, found: sound.Sounds, wish: sound.Wish, holds: bool, show: Report) -> None:
    """One measure as a remedy; with what to fill in where it leaves nothing failing."""
    enough = sound.judged(one.found, wish).holds
    off = most(round(_off(found, one.found, wish), 1), "dB")
    show.remedy(
        "{measure}. {gain}",
        sets=one.measure.settings if enough else None,
        measure=one.measure.words,
        gain=line(_QUIETER[wish.asleep, None if holds else enough], d=off),
    )


def _several(made: Together, found: sound.Sounds, wish: sound.Wish, show: Report) -> None:
    enough = sound.judged(made.found, wish).holds
    if len(made.measures) < 2:
        if not enough:
            show.remedy("Nothing that this page knows of is enough where the unit stands.")
        return
    off = most(round(_off(found, made.found, wish), 1), "dB")
    show.remedy(
        _SEVERAL[len(made.measures)],
        sets=made.settings if enough else None,
        **{f"m{number}": one.words for number, one in enumerate(made.measures, 1)},
        gain=line(_ALL_QUIETER[wish.asleep, enough], d=off),
    )


def _moved(made: Together, found: sound.Sounds, wish: sound.Wish, show: Report) -> None:
    """The same with the unit moved, where that is enough."""
    if not len(made.measures) >= 2 or not sound.judged(made.found, wish).holds:
        return
    off = most(round(_off(found, made.found, wish), 1), "dB")
    show.remedy(
        _MOVED[len(made.measures)],
        sets=made.settings,
        **{f"m{number}": one.words for number, one in enumerate(made.measures, 1)},
        gain=line(_ALL_QUIETER[wish.asleep, True], d=off),
    )


def _turned_up(found: sound.Sounds, show: Report) -> None:
    """How loud a film must be for every word, where that harms nobody's ears."""
    film: Amount = least(round(found.seat.total_a, 1) + acoustics.SPEECH_OVER_NOISE, "dB(A)", 0.1)
    if film.value <= LOUDEST_FILM:
        show.remedy(
            "Every word is understood with the film's voices at {film} at your ear.",
            film=film,
            sets={"film": film},
            mends="film",
        )
