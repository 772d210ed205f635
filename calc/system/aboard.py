"""The boat's machine with all that can run it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from .bank import Alternator, Charger, HouseBank, Inverter, Loads, Sun
from .motor import Machine, Mains
from .supply import Air, Generator

DAY, HOUR = 86400.0, 3600.0


@dataclass(frozen=True)
class Habits:
    """A day's hours: of water-making, of the engine, of the charger, and when each begins [s]; and
    how many days are followed. Not `run_said`, the hours of water-making are only taken."""

    run: float
    run_start: float
    engine: float = 0.0
    engine_start: float = 0.0
    charger: float = 0.0
    charger_start: float = 0.0
    days: int = 7
    run_said: bool = True


@dataclass(frozen=True)
class Aboard:
    """The machine, its cable out and back [ohm], and what there is to run it; None for what isn't.

    `other_load` [W] runs on the generator at the same time; `fuel_price` is money for a volume
    [1/m3].
    """

    machine: Machine
    cable: complex
    air: Air
    habits: Habits
    loads: Loads
    bank: HouseBank
    inverter: Inverter | None = None
    generator: Generator | None = None
    other_load: float = 0.0
    charger: Charger | None = None
    alternator: Alternator | None = None
    sun: Sun | None = None
    fuel_price: float = 0.0

    @property
    def mains(self) -> Mains:
        """Mains on board."""
        return self.machine.mains

    @property
    def start_time(self) -> float:
        """How long a start lasts [s]."""
        return self.machine.start.time

    @property
    def base(self) -> float:
        """What the house takes while water is made [W]."""
        return self.loads.between(self.habits.run_start, self.habits.run)

    @property
    def charges_by_mains(self) -> bool:
        """Whether a generator with a charger can fill the bank."""
        return self.generator is not None and self.charger is not None

    def for_hours(self, run: float) -> Aboard:
        """The same boat making water for other hours a day [s]."""
        return replace(self, habits=replace(self.habits, run=run))

    def on_bank(self, bank: HouseBank) -> Aboard:
        """The same boat with another bank."""
        return replace(self, bank=bank)

    def on_inverter(self, inverter: Inverter) -> Aboard:
        """The same boat with another inverter, whose cut-off the bank keeps to."""
        return replace(self, inverter=inverter)
