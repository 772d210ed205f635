"""What the pages Pressure and Starting stop, the first start does not let run."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import stock
from calc.frame.report import FAILS, FITS, TIGHT, UNKNOWN, Linked, Report
from calc.system.commissioning import PARTS, plan

GUIDE = stock.guide()
# A boat of one's own on which all is well, and all readings are in.
SOUND = {
    "unit": "skerry-70",
    "ac_voltage": "230 V",
    "ac_frequency": "50 Hz",
    "sea_temperature": "20 °C",
    "sea_salinity": "36 g/kg",
    "hose_bears": "155 bar",
    "vessel_bears": "69 bar",
    "has_relief": "yes",
    "relief_opens": "62 bar",
    "relief_outlet": "open",
    "has_boost": "yes",
    "boost_pump": "sett-1",
    "feed_bore": "19 mm",
    "feed_length": "2.5 m",
    "pump_height": "0.4 m",
    "cartridge_loss": "60 mbar",
    "pump_switches": "two",
    "flush_way": "tap",
    "flush_from": "can",
    "flush_by": "running",
    "brine_valve": "yes",
    "brine_dips": "yes",
    "product_way": "three_way",
    "low_pressure_switch": "yes",
    "remote_start": "no",
    "day_temperature": "20 °C",
    "day_salinity": "36 g/kg",
    "day_pressure": "55 bar",
    "day_before": "1 bar",
    "day_behind": "0.95 bar",
    "day_product": "58 L/h",
    "day_conductivity": "600 µS/cm",
}
OTHERWISE = {
    "has_relief": ("no", ""),
    "relief_opens": ("75 bar", "56 bar", "40 bar", ""),
    "relief_outlet": ("brine", "unknown", ""),
    "vessel_bears": ("50 bar", "61 bar", ""),
    "hose_bears": ("60 bar", ""),
    "product_way": ("plain", "straight"),
    "product_relief": ("yes", "no"),
    "remote_start": ("yes",),
    "brine_valve": ("no",),
    "low_pressure_switch": ("no",),
    "pressure": ("40 bar", "66 bar"),
    "day_product": ("", "20 L/h"),
    "day_relief": ("drips",),
}


def outcome(name: str, **changed: str) -> Any:
    return GUIDE.run(GUIDE.get(name), sheet=SOUND | changed, own_boat=True)


def report(name: str, **changed: str) -> Report:
    found = outcome(name, **changed).report
    assert found is not None
    return found


def steps(made: Report) -> int:
    """How many of them make it run; what makes it safe for hands is always told."""
    assert [table for table in made.tables if table.key == "safe" and table.steps]
    return sum(len(t.rows) for t in made.tables if t.steps and t.key != "safe")


def test_a_sound_boat_is_told_each_step() -> None:
    made = report("commission")
    assert made.verdict == FITS
    assert steps(made) == len(plan(_gear()))


def _gear(name: str = "commission", **changed: str) -> Any:
    q: Any = GUIDE.get(name).asks.of(outcome(name, **changed).bound.values)
    return q.gear(q.has_boost, q.has_relief, q.flushed_by_house())


@pytest.mark.parametrize("switches", ["one", "two"])
@pytest.mark.parametrize("boost", ["yes", "no"])
@pytest.mark.parametrize("known", [{}, {"boost_shut_off": "1.1 bar"}, {"boost_power": "80 W"}])
def test_it_starts_with_the_switches_that_starting_has(
    known: dict[str, str], boost: str, switches: str
) -> None:
    """That there is a boost pump is enough, whatever is known of it."""
    said = {"boost_pump": "", "has_boost": boost, "pump_switches": switches, **known}
    assert _gear(**said) == _gear("running", **said)
    assert _gear(**said).boost == (boost == "yes")
    assert steps(report("commission", **said)) == len(plan(_gear("running", **said)))


@pytest.mark.parametrize(
    ("changed", "page"),
    [
        ({"has_relief": "no", "relief_opens": ""}, "pressure"),
        ({"relief_opens": "75 bar"}, "pressure"),
        ({"relief_outlet": "brine"}, "pressure"),
        ({"product_way": "plain", "product_relief": "no"}, "running"),
        ({"remote_start": "yes"}, "running"),
    ],
)
def test_a_page_that_stops_it_is_named_and_no_step_is_offered(
    changed: dict[str, str], page: str
) -> None:
    made, there = report("commission", **changed), report(page, **changed)
    assert there.verdict == FAILS
    assert made.verdict == FAILS and made.decided_by == page
    assert there.reason().text() in made.reason().text()
    assert not {f"do-{key}" for key in PARTS} & {table.key for table in made.tables}
    ways = [way for way in made.remedies if isinstance(way, Linked)]
    assert page in [way.calculator for way in ways] and len(ways) == len(made.remedies)
    signed, stopped = (
        next(len(t.rows) for t in one.tables if t.key == "readings")
        for one in (report("commission"), made)
    )
    taken = next(f.value.value for f in made.figures if f.key == "taken")
    assert stopped == taken + 1 < signed


def test_where_the_relief_valve_opens_is_asked_before_anything_is_told() -> None:
    for changed in ({}, {"day_pressure": "66 bar"}):
        assert ("relief_opens",) in outcome("commission", relief_opens="", **changed).lacks
    assert report("commission", vessel_bears="").verdict == UNKNOWN


def test_nothing_looks_at_a_relief_valve_that_is_not_there() -> None:
    bare = {"has_relief": "no", "relief_opens": "", "day_brine": "4 L/min", "day_relief": "drips"}
    made = report("commission", **bare, day_pressure="70 bar")
    assert "relief-drips" not in {one.key for one in made.failures}
    told = [str(cell) for table in made.tables for row in table.rows for cell in row]
    told += [one.template for one in made.failures if one.key == "too-high"]
    assert "too-high" in {one.key for one in made.failures}
    assert not [one for one in told if "relief" in one]


@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_whatever_a_page_finds_unfit_the_first_start_does_not_let_run(data: st.DataObject) -> None:
    names = data.draw(st.lists(st.sampled_from(sorted(OTHERWISE)), max_size=3, unique=True))
    changed = {name: data.draw(st.sampled_from(OTHERWISE[name]), name) for name in names}
    first = outcome("commission", **changed)
    others = [outcome(name, **changed) for name in ("pressure", "running")]
    verdicts = [UNKNOWN if one.report is None else one.report.verdict for one in others]
    if first.report is None:
        assert first.lacks or first.bound.faults
        return
    if FAILS in verdicts:
        assert first.report.verdict == FAILS and not steps(first.report)
    else:
        assert steps(first.report)
        if UNKNOWN in verdicts:
            assert first.report.verdict not in (FITS, TIGHT)
