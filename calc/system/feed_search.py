"""What would feed the pump: how far each thing of the feed line may go until something fails."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from ..physics import pipes, roots, suction
from .feed_line import FeedLine
from .held import Held

# What hose comes in, inside [m].
BORES = (0.010, 0.013, 0.016, 0.019, 0.025, 0.032, 0.038)
NARROWEST, WIDEST = 0.003, 0.1  # m
HIGHEST_DROP, LONGEST, STEEPEST, MOST_FLOW = 5e5, 100.0, 1.2, 4.0  # Pa, m, rad, × the flow
MOST_BLOCKED = 0.98
_NEAR, _SHOWN = 1e-5, 1e-3  # margin and share of what is only told: one of them will do


def with_hose(line: FeedLine, length: float) -> FeedLine:
    """The line with another length of the hose from the sea [m]."""
    return replace(line, hose=replace(line.hose, length=length))


def with_bore(line: FeedLine, bore: float) -> FeedLine:
    """The line with all hoses of another bore [m]."""
    boost = line.boost and replace(line.boost, hose=replace(line.boost.hose, bore=bore))
    return replace(line, hose=replace(line.hose, bore=bore), boost=boost)


def with_pump_at(line: FeedLine, height: float) -> FeedLine:
    """The line with the high-pressure pump at another height [m]."""
    spot = replace(line.inlet.spot, height=height)
    return replace(line, inlet=replace(line.inlet, spot=spot))


def with_shut_off(line: FeedLine, pressure: float) -> FeedLine:
    """The line with a boost pump of another pressure against a shut end [Pa]."""
    assert line.boost is not None
    return replace(line, boost=replace(line.boost, shut_off=pressure))


def with_drop(line: FeedLine, drop: float) -> FeedLine:
    """The line with filters that are changed at another drop [Pa]."""
    return replace(line, filters=replace(line.filters, change=drop))


def with_flow(line: FeedLine, flow: float) -> FeedLine:
    """The line with a pump that takes another flow [m3/s], and so turns at another speed."""
    speed = line.inlet.speed * flow / line.flow
    return replace(line, flow=flow, inlet=replace(line.inlet, speed=speed))


def bore_that_does(line: FeedLine, judge: Callable[[FeedLine], Held | None]) -> float | None:
    """The smallest bore that hose comes in, larger than now, with which a thing holds [m]."""
    for bore in BORES:
        found = judge(with_bore(line, bore)) if bore > line.hose.bore else None
        if found is not None and found.holds:
            return bore
    return None


def length_that_does(line: FeedLine) -> float:
    """The longest hose from the sea with which the pump's inlet has what it wants [m]; none at all
    is negative."""
    return line.hose.length + (line.fed.value - line.fed.limit) / (_slope(line) * line.head)


def heel_that_does(line: FeedLine) -> float | None:
    """The steepest heel at which the intake stays under water [rad]; None if not even upright."""
    room = _Spare(line.intake_deep.value, line.intake.aside)
    return _heel(line, [room])


def heel_that_primes(line: FeedLine) -> float | None:
    """The steepest heel at which the boost pump stands no higher than it lifts [rad]; None if not
    even upright, or if there is no such pump."""
    primes = line.boost_primes
    if line.boost is None or primes is None:
        return None
    return _heel(line, [_Spare(primes.limit - primes.value, line.boost.spot.aside)])


def _slope(line: FeedLine) -> float:
    """Head lost in each metre of the hose from the sea [m/m]."""
    speed = line.hose.speed(line.flow)
    friction = line.hose.friction(line.flow, line.water)
    return friction / line.hose.bore * speed**2 / (2 * pipes.GRAVITY)


@dataclass(frozen=True)
class _Spare:
    """Head that is left over [m], and how far off the centreline it is spent as she heels [m]."""

    head: float
    aside: float


def _at_inlet(line: FeedLine) -> _Spare:
    """What is left over at the pump's inlet."""
    found = [(line.fed.value - line.fed.limit) / line.head]
    head = line.head_held
    if head is not None:
        found.append(head.value - head.limit)
    return _Spare(min(found), line.inlet.spot.aside)


def _at_boost(line: FeedLine) -> list[_Spare]:
    """What is left over of the boost pump's suction head; none where there is no such pump."""
    if line.boost is None or line.boost_npsh is None:
        return []
    return [_Spare(line.boost_npsh.value - line.boost_npsh.limit, line.boost.spot.aside)]


