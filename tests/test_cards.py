"""Cards on paper, as PDF pages: the right number of them, on the right paper, with nothing cut."""

from __future__ import annotations

import ctypes
import datetime
import itertools
import json
import re
import sys
from collections.abc import Iterable, Iterator
from html import unescape
from pathlib import Path

import pypdfium2
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from calc import __version__, browser, stock
from calc.frame.inputs import Choice
from calc.frame.render import card, html, text
from calc.frame.render.papers import PAPERS
from calc.frame.units import SYSTEMS
from site_build import card_font, cards, machine
from site_build.pages import in_order, places
from site_build.steps import Trouble

pytestmark = pytest.mark.browser

NAMES = list(stock.guide().names())
SIZES = {"a5": (420, 595), "a6-folded": (595, 420), "half-letter": (396, 612)}  # points
LARGEST_CARD = 250_000  # bytes
DAY = datetime.date(2026, 5, 31)


def printed(folder: Path, names: list[str], boat: str, paper: str) -> pypdfium2.PdfDocument:
    out = folder / f"{'-'.join(names)[:20]}-{boat}-{paper}.pdf"
    cards.write(names, boat, paper, out, "https://guide.example/", day=DAY, edition="2026-05")
    return pypdfium2.PdfDocument(out)


def check_page(page: pypdfium2.PdfPage, paper: str) -> str:
    """A page of this paper with all its text inside the margins; returns the text without spaces.

    Of a page that is wider than its text the reader of PDF takes letters for words.
    """
    width, height = page.get_size()
    assert (round(width), round(height)) == pytest.approx(SIZES[paper], abs=1)
    text = page.get_textpage()
    for index in range(text.count_rects()):
        left, bottom, right, top = text.get_rect(index)
        assert left >= 10, text.get_text_bounded(left, bottom, right, top)
        assert right <= width - 10, text.get_text_bounded(left, bottom, right, top)
        assert bottom >= 10
        assert top <= height - 10
    return squeezed(text.get_text_range())


def used(page: pypdfium2.PdfPage) -> float:
    """How far down a side its words reach, as a share of its height."""
    height, text = page.get_height(), page.get_textpage()
    lowest = min(text.get_rect(index)[1] for index in range(text.count_rects()))
    return float((height - lowest) / height)


FIGURE_HEIGHT = 0.66  # of the size of the card's letters


def smallest(page: pypdfium2.PdfPage) -> float:
    """The size [pt] of the smallest figure that is printed, upright or turned, but for exponents."""
    text, sizes = page.get_textpage(), [99.0]
    for index in range(text.count_chars()):
        if text.get_text_range(index, 1).isdecimal():
            left, bottom, right, top = text.get_charbox(index)
            sizes.append(max(right - left, top - bottom) / FIGURE_HEIGHT)
    return min(sizes)


def squeezed(words: str) -> str:
    return "".join(words.split())


@pytest.mark.parametrize("boat", sorted(stock.guide().shelf("boat")))
@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_every_card_fits_its_paper(tmp_path: Path, paper: str, boat: str) -> None:
    """A pack begins with its contents; each card has one or two sides, and nothing is cut."""
    document = printed(tmp_path, NAMES, boat, paper)
    texts = [check_page(page, paper) for page in document]
    titles = [squeezed(stock.guide().get(name).title) for name in NAMES]
    for title in titles:
        assert title in texts[0]
    least = 3.4 if paper == "a6-folded" else 5.4
    for page, words in zip(document, texts, strict=True):
        assert smallest(page) >= least, words[:60]
    starts = [n for n, words in enumerate(texts) if "31May2026" in words][1:]
    assert len(starts) == len(NAMES)
    for title, start, end in zip(titles, starts, [*starts[1:], len(texts)], strict=True):
        sides = texts[start:end]
        assert len(sides) <= 2, f"{title}: {len(sides)} sides"
        if len(sides) == 2:  # no orphaned line: a second side is worth turning to
            assert len(sides[1]) > 150, title
            assert paper == "a6-folded" or used(document[start + 1]) > 0.3, title
        made_by = f"Brinebook {__version__}, edition 2026-05"
        for words in ("Before you touch it", "Computed for", made_by):
            assert squeezed(words) in "".join(sides), f"{title}: {words}"
        begun = next(side for side in sides if squeezed("Before you touch it") in side)
        assert squeezed("An estimate, not a licence") in begun, f"{title}: its warnings are parted"


def test_the_big_numbers_of_a_card_are_those_one_came_for() -> None:
    for name in NAMES:
        made = stock.guide().get(name)
        outcome = stock.guide().run(made, example={"boat": "ketch"})
        assert outcome.report
        wanted = [f.value.text() for f in outcome.report.wanted_figures()]
        glance = re.findall(
            r'class="glance">(.*?)</div></div>', card.answer_card(made, outcome, card.Imprint())
        )
        told = re.findall(r"<b>(.*?)</b>", "".join(glance))
        assert told[: len(wanted)] == wanted or not wanted, name


