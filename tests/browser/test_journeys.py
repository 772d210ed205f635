"""Journeys as readers go: an owner with a phone from the start to a true answer, and a US owner at a desk.

What they cost is measured: taps, screens, and the smallest letter of a picture.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from calc import stock
from site_build.server import Site

from . import live

PHONE = {"width": 390, "height": 844}
SCREENS = 1.5  # from a calculator's top to the end of what one came for
PAGE = 12  # screens of a page with its calculators, folded as it comes
LETTER = 11.0  # px
FACTS = {
    "unit": "skerry-45",
    "bank_chemistry": "lifepo4",
    "bank_voltage": "12",
    "bank_capacity": "300",
    "has_inverter": "yes",
    "inverter_power": "2000",
    "has_generator": "no",
}

# How far below a calculator's top its first answer ends: all but what is folded, and the cautions.
FIRST_ENDS = """
(section) => Math.max(...[...section.querySelectorAll(".answer-first > *")].map(
  (one) => one.getBoundingClientRect().bottom)) - section.getBoundingClientRect().top
"""
LETTERS = """
() => [...document.querySelectorAll(".calc figure.picture svg text")]
  .filter((one) => one.getClientRects().length)
  .map((one) => {
    const { a, b } = one.getScreenCTM();
    return parseFloat(getComputedStyle(one).fontSize) * Math.hypot(a, b);
  })
"""


def say(page: Page, facts: dict[str, str]) -> int:
    """Fills in the start; returns the controls that were touched."""
    for name, text in facts.items():
        box = page.locator(f".start [name={name}]")
        if box.evaluate("one => one.tagName") == "SELECT":
            box.select_option(text)
        else:
            box.fill(text)
        if name == "has_inverter":
            page.wait_for_selector(".start [name=inverter_power]:visible")
    page.wait_for_selector("section.start[data-answer=current]")
    return len(facts)


def hours_of_a_charge() -> str:
    """The number that Python tells of that boat."""
    guide = stock.guide()
    made = guide.run(guide.get("power"), sheet=FACTS, own_boat=True).report
    assert made is not None
    hours = next(f for f in made.wanted_figures() if f.key == "hours").value
    assert 1.9 < hours.value / 3600 < 2.0
    return hours.text().removesuffix("h").strip()


def numbers(page: Page) -> Any:
    return page.evaluate(LETTERS)


def test_an_owner_with_a_phone_gets_the_answer_for_her_boat(page: Page, site: Site) -> None:
    page.set_viewport_size(PHONE)
    page.goto(site.url)
    begins = page.locator(".start .question").first.bounding_box()
    assert begins is not None and begins["y"] < PHONE["height"] / 2, "the first screen is the start"
    assert page.locator(".start .question").count() == 5
    assert page.locator("[data-dashboard]").count() == 0, "nothing said, nothing judged"
    page.wait_for_selector("section.start[data-engine=ready]", timeout=60_000)
    assert say(page, FACTS) <= 7
    power = page.locator("[data-dashboard=power]")
    assert power.get_attribute("class") != "state-unasked"
    assert page.locator(".state-unasked [data-question]").count(), "and says what it doesn't know"
    power.locator("a").first.click()
    page.wait_for_url("**/power.html")
    page.wait_for_selector("[data-whose=boat]")
    page.wait_for_selector("section.calc[data-answer=current]")
    section = page.locator("section.calc").first
    assert section.locator(".verdict-for").count() == 0, "it is no example's"
    options = section.locator("[data-option]").evaluate_all(
        "all => all.map((o) => o.dataset.option)"
    )
    assert options and set(options) <= {"inverter", "week"}
    # What her true answer is, tests/test_own_boat.py holds: some 1.95 h.
    assert hours_of_a_charge() in section.locator("[data-wanted=hours]").inner_text()
    assert section.evaluate(FIRST_ENDS) <= SCREENS * PHONE["height"]
    told = section.inner_text()
    assert "Alder" not in told and "example" not in told.lower().replace(
        "show the page's example", ""
    )
    # A page whose facts are still to be said asks for them, in the form right below.
    page.goto(site.url + "ventilation.html")
    page.wait_for_selector(".verdict-unasked")
    first = page.locator("[data-question]").first
    name = first.get_attribute("data-question")
    first.click()
    assert page.evaluate("document.activeElement.name") == name
    assert page.evaluate("document.activeElement.value") == "", "and shows nobody else's value"
    # A list has no box of its own: it is asked for where one adds to it.
    page.goto(site.url + "layup.html")
    page.wait_for_selector(".verdict-unasked")
    asked = page.locator("section.calc [data-question]")
    names = asked.evaluate_all("all => all.map((one) => one.dataset.question)")
    assert "lay_ups" in names
    for n, name in enumerate(names):
        asked.nth(n).click()
        assert page.evaluate(
            "name => Boolean(document.activeElement.closest(`[data-field='${name}']`))", name
        ), name


def test_each_answer_on_a_phone_comes_first_and_can_be_read(
    page: Page, site: Site, built_site: Path
) -> None:
    page.set_viewport_size(PHONE)
    page.add_init_script(live.NO_ENGINE)
    for name in live.pages_with_calculators(built_site):
        page.goto(site.url + name)
        high = page.evaluate("document.scrollingElement.scrollHeight") / PHONE["height"]
        assert high <= PAGE, (name, high)
        for section in page.locator("section.calc").all():
            ends = section.evaluate(FIRST_ENDS) / PHONE["height"]
            assert ends <= SCREENS, (name, ends)
            caution = section.locator("aside.cautions")
            assert caution.count() == 0 or caution.is_visible(), name
        page.evaluate(
            "document.querySelectorAll('.calc .fold').forEach((one) => { one.open = true; })"
        )
        assert min(numbers(page), default=LETTER) >= LETTER, name
        assert page.evaluate("document.scrollingElement.scrollWidth") == PHONE["width"], name


def test_a_us_owner_at_a_desk_keeps_the_form_beside_a_long_answer(page: Page, site: Site) -> None:
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto(site.url)
    page.wait_for_selector("section.start[data-engine=ready]", timeout=60_000)
    say(page, {**FACTS, "unit": "skerry-45-60"})
    page.goto(site.url + "power.html")
    page.wait_for_selector("[data-whose=boat]")
    live.await_current(page)
    section = page.locator("section.calc").first
    metric = section.locator(".verdict-word").inner_text()
    section.locator("[data-units-choice][value=us]").click()
    live.await_current(page)
    assert section.locator(".verdict-word").inner_text() == metric
    section.locator("[data-key=fold-options] > summary").click()
    section.locator("[data-option]").last.scroll_into_view_if_needed()
    form = section.locator("form").bounding_box()
    assert form is not None and form["y"] >= 0 and form["y"] + 100 < 900, "the form stays in sight"
