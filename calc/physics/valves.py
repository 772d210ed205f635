"""Water through an opening under pressure: relief valve, regulating valve, jet; and what a shut end
does to it."""

from __future__ import annotations

import math

from calc.physics._require import fraction, not_negative, positive

REFERENCE_DENSITY = 999.0  # kg/m3: water at 15 °C, to which Kv is referred, IEC 60534-1
CRITICAL_PRESSURE = 22.064e6  # Pa, of water, IAPWS-95
RELIEF = 0.65  # coefficient of discharge of a certified relief valve for liquids, API 520-1
PLAIN_RELIEF = 0.62  # of one that was not certified, API 520-1
NEEDLE_RECOVERY = 0.9  # F_L of a globe or needle valve, IEC 60534-2-1


def jet_velocity(density: float, difference: float) -> float:
    """Velocity [m/s] of a liquid of a density [kg/m3] that a pressure difference [Pa] drives out.

    sqrt(2 dp / rho). Raises ValueError for what is not positive; the difference may be 0. Source:
    Torricelli's law.
    """
    return math.sqrt(2 * not_negative(difference, "the pressure") / positive(density, "rho"))


def relief_flow(area: float, density: float, difference: float, discharge: float) -> float:
    """Flow [m3/s] of a liquid [kg/m3] through a relief valve's opening [m2] at a difference [Pa].

    Q = C A sqrt(2 dp / rho), C the coefficient of discharge [1]. Raises ValueError for negative
    values or a C above 1. Source: API 520-1, liquids, in SI: its 11.78 is this with water of
    999 kg/m3; without its factors for viscosity, bends and bursting discs.
    """
    through = fraction(discharge, "the coefficient") * not_negative(area, "the opening")
    return through * jet_velocity(density, difference)


def relief_area(flow: float, density: float, difference: float, discharge: float) -> float:
    """Opening [m2] that lets a flow [m3/s] of a liquid [kg/m3] through at a difference [Pa].

    Raises ValueError where nothing drives it. Source: as `relief_flow`, turned round.
    """
    one = relief_flow(1.0, density, positive(difference, "the pressure"), discharge)
    return not_negative(flow, "the flow") / positive(one, "the coefficient")


def critical_ratio(vapour_pressure: float) -> float:
    """Pressure in the narrowest place of a valve that chokes, over the vapour pressure [Pa]: F_F.

    0.96 - 0.28 sqrt(pv / pc), of water. Raises ValueError for a negative one. Source: IEC
    60534-2-1, liquid critical pressure ratio factor.
    """
    share = not_negative(vapour_pressure, "the vapour pressure") / CRITICAL_PRESSURE
    return 0.96 - 0.28 * math.sqrt(share)


def choking_difference(
    inlet: float, vapour_pressure: float, recovery: float = NEEDLE_RECOVERY
) -> float:
    """Difference [Pa] beyond which a valve passes no more liquid, however low the outlet.

    F_L² (p1 - F_F pv), of absolute pressures [Pa] before it and of the vapour; `recovery` is its
    F_L [1]. Raises ValueError for a recovery outside 0 to 1. Source: IEC 60534-2-1.
    """
    over = positive(inlet, "the inlet") - critical_ratio(vapour_pressure) * vapour_pressure
    return fraction(recovery, "the recovery factor") ** 2 * max(over, 0.0)


def flow_coefficient(
    flow: float, density: float, inlet: float, outlet: float, vapour: float, recovery: float
) -> float:
    """Kv [m3/s at 1 bar of cold water] of a valve that passes a flow [m3/s] of a liquid [kg/m3].

    Q = Kv sqrt(dp rho0 / rho / 1 bar) between absolute pressures at inlet and outlet [Pa], the
    difference no more than the one that chokes it; vapour pressure [Pa], recovery F_L [1]. Raises
    ValueError where nothing drives it. Source: IEC 60534-2-1, turbulent flow without fittings.
    """
    difference = min(inlet - outlet, choking_difference(inlet, vapour, recovery))
    positive(difference, "the difference")
    return not_negative(flow, "the flow") / math.sqrt(
        difference / 1e5 * REFERENCE_DENSITY / positive(density, "the density")
    )


def plug_force(pressure: float, bore: float) -> float:
    """Force [N] of a pressure [Pa] on a plug in a round bore [m].

    p pi d² / 4. Raises ValueError for negative values. Source: definition of pressure.
    """
    return not_negative(pressure, "the pressure") * math.pi / 4 * not_negative(bore, "bore") ** 2


def jet_thrust(pressure: float, bore: float) -> float:
    """Thrust [N] of a free jet out of an open end of a bore [m] that a pressure [Pa] drives.

    Momentum rho Q v = 2 p A, nothing lost. Raises ValueError for negative values. Source: momentum
    of a jet, any fluid mechanics textbook.
    """
    return 2 * plug_force(pressure, bore)


def throttled_rise(difference: float, density: float, specific_heat: float) -> float:
    """Warming [K] of a liquid [kg/m3] of a specific heat [J/(kg K)] throttled by a difference [Pa].

    dp / (rho c). Raises ValueError for what is not positive. Source: first law, enthalpy kept.
    """
    heat = positive(density, "the density") * positive(specific_heat, "the specific heat")
    return not_negative(difference, "the pressure") / heat


def yielding(volume: float, bulk_modulus: float, bore: float, wall: float, modulus: float) -> float:
    """Volume [m3/Pa] that goes into a liquid's volume [m3] in a round wall for each pascal more.

    V (1 / K + d / (E e)): the liquid's bulk modulus [Pa], bore and wall [m], Young's modulus [Pa]
    of the wall. Raises ValueError for what is not positive. Source: Korteweg's formula, V. L.
    Streeter and E. B. Wylie, Fluid Transients (from memory).
    """
    wide = positive(bore, "the bore") / positive(modulus, "the modulus")
    give = 1 / positive(bulk_modulus, "the bulk modulus") + wide / positive(wall, "the wall")
    return not_negative(volume, "the volume") * give
