"""A day on which readings were taken, and what would have been read on it: in a world whose unsure
constants are as told, and with a fault."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from .faults import WELL, Fault
from .gaussian import Row
from .readings import IN_SHARES, METERS, NAMES, Condition, Readings, Watermaker, kv_of, solved
from .sea import Sea

World = dict[str, float]
# How unsure each constant of a healthy watermaker is, as a standard deviation: what stands, and
# what differs from one day to another: filters and strainer not quite clean, membranes a little
# older, mains that are never the same. Logarithms; of `suction` and `filters` Pa; of `warmth` what
# 10 K change in the membranes' permeability beyond their rule. Common practice, no source.
UNSURE: dict[str, tuple[float, float]] = {
    "water": (0.10, 0.025),
    "salt": (0.25, 0.06),
    "along": (0.35, 0.08),
    "flow": (0.04, 0.007),
    "boost": (0.08, 0.015),
    "stiff": (0.08, 0.01),
    "amperes": (0.1, 0.01),
    "volts": (0.015, 0.015),
    "hertz": (0.003, 0.003),
    "suction": (4e3, 1.5e3),
    "filters": (3e3, 4e3),
    "warmth": (0.05, 0.0),
    "salinity": (0.015, 0.02),
}
# Where no meter was held into the sea, and no pressure read: how unsure they are [K, logarithm].
# Common practice, no source.
SEA_UNSURE, PRESSURE_UNSURE = 0.8, 0.03
_COLDEST, _HOTTEST = 269.15, 313.15  # K
_SALTIEST = 0.055  # kg/kg
_MOST_KEPT = 400  # of what would be read on a day


@dataclass(frozen=True)
class Occasion:
    """A day on which readings were taken of a watermaker, and whether its regulating valve was
    turned to the gauge, or stood as on day one."""

    watermaker: Watermaker
    readings: Readings
    turned: bool = True

    @cached_property
    def given(self) -> frozenset[str]:
        """The readings that say where it works, and are not what it makes of that."""
        found = {"temperature", "salinity"} & self.readings.read.keys()
        return frozenset(found | {"pressure"} if self.turned else found)

    @cached_property
    def told(self) -> tuple[str, ...]:
        """The readings that a cause has to explain."""
        read, said = self.readings.read, self.given
        return tuple(name for name in NAMES if name in read and name not in said)

    @cached_property
    def sea(self) -> Sea:
        """The sea as it was read, else as the boat's is."""
        return as_read(self.watermaker.making.sea, self.readings)

    @property
    def pressure(self) -> float:
        """The pressure as it was read, else as it is set."""
        return self.readings.pressure or self.watermaker.making.pressure

    @cached_property
    def kept(self) -> dict[_Asked, Shown | None]:
        """What was found before for this watermaker in this sea at this pressure."""
        return _kept(self.watermaker, self.sea, self.pressure)

    def there(self, warm: float, salt: float, pressure: float, moves: float) -> Watermaker:
        """The watermaker in a sea [K, kg/kg] at a pressure [Pa], moving so many times its feed: the
        last one again where nothing of that is another, as with most faults."""
        asked = warm, salt, pressure, moves
        if asked not in self._last:
            made = self.watermaker.in_sea(Sea(warm, salt)).at(pressure)
            making = replace(made.making, feed=made.making.feed * moves)
            self._last.clear()
            self._last[asked] = replace(made, making=making)
        return self._last[asked]

    @cached_property
    def _last(self) -> dict[tuple[float, float, float, float], Watermaker]:
        return {}

    def spread(self, name: str) -> tuple[float, float]:
        """How unsure a constant, the sea or the pressure is on it: what stands, what differs."""
        read = self.readings.read
        meter = METERS.get(name)
        if name in ("temperature", "salinity", "pressure") and meter and name in read:
            return meter.standing, math.hypot(meter.noise, meter.drift)
        if name == "temperature":
            return 0.0, SEA_UNSURE
        if name == "pressure":
            return 0.0, PRESSURE_UNSURE
        return UNSURE[name]

    def vector(self) -> Row:
        """What was read, on the scale of each; of what was not, nought."""
        read = self.readings.read
        return [scaled(name, read[name]) if name in read else 0.0 for name in NAMES]


