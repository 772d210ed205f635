"""Where to bolt it down: laws, common practice, and what must be refused by name."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import scipy.linalg
from answers import answered, figure, refused, rows, slots, state, step, table, typed, value

from calc import stock
from calc.calculators import mount
from calc.frame.inputs import TYPED, Layer
from calc.frame.report import FAILS, FITS, TIGHT, UNKNOWN, Amount, Line, Remedy, Report
from calc.physics import beams, fasteners, lifting, plates, rubber
from calc.system import borne, floor, mount_search
from calc.system.place import Placed, placed
from calc.system.stand import gain

HUM = "motor's hum, twice the mains"
PANEL = typed("floor_material: grp_csm; floor_thickness: 8 mm")
FLOPPY = typed("floor_thickness: 6 mm; floor_length: 900 mm; floor_width: 600 mm")


def report(form: str = "", boat: str = "ketch", **more: Any) -> Report:
    return answered("mount", {**typed(form), **more}, boat)


def remedies(made: Report) -> list[Remedy]:
    return [r for r in made.remedies if isinstance(r, Remedy)]


def column_of(made: Report, key: str, index: int) -> list[Any]:
    cells = [row[index] for row in table(made, key).rows]
    return [c.value if isinstance(c, Amount) else c for c in cells]


def at(**form: str) -> Placed:
    """The place of a form, worked out."""
    bound = stock.guide().bind(mount.Asks, Layer(TYPED, form))
    assert bound.good, [str(f) for f in bound.faults]
    q = bound.as_values()
    assert isinstance(q, mount.Asks)
    return placed(q.its_place(q.unit, q.ac_frequency))


# ---- against the outside ----


@pytest.mark.parametrize("count", [3, 4, 5, 6])
def test_six_motions_agree_with_scipy(count: int) -> None:
    """K and M put together here by the positions' cross products, solved by scipy.linalg.eigh."""
    made = at(mount_count=str(count))
    unit, iso = made.unit, made.stand.iso
    z = -(unit.cg_height + iso.height / 2)
    stiff = np.zeros((6, 6))
    for x, y in iso.places:
        r = np.array([x - unit.cg_along, y, z])
        skew = np.array([[0, r[2], -r[1]], [-r[2], 0, r[0]], [r[1], -r[0], 0]])
        moves = np.hstack([np.eye(3), skew])
        stiff += moves.T @ np.diag([iso.side, iso.side, iso.each]) @ moves * iso.ratio
    a, b, c = unit.length, unit.width, unit.height
    turn = unit.mass / 12 * np.array([b * b + c * c, a * a + c * c, a * a + b * b])
    squares = scipy.linalg.eigh(stiff, np.diag([*[unit.mass] * 3, *turn]), eigvals_only=True)
    shown = column_of(report(mount_count=str(count)), "modes", 1)
    assert shown == pytest.approx(np.sqrt(squares) / (2 * math.pi), rel=1e-6)


def test_loads_on_the_feet_balance_the_weight() -> None:
    stand = at(cg_along="40 mm").stand
    loads, weight = stand.rest_loads, 21 * 9.80665
    assert sum(loads) == pytest.approx(weight)
    turns = [load * x for load, (x, _) in zip(loads, stand.iso.places, strict=True)]
    assert sum(turns) == pytest.approx(weight * 0.04)


def test_a_beam_bends_as_the_tables_say() -> None:
    """Mid-span stiffness 48 EI/L³ (Roark, table 8.1); a narrow strip of panel does the same."""
    response = beams.beam_response(10e9, 4.86e-8, 1.08, 0.5, [0.25], modes=99)
    assert plates.static_stiffness(response) == pytest.approx(186.6e3, rel=1e-3)


