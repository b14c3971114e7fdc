"""Sentences filled with what was found: numbers, ranges, what is old and what is not known."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.model.results import Value
from advisor.reasoning.sentences import fill, in_words
from tests.reasoning.test_record import NO_GAP, Known, row_of


@pytest.mark.parametrize(("value", "words"), [
    (Value(low=11, best=12, high=13, unit="cm"), "12 cm"),
    (Value(low=20, high=60, unit="cm"), "20 to 60 cm"),
    (Value(low=20, high=20, unit="cm"), "20 cm"),
    (Value(truth=True), "yes"), (Value(truth=False), "no"),
    (Value(words=("soft", "stony")), "soft or stony"),
    (Value(unit="cm"), "an unknown amount"),
    (Value(low=0, high=2500, unit="PAR", known=False), "an unknown amount"),
    (Value(low=11.53, high=66.61, unit="cm"), "11 to 67 cm"),
    (Value(low=0.364, high=7.5, unit="times"), "0.3 to 8 times"),
    (Value(low=3, unit="cm"), "3 cm or more"),
    (Value(high=20, unit="cm"), "up to 20 cm"),
    (Value(low=5, high=20, unit="%"), "5 to 20%"),
])  # fmt: skip
def test_a_value_stands_in_a_sentence(value: Value, words: str) -> None:
    assert in_words(value) == words


def test_a_text_is_filled_with_what_was_found() -> None:
    compiled, row = row_of(
        "gap(a, b) >= 5 cm", {"gap": (12.0,)}, because="in {month} {a} is {gap(a, b)} from {b}, at {a.spot}"
    )
    text = fill(compiled.because, row, "May 2027")
    assert text.startswith("in May 2027 a0 is 12 cm from a1, at p")
    assert "{" not in text


def test_an_unknown_amount_is_called_one() -> None:
    compiled, row = row_of("gap(a, b) >= 5 cm", {"gap": NO_GAP}, because="{b} is {gap(a, b)} away")
    assert fill(compiled.because, row) == "a1 is an unknown amount away"


def test_a_range_of_which_something_is_missing_is_told_as_one() -> None:
    known: dict[str, Known] = {"gap": (11.53, np.nan, 66.61, 1.0)}
    compiled, row = row_of("gap(a, b) >= 5 cm", known, because="{b} is {gap(a, b)} away")
    assert fill(compiled.because, row) == "a1 is 11 to 67 cm away"
