"""The working of the wiring, step by step."""

from __future__ import annotations

from ..frame import units
from ..frame.inputs import Values
from ..frame.report import Report
from ..physics import conductors, protection
from .cables import Side, ampacity_source
from .feed import Feed
from .guards import SPARE_TO_START, Branch, Guard
from .load import Load, Rush, rated_current


def battery_steps(q: Values, show: Report, feed: Feed, side: Side) -> None:
    duty, cable = side.duty, side.cable
    usual = feed.emf - q.dc_drop * q.bank_voltage
    for label, power, amps in (
        ("Battery current with the pump running", feed.pump_power, feed.pump),
        ("Battery current with the inverter at its full rating", feed.full_power, feed.full),
    ):
        if feed.delivers:
            show.step(
                label,
                amps,
                "A",
                "I = 2 * P / (E + sqrt(E**2 - 4 * R * P))",
                {"P": (power, "W"), "E": (usual, "V"), "R": (feed.resistance, "mΩ")},
                "P = (E - I R) I of a battery, solved for the current",
                "At the lowest charge, with all the drop that is allowed already lost.",
            )
    if q.dc_load == "pump":
        show.step(
            "Ampacity asked of the battery cable",
            duty.wanted,
            "A",
            "I_z = 1.25 * I_pump",
            {"I_pump": (feed.pump, "A")},
            "125 % of a current that flows for hours, as NEC (NFPA 70) 430.22",
        )
    else:
        show.step(
            "Ampacity asked of the battery cable",
            duty.wanted,
            "A",
            "I_z = max(1.25 * I_pump, I_full)",
            {"I_pump": (feed.pump, "A"), "I_full": (feed.full, "A")},
            "125 % of a current that flows for hours, as NEC (NFPA 70) 430.22",
        )
    cable_steps(show, side)
    lost = duty.lost(cable.size, cable.parallel) * duty.run
    show.step(
        "Volts lost in the battery cable, running",
        lost,
        "V",
        "U = 2 * l * I * R / n",
        {
            "l": (duty.run, "m"),
            "I": (duty.current, "A"),
            "R": (duty.ohms(cable.size), "mΩ/m"),
            "n": (cable.parallel, ""),
        },
        "Ohm's law; ABYC E-11 and ISO 10133 class of 3 %",
    )
    if not q.short_circuit:
        show.step(
            "Short-circuit current of the bank",
            feed.short_circuit,
            "kA",
            "I_sc = E / R",
            {"E": (feed.full_emf, "V"), "R": (feed.new_resistance, "mΩ")},
            "Ohm's law; resistance by the chemistry's typical value or the bank's record",
        )
    if q.wiring_rules == "us" and duty.voltage < 50:
        show.step(
            "Largest fuse for the battery cable",
            side.limit,
            "A",
            "I_n = 1.5 * I_z",
            {"I_z": (side.alone, "A")},
            "33 CFR 183.455(c), below 50 V",
            "I_z is that of one cable alone." if cable.parallel > 1 else "",
        )


def cable_steps(show: Report, side: Side) -> None:
    duty, cable = side.duty, side.cable
    table = conductors.table_ampacity(cable.size.name, duty.insulation)
    space = conductors.engine_space_factor(duty.insulation) if duty.engine_space else 1.0
    bundle = conductors.bundle_factor(duty.bundled, duty.voltage)
    show.step(
        f"What the {duty.name} may carry",
        duty.ampacity(cable.size, cable.parallel),
        "A",
        "I_z = n * I_table * k_space * k_bundle",
        {
            "n": (cable.parallel, ""),
            "I_table": (table, "A"),
            "k_space": (space, ""),
            "k_bundle": (bundle, ""),
        },
        ampacity_source(duty, cable.size.family == "mm²"),
        ""
        if cable.size.family == "AWG"
        else "A metric size is given no more than the next "
        "smaller gauge: the ISO table was not to be had.",
    )
    show.step(
        f"Resistance of the {duty.name}, hot",
        duty.ohms(cable.size),
        "mΩ/m",
        "R = R_20 * (1 + alpha * dT)",
        {
            "R_20": (cable.size.resistance, "mΩ/m"),
            "alpha": (conductors.TEMPERATURE_COEFFICIENT, "%/K"),
            "dT": (duty.temperature - conductors.REFERENCE_TEMPERATURE, "K"),
        },
        "NEC (NFPA 70) chapter 9 table 8, brought to 20 °C"
        if cable.size.family == "AWG"
        else "IEC 60228, class 5 tinned, greatest resistance",
    )


