"""The hosted guide without its host: kept in the browser, updated when the reader wants it."""

from __future__ import annotations

import calendar
import shutil
import time
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page

from site_build import machine, offline, server

from . import live
from .conftest import watched

pytestmark = pytest.mark.keeps

SUB_PATH = "/boats/möwe/"
OFFER = ".bb-update-accept"
RELOAD = ".bb-update-reload"


@pytest.fixture
def host(own_site: Path) -> Iterator[server.Site]:
    """The site below a path, on a host that the test may stop and change."""
    with server.serve(own_site, prefix=SUB_PATH) as served:
        yield served


# Pages without a form, which start no Python; with its files empty a copy is there in a moment.
WORDS = ("index.html", "404.html", "steps.html", "licences.html")


@pytest.fixture(scope="module")
def words_site(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small guide for what is asked of a copy whatever is in it. Not to be written to."""

    def left_out(_: str, names: list[str]) -> set[str]:
        return {name for name in names if name.endswith(".html") and name not in WORDS}

    site = tmp_path_factory.mktemp("words") / "site"
    shutil.copytree(built_site, site, ignore=left_out)
    for part in (site / "assets/engine").glob("*.[0-9]*.js"):
        if part.name.split(".")[-2].isdigit():  # not a name that ends in its hash
            part.write_bytes(b"")
    offline.finish(site, impatient(service_worker()), lambda _: None)
    assert live.pages_of(site) == sorted({*WORDS} - {"404.html"})
    return site


@pytest.fixture
def words_host(words_site: Path, tmp_path: Path) -> Iterator[server.Site]:
    """The small guide below a path, on a host that the test may stop and change."""
    own = Path(shutil.copytree(words_site, tmp_path / "site"))
    with server.serve(own, prefix=SUB_PATH) as served:
        yield served


@cache
def service_worker() -> str:
    return offline.worker_for_all(machine.node())


PAUSES = "[2e3,5e3,1e4]"  # ms, as the bundler writes them


def impatient(worker: str) -> str:
    """A service worker that asks sooner for what didn't come."""
    assert worker.count(PAUSES) == 1
    return worker.replace(PAUSES, "[100,200,300]")


def keep_offline(page: Page, address: str) -> str:
    """Open a page and wait until the guide is kept. Returns what the page says then."""
    page.goto(address)
    page.wait_for_selector(".bb-offline-remove")
    return page.locator("[data-offline-status]").inner_text()


def new_edition(site: Path, epoch: int | None = None, *, patient: bool = True) -> None:
    """Change a word of every page, as a new edition of the guide would; perhaps of another time."""
    worker = service_worker() if patient else impatient(service_worker())
    for name in live.pages_of(site):
        page = site / name
        text = page.read_text("utf-8").replace("<h1", '<p id="second">Second edition</p><h1')
        page.write_text(text, "utf-8")
    with pytest.MonkeyPatch.context() as patch:
        if epoch is not None:
            patch.setenv("SOURCE_DATE_EPOCH", str(epoch))
        offline.finish(site, worker, lambda _: None)


NO_MORE_COMING = """async () => {
  const ours = await navigator.serviceWorker.getRegistration();
  while (ours.installing) await new Promise((done) => setTimeout(done, 50));
}"""


def asked_for(page: Page, site: server.Site, name: str) -> None:
    """Until the host was asked for a file."""
    end = time.monotonic() + 30
    while not any(path.endswith(f"/{name}") for path in site.host.asked):
        assert time.monotonic() < end, f"nobody asked for {name}"
        page.wait_for_timeout(50)


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
    assert offline.edition() in said


def test_the_copy_waits_while_somebody_types(page: Page, host: server.Site) -> None:
    """What is under way comes in, and no more until a while after the last key."""
    page.goto(host.url)
    kept, coming = page.evaluate(
        """async () => {
          const ours = () => navigator.serviceWorker.getRegistration();
          const pause = (time) => new Promise((done) => setTimeout(done, time));
          while (!(await ours())?.installing) await pause(20);
          const key = () => document.body.dispatchEvent(new Event("input", { bubbles: true }));
          const typing = setInterval(key, 50);
          const kept = async () => {
            const all = await Promise.all((await caches.keys()).map((name) => caches.open(name)));
            const files = await Promise.all(all.map((one) => one.keys()));
            return files.flat().length;
          };
          await pause(1000);
          const before = await kept();
          await pause(1500);
          clearInterval(typing);
          return [[before, await kept()], Boolean((await ours()).installing)];
        }"""
    )
    assert coming and kept[0] == kept[1]
    page.wait_for_selector(".bb-offline-remove")


def test_every_page_and_its_calculators_work_once_the_server_is_gone(
    page: Page, host: server.Site
) -> None:
    """All calculators run on the same files: three pages start them. Each page is there, some are
    opened."""
    keep_offline(page, host.url)
    host.close()
    for name in live.pages_with_calculators(host.host.folder)[:3]:
        page.goto(host.url + name + "?h=word")
        live.await_ready(page)
        box = live.number_box(page)
        box.fill("4.1")
        live.await_current(page)
        assert live.answer(page) == live.expected_answer(page, live.typed_field(box, "4.1"))
    page.add_init_script(live.NO_ENGINE)
    names = live.pages_of(host.host.folder)
    page.goto(host.url)
    for name in names:
        for address in (name, name.removesuffix(".html")):  # hosts that leave the ending out
            text = page.evaluate("async (to) => (await fetch(to)).text()", host.url + address)
            assert text == (host.host.folder / name).read_text("utf-8"), address
    for address in [name.removesuffix(".html") if n % 2 else name for n, name in enumerate(names)][
        ::5
    ]:
        page.goto(host.url + address)
        assert page.locator("h1").inner_text()
    page.keyboard.press("/")
    page.keyboard.type("generator")
    page.wait_for_selector(".md-search-result__item a")


def test_an_unknown_page_gets_ours_with_and_without_the_server(
    rough_page: Page, words_host: server.Site
) -> None:
    styled = """(() => { const head = document.querySelector('.bb-head__inner');
    return head && getComputedStyle(head).display !== 'block'; })()"""
    lost = ("nowhere.html", "deep/er/nowhere")
    for name in lost:  # the guide lies below the root of its host
        reply = rough_page.goto(words_host.url + name)
        assert reply and reply.status == 404
        rough_page.wait_for_function(styled)
        home = rough_page.locator(".md-content a").first
        assert home.evaluate("link => link.href") == words_host.url + "index.html"
    keep_offline(rough_page, words_host.url)
    words_host.close()
    for name in lost:
        reply = rough_page.goto(words_host.url + name)
        assert reply and reply.status == 404
        assert rough_page.locator("h1").inner_text()
        assert rough_page.evaluate(styled)


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
        # The other tab is told, and stays as it is until its reader wants it otherwise.
        other.page.wait_for_selector(RELOAD)
        assert edition(other.page) == 1
        other.page.click(RELOAD)
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
    context: BrowserContext, words_host: server.Site
) -> None:
    rough = watched(context).page
    keep_offline(rough, words_host.url)
    new_edition(words_host.host.folder, patient=False)
    # One page is still of the old edition on the host: it is being copied there right now.
    late = words_host.host.folder / live.pages_of(words_host.host.folder)[-1]
    late.write_text(late.read_text("utf-8").replace("Second", "Half"), "utf-8")
    words_host.host.asked.clear()
    rough.reload()
    asked_for(rough, words_host, late.name)
    rough.evaluate(NO_MORE_COMING)
    assert words_host.host.asked.count(SUB_PATH + late.name) > 1, (
        "it was given up, and asked for again"
    )
    assert edition(rough) == 1
    assert rough.locator(OFFER).count() == 0


