"""What cable, what fuse and what breaker between my batteries and the pump's motor?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..boat import BoatSheet as boat
from ..cables import (
    DECIDED,
    Cable,
    Duty,
    ampacity_source,
    column_words,
    fitting,
    smallest,
    thickest,
)
from ..cautions import caution
from ..equipment.choices import CHEMISTRIES
from ..inputs import Inputs, Refusal, Values, ask, choice, is_one_of, is_set, whole, yes_no
from ..load import Load, Rush, connected_voltage, load_of, rated_current, starting_current
from ..one_line import Part, one_line
from ..physics import batteries, conductors, inverters, motors, protection, starting
from ..physics.conductors import Conductor
from ..report import (
    FAILS,
    FITS,
    TIGHT,
    TIGHT_MARGIN,
    Axis,
    Chart,
    Line,
    Mark,
    Report,
    Series,
    line,
)
from ..sources import depth_of, plate_of

TITLE = "Wiring"
DC, MAINS, ALLOWED = "Battery cable and fuse", "Motor branch", "What may be lost on the way"
PRACTICE = "common practice, no source"
PROPOSE = "propose"
SIZES = {size.name: size.name for size in (*conductors.GAUGES, *conductors.METRIC)}
HEAVY = {name: name for name in SIZES if conductors.conductor(name).area > 3.9e-6}
LIGHT = {name: name for name in SIZES if 1.4e-6 < conductors.conductor(name).area < 35e-6}
INSULATION = {f"{t}": f"{t} °C ({t * 9 // 5 + 32} °F)" for t in (60, 75, 80, 90, 105, 125, 200)}
FUSES = {
    "class T": "class T", "MRBF": "terminal fuse (MRBF)", "ANL": "ANL", "mega": "mega",
    "midi": "midi", "blade": "blade",
}  # fmt: skip
BRANCH = {
    "inverse-time breaker": "a circuit breaker",
    "dual-element fuse": "slow (dual-element) fuses",
    "non-time-delay fuse": "quick fuses",
}
LEAST_DC_AREA, LEAST_AC_AREA = 3.9e-6, 1.45e-6  # m²; AWG 10 or 4 mm², AWG 14 or 1.5 mm²
AIC_ENOUGH = 20e3  # A; ABYC E-11 asks for no more of a fuse, as quoted
AT_A_GLANCE = ("dc-copper", "fuse", "breaker")  # figures that come first, on a card above all
FAMILY = {"us": "AWG", "iso": "mm²"}


class Asks(Inputs):
    unit = boat.unit
    wiring_rules = boat.wiring_rules.but(open=True)
    dc_run = ask(
        "From battery to inverter", "1.5 m", above="0 m", at_most="100 m", open=True,
        when=is_set("has_inverter"), help="Along the cable, one way.",
    )  # fmt: skip
    ac_run = ask(
        "From there to the motor", "6 m", above="0 m", at_most="200 m", open=True,
        help="From the inverter, or the panel if there is none; along the cable, one way.",
    )  # fmt: skip
    dc_size = choice(
        "Battery cable", {PROPOSE: "choose it for me"} | HEAVY, open=True,
        when=is_set("has_inverter"), help="What is there already, or what you mean to fit.",
    )  # fmt: skip
    ac_size = choice("Cable to the motor", {PROPOSE: "choose it for me"} | LIGHT, open=True)

    ac_voltage = boat.ac_voltage
    ac_frequency = boat.ac_frequency
    has_inverter = boat.has_inverter
    inverter = boat.inverter.but(open=False)
    inverter_power = boat.inverter_power
    inverter_efficiency = boat.inverter_efficiency
    inverter_idle = boat.inverter_idle
    inverter_cut_off = boat.inverter_cut_off
    bank = boat.bank.but(open=False)
    bank_chemistry = boat.bank_chemistry.but(open=False)
    bank_voltage = boat.bank_voltage
    bank_capacity = boat.bank_capacity.but(open=False)
    bank_health = boat.bank_health
    bank_depth = boat.bank_depth
    bank_resistance = boat.bank_resistance

    start = boat.start
    start_factor = boat.start_factor
    code_letter = boat.code_letter
    locked_rotor_current = boat.locked_rotor_current
    start_time = boat.start_time
    start_power_factor = boat.start_power_factor
    start_torque = boat.start_torque
    start_loaded = boat.start_loaded

    dc_load = choice(
        "Cable and fuse are for", {
            "inverter": "all that the inverter can give", "pump": "the pump alone",
        }, group=DC, when=is_set("has_inverter"),
        help="Somebody will switch a kettle on: size for the inverter unless nothing else hangs "
        "on it.",
    )  # fmt: skip
    dc_pairs = whole(
        "Cables in parallel on each pole", "1", at_least=1, at_most=4, group=DC,
        when=is_one_of("dc_size", *HEAVY), help="All of the same size and length.",
    )  # fmt: skip
    dc_insulation = choice(
        "Insulation stands", INSULATION, "105", group=DC, when=is_set("has_inverter"),
        help="As printed on the cable. If you can't read it, take 60 or 75 °C.",
    )  # fmt: skip
    dc_engine_space = yes_no(
        "It runs through the engine space", "no", group=DC, when=is_set("has_inverter")
    )
    fuse = ask("Fuse", unit="A", above="0 A", at_most="2000 A", optional=True, group=DC,
               when=is_set("has_inverter"), help="Leave it empty to have it chosen.")  # fmt: skip
    fuse_kind = choice(
        "Kind of fuse", {PROPOSE: "choose it for me"} | FUSES, group=DC,
        when=is_set("has_inverter"),
    )  # fmt: skip
    fuse_distance = ask(
        "Fuse from the battery's terminal, along the cable", "100 mm", at_least="0 mm",
        at_most="10 m", group=DC, when=is_set("has_inverter"), basis=PRACTICE,
    )  # fmt: skip
    fuse_sheathed = yes_no(
        "The cable up to the fuse lies in a sheath or conduit", "no", group=DC,
        when=is_set("has_inverter"),
    )  # fmt: skip
    short_circuit = ask(
        "Bank's short-circuit current, by its maker", unit="A", above="0 A", at_most="200 kA",
        optional=True, group=DC, when=is_set("has_inverter"),
        help="Without it, the bank's resistance is taken from its chemistry and size.",
    )  # fmt: skip

    ac_insulation = choice("Insulation stands", INSULATION, "105", group=MAINS)
    ac_engine_space = yes_no("It runs through the engine space", "no", group=MAINS)
    ac_bundled = whole(
        "Live wires in the same bundle", "2", at_least=2, at_most=60, group=MAINS,
        help="Line and neutral of this branch are two; the earth wire does not count.",
    )  # fmt: skip
    branch_device = choice("The branch is protected by", BRANCH, group=MAINS,
                           when=is_one_of("wiring_rules", "us"))  # fmt: skip
    breaker = ask("Breaker or fuse in the branch", unit="A", above="0 A", at_most="600 A",
                  optional=True, group=MAINS, help="Leave it empty to have it chosen.")  # fmt: skip
    overload = ask("Overload relay set to", unit="A", above="0 A", at_most="200 A", optional=True,
                   group=MAINS, help="Leave it empty if the motor protects itself.")  # fmt: skip

    dc_drop = ask("In the battery cable, running", "3 %", above="0 %", at_most="20 %",
                  group=ALLOWED, when=is_set("has_inverter"), help="The 3 % class of ABYC E-11 "
                  "and ISO 10133: what the boat depends on.")  # fmt: skip
    dc_start_drop = ask("In the battery cable, at the start", "10 %", above="0 %", at_most="30 %",
                        group=ALLOWED, when=is_set("has_inverter"), basis=PRACTICE)  # fmt: skip
    ac_drop = ask("In the cable to the motor, running", "3 %", above="0 %", at_most="20 %",
                  group=ALLOWED, basis=PRACTICE)  # fmt: skip
    ac_start_drop = ask("In the cable to the motor, at the start", "10 %", above="0 %",
                        at_most="30 %", group=ALLOWED, help="A motor need not start on less than "
                        "90 % of its volts (NEMA MG 1).")  # fmt: skip


# ---- the battery side ----


def chosen(duty: Duty, fitted: str, parallel: int, family: str) -> tuple[Cable, bool]:
    """The cable to judge, and whether any does at all: fitted, else proposed, else the thickest."""
    if fitted != PROPOSE:
        return Cable(conductors.conductor(fitted), parallel, "fitted"), True
    found = fitting(duty, family)
    return found or thickest(duty, family), found is not None


@dataclass(frozen=True)
class Source:
    """The bank at its lowest charge [V, ohm] and the currents drawn from it [A, W]."""

    emf: float
    full_emf: float
    cut_off: float
    resistance: float
    new_resistance: float
    pump_power: float
    full_power: float
    start_power: float
    pump: float
    full: float
    start: float
    short_circuit: float
    delivers: bool


def bank_source(q: Values, load: Load, rush: Rush) -> Source:
    """The currents that the inverter takes, at the lowest charge and with all drop used up.

    The short circuit is that of the bank when it was new and is full.
    """
    chemistry = batteries.CHEMISTRIES[q.bank_chemistry]
    aged, new = (
        batteries.bank(chemistry, q.bank_capacity, q.bank_voltage, health=health,
                       resistance=q.bank_resistance, cut_off=q.inverter_cut_off)
        for health in (q.bank_health, 1.0)
    )  # fmt: skip
    try:
        losses = inverters.loss_model(q.inverter_power, q.inverter_idle, q.inverter_efficiency)
    except ValueError as error:
        raise Refusal("inverter_idle", f"{error}") from None
    emf = aged.open_circuit_voltage(1 - depth_of(q))
    if aged.cut_off >= emf:
        raise Refusal(
            "inverter_cut_off",
            "is above what this bank holds without any load: it would never switch on",
        )

    def power(real: float, apparent: float) -> float:
        # the losses go with the current, reactive or not
        return float(real + q.inverter_power * losses.at(apparent / q.inverter_power))

    surge = rush.current * connected_voltage(q.unit.motor, q.ac_voltage)
    powers = (
        power(load.at_work.input_power, load.at_work.apparent_power),
        power(q.inverter_power, q.inverter_power),
        power(surge * rush.power_factor, surge),
    )
    lost = (q.dc_drop, q.dc_drop, q.dc_start_drop)
    left = [emf - share * q.bank_voltage for share in lost]
    points = [
        batteries.constant_power(volts, aged.resistance, watts)
        for volts, watts in zip(left, powers, strict=True)
    ]
    # where the bank can't give it, the most it gives: at half its volts
    pump, full, start = (
        point.current if point else volts / (2 * aged.resistance)
        for point, volts in zip(points, left, strict=True)
    )
    short = q.short_circuit or short_circuit(new)
    return Source(
        emf, new.open_circuit_voltage(1.0), aged.cut_off, aged.resistance, new.resistance, *powers,
        pump=pump, full=full, start=start, short_circuit=short, delivers=None not in points,
    )  # fmt: skip


def short_circuit(bank: batteries.Bank) -> float:
    """Current [A] of a short across a full bank."""
    if bank.resistance == 0:
        raise Refusal("bank_resistance", "cannot be nothing: a short circuit would have no limit")
    return protection.short_circuit_current(bank.open_circuit_voltage(1.0), bank.resistance)


def battery_duty(q: Values, source: Source) -> Duty:
    """What the run from the bank to the inverter has to do."""
    running = source.pump if q.dc_load == "pump" else max(source.pump, source.full)
    steady = protection.CONTINUOUS_DUTY * source.pump
    wanted = steady if q.dc_load == "pump" else max(steady, source.full)
    # with no volts to spare at the start a thicker cable would not help; the figure then says so
    spare = source.emf - source.start * source.resistance - source.cut_off
    allowed = q.dc_start_drop * q.bank_voltage
    return Duty(
        "dc", "battery cable", q.dc_run, running, source.start, wanted, 0.0, q.bank_voltage,
        q.dc_drop * q.bank_voltage, min(allowed, spare) if spare > 0 else allowed,
        float(q.dc_insulation) + 273.15, q.dc_engine_space, 2, LEAST_DC_AREA, 3,
        fuse_share=1.0 if q.wiring_rules == "iso" else protection.CABLE_LIMIT,
    )  # fmt: skip


def fuse_limit(q: Values, ampacity: float, voltage: float) -> float:
    """Largest fuse or breaker [A] for a cable of an ampacity [A] by the rules chosen."""
    if q.wiring_rules == "iso":
        return ampacity
    limit = protection.CABLE_LIMIT * ampacity
    if voltage < 50:
        return limit
    try:
        return min(limit, protection.next_rating(ampacity, breaker=False))
    except ValueError:  # thicker than the ratings go
        return min(limit, ampacity)


def proposed_fuse(wanted: float, limit: float | None = None) -> float:
    """Next standard fuse [A] with a tenth to spare; without it where the cable allows no more."""
    for spare in (TIGHT_MARGIN, 0.0):
        try:
            rating = protection.next_rating(wanted * (1 + spare), breaker=False)
        except ValueError:
            continue
        if limit is None or rating <= limit * (1 - spare) * (1 + 1e-9):
            return rating
    try:
        return protection.next_rating(wanted, breaker=False)
    except ValueError:
        raise Refusal(
            "bank_voltage",
            f"{wanted:.0f} A at this voltage is more than the largest standard fuse, 600 A; "
            "a bank of twice the voltage halves the current",
        ) from None


# ---- the motor's side ----


@dataclass(frozen=True)
class Branch:
    """The motor's branch [A]: the current its rules go by, what they ask, what they allow.

    `ceiling` is the largest breaker or fuse by NEC Table 430.52, None where that is not asked.
    """

    by: str
    basis: float
    conductor: float
    least: float
    ceiling: float | None
    ceiling_exact: float


def motor_branch(q: Values, load: Load, rush: Rush) -> Branch:
    """The rules for the motor's branch; the currents are as connected."""
    plate = max(rated_current(q.unit.motor, q.ac_voltage), load.at_work.current)
    basis, by = plate, "the plate's current, or what the pump draws if that is more"
    if q.wiring_rules == "us":
        try:
            basis = motors.table_current(q.unit.motor.rated_power, nominal(q.ac_voltage))
            by = "NEC Table 430.248"
        except ValueError:
            pass
    basis = max(basis, load.at_work.current)
    conductor = protection.motor_conductor_current(basis)
    least = max(conductor, rush.current / protection.TYPE_C_HOLDS)
    if q.wiring_rules == "iso":
        return Branch(by, basis, conductor, least, None, 0.0)
    allowed = protection.motor_branch(basis, q.branch_device)
    return Branch(by, basis, conductor, least, allowed.rating, allowed.calculated)


