"""Each unit and each boat of an edition, run through every calculator.

For hundreds of units that takes a minute. So a large edition keeps what was found, in a folder of
its own (`KEPT`), with a hash of every record that was looked at: where none of them has changed,
nor any code, it is found again without a run.
"""

from __future__ import annotations

import hashlib
import json
import os
import platform
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from importlib.metadata import version
from pathlib import Path
from typing import Any

import calc
from calc import equipment
from calc.frame.files import FileFault
from calc.frame.guide import Calculator, Guide

from .edition import Edition

KEPT = ".brinebook"  # in the edition's directory
FILE = "checked.json"
FEW = 30  # units and boats; so many are run again in seconds
EVERY = "*"  # in place of a key: all records of a kind were looked at


def refused(guide: Guide, made: Edition, read: equipment.Read) -> Iterator[FileFault]:
    """A fault for each unit or boat that a calculator has no answer for."""
    cases = [(kind, key) for kind in ("boat", "unit") for key in read.given[kind]]
    kept = _Kept.of(made.folder if len(cases) > FEW else None, guide)
    for kind, key in cases:
        for calculator, typed, example in _forms(guide, kind, key, made):
            if told := kept.told(calculator, typed, example):
                title = calculator.title
                yield read.given[kind][key].fault("answer", f"“{title}” has no answer: {told}")
    kept.write()


Filled = Mapping[str, str]  # key of a record by the name of its field


def _forms(
    guide: Guide, kind: str, key: str, made: Edition
) -> Iterator[tuple[Calculator, Filled, Filled]]:
    """Each calculator that a record goes into, with what is typed and the example's boat."""
    usual = {"boat": made.boats[0]} if made.boats[0] in guide.shelf("boat") else {}
    for calculator in map(guide.get, guide.names()):
        if kind == "boat":
            yield calculator, {}, {"boat": key}
        elif "unit" in calculator.asks.fields:
            yield calculator, {"unit": key}, usual


def _refused(guide: Guide, calculator: Calculator, typed: Filled, example: Filled) -> str:
    """Why a calculator has no answer; nothing where it has one."""
    try:
        outcome = guide.run(calculator, typed, example=example, verdict_only=True)
    except (ValueError, ArithmeticError) as error:
        return str(error)
    return "; ".join(map(str, outcome.bound.faults)) if outcome.report is None else ""


# --- What is kept ----------------------------------------------------------------------------


@dataclass
class _Kept:
    """What earlier checks found, by calculator and keys: {"looked": {"kind key": hash}, "told": …}.

    By calculator, for one that lists all units looks at each, and others at few.
    """

    guide: Guide
    path: Path | None
    code: str = ""
    before: Mapping[str, Any] = field(default_factory=dict)
    now: dict[str, Any] = field(default_factory=dict)
    hashes: dict[tuple[str, str], str] = field(default_factory=dict)

    @classmethod
    def of(cls, folder: Path | None, guide: Guide) -> _Kept:
        """What is kept in an edition's directory; without one nothing is, nor will be."""
        if folder is None:
            return cls(guide, None)
        path, code = folder / KEPT / FILE, _code(guide)
        try:
            held = json.loads(path.read_text("utf-8"))
            before = held["found"] if held["code"] == code else {}
        except (OSError, ValueError, KeyError, TypeError):
            before = {}
        return cls(guide, path, code, before if isinstance(before, dict) else {})

    def told(self, calculator: Calculator, typed: Filled, example: Filled) -> str:
        """Why a calculator has no answer, run again unless nothing has changed."""
        if self.path is None:
            return _refused(self.guide, calculator, typed, example)
        name = " ".join([calculator.name, *typed.values(), "of", *example.values()])
        found = self._again(name)
        if found is None:
            looked: set[tuple[str, str]] = set()
            shelves = {k: _Watched(shelf, k, looked) for k, shelf in self.guide.shelves.items()}
            # A guide of its own: what another one has answered would be taken without a look.
            found = _refused(replace(self.guide, shelves=shelves), calculator, typed, example)
            hashes = {" ".join(one): self._hash(*one) for one in sorted(looked)}
            self.now[name] = {"looked": hashes, "told": found}
        return found

    def _again(self, name: str) -> str | None:
        try:
            kept = self.before[name]
            looked = [(*one.split(" ", 1), hashed) for one, hashed in kept["looked"].items()]
            same = all(self._hash(kind, key) == hashed for kind, key, hashed in looked)
            told = str(kept["told"])
        except (KeyError, TypeError, ValueError, AttributeError):
            return None
        if not same:
            return None
        self.now[name] = kept
        return told

    def _hash(self, kind: str, key: str) -> str:
        """Of a record with all that it refers to, or of all records of a kind."""
        if (kind, key) not in self.hashes:
            shelf = self.guide.shelves[kind]
            if key == EVERY:
                said: Any = [(one, self._hash(kind, one)) for one in shelf]
            else:
                said = _said(shelf[key]) if key in shelf else None
            text = json.dumps(said, sort_keys=True, default=str)
            self.hashes[kind, key] = hashlib.sha256(text.encode()).hexdigest()[:16]
        return self.hashes[kind, key]

    def write(self) -> None:
        """Keep it, unless the directory can't be written to: then the next check takes longer."""
        if self.path is None or self.now == self.before:
            return
        try:
            self.path.parent.mkdir(exist_ok=True)
            (self.path.parent / ".gitignore").write_text("*\n", "utf-8")
            fresh = self.path.with_suffix(f".{os.getpid()}")
            fresh.write_text(json.dumps({"code": self.code, "found": self.now}), "utf-8")
            fresh.replace(self.path)
        except OSError:
            return


class _Watched(Mapping[str, Any]):
    """A shelf that notes which of its records are looked at."""

    def __init__(self, shelf: Mapping[str, Any], kind: str, looked: set[tuple[str, str]]) -> None:
        self._shelf, self._kind, self._looked = shelf, kind, looked

    def __getitem__(self, key: str) -> Any:
        self._looked.add((self._kind, key))
        return self._shelf[key]

    def __contains__(self, key: object) -> bool:
        self._looked.add((self._kind, str(key)))
        return key in self._shelf

    def __iter__(self) -> Iterator[str]:
        self._looked.add((self._kind, EVERY))
        return iter(self._shelf)

    def __len__(self) -> int:
        self._looked.add((self._kind, EVERY))
        return len(self._shelf)


def _said(record: Any) -> Any:
    """The texts of a record and, in place of each key, those of the record that it refers to."""
    referred = {
        name: _said(value)
        for name in type(record).fields
        if hasattr(value := getattr(record, name, None), "texts")
    }
    return [record.texts, referred]


def _code(guide: Guide) -> str:
    """A hash of all that computes: ours, the edition's own, and what they stand on."""
    made = hashlib.sha256(f"{platform.python_version()} {version('pint')}".encode())
    for path in sorted(Path(calc.__file__).parent.rglob("*.py")):
        made.update(path.read_bytes() + b"\0")
    made.update(json.dumps([dict(guide.sources), guide.money], sort_keys=True).encode())
    made.update(Path(__file__).read_bytes())
    return made.hexdigest()
