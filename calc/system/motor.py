"""The pump, its motor and its mains: what making water asks of whatever feeds it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..physics import motors, pumps, starting
from .held import Held

# Mains that exist somewhere [V, Hz]: IEC 60038, and for 100, 110, 127 and 220 V from memory.
MAINS = (
    (100.0, 50.0), (110.0, 50.0), (127.0, 50.0), (220.0, 50.0), (230.0, 50.0), (240.0, 50.0),
    (100.0, 60.0), (115.0, 60.0), (120.0, 60.0), (127.0, 60.0), (220.0, 60.0), (230.0, 60.0),
    (240.0, 60.0),
)  # fmt: skip

# NEMA Condensed MG 1-2011, 9.9: volts within 10 %, hertz within 5 %, both together within 10 %.
VOLTS_BAND, HERTZ_BAND = motors.NEMA_VOLTAGE_BAND, motors.NEMA_FREQUENCY_BAND

# NEC Table 430.251(A): locked-rotor current of single-phase motors over the table's full load.
LOCKED_ROTOR_FACTOR = 6.0

WRONG_VOLTS = 0.25  # off the motor's: another motor, or another connection
UNKNOWN_KIND = "unknown"

CODE_LETTERS = starting.CODE_LETTERS  # of a motor's plate


@dataclass(frozen=True)
class Mains:
    """A supply: voltage [V] and frequency [Hz]."""

    voltage: float
    frequency: float

    def suits(self, other: Mains | None) -> bool:
        """Whether a source of those mains serves these: within 10 % and 5 %; True for none."""
        if other is None:
            return True
        volts, hertz = other.voltage / self.voltage, other.frequency / self.frequency
        return 0.9 <= volts <= 1.1 and 0.95 <= hertz <= 1.05


@dataclass(frozen=True)
class Plate:
    """What a motor's nameplate says.

    Output [W], volts [V] and the lower of a dual-voltage motor, hertz, efficiency and power factor
    [ratio], speed [rev/s], poles, the kind of its start winding, current [A] where it is stated,
    service factor [ratio] and the hottest air that it is made for [K].
    """

    output: float
    voltage: float
    low_voltage: float | None
    frequency: float
    efficiency: float
    power_factor: float
    speed: float
    poles: int
    kind: str
    stated_current: float | None
    service_factor: float
    hottest_air: float

    def of_kind(self, kind: str) -> Plate:
        """This motor, if it is of another kind than its record says: with that one's usual power
        factor, and the current that follows from it. Source: `motors.KINDS`."""
        if kind == self.kind:
            return self
        usual = motors.KINDS[kind].power_factor
        return replace(self, kind=kind, power_factor=usual, stated_current=None)

    def connected(self, supply: float | None = None) -> float:
        """Voltage [V] that it is connected for: of a dual-voltage motor that nearer to the
        supply's [V]; the plate's where no supply is named."""
        if supply is None or self.low_voltage is None:
            return self.voltage
        choices = (self.voltage, self.low_voltage)
        return min(choices, key=lambda volts: abs(volts - supply) / volts)

    def current(self, supply: float | None = None) -> float:
        """Nameplate current [A] as connected; reckoned from its output where none is stated.

        Source: the plate; `motors.full_load_current`, `motors.dual_voltage_current`.
        """
        amps = self.stated_current or motors.full_load_current(
            self.output, self.voltage, self.efficiency, self.power_factor
        )
        return motors.dual_voltage_current(amps, self.voltage, self.connected(supply))

    def motor(self, supply: float | None = None) -> motors.Motor:
        """The physics' motor, connected for a supply [V]."""
        return motors.Motor(
            output=self.output,
            voltage=self.connected(supply),
            frequency=self.frequency,
            efficiency=self.efficiency,
            power_factor=self.power_factor,
            speed=self.speed,
            poles=self.poles,
        )


@dataclass(frozen=True)
class Starting:
    """How the motor is switched on: "direct" or "soft", and what is stated of its start.

    Soft start's multiple of the rated current, duration [s], power factor, locked-rotor amps [A]
    or code letter; its torque over the rated one; whether against pressure; whether its maker
    allows a soft starter.
    """

    how: str = "direct"
    factor: float = 1.0
    time: float = 1.0
    power_factor: float = 0.6
    locked_rotor_current: float | None = None
    code_letter: str = ""
    torque: float | None = None
    loaded: bool = False
    soft_allowed: bool = False

    @property
    def soft(self) -> bool:
        """Whether through a soft starter."""
        return self.how == "soft"

    @property
    def letter(self) -> str:
        """Its code letter, as the table writes it."""
        return self.code_letter.strip().upper()

    def check_letter(self) -> None:
        """Raises ValueError for a code letter that does not exist."""
        if self.code_letter:
            starting.code_letter_range(self.letter)


@dataclass(frozen=True)
class Rating:
    """A part that stands under the working pressure, by its key, and what it bears [Pa]."""

    key: str
    bears: float