def test_a_card_without_an_answer_leads_nowhere_and_waits_for_none() -> None:
    """It tells what is to be said or mended first; of a page's form and script it has nothing."""
    guide = stock.guide()
    for name in NAMES:
        made = guide.get(name)
        unasked = guide.run(made, own_boat=True)
        refused = guide.run(made, {"unit": "none such", "which": "no rest"})
        labels = [made.asks.fields[one].label for row in unasked.lacks for one in row]
        faults = [str(fault.label) for fault in refused.bound.faults]
        assert labels and faults, name
        for outcome, told in ((unasked, labels), (refused, faults)):
            assert outcome.report is None
            paper = card.answer_card(made, outcome, card.Imprint())
            assert not re.search(r"<a |engine-says|verdict-stale|data-question", paper), name
            assert all(str(one) in unescape(paper) for one in told), name
            live = html.answer(outcome)
            assert live.count("<a ") >= len(told) and "verdict-stale" in live, name


def test_all_cards_come_in_the_order_of_the_guide() -> None:
    nav = (machine.ROOT / "mkdocs.yml").read_text("utf-8")
    found = places(machine.ROOT / "docs")
    order = [
        nav.index(found[name].url.replace(".html", ".md"))
        for name in in_order(machine.ROOT / "docs")
    ]
    assert order == sorted(order)
    assert len(order) == len(found)


def test_a_card_is_named_for_its_boat() -> None:
    request = {
        "do": "card",
        "calculator": "power",
        "example": {"boat": "ketch"},
        "boat": "Old Alder!",
    }
    reply = json.loads(browser.handle(json.dumps(request)))
    assert reply["name"] == "old-alder-power-card.html"
    assert "<title>Old Alder!, Power, card</title>" in reply["html"]


def test_a_folded_card_in_both_units_takes_one_sheet_where_it_can(tmp_path: Path) -> None:
    for name in ("mount", "noise", "spares"):
        out = tmp_path / f"{name}.pdf"
        cards.write([name], "ketch", "a6-folded", out, "https://guide.example/", "both", DAY, "e")
        assert len(pypdfium2.PdfDocument(out)) == 1, name


FONTS = {
    "none": "<fontconfig></fontconfig>",
    # A machine whose sans is another: fixed width, wider than the card's by a third and more.
    "wide": """<fontconfig><include ignore_missing="yes">/etc/fonts/fonts.conf</include>
      <match target="pattern"><edit name="family" mode="assign" binding="strong">
      <string>monospace</string></edit></match></fontconfig>""",
}


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="fontconfig chooses on Linux")
@pytest.mark.parametrize("names", [["power"], ["upkeep"], NAMES])
def test_a_card_is_the_same_whatever_fonts_the_machine_has(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, names: list[str]
) -> None:
    """Every letter is of the card's own font, and stands at the same place."""
    layouts = {}
    for kind, config in {"own": "", **FONTS}.items():
        if config:
            (tmp_path / kind).write_text(config, "utf-8")
            monkeypatch.setenv("FONTCONFIG_FILE", str(tmp_path / kind))
        document = printed(tmp_path, names, "catamaran", "a5")
        layouts[kind] = [list(letters(page)) for page in document]
        families = {family for page in layouts[kind] for _, family, _, _ in page}
        assert all("BrineCard" in family for family in families), families
    assert layouts["own"] == layouts["none"] == layouts["wide"]


def letters(page: pypdfium2.PdfPage) -> Iterator[tuple[str, str, int, int]]:
    """Each letter that is seen, its font's name, and where it begins, in tenths of a point."""
    text = page.get_textpage()
    for index in range(text.count_chars()):
        letter = chr(pypdfium2.raw.FPDFText_GetUnicode(text, index))
        if not letter.isspace() and letter.isprintable():
            name = ctypes.create_string_buffer(200)
            flags = ctypes.c_int()
            pypdfium2.raw.FPDFText_GetFontInfo(text, index, name, len(name), ctypes.byref(flags))
            left, bottom, _, _ = text.get_charbox(index)
            yield letter, name.value.decode(), round(left * 10), round(bottom * 10)


def test_the_font_has_every_letter_of_every_card() -> None:
    """In all systems of units; a letter it lacks would come from whatever the machine has."""
    have = set(card_letters())
    for name, boat, units in itertools.product(NAMES, stock.guide().shelf("boat"), SYSTEMS):
        request = {
            "do": "card",
            "calculator": name,
            "example": {"boat": boat},
            "units": units,
            "day": DAY.isoformat(),
            "decimal": ",",
        }
        html = json.loads(browser.handle(json.dumps(request)))["html"]
        seen = set(re.sub(r"<style>.*?</style>", "", html, flags=re.S)) - {"\n"}
        assert seen <= have, seen - have


@st.composite
def sheets(draw: st.DrawFn) -> dict[str, str]:
    """A demo boat's sheet with some of it left out and some choices made otherwise."""
    texts = stock.guide().shelf("boat")[draw(st.sampled_from(["ketch", "catamaran"]))].texts
    gone = draw(st.sets(st.sampled_from(sorted(texts)), max_size=8))
    said = {name: value for name, value in texts.items() if name not in gone}
    choices = {k: f for k, f in stock.guide().sheet.fields.items() if isinstance(f, Choice)}
    for name in draw(st.sets(st.sampled_from(sorted(choices)), max_size=6)):
        said[name] = draw(st.sampled_from(sorted(choices[name].choices)))
    return said


