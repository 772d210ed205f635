"""The numbers of an answer, its ways and what would make it fit."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from ...language import spoken
from ...report import FITS, Figure, Line, Option, Remedy, parted, say, verdict_word
from .. import tools
from ..spaces import NO_BREAK, said, worded
from .parts import shape, words


def wanted(found: Sequence[Figure], system: str) -> str:
    """The numbers that one came for, large."""
    cells = "".join(
        f'<div data-wanted="{escape(f.key, quote=True)}"><dt>{words(f.label, system)}</dt>'
        f"<dd>{_before_unit(said(f.value.text(system)))}</dd></div>"
        for f in found
    )
    return f'<dl class="wanted">{cells}</dl>' if cells else ""


def _before_unit(told: str) -> str:
    """A number that may be parted from its unit: where both have no room, a word was parted."""
    return told.replace(NO_BREAK, " ", 1)


def figures_table(found: Sequence[Figure], system: str, caption: str) -> str:
    """A table; its roles are written out, because phones set it otherwise and would lose them."""
    if not found:
        return ""
    rows = "".join(_figure(f, system) for f in found)
    return (
        f'<table class="figures" role="table"><caption>{said(caption)}</caption>'
        f'<thead role="rowgroup"><tr role="row"><th scope="col" role="columnheader">{worded("What")}</th>'
        f'<th scope="col" role="columnheader" class="num">{worded("Value")}</th>'
        f'<th scope="col" role="columnheader" class="num">{worded("Limit")}</th>'
        f'<th scope="col" role="columnheader" class="num">{worded("Margin")}</th></tr></thead>'
        f'<tbody role="rowgroup">{rows}</tbody></table>'
    )


def _figure(found: Figure, system: str) -> str:
    limit = margin = ""
    if found.limit is not None and found.margin is not None:
        sign = "≤" if found.limit_is == "most" else "≥"
        limit = f"{sign} {said(found.limit.text(system))}"
        if found.decides:
            state, word = shape(found.state), verdict_word(found.state)
        else:
            state, word = _only_told(found.margin >= 0)
        margin = (
            '<span class="margin-line">'
            f'<span class="left-over">{said(found.left_over(system))}</span>'
            f'{_bar(found)}{state}<span class="sr">{said(word)}</span></span>'
        )
    note = f'<span class="note">{words(found.note, system)}</span>' if found.note else ""
    kind = f' class="state-{found.state}"' if found.limit is not None and found.decides else ""
    return (
        f'<tr{kind} role="row" data-figure="{escape(found.key)}">'
        f'<th scope="row" role="rowheader">{words(found.label, system)}{note}</th>'
        f'<td class="num" role="cell">{said(found.value.text(system))}</td>'
        f'<td class="num" role="cell">{limit}</td>'
        f'<td class="num margin" role="cell">{margin}</td></tr>'
    )


def _only_told(kept: bool) -> tuple[str, str]:
    """The sign and the word of a limit that decides nothing."""
    if kept:
        return shape(FITS), spoken("kept")
    body = '<path d="M12 2v13M12 20v1.5" class="line"/>'
    return (
        f'<svg class="sign" viewBox="0 0 24 24" aria-hidden="true">{body}</svg>',
        spoken("not kept, which decides nothing"),
    )


def _bar(found: Figure) -> str:
    """How near the value is to its limit: a small bar with the limit at four fifths."""
    width = min(1.25, max(0.0, found.used)) * 48
    return (
        '<svg class="bar" viewBox="0 0 60 8" aria-hidden="true"><path class="bar-all" d="M0 4H60"/>'
        f'<path class="bar-value" d="M0 4H{width:.1f}"/><path class="bar-limit" d="M48 0V8"/></svg>'
    )


def option(made: Option, system: str, unfolded: bool) -> str:
    """One way to do it: its verdict and reason in a line, its figures under that.

    What would make the best of them fit stands with the answer already.
    """
    told = not unfolded
    shown = "".join((" open", " data-opened")) if unfolded else ""
    return (
        f'<section class="option option-{made.verdict}" data-option="{escape(made.key)}">'
        f'<details data-key="option-{escape(made.key)}"{shown}><summary>'
        f"<h3>{shape(made.verdict)}<span>{words(made.name, system)}</span> "
        f"<em>{said(verdict_word(made.verdict))}</em></h3>"
        f'<span class="option-reason">{words(made.reason(), system)}</span></summary>'
        + figures_table(made.figures, system, say(made.name, system))
        + remedies(made.verdict, made.remedies if told else [], system)
        + "</details></section>"
    )


def remedies(verdict: str, lines: Sequence[Line], system: str) -> str:
    """What would make it fit, and how far it reaches, each with the button that tries it if a form
    can hold it."""
    mending, far = parted(verdict, lines)
    return _listed("What would make it fit", mending, system) + _listed(
        "How far it reaches", far, system
    )


def _listed(title: str, lines: Sequence[Line], system: str) -> str:
    if not lines:
        return ""
    items = "".join(f"<li>{words(made, system)}{_try(made, system)}</li>" for made in lines)
    return f'<div class="remedies"><h3>{worded(title)}</h3><ul>{items}</ul></div>'


def _try(made: Line, system: str) -> str:
    if not isinstance(made, Remedy) or not made.sets:
        return ""
    return f" {tools.try_it(made.typed(system), made.text(system))}"


def bullets(cls: str, title: str, lines: Sequence[Line], system: str) -> str:
    """A titled list of sentences, or nothing where there are none."""
    if not lines:
        return ""
    items = "".join(f"<li>{words(made, system)}</li>" for made in lines)
    return f'<div class="{cls}"><h3>{said(spoken(title))}</h3><ul>{items}</ul></div>'
