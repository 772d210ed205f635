"""What can be wrong with a watermaker: each cause as one parameter of its solved state, from the
smallest that counts as a fault to the largest, and how common it is."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, replace

from .readings import HEALTHY, Condition, Watermaker

NOTHING, SEA = "nothing", "sea"  # all is well; all is well in another sea than on day one
# How far another sea is from that of day one before it is named as what explains the readings:
# kelvins, and a share of its salt. Common practice, no source.
OTHER_WARMTH, OTHER_SALT = 1.5, 0.04
OTHER_SEA = frozenset(("colder", "warmer", "saltier", "thinner"))  # told apart before any cure
GAUGE = "gauge_"  # a gauge or meter at fault, before the name of its reading


@dataclass(frozen=True)
class Fault:
    """A cause at a size: the condition it puts the watermaker in; errors of its gauges, by reading
    [Pa, K or natural logarithm]; how much warmer [K] and saltier [logarithm] the sea is."""

    condition: Condition = HEALTHY
    errors: tuple[tuple[str, float], ...] = ()
    warmer: float = 0.0
    saltier: float = 0.0


WELL = Fault()
Chain = tuple[Fault, ...]
Sized = Callable[[Watermaker], tuple[Chain, ...]]


@dataclass(frozen=True)
class Cause:
    """A cause: its key, how common it is against the others, and its chains of sizes, from small
    to large; a cause without a chain changes no reading."""

    key: str
    rate: float
    chains: Sized


# How often each is what is wrong, of about two hundred times that somebody asks. Common
# practice, no source.
RATES: dict[str, float] = {
    "filters": 10.0, "air": 6.0, "strainer": 5.0, "boost": 4.0, "stroke": 4.0, "packing": 4.0,
    "relief": 2.0, "valve": 2.0, "hertz": 1.5, "volts": 2.5, "cable": 1.0, "capacitor": 2.0,
    "stiff": 1.0, "fouling": 6.0, "biofouling": 4.0, "colloids": 2.0, "scaling": 2.0,
    "oxidised": 3.0, "oring": 3.0, "torn": 1.0, "bypass": 2.0, "colder": 5.0, "warmer": 2.0,
    "saltier": 3.0, "thinner": 2.0, "oil_seal": 1.5, "start_capacitor": 1.5, "ventilation": 2.0,
    "gauge_before": 1.0, "gauge_behind": 1.0, "gauge_pressure": 2.0, "gauge_product": 1.5,
    "gauge_brine": 1.5, "gauge_conductivity": 2.0, "gauge_temperature": 0.5, "gauge_volts": 0.5,
    "gauge_amperes": 0.5,
}  # fmt: skip
# NOTHING is wrong so often, in the same measure. Common practice, no source.
WELL_RATE = 90.0

# Sizes from the smallest that one would call a fault to the largest that still runs. Common
# practice, no source. Shares and factors as in `Condition`; of filters times the drop at which they
# are changed; of a strainer what it loses [Pa]; of a stroke's valve shares of one plunger.
SIZES: dict[str, tuple[float, ...]] = {
    "filters": (0.4, 0.7, 1.1, 1.7, 2.6),
    "air": (0.02, 0.05, 0.1, 0.2, 0.35),
    "strainer": (0.07e5, 0.16e5, 0.3e5, 0.55e5, 0.9e5),
    "boost": (0.85, 0.7, 0.5, 0.25, 0.02),
    "stroke": (0.15, 0.35, 0.6, 0.8, 1.0),
    "packing": (0.03, 0.05, 0.1, 0.17, 0.25),
    "relief": (0.03, 0.05, 0.1, 0.2, 0.35),
    "valve": (1.05, 1.12, 1.22, 1.4, 1.7),
    "hertz": (0.96, 0.93, 0.9, 0.86, 0.82),
    "hertz_high": (1.04, 1.07, 1.1, 1.15, 1.2),
    "volts": (0.94, 0.91, 0.88, 0.84, 0.8),
    "cable": (0.05, 0.08, 0.11, 0.15, 0.19),
    "capacitor": (0.3, 0.45, 0.6, 0.8, 1.0),
    "stiff": (1.08, 1.14, 1.22, 1.35, 1.5),
    "water": (0.9, 0.84, 0.76, 0.65, 0.5),
    "along": (1.3, 1.9, 3.0, 4.5, 7.0),
    "scale_salt": (1.15, 1.3, 1.5, 1.9, 2.5),
    "scale_along": (1.1, 1.3, 1.6, 2.2, 3.0),
    "colloid_salt": (1.05, 1.08, 1.13, 1.2, 1.3),
    "oxidised_water": (1.04, 1.09, 1.17, 1.3, 1.5),
    "oxidised_salt": (1.3, 1.7, 2.5, 4.0, 7.0),
    "leak": (0.0002, 0.0005, 0.0013, 0.0035, 0.01),
    "bypass": (0.2, 0.3, 0.42, 0.56, 0.7),
    "colder": (-2.5, -5.0, -8.0, -12.0, -17.0),
    "warmer": (2.5, 4.5, 7.0, 10.0),
    "saltier": (0.06, 0.1, 0.14, 0.2),
    "thinner": (-0.06, -0.15, -0.35, -0.7, -1.2),
}

# How far a gauge is off that is at fault [Pa, K or logarithm], to either side. Common practice, no
# source.
OFF: dict[str, tuple[float, ...]] = {
    "before": (1.5e4, 2.5e4, 4e4, 7e4, 12e4),
    "behind": (1.5e4, 2.5e4, 4e4, 7e4, 12e4),
    "pressure": (0.06, 0.09, 0.13, 0.19, 0.27),
    "product": (0.08, 0.12, 0.18, 0.28, 0.45),
    "brine": (0.08, 0.12, 0.18, 0.28, 0.45),
    "conductivity": (0.2, 0.3, 0.45, 0.65, 0.95),
    "temperature": (2.0, 3.0, 4.5, 7.0, 10.0),
    "volts": (0.04, 0.06, 0.09, 0.13, 0.2),
    "amperes": (0.07, 0.11, 0.17, 0.25, 0.4),
}
# Where a motor has no run capacitor: the kinds of `motors.KINDS` that need one to run.
RUN_CAPACITOR = frozenset(("start_run", "permanent", "unknown"))
START_CAPACITOR = frozenset(("start_run", "capacitor_start", "unknown"))


def combined(one: Fault, other: Fault) -> Fault:
    """Two faults at a time."""
    found = {}
    for made in fields(Condition):
        a, b = getattr(one.condition, made.name), getattr(other.condition, made.name)
        found[made.name] = a * b if made.default == 1.0 else 1 - (1 - a) * (1 - b)
    return Fault(
        Condition(**found),
        one.errors + other.errors,
        one.warmer + other.warmer,
        one.saltier + other.saltier,
    )


def _of(name: str, sizes: str = "") -> Sized:
    made: Chain = tuple(Fault(replace(HEALTHY, **{name: size})) for size in SIZES[sizes or name])
    return lambda _: (made,)


def _filters(watermaker: Watermaker) -> tuple[Chain, ...]:
    line = watermaker.line
    times = line.filters.change / max(line.filters.clean(line.flow, line.water), 1.0)
    return (tuple(Fault(Condition(filters=1 + size * times)) for size in SIZES["filters"]),)


def _strainer(watermaker: Watermaker) -> tuple[Chain, ...]:
    line = watermaker.line
    clean = max(line.strainer.lost(line.flow, dirty=False), 1.0)
    return (
        tuple(
            Fault(Condition(strainer=1 - math.sqrt(clean / (clean + lost))))
            for lost in SIZES["strainer"]
        ),
    )


def _stroke(watermaker: Watermaker) -> tuple[Chain, ...]:
    share = 1 / watermaker.line.inlet.plungers
    return (tuple(Fault(Condition(stroke=min(size * share, 0.95))) for size in SIZES["stroke"]),)


def _membranes(*named: tuple[str, str]) -> Sized:
    columns = [[(field, size) for size in SIZES[sizes]] for field, sizes in named]
    made: Chain = tuple(Fault(replace(HEALTHY, **dict(row))) for row in zip(*columns, strict=True))
    return lambda _: (made,)


def _warmth(name: str) -> Sized:
    made: Chain = tuple(Fault(warmer=size) for size in SIZES[name])
    return lambda _: (made,)


def _salt(name: str) -> Sized:
    made: Chain = tuple(Fault(saltier=size) for size in SIZES[name])
    return lambda _: (made,)


def _unseen(_: Watermaker) -> tuple[Chain, ...]:
    return ()


def _gauge(name: str) -> Sized:
    made = tuple(
        tuple(Fault(errors=((name, sign * size),)) for size in OFF[name]) for sign in (1, -1)
    )
    return lambda _: made


def _hertz(watermaker: Watermaker) -> tuple[Chain, ...]:
    return _of("hertz")(watermaker) + _of("hertz", "hertz_high")(watermaker)


CHAINS: dict[str, Sized] = {
    "filters": _filters,
    "air": _of("air"),
    "strainer": _strainer,
    "boost": _of("boost"),
    "stroke": _stroke,
    "packing": _of("packing"),
    "relief": _of("relief"),
    "valve": _of("valve"),
    "hertz": _hertz,
    "volts": _of("volts"),
    "cable": _of("cable"),
    "capacitor": _of("capacitor"),
    "stiff": _of("stiff"),
    "fouling": _of("water"),
    "biofouling": _membranes(("water", "water"), ("along", "along")),
    "colloids": _membranes(("water", "water"), ("salt", "colloid_salt"), ("along", "along")),
    "scaling": _membranes(("water", "water"), ("salt", "scale_salt"), ("along", "scale_along")),
    "oxidised": _membranes(("water", "oxidised_water"), ("salt", "oxidised_salt")),
    "oring": _of("leak"),
    "torn": _of("leak"),
    "bypass": _of("bypass"),
    "colder": _warmth("colder"),
    "warmer": _warmth("warmer"),
    "saltier": _salt("saltier"),
    "thinner": _salt("thinner"),
    "oil_seal": _unseen,
    "start_capacitor": _unseen,
    "ventilation": _unseen,
    **{GAUGE + name: _gauge(name) for name in OFF},
}
CAUSES = tuple(Cause(key, rate, CHAINS[key]) for key, rate in RATES.items())


def possible(watermaker: Watermaker, read: frozenset[str], stands: bool) -> Iterator[Cause]:
    """The causes that this boat and these readings leave: no boost pump where there is none, no
    gauge that was not read, no regulating valve where it was turned to the gauge, no other sea
    where its warmth or salt was measured."""
    kind = watermaker.machine.plate.kind
    left_out = {
        "boost": watermaker.line.boost is None,
        "relief": watermaker.making.relief is None,
        "valve": not stands,
        "capacitor": kind not in RUN_CAPACITOR,
        "start_capacitor": kind not in START_CAPACITOR,
        "colder": "temperature" in read,
        "warmer": "temperature" in read,
        "saltier": "salinity" in read,
        "thinner": "salinity" in read,
    }
    for cause in CAUSES:
        gauge = cause.key.removeprefix(GAUGE)
        if left_out.get(cause.key) or (gauge in OFF and gauge not in read):
            continue
        yield cause
