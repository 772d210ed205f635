"""A motor warming a small space, in time: winding, frame, air and the walls around as lumps.

The lumps form a star: each wall touches the air, the winding touches the frame and the frame the
air. An implicit step therefore needs no matrix: walls and motor are eliminated one by one and a
single equation for the air is left, in which the stack draught makes its own temperature.

SI units throughout: temperatures in K (absolute), times in s, heats in W, conductances in W/K,
capacities in J/K, flows in m³/s.

Stepping: TR-BDF2 (R. E. Bank et al., IEEE Trans. CAD 4 (1985) 436-451) with the error estimate of
M. E. Hosea and L. F. Shampine, Appl. Numer. Math. 20 (1996) 21-37: second order, L-stable (the
light air does not force small steps), and what the faces and the air flow take is exactly what the
lumps lose.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.physics import air, heat, ventilation
from calc.physics._require import positive

_D = 1 - math.sqrt(2) / 2
_W = math.sqrt(2) / 4
# Third-order weights less second-order weights: the error of a step.
_E1, _E2, _E3 = _W - (1 - _W) / 3, _W - (3 * _W + 1) / 3, _D - _D / 3

_NO_FLOW = 1e-9  # m³/s: openings that let less through count as shut

WINDING, FRAME, AIR = 0, 1, 2
"""Positions in a state; the faces follow in their order."""

State = tuple[float, ...]


class NoWayOut(ValueError):
    """Heat is given to a space that nothing takes any from: it warms without end."""


@dataclass(frozen=True)
class Motor:
    """Winding and frame: conductances winding to frame and frame to air, and capacities."""

    to_frame: float
    to_air: float
    winding_capacity: float
    frame_capacity: float

    def __post_init__(self) -> None:
        """Raises ValueError unless all are positive."""
        positive(min(self.to_frame, self.to_air), "each heat conductance of the motor")
        positive(min(self.winding_capacity, self.frame_capacity), "each heat capacity of the motor")


@dataclass(frozen=True)
class Face:
    """A wall as one lump: conductances to the air inside and to what lies behind, capacity,
    temperature behind."""

    to_air: float
    to_behind: float
    capacity: float
    behind: float

    def __post_init__(self) -> None:
        """Raises ValueError unless conductances and capacity are positive."""
        positive(min(self.to_air, self.to_behind), "each heat conductance of a wall")
        positive(self.capacity, "the heat capacity of a wall")


@dataclass(frozen=True)
class Exchange:
    """How the air of the space is renewed.

    supply: temperature of the air that comes in. forced: flow of a fan or of an engine that
    breathes from the space. stack: Cd A sqrt(2 g H) of two openings [m³/s]. two_way:
    A sqrt(g H) / 3 of one opening [m³/s]; the stronger of the two counts. density: of the supply
    air [kg/m³].
    """

    supply: float
    forced: float = 0.0
    stack: float = 0.0
    two_way: float = 0.0
    density: float = 1.2

    def flow(self, temperature: float) -> float:
        """Air flow [m³/s] when the space is at a temperature."""
        natural = self.natural(temperature)
        return ventilation.combined_flow(self.forced, natural) if natural else self.forced

    def natural(self, temperature: float) -> float:
        """The part of it [m³/s] that warm air drives by itself."""
        difference = abs(temperature - self.supply)
        if not difference:
            return 0.0
        strength = max(self.stack, self.two_way * ventilation.two_way_discharge(difference))
        return strength * math.sqrt(difference / max(temperature, self.supply))

    def heat(self, temperature: float) -> float:
        """Heat [W] that the air flow carries away when the space is at a temperature."""
        return heat.sensible_heat(
            self.flow(temperature), temperature - self.supply, self.density, air.HEAT_CAPACITY
        )

    def balance(self, conductance: float, source: float, guess: float, weight: float) -> float:
        """Temperature T with conductance T + weight heat(T) = source, by Newton's method.

        Raises NoWayOut when nothing carries heat away.
        """
        supply = self.supply
        stack, opening = self.stack, self.two_way
        hold = weight * self.density * air.HEAT_CAPACITY
        right = source - conductance * supply
        if conductance + hold * (self.forced + stack + opening) <= 0:
            raise NoWayOut("nothing carries the heat away: no air flow and no wall that conducts")
        if stack < _NO_FLOW and opening < _NO_FLOW:
            return supply + right / (conductance + hold * self.forced)
        sign = 1.0 if right >= 0 else -1.0
        right *= sign
        forced = self.forced**2
        sqrt, discharge = math.sqrt, ventilation.two_way_discharge
        # Warming above the supply; from the right of the root Newton's steps only go down.
        fixed = conductance + hold * self.forced
        strength = stack
        rise = max(sign * (guess - supply), 0.0)
        if not rise:
            rise = min(right / fixed if fixed else 50.0, 50.0)
        for _ in range(60):
            if rise <= 0:
                rise = 1e-12
            warm = supply + rise if sign > 0 else supply
            if opening:
                two_way = opening * discharge(rise)
                strength = two_way if two_way > stack else stack
            natural = strength * strength * rise / warm
            flow = sqrt(forced + natural)
            slope = conductance + hold * (flow + natural / (2 * flow))
            if slope <= 0:
                # A loss that grows with temperature: look beyond the dip it makes.
                rise *= 2
                continue
            step = (right - (conductance + hold * flow) * rise) / slope
            rise += step
            if -1e-8 < step < 1e-8:
                break
        return supply + sign * max(rise, 0.0)


@dataclass(frozen=True)
class Mode:
    """What goes on: motor loss, heat given straight to the air, and the exchange of air.

    loss is the motor's at a winding of reference; loss_slope [W/K] what it grows with the winding's
    temperature (copper conducts worse when hot). cooling: share of the motor's conductance to the
    air that is at work; standstill: the same once a protector stops it and its own fan with it."""

    exchange: Exchange
    loss: float = 0.0
    loss_slope: float = 0.0
    reference: float = 0.0
    air_heat: float = 0.0
    cooling: float = 1.0
    standstill: float = 1.0

    def __post_init__(self) -> None:
        """Raises ValueError unless some of the motor's cooling is left."""
        positive(min(self.cooling, self.standstill), "the share of the motor's cooling")

    def motor_heat(self, winding: float) -> float:
        """Motor loss [W] with the winding at a temperature."""
        return self.loss + self.loss_slope * (winding - self.reference)


