"""The log in the browser: lines added by hand, files merged and saved, nothing lost on the way."""

from __future__ import annotations

import calendar
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Page

from calc.frame import log
from calc.sheet.readings_log import BOOK
from site_build.server import Site

from . import live

DAY = date(2026, 7, 9)
FILL = (
    "{ const full = 'x'.repeat(2 ** 20); let size = full.length;"
    " for (let i = 0; size; i += 1) { try { localStorage.setItem(`other:${i}`, full.slice(0, size)); }"
    " catch { size = Math.floor(size / 2); } } }"
)


@pytest.fixture(autouse=True)
def day(context: BrowserContext) -> None:
    """One day for test and page: a run over midnight has two, and told of four failures."""
    context.clock.set_fixed_time(datetime.combine(DAY, time(12)))


def open_plan(page: Page, site: Site, name: str = "upkeep.html") -> None:
    page.goto(site.url + name)
    if name == "log.html":
        page.wait_for_selector("section.sheet[data-engine=ready]", timeout=60_000)
    else:
        live.await_ready(page)
    tools = page.locator("[data-log-tools]").first
    tools.evaluate("one => { const fold = one.closest('details'); if (fold) fold.open = true; }")


def add(page: Page, day: date, entry: str, hours: str, task: str = "", note: str = "") -> str:
    """A line by the page's own way; the sentence that answers it."""
    cells = {"date": str(day), "entry": entry, "hours": hours, "task": task, "note": note}
    for name, text in cells.items():
        cell = page.locator(f"[data-log-cell={name}]").first
        cell.select_option(text) if name == "entry" else cell.fill(text)
    page.locator("[data-log-tools] button[value=add]").first.click()
    return said(page)


def said(page: Page) -> str:
    page.wait_for_function(
        "(() => { const text = document.querySelector('[data-log-said]').textContent.trim();"
        " return text && !text.startsWith('Starting'); })()"
    )
    return page.locator("[data-log-said]").first.inner_text()


def merge(page: Page, content: str, name: str = "other.csv") -> str:
    page.evaluate("document.querySelector('[data-log-said]').textContent = ''")
    page.locator("[data-log-file]").first.set_input_files(
        {"name": name, "mimeType": "text/csv", "buffer": content.encode()}
    )
    return said(page)


def kept(page: Page) -> Any:
    """The log of the boat that the device keeps."""
    return page.evaluate("JSON.parse(localStorage.getItem('brinebook:boat:1.log'))")


def settled(page: Page) -> str:
    """The log as the form shows it, once the answer to it has come."""
    page.wait_for_function(
        "[...document.querySelectorAll('section.calc, section.sheet')]"
        ".every((one) => one.dataset.answer === 'current')"
    )
    text: str = page.locator("textarea[name=log]").first.input_value()
    return text


@pytest.mark.parametrize("name", ["upkeep.html", "log.html"])
def test_lines_are_added_and_outlive_the_page(page: Page, site: Site, name: str) -> None:
    open_plan(page, site, name)
    first = DAY - timedelta(days=40)
    assert "Added" in add(page, first, "done", "12,5", "Crankcase oil", "first change; golden")
    assert settled(page) == kept(page)
    assert "Added" in add(page, DAY, "reading", "80")
    text = settled(page)
    entries = log.MACHINE.read(text)
    assert entries == log.MACHINE.read(kept(page))
    assert [(e.day, e.entry, e.hours) for e in entries] == [
        (first, "done", 12.5),
        (DAY, "reading", 80),
    ]
    assert entries[0].note == "first change; golden"
    assert page.locator("[data-log-cell=hours]").first.input_value() == ""
    for field, said_of_it in (("unit", "skerry-45"), ("started", str(first))):  # what decides
        page.evaluate(
            "([name, text]) => localStorage.setItem(`brinebook:boat:1.${name}`, JSON.stringify(text))",
            [field, said_of_it],
        )
    page.reload()
    open_plan(page, site)
    assert settled(page) == text
    answer = page.locator("[data-slot=answer]").first.text_content() or ""  # folded or not
    assert "80\u00a0h" in answer
    assert f"read on {DAY.day} {DAY:%b} {DAY.year}" in answer


