"""Firefox and WebKit: what is typed is answered, hosted and from a folder.

Firefox is driven by WebDriver BiDi, which it speaks by itself; WebKit by Debian's driver on a screen
of its own. A browser that isn't on the machine leaves its tests out, except in CI, which has both.
"""

from __future__ import annotations

import contextlib
import itertools
import json
import os
import re
import shutil
import subprocess
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from websocket import create_connection

from calc import browser
from site_build import browser_finder, server
from site_build.server import Site

from . import live
from .test_offline import SUB_PATH, new_edition

LIMIT = 120.0  # s for anything awaited here: these browsers start slowly
TRIES = 4
Run = Callable[[str], Any]  # runs an expression in the page, gives its value


def program(browser: browser_finder.Browser) -> Path:
    """Where the browser is; leaves the test out where there is none."""
    found = browser_finder.find(browser)
    if not found:
        reason = f"no {browser.name} on this machine: {' '.join(browser.packages)}"
        if os.environ.get("CI"):
            pytest.fail(reason)
        pytest.skip(reason)
    return found


def await_true(run: Run, expression: str) -> None:
    end = time.monotonic() + LIMIT
    while not run(expression):
        assert time.monotonic() < end, f"never true: {expression}; {run(STATUS)}"
        time.sleep(0.1)


STATUS = "document.querySelector('[data-engine-status]')?.textContent"
SECTION = "document.querySelector('section.calc')"
TYPE = """(() => {
  const box = document.querySelector("section.calc input[inputmode=decimal]");
  const unit = document.querySelector(`select[name="${box.name}.unit"]`);
  box.focus();
  box.value = "3.25";
  box.dispatchEvent(new Event("input", { bubbles: true }));
  return JSON.stringify([box.name, unit ? `3.25 ${unit.value}` : "3.25"]);
})()"""


def form_to_answer(run: Run) -> None:
    """Type into the page that is open, and compare the answer with Python's."""
    await_true(run, f"['ready', 'failed'].includes({SECTION}?.dataset.engine)")
    assert run(f"{SECTION}.dataset.engine") == "ready", run(STATUS)
    name, value = json.loads(run(TYPE))
    await_true(run, f"{SECTION}.dataset.answer === 'current'")
    request = {
        "calculator": run(f"{SECTION}.dataset.calculator"),
        "example": json.loads(run(f"{SECTION}.dataset.example")),
        "typed": {name: value},
        "units": "metric",
        "prefix": run(f"{SECTION}.dataset.prefix"),
    }
    html = json.loads(browser.handle(json.dumps(request)))["slots"]["answer"]
    same = f"""(() => {{
      const written = {live.WRITTEN};
      const expected = document.createElement("div");
      expected.innerHTML = {json.dumps(html)};
      return written(document.querySelector("[data-slot=answer]")) === written(expected);
    }})()"""
    assert run(same)


def starts_from_the_snapshot(go: Callable[[str], None], run: Run, address: str) -> None:
    """A busy machine may give a page its files too slowly for that: it is tried again."""
    for _ in range(TRIES):
        go(address)
        form_to_answer(run)
        if run(f"{SECTION}.dataset.engineStart") == "snapshot":
            return
    pytest.fail(f"Of {TRIES} starts none was from the snapshot.")


# Pages in frames as wide as a phone: not every driver makes a window so narrow. Some at a time, for each
# is given a while to settle.
SIDEWAYS = """(() => Promise.all(%s.map((address) => new Promise((done) => {
  const frame = document.createElement("iframe");
  frame.style.cssText = "width:%dpx;height:844px;border:0";
  frame.src = address;
  frame.onload = () => setTimeout(() => {
    const { scrollWidth, clientWidth } = frame.contentDocument.scrollingElement;
    frame.remove();
    done([address, scrollWidth - clientWidth]);
  }, 300);
  document.body.append(frame);
}))).then(JSON.stringify))()"""
AT_A_TIME = 5


def pages_scroll_one_way(go: Callable[[str], None], run: Run, site: Path) -> None:
    """No page is wider than a small phone; Chromium looks at others too. None starts Python: its
    files are not to be had."""
    with server.serve(site) as host:
        host.host.missing = live.engine_of(site)
        go(host.url + "404.html")
        pages = [host.url + name for name in live.pages_of(site)]
        for start in range(0, len(pages), AT_A_TIME):
            some = pages[start : start + AT_A_TIME]
            assert json.loads(run(SIDEWAYS % (json.dumps(some), 320))) == [[one, 0] for one in some]


BOAT_NAME = "document.querySelector('.sheet [name=name]')"


