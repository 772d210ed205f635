"""The guide from a folder: the zip unpacked and opened by double-click, with no server and no network."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page

from . import live


@pytest.fixture(scope="module")
def folder(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What a reader gets who unpacks the zip; its name has a blank and an umlaut."""
    target = tmp_path_factory.mktemp("Boot Möwe")
    return live.unpacked(built_site, target)


def test_the_zip_holds_the_whole_guide(folder: Path, built_site: Path) -> None:
    assert live.pages_of(folder) == live.pages_of(built_site)
    assert (folder / "index.html").read_bytes() == (built_site / "index.html").read_bytes()


def test_every_page_opens_and_every_link_leads_to_a_page(page: Page, folder: Path) -> None:
    page.add_init_script(live.NO_ENGINE)
    for name in live.pages_of(folder):
        page.goto((folder / name).as_uri())
        assert page.locator("h1").inner_text()
        links = page.locator("a[href]").evaluate_all("all => all.map((one) => one.href)")
        for link in links:
            if link.startswith("file:"):
                path = Path(page.evaluate("link => decodeURI(new URL(link).pathname)", link))
                assert path.is_file(), f"{name}: {link}"


def test_a_calculator_answers_from_its_snapshot(page: Page, folder: Path) -> None:
    page.goto((folder / live.pages_with_calculators(folder)[0]).as_uri())
    live.await_ready(page)
    assert page.locator("section.calc").first.get_attribute("data-engine-start") == "snapshot"
    box = live.number_box(page)
    box.fill("3.4")
    live.await_current(page)
    assert live.answer(page) == live.expected_answer(page, live.typed_field(box, "3.4"))


def test_search_finds_a_word(page: Page, folder: Path) -> None:
    page.goto((folder / "index.html").as_uri())
    page.keyboard.press("/")
    page.keyboard.type("generator")
    page.wait_for_selector(".md-search-result__item a")
    page.locator(".md-search-result__item a").first.click()
    page.wait_for_url(lambda address: "index.html" not in address)
    assert page.locator("h1").inner_text()


def test_the_page_says_that_it_is_a_copy_and_offers_no_zip(page: Page, folder: Path) -> None:
    page.goto((folder / "index.html").as_uri())
    page.wait_for_function("document.querySelector('[data-offline-status]').textContent")
    assert "needs no network" in page.locator("[data-offline-status]").inner_text()
    assert page.locator("[data-guide-zip]").count() == 0


@pytest.mark.parametrize(
    ("word", "name"), [("noise", "noise"), ("battery", "power"), ("inverter", "power")]
)
def test_search_finds_first_the_page_that_answers(
    page: Page, folder: Path, word: str, name: str
) -> None:
    page.goto((folder / "index.html").as_uri())
    page.keyboard.press("/")
    page.keyboard.type(word)
    first = page.locator(".md-search-result__item a").first
    first.wait_for()
    page.wait_for_timeout(500)  # the list is put in order as one types
    assert f"/{name}.html" in str(first.get_attribute("href"))


def test_a_link_from_a_folder_says_whom_it_serves(page: Page, folder: Path) -> None:
    name = live.pages_with_calculators(folder)[0]
    page.goto((folder / name).as_uri())
    live.await_ready(page)
    said = page.locator("[data-keep] [data-said]").first
    page.click("[data-keep] button[value=link]")
    page.wait_for_function(
        "document.querySelector('[data-keep] [data-said]').textContent.length > 40"
    )
    assert "nobody else" in said.inner_text()
    # Where the guide is on the web, that is where the link leads.
    page.evaluate(
        """() => { const meta = document.createElement("meta");
        meta.name = "brinebook-hosted"; meta.content = "https://guide.example/page.html";
        document.head.append(meta);
        navigator.clipboard.writeText = () => Promise.reject(); }"""
    )
    page.click("[data-keep] button[value=link]")
    page.wait_for_function(
        "document.querySelector('[data-by-hand]').value.startsWith('https://guide.example/page.html#a1:')"
    )
