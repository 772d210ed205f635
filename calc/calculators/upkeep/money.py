"""What upkeep costs a year, an hour, a litre."""

from __future__ import annotations

from collections.abc import Sequence

from ...frame.report import Bars, Report, line
from ...sheet.tasks import HOUR
from ...system.upkeep import Cost, Plan
from ...system.watermaking import Making
from ...system.year import in_a_year


def told(making: Making, made: Plan, costs: Sequence[Cost], show: Report) -> None:
    """The cost of a year, by task; the most expensive first."""
    year, total = in_a_year(made.use), sum(cost.total for cost in costs)
    show.figure("cost", "Upkeep a year", total, "¤", note="in the long run")
    if year > 0:
        show.figure("cost_hour", "Upkeep an hour", total / (year / HOUR), "¤")
        _steps(costs[0], show)
        _a_litre(making, total, year, show)
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


def _a_litre(making: Making, total: float, year: float, show: Report) -> None:
    """The cost over the water of a year, as it is made in her sea; none where there is hardly any
    water."""
    if making.dry:
        show.note(
            "At {p} it makes hardly any fresh water in this sea: nobody can tell what a litre "
            "costs. See on the page “Water from this sea” which pressure to set.",
            p=(making.pressure, "bar"),
        )
        return
    product = making.made.product
    show.figure("product", "Fresh water in this sea", product, "L/h")
    show.figure("cost_litre", "Upkeep a litre", total / (year * product), "¤/L")
    show.step(
        "Cost a litre",
        total / (year * product),
        "¤/L",
        "c_L = C / (T * Q)",
        {"C": (total, "¤"), "T": (year, "h"), "Q": (product, "L/h")},
        "Cost of a year over the water of a year; Q as on the page Water from this sea",
    )


def _steps(most: Cost, show: Report) -> None:
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
