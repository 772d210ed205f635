"""The four looks: each chosen at a press, remembered, and right at a first visit."""

from __future__ import annotations

import re
from pathlib import Path

import pypdfium2
import pytest
from playwright.sync_api import Browser, Page

from site_build.server import Site

from . import live

LOOKS = ("paper", "slate", "night", "sun")
LOOK = "document.body.dataset.mdColorScheme"
LEAST_TARGET = 44  # px


@pytest.fixture
def no_engine(page: Page) -> None:
    """For what stands on a page as it is built: to start Python takes longer than to look at it."""
    page.add_init_script(live.NO_ENGINE)


def look(page: Page) -> str:
    found: str = page.evaluate(LOOK)
    return found


def test_night_is_one_red_on_true_black(page: Page, site: Site) -> None:
    """Whatever is painted is black or a red without green or blue to speak of."""
    page.goto(site.url + "power.html")
    live.await_ready(page)
    page.evaluate(f"{LOOK} = 'night'")
    page.wait_for_timeout(600)  # colours change by degrees
    colours = page.evaluate(
        """() => {
          const seen = new Set();
          for (const element of document.querySelectorAll("body, body *:not(.md-option)")) {
            const style = getComputedStyle(element);
            if (style.display === "none" || !element.getClientRects().length) continue;
            for (const name of ["color", "backgroundColor", "borderTopColor", "fill", "stroke"]) {
              seen.add(style[name]);
            }
          }
          return [...seen];
        }"""
    )
    for colour in colours:
        if not colour.startswith("rgb") or colour.endswith(", 0)"):
            continue
        red, green, blue = (float(v) for v in colour[colour.index("(") + 1 : -1].split(",")[:3])
        assert max(green, blue) <= max(0.3 * red, 1), colour


@pytest.mark.usefixtures("no_engine")
def test_looks_follow_one_another_by_keyboard_and_are_remembered(page: Page, site: Site) -> None:
    page.goto(site.url)
    page.wait_for_function(f"{LOOK} === 'paper'")
    page.locator(".bb-looks input").first.focus()
    seen = []
    for _ in LOOKS:
        page.keyboard.press("ArrowRight")
        seen.append(look(page))
    assert seen == ["slate", "night", "sun", "paper"]
    page.locator(".bb-looks label:visible").click()
    page.locator(".bb-looks label:visible").click()
    assert look(page) == "night"
    page.goto(site.url + "power.html")
    page.wait_for_function(f"{LOOK} === 'night'")


@pytest.mark.parametrize(
    ("scheme", "contrast", "expected"),
    [
        ("light", "no-preference", "paper"),
        ("dark", "no-preference", "slate"),
        ("light", "more", "sun"),
        ("dark", "more", "slate"),
    ],
)
def test_a_first_visit_follows_the_device(
    chromium: Browser, site: Site, scheme: str, contrast: str, expected: str
) -> None:
    context = chromium.new_context(color_scheme=scheme, contrast=contrast)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(site.url)
    page.wait_for_function(f"{LOOK} === '{expected}'")
    context.close()


