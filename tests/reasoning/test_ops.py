"""Arithmetic, comparisons and cases on columns of ranges."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from mpmath import iv  # type: ignore[import-untyped]  # ships no types

from advisor.language.nodes import ArithOp
from advisor.reasoning import truths
from advisor.reasoning.columns import MISSING, Truths
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import (
    Arithmetic,
    Cases,
    Extreme,
    Minus,
    Op,
    numbers,
    truth,
)
from tests.reasoning.fixed import CM, frame_of_size, quantity, truth_op
from tests.reasoning.small import NOWHERE, missing, ranges

ENDS = st.floats(-50, 50).map(lambda value: round(value, 3))
RANGES = st.tuples(ENDS, ENDS).map(lambda pair: (min(pair), max(pair)))
Range = tuple[float, float]
UNBOUNDED = (-math.inf, math.inf)
REAL = {
    ArithOp.ADD: lambda a, b: a + b,
    ArithOp.SUBTRACT: lambda a, b: a - b,
    ArithOp.MULTIPLY: lambda a, b: a * b,
    ArithOp.DIVIDE: lambda a, b: a / b,
}


def arithmetic(op: ArithOp, a: Range, b: Range) -> Range:
    """Return the range of one operation on two ranges."""
    made = Arithmetic(NOWHERE, CM, 1.0, op, quantity(ranges(a)), quantity(ranges(b)))
    found = numbers(frame_of_size(1), made)
    return float(found.low[0]), float(found.high[0])


def run(op: Op, size: int = 1) -> Truths:
    """Return the truths of an operation over some bindings."""
    return truth(frame_of_size(size), op)


@given(
    op=st.sampled_from(list(ArithOp)), a=RANGES, b=RANGES, shares=st.tuples(st.floats(0, 1), st.floats(0, 1))
)
def test_a_range_holds_every_result(op: ArithOp, a: Range, b: Range, shares: Range) -> None:
    x, y = (low + share * (high - low) for (low, high), share in zip((a, b), shares, strict=True))
    if op is ArithOp.DIVIDE and y == 0:
        return
    low, high = arithmetic(op, a, b)
    result = REAL[op](x, y)
    slack = 1e-9 * max(1.0, abs(result))
    assert low - slack <= result <= high + slack


@given(op=st.sampled_from(list(ArithOp)), a=RANGES, b=RANGES)
def test_a_range_is_as_tight_as_interval_arithmetic(op: ArithOp, a: Range, b: Range) -> None:
    """Against mpmath's interval context, wherever the divisor cannot be zero."""
    if op is ArithOp.DIVIDE and (b[0] <= 0 <= b[1] or min(abs(b[0]), abs(b[1])) < 1e-3):
        return
    expected = REAL[op](iv.mpf(list(a)), iv.mpf(list(b)))
    low, high = arithmetic(op, a, b)
    assert low == pytest.approx(float(expected.a), rel=1e-9, abs=1e-9)
    assert high == pytest.approx(float(expected.b), rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("a", "b", "expected"),
    [
        ((1.0, 4.0), (-1.0, 1.0), UNBOUNDED),
        ((-4.0, -1.0), (-2.0, 2.0), UNBOUNDED),
        ((1.0, 4.0), (0.0, 2.0), (0.5, math.inf)),
        ((0.0, 4.0), (0.0, 0.0), (0.0, math.inf)),
        ((-1.0, 1.0), (0.0, 2.0), UNBOUNDED),
    ],
)
def test_a_divisor_that_may_be_zero_leaves_the_result_open(a: Range, b: Range, expected: Range) -> None:
    assert arithmetic(ArithOp.DIVIDE, a, b) == expected


def test_the_best_quotient_of_a_best_divisor_zero_is_not_known() -> None:
    made = Arithmetic(
        NOWHERE, CM, 1.0, ArithOp.DIVIDE, quantity(ranges((1, 2, 3))), quantity(ranges((0, 0, 1)))
    )
    assert np.isnan(numbers(frame_of_size(1), made).best[0])


