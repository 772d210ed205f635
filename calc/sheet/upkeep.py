"""Her year, her log and her tasks."""

from __future__ import annotations

from ..equipment.upkeep import TaskRow
from ..frame.inputs import Inputs, ask, date, logbook, rows
from .groups import PRACTICE, TASKS, UPKEEP
from .year import LayUp, Month, Passage


class Calendar(Inputs, part=True):
    """Her year."""

    started = date("In service since", "2025-05-01", group=UPKEEP, dates=True)
    months = rows(
        "Months that differ",
        Month,
        one="month",
        most=12,
        group=UPKEEP,
        help="Where you make water for more or fewer hours a day than usual.",
    )
    passages = rows(
        "Passages and guests",
        Passage,
        one="stretch",
        group=UPKEEP,
        help="Stretches of days with hours of their own.",
    )
    lay_ups = rows(
        "Lay-ups",
        LayUp,
        one="lay-up",
        group=UPKEEP,
        dates=True,
        help="When nobody makes water: winter ashore, the storm season, a flight home.",
    )


class Keeping(Inputs, part=True):
    """How she is flushed and preserved."""

    flush_every = ask(
        "A fresh-water flush keeps",
        "7 days",
        group=UPKEEP,
        at_least="1 days",
        at_most="60 days",
        basis=PRACTICE,
        help="Up to 25 °C; half as long for each 10 K more.",
    )
    preserve_after = ask(
        "Longest rest on flushing alone",
        "14 days",
        group=UPKEEP,
        at_least="1 days",
        at_most="365 days",
        basis=PRACTICE,
        help="A longer one is preserved.",
    )
    preservative = ask(
        "The preservative keeps",
        "60 days",
        group=UPKEEP,
        at_least="7 days",
        at_most="365 days",
        basis="trade pages give 30 to 90 days",
        help="Up to 25 °C; half as long for each 10 K more.",
    )
    preservative_limit = ask(
        "The preservative bears up to",
        "35 °C",
        group=UPKEEP,
        at_least="10 °C",
        at_most="60 °C",
        basis="trade pages give 5 to 35 °C",
    )


class Log(Inputs, part=True):
    """What was done."""

    log = logbook(
        "Log",
        group=UPKEEP,
        dates=True,
        jobs="tasks",
        help="A line for each reading of the hour meter and each job done: date, entry (reading, "
        "done or meter replaced), hours, task, note. It stays on this device.",
    )


class Tasks(Inputs, part=True):
    """What is done when."""

    tasks = rows(
        "Tasks",
        TaskRow,
        shelf="task",
        belongs="unit",
        one="task",
        group=TASKS,
        folded=True,
        help="The intervals are this guide's own invention. Put in those of your maker.",
    )
