"""What kind of motor it is, and how it starts."""

from __future__ import annotations

from dataclasses import replace

from ..equipment.choices import MOTOR_KINDS, STARTS
from ..frame.inputs import Inputs, Refusal, ask, choice, is_one_of, text, yes_no
from ..system import motor as system
from .groups import LIMITS, PRACTICE, START
from .machine import Machine, Work, plate
from .mains import Mains
from .pressure_side import Ratings


class MotorKind(Inputs, part=True):
    """What kind of motor it is."""

    motor_kind = choice(
        "Kind of motor",
        MOTOR_KINDS,
        "unknown",
        from_record="unit.motor.winding",
        group=START,
        help="On its plate or in its papers. Count the capacitors; a click as it slows down is the "
        "switch of its start winding. It settles starting torque and power factor. A three-phase "
        "motor is not reckoned here.",
    )


class Starting(Inputs, part=True):
    """How the motor starts."""

    start = choice(
        "The motor is switched on", STARTS, "direct", from_record="unit.motor.start", group=START
    )
    soft_allowed = yes_no(
        "The motor's maker allows a soft starter",
        "no",
        from_record="unit.motor.soft_allowed",
        follows="motor_kind",
        group=START,
        when=is_one_of("start", "soft"),
        help="A start winding that a switch in the motor cuts out may burn on one.",
    )
    start_factor = ask(
        "Starting current, of the rated current",
        "2.5 ×",
        from_record="unit.motor.start_factor",
        group=START,
        at_least="1 ×",
        at_most="8 ×",
        when=is_one_of("start", "soft"),
    )
    code_letter = text(
        "Locked-rotor code letter",
        longest=1,
        from_record="unit.motor.code_letter",
        group=START,
        follows="motor_kind",
        help="On the nameplate, “CODE” or “kVA code”. Left empty: six times the rated current.",
    )
    locked_rotor_current = ask(
        "Locked-rotor current",
        unit="A",
        from_record="unit.motor.locked_rotor_current",
        follows="motor_kind",
        group=START,
        above="0 A",
        at_most="2000 A",
        optional=True,
        help="LRA on the nameplate, at its first voltage. It goes before the code letter.",
    )
    start_time = ask(
        "A start lasts",
        "0.6 s",
        from_record="unit.motor.start_time",
        group=START,
        above="0 s",
        at_most="30 s",
    )
    start_power_factor = ask(
        "Power factor at the start",
        "60 %",
        from_record="unit.motor.start_power_factor",
        group=START,
        at_least="10 %",
        at_most="100 %",
        basis=PRACTICE,
    )
    start_torque = ask(
        "Starting torque straight on the line, of the rated torque",
        unit="×",
        from_record="unit.motor.start_torque",
        follows="motor_kind",
        group=START,
        at_least="0.1 ×",
        at_most="6 ×",
        optional=True,
        help="Left empty: what is usual for the kind of motor.",
    )
    start_loaded = yes_no(
        "It starts against pressure",
        "no",
        group=START,
        help="No, if you open the pressure regulating valve before you switch on.",
    )

    def starting(self) -> system.Starting:
        """How it starts. Refuses a code letter that does not exist."""
        made = system.Starting(
            self.start,
            self.start_factor,
            self.start_time,
            self.start_power_factor,
            self.locked_rotor_current,
            self.code_letter or "",
            self.start_torque,
            self.start_loaded,
            self.soft_allowed,
        )
        try:
            made.check_letter()
        except ValueError:
            if made.letter == "V":
                sentence = "code letter V has no upper limit: give the locked-rotor amps instead"
                raise Refusal("code_letter", sentence) from None
            raise Refusal(
                "code_letter",
                "there is no motor code letter {letter}; the letters are {letters}",
                letter=repr(made.code_letter.strip()),
                letters=" ".join(system.CODE_LETTERS),
            ) from None
        return made


class WindingRise(Inputs, part=True):
    """How warm the winding gets at its rated load."""

    rise = ask(
        "Winding's rise at rated load",
        "80 K",
        from_record="unit.motor.rise",
        group=LIMITS,
        at_least="10 K",
        at_most="150 K",
        help="By resistance, from the maker. A class F motor is often built for class B's 80 K.",
    )


class Drive(Machine, Work, Mains, Ratings, MotorKind, part=True):
    """The machine at work on the mains on board."""

    def machine(self) -> system.Machine:
        """The machine, switched on straight, without its boost pump."""
        return system.Machine(
            plate(self.unit.motor).of_kind(self.motor_kind),
            system.Starting(),
            self.pump(self.unit, self.flow, self.pressure),
            self.mains(),
        )


class StartedDrive(Drive, Starting, part=True):
    """The machine at work, and how it starts."""

    def machine(self) -> system.Machine:
        """The machine and its start, without its boost pump."""
        return replace(super().machine(), start=self.starting())
