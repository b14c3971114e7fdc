"""Examples against the rules they belong to."""

from __future__ import annotations

import pytest

from tests.language.texts import checked, codes

PAIR = 'example "e" for keep-clear\n  given a-1 is animal with potency = 3\n        a-2 is coral\n'


def told(text: str) -> list[str]:
    """The codes of an example."""
    return codes(checked(text)[1])


@pytest.mark.parametrize(
    "then",
    [
        "a-1, a-2 holds by 3 cm",
        "a-1, a-2 fails by 3 mm",
        "a-1, a-2 undecided needs gap(a-1, a-2), reach-most(a-1)",
        "a-1, a-2 undecided too close leans no",
        "at month 6, a-1, a-2 excused",
    ],
)
def test_a_sound_example_is_not_told(then: str) -> None:
    assert (
        told(f"{PAIR}        gap(a-1, a-2) = 3 to 5 cm\n        divider(a-1, a-2) = no\n  then {then}") == []
    )


def test_things_must_be_given() -> None:
    assert told(PAIR + "  then a-1, a-3 holds") == ["test-701"]
    assert told(PAIR + "        gap(a-1, a-3) = 3 cm\n  then a-1, a-2 holds") == ["test-701"]
    assert told(PAIR + "  then a-1, a-2 undecided needs gap(a-1, a-3)") == ["test-701"]


def test_values_must_be_possible() -> None:
    assert told(PAIR + "        gap(a-1, a-2) = 3 PAR\n  then a-1, a-2 holds") == ["units-201"]
    assert told(PAIR + "        gap(a-1, a-2) = 600 cm\n  then a-1, a-2 holds") == ["test-708"]
    assert told(PAIR + "        divider(a-1, a-2) = maybe\n  then a-1, a-2 holds") == ["word-119"]


def test_an_amount_has_the_measure_of_the_comparison() -> None:
    assert told(PAIR + "  then a-1, a-2 fails by 3 PAR") == ["units-201"]
    assert told('example "e" for light-enough\n  given a-1 is animal\n  then a-1 fails by 3 PAR') == []


def test_an_amount_of_temperature_is_a_difference() -> None:
    rule = 'rule warm\n  for tank\n  expect temperature(tank) >= 20 °C\n  level advice\n  because "cold"\n'
    text = rule + 'example "e" for warm\n  given temperature(tank) = 18 °C\n  then tank fails by 2 K'
    assert told(text) == []


def test_an_example_of_a_preference_is_held_against_it() -> None:
    prefer = 'prefer wide\n  for animal a\n  want size(a) > 3 cm\n  weight 1\n  because "x"\n'
    assert told(prefer + 'example "e" for wide\n  given a-1 is animal\n  then a-1 holds by 1 cm') == []
    assert told(prefer + 'example "e" for wide\n  given a-1 is animal\n  then a-1, a-1 holds') == ["test-709"]


def test_a_faulty_example_is_left_out() -> None:
    assert checked(PAIR + "  then a-1, a-3 holds")[0].examples == ()
