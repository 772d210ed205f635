"""The boat sheet in the browser: kept on the device, shown on every page, saved and opened as a file."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page

from calc import stock
from calc.frame import boatfile
from calc.sheet import BoatSheet
from site_build.server import Site

from . import live

Address = Callable[[str], str]
# A few of each kind of control; the whole sheet comes by a file.
TYPED = {"name": "Möwe, 11 m", "bank_capacity": "520 Ah", "ambient_temperature": "41 °C"}
HOSTILE = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "javascript:alert(1)",
    "\u202etxet",
    "__proto__",
    "constructor",
    "</option></select><h1>x",
    "&lt;b&gt;",
    "{{7*7}}",
    "x" * 3000,
    "🦭",
    "\\",
    "</textarea><script>alert(1)</script>",
    "<svg/onload=alert(1)>",
    "boat:1.name",
    "'; DROP TABLE boats",
]


@pytest.fixture(scope="module")
def folder(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The guide as a reader unpacks it."""
    target = tmp_path_factory.mktemp("folder")
    return live.unpacked(built_site, target)


# How many verdicts the list of a page had, each time that it had others.
LISTED = """
self.listed = [];
new MutationObserver(() => {
  const { length } = document.querySelectorAll("[data-dashboard]");
  if (length && length !== listed.at(-1)) listed.push(length);
}).observe(document, { subtree: true, childList: true });
"""


def open_sheet(page: Page, address: str, show: Callable[[Page, str], object] = Page.goto) -> None:
    show(page, address)
    page.wait_for_selector("section.sheet[data-engine=ready]", timeout=60_000)


def field(page: Page, name: str) -> Any:
    """A control of the sheet, unfolded."""
    box = page.locator(f".sheet [name='{name}']")
    box.evaluate("one => { const fold = one.closest('details'); if (fold) fold.open = true; }")
    return box


def settled(page: Page) -> None:
    page.wait_for_selector("section.sheet[data-answer=current]")


def kept(page: Page) -> dict[str, Any]:
    """What the device keeps of the boats."""
    found: dict[str, Any] = page.evaluate(
        "Object.fromEntries(Object.entries(localStorage)"
        ".filter(([name]) => name.startsWith('brinebook:boat'))"
        ".map(([name, value]) => [name.slice(10), JSON.parse(value)]))"
    )
    return found


def fill(page: Page, values: dict[str, str]) -> None:
    for name, text in values.items():
        number, _, unit = text.rpartition(" ")
        if unit in ("Ah", "°C"):
            field(page, f"{name}.unit").select_option(unit)
            field(page, name).fill(number)
        else:
            field(page, name).fill(text)
    settled(page)


def read_file(page: Page, content: str, name: str = "boat.json") -> None:
    """Open a file by the page's own way."""
    page.locator("[data-boat-file]").set_input_files(
        {"name": name, "mimeType": "application/json", "buffer": content.encode()}
    )


def verdicts(
    page: Page,
    address: Address,
    names: list[str],
    sheet: dict[str, Any] | None = None,
    show: Callable[[Page, str], object] = live.turn_to,
) -> dict[str, str]:
    """The answers of all calculators of these pages, byte for byte, and the same that CPython gives."""
    found = {}
    for name in names:
        show(page, address(name))
        live.await_ready(page)
        live.await_answers(page)
        if sheet is not None:
            assert live.answer(page) == live.expected_answer(page, {}, sheet=sheet)
        found[name] = "\n".join(live.answers(page))
    return found


