"""Water in hoses: what it loses by friction, in fittings and in filters, and what lifts it."""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise

from calc.physics._require import fraction, not_negative, positive

GRAVITY = 9.80665  # m/s2, CGPM 1901
LAMINAR = 2000.0  # Reynolds number

# Inner diameters [m] of schedule 40 pipe by nominal size [in], ASME B36.10: Darby's sizes.
_SCHEDULE_40 = (
    (0.125, 6.84e-3), (0.25, 9.22e-3), (0.375, 12.48e-3), (0.5, 15.76e-3), (0.75, 20.96e-3),
    (1.0, 26.64e-3), (1.25, 35.08e-3), (1.5, 40.94e-3), (2.0, 52.48e-3), (2.5, 62.68e-3),
    (3.0, 77.92e-3),
)  # fmt: skip

ENTRANCE, EXIT = 0.5, 1.0  # loss coefficients of a sharp edge, Crane TP-410

# Darby's three constants (K_m, K_i, K_d), by fitting.
Fitting = tuple[float, float, float]
ELBOW: Fitting = (800.0, 0.14, 4.0)  # 90°, threaded, its radius as its bore
BRANCH: Fitting = (500.0, 0.274, 4.0)  # of a threaded tee, or a three-way valve
BALL_VALVE: Fitting = (300.0, 0.017, 3.5)  # open
CHECK_VALVE: Fitting = (1500.0, 0.46, 4.0)  # with a flap


def velocity(flow: float, bore: float) -> float:
    """Mean velocity [m/s] of a flow [m3/s] in a round bore [m], V = Q / (pi d2 / 4).

    Raises ValueError for a bore of nothing or a negative flow. Source: continuity.
    """
    return not_negative(flow, "the flow") / (math.pi / 4 * positive(bore, "the bore") ** 2)


def reynolds(velocity: float, bore: float, density: float, viscosity: float) -> float:
    """Reynolds number [1], rho V d / mu, of a velocity [m/s], bore [m], density [kg/m3] and
    viscosity [Pa s].

    Raises ValueError for what is not positive; a velocity may be 0. Source: definition.
    """
    inertia = not_negative(velocity, "the velocity") * positive(bore, "the bore")
    return inertia * positive(density, "the density") / positive(viscosity, "the viscosity")


def friction_factor(reynolds: float, roughness: float = 0.0) -> float:
    """Darcy's friction factor [1] of a Reynolds number [1] and a roughness over the bore [1].

    Laminar 64 / Re up to 2000, above it Churchill's single equation. Raises ValueError at rest and
    for a negative roughness. Source: S. W. Churchill, Chemical Engineering 84 (1977) 91.
    """
    if positive(reynolds, "the Reynolds number") <= LAMINAR:
        return 64 / reynolds
    rough = not_negative(roughness, "the roughness")
    a = (2.457 * math.log(1 / ((7 / reynolds) ** 0.9 + 0.27 * rough))) ** 16
    b = (37530 / reynolds) ** 16
    return float(8.0 * ((8 / reynolds) ** 12 + (a + b) ** -1.5) ** (1 / 12))


def fitting_loss(fitting: Fitting, reynolds: float, bore: float) -> float:
    """Loss coefficient K [1] of a fitting by its three constants [1] at a Reynolds number [1] in a
    bore [m].

    K = Km / Re + Ki (1 + Kd / D**0.3), D the nominal size in inches. Raises ValueError at rest.
    Source: P. Silverberg and R. Darby, the 3-K method, Chemical Engineering 106 (1999) 101.
    """
    viscous, inner, size = fitting
    by_friction = viscous / positive(reynolds, "the Reynolds number")
    return float(by_friction + inner * (1 + size / _root_of_size(bore)))


@lru_cache(maxsize=32)  # a boat has few hoses
def _root_of_size(bore: float) -> float:
    return float(nominal_size(bore) ** 0.3)


