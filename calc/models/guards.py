"""Fuses and breakers: which rating and which kind protects a cable and lets its load pass."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..equipment.choices import PROPOSE
from ..frame.inputs import Refusal, Values
from ..frame.report import TIGHT_MARGIN
from ..physics import motors, protection
from .feed import Feed
from .load import Load, Rush, rated_current

FUSES = {
    "class T": "class T",
    "gG": "gG cartridge",
    "strip": "strip fuse",
    "blade": "blade fuse",
    "terminal": "terminal fuse",
}
FUSE_CHOICES = {
    "class T": "class T (UL 248-15)",
    "gG": "gG cartridge (IEC 60269-2)",
    "strip": "strip fuse (ISO 8820-5)",
    "blade": "blade fuse (ISO 8820-3)",
    "terminal": "terminal fuse, or another of no such class",
}
BRANCH_DEVICES = {
    "inverse-time breaker": "a circuit breaker",
    "dual-element fuse": "slow (dual-element) fuses",
    "non-time-delay fuse": "quick fuses",
}
BREAKER_TYPES = {"B": "type B", "C": "type C", "D": "type D"}
LOW_VOLTAGE = 50.0  # V; from here up 33 CFR 183.455(c) is stricter
TWO_LIVE = 190.0  # V; above it both wires of a US branch are live
SPARE_TO_START = 1 + TIGHT_MARGIN  # of a breaker over what it must pass
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

    def starts(self, rating: float) -> str:
        """Whether it lets the start pass: yes, no, or maybe where its standard leaves it open."""
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
        return spare < TIGHT_MARGIN - 1e-9

    @property
    def _high(self) -> bool:
        """Whether no cable gives the stated one a tenth under what the motor allows."""
        return bool(
            self.stated and self.ceiling and 1 - self.stated / self.ceiling < TIGHT_MARGIN - 1e-9
        )

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
            (r for r in fitting if self._spare(r, ampacity) >= TIGHT_MARGIN - 1e-9),
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


# ---- the fuse at the bank ----


def fuse_guard(q: Values, least: float, feed: Feed) -> Guard:
    """The fuse between bank and inverter. Refuses a current beyond the largest fuse."""
    proposed = q.fuse_kind == PROPOSE
    ratings = protection.DEVICES["class T" if proposed else q.fuse_kind].ratings
    largest = protection.STANDARD_RATINGS[-1]
    if least > largest:
        raise Refusal(
            "bank_voltage",
            f"{least:.0f} A at this voltage is more than the largest standard fuse, {largest} A; "
            "a bank of twice the voltage halves the current",
        )
    kinds = [q.fuse_kind]
    if proposed:
        kinds = [
            kind
            for kind in protection.CLASSES
            if protection.DEVICES[kind].interrupts(feed.full_emf) >= feed.short_circuit
        ]
        kinds = kinds or [strongest(feed.full_emf)]
    return Guard(
        least,
        ratings,
        q.wiring_rules,
        q.bank_voltage,
        stated=q.fuse,
        devices=tuple(kinds),
        start=feed.start,
        start_time=q.start_time,
        before=feed.pump,
        curve=None if proposed else q.fuse_carries,
    )


def strongest(voltage: float) -> str:
    """The class of fuse that breaks most at a voltage [V]."""
    return max(protection.CLASSES, key=lambda kind: protection.DEVICES[kind].interrupts(voltage))


def fuse_breaks(q: Values, kind: str, voltage: float) -> float | None:
    """What a kind of fuse breaks [A] at a voltage [V]: as printed on it, else by its class.

    None where nobody can tell: it has no class, and what is printed on it is not stated.
    """
    if q.fuse_kind != PROPOSE and q.fuse_breaks is not None:
        return float(q.fuse_breaks)
    device = protection.DEVICES[kind]
    return device.interrupts(voltage) if device.breaks is not None else None


def fuse_kind(q: Values, guard: Guard, rating: float, voltage: float, short: float) -> str:
    """The stated kind, else the weakest class that breaks the bank's short circuit with some to
    spare and surely carries the start; else the weakest that breaks it.

    Where none does: the strongest that is made for the bank's voltage [V].
    """
    if q.fuse_kind != PROPOSE:
        return str(q.fuse_kind)
    made = protection.classes_made(rating, voltage)
    starting = [
        kind for kind in made if protection.carries(kind, guard.start, rating) >= guard.start_time
    ]
    for kinds in (starting, made):
        for spare in (TIGHT_MARGIN, 0.0):
            for kind in kinds:
                if protection.DEVICES[kind].interrupts(voltage) >= short * (1 + spare):
                    return kind
    return strongest(voltage)


# ---- the motor's branch ----


@dataclass(frozen=True)
class Branch:
    """The motor's branch [A]: the current its rules go by, what they ask, what they allow.

    `ceiling` is the largest breaker or fuse for the motor by NEC 430.52, borrowed where the rules
    are ISO's: `ceiling_exact` before it is rounded up to a rating that is made. `carries` is the
    smallest breaker that surely carries the start for its time [s], nought where none does.
    """

    by: str
    basis: float
    conductor: float
    ceiling: float
    ceiling_exact: float
    start: float
    start_time: float
    carries: float = 0.0


def motor_branch(q: Values, load: Load, rush: Rush) -> Branch:
    """The rules for the motor's branch; the currents are as connected."""
    plate = max(rated_current(q.unit.motor, q.ac_voltage), load.at_work.current)
    basis, by = plate, "the plate's current, or what the pump draws if that is more"
    if q.wiring_rules == "us":
        try:
            basis = motors.table_current(q.unit.motor.rated_power, nominal(q.ac_voltage))
            by = "NEC Table 430.248"
        except ValueError:
            pass
    basis = max(basis, load.at_work.current)
    conductor = protection.motor_conductor_current(basis)
    if q.wiring_rules == "iso":
        carries = next(
            (
                rating
                for rating in protection.IEC_RATINGS
                if rating >= conductor
                and protection.carries(q.breaker_type, SPARE_TO_START * rush.current, rating, basis)
                >= q.start_time
            ),
            0.0,
        )
        exact = max(protection.motor_breaker_limit(basis), SPARE_TO_START * carries)
        made = exact <= protection.IEC_RATINGS[-1]
        ceiling = protection.next_iec_rating(exact) if made else exact
        return Branch(by, basis, conductor, ceiling, exact, rush.current, q.start_time, carries)
    allowed = protection.motor_branch(basis, q.branch_device)
    return Branch(
        by, basis, conductor, allowed.rating, allowed.calculated, rush.current, q.start_time
    )


