"""Units at the edge: text with a unit becomes an SI float, an SI float becomes text again.

Inside the package every number is an SI float (see `SI` for the few choices that SI leaves open).
Pint knows the units; this module knows which of them a reader may use for what, what they are
called on a page, and how a hasty hand writes them.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Mapping
from contextvars import ContextVar
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from fractions import Fraction
from functools import lru_cache

import pint

SI = {
    "charge": "coulomb",
    "energy": "joule",
    "temperature": "kelvin, absolute",
    "speed": "revolutions per second; a revolution is a unit of its own, so rpm is not Hz",
    "ratio": "1 (80 % is 0.8)",
}

_registry: pint.UnitRegistry[float] = pint.UnitRegistry(cache_folder=None)
for _line in ("shaft_revolution = [revolution]", "sound_level = [sound_level]", "money = [money]"):
    _registry.define(_line)


class UnitError(ValueError):
    """A value that cannot be read; its text is a sentence for the reader."""


@dataclass(frozen=True)
class Kind:
    """What a number measures: the unit it is shown in, and the units a reader may choose."""

    name: str
    asked: str
    units: tuple[str, ...]
    example: str


@dataclass(frozen=True)
class Unit:
    """One unit as pages show it: SI value = number x factor + offset."""

    symbol: str
    kind: str
    factor: float
    offset: float = 0.0


# kind: (with its article, example, {symbol: Pint expression}); the first symbol is the usual one
_TABLE: dict[str, tuple[str, str, dict[str, str]]] = {
    "power": (
        "a power",
        "1.5 kW or 2 hp",
        {
            "W": "watt",
            "kW": "kilowatt",
            "hp": "horsepower",
            "PS": "metric_horsepower",
            "BTU/h": "Btu/hour",
        },
    ),
    "power per length": ("a power per length", "8 W/m", {"W/m": "watt/meter", "W/ft": "watt/foot"}),
    "apparent power": (
        "an apparent power",
        "2 kVA",
        {"VA": "volt*ampere", "kVA": "kilovolt*ampere"},
    ),
    "energy": (
        "an energy",
        "2.4 kWh",
        {
            "Wh": "watt*hour",
            "kWh": "kilowatt*hour",
            "J": "joule",
            "kJ": "kilojoule",
            "MJ": "megajoule",
        },
    ),
    "energy per volume": (
        "an energy per volume",
        "6 Wh/L",
        {
            "Wh/L": "watt*hour/liter",
            "kWh/m3": "kilowatt*hour/meter**3",
            "Wh/US gal": "watt*hour/US_liquid_gallon",
        },
    ),
    "energy per area": (
        "an energy per area",
        "5 kWh/m2",
        {"kWh/m2": "kilowatt*hour/meter**2", "MJ/m2": "megajoule/meter**2"},
    ),
    "fuel per energy": (
        "a fuel use",
        "0.4 L/kWh",
        {"L/kWh": "liter/kilowatt/hour", "US gal/kWh": "US_liquid_gallon/kilowatt/hour"},
    ),
    "pressure": (
        "a pressure",
        "55 bar or 800 psi",
        {
            "bar": "bar",
            "psi": "psi",
            "kPa": "kilopascal",
            "MPa": "megapascal",
            "Pa": "pascal",
            "mbar": "millibar",
            "hPa": "hectopascal",
            "inHg": "inch_Hg",
            "GPa": "gigapascal",
        },
    ),
    "flow": (
        "a flow",
        "60 L/h or 5 L/min",
        {
            "L/h": "liter/hour",
            "L/min": "liter/minute",
            "L/s": "liter/second",
            "m3/h": "meter**3/hour",
            "m3/s": "meter**3/second",
            "US gal/h": "US_liquid_gallon/hour",
            "US gal/min": "US_liquid_gallon/minute",
            "imp gal/h": "imperial_gallon/hour",
            "imp gal/min": "imperial_gallon/minute",
            "ft3/min": "foot**3/minute",
            "L/day": "liter/day",
            "US gal/day": "US_liquid_gallon/day",
        },
    ),
    "volume": (
        "a volume",
        "180 L",
        {
            "L": "liter",
            "m3": "meter**3",
            "mL": "milliliter",
            "cm3": "centimeter**3",
            "US gal": "US_liquid_gallon",
            "US qt": "1/4 | US_liquid_gallon",
            "US pt": "1/8 | US_liquid_gallon",
            "imp gal": "imperial_gallon",
            "ft3": "foot**3",
        },
    ),
    "length": (
        "a length",
        "2 m or 6 ft",
        {
            "m": "meter",
            "mm": "millimeter",
            "cm": "centimeter",
            "km": "kilometer",
            "ft": "foot",
            "in": "inch",
            "µm": "micrometer",
        },
    ),
    "area": (
        "an area",
        "0.4 m2",
        {
            "m2": "meter**2",
            "cm2": "centimeter**2",
            "mm2": "millimeter**2",
            "ft2": "foot**2",
            "in2": "inch**2",
        },
    ),
    "mass": (
        "a mass",
        "20 kg or 44 lb",
        {"kg": "kilogram", "g": "gram", "lb": "pound", "oz": "ounce"},
    ),
    "density": (
        "a density",
        "600 kg/m3",
        {"kg/m3": "kilogram/meter**3", "lb/ft3": "pound/foot**3"},
    ),
    "mass per area": (
        "a mass per area",
        "8 kg/m2",
        {"kg/m2": "kilogram/meter**2", "lb/ft2": "pound/foot**2"},
    ),
    "concentration": (
        "a concentration",
        "300 mg/L",
        {"mg/L": "milligram/liter", "g/L": "gram/liter"},
    ),
    "inertia": ("a moment of inertia", "0.3 kg m2", {"kg m2": "kilogram*meter**2"}),
    "force": ("a force", "200 N", {"N": "newton", "kN": "kilonewton", "lbf": "pound_force"}),
    "torque": ("a torque", "5 N m", {"N m": "newton*meter", "lbf ft": "pound_force*foot"}),
    "stiffness": (
        "a stiffness",
        "60 N/mm",
        {
            "N/mm": "newton/millimeter",
            "N/m": "newton/meter",
            "kN/m": "kilonewton/meter",
            "MN/m": "meganewton/meter",
            "lbf/in": "pound_force/inch",
        },
    ),
    "mobility": (
        "a mobility",
        "0.5 mm/(s N)",
        {"mm/(s N)": "millimeter/second/newton", "m/(s N)": "meter/second/newton"},
    ),
    "current": ("a current", "40 A", {"A": "ampere", "mA": "milliampere", "kA": "kiloampere"}),
    "charge": ("a battery capacity", "400 Ah", {"Ah": "ampere*hour", "mAh": "milliampere*hour"}),
    "voltage": ("a voltage", "24 V", {"V": "volt", "mV": "millivolt"}),
    "resistance": ("a resistance", "8 mΩ", {"mΩ": "milliohm", "Ω": "ohm"}),
    "resistance per length": (
        "a resistance per length",
        "1.2 Ω/km",
        {"Ω/km": "ohm/kilometer", "Ω/kft": "ohm/kilofoot", "mΩ/m": "milliohm/meter"},
    ),
    "time": (
        "a time",
        "2 h or 30 min",
        {
            "h": "hour",
            "min": "minute",
            "s": "second",
            "ms": "millisecond",
            "days": "day",
            "weeks": "week",
            "months": "1/12 | year",
            "years": "year",
        },
    ),
    "frequency": ("a frequency", "50 Hz", {"Hz": "1/second", "kHz": "1000 | 1/second"}),
    "speed": (
        "a shaft speed",
        "1450 rpm",
        {"rpm": "shaft_revolution/minute", "rev/s": "shaft_revolution/second"},
    ),
    "velocity": (
        "a speed",
        "1.2 m/s",
        {"m/s": "meter/second", "mm/s": "millimeter/second", "kn": "knot", "ft/s": "foot/second"},
    ),
    "acceleration": (
        "an acceleration",
        "9.81 m/s2",
        {"m/s2": "meter/second**2", "g0": "standard_gravity"},
    ),
    "temperature difference": (
        "a temperature difference",
        "10 K",
        {"K": "delta_degree_Celsius", "Δ°F": "delta_degree_Fahrenheit"},
    ),
    "temperature": (
        "a temperature",
        "25 °C or 80 °F",
        {"°C": "degree_Celsius", "°F": "degree_Fahrenheit", "K": "kelvin"},
    ),
    "ratio": ("a percentage", "80 %", {"%": "0.01 | dimensionless", "×": "dimensionless"}),
    "number": ("a number", "2.5", {"": "dimensionless"}),
    "irradiance": ("an irradiance", "800 W/m2", {"W/m2": "watt/meter**2"}),
    "heat transfer": (
        "a heat-transfer value",
        "2.4 W/m2K",
        {
            "W/m2K": "watt/meter**2/delta_degree_Celsius",
            "BTU/h ft2 °F": "Btu/hour/foot**2/delta_degree_Fahrenheit",
        },
    ),
    "conductance": ("a heat conductance", "5 W/K", {"W/K": "watt/delta_degree_Celsius"}),
    "conductivity": (
        "a heat conductivity",
        "0.13 W/mK",
        {"W/mK": "watt/meter/delta_degree_Celsius"},
    ),
    "salinity": ("a salinity", "35 g/kg", {"g/kg": "0.001 | dimensionless"}),
    "temperature coefficient": (
        "a change per kelvin",
        "-0.35 %/K",
        {"%/K": "0.01 | 1/delta_degree_Celsius", "ppm/K": "1e-6 | 1/delta_degree_Celsius"},
    ),
    "angle": ("an angle", "15°", {"°": "degree", "rad": "radian"}),
    "sound level": ("a sound level", "60 dB", {"dB": "sound_level", "dB(A)": "sound_level"}),
    "money": ("an amount of money", "40", {"¤": "money"}),
    "money per volume": (
        "a price per volume",
        "1.80 ¤/L",
        {"¤/L": "money/liter", "¤/US gal": "money/US_liquid_gallon"},
    ),
    "money per energy": ("a price per energy", "0.40 ¤/kWh", {"¤/kWh": "money/kilowatt/hour"}),
    "money per time": ("a price per time", "5 ¤/h", {"¤/h": "money/hour", "¤/years": "money/year"}),
    "events per time": (
        "a rate",
        "2 /1000 h",
        {"/1000 h": "0.001 | 1/hour", "/h": "1/hour", "/years": "1/year"},
    ),
}

# The same answer in US customary units: metric symbol -> US symbol.
US_TWIN = {
    "bar": "psi",
    "kPa": "psi",
    "MPa": "psi",
    "L/h": "US gal/h",
    "L/min": "US gal/min",
    "L/day": "US gal/day",
    "m3/h": "ft3/min",
    "L/s": "ft3/min",
    "L": "US gal",
    "m3": "ft3",
    "m": "ft",
    "mm": "in",
    "cm": "in",
    "m2": "ft2",
    "cm2": "in2",
    "kg": "lb",
    "g": "oz",
    "kg/m3": "lb/ft3",
    "kg/m2": "lb/ft2",
    "N": "lbf",
    "kN": "lbf",
    "N m": "lbf ft",
    "N/mm": "lbf/in",
    "°C": "°F",
    "K": "Δ°F",
    "Wh/L": "Wh/US gal",
    "L/kWh": "US gal/kWh",
    "¤/L": "¤/US gal",
    "m/s": "ft/s",
    "W/m2K": "BTU/h ft2 °F",
    "Ω/km": "Ω/kft",
    "W/m": "W/ft",
}

# How hands write the same thing. Looked up as written, then in lower case.
_ALIASES = {
    "l": "L",
    "ltr": "L",
    "litre": "L",
    "litres": "L",
    "liter": "L",
    "liters": "L",
    "l/h": "L/h",
    "lph": "L/h",
    "l/hr": "L/h",
    "litres/hour": "L/h",
    "lpm": "L/min",
    "l/min": "L/min",
    "l/s": "L/s",
    "l/day": "L/day",
    "l/d": "L/day",
    "m³": "m3",
    "m^3": "m3",
    "m³/h": "m3/h",
    "m^3/h": "m3/h",
    "m³/s": "m3/s",
    "m^3/s": "m3/s",
    "cfm": "ft3/min",
    "ft³/min": "ft3/min",
    "ml": "mL",
    "cc": "cm3",
    "cm³": "cm3",
    "cm^3": "cm3",
    "ft³": "ft3",
    "usgal": "US gal",
    "us gal": "US gal",
    "us gallon": "US gal",
    "us gallons": "US gal",
    "us quart": "US qt",
    "us quarts": "US qt",
    "us pint": "US pt",
    "us pints": "US pt",
    "us gal/h": "US gal/h",
    "us gal/hr": "US gal/h",
    "us gph": "US gal/h",
    "us gal/min": "US gal/min",
    "us gal/d": "US gal/day",
    "us gpm": "US gal/min",
    "us gal/day": "US gal/day",
    "us gpd": "US gal/day",
    "impgal": "imp gal",
    "imp gallon": "imp gal",
    "imp gallons": "imp gal",
    "imperial gallons": "imp gal",
    "imp gal/hr": "imp gal/h",
    "imp gph": "imp gal/h",
    "imp gpm": "imp gal/min",
    "watt": "W",
    "watts": "W",
    "w": "W",
    "kw": "kW",
    "va": "VA",
    "kva": "kVA",
    "wh": "Wh",
    "kwh": "kWh",
    "wh/l": "Wh/L",
    "l/kwh": "L/kWh",
    "kwh/m³": "kWh/m3",
    "btu/h": "BTU/h",
    "amp": "A",
    "amps": "A",
    "a": "A",
    "ah": "Ah",
    "amp hours": "Ah",
    "amp-hours": "Ah",
    "a h": "Ah",
    "v": "V",
    "volt": "V",
    "volts": "V",
    "vac": "V",
    "vdc": "V",
    "ohm": "Ω",
    "ohms": "Ω",
    "mohm": "mΩ",
    "milliohm": "mΩ",
    "hz": "Hz",
    "r/min": "rpm",
    "1/min": "rpm",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "feet": "ft",
    "foot": "ft",
    "'": "ft",
    "′": "ft",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "″": "in",
    "um": "µm",
    "μm": "µm",
    "m²": "m2",
    "m^2": "m2",
    "cm²": "cm2",
    "cm^2": "cm2",
    "mm²": "mm2",
    "mm^2": "mm2",
    "sqmm": "mm2",
    "ft²": "ft2",
    "ft^2": "ft2",
    "sq ft": "ft2",
    "in²": "in2",
    "in^2": "in2",
    "kilo": "kg",
    "kilos": "kg",
    "kgs": "kg",
    "lbs": "lb",
    "pound": "lb",
    "pounds": "lb",
    "gram": "g",
    "grams": "g",
    "kg/m³": "kg/m3",
    "kg/m²": "kg/m2",
    "n/mm": "N/mm",
    "nm": "N m",
    "n": "N",
    "hour": "h",
    "hours": "h",
    "hr": "h",
    "hrs": "h",
    "minute": "min",
    "minutes": "min",
    "mins": "min",
    "sec": "s",
    "secs": "s",
    "second": "s",
    "seconds": "s",
    "d": "days",
    "day": "days",
    "wk": "weeks",
    "week": "weeks",
    "month": "months",
    "mo": "months",
    "year": "years",
    "yr": "years",
    "yrs": "years",
    "y": "years",
    "percent": "%",
    "pct": "%",
    "x": "×",
    "times": "×",
    "deg": "°",
    "degree": "°",
    "degrees": "°",
    "degc": "°C",
    "deg c": "°C",
    "celsius": "°C",
    "degf": "°F",
    "deg f": "°F",
    "fahrenheit": "°F",
    "º": "°",
    "ºc": "°C",
    "ºf": "°F",
    "kelvin": "K",
    "psig": "psi",
    "barg": "bar",
    "mpa": "MPa",
    "kpa": "kPa",
    "hpa": "hPa",
    "w/m²": "W/m2",
    "w/m^2": "W/m2",
    "w/m²k": "W/m2K",
    "w/m2k": "W/m2K",
    "w/(m2 k)": "W/m2K",
    "w/(m²k)": "W/m2K",
    "w/k": "W/K",
    "w/mk": "W/mK",
    "w/(m k)": "W/mK",
    "db": "dB",
    "dba": "dB(A)",
    "db(a)": "dB(A)",
    "kwh/m²": "kWh/m2",
    "mg/l": "mg/L",
    "g/l": "g/L",
    "ppm": "mg/L",
    "knots": "kn",
    "kt": "kn",
    "kts": "kn",
    "kg m²": "kg m2",
    "kgm2": "kg m2",
    "€": "¤",
    "$": "¤",
    "£": "¤",
    "eur": "¤",
    "usd": "¤",
    "€/l": "¤/L",
    "$/l": "¤/L",
    "¤/l": "¤/L",
    "€/kwh": "¤/kWh",
    "$/kwh": "¤/kWh",
    "ω": "Ω",
    "ohm/km": "Ω/km",
    "kn/m": "kN/m",
}

# In these kinds a letter means something else than it does elsewhere.
_LOCAL_ALIASES = {
    "temperature": {"c": "°C", "f": "°F", "k": "K"},
    "temperature difference": {
        "c": "K",
        "k": "K",
        "°C": "K",
        "°c": "K",
        "f": "Δ°F",
        "°F": "Δ°F",
        "°f": "Δ°F",
    },
    "sound level": {"a": "dB(A)"},
    "money": {"": "¤"},
}

# Of two lands, unless it is said or chosen which.
_GALLONS = re.compile(
    r"^(gal|gals|gallon|gallons|gph|gpm|gpd|gal/.*|pt|pts|pints?|qt|qts|quarts?)$", re.IGNORECASE
)
# What is told in watts on many an apparatus whose rating is in volt-amperes.
_WATTS_FOR_VA = {"W": "VA", "kW": "kVA"}

KINDS: dict[str, Kind] = {}
UNITS: dict[tuple[str, str], Unit] = {}
_KIND_OF: dict[str, str] = {}


def _in_base_units(number: float, expression: str) -> float:
    """`number` of "unit" or of "scale | unit" in SI base units."""
    scale, _, plain = expression.rpartition("|")
    quantity = _registry.Quantity(number, plain.strip()).to_base_units()
    return float(quantity.magnitude) * float(Fraction(scale.strip() or 1))


def define(name: str, asked: str, example: str, symbols: Mapping[str, str]) -> None:
    """A kind of quantity: what a reader is asked for ("a flow"), an example, and its units.

    Each symbol stands for a unit of Pint, or for "scale | unit"; the first is what values are shown
    in. To define the same again changes nothing. Raises ValueError for another kind of that name.
    """
    made = Kind(name, asked, tuple(symbols), example)
    if KINDS.setdefault(name, made) != made:
        raise ValueError(f"a kind of quantity “{name}” exists already")
    for symbol, expression in symbols.items():
        zero, one = (_in_base_units(number, expression) for number in (0.0, 1.0))
        UNITS[name, symbol] = Unit(symbol, name, one - zero, zero)
        _KIND_OF.setdefault(symbol, name)


for _name, (_asked, _example, _symbols) in _TABLE.items():
    define(_name, _asked, _example, _symbols)


def kind_of(symbol: str) -> str:
    """The kind that a page's unit symbol measures ("bar" -> "pressure").

    Raises KeyError, naming the nearest symbol, for a symbol that no kind has.
    """
    try:
        return _KIND_OF[symbol]
    except KeyError:
        near = difflib.get_close_matches(symbol, _KIND_OF, 1)
        raise KeyError(
            f"no unit is called {symbol!r}" + (f"; did you mean {near[0]!r}?" if near else "")
        ) from None


def unit(symbol: str, kind: str | None = None) -> Unit:
    """The unit behind a symbol; `kind` settles symbols with two meanings ("K")."""
    return UNITS[kind or kind_of(symbol), symbol]


_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_VULGAR |= {"⅓": "1/3", "⅔": "2/3"}
_FRACTION = re.compile(
    r"([+\-−]?)(?:(\d{1,6})(?:\s+|\s*-\s*))?(\d{1,2})[/⁄](2|3|4|8|16|32|64)(?!\d)"
)

_NUMBER = re.compile(
    r"^([+\-−]?)\s*((?:\d[\d.,'’_\s]*)?\d|\d?[.,]\d+|\d+[.,])((?:[eE][+\-−]?\d+)?)"
)
LARGEST = 1e15


def _unsign(text: str) -> str:
    return text.replace("−", "-")


def _plain_digits(body: str, typed: str) -> str:
    """Digits with one decimal point out of "1,200", "1.200,5", "0,75" or "1 200"."""
    body = re.sub(r"[\s'’_]", "", body)
    commas, points = body.count(","), body.count(".")
    if commas and points:
        decimal = max(",", ".", key=body.rfind)
        other = "." if decimal == "," else ","
        if body.count(decimal) > 1:
            raise UnitError(f"“{typed}” has more than one decimal mark")
        return body.replace(other, "").replace(decimal, ".")
    if commas > 1 or (commas == 1 and re.fullmatch(r"[1-9]\d{0,2},\d{3}", body)):
        if not re.fullmatch(r"\d{1,3}(,\d{3})+", body):
            raise UnitError(
                f"“{typed}” is not a number: its commas fit neither thousands nor decimals"
            )
        return body.replace(",", "")
    if points > 1:
        if not re.fullmatch(r"\d{1,3}(\.\d{3})+", body):
            raise UnitError(f"“{typed}” has more than one decimal point")
        return body.replace(".", "")
    return body.replace(",", ".")


def _spelled(text: str) -> str:
    """A number's ¾ as 3/4."""
    for sign, spelled in _VULGAR.items():
        if sign in text[:12]:
            return text.replace(sign, f" {spelled}", 1).strip()
    return text


