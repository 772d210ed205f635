"""The wiring worked out, and what cannot be refused by the field to mend."""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager

from ..frame.inputs import Refusal
from ..physics import protection
from ..system import on_bank
from ..system.bank_side import NoFuse
from ..system.cables import Side
from ..system.laid import Layout, laid
from ..system.motor import Water
from ..system.unfit import Unfit
from ..system.wired import Wired


def laid_out(wired: Wired, water: Water) -> Layout:
    """What becomes of the wiring. Refuses what cannot be, and a stated fuse or breaker that burns
    its cable."""
    inverter = wired.inverter
    fits = inverter is not None and not on_bank.bank_misfit(inverter, wired.bank)
    with _worded():
        layout = laid(wired, water, inverter if fits else None)
    for side in layout.sides:
        if side.too_much:
            _refuse(side)
    return layout


def _refuse(side: Side) -> None:
    name, rating = ("fuse", "breaker")[side.duty.key == "ac"], side.duty.guard.stated or 0.0
    raise Refusal(
        name,
        _TOO_LARGE[name, side.cable.parallel > 1],
        rating=f"{rating:.0f}",
        cable=side.cable.name,
        allowed=math.floor(side.limit + 1e-9),
    )


_TOO_LARGE = {
    ("fuse", True): "a {rating} A fuse does not protect a single one of {cable}: it may have "
    "{allowed} A at most. With a larger one the others burn when a lug lets go",
    ("breaker", True): "a {rating} A breaker does not protect a single one of {cable}: it may have "
    "{allowed} A at most. With a larger one the others burn when a lug lets go",
    ("fuse", False): "a {rating} A fuse does not protect {cable}: it may have {allowed} A at most. "
    "A larger one lets the cable burn before it opens",
    ("breaker", False): "a {rating} A breaker does not protect {cable}: it may have {allowed} A at "
    "most. A larger one lets the cable burn before it opens",
}


_UNFIT = {
    "never on": (
        "inverter_cut_off",
        "is above what this bank holds without any load: it would never switch on",
    ),
    "no resistance": ("bank_resistance", "cannot be nothing: a short circuit would have no limit"),
}


@contextmanager
def _worded() -> Iterator[None]:
    """Refuses, in words and by the field, what the system can't make sense of."""
    try:
        yield
    except NoFuse as error:
        raise Refusal(
            "bank_voltage",
            "{needed} A at this voltage is more than the largest standard fuse, {largest} A; a "
            "bank of twice the voltage halves the current",
            needed=f"{error.least:.0f}",
            largest=protection.STANDARD_RATINGS[-1],
        ) from None
    except Unfit as error:
        raise Refusal(*_UNFIT[error.why]) from None
