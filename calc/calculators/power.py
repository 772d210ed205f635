"""Will my generator, inverter, batteries, engine or sun run the watermaker, and for how long?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ..boat import BoatSheet as boat
from ..cautions import caution
from ..inputs import Inputs, Refusal, Values, ask, whole
from ..load import Load, Rush, load_of, rated_current, starting_current
from ..physics import batteries, energy_balance, generators, motors, pumps, starting
from ..report import (
    FAILS,
    FITS,
    TIGHT,
    UNKNOWN,
    Axis,
    Band,
    Chart,
    Line,
    Mark,
    Option,
    Report,
    Series,
    line,
)
from ..sources import (
    CHARGER_EFFICIENCY,
    STEP,
    Inverter,
    alternator_current,
    alternator_matches,
    array_profile,
    bank_of,
    depth_of,
    discharge_limit,
    house_profile,
    inverter_of,
    mains_match,
    plate_of,
    site_share,
)

TITLE = "Power"
THE_LOAD = "The pump and its motor"
DAY, HOUR = 86400.0, 3600.0
PRACTICE = "common practice, no source"

# A motor still runs up, and lamps and relays hold, at a dip of this much. Common practice.
GREATEST_DIP = 0.30
# What the bank may lose over the last day of a run and still count as coming back.
DAILY_LOSS = 0.005
# NEMA Condensed MG 1-2011, 9.9: volts within 10 %, hertz within 5 %.
VOLTS_BAND, HERTZ_BAND = motors.NEMA_VOLTAGE_BAND, motors.NEMA_FREQUENCY_BAND


class Asks(Inputs):
    unit = boat.unit
    inverter = boat.inverter
    bank = boat.bank
    bank_chemistry = boat.bank_chemistry
    bank_capacity = boat.bank_capacity
    run_hours = boat.run_hours

    flow = ask(
        "Feed flow of the pump", "6.2 L/min", from_record="unit.pump.flow", above="0 L/min",
        at_most="100 L/min", group=THE_LOAD,
    )  # fmt: skip
    pressure = ask(
        "Working pressure", "55 bar", from_record="unit.pressure", above="0 bar", at_most="80 bar",
        group=THE_LOAD,
    )  # fmt: skip
    product_flow = ask(
        "Fresh water", "45 L/h", from_record="unit.product_flow", above="0 L/h",
        at_most="1000 L/h", group=THE_LOAD,
    )  # fmt: skip
    boost_power = boat.boost_power.but(group=THE_LOAD)
    boost_supply = boat.boost_supply.but(group=THE_LOAD)
    ac_voltage = boat.ac_voltage
    ac_frequency = boat.ac_frequency

    start = boat.start
    start_factor = boat.start_factor
    code_letter = boat.code_letter
    locked_rotor_current = boat.locked_rotor_current
    start_time = boat.start_time
    start_power_factor = boat.start_power_factor
    start_torque = boat.start_torque
    start_loaded = boat.start_loaded

    has_inverter = boat.has_inverter
    inverter_power = boat.inverter_power
    inverter_surge = boat.inverter_surge
    inverter_surge_time = boat.inverter_surge_time
    inverter_efficiency = boat.inverter_efficiency
    inverter_idle = boat.inverter_idle
    inverter_cut_off = boat.inverter_cut_off
    inverter_load = boat.inverter_load
    bank_voltage = boat.bank_voltage
    bank_health = boat.bank_health
    bank_temperature = boat.bank_temperature
    bank_charge = boat.bank_charge
    bank_depth = boat.bank_depth
    bank_exponent = boat.bank_exponent
    bank_resistance = boat.bank_resistance
    bank_bms = boat.bank_bms

    has_generator = boat.has_generator
    generator = boat.generator
    generator_power = boat.generator_power
    generator_peak = boat.generator_peak
    generator_power_factor = boat.generator_power_factor
    generator_reactance = boat.generator_reactance
    other_load = boat.other_load
    fuel = boat.fuel
    fuel_idle = boat.fuel_idle
    fuel_slope = boat.fuel_slope
    fuel_price = boat.fuel_price
    charger_current = boat.charger_current

    has_alternator = boat.has_alternator
    alternator = boat.alternator
    engine_speed = boat.engine_speed
    alternator_current = boat.alternator_current
    engine_fuel = boat.engine_fuel

    has_array = boat.has_array
    array = boat.array
    array_power = boat.array_power
    array_losses = boat.array_losses
    latitude = boat.latitude
    day = boat.day
    sunshine = boat.sunshine

    house_day = boat.house_day
    house_evening = boat.house_evening
    house_night = boat.house_night
    water_start = boat.water_start
    engine_hours = boat.engine_hours
    engine_start = boat.engine_start
    charger_hours = boat.charger_hours
    charger_start = boat.charger_start
    days = whole("Days to follow the bank", "7", group="Habits", at_least=1, at_most=7)

    ambient_temperature = boat.ambient_temperature
    altitude = boat.altitude


@dataclass(frozen=True)
class Water:
    """What making water asks: the motor at work and at its start [W, VA, A], and what it gives.

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

    @property
    def real(self) -> float:
        """AC power while running [W]."""
        return self.load.at_work.input_power + self.boost_ac

    @property
    def reactive(self) -> float:
        """Reactive power while running [var]."""
        return self.load.at_work.reactive_power

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


@dataclass(frozen=True)
class House:
    """The DC side at work: inverter, bank, powers [W] from the bank, state of charge to stop at.

    `dc` is for the water, `base` what the house takes meanwhile, `alone` the run on the bank alone.
    """

    inverter: Inverter
    bank: batteries.Bank
    dc: float
    base: float
    reserve: float
    alone: batteries.Run

    @property
    def drawn(self) -> float:
        """All that leaves the bank while water is made [W]."""
        return self.dc + self.base


@dataclass(frozen=True)
class Row:
    """A line of the table of sources."""

    way: Option
    hours: Line | str = "–"
    energy: float | None = None
    money: float | None = None
    free: bool = False


def answer(q: Values, show: Report) -> None:
    water = _water(q, show)
    if water is None:
        return
    rows = []
    if q.has_generator:
        rows += _on_the_generator(q, show, water)
    if q.has_inverter:
        rows += _on_the_bank(q, show, water)
    if not rows:
        show.unknown("nothing to run it from is given: is there a generator or an inverter?")
    else:
        _side_by_side(show, rows)
    _headline(q, show, water)
    _cautions(q, show)


