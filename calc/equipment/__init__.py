"""Equipment records: motors, pumps, membranes, generators, batteries ... out of TOML files.

Records are the host's to write. Each kind is declared like a calculator's form (see `kinds`), so a
record is read, checked and complained about by the same rules; every fault names file, line, record
and field. The set in `records/` is Brinebook's own invention and no copy of anybody's range; a
guide lays its own over it (see `layers`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ..frame import units
from ..frame.files import FileFault
from ..frame.inputs import Inputs, Layer, Origin, Quantity, bind
from ..frame.inputs import Record as RecordField
from .layers import Dropped, Files, Given, Merged, folder, merged

FOLDER = Path(__file__).parent / "records"

__all__ = ["FOLDER", "EquipmentError", "Files", "Read", "Record", "folder", "load", "read"]


class EquipmentError(ValueError):
    """Faults in equipment files, one sentence a line; `faults` are the same as data."""

    def __init__(self, faults: Sequence[FileFault]) -> None:
        super().__init__("\n".join(map(str, faults)))
        self.faults = tuple(faults)


Record = Any  # a `Kind`, or a boat's sheet with the key and the texts of a record


@dataclass(frozen=True)
class Read:
    """What the layers hold: the records by kind and key, how each was given, what was dropped, and
    all faults."""

    shelves: dict[str, dict[str, Record]]
    given: Mapping[str, Mapping[str, Given]] = field(default_factory=dict)
    dropped: Mapping[tuple[str, str], Dropped] = field(default_factory=dict)
    faults: tuple[FileFault, ...] = ()


def load(
    layers: Sequence[Files], kinds: Mapping[str, type[Inputs]]
) -> dict[str, dict[str, Record]]:
    """The records of all layers, the lowest first. Raises EquipmentError with all faults."""
    found = read(layers, kinds)
    if found.faults:
        raise EquipmentError(found.faults)
    return found.shelves


def read(layers: Sequence[Files], kinds: Mapping[str, type[Inputs]]) -> Read:
    """The sound records of all layers, with what is wrong with the others."""
    found = merged(layers, kinds)
    shelves: dict[str, dict[str, Record]] = {kind: {} for kind in kinds}
    faults = list(found.faults)
    for kind in kinds:  # in order: a unit refers to motors and pumps read before it
        for given in found.records[kind].values():
            wrong = _unsigned(kinds[kind], given)
            bound = bind(kinds[kind], Layer(Origin("file"), given.texts), shelves=shelves)
            for one in bound.faults:
                if one.field in {fault.field for fault in wrong}:
                    continue
                referred = _referred(found, kinds[kind], given, one.field, shelves)
                plain = [given.fault("value", one.sentence, one.field)]
                wrong += plain if referred is None else referred
            faults += wrong
            if not wrong and not bound.faults:
                named = {"key": given.key, "kind": kind, "texts": given.texts}
                shelves[kind][given.key] = kinds[kind].of({**bound.values, **named})
    order = {name: at for at, layer in enumerate(layers) for name in layer}
    faults.sort(key=lambda fault: (order.get(fault.file, -1), fault.file, fault.line))
    return Read(shelves, found.records, found.dropped, tuple(faults))


def _unsigned(asks: type[Inputs], given: Given) -> list[FileFault]:
    """A per cent without its sign: a factor of 0.95 would be read as not quite one per cent."""
    found = []
    for name, text in given.texts.items():
        made = asks.fields.get(name)
        if isinstance(made, Quantity) and made.unit == "%" and _is_bare(text):
            sentence = (
                f"“{text}” has no unit; write it in per cent, with its sign: a factor of 0.95 is "
                "“95 %”"
            )
            found.append(given.fault("percent", sentence, name))
    return found


def _is_bare(text: Any) -> bool:
    try:
        return not isinstance(text, bool) and not units.split_number(str(text))[1]
    except units.UnitError:
        return False


def _referred(
    found: Merged, asks: type[Inputs], given: Given, name: str, shelves: Mapping[str, Any]
) -> list[FileFault] | None:
    """Where a field names a record that is not there: it was dropped, and the fault lies there; or
    it has a fault of its own, which is told already. None for any other fault."""
    made = asks.fields.get(name)
    if not isinstance(made, RecordField):
        return None
    key = str(given.texts.get(name, ""))
    if dropped := found.dropped.get((made.kind, key)):
        return [dropped.fault(given, name)]
    faulty = key in found.records.get(made.kind, {}) and key not in shelves[made.kind]
    return [] if faulty else None
