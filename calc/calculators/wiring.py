"""What cable, what fuse and what breaker between my batteries and the pump's motor?"""

from __future__ import annotations

import math
from dataclasses import replace

from .. import units
from ..boat import BoatSheet as boat
from ..cautions import PARALLEL
from ..inputs import Inputs, Refusal, Values, ask, but, choice, is_one_of, is_set, whole, yes_no
from ..models.cables import Cable, Duty, Side, column_words, fitting, thickest
from ..models.feed import Feed, feed_of
from ..models.guards import (
    BRANCH_DEVICES,
    FUSES,
    PROPOSE,
    Branch,
    breaker_guard,
    breaker_word,
    fuse_guard,
    fuse_kind,
    motor_branch,
)
from ..models.load import Load, connected_voltage, rated_current, settled
from ..models.motor_fit import motor_fit
from ..models.one_line import one_line
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
from ..physics import conductors, protection
from ..report import Amount, Line, Report, amount, least, line, most

TITLE = "Wiring"
DC, MAINS, ALLOWED = "Battery cable and fuse", "Motor branch", "What may be lost on the way"
PRACTICE = "common practice, no source"
SIZES = {size.name: size.name for size in (*conductors.GAUGES, *conductors.METRIC)}
HEAVY = {name: name for name in SIZES if conductors.conductor(name).area > 3.9e-6}
LIGHT = {name: name for name in SIZES if conductors.conductor(name).area > 1.4e-6}
INSULATION = {f"{t}": f"{t} °C ({t * 9 // 5 + 32} °F)" for t in (60, 75, 80, 90, 105, 125, 200)}
LEAST_DC_AREA, LEAST_AC_AREA = 3.9e-6, 1.45e-6  # m²; AWG 10 or 4 mm², AWG 14 or 1.5 mm²
AT_A_GLANCE = ("dc-copper", "fuse", "breaker")  # figures that come first, on a card above all


