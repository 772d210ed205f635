"""The tank over the stay: before each run, as a rule and as one day in twenty has it."""

from __future__ import annotations

from ...frame.report import Axis, Chart, Mark, Series, line
from ...system.need import Need


def chart(need: Need) -> Chart:
    """What is in the tank before each run, with a band about it."""
    tank, stay = need.tank, need.stay
    began = tank.reserve + need.start
    times = [(n + 1) * need.runs.apart for n in range(need.count)]
    low, usual, high = (
        [(0.0, began), *((t, tank.reserve + one[n]) for t, one in zip(times, course, strict=True))]
        for course in [need.course.low]
        for n in range(3)
    )
    return Chart(
        "level",
        "In the tank before each run",
        Axis("Time", "days", 0.0, max(stay.time, times[-1])),
        Axis("In the tank", "L", 0.0, tank.volume),
        [
            Series("as a rule", usual),
            Series("19 in 20 above", low, dashed=True),
            Series("1 in 20 above", high, dashed=True),
        ],
        limits=[Mark("reserve", tank.reserve)] if tank.reserve > 0 else [],
        summary=line(
            "Before each run, over {d}: as a rule the tank comes to {u} at the end, one in twenty "
            "lies below {l}. A run fills it again by up to {f}.",
            d=(stay.time, "days"),
            u=(usual[-1][1], "L"),
            l=(low[-1][1], "L"),
            f=(need.filled, "L"),
        ),
    )
