"""A pump unit in a room of air: its thermal network, its runs and rests, and the searches in it.

SI units throughout: lengths in m, volumes in m³, flows in m³/s, temperatures in K (absolute),
heats in W, times in s.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import takewhile

from ..physics import air, heat, roots, thermal_course, thermal_network, ventilation
from ..physics.thermal_network import AIR, WINDING

RUN_TOLERANCE = 0.1
"""How near to its limit an inverse answer for a run must come [K]."""

COPPER_SHARE = 0.15
"""Copper of a small motor as a share of its mass: common practice, no source."""

WINDING_SHARE = 0.3
"""Share of the winding's rise that lies between winding and frame: common practice, no source."""

COPPER_ZERO = 273.15 - 235.0
"""Temperature [K] at which copper's resistance would vanish on a straight line: IEC 60034-1,
R2 / R1 = (235 + t2) / (235 + t1)."""

STANDSTILL_COOLING = 0.35
"""Share of a fan-cooled motor's cooling that is left when it stands still: common practice, no
source (such motors cool about three times slower than they warm)."""

DISCHARGE_RISE = 10.0
"""Warming [K] of the air that a motor's own fan blows over its frame: common practice, no source;
it only matters for what the motor draws in again."""


@dataclass(frozen=True)
class Wall:
    """A face of the room.

    area [m²]; layers from inside out; inside and outside surface resistances [m² K/W]; behind is
    the temperature behind it [K]; with follows_ambient it moves when the ambient is varied.
    """

    area: float
    layers: tuple[heat.Layer, ...]
    behind: float
    inside: float = heat.SURFACE_RESISTANCE["inside, heat flows sideways"]
    outside: float = heat.SURFACE_RESISTANCE["inside, heat flows sideways"]
    follows_ambient: bool = True

    def __post_init__(self) -> None:
        """Raises ValueError for no area or no layer."""
        if self.area <= 0 or not self.layers:
            raise ValueError("a wall needs an area and at least one layer")

    @property
    def transmittance(self) -> float:
        """U value [W/(m² K)]."""
        between = [layer.resistance for layer in self.layers]
        return heat.transmittance([self.inside, *between, self.outside])

    @cached_property
    def face(self) -> thermal_network.Face:
        """The wall as a lump at the middle of its resistance."""
        half = math.fsum(layer.resistance for layer in self.layers) / 2
        return thermal_network.Face(
            to_air=self.area / (self.inside + half),
            to_behind=self.area / (half + self.outside),
            capacity=self.area * math.fsum(layer.capacity for layer in self.layers),
            behind=self.behind,
        )


@dataclass(frozen=True)
class Fan:
    """A fan and its duct: free flow [m³/s], shut-off pressure [Pa], resistance of duct and grilles
    [Pa/(m³/s)²], heat of its motor that stays in the room [W]; a measured curve (flow [m³/s],
    pressure [Pa]) counts instead of the first two."""

    free_flow: float
    shutoff_pressure: float = 100.0
    resistance: float = 0.0
    heat: float = 0.0
    curve: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True)
class Vents:
    """Openings: free areas low and high [m²], their height apart [m], and the own height [m] of the
    larger one (a square's when 0). The stronger of the draught between the two and the two-way
    flow through the larger one counts."""

    low: float = 0.0
    high: float = 0.0
    apart: float = 0.0
    own_height: float = 0.0
    discharge: float = ventilation.DISCHARGE_COEFFICIENT

    def __post_init__(self) -> None:
        """Raises ValueError for a negative size."""
        if min(self.low, self.high, self.apart, self.own_height) < 0:
            raise ValueError("openings have no negative area or height")


@dataclass(frozen=True)
class Unit:
    """The pump unit.

    rated_loss and rated_rise: nameplate loss [W] and winding rise [K] at it; loss: at the actual
    load [W], of which winding_loss [W] grows with the copper's temperature; pump_heat: what the
    pump and drive give to the air [W]; mass of the motor [kg]; volume that the unit takes [m³].
    """

    rated_loss: float
    rated_rise: float
    loss: float
    mass: float
    volume: float
    winding_loss: float = 0.0
    pump_heat: float = 0.0

    def __post_init__(self) -> None:
        """Raises ValueError for a size that must be positive, or more winding loss than loss."""
        if min(self.rated_loss, self.rated_rise, self.mass, self.volume) <= 0:
            raise ValueError("rated loss, rated rise, mass and volume must be positive")
        if not 0 <= self.winding_loss <= self.loss:
            raise ValueError("the winding loss is part of the loss")


