"""One chain of supply, for every page that asks: source, cable and motor in one circuit."""

from __future__ import annotations

from dataclasses import dataclass

from ..physics import conductors, generators, starting
from .motor import Mains, Water

HOT = 348.15  # K; NEC chapter 9 table 8 is drawn up for 75 degC


@dataclass(frozen=True)
class Air:
    """The air round the machinery [K] and the height above the sea [m]."""

    temperature: float
    altitude: float = 0.0


@dataclass(frozen=True)
class Fuel:
    """What a generator burns: "diesel" or "petrol", at no load [m3/s] and for energy [m3/J]."""

    kind: str
    idle: float
    slope: float

    def flow(self, power: float) -> float:
        """Fuel flow [m3/s] at a power [W]. Source: `generators.fuel_flow`."""
        return generators.fuel_flow(power, self.idle, self.slope)


@dataclass(frozen=True)
class Generator:
    """A generating set: power [W], power factor it is built for [ratio], whether electronics hold
    its voltage, power for a start [W] and for how long [s], transient reactance [ratio], fuel, and
    the mains that its record gives."""

    power: float
    power_factor: float
    electronic: bool
    peak: float | None
    peak_time: float
    reactance: float
    fuel: Fuel
    mains: Mains | None = None
    peak_follows: bool = True

    @property
    def apparent(self) -> float:
        """What it is built for [VA]."""
        return self.power / self.power_factor

    def inner_reactance(self, volts: float) -> float:
        """Inner reactance [ohm] at a voltage [V]; nought where electronics hold its voltage.

        Source: `generators.source_reactance`.
        """
        if self.electronic:
            return 0.0
        return generators.source_reactance(volts, self.apparent, self.reactance)

    def for_a_start(self, duration: float) -> float:
        """Power [W] that it gives for as long as a start lasts [s]."""
        return generators.short_time_power(self.power, self.peak, self.peak_time, duration)

    def site_share(self, air: Air) -> float:
        """Share of its rating left by height and heat. Source: `generators.site_power`."""
        return generators.site_power(1.0, air.altitude, air.temperature, self.fuel.kind)


def cable_impedance(size: str, run: float, frequency: float) -> complex:
    """A cable of a size, one way [m], out and back and hot [ohm].

    Source: `conductors.conductor`, `conductors.reactance`.
    """
    made = conductors.conductor(size)
    hot = made.resistance * conductors.resistance_factor(HOT)
    return 2 * run * complex(hot, conductors.reactance(made, frequency))


def at_start(
    mains: Mains, asked: Water, reactance: float = 0.0, cable: complex = 0j, held: bool = True
) -> starting.Start:
    """The motor at rest behind a source's reactance and a cable, out and back [ohm].

    A soft starter holds its current; not `held`, it has let all through.
    Source: `starting.start`, `starting.held_start`.
    """
    volts, rush = asked.load.motor.voltage, asked.rush
    full = rush.current / (asked.softness or 1.0)
    if held and asked.softness is not None:
        return starting.held_start(
            mains.voltage,
            volts,
            rush.current,
            full,
            rush.power_factor,
            reactance,
            cable.real,
            cable.imag,
        )
    return starting.start(
        mains.voltage,
        volts,
        full,
        rush.power_factor,
        source_reactance=reactance,
        cable_resistance=cable.real,
        cable_reactance=cable.imag,
    )
