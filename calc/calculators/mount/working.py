"""The working: each step as a formula, the numbers put in, its result and its source."""

from __future__ import annotations

import math

from ...frame.report import Report, line
from ...physics import fasteners, rubber, vibration
from ...system.fixing import wood_depth
from ...system.mounts import bobbin_of
from ...system.place import Placed


def working(made: Placed, show: Report) -> None:
    """Mounts, floor, fastening, lifting."""
    _mount_steps(made, show)
    _floor_steps(made, show)
    _fastening_steps(made, show)


def _mount_steps(made: Placed, show: Report) -> None:
    stand, iso = made.stand, made.stand.iso
    mounts = made.place.footing.mounts
    if mounts.by == "rubber":
        band = rubber.modulus_band(mounts.shore)
        across, high = mounts.bobbin
        show.step(
            "Stiffness of one bobbin, at rest",
            iso.each,
            "N/mm",
            "k = sqrt(E_1 * E_2) * (1 + 2 * (D / (4 * h))**2) * pi * D**2 / 4 / h",
            {
                "E_1": (band.low, "MPa"),
                "E_2": (band.high, "MPa"),
                "D": (across, "mm"),
                "h": (high, "mm"),
            },
            "Moduli of Gent and of Ruess for this hardness; shape factor by Gent and Lindley, "
            "Strojniški vestnik 60 (2014) 506-511",
            "The two published relations disagree; this is their middle.",
        )
        _buckling_step(made, show)
    if not stand.hard:
        show.step(
            "Bounces on a rigid floor at",
            stand.bounce,
            "Hz",
            "f_n = sqrt(n * c * k / m) / (2 * pi)",
            {
                "n": (float(len(iso.places)), ""),
                "c": (iso.ratio, "×"),
                "k": (iso.each, "N/mm"),
                "m": (made.unit.mass, "kg"),
            },
            "K. Ogata, System Dynamics, 4th ed., ch. 8; rubber's stiffening c: common practice",
        )
    lowest = stand.slowest.frequency
    show.step(
        "Share of the slowest vibration that reaches the floor",
        stand.passed(lowest, stand.on_floor),
        "%",
        "T = sqrt((1 + eta**2) / ((1 - (f / f_b)**2)**2 + eta**2))",
        {"eta": (iso.loss, "×"), "f": (lowest, "Hz"), "f_b": (stand.on_floor, "Hz")},
        "T. E. Vigran, Building Acoustics, eq. (2.43), p. 51, with the floor's stiffness in series",
        "Damping is a loss factor, the same at every frequency, as in all that is told of mounts.",
    )


def _buckling_step(made: Placed, show: Report) -> None:
    bobbin = bobbin_of(made.place.footing.mounts)
    show.step(
        "One bobbin buckles at",
        made.stand.iso.buckles,
        "N",
        "P = S / 2 * (sqrt(1 + 4 * P_E / S) - 1)",
        {"S": (bobbin.rigidity, "N"), "P_E": (math.pi**2 * bobbin.bending / bobbin.height**2, "N")},
        "J. M. Kelly, S. M. Takhirov, Journal of Mechanics of Materials and Structures 2 (2007) "
        "1591, after J. A. Haringx (1948); the equation is from memory",
        "S = G A, P_E = π² E I / h², ends held level and free to sway. The nearer the load comes "
        "to it, the softer the bobbin is sideways; that is counted in the six motions.",
    )