# V: from, to, and the column of NEC Table 430.248 that serves it.
_SYSTEMS = ((105, 130, 115.0), (195, 204, 200.0), (205, 212, 208.0), (213, 254, 230.0))


def nominal(volts: float) -> float:
    """The nominal system voltage [V] in the NEC's table for a socket's voltage."""
    for low, high, name in _SYSTEMS:
        if low <= volts <= high:
            return name
    raise ValueError("the NEC's table has no column for this voltage")


def proposed_breaker(q: Values, branch: Branch, limit: float | None = None) -> float:
    """Next standard breaker or fuse [A] of the rules chosen, with a tenth to spare if it can be."""
    for spare in (TIGHT_MARGIN, 0.0):
        rating = standard_breaker(q, branch.least * (1 + spare))
        most = [m for m in (limit, branch.ceiling) if m is not None]
        if all(rating <= m * (1 - spare) * (1 + 1e-9) for m in most):
            return rating
    return standard_breaker(q, branch.least)


def standard_breaker(q: Values, current: float) -> float:
    """Standard rating [A] at or next above a current; the current itself beyond the tables."""
    try:
        if q.wiring_rules == "iso":
            return protection.next_iec_rating(current)
        return protection.next_rating(current, breaker=q.branch_device == "inverse-time breaker")
    except ValueError:
        return current


