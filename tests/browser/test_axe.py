"""axe-core finds no fault on any page: narrow as it opens, and unfolded, wide or between by turns.

One of both is in paper, and the other by turns in the other looks: all are drawn by one set of names of
colours. Of a long table's rows that are alike a few stand for all.
"""

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
NARROW, BETWEEN, WIDE = 360, 768, 1280
ALIKE = "tbody > tr:not([class]):nth-child(n+9)"
LOOKS = ("paper", "slate", "night", "sun")
RULES = "runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']"  # WCAG 2.2, A and AA
LOOK = "look => { document.body.dataset.mdColorScheme = look; }"
BOAT = """
localStorage.setItem("brinebook:boat:1.name", '"Alder"');
localStorage.setItem("brinebook:boat:1.bank_capacity", '"520 Ah"');
"""


@pytest.fixture(scope="module")
def page(chromium: Browser) -> Iterator[Page]:
    """One for all pages: the engine goes on from one to the next."""
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


def faults(page: Page, width: int, look: str) -> list[str]:
    """What axe finds in the page as it stands, so wide and in this look."""
    page.set_viewport_size({"width": width, "height": 900})
    page.evaluate(LOOK, look)
    result = page.evaluate(
        f"axe.run({{ include: ['html'], exclude: ['{ALIKE}'] }},"
        # Of what passes one node each is told: to name them all takes longer than to look at them.
        f" {{ {RULES}, resultTypes: ['violations'] }})"
        ".then(({ violations, passes }) => ({ violations, passes: passes.length }))"
    )
    assert result["passes"], "axe has looked at nothing"
    return [
        f"{width} px, {look}: {fault['id']}: {node['failureSummary']} {node['html'][:160]}"
        for fault in result["violations"]
        for node in fault["nodes"]
    ]


def test_all_pages_are_looked_at(built_site: Path) -> None:
    assert live.pages_of(built_site) == PAGES


@pytest.mark.parametrize("name", PAGES)
def test_axe_finds_no_fault(page: Page, site: Site, name: str) -> None:
    page.set_viewport_size({"width": WIDE, "height": 900})
    live.turn_to(page, site.url + name)
    page.evaluate("Boolean(self.axe)") or page.evaluate(AXE)
    calculates = bool(page.locator("section.calc").count())
    if calculates:
        live.await_ready(page)
        live.await_answers(page)
    elif page.locator(".dashboard-none").count():
        page.wait_for_selector("[data-dashboard]")
    page.wait_for_selector("[data-stale]", state="detached")  # what is old is faded on purpose
    turn = PAGES.index(name)
    paper, other = LOOKS[0], LOOKS[1 + turn % (len(LOOKS) - 1)]
    found = faults(page, NARROW, (paper, other)[turn % 2])
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    found += faults(page, (WIDE, BETWEEN)[turn // 2 % 2], (other, paper)[turn % 2])
    assert found == []