# ---- what the pump asks ----


def _water(q: Values, show: Report) -> Water | None:
    """The load, judged against the motor; None where the motor can't hold it at all."""
    plate = plate_of(q)
    try:
        rush = starting_current(plate, q.ac_voltage)
        direct = starting_current(Values({**vars(plate), "start": "direct"}), q.ac_voltage)
    except ValueError as error:
        raise Refusal("code_letter", str(error)) from None
    _steps_of_the_shaft(q, show)
    try:
        load = load_of(q.unit, q.flow, q.pressure, q.ac_voltage, q.ac_frequency)
    except ValueError:
        show.fail(
            "at {v} and {f} the motor stalls under this load",
            v=(q.ac_voltage, "V"), f=(q.ac_frequency, "Hz"),
        )  # fmt: skip
        show.headline("The motor can't turn the pump on this supply.")
        show.caution(caution("mains"), caution("estimate"))
        return None
    share = min(1.0, load.flow / q.flow)  # at the same recovery; nothing promised beyond the stated
    boost_ac = q.boost_power if q.boost_supply == "ac" else 0.0
    hertz = load.motor.frequency / q.ac_frequency
    amps = rush.current * (1.0 if q.start == "soft" else hertz)  # at rest it is an inductance
    soft = min(1.0, rush.current / direct.current) if q.start == "soft" else None
    rated_torque = pumps.torque(load.motor.output, load.motor.speed)
    given = q.start_torque * rated_torque * hertz**2
    needed = pumps.starting_torque(load.at_work.torque, q.start_loaded)
    water = Water(
        load, Rush(amps, rush.power_factor, rush.told_by), given / needed, soft,
        q.product_flow * share, boost_ac, q.boost_power - boost_ac,
    )  # fmt: skip
    _figures_of_the_motor(q, show, water)
    _steps_of_the_motor(q, show, water)
    return water


def _steps_of_the_shaft(q: Values, show: Report) -> None:
    shaft = show.step(
        "Shaft power of the pump at rated speed",
        pumps.shaft_power(q.flow, q.pressure, q.unit.pump.efficiency),
        "W", "P_shaft = Q * dp / eta",
        {"Q": (q.flow, "L/min"), "dp": (q.pressure, "bar"), "eta": (q.unit.pump.efficiency, "%")},
        "Definition of the efficiency, ISO 17769-1",
    )  # fmt: skip
    show.step(
        "Torque it asks, at any speed", pumps.torque(shaft, q.unit.motor.rated_speed), "N m",
        "T = P_shaft / (2 * pi * n)",
        {"P_shaft": (shaft, "W"), "n": (q.unit.motor.rated_speed, "rpm")},
        "Definition of mechanical power",
    )  # fmt: skip


def _figures_of_the_motor(q: Values, show: Report, water: Water) -> None:
    load, plate = water.load, q.unit.motor
    work, motor = load.at_work, load.motor
    hertz = q.ac_frequency / motor.frequency
    rating = plate.rated_power * plate.service_factor * min(1.0, hertz)
    show.figure("shaft", "Shaft power", work.shaft_power, "W", at_most=rating,
                note="rating × service factor" if plate.service_factor > 1 else "")  # fmt: skip
    show.figure("current", "Motor's current", work.current, "A",
                at_most=rated_current(plate, q.ac_voltage) * plate.service_factor)  # fmt: skip
    show.figure("input", "Motor draws", work.input_power, "W")
    show.figure("apparent", "Motor's apparent power", work.apparent_power, "VA")
    show.figure(
        "flux", "Volts per hertz, off the nameplate's", abs(work.flux - 1), "%",
        at_most=VOLTS_BAND, note="too much heats the iron, too little the windings",
    )  # fmt: skip
    off = abs(hertz - 1)
    if off <= HERTZ_BAND:
        show.figure("voltage", "Voltage, off the nameplate's",
                    abs(q.ac_voltage / motor.voltage - 1), "%", at_most=VOLTS_BAND)  # fmt: skip
    else:
        _foreign_hertz(q, show, water)
    if plate.low_voltage is not None:
        show.note("Connected for {v}; on its other voltage it takes the same volt-amperes. The "
                  "maker's diagram in the junction box shows both connections.",
                  v=(motor.voltage, "V"))  # fmt: skip
    show.figure("start_current", "Motor draws at its start", water.rush.current, "A",
                note=water.rush.told_by)  # fmt: skip
    energy = (water.real + water.boost_dc) / water.product
    show.figure("energy", "Energy a litre, boost pump included", energy, "Wh/L",
                note="at the motor, before any inverter")  # fmt: skip
    show.figure("specific", "The same, as plants are compared", energy, "kWh/m3")
    show.figure("daily", "Fresh water a day", water.product * q.run_hours, "L")


def _foreign_hertz(q: Values, show: Report, water: Water) -> None:
    """What changes where the mains have another frequency than the motor was wound for."""
    motor, work = water.load.motor, water.load.at_work
    show.unknown(
        "the motor is wound for {r} and the mains give {f}: only its maker can allow that",
        r=(motor.frequency, "Hz"), f=(q.ac_frequency, "Hz"),
    )  # fmt: skip
    show.figure("speed", "Speed on this supply", work.speed, "rpm")
    show.figure("feed", "Feed flow on this supply", water.load.flow, "L/min")
    show.figure("product", "Fresh water on this supply, at the same recovery", water.product,
                "L/h")  # fmt: skip
    right = motor.voltage * q.ac_frequency / motor.frequency
    show.remedy("A supply of {v} at {f} would give the motor its rated volts per hertz, {p} of its "
                "power at most.", v=(right, "V"), f=(q.ac_frequency, "Hz"),
                p=(min(1.0, q.ac_frequency / motor.frequency), "%"))  # fmt: skip
    show.remedy("A motor wound for {v} and {f}.", v=(q.ac_voltage, "V"), f=(q.ac_frequency, "Hz"))
    show.note("A single-phase motor's capacitors and starting switch are made for one frequency "
              "too; nothing published says how far they stray.")  # fmt: skip


