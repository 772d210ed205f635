"""The working of the last reading from which all follows, step by step."""

from __future__ import annotations

from ...frame.report import Report
from ...physics import membranes as physics
from ...system.standardised import Standard, Worked, worked
from ...system.trend import Trend

_D4516 = "ASTM D4516-19a, as cited on public pages; the salt at the wall as on the page Water"
_WARMTH = {
    True: "k = exp(2640 * (1 / 298.15 - 1 / T))",
    False: "k = exp(3020 * (1 / 298.15 - 1 / T))",
}


def steps(standard: Standard, found: Trend, show: Report) -> None:
    """What drives the last reading, and its fresh water, salt and drop at standard conditions."""
    for line, one in zip(reversed(found.lines), reversed(found.found), strict=True):
        made = worked(standard, line.read)
        if one.flow is not None and isinstance(made, Worked):
            break
    else:
        return
    read = line.read
    assert read.product is not None and read.pressure is not None and read.temperature is not None
    warm = read.temperature
    show.step(
        "What the warmth does to the membranes",
        made.correction,
        "",
        _WARMTH[warm >= physics.TEST_TEMPERATURE],
        {"T": (warm, "K")},
        "Two-constant rule of the trade, on several public pages",
        "Of the last reading, as all below.",
    )
    show.step(
        "Net driving pressure",
        made.driving,
        "bar",
        "p_n = p - p_d / 2 - p_b - p_w + p_p",
        {
            "p": (read.pressure, "bar"),
            "p_d": (made.drop, "bar"),
            "p_b": (standard.back_pressure, "bar"),
            "p_w": (made.osmotic, "bar"),
            "p_p": (made.product_osmotic, "bar"),
        },
        _D4516,
        "p_d along the membranes, p_b in the product line, p_w osmotic at the wall, p_p in the "
        "product.",
    )
    show.step(
        "Fresh water at the conditions of its papers",
        one.flow,
        "L/h",
        "Q_s = Q_p * p_s * k_s / (p_n * k)",
        {
            "Q_p": (read.product, "L/h"),
            "p_s": (standard.driving, "bar"),
            "k_s": (standard.correction, ""),
            "p_n": (made.driving, "bar"),
            "k": (made.correction, ""),
        },
        _D4516,
    )
    if one.salt is not None and made.product_salt is not None:
        show.step(
            "Salt let through at the conditions of its papers",
            one.salt,
            "%",
            "s = c_p / c_f * Q_p / Q_s * k_s / k * x_s / x",
            {
                "c_p": (made.product_salt, "mg/L"),
                "c_f": (made.salt, "g/L"),
                "Q_p": (read.product, "L/h"),
                "Q_s": (standard.made.product, "L/h"),
                "k_s": (standard.correction, ""),
                "k": (made.correction, ""),
                "x_s": (standard.wall, "%"),
                "x": (made.wall, "%"),
            },
            _D4516,
            "x: salt at the wall, of the feed's; Q_s: of its papers.",
        )
    if one.drop is not None and read.drop is not None:
        show.step(
            "Drop along the membranes at the conditions of its papers",
            one.drop,
            "bar",
            "p_s = p_d * (Q_s / Q)**1.5 * (1 + 0.017 * (T - 298.15))",
            {
                "p_d": (read.drop, "bar"),
                "Q_s": (standard.through, "L/min"),
                "Q": (made.through, "L/min"),
                "T": (warm, "K"),
            },
            "The normalisation that a university's pages on desalination cite with ASTM D4516",
            "Q: mean of feed and brine.",
        )