@pytest.mark.usefixtures("no_engine")
@pytest.mark.parametrize("width", [390, 1280])
def test_what_can_be_pressed_is_large_enough(page: Page, site: Site, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    for name in ("power.html", "boat.html"):
        page.goto(site.url + name)
        page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        small = page.evaluate(
            """(least) => [...document.querySelectorAll(
                 ".calc :is(button, select, input, summary), .sheet :is(button, select, input, summary),"
                 + " .bb-colophon button, .bb-looks label, .bb-tool")]
              .filter((one) => one.getClientRects().length && getComputedStyle(one).visibility !== "hidden")
              .map((one) => [one.getBoundingClientRect(), one.outerHTML.slice(0, 120)])
              .filter(([box]) => box.height < least - 0.5 || box.width < least - 0.5)
              .map(([box, html]) => `${box.width} × ${box.height}: ${html}`)""",
            LEAST_TARGET,
        )
        assert small == []


def test_everything_is_reached_by_keyboard_and_shows_that_it_is(page: Page, site: Site) -> None:
    """Tab goes through the form's controls and the tools, and each shows a focus ring."""
    page.goto(site.url + "power.html")
    live.await_ready(page)
    wanted = page.locator(".calc button:visible").count()
    page.locator(".calc [data-units-choice]").first.focus()
    reached = set()
    for _ in range(400):
        here = page.evaluate(
            """() => {
              const one = document.activeElement;
              if (!one.closest(".calc")) return null;
              const { outlineStyle, outlineWidth } = getComputedStyle(one);
              one.dataset.reached ??= String(document.querySelectorAll("[data-reached]").length);
              return [one.nodeName, one.dataset.reached, outlineStyle, parseFloat(outlineWidth)];
            }"""
        )
        if here is None:
            break
        kind, number, style, outline = here
        assert style != "none" and outline >= 1.5, page.evaluate(
            "document.activeElement.outerHTML.slice(0, 200)"
        )
        if kind == "BUTTON":
            reached.add(number)
        page.keyboard.press("Tab")
    assert len(reached) >= wanted


@pytest.mark.usefixtures("no_engine")
def test_all_tabs_are_seen_on_a_laptop(page: Page, site: Site) -> None:
    page.set_viewport_size({"width": 1440, "height": 900})
    page.goto(site.url + "power.html")
    page.evaluate("document.fonts.ready")
    ends = page.evaluate(
        "[...document.querySelectorAll('.bb-thumbs span')].map((one) => one.getBoundingClientRect().bottom)"
    )
    assert len(ends) > 10
    assert max(ends) <= 900


@pytest.mark.usefixtures("no_engine")
def test_any_page_is_two_touches_away_on_a_phone(page: Page, site: Site, built_site: Path) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(site.url + "power.html")
    page.click(".bb-contents-button")
    links = page.locator(".bb-contents a")
    ends = links.evaluate_all("all => all.map((one) => one.getBoundingClientRect().bottom)")
    named = {
        str(one).partition("?")[0]
        for one in links.evaluate_all("all => all.map((one) => one.pathname.split('/').pop())")
    }
    assert named >= set(live.pages_of(built_site)) - {"licences.html", "index.html"}
    assert max(ends) <= 844


_CUT = """() => {
  const pen = document.createElement("canvas").getContext("2d");
  document.querySelectorAll("details").forEach((one) => (one.open = true));
  return [...document.querySelectorAll(".calc select, .sheet select")]
    .filter((one) => one.offsetParent && !one.name.endsWith(".unit"))
    .flatMap((one) => {
      const style = getComputedStyle(one);
      pen.font = style.font;
      const room = one.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
      return [...one.options].map((o) => o.textContent).filter((t) => pen.measureText(t).width > room + 1);
    });
}"""


@pytest.mark.usefixtures("no_engine")
@pytest.mark.parametrize("width", [390, 820, 1440])
def test_a_table_of_the_text_begins_where_the_text_does(page: Page, site: Site, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(site.url + "wiring.html")
    page.wait_for_selector("table.prose", state="attached")
    page.evaluate("document.querySelectorAll('.told').forEach((one) => { one.open = true; })")
    table, text = page.evaluate(
        "[document.querySelector('table.prose'),"
        " document.querySelector('.md-content__inner > p')].map((one) => one.getBoundingClientRect().left)"
    )
    assert table == pytest.approx(text, abs=1)


@pytest.mark.usefixtures("no_engine")
def test_a_phone_keeps_bare_numbers_under_their_heads_and_gives_long_words_room(
    page: Page, site: Site
) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(site.url + "noise.html")
    page.evaluate("document.querySelectorAll('.fold').forEach((one) => { one.open = true; })")
    name, head, number, scrolled = page.evaluate(
        """() => {
          const table = document.querySelector("[data-table=octaves]");
          const box = table.parentElement;
          box.scrollLeft = 1000;
          const right = (one) => {
            const words = document.createRange();
            words.selectNodeContents(one);
            return words.getBoundingClientRect().right;
          };
          return [table.querySelector("tbody th").getBoundingClientRect().left - box.getBoundingClientRect().left,
                  right(table.querySelector("thead th:nth-child(3)")),
                  right(table.querySelector("tbody td:nth-child(3)")), box.scrollLeft];
        }"""
    )
    assert scrolled > 0
    assert name == pytest.approx(0, abs=1), "the row's name stays"
    assert number == pytest.approx(head, abs=1)
    page.goto(site.url + "spares.html")
    page.evaluate("document.querySelectorAll('.fold').forEach((one) => { one.open = true; })")
    why, shown = page.evaluate(
        """() => {
          const cell = document.querySelector("[data-table=box] td[data-column=Why]");
          return [cell.getBoundingClientRect().width, getComputedStyle(cell).display];
        }"""
    )
    assert why >= 150 and shown == "table-cell", "still a table, to compare by"


OVERLAPS = """
() => {
  const boxes = (cell) => {
    const range = document.createRange();
    range.selectNodeContents(cell);
    return [...range.getClientRects()].filter(({ width, height }) => width > 1 && height > 1);
  };
  const touch = (a, b) =>
    a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 3 && b.top < a.bottom - 3;
  const found = [];
  for (const row of document.querySelectorAll(".figures tr, .calc-units, .calc table.plain tr")) {
    const cells = [...row.children].filter(
      (one) => one.getClientRects().length && getComputedStyle(one).position !== "absolute");
    cells.forEach((one, index) => {
      const other = cells[index + 1];
      if (other && boxes(one).some((a) => boxes(other).some((b) => touch(a, b)))) {
        found.push(`${one.textContent} | ${other.textContent}`);
      }
    });
  }
  for (const one of document.querySelectorAll(".verdict-reason")) {
    if (one.scrollHeight > one.clientHeight + 2) found.push(`cut: ${one.textContent}`);
  }
  if (document.documentElement.scrollWidth > innerWidth) found.push("the page is wider than the screen");
  return found;
}
"""


def test_both_systems_of_units_find_room(page: Page, site: Site) -> None:
    page.goto(site.url)
    page.evaluate("localStorage.setItem('brinebook:units', '\"both\"')")
    for name in ("mount.html", "power.html"):
        page.goto(site.url + name)
        live.await_ready(page)
        live.await_current(page)
        assert page.locator(".figures td.num:has-text('(')").count()
        page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        for width in (360, 390, 820, 1440):
            page.set_viewport_size({"width": width, "height": 844})
            assert page.evaluate(OVERLAPS) == [], (name, width)


def test_the_second_stop_leads_to_the_form_and_the_verdict_to_the_answer(
    page: Page, site: Site
) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(site.url + "power.html")
    live.await_ready(page)
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    assert "calculator" in page.evaluate("document.activeElement.textContent")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('.field') !== null")
    page.locator(".to-answer").click()
    page.wait_for_function(
        "document.querySelector('.headline').getBoundingClientRect().top < innerHeight / 2"
    )
    top, bottom = page.evaluate(
        "[document.querySelector('.headline').getBoundingClientRect().top,"
        " document.querySelector('.verdict').getBoundingClientRect().bottom]"
    )
    assert top >= bottom - 1, "the verdict hides nothing of the answer"
    assert "#" not in page.url.removesuffix("#calculator")


def test_on_paper_stand_the_answer_and_what_was_typed_and_opened(
    page: Page, site: Site, tmp_path: Path
) -> None:
    page.goto(site.url + "power.html")
    live.await_ready(page)
    page.evaluate(
        "document.querySelector('[name=bank_temperature]').closest('details').open = true"
    )
    page.fill("[name=bank_temperature]", "7")
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    live.await_current(page)

    def hidden(selector: str) -> bool:
        return all(not one.is_visible() for one in page.locator(selector).all())

    page.emulate_media(media="print")
    assert hidden(".working, .sources, .chart-data, .bb-head, .bb-thumbs, .calc button")
    assert page.locator("[name=bank_temperature]").is_visible()
    assert hidden(".group .field:not(:has([data-typed]))")
    assert page.locator(".verdict, .headline, .figures, .cautions").first.is_visible()
    file = tmp_path / "power.pdf"
    page.pdf(path=file, format="A4")
    assert len(re.findall(rb"/Type\s*/Page\b", file.read_bytes())) <= 16
    # The reader's own unfolding is kept.
    page.emulate_media(media="screen")
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = false; })")
    page.locator(".working > summary").first.click()
    page.emulate_media(media="print")
    assert page.locator(".working li").first.is_visible()


