"""The hosted guide without its host: kept in the browser, updated when the reader wants it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page

from site_build import machine, offline, server

from . import live
from .conftest import watched

SUB_PATH = "/boats/möwe/"
OFFER = ".bb-update-accept"


@pytest.fixture
def host(own_site: Path) -> Iterator[server.Site]:
    """The site below a path, on a host that the test may stop and change."""
    with server.serve(own_site, prefix=SUB_PATH) as served:
        yield served


def keep_offline(page: Page, address: str) -> str:
    """Open a page and wait until the guide is kept. Returns what the page says then."""
    page.goto(address)
    page.wait_for_selector(".bb-offline-remove")
    return page.locator("[data-offline-status]").inner_text()


def new_edition(site: Path, engine_too: bool = False) -> None:
    """Change a word of every page, as a new edition of the guide would."""
    for name in live.pages_of(site):
        page = site / name
        text = page.read_text("utf-8").replace("<h1", '<p id="second">Second edition</p><h1')
        page.write_text(text, "utf-8")
    offline.finish(site, machine.node(), lambda _: None)


def edition(page: Page) -> int:
    return 1 + page.locator("#second").count()


def test_the_page_says_when_it_is_kept_how_large_it_is_and_of_which_edition(
    page: Page, host: server.Site
) -> None:
    said = keep_offline(page, host.url)
    kept = sum(
        path.stat().st_size
        for path in host.host.folder.rglob("*")
        if path.is_file() and path.name not in offline.NOT_KEPT
    )
    assert f"{kept / 1e6:.1f} MB" in said
    moment = offline.source_time()
    assert moment is None or f"{moment.tm_mday} {offline.MONTHS[moment.tm_mon - 1]}" in said


def test_every_page_and_every_calculator_works_once_the_server_is_gone(
    page: Page, host: server.Site
) -> None:
    keep_offline(page, host.url)
    host.close()
    for name in ["", *live.pages_of(host.host.folder)]:
        page.goto(host.url + name + "?h=word")
        assert page.locator("h1").inner_text()
        if page.locator("section.calc").count():
            live.await_ready(page)
            box = live.number_box(page)
            box.fill("4.1")
            live.await_current(page)
            assert live.answer(page) == live.expected_answer(page, live.typed_field(box, "4.1"))
        if name.endswith(".html"):  # hosts that leave the ending out
            page.goto(host.url + name.removesuffix(".html"))
            assert page.locator("h1").inner_text()
    page.keyboard.press("/")
    page.keyboard.type("generator")
    page.wait_for_selector(".md-search-result__item a")


def test_a_new_edition_is_offered_and_never_mixed_with_the_old(
    context: BrowserContext, page: Page, host: server.Site
) -> None:
    calculators = live.pages_with_calculators(host.host.folder)[0]
    keep_offline(page, host.url + calculators)
    port = host.port
    host.close()
    new_edition(host.host.folder)
    with server.serve(host.host.folder, port, SUB_PATH) as again:
        page.reload()
        live.await_ready(page)
        live.number_box(page).fill("2.9")
        page.wait_for_selector(OFFER)
        # Not taken yet: everything is of the old edition, in this page and in others.
        assert edition(page) == 1
        other = watched(context)
        other.page.goto(again.url)
        other.page.wait_for_selector(OFFER)
        assert edition(other.page) == 1
        assert not [path for path in again.host.asked if "/assets/engine/" in path], (
            "a change of words fetches no engine"
        )
        page.click(OFFER)
        page.wait_for_selector("#second")
        other.page.wait_for_selector("#second")
        live.await_current(page)
        box = live.number_box(page)
        assert box.input_value() == "2.9"
        assert live.answer(page) == live.expected_answer(page, live.typed_field(box, "2.9"))
        assert page.locator(OFFER).count() == 0
        assert other.complaints == []
    page.goto(host.url)
    assert edition(page) == 2, "the new edition is kept"


def test_an_edition_that_arrives_only_in_part_changes_nothing(
    context: BrowserContext, host: server.Site
) -> None:
    rough = watched(context).page
    keep_offline(rough, host.url)
    new_edition(host.host.folder)
    # One page is still of the old edition on the host: it is being copied there right now.
    late = host.host.folder / live.pages_of(host.host.folder)[-1]
    late.write_text(late.read_text("utf-8").replace("Second", "Half"), "utf-8")
    rough.reload()
    rough.wait_for_timeout(3000)
    assert edition(rough) == 1
    assert rough.locator(OFFER).count() == 0


def test_the_copy_can_be_removed_and_had_again(page: Page, host: server.Site) -> None:
    keep_offline(page, host.url)
    page.click(".bb-offline-remove")
    page.wait_for_selector(".bb-offline-keep")
    assert page.evaluate("caches.keys()") == []
    page.reload()
    page.wait_for_selector(".bb-offline-keep")
    assert page.evaluate("caches.keys()") == []
    page.click(".bb-offline-keep")
    page.wait_for_selector(".bb-offline-remove")


def test_two_guides_on_one_host_keep_apart(
    page: Page, host: server.Site, built_site: Path, tmp_path: Path
) -> None:
    """Removing the copy of one leaves that of the other."""
    folder = tmp_path / "both"
    for name in ("one", "two"):
        shutil.copytree(built_site, folder / name)
    with server.serve(folder) as both:
        for name in ("one", "two"):
            keep_offline(page, f"{both.url}{name}/index.html")
        page.click(".bb-offline-remove")
        page.wait_for_selector(".bb-offline-keep")
    page.goto(f"{both.url}one/index.html")
    assert page.locator("h1").inner_text()


@pytest.mark.parametrize("bytes_allowed", [100_000, 3_000_000])
def test_a_device_without_room_is_told_so_and_the_page_works(
    context: BrowserContext, host: server.Site, bytes_allowed: int
) -> None:
    rough = watched(context).page
    rough.goto(host.url + "sitemap.xml")
    tools = context.new_cdp_session(rough)
    tools.send(
        "Storage.overrideQuotaForOrigin",
        {"origin": f"http://{server.HOST}:{host.port}", "quotaSize": bytes_allowed},
    )
    rough.goto(host.url + live.pages_with_calculators(host.host.folder)[0])
    live.await_ready(rough)
    rough.wait_for_function(
        "document.querySelector('[data-offline-status]').textContent.includes('no room')"
    )
    live.number_box(rough).fill("3.9")
    live.await_current(rough)


def test_a_browser_that_forbids_storage_is_told_so_and_the_page_works(
    rough_page: Page, host: server.Site
) -> None:
    """As with cookies forbidden: every access to storage throws, the theme's own included."""
    rough_page.add_init_script(
        """
        const forbid = () => { throw new DOMException("forbidden", "SecurityError"); };
        for (const name of ["localStorage", "sessionStorage"]) {
          Object.defineProperty(self, name, { get: forbid });
        }
        Object.defineProperty(self, "caches", { get: forbid });
        const refuse = () => Promise.reject(new DOMException("", "SecurityError"));
        for (const name of ["register", "getRegistration"]) {
          ServiceWorkerContainer.prototype[name] = refuse;
        }
        """
    )
    rough_page.goto(host.url + live.pages_with_calculators(host.host.folder)[0])
    live.await_ready(rough_page)
    live.number_box(rough_page).fill("3.9")
    live.await_current(rough_page)
    rough_page.wait_for_function(
        "document.querySelector('[data-offline-status]').textContent.includes('forbid')"
    )


def test_an_address_without_https_says_how_to_take_the_guide_along(
    page: Page, host: server.Site
) -> None:
    page.add_init_script("Object.defineProperty(self, 'isSecureContext', { value: false })")
    page.goto(host.url)
    page.wait_for_function("document.querySelector('[data-offline-status]').textContent")
    assert "https" in page.locator("[data-offline-status]").inner_text()
    assert page.locator("[data-guide-zip]").is_visible()


def test_whoever_saves_data_is_asked_first(page: Page, host: server.Site) -> None:
    page.add_init_script(
        "Object.defineProperty(navigator, 'connection', { value: { saveData: true } })"
    )
    page.goto(host.url + live.pages_with_calculators(host.host.folder)[0])
    page.wait_for_selector(".bb-offline-keep")
    page.wait_for_timeout(500)
    assert not [path for path in host.host.asked if "/assets/engine/wasm" in path]
    live.number_box(page).focus()
    live.await_ready(page)
