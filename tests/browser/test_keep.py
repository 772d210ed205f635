"""What a reader keeps of an answer: card, figures, pictures; and how numbers are shown."""

from __future__ import annotations

import csv
import datetime
import io
import json
import re
import xml.etree.ElementTree as ElementTree
from html import unescape
from pathlib import Path

import pytest
from playwright.sync_api import Page

from calc import browser, stock
from calc.frame import boatfile
from calc.frame.render import card_font
from calc.frame.render.papers import PAPERS
from calc.sheet import BoatSheet
from site_build import cards, offline
from site_build.server import Site

from . import live

SHEET = boatfile.read(
    boatfile.write(stock.guide().shelf("boat")["catamaran"].texts, BoatSheet), BoatSheet
)
LARGEST_CARD = 250_000  # bytes
CLIPBOARD = """Object.defineProperty(navigator, 'clipboard',
  { value: { writeText: async (text) => { self.copied = text; } } })"""


def with_boat(page: Page, address: str) -> None:
    """A page of the guide on a device that knows a boat."""
    page.add_init_script(
        "if (location.protocol !== 'about:') for (const [name, value] of Object.entries("
        + json.dumps(SHEET)
        + ")) localStorage.setItem(`brinebook:boat:1.${name}`, JSON.stringify(value));"
    )
    page.goto(address)
    page.wait_for_selector("[data-whose=boat]", timeout=60_000)


def saved(page: Page, selector: str) -> tuple[str, str]:
    """The name and the text of the file that a button saves."""
    with page.expect_download() as download:
        page.click(selector)
    return download.value.suggested_filename, Path(download.value.path()).read_text("utf-8")


def day_of(page: Page) -> datetime.date:
    return datetime.date(
        *page.evaluate(
            "(() => { const d = new Date();"
            " return [d.getFullYear(), d.getMonth() + 1, d.getDate()]; })()"
        )
    )


@pytest.mark.parametrize("name", ["power", "mount"])
def test_the_browsers_card_is_the_terminals(
    page: Page, site: Site, tmp_path: Path, name: str
) -> None:
    with_boat(page, f"{site.url}{name}.html")
    boat = tmp_path / "boat.json"
    boat.write_text(boatfile.write(SHEET, BoatSheet), "utf-8")
    for paper in PAPERS:
        page.select_option("[data-paper]", paper)
        file, content = saved(page, "[data-keep] button[value=card]")
        assert file == f"two-kettles-11-m-catamaran-{name}-card.html"  # of the boat, by its name
        assert len(content.encode()) <= LARGEST_CARD
        out = tmp_path / "card.html"
        cards.write(
            [name], str(boat), paper, out, site.url, day=day_of(page), edition=offline.edition()
        )
        assert content == out.read_text("utf-8")


def test_a_saved_card_needs_nothing_and_opens_anywhere(
    page: Page, site: Site, tmp_path: Path
) -> None:
    with_boat(page, site.url + "power.html")
    _, content = saved(page, "[data-keep] button[value=card]")
    (tmp_path / "card.html").write_text(content, "utf-8")
    page.context.set_offline(True)
    page.goto((tmp_path / "card.html").as_uri())
    assert SHEET["name"] in page.locator(".imprint").inner_text()
    assert page.locator("svg.qr").count() == 1
    assert page.locator("script").count() == 0


@pytest.mark.parametrize("host", ["hosted", "folder"])
def test_the_card_that_is_printed_is_the_card(
    page: Page, site: Site, built_site: Path, host: str
) -> None:
    page.add_init_script(
        "self.print = () => { top.printed = document.documentElement.outerHTML;"
        " top.rules = [...document.adoptedStyleSheets[0].cssRules].map((r) => r.cssText).join();"
        " top.fonts = [...document.fonts].map((f) => f.family + f.weight + f.status);"
        " top.mode = document.compatMode;"
        " top.named = top.document.title; dispatchEvent(new Event('afterprint')); }"
    )
    address = site.url if host == "hosted" else built_site.as_uri() + "/"
    page.goto(address + "power.html")
    live.await_ready(page)
    page.select_option("[data-paper]", "half-letter")
    title = page.title()
    page.click("[data-keep] button[value=print]")
    page.wait_for_function("self.printed")
    printed: str = page.evaluate("self.printed")
    assert "5.5in 8.5in" in page.evaluate("self.rules")
    assert page.evaluate("self.fonts") == [f"{card_font.FAMILY}{w}loaded" for w in (400, 600)]
    assert page.evaluate("self.mode") == "CSS1Compat"
    assert "<style" not in printed and " style=" not in printed
    assert '<article class="card">' in printed
    assert ('class="qr"' in printed) == (host == "hosted"), "a folder has no address to go back to"
    page.wait_for_function("!document.querySelector('iframe.bb-print')")
    card_title = re.search(r"<title>(.*?)</title>", printed)
    assert card_title and unescape(card_title[1]) == page.evaluate("self.named") != title
    assert page.title() == title, "the card names its PDF, and the page its tab again"


