"""How the air round the unit is renewed: openings, and a fan."""

from __future__ import annotations

from itertools import pairwise

from ..equipment.choices import AIR_WAYS
from ..frame.inputs import Inputs, Refusal, ask, choice, is_one_of, rows, whole, yes_no
from ..system import cooling
from ..system import locker as system
from .groups import AIRED, FAN, PRACTICE

IN_LOCKER = is_one_of("stands", "locker")
IN_A_BOX = is_one_of("air_way", "sealed", "one", "two", "fan")
IN_ENGINE_SPACE = is_one_of("air_way", "engine")
_OPENINGS = is_one_of("air_way", "two", "fan", "engine")


class Air(Inputs, part=True):
    """How its air is renewed."""

    air_way = choice("How its air is renewed", AIR_WAYS, "two", group=AIRED, when=IN_LOCKER)
    engine_length = ask(
        "Engine space, length inside",
        unit="m",
        group=AIRED,
        at_least="300 mm",
        at_most="10 m",
        optional=True,
        when=IN_ENGINE_SPACE,
        help="The whole space that it stands in with the engine, not a locker.",
    )
    engine_width = ask(
        "Engine space, width",
        unit="m",
        group=AIRED,
        at_least="300 mm",
        at_most="10 m",
        optional=True,
        when=IN_ENGINE_SPACE,
    )
    engine_height = ask(
        "Engine space, height",
        unit="m",
        group=AIRED,
        at_least="300 mm",
        at_most="5 m",
        optional=True,
        when=IN_ENGINE_SPACE,
    )
    low_area = ask(
        "Low opening, free area",
        "60 cm2",
        group=AIRED,
        at_least="0 cm2",
        at_most="10000 cm2",
        when=_OPENINGS,
        basis=PRACTICE,
        help="Free area: a louvre passes about half of its outside size, and insect mesh takes a "
        "third of that.",
    )
    high_area = ask(
        "High opening, free area",
        "60 cm2",
        group=AIRED,
        at_least="0 cm2",
        at_most="10000 cm2",
        when=_OPENINGS,
        basis=PRACTICE,
    )
    apart = ask(
        "Height between the two",
        "300 mm",
        group=AIRED,
        at_least="0 mm",
        at_most="3 m",
        when=_OPENINGS,
        help="From middle to middle.",
    )
    single_area = ask(
        "Opening, free area",
        "100 cm2",
        group=AIRED,
        above="0 cm2",
        at_most="10000 cm2",
        when=is_one_of("air_way", "one"),
    )
    single_height = ask(
        "Opening, its own height",
        "100 mm",
        group=AIRED,
        above="0 mm",
        at_most="2 m",
        when=is_one_of("air_way", "one"),
    )

    def vents(self) -> cooling.Vents:
        """Its openings."""
        if self.air_way == "one":
            return cooling.Vents(high=self.single_area, own_height=self.single_height)
        if self.air_way == "sealed":
            return cooling.Vents()
        return cooling.Vents(self.low_area, self.high_area, self.apart)


class FanPoint(Inputs):
    flow = ask("Flow", "100 m3/h", at_least="0 m3/h", at_most="5000 m3/h")
    pressure = ask("Pressure", "50 Pa", at_least="0 Pa", at_most="5000 Pa")


class Blower(Inputs, part=True):
    """The fan that stands there, or would."""

    fan_flow = ask(
        "Fan, flow in free air",
        "240 m3/h",
        group=FAN,
        above="0 m3/h",
        at_most="3000 m3/h",
        when=is_one_of("air_way", "fan"),
    )
    fan_pressure = ask(
        "Fan, pressure against a shut duct",
        "150 Pa",
        group=FAN,
        at_least="1 Pa",
        at_most="5 kPa",
        basis=PRACTICE,
        when=IN_A_BOX,
    )
    fan_curve = rows(
        "Its measured curve, if you have one",
        FanPoint,
        example=(),
        group=FAN,
        one="point",
        most=20,
        when=is_one_of("air_way", "fan"),
    )
    duct_diameter = ask(
        "Duct, diameter",
        "100 mm",
        group=FAN,
        at_least="20 mm",
        at_most="500 mm",
        basis=PRACTICE,
        when=IN_A_BOX,
    )
    duct_length = ask(
        "Duct, length",
        "1.5 m",
        group=FAN,
        at_least="0 m",
        at_most="20 m",
        basis=PRACTICE,
        when=IN_A_BOX,
    )
    duct_bends = whole(
        "Duct, bends", "2", group=FAN, at_least=0, at_most=20, basis=PRACTICE, when=IN_A_BOX
    )
    fan_power = ask(
        "Fan draws",
        "55 W",
        group=FAN,
        at_least="0 W",
        at_most="1 kW",
        when=is_one_of("air_way", "fan"),
    )
    fan_voltage = ask(
        "Fan's voltage",
        "12 V",
        group=FAN,
        at_least="5 V",
        at_most="250 V",
        basis=PRACTICE,
        when=IN_A_BOX,
    )
    fan_draws_out = yes_no(
        "It draws the air out",
        "yes",
        group=FAN,
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
