"""Forms and answers as HTML: built into pages, sent to the browser, printed on cards.

Everything a reader typed passes through `escape`. Parts that a page exchanges without reloading
carry `data-slot`; the page's script puts new HTML there and knows nothing else.
"""

from __future__ import annotations

import base64
import re
from collections.abc import Callable, Sequence
from html import escape

from .. import units
from ..guide import Calculator, Outcome, Question
from ..inputs import (
    NONE_LISTED,
    NOT_KNOWN,
    TYPED,
    Bound,
    Choice,
    Date,
    Fault,
    Field,
    Inputs,
    Log,
    Presence,
    Quantity,
    Record,
    Rows,
    Text,
    Whole,
    YesNo,
    limit_text,
)
from ..report import (
    FAILS,
    FITS,
    TIGHT,
    UNASKED,
    UNKNOWN,
    VERDICT_WORDS,
    Amount,
    Chart,
    Download,
    Figure,
    Line,
    Option,
    Remedy,
    Report,
    Step,
    Table,
    Words,
    say,
)
from . import lanes, mathml, svg, tools
from .folded import folded_row
from .log_tools import log_tools
from .spaces import said

YOURS, LINKED = "yours", "from the link"
MANY_COLUMNS = 4  # more do not stand side by side on a phone
LONG_TEXT = 30  # characters; a column of more asks for a phone's whole width

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


def answer(outcome: Outcome, system: str = "metric", prefix: str = "") -> str:
    """The whole answer: verdict first, cautions last and open. Faults stand in its place, or what
    must be said first of a boat of one's own."""
    if outcome.lacks:
        return _not_asked(outcome, prefix)
    if outcome.report is None:
        return faults(outcome.bound.faults, prefix)
    return report(outcome.report, system, prefix, outcome.bound)


def _not_asked(outcome: Outcome, prefix: str) -> str:
    """In place of a verdict: the questions that settle it, each linked to its field."""
    items = "".join(f"<li>{questions(outcome, row, prefix)}</li>" for row in outcome.lacks)
    count = len(outcome.lacks)
    told = "One more fact decides" if count == 1 else f"{count} more facts decide"
    return (
        f'<div class="verdict verdict-{UNASKED}"><div {_LIVE}><p class="verdict-word">'
        f"{shape(UNASKED)}<strong>{said(VERDICT_WORDS[UNASKED])}</strong></p>"
        f'<p class="verdict-reason">{told} about your boat.</p></div>{stale(prefix)}</div>'
        f'<div class="questions"><h3>Say this first</h3><ul>{items}</ul></div>'
    )


def questions(outcome: Outcome, row: Sequence[str], prefix: str) -> str:
    """What one group of questions asks, each linked to its field."""
    fields = outcome.bound.asks.fields
    return " or ".join(
        f'<a href="#{_ident(prefix, name)}" data-question="{escape(name, quote=True)}">'
        f"{said(fields[name].label)}</a>"
        for name in row
    )


def faults(found: Sequence[Fault], prefix: str = "") -> str:
    """Every fault of the form at once, each linked to its field."""
    items = "".join(
        f'<li><a href="#{_ident(prefix, f.field)}">{said(f.label)}</a>: {said(f.sentence)}</li>'
        for f in found
    )
    many = "One value needs" if len(found) == 1 else f"{len(found)} values need"
    return (
        f'<div class="verdict verdict-faults"><div {_LIVE}><p class="verdict-word">{shape(UNKNOWN)}'
        f'<strong>not yet</strong></p><p class="verdict-reason">{many} mending before this can be '
        f'answered.</p></div>{stale(prefix)}</div><ul class="faults">{items}</ul>'
    )


SHORT_HEAD = 12  # characters


def report(
    made: Report, system: str = "metric", prefix: str = "", bound: Bound | None = None
) -> str:
    """A report in the order of the house: verdict, headline, what to do, the numbers one came for,
    one picture; then all else, folded by heading with what is inside told in a line.

    Cautions are never folded.
    """
    best = made.best_option()
    ways = [*made.remedies, *(best.remedies if best else [])]
    few = FEW_WAYS if made.verdict != FITS else 0  # nothing need be done
    shown, pictures = _one_picture(made, system, prefix)
    first = [
        *(f'<p class="headline">{words(h, system)}</p>' for h in made.headlines),
        _remedies(made.verdict, ways[:few], system),
        _wanted(made.wanted_figures(), system),
        shown,
    ]
    rest = [
        *(_fold_table(t, system) for t in made.tables if t.lead),
        _fold_ways(made.verdict, ways[few:], system),
        _fold_figures(made.figures, system),
        _fold_options(made, system),
        _fold_pictures(pictures),
        *(_fold_table(t, system) for t in made.tables if not t.lead),
        _fold_notes(made.notes, system),
        _working(made.steps, system),
        _sources(made.sources()),
        _assumed(bound, system),
    ]
    return (
        _verdict(made.verdict, made.reason(), system, prefix, _whose(bound))
        + f'<div class="answer-first">{"".join(first)}</div>'
        + cautions(made, system)
        + _downloads(made.downloads)
        + f'<div class="answer-rest">{"".join(rest)}</div>'
    )


FEW_WAYS = 3  # remedies that stand open


