"""The membranes: elements one after the other, and what they make of a sea at a pressure."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from ..physics import membranes as physics
from ..physics import seawater
from ..physics.membranes import Membrane, Passed
from ..physics.roots import crossing
from .held import Held
from .sea import TEST, Sea
from .unfit import Unfit

TEST_SALT = 32.0  # kg/m3 of sodium chloride in the test of an element, ASTM D4194
HIGHEST_PRESSURE = 120e5  # Pa, beyond what any of these bears
_BEST, _WORST = 3e-10, 1e-15  # m/(s Pa): no membrane lies outside
# What a year takes of the water's permeability, and adds to the salt's. Common practice, no source.
YEARLY_LOSS = 0.07
# The other rule of the trade for a warmer sea, for each kelvin. Common practice, no source.
PER_KELVIN = 1.03


@dataclass(frozen=True)
class Elements:
    """What is stated of the elements: how many, and of one its area [m2], its test and its limits.

    Its test: pressure [Pa], recovery and rejection [ratio], product [m3/s] or None; its drop [Pa]
    at its highest feed [m3/s]. It bears a pressure [Pa], a flux [m/s], a sea as warm as this [K],
    and wants so much brine past it [m3/s], if that is stated.
    """

    count: int
    area: float
    rejection: float
    test_pressure: float
    test_recovery: float
    test_product: float | None
    drop: float
    highest_feed: float
    highest_pressure: float
    highest_flux: float
    hottest: float
    least_brine: float | None = None

    @property
    def test_wall(self) -> float:
        """Salt at its wall in its test, over that of the feed [ratio]."""
        return physics.mean_factor(self.test_recovery) * physics.polarisation(self.test_recovery)

    @property
    def test_driving(self) -> float:
        """What drives its test: pressure left over the osmotic one of the test's salt [Pa]."""
        let_through = TEST_SALT * (1 - self.rejection)
        wall = physics.sodium_chloride_osmotic(TEST_SALT * self.test_wall)
        return self.test_pressure - wall + physics.sodium_chloride_osmotic(let_through)

    @property
    def tested(self) -> float | None:
        """Permeability for water by its own test [m/(s Pa)], where its product there is stated."""
        if self.test_product is None or self.test_driving <= 0:
            return None
        return physics.water_permeability(self.test_product / self.area, self.test_driving)


@dataclass(frozen=True)
class Rated:
    """What a unit's papers state: fresh water [m3/s] at a pressure [Pa] out of a feed [m3/s]."""

    product: float
    pressure: float
    feed: float
    elements: Elements
    sea: Sea = TEST


@dataclass(frozen=True)
class Train:
    """Elements one after the other, with what passes them."""

    elements: Elements
    membrane: Membrane


@dataclass(frozen=True)
class Made:
    """What a train makes: water [m3/s], its salt [kg/m3], and the state of each element.

    Without water its salt is the sea's own.
    """

    sea: Sea
    feed: float
    pressure: float
    end_pressure: float
    states: tuple[Passed, ...]
    product: float
    product_salinity: float

    @property
    def recovery(self) -> float:
        """Fresh water over the feed [ratio]."""
        return self.product / self.feed

    @property
    def brine(self) -> float:
        """What goes overboard [m3/s]."""
        return self.states[-1].brine

    @property
    def brine_salinity(self) -> float:
        """Salt of what goes overboard [kg/m3]."""
        return self.states[-1].brine_salt

    @property
    def first(self) -> Passed:
        """The first element: it has the most flux."""
        return self.states[0]

    @property
    def last(self) -> Passed:
        """The last element: it has the least brine, and the saltiest."""
        return self.states[-1]

    @property
    def flux(self) -> float:
        """Flux of the element that has the most [m/s]."""
        return max(state.flux for state in self.states)


def _salt_permeability(elements: Elements, water: float) -> float:
    """Permeability for salt [m/s] by the element's test; its flux there by its permeability for
    water [m/(s Pa)] where the product of the test isn't stated."""
    tested = elements.test_product
    flux = water * elements.test_driving if tested is None else tested / elements.area
    return physics.salt_permeability(flux, elements.rejection, elements.test_wall)


def _fitted(product: Callable[[float], float], wanted: float) -> float:
    """The permeability for water that gives a wanted product. Raises Unfit where none does."""

    def off(exponent: float) -> float:
        return product(math.exp(exponent)) - wanted

    low, high = math.log(_WORST), math.log(_BEST)
    if wanted <= 0 or off(high) <= 0:
        raise Unfit("product")
    return math.exp(crossing(off, low, high, 1e-14))


@lru_cache(maxsize=256)
def train(rated: Rated) -> Train:
    """The train that gives what the papers state. Raises Unfit where no membrane could: "test" of
    an element, or "product"."""
    elements = rated.elements
    if elements.test_driving <= 0:
        raise Unfit("test")

    def of(water: float) -> Train:
        salt = _salt_permeability(elements, water)
        return Train(elements, Membrane(elements.area, water, salt))

    return of(
        _fitted(lambda a: made(of(a), rated.sea, rated.feed, rated.pressure).product, rated.product)
    )


