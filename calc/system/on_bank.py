"""All that goes through inverter and house bank: alone, and with what charges it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..physics import batteries, chemistries, energy_balance
from ..physics.air import ZERO_CELSIUS
from .aboard import DAY, Aboard
from .bank import STEP, Bears, HouseBank, Inverter, Limit, Placed, mean
from .held import Held, all_hold, least_in_hand
from .motor import Water
from .on_generator import start_torque
from .supply import at_start

MINUTE = 60.0  # s, finer than which no time is known
TENTH = 0.10  # of a limit: with less than that in hand it is tight
SKY_BAND = 0.10  # of a day's sun nobody knows; common practice, no source


def inverter_of(aboard: Aboard) -> Inverter:
    """The inverter, which must be aboard. Raises ValueError where it isn't."""
    if aboard.inverter is None:
        raise ValueError("there is no inverter aboard")
    return aboard.inverter


def bank_misfit(inverter: Inverter, bank: HouseBank) -> str:
    """Why inverter and bank don't belong together: "bank", "cut-off" or nothing."""
    if inverter.dc_voltage is not None and not 0.8 <= inverter.dc_voltage / bank.voltage <= 1.25:
        return "bank"
    if inverter.cut_off is not None and not 0.6 <= inverter.cut_off / bank.voltage <= 1.1:
        return "cut-off"
    return ""


def misfit(aboard: Aboard) -> str:
    """Why inverter, mains and bank don't belong together: "mains", "bank", "cut-off" or nothing."""
    inverter = inverter_of(aboard)
    if not aboard.mains.suits(inverter.mains):
        return "mains"
    return bank_misfit(inverter, aboard.bank)


@dataclass(frozen=True)
class House:
    """The DC side at work: inverter, bank, powers [W] from the bank, state of charge to stop at.

    `dc` is for the water and the inverter's other loads, `own` for the water alone, as its energy
    and cost count it; `base` is what the house takes meanwhile.
    """

    inverter: Placed
    bank: batteries.Bank
    dc: float
    own: float
    base: float
    charge: float
    reserve: float

    @property
    def drawn(self) -> float:
        """All that leaves the bank while water is made [W]."""
        return self.dc + self.base

    @cached_property
    def alone(self) -> batteries.Run:
        """The run on the bank alone."""
        return self.run(self.drawn)

    def run(self, power: float) -> batteries.Run:
        """A run at a power [W]. Source: `batteries.run`."""
        return batteries.run(self.bank, power, self.charge, self.reserve)

    def at(self, charge: float) -> float:
        """Open-circuit voltage [V] at a state of charge."""
        return self.bank.open_circuit_voltage(charge)

    def charge_after(self, run: batteries.Run, hours: float) -> float:
        """State of charge after a day's water-making [s], or after all that the bank gives."""
        share = min(1.0, hours / run.time) if run.time else 0.0
        return self.charge - share * (self.charge - run.end_charge)


def house(aboard: Aboard, water: Water) -> House:
    """The DC side at work."""
    inverter = inverter_of(aboard)
    placed = inverter.placed(aboard.air, aboard.start_time)
    return House(
        placed,
        aboard.bank.bank,
        placed.dc_power(water.real + inverter.load, water.apparent(inverter.load)) + water.boost_dc,
        placed.dc_power(water.real, water.apparent(0.0)) + water.boost_dc,
        aboard.base,
        aboard.bank.charge,
        aboard.bank.reserve,
    )


def surge(aboard: Aboard, water: Water) -> float:
    """What a start asks of the inverter [VA]."""
    volts = aboard.mains.voltage
    amps = water.start_current(volts / water.load.motor.voltage)
    return amps * volts + inverter_of(aboard).load + water.boost_ac


def start_power(aboard: Aboard, water: Water, made: House) -> float:
    """Power [W] from the bank during a start through the inverter."""
    volts = aboard.mains.voltage
    amps = water.start_current(volts / water.load.motor.voltage)
    load, begun = inverter_of(aboard).load, amps * volts
    real = begun * water.rush.power_factor + load + water.boost_ac
    reactive = begun * math.sqrt(1 - water.rush.power_factor**2)
    drawn = made.inverter.dc_power(real, math.hypot(real, reactive))
    return drawn + water.boost_dc + made.base


@dataclass(frozen=True)
class Start:
    """A start through the inverter on the bank as it is when water-making begins.

    `collapse` is what is asked of the bank over the most that it can give, where its voltage
    collapses; else `volts` against the cut-off and `amps`, whose `limit` says what holds them.
    """

    surge: Held
    torque: Held
    torque_known: bool
    collapse: Held | None
    volts: Held | None
    amps: float
    limit: Limit

    @property
    def managed(self) -> Held | None:
        """The bank's amperes against its management's limit, where both are known."""
        if self.limit.current is None or self.volts is None:
            return None
        return Held(self.amps, self.limit.current)

    @property
    def held(self) -> tuple[Held | None, ...]:
        """All that must hold."""
        return (self.surge, self.torque, self.collapse, self.volts, self.managed)


