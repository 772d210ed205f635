"""What would keep a unit cool in its place: vents, fan, run, day and size, each found backwards.

All but the longest run are for a run of any length: quick to find, and on the safe side. What is
found is typed into a form or cut into a locker, so it shall keep a `reserve` (a share of each
margin's scale). What comes `just` within the limits is given only where no more can be had.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from ..physics import air, insulation_class, roots, thermal_course, ventilation
from ..physics.thermal_network import AIR, WINDING
from . import cooling, locker
from .heated import Heated

# Kelvins held back from a limit: what the solution in time leaves in doubt.
DOUBT = 0.2
# Kelvins that an answer in whole degrees may tell too many.
_ROUNDED = 0.5
_TENTH = 0.1  # K, near enough where half degrees are told
# Nobody makes water in a colder cabin, and no form takes a hotter one: such a day helps no one.
_COLDEST, _HOTTEST = 278.15, 328.15
# Bores [m] that ducts are sold in. Common practice, no source.
_BORES = (0.05, 0.075, 0.1, 0.125, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5)
LARGEST_FAN = 3000 / 3600
"""A larger fan [m³/s] is none for a locker."""
LARGEST_LOCKER = 10.0
"""A larger one [m³] is not looked for."""
LARGEST_OPENING = 1.0
"""A larger opening [m²] is not looked for."""
SHORTEST_RUN = 60.0
"""A shorter run [s] is none."""


@dataclass(frozen=True)
class Aim:
    """How cool a remedy makes it: with a reserve within the motor's limits, or `just` within
    them."""

    limits: cooling.Limits
    reserve: float
    just: bool

    def at(self, supply: float) -> cooling.Limits:
        """Temperatures [K] to keep to where the air comes in with `supply` [K]: the margin of the
        air round the motor is judged above that, as the answer's figures are."""
        most_air = self.limits.air - DOUBT
        most_winding = self.limits.winding - DOUBT
        if self.just:
            told = math.floor(self.limits.winding - air.ZERO_CELSIUS) + air.ZERO_CELSIUS
            return cooling.Limits(most_air, min(most_winding, told + _ROUNDED - 0.01))
        air_span = max(0.0, self.limits.air - supply)
        winding_span = self.limits.winding - insulation_class.REFERENCE_AMBIENT
        return cooling.Limits(
            most_air - _ROUNDED - self.reserve * air_span,
            most_winding - _ROUNDED - self.reserve * winding_span,
        )


def aims(case: Heated, reserve: float) -> tuple[Aim, ...]:
    """What to aim for, the best first."""
    return (Aim(case.limits, reserve, just=False), Aim(case.limits, reserve, just=True))


def aims_as_it_is(case: Heated, reserve: float) -> tuple[Aim, ...]:
    """What to aim for where the openings stay as they are."""
    tight = case.place.way == "engine" and case.suction > _easy_suction(reserve)
    return aims(case, reserve)[1:] if tight else aims(case, reserve)


def _easy_suction(reserve: float) -> float:
    """Suction [Pa] of an engine with that reserve, a hair below it for what is rounded."""
    return 0.9999 * (1 - reserve) * ventilation.ENGINE_SUCTION


def _first(choices: tuple[Aim, ...], find: Callable[[Aim], float]) -> tuple[float, Aim]:
    """What the first aim that can be reached needs; infinite if none can."""
    for aim in choices:
        found = find(aim)
        if math.isfinite(found):
            break
    return found, aim


# ---- air ----


def air_too_warm(case: Heated) -> bool:
    """Whether the air that comes in is too warm to cool anything."""
    return case.room.supply >= case.limits.air - DOUBT


def engine_openings(case: Heated, reserve: float) -> float:
    """Openings [m²] in all through which the engine breathes with that reserve; 0 without one."""
    density = air.density(case.room.supply)
    return ventilation.opening_for(case.room.breathing, _easy_suction(reserve), density=density)


@dataclass(frozen=True)
class Vented:
    """Two openings [m²] of the same area, a low and a high one so far `apart` [m]: infinite where
    none up to the `largest` do, 0 where none are needed."""

    area: float
    apart: float
    largest: float
    just: bool


