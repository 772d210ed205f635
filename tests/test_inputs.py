"""Declaring what is asked, and reading it in layers."""

from __future__ import annotations

import pytest

from calc import stock
from calc.equipment.kinds import Unit
from calc.frame.inputs import (
    EXAMPLE,
    SHEET,
    TYPED,
    Inputs,
    Layer,
    Other,
    ask,
    bind,
    but,
    choice,
    date,
    is_set,
    record,
    rows,
    text,
    whole,
    yes_no,
)


class Load(Inputs):
    name = text("Name", "lamp")
    power = ask("Power", "40 W", above="0 W")


class Asks(Inputs):
    unit = record("Unit", Unit, "skerry-45")
    pressure = ask("Pressure", "50 bar", from_record="unit.pressure", above="0 bar")
    longest = ask("Longest run", "2 h", above="0 h", at_most="24 h")
    usual = ask("Usual run", "1 h", above="0 h", at_most=Other("longest"))
    fan = yes_no("Fan", "no")
    flow = ask("Fan flow", "100 m3/h", above="0 m3/h", when=is_set("fan"))
    count = whole("Mounts", "4", at_least=3, at_most=6)
    floor = choice("Floor", {"ply": "plywood", "steel": "steel"})
    day = date("Day", "2026-05-31")
    spare = ask("Spare", unit="W", optional=True)
    loads = rows("Loads", Load, example=[{"name": "fridge", "power": "60 W"}], one="load")


def faults(**typed: object) -> list[str]:
    return [str(f) for f in bind(Asks, Layer(TYPED, typed), shelves=stock.guide().shelves).faults]


def test_defaults_are_whole_and_say_where_they_come_from() -> None:
    bound = bind(Asks, shelves=stock.guide().shelves)
    assert bound.good
    assert bound.values["pressure"] == pytest.approx(5.5e6)
    assert bound.origin("pressure").text() == "from Skerry 45 (50 Hz)"
    assert bound.values["spare"] is None
    assert bound.values["loads"][0].power == 60


def test_a_record_fills_in_and_is_overridden() -> None:
    other = bind(
        Asks,
        Layer(TYPED, {"unit": "skerry-70", "pressure": "800 psi"}),
        shelves=stock.guide().shelves,
    )
    assert other.values["pressure"] == pytest.approx(5.5158e6, rel=1e-4)
    assert other.origin("pressure") == TYPED


def test_the_strongest_layer_wins() -> None:
    bound = bind(
        Asks,
        Layer(TYPED, {"count": "3"}),
        Layer(EXAMPLE, {"count": "6", "fan": "yes"}),
        shelves=stock.guide().shelves,
    )
    assert bound.values["count"] == 3
    assert bound.values["fan"] is True


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"longest": "30 h"}, "Longest run: “30 h” is not allowed; it must be at most 24 h"),
        ({"pressure": "0 bar"}, "Pressure: “0 bar” is not allowed; it must be more than 0 bar"),
        (
            {"usual": "3 h"},
            "Usual run: “3 h” is not allowed; it must be at most “Longest run” (2 h)",
        ),
        ({"longest": ""}, "Longest run: needs a value; for example 2 h"),
        (
            {"longest": "12 V"},
            "Longest run: “V” measures a voltage, but a time is asked for, such as 2 h or 30 min",
        ),
        ({"count": "3.5"}, "Mounts: “3.5” is not a whole number, such as 4"),
        ({"count": "7"}, "Mounts: “7” is not allowed; it must be at most 6"),
        (
            {"floor": "plywod"},
            "Floor: “plywod” is not one of the choices; did you mean “ply”? allowed: ply, steel",
        ),
        (
            {"day": "31.5.2026"},
            "Day: “31.5.2026” is not a date; write it as year-month-day, 2026-05-31",
        ),
        ({"fan": "perhaps"}, "Fan: “perhaps” is neither yes nor no"),
        (
            {"unit": "skery-45"},
            "Unit: no unit is called “skery-45”; did you mean “skerry-45”? known: "
            "skerry-45, skerry-70, skerry-45-60, skerry-70-60",
        ),
        (
            {"longst": "2 h"},
            "longst: nothing of this name is asked (typed). Did you mean “longest”?",
        ),
        (
            {"loads": [{"power": "-4 W"}]},
            "Loads, load 1, Power: “-4 W” is not allowed; it must be more than 0 W",
        ),
        ({"loads": "fridge"}, "Loads: must be a list of rows, each with named values"),
    ],
)
def test_a_fault_names_field_value_and_what_is_allowed(
    typed: dict[str, object], sentence: str
) -> None:
    assert faults(**typed) == [sentence]


def test_of_hundreds_of_records_a_fault_names_the_nearest_and_a_few() -> None:
    shelves = stock.guide().shelves
    shelf = dict.fromkeys((f"u{n}" for n in range(400)), shelves["unit"]["skerry-45"])
    found = bind(Asks, Layer(TYPED, {"unit": "u399x"}), shelves={**shelves, "unit": shelf})
    sentence = found.faults[0].sentence
    assert "u399" in sentence and "u29," in sentence and "u30," not in sentence


