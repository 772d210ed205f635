"""Pump and motor by themselves, whatever feeds them: judged for every page that hangs on them."""

from __future__ import annotations

from ..frame.report import FAILS, Line, Option, Report, line, most
from ..physics import motors, pumps
from ..system import motor
from ..system.held import Held
from ..system.motor import Machine, Water
from ..system.watermaking import feed_on

KNOWN_BY = {
    "soft": "the soft start's multiple of the rated current",
    "stated": "the stated locked-rotor current",
    "letter": "code letter {letter}, its upper end",
    "usual": "six times the rated current",
}


def judge(machine: Machine, water: Water | None) -> Option:
    """The machine on its mains as a part of an answer; no `water` where the motor may stall."""
    part = Option("motor", "Pump and motor")
    _pressure(part, machine)
    if water is None:
        _may_stall(part, machine)
        return part
    _work(part, machine, water)
    if motor.own_hertz(machine):
        off = motor.off_the_plate(machine)
        part.held(
            "voltage",
            "Volts and hertz, off the nameplate's, added",
            off,
            "%",
            says=line(
                "the mains are {d} off the nameplate's volts and hertz, added; {m} is what a motor "
                "must bear",
                d=(off.value, "%"),
                m=(off.limit, "%"),
            ),
        )
    else:
        _foreign_hertz(part, machine, water)
    _soft_start(part, machine)
    return part


def sound(part: Option) -> bool:
    """Whether nothing stands against the motor running so."""
    failing = any(f.state == FAILS for f in part.figures)
    return not (failing or part.unknowns or part.failures)


def tell_elsewhere(show: Report, part: Option, water: Water | None, lost: str) -> None:
    """What stands against pump and motor, on a page that only hangs on them.

    `lost` is the whole sentence that says what can't be told where nobody can reckon the motor.
    """
    if sound(part):
        return
    show.take(part, failing=True)
    if water is None or water.overfluxed:
        if water is not None:
            show.unknown(
                "saturated", "nobody can tell what the motor draws with its iron saturated"
            )
        show.headline(lost)
    elif not (part.failures or part.unknowns) and all(
        f.key in ("pressure", "relief") for f in part.figures if f.state == FAILS
    ):
        show.headline(
            "The pressure is not right for what stands under it: see the figures. Settle that "
            "first, on the page Pressure; what follows holds only if it ran so."
        )
    elif any(f.state == FAILS for f in part.figures) or part.failures:
        show.headline(
            "Pump and motor are not right for this: see their figures. Settle that first, on the "
            "page Power; what follows holds only if they ran so."
        )
    else:
        show.headline(
            "Nobody can tell yet whether pump and motor are right for this. Settle that first, on "
            "the page Power; what follows holds only if they ran so."
        )


def starting_current(machine: Machine, water: Water) -> Line:
    """How the current at the start was come by, as a note."""
    words = KNOWN_BY[water.rush.known_by]
    return line(words, letter=machine.start.letter) if "{" in words else line(words)


# What stands under the pressure, by its key.
PARTS = {
    "pump": "pump",
    "hose": "high-pressure hose",
    "fittings": "weakest fitting",
    "vessel": "pressure tube",
    "membranes": "membrane",
}


def _pressure(part: Option, machine: Machine) -> None:
    held = motor.pressure(machine)
    works(part, held, machine.pump.weakest.key)
    opens = motor.relief(machine)
    if opens is not None and not opens.holds:
        relief(part, opens)
    elif held.holds:
        return
    elif machine.pump.weakest.key in ("pump", "membranes"):
        part.remedy(
            "Open the regulating valve further, until the gauge shows {m} or less. The relief "
            "valve must open below that too; only its maker or a licensed workshop sets it.",
            m=most(held.limit, "bar"),
            sets={"pressure": most(held.limit, "bar")},
            mends="pressure",
        )
        return
    part.remedy(
        "Don't run it so: settle first, on the page Pressure, which part bears least and where the "
        "relief valve opens."
    )


def works(show: Report | Option, held: Held, weakest: str) -> None:
    """The working pressure against the weakest part, by its key."""
    part = PARTS[weakest]
    show.held(
        "pressure",
        "Working pressure",
        held,
        "bar",
        says=line(
            "the working pressure is {p}; the {w} bears {m} at most",
            p=(held.value, "bar"),
            w=part,
            m=(held.limit, "bar"),
        ),
        note=line("the limit is the {w}'s", w=part),
    )


def relief(show: Report | Option, opens: Held) -> None:
    """Where the relief valve opens, against the working pressure."""
    show.held(
        "relief",
        "Relief valve opens at",
        opens,
        "bar",
        says=line(
            "the relief valve opens at {v}, and the working pressure is {p}",
            v=(opens.value, "bar"),
            p=(opens.limit, "bar"),
        ),
        note="held against the working pressure",
    )


def _shaft(part: Option, machine: Machine, power: float) -> None:
    held = motor.shaft(machine, power)
    part.held(
        "shaft",
        "Shaft power",
        held,
        "W",
        says=line(
            "the pump takes {p} at the shaft; the motor may give {m}",
            p=(held.value, "W"),
            m=(held.limit, "W"),
        ),
        note="rating × service factor" if machine.plate.service_factor > 1 else "",
    )


