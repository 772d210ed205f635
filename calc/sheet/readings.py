"""What is read on its gauges and meters: now, and on day one."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import NoReturn

from ..frame import units
from ..frame.inputs import Inputs, Refusal, aboard, ask, but, is_set
from ..system.occasion import as_read
from ..system.readings import Readings, Watermaker
from ..system.sea import Sea
from ..system.watermaking import Making, feed_on
from .boost import Boost
from .elements import Water
from .feed_line import FeedLine
from .groups import DAY_ONE, READ, WATERS_WAY
from .motor import Drive
from .size import Size

_VOLTS = 0.6, 1.3  # of the mains: beyond it is no reading of them
_MORE = 1.4  # times what the pump moves: no meter is so far off
_BEHIND = 0.3e5  # Pa: so much more behind the filters than before them is no reading
# Less than this of what it should be is none: a way is shut, or a meter dead. Common practice, no
# source.
NONE_LEFT = 0.05
_THEN = is_set("has_day_one")
_AT_25 = "As it would be at 25 °C, as most hand meters show it."


@lru_cache(maxsize=8)  # what bounds its pressure there is searched for, and asked more than once
def _in_sea(making: Making, sea: Sea) -> Making:
    return replace(making, sea=sea)


class Read(Inputs, part=True):
    """What is read now; each may be left empty."""

    read_before = ask(
        "Before the filters",
        unit="bar",
        group=READ,
        open=True,
        at_least="-1 bar",
        at_most="20 bar",
        optional=True,
    )
    read_behind = ask(
        "Behind the filters",
        unit="bar",
        group=READ,
        open=True,
        at_least="-1 bar",
        at_most="20 bar",
        optional=True,
    )
    read_pressure = ask(
        "High pressure",
        unit="bar",
        group=READ,
        open=True,
        at_least="0 bar",
        at_most="120 bar",
        optional=True,
    )
    read_product = ask(
        "Fresh water",
        unit="L/h",
        group=READ,
        open=True,
        at_least="0 L/h",
        at_most="1500 L/h",
        optional=True,
        help="With a bucket and a watch it is surer than on a float.",
    )
    read_brine = ask(
        "Brine overboard",
        unit="L/min",
        group=READ,
        open=True,
        at_least="0 L/min",
        at_most="150 L/min",
        optional=True,
    )
    read_conductivity = ask(
        "Conductivity of the fresh water",
        unit="µS/cm",
        group=READ,
        open=True,
        at_least="0 µS/cm",
        at_most="60000 µS/cm",
        optional=True,
        help=_AT_25,
    )
    read_temperature = ask(
        "Warmth of the sea",
        unit="°C",
        group=READ,
        open=True,
        at_least="-2 °C",
        at_most="36 °C",
        optional=True,
    )
    read_volts = ask(
        "Volts at the panel",
        unit="V",
        group=READ,
        open=True,
        at_least="0 V",
        at_most="500 V",
        optional=True,
    )
    read_amperes = ask(
        "Amperes of the motor",
        unit="A",
        group=READ,
        open=True,
        at_least="0 A",
        at_most="200 A",
        optional=True,
        help="On a meter that is fitted, or read by somebody licensed. Open no box for it.",
    )

    def read(self) -> Readings:
        """What is read now."""
        return Readings(
            before=self.read_before,
            behind=self.read_behind,
            pressure=self.read_pressure,
            product=self.read_product,
            brine=self.read_brine,
            conductivity=self.read_conductivity,
            temperature=self.read_temperature,
            volts=self.read_volts,
            amperes=self.read_amperes,
        )


class DayOne(Inputs, part=True):
    """What was read while all was well, on the same gauges."""

    has_day_one = aboard(
        "You wrote its readings down while all was well",
        "no",
        ("day_product", "day_brine", "day_pressure"),
        group=DAY_ONE,
        help="On the day it was commissioned, or soon after new filters or membranes.",
    )
    day_before = ask(
        "Before the filters, then",
        unit="bar",
        group=DAY_ONE,
        at_least="-1 bar",
        at_most="20 bar",
        optional=True,
        when=_THEN,
    )
    day_behind = ask(
        "Behind the filters, then",
        unit="bar",
        group=DAY_ONE,
        at_least="-1 bar",
        at_most="20 bar",
        optional=True,
        when=_THEN,
    )
    day_pressure = ask(
        "High pressure, then",
        unit="bar",
        group=DAY_ONE,
        at_least="0 bar",
        at_most="120 bar",
        optional=True,
        when=_THEN,
    )
    day_drop = ask(
        "Drop along the membranes, then",
        unit="bar",
        group=DAY_ONE,
        at_least="0 bar",
        at_most="20 bar",
        optional=True,
        when=_THEN,
    )
    day_product = ask(
        "Fresh water, then",
        unit="L/h",
        group=DAY_ONE,
        at_least="0 L/h",
        at_most="1500 L/h",
        optional=True,
        when=_THEN,
    )
    day_brine = ask(
        "Brine overboard, then",
        unit="L/min",
        group=DAY_ONE,
        at_least="0 L/min",
        at_most="150 L/min",
        optional=True,
        when=_THEN,
    )
    day_conductivity = ask(
        "Conductivity of the fresh water, then",
        unit="µS/cm",
        group=DAY_ONE,
        at_least="0 µS/cm",
        at_most="60000 µS/cm",
        optional=True,
        when=_THEN,
        help=_AT_25,
    )
    day_temperature = ask(
        "Warmth of the sea, then",
        unit="°C",
        group=DAY_ONE,
        at_least="-2 °C",
        at_most="36 °C",
        optional=True,
        when=_THEN,
    )
    day_salinity = ask(
        "Salt of the sea, then",
        unit="g/kg",
        group=DAY_ONE,
        at_least="0 g/kg",
        at_most="50 g/kg",
        optional=True,
        when=_THEN,
    )
    day_volts = ask(
        "Volts at the panel, then",
        unit="V",
        group=DAY_ONE,
        at_least="0 V",
        at_most="500 V",
        optional=True,
        when=_THEN,
    )
    day_amperes = ask(
        "Amperes of the motor, then",
        unit="A",
        group=DAY_ONE,
        at_least="0 A",
        at_most="200 A",
        optional=True,
        when=_THEN,
    )

    def day_one(self) -> Readings | None:
        """What was read on day one; None where nothing was."""
        found = self.read_then() if self.has_day_one else None
        return found if found and found.read else None

    def read_then(self) -> Readings:
        """What was read then, all of it empty where nothing was."""
        return Readings(
            before=self.day_before,
            behind=self.day_behind,
            pressure=self.day_pressure,
            drop=self.day_drop,
            product=self.day_product,
            brine=self.day_brine,
            conductivity=self.day_conductivity,
            temperature=self.day_temperature,
            salinity=self.day_salinity,
            volts=self.day_volts,
            amperes=self.day_amperes,
        )


class Gauged(Drive, Boost, FeedLine, Water, part=True):
    """All that shows on its gauges: feed line, membranes, pump and motor."""

    plungers = but(Size.plungers, group=WATERS_WAY)

    def watermaker(self, sea: Sea | None = None) -> Watermaker:
        """It as it should be, in a sea, the one about the boat if none is named."""
        there = sea or self.sea()
        machine = self.boosted(self.machine())
        making = self.making.in_sea(there)
        feed = feed_on(self.flow, self.unit.motor.frequency, self.ac_frequency)
        line = self.feed_line(there, feed, self.plungers, self.unit.pump)
        return Watermaker(making, line, machine)

    def no_brine(self, read: Readings) -> bool:
        """Whether no brine leaves it at work: a way out is shut, or its meter dead."""
        return read.brine is not None and read.brine < NONE_LEFT * self.making.feed

    def no_product(self, read: Readings) -> bool:
        """Whether no fresh water comes at a pressure that should give some."""
        if read.pressure is None or read.product is None:
            return False
        return read.product < NONE_LEFT * self.making_then(read).at(read.pressure).product

    def highest(self, read: Readings) -> float:
        """The highest pressure that is allowed in the sea as it was read [Pa]."""
        return self.making_then(read).highest

    def making_then(self, read: Readings) -> Making:
        """The membranes in the sea as it was read, in that of the sheet where it was not."""
        return _in_sea(self.making, as_read(self.sea(), read))

    def check_volts(self, volts: float | None, field: str) -> None:
        """Refuses volts that are none of these mains."""
        mains = self.ac_voltage
        low, high = _VOLTS[0] * mains, _VOLTS[1] * mains
        if volts is not None and not low <= volts <= high:
            raise Refusal(
                field,
                "must lie between {low} and {high}: the motor runs on mains of {mains}. The "
                "battery's volts are not asked here",
                low=units.text(low, "V"),
                high=units.text(high, "V"),
                mains=units.text(mains, "V"),
            )

    def check_readings(self, read: Readings, prefix: str) -> None:
        """Refuses readings that can't be so together, by field: its name behind a prefix."""

        def no(name: str, sentence: str, **slots: str) -> NoReturn:
            raise Refusal(prefix + name, sentence, **slots)

        feed = self.making.feed
        if read.product is not None and read.product >= feed:
            most = units.text(feed, "L/h")
            no("product", "must be less than the pump moves in all, {most}", most=most)
        if read.brine is not None and read.brine > _MORE * feed:
            most = units.text(_MORE * feed, "L/min")
            no(
                "brine",
                "must be no more than {most}: the pump moves less. Is the unit right?",
                most=most,
            )
        self.check_volts(read.volts, prefix + "volts")
        before, behind = read.before, read.behind
        if before is not None and behind is not None and behind > before + _BEHIND:
            no(
                "behind",
                "must be no more than the gauge before the filters reads, {before}: are the two "
                "changed over?",
                before=units.text(before, "bar"),
            )
        if read.pressure is not None and read.pressure <= 0:
            no("pressure", "must be more than nothing: readings are taken at work, under pressure")
