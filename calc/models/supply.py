"""One chain of supply, for every page that asks: source, cable and motor in one circuit."""

from __future__ import annotations

from ..equipment.choices import PROPOSE
from ..frame.inputs import Values
from ..physics import conductors, generators, starting
from .cables import HOT
from .water import Water


def by_generator(q: Values) -> bool:
    """Whether the motor is fed by a generator: there is one, and no inverter before the cable."""
    return bool(not q.has_inverter and q.has_generator)


def held_by_electronics(q: Values) -> bool:
    """Whether the generator holds its voltage by electronics up to a limit: it has no dip."""
    return bool(q.generator_source == "inverter")


def stated_cable(q: Values) -> complex:
    """The cable to the motor, out and back and hot [ohm]; none where it is left to be chosen."""
    if q.ac_size == PROPOSE:
        return 0j
    size = conductors.conductor(q.ac_size)
    hot = size.resistance * conductors.resistance_factor(HOT)
    loop: float = 2 * q.ac_run
    return loop * complex(hot, conductors.reactance(size, q.ac_frequency))


def source_reactance(q: Values, rating: float | None = None) -> float:
    """Inner reactance [ohm] of the generator, or of one of another rating [W].

    Nought where electronics hold its voltage. Source: `generators.source_reactance`.
    """
    if held_by_electronics(q):
        return 0.0
    apparent = (q.generator_power if rating is None else rating) / q.generator_power_factor
    return generators.source_reactance(q.ac_voltage, apparent, q.generator_reactance)


def at_start(
    q: Values, water: Water, reactance: float = 0.0, cable: complex = 0j, held: bool = True
) -> starting.Start:
    """The motor at rest behind a source's reactance and a cable, out and back [ohm].

    A soft starter holds its current; not `held`, it has let all through.
    Source: `starting.start`, `starting.held_start`.
    """
    volts, rush = water.load.motor.voltage, water.rush
    full = rush.current / (water.softness or 1.0)
    if held and water.softness is not None:
        return starting.held_start(
            q.ac_voltage,
            volts,
            rush.current,
            full,
            rush.power_factor,
            reactance,
            cable.real,
            cable.imag,
        )
    return starting.start(
        q.ac_voltage,
        volts,
        full,
        rush.power_factor,
        source_reactance=reactance,
        cable_resistance=cable.real,
        cable_reactance=cable.imag,
    )
