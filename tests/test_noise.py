"""Quiet running: laws of levels, common practice, and measures that do what they promise."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any, cast

import numpy as np
import pytest
from answers import answered, figure, table, value

from calc import stock
from calc.calculators import noise
from calc.calculators.noise import judge, measures, remedies, tell
from calc.calculators.noise.asks import AIMS
from calc.frame import units
from calc.frame.inputs import Inputs
from calc.frame.render import svg
from calc.frame.report import FAILS, FITS, TIGHT, Amount, Figure, Line, Remedy, Report
from calc.physics import rigid_body, sections, sound, speech
from calc.system import borne, mounts
from calc.system import sound as way
from calc.system.floor import Floor
from calc.system.stand import Footing, stand

# A-weighting of the octaves 63 to 8000 Hz as printed in IEC 61672-1.
PRINTED_A = (-26.2, -16.1, -8.6, -3.2, 0.0, 1.2, 1.0, -1.1)
BANDS = (63, 125, 250, 500, 1000, 2000, 4000, 8000)
BARE = {
    "vents": "60 cm2",
    "lining": "bare",
    "lined_share": "60 %",
    "known": "power",
    "level": "74.2 dB(A)",
}


def report(**form: Any) -> Report:
    """Of a bare locker, unless told otherwise."""
    return answered("noise", BARE | form, "ketch")


def form(name: str, **typed: Any) -> Inputs:
    """A page's form, filled in for the ketch."""
    made = stock.guide().run(stock.guide().get(name), typed, example={"boat": "ketch"})
    return made.bound.as_values()


def tried(**typed: Any) -> list[remedies.Tried]:
    """The measures on the boat of `report`, the best first."""
    q = cast(noise.Asks, form("noise", **(BARE | typed)))
    at = noise.aboard(q)
    return remedies.tried(at, way.sounds(at.path), q.wish())


def typed_for(one: remedies.Tried) -> dict[str, str]:
    return Remedy("", sets=one.measure.settings).typed()


def by_fields(**typed: Any) -> dict[frozenset[str], remedies.Tried]:
    return {frozenset(one.measure.settings): one for one in tried(**typed)}


BARRIER, GAPS, VENTS = (frozenset((name,)) for name in ("added_mass", "gaps", "vent_kind"))
LINING = frozenset(("lining", "lined_share"))
MOUNTS = frozenset(("mount_by", "mount_deflection", "mount_rating"))
THICKER, FARTHER = frozenset(("floor_thickness",)), frozenset(("seat",))


# ---- one locker on two pages ----


def test_the_form_is_filled_in_with_the_locker_of_keeping_it_cool() -> None:
    """Openings and lining: what one page lets out or holds, the other must hear."""
    quiet = stock.guide().run(stock.guide().get("noise"), {}, example={"boat": "ketch"})
    cool = stock.guide().run(stock.guide().get("ventilation"), {}, example={"boat": "ketch"})
    heard, warmed = quiet.bound.values, cool.bound.values
    assert heard["vents"] == pytest.approx(warmed["low_area"] + warmed["high_area"])
    a, b, c = (warmed[f"locker_{size}"] for size in ("length", "width", "height"))
    faces = {"floor": a * b, "top": a * b, "front": a * c, "back": a * c, "left": b * c}
    lined = [row for row in warmed["faces"] if row.lining]
    share = sum(faces[row.side] for row in lined) / (2 * (a * b + b * c + a * c))
    assert heard["lined_share"] == pytest.approx(share, abs=0.01)
    assert heard["lining"] == "foam25" and {row.lining for row in lined} == {0.025}
    assert quiet.report is not None and quiet.report.verdict == FITS


# ---- common practice, no source ----


def test_well_mounted_under_a_settee_it_can_be_talked_over() -> None:
    made = report(lining="foam25")
    assert made.verdict == FITS
    assert value(made, "talk") > 1.2
    assert value(made, "seat") < 60
    assert figure(report(), "talk").state == TIGHT  # a normal voice will do without it, just


def test_bolted_hard_to_a_floppy_floor_the_floor_decides() -> None:
    floppy = {"floor_thickness": "9 mm", "floor_length": "900 mm", "floor_width": "600 mm"}
    typed = {"mount_by": "hard", "lining": "foam25", **floppy}
    best = set(tried(**typed)[0].measure.settings)
    assert best == MOUNTS or best <= {"sits", "sleeps"}
    made = report(**typed)
    assert value(made, "floor") > value(made, "air") + 3


def test_lining_adds_more_than_a_little_mass_in_a_bare_box() -> None:
    found = by_fields()
    assert found[LINING].seat > found[BARRIER].seat