def round_trip(page: Page, address: Address, names: list[str]) -> None:
    """Fill the sheet, go through the pages, save, empty, open the file: the same answers."""
    sheet = boatfile.read(
        boatfile.write(stock.guide().shelf("boat")["catamaran"].texts, BoatSheet), BoatSheet
    )
    open_sheet(page, address("boat.html"))
    read_file(page, boatfile.write(sheet, BoatSheet))
    page.wait_for_function("document.querySelector('.sheet [name=name]').value !== ''")
    settled(page)
    first = verdicts(page, address, names, sheet)
    page.add_init_script(LISTED)
    open_sheet(page, address("boat.html"))
    settled(page)
    *few, every = page.evaluate("listed")
    assert few and few == sorted(few), "verdicts are there before the last of them"
    assert every == len(stock.guide().names())
    with page.expect_download() as saved:
        page.click("[data-sheet-tools] button[value=save]")
    text = Path(saved.value.path()).read_text("utf-8")
    assert saved.value.suggested_filename.endswith("-sheet.json")
    assert boatfile.read(text, BoatSheet) == sheet
    page.click("[data-sheet-tools] button[value=clear]")
    settled(page)
    assert field(page, "name").input_value() == ""
    live.turn_to(page, address(names[0]))
    live.await_ready(page)
    live.await_answers(page)
    assert "\n".join(live.answers(page)) != first[names[0]], (
        "with an empty sheet it is the page's example"
    )
    open_sheet(page, address("boat.html"), live.turn_to)
    read_file(page, text)
    page.wait_for_function("document.querySelector('.sheet [name=name]').value !== ''")
    settled(page)
    again = names[-2:]
    assert verdicts(page, address, again) == {name: first[name] for name in again}


@pytest.mark.keeps
def test_one_description_every_answer_on_a_host_and_offline(
    page: Page, site: Site, built_site: Path
) -> None:
    names = live.pages_with_calculators(built_site)[::3]  # that all answer alike: test_form
    round_trip(page, lambda name: site.url + name, names)
    page.goto(site.url)
    page.wait_for_function(
        "document.querySelector('[data-offline-status]').textContent.includes('Ready')",
        timeout=60_000,
    )
    page.context.set_offline(True)
    online = verdicts(page, lambda name: site.url + name, names[:2], show=Page.goto)
    page.context.set_offline(False)
    assert online == verdicts(page, lambda name: site.url + name, names[:2])


def test_one_description_every_answer_from_a_folder(page: Page, folder: Path) -> None:
    names = live.pages_with_calculators(folder)[:3]
    round_trip(page, lambda name: (folder / name).as_uri(), names)


def test_each_field_is_kept_as_it_was_typed(page: Page, site: Site) -> None:
    open_sheet(page, site.url + "boat.html")
    fill(page, TYPED)
    assert kept(page) == {f"boat:1.{name}": text for name, text in TYPED.items()}
    page.reload()
    page.wait_for_function("document.querySelector('.sheet [name=name]').value !== ''")
    assert field(page, "bank_capacity").input_value() == "520"
    assert field(page, "ambient_temperature.unit").input_value() == "°C"
    field(page, "bank_capacity").fill("")
    settled(page)
    assert "boat:1.bank_capacity" not in kept(page), "an empty field is taken out"
    field(page, "bank_capacity").fill("abc")
    page.wait_for_selector(".sheet [name=bank_capacity][aria-invalid=true]")
    assert kept(page)["boat:1.bank_capacity"] == "abc Ah"
    page.reload()
    page.wait_for_selector(".sheet [name=bank_capacity][aria-invalid=true]", state="attached")
    assert field(page, "bank_capacity").input_value() == "abc"


def test_the_dashboard_says_what_is_the_boats_own(page: Page, site: Site) -> None:
    open_sheet(page, site.url + "boat.html")
    fill(page, TYPED)
    lines = page.locator("[data-dashboard]")
    assert lines.count() == len(stock.guide().names())
    power = page.locator("[data-dashboard=power]")
    told = power.locator(".note").inner_text()
    assert BoatSheet.fields["unit"].label in told
    assert BoatSheet.fields["bank_capacity"].label not in told
    power.locator("[data-question=unit]").click()
    assert page.evaluate("document.querySelector(':target [name], [name]:target').name") == "unit"
    power.locator("a").first.click()
    page.wait_for_url("**/power.html")