def start(aboard: Aboard, water: Water, made: House) -> Start:
    """The start through the inverter, on the bank as it is charged."""
    bank = made.bank
    power, emf = start_power(aboard, water, made), made.at(made.charge)
    point = batteries.constant_power(emf, bank.resistance, power)
    begun = at_start(aboard.mains, water, cable=aboard.cable)
    return Start(
        Held(surge(aboard, water), made.inverter.surge),
        start_torque(water, begun),
        water.torque_known,
        None if point else Held(power, batteries.greatest_power(emf, bank.resistance)),
        Held(point.voltage, bank.cut_off, least=True) if point else None,
        point.current if point else 0.0,
        aboard.bank.for_a_start(aboard.start_time),
    )


@dataclass(frozen=True)
class LateStart:
    """A start when the bank is down to a charge [ratio]: its volts against the cut-off, or the
    power [W] against the most it gives where its voltage collapses."""

    charge: float
    volts: Held | None
    collapse: Held | None

    @property
    def may_fail(self) -> bool:
        """Whether it may not start then."""
        return self.volts is None or self.volts.value < self.volts.limit


def late_start(aboard: Aboard, water: Water, made: House, charge: float) -> LateStart:
    """A start on the bank when it is down to a charge."""
    power, emf = start_power(aboard, water, made), made.at(charge)
    point = batteries.constant_power(emf, made.bank.resistance, power)
    if point is None:
        most = batteries.greatest_power(emf, made.bank.resistance)
        return LateStart(charge, None, Held(power, most))
    return LateStart(charge, Held(point.voltage, made.bank.cut_off, least=True), None)


@dataclass(frozen=True)
class Running:
    """A run through the inverter with a relief from what charges the bank meanwhile.

    `air` is only held where it is warmer than ratings are for. Of a run that what charges the bank
    carries alone, `carried` tells the amperes asked and given, `surplus` what the bank takes of the
    rest [W]. `time` [s] is None where the run has no end, 0 where it can't begin.
    """

    air: Held | None
    apparent: Held
    collapse: Held | None = None
    current: Held | None = None
    limit: Bears | None = None
    managed: Held | None = None
    end_volts: Held | None = None
    frost: Held | None = None
    hours: Held | None = None
    time: float | None = None
    carried: Held | None = None
    surplus: float = 0.0
    a_tenth_less: float | None = None  # s, of the run with so much less relief, if too short

    @property
    def held(self) -> tuple[Held | None, ...]:
        """All that must hold."""
        return (
            self.air,
            self.apparent,
            self.collapse,
            self.current,
            self.managed,
            self.end_volts,
            self.frost,
            self.hours,
        )

    @property
    def without_end(self) -> tuple[Held | None, ...]:
        """All that must hold where the days decide how long it runs."""
        return (self.air, self.apparent, self.collapse, self.current, self.managed, self.frost)


def running(
    aboard: Aboard, water: Water, made: House, relief: float = 0.0, steady: bool = True
) -> Running:
    """A run with a relief [W] from what charges meanwhile.

    A relief that is not steady (the sun's) lengthens the run but spares the bank no current.
    """
    inverter, hours = inverter_of(aboard), aboard.habits.run
    warm = aboard.air.temperature
    air = None
    if warm > chemistries.RATED_TEMPERATURE:
        air = Held(warm, inverter.hottest, zero=ZERO_CELSIUS)
    apparent = Held(water.apparent(inverter.load), made.inverter.continuous)
    net = made.drawn - relief
    lent = None
    if relief > 0 and steady:
        lent = _lent(made, relief, hours)
    if net <= 0 and steady:
        volts = made.at(made.charge)
        need, amps = made.drawn / volts, relief / volts
        left = (aboard.bank.taken(amps, need) - need) * volts
        return Running(air, apparent, carried=Held(need, amps), surplus=left, a_tenth_less=lent)
    run = made.alone if relief == 0 else made.run(max(net, 1.0))
    worst = run if steady else made.alone
    if worst.ended_by == "cannot deliver" and worst.time == 0:
        most = batteries.greatest_power(made.at(made.charge), made.bank.resistance)
        asked = Held(made.drawn, most)
        return Running(air, apparent, asked, time=0.0, a_tenth_less=lent)
    limit = aboard.bank.for_hours
    managed = aboard.bank.managed
    return Running(
        air,
        apparent,
        None,
        Held(worst.end_current, limit.current),
        limit,
        None if managed is None else Held(worst.end_current, managed),
        Held(worst.end_voltage, made.bank.cut_off, least=True),
        frost(aboard.bank, made),
        _hours(aboard, run) if net > 0 else None,
        None if net <= 0 else run.time,
        a_tenth_less=lent,
    )


