"""A browser for the bench, and what is done in its pages: opening, waiting, typing."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright
from playwright.sync_api import Error as BrowserError
from playwright.sync_api import TimeoutError as BrowserTimeout

from site_build import browser_finder
from site_build.bench_table import Marks
from site_build.bench_watch import KEYSTROKE_WATCH, STOPWATCH
from site_build.steps import Trouble

CHROMIUM_OPTIONS = ("--no-sandbox", "--disable-gpu", "--disable-background-networking")
# A tall window: the answer is on screen without scrolling, on our page and on the plain one.
WINDOW = (1280, 6000)
LIMIT = 120_000  # ms for anything awaited in a page
KEYSTROKES = 40  # in each run
SETTLED = 2.0  # s given to a browser before its memory is read, somebody types or comes again


@contextmanager
def chromium(program: Path | None = None) -> Iterator[Browser]:
    """A browser until the block ends; `program` may be what starts it."""
    os.environ.update(browser_finder.playwright_env())
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=program or browser_finder.chromium(),
            args=CHROMIUM_OPTIONS,
            timeout=LIMIT,
        )
        try:
            yield browser
        except BrowserError as error:
            raise Trouble(f"The browser does not go on: {error.message}") from error
        finally:
            browser.close()


@contextmanager
def newcomer(
    browser: Browser,
    *,
    window: tuple[int, int] = WINDOW,
    limit: float = LIMIT,
    java_script: bool = True,
    keeps: bool = True,
) -> Iterator[BrowserContext]:
    """A reader who has never been here: nothing cached, nothing stored.

    `keeps`: whether the browser may keep the guide for offline use.
    """
    width, height = window
    context = browser.new_context(
        viewport={"width": width, "height": height},
        java_script_enabled=java_script,
        service_workers="allow" if keeps else "block",
    )
    context.set_default_timeout(limit)
    try:
        yield context
    finally:
        context.close()


def opened(reader: BrowserContext, address: str) -> Page:
    """A page of the reader's whose moments are marked."""
    page = reader.new_page()
    page.add_init_script(STOPWATCH)
    page.goto(address, wait_until="commit")
    return page


def until(page: Page, *awaited: str) -> Marks:
    """The page's marks once the awaited ones are there, or that the engine has failed."""
    try:
        page.wait_for_function(
            "(awaited) => [['failed'], awaited].some("
            "(names) => names.every((name) => name in brinebookMarks))",
            arg=awaited,
            polling=100,
        )
    except BrowserTimeout as error:
        seen = page.evaluate("Object.keys(brinebookMarks)")
        raise Trouble(f"{page.url} has come to {seen} and not to {list(awaited)}") from error
    found: Marks = page.evaluate("brinebookMarks")
    return found


def marks(page: Page, *awaited: str) -> Marks:
    """The page's marks once the awaited ones are there. Raises Trouble if the engine fails."""
    found = until(page, *awaited)
    if "failed" in found:
        told = " ".join(page.locator("[data-engine-status]").all_inner_texts())
        raise Trouble(f"The engine failed at {page.url}: {told}")
    return found


def typed(page: Page, keystrokes: int = KEYSTROKES) -> list[dict[str, float]]:
    """Type numbers that were not typed before, each time waiting for the answer [ms]."""
    page.evaluate(KEYSTROKE_WATCH)
    boxes = '[data-calculator] input[inputmode="decimal"]:not([data-log-cell]):visible'
    if not page.locator(boxes).count():  # all its numbers are folded away
        page.evaluate(
            "document.querySelectorAll('[data-calculator] form details').forEach("
            "(one) => { one.open = true; })"
        )
    box = page.locator(boxes).first
    usual = float(box.input_value() or 1) or 1.0
    for number in range(keystrokes):
        box.fill(f"{usual * (1 + (number + 1) / (5 * keystrokes)):.4g}")
        page.wait_for_function(
            "(number) => brinebookStrokes.length > number", arg=number, polling=20
        )
    strokes: list[dict[str, float]] = page.evaluate("brinebookStrokes")
    return strokes