# ---- against the outside ----


def test_octave_bands_add_as_the_printed_weights_say() -> None:
    levels = [63, 66, 60, 58, 55, 52, 47, 40]
    typed = {f"band_{b}": f"{lv} dB" for b, lv in zip(BANDS, levels, strict=True)}
    made = report(known="bands", distance="1 m", **typed)
    total = 10 * math.log10(
        sum(10 ** ((lv + w) / 10) for lv, w in zip(levels, PRINTED_A, strict=True))
    )
    area = 2 * math.pi  # half a sphere of 1 m
    assert value(made, "power") == pytest.approx(total + 10 * math.log10(area), abs=0.1)


def test_one_hundredth_open_caps_a_wall_at_twenty_decibels() -> None:
    """D. A. Bies, C. H. Hansen, Engineering Noise Control, p. 204; the ordinary rule."""
    sizes = {"locker_length": "1 m", "locker_width": "500 mm", "locker_height": "500 mm"}
    made = report(**sizes, gaps="40 cm2", vents="60 cm2")
    step = next(s for s in made.steps if "S_open" in s.where)
    assert step.result.value == pytest.approx(20.0)


def test_a_level_at_a_distance_is_a_power() -> None:
    """Half a sphere of 1 m has 2π m²: 10 lg 2π = 7.98 dB."""
    near = report(known="level", level="60 dB(A)", distance="1 m")
    assert value(near, "power") == pytest.approx(67.98, abs=0.01)
    far = report(known="level", level="54 dB(A)", distance="2 m")
    assert value(far, "power") == pytest.approx(value(near, "power"), abs=0.03)


def test_limits_are_those_of_the_criteria() -> None:
    made = report(berth_aim="ship_cabin", seat_aim="dwelling")
    asleep = report(doing="sleep", berth_aim="bedroom")
    assert figure(asleep, "berth").limit == Amount(30.0, "dB(A)")
    assert figure(made, "berth").limit == Amount(60.0, "dB(A)")  # IMO MSC.337(91), § 4.2
    assert figure(made, "seat").limit == Amount(35.0, "dB(A)")  # WHO (1999), table 4.1


def test_the_aims_of_the_form_name_their_limits() -> None:
    told = {key: (speech.CRITERIA[key].space, speech.CRITERIA[key].limit) for key in AIMS}
    assert {key: f"{space}, {limit:g} dB(A)" for key, (space, limit) in told.items()} == dict(AIMS)


def test_what_is_loud_inside_the_locker_is_told_and_judges_nothing() -> None:
    """Louder than 85 dB(A) inside is no fault of the place: nobody sits there."""
    inside = figure(report(lining="bare", known="power", level="82 dB(A)"), "locker")
    assert inside.value.value > 85
    assert inside.limit is None
    assert isinstance(inside.note, Line)
    assert inside.note.amounts["risk"] == Amount(85.0, "dB(A)")


@pytest.mark.parametrize(
    ("sizes", "field"),
    [
        (("500 mm", "230 mm", "200 mm"), "locker_height"),
        (("150 mm", "600 mm", "420 mm"), "locker_length"),
    ],
)
def test_a_locker_too_small_for_the_unit_is_refused_as_its_ventilation_does(
    sizes: tuple[str, str, str], field: str
) -> None:
    names = ("locker_length", "locker_width", "locker_height")
    typed = dict(zip(names, sizes, strict=True))
    said = []
    for name, more in (("noise", {}), ("ventilation", {"given_by": "sizes"})):
        asked = stock.guide().get(name)
        made = stock.guide().run(asked, typed | more, example={"boat": "ketch"})
        assert made.report is None
        said.append([(f.field, f.sentence) for f in made.bound.faults])
    assert said[0] == said[1]
    assert said[0][0][0] == field
    assert "does not fit into this locker" in said[0][0][1]


def test_the_size_of_the_unit_that_is_typed_decides_whether_it_goes_in() -> None:
    typed = {"locker_length": "500 mm", "locker_width": "230 mm", "locker_height": "200 mm"}
    small = {"unit_length": "450 mm", "unit_width": "200 mm", "unit_height": "180 mm"}
    feet = {"span_along": "300 mm", "span_across": "150 mm"}
    assert report(**typed, **small, **feet).verdict in (FITS, TIGHT)


# ---- laws ----