@given(
    op=st.sampled_from(list(ArithOp)),
    pair=st.sampled_from(
        [
            ((math.inf, math.inf), (math.inf, math.inf)),
            ((-math.inf, -math.inf), (math.inf, math.inf)),
            (UNBOUNDED, UNBOUNDED),
            ((0.0, math.inf), (0.0, 3.0)),
            ((0.0, 0.0), UNBOUNDED),
        ]
    ),
)
def test_what_is_unbounded_stays_a_range_and_warns_nobody(op: ArithOp, pair: tuple[Range, Range]) -> None:
    """No members at all make ``least of`` infinite; two such must not crash or pretend to know."""
    low, high = arithmetic(op, *pair)
    assert not math.isnan(low)
    assert not math.isnan(high)
    assert low <= high


@given(a=RANGES)
def test_minus_mirrors_the_range(a: Range) -> None:
    found = numbers(frame_of_size(1), Minus(NOWHERE, CM, 1.0, quantity(ranges(a))))
    assert (found.low[0], found.high[0]) == (-a[1], -a[0])


@given(parts=st.lists(RANGES, min_size=1, max_size=4), largest=st.booleans())
def test_larger_and_smaller_of_work_end_by_end(parts: list[Range], *, largest: bool) -> None:
    found = numbers(
        frame_of_size(1), Extreme(NOWHERE, CM, 1.0, largest, tuple(quantity(ranges(p)) for p in parts))
    )
    pick = max if largest else min
    assert found.low[0] == pick(low for low, _ in parts)
    assert found.high[0] == pick(high for _, high in parts)


def guard(values: str) -> Truths:
    """Return guards, one letter a row."""
    yes = np.array([value == "t" for value in values])
    no = np.array([value == "f" for value in values])
    return truths.of_bools(yes, no, missing(len(values)))


def cases(guards: list[str], values: list[Range], *, otherwise: bool) -> Cases:
    """Return a definition by cases over one row."""
    made: list[Op | None] = [truth_op(guard(letter)) for letter in guards]
    return Cases(
        NOWHERE,
        CM,
        1.0,
        tuple(quantity(ranges((low, (low + high) / 2, high))) for low, high in values),
        (*made, None) if otherwise else tuple(made),
    )


@given(guards=st.lists(st.sampled_from("tfu"), min_size=0, max_size=4), values=st.data())
def test_cases_cover_every_case_still_possible_and_no_other(guards: list[str], values: st.DataObject) -> None:
    found = [values.draw(RANGES) for _ in range(len(guards) + 1)]
    column = numbers(frame_of_size(1), cases(guards, found, otherwise=True))
    possible = []
    for letter, value in zip([*guards, "t"], found, strict=True):
        if letter != "f":
            possible.append(value)
        if letter == "t":
            break
    assert column.low[0] == min(low for low, _ in possible)
    assert column.high[0] == max(high for _, high in possible)


def test_cases_are_tried_in_order() -> None:
    found = numbers(frame_of_size(1), cases(["t", "t"], [(1, 1), (2, 2), (3, 3)], otherwise=True))
    assert (found.low[0], found.best[0], found.high[0]) == (1, 1, 1)


def test_where_no_case_need_apply_nothing_is_known() -> None:
    for guards in (["f"], ["u"]):
        found = numbers(frame_of_size(1), cases(guards, [(1, 1)], otherwise=False))
        assert (found.low[0], found.high[0]) == UNBOUNDED
        assert found.flags[0] & MISSING


def test_a_guard_nobody_knows_leaves_no_best_value_and_says_so() -> None:
    found = numbers(frame_of_size(1), cases(["u"], [(1, 1), (3, 3)], otherwise=True))
    assert np.isnan(found.best[0])
    assert found.flags[0] & MISSING


def test_a_guard_that_leans_picks_the_best_value_but_not_the_range() -> None:
    leaning = truths.of_margin(
        np.array([-1.0]), np.array([2.0]), np.array([3.0]), np.zeros(1, np.uint8), strict=False
    )
    made = Cases(
        NOWHERE,
        CM,
        1.0,
        (quantity(ranges((1, 1, 1))), quantity(ranges((3, 3, 3)))),
        (truth_op(leaning), None),
    )
    found = numbers(frame_of_size(1), made)
    assert (found.low[0], found.best[0], found.high[0]) == (1, 1, 3)


def test_an_operation_without_a_run_of_its_own_is_a_mistake() -> None:
    frame: Frame = frame_of_size(1)
    with pytest.raises(TypeError, match="Op cannot run"):
        frame.value(Op(NOWHERE))