def _afloat(line: FeedLine) -> list[_Spare]:
    """What is left over until something comes too high out of the water."""
    found = [_Spare(line.intake_deep.value, line.intake.aside)]
    if line.boost is not None and line.boost_primes is not None:
        primes = line.boost_primes
        found.append(_Spare(primes.limit - primes.value, line.boost.spot.aside))
    return found


def _heel(line: FeedLine, spares: list[_Spare]) -> float | None:
    sine = math.sin(line.moves.heel)
    for one in spares:
        if not one.aside and one.head < 0:
            return None
    turned = min((one.head / one.aside for one in spares if one.aside), default=math.inf)
    if sine + turned < 0:
        return None
    if sine + turned >= math.sin(STEEPEST):
        return STEEPEST
    return math.asin(sine + turned)


@dataclass(frozen=True)
class Room:
    """How far one thing may go, all else as it is: its key, what it is now and how far it may go,
    None where no value of it will do alone, and whether more of it is worse [bool]."""

    key: str
    now: float
    limit: float | None
    rising: bool = True

    @property
    def share(self) -> float:
        """What is left over of it, as a share of what it is; infinity where it can't be told."""
        if self.limit is None or not self.now:
            return math.inf
        room = self.limit - self.now if self.rising else self.now - self.limit
        return room / abs(self.now)


def room(line: FeedLine) -> list[Room]:
    """How far each thing may go alone until something no longer holds.

    Keys: drop, blocked, heel, length, bore, flow.
    """
    inlet, boost, afloat = _at_inlet(line), _at_boost(line), _afloat(line)
    floats = all(one.head >= 0 for one in afloat)
    sucks = floats and all(one.head >= 0 for one in boost)
    drop = line.filters.lost(line.flow, line.water, True) + inlet.head * line.head
    clean = line.filters.clean(line.flow, line.water)
    steepest = _heel(line, [inlet, *boost, *afloat])
    hose = line.hose
    return [
        Room(
            "drop",
            line.filters.change,
            min(drop, HIGHEST_DROP) if sucks and drop >= clean else None,
        ),
        Room("blocked", line.strainer.blocked, _blocked(line, [inlet, *boost]) if floats else None),
        Room("heel", line.moves.heel, steepest),
        Room("length", hose.length, _length(line, boost) if floats else None),
        Room("bore", hose.bore, _least_bore(line) if floats else None, rising=False),
        Room("flow", line.flow, _most_flow(line) if floats else None),
    ]


def _blocked(line: FeedLine, spares: list[_Spare]) -> float | None:
    """The share of the strainer's mesh that may be blocked."""
    clean = line.strainer.lost(line.flow, dirty=False)
    spare = min(one.head for one in spares) * line.head
    allowed = line.strainer.lost(line.flow, dirty=True) + spare
    if allowed < clean:
        return None
    return min(1 - math.sqrt(clean / allowed), MOST_BLOCKED) if clean else MOST_BLOCKED


def _length(line: FeedLine, boost: list[_Spare]) -> float | None:
    """How long the hose from the sea may be [m]."""
    slope = _slope(line)
    found = [length_that_does(line) - line.hose.length, *(one.head / slope for one in boost)]
    held = line.head_held
    if held is not None:
        pulled = slope
        if line.stiff:
            constant = suction.stroke_constant(line.inlet.plungers)
            speed = line.hose.speed(line.flow)
            pulled += suction.acceleration_head(speed, line.inlet.speed, constant)
        found.append((held.value - held.limit) / pulled)
    length = line.hose.length + min(found)
    return min(length, LONGEST) if length >= 0 else None


def _least_bore(line: FeedLine) -> float | None:
    """The smallest bore of all hoses [m]."""
    # By the velocity: the losses grow about with its square, and so the search is short.
    narrow, wide = ((line.hose.bore / bore) ** 2 for bore in (NARROWEST, WIDEST))
    found = roots.most_that_fits(
        lambda times: -with_bore(line, line.hose.bore / math.sqrt(times)).margin,
        wide,
        narrow,
        _NEAR,
        _SHOWN,
    )
    return line.hose.bore / math.sqrt(found) if found >= wide else None


def _most_flow(line: FeedLine) -> float | None:
    """The highest flow that the line feeds [m3/s]."""
    low, high = (1.0, MOST_FLOW) if line.margin >= 0 else (0.01, 1.0)
    found = roots.most_that_fits(
        lambda times: -with_flow(line, times * line.flow).margin, low, high, _NEAR, _SHOWN
    )
    return found * line.flow if found >= low else None
