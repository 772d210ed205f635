"""The boat sheet as a page: its form, what it already answers, and what each answer still lacks."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from html import escape
from typing import Any

from . import units
from .guide import Calculator, Guide, Outcome
from .inputs import CLOCK, SHEET, TYPED, Bound, Layer
from .render import html
from .render.spaces import said
from .report import FAILS, FITS, TIGHT, UNKNOWN, VERDICT_WORDS

_WORST_FIRST = {FAILS: 0, UNKNOWN: 1, TIGHT: 2, FITS: 3}


def bound(sheet: Mapping[str, Any], guide: Guide) -> Bound:
    """The sheet as it is read: its own values, and examples where it has none."""
    known = {name: value for name, value in sheet.items() if name in guide.sheet.fields}
    return guide.bind(guide.sheet, Layer(TYPED, known))


@dataclass(frozen=True)
class Line:
    """One calculator's answer for the boat, and what of it is not the boat's own.

    `missing` are the labels of the sheet's values that are still those of the page's example, of
    `asked`; `alone` is how many values only the page asks, which the boat has not.
    """

    calculator: Calculator
    outcome: Outcome
    missing: tuple[str, ...]
    asked: int
    alone: int

    @property
    def verdict(self) -> str:
        return UNKNOWN if self.outcome.report is None else self.outcome.report.verdict


def lines(
    sheet: Mapping[str, Any], pages: Mapping[str, Any], guide: Guide, today: str = ""
) -> list[Line]:
    """The answer of every calculator that has a page, for this boat on a day, worst first.

    `pages` gives each one's page and example: {"power": {"url": ..., "example": {...}}}.
    """
    found = []
    for name in filter(pages.__contains__, guide.names()):
        made = guide.get(name)
        place = pages[name] or {}
        known = {n: value for n, value in sheet.items() if n in made.asks.fields}
        mark = units.decimal_mark.get()
        key = (guide, name, _text(known), _text(place.get("example") or {}), today, mark)
        found.append(_line(made, _outcome(key)))
    return sorted(found, key=lambda line: _WORST_FIRST[line.verdict])


def _line(made: Calculator, outcome: Outcome) -> Line:
    fields = made.asks.fields
    shared = [n for n in fields if n in outcome.bound.shared and outcome.bound.asked(n)]
    missing = tuple(fields[n].label for n in shared if not _is_own(outcome.bound, n))
    alone = [n for n in fields if n not in outcome.bound.shared and outcome.bound.asked(n)]
    ours = [n for n in alone if not _is_own(outcome.bound, n) and not _is_today(outcome.bound, n)]
    return Line(made, outcome, missing, len(shared), len(ours))


_Key = tuple[Guide, str, str, str, str, str]  # and calculator, sheet, example, today, decimal mark
_kept: dict[_Key, Outcome] = {}
_MOST_KEPT = 64


def _outcome(key: _Key) -> Outcome:
    """A calculator's answer; kept, since a change of one field leaves most answers as they were."""
    if key not in _kept:
        guide, name, sheet, example, today, _ = key
        while len(_kept) >= _MOST_KEPT:
            del _kept[next(iter(_kept))]
        _kept[key] = guide.run(
            guide.get(name),
            sheet=json.loads(sheet),
            example=json.loads(example),
            today=today,
            brief=True,
        )
    return _kept[key]


def _text(values: Mapping[str, Any]) -> str:
    return json.dumps(values, sort_keys=True, default=str)


def _is_today(bound: Bound, name: str) -> bool:
    return bound.origin(name) == CLOCK


def _is_own(bound: Bound, name: str) -> bool:
    """Whether a value is the boat's: said in its sheet, or of a record that is named there."""
    origin = bound.origin(name)
    if origin.kind in ("record", "shelf"):
        made = bound.asks.fields[name]
        holder = (made.preset or made.from_record).partition(".")[0]
        return holder in bound.asks.fields and _is_own(bound, holder)
    return origin == SHEET


def dashboard(
    sheet: Mapping[str, Any], pages: Mapping[str, Any], system: str, guide: Guide, today: str = ""
) -> str:
    """All verdicts for this boat in one list, each with its page and what it still lacks."""
    found = lines(sheet, pages, guide, today)
    rows = [_row(line, pages.get(line.calculator.name) or {}, system) for line in found]
    counts = Counter(VERDICT_WORDS[line.verdict] for line in found)
    told = " · ".join(f"{words}: {n}" for words, n in counts.items())
    sum_up = f'<p class="dashboard-sum" aria-live="polite">{told}</p>'
    return f'{sum_up}<ul class="dashboard">{"".join(rows)}</ul>'


def _row(line: Line, place: Mapping[str, Any], system: str) -> str:
    report = line.outcome.report
    if report is None:
        told = "; ".join(f"{f.label}: {f.sentence}" for f in line.outcome.bound.faults[:2])
    else:
        told = report.reason().text(system)
    title = escape(line.calculator.title)
    url = str(place.get("url", ""))
    link = f'<a href="{escape(url, quote=True)}">{title}</a>' if _is_page(url) else title
    return (
        f'<li class="state-{line.verdict}" '
        f'data-dashboard="{escape(line.calculator.name, quote=True)}">'
        f"{html.shape(line.verdict)}<div><p><strong>{link}</strong> "
        f"<em>{escape(VERDICT_WORDS[line.verdict])}</em></p><p>{said(told)}</p>"
        f"{_lacks(line)}</div></li>"
    )


def _lacks(line: Line) -> str:
    """What is still the page's example, to be unfolded."""
    alone = f"{line.alone} that only its page asks are the example's" if line.alone else ""
    if not line.missing:
        told = f"what your sheet holds is your boat's; {alone}" if alone else "all is your boat's"
        return f'<p class="note">{told}</p>'
    name = escape(line.calculator.name, quote=True)
    many = f"{len(line.missing)} of {line.asked} values are still the page's example"
    also = f"; and {alone}" if alone else ""
    return (
        f'<details data-key="lacks-{name}"><summary>{many}</summary>'
        f'<p class="note">{escape("; ".join(line.missing))}{also}.</p></details>'
    )


def _is_page(url: str) -> bool:
    """A page of this guide: relative, no scheme, no way out of the folder."""
    return re.fullmatch(r"[\w/-]+\.html|[\w/-]+/", url) is not None and not url.startswith("//")


def form(sheet: Mapping[str, Any], system: str, prefix: str, guide: Guide) -> str:
    """The sheet's form: nothing is filled in that the reader has not, examples show as hints."""
    return html.sheet_form(guide.sheet, bound(sheet, guide), system, prefix)


def notice(sheet: Mapping[str, Any], guide: Guide) -> str:
    """What was read out of a file, as a sentence; what is not known is kept and named."""
    unknown = [name for name in sheet if name not in guide.sheet.fields]
    told = f"{len(sheet) - len(unknown)} values read."
    if unknown:
        names = ", ".join(unknown[:5]) + (" …" if len(unknown) > 5 else "")
        told += f" Kept, though this guide does not use them: {names}."
    return escape(told)


def file_name(sheet: Mapping[str, Any]) -> str:
    """The name of the sheet's file."""
    return f"{file_stem(sheet)}-sheet.json"


def file_stem(sheet: Mapping[str, Any]) -> str:
    """What file names begin with, out of the boat's name."""
    plain = re.sub(r"[^a-z0-9]+", "-", str(sheet.get("name", "")).lower()).strip("-")[:40]
    return plain or "boat"
