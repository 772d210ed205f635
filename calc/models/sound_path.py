"""The way of a unit's sound to the ears on board: out of its locker, through the air and the floor.

Spectra are levels [dB] over the octaves of `sound.OCTAVES`.
"""

from __future__ import annotations

import math
import operator
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache

from ..frame.inputs import Refusal, Values
from ..physics import sound, structures
from ..system.locker import Sizes
from . import vibration_path as path

BANDS = ("63", "125", "250", "500", "1000", "2000", "4000", "8000")
WALLS = {
    "ply9": ("plywood, 9 mm", "plywood", 0.009),
    "ply12": ("plywood, 12 mm", "plywood", 0.012),
    "ply18": ("plywood, 18 mm", "plywood", 0.018),
    "grp4": ("fibreglass, 4 mm", "grp_csm", 0.004),
    "grp6": ("fibreglass, 6 mm", "grp_csm", 0.006),
    "steel3": ("steel, 3 mm", "steel", 0.003),
    "alu4": ("aluminium, 4 mm", "aluminium", 0.004),
}
WALL_NAMES = {key: made[0] for key, made in WALLS.items()}
LININGS = {key: sound.LININGS[key].name for key in ("bare", "hard", "foam12", "foam25", "fibre50")}
SOFT_LININGS = ("foam12", "foam25", "fibre50")
SOFT_SHARE = {"soft": 0.35, "some": 0.15, "hard": 0.03}
"""Share of a cabin's surface that is upholstered: common practice, no source."""
BULKHEAD_AREA, DOOR_AREA, DOOR_GAP = 3.0, 0.9, 0.008
"""Bulkhead between two cabins, its door and the gap round it [m²]: common practice, no source."""

Spectrum = tuple[float, ...]


@dataclass(frozen=True)
class Heard:
    """What arrives at one ear: through the air and through the floor, by octave [dB]."""

    air: Spectrum
    floor: Spectrum

    @cached_property
    def together(self) -> Spectrum:
        return tuple([sound.level_sum(pair) for pair in zip(self.air, self.floor, strict=True)])

    @cached_property
    def air_a(self) -> float:
        return sound.a_weighted(self.air)

    @cached_property
    def floor_a(self) -> float:
        return sound.a_weighted(self.floor)

    @cached_property
    def total_a(self) -> float:
        return sound.a_weighted(self.together)


@dataclass(frozen=True)
class Sounds:
    """The way of the sound worked out once: spectra [dB] over the octaves.

    through, absorbed: Στ·S of the locker's faces and ΣαS inside it [m²]; empty of a unit in the
    open. below, above: how far what the floor brings may lie below and above what is told [dB].
    """

    power: Spectrum
    through: Spectrum
    absorbed: Spectrum
    escaped: Spectrum
    borne: Spectrum
    seat: Heard
    berth: Heard
    below: float
    above: float


def sounds(q: Values, like: Sounds | None = None, shaken: bool = True) -> Sounds:
    """From the unit to both ears.

    `like` is of the same unit elsewhere, or after a measure; unless the measure changes what is
    `shaken`, the floor sounds as there.
    """
    power = like.power if like else _power(q)
    through: Spectrum = ()
    absorbed: Spectrum = ()
    escaped = power
    if q.stands == "locker":
        through, absorbed = through_areas(q), absorptions(q)
        escaped = tuple(map(sound.escaping_power_level, power, through, absorbed))
    if like and not shaken:
        borne, below, above = like.borne, like.below, like.above
    else:
        borne, below, above = _borne(q)
    return Sounds(
        power,
        through,
        absorbed,
        escaped,
        borne,
        heard(q, escaped, borne, q.sits, q.seat),
        heard(q, escaped, borne, q.sleeps, q.berth),
        below,
        above,
    )


def heard(q: Values, escaped: Spectrum, borne: Spectrum, where: str, distance: float) -> Heard:
    """What arrives at an ear: in the locker's cabin ("same") at a distance [m], or in the next
    cabin with its door "shut" or "open"."""
    surface = cabin_surface(q)
    if where == "same":
        gains = _room_gains(surface, q.furnished, distance)
        return Heard(_plus(escaped, gains), _plus(borne, gains))
    field, behind = _next_gains(surface, q.furnished, q.bulkhead or q.wall, where)
    return Heard(_plus(_plus(escaped, field), behind), _plus(_plus(borne, field), behind))


def _plus(levels: Spectrum, gains: Spectrum) -> Spectrum:
    return tuple(map(operator.add, levels, gains))


# ---- the source ----


def _power(q: Values) -> Spectrum:
    """Sound power by octave [dB re 1 pW]."""
    if q.known == "bands":
        levels = [getattr(q, f"band_{band}") for band in BANDS]
        return tuple(sound.power_from_pressure(level, q.distance) for level in levels)
    return sound.spectrum_of(power_a(q))


def power_a(q: Values) -> float:
    """A-weighted sound power level [dB(A)], unless octave bands are given."""
    if q.known == "power":
        return float(q.level)
    if q.known == "level":
        return sound.power_from_pressure(q.level, q.distance)
    return sound.power_from_pressure(
        sound.pump_level(q.unit.motor.rated_power, q.motor_speed), sound.PUMP_DISTANCE
    )


# ---- the locker ----


