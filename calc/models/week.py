"""A day and a week on the bank, with all that charges it: does it come back to where it began?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from ..frame.inputs import Values
from ..frame.report import (
    Axis,
    Band,
    Chart,
    Figure,
    Line,
    Mark,
    Option,
    Report,
    Series,
    amount,
    least,
    line,
    most,
    say,
)
from ..physics import energy_balance
from .on_bank import (
    DAY,
    HOUR,
    OTHER_ALTERNATOR,
    House,
    alone,
    house_of,
    managed_unknown,
    runs,
    starts_late,
    starts_likewise,
)
from .sources import STEP, alternator_current, alternator_matches, charging_ban, house_profile
from .water import Water
from .ways import LITRE, Row, Trial, able, again, at_least_told, time_told

# What the bank may lose over the last day of a run and still count as coming back.
DAILY_LOSS = 0.005
# Of the water, and of the house's energy, what may be missed and still count as served.
WATER_MISSED, HOUSE_DARK = 0.02, 0.001


# The days stay as they are while the reader changes what has no part in them.
_simulate = lru_cache(maxsize=4)(energy_balance.simulate)


def week(
    q: Values, show: Report, way_alone: Option, water: Water, house: House, light: Sequence[float]
) -> Row:
    """Day after day: the bank followed in steps of five minutes."""
    way = show.option("week", "Day after day, with all that charges the bank")
    flows = flows_of(q, house, light)
    outcome = _judge(q, way, way_alone, water, house, flows)
    if q.has_alternator and not alternator_matches(q):
        way.remedy(
            "The alternator is left out: it charges at {v}, and the bank is {w}.",
            v=(q.alternator.voltage, "V"),
            w=(q.bank_voltage, "V"),
        )
        way.remedy(OTHER_ALTERNATOR)
    if _given(flows) == 0:
        way.fail("nothing charges the bank: it only empties")
    ban = charging_ban(q, house.bank)
    if ban is not None and _given(flows) > 0:
        way.failures.append(ban)
    elif not show.brief:
        _remedies(q, way, water, house, flows)
    if not show.brief:
        _charts(q, show, house, flows, outcome)
    return Row(way, time_told(outcome.water_time / q.days, "{t} a day"), house.own / water.product)


def tell_once(
    q: Values, way_alone: Option, days: Option, house: House, light: Sequence[float]
) -> None:
    """Where the days fail, what one charge carries is done once, and no better than tight."""
    if able(days) or not able(way_alone):
        return
    if _given(flows_of(q, house, light)) == 0:
        way_alone.reservation("one charge carries it once; nothing on board puts it back")
        return
    why = days.reason()
    way_alone.reservations.append(
        Line("one charge carries it once; day after day: " + why.template, why.amounts)
    )


def _judge(
    q: Values,
    way: Option,
    way_alone: Option,
    water: Water,
    house: House,
    flows: energy_balance.Flows,
) -> energy_balance.Balance:
    """Figures of a run of days."""
    outcome = _simulate(house.bank, flows, q.days, q.bank_charge, house.reserve, STEP)
    starts_likewise(q, way, way_alone, house)
    runs(q, way, water, house, 0.0)
    way.figures = [f for f in way.figures if f.key not in ("hours", "end_voltage")]
    way.figures += _figures(q, house, outcome, flows)
    starts_late(q, way, water, house, max(house.reserve, min(outcome.charge)))
    made = outcome.water / house.dc * water.product / q.days
    way.figure("made", "Water made a day", at_least_told(made, LITRE / 10), "L")
    way.figure(
        "curtailed", "Charge there was no room for, a day", outcome.curtailed / q.days, "kWh"
    )
    return outcome


def _figures(
    q: Values, house: House, outcome: energy_balance.Balance, flows: energy_balance.Flows
) -> list[Figure]:
    held = Option("", "")
    charge = outcome.charge
    change = round(charge[-1] - charge[-1 - round(DAY / STEP)], 4)
    says = line("it comes back each day")
    if change < 0:
        says = line(
            "it loses {c} of its charge a day, {m} allowed", c=(-change, "%"), m=(DAILY_LOSS, "%")
        )
    held.figure(
        "last_day",
        "Change of charge over the last day",
        change,
        "%",
        at_least=-DAILY_LOSS,
        says=says,
    )
    lowest = at_least_told(min(charge), 0.01)
    held.figure(
        "lowest",
        "Lowest state of charge",
        lowest,
        "%",
        at_least=house.reserve * 0.99,
        says=line(
            "the bank falls to {c}; {m} is to stay in it",
            c=(lowest, "%") if lowest else "under 1 %",
            m=(house.reserve * 0.99, "%"),
        ),
        note=("" if lowest else "under 1 %; ") + "no water is made below what is to stay in it",
    )
    missed = outcome.water_missed / (outcome.water + outcome.water_missed or 1.0)
    held.figure(
        "missed",
        "Water that had to be left unmade",
        missed,
        "%",
        at_most=WATER_MISSED,
        says=line("{m} of the water is left unmade, because the bank is down", m=(missed, "%")),
    )
    if _given(flows) == 0:
        return held.figures  # of a bank that only empties the rest is a matter of days
    dark = outcome.unserved / (outcome.house + outcome.unserved or 1.0)
    held.figure(
        "dark",
        "House load left dark",
        dark,
        "%",
        at_most=HOUSE_DARK,
        says=line(
            "{m} of the house's energy is not served, because the bank is empty", m=(dark, "%")
        ),
    )
    return held.figures


def flows_of(q: Values, house: House, light: Sequence[float]) -> energy_balance.Flows:
    """A day's flows [W] in steps: panels as given, alternator, charger, house and water."""
    nothing = (0.0,) * round(DAY / STEP)
    volts = house.bank.open_circuit_voltage(q.bank_charge)
    belt = shore = nothing
    if q.has_alternator and q.engine_hours > 0 and alternator_matches(q):
        belt = energy_balance.window(
            alternator_current(q) * volts, q.engine_start, q.engine_hours, STEP
        )
    if q.has_generator and q.charger_hours > 0 and q.charger_current > 0:
        shore = energy_balance.window(
            q.charger_current * volts, q.charger_start, q.charger_hours, STEP
        )
    return energy_balance.Flows(
        solar=tuple(light) or nothing,
        alternator=belt,
        charger=shore,
        house=house_profile(q),
        water=energy_balance.window(house.dc, q.water_start, q.run_hours, STEP),
    )


