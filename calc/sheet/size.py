"""What shakes: size, weight and speed."""

from __future__ import annotations

from ..equipment import kinds
from ..frame.inputs import Inputs, ask, whole, yes_no
from ..system import shaker
from ..system.locker import Sizes
from .groups import SIZE


class Size(Inputs, part=True):
    """What shakes: size, weight and speed."""

    unit_mass = ask(
        "Mass of motor and pump",
        "21 kg",
        from_record="unit.mass",
        group=SIZE,
        above="0 kg",
        at_most="200 kg",
    )
    unit_length = ask(
        "Length along the shaft",
        "520 mm",
        from_record="unit.length",
        group=SIZE,
        at_least="100 mm",
        at_most="2 m",
    )
    unit_width = ask(
        "Width", "230 mm", from_record="unit.width", group=SIZE, at_least="50 mm", at_most="1 m"
    )
    unit_height = ask(
        "Height above its feet",
        "250 mm",
        from_record="unit.height",
        group=SIZE,
        at_least="50 mm",
        at_most="1 m",
    )
    cg_height = ask(
        "Centre of gravity above the feet",
        "110 mm",
        from_record="unit.cg_height",
        group=SIZE,
        above="0 mm",
        at_most="1 m",
        help="About the height of the shaft.",
    )
    cg_along = ask(
        "Centre of gravity towards the motor",
        "15 mm",
        from_record="unit.cg_along",
        group=SIZE,
        at_least="-1 m",
        at_most="1 m",
        help="From the middle of the feet. Balance the unit on a broom handle to find it.",
    )
    motor_speed = ask(
        "Motor's speed",
        "1430 rpm",
        from_record="unit.motor.rated_speed",
        group=SIZE,
        at_least="100 rpm",
        at_most="6000 rpm",
    )
    speed_ratio = ask(
        "Pump's speed over the motor's",
        "1 ×",
        from_record="unit.pump.speed_ratio",
        group=SIZE,
        at_least="0.1 ×",
        at_most="2 ×",
        help="1 when coupled directly; less with belt or gears.",
    )
    plungers = whole(
        "Plungers", "3", from_record="unit.pump.plungers", group=SIZE, at_least=1, at_most=9
    )
    single_phase = yes_no(
        "Single-phase motor",
        "yes",
        group=SIZE,
        help="Its torque hums at twice the mains frequency. A three-phase or a direct-current "
        "motor has no such hum.",
    )

    def body(self) -> Sizes:
        """The unit's outer sizes."""
        return Sizes(self.unit_length, self.unit_width, self.unit_height)

    def its_unit(
        self, record: kinds.Unit, frequency: float, pressure: float | None = None
    ) -> shaker.Unit:
        """Motor and pump as what shakes, on mains of a frequency [Hz], at a pressure [Pa]: that of
        its record where none is given."""
        pump = record.pump
        works_at = record.pressure if pressure is None else pressure
        return shaker.Unit(
            self.unit_mass,
            self.unit_length,
            self.unit_width,
            self.unit_height,
            self.cg_height,
            self.cg_along,
            self.motor_speed,
            self.speed_ratio,
            self.plungers,
            frequency if self.single_phase else 0.0,
            pump.mass,
            record.motor.mass,
            shaker.Pumping(pump.flow, pump.rated_speed, works_at, pump.efficiency),
        )
