"""Pages agree about one boat's water: its litres, its sea, its boost pump, on any hertz."""

from __future__ import annotations

from typing import Any

import answers
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import stock
from calc.frame.inputs import Presence
from calc.frame.report import FAILS, Report, Step

UNITS = sorted(stock.guide().shelf("unit"))


def step(made: Report, start: str) -> Step:
    return next(s for s in made.steps if s.formula.startswith(start))


BORNE = {"salt", "over", "membrane_flux", "brine", "fed", "warmth"}


@given(
    st.sampled_from(UNITS),
    st.floats(25, 69),
    st.floats(4, 14),
    st.floats(-2, 36),
    st.floats(3, 45),
    st.sampled_from([45, 50, 55, 60]),
)
@settings(max_examples=40, deadline=None, derandomize=True)
def test_what_ails_the_water_is_told_by_power_just_where_water_fails_it(
    unit: str, bar: float, flow: float, warm: float, salt: float, hertz: float
) -> None:
    sheet = {"unit": unit, "pressure": f"{bar:.1f} bar", "flow": f"{flow:.2f} L/min"}
    sheet |= {"sea_temperature": f"{warm:.1f} °C", "sea_salinity": f"{salt:.1f} g/kg"}
    sheet |= {"ac_frequency": f"{hertz} Hz"}
    guide = stock.guide()
    water = guide.run(guide.get("water"), sheet, example={}).report
    power = guide.run(guide.get("power"), sheet, example={}).report
    if water is None or power is None:  # papers, or a pressure, that no membrane keeps
        return
    fails = {f.key for f in water.figures if f.state == FAILS} & BORNE
    told = any("Water from this sea" in line.template for line in power.unknowns)
    if any(f.key == "input" for f in power.figures):  # else the motor may stall
        assert told == bool(fails), (sheet, fails)


A_STATE = {
    "sea_temperature": st.floats(-2, 36).map(lambda warm: f"{warm:.1f} °C"),
    "sea_salinity": st.floats(0, 45).map(lambda salt: f"{salt:.1f} g/kg"),
    "pressure": st.floats(15, 69).map(lambda bar: f"{bar:.1f} bar"),
    "element_age": st.floats(0, 10).map(lambda years: f"{years:.1f} years"),
    "ac_frequency": st.sampled_from(["45 Hz", "50 Hz", "52 Hz", "60 Hz", "65 Hz"]),
    "back_pressure": st.sampled_from(["0 bar", "0.4 bar"]),
}
DEMOS = st.sampled_from(["ketch", "catamaran"])


@given(DEMOS, st.fixed_dictionaries({}, optional=A_STATE), st.booleans())
@settings(max_examples=40, deadline=None, derandomize=True)
def test_the_hours_of_upkeep_and_spares_are_those_of_waters_litres(
    boat: str, sheet: dict[str, str], measured: bool
) -> None:
    """In any sea, at any pressure, age and hertz: litres wanted over litres made."""
    if measured:
        sheet |= {"has_measured": "yes", "measured_flow": "38 L/h"}
    guide = stock.guide()
    water = guide.run(guide.get("water"), {}, sheet=sheet, example={"boat": boat}).report
    assert water is not None
    made = {figure.key: figure.value.value for figure in water.figures}
    for name in ("upkeep", "spares"):
        typed = {"use_by": "litres", "litres": "40 L/day", "today": "2026-05-01"}
        page = guide.run(guide.get(name), typed, sheet=sheet, example={"boat": boat})
        if "product" not in made:
            assert [fault.field for fault in page.bound.faults] == ["pressure"]
            continue
        if made["product"] * 86400 < 0.040:
            assert [fault.field for fault in page.bound.faults] == ["litres"]
            continue
        assert page.report is not None, (sheet, [str(fault) for fault in page.bound.faults])
        daily = step(page.report, "t_day")
        assert daily.where["Q"].value == made["product"]
        assert daily.result.value == pytest.approx(0.040 / made["product"])
        assert ("Water from this sea" in str([n.template for n in page.report.notes])) == any(
            figure.state == FAILS for figure in water.figures if figure.key in BORNE
        )


