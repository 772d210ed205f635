"""A day and a week on the bank, with all that charges it: judged and told."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial

from ...frame.report import (
    FAILS,
    Amount,
    Axis,
    Band,
    Chart,
    Mark,
    Option,
    Report,
    Series,
    Setting,
    amount,
    least,
    line,
    most,
)
from ...system import days, on_bank
from ...system.aboard import DAY, HOUR, Aboard
from ...system.bank import STEP
from ...system.days import Days, PutBack
from ...system.motor import Water
from ...system.on_bank import House, at_least
from . import figures
from .charged import other_alternator
from .generator import charging_ban
from .ways import ABLE, LITRE, Row, Way, opened, time_told

LONG_MINUTES = 2 * HOUR  # beyond it a time is told in hours


def judge(
    show: Report,
    aboard: Aboard,
    water: Water,
    house: House,
    found: Days,
    own: str,
    back: Callable[[], PutBack | None],
) -> tuple[Way, bool]:
    """Day after day: the bank followed in steps of five minutes; and whether nothing charges it.
    `back` finds what would bring it back, once it is told."""
    way = opened(show, "week", "Day after day, with all that charges the bank", own)
    figures.start_likewise(way, aboard, found.start)
    figures.ask_management(way, aboard, found.start)
    figures.run_figures(way, aboard, house, found.running, to_its_end=False)
    _figures(way, found)
    lowest = max(house.reserve, min(found.balance.charge))
    figures.late_figure(way, on_bank.late_start(aboard, water, house, lowest))
    if found.nothing:
        way.fail("no-charge", "nothing charges the bank: it only empties")
    elif not aboard.bank.chargeable:
        charging_ban(way, aboard)

    pictures: Iterator[Callable[[Report, Aboard, Days], None]] = iter(
        [partial(_charge_chart, house=house), _flow_chart]
    )

    def tell(show: Report) -> Row:
        made = found.balance.water / house.dc * water.product / aboard.habits.days
        way.figure("made", "Water made a day", at_least(made, LITRE / 10), "L")
        way.figure(
            "curtailed",
            "Charge that the bank had no room for, a day",
            found.balance.curtailed / aboard.habits.days,
            "kWh",
        )
        engine = aboard.alternator
        if engine is not None and not engine.suits(aboard.bank):
            way.remedy(
                "The alternator is left out: it charges at {v}, and the bank is {w}.",
                v=(engine.voltage or 0.0, "V"),
                w=(aboard.bank.voltage, "V"),
            )
            other_alternator(way)
        for draw in pictures:
            draw(show, aboard, found)
            if show.charts:  # that of what doesn't change is none
                break
        hours = time_told(found.balance.water_time / aboard.habits.days, a_day=True)
        return Row(way, hours, house.own / water.product)

    def reaches(_: Report) -> None:
        if own in ABLE and (found.nothing or aboard.bank.chargeable):
            _remedies(way, aboard, water, house, found, back())

    def work(show: Report) -> None:
        for draw in pictures:
            draw(show, aboard, found)

    return Way(way, tell, work, reaches), found.nothing


def hold_once(alone: Option, week: Option, nothing: bool) -> str:
    """Where the days fail, what one charge carries is done once, and no better than tight; with
    `nothing` to charge the bank it stays empty. The key of that reservation, where energy mends
    it, else ""."""
    if week.verdict in ABLE or alone.verdict not in ABLE:
        return ""
    if nothing:
        alone.reservation(
            "once-no-charge", "one charge carries it once; nothing on board puts it back"
        )
        return "once-no-charge"
    if week.verdict == FAILS:
        alone.reservation(
            "once-days-fail",
            "one charge carries it once; day after day the bank does not come back",
        )
        return "once-days-fail"
    alone.reservation(
        "once-days-unknown", "one charge carries it once; day after day nobody can tell yet"
    )
    return ""


def _figures(way: Option, found: Days) -> None:
    """What must hold over the days."""
    change = found.last_day.value
    says = line("it comes back each day")
    if change < 0:
        says = line(
            "it loses {c} of its charge a day, {m} allowed",
            c=(-change, "%"),
            m=(days.DAILY_LOSS, "%"),
        )
    way.held("last_day", "Change of charge over the last day", found.last_day, "%", says=says)
    lowest = found.lowest
    says = line(
        "the bank falls to {c}; {m} is to stay in it", c=(lowest.value, "%"), m=(lowest.limit, "%")
    )
    note = "no water is made below what is to stay in it"
    if not lowest.value:
        says = line("the bank falls to under 1 %; {m} is to stay in it", m=(lowest.limit, "%"))
        note = "under 1 %; no water is made below what is to stay in it"
    way.held("lowest", "Lowest state of charge", lowest, "%", says=says, note=note)
    missed = found.missed
    way.held(
        "missed",
        "Water that had to be left unmade",
        missed,
        "%",
        says=line(
            "{m} of the water is left unmade, because the bank is too low", m=(missed.value, "%")
        ),
    )
    if found.dark is not None:
        way.held(
            "dark",
            "House energy not served",
            found.dark,
            "%",
            says=line(
                "the house goes without {m} of its energy, because the bank is empty",
                m=(found.dark.value, "%"),
            ),
        )


def _remedies(
    way: Option, aboard: Aboard, water: Water, house: House, found: Days, back: PutBack | None
) -> None:
    """The most hours a day, tried over the same days; and what lacks."""
    able = way.verdict in ABLE
    if not able and days.energy_suffices(aboard, house, found):
        return  # energy is not what lacks
    hours = days.carried_hours(aboard, water, house, found, able)
    short = days.lacking(aboard, house, found.flows)
    unknown = aboard.bank.management_unknown(aboard.start_time)
    if back is not None:
        tell_put_back(way, aboard, back)
    if hours is not None:
        way.remedy(
            "The charging on board carries {t} of water-making a day.",
            t=most(hours, "h", HOUR / 10),
            sets=None if unknown else {"run_hours": amount(hours, "h", 9)},
            as_reach=able,
        )
    if short > 0 and not (back and back.any):
        way.remedy(
            "For {w} of water-making a day, {e} of charging a day is missing.",
            w=(aboard.habits.run, "h"),
            e=least(short, "kWh"),
        )


def tell_put_back(way: Option, aboard: Aboard, back: PutBack, mends: str = "") -> None:
    """What is missing as more of what is aboard to charge with: panels, charger, engine."""
    habits, sun = aboard.habits, aboard.sun
    unknown = aboard.bank.management_unknown(aboard.start_time)
    missing = least(back.short / aboard.bank.voltage, "Ah")

    def setting(name: str, value: float, unit: str) -> dict[str, Setting] | None:
        return None if unknown else {name: amount(value, unit, 9)}

    if back.panels is not None and sun is not None:
        way.remedy(
            "Put back {q} more a day: {p} more of panels, {all} in all.",
            q=missing,
            p=least(back.panels - sun.power, "W"),
            all=(back.panels, "W"),
            sets=setting("array_power", back.panels, "W"),
            mends=mends,
        )
    if back.charger is not None:
        way.remedy(
            "Put back {q} more a day: {t} more of the charger.",
            q=missing,
            t=_minutes(back.charger - habits.charger),
            sets=setting("charger_hours", back.charger, "h"),
            mends=mends,
        )
    if back.engine is not None:
        way.remedy(
            "Put back {q} more a day: {t} more of the engine with its alternator.",
            q=missing,
            t=_minutes(back.engine - habits.engine),
            sets=setting("engine_hours", back.engine, "h"),
            mends=mends,
        )


def _minutes(time: float) -> Amount:
    """A time a day [s] as one says it."""
    return least(time, "min" if time < LONG_MINUTES else "h")


def _charge_chart(show: Report, aboard: Aboard, found: Days, house: House) -> None:
    habits, charge = aboard.habits, found.balance.charge
    long = habits.days > 2
    unit, each = ("days", 8) if long else ("h", 2)
    bands = [
        Band(
            "water" if day == 0 else "",
            day * DAY + habits.run_start,
            min(habits.days * DAY, day * DAY + habits.run_start + habits.run),
        )
        for day in range(habits.days)
        if habits.run_start < DAY
    ]
    show.chart(
        Chart(
            "charge",
            "State of charge, day after day",
            Axis("Time", unit, 0.0, habits.days * DAY),
            Axis("State of charge", "%", 0.0, 1.0),
            [Series("charge", [(i * STEP, charge[i]) for i in range(0, len(charge), each)])],
            limits=[Mark("to stay in it", house.reserve)],
            bands=bands,
            summary=line(
                "Begins at {a}, falls to {b} at its lowest and ends at {c} after {n} days.",
                a=figures.per_cent(charge[0]),
                b=figures.per_cent(min(charge)),
                c=figures.per_cent(charge[-1]),
                n=habits.days,
            ),
        )
    )


_FLOWS = ("sun", "engine", "charger", "house", "water")


def _flow_chart(show: Report, aboard: Aboard, found: Days) -> None:
    flows, habits = found.flows, aboard.habits
    found_flows = (flows.solar, flows.alternator, flows.charger, flows.house, flows.water)
    series = [
        Series(name, _curve(flow, name != "sun"), steps=name != "sun", at_peak=True)
        for name, flow in zip(_FLOWS, found_flows, strict=True)
        if any(flow)
    ]
    show.chart(
        Chart(
            "flows",
            "What flows on one day, as each could give or asks",
            Axis("Hour of the day", "h", 0.0, DAY),
            Axis("Power", "W", 0.0),
            series,
            bands=[Band("", habits.run_start, min(DAY, habits.run_start + habits.run))]
            if habits.run_start < DAY
            else [],
            summary="A day's flows by hour, as named beside each curve, with the hours of "
            "water-making shaded.",
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
