"""The way of the sea water to the high-pressure pump, and the pressure along it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from ..physics import pipes, suction, vibration
from .held import Held
from .sea import Sea

SMOOTH = 1.5e-6  # m, roughness of drawn tube and of a hose's lining, Crane TP-410
TEST_VISCOSITY = 1.002e-3  # Pa s, water of 20 °C in which filters are tested, IAPWS
ATMOSPHERE = suction.ATMOSPHERE
# A soft hose of rubber or PVC: its wall [m] and Young's modulus [Pa]. Common practice, no source.
HOSE_WALL, HOSE_MODULUS = 0.0035, 5e7
_MOST_KNOWN = 64  # flows of a hose of which it is kept what they lose
ROD_RATIO = 1 / 6  # crank's radius over the rod's length, as usual in plunger pumps


@dataclass(frozen=True)
class Water:
    """The sea that flows in the line: density [kg/m3], viscosity [Pa s], vapour pressure [Pa]."""

    density: float
    viscosity: float
    vapour_pressure: float

    @classmethod
    def of(cls, sea: Sea) -> Water:
        """A sea's, worked out once."""
        return cls(sea.density, sea.viscosity, sea.vapour_pressure)


@dataclass(frozen=True)
class Moves:
    """How far the boat heels and pitches while it makes water [rad]."""

    heel: float
    pitch: float


@dataclass(frozen=True)
class Spot:
    """Where something stands: its height over the water when she floats upright, negative below it
    [m], and how far it lies off the centreline and fore or aft of midships [m]."""

    height: float
    aside: float
    ahead: float

    def rise(self, moves: Moves) -> float:
        """How far it may rise over the water, or sink below it, as she moves [m]."""
        heeled = pipes.lever_rise(self.aside, moves.heel)
        return heeled + pipes.lever_rise(self.ahead, moves.pitch)


@dataclass(frozen=True)
class Hose:
    """A hose: length and bore [m], its sharp bends, its branches of tees and three-way valves, and
    whether a seacock and a check valve stand in it [bool]."""

    length: float
    bore: float
    bends: int
    branches: int = 0
    seacock: bool = False
    check: bool = False

    def speed(self, flow: float) -> float:
        """Velocity in it [m/s] of a flow [m3/s]."""
        return pipes.velocity(flow, self.bore)

    def reynolds(self, flow: float, water: Water) -> float:
        """Reynolds number in it of a flow [m3/s]."""
        return pipes.reynolds(self.speed(flow), self.bore, water.density, water.viscosity)

    def fittings(self, flow: float, water: Water) -> float:
        """Loss coefficient of all its fittings, ends included."""
        return self._fittings(self.reynolds(flow, water))

    def _fittings(self, re: float) -> float:
        bore = self.bore
        counted = (
            (self.bends, pipes.ELBOW),
            (self.branches, pipes.BRANCH),
            (int(self.seacock), pipes.BALL_VALVE),
            (int(self.check), pipes.CHECK_VALVE),
        )
        ends = pipes.ENTRANCE + pipes.EXIT
        return ends + sum(n * pipes.fitting_loss(one, re, bore) for n, one in counted if n)

    def friction(self, flow: float, water: Water) -> float:
        """Friction factor in it of a flow [m3/s]."""
        return pipes.friction_factor(self.reynolds(flow, water), SMOOTH / self.bore)

    def lost(self, flow: float, water: Water) -> float:
        """Pressure lost in it [Pa] by a flow [m3/s]."""
        asked = flow, water.density, water.viscosity
        if asked not in self._known:
            if len(self._known) >= _MOST_KNOWN:
                self._known.clear()
            self._known[asked] = self._lost(flow, water)
        return self._known[asked]

    @cached_property
    def _known(self) -> dict[tuple[float, float, float], float]:
        """What it loses, by flow and water: most faults and most places leave these as they are."""
        return {}

    def _lost(self, flow: float, water: Water) -> float:
        speed = self.speed(flow)
        re = pipes.reynolds(speed, self.bore, water.density, water.viscosity)
        friction = pipes.friction_factor(re, SMOOTH / self.bore)
        fittings = self._fittings(re)
        return pipes.hose_loss(self.length, self.bore, speed, water.density, friction, fittings)