def test_the_steps_of_a_job_are_a_card(page: Page, site: Site) -> None:
    """A page of words: each section with numbered steps is saved as a card of its own."""
    page.goto(site.url + "steps.html")
    tools = page.locator("[data-step-card]")
    assert tools.count() > 2
    job = tools.nth(1).get_attribute("data-step-card")
    file, content = saved(page, f"[data-step-card='{job}'] button[value=card]")
    assert file == f"{job}-card.html"
    heading = page.locator(f"h2#{job}").inner_text()
    page.goto("about:blank")  # where nothing forbids a card's own style
    page.set_content(content)
    assert page.locator("h1").inner_text() == heading
    assert page.locator("article.steps ol li").count() > 3
    assert page.locator("svg.qr").count() == 1
    assert page.locator("a, button, script").count() == 0


def test_figures_come_as_text_and_as_csv(page: Page, site: Site) -> None:
    page.add_init_script(CLIPBOARD)
    page.goto(site.url + "power.html")
    live.await_ready(page)
    page.click("[data-keep] button[value=text]")
    page.wait_for_function("self.copied")
    assert stock.guide().get("power").title.upper() in page.evaluate("self.copied").upper()
    file, text = saved(page, "[data-keep] button[value=csv]")
    assert file == "power-figures.csv"
    rows = list(csv.DictReader(io.StringIO(text)))
    assert len(rows) > 5
    assert all(float(row["value"]) is not None for row in rows)


def test_every_picture_comes_as_a_file_of_its_own(page: Page, site: Site, built_site: Path) -> None:
    count = 0
    for name in live.pages_with_calculators(built_site):
        live.turn_to(page, site.url + name)
        live.await_ready(page)
        page.evaluate("document.querySelectorAll('.fold').forEach((one) => { one.open = true; })")
        for key in page.locator("[data-picture-svg]").evaluate_all(
            "all => all.map((b) => b.value)"
        ):
            file, text = saved(page, f"[data-picture-svg][value='{key}'] >> nth=0")
            assert file.endswith(f"-{key}.svg")
            root = ElementTree.fromstring(text)
            assert root.tag == "{http://www.w3.org/2000/svg}svg"
            assert root.find("{http://www.w3.org/2000/svg}style") is not None
            assert "var(" not in text
            count += 1
        if count > 12:
            break
    assert count > 4


def test_what_needs_mending_first_is_said(page: Page, site: Site) -> None:
    page.goto(site.url + "power.html")
    live.await_ready(page)
    page.fill(".calc [name=run_hours]", "abc")
    live.await_current(page)
    page.click("[data-keep] button[value=csv]")
    page.wait_for_function("document.querySelector('[data-said]').textContent.includes('mending')")


# ---- units and number style ----


def test_units_and_number_style_change_what_is_shown_and_no_verdict(
    page: Page, site: Site, built_site: Path
) -> None:
    for name in live.pages_with_calculators(built_site)[:2]:  # of all: tests/test_frame.py
        live.turn_to(page, site.url + name)
        live.await_ready(page)
        words = page.locator(".verdict-word").all_inner_texts()
        for choice in ("units=us", "decimal=,", "units=both", "units=metric", "decimal=."):
            what, _, value = choice.partition("=")
            page.click(f"[data-{what}-choice][value='{value}'] >> nth=0")
            page.wait_for_function(
                "[...document.querySelectorAll('section.calc')]"
                ".every((one) => one.dataset.answer === 'current')"
            )
            assert page.locator(".verdict-word").all_inner_texts() == words, (name, choice)


def test_the_choice_is_remembered_and_reaches_numbers_in_sentences(page: Page, site: Site) -> None:
    page.goto(site.url + "power.html")
    live.await_ready(page)
    cited = page.locator(".cited[data-us]").first
    metric = cited.inner_text()
    page.click("[data-units-choice][value=both] >> nth=0")
    live.await_current(page)
    assert cited.inner_text() == cited.get_attribute("data-both")
    page.click("[data-units-choice][value=us] >> nth=0")
    page.click("[data-decimal-choice][value=','] >> nth=0")
    live.await_current(page)
    for _ in range(2):
        expected = cited.get_attribute("data-us-mark") or cited.get_attribute("data-us")
        assert cited.inner_text() == expected != metric
        assert live.answer(page) == live.in_browsers_words(
            page,
            json.loads(
                browser.handle(
                    json.dumps(
                        {
                            "calculator": "power",
                            "example": json.loads(
                                page.locator("section.calc").first.get_attribute("data-example")
                                or "{}"
                            ),
                            "units": "us",
                            "decimal": ",",
                            "prefix": "power-",
                        }
                    )
                )
            )["slots"]["answer"],
        )
        page.reload()
        live.await_ready(page)
        live.await_current(page)
    page.click("[data-units-choice][value=metric] >> nth=0")
    page.click("[data-decimal-choice][value='.'] >> nth=0")
    live.await_current(page)
    assert cited.inner_text() == metric
