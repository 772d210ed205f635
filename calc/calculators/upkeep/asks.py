"""What is asked about a year of upkeep, and how it reads into a plan."""

from __future__ import annotations

from ...frame.inputs import ask, but
from ...frame.inputs import date as ask_date
from ...sheet.habits import Place
from ...sheet.machine import Named
from ...sheet.purse import Wages
from ...sheet.tasks import Log, Tasks
from ...sheet.year import USE, Keeping, Running
from ...system import rest
from ...system.upkeep import Plan, plan
from ...system.year import Year

REST = "Laying it up"
_PRACTICE = "common practice, no source"
_FIRST = (
    "today",
    "name",
    "unit",
    "log",
    "started",
    "use_by",
    "run_hours",
    "litres",
    "stands",
    "ambient_temperature",
    "spread",
    "months",
    "passages",
    "lay_ups",
    "flush_every",
    "preserve_after",
    "preservative",
    "preservative_limit",
    "tasks",
)


class Asks(Named, Log, Running, Keeping, Tasks, Wages, first=_FIRST):
    today = ask_date("Today", "2026-05-01", open=True, today=True)
    log = but(Log.log, open=True)
    stands = ask(
        "Longest it stands between two runs",
        "2 days",
        group=USE,
        open=True,
        at_least="0 days",
        at_most="366 days",
        basis=_PRACTICE,
        help="In the season, outside your lay-ups.",
    )
    ambient_temperature = but(Place.ambient_temperature, group=USE)
    spread = ask(
        "Your hours vary by",
        "30 %",
        group=USE,
        at_least="0 %",
        at_most="90 %",
        basis=_PRACTICE,
        help="More or less than planned, over months.",
    )
    months = but(Running.months, group=USE)
    passages = but(Running.passages, group=USE)
    lay_ups = but(Running.lay_ups, group=REST)
    flush_every = but(Keeping.flush_every, group=REST)
    preserve_after = but(Keeping.preserve_after, group=REST)
    preservative = but(Keeping.preservative, group=REST)
    preservative_limit = but(Keeping.preservative_limit, group=REST)

    def plan(self) -> tuple[Year, Plan]:
        """Her year and the plan that it makes. Refuses what contradicts itself."""
        history = self.history(self.today, self.started)
        year, keeps = self.her_year(), self.keeping()
        laid_up = [rest.lay_up(one, keeps) for one in self.coming(self.today)]
        tasks = self.planned(self.unit)
        return year, plan(self.today, year, history, tasks, self.spread, laid_up)
