"""The place that the unit stands in, as its owner knows it, and the room of air that it makes.

Lengths in m, areas in m², volumes in m³, temperatures in K, heats in W, flows in m³/s. Kinds are
keys: a face's `side` is one of SIDES, what lies `behind` it one of BEHIND.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..physics import heat, ventilation
from . import cooling

SIDES = ("floor", "top", "front", "back", "left", "right")
BEHIND = ("cabin", "engine", "bilge", "sea", "shade", "sun")
LINING = heat.MATERIALS["mineral wool"]

# Long-wave loss of a face that sees the whole sky: ASHRAE Handbook Fundamentals, sol-air values.
_SKY_LOSS = 63.0 * 0.9
# Share of an engine space that the engine and all that stands beside it take up. Common practice,
# no source.
ENGINE_FILLS = 0.5
_BY_THE_DAY = ("cabin", "shade", "sun")
_INSIDE = {
    "floor": heat.SURFACE_RESISTANCE["inside, heat flows down"],
    "top": heat.SURFACE_RESISTANCE["inside, heat flows up"],
}
_SIDEWAYS = heat.SURFACE_RESISTANCE["inside, heat flows sideways"]
_WIND = heat.SURFACE_RESISTANCE["outside, in the wind"]


@dataclass(frozen=True)
class Sizes:
    """Length, width and height [m] of a space inside, or of a thing."""

    length: float
    width: float
    height: float

    @property
    def volume(self) -> float:
        """What they hold [m³]."""
        return self.length * self.width * self.height

    @property
    def surface(self) -> float:
        """All faces together [m²]."""
        a, b, c = self.length, self.width, self.height
        return 2 * (a * b + b * c + a * c)

    @property
    def across(self) -> float:
        """From corner to corner of its floor [m]."""
        return math.hypot(self.length, self.width)

    @property
    def rising(self) -> list[float]:
        """The three, smallest first [m]."""
        return sorted((self.length, self.width, self.height))

    def faces(self) -> dict[str, float]:
        """Area of each whole face [m²]."""
        level, side = self.length * self.width, self.length * self.height
        end = self.width * self.height
        return dict(zip(SIDES, (level, level, side, side, end, end), strict=True))

    def too_small_for(self, body: Sizes) -> str:
        """The size, by its name, that a body does not go into whichever way it lies; "" if it
        does."""
        by_size = sorted(
            (("length", self.length), ("width", self.width), ("height", self.height)),
            key=lambda one: one[1],
        )
        for (name, room), need in zip(by_size, body.rising, strict=True):
            if room < need:
                return name
        return ""


@dataclass(frozen=True)
class Weather:
    """Temperatures [K] beside the place, outside in the shade, of the sea and of the engine space;
    sun on a level deck [W/m²], the share of it that a deck takes up; humidity beside it [0..1]."""

    beside: float
    outside: float
    sea: float
    engine_space: float
    sun: float
    absorbed: float
    humidity: float

    def air(self, source: str) -> float:
        """Temperature [K] of the air from the cabin, the engine space or outside."""
        found = {"cabin": self.beside, "engine": self.engine_space, "outside": self.outside}
        return found[source]

    def behind(self, face: Face) -> float:
        """Temperature [K] behind a face; in the sun the air's that would heat it as sun and sky
        do."""
        if face.behind == "sun":
            sky = _SKY_LOSS if face.side == "top" else 0.0
            return heat.sol_air(self.outside, self.sun, self.absorbed, 1 / _WIND, sky)
        found = {
            "cabin": self.beside,
            "engine": self.engine_space,
            "bilge": self.sea,
            "sea": self.sea,
            "shade": self.outside,
        }
        return found[face.behind]


@dataclass(frozen=True)
class Face:
    """A face, or a part of one: which side, area [m²], what it is made of by a key of
    `heat.MATERIALS`, thicknesses [m] of it and of a lining, and what lies behind."""

    side: str
    area: float
    material: str
    thickness: float
    lining: float
    behind: str

    def wall(self, weather: Weather) -> cooling.Wall:
        """The face as heat sees it."""
        shell = heat.Layer(self.thickness, heat.MATERIALS[self.material])
        lining = (heat.Layer(self.lining, LINING),) if self.lining else ()
        inside = _INSIDE.get(self.side, _SIDEWAYS)
        outside = {"sea": heat.WATER_SURFACE_RESISTANCE, "shade": _WIND, "sun": _WIND}
        return cooling.Wall(
            area=self.area,
            layers=(*lining, shell),
            behind=weather.behind(self),
            inside=inside,
            outside=outside.get(self.behind, inside),
            follows_ambient=self.behind in _BY_THE_DAY,
        )


@dataclass(frozen=True)
class Duct:
    """A blower's hose: diameter and length [m], and its bends."""

    diameter: float
    length: float
    bends: int

    @property
    def resistance(self) -> float:
        """Of hose, bends and both ends [Pa/(m³/s)²]. Its losses are common practice, no source."""
        known = ventilation.LOSS_COEFFICIENT
        ends = known["plain duct end, drawing in"] + known["clamshell or cowl vent"]
        losses = ends + self.bends * known["smooth 90 degree bend"]
        friction = 0.025 * ventilation.HOSE_FRICTION_MULTIPLIER
        return ventilation.duct_resistance(self.diameter, self.length, losses, friction)


