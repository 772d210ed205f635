"""Sound: levels, walls with leaks, small rooms, and panels that a shaken base makes ring.

Levels in dB (pressure re 20 µPa, power re 1 pW), frequencies in Hz, areas in m², masses per area
in kg/m². Spectra are tuples over `OCTAVES`.
"""

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from calc.physics._require import positive

OCTAVES = (63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0, 8000.0)
"""Nominal octave-band centres [Hz]; the exact ones are 1000·10^(0.3 n) (IEC 61260-1)."""

SPEED_OF_SOUND = 343.2
"""In air at 20 °C, m/s."""

AIR_DENSITY = 1.204
"""At 20 °C and one atmosphere, kg/m³."""

REFERENCE_POWER = 1e-12
"""Reference sound power, W (ISO 1683)."""


# Levels


def level_sum(levels: Sequence[float]) -> float:
    """Level [dB] of sounds together that keep no time with each other.

    10 lg Σ 10^(L/10); -inf of none. Source: R. F. Barron, Industrial Noise Control and Acoustics,
    eq. 2-43, p. 31.
    """
    energy = 0.0
    for level in levels:
        energy += 10 ** (level / 10)
    return 10 * math.log10(energy) if energy > 0 else -math.inf


def power_level(power: float) -> float:
    """Sound power level [dB re 1 pW] of a power [W]; -inf of none. Source: ISO 1683."""
    return 10 * math.log10(power / REFERENCE_POWER) if power > 0 else -math.inf


def exact_octave(nominal: float) -> float:
    """Exact mid-frequency [Hz] of a nominal octave band. Source: IEC 61260-1, base ten."""
    positive(nominal, "frequency")
    return float(1000 * 10 ** (0.3 * round(math.log10(nominal / 1000) / 0.3)))


def a_weighting(frequency: float) -> float:
    """A-weighting [dB] at a frequency [Hz].

    Source: IEC 61672-1, analytic form (20.6, 107.7, 737.9 and 12 194 Hz, +2.00 dB).
    """
    positive(frequency, "frequency")
    f2 = frequency * frequency
    gain = (12194.217**2 * f2 * f2) / (
        (f2 + 20.598997**2)
        * math.sqrt((f2 + 107.65265**2) * (f2 + 737.86223**2))
        * (f2 + 12194.217**2)
    )
    return 20 * math.log10(gain) + 2.0


def a_weighting_of_band(nominal: float) -> float:
    """A-weighting [dB] of a nominal octave band. Source: as `a_weighting`."""
    return a_weighting(exact_octave(nominal))


A_WEIGHTS = tuple(a_weighting_of_band(f) for f in OCTAVES)


def a_weighted(levels: Sequence[float], bands: Sequence[float] = OCTAVES) -> float:
    """A-weighted level [dB(A)] of a spectrum over nominal octave bands [Hz].

    Source: as `a_weighting`. Raises ValueError unless there is one level a band.
    """
    if len(levels) != len(bands):
        raise ValueError("give one level for each octave band")
    weights = A_WEIGHTS if bands is OCTAVES else [a_weighting_of_band(f) for f in bands]
    return level_sum([level + w for level, w in zip(levels, weights, strict=True)])


# Sources


PUMP_SHAPE = (12.0, 11.0, 9.0, 9.0, 6.0, 9.0, 13.0, 19.0)
"""Octave levels of an electric pump below its overall level [dB].
Source: US Army TM 5-805-4 / AFJMAN 32-1090 (1995), table C-12."""


PUMP_DISTANCE = 0.9144
"""Distance [m], 3 ft, that `pump_level` holds at."""


ESTIMATE_UNCERTAINTY = 7.0
"""Half-width [dB] of `pump_level` for a plunger pump: common practice, no source. The table itself
rises by 5 dB from one range of speed to the next."""

# Ends [rpm] of the table's ranges of speed, with what is added to 10 lg hp.
_PUMP_BASE = (
    (450, 65.0), (900, 65.0), (1000, 67.0), (1500, 67.0), (1600, 72.0), (1800, 72.0),
    (3000, 69.0), (3600, 69.0),
)  # fmt: skip


