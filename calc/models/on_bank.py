"""All that goes through inverter and house bank: alone, and with each of what charges it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from ..frame.inputs import Refusal, Values
from ..frame.report import (
    TIGHT_MARGIN,
    Figure,
    Line,
    Option,
    Report,
    amount,
    least,
    line,
    most,
    told,
)
from ..physics import batteries, energy_balance, generators
from .on_generator import foreign_mains, torque_figure
from .sources import (
    STEP,
    Inverter,
    alternator_current,
    alternator_matches,
    bank_of,
    charger_at,
    charging_ban,
    depth_of,
    discharge_limit,
    house_load,
    house_profile,
    inverter_of,
    mains_match,
    mean,
    site_share,
    start_limit,
    taken,
)
from .supply import at_start, stated_cable
from .water import Water
from .ways import MINUTE, PANEL_STEP, Row, Trial, able, again, at_least_told, time_told

DAY, HOUR = 86400.0, 3600.0
ZERO_CELSIUS = 273.15  # K
# What a reader does whose alternator is none of the records.
OTHER_ALTERNATOR = (
    "If yours is another one, choose none for “Alternator” and fill in "
    "“Alternator's output, hot, at that speed”."
)
MOST_PANELS = 5e3  # W, that a small boat has room for; common practice, no source
SKY_BAND = 0.10  # of a day's sun nobody knows; common practice, no source


@dataclass(frozen=True)
class House:
    """The DC side at work: inverter, bank, powers [W] from the bank, state of charge to stop at.

    `dc` is for the water and the inverter's other loads, `own` for the water alone, as its energy
    and cost count it; `base` is what the house takes meanwhile, `alone` the run on the bank alone.
    """

    inverter: Inverter
    bank: batteries.Bank
    dc: float
    own: float
    base: float
    reserve: float
    alone: batteries.Run

    @property
    def drawn(self) -> float:
        """All that leaves the bank while water is made [W]."""
        return self.dc + self.base


def house_of(q: Values, water: Water) -> House:
    """The DC side of this form. Refuses a bank that begins below what is to stay in it."""
    bank, inverter = bank_of(q), inverter_of(q)
    reserve = 1 - depth_of(q)
    if reserve >= q.bank_charge:
        raise Refusal(
            "bank_charge",
            "the bank must be charged further than what is to stay in it: raise this, or the "
            "deepest discharge that you allow",
        )
    dc = inverter.dc_power(water.real + q.inverter_load) + water.boost_dc
    own = inverter.dc_power(water.real) + water.boost_dc
    base = house_load(q)
    alone = batteries.run(bank, dc + base, q.bank_charge, reserve)
    return House(inverter, bank, dc, own, base, reserve, alone)


def misfit(q: Values, way: Option) -> bool:
    """Fails a way whose inverter fits neither the mains on board nor the bank's voltage."""
    if not mains_match(q, q.inverter, "ac_voltage"):
        foreign_mains(way, q, "Inverter", q.inverter.ac_voltage, q.inverter.frequency)
    elif q.inverter is not None and not 0.8 <= q.inverter.dc_voltage / q.bank_voltage <= 1.25:
        way.fail(
            "“Inverter” is made for a bank of {v}, and “Bank, nominal” is {w}: one of the two "
            "must change",
            v=(q.inverter.dc_voltage, "V"),
            w=(q.bank_voltage, "V"),
        )
    elif q.inverter_cut_off is not None and not 0.6 <= q.inverter_cut_off / q.bank_voltage <= 1.1:
        way.fail(
            "“Inverter's low-voltage cut-off” is {c}, and “Bank, nominal” is {w}: that is an "
            "inverter for another bank",
            c=(q.inverter_cut_off, "V"),
            w=(q.bank_voltage, "V"),
        )
    return bool(way.failures)


# ---- the bank alone ----


