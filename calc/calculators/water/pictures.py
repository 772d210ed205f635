"""Fresh water over the pressure and over the warmth, and its salt."""

from __future__ import annotations

from ...frame.report import Axis, Band, Chart, Line, Mark, Report, Series, Words, line
from ...system.sea import Sea
from ...system.watermaking import MOST_SALT, Making

_APART = 10.0  # K, of the colder and the warmer sea
_COLDEST, _WARMEST = 271.15, 309.15  # K, as the form takes them
_PRESSURES, _SEAS = 9, 8  # points of a curve
_LEAST = 0.1  # of the stated water: below it the salt runs off the chart


def charts(making: Making, show: Report) -> None:
    """The water and its salt over the pressure in this sea, a colder and a warmer one; the water
    over the warmth."""
    top = max(making.bears, making.pressure)
    here = making.sea.temperature
    colder, warmer = max(_COLDEST, here - _APART), min(_WARMEST, here + _APART)
    curves: list[tuple[Words, Making]] = [("this sea", making)]
    curves += [
        (line("{t}", t=(other, "°C")), making.in_sea(Sea(other, making.sea.salinity)))
        for other in (colder, warmer)
        if abs(other - here) > 1
    ]
    found = [(name, _over_pressure(one, top)) for name, one in curves]
    label = line("{t} and {u}", t=(colder, "°C"), u=(warmer, "°C"))
    show.chart(
        Chart(
            "pressures",
            "Fresh water by pressure",
            Axis("Pressure", "bar", 0.0, top),
            Axis("Fresh water", "L/h", 0.0),
            [
                Series(name, [(p, made[0]) for p, made in points], dashed=name != "this sea")
                for name, points in found
            ],
            limits=[Mark("its papers", making.stated)],
            bands=_allowed(making),
            summary=line(
                "Fresh water over the pressure: in this sea, and in seas as salt of {both}. No "
                "water below the osmotic pressure; the band is what is allowed here.",
                both=label,
            ),
        )
    )
    salty = [
        (name, [(p, made[1]) for p, made in points if made[0] > _LEAST * making.stated])
        for name, points in found
    ]
    salty = [(name, points) for name, points in salty if len(points) > 1]
    if salty:
        show.chart(
            Chart(
                "salts",
                "Salt in the fresh water by pressure",
                Axis("Pressure", "bar", 0.0, top),
                Axis("Salt", "mg/L", 0.0),
                [Series(name, points, dashed=name != "this sea") for name, points in salty],
                limits=[Mark("taste", MOST_SALT)],
                summary="Salt in the fresh water over the pressure: the same salt in more water "
                "is less of it.",
            )
        )
    _over_warmth(making, show)


def _over_pressure(making: Making, top: float) -> list[tuple[float, tuple[float, float]]]:
    """Water and its salt at pressures from where it begins."""
    begins = min(making.sea.osmotic_pressure, top)
    points = [(0.0, (0.0, 0.0)), (begins, (0.0, 0.0))] if begins > 0 else []
    for n in range(1, _PRESSURES + 1):
        pressure = begins + (top - begins) * n / _PRESSURES
        made = making.at(pressure)
        points.append((pressure, (made.product, made.product_salinity)))
    return points


def _allowed(making: Making) -> list[Band]:
    low, high = making.sea.osmotic_pressure, making.highest
    return [Band("allowed", low, high)] if high > low else []


def _over_warmth(making: Making, show: Report) -> None:
    points = []
    for n in range(_SEAS + 1):
        warm = _COLDEST + (_WARMEST - _COLDEST) * n / _SEAS
        there = making.in_sea(Sea(warm, making.sea.salinity))
        points.append((warm, there.made.product))
    name: Line | str = line("at {p}", p=(making.pressure, "bar"))
    show.chart(
        Chart(
            "warmth",
            "Fresh water by the warmth of the sea",
            Axis("Sea", "°C", _COLDEST, _WARMEST),
            Axis("Fresh water", "L/h", 0.0),
            [Series(name, points)],
            limits=[Mark("its papers", making.stated)],
            summary="Fresh water at this pressure over the warmth of the sea, about 3 % more with "
            "each degree.",
        )
    )
