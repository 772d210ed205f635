"""How often the diagnosis is right: the published table, and a small sample counted again."""

from __future__ import annotations

import json
import math
from html import escape
from typing import Any

import how_often
import pytest

from calc.system.faults import NOTHING
from site_build import how_often as shown

MADE: dict[str, Any] = json.loads(how_often.DATA.read_text("utf-8"))
ROWS = {row["key"]: row for row in MADE["rows"]}
# What a trial before this model was built had shown to be had. Without a day one, large faults in
# the first three, it had 0.92: the table falls short of that, and says so.
AIMS = [
    ("own", "clear", "first", 0.75),
    ("own", "clear", "three", 0.97),
    ("other", "clear", "first", 0.70),
    ("other", "clear", "three", 0.94),
    ("own", "all", "asked_first", 0.80),
    ("own", "all", "asked_three", 0.93),
    ("other", "all", "asked_first", 0.75),
    ("other", "all", "asked_three", 0.90),
    ("own", "clear", "asked_first", 0.92),
    ("own", "clear", "asked_three", 0.98),
    ("five", "all", "three", 0.80),
]


@pytest.mark.parametrize(("row", "sizes", "told", "aim"), AIMS)
def test_the_table_is_as_good_as_was_asked(row: str, sizes: str, told: str, aim: float) -> None:
    """Within two standard errors of its count."""
    found = ROWS[row][sizes]
    assert found[told] >= aim - 2 * math.sqrt(aim * (1 - aim) / found["count"])


@pytest.mark.parametrize("row", ["own", "other"])
def test_few_are_told_as_faulty_that_are_well(row: str) -> None:
    alarms = ROWS[row]["alarms"]
    slack = 2 * math.sqrt(0.05 * 0.95 / alarms["count"])
    assert alarms["told"] <= 0.05 + slack
    assert alarms["asked"] <= 0.05 + slack


SAMPLE = "filters", "boost", "air", "oring", "packing", "fouling"


@pytest.mark.parametrize("row", how_often.ROWS[:2], ids=lambda row: row.key)
def test_a_small_sample_counted_again_is_as_published(row: how_often.Row) -> None:
    """Other draws than those of the table; within three standard errors."""
    large = how_often.Row(row.key, row.kind, row.names, row.day_one, (1 / 3, 1.0))
    results = [one for cause in SAMPLE for _, one in how_often.sample(large, cause, 2, seed=4)]
    share = sum(one.rank <= 3 for one in results) / len(results)
    told = ROWS[row.key]["clear"]["three"]
    assert share >= told - 3 * math.sqrt(max(told * (1 - told), 0.03) / len(results))
    well = [one for _, one in how_often.sample(row, NOTHING, 6, seed=4)]
    assert sum(one.faulty for one in well) <= 2


def test_the_table_names_every_cause_with_its_size() -> None:
    html = shown.as_html()
    for one in MADE["causes"]:
        if one["key"] != "gauge":
            assert escape(shown.NAMES[one["key"]]) in html
    assert shown.size("filters", 0.0) == "40 % of the drop at which they are changed"
    assert shown.size("volts", 0.0) == "6 % too low"
    assert shown.size("saltier", 1.0) == "20 % more salt"
