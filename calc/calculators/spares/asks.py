"""What is asked about a voyage and its spares, and how it reads into what is aboard."""

from __future__ import annotations

from datetime import date, timedelta

from ...frame.inputs import Refusal, ask, but, choice, nearest, text
from ...frame.inputs import date as ask_date
from ...physics.calendar_days import add_months
from ...sheet.parts import Parts
from ...sheet.tasks import Log
from ...sheet.year import Running
from ...system import spares as system
from ...system.upkeep import HORIZON, Plan, plan
from ...system.year import Stretch, Year

AWAY, USE, MONEY = "Far from a shop", "Until you leave", "Changing it early"
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


class Asks(Log, Running, Parts, first=_FIRST):
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
                "back",
                "must come after the day you leave, and after today, {today}",
                today=self.today,
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
            jobs = {job.task: job for job in made.jobs}
            return [
                system.need(part, jobs[task] if task else None, made, trip)
                for part, task in self.changed_by(list(jobs), self.unit)
            ]
        except system.TooMany as error:
            raise Refusal(
                "parts",
                "{name}: about {n} failures are expected: too many to carry spares for",
                name=error.name,
                n=f"{error.mean:.0f}",
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
            "no part that wears out is called “{name}”.{near} Known: {names}",
            name=self.look_at,
            near=nearest(self.look_at, names),
            names=", ".join(names),
        )
