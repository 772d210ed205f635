"""From the inverter, the panel or the generator to the motor: branch, cable, overload, start."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..physics import motors, protection, pumps, starting
from ..physics.conductors import Conductor
from ..rounding import trim
from . import supply
from .cables import Duty, Side, chosen
from .guards import SPARE_TO_START, TENTH, Guard
from .held import Held
from .motor import Water
from .supply import Generator
from .wired import Wired

LEAST_AREA = 1.45e-6  # m²; AWG 14 or 1.5 mm²


@dataclass(frozen=True)
class Branch:
    """The motor's branch [A]: the current its rules go by, what they ask, what they allow.

    `by_table` says that the current is NEC Table 430.248's. `ceiling` is the largest breaker or
    fuse for the motor by NEC 430.52, borrowed where the rules are ISO's: `ceiling_exact` before it
    is rounded up to a rating that is made. `carries` is the smallest breaker that surely carries
    the start for its time, nought where none does.
    """

    by_table: bool
    basis: float
    conductor: float
    ceiling: float
    ceiling_exact: float
    carries: float = 0.0


def motor_branch(wired: Wired, water: Water) -> Branch:
    """The rules for the motor's branch; the currents are as connected."""
    work, mains = water.load.at_work, wired.mains
    basis, by_table = max(wired.plate_current, work.current), False
    if wired.rules == "us":
        try:
            basis = motors.table_current(wired.machine.plate.output, nominal(mains.voltage))
            by_table = True
        except ValueError:
            pass
    basis = max(basis, work.current)
    conductor = protection.motor_conductor_current(basis)
    if wired.rules == "iso":
        start, kind = SPARE_TO_START * water.rush.current, wired.branch.device
        carries = next(
            (
                float(rating)
                for rating in protection.IEC_RATINGS
                if rating >= conductor
                and protection.carries(kind, start, rating, basis) >= wired.start_time
            ),
            0.0,
        )
        exact = max(protection.motor_breaker_limit(basis), SPARE_TO_START * carries)
        made = exact <= protection.IEC_RATINGS[-1]
        ceiling = protection.next_iec_rating(exact) if made else exact
        return Branch(by_table, basis, conductor, ceiling, exact, carries)
    allowed = protection.motor_branch(basis, wired.branch.device)
    return Branch(by_table, basis, conductor, allowed.rating, allowed.calculated)


# V: from, to, and the column of NEC Table 430.248 that serves it.
_SYSTEMS = ((105, 130, 115.0), (195, 204, 200.0), (205, 212, 208.0), (213, 254, 230.0))


def nominal(volts: float) -> float:
    """The nominal system voltage [V] in the NEC's table for a socket's voltage."""
    for low, high, name in _SYSTEMS:
        if low <= volts <= high:
            return name
    raise ValueError("the NEC's table has no column for this voltage")


def breaker_guard(wired: Wired, branch: Branch, water: Water) -> Guard:
    """The breaker or fuse of the motor's branch."""
    stated = wired.branch
    made: Sequence[float]
    if wired.rules == "iso":
        made = protection.IEC_RATINGS
    elif stated.device == "inverse-time breaker":
        made = protection.STANDARD_RATINGS
    else:
        made = (*protection.FUSE_ONLY, *protection.STANDARD_RATINGS)
    return Guard(
        branch.conductor,
        made,
        wired.rules,
        wired.mains.voltage,
        branch.ceiling,
        stated.rating,
        (stated.device,),
        water.rush.current,
        wired.start_time,
        branch.basis,
        stated.carries,
    )


def other_device(wired: Wired, side: Side, water: Water, device: str) -> float | None:
    """The rating [A] of another kind of device that would do in the branch with a tenth to spare
    and surely carries the start; None if it has none."""
    stated = replace(wired.branch, device=device, rating=None)
    form = replace(wired, branch=stated)
    guard = breaker_guard(form, motor_branch(form, water), water)
    rating = guard.rating(side.alone)
    does = guard.spare(side.alone) >= TENTH - 1e-9
    return rating if rating and does and guard.starts(rating) == "yes" else None


@dataclass(frozen=True)
class Overload:
    """Where an overload relay may stand [A]: what the pump draws and the most; whether by IEC."""

    runs: float
    high: float
    iec: bool


def overload_span(wired: Wired, water: Water) -> Overload:
    """Where the motor's overload relay may be set [A].

    An IEC relay carries 105 % of its setting for good and opens at 120 % within two hours: it is
    set to the plate's current. The NEC's figure is what a relay opens at.
    Source: IEC 60947-4-1 (from memory); `protection.overload_current`.
    """
    plate, drawn = wired.plate_current, water.load.at_work.current
    if wired.rules == "iso":
        return Overload(drawn, plate, True)
    factor = wired.machine.plate.service_factor
    return Overload(drawn, protection.overload_current(plate, factor), False)


def terminals(wired: Wired, water: Water) -> tuple[float, float]:
    """Volts that the motor bears below its plate's, and those that the supply is off already [V].

    The hertz use up their part of the band. No band where the supply itself is beyond it: no cable
    mends that. Source: NEMA Condensed MG 1-2011, 9.9.
    """
    made, mains = water.load.motor, wired.mains
    hertz = abs(mains.frequency / made.frequency - 1)
    band = (motors.NEMA_COMBINED_BAND - hertz) * made.voltage
    off = made.voltage - mains.voltage
    if hertz > motors.NEMA_FREQUENCY_BAND or trim(off / band) > 1:
        return math.inf, 0.0
    return band, off


