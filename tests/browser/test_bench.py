"""The bench's own instruments, on pages whose times are known."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from site_build import bench, bench_visits, server
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
  document.querySelector("input").addEventListener("input", () => {{
    section.dataset.answer = "waiting";
    setTimeout(() => {{ section.dataset.answer = "first"; }}, {COMPUTES_FOR});
    setTimeout(() => {{ section.dataset.answer = "current"; }}, {2 * COMPUTES_FOR});
  }});
</script></body></html>
"""


@pytest.fixture
def known(tmp_path: Path) -> Iterator[server.Site]:
    (tmp_path / "good.html").write_text(PAGE.replace("END", "ready"))
    (tmp_path / "bad.html").write_text(PAGE.replace("END", "failed"))
    with server.serve(tmp_path) as running:
        running.host.headers = {}  # its pages have their scripts in themselves
        yield running


def test_the_instruments_tell_known_times(known: server.Site, chromium: Browser) -> None:
    with bench_visits.newcomer(chromium) as reader:
        page = bench_visits.opened(reader, f"{known.url}good.html")
        marks = bench_visits.marks(page, "answer", "ready")
        strokes = bench_visits.typed(page)
        assert ANSWER_AFTER <= marks["answer"] < READY_AFTER <= marks["ready"]
        assert len(strokes) == bench_visits.KEYSTROKES
        assert all(COMPUTES_FOR - 2 <= s["changed"] <= s["painted"] for s in strokes)
        assert all(s["whole"] >= 2 * COMPUTES_FOR - 2 for s in strokes)
        assert page.input_value("input") == "2.4"
    with (
        bench_visits.newcomer(chromium) as reader,
        pytest.raises(Trouble, match=r"The engine failed.*Told why\."),
    ):
        bench_visits.marks(bench_visits.opened(reader, f"{known.url}bad.html"), "ready")


@pytest.mark.skipif(os.name == "nt", reason="Windows does not tell")
def test_scripts_that_hold_memory_weigh_more(
    known: server.Site, tmp_path: Path, chromium: Browser
) -> None:
    (tmp_path / "heavy.html").write_text(
        "<!doctype html><title>Heavy</title><p>Heavy</p><script>"
        "self.held = new Uint8Array(100e6).fill(1);"
        'document.querySelector("p").dataset.engine = "ready";</script>'
    )
    visitor = bench._Bench(
        chromium,
        f"{known.url}heavy.html",
        "",
        tmp_path / "heavy.html",
        known.url,
        {},
        offline=False,
    )
    memory = visitor._weigh()["memory"]
    assert memory is not None
    for name in ("engine", "copy"):
        assert 90e6 < memory[name] - memory["without"] < 250e6
