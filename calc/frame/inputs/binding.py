"""How what a reader typed becomes values, and every fault of it a sentence."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

from .. import language, units
from ..language import Told, lazily, phrase, spoken
from ..units import UnitError
from .bound import Bound, Layer
from .fields import (
    NO_SHELVES,
    NONE_LISTED,
    NOT_ALLOWED,
    Field,
    Log,
    Other,
    Quantity,
    Record,
    Shelves,
)
from .forms import Inputs, Limit, Rows
from .said import (
    ABSENT,
    DEFAULT,
    LONGEST_TEXT,
    NOWHERE,
    SHELF,
    Fault,
    InputError,
    Origin,
    nearest,
    shortened,
)


def bind(
    asks: type[Inputs], *layers: Layer, shelves: Shelves = NO_SHELVES, own_boat: bool = False
) -> Bound:
    """Reads every field from the first layer that has it, then the record, then its default.

    Never raises for what is in the layers: every fault is in the result. A field that is not
    asked (see `when`) keeps its text, but a fault in it does not count.
    """
    bound = Bound(asks, shelves, own_boat=own_boat)
    for layer in layers:
        strange = layer.texts.keys() - asks.fields.keys()
        for name in layer.texts if strange else ():
            if name in strange:
                sentence = phrase(
                    "nothing of this name is asked ({whose}).{near}",
                    whose=layer.origin.text(),
                    near=nearest(name, asks.fields),
                )
                said = shortened(str(name))
                bound.faults.append(Fault(said, said, sentence))
    for made in asks.fields.values():
        _bind_field(bound, made, layers)
    bound.outgrown = frozenset(
        made.name
        for made in asks.rateable
        if any(_rated_otherwise(bound, made.name, by) for by in made.rated_by)
    )
    if own_boat:
        _count_what_is_known(bound)
    for name, limits in asks.limits.items():
        _check_limits(bound, asks.fields[name], limits)
    if bound.faults:
        bound.faults = [fault for fault in bound.faults if _counts(bound, fault)]
    return bound


def _counts(bound: Bound, fault: Fault) -> bool:
    """A fault in a field that is not asked does not count: its default stands in.

    A calculator that tries what the reader has not chosen then has a sound value to try it with.
    """
    name = fault.field.partition(".")[0]
    made = bound.asks.fields.get(name)
    if made is None or bound.asked(name):
        return True
    if made.default:
        bound.stand_ins[name] = _value(bound, made, made.default)
    return False


def _bind_field(bound: Bound, made: Field, layers: Sequence[Layer]) -> None:
    name = made.name
    if name in bound.origins:
        return
    if isinstance(made, Rows):
        _bind_rows(bound, made, layers)
        return
    if isinstance(made, Quantity) and made.at_volts in bound.asks.fields:
        _bind_field(bound, bound.asks.fields[made.at_volts], layers)
    preset, owner = _record_value(made.preset, bound.values) if made.preset else _NOTHING
    for index, layer in enumerate(layers):
        if name in layer.texts and (
            layer.own or (preset is None and not _outranked(bound, made, layers[:index]))
        ):
            bound.origins[name] = layer.origin
            _read(bound, made, as_text(layer.texts[name]))
            stronger = layers[: index + layer.origin.own]
            if isinstance(made, Record) and _is_another(bound, made, stronger):
                bound.origins[name] = Origin("contradicted", bound.values[name].name)
                bound.values[name], bound.texts[name] = None, ""
            return
    value = preset
    if value is None and made.from_record:
        value, owner = _record_value(made.from_record, bound.values)
        if value is not None and made.follows in bound.asks.fields:
            value, owner = _followed(bound, bound.asks.fields[made.follows], value, owner)
    if value is not None:
        bound.values[name] = value
        bound.texts[name] = made.write(value)
        bound.origins[name] = owner
        return
    if isinstance(made, Quantity) and made.usual and _usual(bound, made, made.usual):
        return
    default = made.default
    if bound.own_boat and isinstance(made, Record) and made.optional:
        default = ""  # the example's own
    bound.origins[name] = _by_default(made.basis) if default or made.basis else NOWHERE
    _read(bound, made, default)


def _usual(bound: Bound, made: Quantity, other: Other) -> bool:
    """Takes what is usual of a value that the reader said; whether there is one."""
    value = bound.values.get(other.name)
    if value is None or not bound.own(other.name):
        return False
    bound.values[made.name] = units.trim(value * other.factor)
    bound.texts[made.name] = made.write(bound.values[made.name])
    lead = bound.asks.fields[other.name].label
    bound.origins[made.name] = Origin("usual", units.number_text(other.factor), lead)
    return True


def _count_what_is_known(bound: Bound) -> None:
    """What is aboard by what the reader said: nothing else counts as there.

    What she said is there is asked for in the form, but isn't answered with until it is known.
    """
    for made in bound.asks.presences:
        name = made.name
        groups = [[one for one in group if one in bound.asks.fields] for group in made.by]
        known = all(any(map(bound.own, group)) for group in groups if group)
        if not bound.own(name):
            begun = any(
                bound.own(one) or (bound.origin(one).own and bound.faults_of(one))
                for group in groups
                for one in group
            )
            bound.values[name], text = begun, made.write(begun)
            if not bound.origin(name).own:
                bound.texts[name] = text
                bound.origins[name] = _begun(bound, groups) if begun else ABSENT
        bound.stand_ins[name] = bool(bound.values[name]) and known


def _begun(bound: Bound, groups: Sequence[Sequence[str]]) -> Origin:
    """Whence it is known that a thing is there: of the thing itself something was said, or it is
    part of another, whose record can't be left out."""
    said = [one for group in groups for one in group if bound.origin(one).own]
    made = bound.asks.fields[said[0]] if len(said) == 1 else None
    if isinstance(made, Record) and not made.optional and bound.values[made.name] is not None:
        return _by_record(bound.values[made.name].name)
    return Origin("default", "from what you said of it")


