"""Comparisons of ranges and their margins."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.language.nodes import CompareOp
from advisor.reasoning.columns import Numbers, Truths
from advisor.reasoning.compare_ops import Collected, Compare, Within
from advisor.reasoning.ops import Op, truth
from tests.reasoning.fixed import CM, frame_of_size, quantity
from tests.reasoning.small import NOWHERE, letters, missing, ranges

ENDS = st.floats(-50, 50).map(lambda value: round(value, 3))
RANGES = st.tuples(ENDS, ENDS).map(lambda pair: (min(pair), max(pair)))
Range = tuple[float, float]
UNBOUNDED = (-math.inf, math.inf)


def run(op: Op, size: int = 1) -> Truths:
    """Return the truths of an operation over some bindings."""
    return truth(frame_of_size(size), op)


COMPARED = {
    CompareOp.AT_LEAST: lambda a, b: a >= b,
    CompareOp.AT_MOST: lambda a, b: a <= b,
    CompareOp.MORE: lambda a, b: a > b,
    CompareOp.LESS: lambda a, b: a < b,
}


@given(
    op=st.sampled_from(list(CompareOp)),
    a=st.tuples(st.integers(0, 6), st.integers(0, 6)),
    b=st.tuples(st.integers(0, 6), st.integers(0, 6)),
)
def test_a_comparison_is_sure_exactly_where_every_pair_of_values_agrees(
    op: CompareOp, a: tuple[int, int], b: tuple[int, int]
) -> None:
    """Ends decide an order comparison, so whole numbers between them are every case there is."""
    x, y = sorted(a), sorted(b)
    made = Compare(NOWHERE, op, quantity(ranges((x[0], x[1]))), quantity(ranges((y[0], y[1]))), 1.0, CM)
    outcomes = {COMPARED[op](p, q) for p in range(x[0], x[1] + 1) for q in range(y[0], y[1] + 1)}
    wanted = "u" if len(outcomes) == 2 else "t" if outcomes == {True} else "f"
    assert letters(run(made)) == wanted


def test_a_margin_is_signed_and_in_steps_of_the_measure() -> None:
    here, wanted = quantity(ranges((11, 12, 13))), quantity(ranges((20, 20, 20)))
    found = run(Compare(NOWHERE, CompareOp.AT_LEAST, here, wanted, 0.5, CM))
    assert (found.low[0], found.best[0], found.high[0]) == (-18, -16, -14)
    turned = run(Compare(NOWHERE, CompareOp.AT_MOST, here, wanted, 0.5, CM))
    assert (turned.low[0], turned.best[0], turned.high[0]) == (14, 16, 18)


def test_the_same_cell_on_both_sides_cancels() -> None:
    cell, card = quantity(ranges((0, 5, 500))), quantity(ranges((2, 2, 2)))
    plain = Compare(NOWHERE, CompareOp.AT_LEAST, cell, cell, 1.0, CM)
    assert letters(run(plain)) == "u"
    terms = Compare(
        NOWHERE, CompareOp.AT_LEAST, cell, cell, 1.0, CM, Collected(((0.0, cell), (-1.0, card)), 3.0)
    )
    found = run(terms)
    assert letters(found) == "t"
    assert (found.low[0], found.best[0], found.high[0]) == (1, 1, 1)


def test_an_unbounded_cell_that_cancels_leaves_nothing_behind() -> None:
    cell = quantity(Numbers(np.array([0.0]), np.array([np.nan]), np.array([math.inf]), missing(1)))
    found = run(Compare(NOWHERE, CompareOp.LESS, cell, cell, 1.0, CM, Collected(((0.0, cell),), 3.0)))
    assert letters(found) == "f"


def test_a_cell_that_cancels_is_no_cause_of_an_open_answer() -> None:
    cell = quantity(Numbers(np.array([0.0]), np.array([np.nan]), np.array([9.0]), missing(1)))
    close = quantity(ranges((-1, 0, 1)))
    found = run(
        Compare(NOWHERE, CompareOp.AT_LEAST, cell, cell, 1.0, CM, Collected(((0.0, cell), (1.0, close)), 0.0))
    )
    assert letters(found) == "u"
    assert found.flags.tolist() == [0]


@given(v=RANGES, low=ENDS, width=st.floats(0, 30), share=st.floats(0, 1))
def test_between_counts_both_ends_and_measures_to_the_nearer(
    v: Range, low: float, width: float, share: float
) -> None:
    high = low + width
    here = v[0] + share * (v[1] - v[0])
    made = Within(
        NOWHERE,
        quantity(ranges((v[0], here, v[1]))),
        quantity(ranges((low, low, low))),
        quantity(ranges((high, high, high))),
        1.0,
        CM,
    )
    found = run(made)
    if found.yes[0]:
        assert low <= here <= high
    if found.no[0]:
        assert not low <= here <= high
    assert letters(found) == (
        "t" if low <= v[0] and v[1] <= high else "f" if v[1] < low or v[0] > high else "u"
    )
    assert found.best[0] == pytest.approx(min(here - low, high - here), abs=1e-9)


def test_between_is_surely_true_at_its_very_ends() -> None:
    five, nine = quantity(ranges((5, 5, 5))), quantity(ranges((9, 9, 9)))
    assert letters(run(Within(NOWHERE, five, five, nine, 1.0, CM))) == "t"
    assert letters(run(Within(NOWHERE, nine, five, nine, 1.0, CM))) == "t"
