"""What the gauges and meters of a watermaker show: read aboard, or expected of a healthy one.

One solved state of feed line, pump, membranes and motor, the same that Water, Feed and Power tell
of; a `Condition` says what is wrong with it, and of a healthy one nothing is.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from functools import cached_property
from typing import Any, TypeVar

from ..physics import conductivity, motors, pumps, valves
from . import membranes
from .feed_line import ATMOSPHERE, FeedLine
from .feed_line import Water as Line
from .membranes import Made
from .motor import Machine
from .sea import Sea
from .watermaking import Making

# Gauge pressure at its inlet [Pa] at which a plunger pump no longer fills, whatever its line would
# still bring. Common practice, no source.
STARVES = -0.6e5
# Of a motor whose run capacitor is dead: share of its power factor that goes, and how much more it
# loses [ratio]. Common practice, no source.
CAPACITOR_POWER_FACTOR, CAPACITOR_LOSSES = 0.25, 0.5
# Share of its pressure that a centrifugal pump loses for each share of air in it. Common practice,
# no source.
BOOST_LOSES_BY_AIR = 2.0
Part = TypeVar("Part")


@dataclass(frozen=True)
class Readings:
    """What was read, each None where it was not.

    Gauge pressures before and behind the filters, of the pump, and its drop along the membranes
    [Pa]; product and brine [m3/s]; the product's conductivity at 25 °C [S/m]; the sea's warmth [K]
    and salt [kg/kg]; volts [V], amperes [A] and hertz [Hz] at the motor's branch.
    """

    before: float | None = None
    behind: float | None = None
    pressure: float | None = None
    drop: float | None = None
    product: float | None = None
    brine: float | None = None
    conductivity: float | None = None
    temperature: float | None = None
    salinity: float | None = None
    volts: float | None = None
    amperes: float | None = None
    hertz: float | None = None

    @property
    def read(self) -> dict[str, float]:
        """Those that were read, by their names."""
        found = zip(NAMES, _ALL(self), strict=True)
        return {name: value for name, value in found if value is not None}


NAMES = tuple(one.name for one in fields(Readings))
_ALL = operator.attrgetter(*NAMES)
ORDINARY = (
    "before", "behind", "pressure", "product", "brine", "conductivity", "temperature", "volts",
    "amperes",
)  # fmt: skip
# Read on a scale that begins at nothing: what is unsure of it is a share. The others are unsure by
# an amount, of pressure or of warmth.
IN_SHARES = frozenset(
    ("pressure", "product", "brine", "conductivity", "salinity", "volts", "amperes", "hertz")
)


@dataclass(frozen=True)
class Meter:
    """How unsure a reading is, as one standard deviation [Pa, K or share]: its noise each time,
    what it always shows too much or too little, and how far that has moved since day one."""

    noise: float
    standing: float
    drift: float

    @property
    def once(self) -> float:
        """All of it, of a reading that stands alone."""
        return math.sqrt(self.noise**2 + self.standing**2 + self.drift**2)


# Small gauges of class 1.6 to 2.5, a bucket and a watch, a hand meter for salt, a clamp ammeter.
# Common practice, no source.
METERS: dict[str, Meter] = {
    "before": Meter(2e3, 5e3, 2e3),
    "behind": Meter(2e3, 5e3, 2e3),
    "pressure": Meter(0.007, 0.02, 0.007),
    "drop": Meter(3e3, 2e3, 1e3),
    "product": Meter(0.015, 0.02, 0.007),
    "brine": Meter(0.015, 0.02, 0.007),
    "conductivity": Meter(0.02, 0.05, 0.03),
    "temperature": Meter(0.3, 0.5, 0.2),
    "salinity": Meter(0.01, 0.01, 0.005),
    "volts": Meter(0.005, 0.01, 0.003),
    "amperes": Meter(0.01, 0.02, 0.007),
    "hertz": Meter(0.001, 0.001, 0.001),
}


@dataclass(frozen=True)
class Watermaker:
    """All that shows on its gauges: membranes at work, feed line, and pump and motor."""

    making: Making
    line: FeedLine
    machine: Machine

    def in_sea(self, sea: Sea) -> Watermaker:
        """The same in another sea."""
        line = replace(self.line, water=Line.of(sea))
        return replace(self, making=self.making.in_sea(sea), line=line)

    def at(self, pressure: float) -> Watermaker:
        """The same with its regulating valve turned to another pressure [Pa]."""
        return replace(self, making=replace(self.making, pressure=pressure))

    @cached_property
    def motor(self) -> motors.Motor:
        """Its motor, connected for these mains."""
        return self.machine.plate.motor(self.machine.mains.voltage)

    @cached_property
    def turns(self) -> float:
        """How fast a healthy motor turns it [rev/s]. Raises ValueError where it may stall."""
        return _motor(self, HEALTHY, self.making.pressure, 1.0).speed

    @cached_property
    def known(self) -> dict[tuple[Any, ...], Any]:
        """What each of its parts does, by what bears on it: most faults leave most parts alone."""
        return {}

    def part(self, bearing: tuple[Any, ...], does: Callable[[], Part]) -> Part:
        """What a part does, its name and all that bears on it being the same as before or not."""
        if bearing not in self.known:
            self.known[bearing] = does()
        found: Part = self.known[bearing]
        return found


@dataclass(frozen=True)
class Condition:
    """What is wrong with a watermaker; as it stands, nothing is.

    filters: times their clean loss; strainer: share of its mesh that is blocked; boost: share of
    its pressure that the boost pump still gives; air: share of air in what the pump takes; stroke:
    share of its stroke that flows back through a valve; packing, relief: share of the flow that
    leaves there; hertz, volts: over those of the mains; cable: share of the volts lost on the way
    to the motor; capacitor: how far it is dead; stiff: times the torque; valve: times the opening
    of the regulating valve; water, salt, along: times
    what passes of water and of salt, and the drop along the membranes; leak: share of the brine
    that gets into the product; bypass: share of the feed that runs past the membranes.
    """

    filters: float = 1.0
    strainer: float = 0.0
    boost: float = 1.0
    air: float = 0.0
    stroke: float = 0.0
    packing: float = 0.0
    relief: float = 0.0
    valve: float = 1.0
    hertz: float = 1.0
    volts: float = 1.0
    cable: float = 0.0
    capacitor: float = 0.0
    stiff: float = 1.0
    water: float = 1.0
    salt: float = 1.0
    along: float = 1.0
    leak: float = 0.0
    bypass: float = 0.0


HEALTHY = Condition()


@dataclass(frozen=True)
class State:
    """A watermaker at work: what its pump takes and what of it gets to the membranes [m3/s], its
    crank over that of a healthy one [ratio], what is made, and what its meters would show."""

    takes: float
    fed: float
    speed: float
    made: Made
    shows: Readings


def expected(watermaker: Watermaker, sea: Sea | None = None) -> Readings:
    """What the meters of a healthy one show in a sea, its own if none is named, its regulating
    valve turned to its pressure. Raises ValueError where nobody can tell what its motor does."""
    there = watermaker if sea is None else watermaker.in_sea(sea)
    return solved(there).shows


def solved(
    watermaker: Watermaker, condition: Condition = HEALTHY, opening: float | None = None
) -> State:
    """The state of a watermaker in a condition: its regulating valve turned to its pressure, or
    standing where it has an opening, as Kv [m3/s at 1 bar].

    Raises ValueError where the motor stalls, or no water gets to the membranes.
    """
    making = watermaker.making
    if opening is None:
        return _at(watermaker, condition, making.pressure)
    kv = math.log(opening * condition.valve)

    def at(pressure: float) -> tuple[State, float]:
        state = _at(watermaker, condition, pressure)
        return state, math.log(kv_of(state.made)) - kv

    # The brine falls and the opening's flow rises with the pressure: as its square, all but.
    low, high = making.pressure / 20, 2 * membranes.HIGHEST_PRESSURE
    last = making.pressure
    state, missed = at(last)
    now = last * math.exp(2 * missed)
    for _ in range(40):
        if abs(missed) < 2e-5 or abs(now / last - 1) < 1e-4:
            return state
        low, high = (last, high) if missed > 0 else (low, last)
        if not low < now < high:
            now = math.sqrt(low * high)
        state, found = at(now)
        slope = (found - missed) / (now - last)
        last, missed = now, found
        now -= found / slope if slope else 0.0
    raise ValueError("no pressure drives this flow through the regulating valve")


def kv_of(made: Made) -> float:
    """The opening of the regulating valve that passes the brine of what is made, as Kv [m3/s at
    1 bar]. Source: `valves.flow_coefficient`, the brine as dense as the sea."""
    sea = made.sea
    return valves.flow_coefficient(
        made.brine,
        sea.density,
        made.end_pressure + ATMOSPHERE,
        ATMOSPHERE,
        sea.vapour_pressure,
        valves.NEEDLE_RECOVERY,
    )


def _motor(
    watermaker: Watermaker, condition: Condition, pressure: float, filled: float
) -> motors.Operation:
    """The motor in a condition, the pump against a pressure [Pa] and filled to a share."""
    machine = watermaker.machine
    pump, plate, mains = machine.pump, machine.plate, machine.mains
    asked = pumps.torque(pumps.shaft_power(pump.flow, pressure, pump.efficiency), plate.speed)
    motor = watermaker.motor
    if condition.capacitor:
        dead = condition.capacitor
        losses = (1 / motor.efficiency - 1) * (1 + CAPACITOR_LOSSES * dead)
        motor = replace(
            motor,
            power_factor=motor.power_factor * (1 - CAPACITOR_POWER_FACTOR * dead),
            efficiency=1 / (1 + losses),
        )
    volts = mains.voltage * condition.volts * (1 - condition.cable)
    torque = asked * filled * condition.stiff
    return motors.operate(motor, torque, volts, mains.frequency * condition.hertz)


def _line(line: FeedLine, condition: Condition, flow: float, air: float) -> FeedLine:
    """The feed line in a condition, a flow [m3/s] in it with a share of air."""
    boost = line.boost
    share = condition.boost * max(0.0, 1 - BOOST_LOSES_BY_AIR * air)
    if boost is not None and share != 1:
        boost = replace(boost, shut_off=boost.shut_off * max(share, 1e-6))
    filters = line.filters
    if condition.filters != 1:
        filters = replace(filters, rated_loss=filters.rated_loss * condition.filters)
    strainer = line.strainer
    if condition.strainer:
        clogged = strainer.rated_loss / (1 - condition.strainer) ** 2
        strainer = replace(strainer, rated_loss=clogged)
    return FeedLine(
        line.water,
        flow,
        line.intake,
        line.hose,
        strainer,
        filters,
        boost,
        line.inlet,
        line.moves,
        line.stiff,
    )


def _at(watermaker: Watermaker, condition: Condition, pressure: float) -> State:
    """The state at a pressure [Pa]."""
    making, machine = watermaker.making, watermaker.machine
    air, stroke = condition.air, condition.stroke
    filled = (1 - air) * (1 - stroke)
    work = watermaker.part(
        (
            "motor",
            pressure,
            filled,
            condition.capacitor,
            condition.volts,
            condition.cable,
            condition.stiff,
            condition.hertz,
        ),
        lambda: _motor(watermaker, condition, pressure, filled),
    )
    healthy = condition is HEALTHY and pressure == making.pressure
    speed = 1.0 if healthy else work.speed / watermaker.turns
    swept = making.feed * speed * (1 - stroke)
    takes, before, behind = watermaker.part(
        ("line", swept, air, condition.boost, condition.filters, condition.strainer),
        lambda: _fed(watermaker.line, condition, swept * (1 - air), air),
    )
    fed = takes * (1 - condition.packing - condition.relief)
    passes = fed * (1 - condition.bypass)
    made = watermaker.part(
        ("membranes", passes, pressure, condition.water, condition.salt, condition.along),
        lambda: membranes.made(
            _train(making, condition), making.sea, passes, pressure, making.back_pressure
        ),
    )
    leaks = condition.leak * fed
    product, salt = made.product + leaks, made.product_salinity
    if leaks:
        between = (made.sea.concentration + made.brine_salinity) / 2
        salt = (salt * made.product + between * leaks) / product
    volts = machine.mains.voltage * condition.volts
    shows = Readings(
        before,
        behind,
        pressure,
        pressure - made.end_pressure,
        product,
        fed - product,
        conductivity.meter_reading(min(salt, 60.0)),
        making.sea.temperature,
        making.sea.salinity,
        volts,
        work.current,
        machine.mains.frequency * condition.hertz,
    )
    return State(takes, fed, speed, made, shows)


def _fed(
    line: FeedLine, condition: Condition, flow: float, air: float
) -> tuple[float, float, float]:
    """What the pump takes [m3/s] where it would take a flow, and what gauges before and behind the
    filters read [Pa]."""
    line = _line(line, condition, flow, air)
    before, behind = line.gauges(dirty=False)
    if behind < STARVES:
        flow, line = _starved(line, flow)
        before, behind = line.gauges(dirty=False)
    return flow, before, behind


def _starved(line: FeedLine, most: float) -> tuple[float, FeedLine]:
    """What a line brings at the least pressure that its pump fills at [m3/s], at most so much."""
    low, high = 0.02 * most, most
    for _ in range(24):
        middle = (low + high) / 2
        if replace(line, flow=middle).inlet_pressure(dirty=False, moving=False) < STARVES:
            high = middle
        else:
            low = middle
    return low, replace(line, flow=low)


def _train(making: Making, condition: Condition) -> membranes.Train:
    """The membranes in a condition."""
    train, elements = making.train, making.train.elements
    if condition.along != 1:
        elements = replace(elements, drop=elements.drop * condition.along)
    one = train.membrane
    if condition.water != 1 or condition.salt != 1:
        one = replace(
            one,
            permeability=one.permeability * condition.water,
            salt_permeability=one.salt_permeability * condition.salt,
        )
    return membranes.Train(elements, one)
