"""What would keep a locker cool: vents, fan, day, size and run, each found backwards.

All but the longest run are for a run of any length: quick to find, and on the safe side. What is
told here is typed into the form or cut into a locker, so it shall fit, not only be tight. What
comes just within the limits is told only where no more can be had, and said to.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from ..frame.inputs import Values
from ..frame.report import FITS, TIGHT_MARGIN, Amount, Report, amount, least, most
from ..physics import air, insulation_class, locker, roots, ventilation
from ..physics.thermal_network import AIR, WINDING
from .locker_case import (
    LOCKER,
    Case,
    duct_resistance,
    faces_of,
    inner_sizes,
    largest_face,
    suction,
    unit_sizes,
    volume_of,
    way_of,
)

# Kelvins held back from a limit: what the solution in time leaves in doubt.
_DOUBT = 0.2
# Kelvins that an answer in whole degrees may tell too many.
_ROUNDED = 0.5
_TENTH = 0.1  # K, near enough where half degrees are told
# Nobody makes water in a colder cabin, and no form takes a hotter one: such a day helps no one.
_COLDEST, _HOTTEST = 278.15, 328.15
# Bores [m] that ducts are sold in. Common practice, no source.
_BORES = (0.05, 0.075, 0.1, 0.125, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5)
# A larger fan [m3/s] is none for a locker.
_LARGEST_FAN = 3000 / 3600
_LARGEST_LOCKER = 10.0  # m3
# No form takes a larger opening [m²] or a longer side [m].
_LARGEST_OPENING, _LONGEST_SIDE = 1.0, 10.0
# As many digits as a value has: what is typed is what was told.
_EXACT = 9
# What the day's air fills in, by its slot.
_DAYS = {"t": "ambient_temperature", "o": "outside_temperature"}
# Suction [Pa] of an engine that is not called tight, a hair below it for what is rounded.
_EASY_SUCTION = 0.9999 * (1 - TIGHT_MARGIN) * ventilation.ENGINE_SUCTION


@dataclass(frozen=True)
class Aim:
    """How cool a remedy makes it: well within the motor's limits, or `just` within them."""

    limits: locker.Limits
    just: bool

    def at(self, supply: float) -> locker.Limits:
        """Temperatures [K] to keep to where the air comes in with `supply` [K]: the margin of the
        air round the motor is judged above that, as the answer's figures are."""
        most_air = self.limits.air - _DOUBT
        most_winding = self.limits.winding - _DOUBT
        if self.just:
            told = math.floor(self.limits.winding - air.ZERO_CELSIUS) + air.ZERO_CELSIUS
            return locker.Limits(most_air, min(most_winding, told + _ROUNDED - 0.01))
        air_span = max(0.0, self.limits.air - supply)
        winding_span = self.limits.winding - insulation_class.REFERENCE_AMBIENT
        return locker.Limits(
            most_air - _ROUNDED - TIGHT_MARGIN * air_span,
            most_winding - _ROUNDED - TIGHT_MARGIN * winding_span,
        )

    @property
    def words(self) -> str:
        return " It then just keeps within its limits." if self.just else ""


def remedies(q: Values, case: Case, show: Report) -> None:
    """What air, how long a run, how warm a day and how large a locker would do."""
    aims: tuple[Aim, ...] = (Aim(case.limits, just=False), Aim(case.limits, just=True))
    if way_of(q) == "engine":
        _engine_remedy(q, case, show)
        if suction(case.room) > ventilation.ENGINE_SUCTION:
            return  # nothing else helps while the engine lacks air
    if way_of(q) != "open":
        _air_remedies(q, case, aims, show)
    if way_of(q) == "engine" and suction(case.room) > _EASY_SUCTION:
        aims = aims[1:]  # the openings stay as they are, and are tight for the engine
    _longest(q, case, aims, show)
    _warmest_day(q, case, aims, show)
    if (
        way_of(q) != "open"
        and way_of(q) != "engine"
        and all(wall.behind <= case.room.supply for wall in case.room.walls)
    ):
        _smallest_locker(q, case, aims, show)


def _typed(value: float, unit: str) -> Amount:
    """What to fill in for something told: it is told on its safe side, and keeps a reserve."""
    return amount(value, unit, digits=_EXACT)


def _first(aims: tuple[Aim, ...], find: Callable[[Aim], float]) -> tuple[float, Aim]:
    """What the first aim that can be reached needs; infinite if none can."""
    for aim in aims:
        found = find(aim)
        if math.isfinite(found):
            break
    return found, aim


# ---- air ----


