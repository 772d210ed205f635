"""Turning to another page keeps the engine, and everything else is as if the page had been loaded."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Worker

from site_build import server

from . import live

# A page as it stands: what it says of itself, and its body; with what a reader or the theme may have
# done to it in between left out, and in the order of its attributes.
STANDS = """() => {
  const body = document.body.cloneNode(true);
  body.querySelectorAll(".md-search-result, script, link, [data-offline-status]").forEach((one) => one.remove());
  const FOCUS = /^(tabindex|class|data-focus-visible-added)$/;
  const lines = [];
  const walk = (node, depth) => {
    if (node.nodeType === Node.TEXT_NODE) {
      node.data.trim() && lines.push(depth + node.data.trim());
    } else if (node.nodeType === Node.ELEMENT_NODE) {
      const said = [...node.attributes]
        .filter(({ name }) => !(node.matches("main h1") && FOCUS.test(name)) && !node.id.startsWith("__code_"))
        .map(({ name, value }) => `${name}=${value}`).sort();
      lines.push(`${depth}${node.tagName} ${said.join(" ")}`);
      node.childNodes.forEach((one) => walk(one, depth + " "));
    }
  };
  walk(body, "");
  const head = [...document.head.querySelectorAll("title, meta[name], link[rel=prev], link[rel=next], link[rel=canonical]")];
  return [location.href, ...head.map((one) => one.outerHTML).sort(), ...lines];
}"""
MARK = "self.sameDocument = true"


@pytest.fixture
def quiet(context: BrowserContext) -> Iterator[Page]:
    """A page whose engine never begins."""
    context.add_init_script(live.NO_ENGINE)
    yield context.new_page()


def turned(page: Page) -> bool:
    """Whether the page was not loaded since it was marked."""
    return bool(page.evaluate("self.sameDocument === true"))


def engines(page: Page) -> list[Worker]:
    """The page's workers but for the theme's search, which comes when Python runs."""
    return [one for one in page.workers if "/search." not in one.url]


def turn(page: Page, name: str) -> None:
    """Follow the contents to a page."""
    page.evaluate(
        f"""() => [...document.querySelectorAll("a[href]")]
          .find((one) => one.href === new URL({name!r}, location.href).href).click()"""
    )
    page.wait_for_url(f"**/{name}")
    page.wait_for_function(
        f"document.querySelector('.bb-contents [aria-current=page]')?.href.endsWith({name!r})"
    )


def some(site: Path) -> list[str]:
    """A third of the pages, the cover and the boat among them: each kind of page is there."""
    names = [name for name in live.pages_of(site) if name != "licences.html"]
    return sorted({*names[::3], "index.html", "boat.html", "log.html"})


def test_a_turned_page_stands_as_a_loaded_one(
    quiet: Page, site: server.Site, built_site: Path
) -> None:
    names = some(built_site)
    loaded = {}
    for name in names:
        quiet.goto(site.url + name)
        quiet.wait_for_function("document.documentElement.dataset.brinebook === 'awake'")
        quiet.wait_for_function(
            "!document.querySelector('[data-md-scrollfix]')"
        )  # the theme's, too
        loaded[name] = quiet.evaluate(STANDS)
    quiet.evaluate(MARK)
    for name in names:
        turn(quiet, name)
        differs = difflib.unified_diff(loaded[name], quiet.evaluate(STANDS), lineterm="", n=0)
        assert not (told := "\n".join(differs)), f"{name}\n{told}"
    assert turned(quiet)


def test_the_engine_and_what_is_typed_live_on(page: Page, site: server.Site) -> None:
    page.add_init_script(live.LISTEN)
    page.goto(site.url + "power.html")
    live.await_ready(page)
    page.evaluate(MARK)
    (engine,) = engines(page)
    box = live.number_box(page)
    first = box.get_attribute("name")
    box.fill("3.6")
    live.await_current(page)
    turn(page, "wiring.html")
    live.await_ready(page, 500)
    box = live.number_box(page)
    box.fill("3.4")
    live.await_current(page)
    assert live.answer(page) == live.expected_answer(page, live.typed_field(box, "3.4"))
    page.go_back()
    page.wait_for_url("**/power.html")
    page.wait_for_selector("section.calc[data-calculator=power]")
    live.await_current(page)
    box = live.number_box(page)
    assert (box.get_attribute("name"), box.input_value()) == (first, "3.6")
    assert live.answer(page) == live.expected_answer(page, live.typed_field(box, "3.6"))
    assert turned(page) and engines(page) == [engine]
    # Nothing of the page before listens any more: a change of the units asks for this form alone.
    page.evaluate("exchanges.length = 0")
    page.locator("[data-units-choice][value=us]").first.click()
    page.wait_for_function("exchanges.length")
    live.await_current(page)
    assert page.evaluate("exchanges.every(([asked]) => JSON.parse(asked).calculator === 'power')")
    page.reload()
    assert live.number_box(page).input_value() == "3.6"


def test_a_boat_is_one_on_all_turned_pages(page: Page, site: server.Site) -> None:
    page.goto(site.url + "boat.html")
    live_boat = page.locator("section.sheet")
    page.wait_for_selector("section.sheet[data-engine=ready]")
    page.evaluate(MARK)
    box = live_boat.locator("input[name=bank_capacity]").first
    box.evaluate(
        "one => { for (let f = one.closest('details'); f; f = f.parentElement.closest('details')) f.open = true; }"
    )
    box.fill("420")
    box.blur()
    turn(page, "power.html")
    live.await_current(page)
    assert page.locator("section.calc input[name=bank_capacity]").input_value() == "420"
    assert turned(page)


def test_back_finds_the_place_where_one_was(page: Page, site: server.Site) -> None:
    page.goto(site.url + "power.html")
    live.await_ready(page)
    live.number_box(page).fill("3.6")
    live.await_current(page)
    page.evaluate(MARK)
    page.evaluate("scrollTo({ top: document.body.scrollHeight - 1500, behavior: 'instant' })")
    before = page.evaluate("scrollY")
    assert before > 1000
    turn(page, "harm.html")
    assert page.evaluate("scrollY") == 0
    page.go_back()
    page.wait_for_selector("section.calc[data-calculator=power]")
    live.await_current(page)
    page.wait_for_function(f"Math.abs(scrollY - {before}) < 2")
    page.go_forward()
    page.wait_for_url("**/harm.html")
    page.wait_for_function("scrollY === 0 && !document.querySelector('section.calc')")
    assert turned(page)


def test_an_anchor_a_focus_and_what_was_open(page: Page, site: server.Site) -> None:
    page.goto(site.url + "power.html")
    page.wait_for_function("document.documentElement.dataset.brinebook === 'awake'")
    page.evaluate(MARK)
    page.set_viewport_size({"width": 390, "height": 844})
    page.locator(".bb-contents-button").click()
    page.locator(".bb-contents a[href='harm.html']").click()
    page.wait_for_function("document.activeElement?.matches('main h1')")
    assert page.evaluate("document.querySelectorAll(':popover-open').length") == 0
    assert page.title().startswith(page.locator("main h1").inner_text())
    turn(page, "power.html")
    page.locator("main a[href='steps.html#start']").first.evaluate("one => one.click()")
    page.wait_for_url("**/steps.html#start")
    page.wait_for_function("document.querySelector(':target')?.id === 'start'")
    top = page.locator("#start").evaluate("one => one.getBoundingClientRect().top")
    assert -5 < top < 300
    # What the search finds is turned to as well, and the search closes.
    page.locator("label[for=__search]").first.click()
    page.locator(".md-search__input").press_sequentially("spare")
    page.locator(".md-search-result__link").first.click()
    page.wait_for_url("**/spares.html*")
    page.wait_for_selector("section.calc[data-calculator=spares]")
    assert page.evaluate("document.getElementById('__search').checked") is False
    assert page.locator(".md-search__input").input_value() == ""
    assert turned(page)


def test_a_link_with_an_answer_opens_on_the_page_that_it_turns_to(
    page: Page, site: server.Site
) -> None:
    page.goto(site.url + "wiring.html")
    live.await_ready(page)
    box = live.number_box(page)
    name = box.get_attribute("name")
    box.fill("3.4")
    live.await_current(page)
    page.evaluate("navigator.clipboard.writeText = async (text) => { self.copied = text }")
    page.locator("section.calc [data-keep] button[value=link]").first.evaluate("one => one.click()")
    page.wait_for_function("self.copied")
    link = page.evaluate("self.copied")
    box.fill("")
    turn(page, "harm.html")
    page.evaluate(MARK)
    page.evaluate("link => location.assign(link)", link)
    page.wait_for_selector("section.calc[data-calculator=wiring]")
    page.wait_for_function(
        f"document.querySelector('section.calc [name={name}]').value.startsWith('3.4')"
    )
    assert turned(page)


@pytest.mark.parametrize("odd", ["missing", "edition"])
def test_a_page_of_another_edition_or_none_is_loaded(
    rough_page: Page, own_site: Path, odd: str
) -> None:
    with server.serve(own_site) as host:
        rough_page.goto(host.url + "power.html")
        rough_page.wait_for_function("document.documentElement.dataset.brinebook === 'awake'")
        rough_page.evaluate(MARK)
        other = own_site / "harm.html"
        if odd == "missing":
            other.unlink()
        else:
            text = other.read_text("utf-8")
            entry = text.index('name="brinebook-guide"')
            other.write_text(text[:entry] + text[entry:].replace("guide.", "guide.0", 1), "utf-8")
        rough_page.evaluate("location.assign('harm.html')")
        rough_page.wait_for_function("self.sameDocument === undefined")
        assert rough_page.url.endswith("/harm.html")