@dataclass(frozen=True)
class Strainer:
    """A strainer: clean loss [Pa] at a rated flow [m3/s], and the share of its mesh that may be
    blocked before somebody looks."""

    rated_flow: float
    rated_loss: float
    blocked: float

    def lost(self, flow: float, dirty: bool) -> float:
        """Pressure lost in it [Pa] by a flow [m3/s], clean or partly blocked."""
        blocked = self.blocked if dirty else 0.0
        return pipes.strainer_loss(flow, self.rated_flow, self.rated_loss, blocked)


@dataclass(frozen=True)
class Filters:
    """Cartridges one behind the other: how many, what each loses clean [Pa] at a rated flow [m3/s],
    the drop over all at which they are changed, and what their housings bear [Pa]."""

    count: int
    rated_flow: float
    rated_loss: float
    change: float
    bears: float

    def clean(self, flow: float, water: Water) -> float:
        """Pressure lost over all of them [Pa] by a flow [m3/s] while clean."""
        thick = water.viscosity / TEST_VISCOSITY
        return self.count * pipes.cartridge_loss(flow, self.rated_flow, self.rated_loss, thick)

    def lost(self, flow: float, water: Water, dirty: bool) -> float:
        """Pressure lost over all of them [Pa] by a flow [m3/s]: clean, or due for change."""
        clean = self.clean(flow, water)
        return max(clean, self.change) if dirty else clean


@dataclass(frozen=True)
class Boost:
    """A boost pump: where it stands, its pressure against a shut end [Pa], its flow against nothing
    [m3/s], the suction head that it needs and how far it lifts water by itself [m], and the hose
    from it to the filters and the high-pressure pump."""

    spot: Spot
    shut_off: float
    free_flow: float
    npsh: float
    lift: float
    hose: Hose

    def rise(self, flow: float) -> float:
        """Pressure that it adds at a flow [m3/s]; negative where the flow is too much for it."""
        return pipes.pump_rise(flow, self.shut_off, self.free_flow)


@dataclass(frozen=True)
class Inlet:
    """The high-pressure pump's inlet: where it stands, the least and the most pressure it may have
    [Pa], the suction head it needs [m] where that is known, the number of its plungers and the
    speed of its crank [rev/s]."""

    spot: Spot
    least: float
    most: float
    npsh: float | None
    plungers: int
    speed: float


@dataclass(frozen=True)
class Station:
    """A place along the line: its key, its height over the water [m], the gauge pressure there
    [Pa]. Keys: sea, strainer, boost_in, boost_out, filters, inlet."""

    key: str
    spot: Spot
    pressure: float


