"""Can we talk, watch a film or sleep beside it while it makes water?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from ..equipment.choices import CORED_FLOORS
from ..frame.cautions import rules
from ..frame.guide import decides
from ..frame.inputs import (
    Inputs,
    Quantity,
    Refusal,
    Values,
    ask,
    but,
    choice,
    is_one_of,
    rows,
    text,
)
from ..frame.report import (
    FAILS,
    UNKNOWN,
    VERDICT_WORDS,
    Axis,
    Chart,
    Drawing,
    Figure,
    Line,
    Mark,
    Pair,
    Report,
    Series,
    Shape,
    amount,
    least,
    line,
    most,
)
from ..frame.units import trim
from ..models import mounting
from ..models import vibration_path as path
from ..models.sound_path import (
    BANDS,
    LININGS,
    SOFT_LININGS,
    WALL_NAMES,
    WALLS,
    Heard,
    Sounds,
    Spectrum,
    cabin_absorption,
    cabin_surface,
    check_locker,
    face_area,
    in_locker,
    octave_of,
    power_a,
    sounds,
)
from ..physics import sound
from ..sheet import BoatSheet as boat

TITLE = "Quiet running"


DECIDES = decides(
    "unit",
    "stands",
    "known",
    "level",
    "wall",
    "lining",
    "seat",
    "mount_by",
    "mount_stiffness",
    "mount_deflection",
    "floor_material",
    "floor_thickness",
    "skin_thickness",
    "core_thickness",
    "floor_length",
    "floor_width",
    "locker_length",
    "locker_width",
    "locker_height",
)

CAUTIONS = rules("mains", "hearing", "lining", "hot-motor")


LOUD, LID, CABIN = "How loud it is", "The locker's walls and gaps", "The cabin"
PLACES = "Other places"
PRACTICE = "common practice, no source"

KNOWN = {
    "estimate": "nothing: estimate it from the motor's power",
    "level": "a level in dB(A), measured at a distance",
    "power": "its sound power in dB(A)",
    "bands": "octave bands, measured at a distance",
}
FURNISHED = {
    "soft": "cushions, curtains, carpet",
    "some": "some cushions",
    "hard": "bare wood and laminate",
}
DOINGS = {"talk": "talk", "film": "watch a film", "sleep": "sleep"}
SLEEPS = {
    "same": "in the same cabin",
    "shut": "in the next cabin, door shut",
    "open": "in the next cabin, door open",
}
AIMS = {
    key: f"{made.space}, {made.limit:g} dB(A)"
    for key, made in sound.CRITERIA.items()
    if key not in ("machinery", "hearing")
}
AS_WANTED = {"doing": "as talk or film need it"}
"""At the seat a voice's reach, or a film's voices over the noise, judge by themselves."""
OPEN_PLACE = {"open": "nothing: it stands open in the cabin"}
BARRIER = 5.0
"""Limp barrier that a measure adds [kg/m²]."""
USUAL_SHARE = 0.6
"""Share of a locker's inside that can be lined clear of the unit: common practice, no source."""
HOUSE_GAPS, HOUSE_VENTS = 0.002, 0.012
"""Gaps and vents [m²] of a locker that is told of to house a unit: common practice, no source."""
MOST_TOGETHER = 4
"""So many measures are told of together at most."""
LINE_WITH = {
    "foam25": (0.025, "fire-retardant open-cell marine foam, thinly faced"),
    "fibre50": (0.050, "mineral fibre, thinly faced"),
}
"""Thickness [m] and words of the linings that are told."""
IN_LOCKER = is_one_of("stands", "locker")
LINED = " Keep it clear of the motor and its air inlet; see “Keeping it cool” first."
MOST_BARRIER = 20.0
"""More barrier than this [kg/m²] nobody hangs on a lid: common practice, no source."""
LOUDEST_FILM = 80.0
"""A film is not advised to be louder than this [dB(A)] at the ear: common practice, no source."""
SOFTER = (2.0, 1.7, 1.4)
"""How many times farther the mounts that are tried give, the softest first."""
GIVES = (0.002, 0.003, 0.004)
"""How far [m] mounts that are tried in place of none give, the hardest first."""
THICKEST = {
    "plywood": 0.036, "grp_csm": 0.024, "grp_woven": 0.024, "steel": 0.010, "aluminium": 0.016,
    "softwood": 0.045, "hardwood": 0.045,
}  # fmt: skip
"""Thickest panel [m] that a builder would make of a floor; so below: common practice, no source."""
THICKEST_CORE, DEEPEST_BEARER = 0.050, 0.150
DOUBLED = 6.0
"""What sound loses over twice the distance [dB]."""
OPEN_METRE = 10 * math.log10(2 / (4 * math.pi))
"""Level at 1 m on a surface in the open below the sound power level [dB]."""


class Place(Inputs):
    what = text("Place", "bilge", optional=False)
    sits = choice("You sit", SLEEPS)
    seat = ask("From it to your ear, seated", "2 m", at_least="0.3 m", at_most="15 m")
    sleeps = choice("The berth is", SLEEPS, "shut")
    berth = ask("From it to your ear in the berth", "2.5 m", at_least="0.3 m", at_most="20 m")
    wall = choice("What closes it off", WALL_NAMES | OPEN_PLACE, "ply12")
    floor_thickness = ask(
        "Its floor's thickness, if solid", "18 mm", at_least="0.5 mm", at_most="500 mm"
    )
    floor_length = ask("Floor's free length", "600 mm", at_least="20 mm", at_most="5 m")
    floor_width = ask("Floor's free width", "400 mm", at_least="20 mm", at_most="5 m")