def boat_to_card(go: Callable[[str], None], run: Run, press: Run, site: Site) -> None:
    """A boat's name, typed by real keys, is known to another page and to its card."""
    go(site.url + "boat.html")
    await_true(run, "document.querySelector('.sheet')?.dataset.engine === 'ready'")
    run(f"{BOAT_NAME}.closest('details') && ({BOAT_NAME}.closest('details').open = true)")
    run(f"{BOAT_NAME}.focus()")
    press("Odd Sock")
    await_true(run, f"{BOAT_NAME}.value === 'Odd Sock'")
    await_true(run, "Object.values(localStorage).some((value) => value.includes('Odd Sock'))")
    go(site.url + "power.html")
    await_true(run, f"{SECTION}?.dataset.engine === 'ready'")
    run("""(() => {
      URL.createObjectURL = (file) => { file.text().then((text) => { self.saved = text; }); return "#"; };
      document.querySelector("[data-keep] button[value=card]").click();
    })()""")
    await_true(run, "self.saved?.length > 1000")
    saved = run("self.saved")
    assert "Odd Sock" in saved
    assert '<article class="card' in saved


def keys_to_answer(run: Run, press: Run) -> None:
    """Real keys in a number's box of the page that is open."""
    run("""(() => {
      self.box = document.querySelector("section.calc input[inputmode=decimal]");
      self.before = document.querySelector("[data-slot=answer]").textContent;
      box.value = ""; box.focus();
    })()""")
    press("3.25")
    await_true(run, "box.value === '3.25'")
    await_true(run, f"{SECTION}.dataset.answer === 'current'")
    await_true(run, "document.querySelector('[data-slot=answer]').textContent !== before")


@pytest.fixture(scope="module")
def addresses(built_site: Path) -> dict[str, str]:
    """The first page with a calculator, below a site's address and in its folder."""
    name = live.pages_with_calculators(built_site)[0]
    return {"name": name, "folder": (built_site / name).as_uri()}


def away_and_updated(go: Callable[[str], None], run: Run, own_site: Path, name: str) -> None:
    """Without its host the copy answers; with its host and a new edition there, that is offered."""
    with server.serve(own_site, prefix=SUB_PATH) as host:
        go(host.url + name)
        await_true(run, "Boolean(document.querySelector('.bb-offline-remove'))")
        port = host.port
    other = next(one for one in live.pages_with_calculators(own_site) if one != name)
    address = host.url
    go(address + other)
    form_to_answer(run)
    new_edition(own_site)
    with server.serve(own_site, port, SUB_PATH):
        go(address + name)
        await_true(run, "Boolean(document.querySelector('.bb-update-accept'))")
        assert not run("Boolean(document.querySelector('#second'))"), "it came without being taken"
        run("document.querySelector('.bb-update-accept').click()")
        await_true(run, "Boolean(document.querySelector('#second'))")


# --- Firefox ---------------------------------------------------------------------------------


class Firefox:
    """A page of Firefox, by WebDriver BiDi."""

    def __init__(self, address: str) -> None:
        self._socket = create_connection(f"{address}/session", timeout=LIMIT, suppress_origin=True)
        self._numbers = itertools.count(1)
        self.errors: list[str] = []
        self._send("session.new", capabilities={})
        self._send("session.subscribe", events=["log.entryAdded"])
        self._page = self._send("browsingContext.create", type="tab")["context"]

    def go(self, address: str) -> None:
        self._send("browsingContext.navigate", context=self._page, url=address, wait="complete")

    def run(self, expression: str) -> Any:
        result = self._send(
            "script.evaluate",
            expression=expression,
            target={"context": self._page},
            awaitPromise=True,
        )
        assert result["type"] == "success", result
        return result["result"].get("value")

    def press(self, keys: str) -> None:
        actions = [{"type": kind, "value": key} for key in keys for kind in ("keyDown", "keyUp")]
        keyboard = {"type": "key", "id": "keyboard", "actions": actions}
        self._send("input.performActions", context=self._page, actions=[keyboard])

    def _send(self, method: str, **params: Any) -> dict[str, Any]:
        number = next(self._numbers)
        self._socket.send(json.dumps({"id": number, "method": method, "params": params}))
        while True:
            message = json.loads(self._socket.recv())
            if message.get("method") == "log.entryAdded" and message["params"]["level"] == "error":
                self.errors.append(message["params"]["text"])
            if message.get("id") == number:
                assert message["type"] == "success", message
                result: dict[str, Any] = message["result"]
                return result


@pytest.fixture(scope="module")
def firefox() -> Iterator[Firefox]:
    command = [
        program(browser_finder.FIREFOX),
        "--headless",
        "--no-remote",
        "--remote-debugging-port=0",
    ]
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        process = subprocess.Popen(
            [*command, "--profile", profile],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "HOME": profile},
        )
        try:
            assert process.stderr is not None
            heard = ""
            for line in process.stderr:
                heard += line
                if found := re.search(r"WebDriver BiDi listening on (ws://\S+)", line):
                    yield Firefox(found[1])
                    break
            else:
                pytest.fail(f"Firefox ended:\n{heard}")
        finally:
            end(process)