def column_stiffness(rigidity: float, bending: float, height: float, load: float) -> float:
    """Stiffness [N/m] sideways of a rubber column under a load, ends level: 400 slices that shear
    and bend, marched from the lower end (transfer matrices), none of the closed form.

    Haringx: the shear force stands across the slice as it is turned, so that it feels P times the
    turn; state: shift, turn, moment, for a side force of 1 N at the top.
    """
    steps = 4000
    h = height / steps

    def march(moment: float) -> tuple[float, float]:
        shift = turn = 0.0
        for _ in range(steps):
            # moment in the slice: what stands at the foot, less the side force and the load's arm
            slope = turn + (1.0 + load * turn) / rigidity
            bend = moment / bending
            shift, turn, moment = (
                shift + h * slope,
                turn + h * bend,
                moment - h * (1.0 + load * slope),
            )
        return shift, turn

    # The turn at the top is linear in the moment at the foot: the one that leaves it level.
    (a, ta), (b, tb) = march(0.0), march(1.0)
    share = -ta / (tb - ta)
    return 1.0 / (a + share * (b - a))


@pytest.mark.parametrize("share", [0.0, 0.2, 0.5, 0.85])
@pytest.mark.parametrize("size", [(0.020, 0.025), (0.030, 0.030), (0.012, 0.035)])
def test_a_bobbin_softens_sideways_as_a_column_marched_in_slices(
    size: tuple[float, float], share: float
) -> None:
    made = rubber.disc_mount(2.3e6, *size)
    bends = (made.rigidity, made.bending, made.height)
    load = share * rubber.buckling_load(*bends)
    assert rubber.side_stiffness(*bends, load) == pytest.approx(
        column_stiffness(*bends, load), rel=0.01
    )


@pytest.mark.parametrize(
    ("across", "high", "shore", "load"), [(20, 25, 45, 168.8), (12, 35, 65, 40.5)]
)
def test_a_bobbin_that_buckles_in_the_sea_does_not_fit(
    across: int, high: int, shore: int, load: float
) -> None:
    """20 × 25 mm, 45 Shore, buckles at 169 N and is pressed with 252 N; both were told to fit."""
    made = report(rubber_diameter=f"{across} mm", rubber_height=f"{high} mm", shore=str(shore))
    assert state(made, "buckling") == made.verdict == FAILS
    assert step(made, "P").result.value == pytest.approx(load, rel=0.01)


def test_the_default_bobbin_is_no_taller_than_wide_and_holds() -> None:
    across, high = at().place.footing.mounts.bobbin
    assert high <= across
    assert state(report(), "buckling") == FITS
    assert report().verdict == FITS


def test_the_weight_softens_the_mounts_sideways_and_hung_it_does_not() -> None:
    """The sway modes fall with P / P_cr; up and down nothing changes."""
    slim = {"rubber_diameter": "20 mm", "rubber_height": "30 mm", "shore": "45"}
    light, heavy = (at(**slim, unit_mass=m).stand.iso for m in ("2 kg", "30 kg"))
    assert heavy.side < 0.6 * light.side
    assert heavy.each == light.each
    hung = at(**slim, unit_mass="30 kg", attitude="bulkhead").stand.iso
    assert hung.side > light.side


@pytest.mark.parametrize(
    ("attitude", "pressed", "sheared"),
    [("platform", "up and down", "across the shaft"), ("bulkhead", "in and out", "up and down")],
)
def test_hung_on_a_bulkhead_its_motions_are_named_as_they_go(
    attitude: str, pressed: str, sheared: str
) -> None:
    """Away from the bulkhead is in and out; along it, across the shaft, is up and down."""
    made, stand = report(attitude=attitude), at(attitude=attitude).stand
    shown = dict(zip(column_of(made, "modes", 0), column_of(made, "modes", 1), strict=True))
    assert shown[pressed] > shown[sheared]  # rubber is softer in shear
    alone = math.sqrt(stand.iso.shaken / stand.unit.mass) / (2 * math.pi)
    assert shown[pressed] == pytest.approx(alone, rel=0.05)
    assert slots(figure(made, "bounce").note)["way"] == pressed


