"""What the pages Pressure and Starting stop, the first start does not let run."""

from __future__ import annotations

from typing import Any

import pytest
from answers import figure
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import stock
from calc.frame import units
from calc.frame.report import FAILS, FITS, TIGHT, UNKNOWN, Amount, Line, Linked, Report
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


def outcome(name: str, **changed: str | None) -> Any:
    said = {key: text for key, text in (SOUND | changed).items() if text is not None}
    return GUIDE.run(GUIDE.get(name), sheet=said, own_boat=True)


def report(name: str, **changed: str | None) -> Report:
    found: Report | None = outcome(name, **changed).report
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


def _gear(name: str = "commission", **changed: str | None) -> Any:
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
    lines = [
        {"log-line", "first-day-csv"} & {one.key for one in report("commission", **said).downloads}
        for said in ({"day_date": "2026-05-01"}, {"day_date": "2026-05-01", **changed})
    ]
    assert lines == [{"log-line", "first-day-csv"}, {"first-day-csv"}]


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


@pytest.mark.parametrize("salt", ["10 g/kg", "25 g/kg", "38 g/kg"])
@pytest.mark.parametrize("warm", ["8 °C", "22 °C", "30 °C"])
def test_what_is_allowed_is_what_the_page_water_allows_in_the_sea_that_was_read(
    warm: str, salt: str
) -> None:
    """And it is rounded down, to one text on all pages."""
    read = {"day_temperature": warm, "day_salinity": salt, "day_pressure": "57 bar"}
    water = report("water", sea_temperature=warm, sea_salinity=salt)
    made = report("commission", **read)
    there, here = figure(water, "set"), figure(made, "set")
    assert here.value.value == pytest.approx(there.value.value, rel=1e-9)
    assert here.value.text() == there.value.text()
    assert isinstance(here.note, Line)
    warmth, saltiness = here.note.amounts["warm"], here.note.amounts["salt"]
    assert isinstance(warmth, Amount) and isinstance(saltiness, Amount)
    assert warmth.value == pytest.approx(units.parse(warm, "°C"))
    assert saltiness.value == pytest.approx(units.parse(salt, "g/kg"))
    highest = figure(water, "highest").value
    told = next(one.amounts for one in made.failures if one.key == "too-high")
    assert isinstance(told["m"], Amount) and told["m"].text() == highest.text()
    for system in units.SYSTEMS:
        assert (
            highest.shown(system) <= highest.value and here.value.shown(system) <= here.value.value
        )
    rows = [row for table in made.tables for row in table.rows]
    named = [cell.amounts for row in rows for cell in row if isinstance(cell, Line)]
    never = [slots["highest"] for slots in named if "highest" in slots]
    assert never and {one.text() for one in never if isinstance(one, Amount)} == {highest.text()}


@pytest.mark.parametrize(("pressure", "verdict"), [("42 bar", FITS), ("47 bar", FAILS)])
def test_a_thin_sea_that_was_read_bounds_the_pressure(pressure: str, verdict: str) -> None:
    """Its sheet's sea is a salty one, where as much would be allowed."""
    made = report("commission", day_salinity="10 g/kg", day_pressure=pressure)
    assert ("too-high" in {one.key for one in made.failures}) == (verdict == FAILS)
    assert "too-high" not in {one.key for one in report("commission").failures}


@pytest.mark.parametrize("lacks", [("cartridge_loss",), ("feed_bore", "cartridge_loss")])
def test_what_the_feeds_gauges_still_hang_on_is_named(lacks: tuple[str, ...]) -> None:
    asks = GUIDE.get("commission").asks
    made = report("commission", **dict.fromkeys(lacks))
    assert made.verdict == UNKNOWN and made.decided_by == "feed-unsaid"
    told = next(one.amounts for one in made.unknowns if one.key == "feed-unsaid")
    assert told["what"] == asks.fields[lacks[0]].label and told["n"] == str(len(lacks) - 1)
    assert all(name in GUIDE.get("feed").asks.fields for name in lacks)


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
