"""Induction motors: what they draw at any load, on the right supply and on the wrong one."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calc.physics._require import efficiency as _efficiency
from calc.physics._require import fraction, not_negative, positive

HORSEPOWER = 746.0  # W; the rounded value of the NEC and NEMA tables

# Shares for a small single-phase motor whose maker says nothing: common practice, no source.
FIXED_LOSS_SHARE = 0.45  # of the losses at rated load: iron, friction, windage
MAGNETISING_SHARE = 0.80  # of the reactive power at rated load; the rest is leakage

# Torque that a motor is sure to hold for a while, over its rated torque: 1.6 for 15 s, IEC 60034-1,
# 9.4, for three phases (from memory). Of one phase nothing is promised; most hold 2 to 2.5.
SURE_TORQUE = 1.6

NEMA_VOLTAGE_BAND = 0.10
NEMA_FREQUENCY_BAND = 0.05
NEMA_COMBINED_BAND = 0.10

# NEC (NFPA 70) Table 430.248: hp -> A at 115, 200, 208 and 230 V.
_NEC_CURRENTS: dict[float, tuple[float, float, float, float]] = {
    1 / 6: (4.4, 2.5, 2.4, 2.2),
    1 / 4: (5.8, 3.3, 3.2, 2.9),
    1 / 3: (7.2, 4.1, 4.0, 3.6),
    1 / 2: (9.8, 5.6, 5.4, 4.9),
    3 / 4: (13.8, 7.9, 7.6, 6.9),
    1: (16, 9.2, 8.8, 8.0),
    1.5: (20, 11.5, 11.0, 10),
    2: (24, 13.8, 13.2, 12),
    3: (34, 19.6, 18.7, 17),
    5: (56, 32.2, 30.8, 28),
    7.5: (80, 46.0, 44.0, 40),
    10: (100, 57.5, 55.0, 50),
}


@dataclass(frozen=True)
class Kind:
    """What is usual of a kind of single-phase motor: power factor at rated load [ratio], starting
    torque over the rated one [ratio], and whether a switch in it cuts its start winding out."""

    power_factor: float
    start_torque: float
    switched: bool


# Capacitors that stay in bring the power factor to 0.85 to 0.98; without, 0.55 to 0.75 of small
# motors (an industrial note on fractional horsepower), 0.60 to 0.80 with a capacitor to start
# (from memory). Torques: common practice, no source. Of an unknown one the worst of each.
KINDS: dict[str, Kind] = {
    "start_run": Kind(0.92, 2.5, True),
    "capacitor_start": Kind(0.70, 2.5, True),
    "permanent": Kind(0.95, 0.5, False),
    "split": Kind(0.68, 1.3, True),
    "unknown": Kind(0.68, 0.5, True),
}


@dataclass(frozen=True)
class Motor:
    """What a motor's nameplate says.

    Rated output [W], voltage [V], frequency [Hz], efficiency and power factor [ratio], speed at
    rated load [rev/s] and number of poles; then how the losses and the reactive power divide.
    """

    output: float
    voltage: float
    frequency: float
    efficiency: float
    power_factor: float
    speed: float
    poles: int
    fixed_loss_share: float = FIXED_LOSS_SHARE
    magnetising_share: float = MAGNETISING_SHARE

    def __post_init__(self) -> None:
        positive(self.output, "the motor's rated output")
        positive(self.voltage, "the motor's rated voltage")
        positive(self.frequency, "the motor's rated frequency")
        _efficiency(self.efficiency, "the motor's efficiency")
        _efficiency(self.power_factor, "the motor's power factor")
        fraction(self.fixed_loss_share, "the fixed share of the losses")
        fraction(self.magnetising_share, "the magnetising share of the reactive power")
        slip(synchronous_speed(self.frequency, self.poles), self.speed)


@dataclass(frozen=True)
class Operation:
    """A motor at work: powers [W, var, VA], current [A], ratios, speed [rev/s], torque [N m].

    load_losses: the part of the losses [W] that goes with the square of the load's current.
    """

    shaft_power: float
    input_power: float
    reactive_power: float
    apparent_power: float
    current: float
    power_factor: float
    efficiency: float
    losses: float
    load_losses: float
    speed: float
    torque: float
    flux: float


def input_power(output: float, efficiency: float) -> float:
    """Electrical input [W] of a motor that gives an output [W], P = output / eta.

    Raises ValueError outside 0 < eta <= 1. Source: definition of efficiency (IEC 60034-2-1).
    """
    return not_negative(output, "the output") / _efficiency(efficiency, "the motor's efficiency")


def full_load_current(
    output: float, voltage: float, efficiency: float, power_factor: float
) -> float:
    """Single-phase current [A], I = output / (eta pf V).

    Raises ValueError on zero volts. Source: definition of the power factor; any motor handbook.
    """
    positive(voltage, "the voltage")
    _efficiency(power_factor, "the motor's power factor")
    return input_power(output, efficiency) / (power_factor * voltage)


def synchronous_speed(frequency: float, poles: int) -> float:
    """Speed of the field [rev/s], n = 2 f / p, for a frequency [Hz] and a number of poles.

    Raises ValueError unless the poles are an even number of at least two. Source: IEC 60034-1.
    """
    if poles < 2 or poles % 2:
        raise ValueError("a motor has an even number of poles: 2, 4, 6 or 8")
    return 2 * positive(frequency, "the frequency") / poles


def slip(synchronous: float, speed: float) -> float:
    """Slip [ratio], s = (ns - n) / ns, from the field's and the shaft's speed [rev/s].

    Raises ValueError for a motor at or above the field's speed or below 70 % of it.
    Source: definition (IEC 60034-1).
    """
    positive(synchronous, "the synchronous speed")
    if not 0.7 * synchronous < speed < synchronous:
        raise ValueError(
            "the motor's speed must lie a little below the synchronous speed of its poles and "
            f"frequency, {synchronous * 60:.0f} rpm"
        )
    return (synchronous - speed) / synchronous


def dual_voltage_current(current: float, voltage: float, other_voltage: float) -> float:
    """Current [A] of a dual-voltage motor on its other voltage: the volt-amperes stay the same.

    Raises ValueError on zero volts. Source: series or parallel connection of equal half-windings.
    """
    positive(other_voltage, "the other voltage")
    return not_negative(current, "the current") * positive(voltage, "the voltage") / other_voltage


def flux_ratio(
    voltage: float, frequency: float, rated_voltage: float, rated_frequency: float
) -> float:
    """Flux against rated flux [ratio]: (V/f) / (Vr/fr).

    Raises ValueError on zero volts or hertz. Source: V = 4.44 f N Phi, the transformer equation.
    """
    volts_per_hertz = not_negative(voltage, "the voltage") / positive(frequency, "the frequency")
    rated = positive(rated_voltage, "the rated voltage") / positive(
        rated_frequency, "the rated frequency"
    )
    return volts_per_hertz / rated


def magnetising_current_ratio(flux: float) -> float:
    """Magnetising current against its rated value [ratio] at a flux ratio, 0.95 x + 0.05 x^11.

    The linear part is the air gap, the steep part the iron's saturation: a tenth too much flux
    costs a fifth more magnetising current, a fifth too much costs half as much again.
    Source: odd-power form of the magnetisation curve; coefficients common practice, no source.
    """
    return 0.95 * not_negative(flux, "the flux") + 0.05 * float(flux**11)


def torque_ratio(flux: float) -> float:
    """Torque a motor can give at another flux, against rated flux [ratio], about (V/f)^2.

    Holds below saturation. Source: NEMA Condensed MG 1-2011, 9.9 (torque about V^2 and 1/f^2).
    """
    return not_negative(flux, "the flux") ** 2


def sure_torque(
    motor: Motor, voltage: float | None = None, frequency: float | None = None
) -> float:
    """Torque [N m] that a motor holds for sure on a supply [V, Hz], 1.6 rated x flux^2.

    Beyond it some motors hold and some stall, and no nameplate says which.
    Source: IEC 60034-1, 9.4 (from memory), with `torque_ratio`.
    """
    flux = flux_ratio(
        motor.voltage if voltage is None else voltage,
        motor.frequency if frequency is None else frequency,
        motor.voltage,
        motor.frequency,
    )
    return SURE_TORQUE * motor.output / (2 * math.pi * motor.speed) * torque_ratio(flux)


def operate(
    motor: Motor, torque: float, voltage: float | None = None, frequency: float | None = None
) -> Operation:
    """A motor driving a load of constant torque [N m], on any supply [V, Hz]; rated by default.

    Load current goes with torque over flux, its losses and leakage with the square of that;
    fixed losses with flux^2 f^1.5; magnetising reactive power with the magnetisation curve. The
    slip in rev/s goes with torque over flux^2. So a half-loaded motor draws more than half its
    amps. Raises ValueError where the torque is more than the motor can hold at that flux.
    Source: steady-state equivalent circuit of the induction machine, Fitzgerald, Kingsley and
    Umans, Electric Machinery, ch. 6 (reduced; from memory).
    """
    volts = positive(motor.voltage if voltage is None else voltage, "the voltage")
    hertz = positive(motor.frequency if frequency is None else frequency, "the frequency")
    flux = flux_ratio(volts, hertz, motor.voltage, motor.frequency)
    hertz_ratio = hertz / motor.frequency
    rated_torque = motor.output / (2 * math.pi * motor.speed)
    load = not_negative(torque, "the torque") / rated_torque
    load_current = load / flux

    rated_sync = synchronous_speed(motor.frequency, motor.poles)
    sync = rated_sync * hertz_ratio
    speed = sync - (rated_sync - motor.speed) * load / flux**2
    if speed < 0.7 * sync:
        raise ValueError("the load stalls the motor on this voltage and frequency")

    shaft = 2 * math.pi * speed * torque
    rated_input = motor.output / motor.efficiency
    rated_losses = rated_input - motor.output
    fixed = rated_losses * motor.fixed_loss_share * flux**2 * hertz_ratio**1.5
    loading = rated_losses * (1 - motor.fixed_loss_share) * load_current**2
    losses = fixed + loading
    real = shaft + losses

    rated_reactive = rated_input * math.tan(math.acos(motor.power_factor))
    magnetising = rated_reactive * motor.magnetising_share
    leakage = rated_reactive - magnetising
    voltage_ratio = volts / motor.voltage
    reactive = (
        magnetising * magnetising_current_ratio(flux) * voltage_ratio
        + leakage * load_current**2 * hertz_ratio
    )
    apparent = math.hypot(real, reactive)
    return Operation(
        shaft_power=shaft,
        input_power=real,
        reactive_power=reactive,
        apparent_power=apparent,
        current=apparent / volts,
        power_factor=real / apparent if apparent else 1.0,
        efficiency=shaft / real if real else 0.0,
        losses=losses,
        load_losses=loading,
        speed=speed,
        torque=torque,
        flux=flux,
    )


@dataclass(frozen=True)
class SupplyVariation:
    """Departure of a supply from the nameplate [signed ratios] and whether NEMA MG 1 allows it."""

    voltage: float
    frequency: float
    combined: float
    voltage_within: bool
    frequency_within: bool
    combined_within: bool
    within: bool


def supply_variation(
    voltage: float, frequency: float, rated_voltage: float, rated_frequency: float
) -> SupplyVariation:
    """How far a supply [V, Hz] is from the nameplate and whether a motor must still work on it.

    Limits: +-10 % voltage, +-5 % frequency, sum of both absolute values 10 %.
    Source: NEMA Condensed MG 1-2011, 9.9 (MG 1 12.44).
    """
    volts = positive(voltage, "the voltage") / positive(rated_voltage, "the rated voltage") - 1
    hertz = (
        positive(frequency, "the frequency") / positive(rated_frequency, "the rated frequency") - 1
    )
    combined = abs(volts) + abs(hertz)
    slack = 1e-9
    checks = (
        abs(volts) <= NEMA_VOLTAGE_BAND + slack,
        abs(hertz) <= NEMA_FREQUENCY_BAND + slack,
        combined <= NEMA_COMBINED_BAND + slack,
    )
    return SupplyVariation(volts, hertz, combined, *checks, all(checks))


def table_horsepower(output: float) -> float:
    """The row of NEC Table 430.248 [hp] for a rated output [W]: the next row up.

    A row within 2 % counts as reached (0.75 kW is the 1 hp row). Raises ValueError above 10 hp.
    Source: NEC 430.6(A)(1) and Table 430.248.
    """
    horsepower = positive(output, "the motor's rated output") / HORSEPOWER
    for row in _NEC_CURRENTS:
        if horsepower <= row * 1.02:
            return row
    raise ValueError("the table of single-phase motor currents ends at 10 hp")


def table_current(output: float, voltage: float) -> float:
    """Full-load current [A] by NEC Table 430.248 for a rated output [W] and a voltage [V].

    The columns serve 110-120, 200, 208 and 220-240 V. Raises ValueError for any other voltage.
    Source: NEC (NFPA 70) Table 430.248.
    """
    currents = _NEC_CURRENTS[table_horsepower(output)]
    for column, (low, high) in enumerate(((110, 120), (199, 201), (207, 209), (220, 240))):
        if low <= voltage <= high:
            return float(currents[column])
    raise ValueError("the table of motor currents knows 110-120, 200, 208 and 220-240 V only")
