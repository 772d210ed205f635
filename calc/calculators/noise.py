"""Can we talk, watch a film or sleep beside it while it makes water?"""

from __future__ import annotations

import math
from dataclasses import dataclass

from .. import vibration_path as path
from ..cautions import caution
from ..equipment.choices import CORED_FLOORS
from ..inputs import Values, ask, choice, is_one_of
from ..physics import sound, structures
from ..report import (
    Axis,
    Chart,
    Drawing,
    Mark,
    Report,
    Series,
    Shape,
    line,
)

TITLE = "Quiet running"

LOUD, LID, CABIN = "How loud it is", "The locker's walls and gaps", "The cabin"
PRACTICE = "common practice, no source"
BANDS = ("63", "125", "250", "500", "1000", "2000", "4000", "8000")

KNOWN = {
    "estimate": "nothing: estimate it from the motor's power",
    "level": "a level in dB(A), measured at a distance",
    "power": "its sound power in dB(A)",
    "bands": "octave bands, measured at a distance",
}
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
FURNISHED = {
    "soft": "cushions, curtains, carpet",
    "some": "some cushions",
    "hard": "bare wood and laminate",
}
SOFT_SHARE = {"soft": 0.35, "some": 0.15, "hard": 0.03}
"""Share of a cabin's surface that is upholstered: common practice, no source."""
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
BULKHEAD_AREA, DOOR_AREA, DOOR_GAP = 3.0, 0.9, 0.008
"""Bulkhead between two cabins, its door and the gap round it [m²]: common practice, no source."""
BARRIER = 5.0
"""Limp barrier that a measure adds [kg/m²]."""
OPEN_METRE = 10 * math.log10(2 / (4 * math.pi))
"""Level at 1 m on a surface in the open below the sound power level [dB]."""


class Asks(path.PathInputs):
    known = choice("What you know of its noise", KNOWN, group=LOUD, open=True)
    level = ask(
        "Level", "66 dB(A)", group=LOUD, open=True, at_least="20 dB(A)", at_most="120 dB(A)",
        when=is_one_of("known", "level", "power"),
    )  # fmt: skip
    distance = ask(
        "Measured at", "1 m", group=LOUD, at_least="0.2 m", at_most="20 m",
        when=is_one_of("known", "level", "bands"),
        help="In the open on the ground, or in a large room; with a phone it is ±5 dB.",
    )  # fmt: skip
    band_63 = ask("63 Hz", "60 dB", group=LOUD, at_least="0 dB", at_most="130 dB",
                  when=is_one_of("known", "bands"))  # fmt: skip
    band_125 = ask("125 Hz", "61 dB", group=LOUD, at_least="0 dB", at_most="130 dB",
                   when=is_one_of("known", "bands"))  # fmt: skip
    band_250 = ask("250 Hz", "63 dB", group=LOUD, at_least="0 dB", at_most="130 dB",
                   when=is_one_of("known", "bands"))  # fmt: skip
    band_500 = ask("500 Hz", "63 dB", group=LOUD, at_least="0 dB", at_most="130 dB",
                   when=is_one_of("known", "bands"))  # fmt: skip
    band_1000 = ask("1000 Hz", "66 dB", group=LOUD, at_least="0 dB", at_most="130 dB",
                    when=is_one_of("known", "bands"))  # fmt: skip
    band_2000 = ask("2000 Hz", "63 dB", group=LOUD, at_least="0 dB", at_most="130 dB",
                    when=is_one_of("known", "bands"))  # fmt: skip
    band_4000 = ask("4000 Hz", "59 dB", group=LOUD, at_least="0 dB", at_most="130 dB",
                    when=is_one_of("known", "bands"))  # fmt: skip
    band_8000 = ask("8000 Hz", "53 dB", group=LOUD, at_least="0 dB", at_most="130 dB",
                    when=is_one_of("known", "bands"))  # fmt: skip

    wall = choice("Locker's front and lid", WALL_NAMES, "ply12", group=LID, open=True)
    added_mass = ask(
        "Heavy layer added to them", "0 kg/m2", group=LID, at_least="0 kg/m2", at_most="50 kg/m2",
        help="Limp barrier sheet, not foam. A settee's cushion counts for 2 to 3 kg/m².",
    )  # fmt: skip
    gaps = ask(
        "Gaps round lid and doors", "20 cm2", group=LID, open=True, at_least="0 cm2",
        at_most="20000 cm2", help="A slit 2 mm wide and 1 m long is 20 cm².",
    )  # fmt: skip
    vents = ask("Vents to the cabin", "60 cm2", group=LID, open=True, at_least="0 cm2",
                at_most="20000 cm2", help="What lets its air in and out.")  # fmt: skip
    vent_kind = choice(
        "The vents are", {"plain": "plain openings", "bend": "lined ducts with a bend"}, group=LID
    )
    lining = choice("Locker is lined with", LININGS, group=LID, open=True)
    lined_share = ask("Share of its inside that is lined", "60 %", group=LID, at_least="0 %",
                      at_most="100 %", when=is_one_of("lining", *SOFT_LININGS))  # fmt: skip

    cabin_length = ask("Cabin's length", "3.2 m", group=CABIN, at_least="1 m", at_most="20 m")
    cabin_width = ask("Cabin's width", "2.8 m", group=CABIN, at_least="1 m", at_most="20 m")
    cabin_height = ask("Headroom", "1.9 m", group=CABIN, at_least="1 m", at_most="5 m")
    furnished = choice("It is furnished with", FURNISHED, "soft", group=CABIN)
    seat = ask("From the locker to your ear, seated", "1 m", group=CABIN, open=True,
               at_least="0.3 m", at_most="15 m")  # fmt: skip
    talk = ask(
        "Talk across", "1.2 m", group=CABIN, at_least="0.3 m", at_most="10 m",
        help="From mouth to ear, over the table.",
    )  # fmt: skip
    sleeps = choice("The berth is", SLEEPS, "shut", group=CABIN)
    berth = ask("From the locker to your ear in the berth", "2.5 m", group=CABIN,
                at_least="0.3 m", at_most="20 m")  # fmt: skip
    bulkhead = choice("Bulkhead between the cabins", WALL_NAMES, "ply12", group=CABIN,
                      when=is_one_of("sleeps", "shut", "open"))  # fmt: skip
    seat_aim = choice("At the seat it shall be no louder than", AIMS, "ship_mess", group=CABIN)
    berth_aim = choice("In the berth no louder than", AIMS, "yacht_cabin", group=CABIN)