def test_the_copy_can_be_removed_and_had_again(page: Page, words_host: server.Site) -> None:
    keep_offline(page, words_host.url)
    page.click(".bb-offline-remove")
    page.wait_for_selector(".bb-offline-keep")
    assert page.evaluate("caches.keys()") == []
    page.reload()
    page.wait_for_selector(".bb-offline-keep")
    assert page.evaluate("caches.keys()") == []
    page.click(".bb-offline-keep")
    page.wait_for_selector(".bb-offline-remove")


def test_two_guides_on_one_host_keep_apart(
    page: Page, host: server.Site, words_site: Path, tmp_path: Path
) -> None:
    """Removing the copy of one leaves that of the other."""
    folder = tmp_path / "both"
    for name in ("one", "two"):
        shutil.copytree(words_site, folder / name)
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
    page: Page, words_host: server.Site
) -> None:
    page.add_init_script("Object.defineProperty(self, 'isSecureContext', { value: false })")
    page.goto(words_host.url)
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


def log_line(page: Page, note: str) -> None:
    """Begin a line of the log, and leave it unfinished."""
    cell = page.locator("[data-log-cell=note]").first
    cell.evaluate(
        "one => { for (let f = one.closest('details'); f; f = f.parentElement.closest('details')) f.open = true; }"
    )
    cell.fill(note)


