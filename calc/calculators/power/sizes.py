"""How far inverter and bank reach, and the smallest of each that would do: told."""

from __future__ import annotations

from collections.abc import Mapping

from ...frame.report import (
    TIGHT_MARGIN,
    Amount,
    Line,
    Option,
    Report,
    Setting,
    amount,
    least,
    line,
    most,
)
from ...physics import batteries, chemistries
from ...system import on_bank, sizes
from ...system.aboard import HOUR, Aboard
from ...system.bank import LITHIUM
from ...system.motor import Water
from ...system.on_bank import House
from ...system.on_generator import LOAD_STEP, POWER_STEP
from ...system.sizes import BEARS, CUT_OFF, FROST, HOURS, START_VOLTS, Choice, Size
from .generator import no_start
from .ways import ABLE, EXACT, narrow

DECIDES = {
    HOURS: "hours",
    BEARS: "the current it bears",
    START_VOLTS: "voltage at the start",
    FROST: "emptied so far it would freeze",
    CUT_OFF: "its voltage is below the cut-off",
}
NEVER_CHARGED = {
    HOURS: "hours; never charge it at this temperature",
    BEARS: "the current it bears; never charge it at this temperature",
    START_VOLTS: "voltage at the start; never charge it at this temperature",
}
# By whether the management must allow something, and whether it may be charged: too cold, too hot.
SMALLEST = {
    (False, ""): "The smallest {k} bank that would do: {b}.",
    (True, ""): "The smallest {k} bank that would do: {b}, its management to allow {m}.",
    (False, "cold"): "The smallest {k} bank that would do: {b}, but never charge it at {at}: keep "
    "it warmer.",
    (False, "hot"): "The smallest {k} bank that would do: {b}, but never charge it at {at}: keep "
    "it cooler.",
    (True, "cold"): "The smallest {k} bank that would do: {b}, its management to allow {m}, but "
    "never charge it at {at}: keep it warmer.",
    (True, "hot"): "The smallest {k} bank that would do: {b}, its management to allow {m}, but "
    "never charge it at {at}: keep it cooler.",
}
BOTH = {
    (False, ""): "An inverter of {c} continuous and {s} for {t}, rated at {r}, on a bank of at "
    "least {b} of {k}.",
    (True, ""): "An inverter of {c} continuous and {s} for {t}, rated at {r}, on a bank of at "
    "least {b} of {k}, its management to allow {m}.",
    (False, "cold"): "An inverter of {c} continuous and {s} for {t}, rated at {r}, on a bank of at "
    "least {b} of {k}, but never charge it at {at}: keep it warmer.",
    (False, "hot"): "An inverter of {c} continuous and {s} for {t}, rated at {r}, on a bank of at "
    "least {b} of {k}, but never charge it at {at}: keep it cooler.",
    (True, "cold"): "An inverter of {c} continuous and {s} for {t}, rated at {r}, on a bank of at "
    "least {b} of {k}, its management to allow {m}, but never charge it at {at}: keep it warmer.",
    (True, "hot"): "An inverter of {c} continuous and {s} for {t}, rated at {r}, on a bank of at "
    "least {b} of {k}, its management to allow {m}, but never charge it at {at}: keep it cooler.",
}


# By whether the inverter is to be larger, and whether the management must allow something.
ROOMIER_BANK = {
    (False, False): "A bank of {b} of {k} would leave {x} in hand at each limit.",
    (False, True): "A bank of {b} of {k}, its management to allow {m}, would leave {x} in hand at "
    "each limit.",
    (True, False): "An inverter of {c} continuous and {s} for {t}, rated at {r}, on a bank of {b} "
    "of {k} would leave {x} in hand at each limit.",
    (True, True): "An inverter of {c} continuous and {s} for {t}, rated at {r}, on a bank of {b} "
    "of {k}, its management to allow {m}, would leave {x} in hand at each limit.",
}