def _wanted(found: Sequence[Figure], system: str) -> str:
    """The numbers that one came for, large."""
    cells = "".join(
        f'<div data-wanted="{escape(f.key, quote=True)}"><dt>{words(f.label, system)}</dt>'
        f"<dd>{said(f.value.text(system))}</dd></div>"
        for f in found
    )
    return f'<dl class="wanted">{cells}</dl>' if cells else ""


def _one_picture(made: Report, system: str, prefix: str) -> tuple[str, list[tuple[Words, str]]]:
    """The picture that says it at a glance, and the others with their titles."""
    found = _pictures(made, system, prefix)
    key = made.picture if made.picture in found else next(iter(found), "")
    others = [one for name, one in found.items() if name != key]
    return found[key][1] if key else "", others


def _fold(key: str, name: str, line: str, body: str) -> str:
    """A folded part under its heading, with what is inside told in a line."""
    return (
        f'<details class="fold" data-key="fold-{escape(key, quote=True)}"><summary>'
        f'<span class="fold-name">{said(name)}</span> <span class="fold-line">{said(line)}</span>'
        f"</summary>{body}</details>"
    )


def _fold_figures(found: Sequence[Figure], system: str) -> str:
    if not found:
        return ""
    told = [f"{say(f.label, system)} {f.value.text(system)}" for f in found[:3]]
    line = f"{len(found)}: {' · '.join(told)}"
    return _fold("figures", "Figures and limits", line, _figures(found, system, "Figures"))


def _fold_options(made: Report, system: str) -> str:
    if not made.options:
        return ""
    best = made.best_option()
    told = [f"{say(o.name, system)}: {VERDICT_WORDS[o.verdict]}" for o in made.options]
    body = "".join(_option(o, system, o is best) for o in made.options)
    return _fold("options", "Each way by itself", " · ".join(told), body)


def _fold_ways(verdict: str, ways: Sequence[Line], system: str) -> str:
    if not ways:
        return ""
    line = " · ".join(way.text(system) for way in ways)
    name = "How far it reaches" if verdict == FITS else "More that would do"
    return _fold("ways", name, line, _remedies(verdict, ways, system))


def _fold_pictures(found: Sequence[tuple[Words, str]]) -> str:
    if not found:
        return ""
    line = " · ".join(say(title) for title, _ in found)
    drawn = "".join(picture for _, picture in found)
    return _fold("pictures", "More pictures", line, f'<div class="pictures">{drawn}</div>')


def _fold_table(made: Table, system: str) -> str:
    firsts = [row[0] if isinstance(row[0], str) else row[0].text(system) for row in made.rows[:4]]
    line = f"{len(made.rows)}: {' · '.join(firsts)}" if firsts else "nothing"
    return _fold(f"table-{made.key}", say(made.title, system), line, _table(made, system))


def _fold_notes(notes: Sequence[Line], system: str) -> str:
    if not notes:
        return ""
    line = notes[0].text(system)
    return _fold("notes", "Worth knowing", line, _list("notes", "Worth knowing", notes, system))


def _pictures(made: Report, system: str, prefix: str) -> dict[str, tuple[Words, str]]:
    """All pictures by key, drawings first."""
    found: dict[str, tuple[Words, str]] = {}
    for d in made.drawings:
        scale = "" if d.to_scale else " (not to scale)"
        drawn = svg.drawing(d, system, prefix)
        found[d.key] = d.title, _picture(d.key, f"{say(d.title, system)}{scale}", drawn)
    for c in made.charts:
        found[c.key] = c.title, _chart(c, system, prefix)
    for t in made.timelines:
        lane = lanes.timeline(t, system, prefix)
        found[t.key] = t.title, _picture(t.key, say(t.title, system), lane)
    for b in made.bars:
        found[b.key] = b.title, _picture(b.key, say(b.title, system), lanes.bars(b, system, prefix))
    return found


def _picture(key: str, title: str, drawn: str, below: str = "") -> str:
    return (
        f'<figure class="picture" data-picture="{escape(key, quote=True)}">{drawn}'
        f"<figcaption>{said(title)}</figcaption>{below}{tools.picture(key)}</figure>"
    )


def _downloads(found: Sequence[Download]) -> str:
    """Files inside their own links, so that they can be kept without a host or a script."""
    if not found:
        return ""
    return f'<ul class="downloads">{"".join(map(_download, found))}</ul>'


def _download(made: Download) -> str:
    body = base64.b64encode(made.text.encode()).decode()
    return (
        f'<li><a download="{escape(made.name, quote=True)}" data-download="{escape(made.key, quote=True)}" '
        f'href="data:{escape(made.media_type, quote=True)};charset=utf-8;base64,{body}">'
        f"{said(made.label)}</a> <small>{said(made.name)}</small></li>"
    )


def words(words: Words, system: str) -> str:
    """Words as HTML, with the amounts in a system of units."""
    return said(say(words, system))


# What is read out when an answer changes: no more than this.
_LIVE = 'class="verdict-told" role="group" aria-live="polite" aria-atomic="true"'


def _whose(bound: Bound | None) -> str:
    """Says of an example's answer that it is one: nobody's own boat."""
    if bound is None or bound.own_boat:
        return ""
    changed = any(origin.own for origin in bound.origins.values())
    told = "The example’s boat, with what you changed" if changed else "The example’s boat"
    return f'<p class="verdict-for">{told}</p>'


