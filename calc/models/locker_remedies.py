"""What would keep a locker cool: vents, fan, day, size and run, each found backwards.

All but the longest run are for a run of any length: quick to find, and on the safe side.
"""

from __future__ import annotations

import math
from dataclasses import replace

from ..inputs import Values
from ..physics import air, locker, ventilation
from ..physics.thermal_network import AIR, WINDING
from ..report import Amount, Report, amount, least, most
from .locker_case import Case, duct_resistance, largest_face, suction, unit_sizes, volume_of

# Kelvins held back from a limit: what the solution in time leaves in doubt.
_DOUBT = 0.2
# Nobody makes water in a colder cabin, and no form takes a hotter one: such a day helps no one.
_COLDEST, _HOTTEST = 278.15, 328.15
# Bores [m] that ducts are sold in. Common practice, no source.
_BORES = (0.05, 0.075, 0.1, 0.125, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5)
# A larger fan [m3/s] is none for a locker.
_LARGEST_FAN = 3000 / 3600
_LARGEST_LOCKER = 10.0  # m3


def remedies(q: Values, case: Case, show: Report) -> None:
    """What air, how long a run, how warm a day and how large a locker would just do."""
    limits = locker.Limits(case.limits.air - _DOUBT, case.limits.winding - _DOUBT)
    if q.air_way == "engine":
        _engine_remedy(case, show)
        if suction(case.room) > ventilation.ENGINE_SUCTION:
            return  # nothing else helps while the engine lacks air
    _air_remedies(q, case, limits, show)
    _longest(q, case, limits, show)
    _warmest_day(q, case, limits, show)
    if all(wall.behind <= case.room.supply for wall in case.room.walls):
        _smallest_locker(q, case, limits, show)


# ---- air ----


def _engine_remedy(case: Case, show: Report) -> None:
    area = ventilation.opening_for(
        case.room.breathing, ventilation.ENGINE_SUCTION, density=air.density(case.room.supply)
    )
    show.remedy("The engine alone needs openings of {a} in all.", a=least(area, "cm2"))


def _air_remedies(q: Values, case: Case, limits: locker.Limits, show: Report) -> None:
    made = case.room
    if made.supply >= limits.air:
        show.remedy(
            "No fan and no vent cools it with air of {s}: bring in cooler air.",
            s=(made.supply, "°C"),
        )
        return
    if q.air_way != "fan":
        _vents_remedy(q, case, limits, show)
    if q.air_way == "engine":
        return  # its space gets no fan of the pump's
    # Without the draught of openings: wherever the fan's air comes in, this much is enough.
    flow = locker.least_flow(replace(made, vents=locker.Vents(), fan=None), limits, None)
    if flow > 0:
        _fan_remedy(q, case, show, flow)


def _vents_remedy(q: Values, case: Case, limits: locker.Limits, show: Report) -> None:
    made = case.room
    apart = most(made.vents.apart or _usual_height(q), "mm", step=0.005)
    pair = replace(made, vents=locker.Vents(apart=apart.value))
    largest = largest_face(q, made.walls) / 2
    area = locker.least_vents(pair, limits, None, largest)
    if area == 0:
        show.remedy("It needs no openings: its faces pass all the heat.")
    elif math.isfinite(area):
        show.remedy(
            "Two openings of {a} each, a low and a high one {h} apart, keep it cool for as long as "
            "you like, without a fan. They let the noise out as well, see the page Quiet running: "
            "a lined bend, as wide inside its lining, keeps the air and stops much of the sound "
            "(common practice, no source).", a=least(area, "cm2"), h=apart,
        )  # fmt: skip
    else:
        show.remedy(
            "No two openings of up to {a} each, {h} apart, keep it cool for as long as you like.",
            a=most(largest, "cm2"), h=apart,
        )  # fmt: skip


def _usual_height(q: Values) -> float:
    """Height apart for openings that are not there yet: two thirds of the locker's height."""
    height = q.locker_height if q.given_by == "sizes" else volume_of(q) ** (1 / 3)
    return float(height) * 2 / 3


def _fan_remedy(q: Values, case: Case, show: Report, flow: float) -> None:
    """The fan for an air flow: the duct that passes it quietly, and the fan in free air."""
    need = ventilation.duct_diameter(min(flow, 1.0))
    bore = next((size for size in _BORES if size >= need), math.inf)
    if q.air_way == "fan" and q.duct_diameter >= need:
        bore = q.duct_diameter
    opening = max(2 * math.pi * bore**2 / 4, case.room.vents.low + case.room.vents.high)
    if math.isinf(flow) or opening > 2 * largest_face(q, case.room.walls):
        show.remedy(
            "No fan that fits here keeps it cool with air of {s}: bring in cooler air.",
            s=(case.room.supply, "°C"),
        )
        return
    resistance = duct_resistance(q, bore) + ventilation.opening_resistance(
        opening, density=air.density(case.room.supply)
    )
    free = ventilation.free_flow_for(flow, q.fan_pressure, resistance)
    if free > _LARGEST_FAN:
        show.remedy(
            "It needs {q} of air, and no fan up to {f} and {p} presses that through a duct of {d}: "
            "shorten the duct, take a stronger fan, or bring in cooler air.",
            q=least(flow, "m3/h"), f=(_LARGEST_FAN, "m3/h"), p=(q.fan_pressure, "Pa"),
            d=(bore, "mm"),
        )  # fmt: skip
        return
    current = ventilation.BLOWER_POWER * free / q.fan_voltage
    show.remedy(
        "A fan that draws at least {q} of air through it keeps it cool for as long as you like: "
        "{f} in free air and {p} against a shut duct, a duct of {d}, and openings of {o} in all "
        "for the air that comes in. It takes about {i} at {u}.",
        q=least(flow, "m3/h"), f=least(free, "m3/h", step=1 / 3600), p=(q.fan_pressure, "Pa"),
        d=least(bore, "mm"), o=least(opening, "cm2"), i=amount(current, "A", digits=2),
        u=(q.fan_voltage, "V"),
    )  # fmt: skip


