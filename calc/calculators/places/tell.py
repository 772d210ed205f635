"""What is told: which place is best and why, what would make the others so, and every cell."""

from __future__ import annotations

from collections.abc import Sequence

from ...frame.asking import plain
from ...frame.report import FITS, UNKNOWN, VERDICT_WORDS, Line, Option, Report, Words, line, linked
from .asks import Asks
from .subjects import SUBJECTS, Cell, Judged


def headline(found: Sequence[Judged], show: Report) -> None:
    """The best place, and why it comes before the second."""
    first, *others = found
    words = VERDICT_WORDS[first.least.verdict]
    if not others:
        show.headline("{place}: {verdict}.", place=first.name, verdict=words)
        return
    second = others[0]
    decides = _parting(first, second)
    if decides is None and first.least.part.verdict == UNKNOWN:
        show.headline("Nothing that is said so far parts the {n} places.", n=len(found))
        return
    if decides is None:
        show.headline(
            "First of {n} places comes {place}, and {other} is its equal.",
            place=first.name,
            n=len(found),
            other=second.name,
        )
        return
    ours, theirs = decides
    show.headline(
        "First of {n} places comes {place}. Second is {other}: there {subject} decides: {what}."
        if ours.severity < theirs.severity
        else "First of {n} places comes {place}: it has more in hand where it has least, which is "
        "{mine}. At {other} that is {subject}: {what}.",
        place=first.name,
        n=len(found),
        other=second.name,
        mine=ours.subject.name,
        subject=theirs.subject.name,
        what=theirs.part.reason(),
    )


def _parting(first: Judged, second: Judged) -> tuple[Cell, Cell] | None:
    """The cells by which the first place comes before the second: at the first difference, the
    worst cells before it being alike."""
    ours, theirs = _by_badness(first), _by_badness(second)
    for one, other in zip(ours, theirs, strict=True):
        if one.severity != other.severity:
            return one, other
    one, other = first.least, second.least
    return None if one.margin == other.margin else (one, other)


def _by_badness(place: Judged) -> list[Cell]:
    return sorted(place.cells, key=lambda cell: (-cell.severity, cell.margin))


def to_win(found: Sequence[Judged], show: Report) -> None:
    """What would have to change for the second to win, with what each cell's own page would do."""
    if len(found) < 2:
        return
    first, second = found[0], found[1]
    worse = _to_mend(first, second)
    rows = [_to_do(cell) for cell in worse]
    show.table(
        "second",
        line("For {place} to win", place=second.name),
        ("Subject", "As it is", "What would do"),
        rows,
    )


def _to_mend(first: Judged, second: Judged) -> list[Cell]:
    """The worst cells of the second place with which mended it is as good as the first or better;
    where no cell is worse, the one that has less in hand."""
    left = _by_badness(second)
    mended: list[Cell] = []
    while left and [cell.severity for cell in left] + [0] * len(mended) > first.severities:
        mended.append(left.pop(0))
    return mended or [second.least]


def _to_do(cell: Cell) -> tuple[Words, ...]:
    name = _way(cell, line("{name}", name=cell.subject.name))
    return name, cell.part.reason(), _remedy(cell) or "see its page"


def _remedy(cell: Cell) -> Line | None:
    """What the cell's own page would do first."""
    if cell.answered is None or cell.answered.report is None:
        return None
    full = cell.answered.told.report
    if full is None or full.verdict == FITS:
        return None
    decides = cell.part.decided_by
    for way in cell.answered.remedies:
        if way.sets and (cell.subject.mine is None or way.mends == decides):
            return plain(way)
    return None


def remedies(found: Sequence[Judged], options: Sequence[Option]) -> None:
    """What would make each place fit: of the cell that decides, by its own page."""
    for place, option in zip(found, options, strict=True):
        if option.verdict == FITS:
            continue
        way = _remedy(place.least)
        if way is not None:
            told = line("{subject}: {way}", subject=place.least.subject.name, way=way)
            option.remedies.append(_way(place.least, told))


def _way(cell: Cell, told: Line) -> Line:
    if cell.answered is None:
        return linked(told, "", "", cell.verdict)
    return linked(told, cell.answered.name, cell.answered.link, cell.verdict)


def table(found: Sequence[Judged], options: Sequence[Option], show: Report) -> None:
    """All places under all subjects, the best place first."""
    verdicts = [
        linked(line("{verdict}", verdict=VERDICT_WORDS[option.verdict]), "", "", option.verdict)
        for option in options
    ]
    rows: list[tuple[Words, ...]] = [("In all", *verdicts)]
    for row, subject in enumerate(SUBJECTS):
        rows.append((subject.name, *[_cell(place.cells[row]) for place in found]))
    show.table(
        "places",
        "Every place under every subject",
        ("Subject", *[line("{n} {name}", n=place.number, name=place.name) for place in found]),
        rows,
        note="Each cell is the answer of its own page for that place, and leads to it. The worst "
        "cell decides.",
        lead=True,
        at_once=True,
        on_card=range(len(found) + 1),
    )


def _cell(cell: Cell) -> Line:
    """Its verdict; what decides it stands with the place."""
    return _way(cell, line("{verdict}", verdict=VERDICT_WORDS[cell.verdict]))


def working(q: Asks, best: Judged, show: Report) -> None:
    """Heel and trim by the set in the best place."""
    spot = best.spot.spot
    if spot is None:
        return
    made = q.trim(spot)
    hull, mass = made.hull, (made.mass, "kg")
    show.step(
        "Heel by the set in the first place, to starboard above 0",
        made.heels,
        "°",
        "theta = atan(m * d / (M * h))",
        {
            "m": mass,
            "d": (spot.aside, "m"),
            "M": (hull.displacement, "kg"),
            "h": (hull.stiffness, "m"),
        },
        "Moments, as in an inclining test (Barrass and Derrett, Ship Stability for Masters and "
        "Mates)",
        note="an estimate: the metacentric height is taken as 0.6 of the metacentric radius of a "
        "waterline between two parabolas (common practice, no source)"
        if hull.height is None
        else "an estimate",
    )
    show.step(
        "Trim by it from bow to stern, by the bow above 0",
        made.trims,
        "mm",
        "t = L * m * d / (M * h)",
        {
            "L": (hull.length, "m"),
            "m": mass,
            "d": (spot.ahead, "m"),
            "M": (hull.displacement, "kg"),
            "h": (hull.long_radius, "m"),
        },
        "Moments about the middle of the waterline (Barrass and Derrett, Ship Stability for "
        "Masters and Mates)",
        note="an estimate: the metacentric radius of a waterline between two parabolas for the "
        "height",
    )
