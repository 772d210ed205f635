"""Every way at one glance, the headline, and what is worth a note."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ...frame.report import FAILS, TIGHT, UNKNOWN, Line, Option, Report, amount
from ...physics import inverters, pumps, starting
from ...system import motor
from ...system.aboard import Aboard
from ...system.motor import Water
from ...system.watermaking import Making
from .asks import Asks
from .ways import ABLE, Row

# Fresh water over feed of small units that pass it once. Common practice, no source.
USUAL_RECOVERY = (0.08, 0.15)
WARM = 313.15  # K, an engine room's, where the derating is told


def tell(show: Report, rows: Sequence[Row]) -> None:
    """Every source as a line."""
    if not rows:
        return
    own = show.own()[0]
    cells: list[list[Any]] = []
    for row in rows:
        way = row.way
        barred = own == FAILS or (own == UNKNOWN and way.verdict == UNKNOWN)
        money: Any = "no fuel" if row.free else "–"
        if row.money is not None and own != FAILS:
            money = (row.money, "¤/L")
        cells.append(
            [
                way.name,
                _starts(show, way),
                _runs(way, own, barred),
                "none" if own == FAILS else row.hours,
                "–" if row.energy is None or own == FAILS else (row.energy, "Wh/L"),
                money,
                "pump and motor: see the verdict" if barred else _decider(way),
            ]
        )
    show.table(
        "sources",
        "Which of yours can do it",
        ["Source", "Starts it", "Runs it", "Hours", "Energy", "Fuel cost", "What decides"],
        cells,
        [row.way.verdict for row in rows],
        lead=True,
        note="The cost is in your own money, in which you gave the price of fuel."
        if own != FAILS and any(row.money is not None for row in rows)
        else "",
    )


def _starts(show: Report, way: Option) -> str:
    """Yes, just or no, out of the option's figures of the start.

    On wrong mains nobody can tell; other faults of pump and motor leave the start alone.
    """
    if any(f.key in ("flux", "voltage") and f.state == FAILS for f in show.figures):
        return "can't tell"
    return _word(way, True)


def _runs(way: Option, own: str, barred: bool) -> str:
    if barred:
        return "no" if own == FAILS else "can't tell"
    return _word(way, False)


def _decider(way: Option) -> Line | str:
    """What decides a way: why it fails in full, else the figure with the least in hand."""
    judged = [f for f in way.figures if f.decides and f.margin is not None]
    if way.verdict not in ABLE or way.reservations or not judged:
        return way.reason()
    nearest = min(judged, key=lambda f: f.margin or 0.0)
    spare = amount(nearest.margin or 0.0, "%", 2)
    return Line("{what}: {m} in hand", {"what": nearest.label, "m": spare})


def _word(way: Option, starts: bool) -> str:
    """Yes, just or no, out of the option's figures of the start or of the run."""
    states = [f.state for f in way.figures if f.key.startswith("start") == starts]
    if FAILS in states or (way.failures and (not starts or not states)):
        return "no"
    late = [f for f in way.figures if f.key == "late_start" and (f.margin or 0.0) < 0]
    return "just" if TIGHT in states or (starts and late) else "yes"