def _engine_openings(case: Case) -> float:
    """Openings [m²] in all through which the engine breathes easily; none without an engine."""
    density = air.density(case.room.supply)
    return ventilation.opening_for(case.room.breathing, _EASY_SUCTION, density=density)


def _engine_remedy(q: Values, case: Case, show: Report) -> None:
    area = least(_engine_openings(case), "cm2")
    half = area.shown() / 2
    fits = half <= min(_LARGEST_OPENING, largest_face(q, case.room.walls))
    show.remedy(
        "To give {p} the engine alone needs openings of {a} in all. At full power it needs more: "
        "its maker tells how much.",
        p=(q.engine_power, "W"),
        a=area,
        sets={"low_area": _typed(half, "cm2"), "high_area": _typed(half, "cm2")} if fits else None,
        mends="suction",
    )


def _air_remedies(q: Values, case: Case, aims: tuple[Aim, ...], show: Report) -> None:
    if case.room.supply >= case.limits.air - _DOUBT:
        show.remedy(
            "No fan and no vent cools it with air of {s}: bring in cooler air.",
            s=(case.room.supply, "°C"),
        )
        return
    if way_of(q) != "fan":
        _vents_remedy(q, case, aims, show)
    if way_of(q) != "engine":  # its space gets no fan of the pump's
        _fan_remedy(q, case, aims, show)


def _vents_remedy(q: Values, case: Case, aims: tuple[Aim, ...], show: Report) -> None:
    made = case.room
    apart = most(made.vents.apart or _usual_height(q), "mm", step=0.005)
    pair = replace(made, vents=locker.Vents(apart=apart.value))
    largest = min(_LARGEST_OPENING, largest_face(q, made.walls) / 2)
    area, aim = _first(
        aims, lambda aim: locker.least_vents(pair, aim.at(made.supply), None, largest)
    )
    if way_of(q) == "engine":
        if area == 0:
            return  # the engine's own air is enough, and its openings are told
        area = max(area, _engine_openings(case) / 2)
    if area == 0:
        show.remedy("It needs no openings: its faces pass all the heat." + aim.words)
    elif area <= largest:
        each = least(area, "cm2")
        where = (
            " Lead them to the open air, not into a cabin, where they would let in fumes and smoke."
            if way_of(q) == "engine"
            else " They let the noise out as well, see the page Quiet running: a lined bend, as "
            "wide inside its lining, keeps the air and stops much of the sound (common practice, "
            "no source)."
        )
        show.remedy(
            "Two openings of {a} each, a low and a high one {h} apart, keep it cool for as long as "
            "you like, without a fan." + aim.words + where,
            a=each,
            h=apart,
            sets={
                "air_way": "engine" if way_of(q) == "engine" else "two",
                "low_area": _typed(each.shown(), "cm2"),
                "high_area": _typed(each.shown(), "cm2"),
                "apart": _typed(apart.shown(), "mm"),
            },
        )
    else:
        show.remedy(
            "No two openings of up to {a} each, {h} apart, keep it cool for as long as you like.",
            a=most(largest, "cm2"),
            h=apart,
        )


def _usual_height(q: Values) -> float:
    """Height apart for openings that are not there yet: two thirds of the locker's height."""
    inside = list(inner_sizes(q).values())
    return (inside[-1] if inside else volume_of(q) ** (1 / 3)) * 2 / 3


@dataclass(frozen=True)
class Blower:
    """A fan for an air flow [m³/s]: the duct [m] that passes it quietly, the openings [m²] for the
    air that comes in, whether they find room, and the fan's flow in free air [m³/s]."""

    flow: float
    bore: float
    opening: float
    has_room: bool
    free: float

    @property
    def is_had(self) -> bool:
        return self.has_room and self.free <= _LARGEST_FAN


def _blower(q: Values, case: Case, flow: float) -> Blower:
    need = ventilation.duct_diameter(min(flow, 1.0))
    bore = next((size for size in _BORES if size >= need), math.inf)
    if way_of(q) == "fan" and q.duct_diameter >= need:
        bore = q.duct_diameter
    opening = max(2 * math.pi * bore**2 / 4, case.room.vents.low + case.room.vents.high)
    if math.isinf(flow) or opening > 2 * largest_face(q, case.room.walls):
        return Blower(flow, bore, opening, has_room=False, free=math.inf)
    resistance = duct_resistance(q, bore) + ventilation.opening_resistance(
        opening, density=air.density(case.room.supply)
    )
    free = ventilation.free_flow_for(flow, q.fan_pressure, resistance)
    return Blower(flow, bore, opening, has_room=True, free=free)