@pytest.mark.parametrize(
    ("field", "steps"),
    [
        ("gaps", ["0 cm2", "5 cm2", "50 cm2", "500 cm2", "20000 cm2"]),
        ("vents", ["0 cm2", "20 cm2", "200 cm2", "2000 cm2"]),
        ("added_mass", ["50 kg/m2", "20 kg/m2", "5 kg/m2", "0 kg/m2"]),
        ("lined_share", ["100 %", "60 %", "20 %", "0 %"]),
        ("seat", ["4 m", "2 m", "1 m", "0.3 m"]),
        ("sits", ["shut", "open", "same"]),
        ("floor_thickness", ["40 mm", "24 mm", "18 mm", "9 mm"]),
    ],
)
def test_each_turn_for_the_worse_is_louder(field: str, steps: list[str]) -> None:
    levels = [value(report(lining="foam25", **{field: step}), "seat") for step in steps]
    assert levels == sorted(levels)
    assert levels[0] < levels[-1]


def test_softer_mounts_are_quieter_and_hard_ones_loudest() -> None:
    soft, usual, hard = (
        value(report(**typed), "floor")
        for typed in (
            {"mount_by": "deflection", "mount_deflection": "4 mm"},
            {"mount_by": "deflection", "mount_deflection": "2 mm"},
            {"mount_by": "hard"},
        )
    )
    assert soft < usual < hard
    assert hard - usual > 12


def test_a_louder_pump_is_louder_by_as_much() -> None:
    a, b = (report(known="power", level=f"{lv} dB(A)") for lv in (70, 80))
    assert value(b, "air") - value(a, "air") == pytest.approx(10)
    assert value(b, "floor") == pytest.approx(value(a, "floor"))


def test_air_and_floor_add_to_the_whole() -> None:
    made = report()
    parts = sound.level_sum([value(made, "air"), value(made, "floor")])
    assert value(made, "seat") == pytest.approx(parts, abs=0.06)


def test_a_shut_door_is_quieter_than_an_open_one() -> None:
    shut, ajar = (value(report(sleeps=s), "berth") for s in ("shut", "open"))
    assert shut < ajar - 10
    assert frozenset(("sleeps",)) in by_fields(sleeps="open", sits="shut")


def test_a_floor_that_nobody_hears_is_told_as_such() -> None:
    """It was told as −17.9 dB(A)."""
    still = {"mount_by": "deflection", "mount_deflection": "4 mm", "floor_thickness": "30 mm"}
    made = report(**still, sits="shut")
    assert value(made, "floor") == 0
    assert value(made, "seat") == pytest.approx(value(made, "air"), abs=0.06)


@pytest.mark.parametrize("doing", ["talk", "film", "sleep"])
@pytest.mark.parametrize("level", range(50, 90, 4))
def test_what_is_left_over_is_that_of_the_figures(level: int, doing: str) -> None:
    """What tries measures and places judges as the page does."""
    typed = {"doing": doing, "known": "level", "level": f"{level} dB(A)", "seat_aim": "yacht_cabin"}
    q = cast(noise.Asks, form("noise", **(BARE | typed)))
    held = way.judged(way.sounds(noise.aboard(q).path), q.wish())
    made = report(**typed)
    assert judge.state(held) == made.verdict
    decides = [f for f in made.figures if f.decides and f.margin is not None]
    far = held.left > 5  # across the whole cabin no more is told
    assert far or min(f.margin or 0.0 for f in decides) * 50 == pytest.approx(held.left, abs=1e-3)


# ---- one floor for Mount and Noise ----

FLOORS = [
    {"floor_material": m, "floor_thickness": f"{t} mm", "floor_length": f"{a} mm",
     "floor_width": f"{b} mm"}
    for m, t, a, b in (
        ("plywood", 18, 600, 400), ("plywood", 25, 600, 400), ("plywood", 12, 800, 500),
        ("grp_csm", 8, 600, 400), ("grp_csm", 12, 900, 600), ("steel", 5, 800, 500),
        ("aluminium", 6, 700, 450),
    )
]  # fmt: skip


def footing(**typed: str) -> Footing:
    return cast(noise.Asks, form("noise", **typed)).footing()


