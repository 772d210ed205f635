"""Rubber mounts and pads: stiffness from dimensions and hardness.

Moduli in Pa, lengths in m, stiffnesses in N/m, hardness in Shore A points.
"""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

COMPRESSION_LIMIT = 0.15
SHEAR_LIMIT = 0.50
"""Lasting strains (0..1) that a rubber mount is designed for in compression and in shear.
Source: "Designing with rubber" (trade design note), as quoted publicly."""


class Band(NamedTuple):
    """The lower and the higher of two published answers."""

    low: float
    high: float


def modulus_gent(shore: float) -> float:
    """Young's modulus [Pa] at small strain from Shore A hardness.

    E[MPa] = 0.0981(56 + 7.62336 S)/(0.137505(254 - 2.54 S)), for 20 to 80 Shore A.
    Source: A. N. Gent, "On the relation between indentation hardness and Young's modulus",
    Rubber Chemistry and Technology 31 (1958) 896-906 (from memory). Raises ValueError unless 0 <
    shore < 100.
    """
    if not 0 < shore < 100:
        raise ValueError("Shore A hardness lies between 0 and 100")
    return 1e6 * 0.0981 * (56 + 7.62336 * shore) / (0.137505 * (254 - 2.54 * shore))


def modulus_ruess(shore: float) -> float:
    """Young's modulus [Pa] from Shore A hardness: lg E[MPa] = 0.0235 S - 0.6403, base 10.

    Given for 30 to 60 Shore A. Source: B. Ruess, as quoted in public notes on rubber hardness.
    Raises ValueError unless 0 < shore < 100.
    """
    if not 0 < shore < 100:
        raise ValueError("Shore A hardness lies between 0 and 100")
    return float(1e6 * 10 ** (0.0235 * shore - 0.6403))


def modulus_band(shore: float) -> Band:
    """Young's modulus [Pa] by both relations; they differ 1.2 to 1.9 fold at 40 to 70 Shore.

    Source: `modulus_gent` and `modulus_ruess`.
    """
    both = modulus_gent(shore), modulus_ruess(shore)
    return Band(min(both), max(both))


def shape_factor_disc(diameter: float, height: float) -> float:
    """One loaded area over the area free to bulge, of a disc [m]: D/(4h).

    Source: definition of the shape factor.
    """
    _sizes(diameter, height)
    return diameter / (4 * height)


def shape_factor_block(length: float, width: float, height: float) -> float:
    """One loaded area over the area free to bulge, of a block [m]: ab/(2h(a + b)).

    Source: definition of the shape factor.
    """
    _sizes(length, width, height)
    return length * width / (2 * height * (length + width))


def apparent_modulus(
    modulus: float, shape_factor: float, beta: float = 2.0, bulk: float = math.inf
) -> float:
    """Compression modulus [Pa] of rubber bonded to, or gripped by, plates.

    E(1 + βS²), in series with the bulk modulus [Pa] when given; β = 2 for round, square and
    moderately oblong pads, less for hard, filled rubber. Source: A. N. Gent and P. B. Lindley,
    as quoted in Strojniški vestnik 60 (2014) 506-511, eqs (1) and (2).
    """
    return 1 / (1 / (modulus * (1 + beta * shape_factor**2)) + 1 / bulk)


def compression_stiffness(modulus: float, area: float, height: float) -> float:
    """Stiffness [N/m] in compression: Ea A/h, modulus [Pa] the apparent one.

    Source: definition of the apparent modulus.
    """
    _sizes(area, height)
    return modulus * area / height


def shear_stiffness(modulus: float, area: float, height: float) -> float:
    """Stiffness [N/m] in shear: G A/h with G = E/3, modulus [Pa] Young's.

    Source: incompressible rubber, G = E/3 (from memory; P. B. Lindley, Engineering Design with
    Natural Rubber).
    """
    _sizes(area, height)
    return modulus / 3 * area / height


def buckling_load(rigidity: float, bending: float, height: float) -> float:
    """Load [N] at which a rubber block buckles sideways, its ends held level and free to sway.

    P = S/2 (√(1 + 4 P_E/S) - 1), S = GA [N], P_E = π² EI/h², EI [N m²]: Haringx's column, soft in
    shear. Source: J. M. Kelly, S. M. Takhirov, "Tension buckling in multilayer elastomeric
    isolation bearings", Journal of Mechanics of Materials and Structures 2 (2007) 1591, after
    J. A. Haringx, Philips Research Reports 3 (1948) 401; the equation from memory, a column marched
    in slices agrees.
    """
    _sizes(rigidity, bending, height)
    euler = math.pi**2 * bending / height**2
    return rigidity / 2 * (math.sqrt(1 + 4 * euler / rigidity) - 1)