def split_number(text: str) -> tuple[float, str]:
    """("1,200 W") -> (1200.0, "W"). A lone comma before exactly three digits marks thousands.

    Raises UnitError with a sentence for anything that does not begin with a number.
    """
    typed = text.strip()
    whole = _FRACTION.match(_spelled(typed))
    if whole:
        sign, ones, part, of = whole.groups()
        value = int(ones or 0) + int(part) / int(of)
        return (-value if sign in ("-", "−") and sign else value), _spelled(typed)[
            whole.end() :
        ].strip()
    found = _NUMBER.match(typed)
    if not found:
        raise UnitError(f"“{typed}” does not begin with a number")
    sign, body, exponent = found.groups()
    digits = _plain_digits(body, typed)
    try:
        number = float(_unsign(sign) + digits + _unsign(exponent))
    except ValueError:
        raise UnitError(f"“{typed}” is not a number") from None
    if not math.isfinite(number) or abs(number) > LARGEST:
        raise UnitError(f"“{typed}” is too large a number to mean anything here")
    return number, typed[found.end() :].strip()


def find_unit(text: str, kind: str) -> Unit:
    """The unit a reader wrote, for a number of this kind.

    Raises UnitError with a sentence: an unknown unit, a unit of something else, bare gallons.
    """
    wanted = KINDS[kind]
    if kind == "apparent power" and (watts := in_watts(text)):
        return Unit(watts, kind, UNITS[kind, _WATTS_FOR_VA[watts]].factor)
    if _GALLONS.match(text) and any("gal" in symbol for symbol in wanted.units):
        raise UnitError(
            f"“{text}” could be US or imperial gallons; write “US {text}” or “imp {text}”"
        )
    local = _LOCAL_ALIASES.get(kind, {})
    tries = (
        text,
        local.get(text),
        local.get(text.lower()),
        _ALIASES.get(text),
        _ALIASES.get(text.lower()),
    )
    for symbol in tries:
        if symbol is not None and (kind, symbol) in UNITS:
            return UNITS[kind, symbol]
    for symbol in wanted.units:
        if symbol.lower() == text.lower():
            return UNITS[kind, symbol]
    for symbol in tries:
        if symbol in _KIND_OF:
            raise UnitError(
                f"“{text}” measures {KINDS[_KIND_OF[symbol]].asked}, but {wanted.asked} is asked "
                f"for, such as {wanted.example}"
            )
    return _ask_pint(text, wanted)