def begun(page: Page) -> str:
    text: str = page.locator("[data-log-cell=note]").first.input_value()
    return text


def test_an_update_keeps_all_that_is_typed_in_each_tab(
    context: BrowserContext, page: Page, host: server.Site
) -> None:
    """Two tabs of one page, different values in each, half a line of the log, and the page's example."""
    keep_offline(page, host.url + "upkeep.html")
    page.evaluate("localStorage.setItem('brinebook:boat:1.name', '\"Alder\"')")
    page.evaluate("localStorage.setItem('brinebook:boat:1.hours_a_year', '\"321 h\"')")
    other = watched(context).page
    name = live.number_box(page).get_attribute("name")
    box = f"section.calc [name='{name}']"
    new_edition(host.host.folder)
    for tab, value in ((page, "11"), (other, "22")):
        tab.goto(host.url + "upkeep.html")
        live.await_ready(tab)
        tab.wait_for_selector(OFFER)
        show = tab.get_by_text("Show the page's example")
        if tab is page and show.count():
            show.first.click()
            live.await_current(tab)
        tab.locator(box).evaluate(
            "one => { const f = one.closest('details'); if (f) f.open = true; }"
        )
        tab.locator(box).fill(value)
        log_line(tab, f"half of {value}")
        live.await_current(tab)
    page.click(OFFER)
    page.wait_for_selector("#second")
    live.await_current(page)
    assert (page.locator(box).input_value(), begun(page)) == ("11", "half of 11")
    other.wait_for_selector(RELOAD)
    assert edition(other) == 1
    assert (other.locator(box).input_value(), begun(other)) == ("22", "half of 22")
    other.click(RELOAD)
    other.wait_for_selector("#second")
    live.await_current(other)
    assert (other.locator(box).input_value(), begun(other)) == ("22", "half of 22")
    # Once: an ordinary visit later begins with what the device keeps.
    other.reload()
    live.await_ready(other)
    assert begun(other) == ""


def test_after_a_forced_reload_the_offer_is_alive(
    context: BrowserContext, page: Page, words_host: server.Site
) -> None:
    """The page comes past the offline copy then; another tab keeps the old edition in use."""
    keep_offline(page, words_host.url)
    new_edition(words_host.host.folder)
    page.reload()
    page.wait_for_selector(OFFER)
    other = watched(context).page
    other.goto(words_host.url)
    page.context.new_cdp_session(page).send("Page.reload", {"ignoreCache": True})
    page.wait_for_function(
        "document.readyState === 'complete' && !navigator.serviceWorker.controller"
    )
    page.evaluate("self.before = true")
    page.click(OFFER)
    page.wait_for_function("!self.before && navigator.serviceWorker.controller")
    page.wait_for_selector(".bb-offline-remove")
    assert edition(page) == 2
    assert page.locator(OFFER).count() == 0
    other.wait_for_selector(RELOAD)


def test_offers_are_told_apart_and_a_step_back_is_told_as_one(
    page: Page, words_host: server.Site, words_site: Path
) -> None:
    now = offline.source_time()
    moment = calendar.timegm(now) if now else 1_790_000_000
    keep_offline(page, words_host.url)

    def offered() -> str:
        page.reload()
        page.wait_for_selector(OFFER)
        return page.locator("[data-update-offer]").inner_text()

    new_edition(words_host.host.folder, moment + 60)
    first = offered()
    assert "newer" in first
    new_edition(words_host.host.folder, moment + 60)  # of the same minute
    page.wait_for_timeout(500)
    page.evaluate("navigator.serviceWorker.getRegistration().then((one) => one.update())")
    page.wait_for_function(
        "first => document.querySelector('[data-update-offer]').innerText !== first", arg=first
    )
    assert "newer" in page.locator("[data-update-offer]").inner_text()
    # The host goes back to what this device has: there is nothing to offer.
    for name in [*live.pages_of(words_site), "sw.js"]:
        shutil.copyfile(words_site / name, words_host.host.folder / name)
    page.evaluate("navigator.serviceWorker.getRegistration().then((one) => one.update())")
    page.wait_for_function("!document.querySelector('[data-update-offer]').innerText.trim()")
    # And to an older one.
    new_edition(words_host.host.folder, moment - 86_400)
    assert "older" in offered()
    page.click(OFFER)
    page.wait_for_selector("#second")


