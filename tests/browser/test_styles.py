"""No rule is lost that anything in the guide is painted by."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from importlib.util import find_spec
from pathlib import Path

import tinycss2
from mkdocs.utils.yaml import yaml_load
from playwright.sync_api import Page
from tinycss2.ast import Node

from site_build import machine, styles, tables
from site_build.server import Site

from . import live

THEME = Path(str(find_spec("material").origin)).parent / "templates/assets/stylesheets"  # type: ignore[union-attr]
LOOKS = ("paper", "slate", "night", "sun")
WITH_SELECTORS = ("is", "where", "has")
LONGEST_WAIT = 3000  # ms for which the theme's script waits for Python: first.js

# Which selectors find something in a document: of all of them one is asked first.
FOUND = """(selectors) => {
  self.foundIn = (page) => page.querySelector(selectors) ? selectors.split("\\n,").filter((one) => page.querySelector(one)) : [];
  return foundIn(document);
}"""
IN_PAGE = """async (name) => {
  const page = new DOMParser().parseFromString(await (await fetch(name)).text(), "text/html");
  return foundIn(page);
}"""

# What of the guide's type was asked for before the first picture, which it would hold up.
FONTS_BEFORE_PAINT = """() => {
  const [{ startTime }] = performance.getEntriesByName("first-contentful-paint");
  // A machine so busy that nothing is painted in a second goes on without that: first.js.
  const [{ domContentLoadedEventStart }] = performance.getEntriesByType("navigation");
  const first = Math.min(startTime, domContentLoadedEventStart + 1000);
  const fonts = performance.getEntriesByType("resource").filter(({ name }) => name.endsWith(".woff2"));
  if (!fonts.length) return ["no font at all"];
  return fonts.filter((font) => font.startTime < first).map(({ name }) => name);
}"""


def bare(tokens: Iterable[Node]) -> str:
    """A selector without states and parts of elements: it finds all that it may find in any state."""
    made, is_state = "", False
    for token in tokens:
        if token == ":":
            is_state = True
            continue
        if is_state and getattr(token, "lower_name", "") in WITH_SELECTORS:
            made += f":{token.lower_name}({','.join(map(bare, styles.split(token.arguments)))})"
        elif not is_state:
            made += token.serialize()
        elif not made or made[-1] in " >+~":
            made += "*"
        is_state = False
    return made.strip()


def dropped(site: Path) -> list[str]:
    """The selectors that the site's sheet lacks of those in the sheets it is made of."""
    settings = yaml_load((machine.ROOT / "mkdocs.yml").read_text("utf-8"))
    named = [*THEME.glob("main.*.css"), *THEME.glob("palette.*.css")]
    named += [machine.ROOT / "docs" / name for name in settings["extra_css"]]
    (sheet,) = site.glob("assets/css/guide.*.css")
    there = set(styles.selectors(sheet.read_text("utf-8")))
    lost = {one for path in named for one in styles.selectors(path.read_text("utf-8"))} - there
    return sorted({bare(tinycss2.parse_component_value_list(one)) for one in lost})


def test_no_rule_that_anything_is_painted_by_is_left_out(
    page: Page, site: Site, built_site: Path
) -> None:
    """Of the theme's rules half are; each asks for what is in no page, in no look, open or at work."""
    lost = dropped(built_site)
    assert len(lost) > 400
    # The theme's tables are found by that mark.
    lost.append(f"table:not([class], [{tables.PLAIN}])")
    page.goto(site.url + "power.html")
    live.await_ready(page)
    assert page.evaluate(FONTS_BEFORE_PAINT) == []
    assert page.evaluate(FOUND, "\n,".join(lost)) == []
    for name in [*live.pages_of(built_site), "404.html"]:
        assert page.evaluate(IN_PAGE, name) == [], name
    live.number_box(page).fill("3.6")
    live.await_current(page)
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    for look in LOOKS:
        page.evaluate(f"document.body.dataset.mdColorScheme = {json.dumps(look)}")
        assert page.evaluate("foundIn(document)") == [], look
    live.number_box(page).fill("nothing")
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press("/")
    page.keyboard.type("pump")
    page.locator(".md-search-result__item").first.wait_for()
    assert page.evaluate("foundIn(document)") == []


def test_the_first_picture_waits_for_a_verdict_that_is_there(built_site: Path) -> None:
    for name in live.pages_of(built_site):
        page = (built_site / name).read_text("utf-8")
        (expected,) = re.findall(r'data-expects="([^"]*)"', page)
        assert page.count(f' id="{expected}"') == ('<div data-slot="answer">' in page), name


def test_the_themes_script_comes_after_the_first_answers(page: Page, site: Site) -> None:
    """It holds the page for long. Whoever touches the page has it sooner, as all other tests do."""
    page.add_init_script(
        "self.rested = Infinity;"
        " addEventListener('brinebook:rested', () => { self.rested = performance.now(); });"
        " let theme; Object.defineProperty(self, 'document$', { get: () => theme,"
        " set: (made) => { theme = made; self.came = performance.now(); } });"
    )
    page.goto(f"{site.url}power.html", wait_until="load")
    page.wait_for_function("self.came && Number.isFinite(self.rested)")
    came, rested = page.evaluate("[self.came, self.rested]")
    assert came >= min(rested, LONGEST_WAIT)


def test_a_key_before_the_themes_script_opens_the_search(page: Page, site: Site) -> None:
    page.goto(f"{site.url}power.html", wait_until="commit")
    page.wait_for_selector("h1")
    page.keyboard.press("/")
    page.wait_for_function("document.activeElement.matches('.md-search__input')")
