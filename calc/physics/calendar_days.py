"""Days, months and years of the Gregorian calendar, month ends and leap days included."""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache

MONTH = 365.25 * 86400 / 12  # s, the mean month of a Julian year
DAY = 86400.0


def is_leap(year: int) -> bool:
    """Whether a year has 366 days. Source: ISO 8601-1:2019, 4.2.1 (Gregorian calendar)."""
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def days_in_month(year: int, month: int) -> int:
    """Days of a month, 28..31. Source: as is_leap."""
    if month == 2:
        return 29 if is_leap(year) else 28
    return 30 if month in (4, 6, 9, 11) else 31


def add_months(day: date, months: int) -> date:
    """The same day `months` later (earlier if negative), or the last of a shorter month.

    Count from the first day each time, not from the result: 31 January + 2 months is 31 March.
    Raises OverflowError outside the years 1 to 9999. Source: W3C XML Schema Part 2, appendix E.
    """
    index = day.year * 12 + day.month - 1 + months
    year, month = divmod(index, 12)
    if not 1 <= year <= 9999:
        raise OverflowError("a date outside the years 1 to 9999")
    last = 28 if day.day <= 28 else days_in_month(year, month + 1)
    return date(year, month + 1, min(day.day, last))


@lru_cache(maxsize=64)
def span(time: float) -> tuple[int, int]:
    """A calendar interval [s] as (months, days): whole months if it is a number of them, else days.

    "6 months" falls on the same day of the month, "180 days" 180 days later. At least one day.
    Source: common practice, no source.
    """
    months = round(time / MONTH)
    if months > 0 and abs(time / MONTH - months) < 1e-6:
        return months, 0
    return 0, max(1, round(time / DAY))


def later(day: date, time: float) -> date:
    """The day a calendar interval [s] after `day`; see span, add_months.

    Raises OverflowError outside the years 1 to 9999. Source: as `add_months`.
    """
    months, days = span(time)
    return add_months(day, months) if months else day + timedelta(days)
