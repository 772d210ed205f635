"""Layers of equipment files, one over the other, before any record is read.

A layer is a set of TOML files; each may hold, over the layers below it,

    [motor.gale]            a record that is not there yet: it is added
    [replace.motor.gale]    a record that is there: this takes its place, whole
    [change.motor.gale]     fields of a record that is there; the others stay. "" is left unsaid.
    [drop]
    motor = ["gale", …]     records that are there go; "all" drops all of a kind

What refers to what is looked up after the last layer. Every field keeps the file and line that it
was written on.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from ..frame.files import FileFault, decoded, line_of, tables
from ..frame.inputs import nearest

ADD, REPLACE, CHANGE, DROP = "", "replace", "change", "drop"
EVERY = "all"

Files = Mapping[str, bytes]  # a layer: the content of its files, by the name that a fault gives


@dataclass(frozen=True)
class Place:
    """Where something stands in a file: its line is looked up only when it is told."""

    file: str
    source: str
    kind: str
    key: str = ""
    field: str = ""

    @property
    def line(self) -> int:
        return line_of(self.source, self.kind, self.key, self.field)


@dataclass
class Given:
    """A record as the layers give it: the texts of its fields, and where it and they stand."""

    kind: str
    key: str
    texts: dict[str, Any]
    place: Place
    places: dict[str, Place] = field(default_factory=dict)
    layer: int = 0

    @property
    def said(self) -> str:
        return f"{self.kind} “{self.key}”"

    def fault(self, key: str, sentence: str, name: str = "") -> FileFault:
        place = self.places.get(name.partition(".")[0], self.place)
        return FileFault(key, place.file, place.line, sentence, self.said, name)


@dataclass(frozen=True)
class Dropped:
    """A record that was dropped, and where."""

    given: Given
    place: Place

    def fault(self, by: Given, name: str) -> FileFault:
        """Another record still has it in one of its fields."""
        where = f"{by.place.file}, line {by.place.line}"
        sentence = (
            f"{self.given.said} is dropped, but {by.said} ({where}) has it as its {name}: "
            f"drop that too, or change its {name}"
        )
        place, kind = self.place, self.given.kind
        return FileFault("dropped", place.file, place.line, sentence, DROP, kind)


@dataclass
class Merged:
    """What all layers come to: the records by kind and key, those dropped and where, faults."""

    records: dict[str, dict[str, Given]]
    dropped: dict[tuple[str, str], Dropped] = field(default_factory=dict)
    faults: list[FileFault] = field(default_factory=list)


def folder(path: Path, shown: str = "") -> Files:
    """The files of a folder, and of those in it, as a layer; `shown` goes before each name."""
    return {shown + name: (path / name).read_bytes() for name in _files(path) if _is_read(name)}


def unread(path: Path, shown: str = "") -> list[str]:
    """What else lies in such a folder, and is passed over."""
    return [shown + name for name in _files(path) if not _is_read(name)]


def _files(path: Path) -> list[str]:
    """All but what begins with a point: such files are of editors and systems, not of hands."""
    names = (one.relative_to(path) for one in sorted(path.rglob("*")) if one.is_file())
    return [name.as_posix() for name in names if not any(p.startswith(".") for p in name.parts)]


def _is_read(name: str) -> bool:
    return name.lower().endswith(".toml")


def merged(layers: Sequence[Files], kinds: Iterable[str]) -> Merged:
    """All layers in one, the lowest first."""
    made = Merged({kind: {} for kind in kinds})
    for number, layer in enumerate(layers):
        below = {kind: dict(records) for kind, records in made.records.items()}
        read = []
        for name, content in layer.items():
            source = decoded(content, name)
            found = source if isinstance(source, FileFault) else tables(source, name)
            if isinstance(found, FileFault):
                made.faults.append(found)
            elif isinstance(source, str):
                read.append((_File(name, source, number, below, made), found))
        for file, found in read:
            file.take(found)
        for file, found in read:  # last: “all” are those that nobody put another in place of
            file.drop(found.get(DROP, {}))
    return made


@dataclass
class _File:
    """One file of a layer, laid over what stands `below` its layer."""

    name: str
    source: str
    layer: int
    below: Mapping[str, Mapping[str, Given]]
    made: Merged

    def take(self, found: Mapping[str, Any]) -> None:
        for kind, records in found.items():
            if kind == DROP:
                continue
            if kind in (REPLACE, CHANGE):
                if not isinstance(records, Mapping):
                    self._fault("form", kind, "", "", f"write records as [{kind}.kind.name]")
                    continue
                for one, texts in records.items():
                    self._kind(kind, one, texts)
            else:
                self._kind(ADD, kind, records)

    def _kind(self, way: str, kind: str, records: Any) -> None:
        header = f"{way}.{kind}" if way else kind
        if kind not in self.made.records:
            known = [*self.made.records, *(() if way else (REPLACE, CHANGE, DROP))]
            sentence = f"no kind is called “{kind}”.{nearest(kind, known)}"
            self._fault("kind", header, "", "", sentence)
            return
        if not isinstance(records, Mapping):
            self._fault("form", header, "", "", f"write records as [{header}.name]")
            return
        for key, texts in records.items():
            if not isinstance(texts, Mapping):
                self._fault("form", header, "", key, f"write records as [{header}.name]")
            else:
                self._record(way, kind, key, texts)

    def _record(self, way: str, kind: str, key: str, texts: Mapping[str, Any]) -> None:
        header = f"{way}.{kind}" if way else kind
        shelf, lower = self.made.records[kind], self.below[kind].get(key)
        there = shelf.get(key)
        if way == ADD and lower is not None:
            sentence = (
                f"a {kind} “{key}” exists already; write [replace.{kind}.{key}] for a whole "
                f"record in its place, or [change.{kind}.{key}] for some of its fields"
            )
            self._fault("twice", header, key, "", sentence)
            return
        if there is not None and there is not lower:
            sentence = f"a {kind} “{key}” exists already: {there.place.file}, {there.place.line}"
            self._fault("twice", header, key, "", sentence)
            return
        if way != ADD and there is None:
            sentence = f"no {kind} “{key}” is there to {way}.{nearest(key, self.below[kind])}"
            self._fault("absent", header, key, "", sentence)
            return
        places = {name: Place(self.name, self.source, header, key, name) for name in texts}
        here = Place(self.name, self.source, header, key)
        values = dict(texts)
        if way == CHANGE and there is not None:
            values = {
                n: v for n, v in {**there.texts, **texts}.items() if v != "" or n not in texts
            }
            places = {**there.places, **places}
        shelf[key] = Given(kind, key, values, here, places, self.layer)

    def drop(self, found: Any) -> None:
        if not isinstance(found, Mapping):
            self._fault("form", DROP, "", "", "write [drop] and below it kind = [keys]")
            return
        for kind, keys in found.items():
            if kind not in self.made.records:
                sentence = f"no kind is called “{kind}”.{nearest(kind, self.made.records)}"
                self._fault("kind", DROP, "", kind, sentence)
                continue
            lower, shelf = self.below[kind], self.made.records[kind]
            named = [k for k in lower if shelf.get(k) is lower[k]] if keys == EVERY else keys
            if not isinstance(named, list):
                sentence = f"write {kind} = [keys of records], or “{EVERY}”"
                self._fault("form", DROP, "", kind, sentence)
                continue
            for key in named:
                here = Place(self.name, self.source, DROP, "", kind)
                if key not in lower:
                    sentence = f"no {kind} “{key}” is there to drop.{nearest(str(key), lower)}"
                    self._fault("absent", DROP, "", kind, sentence)
                elif shelf.get(key) is not lower[key]:
                    sentence = f"{kind} “{key}” is dropped, and changed, replaced or dropped too"
                    self._fault("twice", DROP, "", kind, sentence)
                else:
                    self.made.dropped[kind, key] = Dropped(shelf.pop(key), here)

    def _fault(self, key: str, kind: str, record: str, name: str, sentence: str) -> None:
        line = line_of(self.source, kind, record, name)
        said = f"{kind} “{record}”" if record else ""
        self.made.faults.append(FileFault(key, self.name, line, sentence, said, name))
