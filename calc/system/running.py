"""The order of switches and valves in which a watermaker is started, stopped, and stopped at once.

Steps are data: what is done with which thing, and where it is led. `docs/steps.md` has the same
order for every boat; here stand only the steps with the things that this boat has.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from .held import Held

TWO, ONE = "two", "one"  # a switch for each pump, or one for both
THREE_WAY, TAP, NOTHING = "three_way", "tap", "none"  # how flush water comes in
STRAIGHT, PLAIN = "straight", "plain"  # the fresh water's line, where no three-way valve is in it
WASTE, TANK, SEA, FLUSH = "waste", "tank", "sea", "flush"
# How the house pump flushes, where it does: while the unit's pumps run, or while they stand.
RUNNING, STILL = "running", "still"


@dataclass(frozen=True)
class Gear:
    """The switches and valves of a boat.

    `switches` is TWO or ONE; without a boost pump it tells nothing. `inlet` is THREE_WAY, TAP or
    NOTHING. `product` is THREE_WAY (one way always open), STRAIGHT or PLAIN (can be shut);
    `product_relief` is a relief valve before a plain one. `dips`: whether the brine's outlet can
    dip under water. `by_itself`: whether a timer, an automatic or somebody far away can start it.
    `relief`: whether a relief valve stands at the pump. `house`: RUNNING or STILL where the house
    pump brings flush water, else "".
    """

    boost: bool
    switches: str
    inlet: str
    brine_valve: bool
    dips: bool
    product: str
    product_relief: bool
    low_pressure_switch: bool
    by_itself: bool
    vents: bool
    meter: bool
    relief: bool
    house: str = ""

    @property
    def still(self) -> bool:
        """Whether the house pump alone pushes a flush through."""
        return self.house == STILL

    @property
    def flush_valve(self) -> bool:
        """Whether the flush water has a valve of its own: a connection has, and so has a line that
        stands under a house pump's pressure."""
        return self.inlet == TAP or bool(self.house and self.inlet != NOTHING)

    @property
    def boost_alone(self) -> bool:
        """Whether the boost pump can run while the high-pressure pump stands."""
        return self.boost and self.switches == TWO

    @property
    def pumps(self) -> str:
        """What is switched last of all to start it."""
        return "both_pumps" if self.boost and not self.boost_alone else "high_pressure_pump"

    @property
    def brine_is_shut(self) -> bool:
        """Whether the brine's way out is shut while it stands."""
        return self.brine_valve and self.dips

    @property
    def shuttable(self) -> int:
        """How many of its two ways out a valve can shut, besides the regulating valve."""
        return self.brine_valve + (self.product == PLAIN)

    @property
    def against_dry(self) -> Held:
        """What stops a pump that draws air, whoever stands beside it counted: one is the least."""
        return Held(float(self.low_pressure_switch + (not self.by_itself)), 1.0, least=True)

    @property
    def against_shut_product(self) -> Held | None:
        """Relief valves before a valve that can shut the product line; None where there is none."""
        if self.product != PLAIN:
            return None
        return Held(float(self.product_relief), 1.0, least=True)

    @property
    def starts_unseen(self) -> bool:
        """Whether it can start with the brine shut, and nobody there to have looked."""
        return self.brine_valve and self.by_itself


@dataclass(frozen=True)
class Step:
    """A thing done: "open" the "brine_valve", "turn" the "product_valve" to "waste", switch "on"
    the "boost_pump" to "flush"."""

    verb: str
    thing: str
    to: str = ""

    @property
    def key(self) -> str:
        """One word for it."""
        return ".".join(filter(None, (self.verb, self.thing, self.to)))


def start(gear: Gear) -> tuple[Step, ...]:
    """From a look at it to water in the tank: every way out, the way in, then the pumps."""
    return tuple(_start(gear))


