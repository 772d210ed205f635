"""The live calculator on an ordinary host, in Chromium: what one types is answered, as Python says."""

from __future__ import annotations

import json
import random
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from calc import browser, stock
from calc.frame import service
from site_build.server import Site

from . import live


@pytest.fixture
def calculator(page: Page, site: Site, built_site: Path) -> Page:
    """The first page with a calculator, live."""
    page.add_init_script(live.LISTEN)
    page.goto(site.url + live.pages_with_calculators(built_site)[0])
    live.await_ready(page)
    return page


# The answers of a page as it came from the host.
BUILT = """async () => {
  const text = await (await fetch(location.href)).text();
  const page = new DOMParser().parseFromString(text, "text/html");
  return [...page.querySelectorAll("section.calc [data-slot=answer]")].map((one) => one.innerHTML);
}"""


def test_every_calculator_of_every_page_answers_as_the_page_was_built(
    page: Page, site: Site, built_site: Path
) -> None:
    names = live.pages_with_calculators(built_site)
    assert names
    for name in names:
        live.turn_to(page, site.url + name)
        live.await_ready(page)
        all_built = page.evaluate(BUILT)
        sections = page.locator("section.calc").all()
        for section, built in zip(sections, all_built, strict=True):
            section.locator("[data-reset]").click()
            section.page.wait_for_function(
                "one => one.dataset.answer === 'current'", arg=section.element_handle()
            )
            assert section.locator("[data-slot=answer]").inner_html() == built


def test_what_is_typed_is_answered_as_python_answers_it(calculator: Page) -> None:
    box = live.number_box(calculator)
    before = live.answer(calculator)
    box.fill("3.3")
    live.await_current(calculator)
    assert live.answer(calculator) != before
    assert live.answer(calculator) == live.expected_answer(calculator, live.typed_field(box, "3.3"))


def test_the_engine_starts_from_its_snapshot(calculator: Page) -> None:
    assert calculator.locator("section.calc").first.get_attribute("data-engine-start") == "snapshot"


def test_the_same_inputs_give_the_same_bytes_in_cpython_and_in_the_browser(
    calculator: Page,
) -> None:
    requests = list(_requests())
    responses = calculator.evaluate(
        """async (requests) => {
          const responses = [];
          for (const request of requests) {
            const number = 1e6 + responses.length;
            responses.push(await new Promise((resolve) => {
              const hear = ({ data }) => {
                if (data.answer === number || data.fault === number) {
                  engineWorker.removeEventListener("message", hear);
                  resolve(data.response ?? data.detail);
                }
              };
              engineWorker.addEventListener("message", hear);
              engineWorker.postMessage({ ask: number, request });
            }));
          }
          return responses;
        }""",
        requests,
    )
    for request, response in zip(requests, responses, strict=True):
        assert response == browser.handle(request), request
    assert len({*responses}) > len(requests) / 2, "the requests are to ask different things"


def _requests() -> list[str]:
    """Each calculator with its defaults, in steps too, and each field with some value beside another
    one, sound or unsound, in units by turns."""
    chance = random.Random(20_26)
    texts = [
        "",
        "abc",
        "1e400",
        "-3 kg",
        "12 V",
        "1,5",
        "0",
        "7",
        "33.3",
        "1200",
        "<script>",
        "80 °F",
    ]
    made: list[dict[str, Any]] = []
    for name in stock.guide().names():
        fields = list(stock.guide().get(name).asks.fields)
        for units in service.SYSTEMS:
            made.append({"calculator": name, "example": {}, "typed": {}, "units": units})
        made += _steps(name, {fields[-1]: "7"})
        for field in fields:
            typed = {field: chance.choice(texts), chance.choice(fields): chance.choice(texts)}
            units = service.SYSTEMS[len(made) % len(service.SYSTEMS)]
            made.append({"calculator": name, "example": {}, "typed": typed, "units": units})
    return [json.dumps(request) for request in made]


def _steps(name: str, typed: dict[str, str]) -> list[dict[str, Any]]:
    """An answer in two steps, and another one told over it."""
    common = {"calculator": name, "example": {}}
    return [
        {**common, "typed": {}, "as": f"{name}-1"},
        {"do": "rest", "of": f"{name}-1", "as": f"{name}-2"},
        {**common, "typed": typed, "as": f"{name}-3", "over": f"{name}-2"},
        {"do": "rest", "of": f"{name}-3", "as": f"{name}-4"},
    ]


def test_a_fault_is_told_at_its_field_and_nothing_typed_is_lost(calculator: Page) -> None:
    box = live.number_box(calculator)
    name = box.get_attribute("name")
    for text in ("abc", "1e400", "12 stone", "<script>alert(1)</script>"):
        box.fill(text)
        calculator.wait_for_selector(f"[name='{name}'][aria-invalid=true]")
        live.await_current(calculator)
        assert box.input_value() == text
        assert calculator.locator(f"[data-slot='field.{name}'] .fault").inner_text()
        assert calculator.locator("section.calc script").count() == 0
    # The answer names the fault and leads to the field.
    calculator.locator("[data-slot=answer] a[href^='#']:visible").first.click()
    assert calculator.evaluate("document.activeElement.name") == name
    box.fill("5")
    calculator.wait_for_function(
        "name => !document.querySelector(`[name='${name}']`).hasAttribute('aria-invalid')", arg=name
    )