class Asks(path.PathInputs):
    doing = choice("While it runs you want to", DOINGS, group=CABIN, open=True)
    known = choice("What you know of its noise", KNOWN, group=LOUD, open=True)
    level = ask(
        "Level",
        "66 dB(A)",
        group=LOUD,
        open=True,
        at_least="20 dB(A)",
        at_most="120 dB(A)",
        when=is_one_of("known", "level", "power"),
    )
    distance = ask(
        "Measured at",
        "1 m",
        group=LOUD,
        at_least="0.2 m",
        at_most="20 m",
        when=is_one_of("known", "level", "bands"),
        help="In the open on the ground, or in a large room; with a phone it is ±5 dB.",
    )
    band_63 = ask(
        "63 Hz",
        "60 dB",
        group=LOUD,
        at_least="0 dB",
        at_most="130 dB",
        when=is_one_of("known", "bands"),
    )
    band_125 = ask(
        "125 Hz",
        "61 dB",
        group=LOUD,
        at_least="0 dB",
        at_most="130 dB",
        when=is_one_of("known", "bands"),
    )
    band_250 = ask(
        "250 Hz",
        "63 dB",
        group=LOUD,
        at_least="0 dB",
        at_most="130 dB",
        when=is_one_of("known", "bands"),
    )
    band_500 = ask(
        "500 Hz",
        "63 dB",
        group=LOUD,
        at_least="0 dB",
        at_most="130 dB",
        when=is_one_of("known", "bands"),
    )
    band_1000 = ask(
        "1000 Hz",
        "66 dB",
        group=LOUD,
        at_least="0 dB",
        at_most="130 dB",
        when=is_one_of("known", "bands"),
    )
    band_2000 = ask(
        "2000 Hz",
        "63 dB",
        group=LOUD,
        at_least="0 dB",
        at_most="130 dB",
        when=is_one_of("known", "bands"),
    )
    band_4000 = ask(
        "4000 Hz",
        "59 dB",
        group=LOUD,
        at_least="0 dB",
        at_most="130 dB",
        when=is_one_of("known", "bands"),
    )
    band_8000 = ask(
        "8000 Hz",
        "53 dB",
        group=LOUD,
        at_least="0 dB",
        at_most="130 dB",
        when=is_one_of("known", "bands"),
    )

    stands = but(boat.stands, group=LID, open=True)
    wall = choice(
        "Locker's front and lid", WALL_NAMES, "ply12", group=LID, open=True, when=IN_LOCKER
    )
    added_mass = ask(
        "Heavy layer added to them",
        "0 kg/m2",
        group=LID,
        at_least="0 kg/m2",
        at_most="50 kg/m2",
        when=IN_LOCKER,
        help="Limp barrier sheet, not foam. A settee's cushion counts for 2 to 3 kg/m².",
    )
    gaps = ask(
        "Gaps round lid and doors",
        "20 cm2",
        group=LID,
        open=True,
        at_least="0 cm2",
        at_most="20000 cm2",
        when=IN_LOCKER,
        help="A slit 2 mm wide and 1 m long is 20 cm².",
    )
    vents = ask(
        "Vents to the cabin",
        "120 cm2",
        group=LID,
        open=True,
        at_least="0 cm2",
        at_most="20000 cm2",
        when=IN_LOCKER,
        help="What lets its air in and out.",
    )
    vent_kind = choice(
        "The vents are",
        {"plain": "plain openings", "bend": "lined ducts with a bend"},
        group=LID,
        when=IN_LOCKER,
    )
    lining = choice("Locker is lined with", LININGS, "foam25", group=LID, open=True, when=IN_LOCKER)
    lined_share = ask(
        "Share of its inside that is lined",
        "19 %",
        group=LID,
        at_least="0 %",
        at_most="100 %",
        when=is_one_of("lining", *SOFT_LININGS),
        help="A long side is about a fifth. What lies close to the motor, or before its air inlet, "
        "stays bare.",
    )

    locker_length = but(boat.locker_length, when=IN_LOCKER)
    locker_width = but(boat.locker_width, when=IN_LOCKER)
    locker_height = but(boat.locker_height, when=IN_LOCKER)

    cabin_length = ask("Cabin's length", "3.2 m", group=CABIN, at_least="1 m", at_most="20 m")
    cabin_width = ask("Cabin's width", "2.8 m", group=CABIN, at_least="1 m", at_most="20 m")
    cabin_height = ask("Headroom", "1.9 m", group=CABIN, at_least="1 m", at_most="5 m")
    furnished = choice("It is furnished with", FURNISHED, "soft", group=CABIN)
    seat = ask(
        "From the unit to your ear, seated",
        "1 m",
        group=CABIN,
        open=True,
        at_least="0.3 m",
        at_most="15 m",
        help="Counts where you sit in the unit's own cabin.",
    )
    sits = choice("You sit", SLEEPS, group=CABIN)
    talk = ask(
        "Talk across",
        "1.2 m",
        group=CABIN,
        at_least="0.3 m",
        at_most="10 m",
        help="From mouth to ear, over the table.",
        when=is_one_of("doing", "talk"),
    )
    film = ask(
        "Voices in the film, at your ear",
        "65 dB(A)",
        group=CABIN,
        at_least="40 dB(A)",
        at_most="90 dB(A)",
        basis=PRACTICE,
        when=is_one_of("doing", "film"),
        help="Measure it with a phone: 60 is played softly, 70 loud.",
    )
    sleeps = choice("The berth is", SLEEPS, "shut", group=CABIN)
    berth = ask(
        "From the unit to your ear in the berth",
        "2.5 m",
        group=CABIN,
        at_least="0.3 m",
        at_most="20 m",
        help="Counts where you sleep in the unit's own cabin.",
    )
    bulkhead = choice("Bulkhead between the cabins", WALL_NAMES, "ply12", group=CABIN)
    seat_aim = choice("At the seat it shall be no louder than", AS_WANTED | AIMS, group=CABIN)
    berth_aim = choice("In the berth no louder than", AIMS, "bedroom", group=CABIN)
    places = rows(
        "Other places for it",
        Place,
        one="place",
        most=4,
        group=PLACES,
        help="Each is reckoned with all else as above, and set beside the place in the form.",
    )


