"""Reference cards: an answer on paper, as one HTML file that needs nothing else.

The same card comes out of the browser and of the terminal. It is black on white, prints on its paper
without a page's chrome, and says which boat and day it is for and which version and edition made it.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from .. import dates
from ..guide import Calculator, Outcome
from ..inputs import Bound, Field, Presence, Record, Rows, YesNo
from ..language import chosen, spoken
from ..offers import OFFERED, WHOSE, offers, with_its_link
from ..report import FITS, Amount, Figure, Linked, Report, Table, Words, parted, say, verdict_word
from . import card_font, html, pictures, svg
from .papers import PAPERS, Paper
from .qr import qr_code
from .spaces import worded

# What one sheet has room for; the page has the rest.
MOST_REMEDIES = 4
MOST_FIGURES = 7
MOST_ROWS = 16
MOST_OFFERS = 4
CHART_TALL = 180.0  # so that its words of 12 units come out at 6 points in the room it has
FRAME_UNIT = 7.2 * 25.4 / 72 / 12  # mm; a drawing's words of 12 units come out at 7.2 points


@dataclass(frozen=True)
class Imprint:
    """What a card says about itself: boat, day, edition of the pages, the way back, and the version
    of Brinebook that computed it."""

    boat: str = ""
    day: datetime.date | None = None
    edition: str = ""
    address: str = ""
    version: str = ""
    house: str = ""  # whose values of equipment these are, and how to reach them


def card(
    made: Calculator, outcome: Outcome, imprint: Imprint, paper: str = "a5", system: str = "metric"
) -> str:
    """One answer as a self-contained HTML file. Raises KeyError for an unknown paper."""
    body = answer_card(made, outcome, imprint, system)
    return page(titled(made.title, imprint), [body], PAPERS[paper])


def titled(title: str, imprint: Imprint) -> str:
    """The name of the file, which a browser proposes for a PDF too: the boat's first."""
    title = spoken(title)
    if imprint.boat:
        return spoken("{boat}, {title}, card", boat=imprint.boat, title=title)
    return spoken("{title}, card", title=title)


def pack(cards: Sequence[tuple[str, str, str]], imprint: Imprint, paper: str = "a5") -> str:
    """Several cards with a contents page; each is (title, verdict, card of `answer_card`)."""
    items = "".join(
        f"<li>{html.shape(verdict) if verdict else ''}<span>{escape(spoken(title))}</span>"
        f"<em>{escape(verdict_word(verdict)) if verdict else ''}</em></li>"
        for title, verdict, _ in cards
    )
    contents = (
        f'<article class="card contents"><header>{_imprint_line(imprint)}<h1>{worded("Reference cards")}</h1>'
        f"</header><ol>{items}</ol>{_footer(imprint, '')}</article>"
    )
    return page(
        spoken("Reference cards"), [contents, *(card for _, _, card in cards)], PAPERS[paper]
    )


def answer_card(
    made: Calculator, outcome: Outcome, imprint: Imprint, system: str = "metric"
) -> str:
    """The card of an answer, without the page round it."""
    report = outcome.report
    kind = "card dense" if report is None else _kind(report)
    if report is None:
        body = html.answer(outcome, system, live=False)
    else:
        body = "".join(
            (
                _verdict(report, system),
                *(f'<p class="headline">{html.words(h, system)}</p>' for h in report.headlines),
                _at_a_glance(report, system),
                _tables(report, system),
                _options(report, system),
                _figures(report, system),
                _remedies(report, system),
                _picture(report, system),
                _cautions(report, system),
            )
        )
    return (
        f'<article class="{kind}"><header>{_imprint_line(imprint)}<h1>{escape(spoken(made.title))}</h1>'
        f'<p class="question">{html.words(made.question, system)}</p></header>{body}'
        f"{_offers(outcome.bound)}{_inputs(outcome.bound, system)}{_footer(imprint, imprint.address)}</article>"
    )


def _kind(report: Report) -> str:
    """How a card is set: in small print where it has lists, its steps, or cautions of other cards;
    with lists or steps its cautions may go on in the next column; where these are so long that its
    cautions would be parted (a key to follow after other steps is), they have a side of their own.
    """
    listed = any(table.steps or table.whole for table in report.tables)
    dense = listed or bool(report.borrowed)
    apart = any(
        table.whole or not table.carried or (table.steps and table.folded)
        for table in report.tables
    )
    return " ".join(["card", *["dense"] * dense, *["long"] * listed, *["apart"] * apart])