def _steps_of_the_motor(q: Values, show: Report, water: Water) -> None:
    motor, work = water.load.motor, water.load.at_work
    show.step(
        "Losses at rated load", motor.output / motor.efficiency - motor.output, "W",
        "L_r = P_r / eta_r - P_r",
        {"P_r": (motor.output, "W"), "eta_r": (motor.efficiency, "%")},
        "Definition of efficiency, IEC 60034-2-1",
    )  # fmt: skip
    rated_torque = motor.output / (2 * math.pi * motor.speed)
    show.step(
        "Motor's input: shaft, fixed losses, losses with load", work.input_power, "W",
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
    )  # fmt: skip
    show.step(
        "Motor's current, magnetising part included", work.current, "A",
        "I = sqrt(P**2 + R**2) / V",
        {"P": (work.input_power, "W"), "R": (work.reactive_power, "VA"), "V": (q.ac_voltage, "V")},
        "Definition of apparent power",
    )  # fmt: skip
    show.step(
        "Energy a litre", (water.real + water.boost_dc) / water.product, "Wh/L",
        "e = (P + P_boost) / Q_p",
        {"P": (work.input_power, "W"), "P_boost": (q.boost_power, "W"),
         "Q_p": (water.product, "L/h")},
        "Definition",
    )  # fmt: skip


# ---- the generator ----


def _on_the_generator(q: Values, show: Report, water: Water) -> list[Row]:
    """The pump straight on the generator, alone and while its charger fills the bank."""
    way = show.option("generator", "Generator")
    if not mains_match(q, q.generator, "voltage"):
        _foreign_mains(way, q, q.generator.voltage, q.generator.frequency)
        return [Row(way)]
    dip = _dip_on(q, water, q.generator_power)
    rows = [_generator(q, way, water, dip, 0.0)]
    _generator_remedies(q, way, water, dip)
    _generator_steps(q, show, water, dip)
    if q.charger_current > 0:
        both = show.option("with_charger", "Generator, its charger on at the same time")
        direct = q.charger_current * bank_of(q).open_circuit_voltage(q.bank_charge)
        rows.append(_generator(q, both, water, dip, direct / CHARGER_EFFICIENCY))
        both.figure("charged", "Meanwhile into the bank, at most", direct * q.run_hours, "kWh")
    return rows


def _generator(q: Values, way: Option, water: Water, dip: starting.Start, charger: float) -> Row:
    """Figures of the generator with the other loads and a charger's load [W] on it."""
    share = site_share(q)
    others = q.other_load + charger
    site = q.generator_power * share
    need = water.real + others
    start_power = dip.real_power + others + water.boost_ac
    peak = max(q.generator_peak or 0.0, q.generator_power) * share
    says = line("the start pulls its voltage down by {d}; {m} is the most a start bears",
                d=(dip.dip, "%"), m=(GREATEST_DIP, "%"))  # fmt: skip
    way.figure("start_dip", "Voltage dip at the start", dip.dip, "%", at_most=GREATEST_DIP,
               says=says)  # fmt: skip
    says = line("the start takes {p} for a moment; it gives {m}", p=(start_power, "W"),
                m=(peak, "W"))  # fmt: skip
    way.figure("start_power", "Power at the start, other loads on", start_power, "W", at_most=peak,
               says=says)  # fmt: skip
    _torque(way, water, dip.voltage / water.load.motor.voltage)
    says = line("{p} to carry; it gives {m} here", p=(need, "W"), m=(site, "W"))
    way.figure("load", "Load with the other loads", need, "W", at_most=site, says=says)
    way.figure("apparent", "Apparent power", water.apparent(others), "VA",
               at_most=q.generator_power / q.generator_power_factor)  # fmt: skip
    way.figure("share", "Load, of what it can give", need / site, "%",
               at_least=generators.LIGHT_LOAD, decides=False,
               note="long runs under 30 % soot and glaze a diesel")  # fmt: skip
    flow = generators.fuel_flow(need, q.fuel_idle, q.fuel_slope)
    # Alone it bears all its fuel; beside a charger its share by power.
    own = generators.fuel_flow(water.real + charger, q.fuel_idle, q.fuel_slope)
    own *= water.real / (water.real + charger)
    per_volume = generators.fuel_per_volume(own, water.product)
    way.figure("fuel", "Fuel, other loads included", flow, "L/h")
    way.figure("fuel_100", "Fuel for 100 litres of water, other loads left out",
               per_volume * 0.1, "L")  # fmt: skip
    money = per_volume * q.fuel_price
    way.figure("money", "Fuel's cost of a litre, other loads left out", money, "¤/L")
    energy = (water.real + water.boost_dc) / water.product
    return Row(way, "while there is fuel", energy, money)


def _dip_on(q: Values, water: Water, rating: float) -> starting.Start:
    """The start on a generator of this rating [W] and the stated reactance and power factor."""
    apparent = rating / q.generator_power_factor
    reactance = generators.source_reactance(q.ac_voltage, apparent, q.generator_reactance)
    return starting.start(q.ac_voltage, water.load.motor.voltage, water.rush.current,
                          water.rush.power_factor, source_reactance=reactance)  # fmt: skip


def _generator_remedies(q: Values, way: Option, water: Water, dip: starting.Start) -> None:
    """The largest other load, and the smallest generator of its kind."""
    share = site_share(q)
    peak = max(q.generator_peak or 0.0, q.generator_power)
    surge = peak / q.generator_power
    va = q.generator_power / q.generator_power_factor
    spare = min(
        q.generator_power * share - water.real,
        peak * share - dip.real_power - water.boost_ac,
        math.sqrt(max(0.0, va**2 - water.reactive**2)) - water.real,
    )
    if spare > 0 and way.verdict != FAILS:
        way.remedy("Other loads of up to {p} may run while it makes water.", p=(spare, "W"))

    def carries(rating: float) -> bool:
        at_start = _dip_on(q, water, rating)
        volts = at_start.voltage / water.load.motor.voltage
        return (
            at_start.dip <= GREATEST_DIP
            and at_start.real_power + q.other_load + water.boost_ac <= rating * surge * share
            and water.real + q.other_load <= rating * share
            and water.apparent(q.other_load) <= rating / q.generator_power_factor
            and water.start_torque(volts) >= 1
        )

    smallest = _smallest(carries, 50.0, 2e5)
    if q.fuel == "diesel" and (water.real + q.other_load) / (q.generator_power * share) < (
        generators.LIGHT_LOAD
    ):
        way.remedy("It runs too light for a diesel: put the battery charger on it, or heat water, "
                   "while it makes water.")  # fmt: skip
    if smallest is None:
        way.remedy("No generator starts it as it stands: open the pressure valve before the start, "
                   "or choose another way of starting.")  # fmt: skip
    else:
        way.remedy("The smallest generator that would do: {p} continuous, {s} for the start.",
                   p=(smallest, "W"), s=(smallest * surge, "W"))  # fmt: skip


