"""How often the diagnosis is right, counted on simulated watermakers.

    python tests/how_often.py            counts anew and writes the table (ten minutes)

A case is a boat, a machine near its papers, gauges that always show wrong, a day one, another day in
another sea, a cause with its size, and the readings of both days. `own` cases are made by the model
that diagnoses; `other` cases by the equations of `simulated`. The seeds counted here were never used
to choose a number of the model.
"""

from __future__ import annotations

import json
import math
import multiprocessing
import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

import simulated

from calc import sheet, stock
from calc.frame.inputs import SHEET, Layer
from calc.system import faults, trials
from calc.system.diagnosis import Diagnosis, diagnose
from calc.system.faults import NOTHING, SEA, SIZES
from calc.system.occasion import UNSURE, Occasion, shown, unscaled
from calc.system.readings import IN_SHARES, METERS, NAMES, ORDINARY, Readings, Watermaker
from calc.system.sea import Sea

DATA = Path(__file__).parent / "published" / "how-often.json"
SEED, CASES = 20261129, 14  # of each cause and each kind
CAUSES = (
    "filters",
    "air",
    "strainer",
    "boost",
    "stroke",
    "packing",
    "relief",
    "valve",
    "hertz",
    "volts",
    "cable",
    "capacitor",
    "fouling",
    "scaling",
    "oxidised",
    "oring",
    "saltier",
    "gauge",
)
BESIDE = "biofouling", "stiff", "bypass"
GAUGES = "behind", "pressure", "product", "brine", "conductivity"  # fmt: skip
FIVE = ("behind", "pressure", "product", "conductivity", "temperature")
SEEN_AS = 0.93, 0.025  # how a sign comes out in a trial: less surely than the table has it


class Asks(sheet.Gauged):
    pass


@cache
def watermaker(boat: str) -> Watermaker:
    guide = stock.guide()
    texts = guide.shelf("boat")[boat].texts
    known = {name: text for name, text in texts.items() if name in Asks.fields}
    made: Asks = guide.bind(Asks, Layer(SHEET, known, own=True)).as_values()
    return made.watermaker()


@dataclass(frozen=True)
class Case:
    """A cause with its size from 0 to 1, and what was read on both days; `truth` is all that a
    right gauge would show now, `again` what this set's gauges would show of it."""

    cause: str
    size: float
    day_one: Occasion
    now: Occasion
    again: Mapping[str, float]


def _bias(rng: random.Random) -> dict[str, float]:
    """What each gauge always shows wrong: of the same spread as `METERS`, of another shape."""
    return {name: rng.uniform(-1.73, 1.73) * METERS[name].standing for name in NAMES}


def _read(
    rng: random.Random, right: Mapping[str, float], bias: Mapping[str, float], again: bool
) -> dict[str, float]:
    """What the gauges show of what is right."""
    found = {}
    for name, value in right.items():
        meter = METERS[name]
        error = bias[name] + rng.gauss(0, meter.noise)
        if again:
            error += rng.gauss(0, meter.drift)
        found[name] = value * math.exp(error) if name in IN_SHARES else value + error
    return found


def _size(chain: Sequence[float], size: float) -> float:
    """A size between those of a chain."""
    at = min(size, 0.9999) * (len(chain) - 1)
    low = int(at)
    return chain[low] + (at - low) * (chain[low + 1] - chain[low])


