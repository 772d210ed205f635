"""Reference cards from the terminal: the card that the browser saves, as HTML or as PDF."""

from __future__ import annotations

import datetime
import json
import subprocess
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from calc import browser, stock, terminal
from calc.frame.inputs import nearest
from calc.frame.render import card
from calc.frame.render.papers import PAPERS
from calc.frame.units import SYSTEMS

from . import brand, making
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
    known = places(making.docs())
    for what, said, there in (
        *(("calculator", name, stock.guide().names()) for name in names),
        ("paper", paper, PAPERS),
        ("system of units", system, SYSTEMS),
    ):
        if said not in there:
            near = nearest(said, list(there))
            raise Trouble(f"no {what} is called “{said}”; there are {', '.join(there)}.{near}")
    if out.suffix not in (".html", ".pdf"):
        raise Trouble(f"{out}: name a file that ends in .pdf or .html")
    found = find(boat)
    own = found.own
    sheet = found.sheet or _demo(found.example)
    house = brand.house(making.edition())
    imprint = card.Imprint(
        found.name,
        day or datetime.date.today(),
        edition,
        version=stock.guide().version,
        house=house,
    )
    made = [
        _card(name, known.get(name, Place("", {})), sheet, own, imprint, address, system)
        for name in names
    ]
    if len(made) == 1:
        content = card.page(card.titled(made[0][0], imprint), [made[0][2]], PAPERS[paper])
    else:
        content = card.pack(made, imprint, paper)
    out.parent.mkdir(parents=True, exist_ok=True)
    if out.suffix == ".html":
        out.write_text(content, "utf-8")
    else:
        print_to_pdf(content, out)
    return len(made)


def find(boat: str | None) -> terminal.Boat:
    """A boat by a demo boat's name or by its file. Raises Trouble with a sentence."""
    try:
        return terminal.find_boat(boat)
    except terminal.BadInput as error:
        raise Trouble(str(error)) from None


def whose(boat: str | None) -> str:
    """Whose card it is, as a sentence."""
    found = find(boat)
    if found.own:
        return f"for {found.name or 'your boat, which has no name yet'}"
    if found.name:
        return f"for the example boat {found.name}"
    return "for the examples of the pages, not for a boat of yours: name one by --boat"


def _demo(example: Mapping[str, Any]) -> Mapping[str, Any]:
    if not example:
        return {}
    texts: Mapping[str, Any] = stock.guide().shelf("boat")[example["boat"]].texts
    return texts


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
        "today": imprint.day.isoformat() if own and imprint.day else "",
        "example": dict(place.example),
        "units": system,
        "boat": imprint.boat,
        "day": imprint.day.isoformat() if imprint.day else "",
        "edition": imprint.edition,
        "house": imprint.house,
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