def test_several_boats_and_undo(page: Page, site: Site) -> None:
    open_sheet(page, site.url + "boat.html")
    fill(page, {"name": "Alder"})
    page.click("[data-sheet-tools] button[value=another]")
    settled(page)
    assert page.evaluate("document.activeElement.name") == "name"
    fill(page, {"name": "Birch", "bank_capacity": "300 Ah"})
    names = page.locator("[data-boats] option").all_inner_texts()
    assert sorted(names) == ["Alder", "Birch"]
    page.select_option("[data-boats]", label="Alder")
    settled(page)
    page.wait_for_function("document.querySelector('.sheet [name=name]').value === 'Alder'")
    assert field(page, "bank_capacity").input_value() == ""
    page.select_option("[data-boats]", label="Birch")
    page.wait_for_function("document.querySelector('.sheet [name=name]').value === 'Birch'")
    before = kept(page)
    for act in ("clear", "remove"):
        page.click(f"[data-sheet-tools] button[value={act}]")
        settled(page)
        assert not any("Birch" in str(value) for value in kept(page).values())
        page.click("[data-sheet-tools] [data-said] button")
        page.wait_for_function("document.querySelector('.sheet [name=name]').value === 'Birch'")
        values = {name: value for name, value in kept(page).items() if "." in name}
        assert values == {name: value for name, value in before.items() if "." in name}
    page.click("[data-sheet-tools] button[value=remove]")
    page.wait_for_function("document.querySelector('.sheet [name=name]').value === 'Alder'")
    assert page.locator("[data-boats] option").all_inner_texts() == ["Alder"]


def test_a_file_comes_beside_the_boat_that_is_there_and_can_be_undone(
    page: Page, site: Site
) -> None:
    open_sheet(page, site.url + "boat.html")
    fill(page, {"name": "Alder"})
    read_file(page, 'name = "Birch"\nfuture_field = "kept"\n', "boat.toml")
    page.wait_for_function("document.querySelector('.sheet [name=name]').value === 'Birch'")
    assert "future_field" in page.locator("[data-said]").inner_text()
    with page.expect_download() as saved:
        page.click("[data-sheet-tools] button[value=save]")
    assert (
        boatfile.read(Path(saved.value.path()).read_text("utf-8"), BoatSheet)["future_field"]
        == "kept"
    )
    read_file(page, 'name = "Cedar"\n', "boat.toml")
    page.wait_for_function("document.querySelector('.sheet [name=name]').value === 'Cedar'")
    page.click("[data-said] button")
    page.wait_for_function("document.querySelector('.sheet [name=name]').value === 'Birch'")
    assert sorted(page.locator("[data-boats] option").all_inner_texts()) == ["Alder", "Birch"]


FOREIGN = (" ", "{", "[]", "\x00", '{"brinebook boat": 9, "values": {}}')


def test_a_foreign_file_is_a_sentence_and_changes_nothing(page: Page, site: Site) -> None:
    open_sheet(page, site.url + "boat.html")
    fill(page, {"name": "Alder"})
    before = kept(page)
    for content in FOREIGN:
        page.evaluate("document.querySelector('[data-said]').textContent = ''")
        read_file(page, content)
        page.wait_for_function("document.querySelector('[data-said]').textContent.trim()")
        assert kept(page) == before, content