def judge_alone(q: Values, way: Option, water: Water, house: House) -> Line | str:
    """The figures that decide about inverter and bank; the hours as words."""
    _starts(q, way, water, house)
    hours = runs(q, way, water, house, 0.0)
    starts_late(q, way, water, house, house.reserve)
    _ask_management(q, way, house, way.figures)
    return hours


def alone(q: Values, water: Water) -> Option:
    """Inverter and bank of this form as a way of its own, judged and no more."""
    trial = Trial("", "")
    if not misfit(q, trial):
        judge_alone(q, trial, water, house_of(q, water))
    return trial


def surge(q: Values, water: Water) -> float:
    """What a start asks of the inverter [VA]."""
    amps = water.start_current(q.ac_voltage / water.load.motor.voltage)
    return float(amps * q.ac_voltage + q.inverter_load + water.boost_ac)


def start_power(q: Values, water: Water, house: House) -> float:
    """Power [W] from the bank during a start through the inverter."""
    amps = water.start_current(q.ac_voltage / water.load.motor.voltage)
    real = amps * q.ac_voltage * water.rush.power_factor + q.inverter_load + water.boost_ac
    return house.inverter.dc_power(real) + water.boost_dc + house.base


def _starts(q: Values, way: Option, water: Water, house: House) -> None:
    """Figures of a start through the inverter, on the bank as it is when water-making begins."""
    inverter, bank = house.inverter, house.bank
    charged = _charged(q.bank_charge)
    asked = surge(q, water)
    says = told(
        way,
        "the start asks {p} of the inverter for {t}; it gives {m}",
        p=(asked, "VA"),
        t=(q.start_time, "s"),
        m=(inverter.surge, "VA"),
    )
    way.figure(
        "start_surge",
        "Inverter's load at the start",
        asked,
        "VA",
        at_most=inverter.surge,
        says=says,
    )
    begun = at_start(q, water, cable=stated_cable(q))
    torque_figure(way, water, begun.voltage / water.load.motor.voltage)
    power = start_power(q, water, house)
    emf = bank.open_circuit_voltage(q.bank_charge)
    point = batteries.constant_power(emf, bank.resistance, power)
    if point is None:
        most_power = batteries.greatest_power(emf, bank.resistance)
        way.figure(
            "start_bank",
            f"From the bank at the start, {charged}",
            power,
            "W",
            at_most=most_power,
            says=told(
                way,
                "the bank's voltage collapses at the start: it can give {m}, and {p} are asked",
                m=(most_power, "W"),
                p=(power, "W"),
            ),
        )
        return
    way.figure(
        "start_voltage",
        f"Bank's voltage at the start, {charged}",
        point.voltage,
        "V",
        at_least=bank.cut_off,
        says=told(
            way,
            "the bank, charged to {s}, sags to {v} at the start; the inverter drops out at {c}",
            s=(q.bank_charge, "%"),
            v=(point.voltage, "V"),
            c=(bank.cut_off, "V"),
        ),
    )
    limit, why = start_limit(q)
    if limit is None:
        way.figure("start_amps", f"From the bank at the start, {charged}", point.current, "A")
        return
    way.figure(
        "start_amps",
        f"From the bank at the start, {charged}",
        point.current,
        "A",
        at_most=limit,
        says=told(
            way,
            "the start draws {i} from the bank; its management allows {m}",
            i=(point.current, "A"),
            m=(limit, "A"),
        ),
        note=why,
    )


def _ask_management(q: Values, way: Option, house: House, figures: Sequence[Figure]) -> None:
    """A lithium bank whose management's limits nobody has given: its cut-off comes unannounced.

    Small currents are only doubtful: nearly every management lets half the ampere-hours through.
    """
    if way.trial or not managed_unknown(q, house.bank):
        return
    amps = {f.key: f.value.value for f in figures if f.key in ("start_amps", "bank_current")}
    if not amps:
        return
    asked = {
        "i": (amps.get("bank_current", 0.0), "A"),
        "s": (max(amps.values()), "A"),
        "t": (q.start_time, "s"),
    }
    words = (
        "ask what the battery's management lets through: {s} for the {t} of the start and {i} "
        "for hours are drawn, and beyond its limit it switches all off"
    )
    usual = house.bank.chemistry.discharge_rate.value * q.bank_capacity / HOUR
    (way.reservation if max(amps.values()) <= usual else way.unknown)(words, **asked)


