"""Long sections of a page's text, folded on a phone under their heading.

In Markdown: `## On the engine {: told="What an alternator gives, and when the bank helps" }`. The
heading stands, for links, search and the list of headings; below it one line tells what is inside.
A wide screen, paper, and whoever comes by a link to the heading have it open
(docs/assets/css/page.css).

What must be read before hands move is never folded: a section is folded as far as its first
caution, and one with numbered steps may not be folded at all.
"""

from __future__ import annotations

import re

_SECTION = re.compile(r'(<h2[^>]*?) told="([^"]*)"([^>]*>.*?</h2>)(.*?)(?=<h2[ >]|\Z)', re.DOTALL)
_CAUTION = '<div class="caution"'


def with_folds(html: str) -> str:
    """A page's HTML with the sections folded that ask for it.

    Raises ValueError where one holds numbered steps, a calculator or nothing to fold.
    """
    return _SECTION.sub(_folded, html)


def _folded(found: re.Match[str]) -> str:
    opened, line, heading, body = found.groups()
    inside, caution, open_still = body.partition(_CAUTION)
    title = re.sub(r"<[^>]*>", "", heading.partition(">")[2])
    if "<ol>" in inside or "<section" in inside:
        raise ValueError(f"“{title}” holds steps or a calculator and can't be folded")
    if not inside.strip():
        raise ValueError(f"“{title}” has nothing to fold")
    return (
        f'{opened} data-told{heading}\n<details class="told"><summary>{line}</summary>\n'
        f"{inside.strip()}\n</details>\n{caution}{open_still}"
    )
