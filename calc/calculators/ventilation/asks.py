"""What the calculator asks, and how it reads that into things aboard."""

from __future__ import annotations

from ...equipment.choices import INSULATION_CLASSES
from ...equipment.kinds import Climate
from ...frame.inputs import Inputs, ask, but, choice, record, whole, yes_no
from ...physics import motors
from ...physics.thermal_course import Protector
from ...sheet import BoatSheet as boat
from ...sheet.groups import LIMITS, PRACTICE
from ...sheet.motor import Drive, WindingRise
from ...system import cooling
from ...system.heated import Bears, Duty
from ...system.locker import Sizes
from ...system.motor import Load
from .place import Place

_LOAD = "The pump's load"
_SIZE, _TIME = "The unit's size", "Runs and rests"


class Working(Drive, part=True):
    """What the pump asks of its motor, on which mains."""

    flow = but(boat.flow, group=_LOAD)
    pressure = but(boat.pressure, group=_LOAD)
    motor_kind = but(
        boat.motor_kind,
        group=_LOAD,
        help="On its plate or in its papers. It settles the power factor, and so the current that "
        "the motor may draw. A three-phase motor is not reckoned here.",
    )
    ac_voltage = but(boat.ac_voltage, group=_LOAD)
    ac_frequency = but(boat.ac_frequency, group=_LOAD)
    to_seawater = ask(
        "Pump's losses that the seawater carries away",
        "70 %",
        at_least="0 %",
        at_most="100 %",
        group=_LOAD,
        basis=PRACTICE,
        help="The seawater flows through the pump's head; its crankcase warms the locker.",
    )


class Body(Inputs, part=True):
    """The unit's outer sizes."""

    unit_length = but(boat.unit_length, group=_SIZE)
    unit_width = but(boat.unit_width, group=_SIZE)
    unit_height = but(boat.unit_height, group=_SIZE)

    def body(self) -> Sizes:
        """The unit's outer sizes."""
        return Sizes(self.unit_length, self.unit_width, self.unit_height)


class Bearing(WindingRise, part=True):
    """What the motor bears."""

    insulation = choice(
        "Insulation class",
        INSULATION_CLASSES,
        "F",
        from_record="unit.motor.insulation",
        group=LIMITS,
    )
    ambient_limit = ask(
        "Highest ambient on the nameplate",
        "40 °C",
        group=LIMITS,
        above="0 °C",
        from_record="unit.motor.ambient_limit",
        at_most="60 °C",
    )
    protector = ask(
        "Thermal protector opens, winding at",
        "135 °C",
        from_record="unit.motor.protector",
        group=LIMITS,
        above="60 °C",
        at_most="220 °C",
        optional=True,
        help="Leave it empty if there is none.",
    )
    protector_drop = ask(
        "It closes again when cooler by",
        "35 K",
        group=LIMITS,
        at_least="1 K",
        at_most="100 K",
        basis=PRACTICE,
    )
    protector_resets = yes_no("It closes by itself", "yes", group=LIMITS)

    def bears(self) -> Bears:
        """What air and winding may reach, and its protector."""
        guard = None
        if self.protector is not None:
            reset = self.protector - self.protector_drop
            guard = Protector(self.protector, reset, self.protector_resets)
        return Bears(self.insulation, self.rise, self.ambient_limit, guard)


class Times(Inputs, part=True):
    """Runs and rests."""

    run_hours = boat.run_hours
    runs = whole("Runs one after the other", "1", group=_TIME, at_least=1, at_most=6)
    rest_hours = ask("Rest after each", "1 h", group=_TIME, at_least="1 min", at_most="24 h")

    def duty(self) -> Duty:
        """Runs one after the other."""
        return Duty(self.run_hours, self.rest_hours, self.runs)


class Asks(
    Working,
    Bearing,
    Place,
    Body,
    Times,
    first=(
        "unit",
        "climate",
        "ambient_temperature",
        "run_hours",
        "stands",
        "air_way",
        "engine_length",
        "engine_width",
        "engine_height",
        "low_area",
        "high_area",
        "apart",
        "single_area",
        "single_height",
    ),
):
    """All that the answer hangs on."""

    climate = record(
        "Weather to plan for",
        Climate,
        "",
        optional=True,
        open=True,
        others="as filled in below",
        help="Fills in the temperatures below; what you type yourself stays.",
    )
    stands = but(boat.stands, group="", open=True)

    def heat(self, load: Load) -> cooling.Unit:
        """The unit under a load, as heat sees it.

        What the pump gives to the air are its losses less what the seawater carries away.
        """
        return cooling.Unit(
            rated_loss=rated_loss(load.motor),
            rated_rise=self.rise,
            loss=load.at_work.losses,
            winding_loss=load.at_work.load_losses,
            pump_heat=load.shaft_power * (1 - self.unit.pump.efficiency) * (1 - self.to_seawater),
            mass=self.unit.motor.mass,
            volume=self.body().volume,
        )


def rated_loss(motor: motors.Motor) -> float:
    """What a motor loses at its rated output [W]."""
    return motor.output / motor.efficiency - motor.output