def _fan_remedy(q: Values, case: Case, aims: tuple[Aim, ...], show: Report) -> None:
    # Without the draught of openings: wherever the fan's air comes in, this much is enough.
    still = replace(case.room, vents=locker.Vents(), fan=None)
    for aim in aims:
        flow = locker.least_flow(still, aim.at(still.supply), None)
        if flow <= 0:
            return
        fan = _blower(q, case, flow)
        if fan.is_had:
            break
    if not fan.has_room:
        show.remedy(
            "No fan that fits here keeps it cool with air of {s}: bring in cooler air.",
            s=(case.room.supply, "°C"),
        )
    elif not fan.is_had:
        show.remedy(
            "It needs {q} of air, and no fan up to {f} and {p} presses that through a duct of {d}: "
            "shorten the duct, take a stronger fan, or bring in cooler air.",
            q=least(fan.flow, "m3/h"),
            f=(_LARGEST_FAN, "m3/h"),
            p=(q.fan_pressure, "Pa"),
            d=(fan.bore, "mm"),
        )
    else:
        current = ventilation.BLOWER_POWER * fan.free / q.fan_voltage
        free, bore = least(fan.free, "m3/h", step=1 / 3600), least(fan.bore, "mm")
        opening = least(fan.opening, "cm2")
        half = _typed(opening.shown() / 2, "cm2")
        # At rest the fan stands still: what gives heat then may have warmed the air too far.
        vents = locker.Vents(half.value, half.value, case.room.vents.apart)
        at_rest = locker.rest_state(replace(case.room, vents=vents, fan=None))
        hot_at_rest = at_rest[AIR] > aim.at(still.supply).air
        show.remedy(
            "A fan that draws at least {q} of air through it keeps it cool for as long as you "
            "like: {f} in free air and {p} against a shut duct, a duct of {d}, and openings of "
            "{o} in all for the air that comes in."
            + aim.words
            + " It takes about {i} at {u}."
            + (
                " Let it run while the unit rests too: the other heat goes on."
                if hot_at_rest
                else ""
            ),
            q=least(fan.flow, "m3/h"),
            f=free,
            p=(q.fan_pressure, "Pa"),
            d=bore,
            o=opening,
            i=amount(current, "A", digits=2),
            u=(q.fan_voltage, "V"),
            sets=None
            if q.fan_curve
            or hot_at_rest  # a measured curve counts instead of the flow that is filled in
            else {
                "air_way": "fan",
                "fan_flow": _typed(free.shown(), "m3/h"),
                "fan_draws_out": True,
                "duct_diameter": _typed(bore.shown(), "mm"),
                "low_area": half,
                "high_area": half,
            },
        )


# ---- as it is ----


def _longest(q: Values, case: Case, aims: tuple[Aim, ...], show: Report) -> None:
    for aim in aims:
        longest = _first_run(q, case, aim.at(case.room.supply))
        if not aim.just and show.verdict == FITS:
            longest = max(longest, q.run_hours)  # what the doubt holds back there is none of it
        if longest >= 60:
            break
    if math.isinf(longest):
        show.remedy("As it is it may run for as long as you like." + aim.words)
    elif longest < 60:
        show.remedy("As it is it should not run at all: it is too warm before it starts.")
    else:
        long = most(longest, "h") if longest > 7200 else most(longest, "min", step=60)
        endless = not aim.just and _settles_within(case, aims[-1].at(case.room.supply))
        more = (
            " A longer one, however long, just keeps within its limits." if endless else aim.words
        )
        show.remedy(
            "As it is, the first run from cold may last {t}." + more + " That is told of the first "
            "alone: one that begins before all has cooled may last less.",
            t=long,
            sets={"run_hours": _typed(long.shown(), long.unit), "runs": 1},
        )


def _settles_within(case: Case, limits: locker.Limits) -> bool:
    return case.settled[AIR] <= limits.air and case.settled[WINDING] <= limits.winding


def _first_run(q: Values, case: Case, limits: locker.Limits) -> float:
    """Longest run [s] from cold that keeps the limits."""
    course = case.course
    longest = min(course.first_reach(AIR, limits.air), course.first_reach(WINDING, limits.winding))
    if longest <= q.run_hours:
        return longest
    return locker.longest_run(case.room, limits)  # not in the first run


@lru_cache(maxsize=4)
def _largest_shift(room: locker.Locker, aim: Aim, coldest: float, warmest: float) -> float:
    """How much warmer [K] the day may be, negative: colder, between two shifts; minus infinity if
    none does.

    A colder day moves what the air's margin is a share of, and so the aim with it.
    """

    def excess(shift: float) -> float:
        day = locker.warmed(room, shift)
        return locker.excess(day, aim.at(day.supply), None)

    return roots.most_that_fits(excess, coldest, warmest, tolerance=_TENTH)


