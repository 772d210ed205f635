"""The working: each step as formula, the numbers put in, the result, and its source."""

from __future__ import annotations

import math

from ...frame.report import Report, line
from ...physics import air, heat, insulation_class, ventilation
from ...physics.thermal_network import AIR, WINDING
from ...system import cooling
from ...system.heated import HOTTEST_AGREED, Heated
from ...system.locker import LINING
from ...system.motor import Load
from .asks import Asks, rated_loss
from .judge import AIR_THROUGH, kind
from .place import SIDES

_ALL_HEAT = {
    "engine": "All heat given to the engine space, once settled",
    "locker": "All heat given to the locker, once settled",
}


def steps(q: Asks, load: Load, case: Heated, show: Report) -> None:
    """From the pump's shaft to the winding."""
    unit, state = case.room.unit, case.settled
    work = load.at_work
    show.step(
        "Shaft power of the pump",
        work.shaft_power,
        "W",
        "P_shaft = Q * dp / eta",
        {
            "Q": (load.flow, "L/min"),
            "dp": (load.pressure, "bar"),
            "eta": (q.unit.pump.efficiency, "%"),
        },
        "Hydraulic power, any pump handbook",
        "the flow at the speed on this voltage and frequency",
    )
    show.step(
        "What the motor loses at this load",
        work.losses,
        "W",
        "P_loss = P_in - P_shaft",
        {"P_in": (work.input_power, "W"), "P_shaft": (work.shaft_power, "W")},
        "The motor as on the power page: Fitzgerald, Kingsley and Umans, Electric Machinery, ch. 6",
    )
    show.step(
        "The same with its copper at the settled temperature",
        case.flows.motor,
        "W",
        "P_hot = P_loss + P_cu * (T_w - T_ref) / (T_ref - T_0)",
        {
            "P_loss": (work.losses, "W"),
            "P_cu": (unit.winding_loss, "W"),
            "T_w": (state[WINDING], "°C"),
            "T_ref": (case.mode.reference, "°C"),
            "T_0": (cooling.COPPER_ZERO, "°C"),
        },
        "IEC 60034-1, resistance of copper against temperature",
    )
    show.step(
        "What the pump gives to the air",
        unit.pump_heat,
        "W",
        "P_pump = P_shaft * (1 - eta) * (1 - s)",
        {
            "P_shaft": (work.shaft_power, "W"),
            "eta": (q.unit.pump.efficiency, "%"),
            "s": (q.to_seawater, "%"),
        },
        "Share s that the seawater carries away: common practice, no source",
    )
    if case.place.way != "open":
        _heat_steps(q, case, show)
    _winding_steps(load, case, show)


def _heat_steps(q: Asks, case: Heated, show: Report) -> None:
    """What is given to the space round the motor, and the ways out."""
    state, unit, boost = case.settled, case.room.unit, case.place.boost_heat
    blower = case.room.fan.heat if case.room.fan else 0.0
    other = case.place.other_heat + case.place.engine_heat + blower
    if boost > 0:
        show.step(
            "What the boost pump gives to the air",
            boost,
            "W",
            "P_boost = P_b * s_b",
            {"P_b": (q.boost_power, "W"), "s_b": (q.boost_to_air, "%")},
            "Share s_b of its power: common practice, no source",
        )
    show.step(
        _ALL_HEAT[kind(case)],
        case.heat,
        "W",
        "P = P_hot + P_pump + P_boost + P_else",
        {
            "P_hot": (case.flows.motor, "W"),
            "P_pump": (unit.pump_heat, "W"),
            "P_boost": (boost, "W"),
            "P_else": (other, "W"),
        },
        "Sum of the heats",
    )
    _wall_step(case, show)
    _flow_steps(case, show)
    exchange = case.mode.exchange
    show.step(
        "What the air carries away, once settled",
        case.flows.air,
        "W",
        "P_air = rho * c * V * dT",
        {
            "rho": (exchange.density, "kg/m3"),
            "c": (air.HEAT_CAPACITY, ""),
            "V": (case.flow, "m3/h"),
            "dT": (state[AIR] - exchange.supply, "K"),
        },
        "ASHRAE Handbook Fundamentals, sensible heat; c in J/(kg K)",
    )
    if not case.room.walls:
        return
    show.step(
        "What is left for the walls, once settled",
        case.heat - case.flows.air,
        "W",
        "P_walls = P - P_air",
        {"P": (case.heat, "W"), "P_air": (case.flows.air, "W")},
        "Balance of heat",
    )


