"""An invented dealer's edition as a reader meets it: under a sub-path with the strict policy, in
frames of somebody else's page, and from a folder."""

from __future__ import annotations

import re
import shutil
import zipfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from urllib.parse import unquote, urljoin

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from site_build import embedding, hosts, offline, server, server_finder

from . import live, servers

DOCS = Path(__file__).parents[2] / "docs"
PREFIX = "/water/"
HOST_PAGE = """<!doctype html><html lang="en"><title>A club</title><h1>Our club</h1>
{snippets}<p id="end">The end</p></html>"""


@pytest.fixture
def hosted(dealer_site: Path) -> Iterator[server.Site]:
    with server.serve(dealer_site, prefix=PREFIX) as site:
        yield site


def answers(page: Page) -> None:
    live.await_ready(page)
    box = live.number_box(page)
    box.fill("3.6")
    live.await_current(page)
    assert page.locator("[data-slot=answer] .verdict-word").first.is_visible()


def test_the_engine_is_the_stocks_byte_for_byte(built_site: Path, dealer_site: Path) -> None:
    def files(site: Path) -> dict[str, bytes]:
        found = (site / "assets/engine").iterdir()
        return {f.name: f.read_bytes() for f in found if not f.name.startswith("guide.")}

    assert files(built_site) == files(dealer_site)


def test_pages_bear_the_brand_and_answer_under_a_sub_path(page: Page, hosted: server.Site) -> None:
    page.goto(hosted.url + "power.html")
    answers(page)
    assert page.locator(".bb-logo").evaluate("image => image.naturalWidth") == 32
    foot = page.locator(".bb-colophon__house").inner_text()
    assert "Orchard Quay" in foot and "water@tern.example" in foot
    assert "sloop" in page.locator("main").inner_text()
    touch = "getComputedStyle(document.body).getPropertyValue('--touch')"
    page.evaluate("document.body.dataset.mdColorScheme = 'paper'")
    assert page.evaluate(touch).strip() == "#0b5d5a"
    page.evaluate("document.body.dataset.mdColorScheme = 'night'")
    assert page.evaluate(touch).strip() == "#f23b27"
    assert page.locator(".bb-logo").is_hidden(), "nothing bright in the red look"


def test_a_hidden_page_is_nowhere_and_an_own_one_is(page: Page, hosted: server.Site) -> None:
    site = hosted.host.folder
    assert not (site / "bulkhead.html").exists() and not (site / "cost.html").exists()
    with zipfile.ZipFile(site / offline.ZIP) as packed:
        names = packed.namelist()
    assert not [name for name in names if "bulkhead" in name or "/embed/" in name]
    assert any(name.endswith("workshop.html") for name in names)
    for name in live.pages_of(site):
        text = (site / name).read_text("utf-8")
        assert 'href="bulkhead.html' not in text and 'href="cost.html' not in text, name
    assert "bulkhead.html" not in (site / "search/search_index.json").read_text("utf-8")
    page.goto(hosted.url + "workshop.html")
    assert "42" in page.locator("main .cited").first.inner_text()
    assert page.locator(".bb-turn").is_visible()


def test_the_sitemap_and_the_page_for_unknown_addresses_know_the_sub_path(
    rough_page: Page, hosted: server.Site
) -> None:
    sitemap = (hosted.host.folder / "sitemap.xml").read_text("utf-8")
    assert "<loc>https://tern.example/water/power.html</loc>" in sitemap
    assert "bulkhead" not in sitemap
    rough_page.goto(hosted.url + "deep/er/nowhere.html")
    home = rough_page.locator(".md-content a").first
    assert home.evaluate("link => link.href") == hosted.url + "index.html"
    rough_page.wait_for_function(
        "getComputedStyle(document.querySelector('.bb-head__inner')).display === 'flex'"
    )


def test_a_question_carries_the_link_to_the_answer(page: Page, hosted: server.Site) -> None:
    page.goto(hosted.url + "power.html")
    answers(page)
    asked: list[str] = []
    # A letter is the browser's business: seen as the address that it is sent to.
    page.context.new_cdp_session(page).send("Page.enable")
    page.on("requestfailed", lambda request: asked.append(request.url))
    page.evaluate(
        "navigation.addEventListener('navigate', e => (self.to = e.destination.url, e.preventDefault()))"
    )
    page.click("[data-keep] button[value=ask]")
    page.wait_for_function("self.to")
    to = unquote(page.evaluate("self.to"))
    assert to.startswith("mailto:water@tern.example?subject=")
    assert f"{hosted.url}power.html#a1:power?" in to


