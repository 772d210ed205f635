"""An edition in two languages side by side, the second one made by machine, on a phone."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import babel
import pytest
from babel.messages.catalog import Catalog
from playwright.sync_api import Page
from pseudo import pseudo_words
from test_language_whole import english, words_of

from site_build import build, edition, language, language_sites, server

from . import live

READY = pseudo_words("The answer follows what you type.")
KEPT = ("index", "boat", "power", "glossary", "steps")  # what else there is stays out
PHONE = {"width": 390, "height": 844}


def made_by_machine(code: str) -> bytes:
    """A translator's file with a whole language that no translator wrote."""
    made = Catalog(locale=babel.Locale.parse(code))
    for message in language.template():
        if isinstance(message.id, str) and message.id:
            made.add(message.id, pseudo_words(message.id))
        elif message.id:
            made.add(message.id, tuple(map(pseudo_words, message.id)))
    return language.as_file(made)


@pytest.fixture(scope="module")
def in_french(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of such a guide, at whose root English is spoken."""
    folder = tmp_path_factory.mktemp("edition")
    stock = {path.name for path in Path("docs").glob("*.md")}
    hidden = sorted(stock - {f"{name}.md" for name in KEPT} - {"licences.md"})
    (folder / edition.FILE).write_text(
        f'name = "Alder Watermakers"\nlanguages = ["en", "fr"]\nhide = {hidden}\n', "utf-8"
    )
    path = folder / "languages" / "fr" / "messages.po"
    path.parent.mkdir(parents=True)
    path.write_bytes(made_by_machine("fr"))
    (path.parent / "pages").mkdir()
    (path.parent / "pages" / "quai.md").write_text("# Le quai\n\nAu bout du port.\n", "utf-8")
    told: list[str] = []
    build.build_edition(folder, folder / "site", told.append)
    assert not [one for one in told if "no translation" in one]
    with server.serve(folder / "site") as served:
        yield served.url


def await_ready(page: Page) -> None:
    page.wait_for_function(
        "(words) => document.body.innerText.includes(words)", arg=READY, timeout=120_000
    )


def test_the_live_page_speaks_it_and_keeps_to_a_phone(in_french: str, page: Page) -> None:
    page.set_viewport_size(PHONE)
    page.goto(f"{in_french}fr/power.html")
    assert page.evaluate("() => document.documentElement.lang") == "fr"
    await_ready(page)
    page.locator("input[name=run_hours]").first.fill("2.5")
    page.wait_for_function("() => /2,5\\sh/.test(document.querySelector('.calc')?.textContent)")
    shown = page.locator(".calc").first.inner_html()
    assert [word for one in words_of(shown) for word in english(one)] == []
    for name in KEPT:
        page.goto(f"{in_french}fr/{name}.html")
        wide = page.evaluate("() => document.documentElement.scrollWidth")
        assert wide == PHONE["width"], name


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
    page.locator("input[name=query]").first.press_sequentially("generator")
    page.locator(".md-search-result__item").first.wait_for(state="attached", timeout=30_000)
    assert f"{in_french}fr/{language_sites.STEMMERS}/min/lunr.fr.min.js" in asked
