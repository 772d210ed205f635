"""What the inverter takes from the bank: running, in full, at a start; and the bank shorted."""

from __future__ import annotations

from dataclasses import dataclass

from ..frame.inputs import Refusal, Values
from ..physics import batteries, protection
from .load import Load, Rush, connected_voltage
from .sources import Inverter, bank_of, depth_of, inverter_of


@dataclass(frozen=True)
class Feed:
    """The bank at its lowest charge [V, ohm] and the currents drawn from it [A, W].

    The short circuit is that of the bank when it was new and is full.
    """

    inverter: Inverter
    emf: float
    full_emf: float
    cut_off: float
    resistance: float
    new_resistance: float
    pump_power: float
    full_power: float
    start_power: float
    pump: float
    full: float
    start: float
    short_circuit: float
    delivers: bool

    @property
    def start_volts(self) -> float:
        """Volts [V] that the bank keeps at the start."""
        return self.emf - self.start * self.resistance

    @property
    def suffices(self) -> bool:
        """Whether the bank gives all that is asked, with volts to spare for the cable."""
        return self.delivers and self.start_volts > self.cut_off


def feed_of(q: Values, load: Load, rush: Rush) -> Feed:
    """The currents that the inverter takes, at the lowest charge and with all drop used up."""
    said = {**vars(q), "bank_exponent": None}
    aged = bank_of(Values(said))
    warm = max(q.bank_temperature, batteries.RATED_TEMPERATURE)  # the cold damps a short circuit
    new = bank_of(Values({**said, "bank_health": 1.0, "bank_temperature": warm}))
    # a surge that nobody stated for another inverter must not refuse its cable
    inverter = inverter_of(
        Values({**said, "inverter_surge": max(q.inverter_surge, q.inverter_power)})
    )
    emf = aged.open_circuit_voltage(1 - depth_of(q))
    if aged.cut_off >= emf:
        raise Refusal(
            "inverter_cut_off",
            "is above what this bank holds without any load: it would never switch on",
        )

    def power(real: float, apparent: float) -> float:
        # the losses go with the current, reactive or not
        return float(real + inverter.rated * inverter.losses.at(apparent / inverter.rated))

    surge = rush.current * connected_voltage(q.unit.motor, q.ac_voltage)
    work = load.at_work
    powers = (
        power(work.input_power, work.apparent_power),
        power(inverter.rated, inverter.rated),
        power(surge * rush.power_factor, surge),
    )
    left = [emf - share * q.bank_voltage for share in (q.dc_drop, q.dc_drop, q.dc_start_drop)]
    points = [
        batteries.constant_power(volts, aged.resistance, watts)
        for volts, watts in zip(left, powers, strict=True)
    ]
    # where the bank can't give it, the most it gives: at half its volts
    pump, full, start = (
        point.current if point else volts / (2 * aged.resistance)
        for point, volts in zip(points, left, strict=True)
    )
    return Feed(
        inverter,
        emf,
        new.open_circuit_voltage(1.0),
        aged.cut_off,
        aged.resistance,
        new.resistance,
        *powers,
        pump=pump,
        full=full,
        start=start,
        short_circuit=q.short_circuit or short_circuit(new),
        delivers=None not in points,
    )


def short_circuit(bank: batteries.Bank) -> float:
    """Current [A] of a short across a full bank."""
    if bank.resistance == 0:
        raise Refusal("bank_resistance", "cannot be nothing: a short circuit would have no limit")
    return protection.short_circuit_current(bank.open_circuit_voltage(1.0), bank.resistance)