def test_due_dates_go_by_the_readers_clock(page: Page, site: Site) -> None:
    open_plan(page, site)
    assert page.locator("input[name=today]").input_value() == "2026-05-01"  # the example's own
    add(page, DAY, "reading", "80")
    settled(page)
    assert page.locator("input[name=today]").input_value() == str(DAY)
    sheet = {"log": kept(page)}
    assert live.answer(page) == live.expected_answer(page, {}, sheet=sheet)
    page.locator("input[name=today]").fill(str(DAY + timedelta(days=30)))
    settled(page)
    assert page.locator("input[name=today]").input_value() == str(DAY + timedelta(days=30))


def test_what_cannot_be_added_stays_in_the_boxes(page: Page, site: Site) -> None:
    open_plan(page, site)
    add(page, DAY - timedelta(days=9), "reading", "80")
    before = settled(page)
    assert "lies in the future" in add(page, DAY + timedelta(days=2), "reading", "90", "", "why")
    assert page.locator("[data-log-cell=note]").first.input_value() == "why"
    assert "stood there" in add(page, DAY, "reading", "3")
    assert settled(page) == before == kept(page)
    page.locator("[data-log-said] button").first.click()
    page.wait_for_function(
        "document.querySelector('textarea[name=log]').value.includes('replaced')"
    )
    entries = log.MACHINE.read(settled(page))
    assert [e.entry for e in entries] == ["reading", "meter replaced", "reading"]
    assert log.meter(entries)[-1].hours == 83


def test_files_are_merged_named_and_taken_back(page: Page, site: Site) -> None:
    open_plan(page, site)
    days = [DAY - timedelta(days=d) for d in (30, 20, 10)]
    ours = f"date,entry,hours,task,note\n{days[0]},done,100,Valves,\n{days[1]},reading,120,,\n"
    other = f"{days[0]},done,101,Valves,\n{days[1]},reading,120,,\n{days[2]},reading,140,,tablet\n"
    assert merge(page, ours).startswith("2 lines added, 0 lines were there.")
    assert settled(page) == ours == kept(page)
    told = merge(page, other)
    assert told.startswith("2 lines added, 1 line was there.")
    shown = f"{days[0].day} {calendar.month_abbr[days[0].month]} {days[0].year}"
    assert f"Valves of {shown}: 100 h here, 101 h there" in told
    both = settled(page)
    assert set(log.MACHINE.read(both)) == set(log.MACHINE.read(ours)) | set(log.MACHINE.read(other))
    assert "0 lines added" in merge(
        page, log.MACHINE.write_json(log.MACHINE.read(both)), "other.json"
    )
    assert settled(page) == both
    assert "“Stand”" in merge(page, "Datum;Stand\n2026-05-01;840\n")
    assert settled(page) == both == kept(page)
    merge(page, f"{days[2]},done,141,Pump valves,\n")
    assert settled(page) != both
    page.locator("[data-log-said] button").first.click()
    page.wait_for_function(
        "text => document.querySelector('textarea[name=log]').value === text", arg=both
    )
    assert kept(page) == both


@pytest.mark.parametrize("kind", ["csv", "json"])
def test_what_is_saved_reads_back(page: Page, site: Site, kind: str) -> None:
    open_plan(page, site)
    add(page, DAY, "done", "80", "Pump valves", "Möwe; “two”, lapped")
    text = settled(page)
    with page.expect_download() as saved:
        page.locator(f"[data-log-tools] button[value={kind}]").first.click()
    assert saved.value.suggested_filename == f"boat-log.{kind}"
    assert log.MACHINE.read_any(Path(saved.value.path()).read_text("utf-8")) == log.MACHINE.read(
        text
    )


def test_a_full_store_is_told_and_nothing_is_lost(page: Page, site: Site) -> None:
    open_plan(page, site)
    add(page, DAY - timedelta(days=3), "reading", "80")
    settled(page)
    page.evaluate(FILL)
    lines = "".join(f"{DAY - timedelta(days=2)},done,81,Task {i},{'n' * 150}\n" for i in range(300))
    assert "no room" in merge(page, lines)
    text = settled(page)
    assert len(log.MACHINE.read(text)) == 301
    assert len(log.MACHINE.read(kept(page))) == 1
    assert "no room" in add(page, DAY, "reading", "85")
    assert len(log.MACHINE.read(settled(page))) == 302
    with page.expect_download() as saved:
        page.locator("[data-log-tools] button[value=csv]").first.click()
    assert len(log.MACHINE.read(Path(saved.value.path()).read_text("utf-8"))) == 302


