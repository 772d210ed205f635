"""Engine-driven alternators: what a warm one gives at the engine speed one really uses."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from calc.physics._require import not_negative, positive


def shaft_speed(engine_speed: float, pulley_ratio: float) -> float:
    """Alternator speed [rev/s] from the engine's [rev/s] and the pulley ratio.

    Ratio = diameter at the engine over diameter at the alternator. Source: belt speed is common.
    """
    return not_negative(engine_speed, "the engine's speed") * positive(
        pulley_ratio, "the pulley ratio"
    )


def output(
    engine_speed: float, pulley_ratio: float, speeds: Sequence[float], currents: Sequence[float]
) -> float:
    """Output [A] at an engine speed [rev/s] from a curve of alternator speeds [rev/s] and amps.

    Straight lines between the points; nothing is promised below the first, and no more than the
    last above it. Raises ValueError for a curve that is too short or not in rising order of speed.
    Source: linear interpolation of the maker's curve.
    """
    if len(speeds) != len(currents) or len(speeds) < 2:
        raise ValueError("an alternator's curve needs two points at least")
    if any(high <= low for low, high in pairwise(speeds)):
        raise ValueError("the speeds of an alternator's curve must rise")
    speed = shaft_speed(engine_speed, pulley_ratio)
    if speed < speeds[0]:
        return 0.0
    for i in range(1, len(speeds)):
        if speed <= speeds[i]:
            share = (speed - speeds[i - 1]) / (speeds[i] - speeds[i - 1])
            return currents[i - 1] + share * (currents[i] - currents[i - 1])
    return currents[-1]
