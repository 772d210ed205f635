"""A motor warming a small space: winding, frame, air and the walls around as lumps.

The lumps form a star: each wall touches the air, the winding touches the frame and the frame the
air. `thermal_course` follows them in time.

SI units throughout: temperatures in K (absolute), times in s, heats in W, conductances in W/K,
capacities in J/K, flows in m³/s.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from calc.physics import air, heat, ventilation
from calc.physics._require import positive

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
    return Implicit(space, mode, 1.0, inertia=0.0).solve(space.uniform(mode.exchange.supply))


class Implicit:
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
