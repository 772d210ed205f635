"""What cable, what fuse and what breaker between my batteries and the pump's motor?"""

from __future__ import annotations

import math
from dataclasses import replace

from ..equipment.choices import PROPOSE
from ..frame import units
from ..frame.cautions import Rule, rules
from ..frame.guide import Decides, decides
from ..frame.inputs import (
    Inputs,
    Refusal,
    Values,
    ask,
    but,
    choice,
    is_one_of,
    is_set,
    whole,
    yes_no,
)
from ..frame.report import Amount, Line, Option, Report, amount, least, line, most
from ..models.cables import Cable, Duty, Side, column_words, fitting, thickest
from ..models.feed import Feed, feed_of
from ..models.guards import (
    BRANCH_DEVICES,
    BREAKER_TYPES,
    FUSE_CHOICES,
    FUSES,
    Branch,
    Guard,
    breaker_guard,
    breaker_word,
    fuse_breaks,
    fuse_guard,
    fuse_kind,
    motor_branch,
    overload_span,
)
from ..models.load import Load, connected_voltage, settled
from ..models.motor_fit import motor_fit
from ..models.on_generator import GREATEST_DIP, foreign_mains
from ..models.one_line import one_line
from ..models.sources import mains_match
from ..models.supply import at_start, by_generator, held_by_electronics, source_reactance
from ..models.water import Water
from ..models.wiring_fit import (
    NOT_ENOUGH,
    OTHER_BANK,
    WRONG_VOLTS,
    inverter_fault,
    inverter_misfit,
    motor_starts,
)
from ..models.wiring_steps import battery_steps, motor_steps
from ..models.wiring_view import (
    FAMILY,
    OVERLOAD_STEP,
    battery_parts,
    choices_table,
    digits,
    heat_chart,
    inverter_part,
    kept_at_start,
    motor_parts,
    notes,
    remedies,
    sizes_table,
    start_volts_chart,
    torque_chart,
)
from ..physics import conductors, motors, protection
from ..sheet import BoatSheet as boat

TITLE = "Wiring"


# What the figures find that a caution hangs on.
PARALLEL = "cables lie in parallel"


CAUTIONS = rules(
    "mains", "bonding", Rule("parallel", lambda q: PARALLEL in q), "battery", "rotation"
)

_ON_BANK = is_set("has_inverter")
WANTED = ("dc-copper", "fuse", "breaker")
PICTURE = "one-line"
DECIDES = decides(
    "unit",
    "wiring_rules",
    ("inverter_power", "generator_power"),
    Decides(("bank_voltage",), _ON_BANK),
    Decides(("bank_chemistry",), _ON_BANK),
    Decides(("bank_capacity",), _ON_BANK),
    "dc_run",
    "ac_run",
)


DC, MAINS, ALLOWED = "Battery cable and fuse", "Motor branch", "What may be lost on the way"
PRACTICE = "common practice, no source"
SIZES = {size.name: size.name for size in (*conductors.GAUGES, *conductors.METRIC)}
HEAVY = {name: name for name in SIZES if conductors.conductor(name).area > 3.9e-6}
INSULATION = {f"{t}": f"{t} °C ({t * 9 // 5 + 32} °F)" for t in (60, 70, 75, 80, 90, 105, 125, 200)}
LEAST_DC_AREA, LEAST_AC_AREA = 3.9e-6, 1.45e-6  # m²; AWG 10 or 4 mm², AWG 14 or 1.5 mm²
AT_HAND = 1e-3  # m, a run so short that it loses nothing
AT_A_GLANCE = ("dc-copper", "fuse", "breaker")  # figures that come first, on a card above all