def managed_unknown(q: Values, bank: batteries.Bank) -> bool:
    """Whether the bank needs a management of which a limit that counts here is not given."""
    return bool(bank.chemistry.managed_rate) and (q.bank_bms is None or start_limit(q)[0] is None)


def _charged(charge: float) -> str:
    return f"charged to {round(charge * 100)} %"


def starts_late(q: Values, way: Option, water: Water, house: House, charge: float) -> None:
    """A start on the bank when it is down to a charge [ratio]: no verdict, but a reservation."""
    if way.trial:
        return
    bank, power = house.bank, start_power(q, water, house)
    emf = bank.open_circuit_voltage(charge)
    point = batteries.constant_power(emf, bank.resistance, power)
    later = "a start later in the run may fail"
    note = "at the bank's terminals; what the cables lose is on the page “Wiring”"
    if point is None:
        way.figure(
            "late_start",
            f"From the bank at a start, {_charged(charge)}",
            power,
            "W",
            at_most=batteries.greatest_power(emf, bank.resistance),
            decides=False,
            note=note,
        )
        way.reservation(
            "charged to {s}, the bank's voltage collapses at a start: " + later, s=(charge, "%")
        )
        return
    way.figure(
        "late_start",
        f"Bank's voltage at a start, {_charged(charge)}",
        point.voltage,
        "V",
        at_least=bank.cut_off,
        decides=False,
        note=note,
    )
    if point.voltage < bank.cut_off:
        way.reservation(
            "charged to {s}, the bank sags to {v} at a start, and the inverter drops out at {c}: "
            + later
            + "; what the cables lose besides is on the page “Wiring”",
            s=(charge, "%"),
            v=(point.voltage, "V"),
            c=(bank.cut_off, "V"),
        )


def _starts_after(q: Values, way: Option, water: Water, house: House, relief: float) -> None:
    """A start at the charge that a run with a relief [W] comes to; none where it never falls."""
    net = house.drawn - relief
    if net <= 0 or way.trial:
        return
    run = _run(q, house.bank, max(net, 1.0), house.reserve)
    starts_late(q, way, water, house, _charge_after(q, run))


def starts_likewise(q: Values, way: Option, way_alone: Option, house: House) -> None:
    """The start of a way that goes through the same bank and inverter, in one figure."""
    _ask_management(q, way, house, way_alone.figures)
    started = [f for f in way_alone.figures if f.key.startswith("start") and f.margin is not None]
    worst = min(started, key=lambda f: f.margin or 0.0)
    way.figure(
        "start",
        f"The start, {_charged(q.bank_charge)}",
        1 - (worst.margin or 0.0),
        "%",
        at_most=1.0,
        says=worst.reason(),
        note="of what inverter and bank give",
    )