def _smallest(carries: Any, low: float, high: float) -> float | None:
    """Smallest size that carries, to a thousandth, by halving on a scale of ratios."""
    if not carries(high):
        return None
    while high / low > 1.001:
        middle = math.sqrt(low * high)
        if carries(middle):
            high = middle
        else:
            low = middle
    return high


def _generator_steps(q: Values, show: Report, water: Water, dip: starting.Start) -> None:
    m, n = (1.0, 0.75) if q.fuel == "diesel" else (1.0, 0.5)
    show.step(
        "Generator's power here, by height and heat", q.generator_power * site_share(q), "W",
        "P_site = P_g / max(1, 1.175 * (p_0 / p)**m * ((1.8 * T + 0.33) / 537)**n - 0.175)",
        {"P_g": (q.generator_power, "W"), "p_0": (29.2 * 3386.39, "hPa"),
         "p": (generators.atmospheric_pressure(q.altitude), "hPa"), "m": (m, ""), "n": (n, ""),
         "T": (q.ambient_temperature, "K")},
        "Marine generating set manual TP-7045 (3/18), appendix C, the form of ISO 3046-1",
    )  # fmt: skip
    apparent = q.generator_power / q.generator_power_factor
    show.step(
        "Generator's inner reactance",
        generators.source_reactance(q.ac_voltage, apparent, q.generator_reactance), "Ω",
        "X = x * V**2 / S",
        {"x": (q.generator_reactance, "%"), "V": (q.ac_voltage, "V"), "S": (apparent, "VA")},
        "Definition of per-unit reactance, IEC 60034-4",
    )  # fmt: skip
    reactance = generators.source_reactance(q.ac_voltage, apparent, q.generator_reactance)
    still = water.load.motor.voltage / water.rush.current
    show.step(
        "Voltage dip at the start", dip.dip, "%",
        "d = 1 - Z / sqrt((Z * c)**2 + (Z * sqrt(1 - c**2) + X)**2)",
        {"Z": (still, "Ω"), "c": (water.rush.power_factor, "%"), "X": (reactance, "Ω")},
        "Ohm's law in complex form", "Z is the motor at rest, its rated volts over its start amps.",
    )  # fmt: skip
    show.step(
        "Generator's fuel, run for the water alone",
        generators.fuel_flow(water.real, q.fuel_idle, q.fuel_slope), "L/h", "F = F_0 + b * P",
        {"F_0": (q.fuel_idle, "L/h"), "b": (q.fuel_slope, "L/kWh"), "P": (water.real, "W")},
        "Willans line: fuel against load is nearly straight (P. W. Willans, Min. Proc. ICE 1888)",
    )  # fmt: skip


def _torque(way: Option, water: Water, volts: float) -> None:
    """The motor's torque at its start, at a share of its rated voltage, over what the pump asks."""
    torque = water.start_torque(volts)
    says = line("the start's torque is {t} of what turns the pump", t=(torque, "%"))
    way.figure("start_torque", "Torque at the start, of what the pump asks", torque, "%",
               at_least=1.0, says=says)  # fmt: skip


def _foreign_mains(way: Option, q: Values, volts: float, hertz: float) -> None:
    way.fail("it gives {v} at {f}, and the mains on board are {w} at {g}", v=(volts, "V"),
             f=(hertz, "Hz"), w=(q.ac_voltage, "V"), g=(q.ac_frequency, "Hz"))  # fmt: skip


# ---- all that goes through bank and inverter ----


def _on_the_bank(q: Values, show: Report, water: Water) -> list[Row]:
    """The bank alone, and with each of what charges it."""
    way = show.option("inverter", "Inverter on the bank alone")
    if not mains_match(q, q.inverter, "ac_voltage"):
        _foreign_mains(way, q, q.inverter.ac_voltage, q.inverter.frequency)
        return [Row(way)]
    if q.inverter is not None and not 0.8 <= q.inverter.dc_voltage / q.bank_voltage <= 1.25:
        way.fail("the inverter wants {v}, and the bank is {w}", v=(q.inverter.dc_voltage, "V"),
                 w=(q.bank_voltage, "V"))  # fmt: skip
        return [Row(way)]
    house = _house(q, water)
    rows = [_bank_alone(q, show, way, water, house)]
    volts = house.bank.open_circuit_voltage(q.bank_charge)
    if q.has_alternator:
        rows.append(_alternator(q, show, way, water, house, volts))
    if q.has_generator and q.charger_current > 0:
        rows.append(_charger(q, show, way, water, house, volts))
    sun = array_profile(q) if q.has_array else ()
    if sun:
        rows.append(_sun(q, show, way, water, house, sun))
    rows.append(_week(q, show, way, water, house, sun))
    _bank_table(q, show, way, water, house)
    return rows


def _house(q: Values, water: Water) -> House:
    bank, inverter = bank_of(q), inverter_of(q)
    reserve = 1 - depth_of(q)
    if reserve >= q.bank_charge:
        raise Refusal(
            "bank_charge",
            "the bank must be charged further than what is to stay in it: raise this, or the "
            "deepest discharge that you allow",
        )
    dc = inverter.dc_power(water.real + q.inverter_load) + water.boost_dc
    at_work = energy_balance.window(1.0, q.water_start, q.run_hours)
    base = sum(a * b for a, b in zip(at_work, house_profile(q), strict=True)) / (
        sum(at_work) or 1.0
    )
    return House(inverter, bank, dc, base, reserve, _run(q, bank, dc + base, reserve))


def _run(q: Values, bank: batteries.Bank, power: float, reserve: float) -> batteries.Run:
    return batteries.run(bank, power, q.bank_charge, reserve)


def _mean(profile: Sequence[float], weights: Sequence[float]) -> float:
    """Mean of a day's profile over the hours that the weights pick."""
    picked = sum(a * b for a, b in zip(profile, weights, strict=True))
    return picked / (sum(weights) or 1.0)


