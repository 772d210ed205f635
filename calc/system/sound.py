"""The way of a unit's sound to the ears on board: out of its locker, through the air and the floor.

Spectra are levels [dB] over the octaves of `acoustics.OCTAVES`.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property, lru_cache

from ..physics import sections, speech
from ..physics import sound as acoustics
from .borne import StructureBorne, octave_of, spectrum, structure_borne
from .floor import Ground, ground
from .locker import Sizes
from .mounts import check_standing, isolator
from .stand import Footing

Spectrum = tuple[float, ...]

WALLS = {
    "ply9": ("plywood", 0.009),
    "ply12": ("plywood", 0.012),
    "ply18": ("plywood", 0.018),
    "grp4": ("grp_csm", 0.004),
    "grp6": ("grp_csm", 0.006),
    "steel3": ("steel", 0.003),
    "alu4": ("aluminium", 0.004),
}
"""Material and thickness [m] of walls by their key."""
SOFT_LININGS = ("foam12", "foam25", "fibre50")
LINING_NAMES = {key: acoustics.LININGS[key].name for key in ("bare", "hard", *SOFT_LININGS)}
SOFT_SHARE = {"soft": 0.35, "some": 0.15, "hard": 0.03}
"""Share of a cabin's surface that is upholstered: common practice, no source."""
BULKHEAD_AREA, DOOR_AREA, DOOR_GAP = 3.0, 0.9, 0.008
"""Bulkhead between two cabins, its door and the gap round it [m²]: common practice, no source."""
OPEN_METRE = 10 * math.log10(2 / (4 * math.pi))
"""Level at 1 m on a surface in the open below the sound power level [dB]."""
EASY = 6.0
"""One talks at ease where a normal voice has so much to spare [dB]: twice the distance."""


# ---- what is aboard ----


@dataclass(frozen=True)
class Loudness:
    """What is known of a unit's own noise.

    Octave bands, or a level [dB(A)], at a distance [m] in the open; without a distance, its sound
    power [dB(A)].
    """

    level: float = 0.0
    distance: float | None = None
    bands: Spectrum = ()

    @property
    def power_a(self) -> float:
        """A-weighted sound power level [dB(A)], of a level."""
        if self.distance is None:
            return self.level
        return acoustics.power_from_pressure(self.level, self.distance)

    @property
    def power(self) -> Spectrum:
        """Sound power by octave [dB re 1 pW]."""
        if self.bands and self.distance is not None:
            at = self.distance
            return tuple([acoustics.power_from_pressure(level, at) for level in self.bands])
        return acoustics.spectrum_of(self.power_a)


def estimated(drive: float, speed: float) -> Loudness:
    """What a pump is taken to sound like by its drive's power [W] and shaft speed [rev/s]."""
    return Loudness(acoustics.pump_level(drive, speed), acoustics.PUMP_DISTANCE)


@dataclass(frozen=True)
class Walls:
    """Front and lid of a locker: a key of `WALLS`, with a limp layer on it [kg/m²]."""

    kind: str
    added: float = 0.0


@dataclass(frozen=True)
class Openings:
    """Gaps round lid and doors, and vents [m²]; `bent`: the vents are lined ducts with a bend."""

    gaps: float
    vents: float
    bent: bool = False


@dataclass(frozen=True)
class Lining:
    """A lining by its key in `acoustics.LININGS`, and the share of the inside that has it."""

    kind: str
    share: float


