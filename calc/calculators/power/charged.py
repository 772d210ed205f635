"""Inverter and bank with what charges them meanwhile: alternator, charger, sun."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from ...frame.report import (
    FAILS,
    TIGHT,
    TIGHT_MARGIN,
    Figure,
    Line,
    Option,
    Report,
    amount,
    least,
    line,
    most,
)
from ...physics import batteries
from ...system import on_bank, on_generator, sizes
from ...system.aboard import DAY, Aboard
from ...system.bank import Alternator, Charger
from ...system.motor import Water
from ...system.on_bank import House, Start, SunDay
from ...system.supply import Generator
from . import figures, working
from .generator import charging_ban
from .sizes import tell_roomier_inverter
from .ways import ABLE, EXACT, Row, Way, as_it_stands, opened, time_told

PANEL_STEP = 10.0  # W, in which the trade sells. Common practice, no source.
MOST_PANELS = 5e3  # W, that a small boat has room for; common practice, no source
OF_THE_INVERTER = ("start", "apparent")
"""Figures that hang on the inverter's ratings, the first on the bank as well."""
NO_CHARGING = "none: the bank must not be charged"


def judge(
    show: Report,
    aboard: Aboard,
    water: Water,
    house: House,
    begun: Start,
    light: Sequence[float],
    own: str,
) -> list[Way]:
    """A way for each of what charges the bank."""
    ways: list[Way] = []
    barred = own not in ABLE

    def likewise(key: str, name: str) -> Option:
        way = opened(show, key, name, own)
        figures.start_likewise(way, aboard, begun)
        figures.ask_management(way, aboard, begun)
        return way

    if aboard.alternator is not None:
        way = likewise("alternator", "Engine's alternator, bank and inverter")
        ways.append(_alternator(way, aboard, water, house, aboard.alternator, barred))
    if aboard.generator is not None and aboard.charger is not None:
        way = likewise("charger", "Generator through its charger, bank and inverter")
        ways.append(_charger(way, aboard, water, house, aboard.generator, aboard.charger, barred))
    if light:
        way = likewise("sun", "Sun, bank and inverter, without an engine")
        ways.append(_sun(way, aboard, water, house, begun, light, barred))
    return ways


OnAnother = Callable[[Aboard, House], sizes.Asked]
"""What a way asks of a boat with another inverter."""


def _larger(way: Option, aboard: Aboard, water: Water, house: House, asked: OnAnother) -> None:
    """The inverter that would do, of a way that hangs on hers, tried on it first."""
    if way.decided_by not in OF_THE_INVERTER or not isinstance(way.decider, Figure):
        return
    if way.verdict == TIGHT and way.reservations:
        return
    found = sizes.roomier_inverter(aboard, water, house, TIGHT_MARGIN)
    spare = 0.0 if way.verdict == FAILS else TIGHT_MARGIN
    if found is not None and sizes.does(found, water, asked, spare):
        tell_roomier_inverter(way, found)


def other_alternator(way: Option) -> None:
    """What a reader does whose alternator is none of the records."""
    way.remedy(
        "If yours is another one, choose none for “Alternator” and fill in "
        "“Alternator's output, hot, at that speed”."
    )


def _late_after(way: Option, aboard: Aboard, water: Water, house: House, relief: float) -> None:
    """A start at the charge that a run with a relief [W] comes to; none where it never falls."""
    net = house.drawn - relief
    if net <= 0:
        return
    run = house.run(max(net, 1.0))
    charge = house.charge_after(run, aboard.habits.run)
    figures.late_figure(way, on_bank.late_start(aboard, water, house, charge))