def text_card(title: str, body: str, imprint: Imprint) -> str:
    """A card of a page's own words (steps of a job); `body` is HTML of ours."""
    return (
        f'<article class="card steps"><header>{_imprint_line(imprint)}<h1>{escape(title)}</h1></header>'
        f"{body}{_footer(imprint, imprint.address)}</article>"
    )


def _imprint_line(imprint: Imprint) -> str:
    told = [imprint.boat, _day(imprint.day)]
    return f'<p class="imprint">{escape(" · ".join(t for t in told if t))}</p>'


def _day(day: datetime.date | None) -> str:
    return dates.in_full(day) if day else ""


def _verdict(report: Report, system: str) -> str:
    return (
        f'<div class="verdict">{html.shape(report.verdict)}<p><strong>'
        f"{escape(verdict_word(report.verdict))}</strong> {html.words(report.reason(), system)}</p></div>"
    )


def _all_figures(report: Report) -> list[Figure]:
    """The report's figures, then those of the option that decides."""
    best = report.best_option()
    return [*report.figures, *(best.figures if best else [])]


def _at_a_glance(report: Report, system: str) -> str:
    """Three numbers for the eye a metre away: those one comes for, else the first ones."""
    few = report.wanted_figures() or _all_figures(report)
    cells = "".join(
        f"<div><b>{escape(f.value.text(system))}</b><span>{escape(say(f.label, system))}</span></div>"
        for f in few[:3]
    )
    return f'<div class="glance">{cells}</div>' if cells else ""


def _tables(report: Report, system: str) -> str:
    """Lists that a card is carried for: what is due, what is in the box; the first rows of each,
    and all of those that hands follow."""
    parts, room = [], MOST_ROWS
    for table in report.tables:
        if table.whole:
            parts.append(_whole(table, system))
            continue
        rows = table.rows[:room] if table.on_card else []
        room -= len(rows)
        if table.steps and table.carried:
            parts.append(_steps(table, system))
        if rows:
            heads = "".join(
                f'<th scope="col">{escape(say(table.columns[i], system))}</th>'
                for i in table.on_card
            )
            body = "".join(_row(row, table.on_card, system) for row in rows)
            more = len(table.rows) - len(rows)
            note = f"<p>{worded('and {n} more, on the page', n=str(more))}</p>" if more else ""
            parts.append(
                f'<section><h2>{escape(say(table.title, system))}</h2><table class="listed"><thead><tr>{heads}</tr>'
                f"</thead><tbody>{body}</tbody></table>{note}</section>"
            )
    return "".join(parts)


def _whole(table: Table, system: str) -> str:
    """A list to buy by, all of it: each thing, and how much of it before it."""
    items = "".join(
        f"<li><b>{_told(much, system)}</b> {_told(thing, system)}</li>"
        for thing, much in table.rows
    )
    return f'<section class="whole"><h2>{escape(say(table.title, system))}</h2><ul>{items}</ul></section>'


def _steps(table: Table, system: str) -> str:
    """Steps that hands follow, all of them: what to do, and the reason behind it in small print."""
    items = "".join(
        f"<li><b>{_told(do, system)}</b> {_told(why, system)}</li>" for _, do, why in table.rows
    )
    note = f"<p>{html.words(table.note, system)}</p>" if table.note else ""
    return f'<section class="hands"><h2>{escape(say(table.title, system))}</h2><ol>{items}</ol>{note}</section>'


def _told(cell: Amount | Words, system: str) -> str:
    return escape(cell.text(system) if isinstance(cell, Amount) else say(cell, system))


def _row(row: Sequence[Amount | Words], places: Sequence[int], system: str) -> str:
    return f"<tr>{''.join(f'<td>{_told(row[place], system)}</td>' for place in places)}</tr>"


def _figures(report: Report, system: str) -> str:
    """The figures that are held against a limit, that which decides in any case; the rest stands
    on the page."""
    held = [f for f in _all_figures(report) if f.limit and f.decides]
    if not held:
        return ""
    part = report.decider or report
    decides = [f for f in part.figures if f.key == report.decided_by and f in held]
    found = held[:MOST_FIGURES]
    if decides and decides[0] not in found:
        found = [*found[:-1], decides[0]]
    rows = "".join(
        f'<tr><th scope="row">{escape(say(f.label, system))}</th><td>{escape(f.value.text(system))}</td>'
        f"<td>{_limit(f, system)}</td><td>{html.shape(f.state)}</td></tr>"
        for f in found
    )
    best = report.best_option()
    title = spoken("Held against its limits")
    if best:
        title = f"{title} ({say(best.name, system)})"
    return (
        f'<section><h2>{escape(title)}</h2><table class="figures"><tbody>{rows}'
        "</tbody></table></section>"
    )


