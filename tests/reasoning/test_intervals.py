"""Ranges end by end; the sampled and mpmath comparisons stand in test_ops.py, which runs these."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

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


def test_the_difference_of_two_empties_is_open_and_not_a_number() -> None:
    assert ends(intervals.minus(EMPTY, EMPTY)) == (-math.inf, math.inf)
    assert ends(intervals.plus(EMPTY, NEVER)) == (-math.inf, math.inf)


def test_the_quotient_of_two_empties_is_open_on_its_side_of_zero() -> None:
    assert ends(intervals.over(EMPTY, EMPTY)) == (0.0, math.inf)
    assert ends(intervals.over(NEVER, EMPTY)) == (-math.inf, 0.0)


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
