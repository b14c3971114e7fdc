"""A reading that stands on both sides of a comparison is one reading with one error."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.language.nodes import ArithOp
from advisor.reasoning.bindings import population_of
from advisor.reasoning.compare_ops import Collected, CollectedCases, CollectedExtreme, Compare, Difference
from advisor.reasoning.frame import Frame
from advisor.reasoning.intervals import minus
from advisor.reasoning.linear import MOST_PARTS, collected
from advisor.reasoning.ops import Arithmetic, Constant, Extreme, NumberCell, Op, numbers, truth
from tests.reasoning.compiled import PAIR, below, point, sides
from tests.reasoning.grids import random_grid
from tests.reasoning.small import compiled_of, letters

MORE = """define twice(animal a, animal b) in cm as 2 * gap(a, b)
define by-kind(animal a, animal b) in cm as
    gap(a, b)           when group(a) is soft
    gap(a, b) + 10 cm   otherwise
"""


@pytest.mark.parametrize(("expect", "verdict"), [
    ("gap(a, b) >= gap(a, b)", "t"),
    ("gap(a, b) > gap(b, a)", "f"),
    ("gap(a, b) + reach(a) >= gap(a, b) + 3 cm", "t"),
    ("gap(a, b) - 1 cm < gap(a, b)", "t"),
    ("2 * gap(a, b) >= gap(a, b)", "t"),
    ("gap(a, b) >= gap(a, b) / 2", "t"),
    ("gap(a, b) * 50 % <= gap(a, b)", "t"),
    ("-gap(a, b) <= gap(a, b)", "t"),
    ("twice(a, b) >= gap(a, b) + gap(a, b)", "t"),
    ("gap(a, b) between gap(a, b) - 1 cm and gap(a, b) + 1 cm", "t"),
    ("gap(a, b) >= reach(b)", "u"),
    ("larger of gap(a, b), 3 cm >= gap(a, b)", "t"),
    ("gap(a, b) >= smaller of gap(a, b), 3 cm", "t"),
    ("gap(a, b) + 1 cm > larger of gap(a, b), (gap(a, b) - 3 cm)", "t"),
    ("(larger of gap(a, b), 3 cm) - gap(a, b) >= 0 cm", "t"),
    ("gap(a, b) < smaller of (gap(a, b) + 1 cm), (gap(a, b) + 2 cm)", "t"),
    ("larger of ((gap(a, b) - reach(a)) + reach(a)), 3 cm >= gap(a, b)", "t"),
    ("larger of (smaller of gap(a, b), 9 cm), gap(a, b) >= gap(a, b)", "t"),
    ("larger of reach(a), 3 cm >= gap(a, b)", "u"),
    ("smaller of gap(a, b), 3 cm >= gap(a, b)", "u"),
    ("by-kind(a, b) >= gap(a, b)", "t"),
    ("gap(a, b) + 1 cm >= by-kind(a, b) - 9 cm", "t"),
    ("2 * gap(a, b) - by-kind(a, b) <= gap(a, b)", "t"),
    ("by-kind(a, b) > gap(a, b)", "u"),
    ("larger of by-kind(a, b), 3 cm >= gap(a, b)", "t"),
])  # fmt: skip
def test_a_reading_on_both_sides_is_the_same_reading(expect: str, verdict: str) -> None:
    library, compiled = compiled_of(expect, binders=PAIR, more=MORE)
    grid = random_grid(library, 0, animals=2, worlds=0)
    for part, value in enumerate((0.0, np.nan, 500.0, 1.0)):
        grid.number["gap"][part][:] = value
    point(grid, "reach", 5.0)
    grid.word["group"] = (np.ones((2, 4), np.bool_), np.ones(2))
    assert compiled.expect is not None
    frame = Frame(
        grid,
        population_of(grid),
        np.zeros(1, np.int64),
        {"a": np.array([0]), "b": np.array([1])},
        np.zeros(1),
    )
    assert letters(truth(frame, compiled.expect)) == verdict


NEAREST = "(least of gap(a, n) for neighbour n of a where potency(n) > 4)"
FURTHEST = "(most of reach(n) for neighbour n of a where potency(n) > 4)"


@pytest.mark.parametrize(("expect", "nobody", "perhaps"), [
    ("{0} >= 9 cm", "t", "t"),
    ("{0} < 9 cm", "f", "f"),
    ("{0} >= 500 cm", "t", "u"),
    ("{1} <= 9 cm", "t", "t"),
    ("{1} >= 1 cm", "f", "u"),
    ("{0} between 9 cm and 30 cm", "f", "u"),
    ("{0} >= {1}", "t", "t"),
    ("{0} - {1} > 9 cm", "t", "u"),
    ("{0} >= {0}", "t", "u"),
    ("{0} > {0}", "f", "u"),
    ("{0} + 4 cm > {0}", "f", "u"),
    ("{1} < {1} + 4 cm", "f", "u"),
    ("{0} + 4 cm <= larger of {0}, 2 cm", "t", "u"),
    ("{0} - {0} >= 0 cm", "u", "u"),
    ("{0} + {1} >= 0 cm", "u", "u"),
    ("0 * {0} >= 0 cm", "t", "t"),
    ("(sum of {0} for animal x) > 5 cm", "t", "t"),
    ("(sum of ({0} + {1}) for animal x) > 5 cm", "u", "u"),
    ("count of neighbour n of a where potency(n) > 4 <= 0", "t", "u"),
])  # fmt: skip
def test_the_least_of_nobody_is_above_everything_and_never_cancels(
    expect: str, nobody: str, perhaps: str
) -> None:
    library, compiled = compiled_of(expect.format(NEAREST, FURTHEST), binders=PAIR)
    assert compiled.expect is not None
    for potency, verdict in ((4.0, nobody), (np.nan, perhaps)):
        grid = random_grid(library, 0, animals=2)
        point(grid, "gap", 12.0)
        point(grid, "reach", 5.0)
        if np.isnan(potency):
            for part, value in enumerate((0.0, np.nan, 5.0, 1.0)):
                grid.number["potency"][part][:] = value
        else:
            point(grid, "potency", potency)
        pair = {"a": np.array([0]), "b": np.array([1])}
        frame = Frame(grid, population_of(grid), np.zeros(1, np.int64), pair, np.zeros(1))
        assert letters(truth(frame, compiled.expect)) == verdict, potency


@pytest.mark.parametrize(("expect", "terms", "offset"), [
    ("gap(a, b) + reach(a) >= gap(a, b) + 3 cm", {0.0, 1.0}, -3.0),
    ("2 * gap(a, b) - 5 cm >= gap(a, b) / 2", {1.5}, -5.0),
    ("-(gap(a, b) - reach(a)) <= gap(a, b) * 50 %", {-1.5, 1.0}, 0.0),
])  # fmt: skip
def test_factors_and_constants_are_added_up(expect: str, terms: set[float], offset: float) -> None:
    left, right = sides(expect, binders=PAIR)
    found = collected(left, right)
    assert isinstance(found, Collected)
    assert {factor for factor, _ in found.terms} == terms
    assert found.offset == offset


def test_a_comparison_in_which_nothing_repeats_is_left_as_it_is() -> None:
    assert collected(*sides("gap(a, b) >= reach(a) + reach(b)", binders=PAIR)) is None


def test_a_product_of_two_readings_is_a_term_of_its_own() -> None:
    found = collected(*sides("reach(a) * potency(a) - reach(a) >= reach(a) * potency(a) - 2 cm"))
    assert isinstance(found, Collected)
    assert sorted(factor for factor, _ in found.terms) == [-1.0, 0.0]


def test_the_rest_of_a_sum_goes_into_extremes_and_cases_that_share_a_reading() -> None:
    shared = collected(*sides("gap(a, b) >= larger of (gap(a, b) - 2 cm), reach(a)", binders=PAIR))
    assert isinstance(shared, CollectedExtreme)
    assert not shared.largest  # less the larger is the smaller of both differences
    assert [isinstance(item, Collected) and sorted(f for f, _ in item.terms) for item in shared.items] == [
        [0.0],
        [-1.0, 1.0],
    ]
    cases = collected(*sides("gap(a, b) >= by-kind(a, b)", more=MORE, binders=PAIR))
    assert isinstance(cases, CollectedCases)
    assert [item.offset for item in cases.items if isinstance(item, Collected)] == [0.0, -10.0]


def test_what_shares_nothing_stays_a_term() -> None:
    assert collected(*sides("gap(a, b) >= larger of reach(a), reach(b)", binders=PAIR)) is None
    one_each = "define room(animal a) in cm as\n  reach(a) when group(a) is soft\n  2 * reach(a) otherwise\n"
    assert collected(*sides("gap(a, b) >= room(a)", more=one_each, binders=PAIR)) is None


def depth_of(found: Difference) -> int:
    """How many parts a difference has."""
    return 1 if isinstance(found, Collected) else sum(depth_of(item) for item in found.items)


def test_a_difference_is_taken_apart_only_so_far() -> None:
    many = " + ".join(f"(larger of (gap(a, b) - {at} cm), reach(a))" for at in range(1, 8))
    found = collected(*sides(f"{many} >= gap(a, b)", binders=PAIR))
    assert found is not None
    assert 1 < depth_of(found) <= MOST_PARTS


TERMS = st.recursive(
    st.sampled_from(("gap(a, b)", "reach(a)", "reach(b)", "size(a)", "2 cm", "7 cm")),
    lambda below: st.one_of(
        st.tuples(below, st.sampled_from(("+", "-")), below).map(lambda parts: f"({' '.join(parts)})"),
        st.tuples(st.sampled_from(("larger", "smaller")), below, below).map(
            lambda parts: f"({parts[0]} of {parts[1]}, {parts[2]})"
        ),
        below.map(lambda part: f"(2 * {part})"),
    ),
    max_leaves=6,
)


@given(left=TERMS, right=TERMS, seed=st.integers(0, 50))
@settings(max_examples=150, deadline=None)
def test_a_collected_difference_holds_every_value_and_is_no_wider(left: str, right: str, seed: int) -> None:
    """Against all whole values of the readings, and against plain interval arithmetic."""
    library, compiled = compiled_of(f"{left} >= {right}", binders=PAIR)
    grid = random_grid(library, seed, animals=2, worlds=0)
    rng = np.random.default_rng(seed)
    for name in ("gap", "reach", "size"):
        low = rng.integers(0, 9, grid.number[name][0].shape).astype(float)
        high = low + rng.integers(0, 4, low.shape)
        if name == "gap":
            low, high = np.maximum(low, low.T), np.maximum(low, low.T) + 2.0
        for part, values in enumerate((low, low, high, np.zeros(low.shape))):
            grid.number[name][part] = values
    op = compiled.expect
    if not isinstance(op, Compare) or op.collected is None:
        return
    one = {"a": np.array([0]), "b": np.array([1])}
    frame = Frame(grid, population_of(grid), np.zeros(1, np.int64), one, np.zeros(1))
    found = op.collected.run(frame)
    plain = minus(numbers(frame, op.left), numbers(frame, op.right))
    assert found.low[0] >= plain.low[0] - 1e-9
    assert found.high[0] <= plain.high[0] + 1e-9
    cells = {(item.name, tuple(ref.var for ref in item.refs)): numbers(frame, item) for item in below(op)
             if isinstance(item, NumberCell)}  # fmt: skip
    for worth in product(*(np.arange(cell.low[0], cell.high[0] + 1) for cell in cells.values())):
        exact = {key: float(value) for key, value in zip(cells, worth, strict=True)}
        value = worked_out(op.left, exact) - worked_out(op.right, exact)
        assert found.low[0] - 1e-9 <= value <= found.high[0] + 1e-9


def worked_out(op: Op, exact: dict[tuple[str, tuple[str, ...]], float]) -> float:
    """The value of an expression of exact readings. [base unit]"""
    match op:
        case Constant(value=value):
            return value
        case NumberCell():
            return exact[op.name, tuple(ref.var for ref in op.refs)]
        case Arithmetic(op=kind, left=left, right=right):
            a, b = worked_out(left, exact), worked_out(right, exact)
            return {ArithOp.ADD: a + b, ArithOp.SUBTRACT: a - b}.get(kind, a * b)
        case Extreme(largest=largest, items=items):
            return (max if largest else min)(worked_out(item, exact) for item in items)
    raise AssertionError(op)
