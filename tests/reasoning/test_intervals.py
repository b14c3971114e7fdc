"""Ranges end by end; the sampled and mpmath comparisons stand in test_ops.py, which runs these."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import product

import numpy as np
import pytest
from mpmath import iv  # type: ignore[import-untyped]  # ships no types

from advisor.reasoning import intervals
from advisor.reasoning.columns import MISSING, Numbers
from tests.reasoning.small import missing, ranges


def ends(of: Numbers) -> tuple[float, float]:
    """Return the ends of the first range."""
    return float(of.low[0]), float(of.high[0])


EMPTY = ranges((math.inf, math.inf))
"""What the least of nothing is."""
NEVER = ranges((-math.inf, -math.inf))
"""What the most of nothing is."""
NONE = ranges((0.0, 0.0))


def test_the_difference_of_two_empties_is_open_and_not_a_number() -> None:
    assert ends(intervals.minus(EMPTY, EMPTY)) == (-math.inf, math.inf)
    assert ends(intervals.plus(EMPTY, NEVER)) == (-math.inf, math.inf)


def test_the_quotient_of_two_empties_is_open_on_its_side_of_zero() -> None:
    assert ends(intervals.over(EMPTY, EMPTY)) == (0.0, math.inf)
    assert ends(intervals.over(NEVER, EMPTY)) == (-math.inf, 0.0)


def test_an_empty_is_level_with_an_empty_and_above_everything_else() -> None:
    assert ends(intervals.above(EMPTY, EMPTY)) == ends(intervals.above(NEVER, NEVER)) == (0.0, 0.0)
    assert ends(intervals.above(EMPTY, NEVER)) == (math.inf, math.inf)
    assert ends(intervals.above(EMPTY, ranges((3, math.inf)))) == (0.0, math.inf)
    assert ends(intervals.above(ranges((3, math.inf)), ranges((3, math.inf)))) == (-math.inf, math.inf)
    level = intervals.above(ranges((math.inf, math.inf, math.inf)), ranges((math.inf, math.inf, math.inf)))
    assert (level.best[0], level.flags[0]) == (0.0, 0)


def test_what_no_arithmetic_tells_misses_something() -> None:
    for found in (intervals.minus(EMPTY, EMPTY), intervals.over(EMPTY, EMPTY), intervals.over(NONE, NONE)):
        assert found.flags.tolist() == [MISSING]
    for found in (intervals.minus(EMPTY, NEVER), intervals.over(EMPTY, NONE), intervals.times(EMPTY, NONE)):
        assert found.flags.tolist() == [0]


def test_an_amount_divided_by_nothing_is_more_than_any() -> None:
    assert ends(intervals.over(ranges((2, 4)), NONE)) == (math.inf, math.inf)
    assert ends(intervals.over(ranges((2, 4)), ranges((0, 2)))) == (1.0, math.inf)
    assert ends(intervals.over(NONE, NONE)) == (0.0, math.inf)


def test_ranges_are_chosen_row_by_row() -> None:
    found = intervals.where(np.array([True, False]), ranges((1, 2), (3, 4)), ranges((5, 6), (7, 8)))
    assert (found.low.tolist(), found.high.tolist()) == ([1, 7], [2, 8])


OPEN_ENDS = [
    (low, high) for low, high in product((-math.inf, -2.0, 0.0, 3.0, math.inf), repeat=2) if low <= high
]


@pytest.mark.parametrize("a", OPEN_ENDS)
@pytest.mark.parametrize("b", OPEN_ENDS)
def test_ranges_with_open_ends_are_those_of_interval_arithmetic(
    a: tuple[float, float], b: tuple[float, float]
) -> None:
    """Against mpmath's interval context.

    It leaves nothing times what has no bounds open, where unbounded operands of
    IEEE 1788-2015 (and we) have nothing; such a product must only lie within
    its. It says nothing of a divisor that may be zero.
    """
    one, other = iv.mpf(list(a)), iv.mpf(list(b))
    x, y = ranges(a), ranges(b)
    assert ends(intervals.plus(x, y)) == both(one + other)
    assert ends(intervals.minus(x, y)) == both(one - other)
    low, high = ends(intervals.times(x, y))
    widest = both(one * other)
    nothing_of_endless = any(0.0 in p and (math.inf in q or -math.inf in q) for p, q in ((a, b), (b, a)))
    assert widest[0] <= low <= high <= widest[1]
    assert nothing_of_endless or (low, high) == widest
    if not b[0] <= 0 <= b[1]:
        assert ends(intervals.over(x, y)) == pytest.approx(both(one / other))


def both(of: object) -> tuple[float, float]:
    """Return the ends of a range of mpmath."""
    return float(of.a), float(of.b)  # type: ignore[attr-defined]  # ships no types


def test_an_empty_beside_a_number_stays_infinite() -> None:
    assert ends(intervals.minus(EMPTY, ranges((1, 3)))) == (math.inf, math.inf)
    assert ends(intervals.plus(NEVER, ranges((1, 3)))) == (-math.inf, -math.inf)


def test_nothing_of_something_unbounded_is_nothing() -> None:
    assert ends(intervals.times(ranges((0, 0)), ranges((0, math.inf)))) == (0.0, 0.0)
    assert ends(intervals.times(ranges((0, 1)), ranges((2, math.inf)))) == (0.0, math.inf)


def test_a_quotient_of_ranges_open_upwards_stays_above_zero() -> None:
    assert ends(intervals.over(ranges((5, math.inf)), ranges((2, math.inf)))) == (0.0, math.inf)


@pytest.mark.parametrize("operation", [intervals.plus, intervals.minus, intervals.times, intervals.over])
def test_flags_of_both_sides_are_kept_and_an_unknown_best_stays_unknown(
    operation: Callable[[Numbers, Numbers], Numbers],
) -> None:
    unknown = Numbers(np.array([1.0]), np.array([np.nan]), np.array([2.0]), missing(1))
    found = operation(unknown, ranges((3, 3, 3)))
    assert found.flags.tolist() == [MISSING]
    assert np.isnan(found.best[0])
