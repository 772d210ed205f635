"""Equipment records: motors, pumps, membranes, generators, batteries ... out of TOML files.

Records are the host's to write. Each kind is declared like a calculator's form (see `kinds`), so a
record is read, checked and complained about by the same rules; every fault names file, line, record
and field. The set in `records/` is Brinebook's own invention and no copy of anybody's range.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ..frame.files import line_of
from ..frame.inputs import Inputs, Layer, Origin, Shelves, bind, nearest

FOLDER = Path(__file__).parent / "records"


class EquipmentError(ValueError):
    """Faults in equipment files, one sentence a line, each with file, line, record and field."""


Record = Any  # a `Kind`, or a boat's sheet with the key and the texts of a record


@dataclass(frozen=True)
class Place:
    """Where a record stands in its file."""

    file: str
    line: int


def load(folder: Path, kinds: Mapping[str, type[Inputs]]) -> dict[str, dict[str, Record]]:
    """Reads every *.toml of a folder. Raises EquipmentError with all faults at once."""
    shelves: dict[str, dict[str, Record]] = {kind: {} for kind in kinds}
    faults: list[str] = []
    raw: dict[str, dict[str, tuple[Mapping[str, Any], str, str]]] = {kind: {} for kind in kinds}
    for path in sorted(folder.glob("*.toml")):
        _read_file(path, raw, faults)
    for kind in kinds:  # in order: a unit refers to motors and pumps read before it
        for key, (texts, file, source) in raw[kind].items():
            made, wrong = _make(kind, kinds[kind], key, texts, file, source, shelves)
            faults.extend(wrong)
            if made is not None:
                shelves[kind][key] = made
    if faults:
        raise EquipmentError("\n".join(faults))
    return shelves


def _read_file(
    path: Path, raw: dict[str, dict[str, tuple[Mapping[str, Any], str, str]]], faults: list[str]
) -> None:
    source = path.read_text("utf-8")
    try:
        tables = tomllib.loads(source)
    except tomllib.TOMLDecodeError as error:
        faults.append(f"{path.name}: {error}")
        return
    for kind, records in tables.items():
        if kind not in raw:
            line = line_of(source, kind, "", "")
            faults.append(
                f"{path.name}, line {line}: no kind is called “{kind}”.{nearest(kind, raw)}"
            )
            continue
        for key, texts in records.items():
            if not isinstance(texts, Mapping):
                line = line_of(source, kind, "", key)
                faults.append(f"{path.name}, line {line}: write records as [{kind}.name]")
            elif key in raw[kind]:
                line = line_of(source, kind, key, "")
                faults.append(f"{path.name}, line {line}: a {kind} “{key}” exists already")
            else:
                raw[kind][key] = (texts, path.name, source)


def _make(
    kind: str,
    asks: type[Inputs],
    key: str,
    texts: Mapping[str, Any],
    file: str,
    source: str,
    shelves: Shelves,
) -> tuple[Record | None, list[str]]:
    bound = bind(asks, Layer(Origin("file"), texts), shelves=shelves)
    if bound.faults:
        return None, [
            f"{file}, line {line_of(source, kind, key, fault.field.partition('.')[0])}: "
            f"{kind} “{key}”, {fault.field}: {fault.sentence}"
            for fault in bound.faults
        ]
    made = asks.of({**bound.values, "key": key, "kind": kind, "texts": dict(texts)})
    return made, []
