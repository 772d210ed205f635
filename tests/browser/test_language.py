"""An edition in two languages side by side, the second one made by machine, on a phone."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from english import english, words_of
from playwright.sync_api import Page
from pseudo import pseudo_words

from calc.frame.guide import Guide
from site_build import language_sites, server

from . import dealer, live

READY = pseudo_words("The answer follows what you type.")


@pytest.fixture
def in_french(dealer_site: Path) -> Iterator[str]:
    """The address of a guide with a language below its root, where English is spoken."""
    with server.serve(dealer_site) as served:
        yield served.url


def await_ready(page: Page) -> None:
    page.wait_for_function(
        "(words) => document.body.innerText.includes(words)", arg=READY, timeout=120_000
    )


# Names of the dealer's, and of what stays as it is named.
NAMED = re.compile(r"Tern Water, Orchard Quay|Tern Water|water@tern\.example|Brinebook")


def left(told: Iterable[str], guide: Guide) -> dict[str, str]:
    """The words of English that are left in what is told, but for the theme's own in its language."""
    theme = language_sites.THEME / "partials" / "languages" / f"{dealer.OTHER}.html"
    said = re.findall(r'": "(.*)"', theme.read_text("utf-8"))
    theirs = set(re.findall(r"[A-Za-z]{3,}", " ".join(said)))
    return {
        word: one.strip()[:200]
        for one in told
        for word in english(NAMED.sub(" ", one), guide)
        if word not in theirs
    }


def test_no_page_and_no_frame_keeps_a_word_of_english(
    dealer_site: Path, dealer_guide: Guide
) -> None:
    """All of them as they are built: prose, cited numbers, tables, calculators, one's own too."""
    pages = sorted((dealer_site / dealer.OTHER).rglob("*.html"))
    assert {"power.html", "bucket.html", "workshop.html", "404.html"} <= {p.name for p in pages}
    found = {}
    for path in pages:
        content = path.read_text("utf-8")
        assert f'<html lang="{dealer.OTHER}"' in content, path.name
        found |= left(words_of(content, apart=("code", "pre")), dealer_guide)
    assert found == {}


@pytest.mark.parametrize("name", ["power", "bucket"])
def test_the_live_page_speaks_it(
    in_french: str, page: Page, dealer_guide: Guide, name: str
) -> None:
    page.goto(f"{in_french}fr/{name}.html")
    await_ready(page)
    box = live.number_box(page)
    box.fill("2,5")
    live.await_current(page)
    shown = page.locator(".calc").first.inner_html()
    assert left(words_of(shown), dealer_guide) == {}
    figures = page.locator(".figures td.num").all_text_contents()
    assert any("," in one for one in figures) and not any("." in one for one in figures)


def test_a_frame_speaks_it(in_french: str, page: Page, dealer_guide: Guide) -> None:
    page.goto(f"{in_french}fr/embed/power.html")
    await_ready(page)
    assert left(words_of(page.content()), dealer_guide) == {}


# Pages take turns: to lay out one of them takes long, and all are of the same parts.
WIDTHS = (320, 840, 390, 1440)
CUT = """
() => {
  const found = [];
  const canvas = document.createElement("canvas").getContext("2d");
  const told = (e, why) => found.push(`${why}: ${e.tagName}.${e.getAttribute("class") ?? ""} ${e.textContent.trim().slice(0, 60)}`);
  const outside = (inner, outer, by) => inner.left < outer.left - by || inner.right > outer.right + by;
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  while (walk.nextNode()) {
    const node = walk.currentNode, e = node.parentElement;
    if (!node.data.trim() || e.closest("script, style, math, pre, option, textarea, .verdict-reason, .plate svg")) continue;
    range.selectNodeContents(node);
    const boxes = [...range.getClientRects()].filter(({ width, height }) => width > 1 && height > 1);
    if (!boxes.length || getComputedStyle(e).visibility === "hidden") continue;
    if (e.ownerSVGElement) {
      const svg = e.ownerSVGElement.getBoundingClientRect();
      const box = e.getBoundingClientRect(); // a range's boxes know nothing of textLength
      if (outside(box, svg, 2) || box.top < svg.top - 3 || box.bottom > svg.bottom + 3) told(e, "drawn outside");
      continue;
    }
    let block = e;
    while (/inline$|contents/.test(getComputedStyle(block).display)) block = block.parentElement;
    const room = block.getBoundingClientRect();
    if (room.width > 1 && boxes.some((box) => outside(box, room, 1.5))) told(e, "beyond its box");
    for (let clip = block; clip; clip = clip.parentElement) {
      const style = getComputedStyle(clip);
      if (/auto|scroll/.test(style.overflowX + style.overflowY) || style.clipPath !== "none") break;
      if (!/hidden|clip/.test(style.overflowX + style.overflowY)) continue;
      const seen = clip.getBoundingClientRect();
      if (seen.width > 1 && boxes.some((box) => outside(box, seen, 1.5) || box.bottom > seen.bottom + 3)) told(e, "cut");
      break;
    }
  }
  for (const e of document.querySelectorAll("select")) {
    if (!e.getClientRects().length || innerWidth < 360) continue;
    const style = getComputedStyle(e);
    canvas.font = style.font;
    const room = e.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
    if (canvas.measureText(e.selectedOptions[0]?.textContent ?? "").width > room + 1) found.push(`list ${e.name}: ${e.selectedOptions[0].textContent}`);
  }
  if (document.documentElement.scrollWidth > innerWidth) found.push("the page is wider than the screen");
  return found;
}
"""


