"""Heat through air and walls: sensible heat, conduction, what the sun does, an engine's heat.

SI units throughout: temperatures in K (absolute), heat flows in W, conductances in W/K,
thermal resistances of a surface or layer in m² K/W.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc.physics import air
from calc.physics._require import positive

SURFACE_RESISTANCE = {
    "inside, heat flows sideways": 0.13,
    "inside, heat flows up": 0.10,
    "inside, heat flows down": 0.17,
    "outside, in the wind": 0.04,
}
"""Surface resistances [m² K/W] of ISO 6946 table 7: still air inside, 4 m/s of wind outside."""

WATER_SURFACE_RESISTANCE = 0.005
"""Resistance between a hull and the sea [m² K/W]: free convection in water, about 200 W/(m² K);
Çengel, Heat Transfer, table 1-5 gives 10 to 1000 W/(m² K) for liquids."""


@dataclass(frozen=True)
class Material:
    """What a wall is made of: conductivity [W/(m K)], density [kg/m³], heat capacity [J/(kg K)]."""

    conductivity: float
    density: float
    heat_capacity: float


MATERIALS = {
    "plywood": Material(0.13, 500, 1600),
    "softwood": Material(0.13, 500, 1600),
    "hardwood": Material(0.18, 700, 1600),
    "glass fibre laminate": Material(0.25, 1500, 1200),
    "balsa core": Material(0.055, 150, 1600),
    "foam core": Material(0.035, 80, 1400),
    "polyurethane foam": Material(0.025, 35, 1400),
    "mineral wool": Material(0.038, 40, 1030),
    "steel": Material(50, 7800, 450),
    "stainless steel": Material(17, 7900, 500),
    "aluminium alloy": Material(160, 2800, 880),
    "acrylic": Material(0.20, 1180, 1500),
}
"""Design values after ISO 10456 table 3 for woods, metals, foams and acrylic; laminate and core
values are common practice in boatbuilding, no source."""


@dataclass(frozen=True)
class Layer:
    """One layer of a wall, thickness in m."""

    thickness: float
    material: Material

    @property
    def resistance(self) -> float:
        """Thermal resistance [m² K/W]."""
        return self.thickness / self.material.conductivity

    @property
    def capacity(self) -> float:
        """Heat capacity of a square metre [J/(m² K)]."""
        return self.thickness * self.material.density * self.material.heat_capacity


def sensible_heat(
    flow: float, rise: float, density: float = 1.2, heat_capacity: float = air.HEAT_CAPACITY
) -> float:
    """Heat [W] that an air flow [m³/s] carries away when it warms by rise [K]: q = rho c V dT.

    Source: ASHRAE Handbook Fundamentals (1.08 Btu/h per cfm and °F at 0.075 lb/ft³).
    """
    return flow * density * heat_capacity * rise


def transmittance(resistances: Sequence[float]) -> float:
    """U value [W/(m² K)] of resistances in series [m² K/W], surfaces included: U = 1 / sum R.

    Source: ISO 6946, total thermal resistance of a component of homogeneous layers.
    Raises ValueError when nothing resists.
    """
    total = math.fsum(resistances)
    if total <= 0 or min(resistances) < 0:
        raise ValueError("a wall needs at least one positive resistance and none below zero")
    return 1 / total


def sol_air(
    outside: float,
    irradiance: float,
    absorptance: float,
    coefficient: float = 17.0,
    sky_loss: float = 0.0,
) -> float:
    """Sol-air temperature [K]: the air that would heat a face as air, sun and sky together do.

    outside [K], irradiance [W/m²], absorptance [0..1], coefficient of convection and long-wave
    radiation together [W/(m² K)], sky_loss = emittance times the long-wave balance [W/m²].
    t = to + a I / h - e dR / h. Source: ASHRAE Handbook Fundamentals, sol-air temperature; a
    horizontal face there has e dR / h = 4 K, a vertical one 0.
    Raises ValueError unless the coefficient is positive.
    """
    positive(coefficient, "the surface coefficient")
    return outside + (absorptance * irradiance - sky_loss) / coefficient


def engine_heat(power: float) -> float:
    """Heat [W] that a running diesel engine of a rated power [W] gives to its space.

    Source: ISO 8861, diesel engines: 0.141 P^0.76 (both in kW), from memory.
    """
    return 1000 * 0.141 * float((power / 1000) ** 0.76)
