"""What cable, what fuse and what breaker between my batteries and the pump's motor?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import Rule, rules
from ...frame.guide import Decides, Told, decides
from ...frame.inputs import is_set
from ...frame.report import Report
from ...system import motor, motor_side
from ...system.laid import Layout
from .. import _motor
from .._laid import laid_out
from . import beyond, judge, notes, pictures, remedies, tell, working
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Wiring"
WANTED = ("dc-copper", "fuse", "breaker")
PICTURE = "one-line"

# What the figures find that a caution hangs on.
PARALLEL = "cables lie in parallel"
CAUTIONS = rules(
    "mains",
    "bonding",
    "one-source",
    Rule("parallel", lambda q: PARALLEL in q),
    "battery",
    "rotation",
)

_ON_BANK = is_set("has_inverter")
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

LOST = (
    "Nobody can tell what the motor draws like this, nor what its cables have to carry. Settle "
    "that first, on the page Power."
)


def answer(q: Asks, show: Report) -> Callable[[], Told] | None:
    wired = q.wired()
    water = motor.water(wired.machine)
    layout = None if water is None or water.overfluxed else laid_out(wired, water)
    if layout is not None:
        judge.at_a_glance(layout, show)
    inverter = wired.inverter
    if inverter is not None:
        beyond.mains_remedy(wired, inverter, show)
    _motor.tell_elsewhere(show, _motor.judge(wired.machine, water), water, LOST)
    if inverter is not None:
        beyond.inverter_misfit(wired, inverter, show)
    if layout is None:
        return None
    if layout.bank is not None and layout.feed is not None and inverter is not None:
        beyond.inverter_fault(layout, inverter, show)
        judge.bank(layout, layout.feed, layout.bank, show)
    beyond.generator_mains(wired, show)
    judge.motor(layout, show)
    turning = motor_side.turning(wired, layout.water, layout.motor)
    if not wired.by_generator:  # else it has a figure of its own
        judge.turning_figure(turning, show)
    beyond.motor_starts(layout, turning, show)
    judge.on_a_generator(layout, show)
    if layout.sides[0].cable.parallel > 1:
        show.fact(PARALLEL)
    starts = turning.starts
    return lambda: _tell(layout, starts, show)


def _tell(layout: Layout, starts: bool, show: Report) -> Told:
    wired = layout.wired
    tell.headlines(layout, show)
    tell.sizes(layout, show)
    remedies.told(layout, show)
    fault = beyond.fault_words(layout, wired, wired.inverter) if wired.inverter else ""
    pictures.drawing(layout, starts, fault, show)
    return lambda: _tell_folded(layout, show)


def _tell_folded(layout: Layout, show: Report) -> None:
    tell.reaches(layout, show)
    for side in layout.sides:
        tell.choices(side, show)
    if layout.bank is not None:
        pictures.start_volts(layout.bank, show)
    pictures.torque(layout, show)
    pictures.heat(layout.sides[0], show)
    notes.tell(layout, show)
    working.steps(layout, show)