def runs(
    q: Values, way: Option, water: Water, house: House, relief: float, steady: bool = True
) -> Line | str:
    """Figures of a run with a relief [W] from what charges meanwhile; the hours as words.

    A relief that is not steady (the sun's) lengthens the run but spares the bank no current.
    """
    bank = house.bank
    _heat(q, way, house.inverter)
    apparent = water.apparent(q.inverter_load)
    way.figure(
        "apparent",
        "Inverter's load",
        apparent,
        "VA",
        at_most=house.inverter.continuous,
        says=told(
            way,
            "the pump asks {p} of the inverter for hours; it gives {m} in this heat",
            p=(apparent, "VA"),
            m=(house.inverter.continuous, "VA"),
        ),
    )
    net = house.drawn - relief
    if relief > 0 and steady:
        _lends_a_tenth(q, way, house, relief)
    if net <= 0 and steady:
        _carried(q, way, house, relief)
        return "as long as it charges"
    worst = house.alone if relief == 0 or not steady else None
    run = worst if worst and relief == 0 else _run(q, bank, max(net, 1.0), house.reserve)
    worst = worst or run
    if worst.ended_by == "cannot deliver" and worst.time == 0:
        most_power = batteries.greatest_power(
            bank.open_circuit_voltage(q.bank_charge), bank.resistance
        )
        way.figure(
            "bank_power",
            "From the bank while running",
            house.drawn,
            "W",
            at_most=most_power,
            says=told(
                way,
                "the bank's voltage collapses: it can give {m}, and {p} are asked",
                m=(most_power, "W"),
                p=(house.drawn, "W"),
            ),
        )
        return "none"
    _bank_figures(q, way, bank, worst)
    _frost(q, way, house)
    if net <= 0:
        return "while the sun shines"
    hours = at_least_told(min(run.time, 365 * DAY), MINUTE)
    unsaid = "run_hours" in getattr(q, "unsaid", ())  # then they are told, and held against nothing
    if unsaid:
        way.reservation(
            "a charge lasts {t}; say how long a day you want it to run, to have that judged",
            t=(hours, "h"),
        )
    way.figure(
        "hours",
        f"Hours to {round(house.reserve * 100)} % left in the bank",
        hours,
        "h",
        at_least=None if unsaid else q.run_hours,
        says=told(
            way, "the bank lasts {t}; {w} a day are wanted", t=(hours, "h"), w=(q.run_hours, "h")
        ),
        note="" if hours else "under 1 min",
    )
    return time_told(run.time, "{t} on a charge")


def _heat(q: Values, way: Option, inverter: Inverter) -> None:
    """The inverter's own warmth, where it stands in more than it is rated for."""
    if q.ambient_temperature <= batteries.RATED_TEMPERATURE:
        return
    hottest = inverter.hottest
    way.figure(
        "inverter_air",
        "Air round the inverter",
        q.ambient_temperature,
        "°C",
        at_most=hottest,
        zero=ZERO_CELSIUS,
        says=told(
            way,
            "the inverter stands in air of {t} and switches off above {m}",
            t=(q.ambient_temperature, "°C"),
            m=(hottest, "°C"),
        ),
        note="" if q.inverter else "the limit is common practice; its plate counts",
    )


def _frost(q: Values, way: Option, house: House) -> None:
    """What must stay in a lead-acid bank so that it does not freeze where it stands."""
    bank = house.bank
    least_charge = batteries.least_charge_in_frost(bank.chemistry, bank.temperature)
    freezes = batteries.freezing_point(bank.chemistry, house.reserve)
    if least_charge == 0 or freezes is None:
        return
    way.figure(
        "frost",
        "Charge to stay in the bank, against frost",
        house.reserve,
        "%",
        at_least=least_charge,
        says=told(
            way,
            "emptied to {c} its acid freezes at {f}, and the bank is at {t}",
            c=(house.reserve, "%"),
            f=(freezes, "°C"),
            t=(bank.temperature, "°C"),
        ),
    )


def _frost_remedy(q: Values, way: Option, water: Water, house: House) -> None:
    """The deepest discharge that frost leaves, if the bank carries the day with it."""
    held = batteries.least_charge_in_frost(house.bank.chemistry, house.bank.temperature)
    depth = most(1 - held, "%", 0.01)
    if house.reserve >= held or 1 - depth.value >= q.bank_charge or depth.value <= 0:
        return
    if able(alone(again(q, bank_depth=depth.value), water)):
        way.remedy(
            "Against frost, a deepest discharge of {d}.",
            d=depth,
            sets=None if managed_unknown(q, house.bank) else {"bank_depth": depth},
        )


