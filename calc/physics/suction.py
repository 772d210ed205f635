"""The suction side of a pump: its head over boiling, and what its strokes take of that."""

from __future__ import annotations

import math

from calc.physics._require import not_negative, positive
from calc.physics.pipes import GRAVITY

ATMOSPHERE = 101325.0  # Pa, standard

# How hard single-acting plungers pull at the column behind them, by their number: C of the
# Hydraulic Institute's formula, in s/min. A duplex double-acting pump has 0.115. An even number
# above two, which the Institute doesn't give, by the motion of crank and rod, rod ratio 0.2.
STROKES = {1: 0.400, 2: 0.200, 3: 0.066, 4: 0.083, 5: 0.040, 6: 0.055, 7: 0.028, 8: 0.041, 9: 0.022}
WATER = 1.4  # how little water gives: the Institute's K for water without air
BULK_MODULUS = 2.34e9  # Pa, sea water, from memory


def npsh_available(
    pressure: float, vapour_pressure: float, density: float, height: float, lost: float
) -> float:
    """Net positive suction head [m] at a pump, out of the absolute pressure on the water's surface
    [Pa], the water's vapour pressure [Pa] and density [kg/m3], the height [m] of the surface over
    the pump, negative where the pump stands above it, and the head [m] lost on the way.

    (pa - pv) / (rho g) + z - hf. Raises ValueError for a density of nothing or a negative loss.
    Source: ANSI/HI 9.6.1, definition.
    """
    over = (pressure - vapour_pressure) / (positive(density, "the density") * GRAVITY)
    return over + height - not_negative(lost, "the head lost")


def stroke_constant(plungers: int) -> float:
    """C [s/min] of the Hydraulic Institute's acceleration head, by the number of single-acting
    plungers [1].

    Raises ValueError for none, and for more than nine. Source: Hydraulic Institute, table of C;
    even numbers above two by the motion of crank and rod.
    """
    if plungers not in STROKES:
        raise ValueError("a pump has one to nine plungers")
    return STROKES[plungers]


def acceleration_head(
    pull: float, speed: float, constant: float, fluid: float = WATER, gravity: float = GRAVITY
) -> float:
    """Acceleration head [m] that a plunger pump's strokes ask of the water in its suction line.

    `pull` is the line's length times the mean velocity in it [m2/s], added over its parts; `speed`
    the crank's [rev/s]; `constant` C [s/min]; `fluid` K [1]; `gravity` [m/s2]. h = L V n C / (K g),
    n in 1/min. Raises ValueError for what is negative. Source: Hydraulic Institute, reciprocating
    pumps; for a short stiff line.
    """
    strokes = not_negative(speed, "the speed") * 60 * positive(constant, "the constant")
    return not_negative(pull, "the line") * strokes / (positive(fluid, "K") * gravity)


def wave_speed(
    bore: float, wall: float, modulus: float, density: float, bulk_modulus: float = BULK_MODULUS
) -> float:
    """Speed [m/s] of a pressure wave in a liquid of a density [kg/m3] and bulk modulus [Pa] in a
    hose of a bore and wall [m] whose wall has Young's modulus [Pa].

    sqrt(B / rho) / sqrt(1 + B d / (E e)). Raises ValueError for what is not positive. Source:
    Korteweg's formula, as in V. L. Streeter and E. B. Wylie, Fluid Transients (from memory).
    """
    gives = positive(bulk_modulus, "the bulk modulus") * positive(bore, "the bore")
    gives /= positive(modulus, "the wall's modulus") * positive(wall, "the wall")
    return math.sqrt(bulk_modulus / positive(density, "the density")) / math.sqrt(1 + gives)


def surge_head(change: float, wave: float) -> float:
    """Head [m] of a change of velocity [m/s] in a long line in which waves run at a speed [m/s].

    a dv / g. Raises ValueError for negative values. Source: Joukowsky's law.
    """
    return not_negative(wave, "the wave's speed") * not_negative(change, "the change") / GRAVITY
