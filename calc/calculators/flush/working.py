"""The working: dilution, the flow, carbon, chlorine, and the week."""

from __future__ import annotations

from ...frame.report import Report
from ...physics import pipes
from ...system.flushing import WEEK, YEAR, Flush

_TANK = "Mass balance of a stirred tank and of a plug: O. Levenspiel, Chemical Reaction Engineering"


def steps(flush: Flush, show: Report) -> None:
    """In the order of the answer."""
    _salt(flush, show)
    _pushed(flush, show)
    if flush.bed is not None:
        _carbon(flush, show)
    if flush.neutralised and flush.chlorine > 0:
        show.step(
            "Metabisulphite that the chlorine uses up",
            flush.sulphite,
            "mg",
            "m = C * V * 190.107 / (2 * 70.906)",
            {"C": (flush.chlorine, "mg/L"), "V": (flush.rinse.water, "L")},
            "Na₂S₂O₅ + 2 Cl₂ + 3 H₂O → 2 NaHSO₄ + 4 HCl; molar masses: CIAAW",
        )
    if flush.chlorine > 0:
        show.step(
            "Chlorine that the membranes have in a year, at most",
            flush.yearly_dose,
            "ppm h",
            "D = C_m * T",
            {"C_m": (flush.at_membrane, "mg/L"), "T": (YEAR, "days")},
            "Definition of the exposure",
            "As if it stood in them until the next flush, and none of it were used up.",
        )
    show.step(
        "Flushes take in a week",
        flush.week.value,
        "L",
        "W = n * V",
        {"n": (flush.a_week, ""), "V": (flush.rinse.water, "L")},
        "One after each run, and as often as a flush keeps in whole days (Van 't Hoff's rule, from "
        "memory)",
    )
    show.step(
        "Made in a week",
        flush.week.limit,
        "L",
        "W = Q_p * T",
        {"Q_p": (flush.week.limit / WEEK, "L/h"), "T": (WEEK, "days")},
        "What the unit makes in this sea, over the hours of a week",
        "Q_p: its mean over day and night.",
    )


def _salt(flush: Flush, show: Report) -> None:
    rinse = flush.rinse
    if not rinse.ends or rinse.sea <= rinse.aim:
        return
    times = show.step(
        "Times its own volume that a mixed part wants",
        rinse.times,
        "",
        "N = log((c_0 - c_f) / (c - c_f))",
        {"c_0": (rinse.sea, "g/L"), "c_f": (rinse.fresh, "g/L"), "c": (rinse.aim, "g/L")},
        _TANK,
        "c_0: the sea's salt, c_f: the flush water's, c: the aim.",
    )
    show.step(
        "Fresh water that it wants",
        rinse.needed,
        "L",
        "V = V_unit * ((1 - m) + m * N)",
        {"V_unit": (rinse.unit, "L"), "m": (rinse.mixed, "%"), "N": (times, "")},
        _TANK,
        "Bowls mixed, hoses and tubes a plug. m = 0 is the plug alone, m = 1 all of it mixed.",
    )
    if flush.lasts is not None:
        show.step(
            "Time for it",
            flush.lasts,
            "min",
            "t = V / Q",
            {"V": (rinse.needed, "L"), "Q": (flush.flow, "L/min")},
            "Definition of flow",
        )


def _pushed(flush: Flush, show: Report) -> None:
    way = flush.way
    flow = flush.flow
    if flow <= 0:
        return
    house = way.house
    if house is not None:
        show.step(
            "What the house pump gives at this flow",
            house.rise(flow),
            "bar",
            "dp = dp_0 * (1 - (Q / Q_0)**2)",
            {
                "dp_0": (house.shut_off, "bar"),
                "Q": (flow, "L/min"),
                "Q_0": (house.free_flow, "L/min"),
            },
            "A parabola through both ends of its curve: common practice, no source",
        )
    show.step(
        "Lost in the flush hose",
        way.hose.lost(flow, way.water),
        "bar",
        "dp_hose = (f * l / d + K) * rho * V**2 / 2",
        {
            "f": (way.hose.friction(flow, way.water), ""),
            "l": (way.hose.length, "m"),
            "d": (way.hose.bore, "mm"),
            "K": (way.hose.fittings(flow, way.water), ""),
            "rho": (way.water.density, "kg/m3"),
            "V": (way.hose.speed(flow), "m/s"),
        },
        "Darcy-Weisbach; Crane, Technical Paper 410",
        "f by Churchill (1977), K by Darby (1999), as on the page of the feed line.",
    )
    show.step(
        "At the pump's inlet, filters due for change",
        way.inlet(flow),
        "bar",
        "p = dp + dp_b - rho * g * h - dp_hose - dp_c - dp_f",
        {
            "dp": (house.rise(flow) if house else 0.0, "bar"),
            "dp_b": (way.boost.rise(flow) if way.boost else 0.0, "bar"),
            "rho": (way.water.density, "kg/m3"),
            "g": (pipes.GRAVITY, ""),
            "h": (way.rise, "m"),
            "dp_hose": (way.hose.lost(flow, way.water), "bar"),
            "dp_c": (way.carbon.lost(flow) if way.carbon else 0.0, "bar"),
            "dp_f": (way.filters.lost(flow, way.water, dirty=True), "bar"),
        },
        "Energy equation along the line (Bernoulli with losses)",
        "dp: house pump, dp_b: boost pump, dp_c: carbon, dp_f: filters.",
    )


def _carbon(flush: Flush, show: Report) -> None:
    bed, left = flush.bed, flush.carbon_left
    assert bed is not None and left is not None
    contact = show.step(
        "Contact time in the carbon",
        bed.contact(flush.fastest),
        "s",
        "tau = V / Q",
        {"V": (bed.volume, "L"), "Q": (flush.fastest, "L/min")},
        "Definition of the empty-bed contact time, US EPA",
        "Q: with clean filters.",
    )
    if left.holds:
        show.step(
            "Chlorine behind the carbon",
            flush.at_membrane,
            "mg/L",
            "C_m = C * (1 - r)**(tau / tau_r)",
            {
                "C": (flush.chlorine, "mg/L"),
                "r": (bed.takes, "%"),
                "tau": (contact, "s"),
                "tau_r": (bed.rated_contact, "s"),
            },
            "Decay of the first order along the bed",
        )
    show.step(
        "Water that the carbon is still good for",
        left.value,
        "L",
        "V = V_r * C_r / C - V_1",
        {
            "V_r": (bed.capacity, "L"),
            "C_r": (bed.stated, "mg/L"),
            "C": (flush.chlorine, "mg/L"),
            "V_1": (bed.used, "L"),
        },
        "Mass balance of the chlorine taken",
    )
