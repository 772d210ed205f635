"""What would keep a locker cool: vents, fan, day, size and run, each found backwards."""

from __future__ import annotations

import math
from dataclasses import replace

from .inputs import Values
from .locker_case import Case, duct_resistance, largest_face, volume_of
from .physics import air, locker, ventilation
from .report import Report

# Nobody makes water in a colder cabin: such an answer helps no one.
_COLD_DAY = 278.15
# Bores [m] that ducts are sold in. Common practice, no source.
_BORES = (0.05, 0.075, 0.1, 0.125, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5)


def remedies(q: Values, case: Case, show: Report) -> None:
    """The inverse answers, all for runs without end: they are quick to find and on the safe side.

    What air, how warm a day, how large a locker; and how long a run is good as it is.
    """
    made, limits = case.room, case.limits
    _air_remedies(q, case, show)
    _longest(case, show)
    shift = locker.largest_ambient_shift(made, limits, None)
    ambient = q.ambient_temperature + shift
    if ambient > _COLD_DAY:
        show.remedy(
            "As it is, it runs for as long as you like on a day {k} {way}, with {t} beside "
            "the locker.",
            k=(abs(shift), "K"), way="warmer" if shift >= 0 else "cooler", t=(ambient, "°C"),
        )  # fmt: skip
    if all(wall.behind <= made.supply for wall in made.walls):
        volume = locker.smallest_volume(made, limits, None)
        if math.isfinite(volume):
            show.remedy(
                "A locker of this shape with as much in it must be {v} inside at least.",
                v=(volume, "L"),
            )  # fmt: skip


def _air_remedies(q: Values, case: Case, show: Report) -> None:
    made, limits = case.room, case.limits
    if q.air_way == "engine":
        area = ventilation.opening_for(
            made.breathing, ventilation.ENGINE_SUCTION, density=air.density(made.supply)
        )
        show.remedy("The engine alone needs openings of {a} in all.", a=(area, "cm2"))
        return
    if made.supply >= limits.air:
        show.remedy(
            "No fan and no vent cools it with air of {s}: bring in cooler air.",
            s=(made.supply, "°C"),
        )
        return
    if q.air_way != "fan" and locker.excess(made, limits, None) > 0:
        _vents_remedy(q, case, show)
    # Without the draught of openings: wherever the fan's air comes in, this much is enough.
    flow = locker.least_flow(replace(made, vents=locker.Vents()), limits, None)
    if not math.isfinite(flow):
        show.remedy("No fan keeps it within its limits: the motor is loaded too heavily.")
    elif flow > 0:
        _fan_remedy(q, case, show, flow)


def _vents_remedy(q: Values, case: Case, show: Report) -> None:
    made = case.room
    apart = made.vents.apart or _usual_height(q)
    pair = replace(made, vents=locker.Vents(apart=apart))
    largest = largest_face(q, made.walls) / 2
    area = locker.least_vents(pair, case.limits, None, largest)
    if math.isfinite(area):
        show.remedy(
            "Two openings of {a} each, a low and a high one {h} apart, cool it without a fan.",
            a=(area, "cm2"), h=(apart, "mm"),
        )  # fmt: skip
    else:
        show.remedy(
            "No two openings of up to {a} each, {h} apart, do it: it takes a fan.",
            a=(largest, "cm2"), h=(apart, "mm"),
        )  # fmt: skip


def _usual_height(q: Values) -> float:
    """Height apart for openings that are not there yet: two thirds of the locker's height."""
    height = q.locker_height if q.given_by == "sizes" else volume_of(q) ** (1 / 3)
    return float(height) * 2 / 3


def _fan_remedy(q: Values, case: Case, show: Report, flow: float) -> None:
    """The fan for an air flow: the duct that passes it quietly, and the fan in free air."""
    own = q.duct_diameter if q.air_way == "fan" else 0.0
    need = max(ventilation.duct_diameter(flow), own)
    bore = next((size for size in _BORES if size >= need), need)
    opening = max(2 * math.pi * bore**2 / 4, case.room.vents.low + case.room.vents.high)
    resistance = duct_resistance(q, bore) + ventilation.opening_resistance(
        opening, density=air.density(case.room.supply)
    )
    free = ventilation.free_flow_for(flow, q.fan_pressure, resistance)
    if math.isfinite(free):
        current = ventilation.BLOWER_POWER * free / q.fan_voltage
        show.remedy(
            "A fan that draws at least {q} of air through it cools it: {f} in free air, a duct of "
            "{d}, and openings of {o} in all for the air that comes in. It takes about {i} at {u}.",
            q=(flow, "m3/h"), f=(free, "m3/h"), d=(bore, "mm"), o=(opening, "cm2"),
            i=(current, "A"), u=(q.fan_voltage, "V"),
        )  # fmt: skip
    else:
        show.remedy(
            "It needs {q} of air, and a fan of {p} does not press that through a duct of {d}: "
            "shorten the duct, or take a stronger fan.",
            q=(flow, "m3/h"), p=(q.fan_pressure, "Pa"), d=(bore, "mm"),
        )  # fmt: skip


def _longest(case: Case, show: Report) -> None:
    longest = locker.longest_run(case.room, case.limits)
    if math.isinf(longest):
        show.remedy("As it is it may run as long as you like.")
    elif longest < 60:
        show.remedy("As it is it should not run at all: it is too warm before it starts.")
    else:
        show.remedy("As it is, the longest run from cold is {t}.", t=(longest, "min"))