def in_watts(text: str) -> str:
    """ "W" or "kW" where a unit is one of these, however it is written; else nothing."""
    symbol = text if text in _WATTS_FOR_VA else _ALIASES.get(text.lower(), "")
    return symbol if symbol in _WATTS_FOR_VA else ""


def _ask_pint(text: str, wanted: Kind) -> Unit:
    first = UNITS[wanted.name, wanted.units[0]]
    reference = _TABLE[wanted.name][2][first.symbol].rpartition("|")[2].strip()
    try:
        parsed = _registry.Quantity(1.0, text)
    except Exception:  # Pint raises whatever its tokenizer met
        parsed = None
    if parsed is None:
        spelled = [*wanted.units, *(a for a, s in _ALIASES.items() if s in wanted.units)]
        near = difflib.get_close_matches(text.lower(), spelled, 1, 0.5)
        hint = f"; did you mean “{near[0]}”?" if near else ""
        raise UnitError(
            f"“{text}” is not a unit this page knows{hint} "
            f"({wanted.asked} is asked for, such as {wanted.example})"
        )
    if wanted.name in ("temperature", "ratio", "number") or parsed.dimensionality != (
        _registry.Quantity(1.0, reference).dimensionality
    ):
        raise UnitError(f"“{text}” does not measure {wanted.asked}; write it like {wanted.example}")
    return Unit(text, wanted.name, float(parsed.to_base_units().magnitude))


