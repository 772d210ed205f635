"""The working: each step as formula, numbers put in, result and source."""

from __future__ import annotations

import math

from ...frame.report import Report, line
from ...physics import batteries, generators, pumps, starting
from ...system import on_bank
from ...system.aboard import Aboard
from ...system.bank import Drawn
from ...system.motor import Machine, Rush, Water
from ...system.on_bank import House, SunDay
from ...system.on_generator import Carried, start_apparent
from ...system.supply import Generator


def stalled(show: Report, machine: Machine) -> None:
    """Of a motor that may stall nobody can tell what it draws."""
    _shaft(show, machine)
    show.headline(
        "Nobody can tell whether the motor turns the pump at all: it may stall, and "
        "nobody can tell what it draws, whatever feeds it."
    )


def _shaft(show: Report, machine: Machine) -> None:
    pump, speed = machine.pump, machine.plate.speed
    shaft = show.step(
        "Shaft power of the pump at rated speed",
        pumps.shaft_power(pump.flow, pump.pressure, pump.efficiency),
        "W",
        "P_shaft = Q * dp / eta",
        {"Q": (pump.flow, "L/min"), "dp": (pump.pressure, "bar"), "eta": (pump.efficiency, "%")},
        "Definition of the efficiency, ISO 17769-1",
    )
    show.step(
        "Torque that the pump needs, at any speed",
        pumps.torque(shaft, speed),
        "N m",
        "T = P_shaft / (2 * pi * n)",
        {"P_shaft": (shaft, "W"), "n": (speed, "rpm")},
        "Definition of mechanical power",
    )


