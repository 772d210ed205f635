"""The unit that shakes: its size, its weight, and the forces inside it.

Axes: x along the shaft towards the motor, y across it, z away from the floor; the middle of the
feet is the origin of places, the centre of gravity that of the motions.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from ..physics import pumps, rigid_body, vibration

GRAVITY = vibration.STANDARD_GRAVITY

MOTOR_BALANCE, CRANK_BALANCE = 0.0063, 0.016
"""Balance grades [m/s] of motor and crank, G 6.3 and G 16, and their turning share of the mass:
common practice, no source."""
TURNING_SHARE = 0.35

ROD_RATIO = 1 / 6
"""Crank radius over rod length of a small plunger pump: common practice, no source."""

AUDIBLE = ("plungers", "plungers2", "hum")
"""Sources that people hear: all but what turns, which is felt."""

Load = tuple[float, float, float, float, float, float]


@dataclass(frozen=True)
class Pumping:
    """What loads the pump's shaft: flow [m³/s] at a speed [rev/s], pressure [Pa], efficiency."""

    flow: float
    speed: float
    pressure: float
    efficiency: float

    @property
    def torque(self) -> float:
        """Mean torque [N m] at the pump's shaft: the same at every speed."""
        turn = self.flow / self.speed
        return pumps.shaft_power(turn, self.pressure, self.efficiency) / (2 * math.pi)


class Source(NamedTuple):
    """What shakes at a frequency [Hz]: load on the unit, forces [N] and moments [N m] (amplitudes).

    key: "direct" (a shaft that pump and motor share), "crank", "shaft", "plungers", "plungers2",
    "hum".
    """

    key: str
    frequency: float
    load: Load


@dataclass(frozen=True)
class Unit:
    """Motor and pump on their base.

    Masses [kg], sizes [m]; cg_height: centre of gravity above the feet, cg_along: from their middle
    towards the motor; motor_speed [rev/s], speed_ratio: the pump's over that; mains: frequency [Hz]
    of the current of a single-phase motor, 0 for one whose torque does not hum.
    """

    mass: float
    length: float
    width: float
    height: float
    cg_height: float
    cg_along: float
    motor_speed: float
    speed_ratio: float
    plungers: int
    mains: float
    pump_mass: float
    motor_mass: float
    pumping: Pumping

    @property
    def weight(self) -> float:
        """[N]."""
        return self.mass * GRAVITY

    @property
    def body(self) -> rigid_body.RigidBody:
        """An even box: good for small units; a maker's inertias would be better."""
        return rigid_body.box_body(self.mass, self.length, self.width, self.height)

    @cached_property
    def sources(self) -> tuple[Source, ...]:
        """All sources, lowest first.

        Inside one base the pump's and the motor's mean torques cancel; what shakes is what the
        turning masses take up: the ripple of the pump's torque and the whole pulse of a
        single-phase motor's. Common practice, no source: an estimate, ±6 dB.
        """
        crank = self.motor_speed * self.speed_ratio
        torque = self.pumping.torque
        ripple = vibration.flow_ripple(self.plungers, ROD_RATIO, 2).harmonics
        geared = not math.isclose(self.speed_ratio, 1.0, rel_tol=0.005)
        motor = _unbalance(self.length, self.motor_mass, MOTOR_BALANCE, self.motor_speed, 1.0)
        crankshaft = (
            _unbalance(self.length, self.pump_mass, CRANK_BALANCE, crank, -1.0)
            if geared
            else _unbalance(self.length, self.motor_mass, MOTOR_BALANCE, crank, 1.0)
        )
        made = {
            "pump crank": ("direct" if self.speed_ratio == 1 else "crank", crankshaft),
            "motor shaft": ("shaft", motor),
            "plungers": ("plungers", _twist(torque * ripple[0])),
            "plungers, 2nd harmonic": ("plungers2", _twist(torque * ripple[1])),
            "torque at twice the mains": ("hum", _twist(torque * self.speed_ratio)),
        }
        lines = vibration.source_lines(self.motor_speed, crank, self.plungers, self.mains)
        return tuple(Source(made[s.name][0], s.frequency, made[s.name][1]) for s in lines)

    @property
    def heard(self) -> Source:
        """The source that people hear."""
        return loudest(self.sources)

    @property
    def audible(self) -> tuple[Source, ...]:
        """The sources that people hear: all but what turns."""
        return tuple([s for s in self.sources if s.key in AUDIBLE])


def loudest(found: Sequence[Source]) -> Source:
    """The source that people hear: the hum where there is one, else the plungers."""
    by_key = {s.key: s for s in found}
    return by_key.get("hum") or by_key["plungers"]


def _twist(moment: float) -> Load:
    return (0.0, 0.0, 0.0, moment, 0.0, 0.0)


def _unbalance(length: float, mass: float, grade: float, speed: float, end: float) -> Load:
    """Turning force at the motor's (end 1) or the pump's middle, a quarter of the length away."""
    force = vibration.unbalance_force(TURNING_SHARE * mass, grade, speed)
    arm = end * length / 4
    return (0.0, force, force, 0.0, -force * arm, force * arm)