@dataclass(frozen=True)
class Room:
    """The whole case.

    volume: inside, empty [m³]; contents: taken by other things [m³]; supply: temperature of the
    air that can come in [K]; other_heat: of other things while it runs [W]; resting_heat: the same
    while it rests [W]; breathing: air that an engine draws from the space [m³/s]; with
    supply_follows the air that comes in is warmer when the ambient is.
    """

    volume: float
    walls: tuple[Wall, ...]
    unit: Unit
    supply: float
    contents: float = 0.0
    vents: Vents = field(default_factory=Vents)
    fan: Fan | None = None
    other_heat: float = 0.0
    resting_heat: float = 0.0
    breathing: float = 0.0
    supply_follows: bool = True

    def __post_init__(self) -> None:
        """Raises ValueError when the unit and the contents leave no air."""
        if self.free_volume <= 0:
            raise ValueError("the unit and what stands beside it do not fit into the room")

    @property
    def free_volume(self) -> float:
        """Air in the room [m³]."""
        return self.volume - self.contents - self.unit.volume

    @property
    def fill(self) -> float:
        """Share of the room left by other things that the unit takes [0..1]."""
        return self.unit.volume / (self.volume - self.contents)


OPEN_VOLUME, OPEN_FLOW = 1e3, 1e3
"""Air round a unit in the open [m³] and its renewal [m³/s]: so much that nothing warms it."""


def in_the_open(unit: Unit, around: float) -> Room:
    """The unit with nothing round it but air of one temperature [K], as much as it wants."""
    return Room(OPEN_VOLUME, (), unit, around, breathing=OPEN_FLOW)


@dataclass(frozen=True)
class Limits:
    """Highest temperatures allowed [K]; infinite where none applies."""

    air: float = math.inf
    winding: float = math.inf


def recirculated_share(fill: float) -> float:
    """Share of its own warmed air that a motor draws in again, from how much of the room it fills.

    None up to a quarter of the room, four fifths from nine tenths on, a straight line between:
    common practice (a motor in a box barely larger than itself overheats), no source.
    """
    return 0.8 * min(max((fill - 0.25) / 0.65, 0.0), 1.0)


def motor_lumps(unit: Unit, fill: float) -> thermal_network.Motor:
    """Winding and frame of a motor, from its nameplate and how much of the room it fills.

    At the rated loss the winding stands the rated rise above the air it draws in. Air drawn in
    again is warmer than the room by share / (1 - share) of the warming over the frame.
    """
    copper = COPPER_SHARE * unit.mass
    share = recirculated_share(fill)
    own = unit.rated_rise * (1 - WINDING_SHARE) + DISCHARGE_RISE * share / (1 - share)
    return thermal_network.Motor(
        to_frame=unit.rated_loss / (unit.rated_rise * WINDING_SHARE),
        to_air=unit.rated_loss / own,
        winding_capacity=copper * 385.0,
        frame_capacity=(unit.mass - copper) * 460.0,
    )


def space(room: Room) -> thermal_network.Space:
    """The room's lumps."""
    return thermal_network.Space(
        motor=motor_lumps(room.unit, room.fill),
        faces=tuple(wall.face for wall in room.walls),
        air_capacity=room.free_volume * air.density(room.supply) * air.HEAT_CAPACITY,
    )


def fan_flow(room: Room) -> float:
    """Flow [m³/s] that the fan moves through its duct and the openings; 0 into a sealed box."""
    fan = room.fan
    if fan is None or not (fan.free_flow or fan.curve):
        return 0.0
    resistance = fan.resistance + openings_resistance(room)
    if fan.curve:
        return ventilation.curve_flow(fan.curve, resistance)
    return ventilation.fan_flow(fan.free_flow, fan.shutoff_pressure, resistance)


def openings_resistance(room: Room) -> float:
    """Resistance [Pa/(m³/s)²] of both openings side by side: where a fan's air comes in or goes."""
    density = air.density(room.supply)
    return ventilation.parallel_resistance(
        [
            ventilation.opening_resistance(area, room.vents.discharge, density)
            for area in (room.vents.low, room.vents.high)
        ]
    )


def exchange(room: Room, fan_runs: bool) -> thermal_network.Exchange:
    """How the room's air is renewed, with its fan running or not."""
    vents = room.vents
    pair = ventilation.effective_area(vents.low, vents.high)
    larger = max(vents.low, vents.high)
    own_height = vents.own_height or math.sqrt(larger)
    return thermal_network.Exchange(
        supply=room.supply,
        forced=room.breathing + (fan_flow(room) if fan_runs else 0.0),
        stack=vents.discharge * pair * math.sqrt(2 * ventilation.STANDARD_GRAVITY * vents.apart),
        two_way=larger * math.sqrt(ventilation.STANDARD_GRAVITY * own_height) / 3,
        density=air.density(room.supply),
    )


def running(room: Room) -> thermal_network.Mode:
    """The unit runs, and its fan with it. The loss is stated for a winding at its rated rise above
    40 °C; the copper part follows the winding from there."""
    unit = room.unit
    reference = 313.15 + unit.rated_rise
    slope = unit.winding_loss / (reference - COPPER_ZERO)
    return thermal_network.Mode(
        exchange=exchange(room, fan_runs=True),
        loss=unit.loss,
        loss_slope=slope,
        reference=reference,
        air_heat=unit.pump_heat + room.other_heat + (room.fan.heat if room.fan else 0.0),
        standstill=STANDSTILL_COOLING,
    )


def resting(room: Room, fan_runs: bool = False) -> thermal_network.Mode:
    """The unit rests; other heat and, if wanted, the fan go on."""
    return thermal_network.Mode(
        exchange=exchange(room, fan_runs),
        air_heat=room.resting_heat + (room.fan.heat if fan_runs and room.fan else 0.0),
        cooling=STANDSTILL_COOLING,
    )


