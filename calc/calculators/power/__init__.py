"""Will my generator, inverter, batteries, engine or sun run the watermaker, and for how long?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame import units
from ...frame.cautions import Facts, Rule, rules
from ...frame.guide import Decides, Told, decides
from ...frame.inputs import Refusal, is_set
from ...frame.report import FITS, Report
from ...physics.air import ZERO_CELSIUS
from ...system import motor
from ...system.aboard import Aboard
from ...system.motor import Water
from ...system.watermaking import Making
from .. import _motor, _sea
from . import bank, generator, lacks, side_by_side, working
from .asks import Asks
from .ways import ABLE, Way

TITLE = "Power"
WANTED = ("hours", "daily", "energy", "fuel_day")
PICTURE = "charge"
SLOW = True

ON_BANK = is_set("has_inverter")
DECIDES = decides(
    "unit",
    ("inverter_power", "generator_power"),
    Decides(("bank_chemistry",), ON_BANK),
    Decides(("bank_voltage",), ON_BANK),
    Decides(("bank_capacity",), ON_BANK),
)


FUEL_UNSAID = "fuel-unsaid"  # it may be petrol, whatever the answer takes it for


def _petrol(q: Facts) -> bool:
    return bool(q["has_generator"] and (q["fuel"] == "petrol" or FUEL_UNSAID in q))


def _frosty_lead(q: Facts) -> bool:
    lead = q["bank_chemistry"] != "lifepo4"
    return bool(q["has_inverter"] and lead and q["bank_temperature"] < ZERO_CELSIUS)


CAUTIONS = rules(
    "mains",
    Rule("one-source", lambda q: q["has_inverter"] and q["has_generator"]),
    "battery",
    Rule("lithium-cold", lambda q: q["has_inverter"] and q["bank_chemistry"] == "lifepo4"),
    Rule("lead-frost", _frosty_lead),
    Rule("carbon-monoxide", lambda q: q["has_generator"] or q["has_alternator"]),
    Rule("petrol", _petrol),
    "rotation",
    "pressure",
)


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    _refuse_the_feed(q)
    if "fuel" in q.unsaid:
        show.fact(FUEL_UNSAID)
    making = q.making_some()
    aboard = q.aboard()
    machine = aboard.machine
    water = motor.water(machine)
    show.take(_motor.judge(machine, water))
    if water is None:
        return lambda: working.stalled(show, machine)
    _tell_of_the_water(show, aboard, water, making)
    _sea.judge(making, show)
    _judge_the_air(show, aboard)
    sound = show.own()[0] in ABLE
    found = _ways(show, aboard, water)
    if not found:
        show.unknown(
            "no-source", "nothing is given that could run it: is there a generator or an inverter?"
        )

    def tell() -> Told:
        rows = [way.tell(show) for way in found]
        best = None if show.verdict == FITS else show.best_option()
        for way in found:
            if way.option is best:
                way.reaches(show)
        side_by_side.headline(show, making, aboard, water)

        def folded() -> None:
            for way in found:
                if way.option is not best:
                    way.reaches(show)
            side_by_side.tell(show, rows)
            if sound:  # no source mends pump and motor
                lacks.tell(q, show, aboard, water)
            working.motor_steps(show, aboard, water)
            for way in found:
                way.work(show)
            side_by_side.notes(q, making, show, aboard, water)

        return folded

    return tell


def _refuse_the_feed(q: Asks) -> None:
    """A feed that can't hold the stated water."""
    if q.product_flow >= q.flow:
        raise Refusal(
            "product_flow",
            "must be less than the feed of the pump, {feed}: fresh water is the part of the feed "
            "that passes the membrane",
            feed=units.text(q.flow, "L/h"),
        )


def _tell_of_the_water(show: Report, aboard: Aboard, water: Water, making: Making) -> None:
    """What a start draws, and what fresh water takes where anybody can tell."""
    show.figure(
        "start_current",
        "Motor draws at its start",
        water.rush.current,
        "A",
        note=_motor.starting_current(aboard.machine, water),
    )
    if not water.overfluxed:
        show.figure(
            "energy",
            "Energy for fresh water, boost pump included"
            if aboard.machine.boost_power > 0
            else "Energy for fresh water",
            water.energy,
            "Wh/L",
            note="at the motor, before any inverter",
        )
        show.figure("specific", "The same, as plants are compared", water.energy, "kWh/m3")
    show.figure("product", "Fresh water in this sea", water.product, "L/h")
    if not motor.own_hertz(aboard.machine):
        own = making.fed(aboard.machine.pump.flow).made.product
        show.figure("own_hertz", "The same on hertz that the motor is wound for", own, "L/h")
    show.figure("daily", "Fresh water a day", water.product * aboard.habits.run, "L")


def _judge_the_air(show: Report, aboard: Aboard) -> None:
    """In warmer air than its plate allows a motor's heat decides, and that is another page's."""
    limit = aboard.machine.plate.hottest_air
    if aboard.air.temperature > limit:
        show.unknown(
            "motor-air",
            "the motor is made for air of {m} at most and stands in {t}: see on the page "
            "“Keeping it cool” whether it stays cool enough",
            m=(limit, "°C"),
            t=(aboard.air.temperature, "°C"),
        )


def _ways(show: Report, aboard: Aboard, water: Water) -> list[Way]:
    """Every way to run it that is aboard, judged, the one that needs least first."""
    own, _ = show.own()
    found: list[Way] = []
    if aboard.generator is not None:
        found += generator.judge(show, aboard, water, own)
    if aboard.inverter is not None:
        found += bank.judge(show, aboard, water, own)
    return found
