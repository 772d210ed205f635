"""The working: each loss along the line, the pressure at the inlet, the suction head."""

from __future__ import annotations

from ...frame.report import Report
from ...physics import pipes, suction
from ...system.feed_line import (
    ATMOSPHERE,
    HOSE_MODULUS,
    HOSE_WALL,
    SMOOTH,
    TEST_VISCOSITY,
    FeedLine,
    Hose,
)

_DARCY = "Darcy-Weisbach; Crane, Technical Paper 410"
_THREE_K = "P. Silverberg and R. Darby, Chemical Engineering 106 (1999) 101; ends: Crane TP-410"


def steps(feed: FeedLine, show: Report) -> None:
    """In the order of the water."""
    _hose(feed, show)
    _losses(feed, show)
    _inlet(feed, show)
    _head(feed, show)


def _hose(feed: FeedLine, show: Report) -> None:
    hose, flow, water = feed.hose, feed.flow, feed.water
    speed, re = hose.speed(flow), hose.reynolds(flow, water)
    show.step(
        "Velocity in the feed hose",
        speed,
        "m/s",
        "V = Q / (pi / 4 * d**2)",
        {"Q": (flow, "L/min"), "d": (hose.bore, "mm")},
        "Continuity",
    )
    show.step(
        "Reynolds number",
        re,
        "",
        "Re = rho * V * d / mu",
        {
            "rho": (water.density, "kg/m3"),
            "V": (speed, "m/s"),
            "d": (hose.bore, "mm"),
            "mu": (water.viscosity, ""),
        },
        "Definition; the sea's viscosity by Sharqawy, Lienhard and Zubair (2010)",
        "The viscosity is in Pa·s.",
    )
    _friction(hose, feed, re, show)
    _fittings(hose, feed, re, show)
    show.step(
        "Lost in the feed hose",
        feed.hose_lost,
        "mbar",
        "dp_hose = (f * l / d + K) * rho * V**2 / 2",
        {
            "f": (hose.friction(flow, water), ""),
            "l": (hose.length, "m"),
            "d": (hose.bore, "mm"),
            "K": (hose.fittings(flow, water), ""),
            "rho": (water.density, "kg/m3"),
            "V": (speed, "m/s"),
        },
        _DARCY,
    )


def _friction(hose: Hose, feed: FeedLine, re: float, show: Report) -> None:
    friction = hose.friction(feed.flow, feed.water)
    if re <= pipes.LAMINAR:
        show.step(
            "Friction factor, smooth flow",
            friction,
            "",
            "f = 64 / Re",
            {"Re": (re, "")},
            "Hagen-Poiseuille",
        )
        return
    show.step(
        "Friction factor",
        friction,
        "",
        "f = 8 * ((8 / Re)**12 + ((2.457 * log(1 / ((7 / Re)**0.9 + 0.27 * epsilon / d)))**16 "
        "+ (37530 / Re)**16)**-1.5)**(1 / 12)",
        {"Re": (re, ""), "epsilon": (SMOOTH, "µm"), "d": (hose.bore, "mm")},
        "S. W. Churchill, Chemical Engineering 84 (1977) 91; roughness of drawn tube, Crane TP-410",
    )


def _fittings(hose: Hose, feed: FeedLine, re: float, show: Report) -> None:
    bore = hose.bore
    show.step(
        "Loss coefficient of its fittings and ends",
        hose.fittings(feed.flow, feed.water),
        "",
        "K = K_ends + n_b * K_b + n_t * K_t + K_cock + n_c * K_c",
        {
            "K_ends": (pipes.ENTRANCE + pipes.EXIT, ""),
            "n_b": (float(hose.bends), ""),
            "K_b": (pipes.fitting_loss(pipes.ELBOW, re, bore), ""),
            "n_t": (float(hose.branches), ""),
            "K_t": (pipes.fitting_loss(pipes.BRANCH, re, bore), ""),
            "K_cock": (pipes.fitting_loss(pipes.BALL_VALVE, re, bore), ""),
            "n_c": (float(hose.check), ""),
            "K_c": (pipes.fitting_loss(pipes.CHECK_VALVE, re, bore), ""),
        },
        _THREE_K,
        "b: bends, t: tees, cock: the open seacock, c: a non-return valve.",
    )


