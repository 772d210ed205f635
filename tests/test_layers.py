"""Layers of records: what a host's files do to the stock's, and what is said where they can't."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from calc import equipment, stock
from calc.equipment import layers
from calc.frame.files import FileFault
from calc.frame.inputs import MOST_ROWS

OIL = '[task.oil]\nname = "Oil"\nhours = "300 h"\n'
STOCK = stock.guide()
KINDS = STOCK.kinds


def read(*layers: str | dict[str, str]) -> equipment.Read:
    """Layers over nothing; a text is a layer's only file, named by its place."""
    named = [
        layer if isinstance(layer, dict) else {f"{number}.toml": layer}
        for number, layer in enumerate(layers)
    ]
    return equipment.read([{n: t.encode() for n, t in one.items()} for one in named], KINDS)


def told(faults: tuple[FileFault, ...]) -> list[tuple[str, str, int]]:
    return [(fault.key, fault.file, fault.line) for fault in faults]


def test_a_record_is_added_to_the_stock() -> None:
    made = stock.with_layers({"own.toml": OIL.replace("oil", "ours").encode()})
    assert made.shelf("task")["ours"].hours == 300 * 3600
    assert len(made.shelf("task")) == len(STOCK.shelf("task")) + 1
    assert "ours" not in STOCK.shelf("task")


def test_given_fields_are_changed_and_the_others_stay() -> None:
    own = '[change.motor.wick-075-50]\nmass = "12 kg"\nrated_current = ""\n'
    made = stock.with_layers({"own.toml": own.encode()})
    motor, before = made.shelf("motor")["wick-075-50"], STOCK.shelf("motor")["wick-075-50"]
    assert motor.mass == 12 and before.mass == 11.5
    assert motor.rated_current is None and before.rated_current is not None
    assert motor.efficiency == before.efficiency
    # What refers to it has the changed one: references are looked up after the last layer.
    assert made.shelf("unit")["skerry-45"].motor is motor
    assert list(made.shelf("motor")) == list(STOCK.shelf("motor"))


def test_a_record_is_replaced_whole() -> None:
    own = OIL.replace("[task", "[replace.task").replace("300", "400")
    found = read(OIL + 'tools = "spanner"\n', own)
    assert found.faults == ()
    assert found.shelves["task"]["oil"].hours == 400 * 3600
    assert found.shelves["task"]["oil"].tools is None


def test_records_are_dropped() -> None:
    found = read(OIL + OIL.replace("oil", "belt"), '[drop]\ntask = ["oil"]\n')
    assert list(found.shelves["task"]) == ["belt"]


def test_all_of_a_kind_are_dropped_but_those_changed_or_added() -> None:
    own = '[drop]\ntask = "all"\n\n[change.task.belt]\nhours = "9 h"\n[task.new]\nname = "New"\n'
    found = read(OIL + OIL.replace("oil", "belt"), own.replace("9 h", "90 h"))
    assert found.faults == ()
    assert list(found.shelves["task"]) == ["belt", "new"]
    assert found.shelves["task"]["belt"].hours == 90 * 3600


def test_a_layer_over_a_layer() -> None:
    found = read(OIL, '[change.task.oil]\nhours = "500 h"\n', '[change.task.oil]\ntools = "cup"\n')
    oil = found.shelves["task"]["oil"]
    assert (oil.hours, oil.tools) == (500 * 3600, "cup")


def test_more_units_than_a_list_takes_are_no_fault() -> None:
    own = "".join(
        f'[unit.u{n}]\nname = "U{n}"\nmotor = "wick-075-50"\npump = "ness-7"\nmembranes = "one-40"\n'
        'pressure = "55 bar"\nproduct_flow = "40 L/h"\nmass = "22 kg"\nlength = "620 mm"\n'
        'width = "300 mm"\nheight = "320 mm"\n'
        for n in range(MOST_ROWS)
    )
    made = stock.with_layers({"own.toml": own.encode()})
    outcome = made.run(made.get("need"), example={"boat": "ketch"})
    assert outcome.report is not None
    assert len(outcome.bound.values["other_units"]) == len(made.shelf("unit")) > MOST_ROWS


def test_two_guides_side_by_side() -> None:
    other = stock.with_layers({"own.toml": OIL.replace("oil", "ours").encode()})
    with stock.used(other):
        assert stock.guide() is other
    assert stock.guide() is STOCK


