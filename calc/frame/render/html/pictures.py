"""The pictures of an answer, with their titles and the numbers behind their curves."""

from __future__ import annotations

from html import escape

from ... import units
from ...language import spoken
from ...report import Chart, Report, Words, say
from .. import lanes, svg, tools
from ..spaces import said, worded
from .parts import words


def one_picture(made: Report, system: str, prefix: str) -> tuple[str, list[tuple[Words, str]]]:
    """The picture that says it at a glance, and the others with their titles."""
    found = _pictures(made, system, prefix)
    key = made.picture if made.picture in found else next(iter(found), "")
    others = [one for name, one in found.items() if name != key]
    return found[key][1] if key else "", others


def _pictures(made: Report, system: str, prefix: str) -> dict[str, tuple[Words, str]]:
    """All pictures by key, drawings first."""
    found: dict[str, tuple[Words, str]] = {}
    for d in made.drawings:
        title = say(d.title, system)
        if not d.to_scale:
            title = spoken("{title} (not to scale)", title=title)
        drawn = svg.drawing(d, system, prefix)
        found[d.key] = d.title, _picture(d.key, title, drawn)
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