def _bank_figures(q: Values, way: Option, bank: batteries.Bank, run: batteries.Run) -> None:
    """What a run asks of the bank, its hours apart."""
    amps = run.end_current
    limit, why = discharge_limit(q, bank)
    way.figure(
        "bank_current",
        "From the bank while running",
        amps,
        "A",
        at_most=limit,
        note=why,
        says=told(
            way,
            "the pump and the house draw {i} from the bank; {m} is as much as it bears for hours",
            i=(amps, "A"),
            m=(limit, "A"),
        ),
    )
    if q.bank_bms is not None:
        way.figure(
            "bms_current",
            "The same, by the battery management",
            amps,
            "A",
            at_most=q.bank_bms,
            says=told(
                way,
                "the pump and the house draw {i} from the bank; its management allows {m}",
                i=(amps, "A"),
                m=(q.bank_bms, "A"),
            ),
        )
    way.figure(
        "end_voltage",
        "Bank's voltage at the end of the run",
        run.end_voltage,
        "V",
        at_least=bank.cut_off,
        says=told(
            way,
            "the bank ends its run at {v}; the inverter drops out at {c}",
            v=(run.end_voltage, "V"),
            c=(bank.cut_off, "V"),
        ),
    )


def _lends_a_tenth(q: Values, way: Option, house: House, relief: float) -> None:
    """Whether the bank lasts the run too with a tenth less from what charges it [W].

    Judged alike on both sides of the load, so that more output is never judged worse.
    """
    lacking = house.drawn - (1 - TIGHT_MARGIN) * relief
    if way.trial or lacking <= 0:
        return
    run = _run(q, house.bank, lacking, house.reserve)
    if run.time < q.run_hours:
        way.reservation(
            "with a tenth less from what charges it the bank lasts {t}; {w} a day are wanted",
            t=(at_least_told(run.time, MINUTE), "h"),
            w=(q.run_hours, "h"),
        )


def _carried(q: Values, way: Option, house: House, relief: float) -> None:
    """A run that what charges the bank carries alone: how near it comes, what is left over.

    A small margin is only told: the bank stands in for what may lack, as it does for less output.
    """
    volts = house.bank.open_circuit_voltage(q.bank_charge)
    need, amps = house.drawn / volts, relief / volts
    way.figure("carried", "Pump and house, of its output", need, "A", at_most=amps, decides=False)
    left = (taken(q, house.bank, amps, need) - need) * volts
    way.figure("surplus", "Left over that the bank takes, as full as it is", left, "W")


def _run(q: Values, bank: batteries.Bank, power: float, reserve: float) -> batteries.Run:
    return batteries.run(bank, power, q.bank_charge, reserve)


def tell_alone(q: Values, show: Report, way: Option, water: Water, house: House) -> Row:
    """The bank alone: what decides, what it costs, and the working."""
    hours = judge_alone(q, way, water, house)
    if show.brief:
        return Row(way, hours)
    _frost_remedy(q, way, water, house)
    way.figure("dc", "Power from the bank, house included", house.drawn, "W")
    way.figure(
        "energy",
        "Energy for fresh water, out of the bank, other loads left out",
        house.own / water.product,
        "Wh/L",
    )
    way.figure(
        "efficiency",
        "Inverter's efficiency at this load",
        (water.real + q.inverter_load) / (house.dc - water.boost_dc),
        "%",
    )
    _steps(q, show, water, house)
    return Row(way, hours, house.own / water.product, _put_back(q, way, water, house))


