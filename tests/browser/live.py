"""Words for what tests do to a live calculator."""

from __future__ import annotations

import json
import re
import zipfile
from contextlib import suppress
from pathlib import Path
from typing import Any

from playwright.sync_api import Error, Locator, Page

from calc import browser
from site_build import engine, offline

# Notes each request that goes to the engine and each response, as the texts that they are.
LISTEN = """
self.exchanges = [];
const Native = self.Worker;
self.Worker = class extends Native {
  constructor(...given) {
    super(...given);
    if (!/search/.test(given[0])) self.engineWorker = this; // the other is the theme's, and comes later
    const asked = new Map();
    this.addEventListener("message", ({ data }) => {
      if (data.response !== undefined) self.exchanges.push([asked.get(data.answer), data.response]);
    });
    const post = this.postMessage.bind(this);
    this.postMessage = (message, ...more) => {
      if (message.ask) asked.set(message.ask, message.request);
      post(message, ...more);
    };
  }
};
"""


# For what stands on the page before the engine: with each megabyte to be paid for it isn't begun.
NO_ENGINE = """
Object.defineProperty(navigator, "connection", { value: { saveData: true } });
self.requestIdleCallback = () => 0;
"""


def pages_of(site: Path) -> list[str]:
    """Every page of the site, as an address below its first."""
    return sorted(
        path.relative_to(site).as_posix()
        for path in site.rglob("*.html")
        if path.name != "404.html"
    )


def pages_with_calculators(site: Path) -> list[str]:
    """Those that hold at least one calculator."""
    return [
        name for name in pages_of(site) if "data-calculator=" in (site / name).read_text("utf-8")
    ]


def engine_of(site: Path) -> set[str]:
    """The files from which Python starts, as addresses below the site's."""
    return {path.relative_to(site).as_posix() for path in (site / "assets/engine").iterdir()}


def turn_to(page: Page, address: str) -> None:
    """Show a page as a link does, with the engine that runs already: to start one takes seconds.

    By a law of its own a page after a turn stands as after a load, and it is loaded where no turn is
    to be had.
    """
    if page.url.startswith("http") and address.startswith("http"):
        with suppress(Error):  # it is loaded after all, and the script that waited is gone
            page.evaluate("async (to) => { await navigation.navigate(to).finished; }", address)
        page.wait_for_url(address)
    else:
        page.goto(address)


def await_ready(page: Page, timeout: float = 60_000) -> None:
    """Until every calculator of the page says that it follows what one types."""
    page.wait_for_function(
        """() => {
          const all = [...document.querySelectorAll("section.calc")];
          return all.length && all.every((one) => ["ready", "failed"].includes(one.dataset.engine));
        }""",
        timeout=timeout,
    )
    stages = page.locator("section.calc").evaluate_all(
        "all => all.map((one) => one.dataset.engine)"
    )
    assert set(stages) == {"ready"}, page.locator("[data-engine-status]").first.inner_text()


def await_failed(page: Page, timeout: float = 30_000) -> str:
    """What the first calculator says about why it can't run."""
    page.wait_for_selector("section.calc[data-engine=failed]", timeout=timeout)
    return page.locator("[data-engine-status]").first.inner_text()


def await_current(page: Page) -> None:
    """Until the first calculator's answer is that to what its form says."""
    page.wait_for_selector("section.calc[data-answer=current]")


def await_answers(page: Page) -> None:
    """Until no calculator of the page owes an answer, or the rest of one."""
    owes = "section.calc:is([data-answer=waiting], [data-answer=first])"
    page.wait_for_selector(owes, state="detached")


def number_box(page: Page) -> Locator:
    """The form's first number box that is asked for, not of its lists or its log; unfolded."""
    box = page.locator(
        "section.calc input[inputmode=decimal][name]:not([data-row] *, [hidden] *)"
    ).first
    box.evaluate("one => { const fold = one.closest('details'); if (fold) fold.open = true; }")
    return box