def tell(show: Report, way: Option, aboard: Aboard, water: Water, house: House) -> None:
    """How far inverter and bank reach, and the smallest of each that would do."""
    volts = aboard.mains.voltage / water.load.motor.voltage
    if water.start_torque(volts) < 1:
        no_start(way, aboard, water)
        return
    able = way.verdict in ABLE  # then what is told mends nothing
    if narrow(way):
        _roomier(way, aboard, water, house)
    inverter = sizes.smallest_inverter(aboard, water)
    if aboard.bank.management_unknown(aboard.start_time):
        # whether it bears more, or even this, nobody knows
        _banks(show, way, aboard, water, house, inverter)
        return
    if inverter is not None and on_bank.alone(inverter.aboard, water).able:
        way.remedy(
            "The smallest inverter that would do: {c} continuous and {s} for {t}, rated at {r}.",
            **_told(aboard, inverter),
            sets=_inverter_set(inverter),
            as_reach=able,
        )
    load = sizes.greatest_inverter_load(aboard, water)
    if load is not None:
        way.remedy(
            "Other loads of up to {p} may run on the inverter at the same time.",
            p=most(load, "W"),
            sets={"inverter_load": most(load, "W", LOAD_STEP)},
            as_reach=able,
        )
    carried = sizes.greatest_time(aboard, water, house) if able else 0.0
    if carried > 0:
        way.remedy(
            "One charge carries at most {t} of water-making, {v} of water.",
            t=most(carried, "h"),
            v=most(carried * water.product, "L"),
            sets=_hours_set(aboard, water, carried),
            as_reach=True,
        )
    _banks(show, way, aboard, water, house, inverter)


def _told(aboard: Aboard, found: Choice) -> dict[str, Amount]:
    return {
        "c": least(found.inverter.power, "VA"),
        "s": least(found.inverter.surge, "VA"),
        "t": least(aboard.start_time, "s"),
        "r": amount(chemistries.RATED_TEMPERATURE, "°C"),
    }


def _inverter_set(found: Choice, exact: bool = False) -> dict[str, Setting]:
    """What to fill in to try an inverter; its surge is a bound where the start decides it, and
    neither is one where they are told `exact`."""
    made = found.inverter
    if exact:
        sized = {"inverter_power": (made.power, "VA"), "inverter_surge": (made.surge, "VA")}
        sized["inverter_surge_time"] = (made.surge_time, "s")
        return {name: amount(*size, EXACT) for name, size in sized.items()}
    surge = least(made.surge, "VA", POWER_STEP)
    if made.surge <= made.power:
        surge = amount(made.surge, "VA", EXACT)
    return {
        "inverter_power": least(made.power, "VA", POWER_STEP),
        "inverter_surge": surge,
        "inverter_surge_time": amount(made.surge_time, "s", EXACT),
    }


def _hours_set(aboard: Aboard, water: Water, carried: float) -> dict[str, Setting] | None:
    """The hours of a charge in tenths, to try; nothing where the next tenth would do too."""
    hours = most(carried, "h", HOUR / 10)
    if hours.value <= 0 or sizes.for_hours_able(aboard, water, hours.value + HOUR / 10):
        return None
    return {"run_hours": hours}


def _banks(
    show: Report, way: Option, aboard: Aboard, water: Water, house: House, inverter: Choice | None
) -> None:
    """A table by kind, and as remedies the bank's own kind and LiFePO4.

    Where the inverter falls short too, the banks are those that would do with a sufficient one.
    """
    short = sizes.inverter_short(aboard, water, house)
    base, made = aboard, house
    if short:
        if inverter is None:
            return
        base, made = inverter.aboard, on_bank.house(inverter.aboard, water)
    rows: list[list[Amount | Line | str]] = []
    for key, kind in chemistries.CHEMISTRIES.items():
        found = sizes.smallest_bank(base, key, water, made)
        if isinstance(found, str):
            rows.append([kind.name, "none", DECIDES[found], "–", "–"])
            continue
        banned = batteries.charge_rate_limit(kind, aboard.bank.temperature) == 0
        rows.append(
            [
                kind.name,
                least(found.size, "Ah"),
                (NEVER_CHARGED if banned else DECIDES)[found.why],
                least(found.size * aboard.bank.voltage, "kWh"),
                least(found.current, "A"),
            ]
        )
        if key in (aboard.bank.chemistry, LITHIUM):
            _remedy(way, aboard, key, found, inverter if short else None)
    note = (
        "At {v}, of your bank's age, warmth and charge, for the bank alone, on an inverter as "
        "named above; resistances and currents are common practice or from memory."
        if short
        else "At {v}, of your bank's age, warmth and charge, for the bank alone; resistances and "
        "currents are common practice or from memory."
    )
    show.table(
        "banks",
        "The smallest bank that would do, by kind",
        ["Kind", "At least", "What decides", "It holds", "Gives at the start"],
        rows,
        note=line(note, v=(aboard.bank.voltage, "V")),
    )