def _is_another(bound: Bound, made: Record, stronger: Sequence[Layer]) -> bool:
    """Whether the reader says of her own what the record of a weaker layer is not."""
    found = bound.values.get(made.name)
    for field_name in made.known_by if found is not None else ():
        field = bound.asks.fields.get(field_name)
        said = next((one.texts[field_name] for one in stronger if field_name in one.texts), None)
        if field is None or said is None:
            continue
        recorded = getattr(found, field.from_record.partition(".")[2])
        try:
            value = field.read(field.tidy(as_text(said)))
        except (UnitError, InputError):
            continue
        if not _same(value, recorded):
            return True
    return False


def _rated_otherwise(bound: Bound, name: str, by: str) -> bool:
    """Whether the reader says of a record's rating what the record doesn't."""
    field = bound.asks.fields.get(by)
    if field is None or bound.values.get(name) is None or not bound.origin(by).own:
        return False
    value = bound.values.get(by)
    return value is not None and not _same(value, _record_value(field.from_record, bound.values)[0])


def _same(value: Any, recorded: Any) -> bool:
    both = isinstance(value, float) and isinstance(recorded, float)
    return math.isclose(value, recorded) if both else bool(value == recorded)


def _outranked(bound: Bound, made: Field, stronger: Sequence[Layer]) -> bool:
    """Whether a stronger layer chose a record that has this value: the example's is another's."""
    if _record_value(made.from_record, bound.values)[0] is None:
        return False
    chosen = bound.origin(made.from_record.partition(".")[0])
    return any(layer.origin == chosen for layer in stronger)


def _followed(bound: Bound, lead: Field, value: Any, origin: Origin) -> tuple[Any, Origin]:
    """A record's value where the field it follows is not as recorded, and what to say of it."""
    now, recorded = bound.values.get(lead.name), _record_value(lead.from_record, bound.values)[0]
    if now is None or now == recorded or not recorded:
        return value, origin
    if isinstance(now, str):
        return None, NOWHERE
    return value * now / recorded, Origin(origin.kind, origin.holder, lead.label)


