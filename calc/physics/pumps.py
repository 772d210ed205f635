"""Pumps: the power and torque that a flow against a pressure asks of a shaft."""

from __future__ import annotations

import math

from calc.physics._require import efficiency as _efficiency
from calc.physics._require import not_negative, positive

# Share of the running torque that a crankshaft pump asks from rest: common practice, no source.
BREAKAWAY_UNLOADED = 0.30
BREAKAWAY_AGAINST_PRESSURE = 1.25


def hydraulic_power(flow: float, pressure: float) -> float:
    """Power put into the water [W], P = Q dp, for a flow [m³/s] and a pressure rise [Pa].

    Raises ValueError for a negative flow or pressure. Source: definition of work done on a liquid.
    """
    return not_negative(flow, "the flow") * not_negative(pressure, "the pressure")


def shaft_power(flow: float, pressure: float, efficiency: float) -> float:
    """Power at the pump shaft [W], P = Q dp / eta, overall efficiency as a ratio.

    Raises ValueError outside 0 < eta <= 1. Source: definition of the efficiency (ISO 17769-1).
    """
    return hydraulic_power(flow, pressure) / _efficiency(efficiency, "the pump's efficiency")


def torque(power: float, speed: float) -> float:
    """Shaft torque [N m], T = P / (2 pi n), for a power [W] and a speed [rev/s].

    Raises ValueError at standstill. Source: definition of mechanical power.
    """
    return not_negative(power, "the power") / (2 * math.pi * positive(speed, "the shaft's speed"))


def starting_torque(running_torque: float, against_pressure: bool) -> float:
    """Torque [N m] that turns a plunger pump from rest, out of its running torque [N m].

    0.30 of it with the pressure valve open, 1.25 with pressure standing on the plungers.
    Source: common practice, no source.
    """
    share = BREAKAWAY_AGAINST_PRESSURE if against_pressure else BREAKAWAY_UNLOADED
    return not_negative(running_torque, "the running torque") * share
