"""The parts that wear or fail, and by which tasks they are changed."""

from __future__ import annotations

from collections.abc import Sequence

from ..equipment.kinds import Unit
from ..equipment.upkeep import PartRow
from ..frame.inputs import Refusal, nearest, rows
from ..system.spares import Part
from ..system.upkeep import Task
from .groups import PARTS
from .tasks import Tasks, membranes_of


class Parts(Tasks, part=True):
    """What wears or fails."""

    parts = rows(
        "Parts",
        PartRow,
        shelf="part",
        belongs="unit",
        one="part",
        group=PARTS,
        folded=True,
        help="Failure rates and lives are this guide's own invention; your own log knows better.",
    )

    def carried(self) -> list[PartRow]:
        """The parts of the list that are this boat's."""
        return [row for row in self.parts if not self._left_out(row)]

    def no_parts(self) -> list[str]:
        """Names of the parts of the list that are none of this boat's."""
        return [row.name for row in self.parts if self._left_out(row)]

    def unsure_parts(self) -> list[str]:
        """Names of the parts of the list that are kept, though nobody said that they are aboard."""
        return [row.name for row in self.parts if self._unsure(row.part_of)]

    def _left_out(self, row: PartRow) -> bool:
        tasks = {name.lower() for name in self.no_tasks()}
        return not self.carries(row.part_of) or (row.task or "").lower() in tasks

    def changed_by(
        self, tasks: Sequence[Task], unit: Unit | None
    ) -> list[tuple[Part, Task | None]]:
        """Each part of hers with the task of these that changes it. Refuses one of no task that is
        there."""
        return [(_part(row, unit), _task(row.task, tasks)) for row in self.carried()]


def _part(row: PartRow, unit: Unit | None) -> Part:
    """A part, its numbers those of the whole unit."""
    count = membranes_of(unit) if row.per == "membrane" else 1
    return Part(
        row.name,
        row.per_change * count,
        row.fitted * count,
        row.rate or 0.0,
        row.life,
        1.0 if row.shape is None else row.shape,
        row.age,
        row.mass,
        row.price,
    )


def _task(name: str | None, tasks: Sequence[Task]) -> Task | None:
    """The task that changes a part."""
    if not name:
        return None
    found = next((task for task in tasks if task.name.lower() == name.lower()), None)
    if found is None:
        names = [task.name for task in tasks]
        near = nearest(name, names)
        raise Refusal("parts", "no task is called “{name}”.{near}", name=name, near=near)
    return found
