"""How well a motor's enclosure keeps water out: the second numeral of its IP code."""

from __future__ import annotations

import math

from . import _require

# Up to which angle off the vertical falling water is kept out, by the second numeral.
DRIPS, TILTED, SPRAYED = 0.0, math.radians(15), math.radians(60)
SPLASHED, JETS = 4, 5  # from any side; out of a nozzle


def falling_water(angle: float) -> int:
    """Least second numeral of an IP code where water falls at an `angle` [rad] off the vertical:
    1 straight down, 2 up to 15 degrees, 3 up to 60 degrees, 4 beyond. A boat that heels tilts the
    motor under the drip.

    Source: IEC 60529, degrees of protection provided by enclosures (from memory).
    Raises ValueError for a negative angle.
    """
    _require.not_negative(angle, "the angle")
    for numeral, bears in ((1, DRIPS), (2, TILTED), (3, SPRAYED)):
        if angle <= bears * (1 + 1e-9):
            return numeral
    return SPLASHED
