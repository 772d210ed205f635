"""What the browser asks of the package: text in, text out.

Between calls nothing is kept that an answer hangs on: only what a page holds already (`held`), and
what answers begun in steps are still to tell.
"""

from __future__ import annotations

import datetime
import itertools
import json
import math
import re
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from . import boatfile, held, links, logbook, sheets
from .boatfile import BoatFileError
from .book import Book
from .guide import Calculator, Guide, Outcome, Unknown
from .inputs import Log, Rows
from .language import Said, speaking, spoken
from .links import LinkError
from .nested import NestedTooDeep, read_json
from .render import card, card_font, html, pictures, text
from .render.papers import PAPERS
from .render.plain import plain
from .report import UNASKED, UNKNOWN, Report
from .units import SYSTEMS, chosen_system, decimal_mark, money
from .update import Update, form_update, hidden, page_update

# Characters of a request: a boat sheet and another's file with it.
LARGEST = 2 * boatfile.LARGEST + 1_000_000
UNFORESEEN = (
    "This can't be answered: this guide has made a mistake, or was sent what it never asks for."
)
ROUNDS = 3  # of a rehearsal, of what is shown
_REHEARSED = "rehearsed"  # the name of an answer that nobody is shown
_LONGEST_ERROR = 300
_SURROGATE = re.compile("[\ud800-\udfff]")


def handle(request: str, guide: Guide) -> str:
    """Answers one request of a page of a guide, both JSON. Never raises for it.

    `do` says what is wanted (see `_DOES`; "answer" if left out); `units` and `decimal` say how
    numbers are shown. The reply always has `error`: null, or a sentence for the reader; with
    `detail`, which is not for readers, where that sentence is `UNFORESEEN`.
    """
    try:
        asked = _asked(request)
        mark = decimal_mark.set("," if asked.get("decimal") == "," else ".")
    except Exception as error:
        with speaking(guide.language):
            return _as_json(_sorry(error))
    shown, priced = chosen_system.set(_system(asked)), money.set(guide.money)
    try:
        with speaking(guide.language):
            return _reply(asked, guide)
    finally:
        money.reset(priced)
        chosen_system.reset(shown)
        decimal_mark.reset(mark)