Spectrum = tuple[float, ...]


@dataclass(frozen=True)
class Heard:
    """What arrives at one ear: through the air and through the floor, by octave [dB]."""

    air: Spectrum
    floor: Spectrum

    @property
    def together(self) -> Spectrum:
        return tuple(sound.level_sum(pair) for pair in zip(self.air, self.floor, strict=True))

    @property
    def air_a(self) -> float:
        return sound.a_weighted(self.air)

    @property
    def floor_a(self) -> float:
        return sound.a_weighted(self.floor)

    @property
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


def answer(q: Values, show: Report) -> None:
    found = sounds(q)
    _headline(q, found, show)
    _figures(q, found, show)
    _measures(q, found, show)
    _tables(found, show)
    _chart(q, found, show)
    _drawing(q, found, show)
    _working(q, found, show)
    _remarks(q, found, show)


def sounds(q: Values, borne: Spectrum | None = None) -> Sounds:
    """From the unit to both ears. `borne` spares working out the floor's sound again."""
    power = _power(q)
    escaped = tuple(
        sound.escaping_power_level(level, _through(q, i), _absorbed(q, i))
        for i, level in enumerate(power)
    )
    if borne is None:
        borne = _borne(q)
    cabin = _cabin_absorption(q)
    return Sounds(
        power, escaped, borne,
        Heard(_at(q, escaped, q.seat, cabin), _at(q, borne, q.seat, cabin)),
        Heard(_in_berth(q, escaped, cabin), _in_berth(q, borne, cabin)),
    )  # fmt: skip


# ---- the source ----


def _power(q: Values) -> Spectrum:
    """Sound power by octave [dB re 1 pW]."""
    if q.known == "bands":
        levels = [getattr(q, f"band_{band}") for band in BANDS]
        return tuple(sound.power_from_pressure(level, q.distance) for level in levels)
    return sound.spectrum_of(_power_a(q))