@dataclass(frozen=True)
class Fan:
    """The fan that stands there, or would: flow in free air [m³/s], pressure against a shut duct
    [Pa], its duct, what it draws [W] at which voltage [V], whether it draws the air out; a measured
    curve (flow [m³/s], pressure [Pa]) counts instead of the first two."""

    free_flow: float
    pressure: float
    duct: Duct
    power: float
    voltage: float
    draws_out: bool
    curve: tuple[tuple[float, float], ...] = ()

    @property
    def current(self) -> float:
        """What it draws [A]."""
        return self.power / self.voltage


@dataclass(frozen=True)
class Locker:
    """The place and all that bears on its heat.

    way: how its air is renewed: "sealed", "one" opening, "two", "fan", "engine" (it stands in the
    engine space), "open" (in the cabin). sizes: None where only its volume [m³] is known. contents:
    taken by other things [m³]. supply_from: "cabin", "engine" or "outside". other_heat,
    resting_heat: of other things while the unit runs and while it rests [W]; boost_heat: of the
    boost pump while it runs [W]; engine_power: what an engine in it gives [W].
    """

    way: str
    sizes: Sizes | None
    volume: float
    contents: float
    faces: tuple[Face, ...]
    vents: cooling.Vents
    fan: Fan
    supply_from: str
    weather: Weather
    other_heat: float = 0.0
    resting_heat: float = 0.0
    boost_heat: float = 0.0
    engine_power: float = 0.0

    @property
    def breathing(self) -> float:
        """Air that an engine in it draws [m³/s]."""
        return ventilation.combustion_air(self.engine_power) if self.way == "engine" else 0.0

    @property
    def engine_heat(self) -> float:
        """Heat that an engine in it gives to its air [W]."""
        return heat.engine_heat(self.engine_power) if self.way == "engine" else 0.0

    @property
    def height(self) -> float:
        """Height inside [m]; of a cube where only the volume is known."""
        return self.sizes.height if self.sizes else self.volume ** (1 / 3)

    @property
    def largest_face(self) -> float:
        """Area of the largest face [m²]; a square metre if nothing is known of any."""
        sides = self.sizes.faces() if self.sizes else {}
        if not sides:
            for face in self.faces:
                sides[face.side] = sides.get(face.side, 0.0) + face.area
        return max(sides.values(), default=1.0)

    @property
    def behind(self) -> frozenset[str]:
        """What lies behind any of its faces."""
        return frozenset(face.behind for face in self.faces)


def room(place: Locker, unit: cooling.Unit) -> cooling.Room:
    """The room of air round a unit in its place. Raises ValueError where no air is left in it."""
    if place.way == "open":
        return cooling.in_the_open(unit, place.weather.beside)
    blower = None
    if place.way == "fan":
        fan = place.fan
        warms = 0.0 if fan.draws_out else fan.power
        blower = cooling.Fan(fan.free_flow, fan.pressure, fan.duct.resistance, warms, fan.curve)
    return cooling.Room(
        volume=place.volume,
        walls=tuple(face.wall(place.weather) for face in place.faces),
        unit=unit,
        supply=place.weather.air(place.supply_from),
        contents=place.contents,
        vents=place.vents,
        fan=blower,
        other_heat=place.other_heat + place.boost_heat + place.engine_heat,
        resting_heat=place.resting_heat + place.engine_heat,
        breathing=place.breathing,
        supply_follows=place.supply_from != "engine",
    )


def suction(made: cooling.Room) -> float:
    """Suction [Pa] that an engine's own air demand makes in the space."""
    return ventilation.pressure_drop(made.breathing, cooling.openings_resistance(made))


def coldest_face(place: Locker, made: cooling.Room) -> tuple[str, float] | None:
    """The side whose face is the coldest while the unit rests, and how cold it is there [K]."""
    if not made.walls:
        return None
    state = cooling.rest_state(made)
    coldest, side = math.inf, ""
    for face, wall, middle in zip(place.faces, made.walls, state[3:], strict=True):
        air = state[2]
        skin = air - (air - middle) * wall.face.to_air * wall.inside / wall.area
        if skin < coldest:
            coldest, side = skin, face.side
    return side, coldest