def _limit(f: Figure, system: str) -> str:
    assert f.limit is not None
    return ("≤ " if f.limit_is == "most" else "≥ ") + escape(f.limit.text(system))


def _options(report: Report, system: str) -> str:
    """Each way to do it in one line, with what decides it."""
    if not report.options:
        return ""
    items = "".join(
        f"<li>{html.shape(o.verdict)}<p><b>{escape(say(o.name, system))} ({escape(verdict_word(o.verdict))}):</b> "
        f"{html.words(o.reason(), system)}</p></li>"
        for o in report.options
    )
    return f'<ul class="options">{items}</ul>'


def _remedies(report: Report, system: str) -> str:
    best = report.best_option()
    ways = [best] if best and report.verdict == FITS else report.options
    first = report.ways(MOST_REMEDIES)[0]
    lines = [*first, *report.remedies, *(r for way in ways for r in way.remedies)]
    lines = [one for one in lines if not isinstance(one, Linked)]  # a page away, not on paper
    mending, far = parted(report.verdict, lines)
    told = list(dict.fromkeys(html.words(r, system) for r in mending or far))[:MOST_REMEDIES]
    if not told:
        return ""
    title = "What would make it fit" if mending else "How far it reaches"
    items = "".join(f"<li>{words}</li>" for words in told)
    return f'<section class="remedies"><h2>{worded(title)}</h2><ul>{items}</ul></section>'


def _picture(report: Report, system: str) -> str:
    if report.drawings:
        first = report.drawings[0].card or report.drawings[0]
        # of a frame its own, the words have one size, and want so much room
        drawn = svg.drawing(first, system, "card-", size=(FRAME_UNIT, "mm"))
        framed = ' class="framed"' if first.frame else ""
        return f"<figure{framed}>{drawn}<figcaption>{escape(say(first.title, system))}</figcaption></figure>"
    if report.charts:
        chart = report.charts[0]
        drawn = svg.chart(chart, system, "card-", CHART_TALL)
        return (
            f"<figure>{drawn}<figcaption>{escape(say(chart.title, system))}</figcaption></figure>"
        )
    return ""


def _cautions(report: Report, system: str) -> str:
    if not report.cautions:
        return ""
    apart = [c for c in report.cautions if c in report.borrowed]
    items = "".join(
        f"<li><strong>{html.words(c.title, system)}.</strong> {html.words(c.text, system)}</li>"
        for c in report.cautions
        if c not in apart
    )
    if apart:  # they stand in full on the cards of the answers that they come with
        names = "; ".join(html.words(c.title, system) for c in apart)
        told = worded("In full on the cards of its parts:")
        items += f"<li>{told} <strong>{names}.</strong></li>"
    return f'<section class="cautions"><h2>{worded("Before you touch it")}</h2><ul>{items}</ul></section>'


def _offers(bound: Bound) -> str:
    """What those who sell the things of the form say of them, in small print."""
    found = offers(bound)
    if not found:
        return ""
    lines = "; ".join(map(with_its_link, found[:MOST_OFFERS]))
    more = len(found) - MOST_OFFERS
    note = f" {worded('and {n} more, on the page', n=str(more))}" if more > 0 else ""
    return (
        f'<section class="inputs"><h2>{worded(OFFERED)}</h2><p>{escape(lines)}.{note}</p></section>'
    )


def _inputs(bound: Bound, system: str) -> str:
    """What the answer was computed for, in small print: a card is worthless without it."""
    own: list[str] = []
    examples: list[str] = []
    fields = bound.asks.fields.values()
    listed = {made.group for made in fields if isinstance(made, Rows) and made.belongs}
    for name, made in bound.asks.fields.items():
        value = bound.values.get(name)
        if not bound.asked(name) or (value is None and not isinstance(made, Record)):
            continue
        # The record's name stands for what it fills in; the guide's own defaults stand in the guide.
        if bound.origin(name).kind in ("record", "shelf") or _is_default(made, bound):
            continue
        if isinstance(made, Presence) and value and any(bound.own(n) for by in made.by for n in by):
            continue  # what is told of it tells that it is there
        if isinstance(made, YesNo) and value and made.group in listed:
            continue  # the list beside it holds what is there
        shown = str(len(value or ())) if isinstance(made, Rows) else bound.shown(name, system)
        (own if bound.origin(name).own else examples).append(f"{spoken(made.label)}: {shown}")
    rest = spoken("else the guide's own values")
    if own and examples:
        words = spoken(
            "Yours: {own}. Example: {example}; {rest}.",
            own="; ".join(own),
            example="; ".join(examples),
            rest=rest,
        )
    else:
        words = "; ".join([*own, *examples, rest]) + "."
    whose = "Computed for" if own else "Computed for the example"
    return (
        f'<section class="inputs"><h2>{escape(spoken(whose))}</h2><p>{escape(words)}</p></section>'
    )


