from __future__ import annotations

import numpy as np

from advisor.fields.canopy import stands_over

LOW = np.array([[0.0, 0.0, 10.0]])
HIGH = np.array([[4.0, 0.0, 30.0]])


def over(
    a: np.typing.NDArray[np.float64], b: np.typing.NDArray[np.float64], low: float, high: float
) -> tuple[bool, bool]:
    surely, never = stands_over(a, a, b, b, np.array([low]), np.array([high]))
    return bool(surely[0]), bool(never[0])


def test_the_higher_one_stands_over_the_lower_where_outlines_overlap() -> None:
    assert over(HIGH, LOW, 5.0, 6.0) == (True, False)
    assert over(LOW, HIGH, 5.0, 6.0) == (False, True)


def test_outlines_that_do_not_meet_leave_nothing_over_anything() -> None:
    assert over(HIGH, LOW, 2.0, 3.0) == (False, True)


def test_uncertain_widths_leave_it_open() -> None:
    assert over(HIGH, LOW, 3.0, 5.0) == (False, False)


def test_boxes_that_overlap_in_height_leave_it_open() -> None:
    low, high = np.array([[0.0, 0.0, 5.0]]), np.array([[0.0, 0.0, 15.0]])
    surely, never = stands_over(low, high, low + 1.0, high + 1.0, np.array([9.0]), np.array([9.0]))
    assert (surely.tolist(), never.tolist()) == ([False], [False])


def test_an_unknown_place_leaves_it_open() -> None:
    assert over(np.full((1, 3), np.nan), LOW, 5.0, 6.0) == (False, False)


def test_growth_only_ever_brings_one_over_the_other() -> None:
    reach = np.linspace(0.0, 20.0, 41)
    many_high, many_low = np.repeat(HIGH, 41, axis=0), np.repeat(LOW, 41, axis=0)
    surely, _ = stands_over(many_high, many_high, many_low, many_low, reach, reach)
    assert surely.tolist() == sorted(surely.tolist())
    assert surely.any()