class Asks(Inputs):
    unit = boat.unit
    wiring_rules = but(boat.wiring_rules, open=True)
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
        "Cable and fuse are for", {
            "inverter": "all that the inverter can give", "pump": "the pump alone",
        }, group=DC, when=is_set("has_inverter"),
        help="Somebody will switch a kettle on: size for the inverter unless nothing else hangs "
        "on it.",
    )  # fmt: skip
    dc_pairs = whole(
        "Cables in parallel on each pole", "1", at_least=1, at_most=4, group=DC,
        when=is_one_of("dc_size", *HEAVY),
        help="All of the same make, size and length, joined at both ends, behind one fuse.",
    )  # fmt: skip
    dc_insulation = choice(
        "Insulation stands", INSULATION, "105", group=DC, when=is_set("has_inverter"),
        help="As printed on the cable. If you can't read it, take 60 °C, the weakest.",
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
    branch_device = choice("The branch is protected by", BRANCH_DEVICES, group=MAINS,
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
    branch = motor_branch(q, load, rush)
    sides.append(motor_side(q, show, water, branch))
    starts = motor_starts(q, show, water, sides[-1])
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
    parts = motor_parts(q, sides[-1], starts)
    if feed is not None:
        parts = battery_parts(q, feed, sides[0], fault) + parts
    elif q.has_inverter:
        parts.insert(0, inverter_part(q, fault))
    show.drawing(one_line("one-line", "From source to motor in one line, dashed the earth", parts))
    notes(q, show, sides, feed, branch)
    if sides[0].cable.parallel > 1:
        show.fact(PARALLEL)


def sized_all_the_same(q: Values, show: Report, sides: list[Side]) -> None:
    """What the cables are sized for where the inverter can't give it."""
    duty = sides[0].duty
    show.headline(
        "These are sized for the pump all the same, {a} from the bank running and {b} at its "
        "start, as if the inverter gave it."
        + (" Another inverter may ask for another battery cable and fuse."
           if q.dc_load == "inverter" else ""),
        a=(duty.current, "A"), b=(duty.start, "A"),
    )  # fmt: skip


def headline(q: Values, show: Report, sides: list[Side], feed: Feed | None) -> None:
    """What to fit, in one sentence each side; never a fuse that the cable may not have."""
    motor = sides[-1]
    start = "{ac} from the " + ("inverter" if q.has_inverter else "panel") + " to the motor"
    if feed is not None:
        bank_words(show, sides[0], feed)
    if motor.rating is None:
        show.headline(
            start + " is not enough: no {device} both protects it and lets the motor run and "
            "start.", ac=motor.cable.name, device=motor.device,
        )  # fmt: skip
    elif motor.duty.guard.too_small or motor.duty.guard.too_large:
        show.headline(
            start + "; its {device}, {breaker}, is too "
            + ("small." if motor.duty.guard.too_small else "large for this motor."),
            ac=motor.cable.name, device=motor.device, breaker=(motor.rating, "A"),
        )  # fmt: skip
    else:
        show.headline(start + ", its {device} rated {breaker}.", ac=motor.cable.name,
                      device=motor.device, breaker=(motor.rating, "A"))  # fmt: skip


def bank_words(show: Report, bank: Side, feed: Feed) -> None:
    asked = bank.duty.guard.least
    breaks = protection.DEVICES[bank.device].interrupts(feed.full_emf)
    if bank.rating is not None and breaks < feed.short_circuit:
        show.headline(
            "{dc} from the bank to the inverter and a fuse of {fuse}; but {kind} breaks {b} at the "
            "bank's volts, and a short circuit drives {s}.",
            dc=bank.cable.name, fuse=(bank.rating, "A"), kind=FUSES[bank.device],
            b=(breaks, "kA"), s=shorted(feed, breaks),
        )  # fmt: skip
    elif bank.rating is not None and bank.duty.guard.too_small:
        show.headline(
            "{dc} from the bank to the inverter; its fuse, {fuse}, is too small.",
            dc=bank.cable.name, fuse=(bank.rating, "A"),
        )  # fmt: skip
    elif bank.rating is not None:
        show.headline(
            "{dc} from the bank to the inverter, fused at {fuse} ({kind}).",
            dc=bank.cable.name, fuse=(bank.rating, "A"), kind=FUSES[bank.device],
        )  # fmt: skip
    elif bank.limit < asked:
        show.headline(
            "{dc} is too thin between bank and inverter: no fuse both protects it, at most {most}, "
            "and passes the {least} that it has to carry.",
            dc=bank.cable.name, most=most(bank.limit, "A"), least=least(asked, "A"),
        )  # fmt: skip
    else:
        show.headline(
            "There is no fuse for {dc} between bank and inverter: none is made from the {least} "
            "that it has to pass to the {most} that the cable may have.",
            dc=bank.cable.name, most=most(bank.limit, "A"), least=least(asked, "A"),
        )  # fmt: skip


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
        "dc", "battery cable", q.dc_run, running, feed.start, wanted, fuse_guard(q, wanted),
        q.bank_voltage, q.dc_drop * q.bank_voltage, q.dc_start_drop * q.bank_voltage,
        insulation(q, "dc"), q.dc_engine_space, 2, LEAST_DC_AREA, 3,
        start_volts=feed.start_volts, cut_off=feed.cut_off, hopeless=not feed.suffices,
    )  # fmt: skip


def battery_side(q: Values, show: Report, feed: Feed) -> Side:
    """Judges cable and fuse between the bank and the inverter."""
    duty = battery_duty(q, feed)
    cable, found = chosen(duty, q.dc_size, q.dc_pairs, FAMILY[q.wiring_rules])
    side = Side(duty, cable, "")
    if q.fuse and q.fuse > side.limit * (1 + 1e-9):
        raise Refusal("fuse", oversized(q.fuse, "fuse", cable, side.limit))
    kind = fuse_kind(q, side.rating or duty.guard.least, feed.full_emf, feed.short_circuit)
    side = replace(side, device=kind)
    if not found:
        no_cable(show, side)
    if not feed.delivers:
        show.fail("the bank cannot give the power that is asked of it at its lowest charge: "
                  "no cable mends that")  # fmt: skip
    elif not feed.suffices:
        show.fail(
            "at the start the bank itself sags to {v}, and the inverter switches off at {c}: no "
            "cable mends that", v=(feed.start_volts, "V"), c=(feed.cut_off, "V"),
        )  # fmt: skip
    battery_steps(q, show, feed, side)
    cable_figures(show, side)
    left = duty.left_at_start(cable.size, cable.parallel, duty.run)
    show.figure(
        "dc-start-volts", "Volts left at the inverter at the start", left, "V",
        at_least=feed.cut_off,
        says=line("at the start the inverter is left with {v} and switches off at {c}",
                  v=(left, "V"), c=(feed.cut_off, "V")),
    )  # fmt: skip
    fuse_figures(q, show, side, feed)
    return side


def motor_side(q: Values, show: Report, water: Water, branch: Branch) -> Side:
    """Judges cable, breaker and overload between the inverter or panel and the motor."""
    load, rush = water.load, water.rush
    duty = Duty(
        "ac", "cable to the motor", q.ac_run, load.at_work.current, rush.current,
        branch.conductor, breaker_guard(q, branch), q.ac_voltage, q.ac_drop * q.ac_voltage,
        q.ac_start_drop * q.ac_voltage, insulation(q, "ac"), q.ac_engine_space, q.ac_bundled,
        LEAST_AC_AREA, 1, load.at_work.power_factor, rush.power_factor, q.ac_frequency,
    )  # fmt: skip
    cable, found = chosen(duty, q.ac_size, 1, FAMILY[q.wiring_rules])
    side = Side(duty, cable, breaker_word(q))
    if q.breaker and q.breaker > side.limit * (1 + 1e-9):
        raise Refusal("breaker", oversized(q.breaker, "breaker", cable, side.limit))
    if not found:
        no_cable(show, side)
    motor_steps(q, show, load, rush, branch, side)
    cable_figures(show, side)
    show.figure(
        "torque", "Torque the motor keeps at the start",
        kept_at_start(q, water, duty, cable.size, q.ac_run), "%", digits=2,
        note="of what it gives at the volts on its plate; the inverter is taken to hold its own"
        + ("" if water.softness is None else ", and the soft starter its current"),
    )  # fmt: skip
    breaker_figures(show, branch, side)
    overload_figures(q, show, load)
    return side


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
            "reckoned here", w=least(duty.guard.least, "A"), m=most(side.limit, "A"),
        )  # fmt: skip
        return
    show.fail(
        "no " + duty.name + " made does over {run}: shorten the run, raise the voltage, allow "
        "more drop, or ask less of it",
        run=(duty.run, "m"),
    )  # fmt: skip