class Asks(Inputs):
    unit = boat.unit
    wiring_rules = but(boat.wiring_rules, open=True)
    dc_run = ask(
        "From battery to inverter",
        "1.5 m",
        above="0 m",
        at_most="100 m",
        open=True,
        when=is_set("has_inverter"),
        help="Along the cable, one way.",
    )
    ac_run = but(boat.ac_run, open=True)
    dc_size = choice(
        "Battery cable",
        {PROPOSE: "choose it for me"} | HEAVY,
        open=True,
        when=is_set("has_inverter"),
        help="What is there already, or what you mean to fit.",
    )
    ac_size = but(boat.ac_size, open=True)

    ac_voltage = boat.ac_voltage
    ac_frequency = boat.ac_frequency
    has_inverter = boat.has_inverter
    inverter = but(boat.inverter, open=False)
    inverter_power = boat.inverter_power
    inverter_efficiency = boat.inverter_efficiency
    inverter_idle = boat.inverter_idle
    inverter_cut_off = boat.inverter_cut_off
    inverter_surge = boat.inverter_surge
    inverter_surge_time = boat.inverter_surge_time
    ambient_temperature = boat.ambient_temperature
    bank = but(boat.bank, open=False)
    bank_chemistry = but(boat.bank_chemistry, open=False)
    bank_voltage = boat.bank_voltage
    bank_capacity = but(boat.bank_capacity, open=False)
    bank_health = boat.bank_health
    bank_depth = boat.bank_depth
    bank_resistance = boat.bank_resistance
    bank_temperature = boat.bank_temperature

    has_generator = boat.has_generator
    generator = boat.generator
    generator_power = boat.generator_power
    generator_power_factor = boat.generator_power_factor
    generator_source = boat.generator_source
    generator_reactance = boat.generator_reactance

    flow = boat.flow
    pressure = boat.pressure
    motor_kind = boat.motor_kind
    start = boat.start
    soft_allowed = boat.soft_allowed
    start_factor = boat.start_factor
    code_letter = boat.code_letter
    locked_rotor_current = boat.locked_rotor_current
    start_time = boat.start_time
    start_power_factor = boat.start_power_factor
    start_torque = boat.start_torque
    start_loaded = boat.start_loaded

    dc_load = choice(
        "Cable and fuse are for",
        {"inverter": "all that the inverter can give", "pump": "the pump alone"},
        group=DC,
        when=is_set("has_inverter"),
        help="Somebody will switch a kettle on: size for the inverter unless nothing else is "
        "connected to it.",
    )
    dc_pairs = whole(
        "Cables in parallel on each pole",
        "1",
        at_least=1,
        at_most=4,
        group=DC,
        when=is_one_of("dc_size", *HEAVY),
        help="All of the same make, size and length, joined at both ends, behind one fuse.",
    )
    dc_insulation = choice(
        "Insulation stands",
        INSULATION,
        "105",
        group=DC,
        when=is_set("has_inverter"),
        help="As printed on the cable; ordinary PVC bears 70 °C. If you can't read it, take 60 °C. "
        "The column is that of 33 CFR 183.425 Table 5 or ISO 10133.",
    )
    dc_engine_space = yes_no(
        "It runs through the engine space", "no", group=DC, when=is_set("has_inverter")
    )
    fuse = ask(
        "Fuse",
        unit="A",
        above="0 A",
        at_most="2000 A",
        optional=True,
        group=DC,
        when=is_set("has_inverter"),
        help="Leave it empty to have it chosen.",
    )
    fuse_kind = choice(
        "Kind of fuse",
        {PROPOSE: "choose it for me"} | FUSE_CHOICES,
        group=DC,
        when=is_set("has_inverter"),
        help="Its class by its standard, as printed on it.",
    )
    fuse_breaks = ask(
        "Fuse breaks, at the bank's volts",
        unit="A",
        above="0 A",
        at_most="500 kA",
        optional=True,
        group=DC,
        when=is_one_of("fuse_kind", *FUSES),
        help="As printed on it or on its sheet, for direct current. Left empty: what its standard "
        "asks of its class. A terminal fuse has no such class.",
    )
    fuse_carries = ask(
        "Fuse carries the start for",
        unit="s",
        above="0 s",
        at_most="1 h",
        optional=True,
        group=DC,
        when=is_one_of("fuse_kind", *FUSES),
        help="Read on its maker's curve at the current of the start. Left empty: what its standard "
        "promises of its class.",
    )
    fuse_distance = ask(
        "Fuse from the battery's terminal, along the cable",
        "100 mm",
        at_least="0 mm",
        at_most="10 m",
        group=DC,
        when=is_set("has_inverter"),
        basis=PRACTICE,
        help="33 CFR 183.455 allows 7 inches, 40 in a sheath.",
    )
    fuse_sheathed = yes_no(
        "The cable up to the fuse lies in a sheath or conduit",
        "no",
        group=DC,
        when=is_set("has_inverter"),
    )
    short_circuit = ask(
        "Bank's short-circuit current, by its maker",
        unit="A",
        above="0 A",
        at_most="200 kA",
        optional=True,
        group=DC,
        when=is_set("has_inverter"),
        help="Without it, the bank's resistance is taken from its chemistry and size.",
    )

    ac_insulation = choice(
        "Insulation stands",
        INSULATION,
        "105",
        group=MAINS,
        help="As printed on the cable; ordinary PVC bears 70 °C.",
    )
    ac_engine_space = yes_no("It runs through the engine space", "no", group=MAINS)
    ac_bundled = whole(
        "Live wires in the same bundle",
        "2",
        at_least=2,
        at_most=60,
        group=MAINS,
        help="Line and neutral of this branch are two; the earth wire does not count. More share "
        "the ampacity by 33 CFR 183.425 Table 5, note 2.",
    )
    branch_device = choice(
        "The branch is protected by",
        BRANCH_DEVICES,
        group=MAINS,
        when=is_one_of("wiring_rules", "us"),
        help="Its size goes by NEC Table 430.52.",
    )
    breaker_type = choice(
        "The breaker opens as",
        BREAKER_TYPES,
        "C",
        group=MAINS,
        when=is_one_of("wiring_rules", "iso"),
        help="IEC 60898-1; the letter stands before its amperes.",
    )
    breaker = ask(
        "Breaker or fuse in the branch",
        unit="A",
        above="0 A",
        at_most="600 A",
        optional=True,
        group=MAINS,
        help="Leave it empty to have it chosen.",
    )
    breaker_carries = ask(
        "It carries the start for",
        unit="s",
        above="0 s",
        at_most="1 h",
        optional=True,
        group=MAINS,
        help="Of the breaker or fuse that you named: read on its maker's curve at the "
        "current of the start. Left empty: what its standard promises.",
    )
    overload = ask(
        "Overload relay set to",
        unit="A",
        above="0 A",
        at_most="200 A",
        optional=True,
        group=MAINS,
        help="Leave it empty if the motor protects itself. An IEC relay is "
        "set to the current on the plate.",
    )

    dc_drop = ask(
        "In the battery cable, running",
        "3 %",
        above="0 %",
        at_most="20 %",
        group=ALLOWED,
        when=is_set("has_inverter"),
        help="The 3 % class of ABYC E-11 and ISO 10133: what the boat depends on.",
    )
    dc_start_drop = ask(
        "In the battery cable, at the start",
        "10 %",
        above="0 %",
        at_most="30 %",
        group=ALLOWED,
        when=is_set("has_inverter"),
        basis=PRACTICE,
    )
    ac_drop = ask(
        "In the cable to the motor, running",
        "3 %",
        above="0 %",
        at_most="20 %",
        group=ALLOWED,
        basis=PRACTICE,
    )
    ac_start_drop = ask(
        "In the cable to the motor, at the start",
        "10 %",
        above="0 %",
        at_most="30 %",
        group=ALLOWED,
        help="A motor need not start on less than 90 % of its volts (NEMA MG 1).",
    )


