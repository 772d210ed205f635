"""The bench's own instruments, on pages whose times are known."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from site_build import bench, server
from site_build.steps import Trouble

ANSWER_AFTER = 400  # ms
READY_AFTER = 2500  # ms
COMPUTES_FOR = 60  # ms

PAGE = f"""<!doctype html><html><head><title>Known times</title></head><body>
<section data-calculator="x" data-engine="idle"><input inputmode="decimal" value="2">
<p data-engine-status>Told why.</p></section>
<script>
  const section = document.querySelector("section");
  setTimeout(() => {{
    section.insertAdjacentHTML("beforeend", '<div data-slot="answer"><p>It fits.</p></div>');
  }}, {ANSWER_AFTER});
  setTimeout(() => {{ section.dataset.engine = "END"; }}, {READY_AFTER});
  document.querySelector("input").addEventListener("input", ({{ target }}) => setTimeout(() => {{
    document.querySelector("[data-slot] p").textContent = "It fits " + target.value;
  }}, {COMPUTES_FOR}));
</script></body></html>
"""


@pytest.fixture
def site(tmp_path: Path) -> Iterator[server.Site]:
    (tmp_path / "good.html").write_text(PAGE.replace("END", "ready"))
    (tmp_path / "bad.html").write_text(PAGE.replace("END", "failed"))
    with server.serve(tmp_path) as running:
        yield running


@pytest.mark.browser
def test_the_instruments_tell_known_times(site: server.Site, tmp_path: Path) -> None:
    with bench._chromium() as browser:
        visitor = bench._Bench(
            browser, f"{site.url}good.html", tmp_path / "good.html", site.url, offline=False
        )
        with visitor._newcomer() as reader:
            page = bench._open(reader, f"{site.url}good.html")
            marks = bench._marks(page, "answer", "ready")
            strokes = bench._type(page)
            assert ANSWER_AFTER <= marks["answer"] < READY_AFTER <= marks["ready"]
            assert len(strokes) == bench.KEYSTROKES
            assert all(COMPUTES_FOR - 2 <= s["changed"] <= s["painted"] for s in strokes)
            assert page.input_value("input") == "2"
        with (
            visitor._newcomer() as reader,
            pytest.raises(Trouble, match=r"The engine failed.*Told why\."),
        ):
            bench._marks(bench._open(reader, f"{site.url}bad.html"), "ready")


@pytest.mark.browser
@pytest.mark.skipif(os.name == "nt", reason="Windows does not tell")
def test_scripts_that_hold_memory_weigh_more(site: server.Site, tmp_path: Path) -> None:
    (tmp_path / "heavy.html").write_text(
        "<!doctype html><title>Heavy</title><p>Heavy</p><script>"
        "self.held = new Uint8Array(100e6).fill(1);"
        'document.querySelector("p").dataset.engine = "ready";</script>'
    )
    with bench._chromium() as browser:
        visitor = bench._Bench(
            browser, f"{site.url}heavy.html", tmp_path / "heavy.html", site.url, offline=False
        )
        memory = visitor._weigh()["memory"]
    assert memory is not None
    without, with_scripts = memory
    assert 90e6 < with_scripts - without < 250e6


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
    row = bench._compared(visits, "x", ("ours", "t"), ("theirs", "t"), "peer", aim=0.4)
    assert (row.ratio, row.aim, row.met) == ("0.50", "≤ 0.4", "NO")
    assert (row.value, row.spread, row.against) == ("100 ms", "10–200", "peer 100 ms")


def test_p95() -> None:
    assert bench._p95([float(n) for n in range(101)]) == 95.0


def test_a_site_without_a_calculator_is_not_measured(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("words")
    with pytest.raises(Trouble, match="No page"):
        bench._calculator_page(tmp_path)


def test_the_steps_of_a_build_are_timed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bench, "BUILD", "print('One …', flush=True); import time; time.sleep(0.5)")
    built = bench._build(tmp_path, tmp_path)
    assert built.steps.keys() == {"One"}
    assert 0.5 <= built.steps["One"] <= built.time
    monkeypatch.setattr(bench, "BUILD", "print('broken'); raise SystemExit(1)")
    with pytest.raises(Trouble, match="broken"):
        bench._build(tmp_path, tmp_path)
