"""Vibration: what shakes, and how mounts isolate it.

Frequencies in Hz, shaft speeds in revolutions per second, masses in kg, stiffnesses in N/m,
lengths in m, mobilities in m/(N s).
"""

import math
import operator
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from calc.physics._require import positive

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of gravity, m/s² (BIPM, 3rd CGPM 1901)."""


# One degree of freedom


def natural_frequency(stiffness: float, mass: float) -> float:
    """Natural frequency [Hz] of a mass [kg] on a spring [N/m]: √(k/m)/2π.

    Source: K. Ogata, System Dynamics, 4th ed., ch. 8.
    """
    positive(stiffness, "stiffness")
    positive(mass, "mass")
    return math.sqrt(stiffness / mass) / (2 * math.pi)


def static_deflection(mass: float, stiffness: float) -> float:
    """Static deflection [m] of a spring [N/m] under a mass [kg] at rest: m g/k.

    Source: Hooke's law.
    """
    positive(stiffness, "stiffness")
    return mass * STANDARD_GRAVITY / stiffness


def hysteretic_transmissibility(frequency: float, natural: float, loss_factor: float) -> float:
    """Force passed to a rigid floor over the force applied, at a frequency [Hz], by mounts of a
    loss factor that is the same at every frequency, as rubber's.

    T = √[(1 + η²)/((1 - r²)² + η²)], r = f/fn: far above fn it falls with 1/r², where viscous
    damping lets it fall with 1/r only. The inverse of `effectiveness` on a floor that does not
    move. Source: T. E. Vigran, Building Acoustics, eq. (2.43), p. 51, for a stiffness k(1 + jη).
    """
    positive(natural, "natural frequency")
    r = frequency / natural
    lossy = loss_factor**2
    below = (1 - r * r) ** 2 + lossy
    return math.inf if below == 0 else math.sqrt((1 + lossy) / below)


def ratio_level(ratio: float) -> float:
    """Level [dB] of a ratio of forces or velocities: 20 lg ratio; -inf for zero.

    Source: definition of the level of a field quantity.
    """
    return 20 * math.log10(ratio) if ratio > 0 else -math.inf


def series_stiffness(*stiffnesses: float) -> float:
    """Stiffness [N/m] of springs [N/m] in series, as mounts on a floor that gives.

    Source: Hooke's law, one force through all.
    """
    for k in stiffnesses:
        positive(k, "stiffness")
    return 1 / sum(1 / k for k in stiffnesses)


# What shakes


class SourceLine(NamedTuple):
    """One frequency [Hz] at which the unit shakes its base, and what does it."""

    name: str
    frequency: float


def source_lines(
    motor_speed: float, pump_speed: float, plungers: int, mains_frequency: float = 0.0
) -> tuple[SourceLine, ...]:
    """Frequencies [Hz] that a motor and plunger pump put into their base, lowest first.

    Shaft speeds [rev/s]: unbalance of the motor and of the crank once per turn, plungers passing,
    its second harmonic (the larger one for an odd number of plungers, see `flow_ripple`), and the
    torque of a single-phase motor twice per mains period (`mains_frequency` 0: none). Source:
    kinematics; the power of one phase pulses at twice its frequency.
    """
    positive(pump_speed, "pump speed")
    lines = [SourceLine("pump crank", pump_speed)]
    if not math.isclose(motor_speed, pump_speed, rel_tol=0.005):
        lines.append(SourceLine("motor shaft", motor_speed))
    lines.append(SourceLine("plungers", plungers * pump_speed))
    lines.append(SourceLine("plungers, 2nd harmonic", 2 * plungers * pump_speed))
    if mains_frequency > 0:
        lines.append(SourceLine("torque at twice the mains", 2 * mains_frequency))
    return tuple(sorted(lines, key=lambda line: line.frequency))


@dataclass(frozen=True, slots=True)
class FlowRipple:
    """Flow of n plungers over a turn, as shares of the mean flow (0..1).

    above, below: highest and lowest flow less the mean; total: their sum; harmonics: amplitude of
    plungers passing, twice that, and so on.
    """

    above: float
    below: float
    total: float
    harmonics: tuple[float, ...]


@lru_cache(maxsize=64)
def flow_ripple(plungers: int, rod_ratio: float = 0.0, harmonics: int = 4) -> FlowRipple:
    """Ripple of the flow of `plungers` single-acting plungers spread evenly over a turn.

    Crank kinematics with ideal valves and a stiff liquid; `rod_ratio` is crank radius over
    connecting-rod length (0: sine motion). At constant pressure the shaft torque ripples by the
    same shares. Source: slider-crank kinematics, e.g. T. Bevan, The Theory of Machines. Raises
    ValueError without a plunger or with a rod no longer than the crank.
    """
    if plungers < 1:
        raise ValueError("a pump has at least one plunger")
    if not 0 <= rod_ratio < 1:
        raise ValueError("the crank radius must be shorter than the rod")

    def delivery(angle: float) -> float:
        s = math.sin(angle)
        v = s + rod_ratio * s * math.cos(angle) / math.sqrt(1 - (rod_ratio * s) ** 2)
        return v if v > 0 else 0.0

    step = 2 * math.pi / plungers
    count = 180
    flow = [sum(delivery(step * (i / count + j)) for j in range(plungers)) for i in range(count)]
    mean = plungers / math.pi
    spectrum = []
    for order in range(1, harmonics + 1):
        turn = 2 * math.pi * order / count
        re = sum(q * math.cos(turn * i) for i, q in enumerate(flow))
        im = sum(q * math.sin(turn * i) for i, q in enumerate(flow))
        spectrum.append(2 * math.hypot(re, im) / count / mean)
    above, below = max(flow) / mean - 1, 1 - min(flow) / mean
    return FlowRipple(above, below, above + below, tuple(spectrum))


def unbalance_force(mass: float, balance_grade: float, speed: float) -> float:
    """Rotating force amplitude [N] of a rotor [kg] at a shaft speed [rev/s].

    `balance_grade` is eccentricity times angular speed [m/s], as 0.0063 for G 6.3.
    Source: ISO 21940-11 (formerly ISO 1940-1), definition of the balance quality grade.
    """
    return mass * balance_grade * 2 * math.pi * speed


# Mobility: isolation on a floor that moves


def mass_mobility(mass: float, frequency: float) -> complex:
    """Mobility [m/(N s)] of a free rigid mass [kg]: 1/(jωm).

    Source: definition of mobility, velocity over force.
    """
    positive(mass, "mass")
    positive(frequency, "frequency")
    return 1 / (2j * math.pi * frequency * mass)


def spring_mobility(stiffness: float, loss_factor: float, frequency: float) -> complex:
    """Mobility [m/(N s)] of a massless lossy spring [N/m]: jω/(k(1 + jη)).

    Source: definition of mobility, velocity over force.
    """
    positive(stiffness, "stiffness")
    return 2j * math.pi * frequency / (stiffness * (1 + 1j * loss_factor))


def effectiveness(machine: complex, mounts: complex, floor: complex) -> float:
    """Velocity of the floor without mounts over that with them [ratio], from three mobilities.

    |Ym + Yi + Yf|/|Ym + Yf|; above 1 the mounts help. A floor as mobile as the mounts makes soft
    mounts useless. Source: T. E. Vigran, Building Acoustics, eq. (2.43), p. 51.
    """
    return abs(machine + mounts + floor) / abs(machine + floor)


def isolator_effectiveness(
    mass: float, stiffness: float, loss_factor: float, floor_mobility: float, frequency: float
) -> float:
    """`effectiveness` of a mass [kg] on lossy mounts [N/m] over a floor with a real mobility.

    Floor mobility [m/(N s)], frequency [Hz]. Source: as `effectiveness`.
    """
    return effectiveness(
        mass_mobility(mass, frequency),
        spring_mobility(stiffness, loss_factor, frequency),
        complex(floor_mobility),
    )


def mean_effectiveness(
    machine: complex, mounts: complex, floors: Sequence[complex], bare: Sequence[float] = ()
) -> float:
    """`effectiveness` [ratio] on a floor known only to be one of several: the geometric mean, which
    is the mean in decibels. `bare` are its |Ym + Yf| [m/(N s)], if they are known already. Source:
    as `effectiveness`."""
    both = machine + mounts
    shaken = [abs(both + floor) for floor in floors]
    stiff = bare or [abs(machine + floor) for floor in floors]
    levels = map(math.log, map(operator.truediv, shaken, stiff))
    return math.exp(sum(levels) / len(floors))
