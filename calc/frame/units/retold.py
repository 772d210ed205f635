"""Words of the source with the metric amounts in them told in US units."""

from __future__ import annotations

import re
from functools import lru_cache

from .. import language
from ..language import term
from .known import UNITS, kind_of
from .read import unsigned
from .table import US_TWIN
from .write import decimal_mark, from_si, join, number_text, printed

JOINED_BY = ("to", "or", "and", "by")  # numbers that have one unit: "40 to 55 °C"
_ONE = r"\d+(?:[  ]\d{3})*(?:[.,]\d+)?"
_PARTS = sorted(US_TWIN, key=len, reverse=True)


@lru_cache(maxsize=8)
def written(joined_by: tuple[str, ...] = JOINED_BY) -> re.Pattern[str]:
    """What finds the metric amounts in words, with those that put numbers of one unit together."""
    joints = "|".join(map(re.escape, joined_by))
    more = rf"(?:, {_ONE})* (?:{joints}|×) −?{_ONE}| ?[×–] ?{_ONE}"
    parts = "|".join(re.escape(printed(symbol)) for symbol in _PARTS)
    return re.compile(rf"(?<![\w.,/^])(−?{_ONE}(?:{more})*)([  ]?)({parts})(?![\w/²³·^])")


def in_system(words: str, system: str) -> str:
    """Words of the source with the metric amounts in them told in US units, where these are shown.

    As many digits as the source has, but two at least: "40 to 55 °C" -> "104 to 131 °F".
    """
    if system != "us":
        return words
    return _retold(words, joints(), (decimal_mark.get(), language.code()))


def joints() -> tuple[str, ...]:
    """What puts numbers of one unit together, in the language that is spoken."""
    return tuple(map(term, JOINED_BY))


@lru_cache(maxsize=4096)
def _retold(words: str, joined_by: tuple[str, ...], _shown: tuple[str, str]) -> str:
    return _TWICE.sub(r"\1", written(joined_by).sub(_in_us, words))


_TWICE = re.compile(r"(\d+ °F) \(\1\)")


def _in_us(found: re.Match[str]) -> str:
    numbers, _, shown = found.groups()
    symbol = next(s for s in _PARTS if printed(s) == shown)
    twin = US_TWIN[symbol]

    def told(one: re.Match[str]) -> str:
        plain = re.sub("[  ]", "", unsigned(one[0])).replace(",", ".")
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