def as_text(value: Any) -> str:
    """A value out of JSON or TOML as the text one would have typed."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None:
        return ""
    return str(value)


def _read(bound: Bound, made: Field, text: str) -> None:
    bound.texts[made.name] = text
    system = units.chosen_system.get()
    if (text, system) in made.known:
        bound.values[made.name] = made.known[text, system]
        return
    typed = made.tidy(text)
    bound.values[made.name] = None
    if not typed.strip():
        if made.optional:
            made.keep(text, system, None)
        else:
            example = phrase("needs a value; for example {example}", example=made.default)
            sentence: Told = example if made.default else "needs a value"
            bound.faults.append(Fault(made.name, made.label, sentence))
        return
    if len(typed) > LONGEST_TEXT and not isinstance(made, Log):
        sentence = phrase(
            "is {n} characters long; at most {most} are allowed", n=len(typed), most=LONGEST_TEXT
        )
        bound.faults.append(Fault(made.name, made.label, sentence))
        return
    try:
        value = bound.values[made.name] = _value(bound, made, typed)
        made.keep(text, system, value)
    except (UnitError, InputError) as error:
        bound.faults.append(Fault(made.name, made.label, error.told))


def _value(bound: Bound, made: Field, text: str) -> Any:
    """The value of a text; a record is found among the guide's."""
    if isinstance(made, Record) and made.optional and text.strip() == NONE_LISTED:
        return None
    if isinstance(made, Record):
        return made.find(text, bound.shelves)
    if isinstance(made, Quantity):
        return _amount(bound, made, text)
    return made.read(text)


def _amount(bound: Bound, made: Quantity, text: str) -> float:
    """A number's value; what was typed as something near it is said to be taken so."""
    volts = bound.values.get(made.at_volts)
    charge = made.by_volts(text, volts)
    if charge is not None and volts is not None:
        amounts = made.shown(charge), units.text(volts, "V")
        bound.taken[made.name] = phrase(
            "taken as {charge} at {volts}, the bank's voltage", charge=amounts[0], volts=amounts[1]
        )
        return units.trim(charge)
    value = made.read(text)
    if made.kind == "apparent power" and units.in_watts(units.split_number(text)[1]):
        bound.taken[made.name] = phrase("taken as {value}; see the plate", value=made.shown(value))
    return value


def _record_value(path: str, values: Mapping[str, Any]) -> tuple[Any, Origin]:
    """The value behind "unit.motor.power" and the record that holds it, if any."""
    if not path:
        return _NOTHING
    first, rest = _steps(path)
    holder = values.get(first)
    found = holder
    for part in rest:
        if found is None:
            return _NOTHING
        if hasattr(found, "key"):
            holder = found
        found = getattr(found, part)
    return _NOTHING if found is None else (found, _by_record(getattr(holder, "name", "")))


_NOTHING = (None, NOWHERE)


@lru_cache(maxsize=1024)  # paths of fields, the same for each form that has them
def _steps(path: str) -> tuple[str, list[str]]:
    first, *rest = path.split(".")
    return first, rest


@lru_cache(maxsize=256)
def _by_record(name: str) -> Origin:
    return Origin("record", name)


@lru_cache(maxsize=256)
def _by_default(basis: str) -> Origin:
    return Origin("default", basis)


_trimmed = lru_cache(maxsize=4096)(units.trim)  # what forms hold changes little


def _bind_rows(bound: Bound, made: Rows, layers: Sequence[Layer]) -> None:
    kept = made.usual or not bound.own_boat
    name, source, origin = made.name, made.example if kept else (), DEFAULT
    if made.shelf:
        source, origin = _rows_of_records(made, bound), SHELF
    for layer in layers:
        if name in layer.texts:
            source, origin = layer.texts[name], layer.origin
            break
    bound.origins[name] = origin
    if origin is SHELF and (every := made.all_of(bound.shelves)):
        bound.rows[name], bound.texts[name], bound.values[name] = [], [], every
        return
    if (
        not isinstance(source, Sequence)
        or isinstance(source, str)
        or not all(isinstance(row, Mapping) for row in source)
    ):
        bound.faults.append(
            Fault(name, made.label, "must be a list of rows, each with named values")
        )
        source = ()
    if len(source) > made.most:
        sentence = phrase("has {n} rows; at most {most} are allowed", n=len(source), most=made.most)
        bound.faults.append(Fault(name, made.label, sentence))
        source = source[: made.most]
    shown = units.decimal_mark.get(), units.chosen_system.get(), language.code(), units.money.get()
    read = [_bound_row(made.row, origin, row, bound.shelves, shown) for row in source]
    bound.rows[name] = [row for row, _ in read]
    bound.texts[name] = [row.texts for row, _ in read]
    bound.values[name] = tuple([values for _, values in read])
    for index, row in enumerate(bound.rows[name]):
        for fault in row.faults:
            where = phrase(
                "{list}, {one} {n}, {field}",
                list=phrase(made.label),
                one=phrase(made.one),
                n=index + 1,
                field=lazily(fault.where),
            )
            bound.faults.append(Fault(f"{name}.{index}.{fault.field}", where, fault.told))


