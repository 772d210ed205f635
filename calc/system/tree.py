"""A key on paper to what is wrong: question after question, each answered by less, same or more
than when all was well, or by no or yes; made of the model and the signs of the ranking."""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from .faults import possible
from .ground import Ground
from .occasion import AT
from .readings import ORDINARY
from .trials import EASE, SIGNS, entropy

LESS, SAME, MORE = "less", "same", "more"
# A reading counts as less or more from so many standard deviations on. Common practice, no source.
CLEAR = 2.0
MOST_QUESTIONS = 12
_NAMED = 3  # causes at an end
_LEAST_SHARE = 0.08  # of an end: a cause that is rarer there is not named
_SETTLED = 0.25  # bit: what a question must at least take of the doubt
_HARD = 0.8  # a sign that is harder to have is no question for paper


@dataclass(frozen=True)
class Question:
    """A question: a reading or a sign by its key, and to each answer the number of the next
    question, or the causes that are left, likeliest first."""

    number: int
    key: str
    sign: bool
    answers: Mapping[str, int | tuple[str, ...]]


@dataclass(frozen=True)
class _Test:
    key: str
    sign: bool
    ease: float
    chances: Mapping[str, Mapping[str, float]]  # by answer, by cause


def _shares(off: float, sd: float) -> tuple[float, float, float]:
    """The shares of readings that count as less, as the same and as more, where they lie so far
    off on average."""
    root = sd * math.sqrt(2)
    low = math.erfc((-CLEAR * sd - off) / root)
    high = math.erfc((CLEAR * sd - off) / root)
    return 0.5 * (2.0 - low), 0.5 * (low - high), 0.5 * high


def _tests(base: Ground) -> Iterator[_Test]:
    """All that may be asked."""
    here = base.now.watermaker
    causes = list(possible(here, frozenset(ORDINARY), stands=not base.now.turned))
    effects = {}
    for cause in causes:
        made = [base.means(fault) for chain in cause.chains(here) for fault in chain[1:]]
        points = [one for one in made if one is not None]
        effects[cause.key] = points or [base.well]
    for name in ORDINARY:
        if name in base.now.given or name == "temperature":
            continue
        place = AT[name]
        unsure = math.sqrt(base.covariance[place][place])
        chances: dict[str, dict[str, float]] = {LESS: {}, SAME: {}, MORE: {}}
        for key, points in effects.items():
            shares = [_shares(one[place] - base.well[place], unsure) for one in points]
            for found, share in zip(chances.values(), zip(*shares, strict=True), strict=True):
                found[key] = sum(share) / len(share)
        yield _Test(name, False, EASE[name], chances)
    for sign in SIGNS:
        if sign.ease >= _HARD and not sign.key.startswith("other_"):
            yes = {cause.key: sign.chance(cause.key) for cause in causes}
            no = {key: 1 - chance for key, chance in yes.items()}
            yield _Test(sign.key, True, sign.ease, {"no": no, "yes": yes})


def _tells(weights: Mapping[str, float], total: float, doubt: float, test: _Test) -> float:
    """What a question takes of the doubt [bit] between causes, whose weights come to a total."""
    left = 0.0
    for chances in test.chances.values():
        share = [weight * chances[key] for key, weight in weights.items()]
        mass = sum(share)
        if mass > 0:
            left += mass / total * entropy([one / mass for one in share])
    return doubt - left


def _named(weights: Mapping[str, float]) -> tuple[str, ...]:
    """The causes that are left, likeliest first: those that are not rare there, and where all are
    rare, being many, the likeliest all the same."""
    total = sum(weights.values())
    order = sorted(weights, key=lambda key: (-weights[key], key))
    clear = [key for key in order if weights[key] >= _LEAST_SHARE * total]
    return tuple((clear or order)[:_NAMED])


def tree(base: Ground) -> tuple[Question, ...]:
    """The key, in the order of its questions; the first one first."""
    here = base.now.watermaker
    causes = possible(here, frozenset(ORDINARY), stands=not base.now.turned)
    start = {cause.key: cause.rate for cause in causes}
    tests = list(_tests(base))
    made: list[tuple[_Test, dict[str, int | tuple[str, ...]]]] = []
    waiting: list[tuple[float, int, dict[str, float], float, float, Sequence[str], int, str]] = []
    asked = 0

    def wait(weights: dict[str, float], used: Sequence[str], parent: int, answer: str) -> None:
        nonlocal asked
        total = sum(weights.values())
        doubt = entropy([one / total for one in weights.values()])
        heapq.heappush(
            waiting, (-total * doubt, asked, weights, total, doubt, used, parent, answer)
        )
        asked += 1

    wait(start, (), -1, "")
    while waiting:
        _, _, weights, total, doubt, used, parent, answer = heapq.heappop(waiting)
        best = None
        if len(made) < MOST_QUESTIONS:
            told = [
                (_tells(weights, total, doubt, one) * one.ease, one)
                for one in tests
                if one.key not in used
            ]
            best = max(told, key=lambda one: (one[0], one[1].key), default=None)
        if best is None or best[0] < _SETTLED:
            made[parent][1][answer] = _named(weights)
            continue
        test = best[1]
        made.append((test, {}))
        number = len(made)
        if parent >= 0:
            made[parent][1][answer] = number
        for one, chances in test.chances.items():
            left = {key: weight * chances[key] for key, weight in weights.items()}
            wait(left, (*used, test.key), number - 1, one)
    return tuple(
        Question(n, test.key, test.sign, answers) for n, (test, answers) in enumerate(made, 1)
    )
