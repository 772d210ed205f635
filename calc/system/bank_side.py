"""Between bank and inverter: what is drawn, the cable that carries it, the fuse that guards it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..physics import batteries, chemistries, inverters, protection
from .bank import Inverter, Placed
from .cables import Duty, Side, chosen
from .guards import TENTH, Guard
from .held import Held
from .motor import Water
from .unfit import Unfit
from .wired import Wired

LEAST_AREA = 3.9e-6  # m²; AWG 10 or 4 mm²
MOST_PARALLEL = 3


class NoFuse(Unfit):
    """More must pass [A] than the largest fuse that is made."""

    def __init__(self, least: float) -> None:
        super().__init__("no fuse")
        self.least = least


@dataclass(frozen=True)
class Feed:
    """The bank at its lowest charge [V, ohm] and the currents drawn from it [A, W].

    The short circuit is that of the bank when it was new and is full.
    """

    inverter: Placed
    emf: float
    full_emf: float
    cut_off: float
    resistance: float
    new_resistance: float
    pump_power: float
    full_power: float
    start_power: float
    pump: float
    full: float
    start: float
    short_circuit: float
    delivers: bool

    @property
    def start_volts(self) -> float:
        """Volts [V] that the bank keeps at the start."""
        return self.emf - self.start * self.resistance

    @property
    def suffices(self) -> bool:
        """Whether the bank gives all that is asked, with volts to spare for the cable."""
        return self.delivers and self.start_volts > self.cut_off


def feed_of(wired: Wired, inverter: Inverter, water: Water) -> Feed:
    """The currents that the inverter takes, at the lowest charge and with all drop used up.

    Raises Unfit("never on") for a cut-off above what the bank holds without any load, and
    Unfit("no resistance") for a bank whose short circuit would have no limit.
    """
    house, placed = wired.bank, inverter.placed(wired.air, wired.start_time)
    aged = house.bank
    warm = max(house.temperature, chemistries.RATED_TEMPERATURE)  # the cold damps a short circuit
    new = replace(house, health=1.0, temperature=warm).bank
    emf = aged.open_circuit_voltage(1 - house.depth)
    if aged.cut_off >= emf:
        raise Unfit("never on")
    if not wired.short_circuit and new.resistance == 0:
        raise Unfit("no resistance")

    surge = water.rush.current * wired.connected
    work, lost = water.load.at_work, wired.bank_run
    powers = (
        placed.dc_power(work.input_power, work.apparent_power),
        placed.dc_power(placed.rated, placed.rated),
        placed.dc_power(surge * water.rush.power_factor, surge),
    )
    left = [emf - share * house.voltage for share in (lost.drop, lost.drop, lost.start_drop)]
    points = [
        batteries.constant_power(volts, aged.resistance, watts)
        for volts, watts in zip(left, powers, strict=True)
    ]
    # where the bank can't give it, the most it gives: at half its volts
    pump, full, start = (
        point.current if point else volts / (2 * aged.resistance)
        for point, volts in zip(points, left, strict=True)
    )
    full_emf = new.open_circuit_voltage(1.0)
    return Feed(
        placed,
        emf,
        full_emf,
        aged.cut_off,
        aged.resistance,
        new.resistance,
        *powers,
        pump=pump,
        full=full,
        start=start,
        short_circuit=wired.short_circuit
        or protection.short_circuit_current(full_emf, new.resistance),
        delivers=None not in points,
    )


@dataclass(frozen=True)
class Asked:
    """What the pump alone asks of the inverter, running and at its start [VA]."""

    running: Held
    start: Held

    @property
    def enough(self) -> bool:
        """Whether the inverter gives both."""
        return self.running.holds and self.start.holds


def asked_of(wired: Wired, feed: Feed, water: Water) -> Asked:
    """What the pump alone asks of the inverter in the heat it stands in."""
    volts = wired.mains.voltage
    surge = water.start_current(volts / water.load.motor.voltage) * volts + water.boost_ac
    placed = feed.inverter
    return Asked(Held(water.apparent(0.0), placed.continuous), Held(surge, placed.surge))


def heat_share(wired: Wired) -> float:
    """Share of an inverter's rating that the heat leaves. Source: `inverters`."""
    return inverters.temperature_derating(wired.air.temperature)


def wanted_of_the_bank(wired: Wired, feed: Feed) -> tuple[float, float]:
    """The current that the cable's drop is reckoned for, and the ampacity it must have [A]."""
    steady = protection.CONTINUOUS_DUTY * feed.pump
    if wired.for_all:
        return max(feed.pump, feed.full), max(steady, feed.full)
    return feed.pump, steady