def answer(q: Values, show: Report) -> None:
    check_locker(q)
    found = sounds(q)
    _deciding(q, found, show)
    if show.brief:
        return
    _headline(q, found, show)
    _told(q, found, show)
    _measures(q, found, show)
    _turn_up(q, found, show)
    _places(q, found, show)
    _tables(q, found, show)
    _chart(q, found, show)
    _drawing(q, found, show)
    _working(q, found, show)
    _remarks(q, found, show)


# ---- what it comes to ----


def for_talk(level: float, interference: float, talk: float) -> str:
    """What talk across `talk` [m] is like at a level [dB(A)] and speech interference level [dB]."""
    spare = to_spare(interference, talk)
    if spare >= DOUBLED and level <= sound.CRITERIA["talk"].limit:
        return "one talks easily"
    if spare >= 0:
        return "one talks in a normal voice"
    if to_spare(interference, talk, "raised") >= 0:
        return "one must raise one's voice"
    if to_spare(interference, talk, "very loud") >= 0:
        return "one must speak very loudly"
    return "one must shout"


def to_spare(interference: float, talk: float, voice: sound.Voice = "normal") -> float:
    """What a voice has to spare [dB] across `talk` [m]: to a tenth, more is not known."""
    return round(sound.voice_limit(talk, voice) - interference, 1)


def for_film(over: float) -> str:
    """What a film is like whose voices stand `over` [dB] the noise."""
    if over >= sound.SPEECH_OVER_NOISE:
        return "every word is understood"
    if over >= 0:
        return "one follows it, but words get lost"
    return "its voices are drowned"


def for_sleep(level: float) -> str:
    """What a level [dB(A)] is to a sleeper, by the published values."""
    limits = sound.CRITERIA
    if level <= limits["bedroom"].limit:
        return "as quiet as the WHO advises for a bedroom at night"
    if level <= limits["yacht_cabin"].limit:
        return "louder than the WHO advises for a bedroom, within the best class of yacht cabin"
    if level <= limits["ship_cabin"].limit:
        return "louder than the best class of yacht cabin, within what a ship's cabin may be"
    return "louder than a ship's cabin may be"


Where = tuple[str, dict[str, Pair]]
"""Words for a place, and the amounts in them."""


def _seat(q: Values) -> Where:
    if q.sits != "same":
        return f"At the seat {SLEEPS[q.sits]},", {}
    return f"At the seat, {{at}} from the {_source_of(q)},", {"at": (q.seat, "m")}


def _source_of(q: Values) -> str:
    return "locker" if q.stands == "locker" else "unit"


def _berth(q: Values) -> Where:
    if q.sleeps == "same":
        return (
            f"In the berth, {{at}} from the {_source_of(q)} in the same cabin,",
            {"at": (q.berth, "m")},
        )
    return f"In the berth {SLEEPS[q.sleeps]},", {}


def _like(q: Values, found: Sounds) -> str:
    """What the level is to what one wants to do."""
    if q.doing == "talk":
        return for_talk(found.seat.total_a, sound.speech_interference(found.seat.together), q.talk)
    if q.doing == "film":
        return for_film(_over(q, found))
    return for_sleep(found.berth.total_a)


def _over(q: Values, found: Sounds) -> float:
    """How far a film's voices stand above what is told of the noise [dB]."""
    return float(round(q.film - round(found.seat.total_a, 1), 1))


def _headline(q: Values, found: Sounds, show: Report) -> None:
    ear = _ear(q, found)
    where, at = _berth(q) if q.doing == "sleep" else _seat(q)
    show.headline(
        where + " it is {l}: {like}.", l=(round(ear.total_a), "dB(A)"), like=_like(q, found), **at
    )
    if ear.floor_a - found.below < ear.air_a < ear.floor_a + found.above:
        show.headline("Air and floor bring about as much of it: mend both.")
    elif ear.air_a > ear.floor_a:
        show.headline(
            "Most of it comes through the air: walls, gaps and lining decide."
            if q.stands == "locker"
            else "Most of it comes through the air, and nothing stands in its way."
        )
    else:
        show.headline("Most of it comes through the floor: mounts and floor decide.")


def _ear(q: Values, found: Sounds) -> Heard:
    """The ear that decides."""
    return found.berth if q.doing == "sleep" else found.seat


def _deciding(q: Values, found: Sounds, show: Report) -> None:
    """The figures that decide: what one wants to do does. The other ear stands beside it."""
    _talk_and_film(q, found, show)
    for key, (where, at), ear, aim in (
        ("seat", _seat(q), found.seat, sound.CRITERIA.get(q.seat_aim)),
        ("berth", _berth(q), found.berth, sound.CRITERIA[q.berth_aim]),
    ):
        total, label = round(ear.total_a, 1), "At the seat" if key == "seat" else "In the berth"
        decides = (key == "berth") == (q.doing == "sleep")
        if aim is None:
            show.figure(key, label, total, "dB(A)", decides=decides)
            continue
        show.figure(
            key,
            label,
            total,
            "dB(A)",
            at_most=aim.limit,
            note=aim.space,
            decides=decides,
            says=line(
                where + " it is {l}; the most for a {aim} is {m}",
                aim=aim.space,
                l=(total, "dB(A)"),
                m=(aim.limit, "dB(A)"),
                **at,
            ),
        )


