"""Doubts about records: values that are allowed, one by one, and do not go together.

A doubt is no fault: whoever knows better says so in edition.toml, with the reason. The bounds are
decisions of ours: common practice, no source; they only choose what is asked about, no answer
hangs on them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from calc import equipment
from calc.equipment.layers import Given
from calc.frame import units
from calc.frame.files import FileFault
from calc.frame.inputs import Inputs, Quantity
from calc.frame.offers import Price
from calc.frame.offers import currency as money
from calc.physics.motors import full_load_current, synchronous_speed
from calc.physics.pumps import shaft_power

CURRENT_OFF = 0.15  # of a plate's current
LEAST_SPEED = 0.9  # of the field's speed: more slip than that no such motor has at its rating
SIGNS = {"EUR": "€", "GBP": "£", "€": "EUR", "£": "GBP", "$": "USD"}
SIGNS |= dict.fromkeys(("USD", "AUD", "CAD", "NZD"), "$")
FAR = 4.0  # times the largest, or below the least, that any stock record of the kind has


@dataclass(frozen=True)
class Doubt:
    """What is doubted of a record's field, and why."""

    key: str
    field: str
    sentence: str


def of(
    read: equipment.Read, stock: Mapping[str, Mapping[str, Any]], currency: str
) -> Iterator[tuple[str, FileFault]]:
    """Each doubt with the name by which it is silenced, "kind.key.field".

    `stock` are the shelves that come along; their own records are not held against themselves.
    """
    for kind, shelf in read.shelves.items():
        spans = _spans(stock.get(kind, {}))
        for key, record in shelf.items():
            given = read.given[kind][key]
            found = [*_RULES.get(kind, _none)(record)]
            if given.layer:
                found += [*_bare(type(record), given), *_far(record, given, spans)]
                found += _unpriced(type(record), given, currency)
                found += _foreign(type(record), given, currency)
            for one in found:
                name = f"{kind}.{key}.{one.field}"
                yield name, given.fault(one.key, one.sentence, one.field)


def _none(record: Any) -> Iterator[Doubt]:
    yield from ()


def _motor(motor: Any) -> Iterator[Doubt]:
    if motor.rated_current:
        works = full_load_current(
            motor.rated_power, motor.voltage, motor.efficiency, motor.power_factor
        )
        if abs(motor.rated_current / works - 1) > CURRENT_OFF:
            yield Doubt(
                "current",
                "rated_current",
                f"{_told(motor, 'rated_current')} on the plate, but P / (V η cos φ) is "
                f"{units.text(works, 'A')}",
            )
    if motor.poles % 2 == 0:
        field = synchronous_speed(motor.frequency, motor.poles)
        if not LEAST_SPEED <= motor.rated_speed / field < 1:
            yield Doubt(
                "speed",
                "rated_speed",
                f"{_told(motor, 'rated_speed')} with {motor.poles} poles, whose field turns at "
                f"{units.text(field, 'rpm')}",
            )


def _unit(unit: Any) -> Iterator[Doubt]:
    for part in ("pump", "membranes", "hose", "vessel"):
        limit = getattr(getattr(unit, part), "highest_pressure", None)
        if limit is not None and limit < unit.pressure:
            yield Doubt(
                "pressure",
                "pressure",
                f"{_told(unit, 'pressure')}, but its {part} bears {units.text(limit, 'bar')}",
            )
        if limit is not None and unit.relief and limit < unit.relief.opens:
            yield Doubt(
                "relief above",
                "relief",
                f"its relief valve opens at {_told(unit.relief, 'opens')}, but its {part} bears "
                f"{units.text(limit, 'bar')}",
            )
    if unit.relief and unit.relief.opens <= unit.pressure:
        yield Doubt(
            "relief",
            "relief",
            f"its relief valve opens at {_told(unit.relief, 'opens')}, and it works at "
            f"{_told(unit, 'pressure')}",
        )
    parts = unit.motor.mass + unit.pump.mass
    if unit.mass < parts:
        yield Doubt(
            "mass",
            "mass",
            f"{_told(unit, 'mass')}, but its motor and pump weigh {units.text(parts, 'kg')}",
        )
    pump, membranes = unit.pump, unit.membranes
    feed = pump.flow * unit.motor.rated_speed * pump.speed_ratio / pump.rated_speed
    asked = shaft_power(feed, unit.pressure, pump.efficiency)
    given = unit.motor.rated_power * unit.motor.service_factor
    if asked > given:
        yield Doubt(
            "shaft",
            "motor",
            f"at {_told(unit, 'pressure')} the pump takes {units.text(asked, 'W')} at its shaft, "
            f"and the motor may give {units.text(given, 'W')}",
        )
    if feed > membranes.highest_feed:
        yield Doubt(
            "feed",
            "membranes",
            f"the pump feeds {units.text(feed, 'L/min')}, but the membranes bear "
            f"{_told(membranes, 'highest_feed')}",
        )
    if membranes.least_brine and feed - unit.product_flow < membranes.least_brine:
        yield Doubt(
            "brine",
            "membranes",
            f"{units.text(max(0.0, feed - unit.product_flow), 'L/min')} of brine is left, but the "
            f"membranes want {_told(membranes, 'least_brine')}",
        )


