"""Dates as readers are told them; files, forms and links keep the ISO form."""

from __future__ import annotations

from datetime import date

from .language import spoken

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def told(day: date) -> str:
    """A date as pages write it: 5 May 2026."""
    month = spoken(MONTHS[day.month - 1])
    return spoken("{day} {month} {year}", day=day.day, month=month, year=day.year)
