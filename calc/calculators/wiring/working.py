"""The working of the wiring, step by step."""

from __future__ import annotations

from ...frame.report import Report, line
from ...physics import conductors, protection
from ...system.bank_side import Feed
from ...system.cables import Duty, Side
from ...system.guards import SPARE_TO_START, Guard
from ...system.laid import Layout
from .. import _motor

NEC_430_22 = "125 % of a current that flows for hours, as NEC (NFPA 70) 430.22"


def steps(layout: Layout, show: Report) -> None:
    """Both sides, from the bank on."""
    if layout.bank is not None and layout.feed is not None:
        _battery(layout, layout.feed, layout.bank, show)
    _motor_side(layout, show)


def _battery(layout: Layout, feed: Feed, side: Side, show: Report) -> None:
    wired, duty, cable = layout.wired, side.duty, side.cable
    usual = feed.emf - duty.drop
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
    asked = "Ampacity asked of the battery cable"
    if wired.for_all:
        both = {"I_pump": (feed.pump, "A"), "I_full": (feed.full, "A")}
        show.step(asked, duty.wanted, "A", "I_z = max(1.25 * I_pump, I_full)", both, NEC_430_22)
    else:
        one = {"I_pump": (feed.pump, "A")}
        show.step(asked, duty.wanted, "A", "I_z = 1.25 * I_pump", one, NEC_430_22)
    _cable(side, show)
    show.step(
        "Volts lost in the battery cable, running",
        duty.lost(cable.size, cable.parallel) * duty.run,
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
    if not wired.short_circuit:
        show.step(
            "Short-circuit current of the bank",
            feed.short_circuit,
            "kA",
            "I_sc = E / R",
            {"E": (feed.full_emf, "V"), "R": (feed.new_resistance, "mΩ")},
            "Ohm's law; resistance by the chemistry's typical value or the bank's record",
        )
    if wired.rules == "us" and duty.voltage < 50:
        show.step(
            "Largest fuse for the battery cable",
            side.limit,
            "A",
            "I_n = 1.5 * I_z",
            {"I_z": (side.alone, "A")},
            "33 CFR 183.455(c), below 50 V",
            "I_z is that of one cable alone." if cable.parallel > 1 else "",
        )


_CARRIES = {"dc": "What the battery cable may carry", "ac": "What the cable to the motor may carry"}
_OHMS = {
    "dc": "Resistance of the battery cable, hot",
    "ac": "Resistance of the cable to the motor, hot",
}


def _cable(side: Side, show: Report) -> None:
    duty, cable = side.duty, side.cable
    metric = cable.size.family != "AWG"
    table = conductors.table_ampacity(cable.size.name, duty.insulation)
    space = conductors.engine_space_factor(duty.insulation) if duty.engine_space else 1.0
    bundle = conductors.bundle_factor(duty.bundled, duty.voltage)
    show.step(
        _CARRIES[duty.key],
        duty.ampacity(cable.size, cable.parallel),
        "A",
        "I_z = n * I_table * k_space * k_bundle",
        {
            "n": (cable.parallel, ""),
            "I_table": (table, "A"),
            "k_space": (space, ""),
            "k_bundle": (bundle, ""),
        },
        line(_ampacity_source(duty, metric), t=duty.celsius),
        "A metric size is given no more than the next smaller gauge: the ISO table was not to be "
        "had."
        if metric
        else "",
    )
    show.step(
        _OHMS[duty.key],
        duty.ohms(cable.size),
        "mΩ/m",
        "R = R_20 * (1 + alpha * dT)",
        {
            "R_20": (cable.size.resistance, "mΩ/m"),
            "alpha": (conductors.TEMPERATURE_COEFFICIENT, "%/K"),
            "dT": (duty.temperature - conductors.REFERENCE_TEMPERATURE, "K"),
        },
        "IEC 60228, class 5 tinned, greatest resistance"
        if metric
        else "NEC (NFPA 70) chapter 9 table 8, brought to 20 °C",
    )


def _ampacity_source(duty: Duty, metric: bool) -> str:
    """The source of the ampacity, and whether its column was seen."""
    if metric and duty.celsius < 105:
        return (
            "33 CFR 183.425 Table 5, {t} °C column, with notes 1 and 2, or ISO 10133 annex A where "
            "that is less (both from memory)"
        )
    if not duty.column_seen:
        return (
            "33 CFR 183.425 Table 5, {t} °C column, with notes 1 and 2 (from memory: this column "
            "was not seen in a source)"
        )
    return "33 CFR 183.425 Table 5, {t} °C column, with notes 1 and 2"


_BASIS = {
    (True, "wire"): "NEC (NFPA 70) 430.22 on NEC Table 430.248",
    (False, "wire"): "NEC (NFPA 70) 430.22 on the plate's current, or what the pump draws if that "
    "is more",
    (True, "guard"): "NEC (NFPA 70) Table 430.52 on NEC Table 430.248",
    (False, "guard"): "NEC (NFPA 70) Table 430.52 on the plate's current, or what the pump draws "
    "if that is more",
}


def _motor_side(layout: Layout, show: Report) -> None:
    wired, branch, side = layout.wired, layout.branch, layout.motor
    show.step(
        "Ampacity asked of the motor's cable",
        branch.conductor,
        "A",
        "I_z = 1.25 * I",
        {"I": (branch.basis, "A")},
        _BASIS[branch.by_table, "wire"],
    )
    if wired.rules == "us":
        show.step(
            "Largest short-circuit protection of the motor's branch",
            branch.ceiling_exact,
            "A",
            "I_n = k * I",
            {"k": (branch.ceiling_exact / branch.basis, "×"), "I": (branch.basis, "A")},
            _BASIS[branch.by_table, "guard"],
            line("The next standard rating up is allowed: {r} A.", r=round(branch.ceiling)),
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
            line(
                "The next rating that is made: {r}. I_start is the smallest breaker that carries "
                "the start; nought: no miniature breaker surely does.",
                r=(branch.ceiling, "A"),
            ),
        )
        _breaker(layout, side.duty.guard, side.rating, show)
    _cable(side, show)
    _lost(layout, show)
    if wired.rules == "us":
        plate = wired.plate_current
        most = protection.overload_current(plate, wired.machine.plate.service_factor)
        show.step(
            "Most that an overload relay may be set to",
            most,
            "A",
            "I = k * I_plate",
            {"k": (most / plate, "×"), "I_plate": (plate, "A")},
            "NEC (NFPA 70) 430.32(A)(1), on the plate's current",
        )


def _lost(layout: Layout, show: Report) -> None:
    """The volts lost on the way to the motor."""
    side, work, rush = layout.motor, layout.water.load.at_work, layout.water.rush
    duty, size = side.duty, side.cable.size
    for label, amps, factor, start in (
        ("Volts lost in the cable to the motor, running", work.current, work.power_factor, False),
        ("Volts lost in it at the start", rush.current, rush.power_factor, True),
    ):
        show.step(
            label,
            duty.lost(size, 1, start) * duty.run,
            "V",
            "U = 2 * l * I * (R * pf + X * sqrt(1 - pf**2))",
            {
                "l": (duty.run, "m"),
                "I": (amps, "A"),
                "R": (duty.ohms(size), "mΩ/m"),
                "X": (duty.reactance(size), "mΩ/m"),
                "pf": (factor, ""),
            },
            "NEC (NFPA 70) chapter 9 table 9 note 2",
        )


def _breaker(layout: Layout, guard: Guard, rating: float | None, show: Report) -> None:
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
        line(
            "Starting current by {known}; I_0 is what it carried until just before. At 2.55 times "
            "its rating it opens after 1 s at the earliest, at 1.13 times not within an hour.",
            known=_motor.starting_current(layout.wired.machine, layout.water),
        ),
    )
