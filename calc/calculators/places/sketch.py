"""The boat with her places, from the side and from above, drawn from their numbers alone; and the
unit in each place that has room for it, as Mount draws it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ...frame.report import FAILS, Drawing, Report, Shape, line
from ...sheet.places import Spot
from .asks import Asks
from .subjects import Judged

_STEPS = 16
_GAP = 0.06  # of her waterline, between the two views and the words


def sketch(q: Asks, found: Sequence[Judged], show: Report) -> bool:
    """Where her places lie; whether any does. On a card stands the unit in the first place."""
    lying = [place for place in found if _lies(place.spot)]
    if lying:
        made = _sketch(q, lying, found[0])
        show.drawing(replace(made, for_card=lambda: next(_units(found), None)))
    return bool(lying)


def in_places(found: Sequence[Judged], show: Report) -> None:
    """The unit in each place that has room."""
    for drawn in _units(found):
        show.drawing(drawn)


def _units(found: Sequence[Judged]) -> Iterator[Drawing]:
    for place in found:
        yield from _in_place(place, place is found[0])


def _in_place(place: Judged, first: bool) -> Iterator[Drawing]:
    """Mount's own drawing of the unit there, with the clearances that hands want; of the first
    place from above too."""
    room = place.cells[0]
    if room.verdict == FAILS or room.answered is None or room.answered.report is None:
        return
    full = room.answered.told.report
    if full is None:
        return
    for drawn in full.drawings[: 2 if first else 1]:
        title = line("{place}: {what}", place=place.name, what=drawn.title)
        yield replace(drawn, key=f"place-{place.number}-{drawn.key}", title=title)


# ---- the boat ----


def _lies(spot: Spot) -> bool:
    """Whether enough is said of a place to draw it."""
    told = (
        spot.ahead,
        spot.aside,
        spot.pump_height,
        spot.locker_length,
        spot.locker_width,
        spot.locker_height,
    )
    return all(one is not None for one in told)


def _sketch(q: Asks, lying: Sequence[Judged], first: Judged) -> Drawing:
    """Bow to the right; above the side view, below the plan, starboard at its lower edge."""
    length = q.waterline_length
    low = min([_bottom(place.spot) for place in lying] + [0.0])
    beside = max([abs(y) for place in lying for y in _across(place.spot)] + [q.half_beam])
    middle = low - _GAP * length - beside
    words = middle - beside - 2 * _GAP * length
    shapes = [*_hulls(q, middle), *_water(length)]
    for place in lying:
        style = "hatch" if place is first else "outline"
        shapes += _place(place, middle, style)
    for row, place in enumerate(lying):
        at = (-length / 2, words - row * 0.05 * length)
        told = line("{n} {name}", n=place.number, name=place.name)
        shapes.append(Shape("text", [at], told, anchor="start"))
    edge = middle - beside
    shapes += [
        Shape(
            "dimension",
            [(-length / 2, edge), (length / 2, edge)],
            line("{l}", l=(length, "m")),
            offset=-16,
        ),
        Shape("text", [(0.52 * length, middle)], "bow", anchor="start"),
    ]
    return Drawing(
        "sketch",
        "Your places, from the side and from above",
        line(
            "The boat from the side, above, and from above, below it, bow to the right: her "
            "waterline and {n} places to scale, by their numbers; hatched: {name}.",
            n=len(lying),
            name=first.name,
        )
        if _lies(first.spot)
        else line(
            "The boat from the side, above, and from above, below it, bow to the right: her "
            "waterline and {n} places to scale, by their numbers.",
            n=len(lying),
        ),
        shapes,
    )


def _hulls(q: Asks, middle: float) -> Iterator[Shape]:
    """The waterline of each hull between two parabolas, as heel and trim are reckoned."""
    length, beam = q.waterline_length, q.waterline_beam
    apart = q.hulls_apart / 2 if q.hulls == "two" else 0.0
    for centre in (middle + apart, middle - apart) if apart else (middle,):
        side = []
        for step in range(_STEPS + 1):
            share = 2 * step / _STEPS - 1
            side.append((share * length / 2, beam / 2 * (1 - share**2)))
        outline = [(x, centre + y) for x, y in side]
        outline += [(x, centre - y) for x, y in reversed(side)]
        yield Shape("polygon", outline, style="fine")
    yield Shape("line", [(-length / 2, middle), (length / 2, middle)], style="hidden")


def _water(length: float) -> Iterator[Shape]:
    yield Shape("line", [(-0.55 * length, 0), (0.55 * length, 0)], style="fine")
    yield Shape("text", [(0.55 * length, 0.04 * length)], "waterline", anchor="end")


def _along(spot: Spot) -> tuple[float, float]:
    """From its after end to its forward end."""
    size = (spot.locker_length if spot.lies == "fore" else spot.locker_width) or 0.0
    middle = spot.ahead or 0.0
    return middle - size / 2, middle + size / 2


def _across(spot: Spot) -> tuple[float, float]:
    """From its starboard side to its port side, port above 0."""
    size = (spot.locker_width if spot.lies == "fore" else spot.locker_length) or 0.0
    middle = -(spot.aside or 0.0)
    return middle - size / 2, middle + size / 2


def _bottom(spot: Spot) -> float:
    """Its floor, taken as the pump's height where nobody told it."""
    return (spot.pump_height if spot.floor_height is None else spot.floor_height) or 0.0


def _top(spot: Spot) -> float:
    return _bottom(spot) + (spot.locker_height or 0.0)


def _place(place: Judged, middle: float, style: str) -> Iterator[Shape]:
    """A place in both views, with its number."""
    spot = place.spot
    (aft, fore), (starboard, port) = _along(spot), _across(spot)
    for low, high in ((_bottom(spot), _top(spot)), (middle + starboard, middle + port)):
        yield Shape("rect", [(aft, low), (fore, high)], style=style)
        number = line("{n}", n=place.number)
        yield Shape("text", [((aft + fore) / 2, (low + high) / 2)], number)