def motor_duty(q: Values, load: Load, rush: Rush, branch: Branch, breaker: float) -> Duty:
    """What the run from the breaker to the motor has to do."""
    return Duty(
        "ac", "cable to the motor", q.ac_run, load.at_work.current, rush.current,
        branch.conductor, breaker, q.ac_voltage, q.ac_drop * q.ac_voltage,
        q.ac_start_drop * q.ac_voltage, float(q.ac_insulation) + 273.15, q.ac_engine_space,
        q.ac_bundled, LEAST_AC_AREA, 1, load.at_work.power_factor, rush.power_factor,
        q.ac_frequency,
    )  # fmt: skip


# ---- the answer ----


@dataclass(frozen=True)
class Side:
    """One side of the inverter, judged: its duty, its cable, its fuse or breaker and its limit."""

    duty: Duty
    cable: Cable
    rating: float
    limit: float
    least: float
    device: str


def answer(q: Values, show: Report) -> None:
    load, rush = the_load(q)
    sides = []
    source = None
    if q.has_inverter:
        source = bank_source(q, load, rush)
        sides.append(battery_side(q, show, source))
    sides.append(motor_side(q, show, load, rush))
    headline(q, show, sides)
    show.figures.sort(key=lambda f: f.key not in AT_A_GLANCE)
    sizes_table(q, show, sides)
    for side in sides:
        remedies(q, show, side)
        choices_table(q, show, side)
    if source is not None:
        start_volts_chart(q, show, source, sides[0])
    torque_chart(q, show, load, rush, sides[-1])
    heat_chart(show, sides[0])
    parts = battery_parts(q, source, sides[0]) if source is not None else []
    parts += motor_parts(q, sides[-1])
    show.drawing(one_line("one-line", "From source to motor in one line, dashed the earth", parts))
    notes(q, show, source)
    show.caution(*map(caution, ("mains", "bonding", "battery", "rotation", "estimate")))