# V: from, to, and the column of NEC Table 430.248 that serves it.
_SYSTEMS = ((105, 130, 115.0), (195, 204, 200.0), (205, 212, 208.0), (213, 254, 230.0))


def nominal(volts: float) -> float:
    """The nominal system voltage [V] in the NEC's table for a socket's voltage."""
    for low, high, name in _SYSTEMS:
        if low <= volts <= high:
            return name
    raise ValueError("the NEC's table has no column for this voltage")


def breaker_guard(q: Values, branch: Branch) -> Guard:
    """The breaker or fuse of the motor's branch."""
    made: Sequence[float]
    if q.wiring_rules == "iso":
        made = protection.IEC_RATINGS
    elif q.branch_device == "inverse-time breaker":
        made = protection.STANDARD_RATINGS
    else:
        made = (*protection.FUSE_ONLY, *protection.STANDARD_RATINGS)
    return Guard(
        branch.conductor,
        made,
        q.wiring_rules,
        q.ac_voltage,
        branch.ceiling,
        q.breaker,
        (q.breaker_type if q.wiring_rules == "iso" else q.branch_device,),
        branch.start,
        branch.start_time,
        branch.basis,
        q.breaker_carries,
    )


@dataclass(frozen=True)
class Overload:
    """Where an overload relay may stand [A]: what the pump draws, the most, and by which rule."""

    runs: float
    high: float
    by: str
    iec: bool


def overload_span(q: Values, load: Load) -> Overload:
    """Where the motor's overload relay may be set [A].

    An IEC relay carries 105 % of its setting for good and opens at 120 % within two hours: it is
    set to the plate's current. The NEC's figure is what a relay opens at.
    Source: IEC 60947-4-1 (from memory); `protection.overload_current`.
    """
    motor = q.unit.motor
    plate = rated_current(motor, q.ac_voltage)
    if q.wiring_rules == "iso":
        return Overload(load.at_work.current, plate, "the plate's current, IEC 60947-4-1", True)
    return Overload(
        load.at_work.current,
        protection.overload_current(plate, motor.service_factor),
        "NEC (NFPA 70) 430.32(A)(1) on the plate's current",
        False,
    )


def two_pole(q: Values) -> bool:
    """Whether both wires of the motor's branch must be broken: neither is sure to be neutral.

    A European socket can be plugged either way round; a US branch of 208 to 240 V has two live
    wires. Common practice, no source.
    """
    return bool(q.wiring_rules == "iso" or q.ac_voltage > TWO_LIVE)


def breaker_word(q: Values) -> str:
    """What the branch's breaker or fuses are called."""
    if q.wiring_rules == "iso":
        return f"two-pole type {q.breaker_type} breaker"
    if q.branch_device != "inverse-time breaker":
        return "fuse in each live wire" if two_pole(q) else "fuse"
    return "two-pole breaker" if two_pole(q) else "breaker"