def _power_a(q: Values) -> float:
    """A-weighted sound power level [dB(A)], unless octave bands are given."""
    if q.known == "power":
        return float(q.level)
    if q.known == "level":
        return sound.power_from_pressure(q.level, q.distance)
    return sound.power_from_pressure(
        sound.pump_level(q.unit.motor.rated_power, q.motor_speed), sound.PUMP_DISTANCE
    )


# ---- the locker ----


def _wall_loss(key: str, added: float, frequency: float) -> float:
    """Transmission loss [dB] of a wall by its key with a limp layer on it [kg/m²]."""
    _, material, thickness = WALLS[key]
    made = structures.MATERIALS[material]
    section = structures.solid_section(made, thickness)
    critical = sound.critical_frequency(section.mean, section.mass)
    # The layer adds mass, no stiffness; the coincidence frequency rises a little with it.
    critical *= math.sqrt((section.mass + added) / section.mass)
    return sound.wall_loss(section.mass + added, frequency, critical)


def _faces(q: Values) -> float:
    """Area [m²] of front and lid, the faces towards the cabin."""
    return float(q.locker_length * (q.locker_height + q.locker_width))


def _through(q: Values, band: int) -> float:
    """Στ·S [m²] of front, lid, gaps and vents in an octave."""
    f = sound.OCTAVES[band]
    faces = _faces(q)
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


def _absorbed(q: Values, band: int) -> float:
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


def _cabin_surface(q: Values) -> float:
    a, b, c = q.cabin_length, q.cabin_width, q.cabin_height
    return float(2 * (a * b + b * c + a * c))


def _cabin_absorption(q: Values) -> Spectrum:
    """Mean absorption coefficient of the cabin by octave."""
    share = SOFT_SHARE[q.furnished]
    bare, soft = sound.LININGS["bare"].absorption, sound.LININGS["cushions"].absorption
    return tuple(share * s + (1 - share) * b for s, b in zip(soft, bare, strict=True))


def _at(q: Values, power: Spectrum, distance: float, cabin: Spectrum) -> Spectrum:
    """Level by octave [dB] at a distance [m] in the cabin, the locker on its floor (Q = 2)."""
    surface = _cabin_surface(q)
    return tuple(
        sound.room_level(level, distance, sound.room_constant(surface, alpha), 2.0)
        for level, alpha in zip(power, cabin, strict=True)
    )


def _in_berth(q: Values, power: Spectrum, cabin: Spectrum) -> Spectrum:
    """Level by octave [dB] at the berth: here, or behind the bulkhead in a cabin like this one."""
    if q.sleeps == "same":
        return _at(q, power, q.berth, cabin)
    opening = DOOR_AREA if q.sleeps == "open" else DOOR_GAP
    surface = _cabin_surface(q)
    levels = []
    for i, f in enumerate(sound.OCTAVES):
        field = power[i] + 10 * math.log10(4 / sound.room_constant(surface, cabin[i]))
        through = sound.transmission_area(
            [(BULKHEAD_AREA - opening, _wall_loss(q.bulkhead, 0.0, f)), (opening, 0.0)]
        )
        levels.append(sound.room_to_room_level(field, through, surface * cabin[i]))
    return tuple(levels)


# ---- what it comes to ----


def like(level: float) -> str:
    """What a level [dB(A)] is like, by the published limits."""
    if level <= 35:
        return "hardly heard"
    if level <= 45:
        return "a quiet hum: light sleepers notice it"
    if level <= 53:
        return "as quiet as the best class of yacht cabin asks"
    if level <= 55:
        return "one talks easily"
    if level <= 60:
        return "one talks across a table; as loud as a ship's cabin may be"
    if level <= 65:
        return "one talks close by; a film needs turning up"
    if level <= 75:
        return "one raises one's voice"
    return "too loud to stay beside"


def _headline(q: Values, found: Sounds, show: Report) -> None:
    seat, berth = found.seat.total_a, found.berth.total_a
    show.headline(
        "At the seat {s}: {a}. In the berth {b}: {c}.",
        s=(round(seat), "dB(A)"), a=like(seat), b=(round(berth), "dB(A)"), c=like(berth),
    )  # fmt: skip
    air, floor = found.seat.air_a, found.seat.floor_a
    if abs(air - floor) < sound.STRUCTURE_BORNE_UNCERTAINTY:
        show.headline("Air and floor bring about as much of it: mend both.")
    elif air > floor:
        show.headline("What you hear comes through the air: walls, gaps and lining decide.")
    else:
        show.headline("What you hear comes through the floor: mounts and floor decide.")