def pump_level(power: float, speed: float) -> float:
    """Estimated level [dB(A)] 0.9144 m from an electric pump of a drive power [W].

    Shaft speed [rev/s]. 65 to 72 + 10 lg hp by ranges of speed, below 100 hp: centrifugal-pump
    data, an order of magnitude (`ESTIMATE_UNCERTAINTY`) for a plunger pump. Between its ranges, of
    which the table says nothing, a straight line over the logarithm of the speed. Source: US Army
    TM 5-805-4 / AFJMAN 32-1090 (1995), table C-11.
    """
    positive(power, "power")
    positive(speed, "speed")
    rpm = 60 * speed
    base = _PUMP_BASE[0][1] if rpm <= _PUMP_BASE[0][0] else _PUMP_BASE[-1][1]
    for (slow, low), (fast, high) in pairwise(_PUMP_BASE):
        if slow <= rpm <= fast:
            base = low + (high - low) * math.log(rpm / slow) / math.log(fast / slow)
    return base + 10 * math.log10(power / 745.69987)


def spectrum_of(level_a: float, shape: Sequence[float] = PUMP_SHAPE) -> tuple[float, ...]:
    """Octave spectrum [dB] with a given A-weighted level and deductions `shape` [dB].

    Source: definition of the A-weighted level, as `a_weighted`.
    """
    raw = [-d for d in shape]
    lift = level_a - a_weighted(raw)
    return tuple(level + lift for level in raw)


def power_from_pressure(level: float, distance: float, directivity: float = 2.0) -> float:
    """Sound power level [dB] from a level [dB] at a distance [m] in the open.

    Lp - 10 lg(Q/4πr²). Source: ASHRAE Handbook, HVAC Applications (2019), ch. 49.
    """
    positive(distance, "distance")
    return level - 10 * math.log10(directivity / (4 * math.pi * distance**2))


# Walls


def mass_law(mass_per_area: float, frequency: float, constant: float = -47.0) -> float:
    """Transmission loss [dB] of a limp wall: 20 lg(m f) + constant, never below zero.

    -47 field incidence (-47.2 and -47.3 are printed too), -42.4 normal incidence. Holds below
    half the critical frequency. Source: M. J. Crocker, J. P. Arenas, Engineering Acoustics, ch. 12.
    """
    positive(mass_per_area, "mass per area")
    positive(frequency, "frequency")
    return max(0.0, 20 * math.log10(mass_per_area * frequency) + constant)


def critical_frequency(bending_stiffness: float, mass_per_area: float) -> float:
    """Frequency [Hz] at which bending waves run as fast as sound: c²/2π √(m/B).

    Bending stiffness per width [N m]. Source: L. Cremer, M. Heckl, E. E. Ungar, Structure-Borne
    Sound, ch. V.
    """
    positive(bending_stiffness, "bending stiffness")
    return SPEED_OF_SOUND**2 / (2 * math.pi) * math.sqrt(mass_per_area / bending_stiffness)


def wall_loss(
    mass_per_area: float, frequency: float, critical: float, loss_factor: float = 0.03
) -> float:
    """Transmission loss [dB] of a single wall with its coincidence dip.

    Field-incidence mass law up to half the critical frequency [Hz]; above it the resonant part
    20 lg(πfm/ρc) + 10 lg(2ηf/(πfc)); between them a straight line over lg f; never above the
    normal-incidence mass law. Source: L. Cremer (1942) and B. H. Sharp (1973) as in D. A. Bies,
    C. H. Hansen, Engineering Noise Control, ch. 8 (from memory).
    """
    positive(critical, "critical frequency")
    if frequency <= critical / 2:
        return mass_law(mass_per_area, frequency)

    def resonant(f: float) -> float:
        normal = 20 * math.log10(math.pi * f * mass_per_area / (AIR_DENSITY * SPEED_OF_SOUND))
        return normal + min(0.0, 10 * math.log10(2 * loss_factor * f / (math.pi * critical)))

    if frequency >= critical:
        return max(0.0, resonant(frequency))
    low, high = mass_law(mass_per_area, critical / 2), max(0.0, resonant(critical))
    return low + (high - low) * math.log2(2 * frequency / critical)


def transmission_area(parts: Sequence[Sequence[float]]) -> float:
    """Σ S·10^(-TL/10) [m²] of wall parts (area [m²], transmission loss [dB]); an opening has 0.

    Source: definition of transmission loss.
    """
    total = 0.0
    for area, loss in parts:
        total += area * 10 ** (-loss / 10)
    return total


def open_area_ceiling(fraction: float) -> float:
    """Highest transmission loss [dB] of any wall with an open share (0..1): -10 lg of it.

    Source: definition of transmission loss, of a wall that passes nothing itself.
    """
    positive(fraction, "open share")
    return -10 * math.log10(min(fraction, 1.0))


