"""Forms whose values are all allowed, for the laws: every field within its limits, rows included."""

from __future__ import annotations

import datetime
from functools import cache
from typing import Any

from hypothesis import strategies as st

from calc import stock
from calc.frame import units
from calc.frame.inputs import Choice, Date, Field, Inputs, Quantity, Record, Rows, Whole, YesNo


def legal_text(made: Field) -> st.SearchStrategy[Any]:
    """A text that the field takes, in one of its units; of a text or a log none."""
    if isinstance(made, Quantity):
        low, high = _bounds(made)
        symbols = st.sampled_from((made.unit, made.unit, *units.KINDS[made.kind].units))
        share = st.floats(0.02, 0.98)
        return st.builds(
            lambda part, symbol: _within(made, low, high, part, symbol), share, symbols
        )
    if isinstance(made, Whole):
        return st.integers(made.at_least, min(made.at_most, made.at_least + 12)).map(str)
    if isinstance(made, Choice):
        return st.sampled_from(list(made.choices))
    if isinstance(made, YesNo):
        return st.sampled_from(["yes", "no"])
    if isinstance(made, Record):
        return st.sampled_from(list(made.choices(stock.guide().shelves)))
    if isinstance(made, Date):
        days = st.dates(datetime.date(2026, 1, 1), datetime.date(2027, 12, 31))
        return days.map(str)
    if isinstance(made, Rows):
        return st.lists(legal_fields(made.row), max_size=3)
    return st.just("")


def _bounds(made: Quantity) -> tuple[float, float]:
    """Limits [SI] that hold a plausible range round the default too."""
    limits = {k: made.read(v) for k, v in made.limits().items() if isinstance(v, str)}
    usual = made.read(made.default) if made.default else None
    low = limits.get("above", limits.get("at_least"))
    high = limits.get("below", limits.get("at_most"))
    if usual:
        low = max(usual / 4, low) if low is not None else usual / 4
        high = min(usual * 4, high) if high is not None else usual * 4
    if low is None or high is None:
        low, high = (low or 0.0), (high if high is not None else (low or 0.0) + 100.0)
    return min(low, high), max(low, high)


def _within(made: Quantity, low: float, high: float, part: float, symbol: str) -> str:
    value = low + part * (high - low)
    return f"{units.from_si(value, symbol, made.kind):.5g} {symbol}"


def legal_fields(asks: type[Inputs]) -> st.SearchStrategy[dict[str, Any]]:
    """Some of a form's fields, each with a text that it takes."""
    fields = {n: legal_text(f) for n, f in asks.fields.items()}
    return st.fixed_dictionaries({}, optional=fields)


@cache
def legal_forms(name: str) -> st.SearchStrategy[dict[str, Any]]:
    """Forms of a calculator with at most a dozen fields typed."""
    fields = stock.guide().get(name).asks.fields

    def form(names: list[str]) -> st.SearchStrategy[dict[str, Any]]:
        return st.fixed_dictionaries({n: legal_text(fields[n]) for n in names})

    return st.lists(st.sampled_from(list(fields)), max_size=8, unique=True).flatmap(form)