@lru_cache(maxsize=4096)
def own_unit(text: str, kind: str) -> str:
    """The text without the unit chosen beside its box, where the box has one: "300Ah Ah".

    A box that holds no number is told as it is: "abc" and not "abc h". A gallon in the box is one
    of the land that stands beside it.
    """
    for symbol in KINDS[kind].units:
        typed = text.removesuffix(f" {symbol}").rstrip()
        if not symbol or len(typed) == len(text):
            continue
        try:
            rest = split_number(typed)[1]
        except UnitError:
            return typed
        if rest:
            land = symbol.partition(" ")[0]
            return of_land(typed, kind, land) if land in ("US", "imp") else typed
    return text


def of_land(text: str, kind: str, land: str) -> str:
    """A bare gallon, pint or quart in a text as one of a land: "3 gph" is 3 US gph."""
    try:
        rest = split_number(text)[1]
    except UnitError:
        return text
    if not _GALLONS.match(rest) or not any("gal" in symbol for symbol in KINDS[kind].units):
        return text
    return f"{text.strip().removesuffix(rest).rstrip()} {land} {rest}"


_FEET = re.compile(
    r"(\d+)\s*(?:'|′|ft|feet|foot)\s*(\d[^'′]*?|[½¼¾⅛⅜⅝⅞])\s*(?:\"|″|in|inch|inches|'')?"
)
_CLOCK = re.compile(r"(\d+)(?::|\s*h\s*)([0-5]?\d)\s*(?:min)?")
_LATITUDE = re.compile(r"(\d+(?:[.,]\d+)?)\s*°?(?:\s*(\d+(?:[.,]\d+)?)\s*['′’])?\s*([NSns])?")