# ---- the answer ----


def answer(q: Values, show: Report) -> None:
    right_volts(q)
    q = settled(q)
    fit = motor_fit(q)
    fit.tell(show, "what its cables have to carry")
    fault = inverter_misfit(q, show) if q.has_inverter else ""
    water = fit.water
    if water is None or not fit.reckonable:
        return
    load, rush = water.load, water.rush
    sides = []
    feed = None
    if q.has_inverter and fault != OTHER_BANK:
        feed = feed_of(q, load, rush)
        fault = fault or inverter_fault(q, show, water, feed)
        sides.append(battery_side(q, show, feed))
    if by_generator(q):
        generator_mains(q, show)
    branch = motor_branch(q, load, rush)
    sides.append(motor_side(q, show, water, branch))
    starts = motor_starts(q, show, water, sides[-1])
    generator_figures(q, show, water, sides[-1])
    headline(q, show, sides, feed)
    if fault in NOT_ENOUGH:
        sized_all_the_same(q, show, sides)
    if show.brief:
        return
    show.figures.sort(key=lambda f: f.key not in AT_A_GLANCE)
    sizes_table(q, show, sides, feed)
    remedies(q, show, sides, feed, water)
    for side in sides:
        choices_table(show, side)
    if feed is not None:
        start_volts_chart(show, sides[0])
    torque_chart(q, show, water, sides[-1])
    heat_chart(show, sides[0])
    parts = motor_parts(q, sides[-1], load, starts)
    if feed is not None:
        parts = battery_parts(q, feed, sides[0], fault) + parts
    elif q.has_inverter:
        parts.insert(0, inverter_part(q, fault))
    show.drawing(one_line("one-line", "From source to motor in one line, dashed the earth", parts))
    notes(q, show, sides, feed, branch)
    if sides[0].cable.parallel > 1:
        show.fact(PARALLEL)


def generator_mains(q: Values, show: Report) -> None:
    """Fails a generator of other mains than those on board, as the page Power does."""
    if not mains_match(q, q.generator, "voltage"):
        way = Option("", "")
        foreign_mains(way, q, "Generator", q.generator.voltage, q.generator.frequency)
        show.failures += way.failures


def generator_figures(q: Values, show: Report, water: Water, side: Side) -> None:
    """The start on the generator, its dip and the cable's loss in one circuit.

    It decides only where the generator feeds the motor through this cable and no inverter does.
    """
    if not q.has_generator or not mains_match(q, q.generator, "voltage"):
        return
    decides, duty = by_generator(q), side.duty
    cable = 2 * duty.run * complex(duty.ohms(side.cable.size), duty.reactance(side.cable.size))
    begun = at_start(q, water, source_reactance(q), cable)
    torque = water.start_torque(begun.voltage / water.load.motor.voltage)
    sure = torque >= 1 or water.torque_known  # else `motor_starts` has asked for the kind
    if not held_by_electronics(q):
        show.figure(
            "generator-dip",
            "On the generator, its voltage dips at the start by",
            begun.source_dip,
            "%",
            at_most=GREATEST_DIP,
            decides=decides,
            note="behind this cable",
            says=line(
                "the start pulls the generator's voltage down by {d}; {m} is allowed",
                d=(begun.source_dip, "%"),
                m=(GREATEST_DIP, "%"),
            ),
        )
    show.figure(
        "generator-torque",
        "On the generator, starting torque, of what turns the pump",
        torque,
        "%",
        at_least=1.0,
        decides=decides and sure,
        note="its dip and the cable's loss together"
        if water.torque_known
        else "its dip and the cable's loss together, as of the weakest kind of motor",
        says=line(
            "on the generator, behind this cable, the motor gives {t} of the torque that "
            "turns the pump",
            t=(torque, "%"),
        ),
    )