@dataclass(frozen=True)
class Enclosure:
    """A locker under a front and a lid, long side to the cabin."""

    room: Sizes
    walls: Walls
    openings: Openings
    lining: Lining

    @property
    def faces(self) -> float:
        """Area [m²] of front and lid, the faces towards the cabin."""
        return self.room.length * (self.room.height + self.room.width)

    @property
    def open_area(self) -> float:
        """Area [m²] of all openings: no more than the faces have."""
        return min(self.openings.gaps + self.openings.vents, self.faces)

    @cached_property
    def through(self) -> Spectrum:
        """Στ·S [m²] of front, lid, gaps and vents, by octave."""
        vents = min(self.openings.vents, self.open_area)
        bent = self.openings.bent and vents > 0
        losses = wall_losses(self.walls)
        found = []
        for f, loss in zip(acoustics.OCTAVES, losses, strict=True):
            duct = acoustics.lined_elbow_loss(f, math.sqrt(vents / 2)) if bent else 0.0
            parts = (
                (self.faces - self.open_area, loss),
                (self.open_area - vents, 0.0),
                (vents, duct),
            )
            found.append(acoustics.transmission_area(parts))
        return tuple(found)

    @cached_property
    def absorbed(self) -> Spectrum:
        """ΣαS [m²] inside it, by octave."""
        lining, surface = self.lining, self.room.surface
        share = lining.share if lining.kind in SOFT_LININGS else 1.0
        lined = acoustics.LININGS[lining.kind].absorption
        bare = acoustics.LININGS["bare"].absorption
        return tuple(
            [surface * (share * a + (1 - share) * b) for a, b in zip(lined, bare, strict=True)]
        )

    def escaped(self, power: Spectrum) -> Spectrum:
        """Sound power [dB] that leaves it, of what is made inside."""
        return tuple(map(acoustics.escaping_power_level, power, self.through, self.absorbed))

    def inside(self, power: Spectrum) -> float:
        """Level [dB(A)] inside it with its lid shut."""
        swallowed = map(operator.add, self.absorbed, self.through)
        return acoustics.a_weighted(list(map(acoustics.reverberant_level, power, swallowed)))


@dataclass(frozen=True)
class Cabin:
    """A cabin: how it is furnished (a key of `SOFT_SHARE`), and the bulkhead to the next one, which
    is taken to be like it."""

    room: Sizes
    furnished: str
    bulkhead: str

    @property
    def absorption(self) -> Spectrum:
        """Mean absorption coefficient by octave."""
        return cabin_absorption(self.furnished)


@dataclass(frozen=True)
class Ear:
    """Where one listens: in the unit's cabin ("same") at a distance [m], or in the next cabin, its
    door "shut" or "open"."""

    where: str
    distance: float


@dataclass(frozen=True)
class Borne:
    """What a shaken floor sends out [dB] by octave, as if it faced the cabin, and how far below and
    above that it may lie [dB], A-weighted; made of `parts`, a source each, on `under`."""

    levels: Spectrum
    below: float
    above: float
    parts: tuple[StructureBorne, ...]
    under: Ground

    @property
    def loudest(self) -> StructureBorne | None:
        """The part that the ear hears most of, if it hears any."""
        part = max(self.parts, key=_weighed)
        return part if _weighed(part) else None


@dataclass(frozen=True)
class SoundPath:
    """A unit and all that its sound passes: without a locker it stands open in the cabin."""

    loudness: Loudness
    locker: Enclosure | None
    cabin: Cabin
    seat: Ear
    berth: Ear
    borne: Borne

    def heard_from(self, ears: Mapping[str, Ear]) -> SoundPath:
        """With the "seat", the "berth" or both elsewhere."""
        return replace(self, seat=ears.get("seat", self.seat), berth=ears.get("berth", self.berth))


@dataclass(frozen=True)
class Wish:
    """What one wants to do while it runs: "talk" across [m], watch a "film" whose voices come at a
    level [dB(A)], or "sleep"; and the most [dB(A)] at the seat, if any, and in the berth."""

    doing: str
    talk: float
    film: float
    seat_most: float | None
    berth_most: float

    @property
    def asleep(self) -> bool:
        """Whether the wish is to sleep."""
        return self.doing == "sleep"


# ---- what is heard ----


