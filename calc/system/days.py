"""A day and a week on the bank, with all that charges it: does it come back to where it began?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from ..physics import energy_balance
from .aboard import DAY, HOUR, Aboard
from .bank import STEP
from .held import Held, all_hold
from .motor import Water
from .on_bank import House, Running, Start, at_least, house, running, start
from .sizes import down

# What the bank may lose over the last day of a run and still count as coming back.
DAILY_LOSS = 0.005
# Of the water, and of the house's energy, what may be missed and still count as served.
WATER_MISSED, HOUSE_DARK = 0.02, 0.001
HOURS_STEP = HOUR / 10

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
