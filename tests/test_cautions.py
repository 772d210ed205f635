"""The table of cautions, row by row: taking one out, or a condition of one, fails here."""

from __future__ import annotations

from html import escape
from typing import Any

import pytest

from calc import stock
from calc.frame.inputs import Quantity
from calc.frame.render import html

# What each answer must warn of: a form that is warned, and forms that differ in one point and need
# not be. Written apart from the table, by what can hurt someone on the page in question.
Form = dict[str, Any]
BARE = [{"side": side, "lining": "0 mm"} for side in ("front", "left", "right", "top")]
WALLS = {"faces": BARE, "humidity": "40 %"}
LINED = [*BARE[:3], {"side": "top", "lining": "10 mm"}]
STEEL = [*BARE, {"side": "floor", "material": "steel", "thickness": "5 mm", "behind": "sea"}]
ENGINE = {"faces": [*BARE, {"side": "back", "behind": "engine"}], "engine_space": "85 °C"}
LEAD = {"has_inverter": "yes", "bank_chemistry": "agm", "bank_temperature": "-5 °C"}
LITHIUM = {"has_inverter": "yes", "bank_chemistry": "lifepo4"}
DRY_HIGH = {"brine_dips": "no", "pump_height": "0.1 m", "boost_height": "0.1 m"}
PETROL = {"has_generator": "yes", "fuel": "petrol"}
FOULED = {
    "has_day_one": "yes", "day_pressure": "55 bar", "day_product": "37 L/h",
    "day_brine": "5.6 L/min", "day_conductivity": "480 µS/cm", "day_temperature": "18 °C",
    "read_pressure": "55 bar", "read_product": "28 L/h", "read_brine": "5.75 L/min",
    "read_conductivity": "600 µS/cm", "read_temperature": "18 °C",
}  # fmt: skip
FEW = {"read_product": "", "read_brine": "", "read_conductivity": ""}
ALWAYS: list[tuple[str, str]] = [
    *(
        (name, "mains")
        for name in ("power", "wiring", "mount", "spares", "upkeep", "ventilation", "noise")
    ),
    ("wiring", "bonding"),
    ("wiring", "one-source"),
    ("power", "battery"),
    ("wiring", "battery"),
    ("ventilation", "vapour"),
    ("mount", "lifting"),
    ("mount", "hull"),
    ("layup", "preservative"),
    ("upkeep", "preservative"),
    ("power", "rotation"),
    ("wiring", "rotation"),
    *((name, "pressure") for name in ("power", "mount", "spares", "layup", "upkeep", "water")),
    ("ventilation", "protector"),
    *(("places", key) for key in ("vapour", "lifting", "hull", "flooding", "lining", "hot-motor")),
    ("noise", "hearing"),
    ("noise", "lining"),
    ("noise", "hot-motor"),
    ("upkeep", "waste-oil"),
    *((name, "flooding") for name in ("layup", "upkeep")),
    ("layup", "shut-end"),
    ("upkeep", "shut-end"),
    ("layup", "product-line"),
    ("water", "product-line"),
    ("upkeep", "dirty-water"),
    *(("feed", key) for key in ("flooding", "dry-running", "shut-end")),
    *(("pressure", key) for key in ("pressure", "shut-end", "product-line")),
    *(("running", key) for key in ("pressure", "shut-end", "flooding", "dry-running")),
    *(("flush", key) for key in ("shut-end", "product-line", "dry-running", "chlorine-membrane")),
    *(("quality", key) for key in ("product-line", "dirty-water", "local-water")),
    ("water", "dirty-water"),
    *(("trend", key) for key in ("cleaner", "pressure", "shut-end", "product-line", "chlorine")),
    ("trend", "chlorine-membrane"),
    *(
        ("diagnose", key)
        for key in ("pressure", "dry-running", "shut-end", "flooding", "mains", "protector")
    ),
    *((name, "reserve") for name in ("water", "need", "cost")),
    ("need", "dirty-water"),
    *(
        ("installation", key)
        for key in (
            "mains",
            "lifting",
            "hull",
            "flooding",
            "pressure",
            "shut-end",
            "dry-running",
            "rotation",
            "chlorine-membrane",
        )
    ),
    *(
        ("commission", key)
        for key in (
            "mains",
            "pressure",
            "shut-end",
            "flooding",
            "dry-running",
            "rotation",
            "hot-motor",
            "preservative",
        )
    ),
    *((name, "estimate") for name in stock.guide().names()),
]
SOMETIMES: list[tuple[str, str, Form, list[Form]]] = [
    (
        "power",
        "one-source",
        {"has_inverter": "yes", "has_generator": "yes"},
        [{"has_inverter": "no"}, {"has_generator": "no"}],
    ),
    ("power", "lithium-cold", LITHIUM, [{"has_inverter": "no"}, {"bank_chemistry": "agm"}]),
    (
        "power",
        "lead-frost",
        LEAD,
        [{"has_inverter": "no"}, {"bank_chemistry": "lifepo4"}, {"bank_temperature": "5 °C"}],
    ),
    (
        "power",
        "carbon-monoxide",
        {"has_generator": "yes", "has_alternator": "no"},
        [{"has_generator": "no"}],
    ),
    (
        "power",
        "carbon-monoxide",
        {"has_generator": "no", "has_alternator": "yes"},
        [{"has_alternator": "no"}],
    ),
    ("power", "petrol", PETROL, [{"has_generator": "no"}, {"fuel": "diesel"}]),
    *(
        ("ventilation", key, form, others)
        for key in ("engine-air", "carbon-monoxide")
        for form, others in [
            (
                {"air_way": "engine", "supply_from": "outside"},
                [{"air_way": "two"}, {"stands": "open"}],
            ),
            (
                {"air_way": "two", "supply_from": "engine"},
                [{"supply_from": "outside"}, {"stands": "open"}],
            ),
        ]
    ),
    ("ventilation", "lining", WALLS | {"faces": LINED}, [{"faces": BARE}, {"stands": "open"}]),
    ("ventilation", "lining", {"faces": STEEL, "humidity": "80 %"}, [{"humidity": "5 %"}]),
    ("ventilation", "lining", ENGINE | {"air_way": "fan", "humidity": "40 %"}, [{"faces": BARE}]),
    ("ventilation", "hot-motor", WALLS, [{"run_hours": "1 min"}]),
    ("water", "over-flux", {"sea_salinity": "10 g/kg"}, [{"sea_salinity": "36 g/kg"}]),
    (
        "water",
        "over-flux",
        {"sea_salinity": "32 g/kg", "sea_temperature": "31 °C", "pressure": "60 bar"},
        [{"pressure": "50 bar"}],
    ),
    ("wiring", "parallel", {"dc_run": "20 m"}, [{"dc_run": "1 m"}]),
    *(
        ("running", "product-line", {"product_way": way}, [{"product_way": "three_way"}])
        for way in ("straight", "plain")
    ),
    *(
        ("quality", key, {"tank_dosed": "yes"}, [{"tank_dosed": "no"}])
        for key in ("chlorine", "dosed-tank")
    ),
    ("running", "siphon", {"brine_dips": "yes"}, [{"brine_dips": "no"}]),
    ("running", "chlorine-membrane", {"flush_way": "tap"}, [{"flush_way": "none"}]),
    *(
        ("commission", "product-line", {"product_way": way}, [{"product_way": "three_way"}])
        for way in ("straight", "plain")
    ),
    ("commission", "siphon", {"brine_dips": "yes"}, [{"brine_dips": "no"}]),
    ("commission", "chlorine-membrane", {"flush_way": "tap"}, [{"flush_way": "none"}]),
    ("installation", "battery", {"has_inverter": "yes"}, [{"has_inverter": "no"}]),
    *(
        ("installation", "product-line", {"product_way": way}, [{"product_way": "three_way"}])
        for way in ("straight", "plain")
    ),
    *(
        ("installation", "siphon", DRY_HIGH | form, [DRY_HIGH])
        for form in ({"brine_dips": "yes"}, {"pump_height": "-0.1 m"}, {"boost_height": "-0.1 m"})
    ),
    ("diagnose", "cleaner", FOULED, [{"read_product": "37 L/h"}, FEW]),
    ("flush", "backflow", {"flush_from": "house"}, [{"flush_from": "can"}]),
    (
        "flush",
        "preservative",
        {"flush_from": "can", "flush_chlorine": "yes"},
        [{"flush_from": "house"}, {"flush_chlorine": "no"}],
    ),
    ("feed", "siphon", {"has_boost": "no", "pump_height": "-0.1 m"}, [{"pump_height": "0.1 m"}]),
    (
        "feed",
        "siphon",
        {"has_boost": "yes", "boost_height": "-0.1 m", "pump_height": "0.1 m"},
        [{"boost_height": "0.1 m"}, {"has_boost": "no"}],
    ),
]