def sized_all_the_same(q: Values, show: Report, sides: list[Side]) -> None:
    """What the cables are sized for where the inverter can't give it."""
    duty = sides[0].duty
    show.headline(
        "These are sized for the pump all the same, {a} from the bank running and {b} at its "
        "start, as if the inverter gave it."
        + (
            " Another inverter may ask for another battery cable and fuse."
            if q.dc_load == "inverter"
            else ""
        ),
        a=(duty.current, "A"),
        b=(duty.start, "A"),
    )


def headline(q: Values, show: Report, sides: list[Side], feed: Feed | None) -> None:
    """What to fit, in one sentence each side; never a fuse that the cable may not have."""
    motor = sides[-1]
    start = "{ac} from the " + ("inverter" if q.has_inverter else "panel") + " to the motor"
    if feed is not None:
        bank_words(q, show, sides[0], feed)
    if motor.rating is None:
        show.headline(
            start + " is not enough: no {device} both protects it and lets the motor run and "
            "start.",
            ac=motor.cable.name,
            device=motor.device,
        )
    elif motor.duty.guard.too_small or motor.duty.guard.too_large or opens(motor):
        show.headline(
            start
            + "; its {device}, {breaker}, is too "
            + ("large for this motor." if motor.duty.guard.too_large else "small."),
            ac=motor.cable.name,
            device=motor.device,
            breaker=(motor.rating, "A"),
        )
    else:
        show.headline(
            start + ", its {device} rated {breaker}.",
            ac=motor.cable.name,
            device=motor.device,
            breaker=(motor.rating, "A"),
        )


def bank_words(q: Values, show: Report, bank: Side, feed: Feed) -> None:
    asked = bank.duty.guard.least
    breaks = fuse_breaks(q, bank.device, feed.full_emf)
    if bank.rating is not None and breaks is not None and breaks < feed.short_circuit:
        show.headline(
            "{dc} from the bank to the inverter and a fuse of {fuse}; but {kind} breaks {b} at the "
            "bank's volts, and a short circuit drives {s}.",
            dc=bank.cable.name,
            fuse=(bank.rating, "A"),
            kind=FUSES[bank.device],
            b=(breaks, "kA"),
            s=shorted(feed, breaks),
        )
    elif bank.rating is not None and (bank.duty.guard.too_small or opens(bank)):
        show.headline(
            "{dc} from the bank to the inverter; its fuse, {fuse}, is too small.",
            dc=bank.cable.name,
            fuse=(bank.rating, "A"),
        )
    elif bank.rating is not None:
        show.headline(
            "{dc} from the bank to the inverter, fused at {fuse} ({kind}).",
            dc=bank.cable.name,
            fuse=(bank.rating, "A"),
            kind=FUSES[bank.device],
        )
    elif bank.limit < asked:
        show.headline(
            "{dc} is too thin between bank and inverter: no fuse both protects it, at most {most}, "
            "and passes the {least} that it has to carry.",
            dc=bank.cable.name,
            most=most(bank.limit, "A"),
            least=least(asked, "A"),
        )
    else:
        show.headline(
            "There is no fuse for {dc} between bank and inverter: none is made from the {least} "
            "that it has to pass to the {most} that the cable may have.",
            dc=bank.cable.name,
            most=most(bank.limit, "A"),
            least=least(asked, "A"),
        )


def opens(side: Side) -> bool:
    """Whether the start surely opens its fuse or breaker."""
    return side.rating is not None and side.duty.guard.starts(side.rating) == "no"


def shorted(feed: Feed, breaks: float) -> Amount:
    """The bank's short-circuit current, as a fuse that breaks so much [A] is held against it."""
    return amount(feed.short_circuit, "kA", digits(breaks, feed.short_circuit))


def right_volts(q: Values) -> None:
    """Refuses a supply that is for another motor or another connection."""
    rated = connected_voltage(q.unit.motor, q.ac_voltage)
    if abs(q.ac_voltage / rated - 1) > WRONG_VOLTS:
        raise Refusal(
            "ac_voltage",
            f"this motor is made for {rated:.0f} V; at {q.ac_voltage:.0f} V it is the wrong motor "
            "or the wrong connection, and no cable mends that",
        )


def insulation(q: Values, side: str) -> float:
    """A cable's insulation rating [K]; refused where it may not lie in the engine space."""
    celsius = float(getattr(q, f"{side}_insulation"))
    if q.wiring_rules == "iso" and celsius < 70 and getattr(q, f"{side}_engine_space"):
        raise Refusal(
            f"{side}_insulation",
            f"{celsius:.0f} °C is too little in an engine space: ISO 10133 asks for 70 °C at least "
            "(from memory). Take cable of 105 °C, or lead it another way",
        )
    return celsius + 273.15


