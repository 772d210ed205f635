"""Dates as readers are told them; files, forms and links keep the ISO form."""

from __future__ import annotations

from datetime import date

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def told(day: date) -> str:
    """A date as pages write it: 5 May 2026."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"
