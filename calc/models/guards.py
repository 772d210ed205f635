"""Fuses and breakers: which rating and which kind protects a cable and lets its load pass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ..inputs import Refusal, Values
from ..physics import motors, protection
from ..report import TIGHT_MARGIN
from .load import Load, Rush, rated_current

PROPOSE = "propose"
FUSES = {
    "class T": "class T", "MRBF": "terminal fuse (MRBF)", "ANL": "ANL", "mega": "mega",
    "midi": "midi", "blade": "blade",
}  # fmt: skip
BRANCH_DEVICES = {
    "inverse-time breaker": "a circuit breaker",
    "dual-element fuse": "slow (dual-element) fuses",
    "non-time-delay fuse": "quick fuses",
}
LOW_VOLTAGE = 50.0  # V; from here up 33 CFR 183.455(c) is stricter
TWO_LIVE = 190.0  # V; above it both wires of a US branch are live
SPARE_TO_START = 1 + TIGHT_MARGIN  # of a breaker over what it must pass
STRONGEST = max(device.breaking[0][1] for device in protection.DEVICES.values())  # A, of any fuse


@dataclass(frozen=True)
class Guard:
    """The fuse or breaker of a run [A]: what it must pass, the ratings to be had, what rules ask.

    `ceiling` is the most for the motor, whatever the cable; `stated` the one that is there, if any.
    """

    least: float
    made: Sequence[float]
    rules: str
    voltage: float
    ceiling: float | None = None
    stated: float | None = None

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
        return bool(self.stated and self.stated / self.least - 1 < TIGHT_MARGIN - 1e-9)

    @property
    def _high(self) -> bool:
        """Whether no cable gives the stated one a tenth under what the motor allows."""
        return bool(
            self.stated and self.ceiling and 1 - self.stated / self.ceiling < TIGHT_MARGIN - 1e-9
        )

    def to_size_by(self) -> Guard:
        """What to size a cable by: without what no cable mends in the stated rating."""
        if self._low:
            return replace(self, stated=None)
        return replace(self, ceiling=None) if self._high else self

    def right(self) -> Guard:
        """The same, without a stated rating that no cable could make right."""
        return replace(self, stated=None) if self._low or self._high else self

    def span(self, ampacity: float) -> tuple[float, float] | None:
        """The smallest and the largest rating to be had that do; None where none does."""
        most = self.most(ampacity) * (1 + 1e-9)
        fitting = [r for r in self.made if self.least * (1 - 1e-9) <= r <= most]
        return (fitting[0], fitting[-1]) if fitting else None

    def rating(self, ampacity: float) -> float | None:
        """The stated rating, else the first with a tenth to spare, else the first that does."""
        if self.stated is not None:
            return self.stated
        span = self.span(ampacity)
        if span is None:
            return None
        return next((r for r in self.made if self._spare(r, ampacity) >= TIGHT_MARGIN - 1e-9),
                    span[0])  # fmt: skip

    def spare(self, ampacity: float) -> float:
        """The share of its nearest limit that it leaves; below nought where none does."""
        rating = self.rating(ampacity)
        return -1.0 if rating is None else self._spare(rating, ampacity)

    def _spare(self, rating: float, ampacity: float) -> float:
        return min(rating / self.least - 1, 1 - rating / self.most(ampacity))


# ---- the fuse at the bank ----


def fuse_guard(q: Values, least: float) -> Guard:
    """The fuse between bank and inverter. Refuses a current beyond the largest fuse."""
    ratings = protection.DEVICES["class T" if q.fuse_kind == PROPOSE else q.fuse_kind].ratings
    largest = protection.STANDARD_RATINGS[-1]
    if least > largest:
        raise Refusal(
            "bank_voltage",
            f"{least:.0f} A at this voltage is more than the largest standard fuse, {largest} A; "
            "a bank of twice the voltage halves the current",
        )
    return Guard(least, ratings, q.wiring_rules, q.bank_voltage, stated=q.fuse)


def fuse_kind(q: Values, rating: float, voltage: float, short_circuit: float) -> str:
    """The stated kind, else the weakest that breaks the bank's short circuit with some to spare.

    Where none does: the strongest that is made for the bank's voltage [V].
    """
    if q.fuse_kind != PROPOSE:
        return str(q.fuse_kind)
    for spare in (TIGHT_MARGIN, 0.0):
        kind = protection.weakest_device(short_circuit * (1 + spare), rating, voltage)
        if kind:
            return kind
    return "class T"


# ---- the motor's branch ----


@dataclass(frozen=True)
class Branch:
    """The motor's branch [A]: the current its rules go by, what they ask, what they allow.

    `ceiling` is the largest breaker or fuse for the motor by NEC 430.52, borrowed where the rules
    are ISO's: `ceiling_exact` before it is rounded up to a rating that is made.
    """

    by: str
    basis: float
    conductor: float
    least: float
    ceiling: float
    ceiling_exact: float


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
    least = max(conductor, rush.current / protection.TYPE_C_HOLDS)
    if q.wiring_rules == "iso":
        exact = max(protection.motor_breaker_limit(basis), SPARE_TO_START * least)
        made = exact <= protection.IEC_RATINGS[-1]
        ceiling = protection.next_iec_rating(exact) if made else exact
        return Branch(by, basis, conductor, least, ceiling, exact)
    allowed = protection.motor_branch(basis, q.branch_device)
    return Branch(by, basis, conductor, least, allowed.rating, allowed.calculated)


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
    return Guard(branch.least, made, q.wiring_rules, q.ac_voltage, branch.ceiling, q.breaker)


def two_pole(q: Values) -> bool:
    """Whether both wires of the motor's branch must be broken: neither is sure to be neutral.

    A European socket can be plugged either way round; a US branch of 208 to 240 V has two live
    wires. Common practice, no source.
    """
    return bool(q.wiring_rules == "iso" or q.ac_voltage > TWO_LIVE)


def breaker_word(q: Values) -> str:
    """What the branch's breaker or fuses are called."""
    if q.wiring_rules == "iso":
        return "two-pole type C breaker"
    if q.branch_device != "inverse-time breaker":
        return "fuse in each live wire" if two_pole(q) else "fuse"
    return "two-pole breaker" if two_pole(q) else "breaker"
