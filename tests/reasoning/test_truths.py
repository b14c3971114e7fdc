"""Kleene logic on columns: against every completion, and with margins carried along."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.reasoning import truths
from advisor.reasoning.columns import ASSUMED, MISSING, STALE, Truths
from tests.reasoning.small import letters, missing, plain_flags

OPEN = {"t": (True,), "f": (False,), "u": (True, False)}


def column(values: str) -> Truths:
    """Return a column with one truth a letter."""
    yes = np.array([value == "t" for value in values], np.bool_)
    no = np.array([value == "f" for value in values], np.bool_)
    return truths.of_bools(yes, no, missing(len(values)))


def over_completions(found: set[bool]) -> str:
    """Return what is sure of a value that may be any of `found`."""
    return "u" if len(found) == 2 else "t" if found == {True} else "f"


@pytest.mark.parametrize("size", [1, 2, 3, 4])
def test_and_and_or_say_what_every_completion_says(size: int) -> None:
    rows = list(product("tfu", repeat=size))
    items = [column("".join(row[place] for row in rows)) for place in range(size)]
    wanted_and = "".join(
        over_completions({all(full) for full in product(*(OPEN[v] for v in row))}) for row in rows
    )
    wanted_or = "".join(
        over_completions({any(full) for full in product(*(OPEN[v] for v in row))}) for row in rows
    )
    assert letters(truths.all_of(items)) == wanted_and
    assert letters(truths.any_of(items)) == wanted_or


def test_not_turns_sure_answers_and_leaves_open_ones() -> None:
    assert letters(truths.negate(column("tfu"))) == "ftu"


MARGINS = st.lists(
    st.tuples(st.floats(-9, 9), st.floats(-9, 9), st.floats(-9, 9), st.booleans(), st.booleans()),
    min_size=1,
    max_size=4,
)
Margin = tuple[float, float, float, bool, bool]


def one(margin: Margin) -> Truths:
    """Return one truth made from a margin: three numbers in any order, strict or not, best known or not."""
    low, best, high = sorted(margin[:3])
    return truths.of_margin(
        np.array([low]),
        np.array([best if margin[4] else np.nan]),
        np.array([high]),
        plain_flags(1),
        strict=margin[3],
    )


def sign_agrees(of: Truths) -> bool:
    """Return whether verdict, lean and the three margins tell one story."""
    yes, no, lean = bool(of.yes[0]), bool(of.no[0]), int(of.lean[0])
    low, best, high = float(of.low[0]), float(of.best[0]), float(of.high[0])
    if yes and (low < 0 or lean != 1):
        return False
    if no and (high > 0 or lean != -1):
        return False
    if not (yes or no) and not low <= 0 <= high:
        return False
    if not np.isnan(best):
        return low <= best <= high and (best >= 0 if lean > 0 else best <= 0 if lean < 0 else False)
    return True


@given(margin=MARGINS.map(lambda found: found[0]))
def test_a_margin_and_its_verdict_agree(margin: Margin) -> None:
    assert sign_agrees(one(margin))
    assert sign_agrees(truths.negate(one(margin)))


@given(margins=MARGINS)
def test_margins_of_and_or_are_least_and_largest_and_agree_with_the_verdict(margins: list[Margin]) -> None:
    items = [one(margin) for margin in margins]
    both, either = truths.all_of(items), truths.any_of(items)
    assert both.low[0] == min(item.low[0] for item in items)
    assert both.high[0] == min(item.high[0] for item in items)
    assert either.low[0] == max(item.low[0] for item in items)
    assert either.high[0] == max(item.high[0] for item in items)
    assert sign_agrees(both)
    assert sign_agrees(either)


@given(margins=MARGINS, values=st.data())
def test_a_decided_formula_of_margins_is_right_for_every_value_inside(
    margins: list[Margin], values: st.DataObject
) -> None:
    items = [one(margin) for margin in margins]
    real = [values.draw(st.floats(min(margin[:3]), max(margin[:3]))) for margin in margins]
    holds = [value > 0 if margin[3] else value >= 0 for value, margin in zip(real, margins, strict=True)]
    for found, truth in ((truths.all_of(items), all(holds)), (truths.any_of(items), any(holds))):
        assert not (found.yes[0] and not truth)
        assert not (found.no[0] and truth)


def test_touching_the_limit_counts_unless_the_comparison_is_strict() -> None:
    zero = np.zeros(1)
    assert letters(truths.of_margin(zero, zero, zero, plain_flags(1), strict=False)) == "t"
    assert letters(truths.of_margin(zero, zero, zero, plain_flags(1), strict=True)) == "f"


@pytest.mark.parametrize(
    ("flags", "leans"), [(0, [1, -1, 0]), (ASSUMED, [1, -1, 0]), (MISSING, [0, 0, 0]), (STALE, [0, 0, 0])]
)
def test_a_range_leans_to_its_larger_part_but_the_physical_range_says_nothing(
    flags: int, leans: list[int]
) -> None:
    """A word, or a place in words, has no best value; what is missing or out of date says even less."""
    low, high = np.array([-1.0, -9.0, -4.0]), np.array([6.0, 2.0, 4.0])
    found = truths.of_margin(low, np.full(3, np.nan), high, np.full(3, flags, np.uint8), strict=False)
    assert letters(found) == "uuu"
    assert found.lean.tolist() == leans


def test_a_decided_truth_forgets_why_it_might_have_been_open() -> None:
    low, high = np.array([1.0, -3.0, -1.0]), np.array([2.0, -2.0, 1.0])
    found = truths.of_margin(low, np.array([1.5, -2.5, 0.5]), high, missing(3), strict=False)
    assert found.flags.tolist() == [0, 0, MISSING]


def test_an_open_formula_keeps_the_cause_of_every_open_part() -> None:
    stale = truths.of_bools(np.array([False]), np.array([False]), np.full(1, STALE, np.uint8))
    assert truths.all_of([stale, column("u"), column("t")]).flags.tolist() == [STALE | MISSING]
    assert truths.all_of([stale, column("f")]).flags.tolist() == [0]
    assert truths.any_of([stale, column("t")]).flags.tolist() == [0]


def test_a_truth_of_words_is_unboundedly_far_from_its_limit() -> None:
    found = column("tfu")
    assert found.low.tolist() == [np.inf, -np.inf, -np.inf]
    assert found.high.tolist() == [np.inf, -np.inf, np.inf]
    assert np.isnan(found.best[2])


def test_words_beside_numbers_leave_the_margin_to_the_numbers() -> None:
    number = truths.of_margin(np.array([2.0]), np.array([3.0]), np.array([4.0]), plain_flags(1), strict=False)
    assert truths.all_of([column("t"), number]).best.tolist() == [3.0]
    assert truths.any_of([column("f"), number]).best.tolist() == [3.0]


def test_a_lean_that_is_given_counts_only_while_open() -> None:
    yes, no = np.array([True, False, False]), np.array([False, True, False])
    found = truths.of_bools(yes, no, missing(3), np.array([-1, 1, -1], np.int8))
    assert found.lean.tolist() == [1, -1, -1]


@given(values=st.text("tfu", max_size=12), groups=st.data())
def test_within_segments_it_is_and_over_each_segment(values: str, groups: st.DataObject) -> None:
    size = 4
    segment = [groups.draw(st.integers(0, size - 1)) for _ in values]
    found = truths.segment_all(column(values), np.array(segment, np.int64), size)
    wanted = ""
    for part in range(size):
        members = [value for value, where in zip(values, segment, strict=True) if where == part]
        wanted += over_completions({all(full) for full in product(*(OPEN[value] for value in members))})
    assert letters(found) == wanted


def test_an_empty_segment_is_true_without_bound() -> None:
    found = truths.segment_all(column(""), np.zeros(0, np.int64), 1)
    assert letters(found) == "t"
    assert found.low.tolist() == [np.inf]


def test_rows_can_be_taken() -> None:
    assert letters(truths.take(column("tfu"), np.array([2, 0, 0]))) == "utt"
