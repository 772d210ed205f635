"""What the documents tell to write does what they say."""

from __future__ import annotations

import math
import re
import runpy
import shlex
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from calc import equipment, stock, terminal
from calc.frame.guide import Calculator
from calc.frame.report import VERDICT_WORDS
from site_build import commands

ROOT = Path(__file__).parents[1]


def python_blocks(name: str) -> list[str]:
    return re.findall(r"^```python\n(.*?)^```", (ROOT / name).read_text("utf-8"), re.S | re.M)


def test_the_calculator_in_developers_keeps_the_laws(tmp_path: Path) -> None:
    """Put where it says, the bucket is a calculator: figures, working, cautions."""
    source, _ = python_blocks("DEVELOPERS.md")
    file = tmp_path / "bucket.py"
    file.write_text(source.replace("from ..", "from calc."), "utf-8")
    made = runpy.run_path(str(file))
    bucket = Calculator("bucket", made["TITLE"], made["__doc__"], made["Asks"], made["answer"])
    guide = stock.guide()
    asked = {name: guide.calculators[name] for name in guide.calculators} | {"bucket": bucket}
    outcome = replace(guide, calculators=asked).run(bucket, {"volume": "10 L", "flow": "45 L/h"})
    report = outcome.report
    assert report and not outcome.bound.faults
    (figure,) = report.figures
    assert figure.value.value == pytest.approx(800)
    assert report.verdict == "fits" and report.steps and report.headlines
    assert [one.key for one in report.cautions] == ["estimate"]


def commands_of(module: str) -> list[list[str]]:
    """The words behind `python3 -m MODULE` in the documents, in blocks and in running text."""
    told = "".join((ROOT / name).read_text("utf-8") for name in ("README.md", "DEVELOPERS.md"))
    blocks = re.findall(rf"^    python3 -m {module}\b(.*)$", told, re.M)
    return [shlex.split(words, comments=True) for words in blocks] + [
        shlex.split(words) for words in re.findall(rf"`python3 -m {module} ([^`]*)`", told)
    ]


@pytest.mark.parametrize("words", commands_of("calc"), ids=" ".join)
def test_what_readme_types_at_a_terminal_answers(
    words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert terminal.main(words) == 0
    out, err = capsys.readouterr()
    assert len(out.splitlines()) > 5 and not err


@pytest.mark.parametrize("words", commands_of("site_build"), ids=" ".join)
def test_the_commands_of_the_documents_are_known(
    words: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each begins the command it names; what that does has tests of its own."""
    begun: list[str] = []
    for name in ("serve", "build", "test", "card", "clean", "bench"):

        def begin(options: Any, rest: list[str], name: str = name) -> int:
            begun.append(name)
            return 0

        monkeypatch.setattr(commands, name, begin)
    assert commands.main(words) == 0
    assert begun == words[:1]


def test_readmes_python_gives_a_verdict() -> None:
    told = (ROOT / "README.md").read_text("utf-8")
    found = re.search(r"^    from calc import answer\n    (answer\(.*\)\.verdict)$", told, re.M)
    assert found
    known: dict[str, Any] = {}
    exec("from calc import answer", known)
    assert eval(found[1], known) in VERDICT_WORDS


def test_each_file_that_developers_name_is_there() -> None:
    told = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    for name in re.findall(r"`((?:calc|tests|site_build|docs|requirements)/[\w./-]*)`", told):
        assert (ROOT / name).exists(), name


def test_a_calculator_brings_its_own_units_and_records(tmp_path: Path) -> None:
    """The funnel, with a file of records: a form, a figure, and a viscosity that is read."""
    _, source = python_blocks("DEVELOPERS.md")
    file = tmp_path / "funnel.py"
    file.write_text(source.replace("from ..", "from calc."), "utf-8")
    made = runpy.run_path(str(file))
    (tmp_path / "oils.toml").write_text(
        '[oil.vg-100]\nname = "Straight oil, VG 100"\nviscosity = "100 mm2/s"\n', "utf-8"
    )
    shelves = equipment.load(tmp_path, {"oil": made["Oil"]})
    funnel = Calculator(
        "funnel", made["TITLE"], made["__doc__"], made["Asks"], made["answer"], kinds=made["KINDS"]
    )
    guide = replace(
        stock.guide(),
        kinds={**stock.guide().kinds, "oil": made["Oil"]},
        shelves={**stock.guide().shelves, **shelves},
        calculators={**stock.guide().calculators, "funnel": funnel},
    )
    report = guide.run(funnel, {"oil": "vg-100", "volume": "1 L", "bore": "20 mm"}).report
    assert report is not None
    theirs = 128 * 1e-4 * 1e-3 / (math.pi * 9.80665 * 0.02**4)
    assert report.figures[0].value.value == pytest.approx(theirs)
    same = guide.run(funnel, {"viscosity": "100 cSt", "volume": "1 L", "bore": "20 mm"}).report
    assert same is not None  # a unit that only Pint knows
    assert same.figures[0].value.value == pytest.approx(theirs)
    for wrong in ("3 bar", "3 blobs"):
        (fault,) = guide.run(funnel, {"viscosity": wrong}).bound.faults
        assert fault.field == "viscosity"
