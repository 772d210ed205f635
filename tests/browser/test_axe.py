"""axe-core finds no fault on any page: narrow, and by turns wide or between, and contrast.

Contrast, which takes it longest, is looked at with everything unfolded, in paper on each page and by
turns in the other looks, wide or narrow by turns: all are drawn by one set of names of colours. Of a
long table's rows that are alike a few stand for all.
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
CONTRAST = "runOnly: ['color-contrast']"
BUT_CONTRAST = (  # WCAG 2.2, levels A and AA
    "runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],"
    " rules: { 'color-contrast': { enabled: false } }"
)
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


def faults(page: Page, only: str) -> list[str]:
    """What axe finds by its options `only`."""
    result = page.evaluate(
        f"axe.run({{ include: ['html'], exclude: ['{ALIKE}'] }},"
        # Of what passes one node each is told: to name them all takes longer than to look at them.
        f" {{ {only}, resultTypes: ['violations'] }})"
        ".then(({ violations, passes }) => ({ violations, passes: passes.length }))"
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
    page.set_viewport_size({"width": WIDE, "height": 900})
    live.turn_to(page, site.url + name)
    page.evaluate("Boolean(self.axe)") or page.evaluate(AXE)
    page.evaluate(LOOK, LOOKS[0])
    calculates = bool(page.locator("section.calc").count())
    if calculates:
        live.await_ready(page)
        late = "section.calc:is([data-answer=waiting], [data-answer=first])"
        page.wait_for_selector(late, state="detached")
    elif page.locator(".dashboard-none").count():
        page.wait_for_selector("[data-dashboard]")
    page.wait_for_selector("[data-stale]", state="detached")  # what is old is faded on purpose
    turn = PAGES.index(name)
    found = []
    for width in (NARROW, (WIDE, BETWEEN)[turn % 2]):  # looks differ in colours alone
        page.set_viewport_size({"width": width, "height": 900})
        found += [f"{width} px: {fault}" for fault in faults(page, BUT_CONTRAST)]
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    page.set_viewport_size({"width": (WIDE, WIDE, NARROW)[turn // 3 % 3], "height": 900})
    for look in (LOOKS[0], LOOKS[1 + turn % (len(LOOKS) - 1)]):
        page.evaluate(LOOK, look)
        found += [f"{look}: {fault}" for fault in faults(page, CONTRAST)]
    assert found == []