def at_the_terminals(wired: Wired, water: Water, side: Side) -> tuple[float, Held] | None:
    """Volts at the motor behind its cable [V], and how far below the plate's, hertz off added,
    against what it must bear; None where the supply itself is beyond that."""
    duty, made, mains = side.duty, water.load.motor, wired.mains
    if math.isinf(duty.band):
        return None
    left = mains.voltage - duty.lost(side.cable.size, 1) * duty.run
    below = max(0.0, 1 - left / made.voltage) + abs(mains.frequency / made.frequency - 1)
    return left, Held(below, motors.NEMA_COMBINED_BAND)


def motor_side(wired: Wired, water: Water, branch: Branch) -> Side:
    """Cable and breaker between the inverter or panel and the motor."""
    run, volts = wired.motor_run, wired.mains.voltage
    work, rush = water.load.at_work, water.rush
    band, off = terminals(wired, water)
    duty = Duty(
        "ac",
        run.length,
        work.current,
        rush.current,
        branch.conductor,
        breaker_guard(wired, branch, water),
        volts,
        run.drop * volts,
        run.start_drop * volts,
        run.insulation,
        run.engine_space,
        run.bundled,
        LEAST_AREA,
        1,
        work.power_factor,
        rush.power_factor,
        wired.mains.frequency,
        band=band,
        off=off,
    )
    cable, found = chosen(duty, run.size, 1, wired.family)
    return Side(duty, cable, wired.branch.device, found)


# ---- the start, in one circuit of source, cable and motor ----


def loop(duty: Duty, size: Conductor, run: float) -> complex:
    """Impedance out and back [ohm] of a run [m, one way] of a size, hot."""
    return 2 * run * complex(duty.ohms(size), duty.reactance(size))


def volts_at_start(wired: Wired, water: Water, duty: Duty, size: Conductor, run: float) -> float:
    """Share of its rated voltage that the motor at rest has behind a run of cable [m, one way].

    Fed by a generator, its dip and the cable's loss are of one circuit; any other supply holds its
    volts. A soft starter is taken to let all through, for what it holds back is
    `Water.start_torque`'s business: its current falls only once it has nothing left to hold.
    """
    reactance = 0.0
    if wired.by_generator and wired.generator is not None:
        reactance = wired.generator.inner_reactance(wired.mains.voltage)
    cable = loop(duty, size, run)
    begun = supply.at_start(wired.mains, water, reactance, cable, held=False)
    return math.sqrt(begun.torque_ratio)


def kept_at_start(wired: Wired, water: Water, duty: Duty, size: Conductor, run: float) -> float:
    """Torque [ratio] at the start behind a run of cable, over that at the volts on the plate."""
    given = water.start_torque(volts_at_start(wired, water, duty, size, run))
    return given / water.start_torque(1.0)


def loaded_torque(wired: Wired, water: Water) -> float:
    """Torque that a pump under pressure asks at the start, over what the motor gives at the volts
    on its plate [ratio]. Source: `pumps.starting_torque`."""
    torque, loaded = water.load.at_work.torque, wired.machine.start.loaded
    more = pumps.starting_torque(torque, True) / pumps.starting_torque(torque, loaded)
    return more / water.start_torque(1.0)


@dataclass(frozen=True)
class Turning:
    """Torque at the start of what turns the pump [ratio]: behind the cable, and without its loss;
    whether the kind of motor is known, and whether it would turn without pressure."""

    here: float
    bare: float
    known: bool
    unloaded: bool

    @property
    def unsure(self) -> bool:
        """Whether only the motor's kind decides: the weakest does not turn it."""
        return trim(self.here) < 1 and not self.known

    @property
    def starts(self) -> bool:
        """Whether it turns, or may."""
        return self.unsure or trim(self.here) >= 1

    @property
    def blames_cable(self) -> bool:
        """Whether it would turn without the cable's loss."""
        return trim(self.bare) >= 1


def turning(wired: Wired, water: Water, side: Side) -> Turning:
    """Whether the motor turns the pump from rest, behind its cable and without it."""
    duty, size, loaded = side.duty, side.cable.size, wired.machine.start.loaded
    bare = water.start_torque(volts_at_start(wired, water, duty, size, 0.0))
    here = water.start_torque(volts_at_start(wired, water, duty, size, duty.run))
    unloaded = bare * pumps.starting_torque(1.0, True) / pumps.starting_torque(1.0, False)
    return Turning(here, bare, water.torque_known, loaded and unloaded >= 1)


def turns_behind(wired: Wired, water: Water, side: Side, size: Conductor) -> bool:
    """Whether another size would do on the motor's run and leaves it the torque to start."""
    duty = side.duty
    if size.area < duty.least_area or not duty.does(size, 1):
        return False
    return water.start_torque(volts_at_start(wired, water, duty, size, duty.run)) >= 1


def on_the_generator(wired: Wired, made: Generator, water: Water, side: Side) -> starting.Start:
    """The start on the generator, its dip and the cable's loss in one circuit."""
    duty = side.duty
    cable = loop(duty, side.cable.size, duty.run)
    volts = wired.mains.voltage
    return supply.at_start(wired.mains, water, made.inner_reactance(volts), cable)
