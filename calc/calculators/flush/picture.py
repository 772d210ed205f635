"""Salt that still comes out over the water that has run through: as reckoned, and its two ends."""

from __future__ import annotations

from ...frame.report import Axis, Chart, Mark, Series
from ...system.flushing import Rinse

_POINTS = 40
_FURTHER = 1.15  # than what is shown


def chart(rinse: Rinse) -> Chart:
    """Three curves, the aim, and the water for a flush."""
    end = _FURTHER * max(rinse.mixing if rinse.ends else 0.0, rinse.water, 2 * rinse.unit)
    floor = rinse.aim / 5
    xs = [end * n / _POINTS for n in range(_POINTS + 1)]

    def curve(mixed: float) -> list[tuple[float, float]]:
        corner = (1 - mixed) * rinse.unit
        found = sorted({*xs, corner})
        points = [(x, max(rinse.left(x, mixed), floor)) for x in found]
        if mixed == 0:
            points.append((corner, floor))
            points.sort(key=lambda point: (point[0], -point[1]))
        return points

    return Chart(
        "salt",
        "Salt still coming out, over the fresh water run through",
        Axis("Fresh water", "L", 0.0, end),
        Axis("Salt", "g/L", floor, log=True),
        [
            Series("your unit", curve(rinse.mixed)),
            Series("if all of it mixed", curve(1.0), dashed=True),
            Series("if nothing mixed", curve(0.0), dashed=True),
        ],
        limits=[Mark("aim", rinse.aim)],
        marks=[Mark("your flush", rinse.water)],
        summary="The salt of the water that still comes out falls with the fresh water that has "
        "run through; two dashed curves are the ends between which it lies.",
    )