def outside(on: Footing, stiffer: float) -> float:
    """Floor-borne sound power [dB(A) re 1 pW], worked out with numpy by a plain modal sum.

    A simply supported plate of a stiffness times `stiffer`, 40 by 40 modes of sines; the unit as a
    mass on springs over it; forces at the feet that keep no time with each other.
    """
    floor: Floor = on.floor
    iso = mounts.isolator(on.mounts, on.unit.mass)
    made = sections.MATERIALS[floor.material]
    a, b, h, eta = floor.length, floor.width, floor.thickness, made.loss_factor
    bending = stiffer * made.youngs_modulus * h**3 / 12 / (1 - made.poisson**2)
    line = made.density * h
    n = np.arange(1, 41)
    own = np.pi**2 * ((n[:, None] / a) ** 2 + (n[None, :] / b) ** 2) * np.sqrt(bending / line)
    feet = np.array(iso.places) + np.array([a / 2, b / 2])
    shapes = [2 * np.outer(np.sin(n * np.pi * x / a), np.sin(n * np.pi * y / b)) for x, y in feet]
    even = sum(s**2 for s in shapes) / len(shapes)
    total = 0.0
    springs = mounts.springs(on.unit, iso)
    moved = mounts.modes(on.unit, iso)
    for source in on.unit.sources:
        f = source.frequency
        forces = rigid_body.forces_through_mounts(moved, springs, source.load, f, iso.loss)
        push = math.sqrt(sum(abs(z) ** 2 for _, _, z in forces) / 2)
        octave = borne.octave_of(f)
        if octave is None:
            continue
        w = 2 * np.pi * f
        bend = 1 / (own**2 * (1 + 1j * eta) - w**2)
        gives = 1j * w * (even * bend).sum() / (line * a * b)
        unit, rubber = 1 / (1j * w * on.unit.mass), 1j * w / (iso.shaken * (1 + 1j * iso.loss))
        force = push * abs((unit + rubber) / (unit + rubber + gives))
        squared = w**2 * (even * abs(bend) ** 2).sum() / (line * a * b) ** 2 * force**2
        critical = sound.critical_frequency(bending, line)
        sigma = sound.radiation_efficiency(f, a, b, critical)
        power = 1.204 * 343.2 * a * b * sigma * squared
        total += power * 10 ** (sound.A_WEIGHTS[octave] / 10)
    return 10 * math.log10(total / 1e-12)


@pytest.mark.parametrize("mount_by", ["rubber", "hard"])
@pytest.mark.parametrize("floor", FLOORS, ids=str)
def test_floor_borne_sound_lies_where_a_modal_sum_puts_it(
    floor: dict[str, str], mount_by: str
) -> None:
    """The band that is told holds for a floor as stiff as told, and for a fifth off in its notes.

    It was 15 to 49 dB too loud on stiff floors: a formula for plates full of modes.
    """
    on = footing(**floor, mount_by=mount_by)
    made = way.borne(on)
    told = sound.a_weighted(made.levels)
    low, high = told - made.below, told + made.above
    assert low <= told - 6 and high >= told + 6
    for notes in (0.82, 0.9, 1.0, 1.1, 1.22):
        assert low <= outside(on, notes**2) <= high, notes


@pytest.mark.parametrize("floor", FLOORS, ids=str)
def test_the_mounts_gain_on_both_pages_alike(floor: dict[str, str]) -> None:
    """Mount's gain at the hum is what Noise's floor falls by there, but for the unit's rocking."""
    mounted = footing(**floor)
    hard = replace(mounted, mounts=replace(mounted.mounts, by="hard"))
    by_key = [{p.source.key: p for p in way.borne(on).parts} for on in (hard, mounted)]
    made = stand(mounted)
    pairs = [
        (made.gain(source.frequency), *(parts[source.key] for parts in by_key))
        for source in made.unit.audible
    ]
    ends = [
        10 * math.log10(getattr(loud, end) / getattr(quiet, end)) - told
        for told, loud, quiet in pairs
        for end in ("least", "most")
    ]
    middles = [
        5 * math.log10(loud.least * loud.most / (quiet.least * quiet.most)) - told
        for told, loud, quiet in pairs
    ]
    assert pairs and max(map(abs, ends)) < 26 and max(map(abs, middles)) < 12


def test_a_stiff_floor_does_not_drown_a_film() -> None:
    """18 mm of plywood, its first note at 316 Hz: the floor was told at 52 dB(A)."""
    made = (
        stock.guide()
        .run(
            stock.guide().get("noise"),
            {
                "doing": "film",
                "wall": "steel3",
                "furnished": "hard",
                "lining": "hard",
                "vents": "0 cm2",
                "gaps": "0 cm2",
            },
            example={"boat": "ketch"},
        )
        .report
    )
    assert made is not None
    assert value(made, "floor") < value(made, "air") - 20
    without = value(made, "film") + value(made, "seat") - value(made, "air")
    assert value(made, "film") == pytest.approx(without, abs=0.1)


@pytest.mark.parametrize("thick", [18, 25])
def test_bolted_hard_a_floor_twice_as_thick_is_no_louder(thick: int) -> None:
    once, twice = (
        value(report(mount_by="hard", floor_thickness=f"{t} mm"), "floor")
        for t in (thick, 2 * thick)
    )
    assert twice < once