def _starts(q: Values, way: Option, water: Water, house: House) -> None:
    """Figures of a start through the inverter, on the bank as it is when water-making begins."""
    inverter, bank = house.inverter, house.bank
    amps = water.start_current(q.ac_voltage / water.load.motor.voltage)
    others = q.inverter_load + water.boost_ac
    surge = amps * q.ac_voltage + others
    says = line("the start asks {p} of the inverter for {t}; it gives {m}",
                p=(surge, "VA"), t=(q.start_time, "s"), m=(inverter.surge, "VA"))  # fmt: skip
    way.figure("start_surge", "Inverter's load at the start", surge, "VA", at_most=inverter.surge,
               says=says)  # fmt: skip
    _torque(way, water, q.ac_voltage / water.load.motor.voltage)
    power = _start_power(q, water, house)
    point = batteries.constant_power(
        bank.open_circuit_voltage(q.bank_charge), bank.resistance, power
    )
    if point is None:
        way.fail("the bank's voltage collapses at the start: it can't give {p}", p=(power, "W"))
        return
    way.figure("start_voltage", "Bank's voltage at the start", point.voltage, "V",
               at_least=bank.cut_off,
               says=line("the bank sags to {v} at the start; the inverter drops out at {c}",
                         v=(point.voltage, "V"), c=(bank.cut_off, "V")))  # fmt: skip
    way.figure("start_amps", "From the bank at the start", point.current, "A", at_most=q.bank_bms,
               note="held to the management's limit, though most allow more for seconds"
               if q.bank_bms else "")  # fmt: skip


def _starts_likewise(way: Option, alone: Option) -> None:
    """The start of a way that goes through the same bank and inverter, in one figure."""
    started = [f for f in alone.figures if f.key.startswith("start") and f.margin is not None]
    worst = min(started, key=lambda f: f.margin or 0.0)
    used = 1 - (worst.margin or 0.0)
    way.figure("start", "The start, of what inverter and bank give", used, "%", at_most=1.0,
               says=worst.reason())  # fmt: skip
    if all(f.key != "start_voltage" for f in alone.figures):  # it collapsed
        way.failures.append(alone.failures[0])


def _start_power(q: Values, water: Water, house: House) -> float:
    """Power [W] from the bank during a start through the inverter."""
    amps = water.start_current(q.ac_voltage / water.load.motor.voltage)
    real = amps * q.ac_voltage * water.rush.power_factor + q.inverter_load + water.boost_ac
    return house.inverter.dc_power(real) + water.boost_dc + house.base


def _runs(q: Values, way: Option, water: Water, house: House, relief: float,
          steady: bool = True) -> Line | str:  # fmt: skip
    """Figures of a run with a relief [W] from what charges meanwhile; the hours as words.

    A relief that is not steady (the sun's) lengthens the run but spares the bank no current.
    """
    bank = house.bank
    apparent = water.apparent(q.inverter_load)
    way.figure("apparent", "Inverter's load", apparent, "VA", at_most=house.inverter.continuous,
               says=line("{p} for hours; the inverter gives {m} in this heat",
                         p=(apparent, "VA"), m=(house.inverter.continuous, "VA")))  # fmt: skip
    net = house.drawn - relief
    if net <= 0 and steady:
        way.figure("surplus", "Left over for the bank", -net, "W")
        return "as long as it charges"
    worst = house.alone if relief == 0 or not steady else None
    run = worst if worst and relief == 0 else _run(q, bank, max(net, 1.0), house.reserve)
    worst = worst or run
    if "cannot deliver" in (run.ended_by, worst.ended_by) and worst.time == 0:
        way.fail("the bank can't deliver {p} at all: its voltage collapses", p=(house.drawn, "W"))
        return "–"
    limit = discharge_limit(bank)
    way.figure("bank_current", "From the bank while running", worst.end_current, "A",
               at_most=limit, note=f"the limit: {bank.chemistry.discharge_rate.value:g} A for each "
               f"Ah of {bank.chemistry.name}",
               says=line("{i} from the bank; {m} is as much as it bears for hours",
                         i=(worst.end_current, "A"), m=(limit, "A")))  # fmt: skip
    if q.bank_bms is not None:
        way.figure("bms_current", "The same, by the battery management", worst.end_current, "A",
                   at_most=q.bank_bms)  # fmt: skip
    way.figure("end_voltage", "Bank's voltage at the end of the run", worst.end_voltage, "V",
               at_least=bank.cut_off)  # fmt: skip
    if net <= 0:
        return "while the sun shines"
    hours = min(run.time, 365 * DAY)
    way.figure("hours", f"Hours to {round(house.reserve * 100)} % left in the bank", hours, "h",
               at_least=q.run_hours,
               says=line("the bank lasts {t}; {w} a day are wanted", t=(hours, "h"),
                         w=(q.run_hours, "h")))  # fmt: skip
    return line("{t} on a charge", t=_span(hours))


def _span(time: float) -> tuple[float, str]:
    """A time [s] in the unit that one would say it in."""
    return (time, "h" if time >= HOUR else "min")


def _bank_alone(q: Values, show: Report, way: Option, water: Water, house: House) -> Row:
    _starts(q, way, water, house)
    hours = _runs(q, way, water, house, 0.0)
    way.figure("dc", "Power from the bank, house included", house.drawn, "W")
    way.figure("energy", "Energy a litre, out of the bank", house.dc / water.product, "Wh/L")
    way.figure("efficiency", "Inverter's efficiency at this load",
               (water.real + q.inverter_load) / (house.dc - water.boost_dc), "%")  # fmt: skip
    heat = house.inverter.continuous / house.inverter.rated
    amps = water.start_current(q.ac_voltage / water.load.motor.voltage)
    if heat > 0:
        way.remedy(
            "The smallest inverter that would do: {c} continuous and {s} for {t}, rated at 25 °C.",
            c=(water.apparent(q.inverter_load) / heat, "VA"),
            s=((amps * q.ac_voltage + q.inverter_load + water.boost_ac) / heat, "VA"),
            t=(q.start_time, "s"),
        )  # fmt: skip
    spare = min(
        math.sqrt(max(0.0, house.inverter.continuous**2 - water.reactive**2)) - water.real,
        house.inverter.surge - amps * q.ac_voltage - water.boost_ac,
    )
    if spare > 0:
        way.remedy("Other loads of up to {p} may run on the inverter at the same time.",
                   p=(spare, "W"))  # fmt: skip
    carried = min(house.alone.time, DAY)
    if way.verdict != FAILS:
        way.remedy("One charge carries at most {t} of water-making, {v} of water.",
                   t=_span(carried), v=(carried * water.product, "L"))  # fmt: skip
    _bank_steps(q, show, water, house)
    money = _put_back(q, way, water, house)
    return Row(way, hours, house.dc / water.product, money)


