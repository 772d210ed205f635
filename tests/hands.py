"""A boat whose switches and valves hands follow, step by step: it knows nothing of the right order,
only what must never be. `run` follows an order and breaks at the first law that does not hold.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache

from calc.system.running import (
    FLUSH,
    NOTHING,
    ONE,
    PLAIN,
    RUNNING,
    SEA,
    STILL,
    STRAIGHT,
    TANK,
    TAP,
    THREE_WAY,
    TWO,
    WASTE,
    Gear,
    Step,
    emergency,
    start,
    stop,
)

YES_NO = (True, False)


def exchanged(steps: Sequence[Step], first: str, second: str) -> tuple[Step, ...] | None:
    """The steps with two changed about, which stand in this order; None where one isn't there."""
    made, keys = list(steps), [step.key for step in steps]
    if first not in keys or second not in keys:
        return None
    a, b = keys.index(first), keys.index(second)
    assert a < b
    made[a], made[b] = made[b], made[a]
    return tuple(made)


def without(steps: Sequence[Step], key: str) -> Iterator[tuple[Step, ...]]:
    """The steps without one of that key, for each place where it stands."""
    for at in (number for number, step in enumerate(steps) if step.key == key):
        yield (*steps[:at], *steps[at + 1 :])


BOATS = [
    Gear(*one, True, house)
    for *one, house in itertools.product(
        YES_NO,
        (TWO, ONE),
        (THREE_WAY, TAP, NOTHING),
        YES_NO,
        YES_NO,
        (THREE_WAY, STRAIGHT, PLAIN),
        YES_NO,
        YES_NO,
        YES_NO,
        YES_NO,
        YES_NO,
        ("", RUNNING, STILL),
    )
    if not (not one[0] and one[1] == ONE) and not (one[6] and one[5] != PLAIN)
    if not (house and one[2] == NOTHING)
]
ORDERS: dict[str, Callable[[Gear], tuple[Step, ...]]] = {
    "start": start,
    "stop": stop,
    "emergency": emergency,
}
PUMPS = {"high_pressure_pump": {"big"}, "boost_pump": {"boost"}, "both_pumps": {"big", "boost"}}


class Broken(AssertionError):
    """A law that does not hold: what happened, after which step."""