@lru_cache(maxsize=4096)
def one_number(text: str, kind: str) -> str:
    """A time like "1:15" or "1 h 15 min", a latitude like "17°30' S", a length like 5' 6", as one
    number and its unit.

    Any other text comes back as it is.
    """
    clock = _CLOCK.fullmatch(text.strip()) if kind == "time" else None
    if clock:
        return f"{int(clock[1]) + int(clock[2]) / 60:.9g} h"
    tall = _FEET.fullmatch(text.strip()) if kind == "length" else None
    if tall:
        try:
            inches, rest = split_number(tall[2])
        except UnitError:
            return text
        return text if rest or inches >= 12 else f"{int(tall[1]) + inches / 12:.9g} ft"
    place = _LATITUDE.fullmatch(text.strip()) if kind == "angle" else None
    if place and (place[2] or place[3]):
        degrees, minutes = (float((part or "0").replace(",", ".")) for part in place.group(1, 2))
        sign = "-" if place[3] in ("S", "s") else ""
        return f"{sign}{degrees + minutes / 60:.9g} °"
    return text


def kind_written(text: str) -> str:
    """The kind that the unit of a text measures, or nothing."""
    try:
        rest = split_number(text)[1]
    except UnitError:
        return ""
    symbol = rest if rest in _KIND_OF else _ALIASES.get(rest.lower(), rest)
    return _KIND_OF.get(symbol, "")


