"""What holds a unit to its floor: bolts or screws, and the far side that they press on."""

from __future__ import annotations

from dataclasses import dataclass

from ..physics import fasteners
from .floor import CORED, Floor
from .unfit import Unfit

WOODEN = ("plywood", "softwood", "hardwood")
BOLTS = ("M4", "M5", "M6", "M8", "M10", "M12")
"""Bolts that a foot may have."""
CLASSES = {key: made.name for key, made in fasteners.BOLT_CLASSES.items()}
TIMBER = {key: made.name for key, made in fasteners.WOODS.items()}
"""Classes of bolt and kinds of wood, by their names."""
_BEARING = {"grp": 50e6, "metal": 150e6, "cored": 50e6}
"""Pressure [Pa] under a washer on laminate and metal, common practice; wood has its own table."""


@dataclass(frozen=True)
class Fixing:
    """Fasteners: "bolts" with backing plates, wood "screws", or "lags".

    bolt: its thread; bolt_class: ISO 898 or 3506; washer: backing plate across [m]; screw: diameter
    [m]; wood: a key of `fasteners.WOODS`; each: how many at each foot; safety: times the load.
    """

    by: str
    bolt: str
    bolt_class: str
    washer: float
    screw: float
    wood: str
    each: int
    core_filled: bool
    safety: float

    @property
    def bolted(self) -> bool:
        """Whether bolts hold it."""
        return self.by == "bolts"


@dataclass(frozen=True)
class Holding:
    """Breaking pull and shear of one fastener [N]."""

    tensile: float
    shear: float


def holding(fixing: Fixing, floor: Floor) -> Holding:
    """What one fastener holds. Refuses wood screws where there is no wood."""
    if fixing.bolted:
        strong = fasteners.bolt_strength(fixing.bolt, fixing.bolt_class)
        return Holding(strong.tensile, strong.shear)
    depth = wood_depth(floor)
    gravity = fasteners.WOODS[fixing.wood].specific_gravity
    hold = (
        fasteners.wood_screw_withdrawal if fixing.by == "screws" else fasteners.lag_screw_withdrawal
    )
    held = hold(gravity, fixing.screw, depth)
    return Holding(held, held)


def wood_depth(floor: Floor) -> float:
    """Wood [m] that a screw's thread sits in; refuses a floor that is not wood."""
    if floor.form == "bearers":
        if floor.bearer_material in WOODEN:
            return floor.bearer_depth
        raise Unfit("screws_in_metal")
    if floor.material in WOODEN:
        return floor.thickness + floor.doubler
    if floor.material not in CORED and floor.doubler > 0:
        return floor.doubler
    raise Unfit("screws_without_wood")


def bearing(fixing: Fixing, floor: Floor) -> float:
    """Pressure [Pa] that the far side of the floor stands under a washer."""
    if floor.far_side in WOODEN:
        return fasteners.WOODS[fixing.wood].bearing
    if floor.far_side in ("steel", "aluminium"):
        return _BEARING["metal"]
    return _BEARING["cored" if floor.far_side in CORED else "grp"]


def hole(bolt: str) -> float:
    """Diameter [m] of a bolt's hole."""
    return fasteners.COARSE_PITCH[bolt][0] * 1.1


def washer_pressure(fixing: Fixing, pull: float) -> float:
    """Pressure [Pa] under the backing plate by a pull [N], with safety. Refuses one no wider than
    the hole."""
    if fixing.washer <= hole(fixing.bolt):
        raise Unfit("washer_small")
    return fixing.safety * fasteners.washer_pressure(pull, fixing.washer, hole(fixing.bolt))