def _ails(cause: str, size: float, rng: random.Random, plungers: int) -> simulated.Ails:
    """A cause in the other equations, its side effects not quite as the model has them."""

    def sized(name: str, share: float = 0.0) -> float:
        value = _size(SIZES[name], size)
        return 1 + (value - 1) * math.exp(rng.gauss(0, share)) if share else value

    if cause in ("fouling", "biofouling", "colloids", "scaling"):
        made = {"water": sized("water")}
        if cause == "scaling":
            made |= {"salt": sized("scale_salt", 0.2), "along": sized("scale_along", 0.3)}
        if cause == "biofouling":
            made["along"] = sized("along", 0.3)
        return simulated.Ails(**made)
    if cause == "oxidised":
        return simulated.Ails(water=sized("oxidised_water", 0.2), salt=sized("oxidised_salt", 0.2))
    if cause == "stroke":
        return simulated.Ails(stroke=min(0.95, _size(SIZES["stroke"], size) / plungers))
    if cause == "oring":
        return simulated.Ails(leak=_size(SIZES["leak"], size))
    if cause == "hertz" and rng.random() < 0.3:
        return simulated.Ails(hertz=_size(SIZES["hertz_high"], size))
    if cause == "strainer":
        return simulated.Ails(weed=_size(SIZES["strainer"], size))
    if cause in SIZES and cause not in ("saltier",):
        return simulated.Ails(**{cause: _size(SIZES[cause], size)})
    return simulated.Ails()


def case(cause: str, kind: str, rng: random.Random, size: float | None = None) -> Case:
    """A case of a cause, by the model's own equations or by other ones."""
    while True:
        made = _case(cause, kind, rng, size)
        if made is not None:
            return made


def _case(cause: str, kind: str, rng: random.Random, size: float | None) -> Case | None:
    boat = rng.choice(("ketch", "catamaran"))
    if cause == "gauge":
        cause = faults.GAUGE + rng.choice(GAUGES)
    one = watermaker(boat)
    severity = rng.random() if size is None else size
    turned = rng.random() < 0.5 and cause != "valve"
    bias = _bias(rng)
    then, here = _seas(rng, cause, severity)
    off = {}
    if cause.startswith(faults.GAUGE):
        name = cause.removeprefix(faults.GAUGE)
        off[name] = rng.choice((-1, 1)) * _size(faults.OFF[name], severity)
    make = _by_other if kind == "other" else _by_own
    made = make(one, cause, severity, turned, bias, off, then, here, rng)
    if made is None:
        return None
    first, now, said = made
    day = Occasion(one, _pick(first, ORDINARY))
    return Case(cause, severity, day, Occasion(one, _pick(now, ORDINARY), turned), said)


def _seas(rng: random.Random, cause: str, severity: float) -> tuple[Sea, Sea]:
    warm = rng.uniform(284, 301)
    salt = 0.035 * math.exp(rng.gauss(0, 0.015))
    again = salt * math.exp(rng.gauss(0, 0.015))
    if cause == "saltier":
        again = salt * math.exp(_size(SIZES["saltier"], severity))
    return Sea(warm, salt), Sea(min(303, max(281, warm + rng.gauss(0, 4))), again)


def _pick(values: Mapping[str, float], names: Sequence[str]) -> Readings:
    return Readings(**{name: values[name] for name in names})


def _by_other(
    one: Watermaker, cause: str, size: float, turned: bool, bias: dict[str, float],
    off: dict[str, float], then: Sea, here: Sea, rng: random.Random,
) -> tuple[dict[str, float], dict[str, float], dict[str, float]] | None:  # fmt: skip
    rig = simulated.rigged(one, rng)
    first_day, today = (
        simulated.Day(
            sea.temperature,
            sea.salinity,
            math.exp(rng.gauss(0, 0.015)),
            math.exp(rng.gauss(0, 0.003)),
            abs(rng.gauss(0, 4e3)) if later else 0.0,
            rng.gauss(0, 1.2e3),
            math.exp(rng.gauss(-0.02, 0.02)) if later else 1.0,
            math.exp(rng.gauss(0.03, 0.05)) if later else 1.0,
        )
        for later, sea in ((False, then), (True, here))
    )
    ails = _ails(cause, size, rng, rig.plungers)
    wanted = one.making.pressure
    # It is turned until the gauge shows the pressure; the gauge has its bias.
    day_true = wanted * math.exp(-bias["pressure"])
    first = simulated.state(rig, simulated.Ails(), first_day, day_true)
    if turned:
        bar = wanted * math.exp(-bias["pressure"] - off.get("pressure", 0.0))
        now = simulated.state(rig, ails, today, bar)
    else:
        now = simulated.standing(rig, ails, today, simulated.valve_of(first))
    return _both(first, now, bias, off, rng)