def _assumed(bound: Bound | None, system: str) -> str:
    """What an answer for a boat of one's own takes as usual, because she has not said it."""
    if bound is None:
        return ""
    fields = [made for name, made in bound.asks.fields.items() if name in bound.unsaid]
    told = [
        f"<li>{said(made.label)}: {said(made.shown(bound.values[made.name], system))}"
        f"{_origin_told(bound, made)}</li>"
        for made in fields
        if not isinstance(made, Rows) and bound.values.get(made.name) is not None
    ]
    if not told:
        return ""
    return (
        '<details class="assumed" data-key="assumed"><summary>Assumed, as you have not said it '
        f"({len(told)})</summary><ul>{''.join(told)}</ul></details>"
    )


def _origin_told(bound: Bound, made: Field) -> str:
    told = bound.origin(made.name).text()
    return f" <small>{said(told)}</small>" if told else ""


def _verdict(verdict: str, reason: Line, system: str, prefix: str, whose: str = "") -> str:
    """The verdict and its reason, which stay in sight, with the way to the rest of the answer."""
    place = _ident(prefix, "in-full")
    return (
        f'<div class="verdict verdict-{verdict}"><div {_LIVE}><p class="verdict-word">'
        f"{shape(verdict)}<strong>{said(VERDICT_WORDS[verdict])}</strong></p>{whose}"
        f'<p class="verdict-reason">{words(reason, system)}</p></div>'
        f'<a class="to-answer" href="#{place}">Answer</a>{stale(prefix)}</div>'
        f'<span class="answer-place" id="{place}"></span>'
    )


def stale(prefix: str) -> str:
    """Covers a verdict while the form says other values than it was made for; hidden before that."""
    why = f'<a href="#{_ident(prefix, "engine-says")}">Why?</a>'
    return (
        '<p class="verdict-stale"><strong>Not for these values.</strong> '
        '<span class="stale-waiting">The answer to them is being worked out.</span>'
        f'<span class="stale-failed">The calculator does not run. {why}</span></p>'
    )


def _engine_status(prefix: str) -> str:
    """How far the engine is, or why it doesn't run: the page's script writes it, if there is one."""
    ident = _ident(prefix, "engine-says")
    return (
        f'<span id="{ident}" tabindex="-1" data-engine-status role="status"><span class="engine-asleep">'
        "The calculator can't run: this page's script did not load, or scripts are switched off. Load "
        "the page again; if it stays so, whoever runs this site has to look after it.</span></span>"
    )


def _figures(found: Sequence[Figure], system: str, caption: str) -> str:
    """A table; its roles are written out, because phones set it otherwise and would lose them."""
    if not found:
        return ""
    rows = "".join(_figure(f, system) for f in found)
    return (
        f'<table class="figures" role="table"><caption>{said(caption)}</caption>'
        '<thead role="rowgroup"><tr role="row"><th scope="col" role="columnheader">What</th>'
        '<th scope="col" role="columnheader" class="num">Value</th>'
        '<th scope="col" role="columnheader" class="num">Limit</th>'
        '<th scope="col" role="columnheader" class="num">Margin</th></tr></thead>'
        f'<tbody role="rowgroup">{rows}</tbody></table>'
    )


def _figure(found: Figure, system: str) -> str:
    limit = margin = ""
    if found.limit is not None and found.margin is not None:
        sign = "≤" if found.limit_is == "most" else "≥"
        limit = f"{sign} {said(found.limit.text(system))}"
        if found.decides:
            state, word = shape(found.state), VERDICT_WORDS[found.state]
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
        return shape(FITS), "kept"
    body = '<path d="M12 2v13M12 20v1.5" class="line"/>'
    return (
        f'<svg class="sign" viewBox="0 0 24 24" aria-hidden="true">{body}</svg>',
        "not kept, which decides nothing",
    )


def _bar(found: Figure) -> str:
    """How near the value is to its limit: a small bar with the limit at four fifths."""
    width = min(1.25, max(0.0, found.used)) * 48
    return (
        '<svg class="bar" viewBox="0 0 60 8" aria-hidden="true"><path class="bar-all" d="M0 4H60"/>'
        f'<path class="bar-value" d="M0 4H{width:.1f}"/><path class="bar-limit" d="M48 0V8"/></svg>'
    )


def _option(made: Option, system: str, unfolded: bool) -> str:
    """One way to do it: its verdict and reason in a line, its figures under that.

    What would make the best of them fit stands with the answer already.
    """
    told = not unfolded
    shown = " open data-opened" if unfolded else ""
    return (
        f'<section class="option option-{made.verdict}" data-option="{escape(made.key)}">'
        f'<details data-key="option-{escape(made.key)}"{shown}><summary>'
        f"<h3>{shape(made.verdict)}<span>{words(made.name, system)}</span> "
        f"<em>{said(VERDICT_WORDS[made.verdict])}</em></h3>"
        f'<span class="option-reason">{words(made.reason(), system)}</span></summary>'
        + _figures(made.figures, system, say(made.name, system))
        + _remedies(made.verdict, made.remedies if told else [], system)
        + "</details></section>"
    )


def _remedies(verdict: str, lines: Sequence[Line], system: str) -> str:
    """What would make it fit, each with the button that tries it if a form can hold it."""
    if not lines:
        return ""
    title = "What would make it fit" if verdict != FITS else "How far it reaches"
    items = "".join(f"<li>{words(made, system)}{_try(made, system)}</li>" for made in lines)
    return f'<div class="remedies"><h3>{title}</h3><ul>{items}</ul></div>'


