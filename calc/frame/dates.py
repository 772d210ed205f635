"""Dates as readers are told them; files, forms and links keep the ISO form."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from .language import spoken

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
IN_FULL = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def told(day: date) -> str:
    """A date as pages write it: 5 May 2026."""
    return _with(MONTHS, day)


def in_full(day: date) -> str:
    """A date as cards write it: 5 December 2026."""
    return _with(IN_FULL, day)


def _with(months: Sequence[str], day: date) -> str:
    month = spoken(months[day.month - 1])
    return spoken("{day} {month} {year}", day=day.day, month=month, year=day.year)