def _asked(request: str) -> Any:
    if len(request) > LARGEST:
        raise _NotNow("it is longer than {n} million characters", n=LARGEST // 1_000_000)
    return _whole(read_json(request))


def _reply(asked: Mapping[str, Any], guide: Guide) -> str:
    try:
        return _as_json({"error": None, **_DOES[asked.get("do", "answer")](asked, guide)})
    except Exception as error:
        return _as_json(_sorry(error))


def _sorry(error: Exception) -> dict[str, Any]:
    """What is said in place of an answer."""
    if isinstance(error, (LinkError, BoatFileError)):
        return {"error": str(error)}
    if isinstance(error, (NestedTooDeep, Unknown, _NotNow)):
        return {"error": spoken("This can't be answered: {why}", why=error)}
    detail = f"{type(error).__name__}: {error}"[:_LONGEST_ERROR]
    return {"error": spoken(UNFORESEEN), "detail": detail}


def _whole(value: Any) -> Any:
    """What was asked without halves of characters, which no file and no address can hold."""
    if isinstance(value, str):
        return value if value.isascii() else _SURROGATE.sub("\ufffd", value)
    if isinstance(value, list):
        return [_whole(one) for one in value]
    if isinstance(value, dict):
        return {_whole(key): _whole(one) for key, one in value.items()}
    return value


def _as_json(reply: Mapping[str, Any]) -> str:
    told = json.dumps(reply, ensure_ascii=False, allow_nan=False, sort_keys=True)
    return _SURROGATE.sub("\ufffd", told)


class _NotNow(Said):
    """What cannot be done as things stand; the message is the end of a sentence for the reader."""


def _system(asked: Mapping[str, Any]) -> str:
    system = asked.get("units", "metric")
    return system if system in SYSTEMS else "metric"


def _run(
    asked: Mapping[str, Any], guide: Guide, in_steps: bool = False
) -> tuple[Calculator, Outcome]:
    made = guide.get(asked["calculator"])
    values = (asked.get("typed"), asked.get("sheet"), asked.get("example"))
    own = bool(asked.get("own", asked.get("sheet")))
    today = str(asked.get("today") or "")
    return made, guide.run(made, *values, today, own_boat=own, in_steps=in_steps)


def _answer(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """A form's answer and all that its values change on the page.

    In: calculator, example, typed, sheet, prefix, linked (typed fields that a link brought), own
    (the boat is the reader's own and no example's; else it is where the sheet says something). Out:
    `slots` (HTML by slot), `values` (texts of the controls that the reader has not touched; with
    `fill` of all), `attributes` (by field), `hidden` (fields not asked now), `link` (the fragment
    that reproduces the answer).

    With `as`, a name for it: only what differs from the answer `over`, the one that the page shows
    (see `held.difference`), with the answer as `parts` by name in their `order`; what stands folded
    is asked for after it ("rest"), where there is `more`.
    """
    name = str(asked.get("as") or "")
    made, outcome = _run(asked, guide, in_steps=bool(name))
    linked = frozenset(map(str, asked.get("linked") or ()))
    shown = _system(asked), str(asked.get("prefix", ""))
    if not name:
        update = page_update(made, outcome, *shown, bool(asked.get("fill")), linked)
        return {**update, "link": links.fragment(made, outcome.bound)}

    def told(called: str, over: str, outcome: Outcome, first: bool) -> dict[str, Any]:
        parts = html.answer_parts(outcome, *shown, first=first)
        kept = held.holds(over).get("parts", {}) if first else {}
        rest = {key: part for key, part in kept.items() if key.startswith(html.REST)}
        form = form_update(made, outcome.bound, shown[0], bool(asked.get("fill")), linked)
        return {
            **held.difference(called, over, {"parts": rest | parts, **form}),
            "order": list(parts),
            "hidden": hidden(outcome.bound),
            "link": links.fragment(made, outcome.bound),
            "more": first,
        }

    first = outcome.report is not None
    if first:
        held.leave(name, lambda whole: told(whole, name, outcome.whole(), first=False))
    return told(name, str(asked.get("over") or ""), outcome, first)


def _rest(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """What stands folded behind an answer. In: of (its name), as (the name of both together). Out:
    what turns that answer into the whole one; `lost` where it is not known any more."""
    rest = held.take(str(asked.get("of")))
    return {"lost": True} if rest is None else rest(str(asked.get("as") or ""))


def _open(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """What an answer link holds. In: fragment. Out: `calculator` (or null), `typed`, `own` (of a
    boat of one's own), `notice`."""
    fragment = str(asked["fragment"])
    if not links.looks_like_one(fragment):
        return {"calculator": None}
    opened = links.read(fragment, guide)
    return {
        "calculator": opened.calculator,
        "typed": opened.typed,
        "own": opened.own,
        "notice": html.link_notice(len(opened.typed), opened.unknown),
    }


def _sheet(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """The boat sheet's fields as filled in.

    In: sheet. Out: `slots`, `attributes`, `values` ("" for what is not said), `hidden`.
    """
    bound, system = sheets.bound(asked.get("sheet") or {}, guide), _system(asked)
    update = Update(system, {}, typed_too=True)
    for name, made in guide.sheet.fields.items():
        if isinstance(made, Rows):
            update.add_rows(bound, name)
        else:
            update.add_of_sheet(bound, name)
    for group in html.sheet_groups(guide):
        update.slots[f"group.{group}"] = html.sheet_group_line(guide, group, bound, system)
    return {**update.controls(), "hidden": hidden(bound)}


def _verdicts(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """Every calculator's verdict for the boat. In: sheet, pages, today, fields (of the sheet, on
    this page), sheetPage (the address of the others), within (ms that it may take: then those that
    were found, and whoever asks again is told more). Out: `slots`, and whether there is `more`."""
    sheet, pages = asked.get("sheet") or {}, asked.get("pages") or {}
    address = str(asked.get("sheetPage") or "")
    here = sheets.Page(
        frozenset(map(str, asked.get("fields") or ())), address if sheets.is_page(address) else ""
    )
    today = str(asked.get("today") or "")
    within = asked.get("within")
    until = math.inf if within is None else time.monotonic() + float(within) / 1000
    listed = sheets.dashboard(sheet, pages, _system(asked), guide, today, here, until)
    return {"slots": {"dashboard": listed.html}, "more": listed.more}


def _boat_file(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """In: sheet. Out: `text` of the file and its `name`."""
    sheet = asked.get("sheet") or {}
    return {"text": boatfile.write(sheet, guide.sheet), "name": sheets.file_name(sheet)}


def _read_boat_file(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """In: text. Out: `sheet`, and `notice` about what was not understood but kept."""
    sheet = boatfile.read(str(asked["text"]), guide.sheet)
    return {"sheet": sheet, "notice": sheets.notice(sheet, guide)}


def _book(asked: Mapping[str, Any], guide: Guide) -> Book[Any]:
    """The kind of log that a field of the sheet holds."""
    made = guide.sheet.fields.get(str(asked.get("field", "log")))
    if not isinstance(made, Log):
        raise _NotNow("there is no such log")
    return made.book


def _log_add(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """A line into a log. In: field, log, cells (by column), today, instead (what was offered).
    Out: see `_log_reply`."""
    today = datetime.date.fromisoformat(asked["today"]) if asked.get("today") else None
    cells = {str(name): str(text) for name, text in asked["cells"].items()}
    book, text, instead = _book(asked, guide), str(asked.get("log", "")), asked.get("instead")
    return _log_reply(logbook.add(book, text, cells, today, instead is True))


def _log_merge(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """A file's lines into a log. In: field, log, text of the file. Out: see `_log_reply`."""
    text = str(asked.get("log", ""))
    return _log_reply(logbook.merge(_book(asked, guide), text, str(asked["text"])))


def _log_reply(changed: logbook.Changed) -> dict[str, Any]:
    """`log`, null where it stays as it is; `said`, a sentence; `offer` of another way, or ""."""
    log = changed.text if changed.done else None
    return {"log": log, "said": changed.said, "offer": changed.offer}


def _log_file(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """A log as a file. In: field, log, kind ("json" or CSV), boat. Out: `text`, `name`, `type`."""
    book, kept = _book(asked, guide), str(asked.get("log", ""))
    text, media_type = logbook.file(book, kept, str(asked.get("kind", "")))
    stem, field = sheets.file_stem({"name": asked.get("boat", "")}), asked.get("field", "log")
    name = f"{stem}-{field}.{media_type.partition('/')[2]}"
    return {"text": text, "name": name, "type": media_type}


def _figures(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """The figures of an answer for other programs. In: an answer's, and house. Out: `csv`, its
    `name`, and `text`."""
    made, outcome = _run(asked, guide)
    report = _report(outcome)
    return {
        "csv": text.figures_csv(report),
        "text": text.report(
            report, _system(asked), bound=outcome.bound, house=str(asked.get("house", ""))
        ),
        "name": f"{made.name}-figures.csv",
    }


def _picture(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """A chart or drawing as a file. In: an answer's, and picture. Out: `svg` and its `name`."""
    made, outcome = _run(asked, guide)
    key = str(asked["picture"])
    drawn = pictures.stand_alone(_report(outcome), key, _system(asked))
    return {"svg": drawn, "name": f"{made.name}-{key}.svg"}


def _report(outcome: Outcome) -> Report:
    if outcome.lacks:
        raise _NotNow("what decides about your boat is not said yet")
    if outcome.report is None:
        raise _NotNow("a value needs mending first")
    return outcome.report


def _card(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """A reference card. In: an answer's, and boat, day, edition, address, paper. Out: `html`."""
    made, outcome = _run(asked, guide)
    imprint = _imprint(asked, guide, _address(asked, made, outcome))
    file = card.card(made, outcome, imprint, _paper(asked), _system(asked))
    return {"html": file, "name": _card_name(imprint, made.name)}


def _card_name(imprint: card.Imprint, what: str) -> str:
    """A card's file, named for its boat."""
    boat = f"{sheets.file_stem({'name': imprint.boat})}-" if imprint.boat else ""
    return f"{boat}{what}-card.html"


def _step_card(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """A card of a page's words. In: title, html, key, and a card's. Out: `html` and its `name`."""
    title, key = str(asked["title"]), str(asked.get("key", ""))
    imprint = _imprint(asked, guide, str(asked.get("address", "")))
    part = card.text_card(title, plain(str(asked["html"])), imprint)
    name = re.sub(r"[^a-z0-9]+", "-", key.lower()).strip("-")[:40] or "step"
    file = card.page(card.titled(title, imprint), [part], PAPERS[_paper(asked)])
    return {"html": file, "name": _card_name(imprint, name)}


def _paper(asked: Mapping[str, Any]) -> str:
    paper = asked.get("paper")
    return paper if isinstance(paper, str) and paper in PAPERS else "a5"


def _card_part(asked: Mapping[str, Any], guide: Guide) -> dict[str, Any]:
    """A card without the page round it, for a pack. Out: `title`, `verdict`, `part`."""
    made, outcome = _run(asked, guide)
    return {
        "title": made.title,
        "verdict": outcome.report.verdict
        if outcome.report
        else UNASKED
        if outcome.lacks
        else UNKNOWN,
        "part": card.answer_card(
            made, outcome, _imprint(asked, guide, _address(asked, made, outcome)), _system(asked)
        ),
    }


def _imprint(asked: Mapping[str, Any], guide: Guide, address: str) -> card.Imprint:
    return card.Imprint(
        boat=str(asked.get("boat", "")),
        day=datetime.date.fromisoformat(asked["day"]) if asked.get("day") else None,
        edition=str(asked.get("edition", "")),
        address=address,
        version=guide.version,
        house=str(asked.get("house", "")),
    )


def _address(asked: Mapping[str, Any], made: Calculator, outcome: Outcome) -> str:
    base = str(asked.get("address", ""))
    return f"{base}#{links.fragment(made, outcome.bound)}" if base else ""


_DOES: dict[str, Callable[[Mapping[str, Any], Guide], dict[str, Any]]] = {
    "answer": _answer,
    "rest": _rest,
    "open": _open,
    "sheet": _sheet,
    "verdicts": _verdicts,
    "boat file": _boat_file,
    "read boat file": _read_boat_file,
    "log add": _log_add,
    "log merge": _log_merge,
    "log file": _log_file,
    "figures": _figures,
    "picture": _picture,
    "card": _card,
    "card part": _card_part,
    "step card": _step_card,
}


def exercise(guide: Guide) -> None:
    """Runs every calculator for every demo boat in all unit systems, so that all is loaded."""
    for name, system, boat in itertools.product(guide.names(), SYSTEMS, guide.shelf("boat")):
        request = {"calculator": name, "example": {"boat": boat}, "units": system}
        for do in ("answer", "figures", "card"):
            handle(json.dumps({**request, "do": do, "day": "2026-01-01", "address": "a"}), guide)
    handle(json.dumps({"do": "sheet", "sheet": {"name": "a"}}), guide)
    pages: dict[str, Any] = {name: {} for name in guide.names()}
    handle(json.dumps({"do": "verdicts", "sheet": {"name": "a"}, "pages": pages}), guide)
    handle(json.dumps({"do": "open", "fragment": f"#a1:{guide.names()[0]}?"}), guide)
    handle(json.dumps({"do": "read boat file", "text": "name = 'a'"}), guide)
    handle(json.dumps({"do": "boat file", "sheet": {"name": "a"}}), guide)
    line = {"date": "2026-01-01", "entry": "reading", "hours": "1"}
    for name in [name for name, made in guide.sheet.fields.items() if isinstance(made, Log)]:
        begun = json.dumps({"do": "log add", "field": name, "log": "", "cells": line})
        added = {"field": name, "log": json.loads(handle(begun, guide))["log"]}
        handle(json.dumps({"do": "log merge", "text": added["log"], **added}), guide)
        handle(json.dumps({"do": "log file", "kind": "json", **added}), guide)
    handle(json.dumps({"do": "step card", "title": "a", "html": "<p>a</p>"}), guide)


def rehearsal(
    guide: Guide, most: float = 0.8, shown: Sequence[Mapping[str, Any]] = ()
) -> Iterator[None]:
    """Works out one answer a step: WebAssembly runs faster once it is used, and what a key leaves
    as it is has been found then. What is `shown` comes first, as it would be asked for, however
    slow it is; then all, for `most` seconds in all."""
    end = time.monotonic() + most
    for request in [*shown] * ROUNDS:
        handle(json.dumps({**request, "as": _REHEARSED}), guide)
        yield
        handle(json.dumps({"do": "rest", "of": _REHEARSED, "as": _REHEARSED}), guide)
        yield
    for name in itertools.cycle(guide.names()):
        if time.monotonic() >= end:
            return
        handle(json.dumps({"calculator": name}), guide)
        yield


def warm(guide: Guide) -> None:
    """Loads what every answer needs, and no more: a browser starts from the memory this leaves, and
    reads no file any more, the cards' font neither."""
    card_font.faces()
    for name in guide.names():
        handle(json.dumps({"calculator": name}), guide)
