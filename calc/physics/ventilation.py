"""Air through openings, ducts and fans: stack draught, one opening, fan against its system.

SI units throughout: areas in m², flows in m³/s, pressures in Pa, temperatures in K (absolute).
A resistance here is S in dp = S Q² [Pa/(m³/s)²].
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from calc.physics._require import not_negative, positive

STANDARD_GRAVITY = 9.80665

DISCHARGE_COEFFICIENT = 0.65
"""Sharp-edged opening with flow one way: ASHRAE Handbook Fundamentals, natural ventilation."""

LOSS_COEFFICIENT = {
    "plain duct end, drawing in": 1.0,
    "flush or flared entry": 0.5,
    "free outlet": 1.0,
    "smooth 90 degree bend": 0.3,
    "tight 90 degree bend": 1.2,
    "clamshell or cowl vent": 1.5,
}
"""Loss coefficients on the velocity pressure in the duct: common practice, no source."""

HOSE_FRICTION_MULTIPLIER = 2.5
"""Friction of corrugated blower hose over a smooth duct of that bore: common practice, no source;
a hose that is not pulled straight has more."""

DUCT_VELOCITY = 6.0
"""Highest air speed in a quiet duct [m/s]: common practice, no source."""

ENGINE_SUCTION = 50.0
"""Highest suction that a breathing engine may raise in its space [Pa]: common practice, no source;
near what a square inch of opening for each 3.3 hp gives."""

BLOWER_POWER = 800.0
"""Power of a small low-voltage blower for its free flow [W/(m³/s)]: common practice, no source."""


def effective_area(low: float, high: float) -> float:
    """Area [m²] that acts like a low and a high opening in series: A1 A2 / sqrt(A1² + A2²).

    Nothing flows with either shut. Source: ASHRAE Handbook Fundamentals, natural ventilation.
    Raises ValueError for a negative area.
    """
    not_negative(low, "the area of the low opening")
    not_negative(high, "the area of the high opening")
    if low == 0 or high == 0:
        return 0.0
    return low * high / math.hypot(low, high)


def stack_flow(
    area: float,
    height: float,
    inside: float,
    outside: float,
    discharge: float = DISCHARGE_COEFFICIENT,
) -> float:
    """Flow [m³/s] that warm air drives through an opening: Q = Cd A sqrt(2 g H (Ti - To) / Ti).

    height [m] runs from the opening's middle to the neutral level; with the effective area of two
    openings it is the height between them. Temperatures in K; the same flow the other way round
    when it is colder inside.
    Source: ASHRAE Handbook Fundamentals (1997) p. 25.13 eq. 37.
    Raises ValueError for a negative area or height.
    """
    not_negative(area, "the area of the opening")
    not_negative(height, "the height")
    warm = max(inside, outside)
    return (
        discharge * area * math.sqrt(2 * STANDARD_GRAVITY * height * abs(inside - outside) / warm)
    )


def two_way_discharge(difference: float) -> float:
    """Discharge coefficient of an opening with flow both ways, from the difference [K].

    Source: ASHRAE Handbook Fundamentals (1997) p. 25.13 eq. 38: 0.40 + 0.0045 |Ti - To|, held here
    at the one-way coefficient, which it would pass at 56 K.
    """
    found = 0.40 + 0.0045 * abs(difference)
    return found if found < DISCHARGE_COEFFICIENT else DISCHARGE_COEFFICIENT


def single_opening_flow(area: float, height: float, inside: float, outside: float) -> float:
    """Flow [m³/s] in, and as much out, through one opening of an own height [m].

    Cold air enters below, warm air leaves above, the neutral level is half way:
    Q = K A sqrt(g H dT / T) / 3. Source: D. E. Kiel and D. J. Wilson, gravity driven flows through
    open doors (1986), with the coefficient K of two_way_discharge.
    Raises ValueError for a negative area or height.
    """
    not_negative(area, "the area of the opening")
    not_negative(height, "the height")
    difference = abs(inside - outside)
    warm = max(inside, outside)
    drive = math.sqrt(STANDARD_GRAVITY * height * difference / warm)
    return two_way_discharge(difference) * area * drive / 3


def combined_flow(fan: float, natural: float) -> float:
    """Flow [m³/s] of a one-way fan and a natural draught together: sqrt(Qf² + Qn²).

    Flows do not add: a fan moves the neutral level. Source: ASHRAE Handbook Fundamentals, combining
    an unbalanced fan with infiltration (quadrature), from memory.
    """
    return math.hypot(fan, natural)


def opening_resistance(
    area: float, discharge: float = DISCHARGE_COEFFICIENT, density: float = 1.2
) -> float:
    """Resistance of an opening or grille of a free area [m²]: rho / (2 (Cd A)²).

    Infinite when shut. Source: orifice equation, ASHRAE Handbook Fundamentals.
    """
    not_negative(area, "the area of the opening")
    square = (discharge * area) ** 2
    return density / (2 * square) if square else math.inf


def duct_resistance(
    diameter: float,
    length: float,
    losses: float = 0.0,
    friction: float = 0.025,
    density: float = 1.2,
) -> float:
    """Resistance [Pa/(m³/s)²] of a round duct: rho (f L / D + sum K) / (2 A²), with D and L in m.

    losses is the sum of the loss coefficients, friction the Darcy factor (take it at a typical
    flow: over a blower's range it changes little). Source: Darcy-Weisbach.
    Raises ValueError unless the diameter is positive and the rest not negative.
    """
    positive(diameter, "the diameter of the duct")
    not_negative(length, "the length of the duct")
    not_negative(losses, "the sum of the duct's loss coefficients")
    section = math.pi * diameter**2 / 4
    return density * (friction * length / diameter + losses) / (2 * section**2)


def parallel_resistance(resistances: Sequence[float]) -> float:
    """Resistance [Pa/(m³/s)²] of openings side by side: 1 / sqrt(S) adds; infinite if all are shut.

    Source: dp = S Q² with the same dp on all, the flows added.
    """
    total = math.fsum(1 / math.sqrt(one) for one in resistances if one > 0)
    if any(one == 0 for one in resistances):
        return 0.0
    square = total**2
    return 1 / square if square else math.inf


def fan_flow(free_flow: float, shutoff_pressure: float, resistance: float) -> float:
    """Flow [m³/s] of a fan against a resistance, its curve dp = dp0 (1 - (Q / Q0)²).

    free_flow Q0 [m³/s] without resistance, shutoff_pressure dp0 [Pa] without flow; the crossing
    with dp = S Q² is Q = Q0 / sqrt(1 + S Q0² / dp0). No flow against an infinite resistance.
    Source: parabolic fan curve, textbook form.
    Raises ValueError for a negative flow or resistance, or a fan that raises no pressure.
    """
    not_negative(free_flow, "the free flow of the fan")
    if free_flow == 0 or math.isinf(resistance):
        return 0.0
    positive(shutoff_pressure, "the shut-off pressure of the fan")
    not_negative(resistance, "the resistance of the duct")
    return free_flow / math.sqrt(1 + resistance * free_flow**2 / shutoff_pressure)


def free_flow_for(flow: float, shutoff_pressure: float, resistance: float) -> float:
    """Free flow [m³/s] of the fan that moves a flow [m³/s] against a resistance.

    fan_flow solved for Q0 = Q / sqrt(1 - S Q² / dp0); infinite when the resistance takes the whole
    shut-off pressure [Pa]. Raises ValueError for a fan that raises no pressure. Source: as
    `fan_flow`.
    """
    left = 1 - pressure_drop(flow, resistance) / positive(shutoff_pressure, "the fan's pressure")
    return flow / math.sqrt(left) if left > 0 else math.inf


def curve_flow(curve: Sequence[tuple[float, float]], resistance: float) -> float:
    """Flow [m³/s] where a measured fan curve crosses dp = S Q².

    curve: (flow [m³/s], pressure [Pa]) by rising flow and falling pressure, joined by straight
    lines. The last flow if the fan could still press there, 0 if it cannot press at the first.
    Raises ValueError for fewer than two points or a wrong order. Source: definition of the
    operating point of a fan on its system.
    """
    if len(curve) < 2:
        raise ValueError("a fan curve needs at least two points")
    for (flow, pressure), (more, less) in pairwise(curve):
        if more <= flow or less > pressure:
            raise ValueError("a fan curve goes by rising flow and falling pressure")
    if math.isinf(resistance):
        return 0.0
    for (flow, pressure), (more, less) in pairwise(curve):
        if resistance * more**2 >= less:
            slope = (pressure - less) / (more - flow)
            # S Q² + slope Q - (pressure + slope flow) = 0, the root written to bear S = 0.
            top = pressure + slope * flow
            root = slope + math.sqrt(slope**2 + 4 * resistance * top)
            return max(0.0, 2 * top / root) if root else more
    return curve[-1][0]


def duct_diameter(flow: float, velocity: float = DUCT_VELOCITY) -> float:
    """Diameter [m] of a round duct that passes a flow [m³/s] at an air speed [m/s].

    Raises ValueError unless the speed is positive. Source: continuity.
    """
    return math.sqrt(4 * not_negative(flow, "the flow") / math.pi / positive(velocity, "the speed"))


def opening_for(
    flow: float, pressure: float, discharge: float = DISCHARGE_COEFFICIENT, density: float = 1.2
) -> float:
    """Free area [m²] that passes a flow [m³/s] at a pressure drop [Pa]: Q / (Cd sqrt(2 dp / rho)).

    Raises ValueError unless the pressure is positive. Source: orifice equation.
    """
    speed = math.sqrt(2 * positive(pressure, "the pressure drop") / density)
    return not_negative(flow, "the flow") / (discharge * speed)


def pressure_drop(flow: float, resistance: float) -> float:
    """Pressure [Pa] that a flow [m³/s] loses in a resistance: dp = S Q².

    Source: definition of S.
    """
    return resistance * flow**2


def combustion_air(power: float) -> float:
    """Air [m³/s] that a running diesel engine of a shaft power [W] breathes.

    2.5 ft³/min per horsepower: common practice, no source.
    """
    return 2.5 * 0.3048**3 / 60 * power / 745.699872
