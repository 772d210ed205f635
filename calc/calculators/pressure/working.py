"""The working: what the relief valve lets through, what a shut end does, and what a jet can."""

from __future__ import annotations

from ...frame.report import Report
from ...physics import suction, valves
from ...system.pressure_side import ATMOSPHERE, HOSE_MODULUS, HOSE_WALL, SPECIFIC_HEAT, PressureSide

_KORTEWEG = (
    "Korteweg's formula, as in V. L. Streeter and E. B. Wylie, Fluid Transients (from memory)"
)
_VALVE = "IEC 60534-2-1, liquids, turbulent, without fittings"


def steps(side: PressureSide, show: Report) -> None:
    """Relief valve, shut end, surge, jet, regulating valve."""
    _relief(side, show)
    _shut(side, show)
    _surge(side, show)
    _hurts(side, show)
    if not side.making.dry:
        _regulating(side, show)


def _relief(side: PressureSide, show: Report) -> None:
    relief = side.relief
    if relief is None or relief.opening is None or relief.flow is not None:
        return
    show.step(
        "What the relief valve lets through, a tenth over its setting",
        relief.lets(side.density) or 0.0,
        "L/min",
        "Q_r = C * A * sqrt(2 * 1.1 * p_s / rho)",
        {
            "C": (valves.PLAIN_RELIEF, ""),
            "A": (relief.opening, "mm2"),
            "p_s": (relief.opens, "bar"),
            "rho": (side.density, "kg/m3"),
        },
        "API 520-1, liquids, in SI; C of a valve without a certificate",
    )


def _shut(side: PressureSide, show: Report) -> None:
    pressed = side.pressed
    give = show.step(
        "Water that goes in for each pascal more",
        pressed.gives,
        "mL/bar",
        "beta = V_t / B + V_h * (1 / B + d / (E * w))",
        {
            "V_t": (pressed.tubes, "L"),
            "V_h": (pressed.hose, "L"),
            "B": (suction.BULK_MODULUS, "GPa"),
            "d": (pressed.hose_bore, "mm"),
            "E": (HOSE_MODULUS, "MPa"),
            "w": (HOSE_WALL, "mm"),
        },
        _KORTEWEG,
        "V_t: in the tubes, taken as stiff; V_h: in the hose.",
    )
    show.step(
        "Until the weakest part has all that it bears",
        side.seconds_to(side.weakest.bears, side.pressure),
        "s",
        "t = beta * max(0, p_w - p) / Q",
        {
            "beta": (give, "mL/bar"),
            "p_w": (side.weakest.bears, "bar"),
            "p": (side.pressure, "bar"),
            "Q": (side.flow, "L/min"),
        },
        "Definition of the flow: the pump moves it whatever is shut",
    )


def _surge(side: PressureSide, show: Report) -> None:
    wave = show.step(
        "Speed of a pressure wave in the hose",
        side.wave,
        "m/s",
        "a = sqrt(B / rho) / sqrt(1 + B * d / (E * w))",
        {
            "B": (suction.BULK_MODULUS, "GPa"),
            "rho": (side.density, "kg/m3"),
            "d": (side.pressed.hose_bore, "mm"),
            "E": (HOSE_MODULUS, "MPa"),
            "w": (HOSE_WALL, "mm"),
        },
        _KORTEWEG,
    )
    show.step(
        "What a valve shut at a blow adds",
        side.surge,
        "bar",
        "p_j = rho * a * V",
        {"rho": (side.density, "kg/m3"), "a": (wave, "m/s"), "V": (side.velocity, "m/s")},
        "Joukowsky's law",
    )


def _hurts(side: PressureSide, show: Report) -> None:
    show.step(
        "Speed of a jet",
        side.jet,
        "m/s",
        "V = sqrt(2 * p / rho)",
        {"p": (side.pressure, "bar"), "rho": (side.density, "kg/m3")},
        "Torricelli's law",
    )
    show.step(
        "Kick of an open hose",
        side.kick,
        "N",
        "F = 2 * p * pi / 4 * d**2",
        {"p": (side.pressure, "bar"), "d": (side.pressed.hose_bore, "mm")},
        "Momentum of a free jet, any fluid mechanics textbook",
    )
    show.step(
        "Force on the end cap of a tube",
        side.on_the_end,
        "N",
        "F = p * pi / 4 * d**2",
        {"p": (side.pressure, "bar"), "d": (side.tube_bore, "mm")},
        "Definition of pressure",
    )
    if side.relief is not None:
        show.step(
            "Warming of what goes through the relief valve",
            side.warms,
            "K",
            "dT = p_s / (rho * c)",
            {
                "p_s": (side.relief.opens, "bar"),
                "rho": (side.density, "kg/m3"),
                "c": (SPECIFIC_HEAT, ""),
            },
            "First law; specific heat of sea water by TEOS-10",
        )


def _regulating(side: PressureSide, show: Report) -> None:
    density, vapour = side.brine
    ratio = valves.critical_ratio(vapour)
    inlet = side.made.end_pressure + ATMOSPHERE
    chokes = show.step(
        "Difference over the regulating valve beyond which it chokes",
        side.chokes_at,
        "bar",
        "p_c = F**2 * (p_a - f * p_v)",
        {
            "F": (valves.NEEDLE_RECOVERY, ""),
            "p_a": (inlet, "bar"),
            "f": (ratio, ""),
            "p_v": (vapour, "bar"),
        },
        _VALVE,
        "p_a: before it, over the vacuum; p_v: at which the brine boils.",
    )
    show.step(
        "The regulating valve's opening as Kv",
        side.opening_kv,
        "m3/h",
        "K = Q_b / sqrt(p_d / 100000 * 999 / rho)",
        {
            "Q_b": (side.made.brine, "L/min"),
            "p_d": (min(chokes, side.made.end_pressure), "bar"),
            "rho": (density, "kg/m3"),
        },
        _VALVE,
    )
    area = valves.relief_area(side.made.brine, density, side.made.end_pressure, valves.PLAIN_RELIEF)
    show.step(
        "A round hole as wide",
        side.hole,
        "mm",
        "d = sqrt(4 * A / pi)",
        {"A": (area, "mm2")},
        "Area of a circle; the hole's A as the relief valve's",
    )
