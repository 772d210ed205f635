"""What would keep it cool, as sentences and as what to fill in to try it.

What is told keeps a reserve, on its safe side; so what is filled in is exactly that.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from ...frame.report import TIGHT_MARGIN, Amount, Line, Report, amount, least, line, most
from ...physics import air, ventilation
from ...system import cooler
from ...system.heated import Heated
from .asks import Asks

_LONGEST_SIDE = 10.0  # m; no form takes a longer one
_EXACT = 7  # more digits than are told, fewer than a value keeps

_JUST = "It then just keeps within its limits."


def remedies(q: Asks, case: Heated, show: Report) -> None:
    """What air, how long a run, how warm a day and how large a locker would do."""
    way = case.place.way
    if way == "engine":
        _engine(case, show)
        if case.suction > ventilation.ENGINE_SUCTION:
            return  # nothing else helps while the engine lacks air
    if way != "open":
        _air(q, case, show)
    _longest(case, show)
    _warmest_day(case, show)
    if way not in ("open", "engine"):
        _smallest_locker(q, case, show)


def _exactly(told: Amount, share: float = 1.0) -> Amount:
    """What to fill in for an amount that is told, or for a share of it."""
    return amount(told.shown() * share, told.unit, digits=_EXACT)


def _tell(show: Report, just: bool, told: Line, sets: Mapping[str, object] | None) -> None:
    """A remedy; where it only just does, it says so."""
    if just:
        show.remedy("{remedy} {just}", remedy=told, just=line(_JUST), sets=sets)
    else:
        show.remedy(told.template, sets=sets, **told.amounts)


# ---- air ----


def _engine(case: Heated, show: Report) -> None:
    area = least(cooler.engine_openings(case, TIGHT_MARGIN), "cm2")
    half = _exactly(area, 0.5)
    lacks = case.held["suction"].margin < TIGHT_MARGIN
    fits = half.value <= min(cooler.LARGEST_OPENING, case.place.largest_face)
    show.remedy(
        "To give {p} the engine alone needs openings of {a} in all. At full power it needs more: "
        "its maker tells how much.",
        p=(case.place.engine_power, "kW"),
        a=area,
        sets={"low_area": half, "high_area": half} if lacks and fits else None,
        mends="suction",
    )


def _air(q: Asks, case: Heated, show: Report) -> None:
    if cooler.air_too_warm(case):
        show.remedy(
            "No fan and no vent cools it with air of {s}: bring in cooler air.",
            s=(case.room.supply, "°C"),
        )
        return
    if case.place.way != "fan":
        _vents(case, show)
    if case.place.way != "engine":  # its space gets no fan of the pump's
        _fan(q, case, show)


def _vents(case: Heated, show: Report) -> None:
    apart = most(cooler.usual_apart(case.place), "mm", step=0.005)
    found = cooler.vents(case, apart.value, TIGHT_MARGIN)
    engine = case.place.way == "engine"
    if found.area == 0:
        if not engine:  # the engine's own air is enough, and its openings are told
            told = line("It needs no openings: its faces pass all the heat.")
            _tell(show, found.just, told, None)
        return
    if math.isinf(found.area):
        show.remedy(
            "No two openings of up to {a} each, {h} apart, keep it cool for as long as you like.",
            a=most(found.largest, "cm2"),
            h=apart,
        )
        return
    each = least(found.area, "cm2")
    told = line(
        "Two openings of {a} each, a low and a high one {h} apart, keep it cool with air of {s} "
        "for as long as you like, without a fan. Lead them to the open air, not into a cabin, "
        "where they would let in fumes and smoke."
        if engine
        else "Two openings of {a} each, a low and a high one {h} apart, keep it cool for as long "
        "as you like, without a fan. They let the noise out as well, see the page Quiet running: "
        "a lined bend, as wide inside its lining, keeps the air and stops much of the sound "
        "(common practice, no source).",
        a=each,
        h=apart,
        s=(case.room.supply, "°C"),
    )
    sets = {
        "air_way": "engine" if engine else "two",
        "low_area": _exactly(each),
        "high_area": _exactly(each),
        "apart": _exactly(apart),
    }
    _tell(show, found.just, told, sets)


def _fan(q: Asks, case: Heated, show: Report) -> None:
    fan, stands = cooler.blower(case, TIGHT_MARGIN), case.place.fan
    if fan is None:
        return
    if not fan.has_room:
        show.remedy(
            "No fan that fits here keeps it cool with air of {s}: bring in cooler air.",
            s=(case.room.supply, "°C"),
        )
        return
    flow, bore = least(fan.flow, "m3/h"), least(fan.bore, "mm")
    if not fan.is_had:
        show.remedy(
            "It needs {q} of air, and no fan up to {f} and {p} presses that through a duct of {d}: "
            "shorten the duct, take a stronger fan, or bring in cooler air.",
            q=flow,
            f=(cooler.LARGEST_FAN, "m3/h"),
            p=(stands.pressure, "Pa"),
            d=(fan.bore, "mm"),
        )
        return
    free, opening = _whole_flow(fan.free), least(fan.opening, "cm2")
    told = line(
        "A fan that draws at least {q} of air through it keeps it cool for as long as you like: "
        "{f} in free air and {p} against a shut duct, a duct of {d}, and openings of {o} in all "
        "for the air that comes in. It takes about {i} at {u}. Let it run while the unit rests "
        "too: the other heat goes on."
        if fan.at_rest
        else "A fan that draws at least {q} of air through it keeps it cool for as long as you "
        "like: {f} in free air and {p} against a shut duct, a duct of {d}, and openings of {o} in "
        "all for the air that comes in. It takes about {i} at {u}.",
        q=flow,
        f=free,
        p=(stands.pressure, "Pa"),
        d=bore,
        o=opening,
        i=amount(fan.power / stands.voltage, "A", digits=2),
        u=(stands.voltage, "V"),
    )
    sets = {
        "air_way": "fan",
        "fan_flow": _exactly(free),
        "fan_draws_out": True,
        "duct_diameter": _exactly(bore),
        "low_area": _exactly(opening, 0.5),
        "high_area": _exactly(opening, 0.5),
    }
    # A measured curve counts instead of the flow that is filled in.
    _tell(show, fan.just, told, None if q.fan_curve or fan.at_rest else sets)


def _whole_flow(flow: float) -> Amount:
    """A flow [m³/s] to the whole m³/h above: a hair less, as it is trimmed before it is rounded."""
    return least((1 - 1e-8) * math.ceil(flow * 3600 - 1e-6) / 3600, "m3/h")


# ---- as it is ----


def _longest(case: Heated, show: Report) -> None:
    found = cooler.longest_run(case, TIGHT_MARGIN)
    if math.isinf(found.time):
        told = line("As it is it may run for as long as you like.")
        _tell(show, found.just, told, None)
        return
    if found.time == 0:
        show.remedy("As it is it should not run at all: it is too warm before it starts.")
        return
    long = most(found.time, "h") if found.time > 7200 else most(found.time, "min", step=60)
    told = line(
        "As it is, the first run from cold may last {t}. A longer one, however long, just keeps "
        "within its limits. That is told of the first alone: one that begins before all has "
        "cooled may last less."
        if found.beyond
        else "As it is, the first run from cold may last {t}. That is told of the first alone: one "
        "that begins before all has cooled may last less.",
        t=long,
    )
    _tell(show, found.just, told, {"run_hours": _exactly(long), "runs": 1})


def _warmest_day(case: Heated, show: Report) -> None:
    found = cooler.warmest_day(case, TIGHT_MARGIN)
    if found is None:
        return
    beside = None if found.beside is None else _half_degree(found.beside)
    outside = None if found.outside is None else _half_degree(found.outside)
    day = {"t": beside, "o": outside}
    template = _DAYS[case.place.way if case.place.way in ("open", "engine") else "locker"]
    told = line(
        template[beside is not None, outside is not None],
        **{slot: told for slot, told in day.items() if told is not None},
    )
    if stays := _STAYS[found.sea, found.engine_space]:
        told = line("{remedy} {stays}", remedy=told, stays=line(stays))
    fields = {"ambient_temperature": beside, "outside_temperature": outside}
    sets = {name: _exactly(told) for name, told in fields.items() if told is not None}
    _tell(show, found.just, told, sets)


_OUTSIDE = "Unchanged, it runs for as long as you like on a day of at most {o} outside."
# By what it stands in: which temperatures a day is told by, beside it and outside.
_DAYS = {
    "open": {
        (True, False): "Unchanged, it runs for as long as you like on a day of at most {t} in the "
        "cabin."
    },
    "engine": {
        (True, False): "Unchanged, it runs for as long as you like on a day of at most {t} beside "
        "the space.",
        (False, True): _OUTSIDE,
        (True, True): "Unchanged, it runs for as long as you like on a day of at most {t} beside "
        "the space and {o} outside.",
    },
    "locker": {
        (True, False): "Unchanged, it runs for as long as you like on a day of at most {t} beside "
        "the locker.",
        (False, True): _OUTSIDE,
        (True, True): "Unchanged, it runs for as long as you like on a day of at most {t} beside "
        "the locker and {o} outside.",
    },
}
# What stays as it is on such a day: the sea, the engine space.
_STAYS = {
    (False, False): "",
    (True, False): "The sea is taken to be as you gave it.",
    (False, True): "The engine space is taken to be as you gave it.",
    (True, True): "The sea and the engine space are taken to be as you gave them.",
}


def _half_degree(temperature: float) -> Amount:
    """A temperature [K] to the half degree Celsius below."""
    halves = math.floor(2 * (temperature - air.ZERO_CELSIUS))
    return most(halves / 2 + air.ZERO_CELSIUS, "°C")


def _smallest_locker(q: Asks, case: Heated, show: Report) -> None:
    found = cooler.smallest(case, q.body(), TIGHT_MARGIN)
    if found is None:
        return
    wider = least(found.scale**2, "×")
    inside = case.place.sizes
    if inside is None:
        told = line(
            "A locker of this shape with as much in it must have at least {v} inside, its faces "
            "{x} as large.",
            v=least(found.volume, "L"),
            x=wider,
        )
        _tell(show, found.just, told, None)
        return
    sides = (inside.length, inside.width, inside.height)
    long, wide, high = (least(found.scale * side, "mm", step=0.005) for side in sides)
    given = any(row.area is not None for row in q.faces)
    told = line(
        "A locker of this shape with as much in it must be at least {l} long, {w} wide and {h} "
        "high, the faces that you gave an area for {x} as large."
        if given
        else "A locker of this shape with as much in it must be at least {l} long, {w} wide and "
        "{h} high.",
        l=long,
        w=wide,
        h=high,
        x=wider,
    )
    fits = max(side.shown() for side in (long, wide, high)) <= _LONGEST_SIDE
    names = ("locker_length", "locker_width", "locker_height")
    sets = {n: _exactly(side) for n, side in zip(names, (long, wide, high), strict=True)}
    _tell(show, found.just, told, sets if fits and not given else None)