def _told(q: Values, found: Sounds, show: Report) -> None:
    """The figures that are only told."""
    name = "In the berth" if q.doing == "sleep" else "At the seat"
    ear = _ear(q, found)
    show.figure("air", f"{name}, through the air", ear.air_a, "dB(A)")
    low, high = ear.floor_a - found.below, ear.floor_a + found.above
    show.figure(
        "floor",
        f"{name}, through the floor",
        ear.floor_a,
        "dB(A)",
        note=f"an estimate: from {_band(low)} to {_band(high)} dB(A), by where the floor's "
        "notes lie",
    )
    risk = sound.CRITERIA["hearing"]
    if q.stands == "locker":
        show.figure(
            "locker",
            "Inside the locker, lid shut",
            in_locker(found),
            "dB(A)",
            note=f"above {risk.limit:g} dB(A) cover your ears when its lid is open: that "
            f"level harms over a working day, {risk.source} ({risk.standing})",
        )
    show.figure("power", "Its sound power", sound.a_weighted(found.power), "dB(A)")


def _talk_and_film(q: Values, found: Sounds, show: Report) -> None:
    where, at = _seat(q)
    if q.doing == "talk":
        spare = to_spare(sound.speech_interference(found.seat.together), q.talk)
        carries = q.talk * 10 ** (spare / 20)
        # Across the cabin is all that can be told of it, and twice as far as wanted all one needs.
        across = max(math.hypot(q.cabin_length, q.cabin_width), 2 * q.talk)
        told = "carries {c}" if carries < across else "is understood throughout the cabin"
        show.figure(
            "talk",
            "A normal voice carries",
            min(carries, across),
            "m",
            at_least=q.talk,
            by_ear=True,
            note="" if carries < across else "throughout the cabin",
            says=line(
                where + f" a normal voice {told}; {{w}} are wanted",
                c=(carries, "m"),
                w=(q.talk, "m"),
                **at,
            ),
        )
    elif q.doing == "film":
        over = _over(q, found)
        show.figure(
            "film",
            "A film's voices stand above it by",
            over,
            "dB",
            at_least=sound.SPEECH_OVER_NOISE,
            note="15 dB for every word: WHO, Guidelines for Community Noise (1999), § 4.2.1",
            says=line(
                where
                + (
                    " a film's voices lie {o} below it, and {w} above it are wanted"
                    if over < 0
                    else " a film's voices stand {o} above it, and {w} are wanted"
                ),
                o=(abs(over), "dB"),
                w=(sound.SPEECH_OVER_NOISE, "dB"),
                **at,
            ),
        )


# ---- what helps ----


@dataclass(frozen=True)
class Measure:
    """What one measure takes off [dB] at both ears, what is then heard, and what it changes."""

    name: Line
    seat: float
    berth: float
    after: Sounds
    changes: Mapping[str, object]

    @property
    def is_here(self) -> bool:
        """Whether it leaves the unit where it stands."""
        return not self.name.template.startswith("move")

    @property
    def lines(self) -> bool:
        """Whether it puts a lining near the motor."""
        return "lining" in self.changes


def _measures(q: Values, found: Sounds, show: Report) -> None:
    """What helps most, ranked by what it takes off at the ear that decides."""
    done = [
        Measure(
            name,
            found.seat.total_a - after.seat.total_a,
            found.berth.total_a - after.berth.total_a,
            after,
            changes,
        )
        for name, after, changes in _after(q, found)
    ]
    asleep = q.doing == "sleep"

    def less(m: Measure) -> float:
        return round(m.berth if asleep else m.seat, 1)

    done.sort(key=lambda m: (-less(m), -round(m.seat if asleep else m.berth, 1), m.name.template))
    show.table(
        "measures",
        "What helps most on this boat",
        (
            "Do this alone",
            "At the seat",
            "In the berth",
            "Then in the berth" if asleep else "Then at the seat",
        ),
        [
            (m.name, _less(m.seat), _less(m.berth), (round(_ear(q, m.after).total_a), "dB(A)"))
            for m in done
        ],
        note="3 dB is just heard, 10 dB is half as loud. What matters least now may matter most "
        "once the first is done: change the form and look again.",
    )
    here = next((m for m in done if m.is_here), None)
    for told, best in (("Where it stands", here), ("Or", done[0])):
        if best and less(best) >= 1 and (told != "Or" or best is not here):
            _tell(told, best, less(best), q, show)
    if _fails(show.figures) and not (here and _is_enough(q, here.after)):
        _together(q, found, show)
    if asleep and _fails(show.figures):
        show.remedy("Or make water while nobody sleeps: then no level in the berth is asked for.")


def _tell(told: str, best: Measure, less: float, q: Values, show: Report) -> None:
    """One measure as a remedy; with what to fill in where it leaves nothing failing."""
    enough = _is_enough(q, best.after)
    words = ""
    if _fails(show.figures):
        words = " That is enough." if enough else " That alone is not enough."
    show.remedy(
        f"{told}: {best.name.template}: {{d}} less {{where}}."
        + words
        + (LINED if best.lines else ""),
        sets=_settings(best.changes) if enough else None,
        d=most(less, "dB"),
        where=_at(q),
        **best.name.amounts,
    )


def _together(q: Values, found: Sounds, show: Report) -> None:
    """The best measures where it stands, one after the other, until nothing fails."""
    now, at = q, found
    names: list[str] = []
    amounts: dict[str, Any] = {}
    changed: dict[str, object] = {}
    lines = False
    while not _is_enough(q, at) and len(names) < MOST_TOGETHER:
        here = [
            Measure(name, 0.0, 0.0, after, changes)
            for name, after, changes in _after(now, at)
            if changes and not set(changes) <= set(changed)
        ]
        here = [m for m in here if m.is_here]
        best = min(here, key=lambda m: _ear(q, m.after).total_a, default=None)
        if best is None or _ear(q, at).total_a - _ear(q, best.after).total_a < 1:
            break
        now, at = Values(vars(now) | dict(best.changes)), best.after
        changed |= best.changes
        lines = lines or best.lines
        number = len(names)
        names.append(best.name.template.replace("{", f"{{m{number}_"))
        amounts |= {f"m{number}_{name}": told for name, told in best.name.amounts.items()}
    enough = _is_enough(q, at)
    if len(names) < 2:
        if not enough:
            show.remedy("Nothing that is known here is enough where it stands.")
        return
    off = round(_ear(q, found).total_a - _ear(q, at).total_a, 1)
    show.remedy(
        "Together where it stands: "
        + "; ".join(names)
        + ". {d} less {where}."
        + (" That is enough." if enough else " Even that is not enough.")
        + (LINED if lines else ""),
        sets=_settings(changed) if enough else None,
        d=most(off, "dB"),
        where=_at(q),
        **amounts,
    )


