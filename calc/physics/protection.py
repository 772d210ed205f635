"""Protection: fuses, breakers and overloads, how big, how strong and how near to the battery."""

from __future__ import annotations

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
# A type C breaker holds this multiple of its rating for a moment, and is sure to open at once from
# that one on, IEC 60898-1 (from memory).
TYPE_C_HOLDS = 5.0
TYPE_C_OPENS = 10.0

CABLE_LIMIT = 1.5  # 33 CFR 183.455(c)
CONTINUOUS_DUTY = 1.25  # NEC 430.22

FUSE_DISTANCE = 7 * 0.0254  # m, from the source of power
FUSE_DISTANCE_SHEATHED = 40 * 0.0254  # m, in a sheath or enclosure
FUSE_DISTANCE_BATTERY = 72 * 0.0254  # m, battery output (from memory)

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
    """A kind of DC fuse: ratings it is made in [A], and what it interrupts up to which voltages.

    `breaking` holds pairs of V and A, the voltages rising; `standing` is that of the amperes it
    breaks. Ratings and voltages are from memory, typical of the trade.
    """

    ratings: tuple[float, ...]
    breaking: tuple[tuple[float, float], ...]
    standing: str
    source: str

    @property
    def highest_voltage(self) -> float:
        """Highest voltage [V] it is made for."""
        return self.breaking[-1][0]

    def interrupts(self, voltage: float) -> float:
        """Short-circuit current [A] it can break at a voltage [V]; 0 above its own."""
        return next((amps for volts, amps in self.breaking if voltage <= volts), 0.0)


_FUSE_NOTE = "solar-wind.co.uk, note on fuses"
_TYPICAL = "typical fuses of the trade"
DEVICES: dict[str, Device] = {
    "blade": Device(
        (1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 50, 60, 70, 80, 100),
        ((32, 1e3),), "published", _FUSE_NOTE,
    ),
    "midi": Device(
        (30, 40, 50, 60, 70, 80, 100, 125, 150, 175, 200), ((32, 1e3),), "published", _FUSE_NOTE
    ),
    "mega": Device(
        (40, 50, 60, 80, 100, 125, 150, 175, 200, 225, 250, 300), ((32, 2e3),), "published",
        _FUSE_NOTE,
    ),
    "ANL": Device(
        (35, 40, 50, 60, 80, 100, 130, 150, 175, 200, 225, 250, 275, 300, 325, 350, 400, 500, 600,
         750),
        ((32, 6e3),), "from memory", _TYPICAL,
    ),
    "MRBF": Device(
        (30, 40, 50, 60, 75, 80, 90, 100, 125, 150, 175, 200, 225, 250, 300),
        ((14, 10e3), (32, 5e3), (58, 2e3)), "from memory", _TYPICAL,
    ),
    "class T": Device(
        (*FUSE_ONLY, *STANDARD_RATINGS), ((125, 20e3),), "from memory", _TYPICAL
    ),
}  # fmt: skip


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


def rating_below(current: float, breaker: bool = True) -> float | None:
    """Standard rating [A] at or next below a current [A], or None below the smallest.

    Source: NEC (NFPA 70) 240.6(A).
    """
    ratings = STANDARD_RATINGS if breaker else (*FUSE_ONLY, *STANDARD_RATINGS)
    fitting = [rating for rating in ratings if rating <= current * (1 + 1e-9)]
    return float(fitting[-1]) if fitting else None


def overload_current(
    nameplate_current: float, service_factor: float = 1.0, temperature_rise: float | None = None
) -> float:
    """Most that a motor's overload protection may be set to [A], on the nameplate's current [A].

    125 % where the service factor is 1.15 or more or the marked temperature rise [K] is 40 or
    less, else 115 %. Source: NEC (NFPA 70) 430.32(A)(1).
    """
    generous = service_factor >= 1.15 or (temperature_rise is not None and temperature_rise <= 40)
    return positive(nameplate_current, "the nameplate current") * (1.25 if generous else 1.15)


def overload_current_to_start(
    nameplate_current: float, service_factor: float = 1.0, temperature_rise: float | None = None
) -> float:
    """The overload setting [A] allowed where the motor will not start on the ordinary one.

    140 % in place of 125 %, 130 % in place of 115 %. Source: NEC (NFPA 70) 430.32(C).
    """
    generous = service_factor >= 1.15 or (temperature_rise is not None and temperature_rise <= 40)
    return positive(nameplate_current, "the nameplate current") * (1.40 if generous else 1.30)


def thermal_protector_limit(full_load_current: float) -> float:
    """Most at which a built-in thermal protector may trip [A], on the table current [A].

    170 % up to 9 A, 156 % up to 20 A, 140 % above. Source: NEC (NFPA 70) 430.32(A)(2).
    """
    positive(full_load_current, "the full-load current")
    if full_load_current <= 9:
        return 1.70 * full_load_current
    return (1.56 if full_load_current <= 20 else 1.40) * full_load_current


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
    Source: NEC (NFPA 70) Table 430.52, 430.52(C)(1).
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


