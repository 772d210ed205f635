"""The guide that this package brings along: its boat sheet, its equipment, its calculators."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import replace
from functools import cache
from typing import Any

from . import calculators, cautions, equipment, own
from .equipment import kept
from .equipment.kinds import KINDS
from .frame.guide import Calculator, Guide
from .frame.inputs import Inputs, Shelves
from .frame.language import ENGLISH, catalogue
from .sheet import BoatSheet, places, start
from .sheet.groups import WHY
from .version import VERSION

NONE: Mapping[str, Calculator] = {}
NOTHING: own.Sources = {}


def guide() -> Guide:
    """The guide that is in use: the stock one, unless it is `used` that says otherwise.

    Raises EquipmentError with all faults of its records at once.
    """
    return _used.get() or with_layers()


_used: ContextVar[Guide | None] = ContextVar("the guide in use", default=None)


@contextmanager
def used(made: Guide) -> Iterator[None]:
    """Within it `guide` is this one."""
    token = _used.set(made)
    try:
        yield
    finally:
        _used.reset(token)


def kinds(theirs: Mapping[str, Calculator] = NONE) -> dict[str, type[Inputs]]:
    """All kinds of record by their names, in the order in which they refer to one another; those
    too that the calculators of an edition bring along."""
    found = [*calculators.found().values(), *theirs.values()]
    brought = {kind.shelf: kind for made in found for kind in made.kinds}
    return {**KINDS, **brought, "boat": BoatSheet}


def records() -> equipment.Files:
    """The records that come along, as the lowest layer."""
    return equipment.folder(equipment.FOLDER)


@cache
def _stock() -> Guide:
    return with_shelves(equipment.load([records()], kinds()))


def with_layers(*layers: equipment.Files, sources: own.Sources = NOTHING) -> Guide:
    """The stock guide with other layers of records over its own, the lowest first, and with the
    calculators that these `sources` are (see `own`).

    Raises EquipmentError with all faults of all layers at once.
    """
    if not layers and not sources:
        return _stock()
    theirs = own.load(sources)
    shelves = equipment.load([records(), *layers], kinds(theirs))
    return with_shelves(shelves, theirs, sources)


def with_shelves(
    shelves: Shelves, theirs: Mapping[str, Calculator] = NONE, sources: own.Sources = NOTHING
) -> Guide:
    """The stock guide with these records in place of its own, and with calculators beside its own,
    whose sources travel in its `data`."""
    return Guide(
        BoatSheet,
        kinds(theirs),
        shelves,
        {**calculators.found(), **theirs},
        cautions.ALL,
        cautions.CAUTIONS,
        start.QUESTIONS,
        start.APART,
        WHY,
        places.filled,
        version=VERSION,
        sources=sources,
    )


def data(made: Guide) -> str:
    """What a guide has that this package doesn't say, as JSON: {"records": {kind: {key: fields}}};
    the sources of `calculators` of its own by path, and where it doesn't speak English its
    `language`; where one is told, its `money`."""
    shelves = made.shelves.items()
    records = {
        kind: {key: record.texts for key, record in shelf.items()} for kind, shelf in shelves
    }
    held: dict[str, Any] = {"records": records}
    if made.sources:
        held["calculators"] = dict(made.sources)
    if made.language is not ENGLISH:
        held["language"] = made.language.as_data()
    if made.money:
        held["money"] = made.money
    return json.dumps(held, ensure_ascii=False, separators=(",", ":"))


def from_data(text: str) -> Guide:
    """The guide again from its `data`, for a Python that has its code alone."""
    held = json.loads(text)
    sources = held.get("calculators", NOTHING)
    theirs = own.load(sources)
    made = with_shelves(kept.shelves(held["records"], kinds(theirs)), theirs, sources)
    made = replace(made, money=held.get("money", ""))
    return replace(made, language=catalogue(held["language"])) if "language" in held else made
