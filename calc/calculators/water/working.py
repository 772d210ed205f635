"""The working, of the first element step by step; the others follow alike."""

from __future__ import annotations

from ...frame.report import Report
from ...physics import membranes as physics
from ...physics import seawater
from ...physics.membranes import Passed
from ...system import membranes, watermaking
from ...system.motor import Machine, Water
from ...system.sea import Sea
from ...system.watermaking import Making
from .asks import Asks

_TEOS = (
    "TEOS-10 (IOC, SCOR and IAPSO, 2010), osmotic coefficient; density by Sharqawy, Lienhard "
    "and Zubair (2010), eq. 8"
)
_SOLVED = "Solution and diffusion: Lonsdale, Merten and Riley, J. Appl. Polym. Sci. 9 (1965) 1341"
_WARMTH = {
    True: "k = exp(2640 * (1 / 298.15 - 1 / T))",
    False: "k = exp(3020 * (1 / 298.15 - 1 / T))",
}


def steps(q: Asks, machine: Machine, water: Water | None, making: Making, show: Report) -> None:
    """Osmotic pressure, wall, flux, salt, energy."""
    if q.has_conductivity:
        _by_meter(making.sea, show)
    _osmotic(making.sea, show)
    _papers(q, making, show)
    if making.dry:
        return
    first, k = making.made.first, _warm(making, show)
    _element(making, first, k, show)
    if len(making.made.states) > 1:
        _elements(making, show)
    show.step(
        "Recovery",
        making.made.recovery,
        "%",
        "Y = Q_p / Q_f",
        {"Q_p": (making.made.product, "L/h"), "Q_f": (making.feed, "L/h")},
        "Definition",
    )
    if water is not None and not water.overfluxed:
        spent = watermaking.spent(machine, water, making.made)
        show.step(
            "Energy for fresh water",
            spent.whole,
            "Wh/L",
            "e = (P + P_boost) / Q_p",
            {
                "P": (water.load.at_work.input_power, "W"),
                "P_boost": (machine.boost_power, "W"),
                "Q_p": (making.made.product, "L/h"),
            },
            "Definition; the motor as on the page Power",
        )


def _by_meter(sea: Sea, show: Report) -> None:
    show.step(
        "Salt of the sea, by its conductivity",
        sea.salinity,
        "g/kg",
        "S = 0.03516504 * S_p / 35",
        {"S_p": (sea.practical_salinity, "")},
        "Practical salinity: PSS-78 (UNESCO Technical Papers in Marine Science 44, 1983); its "
        "salt: TEOS-10",
        "S_p: by the conductivity and the temperature that it was measured at.",
    )


def _osmotic(sea: Sea, show: Report) -> None:
    if sea.salinity <= 0:
        return
    moles = sea.salinity / ((1 - sea.salinity) * 0.0314038218)
    fresh = seawater.density(0.0, sea.temperature)
    heat = moles * seawater.GAS_CONSTANT * sea.temperature * fresh
    show.step(
        "Osmotic pressure of the sea",
        sea.osmotic_pressure,
        "bar",
        "p_o = phi * n * 8.314462618 * T * rho",
        {
            "phi": (sea.osmotic_pressure / heat, ""),
            "n": (moles, ""),
            "T": (sea.temperature, "K"),
            "rho": (fresh, "kg/m3"),
        },
        _TEOS,
        "n: moles of salt in a kilogram of water; rho: of the water without the salt.",
    )


