"""A day and a week on the bank, with all that charges it: does it come back to where it began?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from ..physics import energy_balance
from .aboard import DAY, HOUR, Aboard
from .bank import STEP
from .held import Held, all_hold
from .motor import Water
from .on_bank import House, Running, Start, at_least, house, running, start
from .sizes import down, up

# What the bank may lose over the last day of a run and still count as coming back.
DAILY_LOSS = 0.005
# Of the water, and of the house's energy, what may be missed and still count as served.
WATER_MISSED, HOUSE_DARK = 0.02, 0.001
HOURS_STEP, MINUTES_STEP = HOUR / 10, HOUR / 12
_TRIED = (1.0, 1.1, 1.25, 1.5, 2.0)  # of what lacks: a bank that is nearly full takes less

# The days stay as they are while the reader changes what has no part in them.
_simulate = lru_cache(maxsize=4)(energy_balance.simulate)


@dataclass(frozen=True)
class Days:
    """A run of days: what flows on each, how the bank fares, and what must hold.

    `last_day` is the change of charge over the last, `missed` the share of the water that is left
    unmade, `dark` that of the house's energy; `nothing` that nothing charges it at all.
    """

    flows: energy_balance.Flows
    balance: energy_balance.Balance
    start: Start
    running: Running
    last_day: Held
    lowest: Held
    missed: Held
    dark: Held | None
    nothing: bool

    @property
    def able(self) -> bool:
        """Whether the bank comes back and all is served; charging it must be allowed besides."""
        held = (self.last_day, self.lowest, self.missed, self.dark)
        return all_hold((*self.start.held, *self.running.without_end, *held))


def flows(aboard: Aboard, made: House, light: Sequence[float]) -> energy_balance.Flows:
    """A day's flows [W] in steps: panels as given, alternator, charger, house and water."""
    nothing = (0.0,) * round(DAY / STEP)
    habits, volts = aboard.habits, made.at(made.charge)
    belt = shore = nothing
    engine, charger = aboard.alternator, aboard.charger
    if engine and habits.engine > 0 and engine.suits(aboard.bank):
        power = engine.current * volts
        belt = energy_balance.window(power, habits.engine_start, habits.engine, STEP)
    if charger and aboard.charges_by_mains and habits.charger > 0:
        power = charger.current * volts
        shore = energy_balance.window(power, habits.charger_start, habits.charger, STEP)
    return energy_balance.Flows(
        solar=tuple(light) or nothing,
        alternator=belt,
        charger=shore,
        house=aboard.loads.profile,
        water=energy_balance.window(made.dc, habits.run_start, habits.run, STEP),
    )


def given(made: energy_balance.Flows) -> float:
    """Energy that charges the bank a day [J]."""
    charging = (made.solar, made.alternator, made.charger)
    return STEP * math.fsum(math.fsum(flow) for flow in charging)


def days(aboard: Aboard, made: House, begun: Start, run: Running, light: Sequence[float]) -> Days:
    """The bank followed over the days in steps of five minutes, as it starts and runs by itself."""
    flow = flows(aboard, made, light)
    habits = aboard.habits
    found = _simulate(made.bank, flow, habits.days, made.charge, made.reserve, STEP)
    charge = found.charge
    change = round(charge[-1] - charge[-1 - round(DAY / STEP)], 4)
    missed = found.water_missed / (found.water + found.water_missed or 1.0)
    dark = found.unserved / (found.house + found.unserved or 1.0)
    nothing = given(flow) == 0
    return Days(
        flow,
        found,
        begun,
        run,
        Held(change, -DAILY_LOSS, least=True),
        Held(at_least(min(charge), 0.01), made.reserve * 0.99, least=True),
        Held(missed, WATER_MISSED),
        None if nothing else Held(dark, HOUSE_DARK),  # of a bank that only empties: which day?
        nothing,
    )


def lacking(aboard: Aboard, made: House, flow: energy_balance.Flows) -> float:
    """Energy of charging that lacks a day [J]; negative where some is left over."""
    efficiency = made.bank.chemistry.charge_efficiency.value
    asked = STEP * math.fsum(flow.house) + made.dc * aboard.habits.run
    return asked / efficiency - given(flow)


def bound(aboard: Aboard, made: House, found: Days) -> float:
    """Hours of water-making a day [s] that the energy which charges the bank allows at most."""
    efficiency = made.bank.chemistry.charge_efficiency.value
    asked = STEP * math.fsum(found.flows.house)
    return min(DAY, max(0.0, efficiency * given(found.flows) - asked) / made.dc)


