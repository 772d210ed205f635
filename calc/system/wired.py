"""A boat's wiring, as its owner tells it: cables, fuses and breakers, and what feeds them."""

from __future__ import annotations

from dataclasses import dataclass

from ..physics import protection
from .bank import HouseBank, Inverter
from .cables import FAMILY
from .motor import Machine, Mains
from .supply import Air, Generator

TWO_LIVE = 190.0  # V; above it both wires of a US branch are live


@dataclass(frozen=True)
class Run:
    """A run of cable: length [m, one way], size or None if it is to be chosen, how many on each
    pole, insulation rating [K], whether through the engine space, live wires in its bundle; shares
    of the volts that may be lost, running and at the start."""

    length: float
    size: str | None
    parallel: int
    insulation: float
    engine_space: bool
    bundled: int
    drop: float
    start_drop: float


@dataclass(frozen=True)
class Fuse:
    """The fuse at the bank: rating [A], kind, what is printed on it [A] and what its curve says of
    the start [s], each None if not said; its way from the battery [m], and whether in a sheath."""

    rating: float | None
    kind: str | None
    breaks: float | None
    carries: float | None
    distance: float
    sheathed: bool

    def breaking(self, kind: str, voltage: float) -> float | None:
        """What a kind of fuse breaks [A] at a voltage [V]: as printed on it, else by its class.

        None where nobody can tell: it has no class, and what is printed on it is not stated.
        """
        if self.printed is not None:
            return self.printed
        device = protection.DEVICES[kind]
        return device.interrupts(voltage) if device.breaks is not None else None

    @property
    def printed(self) -> float | None:
        """What is printed on the fuse that is there [A]."""
        return None if self.kind is None else self.breaks


@dataclass(frozen=True)
class BranchGuard:
    """What protects the motor's branch: a kind of device, its rating [A] and how long its curve
    says that it carries the start [s], and where the overload relay stands [A], if said."""

    device: str
    rating: float | None
    carries: float | None
    overload: float | None


@dataclass(frozen=True)
class Wired:
    """The machine with its cables, fuses and breakers, and what feeds it.

    `rules` are "us" or "iso"; `for_all` sizes the bank's side for all that the inverter can give;
    `short_circuit` is what the bank's maker says [A].
    """

    rules: str
    machine: Machine
    air: Air
    bank: HouseBank
    inverter: Inverter | None
    generator: Generator | None
    bank_run: Run
    fuse: Fuse
    motor_run: Run
    branch: BranchGuard
    for_all: bool = True
    short_circuit: float | None = None

    @property
    def mains(self) -> Mains:
        """Mains on board."""
        return self.machine.mains

    @property
    def start_time(self) -> float:
        """How long a start lasts [s]."""
        return self.machine.start.time

    @property
    def by_generator(self) -> bool:
        """Whether the motor is fed by a generator: there is one, and no inverter before it."""
        return self.inverter is None and self.generator is not None

    @property
    def family(self) -> str:
        """The family of sizes that its rules know."""
        return FAMILY[self.rules]

    @property
    def two_pole(self) -> bool:
        """Whether both wires of the motor's branch must be broken: neither is sure to be neutral.

        A European socket can be plugged either way round; a US branch of 208 to 240 V has two live
        wires. Common practice, no source.
        """
        return self.rules == "iso" or self.mains.voltage > TWO_LIVE

    @property
    def connected(self) -> float:
        """Volts that the motor is connected for [V]."""
        return self.machine.plate.connected(self.mains.voltage)

    @property
    def plate_current(self) -> float:
        """The current on the motor's plate, as connected [A]."""
        return self.machine.plate.current(self.mains.voltage)