def _put_back(q: Values, way: Option, water: Water, house: House) -> float | None:
    """Fuel's cost of a volume [1/m³] out of the bank, when an engine has to put it back."""
    volts = house.bank.open_circuit_voltage(q.bank_charge)
    if q.has_generator and q.charger_current > 0:
        direct = q.charger_current * volts
        flow = generators.fuel_flow(direct / CHARGER_EFFICIENCY, q.fuel_idle, q.fuel_slope)
        by = "the generator's charger"
    elif q.has_alternator and alternator_matches(q) and alternator_current(q) > 0:
        direct, flow = alternator_current(q) * volts, q.engine_fuel
        by = "the engine's alternator"
    else:
        return None
    volume = flow / direct / house.bank.chemistry.charge_efficiency.value * house.dc
    money = volume / water.product * q.fuel_price
    way.figure("money", f"Fuel's cost of a litre, put back by {by}", money, "¤/L")
    return float(money)


def _bank_steps(q: Values, show: Report, water: Water, house: House) -> None:
    losses, rated = house.inverter.losses, house.inverter.rated
    ac = water.real + q.inverter_load
    show.step(
        "Power from the bank through the inverter", house.dc - water.boost_dc, "W",
        "P_dc = P + S_r * (a + b * P / S_r + c * (P / S_r)**2)",
        {"P": (ac, "W"), "S_r": (rated, "VA"), "a": (losses.fixed, "%"),
         "b": (losses.proportional, "%"), "c": (losses.quadratic, "%")},
        "Three-term loss polynomial, Schmidt and Sauer 1996 (form from memory)",
    )  # fmt: skip
    bank = house.bank
    emf = bank.open_circuit_voltage(q.bank_charge)
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
        f"E and R of {bank.chemistry.name} are from memory or common practice.",
    )
    depth = q.bank_charge - house.reserve
    rated_amps = bank.capacity / bank.rated_time
    factor = batteries.depletion_factor(
        bank.capacity, bank.rated_time, point.current, bank.exponent
    )
    show.step(
        "Hours at that current, by Peukert", depth * bank.capacity / (point.current * factor), "h",
        "t = D * C / (I * max(1, I * H / C)**(k - 1))",
        {"D": (depth, "%"), "C": (bank.capacity, "Ah"), "I": (point.current, "A"),
         "H": (bank.rated_time, "h"), "k": (bank.exponent, "")},
        "W. Peukert, Elektrotechnische Zeitschrift 20 (1897), referred to the rated hour rate",
        "C is what age and cold have left. The law applies only above the rated current, "
        f"{rated_amps:.3g} A; the hours above follow the current as the voltage falls.",
    )  # fmt: skip


def _alternator(
    q: Values, show: Report, alone: Option, water: Water, house: House, volts: float
) -> Row:
    way = show.option("alternator", "Engine's alternator, bank and inverter")
    if not alternator_matches(q):
        way.fail("it charges at {v}, and the bank is {w}", v=(q.alternator.voltage, "V"),
                 w=(q.bank_voltage, "V"))  # fmt: skip
        return Row(way)
    amps = alternator_current(q)
    _starts_likewise(way, alone)
    hours = _runs(q, way, water, house, amps * volts)
    way.figure("output", "Alternator's output, hot", amps, "A")
    need = house.drawn / volts
    way.figure("carried", "Output that would carry it all", need, "A")
    money = None
    if amps > 0:  # what the bank lends meanwhile the engine puts back afterwards
        lent = max(0.0, house.drawn / (amps * volts) - 1)
        longer = 1 + lent / house.bank.chemistry.charge_efficiency.value
        money = q.engine_fuel * longer * q.fuel_price / water.product
        way.figure("money", "Fuel's cost of a litre, engine run for this alone", money, "¤/L")
    way.remedy("With {i} from the alternator the bank would neither fill nor empty.",
               i=(need, "A"))  # fmt: skip
    way.remedy("Hours at full output are hard on an alternator: it needs air, and a regulator that "
               "looks at its temperature.")  # fmt: skip
    return Row(way, hours, house.dc / water.product, money)


def _charger(
    q: Values, show: Report, alone: Option, water: Water, house: House, volts: float
) -> Row:
    """The generator sees only the charger; the start and its peak come out of the bank."""
    way = show.option("charger", "Generator through its charger, bank and inverter")
    direct = q.charger_current * volts
    need = direct / CHARGER_EFFICIENCY + q.other_load
    site = q.generator_power * site_share(q)
    _starts_likewise(way, alone)
    way.figure("load", "Generator's load", need, "W", at_most=site)
    hours = _runs(q, way, water, house, direct)
    flow = generators.fuel_flow(direct / CHARGER_EFFICIENCY, q.fuel_idle, q.fuel_slope)
    per_litre = house.dc / direct * flow / water.product
    way.figure("money", "Fuel's cost of a litre", per_litre * q.fuel_price, "¤/L")
    return Row(way, hours, house.dc / CHARGER_EFFICIENCY / water.product,
               per_litre * q.fuel_price)  # fmt: skip


def _sun(
    q: Values, show: Report, alone: Option, water: Water, house: House, sun: Sequence[float]
) -> Row:
    way = show.option("sun", "Sun, bank and inverter, without an engine")
    efficiency = house.bank.chemistry.charge_efficiency.value
    given = math.fsum(sun) * STEP
    asked = math.fsum(house_profile(q)) * STEP
    per_volume = house.dc / water.product
    volume = max(0.0, efficiency * given - asked) / per_volume
    window = energy_balance.window(1.0, q.water_start, q.run_hours)
    relief = _mean(sun, window)
    _starts_likewise(way, alone)
    _runs(q, way, water, house, relief, steady=False)
    wanted = water.product * q.run_hours
    way.figure("sun_energy", "The panels give a day", given, "kWh")
    way.figure("house_energy", "The house takes a day", asked, "kWh")
    way.figure("sun_litres", "Water a day on what is left", volume, "L", at_least=wanted,
               says=line("after the house the sun carries {v} a day; {w} are wanted",
                         v=(volume, "L"), w=(wanted, "L")))  # fmt: skip
    panels = (asked + house.dc * q.run_hours) / efficiency / (given or 1.0) * q.array_power
    if given > 0:
        way.remedy("Panels of {p} would carry the house and {w} a day under this sky.",
                   p=(panels, "W"), w=(wanted, "L"))  # fmt: skip
    show.step(
        "Water that the sun carries a day after the house", volume, "L",
        "W = max(0, eta * E_sun - E_house) * Q_p / P_dc",
        {"eta": (efficiency, "%"), "E_sun": (given, "kWh"), "E_house": (asked, "kWh"),
         "Q_p": (water.product, "L/h"), "P_dc": (house.dc, "W")},
        "B. Haurwitz, J. Meteorology 2 (1945) 154, and FAO Irrigation and Drainage Paper 56 "
        "(1998), eq. 35, summed over the day",
        "All of it is taken to pass through the bank once.",
    )  # fmt: skip
    return Row(way, line("{t} a day", t=_span(volume / water.product)), per_volume, free=True)


