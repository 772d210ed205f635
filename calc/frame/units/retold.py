"""Words of the source with the metric amounts in them told in US units."""

from __future__ import annotations

import re
from functools import lru_cache

from .known import UNITS, kind_of
from .read import unsigned
from .table import US_TWIN
from .write import from_si, join, number_text, pretty

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
        plain = re.sub("[  ]", "", unsigned(one[0]))
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
