"""Connectives, repeated unknowns decided case by case."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.language.nodes import CompareOp
from advisor.reasoning import truths
from advisor.reasoning.bindings import population_of
from advisor.reasoning.columns import Numbers
from advisor.reasoning.compare_ops import Compare
from advisor.reasoning.frame import Frame
from advisor.reasoning.logic_ops import (
    Every,
    Exact,
    Negation,
    Some,
    with_exact_cases,
)
from advisor.reasoning.ops import Defined, Op, truth
from tests.reasoning.compiled import expect_op
from tests.reasoning.fixed import CM, FixedTruths, frame_of_size, quantity, truth_op
from tests.reasoning.grids import random_grid
from tests.reasoning.small import NOWHERE, letters, library_of, missing


def leaf(values: str) -> FixedTruths:
    """Return a comparison with one truth a letter."""
    yes = np.array([value == "t" for value in values])
    no = np.array([value == "f" for value in values])
    return truth_op(truths.of_bools(yes, no, missing(len(values))))


def no(of: Op) -> Negation:
    """Return its negation."""
    return Negation(NOWHERE, of)


def both(*of: Op) -> Every:
    """Return their conjunction."""
    return Every(NOWHERE, of)


def either(*of: Op) -> Some:
    """Return their disjunction."""
    return Some(NOWHERE, of)


def verdict(op: Op, size: int = 1) -> str:
    """Return the truths of a formula, repeated unknowns decided."""
    return letters(truth(frame_of_size(size), with_exact_cases(op)))


def test_an_unknown_or_its_opposite_is_true() -> None:
    x = leaf("tfu")
    assert verdict(either(x, no(x)), 3) == "ttt"
    assert verdict(both(x, no(x)), 3) == "fff"


def test_a_formula_without_repetition_is_left_as_it_is() -> None:
    formula = either(leaf("u"), no(leaf("u")))
    assert with_exact_cases(formula) is formula
    assert verdict(formula) == "u"


def test_the_same_unknown_on_two_paths_is_split() -> None:
    x, y = leaf("u"), leaf("u")
    assert verdict(either(both(x, y), both(x, no(y)), no(x))) == "t"


def test_a_definition_is_looked_into() -> None:
    x = leaf("u")
    named = Defined(NOWHERE, "named", (), x)
    assert verdict(either(named, no(x))) == "t"


def test_a_definition_that_repeats_is_looked_into_together_with_what_stands_around_it() -> None:
    """The definition decides its own repetitions; what it shares with the rule must still be seen."""
    x, y = leaf("u"), leaf("u")
    body = with_exact_cases(either(x, both(x, y)))
    assert isinstance(body, Exact)
    assert verdict(either(Defined(NOWHERE, "named", (), body), no(x))) == "t"


def paired(count: int) -> Op:
    """Return a formula that is always true and repeats `count` unknowns."""
    return both(*(either(x, no(x)) for x in (leaf("u") for _ in range(count))))


@pytest.mark.parametrize(("count", "expected"), [(1, "t"), (8, "t"), (9, "u")])
def test_up_to_eight_repeated_unknowns_are_split_and_nine_stay_open(count: int, expected: str) -> None:
    assert verdict(paired(count)) == expected


def test_the_limit_counts_the_open_ones_of_each_row() -> None:
    """Nine comparisons repeat; on a row where some are known the others are split all the same."""
    rows = ("u" * 9, "u" * 8 + "t", "f" + "u" * 8, "t" * 9, "u" + "f" * 8)
    leaves = [leaf("".join(row[place] for row in rows)) for place in range(9)]
    whole = both(*(either(x, no(x)) for x in leaves))
    assert verdict(whole, len(rows)) == "utttt"
    never = either(*(both(x, no(x)) for x in leaves))
    assert verdict(never, len(rows)) == "uffff"


def test_rows_of_few_open_ones_take_part_in_the_cases_of_those_of_many() -> None:
    x, y, z = leaf("uuut"), leaf("uutu"), leaf("utuu")
    votes = either(both(x, y), both(y, z), both(x, z))
    assert verdict(votes, 4) == "uuuu"
    decided = either(both(x, y), both(x, no(y)), both(no(x), z), both(no(x), no(z)))
    assert verdict(decided, 4) == "tttt"


def test_a_comparison_and_its_opposite_are_one() -> None:
    compiled = expect_op("size(a) >= 5 cm or size(a) < 5 cm")
    assert isinstance(compiled, Exact)
    grid = random_grid(library_of(), 1, animals=1, worlds=0)
    for table in (grid.number, grid.plain):
        table["size"] = [np.array([part]) for part in (2.0, 5.0, 9.0, 0.0)]
    frame = Frame(grid, population_of(grid), np.zeros(1, np.int64), {"a": np.zeros(1, np.int64)}, np.zeros(1))
    for text, wanted in (
        ("size(a) >= 5 cm or size(a) < 5 cm", "t"),
        ("size(a) > 5 cm or 5 cm >= size(a)", "t"),
        ("size(a) > 5 cm and not size(a) > 5 cm", "f"),
        ("size(a) >= 5 cm and 5 cm > size(a)", "f"),
        ("size(a) >= 5 cm or size(a) < 6 cm", "u"),  # two limits: only what is compared with one counts
    ):
        assert letters(truth(frame, expect_op(text))) == wanted, text


def test_a_word_and_its_denial_are_one() -> None:
    grid = random_grid(library_of(), 1, animals=1, worlds=0)
    grid.word["group"] = (np.ones((1, 4), np.bool_), np.ones(1))
    frame = Frame(grid, population_of(grid), np.zeros(1, np.int64), {"a": np.zeros(1, np.int64)}, np.zeros(1))
    assert letters(truth(frame, expect_op("group(a) is soft or group(a) is not soft"))) == "t"
    assert letters(truth(frame, expect_op("group(a) is soft or group(a) is not stony"))) == "u"


FORMULAS = st.recursive(
    st.integers(0, 3),
    lambda below: st.one_of(
        st.tuples(st.just("not"), below),
        st.tuples(st.just("and"), below, below),
        st.tuples(st.just("or"), below, below),
    ),
    max_leaves=9,
)


def built(tree: object, leaves: list[FixedTruths]) -> Op:
    """Return a drawn formula as operations."""
    match tree:
        case int(index):
            return leaves[index]
        case ("not", of):
            return no(built(of, leaves))
        case ("and", a, b):
            return both(built(a, leaves), built(b, leaves))
        case ("or", a, b):
            return either(built(a, leaves), built(b, leaves))
    raise AssertionError(tree)


def plain(tree: object, values: tuple[bool, ...]) -> bool:
    """Return a drawn formula's truth for known leaves."""
    match tree:
        case int(index):
            return values[index]
        case ("not", of):
            return not plain(of, values)
        case ("and", a, b):
            return plain(a, values) and plain(b, values)
        case ("or", a, b):
            return plain(a, values) or plain(b, values)
    raise AssertionError(tree)


