"""Our columns of truths against Kleene's strong three-valued tables.

Source: S. C. Kleene, Introduction to Metamathematics, North-Holland 1952, section 64,
p. 334, the "strong" tables of the connectives; t true, f false, u undefined. The tables
are copied out in full below. Exact: there is nothing to round.
"""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.reasoning import truths
from advisor.reasoning.columns import MISSING, Truths

NOT = {"t": "f", "f": "t", "u": "u"}
AND = {
    "t": {"t": "t", "f": "f", "u": "u"},
    "f": {"t": "f", "f": "f", "u": "f"},
    "u": {"t": "u", "f": "f", "u": "u"},
}
OR = {
    "t": {"t": "t", "f": "t", "u": "t"},
    "f": {"t": "t", "f": "f", "u": "u"},
    "u": {"t": "t", "f": "u", "u": "u"},
}
VALUES = "tfu"


def column(letters: str) -> Truths:
    """Return a column with one truth a letter, as a keeper's yes, no or silence would make it."""
    yes = np.array([letter == "t" for letter in letters])
    no = np.array([letter == "f" for letter in letters])
    return truths.of_bools(yes, no, np.full(len(letters), MISSING, np.uint8))


def letters(of: Truths) -> str:
    """Return a column as letters."""
    assert not (of.yes & of.no).any()
    return "".join("t" if yes else "f" if no else "u" for yes, no in zip(of.yes, of.no, strict=True))


def test_not() -> None:
    assert letters(truths.negate(column(VALUES))) == "".join(NOT[value] for value in VALUES)


@pytest.mark.parametrize(
    ("table", "connective"), [(AND, truths.all_of), (OR, truths.any_of)], ids=["and", "or"]
)
def test_the_table_of_two(table: dict[str, dict[str, str]], connective: object) -> None:
    pairs = list(product(VALUES, repeat=2))
    left, right = (column("".join(pair[side] for pair in pairs)) for side in (0, 1))
    expected = "".join(table[a][b] for a, b in pairs)
    assert callable(connective)
    assert letters(connective([left, right])) == expected


@pytest.mark.parametrize("size", [1, 3, 4])
def test_many_at_once_is_two_by_two(size: int) -> None:
    rows = list(product(VALUES, repeat=size))
    items = [column("".join(row[place] for row in rows)) for place in range(size)]
    by_table_and, by_table_or = [], []
    for row in rows:
        both, either = row[0], row[0]
        for value in row[1:]:
            both, either = AND[both][value], OR[either][value]
        by_table_and.append(both)
        by_table_or.append(either)
    assert letters(truths.all_of(items)) == "".join(by_table_and)
    assert letters(truths.any_of(items)) == "".join(by_table_or)


def test_every_within_groups_is_and_within_each() -> None:
    values, groups = "tttfuutu", [0, 0, 1, 1, 2, 2, 3, 3]
    expected = {0: "t", 1: "f", 2: "u", 3: "u", 4: "t"}  # an empty group: nothing speaks against it
    result = truths.segment_all(column(values), np.array(groups, np.int64), 5)
    assert letters(result) == "".join(expected.values())


TREES = st.recursive(
    st.integers(0, 3),
    lambda below: st.one_of(
        st.tuples(st.just("not"), below),
        st.tuples(st.just("and"), below, below),
        st.tuples(st.just("or"), below, below),
    ),
    max_leaves=8,
)


def by_tables(tree: object, row: str) -> str:
    """Evaluate a formula for one row with the printed tables."""
    match tree:
        case int(leaf):
            return row[leaf]
        case ("not", of):
            return NOT[by_tables(of, row)]
        case ("and", a, b):
            return AND[by_tables(a, row)][by_tables(b, row)]
        case ("or", a, b):
            return OR[by_tables(a, row)][by_tables(b, row)]
    raise AssertionError(tree)


def by_columns(tree: object, leaves: list[Truths]) -> Truths:
    """Evaluate a formula for all rows with our columns."""
    match tree:
        case int(leaf):
            return leaves[leaf]
        case ("not", of):
            return truths.negate(by_columns(of, leaves))
        case ("and", a, b):
            return truths.all_of([by_columns(a, leaves), by_columns(b, leaves)])
        case ("or", a, b):
            return truths.any_of([by_columns(a, leaves), by_columns(b, leaves)])
    raise AssertionError(tree)


@given(tree=TREES)
def test_any_formula_agrees_with_the_tables(tree: object) -> None:
    rows = ["".join(row) for row in product(VALUES, repeat=4)]
    leaves = [column("".join(row[place] for row in rows)) for place in range(4)]
    assert letters(by_columns(tree, leaves)) == "".join(by_tables(tree, row) for row in rows)


@given(tree=TREES)
def test_learning_more_never_turns_a_sure_answer_round(tree: object) -> None:
    """Monotone in information (same section): what is decided stays, whatever u turns out to be."""
    for row in product(VALUES, repeat=4):
        told = by_tables(tree, "".join(row))
        if told == "u":
            continue
        leaves = [column(value * 2 if value != "u" else "tf") for value in row]
        assert letters(by_columns(tree, leaves)) == told * 2