# ---- figures ----


def cable_figures(show: Report, side: Side) -> None:
    duty, cable = side.duty, side.cable
    size, parallel = cable.size, cable.parallel
    name = "Battery cable" if duty.key == "dc" else "Cable to the motor"
    key, carries = duty.key, side.carries
    show.figure(f"{key}-copper", f"{name}, copper of each wire", parallel * size.area, "mm2",
                note=cable.name)  # fmt: skip
    if duty.too_thin(size, parallel):
        show.fail("{s} is too thin to be laid in parallel: 50 mm² or AWG 1/0 is the least "
                  "(NEC 310.10(G), from memory)", s=size.name)  # fmt: skip
    show.figure(
        f"{key}-ampacity", f"{name} may carry", carries, "A", at_least=duty.wanted,
        says=line("the " + duty.name + ", {size}, may carry {a}; {w} are asked of it",
                  size=cable.name, a=(carries, "A"), w=least(duty.wanted, "A")),
        note=f"{cable.name}; {column_words(duty)}",
    )  # fmt: skip
    for what, words, start, bound in (
        ("drop", "running", False, duty.drop),
        ("start-drop", "at the start", True, duty.start_drop),
    ):
        lost = duty.lost(size, parallel, start) * duty.run
        few = digits(lost, bound)
        told = amount(lost / duty.voltage, "%", few)
        show.figure(
            f"{key}-{what}", f"{name} loses, {words}", told.value, "%",
            at_most=bound / duty.voltage, digits=few,
            note=f"at {units.text(duty.start if start else duty.current, 'A')}",
            says=line("the " + duty.name + " loses {l} of the volts, " + words + "; {d} is allowed",
                      l=told, d=(bound / duty.voltage, "%")),
        )  # fmt: skip
    show.figure(f"{key}-heat", f"Heat from the {duty.name}", duty.heat(size, parallel) * duty.run,
                "W", note="over the whole run, both wires", digits=2)  # fmt: skip


def no_guard(show: Report, side: Side, word: str) -> None:
    """Says why nothing both protects a cable and passes what it has to."""
    guard = side.duty.guard
    allowed = guard.most(side.alone)
    told = (
        "the " + side.duty.name + ", {s}, may have a " + word + " of {m} at most, and {w} must "
        "pass it" if allowed < guard.least
        else "no " + word + " is made from the {w} that must pass it to the {m} that the "
        + side.duty.name + ", {s}, may have"
    )  # fmt: skip
    show.fail(told, s=side.cable.name, m=most(allowed, "A"), w=least(guard.least, "A"))


def passes_too_little(side: Side, word: str, rating: float) -> Line:
    """Why a stated fuse or breaker will not do, and from which size on one does."""
    guard = side.duty.guard
    span = guard.span(side.alone)
    return line(
        "the " + word + " is {f}, smaller than the {w} that must pass it"
        + ("; {r} or more does" if span else ""),
        f=(rating, "A"), w=least(guard.least, "A"), r=(span[0] if span else guard.least, "A"),
    )  # fmt: skip