def usual_apart(place: locker.Locker) -> float:
    """Height [m] apart of openings that are not there yet: two thirds of the place's height."""
    return place.vents.apart or place.height * 2 / 3


def vents(case: Heated, apart: float, reserve: float) -> Vented:
    """The smallest pair of openings so far apart [m] that keeps it cool for as long as one
    likes."""
    made = case.room
    pair = replace(made, vents=cooling.Vents(apart=apart))
    largest = min(LARGEST_OPENING, case.place.largest_face / 2)
    area, aim = _first(
        aims(case, reserve), lambda aim: cooling.least_vents(pair, aim.at(made.supply), largest)
    )
    if area > 0 and case.place.way == "engine":
        area = max(area, engine_openings(case, reserve) / 2)
    return Vented(area if area <= largest else math.inf, apart, largest, aim.just)


@dataclass(frozen=True)
class Blower:
    """A fan for an air flow [m³/s]: the duct [m] that passes it quietly, the openings [m²] in all
    for the air that comes in, whether they find room, and the fan's flow in free air [m³/s].

    at_rest: it must run while the unit rests too, as other heat goes on then.
    """

    flow: float
    bore: float
    opening: float
    has_room: bool
    free: float
    just: bool
    at_rest: bool

    @property
    def is_had(self) -> bool:
        """Whether such a fan can be had."""
        return self.has_room and self.free <= LARGEST_FAN

    @property
    def power(self) -> float:
        """What it draws [W]. Common practice, no source."""
        return ventilation.BLOWER_POWER * self.free


def blower(case: Heated, reserve: float) -> Blower | None:
    """The smallest fan that keeps it cool for as long as one likes; None where none is needed."""
    # Without the draught of openings: wherever the fan's air comes in, this much is enough.
    still = replace(case.room, vents=cooling.Vents(), fan=None)
    for aim in aims(case, reserve):
        flow = cooling.least_flow(still, aim.at(still.supply))
        if flow <= 0:
            return None
        fan = _blower(case, flow, aim)
        if fan.is_had:
            break
    return fan


def _blower(case: Heated, flow: float, aim: Aim) -> Blower:
    place, stands = case.place, case.place.fan
    need = ventilation.duct_diameter(min(flow, 1.0))
    bore = next((size for size in _BORES if size >= need), math.inf)
    if place.way == "fan" and stands.duct.diameter >= need:
        bore = stands.duct.diameter
    opening = max(2 * math.pi * bore**2 / 4, case.room.vents.low + case.room.vents.high)
    if math.isinf(flow) or opening > 2 * place.largest_face:
        return Blower(flow, bore, opening, False, math.inf, aim.just, at_rest=False)
    resistance = replace(stands.duct, diameter=bore).resistance
    resistance += ventilation.opening_resistance(opening, density=air.density(case.room.supply))
    free = ventilation.free_flow_for(flow, stands.pressure, resistance)
    # At rest the fan stands still: what gives heat then may have warmed the air too far.
    halves = cooling.Vents(opening / 2, opening / 2, case.room.vents.apart)
    rest = cooling.rest_state(replace(case.room, vents=halves, fan=None))
    at_rest = rest[AIR] > aim.at(case.room.supply).air
    return Blower(flow, bore, opening, True, free, aim.just, at_rest)


# ---- as it is ----


@dataclass(frozen=True)
class Longest:
    """The longest first run from cold [s]: infinite if any is well, 0 if it is too warm before it
    starts. beyond: a longer one, however long, just keeps within the limits."""

    time: float
    just: bool
    beyond: bool


def longest_run(case: Heated, reserve: float) -> Longest:
    """How long it may run as it is."""
    choices = aims_as_it_is(case, reserve)
    for aim in choices:
        longest = _first_run(case, aim.at(case.room.supply))
        if not aim.just and case.holds(reserve):
            longest = max(longest, case.duty.run)  # what the doubt holds back there is none of it
        if longest >= SHORTEST_RUN:
            break
    else:
        return Longest(0.0, aim.just, beyond=False)
    beyond = not aim.just and _settles_within(case, choices[-1].at(case.room.supply))
    return Longest(longest, aim.just, beyond)


