"""The wiring against its limits: cables and start, as figures."""

from __future__ import annotations

from ...frame.report import FAILS, FITS, TIGHT, Line, Report, amount, least, line, most
from ...system import motor_side
from ...system.bank_side import Feed
from ...system.cables import Side, why_none
from ...system.guards import TENTH
from ...system.laid import Layout
from ...system.on_generator import GREATEST_DIP
from .._wires import CABLES
from . import guarded


def state(spare: float) -> str:
    """The verdict on a share of a limit that is left over."""
    if spare < -1e-9:
        return FAILS
    return TIGHT if spare < TENTH - 1e-9 else FITS


def at_a_glance(layout: Layout, show: Report) -> None:
    """The figures that come first, on a card above all: cable, fuse and breaker."""
    if layout.bank is not None:
        _copper(layout.bank, show)
        guarded.fuse(layout.bank, show)
    guarded.breaker(layout, show)


def bank(layout: Layout, feed: Feed, side: Side, show: Report) -> None:
    """Cable and fuse between the bank and the inverter."""
    if not side.found and not side.duty.hopeless:
        no_cable(side, show)
    if not feed.delivers:
        show.fail(
            "bank-power",
            "the bank cannot give the power that is asked of it at its lowest charge: "
            "no cable mends that",
        )
    elif not feed.suffices:
        show.fail(
            "bank-sags",
            "at the start the bank itself sags to {v}, and the inverter switches off at {c}: no "
            "cable mends that",
            v=(feed.start_volts, "V"),
            c=(feed.cut_off, "V"),
        )
    _cable(side, show)
    left = side.duty.left_at_start(side.cable.size, side.cable.parallel, side.duty.run)
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
    guarded.fuse_at_its_place(layout, feed, side, show)


def motor(layout: Layout, show: Report) -> None:
    """Cable, breaker and overload between the inverter or panel and the motor."""
    side, wired, water = layout.motor, layout.wired, layout.water
    if not side.found:
        no_cable(side, show)
    _copper(side, show)
    _cable(side, show)
    _terminals(layout, show)
    show.figure(
        "torque",
        "Torque the motor keeps at the start",
        motor_side.kept_at_start(wired, water, side.duty, side.cable.size, side.duty.run),
        "%",
        digits=2,
        note=_torque_note(layout),
    )
    guarded.breaker_at_its_place(layout, show)
    guarded.overload(layout, show)


def no_cable(side: Side, show: Report) -> None:
    """Says what would help where not even the thickest cable, which `side` has, does."""
    duty, why = side.duty, why_none(side)
    if why == "fuse":
        show.fail(
            "no-cable-fuse",
            "no battery cable made may have a fuse that passes {w}, at most {m} for each alone: "
            "raise the voltage, ask less of it, or have each cable fused by itself, which is not "
            "reckoned here",
            w=least(duty.guard.least, "A"),
            m=most(side.limit, "A"),
        )
    elif why == "supply":
        show.fail(
            "no-cable-supply",
            "the supply is {o} below the volts on the motor's plate, and {b} is all that a motor "
            "must bear: no cable may lose anything, however short; more volts from the supply help",
            o=(duty.off, "V"),
            b=(duty.band, "V"),
        )
    elif why == "run":
        show.fail(
            "no-cable-run",
            "no battery cable made does over {run}: shorten the run, raise the bank's voltage, "
            "allow more drop, or ask less of it"
            if duty.key == "dc"
            else "no cable to the motor made does over {run}: shorten the run, allow more drop, or "
            "ask less of it",
            run=(duty.run, "m"),
        )
    elif why == "ampacity":
        show.fail(
            "no-cable-ampacity",
            "no battery cable made may carry {w} where it lies, however short: raise the bank's "
            "voltage, or ask less of it"
            if duty.key == "dc"
            else "no cable to the motor made may carry {w} where it lies, however short: lead it "
            "alone, where it is cooler, or ask less of it",
            w=least(duty.wanted, "A"),
        )


# ---- a cable ----

_COPPER = {
    "dc": "Battery cable, copper of each wire",
    "ac": "Cable to the motor, copper of each wire",
}
_CARRIES = {"dc": "Battery cable may carry", "ac": "Cable to the motor may carry"}
_LOSES = {
    ("dc", False): "Battery cable loses, running",
    ("dc", True): "Battery cable loses, at the start",
    ("ac", False): "Cable to the motor loses, running",
    ("ac", True): "Cable to the motor loses, at the start",
}
_HEAT = {"dc": "Heat from the battery cable", "ac": "Heat from the cable to the motor"}


def _copper(side: Side, show: Report) -> None:
    show.figure(
        f"{side.duty.key}-copper",
        _COPPER[side.duty.key],
        side.cable.parallel * side.cable.size.area,
        "mm2",
        note=line("{size}", size=side.cable.name),
    )


def column_note(side: Side) -> Line:
    """Cable and column of the ampacity table, and whether that was seen in a source."""
    return line(
        "{size}; {t} insulation"
        if side.duty.column_seen
        else "{size}; {t} insulation, column from memory",
        size=side.cable.name,
        t=(side.duty.celsius + 273.15, "°C"),
    )