def _try(made: Line, system: str) -> str:
    if not isinstance(made, Remedy) or not made.sets:
        return ""
    return f" {tools.try_it(made.typed(system), made.text(system))}"


def _list(cls: str, title: str, lines: Sequence[Line], system: str) -> str:
    if not lines:
        return ""
    items = "".join(f"<li>{words(made, system)}</li>" for made in lines)
    return f'<div class="{cls}"><h3>{said(title)}</h3><ul>{items}</ul></div>'


def _cell(cell: Amount | Line | str, column: str, system: str, long: bool) -> str:
    head = escape(column, quote=True)
    if isinstance(cell, Amount):
        return f'<td role="cell" class="num" data-column="{head}">{said(cell.text(system))}</td>'
    kind = ' class="long"' if long else ""
    return f'<td role="cell"{kind} data-column="{head}">{words(cell, system)}</td>'


def _cell_text(cell: Amount | Line | str, system: str) -> str:
    return cell if isinstance(cell, str) else cell.text(system)


def _long_columns(made: Table, system: str) -> list[bool]:
    """Which columns hold long texts."""
    return [
        any(
            not isinstance(row[place], Amount) and len(_cell_text(row[place], system)) > LONG_TEXT
            for row in made.rows
        )
        for place in range(len(made.columns))
    ]


def _size(made: Table) -> str:
    """How a table is set on a phone: as it is; or, with many columns, still as a table to compare
    by, which scrolls under the names of its rows: a grid where its cells are bare numbers."""
    if len(made.columns) <= MANY_COLUMNS:
        return "plain"
    cells = [cell for row in made.rows for cell in row[1:]]
    bare = all(
        not c.unit if isinstance(c, Amount) else not any(map(str.isalpha, say(c))) for c in cells
    )
    return "plain grid" if cells and bare else "plain wide"


def _head_class(name: str, number: bool) -> str:
    """A short head stays in one line: where it just fits, a browser leaves room for two."""
    return ("num" if number else "words") + (" short" if len(name) <= SHORT_HEAD else "")


def _table(made: Table, system: str) -> str:
    """A table; what its classes mean on a phone is told by `_size` and `_cell`."""
    longs, title = _long_columns(made, system), say(made.title, system)
    columns = [say(c, system) for c in made.columns]
    numbers = [bool(made.rows) and isinstance(c, Amount) for c in (made.rows or [columns])[0]]
    heads = "".join(
        f'<th scope="col" role="columnheader" class="{_head_class(c, number)}">{said(c)}</th>'
        for c, number in zip(columns, numbers, strict=True)
    )
    body = ""
    for index, row in enumerate(made.rows):
        state = made.states[index] if made.states else ""
        first = row[0] if isinstance(row[0], (str, Line)) else row[0].text(system)
        sign = shape(state) if state else ""
        cells = "".join(
            _cell(c, h, system, long)
            for c, h, long in zip(row[1:], columns[1:], longs[1:], strict=True)
        )
        kind = f' class="state-{state}"' if state else ""
        body += (
            f'<tr{kind} role="row"><th scope="row" role="rowheader">{sign}{words(first, system)}</th>'
            f"{cells}</tr>"
        )
    note = f'<p class="note">{words(made.note, system)}</p>' if made.note else ""
    return (
        f'<div class="table-scroll" tabindex="0" role="group" aria-label="{escape(title, quote=True)}">'
        f'<table class="{_size(made)}" role="table" data-table="{escape(made.key)}">'
        f"<caption>{said(title)}</caption>"
        f'<thead role="rowgroup"><tr role="row">{heads}</tr></thead>'
        f'<tbody role="rowgroup">{body}</tbody></table></div>{note}'
    )


def _chart(made: Chart, system: str, prefix: str) -> str:
    heads, rows = svg.chart_table(made, system)
    head = "".join(f'<th scope="col">{said(h)}</th>' for h in heads)
    body = "".join(
        "<tr>" + "".join(f'<td class="num">{said(c)}</td>' for c in row) + "</tr>" for row in rows
    )
    limits = "".join(
        f"<li>{words(m.label, system)}: {said(units.text(m.at, made.y.unit, system))}</li>"
        for m in made.limits
    )
    numbers = (
        f'<details class="chart-data" data-key="chart-{escape(made.key)}"><summary>These curves as numbers'
        f'</summary><div class="table-scroll"><table class="plain"><thead><tr>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table></div>{f'<ul>{limits}</ul>' if limits else ''}</details>"
    )
    return _picture(made.key, say(made.title, system), svg.chart(made, system, prefix), numbers)


def _working(steps: Sequence[Step], system: str) -> str:
    if not steps:
        return ""
    items = "".join(_step(s, system) for s in steps)
    return (
        '<details class="working" data-key="working"><summary>The working, step by step'
        f" ({len(steps)})</summary><ol>{items}</ol></details>"
    )


def _step(made: Step, system: str) -> str:
    numbers = {name: a.text(system) for name, a in made.where.items()}
    note = f'<p class="note">{words(made.note, system)}</p>' if made.note else ""
    return (
        f'<li><p class="step-label">{words(made.label, system)}</p><p class="formula" tabindex="0">'
        f"{mathml.formula(made.formula)} {mathml.with_numbers(made.formula, numbers)} "
        f"<b>= {said(made.result.text(system))}</b></p>{note}"
        f'<p class="source">{words(made.source, "metric")}</p></li>'
    )


