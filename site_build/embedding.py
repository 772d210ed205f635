"""Calculators for frames in other people's pages: `embed/power.html`, and `embed.js` for the host.

An edition that names hosts (`embed_on`) gets them. Each is a page with one calculator, its verdict
and a line that says whose guide it is; it has neither navigation nor search, and several of them in
one page share one engine. They are for the web: the offline copy and the zip leave them out.
"""

from __future__ import annotations

from html import escape
from pathlib import Path
from typing import Any

from calc import stock
from calc.frame.language import spoken

from . import making
from .pages import Page, calculator, places

FOLDER = "embed"
SCRIPT = "embed.js"
HEIGHT = 1200  # pixels of a frame before it is told another height: verdict and form of most


def wanted() -> bool:
    """Whether the edition that is made lets other pages show its calculators."""
    return bool(making.edition().embed_on)


def write(site: Path, env: Any, config: Any) -> None:
    """Put the pages into a site whose other pages and files are there."""
    folder = site / FOLDER
    folder.mkdir(exist_ok=True)
    template = env.get_template("embed.html")
    address = config.site_url or ""
    for name, place in places(making.docs()).items():
        made = Page(f"{FOLDER}/{name}.md")
        content = template.render(
            site_name=config.site_name,
            title=spoken(stock.guide().get(name).title),
            page=f"../{place.url}",
            hosted=f"{address}{place.url}" if address else "",
            scripts=[str(script) for script in config.extra_javascript],
            calculator=calculator(name, place.example, made),
            extra=config.extra,
        )
        (folder / f"{name}.html").write_text(content, "utf-8")
    script = Path(__file__).parent / "browser" / SCRIPT
    (site / SCRIPT).write_text(script.read_text("utf-8"), "utf-8")


def snippet(name: str, title: str, address: str) -> str:
    """What the other page has where the calculator is to be; `address` is where the guide is."""
    base, title = escape(address, quote=True), escape(title, quote=True)
    return (
        f'<iframe data-brinebook src="{base}{FOLDER}/{name}.html" title="{title}"\n'
        f'        width="100%" height="{HEIGHT}" loading="lazy"></iframe>\n'
        f'<script src="{base}{SCRIPT}" async></script>'
    )