# ---- words that hang on a level ----


@pytest.mark.parametrize("gaps", ["0 cm2", "20 cm2", "300 cm2", "2000 cm2", "20000 cm2"])
def test_the_voice_that_is_told_is_the_one_that_carries(gaps: str) -> None:
    made = report(gaps=gaps, known="level", level="75 dB(A)")
    words = [line.text() for line in made.headlines]
    at_ease = tell.TALK["easy"] in words or tell.TALK["normal"] in words
    assert at_ease == (value(made, "talk") >= 1.2) == (figure(made, "talk").state != FAILS)
    assert made.headlines[0].amounts["l"] == Amount(round(value(made, "seat")), "dB(A)")


@pytest.mark.parametrize("interference", range(20, 90, 3))
def test_voices_rise_with_the_noise(interference: int) -> None:
    order = list(tell.TALK)
    now, louder = (way.voice_wanted(i + 7.0, i, 1.2) for i in (interference, interference + 3))
    assert order.index(now) <= order.index(louder)


def test_easy_talk_is_what_the_table_of_criteria_calls_so() -> None:
    """The table's “easy talk” is 55 dB(A); the words may not promise it above."""
    assert way.voice_wanted(56.8, 45.0, 1.2) == "normal"
    assert way.voice_wanted(54.9, 45.0, 1.2) == "easy"


def test_the_octaves_stand_on_their_axis() -> None:
    drawn = svg.chart(report().charts[0])
    for octave in sound.OCTAVES:
        assert f">{units.number_text(octave)}</text>" in drawn
    assert "log scale" in drawn


def test_words_for_sleep_change_at_the_published_values() -> None:
    """30 dB(A) of the WHO, 53 of the best class of yacht, 60 of ships."""
    words = [tell.for_sleep(float(level)) for level in range(20, 90)]
    changes = [20 + i for i in range(1, len(words)) if words[i] != words[i - 1]]
    assert changes == [31, 54, 61]


# ---- what one wants to do ----


def test_a_sleeper_is_judged_in_the_berth_and_a_talker_at_the_seat() -> None:
    asleep, talking = report(doing="sleep", sleeps="same"), report(doing="talk", sleeps="same")
    assert figure(asleep, "berth").decides and not figure(asleep, "seat").decides
    assert figure(talking, "seat").decides and not figure(talking, "berth").decides
    assert asleep.reason() == figure(asleep, "berth").reason()
    assert talking.reason() == figure(talking, "talk").reason()
    assert asleep.headlines[0].amounts["at"] == Amount(2.5, "m")
    assert talking.headlines[0].amounts["at"] == Amount(1.0, "m")
    assert value(asleep, "seat") == value(talking, "seat")


def test_a_film_needs_fifteen_decibels_over_the_noise() -> None:
    """WHO, Guidelines for Community Noise (1999), § 4.2.1: at least 15 dB for such messages."""
    made = report(doing="film", film="65 dB(A)")
    assert value(made, "film") == pytest.approx(65 - value(made, "seat"))
    assert figure(made, "film").state == FAILS
    (told,) = [r for r in made.remedies if isinstance(r, Remedy) and set(r.sets) == {"film"}]
    assert told.mends == "film"
    for system in ("metric", "us"):
        louder = report(doing="film", **told.typed(system))
        assert figure(louder, "film").state != FAILS


def test_one_may_sit_in_the_next_cabin() -> None:
    near, apart = report(), report(sits="shut")
    assert value(apart, "seat") < value(near, "seat") - 15
    assert value(apart, "berth") == value(near, "berth")
    asleep = report(doing="sleep", sits="shut", sleeps="shut")
    assert value(asleep, "seat") == pytest.approx(value(asleep, "berth"))
    loud = {"known": "level", "level": "80 dB(A)", "mount_by": "hard", "wall": "ply9"}
    (moved,) = [r for r in report(**loud).remedies if isinstance(r, Remedy) and "sits" in r.sets]
    assert report(**loud, **moved.typed()).verdict != FAILS


# ---- measures ----

ON_BOARD: list[dict[str, str]] = [
    {},
    {"doing": "sleep", "sleeps": "same"},
    {"lining": "foam25", "lined_share": "19 %", "sleeps": "open"},
    {"lining": "foam25", "lined_share": "72.5 %", "sits": "open"},
    {"lining": "foam12", "lined_share": "0 %", "vent_kind": "bend", "wall": "steel3"},
    {"mount_by": "hard", "floor_thickness": "9 mm", "floor_length": "900 mm", "doing": "film"},
    {"mount_by": "pad", "floor_material": "grp_csm", "floor_thickness": "8 mm"},
    {"stands": "open", "floor_form": "bearers", "cabin_length": "6 m", "sleeps": "same"},
    {"floor_material": "cored_balsa", "core_thickness": "15 mm", "gaps": "300 cm2"},
]