@dataclass(frozen=True)
class Pump:
    """The high-pressure pump at work: feed flow [m3/s] at rated speed, pressure [Pa], efficiency;
    what each part under its pressure bears; where its relief valve opens [Pa], if that is known."""

    flow: float
    pressure: float
    efficiency: float
    ratings: tuple[Rating, ...]
    relief: float | None = None

    @property
    def weakest(self) -> Rating:
        """The part that bears least, the first of equals."""
        return min(self.ratings, key=lambda rating: rating.bears)

    @property
    def bears(self) -> float:
        """Highest pressure [Pa] that the weakest part bears."""
        return self.weakest.bears


@dataclass(frozen=True)
class Machine:
    """The unit on its mains: motor, start, pump and boost pump [W]; and the fresh water [m3/s] that
    it makes on them in its sea, where that is asked."""

    plate: Plate
    start: Starting
    pump: Pump
    mains: Mains
    product: float | None = None
    boost_power: float = 0.0
    boost_on_mains: bool = False

    @property
    def wrong_volts(self) -> bool:
        """Whether the mains are for another motor or another connection."""
        volts = self.mains.voltage
        return abs(volts / self.plate.connected(volts) - 1) > WRONG_VOLTS

    @property
    def switched_on_soft(self) -> bool:
        """Whether a soft starter feeds a start winding that a switch cuts out, and nobody who
        knows allows it: while volts are held back the switch may not open."""
        start = self.start
        return start.soft and not start.soft_allowed and motors.KINDS[self.plate.kind].switched


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

    Current [A], power factor [ratio], and what the current is known by: "soft", "stated", "letter"
    or "usual".
    """

    current: float
    power_factor: float
    known_by: str


@dataclass(frozen=True)
class Water:
    """What making water asks: the motor at work and at its start [W, VA, A], and what it gives.

    `torque_known` is false where neither the starting torque nor the kind of motor is.

    `full_torque` is what the motor gives at rest straight on its rated voltage, over what the pump
    asks; `softness` the share of that voltage that a soft start lets through, None without one.
    """

    load: Load
    rush: Rush
    full_torque: float
    softness: float | None
    made: float | None
    boost_ac: float
    boost_dc: float
    torque_known: bool = True

    @property
    def product(self) -> float:
        """Fresh water [m3/s]. Raises ValueError where none was asked for."""
        if self.made is None:
            raise ValueError("no fresh water was asked for")
        return self.made

    @property
    def real(self) -> float:
        """AC power while running [W]."""
        return self.load.at_work.input_power + self.boost_ac

    @property
    def reactive(self) -> float:
        """Reactive power while running [var]."""
        return self.load.at_work.reactive_power

    @property
    def overfluxed(self) -> bool:
        """Whether the iron is so full that nobody can reckon what the motor draws."""
        return self.load.at_work.flux > 1 + VOLTS_BAND

    @property
    def energy(self) -> float:
        """Energy for fresh water [J/m3], at the motor and the boost pump."""
        return (self.real + self.boost_dc) / self.product

    def start_torque(self, volts: float) -> float:
        """Torque at the start over what the pump asks, at a share of the rated voltage.

        A soft starter makes up for a dip as long as it still holds voltage back.
        """
        let_through = volts if self.softness is None else min(self.softness, volts)
        return self.full_torque * let_through**2

    def start_current(self, volts: float) -> float:
        """Current at the start [A] at a share of the rated voltage; a soft starter holds it."""
        return self.rush.current * (volts if self.softness is None else 1.0)

    def apparent(self, other: float) -> float:
        """Apparent power [VA] with another load [W] of unity power factor."""
        return math.hypot(self.real + other, self.reactive)


def shaft_power(machine: Machine) -> float:
    """What the pump asks at the shaft at rated speed [W]. Source: `pumps.shaft_power`."""
    return pumps.shaft_power(machine.pump.flow, machine.pump.pressure, machine.pump.efficiency)


def rush(plate: Plate, start: Starting, supply: float | None = None) -> Rush:
    """Starting current at the motor's rated voltage, as connected for a supply [V].

    Through a soft starter its stated multiple of the rated current; else the stated locked-rotor
    amps, else the upper end of the code letter, else six times the rated current. Raises ValueError
    for a code letter that does not exist.
    Source: the plate; NEC (NFPA 70) Tables 430.7(B) and 430.251(A); `starting`.
    """
    if start.soft:
        amps, known = starting.soft_start_current(plate.current(), start.factor), "soft"
    elif start.locked_rotor_current is not None:
        amps, known = start.locked_rotor_current, "stated"
    elif start.code_letter:
        amps = starting.letter_current(start.letter, plate.output, plate.voltage).high
        known = "letter"
    else:
        amps, known = LOCKED_ROTOR_FACTOR * plate.current(), "usual"
    here = motors.dual_voltage_current(amps, plate.voltage, plate.connected(supply))
    return Rush(here, start.power_factor, known)


def load(machine: Machine) -> Load:
    """The machine at work on its mains.

    On another supply than the nameplate's the positive-displacement pump keeps its torque: speed,
    flow and power follow. Raises ValueError where nobody can tell whether the motor holds it.
    Source: `pumps.shaft_power`, `motors.operate`, `motors.sure_torque`.
    """
    plate, mains = machine.plate, machine.mains
    motor = plate.motor(mains.voltage)
    torque = pumps.torque(shaft_power(machine), plate.speed)
    if torque > motors.sure_torque(motor, mains.voltage, mains.frequency):
        raise ValueError("nobody can tell whether the motor holds this load on these mains")
    at_work = motors.operate(motor, torque, mains.voltage, mains.frequency)
    share = at_work.speed / plate.speed
    pump = machine.pump
    return Load(motor, pump.flow * share, pump.pressure, at_work.shaft_power, at_work)


def full_start_torque(machine: Machine) -> float:
    """Starting torque straight on the line over the rated torque: as stated, else of its kind."""
    if machine.start.torque is not None:
        return machine.start.torque
    return motors.KINDS[machine.plate.kind].start_torque


def water(machine: Machine) -> Water | None:
    """What making water asks of the mains; None where the motor may stall on them.

    Raises ValueError for a code letter that does not exist. Source: `load`, `rush`.
    """
    plate, start, mains = machine.plate, machine.start, machine.mains
    drawn = rush(plate, start, mains.voltage)
    direct = rush(plate, replace(start, how="direct"), mains.voltage)
    try:
        work = load(machine)
    except ValueError:
        return None
    boost_ac = machine.boost_power if machine.boost_on_mains else 0.0
    hertz = work.motor.frequency / mains.frequency
    amps = drawn.current * (1.0 if start.soft else hertz)  # at rest it is an inductance
    soft = min(1.0, drawn.current / direct.current) if start.soft else None
    given = full_start_torque(machine) * pumps.torque(work.motor.output, work.motor.speed)
    needed = pumps.starting_torque(work.at_work.torque, start.loaded)
    return Water(
        work,
        replace(drawn, current=amps),
        given * hertz**2 / needed,
        soft,
        machine.product,
        boost_ac,
        machine.boost_power - boost_ac,
        start.torque is not None or plate.kind != UNKNOWN_KIND,
    )


def pressure(machine: Machine) -> Held:
    """The working pressure against the weakest part under it."""
    return Held(machine.pump.pressure, machine.pump.bears)


def opens_above(relief: float | None, pressure: float) -> Held | None:
    """Where a relief valve opens against a working pressure [Pa]; None where nobody knows."""
    return None if relief is None else Held(relief, pressure, least=True)


def relief(machine: Machine) -> Held | None:
    """Where its relief valve opens against its working pressure."""
    return opens_above(machine.pump.relief, machine.pump.pressure)


def shaft(machine: Machine, power: float) -> Held:
    """A power at the shaft [W] against what the motor may give at these hertz."""
    plate, mains = machine.plate, machine.mains
    hertz = min(1.0, mains.frequency / plate.frequency)
    return Held(power, plate.output * plate.service_factor * hertz)


def current(machine: Machine, work: Load) -> Held:
    """The motor's current [A] against its plate's."""
    plate = machine.plate
    return Held(work.at_work.current, plate.current(machine.mains.voltage) * plate.service_factor)


def flux(machine: Machine) -> float:
    """Volts per hertz over the plate's [ratio]. Source: `motors.flux_ratio`."""
    motor, mains = machine.plate.motor(machine.mains.voltage), machine.mains
    return motors.flux_ratio(mains.voltage, mains.frequency, motor.voltage, motor.frequency)