def _is_default(made: Field, bound: Bound) -> bool:
    return bound.origin(made.name).kind in ("default", "usual", "absent", "none")


def _made_by(imprint: Imprint) -> str:
    """What computed the card, and of which day its guide is; each where it is known."""
    said = {"version": imprint.version, "edition": imprint.edition}
    if imprint.version and imprint.edition:
        return spoken("Brinebook {version}, edition {edition}.", **said) + " "
    if imprint.version:
        return spoken("Brinebook {version}.", **said) + " "
    return spoken("Edition {edition}.", **said) + " " if imprint.edition else ""


def _footer(imprint: Imprint, address: str) -> str:
    code = qr_code(address) if address else ""
    estimate = worded(
        "An estimate from the values given; makers' instructions and the code that applies to your "
        "boat come first."
    )
    back = f'<span class="address">{escape(address.partition("#")[0])}</span>' if address else ""
    house = f"{worded(WHOSE, house=escape(imprint.house))} " if imprint.house else ""
    return f"<footer>{code}<p>{escape(_made_by(imprint))}{house}{estimate} {back}</p></footer>"


def page(title: str, cards: Sequence[str], paper: Paper) -> str:
    """The file round the cards."""
    columns = f"columns:{paper.columns};column-gap:{paper.gap};" if paper.columns > 1 else ""
    head = f"@page{{size:{paper.size};margin:{paper.margin}}}.card{{{columns}}}"
    if paper.columns > 1:
        head += _HALF_A_SHEET
    language = escape(chosen.get().code, quote=True)
    direction = ' dir="rtl"' if chosen.get().from_right else ""
    return (
        f'<!DOCTYPE html><html lang="{language}"{direction}><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width,initial-scale=1">'
        f"<title>{escape(title)}</title><style>{card_font.faces()}{_STYLE}{pictures.INK}{head}</style></head>"
        f"<body>{''.join(cards)}</body></html>\n"
    )


# Half a sheet is narrow: smaller print, a smaller picture, and the day over the title.
_HALF_A_SHEET = """
html{font-size:7.7pt;line-height:1.27}
body{max-width:none}
h1{font-size:15pt}
h2{font-size:8.5pt;margin-top:1.6mm}
.imprint{float:none;margin:0 0 .4mm;font-size:7.2pt}
.verdict{padding:1mm 2mm;gap:2mm}
.verdict strong{font-size:13pt}
.verdict .sign{width:7mm;height:7mm}
.headline{font-size:8.8pt}
.glance{gap:2mm;margin:1mm 0}
.glance div{padding-left:1.5mm}
.glance b{font-size:11pt}
.cautions{font-size:6.7pt;line-height:1.2;margin-top:1mm;padding:0 1.8mm .5mm}
.cautions ul{padding-left:3mm}
.long .cautions{break-inside:auto;box-decoration-break:clone}
.whole ul{columns:1}
.apart .cautions{break-before:column}
figure{margin:.6mm auto}
figure svg,figure:not(.framed) svg.drawing{max-height:30mm}
footer{margin-top:.6mm;padding-top:.6mm;font-size:6.7pt}
footer svg{width:15mm;height:15mm}
"""

