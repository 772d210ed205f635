"""What the documents tell to write does what they say."""

from __future__ import annotations

import math
import re
import shlex
from pathlib import Path
from typing import Any

import pytest

from calc import glossary, stock, terminal
from calc.frame.guide import Guide
from calc.frame.report import FITS, VERDICT_WORDS
from site_build import commands, laws

ROOT = Path(__file__).parents[1]


def python_blocks(name: str) -> list[str]:
    return re.findall(r"^```python\n(.*?)^```", (ROOT / name).read_text("utf-8"), re.S | re.M)


@pytest.fixture(scope="module")
def taught() -> Guide:
    """The guide with the calculators of DEVELOPERS.md, and a record of theirs."""
    sources = zip(("bucket.py", "funnel.py"), python_blocks("DEVELOPERS.md"), strict=True)
    record = b'[oil.vg-100]\nname = "Straight oil, VG 100"\nviscosity = "100 mm2/s"\n'
    return stock.with_layers({"oils.toml": record}, sources=dict(sources))


TAUGHT = {"bucket": {"boat": "ketch"}, "funnel": {"oil": "vg-100"}}


@pytest.mark.parametrize(("name", "example"), TAUGHT.items())
def test_the_calculators_of_developers_keep_the_laws(
    taught: Guide, name: str, example: dict[str, str]
) -> None:
    """What the tests of all calculators ask of one: else the recipe leaves something out."""
    made = taught.get(name)
    report = taught.run(made, example=example).report
    assert report is not None and report.headlines and report.cautions
    assert len(report.wanted_figures()) >= 2
    assert list(laws.strangers(report, glossary.of(taught))) == []
    hers = taught.run(made, example=example, sheet={"name": "Alder"}, own_boat=True)
    assert hers.report is None and len(hers.lacks) == len(made.decides)


def test_the_bucket_takes_its_flow_from_the_boat(taught: Guide) -> None:
    made = taught.get("bucket")
    for typed, flow in ({}, 45), ({"product_flow": "60 L/h"}, 60):
        report = taught.run(made, typed, example={"boat": "ketch"}).report
        assert report is not None and report.verdict == FITS
        assert report.figures[0].value.value == pytest.approx(10 / flow * 3600)


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


def test_a_calculator_brings_its_own_units_and_records(taught: Guide) -> None:
    """The funnel, with a file of records: a form, a figure, and a viscosity that is read."""
    funnel = taught.get("funnel")
    theirs = 128 * 1e-4 * 1e-3 / (math.pi * 9.80665 * 0.02**4)
    for said in {"oil": "vg-100"}, {"viscosity": "100 cSt"}:  # a unit that only Pint knows
        report = taught.run(funnel, {**said, "volume": "1 L", "bore": "20 mm"}).report
        assert report is not None
        assert report.figures[0].value.value == pytest.approx(theirs)
    for wrong in ("3 bar", "3 blobs"):
        (fault,) = taught.run(funnel, {"viscosity": wrong}).bound.faults
        assert fault.field == "viscosity"
