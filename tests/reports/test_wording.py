"""Numbers, dates and grounds in a keeper's words."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.model.results import Ground, Months, Value
from advisor.reports.wording import (
    ago_text,
    ahead_text,
    counted,
    day_text,
    figure,
    grade_text,
    grades_in_words,
    ground_text,
    listed,
    margin_text,
    months_text,
    sentence,
    sentences,
    set_figures,
    span_text,
    unit_text,
    value_text,
    wanted_text,
    with_error,
)
from tests.reports import samples
from tests.reports.samples import about, exact, span, unmeasured


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (about(118, 12, "PAR"), "118 ±12 PAR"),
        (about(117.6, 11.76, "PAR"), "118 ±12 PAR"),
        (about(10, 2, "cm/s"), "10 ±2 cm/s"),
        (about(8.24, 0.35, "dKH"), "8.2 ±0.4 dKH"),
        (about(1234, 150, "L"), "1230 ±150 L"),
        (about(0.053, 0.01, "mg/L"), "0.05 ±0.01 mg/L"),
        (Value(low=105.36, best=118, high=132.2, unit="PAR"), "118 ±14 PAR"),
        (Value(low=60, best=118, high=230, unit="PAR"), "60-230 PAR"),
        (span(20, 35, "cm"), "20-35 cm"),
        (span(0, 0, "cm"), "0 cm"),
        (span(-2, 5, "°C"), "-2 to 5 °C"),
        (span(50, 200, "PAR", "medium"), '"medium" 50-200 PAR'),
        (exact(25, "cm"), "25 cm"),
        (exact(1, "days"), "1 day"),
        (exact(40, "%"), "40%"),
        (exact(3, ""), "3"),
        (Value(words=("rock", "sand")), "rock or sand"),
        (Value(truth=True), "yes"),
        (Value(truth=False), "no"),
        (unmeasured("PAR"), "not known"),
        (Value(low=0, best=10, high=150, unit="cm/s", known=False), "10 cm/s, too old"),
        (Value(words=("dim", "medium"), known=False), "dim or medium"),
        (Value(words=("yes", "no"), known=False, kind="unknown"), "not known"),
        (Value(words=("a", "b", "c"), known=False), "not known"),
        (span(22.3, 89.7, "cm"), "22-90 cm"),
        (span(0.042, 0.053, "mg/L"), "0.042-0.053 mg/L"),
        (Value(low=3, unit="cm"), "3 cm or more"),
        (Value(high=3, unit="cm"), "at most 3 cm"),
        (Value(), "not known"),
        (None, ""),
    ],
)
def test_a_value_reads_as_a_keeper_says_it(value: Value | None, text: str) -> None:
    assert value_text(value) == text


def test_what_to_say_for_nothing_can_be_chosen() -> None:
    assert value_text(unmeasured("PAR"), "not measured") == "not measured"


@given(st.floats(0.01, 5000), st.floats(0.001, 500))
def test_a_printed_error_is_the_error_to_a_digit_or_two(best: float, error: float) -> None:
    number, shown = with_error(best, error)
    printed = float(shown.removeprefix("±"))
    assert abs(printed - error) <= 0.17 * error
    assert abs(float(number) - best) <= max(0.51 * error, 1e-9)


def test_numbers_stand_under_each_other() -> None:
    values = (about(118, 12, "PAR"), about(10, 2, "cm/s"), span(20, 35, "cm"), exact(25, "cm"))
    assert set_figures(figure(value) for value in values) == [
        "118 ±12 PAR",
        " 10 ±2 cm/s",
        "20-35 cm",
        " 25 cm",
    ]


def test_no_figures_are_no_texts() -> None:
    assert set_figures(()) == []


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [
        (exact(80, "PAR"), exact(150, "PAR"), "80-150 PAR"),
        (exact(25, "cm"), None, "25 cm or more"),
        (None, exact(250, "PAR"), "at most 250 PAR"),
        (exact(25, "cm"), exact(25, "cm"), "25 cm"),
        (span(15, 25, "cm"), None, "25 cm or more"),
        (None, span(15, 25, "cm"), "at most 15 cm"),
        (Value(words=("rock",)), None, "rock"),
        (Value(truth=True), None, "yes"),
        (None, None, ""),
    ],
)
def test_what_is_wanted(low: Value | None, high: Value | None, text: str) -> None:
    assert wanted_text(low, high) == text


@pytest.mark.parametrize(
    ("update", "text"),
    [
        ({}, "8 cm short"),
        ({"margin": about(6.4, 1, "cm"), "verdict": "holds"}, "6.4 cm to spare"),
        (
            {"wanted_low": None, "wanted_high": exact(80, "PAR"), "here": about(117, 9, "PAR"),
             "margin": about(-37, 9, "PAR")},
            "37 PAR too much",
        ),
        ({"margin": None}, ""),
        ({"verdict": "undecided"}, ""),
    ],
)  # fmt: skip
def test_a_margin_says_which_way(update: dict[str, object], text: str) -> None:
    reason = samples.STUNG.model_validate({**samples.STUNG.model_dump(), **update})
    assert margin_text(reason) == text


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
