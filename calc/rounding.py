"""How numbers are rounded, in what is reckoned and in what is shown alike."""

from __future__ import annotations

import math
from collections.abc import Iterable
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal

_ROUNDINGS = {"nearest": ROUND_HALF_EVEN, "up": ROUND_CEILING, "down": ROUND_FLOOR}


def trim(value: float, digits: int = 9) -> float:
    """`value` rounded to significant digits.

    Results are trimmed before they are compared, stored or shown, so that the last bit of one
    machine's mathematics library can neither show nor turn a verdict.
    """
    if value == 0 or not math.isfinite(value):
        return value
    return float(f"{value:.8e}" if digits == 9 else f"{value:.{digits - 1}e}")


def share(part: float, whole: float) -> float:
    """What a part is of a whole, both differences and sums of trimmed values.

    Their last digits are lost in it: so near a round share, nought apart, it is that one. A tenth
    in hand stays a tenth, and none is made of less than nothing.
    """
    found = trim(part / whole)
    near = round(found, 4)
    return near if near and abs(found - near) < 1e-8 else found


def trimmed(values: Iterable[float]) -> list[float]:
    """`trim` of many finite values."""
    return [float(f"{value:.8e}") for value in values]


def rounded(value: float, digits: int, rounding: str = "nearest") -> float:
    """`value` to significant digits: "nearest", never below it ("up") or never above it ("down").

    A least amount is rounded up and a greatest one down, so that what is shown still holds when it
    is typed back.
    """
    exact = Decimal(repr(trim(value)))
    if exact == 0:
        return 0.0
    last = Decimal(1).scaleb(exact.adjusted() - digits + 1)
    return float(exact.quantize(last, _ROUNDINGS[rounding]))
