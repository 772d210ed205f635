"""What is told besides the figures: headline, the table of waiting, who asks a doctor."""

from __future__ import annotations

from ...frame.report import Report
from ...system.tank_water import LEAKS, LEAST_LEFT, Dose, TankWater

TASTES = ("excellent", "good", "fair", "poor", "unacceptable")
_WARMTHS = (278.15, 283.15, 288.15, 293.15, 298.15)  # K
_HIGH_PH = 8.0  # WHO: chlorine wants less
_AGREE = 0.005


def headline(water: TankWater, show: Report) -> None:
    """Salt and taste; bleach and the wait."""
    show.headline(
        "By your meter it has {s} of salt: WHO calls the taste {t}.",
        s=(water.salt.value, "mg/L"),
        t=TASTES[water.taste],
    )
    if water.leak is not None and not water.leak.holds:
        # No dose is told: after its wait one would drink what chlorine doesn't make good.
        show.headline("That is more than these membranes let through: look for a leak.")
        return
    dose = water.dose
    if dose is not None and dose.held_dose.holds and not (water.unguarded or dose.bleach.faded):
        show.headline(
            "For a full tank of {v} take {b} of your bleach. Nobody drinks of it for {t}, and then "
            "only if a test shows {c} or more.",
            v=(water.tank, "L"),
            b=(dose.poured, "mL"),
            t=(dose.wait, "min"),
            c=(max(dose.left, LEAST_LEFT), "mg/L"),
        )


def tables(water: TankWater, show: Report) -> None:
    """How long to wait in colder and in warmer water."""
    dose = water.dose
    if dose is None:
        return
    rows = []
    for warm in _WARMTHS:
        there = dose.at(warm)
        rows.append(((warm, "°C"), (there.cysts, "min"), (there.viruses, "min")))
    show.table(
        "waits",
        "How long to wait, by the warmth of the water",
        ("Water", "For cysts", "For viruses"),
        rows,
        note="With the chlorine that is left and the pH that you gave.",
        on_card=(0, 1, 2),
    )


def notes(water: TankWater, show: Report) -> None:
    """Who asks a doctor, what a meter doesn't tell, and where the numbers end."""
    show.note(
        "Ask a doctor before you live on this water if there is a baby, a pregnancy, a weak heart, "
        "weak kidneys, weak defences or a diet with little salt aboard. It has about {n} of "
        "sodium, hardly any calcium, magnesium or fluoride.",
        n=(water.sodium, "mg/L"),
    )
    if water.expected is not None and water.reading.salt < water.expected / LEAKS:
        show.note(
            "Your meter shows far less salt than these membranes should let through. Check it in a "
            "solution of known strength, and what it shows: µS/cm, or ppm by which factor."
        )
    show.note(
        "A meter tells salt. It tells nothing of germs, fuel, the poison of algae or boron: "
        "clear and sweet does not mean safe."
    )
    show.note(
        "WHO's guideline for boron is {g}; it is quoted, since its own inputs don't give it, and "
        "some countries allow more or less. This sea has about {b}, and it passes a membrane more "
        "easily when warm and old.",
        g=(water.boron.limit, "mg/L"),
        b=(water.sea_boron, "mg/L"),
    )
    show.note(
        "Fresh from the membrane the water is soft and acid, and takes metal from pipes and "
        "fittings. Calcite of food grade in a filter on the way to the tank gives it {c} of "
        "calcium, as far as its carbon dioxide reaches: without, only a part dissolves. Never "
        "together with an acid.",
        c=(water.calcium, "mg/L"),
    )
    if water.dose is not None:
        _chlorine(water.dose, show)


def _chlorine(dose: Dose, show: Report) -> None:
    off = dose.by_regression / dose.cysts - 1
    if off > _AGREE:
        show.note(
            "EPA has a formula beside its table; by that it takes {t}, {x} more. They are two "
            "rules, and here the table alone is used.",
            t=(dose.by_regression, "min"),
            x=(off, "%"),
        )
    elif off < -_AGREE:
        show.note(
            "EPA has a formula beside its table; by that it takes {t}, {x} less. They are two "
            "rules, and here the table alone is used.",
            t=(dose.by_regression, "min"),
            x=(-off, "%"),
        )
    show.note(
        "Bleach fades, faster when warm and strong. If yours has not faded at all, the same "
        "millilitres make {c}. So test the water, whatever the label says.",
        c=(dose.if_fresh, "mg/L"),
    )
    if dose.ph > _HIGH_PH:
        show.note(
            "At a pH above {p} chlorine does little: WHO asks for less than that. So much comes "
            "from too much calcite or bleach.",
            p=(_HIGH_PH, ""),
        )
    show.note("Cysts of Cryptosporidium outlive these doses. Boil water that may hold them.")
