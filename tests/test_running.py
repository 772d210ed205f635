"""The order of switches and valves: laws over every boat there can be, on a model of the water.

The model (`hands`) knows nothing of the order. Taking any step out breaks a law.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from hands import BOATS, ORDERS, Broken, exchanged, run, without

from calc.system.running import NOTHING, ONE, STRAIGHT, TAP, THREE_WAY, Gear, emergency, start, stop


@pytest.mark.parametrize("name", ORDERS)
def test_each_order_keeps_the_laws_on_every_boat(name: str) -> None:
    assert len(BOATS) == 3 * (3 + 3 + 1) * 2 * 2 * 4 * 2 * 2 * 2 * 2
    for gear in BOATS:
        try:
            run(gear, name, ORDERS[name](gear))
        except Broken as broken:
            raise AssertionError(f"{broken}: {gear}") from broken


def every_step() -> list[tuple[str, str]]:
    return sorted({(name, s.key) for name in ORDERS for gear in BOATS for s in ORDERS[name](gear)})


@pytest.mark.parametrize(("name", "key"), every_step())
def test_without_any_one_step_a_law_breaks(name: str, key: str) -> None:
    """On every boat that has the step, and at each place that it has there."""
    tried = 0
    for gear in BOATS:
        for fewer in without(ORDERS[name](gear), key):
            tried += 1
            with pytest.raises(Broken):
                run(gear, name, fewer)
    assert tried


@pytest.mark.parametrize(
    ("name", "first", "second"),
    [
        ("start", "open.brine_valve", "on.boost_pump"),
        ("start", "open.seacock", "on.boost_pump"),
        ("start", "open.regulating_valve", "on.high_pressure_pump"),
        ("start", "on.boost_pump", "on.high_pressure_pump"),
        ("start", "watch.brine", "close.regulating_valve"),
        ("start", "turn.product_valve.waste", "turn.product_valve.tank"),
        ("start", "test.product.meter", "turn.product_valve.tank"),
        ("stop", "turn.product_valve.waste", "open.regulating_valve"),
        ("stop", "open.regulating_valve", "off.high_pressure_pump"),
        ("stop", "off.remote", "shut.seacock.flush"),
        ("stop", "off.breaker", "shut.brine_valve"),
        ("emergency", "off.pumps", "shut.seacock"),
        ("emergency", "off.breaker", "shut.brine_valve"),
    ],
)
def test_two_steps_changed_about_break_a_law(name: str, first: str, second: str) -> None:
    tried = 0
    for gear in BOATS:
        if (changed := exchanged(ORDERS[name](gear), first, second)) is not None:
            tried += 1
            with pytest.raises(Broken):
                run(gear, name, changed)
    assert tried


HAS: dict[str, Callable[[Gear], bool]] = {
    "boost_pump": lambda g: g.boost_alone,
    "both_pumps": lambda g: g.boost and g.switches == ONE,
    "brine_valve": lambda g: g.brine_valve,
    "inlet_valve": lambda g: g.inlet == THREE_WAY,
    "flush_valve": lambda g: g.inlet == TAP or (g.inlet == THREE_WAY and bool(g.house)),
    "product_valve": lambda g: g.product != STRAIGHT,
    "product_hose": lambda g: g.product != THREE_WAY,
    "low_pressure_switch": lambda g: g.low_pressure_switch,
    "remote": lambda g: g.by_itself,
    "meter": lambda g: g.meter,
}


def test_what_she_has_is_named_and_what_she_lacks_is_not() -> None:
    for gear in BOATS:
        steps = [*start(gear), *stop(gear)]
        named = {step.thing for step in steps} | {step.to for step in steps}
        for thing, has in HAS.items():
            assert (thing in named) == has(gear), (thing, gear)
        assert bool({"bowls", "vents"} & named) == gear.vents


# ---- the page for every boat has the same order ----

STEPS = (Path(__file__).parents[1] / "docs" / "steps.md").read_text("utf-8")
# The bold words of each numbered step there, and the steps here that are meant by it.
MEANT: dict[str, dict[str, set[str]]] = {
    "start": {
        "Look.": {"look.unit"},
        "Every way out is open.": {
            "open.brine_valve",
            "open.product_valve",
            "turn.product_valve.waste",
            "lead.product_hose.waste",
        },
        "The way in is open.": {"open.seacock", "turn.inlet_valve.sea"},
        "Regulating valve fully open.": {"open.regulating_valve", "on.breaker"},
        "Boost pump alone.": {"on.boost_pump", "vent.bowls", "wait.feed", "fill.unit"},
        "High-pressure pump, without pressure.": {
            "on.high_pressure_pump",
            "on.both_pumps",
            "watch.brine",
        },
        "Slowly up.": {"close.regulating_valve"},
        "Product to waste until it tests fresh.": {
            "test.product.meter",
            "test.product.taste",
            "turn.product_valve.tank",
            "lead.product_hose.tank",
        },
        "": {"write.log", "write.log.salinity"},
    },
    "stop": {
        "Product to waste.": {"turn.product_valve.waste", "lead.product_hose.waste"},
        "Regulating valve slowly open": {"open.regulating_valve"},
        "High-pressure pump off.": {"off.high_pressure_pump", "off.both_pumps"},
        "Boost pump off.": {"off.boost_pump"},
        "Flush": {"on.high_pressure_pump.flush", "on.both_pumps.flush"},
        "Breaker off, then the seacock shut": {"off.breaker", "shut.seacock", "shut.brine_valve"},
    },
}


def items(anchor: str) -> list[str]:
    """The bold words that each numbered step of a section begins with, in its order."""
    section = STEPS.partition(f"{{ #{anchor} }}")[2].partition("\n## ")[0]
    found = re.findall(r"^\d+\. (?:\*\*(.*?)\*\*)?", section, re.M)
    assert len(found) > 3
    return found


@pytest.mark.parametrize("name", ["start", "stop"])
def test_the_order_is_that_of_the_page_for_every_boat(name: str) -> None:
    assert items(name) == list(MEANT[name]), "the page has another order, or other steps"
    for gear in BOATS:
        keys = [step.key for step in ORDERS[name](gear)]
        if name == "stop" and gear.boost_alone:  # a flush switches it off once more
            keys = [key for n, key in enumerate(keys) if key not in keys[:n]]
        found = [
            [keys.index(key) for key in meant if key in keys] for meant in MEANT[name].values()
        ]
        places = [place for some in found for place in sorted(some)]
        assert places == sorted(places), gear
        known = set().union(*MEANT[name].values())
        common = {s.key for s in ORDERS[name](gear)} & known
        assert {keys[place] for place in places} == common


# What is done at once, in the order of the words there.
AT_ONCE = {
    "switch off first, both pumps": "off.pumps",
    "the seacock shut": "shut.seacock",
    "the brine's way": "open.brine_valve",
    "then the regulating valve open": "open.regulating_valve",
}


def test_what_is_done_at_once_is_that_of_the_page() -> None:
    text = " ".join(STEPS.partition("{ #stop }")[2].partition("1. **")[0].split())
    said = [text.index(words) for words in AT_ONCE]
    assert said == sorted(said)
    for gear in BOATS:
        keys = [step.key for step in emergency(gear)]
        places = [keys.index(key) for key in AT_ONCE.values() if key in keys]
        assert places == sorted(places) and places[0] == 0
        assert len(places) == len(AT_ONCE) - (not gear.brine_valve)


LAYUP = (Path(__file__).parents[1] / "docs" / "layup.md").read_text("utf-8")
# What the page on laying up says of a flush, in its order, and the step here that is meant by it.
FLUSHED = {
    "Turn the inlet valve": "turn.inlet_valve.flush",
    "Now shut the seacock": "shut.seacock.flush",
    "both ways out are open": "look.ways_out",
    "Run the boost pump": "on.boost_pump.flush",
    "then the high-pressure pump too": "on.high_pressure_pump.flush",
    "High-pressure pump off first": "off.high_pressure_pump.flush",
    "Breaker off": "off.breaker",
    "now shut its\nvalve": "shut.brine_valve",
    "hang a tag": "hang.tag.ends",
}


def test_the_flush_is_that_of_the_page_on_laying_up() -> None:
    section = LAYUP.partition("\n## Flush\n")[2].partition("\n## ")[0]
    text = " ".join(section.split())
    said = [text.index(" ".join(words.split())) for words in FLUSHED]
    assert said == sorted(said), "the page has another order"
    for gear in BOATS:
        keys = [step.key for step in stop(gear)]
        still = {"look.ways_out": "look.ways_out.still"} if gear.still else {}
        meant = [still.get(key, key) for key in FLUSHED.values()]
        places = [keys.index(key) for key in meant if key in keys]
        assert gear.inlet == NOTHING or places == sorted(places), gear