def end(process: subprocess.Popen[Any]) -> None:
    """Asks it to end, and ends it where it doesn't."""
    process.terminate()
    try:
        process.wait(30)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait(30)


def test_firefox_hosted(firefox: Firefox, site: Site, addresses: dict[str, str]) -> None:
    starts_from_the_snapshot(firefox.go, firefox.run, site.url + addresses["name"])
    assert firefox.errors == []


def test_firefox_from_a_folder(firefox: Firefox, addresses: dict[str, str]) -> None:
    starts_from_the_snapshot(firefox.go, firefox.run, addresses["folder"])
    assert firefox.errors == []


def test_firefox_takes_real_keys(firefox: Firefox, site: Site, addresses: dict[str, str]) -> None:
    firefox.go(site.url + addresses["name"])
    await_true(firefox.run, f"{SECTION}?.dataset.engine === 'ready'")
    keys_to_answer(firefox.run, firefox.press)


def test_no_page_scrolls_sideways_in_firefox(firefox: Firefox, built_site: Path) -> None:
    pages_scroll_one_way(firefox.go, firefox.run, built_site)


def test_firefox_carries_the_boat_to_another_page_and_its_card(
    firefox: Firefox, site: Site
) -> None:
    boat_to_card(firefox.go, firefox.run, firefox.press, site)


def test_firefox_answers_without_its_host_and_takes_an_update(
    firefox: Firefox, own_site: Path, addresses: dict[str, str]
) -> None:
    away_and_updated(firefox.go, firefox.run, own_site, addresses["name"])


# --- WebKit ----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def screen() -> Iterator[str]:
    """A screen to draw on: the machine's own, or one that nobody sees."""
    if "DISPLAY" in os.environ or not shutil.which("Xvfb"):
        yield os.environ.get("DISPLAY", "")
        return
    read, write = os.pipe()
    process = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write), "-screen", "0", "1280x1024x24", "-nolisten", "tcp"],
        pass_fds=[write],
        stderr=subprocess.DEVNULL,
    )
    try:
        os.close(write)
        with os.fdopen(read) as told:
            number = told.readline().strip()
        yield f":{number}"
    finally:
        end(process)


@pytest.fixture(scope="module")
def webkit(screen: str) -> Iterator[Any]:
    driver_program = program(browser_finder.WEBKIT)
    from selenium import webdriver
    from selenium.webdriver.webkitgtk.options import Options
    from selenium.webdriver.webkitgtk.service import Service

    browsers = sorted(Path("/usr/lib").glob("**/webkit2gtk-4.*/MiniBrowser"))
    assert browsers, "WebKit's driver is here and its browser isn't"
    options = Options()
    options.binary_location = str(browsers[-1])
    options.add_argument("--automation")
    env = {**os.environ, "DISPLAY": screen}
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        env["WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS"] = "1"  # root can't make WebKit's sandbox
    driver = webdriver.WebKitGTK(
        options=options, service=Service(executable_path=str(driver_program), env=env)
    )
    driver.set_script_timeout(LIMIT)
    driver.set_page_load_timeout(LIMIT)
    yield driver
    with contextlib.suppress(Exception):  # its browser may have gone first
        driver.quit()


def test_webkit_hosted(webkit: Any, site: Site, addresses: dict[str, str]) -> None:
    starts_from_the_snapshot(webkit.get, in_webkit(webkit), site.url + addresses["name"])


def test_webkit_from_a_folder(webkit: Any, addresses: dict[str, str]) -> None:
    starts_from_the_snapshot(webkit.get, in_webkit(webkit), addresses["folder"])


def in_webkit(webkit: Any) -> Run:
    """Runs an expression there; of a promise, what it comes to."""
    return lambda expression: webkit.execute_async_script(
        f"const done = arguments[0]; Promise.resolve({expression}).then(done)"
    )


def keys_in_webkit(webkit: Any) -> Run:
    return lambda keys: webkit.switch_to.active_element.send_keys(keys)


def test_webkit_takes_real_keys(webkit: Any, site: Site, addresses: dict[str, str]) -> None:
    webkit.get(site.url + addresses["name"])
    await_true(in_webkit(webkit), f"{SECTION}?.dataset.engine === 'ready'")
    keys_to_answer(in_webkit(webkit), keys_in_webkit(webkit))


def test_no_page_scrolls_sideways_in_webkit(webkit: Any, built_site: Path) -> None:
    pages_scroll_one_way(webkit.get, in_webkit(webkit), built_site)


def test_webkit_carries_the_boat_to_another_page_and_its_card(webkit: Any, site: Site) -> None:
    boat_to_card(webkit.get, in_webkit(webkit), keys_in_webkit(webkit), site)


def test_webkit_answers_without_its_host_and_takes_an_update(
    webkit: Any, own_site: Path, addresses: dict[str, str]
) -> None:
    away_and_updated(webkit.get, in_webkit(webkit), own_site, addresses["name"])