def fuse_figures(q: Values, show: Report, side: Side, feed: Feed) -> None:
    """The fuse against what must pass it, its cable, the short circuit, the volts, its place."""
    rating = side.rating
    if rating is None:
        no_guard(show, side, "fuse")
    else:
        asked = side.duty.guard.least
        show.figure(
            "fuse", "Fuse", rating, "A", at_least=asked, safe_limit=True,
            says=passes_too_little(side, "fuse", rating) if side.duty.guard.too_small
            else line("the fuse is {f}, and {w} must pass it", f=(rating, "A"),
                      w=least(asked, "A")),
        )  # fmt: skip
        show.figure(
            "fuse-cable", "Fuse, as the cable's protection", rating, "A", at_most=side.limit,
            safe_limit=True, note="of a single one of them" if side.cable.parallel > 1 else "",
            says=line("the fuse is {f}, and the cable may have {m} at most",
                      f=(rating, "A"), m=most(side.limit, "A")),
        )  # fmt: skip
        kind_figures(show, side, rating, feed)
    distance = protection.fuse_distance(q.fuse_sheathed)
    show.figure(
        "fuse-distance", "Fuse from the battery", q.fuse_distance, "mm", at_most=distance,
        safe_limit=True,
        says=line("the fuse sits {d} from the battery; {m} is the most",
                  d=(q.fuse_distance, "mm"), m=most(distance, "mm")),
    )  # fmt: skip


def kind_figures(show: Report, side: Side, rating: float, feed: Feed) -> None:
    """Whether the kind of fuse is made for this voltage and rating and breaks the short circuit."""
    device, kind = protection.DEVICES[side.device], FUSES[side.device]
    breaks = device.interrupts(feed.full_emf)
    smallest, largest = device.ratings[0], device.ratings[-1]
    if not breaks:
        show.figure(
            "fuse-volts", f"Fuse ({kind}) is made for", device.highest_voltage, "V",
            at_least=feed.full_emf, note="from memory",
            says=line("the fuse, {k}, is made for {v}, and the full bank holds {b}: it may not "
                      "break at all", k=kind, v=(device.highest_voltage, "V"),
                      b=(feed.full_emf, "V")),
        )  # fmt: skip
    if not smallest <= rating <= largest:
        bound = {"at_most": largest} if rating > largest else {"at_least": smallest}
        show.figure(
            "fuse-made", f"Fuse, of the sizes that {kind} is made in", rating, "A", **bound,
            note="from memory",
            says=line("the fuse, {k}, is made from {a} to {b}; {r} is not among them", k=kind,
                      a=(smallest, "A"), b=(largest, "A"), r=(rating, "A")),
        )  # fmt: skip
    if breaks:
        short = shorted(feed, breaks)
        show.figure(
            "fuse-breaking", "Fuse can break a short circuit of", breaks, "kA",
            at_least=feed.short_circuit, note=f"{kind}, {device.standing}", digits=short.digits,
            says=line("a short circuit drives {s}, and the fuse, {k}, breaks {b}", s=short,
                      k=kind, b=(breaks, "kA")),
        )  # fmt: skip


def breaker_figures(show: Report, branch: Branch, side: Side) -> None:
    rating = side.rating
    if rating is None:
        no_guard(show, side, side.device)
        return
    device = side.device[0].upper() + side.device[1:]
    show.figure(
        "breaker", f"{device} of the motor's branch", rating, "A", at_least=branch.least,
        safe_limit=True,
        says=passes_too_little(side, side.device, rating) if side.duty.guard.too_small
        else line("the " + side.device + " is {r}; running and starting ask for {w}",
                  r=(rating, "A"), w=least(branch.least, "A")),
    )  # fmt: skip
    us = side.duty.guard.rules == "us"
    show.figure(
        "breaker-motor", f"{device}, as the motor's protection", rating, "A",
        at_most=branch.ceiling, safe_limit=True,
        note="NEC Table 430.52" if us else "4 times its current, borrowed from NEC 430.52",
        says=line("the " + side.device + " is {r}; NEC 430.52 allows {m}", r=(rating, "A"),
                  m=most(branch.ceiling, "A")) if us
        else line("the " + side.device + " is {r}, {n} the motor's {i}, and protects the cable "
                  "alone; {m} is the most here", r=(rating, "A"), n=(rating / branch.basis, "×"),
                  i=(branch.basis, "A"), m=most(branch.ceiling, "A")),
    )  # fmt: skip
    show.figure(
        "breaker-cable", f"{device}, as the cable's protection", rating, "A", at_most=side.limit,
        safe_limit=True,
        says=line("the " + side.device + " is {r}; the cable may have {m} at most",
                  r=(rating, "A"), m=most(side.limit, "A")),
    )  # fmt: skip


def overload_figures(q: Values, show: Report, load: Load) -> None:
    plate = rated_current(q.unit.motor, q.ac_voltage)
    limit = protection.overload_current(plate, q.unit.motor.service_factor)
    if q.overload is None:
        set_to = most(limit, "A", OVERLOAD_STEP).value
        show.figure("overload", "Set an overload relay to no more than", set_to, "A",
                    note="by the current on the plate")  # fmt: skip
        return
    show.figure("overload", "Overload relay set to", q.overload, "A", at_most=limit,
                safe_limit=True)  # fmt: skip
    show.figure("overload-runs", "Overload relay, for the pump to run on it", q.overload, "A",
                at_least=load.at_work.current, safe_limit=True)  # fmt: skip
