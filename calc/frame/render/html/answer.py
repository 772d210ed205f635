"""An answer in the order of the house."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from html import escape

from ...cautions import Caution
from ...guide import Outcome
from ...inputs import Bound, Fault, Field, Rows
from ...language import spoken, spoken_count
from ...offers import OFFERED, Sold, in_a_line, offers
from ...report import (
    FITS,
    UNASKED,
    UNKNOWN,
    Amount,
    Download,
    Figure,
    Line,
    Report,
    Step,
    Table,
    Words,
    as_written,
    parted,
    say,
    verdict_word,
)
from .. import mathml
from ..spaces import in_english, one_of, said, worded
from .figures import bullets, figures_table, option, remedies, wanted
from .parts import LIVE, id_of, shape, stale, words
from .pictures import one_picture
from .tables import table

# Parts "first.…" and "rest.…" stand inside of these two, what is seen first and what is behind it.
FIRST, REST = "first.", "rest."
_HOLDERS = {
    "first": ('<div class="answer-first" data-parts="first">', "</div>"),
    "rest": ('<div class="answer-rest" data-parts="rest">', "</div>"),
}


def answer(outcome: Outcome, system: str = "metric", prefix: str = "", live: bool = True) -> str:
    """The whole answer: verdict first, cautions open. Faults stand in its place, or what must be
    said first of a boat of one's own: then the cautions that stand on no condition are shown.

    On paper, where it isn't `live`, no field is led to and no other answer waited for.
    """
    return joined(answer_parts(outcome, system, prefix, live=live))


def answer_parts(
    outcome: Outcome,
    system: str = "metric",
    prefix: str = "",
    first: bool = False,
    live: bool = True,
) -> dict[str, str]:
    """The answer in parts by name, each of whole elements, in their order; those whose names begin
    with `FIRST` or `REST` stand inside of the part of that name. With `first` the latter are left
    out."""
    if outcome.lacks:
        made = {"verdict": _not_asked(outcome, prefix, live)}
    elif outcome.report is None:
        made = {"verdict": faults(outcome.bound.faults, prefix, live)}
    else:
        return _report_parts(outcome.report, system, prefix, outcome.bound, first)
    return _some({**made, "cautions": cautions(outcome.cautions, system)})


def _some(parts: dict[str, str]) -> dict[str, str]:
    return {name: part for name, part in parts.items() if part}


def joined(parts: dict[str, str]) -> str:
    """The answer out of its parts."""
    told = ""
    for name, part in parts.items():
        if "." not in name:
            inside = [one for key, one in parts.items() if key.startswith(f"{name}.")]
            told += "".join(inside).join(_HOLDERS[name]) if name in _HOLDERS else part
    return told


def _not_asked(outcome: Outcome, prefix: str, live: bool) -> str:
    """In place of a verdict: the questions that settle it, each linked to its field."""
    items = "".join(f"<li>{questions(outcome, row, prefix, live)}</li>" for row in outcome.lacks)
    told = spoken_count(
        len(outcome.lacks),
        "One more fact decides about your boat.",
        "{n} more facts decide about your boat.",
    )
    return (
        f'<div class="verdict verdict-{UNASKED}"><div {LIVE}><p class="verdict-word">'
        f"{shape(UNASKED)}<strong>{said(verdict_word(UNASKED))}</strong></p>"
        f'<p class="verdict-reason">{said(told)}</p></div>{_waits(prefix, live)}</div>'
        f'<div class="questions"><h3>{worded("Say this first")}</h3><ul>{items}</ul></div>'
    )


def questions(outcome: Outcome, row: Sequence[str], prefix: str, live: bool = True) -> str:
    """What one group of questions asks, each linked to its field."""
    fields = outcome.bound.asks.fields
    return one_of(
        [_to_field(prefix, name, said(spoken(fields[name].label)), live, name) for name in row]
    )


def _to_field(prefix: str, name: str, told: str, live: bool, asks: str = "") -> str:
    """Words that lead to a field of the form beside them, if there is one."""
    if not live:
        return told
    question = f' data-question="{escape(asks, quote=True)}"' if asks else ""
    return f'<a href="#{id_of(prefix, name)}"{question}>{told}</a>'


def _waits(prefix: str, live: bool) -> str:
    """What covers a verdict until the next one comes."""
    return stale(prefix) if live else ""


def faults(found: Sequence[Fault], prefix: str = "", live: bool = True) -> str:
    """Every fault of the form at once, each linked to its field."""
    items = "".join(
        f"<li>{_to_field(prefix, f.field, said(f.label), live)}: {said(f.sentence)}</li>"
        for f in found
    )
    told = spoken_count(
        len(found),
        "One value needs mending before this can be answered.",
        "{n} values need mending before this can be answered.",
    )
    return (
        f'<div class="verdict verdict-faults"><div {LIVE}><p class="verdict-word">{shape(UNKNOWN)}'
        f'<strong>{worded("not yet")}</strong></p><p class="verdict-reason">{said(told)}</p></div>{_waits(prefix, live)}</div><ul class="faults">{items}</ul>'
    )


def report(
    made: Report, system: str = "metric", prefix: str = "", bound: Bound | None = None
) -> str:
    """A report in the order of the house: verdict, headline, what to do, the numbers one came for,
    a table that is the answer itself, one picture; then all else, folded by heading with what is inside told in a line.

    Cautions are never folded.
    """
    return joined(_report_parts(made, system, prefix, bound))


def _report_parts(
    made: Report, system: str, prefix: str, bound: Bound | None, first: bool = False
) -> dict[str, str]:
    ways, more = made.ways(FEW_WAYS if made.verdict != FITS else 0)  # nothing need be done
    shown, pictures = one_picture(made, system, prefix, first)
    headlines = [f'<p class="headline">{words(h, system)}</p>' for h in made.headlines]
    begin = {
        "headlines": "".join(headlines),
        "remedies": remedies(made.verdict, ways, system),
        "wanted": wanted(made.wanted_figures(), system),
        **{f"table-{t.key}": table(t, system) for t in made.tables if t.at_once},
        "picture": shown,
    }
    parts = {
        "verdict": _verdict(made.verdict, made.reason(), system, prefix, _whose(bound)),
        "first": "".join(_HOLDERS["first"]),
        "cautions": cautions(made.cautions, system),
        "rest": "".join(_HOLDERS["rest"]),
        **{FIRST + name: part for name, part in begin.items()},
    }
    if first:
        return _some(parts)
    folded = [t for t in made.tables if not t.at_once]
    rest = {
        "downloads": _downloads(made.downloads),
        **{f"lead-{t.key}": _fold_table(t, system) for t in folded if t.lead},
        "ways": _fold_ways(made.verdict, more, system),
        "figures": _fold_figures(made.figures, system),
        "options": _fold_options(made, system),
        "pictures": _fold_pictures(pictures),
        **{f"table-{t.key}": _fold_table(t, system) for t in folded if not t.lead},
        "notes": _fold_notes(made.notes, system),
        "working": _working(made.steps, system),
        "sources": _sources(made.sources()),
        "assumed": _assumed(bound, system),
        "offers": _offers(bound),
    }
    return _some(parts | {REST + name: part for name, part in rest.items()})


FEW_WAYS = 3  # remedies that stand open


def _fold(
    key: str, name: Words, line: str, body: str, opened: bool = False, system: str = "metric"
) -> str:
    """A part under its heading that can be folded, with what is inside told in a line."""
    state = " open" if opened else ""
    return (
        f'<details class="fold" data-key="fold-{escape(key, quote=True)}"{state}><summary>'
        f'<span class="fold-name">{words(name, system)}</span> <span class="fold-line">{said(line)}</span>'
        f"</summary>{body}</details>"
    )


def _fold_figures(found: Sequence[Figure], system: str) -> str:
    if not found:
        return ""
    told = [f"{say(f.label, system)} {f.value.text(system)}" for f in found[:3]]
    line = f"{len(found)}: {' · '.join(told)}"
    caption = spoken("Figures")
    return _fold("figures", "Figures and limits", line, figures_table(found, system, caption))


def _fold_options(made: Report, system: str) -> str:
    if not made.options:
        return ""
    best = made.best_option()
    told = [f"{say(o.name, system)}: {verdict_word(o.verdict)}" for o in made.options]
    body = "".join(option(o, system, o is best) for o in made.options)
    return _fold("options", "Each way by itself", " · ".join(told), body)


def _fold_ways(verdict: str, ways: Sequence[Line], system: str) -> str:
    if not ways:
        return ""
    line = " · ".join(way.text(system) for way in ways)
    name = "More that would do" if parted(verdict, ways)[0] else "How far it reaches"
    return _fold("ways", name, line, remedies(verdict, ways, system))


def _fold_pictures(found: Sequence[tuple[Words, str]]) -> str:
    if not found:
        return ""
    line = " · ".join(say(title) for title, _ in found)
    drawn = "".join(picture for _, picture in found)
    return _fold("pictures", "More pictures", line, f'<div class="pictures">{drawn}</div>')


def _fold_table(made: Table, system: str) -> str:
    place = 1 if made.steps else 0  # behind the step's number
    cells = [row[place] for row in made.rows[:4]]
    firsts = [c.text(system) if isinstance(c, Amount) else say(c, system) for c in cells]
    line = f"{len(made.rows)}: {' · '.join(firsts)}" if firsts else spoken("nothing")
    body = table(made, system)
    return _fold(
        f"table-{made.key}", made.title, line, body, made.steps and not made.folded, system
    )


def _fold_notes(notes: Sequence[Line], system: str) -> str:
    if not notes:
        return ""
    line = notes[0].text(system)
    return _fold("notes", "Worth knowing", line, bullets("notes", "Worth knowing", notes, system))


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
        f"{said(spoken(made.label))}</a> <small>{said(made.name)}</small></li>"
    )


def _whose(bound: Bound | None) -> str:
    """Says of an example's answer that it is one: nobody's own boat."""
    if bound is None or bound.own_boat:
        return ""
    changed = any(origin.own for origin in bound.origins.values())
    told = "The example’s boat, with what you changed" if changed else "The example’s boat"
    return f'<p class="verdict-for">{worded(told)}</p>'


def _assumed(bound: Bound | None, system: str) -> str:
    """What an answer for a boat of one's own takes as usual, because she has not said it."""
    if bound is None:
        return ""
    unsaid = bound.unsaid  # found anew each time it is asked for
    fields = [made for name, made in bound.asks.fields.items() if name in unsaid]
    told = [
        f"<li>{said(spoken(made.label))}: {said(bound.shown(made.name, system))}"
        f"{_origin_told(bound, made)}</li>"
        for made in fields
        if not isinstance(made, Rows) and bound.values.get(made.name) is not None
    ]
    if not told:
        return ""
    return (
        f'<details class="assumed" data-key="assumed"><summary>{worded("Assumed, as you have not said it")} '
        f"({len(told)})</summary><ul>{''.join(told)}</ul></details>"
    )


