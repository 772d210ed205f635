"""What upkeep costs a year, an hour, a litre."""

from __future__ import annotations

from collections.abc import Sequence

from ...frame.report import Bars, Report, line
from ...sheet.tasks import HOUR
from ...system.upkeep import Cost, Plan
from ...system.year import in_a_year
from .asks import Asks


def told(q: Asks, made: Plan, costs: Sequence[Cost], show: Report) -> None:
    """The cost of a year, by task; the most expensive first."""
    year, total = in_a_year(made.use), sum(cost.total for cost in costs)
    show.figure("cost", "Upkeep a year", total, "¤", note="in the long run")
    if year > 0:
        show.figure("cost_hour", "Upkeep an hour", total / (year / HOUR), "¤")
        litres = year * q.product_flow * 1000
        show.figure("cost_litre", "Upkeep a litre", total / litres / 0.001, "¤/L")
        _steps(q, costs[0], total, year, show)
    spent = [cost for cost in costs if cost.total > 0]
    if not spent:
        return
    show.table(
        "costs",
        "What it costs a year, by task",
        ("Task", "Times a year", "Parts", "Work", "Together"),
        [
            (c.job.task.name, (c.times, ""), (c.parts, "¤"), (c.labour, "¤"), (c.total, "¤"))
            for c in spent
        ],
    )
    show.bar_chart(
        Bars(
            "cost-bars",
            "Upkeep a year, by task",
            "¤",
            [(c.job.task.name, c.total) for c in spent[:12]],
            line("{task} costs most.", task=spent[0].job.task.name),
        )
    )


def _steps(q: Asks, most: Cost, total: float, year: float, show: Report) -> None:
    task = most.job.task
    show.step(
        line("A year of the most expensive task: {task}", task=task.name),
        most.total,
        "¤",
        "c = n * (p + t * w)",
        {
            "n": (most.times, ""),
            "p": (task.price, "¤"),
            "t": (task.duration, "h"),
            "w": (most.wage, "¤/h"),
        },
        "Times a year: the more frequent of its hours, its months and its lay-ups",
    )
    show.step(
        "Cost a litre",
        total / (year * q.product_flow),
        "¤/L",
        "c_L = C / (T * Q)",
        {"C": (total, "¤"), "T": (year, "h"), "Q": (q.product_flow, "L/h")},
        "Cost of a year over the water of a year",
    )