def _put_back(q: Values, way: Option, water: Water, house: House) -> float | None:
    """Fuel's cost for fresh water [1/m3] out of the bank, when an engine has to put it back."""
    if charging_ban(q, house.bank) is not None:
        return None
    if q.has_generator and q.charger_current > 0:
        amps, by = q.charger_current, "the generator's charger"
    elif q.has_alternator and alternator_matches(q) and alternator_current(q) > 0:
        amps, by = alternator_current(q), "the engine's alternator"
    else:
        return None
    volts = house.bank.open_circuit_voltage(q.bank_charge)
    run = _run(q, house.bank, house.own + house.base, house.reserve)
    low = max(0.0, min(_charge_after(q, run), q.bank_charge - 0.001))
    time = batteries.charging_time(house.bank, low, q.bank_charge, amps)
    direct = (q.bank_charge - low) * house.bank.capacity * volts / time
    direct /= house.bank.chemistry.charge_efficiency.value  # the mean power while it charges
    flow = (
        q.engine_fuel
        if by.endswith("alternator")
        else generators.fuel_flow(charger_at(q, direct / volts).real, q.fuel_idle, q.fuel_slope)
    )
    per_energy = flow / direct / house.bank.chemistry.charge_efficiency.value
    money = per_energy * house.own / water.product * q.fuel_price
    way.figure(
        "money",
        f"Fuel's cost of fresh water, put back by {by}",
        money,
        "¤/L",
        note="as fast as the bank takes it",
    )
    return float(money)


def _charge_after(q: Values, run: batteries.Run) -> float:
    """State of charge after a day's water-making, or after all that the bank gives."""
    share = min(1.0, q.run_hours / run.time) if run.time else 0.0
    return float(q.bank_charge - share * (q.bank_charge - run.end_charge))


def _steps(q: Values, show: Report, water: Water, house: House) -> None:
    losses, rated = house.inverter.losses, house.inverter.rated
    show.step(
        "Power from the bank through the inverter",
        house.dc - water.boost_dc,
        "W",
        "P_dc = P + S_r * (a + b * P / S_r + c * (P / S_r)**2)",
        {
            "P": (water.real + q.inverter_load, "W"),
            "S_r": (rated, "VA"),
            "a": (losses.fixed, "%"),
            "b": (losses.proportional, "%"),
            "c": (losses.quadratic, "%"),
        },
        "Three-term loss polynomial, Schmidt and Sauer 1996 (form from memory)",
    )
    bank = house.bank
    emf = bank.open_circuit_voltage(q.bank_charge)
    point = batteries.constant_power(emf, bank.resistance, house.drawn)
    if point is None or point.current <= 0:
        return
    show.step(
        "Current from the bank as the run begins, sag included",
        point.current,
        "A",
        "I = 2 * P / (E + sqrt(E**2 - 4 * R * P))",
        {"P": (house.drawn, "W"), "E": (emf, "V"), "R": (bank.resistance, "mΩ")},
        "P = (E - I R) I solved for the smaller current",
        f"E and R of {bank.chemistry.name} are from memory or common practice.",
    )
    depth = q.bank_charge - house.reserve
    factor = batteries.depletion_factor(
        bank.capacity, bank.rated_time, point.current, bank.exponent
    )
    show.step(
        "Hours at that current, by Peukert",
        depth * bank.capacity / (point.current * factor),
        "h",
        "t = D * C / (I * max(1, I * H / C)**(k - 1))",
        {
            "D": (depth, "%"),
            "C": (bank.capacity, "Ah"),
            "I": (point.current, "A"),
            "H": (bank.rated_time, "h"),
            "k": (bank.exponent, ""),
        },
        "W. Peukert, Elektrotechnische Zeitschrift 20 (1897), referred to the rated hour rate",
        "C is what age and cold have left. The law applies only above the rated current, "
        f"{bank.capacity / bank.rated_time:.3g} A; the hours above follow the current as the "
        "voltage falls.",
    )


# ---- with what charges it ----