def nominal_size(bore: float) -> float:
    """Nominal size [in] of a pipe of a bore [m], between those of schedule 40, and on beyond them.

    Raises ValueError for a bore of nothing. Source: ASME B36.10.
    """
    inside = positive(bore, "the bore")
    table = pairwise(_SCHEDULE_40)
    low, high = next((pair for pair in table if inside <= pair[1][1]), _SCHEDULE_40[-2:])
    share = (inside - low[1]) / (high[1] - low[1])
    return max(low[0] + share * (high[0] - low[0]), 0.03)


def hose_loss(
    length: float,
    bore: float,
    velocity: float,
    density: float,
    friction: float,
    fittings: float = 0.0,
) -> float:
    """Pressure [Pa] lost in a hose of a length [m] and bore [m] at a velocity [m/s] and a density
    [kg/m3], by its friction factor [1] and the loss coefficients [1] of its fittings.

    dp = (f l / d + K) rho V2 / 2. Raises ValueError for a bore of nothing or negative values.
    Source: Darcy-Weisbach, Crane TP-410.
    """
    pipe = not_negative(friction, "the friction") * not_negative(length, "the length")
    losses = pipe / positive(bore, "the bore") + not_negative(fittings, "the fittings")
    return losses * positive(density, "the density") * velocity**2 / 2


def lever_rise(offset: float, angle: float) -> float:
    """How far [m] something rises over the water at an offset [m] from the axis when the boat turns
    by an angle [rad] about it.

    Source: geometry, offset times the angle's sine.
    """
    return offset * math.sin(angle)


def static_pressure(height: float, density: float) -> float:
    """Gauge pressure [Pa] at a height [m] over the water's surface, of water of a density [kg/m3];
    below the surface the height is negative and the pressure positive.

    Source: hydrostatics.
    """
    return -positive(density, "the density") * GRAVITY * height


def pump_rise(flow: float, shut_off: float, free_flow: float) -> float:
    """Pressure [Pa] that a centrifugal pump adds at a flow [m3/s], out of its pressure against a
    shut end [Pa] and its flow against nothing [m3/s]; beyond that flow it holds back.

    A parabola through both. Raises ValueError for what is not positive. Source: the usual fit of a
    small pump's curve, H = H0 - k Q2; common practice, no source.
    """
    share = not_negative(flow, "the flow") / positive(free_flow, "the free flow")
    return positive(shut_off, "the pump's pressure") * (1 - share**2)


def strainer_loss(flow: float, rated_flow: float, rated_loss: float, blocked: float) -> float:
    """Pressure [Pa] lost in a strainer at a flow [m3/s], out of its loss [Pa] clean at a rated flow
    [m3/s] and the share [1] of its mesh that is blocked.

    With the square of the flow through each open part. Raises ValueError for a rated flow of
    nothing and a mesh wholly blocked. Source: orifice flow, dp ~ (Q / A)2.
    """
    open_part = positive(1 - fraction(blocked, "the blocked share"), "the open share")
    through = not_negative(flow, "the flow") / positive(rated_flow, "the rated flow") / open_part
    return not_negative(rated_loss, "the strainer's loss") * through**2


def cartridge_loss(
    flow: float, rated_flow: float, rated_loss: float, thickness: float = 1.0, dirt: float = 1.0
) -> float:
    """Pressure [Pa] lost in a filter cartridge at a flow [m3/s], out of its loss [Pa] clean at a
    rated flow [m3/s], the viscosity over that of the rating [1] and how many times dirt has
    multiplied its resistance [1].

    In proportion to each: the flow in its pores is laminar. Raises ValueError for a rated flow of
    nothing and negative values. Source: Darcy's law of flow through a porous body.
    """
    share = not_negative(flow, "the flow") / positive(rated_flow, "the rated flow")
    resists = not_negative(thickness, "the viscosity") * not_negative(dirt, "the dirt")
    return not_negative(rated_loss, "the cartridge's loss") * share * resists
