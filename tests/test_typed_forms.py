"""The type checker reads a form: a field that does not exist, or is of another type, is an error."""

from __future__ import annotations

from pathlib import Path

import pytest
from mypy import api

ROOT = Path(__file__).parents[1]
FORM = """
from calc.equipment.kinds import Unit
from calc.frame.inputs import Inputs, ask, record, whole

class Asks(Inputs):
    unit = record("Unit", Unit)
    flow = ask("Flow", "6 L/min")
    spare = ask("Spare", unit="W", optional=True)
    count = whole("Mounts", "4")

def answer(q: Asks) -> float:
    return {expression}
"""


@pytest.mark.parametrize(
    ("expression", "sound"),
    [
        ("q.flow * q.count * q.unit.motor.rated_power", True),
        ("q.flwo", False),
        ("q.unit.moter.mass", False),
        ("q.unit.motor.rated_powr", False),
        ("q.spare * 2", False),  # may be empty
        ("q.flow.group", False),  # a value, no field
    ],
)
def test_a_misspelt_field_is_a_type_error(expression: str, sound: bool, tmp_path: Path) -> None:
    file = tmp_path / "form.py"
    file.write_text(FORM.format(expression=expression), "utf-8")
    told, wrong, code = api.run(["--config-file", str(ROOT / "pyproject.toml"), str(file)])
    assert (code == 0) == sound, told + wrong