def alternator(q: Values, show: Report, way_alone: Option, water: Water, house: House) -> Row:
    """The engine runs meanwhile; the bank lends or gets the difference."""
    way = show.option("alternator", "Engine's alternator, bank and inverter")
    starts_likewise(q, way, way_alone, house)
    if not alternator_matches(q):
        way.fail(
            "“Alternator” charges at {v}, and “Bank, nominal” is {w}: they do not belong together",
            v=(q.alternator.voltage, "V"),
            w=(q.bank_voltage, "V"),
        )
        way.remedy(OTHER_ALTERNATOR)
        return Row(way, "none: not the bank's voltage")
    if _banned(q, way, house):
        return Row(way, "none: the bank must not be charged")
    volts = house.bank.open_circuit_voltage(q.bank_charge)
    amps, need = alternator_current(q), house.drawn / volts
    hours = runs(q, way, water, house, amps * volts)
    _starts_after(q, way, water, house, amps * volts)
    way.figure("output", "Alternator's output, hot", amps, "A")
    money = None
    if amps > 0:  # what the bank lends meanwhile the engine puts back afterwards
        lent = max(0.0, (house.own + house.base) / volts / amps - 1)
        longer = 1 + lent / house.bank.chemistry.charge_efficiency.value
        money = q.engine_fuel * longer * q.fuel_price / water.product
        way.figure("money", "Fuel's cost of fresh water, engine run for this alone", money, "¤/L")
    way.remedy(
        "With {i} from the alternator the bank would neither fill nor empty.", i=least(need, "A")
    )
    way.remedy(
        "Hours at full output are hard on an alternator: it needs air, and a regulator that "
        "looks at its temperature."
    )
    return Row(way, hours, house.own / water.product, money)


def charger(q: Values, show: Report, way_alone: Option, water: Water, house: House) -> Row:
    """The generator sees only the charger; the start and its peak come out of the bank."""
    way = show.option("charger", "Generator through its charger, bank and inverter")
    starts_likewise(q, way, way_alone, house)
    if _banned(q, way, house):
        return Row(way, "none: the bank must not be charged")
    volts = house.bank.open_circuit_voltage(q.bank_charge)
    taken_up = charger_at(q, q.charger_current)
    full, site = taken_up.real + q.other_load, q.generator_power * site_share(q)
    way.figure(
        "load",
        "Generator's load, the charger giving all it can",
        full,
        "W",
        at_most=site,
        says=told(
            way,
            "the charger and the other loads ask {p} of the generator; it gives {m}",
            p=(full, "W"),
            m=(site, "W"),
        ),
    )
    apparent, rating = (
        math.hypot(full, taken_up.reactive),
        q.generator_power / q.generator_power_factor,
    )
    way.figure(
        "load_apparent",
        "Generator's apparent power then",
        apparent,
        "VA",
        at_most=rating,
        says=told(
            way,
            "the charger and the other loads ask {p} of the generator; it is built for {m}",
            p=(apparent, "VA"),
            m=(rating, "VA"),
        ),
    )
    hours = runs(q, way, water, house, q.charger_current * volts)
    _starts_after(q, way, water, house, q.charger_current * volts)
    amps = taken(q, house.bank, q.charger_current, house.drawn / volts)
    way.figure("charger", "The charger gives, the bank as full as it is", amps, "A")
    asked = (house.own + house.base) / volts  # the water's fuel is told as if it ran without others
    given = taken(q, house.bank, q.charger_current, asked)
    drawn = charger_at(q, given).real
    flow = generators.fuel_flow(drawn, q.fuel_idle, q.fuel_slope)
    money = house.own / (given * volts) * flow / water.product * q.fuel_price
    way.figure("money", "Fuel's cost of fresh water", money, "¤/L")
    return Row(way, hours, house.own * drawn / (given * volts) / water.product, money)