@pytest.mark.parametrize(
    ("own", "expected"),
    [
        ('[task.oil]\nname = "X"\n', [("twice", "1.toml", 1)]),
        ('\n[change.task.oli]\nname = "X"\n', [("absent", "1.toml", 2)]),
        ('[replace.task.oli]\nname = "X"\n', [("absent", "1.toml", 1)]),
        ('[drop]\ntask = ["oli"]\n', [("absent", "1.toml", 2)]),
        ('[drop]\ntask = ["oil", "oil"]\n', [("twice", "1.toml", 2)]),
        ('[drop]\ntask = ["oil"]\n[change.task.oil]\nname = "X"\n', [("twice", "1.toml", 2)]),
        ('[drop]\ntsk = ["oil"]\n', [("kind", "1.toml", 2)]),
        ('[drop]\ntask = "oil"\n', [("form", "1.toml", 2)]),
        ('drop = "oil"\n', [("form", "1.toml", 1)]),
        ("change = 1\n", [("form", "1.toml", 1)]),
        ("[change]\ntask = 1\n", [("form", "1.toml", 1)]),
        ('[change.tsk.oil]\nname = "X"\n', [("kind", "1.toml", 1)]),
        ('[changed.task.oil]\nname = "X"\n', [("kind", "1.toml", 1)]),
        ('[change.task.oil]\nhours = "9 kg"\n', [("value", "1.toml", 2)]),
        ("[change.task.oil]\n\nhuors = '9 h'\n", [("value", "1.toml", 3)]),
    ],
)
def test_what_a_layer_can_not_do(own: str, expected: list[tuple[str, str, int]]) -> None:
    assert told(read(OIL, own).faults) == expected


def test_a_fault_of_a_lower_layer_is_told_where_it_was_written() -> None:
    below = OIL.replace("300 h", "1 h")  # too often
    assert told(read(below, '[change.task.oil]\ntools = "cup"\n').faults) == [
        ("value", "0.toml", 3)
    ]


def test_two_files_of_one_layer_may_not_give_one_record() -> None:
    found = read({"a.toml": OIL, "b.toml": OIL})
    assert told(found.faults) == [("twice", "b.toml", 1)]


def test_what_is_dropped_but_still_referred_to_is_told_at_the_drop() -> None:
    own = {"own.toml": b'[drop]\nmotor = ["wick-075-50"]\n'}
    found = equipment.read([stock.records(), own], KINDS)
    users = [u for u in STOCK.shelf("unit").values() if u.motor.key == "wick-075-50"]
    assert users
    assert {(f.key, f.file, f.line) for f in found.faults} == {("dropped", "own.toml", 2)}
    assert len(found.faults) == len(users)


def test_a_fault_is_not_told_again_by_all_that_refer_to_it() -> None:
    own = {"own.toml": b'[change.motor.wick-075-50]\nmass = "12 bar"\n'}
    found = equipment.read([stock.records(), own], KINDS)
    assert told(found.faults) == [("value", "own.toml", 2)]


@pytest.mark.parametrize("text", ["0.95", "95", "0,95"])
def test_a_per_cent_wants_its_sign(text: str) -> None:
    own = f'[change.motor.wick-075-50]\npower_factor = "{text}"\n'
    found = equipment.read([stock.records(), {"own.toml": own.encode()}], KINDS)
    assert told(found.faults) == [("percent", "own.toml", 2)]
    assert "%" in found.faults[0].sentence


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        (OIL + "\n" + OIL, [1, 5]),
        (OIL + '[task.belt]\nname = "Belt"\n[ task . "oil" ]\n', [1, 6]),
        (OIL + 'tools = "cup"\nhours = "200 h"', [3, 5]),
        ('[drop]\ntask = "all"\n\n[drop]\npart = "all"\n', [1, 4]),
    ],
)
def test_what_is_said_twice_is_told_with_both_lines(text: str, lines: list[int]) -> None:
    (fault,) = read({"a.toml": text}).faults
    assert (fault.key, fault.line) == ("twice", lines[1])
    assert list(map(int, re.findall(r"in line (\d+)", fault.sentence))) == lines


def test_records_are_read_whatever_folder_they_stand_in(tmp_path: Path) -> None:
    for name in ("a.toml", "sold/2026/B.TOML", "c.toml.txt", ".c.toml", ".hidden/d.toml"):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(OIL.replace("oil", f"oil-{path.stem[0].lower()}"), "utf-8")
    layer = equipment.folder(tmp_path, "equipment/")
    assert list(layer) == ["equipment/a.toml", "equipment/sold/2026/B.TOML"]
    assert set(equipment.read([layer], KINDS).shelves["task"]) == {"oil-a", "oil-b"}
    assert layers.unread(tmp_path, "equipment/") == ["equipment/c.toml.txt"]


def test_an_encoding_is_named_by_its_file() -> None:
    layer = {"a.toml": b"\xef\xbb\xbf" + OIL.encode(), "b.toml": OIL.encode("utf-16")}
    assert [(f.key, f.file) for f in equipment.read([layer], KINDS).faults] == [
        ("mark", "a.toml"),
        ("encoding", "b.toml"),
    ]