def test_hostile_names_and_values_only_show_as_text(page: Page, site: Site) -> None:
    page.on("dialog", lambda dialog: pytest.fail(f"a dialog said {dialog.message}"))
    open_sheet(page, site.url + "boat.html")
    for words in HOSTILE:
        read_file(
            page, boatfile.write({"name": words, words: words, "bank_capacity": words}, BoatSheet)
        )
        page.wait_for_function(
            "words => document.querySelector('.sheet [name=name]').value === words.slice(0, 400)"
            " || document.querySelector('.sheet [name=name]').value === words.slice(0, 2000)",
            arg=words,
        )
        settled(page)
        assert page.locator(".sheet script, .sheet img, .sheet h1").count() == 0
        page.click("[data-sheet-tools] button[value=remove]")
        settled(page)
    read_file(page, boatfile.write({"name": HOSTILE[1], "bank_capacity": "500 Ah"}, BoatSheet))
    page.wait_for_function("document.querySelector('.sheet [name=name]').value")
    live.turn_to(page, site.url + "power.html")
    page.wait_for_selector("[data-whose=boat]")
    assert HOSTILE[1] in page.locator("[data-whose]").inner_text()
    assert page.locator(".calc img").count() == 0


def test_two_tabs_lose_nothing_of_each_other(context: BrowserContext, site: Site) -> None:
    one, other = context.new_page(), context.new_page()
    for tab in (one, other):
        open_sheet(tab, site.url + "boat.html")
    field(one, "name").fill("Alder")
    field(other, "bank_capacity").fill("520")
    field(one, "ambient_temperature").fill("39")
    for tab in (one, other):
        tab.wait_for_function(
            "[['name', 'Alder'], ['bank_capacity', '520'], ['ambient_temperature', '39']].every("
            "([name, value]) => document.querySelector(`.sheet [name='${name}']`).value === value)"
        )
    assert len(kept(one)) == 3
    # Of the same field the last one written counts, in both.
    for writer, reader, name in ((one, other, "Birch"), (other, one, "Cedar")):
        field(writer, "name").fill(name)
        # Filling selects and then types: what came from the other tab in between would stay in front.
        reader.wait_for_function(f"document.querySelector('.sheet [name=name]').value === '{name}'")
    # A calculator in a third tab follows.
    third = context.new_page()
    third.goto(site.url + "power.html")
    third.wait_for_selector("[data-whose=boat]")
    field(one, "bank_capacity").fill("530")
    third.wait_for_function("document.querySelector('.calc [name=bank_capacity]').value === '530'")


@pytest.mark.parametrize("denied", ["forbidden", "full"])
def test_without_storage_the_sheet_works_and_says_that_it_forgets(
    rough_page: Page, site: Site, denied: str
) -> None:
    if denied == "forbidden":
        rough_page.add_init_script(
            "Object.defineProperty(self, 'localStorage',"
            " { get() { throw new DOMException('forbidden', 'SecurityError'); } })"
        )
    else:
        rough_page.add_init_script(
            "Storage.prototype.setItem = () => { throw new DOMException('', 'QuotaExceededError'); }"
        )
    open_sheet(rough_page, site.url + "boat.html")
    assert "can't keep" in rough_page.locator("[data-forgets]").inner_text()
    fill(rough_page, TYPED)
    assert "520\u00a0Ah" in rough_page.locator("[data-slot='field.bank_capacity']").inner_text()
    with rough_page.expect_download() as saved:
        rough_page.click("[data-sheet-tools] button[value=save]")
    assert boatfile.read(Path(saved.value.path()).read_text("utf-8"), BoatSheet) == TYPED
    rough_page.click("[data-sheet-tools] button[value=clear]")
    settled(rough_page)
    assert field(rough_page, "name").input_value() == ""


# ---- the boat on the pages ----


@pytest.fixture
def boat_on_power(page: Page, site: Site) -> Page:
    """The power page with a boat."""
    open_sheet(page, site.url + "boat.html")
    fill(page, TYPED)
    live.turn_to(page, site.url + "power.html")
    page.wait_for_selector("[data-whose=boat]")
    return page