# ---- a day and a week ----


def _week(
    q: Values, show: Report, alone: Option, water: Water, house: House, sun: Sequence[float]
) -> Row:
    way = show.option("week", "Day after day, with all that charges the bank")
    flows = _flows(q, house, sun)
    outcome = energy_balance.simulate(house.bank, flows, q.days, q.bank_charge, house.reserve, STEP)
    _starts_likewise(way, alone)
    _runs(q, way, water, house, 0.0, steady=True)
    way.figures = [f for f in way.figures if f.key not in ("hours", "end_voltage")]
    charge = outcome.charge
    a_day = round(DAY / STEP)
    change = round(charge[-1] - charge[-1 - a_day], 4)
    missed = outcome.water_missed / (outcome.water + outcome.water_missed or 1.0)
    says = line("it comes back each day")
    if change < -DAILY_LOSS:
        says = line("it loses {c} of its charge a day and does not come back", c=(-change, "%"))
    way.figure("last_day", "Change of charge over the last day", change, "%",
               at_least=-DAILY_LOSS, says=says)  # fmt: skip
    way.figure("lowest", "Lowest state of charge", min(charge), "%", at_least=house.reserve * 0.99,
               note="and no water is made below what is to stay in it")  # fmt: skip
    way.figure("missed", "Water that had to be left unmade", missed, "%", at_most=0.02,
               says=line("{m} of the water is left unmade, because the bank is down",
                         m=(missed, "%")))  # fmt: skip
    dark = outcome.unserved / (outcome.house + outcome.unserved or 1.0)
    way.figure("dark", "House load left dark", dark, "%", at_most=0.001)
    way.figure("made", "Water made a day", outcome.water / house.dc * water.product / q.days, "L")
    way.figure("curtailed", "Charge there was no room for, a day", outcome.curtailed / q.days,
               "kWh")  # fmt: skip
    _week_remedy(q, way, house, flows)
    _week_charts(q, show, house, flows, outcome)
    made = line("{t} a day", t=_span(outcome.water_time / q.days))
    return Row(way, made, house.dc / water.product)


def _flows(q: Values, house: House, sun: Sequence[float]) -> energy_balance.Flows:
    nothing = (0.0,) * round(DAY / STEP)
    volts = house.bank.open_circuit_voltage(q.bank_charge)
    belt = shore = nothing
    if q.has_alternator and q.engine_hours > 0 and alternator_matches(q):
        belt = energy_balance.window(
            alternator_current(q) * volts, q.engine_start, q.engine_hours, STEP
        )
    if q.has_generator and q.charger_hours > 0 and q.charger_current > 0:
        shore = energy_balance.window(
            q.charger_current * volts, q.charger_start, q.charger_hours, STEP
        )
    return energy_balance.Flows(
        solar=sun or nothing,
        alternator=belt,
        charger=shore,
        house=house_profile(q),
        water=energy_balance.window(house.dc, q.water_start, q.run_hours, STEP),
    )


def _week_remedy(q: Values, way: Option, house: House, flows: energy_balance.Flows) -> None:
    efficiency = house.bank.chemistry.charge_efficiency.value
    given = STEP * math.fsum(
        math.fsum(flow) for flow in (flows.solar, flows.alternator, flows.charger)
    )
    asked = STEP * math.fsum(flows.house)
    most = min(DAY, max(0.0, efficiency * given - asked) / house.dc)
    way.remedy("What charges it carries about {t} of water-making a day, if the bank takes it all.",
               t=(most, "h"))  # fmt: skip
    short = (asked + house.dc * q.run_hours) / efficiency - given
    if short > 0:
        way.remedy("For {w} a day it lacks {e} of charging a day.", w=(q.run_hours, "h"),
                   e=(short, "kWh"))  # fmt: skip


def _week_charts(q: Values, show: Report, house: House, flows: energy_balance.Flows,
                 outcome: energy_balance.Balance) -> None:  # fmt: skip
    long = q.days > 2
    unit, each = ("days", 8) if long else ("h", 2)
    charge = outcome.charge
    points = [(i * STEP, charge[i]) for i in range(0, len(charge), each)]
    bands = [
        Band("water" if day == 0 else "", day * DAY + q.water_start,
             min(q.days * DAY, day * DAY + q.water_start + q.run_hours))
        for day in range(q.days)
        if q.water_start < DAY
    ]  # fmt: skip
    low = min(charge)
    show.chart(Chart(
        "charge", "State of charge, day after day",
        Axis("Time", unit, 0.0, q.days * DAY), Axis("State of charge", "%", 0.0, 1.0),
        [Series("charge", points)], limits=[Mark("to stay in it", house.reserve)], bands=bands,
        summary=f"Begins at {charge[0] * 100:.0f} %, falls to {low * 100:.0f} % at its lowest and "
                f"ends at {charge[-1] * 100:.0f} % after {q.days} days.",
    ))  # fmt: skip
    named = (("sun", flows.solar), ("engine", flows.alternator), ("charger", flows.charger),
             ("house", flows.house), ("water", flows.water))  # fmt: skip
    series = [
        Series(name, _curve(flow, name != "sun"), steps=name != "sun", at_peak=True)
        for name, flow in named
        if any(flow)
    ]
    show.chart(Chart(
        "flows", "What flows on one day, as each could give or asks",
        Axis("Hour of the day", "h", 0.0, DAY), Axis("Power", "W", 0.0), series,
        bands=[Band("", q.water_start, min(DAY, q.water_start + q.run_hours))]
        if q.water_start < DAY else [],
        summary="A day's " + ", ".join(s.label for s in series) + " by hour, with the hours of "
                "water-making shaded.",
    ))  # fmt: skip