def headline(q: Values, show: Report, sides: Sequence[Side]) -> None:
    motor = sides[-1]
    told: dict[str, tuple[float, str] | str] = {
        "ac": motor.cable.name, "breaker": (motor.rating, "A"), "device": motor.device,
    }  # fmt: skip
    if not q.has_inverter:
        show.headline("{ac} from the panel to the motor, its {device} rated {breaker}.", **told)
        return
    bank = sides[0]
    if bank.rating > bank.limit:
        show.headline(
            "{dc} is too thin between bank and inverter: no fuse both protects it, at most "
            "{most}, and passes the {least} that the inverter takes.",
            dc=bank.cable.name, most=(bank.limit, "A"), least=(bank.least, "A"),
        )  # fmt: skip
        return
    show.headline(
        "{dc} from the bank to the inverter, fused at {fuse} ({kind}); {ac} from there to the "
        "motor, its {device} rated {breaker}.",
        dc=sides[0].cable.name, fuse=(sides[0].rating, "A"), kind=FUSES[sides[0].device], **told,
    )  # fmt: skip


def the_load(q: Values) -> tuple[Load, Rush]:
    """The pump's load and the motor's start, or what is wrong with this supply for this motor."""
    rated = connected_voltage(q.unit.motor, q.ac_voltage)
    if abs(q.ac_voltage / rated - 1) > 0.25:
        raise Refusal(
            "ac_voltage",
            f"this motor is made for {rated:.0f} V; at {q.ac_voltage:.0f} V it is the wrong motor "
            "or the wrong connection, and no cable mends that",
        )
    try:
        load = load_of(q.unit, voltage=q.ac_voltage, frequency=q.ac_frequency)
    except ValueError as error:
        raise Refusal("ac_voltage", f"{error}") from None
    try:
        return load, starting_current(plate_of(q), q.ac_voltage)
    except ValueError as error:
        raise Refusal("code_letter", f"{error}") from None


def battery_side(q: Values, show: Report, source: Source) -> Side:
    """Judges cable and fuse between the bank and the inverter."""
    duty = battery_duty(q, source)
    duty = replace(duty, protection=q.fuse or proposed_fuse(duty.wanted))
    cable, found = chosen(duty, q.dc_size, q.dc_pairs, FAMILY[q.wiring_rules])
    ampacity = duty.ampacity(cable.size, cable.parallel)
    limit = fuse_limit(q, ampacity, duty.voltage)
    if q.fuse and q.fuse > limit * (1 + 1e-9):
        raise Refusal("fuse", oversized(q.fuse, "fuse", cable, limit))
    rating = q.fuse or proposed_fuse(duty.wanted, limit)
    needed = source.short_circuit
    if q.wiring_rules == "us":
        needed = min(needed, AIC_ENOUGH)
    kind = q.fuse_kind if q.fuse_kind != PROPOSE else fuse_kind(needed)
    side = Side(duty, cable, rating, limit, duty.wanted, kind)
    if not found:
        no_cable(show, duty)
    if not source.delivers:
        show.fail("the bank cannot give the power that is asked of it at its lowest charge: "
                  "no cable mends that")  # fmt: skip
    battery_steps(q, show, source, side)
    cable_figures(q, show, side, q.dc_drop, q.dc_start_drop)
    left = start_volts(source, duty, cable, q.dc_run)
    show.figure(
        "dc-start-volts", "Volts left at the inverter at the start", left, "V",
        at_least=source.cut_off,
        says=line("at the start the inverter is left with {v} and switches off at {c}",
                  v=(left, "V"), c=(source.cut_off, "V")),
    )  # fmt: skip
    fuse_figures(q, show, side, needed)
    return side


def motor_side(q: Values, show: Report, load: Load, rush: Rush) -> Side:
    """Judges cable, breaker and overload between the inverter or panel and the motor."""
    branch = motor_branch(q, load, rush)
    first = q.breaker or proposed_breaker(q, branch)
    duty = motor_duty(q, load, rush, branch, first)
    cable, found = chosen(duty, q.ac_size, 1, FAMILY[q.wiring_rules])
    ampacity = duty.ampacity(cable.size, cable.parallel)
    limit = fuse_limit(q, ampacity, duty.voltage)
    if q.breaker and q.breaker > limit * (1 + 1e-9):
        raise Refusal("breaker", oversized(q.breaker, "breaker", cable, limit))
    rating = q.breaker or proposed_breaker(q, branch, limit)
    side = Side(duty, cable, rating, limit, branch.least, breaker_word(q))
    if not found:
        no_cable(show, duty)
    motor_steps(q, show, load, rush, branch, side)
    cable_figures(q, show, side, q.ac_drop, q.ac_start_drop)
    begin = at_start(q, rush, duty, cable.size, q.ac_run)
    show.figure(
        "torque", "Torque the motor keeps at the start", begin.torque_ratio, "%",
        note="of what it gives at the volts on its plate; the inverter is taken to hold its own",
    )  # fmt: skip
    breaker_figures(q, show, branch, side)
    overload_figures(q, show, load)
    return side


def oversized(rating: float, word: str, cable: Cable, limit: float) -> str:
    return (
        f"a {rating:.0f} A {word} does not protect {cable.name}: it may have {limit:.0f} A at "
        "most. A larger one lets the cable burn before it opens"
    )


def no_cable(show: Report, duty: Duty) -> None:
    show.fail(
        "no " + duty.name + " made reaches {run}: shorten the run, raise the voltage or allow "
        "more drop",
        run=(duty.run, "m"),
    )  # fmt: skip


def fuse_kind(needed: float) -> str:
    """The weakest kind of fuse that breaks the bank's short circuit, with a tenth to spare."""
    for spare in (TIGHT_MARGIN, 0.0):
        kind = protection.weakest_device(needed * (1 + spare))
        if kind:
            return kind
    return "class T"


def breaker_word(q: Values) -> str:
    if q.wiring_rules == "iso":
        return "type C breaker"
    return "breaker" if q.branch_device == "inverse-time breaker" else "fuse"


def start_volts(source: Source, duty: Duty, cable: Cable, run: float) -> float:
    """Volts left at the inverter at the start with a run of cable [m, one way]."""
    lost = source.start * source.resistance + duty.lost(cable.size, cable.parallel, True) * run
    return max(0.0, source.emf - lost)


