"""What making water asks of a supply: the motor at work and at its start, told to the reader."""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..frame.inputs import Refusal, Values
from ..frame.report import Report, line
from ..physics import motors, pumps
from .load import (
    Load,
    Rush,
    judge_pressure,
    load_of,
    motor_of,
    rated_current,
    start_torque,
    starting_current,
)
from .sources import plate_of

# Mains that exist somewhere [V, Hz]: IEC 60038, and for 100, 110, 127 and 220 V from memory.
MAINS = (
    (100.0, 50.0), (110.0, 50.0), (127.0, 50.0), (220.0, 50.0), (230.0, 50.0), (240.0, 50.0),
    (100.0, 60.0), (115.0, 60.0), (120.0, 60.0), (127.0, 60.0), (220.0, 60.0), (230.0, 60.0),
    (240.0, 60.0),
)  # fmt: skip

# NEMA Condensed MG 1-2011, 9.9: volts within 10 %, hertz within 5 %, both together within 10 %.
VOLTS_BAND, HERTZ_BAND = motors.NEMA_VOLTAGE_BAND, motors.NEMA_FREQUENCY_BAND


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
    product: float
    boost_ac: float
    boost_dc: float
    torque_known: bool = True

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


def water_of(q: Values) -> Water | None:
    """What making water asks on the mains on board; None where it may stall on them.

    Refuses a code letter that does not exist. Source: `load`.
    """
    plate = plate_of(q)
    try:
        rush = starting_current(plate, q.ac_voltage)
        direct = starting_current(Values({**vars(plate), "start": "direct"}), q.ac_voltage)
    except ValueError as error:
        raise Refusal("code_letter", str(error)) from None
    try:
        load = load_of(q.unit, q.flow, q.pressure, q.ac_voltage, q.ac_frequency)
    except ValueError:
        return None
    share = min(1.0, load.flow / q.flow)  # nothing is promised beyond the stated fresh water
    boost_ac = q.boost_power if q.boost_supply == "ac" else 0.0
    hertz = load.motor.frequency / q.ac_frequency
    amps = rush.current * (1.0 if q.start == "soft" else hertz)  # at rest it is an inductance
    soft = min(1.0, rush.current / direct.current) if q.start == "soft" else None
    given = start_torque(q) * pumps.torque(load.motor.output, load.motor.speed) * hertz**2
    needed = pumps.starting_torque(load.at_work.torque, q.start_loaded)
    return Water(
        load,
        Rush(amps, rush.power_factor, rush.told_by),
        given / needed,
        soft,
        q.product_flow * share,
        boost_ac,
        q.boost_power - boost_ac,
        q.start_torque is not None or q.motor_kind != "unknown",
    )


def tell_water(q: Values, show: Report) -> Water | None:
    """The load, judged against pump and motor; None where the motor may not hold it at all."""
    water = water_of(q)
    shaft = _steps_of_the_shaft(q, show)
    judge_pressure(show, q.unit, q.pressure)
    if water is None:
        _may_stall(q, show, shaft)
        return None
    _figures(q, show, water)
    _judge_soft_start(q, show)
    if not show.brief:
        _steps_of_the_motor(q, show, water)
    return water


def _judge_soft_start(q: Values, show: Report) -> None:
    """A soft starter on a motor whose start winding a switch cuts out, unless its maker allows it.

    While the voltage is held back the motor may not reach the speed at which the switch opens.
    """
    if q.start != "soft" or q.soft_allowed or not motors.KINDS[q.motor_kind].switched:
        return
    if q.motor_kind == "unknown":
        show.unknown(
            "ask the motor's maker whether it bears a soft starter: with a switch in its "
            "start winding it may not"
        )
    else:
        show.unknown(
            "a switch in this motor cuts its start winding out at speed; on a soft "
            "starter the winding or its capacitor may stay in and burn: ask the motor's "
            "maker whether it bears one, and which"
        )


def _may_stall(q: Values, show: Report, shaft: float) -> None:
    """A load [W] beyond what the motor is sure to hold: no watts and no litres can be told."""
    motor = motor_of(q.unit.motor, q.ac_voltage)
    _shaft(q, show, shaft, motor)
    _flux(show, motors.flux_ratio(q.ac_voltage, q.ac_frequency, motor.voltage, motor.frequency))
    rated = motors.sure_torque(motor) / motors.SURE_TORQUE
    show.unknown(
        "at {v} and {f} nobody can tell whether the motor holds the pump or stalls: it is asked "
        "for {t} of its rated torque and sure to hold {m}",
        v=(q.ac_voltage, "V"),
        f=(q.ac_frequency, "Hz"),
        t=(pumps.torque(shaft, q.unit.motor.rated_speed) / rated, "%"),
        m=(motors.sure_torque(motor, q.ac_voltage, q.ac_frequency) / rated, "%"),
    )
    show.headline(
        "Nobody can tell whether the motor turns the pump at all: it may stall, and "
        "nobody can tell what it draws, whatever feeds it."
    )


