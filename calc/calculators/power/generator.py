"""The pump straight on the generator, alone and while its charger fills the bank."""

from __future__ import annotations

from dataclasses import replace

from ...frame.report import (
    FAILS,
    TIGHT_MARGIN,
    Line,
    Option,
    Report,
    Setting,
    amount,
    least,
    line,
    most,
)
from ...physics import generators
from ...system import on_generator
from ...system.aboard import Aboard
from ...system.bank import Charger, Drawn
from ...system.held import Held
from ...system.motor import Water
from ...system.on_generator import LOAD_STEP, MOST_LOAD, POWER_STEP, Carried
from ...system.supply import Generator
from .._sources import ask_the_kind, foreign_mains
from . import working
from .ways import ABLE, EXACT, Row, Way, as_it_stands, narrow, opened, untold


def judge(show: Report, aboard: Aboard, water: Water, own: str) -> list[Way]:
    """The ways that the generator itself carries the pump."""
    made = on_generator.set_of(aboard)
    way = opened(show, "generator", "Generator", own)
    if water.overfluxed:
        return [untold(way)]
    if not aboard.mains.suits(made.mains):
        foreign_mains(way, "Generator", made.mains, aboard.mains)
        return [as_it_stands(way)]
    found = on_generator.carried(aboard, water, Drawn(aboard.other_load))
    figures(way, aboard, made, found)
    barred = own not in ABLE
    ways = [
        Way(
            way,
            lambda _: _tell(way, aboard, water, made),
            lambda show: working.generator_steps(show, aboard, water, made, found),
            lambda _: None if barred else _remedies(way, aboard, water, made),
        )
    ]
    if aboard.charger is not None:
        both = opened(show, "with_charger", "Generator, its charger on at the same time", own)
        ways.append(_beside_its_charger(both, aboard, water, made, aboard.charger, barred))
    return ways


def torque_says(held: Held) -> Line:
    """What torque the motor starts with."""
    return line("the motor starts with {t} of the torque that it needs", t=(held.value, "%"))


def torque_figure(way: Option, held: Held, known: bool) -> None:
    """The motor's torque at its start over what the pump asks."""
    sure = held.value >= 1 or known
    way.held(
        "start_torque",
        "Starting torque, of what the pump needs",
        held,
        "%",
        decides=sure,
        says=torque_says(held),
        note="" if known else "as of the weakest kind of motor",
    )
    if not sure:
        ask_the_kind(way)


def figures(way: Option, aboard: Aboard, made: Generator, found: Carried) -> None:
    """The start and the load of a set with other loads on it."""
    time = (aboard.start_time, "s")
    note = "the start outlasts its short-time rating" if found.peak_over else ""
    if found.dip is not None:
        way.held(
            "start_dip",
            "Voltage dip at the start",
            found.dip,
            "%",
            says=line(
                "the start pulls the generator's voltage down by {d}; {m} is allowed",
                d=(found.dip.value, "%"),
                m=(found.dip.limit, "%"),
            ),
        )
    power = found.start_power
    way.held(
        "start_power",
        "Power at the start, other loads on",
        power,
        "W",
        note=note,
        says=line(
            "the start takes {p} for {t}; the generator gives {m}",
            p=(power.value, "W"),
            t=time,
            m=(power.limit, "W"),
        ),
    )
    asked = found.start_apparent
    if found.doubtful:
        way.unknown(
            "start-unsaid",
            "nobody has said what the generator gives for a start: ask its maker whether it bears "
            "{p} for {t}",
            p=(asked.value, "VA"),
            t=time,
        )
    words = "the start takes {p} for {t}; the generator gives {m} all day, and no more is stated"
    if made.electronic:
        words = "the start takes {p} for {t}; the generator's electronics give way above {m}"
    elif made.peak is not None:
        words = "the start takes {p} for {t}; the generator's short-time rating is {m}"
    way.held(
        "start_apparent",
        "Volt-amperes at the start, other loads on",
        asked,
        "VA",
        note=note,
        decides=not found.doubtful,
        says=line(words, p=(asked.value, "VA"), t=time, m=(asked.limit, "VA")),
    )
    torque_figure(way, found.torque, found.torque_known)
    way.held(
        "load",
        "Load with the other loads",
        found.load,
        "W",
        says=line(
            "the generator has {p} to carry and gives {m} here",
            p=(found.load.value, "W"),
            m=(found.load.limit, "W"),
        ),
    )
    way.held(
        "apparent",
        "Apparent power",
        found.apparent,
        "VA",
        says=line(
            "the generator has {p} to carry and is built for {m}",
            p=(found.apparent.value, "VA"),
            m=(found.apparent.limit, "VA"),
        ),
    )