@pytest.mark.parametrize(("off", "base"), [("140 mm", 0.300), ("-140 mm", 0.300)])
def test_mounts_under_the_centre_of_gravity_are_offered_and_mend(off: str, base: float) -> None:
    """The shift alone is enough; told is how far the base must then reach."""
    made = report(cg_along=off)
    assert made.verdict == FAILS
    told = next(r for r in remedies(made) if set(r.sets) == {"cg_along"})
    shift, reach = told.amounts["shift"], told.amounts["reach"]
    assert isinstance(shift, Amount) and shift.value == pytest.approx(0.14)
    assert isinstance(reach, Amount) and reach.value == pytest.approx(base)
    assert report(**told.typed()).verdict != FAILS


def test_where_other_mounts_are_enough_nobody_need_shift_any() -> None:
    told = remedies(report(mount_by="hard", cg_along="15 mm"))
    assert any("mount_deflection" in r.sets for r in told)
    assert not any("cg_along" in r.sets for r in told)


@pytest.mark.parametrize("way", [(1, 0, 0), (0, 1, 0), (0, 0, 1)])
def test_the_smallest_bolt_stands_the_public_pull(way: tuple[int, int, int]) -> None:
    """US 33 CFR 183.420: the lesser of 90 lbf and twice the weight, in each direction."""
    pull = min(90 * 4.448, 2 * 21 * 9.80665)
    unit, places = at().unit, at().stand.iso.places
    x, y, z = (pull * share for share in way)
    loads = fasteners.bolt_group_loads((x, y, z), (unit.cg_along, 0, unit.cg_height), places)
    strong = fasteners.bolt_strength("M4", "A4-70")
    assert max(fasteners.combined_use(b, strong.tensile, strong.shear) for b in loads) * 4 < 1


# ---- common practice, no source ----


def test_rubber_feet_on_a_stiff_base_are_the_ordinary_cure() -> None:
    made = report()
    assert made.verdict in (FITS, TIGHT)
    assert value(made, "isolation") > 12


def test_soft_mounts_on_a_floppy_floor_gain_little() -> None:
    made = report(**FLOPPY)
    assert value(made, "isolation") < 6
    assert column_of(made, "ways", 2)[-1] > 30, "on a rigid floor"
    assert (made.verdict, made.decided_by) == (FAILS, "isolation")
    assert made.headlines[0].template != report().headlines[0].template


def test_a_hard_pad_is_nothing_at_a_hundred_hertz() -> None:
    made = report(mount_by="pad", shore="70")
    assert abs(value(made, "isolation")) < 1
    assert made.verdict == FAILS


def test_bolted_down_hard_is_told_as_such() -> None:
    made = report(mount_by="hard")
    assert value(made, "isolation") == pytest.approx(0, abs=0.1)
    assert [line.amounts for line in made.headlines] == [{}], "nothing is gained"


def test_rubber_that_buckles_has_no_travel_to_tell() -> None:
    """The headline told a corner that moves 644 mm."""
    made = report(rubber_diameter="12 mm", rubber_height="35 mm")
    assert "movement" not in {f.key for f in made.figures}
    assert made.reason() == figure(made, "buckling").reason()
    told = column_of(made, "sea", 4)
    assert {isinstance(cell, str) for cell in told} == {True, False}
    assert state(report(), "movement") == FITS


@pytest.mark.parametrize("name", ["mount_rating", "dynamic_ratio", "side_ratio"])
def test_a_remedy_of_other_mounts_needs_nothing_of_the_fields_they_hide(name: str) -> None:
    """Mounts by their data sheet are tried while rubber is typed and their own fields are empty."""
    slim = "mount_by: rubber; rubber_diameter: 20 mm; rubber_height: 25 mm; shore: 45"
    found, plain = (report(slim, **more) for more in ({name: ""}, {}))
    assert name in remedies(plain)[0].sets and found.remedies == plain.remedies


