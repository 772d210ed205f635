"""An edition of many units: what an earlier check found is found again, and nothing stale is."""

from __future__ import annotations

import shutil
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from large import large, reprice

from calc import equipment, stock
from calc.frame.guide import Guide
from site_build import check, check_answers, edition

UNITS = 3
OF_THEIR_OWN = ("feed", "mount", "power")  # calculators that look at no unit but the boat's
LISTS_ALL = "need"  # one that looks at every unit
FEW_CALCULATORS = (*OF_THEIR_OWN, LISTS_ALL)
BOATS = 2


@pytest.fixture
def runs(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Each run of a calculator, by what it was filled in with."""
    seen: list[str] = []
    run = check_answers._refused

    def counted(
        guide: Guide, calculator: object, typed: dict[str, str], example: dict[str, str]
    ) -> str:
        seen.append(typed.get("unit") or example["boat"])
        return run(guide, calculator, typed, example)  # type: ignore[arg-type]

    monkeypatch.setattr(check_answers, "_refused", counted)
    monkeypatch.setattr(check_answers, "FEW", UNITS)
    monkeypatch.setattr(Guide, "names", lambda self: FEW_CALCULATORS)
    return seen


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return large(tmp_path / "edition", UNITS, 0, ("en",))


def checked(folder: Path) -> list[str]:
    """What `check` tells of the answers for units and boats."""
    made = edition.read(folder)
    read = equipment.read([stock.records(), *check.layers(made)], stock.kinds())
    assert not read.faults
    guide = stock.with_shelves(read.shelves)
    return [str(fault) for fault in check_answers.refused(guide, made, read)]


def more(folder: Path, text: str) -> None:
    (folder / "equipment" / "more.toml").write_text(text, "utf-8")


def test_only_what_has_changed_is_run_again(folder: Path, runs: list[str]) -> None:
    stocks = len(stock.guide().shelf("unit"))
    assert checked(folder) == []
    assert len(runs) == (UNITS + stocks + BOATS) * len(FEW_CALCULATORS)
    runs.clear()
    assert checked(folder) == [] and runs == []
    reprice(folder, "2950 €")
    assert checked(folder) == []
    assert Counter(runs) - Counter({"u0": len(OF_THEIR_OWN)}) == Counter(set(runs))
    assert len(set(runs)) == UNITS + stocks + BOATS
    assert (folder / check_answers.KEPT / ".gitignore").read_text() == "*\n"


def _mass(folder: Path) -> None:
    more(folder, '[change.motor.wick-075-50]\nmass = "14 kg"\n')


def _no_answer(folder: Path) -> None:
    more(folder, '[change.unit.skerry-70]\nproduct_flow = "420 L/h"\n')


def _waters(folder: Path) -> None:
    keys = list(stock.guide().shelf("waters"))
    more(folder, f'[change.waters.{keys[0]}]\nname = "Elsewhere"\n')


def _example(folder: Path) -> None:
    path = folder / edition.FILE
    path.write_text(path.read_text("utf-8") + 'boats = ["catamaran", "ketch"]\n', "utf-8")


def _torn(folder: Path) -> None:
    path = folder / check_answers.KEPT / check_answers.FILE
    path.write_text(path.read_text("utf-8")[:-20], "utf-8")


@pytest.mark.parametrize("change", [_mass, _no_answer, _waters, _example, _torn])
def test_what_is_found_again_is_what_would_be_found_anew(
    folder: Path, runs: list[str], change: Callable[[Path], None]
) -> None:
    checked(folder)
    change(folder)
    again = checked(folder)
    runs.clear()
    shutil.rmtree(folder / check_answers.KEPT)
    assert checked(folder) == again
    assert runs
    assert bool(again) == (change is _no_answer)


def test_a_small_edition_keeps_nothing(
    folder: Path, runs: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(check_answers, "FEW", 30)
    checked(folder)
    assert not (folder / check_answers.KEPT).exists()
