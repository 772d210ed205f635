"""A value held against a limit: what every verdict is made of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from ..rounding import share, trim

_NEAR = 1e-7  # share of it by which a value lies so near its limit that its last digits decide


@dataclass(frozen=True)
class Held:
    """A value and the most that is allowed of it, or the least; both SI.

    `zero` is where its scale begins for the share used: a temperature's own zero tells nothing.
    """

    value: float
    limit: float
    least: bool = False
    zero: float = 0.0

    @property
    def holds(self) -> bool:
        """Whether it keeps its limit."""
        value, limit = self.value, self.limit
        if abs(value - limit) <= _NEAR * max(abs(value), abs(limit)):
            value, limit = trim(value), trim(limit)
        return value >= limit if self.least else value <= limit

    @property
    def margin(self) -> float:
        """What is left over as a share of the limit; negative when over it."""
        value, limit = trim(self.value), trim(self.limit)
        spare = value - limit if self.least else limit - value
        return share(spare, abs(limit - self.zero) or abs(value) or 1.0)

    @property
    def used(self) -> float:
        """The value as a share of its limit; the other way round where the limit is the least."""
        value, limit = trim(self.value) - self.zero, trim(self.limit) - self.zero
        part, whole = (limit, value) if self.least else (value, limit)
        return part / whole if whole > 0 else 2.0


def all_hold(held: Iterable[Held | None]) -> bool:
    """Whether each that there is keeps its limit."""
    return all(one.holds for one in held if one is not None)


def all_leave(held: Iterable[Held | None], spare: float) -> bool:
    """Whether each that there is keeps its limit with a share of it to spare."""
    return all(one.holds and one.margin >= spare for one in held if one is not None)


def least_in_hand(held: Iterable[Held | None]) -> float:
    """What is left of the limit that is nearest, by the share used; 1 where there is none."""
    return min((1 - one.used for one in held if one is not None), default=1.0)