BLOCK = re.compile(
    r"</?(?:p|li|h\d|t[dhr]|div|section|ul|ol|header|footer|figcaption|title|desc|text)\b[^>]*>"
)
ITEM = re.compile(r"\n\s*\n|\n *(?:[-!\[]|\d+\.)")  # where a line of the terminal begins anew
SMALL = re.compile(r"[.!?]\s+[a-z](?! = )")  # a symbol may be small: its value follows


def run_on(parts: Iterable[str]) -> list[str]:
    """Pieces of text in which a sentence begins with a small letter behind another's end."""
    plain = (" ".join(unescape(re.sub("<[^>]*>", "", part)).split()) for part in parts)
    return [part for part in plain if SMALL.search(part)]


def test_what_is_run_on_is_seen() -> None:
    told = (
        "<li><b>Inverter: fits.</b> the bank sags</li><p>Fits. The bank sags. m = 0 is a plug.</p>"
    )
    assert run_on(BLOCK.split(told)) == ["Inverter: fits. the bank sags"]


@settings(max_examples=40, deadline=None)
@given(
    sheet=sheets(),
    name=st.sampled_from(NAMES),
    example=st.sampled_from([{"boat": "ketch"}, {"boat": "catamaran"}]),
    own=st.booleans(),
)
@example(sheet={}, name="power", example={"boat": "ketch"}, own=False)
@example(sheet={}, name="layup", example={"boat": "catamaran"}, own=False)
@example(sheet={}, name="places", example={"boat": "catamaran"}, own=False)
def test_no_sentence_of_a_card_begins_small(
    sheet: dict[str, str], name: str, example: dict[str, str], own: bool
) -> None:
    """Law: over any boat, on paper, on the page and at the terminal."""
    made = stock.guide().get(name)
    outcome = stock.guide().run(made, sheet=sheet, example=example, own_boat=own).whole()
    shown = card.answer_card(made, outcome, card.Imprint()) + html.answer(outcome)
    assert run_on(BLOCK.split(shown)) == []
    if outcome.report is not None:
        told = text.report(outcome.report, "metric", False, outcome.bound, "")
        assert run_on(ITEM.split(told)) == []


def card_letters() -> Iterator[str]:
    return map(chr, card_font.LETTERS)


def test_a_card_with_its_font_stays_small() -> None:
    request = {"do": "card", "calculator": "power", "example": {"boat": "ketch"}, "units": "both"}
    html = json.loads(browser.handle(json.dumps(request)))["html"]
    assert "Brine Card" in html
    assert len(html.encode()) <= LARGEST_CARD


def test_the_terminal_and_the_browser_make_the_same_card(tmp_path: Path) -> None:
    """The browser asks the service for the card; the terminal must put the same one on paper."""
    sheet = dict(stock.guide().shelf("boat")["catamaran"].texts)
    out = tmp_path / "card.html"
    cards.write(["power"], "catamaran", "a5", out, "https://guide.example", day=DAY, edition="e")
    place = places(machine.ROOT / "docs")["power"]
    request = {
        "do": "card",
        "calculator": "power",
        "sheet": sheet,
        "own": False,
        "example": dict(place.example),
        "boat": sheet["name"],
        "day": DAY.isoformat(),
        "edition": "e",
        "paper": "a5",
        "address": f"https://guide.example/{place.url}",
    }
    assert out.read_text("utf-8") == json.loads(browser.handle(json.dumps(request)))["html"]


def test_every_card_tells_what_computed_it_and_of_which_day_its_guide_is(tmp_path: Path) -> None:
    out = tmp_path / "card.html"
    for edition in ("", "3 May 2026"):
        cards.write(["power", "need"], None, "a5", out, edition=edition)
        feet = re.findall("<footer>(.*?)</footer>", out.read_text("utf-8"), re.DOTALL)
        assert len(feet) == 3, "the contents, and each card"
        assert all(__version__ in foot and edition in foot for foot in feet)
    asked = {"do": "step card", "title": "Drain it", "html": "<p>Open it.</p>", "edition": "2026"}
    foot = json.loads(browser.handle(json.dumps(asked)))["html"].partition("<footer>")[2]
    assert __version__ in foot and "2026" in foot


@pytest.mark.parametrize(
    ("names", "boat", "paper", "out", "words"),
    [
        (["pwer"], None, "a5", "c.pdf", "no calculator is called"),
        (["power"], "nobody.toml", "a5", "c.pdf", "nobody.toml"),
        (["power"], None, "a3", "c.pdf", "no paper is called"),
        (["power"], None, "a5", "c.txt", "ends in .pdf or .html"),
    ],
)
def test_a_mistake_is_a_sentence(
    tmp_path: Path, names: list[str], boat: str | None, paper: str, out: str, words: str
) -> None:
    with pytest.raises(Trouble, match=words):
        cards.write(names, boat, paper, tmp_path / out)