def chosen(duty: Duty, fitted: str, parallel: int, family: str) -> tuple[Cable, bool]:
    """The cable to judge, and whether any does at all: fitted, else proposed, else the thickest."""
    if fitted != PROPOSE:
        return Cable(conductors.conductor(fitted), parallel, "fitted"), True
    sized = replace(duty, hopeless=False, guard=duty.guard.to_size_by())
    found = fitting(sized, family)
    return found or thickest(duty, family), found is not None


def battery_duty(q: Values, feed: Feed) -> Duty:
    """What the run from the bank to the inverter has to do."""
    steady = protection.CONTINUOUS_DUTY * feed.pump
    running, wanted = feed.pump, steady
    if q.dc_load == "inverter":
        running, wanted = max(feed.pump, feed.full), max(steady, feed.full)
    return Duty(
        "dc",
        "battery cable",
        q.dc_run,
        running,
        feed.start,
        wanted,
        fuse_guard(q, wanted, feed),
        q.bank_voltage,
        q.dc_drop * q.bank_voltage,
        q.dc_start_drop * q.bank_voltage,
        insulation(q, "dc"),
        q.dc_engine_space,
        2,
        LEAST_DC_AREA,
        3,
        start_volts=feed.start_volts,
        cut_off=feed.cut_off,
        hopeless=not feed.suffices,
    )


def battery_side(q: Values, show: Report, feed: Feed) -> Side:
    """Judges cable and fuse between the bank and the inverter."""
    duty = battery_duty(q, feed)
    cable, found = chosen(duty, q.dc_size, q.dc_pairs, FAMILY[q.wiring_rules])
    side = Side(duty, cable, "")
    if q.fuse and q.fuse > side.limit * (1 + 1e-9):
        raise Refusal("fuse", oversized(q.fuse, "fuse", cable, side.limit))
    guard = duty.guard
    kind = fuse_kind(q, guard, side.rating or guard.least, feed.full_emf, feed.short_circuit)
    side = replace(side, device=kind)
    if not found and not duty.hopeless:
        no_cable(show, side)
    if not feed.delivers:
        show.fail(
            "the bank cannot give the power that is asked of it at its lowest charge: "
            "no cable mends that"
        )
    elif not feed.suffices:
        show.fail(
            "at the start the bank itself sags to {v}, and the inverter switches off at {c}: no "
            "cable mends that",
            v=(feed.start_volts, "V"),
            c=(feed.cut_off, "V"),
        )
    battery_steps(q, show, feed, side)
    cable_figures(show, side)
    left = duty.left_at_start(cable.size, cable.parallel, duty.run)
    show.figure(
        "dc-start-volts",
        "Volts left at the inverter at the start",
        left,
        "V",
        at_least=feed.cut_off,
        says=line(
            "at the start the inverter is left with {v} and switches off at {c}",
            v=(left, "V"),
            c=(feed.cut_off, "V"),
        ),
    )
    fuse_figures(q, show, side, feed)
    return side


def motor_side(q: Values, show: Report, water: Water, branch: Branch) -> Side:
    """Judges cable, breaker and overload between the inverter or panel and the motor."""
    load, rush = water.load, water.rush
    band, off = terminals(q, load)
    duty = Duty(
        "ac",
        "cable to the motor",
        q.ac_run,
        load.at_work.current,
        rush.current,
        branch.conductor,
        breaker_guard(q, branch),
        q.ac_voltage,
        q.ac_drop * q.ac_voltage,
        q.ac_start_drop * q.ac_voltage,
        insulation(q, "ac"),
        q.ac_engine_space,
        q.ac_bundled,
        LEAST_AC_AREA,
        1,
        load.at_work.power_factor,
        rush.power_factor,
        q.ac_frequency,
        band=band,
        off=off,
    )
    cable, found = chosen(duty, q.ac_size, 1, FAMILY[q.wiring_rules])
    side = Side(duty, cable, breaker_word(q))
    if q.breaker and q.breaker > side.limit * (1 + 1e-9):
        raise Refusal("breaker", oversized(q.breaker, "breaker", cable, side.limit))
    if not found:
        no_cable(show, side)
    motor_steps(q, show, load, rush, branch, side)
    cable_figures(show, side)
    terminals_figure(q, show, load, side)
    source = (
        "the inverter is taken to hold its volts"
        if q.has_inverter
        else (
            "the generator dips as on the page Power"
            if by_generator(q)
            else "the supply is taken to hold its volts"
        )
    )
    show.figure(
        "torque",
        "Torque the motor keeps at the start",
        kept_at_start(q, water, duty, cable.size, q.ac_run),
        "%",
        digits=2,
        note="of what it gives at the volts on its plate; "
        + source
        + ("" if water.softness is None else ", and the soft starter its current"),
    )
    breaker_figures(show, branch, side)
    overload_figures(q, show, load)
    return side