def _figures(q: Values, found: Sounds, show: Report) -> None:
    seat, berth = found.seat, found.berth
    carries = sound.talking_distance(sound.speech_interference(seat.together))
    show.figure(
        "talk", "A normal voice carries", min(carries, 100.0), "m", at_least=q.talk,
        says=line("beside it a normal voice is understood over {c}, and {w} are wanted",
                  c=(min(carries, 100.0), "m"), w=(q.talk, "m")),
    )  # fmt: skip
    for key, name, ear, aim in (
        ("seat", "At the seat", seat, sound.CRITERIA[q.seat_aim]),
        ("berth", "In the berth", berth, sound.CRITERIA[q.berth_aim]),
    ):
        total = round(ear.total_a, 1)
        show.figure(
            key, name, total, "dB(A)", at_most=aim.limit, note=aim.space,
            says=line(name + " it is {l}; a " + aim.space + " allows {m}",
                      l=(total, "dB(A)"), m=(aim.limit, "dB(A)")),
        )  # fmt: skip
    show.figure("seat_air", "At the seat, through the air", seat.air_a, "dB(A)")
    show.figure(
        "seat_floor",
        "At the seat, through the floor",
        seat.floor_a,
        "dB(A)",
        note="an upper bound, ±6 dB",
    )
    show.figure("locker", "Inside the locker, lid shut", _in_locker(q, found), "dB(A)",
                at_most=sound.CRITERIA["hearing"].limit, decides=False,
                note="85 dB(A) all day harms hearing")  # fmt: skip
    show.figure("power", "Its sound power", sound.a_weighted(found.power), "dB(A)")


def _in_locker(q: Values, found: Sounds) -> float:
    levels = [
        sound.reverberant_level(level, _absorbed(q, i) + _through(q, i))
        for i, level in enumerate(found.power)
    ]
    return sound.a_weighted(levels)


# ---- what helps ----


def _measures(q: Values, found: Sounds, show: Report) -> None:
    """What helps most, ranked by what it takes off at the seat, then in the berth."""
    rows = []
    for name, changes in _changes(q).items():
        shaken = any(key in PATH_FIELDS for key in changes)
        after = sounds(Values(vars(q) | changes), None if shaken else found.borne)
        rows.append(
            (name, found.seat.total_a - after.seat.total_a,
             found.berth.total_a - after.berth.total_a, after.seat.total_a)
        )  # fmt: skip
    behind = _behind(q, found)
    rows.append(
        ("move it behind a bulkhead from you, door shut", found.seat.total_a - behind,
         max(0.0, found.berth.total_a - behind), behind)
    )  # fmt: skip
    rows.sort(key=lambda r: (-round(r[1], 1), -round(r[2], 1), r[0]))
    show.table(
        "measures", "What helps most on this boat",
        ("Do this alone", "Less at the seat", "Less in the berth", "Then at the seat"),
        [(name, _level(a), _level(b), (round(after), "dB(A)")) for name, a, b, after in rows],
        note="3 dB is just heard, 10 dB is half as loud. What matters least now may matter most "
        "once the first is done: change the form and look again.",
    )  # fmt: skip
    here = next(r for r in rows if not r[0].startswith("move"))
    for told, (name, seat, _, _) in (("Where it stands", here), ("Or", rows[0])):
        if seat >= 1 and (told != "Or" or name != here[0]):
            show.remedy("{told}: {what}: {d} less at the seat.", told=told, what=name,
                        d=(round(seat, 1), "dB"))  # fmt: skip


def _behind(q: Values, found: Sounds) -> float:
    """Level [dB(A)] in a cabin like this one behind a bulkhead from the unit, door shut."""
    apart = Values(vars(q) | {"sleeps": "shut", "bulkhead": q.bulkhead or q.wall})
    cabin = _cabin_absorption(q)
    return Heard(
        _in_berth(apart, found.escaped, cabin), _in_berth(apart, found.borne, cabin)
    ).total_a


PATH_FIELDS = frozenset(path.PathInputs.fields)


def _level(value: float) -> tuple[float, str]:
    return round(value, 1) + 0.0, "dB"