def as_read(sea: Sea, read: Readings) -> Sea:
    """A sea as it was read, as far as it was."""
    warm, salt = read.temperature, read.salinity
    return Sea(sea.temperature if warm is None else warm, sea.salinity if salt is None else salt)


WORLD = (*UNSURE, "temperature", "pressure")
_CALM = dict.fromkeys(WORLD, 0.0)


def scaled(name: str, value: float) -> float:
    """A reading on its scale: the logarithm of what is unsure by a share."""
    return math.log(max(value, 1e-12)) if name in IN_SHARES else value


def unscaled(name: str, value: float) -> float:
    """The reading of a value on its scale."""
    return math.exp(min(value, 50.0)) if name in IN_SHARES else value


@dataclass(frozen=True)
class Shown:
    """What would be read, on the scale of each, and how far the regulating valve is open."""

    values: Row
    opening: float


_Asked = tuple[tuple[tuple[str, float], ...], Fault, float | None]


@lru_cache(maxsize=4)  # now and day one: of all that one types, little moves them
def _kept(_watermaker: Watermaker, _sea: Sea, _pressure: float) -> dict[_Asked, Shown | None]:
    """What was found to be read on a day, by world, fault and opening."""
    return {}


def shown(
    occasion: Occasion, world: World, fault: Fault = WELL, opening: float | None = None
) -> Shown | None:
    """What would be read in a world and with a fault; None where it can't run so."""
    asked, kept = (tuple(world.items()), fault, opening), occasion.kept
    try:
        return kept[asked]  # which looks once through a long key
    except KeyError:
        if len(kept) >= _MOST_KEPT:
            kept.clear()
        return kept.setdefault(asked, _shown(occasion, world, fault, opening))


_IN_CONDITION = frozenset(
    ("water", "salt", "warmth", "along", "boost", "stiff", "volts", "hertz")
)  # unsure constants that a condition holds


def _shown(occasion: Occasion, world: World, fault: Fault, opening: float | None) -> Shown | None:
    unsure = _CALM | world
    off = dict(fault.errors)
    sea = occasion.sea
    warm = sea.temperature - unsure["temperature"] - off.get("temperature", 0.0) + fault.warmer
    warm = min(_HOTTEST, max(_COLDEST, warm))
    salt = min(_SALTIEST, sea.salinity * math.exp(fault.saltier - unsure["salinity"]))
    gauge = unsure["pressure"] + off.get("pressure", 0.0)
    pressure = occasion.pressure * math.exp(-gauge)
    there = occasion.there(warm, salt, pressure, math.exp(unsure["flow"]))
    condition = fault.condition
    if not _IN_CONDITION.isdisjoint(world):
        condition = _off(condition, unsure, unsure["warmth"] * (warm - 298.15) / 10)
    try:
        state = solved(there, condition, opening)
        valve = kv_of(state.made)
    except ValueError:
        return None
    values = [scaled(name, value) for name, value in state.shows.read.items()]
    values[AT["before"]] += unsure["suction"]
    values[AT["behind"]] += unsure["suction"] - unsure["filters"]
    values[AT["amperes"]] += unsure["amperes"]
    values[AT["pressure"]] += gauge
    for name, error in fault.errors:
        if name != "pressure":
            values[AT[name]] += error
    return Shown(values, valve)


def _off(one: Condition, unsure: World, warmth: float) -> Condition:
    """A condition in a world; `warmth`: what it adds to the logarithm of what passes of water."""
    moved = {
        "water": one.water * math.exp(unsure["water"] + warmth),
        "salt": one.salt * math.exp(unsure["salt"] + 2 * warmth),
        "along": one.along * math.exp(unsure["along"]),
        "boost": one.boost * math.exp(unsure["boost"]),
        "stiff": one.stiff * math.exp(unsure["stiff"]),
        "volts": one.volts * math.exp(unsure["volts"]),
        "hertz": one.hertz * math.exp(unsure["hertz"]),
    }
    return Condition(**(vars(one) | moved))  # `replace` takes twice as long


AT = {name: place for place, name in enumerate(NAMES)}