def terminals(q: Values, load: Load) -> tuple[float, float]:
    """Volts that the motor bears below its plate's, and those that the supply is off already [V].

    The hertz use up their part of the band. No band where the supply itself is beyond it: no cable
    mends that. Source: NEMA Condensed MG 1-2011, 9.9.
    """
    plate, hertz = load.motor.voltage, abs(q.ac_frequency / load.motor.frequency - 1)
    band = (motors.NEMA_COMBINED_BAND - hertz) * plate
    off = plate - q.ac_voltage
    if hertz > motors.NEMA_FREQUENCY_BAND or units.trim(off / band) > 1:
        return math.inf, 0.0
    return band, off


def terminals_figure(q: Values, show: Report, load: Load, side: Side) -> None:
    """The motor's volts behind its cable, against what a motor has to bear."""
    duty, plate = side.duty, load.motor.voltage
    if math.isinf(duty.band):
        return
    left = q.ac_voltage - duty.lost(side.cable.size, 1) * duty.run
    below = max(0.0, 1 - left / plate) + abs(q.ac_frequency / load.motor.frequency - 1)
    show.figure(
        "ac-terminals",
        "At the motor's terminals, below its plate's volts, hertz off added",
        below,
        "%",
        at_most=motors.NEMA_COMBINED_BAND,
        note="the supply's own volts and the cable's loss together",
        says=line(
            "the motor's terminals get {v} of the {p} on its plate: {b} off, hertz added, "
            "and {m} is what a motor must bear",
            v=(left, "V"),
            p=(plate, "V"),
            b=(below, "%"),
            m=(motors.NEMA_COMBINED_BAND, "%"),
        ),
    )


def oversized(rating: float, word: str, cable: Cable, limit: float) -> str:
    allowed = math.floor(limit + 1e-9)
    if cable.parallel > 1:
        return (
            f"a {rating:.0f} A {word} does not protect a single one of {cable.name}: it may have "
            f"{allowed} A at most. With a larger one the others burn when a lug lets go"
        )
    return (
        f"a {rating:.0f} A {word} does not protect {cable.name}: it may have {allowed} A at most. "
        "A larger one lets the cable burn before it opens"
    )


def no_cable(show: Report, side: Side) -> None:
    """Says what would help where not even the thickest cable, which `side` has, does."""
    duty = side.duty
    if duty.key == "dc" and side.rating is None:
        show.fail(
            "no battery cable made may have a fuse that passes {w}, at most {m} for each alone: "
            "raise the voltage, ask less of it, or have each cable fused by itself, which is not "
            "reckoned here",
            w=least(duty.guard.least, "A"),
            m=most(side.limit, "A"),
        )
        return
    if duty.allowed_running() <= 0:
        show.fail(
            "the supply is {o} below the volts on the motor's plate, and {b} is all that a motor "
            "must bear: no cable may lose anything, however short; more volts from the supply help",
            o=(duty.off, "V"),
            b=(duty.band, "V"),
        )
        return
    at_hand = replace(duty, run=AT_HAND, guard=duty.guard.to_size_by())
    if fitting(at_hand, side.cable.size.family) is not None:
        show.fail(
            "no battery cable made does over {run}: shorten the run, raise the bank's voltage, "
            "allow more drop, or ask less of it"
            if duty.key == "dc"
            else "no cable to the motor made does over {run}: shorten the run, allow more drop, or "
            "ask less of it",
            run=(duty.run, "m"),
        )
    elif side.carries < duty.wanted:
        show.fail(
            "no battery cable made may carry {w} where it lies, however short: raise the bank's "
            "voltage, or ask less of it"
            if duty.key == "dc"
            else "no cable to the motor made may carry {w} where it lies, however short: lead it "
            "alone, where it is cooler, or ask less of it",
            w=least(duty.wanted, "A"),
        )


# ---- figures ----


def cable_figures(show: Report, side: Side) -> None:
    duty, cable = side.duty, side.cable
    size, parallel = cable.size, cable.parallel
    name = "Battery cable" if duty.key == "dc" else "Cable to the motor"
    key, carries = duty.key, side.carries
    show.figure(
        f"{key}-copper",
        f"{name}, copper of each wire",
        parallel * size.area,
        "mm2",
        note=cable.name,
    )
    if duty.too_thin(size, parallel):
        show.fail(
            "{s} is too thin to be laid in parallel: 50 mm² or AWG 1/0 is the least "
            "(NEC 310.10(G), from memory)",
            s=size.name,
        )
    show.figure(
        f"{key}-ampacity",
        f"{name} may carry",
        carries,
        "A",
        at_least=duty.wanted,
        says=line(
            "the " + duty.name + ", {size}, may carry {a}; {w} are asked of it",
            size=cable.name,
            a=(carries, "A"),
            w=least(duty.wanted, "A"),
        ),
        note=f"{cable.name}; {column_words(duty)}",
    )
    for what, words, start, bound in (
        ("drop", "running", False, duty.drop),
        ("start-drop", "at the start", True, duty.start_drop),
    ):
        lost = duty.lost(size, parallel, start) * duty.run
        few = digits(lost, bound)
        told = amount(lost / duty.voltage, "%", few)
        show.figure(
            f"{key}-{what}",
            f"{name} loses, {words}",
            told.value,
            "%",
            at_most=bound / duty.voltage,
            digits=few,
            note=f"at {units.text(duty.start if start else duty.current, 'A')}",
            says=line(
                "the " + duty.name + " loses {l} of the volts, " + words + "; {d} is allowed",
                l=told,
                d=(bound / duty.voltage, "%"),
            ),
        )
    show.figure(
        f"{key}-heat",
        f"Heat from the {duty.name}",
        duty.heat(size, parallel) * duty.run,
        "W",
        note="over the whole run, both wires",
        digits=2,
    )