def _both(
    first: Mapping[str, float], now: Mapping[str, float], bias: dict[str, float],
    off: Mapping[str, float], rng: random.Random,
) -> tuple[dict[str, float], dict[str, float], dict[str, float]]:  # fmt: skip
    wrong = {name: error + off.get(name, 0.0) for name, error in bias.items()}
    return (
        _read(rng, first, bias, False),
        _read(rng, now, wrong, True),
        _read(rng, now, wrong, True),
    )


def _by_own(
    one: Watermaker, cause: str, size: float, turned: bool, bias: dict[str, float],
    off: dict[str, float], then: Sea, here: Sea, rng: random.Random,
) -> tuple[dict[str, float], dict[str, float], dict[str, float]] | None:  # fmt: skip
    stand = {name: rng.gauss(0, sd) for name, (sd, _) in UNSURE.items() if name != "salinity"}

    def day(sea: Sea) -> dict[str, float]:
        moved = {name: rng.gauss(0, UNSURE[name][1]) for name in stand}
        return {name: stand[name] + moved[name] for name in stand} | {"salinity": 0.0}

    wanted = one.making.pressure * math.exp(-bias["pressure"])
    nothing = Readings(pressure=wanted)
    first = shown(Occasion(one.in_sea(then), nothing), day(then))
    if first is None:
        return None
    fault = faults.WELL
    if not off and cause not in (NOTHING, "saltier"):
        chain = rng.choice(faults.CHAINS[cause](one))
        at = min(size, 0.9999) * (len(chain) - 1)
        fault = _between(chain[int(at)], chain[int(at) + 1], at - int(at))
    bar = one.making.pressure * math.exp(-bias["pressure"] - off.get("pressure", 0.0))
    opening = None if turned else first.opening
    made = shown(
        Occasion(one.in_sea(here), Readings(pressure=bar), turned), day(here), fault, opening
    )
    if made is None:
        return None

    def plain(values: Sequence[float]) -> dict[str, float]:
        return {name: unscaled(name, v) for name, v in zip(NAMES, values, strict=True)}

    return _both(plain(first.values), plain(made.values), bias, off, rng)


def _between(a: faults.Fault, b: faults.Fault, share: float) -> faults.Fault:
    fields = {
        name: getattr(a.condition, name) * (1 - share) + getattr(b.condition, name) * share
        for name in vars(a.condition)
    }
    return replace(a, condition=replace(a.condition, **fields))


# ---- what is counted ----


@dataclass(frozen=True)
class Result:
    """The rank of the true cause, whether it was told as faulty, and the same once asked."""

    rank: int
    faulty: bool
    asked: str
    rank_asked: int
    faulty_asked: bool


def rank_of(found: Diagnosis, cause: str) -> int:
    """The rank of a cause; nothing at all and another sea are one."""
    if cause == NOTHING:
        return min(one.rank for one in found.causes if one.key in (NOTHING, SEA))
    if cause == "saltier" and found.of(cause) is None:  # its salt was measured: that explains it
        cause = SEA
    one = found.of(cause)
    return 99 if one is None else one.rank


def judged(
    made: Case, rng: random.Random, day_one: bool = True, names: Sequence[str] = ORDINARY
) -> Result | None:
    """The case diagnosed, and diagnosed again once the next reading or trial was answered."""
    day = made.day_one if day_one else None
    readings = _pick(made.now.readings.read, names)
    now = replace(made.now, readings=readings, turned=made.now.turned or not day_one)
    found = diagnose(now, day)
    if found is None:
        return None
    ask = trials.nexts(found, {})[0]
    seen: dict[str, bool] = {}
    if ask.sign:
        chance = trials.BY_KEY[ask.key].chance(made.cause)
        seen = {ask.key: rng.random() < SEEN_AS[0] * chance + SEEN_AS[1]}
        again = diagnose(now, day, trials.weights(seen))
    else:
        more = Readings(**{**readings.read, ask.key: made.again[ask.key]})
        again = diagnose(replace(now, readings=more), day)
    assert again is not None
    return Result(
        rank_of(found, made.cause), found.sure, ask.key, rank_of(again, made.cause), again.sure
    )