@pytest.mark.parametrize("more", [{}, {"locker_height": "260 mm"}], ids=str)
def test_a_unit_that_may_not_hang_is_told_to_stand(more: dict[str, str]) -> None:
    """It can be tried where all holds on a platform."""
    hung = report(attitude="bulkhead", on_bulkhead="no", **more)
    assert hung.verdict == FAILS
    assert dict(remedies(hung)[0].sets) == ({} if more else {"attitude": "platform"})
    stood = report(attitude="platform", on_bulkhead="no", **more)
    assert (stood.verdict != FAILS) is (not more)


def test_the_catamarans_cored_floor_gives_way_at_its_hum() -> None:
    made = report(boat="catamaran")
    assert (made.verdict, state(made, "isolation"), state(made, "note")) == (FAILS, FAILS, TIGHT)
    assert slots(figure(made, "note").note)["source"] == HUM


# ---- laws ----


def test_below_root_two_mounts_amplify_and_say_so() -> None:
    made = report(mount_by="stiffness", mount_stiffness="100 N/mm")
    hertz, passed, told = (column_of(made, "sources", place) for place in (1, 2, 3))
    bounce = step(made, "f_n").result.value
    amplified = [share > 1 for share in passed]
    assert amplified == [f < math.sqrt(2) * bounce for f in hertz]
    assert amplified == [word == "amplified" for word in told] and any(amplified)
    assert state(made, "lowest") == FAILS


@pytest.mark.parametrize("form", [{}, {"mount_by": "pad"}, {"rubber": "nitrile", "shore": "60"}])
@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_gain_and_share_passed_to_a_rigid_floor_are_one(form: dict[str, str], boat: str) -> None:
    """Figure, table and chart tell one damping: 34 dB are 2 % passed on, never 3 %."""
    made = report(boat=boat, **form)
    hum = column_of(made, "sources", 0).index(HUM)
    passed, f = column_of(made, "sources", 2)[hum], column_of(made, "sources", 1)[hum]
    gain = value(made, "rigid")
    assert -20 * math.log10(passed) == pytest.approx(gain, abs=0.051)
    assert column_of(made, "ways", 2)[-1] == pytest.approx(gain)
    curve = next(s for s in made.charts[0].series if s.label == "rigid floor").points
    assert np.interp(f, *zip(*curve, strict=True)) == pytest.approx(gain, abs=0.2)


def test_below_its_first_note_a_stiffer_floor_takes_less_from_the_mounts() -> None:
    """The floor's own movement per newton, on the mounts; bolted down hard it has a bounce."""
    moved = []
    for t in range(12, 60, 6):
        stand = at(floor_thickness=f"{t} mm").stand
        parts = borne.structure_borne(stand.unit, stand.iso, stand.ground)
        moved.append(next(p.power for p in parts if p.source.key == "hum"))
    assert moved == sorted(moved, reverse=True)


def test_a_very_stiff_floor_gains_what_a_rigid_one_does() -> None:
    made = report(floor_material="steel", floor_thickness="200 mm")
    assert value(made, "isolation") == pytest.approx(column_of(made, "ways", 2)[-1], abs=0.2)


@pytest.mark.parametrize("wanted", [8.0, 12.0, 25.0])
def test_the_stiffness_for_a_gain_gains_just_that(wanted: float) -> None:
    stand = at().stand
    floors, mass = stand.ground.mobilities(100.0), stand.unit.mass
    k = mount_search.stiffness_for_gain(mass, 0.16, floors, 100.0, wanted)
    assert gain(mass, k, 0.16, floors, 100.0) == pytest.approx(wanted, abs=1e-3)


def test_the_hum_goes_with_the_single_phase_motor() -> None:
    assert HUM in column_of(report(), "sources", 0)
    made = report(single_phase="no")
    assert HUM not in column_of(made, "sources", 0)
    assert value(made, "rigid") < value(report(), "rigid")  # at the slower plungers