def _work(part: Option, machine: Machine, water: Water) -> None:
    """The motor at work: shaft, current, what it draws where its iron isn't full, its iron."""
    work = water.load.at_work
    _shaft(part, machine, work.shaft_power)
    if water.overfluxed:
        _flux(part, work.flux)
        return
    held = motor.current(machine, water.load)
    part.held(
        "current",
        "Motor's current",
        held,
        "A",
        says=line(
            "the motor draws {i}; its plate allows {m}", i=(held.value, "A"), m=(held.limit, "A")
        ),
    )
    part.figure("input", "Motor draws", work.input_power, "W")
    part.figure("apparent", "Motor's apparent power", work.apparent_power, "VA")
    _flux(part, work.flux)


def _flux(part: Option, flux: float) -> None:
    """Volts per hertz, judged either way, from the flux over the rated flux."""
    off = abs(flux - 1)
    held = Held(off, motor.VOLTS_BAND)
    label = "Volts per hertz, off the nameplate's"
    words = "the volts for each hertz are {d} off the nameplate's, {m} allowed"
    if flux > 1:
        label = "Volts per hertz, above the nameplate's"
        words = "the volts for each hertz are {d} above the nameplate's, {m} allowed"
        if off > held.limit:
            words = (
                "the volts for each hertz are {d} above the nameplate's: the iron is saturated and "
                "the motor overheats even without a load"
            )
    elif flux < 1:
        label = "Volts per hertz, below the nameplate's"
        words = "the volts for each hertz are {d} below the nameplate's, {m} allowed"
        if off > held.limit:
            words = (
                "the volts for each hertz are {d} below the nameplate's: the motor draws more "
                "current to make up for it, and may not start"
            )
    allowed = {"m": (held.limit, "%")} if "{m}" in words else {}
    part.held(
        "flux",
        label,
        held,
        "%",
        says=line(words, d=(off, "%"), **allowed),
        note="too many volts heat the iron, too few heat the windings",
    )


def _may_stall(part: Option, machine: Machine) -> None:
    """A load beyond what the motor is sure to hold: no watts and no litres can be told."""
    mains, plate = machine.mains, machine.plate
    made, power = plate.motor(mains.voltage), motor.shaft_power(machine)
    _shaft(part, machine, power)
    _flux(part, motor.flux(machine))
    rated = motors.sure_torque(made) / motors.SURE_TORQUE
    part.unknown(
        "may-stall",
        "at {v} and {f} nobody can tell whether the motor holds the pump or stalls: it needs "
        "{t} of its rated torque and is sure to hold {m}",
        v=(mains.voltage, "V"),
        f=(mains.frequency, "Hz"),
        t=(pumps.torque(power, plate.speed) / rated, "%"),
        m=(motors.sure_torque(made, mains.voltage, mains.frequency) / rated, "%"),
    )


def _foreign_hertz(part: Option, machine: Machine, water: Water) -> None:
    """What changes where the mains have another frequency than the motor was wound for."""
    mains, work = machine.mains, water.load
    made = work.motor
    part.unknown(
        "foreign-hertz",
        "the motor is wound for {r} and the mains give {f}: only its maker can allow that",
        r=(made.frequency, "Hz"),
        f=(mains.frequency, "Hz"),
    )
    part.figure("speed", "Speed on these mains", work.at_work.speed, "rpm")
    feed = feed_on(machine.pump.flow, made.frequency, mains.frequency)
    part.figure("feed", "Feed flow on these mains", feed, "L/min")
    part.remedy("A motor wound for {v} and {f}.", v=(mains.voltage, "V"), f=(mains.frequency, "Hz"))
    part.remedy(
        "An inverter or a generator of {v} and {f}, kept for this motor.",
        v=(made.voltage, "V"),
        f=(made.frequency, "Hz"),
    )
    right = made.voltage * mains.frequency / made.frequency
    if near := motor.mains_for_its_flux(machine):
        part.remedy(
            "Mains of {v} at {f}, as some places and transformers give them: the volts for each "
            "hertz are then within {d} of the plate's, and the motor may give {p} of its power at "
            "most. Whether it may run so, only its maker can say.",
            v=(near, "V"),
            f=(mains.frequency, "Hz"),
            d=(abs(near / right - 1), "%"),
            p=(min(1.0, mains.frequency / made.frequency), "%"),
        )


def _soft_start(part: Option, machine: Machine) -> None:
    """A soft starter on a motor whose start winding a switch cuts out, unless its maker allows it.

    While the voltage is held back the motor may not reach the speed at which the switch opens.
    """
    if not machine.switched_on_soft:
        return
    if machine.plate.kind == motor.UNKNOWN_KIND:
        part.unknown(
            "soft-start-kind",
            "ask the motor's maker whether it bears a soft starter: with a switch in its "
            "start winding it may not",
        )
    else:
        part.unknown(
            "soft-start-switch",
            "a switch in this motor cuts its start winding out at speed; on a soft "
            "starter the winding or its capacitor may stay in and burn: ask the motor's "
            "maker whether it bears one, and which",
        )
