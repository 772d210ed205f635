"""What was looked at and read on day one, beside what the gauges show at work."""

from __future__ import annotations

from ..frame.inputs import Inputs, ask, choice, date
from .groups import FIRST_DAY

NOT_LOOKED = "unsaid"
_LICENSED = "On a meter that stays fitted, or read by somebody licensed. Open no box for it."


class FirstDay(Inputs, part=True):
    """Each may be left empty."""

    day_date = date("Day of these readings", group=FIRST_DAY, optional=True, dates=True)
    day_turns = choice(
        "It turns",
        {NOT_LOOKED: "not looked at", "right": "as its arrow says", "wrong": "the other way"},
        group=FIRST_DAY,
    )
    day_oil = choice(
        "Oil in the glass",
        {
            NOT_LOOKED: "not looked at",
            "right": "at its mark, clear",
            "low": "below its mark",
            "milky": "milky",
        },
        group=FIRST_DAY,
    )
    day_weeps = choice(
        "From the weep holes comes",
        {
            NOT_LOOKED: "not looked at",
            "right": "nothing, or a few drops",
            "string": "a string of water",
        },
        group=FIRST_DAY,
    )
    day_relief = choice(
        "From the relief valve's outlet comes",
        {NOT_LOOKED: "not looked at", "right": "nothing", "drips": "drops, or more"},
        group=FIRST_DAY,
    )
    day_rest_volts = ask(
        "Volts at the panel, at rest",
        unit="V",
        group=FIRST_DAY,
        at_least="0 V",
        at_most="500 V",
        optional=True,
    )
    day_start_volts = ask(
        "Volts at the panel, at the start",
        unit="V",
        group=FIRST_DAY,
        at_least="0 V",
        at_most="500 V",
        optional=True,
        help=_LICENSED,
    )
    day_start_amperes = ask(
        "Amperes at the start",
        unit="A",
        group=FIRST_DAY,
        at_least="0 A",
        at_most="500 A",
        optional=True,
        help=_LICENSED,
    )
    day_frame = ask(
        "Motor's frame after an hour",
        unit="°C",
        group=FIRST_DAY,
        at_least="-10 °C",
        at_most="150 °C",
        optional=True,
        help="A thermometer held to it away from the fan: it may burn you.",
    )
    day_air = ask(
        "Air beside it then",
        unit="°C",
        group=FIRST_DAY,
        at_least="-20 °C",
        at_most="80 °C",
        optional=True,
    )
    day_sound = ask(
        "Loudness at the seat that matters",
        unit="dB(A)",
        group=FIRST_DAY,
        at_least="20 dB(A)",
        at_most="120 dB(A)",
        optional=True,
        help="With a telephone's meter, held where the ear is: good to compare with itself.",
    )
