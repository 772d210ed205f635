"""The sea about the boat: every page's, the pump's and the membrane's."""

from __future__ import annotations

from dataclasses import dataclass

from ..physics import seawater


@dataclass(frozen=True)
class Sea:
    """Sea water of a temperature [K] and a salinity [kg/kg]."""

    temperature: float
    salinity: float

    @property
    def density(self) -> float:
        """Its density [kg/m3]."""
        return seawater.density(self.salinity, self.temperature)

    @property
    def viscosity(self) -> float:
        """Its viscosity [Pa s]."""
        return seawater.viscosity(self.salinity, self.temperature)

    @property
    def osmotic_pressure(self) -> float:
        """The pressure below which no fresh water leaves it [Pa]."""
        return seawater.osmotic_pressure(self.salinity, self.temperature)

    @property
    def vapour_pressure(self) -> float:
        """The absolute pressure at which it boils [Pa]."""
        return seawater.vapour_pressure(self.salinity, self.temperature)

    @property
    def concentration(self) -> float:
        """Salt in a volume of it [kg/m3]."""
        return self.salinity * self.density


TEST = Sea(298.15, 0.035)
"""The sea that a unit's fresh water is stated for."""
