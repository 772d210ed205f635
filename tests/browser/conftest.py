"""What the browser tests share: the built site, a server for it, a browser that watches what it does."""

from __future__ import annotations

import os
import re
import shutil
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from calc.frame.guide import Guide
from site_build import browser_finder, build, machine, server

from . import dealer

HERE = Path(__file__).resolve().parent
BUILD_LIMIT = 600.0  # s for another process to build the site
CHROMIUM_OPTIONS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    # Most tests start Python and ask it little: to compile it a second time, better, takes longer than to
    # run it as it is. The bench, Firefox and WebKit have it as readers do.
    "--js-flags=--liftoff-only",
    # Whoever is asked besides this machine isn't found; the asking is seen all the same.
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
]
# Keeping the guide offline takes as long as the rest of a test: only tests marked so let it begin.
NO_COPY = "Object.defineProperty(navigator, 'serviceWorker', { value: undefined })"


# The server's strict policy forbids a page's scripts to read others from text. Playwright waits for an
# expression in just that way, but not for a function.
_FUNCTION = re.compile(r"\s*(?:async\s*)?(?:\([\w\s,]*\)|\w+)\s*=>")
_wait_for_function = Page.wait_for_function


def _wait_for(page: Page, expression: str, **options: Any) -> Any:
    made = expression if _FUNCTION.match(expression) else f"() => ({expression})"
    return _wait_for_function(page, made, **options)


Page.wait_for_function = _wait_for  # type: ignore[method-assign,assignment]

# A page's scripts and its type come after its first picture, and a browser says before that that all is
# loaded. Till the type is there all is set in another one, and as high as that makes it.
# The theme's script waits for the first answers unless somebody does something: here somebody does.
_RUN = """() => {
  dispatchEvent(new Event("wheel"));
  const { scripts, brinebook } = document.documentElement.dataset;
  const late = [...document.querySelectorAll("link[data-late]")];
  const typed = late.every(({ sheet, media }) => sheet && media === "all") && document.fonts.status === "loaded";
  const theme = self.document$ || !document.querySelector("link[data-run=theme]");
  return !scripts || (brinebook && theme && typed) || !document.querySelector("link[data-run]");
}"""


def _until_run(act: Callable[..., Any]) -> Callable[..., Any]:
    def go(page: Page, *given: Any, **options: Any) -> Any:
        answer = act(page, *given, **options)
        if "wait_until" not in options:
            page.wait_for_function(_RUN)
        return answer

    return go


Page.goto, Page.reload = _until_run(Page.goto), _until_run(Page.reload)  # type: ignore[method-assign]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if item.path.is_relative_to(HERE):
            item.add_marker(pytest.mark.browser)


# --- The site --------------------------------------------------------------------------------


@pytest.fixture(scope="session")
def built_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The whole site, built once for all processes of the run. Not to be written to."""
    return _once(tmp_path_factory, "site", lambda site: build.build_site(site, lambda _: None))


@pytest.fixture(scope="session")
def dealer_site(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The dealer's edition, with the engine that the stock's site has (`built_site` made it)."""

    def make(site: Path) -> None:
        told = dealer.built(site.with_name("dealer"), site)
        assert not [one for one in told if "no translation" in one]

    return _once(tmp_path_factory, "dealer-site", make)


@pytest.fixture(scope="session")
def dealer_guide(dealer_site: Path) -> Guide:
    """The dealer's guide, in English."""
    return dealer.guide(dealer_site.with_name("dealer"))


def _once(factory: pytest.TempPathFactory, name: str, make: Callable[[Path], object]) -> Path:
    """A site that one process of the run builds for all."""
    mine = factory.getbasetemp()
    shared = mine.parent if "PYTEST_XDIST_WORKER" in os.environ else mine
    site, failed, builder = shared / name, shared / f"no-{name}", shared / f"{name}-builder"
    try:
        builder.mkdir()
    except FileExistsError:
        _await(lambda: site.exists() or failed.exists())
        assert site.exists(), f"the site could not be built: {failed.read_text()}"
        return site
    try:
        make(site)
    except BaseException as error:
        failed.write_text(str(error))
        raise
    return site


def _await(done: object) -> None:
    end = time.monotonic() + BUILD_LIMIT
    while not done():  # type: ignore[operator]
        assert time.monotonic() < end, "the site took too long to build"
        time.sleep(0.2)


@pytest.fixture
def own_site(built_site: Path, tmp_path: Path) -> Path:
    """A copy of the site that the test may change."""
    return Path(shutil.copytree(built_site, tmp_path / "site"))


@pytest.fixture
def site(built_site: Path) -> Iterator[server.Site]:
    """The site on an ordinary host."""
    with server.serve(built_site) as served:
        yield served


# --- The browser -----------------------------------------------------------------------------


@dataclass
class Watched:
    """A browser's page and what it did that it shouldn't."""

    page: Page
    complaints: list[str] = field(default_factory=list)  # console errors and warnings, exceptions
    foreign: list[str] = field(default_factory=list)  # addresses on other hosts

    def watch(self, page: Page) -> Page:
        """Watch a further page for the same list."""
        page.on(
            "console", lambda m: m.type in ("error", "warning") and self.complaints.append(m.text)
        )
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        return page


def watched(context: BrowserContext) -> Watched:
    """A new page of the context. Requests are watched for all its pages and workers."""
    page = context.new_page()
    one = Watched(page)
    one.watch(page)

    def look(address: str) -> None:
        parts = urlsplit(address)
        if parts.scheme not in ("file", "blob", "data") and parts.hostname != server.HOST:
            one.foreign.append(address)

    context.on("request", lambda request: look(request.url))
    return one


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """Chromium, one for each process."""
    os.environ.setdefault("PLAYWRIGHT_NODEJS_PATH", str(machine.node()))
    program = browser_finder.chromium()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=CHROMIUM_OPTIONS)
        yield browser
        browser.close()


@pytest.fixture
def context(chromium: Browser, request: pytest.FixtureRequest) -> Iterator[BrowserContext]:
    """A browser profile of its own. It keeps nothing offline, but for tests marked `keeps`."""
    made = chromium.new_context(viewport={"width": 1280, "height": 900}, reduced_motion="reduce")
    made.set_default_timeout(30_000)
    if request.node.get_closest_marker("keeps") is None:
        made.add_init_script(NO_COPY)
    yield made
    made.close()


@pytest.fixture
def page(context: BrowserContext) -> Iterator[Page]:
    """A page that may neither complain nor ask another host; held to that at the end."""
    one = watched(context)
    yield one.page
    assert one.complaints == []
    assert one.foreign == []


@pytest.fixture
def rough_page(context: BrowserContext) -> Iterator[Page]:
    """A page on a host that misbehaves: the browser may complain, other hosts stay unasked."""
    one = watched(context)
    yield one.page
    assert one.foreign == []
