"""The working: the unit's year, its hours, its energy, a litre, and from where on it pays."""

from __future__ import annotations

from ...frame.report import Report
from ...physics import finance
from ...sheet.purse import FROM_BANK
from ...system.motor import Water
from ...system.purse import YEAR, Purse
from .asks import Asks

_BOOK = "Any engineering economics textbook"


def steps(q: Asks, water: Water, purse: Purse, show: Report) -> None:
    """How the money is reckoned."""
    own = purse.own
    _capital(purse, show)
    made = show.step(
        "Running hours a year",
        own.hours,
        "h",
        "T = (V + V_f) / Q + t_w",
        {
            "V": (own.litres, "L"),
            "V_f": (own.flushed, "L"),
            "Q": (own.product, "L/h"),
            "t_w": (own.wasted, "h"),
        },
        "Definition of the flow; Q as on the page Water from this sea",
        "V_f: water for the flushes; t_w: until its water is fresh, run by run.",
    )
    _energy(q, water, purse, made, show)
    _litre(purse, show)
    _pays(purse, show)


def _capital(purse: Purse, show: Report) -> None:
    capital = purse.own.capital
    where = {
        "P": (capital.price, "¤"),
        "P_r": (capital.resale, "¤"),
        "N": (capital.years * YEAR, "years"),
        "y": (YEAR, "days"),
    }
    label, note = "The unit, as an equal sum each year", "P_r: what it sells for at the end."
    if capital.interest == 0:
        show.step(label, capital.yearly, "¤", "C_u = (P - P_r) / (N / y)", where, _BOOK, note)
        return
    show.step(
        label,
        capital.yearly,
        "¤",
        "C_u = (P - P_r * (1 + i)**(-N / y)) * i / (1 - (1 + i)**(-N / y))",
        where | {"i": (capital.interest, "%")},
        "Capital recovery with a resale, any engineering economics textbook",
        note,
    )


def _energy(q: Asks, water: Water, purse: Purse, time: float, show: Report) -> None:
    cost, label = purse.own.shares["energy"], "Energy, a year"
    if q.energy_from == FROM_BANK:
        show.step(
            label,
            cost,
            "¤",
            "C_e = T * P_w * k",
            {
                "T": (time, "h"),
                "P_w": (water.real + water.boost_dc, "W"),
                "k": (q.energy_price, "¤/kWh"),
            },
            "Definition of power; P_w of motor and boost pump",
        )
        return
    show.step(
        label,
        cost,
        "¤",
        "C_e = T * (F * p + w)",
        {
            "T": (time, "h"),
            "F": (q.burns().flow(water.real), "L/h"),
            "p": (q.fuel_price, "¤/L"),
            "w": (q.generator_hour, "¤/h"),
        },
        "Fuel as on the page Power, run for the water alone",
    )


def _litre(purse: Purse, show: Report) -> None:
    own, way = purse.own, purse.bought
    rest = own.yearly - own.shares["capital"] - own.shares["energy"]
    mine = show.step(
        "A litre of your own",
        own.litre,
        "¤/L",
        "c_L = (C_u + C_k + C_e) / V",
        {
            "C_u": (own.shares["capital"], "¤"),
            "C_k": (rest, "¤"),
            "C_e": (own.shares["energy"], "¤"),
            "V": (own.litres, "L"),
        },
        "Cost of a year over the water used in it",
        "C_k: upkeep, membranes and parts, each task by its hours or its months.",
    )
    bought = show.step(
        "A bought litre",
        way.litre,
        "¤/L",
        "c_b = p + K / V_b",
        {"p": (way.price, "¤/L"), "K": (way.trip, "¤"), "V_b": (way.brings, "L")},
        "Price, and the trip over what it brings",
    )
    show.step(
        "Saved a year",
        purse.saving,
        "¤",
        "G_s = V * (c_b - c_L)",
        {"V": (own.litres, "L"), "c_b": (bought, "¤/L"), "c_L": (mine, "¤/L")},
        "Definition",
    )


def _pays(purse: Purse, show: Report) -> None:
    capital = purse.own.capital
    show.step(
        "Saved over all years, in today's money",
        purse.worth,
        "¤",
        "G_0 = G * a + P_r * (1 + i)**(-N / y) - P",
        {
            "G": (purse.gain, "¤"),
            "a": (finance.annuity(capital.interest, capital.years), ""),
            "P_r": (capital.resale, "¤"),
            "i": (capital.interest, "%"),
            "N": (capital.years * YEAR, "years"),
            "y": (YEAR, "days"),
            "P": (capital.price, "¤"),
        },
        "Present value of a uniform series, any engineering economics textbook",
        "G: what a year saves before the unit is paid; a: its years as one sum today.",
    )
    years = capital.recovered(purse.gain)
    if years is None or capital.interest == 0 or years == 0:
        return
    show.step(
        "Years until it has paid for itself",
        years * YEAR,
        "years",
        "N_p = y * log((G - P_r * i) / (G - P * i)) / log(1 + i)",
        {
            "G": (purse.gain, "¤"),
            "P_r": (capital.resale, "¤"),
            "P": (capital.price, "¤"),
            "i": (capital.interest, "%"),
            "y": (YEAR, "days"),
        },
        "The same, solved for the years at which it is nothing",
    )
