"""The working: salt by the meter, the first water, boron, calcite, bleach and its time."""

from __future__ import annotations

from ...frame.report import Report
from ...physics import drinking_water
from ...system.tank_water import CONDUCTIVITY, RINSES, Dose, TankWater

_MASS = "Balance of mass"
_CT = "EPA 815-R-20-003 (2020), table B-1; the same in 40 CFR 141.74"


def steps(water: TankWater, show: Report) -> None:
    """In the order of the water."""
    _meter(water, show)
    _line(water, show)
    show.step(
        "Boron in the fresh water",
        water.boron.value,
        "mg/L",
        "c_p = p * 0.0045 * S / 35",
        {"p": (water.boron_passage, "%"), "S": (water.making.sea.practical_salinity, "")},
        "4.5 mg/L of boron in the sea: reviews of desalination; in proportion to its salt",
    )
    show.step(
        "Calcite for a full tank",
        water.calcite,
        "g",
        "m = V * h",
        {"V": (water.tank, "L"), "h": (water.hardness, "mg/L")},
        _MASS,
    )
    show.step(
        "Carbon dioxide for that",
        water.carbon_dioxide,
        "mg/L",
        "h_c = h * 44.01 / 100.087",
        {"h": (water.hardness, "mg/L")},
        "CaCO3 + CO2 + H2O = Ca(HCO3)2, a mole to a mole",
    )
    if water.dose is not None:
        _dose(water.dose, show)


def _meter(water: TankWater, show: Report) -> None:
    reading = water.reading
    if reading.factor is not None:
        show.step(
            "Conductivity behind the ppm",
            reading.conductivity,
            "µS/cm",
            "kappa = 0.1 * c_m / f",
            {"c_m": (reading.shown, "mg/L"), "f": (reading.factor, "")},
            "The meter's own factor, undone",
            "0.1: from mg/L for each µS/cm into SI.",
        )
    elif reading.meter != CONDUCTIVITY:
        show.step(
            "Conductivity behind the ppm of NaCl",
            reading.conductivity,
            "µS/cm",
            "kappa = Lambda * c_m / 0.058443",
            {
                "Lambda": (drinking_water.equivalent_conductivity(reading.shown), ""),
                "c_m": (reading.shown, "mg/L"),
            },
            "CRC Handbook of Chemistry and Physics, sodium chloride at 25 °C (from memory)",
        )
    dense = reading.salt / (reading.practical * 0.03516504 / 35) if reading.practical else 997.0
    show.step(
        "Salt in it, as sea salt",
        reading.salt,
        "mg/L",
        "c = 0.03516504 * S / 35 * rho",
        {"S": (reading.practical, ""), "rho": (dense, "kg/m3")},
        "PSS-78, below 2 by Hill, Dauphinee and Woods (1986); its salt: TEOS-10",
        "S: by the conductivity and the temperature that the meter shows it for.",
    )


def _line(water: TankWater, show: Report) -> None:
    if water.waste is None:
        return
    show.step(
        "First water to waste",
        water.waste,
        "min",
        "t = n * pi / 4 * d**2 * l / Q",
        {
            "n": (RINSES, ""),
            "d": (water.bore, "mm"),
            "l": (water.length, "m"),
            "Q": (water.making.made.product, "L/h"),
        },
        "Plug flow, three times over: common practice, no source",
    )
    sea = max(water.making.sea.concentration, water.reading.salt)
    show.step(
        "What the hose's first water adds to a full tank",
        water.first_adds,
        "mg/L",
        "c_a = (V * c + V_h * c_s) / (V + V_h) - c",
        {
            "V": (water.tank, "L"),
            "c": (water.reading.salt, "mg/L"),
            "V_h": (water.hose, "mL"),
            "c_s": (sea, "g/L"),
        },
        _MASS,
    )


def _dose(dose: Dose, show: Report) -> None:
    bleach = dose.bleach
    show.step(
        "What is left of the bleach's strength",
        bleach.left,
        "g/L",
        "c_b = c_0 / (1 + k * c_0 / 0.070906 * a)",
        {"c_0": (bleach.strength, "g/L"), "k": (bleach.fades, ""), "a": (bleach.age, "days")},
        "Second order: AWWA and Water Research Foundation, Hypochlorite (2009), from memory",
        "k by strength and warmth, in m³/(mol s).",
    )
    if not bleach.faded:
        show.step(
            "Bleach for a full tank",
            dose.poured,
            "mL",
            "V_b = V * c / c_b",
            {"V": (dose.tank, "L"), "c": (dose.chlorine, "mg/L"), "c_b": (bleach.left, "g/L")},
            _MASS,
        )
    show.step(
        "Time for cysts",
        dose.cysts,
        "min",
        "t = CT / c",
        {"CT": (dose.cysts_ct, "mg min/L"), "c": (dose.counted, "mg/L")},
        _CT,
        "c: what is left at the end. CT of the row no warmer, with no less chlorine and pH.",
    )
    show.step(
        "Time for viruses",
        dose.viruses,
        "min",
        "t = max(1800, CT / c)",
        {"CT": (dose.viruses_ct, "mg min/L"), "c": (dose.counted, "mg/L")},
        "EPA 815-R-20-003 (2020), 4-log, pH 6 to 9; WHO's half hour at least",
    )
