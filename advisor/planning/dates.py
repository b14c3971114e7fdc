"""Months on the calendar."""

from __future__ import annotations

from calendar import monthrange
from datetime import date

_NAMES = (
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


def months_on(start: date, months: int) -> date:
    """Return the same day `months` later, or the last day of a shorter month.

    >>> months_on(date(2026, 11, 30), 3)
    datetime.date(2027, 2, 28)
    """
    index = start.year * 12 + start.month - 1 + months
    year, month = divmod(index, 12)
    return date(year, month + 1, min(start.day, monthrange(year, month + 1)[1]))


def day_name(day: date) -> str:
    """Return a day as a person says it.

    >>> day_name(date(2027, 5, 2))
    '2 May 2027'
    """
    return f"{day.day} {_NAMES[day.month - 1][:3]} {day.year}"


def month_name(day: date) -> str:
    """Return a month as a person says it.

    >>> month_name(date(2027, 5, 2))
    'May 2027'
    """
    return f"{_NAMES[day.month - 1]} {day.year}"