def _at(q: Values) -> str:
    return "in the berth" if q.doing == "sleep" else "at the seat"


def _settings(changes: Mapping[str, Any]) -> dict[str, Any]:
    """What to fill in for a measure."""
    found = {}
    for name, value in changes.items():
        asked = Asks.fields[name]
        found[name] = amount(value, asked.unit, 6) if isinstance(asked, Quantity) else value
    return found


def _turn_up(q: Values, found: Sounds, show: Report) -> None:
    """How loud a film must be for every word, where that harms nobody's ears."""
    if q.doing != "film":
        return
    film = least(round(found.seat.total_a, 1) + sound.SPEECH_OVER_NOISE, "dB(A)", 0.1)
    if film.value <= LOUDEST_FILM:
        show.remedy(
            "Every word is understood with the film's voices at {film} at your ear.",
            film=film,
            sets={"film": film},
            mends="film",
        )


def _fails(figures: Iterable[Figure]) -> bool:
    return any(f.state == FAILS for f in figures)


def _is_enough(q: Values, after: Sounds) -> bool:
    """Whether nothing fails of what is then heard."""
    show = Report(TITLE, "")
    _deciding(q, after, show)
    return show.verdict != FAILS


def _after(q: Values, found: Sounds) -> Iterator[tuple[Line, Sounds, dict[str, object]]]:
    """What is heard after each measure, and the inputs that it changes."""
    for name, changes in _changes(q):
        shaken = any(key in PATH_FIELDS for key in changes)
        yield name, sounds(Values(vars(q) | changes), found, shaken), changes


PATH_FIELDS = frozenset(path.PathInputs.fields)


def _less(value: float) -> Line:
    """What a measure takes off, in words: some make it louder."""
    value = round(value, 1)
    if not value:
        return line("no change")
    return line("{d} less" if value > 0 else "{d} more", d=(abs(value), "dB"))


Change = tuple[Line, dict[str, object]]
"""A measure in words, and the inputs that it changes."""


def _changes(q: Values) -> Iterator[Change]:
    """All measures but those already taken."""
    if q.stands == "locker":
        yield from _changes_of_locker(q)
    elif housed := _housed(q):
        yield housed
    farther = _farther(q)
    if farther:
        yield line("move it twice as far from you"), farther
    softer = _softer(q)
    if softer:
        yield softer
    stiffer = _stiffer(q)
    if stiffer:
        yield line("make the floor twice as thick"), stiffer
    where = {"sits": q.sits, "sleeps": q.sleeps}
    if shut := {name: "shut" for name, is_at in where.items() if is_at == "open"}:
        yield line("shut the door"), dict(shut)
    if "same" in where.values():
        apart = {name: "shut" for name, is_at in where.items() if is_at != "shut"}
        yield line("move it behind a bulkhead from you, door shut"), dict(apart)


def _farther(q: Values) -> dict[str, object]:
    """Twice the distance to whom the unit shares a cabin with, where the cabin is as large."""
    ears = [("seat", q.sits), ("berth", q.sleeps)]
    twice = {name: 2 * getattr(q, name) for name, is_at in ears if is_at == "same"}
    across = math.hypot(q.cabin_length, q.cabin_width)
    fits = all(far <= across and _typable(name, far) for name, far in twice.items())
    return dict(twice) if fits else {}


def _typable(name: str, value: float) -> bool:
    """Whether a field takes a value."""
    return all(
        limit.value is None or limit.holds(value, limit.value)
        for limit in Asks.limits.get(name, ())
    )


def _changes_of_locker(q: Values) -> Iterator[Change]:
    if q.added_mass + BARRIER <= MOST_BARRIER:
        yield (
            line("add {barrier} of limp barrier to front and lid", barrier=(BARRIER, "kg/m2")),
            {"added_mass": q.added_mass + BARRIER},
        )
    if q.gaps > 0:
        yield line("seal the gaps round lid and doors"), {"gaps": 0.1 * q.gaps}
    if q.vents > 0 and q.vent_kind == "plain":
        yield line("lead the vents through lined bends"), {"vent_kind": "bend"}
    if q.lining != "fibre50":
        yield _line_it(q)


def _housed(q: Values) -> Change | None:
    """A lined locker round a unit in the open, of the locker's sizes in the form; None where these
    do not hold it."""
    thick, words = LINE_WITH["foam25"]
    changes: dict[str, object] = {
        "stands": "locker",
        "wall": "ply12",
        "added_mass": 0.0,
        "gaps": HOUSE_GAPS,
        "vents": HOUSE_VENTS,
        "vent_kind": "bend",
        "lining": "foam25",
        "lined_share": USUAL_SHARE,
    }
    try:
        check_locker(Values(vars(q) | changes))
    except Refusal:
        return None
    told = line(
        "build a locker of {ply} plywood round it, {l} long, {w} wide and {h} high, {share} of its "
        "inside lined with {thick} of " + words + ", vents of {vents} in all through lined bends",
        ply=(WALLS["ply12"][2], "mm"),
        l=(q.locker_length, "mm"),
        w=(q.locker_width, "mm"),
        h=(q.locker_height, "mm"),
        share=(USUAL_SHARE, "%"),
        thick=(thick, "mm"),
        vents=(HOUSE_VENTS, "cm2"),
    )
    return told, changes


