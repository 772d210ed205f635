"""When it pays to change a part before it fails."""

from __future__ import annotations

from collections.abc import Sequence

from ...frame.report import Axis, Chart, Mark, Report, Series, line
from ...sheet.tasks import HOUR
from ...system.spares import Early, Need, early
from .asks import Asks

_CURVE = 60  # points


def told(q: Asks, worn: Sequence[Need], chosen: Need, show: Report) -> None:
    """When it pays to change each part that wears out, and one of them looked at closely."""
    found = [(need, early(need.part, q.stop_cost)) for need in worn]
    _table(found, show)
    _curve(chosen, next(one for need, one in found if need is chosen), show)


def _table(found: Sequence[tuple[Need, Early]], show: Report) -> None:
    """The best age of each part, and what it costs."""
    rows = []
    for need, one in found:
        best = one.best
        rows.append(
            [
                need.part.name,
                (best.age, "h") if best.age is not None else "never: run it to failure",
                "" if need.interval is None else (need.interval, "h"),
                (best.cost * 1000 * HOUR, "¤"),
                (best.cost_unplanned * 1000 * HOUR, "¤"),
            ]
        )
    show.table(
        "early",
        "When changing it early costs least",
        ("Part", "Best age", "By your list", "Per 1000 h at the best age", "Per 1000 h if never"),
        rows,
    )


def _curve(need: Need, found: Early, show: Report) -> None:
    """What it costs to change a part at an age, and the best of them."""
    best, planned = found.best, need.interval
    shown = 2 * (best.age or found.life)
    ages = [shown * (i + 3) / (_CURVE + 2) for i in range(_CURVE)]
    marks = [Mark("best", best.age)] if best.age is not None else []
    if planned is not None and planned < shown:
        marks.append(Mark("your list", planned))
    show.chart(
        Chart(
            "early",
            line("{part}: what it costs to change it at an age", part=need.part.name),
            Axis("Age at the change", "h"),
            Axis("Cost per running hour", "¤/h", 0.0),
            [Series("cost", [(age, found.cost_at(age)) for age in ages])],
            marks=marks,
            limits=[Mark("run to failure", best.cost_unplanned)],
            summary="Too early wastes parts, too late risks the stop; the lowest point is best."
            if best.age is not None
            else "It costs least to run it until it fails.",
        )
    )
    if best.age is not None:
        _best(found, best.age, show)


def _best(found: Early, age: float, show: Report) -> None:
    show.step(
        line("{part}: cost an hour at the best age", part=found.part.name),
        found.best.cost,
        "¤/h",
        "c = (C_p * R + C_u * (1 - R)) / A",
        {
            "C_p": (found.planned, "¤"),
            "C_u": (found.unplanned, "¤"),
            "R": (found.surviving(age), "%"),
            "A": (found.service(age), "h"),
        },
        "R. E. Barlow and L. C. Hunter, Oper. Res. 8 (1960) 90-100",
        note="R is the share that reaches that age, A the mean time in service up to it.",
    )
