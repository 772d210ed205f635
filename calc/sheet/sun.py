"""The panels and their sky."""

from __future__ import annotations

from ..equipment import kinds
from ..frame.inputs import Inputs, aboard, ask, date, is_set, record
from ..system import bank as system
from .groups import PRACTICE, SUN

USUAL_HEAT_LOSS = -0.0035  # 1/K, of crystalline silicon; common practice, no source


class Sun(Inputs, part=True):
    """The panels and their sky."""

    has_array = aboard(
        "There are solar panels", "yes", ("array", "array_power"), "latitude", group=SUN
    )
    array = record(
        "Panels",
        kinds.Array,
        "deck-600",
        optional=True,
        group=SUN,
        when=is_set("has_array"),
        rated_by=("array_power",),
    )
    array_power = ask(
        "Their rated power",
        "600 W",
        from_record="array.rated_power",
        group=SUN,
        above="0 W",
        at_most="20 kW",
        when=is_set("has_array"),
    )
    array_losses = ask(
        "Lost to dirt, shade, wiring and controller",
        "20 %",
        from_record="array.losses",
        group=SUN,
        at_least="0 %",
        at_most="90 %",
        when=is_set("has_array"),
        basis=PRACTICE,
    )
    latitude = ask(
        "Latitude",
        "17°",
        group=SUN,
        at_least="-90°",
        at_most="90°",
        when=is_set("has_array"),
        help="17.5° or 17°30' N; south is negative or S.",
    )
    day = date("Day of the year", "2026-01-20", group=SUN, when=is_set("has_array"), today=True)
    sunshine = ask(
        "Hours of sunshine, of the hours of daylight",
        "70 %",
        group=SUN,
        at_least="0 %",
        at_most="100 %",
        when=is_set("has_array"),
        help="100 % is a day without a cloud, 0 % an overcast one.",
    )
    turbidity = ask(
        "Haze of a clear sky, by Linke",
        "4",
        unit="",
        kind="number",
        group=SUN,
        at_least="1.5",
        at_most="10",
        when=is_set("has_array"),
        basis=PRACTICE,
        help="2 is cold dry air, 3 clean air, 4 the humid tropics, 6 and more haze and dust.",
    )

    def sun(self) -> system.Sun | None:
        """The panels, if there are any."""
        if not self.has_array:
            return None
        heat = self.array.temperature_coefficient if self.array is not None else USUAL_HEAT_LOSS
        return system.Sun(
            self.array_power,
            self.array_losses,
            heat,
            self.latitude,
            self.day.timetuple().tm_yday,
            self.sunshine,
            self.turbidity,
        )
