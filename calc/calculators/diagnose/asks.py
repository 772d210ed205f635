"""What is read, seen and heard, and how it reads into what is diagnosed."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property

from ... import sheet
from ...frame.inputs import Refusal, ask, but, choice, is_set, yes_no
from ...sheet import BoatSheet as boat
from ...sheet.groups import READ as READ_NOW
from ...sheet.readings import Read
from ...system import trials
from ...system.diagnosis import Diagnosis, diagnose
from ...system.occasion import Occasion
from ...system.readings import NAMES, Readings
from .words import LABELS, READINGS

SEEN, TRIED = "What you see and hear", "What you tried"
READ = tuple("read_" + name for name in NAMES)
_UNSAID = {"unsaid": "not looked at", "no": "no", "yes": "yes"}
TURNED, STANDS = "turned", "stands"
# What the feed's gauges are expected to read hangs on these; unsaid and without a day one, nobody
# can tell.
_FEED = ("feed_bore", "feed_length", "pump_height", "cartridge_loss", "boost_shut_off")


def _sign(key: str, group: str = SEEN) -> str:
    return choice(LABELS[key], _UNSAID, "unsaid", group=group)


class Signs(sheet.Read, part=True):
    """What is seen, heard and tried."""

    sign_knock = _sign("knock")
    sign_tremble = _sign("tremble")
    sign_milky = _sign("milky")
    sign_drip = _sign("drip")
    sign_relief_runs = _sign("relief_runs")
    sign_bubbles = _sign("bubbles")
    sign_hot = _sign("hot")
    sign_hum = _sign("hum")
    sign_trips_at_once = _sign("trips_at_once")
    sign_trips_hot = _sign("trips_hot")
    sign_boost_alone_low = _sign("boost_alone_low", TRIED)
    sign_other_cause_of_salt = _sign("other_cause_of_salt", TRIED)
    sign_cable_loses = _sign("cable_loses", TRIED)
    sign_capacitor_weak = _sign("capacitor_weak", TRIED)
    sign_turns_hard = _sign("turns_hard", TRIED)
    sign_valve_seat = _sign("valve_seat", TRIED)
    sign_other_before = _sign("other_before", TRIED)
    sign_other_behind = _sign("other_behind", TRIED)
    sign_other_pressure = _sign("other_pressure", TRIED)
    sign_other_product = _sign("other_product", TRIED)
    sign_other_brine = _sign("other_brine", TRIED)
    sign_other_conductivity = _sign("other_conductivity", TRIED)
    sign_other_temperature = _sign("other_temperature", TRIED)
    sign_other_volts = _sign("other_volts", TRIED)
    sign_other_amperes = _sign("other_amperes", TRIED)

    def seen(self) -> dict[str, bool]:
        """What was looked for: whether it is so."""
        said = {sign.key: getattr(self, "sign_" + sign.key) for sign in trials.SIGNS}
        return {key: said == "yes" for key, said in said.items() if said != "unsaid"}


class Asks(
    sheet.Gauged,
    Signs,
    sheet.DayOne,
    sheet.ReadingsLog,
    first=("unit", *(name for name in READ if name in Read.fields), "has_day_one", "valve_is"),
):
    read_drop = ask(
        "Drop along the membranes",
        unit="bar",
        group=READ_NOW,
        at_least="0 bar",
        at_most="20 bar",
        optional=True,
        help="Both ends read on one gauge; of two, their difference would drown in their errors.",
    )
    read_salinity = ask(
        "Salt of the sea, measured",
        unit="g/kg",
        group=READ_NOW,
        at_least="0 g/kg",
        at_most="50 g/kg",
        optional=True,
        help="With a hydrometer or a conductivity meter.",
    )
    read_hertz = ask(
        "Hertz", unit="Hz", group=READ_NOW, at_least="35 Hz", at_most="80 Hz", optional=True
    )
    valve_is = choice(
        "The regulating valve",
        {TURNED: "was turned until its gauge read right", STANDS: "stands as it did on day one"},
        TURNED,
        group=READ_NOW,
        open=True,
        when=is_set("has_day_one"),
        help="A pressure tells of a fault only if nobody turned the valve since day one.",
    )
    two_faults = yes_no(
        "Two faults at a time",
        "no",
        group=READ_NOW,
        open=True,
        help="Where no single cause explains all that you read.",
    )
    has_day_one = but(boat.has_day_one, open=True)
    waters = but(boat.waters, help="For what you did not measure.")
    boost_pump = but(boat.boost_pump, open=False)
    has_boost = but(boat.has_boost, open=False)

    def now(self) -> Readings:
        """What is read now. Refuses what no set of this kind shows."""
        found = replace(
            self.read(), drop=self.read_drop, salinity=self.read_salinity, hertz=self.read_hertz
        )
        self.check_readings(found, "read_")
        return found

    @property
    def unsure_feed(self) -> bool:
        """Whether nobody can tell what the feed's gauges should read."""
        unsaid = any(name in self.unsaid for name in _FEED)
        day = self.first_day
        return unsaid and (day is None or (day.before is None and day.behind is None))

    @cached_property
    def first_day(self) -> Readings | None:
        """Day one, or the first lines of the log of readings where none was written down. Refuses
        what no set of this kind shows."""
        day = self.day_one()
        if day is not None:
            self.check_readings(day, "day_")
            return day
        day = self.first_read()
        if day is not None:
            try:
                self.check_readings(day, "")
            except Refusal as fault:
                raise Refusal(
                    "readings",
                    "begins with lines that stand for day one; of these “{what}” {why}",
                    what=READINGS[fault.field],
                    why=fault.told,
                ) from None
        return day

    @property
    def by_log(self) -> bool:
        """Whether the first lines of the log stand for day one."""
        return self.first_day is not None and self.day_one() is None

    def occasions(self) -> tuple[Occasion, Occasion | None]:
        """Now, and day one."""
        one = self.watermaker()
        read, day = self.now(), self.first_day
        if self.unsure_feed:
            read = replace(read, before=None, behind=None)
        stands = self.has_day_one and self.valve_is == STANDS
        turned = day is None or day.pressure is None or not stands
        return Occasion(one, read, turned), None if day is None else Occasion(one, day)

    @cached_property
    def pair(self) -> tuple[Occasion, Occasion | None]:
        """`occasions`, made once."""
        return self.occasions()

    def found(self) -> Diagnosis | None:
        """What the readings say; None where nobody can tell what a healthy one shows."""
        now, day = self.pair
        return diagnose(now, day, trials.weights(self.seen()))
