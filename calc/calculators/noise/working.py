"""The working: every step as a formula with its source."""

from __future__ import annotations

import math

from ...frame.report import Report, line
from ...physics import sound as acoustics
from ...physics import speech
from ...sheet.standing import LOADS, SOURCES
from ...system import sound
from .asks import Asks

BAND = 4
"""The octave that is worked out for all to see: 1000 Hz."""


def steps(q: Asks, found: sound.Sounds, wish: sound.Wish, show: Report) -> None:
    _source(q, found, show)
    if found.path.locker:
        _locker(found, found.path.locker, show)
    cabin = found.path.cabin
    _seat_air(found, cabin, show)
    show.step(
        "At the seat in all",
        found.seat.total_a,
        "dB(A)",
        "L = 10 * log10(10**(L_air / 10) + 10**(L_floor / 10))",
        {"L_air": (found.seat.air_a, "dB(A)"), "L_floor": (found.seat.floor_a, "dB(A)")},
        "R. F. Barron, Industrial Noise Control and Acoustics, eq. 2-43, p. 31",
    )
    if wish.doing == "talk":
        psil = speech.speech_interference(found.seat.together)
        show.step(
            "What a normal voice has to spare where you talk",
            speech.voice_limit(wish.talk) - psil,
            "dB",
            "G = 60 - 20 * log10(r / 0.9144) - PSIL",
            {"r": (wish.talk, "m"), "PSIL": (psil, "dB")},
            "required voice level by distance, public handbook table",
            "PSIL: mean of the octaves 500, 1000 and 2000 Hz. It carries 10^(G/20) times as far as "
            "that.",
        )
    _floor(found.borne, show)


def _seat_air(found: sound.Sounds, cabin: sound.Cabin, show: Report) -> None:
    """What comes through the air to a seat in the unit's cabin, or behind its bulkhead."""
    seat = found.path.seat
    if seat.where != "same":
        return
    show.step(
        "At the seat at 1000 Hz, by air",
        found.seat.air[BAND],
        "dB",
        "L = L_out + 10 * log10(2 / (4 * pi * r**2) + 4 * (1 - alpha) / (S * alpha))",
        {
            "L_out": (found.escaped[BAND], "dB"),
            "r": (seat.distance, "m"),
            "alpha": (cabin.absorption[BAND], "%"),
            "S": (cabin.room.surface, "m2"),
        },
        "ASHRAE Handbook, HVAC Applications (2019), ch. 49",
    )


def _source(q: Asks, found: sound.Sounds, show: Report) -> None:
    """The sound power of a level at a distance, measured or estimated."""
    loudness = found.path.loudness
    if loudness.distance is None or loudness.bands:
        return
    where = {"L": (loudness.level, "dB(A)"), "r": (loudness.distance, "m")}
    formula = "L_w = L - 10 * log10(2 / (4 * pi * r**2))"
    if q.known == "estimate":
        show.step(
            "Estimated sound power",
            loudness.power_a,
            "dB(A)",
            formula,
            where,
            "US Army TM 5-805-4 / AFJMAN 32-1090 (1995), tables C-11 and C-12",
            "Level at 3 ft by motor power and speed: data of centrifugal pumps, an order of "
            "magnitude for a plunger pump. A measured level is better.",
        )
    else:
        show.step(
            "Sound power",
            loudness.power_a,
            "dB(A)",
            formula,
            where,
            "ASHRAE Handbook, HVAC Applications (2019), ch. 49, on a surface in the open",
        )


def _locker(found: sound.Sounds, locker: sound.Enclosure, show: Report) -> None:
    """What its walls and gaps let out in an octave."""
    if locker.open_area > 0:
        show.step(
            "No wall with these openings stops more than",
            acoustics.open_area_ceiling(locker.open_area / locker.faces),
            "dB",
            "TL_max = -10 * log10(S_open / S)",
            {"S_open": (locker.open_area, "cm2"), "S": (locker.faces, "m2")},
            "D. A. Bies, C. H. Hansen, Engineering Noise Control, p. 204",
        )
    show.step(
        "Leaves the locker at 1000 Hz",
        found.escaped[BAND],
        "dB",
        "L_out = L_w + 10 * log10(T / (A + T))",
        {
            "L_w": (found.power[BAND], "dB"),
            "T": (locker.through[BAND], "cm2"),
            "A": (locker.absorbed[BAND], "m2"),
        },
        "diffuse-field balance, H. Kuttruff, Room Acoustics, ch. 5",
        "T: openings, and walls by their transmission; A: absorption inside.",
    )


def _floor(borne: sound.Borne, show: Report) -> None:
    """The strongest source through the mounts, and what the floor makes of it."""
    part = borne.loudest
    if part is None:
        return
    moves = borne.under.as_told(part.source.frequency).squared
    show.step(
        line(
            "Floor's mean square velocity by what is heard most ({source}), notes as worked out",
            source=SOURCES[part.source.key],
        ),
        part.force**2 * moves * 1e6,
        "",
        "v2 = 1e6 * F**2 * Y**2",
        {"F": (part.force, "N"), "Y": (math.sqrt(moves), "mm/(s N)")},
        "L. Cremer, M. Heckl, E. E. Ungar, Structure-Borne Sound, ch. IV; force: common practice, "
        "no source",
        line(
            "In mm²/s². Load: {how}, through the six motions on the mounts. Y: what one newton at "
            "the feet moves the floor by, in the mean over it: the sum of its modes while they are "
            "few, of an endless floor above {few}.",
            how=LOADS[part.source.key],
            few=(borne.under.few_below, "Hz"),
        ),
    )
