"""Starting a motor: the rush of current, what it does to the voltage, and the torque left over."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

from calc.physics._require import efficiency as _efficiency
from calc.physics._require import not_negative, positive
from calc.physics.motors import HORSEPOWER

# Of a small single-phase motor at standstill. Common practice, no source.
STARTING_POWER_FACTOR = 0.60

# NEC Table 430.7(B) = NEMA MG 1 10.37: kVA per hp with locked rotor, lowest value of each letter.
_LETTERS: dict[str, float] = {
    "A": 0.0, "B": 3.15, "C": 3.55, "D": 4.0, "E": 4.5, "F": 5.0, "G": 5.6, "H": 6.3, "J": 7.1,
    "K": 8.0, "L": 9.0, "M": 10.0, "N": 11.2, "P": 12.5, "R": 14.0, "S": 16.0, "T": 18.0,
    "U": 20.0, "V": 22.4,
}  # fmt: skip
CODE_LETTERS = tuple(_LETTERS)


@dataclass(frozen=True)
class Range:
    """The lowest and the highest value that a code letter leaves open."""

    low: float
    high: float


@dataclass(frozen=True)
class Start:
    """A motor at standstill on a real supply.

    Current [A], voltage at the terminals [V], dip against the open-circuit voltage [ratio],
    torque against the torque at rated voltage [ratio], apparent [VA] and real [W] power drawn
    from the source; `source_dip` is the dip where the cable begins [ratio].
    """

    current: float
    voltage: float
    dip: float
    torque_ratio: float
    apparent_power: float
    real_power: float
    source_dip: float


def code_letter_range(letter: str) -> Range:
    """Locked-rotor kVA per hp [kVA/hp] that a motor's code letter allows.

    The upper end is the start of the next letter. Raises ValueError for a letter that does not
    exist (I, O and Q are left out), and for V, which has no upper end.
    Source: NEC (NFPA 70) Table 430.7(B) = NEMA MG 1 10.37.
    """
    wanted = letter.strip().upper()
    if wanted not in _LETTERS:
        raise ValueError(
            f"there is no motor code letter {letter.strip()!r}; the letters are "
            + " ".join(CODE_LETTERS)
        )
    if wanted == "V":
        raise ValueError("code letter V has no upper limit: give the locked-rotor amps instead")
    following = CODE_LETTERS[CODE_LETTERS.index(wanted) + 1]
    return Range(_LETTERS[wanted], _LETTERS[following])


def locked_rotor_current(kva_per_horsepower: float, output: float, voltage: float) -> float:
    """Locked-rotor current [A], kVA/hp x hp x 1000 / V, single phase, at rated volts and hertz.

    Output in W. Raises ValueError on zero volts. Source: NEC (NFPA 70) 430.7(B).
    """
    horsepower = positive(output, "the motor's rated output") / HORSEPOWER
    not_negative(kva_per_horsepower, "the locked-rotor kVA per hp")
    return kva_per_horsepower * horsepower * 1000 / positive(voltage, "the voltage")


def letter_current(letter: str, output: float, voltage: float) -> Range:
    """Lowest and highest locked-rotor current [A] of a code letter, output [W] and voltage [V].

    Raises ValueError for a letter that does not exist. Source: NEC (NFPA 70) Table 430.7(B).
    """
    kva = code_letter_range(letter)
    return Range(
        locked_rotor_current(kva.low, output, voltage),
        locked_rotor_current(kva.high, output, voltage),
    )


def soft_start_current(running_current: float, factor: float) -> float:
    """Peak current [A] with a soft starter that limits it to `factor` times the running current.

    Raises ValueError for a factor below one. Source: the starter's own stated factor.
    """
    if not factor >= 1:
        raise ValueError("a soft start can not stay below the running current")
    return not_negative(running_current, "the running current") * factor


def start(
    source_voltage: float,
    rated_voltage: float,
    starting_current: float,
    power_factor: float = STARTING_POWER_FACTOR,
    source_resistance: float = 0.0,
    source_reactance: float = 0.0,
    cable_resistance: float = 0.0,
    cable_reactance: float = 0.0,
) -> Start:
    """The moment of starting, the rotor standing as an impedance behind source and cable.

    Z_motor = V_rated / I_start at the starting power factor; I = V_source / |Z_source + Z_cable +
    Z_motor|. Volts, amperes, ohms (out and back); torque as (V/V_rated)^2. Raises ValueError on
    zero volts or amperes. Source: Ohm's law in complex form; torque about V^2 by NEMA Condensed
    MG 1-2011, 9.9.
    """
    positive(source_voltage, "the source's voltage")
    positive(rated_voltage, "the motor's rated voltage")
    positive(starting_current, "the starting current")
    _efficiency(power_factor, "the starting power factor")
    for value in (source_resistance, source_reactance, cable_resistance, cable_reactance):
        not_negative(value, "an impedance")
    motor = cmath.rect(rated_voltage / starting_current, math.acos(power_factor))
    series = complex(source_resistance + cable_resistance, source_reactance + cable_reactance)
    total = series + motor
    current = source_voltage / abs(total)
    voltage = current * abs(motor)
    return Start(
        current=current,
        voltage=voltage,
        dip=1 - voltage / source_voltage,
        torque_ratio=(voltage / rated_voltage) ** 2,
        apparent_power=current * source_voltage,
        real_power=current**2 * total.real,
        source_dip=1 - abs(motor + complex(cable_resistance, cable_reactance)) / abs(total),
    )


def held_start(
    source_voltage: float,
    rated_voltage: float,
    held_current: float,
    full_current: float,
    power_factor: float = STARTING_POWER_FACTOR,
    source_reactance: float = 0.0,
    cable_resistance: float = 0.0,
    cable_reactance: float = 0.0,
) -> Start:
    """The moment of starting with a soft starter that holds the current [A] behind a source.

    V = sqrt(V_s^2 - I^2 (X cos - R sin)^2) - I (R cos + X sin) at the starter's terminals, X of
    source and cable, R of the cable, out and back [ohm]. It holds as long as that is
    more than I / I_full of the rated voltage; below, it lets all through and the motor stands as
    the impedance of its full current [A]. Volts, ohms and what comes back as `start`, the torque
    as (I/I_full)^2.
    Source: Ohm's law in complex form; that the current keeps the motor's angle is common practice.
    """
    through = start(
        source_voltage,
        rated_voltage,
        positive(full_current, "the full current"),
        power_factor,
        source_reactance=source_reactance,
        cable_resistance=cable_resistance,
        cable_reactance=cable_reactance,
    )
    if positive(held_current, "the held current") >= through.current:
        return through
    sine = math.sqrt(1 - power_factor**2)

    def left(resistance: float, reactance: float) -> float:
        across = held_current * (reactance * power_factor - resistance * sine)
        along = held_current * (resistance * power_factor + reactance * sine)
        return math.sqrt(max(0.0, source_voltage**2 - across**2)) - along

    voltage = left(cable_resistance, source_reactance + cable_reactance)
    current = cmath.rect(held_current, -math.acos(power_factor))
    before_cable = voltage + current * complex(cable_resistance, cable_reactance)
    return Start(
        current=held_current,
        voltage=voltage,
        dip=1 - voltage / source_voltage,
        torque_ratio=(held_current / full_current) ** 2,
        apparent_power=held_current * source_voltage,
        real_power=held_current * voltage * power_factor + held_current**2 * cable_resistance,
        source_dip=1 - abs(before_cable) / source_voltage,
    )
