"""What stands under the pump's pressure: what each part bears, and where the relief valve opens."""

from __future__ import annotations

import math

from ..equipment import kinds
from ..equipment.choices import OUTLETS
from ..frame import units
from ..frame.inputs import Inputs, Refusal, aboard, ask, choice, is_set, yes_no
from ..system import pressure_side as system
from ..system.motor import Pump, Rating
from .groups import PRACTICE, PRESSURE_SIDE

USUAL_LENGTH = 1.016  # m, of a membrane of 40 inches
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

    def pump(self, unit: kinds.Unit, flow: float, pressure: float) -> Pump:
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


class Guarded(Inputs, part=True):
    """The hose, the tube and the gauge by their sizes; the relief valve by what it lets through."""

    hose_bore = ask(
        "High-pressure hose, inside",
        "6.3 mm",
        from_record="unit.hose.bore",
        group=PRESSURE_SIDE,
        at_least="2 mm",
        at_most="50 mm",
    )
    hose_length = ask(
        "High-pressure hoses, length together",
        "1.5 m",
        group=PRESSURE_SIDE,
        at_least="0 m",
        at_most="30 m",
    )
    hose_bursts = ask(
        "The hose bursts at",
        unit="bar",
        from_record="unit.hose.burst",
        group=PRESSURE_SIDE,
        at_least="40 bar",
        at_most="3000 bar",
        optional=True,
        help="Left empty: four times its working pressure (SAE J517).",
    )
    vessel_bore = ask(
        "Membrane's pressure tube, inside",
        "63 mm",
        from_record="unit.vessel.bore",
        group=PRESSURE_SIDE,
        at_least="20 mm",
        at_most="300 mm",
    )
    pressed_water = ask(
        "Water in the pressure tubes",
        unit="L",
        group=PRESSURE_SIDE,
        at_least="0.1 L",
        at_most="200 L",
        optional=True,
        help="Left empty: half of the tubes' volume; the membranes take the rest.",
        basis=PRACTICE,
    )
    relief_bore = ask(
        "Opening of the relief valve's seat",
        unit="mm",
        from_record="unit.relief.bore",
        group=PRESSURE_SIDE,
        at_least="0.2 mm",
        at_most="30 mm",
        optional=True,
        when=_RELIEF,
    )
    relief_flow = ask(
        "It lets through, a tenth over its setting",
        unit="L/min",
        from_record="unit.relief.flow",
        group=PRESSURE_SIDE,
        at_least="0.1 L/min",
        at_most="500 L/min",
        optional=True,
        when=_RELIEF,
        help="By its papers, where they tell it; it goes before the opening.",
    )
    relief_outlet = choice(
        "The relief valve's outlet leads",
        OUTLETS,
        "open",
        group=PRESSURE_SIDE,
        when=_RELIEF,
        basis=PRACTICE,
        help="In the open it points down, away from people and from mains, where one sees it run.",
    )
    relief_shut_off = yes_no(
        "Something can be shut between the pump and the relief valve",
        "no",
        group=PRESSURE_SIDE,
        when=_RELIEF,
        help="A valve, a quick coupling, a filter that can clog.",
    )
    gauge_scale = ask(
        "The gauge's scale ends at",
        unit="bar",
        from_record="unit.gauge.scale",
        group=PRESSURE_SIDE,
        at_least="10 bar",
        at_most="1000 bar",
        optional=True,
    )

    def check_hose(self, bears: float | None) -> None:
        """Refuses a hose that bursts below the working pressure [Pa] that is said of it."""
        if bears is not None and self.hose_bursts is not None and self.hose_bursts < bears:
            raise Refusal(
                "hose_bursts",
                "must be at least “High-pressure hose, working pressure”, {least}: a hose bursts "
                "far above what it works at",
                least=units.text(bears, "bar"),
            )

    def relief_valve(self, opens: float | None) -> system.Relief | None:
        """The relief valve that opens at a pressure [Pa], if there is one."""
        if opens is None:
            return None
        bore = self.relief_bore
        opening = None if bore is None else math.pi / 4 * bore**2
        return system.Relief(opens, opening, self.relief_flow)

    def pressed(self, membranes: kinds.Membranes) -> system.Pressed:
        """The water under pressure, beside those membranes."""
        water = self.pressed_water
        if water is None:
            length = membranes.length or USUAL_LENGTH
            water = system.in_tubes(membranes.count, self.vessel_bore, length)
        return system.Pressed(water, self.hose_bore, self.hose_length)
