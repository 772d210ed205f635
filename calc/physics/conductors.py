"""Conductors: area, resistance, ampacity, voltage drop, and the smallest size that does.

A conductor is named as the trade writes it: "AWG 10", "AWG 2/0", "16 mm²".
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from calc.physics._require import efficiency as _efficiency
from calc.physics._require import not_negative, positive

TEMPERATURE_COEFFICIENT = 0.00393  # 1/K at 20 degC, annealed copper
REFERENCE_TEMPERATURE = 293.15  # K
_FOOT = 0.3048  # m
_KILOFOOT = 1000 * _FOOT

# NEC (NFPA 70) chapter 9 table 8: ohm/kft at 75 degC, stranded, uncoated copper.
_NEC_RESISTANCE = {
    "18": 7.95, "16": 4.99, "14": 3.14, "12": 1.98, "10": 1.24, "8": 0.778, "6": 0.491, "4": 0.308,
    "3": 0.245, "2": 0.194, "1": 0.154, "1/0": 0.122, "2/0": 0.0967, "3/0": 0.0766, "4/0": 0.0608,
}  # fmt: skip

# What is sold as boat cable, by gauge: the SAE list (boat-cable catalogue appendix 2023, p. 70).
_BOAT_CABLE = ("18", "16", "14", "12", "10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0")

# 33 CFR 183.425 Table 5, A at 30 degC by insulation temperature in degC.
_AMPACITY: dict[str, tuple[int, ...]] = {
    "18": (10, 10, 15, 20, 20, 25, 25),
    "16": (15, 15, 20, 25, 25, 30, 35),
    "14": (20, 20, 25, 30, 35, 40, 45),
    "12": (25, 25, 35, 40, 45, 50, 55),
    "10": (40, 40, 50, 55, 60, 70, 70),
    "8": (55, 65, 70, 70, 80, 90, 100),
    "6": (80, 95, 100, 100, 120, 125, 135),
    "4": (105, 125, 130, 135, 160, 170, 180),
    "3": (120, 145, 150, 155, 180, 195, 210),
    "2": (140, 170, 175, 180, 210, 225, 240),
    "1": (165, 195, 210, 210, 245, 265, 280),
    "1/0": (195, 230, 245, 245, 285, 305, 325),
    "2/0": (225, 265, 285, 285, 330, 355, 370),
    "3/0": (260, 310, 330, 330, 385, 410, 430),
    "4/0": (300, 360, 385, 385, 445, 475, 510),
}
_INSULATION = (60, 75, 80, 90, 105, 125, 200)
# The same, in an engine space at 50 degC (note 1 to Table 5).
_ENGINE_SPACE = (0.58, 0.75, 0.78, 0.82, 0.85, 0.89, 1.00)


def table_standing(insulation: float) -> str:
    """Standing of the ampacity column for an insulation temperature [K].

    Only the 105 degC column of 33 CFR 183.425 Table 5 was seen in a source. Source: definition of
    the standings of our own check values.
    """
    return "published" if abs(insulation - 273.15 - 105) < 0.5 else "from memory"


# IEC 60228: greatest resistance at 20 degC, ohm/km, tinned copper of class 5; 120 and 150 mm² from
# memory.
_IEC_RESISTANCE: dict[float, float] = {
    1.5: 13.7, 2.5: 8.21, 4: 5.09, 6: 3.39, 10: 1.95, 16: 1.24, 25: 0.795, 35: 0.565, 50: 0.393,
    70: 0.277, 95: 0.210, 120: 0.164, 150: 0.132,
}  # fmt: skip

# ISO 10133 annex A, A, by nominal mm² for insulation of 60, 70 and 85 to 90 degC (from memory).
_ISO_AMPACITY: dict[float, tuple[int, int, int]] = {
    1.5: (12, 18, 21), 2.5: (17, 25, 30), 4: (22, 35, 40), 6: (29, 45, 50), 10: (40, 65, 70),
    16: (54, 90, 100), 25: (71, 120, 140), 35: (87, 160, 185), 50: (105, 210, 230),
    70: (135, 265, 285), 95: (165, 310, 330), 120: (190, 360, 400), 150: (220, 380, 430),
}  # fmt: skip
_ISO_COLUMNS = {60: 0, 70: 1, 75: 1, 80: 1, 90: 2}  # insulation, degC: the column for it
PVC = 70  # degC; the usual European cable, which 33 CFR 183.425 does not know
_PVC_ENGINE_SPACE = 0.75  # ISO 10133 annex A (from memory)

# NEC (NFPA 70) chapter 9 table 9, PVC conduit: ohm/kft, reactance at 60 Hz.
_NEC_REACTANCE = {"14": 0.058, "12": 0.054, "10": 0.050, "8": 0.052, "6": 0.051}
_LARGE_REACTANCE = 0.050  # of larger sizes; common practice, no source

# Bundled current-carrying conductors at 50 V and more (note 2 to Table 5): up to n, factor.
_BUNDLE = ((2, 1.0), (3, 0.70), (6, 0.60), (24, 0.50))
_BUNDLE_MORE = 0.40
BUNDLE_VOLTAGE = 50.0  # V

LEAST_PARALLEL = "AWG 1/0"  # NEC 310.10(G): conductors in parallel from 1/0 up (from memory)


@dataclass(frozen=True)
class Conductor:
    """One size: name, area of copper [m²], resistance at 20 degC [ohm/m], family "AWG" or "mm²"."""

    name: str
    area: float
    resistance: float
    family: str


def gauge_diameter(gauge: str) -> float:
    """Diameter [m] of a solid conductor of an American wire gauge ("AWG 10", "AWG 2/0").

    0.005 in x 92^((36-n)/39). Raises ValueError for a gauge that does not exist.
    Source: ASTM B258 (formula from memory).
    """
    text = gauge.upper().replace("AWG", "").strip()
    try:
        number = 1 - int(text[:-2]) if text.endswith("/0") else int(text)
    except ValueError:
        raise ValueError(f"there is no wire gauge {gauge!r}") from None
    if not -3 <= number <= 40:
        raise ValueError(f"there is no wire gauge {gauge!r}")
    return float(0.0254 * 0.005 * 92 ** ((36 - number) / 39))


def gauge_area(gauge: str) -> float:
    """Area [m²] of an American wire gauge, pi d²/4. Source: ASTM B258, `gauge_diameter`."""
    return math.pi / 4 * gauge_diameter(gauge) ** 2


def resistance_factor(temperature: float) -> float:
    """Resistance of copper at a temperature [K] against that at 20 degC, 1 + 0.00393 (T - 20).

    Source: NBS Handbook 100, Copper Wire Tables (coefficient from memory).
    """
    positive(temperature, "the conductor's temperature")
    return 1 + TEMPERATURE_COEFFICIENT * (temperature - REFERENCE_TEMPERATURE)


def nec_resistance(gauge: str) -> float:
    """Resistance [ohm/m] at 75 degC of a stranded uncoated copper conductor of a gauge.

    Raises ValueError for a gauge outside the table. Source: NEC (NFPA 70) chapter 9 table 8.
    """
    return _of_gauge(_NEC_RESISTANCE, gauge) / _KILOFOOT


def nec_reactance(gauge: str) -> float:
    """Reactance [ohm/m] at 60 Hz of a conductor in PVC conduit; go by f/60 for another frequency.

    0.050 ohm/kft for larger sizes than 6 (common practice, no source).
    Source: NEC (NFPA 70) chapter 9 table 9.
    """
    key = _gauge_key(gauge)
    return _NEC_REACTANCE.get(key, 0.058 if key in ("18", "16") else _LARGE_REACTANCE) / _KILOFOOT


def iec_resistance(area: float) -> float:
    """Greatest resistance [ohm/m] at 20 degC of a nominal area [m²], tinned copper of class 5.

    Raises ValueError for an area outside the table. Source: IEC 60228.
    """
    for nominal, value in _IEC_RESISTANCE.items():
        if math.isclose(nominal, area * 1e6, rel_tol=1e-6):
            return value / 1000
    raise ValueError("there is no standard conductor of that area from 1.5 to 150 mm²")


def _gauge_key(gauge: str) -> str:
    return gauge.upper().replace("AWG", "").strip()


def _of_gauge(table: dict[str, float], gauge: str) -> float:
    try:
        return table[_gauge_key(gauge)]
    except KeyError:
        raise ValueError(f"there is no wire gauge {gauge!r} in the table, AWG 18 to 4/0") from None


GAUGES: tuple[Conductor, ...] = tuple(
    Conductor(f"AWG {key}", gauge_area(key), nec_resistance(key) / resistance_factor(348.15), "AWG")
    for key in _NEC_RESISTANCE
)
METRIC: tuple[Conductor, ...] = tuple(
    Conductor(f"{area:g} mm²", area * 1e-6, iec_resistance(area * 1e-6), "mm²")
    for area in _IEC_RESISTANCE
)
# What is sold as boat cable: the SAE list has no AWG 3.
FAMILIES: dict[str, tuple[Conductor, ...]] = {
    "AWG": tuple(g for g in GAUGES if g.name.removeprefix("AWG ") in _BOAT_CABLE),
    "mm²": METRIC,
}


def conductor(name: str) -> Conductor:
    """The conductor of a name such as "AWG 10" or "16 mm²". Raises ValueError if there is none.

    Resistance. Source: NEC chapter 9 table 8 brought to 20 degC; IEC 60228 class 5 tinned.
    """
    for size in (*GAUGES, *METRIC):
        if size.name == name:
            return size
    raise ValueError(f"there is no conductor called {name!r}, such as 'AWG 10' or '16 mm²'")


def _is_pvc(insulation: float) -> bool:
    return abs(insulation - 273.15 - PVC) < 0.5


def _column(insulation: float, family: str = "AWG") -> int:
    """The column of 33 CFR 183.425 Table 5. Insulation of 70 degC takes that of 60 degC, a metric
    size that of 75 degC, for there the 70 degC column of ISO 10133 caps it."""
    celsius = insulation - 273.15
    if _is_pvc(insulation):
        celsius = 60 if family == "AWG" else 75
    for i, rated in enumerate(_INSULATION):
        if abs(celsius - rated) < 0.5:
            return i
    raise ValueError(
        "the insulation must be rated for 60, 70, 75, 80, 90, 105, 125 or 200 °C, as printed on it"
    )


def engine_space_factor(insulation: float) -> float:
    """Share of the ampacity left in an engine space (50 degC) for an insulation rating [K].

    Source: 33 CFR 183.425 Table 5 note 1, 105 degC as catalogues quote it; the other columns from
    memory, that of 70 degC from ISO 10133 annex A.
    """
    return _PVC_ENGINE_SPACE if _is_pvc(insulation) else _ENGINE_SPACE[_column(insulation)]


def bundle_factor(conductors: int, voltage: float) -> float:
    """Share of the ampacity left [ratio] with so many current-carrying conductors in one bundle.

    1 below 50 V. Raises ValueError for less than one conductor.
    Source: 33 CFR 183.425 Table 5 note 2 (US Coast Guard compliance guideline).
    """
    if conductors < 1:
        raise ValueError("a bundle holds at least one conductor")
    if voltage < BUNDLE_VOLTAGE:
        return 1.0
    for most, factor in _BUNDLE:
        if conductors <= most:
            return factor
    return _BUNDLE_MORE


@lru_cache(maxsize=512)
def table_ampacity(name: str, insulation: float) -> float:
    """Allowable amperage [A] at 30 degC of a conductor for an insulation rating [K].

    A metric size is allowed what the next smaller gauge is, for the table knows gauges only; with
    insulation of 60 to 90 degC no more than ISO 10133 allows, which is less for some sizes. Of
    70 degC the table knows nothing: see `_column`.
    Source: 33 CFR 183.425 Table 5; columns other than 105 degC, and ISO 10133, from memory.
    """
    size = conductor(name)
    column = _column(insulation, size.family)
    fitting = [g for g in GAUGES if g.area <= size.area * (1 + 1e-9)]
    allowed = float(_AMPACITY[_gauge_key(fitting[-1].name)][column])
    iso = _ISO_COLUMNS.get(PVC if _is_pvc(insulation) else _INSULATION[column])
    if size.family == "AWG" or iso is None:
        return allowed
    return min(allowed, float(_ISO_AMPACITY[float(f"{size.area * 1e6:g}")][iso]))


def ampacity(
    name: str,
    insulation: float,
    engine_space: bool = False,
    bundled: int = 1,
    voltage: float = 12.0,
) -> float:
    """Allowable amperage [A] of a conductor where it lies: table x engine space x bundle.

    Insulation rating in K, `bundled` current-carrying conductors, voltage in V.
    Source: 33 CFR 183.425 Table 5 with notes 1 and 2.
    """
    allowed = table_ampacity(name, insulation) * bundle_factor(bundled, voltage)
    return allowed * engine_space_factor(insulation) if engine_space else allowed


def dc_drop(current: float, length: float, resistance: float) -> float:
    """Voltage drop [V] over a total length out and back [m] of a conductor [ohm/m], I l R'.

    Source: Ohm's law.
    """
    not_negative(resistance, "the resistance")
    return not_negative(current, "the current") * not_negative(length, "the length") * resistance


# 50 mm² is the metric twin of 1/0.
LEAST_PARALLEL_AREA = 0.93 * gauge_area(LEAST_PARALLEL)


def effective_impedance(resistance: float, reactance: float, power_factor: float) -> float:
    """Impedance [ohm, or ohm/m] that counts for the drop, R cos phi + X sin phi, as R and X are.

    Source: NEC (NFPA 70) chapter 9 table 9 note 2.
    """
    _efficiency(power_factor, "the power factor")
    return resistance * power_factor + reactance * math.sqrt(1 - power_factor**2)


def ac_drop(
    current: float, run: float, resistance: float, reactance: float, power_factor: float
) -> float:
    """Voltage drop [V] of a single-phase run [m, one way]: 2 I l (R cos phi + X sin phi).

    Resistance and reactance in ohm/m. Source: NEC (NFPA 70) chapter 9 table 9 note 2.
    """
    impedance = effective_impedance(resistance, reactance, power_factor)
    return 2 * not_negative(current, "the current") * not_negative(run, "the run") * impedance


@dataclass(frozen=True)
class Choice:
    """The smallest conductor that does.

    Its name, how many in parallel per pole, which rule decided ("ampacity", "fuse", "voltage drop",
    "voltage drop at start", "smallest made"), ampacity of all in parallel [A], voltage drops in
    running and at start [V].
    """

    name: str
    parallel: int
    decided_by: str
    ampacity: float
    drop: float
    starting_drop: float


@dataclass(frozen=True)
class Asked:
    """What a conductor has to do.

    Running current [A] over a total length out and back [m], at most so much drop [V]; its
    insulation's rating and its own temperature [K]; an ampacity of at least `least_ampacity`, the
    running current if not given, and copper of at least `least_area` [m²]. With a power factor [1]
    the drop is that of AC of a frequency [Hz]. At the start another current, drop and power factor.
    Where it lies: in an engine space, bundled with others, at a voltage [V]. `protected` tells
    whether there is a fuse for the ampacity [A] of one of several alone: if another's lug lets go,
    it carries all.
    """

    current: float
    length: float
    allowed_drop: float
    insulation: float
    temperature: float
    least_ampacity: float | None = None
    starting_current: float = 0.0
    allowed_starting_drop: float | None = None
    power_factor: float | None = None
    starting_power_factor: float = 0.6
    frequency: float = 60.0
    engine_space: bool = False
    bundled: int = 1
    voltage: float = 12.0
    most_parallel: int = 3
    least_area: float = 0.0
    protected: Callable[[float], bool] | None = None

    def carries(self, size: Conductor) -> float:
        """Ampacity [A] of one conductor where it lies."""
        return ampacity(size.name, self.insulation, self.engine_space, self.bundled, self.voltage)

    def drop(self, size: Conductor, current: float, power_factor: float | None) -> float:
        """Voltage drop [V] of one conductor at a current [A]; of AC with a power factor [1]."""
        ohms = size.resistance * resistance_factor(self.temperature)
        if power_factor is None:
            return dc_drop(current, self.length, ohms)
        reactive = reactance(size, self.frequency)
        return ac_drop(current, self.length / 2, ohms, reactive, power_factor)


def smallest(family: str, asked: Asked) -> Choice:
    """The smallest conductor of a family ("AWG" or "mm²") by ampacity [A] and by voltage drop [V].

    Several in parallel only where no single one does, and none smaller than 1/0 or 50 mm². Raises
    ValueError where even those don't do. Source: `ampacity`, `dc_drop`, `ac_drop`.
    """
    if family not in FAMILIES:
        raise ValueError(f"conductors come in the families {' and '.join(FAMILIES)}")
    positive(asked.allowed_drop, "the allowed voltage drop")
    decided = "smallest made"
    for parallel in range(1, asked.most_parallel + 1):
        for size in FAMILIES[family]:
            if size.area < asked.least_area * (1 - 1e-9):
                continue
            if parallel > 1 and size.area < LEAST_PARALLEL_AREA:
                continue
            found, lacks = _tried(size, parallel, decided, asked)
            if lacks is None:
                return found
            decided = lacks
    raise ValueError(
        f"no conductor does, even with {asked.most_parallel} in parallel: shorten the run, raise "
        "the voltage or allow more drop"
    )


def _tried(size: Conductor, parallel: int, decided: str, asked: Asked) -> tuple[Choice, str | None]:
    """So many of a size, and which rule they break, if any."""
    amps = parallel * asked.carries(size)
    running = asked.drop(size, asked.current / parallel, asked.power_factor)
    at_start = None if asked.power_factor is None else asked.starting_power_factor
    starting = asked.drop(size, asked.starting_current / parallel, at_start)
    found = Choice(size.name, parallel, decided, amps, running, starting)
    wanted = asked.current if asked.least_ampacity is None else asked.least_ampacity
    if amps < wanted * (1 - 1e-9):
        return found, "ampacity"
    if asked.protected is not None and not asked.protected(amps / parallel):
        return found, "fuse"
    if running > asked.allowed_drop * (1 + 1e-9):
        return found, "voltage drop"
    most = asked.allowed_starting_drop
    if most is not None and starting > most * (1 + 1e-9):
        return found, "voltage drop at start"
    return found, None


def reactance(size: Conductor, frequency: float) -> float:
    """Reactance [ohm/m] of a conductor at a frequency [Hz]; a metric size as the gauge next above.

    Source: NEC (NFPA 70) chapter 9 table 9 at 60 Hz, in proportion to the frequency.
    """
    at_least = [g for g in GAUGES if g.area >= size.area * (1 - 1e-9)]
    gauge = (at_least or GAUGES[-1:])[0]
    return nec_reactance(gauge.name) * positive(frequency, "the frequency") / 60


def heat_per_length(current: float, resistance: float) -> float:
    """Heat [W/m] given off by one conductor [ohm/m], I² R'. Source: Joule's law."""
    return not_negative(current, "the current") ** 2 * not_negative(resistance, "the resistance")
