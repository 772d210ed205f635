"""The wiring as pictures: what cables of other lengths and sizes do, and the one-line drawing."""

from __future__ import annotations

from dataclasses import replace

from ...frame.report import Axis, Chart, Line, Mark, Report, Series, amount, least, line, most
from ...physics import conductors
from ...physics.conductors import Conductor
from ...system import motor_side
from ...system.bank_side import Feed
from ...system.cables import Duty, Side, neighbours
from ...system.laid import Layout
from ...system.wired import Wired
from .._wires import FUSES, breaks_by_fuse
from .guarded import OVERLOAD_STEP, breaks_too_little
from .one_line import Part, one_line

CHEMISTRIES = {"flooded": "flooded", "agm": "AGM", "gel": "gel", "lifepo4": "LiFePO4"}


def _lengths(run: float, end: float) -> list[float]:
    """Lengths [m] for a chart: past this run, and past the end of the thinnest cable's reach."""
    far = max(1.5 * run, min(1.4 * end, 40 * run))
    return [i * far / 8 for i in range(9)]


def _curves(side: Side) -> list[Conductor]:
    """The cable's size, the next thinner, and the next thicker or the first that does."""
    near = neighbours(side.duty, side.cable, 1, 1)
    return near if len(near) <= 3 else [*near[:2], near[-1]]


def start_volts(side: Side, show: Report) -> None:
    """How long the battery cable may be before the inverter gives up at the start."""
    duty, parallel = side.duty, side.cable.parallel
    sizes = _curves(side)
    spare = max(0.0, duty.start_volts - duty.cut_off)
    points = _lengths(duty.run, spare / duty.lost(sizes[0], parallel, True))
    series = [
        Series(size.name, [(run, duty.left_at_start(size, parallel, run)) for run in points])
        for size in sizes
    ]
    show.chart(
        Chart(
            "dc-start",
            "Volts at the inverter as the pump starts, by the length of the battery cable",
            Axis("Battery to inverter, one way", "m", low=0),
            Axis("Volts at the inverter", "V"),
            series,
            limits=[Mark("the inverter switches off", duty.cut_off)],
            marks=[Mark("your run", duty.run)],
            summary="Each curve falls in a straight line from the loaded bank's volts; a thinner "
            "or longer cable meets the line where the inverter switches off.",
        )
    )


_TORQUE = {
    (True, True): "A soft starter holds its current and with it the torque, until so much is lost "
    "that it lets all through; from there each curve falls, sooner for a thinner cable. Below the "
    "line for it the motor cannot turn a pump that stands under pressure.",
    (True, False): "A soft starter holds its current and with it the torque, until so much is lost "
    "that it lets all through; from there each curve falls, sooner for a thinner cable. A pump "
    "that stands under pressure asks for more than any of it.",
    (False, True): "Torque goes with the square of the volts: each curve falls faster than the "
    "volts do, and sooner for a thinner cable. Below the line for it the motor cannot turn a pump "
    "that stands under pressure.",
    (False, False): "Torque goes with the square of the volts: each curve falls faster than the "
    "volts do, and sooner for a thinner cable. A pump that stands under pressure asks for more "
    "than any of it.",
}


def torque(layout: Layout, show: Report) -> None:
    """Why too long is a stall: the torque left at the start by the length of the motor's cable."""
    wired, water, side = layout.wired, layout.water, layout.motor
    duty, sizes = side.duty, _curves(side)
    points = _lengths(duty.run, 0.1 * wired.mains.voltage / duty.lost(sizes[0], 1, True))
    series = [
        Series(
            size.name,
            [(run, motor_side.kept_at_start(wired, water, duty, size, run)) for run in points],
        )
        for size in sizes
    ]
    asked = motor_side.loaded_torque(wired, water)
    soft = water.softness is not None
    show.chart(
        Chart(
            "torque",
            "Torque left to the motor at the start, by the length of its cable",
            Axis("Inverter or panel to motor, one way", "m", low=0),
            Axis("Torque at the start", "%", low=0, high=1.2),
            series,
            limits=[
                *([] if soft else [Mark("90 % of its volts", 0.81)]),
                *([Mark("the pump against pressure", asked)] if asked <= 1.2 else []),
            ],
            marks=[Mark("your run", duty.run)],
            summary=_TORQUE[soft, asked <= 1.2],
        )
    )


_HEAT = {
    "dc": "Heat from each metre of the battery cable, by its copper",
    "ac": "Heat from each metre of the cable to the motor, by its copper",
}


def heat(side: Side, show: Report) -> None:
    """Why too thin is a fire: the heat of each size against what its insulation can shed."""
    duty, parallel = side.duty, side.cable.parallel
    family = [s for s in conductors.FAMILIES[side.cable.size.family] if s.area >= duty.least_area]
    show.chart(
        Chart(
            "heat",
            _HEAT[duty.key],
            Axis(
                "Copper of one conductor", "mm2", low=family[0].area, high=family[-1].area, log=True
            ),
            Axis("Heat from each metre", "W/m", log=True),
            [
                Series("given off", [(s.area, duty.heat(s, parallel)) for s in family]),
                Series("bearable", [(s.area, _bearable(duty, s, parallel)) for s in family]),
            ],
            marks=[Mark(side.cable.size.name, side.cable.size.area)],
            summary="The heat given off falls with more copper; what the insulation bears rises. "
            "Left of where the curves cross the cable gets hotter than its insulation bears.",
        )
    )