@lru_cache(maxsize=4096)
def parse(text: str, symbol: str, kind: str | None = None) -> float:
    """Text like "1.5 hp", "0,75 kW" or "12" to an SI float; a bare number is in `symbol`.

    Raises UnitError with a sentence for the reader.
    """
    number, rest = split_number(text)
    usual = unit(symbol, kind)
    found = find_unit(rest, usual.kind) if rest else usual
    value = number * found.factor + found.offset
    if usual.kind == "temperature" and value < 0:
        raise UnitError(f"“{text.strip()}” is below absolute zero")
    return value


def parse_any(text: str) -> float:
    """Text with a unit of any kind to SI, for data files whose kind the reader of the file knows.

    Raises UnitError when the unit is missing or unknown.
    """
    number, rest = split_number(text)
    symbol = rest if rest in _KIND_OF else _ALIASES.get(rest, _ALIASES.get(rest.lower(), rest))
    if symbol not in _KIND_OF:
        raise UnitError(f"“{text}” has no unit that is known here")
    found = unit(symbol)
    return number * found.factor + found.offset


def from_si(value: float, symbol: str, kind: str | None = None) -> float:
    """An SI float as a number in the unit of this symbol."""
    found = unit(symbol, kind)
    return (value - found.offset) / found.factor


def shown_unit(symbol: str, system: str) -> str:
    """The symbol used on a page in the given display system, "metric" or "us"."""
    return US_TWIN.get(symbol, symbol) if system == "us" else symbol


