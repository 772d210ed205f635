"""What is common practice without a source is a decision: whoever changes one changes it here too.

`mutate.constants` finds the numbers of calc that are marked "no source"; here stands what each of
them is, so that none slips, and none new comes in unseen.
"""

from __future__ import annotations

import importlib
from datetime import timedelta
from typing import Any

import mutate
import pytest

DECIDED: dict[str, Any] = {
    "calc.calculators.feed.remedies.WORTH_IT": 1.5,
    "calc.calculators.power.charged.MOST_PANELS": 5000.0,
    "calc.calculators.power.charged.PANEL_STEP": 10.0,
    "calc.calculators.power.side_by_side.USUAL_RECOVERY": (0.08, 0.15),
    "calc.calculators.ventilation.tell._BURNS_SKIN": 333.15,
    "calc.calculators.ventilation.tell._HARD_ON_ELECTRONICS": 323.15,
    "calc.calculators.water.judge.THIN": 0.03,
    "calc.frame.figures.TIGHT_DECIBELS": 5.0,
    "calc.frame.figures.TIGHT_MARGIN": 0.1,
    "calc.physics.conductors._LARGE_REACTANCE": 0.05,
    "calc.physics.generators.LIGHT_LOAD": 0.3,
    "calc.physics.generators.SUBTRANSIENT_REACTANCE": 0.15,
    "calc.physics.inverters.BEST_LOAD": 0.35,
    "calc.physics.inverters.HOTTEST_AIR": 323.15,
    "calc.physics.motors.FIXED_LOSS_SHARE": 0.45,
    "calc.physics.pumps.BREAKAWAY_UNLOADED": 0.3,
    "calc.physics.solar.LINKE_TURBIDITY": 4.0,
    "calc.physics.starting.STARTING_POWER_FACTOR": 0.6,
    "calc.sheet.household.RESERVE": 0.25,
    "calc.system.bank.CHARGING_VOLTS": 14.4,
    "calc.system.bank.LITHIUM_CHARGING_VOLTS": 14.2,
    "calc.system.cooler._BORES": (0.05, 0.075, 0.1, 0.125, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5),
    "calc.system.feed_line.HOSE_MODULUS": 5e7,
    "calc.system.feed_line.HOSE_WALL": 0.0035,
    "calc.system.flushing.PUMP_VALVES": 2e4,
    "calc.system.flushing.SURPLUS": 2.0,
    "calc.system.locker.ENGINE_FILLS": 0.5,
    "calc.system.membranes.PER_KELVIN": 1.03,
    "calc.system.membranes.YEARLY_LOSS": 0.07,
    "calc.system.need.MOST_DRY": 0.05,
    "calc.system.on_bank.SKY_BAND": 0.1,
    "calc.system.on_generator.LOAD_STEP": 10.0,
    "calc.system.on_generator.POWER_STEP": 100.0,
    "calc.system.pressure_side.FREE_OF_TUBE": 0.5,
    "calc.system.pressure_side.HOSE_MODULUS": 5e8,
    "calc.system.pressure_side.HOSE_WALL": 0.0035,
    "calc.system.purse.OFF": 0.25,
    "calc.system.purse.POINTS": 0.02,
    "calc.system.tank_water.DENSER": 1.5,
    "calc.system.tank_water.FADED": 0.5,
    "calc.system.tank_water.LEAKS": 2.0,
    "calc.system.tank_water.RINSES": 3.0,
    "calc.system.tasks.GRACE": timedelta(days=14),
    "calc.system.watermaking.MOST_OF_RATED": 1.2,
    "calc.system.watermaking.RELIEF_ROOM": 1.1,
}


def names() -> set[str]:
    """Every constant marked so, as "module.NAME"."""
    found = set()
    for file, line, _ in mutate.constants():
        module = ".".join(file.with_suffix("").parts).removesuffix(".__init__")
        left = line.partition("=")[0]
        found |= {f"{module}.{name.strip()}" for name in left.split(",")}
    return found


@pytest.mark.parametrize("name", sorted(DECIDED))
def test_a_decision_is_as_it_was_taken(name: str) -> None:
    module, _, constant = name.rpartition(".")
    assert getattr(importlib.import_module(module), constant) == DECIDED[name]


def test_every_number_without_a_source_stands_among_the_decisions() -> None:
    assert names() == set(DECIDED)
