"""The chart by octave, and the cabin in section."""

from __future__ import annotations

from ...frame.report import Axis, Chart, Drawing, Mark, Report, Series, Shape, line
from ...physics import sound as acoustics
from ...system import sound
from .asks import Asks

_REACHES = {False: "What reaches the seat, A-weighted", True: "What reaches the berth, A-weighted"}
_CHART_SAYS = {
    False: "A-weighted octave levels: the bare unit at one metre in the open, and what reaches the "
    "seat through the air and through the floor.",
    True: "A-weighted octave levels: the bare unit at one metre in the open, and what reaches the "
    "berth through the air and through the floor.",
}


def chart(found: sound.Sounds, wish: sound.Wish, show: Report) -> None:
    def weighted(levels: sound.Spectrum) -> list[tuple[float, float]]:
        return [
            (f, level + w)
            for f, level, w in zip(acoustics.OCTAVES, levels, acoustics.A_WEIGHTS, strict=True)
            if level + w > 0
        ]

    ear = found.ear(wish)
    limit = wish.berth_most if wish.asleep else wish.seat_most
    octaves = acoustics.OCTAVES
    show.chart(
        Chart(
            "octaves",
            _REACHES[wish.asleep],
            Axis("Octave", "Hz", octaves[0], octaves[-1], log=True, ticks=octaves),
            Axis("Level", "dB(A)", 0.0),
            [
                Series("by air", weighted(ear.air)),
                Series("by the floor", weighted(ear.floor), at_peak=True),
                Series("bare, at 1 m", weighted(tuple(p + sound.OPEN_METRE for p in found.power))),
            ],
            limits=[] if limit is None else [Mark("limit, in all", limit)],
            summary=_CHART_SAYS[wish.asleep],
        )
    )


_SECTION = {
    (True, False): "A section of the cabin to scale: the locker with the unit at the left, your "
    "head at the right; one arrow through the air and one through the floor.",
    (
        False,
        False,
    ): "A section of the cabin to scale: the unit at the left, your head at the right; "
    "one arrow through the air and one through the floor.",
    (True, True): "A section of both cabins to scale: the locker with the unit at the left, your "
    "head at the right behind a bulkhead; one arrow through the air and one through the floor.",
    (
        False,
        True,
    ): "A section of both cabins to scale: the unit at the left, your head at the right "
    "behind a bulkhead; one arrow through the air and one through the floor.",
}


def section(q: Asks, found: sound.Sounds, wish: sound.Wish, show: Report) -> None:
    """The cabin in section, to scale: locker, ear and both ways of the sound."""
    length, height = q.cabin_length, q.cabin_height
    locker, at = found.path.locker, found.path.berth if wish.asleep else found.path.seat
    wide, high = (
        (locker.room.width, locker.room.height) if locker else (q.unit_width, q.unit_height)
    )
    depth, top = min(wide, length), min(high, height)
    next_door = at.where != "same"
    end = 2 * length if next_door else length
    away = 1.4 * length if next_door else min(depth / 2 + at.distance, length - 0.05)
    ear = (away, min(0.7 if wish.asleep else 1.1, height))
    heard = found.ear(wish)
    right = ear[0] > 0.6 * end
    shapes = [
        Shape("rect", [(0, 0), (end, height)]),
        Shape("rect", [(0, 0), (depth, top)]),
        Shape("rect", [(0, -0.08), (end, 0)], style="hatch"),
        Shape("circle", [ear], radius=0.11),
        Shape("arrow", [(depth, top), (ear[0] - 0.14, ear[1] - 0.02)], style="accent"),
        Shape("arrow", [(depth / 2, -0.04), (ear[0], -0.04), (ear[0], ear[1] - 0.4)], style="fine"),
        Shape("text", [(ear[0], ear[1] + 0.22)],
              line("{l} in the berth" if wish.asleep else "{l} at the seat",
                   l=(round(heard.total_a), "dB(A)"))),
        Shape("text", [(depth + 0.3 * (ear[0] - depth), top + 0.5 * (height - top))],
              line("air {l}", l=(round(heard.air_a), "dB(A)"))),
        Shape("text", [(ear[0] + (-0.06 if right else 0.06), 0.3 * ear[1])],
              line("floor {l}", l=(round(heard.floor_a), "dB(A)")),
              anchor="end" if right else "start"),
        Shape("dimension", [(0, 0), (length, 0)], line("{l}", l=(length, "m")), offset=-34),
        Shape("dimension", [(0, height), (0, 0)], line("{h}", h=(height, "m")), offset=-20),
    ]  # fmt: skip
    if locker:
        inside = [(0.15 * depth, 0.05), (0.85 * depth, min(0.3, 0.8 * top))]
        shapes.append(Shape("rect", inside, style="fine"))
    if next_door:
        shapes.append(Shape("line", [(length, 0), (length, height)]))
    show.drawing(
        Drawing(
            "cabin",
            "The cabin in section, with both ways of the sound",
            _SECTION[locker is not None, next_door],
            shapes,
        )
    )
