"""Her log and her tasks."""

from __future__ import annotations

import datetime

from ..equipment.kinds import Unit
from ..equipment.upkeep import TaskRow
from ..frame import log
from ..frame.inputs import Inputs, Refusal, but, logbook, rows
from ..system.tasks import Rule
from ..system.upkeep import History, LastDone, Task
from .boost import AnyBoost
from .flush import Flush
from .groups import LOG, TASKS
from .pressure_side import Ratings
from .valves import Valves

HOUR = 3600.0  # s


class Log(Inputs, part=True):
    """What was done."""

    log = logbook(
        "Log",
        group=LOG,
        dates=True,
        jobs="tasks",
        help="A line for each reading of the hour meter and each job done: date, entry (reading, "
        "done or meter replaced), hours, task, note. It stays on this device.",
    )

    def history(self, today: datetime.date, started: datetime.date) -> History:
        """What it holds. Refuses days that contradict each other."""
        if started > today:
            raise Refusal("started", "{day} lies after today, {today}", day=started, today=today)
        entries = self.log or ()
        newest = log.latest(entries)
        if newest and newest > today:
            raise Refusal(
                "log",
                "the entry of {day} lies after today, {today}; is one of the two wrong?",
                day=newest,
                today=today,
            )
        readings = [(reading.day, reading.hours * HOUR) for reading in log.meter(entries)]
        done = {
            name: LastDone(found.day, found.hours * HOUR)
            for name, found in log.last_done(entries).items()
        }
        return History(readings, done)


# Whose a row is, and what says that the boat has one.
_ABOARD = {
    "boost": "has_boost",
    "relief": "has_relief",
    "switch": "low_pressure_switch",
    "carbon": "has_carbon",
    "meter": "salinity_meter",
}


class Tasks(AnyBoost, part=True):
    """What is done when."""

    has_boost = but(AnyBoost.has_boost, group=TASKS)
    has_relief = but(Ratings.has_relief, group=TASKS, by=(("unit", "relief_opens"),))
    low_pressure_switch = but(
        Valves.low_pressure_switch, label="Low-pressure switch", group=TASKS, open=False
    )
    has_carbon = but(Flush.has_carbon, label="Carbon filter for the flush", group=TASKS, open=False)
    salinity_meter = but(Valves.salinity_meter, label="Salinity meter", group=TASKS, open=False)
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

    def planned(self, unit: Unit | None) -> list[Task]:
        """The tasks of the list, their parts those of the whole unit; none of what isn't aboard.
        Refuses a list of none."""
        if not self.tasks:
            raise Refusal("tasks", "there is no task in the list")
        left_out = self.no_tasks()
        found = [
            _task(place, row, unit)
            for place, row in enumerate(self.tasks)
            if row.name not in left_out
        ]
        if not found:
            raise Refusal("tasks", "has tasks of things alone that aren't aboard")
        return found

    def no_tasks(self) -> list[str]:
        """Names of the tasks of the list that are none of this boat's."""
        return [row.name for row in self.tasks if not self.carries(row.part_of)]

    def unsure_tasks(self) -> list[str]:
        """Names of the tasks of the list that are kept, though the form says no: nobody spoke."""
        return [row.name for row in self.tasks if self._unsure(row.part_of)]

    def _unsure(self, what: str) -> bool:
        field = _ABOARD.get(what)
        return field is not None and not getattr(self, field) and field in self.unsaid

    def carries(self, what: str) -> bool:
        """Whether what a row is a part of is aboard: of what nobody spoke it may be."""
        field = _ABOARD.get(what)
        return field is None or bool(getattr(self, field)) or self._unsure(what)


def membranes_of(unit: Unit | None) -> int:
    """How many membranes a unit has; one where no unit is chosen."""
    return unit.membranes.count if unit else 1


def _task(place: int, row: TaskRow, unit: Unit | None) -> Task:
    rule = Rule(
        row.hours, row.months, row.first_hours, row.before_lay_up, row.after_lay_up, row.laid_up
    )
    price = row.price * (membranes_of(unit) if row.per == "membrane" else 1)
    return Task(place, row.name, rule, row.duration, price, row.who)
