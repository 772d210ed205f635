"""Runs of cable: what each has to carry and bear, and what a size of cable makes of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

from ..physics import conductors
from ..physics.conductors import Conductor
from .guards import TENTH, Guard
from .supply import HOT

FAMILY = {"us": "AWG", "iso": "mm²"}
FAMILIES = tuple(conductors.FAMILIES)
HEAVY_SIZES = tuple(
    [size.name for size in (*conductors.GAUGES, *conductors.METRIC) if size.area > 3.9e-6]
)
"""Sizes that a battery cable may have: AWG 10 or 4 mm² and up."""
AT_HAND = 1e-3  # m, a run so short that it loses nothing


@dataclass(frozen=True)
class Duty:
    """A run of cable: its length [m, one way], currents [A], and where it lies.

    `current` is the one its drop is reckoned for, `wanted` the ampacity it must have; `guard` is
    its fuse or breaker. Drops in V, the insulation's rating in K. A power factor makes it AC. At
    the start the source gives `start_volts` and the far end must keep `cut_off` [V]; it is
    `hopeless` where the source itself fails, whatever the cable. A motor bears its volts so far
    below its plate's as `band` [V]; the supply itself is `off` them [V].
    """

    key: str
    run: float
    current: float
    start: float
    wanted: float
    guard: Guard
    voltage: float
    drop: float
    start_drop: float
    insulation: float
    engine_space: bool
    bundled: int
    least_area: float
    most_parallel: int
    power_factor: float | None = None
    start_power_factor: float = 1.0
    frequency: float = 50.0
    start_volts: float = 0.0
    cut_off: float = 0.0
    hopeless: bool = False
    band: float = math.inf
    off: float = 0.0

    def allowed_running(self, spare: float = 0.0) -> float:
        """Volts that may be lost running: as allowed, or down to what the motor bears."""
        return min((1 - spare) * self.drop, (1 - spare) * self.band - self.off)

    @property
    def temperature(self) -> float:
        """What the copper is taken to run at [K]."""
        return min(HOT, self.insulation)

    def allowed_at_start(self, spare: float = 0.0, volts_spare: float | None = None) -> float:
        """Volts that may be lost at the start: as allowed, or down to the cut-off.

        With a share of the limits to spare, another one for what the far end keeps over its
        cut-off where `volts_spare` is given; nought or less where the source leaves none.
        """
        allowed = (1 - spare) * self.start_drop
        if self.start_volts <= self.cut_off:
            return allowed
        over = spare if volts_spare is None else volts_spare
        return min(allowed, self.start_volts - (1 + over) * self.cut_off)

    @property
    def celsius(self) -> int:
        """The insulation's rating as it is printed [°C]."""
        return round(self.insulation - 273.15)

    @property
    def column_seen(self) -> bool:
        """Whether the column of the ampacity table for it was seen in a source."""
        return conductors.table_standing(self.insulation) == "published"

    @property
    def spares_a_tenth(self) -> bool:
        """Whether the source itself keeps a tenth above the cut-off, so that a cable could."""
        return self.start_volts >= (1 + TENTH) * self.cut_off

    def ampacity(self, size: Conductor, parallel: int) -> float:
        """What so many in parallel may carry where they lie [A]."""
        return parallel * conductors.ampacity(
            size.name, self.insulation, self.engine_space, self.bundled, self.voltage
        )

    def alone(self, size: Conductor) -> float:
        """What one may carry [A]: a common fuse goes by it, for if a lug lets go it carries all."""
        return self.ampacity(size, 1)

    def ohms(self, size: Conductor) -> float:
        """Resistance [ohm/m] of one conductor, hot."""
        return size.resistance * conductors.resistance_factor(self.temperature)

    def reactance(self, size: Conductor) -> float:
        """Reactance [ohm/m] of one conductor; none for DC."""
        if self.power_factor is None:
            return 0.0
        return conductors.reactance(size, self.frequency)

    def lost(self, size: Conductor, parallel: int, start: bool = False) -> float:
        """Volts lost over each metre of the run, out and back, running or at the start."""
        amps = (self.start if start else self.current) / parallel
        if self.power_factor is None:
            return conductors.dc_drop(amps, 2.0, self.ohms(size))
        factor = self.start_power_factor if start else self.power_factor
        return conductors.ac_drop(amps, 1.0, self.ohms(size), self.reactance(size), factor)

    def left_at_start(self, size: Conductor, parallel: int, run: float) -> float:
        """Volts left at the far end at the start, behind a run [m, one way]."""
        return max(0.0, self.start_volts - self.lost(size, parallel, start=True) * run)

    def longest(self, size: Conductor, parallel: int, spare: float = 0.0) -> float:
        """Longest run [m, one way] by the volts lost, running and at the start."""
        running = max(0.0, self.allowed_running(spare)) / self.lost(size, parallel)
        at_start = self.lost(size, parallel, start=True)
        if not at_start:
            return running
        return min(running, max(0.0, self.allowed_at_start(spare)) / at_start)

    def heat(self, size: Conductor, parallel: int) -> float:
        """Heat [W] given off by each metre of the run, out and back."""
        return 2 * parallel * conductors.heat_per_length(self.current / parallel, self.ohms(size))

    def too_thin(self, size: Conductor, parallel: int) -> bool:
        """Whether it may not be laid in parallel. Source: `conductors.LEAST_PARALLEL`."""
        return parallel > 1 and size.area < conductors.LEAST_PARALLEL_AREA

    def spare(self, size: Conductor, parallel: int) -> float:
        """The share of its nearest limit that a size would leave on this run, with the fuse or
        breaker that suits it; below nought where it does not do."""
        carries = self.ampacity(size, parallel)
        drops = ((self.drop, False), (self.start_drop, True))
        spare = [
            carries / self.wanted - 1,
            self.guard.spare(self.alone(size)),
            *(1 - self.lost(size, parallel, start) * self.run / most for most, start in drops),
        ]
        if math.isfinite(self.band):
            lost = self.lost(size, parallel) * self.run
            spare.append(1 - (self.off + lost) / self.band)
        if self.cut_off:
            spare.append(self.left_at_start(size, parallel, self.run) / self.cut_off - 1)
        if self.hopeless or self.too_thin(size, parallel):
            return -1.0
        return min(spare)

    def does(self, size: Conductor, parallel: int) -> bool:
        """Whether a size does on this run."""
        return self.spare(size, parallel) >= -1e-9


