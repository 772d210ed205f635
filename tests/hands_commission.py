"""Hands that start a unit for the first time: a boat's valves as in `hands`, and what must have been
looked at and read before the next thing is done."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from hands import BOATS, Boat, at_rest, stands

from calc.system.commissioning import plan
from calc.system.running import SEA, THREE_WAY, Gear, Step, stop

GEARS = [gear for gear in BOATS if gear.vents and not gear.meter]
"""Vents and a meter change one step each; the order of every start is tried on all."""
READ_ALL = {
    "rest", "start", "feed", "sea", "pressure", "flows", "salt", "work", "motor", "sound",
}  # fmt: skip


@dataclass
class First(Boat):
    """A boat whose unit has never run."""

    locked: bool = True
    seen: set[str] = field(default_factory=set)
    told: set[str] = field(default_factory=set)
    stage: str = ""
    settled: bool = False
    warm: bool = False
    signed: bool = False
    zero: bool = False
    mending: bool = False
    proved: bool = False

    def look(self, thing: str, to: str) -> None:
        super().look(thing, to)
        self.seen.add(f"{thing}.{to}" if to else thing)
        if thing == "joints" and to == "rest":
            self.law(self.locked, "hands at it while it may start")
        if thing == "joints" and to == "open":
            self.law("big" in self.running and not self.pressure, "seen with water, no pressure")
        if thing == "turning":
            self.law("big" in self.running and not self.pressure, "seen while it turns, open")
        if thing in ("joints", "oil") and to == "after":
            self.law(self.locked and not self.running, "hands at it while it may start")
        if thing == "weep_holes":
            self.law(self.pressure, "seen under pressure")

    def lock(self, thing: str, _: str) -> None:
        self.law(not self.running and not self.breaker, "locked while it is live")
        self.locked = True

    def shut(self, thing: str, to: str) -> None:
        if thing == "brine_valve" and self.mending:
            self.law(self.zero, "pressure shut in")
        super().shut(thing, to)

    def prove(self, thing: str, _: str) -> None:
        self.law(thing == "pressure" and self.zero, "eased under pressure")
        self.law(self.locked and not self.running and not self.armed, "eased while it may start")
        self.law(not self.seacock and bool(self.tag), "eased with the sea at it")
        self.proved = True

    def unlock(self, thing: str, _: str) -> None:
        for one in ("tag", "joints.rest", "oil", "switches"):
            self.law(one in self.seen, f"unlocked without a look at {one}")
        self.law("relief_valve" in self.seen or not self.gear.relief, "nor at the relief valve")
        self.locked = False

    def on(self, thing: str, to: str) -> None:
        self.law(not self.locked, "a locked switch does nothing")
        self.law("rest" in self.told, "started on volts that nobody read")
        super().on(thing, to)

    def close(self, thing: str, to: str) -> None:
        super().close(thing, to)
        before = {"quarter": "open", "half": "quarter", "full": "half"}[to]
        self.law(f"joints.{before}" in self.seen, "more pressure before a look at the joints")
        self.law(before == (self.stage or "open"), "by stages")
        self.law("turning" in self.seen, "pressure before the way it turns was seen")
        self.law({"start", "feed"} <= self.told, "pressure before start and feed were read")
        self.stage = to

    def wait(self, thing: str, to: str) -> None:
        if thing == "quarter":
            self.law(self.stage == "full" and "joints.full" in self.seen, "left before a last look")
            self.settled = True
        elif thing == "gauge":
            self.law(self.regulating and not self.running, "a gauge that pumps still raise")
            self.law(self.brine, "pressure shut in")
            self.zero = True
        elif thing == "hour":
            self.law(self.settled and self.pressure, "an hour at work")
            self.warm = True
        else:
            super().wait(thing, to)

    def read(self, thing: str, _: str) -> None:
        if thing == "rest":
            self.law(not self.locked and not self.breaker, "at rest, the source on")
        elif thing in ("start", "feed"):
            self.law("big" in self.running and not self.pressure, "as it runs without pressure")
            self.law(self.gear.inlet != THREE_WAY or self.inlet == SEA, "of flush water")
        elif thing in ("motor", "sound"):
            self.law(self.warm and self.pressure, "after an hour at work")
        else:
            self.law(self.settled and self.pressure, "once the gauges stand still")
        if thing in ("flows", "salt", "pressure"):
            self.law("sea" in self.told, "expected of a sea that nobody read")
        self.told.add(thing)

    def stop(self, thing: str, _: str) -> None:
        for step in stop(self.gear):
            self.do(step)

    def write(self, thing: str, to: str) -> None:
        if thing == "log":
            super().write(thing, to)
            return
        self.law(not self.running and {"joints.after", "oil.after"} <= self.seen, "signed too soon")
        self.signed = True


def made_safe(gear: Gear, steps: Sequence[Step]) -> First:
    """The boat after these steps, begun under pressure, and after what must hold for hands."""
    boat = First(**vars(stands(gear)))
    for step in plan(gear):
        boat.do(step)
        if step.key == "close.regulating_valve.half":
            break
    boat.mending = True
    for step in steps:
        boat.do(step)
        if step.key in ("off.high_pressure_pump", "off.both_pumps"):
            boat.remote = gear.by_itself  # as if its clock had never been off
    boat.law(boat.proved and not boat.pressure, "pressure may be left")
    boat.law(boat.brine != (gear.brine_valve and gear.dips), "and by the outlet")
    boat.law(boat.tag == ("seacock" if boat.brine else "ends"), "a tag says what is shut")
    return boat


def commissioned(gear: Gear, steps: Sequence[Step]) -> First:
    """The boat after these steps, and after the laws of the end."""
    boat = First(**vars(stands(gear)))
    for step in steps:
        boat.do(step)
    boat.law(boat.told == READ_ALL, "every reading was taken")
    boat.law("weep_holes" in boat.seen, "its packing was looked at")
    boat.law(boat.signed and boat.locked, "signed, and locked")
    at_rest(boat)
    return boat