def _remedy(
    way: Option, aboard: Aboard, chemistry: str, found: Size, inverter: Choice | None
) -> None:
    """A bank of a chemistry, on a sufficient inverter where the one that is there is none."""
    bank, kind = aboard.bank, chemistries.CHEMISTRIES[chemistry]
    told: dict[str, Amount | str] = {"k": kind.name, "b": least(found.size, "Ah")}
    managed = chemistry == LITHIUM or (bank.managed is not None and bank.managed < found.current)
    if managed:
        told["m"] = least(found.current, "A")
    banned = ""
    if batteries.charge_rate_limit(kind, bank.temperature) == 0:
        banned = "cold" if bank.temperature < kind.charge_coldest.value else "hot"
        told["at"] = amount(bank.temperature, "°C")
    sets = _bank_set(aboard, chemistry, found, managed) if found.least else None
    if inverter is None:
        way.remedy(SMALLEST[managed, banned], **told, sets=sets, as_reach=way.verdict in ABLE)
        return
    way.remedy(
        BOTH[managed, banned],
        **_told(aboard, inverter),
        **told,
        sets=sets and {**_inverter_set(inverter), **sets},
    )


def _roomier(way: Option, aboard: Aboard, water: Water, house: House) -> None:
    """The inverter, the bank of the same kind, or both, that would leave in hand what is wanted."""
    inverter = sizes.roomier_inverter(aboard, water, house, TIGHT_MARGIN)
    x = amount(TIGHT_MARGIN, "%")
    if inverter is None:
        _roomier_bank(way, aboard, water, {"x": x}, {})
        return
    if sizes.leaves(inverter.aboard, water, TIGHT_MARGIN):
        tell_roomier_inverter(way, inverter)
        return
    told, sets = _told(inverter.aboard, inverter) | {"x": x}, _inverter_set(inverter, exact=True)
    _roomier_bank(way, inverter.aboard, water, told, sets)


def tell_roomier_inverter(way: Option, found: Choice) -> None:
    """The inverter that leaves in hand what is wanted, where it alone decides."""
    way.remedy(
        "An inverter of {c} continuous and {s} for {t}, rated at {r}, would leave {x} in hand at "
        "each of its limits.",
        **_told(found.aboard, found),
        x=amount(TIGHT_MARGIN, "%"),
        sets=_inverter_set(found, exact=True),
        mends=way.decided_by,
    )


def _roomier_bank(
    way: Option,
    aboard: Aboard,
    water: Water,
    told: Mapping[str, Amount],
    inverter: Mapping[str, Setting],
) -> None:
    """The bank of the same kind that does so, and the `inverter` to fill in, if a larger one."""
    bank = aboard.bank
    found = sizes.roomier_bank(aboard, water, TIGHT_MARGIN)
    if found is None or not bank.chargeable:
        return
    size, current = found
    managed = bank.chemistry == LITHIUM or (bank.managed is not None and bank.managed < current)
    sets = _bank_set(aboard, bank.chemistry, Size(size, "", current, least=False), managed)
    way.remedy(
        ROOMIER_BANK[bool(inverter), managed],
        k=bank.kind.name,
        b=least(size, "Ah"),
        **told,
        **({"m": least(current, "A")} if managed else {}),
        sets={**inverter, **sets, "bank_capacity": amount(size, "Ah", EXACT)},
        mends=way.decided_by,
    )


def _bank_set(aboard: Aboard, chemistry: str, found: Size, managed: bool) -> Mapping[str, Setting]:
    """What to fill in to try a bank: what was stated of the old one's inside goes."""
    sets: dict[str, Setting] = {
        "bank": "",
        "bank_chemistry": chemistry,
        "bank_voltage": amount(aboard.bank.voltage, "V", EXACT),
        "bank_capacity": least(found.size, "Ah", sizes.bank_step(found.size)),
        "bank_resistance": "",
        "bank_current": "",
        "bank_bms": amount(found.current, "A", EXACT) if managed else "",
        "bank_bms_peak": "",
    }
    if chemistry != aboard.bank.chemistry:
        sets |= {"bank_exponent": "", "bank_depth": ""}
    return sets
