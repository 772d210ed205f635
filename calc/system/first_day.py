"""What was read on the first day, held against what a healthy watermaker shows: how far off, in
standard deviations of meter and model together."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from .cooling import WINDING_SHARE
from .ground import Ground, ground
from .held import Held as Limit
from .motor import Machine, Water
from .occasion import AT, Occasion, scaled, unscaled
from .readings import METERS, NAMES, Readings, Watermaker

OUT, DOUBTFUL = 3.0, 2.0
"""Standard deviations off from which on a reading is out, or doubtful. Common practice, no
source."""
TENTH = 0.1  # of a limit: within it the frame of a report calls it tight
IN, MAYBE, FAR = "in", "doubtful", "out"
LOW_VOLTS = 0.9  # of its volts: on less a motor need not start, NEMA MG 1
# How unsure what is known of the current at a start is, and of a frame's rise over its air, as a
# share, and that of a thermometer held to it [K]. Common practice, no source.
RUSH_UNSURE, FRAME_UNSURE, FRAME_METER = 0.15, 0.15, 3.0


@dataclass(frozen=True)
class Reading:
    """A reading, None where none was taken, against what is expected: all in SI. `low` and `high`
    bound what is in; `off` is how far it lies off in standard deviations, with its sign, nought
    where it is not too much or too little."""

    key: str
    expected: float
    low: float | None
    high: float | None
    read: float | None = None
    off: float = 0.0

    @property
    def state(self) -> str:
        """In, doubtful or out; "" where nothing was read."""
        if self.read is None:
            return ""
        return FAR if abs(self.off) > OUT else MAYBE if abs(self.off) > DOUBTFUL else IN

    @property
    def held(self) -> Limit:
        """How far it is off, whichever way; doubtful where less than a tenth is left over."""
        return Limit(abs(self.off), OUT, zero=OUT - (OUT - DOUBTFUL) / TENTH)


@dataclass(frozen=True)
class Others:
    """What no gauge of `Readings` shows, each None where it was not read: volts [V] at rest and at
    the start, amperes then [A], the motor's frame and the air beside it [K]."""

    rest_volts: float | None = None
    start_volts: float | None = None
    start_amperes: float | None = None
    frame: float | None = None
    air: float | None = None


@dataclass(frozen=True)
class FirstDay:
    """All that is expected, in the order in which it is read, and what was read of it."""

    readings: tuple[Reading, ...]

    def __getitem__(self, key: str) -> Reading:
        return next(one for one in self.readings if one.key == key)

    @property
    def taken(self) -> tuple[Reading, ...]:
        """Those that were read."""
        return tuple(one for one in self.readings if one.read is not None)


def first_day(
    watermaker: Watermaker,
    read: Readings,
    others: Others,
    water: Water | None,
    rise: float,
    feed_known: bool = True,
) -> FirstDay | None:
    """What should be read in the sea and at the pressure that were read, else in those of the
    boat's sheet, and what was. `rise` [K] is the winding's at its rated load; the feed's gauges are
    left out unless all is known that they hang on. None where a healthy one can't run so."""
    known = ground(Occasion(watermaker, read), None)
    if known is None:
        return None
    found = list(_gauged(known, read, feed_known))
    if water is not None:
        found = [*_electrical(watermaker.machine, water, others), *found]
        found += _warm(watermaker.machine, water, others, rise)
    return FirstDay(tuple(found))


def _gauged(known: Ground, read: Readings, feed: bool) -> Iterator[Reading]:
    """The gauges and meters, but those that say where it works."""
    taken = read.read
    for name in NAMES:
        if name in ("pressure", "temperature", "salinity", "hertz"):
            continue
        if name in ("before", "behind") and not feed:
            continue
        place = AT[name]
        mean, spread = known.well[place], math.sqrt(known.covariance[place][place])
        value = taken.get(name)
        off = 0.0 if value is None else (scaled(name, value) - mean) / spread
        low, high = (unscaled(name, mean + k * DOUBTFUL * spread) for k in (-1, 1))
        least = low if low > 0 or name != "drop" else None
        yield Reading(name, unscaled(name, mean), least, high, value, off)


def _electrical(machine: Machine, water: Water, read: Others) -> Iterator[Reading]:
    """Volts at rest and at the start, and the amperes of the start."""
    volts, meter = machine.mains.voltage, METERS["volts"].once
    unsure = meter * volts
    off = 0.0 if read.rest_volts is None else (read.rest_volts - volts) / unsure
    yield Reading(
        "rest_volts",
        volts,
        volts - DOUBTFUL * unsure,
        volts + DOUBTFUL * unsure,
        read.rest_volts,
        off,
    )
    kept = LOW_VOLTS * volts
    off = 0.0 if read.start_volts is None else min(0.0, (read.start_volts - kept) / unsure)
    yield Reading("start_volts", kept, kept, None, read.start_volts, off)
    surge = water.start_current(volts / water.load.motor.voltage)
    unsure = math.hypot(METERS["amperes"].once, RUSH_UNSURE) * surge
    off = 0.0
    if read.start_amperes is not None:
        off = max(0.0, (read.start_amperes - surge) / unsure)
    high = surge + DOUBTFUL * unsure
    yield Reading("start_amperes", surge, None, high, read.start_amperes, off)


def frame_rise(machine: Machine, water: Water, rise: float) -> float:
    """How much warmer than the air beside it the frame gets at this load, settled [K]."""
    motor = water.load.motor
    rated = motor.output / motor.efficiency - motor.output
    return rise * (1 - WINDING_SHARE) * water.load.at_work.losses / rated


def _warm(machine: Machine, water: Water, read: Others, rise: float) -> Iterator[Reading]:
    """The frame over the air beside it: cooler than expected is no fault."""
    expected = frame_rise(machine, water, rise)
    unsure = math.hypot(FRAME_UNSURE * expected, FRAME_METER)
    high = expected + DOUBTFUL * unsure
    value, off = None, 0.0
    if read.frame is not None and read.air is not None:
        value = read.frame - read.air
        off = max(0.0, (value - expected) / unsure)
    yield Reading("frame", expected, None, high, value, off)
