"""What is seen and heard of a watermaker, and the trials that part its causes: how likely each is
with a cause, and which reading or trial would tell most.

How likely each sign is with a cause is common practice, no source; which causes a sign points at
is in part from published charts for reciprocating pumps (R. K. Mobley, An Introduction to
Predictive Maintenance, table 10-3; W. Byrne, Reverse Osmosis, ch. 7, as quoted in a public note).
"""

from __future__ import annotations

import math
import operator
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import erfc, log2

from . import gaussian
from .diagnosis import Diagnosis, Weighed, root
from .faults import GAUGE, NOTHING, OFF, SEA
from .readings import NAMES

YES, NO = "yes", "no"


@dataclass(frozen=True)
class Sign:
    """Something seen, heard or tried: its key, how likely it is with the causes that it points at
    and with any other, and how easily it is had: 1 from where one stands, less for what takes a
    tool, a licence or a workshop."""

    key: str
    chances: Mapping[str, float]
    else_: float
    ease: float = 1.0
    trial: bool = False

    def chance(self, cause: str) -> float:
        """How likely it is with a cause."""
        return self.chances.get(cause, self.else_)


# Common practice, no source: how likely each sign is with a cause.
SIGNS: tuple[Sign, ...] = (
    Sign(
        "knock",
        {"air": 0.6, "strainer": 0.6, "boost": 0.4, "filters": 0.3, "stroke": 0.5, "stiff": 0.2},
        0.03,
    ),
    Sign("tremble", {"stroke": 0.9, "air": 0.4, "strainer": 0.15, "boost": 0.15}, 0.05),
    Sign("milky", {"oil_seal": 0.95, "packing": 0.25}, 0.01),
    Sign("drip", {"packing": 0.9, "oil_seal": 0.2}, 0.07, 0.95, trial=True),
    Sign("relief_runs", {"relief": 0.9}, 0.06, 0.95, trial=True),
    Sign("bubbles", {"air": 0.9, "strainer": 0.2}, 0.06, 0.95, trial=True),
    Sign(
        "hot",
        {
            "ventilation": 0.9, "capacitor": 0.6, "stiff": 0.5, "volts": 0.4, "cable": 0.4,
            "hertz": 0.3,
        },
        0.05,
    ),
    Sign(
        "hum",
        {"start_capacitor": 0.85, "capacitor": 0.3, "volts": 0.25, "cable": 0.25, "stiff": 0.2},
        0.01,
    ),
    Sign(
        "trips_at_once",
        {"start_capacitor": 0.4, "capacitor": 0.2, "stiff": 0.2, "volts": 0.15, "cable": 0.1},
        0.01,
    ),
    Sign(
        "trips_hot",
        {"ventilation": 0.85, "capacitor": 0.4, "stiff": 0.4, "volts": 0.35, "cable": 0.3},
        0.02,
    ),
    Sign("boost_alone_low", {"boost": 0.95, "strainer": 0.15, "air": 0.2}, 0.07, 0.9, trial=True),
    Sign("other_cause_of_salt", {"oring": 0.9, "torn": 0.15}, 0.05, 0.35, trial=True),
    Sign("cable_loses", {"cable": 0.92}, 0.06, 0.5, trial=True),
    Sign("capacitor_weak", {"capacitor": 0.92}, 0.06, 0.5, trial=True),
    Sign("turns_hard", {"stiff": 0.85}, 0.07, 0.6, trial=True),
    Sign("valve_seat", {"valve": 0.9}, 0.07, 0.6, trial=True),
    *(
        Sign("other_" + name, {GAUGE + name: 0.92}, 0.06, 0.85, trial=True)
        for name in OFF
    ),
)  # fmt: skip
BY_KEY = {sign.key: sign for sign in SIGNS}
# How easily a reading that was not taken is had. Common practice, no source.
EASE: dict[str, float] = {
    "before": 1.0, "behind": 1.0, "pressure": 1.0, "drop": 0.9, "product": 1.0, "brine": 0.95,
    "conductivity": 0.95, "temperature": 1.0, "salinity": 0.9, "volts": 0.9, "amperes": 0.8,
    "hertz": 0.9,
}  # fmt: skip
# What is read, remembered or tried while it stands, its big pump off.
AT_REST = frozenset(
    (
        "temperature", "salinity", "milky", "trips_at_once", "trips_hot", "boost_alone_low",
        "turns_hard", "capacitor_weak", "valve_seat",
    )
)  # fmt: skip
_FEWEST = 0.005  # of all: a cause that is less likely is not asked about
_STEPS = 48
_ROOT = math.sqrt(2)
_FAR = 7.0  # standard deviations from the mean: what lies beyond is no digit of what is told


def weights(seen: Mapping[str, bool]) -> dict[str, float]:
    """By cause, the logarithm of how likely what was seen, and what was looked for and not seen,
    is with it, over how likely it is with any other."""
    found: dict[str, float] = {}
    for key, yes in seen.items():
        sign = BY_KEY[key]
        usual = sign.else_ if yes else 1 - sign.else_
        for cause, chance in sign.chances.items():
            share = (chance if yes else 1 - chance) / usual
            found[cause] = found.get(cause, 0.0) + math.log(share)
    return found


@dataclass(frozen=True)
class Next:
    """A reading or a trial that would tell more: its key, and what it would take of the doubt
    [bit], as expected; whether it is a sign, and how easily it is had [ratio]."""

    key: str
    tells: float
    sign: bool
    ease: float


