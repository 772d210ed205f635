"""How long what keeps a membrane keeps, and how often a task comes up in the long run."""

from __future__ import annotations

from .calendar_days import DAY

KEEPS_FULL_TO = 298.15  # K
_HALVED_BY = 10.0  # K
_WATER = 1000.0  # kg/m3, of fresh water


def life_when_warm(life: float, temperature: float) -> float:
    """How long a flush or a preservative keeps [s] at a temperature [K]: its full life up to 25 °C,
    half of it for each 10 K more.

    Source: Van 't Hoff's rule of thumb, that decay doubles its speed with 10 K: from memory. That
    it holds for what lies in a membrane, and from 25 °C on, is common practice, no source.
    """
    return float(life * 0.5 ** (max(0.0, temperature - KEEPS_FULL_TO) / _HALVED_BY))


def days_kept(life: float, temperature: float) -> int:
    """Whole days, at least one, that a flush or a preservative keeps; see `life_when_warm`.

    Source: as `life_when_warm`.
    """
    return max(1, int(life_when_warm(life, temperature) / DAY + 1e-6))


def powder_for(strength: float, bucket: float, plain: float = 0.0) -> float:
    """Powder [kg] to stir into a bucket of water [m3], so that its water has the strength [share of
    the water's mass] once it has mixed with plain water [m3].

    Source: definition of the strength, the powder kept in the mixture.
    """
    return strength * (bucket + plain) * _WATER


def changes_a_year(
    hours_a_year: float, hours: float | None, calendar: float | None, lay_ups: float = 0.0
) -> float:
    """Long-run times a year [1] that a task comes up: the more frequent of its rules.

    `hours_a_year` and `hours` are running times [s], `calendar` is an interval [s], `lay_ups` the
    lay-up jobs a year. A rule that resets the others makes the true number a little larger. Source:
    common practice, no source.
    """
    year = 365.25 * DAY
    by_hours = hours_a_year / hours if hours else 0.0
    by_calendar = year / calendar if calendar else 0.0
    return max(by_hours, by_calendar, lay_ups)