def at_start(q: Values, rush: Rush, duty: Duty, size: Conductor, run: float) -> starting.Start:
    """The motor at rest behind a run of cable [m, one way] on a supply that holds its volts."""
    return starting.start(
        q.ac_voltage, connected_voltage(q.unit.motor, q.ac_voltage), rush.current,
        rush.power_factor, cable_resistance=2 * run * duty.ohms(size),
        cable_reactance=2 * run * duty.reactance(size),
    )  # fmt: skip


def cable_figures(q: Values, show: Report, side: Side, drop: float, start_drop: float) -> None:
    duty, cable = side.duty, side.cable
    name = "Battery cable" if duty.key == "dc" else "Cable to the motor"
    carries = duty.ampacity(cable.size, cable.parallel)
    lost = duty.lost(cable.size, cable.parallel) * duty.run / duty.voltage
    at_first = duty.lost(cable.size, cable.parallel, True) * duty.run / duty.voltage
    key = duty.key
    show.figure(
        f"{key}-copper", f"{name}, copper of each wire", cable.parallel * cable.size.area, "mm2",
        note=cable.name,
    )  # fmt: skip
    show.figure(
        f"{key}-ampacity", f"{name} may carry", carries, "A", at_least=duty.wanted,
        says=line("the " + duty.name + ", {size}, may carry {a}; {w} are asked of it",
                  size=cable.name, a=(carries, "A"), w=(duty.wanted, "A")),
        note=f"{cable.name}; {column_words(duty)}",
    )  # fmt: skip
    show.figure(
        f"{key}-drop", f"{name} loses, running", lost, "%", at_most=drop,
        says=line("the " + duty.name + " loses {l} of the volts, running; {d} is allowed",
                  l=(lost, "%"), d=(drop, "%")),
    )  # fmt: skip
    show.figure(
        f"{key}-start-drop", f"{name} loses, at the start", at_first, "%", at_most=start_drop,
        says=line("the " + duty.name + " loses {l} of the volts at the start; {d} is allowed",
                  l=(at_first, "%"), d=(start_drop, "%")),
    )  # fmt: skip
    show.figure(
        f"{key}-heat", f"Heat from the {duty.name}", duty.heat(cable.size, cable.parallel)
        * duty.run, "W", note="over the whole run, both wires",
    )  # fmt: skip


def fuse_figures(q: Values, show: Report, side: Side, needed: float) -> None:
    device = protection.DEVICES[side.device]
    distance = protection.fuse_distance(q.fuse_sheathed)
    show.figure(
        "fuse", "Fuse", side.rating, "A", at_least=side.least,
        says=line("the fuse is {f}, and {w} must pass it",
                  f=(side.rating, "A"), w=(side.least, "A")),
    )  # fmt: skip
    show.figure(
        "fuse-cable", "Fuse, as the cable's protection", side.rating, "A", at_most=side.limit,
        says=line("the fuse is {f}, and the cable may have {m} at most",
                  f=(side.rating, "A"), m=(side.limit, "A")),
    )  # fmt: skip
    show.figure(
        "fuse-breaking", "Fuse can break a short circuit of", device.interrupting, "kA",
        at_least=needed, note=f"{FUSES[side.device]}, {device.standing}",
        says=line("a short circuit drives {s}, and a {k} fuse breaks {b}", s=(needed, "kA"),
                  k=FUSES[side.device], b=(device.interrupting, "kA")),
    )  # fmt: skip
    show.figure(
        "fuse-distance", "Fuse from the battery", q.fuse_distance, "mm", at_most=distance,
        says=line("the fuse sits {d} from the battery; {m} is the most",
                  d=(q.fuse_distance, "mm"), m=(distance, "mm")),
    )  # fmt: skip


def breaker_figures(q: Values, show: Report, branch: Branch, side: Side) -> None:
    rating = side.rating
    device = side.device[0].upper() + side.device[1:]
    show.figure(
        "breaker", f"{device} of the motor's branch", rating, "A", at_least=branch.least,
        says=line("the " + side.device + " is {r}; running and starting ask for {w}",
                  r=(rating, "A"), w=(branch.least, "A")),
    )  # fmt: skip
    if branch.ceiling is not None:
        show.figure(
            "breaker-motor", f"{device}, as the motor's protection", rating, "A",
            at_most=branch.ceiling, note="NEC Table 430.52",
            says=line("the " + side.device + " is {r}; NEC 430.52 allows {m}", r=(rating, "A"),
                      m=(branch.ceiling, "A")),
        )  # fmt: skip
    show.figure(
        "breaker-cable", f"{device}, as the cable's protection", rating, "A", at_most=side.limit,
        says=line("the " + side.device + " is {r}; the cable may have {m} at most",
                  r=(rating, "A"), m=(side.limit, "A")),
    )  # fmt: skip


def overload_figures(q: Values, show: Report, load: Load) -> None:
    plate = rated_current(q.unit.motor, q.ac_voltage)
    limit = protection.overload_current(plate, q.unit.motor.service_factor)
    if q.overload is None:
        show.figure("overload", "An overload relay may be set to", limit, "A",
                    note="at most, by the current on the plate")  # fmt: skip
        return
    show.figure("overload", "Overload relay set to", q.overload, "A", at_most=limit)
    show.figure("overload-runs", "Overload relay, for the pump to run on it", q.overload, "A",
                at_least=load.at_work.current)  # fmt: skip


# ---- the working ----


