"""The box part by part, why each is in it, and what confidence costs."""

from __future__ import annotations

from collections.abc import Sequence
from functools import reduce

from ...frame import log
from ...frame.report import (
    Amount,
    Axis,
    Chart,
    Line,
    Mark,
    Pair,
    Report,
    Series,
    Words,
    amount,
    counted,
    line,
)
from ...sheet.year import told
from ...system.spares import Box, Need, Trip
from .asks import Asks

FALSE_PRECISION = 0.01  # chances and failures below it rest on rates that nobody knows so well
_WANTED = (0.8, 0.9, 0.95, 0.98, 0.99)

Cell = Pair | Amount | Words


def chance(share: float) -> Amount | str:
    """A chance as well as it can be known."""
    return "under 1 %" if share < FALSE_PRECISION else amount(share, "%", 2)


def headline(box: Box, trip: Trip, show: Report) -> None:
    """How many pieces for how many hours, and how sure."""
    if not box.pieces:
        show.headline(
            "Nothing to carry from {leave} to {back}: nothing falls due, and the chance that a "
            "part is missing is {risk}."
            if trip.use.total
            else "Nothing to carry from {leave} to {back}: it stands all that time and nothing "
            "falls due, and the chance that a part is missing is {risk}.",
            leave=told(trip.leave),
            back=told(trip.back),
            risk=chance(box.risk),
        )
        return
    show.headline(
        "{pieces}, {mass}, {cost}, for {hours} of running: the chance that a part is missing is "
        "{risk}; with only what falls due it would be {bare}.",
        pieces=counted(box.pieces, "{n} piece", "{n} pieces"),
        mass=(box.mass, "kg"),
        cost=(box.cost, "¤"),
        hours=(trip.use.total, "h"),
        risk=chance(box.risk),
        bare=chance(box.bare),
    )


# ---- part by part ----

_HEADS = ("Part", "Carry", "Why", "Chance it runs out", "Mass", "Price", "Last one used")


def listed(q: Asks, box: Box, show: Report) -> None:
    """What is carried, what is not, and why."""
    used = log.last_done(q.log or ())
    carried: list[list[Cell]] = []
    left: list[list[Cell]] = []
    rows = {id(need): row for need, row in zip(box.needs, q.carried(), strict=True)}
    for need, count in sorted(
        box.lines, key=lambda one: (-(one[0].due + one[1]), one[0].part.name)
    ):
        number = need.due + count
        (carried if number else left).append(
            [
                need.part.name,
                str(number),
                _reason(q, need, count),
                chance(need.short(count)) if need.part.may_fail else "not reckoned",
                (number * need.part.mass, "kg"),
                (number * need.part.price, "¤") if need.part.price else "not said",
                _last_used(rows[id(need)].task, used),
            ]
        )
    if carried:
        show.table("box", "The box", _HEADS, carried, lead=True, on_card=(0, 1, 4, 5))
    if left:
        show.table("left", "Not in it", _HEADS, left, note="The numbers do not ask for these.")
    _two_is_one(q, box, show)


def _two_is_one(q: Asks, box: Box, show: Report) -> None:
    """Where a second spare for failures goes in: for its own sake, or for the whole box's."""
    doubled = [need for need, count in box.lines if count >= 2]
    alone = [need.part.name for need in doubled if need.covered(1) < q.confidence]
    for_box = [need.part.name for need in doubled if need.covered(1) >= q.confidence]
    if alone:
        show.note(
            "Two is one: with a single spare of {names} the chance of running out is above {risk}.",
            names=_and_so_on(alone),
            risk=(1 - q.confidence, "%"),
        )
    if for_box:
        show.note(
            "Of {names}: one spare of each would be enough alone. More of them go in for "
            "the whole box: the chances of all its parts add up, and it should be {sure} sure for "
            "the least money.",
            names=_and_so_on(for_box),
            sure=(q.confidence, "%"),
        )
    if not doubled and box.pieces:
        show.note("No part needs a second spare for failures: one of each is enough here.")


