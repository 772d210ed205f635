"""Files come with every kind of line end, as old programs and other systems write them."""

from __future__ import annotations

import pytest

from calc.frame import boatfile, log
from calc.sheet import BoatSheet

ENDS = ("\n", "\r\n", "\r")


@pytest.mark.parametrize("end", ENDS)
def test_a_log_is_read(end: str) -> None:
    lines = ["date;entry;hours;task;note", "2026-01-02;reading;80;;a, b", "2026-02-02;reading;90;;"]
    found = log.MACHINE.read(end.join([*lines, ""]))
    assert [(one.hours, one.note) for one in found] == [(80, "a, b"), (90, "")]


@pytest.mark.parametrize("end", ENDS)
def test_a_boat_sheet_is_read(end: str) -> None:
    lines = ['name = "Alder"', 'has_inverter = "yes"', ""]
    assert boatfile.read(end.join(lines), BoatSheet) == {"name": "Alder", "has_inverter": "yes"}
