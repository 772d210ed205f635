"""Runs of cable: what each has to carry and bear, and what a size of cable makes of it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from ..frame.report import FAILS, FITS, TIGHT, TIGHT_MARGIN
from ..physics import conductors
from ..physics.conductors import Conductor
from .guards import Guard

HOT = 348.15  # K; NEC chapter 9 table 8 is drawn up for 75 degC


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
    name: str
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
    def spares_a_tenth(self) -> bool:
        """Whether the source itself keeps a tenth above the cut-off, so that a cable could."""
        return self.start_volts >= (1 + TIGHT_MARGIN) * self.cut_off

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

    def judged(self, size: Conductor, parallel: int) -> str:
        """How a size would do on this run, each with the fuse or breaker that suits it."""
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
        if self.hopeless or self.too_thin(size, parallel) or min(spare) < -1e-9:
            return FAILS
        return TIGHT if min(spare) < TIGHT_MARGIN - 1e-9 else FITS


@dataclass(frozen=True)
class Cable:
    """The cable that is judged: size, how many in parallel, and which rule decided it."""

    size: Conductor
    parallel: int
    decided_by: str

    @property
    def name(self) -> str:
        return f"{self.parallel} × {self.size.name}" if self.parallel > 1 else self.size.name


@dataclass(frozen=True)
class Side:
    """One side of the inverter: its duty and its cable, its fuse or breaker if any does."""

    duty: Duty
    cable: Cable
    device: str

    @property
    def carries(self) -> float:
        return self.duty.ampacity(self.cable.size, self.cable.parallel)

    @property
    def alone(self) -> float:
        return self.duty.alone(self.cable.size)

    @property
    def rating(self) -> float | None:
        return self.duty.guard.rating(self.alone)

    @property
    def limit(self) -> float:
        return self.duty.guard.limit(self.alone)

    @property
    def words(self) -> str:
        """Its cable, at the head of a sentence."""
        return self.duty.name[0].upper() + self.duty.name[1:]

    @property
    def guard_word(self) -> str:
        """Its fuse or breaker, at the head of a sentence."""
        return "Fuse" if self.duty.key == "dc" else self.device[0].upper() + self.device[1:]


def smallest(
    duty: Duty, family: str, spare: float = TIGHT_MARGIN, volts_spare: float | None = None
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
        )
    except ValueError:
        return None
    return Cable(conductors.conductor(found.name), found.parallel, found.decided_by)


DECIDED = {
    "ampacity": "what it may carry",
    "fuse": "what its fuse or breaker asks of it",
    "voltage drop": "the volts lost, running",
    "voltage drop at start": "the volts lost at the start",
    "smallest made": "the thinnest that is fitted for this",
    "fitted": "yours",
}


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
    while last < len(family) - 1 and duty.judged(family[last], cable.parallel) == FAILS:
        last += 1
    return family[max(0, at - below) : last + 1]


def column_words(duty: Duty) -> str:
    """Which column of the ampacity table was used, and whether it was seen in a source."""
    told = f"{duty.insulation - 273.15:.0f} °C insulation"
    if conductors.table_standing(duty.insulation) != "published":
        told += ", column from memory"
    return told


def ampacity_source(duty: Duty, metric: bool) -> str:
    """The source of the ampacity, and whether its column was seen."""
    celsius = duty.insulation - 273.15
    told = f"33 CFR 183.425 Table 5, {celsius:.0f} °C column, with notes 1 and 2"
    if metric and celsius < 105:
        return told + ", or ISO 10133 annex A where that is less (both from memory)"
    if conductors.table_standing(duty.insulation) != "published":
        told += " (from memory: this column was not seen in a source)"
    return told