@given(DEMOS, st.fixed_dictionaries({}, optional=A_STATE))
@settings(max_examples=20, deadline=None, derandomize=True)
def test_a_litre_costs_by_the_litres_of_water(boat: str, sheet: dict[str, str]) -> None:
    """By hours too; where there is hardly any water nobody can tell."""
    guide = stock.guide()
    day = {"today": "2026-05-01"}
    upkeep = guide.run(guide.get("upkeep"), day, sheet=sheet, example={"boat": boat}).report
    water = guide.run(guide.get("water"), {}, sheet=sheet, example={"boat": boat}).report
    assert water is not None and upkeep is not None
    made = {figure.key: figure.value.value for figure in water.figures}
    spent = {figure.key: figure.value.value for figure in upkeep.figures}
    assert ("cost_litre" in spent) == ("product" in made)
    if "product" in made:
        assert spent["product"] == made["product"]
        year = spent["hours_year"] * made["product"]
        assert spent["cost_litre"] == pytest.approx(spent["cost"] / year)


# ---- the boost pump is one thing ----


def figures(made: Any) -> dict[str, float]:
    """All figures of a report and its options."""
    return {
        f"{part.key if part is not made else ''}.{figure.key}": figure.value.value
        for part in (made, *made.options)
        for figure in part.figures
    }


@pytest.mark.parametrize("supply", ["dc", "ac"])
@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_a_boat_without_a_boost_pump_pays_for_none(boat: str, supply: str) -> None:
    """Law: to say that there is none is to have one that draws nothing."""
    guide = stock.guide()
    for name in ("power", "water", "ventilation"):
        page, example = guide.get(name), {"boat": boat}
        with_one, none, idle = (
            figures(guide.run(page, typed | {"boost_supply": supply}, example=example).report)
            if "boost_supply" in page.asks.fields
            else figures(guide.run(page, typed, example=example).report)
            for typed in ({}, {"has_boost": "no"}, {"boost_power": "0 W"})
        )
        assert none == idle
        assert none != with_one, name


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_without_a_boost_pump_nothing_of_one_falls_due_or_is_carried(boat: str) -> None:
    guide = stock.guide()
    of_boost = {
        kind: {row.name for row in guide.shelf(kind).values() if row.part_of == "boost"}
        for kind in ("task", "part")
    }
    assert len(of_boost["task"]) == 1 and len(of_boost["part"]) == 2
    for name, keys, names in (
        ("upkeep", ("due", "later"), of_boost["task"]),
        ("spares", ("box", "left"), of_boost["part"]),
    ):
        for there in ("yes", "no"):
            typed = {"has_boost": there, "today": "2026-05-01"}
            made = guide.run(guide.get(name), typed, example={"boat": boat}).report
            assert made is not None
            told = {str(row[0]) for table in made.tables if table.key in keys for row in table.rows}
            assert names & told == (names if there == "yes" else set()), told
            left_out = [note for note in made.notes if set(note.amounts) == {"names"}]
            assert any(one in note.text() for note in left_out for one in names) == (there == "no")
    parts = [{"name": "Shaft seal", "task": "Boost pump wear parts"}, {"name": "Gauge"}]
    typed = {"has_boost": "no", "today": "2026-05-01", "look_at": ""}
    made = guide.run(guide.get("spares"), {**typed, "parts": parts}, example={"boat": boat})
    assert made.report is not None and "Shaft seal" not in str(made.report.tables)
    alone = guide.run(guide.get("spares"), {**typed, "parts": parts[:1]}, example={"boat": boat})
    assert [fault.field for fault in alone.bound.faults] == ["parts"]