@pytest.mark.usefixtures("no_engine")
@pytest.mark.parametrize("name", ["power", "mount", "noise"])
def test_on_paper_a_table_is_not_parted_from_its_head(
    page: Page, site: Site, tmp_path: Path, name: str
) -> None:
    """A caption stands over its first row on one page, and no row is cut in two."""
    page.goto(site.url + f"{name}.html")
    page.emulate_media(media="print")
    tables = page.evaluate(
        """() => [...document.querySelectorAll(".calc table:has(caption)")]
          .filter((one) => one.getClientRects().length && !one.closest(".option"))
          .map((one) => [one.caption.textContent, one.querySelector("tbody th").textContent])"""
    )
    assert tables
    loose = page.evaluate(
        "[...document.querySelectorAll('tr')].filter((one) => getComputedStyle(one).breakInside !== 'avoid').length"
    )
    assert loose == 0
    file = tmp_path / "page.pdf"
    page.pdf(path=file, format="A4")
    document = pypdfium2.PdfDocument(file)
    sides = ["".join(one.get_textpage().get_text_range().split()) for one in document]
    for caption, row in tables:
        head, first = "".join(caption.split()), "".join(row.split())
        assert any(first in side.partition(head)[2] for side in sides), caption


@pytest.mark.usefixtures("no_engine")
def test_on_paper_the_line_of_the_boat_is_a_whole_sentence(page: Page, site: Site) -> None:
    page.goto(site.url + "power.html")
    page.emulate_media(media="print")
    assert page.locator(".whose").inner_text().strip() == "The page's own example."


