"""A coral's line as it is typed, in the forms the readers know."""

from __future__ import annotations

import pytest

from advisor.tankfiles.tidied import LIGHT_WORD, tidied_line, without_fractions


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("1 1/2 inch", "1.5 inch"),
        ("1-1/2 inch", "1.5 inch"),
        ("1½ in", "1.5 in"),
        ("3/4 in", "0.75 in"),
        ("2026/11/02", "2026/11/02"),
        ("1/3 in", "1/3 in"),
        ("110 PAR", "110 PAR"),
    ],
)
def test_a_fraction_of_an_inch_is_a_decimal(written: str, read: str) -> None:
    assert without_fractions(written) == read


def test_a_comma_between_digits_before_a_unit_is_a_point_and_any_other_stays() -> None:
    assert tidied_line("zoa, 1,5-2,5 cm").text == "zoa, 1.5-2.5 cm"
    assert tidied_line("torch 110 PAR,8 cm").text == "torch 110 PAR,8 cm"
    assert tidied_line("torch, 1,000 PAR").text == "torch, 1000 PAR"
    assert tidied_line("torch, 0,125 m").text == "torch, 0.125 m"
    assert tidied_line("torch, 10,20").text == "torch, 10,20"
    assert tidied_line("torch, 10,20").remarks == ()


def test_words_for_light_and_flow_are_parted_and_stay_whole() -> None:
    assert tidied_line("torch very low light/low flow").text == "torch, very low light, low flow"
    assert tidied_line("torch, low to medium light").text == "torch, low to medium light"
    assert LIGHT_WORD.match("low to medium")
    assert not LIGHT_WORD.match("low flow")