@dataclass(frozen=True)
class Space:
    """Motor, faces and the capacity of the air (with light contents) between them."""

    motor: Motor
    faces: tuple[Face, ...]
    air_capacity: float

    @property
    def capacities(self) -> State:
        """Capacities in the order of a state."""
        own = (self.motor.winding_capacity, self.motor.frame_capacity, self.air_capacity)
        return own + tuple(face.capacity for face in self.faces)

    def uniform(self, temperature: float) -> State:
        """A state with everything at one temperature."""
        return (temperature,) * (3 + len(self.faces))


@dataclass(frozen=True)
class Protector:
    """A thermal protector on the winding: opens at trip, closes again at reset (if automatic)."""

    trip: float
    reset: float
    automatic: bool = True

    def __post_init__(self) -> None:
        """Raises ValueError unless it resets below its trip."""
        if self.reset >= self.trip:
            raise ValueError("a protector resets below the temperature at which it trips")


@dataclass(frozen=True)
class Segment:
    """One accepted step: where it began, its middle stage, where it ended, and the rates [K/s]."""

    begin: float
    length: float
    first: State
    middle: State
    last: State
    first_rate: State
    last_rate: State
    mode: Mode


@dataclass(frozen=True)
class Event:
    """The protector tripped or reset at a time."""

    time: float
    kind: str


@dataclass(frozen=True)
class Course:
    """Temperatures over time, and what the protector did."""

    segments: tuple[Segment, ...]
    events: tuple[Event, ...]

    @property
    def end(self) -> float:
        """Time at which the course ends."""
        return self.segments[-1].begin + self.segments[-1].length

    @property
    def final(self) -> State:
        """State at the end."""
        return self.segments[-1].last

    def at(self, time: float, nodes: Sequence[int] | None = None) -> State:
        """Temperatures of the nodes, or of all, at a time (held at the ends), by cubic
        interpolation in the step."""
        index = bisect_right(self.segments, time, key=lambda one: one.begin) - 1
        one = self.segments[max(index, 0)]
        part = min(max((time - one.begin) / one.length, 0.0), 1.0)
        return tuple(_between(one, part, n) for n in nodes or range(len(one.first)))

    def peak(self, node: int) -> float:
        """Highest temperature of a node at the ends of the steps."""
        return max(max(one.first[node], one.last[node]) for one in self.segments)

    def first_reach(self, node: int, limit: float) -> float:
        """First time at which a node reaches a limit; infinite when it never does."""
        if self.segments[0].first[node] >= limit:
            return self.segments[0].begin
        for one in self.segments:
            if one.last[node] >= limit:
                return one.begin + one.length * _fraction(one, node, limit)
        return math.inf


