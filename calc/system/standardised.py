"""What a watermaker's readings would be at the conditions of its papers, reading by reading.

The same osmotic pressure, film and correction for warmth as the pages on water reckon with, so that
a colder, a saltier sea or another pressure changes nothing here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

from ..physics import conductivity, membranes, normalised, seawater
from . import membranes as train_of
from .membranes import Made, Train
from .sea import Sea

FLOW, SALT, DROP = "flow", "salt", "drop"
SERIES = (FLOW, SALT, DROP)
# Why a reading is of no use: what it lacks, or what it says that can't be.
NO_PRESSURE, NO_WARMTH, NO_PRODUCT, NO_SEA = "pressure", "warmth", "product", "sea"
ALL_PRODUCT, NOT_DRIVEN = "all-product", "not-driven"
MOST_RECOVERY = 0.95  # of a feed: no membrane leaves less brine


class Read(NamedTuple):
    """What counts of a reading, each None where it was not read: product and brine [m3/s],
    pressure and drop [Pa], the sea's warmth [K] and salt [kg/kg], the product's conductivity at
    25 °C [S/m]. A `readings.Readings` has the same names."""

    product: float | None
    pressure: float | None
    temperature: float | None
    salinity: float | None
    brine: float | None
    drop: float | None
    conductivity: float | None


@dataclass(frozen=True)
class Standard:
    """What readings are brought to: a train by its papers in the sea of its papers, out of the
    feed [m3/s] and at the pressure [Pa] that they state.

    `feed` is what the pump moves [m3/s] where no brine was read; `salinity` [kg/kg] that of the sea
    where it was not read; `back_pressure` [Pa] that of the product line.
    """

    train: Train
    sea: Sea
    stated_feed: float
    stated_pressure: float
    feed: float
    salinity: float | None
    back_pressure: float

    @cached_property
    def count(self) -> int:
        """How many elements there are."""
        return self.train.elements.count

    @cached_property
    def made(self) -> Made:
        """What it makes there."""
        return train_of.made(self.train, self.sea, self.stated_feed, self.stated_pressure)

    @cached_property
    def wall(self) -> float:
        """Salt at the wall over that of the feed there [ratio]."""
        return normalised.wall_factor(self.made.recovery, self.count)

    @cached_property
    def driving(self) -> float:
        """Net driving pressure there [Pa]."""
        made, osmotic = self.made, seawater.isotherm(self.sea.temperature).osmotic_of
        return normalised.driving_pressure(
            made.pressure,
            made.pressure - made.end_pressure,
            0.0,
            osmotic(self.sea.concentration * self.wall),
            osmotic(made.product_salinity),
        )

    @cached_property
    def correction(self) -> float:
        """Its correction for warmth [ratio]."""
        return membranes.temperature_correction(self.sea.temperature)

    def drop(self, through: float) -> float:
        """Its drop along all elements by its papers [Pa], at a mean flow [m3/s] along them."""
        one = self.train.elements
        return one.count * membranes.pressure_drop(one.drop, through, one.highest_feed)

    @cached_property
    def through(self) -> float:
        """Mean flow of feed and brine there [m3/s]."""
        return self.stated_feed - self.made.product / 2


class Worked(NamedTuple):
    """A reading on its way to standard conditions: the sea's salt [kg/m3], recovery, salt at the
    wall over the feed's and correction for warmth [ratio], osmotic pressures and what drives it
    [Pa], drop [Pa] and the mean flow of feed and brine [m3/s], the salt of the product [kg/m3] or
    None."""

    salt: float
    recovery: float
    wall: float
    correction: float
    osmotic: float
    product_osmotic: float
    driving: float
    drop: float
    through: float
    product_salt: float | None


class Standardised(NamedTuple):
    """A reading at standard conditions: product [m3/s], salt passage [ratio] and drop along the
    membranes [Pa], None where it was not read; `why` not, where nothing could be found."""

    flow: float | None = None
    salt: float | None = None
    drop: float | None = None
    why: str = ""


@lru_cache(maxsize=4096)
def _salt_of(meter: float) -> float:
    return conductivity.salt_by_meter(meter, membranes.TEST_TEMPERATURE)


@lru_cache(maxsize=4096)
def _sea(temperature: float, salinity: float) -> tuple[float, float, Callable[[float], float]]:
    """Salt of a sea [kg/m3], its correction for warmth [ratio], and the osmotic pressure [Pa] of a
    salt [kg/m3] as warm as it."""
    osmotic_of = seawater.isotherm(temperature).osmotic_of
    correction = membranes.temperature_correction(temperature)
    return Sea(temperature, salinity).concentration, correction, osmotic_of


def worked(standard: Standard, read: Read) -> Worked | str:
    """A reading on its way to standard conditions, or why it is of no use."""
    product, pressure, temperature, salinity, brine, drop, meter = read
    if not product:
        return NO_PRODUCT
    if pressure is None:
        return NO_PRESSURE
    if temperature is None:
        return NO_WARMTH
    if salinity is None:
        salinity = standard.salinity
        if salinity is None:
            return NO_SEA
    feed = standard.feed if brine is None else brine + product
    recovery = product / feed
    if recovery >= MOST_RECOVERY:
        return ALL_PRODUCT
    through = feed - product / 2
    if drop is None:
        drop = standard.drop(through)
    salt, correction, osmotic_of = _sea(temperature, salinity)
    wall = normalised.wall_factor(recovery, standard.count)
    product_salt = None if meter is None else _salt_of(meter)
    osmotic = osmotic_of(salt * wall)
    in_product = standard.made.product_salinity if product_salt is None else product_salt
    product_osmotic = osmotic_of(in_product)
    driving = normalised.driving_pressure(
        pressure, drop, standard.back_pressure, osmotic, product_osmotic
    )
    if driving <= 0:
        return NOT_DRIVEN
    return Worked(
        salt, recovery, wall, correction, osmotic, product_osmotic, driving, drop, through,
        product_salt,
    )  # fmt: skip


def standardised(standard: Standard, read: Read) -> Standardised:
    """A reading at standard conditions. Source: `normalised`, ASTM D4516 as cited."""
    found = worked(standard, read)
    if isinstance(found, str):
        return Standardised(why=found)
    assert read.product is not None and read.temperature is not None
    flow = normalised.product_flow(
        read.product, found.driving, found.correction, standard.driving, standard.correction
    )
    salt = drop = None
    if found.product_salt and found.salt:
        salt = normalised.salt_passage(
            found.product_salt / found.salt,
            read.product,
            found.correction,
            found.wall,
            standard.made.product,
            standard.wall,
            standard.correction,
        )
    if read.drop:
        drop = normalised.pressure_drop(
            read.drop, found.through, read.temperature, standard.through
        )
    return Standardised(flow, salt, drop)


@lru_cache(maxsize=4)
def all_of(standard: Standard, read: tuple[Read, ...]) -> tuple[Standardised, ...]:
    """All readings at standard conditions."""
    return tuple([standardised(standard, one) for one in read])
