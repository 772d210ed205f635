"""Answer links in the page: what they carry, whose numbers they show, and that nonsense does no harm."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hostile import FRAGMENTS
from playwright.sync_api import Browser, Page, expect

from calc.frame import links
from site_build.server import Site

from . import live

BOAT = {"bank_capacity": "520 Ah", "ambient_temperature": "41 °C", "name": "Alder"}


def link_of(page: Page) -> str:
    """The link that the page copies; the clipboard is one of the test's own."""
    page.evaluate("self.copied = null")
    page.click("[data-keep] button[value=link]")
    page.wait_for_function("self.copied !== null")
    copied: str = page.evaluate("self.copied")
    return copied


@pytest.fixture
def power(page: Page, site: Site) -> Page:
    page.add_init_script(
        "Object.defineProperty(navigator, 'clipboard',"
        " { value: { writeText: async (text) => { self.copied = text; } } })"
    )
    page.goto(site.url + "power.html")
    live.await_ready(page)
    return page


def with_boat(page: Page) -> None:
    page.evaluate(
        "boat => Object.entries(boat).forEach(([name, value]) =>"
        " localStorage.setItem(`brinebook:boat:1.${name}`, JSON.stringify(value)))",
        BOAT,
    )
    page.reload()
    page.wait_for_selector("[data-whose=boat]")


def test_a_link_shows_the_same_answer_to_another(
    power: Page, site: Site, chromium: Browser
) -> None:
    with_boat(power)
    power.fill(".calc [name=run_hours]", "3")
    live.await_current(power)
    link = link_of(power)
    assert link.startswith(site.url + "power.html#" + links.OF_OWN)
    assert "bank_capacity=520+Ah" in link
    assert "Alder" not in link, "a boat's name isn't asked for an answer"
    other = chromium.new_context().new_page()
    other.goto(link)
    other.wait_for_selector("[data-whose=link]")
    assert live.answer(other) == live.answer(power)
    assert "sent to you" in other.locator("[data-whose]").inner_text()
    other.context.close()


def test_a_link_made_of_a_link_is_the_same(power: Page) -> None:
    with_boat(power)
    power.fill(".calc [name=run_hours]", "3")
    live.await_current(power)
    link = link_of(power)
    power.goto("about:blank")
    power.goto(link)
    power.wait_for_selector("[data-whose=link]")
    assert link_of(power) == link


def test_another_boats_link_stands_over_mine_until_i_go_back(power: Page) -> None:
    with_boat(power)
    mine = live.answer(power)
    power.evaluate("location.hash = 'a1:power?bank_capacity=200+Ah&run_hours=1+h'")
    power.wait_for_selector("[data-whose=link]")
    assert power.input_value(".calc [name=bank_capacity]") == "200"
    expected = live.expected_answer(power, {"bank_capacity": "200 Ah", "run_hours": "1 h"})
    assert live.answer(power) == expected
    note = power.locator("[data-slot='field.bank_capacity']")
    assert note.inner_text().startswith("from the link")
    power.fill(".calc [name=bank_capacity]", "210")
    live.await_current(power)
    assert note.inner_text().startswith("yours")
    assert power.locator("[data-slot='field.run_hours']").inner_text().startswith("from the link")
    power.locator("[data-whose] button").last.click()
    power.wait_for_selector("[data-whose=boat]")
    live.await_current(power)
    assert live.answer(power) == mine
    assert "#" not in power.url
    assert power.evaluate("localStorage.getItem('brinebook:boat:1.bank_capacity')") == '"520 Ah"'


def test_a_links_values_are_kept_for_my_boat_when_i_say_so(power: Page) -> None:
    power.evaluate("location.hash = 'a1:power?bank_capacity=200+Ah&run_hours=1+h'")
    power.wait_for_selector("[data-whose=link]")
    power.locator("[data-whose] button").first.click()
    power.wait_for_selector("[data-whose=boat]")
    kept = power.evaluate("localStorage.getItem('brinebook:boat:1.bank_capacity')")
    assert json.loads(kept) == "200 Ah"
    live.await_current(power)
    mine = {"bank_capacity": "200 Ah", "run_hours": "1 h"}
    assert live.answer(power) == live.expected_answer(power, {}, sheet=mine), "and no example's"
    assert "#" not in power.url


def test_what_was_typed_comes_back_after_a_link(power: Page) -> None:
    power.fill(".calc [name=run_hours]", "3.5")
    live.await_current(power)
    mine = live.answer(power)
    power.evaluate("location.hash = 'a1:power?run_hours=1+h'")
    power.wait_for_selector("[data-whose=link]")
    assert power.input_value(".calc [name=run_hours]") == "1"
    power.locator("[data-whose] button").last.click()
    power.wait_for_selector("[data-whose=example]")
    live.await_current(power)
    assert power.input_value(".calc [name=run_hours]") == "3.5"
    assert live.answer(power) == mine


def test_without_a_clipboard_the_link_can_be_copied_by_hand(page: Page, site: Site) -> None:
    page.add_init_script("Object.defineProperty(navigator, 'clipboard', { value: undefined })")
    page.goto(site.url + "power.html")
    live.await_ready(page)
    page.click("[data-keep] button[value=link]")
    by_hand = page.locator("[data-by-hand]")
    by_hand.wait_for(state="visible")
    text: Any = page.evaluate("document.activeElement.value")
    assert "power.html#a1:power?" in text
    assert page.evaluate("getSelection().toString() || document.activeElement.selectionEnd")


def test_headings_still_have_their_anchors(power: Page) -> None:
    heading = power.locator(".md-content h2[id]").last
    power.evaluate("id => { location.hash = id; }", heading.get_attribute("id"))
    expect(heading).to_be_in_viewport()
    power.wait_for_timeout(300)
    assert power.locator(".whose-refused, [data-whose=link]").count() == 0


def test_nonsense_in_a_link_does_no_harm(power: Page) -> None:
    power.on("dialog", lambda dialog: pytest.fail(f"a dialog said {dialog.message}"))
    assert len(FRAGMENTS) >= 60
    for fragment in FRAGMENTS:
        power.evaluate("fragment => { location.hash = fragment; }", fragment)
        # The engine answers in turn: when this is answered, so is the fragment. No mouse: what it aims
        # at moves while answers come in.
        power.evaluate(
            "self.copied = null; document.querySelector('[data-keep] button[value=link]').click()"
        )
        power.wait_for_function("self.copied !== null")
        assert power.locator(".calc script, .calc img").count() == 0, fragment
        assert power.evaluate("({}).x === undefined && ({})['1'] === undefined"), fragment
    power.evaluate("location.hash = ''")
    power.goto(power.url.partition("#")[0] + "?again")
    live.await_ready(power)
    power.fill(".calc [name=run_hours]", "3")
    live.await_current(power)
    assert live.answer(power) == live.expected_answer(power, {"run_hours": "3 h"})


def test_a_cell_leads_to_its_page_filled_in_with_the_place(page: Page, site: Site) -> None:
    page.goto(site.url + "places.html")
    cell = page.locator("table.verdicts a[data-to=ventilation]").last
    told = cell.inner_text()
    cell.click()
    page.wait_for_url("**/ventilation.html*")
    live.await_current(page)
    expect(page.locator(".calc .verdict-word strong").first).to_have_text(told)
    expect(page.locator(".calc [name='faces.3.behind']")).to_have_value("engine")
