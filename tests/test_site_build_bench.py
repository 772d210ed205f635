"""The bench, without a browser: what it compares with, and how it reckons."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from calc import stock
from site_build import bench, bench_table, long_log
from site_build.steps import Trouble


def test_the_plain_page_keeps_the_words_and_the_size() -> None:
    html = (
        '<html><head><link rel="stylesheet" href="a.css"><script>1\n2</script></head>'
        "<body><p>Größe</p><style>p{}</style>" + "<script>long()</script>" * 20 + "</body></html>"
    )
    plain = bench._plain(html)
    assert len(plain.encode()) == len(html.encode())
    assert "<p>Größe</p>" in plain
    assert "<script" not in plain
    assert "<link" not in plain


def test_a_ratio_is_taken_run_by_run() -> None:
    """The ratio of the medians would be 1.0 here."""
    runs = [(10.0, 100.0), (100.0, 200.0), (200.0, 100.0)]
    visits = [{"ours": {"t": ours}, "theirs": {"t": theirs}} for ours, theirs in runs]
    row = bench_table.compared(visits, "x", ("ours", "t"), ("theirs", "t"), "peer", aim=0.4)
    assert (row.ratio, row.aim, row.met) == ("0.50", "≤ 0.4", "NO")
    assert (row.value, row.spread, row.against) == ("100 ms", "10–200", "peer 100 ms")


def test_a_machine_is_busy_by_its_cores() -> None:
    loads = [(0.4, 1), (0.6, 2), (1.9, 4), (0.6, 1), (1.1, 2), (2.1, 4)]
    assert [bool(bench_table.busy(*one)) for one in loads] == [False] * 3 + [True] * 3


def test_p95() -> None:
    assert bench_table.p95([float(n) for n in range(101)]) == 95.0


def test_a_site_without_a_calculator_is_not_measured(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("words")
    with pytest.raises(Trouble, match="No page"):
        bench.page_of(tmp_path, "power")


def test_the_steps_of_a_build_are_timed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bench, "BUILD", "print('One …', flush=True); import time; time.sleep(0.5)")
    built = bench._build(tmp_path, tmp_path)
    assert built.steps.keys() == {"One"}
    assert 0.5 <= built.steps["One"] <= built.time
    monkeypatch.setattr(bench, "BUILD", "print('broken'); raise SystemExit(1)")
    with pytest.raises(Trouble, match="broken"):
        bench._build(tmp_path, tmp_path)


def test_the_boat_with_a_long_log_has_an_answer() -> None:
    """The bench types on its page and waits for the answer to change."""
    guide = stock.guide()
    made, day = guide.get("upkeep"), date(2026, 5, 31)
    said = long_log.sheet(day)
    assert guide.run(made, {"today": str(day)}, sheet=said, own_boat=True).report is not None
