"""Quantities as a keeper reads them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.model.results import Value
from advisor.reports.figures import (
    figure,
    margin_text,
    set_figures,
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
        (
            {"wanted_low": None, "wanted_high": exact(22, "cm/s"), "here": span(30, 80, "cm/s"),
             "margin": span(-58, -8, "cm/s")},
            "8 to 58 cm/s too much",
        ),
        ({"margin": span(-8, -8, "cm")}, "8 cm short"),
        ({"margin": None}, ""),
        ({"verdict": "undecided"}, ""),
    ],
)  # fmt: skip
def test_a_margin_says_which_way(update: dict[str, object], text: str) -> None:
    reason = samples.STUNG.model_validate({**samples.STUNG.model_dump(), **update})
    assert margin_text(reason) == text
