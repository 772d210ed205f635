"""The headline, tables and notes."""

from __future__ import annotations

from collections.abc import Sequence

from ...frame.report import Line, Pair, Report, Words, line
from ...physics import sound as acoustics
from ...physics import speech
from ...sheet.standing import SOURCES
from ...system import sound
from ...system.borne import octave_of
from ...system.shaker import Unit
from .asks import Asks
from .remedies import Tried

BANDS = ("63", "125", "250", "500", "1000", "2000", "4000", "8000")

# ---- headline ----

_AT_SEAT = {
    ("same", True): "At the seat, {at} from the locker, it is {l}.",
    ("same", False): "At the seat, {at} from the unit, it is {l}.",
    "shut": "At the seat in the next cabin, door shut, it is {l}.",
    "open": "At the seat in the next cabin, door open, it is {l}.",
}
_IN_BERTH = {
    ("same", True): "In the berth, {at} from the locker in the same cabin, it is {l}.",
    ("same", False): "In the berth, {at} from the unit in the same cabin, it is {l}.",
    "shut": "In the berth in the next cabin, door shut, it is {l}.",
    "open": "In the berth in the next cabin, door open, it is {l}.",
}
TALK = {
    "easy": "You can talk easily.",
    "normal": "You can talk in a normal voice.",
    "raised": "You must raise your voice.",
    "very loud": "You must speak very loudly.",
    "shouting": "You must shout.",
}


def headline(found: sound.Sounds, wish: sound.Wish, held: sound.Judged, show: Report) -> None:
    path = found.path
    ear, at = found.ear(wish), path.berth if wish.asleep else path.seat
    where = ("same", path.locker is not None) if at.where == "same" else at.where
    show.headline(
        (_IN_BERTH if wish.asleep else _AT_SEAT)[where],
        at=(at.distance, "m"),
        l=(round(ear.total_a), "dB(A)"),
    )
    show.headline(_like(found, wish, held))
    if ear.floor_a - found.borne.below < ear.air_a < ear.floor_a + found.borne.above:
        show.headline("About as much comes through the air as through the floor: work on both.")
    elif ear.air_a <= ear.floor_a:
        show.headline("Most of it comes through the floor: mounts and floor decide.")
    elif path.locker:
        show.headline("Most of it comes through the air: walls, gaps and lining decide.")
    else:
        show.headline("Most of it comes through the air, and nothing stands in its way.")


def _like(found: sound.Sounds, wish: sound.Wish, held: sound.Judged) -> str:
    """What the level is to what one wants to do."""
    if wish.doing == "talk":
        interference = speech.speech_interference(found.seat.together)
        return TALK[sound.voice_wanted(found.seat.total_a, interference, wish.talk)]
    return for_film(held.film) if wish.doing == "film" else for_sleep(held.berth)


def for_film(over: float) -> str:
    """What a film is like whose voices stand `over` [dB] the noise."""
    if over >= speech.SPEECH_OVER_NOISE:
        return "You understand every word of the film."
    if over >= 0:
        return "You can follow the film, but you miss words."
    return "The noise covers the film's voices."


def for_sleep(level: float) -> str:
    """What a level [dB(A)] is to a sleeper, by the published values."""
    limits = speech.CRITERIA
    if level <= limits["bedroom"].limit:
        return "That is as quiet as the WHO advises for a bedroom at night."
    if level <= limits["yacht_cabin"].limit:
        return (
            "That is louder than the WHO advises for a bedroom, and within the best class of yacht "
            "cabin."
        )
    if level <= limits["ship_cabin"].limit:
        return (
            "That is louder than the best class of yacht cabin, and within what a ship's cabin may "
            "be."
        )
    return "That is louder than a ship's cabin may be."


# ---- tables ----


