"""What the pump asks of its motor, and the motor of the mains: one truth for every calculator."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ..frame.inputs import Values
from ..frame.report import Report, line, most
from ..physics import motors, pumps, starting


@dataclass(frozen=True)
class Load:
    """A unit at work: motor, flow [m3/s] and pressure [Pa] of the pump, the motor's state."""

    motor: motors.Motor
    flow: float
    pressure: float
    shaft_power: float
    at_work: motors.Operation


@dataclass(frozen=True)
class Rush:
    """What a motor draws with its rotor at rest, at the voltage it is connected for.

    Current [A], power factor [ratio], and in words how the current was come by.
    """

    current: float
    power_factor: float
    told_by: str


# NEC Table 430.251(A): locked-rotor current of single-phase motors over the table's full load.
LOCKED_ROTOR_FACTOR = 6.0


def connected_voltage(plate: Any, supply: float | None = None) -> float:
    """Voltage [V] that a motor record is connected for: of a dual-voltage one, that nearer to the
    supply's [V]; the plate's where no supply is named."""
    if supply is None or plate.low_voltage is None:
        return float(plate.voltage)
    choices = (plate.voltage, plate.low_voltage)
    return float(min(choices, key=lambda volts: abs(volts - supply) / volts))


def rated_current(plate: Any, supply: float | None = None) -> float:
    """Nameplate current [A] as connected; reckoned from output and efficiency where it is missing.

    Source: the plate; `motors.full_load_current`, `motors.dual_voltage_current`.
    """
    amps = plate.rated_current or motors.full_load_current(
        plate.rated_power, plate.voltage, plate.efficiency, plate.power_factor
    )
    return motors.dual_voltage_current(amps, plate.voltage, connected_voltage(plate, supply))


def starting_current(plate: Any, supply: float | None = None) -> Rush:
    """Starting current of a motor record at its rated voltage, as connected for a supply [V].

    Through a soft starter its stated multiple of the rated current; else the stated locked-rotor
    amps, else the upper end of the code letter, else six times the rated current. Raises ValueError
    for a code letter that does not exist.
    Source: the plate; NEC (NFPA 70) Tables 430.7(B) and 430.251(A); `starting`.
    """
    if plate.start == "soft":
        amps = starting.soft_start_current(rated_current(plate), plate.start_factor)
        told = "the soft start's multiple of the rated current"
    elif plate.locked_rotor_current is not None:
        amps, told = plate.locked_rotor_current, "the stated locked-rotor current"
    elif plate.code_letter:
        letter = plate.code_letter.strip().upper()
        amps = starting.letter_current(letter, plate.rated_power, plate.voltage).high
        told = f"code letter {letter}, its upper end"
    else:
        amps, told = LOCKED_ROTOR_FACTOR * rated_current(plate), "six times the rated current"
    here = motors.dual_voltage_current(amps, plate.voltage, connected_voltage(plate, supply))
    return Rush(here, plate.start_power_factor, told)


def settled(q: Values) -> Values:
    """This form with the motor that its kind makes of the record: where the reader says another
    kind than the record does, that one's power factor, and the current that follows from it.

    Source: `motors.KINDS`.
    """
    motor = q.unit.motor
    if q.motor_kind == motor.winding:
        return q
    usual = {
        "winding": q.motor_kind,
        "power_factor": motors.KINDS[q.motor_kind].power_factor,
        "rated_current": None,
    }
    unit = {**vars(q.unit), "motor": Values({**vars(motor), **usual})}
    return Values({**vars(q), "unit": Values(unit)})


def start_torque(q: Values) -> float:
    """Starting torque straight on the line over the rated torque: as stated, else of its kind."""
    if q.start_torque is not None:
        return float(q.start_torque)
    return motors.KINDS[q.motor_kind].start_torque


def motor_of(plate: Any, supply: float | None = None) -> motors.Motor:
    """The physics' motor behind a record of the kind "motor", connected for a supply [V]."""
    return motors.Motor(
        output=plate.rated_power,
        voltage=connected_voltage(plate, supply),
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
    speed, flow and power follow. Raises ValueError where nobody can tell whether the motor holds
    it. Source: `pumps.shaft_power`, `motors.operate`, `motors.sure_torque`.
    """
    motor = motor_of(unit.motor, voltage)
    rated_flow = unit.pump.flow if flow is None else flow
    height = unit.pressure if pressure is None else pressure
    shaft = pumps.shaft_power(rated_flow, height, unit.pump.efficiency)
    torque = pumps.torque(shaft, unit.motor.rated_speed)
    if torque > motors.sure_torque(motor, voltage, frequency):
        raise ValueError("nobody can tell whether the motor holds this load on these mains")
    at_work = motors.operate(motor, torque, voltage, frequency)
    share = at_work.speed / unit.motor.rated_speed
    return Load(motor, rated_flow * share, height, at_work.shaft_power, at_work)


def pressure_limit(unit: Any) -> float:
    """Highest pressure [Pa] that both the pump and the membranes of a unit record bear."""
    return float(min(unit.pump.highest_pressure, unit.membranes.highest_pressure))


def judge_pressure(show: Report, unit: Any, pressure: float) -> None:
    """The working pressure [Pa] as a figure, held against the weaker of pump and membranes."""
    limit = pressure_limit(unit)
    weaker = "pump" if unit.pump.highest_pressure <= unit.membranes.highest_pressure else "membrane"
    show.figure(
        "pressure",
        "Working pressure",
        pressure,
        "bar",
        at_most=limit,
        says=line(
            "the working pressure is {p}; the {w} bears {m} at most",
            p=(pressure, "bar"),
            w=weaker,
            m=(limit, "bar"),
        ),
        note=f"the limit is the {weaker}'s",
    )
    if pressure > limit:
        show.remedy(
            "Open the regulating valve further, to {m} or less. The relief valve must open "
            "below that too; setting it is its maker's or a licensed workshop's work.",
            m=most(limit, "bar"),
            sets={"pressure": most(limit, "bar")},
            mends="pressure",
        )
