"""What helps, tried: each measure is heard before it is told."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ...frame.report import Amount, Report, Setting, least, line, most
from ...physics import speech
from ...system import sound
from .measures import Aboard, Measure, measures

LOUDEST_FILM = 80.0
"""A film is not advised to be louder than this [dB(A)] at the ear: common practice, no source."""
MOST_TOGETHER = 4
"""So many measures are told of together at most."""
WORTH = 1.0
"""What takes off less than this [dB] is not told as a remedy."""


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
    over, seat = speech.SPEECH_OVER_NOISE, found.seat.total_a
    loud = round(seat, 1) + over
    if round(loud - seat, 1) < over:  # as the figure is rounded
        loud += 0.1
    film: Amount = least(round(loud, 1), "dB(A)", 0.1)
    if film.value <= LOUDEST_FILM:
        show.remedy(
            "Every word is understood with the film's voices at {film} at your ear.",
            film=film,
            sets={"film": film},
            mends="film",
        )