def rates(space: Space, state: State, mode: Mode) -> State:
    """Rates of change [K/s] of each lump. Source: heat balance of each lump."""
    motor = space.motor
    winding, frame, hub = state[0], state[1], state[2]
    inner = motor.to_frame * (winding - frame)
    outer = motor.to_air * mode.cooling * (frame - hub)
    into_air = outer + mode.air_heat - mode.exchange.heat(hub)
    result = []
    for face, temperature in zip(space.faces, state[3:], strict=True):
        gain = face.to_air * (hub - temperature)
        into_air -= gain
        result.append((gain - face.to_behind * (temperature - face.behind)) / face.capacity)
    return (
        (mode.motor_heat(winding) - inner) / motor.winding_capacity,
        (inner - outer) / motor.frame_capacity,
        into_air / space.air_capacity,
        *result,
    )


@dataclass(frozen=True)
class Flows:
    """Where the heat goes [W]: what motor and others give, what the air carries away, and what
    goes through each face."""

    motor: float
    other: float
    air: float
    faces: tuple[float, ...]

    @property
    def stored(self) -> float:
        """What stays in the lumps [W]."""
        return self.motor + self.other - self.air - math.fsum(self.faces)


def flows(space: Space, state: State, mode: Mode) -> Flows:
    """Heat flows [W] across the borders of the space in a state.

    Source: definition of a conductance.
    """
    return Flows(
        motor=mode.motor_heat(state[WINDING]),
        other=mode.air_heat,
        air=mode.exchange.heat(state[AIR]),
        faces=tuple(
            face.to_behind * (temperature - face.behind)
            for face, temperature in zip(space.faces, state[3:], strict=True)
        ),
    )


def steady(space: Space, mode: Mode) -> State:
    """State that the space tends to in a mode.

    Raises ValueError when nothing carries the heat away, or when the loss grows with temperature
    faster than heat leaves (it would run away). Source: as `rates`, which are zero.
    """
    return _Implicit(space, mode, 1.0, inertia=0.0).solve(space.uniform(mode.exchange.supply))


class _Implicit:
    """Solves capacity (x - r) = step rate(x) capacity for every lump at once.

    With no inertia the lumps store nothing and the steady state comes out."""

    def __init__(self, space: Space, mode: Mode, step: float, inertia: float = 1.0) -> None:
        self.mode, self.step = mode, step
        motor = space.motor
        # Winding x = (Cw r + step loss0 + step Gwf frame) / den, and so on along the chain.
        self.winding_capacity = inertia * motor.winding_capacity
        self.winding_link = step * motor.to_frame
        self.winding_total = self.winding_capacity + self.winding_link - step * mode.loss_slope
        if self.winding_total <= 0:
            raise ValueError("the motor's loss grows faster with temperature than heat leaves it")
        self.winding_source = step * (mode.loss - mode.loss_slope * mode.reference)
        self.frame_capacity = inertia * motor.frame_capacity
        self.frame_link = step * motor.to_air * mode.cooling
        kept = self.winding_total - self.winding_link
        inward = self.winding_link * kept / self.winding_total
        self.frame_total = self.frame_capacity + self.frame_link + inward
        if self.frame_total <= 0:
            raise ValueError("the motor's loss grows faster with temperature than heat leaves it")
        self.air_capacity = inertia * space.air_capacity
        lost = self.frame_link * (self.frame_capacity + inward) / self.frame_total
        hub = self.air_capacity + lost
        self.faces = []
        for face in space.faces:
            link, behind = step * face.to_air, step * face.to_behind
            capacity = inertia * face.capacity
            total = capacity + link + behind
            share = link / total
            hub += share * (capacity + behind)
            self.faces.append((capacity, behind * face.behind, total, share))
        self.hub = hub
        self.air_source = step * mode.air_heat

    def solve(self, rest: Sequence[float]) -> State:
        """The new state, from what each lump would be without its implicit part."""
        heat = self.winding_capacity * rest[0] + self.winding_source
        carry = heat * self.winding_link / self.winding_total
        frame = self.frame_capacity * rest[1] + carry
        source = (
            self.air_capacity * rest[2]
            + self.air_source
            + frame * self.frame_link / self.frame_total
        )
        kept = []
        for (capacity, behind, total, share), old in zip(self.faces, rest[3:], strict=True):
            own = capacity * old + behind
            source += share * own
            kept.append((own / total, share))
        hub = self.mode.exchange.balance(self.hub, source, rest[2], self.step)
        case = (frame + self.frame_link * hub) / self.frame_total
        winding = (heat + self.winding_link * case) / self.winding_total
        return (winding, case, hub, *[own + share * hub for own, share in kept])

    def softening(self) -> State:
        """How much of an error each lump keeps over the step: light ones follow the rest."""
        return (
            self.winding_capacity / self.winding_total,
            self.frame_capacity / self.frame_total,
            self.air_capacity / (self.hub + self.step * self._air_conductance()),
            *[capacity / total for capacity, _, total, _ in self.faces],
        )

    def _air_conductance(self) -> float:
        exchange = self.mode.exchange
        return exchange.density * air.HEAT_CAPACITY * exchange.forced