def test_a_taller_unit_pulls_harder_on_its_bolts() -> None:
    used = [value(report(cg_height=f"{h} mm"), "fastening") for h in (60, 110, 160)]
    assert used == sorted(used)
    assert used[0] < used[-1]


def test_on_a_bulkhead_the_upper_bolts_carry_more() -> None:
    platform, wall = report(), report(attitude="bulkhead")
    assert value(wall, "fastening") > value(platform, "fastening")
    assert value(wall, "deflection") > value(platform, "deflection")  # rubber is softer in shear


def test_upside_down_means_the_weight_hangs_on_the_bolts() -> None:
    pulls = dict(zip(column_of(report(), "sea", 0), column_of(report(), "sea", 1), strict=True))
    assert pulls["upside down"] > 21 * 9.80665 / 4
    assert pulls["at rest, upright"] == 0


@pytest.mark.parametrize("attitude", ["platform", "bulkhead"])
@pytest.mark.parametrize("by", ["rubber", "stiffness", "deflection", "pad"])
def test_what_stands_on_rubber_is_told_to_be_held_if_it_tears(attitude: str, by: str) -> None:
    """Pads in other words than mounts, and what is bolted down hard not at all."""
    made, pads, hard = (report(attitude=attitude, mount_by=m) for m in (by, "pad", "hard"))
    pulls = [n.amounts["pull"] for n in made.notes if "pull" in n.amounts]
    worst = max(column_of(made, "sea", 1))  # one fastener at each foot
    assert [p.value for p in pulls if isinstance(p, Amount)] == [pytest.approx(worst)]
    assert not [n for n in hard.notes if "pull" in n.amounts]
    own = {n.template for n in made.notes} - {n.template for n in hard.notes}
    of_pads = {n.template for n in pads.notes} - {n.template for n in hard.notes}
    assert (len(own) - len(own & of_pads) > 0) == (by != "pad")


@pytest.mark.parametrize(
    ("form", "how"),
    [
        ({}, "pressed"),
        ({"mount_by": "stiffness", "side_ratio": "30 %"}, "sheared"),
        (
            {
                "attitude": "bulkhead",
                "mount_by": "stiffness",
                "side_ratio": "120 %",
                "cg_height": "250 mm",
            },
            "pulled",
        ),
    ],
)
def test_the_worst_load_on_a_mount_is_named_for_what_it_does(
    form: dict[str, str], how: str
) -> None:
    """The ketch slams on a mount with 2.14 times what it carries; pulled it is by 0.84 times."""
    made = report(**form)
    worst = figure(made, "sea_mount")
    assert isinstance(worst.note, Line) and worst.note.template.startswith(how)
    when, force = worst.note.amounts["when"], worst.note.amounts["f"]
    assert worst.reason().amounts["when"] == when and isinstance(force, Amount)
    row = column_of(made, "sea", 0).index(when)
    shown = [column_of(made, "sea", place)[row] for place in (1, 2)]  # pull and shear
    told = {"pulled": shown[0], "sheared": shown[1]}.get(how, force.value)
    assert told == pytest.approx(force.value)


# ---- what is in the way ----


def test_what_blocks_the_pump_head_is_named() -> None:
    seacock = typed("what: seacock; start: 640 mm; length: 80 mm; above: 0 mm; height: 200 mm")
    made = report(obstacles=[seacock])
    assert state(made, "head") == FAILS
    assert value(made, "head") == pytest.approx(0.09)
    assert slots(made.reason())["what"] == "seacock"
    above = report(obstacles=[seacock | {"above": "320 mm", "height": "50 mm"}])
    assert state(above, "head") == FITS


def test_what_stands_where_the_unit_would_is_named() -> None:
    made = report(obstacles=[{"what": "battery", "start": "100 mm", "length": "200 mm"}])
    assert (made.verdict, made.decided_by) == (FAILS, "struck")
    assert slots(made.reason()) == {"what": "battery"}