def sun(
    q: Values, show: Report, way_alone: Option, water: Water, house: House, light: Sequence[float]
) -> Row:
    """No engine: panels with a profile of powers [W] over the day."""
    way = show.option("sun", "Sun, bank and inverter, without an engine")
    starts_likewise(q, way, way_alone, house)
    if _banned(q, way, house):
        return Row(way, "none: the bank must not be charged", free=True)
    efficiency = house.bank.chemistry.charge_efficiency.value
    volume = _judge_sun(q, way, water, house, light)
    if show.brief:
        return Row(way, free=True)
    given, asked = math.fsum(light) * STEP, math.fsum(house_profile(q)) * STEP
    if given > 0:
        needed = (asked + house.dc * q.run_hours) / efficiency / given * q.array_power
        panels = least(needed, "W", PANEL_STEP)
        again_q = again(q, array_power=panels.value)
        trial = Trial("", "", [f for f in way_alone.figures if f.key.startswith("start")])
        _judge_sun(
            again_q, trial, water, house, [power * panels.value / q.array_power for power in light]
        )
        if able(trial) and panels.value <= MOST_PANELS:
            way.remedy(
                "Panels of {p} would carry the house and {w} a day under this sky.",
                p=panels,
                w=(water.product * q.run_hours, "L"),
                sets=None
                if managed_unknown(q, house.bank)
                else {"array_power": amount(panels.value, "W", 9)},
            )
    show.step(
        "Water that the sun carries a day after the house",
        volume,
        "L",
        "W = max(0, eta * E_sun - E_house) * Q_p / P_dc",
        {
            "eta": (efficiency, "%"),
            "E_sun": (given, "kWh"),
            "E_house": (asked, "kWh"),
            "Q_p": (water.product, "L/h"),
            "P_dc": (house.dc, "W"),
        },
        "P. Ineichen and R. Perez, Solar Energy 73 (2002) 151, and FAO Irrigation and Drainage "
        "Paper 56 (1998), eq. 35, summed over the day",
        "All of it is taken to pass through the bank once.",
    )
    hours = time_told(min(DAY, volume / water.product), "{t} a day")
    return Row(way, hours, house.own / water.product, free=True)


def _judge_sun(q: Values, way: Option, water: Water, house: House, light: Sequence[float]) -> float:
    """Figures of a day's sun; the volume of water that it carries [m3]."""
    window = energy_balance.window(1.0, q.water_start, q.run_hours)
    relief = mean(light, window)
    runs(q, way, water, house, relief, steady=False)
    _starts_after(q, way, water, house, relief)
    given, asked = math.fsum(light) * STEP, math.fsum(house_profile(q)) * STEP
    efficiency = house.bank.chemistry.charge_efficiency.value
    wanted = water.product * q.run_hours

    def carried(sky: float) -> float:
        return max(0.0, efficiency * sky * given - asked) * water.product / house.dc

    volume = carried(1.0)
    # nobody knows the sky to a tenth: a day that a tenth more sun would save does not fail
    limit = wanted - (carried(1 + SKY_BAND) - volume)
    way.figure("sun_energy", "The panels give a day", given, "kWh")
    way.figure("house_energy", "The house takes a day", asked, "kWh")
    way.figure(
        "sun_litres",
        "Water a day on what is left",
        volume,
        "L",
        at_least=max(wanted / 100, limit),
        note=line("{w} are wanted; the sky is known to a tenth", w=(wanted, "L")),
        says=told(
            way,
            "after the house the sun carries {v} a day; {w} are wanted",
            v=(volume, "L"),
            w=(wanted, "L"),
        ),
    )
    if carried(1 - SKY_BAND) < wanted:
        way.reservation(
            "with a tenth less sun the sun carries {v} a day; {w} are wanted",
            v=(carried(1 - SKY_BAND), "L"),
            w=(wanted, "L"),
        )
    return volume


def _banned(q: Values, way: Option, house: House) -> bool:
    """Fails a way that would charge a bank too cold or too hot for it."""
    ban = charging_ban(q, house.bank)
    if ban is not None:
        way.failures.append(ban)
    return ban is not None
