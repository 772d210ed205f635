"""What is asked about a voyage and its spares, and how it reads into what is aboard."""

from __future__ import annotations

from datetime import date, timedelta

from ...equipment.kinds import Unit
from ...equipment.upkeep import PartRow
from ...frame.inputs import Refusal, ask, but, choice, nearest, rows, text
from ...frame.inputs import date as ask_date
from ...physics.calendar_days import add_months
from ...sheet.tasks import Log, Tasks, membranes_of
from ...sheet.year import Running
from ...system import spares as system
from ...system.upkeep import HORIZON, Job, Plan, plan
from ...system.year import Stretch, Year

AWAY, PARTS, USE, MONEY = "Far from a shop", "The parts", "Until you leave", "Changing it early"
_MOST_DAYS = 1830
_USUAL = 6  # months
_ONE_DAY = timedelta(days=1)
_FIRST = (
    "leave",
    "back",
    "away_hours",
    "spread",
    "confidence",
    "covers",
    "today",
    "unit",
    "parts",
    "tasks",
    "started",
    "log",
    "use_by",
    "run_hours",
    "litres",
)


class Asks(Log, Running, Tasks, first=_FIRST):
    leave = ask_date("You leave", group=AWAY, open=True, optional=True, help="Empty: today.")
    back = ask_date(
        "You reach the next shop",
        group=AWAY,
        open=True,
        optional=True,
        help="Empty: six months after you leave.",
    )
    away_hours = ask(
        "Water-making a day, away",
        unit="h",
        group=AWAY,
        open=True,
        at_least="0 h",
        at_most="24 h",
        optional=True,
        help="Empty: as in the plan of your year.",
    )
    spread = ask(
        "It may be more by",
        "30 %",
        group=AWAY,
        at_least="0 %",
        at_most="90 %",
        basis="common practice, no source",
        help="The box is counted for this much more use.",
    )
    confidence = ask(
        "Confidence you want",
        "95 %",
        group=AWAY,
        open=True,
        at_least="50 %",
        at_most="99.9 %",
        help="The chance that no part you need is missing.",
    )
    covers = choice(
        "Confidence is for", {"box": "the whole box", "each": "each part by itself"}, group=AWAY
    )
    today = ask_date("Today", "2026-05-01", open=True, today=True)
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
    started = but(Running.started, group=USE)
    log = but(Log.log, group=USE)
    use_by = but(Running.use_by, group=USE)
    run_hours = but(Running.run_hours, group=USE, open=False)
    litres = but(Running.litres, group=USE, open=False)
    months = but(Running.months, group=USE)
    passages = but(Running.passages, group=USE)
    lay_ups = but(Running.lay_ups, group=USE)
    look_at = text(
        "Part to look at closely",
        "Packing set",
        group=MONEY,
        help="One that wears out: when does it pay to change it before it fails?",
    )
    stop_cost = ask(
        "What a stop far out costs you",
        "250 ¤",
        group=MONEY,
        at_least="0 ¤",
        at_most="100000 ¤",
        basis="invented",
        help="Beyond part and work: water bought, a courier, a week lost.",
    )

    def carried(self) -> list[PartRow]:
        """The parts of the list that are this boat's."""
        return [row for row in self.parts if not self._left_out(row)]

    def no_parts(self) -> list[str]:
        """Names of the parts of the list that are none of this boat's."""
        return [row.name for row in self.parts if self._left_out(row)]

    def _left_out(self, row: PartRow) -> bool:
        tasks = {name.lower() for name in self.no_tasks()}
        of_boost = row.part_of == "boost" or (row.task or "").lower() in tasks
        return of_boost and not self.has_boost

    def days(self) -> tuple[date, date]:
        """Both days of the voyage; who has left already is counted for from today on.

        Refuses days that the plan does not reach, or that make no sense.
        """
        leave = max(self.leave or self.today, self.today)
        back = self.back or add_months(leave, _USUAL)
        if leave > add_months(self.today, HORIZON):
            raise Refusal("leave", "lies more than two years ahead: the plan does not reach so far")
        if back <= leave:
            raise Refusal(
                "back", f"must come after the day you leave, and after today, {self.today}"
            )
        if (back - leave).days > _MOST_DAYS:
            raise Refusal(
                "back", "lies more than five years after you leave: plan in shorter stretches"
            )
        return leave, back

    def voyage(self) -> tuple[Plan, system.Trip]:
        """The plan of her year, and the days away. Refuses what contradicts itself."""
        leave, back = self.days()
        if not self.parts:
            raise Refusal("parts", "there is no part in the list")
        if not self.carried():
            raise Refusal("parts", "has parts of a boost pump alone, and there is none")
        history = self.history(self.today, self.started)
        year = self._with_hours(self.her_year(), leave, back)
        tasks = self.planned(self.unit)
        made = plan(self.today, year, history, tasks, self.spread, until=back)
        use = year.use(leave, (back - leave).days, 1 + self.spread)
        return made, system.Trip(leave, back, use)

    def _with_hours(self, year: Year, leave: date, back: date) -> Year:
        """The year, in which the days away may have hours of their own."""
        if self.away_hours is None:
            return year
        return year.and_also(Stretch(leave, back - _ONE_DAY, self.away_hours))

    def needs(self, made: Plan, trip: system.Trip) -> list[system.Need]:
        """What each part asks for on the way.

        Refuses a task that is not in the list, and a part that fails too often to be carried.
        """
        try:
            return [
                system.need(_part(row, self.unit), _job(row.task, made), made, trip)
                for row in self.carried()
            ]
        except system.TooMany as error:
            raise Refusal(
                "parts",
                f"{error.name}: about {error.mean:.0f} failures are expected: too many to carry "
                "spares for",
            ) from None

    def looked_at(self, worn: list[system.Need]) -> system.Need | None:
        """The part whose curve is drawn, None where no part wears out. Refuses an unknown one."""
        if not worn:
            return None
        if not self.look_at:
            return worn[0]
        for need in worn:
            if need.part.name.lower() == self.look_at.lower():
                return need
        names = [need.part.name for need in worn]
        raise Refusal(
            "look_at",
            f"no part that wears out is called “{self.look_at}”.{nearest(self.look_at, names)} "
            f"Known: {', '.join(names)}",
        )


def _part(row: PartRow, unit: Unit | None) -> system.Part:
    """A part, its numbers those of the whole unit."""
    count = membranes_of(unit) if row.per == "membrane" else 1
    return system.Part(
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


def _job(task: str | None, made: Plan) -> Job | None:
    """The job that changes a part."""
    if not task:
        return None
    job = made.by_name(task)
    if job is None:
        names = [one.task.name for one in made.jobs]
        raise Refusal("parts", f"no task is called “{task}”.{nearest(task, names)}")
    return job
