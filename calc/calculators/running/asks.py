"""What is asked about switches and valves, and how long each part of a start takes."""

from __future__ import annotations

from ... import sheet
from ...frame.inputs import ask, but, is_set
from ...sheet import BoatSheet as boat
from ...sheet.groups import PRACTICE, VALVES
from ...system.watermaking import feed_on

RELIEF = "A relief valve stands at the high-pressure pump"
TIMES = "How long each takes"


class Asks(
    sheet.Machine,
    sheet.Valves,
    sheet.Hertz,
    sheet.FlushFrom,
    first=(
        "unit",
        "has_boost",
        "pump_switches",
        "flush_way",
        "brine_valve",
        "brine_dips",
        "product_way",
        "product_relief",
        "has_relief",
        "low_pressure_switch",
        "remote_start",
        "bowl_vents",
        "salinity_meter",
        "flush_water",
        "flush_from",
        "flush_by",
        "flow",
    ),
):
    has_boost = but(boat.has_boost, group=VALVES, open=True)
    has_relief = but(boat.has_relief, label=RELIEF, group=VALVES, open=True)
    flow = but(boat.flow, group=VALVES)
    flush_from = but(boat.flush_from, group=VALVES, open=False)
    flush_by = but(boat.flush_by, group=VALVES, open=False)
    fill_time = ask(
        "Boost pump alone, until no air comes",
        "2 min",
        group=TIMES,
        at_least="0 min",
        at_most="60 min",
        basis=PRACTICE,
        when=is_set("has_boost"),
    )
    idle_time = ask(
        "High-pressure pump without pressure",
        "2 min",
        group=TIMES,
        at_least="0 min",
        at_most="60 min",
        basis=PRACTICE,
    )
    raise_time = ask(
        "Bringing the pressure up",
        "1 min",
        group=TIMES,
        at_least="0.5 min",
        at_most="60 min",
        basis=PRACTICE,
    )
    waste_time = but(boat.waste_time, group=TIMES)

    @property
    def moves(self) -> float:
        """What the pump moves on these mains [m3/s]."""
        return feed_on(self.flow, self.unit.motor.frequency, self.ac_frequency)

    @property
    def flush_lasts(self) -> float:
        """How long the water for a flush lasts at the pump's flow [s]."""
        return self.flush_water / self.moves