def _line_it(q: Values) -> Change:
    """Foam, on more of it where little is lined; in place of foam, fibre."""
    foamed = q.lining == "foam25" and q.lined_share >= USUAL_SHARE
    better = "fibre50" if foamed else "foam25"
    share = max(q.lined_share, USUAL_SHARE)
    thick, words = LINE_WITH[better]
    return (
        line(
            "line {share} of its inside with {thick} of " + words,
            share=(share, "%"),
            thick=(thick, "mm"),
        ),
        {"lining": better, "lined_share": share},
    )


def _softer(q: Values) -> Change | None:
    """Softer mounts that hold the unit at rest and at sea, as Mount judges them; None if none do.

    Mounts in place of none, or of pads, give 2 mm and more.
    """
    unmounted = q.mount_by in ("hard", "pad")
    now = 0.0 if unmounted else q.unit_mass * path.GRAVITY / path.isolator(q).static
    gives = GIVES if unmounted else [max(now * times, GIVES[0]) for times in SOFTER]
    for give in (round(g, 4) for g in gives):
        rating = mounting.holds_on(q, give) if give > SOFTER[-1] * now else None
        if rating is None:
            continue
        told = (
            "put it on rubber mounts that give {give} under its weight and may carry {rating} each"
            if unmounted
            else "softer mounts, that give {give} under its weight and may carry {rating} each"
        )
        sizes: dict[str, object] = {
            "mount_by": "deflection",
            "mount_deflection": give,
            "mount_rating": rating.value,
        }
        return line(told, give=(give, "mm"), rating=rating), sizes
    return None


def _stiffer(q: Values) -> dict[str, object]:
    """A floor twice as thick, where a builder would make one."""
    if q.floor_form == "bearers":
        deep = trim(2 * q.bearer_depth)
        return {"bearer_depth": deep} if deep <= min(DEEPEST_BEARER, q.floor_length) else {}
    least_side = min(q.floor_length, q.floor_width)
    if q.floor_material in CORED_FLOORS:
        core = trim(2 * q.core_thickness)
        room = least_side - 2 * q.skin_thickness
        return {"core_thickness": core} if core <= min(THICKEST_CORE, room) else {}
    thick = trim(2 * q.floor_thickness)
    room = least_side - q.doubler
    return {"floor_thickness": thick} if thick <= min(THICKEST[q.floor_material], room) else {}


# ---- tables, chart, drawing ----


def _tables(q: Values, found: Sounds, show: Report) -> None:
    heads = ["Octave (Hz)", *BANDS, "dB(A)"]
    rows = [
        ("It makes (power)", found.power),
        ("leaves the locker (power)", found.escaped),
        ("the floor makes (power)", found.borne),
        ("at the seat, by air", found.seat.air),
        ("at the seat, by the floor", found.seat.floor),
        ("at the seat", found.seat.together),
        ("in the berth", found.berth.together),
    ]
    show.table(
        "octaves",
        "From the pump to your ear, by octave",
        heads,
        [
            [name, *(_band(level) for level in levels), _band(sound.a_weighted(levels))]
            for name, levels in rows
        ],
        note="dB, power re 1 pW, levels re 20 µPa. Below 200 Hz a cabin has too few echoes for "
        "the formula: ±5 dB from place to place.",
    )
    spaces = sorted(sound.CRITERIA.values(), key=lambda c: c.limit)
    seat, berth = found.seat.total_a, found.berth.total_a
    show.table(
        "criteria",
        "Against what others allow",
        ("Space", "At most", "Seat", "Berth", "From"),
        [
            (
                c.space,
                (c.limit, "dB(A)"),
                "within" if seat <= c.limit else "louder",
                "within" if berth <= c.limit else "louder",
                f"{c.source} ({c.standing})",
            )
            for c in spaces
        ],
        note="The WHO's values are published advice for homes, no limits in law. The ships' code "
        "binds ships of 1600 GT and more; a yacht may choose it.",
    )


def _places(q: Values, found: Sounds, show: Report) -> None:
    """What is heard from other places for the unit, quietest first, then those that can't be
    reckoned, each with what is wrong."""
    if not q.places:
        return
    at, wrong = [("as in the form", found, _state(q, found))], []
    for place in q.places:
        there = {k: v for k, v in vars(place).items() if k not in ("what", "wall")}
        there |= (
            {"stands": "open"} if place.wall == "open" else {"stands": "locker", "wall": place.wall}
        )
        moved = Values(vars(q) | there)
        try:
            check_locker(moved)
            after = sounds(moved, found)
        except Refusal as refusal:
            wrong.append((place.what, str(refusal)))
            continue
        at.append((place.what, after, _state(moved, after)))
    at.sort(key=lambda row: _ear(q, row[1]).total_a)
    show.table(
        "places",
        f"Where it is quietest to {DOINGS[q.doing]}",
        (
            "Place",
            "At the seat",
            "In the berth",
            "of which by air",
            "by the floor",
            f"To {DOINGS[q.doing]}",
        ),
        [
            (
                name,
                (round(s.seat.total_a), "dB(A)"),
                (round(s.berth.total_a), "dB(A)"),
                (round(_ear(q, s).air_a), "dB(A)"),
                (round(_ear(q, s).floor_a), "dB(A)"),
                VERDICT_WORDS[state],
            )
            for name, s, state in at
        ]
        + [(name, "wrong values", "–", "–", "–", why) for name, why in wrong],
        [*[state for _, _, state in at], *[UNKNOWN] * len(wrong)],
        note="Differences of less than 3 dB tell nothing.",
        lead=True,
    )