def _given(flows: energy_balance.Flows) -> float:
    """Energy that charges it a day [J]."""
    return STEP * math.fsum(
        math.fsum(flow) for flow in (flows.solar, flows.alternator, flows.charger)
    )


def _remedies(
    q: Values, way: Option, water: Water, house: House, flows: energy_balance.Flows
) -> None:
    """The most hours a day, tried over the same days; and what lacks."""
    efficiency = house.bank.chemistry.charge_efficiency.value
    given, asked = _given(flows), STEP * math.fsum(flows.house)
    bound = min(DAY, max(0.0, efficiency * given - asked) / house.dc)
    hours = most(bound, "h", HOUR / 10)
    if hours.value > q.run_hours and not able(way):
        return  # energy is not what lacks
    for tried in (hours, most((bound + q.run_hours) / 2, "h", HOUR / 10)):
        if tried.value <= 0 or (able(way) and tried.value <= q.run_hours):
            break
        if _holds(again(q, run_hours=tried.value), water, flows):
            way.remedy(
                "What charges it carries {t} of water-making a day.",
                t=tried,
                sets=None
                if managed_unknown(q, house.bank)
                else {"run_hours": amount(tried.value, "h", 9)},
            )
            break
    short = (asked + house.dc * q.run_hours) / efficiency - given
    if short > 0:
        way.remedy(
            "For {w} a day it lacks {e} of charging a day.",
            w=(q.run_hours, "h"),
            e=least(short, "kWh"),
        )


def _holds(q: Values, water: Water, flows: energy_balance.Flows) -> bool:
    trial, house = Trial("", ""), house_of(q, water)
    _judge(q, trial, alone(q, water), water, house, flows_of(q, house, flows.solar))
    return able(trial)


def _charts(
    q: Values,
    show: Report,
    house: House,
    flows: energy_balance.Flows,
    outcome: energy_balance.Balance,
) -> None:
    long = q.days > 2
    unit, each = ("days", 8) if long else ("h", 2)
    charge = outcome.charge
    points = [(i * STEP, charge[i]) for i in range(0, len(charge), each)]
    bands = [
        Band(
            "water" if day == 0 else "",
            day * DAY + q.water_start,
            min(q.days * DAY, day * DAY + q.water_start + q.run_hours),
        )
        for day in range(q.days)
        if q.water_start < DAY
    ]
    low = min(charge)
    show.chart(
        Chart(
            "charge",
            "State of charge, day after day",
            Axis("Time", unit, 0.0, q.days * DAY),
            Axis("State of charge", "%", 0.0, 1.0),
            [Series("charge", points)],
            limits=[Mark("to stay in it", house.reserve)],
            bands=bands,
            summary=f"Begins at {charge[0] * 100:.0f} %, falls to {low * 100:.0f} % at its lowest "
            f"and ends at {charge[-1] * 100:.0f} % after {q.days} days.",
        )
    )
    named = (
        ("sun", flows.solar),
        ("engine", flows.alternator),
        ("charger", flows.charger),
        ("house", flows.house),
        ("water", flows.water),
    )
    series = [
        Series(name, _curve(flow, name != "sun"), steps=name != "sun", at_peak=True)
        for name, flow in named
        if any(flow)
    ]
    show.chart(
        Chart(
            "flows",
            "What flows on one day, as each could give or asks",
            Axis("Hour of the day", "h", 0.0, DAY),
            Axis("Power", "W", 0.0),
            series,
            bands=[Band("", q.water_start, min(DAY, q.water_start + q.run_hours))]
            if q.water_start < DAY
            else [],
            summary="A day's "
            + ", ".join(say(s.label) for s in series)
            + " by hour, with the hours of water-making shaded.",
        )
    )


def _curve(flow: Sequence[float], steps: bool) -> list[tuple[float, float]]:
    """A day's profile for a chart: a point a quarter of an hour, or the corners of a staircase.

    The hours of nothing before and after are left out.
    """
    picked = [i for i, power in enumerate(flow) if power]
    first, last = max(0, picked[0] - 3), min(len(flow) - 1, picked[-1] + 3)
    if not steps:
        return [(i * STEP, flow[i]) for i in range(first, last + 1, 3)]
    corners = [i for i in range(first, last + 1) if i == first or flow[i] != flow[i - 1]]
    points = [(i * STEP, flow[i]) for i in corners]
    return points if flow[last] == 0 else [*points, (DAY, flow[last])]