def _sources(found: Sequence[str]) -> str:
    if not found:
        return ""
    items = "".join(f"<li>{said(s)}</li>" for s in found)
    return (
        f'<details class="sources" data-key="sources"><summary>Sources ({len(found)})</summary>'
        f"<ul>{items}</ul></details>"
    )


def cautions(made: Report, system: str) -> str:
    """The cautions, never folded away."""
    if not made.cautions:
        return ""
    items = "".join(
        f"<li><strong>{words(c.title, system)}.</strong> {words(c.text, system)}</li>"
        for c in made.cautions
    )
    return f'<aside class="cautions"><h3>Before you touch it</h3><ul>{items}</ul></aside>'


# ---- forms ----


def _ident(prefix: str, name: str) -> str:
    return escape(f"{prefix}{name}".replace(".", "-"), quote=True)


def form(calculator: Calculator, bound: Bound, system: str = "metric", prefix: str = "") -> str:
    """The form of a calculator, filled in: the fields that decide, then the others by group."""
    asks = calculator.asks
    first = [f for f in asks.fields.values() if f.open]
    rest = [f for f in asks.fields.values() if not f.open]
    groups = list(dict.fromkeys(f.group or "More" for f in rest))
    parts = ['<div class="fields">', *(_field(f, bound, system, prefix) for f in first), "</div>"]
    for group in groups:
        members = [f for f in rest if (f.group or "More") == group]
        parts.append(
            f'<details class="group" data-key="group-{escape(group, quote=True)}"><summary>'
            f'<span class="group-name">{said(group)}</span> '
            f'<span class="group-now" data-slot="group.{escape(group, quote=True)}">'
            f'{group_line(members, bound, system)}</span></summary><div class="fields">'
            + "".join(_field(f, bound, system, prefix) for f in members)
            + "</div></details>"
        )
    return "".join(parts)


def groups(asks: type[Inputs]) -> dict[str, list[Field]]:
    """The folded groups of a form and their fields."""
    found: dict[str, list[Field]] = {}
    for made in asks.fields.values():
        if not made.open:
            found.setdefault(made.group or "More", []).append(made)
    return found


def group_line(members: Sequence[Field], bound: Bound, system: str) -> str:
    """What a folded group is set to, in one line."""
    told = []
    for made in members:
        if not bound.asked(made.name):
            continue
        if isinstance(made, Rows):
            told.append(f"{len(bound.rows.get(made.name, []))} × {made.one}")
            continue
        value = bound.values.get(made.name)
        if value is None and not isinstance(made, Record):
            continue
        between = " " if isinstance(made, Quantity) else ": "
        told.append(f"{made.label}{between}{made.shown(value, system)}")
    if len(told) <= FEW_TOLD:
        return said(" · ".join(told))
    few, rest = " · ".join(told[:FEW_TOLD]), " · ".join(told[FEW_TOLD:])
    return (
        f'{said(few)}<span class="group-more" aria-hidden="true"> …</span>'
        f'<span class="group-rest"> · {said(rest)}</span>'
    )


FEW_TOLD = 4  # values of a folded group; paper has them all


def _field(
    made: Field, bound: Bound, system: str, prefix: str, name: str = "", blank: bool = False
) -> str:
    """A field with label, control and note; `blank` leaves empty what the reader has not filled in."""
    name = name or made.name
    if isinstance(made, Rows):
        return _rows_field(made, bound, system, prefix, blank)
    ident = _ident(prefix, name)
    hidden = "" if bound.asked(made.name) else " hidden"
    slot = _word_slots(made, name)
    label = f'<label for="{ident}"{slot("label")}>{words(made.label, system)}</label>'
    told = f"{slot('help')}>{words(made.help, system)}"
    help_text = f'<p class="help" id="{ident}-help"{told}</p>' if made.help else ""
    described = f"{ident}-note" + (f" {ident}-help" if made.help else "")
    invalid = ' aria-invalid="true"' if bound.faults_of(made.name) else ""
    attributes = (
        f'id="{ident}" name="{escape(name, quote=True)}" aria-describedby="{described}"{invalid}'
    )
    if blank:
        attributes += " data-blank"
        control = _blank_control(made, bound, system, attributes, name)
        note = sheet_note(made, bound, system)
    else:
        control = _control(made, bound, system, attributes, name)
        note = field_note(made, bound, system)
    return (
        f'<div class="field field-{type(made).__name__.lower()}{_long(made)}" data-field="{escape(name, quote=True)}"{_shared(name, bound)}{hidden}>'
        f"{label}{control}{help_text}"
        f'<p class="field-note" id="{ident}-note" data-slot="field.{escape(name, quote=True)}">'
        f"{note}</p></div>"
    )


LONG_CHOICE = 22  # characters; more want the whole width of the form


def _long(made: Field) -> str:
    longest = max(map(len, made.choices.values())) if isinstance(made, Choice) else 0
    return " field-long" if longest > LONG_CHOICE else ""


def _shared(name: str, bound: Bound) -> str:
    """The mark of a field whose value belongs to the boat and not to one page."""
    return " data-shared" if name in bound.shared else ""


