"""The sea about the boat: every page's, the pump's and the membrane's."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from ..physics import conductivity, seawater
from .unfit import Unfit


@dataclass(frozen=True)
class Sea:
    """Sea water of a temperature [K] and a salinity [kg/kg]."""

    temperature: float
    salinity: float

    @property
    def practical_salinity(self) -> float:
        """Its salt on the scale of conductivity [number]. Source: TEOS-10."""
        return self.salinity / conductivity.SALT_OF_PRACTICAL

    @cached_property
    def density(self) -> float:
        """Its density [kg/m3]."""
        return seawater.density(self.salinity, self.temperature)

    @cached_property
    def viscosity(self) -> float:
        """Its viscosity [Pa s]."""
        return seawater.viscosity(self.salinity, self.temperature)

    @cached_property
    def osmotic_pressure(self) -> float:
        """The pressure below which no fresh water leaves it [Pa]."""
        return seawater.osmotic_pressure(self.salinity, self.temperature)

    @cached_property
    def vapour_pressure(self) -> float:
        """The absolute pressure at which it boils [Pa]."""
        return seawater.vapour_pressure(self.salinity, self.temperature)

    @cached_property
    def concentration(self) -> float:
        """Salt in a volume of it [kg/m3]."""
        return self.salinity * self.density


def by_conductivity(temperature: float, measured: float, at: float) -> Sea:
    """The sea of a temperature [K] whose conductivity [S/m] was measured at another [K].

    Raises Unfit("scale") beyond the scale of practical salinity. Source:
    `conductivity.practical_salinity`, TEOS-10.
    """
    practical = conductivity.practical_salinity(measured, at)
    if not conductivity.SCALE[0] <= practical <= conductivity.SCALE[1]:
        raise Unfit("scale")
    return Sea(temperature, practical * conductivity.SALT_OF_PRACTICAL)


def scale(at: float) -> tuple[float, float]:
    """The conductivities [S/m] between which that scale holds at a temperature [K]."""
    low, high = (conductivity.conductivity_of(end, at) for end in conductivity.SCALE)
    return low, high


TEST = Sea(298.15, 0.035)
"""The sea that a unit's fresh water is stated for."""