def _floor_steps(made: Placed, show: Report) -> None:
    stand, iso, f = made.stand, made.stand.iso, made.stand.heard.frequency
    _note_step(made, show)
    if stand.hard:
        return
    mass = made.unit.mass
    mounts = vibration.spring_mobility(iso.shaken, iso.loss, f)
    machine = vibration.mass_mobility(mass, f)
    show.step(
        "Mobility of the mounts",
        abs(mounts),
        "mm/(s N)",
        "Y_i = 2 * pi * f / (k * sqrt(1 + eta**2))",
        {"f": (f, "Hz"), "k": (iso.shaken, "N/mm"), "eta": (iso.loss, "×")},
        "T. E. Vigran, Building Acoustics, § 2.5",
    )
    show.step(
        "Mobility of the unit",
        1 / (2 * math.pi * f * mass),
        "mm/(s N)",
        "Y_m = 1 / (2 * pi * f * m)",
        {"f": (f, "Hz"), "m": (mass, "kg")},
        "T. E. Vigran, Building Acoustics, § 2.5",
    )
    floors = [y for y in stand.ground.mobilities(f) if y]
    if not floors:
        return
    hard, soft = [
        math.exp(sum([math.log(abs(y / (machine + between + y))) for y in floors]) / len(floors))
        for between in (0j, mounts)
    ]
    show.step(
        "The floor shakes less by",
        stand.gained,
        "dB",
        "G = 20 * log10(v_h / v_m)",
        {"v_h": (hard * abs(machine), "mm/(s N)"), "v_m": (soft * abs(machine), "mm/(s N)")},
        "T. E. Vigran, Building Acoustics, eq. (2.43), p. 51",
        "How fast the floor moves for each newton inside the unit, bolted down hard and on the "
        "mounts: |Y_f Y_m / (Y_m + Y_i + Y_f)|, with Y_i and Y_m as above and Y_f the sum of the "
        "floor's modes under the feet. Geometric mean over the places where its notes may lie.",
    )


def _note_step(made: Placed, show: Report) -> None:
    """The floor's first note, where a formula gives it: an even panel, supported all round."""
    floor, under = made.place.footing.floor, made.stand.ground
    if under.panel is None or floor.battens or floor.plate or floor.edges != "supported":
        return
    if not math.isinf(under.panel.section.shear):
        return
    show.step(
        "The floor's first note",
        under.drums[0].frequency,
        "Hz",
        "f_1 = pi / 2 * sqrt(B / m) * (1 / a**2 + 1 / b**2)",
        {
            "B": (under.bending, "N m"),
            "m": (under.mass_per_area, "kg/m2"),
            "a": (under.length, "mm"),
            "b": (under.width, "mm"),
        },
        line(
            "R. D. Blevins, Formulas for Natural Frequency and Mode Shape; panel: {source}",
            source=under.source,
        ),
        "B is its bending stiffness per metre of width. The notes above it are found likewise, and "
        "all may lie a quarter off: wood and laminate scatter, and edges are neither quite free to "
        "turn nor quite held.",
    )


def _fastening_steps(made: Placed, show: Report) -> None:
    fixing, hands = made.place.fixing, made.place.hands
    if fixing.bolted:
        diameter, pitch = fasteners.COARSE_PITCH[fixing.bolt]
        grade = fasteners.BOLT_CLASSES[fixing.bolt_class]
        show.step(
            "Breaking load of one bolt",
            made.holding.tensile,
            "N",
            "F = R_m * pi / 4 * (d - 0.9382 * p)**2",
            {"R_m": (grade.tensile, "MPa"), "d": (diameter, "mm"), "p": (pitch, "mm")},
            "ISO 898-1, stress area; ISO 3506-1 or ISO 898-1, property class",
        )
    elif fixing.by == "screws":
        show.step(
            "Breaking pull of one screw",
            made.holding.tensile,
            "N",
            "F = 108.25e6 * G**2 * D * L",
            {
                "G": (fasteners.WOODS[fixing.wood].specific_gravity, ""),
                "D": (fixing.screw, "mm"),
                "L": (wood_depth(made.place.footing.floor), "mm"),
            },
            "USDA Wood Handbook, ch. 8 (from memory)",
            "Plywood held less than this in tests; sideways it is taken to hold as much as "
            "outwards (common practice).",
        )
    show.step(
        "One person lifts at most",
        hands.limit,
        "kg",
        "m = 23 * min(1, 0.25 / r) * max(0, 1 - 0.3 * abs(h - 0.75))",
        {"r": (hands.reach, "mm"), "h": (hands.height, "mm")},
        "NIOSH 94-110, revised lifting equation, other multipliers 1",
    )