# An element that was mended has its attributes in another order than a fresh one, which nobody sees;
# and what is unfolded is the reader's.
WRITTEN = """
(root) => {
  const copy = root.cloneNode(true);
  for (const element of copy.querySelectorAll("*")) {
    const attributes = [...element.attributes].sort((a, b) => (a.name < b.name ? -1 : 1));
    attributes.forEach(({ name }) => element.removeAttribute(name));
    attributes.forEach(({ name, value }) => element.setAttribute(name, value));
    element.matches("details[data-key]") && element.removeAttribute("open");
  }
  return copy.innerHTML;
}
"""


def answer(page: Page) -> str:
    """The first calculator's answer, as the browser writes its HTML."""
    return answers(page)[0]


def answers(page: Page) -> list[str]:
    """The answers of all calculators of the page."""
    found: list[str] = page.locator(
        "section.calc > .calc-answer > [data-slot=answer]"
    ).evaluate_all(f"all => all.map({WRITTEN})")
    return found


def in_browsers_words(page: Page, html: str) -> str:
    """The same HTML as the browser writes it."""
    written: str = page.evaluate(
        "html => { const t = document.createElement('div'); t.innerHTML = html;"
        f" return ({WRITTEN})(t); }}",
        html,
    )
    return written


# The day on the browser's clock.
TODAY = "new Date(Date.now() - new Date().getTimezoneOffset() * 60000).toISOString().slice(0, 10)"


def expected_answer(
    page: Page, typed: dict[str, Any], units: str = "metric", sheet: dict[str, Any] | None = None
) -> str:
    """What CPython answers for the page's first calculator, in the browser's words."""
    section = page.locator("section.calc").first
    request = {
        "calculator": section.get_attribute("data-calculator"),
        "example": json.loads(section.get_attribute("data-example") or "{}"),
        "typed": typed,
        "sheet": sheet or {},
        "units": units,
        "today": page.evaluate(TODAY),
        "prefix": section.get_attribute("data-prefix") or "",
    }
    response = json.loads(browser.handle(json.dumps(request)))
    return in_browsers_words(page, response["slots"]["answer"])


def typed_field(box: Locator, value: str) -> dict[str, str]:
    """What the page sends for a number box with its unit."""
    name = box.get_attribute("name") or ""
    form = box.locator("xpath=ancestor::form")
    unit = form.locator(f"select[name='{name}.unit']")
    return {name: f"{value} {unit.input_value()}" if unit.count() else value}


def engine_file(site: Path, name: str) -> Path:
    """One of the engine's files, or its first part: "brinebook", "wasm", "snapshot", …"""
    return engine_parts(site, name)[0]


def engine_parts(site: Path, name: str) -> list[Path]:
    """All parts of one of the engine's files, in their order."""
    found = (site / "assets/engine").glob(f"{name}.*.js")
    return sorted(found, key=lambda path: int(re.sub(r"\D", "", path.suffixes[-2]) or 0))


def carried(part: Path) -> bytes:
    """What a part of an engine file carries in its string."""
    held = part.read_bytes().split(b'"]="', 1)[1].rsplit(b'"', 1)[0]
    meant = {b"n": b"\n", b"r": b"\r"}
    return re.sub(rb"\\(.)", lambda found: meant.get(found[1], found[1]), held, flags=re.DOTALL)


def carry(part: Path, data: bytes) -> None:
    """Put something else into it."""
    head = part.read_bytes().split(b'"]="', 1)[0]
    part.write_bytes(head + b'"]="' + engine.in_string(data) + b'";\n')


def unpacked(built_site: Path, target: Path) -> Path:
    """The guide as a reader unpacks its zip into a folder."""
    with zipfile.ZipFile(built_site / offline.ZIP) as packed:
        packed.extractall(target)
    return target / offline.ZIP_FOLDER
