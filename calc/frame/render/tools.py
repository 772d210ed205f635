"""What a page lays beside an answer to share and keep it. Scripts find these parts by their `data-` marks;
without a script the style sheet keeps them out of sight."""

from __future__ import annotations

import json
from collections.abc import Mapping
from html import escape

from ..language import chosen, spoken
from .choices import option
from .papers import PAPERS
from .spaces import named, worded

_SYSTEMS = {"metric": "metric", "us": "US", "both": "both"}
_MARKS = {".": "1.5", ",": "1,5"}
_OWN_EXAMPLE, _A_FILE = "The page's own example.", "A boat's file"


def settings(system: str) -> str:
    """How numbers are shown: the choice of units, and of the decimal mark."""
    return (
        f'<div class="calc-units" data-tools role="group" aria-label="{named("Units")}">{worded("Units")} {_choices("units", _SYSTEMS, system)}'
        "</div>"
        f'<div class="calc-units" data-tools role="group" aria-label="{named("Decimal mark")}">'
        f"{worded('Numbers')} {_choices('decimal', _MARKS, chosen.get().decimal_mark)}</div>"
    )


def _choices(what: str, labels: Mapping[str, str], now: str) -> str:
    return "".join(
        f'<button type="button" data-{what}-choice value="{key}" '
        f'aria-pressed="{str(key == now).lower()}">{worded(label)}</button>'
        for key, label in labels.items()
    )


def whose(sheet_page: str) -> str:
    """Whose values a form shows: at first those of the page's example."""
    if not sheet_page:
        return '<p class="whose" data-whose></p>'
    address = escape(sheet_page, quote=True)
    link = f'<a href="{address}">{worded("Describe your boat")}</a>'
    return (
        f'<p class="whose" data-whose data-sheet-page="{address}">{worded(_OWN_EXAMPLE)} '
        f'<span class="whose-invites">{worded("{link} once, and every page answers for it.", link=link)}'
        "</span></p>"
    )


def keep_for_boat() -> str:
    """Takes what was typed here into the boat sheet; shown when there is something to take."""
    return '<button type="button" data-keep-for-boat hidden></button>'


def _card() -> str:
    papers = "".join(option(key, escape(spoken(paper.name))) for key, paper in PAPERS.items())
    choices = f"<select data-paper>{papers}</select>"
    return (
        f'<p><button type="button" value="print">{worded("Card: print, or save as PDF")}</button> '
        f'<button type="button" value="card">{worded("Card as a file")}</button> '
        f"<label>{worded('on {paper}', paper=choices)}</label></p>"
        '<p class="keep-said" role="status" data-said></p>'
    )


def step_card(key: str, title: str) -> str:
    """The tools under a section of a page that is a card of its own; `key` is its heading's id."""
    return (
        f'<div class="keep step-card" role="group" data-tools data-step-card="{escape(key, quote=True)}" '
        f'data-search-exclude aria-label="{named("{title}, as a card", title=title)}">{_card()}</div>'
    )


def share_and_keep() -> str:
    """The tools under an answer: its link, its card on a paper, its figures."""
    return (
        '<div class="keep" role="group" data-tools data-keep data-search-exclude '
        f'aria-label="{named("Share and keep")}"><h3>{worded("Share and keep")}</h3>'
        f'<p><button type="button" value="link">{worded("Copy a link to this answer")}</button> '
        f'<button type="button" value="text">{worded("Copy the figures")}</button> '
        f'<button type="button" value="csv">{worded("Figures as CSV")}</button></p>'
        f"{_card()}"
        f'<textarea readonly hidden data-by-hand rows="3" aria-label="{named("To copy by hand")}">'
        "</textarea>"
        "</div>"
    )


def try_it(texts: Mapping[str, str], told: str) -> str:
    """Fills the form with what a remedy names; `told` is the remedy."""
    filled = escape(json.dumps(texts, ensure_ascii=False, sort_keys=True), quote=True)
    return (
        f'<button type="button" class="quiet try" data-tools data-try="{filled}" '
        f'data-told="{escape(told, quote=True)}" aria-label="{named("Try it: {way}", way=told)}">'
        f"{worded('Try it')}</button>"
    )


def tried() -> str:
    """Stands over an answer to what was only tried, with the way back."""
    return (
        '<p class="tried" data-tried hidden><span role="status"></span> '
        f'<button type="button" class="quiet" data-undo-try>{worded("Undo")}</button></p>'
    )


def picture(key: str) -> str:
    """The tool under a chart or drawing."""
    return (
        '<p class="picture-tools" data-tools><button type="button" class="quiet" data-picture-svg '
        f'value="{escape(key, quote=True)}">{worded("Download as SVG")}</button></p>'
    )


def unsay(label: str) -> str:
    """Takes a list of the boat sheet back; shown when there is something to take back."""
    return (
        ' <button type="button" class="quiet" data-unsay hidden '
        f'aria-label="{named("Back to not said: {label}", label=spoken(label))}">'
        f"{worded('Back to “not said”')}</button>"
    )


def boat_sheet() -> str:
    """The tools over the boat sheet: which boat, its file, and ways to begin again."""
    return (
        '<div class="sheet-tools" data-tools data-sheet-tools data-search-exclude>'
        f"<label>{worded('Boat')} <select data-boats></select></label> "
        f'<button type="button" value="another">{worded("Another boat")}</button> '
        f'<button type="button" value="save">{worded("Save as a file")}</button> '
        f'<button type="button" value="open">{worded("Open a file")}</button>'
        '<input type="file" accept=".json,.toml,.txt,application/json" hidden data-boat-file '
        f'aria-label="{named(_A_FILE)}"> '
        f'<button type="button" value="clear">{worded("Empty this sheet")}</button> '
        f'<button type="button" value="remove">{worded("Remove this boat")}</button>'
        f'{said()}<p class="sheet-said" role="status" data-forgets></p></div>'
    )


def said() -> str:
    """Where a sentence stands about what was done to the boat, with its way back."""
    return '<p class="sheet-said" role="status" data-said></p>'
