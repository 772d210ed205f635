"""Reference cards from the terminal: the card that the browser saves, as HTML or as PDF."""

from __future__ import annotations

import datetime
import json
import subprocess
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from calc import browser, stock
from calc.frame import boatfile
from calc.frame.render import card
from calc.frame.render.papers import PAPERS
from calc.frame.units import SYSTEMS

from . import machine
from .pages import Place, places
from .steps import Trouble

PATIENCE = 120.0  # s for Chromium to print


def write(
    names: list[str],
    boat: str | None,
    paper: str,
    out: Path,
    address: str = "",
    system: str = "metric",
    day: datetime.date | None = None,
    edition: str = "",
) -> int:
    """Writes a card, or a pack of several with its contents, as .html or .pdf; returns the pages.

    `boat` is a boat sheet's file or a demo boat's name. Raises Trouble with a sentence.
    """
    known = places(machine.ROOT / "docs")
    for name in names:
        if name not in stock.guide().names():
            raise Trouble(f"no calculator is called “{name}”; there are {', '.join(known)}")
    if paper not in PAPERS or system not in SYSTEMS:
        raise Trouble(f"paper is one of {', '.join(PAPERS)}; units one of {', '.join(SYSTEMS)}")
    if out.suffix not in (".html", ".pdf"):
        raise Trouble(f"{out}: name a file that ends in .pdf or .html")
    sheet = read_boat(boat)
    own = boat is not None and boat not in stock.guide().shelf("boat")
    imprint = card.Imprint(str(sheet.get("name", "")), day or datetime.date.today(), edition)
    made = [
        _card(name, known.get(name, Place("", {})), sheet, own, imprint, address, system)
        for name in names
    ]
    if len(made) == 1:
        content = card.page(made[0][0], [made[0][2]], PAPERS[paper])
    else:
        content = card.pack(made, imprint, paper)
    out.parent.mkdir(parents=True, exist_ok=True)
    if out.suffix == ".html":
        out.write_text(content, "utf-8")
    else:
        print_to_pdf(content, out)
    return len(made)


def read_boat(boat: str | None) -> Mapping[str, Any]:
    """The values of a boat sheet: of a file, of a demo boat, or none."""
    if boat is None:
        return {}
    demo = stock.guide().shelf("boat").get(boat)
    if demo is not None:
        texts: Mapping[str, Any] = demo.texts
        return texts
    try:
        return boatfile.read(Path(boat).read_text("utf-8"), stock.guide().sheet)
    except OSError as error:
        raise Trouble(f"{boat}: {error.strerror}") from None
    except (boatfile.BoatFileError, UnicodeDecodeError) as error:
        raise Trouble(f"{boat}: {error}") from None


def _card(
    name: str,
    place: Place,
    sheet: Mapping[str, Any],
    own: bool,
    imprint: card.Imprint,
    address: str,
    system: str,
) -> tuple[str, str, str]:
    """Title, verdict and card of one calculator, by the very request that a page would send."""

    request = {
        "do": "card part",
        "calculator": name,
        "sheet": dict(sheet),
        "own": own,
        "example": dict(place.example),
        "units": system,
        "boat": imprint.boat,
        "day": imprint.day.isoformat() if imprint.day else "",
        "edition": imprint.edition,
        "address": f"{address.rstrip('/')}/{place.url}" if address and place.url else "",
    }
    reply = json.loads(browser.handle(json.dumps(request)))
    if reply["error"]:
        raise Trouble(f"{name}: {reply['error']}")
    return reply["title"], reply["verdict"], reply["part"]


def print_to_pdf(content: str, out: Path) -> None:
    """Prints a card's HTML by Chromium on the paper that the card names. Raises Trouble."""
    from . import browser_finder

    browser = browser_finder.chromium()
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder) / "card.html"
        page.write_text(content, "utf-8")
        command = [
            str(browser),
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-background-networking",
            f"--user-data-dir={folder}/profile",
            "--no-pdf-header-footer",
            f"--print-to-pdf={out.resolve()}",
            page.as_uri(),
        ]
        out.unlink(missing_ok=True)
        done = subprocess.run(command, capture_output=True, timeout=PATIENCE)
    if not out.exists():
        raise Trouble(f"Chromium made no PDF: {done.stderr.decode(errors='replace')[-300:]}")