def _curve(flow: Sequence[float], steps: bool) -> list[tuple[float, float]]:
    """A day's profile for a chart: a point a quarter of an hour, or the corners of a staircase.

    The hours of nothing before and after are left out.
    """
    picked = [i for i, power in enumerate(flow) if power]
    first, last = max(0, picked[0] - 3), min(len(flow) - 1, picked[-1] + 3)
    if not steps:
        return [(i * STEP, flow[i]) for i in range(first, last + 1, 3)]
    corners = [i for i in range(first, last + 1) if i == first or flow[i] != flow[i - 1]]
    points = [(i * STEP, flow[i]) for i in corners]
    return points if flow[last] == 0 else [*points, (DAY, flow[last])]


# ---- the smallest bank of each kind ----


def _bank_table(q: Values, show: Report, way: Option, water: Water, house: House) -> None:
    power = _start_power(q, water, house)
    rows: list[list[Any]] = []
    for key, kind in batteries.CHEMISTRIES.items():
        found = _smallest_bank(q, key, house.drawn, power)
        if found is None:
            rows.append([kind.name, "none", "its voltage is below the cut-off", "–"])
            continue
        size, why = found
        rows.append([kind.name, (size, "Ah"), why, (size * q.bank_voltage, "kWh")])
        if key in (q.bank_chemistry, "lifepo4"):
            way.remedy("The smallest {k} bank that would do: {c}.", k=kind.name, c=(size, "Ah"))
    show.table(
        "banks", "The smallest bank that would do, by kind",
        ["Kind", "At least", "What decides", "It holds"], rows,
        note=f"At {q.bank_voltage:g} V, of your bank's age, warmth and charge, for the bank alone; "
             "resistances and currents are common practice or from memory.",
    )  # fmt: skip


def _smallest_bank(
    q: Values, chemistry: str, power: float, start_power: float
) -> tuple[float, str] | None:
    """Smallest bank [C] of a chemistry that starts and runs it for the hours wanted, and why.

    Each want asks for a share more or less of the trial size; the greatest rules. The time grows
    about as the size to Peukert's exponent, the sag falls as one over the size.
    """
    reserve = 1 - depth_of(q, chemistry)
    if reserve >= q.bank_charge:
        return None
    size = power * q.run_hours / (q.bank_voltage * (q.bank_charge - reserve))
    why = ""
    for _ in range(25):
        bank = bank_of(q, chemistry, size)
        emf = bank.open_circuit_voltage(q.bank_charge)
        if emf <= bank.cut_off * 1.001:
            return None
        start = batteries.constant_power(emf, bank.resistance, start_power)
        run = batteries.run(bank, power, q.bank_charge, reserve)
        if start is None or run.time == 0:
            size *= 2
            continue
        wants = {
            "hours": (q.run_hours / run.time) ** (1 / bank.exponent),
            "the current it bears": run.end_current / discharge_limit(bank),
            "voltage at the start": (emf - start.voltage) / (emf - bank.cut_off),
        }
        why = max(wants, key=wants.__getitem__)
        if 0.998 <= wants[why] <= 1:
            break
        size *= wants[why] * 1.0005
    return (size, why) if why else None


# ---- the whole ----


def _side_by_side(show: Report, rows: list[Row]) -> None:
    """Every source as a line: the options of the report, at one glance.

    What the motor itself lacks no source can mend, so it counts in every line.
    """
    own, why = show.own()
    order = (FITS, TIGHT, UNKNOWN, FAILS)
    cells: list[list[Any]] = []
    states = []
    for row in rows:
        way = row.way
        states.append(max(own, way.verdict, key=order.index))
        barred = own in (UNKNOWN, FAILS) and way.verdict != FAILS
        runs = _word(way, False)
        if barred:
            runs = "no" if own == FAILS else "can't tell"
        money: Any = "no fuel" if row.free else "–"
        if row.money is not None:
            money = (row.money, "¤/L")
        cells.append([
            way.name, _word(way, True), runs,
            row.hours, "–" if row.energy is None else (row.energy, "Wh/L"), money,
            why if barred else _decider(way),
        ])  # fmt: skip
    show.table(
        "sources", "Which of yours can do it",
        ["Source", "Starts it", "Runs it", "Hours", "Energy", "Fuel's cost", "What decides"],
        cells, states, lead=True,
    )  # fmt: skip


def _decider(way: Option) -> Line | str:
    """What decides a way: why it fails in full, else the figure with the least in hand."""
    judged = [f for f in way.figures if f.decides and f.margin is not None]
    if way.verdict not in (FITS, TIGHT) or not judged:
        return way.reason()
    return min(judged, key=lambda f: f.margin or 0.0).label


def _word(way: Option, starts: bool) -> str:
    """Yes, just or no, out of the option's figures of the start or of the run."""
    states = [f.state for f in way.figures if f.key.startswith("start") == starts]
    if FAILS in states or (way.failures and not states):
        return "no"
    return "just" if TIGHT in states else "yes"


def _headline(q: Values, show: Report, water: Water) -> None:
    work = water.load.at_work
    show.headline(
        "The motor draws {p} and {i} at {v}; with the boost pump a litre takes {e}.",
        p=(work.input_power, "W"), i=(work.current, "A"), v=(q.ac_voltage, "V"),
        e=((water.real + water.boost_dc) / water.product, "Wh/L"),
    )  # fmt: skip
    able = [o for o in show.options if o.verdict in (FITS, TIGHT)]
    best = show.best_option()
    if best is None:
        return
    if able and show.verdict not in (FITS, TIGHT):
        show.headline("What the motor itself lacks comes first; no source can mend that.")
    elif able:
        show.headline("Of what you have, this can do it: " + "; ".join(o.name for o in able) + ".")
    else:
        show.headline("Nothing you have can do it as it stands.")


def _cautions(q: Values, show: Report) -> None:
    show.note("Common practice or from memory, not from a standard: power factor 0.6 at the start; "
              "0.30 of the running torque to turn the pump from rest, 1.25 against pressure; "
              "generator's reactance; open-circuit voltages and resistances of batteries; LiFePO4 "
              "in the cold; 1 % of an inverter's rating lost per degree above 25 °C.")  # fmt: skip
    show.caution(caution("mains"), caution("battery"))
    if q.has_generator or q.has_alternator:
        show.caution(caution("carbon-monoxide"))
    if q.has_generator and q.fuel == "petrol":
        show.caution(caution("petrol"))
    show.caution(caution("rotation"), caution("pressure"), caution("estimate"))