@dataclass(frozen=True)
class Heard:
    """What arrives at one ear: through the air and through the floor, by octave [dB]."""

    air: Spectrum
    floor: Spectrum

    @cached_property
    def together(self) -> Spectrum:
        """What comes by air and by floor, added [dB]."""
        return tuple([acoustics.level_sum(pair) for pair in zip(self.air, self.floor, strict=True)])

    @cached_property
    def air_a(self) -> float:
        """What comes by air [dB(A)]."""
        return acoustics.a_weighted(self.air)

    @cached_property
    def floor_a(self) -> float:
        """What comes by the floor [dB(A)]."""
        return acoustics.a_weighted(self.floor)

    @cached_property
    def total_a(self) -> float:
        """What comes by air and by floor [dB(A)]."""
        return acoustics.a_weighted(self.together)


@dataclass(frozen=True)
class Sounds:
    """The way of the sound worked out: spectra [dB] over the octaves.

    power: of the unit; escaped: of it, what leaves the locker; borne: of the floor.
    """

    path: SoundPath
    power: Spectrum
    escaped: Spectrum
    seat: Heard
    berth: Heard

    @property
    def borne(self) -> Borne:
        """What the shaken floor sends out."""
        return self.path.borne

    def ear(self, wish: Wish) -> Heard:
        """The ear that decides: in the berth for a sleeper, else at the seat."""
        return self.berth if wish.asleep else self.seat


def sounds(path: SoundPath) -> Sounds:
    """From the unit to both ears."""
    power = path.loudness.power
    escaped = path.locker.escaped(power) if path.locker else power
    return Sounds(
        path,
        power,
        escaped,
        heard(path.cabin, escaped, path.borne.levels, path.seat),
        heard(path.cabin, escaped, path.borne.levels, path.berth),
    )


def heard(cabin: Cabin, escaped: Spectrum, borne: Spectrum, ear: Ear) -> Heard:
    """What arrives at an ear of two sound powers [dB] in the unit's cabin."""
    surface = cabin.room.surface
    if ear.where == "same":
        gains = _room_gains(surface, cabin.furnished, ear.distance)
        return Heard(_plus(escaped, gains), _plus(borne, gains))
    field, behind = _next_gains(surface, cabin.furnished, cabin.bulkhead, ear.where)
    return Heard(_plus(_plus(escaped, field), behind), _plus(_plus(borne, field), behind))


def _plus(levels: Spectrum, gains: Spectrum) -> Spectrum:
    return tuple(map(operator.add, levels, gains))


@lru_cache(maxsize=32)
def wall_losses(walls: Walls) -> Spectrum:
    """Transmission loss [dB] of a wall by octave."""
    material, thickness = WALLS[walls.kind]
    section = sections.solid_section(sections.MATERIALS[material], thickness)
    mass = section.mass + walls.added
    critical = acoustics.critical_frequency(section.mean, section.mass)
    # The layer adds mass, no stiffness; the coincidence frequency rises a little with it.
    critical *= math.sqrt(mass / section.mass)
    return tuple([acoustics.wall_loss(mass, f, critical) for f in acoustics.OCTAVES])


@cache
def cabin_absorption(furnished: str) -> Spectrum:
    """Mean absorption coefficient of a cabin by octave."""
    share = SOFT_SHARE[furnished]
    bare = acoustics.LININGS["bare"].absorption
    soft = acoustics.LININGS["cushions"].absorption
    return tuple([share * s + (1 - share) * b for s, b in zip(soft, bare, strict=True)])


@lru_cache(maxsize=16)
def _room_gains(surface: float, furnished: str, distance: float) -> Spectrum:
    """Level [dB] at a distance [m] in the cabin over the power, the locker on its floor (Q = 2)."""
    return tuple(
        [
            acoustics.room_level(0.0, distance, acoustics.room_constant(surface, alpha), 2.0)
            for alpha in cabin_absorption(furnished)
        ]
    )