def battery_steps(q: Values, show: Report, source: Source, side: Side) -> None:
    duty, cable = side.duty, side.cable
    usual = source.emf - q.dc_drop * q.bank_voltage
    for label, power, amps in (
        ("Battery current with the pump running", source.pump_power, source.pump),
        ("Battery current with the inverter at its full rating", source.full_power, source.full),
    ):
        if source.delivers:
            show.step(
                label, amps, "A", "I = 2 * P / (E + sqrt(E**2 - 4 * R * P))",
                {"P": (power, "W"), "E": (usual, "V"), "R": (source.resistance, "mΩ")},
                "P = (E - I R) I of a battery, solved for the current",
                "At the lowest charge, with all the drop that is allowed already lost.",
            )  # fmt: skip
    if q.dc_load == "pump":
        show.step("Ampacity asked of the battery cable", duty.wanted, "A", "I_z = 1.25 * I_pump",
                  {"I_pump": (source.pump, "A")},
                  "125 % of a current that flows for hours, as NEC (NFPA 70) 430.22")  # fmt: skip
    else:
        show.step("Ampacity asked of the battery cable", duty.wanted, "A",
                  "I_z = max(1.25 * I_pump, I_full)",
                  {"I_pump": (source.pump, "A"), "I_full": (source.full, "A")},
                  "125 % of a current that flows for hours, as NEC (NFPA 70) 430.22")  # fmt: skip
    cable_steps(show, side)
    lost = duty.lost(cable.size, cable.parallel) * duty.run
    show.step(
        "Volts lost in the battery cable, running", lost, "V", "U = 2 * l * I * R / n",
        {"l": (duty.run, "m"), "I": (duty.current, "A"), "R": (duty.ohms(cable.size), "mΩ/m"),
         "n": (cable.parallel, "")},
        "Ohm's law; ABYC E-11 and ISO 10133 class of 3 %",
    )  # fmt: skip
    if not q.short_circuit:
        show.step(
            "Short-circuit current of the bank", source.short_circuit, "kA", "I_sc = E / R",
            {"E": (source.full_emf, "V"), "R": (source.new_resistance, "mΩ")},
            "Ohm's law; resistance by the chemistry's typical value or the bank's record",
        )  # fmt: skip
    if q.wiring_rules == "us" and duty.voltage < 50:
        show.step("Largest fuse for the battery cable", side.limit, "A", "I_n = 1.5 * I_z",
                  {"I_z": (duty.ampacity(cable.size, cable.parallel), "A")},
                  "33 CFR 183.455(c), below 50 V")  # fmt: skip


def cable_steps(show: Report, side: Side) -> None:
    duty, cable = side.duty, side.cable
    table = conductors.table_ampacity(cable.size.name, duty.insulation)
    space = conductors.engine_space_factor(duty.insulation) if duty.engine_space else 1.0
    bundle = conductors.bundle_factor(duty.bundled, duty.voltage)
    show.step(
        f"What the {duty.name} may carry", duty.ampacity(cable.size, cable.parallel), "A",
        "I_z = n * I_table * k_space * k_bundle",
        {"n": (cable.parallel, ""), "I_table": (table, "A"), "k_space": (space, ""),
         "k_bundle": (bundle, "")},
        ampacity_source(duty),
        "" if cable.size.family == "AWG" else "A metric size is given the ampacity of the next "
        "smaller gauge: the ISO table was not to be had.",
    )  # fmt: skip
    show.step(
        f"Resistance of the {duty.name}, hot", duty.ohms(cable.size), "mΩ/m",
        "R = R_20 * (1 + alpha * dT)",
        {"R_20": (cable.size.resistance, "mΩ/m"),
         "alpha": (conductors.TEMPERATURE_COEFFICIENT, "%/K"),
         "dT": (duty.temperature - conductors.REFERENCE_TEMPERATURE, "K")},
        "NEC (NFPA 70) chapter 9 table 8, brought to 20 °C" if cable.size.family == "AWG"
        else "IEC 60228, class 5 tinned, greatest resistance",
    )  # fmt: skip


def motor_steps(
    q: Values, show: Report, load: Load, rush: Rush, branch: Branch, side: Side
) -> None:
    duty, cable, work = side.duty, side.cable, load.at_work
    plate = rated_current(q.unit.motor, q.ac_voltage)
    show.step("Ampacity asked of the motor's cable", branch.conductor, "A", "I_z = 1.25 * I",
              {"I": (branch.basis, "A")}, "NEC (NFPA 70) 430.22 on " + branch.by)  # fmt: skip
    if branch.ceiling is not None:
        share = branch.ceiling_exact / branch.basis
        show.step(
            "Largest short-circuit protection of the motor's branch", branch.ceiling_exact, "A",
            "I_n = k * I", {"k": (share, "×"), "I": (branch.basis, "A")},
            "NEC (NFPA 70) Table 430.52 on " + branch.by,
            f"The next standard rating up is allowed: {branch.ceiling:.0f} A.",
        )  # fmt: skip
    show.step(
        "Least breaker or fuse that lets it start", branch.least, "A",
        "I_n = max(I_z, I_start / 5)",
        {"I_z": (branch.conductor, "A"), "I_start": (rush.current, "A")},
        "A type C breaker holds five times its rating for a moment, IEC 60898-1 (from memory)",
        f"Starting current by {rush.told_by}.",
    )  # fmt: skip
    cable_steps(show, side)
    reactive = duty.reactance(cable.size)
    for label, amps, factor, start in (
        ("Volts lost in the cable to the motor, running", work.current, work.power_factor, False),
        ("Volts lost in it at the start", rush.current, rush.power_factor, True),
    ):
        show.step(
            label, duty.lost(cable.size, 1, start) * duty.run, "V",
            "U = 2 * l * I * (R * pf + X * sqrt(1 - pf**2))",
            {"l": (duty.run, "m"), "I": (amps, "A"), "R": (duty.ohms(cable.size), "mΩ/m"),
             "X": (reactive, "mΩ/m"), "pf": (factor, "")},
            "NEC (NFPA 70) chapter 9 table 9 note 2",
        )  # fmt: skip
    generous = protection.overload_current(plate, q.unit.motor.service_factor) / plate
    show.step(
        "Most that an overload relay may be set to",
        protection.overload_current(plate, q.unit.motor.service_factor), "A", "I = k * I_plate",
        {"k": (generous, "×"), "I_plate": (plate, "A")},
        "NEC (NFPA 70) 430.32(A)(1), on the plate's current",
    )  # fmt: skip


# ---- tables and inverse answers ----