_STYLE = """
*{box-sizing:border-box}
html{font:8.6pt/1.32 "Brine Card",sans-serif;text-rendering:geometricPrecision;color:#000;background:#fff}
body{margin:0 auto;max-width:150mm}
.card{break-after:page;padding:0}
.card:last-child{break-after:auto}
h1{font:600 17pt/1.1 "Brine Card",sans-serif;margin:0}
h2{font-size:9pt;margin:2.2mm 0 .6mm;border-bottom:.3pt solid #000;display:flex;gap:1.5mm;align-items:center}
p,ul,ol{margin:.6mm 0}
ul,ol{padding-left:4mm}
.imprint{float:right;margin:1mm 0 0 4mm;font-size:8.5pt}
.question{font-style:italic}
header{border-bottom:1pt solid #000;padding-bottom:1mm;margin-bottom:1.5mm}
.verdict{display:flex;gap:2.5mm;align-items:center;border:1pt solid #000;padding:1.5mm 2.5mm;break-inside:avoid}
.verdict strong{display:block;font:600 15pt/1.1 "Brine Card",sans-serif}
.verdict p{margin:0}
.sign{width:3.4mm;height:3.4mm;flex:none}
.verdict .sign{width:9mm;height:9mm}
.sign .line{fill:none;stroke:#000;stroke-width:2}
.sign .solid{fill:#000}
.sign .tick{fill:none;stroke:#fff;stroke-width:2.4}
.headline{font-size:10pt}
table{width:100%;border-collapse:collapse;font-variant-numeric:tabular-nums;break-inside:auto}
tr{break-inside:avoid}
th{text-align:left;font-weight:400}
td{text-align:right;white-space:nowrap;padding-left:2mm}
tr>*{border-bottom:.25pt solid #777;padding-top:.35mm;padding-bottom:.35mm;vertical-align:top}
td:last-child{width:5mm}
td .sign{display:block;margin:.3mm 0 0 auto}
.listed td{text-align:left;white-space:normal;padding:.3mm 2mm .3mm 0;width:auto}
.listed th{font-weight:600}
.hands ol{padding-left:5.5mm}
.hands p{break-before:avoid}
.hands li{border-bottom:.25pt solid #777;padding:.1mm 0;font-size:6.6pt;line-height:1.13}
.hands :is(b,li::marker){font-size:7.5pt}
.remedies,figure,.inputs,.glance,.cautions{break-inside:avoid}
.glance{display:flex;gap:3mm;margin:1.5mm 0}
.glance div{flex:1;border-left:1.2pt solid #000;padding-left:2mm}
.glance b{display:block;font:600 14pt/1.15 "Brine Card",sans-serif}
.options{list-style:none;padding:0;margin:1.5mm 0}
.options li{display:flex;gap:2mm;border-bottom:.25pt solid #777;padding:.5mm 0}
.options p{margin:0}
.options .sign{margin-top:.5mm}
li{break-inside:avoid;orphans:2;widows:2}
.cautions{border:1pt solid #000;padding:0 2.5mm 1mm;margin-top:2mm;font-size:7.2pt;line-height:1.24}
.cautions h2,.inputs h2,.remedies h2{break-after:avoid}
.inputs{font-size:6.6pt;line-height:1.2;break-before:avoid}
.dense .verdict{padding:.8mm 2.5mm}
.dense .verdict strong{font-size:12pt}
.dense :is(.glance,.headline){margin:.6mm 0}
.dense .glance b{font-size:11pt}
.dense h2{margin-top:1mm}
.dense .cautions{font-size:6.6pt;line-height:1.15;margin-top:1mm}
.dense :is(.hands,.remedies) :is(p,li){font-size:7.5pt}
.dense .hands li,.dense .inputs{font-size:6.4pt;line-height:1.15}
.dense .figures{font-size:7.5pt}
.whole ul{columns:2;column-gap:4mm;list-style:none;margin:0;padding:0;font-size:7pt;line-height:1.2}
.whole li{break-inside:avoid;margin:.3mm 0;padding-left:2mm;text-indent:-2mm}
.dense footer{margin-top:1mm;padding-top:.6mm}
.dense footer svg{width:15mm;height:15mm}
figure{margin:2mm auto;text-align:center;max-width:118mm}
figure svg{width:100%;max-height:33mm}
figure:not(.framed) svg.drawing{max-height:48mm}
figure.framed{max-width:100%}
figure.framed svg{width:auto;height:auto;max-width:100%;max-height:none}
figcaption{font-size:7.8pt}
footer{display:flex;gap:3mm;align-items:center;margin-top:2mm;border-top:.3pt solid #000;padding-top:1mm;font-size:7.2pt;break-inside:avoid;break-before:avoid}
footer svg{width:17mm;height:17mm;flex:none}
.contents ol{font-size:11pt;line-height:1.9;list-style-position:inside;padding:0}
.contents li{border-bottom:.3pt dotted #000}
.contents em{float:right}
.contents .sign{margin:0 2mm -.4mm 1mm}
.sr{display:none}
@media screen{body{padding:5mm}.card{margin-bottom:14mm}}
"""
