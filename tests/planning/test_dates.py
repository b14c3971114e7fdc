"""Months on the calendar."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.planning.dates import month_name, months_on

DAYS = st.dates(date(1990, 1, 1), date(2150, 1, 1))


@pytest.mark.parametrize(("start", "months", "expected"), [
    (date(2026, 11, 2), 0, date(2026, 11, 2)),
    (date(2026, 11, 30), 3, date(2027, 2, 28)),
    (date(2027, 11, 30), 3, date(2028, 2, 29)),  # a leap year
    (date(2026, 12, 31), 1, date(2027, 1, 31)),
    (date(2026, 1, 31), 13, date(2027, 2, 28)),
    (date(2026, 5, 31), 12, date(2027, 5, 31)),
])  # fmt: skip
def test_the_same_day_or_the_last_of_a_shorter_month(start: date, months: int, expected: date) -> None:
    assert months_on(start, months) == expected


@given(start=DAYS, months=st.integers(0, 240))
def test_a_month_is_neither_skipped_nor_counted_twice(start: date, months: int) -> None:
    found = months_on(start, months)
    assert (found.year * 12 + found.month) - (start.year * 12 + start.month) == months
    assert found.day == start.day or (found + timedelta(days=1)).day == 1
    assert found.day <= start.day


@given(start=DAYS, months=st.integers(0, 240))
def test_later_months_are_later(start: date, months: int) -> None:
    assert months_on(start, months) < months_on(start, months + 1)


def test_a_month_is_named_as_a_person_says_it() -> None:
    assert [month_name(date(2027, month, 1)) for month in (1, 5, 12)] == [
        "January 2027", "May 2027", "December 2027",
    ]  # fmt: skip
