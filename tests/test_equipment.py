"""Equipment files: read whole, or complained about by file, line, record and field."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from calc import equipment, stock

KINDS = stock.guide().kinds


def test_the_demo_set_is_whole() -> None:
    shelves = equipment.load([stock.records()], KINDS)
    assert set(shelves) == set(KINDS)
    assert all(shelves.values())
    unit = shelves["unit"]["skerry-45"]
    assert unit.motor.rated_power == 750
    assert unit.motor.key == "wick-075-50"


@pytest.mark.parametrize("key", sorted(stock.guide().shelf("unit")))
def test_demo_units_are_plausible(key: str) -> None:
    """Recovery as on small units, 5 to 15 % (common practice, no source); parts not above the whole."""
    unit = stock.guide().shelf("unit")[key]
    flow = unit.pump.flow * unit.motor.rated_speed * unit.pump.speed_ratio / unit.pump.rated_speed
    assert 0.05 < unit.product_flow / flow < 0.15
    # Coupling, bell housing, base and feet: 2 to 6 kg (common practice, no source).
    assert 2 <= unit.mass - unit.motor.mass - unit.pump.mass <= 6
    membranes = unit.membranes
    brine = flow - unit.product_flow
    assert brine >= membranes.least_brine
    # What open-intake seawater elements are designed for: 8 to 20 L a square metre and hour
    # (common practice, no source).
    flux = unit.product_flow * 3.6e6 / (membranes.area * membranes.count)
    assert 8 <= flux <= 20
    assert unit.pressure <= min(unit.pump.highest_pressure, unit.membranes.highest_pressure)


def loaded(folder: Path, content: str) -> dict[str, dict[str, Any]]:
    (folder / "own.toml").write_text(content, "utf-8")
    return equipment.load([equipment.folder(folder)], KINDS)


@pytest.mark.parametrize("name", stock.guide().names())
def test_a_record_is_read_before_what_it_fills_in(name: str) -> None:
    """A form is read in its order: a record that stands later would fill in nothing."""
    fields = stock.guide().get(name).asks.fields
    order = list(fields)
    late = {
        made.name
        for made in fields.values()
        for path in (made.from_record, made.preset)
        if (first := path.partition(".")[0]) in fields
        and order.index(first) > order.index(made.name)
    }
    assert late == set()


FINE = '[bank.big]\nname = "Big"\ncapacity = "400 Ah"\nvoltage = "24 V"\n'


def test_a_hosts_own_record_is_read(tmp_path: Path) -> None:
    bank = loaded(tmp_path, FINE)["bank"]["big"]
    assert bank.capacity == 400 * 3600
    assert bank.chemistry == "agm"


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (('"400 Ah"', '"400 V"'), "own.toml, line 3: bank “big”, capacity: “V” measures a voltage"),
        (
            ('"24 V"', '"-24 V"'),
            "own.toml, line 4: bank “big”, voltage: “-24 V” is not allowed; it "
            "must be more than 0 V",
        ),
        (
            ("capacity", "capacty"),
            "own.toml, line 3: bank “big”, capacty: nothing of this name is asked "
            "(record). Did you mean “capacity”?",
        ),
        (
            ("[bank.big]", "[bnak.big]"),
            "own.toml, line 1: no kind is called “bnak”. Did you mean “bank”?",
        ),
        (('"24 V"\n', '"24 V"\nchemistry = "lipo"\n'), "own.toml, line 5: bank “big”, chemistry"),
        (('name = "Big"', "name = Big"), "own.toml, line 2: "),
        (("[bank.big]", "[bank]"), "own.toml, line"),
    ],
)
def test_a_broken_file_is_named_by_line_and_field(
    tmp_path: Path, change: tuple[str, str], expected: str
) -> None:
    with pytest.raises(equipment.EquipmentError) as caught:
        loaded(tmp_path, FINE.replace(*change))
    assert expected in str(caught.value)


def test_all_faults_of_all_records_at_once(tmp_path: Path) -> None:
    second = FINE.replace("big", "small").replace('"400 Ah"', '"0 Ah"')
    with pytest.raises(equipment.EquipmentError) as caught:
        loaded(tmp_path, FINE.replace('"24 V"', '"x"') + second)
    lines = str(caught.value).splitlines()
    assert [line.partition(":")[0] for line in lines] == ["own.toml, line 4", "own.toml, line 7"]
