"""Expressions and numbers as they are printed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import UnusableInput
from advisor.language.format_expr import HARD_SPACE, digits, expression, from_base, quoted, wrap
from advisor.units import UNITS
from tests.language.texts import quantity, truth


@pytest.mark.parametrize(
    "text",
    [
        "gap(a, b) >= 3 cm",
        "b is down-flow of a",
        "b is not down-flow of a",
        "not (a.group is soft)",
        "not fed(a)",
        "a.spot.light between 3 PAR and 9 PAR",
        "fed(a) and (pale(a) or open(a))",
        "any neighbour n of a where gap(a, n) < 3 cm",
        "(any animal x where fed(x)) and pale(a)",
        "(count of animal x where fed(x)) >= 3",
        "a.group is not one of soft, clam",
        "a.footing has not rock",
        "size(a) - (size(b) - 1 cm) > 2 cm",
    ],
)
def test_a_truth_is_printed_as_it_was_written(text: str) -> None:
    assert expression(truth(text)).replace(HARD_SPACE, " ") == text


@pytest.mark.parametrize(
    "text",
    [
        "(larger of size(a), 2 cm) + 1 cm",
        "smaller of size(a), size(b) * 2",
        "-size(a) + 3 cm",
        "sum of size(x) for animal x where fed(x)",
        "size(a) / 2 * 3",
        "size(a) / (size(b) * 3)",
    ],
)
def test_a_quantity_is_printed_as_it_was_written(text: str) -> None:
    assert expression(quantity(text)).replace(HARD_SPACE, " ") == text


@given(st.floats(-1e9, 1e9, allow_nan=False))
def test_digits_read_back_as_the_same_number(value: float) -> None:
    assert float(digits(value)) == value
    assert "e" not in digits(value)


@given(st.integers(0, 100_000), st.sampled_from(sorted(UNITS)))
def test_a_base_value_reads_back_as_the_same_number(hundredths: int, unit: str) -> None:
    found = UNITS[unit]
    value = (hundredths / 100) * found.factor + found.offset
    number = float(from_base(value, unit).split(HARD_SPACE)[0])
    assert number * found.factor + found.offset == value


def test_a_text_with_a_quote_cannot_be_written() -> None:
    with pytest.raises(UnusableInput):
        quoted('say "so"')


def test_a_line_is_broken_between_words_and_never_within_a_hard_space() -> None:
    lines = wrap("  expect   ", " and ".join([f"gap(a,{HARD_SPACE}b) >= 3{HARD_SPACE}cm"] * 9), 11)
    assert len(lines) > 1
    assert all(len(line) <= 100 and not line.rstrip().endswith("3") for line in lines)


def test_a_long_text_is_closed_and_opened_at_each_break() -> None:
    lines = wrap("  because  ", quoted("word " * 50 + "end"), 11)
    assert all(line.count('"') == 2 for line in lines)