def _and_so_on(names: Sequence[str]) -> Line:
    """Names one after the other."""
    first = line("{name}", name=names[0])
    return reduce(
        lambda so_far, name: line("{names}, {name}", names=so_far, name=name), names[1:], first
    )


_TOGETHER = ("{one}", "{one}; {two}", "{one}; {two}; {three}")


def _reason(q: Asks, need: Need, count: int) -> Line:
    """Why so many: what falls due, what more use asks for, what may fail."""
    found = [*_due(q, need), *_for_failures(q, need, count)] or [_none(need)]
    return line(
        _TOGETHER[len(found) - 1], **dict(zip(("one", "two", "three"), found, strict=False))
    )


def _due(q: Asks, need: Need) -> list[Line]:
    found, each, many = [], need.part.per_change, len(need.dues)
    if many and each:
        first = need.dues[0].day
        found.append(
            line(
                "{due} due at {times} changes from {day}",
                due=need.planned,
                times=many,
                day=told(first),
            )
            if many > 1
            else line("{due} overdue since {day}", due=need.planned, day=told(first))
            if first < q.today
            else line("{due} due on {day}", due=need.planned, day=told(first))
        )
    if need.changes > many and each:
        found.append(
            line(
                "{more} more if it runs {spread} more"
                if many
                else "{more} due if it runs {spread} more",
                more=need.due - need.planned,
                spread=(q.spread, "%"),
            )
        )
    return found


_FOR_FAILURES = {
    (True, False): "{count} for failures: with none the chance of running out is {less}",
    (False, False): "{count} for failures: with {fewer} the chance of running out is {less}",
    (False, True): "{count} for failures: with {fewer} the chance of running out is {less}, but "
    "the whole box should be {sure} sure",
}
"""By whether it is the only one, and whether one fewer would be enough for the part alone."""


def _for_failures(q: Asks, need: Need, count: int) -> list[Line]:
    if not count:
        return []
    for_box = count >= 2 and need.covered(count - 1) >= q.confidence
    return [
        line(
            _FOR_FAILURES[count == 1, for_box],
            count=count,
            fewer=count - 1,
            less=chance(need.short(count - 1)),
            sure=(q.confidence, "%"),
        )
    ]


def _none(need: Need) -> Line:
    if need.expected <= 0:
        return line("nothing falls due")
    if need.expected < FALSE_PRECISION:
        few = amount(FALSE_PRECISION, "", 2)
        return line("fewer than {expected} failures expected", expected=few)
    return line("{expected} failures expected", expected=amount(need.expected, "", 2))


def _last_used(task: str | None, used: dict[str, log.LastDone]) -> Words:
    found = used.get((task or "").lower())
    if found is None:
        return ""
    if not found.note:
        return told(found.day)
    return line("{day}, {note}", day=told(found.day), note=found.note)


# ---- what confidence costs ----


def confidence(q: Asks, box: Box, show: Report) -> None:
    """Cost and mass of the whole box as the best next piece goes in, one after the other."""
    filled = list(box.filling())
    wanted = list(_WANTED)
    rows: list[list[Cell]] = []
    for one in filled:
        while wanted and one.chance >= wanted[0]:
            sure = line("{sure}", sure=(wanted.pop(0), "%"))
            rows.append([sure, str(one.pieces), (one.mass, "kg"), (one.cost, "¤")])
    if rows:
        show.table(
            "sure",
            "What confidence in the whole box costs",
            ("Confidence", "Pieces", "Mass", "Cost"),
            rows,
        )
    if not box.order:
        return
    show.chart(
        Chart(
            "confidence",
            "What confidence costs, adding the best piece each time",
            Axis("Cost of the box", "¤"),
            Axis("Chance that nothing is missing", "%", 0.0, 1.0),
            [Series("the box", [(one.cost, one.chance) for one in filled], steps=True)],
            limits=[Mark("wanted", q.confidence)],
            summary=counted(
                len(box.order),
                "From {bare} with what falls due alone to {sure} with {n} piece more.",
                "From {bare} with what falls due alone to {sure} with {n} pieces more.",
                bare=(filled[0].chance, "%"),
                sure=(filled[-1].chance, "%"),
            ),
        )
    )