_LINED_ELBOW = ((48.0, 0.0), (96.0, 1.0), (190.0, 6.0), (380.0, 11.0))


def lined_elbow_loss(frequency: float, width: float) -> float:
    """Insertion loss [dB] of a lined square bend, by frequency [Hz] times its width [m] in m/s.

    0 below 48, 1 to 96, 6 to 190, 11 to 380, 10 above. Source: ASHRAE Handbook, HVAC Applications,
    insertion loss of square elbows without turning vanes (from memory).
    """
    positive(frequency, "frequency")
    positive(width, "duct width")
    return next((loss for top, loss in _LINED_ELBOW if frequency * width < top), 10.0)


def room_to_room_level(level: float, through: float, absorption: float) -> float:
    """Level [dB] in the room behind a wall from the level [dB] before it: L + 10 lg(T/A).

    `through`: Στ·S [m²] of the wall with its gaps (`transmission_area`); `absorption`: ΣαS [m²] of
    the room behind; never louder than before the wall. Source: ISO 12354-1, definition of the
    sound reduction index.
    """
    positive(absorption, "absorption area")
    return -math.inf if through <= 0 else level + min(0.0, 10 * math.log10(through / absorption))


# Rooms


class Lining(NamedTuple):
    """A surface: absorption coefficients over `OCTAVES` and where they come from."""

    name: str
    absorption: tuple[float, ...]
    source: str


def _octaves(*six: float) -> tuple[float, ...]:
    """125 to 4000 Hz as published; 63 Hz half of 125 Hz and 8 kHz as 4 kHz are our caution."""
    return (six[0] / 2, *(min(a, 1.0) for a in six), min(six[-1], 1.0))


_TABLE = "public table of absorption coefficients, sengpielaudio.com"

LININGS: Mapping[str, Lining] = {
    "bare": Lining(
        "bare panel", _octaves(0.15, 0.11, 0.10, 0.07, 0.06, 0.07), f"{_TABLE}, wood on joists"
    ),
    "hard": Lining(
        "solid laminate or metal",
        _octaves(0.02, 0.02, 0.03, 0.03, 0.03, 0.02),
        f"{_TABLE}, hard floor",
    ),
    "foam12": Lining(
        "open-cell foam, 12 mm",
        _octaves(0.09, 0.11, 0.22, 0.60, 0.88, 0.94),
        f"{_TABLE}, polyurethane foam 1/2 in",
    ),
    "foam25": Lining(
        "open-cell foam, 25 mm",
        _octaves(0.13, 0.22, 0.68, 1.00, 0.92, 0.97),
        f"{_TABLE}, polyurethane foam 1 in",
    ),
    "fibre50": Lining(
        "mineral or glass fibre, 50 mm",
        _octaves(0.17, 0.55, 0.80, 0.90, 0.85, 0.80),
        f"{_TABLE}, fibreglass rolls 2 in",
    ),
    "cushions": Lining(
        "upholstered seats",
        _octaves(0.49, 0.66, 0.80, 0.88, 0.82, 0.70),
        f"{_TABLE}, empty fabric-upholstered seats",
    ),
}


def room_constant(area: float, absorption: float) -> float:
    """Room constant [m²] of a surface [m²] with a mean absorption coefficient: Sα/(1 - α).

    Infinite when all is absorbed. Source: ASHRAE Handbook, HVAC Applications (2019), ch. 49. Raises
    ValueError for an absorption outside 0..1.
    """
    positive(area, "surface area")
    if not 0 < absorption <= 1:
        raise ValueError("the mean absorption coefficient lies above 0 and up to 1")
    return math.inf if absorption == 1 else area * absorption / (1 - absorption)


def room_level(
    power_level: float, distance: float, constant: float, directivity: float = 1.0
) -> float:
    """Level [dB] in a room from a sound power level [dB]: Lw + 10 lg(Q/4πr² + 4/R).

    Distance [m], room constant R [m²] (infinite: in the open), directivity 1 free, 2 on a surface,
    4 in an edge, 8 in a corner. A small cabin has too few modes below about 200 Hz for this: there
    ±5 dB from place to place. Source: ASHRAE Handbook, HVAC Applications (2019), ch. 49.
    """
    positive(distance, "distance")
    if constant != math.inf:
        positive(constant, "room constant")
    field = directivity / (4 * math.pi * distance**2) + 4 / constant
    return power_level + 10 * math.log10(field)