def _offers(bound: Bound | None) -> str:
    """What those who sell the things of the form say of them, as they wrote it."""
    found = offers(bound) if bound else []
    if not found:
        return ""
    line = "; ".join(", ".join(filter(None, (one.name, one.price))) for one in found)
    return _fold("offers", OFFERED, line, f"<ul>{''.join(map(_offer, found))}</ul>")


def _offer(one: Sold) -> str:
    line = said(in_a_line(one))
    if one.link:
        href = escape(one.link, quote=True)
        line += f', <a href="{href}" rel="external noreferrer">{escape(one.link)}</a>'
    return f"<li>{line}</li>"


def _origin_told(bound: Bound, made: Field) -> str:
    told = bound.origin(made.name).text()
    return f" <small>{said(told)}</small>" if told else ""


def _verdict(verdict: str, reason: Line, system: str, prefix: str, whose: str = "") -> str:
    """The verdict and its reason, which stay in sight, with the way to the rest of the answer."""
    place = id_of(prefix, "in-full")
    return (
        f'<div class="verdict verdict-{verdict}"><div {LIVE}><p class="verdict-word">'
        f"{shape(verdict)}<strong>{said(verdict_word(verdict))}</strong></p>{whose}"
        f'<p class="verdict-reason">{words(reason, system)}</p></div>'
        f'<a class="to-answer" href="#{place}">{worded("Answer")}</a>{stale(prefix)}</div>'
        f'<span class="answer-place" id="{place}"></span>'
    )