FOREIGN = "addEventListener('install', () => skipWaiting());"


def test_a_foreign_worker_that_says_nothing_can_be_removed_and_replaced(
    page: Page, words_host: server.Site
) -> None:
    ours = (words_host.host.folder / "sw.js").read_bytes()
    (words_host.host.folder / "sw.js").write_text(FOREIGN)
    page.goto(words_host.url)
    page.evaluate("async () => { await caches.open('workbox-old-' + new URL('.', location)); }")
    page.wait_for_selector(".bb-offline-remove", timeout=20_000)
    (words_host.host.folder / "sw.js").write_bytes(ours)
    page.reload()
    page.wait_for_selector(OFFER, timeout=60_000)
    page.click(".bb-offline-remove")
    page.wait_for_selector(".bb-offline-keep")
    assert page.evaluate("caches.keys()") == []
    page.reload()
    page.click(".bb-offline-keep")
    page.wait_for_selector(".bb-offline-remove")
    assert "MB" in page.locator("[data-offline-status]").inner_text()


def test_a_host_without_its_worker_later_is_told_of_once(
    page: Page, words_host: server.Site
) -> None:
    kept = keep_offline(page, words_host.url)
    words_host.host.missing = ["sw.js"]
    said = []
    for _ in range(3):
        page.reload()
        page.wait_for_selector(".bb-offline-remove")
        page.wait_for_timeout(1000)
        said.append(page.locator("[data-offline-status]").inner_text())
    assert said[0].startswith(kept)
    assert len(said[0]) > len(kept)
    assert said[1:] == [kept, kept]


@pytest.mark.parametrize("kind", ["type", "absent"])
def test_why_a_host_gives_no_copy_is_told(
    rough_page: Page, words_host: server.Site, kind: str
) -> None:
    if kind == "absent":
        words_host.host.missing = ["sw.js"]
    else:
        words_host.host.types = {".js": "application/octet-stream"}
        words_host.host.headers = {}  # with "nosniff" no script of the page would run either
    rough_page.goto(words_host.url)
    told = {"type": "octet-stream", "absent": "not there"}[kind]
    rough_page.wait_for_function(
        "told => document.querySelector('[data-offline-status]').textContent.includes(told)",
        arg=told,
    )


def test_a_copy_goes_on_where_it_was_interrupted(rough_page: Page, host: server.Site) -> None:
    part = live.engine_parts(host.host.folder, "packages")[-1].name
    dropped: list[str] = []

    def drop(path: str) -> bool:
        if path.endswith(part) and len(dropped) < 2:
            dropped.append(path)
            return True
        return False

    worker = host.host.folder / offline.SERVICE_WORKER
    worker.write_text(impatient(worker.read_text("utf-8")), "utf-8")
    host.host.drops = drop
    keep_offline(rough_page, host.url + "steps.html")  # which starts no engine of its own
    assert len(dropped) == 2
    asked = [path for path in host.host.asked if "/assets/engine/" in path]
    others = {path: asked.count(path) for path in asked if not path.endswith(part)}
    del others[next(path for path in others if "/brinebook." in path)]
    assert set(others.values()) == {1}, {k: v for k, v in others.items() if v > 1}


def test_a_file_that_was_changed_on_the_host_is_named(
    rough_page: Page, words_host: server.Site
) -> None:
    file = words_host.host.folder / live.pages_of(words_host.host.folder)[-1]
    file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    rough_page.goto(words_host.url)
    rough_page.wait_for_function(
        "name => document.querySelector('[data-offline-status]').textContent.includes(name)",
        arg=file.name,
        timeout=60_000,
    )


def test_that_a_copy_was_removed_is_no_matter_of_another_guide(
    page: Page, words_site: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "both"
    for name in ("one", "two"):
        shutil.copytree(words_site, folder / name)
    with server.serve(folder) as both:
        keep_offline(page, f"{both.url}one/index.html")
        page.click(".bb-offline-remove")
        page.wait_for_selector(".bb-offline-keep")
        keep_offline(page, f"{both.url}two/index.html")
        page.goto(f"{both.url}one/index.html")
        page.wait_for_selector(".bb-offline-keep")