def _blank_control(made: Field, bound: Bound, system: str, attributes: str, name: str) -> str:
    """A control that is empty unless the reader filled it in; the example stands as a hint."""
    if bound.origin(made.name) == TYPED:
        return _control(made, bound, system, attributes, name)
    if isinstance(made, (Choice, Record, YesNo)):
        told = _choices_of(made, bound)
        unsaid = {"": "— not said —"}
        others = {NONE_LISTED: told.pop("")} if "" in told else {}
        return f"<select {attributes}>{_options(unsaid | told | others, '', system, _word_slots(made, name))}</select>"
    if isinstance(made, Log):
        return _log_control(made, bound, attributes, "")
    number, unit = control_text(made, bound, system)
    hint = f'{attributes} placeholder="{escape(number, quote=True)}" value=""'
    if isinstance(made, Quantity):
        return (
            '<span class="control"><input type="text" inputmode="decimal" autocomplete="off" '
            f"{hint}>{_unit_select(made, unit, name)}</span>"
        )
    kind = "date" if isinstance(made, Date) else "text"
    keyboard = ' inputmode="numeric"' if isinstance(made, Whole) else ""
    return f'<input type="{kind}"{keyboard} autocomplete="off" {hint}>'


def sheet_note(made: Field, bound: Bound, system: str) -> str:
    """What stands under a field of the boat sheet: a fault, or where its value comes from."""
    origin = bound.origin(made.name)
    if origin == TYPED or bound.faults_of(made.name):
        return field_note(made, bound, system)
    value = bound.values.get(made.name)
    holder = (made.preset or made.from_record).partition(".")[0]
    if origin.kind == "record" and bound.origin(holder) == TYPED and value is not None:
        return said(f"{made.shown(value, system)}, {origin.text()}")
    return "not said yet"


def _control(made: Field, bound: Bound, system: str, attributes: str, name: str) -> str:
    if isinstance(made, Quantity):
        number, unit = control_text(made, bound, system)
        return (
            f'<span class="control"><input type="text" inputmode="decimal" autocomplete="off" '
            f'{attributes} value="{escape(number, quote=True)}">{_unit_select(made, unit, name)}</span>'
        )
    now = control_text(made, bound, system)[0]
    value = escape(now, quote=True)
    if isinstance(made, Whole):
        return f'<input type="text" inputmode="numeric" autocomplete="off" {attributes} value="{value}">'
    if isinstance(made, (Choice, Record, YesNo)):
        choices = _choices_of(made, bound)
        # What a boat of one's own has not said shows as nothing.
        nothing = "" if "" in choices else '<option value="" hidden></option>'
        return f"<select {attributes}>{nothing}{_options(choices, now, system, _word_slots(made, name))}</select>"
    if isinstance(made, Date):
        today = " data-today" if made.today else ""
        return f'<input type="date" {attributes}{today} value="{value}">'
    if isinstance(made, Log):
        return _log_control(made, bound, attributes, now)
    assert isinstance(made, Text)
    return f'<input type="text" autocomplete="off" maxlength="{made.longest * 2}" {attributes} value="{value}">'


def _choices_of(made: Choice | Record | YesNo, bound: Bound) -> dict[str, str]:
    if isinstance(made, YesNo):
        unsure = [NOT_KNOWN] if isinstance(made, Presence) else []
        return {word: word for word in ("yes", "no", *unsure)}
    return made.choices(bound.shelves) if isinstance(made, Record) else made.choices


def _log_control(made: Log, bound: Bound, attributes: str, now: str) -> str:
    """A log: the tools for it, and its text, folded away."""
    ident = re.findall(r'id="([^"]*)"', attributes)[0]
    tasks = [str(row.values.get("name") or "") for row in bound.rows.get(made.jobs, [])]
    return (
        f"{log_tools(ident, [task for task in tasks if task])}"
        f'<details class="log-text" data-key="{ident}-text"><summary>The log, line by line</summary>'
        f'<textarea rows="8" spellcheck="false" autocomplete="off" {attributes}>\n{escape(now)}'
        "</textarea></details>"
    )


def wordings(made: Field) -> dict[str, str]:
    """Those words of a field, by where they stand, that read otherwise in other units."""
    found = {"label": made.label, "help": made.help}
    if isinstance(made, Choice):
        found |= {f"choice-{key}": label for key, label in made.choices.items()}
    return {place: text for place, text in found.items() if units.in_system(text, "us") != text}


def _word_slots(made: Field, name: str) -> Callable[[str], str]:
    """The mark of a place whose words change with the units, or nothing."""
    changing = wordings(made)

    def slot(place: str) -> str:
        marked = escape(f"{place}.{name}", quote=True)
        return f' data-slot="{marked}"' if place in changing else ""

    return slot


def _options(choices: dict[str, str], now: str, system: str, slot: Callable[[str], str]) -> str:
    return "".join(
        f'<option{slot(f"choice-{key}")} value="{escape(key, quote=True)}"{" selected" if key == now else ""}>{words(label, system)}</option>'
        for key, label in choices.items()
    )


def _unit_select(made: Quantity, unit: str, name: str) -> str:
    symbols = units.KINDS[made.kind].units
    if len(symbols) == 1:
        return f'<span class="unit">{said(units.pretty(unit))}</span>'
    options = "".join(
        f'<option value="{escape(s, quote=True)}"{" selected" if s == unit else ""}>{said(units.pretty(s) or "×")}'
        "</option>"
        for s in symbols
    )
    return (
        f'<select name="{escape(name, quote=True)}.unit" '
        f'aria-label="unit of {escape(made.label, quote=True)}">{options}</select>'
    )


