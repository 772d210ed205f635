"""What the documents tell to write does what they say."""

from __future__ import annotations

import re
import runpy
from dataclasses import replace
from pathlib import Path

import pytest

from calc import stock
from calc.frame.guide import Calculator

ROOT = Path(__file__).parents[1]


def python_blocks(name: str) -> list[str]:
    return re.findall(r"^```python\n(.*?)^```", (ROOT / name).read_text("utf-8"), re.S | re.M)


def test_the_calculator_in_developers_keeps_the_laws(tmp_path: Path) -> None:
    """Put where it says, the bucket is a calculator: figures, working, cautions."""
    (source,) = python_blocks("DEVELOPERS.md")
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
