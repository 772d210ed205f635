"""The order in which a unit goes into a boat, from the empty place to one that was run with fresh
water without pressure.

Steps are data, as those of `running`: what is done with which thing, and how. Only those with the
things that this boat has stand there.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..physics import enclosures
from .running import NOTHING, PLAIN, THREE_WAY, Gear, Step

DRY, DRIP, SPLASH, JET = "dry", "drip", "splash", "jet"
"""What water can reach the motor."""


@dataclass(frozen=True)
class Kit:
    """What is to be put in, and where.

    `hangs`: on a bulkhead; `hard`: without mounts; `bolted`: by through-bolts; `cored`: the panel
    has a core that bolts would crush; `seacock`: one is there already; `drain`: a pan goes under
    the oil's drain where the unit stands; `bank`: an inverter on a bank feeds it; `aired`: openings
    are to be cut, `fan`: a fan is fitted; `gear`: its switches and valves.
    """

    gear: Gear
    hangs: bool
    hard: bool
    bolted: bool
    cored: bool
    seacock: bool
    drain: bool
    bank: bool
    aired: bool
    fan: bool


def kept_out(wet: str, tilt: float) -> int:
    """The least second numeral of the motor's IP code where water reaches it so, and the boat tilts
    it by so much [rad]; 0 where none does."""
    if wet == DRIP:
        return enclosures.falling_water(tilt)
    return {DRY: 0, SPLASH: enclosures.SPLASHED, JET: enclosures.JETS}[wet]


def place(kit: Kit) -> tuple[Step, ...]:
    """From a look at the place to a unit that is bolted down, with its oil."""
    return tuple(_place(kit))


def _place(kit: Kit) -> Iterator[Step]:
    yield Step("look", "place")
    yield Step("lock", "sources")
    if kit.hangs:
        yield Step("turn", "head")
    if not kit.seacock:
        yield Step("fit", "seacock")
    yield Step("shut", "seacock")
    yield Step("measure", "depth")
    if kit.cored and kit.bolted:
        yield Step("fill", "core")
    yield Step("drill", "holes" if kit.bolted else "screw_holes")
    if kit.aired:
        yield Step("cut", "openings")
    if kit.hangs:
        yield Step("fit", "ledge")
    if not kit.hard:
        yield Step("fit", "mounts")
    yield Step("lift", "unit")
    yield Step("fasten", "unit", "" if kit.bolted else "screws")
    if kit.fan:
        yield Step("fit", "fan")
    yield Step("change", "plug")
    yield Step("fill", "oil", "" if kit.drain else "drawn")


def lines(kit: Kit) -> tuple[Step, ...]:
    """Hoses, filters and tubes, the seacock shut and nothing switched on."""
    return tuple(_lines(kit))


def _lines(kit: Kit) -> Iterator[Step]:
    gear = kit.gear
    yield Step("fit", "strainer")
    if gear.inlet != NOTHING:
        yield Step("fit", "inlet_valve" if gear.inlet == THREE_WAY else "flush_tap")
    if gear.boost:
        yield Step("fit", "boost_pump")
    yield Step("fit", "filters")
    yield Step("lay", "feed_hose")
    yield Step("fit", "tubes")
    yield Step("lay", "high_pressure_hose")
    if gear.relief:
        yield Step("lay", "relief_hose")
    else:
        yield Step("fit", "relief_valve")
    yield Step("lay", "brine_hose", "loop" if gear.dips and not gear.brine_valve else "")
    if gear.product == PLAIN and not gear.product_relief:
        yield Step("change", "product_valve")
    yield Step("lay", "product_hose")


def wires(kit: Kit) -> tuple[Step, ...]:
    """What is done by somebody licensed: nothing is live before the last of it."""
    return tuple(_wires(kit))


def _wires(kit: Kit) -> Iterator[Step]:
    yield Step("set", "terminals")
    yield Step("wire", "motor")
    if kit.gear.boost:
        yield Step("wire", "boost_pump")
    if kit.bank:
        yield Step("wire", "bank")
    yield Step("prove", "wiring")


def trial(kit: Kit) -> tuple[Step, ...]:
    """Fresh water through it without pressure, its tubes empty; then the membranes go in."""
    return tuple(_trial(kit))


def _trial(kit: Kit) -> Iterator[Step]:
    gear = kit.gear
    if gear.by_itself:
        yield Step("off", "remote")
    if gear.brine_valve:
        yield Step("open", "brine_valve")
    yield Step("lead", "ways_out")
    yield Step("open", "regulating_valve")
    yield Step("lead", "fresh_water", gear.inlet)
    yield Step("fill", "unit")
    yield Step("look", "joints", "rest")
    yield Step("unlock", "sources")
    if gear.boost_alone:
        yield Step("on", "boost_pump")
        yield Step("wait", "air")
    yield Step("on", gear.pumps, "glimpse")
    yield Step("look", "turning")
    yield Step("on", gear.pumps, "test")
    yield Step("look", "joints", "running")
    yield Step("off", gear.pumps, "test")
    if gear.boost_alone:
        yield Step("off", "boost_pump", "test")
    yield Step("lock", "sources", "again")
    yield Step("end", "fresh_water", gear.inlet)
    yield Step("wait", "brine")
    yield Step("fit", "membranes")
    if gear.brine_is_shut:
        yield Step("shut", "brine_valve")
    yield Step("hang", "tag")


PARTS = {"place": place, "lines": lines, "wires": wires, "trial": trial}
"""The parts of the work, in their order."""


def plan(kit: Kit) -> tuple[Step, ...]:
    """All of it."""
    return tuple(step for part in PARTS.values() for step in part(kit))