def energy_suffices(aboard: Aboard, made: House, found: Days) -> bool:
    """Whether what charges the bank gives the energy for more hours than are wanted."""
    return down(bound(aboard, made, found), HOURS_STEP) > aboard.habits.run


def carried_hours(
    aboard: Aboard, water: Water, made: House, found: Days, able: bool
) -> float | None:
    """Hours of water-making a day [s] that what charges the bank carries, in tenths of an hour,
    tried over the same days; None where there are none to tell. `able` as it is now."""
    most, now = bound(aboard, made, found), aboard.habits.run
    for tried in (down(most, HOURS_STEP), down((most + now) / 2, HOURS_STEP)):
        if tried <= 0 or (able and tried <= now):
            return None
        other = aboard.for_hours(tried)
        then = house(other, water)
        begun, run = start(other, water, then), running(other, water, then)
        if days(other, then, begun, run, found.flows.solar).able:
            return tried
    return None


@dataclass(frozen=True)
class PutBack:
    """What lacks a day [J], and how much in all of each thing aboard brings the bank back: power of
    panels [W], hours of charger and engine a day [s]; None for what can't."""

    short: float
    panels: float | None
    charger: float | None
    engine: float | None

    @property
    def any(self) -> bool:
        """Whether anything aboard can give it."""
        return not (self.panels is self.charger is self.engine is None)


def put_back(aboard: Aboard, made: House, found: Days, step: float, most: float) -> PutBack | None:
    """What would bring the bank back, each by itself: panels in steps [W] and up to so many; None
    where it comes back, or energy is not what lacks."""
    short = lacking(aboard, made, found.flows)
    if found.able or short <= 0 or energy_suffices(aboard, made, found):
        return None
    return PutBack(
        short,
        more_sun(aboard, made, found, step, most),
        more_of_the_charger(aboard, made, found),
        more_of_the_engine(aboard, made, found),
    )


def more_sun(aboard: Aboard, made: House, found: Days, step: float, most: float) -> float | None:
    """Power of panels [W], in all and in whole steps, with which the bank comes back, tried over
    the same days; None where no panels up to `most` do, or none are there to see the sun by."""
    sun, light = aboard.sun, found.flows.solar
    now = STEP * math.fsum(light)
    if sun is None or now <= 0:
        return None
    for share in _TRIED:
        power = up(sun.power * (1 + share * lacking(aboard, made, found.flows) / now), step)
        if power > most:
            return None
        if _with(aboard, made, found, [one * power / sun.power for one in light]).able:
            return power
    return None


def more_of_the_charger(aboard: Aboard, made: House, found: Days) -> float | None:
    """Hours a day [s], in all, that the charger must run for the bank to come back, tried over the
    same days; None where there is none, or the day is too short."""
    charger, habits = aboard.charger, aboard.habits
    if charger is None or not aboard.charges_by_mains:
        return None
    power = charger.current * made.at(made.charge)
    tried = _longer(aboard, made, found, power, habits.charger)
    others = [replace(aboard, habits=replace(habits, charger=time)) for time in tried]
    able = (one for one in others if _with(one, made, found, found.flows.solar).able)
    return next((one.habits.charger for one in able), None)


def more_of_the_engine(aboard: Aboard, made: House, found: Days) -> float | None:
    """Hours a day [s], in all, that the engine must run for its alternator to bring the bank back,
    tried over the same days; None where there is none, or the day is too short."""
    engine, habits = aboard.alternator, aboard.habits
    if engine is None or engine.current <= 0 or not engine.suits(aboard.bank):
        return None
    power = engine.current * made.at(made.charge)
    tried = _longer(aboard, made, found, power, habits.engine)
    others = [replace(aboard, habits=replace(habits, engine=time)) for time in tried]
    able = (one for one in others if _with(one, made, found, found.flows.solar).able)
    return next((one.habits.engine for one in able), None)


def _longer(aboard: Aboard, made: House, found: Days, power: float, now: float) -> list[float]:
    """Hours a day [s] to try of what charges with a power [W], beyond those of now."""
    short = lacking(aboard, made, found.flows) / power
    longer = (up(now + share * short, MINUTES_STEP) for share in _TRIED)
    return [time for time in longer if time <= DAY]


def _with(aboard: Aboard, made: House, found: Days, light: Sequence[float]) -> Days:
    """The same days with more of what charges the bank."""
    return days(aboard, made, found.start, found.running, light)