@pytest.mark.parametrize("typed", ON_BOARD, ids=str)
def test_a_measure_typed_takes_off_what_it_promised(typed: dict[str, str]) -> None:
    """At both ears, whatever it changes: each is filled into the form."""
    before, found = report(**typed), tried(**typed)
    assert len(found) > 4
    gains = [round(one.berth if typed.get("doing") == "sleep" else one.seat, 1) for one in found]
    assert gains == sorted(gains, reverse=True)
    for one in found:
        after = report(**{**typed, **typed_for(one)})
        for key, promised in (("seat", one.seat), ("berth", one.berth)):
            took = value(before, key) - value(after, key)
            assert took == pytest.approx(promised, abs=0.11), (key, typed_for(one))


def cells(made: Report) -> Iterator[Line]:
    for row in table(made, "measures").rows:
        yield from (cell for cell in row if isinstance(cell, Line))
    yield from (told for told in made.remedies)


@pytest.mark.parametrize("typed", ON_BOARD, ids=str)
@pytest.mark.parametrize("speed", ["1430 rpm", "2850 rpm"])
def test_a_measure_is_told_in_ones_own_units_and_never_takes_off_less_than_nothing(
    typed: dict[str, str], speed: str
) -> None:
    """A stiffer floor may ring at the hum: “less by −2.8 dB” was told."""
    told = list(cells(report(motor_speed=speed, **typed)))
    assert told
    assert re.findall(r"−[\d.]+ dB", "; ".join(line.text() for line in told)) == []
    assert re.findall(r"\d (?:mm|m|kg)\b", "; ".join(line.text("us") for line in told)) == []


def test_what_lines_a_locker_tells_of_fire_and_heat() -> None:
    for made in (report(), report(lining="foam25"), report(stands="open")):
        assert {"lining", "hot-motor"} <= {c.key for c in made.cautions}
    for words in (*measures.LINE_WITH.values(), measures.BUILD):
        assert "clear of the motor and its air inlet" in words and "Keeping it cool" in words
    assert "fire-retardant" in measures.LINE_WITH["foam25"]


def test_who_has_foam_on_one_side_is_told_of_more_foam_first() -> None:
    for share, kind in (("19 %", "foam25"), ("60 %", "fibre50")):
        lined = by_fields(lining="foam25", lined_share=share)[LINING]
        assert lined.measure.settings["lining"] == kind


@pytest.mark.parametrize("doing", ["talk", "film", "sleep"])
@pytest.mark.parametrize("level", ["64 dB(A)", "68 dB(A)", "72 dB(A)", "76 dB(A)"])
@pytest.mark.parametrize("stands", ["locker", "open"])
def test_what_is_told_to_be_enough_is_enough(stands: str, doing: str, level: str) -> None:
    typed = {"doing": doing, "known": "level", "level": level, "mount_by": "hard", "stands": stands}
    made = report(**typed)
    assert made.remedies
    for told in made.remedies:
        assert isinstance(told, Remedy)
        if told.sets:
            assert report(**{**typed, **told.typed()}).verdict in (FITS, TIGHT), told.text()


# ---- what is told can be typed, built, and holds at sea ----

AT_THE_END = [
    {"seat": "14 m", "berth": "18 m", "cabin_length": "20 m", "sleeps": "same"},
    {"added_mass": "48 kg/m2"},
    {"floor_thickness": "300 mm", "floor_length": "5 m", "floor_width": "5 m"},
    {"floor_material": "cored_pvc80", "core_thickness": "150 mm", "floor_width": "1 m"},
    {"floor_form": "bearers", "bearer_depth": "400 mm", "floor_length": "1 m"},
    {"mount_by": "deflection", "mount_deflection": "80 mm", "mount_rating": "900 kg"},
    {"gaps": "20000 cm2", "vents": "20000 cm2", "locker_length": "10 m"},
    {"doing": "film", "film": "40 dB(A)", "level": "90 dB(A)", "stands": "open"},
]
"""Each at the end of what its field takes."""


@pytest.mark.parametrize("doing", ["talk", "film", "sleep"])
@pytest.mark.parametrize("typed", AT_THE_END, ids=str)
def test_no_measure_goes_beyond_what_can_be_typed(typed: dict[str, str], doing: str) -> None:
    typed = {"doing": doing, "known": "power", "level": "80 dB(A)", **typed}
    for told in report(**typed).remedies:
        assert isinstance(told, Remedy)
        for system in ("metric", "us"):
            report(**{**typed, **told.typed(system)})  # refuses nothing