def test_a_preset_fills_in_but_never_over_what_the_reader_wrote() -> None:
    class Form(Inputs):
        unit = record("Unit", Unit, optional=True)
        power = ask("Power", "500 W", preset="unit.motor.rated_power")

    example = Layer(EXAMPLE, {"power": "600 W"})
    chosen = Layer(TYPED, {"unit": "skerry-45"}, own=True)
    assert bind(Form, example, shelves=stock.guide().shelves).values["power"] == 600
    filled = bind(Form, chosen, example, shelves=stock.guide().shelves)
    assert filled.values["power"] == 750
    assert filled.origin("power").text() == "from Wick 0.75 kW, 50 Hz"
    typed = Layer(TYPED, {"unit": "skerry-45", "power": "900 W"}, own=True)
    assert bind(Form, typed, example, shelves=stock.guide().shelves).values["power"] == 900


def test_a_record_the_reader_chose_outranks_the_examples_loose_values() -> None:
    class Form(Inputs):
        unit = record("Unit", Unit, "skerry-45", optional=True)
        mass = ask("Mass", "500 kg", from_record="unit.mass")

    own, loose = (Layer(SHEET, {"unit": "skerry-45"}, own=True), {"unit": "", "mass": "600 kg"})
    chosen = bind(Form, own, Layer(EXAMPLE, loose), shelves=stock.guide().shelves)
    assert chosen.values["mass"] == chosen.values["unit"].mass
    assert bind(Form, Layer(EXAMPLE, loose), shelves=stock.guide().shelves).values["mass"] == 600
    both = bind(
        Form, Layer(EXAMPLE, {"unit": "skerry-45", "mass": "600 kg"}), shelves=stock.guide().shelves
    )
    assert both.values["mass"] == 600, "an example's own record and value belong together"
    typed = bind(Form, Layer(TYPED, {"mass": "7 kg"}, own=True), own, shelves=stock.guide().shelves)
    assert typed.values["mass"] == 7
    none = bind(
        Form,
        Layer(TYPED, {"unit": ""}, own=True),
        Layer(EXAMPLE, loose),
        shelves=stock.guide().shelves,
    )
    assert none.values["mass"] == 600, "no record chosen: the example stands"


def test_all_faults_at_once_and_nothing_lost() -> None:
    typed = {"longest": "abc", "count": "99", "floor": "steel"}
    bound = bind(Asks, Layer(TYPED, typed), shelves=stock.guide().shelves)
    assert len(bound.faults) == 2
    assert {k: bound.texts[k] for k in typed} == typed


def test_what_is_not_asked_cannot_be_wrong() -> None:
    assert faults(flow="abc") == []
    assert len(faults(flow="abc", fan="yes")) == 1


@pytest.mark.parametrize("flow", ["abc", "", "-3 m3/h"])
def test_a_default_stands_in_for_what_is_wrong_but_not_asked(flow: str) -> None:
    bound = bind(Asks, Layer(TYPED, {"flow": flow}), shelves=stock.guide().shelves)
    assert bound.texts["flow"] == flow
    assert bound.as_values().flow == pytest.approx(100 / 3600)
    kept = bind(Asks, Layer(TYPED, {"flow": "90 m3/h"}), shelves=stock.guide().shelves)
    assert kept.as_values().flow == pytest.approx(90 / 3600)


def test_too_many_rows_are_named() -> None:
    assert "at most 60" in faults(loads=[{}] * 61)[0]


def test_a_field_keeps_one_name() -> None:
    with pytest.raises((TypeError, RuntimeError)):  # Python before 3.12 wraps it
        type("Bad", (Inputs,), {"strength": Load.power})


def test_a_reference_to_nothing_stops_the_author() -> None:
    with pytest.raises(TypeError, match="refers to no field"):
        type("Bad", (Inputs,), {"a": ask("A", "1 h", at_most=Other("b"))})


def test_a_field_declared_anew_reads_by_its_own_unit_and_keeps_few_texts() -> None:
    """What a text was read as is kept with the field, and for that field alone."""

    class Metric(Inputs):
        long = ask("Length", "2 m")

    class Small(Inputs):
        long = but(Metric.fields["long"], unit="mm")

    for _ in range(2):
        assert bind(Metric, Layer(TYPED, {"long": "3"})).values["long"] == 3
        assert bind(Small, Layer(TYPED, {"long": "3"})).values["long"] == 0.003
    for number in range(100):
        assert bind(Metric, Layer(TYPED, {"long": f"{number} m"})).values["long"] == number
    assert len(Metric.fields["long"].known) <= 8
    assert bind(Metric, Layer(TYPED, {"long": "much"})).faults
    assert bind(Metric, Layer(TYPED, {"long": "much"})).faults, "a fault is found each time"