def fuse_guard(wired: Wired, least: float, feed: Feed) -> Guard:
    """The fuse between bank and inverter.

    Raises NoFuse where that is more than the largest fuse.
    """
    if least > protection.STANDARD_RATINGS[-1]:
        raise NoFuse(least)
    fuse = wired.fuse
    kinds: Sequence[str] = [fuse.kind] if fuse.kind else []
    if not kinds:
        kinds = [
            kind
            for kind in protection.CLASSES
            if protection.DEVICES[kind].interrupts(feed.full_emf) >= feed.short_circuit
        ] or [strongest(feed.full_emf)]
    return Guard(
        least,
        protection.DEVICES[fuse.kind or "class T"].ratings,
        wired.rules,
        wired.bank.voltage,
        stated=fuse.rating,
        devices=tuple(kinds),
        start=feed.start,
        start_time=wired.start_time,
        before=feed.pump,
        curve=fuse.carries if fuse.kind else None,
    )


def strongest(voltage: float) -> str:
    """The class of fuse that breaks most at a voltage [V]."""
    return max(protection.CLASSES, key=lambda kind: protection.DEVICES[kind].interrupts(voltage))


def fuse_kind(wired: Wired, guard: Guard, rating: float, feed: Feed) -> str:
    """The stated kind, else the weakest class that breaks the bank's short circuit with some to
    spare and surely carries the start; else the weakest that breaks it.

    Where none does: the strongest that is made for the bank's voltage.
    """
    if wired.fuse.kind:
        return wired.fuse.kind
    made = protection.classes_made(rating, feed.full_emf)
    starts = [
        kind for kind in made if protection.carries(kind, guard.start, rating) >= guard.start_time
    ]
    for kinds in (starts, made):
        for spare in (TENTH, 0.0):
            for kind in kinds:
                breaks = protection.DEVICES[kind].interrupts(feed.full_emf)
                if breaks >= feed.short_circuit * (1 + spare):
                    return kind
    return strongest(feed.full_emf)


def kind_does(wired: Wired, side: Side, feed: Feed, spare: float) -> bool:
    """Whether the kind of fuse that is there breaks the short circuit, with a share of it to spare,
    is made in that rating and lets the start pass."""
    rating, sizes = side.rating, protection.DEVICES[side.device].ratings
    breaks = wired.fuse.breaking(side.device, feed.full_emf)
    return (
        rating is not None
        and breaks is not None
        and breaks >= feed.short_circuit * (1 + spare)
        and sizes[0] <= rating <= sizes[-1]
        and side.duty.guard.starts(rating) == "yes"
    )


def kinds_that_do(side: Side, feed: Feed, spare: float) -> list[str]:
    """The classes of fuse that would do in place of the one that is there."""
    guard = side.duty.guard
    return [
        kind
        for kind in protection.CLASSES
        if protection.DEVICES[kind].interrupts(feed.full_emf) >= feed.short_circuit * (1 + spare)
        and _made_in(side, kind)
        and (
            guard.stated is None
            or replace(guard, devices=(kind,), curve=None).starts(guard.stated) == "yes"
        )
    ]


def _made_in(side: Side, kind: str) -> bool:
    """Whether fuses of a class hold one for this cable, the stated one if there is one."""
    ratings = protection.DEVICES[kind].ratings
    guard = replace(side.duty.guard, made=ratings, devices=(kind,), curve=None)
    if guard.stated is not None:
        return guard.stated in ratings
    return guard.span(side.alone) is not None


def battery_side(wired: Wired, feed: Feed) -> Side:
    """Cable and fuse between the bank and the inverter. Raises Unfit as `fuse_guard` does."""
    run, volts = wired.bank_run, wired.bank.voltage
    running, wanted = wanted_of_the_bank(wired, feed)
    duty = Duty(
        "dc",
        run.length,
        running,
        feed.start,
        wanted,
        fuse_guard(wired, wanted, feed),
        volts,
        run.drop * volts,
        run.start_drop * volts,
        run.insulation,
        run.engine_space,
        run.bundled,
        LEAST_AREA,
        MOST_PARALLEL,
        start_volts=feed.start_volts,
        cut_off=feed.cut_off,
        hopeless=not feed.suffices,
    )
    cable, found = chosen(duty, run.size, run.parallel, wired.family)
    side = Side(duty, cable, "", found)
    kind = fuse_kind(wired, duty.guard, side.rating or duty.guard.least, feed)
    return replace(side, device=kind)
