"""What a page lays beside an answer to share and keep it. Scripts find these parts by their `data-` marks;
without a script the style sheet keeps them out of sight."""

from __future__ import annotations

import json
from collections.abc import Mapping
from html import escape

from .papers import PAPERS

_SYSTEMS = {"metric": "metric", "us": "US", "both": "both"}
_MARKS = {".": "1.5", ",": "1,5"}


def settings(system: str) -> str:
    """How numbers are shown: the choice of units, and of the decimal mark."""
    return (
        f'<div class="calc-units" data-tools role="group" aria-label="Units">Units {_choices("units", _SYSTEMS, system)}'
        "</div>"
        f'<div class="calc-units" data-tools role="group" aria-label="Decimal mark">Numbers '
        f"{_choices('decimal', _MARKS, '.')}</div>"
    )


def _choices(what: str, labels: Mapping[str, str], now: str) -> str:
    return "".join(
        f'<button type="button" data-{what}-choice value="{key}" '
        f'aria-pressed="{str(key == now).lower()}">{label}</button>'
        for key, label in labels.items()
    )


def whose(sheet_page: str) -> str:
    """Whose values a form shows: at first those of the page's example."""
    if not sheet_page:
        return '<p class="whose" data-whose></p>'
    address = escape(sheet_page, quote=True)
    return (
        f'<p class="whose" data-whose data-sheet-page="{address}">The page\'s own example. '
        f'<span class="whose-invites"><a href="{address}">Describe your boat</a> once, and every page '
        "answers for it.</span></p>"
    )


def keep_for_boat() -> str:
    """Takes what was typed here into the boat sheet; shown when there is something to take."""
    return '<button type="button" data-keep-for-boat hidden></button>'


def _card() -> str:
    papers = "".join(
        f'<option value="{key}">{escape(paper.name)}</option>' for key, paper in PAPERS.items()
    )
    return (
        '<p><button type="button" value="print">Card: print, or save as PDF</button> '
        '<button type="button" value="card">Card as a file</button> '
        f"<label>on <select data-paper>{papers}</select></label></p>"
        '<p class="keep-said" role="status" data-said></p>'
    )


def step_card(key: str, title: str) -> str:
    """The tools under a section of a page that is a card of its own; `key` is its heading's id."""
    return (
        f'<div class="keep step-card" role="group" data-tools data-step-card="{escape(key, quote=True)}" '
        f'data-search-exclude aria-label="{escape(title, quote=True)}, as a card">{_card()}</div>'
    )


def share_and_keep() -> str:
    """The tools under an answer: its link, its card on a paper, its figures."""
    return (
        '<div class="keep" role="group" data-tools data-keep data-search-exclude aria-label="Share and keep">'
        "<h3>Share and keep</h3>"
        '<p><button type="button" value="link">Copy a link to this answer</button> '
        '<button type="button" value="text">Copy the figures</button> '
        '<button type="button" value="csv">Figures as CSV</button></p>'
        f"{_card()}"
        '<textarea readonly hidden data-by-hand rows="3" aria-label="To copy by hand"></textarea>'
        "</div>"
    )


def try_it(texts: Mapping[str, str], told: str) -> str:
    """Fills the form with what a remedy names; `told` is the remedy."""
    filled = escape(json.dumps(texts, ensure_ascii=False, sort_keys=True), quote=True)
    return (
        f'<button type="button" class="quiet try" data-tools data-try="{filled}" '
        f'data-told="{escape(told, quote=True)}" aria-label="Try it: {escape(told, quote=True)}">Try it</button>'
    )


def tried() -> str:
    """Stands over an answer to what was only tried, with the way back."""
    return (
        '<p class="tried" data-tried hidden><span role="status"></span> '
        '<button type="button" class="quiet" data-undo-try>Undo</button></p>'
    )


def picture(key: str) -> str:
    """The tool under a chart or drawing."""
    return (
        '<p class="picture-tools" data-tools><button type="button" class="quiet" data-picture-svg '
        f'value="{escape(key, quote=True)}">Download as SVG</button></p>'
    )


def unsay(label: str) -> str:
    """Takes a list of the boat sheet back; shown when there is something to take back."""
    return (
        ' <button type="button" class="quiet" data-unsay hidden '
        f'aria-label="Back to not said: {escape(label, quote=True)}">Back to “not said”</button>'
    )


def boat_sheet() -> str:
    """The tools over the boat sheet: which boat, its file, and ways to begin again."""
    return (
        '<div class="sheet-tools" data-tools data-sheet-tools data-search-exclude>'
        "<label>Boat <select data-boats></select></label> "
        '<button type="button" value="another">Another boat</button> '
        '<button type="button" value="save">Save as a file</button> '
        '<button type="button" value="open">Open a file</button>'
        '<input type="file" accept=".json,.toml,.txt,application/json" hidden data-boat-file aria-label="A boat\'s file"> '
        '<button type="button" value="clear">Empty this sheet</button> '
        '<button type="button" value="remove">Remove this boat</button>'
        f'{said()}<p class="sheet-said" role="status" data-forgets></p></div>'
    )


def said() -> str:
    """Where a sentence stands about what was done to the boat, with its way back."""
    return '<p class="sheet-said" role="status" data-said></p>'
