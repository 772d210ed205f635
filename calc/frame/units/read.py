"""Text with a number and a unit, as a hasty hand writes it, to an SI float."""

from __future__ import annotations

import difflib
import math
import re
from functools import lru_cache

from ..language import phrase
from .known import KIND_OF, KINDS, UNITS, Kind, Unit, UnitError, by_pint, unit
from .spellings import ALIASES, LOCAL_ALIASES

# Of two lands, unless it is said or chosen which; a price per gallon begins with the money.
_GALLONS = re.compile(
    r"^((?:¤|€|\$|£|[a-z]{3})\s*(?:/|per\b)\s*)?"
    r"(gals?|gallons?|gph|gpm|gpd|gal/.*|gallons?/.*|pts?|pints?|qts?|quarts?)$",
    re.IGNORECASE,
)
_OF_A_LAND = re.compile(
    r"(?P<money>(?:¤|€|\$|£|[a-z]{3})\s*(?:/|per\b)\s*)?(?P<land>us|u\.s\.|imp|imperial|uk)\s*"
    r"(?:(?P<size>gals?|gallons?|qts?|quarts?|pts?|pints?)"
    r"(?:\s*(?:/|per\b)\s*(?P<time>h|hr|hour|min|minute|d|day))?|gp(?P<short>[hmd]))",
    re.IGNORECASE,
)
_LANDS = {"us": "US gal", "u.s.": "US gal", "imp": "imp gal", "imperial": "imp gal"}
_LANDS |= {"uk": "imp gal"}
_SIZES = {"g": 1.0, "q": 1 / 4, "p": 1 / 8}
_TIMES = {"h": 3600.0, "m": 60.0, "d": 86400.0}
# What is told in watts on many an apparatus whose rating is in volt-amperes.
_WATTS_FOR_VA = {"W": "VA", "kW": "kVA"}

_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_VULGAR |= {"⅓": "1/3", "⅔": "2/3"}
_ANY_VULGAR = re.compile(f"[{''.join(_VULGAR)}]")
_FRACTION = re.compile(
    r"([+\-−]?)(?:(\d{1,6})(?:\s+|\s*-\s*))?(\d{1,2})[/⁄](2|3|4|8|16|32|64)(?!\d)"
)

_NUMBER = re.compile(
    r"^([+\-−]?)\s*((?:\d[\d.,'’_\s]*)?\d|\d?[.,]\d+|\d+[.,])((?:[eE][+\-−]?\d+)?)"
)
LARGEST = 1e15


def unsigned(text: str) -> str:
    """A text with plain minus signs."""
    return text.replace("−", "-")


def _plain_digits(body: str, typed: str) -> str:
    """Digits with one decimal point out of "1,200", "1.200,5", "0,75" or "1 200"."""
    if body.isdigit():
        return body
    body = re.sub(r"[\s'’_]", "", body)
    commas, points = body.count(","), body.count(".")
    if commas and points:
        decimal = max(",", ".", key=body.rfind)
        other = "." if decimal == "," else ","
        if body.count(decimal) > 1:
            raise UnitError("“{typed}” has more than one decimal mark", typed=typed)
        return body.replace(other, "").replace(decimal, ".")
    if commas > 1 or (commas == 1 and re.fullmatch(r"[1-9]\d{0,2},\d{3}", body)):
        if not re.fullmatch(r"\d{1,3}(,\d{3})+", body):
            raise UnitError(
                "“{typed}” is not a number: its commas fit neither thousands nor decimals",
                typed=typed,
            )
        return body.replace(",", "")
    if points > 1:
        if not re.fullmatch(r"\d{1,3}(\.\d{3})+", body):
            raise UnitError("“{typed}” has more than one decimal point", typed=typed)
        return body.replace(".", "")
    return body.replace(",", ".")


def _spelled(text: str) -> str:
    """A number's ¾ as 3/4."""
    if not _ANY_VULGAR.search(text, 0, 12):
        return text
    sign = next(one for one in _VULGAR if one in text[:12])
    return text.replace(sign, f" {_VULGAR[sign]}", 1).strip()


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
        raise UnitError("“{typed}” does not begin with a number", typed=typed)
    sign, body, exponent = found.groups()
    digits = _plain_digits(body, typed)
    try:
        number = float(unsigned(sign) + digits + unsigned(exponent))
    except ValueError:
        raise UnitError("“{typed}” is not a number", typed=typed) from None
    if not math.isfinite(number) or abs(number) > LARGEST:
        raise UnitError("“{typed}” is too large a number to mean anything here", typed=typed)
    return number, typed[found.end() :].strip()


