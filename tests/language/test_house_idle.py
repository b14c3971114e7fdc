"""A house line about one of two numbers that differ is told where the other one governs all the same."""

from __future__ import annotations

import pytest

from tests.language.texts import checked

CARD = """card odd "odd card"
  genus    odd
  light    min 40 PAR  max 200 PAR  source "one" kind guess
  light    min 60 PAR  max 300 PAR  source "two" kind guess
  source   "invented" kind guess
house
  {line} because "as I saw it"
"""


def told(*lines: str) -> list[tuple[str, str, str]]:
    """The warnings of a house with some lines: code, words beside the caret, and what governs."""
    text = CARD.replace(
        "  {line} ", "".join(f'  {line} because "x y z"\n' for line in lines[1:]) + "  {line} "
    )
    _, problems = checked(text.format(line=lines[0]))
    assert {problem.severity.value for problem in problems} <= {"warning"}
    return [(problem.code, problem.label, problem.related[0].span.text.strip()) for problem in problems]


@pytest.mark.parametrize(
    ("line", "governs"),
    [
        ("change odd light max from 300 PAR to 350 PAR", "200 PAR governs, not your 350 PAR"),
        ("change odd light max from 300 PAR to 250 PAR", "200 PAR governs, not your 250 PAR"),
        ("change odd light max from 300 PAR to 350 PAR for odd-1", "200 PAR governs, not your 350 PAR"),
        ("change odd light min from 40 PAR to 20 PAR", "60 PAR governs, not your 20 PAR"),
    ],
)
def test_a_change_that_leaves_the_governing_number_is_told(line: str, governs: str) -> None:
    ((code, label, where),) = told(line)
    assert (code, label) == ("house-516", governs)
    assert governs.split(" ", 1)[0] in where


@pytest.mark.parametrize(
    "line",
    [
        "change odd light max from 200 PAR to 250 PAR",  # it governed
        "change odd light max from 200 PAR to 350 PAR",  # now the other governs, which did not
        "change odd light max from 300 PAR to 150 PAR",  # it governs now
        "change odd light max from 300 PAR to 200 PAR",  # both say the same now
        "change odd light min from 40 PAR to 70 PAR",
    ],
)
def test_a_change_that_makes_a_difference_is_not(line: str) -> None:
    assert told(line) == []


def test_two_lines_that_move_the_number_together_are_not() -> None:
    both = ("change odd light max from 300 PAR to 350 PAR", "change odd light max from 200 PAR to 250 PAR")
    assert told(*both) == []


def test_a_number_that_one_source_gives_is_none_of_it() -> None:
    _, problems = checked(
        'card odd "odd card"\n  genus odd\n  light max 200 PAR\n  source "one" kind guess\n'
        'house\n  change odd light max from 200 PAR to 250 PAR because "it stood there"\n'
    )
    assert problems == ()
