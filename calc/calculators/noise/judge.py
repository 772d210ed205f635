"""What is heard against what is wanted, as figures. What one wants to do decides."""

from __future__ import annotations

from ...frame.report import FAILS, FITS, TIGHT, TIGHT_DECIBELS, Report, line
from ...physics import sound as acoustics
from ...physics import speech
from ...system import sound
from .asks import Asks

FILM_NOTE = "15 dB for every word: WHO, Guidelines for Community Noise (1999), § 4.2.1"


def figures(q: Asks, found: sound.Sounds, held: sound.Judged, show: Report) -> None:
    """The figures that decide. The other ear stands beside it."""
    if q.doing == "talk":
        _talk(q, held, show)
    elif q.doing == "film":
        _film(held, show)
    asleep = q.doing == "sleep"
    _ear("seat", held.seat, speech.CRITERIA.get(q.seat_aim), not asleep, show)
    _ear("berth", held.berth, speech.CRITERIA[q.berth_aim], asleep, show)
    _ways(q, found, show)


def state(held: sound.Judged) -> str:
    """The verdict that the figures will have."""
    if not held.holds:
        return FAILS
    return TIGHT if held.left < TIGHT_DECIBELS else FITS


_LABELS = {"seat": "At the seat", "berth": "In the berth"}
_SAYS = {
    "seat": "at the seat it is {l}, and at most {m} is wanted ({aim})",
    "berth": "in the berth it is {l}, and at most {m} is wanted ({aim})",
}


def _ear(key: str, level: float, aim: speech.Criterion | None, decides: bool, show: Report) -> None:
    if aim is None:
        show.figure(key, _LABELS[key], level, "dB(A)", decides=decides)
        return
    show.figure(
        key,
        _LABELS[key],
        level,
        "dB(A)",
        at_most=aim.limit,
        note=aim.space,
        decides=decides,
        says=line(_SAYS[key], aim=aim.space, l=(level, "dB(A)"), m=(aim.limit, "dB(A)")),
    )


def _talk(q: Asks, held: sound.Judged, show: Report) -> None:
    carries = sound.carries(held.talk, q.talk)
    # Across the cabin is all that can be told of it, and twice as far as wanted all one needs.
    across = max(q.cabin().room.across, 2 * q.talk)
    far = carries >= across
    show.figure(
        "talk",
        "A normal voice carries",
        min(carries, across),
        "m",
        at_least=q.talk,
        by_ear=True,
        note="throughout the cabin" if far else "",
        says=line(
            "at the seat a normal voice is understood throughout the cabin; {w} are wanted"
            if far
            else "at the seat a normal voice carries {c}; {w} are wanted",
            c=(carries, "m"),
            w=(q.talk, "m"),
        ),
    )


def _film(held: sound.Judged, show: Report) -> None:
    show.figure(
        "film",
        "A film's voices stand above the noise by",
        held.film,
        "dB",
        at_least=speech.SPEECH_OVER_NOISE,
        note=FILM_NOTE,
        says=line(
            "at the seat a film's voices lie {o} below the noise; they should stand {w} above it"
            if held.film < 0
            else "at the seat a film's voices stand {o} above the noise, and {w} are wanted",
            o=(abs(held.film), "dB"),
            w=(speech.SPEECH_OVER_NOISE, "dB"),
        ),
    )


# ---- what is only told ----

_AIR = {False: "At the seat, through the air", True: "In the berth, through the air"}
_FLOOR = {False: "At the seat, through the floor", True: "In the berth, through the floor"}


def heard_of(level: float) -> float:
    """A level as it is told: below 0 dB(A) nobody hears anything."""
    return max(level, 0.0)


def _ways(q: Asks, found: sound.Sounds, show: Report) -> None:
    """Both ways of the sound to the ear that decides, level in the locker, sound power."""
    wish = q.wish()
    ear = found.ear(wish)
    show.figure("air", _AIR[wish.asleep], heard_of(ear.air_a), "dB(A)")
    low, high = ear.floor_a - found.borne.below, ear.floor_a + found.borne.above
    show.figure(
        "floor",
        _FLOOR[wish.asleep],
        heard_of(ear.floor_a),
        "dB(A)",
        note=line(
            "an estimate: from {low} to {high}, by where the floor's notes lie",
            low=(round(heard_of(low)), "dB(A)"),
            high=(round(high), "dB(A)"),
        )
        if high >= 1
        else "an estimate: too little to be heard",
    )
    risk = speech.CRITERIA["hearing"]
    if found.path.locker:
        show.figure(
            "locker",
            "Inside the locker, lid shut",
            found.path.locker.inside(found.power),
            "dB(A)",
            note=line(
                "above {risk} cover your ears when its lid is open: that level harms over a "
                "working day, {source} ({standing})",
                risk=(risk.limit, "dB(A)"),
                source=risk.source,
                standing=risk.standing,
            ),
        )
    show.figure("power", "Its sound power", acoustics.a_weighted(found.power), "dB(A)")