def _papers(q: Asks, making: Making, show: Report) -> None:
    """What passes the membranes by the unit's papers, and by the element's own test."""
    rated, train = q.rated(), q.train_by_papers()
    stated = membranes.made(train, rated.sea, rated.feed, rated.pressure).first
    show.step(
        "Permeability by the unit's papers, of the first element at 25 °C",
        train.membrane.permeability,
        "L/m2h bar",
        "A = J / p_n",
        {"J": (stated.flux, "L/m2h"), "p_n": (stated.driving, "bar")},
        _SOLVED,
        "p_n: what is left of the pressure over the osmotic one. Found so that the papers' fresh "
        "water comes back.",
    )
    elements = train.elements
    if elements.tested is not None and elements.test_product is not None:
        show.step(
            "Permeability by the element's own test",
            elements.tested,
            "L/m2h bar",
            "A = Q_p / S / p_n",
            {
                "Q_p": (elements.test_product, "L/h"),
                "S": (elements.area, "m2"),
                "p_n": (elements.test_driving, "bar"),
            },
            "ASTM D4194's test: 32 g/L of sodium chloride at 25 °C; its osmotic pressure by Pitzer",
            "What the papers state less than that, their maker keeps in hand.",
        )
    passage = 1 - elements.rejection
    flux = (elements.tested or train.membrane.permeability) * elements.test_driving
    show.step(
        "Permeability for salt by the element's test",
        train.membrane.salt_permeability,
        "L/m2h",
        "B = J * s / (x - s)",
        {"J": (flux, "L/m2h"), "s": (passage, "%"), "x": (elements.test_wall, "%")},
        _SOLVED,
        "s: salt let through; x: salt at the wall, both of the feed's.",
    )


def _warm(making: Making, show: Report) -> float:
    warm = making.sea.temperature
    return show.step(
        "What the warmth does to both permeabilities",
        physics.temperature_correction(warm),
        "",
        _WARMTH[warm >= physics.TEST_TEMPERATURE],
        {"T": (warm, "K")},
        "Two-constant rule of the trade, on several public pages",
    )


def _element(making: Making, first: Passed, k: float, show: Report) -> None:
    one = making.train.membrane
    if first.feed_salt > 0:
        show.step(
            "Salt at the wall of the first element",
            first.wall_salt,
            "g/L",
            "c_w = c_f * log(1 / (1 - Y)) / Y * exp(0.7 * Y)",
            {"c_f": (first.feed_salt, "g/L"), "Y": (first.recovery, "%")},
            "Logarithmic mean as in ASTM D4516; polarisation by three public codes",
        )
    osmotic = seawater.isotherm(making.sea.temperature).osmotic_of
    elements = making.train.elements
    drop = physics.pressure_drop(elements.drop, first.feed, elements.highest_feed)
    show.step(
        "Flux of the first element",
        first.flux,
        "L/m2h",
        "J = A * k * (p - p_d / 2 - p_b - p_w + p_p)",
        {
            "A": (one.permeability, "L/m2h bar"),
            "k": (k, ""),
            "p": (making.pressure, "bar"),
            "p_d": (drop, "bar"),
            "p_b": (making.back_pressure, "bar"),
            "p_w": (osmotic(first.wall_salt), "bar"),
            "p_p": (osmotic(first.product_salt), "bar"),
        },
        _SOLVED,
        "p_d along the element, p_b in the product line, p_w osmotic at the wall, p_p in the "
        "product.",
    )
    show.step(
        "Fresh water of the first element",
        first.product,
        "L/h",
        "Q_p = J * S",
        {"J": (first.flux, "L/m2h"), "S": (one.area, "m2")},
        "Definition of flux",
    )
    show.step(
        "Salt in it",
        first.product_salt,
        "mg/L",
        "c_p = k * B * c_w / (J + k * B)",
        {
            "k": (k, ""),
            "B": (one.salt_permeability, "L/m2h"),
            "c_w": (first.wall_salt, "g/L"),
            "J": (first.flux, "L/m2h"),
        },
        _SOLVED,
    )


def _elements(making: Making, show: Report) -> None:
    """Each element in its place."""
    show.table(
        "elements",
        "Element by element",
        ("Place", "Fresh water", "Flux", "Its salt", "Salt of the brine"),
        [
            (
                str(n),
                (one.product, "L/h"),
                (one.flux, "L/m2h"),
                (one.product_salt, "mg/L"),
                (one.brine_salt, "g/L"),
            )
            for n, one in enumerate(making.made.states, 1)
        ],
    )