@lru_cache(maxsize=16)
def _next_gains(
    surface: float, furnished: str, bulkhead: str, door: str
) -> tuple[Spectrum, Spectrum]:
    """Levels [dB] of the cabin's field over the power, and over it behind the bulkhead, in a cabin
    like the locker's."""
    opening = DOOR_AREA if door == "open" else DOOR_GAP
    field, behind = [], []
    losses = wall_losses(Walls(bulkhead))
    for alpha, loss in zip(cabin_absorption(furnished), losses, strict=True):
        through = acoustics.transmission_area(((BULKHEAD_AREA - opening, loss), (opening, 0.0)))
        field.append(10 * math.log10(4 / acoustics.room_constant(surface, alpha)))
        behind.append(acoustics.room_to_room_level(0.0, through, surface * alpha))
    return tuple(field), tuple(behind)


# ---- through the floor ----


def borne(footing: Footing, under: Ground | None = None) -> Borne:
    """The sound of the floor that a unit shakes. Refuses one that tips over, and mounts that stand
    off their floor. `under` is this floor under these feet, if it is worked out already."""
    unit = footing.unit
    iso = isolator(footing.mounts, unit.mass)
    check_standing(unit, iso)
    under = under or ground(footing.floor, iso.places)
    parts = structure_borne(unit, iso, under)
    levels = spectrum([(p.source.frequency, p.power) for p in parts])
    middle = acoustics.a_weighted(levels)
    below, above = [
        math.hypot(
            acoustics.STRUCTURE_BORNE_UNCERTAINTY, acoustics.a_weighted(spectrum(powers)) - middle
        )
        for powers in (
            [(p.source.frequency, p.least) for p in parts],
            [(p.source.frequency, p.most) for p in parts],
        )
    ]
    return Borne(levels, below, above, parts, under)


def _weighed(part: StructureBorne) -> float:
    """What the ear makes of a part: nothing of one outside the octaves that are counted."""
    f = part.source.frequency
    heard = octave_of(f) is not None
    return part.power * 10 ** (acoustics.a_weighting(f) / 10) if heard else 0.0


# ---- held against what is wanted ----


@dataclass(frozen=True)
class Judged:
    """What is heard against what is wanted: levels [dB(A)] and what is left over [dB], to a tenth,
    since more is not known.

    talk: what a normal voice has to spare; film: how far a film's voices stand above the noise;
    left: the least left over of what decides.
    """

    seat: float
    berth: float
    talk: float
    film: float
    left: float

    @property
    def holds(self) -> bool:
        """Whether it is as quiet as wished."""
        return self.left >= 0


def judged(found: Sounds, wish: Wish) -> Judged:
    """What one hears, held against what one wants to do and against the limits that decide."""
    seat, berth = round(found.seat.total_a, 1), round(found.berth.total_a, 1)
    interference = speech.speech_interference(found.seat.together)
    talk, film = to_spare(interference, wish.talk), round(wish.film - seat, 1)
    left = [wish.berth_most - berth] if wish.asleep else []
    if not wish.asleep and wish.seat_most is not None:
        left.append(wish.seat_most - seat)
    if wish.doing == "talk":
        left.append(talk)
    elif wish.doing == "film":
        left.append(film - speech.SPEECH_OVER_NOISE)
    return Judged(seat, berth, talk, film, round(min(left), 6))


def to_spare(interference: float, talk: float, voice: speech.Voice = "normal") -> float:
    """What a voice has to spare [dB] across `talk` [m] over a speech interference level [dB]."""
    return round(speech.voice_limit(talk, voice) - interference, 1)


def voice_wanted(level: float, interference: float, talk: float) -> str:
    """The voice it takes to talk across [m] at a level [dB(A)] and speech interference level [dB]:
    "easy", "normal", "raised", "very loud" or "shouting"."""
    spare = to_spare(interference, talk)
    if spare >= EASY and level <= speech.CRITERIA["talk"].limit:
        return "easy"
    if spare >= 0:
        return "normal"
    for voice in ("raised", "very loud"):
        if to_spare(interference, talk, voice) >= 0:
            return voice
    return "shouting"


def carries(spare: float, talk: float) -> float:
    """How far [m] a normal voice carries that has so much to spare [dB] across `talk` [m]."""
    return speech.talking_distance(speech.voice_limit(talk) - spare)