def _working(steps: Sequence[Step], system: str) -> str:
    if not steps:
        return ""
    items = "".join(_step(s, system) for s in steps)
    return (
        f'<details class="working" data-key="working"><summary>{worded("The working, step by step")}'
        f" ({len(steps)})</summary><ol>{items}</ol></details>"
    )


def _step(made: Step, system: str) -> str:
    numbers = {name: a.text(system) for name, a in made.where.items()}
    note = f'<p class="note">{words(made.note, system)}</p>' if made.note else ""
    return (
        f'<li><p class="step-label">{words(made.label, system)}</p><p class="formula" tabindex="0">'
        f"{mathml.formula(made.formula)} {mathml.with_numbers(made.formula, numbers)} "
        f"<b>= {said(made.result.text(system))}</b></p>{note}"
        f'<p class="source"{in_english()}>{said(as_written(made.source))}</p></li>'
    )


def _sources(found: Sequence[str]) -> str:
    if not found:
        return ""
    items = "".join(f"<li>{said(s)}</li>" for s in found)
    return (
        f'<details class="sources" data-key="sources"><summary>{worded("Sources")} ({len(found)})'
        f"</summary><ul{in_english()}>{items}</ul></details>"
    )


def cautions(found: Sequence[Caution], system: str) -> str:
    """The cautions, never folded away."""
    if not found:
        return ""
    items = "".join(
        f"<li><strong>{words(c.title, system)}.</strong> {words(c.text, system)}</li>"
        for c in found
    )
    return (
        f'<aside class="cautions"><h3>{worded("Before you touch it")}</h3><ul>{items}</ul></aside>'
    )
