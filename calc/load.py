"""What the pump asks of its motor, and the motor of the mains: one truth for every calculator."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from .physics import motors, pumps


@dataclass(frozen=True)
class Load:
    """A unit at work: motor, flow [m3/s] and pressure [Pa] of the pump, the motor's state."""

    motor: motors.Motor
    flow: float
    pressure: float
    shaft_power: float
    at_work: motors.Operation


def motor_of(plate: Any) -> motors.Motor:
    """The physics' motor behind an equipment record of the kind "motor"."""
    return motors.Motor(
        output=plate.rated_power,
        voltage=plate.voltage,
        frequency=plate.frequency,
        efficiency=plate.efficiency,
        power_factor=plate.power_factor,
        speed=plate.rated_speed,
        poles=plate.poles,
    )


def load_of(
    unit: Any,
    flow: float | None = None,
    pressure: float | None = None,
    voltage: float | None = None,
    frequency: float | None = None,
) -> Load:
    """The load of a unit record at a feed flow [m3/s] and pressure [Pa] stated for rated speed.

    On another supply [V, Hz] than the nameplate's the positive-displacement pump keeps its torque:
    speed, flow and power follow. Raises ValueError where the motor stalls.
    Source: `pumps.shaft_power`, `motors.operate`.
    """
    motor = motor_of(unit.motor)
    rated_flow = unit.pump.flow if flow is None else flow
    height = unit.pressure if pressure is None else pressure
    shaft = pumps.shaft_power(rated_flow, height, unit.pump.efficiency)
    torque = pumps.torque(shaft, unit.motor.rated_speed)
    at_work = motors.operate(motor, torque, voltage, frequency)
    share = at_work.speed / unit.motor.rated_speed
    return Load(motor, rated_flow * share, height, at_work.shaft_power, at_work)
