"""The salt against taste and against what the unit should make; the chlorine against its limits."""

from __future__ import annotations

from ...frame.report import Report, line
from ...system.tank_water import LEAKS, LEAST_WAIT, Dose, TankWater


def judge(water: TankWater, show: Report) -> None:
    """All that must hold, and the numbers that one asks for."""
    _salt(water, show)
    _waste(water, show)
    show.held(
        "boron",
        "Boron in the fresh water, about",
        water.boron,
        "mg/L",
        decides=False,
        note="no meter aboard shows it; the limit is WHO's guideline value",
    )
    if water.unguarded:
        show.fail(
            "dosed-flush",
            "you dose the tank and flush the membrane from it, and no carbon stands in the flush "
            "line: chlorine ruins a membrane",
        )
    if water.dose is not None:
        _chlorine(water.dose, show)
    show.figure(
        "calcite",
        "Calcite for a full tank",
        water.calcite,
        "g",
        note=line("to a hardness of {h}, if all of it dissolves", h=(water.hardness, "mg/L")),
    )
    show.figure(
        "carbon_dioxide",
        "Carbon dioxide that it takes to dissolve it",
        water.carbon_dioxide,
        "mg/L",
    )


def _salt(water: TankWater, show: Report) -> None:
    show.held(
        "salt",
        "Salt in the water, by the meter",
        water.salt,
        "mg/L",
        says=line(
            "by the meter it has {s} of salt, and you want {m} at most",
            s=(water.salt.value, "mg/L"),
            m=(water.aim, "mg/L"),
        ),
    )
    if water.leak is None or water.expected is None:
        return
    show.held(
        "leak",
        "The same, against what only a leak explains",
        water.leak,
        "mg/L",
        says=line(
            "by the meter it has {s} of salt, and the membranes should let {e} through in this "
            "sea: beyond {n} times as much, sea water gets past them",
            s=(water.leak.value, "mg/L"),
            e=(water.expected, "mg/L"),
            n=(LEAKS, ""),
        )
        if not water.leak.holds
        else line(
            "by the meter it has {s} of salt; the membranes should let {e} through in this sea",
            s=(water.leak.value, "mg/L"),
            e=(water.expected, "mg/L"),
        ),
        note="twice what they should let through; common practice, no source",
    )
    show.figure(
        "expected",
        "This unit should make it with",
        water.expected,
        "mg/L",
        note="in this sea, at this pressure, as on the page Water from this sea",
    )
    if water.leaking > 0:
        show.figure("leaking", "So much sea water in it would explain the rest", water.leaking, "%")


def _waste(water: TankWater, show: Report) -> None:
    if water.waste is None:
        return
    show.figure(
        "waste",
        "First water to waste, at least",
        water.waste,
        "min",
        note="three times what the hose holds; then the meter decides. Common practice, no source",
    )
    show.figure(
        "first",
        "Let into a full tank, that hose's water adds at the worst",
        water.first_adds,
        "mg/L",
        note="as salty as the sea, which after weeks of rest it may become",
    )


def _chlorine(dose: Dose, show: Report) -> None:
    if dose.bleach.faded:
        show.unknown(
            "faded",
            "how much of your bleach to pour: less than half of the {s} on its label is left by "
            "its age, and what is left of it differs from bottle to bottle",
            s=(dose.bleach.strength, "g/L"),
        )
    else:
        show.figure("bleach", "Bleach for a full tank", dose.poured, "mL")
    show.held(
        "dose",
        "Free chlorine to dose",
        dose.held_dose,
        "mg/L",
        says=line(
            "you dose {c} of chlorine; drinking water may hold {m}",
            c=(dose.chlorine, "mg/L"),
            m=(dose.held_dose.limit, "mg/L"),
        ),
        note="EPA's maximum residual, 40 CFR 141.65",
    )
    show.held(
        "left",
        "Free chlorine left at the end, by the test",
        dose.held_left,
        "mg/L",
        says=line(
            "{c} of free chlorine are left at the end, and WHO asks for {m}",
            c=(dose.left, "mg/L"),
            m=(dose.held_left.limit, "mg/L"),
        ),
        note="WHO, after half an hour or more",
    )
    show.figure(
        "wait",
        "Wait until anybody drinks of it",
        dose.wait,
        "min",
        note="the longer of the next two",
    )
    show.figure(
        "cysts",
        "Until 99.9 % of Giardia cysts are dead",
        dose.cysts,
        "min",
        note="EPA's table, no warmer and no less in pH and chlorine than yours",
    )
    show.figure(
        "viruses",
        "Until 99.99 % of viruses are dead",
        dose.viruses,
        "min",
        note=line("a table of its own; WHO's {t} at least", t=(LEAST_WAIT, "min")),
    )
    show.figure(
        "strength",
        "Your bleach still has",
        dose.bleach.left,
        "g/L",
        note=line("available chlorine; when filled {s}", s=(dose.bleach.strength, "g/L")),
    )