def _settles_within(case: Heated, limits: cooling.Limits) -> bool:
    return case.settled[AIR] <= limits.air and case.settled[WINDING] <= limits.winding


def _first_run(case: Heated, limits: cooling.Limits) -> float:
    """Longest run [s] from cold that keeps the limits."""
    course: thermal_course.Course = case.course
    longest = min(course.first_reach(AIR, limits.air), course.first_reach(WINDING, limits.winding))
    if longest <= case.duty.run:
        return longest
    return cooling.longest_run(case.room, limits)  # not in the first run


@dataclass(frozen=True)
class Day:
    """The warmest day: temperatures [K] beside the place and outside, None where they have no part
    in it; whether sea and engine space have one, which stay as they are."""

    beside: float | None
    outside: float | None
    sea: bool
    engine_space: bool
    just: bool


def warmest_day(case: Heated, reserve: float) -> Day | None:
    """The warmest day on which it runs as it is for as long as one likes: air beside the place and
    outside shift alike; sea and engine space stay. None where there is none worth telling."""
    place, weather = case.place, case.place.weather
    behind = place.behind
    if place.way == "open":
        beside, outside = True, False
    else:
        beside = "cabin" in behind or place.supply_from == "cabin"
        outside = bool(behind & {"shade", "sun"}) or place.supply_from == "outside"
    now = [weather.beside] * beside + [weather.outside] * outside
    if not now:
        return None
    coldest, warmest = _COLDEST + 0.5 - min(now), _HOTTEST + 0.5 - max(now)
    if coldest >= warmest:
        return None
    shift, aim = _first(
        aims_as_it_is(case, reserve), lambda aim: _shift(case.room, aim, coldest, warmest)
    )
    if math.isinf(shift) or max(now) + shift > _HOTTEST:
        return None
    in_a_box = place.way != "open"
    return Day(
        weather.beside + shift if beside else None,
        weather.outside + shift if outside else None,
        in_a_box and bool(behind & {"bilge", "sea"}),
        in_a_box and ("engine" in behind or place.supply_from == "engine"),
        aim.just,
    )


def _shift(room: cooling.Room, aim: Aim, coldest: float, warmest: float) -> float:
    """How much warmer [K] the day may be, negative: colder, between two shifts; minus infinity if
    none does.

    A colder day moves what the air's margin is a share of, and so the aim with it.
    """

    def excess(shift: float) -> float:
        day = cooling.warmed(room, shift)
        return cooling.excess(day, aim.at(day.supply))

    return roots.most_that_fits(excess, coldest, warmest, tolerance=_TENTH)


@dataclass(frozen=True)
class Smallest:
    """The smallest locker of this shape with as much in it: its volume [m³] and its lengths as a
    share of those there are."""

    volume: float
    scale: float
    just: bool


def smallest(case: Heated, body: locker.Sizes, reserve: float) -> Smallest | None:
    """The smallest locker of this shape for a unit of that body, None where none is found, or where
    a face is warmer than the air that comes in: a larger locker would not help."""
    now = case.room.volume
    if any(wall.behind > case.room.supply for wall in case.room.walls):
        return None
    least = now * _least_scale(case.place, body) ** 3
    if least >= LARGEST_LOCKER:
        return None
    found, aim = _first(
        aims(case, reserve),
        lambda aim: cooling.smallest_volume(
            case.room, aim.at(case.room.supply), LARGEST_LOCKER, least
        ),
    )
    if not math.isfinite(found):
        return None
    return Smallest(found, (found / now) ** (1 / 3), aim.just)


def _least_scale(place: locker.Locker, body: locker.Sizes) -> float:
    """How much the locker may shrink, as a share of its lengths, before the unit or an opening no
    longer fits into it."""
    openings = place.vents
    scales = [math.sqrt(max(openings.low, openings.high) / place.largest_face)]
    if place.sizes:
        pairs = zip(body.rising, place.sizes.rising, strict=True)
        scales += [own / room for own, room in pairs]
        scales.append(max(openings.apart, openings.own_height) / place.sizes.height)
    return 1.001 * max(scales)