def no_guard(show: Report, side: Side, word: str) -> None:
    """Says why nothing both protects a cable and passes what it has to."""
    guard = side.duty.guard
    allowed = guard.most(side.alone)
    told = (
        "the " + side.duty.name + ", {s}, may have a " + word + " of {m} at most, and {w} must "
        "pass it"
        if allowed < guard.least
        else "no "
        + word
        + " is made from the {w} that must pass it to the {m} that the "
        + side.duty.name
        + ", {s}, may have"
    )
    show.fail(told, s=side.cable.name, m=most(allowed, "A"), w=least(guard.least, "A"))


def passes_too_little(side: Side, word: str, rating: float) -> Line:
    """Why a stated fuse or breaker will not do, and from which size on one does."""
    guard = side.duty.guard
    span = guard.span(side.alone)
    return line(
        "the "
        + word
        + " is {f}, smaller than the {w} that must pass it"
        + ("; {r} or more does" if span else ""),
        f=(rating, "A"),
        w=least(guard.least, "A"),
        r=(span[0] if span else guard.least, "A"),
    )


def fuse_figures(q: Values, show: Report, side: Side, feed: Feed) -> None:
    """The fuse against what must pass it, its cable, the short circuit, the volts, its place."""
    rating = side.rating
    if rating is None:
        no_guard(show, side, "fuse")
    else:
        asked = side.duty.guard.least
        show.figure(
            "fuse",
            "Fuse",
            rating,
            "A",
            at_least=asked,
            safe_limit=True,
            says=passes_too_little(side, "fuse", rating)
            if side.duty.guard.too_small
            else line(
                "the fuse is {f}, and {w} must pass it", f=(rating, "A"), w=least(asked, "A")
            ),
        )
        show.figure(
            "fuse-cable",
            "Fuse, as the cable's protection",
            rating,
            "A",
            at_most=side.limit,
            safe_limit=True,
            note="of a single one of them" if side.cable.parallel > 1 else "",
            says=line(
                "the fuse is {f}, and the cable may have {m} at most",
                f=(rating, "A"),
                m=most(side.limit, "A"),
            ),
        )
        kind_figures(q, show, side, rating, feed)
        guard = replace(side.duty.guard, devices=(side.device,))
        start_figure(show, guard, rating, "fuse", "fuse")
    distance = protection.fuse_distance(q.fuse_sheathed)
    show.figure(
        "fuse-distance",
        "Fuse from the battery",
        q.fuse_distance,
        "mm",
        at_most=distance,
        safe_limit=True,
        says=line(
            "the fuse sits {d} from the battery; {m} is the most",
            d=(q.fuse_distance, "mm"),
            m=most(distance, "mm"),
        ),
    )


def kind_figures(q: Values, show: Report, side: Side, rating: float, feed: Feed) -> None:
    """Whether the kind of fuse is made for this voltage and rating and breaks the short circuit."""
    device, kind = protection.DEVICES[side.device], FUSES[side.device]
    breaks = fuse_breaks(q, side.device, feed.full_emf)
    smallest, largest = device.ratings[0], device.ratings[-1]
    if breaks is None:
        show.unknown(
            "a short circuit drives {s}, and no standard says what a terminal fuse breaks: look "
            "what is printed on yours for direct current of {v} or more, and fill it in",
            s=(feed.short_circuit, "kA"),
            v=(feed.full_emf, "V"),
        )
        return
    if not breaks:
        show.figure(
            "fuse-volts",
            f"Fuse ({kind}) is made for",
            device.highest_voltage,
            "V",
            at_least=feed.full_emf,
            note=device.source,
            says=line(
                "the fuse, {k}, is made for {v}, and the full bank holds {b}: it may not "
                "break at all",
                k=kind,
                v=(device.highest_voltage, "V"),
                b=(feed.full_emf, "V"),
            ),
        )
    if device.breaks is not None and not smallest <= rating <= largest:
        bound = {"at_most": largest} if rating > largest else {"at_least": smallest}
        show.figure(
            "fuse-made",
            f"Fuse, of the sizes of a {kind}",
            rating,
            "A",
            **bound,
            note=device.source,
            says=line(
                "the fuse, {k}, is made from {a} to {b}; {r} is not among them",
                k=kind,
                a=(smallest, "A"),
                b=(largest, "A"),
                r=(rating, "A"),
            ),
        )
    if breaks:
        short = shorted(feed, breaks)
        by = "as printed on it" if q.fuse_kind != PROPOSE and q.fuse_breaks else device.source
        show.figure(
            "fuse-breaking",
            "Fuse can break a short circuit of",
            breaks,
            "kA",
            at_least=feed.short_circuit,
            note=f"{kind}, {by}",
            digits=short.digits,
            says=line(
                "a short circuit drives {s}, and the fuse, {k}, breaks {b}",
                s=short,
                k=kind,
                b=(breaks, "kA"),
            ),
        )