def test_no_measure_goes_beyond_what_a_builder_makes() -> None:
    """The form takes 50 kg/m² and 500 mm; nobody hangs or lays that."""
    for fields, beyond, within in (
        (BARRIER, {"added_mass": "16 kg/m2"}, {"added_mass": "15 kg/m2"}),
        (THICKER, {"floor_thickness": "19 mm"}, {"floor_thickness": "18 mm"}),
        (FARTHER, {"seat": "2.2 m"}, {"seat": "2.1 m"}),  # of a cabin 4.25 m across
    ):
        assert fields not in by_fields(**beyond)
        assert fields in by_fields(**within)


BOATS = [
    {"unit_mass": f"{mass} kg", "mount_by": mount_by, "span_across": f"{span} mm", "cg_along": cg}
    for mass in (14, 21, 38, 60)
    for mount_by in ("hard", "pad", "rubber", "deflection")
    for span, cg in ((120, "40 mm"), (230, "0 mm"))
]
FLOOR = {"floor_thickness": "9 mm", "floor_length": "900 mm", "unit_height": "300 mm"}


@pytest.mark.parametrize("typed", BOATS, ids=str)
def test_the_mounts_that_are_told_hold_on_the_page_of_mounts(typed: dict[str, str]) -> None:
    """They were rated with the unit's whole mass each, and nobody asked whether they hold."""
    found = by_fields(**typed, **FLOOR).get(MOUNTS)
    for lies in ("fore", "athwart") if found else ():
        asked = {**typed, **FLOOR, **typed_for(found), "lies": lies}
        mount = stock.guide().run(stock.guide().get("mount"), asked, example={"boat": "ketch"})
        assert mount.report is not None
        for key in ("load", "sea_mount", "movement", "lowest", "rocking"):
            assert figure(mount.report, key).state != FAILS, key


def test_some_boats_are_told_of_mounts_and_some_have_none_that_hold() -> None:
    found = [MOUNTS in by_fields(**typed, **FLOOR) for typed in BOATS]
    assert any(found) and not all(found)


# ---- margins ----


def test_how_far_a_voice_carries_is_judged_in_decibels() -> None:
    """2.06 m where 1.2 m are wanted is 72 % more, and 20 lg (2.06 / 1.2) = 4.7 dB: tight."""
    talk = figure(report(), "talk")
    assert talk.limit is not None
    spare = 20 * math.log10(talk.value.value / talk.limit.value)
    assert talk.left_over() == f"{spare:.1f} dB"
    assert 4 < spare < 5
    assert talk.state == TIGHT
    assert report().verdict == TIGHT


@pytest.mark.parametrize("tenth", range(-12, 13))
def test_a_voice_at_its_limit_is_told_in_digits_that_show_it(tenth: int) -> None:
    """Never “1.2 m ≥ 1.2 m” and “does not fit”: what fails is seen to be less."""
    loud = 70.98 + tenth / 20
    talk = figure(report(known="level", level=f"{loud:.2f} dB(A)"), "talk")
    assert talk.limit is not None
    shown, wanted = talk.value.text(), talk.limit.text()
    assert (talk.state == FAILS) == (float(shown.split()[0]) < float(wanted.split()[0]))
    assert (talk.left_over() == "0 dB") == (shown == wanted)


def test_a_voice_heard_everywhere_is_not_told_to_the_metre() -> None:
    made = report(known="level", level="40 dB(A)", cabin_length="3.2 m", cabin_width="2.8 m")
    talk = figure(made, "talk")
    assert talk.note == "throughout the cabin"
    assert talk.value.value == pytest.approx(math.hypot(3.2, 2.8))
    assert "understood throughout the cabin" in talk.reason().text()
    far = figure(report(known="level", level="40 dB(A)", talk="3 m"), "talk")
    assert far.state == FITS  # the cabin's size tells nothing of the margin