def test_several_frames_of_a_page_share_one_engine(
    context: BrowserContext, page: Page, dealer_site: Path, tmp_path: Path
) -> None:
    (tmp_path / "club").mkdir()
    with server.serve(dealer_site, prefix=PREFIX) as guide, server.serve(tmp_path / "club") as club:
        club.host.headers = {}
        guide.host.headers = hosts.headers([club.url.rstrip("/")])
        snippets = [embedding.snippet(name, name, guide.url) for name in ("power", "water")]
        text = HOST_PAGE.format(snippets="\n".join(snippets).replace('loading="lazy"', ""))
        (tmp_path / "club" / "index.html").write_text(text, "utf-8")
        page.goto(club.url)
        frames = [page.frame(url=f"{guide.url}embed/{name}.html") for name in ("power", "water")]
        for frame in frames:
            assert frame
            frame.wait_for_selector(".calc[data-engine=ready]", timeout=60_000)
            box = frame.locator(".fields input:not([type])").first
            assert box.count()
            assert frame.locator(".md-search, .bb-thumbs").count() == 0
            assert "Tern Water" in frame.locator(".bb-embed__brand").inner_text()
            inner = frame.locator(".bb-embed__inner").evaluate(
                "e => e.getBoundingClientRect().height"
            )
            page.wait_for_function(
                "([url, tall]) => Math.abs([...document.querySelectorAll('iframe')]"
                ".find(f => f.src === url).clientHeight - tall) < 40",
                arg=[frame.url, inner],
            )
        assert len(page.workers) == 1, "one engine for both"
        # The frame that has it goes away: the other begins its own, and answers.
        page.evaluate("document.querySelector('iframe').remove()")
        page.wait_for_timeout(300)
        other = page.frame(url=f"{guide.url}embed/water.html")
        assert other
        other.wait_for_selector(".calc[data-engine=ready]", timeout=60_000)


def test_a_frame_that_may_keep_nothing_answers_all_the_same(
    page: Page, hosted: server.Site
) -> None:
    page.add_init_script(
        "for (const name of ['localStorage', 'sessionStorage']) Object.defineProperty(self, name,"
        " { get() { throw new DOMException('refused', 'SecurityError'); } });"
    )
    page.goto(hosted.url + "embed/power.html")
    answers(page)
    page.set_viewport_size({"width": 340, "height": 700})
    too_wide = "document.documentElement.scrollWidth - innerWidth"
    assert page.evaluate(too_wide) <= 0, "no wider than a narrow frame"


def test_a_frame_that_is_shut_off_says_what_its_page_has_to_write(
    rough_page: Page, dealer_site: Path, tmp_path: Path
) -> None:
    """A sandboxed frame is of no origin: it may fetch nothing, not even from the host that it is of."""
    broken: list[str] = []
    rough_page.on("pageerror", lambda error: broken.append(str(error)))
    with server.serve(dealer_site, prefix=PREFIX) as guide, server.serve(tmp_path) as club:
        club.host.headers = {}
        guide.host.headers = hosts.headers([club.url.rstrip("/")])
        frame = embedding.snippet("power", "power", guide.url).replace('loading="lazy"', "")
        shut = frame.replace("<iframe", '<iframe sandbox="allow-scripts"')
        (tmp_path / "index.html").write_text(HOST_PAGE.format(snippets=shut), "utf-8")
        rough_page.goto(club.url)
        inside = rough_page.frame_locator("iframe")
        inside.locator(".calc[data-engine=failed]").wait_for()
        said = inside.locator("[data-engine-status]")
        told = re.search(r'sandbox="[a-z -]+"', said.inner_text())
        assert told and said.locator("button").count() == 0, "no second try would help"
        assert inside.locator("[data-slot=answer] .verdict-word").first.is_visible()
        assert broken == []
        # Who writes that has a calculator.
        mended = frame.replace("<iframe", f"<iframe {told[0]}")
        (tmp_path / "index.html").write_text(HOST_PAGE.format(snippets=mended), "utf-8")
        rough_page.goto(club.url)
        inside.locator(".calc[data-engine=ready]").wait_for(timeout=60_000)
    assert told[0].partition('"')[2][:-1] in (DOCS / "embed.md").read_text("utf-8")