def _changes(q: Values) -> dict[str, dict[str, object]]:
    """Measures by name: the inputs that each changes. Those already taken are left out."""
    found: dict[str, dict[str, object]] = {
        f"add {BARRIER:g} kg/m² of limp barrier to front and lid": {
            "added_mass": q.added_mass + BARRIER
        },
        "move it twice as far from you": {"seat": 2 * q.seat, "berth": 2 * q.berth},
    }
    if q.gaps > 0:
        found["seal the gaps round lid and doors"] = {"gaps": 0.1 * q.gaps}
    if q.vents > 0 and q.vent_kind == "plain":
        found["lead the vents through lined bends"] = {"vent_kind": "bend"}
    if q.lining != "fibre50":
        found["line the locker with 25 mm of open foam or more"] = {
            "lining": "foam25" if q.lining in ("bare", "hard", "foam12") else "fibre50",
            "lined_share": 0.8,
        }
    softer = (
        "put it on rubber mounts that give 2 mm under its weight"
        if q.mount_by in ("hard", "pad")
        else "softer mounts, that give twice as much under the weight"
    )
    found[softer] = _softer(q)
    stiffer = _stiffer(q)
    if stiffer:
        found["make the floor twice as thick"] = stiffer
    if q.sleeps == "open":
        found["shut the door"] = {"sleeps": "shut"}
    return found


def _softer(q: Values) -> dict[str, object]:
    """Mounts of half the stiffness; in place of none, ones that give 2 mm."""
    iso = path.isolator(q)
    give = 0.002 if q.mount_by == "hard" else 2 * q.unit_mass * path.GRAVITY / iso.static
    give = max(give, 0.002)
    return {
        "mount_by": "deflection", "mount_deflection": give, "mount_rating": q.unit_mass,
        "dynamic_ratio": 1.3 if q.mount_by in ("hard", "pad") else iso.ratio,
        "side_ratio": 0.5 if q.mount_by in ("hard", "pad") else iso.side / iso.each,
    }  # fmt: skip


def _stiffer(q: Values) -> dict[str, object]:
    if q.floor_form == "bearers":
        return {"bearer_depth": min(2 * q.bearer_depth, q.floor_length)}
    if q.floor_material in CORED_FLOORS:
        core = min(2 * q.core_thickness, min(q.floor_length, q.floor_width) - 2 * q.skin_thickness)
        return {"core_thickness": core} if core > q.core_thickness else {}
    thick = min(2 * q.floor_thickness, min(q.floor_length, q.floor_width) - q.doubler)
    return {"floor_thickness": thick} if thick > q.floor_thickness else {}


# ---- tables, chart, drawing ----


def _tables(found: Sounds, show: Report) -> None:
    heads = ["Octave (Hz)", *BANDS, "dB(A)"]
    rows = [
        ("It makes (power)", found.power), ("leaves the locker (power)", found.escaped),
        ("the floor makes (power)", found.borne), ("at the seat, by air", found.seat.air),
        ("at the seat, by the floor", found.seat.floor), ("at the seat", found.seat.together),
        ("in the berth", found.berth.together),
    ]  # fmt: skip
    show.table(
        "octaves", "From the pump to your ear, by octave",
        heads,
        [[name, *(_band(level) for level in levels), _band(sound.a_weighted(levels))]
         for name, levels in rows],
        note="dB, power re 1 pW, levels re 20 µPa. Below 200 Hz a cabin has too few echoes for "
        "the formula: ±5 dB from place to place.",
    )  # fmt: skip
    spaces = sorted(sound.CRITERIA.values(), key=lambda c: c.limit)
    seat, berth = found.seat.total_a, found.berth.total_a
    show.table(
        "criteria", "Against what others allow",
        ("Space", "Limit", "Seat", "Berth", "From"),
        [(c.space, (c.limit, "dB(A)"), "within" if seat <= c.limit else "louder",
          "within" if berth <= c.limit else "louder", f"{c.source} ({c.standing})")
         for c in spaces],
        note="The ships' code binds ships of 1600 GT and more; a yacht may choose it.",
    )  # fmt: skip


def _band(level: float) -> str:
    return "–" if level < -20 else f"{level:.0f}".replace("-", "−")


