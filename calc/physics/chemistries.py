"""Kinds of battery: what each bears and gives, each value with where it comes from.

Temperatures in K, voltages in V of a 12 V block; a C-rate is the current over the charge per hour,
as the trade writes it.
"""

from __future__ import annotations

from dataclasses import dataclass

RATED_TEMPERATURE = 298.15  # K
BLOCK_VOLTAGE = 12.0  # the chemistry table is for 12 V blocks

Curve = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Stated:
    """A value of the chemistry table with where it comes from."""

    value: float
    standing: str
    source: str


@dataclass(frozen=True)
class Chemistry:
    """What is typical of one kind of battery, for a 12 V block; each number with its standing.

    Resistance is that of a 12 V block of 100 Ah [ohm]; rates are in C; temperatures in K.
    `open_circuit` is (state of charge, V), `acceptance` (state of charge, C-rate at most),
    `capacity_curve` (K, share of capacity), `charge_curve` (K below which, C-rate at most), `acid`
    (state of charge, specific gravity of an electrolyte that can freeze; empty where none can),
    `managed_rate` (K, C-rate for hours under a battery management whose limit is known),
    `cold_resistance` (K, resistance over that at 25 degC).
    """

    name: str
    peukert: Stated
    resistance: Stated
    discharge_rate: Stated
    charge_rate: Stated
    usable_depth: Stated
    charge_efficiency: Stated
    cut_off: Stated
    charge_coldest: Stated
    charge_hottest: Stated
    open_circuit: Curve
    open_circuit_standing: str
    acceptance: Curve
    acceptance_source: str
    capacity_curve: Curve
    capacity_source: str
    charge_curve: Curve
    acid: Curve = ()
    managed_rate: Curve = ()
    cold_resistance: Curve = ((RATED_TEMPERATURE, 1.0),)


_PRACTICE = "common practice, no source"
_MEMORY = "from memory"
# IEEE 485 temperature factors, inverted: required capacity x 1.405 at 0 degC means 0.712 is left.
_LEAD_CAPACITY: Curve = (
    (253.15, 0.50),
    *(
        (
            273.15 + t,
            1 / (-2.8117 * (t / 100) ** 3 + 4.1916 * (t / 100) ** 2 - 2.4941 * t / 100 + 1.405),
        )
        for t in (0, 10, 20, 25, 30, 40)
    ),
)
_LEAD_CAPACITY_SOURCE = (
    "IEEE 485 temperature factors (cubic fit) from 0 to 40 degC; half at -20 degC: common practice"
)
# Middles of the ranges that tables of hydrometer readings give for flooded lead-acid at 25 degC.
# AGM and gel hold stronger acid: on the safe side.
_ACID: Curve = ((0.0, 1.120), (0.25, 1.160), (0.5, 1.190), (0.75, 1.225), (1.0, 1.265))


# Half as much again at -18 degC as at +30: general notes on the resistance of lead-acid.
_LEAD_COLD: Curve = ((255.15, 1.5), (298.15, 1.0))
# Three to five times at -20 degC: general notes on lithium cells; twice at 0 degC from memory.
_LITHIUM_COLD: Curve = ((253.15, 4.0), (273.15, 2.0), (298.15, 1.0))


def _practice(value: float) -> Stated:
    return Stated(value, "common practice", _PRACTICE)


def _memory(value: float, source: str) -> Stated:
    return Stated(value, _MEMORY, source)


def _published(value: float, source: str) -> Stated:
    return Stated(value, "published", source)