@pytest.mark.parametrize(
    ("says", "of"),
    [
        ("has_relief", "relief"),
        ("low_pressure_switch", "switch"),
        ("has_carbon", "carbon"),
        ("salinity_meter", "meter"),
    ],
)
def test_of_what_she_says_is_not_aboard_nothing_falls_due_or_is_carried(says: str, of: str) -> None:
    """Where she doesn't speak of it, or doesn't know, the lists keep it."""
    guide = stock.guide()
    hers = {"unit": "skerry-45", "started": "2024-05-01"}

    def asked(name: str, **more: str) -> Report:
        page = guide.get(name)
        made = guide.run(page, sheet=hers | more, today="2026-05-01", own_boat=True).report
        assert made is not None
        return made

    upkeep = {}
    for kind, name, keys in (
        ("task", "upkeep", ("due", "later")),
        ("part", "spares", ("box", "left")),
    ):
        rows = {row.name for row in guide.shelf(kind).values() if row.part_of == of}
        for there in ("", "yes", "don't know", "no"):
            if there == "don't know" and not isinstance(guide.sheet.fields[says], Presence):
                continue
            made = asked(name, **({says: there} if there else {}))
            told = {str(row[0]) for table in made.tables if table.key in keys for row in table.rows}
            assert rows & told == (set() if there == "no" else rows), (name, there)
            kept = [note.text() for note in made.notes if set(note.amounts) == {"kept"}]
            doubtful = there in ("", "don't know") and of in ("carbon", "meter")
            assert any(row in note for note in kept for row in rows) == doubtful, (name, there)
            if name == "upkeep":
                upkeep[there] = answers.value(made, "season")
    assert upkeep["no"] < upkeep["yes"] == upkeep[""]


@pytest.mark.parametrize("name", ["power", "water", "ventilation"])
def test_a_boost_pumps_record_says_what_it_draws(name: str) -> None:
    """It goes before the unit's, which stands where the pump's record doesn't say; typed first."""
    guide, unit = stock.guide(), {"unit": "skerry-70"}
    records = guide.shelf("boostpump")
    assert records["sett-2"].power and records["linnet"].power is None
    for typed, watts, own in (
        ({}, 110, True),
        ({"boost_pump": "sett-2"}, 130, True),
        ({"boost_pump": "linnet"}, 110, True),
        ({"boost_pump": "sett-2", "boost_power": "75 W"}, 75, True),
    ):
        bound = guide.run(guide.get(name), sheet=unit | typed, own_boat=True).bound
        assert bound.values["boost_power"] == watts
        assert bound.own("boost_power") == own
    of_example = guide.run(guide.get(name), {}, example={"boat": "ketch"}).bound
    assert of_example.values["boost_power"] == 90 and not of_example.own("boost_power")
    # a pump of hers on a unit of the example's
    mixed = guide.run(guide.get(name), {"boost_pump": "sett-2"}, example={"boat": "ketch"}).bound
    assert mixed.values["boost_power"] == 130 and mixed.own("boost_power")


def _boost_in(made: Report | None) -> set[float]:
    """What the working takes for the boost pump [W]."""
    assert made is not None
    return {step.where["P_boost"].value for step in made.steps if "P_boost" in step.where}


@given(st.sampled_from(UNITS), st.booleans())
@settings(max_examples=8, deadline=None, derandomize=True)
def test_on_her_own_boat_nothing_is_counted_that_she_said_is_not_there(
    unit: str, pump: bool
) -> None:
    """Unsaid, or not known, it is as her unit's record says."""
    hers = {"unit": unit, "has_boost": "no", "has_generator": "yes", "generator_power": "4 kW"}
    hers |= {"sea_temperature": "20 °C", "sea_salinity": "36 g/kg", "started": "2024-05-01"}
    hers |= {"has_inverter": "no"} | ({"boost_pump": "sett-2"} if pump else {})
    guide = stock.guide()
    for name in ("power", "water"):
        made = guide.run(guide.get(name), sheet=hers, own_boat=True).report
        assert made is not None
        assert _boost_in(made) == {0.0}
        said = {field: text for field, text in hers.items() if field != "has_boost"}
        unsure, unsaid = (
            guide.run(guide.get(name), sheet=one, own_boat=True).report
            for one in ({**said, "has_boost": "don't know"}, said)
        )
        assert _boost_in(unsure) == _boost_in(unsaid) != {0.0}
    tasks = guide.run(guide.get("upkeep"), sheet=hers, today="2026-05-01", own_boat=True).report
    assert tasks is not None
    names = {row.name for row in guide.shelf("task").values() if row.part_of == "boost"}
    assert not any(str(row[0]) in names for table in tasks.tables for row in table.rows)


