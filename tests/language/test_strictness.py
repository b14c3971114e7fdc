"""Whether a larger number makes the rules stricter."""

from __future__ import annotations

import pytest

from advisor.language.nodes import Define, Prefer, Rule
from advisor.language.strictness import stricter_way
from tests.language.texts import read

RULE = 'rule r\n  for animal a, animal b\n  {}\n  level advice\n  because "x"\n'


def way(clauses: str, defines: str = "") -> int:
    """Which way the rules lean on the let ``x``."""
    items = read(RULE.format(clauses) + defines).declarations
    rules: dict[str, Rule | Prefer] = {item.name: item for item in items if isinstance(item, Rule)}
    return stricter_way("x", rules, {item.name: item for item in items if isinstance(item, Define)})


@pytest.mark.parametrize(
    ("clauses", "expected"),
    [
        ("expect gap(a, b) >= size(a) + x", 1),
        ("expect size(a) + x <= gap(a, b)", 1),
        ("expect size(a) <= x", -1),
        ("expect x > size(a)", -1),
        ("expect gap(a, b) - x > 3 cm", 1),
        ("expect gap(a, b) / x > 3 cm", 1),
        ("expect not (size(a) >= x)", -1),
        ("expect size(a) between x and 9 cm", 1),
        ("expect size(a) between 1 cm and x", -1),
        ("expect gap(a, b) >= larger of x, size(a)", 1),
        ("expect (count of animal n where gap(a, n) < x) <= 3", 1),
        ("when size(a) >= x\n  expect fed(a)", -1),
        ("when size(a) <= x\n  expect fed(a)", 1),
        ("expect fed(a)\n  unless gap(a, b) >= x", 1),
        ("when size(a) >= x\n  expect gap(a, b) >= x", 0),
        ("expect fed(a)", 0),
    ],
)
def test_the_way_a_rule_leans(clauses: str, expected: int) -> None:
    assert way(clauses) == expected


def test_definitions_are_looked_through() -> None:
    room = "define room(animal a) in cm as size(a) + x\n"
    assert way("expect gap(a, b) >= room(a)", room) == 1


def test_a_case_that_hangs_on_it_says_nothing_sure() -> None:
    room = "define room(animal a) in cm as\n  3 cm when size(a) > x\n  9 cm otherwise\n"
    assert way("expect gap(a, b) >= room(a)", room) == 0


def test_a_loop_of_definitions_ends() -> None:
    assert (
        way(
            "expect gap(a, b) >= d(a)", "define d(animal a) in cm as e(a)\ndefine e(animal a) in cm as d(a)\n"
        )
        == 0
    )