def _alternator(
    way: Option, aboard: Aboard, water: Water, house: House, made: Alternator, barred: bool
) -> Way:
    """The engine runs meanwhile; the bank lends or gets the difference."""
    if not made.suits(aboard.bank):
        way.fail(
            "foreign-bank",
            "“Alternator” charges at {v}, and “Bank, nominal” is {w}: they do not belong together",
            v=(made.voltage or 0.0, "V"),
            w=(aboard.bank.voltage, "V"),
        )
        other_alternator(way)
        return as_it_stands(way, "none: not the bank's voltage")
    if not aboard.bank.chargeable:
        charging_ban(way, aboard)
        return as_it_stands(way, NO_CHARGING)
    volts, amps = house.at(house.charge), made.current
    run = on_bank.running(aboard, water, house, amps * volts)
    figures.run_figures(way, aboard, house, run)
    _late_after(way, aboard, water, house, amps * volts)

    def tell(_: Report) -> Row:
        way.figure("output", "Alternator's output, hot", amps, "A")
        money = None
        if amps > 0:  # what the bank lends meanwhile the engine puts back afterwards
            lent = max(0.0, (house.own + house.base) / volts / amps - 1)
            longer = 1 + lent / house.bank.chemistry.charge_efficiency.value
            money = made.fuel * longer * aboard.fuel_price / water.product
            way.figure("money", "Fuel cost of fresh water, engine run for this alone", money, "¤/L")
        if not barred:
            way.remedy(
                "With {i} from the alternator the bank would neither gain nor lose charge.",
                i=least(house.drawn / volts, "A"),
            )
            way.remedy(
                "Hours at full output overheat many alternators: yours needs cool air, and a "
                "regulator that senses its temperature."
            )
        return Row(way, _hours(run), house.own / water.product, money)

    def asked(other: Aboard, on: House) -> sizes.Asked:
        then = on_bank.running(other, water, on, amps * on.at(on.charge))
        return sizes.Asked(then.held, then.a_tenth_less is None)

    def reaches(_: Report) -> None:
        if not barred:
            _larger(way, aboard, water, house, asked)

    return Way(way, tell, reaches=reaches)


def _hours(run: on_bank.Running) -> Line | str:
    """How long a run lasts, for the table."""
    if run.collapse is not None:
        return "none"
    return "as long as it charges" if run.time is None else time_told(run.time)


def _charger(
    way: Option,
    aboard: Aboard,
    water: Water,
    house: House,
    made: Generator,
    charger: Charger,
    barred: bool,
) -> Way:
    """The generator sees only the charger; the start and its peak come out of the bank."""
    if not aboard.bank.chargeable:
        charging_ban(way, aboard)
        return as_it_stands(way, NO_CHARGING)
    volts = house.at(house.charge)
    full, apparent = on_generator.charging(aboard, charger, charger.current)
    way.held(
        "load",
        "Generator's load, charger at full output",
        full,
        "W",
        says=line(
            "charger and other loads take {p} from the generator; it gives {m}",
            p=(full.value, "W"),
            m=(full.limit, "W"),
        ),
    )
    way.held(
        "load_apparent",
        "Generator's apparent power, charger at full output",
        apparent,
        "VA",
        says=line(
            "charger and other loads take {p} from the generator; it is built for {m}",
            p=(apparent.value, "VA"),
            m=(apparent.limit, "VA"),
        ),
    )
    run = on_bank.running(aboard, water, house, charger.current * volts)
    figures.run_figures(way, aboard, house, run)
    _late_after(way, aboard, water, house, charger.current * volts)

    def tell(_: Report) -> Row:
        amps = aboard.bank.taken(charger.current, house.drawn / volts)
        way.figure("charger", "The charger gives, at the bank's present charge", amps, "A")
        # the water's fuel is told as if it ran without others
        given = aboard.bank.taken(charger.current, (house.own + house.base) / volts)
        taken = charger.drawn(aboard.bank, given).real
        flow = made.fuel.flow(taken)
        money = house.own / (given * volts) * flow / water.product * aboard.fuel_price
        way.figure("money", "Fuel cost of fresh water", money, "¤/L")
        energy = house.own * taken / (given * volts) / water.product
        return Row(way, _hours(run), energy, money)

    def asked(other: Aboard, on: House) -> sizes.Asked:
        then = on_bank.running(other, water, on, charger.current * on.at(on.charge))
        return sizes.Asked((full, apparent, *then.held), then.a_tenth_less is None)

    def reaches(_: Report) -> None:
        if barred:
            return
        _larger(way, aboard, water, house, asked)
        amps = on_generator.greatest_charged(aboard, charger)
        if amps is None or way.decided_by not in ("load", "load_apparent"):
            return
        if way.verdict == FAILS:
            way.remedy(
                "A charger of {i}, or one turned down to that, is what the generator carries.",
                i=most(amps, "A"),
                sets={"charger_current": amount(amps, "A", EXACT)},
                mends=way.decided_by,
            )

    return Way(way, tell, reaches=reaches)