def test_two_tabs_lose_no_line(context: BrowserContext, page: Page, site: Site) -> None:
    open_plan(page, site)
    other = context.new_page()
    open_plan(other, site)
    add(page, DAY - timedelta(days=2), "reading", "80")
    settled(page)
    other.wait_for_function("document.querySelector('textarea[name=log]').value.includes(',80,')")
    add(other, DAY - timedelta(days=1), "reading", "82")
    settled(other)
    page.wait_for_function("document.querySelector('textarea[name=log]').value.includes(',82,')")
    assert [e.hours for e in log.MACHINE.read(kept(page))] == [80, 82]
    other.close()


def test_the_example_is_nobodys_log(page: Page, site: Site) -> None:
    """Aside from one's own boat nothing is added: the page's example is no log of one's own."""
    open_plan(page, site)
    example = page.locator("textarea[name=log]").first.input_value()
    assert "Crankcase oil" in example
    add(page, DAY, "reading", "80")
    own = settled(page)
    assert len(log.MACHINE.read(own)) == 1
    page.get_by_role("button", name="Show the page's example").click()
    page.wait_for_function(
        "text => document.querySelector('textarea[name=log]').value === text", arg=example
    )
    assert "not your boat's log" in add(page, DAY, "reading", "90")
    assert kept(page) == own


def test_readings_are_kept_as_they_were_read_and_taken_back(page: Page, site: Site) -> None:
    """The second log by the same tools: a unit of its own for a cell, a file merged, one undone."""
    open_plan(page, site, "trend.html")
    tools = page.locator("[data-field=readings] [data-log-tools]")

    def told() -> str:
        page.wait_for_function(
            "(() => { const text = document.querySelector('[data-field=readings] [data-log-said]')"
            ".textContent.trim(); return text && !text.startsWith('Starting'); })()"
        )
        return tools.locator("[data-log-said]").inner_text()

    def held() -> Any:
        return page.evaluate("JSON.parse(localStorage.getItem('brinebook:boat:1.readings'))")

    cells = {"hours": "12", "temperature": "18,5", "product": "44", "note": "calm"}
    for name, text in cells.items():
        tools.locator(f"[data-log-cell={name}]").fill(text)
    tools.locator("[data-log-cell=pressure]").fill("800")
    tools.locator("[data-log-cell='pressure.unit']").select_option("psi")
    tools.locator("button[value=add]").click()
    assert "800 psi" in told()
    page.wait_for_function("localStorage.getItem('brinebook:boat:1.readings') !== null")
    (line,) = BOOK.read(held())
    assert (line.day, line.pressure, line.temperature, line.product) == (DAY, "800 psi", 18.5, 44)
    assert tools.locator("[data-log-cell=pressure]").input_value() == ""
    assert tools.locator("[data-log-cell='pressure.unit']").input_value() == "psi"
    assert page.evaluate("localStorage.getItem('brinebook:boat:1.log')") is None
    before = held()
    tools.locator("[data-log-file]").set_input_files(
        {
            "name": "more.csv",
            "mimeType": "text/csv",
            "buffer": b"date,High pressure (psi),product\n2026-01-02,790,45\n",
        }
    )
    page.wait_for_function(
        "document.querySelector('textarea[name=readings]').value.includes('790 psi')"
    )
    assert len(BOOK.read(held())) == 2
    tools.locator("[data-log-said] button").first.click()
    page.wait_for_function(
        "text => document.querySelector('textarea[name=readings]').value === text", arg=before
    )
    assert held() == before
    with page.expect_download() as saved:
        tools.locator("button[value=json]").click()
    assert saved.value.suggested_filename == "boat-readings.json"
    assert BOOK.read_json(Path(saved.value.path()).read_text("utf-8")) == (line,)


def test_a_line_is_typed_in_the_readers_units(page: Page, site: Site) -> None:
    """All but what is typed already."""
    page.add_init_script(live.NO_ENGINE)
    page.goto(f"{site.url}trend.html")
    page.locator("[data-log-cell=product]").fill("44")

    def shown() -> list[str]:
        names = ("pressure", "temperature", "product")
        return [page.locator(f"[data-log-cell='{name}.unit']").input_value() for name in names]

    for system, pressure, temperature in (("us", "psi", "°F"), ("metric", "bar", "°C")):
        page.click(f"[data-units-choice][value={system}] >> nth=0")
        assert shown() == [pressure, temperature, "L/h"]
    page.click("[data-units-choice][value=us] >> nth=0")
    page.reload()
    assert shown()[:2] == ["psi", "°F"]