@dataclass(frozen=True)
class FeedLine:
    """All of it: the water, the feed flow that the high-pressure pump takes [m3/s], the intake, the
    hose from it, strainer, filters, a boost pump where there is one, the pump's inlet, how the boat
    moves, and whether the line is stiff pipe [bool]."""

    water: Water
    flow: float
    intake: Spot
    hose: Hose
    strainer: Strainer
    filters: Filters
    boost: Boost | None
    inlet: Inlet
    moves: Moves
    stiff: bool = False

    # ---- losses ----

    @cached_property
    def head(self) -> float:
        """Pressure of a metre of this sea [Pa/m]."""
        return self.water.density * pipes.GRAVITY

    @cached_property
    def hose_lost(self) -> float:
        """Pressure lost from the sea to the strainer [Pa]."""
        return self.hose.lost(self.flow, self.water)

    @cached_property
    def delivery_lost(self) -> float:
        """Pressure lost in the hose behind the boost pump [Pa]; 0 where there is none."""
        return self.boost.hose.lost(self.flow, self.water) if self.boost else 0.0

    @cached_property
    def rise(self) -> float:
        """Pressure that the boost pump adds at this flow [Pa]; 0 where there is none."""
        return self.boost.rise(self.flow) if self.boost else 0.0

    def suction_lost(self, dirty: bool) -> float:
        """Pressure lost from the sea to behind the strainer [Pa]."""
        return self.hose_lost + self.strainer.lost(self.flow, dirty)

    def lost(self, dirty: bool) -> float:
        """All that is lost from the sea to the inlet [Pa]."""
        filters = self.filters.lost(self.flow, self.water, dirty)
        return self.suction_lost(dirty) + self.delivery_lost + filters

    # ---- pressures ----

    def static(self, spot: Spot, moving: bool) -> float:
        """Gauge pressure of water at rest at a spot [Pa]: upright, or risen as far as it may."""
        height = spot.height + (spot.rise(self.moves) if moving else 0.0)
        return pipes.static_pressure(height, self.water.density)

    def inlet_pressure(self, dirty: bool, moving: bool) -> float:
        """Gauge pressure at the inlet of the high-pressure pump [Pa]."""
        return self.gauges(dirty, moving)[1]

    def gauges(self, dirty: bool, moving: bool = False) -> tuple[float, float]:
        """What gauges before and behind the filters read [Pa], as high as the pump's inlet."""
        filters = self.filters.lost(self.flow, self.water, dirty)
        lost = self.suction_lost(dirty) + self.delivery_lost + filters
        behind = self.static(self.inlet.spot, moving) + self.rise - lost
        return behind + filters, behind

    def stations(self, dirty: bool, moving: bool = False) -> list[Station]:
        """The pressures along the line, from the sea to the pump."""
        spots = self.boost.spot if self.boost else self.inlet.spot
        suction_side = self.static(spots, moving) - self.hose_lost
        found = [
            Station("sea", self.intake, self.static(self.intake, moving)),
            Station("strainer", spots, suction_side),
        ]
        behind = suction_side - self.strainer.lost(self.flow, dirty)
        if self.boost:
            found += [
                Station("boost_in", spots, behind),
                Station("boost_out", spots, behind + self.rise),
            ]
        before, at_inlet = self.gauges(dirty, moving)
        return [
            *found,
            Station("filters", self.inlet.spot, before),
            Station("inlet", self.inlet.spot, at_inlet),
        ]

    # ---- what is held ----

    @cached_property
    def fed(self) -> Held:
        """The inlet's pressure at its worst: filters due, mesh blocked, heeled and pitching."""
        worst = self.inlet_pressure(dirty=True, moving=True)
        return Held(worst, self.inlet.least, least=True, zero=-ATMOSPHERE)

    @cached_property
    def shut(self) -> float:
        """Pressure at the inlet [Pa] while the boost pump runs against a shut end, sunk as deep as
        she heels."""
        depth = self.inlet.spot.rise(self.moves) - self.inlet.spot.height
        boost = self.boost.shut_off if self.boost else 0.0
        return boost + max(depth, 0.0) * self.head

    @cached_property
    def inlet_bears(self) -> Held:
        """The boost pump against a shut end, against what the inlet bears."""
        return Held(self.shut, self.inlet.most)

    @cached_property
    def housings_bear(self) -> Held:
        """The same against what the filter housings bear."""
        return Held(self.shut, self.filters.bears)

    @cached_property
    def boost_npsh(self) -> Held | None:
        """Suction head at the boost pump at its worst [m], against what it needs."""
        if self.boost is None:
            return None
        spot = self.boost.spot
        return Held(self._npsh(spot, self.suction_lost(dirty=True), 0.0), self.boost.npsh, True)

    @cached_property
    def boost_primes(self) -> Held | None:
        """How high over the water the boost pump may come [m], against what it lifts by itself."""
        if self.boost is None:
            return None
        spot, lift = self.boost.spot, self.boost.lift
        return Held(spot.height + spot.rise(self.moves), lift, zero=lift - 1.0)

    @cached_property
    def intake_deep(self) -> Held:
        """How deep the intake stays [m] as she heels and pitches: it may not draw air."""
        return Held(-self.intake.height - self.intake.rise(self.moves), 0.0, True, zero=-1.0)

    @cached_property
    def due(self) -> float | None:
        """The drop at which to change the filters [Pa]: the one that is said, or less, so that the
        inlet keeps what it wants; None where even new ones lose too much."""
        drop = self.filters.change + min(self.fed.value - self.fed.limit, 0.0)
        clean = self.filters.clean(self.flow, self.water)
        return drop if drop >= clean else None

    @cached_property
    def filters_clean(self) -> Held:
        """What the filters lose clean, against the drop at which they are changed [Pa]."""
        return Held(self.filters.clean(self.flow, self.water), self.filters.change)

    def _npsh(self, spot: Spot, lost: float, rise: float) -> float:
        height = spot.height + spot.rise(self.moves)
        water = self.water
        return suction.npsh_available(
            ATMOSPHERE + rise, water.vapour_pressure, water.density, -height, lost / self.head
        )

    @cached_property
    def npsh(self) -> float:
        """Suction head at the high-pressure pump at its worst [m], before its strokes."""
        return self._npsh(self.inlet.spot, self.lost(dirty=True), self.rise)

    @cached_property
    def pull(self) -> float:
        """Length times velocity over all of the line [m2/s]."""
        hoses = [self.hose, *([self.boost.hose] if self.boost else [])]
        return sum(hose.length * hose.speed(self.flow) for hose in hoses)

    @cached_property
    def acceleration(self) -> float:
        """What the strokes ask of a stiff line [m]."""
        constant = suction.stroke_constant(self.inlet.plungers)
        return suction.acceleration_head(self.pull, self.inlet.speed, constant)

    @property
    def last_hose(self) -> Hose:
        """The hose that ends at the filters and the pump."""
        return self.boost.hose if self.boost else self.hose

    @cached_property
    def wave(self) -> float:
        """How fast a pressure wave runs in it if it is soft [m/s]."""
        bore, density = self.last_hose.bore, self.water.density
        return suction.wave_speed(bore, HOSE_WALL, HOSE_MODULUS, density)

    @cached_property
    def swing(self) -> float:
        """From the highest to the lowest flow of the plungers, over the mean."""
        return vibration.flow_ripple(self.inlet.plungers, ROD_RATIO).total

    @cached_property
    def soft(self) -> float:
        """About what the strokes ask of a soft hose [m]: no more than of a stiff one."""
        change = self.swing * self.last_hose.speed(self.flow)
        return min(suction.surge_head(change, self.wave), self.acceleration)

    @cached_property
    def left(self) -> Held:
        """Suction head left when the strokes have taken theirs [m], against what the pump needs."""
        return Held(self.npsh - self.acceleration, self.inlet.npsh or 0.0, True, zero=-1.0)

    @property
    def held(self) -> Sequence[Held]:
        """What must hold while water is made."""
        found = [self.fed, self.boost_npsh, self.boost_primes, self.intake_deep, self.head_held]
        return [one for one in found if one is not None]

    @cached_property
    def head_held(self) -> Held | None:
        """The suction head at the pump where it is held: with the strokes in a stiff line, else
        without them, where it is known what the pump needs."""
        if self.stiff:
            return self.left
        return self.suction_head if self.inlet.npsh is not None else None

    @cached_property
    def suction_head(self) -> Held:
        """Suction head at the pump before its strokes [m], against what it needs."""
        return Held(self.npsh, self.inlet.npsh or 0.0, True)

    @property
    def margin(self) -> float:
        """The least that is left over of what must hold, as a share of its limit."""
        return min(one.margin for one in self.held)

    @property
    def judged(self) -> Sequence[Held]:
        """All that the line is judged by: what must hold while water is made, the filters' drop
        clean, and the boost pump against a shut end."""
        shut = [self.inlet_bears, self.housings_bear] if self.boost else []
        return [*self.held, self.filters_clean, *shut]
