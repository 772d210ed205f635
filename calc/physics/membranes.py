"""Membranes: how much water passes one, and how much salt, under a pressure.

Solution and diffusion: water by the pressure left over the osmotic one, salt by its concentration
at the wall. Concentrations in kg/m³, volumes are kept.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from calc.physics import seawater
from calc.physics._require import fraction, not_negative, positive
from calc.physics.roots import crossing

TEST_TEMPERATURE = 298.15  # K
_MOST = 0.98  # of a feed
_WARM, _COLD = 2640.0, 3020.0  # K: above and below it
_POLARISED = 0.7
_SALT_MASS = 0.05844  # kg/mol of sodium chloride


@dataclass(frozen=True)
class Membrane:
    """Of one element, at 25 °C: area [m²], permeability for water [m/(s Pa)] and for salt [m/s]."""

    area: float
    permeability: float
    salt_permeability: float


@dataclass(frozen=True)
class Passed:
    """What one element makes of its feed.

    Feed and product [m³/s], recovery [ratio] and flux [m/s]; salt [kg/m³] of the feed, at the wall,
    in the product and in the brine; the pressure that is left to drive it [Pa].
    """

    feed: float
    product: float
    recovery: float
    flux: float
    feed_salt: float
    wall_salt: float
    product_salt: float
    brine_salt: float
    driving: float

    @property
    def brine(self) -> float:
        """What leaves it again [m³/s]."""
        return self.feed - self.product


def temperature_correction(temperature: float) -> float:
    """Permeability at a temperature [K] over that at 25 °C [ratio].

    exp(2640 (1/298.15 - 1/T)) from 25 °C on, with 3020 below. Raises ValueError at 0 K. Source: the
    two-constant form of the trade, on several public pages.
    """
    constant = _WARM if temperature >= TEST_TEMPERATURE else _COLD
    return math.exp(constant * (1 / TEST_TEMPERATURE - 1 / positive(temperature, "the heat")))


def mean_factor(recovery: float) -> float:
    """Salt between feed and brine over that of the feed [ratio], of a recovery [ratio].

    The logarithmic mean, ln(1/(1-Y))/Y. Raises ValueError from a recovery of 1 on. Source: ASTM
    D4516 as cited by a university's public pages on desalination.
    """
    if not 0 <= recovery < 1:
        raise ValueError("the recovery must lie between 0 and 100 %")
    return -math.log1p(-recovery) / recovery if recovery > 1e-9 else 1.0


def polarisation(recovery: float) -> float:
    """Salt at the wall over that between feed and brine [ratio], of one element's recovery [ratio].

    exp(0.7 Y). Raises ValueError outside 0 to 1. Source: three public codes of spiral elements.
    """
    return math.exp(_POLARISED * fraction(recovery, "the recovery"))


def pressure_drop(drop: float, flow: float, test_flow: float) -> float:
    """Drop [Pa] along an element at a flow [m³/s], of its drop [Pa] at a test flow [m³/s].

    It grows with the flow to the power of 1.5. Raises ValueError for a test flow of nothing.
    Source: the normalisation of ASTM D4516 as cited by a university's pages on desalination.
    """
    share = not_negative(flow, "the flow") / positive(test_flow, "the flow of the test")
    return drop * share * math.sqrt(share)


def element(
    membrane: Membrane,
    feed: float,
    salt: float,
    pressure: float,
    correction: float,
    osmotic: Callable[[float], float],
) -> Passed:
    """What one element makes of a feed [m³/s] with its salt [kg/m³].

    Under the pressure [Pa] over the product's, half the element's drop taken off; the temperature's
    correction [ratio] goes for water and salt alike. `osmotic` gives the pressure [Pa] of a
    concentration. Raises ValueError for a feed of nothing. No water below the osmotic pressure.
    Source: solution and diffusion, J = A (p - pi_wall + pi_product), J_salt = B (c_wall - c):
    Lonsdale, Merten and Riley, J. Appl. Polym. Sci. 9 (1965) 1341-1362.
    """
    positive(feed, "the feed")
    water = membrane.permeability * correction
    passing = membrane.salt_permeability * correction
    least = pressure - osmotic(salt)
    if least <= 0:
        return Passed(feed, 0.0, 0.0, 0.0, salt, salt, salt, salt, least)
    full = water * membrane.area / feed  # recovery for each pascal

    area = membrane.area

    def states(y: float) -> tuple[float, float, float]:
        flux = y * feed / area
        wall = salt * mean_factor(y) * math.exp(_POLARISED * y)
        return flux, wall, passing * wall / (flux + passing) if passing else 0.0

    def lacks(y: float) -> float:
        flux, wall, product = states(y)
        return water * (pressure - osmotic(wall) + osmotic(product)) - flux

    # Two guesses, the salt at the wall growing by about a quarter more than the recovery.
    last = full * least / (1 + 1.25 * full * (pressure - least))
    missed = lacks(last) if last < _MOST else math.nan
    y = last + missed * membrane.area / feed / (1 + 1.3 * full * (pressure - least))
    for _ in range(8):
        if not 0 < y < _MOST:  # so also if it is none
            break
        found = lacks(y)
        if found == missed or abs(y - last) <= 1e-14:
            break
        last, y, missed = y, y - found * (y - last) / (found - missed), found
        if abs(y - last) <= 1e-12 * y:
            break
    else:
        y = math.nan
    if not 0 < y < _MOST:  # More can't pass than without any salt; and never all of it.
        y = crossing(lacks, 1e-12, min(_MOST, full * pressure), 1e-13)
    flux, wall, product = states(y)
    brine = (salt - y * product) / (1 - y)
    return Passed(feed, y * feed, y, flux, salt, wall, product, brine, flux / water)


def pressure_of(
    membrane: Membrane,
    feed: float,
    salt: float,
    product: float,
    correction: float,
    osmotic: Callable[[float], float],
) -> float:
    """The pressure [Pa] at which one element makes a product [m³/s]: `element`, turned round.

    Raises ValueError for a product of nothing or of all the feed. Source: as `element`.
    """
    y = positive(product, "the product") / positive(feed, "the feed")
    flux = product / membrane.area
    passing = membrane.salt_permeability * correction
    wall = salt * mean_factor(y) * polarisation(y)
    let_through = passing * wall / (flux + passing)
    return flux / (membrane.permeability * correction) + osmotic(wall) - osmotic(let_through)


def water_permeability(flux: float, driving: float) -> float:
    """Permeability for water [m/(s Pa)] of a flux [m/s] under a driving pressure [Pa].

    Raises ValueError where nothing drives it. Source: its definition, see `element`.
    """
    return flux / positive(driving, "the driving pressure")


def salt_permeability(flux: float, rejection: float, wall_factor: float) -> float:
    """Permeability for salt [m/s] of an element that was tested at a flux [m/s].

    From its rejection [ratio] of the feed's salt, and the salt at the wall over that of the feed.
    Raises ValueError where nothing is let through, or all. Source: as `element`.
    """
    if not 0 < rejection < 1:
        raise ValueError("the rejection must lie between 0 and 100 %, and be neither")
    passage = 1 - rejection
    return flux * passage / (wall_factor - passage)


def sodium_chloride_osmotic(concentration: float) -> float:
    """Osmotic pressure [Pa] at 25 °C of sodium chloride in water [kg/m³], up to 100 kg/m³.

    Raises ValueError outside. Source: Pitzer's equations with his parameters (J. Phys. Chem. 77
    (1973) 268-277; from memory), the solution's density 997.05 + 0.693 c (CoolProp).
    """
    if not 0 <= concentration <= 100:
        raise ValueError("the salt must lie between 0 and 100 g/L")
    solution = 997.05 + 0.693 * concentration
    molal = concentration / (solution - concentration) / _SALT_MASS
    root = math.sqrt(molal)
    phi = 1 - 0.3915 * root / (1 + 1.2 * root)
    phi += molal * (0.0765 + 0.2664 * math.exp(-2 * root)) + molal**2 * 0.00127
    return phi * 2 * molal * seawater.GAS_CONSTANT * TEST_TEMPERATURE * 997.05


def least_work(salinity: float, temperature: float, recovery: float) -> float:
    """Least work [J/m³] for pure water out of a sea [kg/kg, K] at a recovery [ratio], at best.

    The mean of the osmotic pressure while it grows saltier. Raises ValueError from a brine of
    120 g/kg on. Source: IOC, SCOR and IAPSO (2010), TEOS-10, by the work on each part of it.
    """
    sea = seawater.isotherm(temperature)
    if recovery >= 1 or salinity / (1 - recovery) > seawater.MOST_SALT:
        raise ValueError("so much water leaves a brine saltier than 120 g/kg")
    parts = 8
    step = recovery / parts
    at = [sea.osmotic_pressure(salinity / (1 - n * step)) for n in range(parts + 1)]
    weighed = sum(p * (1, 4, 2)[n % 2 if n % 2 else 2] for n, p in enumerate(at))
    return (weighed - at[0] - at[-1]) / (3 * parts)


def worked_series(
    one: Mapping[str, float], count: int, feed: float, salt: float, pressure: float, heat: float
) -> dict[str, float]:
    """Of elements one after the other in a worked example: product [m³/s], its salt and the
    brine's [kg/m³], recovery [ratio] and the last one's flux [m/s].

    `one` has area, permeability, salt_permeability, drop, and osmotic: bar for each kg/m³ at 25 °C,
    in proportion to the absolute temperature, or 0 for a sea's. Source: see `element`.
    """
    membrane = Membrane(one["area"], one["permeability"], one["salt_permeability"])
    sea = seawater.isotherm(heat).osmotic_of
    line = one["osmotic"] * 1e5 * heat / 298.15
    osmotic = (lambda c: line * c) if line else sea
    product = passed_salt = flux = 0.0
    flow, now = feed, salt
    for _ in range(count):
        made = element(
            membrane, flow, now, pressure - one["drop"] / 2, temperature_correction(heat), osmotic
        )
        product, flux = product + made.product, made.flux
        passed_salt += made.product * made.product_salt
        flow, now, pressure = made.brine, made.brine_salt, pressure - one["drop"]
    return {
        "product": product,
        "salt": passed_salt / product if product else salt,
        "brine_salt": now,
        "recovery": product / feed,
        "flux": flux,
    }