def _bearable(duty: Duty, size: Conductor, parallel: int) -> float:
    """Heat [W/m] of a size at the current that it may carry."""
    return replace(duty, current=duty.ampacity(size, parallel)).heat(size, parallel)


# ---- the one-line drawing ----


def drawing(layout: Layout, starts: bool, fault: Line | str, show: Report) -> None:
    """From source to motor, dashed the earth."""
    parts = _motor_parts(layout, starts)
    if layout.bank is not None and layout.feed is not None:
        parts = _battery_parts(layout, layout.feed, layout.bank) + parts
    if layout.wired.inverter is not None:
        at = len(parts) - _MOTOR_PARTS
        parts.insert(at, _inverter_part(layout.wired, layout.wired.inverter.power, fault))
    show.drawing(one_line("one-line", "From source to motor in one line, dashed the earth", parts))


_MOTOR_PARTS = 5  # from the breaker on


def _battery_parts(layout: Layout, feed: Feed, side: Side) -> list[Part]:
    """From the bank to the inverter."""
    bank, fuse = layout.wired.bank, layout.wired.fuse
    short = amount(feed.short_circuit, "kA", 2)
    breaks = fuse.breaking(side.device, feed.full_emf)
    place = line("lies {d} away", d=(fuse.distance, "mm"))
    if breaks is not None and breaks_too_little(layout):
        place = line("breaks {b} of {s}", b=(breaks, "kA"), s=short)
    return [
        Part(
            "battery",
            line("Bank {v}, {c}", v=(bank.voltage, "V"), c=(bank.capacity, "Ah")),
            line("{k}, {s} if shorted", k=CHEMISTRIES[bank.chemistry], s=short),
            True,
        ),
        Part(
            "fuse",
            line("No fuse: {m} at most", m=most(side.limit, "A"))
            if side.rating is None
            else line("Fuse {r}, {k}", r=(side.rating, "A"), k=FUSES[side.device]),
            place,
        ),
        Part("switch", "Battery switch", line("for {r} all day", r=least(side.duty.wanted, "A"))),
        Part(
            "cable",
            line("{size} on each pole", size=side.cable.name),
            line("{l} one way", l=(side.duty.run, "m")),
        ),
    ]


def _inverter_part(wired: Wired, power: float, fault: Line | str) -> Part:
    """The inverter, with the mains on board that it is to give, or why it can't serve here."""
    mains = line("{v} {f}", v=(wired.mains.voltage, "V"), f=(wired.mains.frequency, "Hz"))
    return Part("converter", line("Inverter {p}", p=(power, "VA")), fault or mains, True)


_PROTECTS = {
    "B": "two-pole type B, with RCD",
    "C": "two-pole type C, with RCD",
    "D": "two-pole type D, with RCD",
    "two-pole breaker": "two-pole, GFCI by code",
    "fuses": "in each live wire, GFCI by code",
    "one": "GFCI by code",
}


def _breaker_part(layout: Layout) -> Part:
    wired, side = layout.wired, layout.motor
    fuses = wired.rules == "us" and breaks_by_fuse(wired)
    if side.rating is None:
        template = "No fuse: {m} at most" if fuses else "No breaker: {m} at most"
        label = line(template, m=most(side.limit, "A"))
    else:
        label = line("Fuse {r}" if fuses else "Breaker {r}", r=(side.rating, "A"))
    if wired.rules == "iso":
        kind = wired.branch.device
    else:
        kind = "one" if not wired.two_pole else "fuses" if fuses else "two-pole breaker"
    return Part("breaker", label, _PROTECTS[kind])


def _motor_parts(layout: Layout, starts: bool) -> list[Part]:
    """From the breaker, or the panel where there is no inverter, to the motor."""
    wired, side = layout.wired, layout.motor
    span, setting = motor_side.overload_span(wired, layout.water), wired.branch.overload
    overload = line(
        "Overload {o}" if setting or span.iec else "Overload {o} at most",
        o=(setting, "A") if setting else most(span.high, "A", OVERLOAD_STEP),
    )
    panel = Part(
        "supply",
        line("Panel {v} {f}", v=(wired.mains.voltage, "V"), f=(wired.mains.frequency, "Hz")),
        "neutral to earth once",
        True,
    )
    return [
        *([] if wired.inverter else [panel]),
        _breaker_part(layout),
        Part(
            "cable",
            line("{size} and its earth wire", size=side.cable.name),
            line("{l} one way", l=(side.duty.run, "m")),
        ),
        Part("switch", "Two-pole isolator", "at the motor, lockable"),
        Part("overload", overload, "or the motor's protector"),
        Part(
            "motor",
            line("Motor {p}", p=(wired.machine.plate.output, "W")),
            line("{a} on its plate", a=(wired.plate_current, "A"))
            if starts
            else "can't start this pump",
            True,
        ),
    ]
