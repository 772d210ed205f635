"""Readings of membranes as they would be at standard conditions, so that they can be compared.

ASTM D4516-19a, as public pages cite it; the text of the standard itself was not seen. Its mean of
feed and brine is taken at the wall, where the water passes: without the film a colder sea looks
like a change of some 5 %.
"""

from __future__ import annotations

import math

from calc.physics import membranes
from calc.physics._require import not_negative, positive

_WARMTH_OF_DROP = 0.017  # for each kelvin above 25 °C


def wall_factor(recovery: float, elements: int) -> float:
    """Salt at the wall over that of the feed [ratio], of elements one after the other.

    The logarithmic mean of all of them at a recovery [ratio], and each one's film by its own share
    of it. Raises ValueError from a recovery of 1 on, or for none. Source: `membranes.mean_factor`,
    ASTM D4516, and `membranes.polarisation`.
    """
    if elements < 1:
        raise ValueError("there must be an element")
    mean = membranes.mean_factor(recovery)
    own = recovery if elements == 1 else 1 - (1 - recovery) ** (1 / elements)
    return mean * membranes.polarisation(own)


def driving_pressure(
    pressure: float, drop: float, back: float, osmotic: float, product_osmotic: float
) -> float:
    """Net driving pressure [Pa]: that of the feed [Pa], less half the drop [Pa], the product's
    [Pa] and the osmotic one of the salt outside [Pa], with that of the product [Pa].

    Raises nothing. Source: ASTM D4516-19a, section 6.1, as cited.
    """
    return pressure - drop / 2 - back - osmotic + product_osmotic


def product_flow(
    flow: float, driving: float, correction: float, standard_driving: float, standard: float = 1.0
) -> float:
    """Product [m³/s] as it would be under the standard driving pressure [Pa] and its correction for
    warmth [ratio], of a flow [m³/s] under another [Pa] and its correction [ratio].

    Raises ValueError where nothing drives it. Source: ASTM D4516-19a, section 6.1, as cited:
    Q (p_s k_s) / (p k).
    """
    driven = positive(driving, "the driving pressure") * positive(correction, "the correction")
    return flow * standard_driving * standard / driven


def salt_passage(
    passage: float,
    flow: float,
    correction: float,
    factor: float,
    standard_flow: float,
    standard_factor: float,
    standard: float = 1.0,
) -> float:
    """Salt of the product over that of the feed [ratio] as it would be at the standard product
    [m³/s], its correction for warmth [ratio] and its salt outside over that of the feed [ratio].

    Of a passage [ratio] at a product [m³/s], a correction [ratio] and such a factor [ratio]. Raises
    ValueError where any of those divided by is nothing. Source: ASTM D4516, as cited: P (Q / Q_s)
    (k_s / k) (x_s / x), the correction that of the salt's permeability.
    """
    slower = flow / positive(standard_flow, "the standard product")
    warmer = standard / positive(correction, "the correction")
    return passage * slower * warmer * standard_factor / positive(factor, "the factor")


def pressure_drop(drop: float, flow: float, temperature: float, standard_flow: float) -> float:
    """Drop [Pa] along the membranes as it would be at a standard flow [m³/s] and 25 °C, of one at
    another mean flow of feed and brine [m³/s] and a temperature [K].

    Raises ValueError for a flow of nothing. Source: the normalisation that a university's pages on
    desalination cite with ASTM D4516: (q_s / q)^1.5 (1 + 0.017 (t - 25)).
    """
    share = not_negative(standard_flow, "the standard flow") / positive(flow, "the flow")
    warmer = temperature - membranes.TEST_TEMPERATURE
    return drop * share * math.sqrt(share) * (1 + _WARMTH_OF_DROP * warmer)
