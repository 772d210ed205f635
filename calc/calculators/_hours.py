"""How much she usually runs, told alike on every page that counts her hours."""

from __future__ import annotations

from ..frame.report import Report
from ..sheet.year import Running

_APART = 0.01  # of the stated water: less is told alike


def told(q: Running, show: Report) -> None:
    """Usual running time a day; where it goes by litres, from the water that she makes here."""
    label = "Usual running time a day"
    if q.use_by == "hours":
        show.step(
            label, q.daily(), "h", "t_day = h_day", {"h_day": (q.run_hours, "h")}, "The boat sheet"
        )
        return
    making = q.making
    show.step(
        label,
        q.daily(),
        "h",
        "t_day = 86400 * V_day / Q",
        {"V_day": (q.litres, "L/day"), "Q": (making.made.product, "L/h")},
        "Water wanted over the water made; Q as on the page Water from this sea",
    )
    if abs(making.made.product / making.stated - 1) > _APART:
        show.note(
            "The hours are those of your sea: there it makes {q} at {p}, and its papers state {s}.",
            q=(making.made.product, "L/h"),
            p=(making.pressure, "bar"),
            s=(making.stated, "L/h"),
        )
    if making.ails:
        show.note(
            "The hours are reckoned from water that it should not make so: see on the page “Water "
            "from this sea” which pressure to set, and what its membranes bear."
        )
