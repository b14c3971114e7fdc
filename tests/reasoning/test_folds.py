"""Members put together per possibility, and possibilities folded to one answer."""

from __future__ import annotations

import numpy as np
import pytest

from advisor.reasoning import truths
from advisor.reasoning.columns import MISSING, Numbers, Truths
from advisor.reasoning.folds import (
    Groups,
    extreme,
    numbers_of_all,
    or_absent,
    summed,
    truths_of_all,
)

NONE = np.zeros(0, np.uint8)


def groups(segment: list[int], holder: list[int], stranger: list[bool] | None = None) -> Groups:
    """Return groups of members."""
    strangers = stranger or [False] * len(segment)
    return Groups(np.array(segment), np.array(holder), np.array(strangers, np.bool_))


def answers(*values: bool | None) -> Truths:
    """Return truths; None is open."""
    yes = np.array([value is True for value in values])
    no = np.array([value is False for value in values])
    return truths.of_bools(yes, no, np.where(yes | no, 0, MISSING).astype(np.uint8))


def numbers(*values: float | tuple[float, float]) -> Numbers:
    """Return points and ranges."""
    low = np.array([value if isinstance(value, float) else value[0] for value in values])
    high = np.array([value if isinstance(value, float) else value[1] for value in values])
    best = np.where(low == high, low, np.nan)
    return Numbers(low, best, high, np.zeros(len(values), np.uint8))


def value(of: Truths, at: int) -> bool | None:
    """Return one truth."""
    return True if of.yes[at] else False if of.no[at] else None


@pytest.mark.parametrize(
    ("first", "second", "both"),
    [
        (True, True, True),
        (False, False, False),
        (True, False, None),
        (True, None, None),
        (None, None, None),
    ],
)
def test_what_every_card_says_is_sure(first: bool | None, second: bool | None, both: bool | None) -> None:
    found = truths_of_all(answers(first, second), groups([], [0, 0]), 1)
    assert value(found, 0) is both
    assert bool(found.flags[0]) is (both is None)


def test_one_possibility_is_left_as_it_is() -> None:
    plain, one = answers(True, False, None), groups([], [0, 1, 2])
    assert truths_of_all(plain, one, 3) is plain
    reading = numbers(1.0, 2.0)
    assert numbers_of_all(reading, groups([], [0, 1]), 2) is reading


def test_quantities_cover_what_each_card_gives() -> None:
    found = numbers_of_all(numbers(3.0, 5.0, (1.0, 2.0)), groups([], [0, 0, 1]), 2)
    assert (found.low.tolist(), found.high.tolist()) == ([3, 1], [5, 2])
    assert np.isnan(found.best[0])
    assert found.flags.tolist() == [MISSING, 0]
    alike = numbers_of_all(numbers(4.0, 4.0), groups([], [0, 0]), 1)
    assert (alike.best[0], alike.flags[0]) == (4, 0)


def test_a_stranger_may_not_be_there() -> None:
    found = or_absent(answers(True, False, None), np.array([True, True, True]))
    assert [value(found, at) for at in range(3)] == [True, None, None]
    kept = or_absent(answers(True, False), np.array([False, False]))
    assert [value(kept, at) for at in range(2)] == [True, False]


def test_of_strangers_there_may_be_any_number() -> None:
    members = groups([0, 0], [0], [False, True])
    member = answers(True, None)
    found = summed(numbers(2.0, 3.0), member, members)
    assert (found.low[0], found.high[0]) == (2, np.inf)
    most = extreme(numbers(2.0, 3.0), member, members, most=True)
    assert (most.low[0], most.high[0]) == (2, 3)


def test_a_doubtful_member_widens_a_sum_and_an_extreme() -> None:
    members, member = groups([0, 0, 1], [0, 1]), answers(True, None, False)
    total = summed(numbers(2.0, 3.0, 9.0), member, members)
    assert (total.low.tolist(), total.high.tolist()) == ([2, 0], [5, 0])
    least = extreme(numbers(2.0, 1.0, 9.0), member, members, most=False)
    assert (least.low[0], least.high[0]) == (1, 2)
    assert least.low[1] == np.inf
