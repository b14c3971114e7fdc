"""Dates, ages, grounds and sentences."""

from __future__ import annotations

from datetime import date

import pytest

from advisor.model.results import Ground, Months
from advisor.reports.figures import (
    span_text,
    unit_text,
)
from advisor.reports.wording import (
    ago_text,
    ahead_text,
    counted,
    day_text,
    grade_text,
    grades_in_words,
    ground_text,
    listed,
    months_text,
    sentence,
    sentences,
)
from tests.reports import samples


@pytest.mark.parametrize(
    ("earliest", "latest", "text"),
    [
        (date(2027, 5, 1), date(2027, 5, 20), "May 2027"),
        (date(2027, 3, 1), date(2027, 7, 1), "Mar-Jul 2027"),
        (date(2026, 12, 1), date(2027, 2, 1), "Dec 2026 to Feb 2027"),
        (date(2027, 9, 1), None, "Sep 2027 or later"),
    ],
)
def test_months_to_come(earliest: date, latest: date | None, text: str) -> None:
    assert months_text(Months(earliest=earliest, expected=None, latest=latest)) == text


@pytest.mark.parametrize(
    ("days", "text"),
    [(0, "today"), (1, "yesterday"), (9, "9 days ago"), (143, "5 months ago"), (1100, "3 years ago")],
)
def test_ages(days: int, text: str) -> None:
    assert ago_text(days) == text


@pytest.mark.parametrize(
    ("months", "text"), [(1, "in a month"), (3, "in 3 months"), (12, "in a year"), (24, "in 2 years")]
)
def test_times_to_come(months: float, text: str) -> None:
    assert ahead_text(months) == text


def test_a_ground_tells_age_and_grade() -> None:
    assert ground_text(samples.TAPE) == "tape, 12 days ago"
    assert ground_text(Ground(text="tape, 143 days ago", age_days=143)) == "tape, 143 days ago"
    assert ground_text(samples.REACH) == "reach: card torch (keepers' word)"
    assert ground_text(Ground(text="stated", on=date(2026, 11, 2))) == "stated, 2 Nov 2026"


def test_a_full_ground_tells_date_source_and_file() -> None:
    ground = Ground(text="tape", on=date(2026, 10, 21), age_days=12, source="notes", file="tank.yaml", line=7)
    assert ground_text(ground, full=True) == "tape, 12 days ago, 21 Oct 2026; notes (tank.yaml:7)"


def test_grades_are_said_in_words() -> None:
    assert [grade_text(grade) for grade in ("study", "maker", "experience", "guess", "")] == [
        "study",
        "maker's word",
        "keepers' word",
        "a guess",
        "",
    ]


def test_a_grade_in_brackets_is_said_in_words() -> None:
    assert grades_in_words("reach: card torch (experience)") == "reach: card torch (keepers' word)"
    assert grades_in_words("a reading (tape)") == "a reading (tape)"


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("wedge it", "Wedge it."),
        ("torch-1 can reach zoa-2", "torch-1 can reach zoa-2."),
        ("really?", "Really?"),
        ("  ", ""),
    ],
)
def test_a_sentence_leaves_ids_alone(text: str, shown: str) -> None:
    assert sentence(text) == shown


def test_small_words() -> None:
    assert sentences(("wedge it", "", "no glue")) == "Wedge it. No glue."
    assert listed(["a", "b", "c"], most=2) == "a, b and 1 more"
    assert (counted(1, "place"), counted(3, "place"), counted(2, "box", "boxes")) == (
        "1 place",
        "3 places",
        "2 boxes",
    )
    assert (span_text(20, 35), span_text(4.0, 4.0)) == ("20-35", "4")
    assert (unit_text("cm", "3"), unit_text("%", "3"), unit_text("", "3")) == (" cm", "%", "")
    assert day_text(date(2026, 11, 2)) == "2 Nov 2026"