@dataclass(frozen=True)
class Cable:
    """The cable that is judged: size, how many in parallel, and which rule decided it: one of
    `conductors.Choice`, or "fitted"."""

    size: Conductor
    parallel: int
    decided_by: str

    @property
    def name(self) -> str:
        """What it is called: its size, with how many there are of it."""
        return f"{self.parallel} × {self.size.name}" if self.parallel > 1 else self.size.name


@dataclass(frozen=True)
class Side:
    """One side of the inverter: its duty, its cable and the kind of its fuse or breaker; whether
    any cable made does."""

    duty: Duty
    cable: Cable
    device: str
    found: bool = True

    @property
    def carries(self) -> float:
        """What all of its cables may carry together [A]."""
        return self.duty.ampacity(self.cable.size, self.cable.parallel)

    @property
    def alone(self) -> float:
        """What one of its cables may carry [A]."""
        return self.duty.alone(self.cable.size)

    @property
    def judged(self) -> Guard:
        """Its fuse or breaker as it is judged: a fuse of the battery's cable by the kind it is."""
        guard = self.duty.guard
        return guard if self.duty.key == "ac" else replace(guard, devices=(self.device,))

    @cached_property
    def rating(self) -> float | None:
        """The rating of its fuse or breaker [A], None where none does."""
        return self.duty.guard.rating(self.alone)

    @property
    def limit(self) -> float:
        """The largest fuse or breaker that its cable may have [A]."""
        return self.duty.guard.limit(self.alone)

    @property
    def too_much(self) -> bool:
        """Whether the stated fuse or breaker is more than the cable may have."""
        stated = self.duty.guard.stated
        return stated is not None and stated > self.limit * (1 + 1e-9)

    @property
    def opens(self) -> bool:
        """Whether the start surely opens its fuse or breaker."""
        return self.rating is not None and self.duty.guard.starts(self.rating) == "no"