def sizes_table(q: Values, show: Report, sides: Sequence[Side]) -> None:
    """What each run wants, in gauges and in square millimetres, and what decided it."""
    rows: list[tuple[str | Line, ...]] = []
    for side in sides:
        duty = side.duty
        found = [smallest(duty, family) for family in ("AWG", "mm²")]
        ours = next((c for c in found if c and c.size.family == FAMILY[q.wiring_rules]), None)
        rows.append((
            duty.name.capitalize(), *(cable.name if cable else "none" for cable in found),
            DECIDED[ours.decided_by] if ours else "no cable reaches that far",
            line("{r} {d}", r=(side.rating, "A"), d=FUSES.get(side.device, side.device)),
        ))  # fmt: skip
    show.table(
        "sizes", "The smallest that does, with a tenth to spare",
        ("Run", "AWG", "mm²", "What decided", "Fuse or breaker"), rows, lead=True,
    )  # fmt: skip


def judged(q: Values, side: Side, size: Conductor) -> str:
    """How a size would do on this run, with the fuse or breaker that is there."""
    duty, parallel = side.duty, side.cable.parallel
    carries = duty.ampacity(size, parallel)
    spare = min(
        carries / duty.wanted - 1,
        1 - side.rating / fuse_limit(q, carries, duty.voltage),
        1 - duty.run / duty.longest(size, parallel),
    )
    if spare < -1e-9:
        return FAILS
    return TIGHT if spare < TIGHT_MARGIN - 1e-9 else FITS


def neighbours(side: Side, below: int = 2, above: int = 2) -> list[Conductor]:
    """The sizes next to a cable's in its own family, thinnest first."""
    cable, least = side.cable, side.duty.least_area
    family = [s for s in conductors.FAMILIES[cable.size.family] if s.area >= least]
    at = family.index(cable.size)
    return family[max(0, at - below) : at + above + 1]


def choices_table(q: Values, show: Report, side: Side) -> None:
    duty, parallel = side.duty, side.cable.parallel
    rows, states = [], []
    for size in neighbours(side):
        states.append(judged(q, side, size))
        rows.append((
            Cable(size, parallel, "").name, (duty.ampacity(size, parallel), "A"),
            (duty.lost(size, parallel) * duty.run / duty.voltage, "%"),
            (duty.lost(size, parallel, True) * duty.run / duty.voltage, "%"),
            (duty.heat(size, parallel), "W/m"), (duty.longest(size, parallel), "m"),
        ))  # fmt: skip
    name = "battery cable" if duty.key == "dc" else "cable to the motor"
    show.table(
        f"{duty.key}-choices", f"Thinner and thicker: the {name}",
        ("Size", "May carry", "Lost running", "At the start", "Heat", "Longest run"), rows, states,
    )  # fmt: skip


def remedies(q: Values, show: Report, side: Side) -> None:
    """How far this cable reaches, the smallest that does, and the fuse or breaker it may have."""
    duty, cable = side.duty, side.cable
    carries = duty.ampacity(cable.size, cable.parallel)
    if carries >= duty.wanted:
        show.remedy(
            "The " + duty.name + ", {size}, reaches {most} one way; your run is {run}.",
            size=cable.name, most=(duty.longest(cable.size, cable.parallel), "m"),
            run=(duty.run, "m"),
        )  # fmt: skip
    bare = [smallest(duty, family, 0.0) for family in ("AWG", "mm²")]
    names = [c.name for c in bare if c]
    if names:
        show.remedy("The smallest " + duty.name + " that does at all: {names}.",
                    names=" or ".join(names))  # fmt: skip
    word = "fuse" if duty.key == "dc" else side.device
    if side.least <= side.limit:
        show.remedy("Its " + word + ": {low} at least, {high} at most for {size}.",
                    low=(side.least, "A"), high=(side.limit, "A"), size=cable.name)  # fmt: skip


# ---- charts ----


def reach(run: float, end: float) -> list[float]:
    """Lengths [m] for a chart: past this run, and past the end of the thinnest cable's reach."""
    far = max(1.5 * run, min(1.4 * end, 40 * run))
    return [i * far / 8 for i in range(9)]


def start_volts_chart(q: Values, show: Report, source: Source, side: Side) -> None:
    """How long the battery cable may be before the inverter gives up at the start."""
    duty, parallel = side.duty, side.cable.parallel
    sizes = neighbours(side, 1, 1)
    spare = source.emf - source.start * source.resistance - source.cut_off
    gives_up = max(0.0, spare) / duty.lost(sizes[0], parallel, True)
    points = reach(duty.run, gives_up)
    series = [
        Series(size.name, [
            (run, start_volts(source, duty, Cable(size, parallel, ""), run))
            for run in points
        ])
        for size in sizes
    ]  # fmt: skip
    show.chart(Chart(
        "dc-start", "Volts at the inverter as the pump starts, by the length of the battery cable",
        Axis("Battery to inverter, one way", "m", low=0), Axis("Volts at the inverter", "V"),
        series,
        limits=[Mark("the inverter switches off", source.cut_off)],
        marks=[Mark("your run", duty.run)],
        summary="Each curve falls in a straight line from the loaded bank's volts; a thinner or "
        "longer cable meets the line where the inverter switches off.",
    ))  # fmt: skip


def torque_chart(q: Values, show: Report, load: Load, rush: Rush, side: Side) -> None:
    """Why too long is a stall: the torque left at the start by the length of the motor's cable."""
    duty, sizes = side.duty, neighbours(side, 1, 1)
    points = reach(duty.run, 0.1 * q.ac_voltage / duty.lost(sizes[0], 1, True))
    series = [
        Series(
            size.name, [(run, at_start(q, rush, duty, size, run).torque_ratio) for run in points]
        )
        for size in sizes
    ]
    motor = q.unit.motor
    rated_torque = load.motor.output / (2 * math.pi * load.motor.speed)
    asked = load.at_work.torque / (rated_torque * motor.start_torque)
    show.chart(Chart(
        "torque", "Torque left to the motor at the start, by the length of its cable",
        Axis("Inverter or panel to motor, one way", "m", low=0),
        Axis("Torque at the start", "%", low=0, high=1.2), series,
        limits=[Mark("90 % of its volts", 0.81), Mark("the pump against pressure", asked)],
        marks=[Mark("your run", duty.run)],
        summary="Torque goes with the square of the volts: each curve falls faster than the "
        "volts do, and sooner for a thinner cable. Below the lower line the motor cannot turn a "
        "pump that stands under pressure.",
    ))  # fmt: skip


