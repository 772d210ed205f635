"""All that stands under the pump's pressure, at work in the sea about the boat."""

from __future__ import annotations

from ..system import pressure_side as system
from ..system.sea import Sea
from .elements import Water
from .pressure_side import Guarded
from .sea import Voyage
from .size import Size


class UnderPressure(Water, Guarded, Voyage, part=True):
    """What makes water, what it bears, and the seas of the voyage."""

    plungers = Size.plungers

    def side(self) -> system.PressureSide:
        """What stands under the pressure on this boat. Refuses a hose that contradicts itself."""
        self.check_hose(self.hose_bears)
        making, stressed = self.making, self.pump(self.unit, self.flow, self.pressure)
        faster = making.feed / self.flow
        return system.PressureSide(
            stressed.ratings,
            making,
            self.relief_valve(stressed.relief),
            self.pressed(self.unit.membranes),
            self.plungers * self.unit.pump.rated_speed * faster,
            self.vessel_bore,
            self.gauge_scale,
            self.hose_bursts,
            tuple(
                system.season(row.name, making, Sea(row.temperature, row.salinity))
                for row in self.seas
            ),
        )
