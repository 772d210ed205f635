"""The working: litres, hours, the reserve, and how much they vary."""

from __future__ import annotations

from ...frame.report import Report
from ...system.need import SURVIVAL, Need
from .asks import Asks

_HABITS = "Sum of the habits; what is lost is a share of what is drawn"


def steps(q: Asks, need: Need, of_a_litre: float | None, show: Report) -> None:
    """Drawn, flushed, hours, reserve, and the spread from run to run."""
    home, runs, tank = need.household, need.runs, need.tank
    drawn = show.step(
        "Drawn from the tank",
        need.drawn,
        "L/day",
        "Q_d = (n * (Q_k + Q_w + f * V_s / 604800) + Q_l + Q_r + Q_p) / (1 - x)",
        {
            "n": (home.crew, ""),
            "Q_k": (home.drink_and_cook, "L/day"),
            "Q_w": (home.dishes, "L/day"),
            "f": (home.showers, ""),
            "V_s": (home.shower_water, "L"),
            "Q_l": (home.laundry, "L/day"),
            "Q_r": (home.rinsing, "L/day"),
            "Q_p": (home.pets, "L/day"),
            "x": (home.losses, "%"),
        },
        _HABITS,
        "k: drink and cook, w: dishes, f and s: showers a week and their water, l: laundry, r: "
        "rinsing, p: pets. A week has 604800 s.",
    )
    apart = show.step(
        "From one run to the next",
        runs.apart,
        "days",
        "t_1 = 604800 / n_r",
        {"n_r": (runs.days, "")},
        "Definition",
    )
    flushed = show.step(
        "Flushed",
        need.flushed,
        "L/day",
        "Q_f = n_f * V_f / t_1",
        {"n_f": (runs.flushes, ""), "V_f": (runs.flush, "L"), "t_1": (apart, "days")},
        "Definition; n_f: one after a run, and one more whenever a flush no longer keeps",
    )
    time = show.step(
        "Hours a day",
        need.time,
        "h",
        "t_day = 86400 * ((Q_d + Q_f) / Q + t_w / t_1)",
        {
            "Q_d": (drawn, "L/day"),
            "Q_f": (flushed, "L/day"),
            "Q": (need.product, "L/h"),
            "t_w": (runs.waste, "min"),
            "t_1": (apart, "days"),
        },
        "Water needed over the water made, and the minutes to waste of each run; Q as on the page "
        "Water from this sea",
    )
    if of_a_litre is not None:
        show.step(
            "Energy for those hours a day",
            of_a_litre * need.product * need.time,
            "Wh",
            "E = e * Q * t_day",
            {"e": (of_a_litre, "Wh/L"), "Q": (need.product, "L/h"), "t_day": (time, "h")},
            "Definition; e as on the page Water from this sea",
        )
    show.step(
        "Reserve and cans last",
        need.lasts(SURVIVAL),
        "days",
        "t = (V_r + V_c) / (n * Q_s)",
        {
            "V_r": (tank.reserve, "L"),
            "V_c": (tank.cans, "L"),
            "n": (home.crew, ""),
            "Q_s": (SURVIVAL, "L/day"),
        },
        "Sphere Handbook, water supply standard 2.1: 2.5 to 3 L for each to drink and in food",
    )
    show.step(
        "Use from run to run, give or take",
        need.use_deviation,
        "L",
        "V_u = v * Q_d * sqrt(86400 * t_1)",
        {"v": (q.use_varies, "%"), "Q_d": (drawn, "L/day"), "t_1": (apart, "days")},
        "Standard deviation of a sum of independent days (any textbook of statistics)",
        "From it and from the spread of a run's water follows the chance to be down to the "
        "reserve: the tank's levels are followed run by run, as in P. A. P. Moran's finite dam "
        "(N. U. Prabhu, Ann. Math. Statist. 29, 1958).",
    )