def _by_the_day(q: Values) -> tuple[dict[str, float], list[str]]:
    """What is warmer on a warmer day, by its words [K], and what stays as it is."""
    if way_of(q) == "open":
        return {"{t} in the cabin": q.ambient_temperature}, []
    behind = {row.behind for row in faces_of(q)}
    now: dict[str, float] = {}
    if "cabin" in behind or q.supply_from == "cabin":
        now["{t} beside the " + ("space" if way_of(q) == "engine" else "locker")] = (
            q.ambient_temperature
        )
    if behind & {"shade", "sun"} or q.supply_from == "outside":
        now["{o} outside"] = q.outside_temperature
    stays = ["the sea"] if behind & {"bilge", "sea"} else []
    if "engine" in behind or q.supply_from == "engine":
        stays.append("the engine space")
    return now, stays


def _warmest_day(q: Values, case: Case, aims: tuple[Aim, ...], show: Report) -> None:
    """The warmest day: air beside the locker and outside shift alike; sea and engine space stay."""
    now, stays = _by_the_day(q)
    if not now:
        return
    coldest, warmest = _COLDEST + 0.5 - min(now.values()), _HOTTEST + 0.5 - max(now.values())
    if coldest >= warmest:
        return
    shift, aim = _first(aims, lambda aim: _largest_shift(case.room, aim, coldest, warmest))
    if math.isinf(shift) or max(now.values()) + shift > _HOTTEST:
        return
    parts = {words: _most_day(day + shift) for words, day in now.items()}
    show.remedy(
        "Unchanged, it runs for as long as you like on a day of at most "
        + " and ".join(parts)
        + (
            f", with {' and '.join(stays)} as you gave it."
            if len(stays) == 1
            else f", with {' and '.join(stays)} as you gave them."
            if stays
            else "."
        )
        + aim.words,
        **{words[1]: day for words, day in parts.items()},
        sets={_DAYS[words[1]]: _typed(day.shown(), "°C") for words, day in parts.items()},
    )


def _most_day(temperature: float) -> Amount:
    """A temperature [K] to the half degree Celsius below."""
    halves = math.floor(2 * (temperature - air.ZERO_CELSIUS))
    return most(halves / 2 + air.ZERO_CELSIUS, "°C")


def _smallest_locker(q: Values, case: Case, aims: tuple[Aim, ...], show: Report) -> None:
    now = case.room.volume
    least_volume = now * _least_scale(q, case) ** 3
    if least_volume >= _LARGEST_LOCKER:
        return
    found, aim = _first(
        aims,
        lambda aim: locker.smallest_volume(
            case.room, aim.at(case.room.supply), None, _LARGEST_LOCKER, least_volume
        ),
    )
    if not math.isfinite(found):
        return
    scale = (found / now) ** (1 / 3)
    wider = least(scale**2, "×")
    if q.given_by == "volume":
        show.remedy(
            "A locker of this shape with as much in it must have at least {v} inside, its faces "
            "{x} as large." + aim.words,
            v=least(found, "L"),
            x=wider,
        )
        return
    given = any(row.area is not None for row in faces_of(q))
    sizes = inner_sizes(q).values()
    long, wide, high = (least(scale * size, "mm", step=0.005) for size in sizes)
    show.remedy(
        "A locker of this shape with as much in it must be at least {l} long, {w} wide and {h} high"
        + (", the faces that you gave an area for {x} as large." if given else ".")
        + aim.words,
        l=long,
        w=wide,
        h=high,
        x=wider,
        sets=None
        if given or max(s.shown() for s in (long, wide, high)) > _LONGEST_SIDE
        else {
            name: _typed(size.shown(), "mm")
            for name, size in zip(LOCKER, (long, wide, high), strict=True)
        },
    )


def _least_scale(q: Values, case: Case) -> float:
    """How much the locker may shrink, as a share of its lengths, before the unit or an opening no
    longer fits into it."""
    vents = case.room.vents
    scales = [math.sqrt(max(vents.low, vents.high) / largest_face(q, case.room.walls))]
    inside = list(inner_sizes(q).values())
    if inside:
        scales += [own / room for own, room in zip(unit_sizes(q), sorted(inside), strict=True)]
        scales.append(max(vents.apart, vents.own_height) / inside[-1])
    return 1.001 * max(scales)
