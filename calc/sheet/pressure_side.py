"""What stands under the pump's pressure: what each part bears, and where the relief valve opens."""

from __future__ import annotations

from ..equipment.kinds import Unit
from ..frame.inputs import Inputs, aboard, ask, is_set
from ..system.motor import Pump, Rating
from .groups import PRESSURE_SIDE

_RELIEF = is_set("has_relief")


class Ratings(Inputs, part=True):
    """What the parts bear besides pump and membranes, where that is said, and the relief valve."""

    hose_bears = ask(
        "High-pressure hose, working pressure",
        unit="bar",
        from_record="unit.hose.highest_pressure",
        group=PRESSURE_SIDE,
        at_least="10 bar",
        at_most="700 bar",
        optional=True,
        help="Printed along the hose: the working pressure (WP), not the burst pressure.",
    )
    fittings_bear = ask(
        "Weakest of its ends and of the fittings, working pressure",
        unit="bar",
        from_record="unit.hose.ends",
        group=PRESSURE_SIDE,
        at_least="10 bar",
        at_most="700 bar",
        optional=True,
        help="Hose ends, tees, the regulating valve: all that is not rubber.",
    )
    vessel_bears = ask(
        "Membrane's pressure tube, working pressure",
        unit="bar",
        from_record="unit.vessel.highest_pressure",
        group=PRESSURE_SIDE,
        at_least="10 bar",
        at_most="120 bar",
        optional=True,
        help="On its label; tubes of 69 bar are sold as 1000 psi.",
    )
    has_relief = aboard(
        "There is a relief valve",
        "yes",
        "relief_opens",
        group=PRESSURE_SIDE,
        help="It opens by itself when the pressure is too high. The regulating valve is none, "
        "nor is a pressure switch.",
    )
    relief_opens = ask(
        "The relief valve opens at",
        unit="bar",
        from_record="unit.relief.opens",
        group=PRESSURE_SIDE,
        at_least="10 bar",
        at_most="120 bar",
        optional=True,
        when=_RELIEF,
        help="On its plate or seal. Never try it out, and never turn its screw.",
    )

    def pump(self, unit: Unit, flow: float, pressure: float) -> Pump:
        """The pump of a unit at a feed flow [m3/s] and a pressure [Pa], with what stands under it,
        in the order of the water."""
        found = {
            "pump": unit.pump.highest_pressure,
            "hose": self.hose_bears,
            "fittings": self.fittings_bear,
            "vessel": self.vessel_bears,
            "membranes": unit.membranes.highest_pressure,
        }
        return Pump(
            flow,
            pressure,
            unit.pump.efficiency,
            tuple(Rating(key, bears) for key, bears in found.items() if bears is not None),
            self.relief_opens if self.has_relief else None,
        )