def control_text(made: Field, bound: Bound, system: str) -> tuple[str, str]:
    """What the controls of a field show: (number or text, unit symbol)."""
    raw = str(bound.texts.get(made.name, ""))
    typed = made.tidy(raw)
    value = bound.values.get(made.name)
    if made.name in bound.lacking:
        return "", units.shown_unit(made.unit, system) if isinstance(made, Quantity) else ""
    if isinstance(made, Presence) and bound.unknown(made.name):
        return NOT_KNOWN, ""
    if isinstance(made, Record) and typed == NONE_LISTED:
        return "", ""
    if isinstance(made, Log):  # as it was written, foreign columns and all
        return typed, ""
    if not isinstance(made, Quantity):
        return (typed if value is None else made.write(value, system)), ""
    shown = units.shown_unit(made.unit, system)
    if value is None:  # it could not be read; the unit it ends with still belongs beside it
        unit = next((u for u in units.KINDS[made.kind].units if u and raw.endswith(f" {u}")), "")
        return (raw.removesuffix(f" {unit}"), unit) if unit else (typed, shown)
    own = _unit_written(made, typed)
    if bound.origin(made.name) == TYPED and made.name in bound.taken:
        return typed, made.unit
    if bound.origin(made.name) == TYPED and own in units.KINDS[made.kind].units:
        return units.typed_text(value, own, made.kind), own
    digits = AS_WRITTEN if own == shown else CONVERTED
    return units.typed_text(value, shown, made.kind, digits), shown


AS_WRITTEN, CONVERTED = 6, 4  # digits in a box


def _unit_written(made: Quantity, typed: str) -> str:
    """The unit a field's text is in; where it tells none, the field's own."""
    try:
        rest = units.split_number(typed)[1]
        return units.find_unit(rest, made.kind).symbol if rest else made.unit
    except units.UnitError:
        return made.unit


def field_note(made: Field, bound: Bound, system: str, own: str = YOURS) -> str:
    """What stands under a field: what is wrong with it, or what was understood and where from.

    `own` says whose a typed value is.
    """
    wrong = bound.faults_of(made.name)
    if wrong:
        return f'<span class="fault">{said(wrong[0].sentence)}</span>'
    if made.name in bound.lacking:
        return '<span class="say">say this: it decides</span>'
    origin = bound.origin(made.name)
    value = bound.values.get(made.name)
    told = origin.text()
    if origin == TYPED:
        told = f"{own}: {made.shown(value, system)}" if value is not None else own
        told = f"{own}: {bound.taken[made.name]}" if made.name in bound.taken else told
    elif told and made.basis and origin.kind != "default":
        told = f"{told} ({units.in_system(made.basis, system)})"
    elif origin.kind == "default":
        told = units.in_system(told, system)
    if not isinstance(made, Quantity):
        if isinstance(made, Log):
            told = ": ".join(filter(None, (told.partition(":")[0], made.shown(value, system))))
            return said(told)
        return said(own if origin == TYPED else told)
    limits = _limit_words(made, system)
    return said(told) + (f'<span class="allowed">{said(limits)}</span>' if limits else "")


def _limit_words(made: Quantity, system: str) -> str:
    low, high = made.above or made.at_least, made.below or made.at_most
    if not isinstance(low, str) or not isinstance(high, str):
        return ""
    least, most = limit_text(made, low, True, system), limit_text(made, high, False, system)
    return f"{least} to {most}"


def _rows_field(made: Rows, bound: Bound, system: str, prefix: str, blank: bool) -> str:
    """A list; in a `blank` form it can be taken back as a whole."""
    hidden = "" if bound.asked(made.name) else " hidden"
    body = "".join(
        row_html(made, row, system, prefix, str(i))
        for i, row in enumerate(bound.rows.get(made.name, []))
    )
    fresh = row_html(made, blank_row(made), system, prefix, "#")
    note = words(made.help, system)
    name = escape(made.name, quote=True)
    unsay = tools.unsay(made.label) if blank else ""
    return (
        f'<fieldset class="field rows" id="{_ident(prefix, made.name)}" data-field="{name}" '
        f'data-rows="{name}"{_shared(made.name, bound)}{hidden}><legend>{said(made.label)}</legend>'
        f'<p class="help">{note}</p><div data-row-list>{body}</div>'
        f"<template data-row-template>{fresh}</template>"
        f'<button type="button" class="quiet" data-add-row>Add a {said(made.one)}</button>{unsay}'
        f'<p class="field-note" data-slot="field.{name}">{rows_note(made, bound)}</p></fieldset>'
    )


def rows_note(made: Rows, bound: Bound, own: str = YOURS) -> str:
    """Faults of a list as a whole, or where it comes from; `own` says whose a typed one is."""
    wrong = bound.faults_of(made.name)
    if wrong:
        return f'<span class="fault">{said(wrong[0].sentence)}</span>'
    origin = bound.origin(made.name)
    return said(own if origin == TYPED else origin.text())


def blank_row(made: Rows) -> Bound:
    """The row that "add" starts with: its fields' defaults."""
    from ..inputs import bind

    return bind(made.row)


def row_html(made: Rows, row: Bound, system: str, prefix: str, index: str) -> str:
    """One row of a list with its remove button."""
    fields = "".join(
        _field(f, row, system, prefix, f"{made.name}.{index}.{f.name}")
        for f in made.row.fields.values()
    )
    if made.folded:
        return folded_row(made, row, system, index, fields)
    return (
        f'<div class="row" data-row><div class="fields">{fields}</div>'
        f'<button type="button" class="quiet" data-remove-row>Remove this {said(made.one)}</button></div>'
    )