def test_a_page_shows_the_boat_and_its_own_example_at_a_click(boat_on_power: Page) -> None:
    page = boat_on_power
    line = page.locator("[data-whose]")
    assert TYPED["name"] in line.inner_text()
    assert page.input_value(".calc [name=bank_capacity]") == "520"
    assert "boat sheet" in page.locator("[data-slot='field.bank_capacity']").inner_text()
    boats = live.answer(page)
    line.locator("button").click()
    page.wait_for_selector("[data-whose=aside]")
    live.await_current(page)
    assert page.input_value(".calc [name=bank_capacity]") != "520"
    assert live.answer(page) == live.expected_answer(page, {})
    line.locator("button").click()
    page.wait_for_selector("[data-whose=boat]")
    live.await_current(page)
    assert live.answer(page) == boats
    line.locator("a").click()
    page.wait_for_url("**/boat.html")


def test_a_value_typed_on_a_page_is_kept_for_the_boat(boat_on_power: Page) -> None:
    page = boat_on_power
    keep = page.locator("[data-keep-for-boat]")
    assert keep.is_hidden()
    page.fill(".calc [name=bank_capacity]", "555")
    live.await_current(page)
    assert TYPED["name"] in keep.inner_text()
    shown = live.answer(page)
    keep.click()
    page.wait_for_selector("[data-keep-for-boat]:has-text('Undo')")
    live.await_current(page)
    assert kept(page)["boat:1.bank_capacity"] == "555 Ah"
    assert "boat sheet" in page.locator("[data-slot='field.bank_capacity']").inner_text()
    assert live.answer(page) == shown
    # It can be undone at once, to the boat's former value and the reader's own.
    keep.click()
    page.wait_for_selector("[data-keep-for-boat]:has-text('Keep')")
    live.await_current(page)
    assert kept(page)["boat:1.bank_capacity"] == TYPED["bank_capacity"]
    assert page.input_value(".calc [name=bank_capacity]") == "555"
    assert live.answer(page) == shown
    assert "typed on this page" in page.locator("[data-whose]").inner_text()
    page.fill(".calc [name=bank_capacity]", "abc")
    page.wait_for_selector(".calc [name=bank_capacity][aria-invalid=true]")
    live.await_current(page)
    assert keep.is_hidden(), "what can't be read is not kept"


def test_a_list_and_a_choice_can_be_taken_back(page: Page, site: Site) -> None:
    open_sheet(page, site.url + "boat.html")
    group = page.locator(".sheet [data-rows]").first
    name = group.get_attribute("data-rows")
    group.evaluate("one => { one.closest('details').open = true; }")
    unsay = group.locator("[data-unsay]")
    built = group.locator("[data-row]").count()
    assert unsay.is_hidden()
    group.locator("[data-add-row]").click()
    settled(page)
    assert f"boat:1.{name}" in kept(page)
    unsay.click()
    page.wait_for_selector(f".sheet [data-rows={name}] [data-unsay]", state="hidden")
    settled(page)
    assert kept(page) == {}
    assert group.locator("[data-row]").count() == built
    page.click("[data-said] button")
    page.wait_for_selector(f".sheet [data-rows={name}] [data-unsay]")
    assert group.locator("[data-row]").count() == built + 1
    unsay.click()
    field(page, "bank").select_option(index=1)
    settled(page)
    assert "boat:1.bank" in kept(page)
    field(page, "bank").select_option("")
    settled(page)
    assert kept(page) == {}
    # A unit typed into a box is kept in its place.
    field(page, "bank_capacity").fill("300Ah")
    page.wait_for_selector("[data-slot='field.bank_capacity']:has-text('yours')", state="attached")
    field(page, "bank_capacity").blur()
    page.wait_for_function("localStorage['brinebook:boat:1.bank_capacity'] === '\"300 Ah\"'")


def test_which_fields_are_shared_comes_from_the_page(page: Page, site: Site) -> None:
    page.goto(site.url + "power.html")
    marked = page.locator(".calc [data-shared]").evaluate_all(
        "all => all.map((one) => one.dataset.field)"
    )
    fields = stock.guide().get("power").asks.fields
    assert sorted(marked) == sorted(name for name in fields if name in BoatSheet.fields)