def trim(value: float, digits: int = 9) -> float:
    """`value` rounded to significant digits.

    Results are trimmed before they are compared, stored or shown, so that the last bit of one
    machine's mathematics library can neither show nor turn a verdict.
    """
    if value == 0 or not math.isfinite(value):
        return value
    return float(f"{value:.{digits - 1}e}")


THIN_SPACE = " "
SYSTEMS = ("metric", "us", "both")

# How a reader wants numbers written. It is followed by all that is shown, never by what is read:
# "1,234" typed into a field means the same to everyone.
decimal_mark: ContextVar[str] = ContextVar("decimal_mark", default=".")
# The units that the reader chose: faults are told in them, and a gallon is of their land.
chosen_system: ContextVar[str] = ContextVar("chosen_system", default="metric")


_ROUNDINGS = {"nearest": ROUND_HALF_EVEN, "up": ROUND_CEILING, "down": ROUND_FLOOR}


def rounded(value: float, digits: int, rounding: str = "nearest") -> float:
    """`value` to significant digits: "nearest", never below it ("up") or never above it ("down").

    A least amount is rounded up and a greatest one down, so that what is shown still holds when it
    is typed back.
    """
    exact = Decimal(repr(trim(value)))
    if exact == 0:
        return 0.0
    last = Decimal(1).scaleb(exact.adjusted() - digits + 1)
    return float(exact.quantize(last, _ROUNDINGS[rounding]))


