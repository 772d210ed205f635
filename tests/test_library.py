"""The package as a library and as a command, from outside."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import calc
from calc import answer, stock

ROOT = Path(__file__).parents[1]


def test_an_answer_is_that_of_the_guide() -> None:
    typed = {"bank_capacity": "400 Ah", "bank_chemistry": "lifepo4", "has_generator": False}
    guide = stock.guide()
    expected = guide.run(guide.get("power"), typed, example={"boat": "ketch"}).report
    assert expected is not None
    assert answer("power", boat="ketch", **typed).as_data() == expected.as_data()


def test_a_sheet_counts_where_nothing_is_given() -> None:
    sheet = {"bank_capacity": "200 Ah", "name": "Alder"}
    small = answer("power", boat="ketch", sheet=sheet).as_data()
    assert small == answer("power", boat="ketch", bank_capacity="200 Ah").as_data()
    large = answer("power", boat="ketch", sheet=sheet, bank_capacity="800 Ah").as_data()
    assert large == answer("power", boat="ketch", bank_capacity="800 Ah").as_data() != small


def test_every_fault_is_named_at_once() -> None:
    with pytest.raises(calc.InputRefused) as refused:
        answer("power", bank_capacity="-4 Ah", ac_voltage="12 V")
    told = str(refused.value).splitlines()
    assert len(told) == 2
    assert any("-4 Ah" in line for line in told) and any("12 V" in line for line in told)
    with pytest.raises(KeyError, match="power"):
        answer("powr")
    with pytest.raises(KeyError, match="ketch"):
        answer("power", boat="kech")


def command(folder: Path) -> subprocess.CompletedProcess[str]:
    """`python3 -m calc` in a Python without any packages."""
    line = [sys.executable, "-S", "-m", "calc", "layup"]
    return subprocess.run(line, cwd=folder, capture_output=True, text=True, timeout=60)


def test_the_command_goes_on_in_the_projects_own_python() -> None:
    done = command(ROOT)
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith(stock.guide().get("layup").title)


def test_without_packages_and_without_the_projects_python_it_says_what_to_run(
    tmp_path: Path,
) -> None:
    shutil.copytree(ROOT / "calc", tmp_path / "calc")
    done = command(tmp_path)
    assert done.returncode == 1
    assert len(done.stderr.splitlines()) == 1 and "site_build" in done.stderr
