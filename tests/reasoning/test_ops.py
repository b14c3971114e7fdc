"""Arithmetic, comparisons and cases on columns of ranges."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from mpmath import iv  # type: ignore[import-untyped]  # ships no types

from advisor.language.nodes import ArithOp, CompareOp
from advisor.reasoning import truths
from advisor.reasoning.columns import MISSING, Numbers, Truths
from advisor.reasoning.frame import Frame
from advisor.reasoning.ops import (
    Arithmetic,
    Cases,
    Collected,
    Compare,
    Extreme,
    Minus,
    Op,
    Within,
    numbers,
    truth,
)
from tests.reasoning.fixed import CM, frame_of_size, quantity, truth_op
from tests.reasoning.small import NOWHERE, letters, missing, ranges

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
