"""Hands that put a unit into a boat, step by step: the model knows nothing of the right order, only
what must never be, and what must be there in the end.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from hands import BOATS, YES_NO, Broken

from calc.system.installing import Kit
from calc.system.running import NOTHING, PLAIN, TAP, THREE_WAY, Gear, Step

# Switches and valves that the order of the work hangs on: all else alike.
GEARS = [
    gear
    for gear in BOATS
    if gear.low_pressure_switch and gear.vents and not gear.house and not gear.product_relief
]
GEARS += [replace(gear, relief=False) for gear in GEARS[:1]]
PLACES = [Kit(GEARS[0], *one) for one in itertools.product(*[YES_NO] * 9) if one[7] or not one[8]]
KITS = [
    *PLACES,
    *(
        Kit(gear, True, False, True, True, False, True, True, True, True)
        for gear in GEARS
    ),
]  # fmt: skip
LICENSED = ("set", "wire", "prove")


@dataclass
class Hull:
    """The boat as it was found: sources live, the seacock as it stands, the unit on the quay."""

    kit: Kit
    locked: bool = False
    seacock: bool = True  # open
    done: set[str] = field(default_factory=set)
    seen: set[str] = field(default_factory=set)
    feed: str = ""  # what comes to the pump
    off_strainer: bool = False
    brine: bool = False  # open
    product_out: bool = False
    regulating: bool = False
    filled: bool = False
    running: bool = False
    boost: bool = False
    remote: bool = False
    still: bool = True
    tag: bool = False

    @property
    def gear(self) -> Gear:
        return self.kit.gear

    def law(self, holds: bool, what: str) -> None:
        if not holds:
            raise Broken(what)

    def after(self, *keys: str) -> None:
        for key in keys:
            self.law(key in self.done, f"not without {key}")

    def do(self, step: Step) -> None:
        self.law(not self.running or step.verb in ("look", "off"), "hands at it while it runs")
        getattr(self, step.verb)(step.thing, step.to)
        self.done.add(step.key)
        self.law(not self.running or not self.hands_in, "it runs open")

    @property
    def hands_in(self) -> bool:
        return self.off_strainer and self.feed != "fresh"

    # ---- what hands do ----

    def look(self, thing: str, how: str) -> None:
        self.seen.add(f"{thing}.{how}")
        if thing == "joints" and how == "rest":
            self.law(self.filled and not self.running, "looked at with water on it, at rest")
        if thing == "joints" and how == "running":
            self.law(self.running, "looked at while it runs")
        if thing == "turning":
            self.law(any(key.endswith(".glimpse") for key in self.done), "seen while it turned")

    def lock(self, thing: str, how: str) -> None:
        self.law(not self.running and not self.boost, "locked while it runs")
        self.locked = True

    def unlock(self, thing: str, _: str) -> None:
        self.law("joints.rest" in self.seen, "live before the joints were looked at")
        self.law("prove.wiring" in self.done, "live before the wiring was proved")
        self.law(not self.remote, "a clock could start it")
        self.locked = False

    def measure(self, thing: str, _: str) -> None:
        pass

    def drill(self, thing: str, _: str) -> None:
        self.law(self.locked, "drilled into a live cable")
        self.after("measure.depth")
        if self.kit.cored and self.kit.bolted:
            self.after("fill.core")

    cut = drill

    def turn(self, thing: str, _: str) -> None:
        self.law("lift.unit" not in self.done, "turned on the bench")

    def fit(self, thing: str, _: str) -> None:
        if thing == "seacock":
            self.law(not self.done & {"lay.feed_hose", "fit.strainer"}, "the hole before the hose")
            self.seacock = True
        elif thing in ("strainer", "inlet_valve", "flush_tap"):
            self.law(not self.seacock, "an open line on an open seacock")
        elif thing in ("mounts", "ledge"):
            self.law("lift.unit" not in self.done, "under it, before it stands there")
        elif thing == "membranes":
            self.law(self.locked and self.still, "hands in tubes that may run or have pressure")
            self.law("joints.running" in self.seen, "membranes before the trial")
            self.law(self.feed == "", "with the can still on it")
            self.after("fit.tubes")

    def lift(self, thing: str, _: str) -> None:
        self.law("place." in self.seen, "lifted into a place not looked at")
        self.law(bool(self.done & {"drill.holes", "drill.screw_holes"}), "nowhere to bolt it to")
        if self.kit.hangs:
            self.after("turn.head", "fit.ledge")
        if not self.kit.hard:
            self.after("fit.mounts")

    def fasten(self, thing: str, _: str) -> None:
        self.after("lift.unit")

    def change(self, thing: str, _: str) -> None:
        if thing == "plug":
            self.law(
                bool(self.done & {"fasten.unit", "fasten.unit.screws"}), "oil runs out, lifted"
            )

    def fill(self, thing: str, how: str) -> None:
        if thing == "oil":
            self.after("change.plug")
        elif thing == "unit":
            self.law(self.feed == "fresh", "nothing to fill it with")
            self.filled = True

    def lay(self, thing: str, how: str) -> None:
        self.law(not self.seacock, "a line laid on an open seacock")
        if thing == "feed_hose":
            self.after("fit.strainer", "fit.filters")
            if self.gear.boost:
                self.after("fit.boost_pump")
            if self.gear.inlet == THREE_WAY:
                self.after("fit.inlet_valve")
            if self.gear.inlet == TAP:
                self.after("fit.flush_tap")
        if thing == "high_pressure_hose":
            self.after("fit.tubes")
        if thing == "brine_hose":
            loop = self.gear.dips and not self.gear.brine_valve
            self.law(loop == (how == "loop"), "the sea comes back, or a loop for nothing")

    def set(self, thing: str, _: str) -> None:
        self.law(self.locked, "at live terminals")

    def wire(self, thing: str, _: str) -> None:
        self.law(self.locked, "at live wires")
        if thing == "motor":
            self.after("set.terminals")

    def prove(self, thing: str, _: str) -> None:
        self.after("wire.motor")
        self.law(self.gear.boost == ("wire.boost_pump" in self.done), "proved with wires loose")
        self.law(self.kit.bank == ("wire.bank" in self.done), "proved with wires loose")

    def off(self, thing: str, _: str) -> None:
        if thing == "remote":
            self.remote = False
        elif thing == "boost_pump":
            self.law(not self.running, "the boost pump off before the big one")
            self.boost = False
        else:
            self.running = False

    def open(self, thing: str, _: str) -> None:
        if thing == "brine_valve":
            self.after("lay.brine_hose")
            self.brine = True
        else:
            self.regulating = True

    def lead(self, thing: str, how: str) -> None:
        if thing == "ways_out":
            self.after("lay.product_hose")
            self.law(self.brine, "led out through a shut valve")
            self.product_out = True
        else:
            self.law(not self.seacock, "sea and fresh water mixed")
            self.after("lay.feed_hose")
            self.law(how == self.gear.inlet, "by another way in")
            self.feed, self.off_strainer = "fresh", how == NOTHING

    def on(self, thing: str, how: str) -> None:
        self.law(not self.locked, "a locked switch does nothing")
        self.law(self.filled and self.feed == "fresh", "the pump draws air")
        self.law(self.brine and self.product_out and self.regulating, "against a shut end")
        self.law("joints.rest" in self.seen, "run before its joints were looked at")
        self.law(any(key.startswith("fill.oil") for key in self.done), "run without oil")
        self.after("change.plug", "prove.wiring", "lay.high_pressure_hose")
        self.law(bool(self.done & {"lay.brine_hose", "lay.brine_hose.loop"}), "no way overboard")
        self.law(bool(self.done & {"lay.relief_hose", "fit.relief_valve"}), "run without relief")
        if self.gear.product == PLAIN:
            self.after("change.product_valve")
        if self.kit.fan:
            self.after("fit.fan")
        if self.kit.aired:
            self.after("cut.openings")
        if thing == "boost_pump":
            self.boost = True
            return
        if self.gear.boost_alone:
            self.law(self.boost and "wait.air" in self.done, "air in the big pump")
        if how == "test":
            self.law("turning." in self.seen, "run on before the way it turns was seen")
            self.running, self.still = True, False

    def wait(self, thing: str, _: str) -> None:
        if thing == "air":
            self.law(self.boost, "no water comes by itself")
        else:
            self.law(not self.running, "at rest at last")
            self.still = True

    def end(self, thing: str, how: str) -> None:
        self.law(self.locked, "hands at the line while it may start")
        self.feed, self.off_strainer = "", False

    def shut(self, thing: str, _: str) -> None:
        if thing == "seacock":
            self.seacock = False
        else:
            self.law(self.locked, "the brine shut while something can start it")
            self.brine = False

    def hang(self, thing: str, _: str) -> None:
        self.tag = True


def put_in(kit: Kit, steps: Sequence[Step]) -> Hull:
    """The boat after these steps, and after the laws of the end."""
    hull = Hull(kit, brine=not kit.gear.brine_valve, remote=kit.gear.by_itself)
    for step in steps:
        hull.do(step)
    law = hull.law
    law("fit.seacock" in hull.done or kit.seacock, "it has a seacock")
    law(not hull.seacock, "the sea is shut out")
    law(hull.locked and not hull.running, "nothing can start it")
    law("fit.membranes" in hull.done, "its membranes are in")
    law(not hull.off_strainer and hull.feed == "", "every hose is on")
    law(hull.brine != kit.gear.brine_is_shut, "the brine is shut where it can dip")
    law(hull.tag, "a tag says so")
    return hull
