"""All that goes through inverter and house bank: alone, and with each of what charges it."""

from __future__ import annotations

from functools import cache

from ...frame.report import Option, Report, most
from ...system import on_bank
from ...system.aboard import Aboard
from ...system.days import PutBack, put_back
from ...system.days import days as followed
from ...system.motor import Water
from ...system.on_bank import House
from .._sources import foreign_bank, foreign_mains
from . import charged, days, figures, sizes, working
from .ways import ABLE, Row, Way, as_it_stands, opened, time_told, untold


def judge(show: Report, aboard: Aboard, water: Water, own: str) -> list[Way]:
    """The bank alone, with each of what charges it, and day after day."""
    way = opened(show, "inverter", "Inverter on the bank alone", own)
    if tell_misfit(way, aboard):
        return [as_it_stands(way)]
    if water.overfluxed:
        return [untold(way)]
    house = on_bank.house(aboard, water)
    begun = on_bank.start(aboard, water, house)
    run = on_bank.running(aboard, water, house)
    figures.start_figures(way, aboard, begun)
    figures.run_figures(way, aboard, house, run)
    if not aboard.habits.run_said and run.time is not None:
        way.reservation(
            "run-unsaid",
            "a charge lasts {t}; say how long a day you want it to run, to have that judged",
            t=(on_bank.told_hours(run.time), "h"),
        )
    figures.late_figure(way, on_bank.late_start(aboard, water, house, house.reserve))
    figures.ask_management(way, aboard, begun, run)

    light = aboard.sun.profile(aboard.air) if aboard.sun else ()
    with_it = charged.judge(show, aboard, water, house, begun, light, own)
    found = followed(aboard, house, begun, run, light)

    @cache
    def back() -> PutBack | None:
        if own not in ABLE or not (found.nothing or aboard.bank.chargeable):
            return None
        return put_back(aboard, house, found, charged.PANEL_STEP, charged.MOST_PANELS)

    week, nothing = days.judge(show, aboard, water, house, found, own, back)
    for other in (*with_it, week):
        if not aboard.habits.run_said:
            other.option.reservation(
                "run-unsaid",
                "{t} a day are taken, as you have not said how long you want it to run",
                t=(aboard.habits.run, "h"),
            )
    once = days.hold_once(way, week.option, nothing)
    barred = own not in ABLE

    def tell(show: Report) -> Row:
        missing = back() if once else None
        if missing is not None:
            days.tell_put_back(way, aboard, missing, once)
        money = _tell(way, aboard, water, house, barred)
        hours = "as long as it charges" if run.time is None else time_told(run.time)
        return Row(way, "none" if run.collapse else hours, house.own / water.product, money)

    def reaches(show: Report) -> None:
        if not barred:
            sizes.tell(show, way, aboard, water, house)

    alone = Way(way, tell, lambda show: working.bank_steps(show, aboard, water, house), reaches)
    return [alone, *with_it, week]


def tell_misfit(way: Option, aboard: Aboard) -> bool:
    """Fails a way whose inverter fits neither the mains on board nor the bank's voltage."""
    inverter = on_bank.inverter_of(aboard)
    if not aboard.mains.suits(inverter.mains):
        foreign_mains(way, "Inverter", inverter.mains, aboard.mains)
    foreign_bank(way, on_bank.bank_misfit(inverter, aboard.bank), inverter, aboard.bank)
    return bool(on_bank.misfit(aboard))


def _tell(way: Option, aboard: Aboard, water: Water, house: House, barred: bool) -> float | None:
    """What the bank alone costs; the money for fresh water [1/m3], if an engine puts it back."""
    if not barred:
        _frost_remedy(way, aboard, water, house)
    way.figure("dc", "Power from the bank, house included", house.drawn, "W")
    way.figure(
        "energy",
        "Energy for fresh water, from the bank, other loads left out",
        house.own / water.product,
        "Wh/L",
    )
    way.figure(
        "efficiency",
        "Inverter's efficiency at this load",
        (water.real + on_bank.inverter_of(aboard).load) / (house.dc - water.boost_dc),
        "%",
    )
    return charged.put_back(way, aboard, water, house)


def _frost_remedy(way: Option, aboard: Aboard, water: Water, house: House) -> None:
    """The deepest discharge that frost leaves, if the bank carries the day with it."""
    depth = most(1 - aboard.bank.frost_charge, "%", 0.01)
    if on_bank.frost_depth_helps(aboard, water, house, depth.value):
        unknown = aboard.bank.management_unknown(aboard.start_time)
        way.remedy(
            "Against frost, discharge the bank by no more than {d}.",
            d=depth,
            sets=None if unknown else {"bank_depth": depth},
        )