@dataclass
class Boat:
    """A boat whose valves stand as hands left them, as badly as they can."""

    gear: Gear
    brine: bool
    product: bool
    leads: str
    seacock: bool
    inlet: str
    flush_valve: bool
    regulating: bool
    breaker: bool
    remote: bool
    air: bool
    vents: bool
    running: set[str] = field(default_factory=set)
    pressure: bool = False
    looked: set[str] = field(default_factory=set)
    fresh: bool = False
    flushed: bool = False
    flush_air: bool = False
    tag: str = ""
    log: bool = False

    @property
    def armed(self) -> bool:
        """Whether a hand's slip or a clock can start it: what a shut end must not meet."""
        return self.breaker or self.remote

    @property
    def fed(self) -> bool:
        """Whether water comes to the pumps, and from one side only."""
        if self.gear.inlet == THREE_WAY:
            flush = self.inlet == FLUSH and (not self.gear.house or self.flush_valve)
            return flush or (self.inlet == SEA and self.seacock)
        if self.gear.inlet == TAP:
            return self.seacock != self.flush_valve
        return self.seacock

    def law(self, holds: bool, what: str) -> None:
        if not holds:
            raise Broken(what)

    def do(self, step: Step) -> None:
        getattr(self, step.verb)(step.thing, step.to)
        self.hold()

    # ---- what hands do ----

    def look(self, thing: str, _: str) -> None:
        self.looked.add(thing)
        if thing == "unit":
            self.law(not self.running and not self.breaker, "looked at first, while it stands")
        if thing == "low_pressure_switch":
            self.law(bool(self.running), "the feed pressure is there")
        if thing == "ways_out":
            self.law(not self.running, "looked at before it runs again")

    def open(self, thing: str, _: str) -> None:
        if thing == "brine_valve":
            self.brine = True
        elif thing == "product_valve":
            self.product = True
        elif thing == "seacock":
            self.law(not self.flush_valve, "sea into flush water")
            self.seacock = True
        elif thing == "flush_valve":
            self.law(not self.seacock, "flush water and sea mixed")
            self.law(not self.running, "the way in changed while it runs")
            if self.gear.house:
                self.law("ways_out" in self.looked, "pushed into it without a look")
                self.law(self.brine and self.product and self.regulating, "against a shut end")
            self.flush_valve = self.flush_air = True
        else:
            assert thing == "regulating_valve"
            self.law(not self.running or self.leads == WASTE, "salty product into the tank")
            self.regulating, self.pressure = True, self.pressure and not self.brine

    def shut(self, thing: str, _: str) -> None:
        if thing == "brine_valve":
            self.law(not self.armed, "the brine shut while something can start it")
            self.law(not self.running, "the brine shut while it runs")
            self.law(not self.flush_valve, "the brine shut before the flush water")
            self.brine = False
        elif thing == "seacock":
            self.law(not self.running, "the seacock shut while it runs")
            self.law(not self.remote, "the seacock shut while a clock can start it")
            self.seacock = False
        elif thing == "flush_valve":
            self.law(not self.running, "flush water shut while it runs")
            self.flush_valve = False
        else:
            assert thing == "vents"
            self.vents = False

    def close(self, thing: str, _: str) -> None:
        assert thing == "regulating_valve"
        self.law("brine" in self.looked, "pressure before the brine was seen to run")
        self.law("big" in self.running, "closed before it runs")
        self.law(self.leads == WASTE, "salty product into the tank")
        self.pressure, self.regulating = True, False

    def turn(self, thing: str, to: str) -> None:
        if thing == "inlet_valve":
            self.law(not self.running, "the way in changed while it runs")
            self.law(not self.flush_valve, "the way in changed with flush water on it")
            self.inlet, self.flush_air = to, to == FLUSH
        else:
            assert thing == "product_valve" and self.gear.product == THREE_WAY
            self._leads(to)

    def lead(self, thing: str, to: str) -> None:
        assert thing == "product_hose"
        self._leads(to)

    def _leads(self, to: str) -> None:
        self.law(to == WASTE or self.fresh, "water into the tank that nobody tested")
        self.leads = to

    def on(self, thing: str, to: str) -> None:
        if thing == "breaker":
            self.law(self.regulating, "the breaker before the regulating valve is open")
            self.law(not self.running, "the breaker first")
            self.breaker = True
            return
        self.law(self.breaker, "a switch without its breaker does nothing")
        for pump in PUMPS[thing]:
            self._on(pump, to)
        if to == FLUSH:
            self.law("ways_out" in self.looked, "run again without a look")
            self.law(not self.gear.still, "pumps on in a flush that the house pump does")
            self.law(self.inlet == FLUSH or self.flush_valve, "flushed with sea water")
            self.flushed = self.flushed or "big" in PUMPS[thing]

    def _on(self, pump: str, to: str) -> None:
        if pump == "big":
            self.law(self.regulating, "the big pump started against pressure")
            if self.gear.boost_alone:
                self.law("boost" in self.running, "the big pump before the boost pump")
            self.law(not (self.flush_air if to else self.air), "the big pump draws air")
            if not to and self.gear.vents:
                self.law(not self.vents, "a vent left open")
            if not to and self.gear.boost_alone and self.gear.low_pressure_switch:
                self.law("low_pressure_switch" in self.looked, "the feed pressure not looked at")
        elif self.gear.boost_alone:
            self.flush_air = False
        self.running.add(pump)

    def off(self, thing: str, _: str) -> None:
        if thing == "remote":
            self.remote = False
        elif thing == "breaker":
            self.law(not self.running, "the breaker pulled on a running pump")
            self.breaker = False
        elif thing == "pumps":
            self.running.clear()
        else:
            if "big" in PUMPS[thing]:
                self.law(self.regulating and not self.pressure, "stopped under pressure")
            self.running -= PUMPS[thing]

    def fill(self, thing: str, to: str) -> None:
        assert thing == "unit"
        self.law(self.fed and not self.running, "nothing to fill it with, or too late")
        if to == FLUSH:
            self.flush_air = False
        else:
            self.air, self.vents = False, self.gear.vents

    def vent(self, thing: str, _: str) -> None:
        assert thing == "bowls"
        self.law(self.running == {"boost"}, "vented by the boost pump alone")
        self.vents = False

    def wait(self, thing: str, _: str) -> None:
        if thing == "flush":
            self.law(self.gear.still and not self.running, "the house pump alone")
            self.law(self.fed and not self.seacock and self.flush_valve, "nothing comes in")
            self.flushed = True
            return
        self.law(bool(self.running), "water waited for while nothing runs")
        self.looked.add(thing)
        if thing == "feed":
            self.air = self.gear.vents and self.vents

    def watch(self, thing: str, _: str) -> None:
        self.law("big" in self.running and not self.pressure, "watched while it runs open")
        if not self.gear.boost_alone:
            self.law("bubbles" in self.looked, "air in it")
            if self.gear.low_pressure_switch:
                self.law("low_pressure_switch" in self.looked, "the feed pressure not looked at")
        self.looked.add(thing)

    def test(self, thing: str, by: str) -> None:
        self.law(thing == "product" and self.pressure, "tested before there is product")
        self.law(by == ("meter" if self.gear.meter else "taste"), "by what she has")
        self.fresh = True

    def write(self, thing: str, _: str) -> None:
        self.law(thing == "log" and self.leads == TANK, "written down at work")
        self.log = True

    def hang(self, thing: str, what: str) -> None:
        self.law(thing == "tag" and not self.running, "a tag on a pump that runs")
        self.tag = what or "happened"

    # ---- what must hold after each step ----

    def hold(self) -> None:
        if self.running:
            self.law("unit" in self.looked, "run without a look at it")
            self.law(self.brine, "the brine is shut while a pump runs")
            self.law(self.product, "the product is shut while a pump runs")
            self.law(self.fed, "a pump runs, and nothing comes in")
            self.law(not self.remote, "a clock has its hand on it too")
        if self.leads == TANK:
            self.law(not self.pressure or self.fresh, "salty product into the tank")