def rest_state(room: Room) -> thermal_network.State:
    """State after a long rest: what a run starts from."""
    return thermal_network.steady(space(room), resting(room))


def duty(
    room: Room,
    run_time: float,
    rest_time: float,
    cycles: int,
    protector: thermal_course.Protector | None = None,
    tolerance: float = 0.05,
) -> thermal_course.Course:
    """Several cycles of run and rest [s] from a long rest."""
    cycle = [(run_time, running(room)), (rest_time, resting(room))]
    return thermal_course.transient(
        space(room), rest_state(room), cycle * cycles, protector, tolerance
    )


def protected(
    room: Room,
    free: thermal_course.Course,
    run_time: float,
    rest_time: float,
    protector: thermal_course.Protector,
    tolerance: float = 0.05,
    most_events: int | None = None,
) -> thermal_course.Course:
    """A duty with its protector at work, from the same duty without one (`free`), or no further
    than to `most_events` of the protector, each an opening or a closing.

    Until then both are the same: only what follows is worked out [s, K].
    """
    before = list(takewhile(lambda one: one.last[WINDING] < protector.trip, free.segments))
    if len(before) == len(free.segments):
        return free
    then = free.segments[len(before)]
    cycles = round(free.end / (run_time + rest_time))
    left, end = [], 0.0
    for duration, mode in [(run_time, running(room)), (rest_time, resting(room))] * cycles:
        end += duration
        if end - then.begin > 1e-6:
            left.append((min(duration, end - then.begin), mode))
    after = thermal_course.transient(
        space(room), then.first, left, protector, tolerance, most_events
    )
    return thermal_course.Course(
        (*before, *(replace(one, begin=one.begin + then.begin) for one in after.segments)),
        tuple(replace(event, time=event.time + then.begin) for event in after.events),
    )


WITHOUT_END = 1e4  # K, for a search that passes sizes at which nothing takes the heat away


def excess(room: Room, limits: Limits) -> float:
    """How far air or winding settle above their limits [K], whichever goes further; negative =
    margin.

    `WITHOUT_END` where there is no steady state.
    """
    try:
        state = thermal_network.steady(space(room), running(room))
    except thermal_network.NoWayOut:
        return WITHOUT_END
    return max(state[AIR] - limits.air, state[WINDING] - limits.winding)


def least_flow(room: Room, limits: Limits, largest: float = 1.0) -> float:
    """Smallest forced air flow [m³/s] through the room, in place of its fan's, that keeps the
    limits without end; infinite if none up to the largest does (the air that comes in is too
    warm)."""
    return _least(lambda flow: replace(room, fan=None, breathing=flow), limits, 0.0, largest)


def least_vents(room: Room, limits: Limits, largest: float = 0.25) -> float:
    """Smallest free area [m²] of each of two equal openings, low and high, that keeps the limits
    without end at the present height apart; infinite if none up to the largest does."""

    def opened(area: float) -> Room:
        return replace(room, vents=replace(room.vents, low=area, high=area))

    return _least(opened, limits, 0.0, largest)


def smallest_volume(
    room: Room, limits: Limits, largest: float = 10.0, smallest: float = 0.0
) -> float:
    """Smallest empty volume [m³] of a room of the same shape that keeps the limits without end,
    none below the smallest.

    Walls grow with the power 2/3 of the volume, vents and contents stay. Infinite if none up to the
    largest does; only sound while no wall is hotter than the air.
    """
    barely = max(smallest, room.contents + room.unit.volume * 1.001)
    return _least(lambda volume: resized(room, volume), limits, barely, largest)


def resized(room: Room, volume: float) -> Room:
    """The same room, blown up or shrunk to a volume [m³]."""
    scale = (volume / room.volume) ** (2 / 3)
    walls = tuple(replace(wall, area=wall.area * scale) for wall in room.walls)
    return replace(room, volume=volume, walls=walls)


def warmed(room: Room, shift: float) -> Room:
    """The same room with the ambient, and all that follows it, warmer by a shift [K]."""
    walls = tuple(
        replace(wall, behind=wall.behind + shift) if wall.follows_ambient else wall
        for wall in room.walls
    )
    supply = room.supply + shift if room.supply_follows else room.supply
    return replace(room, supply=supply, walls=walls)


def longest_run(room: Room, limits: Limits, cap: float = 86_400.0) -> float:
    """Longest run [s] from a long rest that keeps the limits; infinite when it may run on."""
    if excess(room, limits) <= 0:
        return math.inf
    course = thermal_course.transient(
        space(room), rest_state(room), [(cap, running(room))], None, RUN_TOLERANCE
    )
    return min(course.first_reach(AIR, limits.air), course.first_reach(WINDING, limits.winding))


def _least(build: Callable[[float], Room], limits: Limits, low: float, high: float) -> float:
    """Smallest size in low..high whose room keeps the limits; infinite if none does."""
    return roots.least_that_fits(lambda size: excess(build(size), limits), low, high)