def headline(show: Report, making: Making, aboard: Aboard, water: Water) -> None:
    """Which source the verdict is about, what else can do it, and what the motor asks."""
    best = show.best_option()
    own = show.own()[0]
    if best is not None and show.verdict not in ABLE:
        if own == FAILS:
            show.headline(
                "First mend what pump and motor lack; another power source does not help."
            )
        elif own == UNKNOWN and making.ails == "unfit":
            show.headline("First see what the membranes bear; another power source does not help.")
        elif own == UNKNOWN and making.ails:
            show.headline(
                "First set the pressure for this sea; another power source does not help."
            )
        elif own == UNKNOWN:
            show.headline("First ask the motor's maker; another power source does not help.")
        elif show.verdict == UNKNOWN:
            show.headline("Nobody can tell yet whether what you have can do it.")
        else:
            show.headline("Nothing you have can do it as it stands.")
    elif best is not None:
        others = sum(option.verdict in ABLE for option in show.options) - 1
        if others > 1:
            show.headline(
                "The verdict is that of the best way you have: {way}. {n} more can do it too.",
                way=best.name,
                n=others,
            )
        elif others == 1:
            show.headline(
                "The verdict is that of the best way you have: {way}. One more can do it too.",
                way=best.name,
            )
        else:
            show.headline("The verdict is that of the best way you have: {way}.", way=best.name)
    work = water.load.at_work
    if water.overfluxed:
        show.headline("On these mains nobody can tell what the motor draws.")
        return
    show.headline(
        "The motor draws {p} and {i} at {v}; with the boost pump, fresh water takes {e}."
        if aboard.machine.boost_power > 0
        else "The motor draws {p} and {i} at {v}; fresh water takes {e}.",
        p=(work.input_power, "W"),
        i=(work.current, "A"),
        v=(aboard.mains.voltage, "V"),
        e=(water.energy, "Wh/L"),
    )


def notes(q: Asks, making: Making, show: Report, aboard: Aboard, water: Water) -> None:
    """What is worth a note, and is no remedy."""
    machine = aboard.machine
    if not motor.own_hertz(machine):
        show.note(
            "A single-phase motor's capacitors and starting switch are made for one frequency as "
            "well. No published source says how far off the mains may be."
        )
    if machine.plate.low_voltage is not None:
        show.note(
            "The motor is reckoned as connected for {v}: have that checked before it is switched "
            "on. On its other voltage it takes the same volt-amperes. The maker's diagram in the "
            "junction box shows both connections.",
            v=(water.load.motor.voltage, "V"),
        )
    if q.has_inverter and q.inverter and q.inverter_power != q.inverter.rated_power:
        show.note(
            "{name} is taken at another rating than its own: surge and idle draw follow in "
            "proportion unless you gave them.",
            name=q.inverter.name,
        )
    if q.has_generator and q.generator and q.generator_power != q.generator.rated_power:
        show.note(
            "{name} is taken at another rating than its own: power for a start and fuel follow in "
            "proportion unless you gave them.",
            name=q.generator.name,
        )
    _recovery(q, making, show)
    show.note(
        "Common practice or from memory, not from a standard: power factor {c} of a motor at rest "
        "where its plate says nothing; {u} of the running torque to turn the pump from rest, {l} "
        "against pressure; generator's reactance; open-circuit voltages and resistances of "
        "batteries; LiFePO4 in the cold; {h} as the hottest air for an inverter; {d} of its "
        "rating left at {t}.",
        c=(starting.STARTING_POWER_FACTOR, "%"),
        u=(pumps.starting_torque(1.0, False), "%"),
        l=(pumps.starting_torque(1.0, True), "%"),
        t=(WARM, "°C"),
        h=(inverters.HOTTEST_AIR, "°C"),
        d=(inverters.temperature_derating(WARM), "%"),
    )


def _recovery(q: Asks, making: Making, show: Report) -> None:
    """Fresh water over feed, and the brine that is left to sweep the membrane."""
    recovery, brine = making.made.recovery, making.made.brine
    least_brine = q.unit.membranes.least_brine
    if recovery > USUAL_RECOVERY[1]:
        show.note(
            "Fresh water of {r} of the feed is more than usual: small units that pass the water "
            "once recover some {a} to {b} (common practice, no source). Too little brine is then "
            "left to sweep the membrane, and salt piles up at its face: check that {brine} is no "
            "less than the membrane maker's least brine flow.",
            r=(recovery, "%"),
            a=(USUAL_RECOVERY[0], "%"),
            b=(USUAL_RECOVERY[1], "%"),
            brine=(brine, "L/min"),
        )
    elif least_brine is not None and brine < least_brine:
        show.note(
            "The brine that leaves is {brine}, less than the {least} that the element asks for: "
            "salt piles up at the membrane's face.",
            brine=(brine, "L/min"),
            least=(least_brine, "L/min"),
        )
