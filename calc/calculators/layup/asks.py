"""What is asked about a rest, and how it reads into what is aboard."""

from __future__ import annotations

from ...frame.inputs import Refusal, ask, but, choice, is_one_of, yes_no
from ...frame.inputs import date as ask_date
from ...sheet.flush import UnitWater
from ...sheet.valves import Valves
from ...sheet.year import Keeping, LayUps
from ...system import rest as system
from ...system.held import Held

REST, KEEPS, AMOUNTS = "The rest", "What keeps how long", "What goes in"
PRACTICE = "common practice, no source"
_MOST_DAYS = 1830
_OWN = is_one_of("which", "own")
_FIRST = ("today", "which", "lay_ups", "start", "end", "frost", "warmest", "visits", "bag_along")


class Asks(LayUps, Keeping, first=_FIRST):
    today = ask_date("Today", "2026-05-01", open=True, today=True)
    which = choice(
        "Which rest",
        {"next": "the next one in your list", "own": "one of these dates"},
        "next",
        group=REST,
        open=True,
    )
    lay_ups = but(
        LayUps.lay_ups,
        group=REST,
        open=True,
        when=is_one_of("which", "next"),
        example=[{"start": "2026-08-05", "end": "2026-10-28", "warmest": "34 °C"}],
    )
    start = ask_date("You leave it on", "2026-08-05", group=REST, open=True, when=_OWN)
    end = ask_date("You wake it on", "2026-10-28", group=REST, open=True, when=_OWN)
    frost = yes_no("It may freeze there", "no", group=REST, open=True, when=_OWN)
    warmest = ask(
        "Warmest there",
        "25 °C",
        group=REST,
        open=True,
        at_least="-40 °C",
        at_most="70 °C",
        when=_OWN,
    )
    visits = ask(
        "Somebody can see to it every",
        "30 days",
        group=REST,
        open=True,
        at_least="1 days",
        at_most="1830 days",
        help="If nobody comes: as long as the rest.",
        when=_OWN,
    )
    bag_along = yes_no(
        "You take the bagged membranes with you",
        "no",
        group=REST,
        open=True,
        when=_OWN,
        help="Counts where it may freeze: you renew their preservative wherever you are.",
    )
    flush_every = but(Keeping.flush_every, group=KEEPS)
    preserve_after = but(Keeping.preserve_after, group=KEEPS)
    preservative = but(Keeping.preservative, group=KEEPS)
    preservative_limit = but(Keeping.preservative_limit, group=KEEPS)
    coldest = ask(
        "Coldest, where it may freeze",
        "-10 °C",
        group=KEEPS,
        at_least="-60 °C",
        at_most="0 °C",
        help="Counts only for a rest that may freeze.",
    )
    glycol_limit = ask(
        "The glycol mixture protects down to",
        "-20 °C",
        group=KEEPS,
        at_least="-60 °C",
        at_most="-1 °C",
        help="Its freezing point as sold, not the lower burst temperature that some cans give.",
    )
    unit_water = but(UnitWater.unit_water, group=AMOUNTS, open=False)
    glycol_surplus = ask(
        "Glycol beyond that",
        "50 %",
        group=AMOUNTS,
        at_least="0 %",
        at_most="300 %",
        basis="common practice, no source",
        help="The first of it is thinned by the water left behind and is not used; a little stays "
        "in the bucket.",
    )
    flush_water = but(Valves.flush_water, group=AMOUNTS)
    strength = ask(
        "Metabisulphite, of the mass of the water",
        "1 %",
        group=AMOUNTS,
        at_least="0.1 %",
        at_most="3 %",
        basis="trade pages give 1 %",
        help="The strength in the unit, once mixed with the water that the flush left there.",
    )
    bucket = ask(
        "Water in the bucket for the preservative",
        "10 L",
        group=AMOUNTS,
        at_least="1 L",
        at_most="500 L",
        basis=PRACTICE,
        help="It goes round through the unit and back.",
    )

    def rest(self) -> system.Rest:
        """The rest that is asked about: of one's own dates, or the next one that is not over.

        Refuses dates that make no sense, and a coldest above the warmest where it may freeze.
        """
        found = self._own() if self.which == "own" else self._next()
        if found.frost and self.coldest > found.warmest:
            sentence = "lies above the warmest of this rest: how cold does it get there?"
            raise Refusal("coldest", sentence)
        return found

    def _own(self) -> system.Rest:
        days = (self.end - self.start).days
        if days < 1:
            raise Refusal("end", "must come after the day you leave it")
        if days > _MOST_DAYS:
            raise Refusal("end", "lies more than five years after the day you leave it")
        return system.Rest(
            self.start, self.end, self.frost, self.warmest, self.visits, self.bag_along
        )

    def _next(self) -> system.Rest:
        self.check_lay_ups()
        coming = self.coming(self.today)
        if not coming:
            raise Refusal(
                "lay_ups",
                "none of these lay-ups ends after today, {today}: add the next one",
                today=self.today,
            )
        return coming[0]

    def cold(self) -> Held:
        """The coldest there, against what the glycol bears."""
        return Held(self.coldest, self.glycol_limit, least=True, zero=system.FREEZING)

    def amounts(self, laid: system.LaidUp) -> system.Amounts:
        """What a lay-up takes."""
        return system.amounts(laid, self.unit_water, self.flush_water, self.bucket, self.strength)