def _chart(q: Values, found: Sounds, show: Report) -> None:
    def weighted(levels: Spectrum) -> list[tuple[float, float]]:
        return [
            (f, max(0.0, level + w))
            for f, level, w in zip(sound.OCTAVES, levels, sound.A_WEIGHTS, strict=True)
        ]

    show.chart(
        Chart(
            "octaves", "What reaches the seat, A-weighted",
            Axis("Octave", "Hz", 63.0, 8000.0, log=True), Axis("Level", "dB(A)", 0.0),
            [
                Series("bare, at 1 m", weighted(tuple(p + OPEN_METRE for p in found.power)),
                       dashed=True),
                Series("by air", weighted(found.seat.air)),
                Series("by the floor", weighted(found.seat.floor)),
            ],
            limits=[Mark(sound.CRITERIA[q.seat_aim].space, sound.CRITERIA[q.seat_aim].limit)],
            summary="A-weighted octave levels: the bare unit at one metre in the open, and what "
            "reaches the seat through the air and through the floor.",
        )
    )  # fmt: skip


def _drawing(q: Values, found: Sounds, show: Report) -> None:
    """The cabin in section, to scale: locker, seat, berth and both ways of the sound."""
    length, height = q.cabin_length, q.cabin_height
    depth, top = min(q.locker_width, length), min(q.locker_height, height)
    ear = (min(depth / 2 + q.seat, length - 0.05), min(1.1, height))
    shapes = [
        Shape("rect", [(0, 0), (length, height)]),
        Shape("rect", [(0, 0), (depth, top)]),
        Shape("rect", [(0, -0.08), (length, 0)], style="hatch"),
        Shape("rect", [(0.15 * depth, 0.05), (0.85 * depth, min(0.3, 0.8 * top))], style="fine"),
        Shape("circle", [ear], radius=0.11),
        Shape("arrow", [(depth, top), (ear[0] - 0.14, ear[1] - 0.02)], style="accent"),
        Shape("arrow", [(depth / 2, -0.04), (ear[0], -0.04), (ear[0], ear[1] - 0.4)], style="fine"),
        Shape("text", [(ear[0], ear[1] + 0.22)],
              line("{l} in all", l=(round(found.seat.total_a), "dB(A)"))),
        Shape("text", [((depth + ear[0]) / 2 - 0.05, (top + ear[1]) / 2 + 0.08)],
              line("air {l}", l=(round(found.seat.air_a), "dB(A)")), anchor="end"),
        Shape("text", [(ear[0] + 0.06, 0.3 * ear[1])],
              line("floor {l}", l=(round(found.seat.floor_a), "dB(A)")), anchor="start"),
        Shape("dimension", [(0, 0), (length, 0)], line("{l}", l=(length, "m")), offset=-34),
        Shape("dimension", [(0, height), (0, 0)], line("{h}", h=(height, "m")), offset=-20),
    ]  # fmt: skip
    show.drawing(
        Drawing(
            "cabin", "The cabin in section, with both ways of the sound",
            "A section of the cabin to scale: the locker with the unit at the left, your head at "
            "the seat, one arrow through the air and one through the floor.", shapes,
        )
    )  # fmt: skip


# ---- working ----