def _state(q: Values, found: Sounds) -> str:
    """The verdict on what is heard."""
    show = Report(TITLE, "")
    _deciding(q, found, show)
    return show.verdict


def _band(level: float) -> str:
    return "–" if level < -20 else f"{level:.0f}".replace("-", "−")


def _chart(q: Values, found: Sounds, show: Report) -> None:
    def weighted(levels: Spectrum) -> list[tuple[float, float]]:
        return [
            (f, level + w)
            for f, level, w in zip(sound.OCTAVES, levels, sound.A_WEIGHTS, strict=True)
            if level + w > 0
        ]

    ear, asleep = _ear(q, found), q.doing == "sleep"
    place, aim = ("berth", q.berth_aim) if asleep else ("seat", q.seat_aim)
    limits = [Mark("limit, in all", sound.CRITERIA[aim].limit)] if aim in sound.CRITERIA else []
    octaves = sound.OCTAVES
    show.chart(
        Chart(
            "octaves",
            f"What reaches the {place}, A-weighted",
            Axis("Octave", "Hz", octaves[0], octaves[-1], log=True, ticks=octaves),
            Axis("Level", "dB(A)", 0.0),
            [
                Series("by air", weighted(ear.air)),
                Series("by the floor", weighted(ear.floor), at_peak=True),
                Series("bare, at 1 m", weighted(tuple(p + OPEN_METRE for p in found.power))),
            ],
            limits=limits,
            summary="A-weighted octave levels: the bare unit at one metre in the open, and what "
            f"reaches the {place} through the air and through the floor.",
        )
    )


def _drawing(q: Values, found: Sounds, show: Report) -> None:
    """The cabin in section, to scale: locker, ear and both ways of the sound."""
    length, height = q.cabin_length, q.cabin_height
    housed = q.stands == "locker"
    wide, high = (q.locker_width, q.locker_height) if housed else (q.unit_width, q.unit_height)
    depth, top = min(wide, length), min(high, height)
    asleep = q.doing == "sleep"
    next_door = (q.sleeps if asleep else q.sits) != "same"
    end = 2 * length if next_door else length
    away = (
        1.4 * length
        if next_door
        else min(depth / 2 + (q.berth if asleep else q.seat), length - 0.05)
    )
    ear = (away, min(0.7 if asleep else 1.1, height))
    heard, place = _ear(q, found), "in the berth" if asleep else "at the seat"
    shapes = [
        Shape("rect", [(0, 0), (end, height)]),
        Shape("rect", [(0, 0), (depth, top)]),
        Shape("rect", [(0, -0.08), (end, 0)], style="hatch"),
        Shape("circle", [ear], radius=0.11),
        Shape("arrow", [(depth, top), (ear[0] - 0.14, ear[1] - 0.02)], style="accent"),
        Shape("arrow", [(depth / 2, -0.04), (ear[0], -0.04), (ear[0], ear[1] - 0.4)], style="fine"),
        Shape("text", [(ear[0], ear[1] + 0.22)],
              line("{l} " + place, l=(round(heard.total_a), "dB(A)"))),
        Shape("text", [(depth + 0.3 * (ear[0] - depth), top + 0.5 * (height - top))],
              line("air {l}", l=(round(heard.air_a), "dB(A)"))),
        Shape("text", [(ear[0] + (-0.06 if ear[0] > 0.6 * end else 0.06), 0.3 * ear[1])],
              line("floor {l}", l=(round(heard.floor_a), "dB(A)")),
              anchor="end" if ear[0] > 0.6 * end else "start"),
        Shape("dimension", [(0, 0), (length, 0)], line("{l}", l=(length, "m")), offset=-34),
        Shape("dimension", [(0, height), (0, 0)], line("{h}", h=(height, "m")), offset=-20),
    ]  # fmt: skip
    if housed:
        inside = [(0.15 * depth, 0.05), (0.85 * depth, min(0.3, 0.8 * top))]
        shapes.append(Shape("rect", inside, style="fine"))
    if next_door:
        shapes.append(Shape("line", [(length, 0), (length, height)]))
    show.drawing(
        Drawing(
            "cabin",
            "The cabin in section, with both ways of the sound",
            "A section of the cabin to scale: "
            + ("the locker with the unit" if housed else "the unit")
            + " at the left, your head "
            + place
            + (", behind a bulkhead" if next_door else "")
            + ", one arrow through the air and one through the floor.",
            shapes,
        )
    )


# ---- working ----


def _working(q: Values, found: Sounds, show: Report) -> None:
    _source_step(q, show)
    band = 4
    if q.stands == "locker":
        _locker_steps(q, found, band, show)
    alpha, surface = cabin_absorption(q.furnished)[band], cabin_surface(q)
    show.step(
        "At the seat at 1000 Hz, by air",
        found.seat.air[band],
        "dB",
        "L = L_out + 10 * log10(2 / (4 * pi * r**2) + 4 * (1 - alpha) / (S * alpha))",
        {
            "L_out": (found.escaped[band], "dB"),
            "r": (q.seat, "m"),
            "alpha": (alpha, "%"),
            "S": (surface, "m2"),
        },
        "ASHRAE Handbook, HVAC Applications (2019), ch. 49",
    )
    show.step(
        "At the seat in all",
        found.seat.total_a,
        "dB(A)",
        "L = 10 * log10(10**(L_air / 10) + 10**(L_floor / 10))",
        {"L_air": (found.seat.air_a, "dB(A)"), "L_floor": (found.seat.floor_a, "dB(A)")},
        "R. F. Barron, Industrial Noise Control and Acoustics, eq. 2-43, p. 31",
    )
    psil = sound.speech_interference(found.seat.together)
    if q.doing == "talk":
        show.step(
            "A normal voice has to spare where you talk",
            sound.voice_limit(q.talk) - psil,
            "dB",
            "G = 60 - 20 * log10(r / 0.9144) - PSIL",
            {"r": (q.talk, "m"), "PSIL": (psil, "dB")},
            "required voice level by distance, public handbook table",
            "PSIL: mean of the octaves 500, 1000 and 2000 Hz. It carries 10^(G/20) times as far as "
            "that.",
        )
    _floor_steps(q, show)


