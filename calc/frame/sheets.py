"""The boat sheet as a page: its form, what it already answers, and what each answer still lacks."""

from __future__ import annotations

import math
import re
import time
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any

from . import language, units
from .guide import Calculator, Guide, Outcome
from .inputs import TYPED, Bound, Layer
from .language import spoken, spoken_count
from .render import html
from .render.spaces import one_of, said, worded
from .report import FAILS, FITS, TIGHT, UNASKED, UNKNOWN, verdict_word

_WORST_FIRST = {FAILS: 0, UNKNOWN: 1, TIGHT: 2, FITS: 3, UNASKED: 4}


def bound(sheet: Mapping[str, Any], guide: Guide) -> Bound:
    """The sheet as it is read: nothing is there that it doesn't say."""
    known = {name: value for name, value in sheet.items() if name in guide.sheet.fields}
    return guide.bind(guide.sheet, Layer(TYPED, known), own_boat=True)


@dataclass(frozen=True)
class Line:
    """One calculator's answer for the boat."""

    calculator: Calculator
    outcome: Outcome

    @property
    def verdict(self) -> str:
        if self.outcome.lacks:
            return UNASKED
        return UNKNOWN if self.outcome.report is None else self.outcome.report.verdict


def lines(
    sheet: Mapping[str, Any],
    pages: Mapping[str, Any],
    guide: Guide,
    today: str = "",
    until: float = math.inf,
) -> list[Line]:
    """The answer of every calculator that has a page, for this boat on a day, worst first.

    `pages` gives each one's page: {"power": {"url": ...}}. After the moment `until`, of
    `time.monotonic`, those alone that are known already; one more than before in any case. What is
    slow to answer comes after all others.
    """
    found: list[Line] = []
    begun = False
    sheet = guide.filled(sheet)
    asked = [guide.get(name) for name in guide.names() if name in pages]
    for made in sorted(asked, key=lambda one: one.slow):
        name = made.name
        known = {n: value for n, value in sheet.items() if n in made.asks.fields}
        shown = units.decimal_mark.get() + units.chosen_system.get() + language.code()
        key = (guide, name, repr(known), today, shown)
        if key not in _kept:
            if begun and time.monotonic() >= until:
                continue
            begun = True
        found.append(Line(made, _outcome(key, known)))
    return sorted(found, key=lambda line: (_WORST_FIRST[line.verdict], line.calculator.name))


# Guide, calculator, sheet, today; and decimal mark, units and language.
_Key = tuple[Guide, str, str, str, str]
_kept: dict[_Key, Outcome] = {}
_MOST_KEPT = 64


def _outcome(key: _Key, known: Mapping[str, Any]) -> Outcome:
    """A calculator's answer; kept, since a change of one field leaves most answers as they were."""
    if key not in _kept:
        guide, name, _, today, _ = key
        while len(_kept) >= max(_MOST_KEPT, 2 * len(guide.calculators)):
            del _kept[next(iter(_kept))]
        _kept[key] = _answered(guide, guide.get(name), known, today)
    return _kept[key]


def _answered(guide: Guide, made: Calculator, sheet: Mapping[str, Any], today: str) -> Outcome:
    """The verdict; where something is to be done, with what."""
    found = guide.run(made, sheet=sheet, today=today, verdict_only=True, own_boat=True)
    if found.report is None or found.report.verdict == FITS or found.later is None:
        return found
    return found.later()


@dataclass(frozen=True)
class Page:
    """The page that a list of verdicts stands on: the fields of the sheet that it has itself, and
    where the others are to be said."""

    fields: frozenset[str] = frozenset()
    sheet_address: str = ""


@dataclass(frozen=True)
class Dashboard:
    """A list of verdicts as HTML, and whether some of them are still to come."""

    html: str
    more: bool = False


def dashboard(
    sheet: Mapping[str, Any],
    pages: Mapping[str, Any],
    system: str,
    guide: Guide,
    today: str = "",
    here: Page | None = None,
    until: float = math.inf,
) -> Dashboard:
    """All verdicts for this boat in one list, each with its page and what it still lacks; those
    that there are by a moment (see `lines`), and then not how many of each."""
    if not any(name in guide.sheet.fields for name in sheet):
        told = spoken("Nothing is said of your boat yet, so nothing is judged.")
        return Dashboard(f'<p class="dashboard-none">{escape(told)}</p>')
    found = lines(sheet, pages, guide, today, until)
    rows = [
        _row(line, pages.get(line.calculator.name) or {}, system, here or Page()) for line in found
    ]
    counts = Counter(verdict_word(line.verdict) for line in found)
    more = len(found) < len(guide.calculators.keys() & pages.keys())
    told = "&nbsp;" if more else " · ".join(f"{words}: {n}" for words, n in counts.items())
    sum_up = f'<p class="dashboard-sum" aria-live="polite">{told}</p>'
    return Dashboard(f'{sum_up}<ul class="dashboard">{"".join(rows)}</ul>', more)