def smallest(
    duty: Duty, family: str, spare: float = TENTH, volts_spare: float | None = None
) -> Cable | None:
    """The smallest cable of a family that does, with a share of every limit to spare.

    `volts_spare` is another share for what the far end keeps at the start over its cut-off: how
    much is left of that hangs on the source as well.
    """
    if duty.hopeless:
        return None
    lost, running = duty.allowed_at_start(spare, volts_spare), duty.allowed_running(spare)
    if min(lost, running) <= 0:
        return None
    try:
        found = conductors.smallest(
            family,
            conductors.Asked(
                duty.current,
                2 * duty.run,
                running,
                duty.insulation,
                duty.temperature,
                least_ampacity=duty.wanted * (1 + spare),
                starting_current=duty.start,
                allowed_starting_drop=lost,
                power_factor=duty.power_factor,
                starting_power_factor=duty.start_power_factor,
                frequency=duty.frequency,
                engine_space=duty.engine_space,
                bundled=duty.bundled,
                voltage=duty.voltage,
                most_parallel=duty.most_parallel,
                least_area=duty.least_area,
                protected=lambda ampacity: duty.guard.spare(ampacity) >= spare - 1e-9,
            ),
        )
    except ValueError:
        return None
    return Cable(conductors.conductor(found.name), found.parallel, found.decided_by)


def fitting(duty: Duty, family: str) -> Cable | None:
    """The smallest that does with a tenth to spare, else the smallest that does at all.

    Where the source leaves few volts at the start, no cables are heaped up for a tenth of them: the
    tenth is then of all that the cable itself decides.
    """
    plain = smallest(duty, family, volts_spare=0.0)
    if plain is None:
        return smallest(duty, family, 0.0)
    return smallest(replace(duty, most_parallel=plain.parallel), family) or plain


def thickest(duty: Duty, family: str) -> Cable:
    """The most copper of a family that may be laid for a duty."""
    return Cable(conductors.FAMILIES[family][-1], duty.most_parallel, "voltage drop")


def neighbours(duty: Duty, cable: Cable, below: int = 2, above: int = 2) -> list[Conductor]:
    """The sizes next to a cable's in its own family, thinnest first, up to one that does."""
    own = cable.size
    family = [s for s in conductors.FAMILIES[own.family] if s.area >= duty.least_area]
    if own not in family:  # there, but not sold as boat cable
        family = sorted({*family, own}, key=lambda s: s.area)
    at = family.index(own)
    last = at + above
    while last < len(family) - 1 and not duty.does(family[last], cable.parallel):
        last += 1
    return family[max(0, at - below) : last + 1]


def chosen(duty: Duty, fitted: str | None, parallel: int, family: str) -> tuple[Cable, bool]:
    """The cable to judge, and whether any does at all: fitted, else proposed, else the thickest."""
    if fitted is not None:
        return Cable(conductors.conductor(fitted), parallel, "fitted"), True
    sized = replace(duty, hopeless=False, guard=duty.guard.to_size_by())
    found = fitting(sized, family)
    return found or thickest(duty, family), found is not None


def why_none(side: Side) -> str:
    """Why not even the thickest cable does: "fuse", "supply", "run", "ampacity", or "guard" where
    that is its breaker's to tell."""
    duty = side.duty
    if duty.key == "dc" and side.rating is None:
        return "fuse"
    if duty.allowed_running() <= 0:
        return "supply"
    at_hand = replace(duty, run=AT_HAND, guard=duty.guard.to_size_by())
    if fitting(at_hand, side.cable.size.family) is not None:
        return "run"
    return "ampacity" if side.carries < duty.wanted else "guard"