def test_what_is_left_of_a_level_is_told_in_decibels() -> None:
    """A share of a level means nothing: 5.6 dB below 65 dB(A) is much, 3 dB below 100 little."""
    seat = figure(report(seat_aim="ship_mess"), "seat")
    assert seat.limit is not None
    spare = seat.limit.value - seat.value.value
    assert seat.left_over() == f"{spare:.1f} dB"
    assert seat.state == FITS
    for level, state in ((59.9, FITS), (60.1, TIGHT), (65.1, FAILS)):
        held = Figure("a", "a", Amount(level, "dB(A)"), Amount(65.0, "dB(A)"))
        assert held.state == state
        assert 1 - held.used == pytest.approx((65 - level) / 50)
    assert Figure("a", "a", Amount(0.6, "%"), Amount(1.0, "%")).left_over() == "40 %"
    close = Figure("a", "a", Amount(84.94, "dB(A)"), Amount(85.0, "dB(A)"))
    assert close.left_over() == "0.1 dB"  # more is not known


# ---- limits follow what one does ----


def test_a_sleeper_is_held_to_what_the_who_advises_for_bedrooms() -> None:
    """WHO, Guidelines for Community Noise (1999), table 4.1: 30 dB(A); 37 dB(A) fitted."""
    louder = {"doing": "sleep", "lining": "foam25", "level": "80 dB(A)"}
    asleep = report(**louder)
    found = figure(asleep, "berth")
    assert found.limit is not None and found.limit.value == 30
    assert 30 < found.value.value < 40 and asleep.verdict == FAILS
    soft = {"mount_by": "deflection", "mount_deflection": "12 mm", "mount_rating": "30 kg"}
    quiet = report(doing="sleep", known="level", level="50 dB(A)", **soft)
    assert value(quiet, "berth") < 25 and quiet.verdict == FITS
    assert report(**louder, berth_aim="yacht_cabin").verdict == FITS


def test_a_talker_and_a_film_have_their_own_limit_at_the_seat() -> None:
    for doing in ("talk", "film"):
        made = report(doing=doing)
        assert figure(made, "seat").limit is None
        assert figure(made, doing).decides and figure(made, doing).limit is not None
    held = report(seat_aim="dwelling")
    assert figure(held, "seat").state == FAILS


# ---- what the floor counts ----


@pytest.mark.parametrize("speed", ["1430 rpm", "1725 rpm", "2850 rpm", "3450 rpm"])
@pytest.mark.parametrize("mount_by", ["hard", "rubber"])
def test_the_floors_step_is_of_a_sound_that_is_counted(speed: str, mount_by: str) -> None:
    """The shaft of 1430 rpm, 23.8 Hz, lies in no octave, and stood in the working."""
    made = report(motor_speed=speed, mount_by=mount_by)
    step = next(s for s in made.steps if "F" in s.where)
    assert isinstance(step.label, Line)
    rows = table(made, "sources").rows
    at = {row[0]: row[1].value for row in rows if isinstance(row[1], Amount)}
    counted = {row[0] for row in rows if row[2] == "counted"}
    assert step.label.amounts["source"] in counted
    assert counted == {name for name, f in at.items() if f > 63 / math.sqrt(2)}


# ---- a unit in the open ----


def test_a_unit_in_the_open_lets_out_all_it_makes_and_gets_no_advice_on_lids() -> None:
    """ASHRAE's room formula with nothing before it: 2 / (4 pi r2) + 4 / R."""
    loud = report(stands="open", furnished="hard", known="power", level="80 dB(A)")
    area = 2 * (3.2 * 2.8 + 2.8 * 1.9 + 3.2 * 1.9)
    shares = [
        0.03 * s + 0.97 * b
        for s, b in zip(
            sound.LININGS["cushions"].absorption, sound.LININGS["bare"].absorption, strict=True
        )
    ]
    power = sound.spectrum_of(80.0)
    heard = sum(
        10 ** ((lw + w) / 10) * (1 / (2 * math.pi) + 4 * (1 - a) / (area * a))
        for lw, w, a in zip(power, PRINTED_A, shares, strict=True)
    )
    assert value(loud, "air") == pytest.approx(10 * math.log10(heard), abs=0.1)
    made, found = report(stands="open"), by_fields(stands="open")
    words = " ".join(line.text() for line in [*made.headlines, *made.notes, made.reason()])
    assert not re.search(r"\b(lid|vents?|gaps?|locker)\b", words)
    assert not {BARRIER, GAPS, VENTS, LINING} & set(found)
    assert "locker" not in {f.key for f in made.figures}
    assert made.verdict == FAILS and value(made, "seat") > value(report(), "seat") + 10
    # What it is told to do, tried: a lined locker round it.
    told = next(r for r in made.remedies if isinstance(r, Remedy) and "stands" in r.sets)
    assert report(**told.typed()).verdict in (FITS, TIGHT)


def test_a_locker_that_would_not_hold_the_unit_is_not_told_of() -> None:
    found = by_fields(stands="open", locker_height="110 mm")
    assert not any("stands" in fields for fields in found)
