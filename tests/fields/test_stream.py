from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest

from advisor.fields.stream import down_stream

Floats = npt.NDArray[np.float64]
HERE = np.array([[0.0, 0.0]])


def at(angle_deg: float, far: float = 10.0) -> Floats:
    return np.array([[far * math.cos(math.radians(angle_deg)), far * math.sin(math.radians(angle_deg))]])


@pytest.mark.parametrize("direction", [0.0, 30.0, 90.0, 180.0, 270.0, 350.0])
def test_down_stream_is_within_45_degrees_of_where_the_water_goes(direction: float) -> None:
    for off in range(-180, 180, 5):
        surely, never = down_stream(HERE, HERE, at(direction + off), at(direction + off), direction)
        assert bool(surely[0]) is (abs(off) <= 45)
        assert bool(never[0]) is (abs(off) > 45)


def test_a_wide_box_leaves_it_open_where_it_reaches_past_the_45_degrees() -> None:
    low, high = np.array([[10.0, -30.0]]), np.array([[12.0, 30.0]])
    assert [found.tolist() for found in down_stream(HERE, HERE, low, high, 0.0)] == [[False], [False]]
    narrow_low, narrow_high = np.array([[10.0, -9.0]]), np.array([[12.0, 9.0]])
    assert [found.tolist() for found in down_stream(HERE, HERE, narrow_low, narrow_high, 0.0)] == [
        [True],
        [False],
    ]


def test_the_answer_for_boxes_agrees_with_every_pair_of_points_in_them() -> None:
    made = np.random.default_rng(7)
    for _ in range(200):
        low = made.uniform(-20, 20, (2, 2))
        high = low + made.uniform(0, 15, (2, 2))
        direction = float(made.uniform(0, 360))
        surely, never = down_stream(low[:1], high[:1], low[1:], high[1:], direction)
        a = made.uniform(low[0], high[0], (50, 2))
        b = made.uniform(low[1], high[1], (50, 2))
        angles = np.degrees(np.arctan2(b[:, 1] - a[:, 1], b[:, 0] - a[:, 0])) - direction
        inside = np.abs((angles + 180.0) % 360.0 - 180.0) <= 45.0
        assert not surely[0] or inside.all()
        assert not never[0] or not inside.any()


def test_it_never_holds_both_ways() -> None:
    made = np.random.default_rng(8)
    a, b = made.uniform(-20, 20, (100, 2)), made.uniform(-20, 20, (100, 2))
    there, back = down_stream(a, a, b, b, 77.0)[0], down_stream(b, b, a, a, 77.0)[0]
    assert not (there & back).any()


def test_one_place_and_an_unknown_place_leave_it_open() -> None:
    unknown = np.full((1, 2), np.nan)
    for other in (HERE, unknown):
        assert [found.tolist() for found in down_stream(HERE, HERE, other, other, 0.0)] == [[False], [False]]
