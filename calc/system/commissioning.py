"""The order of a first start: that of every start, with what is looked at and read on the way.

Steps are data, as those of `running`. The product stays led to waste all the time: new membranes
come in a preservative.
"""

from __future__ import annotations

from collections.abc import Iterator

from .running import TANK, Gear, Step, start

STAGES = ("quarter", "half", "full")
"""How far the pressure is brought up each time, before the joints are looked at again."""
_MAKES_WATER = ("test", "write")


def before(gear: Gear) -> tuple[Step, ...]:
    """While nothing can start it."""
    return tuple(_before(gear))


def _before(gear: Gear) -> Iterator[Step]:
    yield Step("look", "tag")
    yield Step("look", "joints", "rest")
    yield Step("look", "oil")
    if gear.relief:
        yield Step("look", "relief_valve")
    yield Step("look", "switches")
    yield Step("unlock", "sources")
    yield Step("read", "rest")


def first_start(gear: Gear) -> tuple[Step, ...]:
    """Each step of a start, up to the working pressure, the product to waste."""
    return tuple(_first_start(gear))


def _first_start(gear: Gear) -> Iterator[Step]:
    for step in start(gear):
        if step.verb in _MAKES_WATER or step.to == TANK:
            continue
        if step.verb == "close":
            yield from _brought_up()
            continue
        yield step
        if step.thing == gear.pumps and step.verb == "on":
            yield Step("look", "turning")
            yield Step("read", "start")
        if step.verb == "watch":
            yield Step("read", "feed")
            yield Step("look", "joints", "open")


def _brought_up() -> Iterator[Step]:
    for stage in STAGES:
        yield Step("close", "regulating_valve", stage)
        yield Step("look", "joints", stage)


def readings(gear: Gear) -> tuple[Step, ...]:
    """At the working pressure, once the gauges stand still."""
    return tuple(_readings(gear))


def _readings(gear: Gear) -> Iterator[Step]:
    yield Step("wait", "quarter")
    yield Step("read", "sea")
    yield Step("read", "pressure")
    yield Step("read", "flows")
    yield Step("read", "salt")
    yield Step("read", "work")
    yield Step("look", "weep_holes")
    yield Step("wait", "hour")
    yield Step("read", "motor")
    yield Step("read", "sound")


def last_stop(gear: Gear) -> tuple[Step, ...]:
    """Stopped as ever, see `running.stop`; then a look at it, and a name under the readings."""
    return (
        Step("stop", "unit"),
        Step("lock", "sources"),
        Step("look", "joints", "after"),
        Step("look", "oil", "after"),
        Step("write", "day_one"),
    )


def safe(gear: Gear) -> tuple[Step, ...]:
    """From work to hands that mend it: no pressure, nothing that can start it, no sea."""
    return tuple(_safe(gear))


def _safe(gear: Gear) -> Iterator[Step]:
    yield Step("open", "regulating_valve")
    yield Step("off", gear.pumps)
    if gear.boost_alone:
        yield Step("off", "boost_pump")
    if gear.by_itself:
        yield Step("off", "remote")
    yield Step("off", "breaker")
    yield Step("lock", "sources")
    yield Step("wait", "gauge")  # while the brine's way out is still open
    yield Step("shut", "seacock")
    if gear.brine_is_shut:
        yield Step("shut", "brine_valve")
    yield Step("hang", "tag", "ends" if gear.brine_is_shut else "seacock")
    yield Step("prove", "pressure")


PARTS = {"before": before, "start": first_start, "read": readings, "stop": last_stop}
"""The parts of it, in their order."""


def plan(gear: Gear) -> tuple[Step, ...]:
    """All of it."""
    return tuple(step for part in PARTS.values() for step in part(gear))