def test_heel_counts_across_or_along_as_the_shaft_lies() -> None:
    fore, athwart = report(sail_heel="25°"), report(sail_heel="25°", lies="athwart")
    assert state(fore, "tilt_across") == FITS
    assert state(athwart, "tilt_along") == FAILS
    assert (
        state(report(sail_heel="25°", lies="athwart", runs_under_sail="no"), "tilt_along") == FITS
    )


# ---- in the reader's units ----


@pytest.mark.parametrize("by", ["rubber", "hard"])
def test_no_size_and_no_pressure_stays_metric_for_a_reader_of_us_units(by: str) -> None:
    made = report(mount_by=by)
    ways = next(t for t in made.tables if t.key == "ways")
    told = [w.text("us") if isinstance(w, Line) else str(w) for w, *_ in ways.rows]
    assert "pads 2.36 in × 2.36 in × 0.394 in, 70 Shore" in told
    assert "mounts that give 0.0197 in" in told
    assert not [w for w in told if "mm" in w]
    assert figure(made, "washer").value.text("us").endswith(" psi")


def test_nobody_lifts_beyond_the_published_reach() -> None:
    """NIOSH 94-110: the horizontal multiplier is 25/H cm, and none beyond 63 cm."""
    assert lifting.lifting_limit(0.63) == pytest.approx(23 * 25 / 63)
    assert lifting.lifting_limit(0.64) == 0


# ---- named plainly ----


WRONG = rows("""
    mount_by: stiffness; mount_stiffness: 0 N/mm | mount_stiffness | 0.1
    floor_thickness: 450 mm | floor_thickness |
    cg_along: 200 mm | cg_along |
    span_along: 700 mm | span_along |
    span_across: 500 mm | span_across |
    fix_by: screws; floor_material: steel | fix_by |
    washer: 8 mm; bolt: M12 | washer |
    battens: 10; batten_width: 60 mm | battens |
    mount_by: deflection; mount_deflection: -1 mm | mount_deflection | -1 mm
""")


@pytest.mark.parametrize(("form", "field", "tells"), WRONG)
def test_bad_input_is_named(form: str, field: str, tells: str) -> None:
    found = refused("mount", typed(form), "ketch")
    assert list(found) == [field] and tells in found[field]


def test_an_overloaded_mount_is_named() -> None:
    made = report(mount_by="stiffness", mount_rating="4 kg")
    assert state(made, "load") == FAILS
    assert slots(figure(made, "load").reason()) == {"l": "5.74 kg", "r": "4 kg"}


def test_a_hollow_core_under_bolts_fails() -> None:
    cored = {"floor_material": "cored_balsa"}
    assert report(**cored).verdict in (FITS, TIGHT)
    made = report(**cored, core_filled="no")
    assert (made.verdict, made.decided_by) == (FAILS, "core")


@pytest.mark.parametrize(
    ("allowed", "verdict", "decides"),
    [("no", FAILS, "maker"), ("unknown", UNKNOWN, "maker-unsaid"), ("yes", TIGHT, "washer")],
)
def test_a_bulkhead_waits_for_the_maker(allowed: str, verdict: str, decides: str) -> None:
    made = report(attitude="bulkhead", on_bulkhead=allowed)
    assert (made.verdict, made.decided_by) == (verdict, decides)


def test_what_is_kept_of_a_floor_is_what_is_found_anew() -> None:
    """More frequencies than are kept, asked in two orders; another floor has its own."""
    made = at()
    under = made.place.footing.floor, made.stand.iso.places
    frequencies = [20.0 + 3 * n for n in range(floor._MOST_FOUND + 20)]
    kept = floor.ground(*under)
    forth = [kept.could_be(f) for f in frequencies]
    back = [kept.could_be(f) for f in reversed(frequencies)]
    floor.ground.cache_clear()
    anew = [floor.ground(*under).could_be(f) for f in frequencies]
    assert forth == back[::-1] == anew
    assert len(kept._found) <= floor._MOST_FOUND
