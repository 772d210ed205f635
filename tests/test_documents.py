"""What the documents tell to write does what they say."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from calc.cautions import shown

ROOT = Path(__file__).parents[1]


def python_blocks(name: str) -> list[str]:
    return re.findall(r"^```python\n(.*?)^```", (ROOT / name).read_text("utf-8"), re.S | re.M)


def test_the_calculator_in_developers_keeps_the_laws(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Put where it says, the bucket is a calculator: figures, working, cautions."""
    import runpy

    (source,) = python_blocks("DEVELOPERS.md")
    file = tmp_path / "bucket.py"
    file.write_text(source.replace("from ..", "from calc."), "utf-8")
    made = runpy.run_path(str(file))
    from calc.report import Report

    report = Report(made["TITLE"], "?")
    bound = made["Asks"].of({"volume": 0.01, "flow": 45e-3 / 3600})
    made["answer"](bound, report)
    (figure,) = report.figures
    assert figure.value.value == pytest.approx(800)
    assert report.verdict == "fits" and report.steps and report.headlines
    assert [one.key for one in shown("bucket", vars(bound), report.facts)] == ["estimate"]
