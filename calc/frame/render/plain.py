"""A page's own words without what only a page has: for cards, which take HTML from a browser."""

from __future__ import annotations

from html import escape
from html.parser import HTMLParser

KEPT = frozenset(
    (
        "p",
        "ol",
        "ul",
        "li",
        "strong",
        "em",
        "b",
        "i",
        "h3",
        "h4",
        "br",
        "table",
        "thead",
        "tbody",
        "tr",
        "th",
        "td",
    )
)
DROPPED = frozenset(
    (
        "script",
        "style",
        "template",
        "svg",
        "math",
        "button",
        "select",
        "textarea",
        "iframe",
        "object",
    )
)
_EMPTY = frozenset(("br",))


def plain(html: str) -> str:
    """The words with their paragraphs, lists, tables and emphasis; no attribute, nothing that acts."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    return reader.text()


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self._out: list[str] = []
        self._open: list[str] = []
        self._dropping = 0

    def text(self) -> str:
        return "".join([*self._out, *(f"</{tag}>" for tag in reversed(self._open))])

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in DROPPED:
            self._dropping += 1
        elif tag in KEPT and not self._dropping:
            self._out.append(f"<{tag}>")
            if tag not in _EMPTY:
                self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in DROPPED:
            self._dropping = max(0, self._dropping - 1)
        elif tag in self._open and not self._dropping:
            while (last := self._open.pop()) != tag:
                self._out.append(f"</{last}>")
            self._out.append(f"</{tag}>")

    def handle_data(self, data: str) -> None:
        if not self._dropping:
            self._out.append(escape(data))
