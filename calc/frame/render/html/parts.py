"""What answers and forms share: signs, words, names of places, the state of the engine."""

from __future__ import annotations

from html import escape

from ...report import FAILS, FITS, TIGHT, UNASKED, UNKNOWN, Linked, Words, say
from ..spaces import said, worded

YOURS, LINKED = "yours", "from the link"

# A shape for each verdict, so that it can be told without colour.
_SHAPES = {
    FITS: '<circle cx="12" cy="12" r="10" class="solid"/><path d="M7 12.5l3.5 3.5L17 9" class="tick"/>',
    TIGHT: '<path d="M12 2.5 22.5 21h-21Z" class="line"/><path d="M12 9v6M12 17.2v1.6" class="line"/>',
    FAILS: '<path d="M3 3h18v18H3Z" class="line"/><path d="M7.5 7.5l9 9M16.5 7.5l-9 9" class="line"/>',
    UNKNOWN: '<circle cx="12" cy="12" r="9" class="line" stroke-dasharray="3.5 3"/>',
    UNASKED: '<path d="M2.5 12h4M10 12h4M17.5 12h4" class="line"/>',
}


def shape(verdict: str) -> str:
    """The sign of a verdict; decorative, because the word stands beside it."""
    return f'<svg class="sign sign-{verdict}" viewBox="0 0 24 24" aria-hidden="true">{_SHAPES[verdict]}</svg>'


def words(words: Words, system: str) -> str:
    """Words as HTML, with the amounts in a system of units; where they lead to another answer, with
    the sign of its verdict and the link to its page."""
    told = said(say(words, system))
    if not isinstance(words, Linked):
        return told
    sign = shape(words.state) if words.state else ""
    if not words.calculator:
        return f"{sign}{told}"
    place = escape(f"{words.calculator}.html#{words.fragment}", quote=True)
    return f'{sign}<a href="{place}" data-to="{escape(words.calculator, quote=True)}">{told}</a>'


# What is read out when an answer changes: no more than this.
LIVE = 'class="verdict-told" role="group" aria-live="polite" aria-atomic="true"'


def stale(prefix: str) -> str:
    """Covers a verdict while the form says other values than it was made for; hidden before that."""
    why = f'<a href="#{id_of(prefix, "engine-says")}">{worded("Why?")}</a>'
    return (
        f'<p class="verdict-stale"><strong>{worded("Not for these values.")}</strong> '
        f'<span class="stale-waiting">{worded("The answer to them is being worked out.")}</span>'
        f'<span class="stale-cut">{worded("The connection is interrupted.")} {why}</span>'
        f'<span class="stale-failed">{worded("The calculator does not run.")} {why}</span></p>'
    )


def engine_status(prefix: str) -> str:
    """How far the engine is, or why it doesn't run: the page's script writes it, if there is one."""
    ident = id_of(prefix, "engine-says")
    asleep = worded(
        "The calculator can't run: this page's script did not load, or scripts are switched off. Load "
        "the page again; if it stays so, whoever runs this site has to see that its scripts are there "
        "and are served as text/javascript."
    )
    return (
        f'<span id="{ident}" tabindex="-1" data-engine-status role="status">'
        f'<span class="engine-asleep">{asleep}</span></span>'
    )


def id_of(prefix: str, name: str) -> str:
    """The id of a field's control: no two forms of a page have one in common."""
    return escape(f"{prefix}{name}".replace(".", "-"), quote=True)
