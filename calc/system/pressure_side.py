"""What stands under the pump's pressure, what protects it, and what a shut way out would do."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property, lru_cache

from ..physics import pipes, seawater, suction, valves
from .held import Held
from .membranes import Made
from .motor import Rating, opens_above
from .sea import Sea
from .watermaking import RELIEF_ROOM, Making

ATMOSPHERE = suction.ATMOSPHERE
FULL_LIFT = 1.1  # of its setting: a relief valve lets its flow through, API 520-1
TIMES_BURST = 4.0  # a hose's burst pressure over its working pressure, SAE J517
ON_THE_SCALE = 0.75  # of a gauge's scale, for a steady pressure, EN 837-2 (from memory)
SPECIFIC_HEAT = 3990.0  # J/(kg K), of sea water, TEOS-10
# Wall of a hose with a steel braid and its Young's modulus, and how much of a membrane's tube is
# water. Common practice, no source.
HOSE_WALL, HOSE_MODULUS, FREE_OF_TUBE = 0.0035, 5e8, 0.5
SETTING = 0.01  # of a setting: none is told, or set, more finely; common practice, no source


@dataclass(frozen=True)
class Relief:
    """A relief valve: opens at [Pa]; its opening [m2], or what it lets through a tenth over that
    [m3/s], where they are known."""

    opens: float
    opening: float | None = None
    flow: float | None = None

    @property
    def lifted(self) -> float:
        """The pressure at which it lets its flow through [Pa]."""
        return FULL_LIFT * self.opens

    def lets(self, density: float) -> float | None:
        """What it lets through then [m3/s], by its papers, else by its opening; None if neither."""
        if self.flow is not None or self.opening is None:
            return self.flow
        return valves.relief_flow(self.opening, density, self.lifted, valves.PLAIN_RELIEF)


@dataclass(frozen=True)
class Pressed:
    """The water under pressure: volume in the membranes' tubes [m3], and the hose [m]."""

    tubes: float
    hose_bore: float
    hose_length: float

    @property
    def hose(self) -> float:
        """Water in the hose [m3]."""
        return math.pi / 4 * self.hose_bore**2 * self.hose_length

    @property
    def gives(self) -> float:
        """Water that goes in for each pascal more [m3/Pa], the tubes as stiff."""
        by_hose = valves.yielding(
            self.hose, suction.BULK_MODULUS, self.hose_bore, HOSE_WALL, HOSE_MODULUS
        )
        return self.tubes / suction.BULK_MODULUS + by_hose


def in_tubes(count: int, bore: float, length: float) -> float:
    """Water in so many tubes [m3] of a bore and a length [m], beside the membranes in them."""
    return FREE_OF_TUBE * count * math.pi / 4 * bore**2 * length


@dataclass(frozen=True)
class Season:
    """A sea by its name, the pressure to set there and the highest allowed there [Pa]; None where
    none gives water."""

    name: str
    sea: Sea
    to_set: float | None
    highest: float