def hertz_suit(wound_for: float, hertz: float) -> bool:
    """Whether a frequency [Hz] is the one that a motor is wound for [Hz], within 5 %."""
    return abs(hertz / wound_for - 1) <= HERTZ_BAND


def own_hertz(machine: Machine) -> bool:
    """Whether the mains' frequency is the one that the motor is wound for, within 5 %."""
    return hertz_suit(machine.plate.frequency, machine.mains.frequency)


def off_the_plate(machine: Machine) -> Held:
    """Volts and hertz off the nameplate's, added, against what a motor must bear."""
    motor, mains = machine.plate.motor(machine.mains.voltage), machine.mains
    off = motors.supply_variation(
        mains.voltage, mains.frequency, motor.voltage, motor.frequency
    ).combined
    return Held(off, motors.NEMA_COMBINED_BAND)


def mains_for_its_flux(machine: Machine) -> float | None:
    """Volts of mains that exist at these hertz and give the motor its volts per hertz, where the
    stated ones don't [V]; None where there are none."""
    motor, mains = machine.plate.motor(machine.mains.voltage), machine.mains
    right = motor.voltage * mains.frequency / motor.frequency
    near = min(
        (volts for volts, hertz in MAINS if abs(hertz / mains.frequency - 1) <= HERTZ_BAND),
        key=lambda volts: abs(volts / right - 1),
        default=0.0,
    )
    astray = abs(mains.voltage / right - 1) > VOLTS_BAND
    return near if astray and abs(near / right - 1) <= VOLTS_BAND else None