def made(train: Train, sea: Sea, feed: float, pressure: float, back_pressure: float = 0.0) -> Made:
    """What a train makes of a sea out of a feed [m3/s] at a pressure [Pa], against a back pressure
    [Pa] in the product line. Source: `membranes.element`, one element after the other."""
    elements, correction = train.elements, physics.temperature_correction(sea.temperature)
    osmotic = seawater.isotherm(sea.temperature).osmotic_of
    flow, salt, at = feed, sea.concentration, pressure
    states = []
    product = passed = 0.0
    for _ in range(elements.count):
        drop = physics.pressure_drop(elements.drop, flow, elements.highest_feed)
        over = at - drop / 2 - back_pressure
        state = physics.element(train.membrane, flow, salt, over, correction, osmotic)
        states.append(state)
        product += state.product
        passed += state.product * state.product_salt
        flow, salt, at = state.brine, state.brine_salt, at - drop
    mixed = passed / product if product > 0 else sea.concentration
    return Made(sea, feed, pressure, at, tuple(states), product, mixed)


def pressure_for(
    train: Train, sea: Sea, feed: float, product: float, back_pressure: float = 0.0
) -> float | None:
    """The pressure [Pa] at which a train makes so much water [m3/s], None where none up to 120 bar
    does. Source: `made`, the other way round; of one element `membranes.pressure_of`."""
    if product <= 0:
        return sea.osmotic_pressure + back_pressure
    if product >= feed:
        return None
    count = train.elements.count
    drop = physics.pressure_drop(train.elements.drop, feed, train.elements.highest_feed)
    # Just above the osmotic pressure a leaky membrane gives some at once.
    floor = (sea.osmotic_pressure + drop / 2 + back_pressure) * (1 + 1e-12)
    low = max(floor, first_pressure(train, sea, feed, product / count, back_pressure))
    if low > HIGHEST_PRESSURE or count == 1:
        return low if low <= HIGHEST_PRESSURE else None

    def off(pressure: float) -> float:
        return made(train, sea, feed, pressure, back_pressure).product - product

    # The slope is much that of all elements together, so a few steps of the secant do.
    rise = train.membrane.permeability * physics.temperature_correction(sea.temperature)
    rise *= train.elements.area * count
    last, missed = low, off(low)
    if missed >= 0:
        return low
    now = low - missed / rise * 1.2
    for _ in range(20):
        found = off(now)
        if abs(found) <= 1e-11 * feed or found == missed:
            break
        last, now, missed = now, now - found * (now - last) / (found - missed), found
        if now > 2 * HIGHEST_PRESSURE:
            return None
    return now if now <= HIGHEST_PRESSURE else None


def first_pressure(
    train: Train, sea: Sea, feed: float, product: float, back_pressure: float = 0.0
) -> float:
    """The pressure [Pa] at which the first element makes so much water [m3/s]. Source:
    `membranes.pressure_of`."""
    drop = physics.pressure_drop(train.elements.drop, feed, train.elements.highest_feed)
    over = physics.pressure_of(
        train.membrane,
        feed,
        sea.concentration,
        product,
        physics.temperature_correction(sea.temperature),
        seawater.isotherm(sea.temperature).osmotic_of,
    )
    return over + drop / 2 + back_pressure


@lru_cache(maxsize=256)
def measured(train: Train, sea: Sea, feed: float, pressure: float, product: float) -> Train:
    """The train as it is, by the water [m3/s] that was measured of it. Raises Unfit ("product")
    where no membrane could give that. What passes of the salt stays as it was."""

    def of(water: float) -> Train:
        return replace(train, membrane=replace(train.membrane, permeability=water))

    return of(_fitted(lambda a: made(of(a), sea, feed, pressure).product, product))


def aged(train: Train, years: float) -> Train:
    """The train after years of use: less water passes it, and more salt."""
    kept, one = (1 - YEARLY_LOSS) ** years, train.membrane
    return replace(
        train,
        membrane=replace(
            one,
            permeability=one.permeability * kept,
            salt_permeability=one.salt_permeability / kept,
        ),
    )


def by_the_kelvin(train: Train, sea: Sea) -> Train:
    """The train as the trade's other rule for a warmer or colder sea has it: 3 % a kelvin."""
    other = PER_KELVIN ** (sea.temperature - physics.TEST_TEMPERATURE)
    share, one = other / physics.temperature_correction(sea.temperature), train.membrane
    return replace(
        train,
        membrane=replace(
            one,
            permeability=one.permeability * share,
            salt_permeability=one.salt_permeability * share,
        ),
    )


# ---- what it bears ----


def flux(train: Train, found: Made) -> Held:
    """The flux of the element that has the most, the first, against what one bears [m/s]."""
    return Held(found.flux, train.elements.highest_flux)


def brine(train: Train, found: Made) -> Held | None:
    """The brine past the last element against the least it wants [m3/s], if that is stated."""
    least = train.elements.least_brine
    return None if least is None else Held(found.last.brine, least, least=True)


def feed(train: Train, found: Made) -> Held:
    """The feed of the first element against the most that one bears [m3/s]."""
    return Held(found.first.feed, train.elements.highest_feed)


def warmth(train: Train, found: Made) -> Held:
    """The sea's warmth against what the elements bear [K]."""
    return Held(found.sea.temperature, train.elements.hottest, zero=273.15)


def least_work(found: Made) -> float | None:
    """The least work for this water out of this sea [J/m3]; None of a brine beyond what is known.

    Source: `membranes.least_work`.
    """
    try:
        return physics.least_work(found.sea.salinity, found.sea.temperature, found.recovery)
    except ValueError:
        return None
