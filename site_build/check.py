"""What is wrong with an edition, or doubtful, all at once and in seconds: no engine, no browser.

What `check` refuses, `build` refuses too. The stock is checked by the same rules (`check(None)`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from calc import equipment, stock
from calc.equipment import layers as layers_of
from calc.equipment.layers import Given
from calc.frame.files import FileFault
from calc.frame.guide import Guide
from calc.frame.inputs import nearest

from . import (
    brand,
    check_answers,
    doubts,
    edition,
    language_sites,
    making,
    own_calculators,
    page_check,
)
from .edition import FILE, STOCK, Edition, EditionError


@dataclass(frozen=True)
class Checked:
    """What was found. `guide` is there unless its records or its own calculators have faults.

    `notes` are what is done for the host, a sentence each: nothing has to be mended.
    """

    edition: Edition
    guide: Guide | None
    faults: tuple[FileFault, ...] = ()
    doubts: tuple[FileFault, ...] = ()
    notes: tuple[str, ...] = ()


def check(folder: Path | None) -> Checked:
    """Everything wrong with the edition in a folder, or with the stock."""
    made, faults, readable = _edition(folder)
    if not readable:  # whose records and pages these are to be held against is not known
        return Checked(made, None, _sorted(faults))
    theirs = own_calculators.read(made)
    faults += theirs.faults
    kinds = stock.kinds(theirs.calculators)
    read = equipment.read([stock.records(), *layers(made)], kinds)
    # A kind that a calculator brings along is unknown where that couldn't be loaded: told once.
    faults += [one for one in read.faults if not (theirs.faults and one.key == "kind")]
    faults += _dangling(read)
    faults += (roles := list(_roles(made, read)))
    faults += brand.faults(made)
    found, silenced = [], set()
    of_records = doubts.of(read, _stock(folder), made.currency)
    for name, doubt in (*of_records, *page_check.unwritten(made)):
        if name in made.doubts:
            silenced.add(name)
        else:
            found.append(doubt)
    found += _stale(made, silenced)
    notes = _passed_over(made)
    if read.faults or theirs.faults:
        faults += page_check.alone(made)
        return Checked(made, None, _sorted(faults), _sorted(found), notes)
    guide = stock.with_shelves(read.shelves, theirs.calculators, theirs.sources)
    guide = replace(guide, money=made.currency)
    sites, wrong_words, doubtful = language_sites.spoken(made)
    faults += wrong_words
    found += doubtful
    with making.within(made, guide):
        faults += own_calculators.unasked(theirs, page_check.asked(made))
        if wrong := list(own_calculators.tried(theirs, guide)):
            faults += [*wrong, *page_check.alone(made)]
            return Checked(made, None, _sorted(faults), _sorted(found), notes)
        faults += check_answers.refused(guide, made, read)
        if roles:  # each page would tell it again
            faults += page_check.alone(made)
            return Checked(made, None, _sorted(faults), _sorted(found), notes)
        wrong, told, wanted = page_check.pages(made)
        faults += wrong
        notes += (*told, *language_sites.lacking(made, wanted))
    for site in sites:
        with site.speaking(), making.within(made, language_sites.guide_in(guide, site)):
            faults += page_check.of_language(made, site.catalogue.code)
    return Checked(made, guide, _sorted(faults), _sorted(found), notes)


def layers(made: Edition) -> list[equipment.Files]:
    """The layers of records that an edition lays over the stock's."""
    folder = made.equipment
    return [equipment.folder(folder, f"{edition.EQUIPMENT}/")] if folder else []


def _passed_over(made: Edition) -> tuple[str, ...]:
    """Files among the records that are none."""
    folder = made.equipment
    names = layers_of.unread(folder, f"{edition.EQUIPMENT}/") if folder else []
    return tuple(f"{name}: isn't read; records stand in files called ….toml" for name in names)


def _edition(folder: Path | None) -> tuple[Edition, list[FileFault], bool]:
    """The edition, what is wrong with its file, and whether that could be read at all."""
    if folder is None:
        return STOCK, [], True
    try:
        return edition.read(folder), [], True
    except EditionError as error:
        rest = error.rest
        return rest or replace(STOCK, folder=folder), list(error.faults), rest is not None


def _stock(folder: Path | None) -> Any:
    return stock.with_layers().shelves if folder is not None else {}


def _sorted(faults: Sequence[FileFault]) -> tuple[FileFault, ...]:
    """By file, edition.toml first, and by line; none twice."""
    unique = dict.fromkeys(faults)
    return tuple(sorted(unique, key=lambda one: (one.file != FILE, one.file, one.line)))


def _dangling(read: equipment.Read) -> Iterator[FileFault]:
    """What names of other records are there only in the text: units of a task, a part's task."""
    units = read.given.get("unit", {})
    named: dict[str, Given] = {}
    for given in read.given.get("task", {}).values():
        name = str(given.texts.get("name", "")).strip()
        twin = named.setdefault(name.lower(), given)
        if name and twin is not given:
            sentence = f"“{name}” is {twin.said} already; a log knows tasks by their names"
            yield given.fault("same name", sentence, "name")
    for kind in ("task", "part"):
        for given in read.given.get(kind, {}).values():
            for key in sorted(_units(given, units)):
                if key not in units:
                    sentence = f"no unit is called “{key}”.{nearest(key, units)}"
                    yield given.fault("dangling", sentence, "units")
    gone = {
        str(one.given.texts.get("name", "")).strip().lower(): one
        for (kind, _), one in read.dropped.items()
        if kind == "task"
    }
    for given in read.given.get("part", {}).values():
        name = str(given.texts.get("task", "")).strip()
        if name.lower() in gone and name.lower() not in named:
            yield gone[name.lower()].fault(given, "task")
        elif name and name.lower() not in named:
            names = [str(one.texts.get("name", "")) for one in named.values()]
            sentence = f"no task is called “{name}”.{nearest(name, names)}"
            yield given.fault("dangling", sentence, "task")
        elif (
            name
            and (task := named[name.lower()])
            and not _units(given, units) <= _units(task, units)
        ):
            sentence = f"{task.said} is for fewer units than this part: both need the same “units”"
            yield given.fault("dangling", sentence, "task")


def _units(given: Given, all_units: Mapping[str, Given]) -> set[str]:
    """The units that a task or a part belongs to: all, where it names none."""
    return set(str(given.texts.get("units", "")).replace(",", " ").split()) or set(all_units)


def _roles(made: Edition, read: equipment.Read) -> Iterator[FileFault]:
    """The examples must be there."""
    for kind, field, keys in (("unit", "unit", (made.unit,)), ("boat", "boats", made.boats)):
        there = read.given.get(kind, {})
        if not there:
            sentence = f"no {kind} is left: keep one or add one; pages are filled in with it"
            yield made.fault("role", sentence, "examples", field)
            continue
        for key in keys:
            if key not in there:
                sentence = f"no {kind} is called “{key}”.{nearest(key, there)}"
                yield made.fault("role", sentence, "examples", field)


def _stale(made: Edition, silenced: set[str]) -> Iterator[FileFault]:
    """A doubt that is kept quiet about and isn't one any more."""
    for name in made.doubts:
        if name not in silenced:
            sentence = "nothing is in doubt here any more: take this line out"
            yield made.fault("stale", sentence, "doubts", name)