def heat_chart(show: Report, side: Side) -> None:
    """Why too thin is a fire: the heat of each size against what its insulation can shed."""
    duty, parallel = side.duty, side.cable.parallel
    name = "battery cable" if duty.key == "dc" else "cable to the motor"
    family = [s for s in conductors.FAMILIES[side.cable.size.family] if s.area >= duty.least_area]
    bearable = [
        (s.area, replace(duty, current=duty.ampacity(s, parallel)).heat(s, parallel))
        for s in family
    ]
    show.chart(Chart(
        "heat", f"Heat from each metre of the {name}, by its copper",
        Axis("Copper of one conductor", "mm2", low=family[0].area, high=family[-1].area, log=True),
        Axis("Heat from each metre", "W/m", log=True),
        [Series("given off", [(s.area, duty.heat(s, parallel)) for s in family]),
         Series("bearable", bearable)],
        marks=[Mark(side.cable.size.name, side.cable.size.area)],
        summary="The heat given off falls with more copper; what the insulation bears rises. Left "
        "of where the curves cross the cable cooks its own insulation.",
    ))  # fmt: skip


# ---- the one-line drawing ----


def fuse_label(side: Side) -> Line:
    """The fuse as the drawing names it; never a rating that the cable may not have."""
    if side.rating > side.limit:
        return line("No fuse: cable too thin, {m} at most", m=(side.limit, "A"))
    return line("Fuse {r}, {k}", r=(side.rating, "A"), k=side.device)


def battery_parts(q: Values, source: Source, side: Side) -> list[Part]:
    """From the bank to the inverter."""
    chemistry = CHEMISTRIES[q.bank_chemistry].partition(" (")[0]
    return [
        Part("battery", line("Bank {v}, {c}", v=(q.bank_voltage, "V"), c=(q.bank_capacity, "Ah")),
             line("{k}, {s} if shorted", k=chemistry, s=(source.short_circuit, "kA")), True),
        Part("fuse", fuse_label(side),
             line("{d} from the terminal", d=(q.fuse_distance, "mm"))),
        Part("switch", "Battery switch", line("for {r} all day", r=(side.duty.wanted, "A"))),
        Part("cable", f"{side.cable.name} on each pole",
             line("{l} one way, plus and minus", l=(side.duty.run, "m"))),
        Part("converter", line("Inverter {p}", p=(q.inverter_power, "VA")),
             line("{v} {f}; neutral: see note", v=(q.ac_voltage, "V"),
                  f=(q.ac_frequency, "Hz")), True),
    ]  # fmt: skip


def motor_parts(q: Values, side: Side) -> list[Part]:
    """From the breaker, or the panel where there is no inverter, to the motor."""
    motor = q.unit.motor
    plate = rated_current(motor, q.ac_voltage)
    limit = q.overload or protection.overload_current(plate, motor.service_factor)
    panel = Part("supply", line("Panel {v} {f}", v=(q.ac_voltage, "V"), f=(q.ac_frequency, "Hz")),
                 "neutral: see note", True)  # fmt: skip
    device = side.device[0].upper() + side.device[1:]
    return [
        *([] if q.has_inverter else [panel]),
        Part("breaker", line("{d} {r}", d=device, r=(side.rating, "A")),
             "with RCD or GFCI by code"),
        Part("cable", f"{side.cable.name} and its earth wire",
             line("{l} one way", l=(side.duty.run, "m"))),
        Part("switch", "Isolator at the motor", "lockable, in sight of it"),
        Part("overload", line("Overload {o} at most", o=(limit, "A")),
             "or the motor's own protector"),
        Part("motor", line("Motor {p}", p=(motor.rated_power, "W")),
             line("{a} on its plate", a=(plate, "A")), True),
    ]  # fmt: skip


# ---- what else to say ----


def notes(q: Values, show: Report, source: Source | None) -> None:
    insulations = {q.ac_insulation} | ({q.dc_insulation} if source is not None else set())
    recalled = [t for t in sorted(insulations, key=float)
                if conductors.table_standing(float(t) + 273.15) != "published"]  # fmt: skip
    if recalled:
        show.note(
            "The ampacity for {t} insulation is from memory: of 33 CFR 183.425 Table 5 only the "
            "105 °C column was seen in a source. Check it against the regulation before you buy.",
            t=" and ".join(f"{t} °C" for t in recalled),
        )  # fmt: skip
    if q.wiring_rules == "us":
        show.note(
            "33 CFR 183 Subpart I is law for boats with petrol engines other than outboards; on "
            "others its tables are good practice. ABYC E-11 is voluntary and quoted here only "
            "where its text was seen. NEC Article 430 is written for land; it rules the motor's "
            "branch where your boat is wired to it, and its limits are shown beside those of "
            "33 CFR 183.455, the stricter of which decides."
        )  # fmt: skip
    else:
        show.note(
            "The tables of ISO 13297 (which has taken ISO 10133 in) could not be seen. In their "
            "stead: resistance by IEC 60228; for the drop the 3 % class of ISO 10133; as ampacity "
            "what 33 CFR 183.425 gives the next smaller gauge, which errs on the safe side; a "
            "fuse no larger than that ampacity; for its distance the 7 inches of 33 CFR 183.455. "
            "Your surveyor has the standard: let it overrule these."
        )  # fmt: skip
    if source is not None:
        show.note(
            "The neutral: on the inverter alone it must be joined to earth at the inverter, and "
            "parted from it when shore or a generator with a joint of its own feeds the boat. "
            "Look up whether yours does so by itself."
        )  # fmt: skip
        if not q.short_circuit:
            show.note(
                "The short-circuit current, {s}, is reckoned from a typical resistance of the "
                "chemistry. Lithium cells can give several times that before their electronics "
                "open; the battery maker's own figure goes first.",
                s=(source.short_circuit, "kA"),
            )  # fmt: skip
        if q.wiring_rules == "us" and source.short_circuit > AIC_ENOUGH:
            show.note("ABYC E-11, as quoted, is content with a fuse that breaks 20 kA.")
