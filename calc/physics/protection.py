"""Protection: fuses, breakers and overloads, how big, how strong and how near to the battery."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calc.physics._require import not_negative, positive

# NEC (NFPA 70) 240.6(A), A; fuses are also made in the first four and in 601.
FUSE_ONLY = (1, 3, 6, 10)
STANDARD_RATINGS = (
    15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300,
    350, 400, 450, 500, 600,
)  # fmt: skip

# Rated currents of miniature breakers, IEC 60898-1 and the R10 series beyond (from memory), A.
IEC_RATINGS = (6, 8, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125)
# Types of miniature breaker, IEC 60898-1: the multiple of its rating up to which it must not open
# at once, and that from which on it must.
AT_ONCE = {"B": (3.0, 5.0), "C": (5.0, 10.0), "D": (10.0, 20.0)}

CABLE_LIMIT = 1.5  # 33 CFR 183.455(c)
CONTINUOUS_DUTY = 1.25  # NEC 430.22

FUSE_DISTANCE = 7 * 0.0254  # m, from the source of power
FUSE_DISTANCE_SHEATHED = 40 * 0.0254  # m, in a sheath or enclosure

MOTOR_BREAKER = 4.0  # × full-load current, NEC 430.52(C)(1) exception 2
# NEC (NFPA 70) Table 430.52, single phase: share of full-load current, ceiling of exception 2.
_BRANCH: dict[str, tuple[float, float | None]] = {
    "non-time-delay fuse": (3.00, 4.00),
    "dual-element fuse": (1.75, 2.25),
    "instantaneous-trip breaker": (8.00, 13.00),
    "inverse-time breaker": (2.50, MOTOR_BREAKER),
}
BRANCH_DEVICES = tuple(_BRANCH)


@dataclass(frozen=True)
class Device:
    """A class of DC fuse by its standard: ratings [A], highest voltage [V], what it breaks [A].

    `breaks` is None where no standard sets it: then only what is printed on the fuse can tell.
    """

    ratings: tuple[float, ...]
    highest_voltage: float
    breaks: float | None
    standing: str
    source: str

    def interrupts(self, voltage: float) -> float:
        """Short-circuit current [A] that its class breaks at a voltage [V]; 0 above its own."""
        return self.breaks or 0.0 if voltage <= self.highest_voltage else 0.0


# IEC 60269-1 table 3 (from memory), A by rating: carried for 10 s; melted within 5 s; carried for
# 0.1 s; melted within 0.1 s.
_GATES: dict[float, tuple[float, float, float, float]] = {
    16: (33, 65, 85, 150), 20: (42, 85, 110, 200), 25: (52, 110, 150, 260),
    32: (75, 150, 200, 350), 40: (95, 190, 260, 450), 50: (125, 250, 350, 610),
    63: (160, 320, 450, 820), 80: (215, 425, 610, 1100), 100: (290, 580, 820, 1450),
    125: (355, 715, 1100, 1910), 160: (460, 950, 1450, 2590), 200: (610, 1250, 1910, 3420),
    250: (750, 1650, 2590, 4500), 315: (1050, 2200, 3420, 6000), 400: (1420, 2840, 4500, 8060),
    500: (1780, 3800, 6000, 10600), 630: (2200, 5100, 8060, 14140),
}  # fmt: skip

DEVICES: dict[str, Device] = {
    "blade": Device(
        (1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100), 32, 1e3, "published",
        "ISO 8820-3",
    ),
    "strip": Device(
        (30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500), 32,
        2e3, "published", "ISO 8820-5",
    ),
    "class T": Device(
        (*FUSE_ONLY, *STANDARD_RATINGS), 125, 20e3, "published", "UL 248-15; on DC ABYC E-11"
    ),
    "gG": Device(tuple(_GATES), 250, 25e3, "from memory", "IEC 60269-2"),
    "terminal": Device(STANDARD_RATINGS, 100, None, "no standard", "what is printed on it"),
}  # fmt: skip
CLASSES = tuple(kind for kind, device in DEVICES.items() if device.breaks)

FOREVER = 3600.0  # s; what is carried for an hour is carried through any start
# What a standard promises of a fuse: up to this multiple of its rating it carries the current so
# long [s], and from there on it has melted after so long.
_MELTS: dict[str, tuple[tuple[float, float, float], ...]] = {
    # ISO 8820-3 and -5, operating times (from memory)
    "blade": ((1.10, FOREVER, math.inf), (1.35, 0.75, 1800.0), (2.0, 0.15, 5.0), (3.5, 0.04, 0.5),
              (6.0, 0.02, 0.1)),
    "strip": ((1.00, FOREVER, math.inf), (1.35, 120.0, 1800.0), (2.0, 1.0, 15.0), (3.5, 0.3, 5.0),
              (5.0, 0.1, 1.0)),
    # UL 248: 110 % for good; a time-delay fuse of 250 V five times its rating for 8 s
    "class T": ((1.10, FOREVER, math.inf),),
    "non-time-delay fuse": ((1.10, FOREVER, math.inf),),
    "dual-element fuse": ((1.10, FOREVER, math.inf), (5.0, 8.0, math.inf)),
    # UL 489: its rating for good; beyond that only how late it may open
    "inverse-time breaker": ((1.00, FOREVER, math.inf),),
    "terminal": ((1.00, FOREVER, math.inf),),
}  # fmt: skip
MELT_SOURCES = {
    "blade": "ISO 8820-3, operating times, from memory",
    "strip": "ISO 8820-5, operating times, from memory",
    "class T": "UL 248-15 promises no more than 110 % of its rating, from memory",
    "gG": "IEC 60269-1, gates of class gG, from memory",
    "terminal": "no standard: only its rating is taken as carried",
    "dual-element fuse": "UL 248, time-delay fuse: five times its rating for 8 s",
    "non-time-delay fuse": "UL 248 promises no more than 110 % of its rating",
    "inverse-time breaker": "UL 489 promises no more than its rating, from memory",
}
BANDED = ("blade", "strip", "gG", "dual-element fuse", *AT_ONCE)  # a standard says how long

# IEC 60898-1: carried for an hour, opened within an hour; and at 2.55 times its rating after 1 s at
# the earliest, 60 s at the latest (120 s above 32 A). Multiples of the rating, cold, at 30 degC.
THRESHOLDS = (1.13, 1.45)
PROBE, EARLIEST, _LATEST, _LATEST_LARGE = 2.55, 1.0, 60.0, 120.0
_LARGE_BREAKER = 32.0  # A


def breaker_time(
    current: float, rating: float, before: float, threshold: float, probe_time: float
) -> float:
    """Seconds until a thermal release opens on a current [A], after one that it carried [A].

    t = tau ln((I² - I0²)/(I² - (a In)²)) with a threshold a [× In], tau from the time [s] that it
    takes cold at 2.55 In; infinite below the threshold.
    Source: thermal replica of IEC 60255-149 (from memory), through the points of IEC 60898-1.
    """
    square = (current / positive(rating, "the breaker's rating")) ** 2
    if square <= threshold**2:
        return math.inf
    tau = probe_time / math.log(PROBE**2 / (PROBE**2 - threshold**2))
    left = max(square - min(before / rating, threshold) ** 2, square - threshold**2)
    return tau * math.log(left / (square - threshold**2))


def breaker_carries(kind: str, current: float, rating: float, before: float = 0.0) -> float:
    """Seconds that a breaker of type B, C or D surely carries a current [A]; at most an hour.

    `before` is what it carried until just now [A]: a second start finds it warm. The quicker of the
    two thresholds that IEC 60898-1 leaves open counts; none beyond what may open it at once.
    Source: `breaker_time`; IEC 60898-1.
    """
    if not_negative(current, "the current") > AT_ONCE[kind][0] * rating * (1 + 1e-9):
        return 0.0
    return min(FOREVER, *(breaker_time(current, rating, before, a, EARLIEST) for a in THRESHOLDS))


def breaker_opened(kind: str, current: float, rating: float) -> float:
    """Time [s] after which a breaker of type B, C or D has surely opened; infinite if never.

    Source: `breaker_time`, the slower of both thresholds; IEC 60898-1.
    """
    if not_negative(current, "the current") >= AT_ONCE[kind][1] * rating:
        return 0.1
    latest = _LATEST if rating <= _LARGE_BREAKER else _LATEST_LARGE
    return max(breaker_time(current, rating, 0.0, a, latest) for a in THRESHOLDS)


def carries(device: str, current: float, rating: float, before: float = 0.0) -> float:
    """Seconds that a fuse or breaker [A] surely carries a current [A], at most an hour; 0 where no
    standard promises any. Between a standard's points the next higher one holds.

    Source: `breaker_carries`; for fuses MELT_SOURCES.
    """
    if device in AT_ONCE:
        return breaker_carries(device, current, rating, before)
    if device == "gG":
        if current <= 1.25 * rating:
            return FOREVER
        ten, _, tenth, _ = _GATES.get(rating, (0.0,) * 4)
        return 10.0 if current <= ten else 0.1 if current <= tenth else 0.0
    points = _MELTS[device]
    found = (held for most, held, _ in points if current <= most * rating * (1 + 1e-9))
    return next(found, 0.0)


def opened(device: str, current: float, rating: float) -> float:
    """Seconds after which a fuse or breaker [A] has surely opened; infinite where none is told.

    Source: `breaker_opened`; for fuses MELT_SOURCES.
    """
    if device in AT_ONCE:
        return breaker_opened(device, current, rating)
    if device == "gG":
        _, five, _, tenth = _GATES.get(rating, (math.inf,) * 4)
        return 0.1 if current >= tenth else 5.0 if current >= five else math.inf
    reached = (melted for least, _, melted in _MELTS[device] if current >= least * rating)
    return min(reached, default=math.inf)


def next_rating(current: float, breaker: bool = True) -> float:
    """Standard rating [A] at or next above a current [A]; fuses also come in 1, 3, 6 and 10 A.

    Raises ValueError above 600 A. Source: NEC (NFPA 70) 240.6(A).
    """
    not_negative(current, "the current")
    for rating in STANDARD_RATINGS if breaker else (*FUSE_ONLY, *STANDARD_RATINGS):
        if rating >= current * (1 - 1e-9):
            return float(rating)
    raise ValueError("no standard fuse or breaker up to 600 A is large enough")


def next_iec_rating(current: float) -> float:
    """Rated current [A] of a miniature breaker at or next above a current [A].

    Raises ValueError above 125 A. Source: IEC 60898-1 (from memory).
    """
    not_negative(current, "the current")
    for rating in IEC_RATINGS:
        if rating >= current * (1 - 1e-9):
            return float(rating)
    raise ValueError("no miniature breaker up to 125 A is large enough")


def overload_current(
    nameplate_current: float, service_factor: float = 1.0, temperature_rise: float | None = None
) -> float:
    """Most that a motor's overload protection may be set to [A], on the nameplate's current [A].

    125 % where the service factor is 1.15 or more or the marked temperature rise [K] is 40 or
    less, else 115 %. Source: NEC (NFPA 70) 430.32(A)(1).
    """
    generous = service_factor >= 1.15 or (temperature_rise is not None and temperature_rise <= 40)
    return positive(nameplate_current, "the nameplate current") * (1.25 if generous else 1.15)


def motor_conductor_current(full_load_current: float) -> float:
    """Least ampacity [A] of a motor's branch conductor, 125 % of the table current [A].

    Source: NEC (NFPA 70) 430.22.
    """
    return CONTINUOUS_DUTY * positive(full_load_current, "the full-load current")


@dataclass(frozen=True)
class Branch:
    """Branch protection of a motor [A]: by the table, as a standard rating, and the ceiling.

    The ceiling applies where the motor will not start on the rating; None where it is not stated.
    """

    calculated: float
    rating: float
    ceiling: float | None


def motor_branch(full_load_current: float, device: str = "inverse-time breaker") -> Branch:
    """Short-circuit and ground-fault protection of a motor branch, on the table current [A].

    `device` is one of BRANCH_DEVICES. The next standard rating up is allowed (exception 1); the
    ceilings are exception 2 up to 100 A, all but the inverse-time breaker's from memory.
    Source: NEC (NFPA 70) Table 430.52, 430.52(C)(1). Raises ValueError for a device that is not in
    `BRANCH_DEVICES`.
    """
    if device not in _BRANCH:
        raise ValueError(f"the device must be one of: {', '.join(BRANCH_DEVICES)}")
    share, ceiling = _BRANCH[device]
    calculated = share * positive(full_load_current, "the full-load current")
    return Branch(
        calculated,
        next_rating(calculated),
        None if ceiling is None else ceiling * full_load_current,
    )


def motor_breaker_limit(full_load_current: float) -> float:
    """Most that a breaker in a motor's branch may be [A], 400 % of the full-load current [A].

    Source: NEC (NFPA 70) 430.52(C)(1) exception 2, inverse-time breaker up to 100 A.
    """
    return MOTOR_BREAKER * positive(full_load_current, "the full-load current")


def opens_at_once(current: float, rating: float, kind: str = "C") -> str:
    """Whether a breaker [A] of type B, C or D opens at once on a current [A]: no, maybe or yes.

    Source: IEC 60898-1, `AT_ONCE`.
    """
    times = not_negative(current, "the current") / positive(rating, "the breaker's rating")
    holds, opens = AT_ONCE[kind]
    if times <= holds:
        return "no"
    return "maybe" if times < opens else "yes"


def short_circuit_current(emf: float, resistance: float) -> float:
    """Current [A] of a bolted short circuit, E / R, with battery [and cable] resistance [ohm].

    Raises ValueError for no resistance. Source: Ohm's law; R = (E - V)/I from a load test.
    """
    return positive(emf, "the battery's voltage") / positive(resistance, "the resistance")


def classes_made(rating: float, voltage: float) -> list[str]:
    """Classes of DC fuse made in a rating [A] and for a voltage [V], the weakest first.

    Source: `DEVICES`.
    """
    positive(rating, "the fuse's rating")
    found = [
        (DEVICES[kind].interrupts(voltage), kind)
        for kind in CLASSES
        if DEVICES[kind].interrupts(voltage) and rating in DEVICES[kind].ratings
    ]
    return [kind for _, kind in sorted(found)]


def fuse_distance(sheathed: bool) -> float:
    """Greatest distance [m] of a fuse from its source, along the conductor.

    7 in, or 40 in where the conductor is in a sheath or enclosure. Source: 33 CFR 183.455(b).
    """
    return FUSE_DISTANCE_SHEATHED if sheathed else FUSE_DISTANCE