def keys(name: str, typed: Form) -> list[str]:
    made = stock.guide().run(stock.guide().get(name), typed, example={"boat": "ketch"})
    assert made.report is not None, [str(f) for f in made.bound.faults]
    return [c.key for c in made.report.cautions]


@pytest.mark.parametrize(("name", "key"), ALWAYS)
def test_a_caution_that_always_stands(name: str, key: str) -> None:
    for boat in ("ketch", "catamaran"):
        made = stock.guide().run(stock.guide().get(name), example={"boat": boat}).report
        assert made is not None and key in [c.key for c in made.cautions]


@pytest.mark.parametrize(("name", "key", "form", "others"), SOMETIMES)
def test_a_caution_that_stands_on_a_condition(
    name: str, key: str, form: Form, others: list[Form]
) -> None:
    assert key in keys(name, form)
    for other in others:
        assert key not in keys(name, form | other), other


@pytest.mark.parametrize("name", stock.guide().names())
def test_what_always_stands_is_warned_of_before_there_is_an_answer(name: str) -> None:
    """On a boat of one's own before a first fact, and where a value can't be read."""
    guide = stock.guide()
    made = guide.get(name)
    fields = made.asks.fields.values()
    number = next(f.name for f in fields if isinstance(f, Quantity) and f.when is None)
    asked = guide.run(made, own_boat=True)
    faulty = guide.run(made, {number: "thick"}, example={"boat": "ketch"})
    for outcome in (asked, faulty):
        assert outcome.report is None
        shown = html.answer(outcome)
        for one, key in ALWAYS:
            if one == name:
                assert escape(guide.cautions[key].text) in shown.replace("\N{NO-BREAK SPACE}", " ")