def start_figure(show: Report, guard: Guard, rating: float, word: str, key: str) -> None:
    """Whether the fuse or breaker lets the start pass: surely, surely not, or nobody can tell.

    `key` is the field's name: a fuse in the motor's branch is another than that at the bank.
    """
    passes, by = guard.starts(rating), start_source(guard, rating)
    told = {"r": (rating, "A"), "i": (guard.start, "A"), "t": (guard.start_time, "s")}
    if passes == "maybe":
        show.unknown(
            "no standard settles whether the {d} of {r} lets the start pass, {i} for {t}: read on "
            "its maker's curve how long it carries that, and fill in its size and that time",
            d=word,
            **told,
        )
        return
    surely = passes == "yes"
    time = guard.carried(rating) if surely else guard.opens_within(rating)
    if surely and guard.start <= rating:
        return  # it never notices
    what = word[0].upper() + word[1:]
    show.figure(
        f"{key}-start",
        f"{what} carries the start for" + (", surely" if surely else ", at the most"),
        time,
        "s",
        at_least=guard.start_time,
        note=by,
        says=line(
            "the " + word + " of {r} carries the start, {i}, for {c}; it lasts {t}",
            c=(time, "s"),
            **told,
        ),
    )


def start_source(guard: Guard, rating: float) -> str:
    """Where the time comes from that a fuse or breaker carries the start."""
    if guard.read_at(rating):
        return "as you read it on its curve"
    (kind,) = guard.devices
    if kind in protection.AT_ONCE:
        return "IEC 60898-1, warm from the run before"
    return protection.MELT_SOURCES[kind]


def breaker_figures(show: Report, branch: Branch, side: Side) -> None:
    rating = side.rating
    if rating is None:
        no_guard(show, side, side.device)
        return
    device = side.device[0].upper() + side.device[1:]
    show.figure(
        "breaker",
        f"{device} of the motor's branch",
        rating,
        "A",
        at_least=branch.conductor,
        safe_limit=True,
        says=passes_too_little(side, side.device, rating)
        if side.duty.guard.too_small
        else line(
            "the " + side.device + " is {r}; running for hours asks for {w}",
            r=(rating, "A"),
            w=least(branch.conductor, "A"),
        ),
    )
    start_figure(show, side.duty.guard, rating, side.device, "breaker")
    us = side.duty.guard.rules == "us"
    show.figure(
        "breaker-motor",
        f"{device}, as the motor's protection",
        rating,
        "A",
        at_most=branch.ceiling,
        safe_limit=True,
        note="NEC Table 430.52" if us else "4 times its current, borrowed from NEC 430.52",
        says=line(
            "the " + side.device + " is {r}; NEC 430.52 allows {m}",
            r=(rating, "A"),
            m=most(branch.ceiling, "A"),
        )
        if us
        else line(
            "the " + side.device + " is {r}, {n} the motor's {i}, and protects the cable "
            "alone; {m} is the most here",
            r=(rating, "A"),
            n=(rating / branch.basis, "×"),
            i=(branch.basis, "A"),
            m=most(branch.ceiling, "A"),
        ),
    )
    show.figure(
        "breaker-cable",
        f"{device}, as the cable's protection",
        rating,
        "A",
        at_most=side.limit,
        safe_limit=True,
        says=line(
            "the " + side.device + " is {r}; the cable may have {m} at most",
            r=(rating, "A"),
            m=most(side.limit, "A"),
        ),
    )


def overload_figures(q: Values, show: Report, load: Load) -> None:
    """The overload relay: an IEC one is set to the plate's current, a US one may stand higher."""
    span = overload_span(q, load)
    if q.overload is None:
        set_to = most(span.high, "A", OVERLOAD_STEP).value
        show.figure(
            "overload",
            "Set an overload relay to" + ("" if span.iec else " no more than"),
            set_to,
            "A",
            note=span.by,
        )
        return
    # a setting is right or wrong: it has no margin to keep from its mark
    show.figure(
        "overload",
        "Overload relay set to",
        q.overload,
        "A",
        at_most=span.high,
        safe_limit=True,
        decides=q.overload > span.high * (1 + 1e-9),
        note=span.by,
        says=line(
            "the overload relay is set to {o}; {m} is the most, by " + span.by,
            o=(q.overload, "A"),
            m=most(span.high, "A"),
        ),
    )
    show.figure(
        "overload-runs",
        "Overload relay, for the pump to run on it",
        q.overload,
        "A",
        at_least=span.runs,
        safe_limit=True,
        decides=not span.iec or q.overload < span.runs,
        says=line(
            "the overload relay is set to {o}, and the motor draws {i}: it opens while the "
            "pump works",
            o=(q.overload, "A"),
            i=least(span.runs, "A"),
        ),
    )