def _winding_steps(load: Load, case: Heated, show: Report) -> None:
    """How hot the winding gets, and what it and the air may reach."""
    unit, state, bears = case.room.unit, case.settled, case.bears
    lumps = cooling.motor_lumps(unit, case.room.fill)
    show.step(
        "Winding above the air, once settled",
        state[WINDING] - state[AIR],
        "K",
        "dT_w = P_hot * (1 / G_wf + 1 / G_fa)",
        {
            "P_hot": (case.flows.motor, "W"),
            "G_wf": (lumps.to_frame, "W/K"),
            "G_fa": (lumps.to_air, "W/K"),
        },
        "Two lumps, winding and frame; the share of the rise between them is common practice, no "
        "source",
    )
    show.step(
        "Warmest air for this load",
        bears.air(unit),
        "°C",
        "T_air = min(T_most, T_plate + max(0, dT_r * (1 - P_loss / P_r)))",
        {
            "T_most": (HOTTEST_AGREED, "°C"),
            "T_plate": (bears.ambient, "°C"),
            "dT_r": (bears.rise, "K"),
            "P_loss": (load.at_work.losses, "W"),
            "P_r": (rated_loss(load.motor), "W"),
        },
        "IEC 60034-1: the rated rise above the nameplate's ambient (60 °C at most, from memory), "
        "the rise going with the losses",
        "the limit is the whole degree below",
    )
    allowed = insulation_class.allowed_rise(bears.insulation)
    show.step(
        "Hottest winding, by resistance",
        bears.winding,
        "°C",
        "T_class = T_40 + dT_c",
        {"T_40": (insulation_class.REFERENCE_AMBIENT, "°C"), "dT_c": (allowed, "K")},
        "NEMA MG 1 12.43 and IEC 60034-1: allowed rise of the class above 40 °C",
        "the protector counts where it opens earlier",
    )


def _wall_step(case: Heated, show: Report) -> None:
    if not case.room.walls:
        return
    face, wall = case.place.faces[0], case.room.walls[0]
    show.step(
        line("U value of the first face ({side})", side=SIDES[face.side]),
        wall.transmittance,
        "W/m2K",
        "U = 1 / (R_i + R_l + d / k + R_o)",
        {
            "R_i": (wall.inside, ""),
            "R_l": (face.lining / LINING.conductivity, ""),
            "d": (face.thickness, "mm"),
            "k": (heat.MATERIALS[face.material].conductivity, "W/mK"),
            "R_o": (wall.outside, ""),
        },
        "ISO 6946, surface resistances of its table 7; conductivities after ISO 10456",
        "resistances R in m²K/W",
    )


def _flow_steps(case: Heated, show: Report) -> None:
    """The draught, the fan, and both together."""
    made, exchange = case.room, case.mode.exchange
    natural = exchange.natural(case.settled[AIR])
    if natural:
        _draught_step(case, show)
    if made.fan and not made.fan.curve:
        show.step(
            "Air that the fan moves through duct and openings",
            exchange.forced,
            "m3/h",
            "V_f = V_0 / sqrt(1 + S * V_0**2 / p_0)",
            {
                "V_0": (made.fan.free_flow, "m3/h"),
                "S": (made.fan.resistance + cooling.openings_resistance(made), ""),
                "p_0": (made.fan.shutoff_pressure, "Pa"),
            },
            "Parabolic fan curve against the resistance of duct and openings; losses of the duct "
            "are common practice, no source",
            "S in Pa/(m³/s)²",
        )
    show.step(
        AIR_THROUGH[kind(case)],
        case.flow,
        "m3/h",
        "V = sqrt(V_f**2 + V_n**2)",
        {"V_f": (exchange.forced, "m3/h"), "V_n": (natural, "m3/h")},
        "ASHRAE Handbook Fundamentals, fan and draught in quadrature (from memory)",
    )


def _draught_step(case: Heated, show: Report) -> None:
    made, exchange, inside = case.room, case.mode.exchange, case.settled[AIR]
    vents, difference = made.vents, abs(inside - made.supply)
    discharge = ventilation.two_way_discharge(difference)
    common = {
        "g": (ventilation.STANDARD_GRAVITY, ""),
        "dT": (difference, "K"),
        "T": (max(inside, made.supply), "K"),
    }
    if exchange.stack < exchange.two_way * discharge:
        larger = max(vents.low, vents.high)
        height = vents.own_height or math.sqrt(larger)
        show.step(
            "Air that one opening exchanges",
            ventilation.single_opening_flow(larger, height, inside, made.supply),
            "m3/h",
            "V_n = K * A * sqrt(g * h * dT / T) / 3",
            {"K": (discharge, ""), "A": (larger, "cm2"), "h": (height, "mm"), **common},
            "Kiel and Wilson (1986), flow both ways through one opening; T in kelvin",
        )
        return
    area = ventilation.effective_area(vents.low, vents.high)
    show.step(
        "Both openings as one",
        area,
        "cm2",
        "A = A_1 * A_2 / sqrt(A_1**2 + A_2**2)",
        {"A_1": (vents.low, "cm2"), "A_2": (vents.high, "cm2")},
        "ASHRAE Handbook Fundamentals, natural ventilation",
    )
    show.step(
        "Draught that the warm air makes",
        ventilation.stack_flow(area, vents.apart, inside, made.supply, vents.discharge),
        "m3/h",
        "V_n = C_d * A * sqrt(2 * g * H * dT / T)",
        {"C_d": (vents.discharge, ""), "A": (area, "cm2"), "H": (vents.apart, "mm"), **common},
        "ASHRAE Handbook Fundamentals (1997) p. 25.13 eq. 37; T in kelvin",
    )
