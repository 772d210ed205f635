"""The same unit on the same mounts at other places, the best first."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ...frame.inputs import Refusal
from ...frame.report import FAILS, FITS, TIGHT, UNKNOWN, VERDICT_WORDS, Report
from ...sheet.standing import refusal
from ...system.layout import Room
from ...system.place import Place, Placed, placed
from ...system.unfit import Unfit
from .asks import OtherPlace
from .judge import judge
from .tell import Cell, decibels, travel

ORDER = (FITS, TIGHT, UNKNOWN, FAILS)


@dataclass(frozen=True)
class Judged:
    """A place by its name, with its own verdict and the reason for it."""

    name: str
    made: Placed
    verdict: str
    reason: Cell

    def rank(self) -> tuple[int, float]:
        return ORDER.index(self.verdict), -self.made.stand.gained

    def row(self) -> tuple[Cell, ...]:
        stand = self.made.stand
        return (
            self.name,
            VERDICT_WORDS[self.verdict],
            decibels(stand.gained),
            decibels(stand.worst_gain[0]),
            travel(stand.moved, stand.buckles),
            self.reason,
        )


def places(here: Placed, others: tuple[OtherPlace, ...], show: Report) -> None:
    """All places in a table; last those that cannot be reckoned, each with what is wrong."""
    if not others:
        return
    found = [Judged("as in the form", here, show.verdict, show.reason())]
    wrong: list[tuple[str, str]] = []
    for other in others:
        try:
            found.append(_judged(other.what, _there(here, other)))
        except Refusal as refused:
            wrong.append((other.what, str(refused)))
        except Unfit as unfit:
            wrong.append((other.what, str(refusal(unfit))))
    found.sort(key=Judged.rank)
    show.table(
        "places",
        "Where it is best",
        (
            "Place",
            "Verdict",
            "The floor shakes less by",
            "least, at any of its sounds",
            "Moves at sea by",
            "What decides",
        ),
        [
            *[one.row() for one in found],
            *[(name, "wrong values", "–", "–", "–", why) for name, why in wrong],
        ],
        [*[one.verdict for one in found], *[UNKNOWN] * len(wrong)],
        lead=True,
    )


def _judged(name: str, made: Placed) -> Judged:
    """A place with the verdict that its own answer would have."""
    part = judge(made, name)
    return Judged(name, made, part.verdict, part.reason())


def _there(here: Placed, other: OtherPlace) -> Placed:
    """The unit at another place. Refuses one that cannot be."""
    return placed(_place(here.place, other), here.stand)


def _place(here: Place, other: OtherPlace) -> Place:
    floor = replace(
        here.footing.floor,
        form="panel",
        length=other.floor_length,
        width=other.floor_width,
        material=other.floor_material,
        thickness=other.thickness,
        doubler=0.0,
        battens=0,
        plate=0.0,
    )
    if floor.cored:
        core = other.thickness - 2 * floor.skin
        if core < 0.001:
            raise Refusal("places", "its panel is no thicker than two skins")
        floor = replace(floor, core=core)
    there = here.on(
        floor=floor, hangs=other.attitude == "bulkhead", athwart=other.lies == "athwart"
    )
    room = Room(other.locker_length, other.locker_width, other.locker_height)
    return replace(there, room=room)