def test_every_row_of_the_table_is_held_above_and_no_other_caution_is_shown() -> None:
    """A rule that stands on a condition is held both where it holds and where it does not."""
    always, sometimes = set(), set()
    guide = stock.guide()
    for name in guide.names():
        for rule in (*guide.get(name).cautions, *guide.always):
            (always if rule.free else sometimes).add((name, rule.key))
    assert always == set(ALWAYS)
    assert sometimes == {(name, key) for name, key, _, _ in SOMETIMES}
    assert set(guide.cautions) == {key for _, key in always | sometimes}


def test_what_hurts_people_stands_before_what_hurts_a_membrane() -> None:
    """On the card for the locker door a jet through skin comes before chlorine."""
    outcome = stock.guide().run(stock.guide().get("running"), {}, example={"boat": "ketch"})
    assert outcome.report is not None
    shown = [caution.key for caution in outcome.report.cautions]
    hurts = ("pressure", "shut-end", "flooding", "siphon", "dry-running")
    assert all(shown.index(key) < shown.index("chlorine-membrane") for key in hurts)


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ({}, True),
        ({"fuel": "petrol"}, True),
        ({"fuel": "diesel"}, False),
        ({"has_generator": "no"}, False),
        ({"generator": "hob-4"}, False),
        ({"generator": "carry-2"}, True),
    ],
)
def test_a_fuel_that_nobody_said_may_be_petrol(said: dict[str, str], told: bool) -> None:
    """On a boat of one's own, whatever the answer is reckoned with."""
    boat = {"unit": "skerry-45", "generator_power": "2 kW", "inverter_power": "2 kVA"}
    boat |= {"bank_chemistry": "agm", "bank_voltage": "24 V", "bank_capacity": "400 Ah"}
    outcome = stock.guide().run(stock.guide().get("power"), sheet=boat | said, own_boat=True)
    assert outcome.report is not None
    assert ("petrol" in [one.key for one in outcome.report.cautions]) == told
    assert "carbon-monoxide" in [one.key for one in outcome.report.cautions] or not told