def told_hours(time: float) -> float:
    """A run's time [s], no finer than it is known and no longer than it matters."""
    return at_least(min(time, 365 * DAY), MINUTE)


def _hours(aboard: Aboard, run: batteries.Run) -> Held | None:
    """The time that the bank lasts against that which is wanted, where anybody said it."""
    habits = aboard.habits
    return Held(told_hours(run.time), habits.run, least=True) if habits.run_said else None


def _lent(made: House, relief: float, hours: float) -> float | None:
    """Time [s] of the run with a tenth less relief [W], where that is too short.

    Judged alike on both sides of the load, so that more output is never judged worse.
    """
    lacking = made.drawn - (1 - TENTH) * relief
    if lacking <= 0:
        return None
    time = made.run(lacking).time
    return time if time < hours else None


def frost(bank: HouseBank, made: House) -> Held | None:
    """What must stay in a lead-acid bank so that it does not freeze where it stands."""
    least = bank.frost_charge
    if least == 0 or batteries.freezing_point(bank.kind, made.reserve) is None:
        return None
    return Held(made.reserve, least, least=True)


def at_least(value: float, finest: float) -> float:
    """A value, or 0 where it is below the finest that is known."""
    return value if value >= finest else 0.0


@dataclass(frozen=True)
class Alone:
    """Inverter and bank as a way of its own; `misfit` says why they don't belong together."""

    misfit: str
    house: House | None = None
    start: Start | None = None
    running: Running | None = None

    @property
    def held(self) -> tuple[Held | None, ...]:
        """All that must hold."""
        if self.start is None or self.running is None:
            return ()
        return (*self.start.held, *self.running.held)

    @property
    def able(self) -> bool:
        """Whether it starts and runs the pump for its hours, with nothing to be asked first.

        A management of which nobody gave a limit is another question.
        """
        return not self.misfit and all_hold(self.held)

    @property
    def in_hand(self) -> float:
        """What is left of the limit that is nearest; -1 where they don't belong together."""
        return -1.0 if self.misfit else least_in_hand(self.held)


def alone(aboard: Aboard, water: Water) -> Alone:
    """Inverter and bank alone. Raises ValueError for an inverter of no possible idle draw."""
    why = misfit(aboard)
    if why:
        return Alone(why)
    made = house(aboard, water)
    return Alone("", made, start(aboard, water, made), running(aboard, water, made))


@dataclass(frozen=True)
class SunDay:
    """A day's sun: energy given and asked [J], water that it carries after the house [m3] against
    what is wanted less what nobody knows of the sky; `with_less` the same under a tenth less."""

    given: float
    asked: float
    volume: Held
    wanted: float
    with_less: float
    running: Running
    relief: float

    @property
    def able(self) -> bool:
        """Whether the sun carries the water; the start is another question."""
        return all_hold((*self.running.held, self.volume))


def sun_day(aboard: Aboard, water: Water, made: House, light: Sequence[float]) -> SunDay:
    """A day of panels with a profile of powers [W]."""
    habits = aboard.habits
    relief = mean(light, energy_balance.window(1.0, habits.run_start, habits.run))
    given, asked = math.fsum(light) * STEP, math.fsum(aboard.loads.profile) * STEP
    efficiency = made.bank.chemistry.charge_efficiency.value
    wanted = water.product * habits.run

    def carries(sky: float) -> float:
        return max(0.0, efficiency * sky * given - asked) * water.product / made.dc

    volume = carries(1.0)
    # nobody knows the sky to a tenth: a day that a tenth more sun would save does not fail
    limit = wanted - (carries(1 + SKY_BAND) - volume)
    return SunDay(
        given,
        asked,
        Held(volume, max(wanted / 100, limit), least=True),
        wanted,
        carries(1 - SKY_BAND),
        running(aboard, water, made, relief, steady=False),
        relief,
    )


def frost_depth_helps(aboard: Aboard, water: Water, made: House, depth: float) -> bool:
    """Whether a lesser depth of discharge [ratio], against frost, still carries the day."""
    bank = aboard.bank
    if made.reserve >= bank.frost_charge or 1 - depth >= bank.charge or depth <= 0:
        return False
    return alone(aboard.on_bank(replace(bank, stated_depth=depth)), water).able