@given(tree=FORMULAS)
def test_every_formula_says_exactly_what_all_completions_say(tree: object) -> None:
    rows = list(product("tfu", repeat=4))
    leaves = [leaf("".join(row[place] for row in rows)) for place in range(4)]
    found = truth(frame_of_size(len(rows)), with_exact_cases(built(tree, leaves)))
    open_as = {"t": (True,), "f": (False,), "u": (True, False)}
    wanted = []
    for row in rows:
        outcomes = {plain(tree, full) for full in product(*(open_as[value] for value in row))}
        wanted.append("u" if len(outcomes) == 2 else "t" if outcomes == {True} else "f")
    assert letters(found) == "".join(wanted)
    assert not found.flags[found.yes | found.no].any()


@pytest.mark.parametrize("op", list(CompareOp))
@pytest.mark.parametrize("value", [2.0, 8.0])
def test_a_comparison_that_is_known_keeps_its_truth_while_others_are_split(
    op: CompareOp, value: float
) -> None:
    at, five = np.array([value]), np.array([5.0])
    known, sure = np.zeros(1, np.uint8), np.zeros(1, np.uint8)
    left, right = quantity(Numbers(at, at, at, known)), quantity(Numbers(five, five, five, sure))
    twice = Compare(NOWHERE, op, left, right, 1.0, CM)
    again = Compare(NOWHERE, op, left, right, 1.0, CM)
    open_ = leaf("u")
    formula = both(either(twice, open_), either(again, open_, no(open_)), either(open_, both(open_, again)))
    alone = letters(truth(frame_of_size(1), twice))
    exact = with_exact_cases(formula)
    assert isinstance(exact, Exact)
    assert len(exact.repeated) == 2
    # once the open one is set either way, what is left is the open one itself
    assert letters(truth(frame_of_size(1), exact)) == "u"
    settled = with_exact_cases(
        both(either(twice, both(open_, no(open_))), either(again, both(open_, no(open_))))
    )
    assert letters(truth(frame_of_size(1), settled)) == alone


def test_what_only_logic_decides_has_a_margin_of_the_right_sign() -> None:
    close = truth_op(
        truths.of_margin(
            np.array([-3.0]), np.array([-1.0]), np.array([5.0]), np.zeros(1, np.uint8), strict=False
        )
    )
    always = truth(frame_of_size(1), with_exact_cases(either(close, no(close))))
    never = truth(frame_of_size(1), with_exact_cases(both(close, no(close))))
    assert (letters(always), letters(never)) == ("t", "f")
    assert always.low[0] >= 0
    assert always.lean[0] == 1
    assert never.high[0] < 0
    assert never.lean[0] == -1