def stands(gear: Gear) -> Boat:
    """As she may be found: each valve the wrong way, and a clock set."""
    return Boat(
        gear,
        brine=not gear.brine_valve,
        product=gear.product != PLAIN,
        leads=TANK,
        seacock=False,
        inlet=FLUSH,
        flush_valve=gear.flush_valve,
        regulating=False,
        breaker=False,
        remote=gear.by_itself,
        air=True,
        vents=gear.vents,
    )


@cache
def at_work(gear: Gear) -> tuple[Step, ...]:
    return start(gear)


def run(gear: Gear, name: str, steps: Sequence[Step]) -> Boat:
    """The boat after these steps of an order, and after the laws of its end."""
    boat = stands(gear)
    if name != "start":
        for step in at_work(gear):
            boat.do(step)
        boat.looked = {"unit"}
    if name == "emergency" and gear.house and gear.flush_valve:
        boat.flush_valve = True  # it happens in a flush
    if name == "emergency" and gear.brine_valve:
        boat.brine = False  # somebody shut it: that is why
    for step in steps:
        boat.do(step)
        if name != "start" and step.key in (
            "off.high_pressure_pump",
            "off.both_pumps",
            "off.pumps",
        ):
            boat.remote = gear.by_itself  # its clock was never off: the unit has just run
    END[name](boat)
    return boat


def started(boat: Boat) -> None:
    law = boat.law
    law(boat.running == ({"big", "boost"} if boat.gear.boost else {"big"}), "it runs")
    law(boat.pressure and boat.leads == TANK and boat.log, "it makes water, and that is in the log")
    law(boat.gear.inlet != THREE_WAY or boat.inlet == SEA, "of the sea")


def at_rest(boat: Boat) -> None:
    law, gear = boat.law, boat.gear
    law(not boat.running and not boat.armed, "nothing can start it")
    law(not boat.seacock, "the sea is shut out")
    law(boat.regulating and not boat.pressure, "no pressure is left")
    law(boat.product and boat.leads == WASTE, "the product line stays open, to waste")
    law(boat.brine != (gear.brine_valve and gear.dips), "the brine is shut where it can dip")
    law(boat.tag == ("seacock" if boat.brine else "ends"), "a tag says what is shut")
    law(boat.flushed or gear.inlet == NOTHING, "flushed")
    law(not boat.flush_valve, "the flush water's tank does not drain")


def safe(boat: Boat) -> None:
    law, gear = boat.law, boat.gear
    law(not boat.running and not boat.armed, "nothing can start it")
    law(not boat.seacock and boat.regulating, "neither sea nor pressure")
    law(not boat.pressure, "pressure shut in behind the brine's valve")
    law(not boat.flush_valve, "nor flush water")
    law(boat.brine != (gear.brine_valve and gear.dips), "nor the sea by the outlet")
    law(bool(boat.tag), "a tag says so")


END = {"start": started, "stop": at_rest, "emergency": safe}
