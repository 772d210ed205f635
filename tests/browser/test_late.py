"""What the engine does without at first: its library and packages, where its memory was to be had in time."""

from __future__ import annotations

import html
import json
import re
import time
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page

from calc import stock
from site_build import engine, server
from tests.test_own_calculators import BUCKET

from . import live

READS = """from ..frame.render import card_font

FONT = (card_font.FOLDER / "regular.woff2").read_bytes()
from ..frame.guide"""


@pytest.fixture
def host(own_site: Path) -> Iterator[server.Site]:
    with server.serve(own_site) as served:
        yield served


def answers(page: Page) -> None:
    live.await_ready(page)
    box = live.number_box(page)
    box.fill("3.6")
    live.await_current(page)
    assert live.answer(page) == live.expected_answer(page, live.typed_field(box, "3.6"))


def started(page: Page) -> str | None:
    return page.locator("section.calc").first.get_attribute("data-engine-start")


def with_a_calculator_that_reads_a_file(site: Path, name: str) -> None:
    """Give a page the guide of an edition that has one: it reads while it is imported."""
    data = json.loads(stock.data(stock.guide()))
    source = BUCKET.replace("from ..frame.guide", READS, 1)
    assert source.startswith(READS) or READS in source
    made = engine.guide_file(json.dumps({**data, "calculators": {"bucket.py": source}}))
    made.copy_to(site / "assets/engine")
    entry = html.escape(json.dumps(made.entry))
    page, count = re.subn(
        r'(<meta name="brinebook-guide" content=)"[^"]*"',
        lambda found: f'{found[1]}"{entry}"',
        (site / name).read_text("utf-8"),
    )
    assert count == 1
    (site / name).write_text(page, "utf-8")


@pytest.mark.parametrize("damaged", [False, True])
def test_what_asks_for_a_file_gets_it_or_is_told(
    rough_page: Page, host: server.Site, damaged: bool
) -> None:
    site = host.host.folder
    name = live.pages_with_calculators(site)[0]
    with_a_calculator_that_reads_a_file(site, name)
    part = live.engine_file(site, "packages")
    sound = part.read_bytes()
    if damaged:
        carried = live.carried(part)
        live.carry(part, carried[:-1000] + bytes(1000))
    rough_page.goto(host.url + name)
    if damaged:
        assert "damaged" in live.await_failed(rough_page)
        part.write_bytes(sound)
        rough_page.locator(".bb-engine-retry").first.click()
    answers(rough_page)
    assert started(rough_page) == "snapshot"
    assert any("/packages." in path for path in host.host.asked)


def test_a_slow_line_never_asks_for_the_snapshot(rough_page: Page, host: server.Site) -> None:
    """Every file takes a while: library and packages are a sixth of the snapshot's bytes."""
    asked: list[str] = []
    rough_page.on("request", lambda request: asked.append(urlsplit(request.url).path))

    def slow(path: str) -> bool:
        if re.search(r"/(worker|wasm)\.", path):
            time.sleep(1.2)
        elif re.search(r"\.(css|js)$", path):
            time.sleep(0.5)
        return False

    host.host.stalls = slow
    rough_page.goto(host.url + live.pages_with_calculators(host.host.folder)[0])
    answers(rough_page)
    assert started(rough_page) == "ordinary"
    assert any("/packages." in path for path in asked)
    assert not any("/snapshot." in path for path in asked)
