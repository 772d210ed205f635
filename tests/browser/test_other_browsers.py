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

from calc import service
from site_build import browser_finder
from site_build.server import Site

from . import live

LIMIT = 120.0  # s for anything awaited here: these browsers start slowly
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
    html = json.loads(service.handle(json.dumps(request)))["slots"]["answer"]
    same = f"""(() => {{
      const written = {live.WRITTEN};
      const expected = document.createElement("div");
      expected.innerHTML = {json.dumps(html)};
      return written(document.querySelector("[data-slot=answer]")) === written(expected);
    }})()"""
    assert run(same)
    assert run(f"{SECTION}.dataset.engineStart") == "snapshot"


@pytest.fixture(scope="module")
def addresses(built_site: Path) -> dict[str, str]:
    """The first page with a calculator, below a site's address and in its folder."""
    name = live.pages_with_calculators(built_site)[0]
    return {"name": name, "folder": (built_site / name).as_uri()}


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
    firefox.go(site.url + addresses["name"])
    form_to_answer(firefox.run)
    assert firefox.errors == []


def test_firefox_from_a_folder(firefox: Firefox, addresses: dict[str, str]) -> None:
    firefox.go(addresses["folder"])
    form_to_answer(firefox.run)
    assert firefox.errors == []


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
    webkit.get(site.url + addresses["name"])
    form_to_answer(lambda expression: webkit.execute_script(f"return ({expression})"))


def test_webkit_from_a_folder(webkit: Any, addresses: dict[str, str]) -> None:
    webkit.get(addresses["folder"])
    form_to_answer(lambda expression: webkit.execute_script(f"return ({expression})"))