def _tell(way: Option, aboard: Aboard, water: Water, made: Generator) -> Row:
    """Alone it bears all its fuel."""
    way.figure(
        "share",
        "Load, of what it can give",
        on_generator.share(aboard, water),
        "%",
        note=line("under {s} for hours a diesel soots and glazes", s=(generators.LIGHT_LOAD, "%"))
        if made.fuel.kind == "diesel"
        else "",
    )
    way.figure(
        "fuel", "Fuel, other loads included", made.fuel.flow(water.real + aboard.other_load), "L/h"
    )
    money = _fuel_of_water(way, aboard, water, made.fuel.flow(water.real))
    return Row(way, "while there is fuel", water.energy, money)


def _fuel_of_water(way: Option, aboard: Aboard, water: Water, flow: float) -> float:
    """Figures of the water's own fuel flow [m3/s]; its cost for fresh water [1/m3]."""
    way.figure(
        "fuel_day", "Fuel for a day's water, other loads left out", flow * aboard.habits.run, "L"
    )
    money = generators.fuel_per_volume(flow, water.product) * aboard.fuel_price
    way.figure("money", "Fuel cost of fresh water, other loads left out", money, "¤/L")
    return money


def _remedies(way: Option, aboard: Aboard, water: Water, made: Generator) -> None:
    """The largest other load, and the smallest generator of its kind."""
    if narrow(way):
        _roomier(way, aboard, water, made)
    spare = on_generator.greatest_other_load(aboard, water)
    if spare is not None:
        way.remedy(
            "Other loads of up to {p} may run while you make water.",
            p=most(spare, "W"),
            as_reach=way.verdict in ABLE,
            sets={"other_load": most(spare, "W", LOAD_STEP)} if spare <= MOST_LOAD else None,
        )
    if way.verdict != FAILS and on_generator.too_light(aboard, water):
        way.remedy(
            "This load is too light for a diesel: let it carry the battery charger or the water "
            "heater as well while you make water.",
            as_reach=True,
        )
    found = on_generator.smallest_generator(aboard, water)
    if found is None:
        no_start(way, aboard, water, made.inner_reactance(aboard.mains.voltage))
        return
    _smallest(way, aboard, made, found)


def _smallest(way: Option, aboard: Aboard, made: Generator, found: tuple[float, float]) -> None:
    """The smallest set that would do, by its power and that for a start [W]."""
    power, for_start = found
    way.remedy(
        "The smallest generator that would do: {p} continuous at a power factor of "
        "{f}, built for {a}; {s} for the start, which lasts {t}.",
        p=least(power, "W"),
        f=(made.power_factor, "%"),
        a=least(power / made.power_factor, "VA"),
        s=least(for_start, "W"),
        t=(aboard.start_time, "s"),
        sets={"generator_power": least(power, "W", POWER_STEP)} if made.peak_follows else None,
        as_reach=way.verdict in ABLE,
    )


def _roomier(
    way: Option, aboard: Aboard, water: Water, made: Generator, others: Drawn | None = None
) -> None:
    """The set that would leave in hand what is wanted, where hers carries it but tightly."""
    found = on_generator.smallest_generator(aboard, water, TIGHT_MARGIN, others)
    if found is None:
        return
    power, for_start = found
    sets: dict[str, Setting] = {"generator_power": amount(power, "W", EXACT)}
    if not made.peak_follows:
        sets["generator_peak"] = amount(for_start, "W", EXACT)
    way.remedy(
        "A generator of {p} continuous and {s} for the start would leave {m} in hand at each "
        "limit.",
        p=least(power, "W"),
        s=least(for_start, "W"),
        m=(TIGHT_MARGIN, "%"),
        sets=sets,
        mends=way.decided_by,
    )


def no_start(way: Option, aboard: Aboard, water: Water, reactance: float | None = None) -> None:
    """What helps where the motor lacks the torque to turn the pump, whatever feeds it.

    `reactance` [ohm] is the generator's; None where an inverter feeds it.
    """
    by = "inverter" if reactance is None else "generator"
    machine, behind = aboard.machine, reactance or 0.0
    start = machine.start
    if not water.torque_known:
        way.remedy(
            "Find out the kind of motor: the weakest kind does not start the pump on any {source}.",
            source=by,
        )
    elif start.loaded and on_generator.turns_with(aboard, replace(start, loaded=False), behind):
        way.remedy(
            "No {source} starts it against pressure: open the regulating valve before you switch "
            "on.",
            source=by,
            sets={"start_loaded": False},
            mends="start_torque",
        )
    elif start.soft and on_generator.turns_with(aboard, replace(start, how="direct"), behind):
        way.remedy(
            "The soft starter holds too much back: straight on the line the motor turns the pump, "
            "at a higher starting current.",
            sets={"start": "direct"},
            mends="start_torque",
        )
    else:
        way.remedy(
            "No {source} starts it: choose a motor that gives more torque at its start.", source=by
        )