def test_a_host_that_is_not_named_may_show_nothing(
    rough_page: Page, dealer_site: Path, tmp_path: Path
) -> None:
    with server.serve(dealer_site, prefix=PREFIX) as guide, server.serve(tmp_path) as other:
        other.host.headers = {}
        text = HOST_PAGE.format(snippets=embedding.snippet("power", "power", guide.url))
        (tmp_path / "index.html").write_text(text.replace('loading="lazy"', ""), "utf-8")
        rough_page.goto(other.url)
        rough_page.wait_for_timeout(1000)
        assert not [f for f in rough_page.frames if f.url.startswith(guide.url)]


def test_a_height_is_heeded_from_the_frames_own_host_only(page: Page, tmp_path: Path) -> None:
    script = Path(embedding.__file__).parent / "browser" / embedding.SCRIPT
    shutil.copy(script, tmp_path / embedding.SCRIPT)
    (tmp_path / "embed").mkdir()
    (tmp_path / "embed" / "x.html").write_text("<!doctype html><title>x</title>")
    with server.serve(tmp_path) as guide, server.serve(tmp_path) as other:
        guide.host.headers = other.host.headers = {}
        told = "<script>parent.postMessage({brinebook:'height',height:%s},'*')</script>"
        (tmp_path / "embed" / "good.html").write_text(told % 2000)
        (tmp_path / "embed" / "huge.html").write_text(told % "1e9")
        (tmp_path / "embed" / "odd.html").write_text(told % "'2000px; color: red'")
        frames = [
            f'<iframe data-brinebook height="500" src="{site.url}embed/{name}.html"></iframe>'
            for site, name in ((guide, "good"), (other, "good"), (guide, "huge"), (guide, "odd"))
        ]
        unmarked = f'<iframe height="500" src="{guide.url}embed/good.html"></iframe>'
        text = HOST_PAGE.format(
            snippets=f'<script src="{guide.url}embed.js"></script>' + "".join(frames) + unmarked
        )
        (tmp_path / "index.html").write_text(text, "utf-8")
        page.goto(other.url)
        page.wait_for_function("document.querySelector('iframe').clientHeight === 2000")
        page.wait_for_timeout(300)
        tall = page.evaluate("[...document.querySelectorAll('iframe')].map(f => f.clientHeight)")
        assert tall == [2000, 500, 30000, 500, 500]


def test_the_edition_opens_from_a_folder(page: Page, dealer_site: Path, tmp_path: Path) -> None:
    folder = live.unpacked(dealer_site, tmp_path)
    page.goto((folder / "power.html").as_uri())
    answers(page)
    assert page.locator(".bb-logo").evaluate("image => image.naturalWidth") == 32


def test_a_calculator_of_its_own_answers_live(
    page: Page, hosted: server.Site, dealer_site: Path, tmp_path: Path
) -> None:
    folder = live.unpacked(dealer_site, tmp_path)
    for base in hosted.url, f"{folder.as_uri()}/":
        for name, field, value, figure in (
            ("bucket", "volume", "21 L", "30 min"),  # at the 42 L/h of the dealer's example
            ("funnel", "bore", "20 mm", "0.779 s"),  # of the oil in the dealer's records
        ):
            page.goto(f"{base}{name}.html")
            live.await_ready(page)
            page.locator(f"[name={field}]").fill(value)
            live.await_current(page)
            told = page.locator("[data-slot=answer]").inner_text().replace("\u202f", " ")
            assert figure in told.replace("\u00a0", " "), told
    assert (hosted.host.folder / "embed/bucket.html").is_file()