def check_locker(q: Values) -> None:
    """Refuses a locker that the unit does not go into, as its ventilation does."""
    if q.stands == "open":
        return
    inside = Sizes(q.locker_length, q.locker_width, q.locker_height)
    side = inside.too_small_for(Sizes(q.unit_length, q.unit_width, q.unit_height))
    if side:
        sentence = "the unit does not fit into this locker, whichever way it lies"
        raise Refusal(f"locker_{side}", sentence)


@lru_cache(maxsize=32)
def _wall_losses(key: str, added: float) -> Spectrum:
    """Transmission loss [dB] of a wall by its key with a limp layer on it [kg/m²]."""
    _, material, thickness = WALLS[key]
    made = structures.MATERIALS[material]
    section = structures.solid_section(made, thickness)
    critical = sound.critical_frequency(section.mean, section.mass)
    # The layer adds mass, no stiffness; the coincidence frequency rises a little with it.
    critical *= math.sqrt((section.mass + added) / section.mass)
    return tuple([sound.wall_loss(section.mass + added, f, critical) for f in sound.OCTAVES])


def face_area(q: Values) -> float:
    """Area [m²] of front and lid, the faces towards the cabin."""
    return float(q.locker_length * (q.locker_height + q.locker_width))


def through_areas(q: Values) -> Spectrum:
    """Στ·S [m²] of front, lid, gaps and vents."""
    faces = face_area(q)
    open_area = min(q.gaps + q.vents, faces)
    vents = min(q.vents, open_area)
    lined = q.vent_kind == "bend" and vents > 0
    found = []
    for f, loss in zip(sound.OCTAVES, _wall_losses(q.wall, q.added_mass), strict=True):
        duct = sound.lined_elbow_loss(f, math.sqrt(vents / 2)) if lined else 0.0
        parts = ((faces - open_area, loss), (open_area - vents, 0.0), (vents, duct))
        found.append(sound.transmission_area(parts))
    return tuple(found)


def _inside(q: Values) -> float:
    """Inner surface of the locker [m²]."""
    a, b, c = q.locker_length, q.locker_width, q.locker_height
    return float(2 * (a * b + b * c + a * c))


def absorptions(q: Values) -> Spectrum:
    """ΣαS [m²] inside the locker."""
    inside, share = _inside(q), q.lined_share if q.lining in SOFT_LININGS else 1.0
    lined, bare = sound.LININGS[q.lining].absorption, sound.LININGS["bare"].absorption
    return tuple([inside * (share * a + (1 - share) * b) for a, b in zip(lined, bare, strict=True)])


# ---- through the floor ----


def _borne(q: Values) -> tuple[Spectrum, float, float]:
    """Sound power by octave [dB] of the floor that the unit shakes, as if it faced the cabin, and
    how far below and above that it may lie [dB], A-weighted."""
    iso = path.isolator(q)
    path.check_standing(q, iso)
    floor = path.floor(q, iso.places)
    mean, low, high = [[0.0] * len(sound.OCTAVES) for _ in range(3)]
    for part in path.structure_borne(q, iso, floor):
        band = octave_of(part.source.frequency)
        if band is not None:
            mean[band] += part.power
            low[band] += part.least
            high[band] += part.most
    levels, lowest, highest = [tuple(map(_level, powers)) for powers in (mean, low, high)]
    middle = sound.a_weighted(levels)
    down, up = [
        math.hypot(sound.STRUCTURE_BORNE_UNCERTAINTY, sound.a_weighted(end) - middle)
        for end in (lowest, highest)
    ]
    return levels, down, up


def _level(power: float) -> float:
    return sound.power_level(power) if power > 0 else SILENCE


SILENCE = -60.0
"""Level [dB] that stands for nothing at all."""


def octave_of(frequency: float) -> int | None:
    """Index of the octave that a frequency [Hz] lies in; None below or above them all."""
    band = round(math.log2(frequency / 1000)) + 4
    return band if 0 <= band < len(sound.OCTAVES) else None


# ---- the cabin ----


def cabin_surface(q: Values) -> float:
    a, b, c = q.cabin_length, q.cabin_width, q.cabin_height
    return float(2 * (a * b + b * c + a * c))


@cache
def cabin_absorption(furnished: str) -> Spectrum:
    """Mean absorption coefficient of a cabin by octave."""
    share = SOFT_SHARE[furnished]
    bare, soft = sound.LININGS["bare"].absorption, sound.LININGS["cushions"].absorption
    return tuple([share * s + (1 - share) * b for s, b in zip(soft, bare, strict=True)])


@lru_cache(maxsize=16)
def _room_gains(surface: float, furnished: str, distance: float) -> Spectrum:
    """Level [dB] at a distance [m] in the cabin over the power, the locker on its floor (Q = 2)."""
    return tuple(
        [
            sound.room_level(0.0, distance, sound.room_constant(surface, alpha), 2.0)
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
    losses = _wall_losses(bulkhead, 0.0)
    for alpha, loss in zip(cabin_absorption(furnished), losses, strict=True):
        through = sound.transmission_area(((BULKHEAD_AREA - opening, loss), (opening, 0.0)))
        field.append(10 * math.log10(4 / sound.room_constant(surface, alpha)))
        behind.append(sound.room_to_room_level(0.0, through, surface * alpha))
    return tuple(field), tuple(behind)


def in_locker(found: Sounds) -> float:
    """Level [dB(A)] inside the locker with its lid shut."""
    swallowed = map(operator.add, found.absorbed, found.through)
    return sound.a_weighted(list(map(sound.reverberant_level, found.power, swallowed)))