def _steps_of_the_shaft(q: Values, show: Report) -> float:
    shaft = show.step(
        "Shaft power of the pump at rated speed",
        pumps.shaft_power(q.flow, q.pressure, q.unit.pump.efficiency),
        "W",
        "P_shaft = Q * dp / eta",
        {"Q": (q.flow, "L/min"), "dp": (q.pressure, "bar"), "eta": (q.unit.pump.efficiency, "%")},
        "Definition of the efficiency, ISO 17769-1",
    )
    show.step(
        "Torque it asks, at any speed",
        pumps.torque(shaft, q.unit.motor.rated_speed),
        "N m",
        "T = P_shaft / (2 * pi * n)",
        {"P_shaft": (shaft, "W"), "n": (q.unit.motor.rated_speed, "rpm")},
        "Definition of mechanical power",
    )
    return shaft


def _figures(q: Values, show: Report, water: Water) -> None:
    load, plate = water.load, q.unit.motor
    work, motor = load.at_work, load.motor
    _shaft(q, show, work.shaft_power, motor)
    _current(q, show, water)
    at_least = ", at the least" if water.overfluxed else ""
    show.figure("input", f"Motor draws{at_least}", work.input_power, "W")
    show.figure("apparent", f"Motor's apparent power{at_least}", work.apparent_power, "VA")
    _flux(show, work.flux)
    if abs(q.ac_frequency / motor.frequency - 1) <= HERTZ_BAND:
        off = motors.supply_variation(
            q.ac_voltage, q.ac_frequency, motor.voltage, motor.frequency
        ).combined
        show.figure(
            "voltage",
            "Volts and hertz, off the nameplate's, added",
            off,
            "%",
            at_most=motors.NEMA_COMBINED_BAND,
            says=line(
                "the mains are {d} off the nameplate's volts and hertz, added; {m} "
                "is what a motor must bear",
                d=(off, "%"),
                m=(motors.NEMA_COMBINED_BAND, "%"),
            ),
        )
    else:
        _foreign_hertz(q, show, water)
    if plate.low_voltage is not None:
        show.note(
            "Connected for {v}; on its other voltage it takes the same volt-amperes. The "
            "maker's diagram in the junction box shows both connections.",
            v=(motor.voltage, "V"),
        )
    show.figure(
        "start_current",
        "Motor draws at its start",
        water.rush.current,
        "A",
        note=water.rush.told_by,
    )
    show.figure(
        "energy",
        f"Energy for fresh water, boost pump included{at_least}",
        water.energy,
        "Wh/L",
        note="at the motor, before any inverter",
    )
    show.figure("specific", f"The same, as plants are compared{at_least}", water.energy, "kWh/m3")
    show.figure("daily", "Fresh water a day", water.product * q.run_hours, "L")


def _current(q: Values, show: Report, water: Water) -> None:
    """The motor's current; not judged where the iron is full, for then nobody can reckon it."""
    work = water.load.at_work
    if water.overfluxed:
        show.figure(
            "current",
            "Motor's current, at the least",
            work.current,
            "A",
            note="how much more, nobody can tell: the iron is full",
        )
        return
    limit = rated_current(q.unit.motor, q.ac_voltage) * q.unit.motor.service_factor
    show.figure(
        "current",
        "Motor's current",
        work.current,
        "A",
        at_most=limit,
        says=line(
            "the motor draws {i}; its plate allows {m}", i=(work.current, "A"), m=(limit, "A")
        ),
    )


def _shaft(q: Values, show: Report, power: float, motor: motors.Motor) -> None:
    """The pump's power at the shaft [W] against what the motor may give at these hertz."""
    plate = q.unit.motor
    rating = plate.rated_power * plate.service_factor * min(1.0, q.ac_frequency / motor.frequency)
    show.figure(
        "shaft",
        "Shaft power",
        power,
        "W",
        at_most=rating,
        says=line(
            "the pump takes {p} at the shaft; the motor may give {m}",
            p=(power, "W"),
            m=(rating, "W"),
        ),
        note="rating × service factor" if plate.service_factor > 1 else "",
    )


