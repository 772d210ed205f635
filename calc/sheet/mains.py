"""The mains on board, and the cable that carries them to the motor."""

from __future__ import annotations

from ..equipment.choices import MAINS_CABLES, PROPOSE, WIRING_RULES
from ..frame.inputs import Inputs, ask, choice
from ..system import motor as system
from ..system.supply import cable_impedance
from .groups import AC


class Volts(Inputs, part=True):
    """Volts of the sockets."""

    ac_voltage = ask(
        "Voltage",
        "230 V",
        from_record="unit.motor.voltage",
        group=AC,
        at_least="90 V",
        at_most="260 V",
        help="What the sockets on board give: 230 V, or 115 to 120 V.",
    )


class Hertz(Inputs, part=True):
    """Hertz of the sockets: how fast the pump turns."""

    ac_frequency = ask(
        "Frequency",
        "50 Hz",
        from_record="unit.motor.frequency",
        group=AC,
        at_least="45 Hz",
        at_most="65 Hz",
        help="50 Hz in most of the world, 60 Hz in the Americas.",
    )


class Mains(Volts, Hertz, part=True):
    """Volts and hertz of the sockets."""

    def mains(self) -> system.Mains:
        """Mains on board."""
        return system.Mains(self.ac_voltage, self.ac_frequency)


class Rules(Inputs, part=True):
    """The practice she is wired to."""

    wiring_rules = choice(
        "Wired to",
        WIRING_RULES,
        "iso",
        group=AC,
        help="The practice that the boat is built and surveyed to; it settles which rules apply.",
    )


class MotorCable(Inputs, part=True):
    """The cable to the motor."""

    ac_run = ask(
        "Cable to the motor, one way",
        "6 m",
        group=AC,
        above="0 m",
        at_most="200 m",
        help="From the inverter, or the panel if there is none; along the cable.",
    )
    ac_size = choice(
        "Cable to the motor",
        MAINS_CABLES,
        group=AC,
        help="What is there already, or what you mean to fit.",
    )

    def motor_cable(self, frequency: float) -> complex:
        """The stated cable out and back [ohm] at a frequency [Hz]; 0 where none is stated."""
        if self.ac_size == PROPOSE:
            return 0j
        return cable_impedance(self.ac_size, self.ac_run, frequency)