def opens_at_once(current: float, rating: float) -> str:
    """Whether a type C breaker [A] opens at once on a current [A]: "no", "maybe" or "yes".

    Source: IEC 60898-1 (from memory): not up to 5 times its rating, surely from 10 times on.
    """
    times = not_negative(current, "the current") / positive(rating, "the breaker's rating")
    if times <= TYPE_C_HOLDS:
        return "no"
    return "maybe" if times < TYPE_C_OPENS else "yes"


def largest_rating(ampacity: float, voltage: float) -> float:
    """Largest fuse or breaker [A] for a cable of an ampacity [A], below 50 V or from there up.

    Below 50 V the largest standard rating within 150 % of the ampacity; at 50 V and more the
    ampacity or the next standard rating up, within 150 %. Raises ValueError where none is small
    enough. Source: 33 CFR 183.455(c).
    """
    positive(ampacity, "the cable's ampacity")
    limit = CABLE_LIMIT * ampacity
    if voltage >= 50:
        upper = next_rating(ampacity, breaker=False)
        limit = min(limit, upper)
    found = rating_below(limit, breaker=False)
    if found is None:
        raise ValueError("the cable is too thin for the smallest standard fuse")
    return found


def rating_allowed(rating: float, ampacity: float, voltage: float) -> bool:
    """Whether a fuse or breaker [A] protects a cable of an ampacity [A] at a voltage [V].

    Source: 33 CFR 183.455(c), `largest_rating`.
    """
    positive(rating, "the fuse's rating")
    limit = CABLE_LIMIT * positive(ampacity, "the cable's ampacity")
    if voltage >= 50:
        limit = min(limit, next_rating(ampacity, breaker=False))
    return rating <= limit * (1 + 1e-9)


def short_circuit_current(emf: float, resistance: float) -> float:
    """Current [A] of a bolted short circuit, E / R, with battery [and cable] resistance [ohm].

    Raises ValueError for no resistance. Source: Ohm's law; R = (E - V)/I from a load test.
    """
    return positive(emf, "the battery's voltage") / positive(resistance, "the resistance")


def bank_short_circuit(battery_current: float, strings: int) -> float:
    """Short-circuit current [A] of a bank: parallel strings add, batteries in series don't.

    Source: ABYC E-11, as quoted.
    """
    if strings < 1:
        raise ValueError("a bank has at least one string")
    return positive(battery_current, "a battery's short-circuit current") * strings


@dataclass(frozen=True)
class Interrupting:
    """Least interrupting capacity [A] of a main and of a branch breaker."""

    main: float
    branch: float


def breaker_interrupting(cranking_current: float) -> Interrupting:
    """Least interrupting capacity of DC breakers, 12 and 24 V, by the bank's total CCA [A].

    Raises ValueError above 2200 CCA, where the battery maker's short-circuit figure (or 20 kA)
    rules. Source: ABYC E-11 Table V-A.
    """
    positive(cranking_current, "the cold-cranking current")
    if cranking_current <= 650:
        return Interrupting(1500, 750)
    if cranking_current <= 1100:
        return Interrupting(3000, 1500)
    if cranking_current <= 2200:
        return Interrupting(5000, 2500)
    raise ValueError(
        "above 2200 cold-cranking amps the table ends: the maker's short-circuit current rules"
    )


def suitable_devices(rating: float, voltage: float) -> list[str]:
    """Kinds of DC fuse made in a rating [A] and for a voltage [V], the weakest first.

    Source: `DEVICES`, partly from memory.
    """
    positive(rating, "the fuse's rating")
    found = [
        (device.interrupts(voltage), kind)
        for kind, device in DEVICES.items()
        if device.interrupts(voltage) and rating in device.ratings
    ]
    return [kind for _, kind in sorted(found)]


def weakest_device(short_circuit: float, rating: float, voltage: float) -> str | None:
    """The weakest kind of DC fuse [A, V] that breaks a short-circuit current [A]; None if none.

    Source: `suitable_devices`.
    """
    positive(short_circuit, "the short-circuit current")
    for kind in suitable_devices(rating, voltage):
        if DEVICES[kind].interrupts(voltage) >= short_circuit:
            return kind
    return None


def fuse_distance(sheathed: bool, at_battery: bool = False) -> float:
    """Greatest distance [m] of a fuse from its source, along the conductor.

    7 in, or 40 in where the conductor is in a sheath or enclosure; 72 in from a battery terminal
    (from memory). Source: 33 CFR 183.455(b), 183.460.
    """
    if at_battery:
        return FUSE_DISTANCE_BATTERY
    return FUSE_DISTANCE_SHEATHED if sheathed else FUSE_DISTANCE