def number_text(value: float, digits: int = 3, rounding: str = "nearest") -> str:
    """A number for a reader: significant digits, no exponent between 1e-4 and 1e9."""
    return _number_text(value, digits, rounding, decimal_mark.get())


@lru_cache(maxsize=4096)
def _number_text(value: float, digits: int, rounding: str, mark: str) -> str:
    value = rounded(value, digits, rounding)
    if value == 0:
        return "0"
    if not 1e-4 <= abs(value) < 1e9:
        mantissa, exponent = f"{value:.{digits - 1}e}".split("e")
        return f"{mantissa.rstrip('0').rstrip('.')}×10^{int(exponent)}".replace("-", "−")
    decimals = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:,.{decimals}f}".replace(",", THIN_SPACE)
    if "." in text and decimals > 0:
        text = text.rstrip("0").rstrip(".")
    return text.replace("-", "−").replace(".", mark)


_UNSPACED = ("°", "×")


def join(number: str, symbol: str) -> str:
    """A number and its unit symbol with the space that the unit wants, in print."""
    if not symbol:
        return number
    return number + ("" if symbol in _UNSPACED else " ") + pretty(symbol)


@lru_cache(maxsize=256)
def pretty(symbol: str) -> str:
    """A unit symbol as printed: "m3/h" -> "m³/h"."""
    if symbol == "Δ°F":
        return "°F difference"
    return re.sub(r"(?<=[a-zA-Z])([23])(?![\d])", lambda m: "²³"[int(m[1]) - 2], symbol)


_HOUR = 3600.0


def text(
    value: float, symbol: str, system: str = "metric", digits: int = 3, rounding: str = "nearest"
) -> str:
    """An SI float with its unit, as shown to a reader: `text(5.5e6, "bar")` -> "55 bar".

    In the system "both" the US value follows in brackets where it differs.
    """
    if system == "both":
        metric, us = (text(value, symbol, one, digits, rounding) for one in ("metric", "us"))
        return metric if metric == us else f"{metric} ({us})"
    told = told_unit(value, symbol, system)
    return join(number_text(from_si(value, told), digits, rounding), told)


_ONE = r"\d+(?:[  ]\d{3})*(?:\.\d+)?"
_PARTS = sorted(US_TWIN, key=len, reverse=True)
_MORE = rf"(?:, {_ONE})* (?:to|or|and|by|×) −?{_ONE}| ?[×–] ?{_ONE}"
_WRITTEN = re.compile(
    rf"(?<![\w.,/^])(−?{_ONE}(?:{_MORE})*)"
    rf"([  ]?)({'|'.join(re.escape(pretty(s)) for s in _PARTS)})(?![\w/²³·^])"
)


@lru_cache(maxsize=4096)
def in_system(words: str, system: str) -> str:
    """Words of the source with the metric amounts in them told in US units, where these are shown.

    As many digits as the source has, but two at least: "40 to 55 °C" -> "104 to 131 °F".
    """
    return _TWICE.sub(r"\1", _WRITTEN.sub(_in_us, words)) if system == "us" else words


_TWICE = re.compile(r"(\d+ °F) \(\1\)")


def _in_us(found: re.Match[str]) -> str:
    numbers, _, shown = found.groups()
    symbol = next(s for s in _PARTS if pretty(s) == shown)
    twin = US_TWIN[symbol]

    def told(one: re.Match[str]) -> str:
        plain = re.sub("[  ]", "", _unsign(one[0]))
        digits = max(2, len(plain.replace("-", "").replace(".", "").strip("0")))
        value = from_si(
            float(plain) * UNITS[kind_of(symbol), symbol].factor
            + UNITS[kind_of(symbol), symbol].offset,
            twin,
        )
        if symbol == "°C":
            return number_text(round(value), 3)
        return number_text(value, digits)

    return join(re.sub(rf"−?{_ONE}", told, numbers), twin)


def told_unit(value: float, symbol: str, system: str) -> str:
    """The unit that an SI float is told in: that of a page, but less than an hour in minutes."""
    shown = shown_unit(symbol, system)
    return "min" if shown == "h" and 0 < abs(value) < _HOUR else shown


@lru_cache(maxsize=4096)
def typed_text(value: float, symbol: str, kind: str | None = None, digits: int = 6) -> str:
    """An SI float as one would type it into a field: no thin spaces, plain minus, a point."""
    number = float(f"{from_si(value, symbol, kind):.{digits - 1}e}")
    if not 1e-4 <= abs(number) < 1e12:
        return f"{number:g}"
    return f"{number:.12f}".rstrip("0").rstrip(".")
