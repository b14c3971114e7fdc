"""Examples and house edits as they are printed."""

from __future__ import annotations

import pytest

from advisor.language.format import format_file
from advisor.language.format_cases import edit_clause, example_clauses
from advisor.language.nodes import Example, HouseEdit
from tests.language.texts import read

EXAMPLE = """example "one of each" for keep-clear
  given torch-1 is coral with potency = 3, footing = rock, sand, fenced = yes
        zoa-2 is coral
        gap(torch-1, zoa-2) = 10 to 14 cm
        light(torch-1.spot) unknown
  then  torch-1, zoa-2 fails by 8 cm
        torch-1, zoa-2 undecided needs gap(torch-1, zoa-2) too close leans yes
        at month 12, torch-1, zoa-2 not covered
"""


def test_an_example_is_printed_as_it_was_written() -> None:
    assert format_file(read(EXAMPLE)) == f"edition 1\n\n{EXAMPLE}"


def test_an_example_has_a_clause_for_each_line() -> None:
    (item,) = read(EXAMPLE).declarations
    assert isinstance(item, Example)
    assert [line for clause in example_clauses(item) for line in clause.lines] == EXAMPLE.rstrip().split("\n")


@pytest.mark.parametrize(
    "text",
    [
        "change allowance from 5 cm to 8 cm",
        'change torch light max from 150 PAR to 200 PAR for torch-1 because "so"',
        "change torch weapon sweeper-tentacles at-most from 25 cm to 20 cm",
        'level x from advice to danger because "so"',
        'accept x for torch-1, zoa-2 because "so" until 2027-06-01',
        "switch off x",
    ],
)
def test_a_house_edit_is_printed_as_it_was_written(text: str) -> None:
    (item,) = read(f"house\n  {text}\n").declarations
    assert isinstance(item, HouseEdit)
    assert edit_clause(item).lines == [f"  {text}"]