def test_a_narrow_window_scrolls_one_way_and_cuts_nothing_and_the_verdict_leaves_room(
    page: Page, site: Site, built_site: Path
) -> None:
    """A phone, a small one, and one whose letters are four times as large."""
    page.add_init_script(live.NO_ENGINE)
    for name in live.pages_of(built_site):
        live.turn_to(page, site.url + name)
        page.evaluate("document.fonts.ready")
        for width, height in ((390, 844), (320, 568), (320, 256)):
            page.set_viewport_size({"width": width, "height": height})
            assert page.evaluate("document.scrollingElement.scrollWidth") == width, name
            for verdict in page.locator("section.calc .verdict").all():
                told = verdict.evaluate(
                    "one => [getComputedStyle(one).position, one.getBoundingClientRect().height]"
                )
                assert told[0] != "sticky" or told[1] <= 0.2 * height, (name, told)
        for width in (320, 390, 1440):
            page.set_viewport_size({"width": width, "height": 844})
            assert page.evaluate(_CUT) == [], (name, width)


@pytest.mark.usefixtures("no_engine")
def test_the_ring_of_a_number_stays_in_its_box(page: Page, site: Site) -> None:
    """Round a number it ran through the unit beside it."""
    page.goto(site.url + "power.html")
    box = page.locator("section.calc .control input:visible").first
    box.focus()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Tab")
    ring = box.evaluate(
        "one => { const s = getComputedStyle(one);"
        " return [s.outlineStyle, parseFloat(s.outlineOffset) + parseFloat(s.outlineWidth)]; }"
    )
    assert ring[0] == "solid"
    assert ring[1] <= 0
