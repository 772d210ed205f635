"""The order of switches and valves: laws over every boat there can be, on a model of the water.

The model knows nothing of the order; it only follows hands. Taking any step out breaks a law.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cache
from html import escape
from pathlib import Path
from typing import Any

import pytest
from test_remedies import check_remedies

from calc import stock
from calc.calculators.running import words
from calc.frame.render import card, html
from calc.frame.report import FAILS, FITS, TIGHT, Line, Report
from calc.system.running import (
    FLUSH,
    NOTHING,
    ONE,
    PLAIN,
    SEA,
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
BOATS = [
    Gear(*one, True)
    for one in itertools.product(
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
    )
    if not (not one[0] and one[1] == ONE) and not (one[6] and one[5] != PLAIN)
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
            return self.inlet == FLUSH or self.seacock
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
            self.law(not (self.gear.inlet == TAP and self.flush_valve), "sea into flush water")
            self.seacock = True
        elif thing == "flush_valve":
            self.law(not self.seacock, "flush water and sea mixed")
            self.law(not self.running, "the way in changed while it runs")
            self.flush_valve = self.flush_air = True
        else:
            assert thing == "regulating_valve"
            self.law(not self.running or self.leads == WASTE, "salty product into the tank")
            self.regulating, self.pressure = True, False

    def shut(self, thing: str, _: str) -> None:
        if thing == "brine_valve":
            self.law(not self.armed, "the brine shut while something can start it")
            self.law(not self.running, "the brine shut while it runs")
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
        flush_valve=gear.inlet == TAP,
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
    law(gear.inlet != TAP or not boat.flush_valve, "the flush water's tank does not drain")


def safe(boat: Boat) -> None:
    law, gear = boat.law, boat.gear
    law(not boat.running and not boat.armed, "nothing can start it")
    law(not boat.seacock and boat.regulating, "neither sea nor pressure")
    law(boat.brine != (gear.brine_valve and gear.dips), "nor the sea by the outlet")
    law(bool(boat.tag), "a tag says so")


END = {"start": started, "stop": at_rest, "emergency": safe}


@pytest.mark.parametrize("name", ORDERS)
def test_each_order_keeps_the_laws_on_every_boat(name: str) -> None:
    assert len(BOATS) == 3 * 3 * 2 * 2 * 4 * 2 * 2 * 2 * 2
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
        steps = ORDERS[name](gear)
        for place in (n for n, step in enumerate(steps) if step.key == key):
            tried += 1
            with pytest.raises(Broken):
                run(gear, name, steps[:place] + steps[place + 1 :])
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
        steps = list(ORDERS[name](gear))
        keys = [step.key for step in steps]
        if first in keys and second in keys:
            a, b = keys.index(first), keys.index(second)
            assert a < b
            steps[a], steps[b] = steps[b], steps[a]
            tried += 1
            with pytest.raises(Broken):
                run(gear, name, steps)
    assert tried


HAS: dict[str, Callable[[Gear], bool]] = {
    "boost_pump": lambda g: g.boost_alone,
    "both_pumps": lambda g: g.boost and g.switches == ONE,
    "brine_valve": lambda g: g.brine_valve,
    "inlet_valve": lambda g: g.inlet == THREE_WAY,
    "flush_valve": lambda g: g.inlet == TAP,
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
    "the regulating valve open": "open.regulating_valve",
}


def test_what_is_done_at_once_is_that_of_the_page() -> None:
    text = " ".join(STEPS.partition("{ #stop }")[2].partition("1. **")[0].split())
    said = [text.index(words) for words in AT_ONCE]
    assert said == sorted(said)
    for gear in BOATS:
        keys = [step.key for step in emergency(gear)]
        places = [keys.index(key) for key in AT_ONCE.values()]
        assert places == sorted(places) and places[0] == 0


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
        places = [keys.index(key) for key in FLUSHED.values() if key in keys]
        assert gear.inlet == NOTHING or places == sorted(places), gear


# ---- as it is told ----


def told(**typed: Any) -> Report:
    made = stock.guide().run(stock.guide().get("running"), typed, example={"boat": "ketch"})
    assert made.report is not None, [str(f) for f in made.bound.faults]
    return made.report


def figure(made: Report, key: str) -> float:
    return next(f.value.value for f in made.figures if f.key == key)


def test_each_step_has_words_and_no_words_are_left_over() -> None:
    known = {"start": words.START, "stop": words.STOP, "emergency": words.EMERGENCY}
    for name, order in ORDERS.items():
        assert {step.key for gear in BOATS for step in order(gear)} == set(known[name]), name
        assert all(do and why for do, why in known[name].values())


def test_the_tables_are_the_steps_numbered() -> None:
    made = told()
    gear = Gear(True, TWO, THREE_WAY, True, True, THREE_WAY, False, True, False, True, True, True)
    known = {"start": words.START, "stop": words.STOP, "emergency": words.EMERGENCY}
    assert [t.key for t in made.tables] == list(known)
    for table in made.tables:
        steps = ORDERS[table.key](gear)
        assert [row[0] for row in table.rows] == [str(n) for n in range(1, len(steps) + 1)]
        for row, step in zip(table.rows, steps, strict=True):
            do, why = known[table.key][step.key]
            assert isinstance(row[1], Line) and (row[1].template, row[2]) == (do, why)
    assert figure(made, "to_start") == len(start(gear))
    assert figure(made, "to_stop") == len(stop(gear))


def test_steps_stand_open_on_the_page_and_whole_on_the_card() -> None:
    guide = stock.guide()
    calculator = guide.get("running")
    for typed in ({}, {"remote_start": "yes", "product_way": "plain"}):
        outcome = guide.run(calculator, typed, example={"boat": "ketch"})
        assert outcome.report is not None
        page = html.answer(outcome)
        paper = card.answer_card(calculator, outcome, card.Imprint())
        for table in outcome.report.tables:
            assert f'data-key="fold-table-{table.key}" open>' in page
            for row in table.rows:
                assert isinstance(row[1], Line)
                assert f"<li><b>{escape(row[1].text())}</b> {escape(row[2])}</li>" in paper
        assert "more, on the page" not in paper


HAND = {"remote_start": "no", "low_pressure_switch": "yes"}
CLOCK = {"remote_start": "yes", "low_pressure_switch": "yes", "brine_valve": "no"}


@pytest.mark.parametrize(
    ("typed", "verdict"),
    [
        (HAND, FITS),
        ({**HAND, "low_pressure_switch": "no"}, TIGHT),
        ({**HAND, "product_way": "plain", "product_relief": "no"}, FAILS),
        ({**HAND, "product_way": "plain", "product_relief": "yes"}, TIGHT),
        ({**HAND, "product_way": "straight"}, FITS),
        ({**HAND, "brine_valve": "yes"}, FITS),
        ({**HAND, "has_relief": "no"}, FAILS),
        (CLOCK, TIGHT),
        ({**CLOCK, "low_pressure_switch": "no"}, FAILS),
        ({**CLOCK, "brine_valve": "yes"}, FAILS),
    ],
)
def test_the_verdict_is_a_surveyors(typed: dict[str, str], verdict: str) -> None:
    made = told(**typed)
    assert made.verdict == verdict
    assert verdict == FITS or made.remedies


def test_every_remedy_mends_on_every_boat() -> None:
    """All boats that are judged apart, where the law of remedies draws some."""
    words = {
        "product_way": ("three_way", "straight", "plain"),
        **dict.fromkeys(
            (
                "has_relief",
                "product_relief",
                "brine_valve",
                "brine_dips",
                "low_pressure_switch",
                "remote_start",
            ),
            ("yes", "no"),
        ),
    }
    calculator, tried = stock.guide().get("running"), 0
    for chosen in itertools.product(*words.values()):
        typed = dict(zip(words, chosen, strict=True))
        tried += check_remedies(calculator, typed, {"boat": "ketch"})
    assert tried > 100


def test_minutes_until_water_and_of_the_flush() -> None:
    made = told(fill_time="3 min", idle_time="2 min", raise_time="1 min", waste_time="4 min")
    assert figure(made, "to_tank") == pytest.approx(600)
    alone = told(has_boost="no", idle_time="2 min", raise_time="1 min", waste_time="4 min")
    assert figure(alone, "to_tank") == pytest.approx(420)
    lasts = told(flush_water="31 L", flow="6.2 L/min")
    assert figure(lasts, "flush_lasts") == pytest.approx(300)
    assert "flush_lasts" not in [f.key for f in told(flush_way="none").figures]


def test_flush_water_is_the_boats_on_both_pages() -> None:
    guide = stock.guide()
    sheet = {"flush_water": "40 L", "flow": "8 L/min"}
    there = guide.run(guide.get("layup"), sheet=sheet).bound.values["flush_water"]
    here = guide.run(guide.get("running"), sheet=sheet).report
    assert here is not None
    assert figure(here, "flush_lasts") * 8e-3 / 60 == pytest.approx(there)