def _losses(feed: FeedLine, show: Report) -> None:
    strainer, filters = feed.strainer, feed.filters
    show.step(
        "Lost in the strainer, partly blocked",
        strainer.lost(feed.flow, dirty=True),
        "mbar",
        "dp_s = dp_r * (Q / (Q_r * (1 - s)))**2",
        {
            "dp_r": (strainer.rated_loss, "mbar"),
            "Q": (feed.flow, "L/min"),
            "Q_r": (strainer.rated_flow, "L/min"),
            "s": (strainer.blocked, "%"),
        },
        "Orifice flow: the loss goes with the square of flow over open area",
    )
    show.step(
        "Lost in the filters, clean",
        filters.clean(feed.flow, feed.water),
        "bar",
        "dp_f = n * dp_r * Q / Q_r * mu / mu_r",
        {
            "n": (float(filters.count), ""),
            "dp_r": (filters.rated_loss, "mbar"),
            "Q": (feed.flow, "L/min"),
            "Q_r": (filters.rated_flow, "L/min"),
            "mu": (feed.water.viscosity, ""),
            "mu_r": (TEST_VISCOSITY, ""),
        },
        "Darcy's law of flow through a porous body",
        "Viscosities in Pa·s; the cartridge's own in fresh water of 20 °C.",
    )
    if feed.boost is None:
        return
    show.step(
        "Lost in the hose behind the boost pump",
        feed.delivery_lost,
        "mbar",
        "dp_b = (f * l / d + K) * rho * V**2 / 2",
        {
            "f": (feed.boost.hose.friction(feed.flow, feed.water), ""),
            "l": (feed.boost.hose.length, "m"),
            "d": (feed.boost.hose.bore, "mm"),
            "K": (feed.boost.hose.fittings(feed.flow, feed.water), ""),
            "rho": (feed.water.density, "kg/m3"),
            "V": (feed.boost.hose.speed(feed.flow), "m/s"),
        },
        _DARCY,
    )
    show.step(
        "What the boost pump adds at this flow",
        feed.rise,
        "bar",
        "dp = dp_0 * (1 - (Q / Q_0)**2)",
        {
            "dp_0": (feed.boost.shut_off, "bar"),
            "Q": (feed.flow, "L/min"),
            "Q_0": (feed.boost.free_flow, "L/min"),
        },
        "A parabola through both ends of its curve: common practice, no source",
    )


def _inlet(feed: FeedLine, show: Report) -> None:
    spot, moves = feed.inlet.spot, feed.moves
    height = spot.height + spot.rise(moves)
    show.step(
        "Pump above the water, heeled and pitching",
        height,
        "m",
        "h = h_0 + a * sin(theta_heel) + b * sin(theta_pitch)",
        {
            "h_0": (spot.height, "m"),
            "a": (spot.aside, "m"),
            "theta_heel": (moves.heel, "°"),
            "b": (spot.ahead, "m"),
            "theta_pitch": (moves.pitch, "°"),
        },
        "Geometry",
    )
    show.step(
        "At the pump's inlet, at its worst",
        feed.fed.value,
        "bar",
        "p = dp - rho * g * h - dp_hose - dp_s - dp_b - dp_f",
        {
            "dp": (feed.rise, "bar"),
            "rho": (feed.water.density, "kg/m3"),
            "g": (pipes.GRAVITY, ""),
            "h": (height, "m"),
            "dp_hose": (feed.hose_lost, "mbar"),
            "dp_s": (feed.strainer.lost(feed.flow, dirty=True), "mbar"),
            "dp_b": (feed.delivery_lost, "mbar"),
            "dp_f": (feed.filters.lost(feed.flow, feed.water, dirty=True), "bar"),
        },
        "Energy equation along the line (Bernoulli with losses)",
        "The filters' drop is the one at which they are changed.",
    )


def _head(feed: FeedLine, show: Report) -> None:
    show.step(
        "Suction head at the pump (NPSH available)",
        feed.npsh,
        "m",
        "NPSH = (p_a + p - p_v) / (rho * g)",
        {
            "p_a": (ATMOSPHERE, "bar"),
            "p": (feed.fed.value, "bar"),
            "p_v": (feed.water.vapour_pressure, "mbar"),
            "rho": (feed.water.density, "kg/m3"),
            "g": (pipes.GRAVITY, ""),
        },
        "ANSI/HI 9.6.1, definition; the sea's vapour pressure: IAPWS-IF97 and Raoult's law",
    )
    show.step(
        "Its strokes ask of a stiff line (acceleration head)",
        feed.acceleration,
        "m",
        "h_a = W * n * 60 * C / (k * g)",
        {
            "W": (feed.pull, ""),
            "n": (feed.inlet.speed, "rpm"),
            "C": (suction.stroke_constant(feed.inlet.plungers), ""),
            "k": (suction.WATER, ""),
            "g": (pipes.GRAVITY, ""),
        },
        "Hydraulic Institute, reciprocating pumps",
        "W: length times velocity, over all hoses, in m²/s.",
    )
    show.step(
        "Speed of a pressure wave in soft hose",
        feed.wave,
        "m/s",
        "V_w = sqrt(B / rho) / sqrt(1 + B * d / (E * b))",
        {
            "B": (suction.BULK_MODULUS, "GPa"),
            "rho": (feed.water.density, "kg/m3"),
            "d": (feed.last_hose.bore, "mm"),
            "E": (HOSE_MODULUS, "MPa"),
            "b": (HOSE_WALL, "mm"),
        },
        "Korteweg's formula; the hose's wall: common practice, no source",
    )
    show.step(
        "Its strokes ask of a soft hose, about",
        feed.soft,
        "m",
        "h_s = min(V_w * s * V / g, h_a)",
        {
            "V_w": (feed.wave, "m/s"),
            "s": (feed.swing, "%"),
            "V": (feed.last_hose.speed(feed.flow), "m/s"),
            "g": (pipes.GRAVITY, ""),
            "h_a": (feed.acceleration, "m"),
        },
        "Joukowsky's law",
        "s: from the highest to the lowest flow of the plungers, over the mean.",
    )