def _flux(show: Report, flux: float) -> None:
    """Volts per hertz, judged either way, from the flux over the rated flux."""
    off = flux - 1
    way, harm = "above", "the iron is full and the motor cooks even unloaded"
    if off < 0:
        way, harm = "below", "the windings make up for it with current and it may not start"
    label = f"Volts per hertz, {way} the nameplate's" if off else "Volts per hertz, off the plate's"
    show.figure(
        "flux",
        label,
        abs(off),
        "%",
        at_most=VOLTS_BAND,
        says=line(
            "the volts for each hertz are {d} " + way + " the nameplate's: " + harm,
            d=(abs(off), "%"),
        )
        if abs(off) > VOLTS_BAND
        else line(
            "the volts for each hertz are {d} " + way + " the nameplate's, {m} allowed",
            d=(abs(off), "%"),
            m=(VOLTS_BAND, "%"),
        ),
        note="too many heat the iron, too few the windings",
    )


def _foreign_hertz(q: Values, show: Report, water: Water) -> None:
    """What changes where the mains have another frequency than the motor was wound for."""
    motor, work = water.load.motor, water.load.at_work
    show.unknown(
        "the motor is wound for {r} and the mains give {f}: only its maker can allow that",
        r=(motor.frequency, "Hz"),
        f=(q.ac_frequency, "Hz"),
    )
    show.figure("speed", "Speed on these mains", work.speed, "rpm")
    show.figure("feed", "Feed flow on these mains", water.load.flow, "L/min")
    slower = water.load.flow < q.flow
    show.figure(
        "product",
        "Fresh water on these mains",
        water.product,
        "L/h",
        note="taken to fall as the feed falls"
        if slower
        else "left at the stated value, although the pump moves more",
    )
    show.remedy("A motor wound for {v} and {f}.", v=(q.ac_voltage, "V"), f=(q.ac_frequency, "Hz"))
    show.remedy(
        "An inverter or a generator of {v} and {f}, kept for this motor.",
        v=(motor.voltage, "V"),
        f=(motor.frequency, "Hz"),
    )
    right = motor.voltage * q.ac_frequency / motor.frequency
    near = min(
        (volts for volts, hertz in MAINS if abs(hertz / q.ac_frequency - 1) <= HERTZ_BAND),
        key=lambda volts: abs(volts / right - 1),
        default=0.0,
    )
    if abs(near / right - 1) <= VOLTS_BAND and abs(q.ac_voltage / right - 1) > VOLTS_BAND:
        show.remedy(
            "Mains of {v} at {f}, as some places and transformers give them: the volts for each "
            "hertz are then within {d} of the plate's, and the motor may give {p} of its power at "
            "most. Whether it may run so, only its maker can say.",
            v=(near, "V"),
            f=(q.ac_frequency, "Hz"),
            d=(abs(near / right - 1), "%"),
            p=(min(1.0, q.ac_frequency / motor.frequency), "%"),
        )
    show.note(
        "A single-phase motor's capacitors and starting switch are made for one frequency "
        "too; nothing published says how far they stray."
    )


def _steps_of_the_motor(q: Values, show: Report, water: Water) -> None:
    motor, work = water.load.motor, water.load.at_work
    show.step(
        "Losses at rated load",
        motor.output / motor.efficiency - motor.output,
        "W",
        "L_r = P_r / eta_r - P_r",
        {"P_r": (motor.output, "W"), "eta_r": (motor.efficiency, "%")},
        "Definition of efficiency, IEC 60034-2-1",
    )
    rated_torque = motor.output / (2 * math.pi * motor.speed)
    show.step(
        "Motor's input: shaft, fixed losses, losses with load",
        work.input_power,
        "W",
        "P = P_s + L_r * (k * phi**2 * h**1.5 + (1 - k) * (x / phi)**2)",
        {
            "P_s": (work.shaft_power, "W"),
            "L_r": (motor.output / motor.efficiency - motor.output, "W"),
            "k": (motor.fixed_loss_share, "%"),
            "phi": (work.flux, "%"),
            "h": (q.ac_frequency / motor.frequency, "%"),
            "x": (work.torque / rated_torque, "%"),
        },
        "Equivalent circuit of the induction machine, Fitzgerald, Kingsley and Umans, Electric "
        "Machinery, ch. 6 (reduced; from memory)",
        "The fixed share k is common practice, no source.",
    )
    show.step(
        "Motor's current, magnetising part included",
        work.current,
        "A",
        "I = sqrt(P**2 + R**2) / V",
        {"P": (work.input_power, "W"), "R": (work.reactive_power, "VA"), "V": (q.ac_voltage, "V")},
        "Definition of apparent power",
    )
    show.step(
        "Energy for fresh water",
        water.energy,
        "Wh/L",
        "e = (P + P_boost) / Q_p",
        {
            "P": (work.input_power, "W"),
            "P_boost": (q.boost_power, "W"),
            "Q_p": (water.product, "L/h"),
        },
        "Definition",
    )