def _locker_steps(q: Values, found: Sounds, band: int, show: Report) -> None:
    """What its walls and gaps let out in an octave."""
    passing, absorbed = found.through[band], found.absorbed[band]
    faces = face_area(q)
    opening = min(q.gaps + q.vents, faces)
    if opening > 0:
        show.step(
            "No wall with these openings stops more than",
            sound.open_area_ceiling(opening / faces),
            "dB",
            "TL_max = -10 * log10(S_open / S)",
            {"S_open": (opening, "cm2"), "S": (faces, "m2")},
            "D. A. Bies, C. H. Hansen, Engineering Noise Control, p. 204",
        )
    show.step(
        "Leaves the locker at 1000 Hz",
        found.escaped[band],
        "dB",
        "L_out = L_w + 10 * log10(T / (A + T))",
        {"L_w": (found.power[band], "dB"), "T": (passing, "cm2"), "A": (absorbed, "m2")},
        "diffuse-field balance, H. Kuttruff, Room Acoustics, ch. 5",
        "T: openings, and walls by their transmission; A: absorption inside.",
    )


def _source_step(q: Values, show: Report) -> None:
    if q.known == "estimate":
        level = sound.pump_level(q.unit.motor.rated_power, q.motor_speed)
        show.step(
            "Estimated sound power",
            power_a(q),
            "dB(A)",
            "L_w = L - 10 * log10(2 / (4 * pi * r**2))",
            {"L": (level, "dB(A)"), "r": (sound.PUMP_DISTANCE, "m")},
            "US Army TM 5-805-4 / AFJMAN 32-1090 (1995), tables C-11 and C-12",
            "Level at 3 ft by motor power and speed: data of centrifugal pumps, an order of "
            "magnitude for a plunger pump. A measured level is better.",
        )
    elif q.known == "level":
        show.step(
            "Sound power",
            power_a(q),
            "dB(A)",
            "L_w = L - 10 * log10(2 / (4 * pi * r**2))",
            {"L": (q.level, "dB(A)"), "r": (q.distance, "m")},
            "ASHRAE Handbook, HVAC Applications (2019), ch. 49, on a surface in the open",
        )


def _floor_steps(q: Values, show: Report) -> None:
    """The strongest source through the mounts, and what the floor makes of it."""
    iso = path.isolator(q)
    floor = path.floor(q, iso.places)
    part = max(path.structure_borne(q, iso, floor), key=_weighed)
    if not _weighed(part):
        return
    f = part.source.frequency
    moves = floor.as_told(f).squared
    show.step(
        f"Floor's mean square velocity by the {part.source.name}, notes as worked out",
        part.force**2 * moves * 1e6,
        "",
        "v2 = 1e6 * F**2 * Y**2",
        {"F": (part.force, "N"), "Y": (math.sqrt(moves), "mm/(s N)")},
        "L. Cremer, M. Heckl, E. E. Ungar, Structure-Borne Sound, ch. IV; force: common practice, "
        "no source",
        f"In mm²/s². Load: {part.source.how}, through the six motions on the mounts. Y: what one "
        "newton at the feet moves the floor by, in the mean over it: the sum of its modes while "
        f"they are few, of an endless floor above {floor.few_below:.0f} Hz.",
    )


def _weighed(part: path.StructureBorne) -> float:
    """What the ear makes of a part: nothing of one below the octaves that are counted."""
    f = part.source.frequency
    heard = octave_of(f) is not None
    return part.power * 10 ** (sound.a_weighting(f) / 10) if heard else 0.0


def _remarks(q: Values, found: Sounds, show: Report) -> None:
    if q.known == "estimate":
        show.note(
            "The pump's own noise is estimated here to ±{off} or worse. Hold a phone with a sound "
            "meter {away} from the bare unit, read dB(A), and choose “a level”.",
            away=(1.0, "m"),
            off=(sound.ESTIMATE_UNCERTAINTY, "dB"),
        )
    _floor_note(q, show)
    if (q.sleeps if q.doing == "sleep" else q.sits) != "same":
        show.note(
            "Behind a bulkhead only what comes through it and its door is counted. A hum that runs "
            "on through hull and joinery may be louder there."
        )
    if q.stands == "locker":
        show.note(
            "What a lining swallows was measured on bare foam and fibre. A face as thin as cling "
            "film takes a little off above 2000 Hz, a stiff one much."
        )
        show.note(
            "Seal gaps, but leave the cooling its openings: give the air its way through a lined "
            "bend, and see the page “Keeping it cool”."
        )


def _floor_note(q: Values, show: Report) -> None:
    """Which of the sources lie in an octave, and so count, and which do not."""
    counted: list[str] = []
    left_out: list[str] = []
    amounts: dict[str, Pair] = {}
    for index, source in enumerate(path.sources(q)):
        amounts[f"f{index}"] = (source.frequency, "Hz")
        told = f"{source.name}, {{f{index}}}"
        (left_out if octave_of(source.frequency) is None else counted).append(told)
    words = "The floor's part counts " + ("; ".join(counted) or "nothing")
    if left_out:
        words += ". It leaves out what lies outside the octaves: " + "; ".join(left_out)
    show.note(
        words + ". Higher harmonics and the pulses of the water along pipes come on top. Clamp "
        "pipes in rubber, and never to the panel you sleep against.",
        **amounts,
    )