def _step(
    space: Space, state: State, rate: State, mode: Mode, length: float
) -> tuple[State, State, State, float]:
    """One TR-BDF2 step: middle stage, new state, its rates, and the largest error [K]."""
    part = _D * length
    implicit = _Implicit(space, mode, part)
    rest = [x + part * f for x, f in zip(state, rate, strict=True)]
    middle = implicit.solve(rest)
    second = [(x - r) / part for x, r in zip(middle, rest, strict=True)]
    side = _W * length
    rest = [x + side * (f + s) for x, f, s in zip(state, rate, second, strict=True)]
    last = implicit.solve(rest)
    third = tuple([(x - r) / part for x, r in zip(last, rest, strict=True)])
    error = max(
        [
            abs(_E1 * f + _E2 * s + _E3 * t) * soft
            for f, s, t, soft in zip(rate, second, third, implicit.softening(), strict=True)
        ]
    )
    return middle, last, third, error * length


def _between(one: Segment, part: float, node: int) -> float:
    """Temperature of a node at a fraction of a step: cubic Hermite polynomial."""
    rest = 1 - part
    return rest * rest * (
        (1 + 2 * part) * one.first[node] + part * one.length * one.first_rate[node]
    ) + part * part * ((3 - 2 * part) * one.last[node] - rest * one.length * one.last_rate[node])


def _fraction(one: Segment, node: int, limit: float) -> float:
    """Fraction of a step at which a node passes a limit, known to lie between its ends."""
    low, high = 0.0, 1.0
    up = one.last[node] >= one.first[node]
    for _ in range(30):
        part = (low + high) / 2
        if (_between(one, part, node) >= limit) == up:
            high = part
        else:
            low = part
    return (low + high) / 2


def transient(
    space: Space,
    start: State,
    schedule: Sequence[tuple[float, Mode]],
    protector: Protector | None = None,
    tolerance: float = 0.02,
    most_events: int | None = None,
) -> Course:
    """Temperatures over a schedule of (duration [s], mode), or no further than `most_events` of the
    protector.

    With a protector the motor's loss stops while it is open; air flow and other heat go on, as a
    fan switched with the pump does. tolerance is the error allowed in a step [K].
    Raises ValueError for an empty schedule, a duration that is not positive, or a wrong state.
    Source: TR-BDF2 as R. E. Bank et al. and M. E. Hosea, L. F. Shampine, named at the top.
    """
    if not schedule or any(duration <= 0 for duration, _ in schedule):
        raise ValueError("a schedule needs at least one part, each with a positive duration")
    if len(start) != 3 + len(space.faces):
        raise ValueError("the state does not fit the space")
    segments: list[Segment] = []
    events: list[Event] = []
    time, state, tripped = 0.0, start, False
    for duration, wanted in schedule:
        end = time + duration
        length = min(10.0, duration)
        mode = wanted if not tripped else _unpowered(wanted)
        rate = rates(space, state, mode)
        while end - time > 1e-9 * end:
            length = min(length, end - time)
            middle, last, last_rate, error = _step(space, state, rate, mode, length)
            growth = 0.9 * (tolerance / error) ** (1 / 3) if error else 4.0
            if error > tolerance and length > 1e-3:
                length *= max(0.2, growth)
                continue
            one = Segment(time, length, state, middle, last, rate, last_rate, mode)
            event = _crossing(one, protector, tripped)
            if event and length > 1e-3:
                # Take the step again up to the moment of the event, so that no heat is lost.
                length = max(length * _fraction(one, WINDING, event[1]), 1e-3)
                middle, last, last_rate, _ = _step(space, state, rate, mode, length)
                one = Segment(time, length, state, middle, last, rate, last_rate, mode)
            segments.append(one)
            time, state, rate = time + length, last, last_rate
            if event:
                tripped = event[0] == "trip"
                events.append(Event(time, event[0]))
                if len(events) == most_events:
                    return Course(tuple(segments), tuple(events))
                mode = _unpowered(wanted) if tripped else wanted
                rate = rates(space, state, mode)
                length = 10.0
            else:
                length *= min(4.0, max(0.2, growth))
    return Course(tuple(segments), tuple(events))


def _unpowered(mode: Mode) -> Mode:
    return replace(mode, loss=0.0, loss_slope=0.0, cooling=mode.standstill)


def _crossing(one: Segment, protector: Protector | None, tripped: bool) -> tuple[str, float] | None:
    """What the protector does within a step, and at which winding temperature."""
    if protector is None:
        return None
    if tripped:
        if protector.automatic and one.last[WINDING] <= protector.reset:
            return "reset", protector.reset
    elif one.last[WINDING] >= protector.trip:
        return "trip", protector.trip
    return None