_Shown = tuple[str, str, str, str]
_Row = tuple[Bound, Inputs]  # as it is read, and its values


def _bound_row(
    asks: type[Inputs], origin: Origin, row: Mapping[str, Any], shelves: Shelves, shown: _Shown
) -> _Row:
    if asks.by_text:
        texts = tuple([(name, as_text(text)) for name, text in row.items()])
        return _bound_texts(asks, origin, texts, shown)  # type: ignore[arg-type]  # classes hash
    found = bind(asks, Layer(origin, row), shelves=shelves)
    return found, found.as_values()


@lru_cache(maxsize=512)  # a list has many rows, and one keystroke changes one of them
def _bound_texts(
    asks: type[Inputs], origin: Origin, texts: tuple[tuple[str, str], ...], _shown: _Shown
) -> _Row:
    """A row as it is read; its faults are written with the decimal mark, the units, the language
    and the money of the moment."""
    found = bind(asks, Layer(origin, dict(texts)))
    return found, found.as_values()


def _rows_of_records(made: Rows, bound: Bound) -> list[dict[str, Any]]:
    """The records of a shelf that belong to the chosen unit, as rows; of those that belong to none
    the first, as many as a list takes."""
    unit = bound.values.get(made.belongs)
    found = [
        {name: text for name, text in record.texts.items() if name in made.row.fields}
        for record in bound.shelves.get(made.shelf, {}).values()
        if _belongs(record, unit)
    ]
    return found if made.belongs else found[: made.most]


def _belongs(record: Any, unit: Any) -> bool:
    """Whether a record is for this unit: of a kind that names no units each is."""
    units = getattr(record, "units", None)
    return not units or unit is None or unit.key in units.replace(",", " ").split()


def _check_limits(bound: Bound, made: Field, limits: Sequence[Limit]) -> None:
    value = bound.values.get(made.name)
    if value is None or bound.faults_of(made.name):
        return
    value = _trimmed(value)
    for limit in limits:
        held_against = limit.value if limit.value is not None else _of_other(bound, limit.told)
        if held_against is not None and not limit.holds(value, held_against):
            typed = made.tidy(str(bound.texts[made.name]))
            told = _limit_told(bound, made, limit.told)
            sentence = phrase(NOT_ALLOWED[limit.word], typed=typed, limit=told)
            bound.faults.append(Fault(made.name, made.label, sentence))
            return


def _of_other(bound: Bound, other: Other) -> float | None:
    value = bound.values.get(other.name)
    return None if value is None else _trimmed(value * other.factor)


def _limit_told(bound: Bound, made: Field, limit: Any) -> str:
    system = units.chosen_system.get()
    if isinstance(limit, Other):
        other = bound.asks.fields[limit.name]
        value = other.shown(bound.values[limit.name], system)
        if limit.factor == 1:
            return spoken("“{field}” ({value})", field=spoken(other.label), value=value)
        return spoken(
            "{factor} × “{field}” ({value})",
            factor=units.number_text(limit.factor),
            field=spoken(other.label),
            value=value,
        )
    if not isinstance(made, Quantity):
        return str(limit)
    return limit_text(made, limit, made.above == limit or made.at_least == limit, system)


def limit_text(made: Quantity, limit: str, low: bool, system: str) -> str:
    """A limit as it is declared, or in US units, rounded so that what is told is allowed."""
    symbol = units.split_number(limit)[1]
    if system != "us" or units.shown_unit(symbol, "us") == symbol:
        return units.join(*_parted(limit))
    value = units.parse(limit, symbol, made.kind)
    return units.text(value, symbol, "us", 3, "up" if low else "down")


def _parted(quantity: str) -> tuple[str, str]:
    number, _, unit = quantity.partition(" ")
    return number, unit