def nexts(found: Diagnosis, seen: Mapping[str, bool]) -> list[Next]:
    """What to read or try next, best first: by what it takes of the doubt, and how easily it is
    had. Source: mutual information, C. E. Shannon, A Mathematical Theory of Communication (1948).
    """
    doubted = [one for one in found.causes if one.share > _FEWEST and one.pieces]
    total = sum(one.share for one in doubted)
    shares = [one.share / total for one in doubted]
    here = found.ground.now
    made: list[tuple[float, Next]] = []
    for sign in SIGNS:
        if sign.key in seen or not _asked(sign, doubted):
            continue
        chances = [sign.chance(one.key) for one in doubted]
        tells = _by_yes(shares, chances)
        made.append((tells * sign.ease, Next(sign.key, tells, True, sign.ease)))
    names = [
        name
        for name in NAMES
        if name not in here.readings.read and not (name == "pressure" and here.turned)
    ]
    each = [predicted(found, one, names) for one in doubted]
    for name in names:
        tells = _by_value(shares, [rows[name] for rows in each])
        made.append((tells * EASE[name], Next(name, tells, False, EASE[name])))
    made.sort(key=lambda one: (-one[0], one[1].key))
    return [one for _, one in made]


def _asked(sign: Sign, doubted: Sequence[Weighed]) -> bool:
    """Whether a sign points at one of the causes."""
    return any(one.key in sign.chances for one in doubted)


def entropy(shares: Sequence[float]) -> float:
    """Doubt between shares [bit]."""
    return -sum([p * log2(p) for p in shares if p > 0])


def _by_yes(shares: Sequence[float], chances: Sequence[float]) -> float:
    """What a sign is expected to take of the doubt [bit]."""
    yes = sum([p * c for p, c in zip(shares, chances, strict=True)])
    if not 0 < yes < 1:
        return 0.0
    each = sum([p * entropy((c, 1 - c)) for p, c in zip(shares, chances, strict=True)])
    return max(0.0, entropy((yes, 1 - yes)) - each)


Predicted = dict[str, list[tuple[float, float, float]]]


def predicted(found: Diagnosis, one: Weighed, names: Sequence[str]) -> Predicted:
    """What readings that were not taken would be with a cause: by name the shares, means and
    standard deviations on its scale, over the pieces of its chains."""
    base = found.ground
    here = base.now
    told = base.places
    sought = [NAMES.index(name) for name in names]
    read = here.vector()
    covariance = base.covariance
    rows: Predicted = {name: [] for name in names}
    places = list(zip(names, sought, strict=True))
    for share, means in one.pieces:
        if not told:  # nothing was read that it could hang on
            for name, place in places:
                own = covariance[place][place] + found.unlike(means, place) ** 2
                rows[name].append((share, means[place], math.sqrt(max(own, 1e-18))))
            continue
        lower = root(base, means)
        white = gaussian.forward(lower, [read[i] - means[i] for i in told])
        for name, place in places:
            cross = gaussian.forward(lower, [covariance[place][j] for j in told])
            own = covariance[place][place] + found.unlike(means, place) ** 2
            left = own - gaussian.dot(cross, cross)
            mean = means[place] + gaussian.dot(cross, white)
            rows[name].append((share, mean, math.sqrt(max(left, 1e-18))))
    return rows


def _by_value(shares: Sequence[float], each: Sequence[list[tuple[float, float, float]]]) -> float:
    """What a reading is expected to take of the doubt [bit]."""
    every = [piece for pieces in each for piece in pieces]
    low = min(mean - 3 * sd for _, mean, sd in every)
    high = max(mean + 3 * sd for _, mean, sd in every)
    width = (high - low) / _STEPS
    edges = [low + (step + 1) * width for step in range(_STEPS)]
    found: dict[tuple[float, float], tuple[int, list[float]]] = {}  # most causes change nothing
    rows: dict[tuple[tuple[float, float, float], ...], tuple[list[float], float]] = {}
    bins = []
    for pieces in map(tuple, each):
        if pieces not in rows:
            row = [0.0] * _STEPS
            for share, mean, sd in pieces:
                if (mean, sd) not in found:
                    first = max(0, int((mean - _FAR * sd - low) / width))
                    after = int((mean + _FAR * sd - low) / width) + 2
                    found[mean, sd] = first, _in_bins(mean, sd, edges[first:after])
                first, parts = found[mean, sd]
                for step, part in enumerate(parts, first):
                    row[step] += share * part
            rows[pieces] = row, entropy(row)
        bins.append(rows[pieces])
    columns = zip(*[row for row, _ in bins], strict=True)
    whole = [sum(map(operator.mul, shares, column)) for column in columns]
    rest = sum([p * doubt for p, (_, doubt) in zip(shares, bins, strict=True)])
    return max(0.0, entropy(whole) - rest)


def _in_bins(mean: float, sd: float, edges: Sequence[float]) -> list[float]:
    """The share of a normal distribution that lies below the first of some edges, and between
    each and the next."""
    per = 1 / (sd * _ROOT)
    twice = [erfc((mean - edge) * per) for edge in edges]
    return [0.5 * (above - below) for above, below in zip(twice, [0.0, *twice], strict=False)]


__all__ = ["BY_KEY", "NOTHING", "SEA", "SIGNS", "Next", "Sign", "nexts", "predicted", "weights"]
