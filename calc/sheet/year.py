"""The boat's year: her months, passages and lay-ups, how much she runs, and what keeps how long."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from itertools import pairwise

from ..frame import dates, units
from ..frame.inputs import Inputs, Refusal, ask, but, choice, date, is_one_of, rows, yes_no
from ..frame.language import phrase
from ..frame.report import Line, line
from ..system.rest import Keeping as Kept
from ..system.rest import Rest
from ..system.year import Stretch, Year, afloat
from .elements import Litres
from .groups import PRACTICE, UPKEEP
from .habits import WaterHours

DAY = 86400.0  # s
USE = "How much it runs"

MONTHS = {str(number): name for number, name in enumerate(dates.IN_FULL, 1)}


class Month(Inputs):
    """A month with a use of its own."""

    month = choice("Month", MONTHS)
    daily = ask("Hours a day", "0 h", at_least="0 h", at_most="24 h")


class Passage(Inputs):
    """Days with a use of their own."""

    start = date("From", "2026-06-01")
    end = date("To", "2026-06-14")
    daily = ask("Hours a day", "2 h", at_least="0 h", at_most="24 h")


class LayUp(Inputs):
    """Days on which it stands."""

    start = date("From", "2026-11-01")
    end = date("To", "2027-03-31", help="The day you wake it.")
    frost = yes_no("It may freeze there", "no")
    warmest = ask("Warmest there", "25 °C", at_least="-40 °C", at_most="70 °C")
    visits = ask(
        "Somebody can see to it every",
        "30 days",
        at_least="1 days",
        at_most="1830 days",
        help="If nobody comes: as long as the lay-up.",
    )
    bag_along = yes_no(
        "You take the bagged membranes with you",
        "no",
        help="Counts where it may freeze: you renew their preservative wherever you are.",
    )

    def rest(self) -> Rest:
        """The lay-up as it stands in the list."""
        return Rest(self.start, self.end, self.frost, self.warmest, self.visits, self.bag_along)


class Stretches(Inputs, part=True):
    """Since when she is in service, and what differs from her usual use."""

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


class LayUps(Inputs, part=True):
    """When she is laid up."""

    lay_ups = rows(
        "Lay-ups",
        LayUp,
        one="lay-up",
        group=UPKEEP,
        dates=True,
        folded=True,
        help="When nobody makes water: winter ashore, the storm season, a flight home.",
    )

    def check_lay_ups(self) -> None:
        """Refuses lay-ups that end before they begin, last for ever or overlap."""
        _check_stretches("lay_ups", "lay-up", self.lay_ups)
        ordered = sorted(self.lay_ups, key=lambda row: (row.start, row.end))
        for one, other in pairwise(ordered):
            if other.start <= one.end:
                raise Refusal("lay_ups", "two lay-ups overlap on {day}", day=other.start)

    def afloat(self, today: datetime.date) -> float:
        """Time [s] of the twelve months to come on which she is not laid up."""
        return afloat(self.stays(), today)

    def stays(self) -> list[Stretch]:
        """The days of each lay-up."""
        return [Stretch(row.start, row.end) for row in self.lay_ups]

    def coming(self, today: datetime.date) -> list[Rest]:
        """The lay-ups that are not over yet, the next one first."""
        found = [row.rest() for row in self.lay_ups if row.end >= today]
        return sorted(found, key=lambda rest: rest.start)


class Calendar(Stretches, LayUps, part=True):
    """Her year."""

    def check_year(self) -> None:
        """Refuses stretches that make no sense."""
        _check_stretches("passages", "passage", self.passages)
        self.check_lay_ups()

    def year(self, daily: float) -> Year:
        """Her year, with a usual running time a day [s]."""
        by_month = [daily] * 12
        for row in self.months:
            by_month[int(row.month) - 1] = row.daily
        passages = [Stretch(row.start, row.end, row.daily) for row in self.passages]
        return Year(self.started, by_month, passages, self.stays())


class Running(Calendar, Litres, part=True):
    """Her year, and how much she usually runs, by hours or by the water that is wanted: of what she
    makes in her sea."""

    use_by = choice(
        "Take its hours from", {"hours": "hours a day", "litres": "litres a day"}, group=USE
    )
    run_hours = but(WaterHours.run_hours, group=USE, when=is_one_of("use_by", "hours"))
    litres = ask(
        "Fresh water you want",
        "90 L/day",
        group=USE,
        open=True,
        above="0 L/day",
        at_most="24000 L/day",
        when=is_one_of("use_by", "litres"),
    )

    def daily(self) -> float:
        """Usual running time a day [s]. Refuses more water than a day's running makes, and a
        pressure that brings hardly any."""
        if self.use_by == "hours":
            return self.run_hours
        product = self.making_some().made.product
        if self.litres > product:
            raise Refusal(
                "litres",
                "must be at most {most}: more the unit does not make in 24 hours, in this sea and "
                "at this pressure",
                most=units.text(product, "L/day", rounding="down"),
            )
        return self.litres / product * DAY

    def her_year(self) -> Year:
        """Her year with its usual hours. Refuses what makes no sense."""
        self.check_year()
        return self.year(self.daily())


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

    def keeping(self) -> Kept:
        """What keeps how long."""
        return Kept(
            self.flush_every, self.preserve_after, self.preservative, self.preservative_limit
        )


def _check_stretches(field: str, one: str, rows: Sequence[Passage | LayUp]) -> None:
    for number, row in enumerate(rows, 1):
        if row.end < row.start:
            sentence = "{one} {n} ends on {day}, before it begins"
            raise Refusal(field, sentence, one=phrase(one), n=number, day=row.end)
        if (row.end - row.start).days > 3660:
            raise Refusal(field, "{one} {n} is longer than ten years", one=phrase(one), n=number)


# ---- days in words ----

_DAYS = (
    "{day} Jan {year}",
    "{day} Feb {year}",
    "{day} Mar {year}",
    "{day} Apr {year}",
    "{day} May {year}",
    "{day} Jun {year}",
    "{day} Jul {year}",
    "{day} Aug {year}",
    "{day} Sep {year}",
    "{day} Oct {year}",
    "{day} Nov {year}",
    "{day} Dec {year}",
)


def told(day: datetime.date) -> Line:
    """A date as pages write it: 5 May 2026."""
    return line(_DAYS[day.month - 1], day=day.day, year=day.year)