def motor_steps(show: Report, aboard: Aboard, water: Water) -> None:
    """Pump and motor at work; of a motor whose iron is full no more than the pump asks."""
    _shaft(show, aboard.machine)
    if water.overfluxed:
        return
    made, work, mains = water.load.motor, water.load.at_work, aboard.mains
    show.step(
        "Losses at rated load",
        made.output / made.efficiency - made.output,
        "W",
        "L_r = P_r / eta_r - P_r",
        {"P_r": (made.output, "W"), "eta_r": (made.efficiency, "%")},
        "Definition of efficiency, IEC 60034-2-1",
    )
    rated_torque = made.output / (2 * math.pi * made.speed)
    show.step(
        "Motor's input: shaft, fixed losses, losses with load",
        work.input_power,
        "W",
        "P = P_s + L_r * (k * phi**2 * h**1.5 + (1 - k) * (x / phi)**2)",
        {
            "P_s": (work.shaft_power, "W"),
            "L_r": (made.output / made.efficiency - made.output, "W"),
            "k": (made.fixed_loss_share, "%"),
            "phi": (work.flux, "%"),
            "h": (mains.frequency / made.frequency, "%"),
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
        {"P": (work.input_power, "W"), "R": (work.reactive_power, "VA"), "V": (mains.voltage, "V")},
        "Definition of apparent power",
    )
    show.step(
        "Energy for fresh water",
        water.energy,
        "Wh/L",
        "e = (P + P_boost) / Q_p",
        {
            "P": (work.input_power, "W"),
            "P_boost": (aboard.machine.boost_power, "W"),
            "Q_p": (water.product, "L/h"),
        },
        "Definition",
    )


def generator_steps(
    show: Report, aboard: Aboard, water: Water, made: Generator, found: Carried
) -> None:
    """The generator here, its start and its fuel."""
    mains, fuel, dip = aboard.mains, made.fuel, found.start
    m, n = (1.0, 0.75) if fuel.kind == "diesel" else (1.0, 0.5)
    show.step(
        "Generator's power here, by height and heat",
        made.power * made.site_share(aboard.air),
        "W",
        "P_site = P_g / max(1, 1.175 * (p_0 / p)**m * ((1.8 * T + 0.33) / 537)**n - 0.175)",
        {
            "P_g": (made.power, "W"),
            "p_0": (29.2 * 3386.39, "hPa"),
            "p": (generators.atmospheric_pressure(aboard.air.altitude), "hPa"),
            "m": (m, ""),
            "n": (n, ""),
            "T": (aboard.air.temperature, "K"),
        },
        "Marine generating set manual TP-7045 (3/18), appendix C, the form of ISO 3046-1",
    )
    asked, factor = dip.apparent_power, water.rush.power_factor
    show.step(
        "Volt-amperes at the start",
        start_apparent(water, dip, Drawn(aboard.other_load)),
        "VA",
        "S = sqrt((V * I * c + P_o)**2 + (V * I)**2 * (1 - c**2))",
        {
            "V": (mains.voltage, "V"),
            "I": (asked / mains.voltage, "A"),
            "c": (factor, "%"),
            "P_o": (aboard.other_load + water.boost_ac, "W"),
        },
        "Definition of apparent power",
        "The amperes load the set at its full voltage, whatever it has sagged to.",
    )
    if made.electronic:
        return
    reactance, apparent = made.inner_reactance(mains.voltage), made.apparent
    show.step(
        "Generator's inner reactance",
        reactance,
        "Ω",
        "X = x * V**2 / S",
        {"x": (made.reactance, "%"), "V": (mains.voltage, "V"), "S": (apparent, "VA")},
        "Definition of per-unit reactance, IEC 60034-4",
    )
    _dip(show, aboard, water, dip, reactance)
    show.step(
        "Generator's fuel, run for the water alone",
        fuel.flow(water.real),
        "L/h",
        "F = F_0 + b * P",
        {"F_0": (fuel.idle, "L/h"), "b": (fuel.slope, "L/kWh"), "P": (water.real, "W")},
        "Willans line: fuel against load is nearly straight (P. W. Willans, Min. Proc. ICE 1888)",
    )


def _dip(show: Report, aboard: Aboard, water: Water, dip: starting.Start, reactance: float) -> None:
    rush, softness = water.rush, water.softness or 1.0
    cable = aboard.cable
    behind = {"c": (rush.power_factor, "%"), "X": (reactance, "Ω")}
    if water.softness is not None and dip.voltage > softness * water.load.motor.voltage:
        if cable:
            _held_behind_a_cable(show, aboard, dip, rush, behind)
            return
        show.step(
            "Voltage dip at the start, the current held",
            dip.source_dip,
            "%",
            "d = 1 - (sqrt(V**2 - (I * X * c)**2) - I * X * sqrt(1 - c**2)) / V",
            {"V": (aboard.mains.voltage, "V"), "I": (rush.current, "A")} | behind,
            "Ohm's law in complex form",
            "A soft starter lets more through where the voltage falls, until it lets all through.",
        )
        return
    still = water.load.motor.voltage * softness / rush.current
    show.step(
        "Voltage dip at the start",
        dip.source_dip,
        "%",
        "d = 1 - sqrt((Z * c + R)**2 + (Z * sqrt(1 - c**2) + Y)**2)"
        " / sqrt((Z * c + R)**2 + (Z * sqrt(1 - c**2) + Y + X)**2)",
        {"Z": (still, "Ω"), "R": (cable.real, "Ω"), "Y": (cable.imag, "Ω")} | behind,
        "Ohm's law in complex form",
        "Z is the motor at rest, its rated volts over its start amps; "
        "R and Y are the stated cable's, out and back.",
    )


def _held_behind_a_cable(
    show: Report,
    aboard: Aboard,
    dip: starting.Start,
    rush: Rush,
    behind: dict[str, tuple[float, str]],
) -> None:
    """The working of a soft start behind a stated cable: the motor's volts, then the set's."""
    there = {
        "I": (rush.current, "A"),
        "V": (aboard.mains.voltage, "V"),
        "R": (aboard.cable.real, "Ω"),
        "Y": (aboard.cable.imag, "Ω"),
    }
    show.step(
        "Volts at the soft starter as it holds the current",
        dip.voltage,
        "V",
        "U = sqrt(V**2 - (I * ((X + Y) * c - R * sqrt(1 - c**2)))**2)"
        " - I * (R * c + (X + Y) * sqrt(1 - c**2))",
        there | behind,
        "Ohm's law in complex form",
        "R and Y are the stated cable's, out and back.",
    )
    show.step(
        "Voltage dip at the start, the current held",
        dip.source_dip,
        "%",
        "d = 1 - sqrt((U + I * (R * c + Y * sqrt(1 - c**2)))**2"
        " + (I * (Y * c - R * sqrt(1 - c**2)))**2) / V",
        there | {"c": behind["c"], "U": (dip.voltage, "V")},
        "Ohm's law in complex form",
        "A soft starter lets more through where the voltage falls, until it lets all through.",
    )


def bank_steps(show: Report, aboard: Aboard, water: Water, house: House) -> None:
    """What the inverter takes from the bank, and how long that lasts."""
    losses, rated = house.inverter.losses, house.inverter.rated
    show.step(
        "Power from the bank through the inverter",
        house.dc - water.boost_dc,
        "W",
        "P_dc = P + S_r * (a + b * S / S_r + c * (S / S_r)**2)",
        {
            "P": (water.real + on_bank.inverter_of(aboard).load, "W"),
            "S": (water.apparent(on_bank.inverter_of(aboard).load), "VA"),
            "S_r": (rated, "VA"),
            "a": (losses.fixed, "%"),
            "b": (losses.proportional, "%"),
            "c": (losses.quadratic, "%"),
        },
        "Three-term loss polynomial, Schmidt and Sauer 1996 (form from memory)",
        "The losses go with the current: with the apparent power S.",
    )
    bank = house.bank
    emf = house.at(house.charge)
    point = batteries.constant_power(emf, bank.resistance, house.drawn)
    if point is None or point.current <= 0:
        return
    show.step(
        "Current from the bank as the run begins, sag included",
        point.current,
        "A",
        "I = 2 * P / (E + sqrt(E**2 - 4 * R * P))",
        {"P": (house.drawn, "W"), "E": (emf, "V"), "R": (bank.resistance, "mΩ")},
        "P = (E - I R) I solved for the smaller current",
        line("E and R of {k} are from memory or common practice.", k=bank.chemistry.name),
    )
    depth = house.charge - house.reserve
    factor = batteries.depletion_factor(
        bank.capacity, bank.rated_time, point.current, bank.exponent
    )
    show.step(
        "Hours at that current, by Peukert",
        depth * bank.capacity / (point.current * factor),
        "h",
        "t = D * C / (I * max(1, I * H / C)**(k - 1))",
        {
            "D": (depth, "%"),
            "C": (bank.capacity, "Ah"),
            "I": (point.current, "A"),
            "H": (bank.rated_time, "h"),
            "k": (bank.exponent, ""),
        },
        "W. Peukert, Elektrotechnische Zeitschrift 20 (1897), referred to the rated hour rate",
        line(
            "C is what age and cold have left. The law applies only above the rated current, {i}; "
            "the hours above follow the current as the voltage falls.",
            i=(bank.capacity / bank.rated_time, "A"),
        ),
    )


def sun_step(show: Report, aboard: Aboard, water: Water, house: House, day: SunDay) -> None:
    """Water that the sun carries a day."""
    show.step(
        "Water that the sun carries a day after the house",
        day.volume.value,
        "L",
        "W = max(0, eta * E_sun - E_house) * Q_p / P_dc",
        {
            "eta": (house.bank.chemistry.charge_efficiency.value, "%"),
            "E_sun": (day.given, "kWh"),
            "E_house": (day.asked, "kWh"),
            "Q_p": (water.product, "L/h"),
            "P_dc": (house.dc, "W"),
        },
        "P. Ineichen and R. Perez, Solar Energy 73 (2002) 151, and FAO Irrigation and Drainage "
        "Paper 56 (1998), eq. 35, summed over the day",
        "All of it is taken to pass through the bank once.",
    )