def reverberant_level(power_level: float, absorption: float) -> float:
    """Level [dB] of the reverberant field inside a locker: Lw + 10 lg(4/A), A [m²].

    Source: diffuse field of classical room acoustics (from memory).
    """
    positive(absorption, "absorption area")
    return power_level + 10 * math.log10(4 / absorption)


def escaping_power_level(power_level: float, through: float, absorption: float) -> float:
    """Sound power level [dB] that leaves a locker: Lw + 10 lg(T/(A + T)).

    `through`: Στ·S [m²] of its walls and openings (`transmission_area`); `absorption`: ΣαS [m²] of
    what is inside. Energy balance of a diffuse field, so that no more leaves than is made; below
    about 200 Hz a locker is too small for a diffuse field and this is a guess (±5 dB). Source:
    diffuse-field balance, e.g. H. Kuttruff, Room Acoustics, ch. 5.
    """
    positive(through + absorption, "absorption and openings together")
    if through <= 0:
        return -math.inf
    return power_level + 10 * math.log10(through / (absorption + through))


# Sound from a shaken panel


def radiation_efficiency(frequency: float, length: float, width: float, critical: float) -> float:
    """Radiation efficiency (0..2) of a panel [m] in a larger wall, free bending waves.

    Source: EN 12354-1:2000, annex B, formulas B.3 (from memory), after G. Maidanik (1962).
    """
    positive(min(length, width), "panel size")
    positive(min(frequency, critical), "frequency")
    c, area = SPEED_OF_SOUND, length * width
    first = c * c / (4 * critical) * (1 / length**2 + 1 / width**2)
    above = 1 / math.sqrt(1 - critical / frequency) if frequency > critical else math.inf
    small = 4 * area * (frequency / c) ** 2
    at_critical = math.sqrt(2 * math.pi * frequency * (length + width) / (16 * c))
    if first > critical / 2:
        if frequency < critical and small < at_critical:
            sigma = small
        elif frequency > critical and above < at_critical:
            sigma = above
        else:
            sigma = at_critical
    elif frequency >= critical:
        sigma = above
    else:
        ratio = math.sqrt(frequency / critical)
        rest = max(1 - ratio * ratio, 1e-6)
        edge = (rest * math.log((1 + ratio) / (1 - ratio)) + 2 * ratio) / (
            4 * math.pi**2 * rest**1.5
        )
        corner = 0.0
        if frequency < critical / 2:
            corner = (8 * c * c * (1 - 2 * ratio * ratio)) / (
                critical**2 * math.pi**4 * area * ratio * math.sqrt(rest)
            )
        sigma = 2 * (length + width) / area * c / critical * edge + corner
        if frequency < first and sigma > small:
            sigma = small
    return min(sigma, 2.0)


STRUCTURE_BORNE_UNCERTAINTY = 6.0
"""Half-width [dB] of structure-borne levels computed here: joints, damping and the path through
the boat are not known better. Common practice, no source."""


def panel_velocity(
    force: float, mobility: float, frequency: float, loss_factor: float, mass: float
) -> float:
    """Mean square velocity [m²/s²] of a panel driven by a force [N, rms] at a point.

    F² Re Y/(ω η m): the power put in is lost in the panel, whose mass is m [kg].
    Source: T. E. Vigran, Building Acoustics, eq. (6.56).
    """
    positive(min(frequency, loss_factor, mass), "frequency, loss factor and mass")
    return force * force * mobility / (2 * math.pi * frequency * loss_factor * mass)


def radiated_power(velocity_squared: float, area: float, efficiency: float) -> float:
    """Sound power [W] on one side of a panel [m²]: ρ c S σ <v²>.

    Source: T. E. Vigran, Building Acoustics, eq. (6.61).
    """
    return AIR_DENSITY * SPEED_OF_SOUND * area * efficiency * velocity_squared


def near_field_power(force: float, mass_per_area: float) -> float:
    """Sound power [W] of the bending near field around a point force [N, rms] below coincidence.

    ρ F²/(2π c m²), whatever the panel's stiffness and damping. Source: T. E. Vigran, Building
    Acoustics, eq. (6.62), after Cremer, Heckl and Ungar.
    """
    positive(mass_per_area, "mass per area")
    return AIR_DENSITY * force * force / (2 * math.pi * SPEED_OF_SOUND * mass_per_area**2)
