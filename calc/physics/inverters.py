"""Inverters: what they give, for how long, how hot, and what they take from the bank for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc.physics._require import efficiency as _efficiency
from calc.physics._require import not_negative, positive

# Load share at which a battery inverter is most efficient: common practice, no source.
BEST_LOAD = 0.35
# Air in which an inverter still works, 50 to 60 degC by its maker: common practice, no source.
HOTTEST_AIR = 323.15  # K


@dataclass(frozen=True)
class LossModel:
    """Losses as shares of the rating at load share x: fixed + proportional x + quadratic x^2."""

    fixed: float
    proportional: float
    quadratic: float

    def at(self, load: float) -> float:
        """Loss as a share of the rated power at a load share [ratio]."""
        return self.fixed + self.proportional * load + self.quadratic * load**2


def loss_model(
    rated_power: float, idle_power: float, peak_efficiency: float, best_load: float | None = None
) -> LossModel:
    """Losses of an inverter from three stated figures: rating [W], idle draw [W], best efficiency.

    The best efficiency falls where fixed and quadratic losses are equal, x = sqrt(a/c), and there
    1/eta = 1 + b + 2 a/x. Without a stated `best_load` it is 35 %, or as much above it as the idle
    draw demands. Raises ValueError where no such inverter can exist.
    Source: three-term loss polynomial, Schmidt and Sauer 1996 (form from memory).
    """
    fixed = not_negative(idle_power, "the idle draw") / positive(rated_power, "the rating")
    excess = 1 / _efficiency(peak_efficiency, "the best efficiency") - 1
    if best_load is None:
        best_load = max(BEST_LOAD, 2 * fixed / excess) if excess > 0 else BEST_LOAD
    proportional = excess - 2 * fixed / positive(best_load, "the load of best efficiency")
    if best_load > 1 or proportional < -1e-12:
        raise ValueError("the idle draw is too large for that best efficiency: one is wrong")
    return LossModel(fixed, max(0.0, proportional), fixed / best_load**2)


def dc_power(real: float, apparent: float, rated_power: float, losses: LossModel) -> float:
    """Power [W] drawn from the bank for a real power [W] and the apparent power [VA] it comes with;
    the idle draw at no load.

    The losses go with the current, reactive or not. Source: energy conservation with `loss_model`,
    whose efficiencies are stated for a power factor of 1.
    """
    not_negative(real, "the AC power")
    load = not_negative(apparent, "the apparent power") / positive(rated_power, "the rating")
    return real + rated_power * losses.at(load)


def power_for(duration: float, continuous: float, surges: Sequence[tuple[float, float]]) -> float:
    """Power [W] that an inverter gives for a duration [s].

    `surges` are stated pairs (seconds, W). Between two stated durations the longer one's power
    counts, beyond the longest the continuous rating. Raises ValueError for a surge below the
    continuous rating. Source: common practice, no source: no interpolation in the buyer's favour.
    """
    not_negative(duration, "the duration")
    best = positive(continuous, "the continuous rating")
    for seconds, power in surges:
        if power < continuous:
            raise ValueError("a surge rating must not be below the continuous rating")
        if duration <= seconds:
            best = max(best, power)
    return best


def temperature_derating(
    temperature: float, full_until: float = 298.15, loss_per_kelvin: float = 0.01
) -> float:
    """Share of the rating left [ratio] at an ambient temperature [K], falling in a straight line.

    The default, 1 % a kelvin above 25 degC, is common practice, no source: many makers state the
    rating at 25 degC and some 80 to 85 % of it at 40 degC.
    """
    positive(temperature, "the temperature")
    not_negative(loss_per_kelvin, "the loss per kelvin")
    return max(0.0, 1 - loss_per_kelvin * max(0.0, temperature - full_until))
