"""Cards on paper, as PDF pages: the right number of them, on the right paper, with nothing cut."""

from __future__ import annotations

import datetime
import json
from pathlib import Path

import pypdfium2
import pytest

from calc import calculators, equipment, service
from calc.render.papers import PAPERS
from site_build import cards, machine
from site_build.pages import places
from site_build.steps import Trouble

pytestmark = pytest.mark.browser

NAMES = list(calculators.names())
SIZES = {"a5": (420, 595), "a6-folded": (595, 420), "half-letter": (396, 612)}  # points
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


def squeezed(words: str) -> str:
    return "".join(words.split())


@pytest.mark.parametrize("boat", sorted(equipment.shelf("boat")))
@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_every_card_fits_its_paper(tmp_path: Path, paper: str, boat: str) -> None:
    """A pack begins with its contents; each card has one or two sides, and nothing is cut."""
    document = printed(tmp_path, NAMES, boat, paper)
    texts = [check_page(page, paper) for page in document]
    titles = [squeezed(calculators.get(name).title) for name in NAMES]
    for title in titles:
        assert title in texts[0]
    starts = [n for n, words in enumerate(texts) if "31May2026" in words][1:]
    assert len(starts) == len(NAMES)
    for title, start, end in zip(titles, starts, [*starts[1:], len(texts)], strict=True):
        sides = texts[start:end]
        assert len(sides) <= 2, f"{title}: {len(sides)} sides"
        if len(sides) == 2:  # no orphaned line: a second side is worth turning to
            assert len(sides[1]) > 150, title
        for words in ("Before you touch it", "Computed for", "Edition 2026-05"):
            assert squeezed(words) in "".join(sides), f"{title}: {words}"
        begun = next(side for side in sides if squeezed("Before you touch it") in side)
        assert squeezed("An estimate, not a licence") in begun, f"{title}: its warnings are parted"


def test_a_folded_card_in_both_units_takes_one_sheet_where_it_can(tmp_path: Path) -> None:
    for name in ("mount", "noise", "spares"):
        out = tmp_path / f"{name}.pdf"
        cards.write([name], "ketch", "a6-folded", out, "https://guide.example/", "both", DAY, "e")
        assert len(pypdfium2.PdfDocument(out)) == 1, name


def test_the_terminal_and_the_browser_make_the_same_card(tmp_path: Path) -> None:
    """The browser asks the service for the card; the terminal must put the same one on paper."""
    sheet = dict(equipment.shelf("boat")["catamaran"].texts)
    out = tmp_path / "card.html"
    cards.write(["power"], "catamaran", "a5", out, "https://guide.example", day=DAY, edition="e")
    place = places(machine.ROOT / "docs")["power"]
    request = {
        "do": "card", "calculator": "power", "sheet": sheet, "example": dict(place.example),
        "boat": sheet["name"], "day": DAY.isoformat(), "edition": "e", "paper": "a5",
        "address": f"https://guide.example/{place.url}",
    }  # fmt: skip
    assert out.read_text("utf-8") == json.loads(service.handle(json.dumps(request)))["html"]


@pytest.mark.parametrize(
    ("names", "boat", "paper", "out", "words"),
    [
        (["pwer"], None, "a5", "c.pdf", "no calculator is called"),
        (["power"], "nobody.toml", "a5", "c.pdf", "nobody.toml"),
        (["power"], None, "a3", "c.pdf", "paper is one of"),
        (["power"], None, "a5", "c.txt", "ends in .pdf or .html"),
    ],
)
def test_a_mistake_is_a_sentence(
    tmp_path: Path, names: list[str], boat: str | None, paper: str, out: str, words: str
) -> None:
    with pytest.raises(Trouble, match=words):
        cards.write(names, boat, paper, tmp_path / out)