@given(
    st.sampled_from(UNITS),
    st.floats(5, 34),
    st.floats(30, 42),
    st.floats(45, 62),
    st.sampled_from([45, 50, 60]),
    st.sampled_from([45, 50, 60]),
)
@settings(max_examples=30, deadline=None, derandomize=True)
def test_at_a_held_pressure_fresh_water_follows_the_hertz_far_less_than_the_feed(
    unit: str, warm: float, salt: float, bar: float, one: int, other: int
) -> None:
    """Law: by no more than three tenths of the feed's share, and the same way; Power tells both."""
    sheet = {"unit": unit, "pressure": f"{bar:.1f} bar"}
    sheet |= {"sea_temperature": f"{warm:.1f} °C", "sea_salinity": f"{salt:.1f} g/kg"}
    guide, fed, made = stock.guide(), [], []
    for hertz in (one, other):
        state = {**sheet, "ac_frequency": f"{hertz} Hz"}
        water = guide.run(guide.get("water"), state, example={}).report
        power = guide.run(guide.get("power"), state, example={}).report
        assert water is not None and power is not None
        told = {figure.key: figure.value.value for figure in water.figures}
        if "product" not in told:
            return
        fed.append(told["fed"])
        made.append(told["product"])
        said = {figure.key: figure.value.value for figure in power.figures}
        assert said.get("feed", told["fed"]) == told["fed"]
        assert said.get("product", told["product"]) == pytest.approx(told["product"])
    more, water_more = fed[1] / fed[0] - 1, made[1] / made[0] - 1
    assert 0 <= water_more / more <= 0.3 if more else water_more == 0


@pytest.mark.parametrize("hertz", [50, 60])
@pytest.mark.parametrize("unit", UNITS)
def test_what_the_pump_moves_is_one_flow_on_all_pages_of_the_water(unit: str, hertz: int) -> None:
    """In the feed line, at the relief valve and of the flush water too, on mains not its own."""
    state = {"unit": unit, "ac_frequency": f"{hertz} Hz"}

    def ask(name: str) -> Report:
        made = stock.guide().run(stock.guide().get(name), state, example={}).report
        assert made is not None
        return made

    fed = next(f.value.value for f in ask("water").figures if f.key == "fed")
    through_relief = next(f.value.value for f in ask("pressure").figures if f.key == "capacity")
    through_hose = step(ask("feed"), "V = Q").where["Q"].value
    flushes = step(ask("running"), "t = V / Q").where["Q"].value
    assert [through_hose, through_relief, flushes] == pytest.approx([fed] * 3)


# Figures that the sea on the sheet doesn't change: things to buy and steps are counted, and each
# line of the example's log of readings has its own salt.
OF_NO_SEA = {"installation", "trend"}


def test_a_sea_by_its_conductivity_is_the_same_on_every_page() -> None:
    """Typed once: Water, Power, Feed, Upkeep and Spares answer as for the salt that it is."""
    guide, boat = stock.guide(), {"boat": "ketch"}
    by_meter = {"has_conductivity": "yes", "sea_conductivity": "50 mS/cm"}
    by_salt, other = {"sea_salinity": "32.73318 PSU"}, {"sea_salinity": "20 PSU"}
    more = {"use_by": "litres", "today": "2026-05-01"}
    # The page that finds faults judges nothing by fewer than four readings.
    more |= {"read_pressure": "55 bar", "read_product": "36.5 L/h", "read_brine": "4.95 L/min"}
    more |= {"read_conductivity": "495 µS/cm", "read_temperature": "18 °C"}
    for name in guide.names():
        made = guide.get(name)
        if "sea_conductivity" not in made.asks.fields:
            assert "sea_salinity" not in made.asks.fields
            continue
        typed = {key: text for key, text in more.items() if key in made.asks.fields}
        told, like, unlike = (
            guide.run(made, typed, sheet=sheet, example=boat).report
            for sheet in (by_meter, by_salt, other)
        )
        numbers, same = figures(told), figures(like)
        numbers.pop(".sea_salt", None)
        assert numbers == pytest.approx(same, rel=2e-4), name
        if name not in OF_NO_SEA:
            assert figures(unlike) != same, name
