"""Stock pages that an edition hides: they are not built, and what led to them follows.

The navigation, the list of what the boat sheet answers, search, zip and sitemap know only what is
built; links in prose become words.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from . import making

# The first page; the licences, which go along with what they are for; the steps that other pages'
# steps lead to, such as taking the pressure off.
NEVER = ("index.md", "licences.md", "steps.md")


def is_hidden(name: str) -> bool:
    """Whether a page ("upkeep.md") doesn't appear in the edition that is made."""
    return name in making.edition().hidden and name not in NEVER


def shown(docs: Path) -> Iterator[Path]:
    """All pages of a folder that appear, in their order."""
    for path in sorted(docs.rglob("*.md")):
        if not is_hidden(path.relative_to(docs).as_posix()):
            yield path


def nav(items: list[Any]) -> list[Any]:
    """A navigation as in mkdocs.yml, without hidden pages and without parts that are empty so."""
    kept = []
    for item in items:
        if isinstance(item, dict):
            ((title, inside),) = item.items()
            if isinstance(inside, list):
                if left := nav(inside):
                    kept.append({title: left})
            elif not is_hidden(inside):
                kept.append(item)
        elif not is_hidden(item):
            kept.append(item)
    return kept


_LINK = re.compile(r"(?<!!)\[([^\[\]]*)\]\(\s*([^()\s#]+\.md)(?:#[^()\s]*)?\s*\)")


def without_links(markdown: str, page: str) -> str:
    """A page's Markdown where links to hidden pages are words."""

    def told(found: re.Match[str]) -> str:
        target = posixpath.normpath(posixpath.join(posixpath.dirname(page), found[2]))
        return found[1] if is_hidden(target) else found[0]

    return _LINK.sub(told, markdown)