def measures(done: Sequence[Tried], wish: sound.Wish, show: Report) -> None:
    """What helps most, ranked by what it takes off at the ear that decides."""
    show.table(
        "measures",
        "What helps most on this boat",
        (
            "Do this alone",
            "At the seat",
            "In the berth",
            "Then in the berth" if wish.asleep else "Then at the seat",
        ),
        [
            (
                one.measure.words,
                _less(one.seat),
                _less(one.berth),
                (round(one.found.ear(wish).total_a), "dB(A)"),
            )
            for one in done
        ],
        note="3 dB less is just noticed, 10 dB less sounds half as loud. What matters least now "
        "may matter most once the first is done: change the form and look again.",
    )


def _less(value: float) -> Line:
    """What a measure takes off: some make it louder."""
    value = round(value, 1)
    if not value:
        return line("no change")
    return line("{d} less" if value > 0 else "{d} more", d=(abs(value), "dB"))


def octaves(found: sound.Sounds, show: Report) -> None:
    rows: list[tuple[Words, sound.Spectrum]] = [("It makes (power)", found.power)]
    if found.path.locker:
        rows.append(("leaves the locker (power)", found.escaped))
    rows += [
        ("the floor makes (power)", found.borne.levels),
        ("at the seat, by air", found.seat.air),
        ("at the seat, by the floor", found.seat.floor),
        ("at the seat", found.seat.together),
        ("in the berth", found.berth.together),
    ]
    show.table(
        "octaves",
        "From the pump to your ear, by octave",
        ("Octave (Hz)", *BANDS, "dB(A)"),
        [
            [name, *map(_level, levels), _level(acoustics.a_weighted(levels))]
            for name, levels in rows
        ],
        note="dB, power re 1 pW, levels re 20 µPa. Below 200 Hz a cabin is too small for "
        "the formula: ±5 dB from place to place.",
    )


def _level(level: float) -> Pair | str:
    return "–" if level < -20 else (round(level), "")


def criteria(held: sound.Judged, show: Report) -> None:
    show.table(
        "criteria",
        "Against what others allow",
        ("Space", "At most", "Seat", "Berth", "From"),
        [
            (
                c.space,
                (c.limit, "dB(A)"),
                "within" if held.seat <= c.limit else "louder",
                "within" if held.berth <= c.limit else "louder",
                line("{source} ({standing})", source=c.source, standing=c.standing),
            )
            for c in sorted(speech.CRITERIA.values(), key=lambda c: c.limit)
        ],
        note="The WHO's values are published advice for homes, no limits in law. The ships' code "
        "binds ships of 1600 GT and more; a yacht may choose it.",
    )


def sources(unit: Unit, show: Report) -> None:
    """What of the shaking lies in an octave, and so counts, and what does not."""
    show.table(
        "sources",
        "What of its shaking is heard",
        ("What shakes", "At", "Through the floor"),
        [
            (
                SOURCES[source.key],
                (source.frequency, "Hz"),
                "felt, not counted" if octave_of(source.frequency) is None else "counted",
            )
            for source in unit.sources
        ],
        note="Higher harmonics and the pulses of the water along pipes come on top. Clamp pipes in "
        "rubber, and never to the panel you sleep against.",
    )


# ---- notes ----


def remarks(q: Asks, found: sound.Sounds, wish: sound.Wish, show: Report) -> None:
    path = found.path
    if q.known == "estimate":
        show.note(
            "The pump's own noise is estimated here to ±{off} or worse. Hold a phone with a sound "
            "meter {away} from the bare unit, read dB(A), and choose “a level”.",
            away=(1.0, "m"),
            off=(acoustics.ESTIMATE_UNCERTAINTY, "dB"),
        )
    if (path.berth if wish.asleep else path.seat).where != "same":
        show.note(
            "Behind a bulkhead only what comes through it and its door is counted. A hum that runs "
            "on through hull and joinery may be louder there."
        )
    if path.locker:
        show.note(
            "What a lining swallows was measured on bare foam and fibre. Behind a face as thin as "
            "cling film they swallow a little less above 2000 Hz, behind a stiff one much less."
        )
        show.note(
            "Seal gaps, but leave the cooling its openings: give the air its way through a lined "
            "bend, and see the page “Keeping it cool”."
        )