def sheet_questions(questions: Sequence[Question], bound: Bound, system: str, prefix: str) -> str:
    """The questions that one begins with, each with the few fields that take its answer."""
    fields = bound.asks.fields
    return "".join(
        f'<fieldset class="question"><legend>{said(one.title)}</legend>'
        + (f'<p class="help">{said(one.note)}</p>' if one.note else "")
        + '<div class="fields">'
        + "".join(_field(fields[f], bound, system, prefix, blank=True) for f in one.fields)
        + "</div></fieldset>"
        for one in questions
    )


def sheet_form(questions: Sequence[Question], bound: Bound, system: str, prefix: str) -> str:
    """The form of the boat sheet: what decides first, then the rest folded by subject; empty where
    the reader has said nothing."""
    first = {name for one in questions for name in one.fields}
    parts = [sheet_questions(questions, bound, system, prefix)]
    for group, members in sheet_groups(bound.asks).items():
        rest = [made for made in members if made.name not in first]
        name = escape(group, quote=True)
        if rest:
            parts.append(
                f'<details class="group" data-key="sheet-{name}"><summary>'
                f'<span class="group-name">{name}</span> <span class="group-now" '
                f'data-slot="group.{name}">{sheet_group_line(rest, bound, system)}</span></summary>'
                '<div class="fields">'
                + "".join(_field(f, bound, system, prefix, blank=True) for f in rest)
                + "</div></details>"
            )
    return "".join(parts)


def sheet_groups(asks: type[Inputs]) -> dict[str, list[Field]]:
    """The groups of the boat sheet and their fields."""
    found: dict[str, list[Field]] = {}
    for made in asks.fields.values():
        found.setdefault(made.group or "The boat", []).append(made)
    return found


def sheet_group_line(members: Sequence[Field], bound: Bound, system: str) -> str:
    """What the reader has said in a folded group, in one line."""
    said = [made for made in members if bound.origin(made.name) == TYPED]
    if not said:
        return "nothing said yet"
    return f"{len(said)} of {len(members)} said: {group_line(said, bound, system)}"


def sheet_page(form: str, dashboard: str, pages_json: str, sheet_address: str) -> str:
    """The boat sheet in its place on a page: its form, what it already answers, and its files."""
    return (
        f"{_sheet_section(pages_json, sheet_address, 'sheet', 'Boat sheet')}"
        f'<form class="sheet-form" data-search-exclude novalidate>{form}'
        f'<p class="form-actions">{_engine_status("sheet-")}</p></form>'
        f"{_sheet_answers(dashboard, 'What your boat can answer so far')}"
        f"{tools.boat_sheet()}</section>"
    )


def start_page(form: str, dashboard: str, pages_json: str, sheet_address: str) -> str:
    """The start: the few questions, and in one screen what their answers settle."""
    more = f'<p><a href="{escape(sheet_address, quote=True)}">All about your boat</a></p>'
    return (
        f"{_sheet_section(pages_json, sheet_address, 'sheet start', 'Your boat, in five questions')}"
        f'<form class="sheet-form" data-search-exclude novalidate>{form}'
        f'<p class="form-actions">{_engine_status("sheet-")}</p></form>'
        f"{_sheet_answers(dashboard, 'Your boat so far', more)}</section>"
    )


def _sheet_section(pages_json: str, sheet_address: str, kind: str, label: str) -> str:
    return (
        f'<section class="{kind}" data-sheet data-prefix="sheet-" '
        f'data-sheet-page="{escape(sheet_address, quote=True)}" '
        f'data-pages="{escape(pages_json, quote=True)}" aria-label="{escape(label, quote=True)}">'
    )


def _sheet_answers(dashboard: str, title: str, more: str = "") -> str:
    return (
        f'<article class="sheet-answers" data-search-exclude><h2>{said(title)}</h2>'
        f"{stale('sheet-')}"
        f'<div data-slot="dashboard">{dashboard}</div>{more}</article>'
    )


def link_notice(count: int, unknown: Sequence[str]) -> str:
    """Whose numbers an opened link shows, and what of it nobody asks."""
    values = "1 value" if count == 1 else f"{count} values"
    told = f"This answer was sent to you: {values} in it came with the link, not from your boat."
    if unknown:
        told += f" The link also holds what this page does not ask: {', '.join(unknown[:5])}."
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
    label = f"{made.title}, {place[1]}" if place else made.title
    return (
        f'<section class="calc" data-calculator="{escape(made.name, quote=True)}" '
        f'data-prefix="{escape(prefix, quote=True)}" '
        f'data-example="{escape(example_json, quote=True)}" aria-label="{escape(label, quote=True)}">'
        f'<form class="calc-form" data-search-exclude novalidate>{tools.settings(system)}{tools.whose(sheet_page)}'
        f"{form(made, outcome.bound, system, prefix)}"
        '<p class="form-actions"><button type="button" class="quiet" data-reset>Back to the example'
        f"</button> {tools.keep_for_boat()} {_engine_status(prefix)}</p></form>"
        # An article, since the search index loses its way among elements of one name in each other.
        f'<article class="calc-answer" data-search-exclude>{tools.tried()}<div data-slot="answer">'
        f"{answer(outcome, system, prefix)}</div>{tools.share_and_keep()}</article></section>"
    )
