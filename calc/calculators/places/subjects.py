"""What a place is judged by: each subject with the calculator that answers it, and its part of it.

A cell is that page's own answer, a place's values filled in: the two can't disagree.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from ...frame.asking import Answered, Asking, ask_first
from ...frame.figures import SEVERITY
from ...frame.report import FAILS, UNASKED, Figure, Line, Option, line
from ...sheet.places import Spot
from ...system.place import IN_ITS_ROOM
from .asks import Asks


@dataclass(frozen=True)
class Subject:
    """A subject by its key: its name, the calculator whose answer it is, and which of the figures
    and reasons of that answer are its own: all, unless told. No calculator: it is judged here."""

    key: str
    name: str
    calculator: str
    mine: Callable[[str], bool] | None = None


def _room(key: str) -> bool:
    return key in IN_ITS_ROOM


def _held(key: str) -> bool:
    return key not in IN_ITS_ROOM


SUBJECTS = (
    Subject("room", "Room and access", "mount", _room),
    Subject("mounts", "Mounts and sea", "mount", _held),
    Subject("quiet", "Quiet", "noise"),
    Subject("cool", "Cool", "ventilation"),
    Subject("fed", "Fed", "feed"),
    Subject("cables", "Cables", "wiring"),
    Subject("hoses", "Flush hose", "flush"),
    Subject("trim", "Trim", ""),
)


def margin(part: Option) -> float:
    """What is left of the figure that decides; nothing where a reason does."""
    found = part.decider
    return found.margin or 0.0 if isinstance(found, Figure) else 0.0


@dataclass(frozen=True)
class Cell:
    """A place under a subject: its verdict and what decides it; the answer that it is, if it is
    another page's."""

    subject: Subject
    part: Option
    answered: Answered | None = None

    @cached_property
    def verdict(self) -> str:
        """As its page has it."""
        asked = any(reason.key == UNASKED for reason in self.part.unknowns)
        return UNASKED if asked and self.part.verdict != FAILS else self.part.verdict

    @cached_property
    def severity(self) -> int:
        """How bad that is; not said is as bad as can't tell."""
        return SEVERITY[self.part.verdict]

    @cached_property
    def margin(self) -> float:
        """What is left of what decides."""
        return margin(self.part)


@dataclass(frozen=True)
class Judged:
    """A place with all its cells, in the order of the subjects; `number` is its row."""

    number: int
    spot: Spot
    cells: tuple[Cell, ...]

    @property
    def name(self) -> str:
        """What its owner calls it."""
        return self.spot.what

    @cached_property
    def severities(self) -> list[int]:
        """How bad its cells are, the worst first."""
        return sorted((cell.severity for cell in self.cells), reverse=True)

    @property
    def rank(self) -> tuple[list[int], float, int]:
        """The worst cell decides, then the next; of equals who has more in hand where she has
        least."""
        return self.severities, -self.least.margin, self.number

    @cached_property
    def least(self) -> Cell:
        """The cell with the least in hand, the worst first."""
        return min(self.cells, key=lambda cell: (-cell.severity, cell.margin))


def judged(q: Asks, ask: Asking) -> list[Judged]:
    """All places, the best first."""
    found = [
        Judged(number, spot, tuple(_cells(q, spot, ask)))
        for number, spot in enumerate(q.checked(), 1)
    ]
    return sorted(found, key=lambda one: one.rank)


def _cells(q: Asks, spot: Spot, ask: Asking) -> Iterator[Cell]:
    says = spot.says(q.skin(), q.has_boost)
    open_still = spot.leaves_open(says, q.has_boost)
    for subject in SUBJECTS:
        if subject.calculator:
            answered = ask(subject.calculator, says, open_still)
            part = answered.part(subject.key, subject.name, subject.mine)
            yield Cell(subject, part, answered)
        else:
            yield Cell(subject, _trim(q, spot, subject))


_FLOATS = ("displacement", "waterline_length", "waterline_beam")


def _trim(q: Asks, spot: Spot, subject: Subject) -> Option:
    """Heel and trim by moments, as far as it is said where the place lies and how she floats."""
    part = Option(subject.key, subject.name)
    lies: dict[str, Any] = {"ahead": spot.ahead, "aside": spot.aside}
    missing = [spot.fields[name].label for name, value in lies.items() if value is None]
    missing += [q.fields[name].label for name in _FLOATS if name in q.unsaid]
    if missing or spot.spot is None:
        ask_first(part, missing)
        return part
    made = q.trim(spot.spot)
    part.held(
        "heel",
        "Heel at rest, by the set",
        made.held["heel"],
        "°",
        note="an estimate",
        says=_says(made.heels, "heel"),
    )
    part.held(
        "trim",
        "Trim from bow to stern, by the set",
        made.held["trim"],
        "mm",
        note="an estimate",
        says=_says(made.trims, "trim"),
    )
    return part


_SAYS = {
    ("heel", True): "it heels her {v} to starboard, an estimate",
    ("heel", False): "it heels her {v} to port, an estimate",
    ("trim", True): "it puts her down by the bow by {v}, an estimate",
    ("trim", False): "it puts her down by the stern by {v}, an estimate",
}


def _says(value: float, key: str) -> Line:
    return line(_SAYS[key, value >= 0], v=(abs(value), "°" if key == "heel" else "mm"))
