"""What is asked about the fan, and about what else gives heat in there."""

from __future__ import annotations

from itertools import pairwise

from ...frame.inputs import (
    Inputs,
    Refusal,
    ask,
    but,
    choice,
    is_one_of,
    is_set,
    rows,
    text,
    whole,
    yes_no,
)
from ...sheet import BoatSheet as boat
from ...sheet.groups import PRACTICE
from ...system import locker as system

_FAN, _ELSE = "The fan", "Other heat"
IN_LOCKER = is_one_of("stands", "locker")
IN_A_BOX = is_one_of("air_way", "sealed", "one", "two", "fan")
IN_ENGINE_SPACE = is_one_of("air_way", "engine")


class OtherHeat(Inputs):
    name = text("What", "inverter", optional=False)
    heat = ask("Heat", "50 W", at_least="0 W", at_most="5 kW")
    when = choice("When", {"running": "while water is made", "always": "all the time"}, "running")


class FanPoint(Inputs):
    flow = ask("Flow", "100 m3/h", at_least="0 m3/h", at_most="5000 m3/h")
    pressure = ask("Pressure", "50 Pa", at_least="0 Pa", at_most="5000 Pa")


class Blower(Inputs, part=True):
    """The fan that stands there, or would."""

    fan_flow = ask(
        "Fan, flow in free air",
        "240 m3/h",
        group=_FAN,
        above="0 m3/h",
        at_most="3000 m3/h",
        when=is_one_of("air_way", "fan"),
    )
    fan_pressure = ask(
        "Fan, pressure against a shut duct",
        "150 Pa",
        group=_FAN,
        at_least="1 Pa",
        at_most="5 kPa",
        basis=PRACTICE,
        when=IN_A_BOX,
    )
    fan_curve = rows(
        "Its measured curve, if you have one",
        FanPoint,
        example=(),
        group=_FAN,
        one="point",
        most=20,
        when=is_one_of("air_way", "fan"),
    )
    duct_diameter = ask(
        "Duct, diameter",
        "100 mm",
        group=_FAN,
        at_least="20 mm",
        at_most="500 mm",
        basis=PRACTICE,
        when=IN_A_BOX,
    )
    duct_length = ask(
        "Duct, length",
        "1.5 m",
        group=_FAN,
        at_least="0 m",
        at_most="20 m",
        basis=PRACTICE,
        when=IN_A_BOX,
    )
    duct_bends = whole(
        "Duct, bends", "2", group=_FAN, at_least=0, at_most=20, basis=PRACTICE, when=IN_A_BOX
    )
    fan_power = ask(
        "Fan draws",
        "55 W",
        group=_FAN,
        at_least="0 W",
        at_most="1 kW",
        when=is_one_of("air_way", "fan"),
    )
    fan_voltage = ask(
        "Fan's voltage",
        "12 V",
        group=_FAN,
        at_least="5 V",
        at_most="250 V",
        basis=PRACTICE,
        when=IN_A_BOX,
    )
    fan_draws_out = yes_no(
        "It draws the air out",
        "yes",
        group=_FAN,
        when=is_one_of("air_way", "fan"),
        help="Then its own heat leaves with the air. One that blows in warms the locker.",
    )

    def fan(self) -> system.Fan:
        """The fan and its duct. Refuses a curve that is none."""
        curve = tuple((point.flow, point.pressure) for point in self.fan_curve)
        if len(curve) == 1:
            raise Refusal("fan_curve", "one point is no curve: give two or more, or none")
        for (flow, pressure), (more, less) in pairwise(curve):
            if more <= flow or less > pressure:
                raise Refusal("fan_curve", "give the points by rising flow and falling pressure")
        return system.Fan(
            self.fan_flow,
            self.fan_pressure,
            system.Duct(self.duct_diameter, self.duct_length, self.duct_bends),
            self.fan_power,
            self.fan_voltage,
            self.fan_draws_out,
            curve,
        )


class Others(Inputs, part=True):
    """What else gives heat in there."""

    has_boost = but(boat.has_boost, group=_ELSE, when=IN_LOCKER)
    boost_here = yes_no(
        "The boost pump stands in there too", "yes", group=_ELSE, when=is_set("has_boost")
    )
    boost_pump = but(boat.boost_pump, group=_ELSE, open=False, when=is_set("boost_here"))
    boost_power = but(boat.boost_power, group=_ELSE, when=is_set("boost_here"))
    boost_to_air = ask(
        "Of the boost pump's power, the air gets",
        "50 %",
        group=_ELSE,
        at_least="0 %",
        at_most="100 %",
        basis=PRACTICE,
        when=is_set("boost_here"),
        help="What its motor loses. What moves the water, and what its pump loses, leaves with the "
        "water.",
    )
    other_heat = rows(
        "What else gives heat in there",
        OtherHeat,
        example=(),
        group=_ELSE,
        one="thing",
        most=12,
        when=IN_LOCKER,
    )
    engine_power = ask(
        "Engine gives meanwhile",
        "5 kW",
        group=_ELSE,
        above="0 kW",
        at_most="500 kW",
        when=IN_ENGINE_SPACE,
        help="Charging at anchor, a few kilowatts.",
    )

    @property
    def boost_heat(self) -> float:
        """What the boost pump gives to the air [W]; the rest of its power leaves with the water."""
        there = self.has_boost and self.boost_here
        return self.boost_power * self.boost_to_air if there else 0.0

    def heats(self) -> tuple[float, float]:
        """What other things give [W]: while the unit runs, and while it rests."""
        always = sum(row.heat for row in self.other_heat if row.when == "always")
        return sum(row.heat for row in self.other_heat), always
