"""The pictures of an answer, with their titles and the numbers behind their curves."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from html import escape
from typing import Any

from ... import units
from ...language import spoken
from ...report import Chart, Drawing, Report, Words, say
from .. import lanes, svg, tools
from ..spaces import said, worded
from .parts import words


def one_picture(
    made: Report, system: str, prefix: str, alone: bool = False
) -> tuple[str, list[tuple[Words, str]]]:
    """The picture that says it at a glance, and the others with their titles, unless it is wanted
    `alone`."""
    found = _pictures(made, system, prefix)
    key = made.picture if made.picture in found else next(iter(found), "")
    left = {} if alone else found
    others = [(title, draw()) for name, (title, draw) in left.items() if name != key]
    return found[key][1]() if key else "", others


_Picture = tuple[Words, Callable[[], str]]  # its title, and what draws it


def _pictures(made: Report, system: str, prefix: str) -> dict[str, _Picture]:
    """All pictures by key, drawings first."""
    found: dict[str, _Picture] = {}
    for d in made.drawings:
        found[d.key] = d.title, partial(_drawing, d, system, prefix)
    for c in made.charts:
        found[c.key] = c.title, partial(_chart, c, system, prefix)
    for t in made.timelines:
        found[t.key] = t.title, partial(_lanes, lanes.timeline, t, system, prefix)
    for b in made.bars:
        found[b.key] = b.title, partial(_lanes, lanes.bars, b, system, prefix)
    return found


def _drawing(made: Drawing, system: str, prefix: str) -> str:
    title = say(made.title, system)
    if not made.to_scale:
        title = spoken("{title} (not to scale)", title=title)
    return _picture(made.key, title, svg.drawing(made, system, prefix))


def _lanes(draw: Callable[[Any, str, str], str], made: Any, system: str, prefix: str) -> str:
    return _picture(made.key, say(made.title, system), draw(made, system, prefix))


def _picture(key: str, title: str, drawn: str, below: str = "") -> str:
    return (
        f'<figure class="picture" data-picture="{escape(key, quote=True)}">{drawn}'
        f"<figcaption>{said(title)}</figcaption>{below}{tools.picture(key)}</figure>"
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
        f'<details class="chart-data" data-key="chart-{escape(made.key)}"><summary>{worded("These curves as numbers")}'
        f'</summary><div class="table-scroll"><table class="plain"><thead><tr>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table></div>{f'<ul>{limits}</ul>' if limits else ''}</details>"
    )
    return _picture(made.key, say(made.title, system), svg.chart(made, system, prefix), numbers)
