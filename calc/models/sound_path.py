"""The way of a unit's sound to the ears on board: out of its locker, through the air and the floor.

Spectra are levels [dB] over the octaves of `sound.OCTAVES`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

from ..inputs import Values
from ..physics import sound, structures
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
        return tuple(sound.level_sum(pair) for pair in zip(self.air, self.floor, strict=True))

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
    """The way of the sound worked out once: spectra [dB] over the octaves."""

    power: Spectrum
    escaped: Spectrum
    borne: Spectrum
    seat: Heard
    berth: Heard


def sounds(q: Values, borne: Spectrum | None = None) -> Sounds:
    """From the unit to both ears. `borne` spares working out the floor's sound again."""
    power = _power(q)
    escaped = tuple(
        sound.escaping_power_level(level, through_area(q, i), absorption(q, i))
        for i, level in enumerate(power)
    )
    if borne is None:
        borne = _borne(q)
    return Sounds(
        power, escaped, borne, heard(q, escaped, borne, "same", q.seat),
        heard(q, escaped, borne, q.sleeps, q.berth),
    )  # fmt: skip


def heard(q: Values, escaped: Spectrum, borne: Spectrum, where: str, distance: float) -> Heard:
    """What arrives at an ear: in the locker's cabin ("same") at a distance [m], or in the next
    cabin with its door "shut" or "open"."""
    cabin = cabin_absorption(q)
    if where == "same":
        return Heard(_at(q, escaped, distance, cabin), _at(q, borne, distance, cabin))
    return Heard(_next(q, escaped, cabin, where), _next(q, borne, cabin, where))


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


@lru_cache(maxsize=256)
def _wall_loss(key: str, added: float, frequency: float) -> float:
    """Transmission loss [dB] of a wall by its key with a limp layer on it [kg/m²]."""
    _, material, thickness = WALLS[key]
    made = structures.MATERIALS[material]
    section = structures.solid_section(made, thickness)
    critical = sound.critical_frequency(section.mean, section.mass)
    # The layer adds mass, no stiffness; the coincidence frequency rises a little with it.
    critical *= math.sqrt((section.mass + added) / section.mass)
    return sound.wall_loss(section.mass + added, frequency, critical)


def face_area(q: Values) -> float:
    """Area [m²] of front and lid, the faces towards the cabin."""
    return float(q.locker_length * (q.locker_height + q.locker_width))


def through_area(q: Values, band: int) -> float:
    """Στ·S [m²] of front, lid, gaps and vents in an octave."""
    f = sound.OCTAVES[band]
    faces = face_area(q)
    open_area = min(q.gaps + q.vents, faces)
    vents = min(q.vents, open_area)
    duct = sound.lined_elbow_loss(f, math.sqrt(vents / 2)) if q.vent_kind == "bend" and vents else 0
    return sound.transmission_area(
        [
            (faces - open_area, _wall_loss(q.wall, q.added_mass, f)),
            (open_area - vents, 0.0),
            (vents, duct),
        ]
    )


def _inside(q: Values) -> float:
    """Inner surface of the locker [m²]."""
    a, b, c = q.locker_length, q.locker_width, q.locker_height
    return float(2 * (a * b + b * c + a * c))


def absorption(q: Values, band: int) -> float:
    """ΣαS [m²] inside the locker in an octave."""
    bare = sound.LININGS["bare"].absorption[band]
    lined = sound.LININGS[q.lining].absorption[band]
    share = q.lined_share if q.lining in SOFT_LININGS else 1.0
    return _inside(q) * (share * lined + (1 - share) * bare)


# ---- through the floor ----


def _borne(q: Values) -> Spectrum:
    """Sound power by octave [dB] of the floor that the unit shakes, as if it faced the cabin."""
    iso = path.isolator(q)
    path.check_standing(q, iso)
    floor = path.floor(q, iso.places, orders=1)
    powers = [0.0] * len(sound.OCTAVES)
    for part in path.structure_borne(q, iso, floor):
        band = _band_of(part.source.frequency)
        if band is not None:
            powers[band] += part.power
    return tuple(sound.power_level(p) if p > 0 else SILENCE for p in powers)


SILENCE = -60.0
"""Level [dB] that stands for nothing at all."""


def _band_of(frequency: float) -> int | None:
    """Index of the octave that a frequency [Hz] lies in; None below or above them all."""
    band = round(math.log2(frequency / 1000)) + 4
    return band if 0 <= band < len(sound.OCTAVES) else None


# ---- the cabin ----


def cabin_surface(q: Values) -> float:
    a, b, c = q.cabin_length, q.cabin_width, q.cabin_height
    return float(2 * (a * b + b * c + a * c))


def cabin_absorption(q: Values) -> Spectrum:
    """Mean absorption coefficient of the cabin by octave."""
    share = SOFT_SHARE[q.furnished]
    bare, soft = sound.LININGS["bare"].absorption, sound.LININGS["cushions"].absorption
    return tuple(share * s + (1 - share) * b for s, b in zip(soft, bare, strict=True))


def _at(q: Values, power: Spectrum, distance: float, cabin: Spectrum) -> Spectrum:
    """Level by octave [dB] at a distance [m] in the cabin, the locker on its floor (Q = 2)."""
    surface = cabin_surface(q)
    return tuple(
        sound.room_level(level, distance, sound.room_constant(surface, alpha), 2.0)
        for level, alpha in zip(power, cabin, strict=True)
    )


def _next(q: Values, power: Spectrum, cabin: Spectrum, door: str) -> Spectrum:
    """Level by octave [dB] behind the bulkhead, in a cabin like the locker's."""
    opening = DOOR_AREA if door == "open" else DOOR_GAP
    bulkhead = q.bulkhead or q.wall
    surface = cabin_surface(q)
    levels = []
    for i, f in enumerate(sound.OCTAVES):
        field = power[i] + 10 * math.log10(4 / sound.room_constant(surface, cabin[i]))
        through = sound.transmission_area(
            [(BULKHEAD_AREA - opening, _wall_loss(bulkhead, 0.0, f)), (opening, 0.0)]
        )
        levels.append(sound.room_to_room_level(field, through, surface * cabin[i]))
    return tuple(levels)


def in_locker(q: Values, found: Sounds) -> float:
    """Level [dB(A)] inside the locker with its lid shut."""
    levels = [
        sound.reverberant_level(level, absorption(q, i) + through_area(q, i))
        for i, level in enumerate(found.power)
    ]
    return sound.a_weighted(levels)