def _start(gear: Gear) -> Iterator[Step]:
    yield Step("look", "unit")
    if gear.by_itself:
        yield Step("off", "remote")
    if gear.brine_valve:
        yield Step("open", "brine_valve")
    if gear.product == PLAIN:
        yield Step("open", "product_valve")
    yield _product(gear, WASTE)
    if gear.flush_valve:
        yield Step("shut", "flush_valve")
    yield Step("open", "seacock")
    if gear.inlet == THREE_WAY:
        yield Step("turn", "inlet_valve", SEA)
    yield Step("open", "regulating_valve")
    yield Step("on", "breaker")
    yield from _filled(gear)
    yield Step("watch", "brine")
    yield Step("close", "regulating_valve")
    yield Step("test", "product", "meter" if gear.meter else "taste")
    yield _product(gear, TANK)
    yield Step("write", "log", "salinity" if gear.meter else "")


def _filled(gear: Gear) -> Iterator[Step]:
    """Water to the high-pressure pump, then the pump, without pressure."""
    if gear.boost_alone:
        yield Step("on", "boost_pump")
        if gear.vents:
            yield Step("vent", "bowls")
        yield Step("wait", "feed")
    else:
        yield Step("fill", "unit")
        if gear.vents:
            yield Step("shut", "vents")
    if gear.boost_alone and gear.low_pressure_switch:
        yield Step("look", "low_pressure_switch")
    yield Step("on", gear.pumps)
    if not gear.boost_alone:
        yield Step("wait", "bubbles")
        if gear.low_pressure_switch:
            yield Step("look", "low_pressure_switch")


def stop(gear: Gear) -> tuple[Step, ...]:
    """From water in the tank to a unit that is flushed, dead, and shut off from the sea."""
    return tuple(_stop(gear))


def _stop(gear: Gear) -> Iterator[Step]:
    yield _product(gear, WASTE)
    yield Step("open", "regulating_valve")
    yield from _off(gear)
    if gear.by_itself:
        yield Step("off", "remote")
    if gear.inlet != NOTHING:
        yield from _flush(gear)
    yield Step("off", "breaker")
    if gear.flush_valve:
        yield Step("shut", "flush_valve")
    if gear.inlet == NOTHING:
        yield Step("shut", "seacock")
    if gear.brine_is_shut:
        yield Step("shut", "brine_valve")
    yield Step("hang", "tag", "ends" if gear.brine_is_shut else "seacock")


def _off(gear: Gear, what_for: str = "") -> Iterator[Step]:
    yield Step("off", gear.pumps, what_for)
    if gear.boost_alone:
        yield Step("off", "boost_pump")


def _flush(gear: Gear) -> Iterator[Step]:
    """Fresh water through it, without pressure. The way in is changed while both pumps stand."""
    if gear.inlet == THREE_WAY:
        yield Step("turn", "inlet_valve", FLUSH)
    yield Step("shut", "seacock", FLUSH)
    how = STILL if gear.still else ""
    yield Step("look", "ways_out", how)
    if gear.flush_valve:
        yield Step("open", "flush_valve", how)
    if gear.still:
        yield Step("wait", "flush")
        return
    yield Step("on", "boost_pump", FLUSH) if gear.boost_alone else Step("fill", "unit", FLUSH)
    yield Step("on", gear.pumps, FLUSH)
    yield from _off(gear, FLUSH)


def emergency(gear: Gear) -> tuple[Step, ...]:
    """What is done when something bursts, knocks or smells: off first, then the sea, then the
    pressure."""
    return tuple(_emergency(gear))


def _emergency(gear: Gear) -> Iterator[Step]:
    yield Step("off", "pumps")
    if gear.by_itself:
        yield Step("off", "remote")
    yield Step("shut", "seacock")
    if gear.house and gear.flush_valve:
        yield Step("shut", "flush_valve")
    if gear.brine_valve:  # shut, it is why, and holds the pressure in
        yield Step("open", "brine_valve")
    yield Step("open", "regulating_valve")
    yield Step("off", "breaker")
    if gear.brine_is_shut:
        yield Step("shut", "brine_valve")
    yield Step("hang", "tag")


def _product(gear: Gear, where: str) -> Step:
    """The fresh water led to waste or to the tank: by its valve, or by the end of its hose."""
    if gear.product == THREE_WAY:
        return Step("turn", "product_valve", where)
    return Step("lead", "product_hose", where)