def _sun(
    way: Option,
    aboard: Aboard,
    water: Water,
    house: House,
    begun: Start,
    light: Sequence[float],
    barred: bool,
) -> Way:
    """No engine: panels with a profile of powers [W] over the day."""
    if not aboard.bank.chargeable:
        charging_ban(way, aboard)
        return as_it_stands(way, NO_CHARGING, free=True)
    day = on_bank.sun_day(aboard, water, house, light)
    figures.run_figures(way, aboard, house, day.running)
    _late_after(way, aboard, water, house, day.relief)
    _sun_figures(way, day)

    def tell(_: Report) -> Row:
        if aboard.sun is not None:
            way.figure("sky", "Sun on a flat panel that day", aboard.sun.sky, "kWh/m2")
        hours = time_told(min(DAY, day.volume.value / water.product), a_day=True)
        return Row(way, hours, house.own / water.product, free=True)

    def asked(other: Aboard, on: House) -> sizes.Asked:
        then = on_bank.sun_day(other, water, on, light)
        return sizes.Asked((*then.running.held, then.volume), then.with_less >= then.wanted)

    def reaches(_: Report) -> None:
        if barred:
            return
        _larger(way, aboard, water, house, asked)
        if day.given > 0:
            _panels(way, aboard, water, house, begun, light, day)

    return Way(way, tell, lambda show: working.sun_step(show, aboard, water, house, day), reaches)


def _sun_figures(way: Option, day: SunDay) -> None:
    """A day's sun: what it gives, what the house takes, what is left for water."""
    way.figure("sun_energy", "The panels give a day", day.given, "kWh")
    way.figure("house_energy", "The house takes a day", day.asked, "kWh")
    way.held(
        "sun_litres",
        "Water a day on what is left",
        day.volume,
        "L",
        note=line("{w} are wanted; the sky is known to a tenth", w=(day.wanted, "L")),
        says=line(
            "after the house the sun carries {v} a day; {w} are wanted",
            v=(day.volume.value, "L"),
            w=(day.wanted, "L"),
        ),
    )
    if day.with_less < day.wanted:
        way.reservation(
            "less-sun",
            "with a tenth less sun the sun carries {v} a day; {w} are wanted",
            v=(day.with_less, "L"),
            w=(day.wanted, "L"),
        )


def _panels(
    way: Option,
    aboard: Aboard,
    water: Water,
    house: House,
    begun: Start,
    light: Sequence[float],
    day: SunDay,
) -> None:
    """The panels that would carry house and water, if the start is not what fails."""
    if aboard.sun is None:
        return
    efficiency = house.bank.chemistry.charge_efficiency.value
    needed = (day.asked + house.dc * aboard.habits.run) / efficiency / day.given
    panels = least(needed * aboard.sun.power, "W", PANEL_STEP)
    if panels.value > MOST_PANELS or not all(one.holds for one in begun.held if one):
        return
    more = [power * panels.value / aboard.sun.power for power in light]
    other = replace(aboard, sun=replace(aboard.sun, power=panels.value))
    if on_bank.sun_day(other, water, house, more).able:
        unknown = aboard.bank.management_unknown(aboard.start_time)
        way.remedy(
            "Panels of {p} would carry the house and {w} a day under this sky.",
            p=panels,
            w=(water.product * aboard.habits.run, "L"),
            sets=None if unknown else {"array_power": amount(panels.value, "W", 9)},
            as_reach=way.verdict in ABLE,
        )


def put_back(way: Option, aboard: Aboard, water: Water, house: House) -> float | None:
    """Fuel's cost for fresh water [1/m3] out of the bank, when an engine has to put it back."""
    if not aboard.bank.chargeable:
        return None
    made, charger, engine = aboard.generator, aboard.charger, aboard.alternator
    if made is not None and charger is not None:
        amps, label = (
            charger.current,
            "Fuel cost of fresh water, put back by the generator's charger",
        )
    elif engine is not None and engine.suits(aboard.bank) and engine.current > 0:
        amps, label = (
            engine.current,
            "Fuel cost of fresh water, put back by the engine's alternator",
        )
    else:
        return None
    volts = house.at(house.charge)
    run = house.run(house.own + house.base)
    low = max(0.0, min(house.charge_after(run, aboard.habits.run), house.charge - 0.001))
    time = batteries.charging_time(house.bank, low, house.charge, amps)
    efficiency = house.bank.chemistry.charge_efficiency.value
    # the mean power while it charges
    direct = (house.charge - low) * house.bank.capacity * volts / time / efficiency
    if made is not None and charger is not None:
        flow = made.fuel.flow(charger.drawn(aboard.bank, direct / volts).real)
    else:
        flow = engine.fuel if engine else 0.0
    money = flow / direct / efficiency * house.own / water.product * aboard.fuel_price
    way.figure("money", label, money, "¤/L", note="as fast as the bank takes it")
    return money