def motor_steps(
    q: Values, show: Report, load: Load, rush: Rush, branch: Branch, side: Side
) -> None:
    duty, cable, work = side.duty, side.cable, load.at_work
    plate = rated_current(q.unit.motor, q.ac_voltage)
    show.step(
        "Ampacity asked of the motor's cable",
        branch.conductor,
        "A",
        "I_z = 1.25 * I",
        {"I": (branch.basis, "A")},
        "NEC (NFPA 70) 430.22 on " + branch.by,
    )
    if q.wiring_rules == "us":
        share = branch.ceiling_exact / branch.basis
        show.step(
            "Largest short-circuit protection of the motor's branch",
            branch.ceiling_exact,
            "A",
            "I_n = k * I",
            {"k": (share, "×"), "I": (branch.basis, "A")},
            "NEC (NFPA 70) Table 430.52 on " + branch.by,
            f"The next standard rating up is allowed: {branch.ceiling:.0f} A.",
        )
    else:
        show.step(
            "Largest breaker of the motor's branch",
            branch.ceiling_exact,
            "A",
            "I_n = max(4 * I, k * I_start)",
            {
                "I": (branch.basis, "A"),
                "k": (SPARE_TO_START, "×"),
                "I_start": (branch.carries, "A"),
            },
            "NEC (NFPA 70) 430.52(C)(1) exception 2, borrowed",
            f"The next rating that is made: {units.text(branch.ceiling, 'A')}. I_start is the "
            "smallest breaker that carries the start; nought: no miniature breaker surely does.",
        )
        _breaker_step(show, duty.guard, side.rating, rush)
    cable_steps(show, side)
    reactive = duty.reactance(cable.size)
    for label, amps, factor, start in (
        ("Volts lost in the cable to the motor, running", work.current, work.power_factor, False),
        ("Volts lost in it at the start", rush.current, rush.power_factor, True),
    ):
        show.step(
            label,
            duty.lost(cable.size, 1, start) * duty.run,
            "V",
            "U = 2 * l * I * (R * pf + X * sqrt(1 - pf**2))",
            {
                "l": (duty.run, "m"),
                "I": (amps, "A"),
                "R": (duty.ohms(cable.size), "mΩ/m"),
                "X": (reactive, "mΩ/m"),
                "pf": (factor, ""),
            },
            "NEC (NFPA 70) chapter 9 table 9 note 2",
        )
    if q.wiring_rules == "iso":
        return
    generous = protection.overload_current(plate, q.unit.motor.service_factor) / plate
    show.step(
        "Most that an overload relay may be set to",
        protection.overload_current(plate, q.unit.motor.service_factor),
        "A",
        "I = k * I_plate",
        {"k": (generous, "×"), "I_plate": (plate, "A")},
        "NEC (NFPA 70) 430.32(A)(1), on the plate's current",
    )


def _breaker_step(show: Report, guard: Guard, rating: float | None, rush: Rush) -> None:
    """How long a breaker by IEC 60898-1 carries the start, where its thermal release decides."""
    if rating is None or guard.curve is not None:
        return
    (kind,) = guard.devices
    time = protection.carries(kind, guard.start, rating, guard.before)
    times = [
        (protection.breaker_time(guard.start, rating, guard.before, a, protection.EARLIEST), a)
        for a in protection.THRESHOLDS
    ]
    shortest, threshold = min(times)
    if not 0 < time < protection.FOREVER or time != shortest:
        return
    show.step(
        "How long the breaker surely carries the start",
        time,
        "s",
        "t = t_p / log(p**2 / (p**2 - a**2)) * log((I**2 - I_0**2) / (I**2 - (a * I_n)**2))",
        {
            "t_p": (protection.EARLIEST, "s"),
            "p": (protection.PROBE, "×"),
            "a": (threshold, "×"),
            "I": (guard.start, "A"),
            "I_0": (min(guard.before, threshold * rating), "A"),
            "I_n": (rating, "A"),
        },
        "Thermal replica of IEC 60255-149 (from memory) through the points of IEC 60898-1",
        f"Starting current by {rush.told_by}; I_0 is what it carried until just before. At 2.55 "
        "times its rating it opens after 1 s at the earliest, at 1.13 times not within an hour.",
    )
