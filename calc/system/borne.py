"""What the shaken floor sounds like: force on it through the mounts, and sound from it."""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from ..physics import rigid_body, sound, vibration
from .floor import COULD_BE, Ground
from .mounts import Isolator, springs
from .shaker import Source, Unit

SILENCE = -60.0
"""Level [dB] that stands for nothing at all."""


class StructureBorne(NamedTuple):
    """What a source does to the floor: force on it [N, rms of all mounts] with its notes as told,
    and the sound power [W] that the floor then radiates on one side: the mean over the places where
    its notes may lie, the least and the most."""

    source: Source
    force: float
    power: float
    least: float
    most: float


def structure_borne(unit: Unit, iso: Isolator, under: Ground) -> tuple[StructureBorne, ...]:
    """Force on the floor and sound from it by source.

    Forces of the mounts are added as if they kept no time with each other. The forces inside the
    unit are an estimate, ±6 dB.
    """
    found = []
    pushes = _pushes(unit.body, springs(unit, iso), iso.loss, unit.sources)
    for source, push in zip(unit.sources, pushes, strict=True):
        f, could = source.frequency, under.could_be(source.frequency)
        held = vibration.mass_mobility(unit.mass, f)
        held += vibration.spring_mobility(iso.shaken, iso.loss, f)
        forces = [push * abs(held / (held + d.mobility)) for d in could]
        sigmas = _efficiencies(f, under.length, under.width, under.critical, len(could) > 1)
        area = under.length * under.width
        powers = [
            sound.radiated_power(force * force * d.squared, area, sigma)
            for force, d, sigma in zip(forces, could, sigmas, strict=True)
        ]
        if len(could) == 1:  # endless: its modes do not hold what moves near the feet
            powers[0] += sound.near_field_power(forces[0], under.mass_per_area)
        found.append(
            StructureBorne(
                source,
                forces[len(forces) // 2],
                sum(powers) / len(powers),
                min(powers),
                max(powers),
            )
        )
    return tuple(found)


@lru_cache(maxsize=8)
def _pushes(
    box: rigid_body.RigidBody,
    lifted: tuple[rigid_body.Mount, ...],
    loss: float,
    shaking: tuple[Source, ...],
) -> tuple[float, ...]:
    """Force [N, rms of all mounts] that each source puts on a rigid floor."""
    moved = rigid_body.rigid_body_modes(box, lifted)
    found = []
    for source in shaking:
        load, frequency = source.load, source.frequency
        forces = rigid_body.forces_through_mounts(moved, lifted, load, frequency, loss)
        found.append(math.sqrt(sum([abs(z) ** 2 for _, _, z in forces]) / 2))
    return tuple(found)


@lru_cache(maxsize=64)
def _efficiencies(
    f: float, length: float, width: float, critical: float, noted: bool
) -> tuple[float, ...]:
    """How well a floor radiates at a frequency [Hz], with its notes at each place where they may
    lie; of an endless one, which has none, one number."""
    ups = COULD_BE if noted else (1.0,)
    return tuple([sound.radiation_efficiency(f, length, width, critical / up) for up in ups])


def octave_of(frequency: float) -> int | None:
    """Index of the octave that a frequency [Hz] lies in; None below or above them all."""
    band = round(math.log2(frequency / 1000)) + 4
    return band if 0 <= band < len(sound.OCTAVES) else None


def spectrum(powers: Iterable[tuple[float, float]]) -> tuple[float, ...]:
    """Levels [dB] over the octaves of sounds, each a frequency [Hz] and a power [W]."""
    sums = [0.0] * len(sound.OCTAVES)
    for frequency, power in powers:
        band = octave_of(frequency)
        if band is not None:
            sums[band] += power
    return tuple([sound.power_level(power) if power > 0 else SILENCE for power in sums])


def loudness(unit: Unit, iso: Isolator, under: Ground) -> float:
    """Sound power [dB(A)] of the floor, the mean over where its notes may lie."""
    parts = structure_borne(unit, iso, under)
    return sound.a_weighted(spectrum([(p.source.frequency, p.power) for p in parts]))