_RULES = {"motor": _motor, "unit": _unit}


def _told(record: Any, name: str) -> str:
    return str(type(record).fields[name].shown(getattr(record, name)))


def _bare(asks: type[Inputs], given: Given) -> Iterator[Doubt]:
    """A number whose unit was left to the field."""
    for name, text in given.texts.items():
        made = asks.fields.get(name)
        if isinstance(made, Quantity) and made.unit not in ("", "×", "%") and _is_bare(text):
            yield Doubt("bare", name, f"“{text}” has no unit and is taken as {made.unit}")


def _is_bare(text: Any) -> bool:
    try:
        number, unit = units.split_number(str(text))
    except units.UnitError:
        return False
    return number != 0 and not unit


def _spans(shelf: Mapping[str, Any]) -> dict[str, tuple[float, float]]:
    """From the least to the largest that the stock's records of a kind say of a field."""
    found: dict[str, list[float]] = {}
    for record in shelf.values():
        for name in record.texts:
            value = getattr(record, name, None)
            if isinstance(value, float) and value > 0:
                found.setdefault(name, []).append(value)
    return {name: (min(values), max(values)) for name, values in found.items()}


def _far(record: Any, given: Given, spans: Mapping[str, tuple[float, float]]) -> Iterator[Doubt]:
    for name in given.texts:
        made, value = type(record).fields.get(name), getattr(record, name, None)
        if not isinstance(made, Quantity) or not isinstance(value, float) or name not in spans:
            continue
        least, most = spans[name]
        if value > 0 and not least / FAR <= value <= most * FAR:
            yield Doubt(
                "far",
                name,
                f"{_told(record, name)} is far from the stock's, {made.shown(least)} to "
                f"{made.shown(most)}",
            )


def _same(money: str, currency: str) -> bool:
    """Whether a money, as it is written in a price, may be the edition's."""
    return money.upper() in (currency.upper(), SIGNS.get(currency))


def _foreign(asks: type[Inputs], given: Given, currency: str) -> Iterator[Doubt]:
    """A price in another money than the edition's."""
    for name, text in given.texts.items():
        said = str(text)
        if (
            isinstance(asks.fields.get(name), Price)
            and currency
            and not _same(money(said), currency)
        ):
            sentence = f"“{said}”, but edition.toml says that prices are in {currency}"
            yield Doubt("money", name, sentence)


def _unpriced(asks: type[Inputs], given: Given, currency: str) -> Iterator[Doubt]:
    """A price while nobody has said in what money, or in another than that."""
    for name in given.texts:
        made = asks.fields.get(name)
        if isinstance(made, Quantity) and made.unit == "¤" and not currency:
            sentence = "a price, but edition.toml doesn't say the currency: currency = “EUR”"
            yield Doubt("currency", name, sentence)
        elif isinstance(made, Quantity) and made.unit == "¤":
            said = units.split_number(str(given.texts[name]))[1]
            if said not in ("", "¤") and not _same(said, currency):
                sentence = f"“{given.texts[name]}” is taken as {currency}: no rate is known here"
                yield Doubt("other money", name, sentence)
