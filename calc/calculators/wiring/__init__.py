"""What cable, what fuse and what breaker between my batteries and the pump's motor?"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from ...frame.cautions import Rule, rules
from ...frame.guide import Decides, decides
from ...frame.inputs import Refusal, is_set
from ...frame.report import Report
from ...physics import protection
from ...system import motor, motor_side, on_bank
from ...system.bank_side import NoFuse
from ...system.cables import Side
from ...system.laid import Layout, laid
from ...system.motor import Water
from ...system.unfit import Unfit
from ...system.wired import Wired
from .. import _motor
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


def answer(q: Asks, show: Report) -> Callable[[], None] | None:
    wired = q.wired()
    water = motor.water(wired.machine)
    layout = None if water is None or water.overfluxed else _laid(wired, water)
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


def _tell(layout: Layout, starts: bool, show: Report) -> None:
    wired, first = layout.wired, layout.sides[0]
    tell.headlines(layout, show)
    tell.sizes(layout, show)
    remedies.told(layout, show)
    tell.reaches(layout, show)
    for side in layout.sides:
        tell.choices(side, show)
    if layout.bank is not None:
        pictures.start_volts(layout.bank, show)
    pictures.torque(layout, show)
    pictures.heat(first, show)
    fault = beyond.fault_words(layout, wired, wired.inverter) if wired.inverter else ""
    pictures.drawing(layout, starts, fault, show)
    notes.tell(layout, show)
    working.steps(layout, show)


def _laid(wired: Wired, water: Water) -> Layout:
    """What becomes of the wiring. Refuses what cannot be, and a stated fuse or breaker that burns
    its cable."""
    inverter = wired.inverter
    fits = inverter is not None and not on_bank.bank_misfit(inverter, wired.bank)
    with _worded():
        layout = laid(wired, water, inverter if fits else None)
    for side in layout.sides:
        if side.too_much:
            _refuse(side)
    return layout


def _refuse(side: Side) -> None:
    name, rating = ("fuse", "breaker")[side.duty.key == "ac"], side.duty.guard.stated or 0.0
    allowed = math.floor(side.limit + 1e-9)
    if side.cable.parallel > 1:
        raise Refusal(
            name,
            f"a {rating:.0f} A {name} does not protect a single one of {side.cable.name}: it may "
            f"have {allowed} A at most. With a larger one the others burn when a lug lets go",
        )
    raise Refusal(
        name,
        f"a {rating:.0f} A {name} does not protect {side.cable.name}: it may have {allowed} A at "
        "most. A larger one lets the cable burn before it opens",
    )


_UNFIT = {
    "never on": (
        "inverter_cut_off",
        "is above what this bank holds without any load: it would never switch on",
    ),
    "no resistance": ("bank_resistance", "cannot be nothing: a short circuit would have no limit"),
}


@contextmanager
def _worded() -> Iterator[None]:
    """Refuses, in words and by the field, what the system can't make sense of."""
    try:
        yield
    except NoFuse as error:
        raise Refusal(
            "bank_voltage",
            f"{error.least:.0f} A at this voltage is more than the largest standard fuse, "
            f"{protection.STANDARD_RATINGS[-1]} A; a bank of twice the voltage halves the current",
        ) from None
    except Unfit as error:
        raise Refusal(*_UNFIT[error.why]) from None