SWAYING = 0.9
"""Share of the buckling load up to which a stiffness sideways is told."""


def side_stiffness(rigidity: float, bending: float, height: float, load: float = 0.0) -> float:
    """Stiffness [N/m] sideways of a rubber block under a load [N], ends held level.

    P²/(2 q EI tan(qh/2) - P h), q² = (P/EI)(1 + P/S); without a load 1/(h/S + h³/12EI). It falls to
    nothing at the buckling load; of more than `SWAYING` of that, what it is there. Source: A. N.
    Gent, "Elastic stability of rubber compression springs", Journal of Mechanical Engineering
    Science 6 (1964) 318-326, after J. A. Haringx (1948); both from memory.
    """
    _sizes(rigidity, bending, height)
    buckles = buckling_load(rigidity, bending, height)
    if load < 1e-4 * buckles:  # both terms below cancel
        return 1 / (height / rigidity + height**3 / (12 * bending))
    load = min(load, SWAYING * buckles)
    q = math.sqrt(load / bending * (1 + load / rigidity))
    return load**2 / (2 * q * bending * math.tan(q * height / 2) - load * height)


@dataclass(frozen=True, slots=True)
class RubberMount:
    """A pad or bobbin: shape factor, loaded area [m²], height [m], static stiffnesses [N/m].

    bending: EI of its softer way [N m²], E that of the rubber: its plates stiffen it only
    where it is squat, and squat ones do not buckle.
    """

    shape_factor: float
    area: float
    height: float
    compression: float
    shear: float
    bending: float

    @property
    def rigidity(self) -> float:
        """GA [N]."""
        return self.shear * self.height


def disc_mount(modulus: float, diameter: float, height: float, beta: float = 2.0) -> RubberMount:
    """A round rubber mount [m] of a Young's modulus [Pa]. Source: as `apparent_modulus`."""
    s = shape_factor_disc(diameter, height)
    return _mount(modulus, s, math.pi / 4 * diameter**2, height, beta, math.pi / 64 * diameter**4)


def block_mount(
    modulus: float, length: float, width: float, height: float, beta: float = 2.0
) -> RubberMount:
    """A rectangular rubber pad [m] of a Young's modulus [Pa]. Source: as `apparent_modulus`."""
    s = shape_factor_block(length, width, height)
    second = max(length, width) * min(length, width) ** 3 / 12
    return _mount(modulus, s, length * width, height, beta, second)


def _mount(
    modulus: float, s: float, area: float, height: float, beta: float, second: float
) -> RubberMount:
    return RubberMount(
        s,
        area,
        height,
        compression_stiffness(apparent_modulus(modulus, s, beta), area, height),
        shear_stiffness(modulus, area, height),
        modulus * second,
    )


_DYNAMIC_RATIO = ((30.0, 1.1), (40.0, 1.2), (50.0, 1.35), (60.0, 1.6), (70.0, 2.0))


def dynamic_ratio(shore: float) -> float:
    """Stiffness when shaken over stiffness at rest [ratio], by Shore A hardness.

    Source: common practice, no source: 1.1 for soft gum to 2 for hard filled rubber, straight lines
    between. A maker's measured dynamic stiffness is better.
    """
    points = _DYNAMIC_RATIO
    if shore <= points[0][0]:
        return points[0][1]
    for (s1, r1), (s2, r2) in pairwise(points):
        if shore <= s2:
            return r1 + (r2 - r1) * (shore - s1) / (s2 - s1)
    return points[-1][1]


class RubberKind(NamedTuple):
    """A rubber's loss factor and what it stands up to in a locker."""

    name: str
    loss_factor: float
    remark: str


RUBBERS = {
    "natural": RubberKind("natural rubber", 0.10, "swells in oil and fuel"),
    "neoprene": RubberKind("chloroprene (neoprene)", 0.16, "stands oil splash, salt and sun"),
    "nitrile": RubberKind("nitrile", 0.20, "stands oil and fuel"),
    "epdm": RubberKind("EPDM", 0.16, "stands salt and sun, not oil"),
}
"""Loss factors, common practice, no source: filled compounds of 45 to 60 Shore at 20 °C."""


def _sizes(*sizes: float) -> None:
    if not min(sizes) > 0:
        raise ValueError("every dimension of a mount must be greater than zero")
