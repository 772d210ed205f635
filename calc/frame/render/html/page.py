"""A calculator in its place on a page."""

from __future__ import annotations

import re
from collections.abc import Sequence
from html import escape

from ...guide import Calculator, Outcome
from ...language import spoken, spoken_count
from .. import tools
from ..spaces import said, worded
from .answer import answer
from .form import form
from .parts import engine_status


def link_notice(count: int, unknown: Sequence[str]) -> str:
    """Whose numbers an opened link shows, and what of it nobody asks."""
    told = spoken_count(
        count,
        "This answer was sent to you: {n} value in it came with the link, not from your boat.",
        "This answer was sent to you: {n} values in it came with the link, not from your boat.",
    )
    if unknown:
        also = "The link also holds what this page does not ask: {names}."
        told = f"{told} {spoken(also, names=', '.join(unknown[:5]))}"
    return said(told)


def calculator(
    made: Calculator,
    outcome: Outcome,
    example_json: str,
    system: str = "metric",
    prefix: str = "",
    sheet_page: str = "",
) -> str:
    """A calculator in its place on a page: form and answer side by side or one above the other.

    `sheet_page` is where the boat sheet lies, seen from this page.
    """
    place = re.search(r"-(\d+)-$", prefix)  # a page's second one needs another name than its first
    title = spoken(made.title)
    label = f"{title}, {place[1]}" if place else title
    return (
        f'<section class="calc" data-calculator="{escape(made.name, quote=True)}" '
        f'data-prefix="{escape(prefix, quote=True)}" '
        f'data-example="{escape(example_json, quote=True)}" aria-label="{escape(label, quote=True)}">'
        f'<form class="calc-form" data-search-exclude novalidate autocomplete="off">{tools.settings(system)}{tools.whose(sheet_page)}'
        f"{form(made, outcome.bound, system, prefix)}"
        f'<p class="form-actions"><button type="button" class="quiet" data-reset>{worded("Back to the example")}'
        f"</button> {tools.keep_for_boat()} {engine_status(prefix)}</p></form>"
        # An article, since the search index loses its way among elements of one name in each other.
        f'<article class="calc-answer" data-search-exclude>{tools.tried()}<div data-slot="answer">'
        f"{answer(outcome, system, prefix)}</div>{tools.share_and_keep()}</article></section>"
    )
