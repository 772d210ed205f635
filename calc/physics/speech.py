"""What noise does to people: speech over it, and the limits that are set for it.

Levels in dB re 20 µPa, over the octaves of `sound.OCTAVES`; distances in m.
"""

import math
from collections.abc import Mapping, Sequence
from typing import Literal, NamedTuple

from calc.physics._require import positive
from calc.physics.sound import OCTAVES

Voice = Literal["normal", "raised", "very loud", "shouting"]

_VOICE_GAIN: Mapping[Voice, float] = {
    "normal": 0.0,
    "raised": 6.0,
    "very loud": 12.0,
    "shouting": 18.0,
}


def speech_interference(spectrum: Sequence[float]) -> float:
    """Preferred speech interference level [dB]: mean of 500, 1000 and 2000 Hz over `OCTAVES`.

    Source: preferred speech interference level as in public handbooks (ANSI S3.14 adds 4 kHz).
    Raises ValueError unless there is one level an octave.
    """
    if len(spectrum) != len(OCTAVES):
        raise ValueError("give one level for each octave band")
    return sum(spectrum[3:6]) / 3


def talking_distance(interference: float, voice: Voice = "normal") -> float:
    """Distance [m] over which a voice is understood against a speech interference level [dB].

    60 dB at 0.9 m (3 ft) for a normal voice, 6 dB less for each doubling; raised +6, very loud +12,
    shouting +18 dB. Source: required voice level by distance, public handbook table.
    """
    return float(0.9144 * 10 ** ((60 + _VOICE_GAIN[voice] - interference) / 20))


def voice_limit(distance: float, voice: Voice = "normal") -> float:
    """Speech interference level [dB] that a voice just overcomes at a distance [m].

    Source: as `talking_distance`, solved for the level.
    """
    positive(distance, "distance")
    return 60 + _VOICE_GAIN[voice] - 20 * math.log10(distance / 0.9144)


class Criterion(NamedTuple):
    """A published limit [dB(A)] for a kind of space."""

    space: str
    limit: float
    source: str
    standing: str


_IMO = "IMO resolution MSC.337(91), Code on noise levels on board ships, § 4.2, 1600 to 10 000 GT"

CRITERIA: Mapping[str, Criterion] = {
    "bedroom": Criterion(
        "bedroom ashore at night",
        30.0,
        "WHO, Guidelines for Community Noise (1999), table 4.1: a guideline value, LAeq over 8 h",
        "published",
    ),
    "dwelling": Criterion(
        "room ashore, day and evening",
        35.0,
        "WHO, Guidelines for Community Noise (1999), table 4.1: a guideline value, LAeq over 16 h",
        "published",
    ),
    "yacht_cabin": Criterion(
        "yacht cabin, best comfort class",
        53.0,
        "Lloyd's Register, Special Service Craft rules, part 3, ch. 6, table 6.2.2",
        "published",
    ),
    "yacht_lounge": Criterion(
        "yacht lounge, best comfort class",
        55.0,
        "Lloyd's Register, Special Service Craft rules, part 3, ch. 6, table 6.2.2",
        "published",
    ),
    "talk": Criterion(
        "easy talk over 1 to 4 m", 55.0, "required voice level, public handbook page", "published"
    ),
    "ship_cabin": Criterion("ship's cabin", 60.0, _IMO, "published"),
    "ship_mess": Criterion("ship's mess", 65.0, _IMO, "from memory"),
    "hearing": Criterion(
        "hearing at risk over a working day", 85.0, "IMO MSC.337(91), ch. 5", "from memory"
    ),
    "machinery": Criterion(
        "machinery space", 110.0, "UK SI 1998/2514 r. 75 and class rules", "published"
    ),
}
"""Limits, quiet to loud. The IMO Code binds ships of 1600 GT and more; a yacht may choose it. The
WHO's values are advice on the lowest levels that disturb sleep and speech, no limits in law."""

SPEECH_OVER_NOISE = 15.0
"""How far [dB(A)] speech must stand above a noise for every word of a difficult text, a film's for
one. Source: WHO, Guidelines for Community Noise (1999), § 4.2.1."""