def _beside_its_charger(
    way: Option, aboard: Aboard, water: Water, made: Generator, charger: Charger, barred: bool
) -> Way:
    """Beside its charger the pump bears its share of the fuel by power.

    The set is judged for all that the charger can give, which a low bank takes; the fuel is what
    the bank takes as full as it is.
    """
    bank = aboard.bank
    if not bank.chargeable:
        charging_ban(way, aboard)
        return as_it_stands(way, "none: the bank must not be charged")
    full = on_generator.beside(aboard, charger, charger.current)
    found = on_generator.carried(aboard, water, full)
    figures(way, aboard, made, found)

    def reaches(_: Report) -> None:
        if not barred and (way.verdict == FAILS or narrow(way)):
            _room_for_both(way, aboard, water, made, charger)

    return Way(way, lambda _: _tell_beside(way, aboard, water, made, charger), reaches=reaches)


def _room_for_both(
    way: Option, aboard: Aboard, water: Water, made: Generator, charger: Charger
) -> None:
    """The pump first, less of the charger, or the set that bears both, where hers doesn't or only
    just does."""
    fails = way.verdict == FAILS
    if fails and on_generator.starts_before(aboard, water, charger):
        way.remedy(
            "Start the pump first, and switch the charger on once it runs: at the start the "
            "generator then has all of its power for it."
        )
    spare = 0.0 if fails else TIGHT_MARGIN
    amps = on_generator.greatest_charging(aboard, water, charger, spare)
    if amps is not None:
        way.remedy(
            "A charger of {i}, or one turned down to that, leaves the pump its start."
            if fails
            else "A charger of {i}, or one turned down to that, would leave {m} in hand at each "
            "limit.",
            i=most(amps, "A"),
            m=(TIGHT_MARGIN, "%"),
            sets={"charger_current": most(amps, "A", 1.0) if fails else amount(amps, "A", EXACT)},
            mends="" if fails else way.decided_by,
        )
    full = on_generator.beside(aboard, charger, charger.current)
    if not fails:
        _roomier(way, aboard, water, made, full)
        return
    found = on_generator.smallest_generator(aboard, water, others=full)
    if found is not None:
        _smallest(way, aboard, made, found)
    elif way.decided_by == "start_torque":
        no_start(way, aboard, water, made.inner_reactance(aboard.mains.voltage))


def _tell_beside(
    way: Option, aboard: Aboard, water: Water, made: Generator, charger: Charger
) -> Row:
    bank = aboard.bank
    drawn = (aboard.base + water.boost_dc) / bank.volts
    amps = bank.taken(charger.current, drawn)
    way.figure(
        "charger",
        "The charger gives, at the bank's present charge",
        amps,
        "A",
        note="all it can while the bank is low",
    )
    taken = charger.drawn(bank, amps).real
    own = made.fuel.flow(water.real + taken) * water.real / (water.real + taken)
    way.figure(
        "fuel",
        "Fuel, other loads included",
        made.fuel.flow(water.real + taken + aboard.other_load),
        "L/h",
    )
    money = _fuel_of_water(way, aboard, water, own)
    way.figure(
        "charged",
        "Charged into the bank meanwhile, at most",
        max(0.0, amps - drawn) * bank.volts * aboard.habits.run,
        "kWh",
    )
    return Row(way, "while there is fuel", water.energy, money)


def charging_ban(way: Option, aboard: Aboard) -> None:
    """Fails a way that would charge a bank too cold or too hot for it."""
    bank = aboard.bank
    kind = bank.kind
    if bank.temperature > kind.charge_hottest.value:
        way.fail(
            "charge-hot",
            "{k} must not be charged above {m}: the bank is at {t}",
            k=kind.name,
            m=(kind.charge_hottest.value, "°C"),
            t=(bank.temperature, "°C"),
        )
    else:
        way.fail(
            "charge-cold",
            "never charge {k} below {m}: the bank is at {t}",
            k=kind.name,
            m=(kind.charge_coldest.value, "°C"),
            t=(bank.temperature, "°C"),
        )
