"""axe-core finds no fault on any page: at three widths in light and dark, and contrast in every look."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from site_build import machine
from site_build.server import Site

from . import live

AXE = (machine.NODE_MODULES / "axe-core/axe.min.js").read_text("utf-8")
PAGES = sorted(f"{path.stem}.html" for path in (machine.ROOT / "docs").glob("*.md"))
WIDTHS = (360, 768, 1280)
LOOKS = ("paper", "slate", "night", "sun")
CRITERIA = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]  # WCAG 2.2, levels A and AA
LOOK = "look => { document.body.dataset.mdColorScheme = look; }"
BOAT = """
localStorage.setItem("brinebook:boat:1.name", '"Alder"');
localStorage.setItem("brinebook:boat:1.bank_capacity", '"520 Ah"');
"""


@pytest.fixture
def page(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context(reduced_motion="reduce", service_workers="block")
    context.add_init_script(BOAT)
    page = context.new_page()
    # Colours that change by degrees would be looked at halfway.
    page.add_init_script(
        "addEventListener('DOMContentLoaded', () => document.head.insertAdjacentHTML('beforeend',"
        " '<style>*, ::before, ::after { transition: none !important }</style>'));"
    )
    yield page
    context.close()


def faults(page: Page, rules: list[str]) -> list[str]:
    result = page.evaluate(
        "only => axe.run({ runOnly: only, resultTypes: ['violations', 'passes'] })", rules
    )
    assert result["passes"], "axe has looked at nothing"
    return [
        f"{fault['id']}: {node['failureSummary']} {node['html'][:160]}"
        for fault in result["violations"]
        for node in fault["nodes"]
    ]


def test_all_pages_are_looked_at(built_site: Path) -> None:
    assert live.pages_of(built_site) == PAGES


@pytest.mark.parametrize("name", PAGES)
def test_axe_finds_no_fault(page: Page, site: Site, name: str) -> None:
    page.goto(site.url + name)
    if page.locator("section.calc").count():
        live.await_ready(page)
        page.wait_for_selector("section.calc[data-answer=waiting]", state="detached")
    page.evaluate(AXE)
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        for look in ("paper", "slate"):
            page.evaluate(LOOK, look)
            found += [f"{width} px, {look}: {fault}" for fault in faults(page, CRITERIA)]
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    for look in LOOKS:
        page.evaluate(LOOK, look)
        found += [f"unfolded, {look}: {fault}" for fault in faults(page, ["color-contrast"])]
    assert found == []