def find_unit(text: str, kind: str) -> Unit:
    """The unit a reader wrote, for a number of this kind.

    Raises UnitError with a sentence: an unknown unit, a unit of something else, bare gallons.
    """
    wanted = KINDS[kind]
    if kind == "apparent power" and (watts := in_watts(text)):
        return Unit(watts, kind, UNITS[kind, _WATTS_FOR_VA[watts]].factor)
    if as_told := UNITS.get((kind, text)):
        return as_told
    if _GALLONS.match(text) and any("gal" in symbol for symbol in wanted.units):
        raise UnitError(
            "“{text}” could be US or imperial gallons; write “{us}” or “{imp}”",
            text=text,
            us=_landed(text, "US"),
            imp=_landed(text, "imp"),
        )
    local = LOCAL_ALIASES.get(kind, {})
    tries = (
        text,
        local.get(text),
        local.get(text.lower()),
        ALIASES.get(text),
        ALIASES.get(text.lower()),
    )
    for symbol in tries:
        if symbol is not None and (kind, symbol) in UNITS:
            return UNITS[kind, symbol]
    for symbol in wanted.units:
        if symbol.lower() == text.lower():
            return UNITS[kind, symbol]
    if said := _of_gallons(text, kind):
        return said
    for symbol in tries:
        if symbol in KIND_OF:
            raise UnitError(
                "“{text}” measures {measured}, but {asked} is asked for, such as {example}",
                text=text,
                measured=phrase(KINDS[KIND_OF[symbol]].asked),
                asked=phrase(wanted.asked),
                example=phrase(wanted.example),
            )
    return _ask_pint(text, wanted)


def _of_gallons(text: str, kind: str) -> Unit | None:
    """A gallon, quart or pint of a land that is said, a flow of them or a price for one."""
    found = _OF_A_LAND.fullmatch(text)
    if found is None:
        return None
    size = UNITS["volume", _LANDS[found["land"].lower()]].factor
    size *= _SIZES[(found["size"] or "g")[0].lower()]
    time = (found["time"] or found["short"] or "")[:1].lower()
    measured = "flow" if time else "volume"
    factor = size / _TIMES[time] if time else size
    if found["money"] and not time:
        measured, factor = "money per volume", 1 / size
    return Unit(text, kind, factor) if measured == kind else None


def _landed(text: str, land: str) -> str:
    """A bare gallon's unit as one of a land: "$/gal" is "$/US gal"."""
    money = (_GALLONS.match(text) or [""])[1] or ""
    return f"{money}{land} {text.removeprefix(money)}"


def in_watts(text: str) -> str:
    """ "W" or "kW" where a unit is one of these, however it is written; else nothing."""
    symbol = text if text in _WATTS_FOR_VA else ALIASES.get(text.lower(), "")
    return symbol if symbol in _WATTS_FOR_VA else ""


def _ask_pint(text: str, wanted: Kind) -> Unit:
    found = by_pint(text, wanted)
    if found is None:
        spelled = [*wanted.units, *(a for a, s in ALIASES.items() if s in wanted.units)]
        near = difflib.get_close_matches(text.lower(), spelled, 1, 0.5)
        raise UnitError(
            "“{text}” is not a unit this page knows{hint} ({asked} is asked for, such as "
            "{example})",
            text=text,
            hint=phrase("; did you mean “{word}”?", word=near[0]) if near else "",
            asked=phrase(wanted.asked),
            example=phrase(wanted.example),
        )
    return found


@lru_cache(maxsize=4096)
def own_unit(text: str, kind: str) -> str:
    """The text without the unit chosen beside its box, where the box has one: "300Ah Ah".

    A box that holds no number is told as it is: "abc" and not "abc h". A gallon in the box is one
    of the land that stands beside it.
    """
    loose = text[-1:].isspace()
    for symbol in KINDS[kind].units:
        if not symbol or not (loose or text.endswith(symbol)):
            continue
        typed = text.removesuffix(f" {symbol}").rstrip()
        if len(typed) == len(text):
            continue
        try:
            rest = split_number(typed)[1]
        except UnitError:
            return typed
        if rest:
            land = re.search(r"\b(US|imp) ", symbol)
            return of_land(typed, kind, land[1]) if land else typed
    return text


def of_land(text: str, kind: str, land: str) -> str:
    """A bare gallon, pint or quart in a text as one of a land: "3 gph" is 3 US gph."""
    try:
        rest = split_number(text)[1]
    except UnitError:
        return text
    if not _GALLONS.match(rest) or not any("gal" in symbol for symbol in KINDS[kind].units):
        return text
    return f"{text.strip().removesuffix(rest).rstrip()} {_landed(rest, land)}"


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
    symbol = rest if rest in KIND_OF else ALIASES.get(rest.lower(), rest)
    return KIND_OF.get(symbol, "")


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
        raise UnitError("“{text}” is below absolute zero", text=text.strip())
    return value


def parse_any(text: str) -> float:
    """Text with a unit of any kind to SI, for data files whose kind the reader of the file knows.

    Raises UnitError when the unit is missing or unknown.
    """
    number, rest = split_number(text)
    symbol = rest if rest in KIND_OF else ALIASES.get(rest, ALIASES.get(rest.lower(), rest))
    if symbol not in KIND_OF:
        raise UnitError("“{text}” has no unit that is known here", text=text)
    found = unit(symbol)
    return number * found.factor + found.offset