# ---- the table ----


@dataclass(frozen=True)
class Row:
    """A row of the table: which equations, readings and sizes, and whether there is a day one."""

    key: str
    kind: str
    names: Sequence[str] = ORDINARY
    day_one: bool = True
    sizes: tuple[float, float] = (0.0, 1.0)


LARGE = 2 / 3, 1.0
ROWS = (
    Row("own", "own"),
    Row("other", "other"),
    Row("five", "other", FIVE),
    Row("no_day_one", "other", ORDINARY, False, LARGE),
)
MIDDLE = 1 / 3  # from this size on a fault is middle or large


def sample(row: Row, cause: str, cases: int, seed: int = SEED) -> list[tuple[float, Result]]:
    """Cases of a row and a cause, each with its size."""
    rng = random.Random(f"{seed} {row.key} {cause}")
    low, high = row.sizes
    found = []
    for n in range(cases):
        size = low + (high - low) * (n + rng.random()) / cases
        made = judged(case(cause, row.kind, rng, size), rng, row.day_one, row.names)
        if made is not None:
            found.append((size, made))
    return found


def shares(results: Sequence[Result]) -> dict[str, Any]:
    """How many of them are told first and among the first three, at once and once asked."""
    count = len(results)

    def share(told: Sequence[bool]) -> float:
        return round(sum(told) / count, 4)

    return {
        "count": count,
        "first": share([one.rank == 1 for one in results]),
        "three": share([one.rank <= 3 for one in results]),
        "asked_first": share([one.rank_asked == 1 for one in results]),
        "asked_three": share([one.rank_asked <= 3 for one in results]),
    }


def _job(task: tuple[Row, str, int]) -> tuple[str, str, list[tuple[float, Result]]]:
    row, cause, cases = task
    return row.key, cause, sample(row, cause, cases)


def counted(cases: int = CASES, alarms: int = 100) -> dict[str, Any]:
    """The whole table."""
    tasks = [(row, cause, cases) for row in ROWS for cause in (*CAUSES, *BESIDE)]
    tasks += [(row, NOTHING, alarms) for row in ROWS]
    with multiprocessing.Pool(3) as pool:
        found = pool.map(_job, tasks, chunksize=1)
    by: dict[str, dict[str, list[tuple[float, Result]]]] = {}
    for key, cause, made in found:
        by.setdefault(key, {})[cause] = made
    rows = []
    for row in ROWS:
        every = [one for cause in CAUSES for one in by[row.key][cause]]
        clear = [one for size, one in every if size >= MIDDLE]
        well = [one for _, one in by[row.key][NOTHING]]
        rows.append(
            {
                "key": row.key,
                "all": shares([one for _, one in every]),
                "clear": shares(clear),
                "alarms": {
                    "count": len(well),
                    "told": round(sum(one.faulty for one in well) / len(well), 4),
                    "asked": round(sum(one.faulty_asked for one in well) / len(well), 4),
                },
            }
        )
    each = []
    for cause in (*CAUSES, *BESIDE):
        own, other = by["own"][cause], by["other"][cause]
        each.append(
            {
                "key": cause,
                **shares([one for _, one in other]),
                "told_from": told_from([*own, *other]),
            }
        )
    return {"seed": SEED, "cases": cases, "alarms": alarms, "rows": rows, "causes": each}


def told_from(cases: Sequence[tuple[float, Result]], parts: int = 5) -> float | None:
    """The least size, from 0 to 1 in so many parts, from which on each part of the sizes is told
    first in four of five cases; None where not even the largest are."""
    least = None
    for part in reversed(range(parts)):
        inside = [one for size, one in cases if part / parts <= size < (part + 1) / parts]
        if not inside or sum(one.rank == 1 for one in inside) < 0.8 * len(inside):
            break
        least = part / parts
    return least


def main() -> None:
    """Counts and writes."""
    DATA.write_text(json.dumps(counted(), indent=1) + "\n", "utf-8")
    print(f"written: {DATA.name}")


if __name__ == "__main__":
    main()
