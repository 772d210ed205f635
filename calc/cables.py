"""Runs of cable: what each has to carry and bear, and what a size of cable makes of it."""

from __future__ import annotations

from dataclasses import dataclass

from .physics import conductors
from .physics.conductors import Conductor
from .report import TIGHT_MARGIN

HOT = 348.15  # K; NEC chapter 9 table 8 is drawn up for 75 degC


@dataclass(frozen=True)
class Duty:
    """A run of cable: its length [m, one way], currents [A], and where it lies.

    `current` is the one its drop is reckoned for, `wanted` the ampacity it must have; `protection`
    is its fuse or breaker, at most `fuse_share` times the ampacity. Drops in V, the insulation's
    rating in K. A power factor makes it AC.
    """

    key: str
    name: str
    run: float
    current: float
    start: float
    wanted: float
    protection: float
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
    fuse_share: float = 1.0

    @property
    def temperature(self) -> float:
        """What the copper is taken to run at [K]."""
        return min(HOT, self.insulation)

    def ampacity(self, size: Conductor, parallel: int) -> float:
        """What so many in parallel may carry where they lie [A]."""
        return parallel * conductors.ampacity(
            size.name, self.insulation, self.engine_space, self.bundled, self.voltage
        )

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

    def longest(self, size: Conductor, parallel: int) -> float:
        """Longest run [m, one way] by the volts lost, running and at the start."""
        running = self.drop / self.lost(size, parallel)
        at_start = self.lost(size, parallel, start=True)
        return min(running, self.start_drop / at_start) if at_start else running

    def heat(self, size: Conductor, parallel: int) -> float:
        """Heat [W] given off by each metre of the run, out and back."""
        return 2 * parallel * conductors.heat_per_length(self.current / parallel, self.ohms(size))


@dataclass(frozen=True)
class Cable:
    """The cable that is judged: size, how many in parallel, and which rule decided it."""

    size: Conductor
    parallel: int
    decided_by: str

    @property
    def name(self) -> str:
        return f"{self.parallel} × {self.size.name}" if self.parallel > 1 else self.size.name


def smallest(duty: Duty, family: str, spare: float = TIGHT_MARGIN) -> Cable | None:
    """The smallest cable of a family that does, with a share of every limit to spare."""
    left = 1 - spare
    ampacity = max(duty.wanted * (1 + spare), duty.protection / duty.fuse_share / left)
    try:
        found = conductors.smallest(
            family, duty.current, 2 * duty.run, left * duty.drop, duty.insulation,
            duty.temperature, least_ampacity=ampacity, starting_current=duty.start,
            allowed_starting_drop=left * duty.start_drop, power_factor=duty.power_factor,
            starting_power_factor=duty.start_power_factor, frequency=duty.frequency,
            engine_space=duty.engine_space, bundled=duty.bundled, voltage=duty.voltage,
            most_parallel=duty.most_parallel, least_area=duty.least_area,
        )  # fmt: skip
    except ValueError:
        return None
    by = found.decided_by
    if by == "ampacity" and duty.protection / duty.fuse_share > duty.wanted:
        by = "fuse"
    return Cable(conductors.conductor(found.name), found.parallel, by)


DECIDED = {
    "ampacity": "what it may carry",
    "fuse": "what its fuse or breaker asks of it",
    "voltage drop": "the volts lost, running",
    "voltage drop at start": "the volts lost at the start",
    "smallest made": "the thinnest that is fitted for this",
    "fitted": "yours",
}


def fitting(duty: Duty, family: str) -> Cable | None:
    """The smallest that does with a tenth to spare, else the smallest that does at all."""
    return smallest(duty, family) or smallest(duty, family, 0.0)


def thickest(duty: Duty, family: str) -> Cable:
    """The most copper of a family that may be laid for a duty."""
    return Cable(conductors.FAMILIES[family][-1], duty.most_parallel, "voltage drop")


def column_words(duty: Duty) -> str:
    """Which column of the ampacity table was used, and whether it was seen in a source."""
    told = f"{duty.insulation - 273.15:.0f} °C insulation"
    if conductors.table_standing(duty.insulation) != "published":
        told += ", column from memory"
    return told


def ampacity_source(duty: Duty) -> str:
    """The source of the ampacity, and whether its column was seen."""
    told = f"33 CFR 183.425 Table 5, {duty.insulation - 273.15:.0f} °C column, with notes 1 and 2"
    if conductors.table_standing(duty.insulation) != "published":
        told += " (from memory: this column was not seen in a source)"
    return told