def test_no_width_cuts_a_longer_word(dealer_site: Path, in_french: str, page: Page) -> None:
    """Each page as it is built, all of it unfolded; drawings made by hand apart."""
    page.add_init_script(live.NO_ENGINE)
    screen = page.context.new_cdp_session(page)  # Playwright's own way waits for each to be painted
    found: dict[str, str] = {}
    there = (dealer_site / dealer.OTHER).glob("*.html")
    pages = sorted(path for path in there if path.name != "404.html")
    for path, width in zip(pages, itertools.cycle(WIDTHS), strict=False):
        size = {"width": width, "height": 844, "deviceScaleFactor": 1, "mobile": False}
        screen.send("Emulation.setDeviceMetricsOverride", size)
        page.goto(f"{in_french}fr/{path.name}")
        page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        assert page.evaluate("innerWidth") == width
        found |= dict.fromkeys(page.evaluate(CUT), f"{path.name} at {width}")
    assert found == {}


def test_a_switch_keeps_page_and_boat(in_french: str, page: Page) -> None:
    page.goto(f"{in_french}boat.html")
    box = page.locator("form.sheet-form input[name=bank_capacity]").first
    box.evaluate("(box) => box.closest('details')?.setAttribute('open', '')")
    box.fill("444")
    box.blur()
    page.locator(".bb-foot a[data-language]").first.click()
    page.wait_for_url("**/fr/boat.html")
    there = page.locator("form.sheet-form input[name=bank_capacity]").first
    page.wait_for_function("(one) => one.value === '444'", arg=there.element_handle())
    page.locator(".bb-foot a[data-language]").first.click()
    page.wait_for_url(f"{in_french}boat.html")


def test_a_switch_keeps_the_answer_of_a_link(in_french: str, page: Page) -> None:
    page.goto(f"{in_french}fr/power.html#a1:power?run_hours=2.25+h")
    box = page.locator("input[name=run_hours]").first
    switch = page.locator(".bb-foot a[data-language]").first
    live.await_current(page)
    assert box.input_value().startswith("2")
    switch.click()
    page.wait_for_url(f"{in_french}power.html#a1:power?*run_hours=2.25*")
    live.await_current(page)
    assert box.input_value() == "2.25"
    box.fill("2.75")  # typed over the link: the answer that is shown goes along
    live.await_current(page)
    switch.click()
    page.wait_for_url(f"{in_french}fr/power.html#a1:power?*run_hours=2.75*")


def test_a_page_of_one_language_leads_to_the_first_page_of_the_other(
    in_french: str, page: Page
) -> None:
    page.goto(f"{in_french}fr/quai.html")
    assert page.locator(".bb-foot a[data-language]").count() == 0
    told = page.locator(".bb-foot .bb-languages a[hreflang=en]")
    assert "English" in told.inner_text() and told.inner_text() != "English"
    told.click()
    page.wait_for_url(f"{in_french}index.html")


def test_the_page_for_unknown_addresses_leads_to_the_other_language(
    in_french: str, rough_page: Page
) -> None:
    rough_page.goto(f"{in_french}quai.html")
    rough_page.locator(".bb-foot .bb-languages a[hreflang=fr]").click()
    rough_page.wait_for_url(f"{in_french}fr/index.html")


def test_search_takes_words_apart_as_its_language_does(in_french: str, page: Page) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{in_french}fr/index.html")
    # By keys: a search that is ready hears those, and no text that is put in without them.
    page.locator("input[name=query]").first.press_sequentially("dessalinisateurs")
    first = page.locator(".md-search-result__item").first
    first.wait_for(state="attached", timeout=30_000)
    assert "quai.html" in str(first.locator("a").first.get_attribute("href"))
    assert first.locator(".md-search-result__terms").count() == 0, "no word is told as missing"
    assert f"{in_french}fr/{language_sites.STEMMERS}/min/lunr.fr.min.js" in asked