def test_a_field_is_described_by_its_note_and_no_attribute_changes(calculator: Page) -> None:
    """A screen reader is told the note; form filling, which goes by the attribute, finds nothing."""
    box = live.number_box(calculator)
    label = calculator.locator(f"label[for='{box.get_attribute('id')}']").inner_text()
    seen = []
    for text in ("5", "abc"):
        box.fill(text)
        live.await_current(calculator)
        note = calculator.locator(f"[data-slot='field.{box.get_attribute('name')}']").inner_text()
        tree = calculator.context.new_cdp_session(calculator).send("Accessibility.getFullAXTree")
        described = [
            node.get("description", {}).get("value", "")
            for node in tree["nodes"]
            if node.get("role", {}).get("value") == "textbox"
            and node.get("name", {}).get("value") == label
        ]
        assert len(described) == 1 and re.sub(r"\W", "", described[0]).startswith(
            re.sub(r"\W", "", note)
        )
        seen.append(described[0])
    assert seen[0].startswith("yours: 5") and "“abc" in seen[1]
    assert calculator.evaluate(
        "[...document.querySelectorAll('section.calc form [aria-describedby]')]"
        ".every((one) => one.getAttribute('aria-describedby') === '')"
    )


def test_another_unit_is_sent_with_the_number(calculator: Page) -> None:
    box = live.number_box(calculator)
    unit = calculator.locator(f"select[name='{box.get_attribute('name')}.unit']")
    other = unit.locator("option:not(:checked)").first.evaluate("(one) => one.value")
    box.fill("4.5")
    unit.select_option(other)
    live.await_current(calculator)
    typed = live.typed_field(box, "4.5")
    assert typed[box.get_attribute("name") or ""] == f"4.5 {other}"
    assert live.answer(calculator) == live.expected_answer(calculator, typed)
    assert box.input_value() == "4.5"


def test_back_to_the_example_and_back_again(calculator: Page) -> None:
    built = live.answer(calculator)
    box = live.number_box(calculator)
    example = box.input_value()
    reset = calculator.locator("[data-reset]").first
    box.fill("2.2")
    live.await_current(calculator)
    mine = live.answer(calculator)
    label = reset.inner_text()
    reset.click()
    live.await_current(calculator)
    assert (box.input_value(), live.answer(calculator)) == (example, built)
    assert reset.inner_text() != label
    reset.click()
    live.await_current(calculator)
    assert (box.input_value(), live.answer(calculator)) == ("2.2", mine)
    assert reset.inner_text() == label


def test_what_a_reader_has_opened_stays_open(calculator: Page) -> None:
    details = calculator.locator("[data-slot=answer] details[data-key]").first
    details.locator("summary").click()
    left = details.get_attribute("open")
    box = live.number_box(calculator)
    box.fill("3.7")
    live.await_current(calculator)
    assert details.get_attribute("open") == left
    assert calculator.evaluate("document.activeElement.name") == box.get_attribute("name")


def test_the_themes_keys_turn_no_page_while_a_form_has_the_focus(calculator: Page) -> None:
    here = calculator.url
    for control in calculator.locator("form.calc-form :is(input, select, button, summary)").all():
        if control.is_visible():
            control.focus()
            for key in "pn,.":
                calculator.keyboard.press(key)
    calculator.wait_for_timeout(200)
    assert calculator.url == here


def test_the_themes_keys_do_turn_pages_elsewhere(page: Page, site: Site, built_site: Path) -> None:
    """So the test above can fail."""
    page.goto(site.url + live.pages_with_calculators(built_site)[0])
    live.await_ready(page)
    here = page.url
    page.locator("h1").first.click()
    page.keyboard.press("p")
    page.wait_for_url(lambda address: address != here)


def test_a_page_without_calculators_fetches_no_engine(
    page: Page, site: Site, built_site: Path
) -> None:
    # A boat sheet asks the engine too.
    plain = [
        name
        for name in live.pages_of(built_site)
        if not re.search(r"data-calculator=|data-sheet\b", (built_site / name).read_text("utf-8"))
    ]
    page.goto(site.url + plain[0])
    page.wait_for_timeout(1500)
    assert not [path for path in site.host.asked if "/assets/engine/wasm" in path]


def test_a_record_that_is_rated_otherwise_leaves_the_list_and_comes_back(
    page: Page, site: Site
) -> None:
    """And what it gave besides goes on counting, whatever is typed next."""
    page.goto(site.url + "power.html")
    live.await_ready(page)
    form = page.locator("section.calc form").first
    record, rating = form.locator("[name=inverter]"), form.locator("[name=inverter_power]")
    named, rated = record.input_value(), rating.input_value()
    assert named
    rating.evaluate("one => { one.closest('details').open = true; }")
    rating.fill("2345")
    live.await_current(page)
    assert record.input_value() == "", "the list names no record"
    cut_off = form.locator("[name=inverter_cut_off]").input_value()
    rating.fill("2346")
    live.await_current(page)
    assert form.locator("[name=inverter_cut_off]").input_value() == cut_off != ""
    rating.fill(rated)
    live.await_current(page)
    assert record.input_value() == named