# ---- as it is ----


def _longest(q: Values, case: Case, limits: locker.Limits, show: Report) -> None:
    course = case.course
    longest = min(course.first_reach(AIR, limits.air), course.first_reach(WINDING, limits.winding))
    if longest > q.run_hours:  # not in the first run
        longest = locker.longest_run(case.room, limits)
    if math.isinf(longest):
        show.remedy("As it is it may run for as long as you like.")
    elif longest < 60:
        show.remedy("As it is it should not run at all: it is too warm before it starts.")
    else:
        long = most(longest, "h") if longest > 7200 else most(longest, "min", step=60)
        show.remedy(
            "As it is, the first run from cold may last {t}. That is told of the first alone: one "
            "that begins before all has cooled may last less.", t=long,
        )  # fmt: skip


def _warmest_day(q: Values, case: Case, limits: locker.Limits, show: Report) -> None:
    """The warmest day: air beside the locker and outside shift alike; sea and engine space stay."""
    behind = {row.behind for row in q.faces}
    parts: dict[str, Amount] = {}
    shift = locker.largest_ambient_shift(case.room, limits, None)
    if math.isinf(shift):
        return
    if "cabin" in behind or q.supply_from == "cabin":
        parts["{t} beside the locker"] = _most_day(q.ambient_temperature + shift)
    if behind & {"shade", "sun"} or q.supply_from == "outside":
        parts["{o} outside"] = _most_day(q.outside_temperature + shift)
    if not parts or not all(_COLDEST < day.value <= _HOTTEST for day in parts.values()):
        return
    stays = ["the sea"] if behind & {"bilge", "sea"} else []
    if "engine" in behind or q.supply_from == "engine":
        stays.append("the engine space")
    show.remedy(
        "Unchanged, it runs for as long as you like on a day of at most " + " and ".join(parts)
        + (f", with {' and '.join(stays)} as you gave it." if len(stays) == 1
           else f", with {' and '.join(stays)} as you gave them." if stays else "."),
        **{words[1]: day for words, day in parts.items()},
    )  # fmt: skip


def _most_day(temperature: float) -> Amount:
    """A temperature [K] to the half degree Celsius below."""
    halves = math.floor(2 * (temperature - air.ZERO_CELSIUS))
    return most(halves / 2 + air.ZERO_CELSIUS, "°C")


def _smallest_locker(q: Values, case: Case, limits: locker.Limits, show: Report) -> None:
    now = case.room.volume
    least_volume = now * _least_scale(q, case) ** 3
    if least_volume >= _LARGEST_LOCKER:
        return
    found = locker.smallest_volume(case.room, limits, None, _LARGEST_LOCKER, least_volume)
    if not math.isfinite(found):
        return
    scale = (found / now) ** (1 / 3)
    wider = least(scale**2, "×")
    if q.given_by == "volume":
        show.remedy(
            "A locker of this shape with as much in it must have at least {v} inside, its faces "
            "{x} as large.", v=least(found, "L"), x=wider,
        )  # fmt: skip
        return
    given = any(row.area is not None for row in q.faces)
    sizes = (q.locker_length, q.locker_width, q.locker_height)
    long, wide, high = (least(scale * size, "mm", step=0.005) for size in sizes)
    show.remedy(
        "A locker of this shape with as much in it must be at least {l} long, {w} wide and {h} high"
        + (", the faces that you gave an area for {x} as large." if given else "."),
        l=long, w=wide, h=high, x=wider,
    )  # fmt: skip


def _least_scale(q: Values, case: Case) -> float:
    """How much the locker may shrink, as a share of its lengths, before the unit or an opening no
    longer fits into it."""
    vents = case.room.vents
    scales = [math.sqrt(max(vents.low, vents.high) / largest_face(q, case.room.walls))]
    if q.given_by == "sizes":
        inside = sorted((q.locker_length, q.locker_width, q.locker_height))
        scales += [own / room for own, room in zip(unit_sizes(q), inside, strict=True)]
        scales.append(max(vents.apart, vents.own_height) / q.locker_height)
    return 1.001 * max(scales)