def _cable(side: Side, show: Report) -> None:
    """Ampacity, drops and heat of a side's cable."""
    duty, cable = side.duty, side.cable
    size, parallel = cable.size, cable.parallel
    key, name = duty.key, CABLES[duty.key]
    if duty.too_thin(size, parallel):
        show.fail(
            "parallel-thin",
            "{s} is too thin to be laid in parallel: 50 mm² or AWG 1/0 is the least "
            "(NEC 310.10(G), from memory)",
            s=size.name,
        )
    show.figure(
        f"{key}-ampacity",
        _CARRIES[key],
        side.carries,
        "A",
        at_least=duty.wanted,
        says=line(
            "the {c}, {size}, may carry {a}; {w} are asked of it",
            c=name,
            size=cable.name,
            a=(side.carries, "A"),
            w=least(duty.wanted, "A"),
        ),
        note=column_note(side),
    )
    for start, what, bound in ((False, "drop", duty.drop), (True, "start-drop", duty.start_drop)):
        lost = duty.lost(size, parallel, start) * duty.run
        few = guarded.digits(lost, bound)
        told = amount(lost / duty.voltage, "%", few)
        show.figure(
            f"{key}-{what}",
            _LOSES[key, start],
            told.value,
            "%",
            at_most=bound / duty.voltage,
            digits=few,
            note=line("at {i}", i=(duty.start if start else duty.current, "A")),
            says=line(
                "the {c} loses {l} of the volts, at the start; {d} is allowed"
                if start
                else "the {c} loses {l} of the volts, running; {d} is allowed",
                c=name,
                l=told,
                d=(bound / duty.voltage, "%"),
            ),
        )
    show.figure(
        f"{key}-heat",
        _HEAT[key],
        duty.heat(size, parallel) * duty.run,
        "W",
        note="over the whole run, both wires",
        digits=2,
    )


def _terminals(layout: Layout, show: Report) -> None:
    """The motor's volts behind its cable, against what a motor has to bear."""
    found = motor_side.at_the_terminals(layout.wired, layout.water, layout.motor)
    if found is None:
        return
    left, held = found
    show.held(
        "ac-terminals",
        "At the motor's terminals, below its plate's volts, hertz off added",
        held,
        "%",
        note="the supply's own volts and the cable's loss together",
        says=line(
            "the motor's terminals get {v} of the {p} on its plate: {b} off, hertz added, "
            "and {m} is what a motor must bear",
            v=(left, "V"),
            p=(layout.water.load.motor.voltage, "V"),
            b=(held.value, "%"),
            m=(held.limit, "%"),
        ),
    )


_TORQUE_NOTES = {
    ("inverter", False): "of what it gives at the volts on its plate; the inverter is taken to "
    "hold its volts",
    ("inverter", True): "of what it gives at the volts on its plate; the inverter is taken to "
    "hold its volts, and the soft starter its current",
    ("generator", False): "of what it gives at the volts on its plate; the generator dips as on "
    "the page Power",
    ("generator", True): "of what it gives at the volts on its plate; the generator dips as on "
    "the page Power, and the soft starter its current",
    ("supply", False): "of what it gives at the volts on its plate; the supply is taken to hold "
    "its volts",
    ("supply", True): "of what it gives at the volts on its plate; the supply is taken to hold "
    "its volts, and the soft starter its current",
}


def _torque_note(layout: Layout) -> str:
    wired = layout.wired
    source = "inverter" if wired.inverter else "generator" if wired.by_generator else "supply"
    return _TORQUE_NOTES[source, layout.water.softness is not None]


# ---- the start ----


def on_a_generator(layout: Layout, show: Report) -> None:
    """The start on the generator, its dip and the cable's loss in one circuit.

    It decides only where the generator feeds the motor through this cable and no inverter does.
    """
    wired, water = layout.wired, layout.water
    made = wired.generator
    if made is None or not wired.mains.suits(made.mains):
        return
    begun = motor_side.on_the_generator(wired, made, water, layout.motor)
    torque = water.start_torque(begun.voltage / water.load.motor.voltage)
    sure = torque >= 1 or water.torque_known  # else the start has asked for the kind
    if not made.electronic:
        show.figure(
            "generator-dip",
            "On the generator, its voltage dips at the start by",
            begun.source_dip,
            "%",
            at_most=GREATEST_DIP,
            decides=wired.by_generator,
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
        decides=wired.by_generator and sure,
        note="its dip and the cable's loss together"
        if water.torque_known
        else "its dip and the cable's loss together, as of the weakest kind of motor",
        says=line(
            "on the generator, behind this cable, the motor gives {t} of the torque that "
            "turns the pump",
            t=(torque, "%"),
        ),
    )


def turning_figure(turning: motor_side.Turning, show: Report) -> None:
    """The torque at the start on a supply that holds its volts; on a generator it is another."""
    show.figure(
        "start-torque",
        "Starting torque, of what turns the pump",
        turning.here,
        "%",
        at_least=1.0,
        decides=not turning.unsure,
        note="behind this cable"
        if turning.known
        else "behind this cable, as of the weakest kind of motor",
        says=line(
            "behind this cable the motor gives {t} of the torque that turns the pump",
            t=(turning.here, "%"),
        ),
    )
