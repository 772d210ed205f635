"""The working: hours, failures at random, failures by wear."""

from __future__ import annotations

from collections.abc import Sequence

from ...frame.report import Report, line
from ...physics import reliability
from ...system.spares import Need, Trip


def steps(needs: Sequence[Need], trip: Trip, show: Report) -> None:
    """How it is reckoned, for the part that fails most and for the first that wears out."""
    whole = trip.use.total
    show.step(
        "Running hours counted for",
        whole,
        "h",
        "T = T_away",
        {"T_away": (whole, "h")},
        "The plan's hours of the days away, with what it may be more",
    )
    random = [need for need in needs if need.part.rate and need.part.life is None]
    if random:
        _at_random(max(random, key=lambda n: n.part.rate * n.part.fitted), whole, show)
    worn = [need for need in needs if need.part.life is not None]
    if worn and whole > 0:
        _by_wear(worn[0], show)


def _at_random(need: Need, whole: float, show: Report) -> None:
    part = need.part
    mean = part.rate * part.fitted * whole
    show.step(
        line("{part}: failures expected", part=part.name),
        mean,
        "",
        "m = k * rate * T",
        {"k": (float(part.fitted), ""), "rate": (part.rate, "/1000 h"), "T": (whole, "h")},
        "Constant failure rate; NIST/SEMATECH e-Handbook, sec. 8.1.6.1",
    )
    show.step(
        line("{part}: chance of at most one failure", part=part.name),
        reliability.poisson_at_most(1, mean),
        "%",
        "P_1 = exp(-m) * (1 + m)",
        {"m": (mean, "")},
        "Poisson distribution; NIST/SEMATECH e-Handbook, sec. 1.3.6.6.19",
    )


def _by_wear(need: Need, show: Report) -> None:
    part = need.part
    assert part.life is not None
    lasts = reliability.conditional_reliability(need.first, need.age, part.shape, part.life)
    if lasts > 1e-6:
        show.step(
            line("{part}: chance that the fitted one lasts to its change", part=part.name),
            lasts,
            "%",
            "R = exp((a / eta)**beta - ((a + t) / eta)**beta)",
            {
                "a": (need.age, "h"),
                "t": (need.first, "h"),
                "eta": (part.life, "h"),
                "beta": (part.shape, ""),
            },
            "Weibull life, conditional on its age; IEC 61649",
        )