_LIFEPO4_MANUAL = "a 48 V LiFePO4 module manual, tables 4.3 and 4.4"
FLOODED = Chemistry(
    name="flooded lead-acid",
    peukert=_practice(1.25),
    resistance=_practice(0.005),
    discharge_rate=_practice(0.25),
    charge_rate=_published(0.20, "flooded lead-acid: C/5 from 10 to 85 %, magazine 1990s"),
    usable_depth=_practice(0.50),
    charge_efficiency=_published(0.85, "put back about 1.2 times what was taken (tystor.com)"),
    cut_off=_practice(10.5),
    charge_coldest=_practice(253.15),
    charge_hottest=_practice(323.15),
    open_circuit=((0.0, 11.9), (0.25, 12.1), (0.5, 12.3), (0.75, 12.5), (1.0, 12.7)),
    open_circuit_standing=_MEMORY,
    acceptance=((0.0, 0.20), (0.85, 0.20), (0.95, 0.10), (0.98, 0.05), (1.0, 0.0)),
    acceptance_source="C/5 to 85 %, C/10 above, C/20 above 95 %: flooded lead-acid, magazine 1990s",
    capacity_curve=_LEAD_CAPACITY,
    capacity_source=_LEAD_CAPACITY_SOURCE,
    charge_curve=((323.15, 0.20),),
    acid=_ACID,
    cold_resistance=_LEAD_COLD,
)
AGM = Chemistry(
    name="AGM lead-acid",
    peukert=_practice(1.12),
    resistance=_memory(0.0040, "100 Ah 12 V AGM: 3 to 6 milliohm"),
    discharge_rate=_practice(0.30),
    charge_rate=_published(0.40, "max charge 16 A on 40 Ah: sealed battery sheet 12 V 40 Ah"),
    usable_depth=_practice(0.50),
    charge_efficiency=_practice(0.90),
    cut_off=_practice(10.5),
    charge_coldest=_practice(253.15),
    charge_hottest=_practice(323.15),
    open_circuit=((0.0, 11.8), (0.25, 12.1), (0.5, 12.35), (0.75, 12.6), (1.0, 12.85)),
    open_circuit_standing=_MEMORY,
    acceptance=((0.0, 0.40), (0.63, 0.40), (0.77, 0.20), (0.95, 0.05), (1.0, 0.0)),
    acceptance_source=(
        "published AGM charge test: absorption reached at 63.3 % at 0.4 C and 77.4 % at 0.2 C; "
        "the rest common practice"
    ),
    capacity_curve=_LEAD_CAPACITY,
    capacity_source=_LEAD_CAPACITY_SOURCE,
    charge_curve=((323.15, 0.40),),
    acid=_ACID,
    cold_resistance=_LEAD_COLD,
)
GEL = Chemistry(
    name="gel lead-acid",
    peukert=_practice(1.18),
    resistance=_practice(0.006),
    discharge_rate=_practice(0.25),
    charge_rate=_practice(0.20),
    usable_depth=_practice(0.50),
    charge_efficiency=_practice(0.88),
    cut_off=_practice(10.5),
    charge_coldest=_practice(253.15),
    charge_hottest=_practice(318.15),
    open_circuit=((0.0, 11.8), (0.25, 12.1), (0.5, 12.35), (0.75, 12.6), (1.0, 12.85)),
    open_circuit_standing=_MEMORY,
    acceptance=((0.0, 0.20), (0.75, 0.20), (0.90, 0.08), (1.0, 0.0)),
    acceptance_source=_PRACTICE,
    capacity_curve=_LEAD_CAPACITY,
    capacity_source=_LEAD_CAPACITY_SOURCE,
    charge_curve=((318.15, 0.20),),
    acid=_ACID,
    cold_resistance=_LEAD_COLD,
)
LIFEPO4 = Chemistry(
    name="LiFePO4",
    peukert=_practice(1.05),
    resistance=_memory(0.004, "100 Ah 12 V pack with its BMS: 2 to 10 milliohm"),
    discharge_rate=_practice(0.50),
    charge_rate=_published(0.50, _LIFEPO4_MANUAL),
    usable_depth=_practice(0.80),
    charge_efficiency=_memory(0.97, "95 to 99 %"),
    cut_off=_practice(11.0),
    charge_coldest=_published(273.15, _LIFEPO4_MANUAL),
    charge_hottest=_published(323.15, _LIFEPO4_MANUAL),
    open_circuit=(
        (0.0, 12.0), (0.1, 12.8), (0.2, 12.9), (0.4, 13.05), (0.7, 13.2), (0.9, 13.3),
        (0.99, 13.4), (1.0, 13.6),
    ),
    open_circuit_standing=_MEMORY,
    acceptance=((0.0, 1.0), (0.95, 1.0), (1.0, 0.0)),
    acceptance_source=_PRACTICE,
    capacity_curve=((253.15, 0.70), (273.15, 0.88), (298.15, 1.0), (318.15, 1.0)),
    capacity_source=_MEMORY,
    charge_curve=((283.15, 0.1), (298.15, 0.2), (323.15, 0.5)),
    # 1 C from 0 to 60 °C and 0.5 C from -20 to 0 °C: the same manual; the corner is rounded down
    managed_rate=((273.15, 0.5), (273.16, 1.0)),
    cold_resistance=_LITHIUM_COLD,
)  # fmt: skip
CHEMISTRIES: dict[str, Chemistry] = {"flooded": FLOODED, "agm": AGM, "gel": GEL, "lifepo4": LIFEPO4}