@dataclass(frozen=True)
class PressureSide:
    """What stands under the pressure: what its parts bear, what it makes and at which pressure,
    the relief valve, the water in it, strokes [1/s], the tube's bore [m], the end of the gauge's
    scale and what the hose bursts at [Pa], and the seas of the voyage."""

    ratings: tuple[Rating, ...]
    making: Making
    relief: Relief | None
    pressed: Pressed
    strokes: float
    tube_bore: float
    scale: float | None
    hose_bursts: float | None
    seasons: tuple[Season, ...]

    @property
    def pressure(self) -> float:
        """The working pressure [Pa]."""
        return self.making.pressure

    @property
    def flow(self) -> float:
        """What the pump moves [m3/s], whatever is shut."""
        return self.making.feed

    @property
    def density(self) -> float:
        """Of the sea water [kg/m3]."""
        return self.making.sea.density

    @property
    def weakest(self) -> Rating:
        """The part that bears least, the first of equals."""
        return min(self.ratings, key=lambda rating: rating.bears)

    @property
    def set_in_seas(self) -> list[float]:
        """The pressures to set in the seas of the voyage [Pa], where there are any."""
        return [season.to_set for season in self.seasons if season.to_set is not None]

    @cached_property
    def highest_working(self) -> float:
        """The highest working pressure, here and in the seas of the voyage [Pa]."""
        return max([self.pressure, *self.set_in_seas])

    @property
    def works(self) -> Held:
        """The working pressure, against the weakest part."""
        return Held(self.pressure, self.weakest.bears)

    @property
    def above(self) -> Held | None:
        """Where the relief valve opens, against the highest working pressure."""
        opens = None if self.relief is None else self.relief.opens
        return opens_above(opens, self.highest_working)

    @property
    def below(self) -> Held | None:
        """Where the relief valve opens, against the weakest part. Its room begins at the working
        pressure: less than a tenth of that left over is little."""
        if self.relief is None:
            return None
        bears = self.weakest.bears
        room = self.highest_working if self.highest_working < bears else 0.0
        return Held(self.relief.opens, bears, zero=room)

    @property
    def capacity(self) -> Held | None:
        """The whole flow of the pump, against what the relief valve lets through."""
        lets = None if self.relief is None else self.relief.lets(self.density)
        return None if lets is None else Held(self.flow, lets)

    @property
    def reached(self) -> float | None:
        """The pressure at which all of the pump's flow goes through the relief valve [Pa]."""
        capacity = self.capacity
        if self.relief is None or capacity is None:
            return None
        return self.relief.lifted * max(1.0, capacity.value / capacity.limit) ** 2

    @property
    def least_opening(self) -> float | None:
        """The opening [m2] through which the relief valve lets all of the pump's flow."""
        if self.relief is None:
            return None
        lifted = self.relief.lifted
        return valves.relief_area(self.flow, self.density, lifted, valves.PLAIN_RELIEF)

    @property
    def gauge(self) -> Held | None:
        """The working pressure, against the part of the gauge's scale that it may stay in."""
        return None if self.scale is None else Held(self.pressure, ON_THE_SCALE * self.scale)

    @property
    def bursts(self) -> Held | None:
        """What the hose bursts at, by its papers or by what it bears, against four times the most
        that it gets. Its room begins at four times the working pressure."""
        bears = next((r.bears for r in self.ratings if r.key == "hose"), None)
        burst = self.hose_bursts or (bears and TIMES_BURST * bears)
        if not burst:
            return None
        opens = max(self.highest_working, self.relief.opens if self.relief else 0.0)
        room = TIMES_BURST * self.highest_working if opens > self.highest_working else 0.0
        return Held(burst, TIMES_BURST * opens, least=True, zero=room)

    @property
    def relief_room(self) -> tuple[float, float]:
        """The lowest and highest setting of a relief valve that suits [Pa]; the first may be the
        higher: then none does."""
        return RELIEF_ROOM * self.highest_working, self.weakest.bears

    @property
    def settable(self) -> bool:
        """Whether there is room for a setting between the two."""
        lowest, highest = self.relief_room
        return highest >= (1 + SETTING) * lowest

    # ---- what a shut way out does ----

    @property
    def stroke(self) -> float:
        """What one stroke moves [m3]."""
        return self.flow / self.strokes

    def strokes_to(self, pressure: float, start: float = 0.0) -> float:
        """Strokes from one pressure to another [Pa], all ways out shut."""
        return self.pressed.gives * max(0.0, pressure - start) / self.stroke

    def seconds_to(self, pressure: float, start: float = 0.0) -> float:
        """Time from one pressure to another [s], all ways out shut."""
        return self.strokes_to(pressure, start) / self.strokes

    @property
    def velocity(self) -> float:
        """Of the water in the hose [m/s]."""
        return pipes.velocity(self.flow, self.pressed.hose_bore)

    @property
    def wave(self) -> float:
        """Speed of a pressure wave in the hose [m/s]."""
        return suction.wave_speed(self.pressed.hose_bore, HOSE_WALL, HOSE_MODULUS, self.density)

    @property
    def surge(self) -> float:
        """What a valve that is shut at a blow adds in the hose, for a moment [Pa]."""
        head = suction.surge_head(self.velocity, self.wave)
        return head * self.density * pipes.GRAVITY

    # ---- what pressure can do to a person ----

    @property
    def jet(self) -> float:
        """Speed of a jet at the working pressure [m/s], at most."""
        return valves.jet_velocity(self.density, self.pressure)

    @property
    def kick(self) -> float:
        """How hard a hose that comes off is thrown [N], at most."""
        return valves.jet_thrust(self.pressure, self.pressed.hose_bore)

    @property
    def on_the_end(self) -> float:
        """Force on the end cap of a membrane's tube [N]."""
        return valves.plug_force(self.pressure, self.tube_bore)

    @property
    def warms(self) -> float:
        """Warming of the water that goes through the relief valve [K]."""
        opens = self.pressure if self.relief is None else self.relief.opens
        return valves.throttled_rise(opens, self.density, SPECIFIC_HEAT)

    # ---- the regulating valve ----

    @property
    def made(self) -> Made:
        """What is made at the working pressure."""
        return self.making.made

    @cached_property
    def brine(self) -> tuple[float, float]:
        """Density [kg/m3] and vapour pressure [Pa] of the brine."""
        warm = self.making.sea.temperature
        salt = seawater.isotherm(warm).salinity(self.made.brine_salinity)
        salt = min(salt, seawater.MOST_SALT)
        return seawater.density(salt, warm), seawater.vapour_pressure(salt, warm)

    @property
    def chokes_at(self) -> float:
        """Difference over the regulating valve beyond which its outlet counts no more [Pa]."""
        return valves.choking_difference(self.made.end_pressure + ATMOSPHERE, self.brine[1])

    @property
    def opening_kv(self) -> float:
        """How far the regulating valve is open, as Kv [m3/s at 1 bar]."""
        density, vapour = self.brine
        inlet = self.made.end_pressure + ATMOSPHERE
        return valves.flow_coefficient(
            self.made.brine, density, inlet, ATMOSPHERE, vapour, valves.NEEDLE_RECOVERY
        )

    @property
    def hole(self) -> float:
        """Diameter of a round hole that lets the brine through as the regulating valve does [m]."""
        area = valves.relief_area(
            self.made.brine, self.brine[0], self.made.end_pressure, valves.PLAIN_RELIEF
        )
        return math.sqrt(4 * area / math.pi)


@lru_cache(maxsize=64)  # of all that one types, little moves the seas of a voyage
def season(name: str, making: Making, sea: Sea) -> Season:
    """What to set in another sea."""
    there = making.in_sea(sea)
    return Season(name, sea, there.to_set, there.highest)