def test_a_long_list_is_searched_by_typing(
    page: Page, hosted: server.Site, chromium: Browser
) -> None:
    """In any order, whatever the accents; after a page turn too, in a frame and on the sheet."""
    for at, name in enumerate(("water", "need", "embed/water", "boat")):
        if at == 1:
            page.evaluate("to => { self.kept = true; location.href = to; }", f"{name}.html")
            page.wait_for_url(f"**/{name}.html")
            assert page.evaluate("self.kept"), "the page was turned"
        else:
            page.goto(f"{hosted.url}{name}.html")
        page.wait_for_selector("html[data-brinebook=awake]")
        chooser = page.locator(".chooser:has([name=waters])").first
        box, choices = chooser.locator("input"), chooser.locator("select")
        box.evaluate(
            "one => { for (let e = one; e; e = e.parentElement) if (e.matches('details')) e.open = true; }"
        )
        before, all_of_them = choices.input_value(), choices.locator("option").count()
        box.fill("áugust")
        several = choices.locator("option").count()
        assert 3 < several < all_of_them and choices.input_value() == before
        box.fill("ÁUGUST  baltic")
        left = choices.locator("option").evaluate_all("all => all.map((one) => one.value)")
        assert "baltic-aug" in left and "baltic-feb" not in left and len(left) < 5
        assert chooser.locator("[role=status]").inner_text().startswith("1 ")
        box.press("Enter")
        assert (choices.input_value(), box.input_value()) == ("baltic-aug", "")
        assert choices.locator("option").count() == all_of_them
        box.fill("no such sea")
        assert choices.input_value() == "baltic-aug"
        if name != "boat":
            live.await_ready(page)
            page.locator("[data-reset]").first.click()
            page.wait_for_function(
                "was => document.querySelector('[name=waters]').value === was", arg=before
            )
    bare = chromium.new_page(java_script_enabled=False)
    bare.goto(f"{hosted.url}water.html")
    shown = bare.locator(".chooser").evaluate_all(
        "all => all.map((one) => [...one.children].map((part) => getComputedStyle(part).display))"
    )
    assert shown and all(parts[::2] == ["none", "none"] != parts[1:2] for parts in shown)
    assert bare.locator("select[name=waters] option").count() > 15
    bare.close()


# --- Three common servers --------------------------------------------------------------------

ADDRESS = "https://tern.example/water/"


@pytest.mark.parametrize("name", hosts.SERVERS)
def test_a_servers_lines_serve_the_site(page: Page, dealer_site: Path, name: str) -> None:
    if not server_finder.find(name):
        package = server_finder.PROGRAMS[name][1]
        pytest.skip(f"{name} isn't installed: `apt-get install {package}` has this run")
    packed = {"accept-encoding": "gzip"}
    parts = live.engine_parts(dealer_site, "wasm")
    with servers.running(name, dealer_site, ADDRESS) as origin:
        url = origin + PREFIX
        reply = page.goto(f"{url}power.html")
        assert reply and reply.headers["content-security-policy"] == hosts.policy()
        answers(page)

        def asked(path: str, **headers: str) -> tuple[int, Mapping[str, str], bytes]:
            return servers.asked(url + path, headers or packed)

        for path in ("power.html", "sitemap.xml", "search/search_index.json", "sw.js"):
            status, told, body = asked(path)
            size = (dealer_site / path).stat().st_size
            assert (status, told["content-encoding"]) == (200, "gzip"), path
            assert len(body) < size / 2 and "accept-encoding" in told["vary"].lower()
            assert (
                told["cache-control"] == "no-cache" and told["x-content-type-options"] == "nosniff"
            )
            again = {"if-none-match": told["etag"], "if-modified-since": told["last-modified"]}
            assert asked(path, **packed, **again)[0] == 304, "known again though it came packed"
        assert asked("sitemap.xml")[1]["content-type"].partition(";")[0].endswith("/xml")
        for file in (live.engine_file(dealer_site, "brinebook"), *parts[:1]):
            status, told, body = asked(file.relative_to(dealer_site).as_posix())
            assert (status, "immutable" in told["cache-control"]) == (200, True), file
            assert ("content-encoding" in told) == (file not in parts), "no gzip in gzip"
        gone = parts[0].relative_to(dealer_site).as_posix().replace(".1.js", ".99.js")
        for path in ("nowhere", "deep/er/nowhere.html", gone):
            status, told, body = asked(path, accept="*/*")
            assert status == 404 and body == (dealer_site / "404.html").read_bytes(), path
            assert told["cache-control"] == "no-cache", "may be there tomorrow"
            assert told["content-security-policy"] == hosts.policy()
        status, told, _ = servers.asked(url.rstrip("/"), packed)
        assert status in (301, 308), "an address without its last stroke"
        assert urljoin(url, told["location"]) == url


def test_what_may_be_kept_for_ever_bears_a_hash(dealer_site: Path) -> None:
    kept = re.compile(hosts.HASHED)
    files = [path.relative_to(dealer_site).as_posix() for path in dealer_site.rglob("*")]
    found = [one for one in files if kept.match(one) and (dealer_site / one).is_file()]
    assert len(found) > 40
    assert [one for one in found if not re.search(r"[.][0-9a-f]{8,12}[.]", one)] == []