def _row(line: Line, place: Mapping[str, Any], system: str, here: Page) -> str:
    title = escape(spoken(line.calculator.title))
    url = str(place.get("url", "")) if is_page(str(place.get("url", ""))) else ""
    link = f'<a href="{escape(url, quote=True)}">{title}</a>' if url else title
    return (
        f'<li class="state-{line.verdict}" '
        f'data-dashboard="{escape(line.calculator.name, quote=True)}">'
        f"{html.shape(line.verdict)}<div><p><strong>{link}</strong> "
        f"<em>{escape(verdict_word(line.verdict))}</em></p>"
        f"{_told(line, system)}{_lacks(line, url, here)}</div></li>"
    )


def _told(line: Line, system: str) -> str:
    """Why, and what to do first."""
    report = line.outcome.report
    if line.outcome.lacks:
        return ""
    if report is None:
        told = "; ".join(f"{f.label}: {f.sentence}" for f in line.outcome.bound.faults[:2])
        return f"<p>{said(told)}</p>"
    ways = report.ways(1)[0]
    first = ways[0].text(system) if ways and report.verdict != FITS else ""
    do = f'<p class="do-first">→ {said(first)}</p>' if first else ""
    return f"<p>{said(report.reason().text(system))}</p>{do}"


_FEW_QUESTIONS = 3


def _lacks(line: Line, url: str, here: Page) -> str:
    """What is to be said before there is a verdict; else how much of it is assumed."""
    bound, lacks = line.outcome.bound, line.outcome.lacks
    if lacks:
        parts = [_question(bound, row, url, here) for row in lacks[:_FEW_QUESTIONS]]
        if (more := len(lacks) - _FEW_QUESTIONS) > 0:
            parts.append(escape(spoken("and {n} more", n=more)))
        told = worded("To be said first: {questions}", questions=" · ".join(parts))
        return f'<p class="note">{told}</p>'
    unsaid = bound.unsaid  # found anew each time it is asked for
    labels = [spoken(made.label) for name, made in bound.asks.fields.items() if name in unsaid]
    if not labels:
        return f'<p class="note">{worded("all is your boat’s")}</p>'
    name = escape(line.calculator.name, quote=True)
    assumed = spoken_count(
        len(labels),
        "{n} value is assumed, as you have not said it",
        "{n} values are assumed, as you have not said them",
    )
    listed = escape("; ".join(labels))
    return (
        f'<details data-key="lacks-{name}"><summary>{escape(assumed)}</summary>'
        f'<p class="note">{listed}.</p></details>'
    )


def _question(bound: Bound, row: Sequence[str], url: str, here: Page) -> str:
    """A question linked to its field: here, on the sheet if it is the boat's, else on its page."""
    told = []
    for name in row:
        label = escape(spoken(bound.asks.fields[name].label))
        place = escape(url, quote=True)
        if name in bound.shared and (name in here.fields or here.sheet_address):
            page = "" if name in here.fields else escape(here.sheet_address, quote=True)
            place = f"{page}#sheet-{name}"
        link = f'<a href="{place}" data-question="{name}">{label}</a>'
        told.append(link if place else label)
    return one_of(told)


def is_page(url: str) -> bool:
    """A page of this guide: relative, no scheme, no way out of the folder."""
    return re.fullmatch(r"[\w/-]+\.html|[\w/-]+/", url) is not None and not url.startswith("//")


def form(sheet: Mapping[str, Any], system: str, prefix: str, guide: Guide) -> str:
    """The sheet's form: nothing is filled in that the reader has not, examples show as hints."""
    return html.sheet_form(guide, bound(sheet, guide), system, prefix)


def start(sheet: Mapping[str, Any], system: str, prefix: str, guide: Guide) -> str:
    """The questions that one begins with."""
    return html.sheet_questions(guide.questions, bound(sheet, guide), system, prefix)


def apart(sheet: Mapping[str, Any], system: str, prefix: str, guide: Guide) -> str:
    """What has a page of its own."""
    return html.sheet_questions(guide.apart, bound(sheet, guide), system, prefix)


def obeying(pages: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """The pages whose calculators ask for what has a page of its own."""
    fields = {name for one in guide.apart for name in one.fields}
    return {name: page for name, page in pages.items() if fields & set(guide.get(name).asks.fields)}


def notice(sheet: Mapping[str, Any], guide: Guide) -> str:
    """What was read out of a file, as a sentence; what is not known is kept and named."""
    unknown = [name for name in sheet if name not in guide.sheet.fields]
    count = len(sheet) - len(unknown)
    told = spoken_count(count, "{n} value read.", "{n} values read.")
    if unknown:
        names = ", ".join(unknown[:5]) + (" …" if len(unknown) > 5 else "")
        kept = spoken("Kept, though this guide does not use them: {names}.", names=names)
        told = f"{told} {kept}"
    return escape(told)


def file_name(sheet: Mapping[str, Any]) -> str:
    """The name of the sheet's file."""
    return f"{file_stem(sheet)}-sheet.json"


def file_stem(sheet: Mapping[str, Any]) -> str:
    """What file names begin with, out of the boat's name."""
    plain = re.sub(r"[^a-z0-9]+", "-", str(sheet.get("name", "")).lower()).strip("-")[:40]
    return plain or "boat"
