"""The lumps of `thermal_network` in time: runs, rests and what a thermal protector does.

An implicit step needs no matrix: walls and motor are eliminated one by one and a single equation
for the air is left, in which the stack draught makes its own temperature.

Stepping: TR-BDF2 (R. E. Bank et al., IEEE Trans. CAD 4 (1985) 436-451) with the error estimate of
M. E. Hosea and L. F. Shampine, Appl. Numer. Math. 20 (1996) 21-37: second order, L-stable (the
light air does not force small steps), and what the faces and the air flow take is exactly what the
lumps lose. SI units: temperatures in K (absolute), times in s, heats in W.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.physics.thermal_network import WINDING, Implicit, Mode, Space, State, rates

_D = 1 - math.sqrt(2) / 2
_W = math.sqrt(2) / 4
# Third-order weights less second-order weights: the error of a step.
_E1, _E2, _E3 = _W - (1 - _W) / 3, _W - (3 * _W + 1) / 3, _D - _D / 3


@dataclass(frozen=True)
class Protector:
    """A thermal protector on the winding: opens at trip, closes again at reset (if automatic)."""

    trip: float
    reset: float
    automatic: bool = True

    def __post_init__(self) -> None:
        """Raises ValueError unless it resets below its trip."""
        if self.reset >= self.trip:
            raise ValueError("a protector resets below the temperature at which it trips")


@dataclass(frozen=True)
class Segment:
    """One accepted step: where it began, its middle stage, where it ended, and the rates [K/s]."""

    begin: float
    length: float
    first: State
    middle: State
    last: State
    first_rate: State
    last_rate: State
    mode: Mode


@dataclass(frozen=True)
class Event:
    """The protector tripped or reset at a time."""

    time: float
    kind: str


@dataclass(frozen=True)
class Course:
    """Temperatures over time, and what the protector did."""

    segments: tuple[Segment, ...]
    events: tuple[Event, ...]

    @property
    def end(self) -> float:
        """Time at which the course ends."""
        return self.segments[-1].begin + self.segments[-1].length

    @property
    def final(self) -> State:
        """State at the end."""
        return self.segments[-1].last

    def at(self, time: float, nodes: Sequence[int] | None = None) -> State:
        """Temperatures of the nodes, or of all, at a time (held at the ends), by cubic
        interpolation in the step."""
        index = bisect_right(self.segments, time, key=lambda one: one.begin) - 1
        one = self.segments[max(index, 0)]
        part = min(max((time - one.begin) / one.length, 0.0), 1.0)
        return tuple(_between(one, part, n) for n in nodes or range(len(one.first)))

    def peak(self, node: int) -> float:
        """Highest temperature of a node at the ends of the steps."""
        return max(max(one.first[node], one.last[node]) for one in self.segments)

    def first_reach(self, node: int, limit: float) -> float:
        """First time at which a node reaches a limit; infinite when it never does."""
        if self.segments[0].first[node] >= limit:
            return self.segments[0].begin
        for one in self.segments:
            if one.last[node] >= limit:
                return one.begin + one.length * _fraction(one, node, limit)
        return math.inf


def _step(
    space: Space, state: State, rate: State, mode: Mode, length: float
) -> tuple[State, State, State, float]:
    """One TR-BDF2 step: middle stage, new state, its rates, and the largest error [K]."""
    part = _D * length
    implicit = Implicit(space, mode, part)
    rest = [x + part * f for x, f in zip(state, rate, strict=True)]
    middle = implicit.solve(rest)
    second = [(x - r) / part for x, r in zip(middle, rest, strict=True)]
    side = _W * length
    rest = [x + side * (f + s) for x, f, s in zip(state, rate, second, strict=True)]
    last = implicit.solve(rest)
    third = tuple([(x - r) / part for x, r in zip(last, rest, strict=True)])
    error = max(
        [
            abs(_E1 * f + _E2 * s + _E3 * t) * soft
            for f, s, t, soft in zip(rate, second, third, implicit.softening(), strict=True)
        ]
    )
    return middle, last, third, error * length


def _between(one: Segment, part: float, node: int) -> float:
    """Temperature of a node at a fraction of a step: cubic Hermite polynomial."""
    rest = 1 - part
    return rest * rest * (
        (1 + 2 * part) * one.first[node] + part * one.length * one.first_rate[node]
    ) + part * part * ((3 - 2 * part) * one.last[node] - rest * one.length * one.last_rate[node])


def _fraction(one: Segment, node: int, limit: float) -> float:
    """Fraction of a step at which a node passes a limit, known to lie between its ends."""
    low, high = 0.0, 1.0
    up = one.last[node] >= one.first[node]
    for _ in range(30):
        part = (low + high) / 2
        if (_between(one, part, node) >= limit) == up:
            high = part
        else:
            low = part
    return (low + high) / 2


def transient(
    space: Space,
    start: State,
    schedule: Sequence[tuple[float, Mode]],
    protector: Protector | None = None,
    tolerance: float = 0.02,
    most_events: int | None = None,
) -> Course:
    """Temperatures over a schedule of (duration [s], mode), or no further than `most_events` of the
    protector.

    With a protector the motor's loss stops while it is open; air flow and other heat go on, as a
    fan switched with the pump does. tolerance is the error allowed in a step [K].
    Raises ValueError for an empty schedule, a duration that is not positive, or a wrong state.
    Source: TR-BDF2 as R. E. Bank et al. and M. E. Hosea, L. F. Shampine, named at the top.
    """
    if not schedule or any(duration <= 0 for duration, _ in schedule):
        raise ValueError("a schedule needs at least one part, each with a positive duration")
    if len(start) != 3 + len(space.faces):
        raise ValueError("the state does not fit the space")
    segments: list[Segment] = []
    events: list[Event] = []
    time, state, tripped = 0.0, start, False
    for duration, wanted in schedule:
        end = time + duration
        length = min(10.0, duration)
        mode = wanted if not tripped else _unpowered(wanted)
        rate = rates(space, state, mode)
        while end - time > 1e-9 * end:
            length = min(length, end - time)
            middle, last, last_rate, error = _step(space, state, rate, mode, length)
            growth = 0.9 * (tolerance / error) ** (1 / 3) if error else 4.0
            if error > tolerance and length > 1e-3:
                length *= max(0.2, growth)
                continue
            one = Segment(time, length, state, middle, last, rate, last_rate, mode)
            event = _crossing(one, protector, tripped)
            if event and length > 1e-3:
                # Take the step again up to the moment of the event, so that no heat is lost.
                length = max(length * _fraction(one, WINDING, event[1]), 1e-3)
                middle, last, last_rate, _ = _step(space, state, rate, mode, length)
                one = Segment(time, length, state, middle, last, rate, last_rate, mode)
            segments.append(one)
            time, state, rate = time + length, last, last_rate
            if event:
                tripped = event[0] == "trip"
                events.append(Event(time, event[0]))
                if len(events) == most_events:
                    return Course(tuple(segments), tuple(events))
                mode = _unpowered(wanted) if tripped else wanted
                rate = rates(space, state, mode)
                length = 10.0
            else:
                length *= min(4.0, max(0.2, growth))
    return Course(tuple(segments), tuple(events))


def _unpowered(mode: Mode) -> Mode:
    return replace(mode, loss=0.0, loss_slope=0.0, cooling=mode.standstill)


def _crossing(one: Segment, protector: Protector | None, tripped: bool) -> tuple[str, float] | None:
    """What the protector does within a step, and at which winding temperature."""
    if protector is None:
        return None
    if tripped:
        if protector.automatic and one.last[WINDING] <= protector.reset:
            return "reset", protector.reset
    elif one.last[WINDING] >= protector.trip:
        return "trip", protector.trip
    return None