def _working(q: Values, found: Sounds, show: Report) -> None:
    _source_step(q, show)
    band = 4
    through, absorbed = _through(q, band), _absorbed(q, band)
    faces = _faces(q)
    opening = min(q.gaps + q.vents, faces)
    if opening > 0:
        show.step(
            "No wall with these openings stops more than", sound.open_area_ceiling(opening / faces),
            "dB", "TL_max = -10 * log10(S_open / S)",
            {"S_open": (opening, "cm2"), "S": (faces, "m2")},
            "D. A. Bies, C. H. Hansen, Engineering Noise Control, p. 204",
        )  # fmt: skip
    show.step(
        "Leaves the locker at 1000 Hz", found.escaped[band], "dB",
        "L_out = L_w + 10 * log10(T / (A + T))",
        {"L_w": (found.power[band], "dB"), "T": (through, "cm2"), "A": (absorbed, "m2")},
        "diffuse-field balance, H. Kuttruff, Room Acoustics, ch. 5",
        "T: openings, and walls by their transmission; A: absorption inside.",
    )  # fmt: skip
    alpha, surface = _cabin_absorption(q)[band], _cabin_surface(q)
    show.step(
        "At the seat at 1000 Hz, by air", found.seat.air[band], "dB",
        "L = L_out + 10 * log10(2 / (4 * pi * r**2) + 4 * (1 - alpha) / (S * alpha))",
        {"L_out": (found.escaped[band], "dB"), "r": (q.seat, "m"), "alpha": (alpha, "%"),
         "S": (surface, "m2")},
        "ASHRAE Handbook, HVAC Applications (2019), ch. 49",
    )  # fmt: skip
    show.step(
        "At the seat in all", found.seat.total_a, "dB(A)",
        "L = 10 * log10(10**(L_air / 10) + 10**(L_floor / 10))",
        {"L_air": (found.seat.air_a, "dB(A)"), "L_floor": (found.seat.floor_a, "dB(A)")},
        "R. F. Barron, Industrial Noise Control and Acoustics, eq. 2-43, p. 31",
    )  # fmt: skip
    psil = sound.speech_interference(found.seat.together)
    show.step(
        "A normal voice carries", sound.talking_distance(psil), "m",
        "r = 0.9144 * 10**((60 - PSIL) / 20)", {"PSIL": (psil, "dB")},
        "required voice level by distance, public handbook table",
        "PSIL: mean of the octaves 500, 1000 and 2000 Hz.",
    )  # fmt: skip
    _floor_steps(q, show)


def _source_step(q: Values, show: Report) -> None:
    if q.known == "estimate":
        level = sound.pump_level(q.unit.motor.rated_power, q.motor_speed)
        show.step(
            "Estimated sound power", _power_a(q), "dB(A)",
            "L_w = L - 10 * log10(2 / (4 * pi * r**2))",
            {"L": (level, "dB(A)"), "r": (sound.PUMP_DISTANCE, "m")},
            "US Army TM 5-805-4 / AFJMAN 32-1090 (1995), tables C-11 and C-12",
            "Level at 3 ft by motor power and speed: data of centrifugal pumps, an order of "
            "magnitude for a plunger pump. A measured level is better.",
        )  # fmt: skip
    elif q.known == "level":
        show.step(
            "Sound power", _power_a(q), "dB(A)", "L_w = L - 10 * log10(2 / (4 * pi * r**2))",
            {"L": (q.level, "dB(A)"), "r": (q.distance, "m")},
            "ASHRAE Handbook, HVAC Applications (2019), ch. 49, on a surface in the open",
        )  # fmt: skip


def _floor_steps(q: Values, show: Report) -> None:
    """The strongest source through the mounts, and what the floor makes of it."""
    iso = path.isolator(q)
    floor = path.floor(q, iso.places, orders=1)
    part = max(path.structure_borne(q, iso, floor), key=lambda p: p.power)
    f, mobility = part.source.frequency, floor.endless(part.source.frequency)
    squared = sound.panel_velocity(part.force, mobility, f, floor.loss, floor.mass)
    show.step(
        f"Floor's mean square velocity by the {part.source.name}", squared * 1e6, "",
        "v2 = 1e6 * F**2 * Y / (2 * pi * f * eta * m)",
        {"F": (part.force, "N"), "Y": (mobility, "mm/(s N)"), "f": (f, "Hz"),
         "eta": (floor.loss, "×"), "m": (floor.mass, "kg")},
        "T. E. Vigran, Building Acoustics, eq. (6.56); force: common practice, no source",
        f"In mm²/s². Load: {part.source.how}, through the six motions on the mounts; loss factor "
        "of a fitted panel: common practice.",
    )  # fmt: skip


def _remarks(q: Values, found: Sounds, show: Report) -> None:
    if q.known == "estimate":
        show.note(
            "The pump's own noise is estimated here to ±5 dB and more. Hold a phone with a sound "
            "meter 1 m from the bare unit, read dB(A), and choose “a level”."
        )
    show.note(
        "The floor's part counts the motor's hum at twice the mains, the plungers and the shaft; "
        "higher harmonics and the liquid's pulses along pipes come on top. Clamp pipes in rubber, "
        "and never to the panel you sleep against."
    )
    show.note(
        "Seal gaps, not the cooling: give the air its way through a lined bend, and see the page "
        "on the warm locker."
    )
    show.caution(caution("hearing"), caution("mains"), caution("estimate"))
