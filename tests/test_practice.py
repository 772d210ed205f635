"""What is common practice without a source is a decision: whoever changes one changes it here too.

`mutate.constants` finds the numbers of calc that are marked "no source"; here stands what each of
them is, so that none slips, and none new comes in unseen.
"""

from __future__ import annotations

import importlib
from dataclasses import fields, is_dataclass
from datetime import timedelta
from typing import Any

import mutate
import pytest

DECIDED: dict[str, Any] = {
    "calc.calculators.feed.remedies.WORTH_IT": 1.5,
    "calc.calculators.mount.floor_remedies.USELESS": 3.0,
    "calc.calculators.noise.measures.HOUSE_OPENINGS": (0.002, 0.012, True),
    "calc.calculators.noise.measures.MOST_BARRIER": 20.0,
    "calc.calculators.noise.measures.THICKEST": {
        "plywood": 0.036,
        "grp_csm": 0.024,
        "grp_woven": 0.024,
        "steel": 0.01,
        "aluminium": 0.016,
        "softwood": 0.045,
        "hardwood": 0.045,
        "core": 0.05,
        "bearers": 0.15,
    },
    "calc.calculators.noise.measures.USUAL_SHARE": 0.6,
    "calc.calculators.noise.remedies.LOUDEST_FILM": 80.0,
    "calc.calculators.power.charged.MOST_PANELS": 5000.0,
    "calc.calculators.power.charged.PANEL_STEP": 10.0,
    "calc.calculators.power.side_by_side.USUAL_RECOVERY": (0.08, 0.15),
    "calc.calculators.ventilation.tell._BURNS_SKIN": 333.15,
    "calc.calculators.ventilation.tell._HARD_ON_ELECTRONICS": 323.15,
    "calc.calculators.water.judge.THIN": 0.03,
    "calc.frame.figures.TIGHT_DECIBELS": 5.0,
    "calc.frame.figures.TIGHT_MARGIN": 0.1,
    "calc.physics.conductors._LARGE_REACTANCE": 0.05,
    "calc.physics.fasteners.SEA_LOADS": (
        ("at rest, upright", 0.0, 0.0, 1.0),
        ("heeled 30°", 0.0, 0.5, 0.87),
        ("rolling and heaving in a seaway", 0.5, 1.0, 2.0),
        ("slamming", 1.0, 0.5, 3.0),
        ("heaving down, weight nearly gone", 0.5, 1.0, 0.0),
        ("knock-down to 90°", 0.0, 1.5, 0.5),
        ("upside down", 0.0, 0.5, -1.0),
    ),
    "calc.physics.generators.LIGHT_LOAD": 0.3,
    "calc.physics.generators.SUBTRANSIENT_REACTANCE": 0.15,
    "calc.physics.heat.MATERIALS": {
        "plywood": (0.13, 500, 1600),
        "softwood": (0.13, 500, 1600),
        "hardwood": (0.18, 700, 1600),
        "glass fibre laminate": (0.25, 1500, 1200),
        "balsa core": (0.055, 150, 1600),
        "foam core": (0.035, 80, 1400),
        "polyurethane foam": (0.025, 35, 1400),
        "mineral wool": (0.038, 40, 1030),
        "steel": (50, 7800, 450),
        "stainless steel": (17, 7900, 500),
        "aluminium alloy": (160, 2800, 880),
        "acrylic": (0.2, 1180, 1500),
    },
    "calc.physics.inverters.BEST_LOAD": 0.35,
    "calc.physics.inverters.HOTTEST_AIR": 323.15,
    "calc.physics.motors.FIXED_LOSS_SHARE": 0.45,
    "calc.physics.motors.KINDS": {
        "start_run": (0.92, 2.5, True),
        "capacitor_start": (0.7, 2.5, True),
        "permanent": (0.95, 0.5, False),
        "split": (0.68, 1.3, True),
        "unknown": (0.68, 0.5, True),
    },
    "calc.physics.pumps.BREAKAWAY_UNLOADED": 0.3,
    "calc.physics.rubber.RUBBERS": {
        "natural": ("natural rubber", 0.1, "swells in oil and fuel"),
        "neoprene": ("chloroprene (neoprene)", 0.16, "stands oil splash, salt and sun"),
        "nitrile": ("nitrile", 0.2, "stands oil and fuel"),
        "epdm": ("EPDM", 0.16, "stands salt and sun, not oil"),
    },
    "calc.physics.solar.LINKE_TURBIDITY": 4.0,
    "calc.physics.sound.ESTIMATE_UNCERTAINTY": 7.0,
    "calc.physics.sound.STRUCTURE_BORNE_UNCERTAINTY": 6.0,
    "calc.physics.starting.STARTING_POWER_FACTOR": 0.6,
    "calc.physics.ventilation.BLOWER_POWER": 800.0,
    "calc.physics.ventilation.DUCT_VELOCITY": 6.0,
    "calc.physics.ventilation.ENGINE_SUCTION": 50.0,
    "calc.physics.ventilation.HOSE_FRICTION_MULTIPLIER": 2.5,
    "calc.physics.ventilation.LOSS_COEFFICIENT": {
        "plain duct end, drawing in": 1.0,
        "flush or flared entry": 0.5,
        "free outlet": 1.0,
        "smooth 90 degree bend": 0.3,
        "tight 90 degree bend": 1.2,
        "clamshell or cowl vent": 1.5,
    },
    "calc.sheet.household.RESERVE": 0.25,
    "calc.sheet.sun.USUAL_HEAT_LOSS": -0.0035,
    "calc.sheet.places.FLARE": 1.5,
    "calc.sheet.places.OVERHANG": 1.35,
    "calc.system.trim.STIFF_SHARE": 0.6,
    "calc.system.bank.CHARGING_VOLTS": 14.4,
    "calc.system.bank.LITHIUM_CHARGING_VOLTS": 14.2,
    "calc.system.cooler._BORES": (0.05, 0.075, 0.1, 0.125, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5),
    "calc.system.cooling.COPPER_SHARE": 0.15,
    "calc.system.cooling.DISCHARGE_RISE": 10.0,
    "calc.system.cooling.STANDSTILL_COOLING": 0.35,
    "calc.system.cooling.WINDING_SHARE": 0.3,
    "calc.system.course.APART": 4.0,
    "calc.system.course.STRICT": 1.5,
    "calc.system.feed_line.HOSE_MODULUS": 5e7,
    "calc.system.feed_line.HOSE_WALL": 0.0035,
    "calc.system.floor.UNSURE": 1.25,
    "calc.system.flushing.PUMP_VALVES": 2e4,
    "calc.system.flushing.SURPLUS": 2.0,
    "calc.system.locker.ENGINE_FILLS": 0.5,
    "calc.system.membranes.PER_KELVIN": 1.03,
    "calc.system.membranes.YEARLY_LOSS": 0.07,
    "calc.system.mount_search.SOFTEST": 0.01,
    "calc.system.mount_search.THICKNESSES": {
        "plywood": (9, 12, 15, 18, 21, 24, 27, 30),
        "grp_csm": (6, 8, 10, 12, 15, 18),
        "grp_woven": (6, 8, 10, 12, 15, 18),
        "steel": (4, 5, 6, 8),
        "aluminium": (4, 5, 6, 8, 10, 12),
        "softwood": (18, 22, 27, 32, 38, 45),
        "hardwood": (18, 22, 27, 32, 38, 45),
    },
    "calc.system.need.MOST_DRY": 0.05,
    "calc.system.on_bank.SKY_BAND": 0.1,
    "calc.system.on_generator.LOAD_STEP": 10.0,
    "calc.system.on_generator.POWER_STEP": 100.0,
    "calc.system.pressure_side.FREE_OF_TUBE": 0.5,
    "calc.system.pressure_side.HOSE_MODULUS": 5e8,
    "calc.system.pressure_side.HOSE_WALL": 0.0035,
    "calc.system.purse.OFF": 0.25,
    "calc.system.purse.POINTS": 0.02,
    "calc.system.readings.BOOST_LOSES_BY_AIR": 2.0,
    "calc.system.readings.CAPACITOR_LOSSES": 0.5,
    "calc.system.readings.CAPACITOR_POWER_FACTOR": 0.25,
    "calc.system.readings.METERS": {
        "before": (2e3, 5e3, 2e3),
        "behind": (2e3, 5e3, 2e3),
        "pressure": (0.007, 0.02, 0.007),
        "drop": (3e3, 2e3, 1e3),
        "product": (0.015, 0.02, 0.007),
        "brine": (0.015, 0.02, 0.007),
        "conductivity": (0.02, 0.05, 0.03),
        "temperature": (0.3, 0.5, 0.2),
        "salinity": (0.01, 0.01, 0.005),
        "volts": (0.005, 0.01, 0.003),
        "amperes": (0.01, 0.02, 0.007),
        "hertz": (0.001, 0.001, 0.001),
    },
    "calc.system.readings.STARVES": -0.6e5,
    "calc.system.shaker.CRANK_BALANCE": 0.016,
    "calc.system.shaker.MOTOR_BALANCE": 0.0063,
    "calc.system.shaker.ROD_RATIO": 0.16666666666666666,
    "calc.system.sound.BULKHEAD_AREA": 3.0,
    "calc.system.sound.DOOR_AREA": 0.9,
    "calc.system.sound.DOOR_GAP": 0.008,
    "calc.system.sound.SOFT_SHARE": {"soft": 0.35, "some": 0.15, "hard": 0.03},
    "calc.system.stand.AIR_ROUND": 0.03,
    "calc.system.stand.NEAR": 0.15,
    "calc.system.tank_water.DENSER": 1.5,
    "calc.system.tank_water.FADED": 0.5,
    "calc.system.tank_water.LEAKS": 2.0,
    "calc.system.tank_water.RINSES": 3.0,
    "calc.system.tasks.GRACE": timedelta(days=14),
    "calc.system.trend.DAYS": 14,
    "calc.system.trend.FIRST": 5,
    "calc.system.trend.NEEDED": 8,
    "calc.system.to_buy.ABOVE": 1,
    "calc.system.to_buy.BELOW": 2,
    "calc.system.watermaking.MOST_OF_RATED": 1.2,
    "calc.system.watermaking.RELIEF_ROOM": 1.1,
}


def names() -> set[str]:
    """Every constant marked so, as "module.NAME"."""
    found = set()
    for one in mutate.marked():
        module = ".".join(one.file.with_suffix("").parts).removesuffix(".__init__")
        found |= {f"{module}.{name}" for name in one.names}
    return found


def plain(value: Any) -> Any:
    """A value with what is in it as tuples, its words left out: they are no decision."""
    if is_dataclass(value):
        inside = (getattr(value, one.name) for one in fields(value))
        return tuple(plain(one) for one in inside if not isinstance(one, str))
    if isinstance(value, tuple | list):
        return tuple(plain(one) for one in value)
    if isinstance(value, dict):
        return {key: plain(one) for key, one in value.items()}
    return value


@pytest.mark.parametrize("name", sorted(DECIDED))
def test_a_decision_is_as_it_was_taken(name: str) -> None:
    module, _, constant = name.rpartition(".")
    assert plain(getattr(importlib.import_module(module), constant)) == DECIDED[name]


def test_every_number_without_a_source_stands_among_the_decisions() -> None:
    assert names() == set(DECIDED)
