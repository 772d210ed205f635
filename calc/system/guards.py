"""Fuses and breakers: which rating and which kind protects a cable and lets its load pass."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..physics import protection

TENTH = 0.10  # of a limit: with less than that in hand it is tight
LOW_VOLTAGE = 50.0  # V; from here up 33 CFR 183.455(c) is stricter
SPARE_TO_START = 1 + TENTH  # of a breaker over what it must pass
STRONGEST = max(device.breaks or 0.0 for device in protection.DEVICES.values())  # A, of any class


@dataclass(frozen=True)
class Guard:
    """The fuse or breaker of a run [A]: what it must pass, the ratings to be had, what rules ask.

    `ceiling` is the most for the motor, whatever the cable; `stated` the one that is there, if any.
    It is to carry `start` for `start_time` [s] after `before`; `devices` are the kinds it may be
    of, `curve` what its own maker's curve says that it carries [s]. The cable must be able to have
    one of `beside` as well: it is there, though no cable gives it a tenth of what it must pass.
    """

    least: float
    made: Sequence[float]
    rules: str
    voltage: float
    ceiling: float | None = None
    stated: float | None = None
    devices: Sequence[str] = ()
    start: float = 0.0
    start_time: float = 0.0
    before: float = 0.0
    curve: float | None = None
    beside: float = 0.0

    def read_at(self, rating: float) -> bool:
        """Whether its own curve tells how long it carries the start: it is of that rating, and the
        start is more than that, or it would carry it for good."""
        return self.curve is not None and rating == self.stated and self.start > rating

    def carried(self, rating: float) -> float:
        """Seconds [s] that it surely carries the start, at most an hour."""
        if self.read_at(rating):
            return self.curve or 0.0
        if not self.devices:
            return protection.FOREVER
        return max(
            (
                protection.carries(kind, self.start, rating, self.before)
                for kind in self.kinds(rating)
            ),
            default=0.0,
        )

    def opens_within(self, rating: float) -> float:
        """Seconds [s] after which the start has surely opened it; infinite where none is told."""
        if self.read_at(rating):
            return self.curve or 0.0
        if not self.devices:
            return math.inf
        return max(
            (protection.opened(kind, self.start, rating) for kind in self.kinds(rating)),
            default=math.inf,
        )

    def kinds(self, rating: float) -> Sequence[str]:
        """The kinds that it may be of, of several those that are made in this rating."""
        if len(self.devices) == 1:
            return self.devices
        return [kind for kind in self.devices if rating in protection.DEVICES[kind].ratings]

    @cached_property
    def _known(self) -> dict[float, str]:
        """What is found of a rating's start: each size of cable asks anew."""
        return {}

    def starts(self, rating: float) -> str:
        """Whether it lets the start pass: yes, no, or maybe where its standard leaves it open."""
        if rating not in self._known:
            self._known[rating] = self._starts(rating)
        return self._known[rating]

    def _starts(self, rating: float) -> str:
        if self.carried(rating) >= self.start_time * (1 - 1e-9):
            return "yes"
        return "no" if self.opens_within(rating) < self.start_time * (1 - 1e-9) else "maybe"

    @property
    def sure(self) -> bool:
        """Whether some rating to be had surely lets the start pass, by its standard's time band.

        Then no other is proposed. Where the standard tells no time there is none to ask for.
        """
        return any(kind in protection.BANDED for kind in self.devices) and any(
            self.starts(rating) == "yes"
            for rating in self.made
            if not self.ceiling or rating <= self.ceiling * (1 + 1e-9)
        )

    def limit(self, ampacity: float) -> float:
        """The largest [A] that a cable of an ampacity [A] may have.

        Source: 33 CFR 183.455(c); for ISO never above the ampacity.
        """
        if self.rules == "iso":
            return ampacity
        most = protection.CABLE_LIMIT * ampacity
        if self.voltage < LOW_VOLTAGE:
            return most
        try:
            return min(most, protection.next_rating(ampacity, breaker=False))
        except ValueError:  # thicker than the ratings go
            return min(most, ampacity)

    def most(self, ampacity: float) -> float:
        """The largest [A] by the cable's and the motor's rules."""
        limit = self.limit(ampacity)
        return limit if self.ceiling is None else min(limit, self.ceiling)

    @property
    def too_small(self) -> bool:
        """Whether the stated one passes too little, whatever the cable."""
        return self.stated is not None and self.stated < self.least * (1 - 1e-9)

    @property
    def too_large(self) -> bool:
        """Whether the stated one is too large for the motor, whatever the cable."""
        return bool(self.stated and self.ceiling and self.stated > self.ceiling * (1 + 1e-9))

    @property
    def _low(self) -> bool:
        """Whether no cable gives the stated one a tenth over what must pass it."""
        if not self.stated:
            return False
        spare = min(self.stated / self.least - 1, self.start_spare(self.stated))
        return spare < TENTH - 1e-9

    @property
    def _high(self) -> bool:
        """Whether no cable gives the stated one a tenth under what the motor allows."""
        return bool(self.stated and self.ceiling and 1 - self.stated / self.ceiling < TENTH - 1e-9)

    def to_size_by(self) -> Guard:
        """What to size a cable by: without what no cable mends in the stated rating."""
        if self._low:
            return replace(self, stated=None, beside=self.stated or 0.0)
        return replace(self, ceiling=None) if self._high else self

    def right(self) -> Guard:
        """The same, without a stated rating that no cable could make right."""
        return replace(self, stated=None) if self._low or self._high else self

    def span(self, ampacity: float) -> tuple[float, float] | None:
        """The smallest and the largest rating to be had that do; None where none does."""
        fitting = self._fitting(ampacity)
        return (fitting[0], fitting[-1]) if fitting else None

    def _fitting(self, ampacity: float) -> list[float]:
        """The ratings to be had that do: those that surely let the start pass, if there are any."""
        most = self.most(ampacity) * (1 + 1e-9)
        within = [r for r in self.made if self.least * (1 - 1e-9) <= r <= most]
        starting = [r for r in within if self.starts(r) == "yes"]
        if starting or self.sure:
            return starting
        return [r for r in within if self.starts(r) != "no"]

    def rating(self, ampacity: float) -> float | None:
        """The stated rating, else the first with a tenth to spare, else the first that does.

        Where nobody can tell whether any lets the start pass, the largest: it does so soonest.
        """
        if self.stated is not None:
            return self.stated
        fitting = self._fitting(ampacity)
        if not any(self.starts(r) == "yes" for r in fitting):
            fitting.reverse()
        return next(
            (r for r in fitting if self._spare(r, ampacity) >= TENTH - 1e-9),
            fitting[0] if fitting else None,
        )

    def spare(self, ampacity: float) -> float:
        """The share of its nearest limit that it leaves; below nought where none does."""
        rating = self.rating(ampacity)
        if rating is None:
            return -1.0
        return min(self._spare(rating, ampacity), 1 - self.beside / self.limit(ampacity))

    def _spare(self, rating: float, ampacity: float) -> float:
        return min(
            rating / self.least - 1, 1 - rating / self.most(ampacity), self.start_spare(rating)
        )

    def start_spare(self, rating: float) -> float:
        """The share of the start's time that it carries beyond it; none to judge by if unknown."""
        passes = self.starts(rating)
        if passes == "maybe" or not self.start_time:
            return math.inf
        time = self.carried(rating) if passes == "yes" else self.opens_within(rating)
        return time / self.start_time - 1
